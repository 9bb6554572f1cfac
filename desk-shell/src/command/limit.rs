//! `pitside limit`: what a member may not do until when.

use std::io::Write;
use std::sync::Arc;

use clap::Subcommand;
use pitside_book::clock::SystemClock;
use pitside_model::facts::{Day, SaidBy, Side};
use pitside_screen::Companion;
use pitside_screen::record::{BodyRow, LimitForm};
use serde_json::{Value, json};

use super::log::parse_day;
use crate::device::{self, Where};
use crate::failure::Failure;
use crate::lookup;

const EXAMPLES: &str = "\
Examples:
  pitside limit set Ino --no-one-leg left --until 2026-12-20
  pitside limit set Ino --box-cm 30 --no-run-in --said-by clinician --note \"after the ankle\"
  pitside limit list Ino --json
  pitside limit lift Ino ID";

/// The arguments of `pitside limit`.
#[derive(clap::Args)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
    /// Print JSON
    #[arg(long, global = true)]
    json: bool,
    #[command(flatten)]
    at: Where,
}

/// What to do about limits.
#[derive(Subcommand)]
enum What {
    /// Write a limit down
    Set {
        /// Name or id
        name: String,
        /// No one-leg contacts on this side
        #[arg(long, value_name = "SIDE")]
        no_one_leg: Option<Side>,
        /// No run-in
        #[arg(long)]
        no_run_in: bool,
        /// Boxes and platforms up to so many centimetres
        #[arg(long, value_name = "CM")]
        box_cm: Option<String>,
        /// The first day [default: today]
        #[arg(long, value_name = "DATE", value_parser = parse_day)]
        from: Option<Day>,
        /// The last day [default: until it is lifted]
        #[arg(long, value_name = "DATE", value_parser = parse_day)]
        until: Option<Day>,
        /// On whose word: coach or clinician
        #[arg(long, value_name = "WHO", default_value = "coach")]
        said_by: SaidBy,
        /// In words
        #[arg(long, value_name = "TEXT")]
        note: Option<String>,
    },
    /// List the limits of a member
    List {
        /// Name or id
        name: String,
    },
    /// Lift a limit: it ends with yesterday, and stays readable
    Lift {
        /// Name or id
        name: String,
        /// The limit, as the list names it
        id: String,
    },
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = Arc::new(args.at.open()?);
    let env = device::env(&SystemClock);
    let companion = Companion::over(Arc::clone(&book));
    let day = |day: &Option<Day>| day.map_or_else(String::new, |day| day.to_string());
    let (member, written) = match &args.what {
        What::Set { name, no_one_leg, no_run_in, box_cm, from, until, said_by, note } => {
            let member = lookup::member(&book, name)?.to_string();
            let form = LimitForm {
                member: member.clone(),
                from: day(from),
                until: day(until),
                no_one_leg: no_one_leg.map_or("", Side::word).to_owned(),
                no_approach: *no_run_in,
                max_box_cm: box_cm.clone().unwrap_or_default(),
                said_by: said_by.word().to_owned(),
                note: note.clone().unwrap_or_default(),
            };
            let id = companion.save_limit(&env, &form)?;
            (member, Some(id))
        }
        What::List { name } => (lookup::member(&book, name)?.to_string(), None),
        What::Lift { name, id } => {
            let member = lookup::member(&book, name)?.to_string();
            companion.end_body(&env, &member, id)?;
            (member, None)
        }
    };
    let rows = companion.body(&env, &member)?.limits;
    let rows: Vec<&BodyRow> =
        rows.iter().filter(|row| written.as_ref().is_none_or(|id| *id == row.id)).collect();
    if args.json {
        writeln!(out, "{}", json!({ "limits": rows.iter().map(|row| json_of(row)).collect::<Vec<_>>() }))?;
        return Ok(());
    }
    for row in &rows {
        writeln!(out, "{}  {}", row.id, row.spoken)?;
    }
    if rows.is_empty() {
        writeln!(out, "No limit is written down.")?;
    }
    Ok(())
}

/// Keys: `id`, `text`, `holds`.
fn json_of(row: &BodyRow) -> Value {
    json!({ "id": row.id, "text": row.text, "holds": row.note.is_empty() })
}
