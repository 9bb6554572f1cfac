//! What can still be read of a damaged book.
//!
//! The damaged file is kept as `book.sqlite.damaged-…`. Into a new book comes every
//! log as far as its chain holds from the first entry on, so nothing is taken for
//! true that no seal covers; of this device's own logs also what it had not sealed
//! yet. The rest comes from the other devices at the next sync. Own logs are closed,
//! so that no place is written twice.

use std::fs;
use std::path::{Path, PathBuf};

use pitside_log::entry::{Entry, origin};
use pitside_log::opening::Opening;
use pitside_log::seal::{MAX_ENTRIES, Seal};
use pitside_log::segment::Segment;
use pitside_log::sync::{Batch, Replica};
use pitside_model::cbor::decode;
use pitside_model::facts::{Hash, LogId, SquadId};
use rusqlite::Connection;
use tempfile::TempDir;

use super::backup::{beside, set_file_aside};
use super::ledger::damaged;
use super::line;
use super::{Book, BookError, BookReplica, FILE, guard, lock, meta, set_meta};
use crate::clock::Clock;
use crate::keys::Identity;

/// How the folder begins in which a damaged book is read.
pub(super) const FOLDER: &str = "rescue-";

/// What was rescued.
#[derive(Debug)]
pub struct Rescued {
    /// The new book.
    pub book: Book,
    /// Where the damaged file is now.
    pub kept_at: PathBuf,
    /// Entries that are in the new book.
    pub entries: u64,
    /// Logs of which something could not be read, with the last entry that was
    /// rescued of each; those that could not even be named are not among them.
    pub cut_short: Vec<(LogId, u64)>,
    /// What could not be read besides logs, in words.
    pub lost: Vec<String>,
}

/// A line of the damaged book.
struct Found {
    opening: Opening,
    ways: Vec<(i64, u64)>,
    head_seq: u64,
}

/// Makes a new book of what can be read of a damaged one.
///
/// # Errors
/// [`BookError::Missing`], [`BookError::InUse`]; [`BookError::Damaged`] where nothing
/// at all can be read, and then everything is as it was; [`BookError::OtherDevice`].
pub fn rescue(folder: &Path, identity: Identity, clock: &dyn Clock) -> Result<Rescued, BookError> {
    let file = folder.join(FILE);
    if !file.is_file() {
        return Err(BookError::Missing(folder.to_owned()));
    }
    let damage = |why: String| BookError::Damaged { path: file.clone(), why };
    let denied = |source| BookError::ReadOnly { path: folder.to_owned(), source };
    // Read from a copy: SQLite writes to what it opens, and the file stays as it is.
    let spare = TempDir::with_prefix_in(FOLDER, folder).map_err(denied)?;
    let copy = spare.path().join(FILE);
    let holding = lock(folder)?;
    fs::copy(&file, &copy).map_err(denied)?;
    if beside(&file, "-wal").exists() {
        fs::copy(beside(&file, "-wal"), beside(&copy, "-wal")).map_err(denied)?;
    }
    let old = Connection::open(&copy)?;
    old.pragma_update(None, "cell_size_check", "ON").map_err(|e| damage(e.to_string()))?;
    let device = meta(&old, "device").map_err(|e| {
        damage(format!("nothing can be read of it ({e}): put a backup back, or pair this device anew"))
    })?;
    if device.as_deref().is_some_and(|device| device != identity.key().0) {
        return Err(BookError::OtherDevice(file));
    }
    let mut lost = Vec::new();
    let demo = meta(&old, "demo").ok().flatten().as_deref() == Some(&[1]);
    let squad = meta(&old, "squad").ok().flatten().and_then(|b| b.try_into().ok()).map(SquadId);
    let found = lines(&old, &mut lost)?;
    let kept_at = set_file_aside(folder, "damaged", clock.now()).map_err(denied)?.unwrap_or_default();
    drop(holding);

    let book = Book::create(folder, identity, demo)?;
    book.writing(|t| {
        for name in ["member", "recovers", "recovery"] {
            if let Ok(Some(value)) = meta(&old, name) {
                set_meta(t, name, &value)?;
            }
        }
        if let Some(squad) = squad {
            set_meta(t, "squad", &squad.0)?;
        }
        set_meta(t, "copy", &[1])?;
        Ok(())
    })?;
    *guard(&book.squad) = squad;
    copy_rows(&old, &book, &mut lost)?;
    let mut rescued = Rescued { book, kept_at, entries: 0, cut_short: Vec::new(), lost };
    for line in found {
        let log = line.opening.id();
        let (taken, last) = take_line(&old, &line, &rescued.book, clock)?;
        rescued.entries += taken;
        if last < line.head_seq {
            rescued.cut_short.push((log, last));
        }
    }
    rescued.book.rebuild()?;
    let book = &rescued.book;
    if squad.is_some() && !book.authority()?.standing(book.device()).is_admitted() {
        // Who may speak with this device is lost, so it refuses everyone: back to
        // before the pairing, with everything that it logged.
        book.writing(|t| {
            t.execute("DELETE FROM meta WHERE name = 'squad'", [])?;
            Ok(())
        })?;
        *guard(&book.squad) = None;
        book.rebuild()?;
        rescued.lost.push(
            "the squad's admissions: pair this device anew; the squad's only coach uses the recovery key"
                .to_owned(),
        );
    }
    Ok(rescued)
}

/// The lines that can be made out, those that others branch off from first.
fn lines(old: &Connection, lost: &mut Vec<String>) -> Result<Vec<Found>, BookError> {
    let mut found: Vec<(i64, Found)> = Vec::new();
    let mut read = || -> rusqlite::Result<()> {
        let mut statement = old.prepare("SELECT id, opening, head_seq FROM lines NOT INDEXED ORDER BY id")?;
        let mut rows = statement.query([])?;
        while let Some(r) = rows.next()? {
            let (id, opening, head_seq): (i64, Vec<u8>, u64) = (r.get(0)?, r.get(1)?, r.get(2)?);
            let opening = decode(&opening).ok().and_then(|v| Opening::from_value(&v).ok());
            let opening = opening.ok_or_else(|| damaged("an opening record expected"))?;
            found.push((id, Found { opening, ways: Vec::new(), head_seq }));
        }
        Ok(())
    };
    if let Err(e) = read() {
        lost.push(format!("some logs: {e}"));
    }
    for (id, line) in &mut found {
        // A line whose parents cannot be followed may still stand by itself.
        let place = line::Place { line: *id, seq: line.head_seq };
        line.ways = line::way(old, place).unwrap_or_else(|_| vec![(*id, line.head_seq)]);
    }
    found.sort_by_key(|(_, line)| line.ways.len());
    Ok(found.into_iter().map(|(_, line)| line).collect())
}

/// Takes a line in as far as it can be read and holds; gives how many entries were
/// new, and the last.
fn take_line(
    old: &Connection,
    line: &Found,
    book: &Book,
    clock: &dyn Clock,
) -> Result<(u64, u64), BookError> {
    let log = line.opening.id();
    let mut replica = BookReplica::new(book, clock);
    let (mut taken, mut at) = (0, 0);
    while let Ok(Some(mut segment)) = line::segment_after(old, log, &line.ways, at) {
        segment.opening = (at == 0).then(|| line.opening.clone());
        let end = segment.seal.seq;
        match take(&mut replica, segment)? {
            Some(new) => taken += new,
            None => break,
        }
        at = end;
    }
    if line.opening.device == book.device() {
        let (more, end) = take_unsealed(old, line, book, &mut replica, at)?;
        taken += more;
        at = end;
    }
    Ok((taken, at))
}

/// Takes a segment in; `None` where it does not hold.
fn take(replica: &mut BookReplica<'_>, segment: Segment) -> Result<Option<u64>, BookError> {
    if segment.check(None).is_err() && segment.first_seq == 1 {
        return Ok(None);
    }
    let from = replica.device();
    let batch = Batch { segments: vec![segment], bodies: Vec::new() };
    Ok(replica.take_in(&batch, from)?.ok().map(|taken| taken.new))
}

/// Own entries behind the last seal that holds, as far as the chain does: sealed now.
fn take_unsealed(
    old: &Connection,
    line: &Found,
    book: &Book,
    replica: &mut BookReplica<'_>,
    mut at: u64,
) -> Result<(u64, u64), BookError> {
    let log = line.opening.id();
    let mut taken = 0;
    while at < line.head_seq {
        let before = if at == 0 { Ok(Some(origin(log))) } else { line::hash_at(old, &line.ways, at) };
        let Ok(Some(before)) = before else { break };
        let mut readable = line.head_seq.min(at + MAX_ENTRIES);
        // One row that cannot be read ends what can be: find how far it goes.
        let mut entries = line::contents(old, &line.ways, at, readable);
        while entries.is_err() && readable > at + 1 {
            readable = at + (readable - at) / 2;
            entries = line::contents(old, &line.ways, at, readable);
        }
        let Ok(entries) = entries else { break };
        let Some((count, hash)) = chained(&line.opening, at, before, &entries, |seq| {
            line::hash_at(old, &line.ways, seq).ok().flatten()
        }) else {
            break;
        };
        let seal = Seal::new(book.identity(), log, at + count as u64, hash);
        let opening = (at == 0).then(|| line.opening.clone());
        let entries = entries.into_iter().take(count).collect();
        let segment = Segment { log, first_seq: at + 1, before, opening, entries, seal };
        let Some(new) = take(replica, segment)? else { break };
        taken += new;
        at += count as u64;
    }
    Ok((taken, at))
}

/// How many of the entries follow from each other and are those that the table
/// names, and the hash of the last.
fn chained(
    opening: &Opening,
    after: u64,
    before: Hash,
    entries: &[(Vec<u8>, pitside_log::entry::Content)],
    told: impl Fn(u64) -> Option<Hash>,
) -> Option<(usize, Hash)> {
    let (mut count, mut last) = (0, before);
    for (seq, (header, content)) in (after + 1..).zip(entries) {
        let made =
            Entry::from_parts(opening.id(), seq, opening.scope, last, header.clone(), content.clone()).ok();
        let Some(entry) = made.filter(|entry| told(seq) == Some(entry.hash)) else { break };
        (count, last) = (count + 1, entry.hash);
    }
    (count > 0).then_some((count, last))
}

/// Settings, peers and what was let go: what no log says.
fn copy_rows(old: &Connection, book: &Book, lost: &mut Vec<String>) -> Result<(), BookError> {
    let tables = [
        ("settings", "local", "name, value"),
        ("peers", "peers", "device, addresses, met_ms, clock_apart_ms"),
        ("invitations", "invitations", "secret, grant_payload, expires_ms, used_by"),
        ("members let go", "let_go", "member, at_ms"),
    ];
    for (what, table, columns) in tables {
        let mut read: Vec<Vec<rusqlite::types::Value>> = Vec::new();
        let mut rows = || -> rusqlite::Result<()> {
            let mut statement = old.prepare(&format!("SELECT {columns} FROM {table} NOT INDEXED"))?;
            let width = statement.column_count();
            let mut rows = statement.query([])?;
            while let Some(r) = rows.next()? {
                read.push((0..width).map(|n| r.get(n)).collect::<Result<_, _>>()?);
            }
            Ok(())
        };
        if let Err(e) = rows() {
            lost.push(format!("{what}: {e}"));
        }
        book.writing(|t| {
            let marks = vec!["?"; columns.split(',').count()].join(", ");
            for row in read {
                let sql = format!("INSERT OR IGNORE INTO {table} ({columns}) VALUES ({marks})");
                t.execute(&sql, rusqlite::params_from_iter(row))?;
            }
            Ok(())
        })?;
    }
    Ok(())
}
