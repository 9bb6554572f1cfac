//! `pitside test`: results of tests, growth, and how landings are controlled.

use std::io::Write;
use std::sync::Arc;

use pitside_book::clock::SystemClock;
use pitside_model::facts::{Day, Side, Test};
use pitside_screen::Companion;
use pitside_screen::record::{Body, BodyRow, HeightForm, TestForm};
use serde_json::{Value, json};

use super::log::parse_day;
use crate::device::{self, Where};
use crate::failure::Failure;
use crate::lookup;

const EXAMPLES: &str = "\
Examples:
  pitside test Ino --test squat --value 95
  pitside test Ino --test one-leg-stand --side left --value 31.5 --day 2026-11-20
  pitside test Ino --height-cm 166.5
  pitside test Ino --json";

/// The arguments of `pitside test`. Without a value it lists what is there.
#[derive(clap::Args)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Args {
    /// Whose, by name or id, or \"me\"
    name: String,
    /// Which: squat, five-squats, one-leg-stand, vertical-jump, standing-long-jump,
    /// standing-triple-jump, five-bounds, flying-ten or sprint-30
    #[arg(long, value_name = "TEST", requires = "value")]
    test: Option<Test>,
    /// The result: kilograms of a squat, seconds of a time, centimetres of a jump
    #[arg(long, value_name = "NUMBER", requires = "test", allow_negative_numbers = true)]
    value: Option<String>,
    /// The side, of a test on one leg
    #[arg(long, value_name = "SIDE", requires = "test")]
    side: Option<Side>,
    /// Standing height, which tells growth
    #[arg(long, value_name = "CM", conflicts_with = "test")]
    height_cm: Option<String>,
    /// The day [default: today]
    #[arg(long, value_name = "DATE", value_parser = parse_day)]
    day: Option<Day>,
    /// In words
    #[arg(long, value_name = "TEXT", requires = "test")]
    note: Option<String>,
    /// Print JSON
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    at: Where,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = Arc::new(args.at.open()?);
    let env = device::env(&SystemClock);
    let companion = Companion::over(Arc::clone(&book));
    let member = lookup::member(&book, &args.name)?.to_string();
    let day = args.day.map_or_else(String::new, |day| day.to_string());
    let written = if let (Some(test), Some(value)) = (args.test, &args.value) {
        let form = TestForm {
            member: member.clone(),
            test: test.word().to_owned(),
            value: value.clone(),
            side: args.side.map_or("", Side::word).to_owned(),
            day,
            note: args.note.clone().unwrap_or_default(),
        };
        Some(companion.save_test(&env, &form)?)
    } else if let Some(cm) = &args.height_cm {
        Some(companion.save_height(&env, &HeightForm { member: member.clone(), cm: cm.clone(), day })?)
    } else {
        None
    };
    let body = companion.body(&env, &member)?;
    let only = |rows: &[BodyRow]| -> Vec<BodyRow> {
        rows.iter().filter(|row| written.as_ref().is_none_or(|id| *id == row.id)).cloned().collect()
    };
    let body = Body {
        tests: only(&body.tests),
        heights: only(&body.heights),
        controls: only(&body.controls),
        ..body
    };
    if args.json {
        writeln!(out, "{}", json_of(&body))?;
        return Ok(());
    }
    for row in body.tests.iter().chain(&body.heights).chain(&body.controls) {
        writeln!(out, "{}", row.text)?;
    }
    if written.is_none() || args.height_cm.is_some() {
        writeln!(out, "{}", body.growth)?;
    }
    Ok(())
}

/// Keys: `tests`, `heights`, `landings` (each {`id`, `text`}), `growth`.
fn json_of(body: &Body) -> Value {
    let rows = |rows: &[BodyRow]| -> Vec<Value> {
        rows.iter().map(|row| json!({ "id": row.id, "text": row.text })).collect()
    };
    json!({
        "tests": rows(&body.tests),
        "heights": rows(&body.heights),
        "landings": rows(&body.controls),
        "growth": body.growth,
    })
}
