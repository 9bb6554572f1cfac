//! `pitside file`: a sync in a file, for a device that is out of reach.

use std::fs::{File, OpenOptions};
use std::io::{BufReader, BufWriter, Write};
use std::path::{Path, PathBuf};

use clap::Subcommand;
use pitside_book::clock::{Clock, SystemClock};
use pitside_book::hand_over::{self, HandOverError, TakeInError};
use pitside_book::parcel::ParcelError;

use crate::device::Where;
use crate::failure::{Exit, Failure};
use crate::lookup::{self, short};
use crate::progress::Progress;

/// The arguments of `pitside file`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
    #[command(flatten)]
    at: Where,
}

/// Which way.
#[derive(Subcommand)]
enum What {
    /// Write a file for one device of the squad, with all that it may hold. Only
    /// that device can read it. It counts as not confirmed until a receipt comes
    Write {
        /// The file; it must not be there yet
        file: PathBuf,
        /// The first letters of the device's key
        #[arg(long, value_name = "DEVICE")]
        to: String,
    },
    /// Take in a file that was written for this device. Once more does no harm
    Read {
        /// The file
        file: PathBuf,
    },
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = args.at.open()?;
    let mut progress = Progress::new("entries");
    match &args.what {
        What::Write { file, to } => {
            let to = lookup::device(&book, to)?;
            let cannot = |e: std::io::Error| cannot(file, "written", &e);
            let target = OpenOptions::new().write(true).create_new(true).open(file).map_err(cannot)?;
            let written = hand_over::write(&book, to, BufWriter::new(target), &SystemClock, &mut |p| {
                progress.tell(p.sent, p.to_send)
            });
            progress.end();
            let (target, handed) = match written {
                Ok(written) => written,
                Err(e) => {
                    // Half a file is of no use to anybody while the whole can be written.
                    drop(std::fs::remove_file(file));
                    return Err(e.into());
                }
            };
            let target = target.into_inner().map_err(|e| cannot(e.into_error()))?;
            target.sync_all().map_err(cannot)?;
            book.note_handed(&handed, SystemClock.now())?;
            writeln!(out, "Written for device {}: {} entries.", short(to), handed.entries)?;
            writeln!(out, "Not confirmed until the two have synced, or a file of theirs was read here.")?;
        }
        What::Read { file } => {
            let input = File::open(file).map_err(|e| cannot(file, "read", &e))?;
            let taken = hand_over::read(&book, BufReader::new(input), &SystemClock, &mut |new, all| {
                progress.tell(new, all)
            });
            progress.end();
            let taken = taken?;
            writeln!(out, "From device {}: {} entries were new.", short(taken.from), taken.received)?;
            if !taken.forked.is_empty() {
                writeln!(out, "{} logs were written twice: both sides are kept.", taken.forked.len())?;
            }
        }
    }
    Ok(())
}

fn cannot(file: &Path, what: &str, e: &std::io::Error) -> Failure {
    Failure::new(Exit::Unexpected, format!("{} cannot be {what}: {e}", file.display()))
}

impl From<HandOverError> for Failure {
    fn from(e: HandOverError) -> Self {
        let hint = match &e {
            HandOverError::Sync(_) => "only a device of the squad can be given a file: pitside squad",
            HandOverError::Pack(_) => "is there room, and may you write there?",
            HandOverError::CalledOff => "nothing was handed over",
        };
        Self::new(Exit::Sync, e.to_string()).hint(hint)
    }
}

impl From<TakeInError> for Failure {
    fn from(e: TakeInError) -> Self {
        let hint = match &e {
            TakeInError::Parcel(ParcelError::OtherReceiver) => {
                "it can be read on the device it is for, and on no other"
            }
            TakeInError::Parcel(ParcelError::NotAParcel) => "is it the file that pitside file write made?",
            TakeInError::Parcel(_) => "what came before the damage is taken in; ask for the file once more",
            TakeInError::Sync(_) => "pair with the squad first, or ask for a file of this squad",
            TakeInError::CalledOff => "reading it again goes on from there",
        };
        Self::new(Exit::Sync, e.to_string()).hint(hint)
    }
}
