//! The session to do: what was planned for a day, how much of it is done, and what is
//! between two of its sets.

mod between;
mod calls;
mod day;
mod done;
mod form;
pub(crate) mod record;

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_model::facts::{Day, Fact, Hash, MemberId, Plan, PlanRow, Planned, Scope, Set, Subject, kind};

pub(crate) use between::between;
pub(crate) use day::today;
pub(crate) use form::coming;

use crate::companion::ScreenError;
use crate::env::Env;
use crate::figure::full_day;
use crate::text::Words;
use crate::training::Catalogue;
use crate::wording;

/// A session that was begun before midnight goes on after it, as long as its last set is no
/// older, ms.
const GOES_ON_MS: i64 = 3 * 60 * 60 * 1_000;

/// A plan as the book holds it.
struct HeldPlan {
    id: Hash,
    member: MemberId,
    plan: Plan,
    held: Held,
}

impl HeldPlan {
    /// Of what stands in a member's own scope; a plan anywhere else is nobody's.
    fn of(held: Held) -> Option<Self> {
        let (Scope::Member(member), Some(id)) = (held.key.scope, held.id()) else { return None };
        let Some(Fact::Plan(plan)) = held.fact() else { return None };
        Some(Self { id, member, plan: plan.clone(), held })
    }

    /// The plan of an id.
    fn find(book: &Book, id: &str) -> Result<Self, ScreenError> {
        let missing = || ScreenError::NotFound { what: "planned session".to_owned() };
        let subject = Hash::parse(id).map(Subject::Fact).ok_or_else(missing)?;
        let held =
            book.held(&Filter { kind: Some(kind::PLAN), subject: Some(subject), ..Filter::default() })?;
        held.into_iter().find_map(Self::of).ok_or_else(missing)
    }

    /// The plans of a member in a stretch of days, the earliest first.
    fn of_days(book: &Book, member: MemberId, days: (Day, Day)) -> Result<Vec<Self>, BookError> {
        let filter =
            Filter { member: Some(member), kind: Some(kind::PLAN), days: Some(days), ..Filter::default() };
        Ok(book.held(&filter)?.into_iter().filter_map(Self::of).collect())
    }

    /// The sets that were done for it on its day, the earliest first.
    fn done(&self, book: &Book) -> Result<Vec<(Hash, Held, Set)>, BookError> {
        let own = Filter { member: Some(self.member), ..Filter::default() };
        let day = Some((self.plan.day, self.plan.day));
        let mut held = Vec::new();
        for session in book.held(&Filter { kind: Some(kind::SESSION), days: day, ..own })? {
            let (Some(place), Some(Fact::Session(_))) = (session.id(), session.fact()) else { continue };
            held.extend(book.held(&Filter { kind: Some(kind::SET), session: Some(place), ..own })?);
        }
        let for_this = |held: Held| {
            let (Some(id), Some(Fact::Set(set))) = (held.id(), held.fact().cloned()) else { return None };
            let planned = set.planned.is_some_and(|planned| planned.plan == self.id);
            planned.then_some((id, held, set))
        };
        Ok(book.in_order(held)?.into_iter().filter_map(for_this).collect())
    }

    /// Whether it is to be done now: it is today's, or yesterday's and still going on.
    fn is_on(&self, env: &Env, book: &Book) -> Result<bool, BookError> {
        let today = env.today();
        if self.plan.day != today.plus(-1) {
            return Ok(self.plan.day == today);
        }
        let last = self.done(book)?.pop().map(|(_, held, _)| book.written(&[held])).transpose()?;
        let age = |stamp: Stamp| env.now_ms.saturating_sub(stamp.ms);
        Ok(last.iter().flatten().any(|written| (0..GOES_ON_MS).contains(&age(written.stamp))))
    }
}

/// How many of the sets were done for a row.
fn count<'a>(done: impl IntoIterator<Item = &'a Set>, row: u16) -> u16 {
    let of_row = |set: &&Set| set.planned.is_some_and(|planned| planned.row == row);
    u16::try_from(done.into_iter().filter(of_row).count()).unwrap_or(u16::MAX)
}

/// A row as one of its sets, in a session and for a plan.
fn as_set(row: &PlanRow, session: Hash, planned: Option<Planned>) -> Set {
    Set {
        session,
        exercise: row.exercise,
        reps: row.reps,
        contacts_per_rep: None,
        leg: row.leg,
        box_mm: row.box_mm,
        approach: row.approach,
        load_g: row.load_g,
        last_10_m_ms: None,
        cue: row.cue,
        warm_up: row.warm_up,
        planned,
    }
}

/// One set of a row in words.
fn set_text(words: &Words, catalogue: &Catalogue, row: &PlanRow) -> String {
    wording::set(words, catalogue, &as_set(row, Hash([0; 32]), None))
}

/// A row in words: how many sets of what.
fn row_text(words: &Words, catalogue: &Catalogue, row: &PlanRow) -> String {
    let set = set_text(words, catalogue, row);
    let sets = match row.sets {
        1 => set,
        n => words.say("sets-alike", &[("n", u64::from(n).into()), ("set", (&set).into())]),
    };
    if row.swap { words.say("plan-swaps", &[("sets", (&sets).into())]) } else { sets }
}

/// How much was done, in words.
fn progress(words: &Words, done: u16, sets: u16) -> String {
    words.say("plan-progress", &[("done", u64::from(done).into()), ("sets", u64::from(sets).into())])
}

/// How much of a whole plan was done: what was done beyond a row's sets does not stand for
/// another row's.
fn progress_of(words: &Words, plan: &Plan, done: &[(Hash, Held, Set)]) -> String {
    let of_row = |row: &PlanRow| count(done.iter().map(|(_, _, set)| set), row.number).min(row.sets);
    progress(words, plan.rows.iter().map(of_row).sum(), plan.rows.iter().map(|row| row.sets).sum())
}

/// A plan in one sentence, for a clash about it.
pub(crate) fn said(words: &Words, catalogue: &Catalogue, plan: &Plan) -> String {
    let rows: Vec<String> = plan.rows.iter().map(|row| row_text(words, catalogue, row)).collect();
    let said = format!("{}, {}: {}", full_day(words, plan.day), plan.purpose, rows.join("; "));
    plan.note.as_ref().map_or(said.clone(), |note| format!("{said}; {note}"))
}
