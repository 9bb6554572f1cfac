//! A device's signing key, and the public key by which others know it.

use std::fmt;

use ed25519_dalek::{Signer as _, SigningKey, VerifyingKey};
use pitside_log::seal::Signer;
use pitside_model::facts::DeviceKey;
use zeroize::Zeroizing;

use super::seed::{SEED_LENGTH, Seed};

/// Length of a signature in bytes (RFC 8032 §5.1.6).
pub const SIGNATURE_LENGTH: usize = 64;

/// What stands before the 32 bytes of a private key in its PKCS#8 form
/// (RFC 8410 §7): version 0, algorithm id-Ed25519, two octet strings.
const PKCS8_PREFIX: [u8; 16] =
    [0x30, 0x2e, 0x02, 0x01, 0x00, 0x30, 0x05, 0x06, 0x03, 0x2b, 0x65, 0x70, 0x04, 0x22, 0x04, 0x20];

/// What stands before the 32 bytes of a public key in its
/// `SubjectPublicKeyInfo` (RFC 8410 §4): the form TLS carries (RFC 7250 §3).
const SPKI_PREFIX: [u8; 12] = [0x30, 0x2a, 0x30, 0x05, 0x06, 0x03, 0x2b, 0x65, 0x70, 0x03, 0x21, 0x00];

/// What a device signs with. The secret part is wiped when dropped.
pub struct Identity {
    signing: SigningKey,
}

impl Identity {
    /// The identity this seed stands for: always the same one.
    #[must_use]
    pub fn from_seed(seed: Seed) -> Self {
        Self { signing: SigningKey::from_bytes(seed.expose()) }
    }

    /// The public key.
    #[must_use]
    pub fn key(&self) -> DeviceKey {
        DeviceKey(self.signing.verifying_key().to_bytes())
    }

    /// Signs `message` (Ed25519, RFC 8032 §5.1.6). It must begin with a tag that
    /// says what is signed; see the [module](super).
    #[must_use]
    pub fn sign(&self, message: &[u8]) -> [u8; SIGNATURE_LENGTH] {
        self.signing.sign(message).to_bytes()
    }

    /// The X25519 private key (RFC 7748) that belongs to [`agreement_key`] of the
    /// public key: the scalar of RFC 8032 §5.1.5, before it is clamped, as
    /// X25519 clamps by itself.
    pub(crate) fn agreement_secret(&self) -> Zeroizing<[u8; 32]> {
        Zeroizing::new(self.signing.to_scalar_bytes())
    }

    /// The private key as PKCS#8, for the TLS library.
    pub(crate) fn pkcs8(&self) -> Zeroizing<[u8; PKCS8_PREFIX.len() + SEED_LENGTH]> {
        let mut der = Zeroizing::new([0; PKCS8_PREFIX.len() + SEED_LENGTH]);
        der[..PKCS8_PREFIX.len()].copy_from_slice(&PKCS8_PREFIX);
        der[PKCS8_PREFIX.len()..].copy_from_slice(self.signing.as_bytes());
        der
    }
}

impl Signer for Identity {
    fn key(&self) -> DeviceKey {
        self.key()
    }
    fn sign(&self, bytes: &[u8]) -> [u8; SIGNATURE_LENGTH] {
        self.sign(bytes)
    }
}

impl fmt::Debug for Identity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Identity({})", self.key())
    }
}

/// The public key as `SubjectPublicKeyInfo`, for the TLS library.
pub(crate) fn to_spki(key: DeviceKey) -> Vec<u8> {
    [&SPKI_PREFIX[..], &key.0].concat()
}

/// The key in a `SubjectPublicKeyInfo`, if it is an Ed25519 key that can stand
/// for one device: under a key of small order anybody can sign.
pub(crate) fn from_spki(der: &[u8]) -> Option<DeviceKey> {
    let bytes: [u8; 32] = der.strip_prefix(&SPKI_PREFIX)?.try_into().ok()?;
    usable(DeviceKey(bytes)).map(|_| DeviceKey(bytes))
}

/// The device's key as an X25519 public key, by the birational map of RFC 7748
/// §4.1: u = (1 + y) / (1 - y). A key and its negative give the same u, so who
/// uses it binds the device key beside it.
pub(crate) fn agreement_key(key: DeviceKey) -> Option<[u8; 32]> {
    usable(key).map(|key| key.to_montgomery().to_bytes())
}

fn usable(key: DeviceKey) -> Option<VerifyingKey> {
    VerifyingKey::from_bytes(&key.0).ok().filter(|key| !key.is_weak())
}

#[cfg(test)]
mod tests {
    use super::*;
    use pitside_log::seal::verify;

    fn identity() -> Identity {
        Identity::from_seed(Seed::from_bytes(Zeroizing::new([7; 32])))
    }

    #[test]
    fn a_signature_holds_for_its_message_and_key_only() {
        let identity = identity();
        let signature = identity.sign(b"seal1 triple jump");
        assert!(verify(identity.key(), b"seal1 triple jump", &signature));
        assert!(!verify(identity.key(), b"seal1 triple jumq", &signature));
        let other = Identity::from_seed(Seed::from_bytes(Zeroizing::new([8; 32])));
        assert!(!verify(other.key(), b"seal1 triple jump", &signature));
        let mut bent = signature;
        bent[63] ^= 0x10;
        assert!(!verify(identity.key(), b"seal1 triple jump", &bent));
    }

    #[test]
    fn a_public_key_survives_its_der_form() {
        let key = identity().key();
        assert_eq!(from_spki(&to_spki(key)), Some(key));
    }

    #[test]
    fn der_that_is_no_usable_key_is_refused() {
        let good = to_spki(identity().key());
        assert_eq!(from_spki(&good[..good.len() - 1]), None);
        assert_eq!(from_spki(&[&good[..], &[0]].concat()), None);
        let mut other_algorithm = good;
        other_algorithm[8] = 0x71; // id-Ed448
        assert_eq!(from_spki(&other_algorithm), None);
        // y = 1 is the neutral element: of order one, anybody signs under it.
        let mut neutral = [0; 32];
        neutral[0] = 1;
        assert_eq!(from_spki(&to_spki(DeviceKey(neutral))), None);
    }

    #[test]
    fn the_base_point_goes_where_the_standard_says() {
        // RFC 7748 §4.1: edwards25519's base point, y = 4/5, has u = 9.
        let mut base = [0x66; 32];
        base[0] = 0x58;
        let mut nine = [0; 32];
        nine[0] = 9;
        assert_eq!(agreement_key(DeviceKey(base)), Some(nine));
    }

    #[test]
    fn a_key_of_small_order_agrees_with_nobody() {
        for y in [0, 1] {
            let mut key = [0; 32];
            key[0] = y;
            assert_eq!(agreement_key(DeviceKey(key)), None);
        }
    }

    #[test]
    fn nothing_secret_is_printed() {
        let identity = identity();
        assert_eq!(format!("{identity:?}"), format!("Identity({})", identity.key()));
        assert_eq!(identity.key().to_string().len(), 64);
    }
}
