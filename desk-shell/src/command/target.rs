//! `pitside target`: how short a contact should be.

use std::io::Write;

use clap::Subcommand;
use pitside_book::clock::{Clock, SystemClock};
use pitside_book::store::{Book, Draft, Filter, Held};
use pitside_model::facts::{Approach, Fact, Scope, Target, kind};

use crate::device::Where;
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
    let book = args.at.open()?;
    let now = SystemClock.now();
    match &args.what {
        What::Set { about, ms, source } => {
            let (scope, target) = about.target(&book, ms * 1_000, source.clone())?;
            let draft = match standing(&book, scope, &target)? {
                Some(held) => Draft::replacing(&held, Fact::Target(target.clone())),
                None => Draft::new(Fact::Target(target.clone())),
            };
            book.write(scope, &draft, now)?;
            writeln!(out, "Set: {}", words(&book, scope, &target)?)?;
        }
        What::List => {
            let mut any = false;
            for held in book.held(&Filter { kind: Some(kind::TARGET), ..Filter::default() })? {
                if let Some(Fact::Target(target)) = held.fact() {
                    writeln!(out, "{}", words(&book, held.key.scope, target)?)?;
                    any = true;
                }
            }
            if !any {
                writeln!(out, "No target was set; published ones hold where there are any.")?;
            }
        }
        What::Remove { about } => {
            let (scope, target) = about.target(&book, 30_000, "-".to_owned())?;
            let Some(held) = standing(&book, scope, &target)? else {
                return Err(Failure::new(Exit::Usage, "there is no such target")
                    .hint("list them: pitside target list"));
            };
            book.write(scope, &Draft::replacing(&held, Fact::Deleted), now)?;
            writeln!(out, "Taken back.")?;
        }
    }
    Ok(())
}

impl About {
    fn target(&self, book: &Book, contact_us: u32, source: String) -> Result<(Scope, Target), Failure> {
        let exercises = book.exercises()?;
        let (exercise, _) = lookup::exercise(&exercises, &self.exercise)?;
        let scope = match &self.member {
            Some(name) => Scope::Member(lookup::member(book, name)?),
            None => Scope::Squad,
        };
        let approach = self.strides.map(Approach::Strides);
        Ok((scope, Target { exercise: *exercise, contact: self.contact, approach, contact_us, source }))
    }
}

/// The target for the same contact and run-in, where one was set.
fn standing(book: &Book, scope: Scope, target: &Target) -> Result<Option<Held>, Failure> {
    let about = |target: &Target| (target.exercise, target.contact, target.approach);
    let held = book.held(&Filter { scope: Some(scope), kind: Some(kind::TARGET), ..Filter::default() })?;
    let same =
        |held: &Held| matches!(held.fact(), Some(Fact::Target(other)) if about(other) == about(target));
    Ok(held.into_iter().find(same))
}

fn words(book: &Book, scope: Scope, target: &Target) -> Result<String, Failure> {
    let exercises = book.exercises()?;
    let exercise = exercises.iter().find(|(id, _)| *id == target.exercise);
    let name = exercise.map_or("an exercise that is not here", |(_, exercise)| exercise.name.as_str());
    let contact = target.contact.map_or_else(|| "each contact".to_owned(), |n| format!("contact {n}"));
    let run_in = match target.approach {
        None => String::new(),
        Some(Approach::Strides(n)) => format!(", {n} strides"),
        Some(Approach::Millimetres(mm)) => format!(", run-in of {} m", f64::from(mm) / 1_000.0),
    };
    let whose = match scope.member() {
        Some(member) => lookup::called(book, member)?,
        None => "the squad".to_owned(),
    };
    let (ms, source) = (target.contact_us / 1_000, &target.source);
    Ok(format!("{name}, {contact}{run_in}: below {ms} ms for {whose} ({source})"))
}
