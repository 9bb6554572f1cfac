//! How far each scope is held, so that whoever keeps something computed knows what of
//! it still holds, and what was written since.

use std::collections::BTreeMap;

use pitside_log::entry::Key;
use pitside_model::facts::{Hash, Scope};
use rusqlite::Connection;

use super::ledger::{self, bytes32, scope as read_scope};
use super::line::Place;
use super::{Book, BookError};

/// How far a scope is held. Two that are equal have the same entries with the same
/// bodies; with the squad's own mark equal too, the same of them count.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Mark {
    lines: BTreeMap<i64, Held>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Held {
    seq: u64,
    hash: Hash,
    /// Entries whose body is not here.
    bare: u64,
    branch: bool,
}

impl Book {
    /// How far each scope is held.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn marks(&self) -> Result<BTreeMap<Scope, Mark>, BookError> {
        self.reading(|c| {
            let bare: BTreeMap<i64, u64> = c
                .prepare_cached(
                    "SELECT line, count(*) FROM entries WHERE commitment IS NOT NULL GROUP BY line",
                )?
                .query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?
                .collect::<Result<_, _>>()?;
            let mut marks: BTreeMap<Scope, Mark> = BTreeMap::new();
            let mut statement =
                c.prepare_cached("SELECT id, scope, head_seq, head_hash, parent IS NOT NULL FROM lines")?;
            let mut rows = statement.query([])?;
            while let Some(r) = rows.next()? {
                let line: i64 = r.get(0)?;
                let held = Held {
                    seq: r.get(2)?,
                    hash: Hash(bytes32(r, 3)?),
                    bare: bare.get(&line).copied().unwrap_or(0),
                    branch: r.get(4)?,
                };
                marks.entry(read_scope(&r.get::<_, Vec<u8>>(1)?)?).or_default().lines.insert(line, held);
            }
            Ok(marks)
        })
    }

    /// The entries, each with what it is a value of, that were added between two marks of
    /// one scope; `None` where more than that happened: a log was divided or went, or a
    /// body came or was taken away.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn added(&self, before: &Mark, now: &Mark) -> Result<Option<Vec<(Hash, Key)>>, BookError> {
        self.reading(|c| {
            let mut added = Vec::new();
            if before.lines.keys().any(|line| !now.lines.contains_key(line)) {
                return Ok(None);
            }
            for (line, end) in &now.lines {
                let from = match before.lines.get(line) {
                    Some(known) if known == end => continue,
                    Some(known) if known.bare == end.bare && known.seq < end.seq => known.seq,
                    None if !end.branch && end.bare == 0 => 0,
                    _ => return Ok(None),
                };
                for seq in from + 1..=end.seq {
                    added.push(key(c, Place { line: *line, seq })?);
                }
            }
            Ok(Some(added))
        })
    }
}

fn key(c: &Connection, place: Place) -> Result<(Hash, Key), BookError> {
    let (entry, _) = ledger::entry(c, place)?;
    Ok((entry.hash, entry.key()))
}
