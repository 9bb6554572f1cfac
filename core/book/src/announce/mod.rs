//! The desk makes itself known on the local network, by mDNS (RFC 6762) and
//! DNS-SD (RFC 6763), without saying whose it is.
//!
//! Everybody on the network hears what is announced. So it holds no name of a
//! person, a squad or a computer and no key, and it is drawn anew at each start:
//!
//! * an instance of [`SERVICE`] and a host, both under the same random label;
//! * in TXT: `txtvers=1` (RFC 6763 §6.7), a random `nonce`, and a `check`, which
//!   is a hash over the nonce and the device's key (see `tag.rs`).
//!
//! A device that was paired with the desk knows its key and sees by the check
//! that this is the one. Who does not know the key cannot tell two starts of
//! one desk from two desks by what is announced; the addresses, and the network
//! card's own, it sees as with everything that speaks on a network. That there
//! is a desk of this program is no secret.
//!
//! A check can be copied, so what is found is a place to try and proves nothing:
//! the [`carrier`](crate::carrier) refuses whoever has not the key.
//!
//! When it starts, the library joins the multicast groups on every interface and
//! leaves those it was not given right after; nothing is sent there but the
//! system's own notes of joining and leaving.

mod announcer;
mod search;
mod tag;

pub use announcer::Announcer;
pub use search::{MAX_FOUND, MAX_RECORDS, MAX_WAIT, Search, find};

use std::io;
use std::net::IpAddr;
use std::thread;
use std::time::Duration;

use mdns_sd::{IfKind, ServiceDaemon};
use pitside_model::facts::DeviceKey;

use tag::Tag;

/// The service type, for phones that use their system's own search.
pub const SERVICE: &str = "_pitside._tcp.local.";
/// The most addresses that can be given.
pub const MAX_ADDRESSES: usize = 16;
/// The most attributes of a service that are read.
const MAX_ATTRIBUTES: usize = 32;

/// Where to speak.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Interfaces {
    /// On all interfaces but the loopback, with all their addresses, also as
    /// these change. For a listener on the unspecified address.
    All,
    /// Only on the interfaces that have these addresses, and with no others:
    /// 1 to [`MAX_ADDRESSES`].
    With(Vec<IpAddr>),
}

/// Why nothing is announced, or nothing can be searched.
#[derive(Debug, thiserror::Error)]
pub enum AnnounceError {
    /// No address was given, or more than [`MAX_ADDRESSES`].
    #[error("{found} addresses were given to speak on, 1 to {MAX_ADDRESSES} are allowed")]
    Addresses {
        /// How many.
        found: usize,
    },
    /// The source of randomness had nothing to give.
    #[error("no random bytes to announce with")]
    Random(#[source] io::Error),
    /// More than [`MAX_RECORDS`] records came, which no honest network has.
    #[error("the network answers with more than {MAX_RECORDS} records: somebody floods it")]
    Flooded,
    /// The library or the system failed.
    #[error("the local network cannot be spoken on: {0}")]
    Network(#[from] mdns_sd::Error),
}

/// Whether a service that a phone's own search found announces the device with a key, by
/// its attributes as they stood in TXT; of two with one key the first counts (RFC 6763
/// §6.4). Like all that is announced it proves nothing.
#[must_use]
pub fn is_of<'a>(attributes: impl IntoIterator<Item = (&'a str, &'a [u8])>, key: DeviceKey) -> bool {
    // No honest service has more.
    let attributes: Vec<_> = attributes.into_iter().take(MAX_ATTRIBUTES).collect();
    let value = |name: &str| {
        attributes.iter().find(|(key, _)| key.eq_ignore_ascii_case(name)).map(|(_, value)| *value)
    };
    Tag::read(value).is_some_and(|tag| tag.is_of(key))
}

/// A daemon of the library, on these interfaces only.
fn daemon(interfaces: &Interfaces) -> Result<Daemon, AnnounceError> {
    if let Interfaces::With(addresses) = interfaces
        && !(1..=MAX_ADDRESSES).contains(&addresses.len())
    {
        return Err(AnnounceError::Addresses { found: addresses.len() });
    }
    let daemon = Daemon(ServiceDaemon::new()?);
    match interfaces {
        Interfaces::All => daemon.0.disable_interface(vec![IfKind::LoopbackV4, IfKind::LoopbackV6])?,
        Interfaces::With(addresses) => {
            daemon.0.disable_interface(IfKind::All)?;
            daemon.0.enable_interface(addresses.clone())?;
        }
    }
    Ok(daemon)
}

/// Ends with the value; the library's own handle would leave its thread running.
struct Daemon(ServiceDaemon);

impl Drop for Daemon {
    fn drop(&mut self) {
        // Its queue may be full for a moment. It says goodbye on the network
        // before it answers; waited for, but not for ever.
        for _ in 0..10 {
            match self.0.shutdown() {
                Ok(done) => {
                    let _ended_or_given_up = done.recv_timeout(Duration::from_secs(1));
                    return;
                }
                Err(mdns_sd::Error::Again) => thread::sleep(Duration::from_millis(20)),
                Err(_) => return,
            }
        }
    }
}
