//! The book: everything one device holds of one squad, in one SQLite file.
//!
//! Entries and seals are the truth; the tables that merge fills from them are the
//! projection, kept up to date with every entry, so that opening a book replays
//! nothing. Whatever a call of this module has returned `Ok` for is on the disk.
//!
//! One connection writes, behind a lock; a few others read, so that a screen
//! does not wait for a sync. One process at a time has a book open.
//!
//! `impl Book` goes on in `write` (facts), `read` (facts), `squad` (members,
//! devices, invitations, erasure), `peers` (what others have), `check` (whether the
//! file is whole), `backup` (a copy, and the way back), `rescue` (what can be read of
//! a damaged book), `inspect` (all of it, to be checked), `mark` (what was added since).

mod apart;
mod backup;
mod check;
mod cleaning;
mod error;
mod held;
mod inspect;
mod ledger;
mod line;
mod mark;
mod peers;
mod read;
mod replica;
mod rescue;
mod schema;
mod squad;
mod write;

pub use apart::{ERASED_FILE, HEADS_FILE};
pub use error::BookError;
pub use held::{Draft, Filter, Held, Live, Written};
pub use line::Place;
pub use mark::Mark;
pub use peers::{Aside, Carried, OnlyHere, Peer, Reached, Whereabouts};
pub use read::{Said, Uncounted};
pub use replica::BookReplica;
pub use rescue::{Lost, Rescued};
pub use squad::{Founded, OpenInvitation};
pub use write::Together;

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use pitside_log::authority::{Authority, Root};
use pitside_log::merge::apply;
use pitside_model::facts::{DeviceKey, LogId, MemberId, Scope, SquadId};
use rusqlite::{Connection, OpenFlags, OptionalExtension, Transaction, TransactionBehavior, params};
use uuid::Uuid;

use crate::durable::{make_folder, sync_folder};
use crate::keys::Identity;
use cleaning::Cleaning;
use ledger::SqlLedger;
use line::Place as At;

/// The file of a book in its folder.
pub const FILE: &str = "book.sqlite";
const LOCK: &str = "book.lock";
/// How often the lock is tried, and the pause between: a program that this or another
/// one is just starting holds its starter's files until it runs.
const LOCK_TRIES: u32 = 8;
const LOCK_PAUSE: core::time::Duration = core::time::Duration::from_millis(25);
/// What a book is made as, until it is whole.
const DRAFT: &str = "book.sqlite.new";
/// Readers kept open between two calls.
const READERS: usize = 4;

/// An open book.
#[derive(Debug)]
pub struct Book {
    folder: PathBuf,
    identity: Identity,
    demo: bool,
    writer: Mutex<Connection>,
    readers: Mutex<Vec<Connection>>,
    squad: Mutex<Option<SquadId>>,
    authority: Mutex<Option<(u64, Arc<Authority>)>>,
    /// An own log has grown since its head was kept apart.
    wrote: AtomicBool,
    /// The members kept apart of whom this device holds nothing any more.
    gone: Mutex<BTreeSet<MemberId>>,
    revision: AtomicU64,
    cleaning: Arc<Cleaning>,
    /// Logs of members whose data this device's person let go, as they were sent
    /// since the book was opened: what follows of them is passed over too.
    passed_over: Mutex<BTreeMap<LogId, (Scope, DeviceKey)>>,
    /// Held as long as the book is open; the system lets go of it when the
    /// process dies.
    _lock: File,
}

impl Book {
    /// Makes a new book in a folder, which is made too where it is missing.
    ///
    /// A demo book takes part in an invented squad only.
    ///
    /// # Errors
    /// [`BookError::Exists`], [`BookError::ReadOnly`], [`BookError::InUse`].
    pub fn create(folder: &Path, identity: Identity, demo: bool) -> Result<Self, BookError> {
        if Self::exists(folder) {
            return Err(BookError::Exists(folder.to_owned()));
        }
        let denied = |source| BookError::ReadOnly { path: folder.to_owned(), source };
        make_folder(folder).map_err(denied)?;
        let lock = lock(folder)?;
        // Another program may have made one meanwhile.
        if Self::exists(folder) {
            return Err(BookError::Exists(folder.to_owned()));
        }
        // Made beside, and put in its place whole: where the machine stops there
        // is no book or all of it.
        let (draft, path) = (folder.join(DRAFT), folder.join(FILE));
        for part in ["-wal", "-journal", ""] {
            match std::fs::remove_file(folder.join(format!("{DRAFT}{part}"))) {
                Err(e) if e.kind() != std::io::ErrorKind::NotFound => return Err(denied(e)),
                _ => {}
            }
        }
        let mut connection = connect(&draft, true)?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        schema::migrate(&transaction, &draft)?;
        set_meta(&transaction, "device", &identity.key().0)?;
        set_meta(&transaction, "demo", &[u8::from(demo)])?;
        set_meta(&transaction, "projection", &schema::PROJECTION.to_be_bytes())?;
        hold_erasures(&transaction, folder, identity.key())?;
        transaction.commit()?;
        // Closing would fold the log in too, and say nothing where that fails.
        connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
        connection.close().map_err(|(_, e)| e)?;
        // The log of a book that is gone would be taken for this one's.
        backup::set_apart(folder, "damaged", None).map_err(denied)?;
        std::fs::rename(&draft, &path).and_then(|()| sync_folder(folder)).map_err(denied)?;
        let connection = connect(&path, false)?;
        let book = Self::assemble(folder, identity, demo, connection, None, lock);
        book.notice_a_copy()?;
        Ok(book)
    }

    /// Opens the book of a folder.
    ///
    /// # Errors
    /// [`BookError::Missing`], [`BookError::InUse`], [`BookError::Newer`],
    /// [`BookError::Damaged`], [`BookError::OtherDevice`], [`BookError::ReadOnly`].
    pub fn open(folder: &Path, identity: Identity) -> Result<Self, BookError> {
        if !Self::exists(folder) {
            return Err(BookError::Missing(folder.to_owned()));
        }
        let lock = lock(folder)?;
        backup::drop_draft(folder);
        let path = folder.join(FILE);
        let mut connection = connect(&path, false).map_err(|e| e.or_damaged(&path))?;
        let (demo, squad) = Self::bring_up(&mut connection, folder, &path, identity.key())
            .map_err(|e| e.or_damaged(&path))?;
        let book = Self::assemble(folder, identity, demo, connection, squad, lock);
        book.notice_a_copy().and_then(|()| book.clean()).map_err(|e| e.or_damaged(&path))?;
        Ok(book)
    }

    /// Brings the file to this version and to what this device knows.
    fn bring_up(
        connection: &mut Connection,
        folder: &Path,
        path: &Path,
        device: DeviceKey,
    ) -> Result<(bool, Option<SquadId>), BookError> {
        let damage = |why: &str| BookError::Damaged { path: path.to_owned(), why: why.to_owned() };
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        schema::migrate(&transaction, path)?;
        let named = meta(&transaction, "device")?.ok_or_else(|| damage("it names no device"))?;
        if named != device.0 {
            return Err(BookError::OtherDevice(path.to_owned()));
        }
        let demo = meta(&transaction, "demo")?.as_deref() == Some(&[1]);
        let squad = match meta(&transaction, "squad")? {
            None => None,
            Some(bytes) => Some(SquadId(bytes.try_into().map_err(|_| damage("its squad has no id"))?)),
        };
        if meta(&transaction, "projection")?.as_deref() != Some(&schema::PROJECTION.to_be_bytes()) {
            rebuild(&transaction, &Root { squad, device })?;
            set_meta(&transaction, "projection", &schema::PROJECTION.to_be_bytes())?;
        }
        hold_erasures(&transaction, folder, device)?;
        transaction.commit()?;
        Ok((demo, squad))
    }

    fn assemble(
        folder: &Path,
        identity: Identity,
        demo: bool,
        writer: Connection,
        squad: Option<SquadId>,
        lock: File,
    ) -> Self {
        Self {
            folder: folder.to_owned(),
            identity,
            demo,
            writer: Mutex::new(writer),
            readers: Mutex::new(Vec::new()),
            squad: Mutex::new(squad),
            authority: Mutex::new(None),
            wrote: AtomicBool::new(false),
            gone: Mutex::new(apart::erased(folder)),
            revision: AtomicU64::new(1),
            cleaning: Arc::default(),
            passed_over: Mutex::new(BTreeMap::new()),
            _lock: lock,
        }
    }

    /// Where this device wrote more than the book has, the book is an older copy:
    /// its own logs are closed, and what is written next begins new ones.
    fn notice_a_copy(&self) -> Result<(), BookError> {
        if !self.reading(|c| Ok(apart::is_ahead(&self.folder, c)?))? {
            return Ok(());
        }
        self.writing(|t| {
            t.execute("UPDATE lines SET closed = 1 WHERE device = ?1", [self.device().0.as_slice()])?;
            set_meta(t, "copy", &[1])?;
            self.wrote.store(true, Ordering::Release);
            Ok(())
        })
    }

    /// Whether this book was once put back from an older copy, or written on in
    /// two places. What is missing comes from the devices that have it.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn was_a_copy(&self) -> Result<bool, BookError> {
        self.reading(|c| Ok(meta(c, "copy")?.is_some()))
    }

    /// Whether a folder has a book.
    #[must_use]
    pub fn exists(folder: &Path) -> bool {
        folder.join(FILE).is_file()
    }

    /// The folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }
    /// This device.
    #[must_use]
    pub fn device(&self) -> DeviceKey {
        self.identity.key()
    }
    /// The identity with which it signs.
    #[must_use]
    pub fn identity(&self) -> &Identity {
        &self.identity
    }
    /// The squad, once there is one.
    #[must_use]
    pub fn squad(&self) -> Option<SquadId> {
        *guard(&self.squad)
    }
    /// Whether it is a book of the invented demo squad.
    #[must_use]
    pub fn is_demo(&self) -> bool {
        self.demo
    }
    /// Grows with every change; screens made at one revision stay true until the
    /// next.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.revision.load(Ordering::Acquire)
    }

    /// Who stands where in the squad.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn authority(&self) -> Result<Arc<Authority>, BookError> {
        let revision = self.revision();
        if let Some((at, authority)) = &*guard(&self.authority)
            && *at == revision
        {
            return Ok(Arc::clone(authority));
        }
        let authority = Arc::new(self.reading(|c| Ok(ledger::authority(c)?))?);
        *guard(&self.authority) = Some((revision, Arc::clone(&authority)));
        Ok(authority)
    }

    fn root(&self) -> Root {
        Root { squad: self.squad(), device: self.device() }
    }

    /// Runs `work` in one transaction of the writing connection.
    fn writing<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        let mut writer = guard(&self.writer);
        let transaction = writer.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let done = work(&transaction)?;
        transaction.commit()?;
        self.revision.fetch_add(1, Ordering::AcqRel);
        self.keep_apart(&writer);
        Ok(done)
    }

    /// Keeps apart what changed. What was written is in the book, so the call
    /// succeeds where this fails. Without these files only a copy that is put back
    /// goes unnoticed; the next write tries again.
    fn keep_apart(&self, writer: &Connection) {
        let mut known = guard(&self.gone);
        let gone = apart::gone(writer, self.device());
        // An own log of a member who was erased has gone too.
        let changed = gone.as_ref().is_ok_and(|gone| *gone != *known);
        if self.wrote.swap(false, Ordering::AcqRel) || changed {
            let ends = line::ends(writer, self.device());
            let kept = ends.map(|ends| apart::write(&self.folder, &ends));
            self.wrote.store(!matches!(kept, Ok(Ok(()))), Ordering::Release);
        }
        if let (true, Ok(gone)) = (changed, gone)
            && apart::write_erased(&self.folder, &gone).is_ok()
        {
            *known = gone;
        }
    }

    /// Runs `work` on a reading connection: a snapshot that no writer holds up.
    fn reading<T>(&self, work: impl FnOnce(&Connection) -> Result<T, BookError>) -> Result<T, BookError> {
        let spare = guard(&self.readers).pop();
        let connection = match spare {
            Some(connection) => connection,
            None => connect(&self.folder.join(FILE), false)?,
        };
        let done = {
            let snapshot = connection.unchecked_transaction()?;
            let done = work(&snapshot);
            snapshot.finish()?;
            done
        };
        let mut readers = guard(&self.readers);
        if readers.len() < READERS {
            readers.push(connection);
        }
        done
    }

    /// A draft or setting of this device.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn local(&self, name: &str) -> Result<Option<Vec<u8>>, BookError> {
        self.reading(|c| {
            let value = c
                .prepare_cached("SELECT value FROM local WHERE name = ?1")?
                .query_row([name], |r| r.get(0))
                .optional()?;
            Ok(value)
        })
    }

    /// Keeps a draft or setting of this device, or drops it. A name that begins with
    /// `setting/` says how the device is to be and outlives an erasure; all else may speak
    /// of whoever was erased, and goes with it.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn set_local(&self, name: &str, value: Option<&[u8]>) -> Result<(), BookError> {
        self.writing(|t| {
            match value {
                Some(value) => t
                    .prepare_cached("INSERT OR REPLACE INTO local (name, value) VALUES (?1, ?2)")?
                    .execute(params![name, value])?,
                None => t.prepare_cached("DELETE FROM local WHERE name = ?1")?.execute([name])?,
            };
            Ok(())
        })
    }

    /// Makes the projection anew from the entries. What was there before must
    /// not differ; it is the repair where it does.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn rebuild(&self) -> Result<(), BookError> {
        let root = self.root();
        self.writing(|t| rebuild(t, &root))
    }

    /// Takes what was deleted out of every file of the folder: freed bytes were
    /// overwritten when they were freed (`secure_delete`), so the write-ahead log is
    /// folded in and cut to nothing, and the file written anew without its free pages.
    ///
    /// # Errors
    /// Where the book cannot be written, or a reader does not come to its end.
    fn scour(&self) -> Result<(), BookError> {
        let _wanted = self.cleaning.want();
        guard(&self.readers).clear();
        let writer = guard(&self.writer);
        writer.execute_batch("VACUUM")?;
        let busy: i64 = writer.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |r| r.get(0))?;
        if busy != 0 {
            return Err(BookError::Busy);
        }
        Ok(())
    }

    /// Closes the book: the log of the writer is folded into the file.
    ///
    /// # Errors
    /// Where the last write to the file fails; nothing acknowledged is lost.
    pub fn close(self) -> Result<(), BookError> {
        guard(&self.readers).clear();
        let writer = self.writer.into_inner().unwrap_or_else(PoisonError::into_inner);
        writer.close().map_err(|(_, e)| e.into())
    }
}

/// A poisoned lock means that a panic passed through a call. Its transaction
/// was rolled back when it was dropped, so what the lock guards is whole.
fn guard<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

fn lock(folder: &Path) -> Result<File, BookError> {
    let path = folder.join(LOCK);
    let file = OpenOptions::new()
        .create(true)
        .truncate(false)
        .write(true)
        .open(&path)
        .map_err(|source| BookError::ReadOnly { path: path.clone(), source })?;
    for _ in 0..LOCK_TRIES {
        match file.try_lock() {
            Ok(()) => return Ok(file),
            Err(TryLockError::WouldBlock) => std::thread::sleep(LOCK_PAUSE),
            Err(TryLockError::Error(source)) => return Err(BookError::ReadOnly { path, source }),
        }
    }
    Err(BookError::InUse(folder.to_owned()))
}

fn connect(path: &Path, create: bool) -> Result<Connection, BookError> {
    let mut flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    if create {
        flags |= OpenFlags::SQLITE_OPEN_CREATE;
    }
    let connection = Connection::open_with_flags(path, flags)?;
    // SQLite opens a file without the right to write for reading alone, and then
    // makes its log with the same rights, in the way of whoever gives them back.
    if connection.is_readonly("main")? {
        let source = std::io::ErrorKind::PermissionDenied.into();
        return Err(BookError::ReadOnly { path: path.to_owned(), source });
    }
    schema::prepare(&connection).map_err(|e| match e.sqlite_error_code() {
        Some(rusqlite::ErrorCode::NotADatabase | rusqlite::ErrorCode::DatabaseCorrupt) => {
            BookError::Damaged { path: path.to_owned(), why: e.to_string() }
        }
        Some(rusqlite::ErrorCode::ReadOnly | rusqlite::ErrorCode::PermissionDenied) => {
            BookError::ReadOnly { path: path.to_owned(), source: std::io::Error::other(e.to_string()) }
        }
        _ => e.into(),
    })?;
    Ok(connection)
}

fn meta(c: &Connection, name: &str) -> rusqlite::Result<Option<Vec<u8>>> {
    c.prepare_cached("SELECT value FROM meta WHERE name = ?1")?.query_row([name], |r| r.get(0)).optional()
}

fn set_meta(c: &Connection, name: &str, value: &[u8]) -> rusqlite::Result<()> {
    c.prepare_cached("INSERT OR REPLACE INTO meta (name, value) VALUES (?1, ?2)")?
        .execute(params![name, value])?;
    Ok(())
}

fn started_member(c: &Connection) -> rusqlite::Result<Vec<MemberId>> {
    // Siblings share a phone: one id after the other.
    let bytes = meta(c, "member")?.unwrap_or_default();
    Ok(bytes.chunks_exact(16).filter_map(|b| Uuid::from_slice(b).ok()).map(MemberId).collect())
}

/// Makes the projection anew, in steps that bound what is held in memory.
fn rebuild(t: &Connection, root: &Root) -> Result<(), BookError> {
    for table in schema::PROJECTED {
        t.execute(&format!("DELETE FROM {table}"), [])?;
    }
    t.execute("UPDATE entries SET judgement = NULL", [])?;
    // Authority first: most entries are judged once then.
    let squad = ledger::scope_bytes(Scope::Squad);
    for of in ["l.scope = ?1", "l.scope <> ?1"] {
        let places: Vec<At> = t
            .prepare(&format!(
                "SELECT l.id, e.seq FROM lines l JOIN entries e ON e.line = l.id WHERE {of} ORDER BY l.id, e.seq"
            ))?
            .query_map([&squad], |r| Ok(At { line: r.get(0)?, seq: r.get(1)? }))?
            .collect::<Result<_, _>>()?;
        for some in places.chunks(1_000) {
            apply(&mut SqlLedger::new(t), root, some)?;
        }
    }
    drop_erased(t, root)?;
    Ok(())
}

/// Whatever authority says is erased goes, unless this device keeps its member's
/// own data; says whether anything went.
fn drop_erased(t: &Connection, root: &Root) -> Result<bool, BookError> {
    let mut gone = false;
    for member in apart::erased_elsewhere(t, root.device)? {
        gone |= line::purge(t, Scope::Member(member))?;
        gone |= line::purge(t, Scope::Private(member))?;
    }
    if gone {
        mark_unclean(t)?;
    }
    Ok(gone)
}

/// What this device knew to be erased is erased in a book that does not know of
/// it: one that was put back from a copy. It is let go, so that no sync brings it
/// back before the erasure itself comes.
fn hold_erasures(t: &Connection, folder: &Path, device: DeviceKey) -> Result<(), BookError> {
    let erased = apart::erased(folder);
    if erased.is_empty() {
        return Ok(());
    }
    let known = apart::gone(t, device)?;
    let mut gone = false;
    for member in erased.difference(&known) {
        gone |= line::purge(t, Scope::Member(*member))?;
        gone |= line::purge(t, Scope::Private(*member))?;
        // When it was, this book does not know.
        t.execute("INSERT INTO let_go (member, at_ms) VALUES (?1, 0)", [member.0.as_bytes().as_slice()])?;
    }
    if gone {
        mark_unclean(t)?;
    }
    Ok(())
}

/// After something was erased: drafts may speak of it, and files still have it.
fn mark_unclean(t: &Connection) -> rusqlite::Result<()> {
    t.execute("DELETE FROM local WHERE substr(name, 1, 8) <> 'setting/'", [])?;
    set_meta(t, "unclean", &[1])
}
