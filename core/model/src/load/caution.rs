//! What to say before intense work.
//!
//! A caution says what makes an exercise intense; its words are the screens'. It
//! is read off the description, so that an exercise a squad adds has it too.

use crate::facts::exercise::{Entry, Exercise, Kind, Legs};

/// Why an exercise is intense.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Caution {
    /// A fall from a box.
    FallFromBox,
    /// A take-off of an event.
    EventTakeOff,
    /// One leg takes up the speed of a run-in.
    OneLegRunIn,
}

impl Caution {
    /// The caution of an exercise, where it has one.
    #[must_use]
    pub fn of(exercise: &Exercise) -> Option<Self> {
        let one_leg = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
        match (exercise.kind, exercise.entry) {
            (_, Entry::Box { .. }) => Some(Self::FallFromBox),
            (Kind::EventTakeOff, _) => Some(Self::EventTakeOff),
            (Kind::HorizontalSeries | Kind::Lateral, Entry::RunIn { .. }) if one_leg => {
                Some(Self::OneLegRunIn)
            }
            _ => None,
        }
    }
}
