//! An entry: one fact, in its place in a log.
//!
//! * header: `[v, kind, target, stamp_ms, zone_min, [replaces …]]`
//! * body: 16 bytes of salt, and the payload; commitment =
//!   SHA-256("body1" ‖ salt ‖ payload)
//! * hash = SHA-256("entry1" ‖ log id ‖ seq ‖ hash of the entry before ‖ header ‖ commitment)
//!
//! The hash of an entry that writes a fact down anew is the fact's identity: two
//! entries in one place of a log that was written twice are two facts.
//!
//! Kind, target and what is replaced stand in the header, so that a device keeps
//! track of what is live among kinds that it does not know. The body can go
//! while the chain stays whole; the salt keeps a short payload from being
//! guessed from its commitment. Where the body travels the commitment does not.

use pitside_model::cbor::{CborError, Value, decode, encode};
use pitside_model::facts::{Hash, LogId, Scope, Subject, field_name, kind};

use crate::sha256;

/// The version of the envelope that this code writes.
pub const VERSION: u8 = 1;
/// The largest header, in bytes.
pub const MAX_HEADER: usize = 4 * 1024;
/// The largest payload, in bytes.
pub const MAX_PAYLOAD: usize = 32 * 1024;
/// The most entries that one entry replaces.
pub const MAX_REPLACES: usize = 64;
/// The longest name of a kind or a field, in bytes.
pub const MAX_NAME: usize = 40;

/// The field of an earlier fact that an entry is about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Target {
    /// The fact, member, exercise or device.
    pub subject: Subject,
    /// Which field of it; empty for the whole.
    pub field: String,
}

/// What an entry says about itself.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Header {
    /// The kind of fact.
    pub kind: String,
    /// What it is about; `None` for a fact written down anew.
    pub target: Option<Target>,
    /// Wall clock of the device, milliseconds since the Unix epoch. For display.
    pub stamp_ms: i64,
    /// Minutes east of UTC on that device.
    pub zone_min: i16,
    /// The entries that its author saw and that this one takes the place of.
    pub replaces: Vec<Hash>,
}

/// What travels beside the header.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Body {
    /// Sixteen random bytes.
    pub salt: [u8; 16],
    /// Deterministic CBOR; `null` is a deletion.
    pub payload: Vec<u8>,
}

/// What an entry says, or what is left of it after its body was taken away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content {
    /// Salt and payload.
    Body(Body),
    /// Only what they are known by.
    Commitment([u8; 32]),
}

/// One fact in its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its log.
    pub log: LogId,
    /// Its number in the log, from 1.
    pub seq: u64,
    /// The scope of its log.
    pub scope: Scope,
    /// The hash of the entry before it.
    pub before: Hash,
    /// Its hash.
    pub hash: Hash,
    /// The header as it was received, byte for byte.
    pub header_bytes: Vec<u8>,
    /// The header as this version reads it.
    pub header: Header,
    /// What it says.
    pub content: Content,
}

/// What an entry is the value of: entries with the same key replace each other
/// or clash.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Key {
    /// The scope.
    pub scope: Scope,
    /// The kind of fact.
    pub kind: String,
    /// The fact, member, exercise or device.
    pub subject: Subject,
    /// Which field of it; empty for the whole.
    pub field: String,
}

/// Why bytes are not an entry.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EntryError {
    /// The header is too large.
    #[error("the header has {0} bytes, at most {MAX_HEADER} are allowed")]
    HeaderSize(usize),
    /// The payload is too large.
    #[error("the payload has {0} bytes, at most {MAX_PAYLOAD} are allowed")]
    PayloadSize(usize),
    /// Not deterministic CBOR.
    #[error("{part}: {source}")]
    Cbor {
        /// Header or payload.
        part: &'static str,
        /// What is wrong.
        source: CborError,
    },
    /// Deterministic CBOR, but not of the shape of a header.
    #[error("the header's {0} is not as it should be")]
    Shape(&'static str),
    /// Salt and payload do not give the entry's commitment.
    #[error("the body is not this entry's")]
    Commitment,
}

impl Body {
    /// SHA-256("body1" ‖ salt ‖ payload).
    #[must_use]
    pub fn commitment(&self) -> [u8; 32] {
        sha256(&[b"body1", &self.salt, &self.payload])
    }
}

impl Content {
    /// SHA-256("body1" ‖ salt ‖ payload).
    #[must_use]
    pub fn commitment(&self) -> [u8; 32] {
        match self {
            Self::Body(body) => body.commitment(),
            Self::Commitment(commitment) => *commitment,
        }
    }
    /// The body, where it was not taken away.
    #[must_use]
    pub fn body(&self) -> Option<&Body> {
        match self {
            Self::Body(body) => Some(body),
            Self::Commitment(_) => None,
        }
    }
    /// Checks the body's size and encoding.
    ///
    /// # Errors
    /// [`EntryError::PayloadSize`], [`EntryError::Cbor`].
    pub fn check(&self) -> Result<(), EntryError> {
        let Self::Body(body) = self else { return Ok(()) };
        if body.payload.len() > MAX_PAYLOAD {
            return Err(EntryError::PayloadSize(body.payload.len()));
        }
        decode(&body.payload).map_err(|source| EntryError::Cbor { part: "payload", source })?;
        Ok(())
    }
}

impl Header {
    /// The header in its one encoding.
    #[must_use]
    pub fn to_bytes(&self) -> Vec<u8> {
        let target = self
            .target
            .as_ref()
            .map_or(Value::Null, |t| Value::Array(vec![t.subject.to_value(), t.field.as_str().into()]));
        encode(&Value::Array(vec![
            VERSION.into(),
            self.kind.as_str().into(),
            target,
            self.stamp_ms.into(),
            self.zone_min.into(),
            Value::Array(self.replaces.iter().map(|h| h.to_value()).collect()),
        ]))
    }

    /// Reads a header. One of a later version may have more elements at its
    /// end: they are left alone and stay in the bytes.
    ///
    /// # Errors
    /// [`EntryError`], which names the part.
    pub fn from_bytes(bytes: &[u8]) -> Result<Self, EntryError> {
        if bytes.len() > MAX_HEADER {
            return Err(EntryError::HeaderSize(bytes.len()));
        }
        let value = decode(bytes).map_err(|source| EntryError::Cbor { part: "header", source })?;
        let Value::Array(items) = value else { return Err(EntryError::Shape("outline")) };
        let [v, kind, target, stamp, zone, replaces, later @ ..] = items.as_slice() else {
            return Err(EntryError::Shape("outline"));
        };
        match v {
            Value::Int(1) if later.is_empty() => {}
            Value::Int(2..=255) => {}
            _ => return Err(EntryError::Shape("version")),
        }
        let name = |v: &Value| match v {
            Value::Text(t) if t.len() <= MAX_NAME => Some(t.clone()),
            _ => None,
        };
        let target = match target {
            Value::Null => None,
            Value::Array(pair) => match pair.as_slice() {
                [subject, field] => Some(Target {
                    subject: Subject::from_value(subject).ok_or(EntryError::Shape("target"))?,
                    field: name(field).ok_or(EntryError::Shape("field"))?,
                }),
                _ => return Err(EntryError::Shape("target")),
            },
            _ => return Err(EntryError::Shape("target")),
        };
        let (Value::Int(stamp), Value::Int(zone)) = (stamp, zone) else {
            return Err(EntryError::Shape("stamp"));
        };
        let replaces = match replaces {
            Value::Array(items) if items.len() <= MAX_REPLACES => {
                items.iter().map(Hash::from_value).collect::<Option<Vec<_>>>()
            }
            _ => None,
        };
        Ok(Self {
            kind: name(kind).filter(|k| !k.is_empty()).ok_or(EntryError::Shape("kind"))?,
            target,
            stamp_ms: i64::try_from(*stamp).map_err(|_| EntryError::Shape("stamp"))?,
            zone_min: i16::try_from(*zone)
                .ok()
                .filter(|z| z.unsigned_abs() <= 24 * 60)
                .ok_or(EntryError::Shape("zone"))?,
            replaces: replaces.ok_or(EntryError::Shape("list of replaced entries"))?,
        })
    }
}

/// SHA-256("entry1" ‖ log id ‖ seq ‖ hash of the entry before ‖ header ‖ commitment);
/// the entry before the first is the log itself.
#[must_use]
pub fn hash(log: LogId, seq: u64, before: Hash, header: &[u8], commitment: &[u8; 32]) -> Hash {
    Hash(sha256(&[b"entry1", &log.0, &seq.to_be_bytes(), &before.0, header, commitment]))
}

/// The name of a branch of a log that was written twice:
/// SHA-256("branch1" ‖ log id ‖ hash of the branch's first own entry). The same
/// on every device that holds the proof.
#[must_use]
pub fn branch(log: LogId, first: Hash) -> Hash {
    Hash(sha256(&[b"branch1", &log.0, &first.0]))
}

/// What stands before the first entry of a log.
#[must_use]
pub fn origin(log: LogId) -> Hash {
    Hash(log.0)
}

impl Entry {
    /// An entry from its bytes; checks sizes and encoding.
    ///
    /// # Errors
    /// [`EntryError`], which names the part.
    pub fn from_parts(
        log: LogId,
        seq: u64,
        scope: Scope,
        before: Hash,
        header_bytes: Vec<u8>,
        content: Content,
    ) -> Result<Self, EntryError> {
        let header = Header::from_bytes(&header_bytes)?;
        content.check()?;
        let hash = hash(log, seq, before, &header_bytes, &content.commitment());
        Ok(Self { log, seq, scope, before, hash, header_bytes, header, content })
    }

    /// The body, where it was not taken away.
    #[must_use]
    pub fn body(&self) -> Option<&Body> {
        self.content.body()
    }

    /// What it is the value of. A fact written down anew is its own subject.
    #[must_use]
    pub fn key(&self) -> Key {
        let (subject, field) = match &self.header.target {
            None => (Subject::Fact(self.hash), field_name::WHOLE.to_owned()),
            Some(target) => (target.subject, target.field.clone()),
        };
        Key { scope: self.scope, kind: self.header.kind.clone(), subject, field }
    }

    /// Whether authority follows from it: the founding, admissions and removals,
    /// who is one athlete, and whose data go.
    #[must_use]
    pub fn is_act(&self) -> bool {
        let founding = self.header.kind == kind::SQUAD && self.header.target.is_none();
        let act = matches!(self.header.kind.as_str(), kind::DEVICE | kind::SAME_PERSON | kind::ERASURE);
        self.scope == Scope::Squad && (founding || act)
    }

    /// The entry whose body this one takes away.
    #[must_use]
    pub fn withdraws(&self) -> Option<Hash> {
        match &self.header.target {
            Some(Target { subject: Subject::Fact(hash), field })
                if self.header.kind == kind::WITHDRAWAL && field == field_name::WHOLE =>
            {
                Some(*hash)
            }
            _ => None,
        }
    }

    /// Whether its body may be taken away. What others' authority hangs on stays, and
    /// so do limits, advice, rules and consents: whoever may write training may write withdrawals,
    /// and neither an athlete lifts a limit by one nor a coach a consent taken back.
    #[must_use]
    pub fn can_be_withdrawn(&self) -> bool {
        !self.is_act() && !is_bound(&self.header.kind)
    }
}

/// Whether a kind bounds what others may do, or takes something away: no entry of it can be
/// withdrawn.
#[must_use]
pub fn is_bound(kind: &str) -> bool {
    matches!(kind, kind::WITHDRAWAL | kind::LIMIT | kind::ADVICE | kind::RULE | kind::CONSENT)
}

#[cfg(test)]
mod tests {
    use super::*;
    use pitside_model::facts::{DeviceKey, MemberId};
    use proptest::prelude::*;
    use uuid::Uuid;

    const LOG: LogId = LogId([2; 32]);

    fn any_header() -> impl Strategy<Value = Header> {
        let subject = prop_oneof![
            any::<[u8; 32]>().prop_map(|h| Subject::Fact(Hash(h))),
            any::<u128>().prop_map(|n| Subject::Uuid(Uuid::from_u128(n))),
            any::<[u8; 32]>().prop_map(|k| Subject::Device(DeviceKey(k))),
        ];
        let target = proptest::option::of(
            (subject, "[a-z]{0,12}").prop_map(|(subject, field)| Target { subject, field }),
        );
        ("[a-z-]{1,20}", target, any::<i64>(), -1_440_i16..=1_440, any::<[u8; 32]>(), 0_usize..4).prop_map(
            |(kind, target, stamp_ms, zone_min, replaced, n)| Header {
                kind,
                target,
                stamp_ms,
                zone_min,
                replaces: vec![Hash(replaced); n],
            },
        )
    }

    fn plain() -> Header {
        Header { kind: "set".into(), target: None, stamp_ms: 5, zone_min: 60, replaces: vec![] }
    }

    proptest! {
        #[test]
        fn a_header_is_read_as_it_was_written(header in any_header()) {
            prop_assert_eq!(Header::from_bytes(&header.to_bytes()), Ok(header));
        }

        #[test]
        fn a_damaged_header_is_another_header_or_an_error(
            header in any_header(), at in any::<prop::sample::Index>(), bit in 0_u8..8,
        ) {
            let mut bytes = header.to_bytes();
            // The second byte is the version: another one is another envelope.
            let at = at.index(bytes.len());
            prop_assume!(at != 1);
            bytes[at] ^= 1 << bit;
            if let Ok(other) = Header::from_bytes(&bytes) {
                prop_assert_ne!(other, header);
            }
        }
    }

    #[test]
    fn a_header_of_a_later_version_is_read_as_far_as_it_is_known() {
        let member = MemberId(Uuid::from_u128(4));
        let Ok(Value::Array(mut items)) = decode(&plain().to_bytes()) else { panic!() };
        items.push(7.into());
        assert_eq!(
            Header::from_bytes(&encode(&Value::Array(items.clone()))),
            Err(EntryError::Shape("version")),
            "version 1 has no seventh element"
        );
        items[0] = 2.into();
        let bytes = encode(&Value::Array(items));
        assert_eq!(Header::from_bytes(&bytes), Ok(plain()));
        let content = Content::Commitment([1; 32]);
        let entry = Entry::from_parts(LOG, 1, Scope::Member(member), origin(LOG), bytes.clone(), content);
        assert_eq!(entry.unwrap().header_bytes, bytes);
    }

    #[test]
    fn an_entry_keeps_its_hash_when_its_body_goes_and_has_another_with_another_body() {
        let body = Body { salt: [0; 16], payload: encode(&Value::Null) };
        let make = |content| {
            Entry::from_parts(LOG, 1, Scope::Squad, origin(LOG), plain().to_bytes(), content).unwrap()
        };
        let whole = make(Content::Body(body.clone()));
        assert_eq!(make(Content::Commitment(body.commitment())).hash, whole.hash);
        let other = Body { payload: encode(&Value::Bool(true)), ..body.clone() };
        assert_ne!(make(Content::Body(other)).hash, whole.hash);
        let salted = Body { salt: [1; 16], ..body };
        assert_ne!(make(Content::Body(salted)).hash, whole.hash);
    }

    #[test]
    fn a_branch_is_named_by_the_entry_that_diverges() {
        assert_ne!(branch(LOG, Hash([1; 32])), branch(LOG, Hash([2; 32])));
        assert_ne!(branch(LOG, Hash([1; 32])), branch(LogId([3; 32]), Hash([1; 32])));
    }
}
