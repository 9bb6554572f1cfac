//! Who is let in: places at once, and failures over time, by source.

use std::collections::HashMap;
use std::net::{IpAddr, Ipv6Addr};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use pitside_log::sync::SyncError;

use super::limits::Admission;
use crate::exchange::ExchangeError;

/// What came of a call, as the handler tells it to the listener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[must_use = "the listener counts refused callers by it"]
pub enum Verdict {
    /// Nothing is held against the caller, be it that the link broke.
    Accepted,
    /// The caller was refused: it is not admitted, its invitation is none, or it
    /// broke the rules. It counts against its source as a failed handshake does,
    /// which bounds the guessing of one-time secrets.
    Refused,
}

impl Verdict {
    /// The verdict on a caller with whom an exchange was tried.
    pub fn of<T, E: core::error::Error>(exchanged: &Result<T, ExchangeError<E>>) -> Self {
        match exchanged {
            Err(ExchangeError::Sync(
                SyncError::Refused(_) | SyncError::Segment(_) | SyncError::Message(_),
            ))
            | Err(ExchangeError::Endless) => Self::Refused,
            // It refused us, our own store failed, or the radio did.
            Err(ExchangeError::Sync(SyncError::RefusedByPeer(_) | SyncError::Store(_)))
            | Err(ExchangeError::Link(_) | ExchangeError::CalledOff)
            | Ok(_) => Self::Accepted,
        }
    }
}

/// What one party is taken to have all of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
struct Source(IpAddr);

impl Source {
    fn of(address: IpAddr) -> Self {
        // A socket for both families gives IPv4 as ::ffff:a.b.c.d, and all of
        // those lie in one network of 64 bits.
        Self(match address.to_canonical() {
            IpAddr::V6(v6) => Ipv6Addr::from_bits(v6.to_bits() >> 64 << 64).into(),
            v4 => v4,
        })
    }
}

/// The places of one listener.
#[derive(Debug)]
pub(super) struct Door {
    admission: Admission,
    state: Mutex<State>,
}

#[derive(Debug, Default)]
struct State {
    open: usize,
    open_by_source: HashMap<Source, usize>,
    /// When the last failure of a source is forgotten. Each puts it off by one
    /// step, from now at the earliest: a leaky bucket, with its level kept as
    /// the time at which it is empty.
    forgotten: HashMap<Source, Instant>,
}

impl Door {
    pub(super) fn new(admission: Admission) -> Self {
        Self { admission, state: Mutex::default() }
    }

    /// Nothing under this lock is left half-changed by a panic.
    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// How long one failure is remembered.
    fn step(&self) -> Duration {
        self.admission.window / self.admission.failures.max(1)
    }

    /// A place for a caller; `None` where there is none for it now.
    pub(super) fn enter(&self, address: IpAddr, now: Instant) -> Option<Place<'_>> {
        let source = Source::of(address);
        let mut state = self.state();
        let held = state.open_by_source.get(&source).copied().unwrap_or(0);
        let full = state.open >= self.admission.connections || held >= self.admission.connections_per_source;
        let one_more = self.admission.window.saturating_sub(self.step());
        let spent =
            state.forgotten.get(&source).is_some_and(|at| at.saturating_duration_since(now) > one_more);
        if full || spent {
            return None;
        }
        state.open += 1;
        state.open_by_source.insert(source, held + 1);
        Some(Place { door: self, source })
    }
}

/// A caller's place, free again when dropped.
#[derive(Debug)]
pub(super) struct Place<'a> {
    door: &'a Door,
    source: Source,
}

impl Place<'_> {
    /// Holds a failure against the source.
    pub(super) fn failed(&self, now: Instant) {
        let mut state = self.door.state();
        let forgotten = &mut state.forgotten;
        if !forgotten.contains_key(&self.source) && forgotten.len() >= self.door.admission.sources {
            forgotten.retain(|_, at| *at > now);
            if forgotten.len() >= self.door.admission.sources
                && let Some(soonest) = forgotten.iter().min_by_key(|(_, at)| **at).map(|(source, _)| *source)
            {
                forgotten.remove(&soonest);
            }
        }
        let at = forgotten.entry(self.source).or_insert(now);
        // A time too far away for the clock stays where it is.
        *at = (*at).max(now).checked_add(self.door.step()).unwrap_or(*at);
    }
}

impl Drop for Place<'_> {
    fn drop(&mut self) {
        let mut state = self.door.state();
        state.open -= 1;
        match state.open_by_source.get_mut(&self.source) {
            Some(held) if *held > 1 => *held -= 1,
            _ => drop(state.open_by_source.remove(&self.source)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pitside_log::sync::Refusal;
    use proptest::prelude::*;

    fn door(admission: Admission) -> Door {
        Door::new(admission)
    }

    fn ip(text: &str) -> IpAddr {
        text.parse().unwrap()
    }

    /// Calls and fails; whether it was let in.
    fn fails(door: &Door, address: IpAddr, now: Instant) -> bool {
        door.enter(address, now).map(|place| place.failed(now)).is_some()
    }

    #[test]
    fn a_source_fails_so_often_and_then_once_a_step() {
        let door = door(Admission { failures: 3, window: Duration::from_secs(60), ..Admission::default() });
        let (bad, good, now) = (ip("192.0.2.7"), ip("192.0.2.8"), Instant::now());
        assert!((0..3).all(|_| fails(&door, bad, now)));
        for seconds in [0, 1, 19] {
            let later = now + Duration::from_secs(seconds);
            assert!(door.enter(bad, later).is_none(), "after {seconds} s");
            assert!(door.enter(good, later).is_some(), "another address is let in");
        }
        // One is forgotten after 20 s, and the fourth takes its place.
        assert!(fails(&door, bad, now + Duration::from_secs(20)));
        assert!(!fails(&door, bad, now + Duration::from_secs(39)));
        assert!(fails(&door, bad, now + Duration::from_secs(40)));
        // Whoever does not fail is let in as often as it likes.
        assert!((0..1_000).all(|_| door.enter(good, now).is_some()));
    }

    #[test]
    fn failures_of_calls_that_were_under_way_are_made_up_for() {
        let admission = Admission { failures: 2, window: Duration::from_secs(60), ..Admission::default() };
        let door = door(admission);
        let (bad, now) = (ip("192.0.2.7"), Instant::now());
        let places: Vec<_> = (0..10).map(|_| door.enter(bad, now).unwrap()).collect();
        places.iter().for_each(|place| place.failed(now));
        drop(places);
        // Ten failures of 30 s each: the next is let in when nine are forgotten.
        assert!(door.enter(bad, now + Duration::from_secs(269)).is_none());
        assert!(door.enter(bad, now + Duration::from_secs(270)).is_some());
    }

    #[test]
    fn an_ipv6_network_is_one_source_and_mapped_ipv4_addresses_are_many() {
        let door = door(Admission { failures: 1, ..Admission::default() });
        let now = Instant::now();
        assert!(fails(&door, ip("2001:db8:1:2::7"), now));
        assert!(door.enter(ip("2001:db8:1:2:ffff::8"), now).is_none());
        assert!(door.enter(ip("2001:db8:1:3::7"), now).is_some());
        assert!(fails(&door, ip("::ffff:192.0.2.7"), now));
        assert!(door.enter(ip("192.0.2.7"), now).is_none(), "the same address");
        assert!(door.enter(ip("::ffff:192.0.2.8"), now).is_some());
    }

    #[test]
    fn one_source_does_not_take_every_place() {
        let door = door(Admission { connections: 5, connections_per_source: 3, ..Admission::default() });
        let now = Instant::now();
        let mut held: Vec<_> = (0..3).map(|_| door.enter(ip("192.0.2.7"), now).unwrap()).collect();
        assert!(door.enter(ip("192.0.2.7"), now).is_none());
        held.extend((0..2).map(|_| door.enter(ip("192.0.2.8"), now).unwrap()));
        assert!(door.enter(ip("192.0.2.9"), now).is_none(), "all are taken");
        held.remove(0);
        assert!(door.enter(ip("192.0.2.9"), now).is_some());
        drop(held);
        let state = door.state();
        assert_eq!((state.open, state.open_by_source.len()), (0, 0));
    }

    #[test]
    fn a_crowd_of_sources_takes_bounded_memory_and_keeps_no_new_one_out() {
        let door = door(Admission { failures: 2, sources: 10, ..Admission::default() });
        let now = Instant::now();
        let worst = ip("192.0.2.255");
        assert!((0..2).all(|_| fails(&door, worst, now)));
        for n in 0..200 {
            assert!(fails(&door, ip(&format!("192.0.2.{n}")), now));
            assert!(door.state().forgotten.len() <= 10);
        }
        assert!(door.enter(worst, now).is_none(), "the worst is remembered longest");
    }

    #[test]
    fn only_what_the_caller_did_is_held_against_it() {
        type Ended = Result<(), ExchangeError<std::fmt::Error>>;
        let refused: Ended = Err(ExchangeError::Sync(SyncError::Refused(Refusal::Invitation)));
        let refuses: Ended = Err(ExchangeError::Sync(SyncError::RefusedByPeer(Refusal::NotAdmitted)));
        let broke: Ended = Err(ExchangeError::Link(std::fmt::Error));
        assert_eq!(Verdict::of(&refused), Verdict::Refused);
        for ended in [refuses, broke, Ok(())] {
            assert_eq!(Verdict::of(&ended), Verdict::Accepted);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

        /// Whatever the rhythm, failures within any time t are at most
        /// `failures` + t / step.
        #[test]
        fn failures_over_time_are_bounded(pauses in proptest::collection::vec(0_u64..9_000, 1..300)) {
            let admission = Admission { failures: 4, window: Duration::from_secs(8), ..Admission::default() };
            let door = door(admission);
            let begin = Instant::now();
            let mut at = 0;
            let mut failed = Vec::new();
            for pause in pauses {
                at += pause;
                if fails(&door, ip("192.0.2.7"), begin + Duration::from_millis(at)) {
                    failed.push(at);
                }
            }
            for (i, first) in failed.iter().enumerate() {
                for (j, last) in failed.iter().enumerate().skip(i) {
                    prop_assert!((j - i + 1) as u64 <= 4 + (last - first) / 2_000);
                }
            }
        }
    }
}
