//! Packs a parcel, message by message.

use std::io::{self, Write};

use pitside_log::sync::MAX_MESSAGE;
use pitside_model::facts::DeviceKey;

use super::suite::Sealer;
use super::{Kind, MAX_MESSAGES, frame, head};
use crate::keys::{Identity, Rng};

/// Why a parcel could not be packed.
#[derive(Debug, thiserror::Error)]
pub enum PackError {
    /// The receiver's key is none that one device alone can hold.
    #[error("nothing can be sealed to the key {key}")]
    Receiver {
        /// The key.
        key: DeviceKey,
    },
    /// A message is longer than [`MAX_MESSAGE`].
    #[error("the message has {found} bytes, at most {MAX_MESSAGE} are allowed")]
    TooLong {
        /// Its length in bytes.
        found: usize,
    },
    /// There are [`MAX_MESSAGES`] already.
    #[error("the file has {MAX_MESSAGES} messages, which is all it may have")]
    Full,
    /// The cipher refused.
    #[error("the cipher refused to seal")]
    Sealing,
    /// The source of randomness had nothing to give.
    #[error("no random bytes to seal with")]
    Random(#[source] io::Error),
    /// An earlier message could not be written; the file ends there.
    #[error("the file broke off at an earlier message")]
    Broken,
    /// The file could not be written.
    #[error("the file could not be written")]
    Io(#[source] io::Error),
}

/// A parcel that is being packed. Without [`Writer::finish`] it counts as cut.
pub struct Writer<W> {
    out: W,
    sealer: Sealer,
    count: u32,
    broken: bool,
}

impl<W: Write> Writer<W> {
    /// Begins a parcel for `to` and writes its head.
    ///
    /// `total` is sealed in the head for the reader, who is told it before
    /// the first message, so that it can say how far it is, and how much of a
    /// file that was cut is missing. It counts whatever the two callers agree
    /// on, such as entries; the container does not judge it.
    ///
    /// # Errors
    /// [`PackError::Receiver`], [`PackError::Random`], [`PackError::Io`].
    pub fn begin(
        identity: &Identity,
        to: DeviceKey,
        total: u64,
        rng: &mut impl Rng,
        mut out: W,
    ) -> Result<Self, PackError> {
        let (head, sealer) = head::write(identity, to, total, rng)?;
        out.write_all(&head).map_err(PackError::Io)?;
        Ok(Self { out, sealer, count: 0, broken: false })
    }

    /// Messages put so far.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.count
    }

    /// Appends a message.
    ///
    /// # Errors
    /// [`PackError::TooLong`] and [`PackError::Full`], after which the parcel
    /// is as it was; [`PackError::Io`], after which it is [`PackError::Broken`].
    pub fn put(&mut self, message: &[u8]) -> Result<(), PackError> {
        if message.len() > MAX_MESSAGE {
            return Err(PackError::TooLong { found: message.len() });
        }
        if self.count >= MAX_MESSAGES {
            return Err(PackError::Full);
        }
        self.write(Kind::Message, message)?;
        self.count += 1;
        Ok(())
    }

    /// Writes the end mark, flushes, and gives back what was written to; to
    /// make it last there (`sync_all`) is the caller's.
    ///
    /// # Errors
    /// [`PackError::Io`], [`PackError::Broken`].
    pub fn finish(mut self) -> Result<W, PackError> {
        self.write(Kind::End, &self.count.to_be_bytes())?;
        self.out.flush().map_err(PackError::Io)?;
        Ok(self.out)
    }

    fn write(&mut self, kind: Kind, bytes: &[u8]) -> Result<(), PackError> {
        if self.broken {
            return Err(PackError::Broken);
        }
        // Until all of it is written: a frame begun cannot be taken back.
        self.broken = true;
        let length = u32::try_from(bytes.len()).map_err(|_| PackError::TooLong { found: bytes.len() })?;
        let frame = frame(kind, length);
        let sealed = self.sealer.seal(bytes, &frame).map_err(|_| PackError::Sealing)?;
        self.out.write_all(&frame).and_then(|()| self.out.write_all(&sealed)).map_err(PackError::Io)?;
        self.broken = false;
        Ok(())
    }

    #[cfg(test)]
    pub(super) fn pretend_count(&mut self, count: u32) {
        self.count = count;
    }
}
