//! `pitside book`: backup, putting it back, a look over it, rescue.

use std::io::Write;
use std::path::PathBuf;

use clap::Subcommand;
use pitside_book::clock::{Clock, SystemClock};
use pitside_book::store::{Book, FILE, Lost};

use crate::device::Where;
use crate::failure::{Exit, Failure};
use crate::lookup;
use crate::progress::Progress;

/// The arguments of `pitside book`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(subcommand)]
    what: What,
    #[command(flatten)]
    at: Where,
}

/// What to do with the book.
#[derive(Subcommand)]
enum What {
    /// Write the whole book into one file, also while it is in use elsewhere than
    /// here. The device's key is not in it: keep that apart
    BackUp {
        /// The file; it must not be there yet
        file: PathBuf,
    },
    /// Put a backup into the book's folder. A book that is there is kept aside
    Restore {
        /// The backup
        file: PathBuf,
    },
    /// Look over the file, and chain and seals of every log
    Check,
    /// Make a new book of what can be read of a damaged one. The damaged file is
    /// kept; what is missing comes with the next sync
    Rescue,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let now = SystemClock.now();
    match &args.what {
        What::BackUp { file } => {
            args.at.open()?.back_up(file, now)?;
            writeln!(out, "Written: {}", file.display())?;
            writeln!(out, "It holds everything of the squad: keep it as you keep the laptop.")?;
        }
        What::Restore { file } => {
            let book = Book::restore(file, &args.at.folder()?, args.at.identity()?, now)?;
            writeln!(out, "Restored. {}", goes_on(book.was_a_copy()?))?;
        }
        What::Check => {
            let book = args.at.open()?;
            let mut progress = Progress::new("logs");
            let mut whole = true;
            let faults = book.check(&mut |done, of| {
                whole = progress.tell(done, of);
                whole
            });
            progress.end();
            let faults = faults?;
            if !faults.is_empty() {
                for fault in &faults {
                    writeln!(out, "{fault}")?;
                }
                return Err(Failure::new(Exit::Book, "the book is damaged")
                    .hint("keep a copy of the folder, then: pitside book rescue"));
            }
            writeln!(
                out,
                "{}",
                if whole { "Nothing is wrong." } else { "Called off; nothing wrong so far." }
            )?;
        }
        What::Rescue => {
            let folder = args.at.folder()?;
            let done = Book::rescue(&folder, args.at.identity()?, now)?;
            writeln!(out, "{} entries of {} logs are in a new book.", done.entries, done.logs)?;
            for lost in &done.lost {
                writeln!(out, "{}", words(lost))?;
            }
            writeln!(
                out,
                "The damaged file is kept: {}",
                folder.join(format!("{FILE}.damaged-…")).display()
            )?;
            writeln!(out, "What is missing comes with the next sync from whoever has it.")?;
        }
    }
    Ok(())
}

/// What a rescue could not read, in words.
fn words(lost: &Lost) -> String {
    match lost {
        Lost::Log { device, after, until, .. } => {
            format!("Missing of a log by {}: entries {} to {until}.", lookup::short(*device), after + 1)
        }
        Lost::Admission => {
            "Missing: what admits this device to its squad. Pair it anew, and everything counts \
                            again; the squad's only coach uses the recovery key."
                .to_owned()
        }
        Lost::Part(what) => format!("Missing: some of the {what}."),
    }
}

fn goes_on(older: bool) -> &'static str {
    if older {
        "This device wrote more since: it goes on in new logs, and the next sync brings back what others have."
    } else {
        "It is as far as this device had written."
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pitside_model::facts::{DeviceKey, LogId};

    #[test]
    fn a_device_is_named_by_its_first_letters() {
        let lost =
            Lost::Log { log: LogId([1; 32]), device: DeviceKey([0xab; 32]), scope: None, after: 6, until: 9 };
        assert_eq!(words(&lost), "Missing of a log by abababababab: entries 7 to 9.");
    }
}
