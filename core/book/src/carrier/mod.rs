//! TCP with TLS 1.3 between two devices that know each other's key.
//!
//! Raw public keys (RFC 7250) instead of certificates: a device *is* its key, so
//! there is nobody to vouch for it. The caller says whom it expects and refuses
//! everyone else; the called side learns the caller's key and leaves it to the
//! conversation above what that key may do. Blocking, on plain threads, so that
//! a phone needs no runtime.
//!
//! On the connection: messages as a length (32 bits, big-endian) and the bytes.
//! Every wait and every size has a limit ([`Limits`]), and so has what one
//! address may take of a listener ([`Admission`]). Nothing is resumed from an
//! earlier connection and nothing is sent before the handshake is over, so
//! nothing recorded can be played again.

mod admission;
mod connection;
mod error;
mod limits;
mod listener;
mod reach;
mod tls;

pub use admission::Verdict;
pub use connection::Connection;
pub use error::{CarrierError, NotReached, Tried, Wait};
pub use limits::{Admission, Limits};
pub use listener::{Listener, Stop};
