//! Reading facts: what is live, what does not count, and everything about a member.

use std::collections::{BTreeMap, BTreeSet};

use pitside_log::authority::{Consents, Judgement};
use pitside_log::entry::{Header, Key};
use pitside_model::cbor::{decode, encode};
use pitside_model::facts::{
    Audience, DeviceKey, Exercise, Extra, Fact, Hash, MemberId, Scope, Subject, kind,
};
use pitside_model::load::catalogue;
use rusqlite::{Connection, ToSql};
use uuid::Uuid;

use super::held::{Filter, Held, Live, Written};
use super::ledger::{
    self, bytes32, damaged, judgement_of, member as read_member, scope as read_scope, scope_bytes,
};
use super::line::Place;
use super::{Book, BookError};
use crate::clock::Stamp;

/// Entries of a log that are read at a time where one is looked for by its hash.
const PIECE: u64 = 64;

/// An entry that is held and does not count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Uncounted {
    /// The entry.
    pub hash: Hash,
    /// Its kind of fact.
    pub kind: String,
    /// The scope of its log.
    pub scope: Scope,
    /// The device that wrote it.
    pub device: DeviceKey,
    /// When, by that device's clock.
    pub stamp: Stamp,
    /// Why it does not count.
    pub judgement: Judgement,
}

/// One entry about a member, whatever became of it.
#[derive(Clone, Debug)]
pub struct Said {
    /// The entry.
    pub hash: Hash,
    /// What it is a value of.
    pub key: Key,
    /// The device that wrote it.
    pub device: DeviceKey,
    /// When, by that device's clock.
    pub stamp: Stamp,
    /// How it is judged.
    pub judgement: Judgement,
    /// Whether it is live.
    pub live: bool,
    /// What it says, as CBOR; `None` where its body was taken away.
    pub payload: Option<Vec<u8>>,
}

impl Book {
    /// The live facts that a filter lets through, the earliest day first, then
    /// by stamp. Facts whose one live value is a deletion are left out.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn held(&self, filter: &Filter<'_>) -> Result<Vec<Held>, BookError> {
        self.reading(|c| held(c, filter))
    }

    /// When each of several facts was first written down, in their order: a value's own stamp
    /// says when it was put right. A fact about something else, and one whose first entry is
    /// not here, has what its newest value says.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn written(&self, held: &[Held]) -> Result<Vec<Written>, BookError> {
        let mut corrected: BTreeMap<Scope, Vec<Hash>> = BTreeMap::new();
        for held in held {
            if let Some(id) = held.id().filter(|id| *id != held.value().hash) {
                corrected.entry(held.key.scope).or_default().push(id);
            }
        }
        let mut first: BTreeMap<Hash, Written> = BTreeMap::new();
        if !corrected.is_empty() {
            self.reading(|c| {
                corrected.iter().try_for_each(|(scope, ids)| {
                    first_entries(c, *scope, ids, &mut first)?;
                    Ok(())
                })
            })?;
        }
        let of = |held: &Held| {
            let newest = held.value();
            held.id().and_then(|id| first.get(&id).copied()).unwrap_or(Written {
                stamp: newest.stamp,
                place: newest.place,
                device: newest.device,
            })
        };
        Ok(held.iter().map(of).collect())
    }

    /// Facts in the order in which they were first written down, the earliest first.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn in_order(&self, held: Vec<Held>) -> Result<Vec<Held>, BookError> {
        let mut all: Vec<(Written, Held)> = self.written(&held)?.into_iter().zip(held).collect();
        all.sort_by_key(|(written, _)| *written);
        Ok(all.into_iter().map(|(_, held)| held).collect())
    }

    /// The exercises of the squad in the order they were written, or the product's
    /// own before there is a squad.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn exercises(&self) -> Result<Vec<(Uuid, Exercise)>, BookError> {
        let held = self.held(&Filter { kind: Some(kind::EXERCISE), ..Filter::default() })?;
        let found: Vec<(Uuid, Exercise)> = held
            .iter()
            .filter_map(|held| match (held.key.subject, held.fact()) {
                (Subject::Uuid(id), Some(Fact::Exercise(exercise))) => Some((id, exercise.clone())),
                _ => None,
            })
            .collect();
        if found.is_empty() {
            return Ok(catalogue::all().into_iter().map(|item| (item.id, item.exercise)).collect());
        }
        Ok(found)
    }

    /// Whom a member lets see the private part. While two people disagree on a
    /// consent, it is not given.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn consents(&self, member: MemberId) -> Result<Consents, BookError> {
        let held = self.held(&Filter {
            scope: Some(Scope::Member(member)),
            kind: Some(kind::CONSENT),
            subject: Some(Subject::Uuid(member.0)),
            ..Filter::default()
        })?;
        let given = |to: Audience| {
            held.iter().filter(|held| held.key.field == to.word() && !held.is_clash()).any(
                |held| matches!(held.fact(), Some(Fact::Consent(consent)) if consent.to == to && consent.given),
            )
        };
        Ok(Consents {
            coach: given(Audience::Coach),
            assistants: given(Audience::Assistants),
            medical: given(Audience::Medical),
        })
    }

    /// Entries that are held and do not count, with the reason.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn uncounted(&self) -> Result<Vec<Uncounted>, BookError> {
        self.reading(|c| {
            let rows = c
                .prepare_cached(
                    "SELECT e.hash, e.header, l.scope, l.device, e.judgement
                     FROM lines l JOIN entries e ON e.line = l.id WHERE e.judgement <> 1",
                )?
                .query_map([], |r| {
                    let header = header(&r.get::<_, Vec<u8>>(1)?)?;
                    Ok(Uncounted {
                        hash: Hash(bytes32(r, 0)?),
                        stamp: Stamp { ms: header.stamp_ms, zone_min: header.zone_min },
                        kind: header.kind,
                        scope: read_scope(&r.get::<_, Vec<u8>>(2)?)?,
                        device: DeviceKey(bytes32(r, 3)?),
                        judgement: judgement_of(r.get(4)?),
                    })
                })?
                .collect::<Result<_, _>>()?;
            Ok(rows)
        })
    }

    /// Every entry about a member that this device holds: of the member's scopes,
    /// and those of the squad's that name the member; what was replaced and what
    /// does not count too.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn record_of(&self, member: MemberId) -> Result<Vec<Said>, BookError> {
        Ok(self.record_watched(member, &mut |_, _| true)?.unwrap_or_default())
    }

    /// The same, which may take long: before each entry `watch` hears how many were looked at
    /// and how many there are, and ends it with `false`; then nothing is given.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn record_watched(
        &self,
        member: MemberId,
        watch: &mut dyn FnMut(u64, u64) -> bool,
    ) -> Result<Option<Vec<Said>>, BookError> {
        self.reading(|c| {
            let mut scopes = vec![Scope::Squad];
            for id in person(c, member)? {
                scopes.extend([Scope::Member(id), Scope::Private(id)]);
            }
            let ids: Vec<Subject> =
                scopes.iter().filter_map(|scope| Some(Subject::Uuid(scope.member()?.0))).collect();
            let mut places = Vec::new();
            let mut statement = c.prepare_cached(
                "SELECT e.line, e.seq, e.judgement FROM lines l JOIN entries e ON e.line = l.id
                 WHERE l.scope = ?1 ORDER BY e.line, e.seq",
            )?;
            for scope in scopes {
                let mut rows = statement.query([scope_bytes(scope)])?;
                while let Some(r) = rows.next()? {
                    let judgement = r.get::<_, Option<i64>>(2)?.map_or(Judgement::Waiting, judgement_of);
                    places.push((scope, Place { line: r.get(0)?, seq: r.get(1)? }, judgement));
                }
            }
            let live: BTreeSet<Place> = c
                .prepare_cached("SELECT line, seq FROM live")?
                .query_map([], |r| Ok(Place { line: r.get(0)?, seq: r.get(1)? }))?
                .collect::<Result<_, _>>()?;
            let of = places.len() as u64;
            let mut all = Vec::new();
            for (at, (scope, place, judgement)) in (0..).zip(places) {
                if !watch(at, of) {
                    return Ok(None);
                }
                let (entry, device) = ledger::entry(c, place)?;
                let key = entry.key();
                if scope == Scope::Squad && !ids.contains(&key.subject) {
                    continue;
                }
                all.push(Said {
                    hash: entry.hash,
                    key,
                    device,
                    stamp: Stamp { ms: entry.header.stamp_ms, zone_min: entry.header.zone_min },
                    judgement,
                    live: live.contains(&place),
                    payload: entry.body().map(|body| body.payload.clone()),
                });
            }
            Ok(Some(all))
        })
    }
}

/// Every id of one athlete.
pub(super) fn person(c: &Connection, member: MemberId) -> rusqlite::Result<Vec<MemberId>> {
    let mut ids: Vec<MemberId> = c
        .prepare_cached("SELECT member FROM same WHERE first = (SELECT first FROM same WHERE member = ?1)")?
        .query_map([member.0.as_bytes().as_slice()], |r| read_member(r, 0))?
        .collect::<Result<_, _>>()?;
    if ids.is_empty() {
        ids.push(member);
    }
    Ok(ids)
}

/// Where entries of a scope stand, by their hashes; gives how many entries were read for it.
///
/// No index is by hash. What was put right was mostly written not long before, so the logs are
/// read from their ends back, a piece of each in turn, until all are found.
fn first_entries(
    c: &Connection,
    scope: Scope,
    ids: &[Hash],
    found: &mut BTreeMap<Hash, Written>,
) -> Result<u64, BookError> {
    let mut wanted: BTreeSet<Hash> = ids.iter().copied().collect();
    let mut lines: Vec<(i64, DeviceKey, u64)> = c
        .prepare_cached("SELECT id, device, head_seq FROM lines WHERE scope = ?1")?
        .query_map([scope_bytes(scope)], |r| Ok((r.get(0)?, DeviceKey(bytes32(r, 1)?), r.get(2)?)))?
        .collect::<Result<_, _>>()?;
    let mut statement = c.prepare_cached(
        "SELECT seq, hash, header FROM entries WHERE line = ?1 AND seq <= ?2 ORDER BY seq DESC LIMIT ?3",
    )?;
    let mut read = 0;
    while !wanted.is_empty() && !lines.is_empty() {
        for (line, device, end) in &mut lines {
            let mut rows = statement.query(rusqlite::params![*line, *end, PIECE])?;
            *end = 0;
            while let Some(r) = rows.next()? {
                let seq: u64 = r.get(0)?;
                // A branch begins after the entry at which it parts.
                *end = seq.saturating_sub(1);
                read += 1;
                let hash = Hash(bytes32(r, 1)?);
                if wanted.remove(&hash) {
                    let header = header(&r.get::<_, Vec<u8>>(2)?)?;
                    let stamp = Stamp { ms: header.stamp_ms, zone_min: header.zone_min };
                    found.insert(hash, Written { stamp, place: Place { line: *line, seq }, device: *device });
                }
            }
            if wanted.is_empty() {
                break;
            }
        }
        lines.retain(|(.., end)| *end > 0);
    }
    Ok(read)
}

fn header(bytes: &[u8]) -> rusqlite::Result<Header> {
    Header::from_bytes(bytes).map_err(|_| damaged("a header expected"))
}

pub(super) fn held(c: &Connection, filter: &Filter<'_>) -> Result<Vec<Held>, BookError> {
    // The few topics that are asked for come first: every index begins with them.
    let mut sql =
        "SELECT t.scope, t.kind, v.subject, t.field, v.line, v.seq, e.hash, l.device, v.stamp_ms, e.header,
                e.payload, v.day
         FROM topics t CROSS JOIN live v ON v.topic = t.id
         JOIN lines l ON l.id = v.line JOIN entries e ON e.line = v.line AND e.seq = v.seq WHERE 1"
            .to_owned();
    let mut values: Vec<Box<dyn ToSql>> = Vec::new();
    // One athlete may have more than one id.
    if let (None, Some(member)) = (filter.scope, filter.member) {
        let mut marks = Vec::new();
        for id in person(c, member)? {
            values.push(Box::new(id.0.as_bytes().to_vec()));
            marks.push(format!("?{}", values.len()));
        }
        sql.push_str(&format!(" AND t.member IN ({})", marks.join(", ")));
    }
    let mut narrow = |condition: &str, value: Box<dyn ToSql>| {
        values.push(value);
        sql.push_str(&format!(" AND {condition} ?{}", values.len()));
    };
    if let Some(scope) = filter.scope {
        narrow("t.scope =", Box::new(scope_bytes(scope)));
    }
    if let Some(kind) = filter.kind {
        narrow("t.kind =", Box::new(kind.to_owned()));
    }
    if let Some(field) = filter.field {
        narrow("t.field =", Box::new(field.to_owned()));
    }
    if let Some(subject) = filter.subject {
        let subject = encode(&subject.to_value());
        narrow("substr(v.subject, -8) =", Box::new(last_bytes(&subject)));
        narrow("v.subject =", Box::new(subject));
    }
    if let Some(session) = filter.session {
        narrow("v.day IS NULL AND substr(v.session, -8) =", Box::new(last_bytes(&session.0)));
        narrow("v.session =", Box::new(session.0.to_vec()));
    }
    if let Some((first, last)) = filter.days {
        narrow("v.day >=", Box::new(first.number()));
        narrow("v.day <=", Box::new(last.number()));
    }
    if filter.clashing {
        // One pass over an index that has both. Two subjects may end alike: what has
        // one live entry is left out below.
        sql.push_str(
            " AND (v.topic, substr(v.subject, -8)) IN
                  (SELECT topic, substr(subject, -8) FROM live
                   GROUP BY topic, substr(subject, -8) HAVING count(*) > 1)",
        );
    }
    // The newest value of a fact first; ties by hash, the same on every device.
    sql.push_str(" ORDER BY v.stamp_ms DESC, e.hash DESC");
    let mut statement = c.prepare_cached(&sql)?;
    let mut rows = statement.query(rusqlite::params_from_iter(values.iter()))?;
    let mut found: BTreeMap<Key, Gathered> = BTreeMap::new();
    while let Some(r) = rows.next()? {
        let subject: Vec<u8> = r.get(2)?;
        let key = Key {
            scope: read_scope(&r.get::<_, Vec<u8>>(0)?)?,
            kind: r.get(1)?,
            subject: decode(&subject)
                .ok()
                .and_then(|v| Subject::from_value(&v))
                .ok_or_else(|| damaged("a subject expected"))?,
            field: r.get(3)?,
        };
        let header = header(&r.get::<_, Vec<u8>>(9)?)?;
        let payload: Vec<u8> = r.get::<_, Option<Vec<u8>>>(10)?.unwrap_or_default();
        let read = Fact::read(&key.kind, &key.field, &payload);
        let (fact, extra) = match read {
            Ok((fact, extra)) => (Ok(fact), extra),
            Err(e) => (Err(e), Extra::new()),
        };
        let live = Live {
            place: Place { line: r.get(4)?, seq: r.get(5)? },
            hash: Hash(bytes32(r, 6)?),
            device: DeviceKey(bytes32(r, 7)?),
            stamp: Stamp { ms: r.get(8)?, zone_min: header.zone_min },
            fact,
            extra,
        };
        match found.get_mut(&key) {
            // Equal values written at once are one value.
            Some(gathered) => {
                gathered.held.seen.push(live.hash);
                if !gathered.payloads.contains(&payload) {
                    gathered.payloads.push(payload);
                    gathered.held.values.push(live);
                }
            }
            None => {
                let seen = vec![live.hash];
                let held = Held { key: key.clone(), values: vec![live], seen };
                found.insert(key, Gathered { day: r.get(11)?, held, payloads: vec![payload] });
            }
        }
    }
    let mut list: Vec<Gathered> = found.into_values().collect();
    list.retain(|g| !filter.clashing || g.held.seen.len() > 1);
    list.retain(|g| g.held.is_clash() || !matches!(g.held.value().fact, Ok(Fact::Deleted)));
    list.sort_by_key(|g| (g.day, g.held.value().stamp, g.held.value().place));
    Ok(list.into_iter().map(|g| g.held).collect())
}

/// What a subject or a session is looked up by.
fn last_bytes(of: &[u8]) -> Vec<u8> {
    of[of.len().saturating_sub(8)..].to_vec()
}

/// A fact while its live values are gathered.
struct Gathered {
    day: Option<i32>,
    held: Held,
    payloads: Vec<Vec<u8>>,
}

#[cfg(test)]
mod tests {
    use pitside_model::facts::{Day, RestDay};
    use tempfile::TempDir;
    use zeroize::Zeroizing;

    use super::*;
    use crate::keys::{Identity, Seed};
    use crate::store::Draft;

    const NOW: Stamp = Stamp { ms: 1_795_608_000_000, zone_min: 60 };

    fn rest(day: i32) -> Draft {
        Draft::new(Fact::Rest(RestDay { day: Day::parse("2020-01-01").unwrap().plus(day) }))
    }

    #[test]
    fn what_was_put_right_lately_is_found_without_reading_the_years_before() {
        let folder = TempDir::new().unwrap();
        let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new([1; 32])));
        let book = Book::create(folder.path(), identity, false).unwrap();
        let member = book.start_member(NOW).unwrap();
        let scope = Scope::Member(member);
        let years: Vec<_> = (0..1_500).map(|day| (scope, rest(day))).collect();
        let all = book.write_all(&years, NOW).unwrap();
        let look = |id: Hash| {
            let mut found = BTreeMap::new();
            let read = book.reading(|c| first_entries(c, scope, &[id], &mut found)).unwrap();
            assert_eq!(found.keys().copied().collect::<Vec<_>>(), [id]);
            read
        };
        assert_eq!(look(all[1_499]), PIECE);
        assert_eq!(look(all[1_499 - 100]), 2 * PIECE);
        assert_eq!(look(all[0]), 1_500, "the first is found, too");
        let nowhere = book.reading(|c| first_entries(c, scope, &[Hash([9; 32])], &mut BTreeMap::new()));
        assert_eq!(nowhere.unwrap(), 1_500, "and what is not there ends");
    }
}
