//! The messages of a conversation, as deterministic CBOR arrays that begin with
//! the message's number.

use pitside_model::cbor::{CborError, Value, decode, encode};
use pitside_model::facts::{Head, MemberId, SquadId};

use crate::entry::Body;
use crate::segment::{Segment, SegmentError};

/// The protocol this version speaks.
pub const PROTOCOL: u32 = 1;
/// The largest message, in bytes.
pub const MAX_MESSAGE: usize = 1024 * 1024;
/// The length of an invitation's secret, in bytes.
pub const SECRET: usize = 16;
/// The most heads in one message.
const MAX_HEADS: usize = 8_192;
/// The most segments in one batch, and the most bodies asked for or sent at once.
const MAX_SEGMENTS: usize = 1_024;
/// The most segments that a device shows for itself.
const MAX_CREDENTIALS: usize = 8;
/// Small messages travel fast enough; most of a batch is stamps and names again.
const COMPRESSION: i32 = 9;

/// The first message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hello {
    /// The oldest and newest protocol that the sender speaks.
    pub protocols: (u32, u32),
    /// The sender's squad, once it has one.
    pub squad: Option<SquadId>,
    /// The sender's wall clock, milliseconds since the Unix epoch.
    pub clock_ms: i64,
    /// What a guest shows who was invited.
    pub join: Option<Join>,
    /// Squad-wide entries that the other may not have yet and that admit the
    /// sender: those of the recovery key.
    pub credentials: Vec<Segment>,
}

/// A guest's answer to an invitation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Join {
    /// The invitation's one-time secret.
    pub secret: [u8; SECRET],
    /// The members that the guest's device serves already.
    pub members: Vec<MemberId>,
}

/// What a side has, and what it lacks of that.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Have {
    /// The heads of its logs that the other may know of; of a log that was written
    /// twice one for each branch.
    pub heads: Vec<Head>,
    /// Entries whose body it lacks, though nobody withdrew it.
    pub lacking: Vec<Head>,
}

/// What the other side lacks; empty for "nothing more for now".
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Batch {
    /// Sealed segments, those of one log in order.
    pub segments: Vec<Segment>,
    /// Bodies of entries that the other has without them.
    pub bodies: Vec<(Head, Body)>,
}

impl Batch {
    /// Whether it says "nothing more for now".
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.segments.is_empty() && self.bodies.is_empty()
    }
}

/// Why a side ends the conversation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, thiserror::Error)]
pub enum Refusal {
    /// No common protocol.
    #[error("the two devices speak different versions of the protocol: one of them needs an update")]
    Protocol,
    /// The two belong to different squads.
    #[error("the two devices belong to different squads")]
    OtherSquad,
    /// The other device is not admitted to the squad.
    #[error("this device is not admitted to the squad: the coach invites it first")]
    NotAdmitted,
    /// The invitation is unknown or used.
    #[error("the invitation is not known, or was used already: ask the coach for a new one")]
    Invitation,
    /// The invitation's time is over.
    #[error("the invitation's time is over by the coach's clock: ask for a new one")]
    Expired,
    /// A message out of its turn.
    #[error("a message came out of its turn")]
    Turn,
    /// Bytes that are no message.
    #[error("what was sent is not a message of this protocol")]
    Garbage,
    /// A log that the receiver may not hold.
    #[error("entries were sent of a scope that this device may not hold")]
    Scope,
    /// A segment that does not hold together.
    #[error("entries were sent whose chain or seal does not hold")]
    Segment,
    /// The sender's own store failed.
    #[error("the other device could not write to its own book")]
    Store,
    /// The inviter may admit nobody any more.
    #[error(
        "the device that invited may admit nobody any more: ask a coach of the squad for a new invitation"
    )]
    NotOwner,
}

/// By their number; one that is added goes to the end.
const REFUSALS: [Refusal; 11] = [
    Refusal::Protocol,
    Refusal::OtherSquad,
    Refusal::NotAdmitted,
    Refusal::Invitation,
    Refusal::Expired,
    Refusal::Turn,
    Refusal::Garbage,
    Refusal::Scope,
    Refusal::Segment,
    Refusal::Store,
    Refusal::NotOwner,
];

/// One message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Message {
    /// 0
    Hello(Hello),
    /// 1
    Have(Have),
    /// 2
    Batch(Batch),
    /// 3: the heads of what the sender has whole.
    Receipt(Vec<Head>),
    /// 4
    Bye,
    /// 5
    Refuse(Refusal),
}

/// Why bytes are not a message.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MessageError {
    /// Larger than [`MAX_MESSAGE`].
    #[error("the message has {0} bytes, at most {MAX_MESSAGE} are allowed")]
    Size(usize),
    /// Not deterministic CBOR.
    #[error(transparent)]
    Cbor(#[from] CborError),
    /// Not of the shape of a message.
    #[error("not a message: {0} is not as it should be")]
    Shape(&'static str),
    /// A batch that cannot be unpacked, or is larger than [`MAX_MESSAGE`] then.
    #[error("the batch cannot be unpacked, or has more than {MAX_MESSAGE} bytes then")]
    Packed,
    /// A segment in it is refused.
    #[error(transparent)]
    Segment(#[from] SegmentError),
}

fn heads_value(heads: &[Head]) -> Value {
    Value::Array(heads.iter().map(|h| h.to_value()).collect())
}

fn heads_of(value: &Value, most: usize) -> Option<Vec<Head>> {
    let Value::Array(items) = value else { return None };
    if items.len() > most {
        return None;
    }
    items.iter().map(Head::from_value).collect()
}

impl Have {
    fn to_value(&self) -> Value {
        Value::Array(vec![heads_value(&self.heads), heads_value(&self.lacking)])
    }
    fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        let [heads, lacking] = items.as_slice() else { return None };
        Some(Self { heads: heads_of(heads, MAX_HEADS)?, lacking: heads_of(lacking, MAX_SEGMENTS)? })
    }
}

impl Batch {
    /// As `[packed, salts]`; packed is `[[segment …], [[entry, payload] …]]`, the
    /// salts those of the segments and then of the bodies.
    fn to_value(&self) -> Value {
        let mut salts = Vec::new();
        let segments = self.segments.iter().map(|segment| segment.apart(&mut salts)).collect();
        let bodies = self.bodies.iter().map(|(head, body)| {
            salts.extend(body.salt);
            Value::Array(vec![head.to_value(), Value::Bytes(body.payload.clone())])
        });
        let rest = Value::Array(vec![Value::Array(segments), Value::Array(bodies.collect())]);
        Value::Array(vec![Value::Bytes(pack(&encode(&rest))), Value::Bytes(salts)])
    }
    fn from_value(value: &Value) -> Result<Self, MessageError> {
        let shape = || MessageError::Shape("batch");
        let Value::Array(parts) = value else { return Err(shape()) };
        let [Value::Bytes(packed), Value::Bytes(salts)] = parts.as_slice() else { return Err(shape()) };
        let Value::Array(items) = decode(&unpack(packed)?)? else { return Err(shape()) };
        let [Value::Array(segments), Value::Array(bodies)] = items.as_slice() else { return Err(shape()) };
        if segments.len() > MAX_SEGMENTS || bodies.len() > MAX_SEGMENTS {
            return Err(shape());
        }
        let mut salts = salts.as_slice();
        let segments =
            segments.iter().map(|v| Segment::from_apart(v, &mut salts)).collect::<Result<_, _>>()?;
        let body = |v: &Value| {
            let Value::Array(parts) = v else { return None };
            let [head, Value::Bytes(payload)] = parts.as_slice() else { return None };
            let (salt, rest) = salts.split_first_chunk()?;
            salts = rest;
            Some((Head::from_value(head)?, Body { salt: *salt, payload: payload.clone() }))
        };
        let bodies = bodies.iter().map(body).collect::<Option<_>>().ok_or_else(shape)?;
        if salts.is_empty() { Ok(Self { segments, bodies }) } else { Err(shape()) }
    }
}

impl Hello {
    fn to_value(&self) -> Value {
        let join = self.join.as_ref().map_or(Value::Null, |join| {
            let members = join.members.iter().map(|m| m.to_value()).collect();
            Value::Array(vec![join.secret.as_slice().into(), Value::Array(members)])
        });
        Value::Array(vec![
            self.protocols.0.into(),
            self.protocols.1.into(),
            self.squad.map_or(Value::Null, SquadId::to_value),
            self.clock_ms.into(),
            join,
            Value::Array(self.credentials.iter().map(Segment::to_value).collect()),
        ])
    }
    fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        // A later protocol may say more; what it says is left alone.
        let [Value::Int(low), Value::Int(high), squad, Value::Int(clock), join, credentials, ..] =
            items.as_slice()
        else {
            return None;
        };
        let credentials = match credentials {
            Value::Array(segments) if segments.len() <= MAX_CREDENTIALS => {
                segments.iter().map(|v| Segment::from_value(v).ok()).collect::<Option<_>>()?
            }
            _ => return None,
        };
        let squad = match squad {
            Value::Null => None,
            other => Some(SquadId::from_value(other)?),
        };
        let join = match join {
            Value::Null => None,
            Value::Array(parts) => {
                let [Value::Bytes(secret), Value::Array(members)] = parts.as_slice() else { return None };
                if members.len() > 64 {
                    return None;
                }
                let members = members.iter().map(MemberId::from_value).collect::<Option<_>>()?;
                Some(Join { secret: secret.as_slice().try_into().ok()?, members })
            }
            _ => return None,
        };
        Some(Self {
            protocols: (u32::try_from(*low).ok()?, u32::try_from(*high).ok()?),
            squad,
            clock_ms: i64::try_from(*clock).ok()?,
            join,
            credentials,
        })
    }
}

impl Message {
    /// The message in its one encoding.
    #[must_use]
    pub fn to_bytes(&self) -> Vec<u8> {
        let (number, body) = match self {
            Self::Hello(hello) => (0, hello.to_value()),
            Self::Have(have) => (1, have.to_value()),
            Self::Batch(batch) => (2, batch.to_value()),
            Self::Receipt(heads) => (3, heads_value(heads)),
            Self::Bye => (4, Value::Null),
            Self::Refuse(why) => {
                let at = REFUSALS.iter().position(|r| r == why).unwrap_or(0);
                (5, Value::Int(at as i128))
            }
        };
        encode(&Value::Array(vec![number.into(), body]))
    }

    /// Reads a message.
    ///
    /// # Errors
    /// [`MessageError`], which names the part.
    pub fn from_bytes(bytes: &[u8]) -> Result<Self, MessageError> {
        if bytes.len() > MAX_MESSAGE {
            return Err(MessageError::Size(bytes.len()));
        }
        let value = decode(bytes)?;
        let Value::Array(items) = value else { return Err(MessageError::Shape("outline")) };
        let [Value::Int(number), body] = items.as_slice() else { return Err(MessageError::Shape("outline")) };
        Ok(match number {
            0 => Self::Hello(Hello::from_value(body).ok_or(MessageError::Shape("hello"))?),
            1 => Self::Have(Have::from_value(body).ok_or(MessageError::Shape("list of heads"))?),
            2 => Self::Batch(Batch::from_value(body)?),
            3 => Self::Receipt(heads_of(body, MAX_HEADS).ok_or(MessageError::Shape("list of heads"))?),
            4 => Self::Bye,
            5 => match body {
                Value::Int(at) => Self::Refuse(
                    usize::try_from(*at)
                        .ok()
                        .and_then(|at| REFUSALS.get(at).copied())
                        .unwrap_or(Refusal::Protocol),
                ),
                _ => return Err(MessageError::Shape("refusal")),
            },
            _ => return Err(MessageError::Shape("number")),
        })
    }
}

/// Zstandard (RFC 8878).
fn pack(bytes: &[u8]) -> Vec<u8> {
    // It fails only for a level that does not exist, or without memory.
    zstd::bulk::compress(bytes, COMPRESSION).unwrap_or_default()
}

fn unpack(packed: &[u8]) -> Result<Vec<u8>, MessageError> {
    zstd::bulk::decompress(packed, MAX_MESSAGE).map_err(|_| MessageError::Packed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use pitside_model::facts::{Hash, LogId};
    use proptest::prelude::*;

    #[test]
    fn every_message_is_read_as_it_was_written() {
        let head = Head { log: LogId([1; 32]), seq: 7, hash: Hash([2; 32]) };
        let have = Have { heads: vec![head], lacking: vec![head] };
        let hello = Hello {
            protocols: (1, 3),
            squad: Some(SquadId([4; 32])),
            clock_ms: -1,
            join: Some(Join { secret: [9; SECRET], members: vec![MemberId(uuid::Uuid::from_u128(3))] }),
            credentials: vec![],
        };
        let body = Body { salt: [3; 16], payload: vec![0xa0] };
        let mut all = vec![
            Message::Hello(hello.clone()),
            Message::Hello(Hello { squad: None, join: None, ..hello }),
            Message::Have(have.clone()),
            Message::Batch(Batch::default()),
            Message::Batch(Batch { segments: vec![], bodies: vec![(head, body)] }),
            Message::Receipt(have.heads),
            Message::Bye,
        ];
        all.extend(REFUSALS.map(Message::Refuse));
        for message in all {
            assert_eq!(Message::from_bytes(&message.to_bytes()), Ok(message));
        }
    }

    #[test]
    fn a_batch_that_unpacks_to_too_much_is_refused() {
        let packed = Value::Bytes(pack(&vec![0; 64 * MAX_MESSAGE]));
        let batch = Value::Array(vec![packed, Value::Bytes(vec![])]);
        let bomb = encode(&Value::Array(vec![2.into(), batch]));
        assert!(bomb.len() < MAX_MESSAGE);
        assert_eq!(Message::from_bytes(&bomb), Err(MessageError::Packed));
    }

    proptest! {
        #[test]
        fn any_bytes_end_in_a_message_or_an_error(bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
            let _ = Message::from_bytes(&bytes);
        }
    }
}
