//! Long work that a person watches and can call off: a sync, and the first one, by
//! which a phone joins a squad.
//!
//! The calls block, so a shell makes them on a thread of their own; another thread
//! reads the [`Job`]'s progress, and may cancel it at any time.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::Instant;

use pitside_book::carrier::{CarrierError, Connection, Limits};
use pitside_book::clock::{Clock, Stamp, SystemClock};
use pitside_book::exchange::{ExchangeError, Part, accept, exchange_watched};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, BookError};
use pitside_model::facts::DeviceKey;

use crate::companion::{Companion, ScreenError};
use crate::env::Env;

/// In how many stretches a device is looked for; each is long enough for the handshake on
/// a slow radio link.
const STRETCHES: u32 = 5;

/// Why a job ended early. What was taken in by then stays; the next one goes on from
/// there.
#[derive(Debug, thiserror::Error, uniffi::Error)]
pub enum JobError {
    /// A person called it off.
    #[error("called off; what was taken in by then stays")]
    Cancelled,
    /// The other device was not found, or there is none to look for.
    #[error("{reason}")]
    NotReached {
        /// Where it was looked for.
        reason: String,
    },
    /// The two did not come to an end together.
    #[error("{reason}")]
    Broken {
        /// What was refused, or what failed.
        reason: String,
    },
    /// What was given is no pairing text.
    #[error("{reason}")]
    Text {
        /// What is wrong with it.
        reason: String,
    },
    /// The book cannot be read or written, or is closed.
    #[error("{reason}")]
    Book {
        /// What is wrong.
        reason: String,
    },
}

impl From<BookError> for JobError {
    fn from(e: BookError) -> Self {
        Self::Book { reason: e.to_string() }
    }
}
impl From<ScreenError> for JobError {
    fn from(e: ScreenError) -> Self {
        Self::Book { reason: e.to_string() }
    }
}
impl From<ExchangeError<CarrierError>> for JobError {
    fn from(e: ExchangeError<CarrierError>) -> Self {
        match e {
            ExchangeError::CalledOff => Self::Cancelled,
            other => Self::Broken { reason: other.to_string() },
        }
    }
}

/// How far a job is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Record)]
pub struct JobProgress {
    /// Entries that were moved.
    pub moved: u64,
    /// Entries there are to move, as far as both sides have told; it may grow.
    pub of: u64,
    /// It was called off.
    pub cancelled: bool,
}

/// One piece of long work.
#[derive(Debug, Default, uniffi::Object)]
pub struct Job {
    moved: AtomicU64,
    of: AtomicU64,
    cancelled: AtomicBool,
}

#[uniffi::export]
impl Job {
    /// A job that was not begun.
    #[uniffi::constructor]
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Calls it off, before or while it runs.
    pub fn cancel(&self) {
        self.cancelled.store(true, Ordering::Release);
    }

    /// How far it is.
    #[must_use]
    pub fn progress(&self) -> JobProgress {
        JobProgress {
            moved: self.moved.load(Ordering::Acquire),
            of: self.of.load(Ordering::Acquire),
            cancelled: self.is_cancelled(),
        }
    }
}

impl Job {
    fn is_cancelled(&self) -> bool {
        self.cancelled.load(Ordering::Acquire)
    }

    /// Notes how far it is; `false` where it was called off.
    fn go_on(&self, moved: u64, of: u64) -> bool {
        self.moved.store(moved, Ordering::Release);
        self.of.store(of, Ordering::Release);
        !self.is_cancelled()
    }

    /// Finds a device at one of its addresses. A call that waits cannot be stopped from
    /// outside, so it is made in stretches, and cancelling is heard at the end of one.
    fn reach(&self, book: &Book, device: DeviceKey, addresses: &[String]) -> Result<Connection, JobError> {
        let whole = Limits::default();
        let limits = Limits { reach: whole.reach / STRETCHES, ..whole };
        let mut not_reached = String::new();
        for _ in 0..STRETCHES {
            if self.is_cancelled() {
                return Err(JobError::Cancelled);
            }
            let begun = Instant::now();
            match Connection::reach(addresses, book.identity(), device, &limits) {
                Ok(connection) => return Ok(connection),
                Err(e) => not_reached = e.to_string(),
            }
            // Refused at once everywhere: nothing there will change by asking again.
            if begun.elapsed() < limits.reach {
                break;
            }
        }
        if self.is_cancelled() {
            Err(JobError::Cancelled)
        } else {
            Err(JobError::NotReached { reason: not_reached })
        }
    }

    fn exchange(
        &self,
        book: &Book,
        device: DeviceKey,
        addresses: &[String],
        part: Part,
        clock: &dyn Clock,
    ) -> Result<Synced, JobError> {
        let mut connection = self.reach(book, device, addresses)?;
        let outcome = exchange_watched(book, &mut connection, part, clock, &mut |p| {
            self.go_on(p.received + p.sent, p.to_receive + p.to_send)
        });
        connection.close();
        let outcome = outcome?;
        Ok(Synced { received: outcome.received, sent: outcome.sent, revision: book.revision() })
    }
}

/// What a sync brought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Synced {
    /// Entries that were new here.
    pub received: u64,
    /// Entries that were sent.
    pub sent: u64,
    /// The book's revision after it.
    pub revision: u64,
}

/// The device's clock now, in the zone of the call.
struct Here(i16);

impl Clock for Here {
    fn now(&self) -> Stamp {
        Stamp { zone_min: self.0, ..SystemClock.now() }
    }
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Brings the book together with the first device that is found of those it knows an
    /// address of. `device` names one, by its key; empty for any.
    ///
    /// # Errors
    /// [`JobError`]; [`JobError::NotReached`] where it knows none.
    pub fn sync(&self, env: &Env, device: &str, job: &Job) -> Result<Synced, JobError> {
        let book = self.open_book()?;
        let mut last = JobError::NotReached { reason: "no device is known that could be called".to_owned() };
        for peer in book.peers()? {
            if peer.addresses.is_empty() || !(device.is_empty() || peer.device.to_string() == device) {
                continue;
            }
            match job.exchange(&book, peer.device, &peer.addresses, Part::Caller, &Here(env.zone_min)) {
                Err(e @ JobError::NotReached { .. }) => last = e,
                ended => return ended,
            }
        }
        Err(last)
    }

    /// Joins a squad by the text of an invitation, as a QR code carries it, and syncs for
    /// the first time.
    ///
    /// # Errors
    /// [`JobError`]; [`JobError::Text`] where it is no invitation.
    pub fn join(&self, env: &Env, text: &str, job: &Job) -> Result<Synced, JobError> {
        let invitation =
            Invitation::from_text(text.trim()).map_err(|e| JobError::Text { reason: e.to_string() })?;
        let book = self.open_book()?;
        let clock = Here(env.zone_min);
        let part = accept(&book, &invitation, &clock)?;
        job.exchange(&book, invitation.device, &invitation.addresses, part, &clock)
    }
}

#[cfg(test)]
mod tests {
    use std::net::{Ipv4Addr, SocketAddr};
    use std::path::Path;
    use std::thread;

    use pitside_book::carrier::{Listener, Verdict};
    use pitside_book::exchange::exchange;
    use pitside_book::keys::{Identity, Seed};
    use pitside_model::facts::{Grant, Role};
    use zeroize::Zeroizing;

    use super::*;
    use crate::record::SetForm;

    fn env() -> Env {
        let now_ms = SystemClock.now().ms;
        Env { language: "en".into(), zone_min: 60, hour24: true, now_ms }
    }

    fn phone(folder: &Path) -> Companion {
        Companion::open(folder.to_str().unwrap(), vec![9; 32], &env()).unwrap()
    }

    #[test]
    fn a_phone_joins_by_a_text_syncs_and_a_job_called_off_moves_nothing() {
        let (coachs, phones) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let identity = || Identity::from_seed(Seed::from_bytes(Zeroizing::new([3; 32])));
        let coach = Book::create(coachs.path(), identity(), false).unwrap();
        coach.found("Weir jumps", env().stamp()).unwrap();
        let listener = Listener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, 0)), Limits::default()).unwrap();
        let open = coach.invite(Grant::new(Role::Athlete, vec![]), env().stamp(), 10).unwrap();
        let text = Invitation::of(&coach, &open, vec![listener.address().to_string()]).unwrap().to_text();
        let phone = phone(phones.path());
        let form = SetForm { reps: 8, ..phone.log_set(&env()).unwrap().form };
        phone.log_today(&env(), "", &form).unwrap();
        thread::scope(|scope| {
            scope.spawn(|| {
                listener.serve(&identity(), &|connection| {
                    let Ok(mut connection) = connection else { return Verdict::Refused };
                    let ended = exchange(&coach, &mut connection, Part::Called, &SystemClock);
                    connection.close();
                    Verdict::of(&ended)
                });
            });
            let job = Job::new();
            let joined = phone.join(&env(), &text, &job).unwrap();
            assert!(joined.sent >= 2 && joined.received >= 1, "{joined:?}");
            let progress = job.progress();
            assert_eq!(progress.moved, joined.sent + joined.received);
            assert!(progress.of >= progress.moved && !progress.cancelled, "{progress:?}");
            assert_eq!(phone.today(&env()).unwrap().carried, "Nothing is on this device only.");

            phone.log_today(&env(), "", &form).unwrap();
            let called_off = Job::new();
            called_off.cancel();
            let ended = phone.sync(&env(), "", &called_off);
            assert!(matches!(ended, Err(JobError::Cancelled)), "{ended:?}");
            assert!(phone.today(&env()).unwrap().carried.starts_with("1 set only"));

            assert_eq!(phone.sync(&env(), "", &Job::new()).unwrap().sent, 1);
            assert_eq!(phone.today(&env()).unwrap().carried, "Nothing is on this device only.");
            listener.stop().stop();
        });
        drop(listener);
        let gone = phone.sync(&env(), "", &Job::new());
        assert!(matches!(gone, Err(JobError::NotReached { .. })), "nobody listens any more: {gone:?}");
    }

    #[test]
    fn what_is_no_invitation_is_said_before_anything_is_called() {
        let folder = tempfile::tempdir().unwrap();
        let ended = phone(folder.path()).join(&env(), "PITSIDE1:X", &Job::new());
        assert!(matches!(ended, Err(JobError::Text { .. })), "{ended:?}");
    }
}
