//! What to say before intense work.
//!
//! A caution says what makes an exercise intense and what to see to. It is
//! read off the description, so that an exercise a squad adds has it too.

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

    /// The caution in a few sentences.
    #[must_use]
    pub const fn text(self) -> &'static str {
        match self {
            Self::FallFromBox => {
                "High intensity: the height of the box is energy the legs must stop. Begin low, on \
                 a firm level floor and rested; go higher only while contacts stay short and \
                 quiet. Not for beginners, and for the young only with a qualified coach. Stop \
                 at pain."
            }
            Self::EventTakeOff => {
                "High intensity: one leg meets the ground at speed. Warm up fully, lengthen the \
                 run-up bit by bit, check runway, board and sand first, keep the number small. \
                 For the young, with a qualified coach. Stop at pain."
            }
            Self::OneLegRunIn => {
                "High intensity: each contact of a fast series falls on one leg. Master it from a \
                 stand first, then add the run-in a few strides at a time; rest fully between \
                 repetitions. For the young, with a qualified coach. Stop at pain."
            }
        }
    }
}
