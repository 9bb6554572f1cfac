//! What facts are about: members, devices, logs and entries.

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
    /// An entry: SHA-256 over its place, the entry before it, and what it says. The
    /// identity of a fact that was written down anew.
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

/// The end of a log, as far as somebody has it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Head {
    /// The log.
    pub log: LogId,
    /// The number of its last entry, from 1.
    pub seq: u64,
    /// The hash of that entry.
    pub hash: Hash,
}

impl Head {
    /// From `[log, seq, hash]`; a log without entries has no head.
    #[must_use]
    pub fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        let [log, Value::Int(seq), hash] = items.as_slice() else { return None };
        let seq = u64::try_from(*seq).ok().filter(|n| (1..=u64::MAX >> 1).contains(n))?;
        Some(Self { log: LogId::from_value(log)?, seq, hash: Hash::from_value(hash)? })
    }
    /// As `[log, seq, hash]`.
    #[must_use]
    pub fn to_value(self) -> Value {
        Value::Array(vec![self.log.to_value(), self.seq.into(), self.hash.to_value()])
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
    /// A fact written down anew earlier: the hash of its entry.
    Fact(Hash),
    /// A member, an exercise: what has a uuid.
    Uuid(Uuid),
    /// A device.
    Device(DeviceKey),
}

impl Subject {
    /// From `[0, hash]`, `[1, uuid]` or `[2, device key]`.
    #[must_use]
    pub fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        match items.as_slice() {
            [Value::Int(0), fact] => Hash::from_value(fact).map(Self::Fact),
            [Value::Int(1), id] => MemberId::from_value(id).map(|m| Self::Uuid(m.0)),
            [Value::Int(2), key] => DeviceKey::from_value(key).map(Self::Device),
            _ => None,
        }
    }
    /// As `[0, hash]`, `[1, uuid]` or `[2, device key]`.
    #[must_use]
    pub fn to_value(self) -> Value {
        Value::Array(match self {
            Self::Fact(fact) => vec![0.into(), fact.to_value()],
            Self::Uuid(id) => vec![1.into(), MemberId(id).to_value()],
            Self::Device(key) => vec![2.into(), key.to_value()],
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identifiers_survive_cbor_and_text() {
        let fact = Hash([5; 32]);
        assert_eq!(Hash::parse(&fact.to_string()), Some(fact));
        let head = Head { log: LogId([7; 32]), seq: 41, hash: fact };
        assert_eq!(Head::from_value(&head.to_value()), Some(head));
        assert_eq!(Head::from_value(&Head { seq: 0, ..head }.to_value()), None);
        let member = MemberId(Uuid::from_u128(5));
        for scope in [Scope::Squad, Scope::Staff, Scope::Member(member), Scope::Private(member)] {
            assert_eq!(Scope::from_value(&scope.to_value()), Some(scope));
        }
        for subject in [Subject::Fact(fact), Subject::Uuid(member.0), Subject::Device(DeviceKey([9; 32]))] {
            assert_eq!(Subject::from_value(&subject.to_value()), Some(subject));
        }
        assert_eq!(Scope::from_value(&Value::Array(vec![4.into()])), None);
        assert_eq!(LogId::parse("07"), None);
    }
}
