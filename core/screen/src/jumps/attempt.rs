//! One attempt in words.

use pitside_model::facts::{Approach, Board, Jump, JumpEvent, Outcome, Wind};
use pitside_model::jump::distance::effective;
use pitside_model::jump::phase::{Class, JumpTimes, Phase, Shares, SharesError, Whole};
use pitside_model::jump::wind::{ForRecords, for_records, reading_tenths};

use super::Attempt;
use crate::figure::{decimal, distance, height, official, timed};
use crate::record::AttemptRow;
use crate::route::Route;
use crate::text::Words;

/// An attempt as a row.
pub(super) fn row(words: &Words, attempt: &Attempt) -> AttemptRow {
    let jump = &attempt.jump;
    let event = words.word(&format!("event-{}", jump.event.word()));
    let title = match jump.attempt {
        Some(n) => {
            words.say("jumps-row-title", &[("event", (&event).into()), ("n", (&n.to_string()).into())])
        }
        None => event,
    };
    let mut notes = Vec::new();
    if attempt.clash {
        notes.push(words.word("jumps-clash"));
    }
    let take = attempt.take.as_ref();
    let times = attempt.times();
    match (jump.take, take, &times) {
        (Some(_), None, _) => notes.push(words.word("jumps-take-missing")),
        (Some(_), Some(_), None) => notes.push(words.word("jumps-take-odd")),
        _ => {}
    }
    if take.is_some_and(|take| take.fact.rendered) {
        notes.push(words.word("take-rendered"));
    }
    let outcome = outcome(words, jump);
    let row = AttemptRow {
        id: attempt.id.to_string(),
        route: Route::Attempt(attempt.id).to_string(),
        wind: wind(words, jump),
        record: match jump.outcome {
            Outcome::Measured(_) => record(words, jump),
            Outcome::Foul => String::new(),
        },
        board: board(words, jump),
        run_up: run_up(words, jump),
        phases: phases(words, jump),
        times: times.map(|times| said(words, &times)).unwrap_or_default(),
        note: notes.join(" "),
        spoken: String::new(),
        title,
        outcome,
    };
    let parts = [
        &row.title,
        &row.outcome,
        &row.wind,
        &row.record,
        &row.board,
        &row.run_up,
        &row.phases,
        &row.times,
        &row.note,
    ];
    let spoken: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).map(String::as_str).collect();
    AttemptRow { spoken: spoken.join("; "), ..row }
}

/// The distance, or that it was a foul.
pub(super) fn outcome(words: &Words, jump: &Jump) -> String {
    match jump.outcome {
        Outcome::Measured(mm) => official(words, mm),
        Outcome::Foul => words.word("jump-foul"),
    }
}

fn wind(words: &Words, jump: &Jump) -> String {
    match jump.wind {
        Some(Wind::Gauge(mm_s)) => {
            let tenths = reading_tenths(mm_s);
            let sign = if tenths > 0 { "+" } else { "" };
            let speed = format!("{sign}{}", decimal(words, f64::from(tenths) / 10.0, 1));
            words.say("jump-wind", &[("speed", (&speed).into())])
        }
        Some(Wind::NoGauge) => words.word("jump-no-gauge"),
        None => String::new(),
    }
}

fn record(words: &Words, jump: &Jump) -> String {
    words.word(match for_records(jump) {
        ForRecords::Allowed => "jumps-record-allowed",
        ForRecords::Indoors => "jumps-record-indoors",
        ForRecords::TooStrong => "jumps-record-too-strong",
        ForRecords::NotByRule => "jumps-record-not-by-rule",
        ForRecords::NoGauge => "jumps-record-no-gauge",
        ForRecords::NotSaid => "jumps-record-not-said",
    })
}

fn board(words: &Words, jump: &Jump) -> String {
    let mut parts = Vec::new();
    if let Some(mm) = jump.toe_mm {
        let key = if mm > 0 { "jump-toe-over" } else { "jump-toe-behind" };
        parts.push(words.say(key, &[("by", (&height(words, mm.unsigned_abs())).into())]));
    }
    if let Some(found) = effective(jump) {
        let whole = distance(words, found.effective_mm, 2);
        let by = height(words, found.loss_mm.unsigned_abs());
        let key = match found.loss_mm {
            0 if jump.board == Some(Board::Zone) => "jumps-effective-zone",
            ..0 => "jumps-effective-gain",
            _ => "jumps-effective",
        };
        parts.push(words.say(key, &[("by", (&by).into()), ("whole", (&whole).into())]));
    }
    parts.join(", ")
}

fn run_up(words: &Words, jump: &Jump) -> String {
    let mut parts: Vec<String> =
        jump.approach.map(|approach| approach_of(words, approach)).into_iter().collect();
    if let Some(mm) = jump.start_mm {
        parts.push(words.say("jump-start-mark", &[("distance", (&distance(words, mm, 2)).into())]));
    }
    parts.extend(jump.board.map(|board| words.word(&format!("line-{}", board.word()))));
    if let Some(mm) = jump.pit_mm {
        parts.push(words.say("jumps-pit", &[("distance", (&distance(words, mm, 2)).into())]));
    }
    parts.join(", ")
}

/// A run-up.
pub(super) fn approach_of(words: &Words, approach: Approach) -> String {
    match approach {
        Approach::Strides(n) => words.say("jumps-strides", &[("n", u64::from(n).into())]),
        Approach::Millimetres(mm) => {
            words.say("jumps-run-up", &[("distance", (&distance(words, mm, 2)).into())])
        }
    }
}

/// The class of phases in words.
fn class(words: &Words, class: Class) -> String {
    words.word(match class {
        Class::HopDominated => "jumps-class-hop",
        Class::JumpDominated => "jumps-class-jump",
        Class::Balanced => "jumps-class-balanced",
        Class::StepLongest => "jumps-class-step",
    })
}

fn phases(words: &Words, jump: &Jump) -> String {
    if jump.event == JumpEvent::Long {
        return String::new();
    }
    let shares = match Shares::of(jump) {
        Ok(shares) => shares,
        Err(SharesError::DoNotAddUp { phases_mm, effective_mm }) => {
            let (sum, whole) = (distance(words, phases_mm, 2), distance(words, effective_mm, 2));
            return words
                .say("jumps-phases-contradict", &[("sum", (&sum).into()), ("whole", (&whole).into())]);
        }
        Err(SharesError::TooFew) => return known(words, jump),
        Err(SharesError::LongJump | SharesError::NotAWhole { .. }) => return String::new(),
    };
    let phase = |((phase, mm), hundredths): ((Phase, u32), u32)| {
        let name = words.word(&format!("move-{}", phase.word()));
        let share = decimal(words, f64::from(hundredths) / 100.0, 1);
        let length = distance(words, mm, 2);
        words.say(
            "jumps-phase",
            &[("phase", (&name).into()), ("length", (&length).into()), ("share", (&share).into())],
        )
    };
    let each = Phase::ALL.into_iter().zip(shares.phases_mm).zip(shares.hundredths());
    let mut said = vec![each.map(phase).collect::<Vec<_>>().join(", ")];
    said.push(class(words, shares.class()));
    let mut text = said.join(": ");
    if shares.is_near_another_class() {
        text = format!("{text}, {}", words.word("jumps-class-near"));
    }
    if let Some(phase) = shares.completed {
        let name = words.word(&format!("move-{}", phase.word()));
        text = format!("{text}; {}", words.say("jumps-phase-completed", &[("phase", (&name).into())]));
    }
    if shares.whole == Whole::Phases {
        text = format!("{text}; {}", words.word("jumps-phases-of-sum"));
    }
    text
}

/// The phases that were measured, where there are too few for shares.
fn known(words: &Words, jump: &Jump) -> String {
    let read = [jump.phases.hop_mm, jump.phases.step_mm, jump.phases.jump_mm];
    let parts: Vec<String> = Phase::ALL
        .into_iter()
        .zip(read)
        .filter_map(|(phase, mm)| {
            let name = words.word(&format!("move-{}", phase.word()));
            Some(format!("{name} {}", distance(words, mm?, 2)))
        })
        .collect();
    if parts.is_empty() {
        return String::new();
    }
    words.say("jumps-phases-few", &[("phases", (&parts.join(", ")).into())])
}

/// What a take says: contact times with their half-widths, and the speed lost.
fn said(words: &Words, times: &JumpTimes) -> String {
    let names: &[&str] =
        if times.contacts.len() == 3 { &["move-hop", "move-step", "move-jump"] } else { &["move-take-off"] };
    let contact = |(name, contact): (&&str, &pitside_model::timing::Timed)| {
        let value = timed(words, contact.seconds, contact.total_half_width_95());
        words.say("jumps-contact", &[("what", (&words.word(name)).into()), ("value", (&value).into())])
    };
    let mut text = names.iter().zip(&times.contacts).map(contact).collect::<Vec<_>>().join(", ");
    if let Some(speeds) = times.speeds {
        let lost = decimal(words, 100.0 * speeds.lost.abs(), 1);
        let half = decimal(words, 196.0 * speeds.lost_u, 1);
        let key = if speeds.lost < 0.0 { "jumps-speed-gained" } else { "jumps-speed-lost" };
        let speed = |m_s: f64| decimal(words, m_s, 1);
        text = format!(
            "{text}; {}",
            words.say(
                key,
                &[
                    ("hop", (&speed(speeds.hop_m_s)).into()),
                    ("step", (&speed(speeds.step_m_s)).into()),
                    ("lost", (&lost).into()),
                    ("half", (&half).into()),
                ],
            )
        );
    }
    text
}
