//! The whole book as merge sees it, to check it against the rules.

use std::collections::BTreeSet;

use pitside_log::authority::Judgement;
use pitside_log::entry::{Entry, Key};
use pitside_log::reference::State;
use pitside_model::cbor::decode;
use pitside_model::facts::{DeviceKey, Hash, Subject};

use super::ledger::{self, bytes32, damaged, judgement_of, scope as read_scope};
use super::line::Place;
use super::{Book, BookError};

impl Book {
    /// Every entry that is held, with the device of its log: the lines in the order
    /// in which they came, the entries of each by number.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn entries(&self) -> Result<Vec<(DeviceKey, Entry)>, BookError> {
        self.reading(|c| {
            let places: Vec<Place> = c
                .prepare_cached("SELECT line, seq FROM entries ORDER BY line, seq")?
                .query_map([], |r| Ok(Place { line: r.get(0)?, seq: r.get(1)? }))?
                .collect::<Result<_, _>>()?;
            let entries = places.into_iter().map(|place| {
                let (entry, device) = ledger::entry(c, place)?;
                Ok((device, entry))
            });
            entries.collect()
        })
    }

    /// What the projection says, in the form of the
    /// [reference](mod@pitside_log::reference): the two must be equal.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn state(&self) -> Result<State, BookError> {
        self.reading(|c| {
            let mut state = State { authority: ledger::authority(c)?, ..State::default() };
            let mut statement = c.prepare_cached("SELECT hash, judgement FROM entries")?;
            let mut rows = statement.query([])?;
            while let Some(r) = rows.next()? {
                let judgement = r.get::<_, Option<i64>>(1)?.map_or(Judgement::Waiting, judgement_of);
                state.judgements.insert(Hash(bytes32(r, 0)?), judgement);
            }
            let mut statement = c.prepare_cached(
                "SELECT t.scope, t.kind, t.field, v.subject, e.hash FROM live v
                 JOIN topics t ON t.id = v.topic JOIN entries e ON e.line = v.line AND e.seq = v.seq",
            )?;
            let mut rows = statement.query([])?;
            while let Some(r) = rows.next()? {
                let subject = decode(&r.get::<_, Vec<u8>>(3)?).ok().and_then(|v| Subject::from_value(&v));
                let key = Key {
                    scope: read_scope(&r.get::<_, Vec<u8>>(0)?)?,
                    kind: r.get(1)?,
                    field: r.get(2)?,
                    subject: subject.ok_or_else(|| damaged("a subject expected"))?,
                };
                state.live.entry(key).or_default().insert(Hash(bytes32(r, 4)?));
            }
            let places: BTreeSet<Place> = c
                .prepare_cached(
                    "SELECT e.line, e.seq FROM withdrawn w JOIN lines l ON l.scope = w.scope
                     JOIN entries e ON e.line = l.id AND e.hash = w.hash WHERE e.judgement = 1",
                )?
                .query_map([], |r| Ok(Place { line: r.get(0)?, seq: r.get(1)? }))?
                .collect::<Result<_, _>>()?;
            for place in places {
                let (entry, _) = ledger::entry(c, place)?;
                if entry.can_be_withdrawn() {
                    state.withdrawn.insert(entry.hash);
                }
            }
            Ok(state)
        })
    }
}
