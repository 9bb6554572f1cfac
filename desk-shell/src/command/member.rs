//! `pitside member`: members who leave, are one person, or want their data.

use std::fs::OpenOptions;
use std::io::Write;
use std::path::PathBuf;
use std::sync::Arc;

use clap::Subcommand;
use pitside_book::clock::{Clock, SystemClock};
use pitside_book::store::Book;
use pitside_model::facts::{Card, Day, Fact, MemberId, Scope, Subject};
use pitside_screen::Companion;
use pitside_screen::record::CardForm;

use crate::device::{self, Where};
use crate::failure::{Exit, Failure};
use crate::lookup::{self, short};

/// The arguments of `pitside member`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
    #[command(flatten)]
    at: Where,
}

/// A card as it is said.
#[derive(clap::Args)]
struct CardArgs {
    /// Name or id, or "me" for the one whom this device serves
    member: String,
    /// The day of birth, such as 2008-05-31
    #[arg(long, value_name = "DAY")]
    born: Option<String>,
    /// beginner, intermediate or advanced
    #[arg(long)]
    level: Option<String>,
    /// The take-off leg of the long jump: left or right
    #[arg(long, value_name = "SIDE")]
    take_off_leg: Option<String>,
    /// The feet of the triple jump: llr or rrl
    #[arg(long, value_name = "FEET")]
    hop_pattern: Option<String>,
    /// Body mass
    #[arg(long, value_name = "KG")]
    mass_kg: Option<String>,
    /// Top speed of a sprint, beside its time constant
    #[arg(long, value_name = "M/S")]
    top_speed: Option<String>,
    /// Its standard uncertainty
    #[arg(long, value_name = "M/S")]
    top_speed_u: Option<String>,
    /// Time constant of the acceleration
    #[arg(long, value_name = "S")]
    tau: Option<String>,
    /// Its standard uncertainty
    #[arg(long, value_name = "S")]
    tau_u: Option<String>,
    /// Mean stride of the run-in
    #[arg(long, value_name = "M")]
    stride: Option<String>,
}

/// What to do about a member, named by name or id.
#[derive(Subcommand)]
enum What {
    /// Say how a member is called
    Name {
        /// Name or id, or "me" for the one whom this device serves
        member: String,
        /// The name the squad uses
        name: String,
    },
    /// What is known of a member: birth, level, legs, mass, sprint, stride. What is named is
    /// written down, "" takes it off, the rest stays
    Card(Box<CardArgs>),
    /// Everything that is held about a member, as JSON
    Export {
        /// Name or id
        member: String,
        /// A file to write; it must not be there yet [default: standard output]
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
    /// Take a member off the roster. What is held stays until it is erased
    Leave {
        /// Name or id
        member: String,
        /// The day on which the coach is reminded to erase it, such as 2027-08-31
        #[arg(long, value_name = "DAY", value_parser = day)]
        keep_until: Option<Day>,
    },
    /// Erase a member: here at once, on the other devices of the staff with their
    /// next sync. The member's own devices are asked. Files handed over and backups
    /// elsewhere are not reached: delete those yourself
    Erase {
        /// Name or id
        member: String,
        /// It is meant: nothing brings the data back
        #[arg(long, required = true)]
        yes: bool,
    },
    /// Let go of what this device keeps of a member whom the coach erased
    LetGo {
        /// Name or id
        member: String,
        /// It is meant: nothing brings the data back
        #[arg(long, required = true)]
        yes: bool,
    },
    /// Say that two entries on the roster are one athlete
    Same {
        /// Name or id
        member: String,
        /// Name or id of the other
        with: String,
    },
    /// Take that back
    Two {
        /// Name or id
        member: String,
    },
}

/// Writes down what is named of a card, and says what is known then.
fn card(book: &Arc<Book>, said: &CardArgs, out: &mut dyn Write) -> Result<(), Failure> {
    let env = device::env(&SystemClock);
    let companion = Companion::over(Arc::clone(book));
    let id = lookup::member(book, &said.member)?.to_string();
    let before = companion.card(&env, &id)?.form;
    let or = |new: &Option<String>, known: String| new.clone().unwrap_or(known);
    let form = CardForm {
        born: or(&said.born, before.born),
        level: or(&said.level, before.level),
        take_off_leg: or(&said.take_off_leg, before.take_off_leg),
        hop_pattern: or(&said.hop_pattern, before.hop_pattern),
        mass_kg: or(&said.mass_kg, before.mass_kg),
        top_speed_m_s: or(&said.top_speed, before.top_speed_m_s),
        top_speed_u_m_s: or(&said.top_speed_u, before.top_speed_u_m_s),
        tau_s: or(&said.tau, before.tau_s),
        tau_u_s: or(&said.tau_u, before.tau_u_s),
        stride_m: or(&said.stride, before.stride_m),
        ..before
    };
    companion.save_card(&env, &form)?;
    for pair in companion.athlete(&env, &id, "")?.card {
        writeln!(out, "{}: {}", pair.label, pair.value)?;
    }
    Ok(())
}

fn day(text: &str) -> Result<Day, String> {
    Day::parse(text).ok_or_else(|| "expected a day such as 2027-08-31".to_owned())
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = Arc::new(args.at.open()?);
    let now = SystemClock.now();
    match &args.what {
        What::Card(said) => card(&book, said, out)?,
        What::Name { member, name } => {
            let member = lookup::member(&book, member)?;
            let fact = Fact::Card(Card::Name(name.clone()));
            book.revise(Scope::Member(member), Subject::Uuid(member.0), fact, now)?;
            writeln!(out, "Called {name} from now on.")?;
        }
        What::Export { member, out: None } => export(&book, lookup::member(&book, member)?, out)?,
        What::Export { member, out: Some(path) } => {
            let member = lookup::member(&book, member)?;
            let cannot = |e: std::io::Error| {
                Failure::new(Exit::Unexpected, format!("{} cannot be written: {e}", path.display()))
            };
            let mut file = OpenOptions::new().write(true).create_new(true).open(path).map_err(cannot)?;
            export(&book, member, &mut file)?;
            file.sync_all().map_err(cannot)?;
            writeln!(out, "Written: {}", path.display())?;
        }
        What::Leave { member, keep_until } => {
            book.leave(lookup::member(&book, member)?, *keep_until, now)?;
            writeln!(out, "Off the roster. What is held stays until it is erased.")?;
        }
        What::Erase { member, .. } => {
            let asked = book.erase_member(lookup::member(&book, member)?, now)?;
            writeln!(out, "Erased here. The other devices of the staff erase it with their next sync.")?;
            for device in asked {
                writeln!(out, "Device {} keeps the member's own data and is asked.", short(device))?;
            }
            writeln!(
                out,
                "Files that were handed over and backups elsewhere are not reached: delete those."
            )?;
            for (path, _) in book.backups()? {
                writeln!(out, "  a backup was made: {path}")?;
            }
        }
        What::LetGo { member, .. } => {
            book.let_go(lookup::member(&book, member)?, now)?;
            writeln!(out, "Erased on this device.")?;
        }
        What::Same { member, with } => {
            book.same_person(lookup::member(&book, member)?, lookup::member(&book, with)?, now)?;
            writeln!(out, "The two are one athlete from now on.")?;
        }
        What::Two { member } => {
            book.two_persons(lookup::member(&book, member)?, now)?;
            writeln!(out, "The two are two again.")?;
        }
    }
    Ok(())
}

fn export(book: &Book, member: MemberId, out: &mut dyn Write) -> Result<(), Failure> {
    let Some(all) = pitside_screen::member_record(book, member)? else {
        return Err(Failure::new(Exit::Usage, "nothing is held about this member"));
    };
    serde_json::to_writer_pretty(&mut *out, &all).map_err(std::io::Error::from)?;
    writeln!(out)?;
    Ok(())
}
