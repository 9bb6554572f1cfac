//! What facts are about: members, devices, places in logs.

use core::fmt;

use data_encoding::HEXLOWER;
use uuid::Uuid;

use crate::cbor::Value;

/// Makes a 32-byte identifier that shows itself in hexadecimal.
macro_rules! bytes32 {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub [u8; 32]);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&HEXLOWER.encode(&self.0))
            }
        }
        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{}({})", stringify!($name), HEXLOWER.encode(&self.0[..4]))
            }
        }
        impl $name {
            /// From a CBOR byte string of 32 bytes.
            #[must_use]
            pub fn from_value(value: &Value) -> Option<Self> {
                match value {
                    Value::Bytes(b) => b.as_slice().try_into().ok().map(Self),
                    _ => None,
                }
            }
            /// As a CBOR byte string.
            #[must_use]
            pub fn to_value(self) -> Value {
                Value::Bytes(self.0.to_vec())
            }
            /// From hexadecimal, as [`Display`](fmt::Display) writes it.
            #[must_use]
            pub fn parse(hex: &str) -> Option<Self> {
                let bytes = HEXLOWER.decode(hex.as_bytes()).ok()?;
                bytes.as_slice().try_into().ok().map(Self)
            }
        }
    };
}

bytes32!(
    /// A device: its Ed25519 public key. There is no second name for one.
    DeviceKey
);
bytes32!(
    /// A log: SHA-256 over device key, scope and nonce.
    LogId
);
bytes32!(
    /// An entry: SHA-256 over its place, the entry before it, and its header.
    Hash
);
bytes32!(
    /// A squad: the hash of its founding entry.
    SquadId
);

/// A member of the squad. Made by whichever device writes about the person
/// first; the coach admits it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MemberId(pub Uuid);

impl fmt::Display for MemberId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl MemberId {
    /// From a CBOR byte string of 16 bytes.
    #[must_use]
    pub fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Bytes(b) => Uuid::from_slice(b).ok().map(Self),
            _ => None,
        }
    }
    /// As a CBOR byte string.
    #[must_use]
    pub fn to_value(self) -> Value {
        Value::Bytes(self.0.as_bytes().to_vec())
    }
}

/// Where an entry stands: its log and its number there, from 1. The identity
/// of a fact that was written down anew.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The log.
    pub log: LogId,
    /// The number in the log, from 1.
    pub seq: u64,
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}-{}", self.log, self.seq)
    }
}

impl Place {
    /// From `[log, seq]`.
    #[must_use]
    pub fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        let [log, Value::Int(seq)] = items.as_slice() else { return None };
        Some(Self { log: LogId::from_value(log)?, seq: u64::try_from(*seq).ok()? })
    }
    /// As `[log, seq]`.
    #[must_use]
    pub fn to_value(self) -> Value {
        Value::Array(vec![self.log.to_value(), self.seq.into()])
    }
    /// From the text that [`Display`](fmt::Display) writes.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let (log, seq) = text.split_once('-')?;
        Some(Self { log: LogId::parse(log)?, seq: seq.parse().ok()? })
    }
}

/// Whose data a log holds, and so which devices keep it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scope {
    /// Ids, admissions and the catalogue; no names. Every device.
    Squad,
    /// The staff's own notes. Owner and staff devices.
    Staff,
    /// One member's training. The member's devices and the staff's.
    Member(MemberId),
    /// One member's private part: what hurts, health. The member's devices, and
    /// the staff's where the member says so.
    Private(MemberId),
}

impl Scope {
    /// The member whose scope it is.
    #[must_use]
    pub fn member(self) -> Option<MemberId> {
        match self {
            Self::Squad | Self::Staff => None,
            Self::Member(m) | Self::Private(m) => Some(m),
        }
    }
    /// From `[0]`, `[1]`, `[2, member]` or `[3, member]`.
    #[must_use]
    pub fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        match items.as_slice() {
            [Value::Int(0)] => Some(Self::Squad),
            [Value::Int(1)] => Some(Self::Staff),
            [Value::Int(2), m] => MemberId::from_value(m).map(Self::Member),
            [Value::Int(3), m] => MemberId::from_value(m).map(Self::Private),
            _ => None,
        }
    }
    /// As `[0]`, `[1]`, `[2, member]` or `[3, member]`.
    #[must_use]
    pub fn to_value(self) -> Value {
        Value::Array(match self {
            Self::Squad => vec![0.into()],
            Self::Staff => vec![1.into()],
            Self::Member(m) => vec![2.into(), m.to_value()],
            Self::Private(m) => vec![3.into(), m.to_value()],
        })
    }
}

/// What an entry is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Subject {
    /// A fact written down anew earlier, by its place.
    Fact(Place),
    /// A member, an exercise: what has a uuid.
    Uuid(Uuid),
    /// A device.
    Device(DeviceKey),
}

impl Subject {
    /// From `[log, seq]`, 16 bytes or 32 bytes.
    #[must_use]
    pub fn from_value(value: &Value) -> Option<Self> {
        match value {
            Value::Array(_) => Place::from_value(value).map(Self::Fact),
            Value::Bytes(b) if b.len() == 16 => Uuid::from_slice(b).ok().map(Self::Uuid),
            Value::Bytes(_) => DeviceKey::from_value(value).map(Self::Device),
            _ => None,
        }
    }
    /// As `[log, seq]`, 16 bytes or 32 bytes.
    #[must_use]
    pub fn to_value(self) -> Value {
        match self {
            Self::Fact(place) => place.to_value(),
            Self::Uuid(id) => Value::Bytes(id.as_bytes().to_vec()),
            Self::Device(key) => key.to_value(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identifiers_survive_cbor_and_text() {
        let place = Place { log: LogId([7; 32]), seq: 41 };
        assert_eq!(Place::parse(&place.to_string()), Some(place));
        assert_eq!(Place::from_value(&place.to_value()), Some(place));
        let member = MemberId(Uuid::from_u128(5));
        for scope in [Scope::Squad, Scope::Staff, Scope::Member(member), Scope::Private(member)] {
            assert_eq!(Scope::from_value(&scope.to_value()), Some(scope));
        }
        for subject in [Subject::Fact(place), Subject::Uuid(member.0), Subject::Device(DeviceKey([9; 32]))] {
            assert_eq!(Subject::from_value(&subject.to_value()), Some(subject));
        }
        assert_eq!(Scope::from_value(&Value::Array(vec![4.into()])), None);
        assert_eq!(LogId::parse("07"), None);
    }
}
