//! The first bytes of a parcel: whom it is for, who sent it, how much is in it.

use pitside_model::facts::DeviceKey;
use sha2::{Digest as _, Sha256};

use super::reader::ParcelError;
use super::suite::{ENCAPSULATED, Opener, Proof, Sealer, SealerError, TAG, opener, sealer};
use super::writer::PackError;
use super::{Kind, VERSION, frame};
use crate::keys::{Identity, Rng};

const MAGIC: [u8; 8] = *b"\x89pitside";
/// Up to the version: what every version has in common.
pub(super) const PREFIX: usize = MAGIC.len() + 2;
const SENDER: usize = 32 + TAG;
const TOTAL: usize = 8 + TAG;
const CHECK: usize = 8;
/// Up to the end of the envelope: what the contents are bound to.
const ENVELOPE: usize = PREFIX + ENCAPSULATED + SENDER;
/// Of a whole head.
pub(super) const LENGTH: usize = ENVELOPE + ENCAPSULATED + TOTAL + CHECK;

/// `info` of the envelope: a tag no other use of the keys has, and the receiver.
fn envelope_info(to: DeviceKey) -> Vec<u8> {
    [b"pitside parcel 1 envelope", &to.0[..]].concat()
}

/// `info` of the contents: a tag, both devices, and all that stands before.
fn contents_info(from: DeviceKey, to: DeviceKey, before: &[u8]) -> Vec<u8> {
    [b"pitside parcel 1 contents", &from.0[..], &to.0[..], before].concat()
}

fn check(bytes: &[u8]) -> [u8; CHECK] {
    let mut check = [0; CHECK];
    check.copy_from_slice(&Sha256::digest(bytes)[..CHECK]);
    check
}

/// Makes a head, and what seals the frames after it.
pub(super) fn write(
    from: &Identity,
    to: DeviceKey,
    total: u64,
    rng: &mut impl Rng,
) -> Result<(Vec<u8>, Sealer), PackError> {
    let refused = |why| match why {
        SealerError::Key => PackError::Receiver { key: to },
        SealerError::Random(error) => PackError::Random(error),
    };
    let mut bytes = MAGIC.to_vec();
    bytes.extend(VERSION.to_be_bytes());
    let (encapsulated, mut envelope) =
        sealer(from, Proof::Anybody, to, &envelope_info(to), rng).map_err(refused)?;
    let sender = envelope.seal(&from.key().0, &bytes).map_err(|_| PackError::Sealing)?;
    bytes.extend(encapsulated);
    bytes.extend(sender);
    let (encapsulated, mut contents) =
        sealer(from, Proof::Sender, to, &contents_info(from.key(), to, &bytes), rng).map_err(refused)?;
    let total =
        contents.seal(&total.to_be_bytes(), &frame(Kind::Opening, 8)).map_err(|_| PackError::Sealing)?;
    bytes.extend(encapsulated);
    bytes.extend(total);
    bytes.extend(check(&bytes));
    Ok((bytes, contents))
}

/// Judges up to the first [`PREFIX`] bytes of a file that has these and, if
/// they are fewer, no more.
pub(super) fn read_prefix(bytes: &[u8]) -> Result<(), ParcelError> {
    let (magic, version) = bytes.split_at(bytes.len().min(MAGIC.len()));
    if !MAGIC.starts_with(magic) {
        return Err(ParcelError::NotAParcel);
    }
    let version: [u8; 2] = version.try_into().map_err(|_| ParcelError::Cut { after: 0 })?;
    match u16::from_be_bytes(version) {
        VERSION => Ok(()),
        0 => Err(ParcelError::NotAParcel),
        found => Err(ParcelError::Newer { found }),
    }
}

/// A head that is for this device and by the sender it names.
pub(super) struct Head {
    pub(super) sender: DeviceKey,
    pub(super) total: u64,
    pub(super) contents: Opener,
}

/// Opens a head whose first bytes [`read_prefix`] has accepted.
pub(super) fn read(bytes: &[u8; LENGTH], identity: &Identity) -> Result<Head, ParcelError> {
    let damaged = || ParcelError::Damaged { at: 0 };
    let (checked, found) = bytes.split_at(LENGTH - CHECK);
    if check(checked) != found {
        return Err(damaged());
    }
    let (before, rest) = checked.split_at(ENVELOPE);
    let (prefix, envelope) = before.split_at(PREFIX);
    let (encapsulated, sender) = envelope.split_first_chunk().ok_or_else(damaged)?;
    let to = identity.key();
    let sender = opener(identity, None, encapsulated, &envelope_info(to))
        .and_then(|mut envelope| envelope.open(sender, prefix))
        .map_err(|_| ParcelError::OtherReceiver)?;
    let sender = DeviceKey(sender.try_into().map_err(|_| damaged())?);
    let (encapsulated, total) = rest.split_first_chunk().ok_or_else(damaged)?;
    let forged = |_| ParcelError::Forged { claimed: sender };
    let info = contents_info(sender, to, before);
    let mut contents = opener(identity, Some(sender), encapsulated, &info).map_err(forged)?;
    let total = contents.open(total, &frame(Kind::Opening, 8)).map_err(forged)?;
    let total = u64::from_be_bytes(total.try_into().map_err(|_| damaged())?);
    Ok(Head { sender, total, contents })
}
