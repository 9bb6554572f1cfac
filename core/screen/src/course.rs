//! Athletes' courses, read from the book once and then kept up: what was added since
//! changes the days it is about, and nothing else is computed again.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use pitside_book::store::{Book, BookError, Filter, Held, Mark};
use pitside_log::entry::Key;
use pitside_model::facts::{self, Day, Fact, Hash, MemberId, Rule, RuleName, Scope, Subject, kind};
use pitside_model::load::course::{Course, DayRecord, Week as Summed};
use pitside_model::load::rule::Rules;

use crate::jumps::as_training;
use crate::training::{Card, Catalogue, add_effort, sessions};

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

/// The courses of a book as it stands at one moment: how far it is held is read once for
/// all athletes of a screen.
pub(crate) struct Look<'a> {
    courses: &'a mut Courses,
    book: &'a Book,
    marks: BTreeMap<Scope, Mark>,
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
    /// The last session of each day.
    sessions: BTreeMap<Day, LastSession>,
}

/// A session, to be named and reached.
#[derive(Clone)]
pub(crate) struct LastSession {
    pub(crate) place: Hash,
    pub(crate) day: Day,
    start_min: Option<u16>,
    /// What it was for.
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
    /// The newest session of those that were read.
    pub(crate) fn last(&self) -> Option<&LastSession> {
        self.sessions.last_key_value().map(|(_, session)| session)
    }

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
    /// Sees how far the book is held now.
    pub(crate) fn look<'a>(&'a mut self, book: &'a Book) -> Result<Look<'a>, BookError> {
        let marks = book.marks()?;
        let squad = marks.get(&Scope::Squad).cloned().unwrap_or_default();
        if self.squad.as_ref() != Some(&squad) {
            // An exercise may have changed, or who counts.
            self.kept.clear();
            self.squad = Some(squad);
        }
        Ok(Look { courses: self, book, marks })
    }
}

impl Look<'_> {
    /// The course of a member with all days from `first` on, kept up to what the book held
    /// at the look; what came since, the next look finds.
    pub(crate) fn of(
        &mut self,
        member: MemberId,
        catalogue: &Catalogue,
        first: Day,
    ) -> Result<&Kept, BookError> {
        let book = self.book;
        let own: BTreeMap<Scope, Mark> = book
            .ids(member)?
            .into_iter()
            .map(Scope::Member)
            .filter_map(|scope| Some((scope, self.marks.get(&scope)?.clone())))
            .collect();
        let kept = &mut self.courses.kept;
        let current = match kept.remove(&member) {
            Some(known) if known.first <= first => known.brought_up_to(book, member, catalogue, own)?,
            _ => Kept::read(book, member, catalogue, first.plus(-AHEAD), own)?,
        };
        Ok(kept.entry(member).or_insert(current))
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
        let (days_of, sessions) = (BTreeMap::new(), BTreeMap::new());
        let mut kept = Self { marks, first, days_of, card, course: Course::default(), sessions };
        for (day, record) in kept.records(book, member, catalogue, (first, Day::LAST))? {
            kept.course.put(day, Some(record));
        }
        kept.course.set_complete(complete(book, member)?);
        kept.course.set_earlier(began_before(book, member, first)?);
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
        for day in days {
            if day < self.first {
                continue;
            }
            self.sessions.remove(&day);
            let record = self.records(book, member, catalogue, (day, day))?.remove(&day);
            self.course.put(day, record);
        }
        self.course.set_complete(complete(book, member)?);
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
                    kind::PLAN
                    | kind::COMPLETE
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
        // How hard a session was is a fact about it without a day of its own.
        let day = |held: &[Held]| held.iter().filter_map(Held::fact).find_map(Fact::day);
        let held = of(&key.kind, place)?;
        Ok(match held.iter().filter_map(Held::fact).find_map(Fact::session) {
            None => day(&held),
            Some(session) => match self.days_of.get(&session) {
                Some(day) => Some(*day),
                None => day(&of(kind::SESSION, session)?),
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
        for done in sessions(book, member, catalogue, &self.card, days)? {
            let day = done.session.day;
            records.entry(day).or_default().add(&done.record);
            self.days_of.insert(done.place, day);
            self.days_of.extend(done.sets.iter().filter_map(|set| Some((set.held.id()?, day))));
            self.days_of.extend(done.takes.iter().map(|take| (take.place, day)));
            let (place, facts::Session { start_min, purpose, .. }) = (done.place, done.session);
            let session = LastSession { place, day, start_min, purpose };
            let later = |known: &LastSession| (known.start_min, known.place) < (start_min, place);
            if self.sessions.get(&day).is_none_or(later) {
                self.sessions.insert(day, session);
            }
        }
        for (day, jumped) in as_training(book, catalogue, &self.card, member, days)? {
            let record = records.entry(day).or_default();
            self.days_of.extend(jumped.facts.iter().map(|fact| (*fact, day)));
            if record.sessions == 0 {
                // A day of nothing but attempts was training, and nobody rated it.
                add_effort(record, None);
            }
            record.add(&jumped.record);
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

/// The rules that hold for a member, or for the squad: the squad's, and before them the
/// athlete's own. While two people disagree on one, both stand here.
pub(crate) fn rules(book: &Book, member: Option<MemberId>) -> Result<Rules, BookError> {
    let squad = squad_rules(book)?;
    match member {
        Some(member) => rules_of(book, &squad, member),
        None => Ok(Rules::new(squad, Vec::new())),
    }
}

/// The squad's own rules.
pub(crate) fn squad_rules(book: &Book) -> Result<Vec<Rule>, BookError> {
    written_rules(book, Filter { scope: Some(Scope::Squad), ..Filter::default() })
}

/// The rules that hold for a member, where the squad's are known.
pub(crate) fn rules_of(book: &Book, squad: &[Rule], member: MemberId) -> Result<Rules, BookError> {
    let own = written_rules(book, Filter { member: Some(member), ..Filter::default() })?;
    Ok(Rules::new(squad.to_vec(), own))
}

fn written_rules(book: &Book, filter: Filter<'_>) -> Result<Vec<Rule>, BookError> {
    let held = book.held(&Filter { kind: Some(kind::RULE), ..filter })?;
    let rules = held.iter().flat_map(|held| &held.values).filter_map(|live| match &live.fact {
        Ok(Fact::Rule(rule)) => Some(rule.clone()),
        _ => None,
    });
    Ok(rules.collect())
}

/// The first day that must be read for a member's rules, from the weeks that are shown.
pub(crate) fn first_day(rules: &Rules, today: Day, weeks: i32) -> Day {
    let line = |name| rules.value(name, today).and_then(|line| i32::try_from(line).ok()).unwrap_or(0);
    // A day more, so that it is seen what stands before a gap of that many days.
    let back = (line(RuleName::FirstExposure) * 7).max(line(RuleName::Gap) + 1) + 7;
    today.monday().plus(-7 * (weeks - 1)).min(today.plus(-back))
}

#[cfg(test)]
mod tests {
    use pitside_book::clock::Stamp;
    use pitside_book::keys::{Identity, Seed};
    use pitside_book::store::Draft;
    use pitside_model::facts::{
        Approach, Card as CardField, Complete, Conditions, Effort, Jump, JumpEvent, Leg, OtherTraining,
        Outcome, Phases, RestDay, Session, Set, Work,
    };
    use pitside_model::load::catalogue::id;
    use proptest::prelude::*;
    use tempfile::TempDir;
    use zeroize::Zeroizing;

    use super::*;

    const NOON: i64 = 1_795_608_000_000;

    fn today() -> Day {
        Stamp { ms: NOON, zone_min: 0 }.day()
    }

    /// A squad's book with a member.
    fn book(folder: &TempDir) -> (Book, MemberId) {
        let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new([1; 32])));
        let book = Book::create(folder.path(), identity, false).unwrap();
        book.found("Quay jumps", Stamp { ms: NOON, zone_min: 0 }).unwrap();
        let member = book.add_member("Ino", Stamp { ms: NOON, zone_min: 0 }).unwrap();
        (book, member)
    }

    fn session_on(day: Day) -> Fact {
        Fact::Session(Session {
            day,
            start_min: Some(1_020),
            purpose: None,
            location: None,
            surface: None,
            shoes: None,
            weather: None,
            cut_short: None,
            conditions: Conditions::default(),
        })
    }

    fn set_of(session: Hash, reps: u16) -> Fact {
        let (exercise, leg) = match reps % 3 {
            0 => (id::BOUNDS_STANDING, Leg::AlternateLeft),
            1 => (id::DROP_JUMP, Leg::Both),
            _ => (id::POGO, Leg::Both),
        };
        Fact::Set(Set {
            session,
            exercise,
            reps,
            contacts_per_rep: None,
            leg,
            box_mm: None,
            approach: None,
            load_g: None,
            last_10_m_ms: None,
            cue: None,
            warm_up: reps.is_multiple_of(5),
            planned: None,
        })
    }

    /// One thing that a person does to the book; `n` picks among what is there.
    fn change(book: &Book, member: MemberId, what: u8, n: u16, at: i64) {
        let (scope, now) = (Scope::Member(member), Stamp { ms: NOON + at, zone_min: 0 });
        let day = today().plus(-i32::from(n % 9));
        let all =
            |kind| book.held(&Filter { scope: Some(scope), kind: Some(kind), ..Filter::default() }).unwrap();
        let whole = |kind| all(kind).into_iter().filter(|h| h.key.field.is_empty()).collect::<Vec<_>>();
        let pick = |kind| {
            let held = whole(kind);
            (!held.is_empty()).then(|| held[usize::from(n) % held.len()].clone())
        };
        let write = |draft: Draft| {
            book.write(scope, &draft, now).unwrap();
        };
        let revise = |subject, fact| {
            book.revise(scope, subject, fact, now).unwrap();
        };
        match (what, pick(kind::SESSION), pick(kind::SET)) {
            (0, _, _) => write(Draft::new(session_on(day))),
            (1 | 2, Some(session), _) => write(Draft::new(set_of(session.id().unwrap(), 1 + n % 20))),
            (3, Some(session), Some(set)) => {
                write(Draft::replacing(&set, set_of(session.id().unwrap(), 1 + n % 17)));
            }
            (4, _, Some(set)) => write(Draft::replacing(&set, Fact::Deleted)),
            (5, Some(session), _) => write(Draft::replacing(&session, session_on(day))),
            (6, Some(session), _) if n.is_multiple_of(3) => write(Draft::replacing(&session, Fact::Deleted)),
            (7, Some(session), _) => {
                let effort = Fact::Effort(Effort { rpe_tenths: n % 100, minutes: 60 });
                revise(Subject::Fact(session.id().unwrap()), effort);
            }
            (8, _, _) => write(Draft::new(Fact::Rest(RestDay { day }))),
            (9, _, _) => write(Draft::new(Fact::Complete(Complete { up_to: day }))),
            (10, _, Some(set)) if n.is_multiple_of(3) => book.withdraw(&set, now).unwrap(),
            (11, _, _) => {
                let mass = Fact::Card(CardField::MassG(50_000 + u32::from(n % 500) * 100));
                revise(Subject::Uuid(member.0), mass);
            }
            (12, _, _) => {
                let effort = n.is_multiple_of(2).then_some(Effort { rpe_tenths: 40, minutes: 45 });
                let other = OtherTraining { day, start_min: None, work: Work::Strength, effort, note: None };
                write(Draft::new(Fact::OtherTraining(other)));
            }
            (13, _, _) => {
                let event = if n.is_multiple_of(4) { JumpEvent::Triple } else { JumpEvent::Long };
                let jump = Fact::Jump(jump(day, event, n));
                match pick(kind::JUMP) {
                    Some(held) if n.is_multiple_of(5) => write(Draft::replacing(&held, Fact::Deleted)),
                    Some(held) if n.is_multiple_of(3) => write(Draft::replacing(&held, jump)),
                    _ => write(Draft::new(jump)),
                }
            }
            // The same as one of the sets, which then counts it.
            (14, Some(session), _) => {
                let Fact::Set(set) = set_of(session.id().unwrap(), 1 + n % 4) else { unreachable!() };
                let exercise = id::LONG_JUMP_SHORT;
                write(Draft::new(Fact::Set(Set { exercise, leg: Leg::Left, ..set })));
            }
            _ => {}
        }
    }

    fn jump(day: Day, event: JumpEvent, n: u16) -> Jump {
        Jump {
            day,
            event,
            indoor: false,
            competition: n.is_multiple_of(2),
            place: None,
            attempt: Some(1 + n % 6),
            outcome: Outcome::Foul,
            toe_mm: None,
            wind: None,
            wind_rule: None,
            approach: Some(Approach::Strides(4 + n % 15)),
            start_mm: None,
            pit_mm: None,
            board: None,
            phases: Phases::default(),
            take: None,
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

        /// A course that is kept up change by change is the one that is read from nothing.
        #[test]
        fn what_is_kept_up_is_what_is_read_from_nothing(
            changes in prop::collection::vec((0_u8..15, any::<u16>()), 1..40),
        ) {
            let folder = TempDir::new().unwrap();
            let (book, member) = book(&folder);
            let catalogue = Catalogue::read(&book).unwrap();
            let first = today().plus(-4);
            let mut kept_up = Courses::default();
            for ((what, n), at) in changes.into_iter().zip(1..) {
                change(&book, member, what, n, at);
                let kept = kept_up.look(&book).unwrap().of(member, &catalogue, first).unwrap().clone();
                let mut anew = Courses::default();
                let anew = anew.look(&book).unwrap().of(member, &catalogue, first).unwrap().clone();
                prop_assert_eq!(&kept.course, &anew.course);
                let place = |kept: &Kept| kept.last().map(|last| (last.day, last.place));
                prop_assert_eq!(place(&kept), place(&anew));
            }
        }
    }

    /// Adding to one athlete leaves the others' courses as they stand.
    #[test]
    fn a_set_is_read_by_its_day_alone() {
        let folder = TempDir::new().unwrap();
        let (book, member) = book(&folder);
        for n in 0..30 {
            change(&book, member, 0, n, i64::from(n) + 1);
        }
        let catalogue = Catalogue::read(&book).unwrap();
        let mut courses = Courses::default();
        let before = courses.look(&book).unwrap().of(member, &catalogue, today()).unwrap().clone();
        change(&book, member, 1, 4, 100);
        let marks = book.marks().unwrap();
        let own = BTreeMap::from([(Scope::Member(member), marks[&Scope::Member(member)].clone())]);
        let days = before.changed(&book, &own).unwrap().unwrap();
        assert_eq!(days.len(), 1, "{days:?}");
    }
}
