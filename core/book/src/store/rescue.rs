//! What can be read of a damaged book, in a new one.
//!
//! A log is taken from its first entry on, as far as every hash follows from the
//! one before and a seal of the log's device closes it; so what is taken is what
//! was written, whatever the damage did. Of the own logs the entries after the
//! last seal are taken too, as far as they give the hashes that stand beside them,
//! and sealed. They go through the same door as what another device sends.
//!
//! What lies behind a place that cannot be read is not taken: the devices that
//! have it send it with the next sync, and it is joined on where the rescued part
//! ends. So that no place in a log is written twice, the own logs are closed.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use pitside_log::authority::Root;
use pitside_log::entry::{Content, Entry, Header, origin};
use pitside_log::opening::Opening;
use pitside_log::seal::{MAX_BYTES, MAX_ENTRIES, Seal};
use pitside_log::segment::Segment;
use pitside_model::cbor::decode;
use pitside_model::facts::{DeviceKey, Fact, Hash, Head, LogId, Scope, SquadId, field_name, kind};
use rusqlite::{Connection, OpenFlags, OptionalExtension, Row, params};

use super::backup::{DRAFT_FOLDER, drop_draft, open_as_it_is, put_in_place};
use super::ledger::{bytes32, content, damaged, scope as read_scope, scope_bytes, standing};
use super::line;
use super::peers::note;
use super::replica::Taking;
use super::{Book, BookError, FILE, apart, drop_erased, lock, rebuild, schema, set_meta};
use crate::clock::Stamp;
use crate::durable::make_folder;
use crate::keys::Identity;

/// The settings of a book, beside the device.
const SETTINGS: [&str; 8] = ["demo", "squad", "member", "recovery", "recovers", "copy", "unclean", "backups"];
/// Rows read of a table that is not the entries: more is damage.
const MOST_ROWS: u32 = 1 << 20;
/// Row numbers looked up one by one behind a place that cannot be read.
const MOST_PROBES: i64 = 1 << 12;
/// A file was at most so many times as long before it was cut off; where its size
/// says more, the size is damaged.
const MOST_LONGER: u64 = 32;
/// Entries read at a time.
const STEP: u32 = 256;
/// Entries put in before they are merged.
const MERGED: usize = 1_000;

/// A new book with what could be read of a damaged one.
#[derive(Debug)]
pub struct Rescued {
    /// The new book, open.
    pub book: Book,
    /// Entries that were taken.
    pub entries: u64,
    /// Logs of which something was taken.
    pub logs: u64,
    /// What could not be read.
    pub lost: Vec<Lost>,
}

/// Something that could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lost {
    /// The end of a log. Other devices send what they have of it.
    Log {
        /// The log.
        log: LogId,
        /// The device that wrote it.
        device: DeviceKey,
        /// Its scope, where it is known.
        scope: Option<Scope>,
        /// The last entry that was taken; 0 where none was.
        after: u64,
        /// The last entry that there was, as the damaged book and what is kept apart
        /// say.
        until: u64,
    },
    /// What admits this device to its squad. It can be written on as before it was
    /// paired; with an invitation it comes back, and everything counts again.
    Admission,
    /// Some of the rows of a part of the book.
    Part(&'static str),
}

impl Book {
    /// Makes a new book of what can be read of a damaged one. The damaged file is
    /// moved aside, to `book.sqlite.damaged-` and the time, and kept until somebody
    /// is erased.
    ///
    /// # Errors
    /// [`BookError::BeyondRescue`] where nothing can be read, [`BookError::Missing`],
    /// [`BookError::OtherDevice`], [`BookError::Newer`], [`BookError::InUse`],
    /// [`BookError::ReadOnly`], [`BookError::Full`]. The folder is then as it was.
    pub fn rescue(folder: &Path, identity: Identity, now: Stamp) -> Result<Rescued, BookError> {
        if !Self::exists(folder) {
            return Err(BookError::Missing(folder.to_owned()));
        }
        let locked = lock(folder)?;
        drop_draft(folder);
        let draft = folder.join(DRAFT_FOLDER);
        let wreck = Wreck::open(&folder.join(FILE), &draft)?;
        let device = identity.key();
        let made = wreck.read(device).and_then(|read| {
            let book = Self::create(&draft, identity, read.demo)?;
            let taken = book.take_from(&wreck, &read, now)?;
            Ok((taken, book.close_keeping()?))
        });
        let (mut taken, identity) = match made {
            Ok(made) => made,
            Err(e) => {
                drop_draft(folder);
                return Err(e);
            }
        };
        drop(wreck);
        put_in_place(folder, "damaged", now)
            .map_err(|source| BookError::ReadOnly { path: folder.to_owned(), source })?;
        drop(locked);
        // A book that is opened keeps its own.
        let heads = apart::heads(folder);
        let book = Self::open(folder, identity)?;
        book.erase_again(now)?;
        taken.lost.extend(book.lost_by_heads(&heads, &taken.lost)?);
        Ok(Rescued { book, entries: taken.entries, logs: taken.logs, lost: taken.lost })
    }

    fn take_from(&self, wreck: &Wreck, read: &Read, now: Stamp) -> Result<Taken, BookError> {
        self.writing(|t| {
            for (name, value) in &read.settings {
                set_meta(t, name, value)?;
            }
            let mut lost: Vec<Lost> = read.lost.iter().map(|part| Lost::Part(part)).collect();
            // Before the logs: whose data were let go is not taken again.
            lost.extend(wreck.copy_rows(t)?.into_iter().map(Lost::Part));
            let gone = super::squad::let_go(t)?;
            let mut root = Root { squad: read.squad, device: self.device() };
            let mut taking = Taking::new(t, root);
            let mut logs = BTreeSet::new();
            for line in &read.lines {
                let log = line.opening.id();
                if line.opening.scope.member().is_some_and(|m| gone.contains(&m)) {
                    continue;
                }
                let (end, last) = wreck.take_line(t, line, self.identity(), &mut taking)?;
                if end > 0 {
                    logs.insert(log);
                }
                if end != line.head.0 && Some(last) != line.head.1 {
                    let (device, scope) = (line.opening.device, Some(line.opening.scope));
                    lost.push(Lost::Log { log, device, scope, after: end, until: line.head.0.max(end) });
                }
            }
            taking.merge()?;
            let entries = taking.new_entries();
            drop(taking);
            if read.squad_in_doubt {
                root.squad = squad_of(t, read.squad)?;
                if root.squad != read.squad {
                    rebuild(t, &root)?;
                }
            }
            if let Some(squad) = root.squad {
                if standing(t, self.device())?.grants.is_empty() {
                    self.leave_squad(t, read, squad)?;
                    lost.push(Lost::Admission);
                    root.squad = None;
                } else {
                    set_meta(t, "squad", &squad.0)?;
                }
            }
            if root.squad.is_none() && read.unread.contains(&"member") {
                set_own_members(t, read, self.device())?;
            }
            t.execute("UPDATE lines SET closed = 1 WHERE device = ?1", [self.device().0.as_slice()])?;
            for table in ["receipts", "handed"] {
                if !wreck.copy_notes(t, table, read, now)? {
                    lost.push(Lost::Part(table));
                }
            }
            drop_erased(t, &root)?;
            Ok(Taken { entries, logs: logs.len() as u64, lost })
        })
    }

    /// What admits this device is lost: it is as before it was paired, and comes back
    /// with an invitation. A device that wrote for the squad gathers it again, as one
    /// that carries it on by the recovery key does.
    fn leave_squad(&self, t: &Connection, read: &Read, squad: SquadId) -> Result<(), BookError> {
        t.execute("DELETE FROM meta WHERE name = 'squad'", [])?;
        if read.own(self.device()).any(|scope| scope == Scope::Squad) {
            set_meta(t, "recovers", &squad.0)?;
        }
        rebuild(t, &Root { squad: None, device: self.device() })
    }

    /// Own logs that went further than the book, by what was kept apart.
    fn lost_by_heads(&self, heads: &[Head], known: &[Lost]) -> Result<Vec<Lost>, BookError> {
        self.reading(|c| {
            let mut lost = Vec::new();
            for head in heads {
                let named =
                    known.iter().any(|lost| matches!(lost, Lost::Log { log, .. } if *log == head.log));
                if named || line::find(c, head)?.is_some() {
                    continue;
                }
                let held: Option<(u64, Vec<u8>)> = c
                    .prepare_cached("SELECT max(head_seq), scope FROM lines WHERE log = ?1 GROUP BY scope")?
                    .query_row([head.log.0.as_slice()], |r| Ok((r.get(0)?, r.get(1)?)))
                    .optional()?;
                let scope = held.as_ref().map(|(_, scope)| read_scope(scope)).transpose()?;
                let after = held.map_or(0, |(after, _)| after);
                let (log, device) = (head.log, self.device());
                lost.push(Lost::Log { log, device, scope, after, until: head.seq.max(after) });
            }
            Ok(lost)
        })
    }
}

struct Taken {
    entries: u64,
    logs: u64,
    lost: Vec<Lost>,
}

/// A line as the damaged book has it.
struct Found {
    id: i64,
    opening: Opening,
    /// The number of its first entry.
    first: u64,
    /// Where it should end.
    head: (u64, Option<Hash>),
}

/// What is known of a damaged book before its entries are read.
struct Read {
    settings: Vec<(&'static str, Vec<u8>)>,
    /// The names of those that cannot be read.
    unread: Vec<&'static str>,
    demo: bool,
    squad: Option<SquadId>,
    /// Whether there is, or was, a squad cannot be told from the settings.
    squad_in_doubt: bool,
    lines: Vec<Found>,
    lost: Vec<&'static str>,
}

impl Read {
    /// The scopes in which a device wrote.
    fn own(&self, device: DeviceKey) -> impl Iterator<Item = Scope> {
        let own = self.lines.iter().filter(move |line| line.opening.device == device);
        own.map(|line| line.opening.scope)
    }
}

/// A damaged book, open for reading. Every error of SQLite's means "not to be
/// read here", and nothing more.
struct Wreck {
    path: PathBuf,
    c: Connection,
}

impl Wreck {
    /// Opens the file with its log, or alone where the log is in the way. SQLite
    /// reads nothing of a file that is shorter than it says: then a copy is read that
    /// is as long.
    fn open(path: &Path, draft: &Path) -> Result<Self, BookError> {
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let with_log = |path: &Path| Connection::open_with_flags(path, flags).ok();
        let mut newer = None;
        let ways: [&dyn Fn() -> Option<Connection>; 4] = [
            &|| with_log(path),
            &|| open_as_it_is(path).ok(),
            &|| with_log(&made_long(path, draft).ok()?),
            &|| open_as_it_is(&made_long(path, draft).ok()?).ok(),
        ];
        for way in ways {
            let Some(c) = way() else { continue };
            match is_laid_out(&c) {
                Ok(()) => return Ok(Self { path: path.to_owned(), c }),
                Err(found) => newer = newer.or(found),
            }
        }
        drop_draft(draft.parent().unwrap_or(draft));
        Err(match newer {
            Some(found) => BookError::Newer { path: path.to_owned(), found, known: schema::VERSION },
            None => BookError::BeyondRescue(path.to_owned()),
        })
    }

    /// Reads settings and lines, and tells whose book it is.
    fn read(&self, own: DeviceKey) -> Result<Read, BookError> {
        let mut lost = Vec::new();
        let device = self.setting("device").unwrap_or_default();
        let (mut lines, whole) = self.lines();
        if !whole {
            lost.push("logs");
        }
        // What the device itself signed says more than one row.
        let is_own = lines.iter().any(|line| line.opening.device == own);
        match &device {
            Some(device) if *device == own.0 => {}
            _ if is_own => lost.push("settings"),
            Some(_) => return Err(BookError::OtherDevice(self.path.clone())),
            None => return Err(BookError::BeyondRescue(self.path.clone())),
        }
        let mut settings = Vec::new();
        let mut unread = Vec::new();
        for name in SETTINGS {
            match self.setting(name) {
                Ok(Some(value)) if fits(name, &value) => settings.push((name, value)),
                Ok(None) if device.is_some() => {}
                _ => unread.push(name),
            }
        }
        if !unread.is_empty() && !lost.contains(&"settings") {
            lost.push("settings");
        }
        let value = |name| settings.iter().find(|(n, _)| *n == name).map(|(_, value)| value.as_slice());
        let squad = value("squad").and_then(|bytes| bytes.try_into().ok()).map(SquadId);
        let demo = value("demo") == Some(&[1]);
        let squad_in_doubt = squad.is_some() || unread.contains(&"squad");
        // A branch after what it branches off from, and authority before the rest.
        lines.sort_by_key(|line| (line.opening.scope != Scope::Squad, line.first, line.id));
        Ok(Read { settings, unread, demo, squad, squad_in_doubt, lines, lost })
    }

    fn setting(&self, name: &str) -> rusqlite::Result<Option<Vec<u8>>> {
        self.c
            .prepare_cached("SELECT value FROM meta WHERE name = ?1")?
            .query_row([name], |r| r.get(0))
            .optional()
    }

    /// The lines whose opening record can be read, and whether these are all.
    fn lines(&self) -> (Vec<Found>, bool) {
        let read = |r: &Row<'_>| Ok((r.get(0)?, self.found(r)?));
        let columns = "SELECT id, opening, head_seq, head_hash FROM lines";
        let mut found: BTreeMap<i64, Found> = BTreeMap::new();
        let mut whole = self.rows(&format!("{columns} ORDER BY id"), &mut |r| {
            let (id, line) = read(r)?;
            found.insert(id, line);
            Ok(())
        });
        if !whole {
            let behind = found.keys().next_back().copied().unwrap_or(0);
            self.rows(&format!("{columns} ORDER BY id DESC"), &mut |r| {
                let (id, line) = read(r)?;
                found.insert(id, line);
                Ok(())
            });
            // Between two places that cannot be read.
            for id in behind.saturating_add(1)..behind.saturating_add(MOST_PROBES) {
                let probe = self.c.prepare_cached(&format!("{columns} WHERE id = ?1"));
                if let Ok((id, line)) = probe.and_then(|mut probe| probe.query_row([id], read)) {
                    found.insert(id, line);
                }
            }
        }
        // A line without an entry has nothing to be taken.
        let mut lines = Vec::new();
        for mut line in found.into_values() {
            let first: rusqlite::Result<Option<u64>> = self
                .c
                .prepare_cached("SELECT seq FROM entries WHERE line = ?1 ORDER BY seq LIMIT 1")
                .and_then(|mut first| first.query_row([line.id], |r| r.get(0)).optional());
            match first {
                Ok(Some(first)) => line.first = first,
                Ok(None) => {}
                // It is told as lost when it is taken.
                Err(_) => whole &= line.head.0 == 0,
            }
            lines.push(line);
        }
        (lines, whole)
    }

    fn found(&self, r: &Row<'_>) -> rusqlite::Result<Found> {
        let opening: Vec<u8> = r.get(1)?;
        let opening = decode(&opening).ok().and_then(|value| Opening::from_value(&value).ok());
        Ok(Found {
            id: r.get(0)?,
            opening: opening.ok_or_else(|| damaged("an opening record expected"))?,
            first: 1,
            head: (r.get(2).unwrap_or(0), bytes32(r, 3).ok().map(Hash)),
        })
    }

    /// Reads the rows of a statement up to where they cannot be read; a row that
    /// `take` makes nothing of is passed over. Says whether all were taken.
    fn rows(&self, sql: &str, take: &mut dyn FnMut(&Row<'_>) -> rusqlite::Result<()>) -> bool {
        let Ok(mut statement) = self.c.prepare(&format!("{sql} LIMIT {MOST_ROWS}")) else { return false };
        let Ok(mut rows) = statement.query([]) else { return false };
        let mut whole = true;
        loop {
            match rows.next() {
                Ok(Some(row)) => whole &= take(row).is_ok(),
                Ok(None) => return whole,
                Err(_) => return false,
            }
        }
    }

    /// Takes what a line has; gives where it ends now.
    fn take_line(
        &self,
        t: &Connection,
        line: &Found,
        identity: &Identity,
        taking: &mut Taking<'_>,
    ) -> Result<(u64, Hash), BookError> {
        let log = line.opening.id();
        if line.first <= 1 {
            return self.take_after(line, (0, origin(log)), identity, taking);
        }
        // What it branches off from is one of the entries that were taken before.
        taking.merge()?;
        let base = line.first - 1;
        let befores: Vec<Hash> = t
            .prepare_cached(
                "SELECT e.hash FROM lines l JOIN entries e ON e.line = l.id WHERE l.log = ?1 AND e.seq = ?2",
            )?
            .query_map(params![log.0.as_slice(), base], |r| bytes32(r, 0).map(Hash))?
            .collect::<Result<_, _>>()?;
        for before in befores {
            let end = self.take_after(line, (base, before), identity, taking)?;
            if end.0 > base {
                return Ok(end);
            }
        }
        Ok((0, origin(log)))
    }

    /// Takes what a line has after an entry, from seal to seal.
    fn take_after(
        &self,
        line: &Found,
        after: (u64, Hash),
        identity: &Identity,
        taking: &mut Taking<'_>,
    ) -> Result<(u64, Hash), BookError> {
        let own = line.opening.device == identity.key();
        let mut part = Part::new(line, after);
        'reading: loop {
            let chunk = self.chunk(line.id, part.last.0);
            let whole = chunk.len() == STEP as usize;
            for (seq, hash, header, content) in chunk {
                if seq != part.last.0 + 1 || !part.push(hash, header, content) {
                    break 'reading;
                }
                let seal = match self.signature(line.id, seq) {
                    Some(signature) => {
                        let seal = Seal { log: part.log, seq, hash: part.last.1, signature };
                        Some(seal).filter(|seal| seal.is_by(line.opening.device))
                    }
                    None => None,
                };
                let count = part.entries.len();
                let full = count as u64 >= MAX_ENTRIES || part.bytes >= MAX_BYTES;
                let ours = full && own && part.sure == count;
                let seal = seal.or_else(|| ours.then(|| Seal::new(identity, part.log, seq, part.last.1)));
                let ends = match seal {
                    Some(seal) => !part.close(seal, taking)?,
                    // More than one seal may close.
                    None => count as u64 >= MAX_ENTRIES,
                };
                if ends {
                    break 'reading;
                }
            }
            if !whole {
                break;
            }
        }
        // The own entries after the last seal.
        if own && part.sure > 0 {
            let (seq, hash) = part.keep_sure();
            let seal = Seal::new(identity, part.log, seq, hash);
            part.close(seal, taking)?;
        }
        Ok(part.begin)
    }

    /// The next entries of a line, up to one that cannot be read.
    fn chunk(&self, line: i64, after: u64) -> Vec<(u64, Option<Hash>, Vec<u8>, Content)> {
        let mut chunk = Vec::new();
        let Ok(mut statement) = self.c.prepare_cached(&format!(
            "SELECT seq, hash, header, salt, payload, commitment FROM entries
             WHERE line = ?1 AND seq > ?2 ORDER BY seq LIMIT {STEP}"
        )) else {
            return chunk;
        };
        let read = |r: &Row<'_>| {
            // The hash is made anew; what stands there only says whether it is sure.
            Ok((r.get(0)?, bytes32(r, 1).ok().map(Hash), r.get(2)?, content(r, 3)?))
        };
        let Ok(rows) = statement.query_map(params![line, after], read) else { return chunk };
        for row in rows {
            match row {
                Ok(row) => chunk.push(row),
                Err(_) => break,
            }
        }
        chunk
    }

    fn signature(&self, line: i64, seq: u64) -> Option<[u8; 64]> {
        let signature: Vec<u8> = self
            .c
            .prepare_cached("SELECT signature FROM seals WHERE line = ?1 AND seq = ?2")
            .and_then(|mut seal| seal.query_row(params![line, seq], |r| r.get(0)))
            .ok()?;
        signature.try_into().ok()
    }

    /// Copies what is no entry; gives what could not be read whole.
    fn copy_rows(&self, t: &Connection) -> Result<Vec<&'static str>, BookError> {
        const TABLES: [(&str, &str, &str); 5] = [
            ("let_go", "member, at_ms", "member"),
            ("peers", "device, addresses, met_ms, clock_apart_ms", "device"),
            ("invitations", "secret, grant_payload, expires_ms, used_by", "secret"),
            ("local", "name, value", "name"),
            ("aside", "id, at_ms, peer, reason, bytes, scope, times", "id"),
        ];
        let mut lost = Vec::new();
        for (table, columns, key) in TABLES {
            let count = columns.split(", ").count();
            let marks = (1..=count).map(|n| format!("?{n}")).collect::<Vec<_>>().join(", ");
            let mut insert =
                t.prepare(&format!("INSERT OR IGNORE INTO {table} ({columns}) VALUES ({marks})"))?;
            let mut failed = None;
            let mut copy = |r: &Row<'_>| {
                let values: Vec<rusqlite::types::Value> =
                    (0..count).map(|at| r.get(at)).collect::<rusqlite::Result<_>>()?;
                if !fits_row(table, &values) {
                    return Err(damaged("a row of another shape"));
                }
                match insert.execute(rusqlite::params_from_iter(values)) {
                    Ok(_) => Ok(()),
                    // A value that may not be there is the row's fault.
                    Err(e) if e.sqlite_error_code() == Some(rusqlite::ErrorCode::ConstraintViolation) => {
                        Err(e)
                    }
                    Err(e) => {
                        failed = Some(e);
                        Ok(())
                    }
                }
            };
            let select = format!("SELECT {columns} FROM {table} ORDER BY {key}");
            if !self.rows(&select, &mut copy) {
                // And from the other end.
                self.rows(&format!("{select} DESC"), &mut copy);
                lost.push(table);
            }
            if let Some(e) = failed {
                return Err(e.into());
            }
        }
        Ok(lost)
    }

    /// Copies what others were known to have; says whether it could be read whole.
    fn copy_notes(&self, t: &Connection, table: &str, read: &Read, now: Stamp) -> Result<bool, BookError> {
        let mut notes: Vec<(DeviceKey, i64, u64, i64)> = Vec::new();
        let mut take = |r: &Row<'_>| {
            notes.push((DeviceKey(bytes32(r, 0)?), r.get(1)?, r.get(2)?, r.get(3)?));
            Ok(())
        };
        let whole = self.rows(&format!("SELECT device, line, seq, at_ms FROM {table}"), &mut take);
        let logs: BTreeMap<i64, LogId> = read.lines.iter().map(|line| (line.id, line.opening.id())).collect();
        for (device, line, seq, at_ms) in notes {
            let Some(log) = logs.get(&line) else { continue };
            let hash: rusqlite::Result<Hash> = self
                .c
                .prepare_cached("SELECT hash FROM entries WHERE line = ?1 AND seq = ?2")
                .and_then(|mut hash| hash.query_row(params![line, seq], |r| bytes32(r, 0).map(Hash)));
            let Ok(hash) = hash else { continue };
            if let Some(place) = line::find(t, &Head { log: *log, seq, hash })? {
                note(t, table, device, place, Stamp { ms: at_ms, ..now })?;
            }
        }
        Ok(whole)
    }
}

/// The entries after a seal, while they are gathered.
struct Part<'a> {
    line: &'a Found,
    log: LogId,
    /// What the entries follow on.
    begin: (u64, Hash),
    /// The last of the entries.
    last: (u64, Hash),
    entries: Vec<(Vec<u8>, Content)>,
    hashes: Vec<Hash>,
    bytes: usize,
    /// How many of them, from the first on, give the hash that stood beside them.
    sure: usize,
}

impl<'a> Part<'a> {
    fn new(line: &'a Found, after: (u64, Hash)) -> Self {
        let log = line.opening.id();
        Self {
            line,
            log,
            begin: after,
            last: after,
            entries: Vec::new(),
            hashes: Vec::new(),
            bytes: 0,
            sure: 0,
        }
    }

    /// Takes the next entry; says whether it is one.
    fn push(&mut self, stood: Option<Hash>, header: Vec<u8>, content: Content) -> bool {
        let (seq, before) = (self.last.0 + 1, self.last.1);
        let scope = self.line.opening.scope;
        let Ok(entry) = Entry::from_parts(self.log, seq, scope, before, header, content) else {
            return false;
        };
        if stood == Some(entry.hash) && self.sure == self.entries.len() {
            self.sure += 1;
        }
        self.last = (seq, entry.hash);
        self.bytes += entry.header_bytes.len() + entry.body().map_or(0, |body| body.payload.len());
        self.hashes.push(entry.hash);
        self.entries.push((entry.header_bytes, entry.content));
        true
    }

    /// Keeps the entries alone that are sure; gives the last of them.
    fn keep_sure(&mut self) -> (u64, Hash) {
        self.entries.truncate(self.sure);
        self.hashes.truncate(self.sure);
        let hash = self.hashes.last().copied().unwrap_or(self.begin.1);
        self.last = (self.begin.0 + self.sure as u64, hash);
        self.last
    }

    /// Takes the entries in with their seal; says whether they were.
    fn close(&mut self, seal: Seal, taking: &mut Taking<'_>) -> Result<bool, BookError> {
        let first = self.begin.0 + 1;
        let segment = Segment {
            log: self.log,
            first_seq: first,
            before: self.begin.1,
            opening: (first == 1).then(|| self.line.opening.clone()),
            entries: std::mem::take(&mut self.entries),
            seal,
        };
        let checked = segment.check(Some(&self.line.opening));
        if taking.segment(&segment, checked)?.is_err() {
            return Ok(false);
        }
        if taking.waiting() >= MERGED {
            taking.merge()?;
        }
        self.hashes.clear();
        (self.begin, self.bytes, self.sure) = (self.last, 0, 0);
        Ok(true)
    }
}

/// A copy of a file, and of its log, that is as long as it says: with nothing in
/// the pages that are not there.
fn made_long(path: &Path, draft: &Path) -> std::io::Result<PathBuf> {
    use std::io::Read;
    make_folder(draft)?;
    let copy = draft.join("damaged.sqlite");
    std::fs::copy(path, &copy)?;
    let log = path.with_file_name(format!("{FILE}-wal"));
    if log.is_file() {
        std::fs::copy(log, draft.join("damaged.sqlite-wal"))?;
    }
    // Page size and size in pages (SQLite file format, 1.3.2 and 1.3.7).
    let mut header = [0; 32];
    std::fs::File::open(&copy)?.read_exact(&mut header)?;
    let page = match u16::from_be_bytes([header[16], header[17]]) {
        1 => 65_536,
        size => u64::from(size),
    };
    let pages = u64::from(u32::from_be_bytes([header[28], header[29], header[30], header[31]]));
    let file = std::fs::OpenOptions::new().write(true).open(&copy)?;
    let (there, said) = (file.metadata()?.len(), pages * page);
    if there < said && said <= there.saturating_mul(MOST_LONGER).saturating_add(MOST_LONGER << 20) {
        file.set_len(said)?;
    }
    Ok(copy)
}

/// Whether a file has the tables of a book of a version that this program knows;
/// the version where it is a later one.
fn is_laid_out(c: &Connection) -> Result<(), Option<u32>> {
    let prepared = c.execute_batch("PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON;");
    prepared.map_err(|_| None)?;
    let found = schema::version(c).map_err(|_| None)?;
    // A number that is damaged names none; the tables say what it was.
    let version = if (1..=schema::VERSION).contains(&found) { found } else { schema::VERSION };
    let (tables, expected) =
        (schema::tables(c).map_err(|_| None)?, schema::layout(version).map_err(|_| None)?);
    let same = expected.iter().all(|(name, sql)| tables.get(name) == Some(sql));
    match same {
        true => Ok(()),
        false => Err(Some(found).filter(|found| *found > schema::VERSION && *found <= schema::HIGHEST)),
    }
}

/// Before there is a squad a phone writes about its own members alone.
fn set_own_members(t: &Connection, read: &Read, device: DeviceKey) -> Result<(), BookError> {
    if read.own(device).any(|scope| scope == Scope::Squad) {
        return Ok(());
    }
    let members: BTreeSet<_> = read.own(device).filter_map(Scope::member).collect();
    let ids: Vec<u8> = members.iter().flat_map(|member| *member.0.as_bytes()).collect();
    if ids.is_empty() { Ok(()) } else { Ok(set_meta(t, "member", &ids)?) }
}

/// Whether a setting has its shape.
fn fits(name: &str, value: &[u8]) -> bool {
    match name {
        "squad" | "recovery" | "recovers" => value.len() == 32,
        "member" => !value.is_empty() && value.len().is_multiple_of(16),
        "demo" => matches!(value, [0 | 1]),
        _ => true,
    }
}

/// Whether a row has the shape that whoever reads it relies on.
fn fits_row(table: &str, values: &[rusqlite::types::Value]) -> bool {
    use rusqlite::types::Value::{Blob, Integer, Null, Text};
    match (table, values) {
        ("let_go", [Blob(member), Integer(_)]) => member.len() == 16,
        ("peers", [Blob(device), Text(_), Integer(_) | Null, Integer(_) | Null]) => device.len() == 32,
        ("invitations", [Blob(_), Blob(_), Integer(_), Blob(_) | Null]) => true,
        ("local", [Text(_), Blob(_)]) => true,
        ("aside", [Integer(_), Integer(_), Blob(_) | Null, Text(_), Blob(_), Blob(_) | Null, Integer(n)]) => {
            *n >= 0
        }
        _ => false,
    }
}

/// The squad by the entries: the one that the settings name where its founding is
/// among them, or the one that was founded.
fn squad_of(c: &Connection, named: Option<SquadId>) -> Result<Option<SquadId>, BookError> {
    let mut founded = Vec::new();
    let mut statement = c.prepare(
        "SELECT e.hash, e.header, e.payload FROM lines l JOIN entries e ON e.line = l.id WHERE l.scope = ?1",
    )?;
    let mut rows = statement.query([scope_bytes(Scope::Squad)])?;
    while let Some(r) = rows.next()? {
        let header: Vec<u8> = r.get(1)?;
        let Ok(header) = Header::from_bytes(&header) else { continue };
        if header.kind != kind::SQUAD || header.target.is_some() {
            continue;
        }
        let payload: Option<Vec<u8>> = r.get(2)?;
        let fact = payload.and_then(|payload| Fact::read(kind::SQUAD, field_name::WHOLE, &payload).ok());
        if let Some((Fact::Founding(_), _)) = fact {
            founded.push(SquadId(bytes32(r, 0)?));
        }
    }
    Ok(match (named, founded.as_slice()) {
        (Some(named), founded) if founded.contains(&named) => Some(named),
        (_, [squad]) => Some(*squad),
        (named, _) => named,
    })
}
