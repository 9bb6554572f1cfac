//! `pitside device`: what a coach does with the squad's devices.

use std::io::Write;
use std::path::PathBuf;

use clap::Subcommand;
use pitside_book::clock::{Clock, SystemClock};

use super::pair::Given;
use super::recover;
use crate::device::Where;
use crate::failure::Failure;
use crate::lookup::{self, short};

/// The arguments of `pitside device`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
    #[command(flatten)]
    at: Where,
}

/// What to do with a device; named by the first letters of its key.
#[derive(Subcommand)]
enum What {
    /// Remove it from the squad: what it wrote as far as it arrived here counts,
    /// what comes later is kept, shown and not counted. What it has, it keeps
    Remove {
        /// The first letters of its key
        device: String,
        /// With the squad's recovery key, read from this file (- for standard
        /// input): for a lost device that is senior to this one
        #[arg(long, value_name = "FILE")]
        recovery_key: Option<PathBuf>,
    },
    /// Count what a removed device wrote later, as far as it arrived
    TakeIn {
        /// The first letters of its key
        device: String,
    },
    /// Take a removal back
    Readmit {
        /// The first letters of its key
        device: String,
    },
    /// Give it more
    Give {
        /// The first letters of its key
        device: String,
        #[command(flatten)]
        given: Given,
    },
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = args.at.open()?;
    let now = SystemClock.now();
    match &args.what {
        What::Remove { device, recovery_key } => {
            let device = lookup::device(&book, device)?;
            match recovery_key {
                Some(file) => book.remove_device_by_recovery(device, &recover::read(file)?, now)?,
                None => book.remove_device(device, now)?,
            }
            writeln!(out, "Removed {}. Others hear of it with their next sync.", short(device))?;
        }
        What::TakeIn { device } => {
            let device = lookup::device(&book, device)?;
            if book.authority()?.standing(device).cut.is_none() {
                let not = pitside_book::store::BookError::Unknown("removal of this device");
                return Err(not.into());
            }
            book.remove_device(device, now)?;
            writeln!(out, "What {} wrote counts as far as it arrived. It stays removed.", short(device))?;
        }
        What::Readmit { device } => {
            let device = lookup::device(&book, device)?;
            book.readmit_device(device, now)?;
            writeln!(out, "{} is one of the squad's devices again.", short(device))?;
        }
        What::Give { device, given } => {
            let device = lookup::device(&book, device)?;
            book.give(device, given.grant(), now)?;
            writeln!(out, "Given. {} has it with its next sync.", short(device))?;
        }
    }
    Ok(())
}
