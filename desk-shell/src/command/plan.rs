//! `pitside plan`: the sessions that are planned, for a day and one athlete or several.

use std::io::Write;
use std::str::FromStr;
use std::sync::Arc;

use clap::Subcommand;
use pitside_book::clock::SystemClock;
use pitside_book::store::Book;
use pitside_model::facts::{Cue, Day, Exercise, Leg};
use pitside_screen::record::{PlanForm, PlanRow, PlanRowForm};
use pitside_screen::{Companion, Env};
use serde_json::{Value, json};
use uuid::Uuid;

use super::log::parse_day;
use crate::device::{self, Where};
use crate::failure::Failure;
use crate::lookup;

const EXAMPLES: &str = "\
Examples:
  pitside plan add Ino Ada --day 2026-12-01 --purpose \"short contacts\" \\
      --row \"3x10 Pogo, two legs; rest 90; say quick off the ground\" \\
      --row \"4x1 Bounds from a stand; swap; rest x8\"
  pitside plan list Ino --json
  pitside plan withdraw ID

A row is SETSxREPS and an exercise, by its name or a part of it; then, each after a semicolon:
  leg left|right|both|alternate-left|alternate-right, swap (left and right in turn from set to
  set), box CM, strides N, run-in METRES, load KG, cue short|high, say TEXT, rest SECONDS or
  rest xN (N times as long as the set), warm-up.";

/// The arguments of `pitside plan`.
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

/// What to do about planned sessions.
#[derive(Subcommand)]
enum What {
    /// Plan a session; each athlete gets a plan of their own
    Add {
        /// Names or ids
        #[arg(required = true)]
        names: Vec<String>,
        /// The day [default: today]
        #[arg(long, value_name = "DATE", value_parser = parse_day)]
        day: Option<Day>,
        /// What it is for
        #[arg(long, value_name = "TEXT")]
        purpose: String,
        /// What to do, in order: give it once for each exercise
        #[arg(long = "row", value_name = "ROW", required = true)]
        rows: Vec<Row>,
        /// What else to know
        #[arg(long, value_name = "TEXT")]
        note: Option<String>,
    },
    /// List the planned sessions of an athlete: those that come, and how the last ones went
    List {
        /// Name or id; left out on a device that serves one athlete
        name: Option<String>,
    },
    /// Withdraw a planned session; what was done for it stays
    Withdraw {
        /// The plan, as the list names it
        id: String,
    },
}

/// A row as it is written on the command line; its exercise is looked up in the book.
#[derive(Clone, Debug, PartialEq)]
struct Row {
    exercise: String,
    form: PlanRowForm,
}

impl FromStr for Row {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let mut parts = text.split(';').map(str::trim);
        let (times, exercise) =
            parts.next().and_then(|first| first.split_once(' ')).ok_or("expected `3x10 EXERCISE`")?;
        let (sets, reps) = times.split_once(['x', '×']).ok_or("expected sets and repetitions as `3x10`")?;
        let mut form = PlanRowForm { sets: number(sets)?, reps: number(reps)?, ..PlanRowForm::default() };
        for part in parts {
            let (word, rest) = part.split_once(' ').unwrap_or((part, ""));
            let rest = rest.trim();
            match word {
                "leg" => form.leg = word_of(rest.parse::<Leg>().map(Leg::word))?,
                "swap" if rest.is_empty() => form.swap = true,
                "warm-up" if rest.is_empty() => form.warm_up = true,
                "box" => form.box_mm = Some(scaled(rest, 10.0)?),
                "strides" => form.strides = Some(number(rest)?),
                "run-in" => form.run_mm = Some(scaled(rest, 1_000.0)?),
                "load" => form.load_g = Some(scaled(rest, 1_000.0)?),
                "cue" => form.cue = word_of(rest.parse::<Cue>().map(Cue::word))?,
                "say" => form.say = rest.to_owned(),
                "rest" => match rest.strip_prefix(['x', '×']) {
                    Some(times) => form.rest_times = Some(number(times)?),
                    None => form.rest_s = Some(number(rest)?),
                },
                _ => return Err(format!("{part:?} is nothing that can be said of a row")),
            }
        }
        Ok(Self { exercise: exercise.trim().to_owned(), form })
    }
}

fn word_of(word: Result<&'static str, pitside_model::facts::UnknownWord>) -> Result<String, String> {
    word.map(str::to_owned).map_err(|e| e.to_string())
}

fn number(text: &str) -> Result<u16, String> {
    text.trim().parse().map_err(|_| format!("{text:?} is no whole number"))
}

/// A decimal in so many parts of its unit.
fn scaled(text: &str, scale: f64) -> Result<u32, String> {
    let value: Option<f64> = text.replace(',', ".").parse().ok();
    let value =
        value.map(|value| (value * scale).round()).filter(|v| (0.0..=f64::from(u32::MAX)).contains(v));
    value.map(|value| value as u32).ok_or_else(|| format!("{text:?} is no number"))
}

impl Row {
    fn form(&self, exercises: &[(Uuid, Exercise)]) -> Result<PlanRowForm, Failure> {
        let (exercise, _) = lookup::exercise(exercises, &self.exercise)?;
        Ok(PlanRowForm { exercise: exercise.to_string(), ..self.form.clone() })
    }
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = Arc::new(args.at.open()?);
    let env = device::env(&SystemClock);
    let companion = Companion::over(Arc::clone(&book));
    let listed = match &args.what {
        What::Add { names, day, purpose, rows, note } => {
            let members = names.iter().map(|name| Ok(lookup::member(&book, name)?.to_string()));
            let exercises = book.exercises()?;
            let form = PlanForm {
                members: members.collect::<Result<Vec<_>, Failure>>()?,
                day: day.map_or_else(String::new, |day| day.to_string()),
                purpose: purpose.clone(),
                note: note.clone().unwrap_or_default(),
                rows: rows.iter().map(|row| row.form(&exercises)).collect::<Result<_, _>>()?,
                ..PlanForm::default()
            };
            let written = companion.save_plan(&env, &form)?;
            let mut listed = Vec::new();
            for member in &form.members {
                let rows = listed_of(&companion, &env, member)?;
                listed.extend(rows.into_iter().filter(|(row, _)| written.contains(&row.id)));
            }
            told(&book, listed)?
        }
        What::List { name } => {
            let member = lookup::own_or_named(&book, name.as_deref())?.to_string();
            told(&book, listed_of(&companion, &env, &member)?)?
        }
        What::Withdraw { id } => {
            let seen = companion.plan_form(&env, "", id, false)?.form.seen;
            let member = companion.withdraw_plan(&env, id, &seen)?;
            told(&book, listed_of(&companion, &env, &member)?)?
        }
    };
    if args.json {
        let plans: Vec<Value> = listed.iter().map(|(row, member, who)| json_of(row, member, who)).collect();
        writeln!(out, "{}", json!({ "plans": plans }))?;
        return Ok(());
    }
    for (row, _, who) in &listed {
        writeln!(out, "{}  {who}: {}", row.id, row.spoken)?;
    }
    if listed.is_empty() {
        writeln!(out, "Nothing is planned.")?;
    }
    Ok(())
}

/// The plans of a member, those that come first.
fn listed_of(companion: &Companion, env: &Env, member: &str) -> Result<Vec<(PlanRow, String)>, Failure> {
    let plans = companion.plans(env, member)?;
    Ok(plans.coming.into_iter().chain(plans.earlier).map(|row| (row, plans.member.clone())).collect())
}

/// Each plan with the id and the name of its athlete.
fn told(book: &Book, rows: Vec<(PlanRow, String)>) -> Result<Vec<(PlanRow, String, String)>, Failure> {
    rows.into_iter()
        .map(|(row, member)| {
            let who = lookup::called(book, lookup::member(book, &member)?)?;
            Ok((row, member, who))
        })
        .collect()
}

/// Keys: `id`, `member`, `athlete`, `day`, `purpose`, `rows`, `note`, `progress`, `clash`.
fn json_of(row: &PlanRow, member: &str, who: &str) -> Value {
    json!({
        "id": row.id,
        "member": member,
        "athlete": who,
        "day": row.date,
        "purpose": row.purpose,
        "rows": row.rows,
        "note": row.note,
        "progress": row.progress,
        "clash": !row.clash.is_empty(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_read_as_it_is_written() {
        let row: Row = "3x10 Pogo, two legs; rest 90; say quick, off the ground".parse().unwrap();
        assert_eq!(row.exercise, "Pogo, two legs");
        assert_eq!((row.form.sets, row.form.reps, row.form.rest_s), (3, 10, Some(90)));
        assert_eq!(row.form.say, "quick, off the ground");
        let row: Row =
            "4×1 Bounds; swap; leg alternate-right; strides 6; rest x8; load 2,5; box 30; cue high; warm-up"
                .parse()
                .unwrap();
        let form = PlanRowForm {
            sets: 4,
            reps: 1,
            leg: "alternate-right".into(),
            swap: true,
            box_mm: Some(300),
            strides: Some(6),
            load_g: Some(2_500),
            cue: "high".into(),
            rest_times: Some(8),
            warm_up: true,
            ..PlanRowForm::default()
        };
        assert_eq!((row.exercise.as_str(), row.form), ("Bounds", form));
    }

    #[test]
    fn what_is_no_row_is_said() {
        for (text, why) in [
            ("Pogo", "3x10"),
            ("3 Pogo", "3x10"),
            ("axb Pogo", "whole number"),
            ("3x10 Pogo; leg middle", "left"),
            ("3x10 Pogo; box tall", "no number"),
            ("3x10 Pogo; sideways", "nothing that can be said"),
            ("3x10 Pogo; swap twice", "nothing that can be said"),
            ("3x10 Pogo; rest -5", "whole number"),
        ] {
            let e = text.parse::<Row>().unwrap_err();
            assert!(e.contains(why), "{text}: {e}");
        }
    }
}
