//! `pitside jump list`: attempts by run-up, with bests, mean, the board, and the shift of
//! the start mark.

use std::collections::BTreeMap;
use std::io::{self, Write};

use pitside_book::store::{Book, Filter};
use pitside_model::facts::{Approach, Fact, Hash, Jump, JumpEvent, Outcome, Scope, Take, Wind, kind};
use pitside_model::jump::board::{Accuracy, Shift, ShiftError, Toes};
use pitside_model::jump::distance::{effective, metres, parse_metres};
use pitside_model::jump::history::{Alike, History, by_approach};
use pitside_model::jump::phase::{Class, JumpTimes, Shares};
use pitside_model::jump::wind::{ForRecords, for_records, reading_tenths};
use pitside_model::timing::{Scale, Timed};
use serde::Serialize;
use serde_json::{Value, json};

use crate::failure::{Exit, Failure};
use crate::lookup;

const JSON_HELP: &str = "\
JSON keys (--json): member, groups ({event, strides or run_up_mm (both null where the run-up was
not written down), attempts ({id, day, attempt, distance_mm (null for a foul), wind_tenths_m_s,
records (allowed, indoors, too-strong, not-by-rule, no-gauge or not-said), toe_mm (positive over
the line), start_mm, effective_mm, shares_percent (hop, step, jump), class, contacts_s, flights_s,
hop_m_s, step_m_s, speed_lost, speed_lost_u}), fouls, best_mm, best_for_records_mm,
best_effective_mm, mean_mm, mean_half_width_95_mm, sd_mm, board ({toes, over, without_toe,
fouls_without_toe, without_start, bias_mm, bias_half_width_95_mm, sd_mm, sd_95_mm}; null below three
toes), shift ({foul_share, aim_mm, back_mm (negative: toward the pit), back_95_mm,
next_foul_share, from_start_mm}; null below three toes)}).";

/// The arguments of `pitside jump list`.
#[derive(clap::Args)]
#[command(after_help = JSON_HELP)]
pub(super) struct Args {
    /// Whose, by name or id [default: the one this device serves]
    #[arg(long, value_name = "NAME")]
    member: Option<String>,
    /// Of this event only: long-jump or triple-jump
    #[arg(long, value_name = "EVENT", value_parser = super::parse_event)]
    event: Option<JumpEvent>,
    /// With a run-up of so many strides only
    #[arg(long, value_name = "N", conflicts_with = "run_up")]
    strides: Option<u16>,
    /// With a run-up of so many metres only
    #[arg(long, value_name = "M", value_parser = parse_metres)]
    run_up: Option<u32>,
    /// With at least this wind only, in m/s
    #[arg(long, value_name = "M/S", allow_hyphen_values = true, value_parser = super::parse_wind)]
    wind_from: Option<i32>,
    /// With at most this wind only
    #[arg(long, value_name = "M/S", allow_hyphen_values = true, value_parser = super::parse_wind)]
    wind_to: Option<i32>,
    /// The share of toes over the line to aim at, 0.001 to 0.5 (the default is ours, no source)
    #[arg(long, value_name = "SHARE", default_value_t = 0.1)]
    foul_share: f64,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

impl Args {
    fn takes(&self, jump: &Jump) -> bool {
        let wind = (self.wind_from.is_some() || self.wind_to.is_some()).then(|| {
            let tenths = |mm_s: Option<i32>, open| mm_s.map_or(open, reading_tenths);
            (tenths(self.wind_from, i32::MIN), tenths(self.wind_to, i32::MAX))
        });
        let approach = self.strides.map(Approach::Strides).or(self.run_up.map(Approach::Millimetres));
        Alike { event: self.event.unwrap_or(jump.event), approach, wind_tenths: wind }.takes(jump)
    }
}

/// Attempts alike in event and run-up, with what they say together.
struct Group {
    history: History,
    toes: Toes,
    accuracy: Option<Accuracy>,
    shift: Option<Shift>,
}

/// What is known of an attempt beside what it says.
struct Beside {
    id: Hash,
    /// Nothing where there is no take, or its events are not those of the event.
    times: Option<JumpTimes>,
}

pub(super) fn run(args: &Args, book: &Book, out: &mut dyn Write) -> Result<(), Failure> {
    let member = lookup::own_or_named(book, args.member.as_deref())?;
    let scope = Some(Scope::Member(member));
    let held = book.held(&Filter { scope, kind: Some(kind::JUMP), ..Filter::default() })?;
    let (ids, jumps): (Vec<Hash>, Vec<Jump>) = held
        .iter()
        .filter_map(|held| match (held.id(), held.fact()) {
            (Some(id), Some(Fact::Jump(jump))) if args.takes(jump) => Some((id, jump.clone())),
            _ => None,
        })
        .unzip();
    // A take that is not here, or was taken back, says nothing.
    let takes = if jumps.iter().any(|jump| jump.take.is_some()) {
        book.held(&Filter { scope, kind: Some(kind::TAKE), ..Filter::default() })?
    } else {
        Vec::new()
    };
    let takes: BTreeMap<Hash, &Take> = takes
        .iter()
        .filter_map(|held| match (held.id(), held.fact()) {
            (Some(id), Some(Fact::Take(take))) => Some((id, take)),
            _ => None,
        })
        .collect();
    let times = |jump: &Jump| {
        let take = takes.get(&jump.take?)?;
        JumpTimes::read(jump, &take.events, &Scale::of(take)).ok()
    };
    let besides: Vec<Beside> =
        ids.into_iter().zip(&jumps).map(|(id, jump)| Beside { id, times: times(jump) }).collect();
    let mut groups = Vec::new();
    for history in by_approach(&jumps) {
        let toes = Toes::of(history.attempts.iter().filter_map(|at| jumps.get(*at)));
        let shift = match toes.shift(args.foul_share) {
            Ok(shift) => Some(shift),
            Err(ShiftError::TooFew { .. }) => None,
            Err(error @ ShiftError::Share) => return Err(Failure::new(Exit::Usage, error.to_string())),
        };
        groups.push(Group { history, accuracy: toes.accuracy(), toes, shift });
    }
    let name = lookup::called(book, member)?;
    if args.json {
        let groups: Vec<GroupReport> = groups.iter().map(|group| group.report(&jumps, &besides)).collect();
        serde_json::to_writer(&mut *out, &json!({ "member": name, "groups": groups }))?;
        writeln!(out)?;
        return Ok(());
    }
    if groups.is_empty() {
        writeln!(out, "No such jump is written down for {name}.")?;
    }
    for group in &groups {
        group.print(&name, &jumps, &besides, out)?;
    }
    Ok(())
}

/// The number of letters of an id that are shown: enough to name an attempt by.
const SHORT: usize = 8;

/// An attempt in JSON.
#[derive(Serialize)]
struct AttemptReport {
    id: String,
    day: String,
    attempt: Option<u16>,
    distance_mm: Option<u32>,
    wind_tenths_m_s: Option<i32>,
    records: &'static str,
    toe_mm: Option<i32>,
    start_mm: Option<u32>,
    effective_mm: Option<u32>,
    shares_percent: Option<[f64; 3]>,
    class: Option<&'static str>,
    contacts_s: Vec<f64>,
    flights_s: Vec<f64>,
    hop_m_s: Option<f64>,
    step_m_s: Option<f64>,
    speed_lost: Option<f64>,
    speed_lost_u: Option<f64>,
}

/// A group in JSON.
#[derive(Serialize)]
struct GroupReport {
    event: &'static str,
    strides: Option<u16>,
    run_up_mm: Option<u32>,
    attempts: Vec<AttemptReport>,
    fouls: usize,
    best_mm: Option<u32>,
    best_for_records_mm: Option<u32>,
    best_effective_mm: Option<u32>,
    mean_mm: Option<f64>,
    mean_half_width_95_mm: Option<f64>,
    sd_mm: Option<f64>,
    board: Option<Value>,
    shift: Option<Value>,
}

fn seconds<'a>(timed: impl IntoIterator<Item = &'a Timed>) -> Vec<f64> {
    timed.into_iter().map(|timed| timed.seconds).collect()
}

fn distance(jump: &Jump) -> Option<u32> {
    match jump.outcome {
        Outcome::Measured(mm) => Some(mm),
        Outcome::Foul => None,
    }
}

fn wind_tenths(jump: &Jump) -> Option<i32> {
    match jump.wind {
        Some(Wind::Gauge(mm_s)) => Some(reading_tenths(mm_s)),
        Some(Wind::NoGauge) | None => None,
    }
}

impl AttemptReport {
    fn of(jump: &Jump, beside: &Beside) -> Self {
        let times = beside.times.as_ref();
        let speeds = times.and_then(|times| times.speeds);
        let shares = Shares::of(jump).ok();
        Self {
            id: beside.id.to_string(),
            day: jump.day.to_string(),
            attempt: jump.attempt,
            distance_mm: distance(jump),
            wind_tenths_m_s: wind_tenths(jump),
            records: match for_records(jump) {
                ForRecords::Allowed => "allowed",
                ForRecords::Indoors => "indoors",
                ForRecords::TooStrong => "too-strong",
                ForRecords::NotByRule => "not-by-rule",
                ForRecords::NoGauge => "no-gauge",
                ForRecords::NotSaid => "not-said",
            },
            toe_mm: jump.toe_mm,
            start_mm: jump.start_mm,
            effective_mm: effective(jump).map(|found| found.effective_mm),
            shares_percent: shares.map(|shares| shares.hundredths().map(|n| f64::from(n) / 100.0)),
            class: shares.map(|shares| class_name(shares.class())),
            contacts_s: times.map_or_else(Vec::new, |times| seconds(&times.contacts)),
            flights_s: times
                .map_or_else(Vec::new, |times| seconds(times.flights.iter().chain(&times.last_flight))),
            hop_m_s: speeds.map(|speeds| speeds.hop_m_s),
            step_m_s: speeds.map(|speeds| speeds.step_m_s),
            speed_lost: speeds.map(|speeds| speeds.lost),
            speed_lost_u: speeds.map(|speeds| speeds.lost_u),
        }
    }
}

impl Group {
    fn report(&self, jumps: &[Jump], besides: &[Beside]) -> GroupReport {
        let history = &self.history;
        let best = |at: Option<usize>| jumps.get(at?);
        let spread = history.mean.and_then(|mean| mean.spread);
        let attempt = |at: &usize| Some(AttemptReport::of(jumps.get(*at)?, besides.get(*at)?));
        GroupReport {
            event: history.event.word(),
            strides: match history.approach {
                Some(Approach::Strides(n)) => Some(n),
                _ => None,
            },
            run_up_mm: match history.approach {
                Some(Approach::Millimetres(mm)) => Some(mm),
                _ => None,
            },
            attempts: history.attempts.iter().filter_map(attempt).collect(),
            fouls: history.fouls,
            best_mm: best(history.best).and_then(distance),
            best_for_records_mm: best(history.best_for_records).and_then(distance),
            best_effective_mm: best(history.best_effective).and_then(effective).map(|e| e.effective_mm),
            mean_mm: history.mean.map(|mean| mean.mm),
            mean_half_width_95_mm: spread.map(|spread| spread.half_width_95_mm),
            sd_mm: spread.map(|spread| spread.sd_mm),
            board: self.accuracy.map(|board| {
                json!({
                    "toes": board.count,
                    "over": self.toes.over,
                    "without_toe": self.toes.without_toe,
                    "fouls_without_toe": self.toes.fouls_without_toe,
                    "without_start": self.toes.without_start,
                    "bias_mm": board.bias_mm,
                    "bias_half_width_95_mm": board.bias_half_width_95_mm,
                    "sd_mm": board.sd_mm,
                    "sd_95_mm": [board.sd_95_mm.0, board.sd_95_mm.1],
                })
            }),
            shift: self.shift.map(|shift| {
                json!({
                    "foul_share": shift.foul_share,
                    "aim_mm": shift.aim_mm,
                    "back_mm": shift.back_mm,
                    "back_95_mm": [shift.back_95_mm.0, shift.back_95_mm.1],
                    "next_foul_share": shift.next_foul_share,
                    "from_start_mm": self.toes.start_mm,
                })
            }),
        }
    }

    fn print(&self, name: &str, jumps: &[Jump], besides: &[Beside], out: &mut dyn Write) -> io::Result<()> {
        let history = &self.history;
        let run_up = match history.approach {
            Some(Approach::Strides(n)) => format!("run-up of {n} strides"),
            Some(Approach::Millimetres(mm)) => format!("run-up of {} m", metres(mm)),
            None => "run-up not written down".to_owned(),
        };
        writeln!(out, "{name}, {}, {run_up}", event_name(history.event))?;
        for at in &history.attempts {
            if let (Some(jump), Some(beside)) = (jumps.get(*at), besides.get(*at)) {
                writeln!(out, "  {}", attempt_line(jump, beside))?;
            }
        }
        let best = |at: Option<usize>| jumps.get(at?);
        if let Some((jump, mm)) = best(history.best).and_then(|jump| Some((jump, distance(jump)?))) {
            writeln!(out, "  Best: {} m on {}", metres(mm), jump.day)?;
        }
        match best(history.best_for_records).and_then(distance) {
            Some(mm) => writeln!(out, "  Best with a wind that allows a record: {} m", metres(mm))?,
            None if history.best.is_some() => writeln!(out, "  None with a wind known to allow a record")?,
            None => {}
        }
        if let Some(found) = best(history.best_effective).and_then(effective) {
            writeln!(out, "  Longest from toe to mark: {} m", metres(found.effective_mm))?;
        }
        if let Some(mean) = history.mean.filter(|mean| mean.count > 1) {
            let half = mean.spread.map_or(0.0, |spread| spread.half_width_95_mm) / 1_000.0;
            let (metres, count) = (mean.mm / 1_000.0, mean.count);
            writeln!(out, "  Mean of {count}: {metres:.3} m ± {half:.3} m (95 %, Student's t)")?;
        }
        self.print_board(out)
    }

    fn print_board(&self, out: &mut dyn Write) -> io::Result<()> {
        let toes = &self.toes;
        let (Some(board), Some(shift)) = (self.accuracy, self.shift) else {
            let found = toes.toes_mm.len();
            return writeln!(
                out,
                "  The board: {found} toes are written down, from three on they say something"
            );
        };
        writeln!(
            out,
            "  The board: {} toes, {} over the line; mean {} ± {:.1} cm, spread {:.1} cm (95 %: {:.1} to {:.1} cm)",
            board.count,
            toes.over,
            side(board.bias_mm),
            board.bias_half_width_95_mm / 10.0,
            board.sd_mm / 10.0,
            board.sd_95_mm.0 / 10.0,
            board.sd_95_mm.1 / 10.0,
        )?;
        let percent = |share: f64| format!("{:.0} %", 100.0 * share);
        writeln!(
            out,
            "  For {} over the line: aim {:.1} cm behind it, start mark {} (95 %: {} to {}, exact for \
             normal spread by the noncentral t); of the next toes expect {}",
            percent(shift.foul_share),
            shift.aim_mm / 10.0,
            moved(shift.back_mm),
            moved(shift.back_95_mm.0),
            moved(shift.back_95_mm.1),
            percent(shift.next_foul_share),
        )?;
        if let Some(mm) = toes.start_mm {
            writeln!(out, "  That is from the latest start mark, {} m", metres(mm))?;
        }
        if toes.without_start > 0 {
            writeln!(out, "  Left out for want of a start mark beside the toe: {}", toes.without_start)?;
        }
        if toes.fouls_without_toe > 0 {
            writeln!(
                out,
                "  Fouls without a toe, which mean and spread leave out: {}",
                toes.fouls_without_toe
            )?;
        }
        writeln!(
            out,
            "  It holds as long as the toe spreads as before; move the mark in small steps and look again"
        )
    }
}

fn attempt_line(jump: &Jump, beside: &Beside) -> String {
    let short: String = beside.id.to_string().chars().take(SHORT).collect();
    let mut parts = vec![short];
    parts.push(match jump.attempt {
        Some(n) => format!("{} attempt {n}", jump.day),
        None => jump.day.to_string(),
    });
    parts.push(distance(jump).map_or_else(|| "foul".to_owned(), |mm| format!("{} m", metres(mm))));
    if let Some(tenths) = wind_tenths(jump) {
        let sign = if tenths < 0 { '-' } else { '+' };
        parts.push(format!("wind {sign}{}.{} m/s", tenths.abs() / 10, tenths.abs() % 10));
    }
    if let Some(mm) = jump.toe_mm {
        parts.push(format!("toe {}", side(f64::from(mm))));
    }
    if let Some(found) = effective(jump).filter(|found| found.loss_mm != 0) {
        parts.push(format!("toe to mark {} m", metres(found.effective_mm)));
    }
    if let Ok(shares) = Shares::of(jump) {
        let [hop, step, last] = shares.hundredths().map(|n| format!("{:.1}", f64::from(n) / 100.0));
        parts.push(format!("{hop}/{step}/{last} %, {}", class_name(shares.class())));
    }
    if let Some(times) = &beside.times {
        let ms: Vec<String> =
            times.contacts.iter().map(|timed| format!("{:.0}", timed.seconds * 1_000.0)).collect();
        parts.push(format!("contacts {} ms", ms.join("/")));
    }
    if let Some(speeds) = beside.times.as_ref().and_then(|times| times.speeds) {
        parts.push(format!("hop to step {:.1} % slower ± {:.1}", 100.0 * speeds.lost, 196.0 * speeds.lost_u));
    }
    parts.join(", ")
}

/// A position beside the line.
fn side(mm: f64) -> String {
    let which = if mm > 0.0 { "over the line" } else { "behind the line" };
    format!("{:.1} cm {which}", mm.abs() / 10.0)
}

/// A shift of the start mark.
fn moved(back_mm: f64) -> String {
    let which = if back_mm < 0.0 { "toward the pit" } else { "back" };
    format!("{:.1} cm {which}", back_mm.abs() / 10.0)
}

pub(super) fn event_name(event: JumpEvent) -> &'static str {
    match event {
        JumpEvent::Long => "long jump",
        JumpEvent::Triple => "triple jump",
    }
}

fn class_name(class: Class) -> &'static str {
    match class {
        Class::HopDominated => "hop-dominated",
        Class::JumpDominated => "jump-dominated",
        Class::Balanced => "balanced",
        Class::StepLongest => "step-longest",
    }
}
