//! The suite of HPKE (RFC 9180) that parcels use, for device keys.

use std::convert::Infallible;
use std::io;

use hpke::aead::{AeadCtxR, AeadCtxS, AeadTag, ChaCha20Poly1305};
use hpke::kdf::HkdfSha256;
use hpke::kem::X25519HkdfSha256;
use hpke::rand_core::{TryCryptoRng, TryRng};
use hpke::{
    Deserializable as _, HpkeError, Kem, OpModeR, OpModeS, Serializable as _, setup_receiver,
    setup_sender_with_rng,
};
use pitside_model::facts::DeviceKey;

use crate::keys::{Identity, Rng, agreement_key};

/// How much longer than what it holds a seal is: a Poly1305 tag.
pub(super) const TAG: usize = 16;
/// Length of an encapsulated key.
pub(super) const ENCAPSULATED: usize = 32;

type Mode = X25519HkdfSha256;
type PublicKey = <Mode as Kem>::PublicKey;
type PrivateKey = <Mode as Kem>::PrivateKey;

/// What seals one message after another.
pub(super) type Sealer = AeadCtxS<ChaCha20Poly1305, HkdfSha256, Mode>;
/// What opens them in the same order.
pub(super) type Opener = AeadCtxR<ChaCha20Poly1305, HkdfSha256, Mode>;

const _: () = assert!(size_of::<AeadTag<ChaCha20Poly1305>>() == TAG);

/// Why nothing can be sealed to a device.
pub(super) enum SealerError {
    /// The key is no point of the curve or of small order.
    Key,
    /// The source of randomness had nothing to give.
    Random(io::Error),
}

/// Whether the sender is proved.
#[derive(Clone, Copy)]
pub(super) enum Proof {
    /// Base mode: anybody can have sealed it.
    Anybody,
    /// Auth mode: the sender alone, or the receiver.
    Sender,
}

/// A sealer to a device, and the encapsulated key that the device needs.
pub(super) fn sealer(
    from: &Identity,
    proof: Proof,
    to: DeviceKey,
    info: &[u8],
    rng: &mut impl Rng,
) -> Result<([u8; ENCAPSULATED], Sealer), SealerError> {
    let to = public(to).map_err(|_| SealerError::Key)?;
    let mode = match proof {
        Proof::Anybody => OpModeS::Base,
        Proof::Sender => {
            let secret = private(from).map_err(|_| SealerError::Key)?;
            let public = Mode::sk_to_pk(&secret);
            OpModeS::Auth((secret, public))
        }
    };
    let mut draw = Draw { rng, failed: None };
    let made: Result<(_, Sealer), _> = setup_sender_with_rng(&mode, &to, info, &mut draw);
    // Asked first: what was made without randomness must not be used.
    if let Some(error) = draw.failed {
        return Err(SealerError::Random(error));
    }
    let (encapsulated, sealer) = made.map_err(|_| SealerError::Key)?;
    Ok((encapsulated.to_bytes().into(), sealer))
}

/// The opener of what was sealed to `to`; with a sender's key, of what that
/// sender sealed. Whether it is so shows when the first seal is opened.
pub(super) fn opener(
    to: &Identity,
    from: Option<DeviceKey>,
    encapsulated: &[u8; ENCAPSULATED],
    info: &[u8],
) -> Result<Opener, HpkeError> {
    let mode = match from {
        None => OpModeR::Base,
        Some(sender) => OpModeR::Auth(public(sender)?),
    };
    let encapsulated = <Mode as Kem>::EncappedKey::from_bytes(encapsulated)?;
    setup_receiver(&mode, &private(to)?, &encapsulated, info)
}

fn public(key: DeviceKey) -> Result<PublicKey, HpkeError> {
    PublicKey::from_bytes(&agreement_key(key).ok_or(HpkeError::ValidationError)?)
}

fn private(identity: &Identity) -> Result<PrivateKey, HpkeError> {
    PrivateKey::from_bytes(identity.agreement_secret().as_ref())
}

/// Our source of randomness, which may fail, as the library wants it, which
/// may not: a failure is kept and asked for afterwards.
struct Draw<'a, R> {
    rng: &'a mut R,
    failed: Option<io::Error>,
}

impl<R: Rng> Draw<'_, R> {
    fn array<const N: usize>(&mut self) -> [u8; N] {
        let mut bytes = [0; N];
        self.fill(&mut bytes);
        bytes
    }
    fn fill(&mut self, bytes: &mut [u8]) {
        if let Err(error) = self.rng.fill(bytes) {
            self.failed = Some(error);
        }
    }
}

impl<R: Rng> TryRng for Draw<'_, R> {
    type Error = Infallible;
    fn try_next_u32(&mut self) -> Result<u32, Infallible> {
        Ok(u32::from_ne_bytes(self.array()))
    }
    fn try_next_u64(&mut self) -> Result<u64, Infallible> {
        Ok(u64::from_ne_bytes(self.array()))
    }
    fn try_fill_bytes(&mut self, bytes: &mut [u8]) -> Result<(), Infallible> {
        self.fill(bytes);
        Ok(())
    }
}

impl<R: Rng> TryCryptoRng for Draw<'_, R> {}
