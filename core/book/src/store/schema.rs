//! The tables, and how an older book becomes a current one.

use std::path::Path;

use rusqlite::{Connection, Transaction};

use super::error::BookError;

/// One step a version; a step that was released is never changed.
const MIGRATIONS: &[&str] = &["
CREATE TABLE meta (name TEXT PRIMARY KEY, value BLOB NOT NULL) WITHOUT ROWID;

CREATE TABLE logs (
    id INTEGER PRIMARY KEY,
    log BLOB NOT NULL UNIQUE,
    device BLOB NOT NULL,
    scope BLOB NOT NULL,
    opening BLOB NOT NULL,
    base_seq INTEGER NOT NULL DEFAULT 0,
    base_hash BLOB NOT NULL,
    head_seq INTEGER NOT NULL,
    head_hash BLOB NOT NULL,
    sealed_seq INTEGER NOT NULL,
    sealed_hash BLOB NOT NULL,
    unsealed_bytes INTEGER NOT NULL DEFAULT 0
);
CREATE INDEX logs_by_device ON logs (device);

CREATE TABLE entries (
    log INTEGER NOT NULL REFERENCES logs (id),
    seq INTEGER NOT NULL,
    hash BLOB NOT NULL,
    header BLOB NOT NULL,
    salt BLOB,
    payload BLOB,
    judgement INTEGER,
    PRIMARY KEY (log, seq)
) WITHOUT ROWID;
CREATE INDEX entries_uncounted ON entries (log, seq) WHERE judgement <> 1;

CREATE TABLE seals (
    log INTEGER NOT NULL REFERENCES logs (id),
    seq INTEGER NOT NULL,
    hash BLOB NOT NULL,
    signature BLOB NOT NULL,
    PRIMARY KEY (log, seq)
) WITHOUT ROWID;

CREATE TABLE aside (
    id INTEGER PRIMARY KEY,
    at_ms INTEGER NOT NULL,
    peer BLOB,
    reason TEXT NOT NULL,
    bytes BLOB NOT NULL
);

CREATE TABLE peers (
    device BLOB PRIMARY KEY,
    addresses TEXT NOT NULL DEFAULT '',
    receipt_ms INTEGER
) WITHOUT ROWID;
CREATE TABLE receipts (
    device BLOB NOT NULL,
    log BLOB NOT NULL,
    seq INTEGER NOT NULL,
    PRIMARY KEY (device, log)
) WITHOUT ROWID;
CREATE TABLE invitations (
    secret BLOB PRIMARY KEY,
    member BLOB,
    expires_ms INTEGER NOT NULL,
    used_by BLOB
) WITHOUT ROWID;

CREATE TABLE local (name TEXT PRIMARY KEY, value BLOB NOT NULL) WITHOUT ROWID;

-- The projection: what merge made of the entries. It can be thrown away.
CREATE TABLE grants (device BLOB PRIMARY KEY, owner INTEGER NOT NULL, members BLOB NOT NULL) WITHOUT ROWID;
CREATE TABLE replaced (hash BLOB NOT NULL, topic BLOB NOT NULL, PRIMARY KEY (hash, topic)) WITHOUT ROWID;
CREATE TABLE live (
    log INTEGER NOT NULL,
    seq INTEGER NOT NULL,
    hash BLOB NOT NULL,
    scope BLOB NOT NULL,
    member BLOB,
    kind TEXT NOT NULL,
    subject BLOB NOT NULL,
    field TEXT NOT NULL,
    stamp_ms INTEGER NOT NULL,
    day INTEGER,
    session BLOB,
    PRIMARY KEY (log, seq)
) WITHOUT ROWID;
CREATE INDEX live_by_subject ON live (subject, kind, field);
CREATE INDEX live_by_member ON live (member, kind, day);
CREATE INDEX live_by_kind ON live (kind, field);
CREATE INDEX live_by_session ON live (session) WHERE session IS NOT NULL;
"];

/// The version of the tables that this program writes.
pub(super) const VERSION: u32 = MIGRATIONS.len() as u32;

/// The version of the projection: what merge and the columns of `live` mean.
/// Another one in the book, and the projection is made anew.
pub(super) const PROJECTION: u32 = 1;

/// Says what to do before anything else on a connection. A saved mark must
/// survive a dead battery: WAL with `synchronous = FULL`.
pub(super) fn prepare(connection: &Connection) -> rusqlite::Result<()> {
    connection.busy_timeout(core::time::Duration::from_secs(10))?;
    connection.pragma_update(None, "journal_mode", "WAL")?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    connection.pragma_update(None, "fullfsync", "ON")?;
    connection.pragma_update(None, "secure_delete", "ON")?;
    connection.pragma_update(None, "foreign_keys", "ON")?;
    connection.pragma_update(None, "temp_store", "MEMORY")?;
    connection.set_prepared_statement_cache_capacity(64);
    Ok(())
}

/// The version of the tables in a file.
pub(super) fn version(connection: &Connection) -> rusqlite::Result<u32> {
    connection.query_row("PRAGMA user_version", [], |row| row.get(0))
}

/// Brings the tables to [`VERSION`], all or nothing.
pub(super) fn migrate(transaction: &Transaction<'_>, path: &Path) -> Result<(), BookError> {
    let found = version(transaction)?;
    if found > VERSION {
        return Err(BookError::Newer { path: path.to_owned(), found, known: VERSION });
    }
    for step in MIGRATIONS.iter().skip(found as usize) {
        transaction.execute_batch(step)?;
    }
    transaction.pragma_update(None, "user_version", VERSION)?;
    Ok(())
}
