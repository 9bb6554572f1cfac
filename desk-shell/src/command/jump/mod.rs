//! `pitside jump`: writes an attempt at the long or triple jump down, and shows what the
//! attempts say together.

mod correct;
mod list;

use std::io::Write;

use clap::Subcommand;
use pitside_book::clock::{Clock, SystemClock};
use pitside_book::store::{Book, BookError, Draft, Filter};
use pitside_model::facts::{
    Approach, Board, Day, Fact, Hash, Jump, JumpEvent, MemberId, Outcome, Phases, Scope, UnknownWord, Wind,
    WindRule, kind,
};
use pitside_model::jump::distance::{metres, official_mm, parse_metres};
use pitside_model::jump::reading::{parse_toe, parse_wind};

use crate::device::Where;
use crate::failure::{Exit, Failure};
use crate::lookup;

const EXAMPLES: &str = "\
Examples:
  pitside jump --event long-jump --distance 6.42 --wind 1.3 --toe -4cm --strides 18
  pitside jump --event long-jump --foul --toe 1.5cm --strides 18 --start-mark 34.15
  pitside jump --event triple-jump --distance 14.02 --toe 0cm --hop 5.15 --step 4.08 --jump 4.79
  pitside jump list --member Ino --event long-jump --strides 18 --foul-share 0.1
  pitside jump correct 3f9a01c2 --toe -6cm --clear wind
  pitside jump withdraw 3f9a01c2";

/// The arguments of `pitside jump`.
#[derive(clap::Args)]
#[command(after_help = EXAMPLES, args_conflicts_with_subcommands = true)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: Option<What>,
    #[command(flatten)]
    attempt: Attempt,
    #[command(flatten)]
    at: Where,
}

/// What to do beside writing an attempt down.
#[derive(Subcommand)]
enum What {
    /// Show attempts by run-up: bests, mean, the board, and the shift of the start mark
    List(list::Args),
    /// Correct an attempt: what is said takes the place of what was written
    Correct(correct::Args),
    /// Take an attempt back
    Withdraw(correct::WithdrawArgs),
}

/// An attempt, as it is said on the command line.
#[derive(clap::Args)]
struct Attempt {
    /// Whose, by name or id [default: the one this device serves]
    #[arg(long, value_name = "NAME")]
    member: Option<String>,
    /// The day [default: today]
    #[arg(long, value_name = "DATE", value_parser = super::log::parse_day)]
    day: Option<Day>,
    /// long-jump or triple-jump
    #[arg(long, value_name = "EVENT", value_parser = parse_event)]
    event: Option<JumpEvent>,
    /// What the tape showed, in metres; it is written down to the 0.01 m below
    #[arg(long, value_name = "M", value_parser = parse_metres)]
    distance: Option<u32>,
    /// It was a foul
    #[arg(long, conflicts_with = "distance")]
    foul: bool,
    /// From the foul line to the toe at take-off, with cm or mm: negative behind the line,
    /// positive over it
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = parse_toe)]
    toe: Option<i32>,
    /// The reading of the wind gauge in m/s, following wind positive
    #[arg(long, value_name = "M/S", allow_hyphen_values = true, value_parser = parse_wind)]
    wind: Option<i32>,
    /// There was no wind gauge
    #[arg(long, conflicts_with = "wind")]
    no_gauge: bool,
    /// From where the reading ran: from-mark, from-start or otherwise
    #[arg(long, value_name = "RULE", requires = "wind", value_parser = parse_wind_rule)]
    wind_rule: Option<WindRule>,
    /// Strides of the run-up
    #[arg(long, value_name = "N", conflicts_with = "run_up")]
    strides: Option<u16>,
    /// Metres of the run-up
    #[arg(long, value_name = "M", value_parser = parse_metres)]
    run_up: Option<u32>,
    /// Tape reading of the start mark: metres before the foul line
    #[arg(long, value_name = "M", value_parser = parse_metres)]
    start_mark: Option<u32>,
    /// From the foul line to the pit in metres
    #[arg(long, value_name = "M", value_parser = parse_metres)]
    pit: Option<u32>,
    /// How the line was watched: plane, indicator, by-eye or zone
    #[arg(long, value_name = "BOARD", value_parser = parse_board)]
    board: Option<Board>,
    /// Indoors
    #[arg(long)]
    indoor: bool,
    /// In a competition
    #[arg(long)]
    competition: bool,
    /// Where
    #[arg(long, value_name = "TEXT")]
    place: Option<String>,
    /// Which attempt of the day
    #[arg(long, value_name = "N")]
    attempt: Option<u16>,
    /// The hop of a triple jump in metres
    #[arg(long, value_name = "M", value_parser = parse_metres)]
    hop: Option<u32>,
    /// The step
    #[arg(long, value_name = "M", value_parser = parse_metres)]
    step: Option<u32>,
    /// The jump
    #[arg(long, value_name = "M", value_parser = parse_metres)]
    jump: Option<u32>,
    /// The take of its clip, by the first letters of its id
    #[arg(long, value_name = "ID")]
    take: Option<String>,
}

fn parse_event(text: &str) -> Result<JumpEvent, UnknownWord> {
    text.parse()
}

fn parse_wind_rule(text: &str) -> Result<WindRule, UnknownWord> {
    text.parse()
}

fn parse_board(text: &str) -> Result<Board, UnknownWord> {
    text.parse()
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    match &args.what {
        Some(What::List(list)) => list::run(list, &args.at.open()?, out),
        Some(What::Correct(correct)) => correct::run(correct, &args.at.open()?, out),
        Some(What::Withdraw(withdraw)) => correct::withdraw(withdraw, &args.at.open()?, out),
        None => log(args, out),
    }
}

fn log(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let now = SystemClock.now();
    let book = args.at.open_or_create()?;
    let said = &args.attempt;
    let missing = |what: &str| Failure::new(Exit::Usage, what).hint("see: pitside jump --help");
    let event = said.event.ok_or_else(|| missing("name the event: --event long-jump or triple-jump"))?;
    let outcome = match said.distance {
        Some(mm) => Outcome::Measured(official_mm(mm)),
        None if said.foul => Outcome::Foul,
        None => return Err(missing("say how far it was, --distance, or that it was a --foul")),
    };
    if book.squad().is_none() {
        book.start_member(now)?;
    }
    let member = lookup::own_or_named(&book, said.member.as_deref())?;
    let jump = Jump {
        day: said.day.unwrap_or_else(|| now.day()),
        event,
        indoor: said.indoor,
        competition: said.competition,
        place: said.place.clone(),
        attempt: said.attempt,
        outcome,
        toe_mm: said.toe,
        wind: said.wind.map(Wind::Gauge).or(said.no_gauge.then_some(Wind::NoGauge)),
        wind_rule: said.wind_rule,
        approach: said.strides.map(Approach::Strides).or(said.run_up.map(Approach::Millimetres)),
        start_mm: said.start_mark,
        pit_mm: said.pit,
        board: said.board,
        phases: Phases { hop_mm: said.hop, step_mm: said.step, jump_mm: said.jump },
        take: said.take.as_deref().map(|id| take(&book, member, id)).transpose()?,
    };
    book.write(Scope::Member(member), &Draft::new(Fact::Jump(jump.clone())), now).map_err(unwritten)?;
    let name = lookup::called(&book, member)?;
    writeln!(out, "{}: {name}, {}", jump.day, came_out(&jump))?;
    Ok(())
}

/// Why an attempt was not written down. What was said of it is the command line's.
fn unwritten(error: BookError) -> Failure {
    match error {
        BookError::Refused(refusal) => Failure::new(Exit::Usage, refusal.to_string()),
        other => other.into(),
    }
}

/// The event of an attempt and how it came out.
fn came_out(jump: &Jump) -> String {
    let event = list::event_name(jump.event);
    match jump.outcome {
        Outcome::Measured(mm) => format!("{event}, {} m", metres(mm)),
        Outcome::Foul => format!("{event}, foul"),
    }
}

/// The member's take whose id begins with these letters.
fn take(book: &Book, member: MemberId, wanted: &str) -> Result<Hash, Failure> {
    let scope = Some(Scope::Member(member));
    let held = book.held(&Filter { scope, kind: Some(kind::TAKE), ..Filter::default() })?;
    let mut found = held.iter().filter_map(|held| match (held.id(), held.fact()) {
        (Some(id), Some(Fact::Take(_))) if id.to_string().starts_with(wanted) => Some(id),
        _ => None,
    });
    match (found.next(), found.next()) {
        (Some(one), None) => Ok(one),
        (Some(_), Some(_)) => Err(Failure::new(Exit::Usage, format!("several takes begin with {wanted:?}"))
            .hint("give more letters of the id")),
        (None, _) => {
            Err(Failure::new(Exit::Usage, format!("no take of this athlete begins with {wanted:?}")))
        }
    }
}
