//! A file for one device, by any means: what it may hold of this book, sealed to
//! its key.
//!
//! What is handed over counts as *not confirmed* until a receipt comes: with the
//! next sync, or in a file that comes back.

use std::io::{Read, Write};

use pitside_log::sync::{Message, Packing, Progress, SyncError, Unpacking};
use pitside_model::facts::{DeviceKey, LogId};

use crate::clock::Clock;
use crate::keys::OsRng;
use crate::parcel::{PackError, ParcelError, Reader, Writer};
use crate::store::{Book, BookError, BookReplica};

/// Why a file could not be made.
#[derive(Debug, thiserror::Error)]
pub enum HandOverError {
    /// The receiver is not one of the squad's devices, or the book failed.
    #[error(transparent)]
    Sync(#[from] SyncError<BookError>),
    /// The file could not be written.
    #[error(transparent)]
    Pack(#[from] PackError),
    /// A person called it off.
    #[error("called off: the file is not whole, and of use up to there")]
    CalledOff,
}

/// Why a file was not taken in, or not to its end. What came before stays.
#[derive(Debug, thiserror::Error)]
pub enum TakeInError {
    /// What is in it was refused.
    #[error(transparent)]
    Sync(#[from] SyncError<BookError>),
    /// The file is not whole, not for this device, or not by whom it says.
    #[error(transparent)]
    Parcel(#[from] ParcelError),
    /// A person called it off.
    #[error("called off; what was taken in by then stays")]
    CalledOff,
}

/// What was taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakenIn {
    /// Who made the file.
    pub from: DeviceKey,
    /// Entries that were new.
    pub received: u64,
    /// Logs of which it showed that they were written twice.
    pub forked: Vec<LogId>,
}

/// Writes a file for a device, with all that it may hold. `watch` hears how far it
/// is, and calls it off by saying `false`. Gives the number of entries.
///
/// The caller makes sure that the file is on its disk, and then says so with
/// [`Book::note_handed`].
///
/// # Errors
/// [`HandOverError`].
pub fn write<W: Write>(
    book: &Book,
    to: DeviceKey,
    out: W,
    clock: &dyn Clock,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Result<(W, Handed), HandOverError> {
    let mut replica = BookReplica::new(book, clock);
    let mut packing = Packing::new(&mut replica, to)?;
    let total = packing.progress().to_send;
    let mut writer = Writer::begin(book.identity(), to, total, &mut OsRng, out)?;
    while let Some(message) = packing.next(&replica, clock.now().ms)? {
        writer.put(&message.to_bytes())?;
        if !watch(packing.progress()) {
            return Err(HandOverError::CalledOff);
        }
    }
    let handed = Handed { to, entries: packing.progress().sent, heads: packing.packed().to_vec() };
    Ok((writer.finish()?, handed))
}

/// What went into a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Handed {
    /// For whom.
    pub to: DeviceKey,
    /// How many entries.
    pub entries: u64,
    /// Up to where, of each log.
    pub heads: Vec<pitside_model::facts::Head>,
}

/// Takes a file in. `watch` hears after each message how many entries were new, and
/// how many the file has, and calls it off by saying `false`. Taking one in again
/// changes nothing.
///
/// # Errors
/// [`TakeInError`]; what came before it stays.
pub fn read<R: Read>(
    book: &Book,
    input: R,
    clock: &dyn Clock,
    watch: &mut dyn FnMut(u64, u64) -> bool,
) -> Result<TakenIn, TakeInError> {
    let mut reader = Reader::open(book.identity(), input)?;
    let from = reader.sender();
    let mut replica = BookReplica::new(book, clock);
    let mut unpacking = Unpacking::new(from);
    while let Some(bytes) = reader.next_message()? {
        let message = match Message::from_bytes(&bytes) {
            Ok(message) => message,
            Err(why) => {
                book.set_aside(from, &why.to_string(), &bytes, clock.now()).map_err(SyncError::Store)?;
                return Err(SyncError::Message(why).into());
            }
        };
        unpacking.take(&mut replica, &message, clock.now().ms)?;
        if !watch(unpacking.taken().new, reader.total()) {
            return Err(TakeInError::CalledOff);
        }
    }
    let taken = unpacking.taken();
    Ok(TakenIn { from, received: taken.new, forked: taken.forked.clone() })
}
