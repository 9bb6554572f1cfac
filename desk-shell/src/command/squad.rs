//! `pitside squad`: devices, members, and what is held and does not count.

use std::io::Write;
use std::sync::Arc;

use pitside_book::clock::{Clock, SystemClock};
use pitside_book::store::Book;
use pitside_screen::record::ApartRow;
use pitside_screen::{Companion, Env};

use crate::device::Where;
use crate::failure::{Exit, Failure};
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
    let now = SystemClock.now();
    let env = Env { language: "en".to_owned(), zone_min: now.zone_min, hour24: true, now_ms: now.ms };
    let devices = Companion::over(Arc::clone(&book))
        .devices(&env)
        .map_err(|e| Failure::new(Exit::Book, e.to_string()))?;
    writeln!(out, "\n{}", devices.title)?;
    for row in &devices.devices {
        let state = if row.state.is_empty() { String::new() } else { format!(", {}", row.state) };
        writeln!(out, "  {}  {}{state}", row.short, row.role)?;
    }
    apart("Held, and not counted", &devices.uncounted, out)?;
    apart("Received, and refused", &devices.refused, out)?;
    if !devices.notices.is_empty() {
        writeln!(out)?;
    }
    for notice in &devices.notices {
        writeln!(out, "{notice}")?;
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

fn apart(title: &str, rows: &[ApartRow], out: &mut dyn Write) -> Result<(), Failure> {
    if !rows.is_empty() {
        writeln!(out, "\n{title}")?;
    }
    for row in rows {
        writeln!(out, "  {}: {}", row.text, row.why)?;
    }
    Ok(())
}
