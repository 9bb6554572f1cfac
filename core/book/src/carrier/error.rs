//! Why a connection did not come about, or ended.

use std::fmt;
use std::io;

use pitside_model::facts::DeviceKey;
use rustls::{AlertDescription, CertificateError};

/// What a device waited for in vain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Wait {
    /// An answer at any of a device's addresses.
    #[error("the other device to answer")]
    Reach,
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

/// Why a connection did not come about, or ended.
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
    /// Another device answers there. It was told.
    #[error("another device answers there: its key is {found}, the one paired with is {expected}")]
    WrongKey {
        /// The key paired with.
        expected: DeviceKey,
        /// The key shown; nothing proves that it is that device's own.
        found: DeviceKey,
    },
    /// The other side showed a key and could not sign with it. It was told.
    #[error("the other side could not prove that the key it shows is its own")]
    Unproved,
    /// The listener has no place for this caller now.
    #[error("the other device is busy, or was called in vain too often from here: try again in a moment")]
    Busy,
    /// The other side broke off with a TLS alert (RFC 8446, section 6.2), most
    /// likely because it expected another key.
    #[error("the other device refused the connection: {0}")]
    Refused(String),
    /// What answers does not speak TLS 1.3 with raw public keys.
    #[error("what answers there is not a device of this program: {0}")]
    Foreign(String),
    /// A wait came to its end.
    #[error("gave up waiting for {0}")]
    Timeout(Wait),
    /// A message is larger than allowed. Announced: nothing was allocated for
    /// it. To be sent: nothing was sent.
    #[error("a message of {claimed} bytes was announced, at most {limit} are allowed")]
    TooLarge {
        /// The length announced.
        claimed: u64,
        /// The limit.
        limit: u64,
    },
    /// The connection has carried as many bytes as one may.
    #[error("the connection has carried {limit} bytes, which is all that one may")]
    TooMuch {
        /// The limit.
        limit: u64,
    },
    /// The other device said, between two messages, that it is done.
    #[error("the other device ended the conversation")]
    Ended,
    /// The connection ended in the middle.
    #[error("the connection was cut")]
    Cut,
    /// The system failed.
    #[error("the connection failed: {0}")]
    Io(io::Error),
}

impl CarrierError {
    /// What the system said while bytes were moved and `wait` ran.
    pub(super) fn moving(e: io::Error, wait: Wait) -> Self {
        use io::ErrorKind as Kind;
        match e.kind() {
            Kind::WouldBlock | Kind::TimedOut => Self::Timeout(wait),
            Kind::ConnectionReset
            | Kind::ConnectionAborted
            | Kind::BrokenPipe
            | Kind::NotConnected
            | Kind::UnexpectedEof => Self::Cut,
            _ => Self::Io(e),
        }
    }
}

impl From<rustls::Error> for CarrierError {
    fn from(e: rustls::Error) -> Self {
        match e {
            rustls::Error::AlertReceived(AlertDescription::AccessDenied) => {
                Self::Refused("it expected another key".to_owned())
            }
            rustls::Error::AlertReceived(alert) => Self::Refused(format!("{alert:?}")),
            rustls::Error::InvalidCertificate(CertificateError::BadSignature) => Self::Unproved,
            other => Self::Foreign(other.to_string()),
        }
    }
}

/// A device was reached at none of its addresses.
#[derive(Debug)]
pub struct NotReached {
    /// What happened at each, in the order they were given.
    pub tried: Vec<Tried>,
}

/// What happened at one address.
#[derive(Debug)]
pub struct Tried {
    /// `host:port`, as it was given.
    pub address: String,
    /// Why it came to nothing.
    pub error: CarrierError,
}

impl fmt::Display for NotReached {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.tried.is_empty() {
            return f.write_str("no address of that device is known");
        }
        f.write_str("the device was not reached")?;
        for (n, Tried { address, error }) in self.tried.iter().enumerate() {
            f.write_str(if n == 0 { ": " } else { "; " })?;
            match error {
                // It names the address itself.
                CarrierError::Unreachable { .. } => write!(f, "{error}")?,
                _ => write!(f, "{address}: {error}")?,
            }
        }
        Ok(())
    }
}

impl core::error::Error for NotReached {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_device_not_reached_is_told_address_by_address() {
        let refused = io::Error::new(io::ErrorKind::ConnectionRefused, "refused");
        let unreachable = CarrierError::Unreachable { address: "192.0.2.7:4417".into(), source: refused };
        let tried = vec![
            Tried { address: "192.0.2.7:4417".into(), error: unreachable },
            Tried { address: "desk.local:4417".into(), error: CarrierError::Busy },
        ];
        assert_eq!(
            NotReached { tried }.to_string(),
            "the device was not reached: 192.0.2.7:4417 cannot be reached: refused; desk.local:4417: the \
             other device is busy, or was called in vain too often from here: try again in a moment"
        );
        assert_eq!(NotReached { tried: vec![] }.to_string(), "no address of that device is known");
    }
}
