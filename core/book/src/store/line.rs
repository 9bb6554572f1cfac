//! Lines: the logs as they are held.
//!
//! A log that was written twice is one line up to where the two part and one for
//! each branch after it, so that every entry has one place: a line and a number.
//! Which entries lie on the way to an entry follows from the lines' parents.

use pitside_log::entry::{Content, Entry, origin};
use pitside_log::opening::Opening;
use pitside_log::seal::Seal;
use pitside_log::segment::Segment;
use pitside_model::cbor::{decode, encode};
use pitside_model::facts::{DeviceKey, Hash, Head, LogId, Scope};
use rusqlite::{Connection, OptionalExtension, Row, params};

use super::ledger::{bytes32, content, damaged, scope_bytes};

/// Where the book keeps an entry. Another book keeps it elsewhere, so it shows
/// nothing of itself.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The row of the line.
    pub(super) line: i64,
    /// The number in the log.
    pub(super) seq: u64,
}

impl core::fmt::Debug for Place {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("Place")
    }
}

/// The end of a line.
#[derive(Clone, Copy, Debug)]
pub(super) struct End {
    pub(super) line: i64,
    pub(super) log: LogId,
    pub(super) seq: u64,
    pub(super) hash: Hash,
}

impl End {
    pub(super) fn head(&self) -> Head {
        Head { log: self.log, seq: self.seq, hash: self.hash }
    }
}

/// Lines that nothing branches off from: where logs go on.
pub(super) const LEAF: &str = "NOT EXISTS (SELECT 1 FROM lines b WHERE b.parent = l.id)";

/// The opening record of a log, where it is held.
pub(super) fn opening(c: &Connection, log: LogId) -> rusqlite::Result<Option<Opening>> {
    let bytes: Option<Vec<u8>> = c
        .prepare_cached("SELECT opening FROM lines WHERE log = ?1 LIMIT 1")?
        .query_row([log.0.as_slice()], |r| r.get(0))
        .optional()?;
    let Some(bytes) = bytes else { return Ok(None) };
    let opening = decode(&bytes).ok().and_then(|v| Opening::from_value(&v).ok());
    Ok(Some(opening.ok_or_else(|| damaged("an opening record expected"))?))
}

/// A new line: a log's own, or a branch after an entry of another line.
pub(super) fn insert(
    c: &Connection,
    opening: &Opening,
    parent: Option<(i64, u64, Hash)>,
) -> rusqlite::Result<i64> {
    let log = opening.id();
    let (seq, hash) = parent.map_or((0, origin(log)), |(_, seq, hash)| (seq, hash));
    // A branch is sealed as far as what it branches off from is.
    let sealed = match parent {
        None => (0, origin(log)),
        Some((line, seq, _)) => last_seal(c, line, seq)?.unwrap_or((0, origin(log))),
    };
    c.prepare_cached(
        "INSERT INTO lines (log, device, scope, opening, parent, base_seq, head_seq, head_hash, sealed_seq, sealed_hash)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?6, ?7, ?8, ?9)",
    )?
    .execute(params![
        log.0.as_slice(),
        opening.device.0.as_slice(),
        scope_bytes(opening.scope),
        encode(&opening.to_value()),
        parent.map(|p| p.0),
        seq,
        hash.0.as_slice(),
        sealed.0,
        sealed.1.0.as_slice(),
    ])?;
    Ok(c.last_insert_rowid())
}

/// The last seal on the way to an entry.
fn last_seal(c: &Connection, line: i64, seq: u64) -> rusqlite::Result<Option<(u64, Hash)>> {
    for (line, seq) in way(c, Place { line, seq })? {
        let found = c
            .prepare_cached(
                "SELECT seq, hash FROM seals WHERE line = ?1 AND seq <= ?2 ORDER BY seq DESC LIMIT 1",
            )?
            .query_row(params![line, seq], |r| Ok((r.get(0)?, Hash(bytes32(r, 1)?))))
            .optional()?;
        if found.is_some() {
            return Ok(found);
        }
    }
    Ok(None)
}

/// The lines that lead to an entry, its own first, each with the last number
/// that lies on the way.
pub(super) fn way(c: &Connection, place: Place) -> rusqlite::Result<Vec<(i64, u64)>> {
    let mut lines = vec![(place.line, place.seq)];
    let mut at = place.line;
    let mut parents = c.prepare_cached("SELECT parent, base_seq FROM lines WHERE id = ?1")?;
    while let Some((parent, base)) = parents
        .query_row([at], |r| Ok((r.get::<_, Option<i64>>(0)?, r.get::<_, u64>(1)?)))
        .optional()?
        .and_then(|(parent, base)| Some((parent?, base)))
    {
        lines.push((parent, base));
        at = parent;
    }
    Ok(lines)
}

/// Where an entry of a log is kept.
pub(super) fn find(c: &Connection, head: &Head) -> rusqlite::Result<Option<Place>> {
    c.prepare_cached(
        "SELECT l.id FROM lines l JOIN entries e ON e.line = l.id WHERE l.log = ?1 AND e.seq = ?2 AND e.hash = ?3",
    )?
    .query_row(params![head.log.0.as_slice(), head.seq, head.hash.0.as_slice()], |r| r.get(0))
    .optional()
    .map(|line| line.map(|line| Place { line, seq: head.seq }))
}

/// The hash of the entry on the way to a place with this number.
pub(super) fn hash_at(c: &Connection, ways: &[(i64, u64)], seq: u64) -> rusqlite::Result<Option<Hash>> {
    for (line, last) in ways {
        if seq <= *last {
            let found = c
                .prepare_cached("SELECT hash FROM entries WHERE line = ?1 AND seq = ?2")?
                .query_row(params![line, seq], |r| bytes32(r, 0).map(Hash))
                .optional()?;
            if found.is_some() {
                return Ok(found);
            }
        }
    }
    Ok(None)
}

/// The end of a line, sealed or not.
pub(super) fn end(c: &Connection, line: i64) -> rusqlite::Result<End> {
    c.prepare_cached("SELECT id, log, head_seq, head_hash FROM lines WHERE id = ?1")?
        .query_row([line], end_of)
}

pub(super) fn end_of(r: &Row<'_>) -> rusqlite::Result<End> {
    Ok(End { line: r.get(0)?, log: LogId(bytes32(r, 1)?), seq: r.get(2)?, hash: Hash(bytes32(r, 3)?) })
}

/// The ends of a device's logs as far as they were written, leaves only.
pub(super) fn ends(c: &Connection, device: DeviceKey) -> rusqlite::Result<Vec<End>> {
    c.prepare_cached(&format!(
        "SELECT id, log, head_seq, head_hash FROM lines l WHERE device = ?1 AND head_seq > 0 AND {LEAF}"
    ))?
    .query_map([device.0.as_slice()], end_of)?
    .collect()
}

/// Whether anything branches off from a line.
pub(super) fn is_leaf(c: &Connection, line: i64) -> rusqlite::Result<bool> {
    Ok(!c.prepare_cached("SELECT 1 FROM lines WHERE parent = ?1")?.exists([line])?)
}

/// Divides a line before an entry, where it has it: what comes from there on is a
/// branch of its own from now on.
pub(super) fn split(c: &Connection, line: i64, seq: u64) -> rusqlite::Result<()> {
    let old = end(c, line)?;
    if old.seq < seq {
        return Ok(());
    }
    let before = if seq == 1 {
        origin(old.log)
    } else {
        hash_at(c, &way(c, Place { line, seq })?, seq - 1)?.ok_or_else(|| damaged("an entry expected"))?
    };
    c.execute(
        "INSERT INTO lines (log, device, scope, opening, parent, base_seq, head_seq, head_hash, sealed_seq,
                            sealed_hash, unsealed_bytes, closed)
         SELECT log, device, scope, opening, id, ?2, head_seq, head_hash, sealed_seq, sealed_hash,
                unsealed_bytes, closed FROM lines WHERE id = ?1",
        params![line, seq - 1],
    )?;
    let branch = c.last_insert_rowid();
    c.execute(
        "UPDATE lines SET parent = ?2 WHERE parent = ?1 AND base_seq >= ?3 AND id <> ?2",
        params![line, branch, seq],
    )?;
    for table in ["entries", "seals", "live", "replaced", "withdrawn"] {
        c.execute(
            &format!("UPDATE {table} SET line = ?2 WHERE line = ?1 AND seq >= ?3"),
            params![line, branch, seq],
        )?;
    }
    for table in ["receipts", "handed"] {
        c.execute(
            &format!("INSERT OR IGNORE INTO {table} SELECT device, ?2, seq, at_ms FROM {table} WHERE line = ?1 AND seq >= ?3"),
            params![line, branch, seq],
        )?;
        if seq > 1 {
            c.execute(
                &format!("INSERT OR IGNORE INTO {table} SELECT device, line, ?2 - 1, min(at_ms) FROM {table} WHERE line = ?1 AND seq >= ?2 GROUP BY device"),
                params![line, seq],
            )?;
        }
        c.execute(&format!("DELETE FROM {table} WHERE line = ?1 AND seq >= ?2"), params![line, seq])?;
    }
    c.execute(
        "UPDATE lines SET head_seq = ?2, head_hash = ?3, unsealed_bytes = 0 WHERE id = ?1",
        params![line, seq - 1, before.0.as_slice()],
    )?;
    let sealed = last_seal(c, line, seq - 1)?.unwrap_or((0, origin(old.log)));
    c.execute(
        "UPDATE lines SET sealed_seq = ?2, sealed_hash = ?3 WHERE id = ?1",
        params![line, sealed.0, sealed.1.0.as_slice()],
    )?;
    Ok(())
}

/// Writes an entry at the end of its line, with the judgement it has so far.
pub(super) fn insert_entry(
    c: &Connection,
    place: Place,
    entry: &Entry,
    judgement: Option<i64>,
) -> rusqlite::Result<()> {
    let (body, commitment) = match &entry.content {
        Content::Body(body) => (Some(body), None),
        Content::Commitment(commitment) => (None, Some(commitment.as_slice())),
    };
    c.prepare_cached(
        "INSERT INTO entries (line, seq, hash, header, salt, payload, commitment, judgement)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    )?
    .execute(params![
        place.line,
        place.seq,
        entry.hash.0.as_slice(),
        entry.header_bytes,
        body.map(|b| b.salt.as_slice()),
        body.map(|b| b.payload.as_slice()),
        commitment,
        judgement,
    ])?;
    Ok(())
}

/// Keeps a seal.
pub(super) fn insert_seal(c: &Connection, line: i64, seal: &Seal) -> rusqlite::Result<()> {
    c.prepare_cached("INSERT OR IGNORE INTO seals (line, seq, hash, signature) VALUES (?1, ?2, ?3, ?4)")?
        .execute(params![line, seal.seq, seal.hash.0.as_slice(), seal.signature.as_slice()])?;
    c.prepare_cached(
        "UPDATE lines SET sealed_seq = ?2, sealed_hash = ?3, unsealed_bytes = 0
         WHERE id = ?1 AND sealed_seq < ?2",
    )?
    .execute(params![line, seal.seq, seal.hash.0.as_slice()])?;
    Ok(())
}

/// The segment after an entry, on the way that `ways` gives from its end back, up to
/// the next seal; `None` at the end.
pub(super) fn segment_after(
    c: &Connection,
    log: LogId,
    ways: &[(i64, u64)],
    seq: u64,
) -> rusqlite::Result<Option<Segment>> {
    let mut next = None;
    for (line, last) in ways.iter().rev() {
        // The other may have stopped between two of our seals: the next one is at
        // most a segment away.
        next = c
            .prepare_cached(
                "SELECT seq, hash, signature FROM seals
                 WHERE line = ?1 AND seq > ?2 AND seq <= ?3 ORDER BY seq LIMIT 1",
            )?
            .query_row(params![line, seq, last], |r| {
                let signature: Vec<u8> = r.get(2)?;
                let signature = signature.try_into().map_err(|_| damaged("a signature expected"))?;
                Ok(Seal { log, seq: r.get(0)?, hash: Hash(bytes32(r, 1)?), signature })
            })
            .optional()?;
        if next.is_some() {
            break;
        }
    }
    let Some(seal) = next else { return Ok(None) };
    let before = if seq == 0 { Some(origin(log)) } else { hash_at(c, ways, seq)? };
    let before = before.ok_or_else(|| damaged("an entry expected"))?;
    let entries = contents(c, ways, seq, seal.seq)?;
    let opening = if seq == 0 { opening(c, log)? } else { None };
    Ok(Some(Segment { log, first_seq: seq + 1, before, opening, entries, seal }))
}

/// Header and content of the entries after one, up to another.
pub(super) fn contents(
    c: &Connection,
    ways: &[(i64, u64)],
    after: u64,
    up_to: u64,
) -> rusqlite::Result<Vec<(Vec<u8>, Content)>> {
    let mut entries = Vec::new();
    for (line, last) in ways.iter().rev() {
        let mut statement = c.prepare_cached(
            "SELECT header, salt, payload, commitment FROM entries
             WHERE line = ?1 AND seq > ?2 AND seq <= ?3 ORDER BY seq",
        )?;
        let rows = statement
            .query_map(params![line, after, up_to.min(*last)], |r| Ok((r.get(0)?, content(r, 1)?)))?;
        for row in rows {
            entries.push(row?);
        }
    }
    Ok(entries)
}

/// Takes everything of a scope out of the book.
pub(super) fn purge(c: &Connection, scope: Scope) -> rusqlite::Result<bool> {
    let bytes = scope_bytes(scope);
    let held = c.prepare_cached("SELECT 1 FROM lines WHERE scope = ?1")?.exists([&bytes])?
        || c.prepare_cached("SELECT 1 FROM aside WHERE scope = ?1")?.exists([&bytes])?;
    if !held {
        return Ok(false);
    }
    for table in ["live", "replaced", "withdrawn", "receipts", "handed", "seals", "entries"] {
        c.execute(
            &format!("DELETE FROM {table} WHERE line IN (SELECT id FROM lines WHERE scope = ?1)"),
            [&bytes],
        )?;
    }
    c.execute("UPDATE lines SET parent = NULL WHERE scope = ?1", [&bytes])?;
    c.execute("DELETE FROM lines WHERE scope = ?1", [&bytes])?;
    c.execute("DELETE FROM aside WHERE scope = ?1", [&bytes])?;
    Ok(true)
}
