//! Seals: a device's signature over a log up to one of its entries.
//!
//! Ed25519 (RFC 8032) over "seal1" ‖ log id ‖ seq ‖ hash. The device's one key
//! also serves TLS; the first bytes keep the uses apart.

use ed25519_dalek::{Signature, VerifyingKey};
use pitside_model::cbor::Value;
use pitside_model::facts::{DeviceKey, Hash, Head, LogId};

/// The most entries between two seals.
pub const MAX_ENTRIES: u64 = 256;
/// The most bytes of entries between two seals, so that what lies between fits
/// a batch.
pub const MAX_BYTES: usize = 192 * 1024;

/// What signs for a device. The private key stays behind it.
pub trait Signer {
    /// The device's public key.
    fn key(&self) -> DeviceKey;
    /// An Ed25519 signature.
    fn sign(&self, bytes: &[u8]) -> [u8; 64];
}

/// Whether a signature is the device's. Weak keys and signatures that could
/// have a second form are refused.
#[must_use]
pub fn verify(device: DeviceKey, bytes: &[u8], signature: &[u8; 64]) -> bool {
    VerifyingKey::from_bytes(&device.0)
        .is_ok_and(|key| key.verify_strict(bytes, &Signature::from_bytes(signature)).is_ok())
}

/// The seal after an entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seal {
    /// The log.
    pub log: LogId,
    /// The number of the entry.
    pub seq: u64,
    /// The hash of the entry.
    pub hash: Hash,
    /// By the log's device.
    pub signature: [u8; 64],
}

impl Seal {
    /// Seals a log up to an entry.
    #[must_use]
    pub fn new(signer: &impl Signer, log: LogId, seq: u64, hash: Hash) -> Self {
        Self { log, seq, hash, signature: signer.sign(&signed(log, seq, hash)) }
    }

    /// The end of the log that it seals.
    #[must_use]
    pub fn head(&self) -> Head {
        Head { log: self.log, seq: self.seq, hash: self.hash }
    }

    /// Whether the device signed it.
    #[must_use]
    pub fn is_by(&self, device: DeviceKey) -> bool {
        verify(device, &signed(self.log, self.seq, self.hash), &self.signature)
    }

    /// As `[log id, seq, hash, signature]`.
    #[must_use]
    pub fn to_value(&self) -> Value {
        Value::Array(vec![
            self.log.to_value(),
            self.seq.into(),
            self.hash.to_value(),
            self.signature.as_slice().into(),
        ])
    }

    /// From `[log id, seq, hash, signature]`; says nothing of the signature.
    #[must_use]
    pub fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        let [log, Value::Int(seq), hash, Value::Bytes(signature)] = items.as_slice() else { return None };
        Some(Self {
            log: LogId::from_value(log)?,
            seq: u64::try_from(*seq).ok()?,
            hash: Hash::from_value(hash)?,
            signature: signature.as_slice().try_into().ok()?,
        })
    }
}

fn signed(log: LogId, seq: u64, hash: Hash) -> Vec<u8> {
    [b"seal1".as_slice(), &log.0, &seq.to_be_bytes(), &hash.0].concat()
}
