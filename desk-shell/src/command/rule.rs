//! `pitside rule`: the lines by which training is looked at.

use std::io::Write;
use std::sync::Arc;

use clap::Subcommand;
use pitside_book::clock::SystemClock;
use pitside_book::store::Book;
use pitside_model::facts::{Day, RuleName};
use pitside_screen::Companion;
use pitside_screen::record::{RuleForm, RuleRow};
use serde_json::{Value, json};

use super::log::parse_day;
use crate::device::{self, Where};
use crate::failure::Failure;
use crate::lookup;

const EXAMPLES: &str = "\
Examples:
  pitside rule list
  pitside rule list --member Ino --json
  pitside rule set first-box 20 --reason \"a young squad\"
  pitside rule off guardian-consent --member Ino --reason \"signed by his mother\" --until 2027-08-31
  pitside rule back first-box";

/// The arguments of `pitside rule`.
#[derive(clap::Args)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
    /// For this member alone, by name or id [default: the whole squad]
    #[arg(long, value_name = "NAME", global = true)]
    member: Option<String>,
    /// Print JSON
    #[arg(long, global = true)]
    json: bool,
    #[command(flatten)]
    at: Where,
}

/// What to do about rules.
#[derive(Subcommand)]
enum What {
    /// List the rules, each with its line, who drew it and its source
    List,
    /// Draw another line
    Set {
        /// The rule, by its word; list them: pitside rule list
        rule: RuleName,
        /// The line, in the unit that the list shows
        line: String,
        #[command(flatten)]
        why: Why,
    },
    /// Turn a rule off: nothing is judged by it
    Off {
        /// The rule, by its word
        rule: RuleName,
        #[command(flatten)]
        why: Why,
    },
    /// Take a line back: what stood before it holds again
    Back {
        /// The rule, by its word
        rule: RuleName,
    },
}

/// Why, and how long.
#[derive(clap::Args)]
struct Why {
    /// Why; it is kept
    #[arg(long, value_name = "TEXT")]
    reason: String,
    /// Up to and including this day [default: open]
    #[arg(long, value_name = "DATE", value_parser = parse_day)]
    until: Option<Day>,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book: Arc<Book> = Arc::new(args.at.open()?);
    let env = device::env(&SystemClock);
    let companion = Companion::over(Arc::clone(&book));
    let member = match &args.member {
        Some(name) => lookup::member(&book, name)?.to_string(),
        None => String::new(),
    };
    let write = |rule: RuleName, line: &str, off: bool, why: &Why| {
        companion.set_rule(
            &env,
            &RuleForm {
                rule: rule.word().to_owned(),
                member: member.clone(),
                off,
                line: line.to_owned(),
                until: why.until.map_or_else(String::new, |day| day.to_string()),
                reason: why.reason.clone(),
            },
        )
    };
    let only = match &args.what {
        What::List => None,
        What::Set { rule, line, why } => {
            write(*rule, line, false, why)?;
            Some(rule)
        }
        What::Off { rule, why } => {
            write(*rule, "", true, why)?;
            Some(rule)
        }
        What::Back { rule } => {
            companion.take_rule_back(&env, &member, rule.word())?;
            Some(rule)
        }
    };
    let rows = companion.rules(&env, &member)?.rows;
    let rows: Vec<&RuleRow> =
        rows.iter().filter(|row| only.is_none_or(|rule| rule.word() == row.id)).collect();
    if args.json {
        let rows: Vec<Value> = rows.iter().map(|row| json_of(row)).collect();
        writeln!(out, "{}", json!({ "rules": rows }))?;
        return Ok(());
    }
    for row in rows {
        writeln!(out, "{}: {}: {}", row.id, row.text, row.line)?;
        writeln!(out, "    {}", row.drawn)?;
        for more in [&row.until, &row.product].into_iter().filter(|text| !text.is_empty()) {
            writeln!(out, "    {more}")?;
        }
    }
    Ok(())
}

/// Keys: `rule`, `text`, `off`, `line` (null where off), `unit`, `line_text`, `drawn`, `own`.
fn json_of(row: &RuleRow) -> Value {
    json!({
        "rule": row.id,
        "text": row.text,
        "off": row.off,
        "line": row.value.parse::<f64>().ok(),
        "unit": row.unit,
        "line_text": row.line,
        "drawn": row.drawn,
        "own": row.own,
    })
}
