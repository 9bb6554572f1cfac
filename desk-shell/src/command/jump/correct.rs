//! `pitside jump correct` and `withdraw`: an attempt that was written down wrongly.
//!
//! A correction is a fact of its own that takes the place of the one that was seen.

use std::io::Write;

use clap::ValueEnum;
use pitside_book::clock::{Clock, SystemClock};
use pitside_book::store::{Book, Draft, Filter, Held};
use pitside_model::facts::{Approach, Fact, Jump, MemberId, Outcome, Phases, Scope, Wind, kind};
use pitside_model::jump::distance::official_mm;

use super::{Attempt, came_out, take, unwritten};
use crate::failure::{Exit, Failure};
use crate::lookup;

/// The arguments of `pitside jump correct`.
#[derive(clap::Args)]
pub(super) struct Args {
    /// The attempt, by the first letters of its id, as `pitside jump list` shows it
    #[arg(value_name = "ID")]
    id: String,
    #[command(flatten)]
    attempt: Attempt,
    /// What was written down and is not so: left out from now on
    #[arg(long, value_name = "WHAT", value_enum)]
    clear: Vec<Field>,
}

/// The arguments of `pitside jump withdraw`.
#[derive(clap::Args)]
pub(super) struct WithdrawArgs {
    /// The attempt, by the first letters of its id
    #[arg(value_name = "ID")]
    id: String,
    /// Whose, by name or id [default: of whomever this book holds]
    #[arg(long, value_name = "NAME")]
    member: Option<String>,
}

/// What an attempt may go without.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Field {
    Attempt,
    Board,
    Competition,
    Indoor,
    Phases,
    Pit,
    Place,
    RunUp,
    StartMark,
    Take,
    Toe,
    Wind,
}

pub(super) fn run(args: &Args, book: &Book, out: &mut dyn Write) -> Result<(), Failure> {
    let said = &args.attempt;
    let (held, member, before) = find(book, said.member.as_deref(), &args.id)?;
    let mut jump = before;
    for field in &args.clear {
        clear(&mut jump, *field);
    }
    fill(&mut jump, said);
    if let Some(id) = &said.take {
        jump.take = Some(take(book, member, id)?);
    }
    let draft = Draft::replacing(&held, Fact::Jump(jump.clone()));
    book.write(held.key.scope, &draft, SystemClock.now()).map_err(unwritten)?;
    let name = lookup::called(book, member)?;
    writeln!(out, "Corrected: {}: {name}, {}", jump.day, came_out(&jump))?;
    Ok(())
}

pub(super) fn withdraw(args: &WithdrawArgs, book: &Book, out: &mut dyn Write) -> Result<(), Failure> {
    let (held, member, jump) = find(book, args.member.as_deref(), &args.id)?;
    book.write(held.key.scope, &Draft::replacing(&held, Fact::Deleted), SystemClock.now())?;
    let name = lookup::called(book, member)?;
    writeln!(out, "Taken back: {}: {name}, {}", jump.day, came_out(&jump))?;
    Ok(())
}

/// The attempt whose id begins with these letters.
fn find(book: &Book, member: Option<&str>, wanted: &str) -> Result<(Held, MemberId, Jump), Failure> {
    let scope = match member {
        Some(named) => Some(Scope::Member(lookup::own_or_named(book, Some(named))?)),
        None => None,
    };
    let held = book.held(&Filter { scope, kind: Some(kind::JUMP), ..Filter::default() })?;
    let mut found =
        held.into_iter().filter_map(|held| match (held.id(), held.key.scope.member(), held.fact()) {
            (Some(id), Some(member), Some(Fact::Jump(jump))) if id.to_string().starts_with(wanted) => {
                let jump = jump.clone();
                Some((held, member, jump))
            }
            _ => None,
        });
    match (found.next(), found.next()) {
        (Some(one), None) => Ok(one),
        (Some(_), Some(_)) => {
            Err(Failure::new(Exit::Usage, format!("several attempts begin with {wanted:?}"))
                .hint("give more letters of the id"))
        }
        (None, _) => Err(Failure::new(Exit::Usage, format!("no attempt begins with {wanted:?}"))
            .hint("see: pitside jump list")),
    }
}

fn clear(jump: &mut Jump, field: Field) {
    match field {
        Field::Attempt => jump.attempt = None,
        Field::Board => jump.board = None,
        Field::Competition => jump.competition = false,
        Field::Indoor => jump.indoor = false,
        Field::Phases => jump.phases = Phases::default(),
        Field::Pit => jump.pit_mm = None,
        Field::Place => jump.place = None,
        Field::RunUp => jump.approach = None,
        Field::StartMark => jump.start_mm = None,
        Field::Take => jump.take = None,
        Field::Toe => jump.toe_mm = None,
        Field::Wind => (jump.wind, jump.wind_rule) = (None, None),
    }
}

/// Puts what was said in the place of what was written.
fn fill(jump: &mut Jump, said: &Attempt) {
    jump.day = said.day.unwrap_or(jump.day);
    jump.event = said.event.unwrap_or(jump.event);
    jump.indoor |= said.indoor;
    jump.competition |= said.competition;
    jump.place = said.place.clone().or(jump.place.take());
    jump.attempt = said.attempt.or(jump.attempt);
    jump.outcome = match said.distance {
        Some(mm) => Outcome::Measured(official_mm(mm)),
        None if said.foul => Outcome::Foul,
        None => jump.outcome,
    };
    jump.toe_mm = said.toe.or(jump.toe_mm);
    if said.no_gauge {
        (jump.wind, jump.wind_rule) = (Some(Wind::NoGauge), None);
    }
    jump.wind = said.wind.map(Wind::Gauge).or(jump.wind);
    jump.wind_rule = said.wind_rule.or(jump.wind_rule);
    jump.approach =
        said.strides.map(Approach::Strides).or(said.run_up.map(Approach::Millimetres)).or(jump.approach);
    jump.start_mm = said.start_mark.or(jump.start_mm);
    jump.pit_mm = said.pit.or(jump.pit_mm);
    jump.board = said.board.or(jump.board);
    jump.phases = Phases {
        hop_mm: said.hop.or(jump.phases.hop_mm),
        step_mm: said.step.or(jump.phases.step_mm),
        jump_mm: said.jump.or(jump.phases.jump_mm),
    };
}
