//! A backup in one file, putting it back, and the look whether a book is whole.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use pitside_model::facts::{Head, Scope};
use rusqlite::backup::Backup;
use rusqlite::{Connection, OpenFlags};

use super::line::{self, LEAF, Place};
use super::{Book, BookError, FILE, apart, connect, lock, meta, schema, set_meta};
use crate::clock::Stamp;
use crate::durable::{folder_of, sync_folder};
use crate::keys::Identity;

/// Pages copied at once, so that a write waits for no more than these.
const PAGES: i32 = 256;
/// What stands before the path of a backup among the book's settings.
const MADE: &str = "backup ";
/// The most faults that are told.
const MOST_FAULTS: usize = 100;

impl Book {
    /// Writes the whole book into one file, while it is in use. The file is whole or
    /// not there, and readable by its owner only.
    ///
    /// # Errors
    /// [`BookError::Exists`] where there is a file already, [`BookError::ReadOnly`],
    /// [`BookError::Full`].
    pub fn back_up(&self, to: &Path, now: Stamp) -> Result<(), BookError> {
        if to.exists() {
            return Err(BookError::Exists(to.to_owned()));
        }
        let denied = |source| BookError::ReadOnly { path: to.to_owned(), source };
        let draft = beside(to, ".part");
        if draft.exists() {
            fs::remove_file(&draft).map_err(denied)?;
        }
        // Known before it is made: a backup that nobody remembers outlives an erasure.
        let name = format!(
            "{MADE}{}",
            fs::canonicalize(folder_of(to)).map_err(denied)?.join(file_name(to)).display()
        );
        self.writing(|t| Ok(set_meta(t, &name, &now.ms.to_be_bytes())?))?;
        self.reading(|c| {
            let mut target = Connection::open(&draft)?;
            owner_only(&draft).map_err(denied)?;
            Backup::new(c, &mut target)?.run_to_completion(PAGES, Duration::ZERO, None)?;
            // One file is enough to read it.
            target.pragma_update(None, "journal_mode", "DELETE")?;
            target.close().map_err(|(_, e)| e)?;
            Ok(())
        })?;
        fs::File::open(&draft).and_then(|file| file.sync_all()).map_err(denied)?;
        fs::rename(&draft, to).and_then(|()| sync_folder(folder_of(to))).map_err(denied)
    }

    /// The backups made so far, each with when. Whether they are still there is not
    /// known; after an erasure they hold what was erased.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn backups(&self) -> Result<Vec<(String, i64)>, BookError> {
        self.reading(|c| {
            let mut made = Vec::new();
            let mut statement = c.prepare_cached("SELECT name, value FROM meta ORDER BY name")?;
            let mut rows = statement.query([])?;
            while let Some(r) = rows.next()? {
                let (name, value): (String, Vec<u8>) = (r.get(0)?, r.get(1)?);
                if let (Some(path), Ok(ms)) = (name.strip_prefix(MADE), value.try_into()) {
                    made.push((path.to_owned(), i64::from_be_bytes(ms)));
                }
            }
            Ok(made)
        })
    }

    /// Looks the whole book over: the file by SQLite's own check, then chain and
    /// seals of every log. Gives what was found, at most a hundred faults. Writes
    /// nothing and holds nobody up; `watch` hears how many logs are done, of how
    /// many, and calls it off by saying `false`.
    ///
    /// # Errors
    /// Where the book cannot be read at all.
    pub fn check(&self, watch: &mut dyn FnMut(u64, u64) -> bool) -> Result<Vec<String>, BookError> {
        let (mut faults, ends) = self.reading(|c| {
            let mut faults: Vec<String> = c
                .prepare(&format!("PRAGMA integrity_check({MOST_FAULTS})"))?
                .query_map([], |r| r.get(0))?
                .collect::<Result<_, _>>()?;
            faults.retain(|fault| fault != "ok");
            let ends: Vec<line::End> = c
                .prepare(&format!("SELECT id, log, head_seq, head_hash FROM lines l WHERE {LEAF}"))?
                .query_map([], line::end_of)?
                .collect::<Result<_, _>>()?;
            Ok((faults, ends))
        })?;
        let all = ends.len() as u64;
        for (done, end) in (0..).zip(ends) {
            if !watch(done, all) || faults.len() >= MOST_FAULTS {
                break;
            }
            if let Err(fault) = self.reading(|c| Ok(whole(c, &end)?))? {
                faults.push(fault);
            }
        }
        Ok(faults)
    }
}

/// Follows a log from its first entry to its head.
fn whole(c: &Connection, end: &line::End) -> rusqlite::Result<Result<(), String>> {
    let ways = line::way(c, Place { line: end.line, seq: end.seq })?;
    let opening = line::opening(c, end.log)?;
    let mut at = 0;
    while let Some(segment) = line::segment_after(c, end.log, &ways, at)? {
        at = segment.seal.seq;
        if let Err(fault) = segment.check(opening.as_ref()) {
            return Ok(Err(fault.to_string()));
        }
    }
    let head: Option<Head> = line::hash_at(c, &ways, end.seq)?.map(|hash| Head { hash, ..end.head() });
    let fault = format!("log {}: its head is not the entry that it should be", end.log);
    Ok(if end.seq == 0 || head == Some(end.head()) { Ok(()) } else { Err(fault) })
}

/// Puts a backup into a folder and opens it. A book that is there already is moved
/// aside as `book.sqlite.replaced-…` and kept.
///
/// What this device wrote after the backup is noticed by `device.heads`, and the
/// book goes on in new logs. Members who were erased since are erased in it at once.
///
/// # Errors
/// [`BookError::Damaged`] where the file is no backup or not whole,
/// [`BookError::OtherDevice`], [`BookError::Newer`], [`BookError::InUse`].
pub fn restore(from: &Path, folder: &Path, identity: Identity, now: Stamp) -> Result<Book, BookError> {
    let damage = |why: String| BookError::Damaged { path: from.to_owned(), why };
    if !from.is_file() {
        return Err(BookError::Missing(from.to_owned()));
    }
    {
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let backup = Connection::open_with_flags(from, flags)?;
        let found = schema::version(&backup).map_err(|e| damage(e.to_string()))?;
        if found > schema::VERSION {
            return Err(BookError::Newer { path: from.to_owned(), found, known: schema::VERSION });
        }
        let device = meta(&backup, "device").map_err(|e| damage(e.to_string()))?;
        let device = device.ok_or_else(|| damage("it names no device".to_owned()))?;
        if device != identity.key().0 {
            return Err(BookError::OtherDevice(from.to_owned()));
        }
        let sound: String = backup
            .query_row("PRAGMA integrity_check(1)", [], |r| r.get(0))
            .map_err(|e| damage(e.to_string()))?;
        if sound != "ok" {
            return Err(damage(sound));
        }
    }
    let denied = |source| BookError::ReadOnly { path: folder.to_owned(), source };
    crate::durable::make_folder(folder).map_err(denied)?;
    let draft = folder.join(format!("{FILE}.new"));
    let lock = lock(folder)?;
    fs::copy(from, &draft).map_err(denied)?;
    owner_only(&draft).map_err(denied)?;
    {
        let mut book = connect(&draft, false)?;
        let t = book.transaction()?;
        schema::migrate(&t, &draft)?;
        let mut gone = false;
        for member in apart::erased(folder) {
            gone |= line::purge(&t, Scope::Member(member))?;
            gone |= line::purge(&t, Scope::Private(member))?;
        }
        if gone {
            set_meta(&t, "unclean", &[1])?;
        }
        t.commit()?;
        book.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
        book.close().map_err(|(_, e)| e)?;
    }
    set_file_aside(folder, "replaced", now).map_err(denied)?;
    fs::File::open(&draft).and_then(|file| file.sync_all()).map_err(denied)?;
    fs::rename(&draft, folder.join(FILE)).and_then(|()| sync_folder(folder)).map_err(denied)?;
    drop(lock);
    Book::open(folder, identity)
}

/// Moves the book's file, with its write-ahead log, to a name that says why.
pub(super) fn set_file_aside(folder: &Path, why: &str, now: Stamp) -> std::io::Result<Option<PathBuf>> {
    let file = folder.join(FILE);
    if !file.exists() {
        return Ok(None);
    }
    let mut to = folder.join(format!("{FILE}.{why}-{}", now.ms));
    for n in 1.. {
        if !to.exists() {
            break;
        }
        to = folder.join(format!("{FILE}.{why}-{}-{n}", now.ms));
    }
    for part in ["-wal", "-shm"] {
        let log = beside(&file, part);
        if log.exists() {
            fs::rename(log, beside(&to, part))?;
        }
    }
    fs::rename(file, &to)?;
    sync_folder(folder)?;
    Ok(Some(to))
}

/// A path with something after its name.
pub(super) fn beside(path: &Path, after: &str) -> PathBuf {
    let mut name = file_name(path).to_owned();
    name.push(after);
    path.with_file_name(name)
}

fn file_name(path: &Path) -> &std::ffi::OsStr {
    path.file_name().unwrap_or_default()
}

/// A book's copy is for its owner's eyes.
fn owner_only(path: &Path) -> std::io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        fs::set_permissions(path, fs::Permissions::from_mode(0o600))?;
    }
    #[cfg(not(unix))]
    let _ = path;
    Ok(())
}
