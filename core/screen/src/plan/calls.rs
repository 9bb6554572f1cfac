//! What a shell can ask and do about planned sessions.

use pitside_model::facts::Hash;

use super::between::{self, State};
use super::{done, form};
use crate::companion::{Companion, ScreenError, member_of};
use crate::env::Env;
use crate::record::{PlanForm, PlanFormPage, Plans, SetForm};
use crate::route::Route;
use crate::text::Words;

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// The plans of an athlete. `member` may be empty on a device that serves one.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn plans(&self, env: &Env, member: &str) -> Result<Plans, ScreenError> {
        let book = self.open_book()?;
        let member = member_of(&book, member)?;
        Ok(form::plans(&Words::of(&env.language), env, &book, member)?)
    }

    /// The form of a plan that is there, or of a copy of it; with an empty `plan`, of a new
    /// one for `member`, who may be empty too.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn plan_form(
        &self,
        env: &Env,
        member: &str,
        plan: &str,
        copy: bool,
    ) -> Result<PlanFormPage, ScreenError> {
        let book = self.open_book()?;
        form::page(&Words::of(&env.language), env, &book, &mut self.courses(), member, plan, copy)
    }

    /// Writes a plan down, anew for each of the form's members or in the place of what its
    /// form showed; gives the ids.
    ///
    /// # Errors
    /// [`ScreenError::Refused`]; [`ScreenError::NotAllowed`] with the reason where a limit
    /// rules a row out on its day, or, for today, something is to be seen by a licensed
    /// practitioner first; [`ScreenError::NotFound`].
    pub fn save_plan(&self, env: &Env, form: &PlanForm) -> Result<Vec<String>, ScreenError> {
        let book = self.open_book()?;
        form::save(&Words::of(&env.language), env, &book, &mut self.courses(), form)
    }

    /// Withdraws a plan; what was done for it stays. `seen` is that of its row or of its form.
    /// Gives the athlete's id.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn withdraw_plan(&self, env: &Env, plan: &str, seen: &str) -> Result<String, ScreenError> {
        Ok(form::withdraw(&*self.open_book()?, env, plan, seen)?.to_string())
    }

    /// Writes down that a set of a row of today's plan was done, or of yesterday's that is
    /// still going on: as planned, or as the form says. Then the screen is locked and the rest begins, unless nothing is left to do.
    /// Gives the session's route.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn done_as_planned(
        &self,
        env: &Env,
        plan: &str,
        row: u16,
        form: Option<SetForm>,
    ) -> Result<String, ScreenError> {
        let session = done::done(&*self.open_book()?, env, plan, row, form.as_ref())?;
        Ok(Route::Session(session).to_string())
    }

    /// Takes a set back that was written down for a plan; the rest and the lock end.
    /// `member` may be empty on a device that serves one.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn take_back_planned(&self, env: &Env, member: &str, set: &str) -> Result<(), ScreenError> {
        let book = self.open_book()?;
        let member = member_of(&book, member)?;
        let set = Hash::parse(set).ok_or_else(|| ScreenError::NotFound { what: "set".to_owned() })?;
        done::take_back(&book, env, member, set)
    }

    /// Locks the screen between sets, or unlocks it. The rest goes on.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn lock_between(&self, env: &Env, locked: bool) -> Result<(), ScreenError> {
        let book = self.open_book()?;
        let state = between::kept(&book, env)?;
        let state = match state {
            Some(state) => Some(State { locked, ..state }),
            None if locked => Some(State { locked, since_ms: env.now_ms, until_ms: 0, after: None }),
            None => None,
        };
        Ok(between::keep(&book, state.as_ref())?)
    }
}
