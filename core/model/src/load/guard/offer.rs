//! A set that somebody is about to do, or to put into a plan.

use uuid::Uuid;

use crate::facts::exercise::{Entry, Exercise, Kind, Legs, Move};
use crate::facts::{Approach, Leg, Set};

/// A set as it is to be offered: no session, and nothing measured yet.
#[derive(Clone, Copy, Debug)]
pub struct Offer<'a> {
    /// The exercise's id.
    pub id: Uuid,
    /// The exercise.
    pub exercise: &'a Exercise,
    /// Repetitions.
    pub reps: u16,
    /// Contacts of each repetition, where not as the exercise says.
    pub contacts_per_rep: Option<u16>,
    /// Which legs.
    pub leg: Leg,
    /// The height of the box, mm; the exercise's usual one where left out.
    pub box_mm: Option<u32>,
    /// The run-in, where not as the exercise says.
    pub approach: Option<Approach>,
    /// A drill of the warm-up: counted apart.
    pub warm_up: bool,
}

impl<'a> Offer<'a> {
    /// One repetition of an exercise as it usually is.
    #[must_use]
    pub fn usual(id: Uuid, exercise: &'a Exercise) -> Self {
        let one_leg = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
        let leg = if one_leg { Leg::AlternateLeft } else { Leg::Both };
        Self {
            id,
            exercise,
            reps: 1,
            contacts_per_rep: None,
            leg,
            box_mm: None,
            approach: None,
            warm_up: false,
        }
    }

    /// A set that was filled in, or done.
    #[must_use]
    pub fn of(set: &Set, exercise: &'a Exercise) -> Self {
        Self {
            id: set.exercise,
            exercise,
            reps: set.reps,
            contacts_per_rep: set.contacts_per_rep,
            leg: set.leg,
            box_mm: set.box_mm,
            approach: set.approach,
            warm_up: set.warm_up,
        }
    }

    /// The box or platform in mm: what the set says, else the usual one of a fall from it.
    #[must_use]
    pub fn box_height_mm(&self) -> Option<u32> {
        self.box_mm.or(self.fall_mm().max(self.exercise.onto_mm))
    }

    /// How high the box is that the athlete drops from, mm; nothing where there is no fall
    /// from a box. What is jumped onto is not fallen from.
    #[must_use]
    pub fn fall_mm(&self) -> Option<u32> {
        match self.exercise.entry {
            Entry::Box { usual_mm } => Some(self.box_mm.unwrap_or(usual_mm)),
            _ => None,
        }
    }

    /// Contacts that handbooks count as plyometric, over all repetitions: a landing after
    /// a rebound is one more, sprint strides and paused jumps are none.
    #[must_use]
    pub fn plyometric_contacts(&self) -> u64 {
        let places = self.contacts_per_rep.unwrap_or(self.exercise.contacts_per_rep);
        let last = self.exercise.series.len().saturating_sub(1);
        let counted = (0..usize::from(places))
            .filter_map(|place| self.exercise.series.get(place.min(last)))
            .filter(|contact| match (contact.mv, self.exercise.kind) {
                (Move::Landing, kind) if kind != Kind::PausedJump => true,
                (_, kind) => kind.is_plyometric(),
            })
            .count();
        u64::from(self.reps).saturating_mul(counted as u64)
    }

    /// Whether it has plyometric contacts outside the warm-up.
    #[must_use]
    pub fn is_plyometric_work(&self) -> bool {
        !self.warm_up && self.plyometric_contacts() > 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::catalogue::{all, find, id};
    use crate::load::performed::{Leg as First, Performed, Side};
    use crate::load::session::Totals;

    /// Counted as the session's totals count them.
    #[test]
    fn contacts_are_those_of_the_totals() {
        for item in all() {
            let offer = Offer { reps: 3, ..Offer::usual(item.id, &item.exercise) };
            let side =
                if offer.leg == Leg::Both { Side::Both } else { Side::Alternate { first: First::Left } };
            let totals = Totals::of(&[Performed::usual(&item.exercise, 3, side)]).unwrap();
            assert_eq!(offer.plyometric_contacts(), totals.plyometric_contacts(), "{}", item.exercise.name);
        }
    }

    #[test]
    fn a_fall_is_from_a_box_and_not_onto_one() {
        let drop = find(id::DROP_JUMP).unwrap();
        let usual = Offer::usual(drop.id, &drop.exercise);
        assert_eq!(usual.fall_mm(), usual.box_height_mm());
        assert_eq!(Offer { box_mm: Some(450), ..usual }.fall_mm(), Some(450));
        let onto = find(id::BOX_JUMP).unwrap();
        let onto = Offer { box_mm: Some(600), ..Offer::usual(onto.id, &onto.exercise) };
        assert_eq!((onto.fall_mm(), onto.box_height_mm()), (None, Some(600)));
        assert!(!Offer { warm_up: true, ..usual }.is_plyometric_work());
    }
}
