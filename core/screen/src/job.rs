//! Long work that a person watches and can call off: a sync, and the first one, by
//! which a phone joins a squad; the reading of a clip; the writing of all data.
//!
//! The calls block, so a shell makes them on a thread of their own; another thread
//! reads the [`Job`]'s progress, and may cancel it at any time.

use std::collections::HashMap;
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::Instant;

use pitside_book::announce;
use pitside_book::carrier::{CarrierError, Connection, Limits, NotReached};
use pitside_book::clock::{Clock, Stamp, SystemClock};
use pitside_book::exchange::{ExchangeError, Part, accept, exchange_watched};
use pitside_book::pairing::{self, Invitation, PairingError};
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

/// The same with all that is known of it, for who puts it into words.
#[derive(Debug)]
pub(crate) enum Trouble {
    Cancelled,
    /// No device is known that could be called.
    Nobody,
    NotReached(NotReached),
    Exchange(ExchangeError<CarrierError>),
    Text(PairingError),
    Book(BookError),
    Closed,
}

impl From<Trouble> for JobError {
    fn from(e: Trouble) -> Self {
        match e {
            Trouble::Cancelled | Trouble::Exchange(ExchangeError::CalledOff) => Self::Cancelled,
            Trouble::Nobody => {
                Self::NotReached { reason: "no device is known that could be called".to_owned() }
            }
            Trouble::NotReached(e) => Self::NotReached { reason: e.to_string() },
            Trouble::Exchange(e) => Self::Broken { reason: e.to_string() },
            Trouble::Text(e) => Self::Text { reason: e.to_string() },
            Trouble::Book(e) => Self::Book { reason: e.to_string() },
            Trouble::Closed => Self::Book { reason: ScreenError::Closed.to_string() },
        }
    }
}
impl From<BookError> for Trouble {
    fn from(e: BookError) -> Self {
        Self::Book(e)
    }
}
impl From<PairingError> for Trouble {
    fn from(e: PairingError) -> Self {
        Self::Text(e)
    }
}
impl From<ExchangeError<CarrierError>> for Trouble {
    fn from(e: ExchangeError<CarrierError>) -> Self {
        match e {
            ExchangeError::CalledOff => Self::Cancelled,
            other => Self::Exchange(other),
        }
    }
}

/// A place that the phone's own search found on the local network. It proves nothing:
/// only a device that is known by its key is spoken to.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Nearby {
    /// What stands in its TXT record.
    pub attributes: HashMap<String, Vec<u8>>,
    /// Where it listens: `host:port`, an IPv6 host in brackets.
    pub addresses: Vec<String>,
}

/// How far a job is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Record)]
pub struct JobProgress {
    /// What was moved: entries, or bytes of a clip.
    pub moved: u64,
    /// What there is to move, as far as it is known; it may grow, and is 0 at the beginning.
    pub of: u64,
    /// It was called off.
    pub cancelled: bool,
}

/// What is moved, for the words in which it is told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Moves {
    /// Entries, between two devices.
    #[default]
    Entries,
    /// The bytes of a clip.
    Clip,
    /// Entries, into the file of all data.
    Export,
}

/// One piece of long work.
#[derive(Debug, Default, uniffi::Object)]
pub struct Job {
    moves: Moves,
    moved: AtomicU64,
    of: AtomicU64,
    cancelled: AtomicBool,
    /// The other device is looked for.
    reaching: AtomicBool,
}

#[uniffi::export]
impl Job {
    /// A job that was not begun.
    #[uniffi::constructor]
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// The same for the reading of a clip.
    #[uniffi::constructor]
    #[must_use]
    pub fn of_clip() -> Self {
        Self { moves: Moves::Clip, ..Self::default() }
    }

    /// The same for the writing of all data.
    #[uniffi::constructor]
    #[must_use]
    pub fn of_export() -> Self {
        Self { moves: Moves::Export, ..Self::default() }
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
    pub(crate) fn is_cancelled(&self) -> bool {
        self.cancelled.load(Ordering::Acquire)
    }

    pub(crate) fn moves(&self) -> Moves {
        self.moves
    }

    pub(crate) fn is_reaching(&self) -> bool {
        self.reaching.load(Ordering::Acquire)
    }

    /// Notes how far it is; `false` where it was called off.
    pub(crate) fn go_on(&self, moved: u64, of: u64) -> bool {
        self.moved.store(moved, Ordering::Release);
        self.of.store(of, Ordering::Release);
        !self.is_cancelled()
    }

    /// Finds a device at one of its addresses. A call that waits cannot be stopped from
    /// outside, so it is made in stretches, and cancelling is heard at the end of one.
    fn reach(&self, book: &Book, device: DeviceKey, addresses: &[String]) -> Result<Connection, Trouble> {
        let whole = Limits::default();
        let limits = Limits { reach: whole.reach / STRETCHES, ..whole };
        let mut not_reached = NotReached { tried: Vec::new() };
        for _ in 0..STRETCHES {
            if self.is_cancelled() {
                return Err(Trouble::Cancelled);
            }
            let begun = Instant::now();
            match Connection::reach(addresses, book.identity(), device, &limits) {
                Ok(connection) => return Ok(connection),
                Err(e) => not_reached = e,
            }
            // Refused at once everywhere: nothing there will change by asking again.
            if begun.elapsed() < limits.reach {
                break;
            }
        }
        Err(if self.is_cancelled() { Trouble::Cancelled } else { Trouble::NotReached(not_reached) })
    }

    fn exchange(
        &self,
        book: &Book,
        device: DeviceKey,
        addresses: &[String],
        part: Part,
        clock: &dyn Clock,
    ) -> Result<Synced, Trouble> {
        self.reaching.store(true, Ordering::Release);
        let reached = self.reach(book, device, addresses);
        self.reaching.store(false, Ordering::Release);
        let mut connection = reached?;
        let outcome = exchange_watched(book, &mut connection, part, clock, &mut |p| {
            self.go_on(p.received + p.sent, p.to_receive + p.to_send)
        });
        connection.close();
        let outcome = outcome?;
        Ok(Synced { received: outcome.received, sent: outcome.sent, revision: book.revision() })
    }
}

/// A file whose reading and writing ends with an error once the job is called off. What is
/// read is counted as the job's progress.
pub(crate) struct Watched<'a, F> {
    file: F,
    job: &'a Job,
    read: u64,
    of: u64,
}

impl<'a, F> Watched<'a, F> {
    /// `of` are the bytes to be read; what is read twice, as the tables of a clip are, counts
    /// no more than these.
    pub(crate) fn new(file: F, job: &'a Job, of: u64) -> Self {
        Self { file, job, read: 0, of }
    }

    /// The file itself.
    pub(crate) fn file(&self) -> &F {
        &self.file
    }

    fn go_on(&self) -> io::Result<()> {
        if self.job.is_cancelled() { Err(io::Error::other("called off")) } else { Ok(()) }
    }
}

impl<F: Read> Read for Watched<'_, F> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        self.go_on()?;
        let n = self.file.read(buffer)?;
        self.read = self.read.saturating_add(n as u64).min(self.of);
        self.job.go_on(self.read, self.of);
        Ok(n)
    }
}

impl<F: Seek> Seek for Watched<'_, F> {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.file.seek(to)
    }
}

impl<F: Write> Write for Watched<'_, F> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.go_on()?;
        self.file.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
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
pub(crate) struct Here(pub(crate) i16);

impl Clock for Here {
    fn now(&self) -> Stamp {
        Stamp { zone_min: self.0, ..SystemClock.now() }
    }
}

impl Companion {
    /// Brings the book together with the first device that is found of those it knows, at
    /// the addresses it was last reached at and those that were found nearby. A device that
    /// was removed is not called.
    pub(crate) fn synced(
        &self,
        env: &Env,
        device: &str,
        found: &[Nearby],
        job: &Job,
    ) -> Result<Synced, Trouble> {
        let book = self.open_book().map_err(|_| Trouble::Closed)?;
        let authority = book.authority()?;
        let mut last = Trouble::Nobody;
        for peer in book.peers()? {
            let removed = authority.standing(peer.device).cut.is_some();
            if removed || !(device.is_empty() || peer.device.to_string() == device) {
                continue;
            }
            // What is heard on the network is newer, and may be somebody else's: it comes first
            // and pushes no address out by which the device was reached before.
            let room = pairing::MAX_ADDRESSES.saturating_sub(peer.addresses.len()).max(1);
            let mut near = nearby(found, peer.device);
            near.truncate(room);
            let mut addresses = near.clone();
            addresses.extend(peer.addresses.iter().filter(|known| !near.contains(known)).cloned());
            addresses.truncate(pairing::MAX_ADDRESSES);
            if addresses.is_empty() {
                continue;
            }
            match job.exchange(&book, peer.device, &addresses, Part::Caller, &Here(env.zone_min)) {
                Err(e @ Trouble::NotReached(_)) => last = e,
                Ok(synced) => {
                    if !near.is_empty() {
                        book.set_peer(peer.device, &addresses)?;
                    }
                    return Ok(synced);
                }
                Err(e) => return Err(e),
            }
        }
        Err(last)
    }

    /// Joins a squad by the text of an invitation.
    pub(crate) fn joined(&self, env: &Env, text: &str, job: &Job) -> Result<Synced, Trouble> {
        let invitation = Invitation::from_text(text.trim())?;
        let book = self.open_book().map_err(|_| Trouble::Closed)?;
        let clock = Here(env.zone_min);
        let part = accept(&book, &invitation, &clock)?;
        job.exchange(&book, invitation.device, &invitation.addresses, part, &clock)
    }
}

/// The addresses of those found that say they are a device.
fn nearby(found: &[Nearby], device: DeviceKey) -> Vec<String> {
    let is_of = |near: &&Nearby| {
        announce::is_of(near.attributes.iter().map(|(key, value)| (key.as_str(), value.as_slice())), device)
    };
    // Who announces what cannot be an address is not called.
    let address = |text: &&String| (3..=120).contains(&text.len()) && !text.chars().any(char::is_whitespace);
    let places = found.iter().filter(is_of).flat_map(|near| near.addresses.iter().filter(address));
    places.take(announce::MAX_FOUND).cloned().collect()
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Brings the book together with the first device that is found of those it knows an
    /// address of. `device` names one, by its key; empty for any.
    ///
    /// # Errors
    /// [`JobError`]; [`JobError::NotReached`] where it knows none.
    pub fn sync(&self, env: &Env, device: &str, job: &Job) -> Result<Synced, JobError> {
        Ok(self.synced(env, device, &[], job)?)
    }

    /// Joins a squad by the text of an invitation, as a QR code carries it, and syncs for
    /// the first time.
    ///
    /// # Errors
    /// [`JobError`]; [`JobError::Text`] where it is no invitation.
    pub fn join(&self, env: &Env, text: &str, job: &Job) -> Result<Synced, JobError> {
        Ok(self.joined(env, text, job)?)
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
