//! The tables, and how an older book becomes a current one.

use std::collections::BTreeMap;
use std::path::Path;

use rusqlite::{Connection, Transaction};

use super::error::BookError;

/// One step a version; a step that was released is never changed.
const MIGRATIONS: &[&str] = &[
    "
CREATE TABLE meta (name TEXT PRIMARY KEY, value BLOB NOT NULL) WITHOUT ROWID;

-- A log as it is held. One that was written twice is a line up to where the two
-- part, and one for each branch.
CREATE TABLE lines (
    id INTEGER PRIMARY KEY,
    log BLOB NOT NULL,
    device BLOB NOT NULL,
    scope BLOB NOT NULL,
    opening BLOB NOT NULL,
    parent INTEGER REFERENCES lines (id),
    base_seq INTEGER NOT NULL DEFAULT 0,
    head_seq INTEGER NOT NULL,
    head_hash BLOB NOT NULL,
    sealed_seq INTEGER NOT NULL,
    sealed_hash BLOB NOT NULL,
    unsealed_bytes INTEGER NOT NULL DEFAULT 0,
    closed INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX lines_by_log ON lines (log);
CREATE INDEX lines_by_device ON lines (device);
CREATE INDEX lines_by_scope ON lines (scope);
CREATE INDEX lines_by_parent ON lines (parent) WHERE parent IS NOT NULL;

CREATE TABLE entries (
    line INTEGER NOT NULL REFERENCES lines (id),
    seq INTEGER NOT NULL,
    hash BLOB NOT NULL,
    header BLOB NOT NULL,
    salt BLOB,
    payload BLOB,
    commitment BLOB,
    judgement INTEGER,
    PRIMARY KEY (line, seq)
) WITHOUT ROWID;
CREATE INDEX entries_uncounted ON entries (line, seq) WHERE judgement <> 1;
CREATE INDEX entries_bare ON entries (line, seq) WHERE commitment IS NOT NULL;

CREATE TABLE seals (
    line INTEGER NOT NULL REFERENCES lines (id),
    seq INTEGER NOT NULL,
    hash BLOB NOT NULL,
    signature BLOB NOT NULL,
    PRIMARY KEY (line, seq)
) WITHOUT ROWID;

CREATE TABLE aside (
    id INTEGER PRIMARY KEY,
    at_ms INTEGER NOT NULL,
    peer BLOB,
    reason TEXT NOT NULL,
    bytes BLOB NOT NULL,
    scope BLOB,
    times INTEGER NOT NULL DEFAULT 1
);

CREATE TABLE peers (
    device BLOB PRIMARY KEY,
    addresses TEXT NOT NULL DEFAULT '',
    met_ms INTEGER,
    clock_apart_ms INTEGER
) WITHOUT ROWID;
-- What a device said it has whole, and since when it is known.
CREATE TABLE receipts (
    device BLOB NOT NULL,
    line INTEGER NOT NULL REFERENCES lines (id),
    seq INTEGER NOT NULL,
    at_ms INTEGER NOT NULL,
    PRIMARY KEY (device, line, seq)
) WITHOUT ROWID;
-- What went into a file for a device.
CREATE TABLE handed (
    device BLOB NOT NULL,
    line INTEGER NOT NULL REFERENCES lines (id),
    seq INTEGER NOT NULL,
    at_ms INTEGER NOT NULL,
    PRIMARY KEY (device, line, seq)
) WITHOUT ROWID;
CREATE TABLE invitations (
    secret BLOB PRIMARY KEY,
    grant_payload BLOB NOT NULL,
    expires_ms INTEGER NOT NULL,
    used_by BLOB
) WITHOUT ROWID;
-- Members whose data this device's person let go.
CREATE TABLE let_go (member BLOB PRIMARY KEY, at_ms INTEGER NOT NULL) WITHOUT ROWID;

CREATE TABLE local (name TEXT PRIMARY KEY, value BLOB NOT NULL) WITHOUT ROWID;

-- The projection: what merge made of the entries. It can be thrown away.
CREATE TABLE standings (device BLOB PRIMARY KEY, standing BLOB NOT NULL) WITHOUT ROWID;
CREATE TABLE erased (member BLOB PRIMARY KEY) WITHOUT ROWID;
CREATE TABLE same (member BLOB PRIMARY KEY, first BLOB NOT NULL) WITHOUT ROWID;
CREATE TABLE idle (hash BLOB PRIMARY KEY) WITHOUT ROWID;
CREATE TABLE topics (
    id INTEGER PRIMARY KEY,
    scope BLOB NOT NULL,
    member BLOB,
    kind TEXT NOT NULL,
    field TEXT NOT NULL,
    UNIQUE (scope, kind, field)
);
CREATE INDEX topics_by_member ON topics (member) WHERE member IS NOT NULL;
CREATE TABLE replaced (
    hash BLOB NOT NULL,
    topic INTEGER NOT NULL,
    subject BLOB NOT NULL,
    line INTEGER NOT NULL,
    seq INTEGER NOT NULL,
    PRIMARY KEY (hash, topic, subject, line, seq)
) WITHOUT ROWID;
CREATE TABLE withdrawn (
    hash BLOB NOT NULL,
    scope BLOB NOT NULL,
    line INTEGER NOT NULL,
    seq INTEGER NOT NULL,
    PRIMARY KEY (hash, scope, line, seq)
) WITHOUT ROWID;
CREATE TABLE live (
    line INTEGER NOT NULL,
    seq INTEGER NOT NULL,
    topic INTEGER NOT NULL REFERENCES topics (id),
    subject BLOB NOT NULL,
    stamp_ms INTEGER NOT NULL,
    day INTEGER,
    session BLOB,
    PRIMARY KEY (line, seq)
) WITHOUT ROWID;
CREATE INDEX live_by_subject ON live (subject, topic);
CREATE INDEX live_by_topic ON live (topic, day);
CREATE INDEX live_by_session ON live (session) WHERE session IS NOT NULL;
",
    "
-- The projection is made anew after this: its version changed too.
DROP TABLE live;
CREATE TABLE live (
    line INTEGER NOT NULL,
    seq INTEGER NOT NULL,
    topic INTEGER NOT NULL,
    subject BLOB NOT NULL,
    stamp_ms INTEGER NOT NULL,
    day INTEGER,
    session BLOB,
    PRIMARY KEY (line, seq)
) WITHOUT ROWID;
-- Subjects and sessions are hashes mostly: eight bytes tell them apart, and whoever
-- looks one up compares the whole too. They fall anywhere in an index, so the topic
-- stands before them: what comes from one log then touches a few pages only.
CREATE INDEX live_by_subject ON live (topic, substr(subject, -8));
-- What belongs to a session has no day of its own.
CREATE INDEX live_by_day ON live (topic, day, substr(session, -8));
",
];

/// The tables of the projection, in an order in which they can be emptied.
pub(super) const PROJECTED: [&str; 8] =
    ["live", "replaced", "withdrawn", "topics", "standings", "erased", "same", "idle"];

/// The version of the tables that this program writes.
pub(super) const VERSION: u32 = MIGRATIONS.len() as u32;

/// The version of the projection: what merge and the columns of `live` mean.
/// Another one in the book, and the projection is made anew. It is raised with every kind
/// of fact that is about a day or belongs to a session, too: a program that could not read
/// it left both columns empty, and what it held would not be found by its day.
pub(super) const PROJECTION: u32 = 4;

/// Entries come a few thousand at a time: with pages of twice the usual size half as
/// many are divided.
const PAGE_BYTES: u32 = 8 * 1024;
/// Pages a connection keeps, in KiB; negative says so to SQLite. A batch of a sync
/// touches a few thousand pages of the indexes by hash: with fewer at hand they are
/// written out and read back while it is taken in.
const CACHE_KIB: i32 = -16 * 1024;
/// The log is folded in when it has so many pages. A page that several batches
/// changed is then written to the file once.
const CHECKPOINT_PAGES: i32 = 2_000;

/// Higher versions than this one no program ever writes: the number is damaged.
pub(super) const HIGHEST: u32 = 10_000;

/// Says what to do before anything else on a connection. A saved mark must
/// survive a dead battery: WAL with `synchronous = FULL`. What is deleted is
/// overwritten.
pub(super) fn prepare(connection: &Connection) -> rusqlite::Result<()> {
    connection.busy_timeout(core::time::Duration::from_secs(10))?;
    // Of a new file only, and before anything is in it.
    connection.pragma_update(None, "page_size", PAGE_BYTES)?;
    connection.pragma_update(None, "journal_mode", "WAL")?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    connection.pragma_update(None, "fullfsync", "ON")?;
    connection.pragma_update(None, "secure_delete", "ON")?;
    connection.pragma_update(None, "foreign_keys", "ON")?;
    connection.pragma_update(None, "temp_store", "MEMORY")?;
    connection.pragma_update(None, "cache_size", CACHE_KIB)?;
    connection.pragma_update(None, "wal_autocheckpoint", CHECKPOINT_PAGES)?;
    connection.set_prepared_statement_cache_capacity(96);
    Ok(())
}

/// The version of the tables in a file.
pub(super) fn version(connection: &Connection) -> rusqlite::Result<u32> {
    connection.query_row("PRAGMA user_version", [], |row| row.get(0))
}

/// The tables of a version as SQLite keeps them: name and statement.
pub(super) fn layout(version: u32) -> rusqlite::Result<BTreeMap<String, String>> {
    let c = Connection::open_in_memory()?;
    for step in MIGRATIONS.iter().take(version as usize) {
        c.execute_batch(step)?;
    }
    tables(&c)
}

/// The tables of a file: name and statement.
pub(super) fn tables(c: &Connection) -> rusqlite::Result<BTreeMap<String, String>> {
    c.prepare("SELECT name, sql FROM sqlite_master WHERE type = 'table' LIMIT 1000")?
        .query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?
        .collect()
}

/// The version of the tables in a file, if it is one that this program can read.
pub(super) fn known(c: &Connection, path: &Path) -> Result<u32, BookError> {
    let found = version(c)?;
    if found > HIGHEST {
        return Err(BookError::Damaged { path: path.to_owned(), why: format!("version {found} is none") });
    }
    if found > VERSION {
        return Err(BookError::Newer { path: path.to_owned(), found, known: VERSION });
    }
    Ok(found)
}

/// Brings the tables to [`VERSION`], all or nothing.
pub(super) fn migrate(transaction: &Transaction<'_>, path: &Path) -> Result<(), BookError> {
    let found = known(transaction, path)?;
    for step in MIGRATIONS.iter().skip(found as usize) {
        transaction.execute_batch(step)?;
    }
    transaction.pragma_update(None, "user_version", VERSION)?;
    Ok(())
}
