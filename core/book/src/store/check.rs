//! Whether the book is whole: SQLite's own check, and the chain of hashes with
//! the signatures, which no damage gets past.

use pitside_log::entry::{Entry, origin};
use pitside_log::seal::Seal;
use pitside_model::facts::{DeviceKey, Hash, LogId, Scope};
use rusqlite::{Connection, OptionalExtension};

use super::ledger::{self, bytes32, damaged, scope as read_scope};
use super::{Book, BookError, FILE, line};

/// The most that is said: what follows has the same cause.
const MOST_SAID: usize = 32;
/// Entries looked at between two words to who waits.
const STEP: u64 = 256;

/// What was found, within bounds.
#[derive(Default)]
struct Findings(Vec<String>);

impl Findings {
    fn say(&mut self, what: String) {
        if self.0.len() < MOST_SAID {
            self.0.push(what);
        }
    }

    fn add(&mut self, others: Self) {
        others.0.into_iter().for_each(|what| self.say(what));
    }
}

impl Book {
    /// Looks for damage: SQLite's check of the file, then each log from its first
    /// entry to its last: every hash, every signature. Gives what is wrong, at most
    /// 32 lines; nothing where the book is whole.
    ///
    /// It reads beside the writer and gives way to an erasure, so it can run in a
    /// thread of its own while the book is in use. `watch` hears how many entries were looked
    /// at of how many, and ends it by saying `false`; what was found by then is given.
    ///
    /// # Errors
    /// Where the file cannot be read for another reason than damage.
    pub fn check(&self, watch: &mut dyn FnMut(u64, u64) -> bool) -> Result<Vec<String>, BookError> {
        let mut found = Findings::default();
        match self.check_all(&mut found, watch) {
            Ok(()) => {}
            Err(e) => match e.or_damaged(&self.folder.join(FILE)) {
                BookError::Damaged { why, .. } => found.say(why),
                e => return Err(e),
            },
        }
        Ok(found.0)
    }

    fn check_all(
        &self,
        found: &mut Findings,
        watch: &mut dyn FnMut(u64, u64) -> bool,
    ) -> Result<(), BookError> {
        let of = self.reading(|c| Ok(c.query_row("SELECT count(*) FROM entries", [], |r| r.get(0))?))?;
        if !watch(0, of) {
            return Ok(());
        }
        let reader = self.long_reader()?;
        found.add(self.reading_long(&reader, |c| {
            let mut found = Findings::default();
            let mut statement = c.prepare(&format!("PRAGMA integrity_check({MOST_SAID})"))?;
            let mut rows = statement.query([])?;
            while let Some(row) = rows.next()? {
                let said: String = row.get(0)?;
                if said != "ok" {
                    found.say(said);
                }
            }
            let astray: u64 = c.query_row(
                "SELECT count(*) FROM live v
                 LEFT JOIN entries e ON e.line = v.line AND e.seq = v.seq WHERE e.hash IS NULL",
                [],
                |r| r.get(0),
            )?;
            if astray > 0 {
                found.say(format!("{astray} facts are shown whose entries are not there"));
            }
            Ok(found)
        })?);
        let (mut done, mut told, mut last) = (0, 0, 0);
        let mut goes_on = watch(told, of);
        while goes_on {
            let begun = done;
            // One snapshot a line: a longer one would keep the log from being folded in.
            let (next, of_line) = self.reading_long(&reader, |c| {
                let mut found = Findings::default();
                done = begun;
                let next: Option<i64> = c
                    .prepare_cached("SELECT id FROM lines WHERE id > ?1 ORDER BY id LIMIT 1")?
                    .query_row([last], |r| r.get(0))
                    .optional()?;
                if let Some(line) = next {
                    let mut step = |entries| {
                        done += entries;
                        // More may have been written since they were counted, and a line
                        // that was broken off begins anew.
                        told = done.min(of).max(told);
                        watch(told, of)
                    };
                    match check_line(c, line, &mut found, &mut step) {
                        Ok(more) => goes_on = more,
                        Err(e) => match BookError::from(e).or_damaged(&self.folder.join(FILE)) {
                            BookError::Damaged { why, .. } => found.say(format!("line {line}: {why}")),
                            e => return Err(e),
                        },
                    }
                }
                Ok((next, found))
            })?;
            found.add(of_line);
            match next {
                Some(line) => last = line,
                None => break,
            }
        }
        Ok(())
    }
}

/// One row of `lines`.
struct Row {
    log: LogId,
    device: DeviceKey,
    scope: Scope,
    parent: Option<(i64, u64)>,
    base: u64,
    head: (u64, Hash),
    sealed: (u64, Hash),
}

/// Looks at a line from its first entry to its last; says whether to go on.
fn check_line(
    c: &Connection,
    line: i64,
    found: &mut Findings,
    step: &mut dyn FnMut(u64) -> bool,
) -> rusqlite::Result<bool> {
    let row = c
        .prepare_cached(
            "SELECT log, device, scope, parent, base_seq, head_seq, head_hash, sealed_seq, sealed_hash
             FROM lines WHERE id = ?1",
        )?
        .query_row([line], |r| {
            let base = r.get(4)?;
            Ok(Row {
                log: LogId(bytes32(r, 0)?),
                device: DeviceKey(bytes32(r, 1)?),
                scope: read_scope(&r.get::<_, Vec<u8>>(2)?)?,
                parent: r.get::<_, Option<i64>>(3)?.map(|parent| (parent, base)),
                base,
                head: (r.get(5)?, Hash(bytes32(r, 6)?)),
                sealed: (r.get(7)?, Hash(bytes32(r, 8)?)),
            })
        })?;
    let log = row.log;
    match line::opening(c, log)? {
        Some(o) if (o.id(), o.device, o.scope) == (log, row.device, row.scope) => {}
        _ => found.say(format!("log {log}: its opening record is another log's")),
    }
    let mut before = match row.parent {
        None => Some(origin(log)),
        Some((parent, base)) => {
            let ways = line::way(c, line::Place { line: parent, seq: base })?;
            line::hash_at(c, &ways, base)?
        }
    };
    // A line that ends where it begins has its parent's seals, or none.
    let mut sealed = (row.sealed.0 <= row.base).then_some(row.sealed);
    let mut at = row.base;
    let mut entries = c.prepare_cached(
        "SELECT e.seq, e.hash, e.header, e.salt, e.payload, e.commitment, s.hash, s.signature
         FROM entries e LEFT JOIN seals s ON s.line = e.line AND s.seq = e.seq
         WHERE e.line = ?1 ORDER BY e.seq",
    )?;
    let mut rows = entries.query([line])?;
    let mut since = 0;
    while let Some(r) = rows.next()? {
        let (seq, hash): (u64, Hash) = (r.get(0)?, Hash(bytes32(r, 1)?));
        if seq != at + 1 {
            found.say(format!("log {log}: after entry {at} comes entry {seq}"));
            before = None;
        }
        at = seq;
        if let Some(before) = before {
            let made = Entry::from_parts(log, seq, row.scope, before, r.get(2)?, ledger::content(r, 3)?);
            match made {
                Ok(entry) if entry.hash == hash => {}
                Ok(_) => found.say(format!("log {log}, entry {seq}: it does not give its hash")),
                Err(why) => found.say(format!("log {log}, entry {seq}: {why}")),
            }
        }
        before = Some(hash);
        if let Some(signature) = r.get::<_, Option<Vec<u8>>>(7)? {
            let signature = signature.try_into().map_err(|_| damaged("a signature expected"))?;
            let seal = Seal { log, seq, hash: Hash(bytes32(r, 6)?), signature };
            if seal.hash != hash || !seal.is_by(row.device) {
                found.say(format!("log {log}, entry {seq}: the seal is not that of these entries"));
            }
            sealed = Some((seq, hash));
        }
        since += 1;
        if since == STEP && !step(std::mem::take(&mut since)) {
            return Ok(false);
        }
    }
    if before.is_none_or(|before| (at, before) != row.head) {
        found.say(format!("log {log}: its end should be entry {}, and is entry {at}", row.head.0));
    }
    if sealed != Some(row.sealed) {
        found.say(format!("log {log}: the seal of entry {} is not there", row.sealed.0));
    }
    Ok(step(since))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::clock::Stamp;
    use crate::keys::{Identity, Seed};
    use crate::store::Draft;
    use pitside_model::facts::{Day, Fact, RestDay};
    use zeroize::Zeroizing;

    const NOW: Stamp = Stamp { ms: 1_790_000_000_000, zone_min: 0 };

    fn identity() -> Identity {
        Identity::from_seed(Seed::from_bytes(Zeroizing::new([1; 32])))
    }

    fn book(folder: &tempfile::TempDir) -> Book {
        let book = Book::create(folder.path(), identity(), false).unwrap();
        let member = book.start_member(NOW).unwrap();
        let drafts: Vec<_> = (0..600)
            .map(|n| {
                let day = Day::parse("2025-01-01").unwrap().plus(n);
                (Scope::Member(member), Draft::new(Fact::Rest(RestDay { day })))
            })
            .collect();
        book.write_all(&drafts, NOW).unwrap();
        book.found("Quay jumps", NOW).unwrap();
        book
    }

    #[test]
    fn a_whole_book_is_whole_and_says_how_far_it_is() {
        let folder = tempfile::TempDir::new().unwrap();
        let book = book(&folder);
        let mut heard = Vec::new();
        let found = book.check(&mut |done, of| {
            heard.push((done, of));
            true
        });
        assert_eq!(found.unwrap(), [""; 0]);
        let of = heard[0].1;
        assert!(of > 600 && heard.iter().all(|(_, o)| *o == of));
        assert!(heard.is_sorted() && heard.len() > 4);
        assert_eq!(heard.last(), Some(&(of, of)));
        let mut calls = 0;
        book.check(&mut |_, _| {
            calls += 1;
            calls < 3
        })
        .unwrap();
        assert_eq!(calls, 3, "called off");
    }

    #[test]
    fn the_check_of_the_file_is_broken_off_while_it_is_cleaned() {
        let folder = tempfile::TempDir::new().unwrap();
        let book = book(&folder);
        let reader = book.long_reader().unwrap();
        let said = || reader.query_row("PRAGMA integrity_check", [], |r| r.get::<_, String>(0));
        assert_eq!(said().unwrap(), "ok");
        let wanted = book.cleaning.want();
        let code = said().unwrap_err().sqlite_error_code();
        assert_eq!(code, Some(rusqlite::ErrorCode::OperationInterrupted));
        drop(wanted);
        assert_eq!(said().unwrap(), "ok");
    }

    /// Were the snapshot kept, the erasure would wait for it in vain, and the check would
    /// go on meanwhile.
    #[test]
    fn a_check_gives_way_to_an_erasure() {
        let folder = tempfile::TempDir::new().unwrap();
        let book = Arc::new(book(&folder));
        let member = book.add_member("Ino", NOW).unwrap();
        let rest = Fact::Rest(RestDay { day: Day::parse("2025-01-01").unwrap() });
        book.write(Scope::Member(member), &Draft::new(rest), NOW).unwrap();
        let mut erasing = None;
        let found = book.check(&mut |done, _| {
            if erasing.is_some() {
                assert!(!book.cleaning.is_wanted(), "it did not give way");
            } else if done > 0 {
                // Within a line, which is read on one snapshot.
                let other = Arc::clone(&book);
                let thread = std::thread::spawn(move || other.erase_member(member, NOW));
                while !book.cleaning.is_wanted() && !thread.is_finished() {
                    std::thread::yield_now();
                }
                assert!(book.cleaning.is_wanted(), "the erasure does not wait for the check");
                erasing = Some(thread);
            }
            true
        });
        assert_eq!(found.unwrap(), [""; 0]);
        erasing.unwrap().join().unwrap().unwrap();
    }

    #[test]
    fn each_kind_of_damage_is_named() {
        let folder = tempfile::TempDir::new().unwrap();
        book(&folder).close().unwrap();
        let file = folder.path().join(FILE);
        for (harm, word) in [
            ("UPDATE entries SET payload = x'a0' WHERE line = 1 AND seq = 7", "entry 7: it does not give"),
            ("UPDATE entries SET header = x'00' WHERE line = 1 AND seq = 7", "entry 7: the header"),
            ("DELETE FROM entries WHERE line = 1 AND seq = 9", "after entry 8 comes entry 10"),
            (
                "DELETE FROM entries WHERE line = 1 AND seq = 600",
                "its end should be entry 600, and is entry 599",
            ),
            ("UPDATE seals SET signature = zeroblob(64) WHERE line = 1", "the seal is not that"),
            ("DELETE FROM seals WHERE line = 1 AND seq = 512", "the seal of entry 512 is not there"),
            ("UPDATE lines SET opening = x'00' WHERE id = 1", "an opening record expected"),
            ("UPDATE lines SET scope = x'8100' WHERE id = 1", "its opening record is another log's"),
            ("DELETE FROM entries WHERE line = 2 AND seq = 1", "facts are shown whose entries"),
        ] {
            let copy = tempfile::TempDir::new().unwrap();
            std::fs::copy(&file, copy.path().join(FILE)).unwrap();
            let sqlite = Connection::open(copy.path().join(FILE)).unwrap();
            sqlite.pragma_update(None, "foreign_keys", "OFF").unwrap();
            assert!(sqlite.execute(harm, []).unwrap() > 0, "{harm}");
            sqlite.close().unwrap();
            let book = Book::open(copy.path(), identity()).unwrap();
            let said = book.check(&mut |_, _| true).unwrap();
            assert!(said.iter().any(|said| said.contains(word)), "{harm}: {said:?}");
            assert!(said.len() <= MOST_SAID);
        }
    }
}
