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
    use crate::facts::exercise::{Entry, Kind, Legs, Move, Support};
    use crate::load::caution::Caution;
    use crate::load::contact::repetition;
    use crate::load::performed::{Leg, Performed, Side};
    use crate::load::session::Totals;

    /// One repetition as it usually is, begun on the left where one leg begins.
    fn usual(exercise: &Exercise) -> Performed<'_> {
        let on_one = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
        let leg = if on_one { Side::Alternate { first: Leg::Left } } else { Side::Both };
        Performed::usual(exercise, 1, leg)
    }

    #[test]
    fn every_exercise_is_sound_and_stands_once() {
        let all = all();
        assert!(all.len() >= 90, "{}", all.len());
        let ids: BTreeSet<_> = all.iter().map(|item| item.id).collect();
        let names: BTreeSet<_> = all.iter().map(|item| item.exercise.name.to_lowercase()).collect();
        let abouts: BTreeSet<_> = all.iter().map(|item| &item.exercise.about).collect();
        assert_eq!(ids.len(), all.len());
        assert_eq!(names.len(), all.len());
        assert_eq!(abouts.len(), all.len());
        for item in &all {
            let exercise = &item.exercise;
            assert_eq!(exercise.check(), Ok(()), "{}", exercise.name);
            assert!(
                exercise.about.contains("; cue: ") && exercise.about.ends_with('.'),
                "{}",
                exercise.about
            );
            assert_eq!(find(item.id).as_ref(), Some(item));
        }
        assert_eq!(find(Uuid::nil()), None);
    }

    #[test]
    fn every_kind_is_there_and_every_exercise_can_be_done() {
        let mut totals = Totals::default();
        for Item { exercise, .. } in &all() {
            let set = usual(exercise);
            let contacts = repetition(&set).unwrap_or_else(|error| panic!("{}: {error}", exercise.name));
            assert_eq!(contacts.len(), usize::from(exercise.contacts_per_rep), "{}", exercise.name);
            let loads = contacts.iter().any(|contact| contact.landing.energy_j_per_kg_per_leg > 0.0);
            assert!(loads, "{}", exercise.name);
            totals.add_set(&set).unwrap_or_else(|error| panic!("{}: {error}", exercise.name));
        }
        let kinds: Vec<_> = totals.iter().map(|(kind, _)| kind).collect();
        assert_eq!(kinds, Kind::ALL);
        for kind in Kind::ALL {
            let of_kind = all().iter().filter(|item| item.exercise.kind == *kind).count();
            assert!(of_kind >= 4, "{kind:?}: {of_kind}");
        }
    }

    /// A source that is ours says so in the words that screens show, and only an
    /// estimate needs them.
    #[test]
    fn an_estimate_says_that_it_is_one() {
        for Item { exercise, .. } in &all() {
            let says = ["estimate of ours", "estimates of ours", "ours: ", "ours for "]
                .iter()
                .any(|words| exercise.source.contains(words));
            assert!(exercise.support != Support::Estimate || says, "{}: {}", exercise.name, exercise.source);
        }
    }

    /// A hop comes down on its own leg, a bound or a step on the other one: the legs
    /// that a series tells are those that its moves lead to, its repeats too.
    #[test]
    fn the_legs_of_a_series_follow_from_its_moves() {
        for Item { exercise, .. } in &all() {
            let last = exercise.series.last().expect("sound");
            let repeats = usize::from(exercise.contacts_per_rep) > exercise.series.len();
            let after = exercise.series.iter().skip(1).chain(repeats.then_some(last));
            for (before, next) in exercise.series.iter().zip(after) {
                let wanted = match before.mv {
                    Move::Hop => Legs::One,
                    Move::Bound | Move::Step => Legs::Alternate,
                    _ => continue,
                };
                assert!(
                    next.legs == wanted || next.legs == Legs::Two,
                    "{}: {before:?} {next:?}",
                    exercise.name
                );
            }
        }
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
        for Item { exercise, .. } in &all() {
            let intense = matches!(exercise.entry, Entry::Box { .. }) || exercise.kind == Kind::EventTakeOff;
            assert!(!intense || Caution::of(exercise).is_some(), "{}", exercise.name);
        }
    }
}
