//! One key a device: it seals the device's logs and proves the device to its
//! peers in TLS.
//!
//! Both uses sign with the same Ed25519 key and must never be mistaken for
//! each other. What TLS 1.3 signs begins with 64 spaces (RFC 8446 §4.4.3), so
//! whoever calls [`Identity::sign`] begins the message with a tag of its own
//! that is not spaces (`"seal1"`, …).
//!
//! A phone keeps the [`Seed`] in the platform's key store and hands it over; the
//! laptop keeps it in a [`mod@file`] only its owner can read.

pub mod file;
mod identity;
mod recovery;
mod seed;

pub use identity::{Identity, SIGNATURE_LENGTH};
pub(crate) use identity::{from_spki, to_spki};
pub use recovery::{RECOVERY_PREFIX, Recovery, RecoveryError};
pub use seed::{OsRng, Rng, SEED_LENGTH, Seed};
