//! Attempts are written down one after the other, in a competition or in training.
//!
//! What holds for all of them is said once; then an attempt is a short row. Number, start
//! mark and run-up of the next one stand there already. What is wrong is said at its
//! field, all at once, and what was typed stays.

use core::ops::RangeInclusive;

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::facts::{
    Approach, Board, Day, Fact, Hash, Jump, JumpEvent, MemberId, Outcome, Phases, Scope, Subject, Wind,
    WindRule, kind,
};
use pitside_model::jump::distance::{metres, official_mm, parse_metres};
use pitside_model::jump::reading::{ReadingError, parse_toe_cm, parse_wind};

use super::attempt::{self, outcome};
use super::{Attempt, attempts};
use crate::companion::{ScreenError, member_of};
use crate::env::Env;
use crate::figure::full_day;
use crate::record::{AttemptForm, AttemptSaved, Choice, CompetitionDay, CompetitionForm, FieldTrouble, Link};
use crate::route::Route;
use crate::text::Words;
use crate::training::{Card, Catalogue};
use crate::wording::{is_young, members, name};

/// The word for no gauge among the rules of a wind reading.
const NO_GAUGE: &str = "no-gauge";

/// What is wrong with the fields of a form, gathered as it is read.
struct Troubles<'a> {
    words: &'a Words,
    found: Vec<FieldTrouble>,
}

impl Troubles<'_> {
    fn add(&mut self, field: &str, text: String) {
        self.found.push(FieldTrouble { field: field.to_owned(), text });
    }
    fn wrong(&mut self, field: &str, key: &str) {
        self.add(field, self.words.word(key));
    }
    /// A text that stands for nothing where it is empty.
    fn optional<T, E>(
        &mut self,
        field: &str,
        text: &str,
        key: &str,
        read: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        match text.trim() {
            "" => None,
            typed => read(typed).map_err(|_| self.wrong(field, key)).ok(),
        }
    }
    /// A length in metres, in a range of millimetres.
    fn metres(&mut self, field: &str, text: &str, key: &str, range: RangeInclusive<u32>) -> Option<u32> {
        self.optional(field, text, key, |typed| {
            parse_metres(typed).ok().filter(|mm| range.contains(mm)).ok_or(())
        })
    }
}

/// What holds for every attempt, read from its form.
struct Meeting {
    member: MemberId,
    event: JumpEvent,
    day: Day,
    place: Option<String>,
    competition: bool,
    indoor: bool,
    no_gauge: bool,
    wind_rule: Option<WindRule>,
    board: Option<Board>,
    pit_mm: Option<u32>,
}

fn meeting(
    env: &Env,
    member: MemberId,
    form: &CompetitionForm,
    troubles: &mut Troubles<'_>,
) -> Option<Meeting> {
    let event = match form.event.parse::<JumpEvent>() {
        Ok(event) => Some(event),
        Err(_) => {
            troubles.wrong("event", "jumps-wrong-event");
            None
        }
    };
    let day = match form.day.trim() {
        "" => Some(env.today()),
        _ => troubles.optional("day", &form.day, "jumps-wrong-day", |typed| Day::parse(typed).ok_or(())),
    };
    let place = form.place.trim();
    if place.chars().count() > 80 {
        troubles.wrong("place", "jumps-wrong-place");
    }
    let no_gauge = form.wind_rule == NO_GAUGE;
    let rule = if no_gauge { "" } else { form.wind_rule.as_str() };
    let wind_rule = troubles.optional("wind_rule", rule, "jumps-wrong-choice", str::parse);
    let board = troubles.optional("board", &form.board, "jumps-wrong-choice", str::parse);
    Some(Meeting {
        member,
        pit_mm: troubles.metres("pit", &form.pit, "jumps-wrong-pit", 0..=15_000),
        event: event?,
        day: day?,
        place: (!place.is_empty()).then(|| place.to_owned()),
        competition: form.competition,
        indoor: form.indoor,
        no_gauge,
        wind_rule,
        board,
    })
}

impl Meeting {
    /// An attempt as it was typed.
    fn attempt(&self, row: &AttemptForm, troubles: &mut Troubles<'_>) -> Option<Jump> {
        let wind = troubles.optional("wind", &row.wind, "jumps-wrong-wind", |typed| {
            parse_wind(typed).ok().filter(|mm_s| (-15_000..=15_000).contains(mm_s)).ok_or(())
        });
        if wind.is_some() && self.indoor {
            troubles.wrong("wind", "jumps-wrong-wind-indoors");
        } else if wind.is_some() && self.no_gauge {
            troubles.wrong("wind", "jumps-wrong-wind-gauge");
        }
        let outcome = self.outcome(&row.distance, troubles);
        let toe_mm = self.toe(&row.toe, outcome, troubles);
        let phase = |troubles: &mut Troubles<'_>, field: &str, text: &str| match self.event {
            JumpEvent::Long => None,
            JumpEvent::Triple => troubles.metres(field, text, "jumps-wrong-phase", 300..=10_000),
        };
        Some(Jump {
            day: self.day,
            event: self.event,
            indoor: self.indoor,
            competition: self.competition,
            place: self.place.clone(),
            attempt: troubles.optional("attempt", &row.attempt, "jumps-wrong-attempt", |typed| {
                typed.parse().ok().filter(|n| (1..=99).contains(n)).ok_or(())
            }),
            toe_mm,
            wind: wind.map(Wind::Gauge).or((self.no_gauge && !self.indoor).then_some(Wind::NoGauge)),
            wind_rule: self.wind_rule.filter(|_| wind.is_some()),
            approach: troubles.optional("run_up", &row.run_up, "jumps-wrong-run-up", run_up),
            start_mm: troubles.metres("start", &row.start, "jumps-wrong-start", 1_000..=60_000),
            pit_mm: self.pit_mm,
            board: self.board,
            phases: Phases {
                hop_mm: phase(troubles, "hop", &row.hop),
                step_mm: phase(troubles, "step", &row.step),
                jump_mm: phase(troubles, "jump", &row.jump),
            },
            take: None,
            outcome: outcome?,
        })
    }

    fn outcome(&self, typed: &str, troubles: &mut Troubles<'_>) -> Option<Outcome> {
        let typed = typed.trim();
        if ["x", "f", "foul"].contains(&typed.to_lowercase().as_str()) {
            return Some(Outcome::Foul);
        }
        let (range, key) = match self.event {
            JumpEvent::Long => (500..=10_000, "jumps-wrong-distance-long"),
            JumpEvent::Triple => (1_000..=20_000, "jumps-wrong-distance-triple"),
        };
        match parse_metres(typed) {
            Ok(mm) if range.contains(&official_mm(mm)) => Some(Outcome::Measured(official_mm(mm))),
            Ok(_) => {
                troubles.wrong("distance", key);
                None
            }
            Err(_) => {
                troubles.wrong("distance", "jumps-wrong-distance");
                None
            }
        }
    }

    fn toe(&self, typed: &str, outcome: Option<Outcome>, troubles: &mut Troubles<'_>) -> Option<i32> {
        let toe = match typed.trim() {
            "" => return None,
            typed => parse_toe_cm(typed),
        };
        let counts = matches!(outcome, Some(Outcome::Measured(_)));
        match toe {
            Ok(mm) if mm > 0 && counts && self.board != Some(Board::Indicator) => {
                troubles.wrong("toe", "jumps-wrong-toe-over");
            }
            Ok(mm) if (-3_000..=1_000).contains(&mm) => return Some(mm),
            Ok(_) | Err(ReadingError::TooLong) => troubles.wrong("toe", "jumps-wrong-toe-far"),
            Err(_) => troubles.wrong("toe", "jumps-wrong-toe"),
        }
        None
    }
}

/// A run-up from strides, or from metres with `m` behind them.
fn run_up(typed: &str) -> Result<Approach, ()> {
    if let Some(length) = typed.strip_suffix('m') {
        let mm = parse_metres(length.trim_end()).map_err(|_| ())?;
        return if (500..=60_000).contains(&mm) { Ok(Approach::Millimetres(mm)) } else { Err(()) };
    }
    typed.parse().ok().filter(|n| (1..=30).contains(n)).map(Approach::Strides).ok_or(())
}

/// The attempt with an id, with whose it is.
fn find(book: &Book, id: &str) -> Result<(Held, MemberId, Jump), ScreenError> {
    let missing = || ScreenError::NotFound { what: "attempt".to_owned() };
    let subject = Hash::parse(id).map(Subject::Fact).ok_or_else(missing)?;
    let filter = Filter { kind: Some(kind::JUMP), subject: Some(subject), ..Filter::default() };
    let held = book.held(&filter)?.into_iter().next().ok_or_else(missing)?;
    match (held.key.scope.member(), held.fact().cloned()) {
        (Some(member), Some(Fact::Jump(jump))) => Ok((held, member, jump)),
        _ => Err(missing()),
    }
}

/// The form that an attempt was, or could have been, written down by.
fn form_of(member: MemberId, jump: &Jump, athletes: &[String]) -> CompetitionForm {
    CompetitionForm {
        member: member.to_string(),
        event: jump.event.word().to_owned(),
        day: jump.day.to_string(),
        place: jump.place.clone().unwrap_or_default(),
        competition: jump.competition,
        indoor: jump.indoor,
        wind_rule: match jump.wind {
            Some(Wind::NoGauge) => NO_GAUGE.to_owned(),
            _ => jump.wind_rule.map_or("", WindRule::word).to_owned(),
        },
        board: jump.board.map_or("", Board::word).to_owned(),
        pit: jump.pit_mm.map(metres).unwrap_or_default(),
        athletes: athletes.to_vec(),
    }
}

/// An exact number of tenths of a unit, or of thousandths where it is finer.
fn signed(mm: i32, each: u32) -> String {
    let sign = if mm < 0 { "\u{2212}" } else { "" };
    let (whole, rest) = (mm.unsigned_abs() / each, mm.unsigned_abs() % each);
    let width = if each == 10 { 1 } else { 3 };
    let decimals = format!("{rest:0width$}");
    let decimals = decimals.trim_end_matches('0');
    if decimals.is_empty() { format!("{sign}{whole}") } else { format!("{sign}{whole}.{decimals}") }
}

fn run_up_text(approach: Option<Approach>) -> String {
    match approach {
        Some(Approach::Strides(n)) => n.to_string(),
        Some(Approach::Millimetres(mm)) => format!("{} m", metres(mm)),
        None => String::new(),
    }
}

/// The row that an attempt would be typed as.
fn row_of(jump: &Jump) -> AttemptForm {
    let length = |mm: Option<u32>| mm.map(metres).unwrap_or_default();
    AttemptForm {
        attempt: jump.attempt.map(|n| n.to_string()).unwrap_or_default(),
        distance: match jump.outcome {
            Outcome::Measured(mm) => metres(mm),
            Outcome::Foul => "x".to_owned(),
        },
        wind: match jump.wind {
            Some(Wind::Gauge(mm_s)) => signed(mm_s, 1_000),
            _ => String::new(),
        },
        toe: jump.toe_mm.map(|mm| signed(mm, 10)).unwrap_or_default(),
        start: length(jump.start_mm),
        run_up: run_up_text(jump.approach),
        hop: length(jump.phases.hop_mm),
        step: length(jump.phases.step_mm),
        jump: length(jump.phases.jump_mm),
    }
}

/// The row of the next attempt: its number, and start mark and run-up of the last one of
/// the event up to that day.
fn next(all: &[Attempt], event: JumpEvent, day: Day) -> AttemptForm {
    let of_event = || all.iter().map(|a| &a.jump).filter(|jump| jump.event == event && jump.day <= day);
    let last = of_event().filter(|jump| jump.day == day).filter_map(|jump| jump.attempt).max();
    let number = last.map_or(1, |n| n + 1);
    AttemptForm {
        attempt: if number <= 99 { number.to_string() } else { String::new() },
        start: of_event().filter_map(|jump| jump.start_mm).next_back().map(metres).unwrap_or_default(),
        run_up: run_up_text(of_event().filter_map(|jump| jump.approach).next_back()),
        ..AttemptForm::default()
    }
}

/// The words of a fact as choices, with one for not said before them.
fn choices(
    words: &Words,
    ids: &[&str],
    empty: &str,
    chosen: &str,
    key: impl Fn(&str) -> String,
) -> Vec<Choice> {
    let choice = |id: &str, text: String| Choice {
        id: id.to_owned(),
        text,
        group: String::new(),
        chosen: id == chosen,
    };
    let mut all = vec![choice("", words.word(empty))];
    all.extend(ids.iter().map(|id| choice(id, words.word(&key(id)))));
    all
}

/// The screen. `editing` is the attempt that is changed, or empty for a new one.
pub(crate) fn competition_day(
    words: &Words,
    env: &Env,
    book: &Book,
    form: &CompetitionForm,
    editing: &str,
) -> Result<CompetitionDay, ScreenError> {
    let revision = book.revision();
    let edited = if editing.is_empty() { None } else { Some(find(book, editing)?) };
    let form = match &edited {
        Some((_, member, jump)) => form_of(*member, jump, &form.athletes),
        None => form.clone(),
    };
    let all_members = members(words, book)?;
    let member = match (form.member.as_str(), all_members.as_slice()) {
        ("", [only]) => Some(member_of(book, &only.id)?),
        ("", _) => None,
        (named, _) => Some(member_of(book, named)?),
    };
    let mut form = CompetitionForm { member: member.map(|m| m.to_string()).unwrap_or_default(), ..form };
    let mut troubles = Troubles { words, found: Vec::new() };
    let met = member.filter(|_| !form.event.is_empty()).and_then(|m| meeting(env, m, &form, &mut troubles));
    let met = met.filter(|_| troubles.found.is_empty());
    if form.day.trim().is_empty() {
        form.day = env.today().to_string();
    }
    let mut row = AttemptForm::default();
    let mut rows = Vec::new();
    let mut cautions = vec![words.word("caution-event")];
    let mut about = String::new();
    if let Some(met) = &met {
        let card = Card::read(book, met.member)?;
        let all = attempts(book, &Catalogue::read(book)?, met.member, None)?;
        row = next(&all, met.event, met.day);
        let of_day = all.iter().filter(|a| a.jump.day == met.day && a.jump.event == met.event);
        rows = of_day.rev().map(|a| attempt::row(words, a)).collect();
        about = self::about(words, &name(words, &card, met.member), met);
        if is_young(&card, env.today()) {
            cautions.push(words.word("caution-young"));
        }
    }
    cautions.push(words.word("caution-pain"));
    let editing_note = match &edited {
        None => String::new(),
        Some((_, _, jump)) => {
            row = row_of(jump);
            words.say("jumps-changing", &[("what", (&outcome(words, jump)).into())])
        }
    };
    let known = |id: &String| all_members.iter().any(|member| member.id == *id);
    form.athletes.retain(known);
    let picked = |id: &str| form.athletes.iter().any(|athlete| athlete == id);
    let squad = |choice: &&Choice| form.athletes.is_empty() || picked(&choice.id) || choice.id == form.member;
    Ok(CompetitionDay {
        revision,
        title: words.word("jumps-competition-title"),
        about,
        ready: met.is_some(),
        switch: all_members
            .iter()
            .filter(squad)
            .map(|choice| Choice { chosen: choice.id == form.member, ..choice.clone() })
            .collect(),
        members: all_members
            .iter()
            .map(|choice| Choice { chosen: picked(&choice.id), ..choice.clone() })
            .collect(),
        events: choices(words, &["long-jump", "triple-jump"], "jumps-choose", &form.event, |id| {
            format!("event-{id}")
        }),
        wind_rules: choices(
            words,
            &["from-mark", "from-start", "otherwise", NO_GAUGE],
            "gauge-not-said",
            &form.wind_rule,
            |id| format!("gauge-{id}"),
        ),
        boards: choices(
            words,
            &["plane", "indicator", "by-eye", "zone"],
            "line-not-said",
            &form.board,
            |id| format!("line-{id}"),
        ),
        asks_phases: met.as_ref().is_some_and(|met| met.event == JumpEvent::Triple),
        row,
        editing: editing.to_owned(),
        editing_note,
        troubles: troubles.found,
        attempts: rows,
        hints: ["jumps-hint-distance", "jumps-hint-toe", "jumps-hint-marks"]
            .map(|key| words.word(key))
            .to_vec(),
        jumps: member
            .map(|member| Link { text: words.word("jumps-all"), route: Route::Jumps(member).to_string() }),
        cautions,
        form,
    })
}

/// What holds for every attempt, in words.
fn about(words: &Words, who: &str, met: &Meeting) -> String {
    let mut parts = vec![who.to_owned(), words.word(&format!("event-{}", met.event.word()))];
    parts.push(full_day(words, met.day));
    parts.push(words.word(if met.competition { "jumps-competition" } else { "jumps-training" }));
    parts.extend(met.place.clone());
    parts.extend(met.indoor.then(|| words.word("jumps-indoors")));
    parts.join(", ")
}

/// Writes an attempt down, or the correction of the one that is edited. Where a field is
/// wrong nothing is written, and every such field is told.
pub(crate) fn save(
    words: &Words,
    env: &Env,
    book: &Book,
    form: &CompetitionForm,
    row: &AttemptForm,
    editing: &str,
) -> Result<AttemptSaved, ScreenError> {
    let edited = if editing.is_empty() { None } else { Some(find(book, editing)?) };
    let member = match &edited {
        Some((_, member, _)) => *member,
        None => member_of(book, &form.member)?,
    };
    let mut troubles = Troubles { words, found: Vec::new() };
    let met = meeting(env, member, form, &mut troubles);
    let jump = met.and_then(|met| met.attempt(row, &mut troubles));
    let wrong = |found: Vec<FieldTrouble>| AttemptSaved { id: String::new(), troubles: found };
    let (Some(jump), []) = (jump, troubles.found.as_slice()) else { return Ok(wrong(troubles.found)) };
    let jump = Jump { take: edited.as_ref().and_then(|(_, _, before)| before.take), ..jump };
    let own = edited.as_ref().and_then(|(held, _, _)| held.id());
    if let Some(other) = same_number(book, member, &jump, own)? {
        // The same once more, sent twice by a hasty finger, is there already.
        if other.jump == jump && edited.is_none() {
            return Ok(AttemptSaved { id: other.id.to_string(), troubles: Vec::new() });
        }
        let n = jump.attempt.map(|n| n.to_string()).unwrap_or_default();
        let what = outcome(words, &other.jump);
        let text = words.say("jumps-wrong-attempt-there", &[("n", (&n).into()), ("what", (&what).into())]);
        troubles.add("attempt", text);
        return Ok(wrong(troubles.found));
    }
    let (scope, draft) = match &edited {
        Some((held, _, _)) => (held.key.scope, Draft::replacing(held, Fact::Jump(jump))),
        None => (Scope::Member(member), Draft::new(Fact::Jump(jump))),
    };
    let written = match book.write(scope, &draft, env.stamp()) {
        Ok(written) => written,
        // Whatever the fact still refuses is said, and nothing typed is lost.
        Err(BookError::Refused(refusal)) => {
            troubles.add("", refusal.to_string());
            return Ok(wrong(troubles.found));
        }
        Err(error) => return Err(error.into()),
    };
    Ok(AttemptSaved { id: own.unwrap_or(written).to_string(), troubles: Vec::new() })
}

/// Another attempt of that day and event with the same number.
fn same_number(
    book: &Book,
    member: MemberId,
    jump: &Jump,
    own: Option<Hash>,
) -> Result<Option<Attempt>, BookError> {
    if jump.attempt.is_none() {
        return Ok(None);
    }
    let of_day = attempts(book, &Catalogue::read(book)?, member, Some((jump.day, jump.day)))?;
    Ok(of_day.into_iter().find(|other| {
        Some(other.id) != own && other.jump.event == jump.event && other.jump.attempt == jump.attempt
    }))
}

/// Takes an attempt back; gives the form it was written down by.
pub(crate) fn withdraw(book: &Book, at: Stamp, id: &str) -> Result<CompetitionForm, ScreenError> {
    let (held, member, jump) = find(book, id)?;
    book.write(held.key.scope, &Draft::replacing(&held, Fact::Deleted), at)?;
    Ok(form_of(member, &jump, &[]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_in_a_field_is_read_as_it_was() {
        for mm in [-3_000, -73, -40, -5, 0, 7, 15, 1_000] {
            assert_eq!(parse_toe_cm(&signed(mm, 10)), Ok(mm), "{}", signed(mm, 10));
        }
        for mm_s in [-15_000, -400, -30, 0, 5, 1_300, 2_030] {
            assert_eq!(parse_wind(&signed(mm_s, 1_000)), Ok(mm_s), "{}", signed(mm_s, 1_000));
        }
        assert_eq!((signed(-40, 10).as_str(), signed(1_300, 1_000).as_str()), ("\u{2212}4", "1.3"));
        for approach in [Approach::Strides(18), Approach::Millimetres(34_500)] {
            assert_eq!(run_up(&run_up_text(Some(approach))), Ok(approach));
        }
        for odd in ["0", "31", "18 strides", "m", "0.3m", "61 m", "-4"] {
            assert_eq!(run_up(odd), Err(()), "{odd}");
        }
    }
}
