//! `pitside target`: how short a contact should be.

use std::io::Write;
use std::sync::Arc;

use clap::Subcommand;
use pitside_book::clock::SystemClock;
use pitside_book::store::Book;
use pitside_screen::Companion;
use pitside_screen::record::{TargetForm, TargetRow};

use crate::device::{self, Where};
use crate::failure::{Exit, Failure};
use crate::lookup;

/// The arguments of `pitside target`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
    #[command(flatten)]
    at: Where,
}

/// What to do about targets.
#[derive(Subcommand)]
enum What {
    /// Set a target; it takes the place of one for the same contact and run-in
    Set {
        #[command(flatten)]
        about: About,
        /// The contact time to come below, in milliseconds
        #[arg(value_name = "MS", value_parser = clap::value_parser!(u32).range(30..=3000))]
        ms: u32,
        /// Where it comes from: a publication, an own best, the coach's judgement
        #[arg(long, value_name = "TEXT")]
        source: String,
    },
    /// List the targets that were set
    List,
    /// Take a target back
    Remove {
        #[command(flatten)]
        about: About,
    },
}

/// The contact that a target is about.
#[derive(clap::Args)]
struct About {
    /// The exercise, by its name or a part of it
    exercise: String,
    /// Which contact of a repetition, from 1 [default: each]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=300))]
    contact: Option<u16>,
    /// With a run-in of so many strides only
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=30))]
    strides: Option<u16>,
    /// For this member alone, by name or id [default: the whole squad]
    #[arg(long, value_name = "NAME")]
    member: Option<String>,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = Arc::new(args.at.open()?);
    let env = device::env(&SystemClock);
    let companion = Companion::over(Arc::clone(&book));
    let set = || -> Result<Vec<TargetRow>, Failure> {
        let all = companion.targets(&env)?.rows;
        Ok(all.into_iter().filter(|row| !row.id.is_empty()).collect())
    };
    match &args.what {
        What::Set { about, ms, source } => {
            let form = TargetForm { ms: *ms, source: source.clone(), ..about.form(&book)? };
            let id = companion.set_target(&env, &form)?;
            let row = set()?.into_iter().find(|row| row.id == id);
            writeln!(out, "Set: {}", row.map(|row| line(&row)).unwrap_or_default())?;
        }
        What::List => {
            let rows = set()?;
            for row in &rows {
                writeln!(out, "{}", line(row))?;
            }
            if rows.is_empty() {
                writeln!(out, "No target was set; published ones hold where there are any.")?;
            }
        }
        What::Remove { about } => {
            let Some(id) = companion.standing_target(&about.form(&book)?)? else {
                return Err(Failure::new(Exit::Usage, "there is no such target")
                    .hint("list them: pitside target list"));
            };
            companion.remove_target(&env, &id)?;
            writeln!(out, "Taken back.")?;
        }
    }
    Ok(())
}

impl About {
    /// The contact, of a target whose length and source are not known yet.
    fn form(&self, book: &Book) -> Result<TargetForm, Failure> {
        let exercises = book.exercises()?;
        let (exercise, _) = lookup::exercise(&exercises, &self.exercise)?;
        let member = match &self.member {
            Some(name) => lookup::member(book, name)?.to_string(),
            None => String::new(),
        };
        let (exercise, contact, strides) = (exercise.to_string(), self.contact, self.strides);
        Ok(TargetForm { exercise, member, contact, strides, ..TargetForm::default() })
    }
}

fn line(row: &TargetRow) -> String {
    format!("{} for {} ({})", row.text, row.whose, row.source)
}
