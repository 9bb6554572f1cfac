//! What is done of a plan: one touch writes a set, and holding takes it back.

use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::facts::{
    self, Approach, Fact, Hash, MemberId, Plan, PlanRow, Planned, Scope, Set, Subject, field_name, kind,
};

use super::between::{self, State};
use super::day::{last_of, next_set, seconds};
use super::{HeldPlan, as_set, count};
use crate::companion::{ScreenError, refused, set_of};
use crate::env::Env;
use crate::log_today::empty_session;
use crate::record::SetForm;
use crate::training::{self, Card, Catalogue};

/// Writes a set of a row: as the plan has it, or as the form says. It stands in the session
/// of the plan, which is begun with its purpose where there is none. Then the screen is
/// locked and the rest begins. Gives the session.
pub(super) fn done(
    book: &Book,
    env: &Env,
    plan: &str,
    row: u16,
    form: Option<&SetForm>,
) -> Result<Hash, ScreenError> {
    let held = HeldPlan::find(book, plan)?;
    let today = env.today();
    if !held.is_on(env, book)? {
        return Err(refused("day", held.plan.day.to_string(), &format!("a plan of {today}")));
    }
    let row =
        held.plan.row(row).ok_or_else(|| ScreenError::NotFound { what: "row of the plan".to_owned() })?;
    let catalogue = Catalogue::read(book)?;
    let so_far = held.done(book)?;
    let planned = Planned { plan: held.id, row: row.number };
    let next = next_set(&catalogue, row, last_of(&so_far, row.number).map(|(_, _, set)| set));
    let (set, times) = match form {
        Some(form) => (otherwise(book, &next, planned, form)?, form.sets),
        None => (as_planned(&catalogue, &next, planned)?, 1),
    };
    let (begun, named) = session(book, &held, &so_far)?;
    let scope = Scope::Member(held.member);
    let place = book.together(env.stamp(), |all| {
        let place = match begun {
            Some(place) => place,
            None => all.write(scope, &Draft::new(Fact::Session(session_of(&held.plan))))?,
        };
        if let Some(named) = &named {
            all.write(scope, named)?;
        }
        for _ in 0..times {
            all.write(scope, &Draft::new(Fact::Set(Set { session: place, ..set.clone() })))?;
        }
        Ok(place)
    })?;
    let card = Card::read(book, held.member)?;
    let rest = seconds(&card, catalogue.get(next.exercise), &next);
    let left = held.plan.rows.iter().any(|other| {
        let more = if other.number == row.number { times } else { 0 };
        count(so_far.iter().map(|(_, _, set)| set), other.number).saturating_add(more) < other.sets
    });
    let state = State {
        locked: true,
        since_ms: env.now_ms,
        until_ms: rest.map_or(0, |s| env.now_ms.saturating_add(i64::from(s) * 1_000)),
        after: Some((held.id, row.number)),
    };
    between::keep(book, left.then_some(&state))?;
    Ok(place)
}

/// As the plan has it.
fn as_planned(catalogue: &Catalogue, row: &PlanRow, planned: Planned) -> Result<Set, ScreenError> {
    let exercise = catalogue
        .get(row.exercise)
        .ok_or_else(|| ScreenError::NotFound { what: "exercise of the plan".to_owned() })?;
    let set = as_set(row, Hash([0; 32]), Some(planned));
    training::check(&set, exercise).map_err(|e| refused(e.field, e.value, &e.range))?;
    Ok(set)
}

/// As the form says. A run-in in metres, which no form has, stays as it was planned.
fn otherwise(book: &Book, row: &PlanRow, planned: Planned, form: &SetForm) -> Result<Set, ScreenError> {
    let set = set_of(book, Hash([0; 32]), form)?;
    let in_metres = row.approach.filter(|approach| matches!(approach, Approach::Millimetres(_)));
    let approach = set.approach.or(in_metres.filter(|_| set.exercise == row.exercise));
    Ok(Set { approach, planned: Some(planned), ..set })
}

fn session_of(plan: &Plan) -> facts::Session {
    facts::Session { purpose: Some(plan.purpose.clone()), ..empty_session(plan.day) }
}

/// The session of today that a plan's sets go into: the one that has some, else the newest
/// that has the plan's purpose or none yet, which then gets it.
fn session(
    book: &Book,
    plan: &HeldPlan,
    so_far: &[(Hash, Held, Set)],
) -> Result<(Option<Hash>, Option<Draft>), BookError> {
    if let Some((_, _, set)) = so_far.last() {
        return Ok((Some(set.session), None));
    }
    let sessions = book.held(&Filter {
        scope: Some(Scope::Member(plan.member)),
        kind: Some(kind::SESSION),
        field: Some(field_name::WHOLE),
        days: Some((plan.plan.day, plan.plan.day)),
        ..Filter::default()
    })?;
    let sessions = book.in_order(sessions)?;
    let newest = sessions.iter().rfind(|held| held.fact().is_some());
    Ok(match newest.map(|held| (held, held.fact())) {
        Some((held, Some(Fact::Session(session)))) => match &session.purpose {
            Some(purpose) if *purpose == plan.plan.purpose => (held.id(), None),
            Some(_) => (None, None),
            // Which of two people's values holds is for a person to say.
            None if held.is_clash() => (held.id(), None),
            None => {
                let purpose = Some(plan.plan.purpose.clone());
                let fact = Fact::Session(facts::Session { purpose, ..session.clone() });
                (held.id(), Some(Draft::replacing(held, fact)))
            }
        },
        _ => (None, None),
    })
}

/// Takes a set back that was done for a row; with the last one goes a session that this
/// device began for the plan and of which nothing else was written down. The rest and the
/// lock end.
pub(super) fn take_back(book: &Book, env: &Env, member: MemberId, id: Hash) -> Result<(), ScreenError> {
    let missing = || ScreenError::NotFound { what: "set that was done for a plan".to_owned() };
    let own = Filter { member: Some(member), ..Filter::default() };
    let of = |kind: &str, id: Hash| {
        let subject = Some(Subject::Fact(id));
        book.held(&Filter { kind: Some(kind), subject, ..own })
    };
    let held = of(kind::SET, id)?.into_iter().next().ok_or_else(missing)?;
    let Some(Fact::Set(set)) = held.fact() else { return Err(missing()) };
    let planned = set.planned.ok_or_else(missing)?;
    let mut drafts = vec![(held.key.scope, Draft::replacing(&held, Fact::Deleted))];
    let others = book.held(&Filter { session: Some(set.session), ..own })?;
    let alone = !others.iter().any(|other| other.id() != Some(id) && other.fact().is_some());
    let begun = HeldPlan::find(book, &planned.plan.to_string()).ok().map(|held| session_of(&held.plan));
    // How hard it was is a value beside the session itself: whoever said it trained.
    if let [session] = of(kind::SESSION, set.session)?.as_slice()
        && alone
        && session.key.field == field_name::WHOLE
        && !session.is_clash()
        && session.value().extra.is_empty()
        && matches!(session.fact(), Some(Fact::Session(said)) if Some(said) == begun.as_ref())
        && wrote(book, session)?
    {
        drafts.push((session.key.scope, Draft::replacing(session, Fact::Deleted)));
    }
    book.write_all(&drafts, env.stamp())?;
    between::keep(book, None)?;
    Ok(())
}

/// Whether this device alone wrote what a fact says, from the first entry on.
fn wrote(book: &Book, held: &Held) -> Result<bool, BookError> {
    let first = book.written(core::slice::from_ref(held))?;
    let mut writers = first.iter().map(|first| first.device).chain([held.value().device]);
    Ok(writers.all(|device| device == book.device()))
}
