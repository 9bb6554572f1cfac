//! Attempts by run-up: in their order, with bests and means.

use std::collections::BTreeMap;

use super::distance::effective;
use super::mean::{Mean, mean};
use super::wind::{for_records, reading_tenths};
use crate::facts::{Approach, Jump, JumpEvent, Outcome, Wind};

/// The attempts at one event with one run-up.
///
/// An attempt is named by its place in the slice that was handed in. Of equal distances
/// the earlier attempt is the best.
#[derive(Clone, Debug, PartialEq)]
pub struct History {
    /// The event.
    pub event: JumpEvent,
    /// The run-up; `None` where it was not written down.
    pub approach: Option<Approach>,
    /// All attempts by day and number; of one day those without a number come last.
    pub attempts: Vec<usize>,
    /// How many of them were fouls.
    pub fouls: usize,
    /// The longest official distance, whatever the wind.
    pub best: Option<usize>,
    /// The longest with which the wind allows a record.
    pub best_for_records: Option<usize>,
    /// The longest effective distance.
    pub best_effective: Option<usize>,
    /// The attempts that were longer than all before them.
    pub improvements: Vec<usize>,
    /// The mean official distance; fouls have none and are left out.
    pub mean: Option<Mean>,
}

/// The attempts by event and run-up; strides before metres, shorter before longer.
#[must_use]
pub fn by_approach(jumps: &[Jump]) -> Vec<History> {
    let mut groups: BTreeMap<(JumpEvent, Option<Approach>), Vec<usize>> = BTreeMap::new();
    for (at, jump) in jumps.iter().enumerate() {
        groups.entry((jump.event, jump.approach)).or_default().push(at);
    }
    groups.into_iter().map(|((event, approach), group)| history(jumps, event, approach, group)).collect()
}

fn history(
    jumps: &[Jump],
    event: JumpEvent,
    approach: Option<Approach>,
    mut attempts: Vec<usize>,
) -> History {
    attempts.sort_by_key(|at| jumps.get(*at).map(|j| (j.day, j.attempt.is_none(), j.attempt)));
    let ordered = || attempts.iter().filter_map(|at| Some((*at, jumps.get(*at)?)));
    let measured = |jump: &Jump| match jump.outcome {
        Outcome::Measured(mm) => Some(mm),
        Outcome::Foul => None,
    };
    let mut improvements: Vec<usize> = Vec::new();
    let mut longest = 0;
    for (at, mm) in ordered().filter_map(|(at, jump)| Some((at, measured(jump)?))) {
        if mm > longest {
            longest = mm;
            improvements.push(at);
        }
    }
    let distances: Vec<i32> = ordered().filter_map(|(_, jump)| i32::try_from(measured(jump)?).ok()).collect();
    History {
        event,
        approach,
        fouls: ordered().filter(|(_, jump)| jump.outcome == Outcome::Foul).count(),
        best: improvements.last().copied(),
        best_for_records: first_longest(
            ordered().filter(|(_, jump)| for_records(jump).is_allowed()),
            measured,
        ),
        best_effective: first_longest(ordered(), |jump| effective(jump).map(|e| e.effective_mm)),
        improvements,
        mean: mean(&distances),
        attempts,
    }
}

/// The first attempt with the greatest length.
fn first_longest<'a>(
    attempts: impl Iterator<Item = (usize, &'a Jump)>,
    length: impl Fn(&Jump) -> Option<u32>,
) -> Option<usize> {
    let mut best: Option<(usize, u32)> = None;
    for (at, jump) in attempts {
        if let Some(mm) = length(jump)
            && best.is_none_or(|(_, longest)| mm > longest)
        {
            best = Some((at, mm));
        }
    }
    best.map(|(at, _)| at)
}

/// Which attempts are compared: those alike in event, and in run-up and wind where these
/// are given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Alike {
    /// The event.
    pub event: JumpEvent,
    /// The run-up; `None` for any.
    pub approach: Option<Approach>,
    /// The least and the greatest wind reading in tenths of a metre a second; `None` for
    /// any, known or not. Indoors it is calm (ours, no source).
    pub wind_tenths: Option<(i32, i32)>,
}

impl Alike {
    /// Whether an attempt is one of them.
    #[must_use]
    pub fn takes(&self, jump: &Jump) -> bool {
        let reading = match jump.wind {
            _ if jump.indoor => Some(0),
            Some(Wind::Gauge(mm_s)) => Some(reading_tenths(mm_s)),
            Some(Wind::NoGauge) | None => None,
        };
        jump.event == self.event
            && self.approach.is_none_or(|approach| jump.approach == Some(approach))
            && self
                .wind_tenths
                .is_none_or(|(least, most)| reading.is_some_and(|tenths| (least..=most).contains(&tenths)))
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::facts::{Day, Phases};

    /// A long jump of which nothing but the distance is known.
    pub(in crate::jump) fn long(mm: u32) -> Jump {
        Jump {
            day: Day::parse("2026-06-13").unwrap(),
            event: JumpEvent::Long,
            indoor: false,
            competition: false,
            place: None,
            attempt: None,
            outcome: Outcome::Measured(mm),
            toe_mm: None,
            wind: None,
            wind_rule: None,
            approach: None,
            start_mm: None,
            pit_mm: None,
            board: None,
            phases: Phases::default(),
            take: None,
        }
    }

    fn from(strides: u16, mm: u32, days_later: i32, attempt: u16) -> Jump {
        let jump = long(mm);
        Jump {
            day: jump.day.plus(days_later),
            approach: Some(Approach::Strides(strides)),
            attempt: Some(attempt),
            ..jump
        }
    }

    #[test]
    fn bests_and_improvements_stand_in_the_order_of_days_and_attempts() {
        let jumps = [
            from(8, 5_610, 7, 1),
            from(16, 6_320, 0, 2),
            from(16, 6_290, 0, 1),
            Jump { outcome: Outcome::Foul, ..from(16, 0, 0, 3) },
            Jump { wind: Some(Wind::Gauge(2_400)), toe_mm: Some(-10), ..from(16, 6_410, 3, 1) },
            Jump { wind: Some(Wind::Gauge(1_900)), toe_mm: Some(-120), ..from(16, 6_320, 3, 2) },
            Jump { attempt: None, ..from(16, 6_410, 3, 0) },
        ];
        let [short, full] = by_approach(&jumps).try_into().unwrap();
        assert_eq!((short.approach, short.best, short.fouls), (Some(Approach::Strides(8)), Some(0), 0));
        assert_eq!(full.attempts, [2, 1, 3, 4, 5, 6]);
        assert_eq!(full.improvements, [2, 1, 4]);
        assert_eq!((full.best, full.best_for_records, full.best_effective), (Some(4), Some(5), Some(5)));
        assert_eq!((full.fouls, full.mean.map(|m| (m.count, m.mm))), (1, Some((5, 6_350.0))));
        assert_eq!(by_approach(&[]), []);
    }

    #[test]
    fn what_is_compared_is_alike() {
        let jump = Jump { wind: Some(Wind::Gauge(1_310)), ..from(16, 6_320, 0, 1) };
        let any = Alike { event: JumpEvent::Long, approach: None, wind_tenths: None };
        assert!(any.takes(&jump) && any.takes(&long(6_000)));
        assert!(!Alike { event: JumpEvent::Triple, ..any }.takes(&jump));
        let run_up = Alike { approach: Some(Approach::Strides(16)), ..any };
        assert!(run_up.takes(&jump) && !run_up.takes(&long(6_000)));
        assert!(!Alike { approach: Some(Approach::Strides(14)), ..any }.takes(&jump));
        let wind = |least, most| Alike { wind_tenths: Some((least, most)), ..any };
        assert!(wind(0, 14).takes(&jump) && !wind(0, 13).takes(&jump) && !wind(15, 20).takes(&jump));
        assert!(!wind(-50, 50).takes(&long(6_000)));
        assert!(wind(0, 0).takes(&Jump { indoor: true, ..long(6_000) }));
    }
}
