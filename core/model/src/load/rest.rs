//! How long a set takes, and how long to rest after it where that is told by the work.

use super::constants::STRIDES_PER_S;
use super::performed::{Approach, Performed};
use crate::facts::Rest;

/// Seconds that a rest told by the work is rounded up to.
const STEP_S: f64 = 5.0;
/// The longest rest, s.
const MOST_S: f64 = 3_600.0;

/// How long a set takes by its exercise's usual times, s: the contacts and the flights of
/// all repetitions, and the strides of every run-in at 4.1 a second. The ways back between
/// repetitions are not in it: nothing is known of them.
#[must_use]
pub fn work_s(set: &Performed<'_>) -> f64 {
    let contact = |place: u16| set.usual_at(place).map_or(0, |usual| usual.contact_us + usual.flight_us);
    let micros: u64 = (0..set.contacts()).map(|place| u64::from(contact(place))).sum();
    let run_in = match set.run_in() {
        Approach::Strides(n) => f64::from(n) / STRIDES_PER_S,
        // A stride is about two metres; how long such a run-in takes is no finer than that.
        Approach::Millimetres(mm) => f64::from(mm) / 2_000.0 / STRIDES_PER_S,
        Approach::Standing | Approach::TimedSpeed(_) => 0.0,
    };
    f64::from(set.reps) * (micros as f64 / 1e6 + run_in)
}

/// How long to rest after a set, s. Where it is told by the work, in work:rest as handbooks
/// give it (1:5 to 1:10 in Chu, Jumping into Plyometrics; from memory), it is a multiple of
/// [`work_s`], rounded up to 5 s, at most an hour.
#[must_use]
pub fn rest_s(rest: Rest, set: &Performed<'_>) -> u16 {
    match rest {
        Rest::Seconds(s) => s,
        Rest::Times(n) => {
            let steps = (work_s(set) * f64::from(n) / STEP_S).ceil().max(1.0);
            (steps * STEP_S).min(MOST_S) as u16
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::catalogue::{find, id};
    use super::super::performed::{Leg, Side};
    use super::*;

    #[test]
    fn the_work_is_contacts_flights_and_run_ins_of_every_repetition() {
        let pogo = find(id::POGO).unwrap().exercise;
        let first = &pogo.series[0];
        let set = Performed::usual(&pogo, 12, Side::Both);
        let each = f64::from(first.contact_us + first.flight_us) / 1e6;
        let contacts = f64::from(pogo.contacts_per_rep);
        if pogo.series.len() == 1 {
            assert!((work_s(&set) - 12.0 * contacts * each).abs() < 1e-9, "{}", work_s(&set));
        }
        let run_in = find(id::BOUNDS_RUN_IN).unwrap().exercise;
        let four = Performed::usual(&run_in, 3, Side::Alternate { first: Leg::Left });
        let four = Performed { approach: Some(Approach::Strides(4)), ..four };
        let eight = Performed { approach: Some(Approach::Strides(8)), ..four };
        assert!((work_s(&eight) - work_s(&four) - 3.0 * 4.0 / 4.1).abs() < 1e-9);
    }

    #[test]
    fn a_rest_by_the_work_is_whole_steps_and_never_nothing() {
        let pogo = find(id::POGO).unwrap().exercise;
        let set = Performed::usual(&pogo, 10, Side::Both);
        let by_five = rest_s(Rest::Times(5), &set);
        assert_eq!(by_five % 5, 0);
        assert!(f64::from(by_five) >= 5.0 * work_s(&set) && f64::from(by_five) < 5.0 * work_s(&set) + 5.0);
        assert!(rest_s(Rest::Times(10), &set) > by_five);
        assert_eq!(rest_s(Rest::Seconds(97), &set), 97);
        assert!(rest_s(Rest::Times(1), &Performed { reps: 1, ..set }) >= 5);
        assert_eq!(rest_s(Rest::Times(30), &Performed { reps: 500, ..set }), 3_600);
    }
}
