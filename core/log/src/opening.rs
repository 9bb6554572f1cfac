//! The record that opens a log and ties it to its device and scope.
//!
//! `[v, device key, scope, nonce, signature over "log1" ‖ log id]`, with
//! log id = SHA-256("log1" ‖ device key ‖ scope ‖ nonce).

use pitside_model::cbor::{Value, encode};
use pitside_model::facts::{DeviceKey, LogId, Scope};

use crate::seal::{Signer, verify};
use crate::sha256;

/// The opening record of a log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opening {
    /// The device that writes the log.
    pub device: DeviceKey,
    /// Whose data it holds.
    pub scope: Scope,
    /// Tells two logs of one device and scope apart.
    pub nonce: [u8; 16],
    /// By the device, over "log1" ‖ log id.
    pub signature: [u8; 64],
}

/// Why a value is not a log's opening record.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum OpeningError {
    /// Not of its shape, or of a later version.
    #[error("not the opening record of a log")]
    Shape,
    /// Not signed by the device it names.
    #[error("the opening record of a log is not signed by its device")]
    Signature,
}

impl Opening {
    /// Opens a log.
    #[must_use]
    pub fn new(signer: &impl Signer, scope: Scope, nonce: [u8; 16]) -> Self {
        let device = signer.key();
        let id = id(device, scope, &nonce);
        Self { device, scope, nonce, signature: signer.sign(&signed(id)) }
    }

    /// The identity of the log.
    #[must_use]
    pub fn id(&self) -> LogId {
        id(self.device, self.scope, &self.nonce)
    }

    /// As CBOR.
    #[must_use]
    pub fn to_value(&self) -> Value {
        Value::Array(vec![
            1.into(),
            self.device.to_value(),
            self.scope.to_value(),
            self.nonce.as_slice().into(),
            self.signature.as_slice().into(),
        ])
    }

    /// From CBOR; checks the signature.
    ///
    /// # Errors
    /// [`OpeningError`] where the shape or the signature is wrong.
    pub fn from_value(value: &Value) -> Result<Self, OpeningError> {
        let Value::Array(items) = value else { return Err(OpeningError::Shape) };
        let [Value::Int(1), device, scope, Value::Bytes(nonce), Value::Bytes(signature)] = items.as_slice()
        else {
            return Err(OpeningError::Shape);
        };
        let opening = Self {
            device: DeviceKey::from_value(device).ok_or(OpeningError::Shape)?,
            scope: Scope::from_value(scope).ok_or(OpeningError::Shape)?,
            nonce: nonce.as_slice().try_into().map_err(|_| OpeningError::Shape)?,
            signature: signature.as_slice().try_into().map_err(|_| OpeningError::Shape)?,
        };
        if verify(opening.device, &signed(opening.id()), &opening.signature) {
            Ok(opening)
        } else {
            Err(OpeningError::Signature)
        }
    }
}

fn id(device: DeviceKey, scope: Scope, nonce: &[u8; 16]) -> LogId {
    LogId(sha256(&[b"log1", &device.0, &encode(&scope.to_value()), nonce]))
}

fn signed(id: LogId) -> Vec<u8> {
    [b"log1".as_slice(), &id.0].concat()
}
