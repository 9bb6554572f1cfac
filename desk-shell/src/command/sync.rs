//! `pitside sync`: calls a paired device and brings the two books together.

use std::io::Write;
use std::time::Duration;

use pitside_book::announce::{Interfaces, find};
use pitside_book::clock::SystemClock;
use pitside_book::exchange::Part;
use pitside_book::store::{Book, Peer};

use crate::device::{self, Where};
use crate::failure::{Exit, Failure};

/// How long the local network is asked.
const WAIT: Duration = Duration::from_secs(4);

/// The arguments of `pitside sync`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Where the device is, host:port [default: where it was reached last]
    address: Option<String>,
    /// Where it is not there, ask the local network for it. It announces itself
    /// with `pitside serve --announce`
    #[arg(long)]
    find: bool,
    #[command(flatten)]
    at: Where,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = args.at.open()?;
    let authority = book.authority()?;
    let known = |peer: &Peer| {
        let removed = authority.standing(peer.device).cut.is_some();
        !removed && (!peer.addresses.is_empty() || args.find)
    };
    let peers: Vec<Peer> = book.peers()?.into_iter().filter(known).collect();
    if peers.is_empty() {
        return Err(Failure::new(Exit::Sync, "this book is paired with nobody")
            .hint("answer an invitation: pitside pair TEXT"));
    }
    let mut last = None;
    for peer in peers {
        match call(&book, args, &peer, out) {
            Ok(()) => return Ok(()),
            Err(e) => last = Some(e),
        }
    }
    Err(last.unwrap_or_else(|| Failure::new(Exit::Sync, "nobody was reached")))
}

fn call(book: &Book, args: &Args, peer: &Peer, out: &mut dyn Write) -> Result<(), Failure> {
    let mut addresses = args.address.clone().map_or(peer.addresses.clone(), |address| vec![address]);
    let mut called = device::call(book, peer.device, &addresses, Part::Caller, &SystemClock);
    if called.is_err() && args.find {
        let found =
            find(peer.device, &Interfaces::All, WAIT).map_err(|e| Failure::new(Exit::Sync, e.to_string()))?;
        if !found.is_empty() {
            addresses = found.iter().map(ToString::to_string).collect();
            called = device::call(book, peer.device, &addresses, Part::Caller, &SystemClock);
        }
    }
    let outcome = called?;
    book.set_peer(peer.device, &addresses)?;
    writeln!(out, "Synced. {}.", device::told(&outcome))?;
    Ok(())
}
