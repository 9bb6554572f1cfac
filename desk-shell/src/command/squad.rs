//! `pitside squad`: devices, members, and what is held and does not count.

use std::io::Write;

use pitside_book::clock::{Clock, Stamp, SystemClock};
use pitside_book::store::{Book, Peer};
use pitside_log::authority::{Judgement, Reason, Standing};
use pitside_model::facts::Scope;

use crate::device::{Where, apart};
use crate::failure::Failure;
use crate::lookup::{called, short};

/// The arguments of `pitside squad`.
#[derive(clap::Args)]
pub(crate) struct Args {
    #[command(flatten)]
    at: Where,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = args.at.open()?;
    if let Some(squad) = book.recovers()?.filter(|_| book.squad().is_none()) {
        writeln!(out, "Carrying on squad {squad}: waiting for the first device to come (pitside pair).")?;
    }
    members(&book, out)?;
    devices(&book, out)?;
    uncounted(&book, out)?;
    aside(&book, out)?;
    if book.was_a_copy()? {
        writeln!(
            out,
            "\nThis book was once put back from a copy, or written on in two places. It went on in"
        )?;
        writeln!(out, "new logs; what it lost comes with the next sync from whoever has it.")?;
    }
    Ok(())
}

fn members(book: &Book, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out, "Members")?;
    for member in book.members()? {
        let name = called(book, member)?;
        writeln!(out, "  {member}  {name}")?;
    }
    for member in book.asked_to_erase()? {
        writeln!(out, "  {member}  the coach asks this device to let go of what it keeps of this member")?;
        writeln!(out, "      (pitside member let-go {member} --yes)")?;
    }
    for (member, until) in book.kept_too_long(SystemClock.now().day())? {
        let name = called(book, member)?;
        writeln!(out, "  {member}  {name}: left, and to be erased since {until}")?;
    }
    Ok(())
}

fn devices(book: &Book, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out, "\nDevices")?;
    let peers = book.peers()?;
    for (device, standing) in book.devices()? {
        let mut line = format!("  {}  {}", short(device), role(book, &standing)?);
        if device == book.device() {
            line.push_str(", this one");
        }
        if standing.cut.is_some() {
            line.push_str(", removed");
        }
        let peer = peers.iter().find(|peer| peer.device == device);
        if let Some(Peer { met_ms: Some(ms), .. }) = peer {
            line.push_str(&format!(", last met {}", minute(*ms)));
        }
        if let Some(apart) = peer.and_then(|peer| peer.clock_apart_ms).and_then(apart) {
            line.push_str(&format!(", its clock is {apart}"));
        }
        writeln!(out, "{line}")?;
    }
    Ok(())
}

fn role(book: &Book, standing: &Standing) -> Result<String, Failure> {
    let grants = &standing.grants;
    let mut roles = Vec::new();
    if grants.owner {
        roles.push("coach".to_owned());
    }
    let given = [
        ("assistant for", &grants.assists),
        ("medical for", &grants.treats),
        ("guardian of", &grants.guards),
    ];
    let named = |members: &std::collections::BTreeSet<_>| -> Result<String, Failure> {
        let mut all = Vec::new();
        for member in members {
            all.push(called(book, *member)?);
        }
        Ok(all.join(", "))
    };
    for (word, reach) in given {
        if reach.everyone {
            roles.push(format!("{word} everyone"));
        } else if !reach.members.is_empty() {
            roles.push(format!("{word} {}", named(&reach.members)?));
        }
    }
    if !grants.serves.is_empty() {
        roles.push(format!("of {}", named(&grants.serves)?));
    }
    Ok(roles.join("; "))
}

fn uncounted(book: &Book, out: &mut dyn Write) -> Result<(), Failure> {
    let uncounted = book.uncounted()?;
    if uncounted.is_empty() {
        return Ok(());
    }
    writeln!(out, "\nHeld, and not counted")?;
    for entry in uncounted {
        let of = match entry.scope {
            Scope::Squad => "the squad".to_owned(),
            Scope::Staff => "the staff".to_owned(),
            Scope::Member(m) | Scope::Private(m) => called(book, m)?,
        };
        let (kind, device, at) = (&entry.kind, short(entry.device), minute(entry.stamp.ms));
        writeln!(out, "  {kind} of {of}, by device {device}, {at}: {}", why(entry.judgement))?;
    }
    Ok(())
}

/// Why an entry does not count, in words.
fn why(judgement: Judgement) -> &'static str {
    match judgement {
        Judgement::Counted => "it counts",
        Judgement::Waiting => "it waits until its device is known to be admitted",
        Judgement::Refused(reason) => match reason {
            Reason::OwnerOnly => "only a coach's own device writes this",
            Reason::MemberOnly => "only a device of this member writes this",
            Reason::NotGiven => "its device was not given that",
            Reason::WrongScope => "it does not belong where it stands",
            Reason::SecondFounding => "a squad is founded once",
            Reason::Removed => "written after its device was removed (pitside device take-in counts it)",
            Reason::Senior => "the other device is senior to the one that wrote it",
            Reason::Erased => "the member's data were erased",
        },
    }
}

fn aside(book: &Book, out: &mut dyn Write) -> Result<(), Failure> {
    let aside = book.aside()?;
    if aside.is_empty() {
        return Ok(());
    }
    writeln!(out, "\nReceived, and refused")?;
    for piece in aside {
        let from = piece.from.map_or_else(|| "someone".to_owned(), short);
        let times = if piece.times > 1 { format!(", {} times", piece.times) } else { String::new() };
        writeln!(
            out,
            "  {} from {from}, {} bytes{times}: {}",
            minute(piece.at_ms),
            piece.bytes,
            piece.reason
        )?;
    }
    Ok(())
}

/// A moment, where this device is.
fn minute(ms: i64) -> String {
    let stamp = Stamp { ms, ..SystemClock.now() };
    format!("{} {}:{:02}", stamp.day(), stamp.minute() / 60, stamp.minute() % 60)
}
