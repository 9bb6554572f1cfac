//! Athletes' courses, read from the book once and then kept up: what was added since
//! changes the days it is about, and nothing else is computed again.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use pitside_book::store::{Book, BookError, Filter, Held, Mark};
use pitside_log::entry::Key;
use pitside_model::facts::{self, Day, Fact, Hash, MemberId, RuleName, Scope, Subject, kind};
use pitside_model::load::course::{Course, DayRecord, Week as Summed};
use pitside_model::load::rule::Rules;
use pitside_model::load::session::session_rpe;

use crate::training::{Card, Catalogue, DoneSession, sessions};

/// Days read at once, before the first of those asked for: with the rules that come with
/// the product none looks farther back from the weeks that are shown.
const AHEAD: i32 = 7 * 16;

/// The courses of a squad, as far as they were asked for.
#[derive(Default)]
pub(crate) struct Courses {
    /// What of the squad's own they were computed with: its exercises, who counts.
    squad: Option<Mark>,
    kept: BTreeMap<MemberId, Kept>,
}

/// One athlete's, and what it was computed from.
#[derive(Clone)]
pub(crate) struct Kept {
    marks: BTreeMap<Scope, Mark>,
    first: Day,
    /// The day of each fact that a day was computed from.
    days_of: BTreeMap<Hash, Day>,
    pub(crate) card: Arc<Card>,
    pub(crate) course: Course,
    /// The newest session.
    pub(crate) last: Option<LastSession>,
}

/// The newest session of an athlete.
#[derive(Clone)]
pub(crate) struct LastSession {
    pub(crate) place: Hash,
    pub(crate) day: Day,
    start_min: Option<u16>,
    pub(crate) purpose: Option<String>,
}

/// An ISO week as it is shown.
pub(crate) struct Week {
    pub(crate) monday: Day,
    pub(crate) sum: Summed,
    /// Days up to today of which nothing is known.
    pub(crate) unknown: u32,
    /// Nothing at all is known of the member before this week's end.
    pub(crate) before_begin: bool,
}

impl Week {
    pub(crate) fn incomplete(&self) -> bool {
        self.unknown > 0
    }
}

impl Kept {
    /// The ISO weeks that end with this one.
    pub(crate) fn weeks(&self, today: Day, weeks: i32) -> Vec<Week> {
        let first = today.monday().plus(-7 * (weeks - 1));
        (0..weeks)
            .map(|n| {
                let monday = first.plus(7 * n);
                let last = monday.plus(6).min(today);
                Week {
                    monday,
                    sum: self.course.week(monday).cloned().unwrap_or_default(),
                    unknown: self.course.unknown(monday, last),
                    before_begin: !self.course.began_before(monday.plus(7)),
                }
            })
            .collect()
    }
}

impl Courses {
    /// The course of a member with all days from `first` on, kept up to what the book
    /// holds now.
    pub(crate) fn of(
        &mut self,
        book: &Book,
        member: MemberId,
        catalogue: &Catalogue,
        first: Day,
    ) -> Result<&Kept, BookError> {
        let marks = book.marks()?;
        let squad = marks.get(&Scope::Squad).cloned().unwrap_or_default();
        if self.squad.as_ref() != Some(&squad) {
            // An exercise may have changed, or who counts.
            self.kept.clear();
            self.squad = Some(squad);
        }
        let own: BTreeMap<Scope, Mark> = book
            .ids(member)?
            .into_iter()
            .map(Scope::Member)
            .filter_map(|scope| Some((scope, marks.get(&scope)?.clone())))
            .collect();
        let current = match self.kept.remove(&member) {
            Some(kept) if kept.first <= first => kept.brought_up_to(book, member, catalogue, own)?,
            _ => Kept::read(book, member, catalogue, first.plus(-AHEAD), own)?,
        };
        Ok(self.kept.entry(member).or_insert(current))
    }
}

impl Kept {
    fn read(
        book: &Book,
        member: MemberId,
        catalogue: &Catalogue,
        first: Day,
        marks: BTreeMap<Scope, Mark>,
    ) -> Result<Self, BookError> {
        let card = Arc::new(Card::read(book, member)?);
        let mut kept =
            Self { marks, first, days_of: BTreeMap::new(), card, course: Course::default(), last: None };
        for (day, record) in kept.records(book, member, catalogue, (first, Day::LAST))? {
            kept.course.put(day, Some(record));
        }
        kept.course.set_complete(complete(book, member)?);
        kept.course.set_earlier(began_before(book, member, first)?);
        if kept.last.is_none() {
            kept.find_last(book, member)?;
        }
        Ok(kept)
    }

    /// Computes the days anew that something was added to.
    fn brought_up_to(
        mut self,
        book: &Book,
        member: MemberId,
        catalogue: &Catalogue,
        marks: BTreeMap<Scope, Mark>,
    ) -> Result<Self, BookError> {
        if self.marks == marks {
            return Ok(self);
        }
        let Some(days) = self.changed(book, &marks)? else {
            return Self::read(book, member, catalogue, self.first, marks);
        };
        self.last = None;
        for day in days {
            if day < self.first {
                continue;
            }
            let record = self.records(book, member, catalogue, (day, day))?.remove(&day);
            self.course.put(day, record);
        }
        self.course.set_complete(complete(book, member)?);
        self.find_last(book, member)?;
        self.marks = marks;
        Ok(self)
    }

    /// The days that what was added is about; `None` where that is not known, or where
    /// all days hang on it.
    fn changed(&self, book: &Book, now: &BTreeMap<Scope, Mark>) -> Result<Option<BTreeSet<Day>>, BookError> {
        let mut days = BTreeSet::new();
        if self.marks.keys().any(|scope| !now.contains_key(scope)) {
            return Ok(None);
        }
        for (scope, mark) in now {
            let before = self.marks.get(scope).cloned().unwrap_or_default();
            let Some(added) = book.added(&before, mark)? else { return Ok(None) };
            for (_, key) in added {
                match key.kind.as_str() {
                    // Nothing of these is in a course.
                    kind::COMPLETE
                    | kind::CONSENT
                    | kind::CHECK_IN
                    | kind::LIMIT
                    | kind::ADVICE
                    | kind::RULE
                    | kind::TARGET
                    | kind::TEST
                    | kind::GROWTH
                    | kind::LANDING_CONTROL => {}
                    kind::SESSION
                    | kind::SET
                    | kind::TAKE
                    | kind::REST
                    | kind::JUMP
                    | kind::OTHER_TRAINING => {
                        let Subject::Fact(place) = key.subject else { return Ok(None) };
                        days.extend(self.days_of.get(&place));
                        days.extend(self.day_now(book, &key, place)?);
                    }
                    // A card changes every set; a withdrawal may be of anything.
                    _ => return Ok(None),
                }
            }
        }
        Ok(Some(days))
    }

    /// The day that a fact is about now; that of its session, where it belongs to one.
    fn day_now(&self, book: &Book, key: &Key, place: Hash) -> Result<Option<Day>, BookError> {
        let of = |kind: &str, place: Hash| {
            let subject = Some(Subject::Fact(place));
            book.held(&Filter { scope: Some(key.scope), kind: Some(kind), subject, ..Filter::default() })
        };
        let held = of(&key.kind, place)?;
        let Some(fact) = held.iter().find_map(Held::fact) else { return Ok(None) };
        Ok(match fact.session() {
            None => fact.day(),
            Some(session) => match self.days_of.get(&session) {
                Some(day) => Some(*day),
                None => of(kind::SESSION, session)?.iter().find_map(Held::fact).and_then(Fact::day),
            },
        })
    }

    /// What was written down of each day in a stretch; notes the day of each fact.
    fn records(
        &mut self,
        book: &Book,
        member: MemberId,
        catalogue: &Catalogue,
        days: (Day, Day),
    ) -> Result<BTreeMap<Day, DayRecord>, BookError> {
        let mut records: BTreeMap<Day, DayRecord> = BTreeMap::new();
        let mut without_start = BTreeSet::new();
        for done in sessions(book, member, catalogue, &self.card, days)? {
            let day = done.session.day;
            let record = records.entry(day).or_default();
            add_session(record, &done);
            match (done.session.start_min, record.began_min) {
                (Some(at), None) => record.began_min = Some((at, at)),
                (Some(at), Some((first, last))) => record.began_min = Some((first.min(at), last.max(at))),
                (None, _) => {
                    without_start.insert(day);
                }
            }
            self.days_of.insert(done.place, day);
            self.days_of.extend(done.sets.iter().filter_map(|set| Some((set.held.id()?, day))));
            self.days_of.extend(done.takes.iter().map(|take| (take.place, day)));
            self.offer_last(LastSession {
                place: done.place,
                day,
                start_min: done.session.start_min,
                purpose: done.session.purpose,
            });
        }
        for day in without_start {
            if let Some(record) = records.get_mut(&day) {
                record.began_min = None;
            }
        }
        for kind in [kind::OTHER_TRAINING, kind::REST] {
            let filter =
                Filter { member: Some(member), kind: Some(kind), days: Some(days), ..Filter::default() };
            for held in book.held(&filter)? {
                let Some(day) = held.fact().and_then(Fact::day) else { continue };
                let record = records.entry(day).or_default();
                self.days_of.extend(held.id().map(|place| (place, day)));
                match held.fact() {
                    Some(Fact::OtherTraining(other)) => add_effort(record, other.effort),
                    _ => record.rest = true,
                }
            }
        }
        Ok(records)
    }

    fn offer_last(&mut self, session: LastSession) {
        let order = |last: &LastSession| (last.day, last.start_min);
        if self.last.as_ref().is_none_or(|last| order(last) <= order(&session)) {
            self.last = Some(session);
        }
    }

    /// Looks the newest session up: near the end first, for there it mostly is.
    fn find_last(&mut self, book: &Book, member: MemberId) -> Result<(), BookError> {
        let newest = self.course.days(self.first, Day::LAST).rev().find(|(_, record)| record.sessions > 0);
        let from = newest.map_or(Day::FIRST, |(day, _)| day);
        for from in [from, Day::FIRST] {
            let filter = Filter {
                member: Some(member),
                kind: Some(kind::SESSION),
                days: Some((from, Day::LAST)),
                ..Filter::default()
            };
            for held in book.held(&filter)? {
                if let (Some(place), Some(Fact::Session(session))) = (held.id(), held.fact()) {
                    let facts::Session { day, start_min, purpose, .. } = session.clone();
                    self.offer_last(LastSession { place, day, start_min, purpose });
                }
            }
            if self.last.is_some() {
                break;
            }
        }
        Ok(())
    }
}

fn add_session(record: &mut DayRecord, done: &DoneSession) {
    add_effort(record, done.effort);
    for set in &done.sets {
        let added = set
            .performed()
            .is_some_and(|performed| record.add_set(set.set.exercise, &performed, set.set.warm_up).is_ok());
        record.not_computed += u32::from(!added);
    }
}

/// A session, or other training, with its load where it was rated.
fn add_effort(record: &mut DayRecord, effort: Option<facts::Effort>) {
    record.sessions += 1;
    match effort.and_then(|effort| session_rpe(effort.rpe_tenths, effort.minutes).ok()) {
        Some(load) => record.load += u64::from(load),
        None => record.unrated += 1,
    }
}

/// Up to which day a member's log is complete.
fn complete(book: &Book, member: MemberId) -> Result<Option<Day>, BookError> {
    let filter = Filter { member: Some(member), kind: Some(kind::COMPLETE), ..Filter::default() };
    Ok(book.held(&filter)?.iter().filter_map(|held| held.fact().and_then(Fact::day)).max())
}

/// Whether a session stands before a day: looked for close by first, for a
/// member of many years has it there.
fn began_before(book: &Book, member: MemberId, day: Day) -> Result<bool, BookError> {
    let any = |first, last| {
        let filter = Filter {
            member: Some(member),
            kind: Some(kind::SESSION),
            days: Some((first, last)),
            ..Filter::default()
        };
        Ok::<_, BookError>(!book.held(&filter)?.is_empty())
    };
    Ok(any(day.plus(-28), day.plus(-1))? || any(Day::FIRST, day.plus(-29))?)
}

/// The rules that hold for a member: the squad's, and the athlete's own. While two people
/// disagree on one, both stand here.
pub(crate) fn rules(book: &Book, member: MemberId) -> Result<Rules, BookError> {
    let of = |filter: Filter<'_>| {
        let held = book.held(&Filter { kind: Some(kind::RULE), ..filter })?;
        let rules = held.iter().flat_map(|held| &held.values).filter_map(|live| match &live.fact {
            Ok(Fact::Rule(rule)) => Some(rule.clone()),
            _ => None,
        });
        Ok::<_, BookError>(rules.collect())
    };
    let squad = of(Filter { scope: Some(Scope::Squad), ..Filter::default() })?;
    Ok(Rules::new(squad, of(Filter { member: Some(member), ..Filter::default() })?))
}

/// The first day that must be read for a member's rules, from the weeks that are shown.
pub(crate) fn first_day(rules: &Rules, today: Day, weeks: i32) -> Day {
    let line = |name| rules.value(name, today).and_then(|line| i32::try_from(line).ok()).unwrap_or(0);
    // A day more, so that it is seen what stands before a gap of that many days.
    let back = (line(RuleName::FirstExposure) * 7).max(line(RuleName::Gap) + 1) + 7;
    today.monday().plus(-7 * (weeks - 1)).min(today.plus(-back))
}
