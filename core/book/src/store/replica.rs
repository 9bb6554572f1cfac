//! The book as one side of a sync conversation.

use std::collections::{BTreeMap, BTreeSet};

use pitside_log::authority::{Consents, Root, Standing};
use pitside_log::entry::{Body, Content, Entry, EntryError};
use pitside_log::merge::apply;
use pitside_log::opening::Opening;
use pitside_log::segment::{Segment, SegmentError};
use pitside_log::sync::{Admission, Batch, Common, Join, Line, Replica, Taken};
use pitside_model::cbor::encode;
use pitside_model::facts::{DeviceKey, Fact, Hash, Head, LogId, Scope, SquadId, Subject, field_name, kind};
use rusqlite::{Connection, OptionalExtension, params};

use super::held::Filter;
use super::ledger::{SqlLedger, bytes32, damaged, scope as read_scope};
use super::line::{self, LEAF, Place};
use super::peers::{note, set_aside};
use super::read::held;
use super::squad::let_go;
use super::{Book, BookError, drop_erased, guard, rebuild, set_meta};
use crate::clock::Clock;

/// A segment that holds together, with the opening record of its log, or why not.
type Checked = Result<(Opening, Vec<Entry>), SegmentError>;

/// The most bodies asked for at once.
const MOST_LACKING: u32 = 512;

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

    /// Scope and device of a log that is held, or was passed over.
    fn log_in(&self, c: &Connection, log: LogId) -> rusqlite::Result<Option<(Scope, DeviceKey)>> {
        let held = c
            .prepare_cached("SELECT scope, device FROM lines WHERE log = ?1 LIMIT 1")?
            .query_row([log.0.as_slice()], |r| {
                Ok((read_scope(&r.get::<_, Vec<u8>>(0)?)?, DeviceKey(bytes32(r, 1)?)))
            })
            .optional()?;
        Ok(held.or_else(|| guard(&self.book.passed_over).get(&log).copied()))
    }
}

/// What one batch does to the book, while its transaction is open.
pub(super) struct Taking<'a> {
    c: &'a Connection,
    root: Root,
    ledger: SqlLedger<'a>,
    /// What was put in and not yet merged.
    put: Vec<Place>,
    /// The logs of these.
    logs: BTreeSet<LogId>,
    taken: Taken,
    /// An own log came back from outside with entries that are not here.
    own_grew: bool,
}

impl<'a> Taking<'a> {
    pub(super) fn new(c: &'a Connection, root: Root) -> Self {
        Self {
            c,
            root,
            ledger: SqlLedger::new(c),
            put: Vec::new(),
            logs: BTreeSet::new(),
            taken: Taken::default(),
            own_grew: false,
        }
    }

    /// How many entries were new.
    pub(super) fn new_entries(&self) -> u64 {
        self.taken.new
    }

    /// How many entries wait to be merged.
    pub(super) fn waiting(&self) -> usize {
        self.put.len()
    }

    /// Merges what was put in so far.
    pub(super) fn merge(&mut self) -> Result<(), BookError> {
        let put = core::mem::take(&mut self.put);
        self.logs.clear();
        Ok(apply(&mut self.ledger, &self.root, &put)?)
    }

    /// Puts a checked segment in. Where it diverges from what is held, the log is
    /// divided, and what follows is a branch.
    pub(super) fn segment(
        &mut self,
        segment: &Segment,
        checked: Checked,
    ) -> Result<Result<(), SegmentError>, BookError> {
        let log = segment.log;
        let (opening, entries) = match checked {
            Ok(checked) => checked,
            Err(why) => return Ok(Err(why)),
        };
        let before = Head { log, seq: segment.first_seq - 1, hash: segment.before };
        let tip = self.tip(log)?.filter(|end| end.seq > 0 && end.head() == before);
        if tip.is_none() && self.logs.contains(&log) {
            // What this batch put in of the log must be found.
            self.merge()?;
        }
        // Where the first entry goes: after which entry of which line.
        let mut at = match tip {
            Some(end) => Some(Place { line: end.line, seq: end.seq }),
            None if segment.first_seq == 1 => None,
            None => match line::find(self.c, &before)? {
                Some(place) => Some(place),
                None => return Ok(Err(SegmentError::Gap { log, first: segment.first_seq })),
            },
        };
        let own = opening.device == self.root.device;
        // After the end of a log nothing of the segment can be held.
        let mut appending = tip.is_some();
        let mut last = (0, Hash([0; 32]));
        for entry in entries {
            let head = Head { log, seq: entry.seq, hash: entry.hash };
            if !appending {
                if let Some(place) = line::find(self.c, &head)? {
                    self.fill(place, &entry.content)?;
                    last = (place.line, entry.hash);
                    at = Some(place);
                    continue;
                }
                at = Some(self.room_after(at, &opening, entry.seq)?);
                appending = true;
            }
            let Some(before) = at else { return Err(damaged("a place expected").into()) };
            let place = Place { line: before.line, seq: entry.seq };
            last = (place.line, entry.hash);
            self.ledger.put(place, entry, opening.device);
            self.put.push(place);
            self.logs.insert(log);
            self.taken.new += 1;
            self.own_grew |= own;
            at = Some(place);
        }
        if appending {
            self.c
                .prepare_cached("UPDATE lines SET head_seq = ?2, head_hash = ?3 WHERE id = ?1")?
                .execute(params![last.0, segment.seal.seq, last.1.0.as_slice()])?;
            if own {
                self.c.execute("UPDATE lines SET closed = 1 WHERE log = ?1", [log.0.as_slice()])?;
            }
        }
        line::insert_seal(self.c, last.0, &segment.seal)?;
        Ok(Ok(()))
    }

    /// The one end of a log that is not branched.
    fn tip(&self, log: LogId) -> rusqlite::Result<Option<line::End>> {
        self.c
            .prepare_cached(&format!(
                "SELECT id, log, head_seq, head_hash FROM lines l WHERE log = ?1 AND {LEAF} ORDER BY id DESC LIMIT 1"
            ))?
            .query_row([log.0.as_slice()], line::end_of)
            .optional()
    }

    /// The place after which an entry can be put in: the end of a line, or of a new
    /// branch where another entry is there already.
    fn room_after(&mut self, at: Option<Place>, opening: &Opening, seq: u64) -> Result<Place, BookError> {
        let place = match at {
            Some(place) => place,
            None => {
                let log = opening.id();
                let trunk: Option<i64> = self
                    .c
                    .prepare_cached("SELECT id FROM lines WHERE log = ?1 AND parent IS NULL")?
                    .query_row([log.0.as_slice()], |r| r.get(0))
                    .optional()?;
                match trunk {
                    None => return Ok(Place { line: line::insert(self.c, opening, None)?, seq: 0 }),
                    Some(line) => Place { line, seq: 0 },
                }
            }
        };
        let end = line::end(self.c, place.line)?;
        if end.seq == place.seq && line::is_leaf(self.c, place.line)? {
            return Ok(place);
        }
        // Places change when a line is divided: nothing may be waiting for its own.
        self.merge()?;
        line::split(self.c, place.line, seq)?;
        let end = line::end(self.c, place.line)?;
        let branch = line::insert(self.c, opening, Some((place.line, place.seq, end.hash)))?;
        if !self.taken.forked.contains(&opening.id()) {
            self.taken.forked.push(opening.id());
        }
        Ok(Place { line: branch, seq: place.seq })
    }

    /// Gives an entry that is held without its body the body.
    fn fill(&mut self, place: Place, content: &Content) -> Result<(), BookError> {
        let Content::Body(body) = content else { return Ok(()) };
        let filled = self
            .c
            .prepare_cached(
                "UPDATE entries SET salt = ?3, payload = ?4, commitment = NULL
                 WHERE line = ?1 AND seq = ?2 AND commitment = ?5",
            )?
            .execute(params![
                place.line,
                place.seq,
                body.salt.as_slice(),
                body.payload,
                body.commitment().as_slice()
            ])?;
        if filled > 0 {
            self.put.push(place);
        }
        Ok(())
    }

    /// Fills in a body that came by itself.
    fn body(&mut self, head: &Head, body: &Body) -> Result<Result<(), SegmentError>, BookError> {
        let refused = |source| Ok(Err(SegmentError::Entry { log: head.log, seq: head.seq, source }));
        let Some(place) = line::find(self.c, head)? else { return Ok(Ok(())) };
        let content = Content::Body(body.clone());
        if let Err(source) = content.check() {
            return refused(source);
        }
        let (entry, _) = super::ledger::entry(self.c, place)?;
        if entry.content.commitment() != body.commitment() {
            return refused(EntryError::Commitment);
        }
        self.fill(place, &content)?;
        Ok(Ok(()))
    }
}

/// Checks segments, on two threads where there are enough: hashes and signatures need
/// nothing of the book.
fn check_all(c: &Connection, segments: &[Segment]) -> rusqlite::Result<Vec<Checked>> {
    let mut openings: BTreeMap<LogId, Option<Opening>> = BTreeMap::new();
    for segment in segments {
        let opening = openings.entry(segment.log).or_default();
        if opening.is_none() {
            *opening = line::opening(c, segment.log)?.or_else(|| segment.opening.clone());
        }
    }
    let check = |part: &[Segment]| -> Vec<_> {
        part.iter().map(|s| s.check(openings.get(&s.log).and_then(Option::as_ref))).collect()
    };
    let (first, second) = segments.split_at(segments.len() / 2);
    if first.is_empty() {
        return Ok(check(second));
    }
    Ok(std::thread::scope(|scope| {
        let beside = scope.spawn(|| check(first));
        let second = check(second);
        let mut all = beside.join().unwrap_or_else(|_| check(first));
        all.extend(second);
        all
    }))
}

impl Replica for BookReplica<'_> {
    type Error = BookError;

    fn device(&self) -> DeviceKey {
        self.book.device()
    }

    fn squad(&self) -> Option<SquadId> {
        self.book.squad()
    }

    fn recovers(&self) -> Option<SquadId> {
        if self.book.squad().is_some() {
            return None;
        }
        self.book.recovers().ok().flatten()
    }

    /// What the recovery key wrote to make this device an owner.
    fn credentials(&self) -> Result<Vec<Segment>, BookError> {
        let heads: Vec<Head> = self.book.reading(|c| {
            let Some(key) = super::meta(c, "recovery")? else { return Ok(Vec::new()) };
            let heads = c
                .prepare_cached("SELECT id, log, head_seq, head_hash FROM lines WHERE device = ?1 LIMIT 8")?
                .query_map([key], |r| Ok(line::end_of(r)?.head()))?
                .collect::<Result<_, _>>()?;
            Ok(heads)
        })?;
        let segments = heads.iter().map(|head| self.segment_after(head, 0));
        Ok(segments.collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect())
    }

    fn seal(&mut self) -> Result<(), BookError> {
        self.book.seal()
    }

    fn standing(&self, device: DeviceKey) -> Result<Standing, BookError> {
        Ok(self.book.authority()?.standing(device))
    }

    fn may_hold(&self, device: DeviceKey, scope: Scope, writer: DeviceKey) -> Result<bool, BookError> {
        let consents = match scope {
            Scope::Private(member) => self.book.consents(member)?,
            _ => Consents::default(),
        };
        Ok(self.book.authority()?.may_hold(device, scope, writer, consents))
    }

    fn lines(&self) -> Result<Vec<Line>, BookError> {
        self.book.reading(|c| {
            let mut first_lacking: BTreeMap<i64, u64> = BTreeMap::new();
            for place in lacking(c, u32::MAX)? {
                let first = first_lacking.entry(place.line).or_insert(place.seq);
                *first = place.seq.min(*first);
            }
            let mut lines = Vec::new();
            let mut statement = c.prepare_cached(&format!(
                "SELECT id, log, sealed_seq, sealed_hash, scope, device FROM lines l
                 WHERE sealed_seq > 0 AND {LEAF}"
            ))?;
            let mut rows = statement.query([])?;
            while let Some(r) = rows.next()? {
                let head = Head { log: LogId(bytes32(r, 1)?), seq: r.get(2)?, hash: Hash(bytes32(r, 3)?) };
                let mut whole = Some(head);
                if !first_lacking.is_empty() {
                    let ways = line::way(c, Place { line: r.get(0)?, seq: head.seq })?;
                    let first = ways
                        .iter()
                        .filter_map(|(line, last)| first_lacking.get(line).filter(|first| *first <= last))
                        .min();
                    if let Some(first) = first {
                        let before = *first - 1;
                        whole = line::hash_at(c, &ways, before)?.map(|hash| Head {
                            log: head.log,
                            seq: before,
                            hash,
                        });
                    }
                }
                let (scope, device) = (read_scope(&r.get::<_, Vec<u8>>(4)?)?, DeviceKey(bytes32(r, 5)?));
                lines.push(Line { head, whole, scope, device });
            }
            Ok(lines)
        })
    }

    fn log(&self, log: LogId) -> Result<Option<(Scope, DeviceKey)>, BookError> {
        self.book.reading(|c| Ok(self.log_in(c, log)?))
    }

    fn common(&self, line: &Head, theirs: &Head) -> Result<Common, BookError> {
        self.book.reading(|c| {
            let (Some(ours), theirs_at) = (line::find(c, line)?, line::find(c, theirs)?) else {
                return Ok(Common::Ahead);
            };
            let Some(theirs_at) = theirs_at else {
                let longest: u64 = c
                    .prepare_cached("SELECT max(head_seq) FROM lines WHERE log = ?1")?
                    .query_row([line.log.0.as_slice()], |r| r.get(0))?;
                return Ok(if theirs.seq > longest { Common::Ahead } else { Common::Apart });
            };
            let ours = line::way(c, ours)?;
            for (row, last) in line::way(c, theirs_at)? {
                if let Some((_, own)) = ours.iter().find(|(line, _)| *line == row) {
                    return Ok(Common::UpTo(last.min(*own)));
                }
            }
            Ok(Common::UpTo(0))
        })
    }

    fn segment_after(&self, head: &Head, seq: u64) -> Result<Option<Segment>, BookError> {
        self.book.reading(|c| {
            let Some(at) = line::find(c, head)? else { return Ok(None) };
            Ok(line::segment_after(c, head.log, &line::way(c, at)?, seq)?)
        })
    }

    fn lacking(&self) -> Result<Vec<Head>, BookError> {
        self.book.reading(|c| {
            let mut heads = Vec::new();
            for place in lacking(c, MOST_LACKING)? {
                let head = c
                    .prepare_cached(
                        "SELECT l.log, e.hash FROM lines l JOIN entries e ON e.line = l.id
                         WHERE l.id = ?1 AND e.seq = ?2",
                    )?
                    .query_row(params![place.line, place.seq], |r| {
                        Ok(Head { log: LogId(bytes32(r, 0)?), seq: place.seq, hash: Hash(bytes32(r, 1)?) })
                    })?;
                heads.push(head);
            }
            Ok(heads)
        })
    }

    fn body(&self, entry: &Head) -> Result<Option<Body>, BookError> {
        self.book.reading(|c| {
            let Some(place) = line::find(c, entry)? else { return Ok(None) };
            let (entry, _) = super::ledger::entry(c, place)?;
            Ok(entry.body().cloned())
        })
    }

    fn take_in(&mut self, batch: &Batch, from: DeviceKey) -> Result<Result<Taken, SegmentError>, BookError> {
        if batch.is_empty() {
            return Ok(Ok(Taken::default()));
        }
        let root = self.book.root();
        let taken = self.book.writing(|t| {
            let let_go = let_go(t)?;
            let mut taking = Taking::new(t, root);
            let mut refused = None;
            for (segment, checked) in batch.segments.iter().zip(check_all(t, &batch.segments)?) {
                let known = match &segment.opening {
                    Some(opening) => Some((opening.scope, opening.device)),
                    None => self.log_in(t, segment.log)?,
                };
                let scope = known.map(|(scope, _)| scope);
                if scope.and_then(Scope::member).is_some_and(|m| let_go.contains(&m)) {
                    // Nothing of it is kept. Only its beginning says whose it is.
                    guard(&self.book.passed_over).extend(known.map(|known| (segment.log, known)));
                    continue;
                }
                if let Err(why) = taking.segment(segment, checked)? {
                    let bytes = encode(&segment.to_value());
                    set_aside(t, from, &why.to_string(), &bytes, scope, self.clock.now())?;
                    refused = Some(why);
                    break;
                }
            }
            if refused.is_none() {
                for (head, body) in &batch.bodies {
                    if let Err(why) = taking.body(head, body)? {
                        let scope = line::opening(t, head.log)?.map(|o| o.scope);
                        set_aside(t, from, &why.to_string(), &body.payload, scope, self.clock.now())?;
                        refused = Some(why);
                        break;
                    }
                }
            }
            taking.merge()?;
            if taking.own_grew {
                set_meta(t, "copy", &[1])?;
            }
            let (taken, own_grew) = (taking.taken, taking.own_grew);
            if drop_erased(t, &root)? || own_grew {
                self.book.wrote.store(true, std::sync::atomic::Ordering::Release);
            }
            Ok(match refused {
                Some(why) => Err(why),
                None => Ok(taken),
            })
        })?;
        match self.book.clean() {
            // A reader is still there: the next call, or the next opening, cleans.
            Ok(()) | Err(BookError::Busy) => Ok(taken),
            Err(e) => Err(e),
        }
    }

    fn admit(&mut self, guest: DeviceKey, join: &Join) -> Result<Admission, BookError> {
        self.book.admit(guest, join, self.clock.now())
    }

    fn adopt(&mut self, squad: SquadId) -> Result<bool, BookError> {
        let device = self.book.device();
        let mut current = guard(&self.book.squad);
        let adopted = self.book.writing(|t| {
            let root = Root { squad: Some(squad), device };
            set_meta(t, "squad", &squad.0)?;
            rebuild(t, &root)?;
            let founding = Filter {
                kind: Some(kind::SQUAD),
                field: Some(field_name::WHOLE),
                subject: Some(Subject::Fact(Hash(squad.0))),
                ..Filter::default()
            };
            let demo = held(t, &founding)?
                .iter()
                .any(|held| matches!(held.fact(), Some(Fact::Founding(f)) if f.demo));
            if demo != self.book.demo {
                return Err(BookError::Demo);
            }
            if !super::ledger::authority(t)?.standing(device).is_admitted() {
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

    fn note_receipt(&mut self, peer: DeviceKey, heads: &[Head]) -> Result<(), BookError> {
        let now = self.clock.now();
        self.book.writing(|t| {
            t.prepare_cached(
                "INSERT INTO peers (device, met_ms) VALUES (?1, ?2)
                 ON CONFLICT (device) DO UPDATE SET met_ms = excluded.met_ms",
            )?
            .execute(params![peer.0.as_slice(), now.ms])?;
            for head in heads {
                // Only what is the same history here is a confirmation.
                if let Some(place) = line::find(t, head)? {
                    note(t, "receipts", peer, place, now)?;
                }
            }
            Ok(())
        })
    }

    fn note_clock(&mut self, peer: DeviceKey, apart_ms: i64) -> Result<(), BookError> {
        self.book.writing(|t| {
            t.prepare_cached(
                "INSERT INTO peers (device, clock_apart_ms) VALUES (?1, ?2)
                 ON CONFLICT (device) DO UPDATE SET clock_apart_ms = excluded.clock_apart_ms",
            )?
            .execute(params![peer.0.as_slice(), apart_ms])?;
            Ok(())
        })
    }
}

/// Entries without a body that nobody withdrew.
fn lacking(c: &Connection, most: u32) -> rusqlite::Result<Vec<Place>> {
    c.prepare_cached(
        "SELECT e.line, e.seq FROM entries e JOIN lines l ON l.id = e.line
         WHERE e.commitment IS NOT NULL
           AND NOT EXISTS (SELECT 1 FROM withdrawn w WHERE w.hash = e.hash AND w.scope = l.scope)
         LIMIT ?1",
    )?
    .query_map([most], |r| Ok(Place { line: r.get(0)?, seq: r.get(1)? }))?
    .collect()
}
