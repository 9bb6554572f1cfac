//! Merge's ledger, in the tables of the book.

use pitside_log::authority::{Grants, Judgement, Reason};
use pitside_log::entry::{Body, Entry, Header, Key};
use pitside_log::merge::Ledger;
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{DeviceKey, Fact, Hash, LogId, MemberId, Place, Scope};
use rusqlite::{Connection, OptionalExtension, Row, params};

/// The ledger of one open transaction.
pub(super) struct SqlLedger<'a>(pub(super) &'a Connection);

/// A judgement as kept in the table. 1 is the only one that counts.
pub(super) fn judgement_number(judgement: Judgement) -> i64 {
    match judgement {
        Judgement::Counted => 1,
        Judgement::Waiting => 2,
        Judgement::Refused(Reason::OwnerOnly) => 3,
        Judgement::Refused(Reason::MemberOnly) => 4,
        Judgement::Refused(Reason::WrongScope) => 5,
        Judgement::Refused(Reason::SecondFounding) => 6,
    }
}

pub(super) fn judgement_of(number: i64) -> Judgement {
    match number {
        1 => Judgement::Counted,
        3 => Judgement::Refused(Reason::OwnerOnly),
        4 => Judgement::Refused(Reason::MemberOnly),
        5 => Judgement::Refused(Reason::WrongScope),
        6 => Judgement::Refused(Reason::SecondFounding),
        _ => Judgement::Waiting,
    }
}

/// A key in few bytes, for the index of what is replaced.
fn topic(key: &Key) -> Vec<u8> {
    encode(&Value::Array(vec![
        key.scope.to_value(),
        key.kind.as_str().into(),
        key.subject.to_value(),
        key.field.as_str().into(),
    ]))
}

pub(super) fn damaged(what: &'static str) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(0, rusqlite::types::Type::Blob, what.into())
}

pub(super) fn bytes32(row: &Row<'_>, at: usize) -> rusqlite::Result<[u8; 32]> {
    row.get::<_, Vec<u8>>(at)?.try_into().map_err(|_| damaged("32 bytes expected"))
}

pub(super) fn scope(bytes: &[u8]) -> rusqlite::Result<Scope> {
    decode(bytes).ok().and_then(|v| Scope::from_value(&v)).ok_or_else(|| damaged("a scope expected"))
}

pub(super) fn scope_bytes(scope: Scope) -> Vec<u8> {
    encode(&scope.to_value())
}

pub(super) fn log_row(connection: &Connection, log: LogId) -> rusqlite::Result<Option<i64>> {
    connection
        .prepare_cached("SELECT id FROM logs WHERE log = ?1")?
        .query_row([log.0.as_slice()], |row| row.get(0))
        .optional()
}

impl Ledger for SqlLedger<'_> {
    type Error = rusqlite::Error;

    fn device(&self, log: LogId) -> Result<Option<DeviceKey>, Self::Error> {
        self.0
            .prepare_cached("SELECT device FROM logs WHERE log = ?1")?
            .query_row([log.0.as_slice()], |row| bytes32(row, 0).map(DeviceKey))
            .optional()
    }

    fn entry(&self, place: Place) -> Result<Option<Entry>, Self::Error> {
        self.0
            .prepare_cached(
                "SELECT l.scope, e.hash, e.header, e.salt, e.payload
                 FROM logs l JOIN entries e ON e.log = l.id WHERE l.log = ?1 AND e.seq = ?2",
            )?
            .query_row(params![place.log.0.as_slice(), place.seq], |row| {
                let header_bytes: Vec<u8> = row.get(2)?;
                let salt: Option<Vec<u8>> = row.get(3)?;
                let payload: Option<Vec<u8>> = row.get(4)?;
                let body = match (salt.and_then(|s| s.try_into().ok()), payload) {
                    (Some(salt), Some(payload)) => Some(Body { salt, payload }),
                    _ => None,
                };
                Ok(Entry {
                    place,
                    scope: scope(&row.get::<_, Vec<u8>>(0)?)?,
                    hash: Hash(bytes32(row, 1)?),
                    header: Header::from_bytes(&header_bytes).map_err(|_| damaged("a header expected"))?,
                    header_bytes,
                    body,
                })
            })
            .optional()
    }

    fn judgement(&self, place: Place) -> Result<Option<Judgement>, Self::Error> {
        let number: Option<Option<i64>> = self
            .0
            .prepare_cached(
                "SELECT judgement FROM entries WHERE log = (SELECT id FROM logs WHERE log = ?1) AND seq = ?2",
            )?
            .query_row(params![place.log.0.as_slice(), place.seq], |row| row.get(0))
            .optional()?;
        Ok(number.flatten().map(judgement_of))
    }

    fn set_judgement(&mut self, place: Place, judgement: Judgement) -> Result<(), Self::Error> {
        self.0
            .prepare_cached(
                "UPDATE entries SET judgement = ?3
                 WHERE log = (SELECT id FROM logs WHERE log = ?1) AND seq = ?2",
            )?
            .execute(params![place.log.0.as_slice(), place.seq, judgement_number(judgement)])?;
        Ok(())
    }

    fn uncounted(&self, device: DeviceKey) -> Result<Vec<Place>, Self::Error> {
        self.0
            .prepare_cached(
                "SELECT l.log, e.seq FROM logs l JOIN entries e ON e.log = l.id
                 WHERE l.device = ?1 AND e.judgement <> 1",
            )?
            .query_map([device.0.as_slice()], |row| {
                Ok(Place { log: LogId(bytes32(row, 0)?), seq: row.get(1)? })
            })?
            .collect()
    }

    fn grants(&self, device: DeviceKey) -> Result<Grants, Self::Error> {
        let found = self
            .0
            .prepare_cached("SELECT owner, members FROM grants WHERE device = ?1")?
            .query_row([device.0.as_slice()], |row| Ok((row.get::<_, bool>(0)?, row.get::<_, Vec<u8>>(1)?)))
            .optional()?;
        let Some((owner, members)) = found else { return Ok(Grants::default()) };
        let Ok(Value::Array(members)) = decode(&members) else { return Err(damaged("members expected")) };
        Ok(Grants { owner, members: members.iter().filter_map(MemberId::from_value).collect() })
    }

    fn set_grants(&mut self, device: DeviceKey, grants: &Grants) -> Result<(), Self::Error> {
        let members = encode(&Value::Array(grants.members.iter().map(|m| m.to_value()).collect()));
        self.0
            .prepare_cached("INSERT OR REPLACE INTO grants (device, owner, members) VALUES (?1, ?2, ?3)")?
            .execute(params![device.0.as_slice(), grants.owner, members])?;
        Ok(())
    }

    fn replace(&mut self, key: &Key, hash: Hash) -> Result<(), Self::Error> {
        self.0
            .prepare_cached("INSERT OR IGNORE INTO replaced (hash, topic) VALUES (?1, ?2)")?
            .execute(params![hash.0.as_slice(), topic(key)])?;
        self.0
            .prepare_cached(
                "DELETE FROM live WHERE subject = ?1 AND kind = ?2 AND field = ?3 AND scope = ?4 AND hash = ?5",
            )?
            .execute(params![
                encode(&key.subject.to_value()),
                key.kind,
                key.field,
                scope_bytes(key.scope),
                hash.0.as_slice()
            ])?;
        Ok(())
    }

    fn is_replaced(&self, key: &Key, hash: Hash) -> Result<bool, Self::Error> {
        self.0
            .prepare_cached("SELECT 1 FROM replaced WHERE hash = ?1 AND topic = ?2")?
            .exists(params![hash.0.as_slice(), topic(key)])
    }

    fn put_live(&mut self, key: &Key, entry: &Entry) -> Result<(), Self::Error> {
        let fact = entry
            .body
            .as_ref()
            .and_then(|body| Fact::read(&key.kind, &key.field, &body.payload).ok())
            .map(|(fact, _)| fact);
        let Some(log) = log_row(self.0, entry.place.log)? else { return Err(damaged("a log expected")) };
        self.0
            .prepare_cached(
                "INSERT OR REPLACE INTO live
                 (log, seq, hash, scope, member, kind, subject, field, stamp_ms, day, session)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
            )?
            .execute(params![
                log,
                entry.place.seq,
                entry.hash.0.as_slice(),
                scope_bytes(key.scope),
                key.scope.member().map(|m| m.0.as_bytes().to_vec()),
                key.kind,
                encode(&key.subject.to_value()),
                key.field,
                entry.header.stamp_ms,
                fact.as_ref().and_then(Fact::day).map(|d| d.number()),
                fact.as_ref().and_then(Fact::session).map(|p| encode(&p.to_value())),
            ])?;
        Ok(())
    }
}
