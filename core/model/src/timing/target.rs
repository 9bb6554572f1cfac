//! The contact time to come below, for one contact of an exercise with its run-in.
//!
//! A member's own target stands before the squad's, the squad's before a published
//! one; among equals the one that says contact and run-in stands before one that says
//! less. A bound has no published target, since sources disagree.

use uuid::Uuid;

use crate::facts::{Approach, Target};
use crate::load::catalogue::id;

/// A target as it holds for one contact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aim {
    /// The contact time in µs.
    pub contact_us: u32,
    /// Where it comes from.
    pub source: String,
    /// Whose it is.
    pub whose: Whose,
}

impl Aim {
    /// The contact time in seconds.
    #[must_use]
    pub fn seconds(&self) -> f64 {
        f64::from(self.contact_us) / 1e6
    }
}

/// Whose target it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// The member's own.
    Own,
    /// The squad's.
    Squad,
    /// From a publication; nobody of the squad has set one.
    Published,
}

const TRIPLE: &str =
    "mean of 7 national jumpers, full run-up: Perttunen et al. 2000, J Sports Sci 18:363–370";
const BOARD: &str =
    "one world-class man, full run-up: Čoh, Žvan & Kugovnik 2017, doi 10.5772/intechopen.71418";
const SPRINT: &str = "sprinting at maximal speed, 0.08 to 0.11 s: value from memory";

/// Exercise, contact of a repetition (`None`: each), contact time in µs, source.
const PUBLISHED: [(Uuid, Option<u16>, u32, &str); 5] = [
    (id::TRIPLE_JUMP_SHORT, Some(1), 139_000, TRIPLE),
    (id::TRIPLE_JUMP_SHORT, Some(2), 157_000, TRIPLE),
    (id::TRIPLE_JUMP_SHORT, Some(3), 177_000, TRIPLE),
    (id::LONG_JUMP_SHORT, Some(1), 127_000, BOARD),
    (id::SPRINT_STRIDES, None, 110_000, SPRINT),
];

/// The published targets, which hold where nobody has set one.
pub fn published() -> impl Iterator<Item = Target> {
    PUBLISHED.iter().map(|(exercise, contact, contact_us, source)| Target {
        exercise: *exercise,
        contact: *contact,
        approach: None,
        contact_us: *contact_us,
        source: (*source).to_owned(),
    })
}

/// The target of contact number `contact` of a repetition, from 1, with this run-in.
#[must_use]
pub fn aim(
    own: &[Target],
    squad: &[Target],
    exercise: Uuid,
    contact: u16,
    approach: Option<Approach>,
) -> Option<Aim> {
    let fits = |target: &&Target| {
        target.exercise == exercise
            && target.contact.is_none_or(|number| number == contact)
            && target.approach.is_none_or(|run_in| Some(run_in) == approach)
    };
    let closest = |targets: &[Target], whose| {
        let target =
            targets.iter().filter(fits).max_by_key(|t| (t.contact.is_some(), t.approach.is_some()))?;
        Some(Aim { contact_us: target.contact_us, source: target.source.clone(), whose })
    };
    let published = || {
        let fits =
            |row: &&(Uuid, Option<u16>, u32, &str)| row.0 == exercise && row.1.is_none_or(|n| n == contact);
        PUBLISHED.iter().find(fits).map(|(_, _, contact_us, source)| Aim {
            contact_us: *contact_us,
            source: (*source).to_owned(),
            whose: Whose::Published,
        })
    };
    closest(own, Whose::Own).or_else(|| closest(squad, Whose::Squad)).or_else(published)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn target(contact: Option<u16>, approach: Option<Approach>, contact_us: u32) -> Target {
        Target { exercise: id::BOUNDS_RUN_IN, contact, approach, contact_us, source: "the coach".into() }
    }

    #[test]
    fn own_before_squad_and_the_closer_before_the_wider() {
        let run = Some(Approach::Strides(6));
        let squad =
            [target(None, None, 180_000), target(Some(2), None, 170_000), target(Some(2), run, 160_000)];
        let at = |own: &[Target], contact, approach| {
            let aim = aim(own, &squad, id::BOUNDS_RUN_IN, contact, approach).unwrap();
            (aim.contact_us, aim.whose)
        };
        assert_eq!(at(&[], 1, run), (180_000, Whose::Squad));
        assert_eq!(at(&[], 2, None), (170_000, Whose::Squad));
        assert_eq!(at(&[], 2, run), (160_000, Whose::Squad));
        assert_eq!(at(&[target(None, None, 150_000)], 2, run), (150_000, Whose::Own));
    }

    /// Source: Perttunen et al. 2000 (J Sports Sci 18:363–370): contact lengthens from
    /// hop to jump.
    #[test]
    fn published_targets_keep_their_direction_and_a_bound_has_none() {
        let at = |exercise, contact| aim(&[], &[], exercise, contact, None);
        let triple = [1, 2, 3].map(|n| at(id::TRIPLE_JUMP_SHORT, n).unwrap().contact_us);
        assert_eq!(triple, [139_000, 157_000, 177_000]);
        assert!(triple.is_sorted());
        assert_eq!(at(id::TRIPLE_JUMP_SHORT, 4), None);
        assert_eq!(at(id::SPRINT_STRIDES, 9).unwrap().whose, Whose::Published);
        for bound in [id::BOUNDS_STANDING, id::BOUNDS_RUN_IN, id::SPEED_BOUNDS] {
            assert_eq!(at(bound, 1), None);
        }
    }
}
