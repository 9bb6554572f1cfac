//! Finds a device at one of its last-known addresses.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::{Duration, Instant};

use pitside_model::facts::DeviceKey;

use super::tls::Caller;
use super::{CarrierError, Connection, Limits, NotReached, Tried, Wait};
use crate::keys::{Identity, OsRng, Rng};

/// How long an address is tried alone: the Connection Attempt Delay of
/// RFC 8305, section 8.
const STAGGER: Duration = Duration::from_millis(250);

/// Addresses tried at once.
const AT_ONCE: usize = 8;

/// How long a busy device is left alone: doubled each time, up to the longest.
const FIRST_PAUSE: Duration = Duration::from_millis(250);
const LONGEST_PAUSE: Duration = Duration::from_secs(2);

pub(super) fn reach(
    addresses: &[String],
    identity: &Identity,
    expected: DeviceKey,
    limits: &Limits,
) -> Result<Connection, NotReached> {
    let until = Instant::now() + limits.reach;
    let settled = Arc::new(AtomicBool::new(false));
    let (tell, told) = channel();
    let mut errors: Vec<Option<CarrierError>> = addresses.iter().map(|_| None).collect();
    let mut waiting = addresses.iter().enumerate();
    let (mut next, mut running) = (waiting.next(), 0_usize);
    let mut start_at = Instant::now();
    while Instant::now() < until {
        if let Some((n, address)) = next
            && running < AT_ONCE
            && start_at <= Instant::now()
        {
            next = waiting.next();
            start_at = Instant::now() + STAGGER;
            let call = Caller::new(identity, Some(expected)).map_err(CarrierError::from).and_then(|caller| {
                let (address, limits) = (address.clone(), *limits);
                let (tell, settled) = (tell.clone(), Arc::clone(&settled));
                // Not waited for: a name server may take its time, and an
                // address that is slow must not keep the quick one waiting.
                thread::Builder::new()
                    .spawn(move || {
                        let called = call(&address, &caller, &limits, until, &settled);
                        if let Err(unheard) = tell.send((n, called))
                            && let (_, Ok(late)) = unheard.0
                        {
                            late.close();
                        }
                    })
                    .map_err(CarrierError::Io)
            });
            match call {
                Ok(_) => running += 1,
                Err(error) => {
                    errors[n] = Some(error);
                    start_at = Instant::now();
                }
            }
            continue;
        }
        if running == 0 && next.is_none() {
            break;
        }
        let wake = if next.is_some() && running < AT_ONCE { start_at.min(until) } else { until };
        match told.recv_timeout(wake.saturating_duration_since(Instant::now())) {
            Ok((_, Ok(connection))) => {
                settled.store(true, Ordering::Release);
                return Ok(connection);
            }
            Ok((n, Err(error))) => {
                errors[n] = Some(error);
                running -= 1;
                start_at = Instant::now();
            }
            // `tell` is held here, so nobody can have left.
            Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => {}
        }
    }
    settled.store(true, Ordering::Release);
    let tried = addresses
        .iter()
        .zip(errors)
        .map(|(address, error)| Tried {
            address: address.clone(),
            error: error.unwrap_or(CarrierError::Timeout(Wait::Reach)),
        })
        .collect();
    Err(NotReached { tried })
}

/// Calls one address, and again where it is busy.
fn call(
    address: &str,
    caller: &Caller,
    limits: &Limits,
    until: Instant,
    settled: &AtomicBool,
) -> Result<Connection, CarrierError> {
    let mut pause = FIRST_PAUSE;
    loop {
        let by = until.min(Instant::now() + limits.handshake);
        match Connection::call(address, caller, limits, by) {
            Err(CarrierError::Busy) if !settled.load(Ordering::Acquire) => {
                let pausing = jittered(pause);
                if Instant::now() + pausing >= until {
                    return Err(CarrierError::Busy);
                }
                thread::sleep(pausing);
                pause = LONGEST_PAUSE.min(pause * 2);
            }
            ended => return ended,
        }
        if settled.load(Ordering::Acquire) {
            return Err(CarrierError::Busy);
        }
    }
}

/// Between a half and the whole of a pause, so that phones that were turned
/// away together do not come back together.
fn jittered(pause: Duration) -> Duration {
    let mut random = [0; 2];
    // Without random bytes all wait for the whole of it, which is only slower.
    match OsRng.fill(&mut random) {
        Ok(()) => pause / 2 + pause / 2 * u32::from(u16::from_be_bytes(random)) / u32::from(u16::MAX),
        Err(_) => pause,
    }
}
