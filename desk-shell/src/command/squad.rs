//! `pitside squad`: devices, members, and what is held and does not count.

use std::io::Write;
use std::sync::Arc;

use pitside_book::clock::{Clock, SystemClock};
use pitside_book::store::Book;
use pitside_screen::Companion;
use pitside_screen::record::Apart;

use crate::device::{self, Where};
use crate::failure::Failure;
use crate::lookup::called;

/// The arguments of `pitside squad`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    at: Where,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = Arc::new(args.at.open()?);
    if let Some(squad) = book.recovers()?.filter(|_| book.squad().is_none()) {
        writeln!(out, "Carrying on squad {squad}: waiting for the first device to come (pitside pair).")?;
    }
    members(&book, out)?;
    let env = device::env(&SystemClock);
    let companion = Companion::over(Arc::clone(&book));
    let devices = companion.devices(&env)?;
    writeln!(out, "\n{}", devices.title)?;
    for row in &devices.devices {
        // As `pitside device` takes it.
        let key = row.id.get(..12).unwrap_or(&row.id);
        let here = if row.here { " (this one)" } else { "" };
        let removed = if row.removed.is_empty() { String::new() } else { format!(". {}", row.removed) };
        writeln!(out, "  {key}  {}{here}{removed}", row.title)?;
        let more = [&row.since, &row.met, &row.clock];
        for sentence in row.given.iter().chain(more).chain(&row.has).filter(|s| !s.is_empty()) {
            writeln!(out, "      {sentence}")?;
        }
    }
    apart(&companion.aside(&env)?, out)?;
    for notice in &devices.notices {
        writeln!(out, "\n{}", notice.text)?;
    }
    Ok(())
}

fn members(book: &Book, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out, "Members")?;
    for member in book.members()? {
        writeln!(out, "  {member}  {}", called(book, member)?)?;
    }
    for member in book.asked_to_erase()? {
        writeln!(
            out,
            "  {member}  erased by the coach; to let go here too: pitside member let-go {member} --yes"
        )?;
    }
    for (member, until) in book.kept_too_long(SystemClock.now().day())? {
        writeln!(out, "  {member}  {}: left, and to be erased since {until}", called(book, member)?)?;
    }
    Ok(())
}

fn apart(screen: &Apart, out: &mut dyn Write) -> Result<(), Failure> {
    if !screen.entries.is_empty() {
        writeln!(out, "\nHeld, and not counted")?;
    }
    for row in &screen.entries {
        writeln!(out, "  {}. {}\n      {} {}", row.what, row.written, row.reason, row.may_do)?;
    }
    if !screen.more.is_empty() {
        writeln!(out, "  {}", screen.more)?;
    }
    if !screen.refused.is_empty() {
        writeln!(out, "\nReceived, and refused")?;
    }
    for row in &screen.refused {
        writeln!(out, "  {}, {}\n      {}", row.from, row.when, row.reason)?;
    }
    Ok(())
}
