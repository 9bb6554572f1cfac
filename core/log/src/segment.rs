//! A segment: the entries of one log from one seal to a later one, as they
//! travel.
//!
//! `[[log id, first seq, hash before it, opening or null, [header …], [payload …], seal], salts]`;
//! the salts stand one after the other in one byte string. An entry whose body was
//! taken away has `null` for its payload and its commitment among the salts. The
//! opening record goes along where the segment begins the log.
//!
//! Salts and commitments are bytes that nothing packs, and in between they keep the
//! rest from being packed well: a [batch](crate::sync::Batch) carries them apart.
//!
//! On receipt only what does not depend on order is checked: sizes, encoding,
//! the chain of hashes, the seal, and that the key is the log's. Whether an
//! entry counts is merge's to say.

use pitside_model::cbor::Value;
use pitside_model::facts::{Hash, LogId};

use crate::entry::{Body, Content, Entry, EntryError, origin};
use crate::opening::{Opening, OpeningError};
use crate::seal::{MAX_ENTRIES, Seal};

/// Entries of one log, sealed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Segment {
    /// The log.
    pub log: LogId,
    /// The number of the first entry, from 1.
    pub first_seq: u64,
    /// The hash of the entry before the first.
    pub before: Hash,
    /// The opening record, where the segment begins the log.
    pub opening: Option<Opening>,
    /// Header and content of each entry.
    pub entries: Vec<(Vec<u8>, Content)>,
    /// The seal after the last entry.
    pub seal: Seal,
}

/// Why a segment is refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SegmentError {
    /// Not of the shape of a segment.
    #[error("not a segment: {0} is not as it should be")]
    Shape(&'static str),
    /// The opening record is wrong.
    #[error(transparent)]
    Opening(#[from] OpeningError),
    /// The opening record opens another log.
    #[error("log {0}: its opening record is another log's")]
    OtherLog(LogId),
    /// An entry is wrong.
    #[error("log {log}, entry {seq}: {source}")]
    Entry {
        /// The log.
        log: LogId,
        /// The number of the entry.
        seq: u64,
        /// What is wrong.
        source: EntryError,
    },
    /// It has no entries, or more than lie between two seals.
    #[error("log {log}: {found} entries between two seals, 1 to {MAX_ENTRIES} are allowed")]
    Count {
        /// The log.
        log: LogId,
        /// How many there are.
        found: usize,
    },
    /// The chain of hashes does not end at the seal.
    #[error("log {0}: the seal is not that of these entries")]
    Chain(LogId),
    /// What came before it is not held.
    #[error("log {log}: what came begins with entry {first}, and the one before it is not held")]
    Gap {
        /// The log.
        log: LogId,
        /// The first that came.
        first: u64,
    },
    /// The seal is not by the log's device.
    #[error("log {0}: the seal is not signed by the log's device")]
    Signature(LogId),
}

impl Segment {
    /// As CBOR.
    #[must_use]
    pub fn to_value(&self) -> Value {
        let mut salts = Vec::new();
        let rest = self.apart(&mut salts);
        Value::Array(vec![rest, Value::Bytes(salts)])
    }

    /// As CBOR without the salts, which are added to the others.
    pub(crate) fn apart(&self, salts: &mut Vec<u8>) -> Value {
        let (mut headers, mut payloads) = (Vec::new(), Vec::new());
        for (header, content) in &self.entries {
            headers.push(Value::Bytes(header.clone()));
            payloads.push(match content {
                Content::Body(body) => {
                    salts.extend(body.salt);
                    Value::Bytes(body.payload.clone())
                }
                Content::Commitment(commitment) => {
                    salts.extend(commitment);
                    Value::Null
                }
            });
        }
        Value::Array(vec![
            self.log.to_value(),
            self.first_seq.into(),
            self.before.to_value(),
            self.opening.as_ref().map_or(Value::Null, Opening::to_value),
            Value::Array(headers),
            Value::Array(payloads),
            self.seal.to_value(),
        ])
    }

    /// From CBOR; checks the opening record's signature, and nothing else yet.
    ///
    /// # Errors
    /// [`SegmentError`] where the shape or the opening record is wrong.
    pub fn from_value(value: &Value) -> Result<Self, SegmentError> {
        let Value::Array(items) = value else { return Err(SegmentError::Shape("outline")) };
        let [rest, Value::Bytes(salts)] = items.as_slice() else {
            return Err(SegmentError::Shape("outline"));
        };
        let mut salts = salts.as_slice();
        let segment = Self::from_apart(rest, &mut salts)?;
        if salts.is_empty() { Ok(segment) } else { Err(SegmentError::Shape("list of salts")) }
    }

    /// From CBOR without the salts, which are taken from the front of `salts`.
    pub(crate) fn from_apart(value: &Value, salts: &mut &[u8]) -> Result<Self, SegmentError> {
        let Value::Array(items) = value else { return Err(SegmentError::Shape("outline")) };
        let [log, Value::Int(first), before, opening, Value::Array(headers), Value::Array(payloads), seal] =
            items.as_slice()
        else {
            return Err(SegmentError::Shape("outline"));
        };
        if headers.len() != payloads.len() {
            return Err(SegmentError::Shape("list of payloads"));
        }
        let mut entry = |(header, payload): (&Value, &Value)| {
            let Value::Bytes(header) = header else { return None };
            let content = match payload {
                Value::Bytes(payload) => {
                    Content::Body(Body { salt: front(salts)?, payload: payload.clone() })
                }
                Value::Null => Content::Commitment(front(salts)?),
                _ => return None,
            };
            Some((header.clone(), content))
        };
        Ok(Self {
            log: LogId::from_value(log).ok_or(SegmentError::Shape("log"))?,
            first_seq: u64::try_from(*first)
                .ok()
                .filter(|n| (1..=u64::MAX >> 1).contains(n))
                .ok_or(SegmentError::Shape("first number"))?,
            before: Hash::from_value(before).ok_or(SegmentError::Shape("hash before"))?,
            opening: match opening {
                Value::Null => None,
                other => Some(Opening::from_value(other)?),
            },
            entries: headers
                .iter()
                .zip(payloads)
                .map(&mut entry)
                .collect::<Option<_>>()
                .ok_or(SegmentError::Shape("entry"))?,
            seal: Seal::from_value(seal).ok_or(SegmentError::Shape("seal"))?,
        })
    }

    /// Checks it against the log it belongs to and gives its entries.
    ///
    /// `known` is the log's opening record where the receiver has it; the one in
    /// the segment is used otherwise.
    ///
    /// # Errors
    /// [`SegmentError`], which names log and entry.
    pub fn check(&self, known: Option<&Opening>) -> Result<(Opening, Vec<Entry>), SegmentError> {
        let opening = known.or(self.opening.as_ref()).ok_or(SegmentError::Shape("opening record"))?;
        if opening.id() != self.log || self.opening.as_ref().is_some_and(|o| o != opening) {
            return Err(SegmentError::OtherLog(self.log));
        }
        let count = self.entries.len();
        if count == 0 || count as u64 > MAX_ENTRIES {
            return Err(SegmentError::Count { log: self.log, found: count });
        }
        if self.first_seq == 1 && self.before != origin(self.log) {
            return Err(SegmentError::Chain(self.log));
        }
        let mut before = self.before;
        let mut entries = Vec::with_capacity(count);
        for (seq, (header, content)) in (self.first_seq..).zip(&self.entries) {
            let entry =
                Entry::from_parts(self.log, seq, opening.scope, before, header.clone(), content.clone())
                    .map_err(|source| SegmentError::Entry { log: self.log, seq, source })?;
            before = entry.hash;
            entries.push(entry);
        }
        let last = self.first_seq + (count as u64 - 1);
        let seal = &self.seal;
        if (seal.log, seal.seq, seal.hash) != (self.log, last, before) {
            return Err(SegmentError::Chain(self.log));
        }
        if !seal.is_by(opening.device) {
            return Err(SegmentError::Signature(self.log));
        }
        Ok((opening.clone(), entries))
    }
}

/// Takes bytes from the front.
fn front<const N: usize>(bytes: &mut &[u8]) -> Option<[u8; N]> {
    let (first, rest) = bytes.split_first_chunk()?;
    *bytes = rest;
    Some(*first)
}
