//! A copy of the book in one file, and the way back.
//!
//! A backup is the book as one SQLite file without a log beside it, marked as a
//! backup in its header. Whoever has the file can read it: it is as confidential
//! as the book. It holds drafts too.
//!
//! What a device wrote after the backup is not in it. So a restored book never
//! goes on in the logs it had: it begins new ones, and what is missing comes
//! from the devices that have it.

use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{DeviceKey, Fact, MemberId, Scope, Subject};
use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, OpenFlags};

use super::held::Draft;
use super::{Book, BookError, FILE, apart, connect, hold_erasures, line, lock, meta, schema, set_meta};
use crate::clock::Stamp;
use crate::durable::{folder_of, make_folder, sync_folder};
use crate::keys::Identity;

/// SQLite's application id in the header of a backup; a book itself has none.
/// The letters `PSBK`.
const APPLICATION: i32 = 0x5053_424b;
/// Where a book is made that comes from a backup or a damaged book, until it is
/// whole.
pub(super) const DRAFT_FOLDER: &str = "book.new";
/// The files of which a book consists, in the order in which they are moved: a
/// log without its book does no harm, a book without its log lacks what was saved
/// last.
const PARTS: [&str; 3] = ["", "-wal", "-journal"];
/// Pages copied at a time.
const STEP: i32 = 1_024;

impl Book {
    /// Copies the book into one new file, readable by its owner alone, while the
    /// book is in use. The book keeps that there is this backup: after an erasure
    /// it tells what still holds the data, [`Book::backups`].
    ///
    /// # Errors
    /// [`BookError::FileExists`], [`BookError::ReadOnly`], [`BookError::Full`];
    /// [`BookError::Damaged`] where the book is: a backup is a whole book. No file
    /// is left then.
    pub fn back_up(&self, to: &Path, now: Stamp) -> Result<(), BookError> {
        let denied = |source| BookError::ReadOnly { path: to.to_owned(), source };
        let to = std::path::absolute(to).map_err(denied)?;
        if fs::symlink_metadata(&to).is_ok() {
            return Err(BookError::FileExists(to));
        }
        let mut draft = to.clone().into_os_string();
        draft.push(".unfinished");
        let draft = PathBuf::from(draft);
        // First, so that a backup that is made is one that is known.
        let name = to.to_string_lossy().into_owned();
        self.note_backup(&name, Some(now.ms))?;
        let made = self.copy_to(&draft, now).and_then(|()| publish(&draft, &to));
        if made.is_err() {
            let _already_failing = fs::remove_file(&draft);
            let _already_failing = self.note_backup(&name, None);
        }
        made
    }

    /// The backups made of this book: path and time, the oldest first. Whether the
    /// files are still there, and what became of them, the book does not know.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn backups(&self) -> Result<Vec<(String, i64)>, BookError> {
        self.reading(|c| Ok(backups(c)?))
    }

    fn note_backup(&self, name: &str, at_ms: Option<i64>) -> Result<(), BookError> {
        self.writing(|t| {
            let mut backups = backups(t)?;
            // A new file of this name: an older one is not there any more.
            backups.retain(|(known, _)| known != name);
            backups.extend(at_ms.map(|at_ms| (name.to_owned(), at_ms)));
            let items = backups
                .into_iter()
                .map(|(name, at_ms)| Value::Array(vec![name.as_str().into(), at_ms.into()]));
            Ok(set_meta(t, "backups", &encode(&Value::Array(items.collect())))?)
        })
    }

    /// Copies what the book holds now into a file, and makes a backup of it.
    fn copy_to(&self, draft: &Path, now: Stamp) -> Result<(), BookError> {
        let denied = |source| BookError::ReadOnly { path: draft.to_owned(), source };
        match fs::remove_file(draft) {
            Err(e) if e.kind() != ErrorKind::NotFound => return Err(denied(e)),
            _ => {}
        }
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        options.open(draft).map_err(denied)?;
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let mut copy = Connection::open_with_flags(draft, flags)?;
        let damaged = |e: BookError| e.or_damaged(&self.folder.join(FILE));
        // One snapshot: writers go on, and it comes to its end.
        self.reading(|c| copy_pages(c, &mut copy)).map_err(damaged)?;
        // The log belongs to a book in use.
        copy.pragma_update(None, "journal_mode", "DELETE")?;
        copy.pragma_update(None, "application_id", APPLICATION)?;
        set_meta(&copy, "backup", &now.ms.to_be_bytes())?;
        is_whole(&copy, &self.folder.join(FILE)).map_err(damaged)?;
        copy.close().map_err(|(_, e)| e)?;
        File::open(draft).and_then(|file| file.sync_all()).map_err(denied)
    }

    /// Puts a backup into a folder. A book that is there is moved aside, to
    /// `book.sqlite.replaced-` and the time, and kept.
    ///
    /// Whose data were erased since, as far as this folder knows, stays erased: it
    /// is taken out before the book is there, and an owner's device says once more
    /// to the others what was said only in what is lost.
    ///
    /// # Errors
    /// [`BookError::Missing`] and [`BookError::NoBackup`] where `from` is none,
    /// [`BookError::Damaged`], [`BookError::Newer`] and [`BookError::OtherDevice`] as
    /// [`Book::open`]; [`BookError::InUse`], [`BookError::ReadOnly`]. The folder is
    /// then as it was.
    pub fn restore(from: &Path, folder: &Path, identity: Identity, now: Stamp) -> Result<Self, BookError> {
        let device = identity.key();
        let source = open_backup(from, device)?;
        let denied = |source| BookError::ReadOnly { path: folder.to_owned(), source };
        make_folder(folder).map_err(denied)?;
        let locked = lock(folder)?;
        let path = folder.join(FILE);
        if Self::exists(folder) {
            part_with(&path, folder, device)?;
        }
        drop_draft(folder);
        let draft = folder.join(DRAFT_FOLDER);
        make_folder(&draft).map_err(denied)?;
        let made = unpack(&source, &draft, folder, device);
        // What it was written by, a version before, it is brought up from here.
        let opened = made.and_then(|()| Self::open(&draft, identity)).map_err(|e| match e {
            BookError::Damaged { why, .. } => BookError::Damaged { path: from.to_owned(), why },
            e => e,
        });
        let identity = match opened.and_then(Self::close_keeping) {
            Ok(identity) => identity,
            Err(e) => {
                drop_draft(folder);
                return Err(e);
            }
        };
        put_in_place(folder, "replaced", now).map_err(denied)?;
        drop(locked);
        let book = Self::open(folder, identity)?;
        book.erase_again(now)?;
        Ok(book)
    }

    /// Closes it so that its file is all there is of it.
    pub(super) fn close_keeping(self) -> Result<Identity, BookError> {
        super::guard(&self.readers).clear();
        let Self { identity, writer, .. } = self;
        let writer = writer.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
        // Closing would fold the log in too, and say nothing where that fails.
        writer.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
        writer.close().map_err(|(_, e)| e)?;
        Ok(identity)
    }

    /// Erasures that this folder knows of and the book does not, told to the others
    /// by a device that may.
    pub(super) fn erase_again(&self, now: Stamp) -> Result<(), BookError> {
        let authority = self.authority()?;
        let own = authority.standing(self.device());
        if !(own.grants.owner && own.is_admitted()) {
            return Ok(());
        }
        let lost: Vec<MemberId> = apart::erased(&self.folder)
            .into_iter()
            .filter(|m| !authority.erased.contains(m) && !own.grants.keeps(*m))
            .collect();
        if lost.is_empty() {
            return Ok(());
        }
        let root = self.root();
        self.writing(|t| {
            for member in lost {
                let draft = Draft::about(Subject::Uuid(member.0), Fact::Erasure);
                self.put(t, &root, Scope::Squad, &draft, now)?;
                t.execute("DELETE FROM let_go WHERE member = ?1", [member.0.as_bytes().as_slice()])?;
            }
            Ok(())
        })?;
        self.clean()
    }
}

fn backups(c: &Connection) -> rusqlite::Result<Vec<(String, i64)>> {
    let bytes = meta(c, "backups")?.unwrap_or_default();
    let Ok(Value::Array(items)) = decode(&bytes) else { return Ok(Vec::new()) };
    let read = |item: &Value| match item {
        Value::Array(pair) => match pair.as_slice() {
            [Value::Text(name), Value::Int(at)] => Some((name.clone(), i64::try_from(*at).ok()?)),
            _ => None,
        },
        _ => None,
    };
    Ok(items.iter().filter_map(read).collect())
}

/// Copies every page of a connection's snapshot.
fn copy_pages(from: &Connection, to: &mut Connection) -> Result<(), BookError> {
    let backup = Backup::new(from, to)?;
    loop {
        match backup.step(STEP)? {
            StepResult::Done => return Ok(()),
            StepResult::More => {}
            // Nobody else knows of the copy, and a snapshot is not held up.
            _ => return Err(BookError::Locked),
        }
    }
}

/// Says where a file is not whole, by SQLite's own check.
fn is_whole(c: &Connection, path: &Path) -> Result<(), BookError> {
    let said: String = c.query_row("PRAGMA integrity_check(1)", [], |r| r.get(0))?;
    if said == "ok" { Ok(()) } else { Err(BookError::Damaged { path: path.to_owned(), why: said }) }
}

/// Gives a finished backup its name, never that of another file.
fn publish(draft: &Path, to: &Path) -> Result<(), BookError> {
    let denied = |source: io::Error| match source.kind() {
        ErrorKind::AlreadyExists => BookError::FileExists(to.to_owned()),
        _ => BookError::ReadOnly { path: to.to_owned(), source },
    };
    match fs::hard_link(draft, to) {
        Ok(()) => fs::remove_file(draft).map_err(denied)?,
        Err(e) if e.kind() == ErrorKind::AlreadyExists => return Err(denied(e)),
        // A stick's file system may have no second names.
        Err(_) if fs::symlink_metadata(to).is_ok() => return Err(BookError::FileExists(to.to_owned())),
        Err(_) => fs::rename(draft, to).map_err(denied)?,
    }
    sync_folder(folder_of(to)).map_err(denied)
}

/// Opens a file for reading alone, if it is this device's backup and whole.
fn open_backup(from: &Path, device: DeviceKey) -> Result<Connection, BookError> {
    if !from.is_file() {
        return Err(BookError::Missing(from.to_owned()));
    }
    let other = || BookError::NoBackup(from.to_owned());
    let c = open_as_it_is(from).map_err(|e| e.or_damaged(from))?;
    let application: rusqlite::Result<i32> = c.query_row("PRAGMA application_id", [], |r| r.get(0));
    match application {
        Ok(APPLICATION) => {}
        Err(e) if e.sqlite_error_code() != Some(rusqlite::ErrorCode::NotADatabase) => {
            return Err(BookError::from(e).or_damaged(from));
        }
        _ => return Err(other()),
    }
    let checked = || -> Result<(), BookError> {
        schema::known(&c, from)?;
        is_whole(&c, from)?;
        match meta(&c, "device")? {
            Some(named) if named == device.0 => Ok(()),
            Some(_) => Err(BookError::OtherDevice(from.to_owned())),
            None => Err(other()),
        }
    };
    checked().map_err(|e| e.or_damaged(from))?;
    Ok(c)
}

/// Opens a file that nobody writes to for reading, and makes no file beside it.
pub(super) fn open_as_it_is(path: &Path) -> Result<Connection, BookError> {
    let absolute =
        std::path::absolute(path).map_err(|source| BookError::ReadOnly { path: path.to_owned(), source })?;
    let mut uri = String::from("file:");
    let name = absolute.as_os_str().as_encoded_bytes();
    // On Windows a path begins with a drive.
    if !name.starts_with(b"/") {
        uri.push('/');
    }
    for byte in name {
        match byte {
            b'\\' if cfg!(windows) => uri.push('/'),
            b'/' | b':' | b'.' | b'-' | b'_' | b'0'..=b'9' | b'A'..=b'Z' | b'a'..=b'z' => {
                uri.push(char::from(*byte));
            }
            byte => uri.push_str(&format!("%{byte:02x}")),
        }
    }
    uri.push_str("?immutable=1");
    let flags =
        OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX | OpenFlags::SQLITE_OPEN_URI;
    Ok(Connection::open_with_flags(uri, flags)?)
}

/// Makes a book of a backup in a folder of its own, without what `folder` knows to
/// be erased.
fn unpack(source: &Connection, draft: &Path, folder: &Path, device: DeviceKey) -> Result<(), BookError> {
    let path = draft.join(FILE);
    // Without a log yet: a file that has one takes no pages of another size.
    let mut copy = Connection::open(&path)?;
    copy_pages(source, &mut copy)?;
    copy.close().map_err(|(_, e)| e)?;
    let mut copy = connect(&path, false)?;
    copy.pragma_update(None, "application_id", 0)?;
    let t = copy.transaction()?;
    schema::migrate(&t, &path)?;
    t.execute("DELETE FROM meta WHERE name = 'backup'", [])?;
    // Whatever this device wrote since: it goes on in new logs.
    t.execute("UPDATE lines SET closed = 1 WHERE device = ?1", [device.0.as_slice()])?;
    set_meta(&t, "copy", &[1])?;
    hold_erasures(&t, folder, device)?;
    t.commit()?;
    copy.close().map_err(|(_, e)| e.into())
}

/// Before a book is replaced: keeps apart what it knows best, as far as it can be
/// read, and what was deleted from it leaves its file.
fn part_with(path: &Path, folder: &Path, device: DeviceKey) -> Result<(), BookError> {
    let read = || -> Result<bool, BookError> {
        let c = connect(path, false)?;
        schema::known(&c, path)?;
        if meta(&c, "device")?.is_some_and(|named| named != device.0) {
            return Ok(false);
        }
        let mut erased = apart::gone(&c, device)?;
        erased.extend(apart::erased(folder));
        let denied = |source| BookError::ReadOnly { path: folder.to_owned(), source };
        apart::write_erased(folder, &erased).map_err(denied)?;
        // Heads that lie further on, and are not in this book either, stay.
        if !apart::is_ahead(folder, &c)? {
            apart::write(folder, &line::ends(&c, device)?).map_err(denied)?;
        }
        if meta(&c, "unclean")?.is_some() {
            c.execute_batch("VACUUM")?;
        }
        c.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
        Ok(true)
    };
    match read() {
        Ok(false) => Err(BookError::OtherDevice(path.to_owned())),
        Err(e @ (BookError::Full | BookError::Locked | BookError::ReadOnly { .. })) => Err(e),
        // It is damaged: a restore is what is left to do.
        Ok(true) | Err(_) => Ok(()),
    }
}

/// Takes away what an attempt left that was stopped.
pub(super) fn drop_draft(folder: &Path) {
    // Where it cannot go now it goes with the next attempt.
    let _ = fs::remove_dir_all(folder.join(DRAFT_FOLDER));
}

/// Moves the files of a book aside, where there are any.
pub(super) fn set_apart(folder: &Path, why: &str, now: Option<Stamp>) -> io::Result<()> {
    let there = |part: &&str| {
        fs::symlink_metadata(folder.join(format!("{FILE}{part}"))).is_ok_and(|file| !file.is_dir())
    };
    let parts: Vec<&str> = PARTS.into_iter().filter(there).collect();
    if parts.is_empty() {
        return Ok(());
    }
    // A name that is free, together with its log's.
    let stamp = now.map_or(0, |now| now.ms);
    let names = (0_u32..).map(|n| match n {
        0 => format!("{FILE}.{why}-{stamp}"),
        n => format!("{FILE}.{why}-{stamp}-{n}"),
    });
    let free = |name: &String| {
        PARTS.iter().all(|part| fs::symlink_metadata(folder.join(format!("{name}{part}"))).is_err())
    };
    let Some(name) = names.take(10_000).find(free) else {
        return Err(ErrorKind::AlreadyExists.into());
    };
    for part in parts {
        fs::rename(folder.join(format!("{FILE}{part}")), folder.join(format!("{name}{part}")))?;
    }
    sync_folder(folder)
}

/// Puts the book that was made whole in its folder's place; what is there is
/// moved aside.
pub(super) fn put_in_place(folder: &Path, why: &str, now: Stamp) -> io::Result<()> {
    set_apart(folder, why, Some(now))?;
    // It says how the book that was moved kept its log.
    match fs::remove_file(folder.join(format!("{FILE}-shm"))) {
        Err(e) if e.kind() != ErrorKind::NotFound => return Err(e),
        _ => {}
    }
    fs::rename(folder.join(DRAFT_FOLDER).join(FILE), folder.join(FILE))?;
    sync_folder(folder)?;
    drop_draft(folder);
    Ok(())
}
