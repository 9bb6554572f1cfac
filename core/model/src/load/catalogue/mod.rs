//! The exercises that come with the product.
//!
//! Usual times, speeds and angles are of a trained adult at full effort. They
//! stand in for a contact nobody has timed and say what is behind them: a row
//! marked [`Support::Estimate`] is ours and must look like an estimate. People
//! and cues spread about a quarter either way around any of them.
//!
//! An id never changes and is never given to another exercise: books refer to
//! it. A squad adds and changes exercises in its own book.
//!
//! [`Support::Estimate`]: crate::facts::exercise::Support::Estimate

mod landings;
mod lateral;
mod paused;
mod rebounds;
mod row;
mod series;
mod sprint;
mod takeoffs;

pub mod id;

use uuid::Uuid;

use crate::facts::exercise::Exercise;

/// An exercise under its lasting id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// The id.
    pub id: Uuid,
    /// The description.
    pub exercise: Exercise,
}

/// The exercise with an id; nothing where the product brings none.
#[must_use]
pub fn find(id: Uuid) -> Option<Item> {
    all().into_iter().find(|item| item.id == id)
}

/// Every exercise, by kind.
#[must_use]
pub fn all() -> Vec<Item> {
    [
        rebounds::all(),
        landings::all(),
        series::all(),
        lateral::all(),
        takeoffs::all(),
        sprint::all(),
        paused::all(),
    ]
    .concat()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::facts::exercise::{Kind, Legs};
    use crate::load::caution::Caution;
    use crate::load::performed::{Leg, Performed, Side};
    use crate::load::session::Totals;

    #[test]
    fn every_exercise_is_sound_and_stands_once() {
        let all = all();
        let ids: BTreeSet<_> = all.iter().map(|item| item.id).collect();
        let names: BTreeSet<_> = all.iter().map(|item| &item.exercise.name).collect();
        assert_eq!(ids.len(), all.len());
        assert_eq!(names.len(), all.len());
        for item in &all {
            assert_eq!(item.exercise.check(), Ok(()), "{}", item.exercise.name);
            assert!(item.exercise.about.contains("; cue: "), "{}", item.exercise.about);
            assert_eq!(find(item.id).as_ref(), Some(item));
        }
        assert_eq!(find(Uuid::nil()), None);
    }

    #[test]
    fn every_kind_is_there_and_every_exercise_can_be_done() {
        let mut totals = Totals::default();
        for Item { exercise, .. } in &all() {
            let on_one = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
            let leg = if on_one { Side::Alternate { first: Leg::Left } } else { Side::Both };
            totals
                .add_set(&Performed::usual(exercise, 2, leg))
                .unwrap_or_else(|error| panic!("{}: {error}", exercise.name));
        }
        let kinds: Vec<_> = totals.iter().map(|(kind, _)| kind).collect();
        assert_eq!(kinds, Kind::ALL);
    }

    #[test]
    fn intense_exercises_carry_a_caution_and_gentle_ones_none() {
        let caution = |id| Caution::of(&find(id).expect("there").exercise);
        assert_eq!(caution(id::DROP_JUMP), Some(Caution::FallFromBox));
        assert_eq!(caution(id::DROP_LANDING), Some(Caution::FallFromBox));
        assert_eq!(caution(id::LONG_JUMP_SHORT), Some(Caution::EventTakeOff));
        assert_eq!(caution(id::TRIPLE_JUMP_SHORT), Some(Caution::EventTakeOff));
        assert_eq!(caution(id::HOPS_RUN_IN), Some(Caution::OneLegRunIn));
        for gentle in [id::POGO, id::BOX_JUMP, id::A_SKIP, id::SPRINT_STRIDES, id::HOPS_STANDING] {
            assert_eq!(caution(gentle), None);
        }
    }
}
