//! An attempt as training: the exercise of the catalogue that it amounts to, and one
//! repetition of it.
//!
//! The take-off of a long jump is one contact; hop, step and jump of a triple jump are
//! three. A foul was jumped too, and counts as one: who ran through the board without a
//! jump is counted too high by it (ours, no source). The landing in the pit stands apart,
//! and the strides of the run-up are never contacts of this kind: they only make the speed
//! at the board.

use std::ops::RangeInclusive;

use uuid::Uuid;

use super::phase::JumpTimes;
use crate::facts::exercise::{CONTACT_US, Exercise, FLIGHT_US, RUN_IN_MM, STRIDES};
use crate::facts::{self, Foot, HopPattern, Jump, JumpEvent};
use crate::load::catalogue::id;
use crate::load::performed::{Approach, Athlete, Leg, Performed, Side, Timed};
use crate::timing;

/// The event from run-ups of four, eight, about twelve and many strides.
const LONG: [(u16, Uuid); 4] =
    [(4, id::LONG_JUMP_FOUR), (8, id::LONG_JUMP_SHORT), (12, id::LONG_JUMP_MIDDLE), (18, id::LONG_JUMP_FULL)];
const TRIPLE: [(u16, Uuid); 4] = [
    (4, id::TRIPLE_JUMP_FOUR),
    (8, id::TRIPLE_JUMP_SHORT),
    (12, id::TRIPLE_JUMP_MIDDLE),
    (16, id::TRIPLE_JUMP_FULL),
];

/// A stride of a run-up whose metres were written down, to choose the nearest exercise by.
/// Ours, no source; the speed is computed from the metres themselves.
const STRIDE_MM: u32 = 2_000;

const fn family(event: JumpEvent) -> &'static [(u16, Uuid); 4] {
    match event {
        JumpEvent::Long => &LONG,
        JumpEvent::Triple => &TRIPLE,
    }
}

/// Whether an exercise of the catalogue is the event itself, from whatever run-up.
#[must_use]
pub fn is_event(exercise: Uuid, event: JumpEvent) -> bool {
    family(event).iter().any(|(_, of_event)| *of_event == exercise)
}

/// The exercises that are the event of an attempt, that with the nearest run-up first. A
/// squad founded long ago may not have each. A run-up that was not written down is taken
/// as a full one (ours, no source).
#[must_use]
pub fn exercises(jump: &Jump) -> [Uuid; 4] {
    let strides = match jump.approach {
        Some(facts::Approach::Strides(n)) => n,
        Some(facts::Approach::Millimetres(mm)) => u16::try_from(mm / STRIDE_MM).unwrap_or(u16::MAX),
        None => u16::MAX,
    };
    let mut found = *family(jump.event);
    // Of two that are as near the longer one: nothing is told too low.
    found.sort_by_key(|(usual, _)| (usual.abs_diff(strides), core::cmp::Reverse(*usual)));
    found.map(|(_, exercise)| exercise)
}

/// What an attempt amounts to, whatever exercise of the event it is counted by.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repetition {
    /// The leg of the take-off.
    pub leg: Leg,
    /// Whether nothing said which leg it was, so that the left one stands in (ours).
    pub leg_assumed: bool,
    /// The run-up, where it was written down; else the exercise's own.
    pub approach: Option<Approach>,
    /// Times of the contacts in order, where the take of the attempt has them. The flight
    /// into the pit is left out: it ends lower than it begins.
    pub timed: Vec<Timed>,
}

impl Repetition {
    /// What an attempt amounts to. The leg is that of its take, else the first of the hop
    /// pattern (triple jump), else the athlete's take-off leg.
    #[must_use]
    pub fn of(
        jump: &Jump,
        times: Option<&JumpTimes>,
        take_off: Option<facts::Side>,
        pattern: Option<HopPattern>,
    ) -> Self {
        let seen = times.and_then(|times| match times.foot {
            Foot::Left => Some(Leg::Left),
            Foot::Right => Some(Leg::Right),
            Foot::Both => None,
        });
        let first = pattern.filter(|_| jump.event == JumpEvent::Triple).map(|pattern| match pattern {
            HopPattern::LeftLeftRight => Leg::Left,
            HopPattern::RightRightLeft => Leg::Right,
        });
        let usual = take_off.map(|side| match side {
            facts::Side::Left => Leg::Left,
            facts::Side::Right => Leg::Right,
        });
        let leg = seen.or(first).or(usual);
        let approach = match jump.approach {
            Some(facts::Approach::Strides(n)) => {
                STRIDES.contains(&u32::from(n)).then_some(Approach::Strides(n))
            }
            Some(facts::Approach::Millimetres(mm)) => {
                RUN_IN_MM.contains(&mm).then_some(Approach::Millimetres(mm))
            }
            None => None,
        };
        Self {
            leg: leg.unwrap_or(Leg::Left),
            leg_assumed: leg.is_none(),
            approach,
            timed: times.map(timed).unwrap_or_default(),
        }
    }

    /// It as one repetition of an exercise: one of [`exercises`].
    #[must_use]
    pub fn performed<'a>(&'a self, exercise: &'a Exercise, athlete: Athlete) -> Performed<'a> {
        let side = match self.leg {
            Leg::Left => Side::Left,
            Leg::Right => Side::Right,
        };
        // A coach may have given the exercise another series; times then have no place in it.
        let timed = if self.timed.len() == exercise.series.len() { self.timed.as_slice() } else { &[] };
        Performed { approach: self.approach, timed, athlete, ..Performed::usual(exercise, 1, side) }
    }
}

/// The times of a take as the computation of contacts takes them; what no contact or
/// flight can last is left out.
fn timed(times: &JumpTimes) -> Vec<Timed> {
    let us = |seconds: f64| (seconds * 1e6).round() as u32;
    let lasts = |timed: Option<&timing::Timed>, range: RangeInclusive<u32>| {
        timed.copied().filter(|timed| range.contains(&us(timed.seconds)))
    };
    let contact = |(place, contact): (usize, &timing::Timed)| {
        let before = match place.checked_sub(1) {
            Some(earlier) => times.flights.get(earlier),
            None => times.before.as_ref(),
        };
        let before = lasts(before, FLIGHT_US);
        let contact = lasts(Some(contact), CONTACT_US);
        Timed::measured(before, contact, lasts(times.flights.get(place), FLIGHT_US))
    };
    times.contacts.iter().enumerate().map(contact).collect()
}

/// An attempt of a day, as far as it decides whether it was counted already.
#[derive(Clone, Copy, Debug)]
pub struct OfDay<'a> {
    /// The attempt.
    pub jump: &'a Jump,
    /// The exercise of the set that its take belongs to.
    pub set_of_take: Option<Uuid>,
}

/// Which attempts of one day have no set of their own, by their places: only these add
/// contacts, or a jump that was logged as a set would be counted twice.
///
/// `sets` are exercise and repetitions of the sets of that day. An attempt whose take
/// belongs to a set is that set's. Of the others, as many as there are repetitions left of
/// the event's exercises are taken to be these, the first ones first (ours, no source).
#[must_use]
pub fn without_set(attempts: &[OfDay<'_>], sets: &[(Uuid, u16)]) -> Vec<usize> {
    let mut found = Vec::new();
    for event in [JumpEvent::Long, JumpEvent::Triple] {
        let logged: usize =
            sets.iter().filter(|(id, _)| is_event(*id, event)).map(|(_, reps)| usize::from(*reps)).sum();
        let of_event = || attempts.iter().enumerate().filter(|(_, attempt)| attempt.jump.event == event);
        let taken = of_event()
            .filter(|(_, attempt)| attempt.set_of_take.is_some_and(|id| is_event(id, event)))
            .count();
        let alone = of_event().filter(|(_, attempt)| attempt.set_of_take.is_none()).map(|(place, _)| place);
        found.extend(alone.skip(logged.saturating_sub(taken)));
    }
    found.sort_unstable();
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::exercise::{Kind, Move};
    use crate::facts::{Outcome, Side as OfBody};
    use crate::jump::history::tests::long;
    use crate::load::catalogue;
    use crate::load::contact::{Origin, repetition};
    use crate::load::session::Totals;

    fn from(event: JumpEvent, approach: Option<facts::Approach>) -> Jump {
        Jump { event, approach, ..long(6_000) }
    }

    fn exercise(id: Uuid) -> Exercise {
        catalogue::find(id).unwrap().exercise
    }

    fn lasting(seconds: f64) -> timing::Timed {
        timing::Timed {
            seconds,
            frame_u: 0.001,
            frame_half_width_95: 0.002,
            frame_bound: 0.004,
            tick_u: 0.0,
            clock_u: 0.0,
            judging_u: 0.0,
        }
    }

    fn times() -> JumpTimes {
        JumpTimes {
            foot: Foot::Right,
            before: Some(lasting(0.1)),
            contacts: [0.14, 0.16, 0.18].map(lasting).to_vec(),
            flights: [0.5, 0.38].map(lasting).to_vec(),
            last_flight: Some(lasting(0.64)),
            speeds: None,
        }
    }

    #[test]
    fn an_attempt_is_the_event_from_the_nearest_run_up() {
        let strides = |event, n| exercises(&from(event, Some(facts::Approach::Strides(n))))[0];
        assert_eq!(strides(JumpEvent::Long, 2), id::LONG_JUMP_FOUR);
        assert_eq!(strides(JumpEvent::Long, 9), id::LONG_JUMP_SHORT);
        assert_eq!(strides(JumpEvent::Long, 10), id::LONG_JUMP_MIDDLE);
        assert_eq!(strides(JumpEvent::Long, 21), id::LONG_JUMP_FULL);
        assert_eq!(strides(JumpEvent::Triple, 16), id::TRIPLE_JUMP_FULL);
        let metres = |mm| exercises(&from(JumpEvent::Triple, Some(facts::Approach::Millimetres(mm))));
        assert_eq!(metres(16_400)[0], id::TRIPLE_JUMP_SHORT);
        assert_eq!(metres(16_400).len(), 4);
        assert_eq!(exercises(&from(JumpEvent::Long, None))[0], id::LONG_JUMP_FULL);
        for (event, of_it) in
            [(JumpEvent::Long, id::LONG_JUMP_FOUR), (JumpEvent::Triple, id::TRIPLE_JUMP_FOUR)]
        {
            assert!(is_event(of_it, event) && !is_event(id::TAKE_OFF_KNEE_HELD, event));
        }
    }

    #[test]
    fn a_long_jump_is_one_contact_and_a_triple_jump_three_fouls_too() {
        for (event, moves) in [
            (JumpEvent::Long, &[Move::TakeOff][..]),
            (JumpEvent::Triple, &[Move::Hop, Move::Step, Move::Jump]),
        ] {
            let jump = Jump { outcome: Outcome::Foul, ..from(event, Some(facts::Approach::Strides(16))) };
            let amount = Repetition::of(&jump, None, Some(OfBody::Right), None);
            assert_eq!((amount.leg, amount.leg_assumed), (Leg::Right, false));
            let exercise = exercise(exercises(&jump)[0]);
            let performed = amount.performed(&exercise, Athlete::default());
            let contacts = repetition(&performed).unwrap();
            assert_eq!(contacts.iter().map(|contact| contact.mv).collect::<Vec<_>>(), moves);
            let totals = Totals::of(&[performed]).unwrap();
            // Sixteen strides make no contact, and neither does the pit.
            assert_eq!(totals.get(Kind::EventTakeOff).unwrap().contacts, moves.len() as u64);
            assert_eq!((totals.iter().count(), totals.pit_landings()), (1, 1));
        }
    }

    #[test]
    fn the_leg_is_that_of_the_take_then_the_pattern_then_the_card() {
        let triple = from(JumpEvent::Triple, None);
        let of = |jump: &Jump, times: Option<&JumpTimes>, side, pattern| {
            let found = Repetition::of(jump, times, side, pattern);
            (found.leg, found.leg_assumed)
        };
        let (left, llr) = (Some(OfBody::Left), Some(HopPattern::LeftLeftRight));
        assert_eq!(of(&triple, Some(&times()), left, llr), (Leg::Right, false));
        assert_eq!(of(&triple, None, Some(OfBody::Right), llr), (Leg::Left, false));
        // Whoever hops on the other leg takes off from this one at the long jump.
        assert_eq!(of(&long(6_000), None, Some(OfBody::Right), llr), (Leg::Right, false));
        assert_eq!(of(&long(6_000), None, None, llr), (Leg::Left, true));
    }

    #[test]
    fn a_take_measures_the_contacts_and_the_flights_between_them() {
        let jump = from(JumpEvent::Triple, Some(facts::Approach::Strides(12)));
        let amount = Repetition::of(&jump, Some(&times()), None, None);
        let us = |before, contact, flight| (before, Some(contact), flight);
        let timed: Vec<_> =
            amount.timed.iter().map(|timed| (timed.before_us, timed.contact_us, timed.flight_us)).collect();
        assert!(amount.timed.iter().all(|timed| timed.contact_u_us.is_some_and(|us| us > 0)));
        let expected = [
            us(Some(100_000), 140_000, Some(500_000)),
            us(Some(500_000), 160_000, Some(380_000)),
            us(Some(380_000), 180_000, None),
        ];
        assert_eq!(timed, expected);
        let exercise = exercise(id::TRIPLE_JUMP_MIDDLE);
        let contacts = repetition(&amount.performed(&exercise, Athlete::default())).unwrap();
        assert!(contacts.iter().all(|contact| contact.inputs.contact_s.origin == Origin::Measured));
        assert!((contacts[1].inputs.contact_s.value - 0.16).abs() < 1e-9);
        // What cannot be is left out rather than refusing the jump.
        let odd = JumpTimes { contacts: [0.01, 0.16, 0.18].map(lasting).to_vec(), ..times() };
        let amount = Repetition::of(&jump, Some(&odd), None, None);
        assert_eq!(amount.timed[0].contact_us, None);
        assert!(repetition(&amount.performed(&exercise, Athlete::default())).is_ok());
        // Three contacts have no place in an exercise of one.
        let single = catalogue::find(id::LONG_JUMP_FULL).unwrap().exercise;
        assert!(repetition(&amount.performed(&single, Athlete::default())).is_ok());
    }

    #[test]
    fn what_was_logged_as_a_set_is_not_counted_twice() {
        let (long, triple) = (long(6_000), from(JumpEvent::Triple, None));
        let alone = |jump| OfDay { jump, set_of_take: None };
        let attempts = [alone(&long), alone(&triple), alone(&long), alone(&long)];
        assert_eq!(without_set(&attempts, &[]), [0, 1, 2, 3]);
        // Two were logged, whatever run-up the set says; bounds are none of them.
        assert_eq!(without_set(&attempts, &[(id::LONG_JUMP_SHORT, 2), (id::POGO, 30)]), [1, 3]);
        assert_eq!(without_set(&attempts, &[(id::LONG_JUMP_FULL, 5), (id::TRIPLE_JUMP_FULL, 1)]), [0; 0]);
        // A take that belongs to a set of the event uses one of its repetitions up.
        let linked = OfDay { jump: &long, set_of_take: Some(id::LONG_JUMP_FULL) };
        assert_eq!(without_set(&[linked, alone(&long), alone(&long)], &[(id::LONG_JUMP_FULL, 2)]), [2]);
        // One that belongs to a drill is the drill's.
        let drill = OfDay { jump: &long, set_of_take: Some(id::TAKE_OFF_KNEE_HELD) };
        assert_eq!(without_set(&[drill, alone(&long)], &[(id::TAKE_OFF_KNEE_HELD, 6)]), [1]);
    }
}
