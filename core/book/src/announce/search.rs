//! The other side: where is the desk with this key?

use std::collections::VecDeque;
use std::net::{SocketAddr, SocketAddrV6};
use std::time::{Duration, Instant};

use mdns_sd::{Receiver, RecvTimeoutError, ResolvedService, ScopedIp, ServiceEvent};
use pitside_model::facts::DeviceKey;

use super::tag::Tag;
use super::{AnnounceError, Daemon, Interfaces, SERVICE, daemon};

/// The longest a [`find`] lasts, whatever is asked.
pub const MAX_WAIT: Duration = Duration::from_secs(30);
/// The most places one search gives.
pub const MAX_FOUND: usize = 32;
/// The most records of others that are kept while searching. A hall full of
/// desks, each with a handful of addresses, has some hundreds.
pub const MAX_RECORDS: i64 = 4_096;

/// How long [`find`] goes on after the last place it found: a desk's addresses
/// come in several packets.
const SETTLE: Duration = Duration::from_millis(300);
/// How often it is counted how much the network has made us keep.
const COUNT_EVERY: Duration = Duration::from_millis(50);

/// A search that goes on until it is dropped.
///
/// For callers that try each place as it comes and search on if it is not the
/// desk: a check can be copied (see the [module](super)).
pub struct Search {
    expected: DeviceKey,
    loopback: bool,
    found: Vec<SocketAddr>,
    to_give: VecDeque<SocketAddr>,
    counted: Instant,
    events: Receiver<ServiceEvent>,
    daemon: Daemon,
}

impl Search {
    /// Begins to ask for the desk that has the key `expected`.
    ///
    /// # Errors
    /// [`AnnounceError::Addresses`], [`AnnounceError::Network`].
    pub fn start(expected: DeviceKey, interfaces: &Interfaces) -> Result<Self, AnnounceError> {
        let daemon = daemon(interfaces)?;
        let events = daemon.0.browse(SERVICE)?;
        let loopback = match interfaces {
            Interfaces::All => false,
            Interfaces::With(addresses) => addresses.iter().any(|address| address.is_loopback()),
        };
        Ok(Self {
            expected,
            loopback,
            found: Vec::new(),
            to_give: VecDeque::new(),
            counted: Instant::now(),
            events,
            daemon,
        })
    }

    /// The next place to try, each once and at most [`MAX_FOUND`]; nothing if
    /// none came until `until`.
    ///
    /// # Errors
    /// [`AnnounceError::Flooded`], [`AnnounceError::Network`]; the search is
    /// then over.
    pub fn next_place(&mut self, until: Instant) -> Result<Option<SocketAddr>, AnnounceError> {
        loop {
            if let Some(place) = self.to_give.pop_front() {
                return Ok(Some(place));
            }
            let left = until.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return Ok(None);
            }
            match self.events.recv_timeout(left.min(COUNT_EVERY)) {
                Ok(ServiceEvent::ServiceResolved(service)) => self.take(&service),
                Ok(_) | Err(RecvTimeoutError::Timeout) => {}
                // The library lets go of who cannot follow what it reports.
                Err(RecvTimeoutError::Disconnected) => return Err(AnnounceError::Flooded),
            }
            self.count_records()?;
        }
    }

    fn take(&mut self, service: &ResolvedService) {
        if !Tag::from_txt(&service.txt_properties).is_some_and(|tag| tag.is_of(self.expected)) {
            return;
        }
        let mut places: Vec<SocketAddr> =
            service.addresses.iter().filter_map(|address| place(address, service.port)).collect();
        places.retain(|place| self.loopback || !place.ip().is_loopback());
        places.sort_unstable();
        for place in places {
            if self.found.len() < MAX_FOUND && !self.found.contains(&place) {
                self.found.push(place);
                self.to_give.push_back(place);
            }
        }
    }

    /// The library keeps whatever it hears while it searches and knows no limit,
    /// so it is counted here.
    fn count_records(&mut self) -> Result<(), AnnounceError> {
        if self.counted.elapsed() < COUNT_EVERY {
            return Ok(());
        }
        self.counted = Instant::now();
        let metrics = match self.daemon.0.get_metrics() {
            Ok(metrics) => metrics.recv_timeout(Duration::from_secs(1)).unwrap_or_default(),
            Err(mdns_sd::Error::Again) => return Ok(()),
            Err(error) => return Err(error.into()),
        };
        let kept: i64 = metrics.iter().filter(|(name, _)| name.starts_with("cached-")).map(|(_, n)| n).sum();
        if kept > MAX_RECORDS { Err(AnnounceError::Flooded) } else { Ok(()) }
    }
}

/// An address that a connection can be made to.
fn place(address: &ScopedIp, port: u16) -> Option<SocketAddr> {
    let place = match address {
        ScopedIp::V4(v4) if !v4.addr().is_broadcast() => SocketAddr::from((*v4.addr(), port)),
        // A link-local address means nothing without its interface.
        ScopedIp::V6(v6) => {
            let scope = if v6.addr().is_unicast_link_local() { v6.scope_id().index } else { 0 };
            SocketAddr::from(SocketAddrV6::new(*v6.addr(), port, 0, scope))
        }
        _ => return None,
    };
    let reachable = !place.ip().is_unspecified() && !place.ip().is_multicast() && port != 0;
    reachable.then_some(place)
}

/// Searches for the desk that has the key `expected`, for `wait` (at most
/// [`MAX_WAIT`]), or less if it is found before. Nothing found is no error.
///
/// # Errors
/// [`AnnounceError`]: all but `Random`.
pub fn find(
    expected: DeviceKey,
    interfaces: &Interfaces,
    wait: Duration,
) -> Result<Vec<SocketAddr>, AnnounceError> {
    let end = Instant::now() + wait.min(MAX_WAIT);
    let mut search = Search::start(expected, interfaces)?;
    let mut until = end;
    let mut places = Vec::new();
    while let Some(place) = search.next_place(until)? {
        places.push(place);
        until = end.min(Instant::now() + SETTLE);
    }
    Ok(places)
}
