//! This machine as a device of a squad: its folder, its key, its book.

use std::net::SocketAddr;
use std::path::{Path, PathBuf};

use pitside_book::carrier::{CarrierError, Connection, Limits, NotReached, Verdict};
use pitside_book::clock::Clock;
use pitside_book::exchange::{ExchangeError, Link, Outcome, Part, exchange, exchange_watched};
use pitside_book::keys::{Identity, OsRng, file};
use pitside_book::pairing::{self, Asked, Invitation, hear};
use pitside_book::store::{Book, BookError};
use pitside_log::sync::{Refusal, SyncError};
use pitside_model::facts::DeviceKey;
use pitside_screen::Env;

use crate::failure::{Exit, Failure};
use crate::progress::Progress;

/// The key of the device, in the book's folder.
const SEED: &str = "device.key";

/// Where the book is.
#[derive(clap::Args)]
pub(crate) struct Where {
    /// The folder of the book [default: pitside in the user's data folder]
    #[arg(long, value_name = "FOLDER", global = true)]
    book: Option<PathBuf>,
}

impl Where {
    /// The folder.
    pub(crate) fn folder(&self) -> Result<PathBuf, Failure> {
        let default = || dirs::data_dir().map(|d| d.join("pitside"));
        self.book.clone().or_else(default).ok_or_else(|| {
            Failure::new(Exit::Book, "this user has no data folder").hint("name one with --book FOLDER")
        })
    }

    /// Opens the book.
    pub(crate) fn open(&self) -> Result<Book, Failure> {
        open(&self.folder()?)
    }

    /// The device's identity, where its key is.
    pub(crate) fn identity(&self) -> Result<Identity, Failure> {
        let seed = file::load(&self.folder()?.join(SEED));
        Ok(Identity::from_seed(seed.map_err(|e| Failure::new(Exit::Book, e.to_string()))?))
    }

    /// Opens the book, or makes one where there is none.
    pub(crate) fn open_or_create(&self) -> Result<Book, Failure> {
        let folder = self.folder()?;
        if Book::exists(&folder) { open(&folder) } else { create(&folder, false) }
    }
}

/// Opens the book of a folder with the key beside it.
pub(crate) fn open(folder: &Path) -> Result<Book, Failure> {
    if !Book::exists(folder) {
        return Err(BookError::Missing(folder.to_owned()).into());
    }
    let seed = file::load(&folder.join(SEED)).map_err(|e| Failure::new(Exit::Book, e.to_string()))?;
    Ok(Book::open(folder, Identity::from_seed(seed))?)
}

/// Makes a book and a key in a folder.
pub(crate) fn create(folder: &Path, demo: bool) -> Result<Book, Failure> {
    std::fs::create_dir_all(folder)
        .map_err(|source| BookError::ReadOnly { path: folder.to_owned(), source })?;
    let path = folder.join(SEED);
    // A key without a book: the last start ended in between. It was never used.
    let seed = if path.exists() { file::load(&path) } else { file::create(&path, &mut OsRng) };
    let seed = seed.map_err(|e| Failure::new(Exit::Book, e.to_string()))?;
    Ok(Book::create(folder, Identity::from_seed(seed), demo)?)
}

/// Calls a device and brings the two books together. The first address at which
/// it proves its key is taken.
pub(crate) fn call(
    book: &Book,
    device: DeviceKey,
    addresses: &[String],
    part: Part,
    clock: &dyn Clock,
) -> Result<Outcome, Failure> {
    let mut connection = Connection::reach(addresses, book.identity(), device, &Limits::default())?;
    let mut progress = Progress::new("entries");
    let outcome = exchange_watched(book, &mut connection, part, clock, &mut |p| {
        progress.tell(p.received + p.sent, p.to_receive + p.to_send)
    });
    progress.end();
    connection.close();
    Ok(outcome?)
}

/// Answers one call that may also ask to be introduced: `invited` lets the person
/// compare, and gives the invitation where the words are the same.
pub(crate) fn answer_or_introduce(
    book: &Book,
    connection: Result<Connection, CarrierError>,
    clock: &dyn Clock,
    invited: &dyn Fn(DeviceKey) -> Option<Invitation>,
) -> (String, Verdict) {
    let mut connection = match connection {
        Ok(connection) => connection,
        Err(e) => return (format!("a call was not answered: {e}"), Verdict::Refused),
    };
    let peer = connection.peer();
    let short = crate::lookup::short(peer);
    let ended = match hear(&mut connection) {
        Err(e) => (format!("device {short}: {e}"), Verdict::Refused),
        Ok(Asked::Introduction(link)) => {
            let invitation = invited(peer);
            let what = if invitation.is_some() { "was sent an invitation" } else { "was sent away" };
            match pairing::answer(link, invitation.as_ref()) {
                Ok(()) => (format!("device {short} {what}"), Verdict::Accepted),
                Err(e) => (format!("device {short}: {e}"), Verdict::Accepted),
            }
        }
        Ok(Asked::Sync(mut heard)) => {
            let outcome = exchange(book, &mut heard, Part::Called, clock);
            let verdict = Verdict::of(&outcome);
            match outcome {
                Ok(outcome) => (format!("device {short}: {}", told(&outcome)), verdict),
                Err(e) => (format!("device {short}: {e}"), verdict),
            }
        }
    };
    connection.close();
    ended
}

/// Answers one call; says in a line how it went, and to the listener whether the
/// caller was refused.
pub(crate) fn answer(
    book: &Book,
    connection: Result<Connection, CarrierError>,
    clock: &dyn Clock,
) -> (String, Verdict) {
    let mut connection = match connection {
        Ok(connection) => connection,
        Err(e) => return (format!("a call was not answered: {e}"), Verdict::Refused),
    };
    let peer: String = connection.peer().to_string().chars().take(6).collect();
    let outcome = exchange(book, &mut connection, Part::Called, clock);
    connection.close();
    let verdict = Verdict::of(&outcome);
    match outcome {
        Ok(outcome) => (format!("device {peer}: {}", told(&outcome)), verdict),
        Err(e) => (format!("device {peer}: {e}"), verdict),
    }
}

/// An outcome in words.
pub(crate) fn told(outcome: &Outcome) -> String {
    let mut text = format!("{} entries received, {} sent", outcome.received, outcome.sent);
    if !outcome.forked.is_empty() {
        text.push_str(&format!(
            "; {} logs were written twice (a copied or restored book?): both sides are kept and count",
            outcome.forked.len()
        ));
    }
    if let Some(apart) = apart(outcome.clock_apart_ms) {
        text.push_str(&format!("; its clock is {apart}"));
    }
    text
}

/// By how much a clock is off, where that is worth a word.
pub(crate) fn apart(ms: i64) -> Option<String> {
    let minutes = ms.unsigned_abs() / 60_000;
    let amount = match minutes {
        0..10 => return None,
        10..120 => format!("{minutes} minutes"),
        120..2_880 => format!("{} hours", minutes / 60),
        _ => format!("{} days", minutes / 1_440),
    };
    Some(format!("{amount} {}", if ms > 0 { "ahead" } else { "behind" }))
}

/// What the screens are drawn for: the person at this machine, now.
pub(crate) fn env(clock: &dyn Clock) -> Env {
    let now = clock.now();
    Env { language: "en".to_owned(), zone_min: now.zone_min, hour24: true, now_ms: now.ms }
}

/// Addresses that only this machine can reach.
pub(crate) fn is_loopback(address: &SocketAddr) -> bool {
    address.ip().is_loopback()
}

impl From<BookError> for Failure {
    fn from(e: BookError) -> Self {
        let hint = match &e {
            BookError::Missing(_) => {
                "found a squad with `pitside serve --found NAME`, or join one with `pitside pair TEXT`"
            }
            BookError::Exists(_) => "open it, or name another folder with --book",
            BookError::InUse(_) => "close the other pitside first; while `pitside serve` runs, use its page",
            BookError::ReadOnly { .. } => "name a folder that can be written to with --book",
            BookError::Newer { .. } => "update pitside",
            BookError::Damaged { .. } => "the file was left as it is; keep a copy of it",
            BookError::BeyondRescue(_) => "restore a backup, or pair this device anew",
            BookError::NoBackup(_) => "name a file that a backup wrote",
            BookError::FileExists(_) => "name a file that is not there yet",
            BookError::OtherDevice(_) => "the folder's key is not this book's: was one of them copied?",
            BookError::NotAllowed(_) => "a coach's device admits devices and says what they may do",
            BookError::HasSquad => "one book is one squad: name another folder with --book",
            BookError::NoSquad => "found one with `pitside serve --found NAME`",
            BookError::Unknown(_) => "list what there is: pitside squad",
            BookError::Busy => "call it once more",
            BookError::Full => "make room on the disk, then do it again",
            BookError::Locked => "close the other program, then do it again",
            BookError::Demo => "name another folder with --book",
            BookError::Refused(_) | BookError::Sqlite(_) | BookError::Random(_) => "nothing was written",
        };
        Self::new(Exit::Book, e.to_string()).hint(hint)
    }
}

impl From<CarrierError> for Failure {
    fn from(e: CarrierError) -> Self {
        Self::new(Exit::Sync, e.to_string()).hint(hint(&e))
    }
}

impl From<NotReached> for Failure {
    fn from(e: NotReached) -> Self {
        // Another key is the one thing that calling again does not mend.
        let other = e.tried.iter().find(|tried| matches!(tried.error, CarrierError::WrongKey { .. }));
        let hint = match other.or(e.tried.last()) {
            Some(tried) => hint(&tried.error),
            None => "name one: pitside sync ADDRESS",
        };
        Self::new(Exit::Sync, e.to_string()).hint(hint)
    }
}

fn hint(e: &CarrierError) -> &'static str {
    match e {
        CarrierError::Unreachable { .. } => {
            "is the other device on the same network, and does `pitside serve` listen there?"
        }
        CarrierError::WrongKey { .. } => "if the coach has a new device, pair with it anew",
        _ => "try again; what was taken in stays",
    }
}

impl From<ExchangeError<CarrierError>> for Failure {
    fn from(e: ExchangeError<CarrierError>) -> Self {
        let hint = match &e {
            ExchangeError::Sync(SyncError::RefusedByPeer(why) | SyncError::Refused(why)) => match why {
                Refusal::NotAdmitted | Refusal::Invitation | Refusal::Expired | Refusal::NotOwner => {
                    "ask the coach for an invitation"
                }
                Refusal::Protocol => "update both devices",
                _ => "nothing was lost; what was taken in stays",
            },
            _ => "nothing was lost; the next sync goes on from here",
        };
        Self::new(Exit::Sync, e.to_string()).hint(hint)
    }
}
