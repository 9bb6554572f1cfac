//! Opens a parcel, message by message.

use std::io::{self, Read};

use pitside_log::sync::MAX_MESSAGE;
use pitside_model::facts::DeviceKey;

use super::head::{self, Head};
use super::suite::{Opener, TAG};
use super::{FRAME, Kind, MAX_MESSAGES, VERSION, frame};
use crate::keys::Identity;

/// What is wrong with a parcel. Messages read before it are good.
#[derive(Debug, thiserror::Error)]
pub enum ParcelError {
    /// It begins otherwise.
    #[error("this is not a hand-over file")]
    NotAParcel,
    /// A later version of the program made it.
    #[error(
        "this hand-over file has version {found}, and this program reads up to {VERSION}: update the program"
    )]
    Newer {
        /// Its version.
        found: u16,
    },
    /// It is sealed to another device's key.
    #[error("this hand-over file is for another device")]
    OtherReceiver,
    /// The device it names did not make it.
    #[error("this hand-over file names the device {claimed} as its sender, which did not make it")]
    Forged {
        /// The key named.
        claimed: DeviceKey,
    },
    /// Bytes were changed, exchanged, left out or put in.
    #[error("the hand-over file is damaged at message {at}")]
    Damaged {
        /// Number of the message, from 1; 0 is the head of the file. The end
        /// mark counts as the message after the last.
        at: u32,
    },
    /// It ends before its end mark.
    #[error("the hand-over file is cut off after message {after}")]
    Cut {
        /// How many messages were read whole.
        after: u32,
    },
    /// Bytes follow the end mark. All messages are there.
    #[error("the hand-over file goes on after its end")]
    Trailing,
    /// More than [`MAX_MESSAGES`].
    #[error("the hand-over file has more than {MAX_MESSAGES} messages")]
    TooMany,
    /// The file could not be read.
    #[error("the hand-over file could not be read")]
    Io(#[source] io::Error),
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    More,
    Ended,
    Failed,
}

/// A parcel that is for this device, by the sender it names. Holds no more than
/// one message in memory.
pub struct Reader<R> {
    input: R,
    sender: DeviceKey,
    total: u64,
    opener: Opener,
    count: u32,
    state: State,
    sealed: Vec<u8>,
}

impl<R: Read> Reader<R> {
    /// Reads the head, and proves receiver and sender.
    ///
    /// Whether the sender is anyone to take messages from is the caller's to
    /// ask. The input is read in small steps: a file wants a `BufReader`.
    ///
    /// # Errors
    /// [`ParcelError`]: all but `Trailing` and `TooMany`.
    pub fn open(identity: &Identity, mut input: R) -> Result<Self, ParcelError> {
        let mut bytes = [0; head::LENGTH];
        let (prefix, rest) = bytes.split_at_mut(head::PREFIX);
        let found = fill(&mut input, prefix)?;
        head::read_prefix(&prefix[..found])?;
        if fill(&mut input, rest)? < rest.len() {
            return Err(ParcelError::Cut { after: 0 });
        }
        let Head { sender, total, contents } = head::read(&bytes, identity)?;
        Ok(Self { input, sender, total, opener: contents, count: 0, state: State::More, sealed: Vec::new() })
    }

    /// The device that made the parcel; proved.
    #[must_use]
    pub fn sender(&self) -> DeviceKey {
        self.sender
    }

    /// What the sender announced in [`Writer::begin`](super::Writer::begin).
    #[must_use]
    pub fn total(&self) -> u64 {
        self.total
    }

    /// Messages read so far.
    #[must_use]
    pub fn count(&self) -> u32 {
        self.count
    }

    /// The next message; nothing after the end mark.
    ///
    /// # Errors
    /// [`ParcelError`]. Nothing can be read after what is wrong; who asks again
    /// hears [`ParcelError::Cut`], and never that it ended well.
    pub fn next_message(&mut self) -> Result<Option<Vec<u8>>, ParcelError> {
        match self.state {
            State::More => {
                self.state = State::Failed;
                let message = self.read()?;
                self.state = if message.is_some() { State::More } else { State::Ended };
                Ok(message)
            }
            State::Ended => Ok(None),
            State::Failed => Err(self.cut()),
        }
    }

    fn read(&mut self) -> Result<Option<Vec<u8>>, ParcelError> {
        let mut before = [0; FRAME];
        self.exactly(&mut before)?;
        let [kind, a, b, c, d] = before;
        let length = u32::from_be_bytes([a, b, c, d]);
        let (kind, limit) = match kind {
            1 => (Kind::Message, MAX_MESSAGE),
            2 => (Kind::End, size_of::<u32>()),
            _ => return Err(self.damaged()),
        };
        let length_in_memory = usize::try_from(length).ok().filter(|length| *length <= limit);
        let length_in_memory = length_in_memory.ok_or_else(|| self.damaged())?;
        if kind == Kind::Message && self.count >= MAX_MESSAGES {
            return Err(ParcelError::TooMany);
        }
        let mut sealed = std::mem::take(&mut self.sealed);
        sealed.resize(length_in_memory + TAG, 0);
        self.exactly(&mut sealed)?;
        let opened = self.opener.open(&sealed, &frame(kind, length)).map_err(|_| self.damaged())?;
        self.sealed = sealed;
        if kind == Kind::Message {
            self.count += 1;
            return Ok(Some(opened));
        }
        // The seal is good, so only a writer that is wrong itself counts wrongly.
        if opened != self.count.to_be_bytes() {
            return Err(self.damaged());
        }
        match fill(&mut self.input, &mut [0])? {
            0 => Ok(None),
            _ => Err(ParcelError::Trailing),
        }
    }

    fn exactly(&mut self, bytes: &mut [u8]) -> Result<(), ParcelError> {
        match fill(&mut self.input, bytes)? {
            found if found == bytes.len() => Ok(()),
            _ => Err(self.cut()),
        }
    }

    fn damaged(&self) -> ParcelError {
        ParcelError::Damaged { at: self.count + 1 }
    }

    fn cut(&self) -> ParcelError {
        ParcelError::Cut { after: self.count }
    }

    #[cfg(test)]
    pub(super) fn pretend_count(&mut self, count: u32) {
        self.count = count;
    }
}

/// Reads until `bytes` is full or the input ends; says how many came.
fn fill(input: &mut impl Read, bytes: &mut [u8]) -> Result<usize, ParcelError> {
    let mut found = 0;
    while found < bytes.len() {
        match input.read(&mut bytes[found..]) {
            Ok(0) => break,
            Ok(n) => found += n,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(ParcelError::Io(error)),
        }
    }
    Ok(found)
}
