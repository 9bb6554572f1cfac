//! The form of a set: filled in from its draft, else from the last set.

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::exercise::{Exercise, Legs};
use pitside_model::facts::{Approach, Day, Fact, Leg, MemberId, Set, kind};
use pitside_model::load::catalogue::id;
use pitside_model::load::contact::repetition;
use pitside_model::load::guard::Offer;
use pitside_model::load::performed::{Performed, Side};
use uuid::Uuid;

use crate::athletes;
use crate::clock::OwnClock;
use crate::companion::{self, ScreenError};
use crate::course::Courses;
use crate::env::Env;
use crate::figure::{height, mass};
use crate::guard;
use crate::naming;
use crate::newest::newest_first;
use crate::record::{Choice, LogSet, Recent, SetForm};
use crate::repeat;
use crate::text::Words;
use crate::training::{Catalogue, limits};
use crate::wording::{caution, exercises, limit};

/// Where the draft is kept: on this device, at every change.
const DRAFT: &str = "draft/set";

/// Sessions back in which the last exercises are looked for.
const SESSIONS: usize = 12;

/// How many exercises are offered before the long list.
const RECENT: usize = 6;

pub(crate) fn log_set(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
) -> Result<LogSet, BookError> {
    let catalogue = Catalogue::read(book)?;
    let athletes = athletes::own(words, book)?;
    // As long as it is not said whose set it is, nothing is said against it.
    let members: Vec<MemberId> = athletes::writing_for(book)?.into_iter().collect();
    let own = book.own_members()?;
    let recent = recent(words, env, book, &catalogue, if members.is_empty() { &own } else { &members })?;
    let form = match draft(book)? {
        Some(form) => form,
        None => recent.first().map_or_else(first_form, |(_, form)| form.clone()),
    };
    let again = match members.as_slice() {
        [member] => repeat::offered(words, env, book, courses, &catalogue, *member)?,
        _ => None,
    };
    let screen = filled_in(words, env, book, courses, &catalogue, form, &members)?;
    Ok(LogSet { athletes, recent: chips(recent, &screen.form), again, ..screen })
}

/// What is filled in where nothing was done before.
pub(crate) fn first_form() -> SetForm {
    SetForm { sets: 1, reps: 10, ..SetForm::default() }
}

/// The last exercises as they are offered.
pub(crate) fn chips(recent: Vec<(String, SetForm)>, now: &SetForm) -> Vec<Recent> {
    let chip = |(text, form): (String, SetForm)| Recent { chosen: form.exercise == now.exercise, text, form };
    recent.into_iter().map(chip).collect()
}

/// A form in which an exercise stands that there is, on a leg that it is done on.
pub(crate) fn completed(catalogue: &Catalogue, form: SetForm) -> SetForm {
    let chosen = Uuid::try_parse(&form.exercise).ok().filter(|id| catalogue.get(*id).is_some());
    let chosen = chosen.or_else(|| gentle(catalogue));
    let legs = chosen.and_then(|id| catalogue.get(id)).map_or_else(Vec::new, possible_legs);
    let leg = legs.iter().find(|l| l.word() == form.leg).or(legs.first()).copied();
    SetForm {
        exercise: chosen.map(|id| id.to_string()).unwrap_or_default(),
        sets: form.sets.max(1),
        reps: form.reps.max(1),
        leg: leg.map_or("", Leg::word).to_owned(),
        ..form
    }
}

/// A form with what can be chosen on it and what speaks against it for some members.
pub(crate) fn filled_in(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    catalogue: &Catalogue,
    form: SetForm,
    members: &[MemberId],
) -> Result<LogSet, BookError> {
    let form = completed(catalogue, form);
    let chosen = Uuid::try_parse(&form.exercise).ok();
    let exercise = chosen.and_then(|id| catalogue.get(id));
    let mut exercises = exercises(words, catalogue);
    for choice in &mut exercises {
        choice.chosen = chosen.is_some_and(|id| id.to_string() == choice.id);
    }
    let legs = exercise.map_or_else(Vec::new, possible_legs);
    let wanted = legs.iter().find(|l| l.word() == form.leg).copied();
    let own = OwnClock::read(env, book)?;
    let mut held_limits = Vec::new();
    for member in members {
        let all = limits(book, *member, own)?;
        held_limits.extend(all.iter().filter(|l| own.holds(l)).map(|l| limit(words, l)));
    }
    let mut against = Vec::new();
    for member in members {
        if let (Some(id), Some(exercise), Some(leg)) = (chosen, exercise, wanted) {
            let offer = offer(&form, id, exercise, leg);
            let status = guard::status(book, courses, own, catalogue, *member, env.today(), Some(exercise))?;
            against.extend(guard::against(words, &status, &offer));
        }
    }
    let bound = against.iter().any(|said| said.refuses);
    Ok(LogSet {
        title: words.word("log-set-title"),
        athletes: Vec::new(),
        recent: Vec::new(),
        again: None,
        all: words.word("log-set-all"),
        find: words.word("log-set-find"),
        exercises,
        legs: legs
            .iter()
            .map(|leg| Choice {
                id: leg.word().to_owned(),
                text: words.word(&format!("leg-{}", leg.word())),
                group: String::new(),
                chosen: Some(*leg) == wanted,
            })
            .collect(),
        load: form
            .load_g
            .map_or_else(String::new, |g| words.say("outside-load", &[("load", (&mass(words, g)).into())])),
        no_load: words.word("log-set-no-load"),
        r#box: form.box_mm.map_or_else(String::new, |mm| height(words, mm)),
        warm_up: words.word("log-set-warm-up"),
        form,
        asks_cue: exercise.is_some_and(Exercise::asks_cue),
        asks_box: exercise.is_some_and(Exercise::has_box),
        asks_approach: exercise.is_some_and(|e| e.run_in().is_some()),
        about: chosen.zip(exercise).map(|(id, e)| naming::about(words, id, e)).unwrap_or_default(),
        caution: exercise.and_then(|e| caution(words, e)).unwrap_or_default(),
        limits: held_limits,
        against,
        bound: if bound { words.word("log-set-bound") } else { String::new() },
    })
}

/// The exercises whose name has a text in it, those first in which a word begins with it.
pub(crate) fn find(words: &Words, book: &Book, text: &str) -> Result<Vec<Choice>, BookError> {
    let text = text.trim().to_lowercase();
    let mut found = exercises(words, &Catalogue::read(book)?);
    found.retain(|choice| choice.text.to_lowercase().contains(&text));
    let begins = |choice: &Choice| {
        choice.text.to_lowercase().split([' ', ',', '-', '(']).any(|word| word.starts_with(&text))
    };
    found.sort_by_key(|choice| !begins(choice));
    Ok(found)
}

/// What is chosen where nothing was done before: the two-leg pogo, else what lands softest.
fn gentle(catalogue: &Catalogue) -> Option<Uuid> {
    let hardest = |exercise: &Exercise| {
        let on_two = exercise.series.iter().all(|c| c.legs == Legs::Two);
        let leg = if on_two { Side::Both } else { Side::Left };
        let contacts = repetition(&Performed::usual(exercise, 1, leg)).unwrap_or_default();
        // What cannot be computed comes last.
        contacts
            .iter()
            .map(|c| c.landing.energy_j_per_kg_per_leg)
            .max_by(f64::total_cmp)
            .unwrap_or(f64::INFINITY)
    };
    if catalogue.get(id::POGO).is_some() {
        return Some(id::POGO);
    }
    catalogue.iter().min_by(|a, b| hardest(a.1).total_cmp(&hardest(b.1))).map(|(id, _)| id)
}

/// The exercise and the legs of a form.
pub(crate) fn chosen<'a>(
    catalogue: &'a Catalogue,
    form: &SetForm,
) -> Result<(Uuid, &'a Exercise, Leg), ScreenError> {
    let missing = || ScreenError::NotFound { what: "exercise".to_owned() };
    let id = Uuid::try_parse(&form.exercise).map_err(|_| missing())?;
    let exercise = catalogue.get(id).ok_or_else(missing)?;
    let leg = match possible_legs(exercise).first() {
        Some(usual) if form.leg.is_empty() => *usual,
        _ => companion::chosen("leg", &form.leg)?,
    };
    Ok((id, exercise, leg))
}

/// All sets of a form as one, for their contacts add up.
pub(crate) fn offer<'a>(form: &SetForm, id: Uuid, exercise: &'a Exercise, leg: Leg) -> Offer<'a> {
    Offer {
        id,
        exercise,
        reps: form.reps.saturating_mul(form.sets.max(1)),
        contacts_per_rep: None,
        leg,
        box_mm: form.box_mm,
        approach: form.strides.map(Approach::Strides),
        warm_up: form.warm_up,
    }
}

/// The legs that an exercise can be done on, the usual one first.
pub(crate) fn possible_legs(exercise: &Exercise) -> Vec<Leg> {
    let one_leg = exercise.series.iter().any(|c| c.legs != Legs::Two);
    if one_leg {
        vec![Leg::AlternateLeft, Leg::AlternateRight, Leg::Left, Leg::Right]
    } else {
        vec![Leg::Both]
    }
}

/// The last exercises of some members with their names, the newest first, each as it was
/// done last: with the other leg, for the next set is mostly the other leg's.
pub(crate) fn recent(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    members: &[MemberId],
) -> Result<Vec<(String, SetForm)>, BookError> {
    let (mut found, mut sessions): (Vec<(String, SetForm)>, usize) = (Vec::new(), 0);
    // A clock that was ahead has left sessions after today.
    newest_first(book, members, (env.today(), Day::LAST), &mut |session| {
        let filter = Filter { kind: Some(kind::SET), session: session.id(), ..Filter::default() };
        for held in book.in_order(book.held(&filter)?)?.iter().rev() {
            let Some(Fact::Set(set)) = held.fact() else { continue };
            let Some(exercise) = catalogue.get(set.exercise) else { continue };
            if found.iter().all(|(_, form)| form.exercise != set.exercise.to_string()) {
                found.push((naming::named(words, set.exercise, exercise), next(set)));
            }
        }
        sessions += 1;
        Ok(sessions < SESSIONS && found.len() < RECENT)
    })?;
    found.truncate(RECENT);
    Ok(found)
}

/// What is done after a set: the same on the other leg. What was timed is not timed again.
pub(crate) fn next(set: &Set) -> SetForm {
    let leg = set.leg.swapped();
    SetForm { leg: leg.word().to_owned(), last_10_m_ms: None, ..form_of(set) }
}

/// A set as its form.
pub(crate) fn form_of(set: &Set) -> SetForm {
    SetForm {
        exercise: set.exercise.to_string(),
        sets: 1,
        reps: set.reps,
        leg: set.leg.word().to_owned(),
        box_mm: set.box_mm,
        strides: match set.approach {
            Some(Approach::Strides(n)) => Some(n),
            _ => None,
        },
        load_g: set.load_g,
        last_10_m_ms: set.last_10_m_ms,
        cue: set.cue.map_or_else(String::new, |cue| cue.word().to_owned()),
        warm_up: set.warm_up,
    }
}

/// Keeps what is filled in, until it is saved or dropped.
pub(crate) fn keep(book: &Book, form: Option<&SetForm>) -> Result<(), BookError> {
    book.set_local(DRAFT, form.map(|f| encode(&kept(f))).as_deref())
}

/// A form as a draft keeps it.
pub(crate) fn kept(f: &SetForm) -> Value {
    let optional = |n: Option<u32>| n.map_or(Value::Null, Value::from);
    Value::Array(vec![
        f.exercise.as_str().into(),
        f.sets.into(),
        f.reps.into(),
        f.leg.as_str().into(),
        optional(f.box_mm),
        optional(f.strides.map(u32::from)),
        optional(f.load_g),
        optional(f.last_10_m_ms),
        f.cue.as_str().into(),
        f.warm_up.into(),
    ])
}

pub(crate) fn draft(book: &Book) -> Result<Option<SetForm>, BookError> {
    let Some(bytes) = book.local(DRAFT)? else { return Ok(None) };
    // A draft that a later version wrote is not this one's to read.
    Ok(decode(&bytes).ok().and_then(|v| read(&v)))
}

/// Reads it back.
pub(crate) fn read(value: &Value) -> Option<SetForm> {
    let Value::Array(items) = value else { return None };
    let [
        Value::Text(exercise),
        Value::Int(sets),
        Value::Int(reps),
        Value::Text(leg),
        box_mm,
        strides,
        load_g,
        last_10_m,
        Value::Text(cue),
        Value::Bool(warm_up),
    ] = items.as_slice()
    else {
        return None;
    };
    let optional = |v: &Value| match v {
        Value::Int(n) => u32::try_from(*n).ok(),
        _ => None,
    };
    Some(SetForm {
        exercise: exercise.clone(),
        sets: u16::try_from(*sets).ok()?,
        reps: u16::try_from(*reps).ok()?,
        leg: leg.clone(),
        box_mm: optional(box_mm),
        strides: optional(strides).and_then(|n| u16::try_from(n).ok()),
        load_g: optional(load_g),
        last_10_m_ms: optional(last_10_m),
        cue: cue.clone(),
        warm_up: *warm_up,
    })
}
