//! Entries, seals, authority, merge, and the sync conversation.
//!
//! Every [fact](pitside_model::facts) becomes an [`Entry`](entry::Entry) in a
//! log. There is one log per device and scope; the device [seals](seal) it from
//! time to time. [Merge](merge) turns any set of entries into the squad's state:
//! which entries [count](authority), which are live, which clash. It is a
//! function of the set alone, whatever the order, grouping or repetition in
//! which entries arrived; [`mod@reference`] says the same rules in their plainest
//! form. The [conversation](sync) brings two devices' sets together.
//!
//! This crate is pure: stamps, salts and nonces are handed in, and what is kept
//! is kept behind the [`Ledger`](merge::Ledger) and [`Replica`](sync::Replica)
//! traits.

pub mod authority;
pub mod entry;
pub mod memory;
pub mod merge;
pub mod opening;
pub mod reference;
pub mod seal;
pub mod segment;
pub mod sync;

use sha2::{Digest, Sha256};

/// SHA-256 over the parts, one after the other.
pub(crate) fn sha256(parts: &[&[u8]]) -> [u8; 32] {
    let mut hasher = Sha256::new();
    parts.iter().for_each(|part| hasher.update(part));
    hasher.finalize().into()
}
