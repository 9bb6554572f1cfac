//! The jumps of one athlete: what was jumped day by day, and what the attempts from one
//! run-up say together.

mod attempt;
pub(crate) mod competition;
mod group;
mod training;

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::facts::{Day, Fact, Hash, Jump, MemberId, Subject, kind};
use pitside_model::jump::board::SHARES;
use pitside_model::jump::history::{Alike, by_approach};
use pitside_model::jump::phase::JumpTimes;
use pitside_model::jump::reading::parse_wind;
use pitside_model::jump::wind::reading_tenths;

use crate::env::Env;
use crate::figure::full_day;
use crate::record::{FieldTrouble, JumpDay, Jumps, JumpsForm, Link};
use crate::route::Route;
use crate::text::Words;
use crate::training::{Card, Catalogue, DoneTake};
use crate::wording::{is_young, name};

pub(crate) use training::as_training;

/// Days in one window of the list.
const WINDOW: usize = 20;
/// The share of toes over the line that is aimed at where nobody picked one. Ours, no
/// source.
const FOULS: &str = "10";
const FOUL_SHARE: f64 = 0.1;

/// An attempt as it stands in the book.
struct Attempt {
    id: Hash,
    /// Two people wrote it differently.
    clash: bool,
    jump: Jump,
    take: Option<DoneTake>,
}

impl Attempt {
    /// What its take says, where the events are those of the event.
    fn times(&self) -> Option<JumpTimes> {
        let take = self.take.as_ref()?;
        JumpTimes::read(&self.jump, &take.fact.events, &take.scale).ok()
    }
}

/// The attempts of a member in a stretch of days, in the order of days and numbers.
fn attempts(
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    days: Option<(Day, Day)>,
) -> Result<Vec<Attempt>, BookError> {
    let filter = Filter { member: Some(member), kind: Some(kind::JUMP), days, ..Filter::default() };
    let mut found: Vec<Attempt> = book
        .held(&filter)?
        .into_iter()
        .filter_map(|held| match (held.id(), held.fact()) {
            (Some(id), Some(Fact::Jump(jump))) => {
                Some(Attempt { id, clash: held.is_clash(), jump: jump.clone(), take: None })
            }
            _ => None,
        })
        .collect();
    for attempt in &mut found {
        if let Some(id) = attempt.jump.take {
            attempt.take = take(book, catalogue, member, id)?;
        }
    }
    let order = |a: &Attempt| (a.jump.day, a.jump.event, a.jump.attempt.is_none(), a.jump.attempt);
    found.sort_by_key(order);
    Ok(found)
}

/// A take of a member; `None` where it is not here, or was taken back.
fn take(
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    id: Hash,
) -> Result<Option<DoneTake>, BookError> {
    let filter = Filter {
        member: Some(member),
        kind: Some(kind::TAKE),
        subject: Some(Subject::Fact(id)),
        ..Filter::default()
    };
    let held = book.held(&filter)?;
    let Some((device, fact)) = held.iter().find_map(|held| match held.fact() {
        Some(Fact::Take(fact)) => Some((held.value().device, fact.clone())),
        _ => None,
    }) else {
        return Ok(None);
    };
    Ok(Some(DoneTake::new(id, device, fact, catalogue.judging_frames(book)?)))
}

pub(crate) fn jumps(
    words: &Words,
    env: &Env,
    book: &Book,
    member: MemberId,
    form: &JumpsForm,
) -> Result<Jumps, BookError> {
    let revision = book.revision();
    let catalogue = Catalogue::read(book)?;
    let card = Card::read(book, member)?;
    let who = name(words, &card, member);
    let all = attempts(book, &catalogue, member, None)?;
    let mut troubles = Vec::new();
    let (wind, share, before) = read(words, form, &mut troubles);
    let jumps: Vec<Jump> = all
        .iter()
        .map(|attempt| &attempt.jump)
        .filter(|jump| Alike { event: jump.event, approach: None, wind_tenths: wind }.takes(jump))
        .cloned()
        .collect();
    let mut histories = by_approach(&jumps);
    // The longest run-up is the competition's; it is looked for first.
    histories.reverse();
    histories.sort_by_key(|history| history.event);
    let groups = histories.iter().map(|history| group::group(words, &jumps, history, share)).collect();
    let mut days: Vec<&[Attempt]> = all
        .chunk_by(|a, b| a.jump.day == b.jump.day)
        .rev()
        .filter(|of_day| of_day.first().is_some_and(|a| before.is_none_or(|before| a.jump.day < before)))
        .collect();
    let more = days.len() > WINDOW;
    days.truncate(WINDOW);
    let older = match days.last().and_then(|of_day| of_day.first()) {
        Some(last) if more => last.jump.day.to_string(),
        _ => String::new(),
    };
    let mut shown = Vec::new();
    for of_day in days {
        shown.extend(day(words, book, &catalogue, &card, member, of_day)?);
    }
    let mut cautions = vec![words.word("caution-event")];
    if is_young(&card, env.today()) {
        cautions.push(words.word("caution-young"));
    }
    cautions.push(words.word("caution-pain"));
    let fouls = if form.fouls.trim().is_empty() { FOULS.to_owned() } else { form.fouls.clone() };
    Ok(Jumps {
        revision,
        member: member.to_string(),
        title: words.say("jumps-title", &[("name", (&who).into())]),
        athlete: Link { text: who, route: Route::Athlete(member).to_string() },
        competition: Link { text: words.word("jumps-write"), route: Route::Competition(member).to_string() },
        form: JumpsForm { fouls, ..form.clone() },
        troubles,
        groups,
        days: shown,
        older,
        empty: if all.is_empty() { words.word("jumps-empty") } else { String::new() },
        notes: notes(words),
        cautions,
    })
}

/// What a form narrows by. What cannot be read does not narrow, and is said.
type Narrowed = (Option<(i32, i32)>, f64, Option<Day>);

fn read(words: &Words, form: &JumpsForm, troubles: &mut Vec<FieldTrouble>) -> Narrowed {
    let mut wrong = |field: &str, key: &str| {
        troubles.push(FieldTrouble { field: field.to_owned(), text: words.word(key) });
    };
    let mut tenths = |field: &str, text: &str| match text.trim() {
        "" => None,
        typed => match parse_wind(typed) {
            Ok(mm_s) => Some(reading_tenths(mm_s)),
            Err(_) => {
                wrong(field, "jumps-wrong-wind");
                None
            }
        },
    };
    let wind = match (tenths("wind_from", &form.wind_from), tenths("wind_to", &form.wind_to)) {
        (None, None) => None,
        (from, to) => Some((from.unwrap_or(i32::MIN), to.unwrap_or(i32::MAX))),
    };
    let typed = match form.fouls.trim() {
        "" => FOULS,
        typed => typed.trim_end_matches('%').trim_end(),
    };
    let share = typed.replace(',', ".").parse().ok().map(|percent: f64| percent / 100.0);
    let share = share.filter(|share| SHARES.contains(share));
    if share.is_none() {
        wrong("fouls", "jumps-wrong-fouls");
    }
    (wind, share.unwrap_or(FOUL_SHARE), Day::parse(&form.before))
}

/// The attempts of one day, a part for each place.
fn day(
    words: &Words,
    book: &Book,
    catalogue: &Catalogue,
    card: &Card,
    member: MemberId,
    of_day: &[Attempt],
) -> Result<Vec<JumpDay>, BookError> {
    let place = |attempt: &Attempt| {
        (attempt.jump.competition, attempt.jump.indoor, attempt.jump.place.clone().unwrap_or_default())
    };
    let mut places: Vec<_> = of_day.iter().map(place).collect();
    places.sort();
    places.dedup();
    let Some(on) = of_day.first().map(|attempt| attempt.jump.day) else { return Ok(Vec::new()) };
    let added = training::said(words, book, catalogue, card, member, of_day)?;
    let last = places.len().saturating_sub(1);
    let part = |(at, wanted): (usize, (bool, bool, String))| {
        let (competition, indoor, named) = &wanted;
        let mut title = vec![full_day(words, on)];
        title.push(words.word(if *competition { "jumps-competition" } else { "jumps-training" }));
        title.extend((!named.is_empty()).then(|| named.clone()));
        title.extend(indoor.then(|| words.word("jumps-indoors")));
        JumpDay {
            id: format!("{on}/{at}"),
            title: title.join(", "),
            attempts: of_day
                .iter()
                .filter(|attempt| place(attempt) == wanted)
                .map(|attempt| attempt::row(words, attempt))
                .collect(),
            // The day's training is one, wherever it was jumped.
            training: if at == last { added.clone() } else { String::new() },
        }
    };
    Ok(places.into_iter().enumerate().map(part).collect())
}

/// How the figures are to be read, and which lines are ours.
fn notes(words: &Words) -> Vec<String> {
    [
        "jumps-note-records",
        "jumps-note-effective",
        "jumps-note-mean",
        "jumps-note-board",
        "jumps-note-phases",
        "jumps-note-speed",
        "jumps-note-training",
    ]
    .map(|key| words.word(key))
    .to_vec()
}
