//! `pitside sync`: calls a paired device and brings the two books together.

use std::io::Write;

use pitside_book::exchange::Part;
use pitside_book::store::Peer;

use crate::device::{self, Where};
use crate::failure::{Exit, Failure};

/// The arguments of `pitside sync`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Where the device is, host:port [default: where it was when paired]
    address: Option<String>,
    #[command(flatten)]
    at: Where,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let book = args.at.open()?;
    let peers: Vec<_> = book.peers()?.into_iter().filter(|peer| !peer.addresses.is_empty()).collect();
    if peers.is_empty() {
        return Err(Failure::new(Exit::Sync, "this book is paired with nobody")
            .hint("answer an invitation: pitside pair TEXT"));
    }
    let mut last = None;
    for Peer { device, addresses: known, .. } in peers {
        let addresses = args.address.clone().map_or(known, |address| vec![address]);
        match device::call(&book, device, &addresses, Part::Caller) {
            Ok(outcome) => {
                book.set_peer(device, &addresses)?;
                writeln!(out, "Synced. {}.", device::told(&outcome))?;
                return Ok(());
            }
            Err(e) => last = Some(e),
        }
    }
    Err(last.unwrap_or_else(|| Failure::new(Exit::Sync, "nobody was reached")))
}
