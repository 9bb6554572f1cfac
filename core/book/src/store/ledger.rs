//! Merge's ledger, in the tables of the book.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet, HashMap};
use std::sync::Arc;

use pitside_log::authority::{Act, Authority, Grants, Judgement, Reach, Reason, Standing};
use pitside_log::entry::{Body, Content, Entry, Header, Key};
use pitside_log::merge::Ledger;
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{DeviceKey, Fact, Hash, Head, LogId, MemberId, Scope};
use rusqlite::{Connection, OptionalExtension, Row, params};

use super::line::{self, Place};

/// By scope the few topics in it: kind, field, and their row.
type Topics = HashMap<Scope, Vec<(String, String, i64)>>;

/// The ledger of one open transaction.
pub(super) struct SqlLedger<'a> {
    c: &'a Connection,
    /// Entries that are put in with their first judgement, in one statement.
    fresh: HashMap<Place, (Arc<Entry>, DeviceKey)>,
    authority: RefCell<Option<Authority>>,
    topics: RefCell<Topics>,
    /// Whether nothing at all is withdrawn, which is asked of every entry.
    none_withdrawn: Cell<Option<bool>>,
}

const REASONS: [Reason; 8] = [
    Reason::OwnerOnly,
    Reason::MemberOnly,
    Reason::WrongScope,
    Reason::SecondFounding,
    Reason::NotGiven,
    Reason::Removed,
    Reason::Senior,
    Reason::Erased,
];

/// A judgement as kept in the table. 1 is the only one that counts.
pub(super) fn judgement_number(judgement: Judgement) -> i64 {
    match judgement {
        Judgement::Counted => 1,
        Judgement::Waiting => 2,
        Judgement::Refused(reason) => {
            3 + REASONS.iter().zip(0_i64..).find(|(r, _)| **r == reason).map_or(0, |(_, n)| n)
        }
    }
}

pub(super) fn judgement_of(number: i64) -> Judgement {
    match usize::try_from(number - 3).ok().and_then(|at| REASONS.get(at)) {
        Some(reason) => Judgement::Refused(*reason),
        None if number == 1 => Judgement::Counted,
        None => Judgement::Waiting,
    }
}

pub(super) fn damaged(what: &'static str) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(0, rusqlite::types::Type::Blob, what.into())
}

pub(super) fn bytes32(row: &Row<'_>, at: usize) -> rusqlite::Result<[u8; 32]> {
    row.get_ref(at)?
        .as_blob()
        .ok()
        .and_then(|b| b.try_into().ok())
        .ok_or_else(|| damaged("32 bytes expected"))
}

pub(super) fn scope(bytes: &[u8]) -> rusqlite::Result<Scope> {
    decode(bytes).ok().and_then(|v| Scope::from_value(&v)).ok_or_else(|| damaged("a scope expected"))
}

pub(super) fn scope_bytes(scope: Scope) -> Vec<u8> {
    encode(&scope.to_value())
}

pub(super) fn member(row: &Row<'_>, at: usize) -> rusqlite::Result<MemberId> {
    let bytes: Vec<u8> = row.get(at)?;
    uuid::Uuid::from_slice(&bytes).map(MemberId).map_err(|_| damaged("a member expected"))
}

/// Salt, payload and commitment of an entry, from three columns.
pub(super) fn content(row: &Row<'_>, at: usize) -> rusqlite::Result<Content> {
    let (salt, payload): (Option<Vec<u8>>, Option<Vec<u8>>) = (row.get(at)?, row.get(at + 1)?);
    match (salt.and_then(|s| s.try_into().ok()), payload) {
        (Some(salt), Some(payload)) => Ok(Content::Body(Body { salt, payload })),
        _ => Ok(Content::Commitment(bytes32(row, at + 2)?)),
    }
}

fn reach_value(reach: &Reach) -> Value {
    let members = reach.members.iter().map(|m| m.to_value()).collect();
    Value::Array(vec![reach.everyone.into(), Value::Array(members)])
}

fn members_of(value: &Value) -> Option<BTreeSet<MemberId>> {
    let Value::Array(items) = value else { return None };
    items.iter().map(MemberId::from_value).collect()
}

fn reach_of(value: &Value) -> Option<Reach> {
    let Value::Array(items) = value else { return None };
    let [Value::Bool(everyone), members] = items.as_slice() else { return None };
    Some(Reach { everyone: *everyone, members: members_of(members)? })
}

fn standing_bytes(standing: &Standing) -> Vec<u8> {
    let g = &standing.grants;
    let serves = Value::Array(g.serves.iter().map(|m| m.to_value()).collect());
    let mut items = vec![g.owner.into(), g.recovery.into(), serves];
    items.extend([&g.assists, &g.treats, &g.guards, &g.limits, &g.consents].map(reach_value));
    items.push(match &standing.cut {
        None => Value::Null,
        Some(cut) => Value::Array(cut.iter().map(|h| h.to_value()).collect()),
    });
    encode(&Value::Array(items))
}

fn standing_of(bytes: &[u8]) -> Option<Standing> {
    let Ok(Value::Array(items)) = decode(bytes) else { return None };
    let [Value::Bool(owner), Value::Bool(recovery), serves, reaches @ .., cut] = items.as_slice() else {
        return None;
    };
    let [assists, treats, guards, limits, consents] = reaches else { return None };
    let grants = Grants {
        owner: *owner,
        recovery: *recovery,
        serves: members_of(serves)?,
        assists: reach_of(assists)?,
        treats: reach_of(treats)?,
        guards: reach_of(guards)?,
        limits: reach_of(limits)?,
        consents: reach_of(consents)?,
    };
    let cut = match cut {
        Value::Array(heads) => Some(heads.iter().map(Head::from_value).collect::<Option<_>>()?),
        _ => None,
    };
    Some(Standing { grants, cut })
}

/// The authority that merge settled last.
pub(super) fn authority(c: &Connection) -> rusqlite::Result<Authority> {
    let mut found = Authority::default();
    let mut statement = c.prepare_cached("SELECT device, standing FROM standings")?;
    let mut rows = statement.query([])?;
    while let Some(r) = rows.next()? {
        let standing = standing_of(&r.get::<_, Vec<u8>>(1)?).ok_or_else(|| damaged("a standing expected"))?;
        found.standings.insert(DeviceKey(bytes32(r, 0)?), standing);
    }
    found.erased = c
        .prepare_cached("SELECT member FROM erased")?
        .query_map([], |r| member(r, 0))?
        .collect::<rusqlite::Result<_>>()?;
    found.same = c
        .prepare_cached("SELECT member, first FROM same")?
        .query_map([], |r| Ok((member(r, 0)?, member(r, 1)?)))?
        .collect::<rusqlite::Result<BTreeMap<_, _>>>()?;
    found.idle = c
        .prepare_cached("SELECT hash FROM idle")?
        .query_map([], |r| bytes32(r, 0).map(Hash))?
        .collect::<rusqlite::Result<_>>()?;
    Ok(found)
}

/// Where one device stands by that authority.
pub(super) fn standing(c: &Connection, device: DeviceKey) -> rusqlite::Result<Standing> {
    let bytes: Option<Vec<u8>> = c
        .prepare_cached("SELECT standing FROM standings WHERE device = ?1")?
        .query_row([device.0.as_slice()], |r| r.get(0))
        .optional()?;
    match bytes {
        None => Ok(Standing::default()),
        Some(bytes) => standing_of(&bytes).ok_or_else(|| damaged("a standing expected")),
    }
}

impl<'a> SqlLedger<'a> {
    pub(super) fn new(c: &'a Connection) -> Self {
        Self {
            c,
            fresh: HashMap::new(),
            authority: RefCell::new(None),
            topics: RefCell::new(HashMap::new()),
            none_withdrawn: Cell::new(None),
        }
    }

    /// Puts an entry in at the end of its line. It is written with its first
    /// judgement, so what is put in must be applied.
    pub(super) fn put(&mut self, place: Place, entry: Entry, device: DeviceKey) {
        self.fresh.insert(place, (Arc::new(entry), device));
    }

    /// The topic of a key.
    fn topic(&self, key: &Key) -> rusqlite::Result<i64> {
        let known = |topics: &Topics| {
            let (_, _, id) = topics
                .get(&key.scope)?
                .iter()
                .find(|(kind, field, _)| *kind == key.kind && *field == key.field)?;
            Some(*id)
        };
        if let Some(id) = known(&self.topics.borrow()) {
            return Ok(id);
        }
        let bytes = scope_bytes(key.scope);
        let found: Option<i64> = self
            .c
            .prepare_cached("SELECT id FROM topics WHERE scope = ?1 AND kind = ?2 AND field = ?3")?
            .query_row(params![bytes, key.kind, key.field], |r| r.get(0))
            .optional()?;
        let id = match found {
            Some(id) => id,
            None => {
                self.c
                    .prepare_cached(
                        "INSERT INTO topics (scope, member, kind, field) VALUES (?1, ?2, ?3, ?4)",
                    )?
                    .execute(params![
                        bytes,
                        key.scope.member().map(|m| m.0.as_bytes().to_vec()),
                        key.kind,
                        key.field
                    ])?;
                self.c.last_insert_rowid()
            }
        };
        let topic = (key.kind.clone(), key.field.clone(), id);
        self.topics.borrow_mut().entry(key.scope).or_default().push(topic);
        Ok(id)
    }

    fn places(&self, condition: &str, value: &[u8]) -> rusqlite::Result<Vec<Place>> {
        self.c
            .prepare_cached(&format!(
                "SELECT e.line, e.seq FROM lines l JOIN entries e ON e.line = l.id WHERE {condition}"
            ))?
            .query_map([value], |r| Ok(Place { line: r.get(0)?, seq: r.get(1)? }))?
            .collect()
    }
}

/// An entry that is in the table, and the device of its log.
pub(super) fn entry(c: &Connection, place: Place) -> rusqlite::Result<(Entry, DeviceKey)> {
    c.prepare_cached(
        "SELECT l.log, l.scope, l.device, e.hash, e.header, e.salt, e.payload, e.commitment,
                CASE WHEN e.seq = 1 THEN l.log
                     WHEN e.seq > l.base_seq + 1
                         THEN (SELECT hash FROM entries b WHERE b.line = e.line AND b.seq = e.seq - 1)
                     ELSE (SELECT hash FROM entries b WHERE b.line = l.parent AND b.seq = e.seq - 1) END
         FROM lines l JOIN entries e ON e.line = l.id WHERE l.id = ?1 AND e.seq = ?2",
    )?
    .query_row(params![place.line, place.seq], |row| {
        let header_bytes: Vec<u8> = row.get(4)?;
        let entry = Entry {
            log: LogId(bytes32(row, 0)?),
            seq: place.seq,
            scope: scope(&row.get::<_, Vec<u8>>(1)?)?,
            before: Hash(bytes32(row, 8)?),
            hash: Hash(bytes32(row, 3)?),
            header: Header::from_bytes(&header_bytes).map_err(|_| damaged("a header expected"))?,
            header_bytes,
            content: content(row, 5)?,
        };
        Ok((entry, DeviceKey(bytes32(row, 2)?)))
    })
}

impl Ledger for SqlLedger<'_> {
    type Error = rusqlite::Error;
    type Place = Place;

    fn entry(&self, place: Place) -> Result<(Arc<Entry>, DeviceKey), Self::Error> {
        if let Some(fresh) = self.fresh.get(&place) {
            return Ok(fresh.clone());
        }
        let (entry, device) = entry(self.c, place)?;
        Ok((Arc::new(entry), device))
    }

    fn find(&self, scope: Scope, hash: Hash) -> Result<Option<Place>, Self::Error> {
        self.c
            .prepare_cached(
                "SELECT e.line, e.seq FROM lines l JOIN entries e ON e.line = l.id
                 WHERE l.scope = ?1 AND e.hash = ?2",
            )?
            .query_row(params![scope_bytes(scope), hash.0.as_slice()], |r| {
                Ok(Place { line: r.get(0)?, seq: r.get(1)? })
            })
            .optional()
    }

    fn acts(&self) -> Result<Vec<Act<Place>>, Self::Error> {
        let mut acts = Vec::new();
        for place in self.places("l.scope = ?1", &scope_bytes(Scope::Squad))? {
            let (entry, device) = entry(self.c, place)?;
            if entry.is_act() {
                acts.push(Act { place, device, entry });
            }
        }
        Ok(acts)
    }

    fn of_device(&self, device: DeviceKey) -> Result<Vec<Place>, Self::Error> {
        self.places("l.device = ?1", &device.0)
    }

    fn of_scope(&self, scope: Scope) -> Result<Vec<Place>, Self::Error> {
        self.places("l.scope = ?1", &scope_bytes(scope))
    }

    fn within(&self, place: Place, cut: &[Head]) -> Result<bool, Self::Error> {
        for head in cut {
            if let Some(at) = line::find(self.c, head)?
                && line::way(self.c, at)?.iter().any(|(line, last)| *line == place.line && place.seq <= *last)
            {
                return Ok(true);
            }
        }
        Ok(false)
    }

    fn authority(&self) -> Result<Authority, Self::Error> {
        let mut kept = self.authority.borrow_mut();
        if kept.is_none() {
            *kept = Some(authority(self.c)?);
        }
        Ok(kept.clone().unwrap_or_default())
    }

    fn set_authority(&mut self, authority: &Authority) -> Result<(), Self::Error> {
        self.c.execute_batch(
            "DELETE FROM standings; DELETE FROM erased; DELETE FROM same; DELETE FROM idle;",
        )?;
        for (device, standing) in &authority.standings {
            self.c
                .prepare_cached("INSERT INTO standings (device, standing) VALUES (?1, ?2)")?
                .execute(params![device.0.as_slice(), standing_bytes(standing)])?;
        }
        for member in &authority.erased {
            self.c.execute("INSERT INTO erased (member) VALUES (?1)", [member.0.as_bytes().as_slice()])?;
        }
        for (member, first) in &authority.same {
            self.c.execute(
                "INSERT INTO same (member, first) VALUES (?1, ?2)",
                [member.0.as_bytes().as_slice(), first.0.as_bytes().as_slice()],
            )?;
        }
        for hash in &authority.idle {
            self.c.execute("INSERT INTO idle (hash) VALUES (?1)", [hash.0.as_slice()])?;
        }
        *self.authority.borrow_mut() = Some(authority.clone());
        Ok(())
    }

    fn judgement(&self, place: Place) -> Result<Option<Judgement>, Self::Error> {
        if self.fresh.contains_key(&place) {
            return Ok(None);
        }
        let number: Option<Option<i64>> = self
            .c
            .prepare_cached("SELECT judgement FROM entries WHERE line = ?1 AND seq = ?2")?
            .query_row(params![place.line, place.seq], |row| row.get(0))
            .optional()?;
        Ok(number.flatten().map(judgement_of))
    }

    fn set_judgement(&mut self, place: Place, judgement: Judgement) -> Result<(), Self::Error> {
        let number = judgement_number(judgement);
        if let Some((entry, _)) = self.fresh.remove(&place) {
            return line::insert_entry(self.c, place, &entry, Some(number));
        }
        self.c
            .prepare_cached("UPDATE entries SET judgement = ?3 WHERE line = ?1 AND seq = ?2")?
            .execute(params![place.line, place.seq, number])?;
        Ok(())
    }

    fn replace(&mut self, key: &Key, hash: Hash, by: Place) -> Result<(), Self::Error> {
        self.c
            .prepare_cached(
                "INSERT OR IGNORE INTO replaced (hash, topic, subject, line, seq) VALUES (?1, ?2, ?3, ?4, ?5)",
            )?
            .execute(params![
                hash.0.as_slice(),
                self.topic(key)?,
                encode(&key.subject.to_value()),
                by.line,
                by.seq
            ])?;
        Ok(())
    }

    fn unreplace(&mut self, key: &Key, hash: Hash, by: Place) -> Result<(), Self::Error> {
        self.c
            .prepare_cached(
                "DELETE FROM replaced WHERE hash = ?1 AND topic = ?2 AND subject = ?3 AND line = ?4 AND seq = ?5",
            )?
            .execute(params![
                hash.0.as_slice(),
                self.topic(key)?,
                encode(&key.subject.to_value()),
                by.line,
                by.seq
            ])?;
        Ok(())
    }

    fn is_replaced(&self, key: &Key, hash: Hash) -> Result<bool, Self::Error> {
        // Mostly nothing replaces it: only then is the rest of the key needed.
        let mut statement = self.c.prepare_cached("SELECT topic, subject FROM replaced WHERE hash = ?1")?;
        let mut rows = statement.query([hash.0.as_slice()])?;
        while let Some(row) = rows.next()? {
            if row.get::<_, i64>(0)? == self.topic(key)?
                && row.get_ref(1)?.as_blob()? == encode(&key.subject.to_value())
            {
                return Ok(true);
            }
        }
        Ok(false)
    }

    fn withdraw(&mut self, scope: Scope, hash: Hash, by: Place) -> Result<(), Self::Error> {
        self.none_withdrawn.set(Some(false));
        self.c
            .prepare_cached(
                "INSERT OR IGNORE INTO withdrawn (hash, scope, line, seq) VALUES (?1, ?2, ?3, ?4)",
            )?
            .execute(params![hash.0.as_slice(), scope_bytes(scope), by.line, by.seq])?;
        Ok(())
    }

    fn unwithdraw(&mut self, scope: Scope, hash: Hash, by: Place) -> Result<(), Self::Error> {
        self.c
            .prepare_cached(
                "DELETE FROM withdrawn WHERE hash = ?1 AND scope = ?2 AND line = ?3 AND seq = ?4",
            )?
            .execute(params![hash.0.as_slice(), scope_bytes(scope), by.line, by.seq])?;
        Ok(())
    }

    fn is_withdrawn(&self, scope: Scope, hash: Hash) -> Result<bool, Self::Error> {
        let none = match self.none_withdrawn.get() {
            Some(none) => none,
            None => !self.c.prepare_cached("SELECT 1 FROM withdrawn LIMIT 1")?.exists([])?,
        };
        self.none_withdrawn.set(Some(none));
        if none {
            return Ok(false);
        }
        self.c
            .prepare_cached("SELECT 1 FROM withdrawn WHERE hash = ?1 AND scope = ?2")?
            .exists(params![hash.0.as_slice(), scope_bytes(scope)])
    }

    fn drop_body(&mut self, place: Place) -> Result<(), Self::Error> {
        let (entry, _) = self.entry(place)?;
        if entry.body().is_some() {
            self.c
                .prepare_cached(
                    "UPDATE entries SET salt = NULL, payload = NULL, commitment = ?3 WHERE line = ?1 AND seq = ?2",
                )?
                .execute(params![place.line, place.seq, entry.content.commitment().as_slice()])?;
            // It may still stand in the write-ahead log.
            super::set_meta(self.c, "unclean", &[1])?;
        }
        Ok(())
    }

    fn put_live(&mut self, key: &Key, place: Place, entry: &Entry) -> Result<(), Self::Error> {
        let fact = entry
            .body()
            .and_then(|body| Fact::read(&key.kind, &key.field, &body.payload).ok())
            .map(|(fact, _)| fact);
        let session = fact.as_ref().and_then(Fact::session).map(|session| session.0);
        let day = fact.as_ref().and_then(Fact::day).filter(|_| session.is_none()).map(|d| d.number());
        let session = session.as_ref().map(<[u8; 32]>::as_slice);
        let new = self
            .c
            .prepare_cached(
                "INSERT OR IGNORE INTO live (line, seq, topic, subject, stamp_ms, day, session)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            )?
            .execute(params![
                place.line,
                place.seq,
                self.topic(key)?,
                encode(&key.subject.to_value()),
                entry.header.stamp_ms,
                day,
                session,
            ])?;
        if new == 0 {
            // Its body came.
            self.c
                .prepare_cached("UPDATE live SET day = ?3, session = ?4 WHERE line = ?1 AND seq = ?2")?
                .execute(params![place.line, place.seq, day, session])?;
        }
        Ok(())
    }

    fn drop_live(&mut self, key: &Key, hash: Hash) -> Result<(), Self::Error> {
        self.c
            .prepare_cached(
                "DELETE FROM live WHERE substr(subject, -8) = substr(?1, -8) AND topic = ?2 AND subject = ?1
                 AND (SELECT hash FROM entries e WHERE e.line = live.line AND e.seq = live.seq) = ?3",
            )?
            .execute(params![encode(&key.subject.to_value()), self.topic(key)?, hash.0.as_slice()])?;
        Ok(())
    }
}
