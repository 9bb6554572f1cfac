//! What a person may not do, as it was said: hard bounds.

use super::offer::Offer;
use super::said::{Found, Grade, Ground, Said, What};
use super::status::Status;
use crate::facts::exercise::Legs;
use crate::facts::{Leg, Limit, Side};

/// What of a limit a set goes against.
fn broken(offer: &Offer<'_>, limit: &Limit) -> impl Iterator<Item = (What, Found)> {
    let one_leg = limit.no_one_leg.filter(|side| uses_one_leg(offer, *side));
    // An exercise with a run-in has its usual one where the set says nothing.
    let runs = offer.approach.is_some() || offer.exercise.run_in().is_some();
    let over = offer.box_height_mm().filter(|mm| limit.max_box_mm.is_some_and(|most| *mm > most));
    [
        one_leg.map(|side| (What::OneLeg(side), Found::Told)),
        (limit.no_approach && runs).then_some((What::RunIn, Found::Told)),
        over.map(|mm| (What::BoxOver, Found::Value(mm))),
    ]
    .into_iter()
    .flatten()
}

/// Whether a set has one-leg contacts on a side.
fn uses_one_leg(offer: &Offer<'_>, side: Side) -> bool {
    let contacts = &offer.exercise.series;
    let other = matches!((side, offer.leg), (Side::Left, Leg::Right) | (Side::Right, Leg::Left));
    contacts.iter().any(|contact| contact.legs != Legs::Two)
        // A series that changes legs uses both, whichever comes first.
        && (!other || contacts.iter().any(|contact| contact.legs == Legs::Alternate))
}

/// Whether a limit rules a set out.
#[must_use]
pub fn breaks(offer: &Offer<'_>, limit: &Limit) -> bool {
    broken(offer, limit).next().is_some()
}

/// Every limit that holds and rules the set out.
pub(super) fn against<'a>(status: &'a Status, offer: &Offer<'_>) -> Vec<Said<'a>> {
    let of = |limit: &'a Limit| {
        let ground = Ground::Limit(limit);
        broken(offer, limit).map(move |(what, found)| Said { what, grade: Grade::Bound, found, ground })
    };
    status.limits.iter().flat_map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::{Approach, Day, SaidBy};
    use crate::load::catalogue::{find, id};
    use uuid::Uuid;

    fn limit() -> Limit {
        Limit {
            from: Day::FIRST,
            until: None,
            no_one_leg: None,
            no_approach: false,
            max_box_mm: None,
            said_by: SaidBy::Coach,
            note: None,
        }
    }

    fn breaks_with(exercise: Uuid, change: impl Fn(&mut Offer<'_>), limit: &Limit) -> bool {
        let item = find(exercise).unwrap();
        let mut offer = Offer::usual(item.id, &item.exercise);
        change(&mut offer);
        breaks(&offer, limit)
    }

    #[test]
    fn no_one_leg_work_on_a_side_leaves_the_other_and_both() {
        let left = Limit { no_one_leg: Some(Side::Left), ..limit() };
        let on = |exercise, leg| breaks_with(exercise, |offer| offer.leg = leg, &left);
        assert!(on(id::POGO_ONE_LEG, Leg::Left) && on(id::POGO_ONE_LEG, Leg::AlternateRight));
        assert!(!on(id::POGO_ONE_LEG, Leg::Right));
        assert!(!on(id::POGO, Leg::Both));
        assert!(on(id::POGO_LEG_TO_LEG, Leg::Right), "the legs change within the series");
    }

    #[test]
    fn no_run_in_rules_out_a_usual_one_too() {
        let none = Limit { no_approach: true, ..limit() };
        assert!(breaks_with(id::HOPS_RUN_IN, |_| (), &none));
        assert!(breaks_with(id::HOPS_STANDING, |offer| offer.approach = Some(Approach::Strides(4)), &none));
        assert!(!breaks_with(id::HOPS_STANDING, |_| (), &none));
    }

    #[test]
    fn boxes_up_to_a_height_are_those_said_or_usual_and_those_jumped_onto() {
        let low = Limit { max_box_mm: Some(300), ..limit() };
        let from = |exercise, mm| breaks_with(exercise, |offer| offer.box_mm = mm, &low);
        assert!(!from(id::DROP_JUMP, Some(300)) && from(id::DROP_JUMP, Some(301)));
        let usual = find(id::DROP_JUMP).unwrap().exercise.entry.value();
        assert_eq!(from(id::DROP_JUMP, None), usual > 300);
        assert!(from(id::BOX_JUMP, Some(500)));
        assert!(!breaks_with(id::DROP_JUMP, |offer| offer.box_mm = Some(900), &limit()));
    }
}
