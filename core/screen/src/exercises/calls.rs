//! The exercises, as a shell asks for them.

use crate::companion::{Companion, ScreenError};
use crate::env::Env;
use crate::exercises;
use crate::record::{ExercisePage, ExerciseQuery, Exercises};
use crate::text::Words;

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// The squad's exercises by kind, in the order that is asked for.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn exercises(&self, env: &Env, query: &ExerciseQuery) -> Result<Exercises, ScreenError> {
        exercises::exercises(&Words::of(&env.language), &*self.open_book()?, query)
    }

    /// One exercise with its numbers unfolded.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn exercise(&self, env: &Env, id: &str) -> Result<ExercisePage, ScreenError> {
        exercises::one(&Words::of(&env.language), &*self.open_book()?, id)
    }
}
