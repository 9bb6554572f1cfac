//! The container of a hand-over file: messages from one device for one other,
//! on a stick, through a messenger, by any means that loses or changes bytes.
//!
//! Nobody but the receiver reads what is inside, or learns from the file who
//! sent it or whom it is for; the receiver knows that the sender it names made
//! it. A file that was cut is of use up to the cut. What the messages say is
//! the caller's: the container knows only that each has at most
//! [`MAX_MESSAGE`](pitside_log::sync::MAX_MESSAGE) bytes.
//!
//! # The bytes
//!
//! Numbers are big-endian. The *head* has 154 bytes:
//!
//! | bytes | what |
//! |---|---|
//! | 8 | `89` and `pitside`; the first byte keeps it from being taken for text |
//! | 2 | version, 1 |
//! | 32 | encapsulated key of the *envelope* |
//! | 48 | the sender's device key, sealed in the envelope |
//! | 32 | encapsulated key of the *contents* |
//! | 24 | the total the writer announces (64 bits), sealed as the first of the contents |
//! | 8 | the first bytes of the SHA-256 of all above |
//!
//! Then *frames*: a kind (8 bits: 1 message, 2 end), the length of what is
//! sealed (32 bits), and the sealed bytes, 16 longer. The end frame holds the
//! number of messages (32 bits). Nothing follows it.
//!
//! The hash keeps nobody out; it tells a bad stick from a forgery. Everything
//! else that is wrong is found by the seals: each is bound to its place, its
//! kind and length, and through the key to the whole head.
//!
//! # The sealing
//!
//! HPKE (RFC 9180) with DHKEM(X25519, HKDF-SHA256), HKDF-SHA256 and
//! ChaCha20-Poly1305. The envelope is in base mode, so that the sender's key
//! does not stand in the open; the contents are in *auth* mode, whose secret
//! only the sender and the receiver can compute, so that no signature is needed
//! on top. What follows from auth mode (RFC 9180 §9.1.1): the receiver cannot
//! prove to others who sent the file, and whoever steals the receiver's seed
//! can make files that *this* receiver believes. Both are harmless here, as the
//! entries inside carry their authors' own seals. A seed stolen later opens
//! files kept from before: HPKE has no forward secrecy on the receiver's side.
//!
//! HPKE's keys are the device's own Ed25519 keys taken to X25519 (see
//! [`keys`](crate::keys)). That map forgets the sign of a key; therefore both
//! device keys stand in HPKE's `info`, after a tag no other use has.
//!
//! The age format was weighed: it does the same chunking, but proves no sender,
//! takes no Ed25519 key without SSH's wrapping, and brings 114 crates, among them
//! a second curve library, AES, scrypt and a stack for translations, where HPKE
//! brings 15.

mod head;
mod reader;
mod suite;
mod writer;

pub use reader::{ParcelError, Reader};
pub use writer::{PackError, Writer};

/// The version of the container written here.
pub const VERSION: u16 = 1;
/// The most messages in one file. At the usual quarter of a mebibyte each this
/// is 16 GiB, more than a stick's file system takes as one file.
pub const MAX_MESSAGES: u32 = 65_536;

/// What a frame holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    /// The announced total; in the head, without the frame's own five bytes.
    Opening = 0,
    Message = 1,
    End = 2,
}

/// Length of the kind and the length before each frame.
const FRAME: usize = 5;

/// The five bytes before a frame. They are also what the seal is bound to, so
/// that neither can be changed.
fn frame(kind: Kind, length: u32) -> [u8; FRAME] {
    let [a, b, c, d] = length.to_be_bytes();
    [kind as u8, a, b, c, d]
}

#[cfg(test)]
mod tests;
