//! The pairing text: what a QR code carries from the coach's device to a phone.
//!
//! `PITSIDE1:` and the base32 (RFC 4648, no padding) of a CBOR array [device
//! key, squad, demo, secret, end in seconds, member or null, role, addresses …].
//! Capitals and digits only, so that a QR code stays small. The phone then
//! speaks only to the device with that key.
//!
//! Where no camera is used and nobody wants to copy four hundred letters, two
//! persons compare [`words`] instead: the guest calls an address, each screen
//! shows both keys in words, and where they are the same on both the inviter
//! sends the text over that connection.

mod introduction;

pub use introduction::{Asked, IntroductionError, answer, ask, hear, words};

use data_encoding::BASE32_NOPAD;
use pitside_log::sync::SECRET;
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{DeviceKey, MemberId, Role, SquadId};

use crate::store::{Book, BookError, OpenInvitation};

/// What every pairing text begins with.
pub const PREFIX: &str = "PITSIDE1:";
/// The longest pairing text, in bytes.
pub const MAX_TEXT: usize = 1_024;
/// The most addresses in one.
pub const MAX_ADDRESSES: usize = 8;

/// An invitation to a squad.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Invitation {
    /// The inviting device.
    pub device: DeviceKey,
    /// Its squad.
    pub squad: SquadId,
    /// Whether the squad is the demo's.
    pub demo: bool,
    /// The one-time secret.
    pub secret: [u8; SECRET],
    /// When it ends, in seconds since the Unix epoch, by the inviter's clock.
    pub expires_s: i64,
    /// The member who is invited, where it is for one.
    pub member: Option<MemberId>,
    /// What the guest's device will be.
    pub role: Role,
    /// Where the device listens: `host:port`.
    pub addresses: Vec<String>,
}

/// Why a text is no pairing text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PairingError {
    /// It begins otherwise.
    #[error("this is not a pairing text: it should begin with {PREFIX}")]
    Prefix,
    /// It is too long.
    #[error("this is not a pairing text: it is longer than {MAX_TEXT} characters")]
    TooLong,
    /// Letters are missing or changed.
    #[error("the pairing text is incomplete or was changed on the way: copy it again, whole")]
    Garbled,
}

impl Invitation {
    /// The invitation to a book's squad, for whoever reaches this device at
    /// `addresses`.
    ///
    /// # Errors
    /// [`BookError::NoSquad`], or the book cannot be read.
    pub fn of(book: &Book, open: &OpenInvitation, addresses: Vec<String>) -> Result<Self, BookError> {
        Ok(Self {
            device: book.device(),
            squad: book.squad().or(book.recovers()?).ok_or(BookError::NoSquad)?,
            demo: book.is_demo(),
            secret: open.secret,
            expires_s: open.expires_ms / 1_000,
            member: open.grant.members.first().copied(),
            role: open.grant.role,
            addresses,
        })
    }

    /// The text.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut items = vec![
            self.device.to_value(),
            self.squad.to_value(),
            self.demo.into(),
            self.secret.as_slice().into(),
            self.expires_s.into(),
            self.member.map_or(Value::Null, MemberId::to_value),
            self.role.word().into(),
        ];
        items.extend(self.addresses.iter().map(|a| a.as_str().into()));
        format!("{PREFIX}{}", BASE32_NOPAD.encode(&encode(&Value::Array(items))))
    }

    /// Reads a text; white space around and inside it does not matter.
    ///
    /// # Errors
    /// [`PairingError`].
    pub fn from_text(text: &str) -> Result<Self, PairingError> {
        if text.len() > MAX_TEXT {
            return Err(PairingError::TooLong);
        }
        let text: String = text.split_whitespace().collect::<String>().to_ascii_uppercase();
        let code = text.strip_prefix(PREFIX).ok_or(PairingError::Prefix)?;
        let bytes = BASE32_NOPAD.decode(code.as_bytes()).map_err(|_| PairingError::Garbled)?;
        Self::from_value(&decode(&bytes).map_err(|_| PairingError::Garbled)?).ok_or(PairingError::Garbled)
    }

    fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        let [device, squad, Value::Bool(demo), Value::Bytes(secret), Value::Int(end), rest @ ..] =
            items.as_slice()
        else {
            return None;
        };
        let [member, Value::Text(role), addresses @ ..] = rest else { return None };
        if addresses.len() > MAX_ADDRESSES {
            return None;
        }
        let address = |v: &Value| match v {
            Value::Text(t) if (1..=120).contains(&t.len()) && !t.chars().any(char::is_whitespace) => {
                Some(t.clone())
            }
            _ => None,
        };
        Some(Self {
            device: DeviceKey::from_value(device)?,
            squad: SquadId::from_value(squad)?,
            demo: *demo,
            secret: secret.as_slice().try_into().ok()?,
            expires_s: i64::try_from(*end).ok()?,
            member: match member {
                Value::Null => None,
                other => Some(MemberId::from_value(other)?),
            },
            role: role.parse().ok()?,
            addresses: addresses.iter().map(address).collect::<Option<_>>()?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn invitation() -> Invitation {
        Invitation {
            device: DeviceKey([1; 32]),
            squad: SquadId([2; 32]),
            demo: false,
            secret: [3; SECRET],
            expires_s: 1_800_000_000,
            member: Some(MemberId(uuid::Uuid::from_u128(9))),
            role: Role::Athlete,
            addresses: vec!["192.0.2.7:4417".into(), "[2001:db8::7]:4417".into()],
        }
    }

    #[test]
    fn a_text_is_read_as_it_was_written_however_it_was_copied() {
        let text = invitation().to_text();
        assert_eq!(Invitation::from_text(&text), Ok(invitation()));
        let copied = format!("  {}\n{} ", text[..40].to_lowercase(), &text[40..]);
        assert_eq!(Invitation::from_text(&copied), Ok(invitation()));
        assert!(text.len() < 420, "{} characters make a large QR code", text.len());
    }

    #[test]
    fn other_texts_are_refused_by_what_is_wrong() {
        assert_eq!(Invitation::from_text("hello"), Err(PairingError::Prefix));
        assert_eq!(Invitation::from_text(&"A".repeat(2_000)), Err(PairingError::TooLong));
        let text = invitation().to_text();
        assert_eq!(Invitation::from_text(&text[..text.len() - 4]), Err(PairingError::Garbled));
    }

    proptest! {
        #[test]
        fn any_text_ends(text in "\\PC{0,200}") {
            let _ = Invitation::from_text(&text);
            let _ = Invitation::from_text(&format!("{PREFIX}{text}"));
        }
    }
}
