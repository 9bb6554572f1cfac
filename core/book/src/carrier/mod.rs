//! TCP with TLS 1.3 between two devices that know each other's key.
//!
//! Raw public keys (RFC 7250) instead of certificates: a device *is* its key, so
//! there is nobody to vouch for it. The caller says whom it expects and refuses
//! everyone else; the called side learns the caller's key and leaves it to the
//! conversation above what that key may do. Blocking, on plain threads, so that
//! a phone needs no runtime.
//!
//! On the connection: messages as a length (32 bits, big-endian) and the bytes.
//! Every wait and every size has a limit.

mod connection;
mod listener;
mod tls;

pub use connection::Connection;
pub use listener::{Listener, Stop};

use std::io;
use std::time::Duration;

use pitside_log::sync::MAX_MESSAGE;
use pitside_model::facts::DeviceKey;

/// How long a device waits and how much it takes.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// For the TCP connection and the handshake together.
    pub handshake: Duration,
    /// Between two bytes.
    pub idle: Duration,
    /// For one message, from its first byte to its last.
    pub message: Duration,
    /// For everything on the connection.
    pub whole: Duration,
    /// The largest message, in bytes.
    pub message_bytes: usize,
    /// The most bytes in either direction.
    pub whole_bytes: u64,
    /// Connections at once, on a listener.
    pub connections: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            handshake: Duration::from_secs(10),
            idle: Duration::from_secs(30),
            message: Duration::from_secs(120),
            whole: Duration::from_secs(30 * 60),
            message_bytes: MAX_MESSAGE,
            whole_bytes: 2 << 30,
            connections: 64,
        }
    }
}

/// What a device waited for in vain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Wait {
    /// The handshake.
    #[error("the handshake")]
    Handshake,
    /// The next byte, or room to send.
    #[error("the other device to go on")]
    Idle,
    /// The rest of a message.
    #[error("the rest of a message")]
    Message,
    /// The end of everything.
    #[error("the end")]
    Whole,
}

/// Why a connection failed.
#[derive(Debug, thiserror::Error)]
pub enum CarrierError {
    /// Nobody answers there.
    #[error("{address} cannot be reached: {source}")]
    Unreachable {
        /// Where.
        address: String,
        /// What the system said.
        source: io::Error,
    },
    /// Another device answers there.
    #[error("another device answers there: its key is {found}, the one paired with is {expected}")]
    WrongKey {
        /// The key paired with.
        expected: DeviceKey,
        /// The key found.
        found: DeviceKey,
    },
    /// The other side broke off during the handshake, most likely because it
    /// expected another key.
    #[error("the other device refused the connection: {0}")]
    Refused(String),
    /// What answers does not speak TLS 1.3 with raw public keys.
    #[error("what answers there is not a device of this program: {0}")]
    Foreign(String),
    /// A wait came to its end.
    #[error("gave up waiting for {0}")]
    Timeout(Wait),
    /// A message larger than allowed was announced.
    #[error("a message of {claimed} bytes was announced, at most {limit} are allowed")]
    TooLarge {
        /// The length announced.
        claimed: u64,
        /// The limit.
        limit: u64,
    },
    /// The connection ended in the middle.
    #[error("the connection was cut")]
    Cut,
    /// The system failed.
    #[error("the connection failed: {0}")]
    Io(io::Error),
}
