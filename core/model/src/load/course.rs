//! One athlete's training day by day, with its weeks kept up.
//!
//! A [`Course`] is what screens and rules read. A day that changes is put in again, which
//! adds up its own week anew and nothing else; the result is the same as that of all days
//! put in at once, in any order.
//!
//! A day is *known* where something was written down of it, where it was said to be a
//! rest day, or where its athlete said that everything up to it is written down. What a
//! week with unknown days comes to is incomplete, never low.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use uuid::Uuid;

use super::contact::repetition;
use super::performed::{Approach, Performed};
use super::series::{DayLoad, Series};
use super::session::{Totals, name_of};
use crate::facts::Day;
use crate::facts::exercise::{FieldError, Kind};

/// Contacts alike: of one kind, each taking up the same energy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Alike {
    /// Their kind.
    pub kind: Kind,
    /// Energy each leg takes up, µJ/kg.
    pub energy_uj_per_kg_per_leg: u64,
    /// How many.
    pub contacts: u64,
}

/// That an exercise was done, and from how long a run-in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Exposure {
    /// The exercise.
    pub exercise: Uuid,
    /// The run-in, where the set said one.
    pub approach: Option<Approach>,
}

/// What was written down of one day.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct DayRecord {
    /// Contacts and energies by kind, without the drills of the warm-up.
    pub totals: Totals,
    /// Those of the warm-up.
    pub warm_up: Totals,
    /// The contacts behind both, in any order.
    pub contacts: Vec<Alike>,
    /// Which exercises were done.
    pub exposures: Vec<Exposure>,
    /// Session-RPE × minutes of everything that was rated.
    pub load: u64,
    /// Sessions and other training of the day.
    pub sessions: u32,
    /// Of these, without a rating and a duration.
    pub unrated: u32,
    /// Sets that could not be computed, as their exercise is not known or does not fit.
    pub not_computed: u32,
    /// When the first and the last session began, minutes after midnight, where each
    /// session of the day says when.
    pub began_min: Option<(u16, u16)>,
    /// It was said to be a rest day.
    pub rest: bool,
}

impl DayRecord {
    /// Adds a set of an exercise; a refused one adds nothing.
    ///
    /// # Errors
    /// [`FieldError`] where [`Performed::check`] refuses the set.
    pub fn add_set(&mut self, exercise: Uuid, set: &Performed<'_>, warm_up: bool) -> Result<(), FieldError> {
        let contacts = repetition(set)?;
        let name = name_of(set);
        let totals = if warm_up { &mut self.warm_up } else { &mut self.totals };
        for contact in &contacts {
            let total = totals.add_contact(set, contact, &name);
            let energy = total.hardest.as_ref().map_or(0, |hardest| hardest.energy_uj_per_kg_per_leg);
            add_alike(&mut self.contacts, contact.kind, energy, total.contacts);
        }
        self.expose(Exposure { exercise, approach: set.approach });
        Ok(())
    }

    /// Adds what else was written down of the day.
    pub fn add(&mut self, other: &Self) {
        if other.sessions > 0 {
            // Known only while each session says when it began.
            self.began_min = match (self.sessions, self.began_min, other.began_min) {
                (0, _, began) => began,
                (_, Some((first, last)), Some((begin, end))) => Some((first.min(begin), last.max(end))),
                _ => None,
            };
        }
        self.totals.add(&other.totals);
        self.warm_up.add(&other.warm_up);
        for alike in &other.contacts {
            add_alike(&mut self.contacts, alike.kind, alike.energy_uj_per_kg_per_leg, alike.contacts);
        }
        for exposure in &other.exposures {
            self.expose(*exposure);
        }
        self.load = self.load.saturating_add(other.load);
        self.sessions = self.sessions.saturating_add(other.sessions);
        self.unrated = self.unrated.saturating_add(other.unrated);
        self.not_computed = self.not_computed.saturating_add(other.not_computed);
        self.rest |= other.rest;
    }

    fn expose(&mut self, exposure: Exposure) {
        if !self.exposures.contains(&exposure) {
            self.exposures.push(exposure);
        }
    }

    /// Contacts of a kind that take up at least so much, in µJ/kg a leg.
    #[must_use]
    pub fn contacts_from(&self, kind: Kind, energy_uj_per_kg: u64) -> u64 {
        self.contacts
            .iter()
            .filter(|alike| alike.kind == kind && alike.energy_uj_per_kg_per_leg >= energy_uj_per_kg)
            .map(|alike| alike.contacts)
            .fold(0, u64::saturating_add)
    }

    /// The day's load, where everything was rated.
    #[must_use]
    pub fn whole_load(&self) -> Option<u64> {
        (self.unrated == 0).then_some(self.load)
    }
}

fn add_alike(all: &mut Vec<Alike>, kind: Kind, energy_uj_per_kg_per_leg: u64, contacts: u64) {
    let same =
        |alike: &&mut Alike| alike.kind == kind && alike.energy_uj_per_kg_per_leg == energy_uj_per_kg_per_leg;
    match all.iter_mut().find(same) {
        Some(alike) => alike.contacts = alike.contacts.saturating_add(contacts),
        None => all.push(Alike { kind, energy_uj_per_kg_per_leg, contacts }),
    }
}

/// What an ISO week comes to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Week {
    /// Contacts and energies by kind, without the drills of the warm-up.
    pub totals: Totals,
    /// Those of the warm-up.
    pub warm_up: Totals,
    /// Session-RPE × minutes of everything that was rated.
    pub load: u64,
    /// Sessions and other training.
    pub sessions: u32,
    /// Of these, without a rating and a duration.
    pub unrated: u32,
    /// Sets that could not be computed.
    pub not_computed: u32,
}

impl Week {
    /// A week in which nothing was done.
    pub const NOTHING: Self = Self {
        totals: Totals::NOTHING,
        warm_up: Totals::NOTHING,
        load: 0,
        sessions: 0,
        unrated: 0,
        not_computed: 0,
    };

    fn add(&mut self, day: &DayRecord) {
        self.totals.add(&day.totals);
        self.warm_up.add(&day.warm_up);
        self.load = self.load.saturating_add(day.load);
        self.sessions = self.sessions.saturating_add(day.sessions);
        self.unrated = self.unrated.saturating_add(day.unrated);
        self.not_computed = self.not_computed.saturating_add(day.not_computed);
    }
}

/// The days of one athlete, with their weeks.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Course {
    days: BTreeMap<Day, DayRecord>,
    weeks: BTreeMap<Day, Week>,
    complete: Option<Day>,
    earlier: bool,
}

impl Course {
    /// Says what is written down of a day; nothing, where nothing is any more.
    pub fn put(&mut self, day: Day, record: Option<DayRecord>) {
        let monday = day.monday();
        let before = match record {
            Some(record) => match self.days.entry(day) {
                Entry::Vacant(room) => {
                    // Sums are whole numbers, so adding gives what adding up anew would.
                    self.weeks.entry(monday).or_default().add(room.insert(record));
                    return;
                }
                Entry::Occupied(mut held) => Some(held.insert(record)),
            },
            None => self.days.remove(&day),
        };
        if before.is_none() {
            return;
        }
        let mut week = Week::default();
        let mut any = false;
        for (_, record) in self.days.range(monday..=monday.plus(6)) {
            week.add(record);
            any = true;
        }
        if any {
            self.weeks.insert(monday, week);
        } else {
            self.weeks.remove(&monday);
        }
    }

    /// Says up to which day everything is written down.
    pub const fn set_complete(&mut self, up_to: Option<Day>) {
        self.complete = up_to;
    }

    /// Says that the athlete trained before the first day that is put in here.
    pub const fn set_earlier(&mut self, earlier: bool) {
        self.earlier = earlier;
    }

    /// What is written down of a day.
    #[must_use]
    pub fn day(&self, day: Day) -> Option<&DayRecord> {
        self.days.get(&day)
    }

    /// The days of which something is written down, in order.
    pub fn days(&self, first: Day, last: Day) -> impl DoubleEndedIterator<Item = (Day, &DayRecord)> {
        let last = last.max(first);
        self.days.range(first..=last).map(|(day, record)| (*day, record))
    }

    /// What a week comes to that begins on this Monday; nothing where nothing of it is
    /// written down.
    #[must_use]
    pub fn week(&self, monday: Day) -> Option<&Week> {
        self.weeks.get(&monday)
    }

    /// Whether it is known what was done on a day.
    #[must_use]
    pub fn is_known(&self, day: Day) -> bool {
        self.days.contains_key(&day) || self.complete.is_some_and(|up_to| day <= up_to)
    }

    /// Days of a stretch, both ends in it, of which nothing is known.
    #[must_use]
    pub fn unknown(&self, first: Day, last: Day) -> u32 {
        let mut unknown = 0;
        let mut day = first;
        while day <= last {
            unknown += u32::from(!self.is_known(day));
            day = day.plus(1);
        }
        unknown
    }

    /// The first day with training, and whether there was some before it. A stretch before
    /// the beginning is not rest: nothing is compared with it.
    #[must_use]
    pub fn begin(&self) -> Option<(Day, bool)> {
        let first = self.days.iter().find(|(_, record)| record.sessions > 0).map(|(day, _)| *day)?;
        Some((first, self.earlier))
    }

    /// Whether the athlete trained, here or earlier, before a day.
    #[must_use]
    pub fn began_before(&self, day: Day) -> bool {
        self.earlier || self.begin().is_some_and(|(first, _)| first < day)
    }

    /// Loads day by day: nothing for a day that is not known or not wholly rated.
    #[must_use]
    pub fn loads(&self, first: Day, last: Day) -> Series {
        let mut series = Series::default();
        let mut day = first;
        while day <= last {
            let load = match self.days.get(&day) {
                Some(record) => record.whole_load(),
                None => self.is_known(day).then_some(0),
            };
            series.push(load.and_then(|load| DayLoad::new(load as f64)));
            day = day.plus(1);
        }
        series
    }

    /// The hardest contacts of a kind in a stretch of days.
    #[must_use]
    pub fn hard(&self, kind: Kind, first: Day, last: Day) -> Hard {
        let mut contacts: Vec<(u64, u64)> = self
            .days(first, last)
            .flat_map(|(_, record)| &record.contacts)
            .filter(|alike| alike.kind == kind)
            .map(|alike| (alike.energy_uj_per_kg_per_leg, alike.contacts))
            .collect();
        contacts.sort_unstable_by_key(|(energy, _)| core::cmp::Reverse(*energy));
        Hard { contacts }
    }
}

/// Contacts of a kind, the hardest first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Hard {
    contacts: Vec<(u64, u64)>,
}

impl Hard {
    /// How many take up at least so much, in µJ/kg a leg.
    #[must_use]
    pub fn count_from(&self, energy_uj_per_kg: u64) -> u64 {
        let above = self.contacts.iter().take_while(|(energy, _)| *energy >= energy_uj_per_kg);
        above.map(|(_, contacts)| *contacts).fold(0, u64::saturating_add)
    }

    /// What part of all energy, 0 to 1, the hardest `part` (0 to 1) of the contacts took
    /// up: above `part` the more, the more uneven they are. Nothing where there is none.
    #[must_use]
    pub fn share_of_hardest(&self, part: f64) -> Option<f64> {
        let contacts: f64 = self.contacts.iter().map(|(_, contacts)| *contacts as f64).sum();
        let energy = |(energy, contacts): &(u64, u64)| *energy as f64 * *contacts as f64;
        let all: f64 = self.contacts.iter().map(energy).sum();
        if all <= 0.0 {
            return None;
        }
        let mut left = contacts * part.clamp(0.0, 1.0);
        let mut taken = 0.0;
        for (energy, contacts) in &self.contacts {
            let some = left.min(*contacts as f64);
            taken += *energy as f64 * some;
            left -= some;
        }
        Some(taken / all)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::load::catalogue::{self, id};
    use crate::load::performed::Side;

    fn day(n: i32) -> Day {
        Day::parse("2026-03-02").unwrap().plus(n)
    }

    fn record(reps: u16, load: u64, unrated: u32) -> DayRecord {
        let exercise = catalogue::find(id::POGO).unwrap().exercise;
        let mut record = DayRecord { load, sessions: 1, unrated, ..DayRecord::default() };
        record.add_set(id::POGO, &Performed::usual(&exercise, reps, Side::Both), false).unwrap();
        record
    }

    #[test]
    fn a_week_is_the_sum_of_its_days_and_goes_with_the_last() {
        let mut course = Course::default();
        course.put(day(0), Some(record(10, 300, 0)));
        course.put(day(6), Some(record(5, 0, 1)));
        course.put(day(7), Some(record(3, 100, 0)));
        let week = course.week(day(0)).unwrap();
        assert_eq!((week.load, week.sessions, week.unrated), (300, 2, 1));
        assert_eq!(week.totals.plyometric_contacts(), 15 * u64::from(pogo_contacts()));
        course.put(day(0), None);
        course.put(day(6), None);
        assert_eq!(course.week(day(0)), None);
        assert!(course.week(day(7)).is_some());
    }

    fn pogo_contacts() -> u16 {
        catalogue::find(id::POGO).unwrap().exercise.contacts_per_rep
    }

    #[test]
    fn when_a_day_began_is_known_while_each_session_says_so() {
        let at = |began_min| DayRecord { began_min, ..record(1, 100, 0) };
        let mut day = DayRecord::default();
        day.add(&at(Some((600, 600))));
        day.add(&DayRecord { sessions: 0, ..at(None) });
        assert_eq!(day.began_min, Some((600, 600)), "what is no session says nothing of it");
        day.add(&at(Some((1_020, 1_020))));
        assert_eq!((day.began_min, day.sessions, day.load), (Some((600, 1_020)), 2, 300));
        day.add(&at(None));
        day.add(&at(Some((700, 700))));
        assert_eq!(day.began_min, None);
        assert_eq!((day.contacts.len(), day.exposures.len()), (record(1, 0, 0).contacts.len(), 1));
    }

    #[test]
    fn only_a_day_known_to_be_rest_has_no_load() {
        let mut course = Course::default();
        course.put(day(0), Some(record(10, 300, 0)));
        course.put(day(2), Some(DayRecord { rest: true, ..DayRecord::default() }));
        course.put(day(3), Some(record(10, 200, 1)));
        let loads: Vec<_> = course.loads(day(0), day(4)).iter().map(|figures| figures.load).collect();
        assert_eq!(loads, [Some(300.0), None, Some(0.0), None, None]);
        assert_eq!(course.unknown(day(0), day(4)), 2);
        course.set_complete(Some(day(1)));
        assert_eq!(course.loads(day(1), day(1)).get(0).unwrap().load, Some(0.0));
        assert_eq!(course.begin(), Some((day(0), false)));
        assert!(!course.began_before(day(0)) && course.began_before(day(1)));
    }

    #[test]
    fn the_hardest_part_takes_its_share() {
        let alike = |energy, contacts| Alike {
            kind: Kind::VerticalRebound,
            energy_uj_per_kg_per_leg: energy,
            contacts,
        };
        let mut course = Course::default();
        let contacts = vec![alike(1_000, 8), alike(4_000, 2)];
        course.put(day(0), Some(DayRecord { contacts, ..DayRecord::default() }));
        let hard = course.hard(Kind::VerticalRebound, day(0), day(6));
        assert_eq!((hard.count_from(4_000), hard.count_from(1_000), hard.count_from(4_001)), (2, 10, 0));
        // Two of ten took up 8 of 16.
        assert!((hard.share_of_hardest(0.2).unwrap() - 0.5).abs() < 1e-12);
        assert!((hard.share_of_hardest(1.0).unwrap() - 1.0).abs() < 1e-12);
        assert_eq!(course.hard(Kind::Sprint, day(0), day(6)).share_of_hardest(0.2), None);
    }

    proptest! {
        /// Days put in, changed and taken out in any order leave what putting in the last
        /// state of each at once gives.
        #[test]
        fn any_order_of_changes_is_the_same_as_computing_from_nothing(
            changes in prop::collection::vec((0_i32..40, prop::option::of((1_u16..30, 0_u64..900, 0_u32..2))), 1..80),
        ) {
            let mut kept_up = Course::default();
            let mut last: BTreeMap<Day, DayRecord> = BTreeMap::new();
            for (n, change) in changes {
                let record = change.map(|(reps, load, unrated)| record(reps, load, unrated));
                kept_up.put(day(n), record.clone());
                match record {
                    Some(record) => last.insert(day(n), record),
                    None => last.remove(&day(n)),
                };
            }
            let mut anew = Course::default();
            for (day, record) in last.into_iter().rev() {
                anew.put(day, Some(record));
            }
            prop_assert_eq!(&kept_up, &anew);
            let kept: Vec<_> = kept_up.loads(day(0), day(39)).iter().copied().collect();
            let other: Vec<_> = anew.loads(day(0), day(39)).iter().copied().collect();
            prop_assert_eq!(kept, other);
        }
    }
}
