//! `pitside recover`: carries a squad on when the coach's device is lost.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use pitside_book::clock::{Clock, SystemClock};
use pitside_book::keys::Recovery;
use zeroize::Zeroizing;

use crate::device::Where;
use crate::failure::{Exit, Failure};

/// The arguments of `pitside recover`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// A file with the recovery key that was printed when the squad was founded;
    /// - reads it from standard input, so that it is in no file and no history
    #[arg(default_value = "-", value_name = "FILE")]
    key: PathBuf,
    #[command(flatten)]
    at: Where,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    if args.key.as_os_str() == "-" {
        writeln!(out, "Type the recovery key, then an empty line:")?;
        out.flush()?;
    }
    let key = read(&args.key)?;
    let book = args.at.open_or_create()?;
    book.recover(&key, SystemClock.now())?;
    writeln!(out, "This device carries the squad on, senior to the lost one.")?;
    writeln!(out, "Now invite the squad's phones, one after the other: pitside pair --listen ADDRESS:PORT")?;
    writeln!(out, "Each brings what it has. Then remove the lost device: pitside device remove DEVICE")?;
    Ok(())
}

/// Reads a recovery key from a file, or up to an empty line of standard input.
pub(crate) fn read(file: &Path) -> Result<Recovery, Failure> {
    const MOST: u64 = 1_000;
    let cannot =
        |e: std::io::Error| Failure::new(Exit::Usage, format!("the recovery key cannot be read: {e}"));
    let mut text = Zeroizing::new(String::new());
    if file.as_os_str() == "-" {
        for line in std::io::stdin().lines() {
            let line = Zeroizing::new(line.map_err(cannot)?);
            if line.trim().is_empty() || text.len() as u64 > MOST {
                break;
            }
            text.push_str(&line);
        }
    } else {
        std::fs::File::open(file).map_err(cannot)?.take(MOST).read_to_string(&mut text).map_err(cannot)?;
    }
    Recovery::from_text(&text).map_err(|e| Failure::new(Exit::Usage, e.to_string()))
}
