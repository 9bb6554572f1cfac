//! What may be said of timed contacts: which moves they make, how reactive the
//! rebounds are, whether they come below their targets, whether
//! they lengthen in a set, whether a day differs from the one before, and how far two
//! people agree who timed one clip. Where a camera cannot tell, that is said.

use std::collections::BTreeSet;

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::facts::exercise::{After, Entry, Exercise, Kind};
use pitside_model::facts::{self, Approach, Day, Fact, MemberId, Scope, Target, kind};
use pitside_model::timing::agreement::{agreement, differences};
use pitside_model::timing::decision::{Answer, Below, Seen, below, change};
use pitside_model::timing::moves::{Move, Moves};
use pitside_model::timing::series::{Direction, lengthening};
use pitside_model::timing::target::{Aim, Whose, aim};
use pitside_model::timing::{Timed, mean, mean_reactive_strength, rebounds};
use uuid::Uuid;

use crate::env::Env;
use crate::figure::{self, decimal, full_day, near_day};
use crate::own_course::{Condition, State};
use crate::record::TakeRow;
use crate::text::{Topic, Words};
use crate::training::{Catalogue, DoneTake, run_in};
use crate::wording;

/// The targets that hold for a member: the own ones and the squad's.
struct Targets {
    own: Vec<Target>,
    squad: Vec<Target>,
}

impl Targets {
    fn read(book: &Book, member: MemberId) -> Result<Self, BookError> {
        let of = |filter: Filter<'_>| -> Result<Vec<Target>, BookError> {
            let held = book.held(&Filter { kind: Some(kind::TARGET), ..filter })?;
            let target = |fact: &Fact| match fact {
                Fact::Target(target) => Some(target.clone()),
                _ => None,
            };
            Ok(held.iter().filter_map(|held| held.fact().and_then(target)).collect())
        };
        Ok(Self {
            own: of(Filter { member: Some(member), ..Filter::default() })?,
            squad: of(Filter { scope: Some(Scope::Squad), ..Filter::default() })?,
        })
    }
}

/// The takes to show, in the order given, with all that may be said of them. `takes`
/// are the member's, the newest last.
pub(crate) fn rows<'a>(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    takes: &[DoneTake],
    shown: impl Iterator<Item = &'a DoneTake>,
) -> Result<Vec<TakeRow>, BookError> {
    let mut shown = shown.peekable();
    if shown.peek().is_none() {
        return Ok(Vec::new());
    }
    let targets = Targets::read(book, member)?;
    shown
        .map(|take| {
            let aims = aims(catalogue, &targets, take, run_in(book, &take.fact)?);
            let said = said(words, catalogue, &aims, takes, take);
            let line = line(words, catalogue, &aims, take);
            Ok(wording::take(words, env, catalogue, take, &aims, line, said))
        })
        .collect()
}

/// The target of each contact. Contacts that do the same have that of the first.
fn aims(
    catalogue: &Catalogue,
    targets: &Targets,
    take: &DoneTake,
    approach: Option<Approach>,
) -> Vec<Option<Aim>> {
    let alike = alike(catalogue, take);
    let aim_of = |number: u16| {
        let number = if alike { 1 } else { number };
        aim(&targets.own, &targets.squad, take.fact.exercise?, number, approach)
    };
    contacts(take).iter().zip(1_u16..).map(|(_, number)| aim_of(number)).collect()
}

fn said(
    words: &Words,
    catalogue: &Catalogue,
    aims: &[Option<Aim>],
    takes: &[DoneTake],
    take: &DoneTake,
) -> Vec<String> {
    let mut said: Vec<String> =
        [in_moves(words, catalogue, take), reactive(words, catalogue, take)].into_iter().flatten().collect();
    said.extend(against_targets(words, catalogue, aims, take));
    if alike(catalogue, take) {
        said.extend(in_the_set(words, take));
        said.extend(since_the_day_before(words, takes, take));
    }
    said.extend(by_two_people(words, takes, take));
    said
}

/// Whole milliseconds.
fn ms(words: &Words, seconds: f64) -> String {
    decimal(words, seconds * 1_000.0, 0)
}

/// Whether all contacts of a take do the same, so that they may be averaged.
fn alike(catalogue: &Catalogue, take: &DoneTake) -> bool {
    exercise(catalogue, take).is_some_and(|exercise| exercise.series.len() == 1)
}

fn exercise<'a>(catalogue: &'a Catalogue, take: &DoneTake) -> Option<&'a Exercise> {
    catalogue.get(take.fact.exercise?)
}

fn moves(take: &DoneTake) -> Option<Moves> {
    Moves::of(take.times.as_ref().ok()?, &take.fact.events, &take.scale).ok()
}

/// The moves of a series and the contacts that they begin with. Where all contacts do
/// the same there is nothing to tell apart.
fn in_moves(words: &Words, catalogue: &Catalogue, take: &DoneTake) -> Option<String> {
    if alike(catalogue, take) {
        return None;
    }
    let series = exercise(catalogue, take).map_or(&[][..], |exercise| &exercise.series);
    let seen = moves(take)?;
    let mut told = Vec::new();
    for (at, stance) in seen.stances.iter().enumerate() {
        let Some(timed) = stance.timed else { break };
        let meant = series.get(at);
        let step = meant.is_some_and(|meant| meant.mv == facts::exercise::Move::Step);
        let what = match seen.moves.get(at) {
            Some(Move::Bound) if step => "step",
            Some(seen) => seen.word(),
            // Nobody marks a landing in the sand: the exercise says what led there.
            None => match meant.filter(|meant| meant.after == After::Pit) {
                Some(meant) => meant.mv.word(),
                None => break,
            },
        };
        told.push((words.word(&format!("move-{what}")), decimal(words, timed.seconds, 3)));
    }
    if told.len() < 2 {
        return None;
    }
    let (moves, times): (Vec<_>, Vec<_>) = told.into_iter().unzip();
    let (moves, times) = (moves.join(", "), times.join(", "));
    Some(words.say("judged-moves", &[("moves", (&moves).into()), ("times", (&times).into())]))
}

/// The reactive strength of vertical rebounds, with the contact and the height that
/// make it: it is the same of a quick low one and a slow high one.
fn reactive(words: &Words, catalogue: &Catalogue, take: &DoneTake) -> Option<String> {
    let exercise = exercise(catalogue, take).filter(|exercise| exercise.kind == Kind::VerticalRebound)?;
    let rebounds = rebounds(&moves(take)?, matches!(exercise.entry, Entry::Box { .. }));
    let found = mean_reactive_strength(&rebounds, &take.fact.events, &take.scale).ok()??;
    // Rounded up, so that it never claims more than it holds.
    let half_width = (found.total_half_width_95() * 100.0).ceil() / 100.0;
    Some(words.say(
        "judged-reactive",
        &[
            ("rebounds", (rebounds.len() as u64).into()),
            ("value", (&decimal(words, found.value, 2)).into()),
            ("half", (&decimal(words, half_width, 2)).into()),
            ("contact", (&decimal(words, found.contact.seconds, 3)).into()),
            ("height", (&decimal(words, found.height, 2)).into()),
        ],
    ))
}

fn contacts(take: &DoneTake) -> Vec<Timed> {
    take.times.iter().flat_map(|times| &times.contacts).map(|contact| contact.timed).collect()
}

fn against_targets(
    words: &Words,
    catalogue: &Catalogue,
    aims: &[Option<Aim>],
    take: &DoneTake,
) -> Vec<String> {
    let timed = contacts(take);
    let frame = take.scale.frame_seconds();
    let against = |what: &str, timed: &Timed, aim: &Aim, contacts: u32| {
        let answer = answer(words, &below(timed, aim.seconds(), frame, contacts));
        sentence(words, what, aim, &answer)
    };
    // Contacts that do the same have one target, and their mean is asked.
    if alike(catalogue, take)
        && let (Some(Some(aim)), Some(mean)) = (aims.first(), mean(&timed))
    {
        let count = u32::try_from(timed.len()).unwrap_or(u32::MAX);
        return vec![against(&words.word("judged-mean"), &mean, aim, count)];
    }
    let each = timed.iter().zip(aims).zip(1_u16..).filter_map(|((contact, aim), number)| {
        let what = words.say("judged-contact", &[("n", (&number.to_string()).into())]);
        Some(against(&what, contact, aim.as_ref()?, 1))
    });
    each.collect()
}

fn sentence(words: &Words, what: &str, aim: &Aim, answer: &str) -> String {
    let whose = match aim.whose {
        Whose::Own => words.word("judged-own"),
        Whose::Squad => words.word("judged-squad"),
        Whose::Published => words.word("judged-published"),
    };
    let source = format!("{whose}: {}", words.told_or_as_said(Topic::Source, &aim.source));
    let target = ms(words, aim.seconds());
    words.say(
        "judged-target",
        &[
            ("what", what.into()),
            ("target", (&target).into()),
            ("source", (&source).into()),
            ("answer", answer.into()),
        ],
    )
}

fn answer(words: &Words, said: &Below) -> String {
    let share = decimal(words, said.probability * 100.0, 0);
    match said.answer {
        Answer::Yes => words.say("judged-yes", &[("share", (&share).into())]),
        Answer::No => words.say("judged-no", &[("share", (&share).into())]),
        Answer::CannotTell => {
            let rate = said
                .would_tell
                .frames_a_second
                .map(|rate| words.say("judged-faster", &[("rate", (&decimal(words, rate, 0)).into())]));
            let more = said
                .would_tell
                .contacts
                .map(|contacts| words.say("judged-more", &[("contacts", u64::from(contacts).into())]));
            let ways: Vec<String> = [rate, more].into_iter().flatten().collect();
            let would = if ways.is_empty() { words.word("judged-nothing") } else { ways.join(", ") };
            words.say("judged-cannot-tell", &[("share", (&share).into()), ("would", (&would).into())])
        }
    }
}

/// A take in one line: its time, and how it stands to its target. Contacts that do the same
/// are told by their mean, others by the newest one. Empty where nothing is timed.
fn line(words: &Words, catalogue: &Catalogue, aims: &[Option<Aim>], take: &DoneTake) -> String {
    let timed = contacts(take);
    let Some(newest) = timed.last() else { return String::new() };
    let mean = mean(&timed).filter(|_| alike(catalogue, take));
    let told = mean.as_ref().unwrap_or(newest);
    let value = figure::timed(words, told.seconds, told.total_half_width_95());
    let number = (timed.len() as u64).into();
    let key = if mean.is_some() { "judged-line-mean" } else { "judged-line-newest" };
    let value = match timed.len() {
        1 => value,
        _ => words.say(key, &[("n", number), ("time", (&value).into())]),
    };
    // Contacts that do the same have one target.
    let aim = if mean.is_some() { aims.first() } else { aims.last() };
    let Some(aim) = aim.and_then(Option::as_ref) else { return value };
    let count = if mean.is_some() { u32::try_from(timed.len()).unwrap_or(u32::MAX) } else { 1 };
    let key = match below(told, aim.seconds(), take.scale.frame_seconds(), count).answer {
        Answer::Yes => "judged-line-below",
        Answer::No => "judged-line-above",
        Answer::CannotTell => "judged-line-cannot",
    };
    let target = decimal(words, aim.seconds(), 3);
    words.say(key, &[("time", (&value).into()), ("target", (&target).into())])
}

/// How the newest times of a member stand to each target that holds: those set here whether
/// anything was timed or not, published ones where something was. `takes` are the member's,
/// the newest last.
pub(crate) fn conditions(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    takes: &[DoneTake],
) -> Result<Vec<Condition>, BookError> {
    let targets = Targets::read(book, member)?;
    let mut exercises: Vec<Uuid> =
        targets.own.iter().chain(&targets.squad).map(|target| target.exercise).collect();
    exercises.extend(takes.iter().rev().filter_map(|take| take.fact.exercise));
    let mut seen = BTreeSet::new();
    exercises.retain(|exercise| seen.insert(*exercise));
    let mut conditions = Vec::new();
    for exercise in exercises {
        let newest =
            takes.iter().rev().find(|t| t.fact.exercise == Some(exercise) && !contacts(t).is_empty());
        match newest {
            Some(take) => {
                let aims = aims(catalogue, &targets, take, run_in(book, &take.fact)?);
                conditions.extend(timed_conditions(words, env, catalogue, &aims, take));
            }
            None => conditions.extend(untimed_conditions(words, catalogue, &targets, exercise)),
        }
    }
    Ok(conditions)
}

fn timed_conditions(
    words: &Words,
    env: &Env,
    catalogue: &Catalogue,
    aims: &[Option<Aim>],
    take: &DoneTake,
) -> Vec<Condition> {
    let timed = contacts(take);
    let mean = mean(&timed).filter(|_| alike(catalogue, take));
    let count = u32::try_from(timed.len()).unwrap_or(u32::MAX);
    let each: Vec<(String, &Timed, &Aim, u32)> = match (&mean, aims.first()) {
        (Some(mean), Some(Some(aim))) => vec![(words.word("judged-mean"), mean, aim, count)],
        (Some(_), _) => Vec::new(),
        (None, _) => (timed.iter().zip(aims).zip(1_u16..))
            .filter_map(|((contact, aim), number)| {
                let what = words.say("judged-contact", &[("n", (&number.to_string()).into())]);
                Some((what, contact, aim.as_ref()?, 1))
            })
            .collect(),
    };
    let exercise = wording::take_name(words, catalogue, &take.fact);
    let on = near_day(words, env, take.fact.day);
    let said = each.into_iter().enumerate().map(|(at, (what, timed, aim, contacts))| {
        let below = below(timed, aim.seconds(), take.scale.frame_seconds(), contacts);
        let state = match below.answer {
            Answer::Yes => State::Met,
            Answer::No => State::NotMet,
            Answer::CannotTell => State::CannotTell,
        };
        let time = figure::timed(words, timed.seconds, timed.total_half_width_95());
        let saw = words.say(
            "condition-timed",
            &[("exercise", (&exercise).into()), ("time", (&time).into()), ("day", (&on).into())],
        );
        let rule = sentence(words, &what, aim, &answer(words, &below));
        Condition::new(
            words,
            format!("{}/{at}", take.place),
            state,
            saw,
            [rule, String::new(), String::new()],
        )
    });
    said.collect()
}

/// Own targets stand before the squad's for the same contact and run-in.
fn untimed_conditions(
    words: &Words,
    catalogue: &Catalogue,
    targets: &Targets,
    exercise: Uuid,
) -> Vec<Condition> {
    let alike = |a: &Target, b: &Target| (a.contact, a.approach) == (b.contact, b.approach);
    let of = |all: &'_ [Target]| -> Vec<Target> {
        all.iter().filter(|target| target.exercise == exercise).cloned().collect()
    };
    let own = of(&targets.own);
    let squad = of(&targets.squad).into_iter().filter(|target| !own.iter().any(|own| alike(own, target)));
    let own = own.iter().map(|target| (target.clone(), "judged-own"));
    let all = own.chain(squad.map(|target| (target, "judged-squad")));
    let untimed = all.enumerate().map(|(at, (target, whose))| {
        let source = format!("{}: {}", words.word(whose), target.source);
        Condition::new(
            words,
            format!("{exercise}/{at}"),
            State::NotTimed,
            wording::target(words, catalogue, &target),
            [source, String::new(), String::new()],
        )
    });
    untimed.collect()
}

fn in_the_set(words: &Words, take: &DoneTake) -> Option<String> {
    let found = lengthening(&contacts(take))?;
    let key = match found.direction() {
        Direction::Longer => "judged-longer",
        Direction::Shorter => "judged-shorter",
        Direction::NeitherShown | Direction::NotByThisCamera => "judged-steady",
    };
    let size = ms(words, found.over_the_set().abs());
    Some(words.say(key, &[("size", (&size).into()), ("contacts", (found.contacts as u64).into())]))
}

/// The mean of a day's takes of one exercise.
fn of_day(takes: &[DoneTake], take: &DoneTake, day: Day) -> Option<Timed> {
    let same = |other: &&DoneTake| other.fact.exercise == take.fact.exercise && other.fact.day == day;
    // Of a clip that two people timed, one counts.
    let mut seen = Vec::new();
    let mut timed = Vec::new();
    for other in takes.iter().filter(same) {
        if !seen.contains(&other.fact.frames) {
            seen.push(other.fact.frames);
            timed.extend(contacts(other));
        }
    }
    mean(&timed)
}

fn since_the_day_before(words: &Words, takes: &[DoneTake], take: &DoneTake) -> Option<String> {
    let mut days: Vec<Day> = takes
        .iter()
        .filter(|other| other.fact.exercise == take.fact.exercise && other.fact.day <= take.fact.day)
        .map(|other| other.fact.day)
        .collect();
    days.sort_unstable();
    days.dedup();
    let before = days.iter().rev().find(|day| **day < take.fact.day).copied()?;
    let means: Vec<Timed> = days.iter().filter_map(|day| of_day(takes, take, *day)).collect();
    let seconds: Vec<f64> = means.iter().map(|mean| mean.seconds).collect();
    let found = change(&of_day(takes, take, before)?, &of_day(takes, take, take.fact.day)?, &seconds);
    let key = match found.seen() {
        Seen::NotByThisCamera => "judged-change-unseen",
        Seen::SpreadUnknown => "judged-change-seen",
        Seen::WithinSpread => "judged-change-usual",
        Seen::Beyond => "judged-change-beyond",
    };
    let difference =
        format!("{}{}", if found.seconds < 0.0 { "−" } else { "+" }, ms(words, found.seconds.abs()));
    let (day, camera) = (full_day(words, before), ms(words, found.camera_least));
    let own = found.own_least.map_or_else(String::new, |own| ms(words, own));
    Some(words.say(
        key,
        &[
            ("day", (&day).into()),
            ("difference", (&difference).into()),
            ("camera", (&camera).into()),
            ("own", (&own).into()),
        ],
    ))
}

fn by_two_people(words: &Words, takes: &[DoneTake], take: &DoneTake) -> Option<String> {
    let others =
        takes.iter().filter(|other| other.device != take.device && other.fact.frames == take.fact.frames);
    let found = others.filter_map(|other| {
        let apart = differences(&take.fact.events, &other.fact.events, take.scale.frame_ticks).ok()?;
        agreement(&apart.into_iter().map(|frames| (frames, 0.0)).collect::<Vec<_>>())
    });
    let found = found.max_by_key(|found| found.pairs)?;
    let (low, high) = found.limits();
    let [bias, low, high] = [found.bias, low, high].map(|frames| decimal(words, frames, 1));
    Some(words.say(
        "judged-agreement",
        &[
            ("events", (found.pairs as u64).into()),
            ("bias", (&bias).into()),
            ("low", (&low).into()),
            ("high", (&high).into()),
        ],
    ))
}
