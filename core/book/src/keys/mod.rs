//! One key a device: it seals the device's logs, proves the device to its
//! peers in TLS, and opens what is sealed to it in a file.
//!
//! Two of the uses sign with the same Ed25519 key and must never be mistaken for
//! each other. What TLS 1.3 signs begins with 64 spaces (RFC 8446 §4.4.3), so
//! whoever calls [`Identity::sign`] begins the message with a tag of its own
//! that is not spaces (`"seal1"`, …).
//!
//! The third does not sign. It takes the key to X25519 and uses it in HPKE's KEM
//! (RFC 9180), which hashes all it does under labels of its own. That the same
//! key pair may serve Ed25519 and an X25519 based KEM is proved in Thormarker,
//! *On using the same key pair for Ed25519 and an X25519 based KEM*, Cryptology
//! ePrint Archive 2021/509. A second key a device would have to be paired,
//! admitted and removed beside the first.
//!
//! A phone keeps the [`Seed`] in the platform's key store and hands it over; the
//! laptop keeps it in a [`mod@file`] only its owner can read.

pub mod file;
mod identity;
mod recovery;
mod seed;

pub use identity::{Identity, SIGNATURE_LENGTH};
pub(crate) use identity::{agreement_key, from_spki, to_spki};
pub use recovery::{RECOVERY_PREFIX, Recovery, RecoveryError};
pub use seed::{OsRng, Rng, SEED_LENGTH, Seed};
