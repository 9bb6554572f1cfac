//! The desk's side.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use data_encoding::HEXLOWER;
use mdns_sd::{DaemonEvent, Receiver, ServiceInfo};
use pitside_model::facts::DeviceKey;

use super::search::MAX_WAIT;
use super::tag::Tag;
use super::{AnnounceError, Daemon, Interfaces, SERVICE, daemon};
use crate::keys::Rng;

/// Bytes of the random label that instance and host stand under.
const LABEL: usize = 10;

/// Announces until it is dropped; then it says goodbye, so that caches forget.
pub struct Announcer {
    events: Receiver<DaemonEvent>,
    announced: AtomicBool,
    /// Last, so that the events are no longer listened to when it ends.
    _daemon: Daemon,
}

impl Announcer {
    /// Announces the device that has `key` and listens on TCP `port` at the
    /// addresses of `interfaces`. Returns at once; the network is told within
    /// about a second, after a look whether the random names are free
    /// (RFC 6762 §8).
    ///
    /// # Errors
    /// [`AnnounceError`]: all but `Flooded`.
    pub fn start(
        key: DeviceKey,
        interfaces: &Interfaces,
        port: u16,
        rng: &mut impl Rng,
    ) -> Result<Self, AnnounceError> {
        let tag = Tag::draw(key, rng).map_err(AnnounceError::Random)?;
        let mut label = [0; LABEL];
        rng.fill(&mut label).map_err(AnnounceError::Random)?;
        let label = HEXLOWER.encode(&label);
        let addresses = match interfaces {
            Interfaces::All => &[],
            Interfaces::With(addresses) => addresses.as_slice(),
        };
        let host = format!("{label}.local.");
        let mut service = ServiceInfo::new(SERVICE, &label, &host, addresses, port, tag.to_txt())?;
        if *interfaces == Interfaces::All {
            service = service.enable_addr_auto();
        }
        let daemon = daemon(interfaces)?;
        let events = daemon.0.monitor()?;
        daemon.0.register(service)?;
        Ok(Self { events, announced: AtomicBool::new(false), _daemon: daemon })
    }

    /// Whether the network has been told on any interface; waits for it up to
    /// `wait` (at most [`MAX_WAIT`]). If it has not after a few seconds, no interface carries multicast
    /// and the desk must be found by its address.
    pub fn is_announced(&self, wait: Duration) -> bool {
        let until = Instant::now() + wait.min(MAX_WAIT);
        while !self.announced.load(Ordering::Relaxed) {
            let left = until.saturating_duration_since(Instant::now());
            match self.events.recv_timeout(left) {
                Ok(DaemonEvent::Announce(..)) => self.announced.store(true, Ordering::Relaxed),
                Ok(_) => {}
                Err(_) => return false,
            }
        }
        true
    }
}
