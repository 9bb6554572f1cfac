//! The book as one side of a sync conversation.

use pitside_log::authority::{Grants, Root};
use pitside_log::entry::{Body, origin};
use pitside_log::merge::{Ledger, apply};
use pitside_log::opening::Opening;
use pitside_log::seal::{MAX_ENTRIES, Seal};
use pitside_log::segment::{Segment, SegmentError};
use pitside_log::sync::{Admission, Have, Head, Join, Replica};
use pitside_model::cbor::{decode, encode};
use pitside_model::facts::{
    DeviceKey, Fact, Grant, Hash, LogId, MemberId, Role, Roster, Scope, SquadId, Standing, Subject,
    field_name, kind,
};
use rusqlite::{Connection, OptionalExtension, params};
use uuid::Uuid;

use super::ledger::{SqlLedger, bytes32, damaged, log_row, scope as read_scope};
use super::{
    Book, BookError, Draft, Filter, guard, insert_entry, insert_log, insert_seal, rebuild, set_meta,
};
use crate::clock::Clock;

/// A book in a conversation.
pub struct BookReplica<'a> {
    book: &'a Book,
    clock: &'a dyn Clock,
}

impl<'a> BookReplica<'a> {
    /// A book in a conversation; `clock` stamps what it writes meanwhile.
    #[must_use]
    pub fn new(book: &'a Book, clock: &'a dyn Clock) -> Self {
        Self { book, clock }
    }
}

fn opening_of(c: &Connection, log: LogId) -> Result<Option<Opening>, BookError> {
    let bytes: Option<Vec<u8>> = c
        .prepare_cached("SELECT opening FROM logs WHERE log = ?1")?
        .query_row([log.0.as_slice()], |r| r.get(0))
        .optional()?;
    let Some(bytes) = bytes else { return Ok(None) };
    let opening = decode(&bytes).ok().and_then(|v| Opening::from_value(&v).ok());
    Ok(Some(opening.ok_or_else(|| damaged("an opening record expected"))?))
}

/// Puts a checked segment in; gives the number of entries that were new.
fn take_in(c: &Connection, root: &Root, segment: &Segment) -> Result<Result<u64, SegmentError>, BookError> {
    let known = opening_of(c, segment.log)?;
    let (opening, entries) = match segment.check(known.as_ref()) {
        Ok(checked) => checked,
        Err(e) => return Ok(Err(e)),
    };
    let held: Option<(i64, u64, Hash)> = c
        .prepare_cached("SELECT id, head_seq, head_hash FROM logs WHERE log = ?1")?
        .query_row([segment.log.0.as_slice()], |r| Ok((r.get(0)?, r.get(1)?, Hash(bytes32(r, 2)?))))
        .optional()?;
    let (head_seq, head_hash) = held.map_or((0, origin(segment.log)), |(_, seq, hash)| (seq, hash));
    if segment.first_seq > head_seq + 1 {
        return Ok(Err(SegmentError::Gap { log: segment.log, after: head_seq, first: segment.first_seq }));
    }
    // Where the segment overlaps what is held, both must say the same.
    if segment.first_seq == head_seq + 1 {
        if segment.before != head_hash {
            return Ok(Err(SegmentError::Fork { log: segment.log, seq: head_seq }));
        }
    } else {
        for entry in entries.iter().filter(|e| e.place.seq <= head_seq) {
            let same = c
                .prepare_cached("SELECT 1 FROM entries WHERE log = ?1 AND seq = ?2 AND hash = ?3")?
                .exists(params![held.map(|h| h.0), entry.place.seq, entry.hash.0.as_slice()])?;
            if !same {
                return Ok(Err(SegmentError::Fork { log: segment.log, seq: entry.place.seq }));
            }
        }
    }
    let new: Vec<_> = entries.iter().filter(|e| e.place.seq > head_seq).collect();
    if let Some(last) = new.last() {
        let row = match held {
            Some((row, ..)) => row,
            None => insert_log(c, &opening)?,
        };
        for entry in &new {
            insert_entry(c, row, entry)?;
        }
        c.prepare_cached("UPDATE logs SET head_seq = ?2, head_hash = ?3 WHERE id = ?1")?.execute(params![
            row,
            last.place.seq,
            last.hash.0.as_slice()
        ])?;
        insert_seal(c, row, &segment.seal)?;
        let mut ledger = SqlLedger(c);
        for entry in &new {
            apply(&mut ledger, root, entry.place)?;
        }
    }
    Ok(Ok(new.len() as u64))
}

impl Replica for BookReplica<'_> {
    type Error = BookError;

    fn device(&self) -> DeviceKey {
        self.book.device()
    }

    fn squad(&self) -> Option<SquadId> {
        self.book.squad()
    }

    fn seal(&mut self) -> Result<(), BookError> {
        self.book.seal()
    }

    fn grants(&self, device: DeviceKey) -> Result<Grants, BookError> {
        self.book.grants(device)
    }

    fn shares_private(&self, scope: Scope) -> Result<bool, BookError> {
        match scope {
            Scope::Private(member) => self.book.shares_private(member),
            _ => Ok(false),
        }
    }

    fn heads(&self) -> Result<Vec<(Head, Scope)>, BookError> {
        self.book.reading(|c| {
            let rows = c
                .prepare_cached("SELECT log, sealed_seq, sealed_hash, scope FROM logs WHERE sealed_seq > 0")?
                .query_map([], |r| {
                    let head =
                        Head { log: LogId(bytes32(r, 0)?), seq: r.get(1)?, hash: Hash(bytes32(r, 2)?) };
                    Ok((head, read_scope(&r.get::<_, Vec<u8>>(3)?)?))
                })?
                .collect::<Result<_, _>>()?;
            Ok(rows)
        })
    }

    fn scope(&self, log: LogId) -> Result<Option<Scope>, BookError> {
        self.book.reading(|c| Ok(opening_of(c, log)?.map(|o| o.scope)))
    }

    fn segment_after(&self, log: LogId, seq: u64) -> Result<Option<Segment>, BookError> {
        self.book.reading(|c| {
            let Some(row) = log_row(c, log)? else { return Ok(None) };
            // A peer may have stopped between two of our seals: the next one is at
            // most a segment away, and so is the one before.
            let seal = c
                .prepare_cached(
                    "SELECT seq, hash, signature FROM seals WHERE log = ?1 AND seq > ?2 ORDER BY seq",
                )?
                .query_row(params![row, seq], |r| {
                    let signature: Vec<u8> = r.get(2)?;
                    let signature = signature.try_into().map_err(|_| damaged("a signature expected"))?;
                    Ok(Seal { log, seq: r.get(0)?, hash: Hash(bytes32(r, 1)?), signature })
                })
                .optional()?;
            let Some(seal) = seal else { return Ok(None) };
            let before = if seq == 0 {
                Hash(log.0)
            } else {
                c.prepare_cached("SELECT hash FROM entries WHERE log = ?1 AND seq = ?2")?
                    .query_row(params![row, seq], |r| bytes32(r, 0).map(Hash))?
            };
            let entries = c
                .prepare_cached(
                    "SELECT header, salt, payload FROM entries WHERE log = ?1 AND seq > ?2 AND seq <= ?3
                     ORDER BY seq",
                )?
                .query_map(params![row, seq, seal.seq], |r| {
                    let salt: Option<Vec<u8>> = r.get(1)?;
                    let payload: Option<Vec<u8>> = r.get(2)?;
                    let body = match (salt.and_then(|s| s.try_into().ok()), payload) {
                        (Some(salt), Some(payload)) => Some(Body { salt, payload }),
                        _ => None,
                    };
                    Ok((r.get(0)?, body))
                })?
                .collect::<Result<Vec<_>, _>>()?;
            debug_assert!(entries.len() as u64 <= MAX_ENTRIES);
            let opening = if seq == 0 { opening_of(c, log)? } else { None };
            Ok(Some(Segment { log, first_seq: seq + 1, before, opening, entries, seal }))
        })
    }

    fn agrees(&self, head: &Head) -> Result<Option<bool>, BookError> {
        self.book.reading(|c| {
            if head.seq == 0 {
                return Ok(Some(head.hash.0 == head.log.0));
            }
            let hash: Option<Hash> = c
                .prepare_cached(
                    "SELECT e.hash FROM logs l JOIN entries e ON e.log = l.id WHERE l.log = ?1 AND e.seq = ?2",
                )?
                .query_row(params![head.log.0.as_slice(), head.seq], |r| bytes32(r, 0).map(Hash))
                .optional()?;
            Ok(hash.map(|hash| hash == head.hash))
        })
    }

    fn take_in(
        &mut self,
        segment: &Segment,
        from: DeviceKey,
    ) -> Result<Result<u64, SegmentError>, BookError> {
        let root = self.book.root();
        self.book.writing(|t| {
            let taken = take_in(t, &root, segment)?;
            if let Err(why) = &taken {
                t.execute(
                    "INSERT INTO aside (at_ms, peer, reason, bytes) VALUES (?1, ?2, ?3, ?4)",
                    params![
                        self.clock.now().ms,
                        from.0.as_slice(),
                        why.to_string(),
                        encode(&segment.to_value())
                    ],
                )?;
            }
            Ok(taken)
        })
    }

    fn admit(&mut self, guest: DeviceKey, join: &Join) -> Result<Admission, BookError> {
        let now = self.clock.now();
        let root = self.book.root();
        let admission = self.book.writing(|t| {
            type Row = (Option<Vec<u8>>, i64, Option<Vec<u8>>);
            let found: Option<Row> = t
                .prepare_cached("SELECT member, expires_ms, used_by FROM invitations WHERE secret = ?1")?
                .query_row([join.secret.as_slice()], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))
                .optional()?;
            let Some((member, expires_ms, used_by)) = found else { return Ok(Admission::Unknown) };
            match used_by {
                // A guest that was cut off comes again with the same secret.
                Some(device) if device == guest.0 => return Ok(Admission::Admitted),
                Some(_) => return Ok(Admission::Unknown),
                None if expires_ms < now.ms => return Ok(Admission::Expired),
                None => {}
            }
            t.execute(
                "UPDATE invitations SET used_by = ?2 WHERE secret = ?1",
                params![join.secret.as_slice(), guest.0.as_slice()],
            )?;
            let mut members: Vec<MemberId> = join.members.clone();
            if let Some(member) = member.and_then(|b| Uuid::from_slice(&b).ok()).map(MemberId)
                && !members.contains(&member)
            {
                members.push(member);
            }
            for member in &members {
                let roster = Fact::Roster(Roster { standing: Standing::Active, since: now.day() });
                let draft = Draft::about(Subject::Uuid(member.0), roster);
                let known = super::held(
                    t,
                    &Filter {
                        kind: Some(kind::MEMBER),
                        field: Some(field_name::ROSTER),
                        subject: Some(Subject::Uuid(member.0)),
                        ..Filter::default()
                    },
                )?;
                if known.is_empty() {
                    self.book.put(t, &root, Scope::Squad, &draft, now)?;
                }
            }
            let grant = Fact::Grant(Grant { role: Role::Athlete, members });
            self.book.put(t, &root, Scope::Squad, &Draft::about(Subject::Device(guest), grant), now)?;
            Ok(Admission::Admitted)
        })?;
        self.book.seal()?;
        Ok(admission)
    }

    fn adopt(&mut self, squad: SquadId) -> Result<bool, BookError> {
        let device = self.book.device();
        let mut current = guard(&self.book.squad);
        let adopted = self.book.writing(|t| {
            let root = Root { squad: Some(squad), device };
            set_meta(t, "squad", &squad.0)?;
            rebuild(t, &root)?;
            let demo = super::held(
                t,
                &Filter { kind: Some(kind::SQUAD), field: Some(field_name::WHOLE), ..Filter::default() },
            )?
            .iter()
            .any(|held| matches!(held.fact(), Some(Fact::Founding(f)) if f.demo));
            if demo != self.book.demo {
                return Err(BookError::Demo);
            }
            if SqlLedger(t).grants(device)?.is_empty() {
                return Err(BookError::NotAllowed(None));
            }
            Ok(())
        });
        match adopted {
            Ok(()) => {
                *current = Some(squad);
                Ok(true)
            }
            // The transaction was rolled back: the book is as it was.
            Err(BookError::NotAllowed(_)) => Ok(false),
            Err(e) => Err(e),
        }
    }

    fn note_receipt(&mut self, peer: DeviceKey, have: &Have) -> Result<(), BookError> {
        let now = self.clock.now();
        self.book.writing(|t| {
            t.prepare_cached(
                "INSERT INTO peers (device, receipt_ms) VALUES (?1, ?2)
                 ON CONFLICT (device) DO UPDATE SET receipt_ms = excluded.receipt_ms",
            )?
            .execute(params![peer.0.as_slice(), now.ms])?;
            for head in &have.heads {
                // Only what is the same history here is a confirmation.
                let same = t
                    .prepare_cached(
                        "SELECT 1 FROM logs l JOIN entries e ON e.log = l.id
                         WHERE l.log = ?1 AND e.seq = ?2 AND e.hash = ?3",
                    )?
                    .exists(params![head.log.0.as_slice(), head.seq, head.hash.0.as_slice()])?;
                if same {
                    t.prepare_cached(
                        "INSERT INTO receipts (device, log, seq) VALUES (?1, ?2, ?3)
                         ON CONFLICT (device, log) DO UPDATE SET seq = max(seq, excluded.seq)",
                    )?
                    .execute(params![
                        peer.0.as_slice(),
                        head.log.0.as_slice(),
                        head.seq
                    ])?;
                }
            }
            Ok(())
        })
    }
}
