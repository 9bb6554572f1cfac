//! Planning: the plans of an athlete, the form of one, and how it is written down, changed
//! and withdrawn.

use pitside_book::store::{Book, BookError, Draft};
use pitside_model::facts::exercise::Exercise;
use pitside_model::facts::{
    Approach, Cue, Day, Fact, Hash, Leg, Limit, MemberId, Plan, PlanRow, Rest, Scope,
};
use pitside_model::load::guard::{self as guards, Grade, Offer, Status};
use uuid::Uuid;

use super::{HeldPlan, as_set, progress_of, row_text, said};
use crate::clock::OwnClock;
use crate::companion::{ScreenError, chosen, chosen_or_none, day, member_of, optional, refused};
use crate::correction::{replacing_seen, seen_of};
use crate::course::Courses;
use crate::env::Env;
use crate::figure::{full_day, near_day};
use crate::guard;
use crate::log_set::possible_legs;
use crate::record::{Choice, Link, PlanForm, PlanFormPage, PlanRow as ListRow, PlanRowForm, Plans, Said};
use crate::route::Route;
use crate::text::Words;
use crate::training::{self, Card, Catalogue, limits};
use crate::wording::{self, caution, exercises, is_young, members, name};

/// Days back of which plans are listed beside what was done of them.
const EARLIER_DAYS: i32 = 28;

/// The plans of an athlete.
pub(super) fn plans(words: &Words, env: &Env, book: &Book, member: MemberId) -> Result<Plans, BookError> {
    let revision = book.revision();
    let today = env.today();
    let catalogue = Catalogue::read(book)?;
    let who = name(words, &Card::read(book, member)?, member);
    let row = |plan: &HeldPlan| list_row(words, book, &catalogue, today, plan);
    let coming = HeldPlan::of_days(book, member, (today, Day::LAST))?;
    let earlier = HeldPlan::of_days(book, member, (today.plus(-EARLIER_DAYS), today.plus(-1)))?;
    let coming: Vec<ListRow> = coming.iter().map(row).collect::<Result<_, _>>()?;
    Ok(Plans {
        revision,
        member: member.to_string(),
        // A phone of one speaks of nobody else's.
        title: if book.own_members()? == [member] {
            words.word("plans-own")
        } else {
            words.say("plans-title", &[("name", (&who).into())])
        },
        about: words.word("plans-about"),
        none: if coming.is_empty() { words.word("plans-none") } else { String::new() },
        coming,
        earlier: earlier.iter().rev().map(row).collect::<Result<_, _>>()?,
        may_plan: may_plan(book, member)?,
        athlete: Link { text: who, route: Route::Athlete(member).to_string() },
    })
}

/// The first session that is planned after today, of each of some athletes: in one line, and
/// where it stands.
pub(crate) fn coming(
    words: &Words,
    env: &Env,
    book: &Book,
    members: &[MemberId],
) -> Result<Vec<Link>, BookError> {
    let mut coming = Vec::new();
    for member in members {
        let plans = HeldPlan::of_days(book, *member, (env.today().plus(1), Day::LAST))?;
        let Some(HeldPlan { plan, .. }) = plans.first() else { continue };
        let day = near_day(words, env, plan.day);
        let mut text =
            words.say("plan-coming", &[("day", (&day).into()), ("purpose", (&plan.purpose).into())]);
        if members.len() > 1 {
            text = format!("{} · {text}", name(words, &Card::read(book, *member)?, *member));
        }
        coming.push((plan.day, Link { text, route: Route::Plans(*member).to_string() }));
    }
    coming.sort_by_key(|(day, _)| *day);
    Ok(coming.into_iter().map(|(_, link)| link).collect())
}

fn list_row(
    words: &Words,
    book: &Book,
    catalogue: &Catalogue,
    today: Day,
    held: &HeldPlan,
) -> Result<ListRow, BookError> {
    let plan = &held.plan;
    let row = |row: &PlanRow| {
        let text = row_text(words, catalogue, row);
        row.say.as_ref().map_or(text.clone(), |say| format!("{text} · {say}"))
    };
    let rows: Vec<String> = plan.rows.iter().map(row).collect();
    let progress = if plan.day > today { String::new() } else { progress_of(words, plan, &held.done(book)?) };
    let day = full_day(words, plan.day);
    let clash = if held.held.is_clash() { words.word("plan-clash") } else { String::new() };
    let spoken: Vec<&str> = [&day, &plan.purpose, &progress, &clash]
        .into_iter()
        .map(String::as_str)
        .chain(rows.iter().map(String::as_str))
        .filter(|s| !s.is_empty())
        .collect();
    Ok(ListRow {
        id: held.id.to_string(),
        seen: seen_of(&held.held),
        date: plan.day.to_string(),
        spoken: spoken.join(". "),
        day,
        purpose: plan.purpose.clone(),
        rows,
        note: plan.note.clone().unwrap_or_default(),
        progress,
        clash,
        route: Route::Plan(held.id).to_string(),
    })
}

/// Whether this device may plan for a member: the member's own, the coach's, and that of an
/// assistant who is given the member.
fn may_plan(book: &Book, member: MemberId) -> Result<bool, BookError> {
    let standing = book.authority()?.standing(book.device());
    let grants = &standing.grants;
    let given = standing.is_admitted() && (grants.owner || grants.assists.covers(member));
    Ok(given || book.own_members()?.contains(&member))
}

/// The form of a plan: of one that is there, of a copy of it for another day, or of a new
/// one for a member, who may be left out.
pub(super) fn page(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    member: &str,
    plan: &str,
    copy: bool,
) -> Result<PlanFormPage, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    let held = if plan.is_empty() { None } else { Some(HeldPlan::find(book, plan)?) };
    let whose = match &held {
        Some(held) => Some(held.member),
        None if member.is_empty() => None,
        None => Some(member_of(book, member)?),
    };
    let changed = held.as_ref().filter(|_| !copy);
    let form = match &held {
        Some(held) => filled(held, env, copy),
        None => PlanForm {
            members: whose.iter().map(MemberId::to_string).collect(),
            day: env.today().to_string(),
            ..PlanForm::default()
        },
    };
    let on = changed.map_or_else(|| env.today(), |held| held.plan.day);
    let mut against = Vec::new();
    let mut cautions = Vec::new();
    if let (Some(held), Some(member)) = (&held, whose) {
        let status = status(env, book, courses, &catalogue, member, on, &held.plan.rows)?;
        for (row, found) in judge(words, &catalogue, status, &held.plan.rows) {
            against.extend(found.into_iter().map(|said| of_row(words, &catalogue, row, said)));
        }
        cautions.extend(held.plan.rows.iter().filter_map(|row| caution(words, catalogue.get(row.exercise)?)));
        if is_young(&Card::read(book, member)?, env.today()) {
            cautions.push(words.word("caution-young"));
        }
    }
    cautions.push(words.word("plan-caution"));
    cautions.dedup();
    let mut all = members(words, book)?;
    for choice in &mut all {
        choice.chosen = form.members.contains(&choice.id);
    }
    let title = match (changed, whose) {
        (Some(_), Some(member)) => {
            let who = name(words, &Card::read(book, member)?, member);
            words.say("plan-change-title", &[("name", (&who).into())])
        }
        _ => words.word("plan-new-title"),
    };
    let clash = changed.filter(|held| held.held.is_clash()).map_or_else(Vec::new, |held| {
        let values = held.held.values.iter().filter_map(|live| live.fact.as_ref().ok());
        values
            .map(|fact| {
                if let Fact::Plan(plan) = fact {
                    said(words, &catalogue, plan)
                } else {
                    words.word("deleted")
                }
            })
            .collect()
    });
    Ok(PlanFormPage {
        title,
        about: words.word("plan-about"),
        members: all,
        exercises: exercises(words, &catalogue),
        legs: Leg::ALL.iter().map(|leg| choice(words, leg.word(), "leg")).collect(),
        cues: Cue::ALL.iter().map(|cue| choice(words, cue.word(), "cue")).collect(),
        against,
        clash,
        may_plan: whose.map_or(Ok(true), |member| may_plan(book, member))?,
        back: whose.map_or_else(String::new, |member| Route::Plans(member).to_string()),
        cautions,
        form,
    })
}

fn choice(words: &Words, id: &str, of: &str) -> Choice {
    let text = words.word(&format!("{of}-{id}"));
    Choice { id: id.to_owned(), text, group: String::new(), chosen: false }
}

/// A finding with the exercise of its row before it.
fn of_row(words: &Words, catalogue: &Catalogue, row: &PlanRow, said: Said) -> Said {
    let exercise = wording::exercise_name(words, catalogue, Some(row.exercise));
    Said { saw: format!("{exercise}: {}", said.saw), spoken: format!("{exercise}: {}", said.spoken), ..said }
}

/// A plan as its form has it; a copy is a new one, of today on.
fn filled(held: &HeldPlan, env: &Env, copy: bool) -> PlanForm {
    let plan = &held.plan;
    let (id, seen, day) = if copy {
        (String::new(), String::new(), plan.day.max(env.today()))
    } else {
        (held.id.to_string(), seen_of(&held.held), plan.day)
    };
    let row = |row: &PlanRow| {
        let (strides, run_mm) = match row.approach {
            None => (None, None),
            Some(Approach::Strides(n)) => (Some(n), None),
            Some(Approach::Millimetres(mm)) => (None, Some(mm)),
        };
        let (rest_s, rest_times) = match row.rest {
            None => (None, None),
            Some(Rest::Seconds(s)) => (Some(s), None),
            Some(Rest::Times(n)) => (None, Some(n)),
        };
        PlanRowForm {
            number: if copy { 0 } else { row.number },
            exercise: row.exercise.to_string(),
            sets: row.sets,
            reps: row.reps,
            leg: row.leg.word().to_owned(),
            swap: row.swap,
            box_mm: row.box_mm,
            strides,
            run_mm,
            load_g: row.load_g,
            cue: row.cue.map_or("", Cue::word).to_owned(),
            say: row.say.clone().unwrap_or_default(),
            rest_s,
            rest_times,
            warm_up: row.warm_up,
        }
    };
    PlanForm {
        id,
        seen,
        members: vec![held.member.to_string()],
        day: day.to_string(),
        purpose: plan.purpose.clone(),
        note: plan.note.clone().unwrap_or_default(),
        rows: plan.rows.iter().map(row).collect(),
    }
}

/// Writes a form down: as a new plan of each of its members, or in the place of the values
/// that its author saw. Gives the ids.
///
/// What came to the book in between is not replaced: it stands beside, as a clash, until a
/// person settles it.
pub(super) fn save(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    form: &PlanForm,
) -> Result<Vec<String>, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    let today = env.today();
    let on = day(env, &form.day)?;
    let changed = if form.id.is_empty() { None } else { Some(HeldPlan::find(book, &form.id)?) };
    let moved = changed.as_ref().is_none_or(|held| held.plan.day != on);
    if moved && on < today {
        return Err(refused("day", on.to_string(), &format!("a day from {today} on")));
    }
    let whose = match &changed {
        Some(held) => vec![held.member],
        None => form.members.iter().map(|id| member_of(book, id)).collect::<Result<Vec<_>, _>>()?,
    };
    if whose.is_empty() {
        return Err(refused("athletes", "nobody".to_owned(), "one athlete or more"));
    }
    let plan = read(&catalogue, form, on, used(book, changed.as_ref())?)?;
    for member in &whose {
        let status = status(env, book, courses, &catalogue, *member, on, &plan.rows)?;
        let refuses = if on == today { Grade::Stop } else { Grade::Bound };
        refuse(words, book, &catalogue, *member, status, &plan.rows, refuses)?;
    }
    let draft = match &changed {
        None => Draft::new(Fact::Plan(plan)),
        Some(held) => replacing_seen(&held.held, &form.seen, Fact::Plan(plan))?,
    };
    let drafts: Vec<(Scope, Draft)> =
        whose.iter().map(|member| (Scope::Member(*member), draft.clone())).collect();
    let written = book.write_all(&drafts, env.stamp())?;
    Ok(match changed {
        Some(held) => vec![held.id.to_string()],
        None => written.iter().map(Hash::to_string).collect(),
    })
}

/// The highest number that a row of a plan ever had, as far as is known: one that was taken
/// out is not given again, for sets may have been done for it.
fn used(book: &Book, changed: Option<&HeldPlan>) -> Result<u16, BookError> {
    let Some(held) = changed else { return Ok(0) };
    let stood = held.held.values.iter().filter_map(|live| match &live.fact {
        Ok(Fact::Plan(plan)) => plan.rows.iter().map(|row| row.number).max(),
        _ => None,
    });
    let done = held.done(book)?;
    let for_row = done.iter().filter_map(|(_, _, set)| set.planned.map(|planned| planned.row));
    Ok(stood.chain(for_row).max().unwrap_or(0))
}

/// The plan that a form says; new rows get numbers after the last that was used.
fn read(catalogue: &Catalogue, form: &PlanForm, on: Day, used: u16) -> Result<Plan, ScreenError> {
    let mut last = form.rows.iter().map(|row| row.number).max().unwrap_or(0).max(used);
    let mut rows = Vec::with_capacity(form.rows.len());
    for (at, row) in form.rows.iter().enumerate() {
        let number = if row.number == 0 {
            last = last.saturating_add(1);
            last
        } else {
            row.number
        };
        rows.push(read_row(catalogue, row, number).map_err(|e| in_row(at + 1, e))?);
    }
    if rows.is_empty() {
        return Err(refused("rows", "none".to_owned(), "one exercise or more"));
    }
    let purpose = optional(&form.purpose);
    let purpose =
        purpose.ok_or_else(|| refused("purpose", "left out".to_owned(), "what the session is for"))?;
    Ok(Plan { day: on, purpose, rows, note: optional(&form.note) })
}

/// Says in which row a field was refused.
fn in_row(at: usize, error: ScreenError) -> ScreenError {
    match error {
        ScreenError::Refused { field, value, range } => {
            ScreenError::Refused { field: format!("row {at}: {field}"), value, range }
        }
        ScreenError::NotFound { what } => ScreenError::NotFound { what: format!("{what} (row {at})") },
        other => other,
    }
}

fn read_row(catalogue: &Catalogue, form: &PlanRowForm, number: u16) -> Result<PlanRow, ScreenError> {
    let missing = || ScreenError::NotFound { what: "exercise".to_owned() };
    let id = Uuid::try_parse(&form.exercise).map_err(|_| missing())?;
    let exercise = catalogue.get(id).ok_or_else(missing)?;
    let leg = match possible_legs(exercise).first() {
        Some(usual) if form.leg.is_empty() => *usual,
        _ => chosen("leg", &form.leg)?,
    };
    let approach = match (form.strides, form.run_mm) {
        (None, None) => None,
        (Some(n), None) => Some(Approach::Strides(n)),
        (None, Some(mm)) => Some(Approach::Millimetres(mm)),
        (Some(_), Some(mm)) => {
            return Err(refused("run-in", format!("{mm} mm"), "in strides or in metres, not both"));
        }
    };
    let rest = match (form.rest_s, form.rest_times) {
        (None, None) => None,
        (Some(s), None) => Some(Rest::Seconds(s)),
        (None, Some(n)) => Some(Rest::Times(n)),
        (Some(_), Some(n)) => {
            return Err(refused("rest", format!("{n} times"), "in seconds or by the work, not both"));
        }
    };
    if !(1..=30).contains(&form.sets) {
        return Err(refused("sets", form.sets.to_string(), "a whole number from 1 to 30"));
    }
    let row = PlanRow {
        number,
        exercise: id,
        sets: form.sets,
        reps: form.reps,
        leg,
        // Both legs at once have nothing to change.
        swap: form.swap && leg != Leg::Both,
        box_mm: form.box_mm,
        approach,
        load_g: form.load_g,
        cue: chosen_or_none("cue", &form.cue)?,
        say: optional(&form.say),
        rest,
        warm_up: form.warm_up,
    };
    training::check(&as_set(&row, Hash([0; 32]), None), exercise)
        .map_err(|e| refused(e.field, e.value, &e.range))?;
    Ok(row)
}

/// What is known of a member before a plan of a day: of limits those that hold then, each
/// while the clock is in doubt.
fn status(
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    catalogue: &Catalogue,
    member: MemberId,
    on: Day,
    rows: &[PlanRow],
) -> Result<Status, BookError> {
    let own = OwnClock::read(env, book)?;
    let planned = rows.iter().filter_map(|row| catalogue.get(row.exercise));
    let mut status = guard::status(book, courses, own, catalogue, member, on, planned)?;
    if on != env.today() {
        let holds = |limit: &Limit| own.in_doubt() || limit.holds_on(on);
        status.limits = limits(book, member, own)?.into_iter().filter(holds).collect();
    }
    Ok(status)
}

/// All sets of a row as one, for their contacts add up.
fn offer<'a>(row: &PlanRow, exercise: &'a Exercise) -> Offer<'a> {
    let one = Offer::of(&as_set(row, Hash([0; 32]), None), exercise);
    Offer { reps: row.reps.saturating_mul(row.sets), ..one }
}

/// What speaks against each row, those before it done.
fn judge<'a>(
    words: &Words,
    catalogue: &Catalogue,
    mut status: Status,
    rows: &'a [PlanRow],
) -> Vec<(&'a PlanRow, Vec<Said>)> {
    let mut judged = Vec::new();
    for row in rows {
        let Some(exercise) = catalogue.get(row.exercise) else { continue };
        let offer = offer(row, exercise);
        judged.push((row, guard::against(words, &status, &offer)));
        if !row.warm_up {
            status.contacts_today = status.contacts_today.saturating_add(offer.plyometric_contacts());
        }
    }
    judged
}

/// Refuses a plan with a row that is not to be offered: what a limit rules out on its day,
/// and, for today, what is to be seen first. What else speaks against it stands on the form
/// and on the athlete's screen on the day.
fn refuse(
    words: &Words,
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    status: Status,
    rows: &[PlanRow],
    from: Grade,
) -> Result<(), ScreenError> {
    for row in rows {
        let Some(exercise) = catalogue.get(row.exercise) else { continue };
        let offer = offer(row, exercise);
        let grave = guards::against(&status, &offer).into_iter().any(|said| said.grade >= from);
        if let Some(first) = guard::against(words, &status, &offer).into_iter().find(|_| grave) {
            let who = name(words, &Card::read(book, member)?, member);
            let said = of_row(words, catalogue, row, first);
            let reason = format!("{who}: {} {} {}", said.saw, said.rule, said.may_do);
            return Err(ScreenError::NotAllowed { reason });
        }
    }
    Ok(())
}

/// Withdraws a plan as its author saw it: it is no longer to be done. What was done for it
/// stays, and so does a change that came in between, as a clash.
pub(super) fn withdraw(book: &Book, env: &Env, plan: &str, seen: &str) -> Result<MemberId, ScreenError> {
    let held = HeldPlan::find(book, plan)?;
    let draft = replacing_seen(&held.held, seen, Fact::Deleted)?;
    book.write(held.held.key.scope, &draft, env.stamp())?;
    Ok(held.member)
}
