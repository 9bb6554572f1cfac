//! The planned session of a day, on the phone's first screen: a card a row, with the next
//! set filled in.

use pitside_book::store::{Book, BookError, Held};
use pitside_model::facts::exercise::Exercise;
use pitside_model::facts::{Approach, Cue, Hash, Leg, MemberId, PlanRow, Rest, Set};
use pitside_model::load::guard::{Offer, Status};
use pitside_model::load::rest::rest_s;

use super::{HeldPlan, as_set, count, progress, progress_of, set_text};
use crate::clock::OwnClock;
use crate::course::Courses;
use crate::env::Env;
use crate::figure::height;
use crate::guard;
use crate::log_set::possible_legs;
use crate::naming;
use crate::record::{Choice, DoneRow, PlannedSession, PlannedSets, Said, SetForm};
use crate::text::Words;
use crate::training::{self, Card, Catalogue};
use crate::wording::{self, caution};

/// The sessions of today, and one of yesterday that is still going on. Of several athletes on
/// one phone each has sessions of their own, in the order of the
/// athletes.
pub(crate) fn today(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    catalogue: &Catalogue,
    own: OwnClock,
    members: &[MemberId],
) -> Result<Vec<PlannedSession>, BookError> {
    let day = env.today();
    let mut sessions = Vec::new();
    for member in members {
        let mut plans = Vec::new();
        for plan in HeldPlan::of_days(book, *member, (day.plus(-1), day))? {
            if plan.is_on(env, book)? {
                plans.push(plan);
            }
        }
        if plans.is_empty() {
            continue;
        }
        let card = Card::read(book, *member)?;
        for plan in &plans {
            let planned = plan.plan.rows.iter().filter_map(|row| catalogue.get(row.exercise));
            let status = guard::status(book, courses, own, catalogue, *member, day, planned)?;
            let who = if members.len() > 1 { wording::name(words, &card, *member) } else { String::new() };
            sessions.push(session(words, book, catalogue, &card, &status, plan, who)?);
        }
    }
    Ok(sessions)
}

fn session(
    words: &Words,
    book: &Book,
    catalogue: &Catalogue,
    card: &Card,
    status: &Status,
    plan: &HeldPlan,
    who: String,
) -> Result<PlannedSession, BookError> {
    let done = plan.done(book)?;
    let mut rows: Vec<PlannedSets> =
        plan.plan.rows.iter().map(|row| sets(words, catalogue, card, status, row, &done)).collect();
    if let Some(next) = rows.iter_mut().find(|row| row.done < row.sets) {
        next.next = true;
    }
    let against = of_all(&mut rows);
    Ok(PlannedSession {
        id: plan.id.to_string(),
        member: plan.member.to_string(),
        who,
        purpose: plan.plan.purpose.clone(),
        note: plan.plan.note.clone().unwrap_or_default(),
        clash: if plan.held.is_clash() { words.word("plan-clash") } else { String::new() },
        against,
        rows,
        progress: progress_of(words, &plan.plan, &done),
    })
}

/// Takes what speaks against every row that is still to do out of the rows: it is said once.
fn of_all(rows: &mut [PlannedSets]) -> Vec<Said> {
    let open = |row: &&mut PlannedSets| row.done < row.sets;
    let said: Vec<&Vec<Said>> =
        rows.iter().filter(|row| row.done < row.sets).map(|row| &row.against).collect();
    let [first, others @ ..] = said.as_slice() else { return Vec::new() };
    if others.is_empty() {
        return Vec::new();
    }
    let all: Vec<Said> =
        first.iter().filter(|one| others.iter().all(|row| row.contains(one))).cloned().collect();
    for row in rows.iter_mut().filter(open) {
        row.against.retain(|one| !all.contains(one));
    }
    all
}

/// The leg of the next set of a row: where left and right change places, after the last one
/// that was done.
fn next_leg(row: &PlanRow, exercise: Option<&Exercise>, last: Option<&Set>) -> Leg {
    let leg = match last {
        Some(last) if row.swap => last.leg.swapped(),
        _ => row.leg,
    };
    let Some(exercise) = exercise else { return leg };
    let possible = possible_legs(exercise);
    if possible.contains(&leg) { leg } else { possible.first().copied().unwrap_or(leg) }
}

/// A row as it is to be done next.
pub(super) fn next_set(catalogue: &Catalogue, row: &PlanRow, last: Option<&Set>) -> PlanRow {
    PlanRow { leg: next_leg(row, catalogue.get(row.exercise), last), ..row.clone() }
}

/// The last set that was done for a row.
pub(super) fn last_of(done: &[(Hash, Held, Set)], row: u16) -> Option<&(Hash, Held, Set)> {
    done.iter().rev().find(|(_, _, set)| set.planned.is_some_and(|planned| planned.row == row))
}

fn sets(
    words: &Words,
    catalogue: &Catalogue,
    card: &Card,
    status: &Status,
    row: &PlanRow,
    done: &[(Hash, Held, Set)],
) -> PlannedSets {
    let exercise = catalogue.get(row.exercise);
    let last = last_of(done, row.number);
    let next = next_set(catalogue, row, last.map(|(_, _, set)| set));
    let count = count(done.iter().map(|(_, _, set)| set), row.number);
    let open = count < row.sets;
    let against = match exercise {
        Some(exercise) if open => {
            let set = as_set(&next, Hash([0; 32]), None);
            guard::against(words, status, &Offer::of(&set, exercise))
        }
        _ => Vec::new(),
    };
    let offered = !against.iter().any(|said| said.refuses);
    // What is all done stands as it was planned.
    let text = set_text(words, catalogue, if open { &next } else { row });
    let progress = progress(words, count, row.sets);
    let cue = row.say.clone().unwrap_or_default();
    let rest_s = seconds(card, exercise, &next).unwrap_or(0);
    let spoken: Vec<&str> =
        [&text, &progress, &cue].into_iter().map(String::as_str).filter(|s| !s.is_empty()).collect();
    PlannedSets {
        number: row.number,
        spoken: spoken.join(". "),
        cue,
        about: exercise.map(|e| naming::about(words, row.exercise, e)).unwrap_or_default(),
        caution: exercise.filter(|_| open).and_then(|e| caution(words, e)).unwrap_or_default(),
        against,
        offered,
        bound: if offered { String::new() } else { words.word("log-set-bound") },
        done: count,
        sets: row.sets,
        progress,
        next: false,
        rest: row.rest.map_or_else(String::new, |rest| rest_text(words, rest, rest_s)),
        rest_s: rest_s.into(),
        form: form_of(&next),
        legs: exercise.map_or_else(Vec::new, |exercise| legs(words, exercise, next.leg)),
        asks_box: exercise.is_some_and(Exercise::has_box),
        r#box: form_of(&next).box_mm.map_or_else(String::new, |mm| height(words, mm)),
        asks_approach: exercise.is_some_and(|e| e.run_in().is_some()),
        last: last
            .map(|(id, _, set)| DoneRow { id: id.to_string(), text: wording::set(words, catalogue, set) }),
        text,
    }
}

fn legs(words: &Words, exercise: &Exercise, chosen: Leg) -> Vec<Choice> {
    let choice = |leg: Leg| Choice {
        id: leg.word().to_owned(),
        text: words.word(&format!("leg-{}", leg.word())),
        group: String::new(),
        chosen: leg == chosen,
    };
    possible_legs(exercise).into_iter().map(choice).collect()
}

/// One set of a row, filled in.
fn form_of(row: &PlanRow) -> SetForm {
    SetForm {
        exercise: row.exercise.to_string(),
        sets: 1,
        reps: row.reps,
        leg: row.leg.word().to_owned(),
        box_mm: row.box_mm,
        strides: match row.approach {
            Some(Approach::Strides(n)) => Some(n),
            _ => None,
        },
        load_g: row.load_g,
        last_10_m_ms: None,
        cue: row.cue.map_or("", Cue::word).to_owned(),
        warm_up: row.warm_up,
    }
}

/// How long to rest after a set of a row, s; nothing where no rest was planned.
pub(super) fn seconds(card: &Card, exercise: Option<&Exercise>, row: &PlanRow) -> Option<u16> {
    match row.rest? {
        Rest::Seconds(s) => Some(s),
        by_work @ Rest::Times(_) => {
            let set = as_set(row, Hash([0; 32]), None);
            Some(rest_s(by_work, &training::performed(exercise?, &set, &[], card.athlete())))
        }
    }
}

fn rest_text(words: &Words, rest: Rest, seconds: u16) -> String {
    let time = time(words, seconds);
    match rest {
        Rest::Seconds(_) => words.say("plan-rest", &[("time", (&time).into())]),
        Rest::Times(n) => {
            words.say("plan-rest-times", &[("n", u64::from(n).into()), ("time", (&time).into())])
        }
    }
}

/// `45 s`, `2 min`, `1:30 min`.
fn time(words: &Words, seconds: u16) -> String {
    let (minutes, rest) = (seconds / 60, seconds % 60);
    match (minutes, rest) {
        (0, s) => words.say("plan-seconds", &[("n", u64::from(s).into())]),
        (m, 0) => words.say("plan-minutes", &[("time", (&m.to_string()).into())]),
        (m, s) => words.say("plan-minutes", &[("time", (&format!("{m}:{s:02}")).into())]),
    }
}
