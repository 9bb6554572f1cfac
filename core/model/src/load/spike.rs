//! What rose, came new, came close together or came back: read off a course by rules.
//!
//! Each finding says what was seen, against what, and by which line. Nothing is judged on
//! days that are unknown, and nothing here predicts an injury: a coach looks, and decides.

use uuid::Uuid;

use super::course::{Course, DayRecord, Week};
use super::performed::Approach;
use super::rule::{Rules, hard_line};
use super::session::Hardest;
use crate::facts::exercise::Kind;
use crate::facts::{Day, RuleName};

/// The weeks before that a week is held against, at most.
pub const WEEKS_BEFORE: u32 = 4;

/// Of these, complete, at least.
const LEAST_WEEKS: u32 = 2;

/// Fewer contacts of a kind in a week are no rise to speak of; ours, no source.
const FEW: u64 = 20;

/// How long back an exercise is looked for, at least: a claim that it is new on less
/// would say little. In days.
const LEAST_HISTORY: i32 = 28;

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub enum Spike {
    /// The contacts of a kind in this week.
    WeekContacts {
        /// The kind.
        kind: Kind,
        /// Contacts of this week.
        now: u64,
        /// Their mean in the complete weeks before.
        mean: f64,
        /// How many weeks those are.
        weeks: u32,
    },
    /// The session load of this week.
    WeekLoad {
        /// Session-RPE × minutes.
        now: u64,
        /// Its mean in the complete weeks before.
        mean: f64,
        /// How many weeks those are.
        weeks: u32,
    },
    /// The hardest contact of a kind in this week.
    HardestContact {
        /// The kind.
        kind: Kind,
        /// The hardest of this week.
        now: Hardest,
        /// The hardest of the complete weeks before.
        before: Hardest,
        /// How many weeks those are.
        weeks: u32,
    },
    /// An exercise, or a longer run-in to it, for the first time in so long.
    FirstExposure {
        /// When.
        day: Day,
        /// The exercise.
        exercise: Uuid,
        /// The run-in, where that is what is new.
        approach: Option<Approach>,
        /// Days looked back, all of them known.
        known_days: i32,
    },
    /// Two hard days close together.
    HardDays {
        /// The first.
        first: Day,
        /// The second.
        second: Day,
        /// Hours from start to start, where both say when they began.
        hours: Option<u32>,
    },
    /// Plyometric work after a gap.
    Gap {
        /// The day it came back.
        day: Day,
        /// Known days without any before it, at least.
        days: u32,
    },
}

impl Spike {
    /// The rule by which it was found.
    #[must_use]
    pub const fn rule(&self) -> RuleName {
        match self {
            Self::WeekContacts { .. } => RuleName::WeekContacts,
            Self::WeekLoad { .. } => RuleName::WeekLoad,
            Self::HardestContact { .. } => RuleName::HardestContact,
            Self::FirstExposure { .. } => RuleName::FirstExposure,
            Self::HardDays { .. } => RuleName::HardDays,
            Self::Gap { .. } => RuleName::Gap,
        }
    }
}

/// Everything found in this week and the last seven days.
#[must_use]
pub fn spikes(course: &Course, rules: &Rules, today: Day) -> Vec<Spike> {
    let mut found = weeks(course, rules, today);
    let recent = (today.plus(-6), today);
    found.extend(hard_days(course, rules, recent));
    found.extend(gaps(course, rules, recent));
    found.extend(exposures(course, rules, recent));
    found
}

/// The complete weeks before this one, the newest first.
fn complete_weeks(course: &Course, monday: Day) -> Vec<&Week> {
    const NOTHING: &Week = &Week::NOTHING;
    (1..=WEEKS_BEFORE as i32)
        .map(|n| monday.plus(-7 * n))
        .filter(|monday| course.unknown(*monday, monday.plus(6)) == 0 && course.began_before(monday.plus(7)))
        .map(|monday| course.week(monday).unwrap_or(NOTHING))
        .filter(|week| week.not_computed == 0)
        .collect()
}

/// Whether `now` is at least `percent` of the mean of `sum` over `weeks`: in whole
/// numbers, so that a rise of exactly the line is found.
fn reaches(now: u64, sum: u64, weeks: u64, percent: u32) -> bool {
    u128::from(now) * 100 * u128::from(weeks) >= u128::from(sum) * u128::from(percent)
}

fn weeks(course: &Course, rules: &Rules, today: Day) -> Vec<Spike> {
    let monday = today.monday();
    let (Some(this), 0) = (course.week(monday), course.unknown(monday, today)) else { return Vec::new() };
    let before = complete_weeks(course, monday);
    let weeks = before.len() as u32;
    if weeks < LEAST_WEEKS {
        return Vec::new();
    }
    let mut found = Vec::new();
    let mean = |sum: u64| sum as f64 / f64::from(weeks);
    for kind in Kind::ALL {
        let contacts = |week: &Week| week.totals.get(*kind).map_or(0, |total| total.contacts);
        let (now, sum) = (contacts(this), before.iter().map(|week| contacts(week)).sum::<u64>());
        if let Some(line) = rules.value(RuleName::WeekContacts, today)
            && now >= FEW
            && reaches(now, sum, u64::from(weeks), line)
        {
            found.push(Spike::WeekContacts { kind: *kind, now, mean: mean(sum), weeks });
        }
        let hardest = |week: &Week| week.totals.get(*kind).and_then(|total| total.hardest.clone());
        let highest = before.iter().filter_map(|week| hardest(week)).max();
        if let (Some(line), Some(now), Some(before)) =
            (rules.value(RuleName::HardestContact, today), hardest(this), highest)
            && reaches(now.energy_uj_per_kg_per_leg, before.energy_uj_per_kg_per_leg, 1, line)
            && before.energy_uj_per_kg_per_leg > 0
        {
            found.push(Spike::HardestContact { kind: *kind, now, before, weeks });
        }
    }
    let rated: Vec<&&Week> = before.iter().filter(|week| week.unrated == 0).collect();
    let sum = rated.iter().map(|week| week.load).sum::<u64>();
    if let Some(line) = rules.value(RuleName::WeekLoad, today)
        && this.unrated == 0
        && rated.len() as u32 >= LEAST_WEEKS
        && sum > 0
        && reaches(this.load, sum, rated.len() as u64, line)
    {
        let weeks = rated.len() as u32;
        found.push(Spike::WeekLoad { now: this.load, mean: sum as f64 / f64::from(weeks), weeks });
    }
    found
}

/// Whether a day has a contact that its kind's line calls hard.
#[must_use]
pub fn is_hard(record: &DayRecord, rules: &Rules, day: Day) -> bool {
    Kind::ALL.iter().any(|kind| {
        let line = rules.value(hard_line(*kind), day);
        line.is_some_and(|line| record.contacts_from(*kind, u64::from(line) * 1_000) > 0)
    })
}

fn hard_days(course: &Course, rules: &Rules, (first, last): (Day, Day)) -> Vec<Spike> {
    let Some(hours) = rules.value(RuleName::HardDays, last) else { return Vec::new() };
    let reach = i32::try_from(hours / 24 + 1).unwrap_or(8);
    let hard: Vec<(Day, &DayRecord)> =
        course.days(first.plus(-reach), last).filter(|(day, record)| is_hard(record, rules, *day)).collect();
    let close = |((one, before), (two, after)): &((Day, &DayRecord), (Day, &DayRecord))| {
        let days = u32::try_from(two.number() - one.number()).unwrap_or(0);
        match (before.began_min, after.began_min) {
            (Some((_, ended)), Some((began, _))) => {
                let minutes = days * 24 * 60 + u32::from(began) - u32::from(ended);
                (minutes < hours * 60).then_some(Some(minutes / 60))
            }
            // Sessions of two days in a row are less than 48 h apart, whenever they began.
            _ => ((days + 1) * 24 <= hours).then_some(None),
        }
    };
    hard.windows(2)
        .filter_map(|pair| match pair {
            [one, two] if two.0 >= first => close(&(*one, *two)).map(|hours| (one.0, two.0, hours)),
            _ => None,
        })
        .map(|(first, second, hours)| Spike::HardDays { first, second, hours })
        .collect()
}

fn gaps(course: &Course, rules: &Rules, (first, last): (Day, Day)) -> Vec<Spike> {
    let Some(line) = rules.value(RuleName::Gap, last) else { return Vec::new() };
    let plyometric = |record: &DayRecord| record.totals.plyometric_contacts() > 0;
    course
        .days(first, last)
        .filter(|(_, record)| plyometric(record))
        .filter_map(|(day, _)| {
            let mut days = 0;
            let mut before = day.plus(-1);
            while days < 366 && course.is_known(before) && !course.day(before).is_some_and(plyometric) {
                days += 1;
                before = before.plus(-1);
            }
            // Before the first training there is no gap.
            let came_back = course.began_before(before.plus(1));
            (days >= line && came_back).then_some(Spike::Gap { day, days })
        })
        .collect()
}

/// How long a run-in is, where that can be compared: one in strides with one in strides.
const fn length(approach: Approach) -> Option<(u8, u32)> {
    match approach {
        Approach::Standing => Some((0, 0)),
        Approach::Strides(n) => Some((0, n as u32)),
        Approach::Millimetres(mm) => Some((1, mm)),
        Approach::TimedSpeed(_) => None,
    }
}

fn exposures(course: &Course, rules: &Rules, (first, last): (Day, Day)) -> Vec<Spike> {
    let Some(line) = rules.value(RuleName::FirstExposure, last) else { return Vec::new() };
    let line = i32::try_from(line * 7).unwrap_or(i32::MAX);
    let mut found: Vec<Spike> = Vec::new();
    for (day, record) in course.days(first, last) {
        let mut known_days = 0;
        while known_days < line && course.is_known(day.plus(-known_days - 1)) {
            known_days += 1;
        }
        let from = day.plus(-known_days);
        if known_days < LEAST_HISTORY.min(line) || !course.began_before(from.plus(1)) {
            continue;
        }
        for exposure in &record.exposures {
            let before = course
                .days(from, day.plus(-1))
                .flat_map(|(_, record)| &record.exposures)
                .filter(|done| done.exercise == exposure.exercise);
            let (mut done, mut longest) = (false, None);
            for earlier in before {
                done = true;
                longest = longest.max(earlier.approach.and_then(length));
            }
            let approach = exposure.approach.filter(|approach| {
                let (now, before) = (length(*approach), longest);
                done && now.zip(before).is_some_and(|(now, before)| now.0 == before.0 && now.1 > before.1)
            });
            if !done || approach.is_some() {
                found.push(Spike::FirstExposure { day, exercise: exposure.exercise, approach, known_days });
            }
        }
    }
    found.dedup_by(|later, earlier| match (&*later, &*earlier) {
        (
            Spike::FirstExposure { exercise: a, approach: None, .. },
            Spike::FirstExposure { exercise: b, approach: None, .. },
        ) => a == b,
        _ => false,
    });
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::Rule;
    use crate::facts::exercise::{Legs, Move};
    use crate::load::catalogue::{self, id};
    use crate::load::course::Alike;
    use crate::load::performed::{Leg, Performed, Side};

    /// A Wednesday; its week began two days before.
    fn today() -> Day {
        Day::parse("2026-06-17").unwrap()
    }

    fn with(exercise: Uuid, reps: u16, approach: Option<Approach>) -> DayRecord {
        let described = catalogue::find(exercise).unwrap().exercise;
        let one_leg = described.series.iter().any(|contact| contact.legs != Legs::Two);
        let leg = if one_leg { Side::Alternate { first: Leg::Left } } else { Side::Both };
        let mut record = DayRecord { sessions: 1, load: 300, ..DayRecord::default() };
        let set = Performed { approach, ..Performed::usual(&described, reps, leg) };
        record.add_set(exercise, &set, false).unwrap();
        record
    }

    /// Pogos on each Tuesday of so many weeks, every day known.
    fn course(weeks: i32, reps: u16) -> Course {
        let mut course = Course::default();
        for n in 0..=weeks {
            course.put(today().monday().plus(1 - 7 * n), Some(with(id::POGO, reps, None)));
        }
        course.set_complete(Some(today()));
        course
    }

    fn rule(name: RuleName, off: bool, line: Option<u32>) -> Rules {
        Rules::new(vec![Rule { name, off, line, until: None, reason: "tried".into() }], Vec::new())
    }

    fn found(course: &Course, rules: &Rules) -> Vec<RuleName> {
        spikes(course, rules, today()).iter().map(Spike::rule).collect()
    }

    #[test]
    fn the_same_every_week_is_nothing_to_look_at() {
        assert_eq!(spikes(&course(20, 10), &Rules::default(), today()), []);
        assert_eq!(spikes(&Course::default(), &Rules::default(), today()), []);
    }

    #[test]
    fn a_rise_is_found_from_exactly_the_line_on_and_not_on_unknown_days() {
        let mut risen = course(20, 20);
        let tuesday = today().monday().plus(1);
        risen.put(tuesday, Some(DayRecord { load: 375, ..with(id::POGO, 25, None) }));
        let all = spikes(&risen, &Rules::default(), today());
        let pogos = u64::from(catalogue::find(id::POGO).unwrap().exercise.contacts_per_rep);
        assert_eq!(
            all,
            [
                Spike::WeekContacts {
                    kind: Kind::VerticalRebound,
                    now: 25 * pogos,
                    mean: 20.0 * pogos as f64,
                    weeks: 4
                },
                Spike::WeekLoad { now: 375, mean: 300.0, weeks: 4 },
            ]
        );
        assert_eq!(found(&risen, &rule(RuleName::WeekContacts, false, Some(126))), [RuleName::WeekLoad]);
        assert_eq!(found(&risen, &rule(RuleName::WeekLoad, true, None)), [RuleName::WeekContacts]);
        // A day of this week is not known: nothing is judged.
        risen.set_complete(Some(today().plus(-1)));
        assert_eq!(found(&risen, &Rules::default()), []);
        // Not rated: no load is judged.
        risen.set_complete(Some(today()));
        risen.put(tuesday, Some(DayRecord { unrated: 1, ..with(id::POGO, 25, None) }));
        assert_eq!(found(&risen, &Rules::default()), [RuleName::WeekContacts]);
    }

    #[test]
    fn a_harder_contact_and_what_was_not_done_for_weeks_are_found() {
        let mut harder = course(20, 10);
        harder.put(today(), Some(with(id::DROP_JUMP_60, 4, None)));
        let all = spikes(&harder, &Rules::default(), today());
        let hardest = |spike: &Spike| match spike {
            Spike::HardestContact { kind, now, before, weeks } => {
                now.mv == Move::DropJump
                    && before.mv == Move::Rebound
                    && (*kind, *weeks) == (Kind::VerticalRebound, 4)
            }
            _ => false,
        };
        assert!(all.iter().any(hardest), "{all:?}");
        let new =
            Spike::FirstExposure { day: today(), exercise: id::DROP_JUMP_60, approach: None, known_days: 84 };
        assert!(all.contains(&new), "{all:?}");
        // Less than four weeks are known: nobody knows whether it is new.
        let mut short = course(2, 10);
        short.put(today(), Some(with(id::DROP_JUMP_60, 4, None)));
        assert!(!found(&short, &Rules::default()).contains(&RuleName::FirstExposure));
    }

    #[test]
    fn a_longer_run_in_to_a_known_exercise_is_new() {
        let bounds = id::BOUNDS_RUN_IN;
        let mut course = course(20, 10);
        course.put(today().plus(-20), Some(with(bounds, 2, Some(Approach::Strides(6)))));
        course.put(today(), Some(with(bounds, 2, Some(Approach::Strides(10)))));
        let longer = |spike: &Spike| matches!(spike, Spike::FirstExposure { approach: Some(Approach::Strides(10)), exercise, .. } if *exercise == bounds);
        assert!(spikes(&course, &Rules::default(), today()).iter().any(longer));
        course.put(today(), Some(with(bounds, 2, Some(Approach::Strides(6)))));
        assert!(!found(&course, &Rules::default()).contains(&RuleName::FirstExposure));
    }

    fn hard_at(began_min: Option<(u16, u16)>) -> DayRecord {
        let contacts =
            vec![Alike { kind: Kind::HorizontalSeries, energy_uj_per_kg_per_leg: 9_000_000, contacts: 6 }];
        DayRecord { contacts, sessions: 1, load: 300, began_min, ..DayRecord::default() }
    }

    #[test]
    fn hard_days_are_close_by_the_clock_where_it_is_known() {
        let apart = |days: i32, one, two| {
            let mut course = Course::default();
            course.put(today().plus(-days), Some(hard_at(one)));
            course.put(today(), Some(hard_at(two)));
            spikes(&course, &Rules::default(), today())
        };
        let at = |hour: u16| Some((hour * 60, hour * 60));
        let close =
            |days: i32, hours| [Spike::HardDays { first: today().plus(-days), second: today(), hours }];
        assert_eq!(apart(1, None, None), close(1, None));
        assert_eq!(apart(2, at(18), at(9)), close(2, Some(39)));
        // From 18 to 18 two days later are 48 h; and unknown hours say nothing of two days.
        assert_eq!(apart(2, at(18), at(18)), []);
        assert_eq!(apart(2, None, at(9)), []);
        let mut course = Course::default();
        for n in 0..2 {
            course.put(today().plus(-n), Some(hard_at(None)));
        }
        assert_eq!(spikes(&course, &rule(RuleName::HardHorizontalSeries, false, Some(9_001)), today()), []);
    }

    #[test]
    fn a_gap_is_days_known_to_be_without() {
        let mut back = Course::default();
        back.put(today().plus(-20), Some(with(id::POGO, 5, None)));
        back.put(today(), Some(with(id::POGO, 5, None)));
        assert!(!found(&back, &Rules::default()).contains(&RuleName::Gap), "unknown days are no gap");
        back.set_complete(Some(today()));
        let gap = Spike::Gap { day: today(), days: 19 };
        assert!(spikes(&back, &Rules::default(), today()).contains(&gap));
        assert!(!found(&back, &rule(RuleName::Gap, false, Some(20))).contains(&RuleName::Gap));
        back.put(today().plus(-20), None);
        assert!(!found(&back, &Rules::default()).contains(&RuleName::Gap), "a beginning is no return");
    }
}
