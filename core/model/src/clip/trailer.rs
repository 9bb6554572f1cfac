//! The trailer that a phone maker writes behind the last box, or into a last box
//! of its own.
//!
//! It closes the file: `SEFT`, before that the length of its tail, and the
//! tail names entries that stand before it. All its numbers are
//! little-endian. Entries go by their names, because their type numbers are
//! inconsistent; what they hold is never read.

use std::io::{Read, Seek};

use super::error::ClipError;
use super::source::Source;

/// Entries of one trailer. A phone writes fewer than twenty.
const MAX_ENTRIES: u64 = 1024;

/// The longest name of an entry that is looked at.
const MAX_NAME: u64 = 256;

/// Bytes of the head of the tail: mark, version, count.
const HEAD: u64 = 12;

/// Bytes of one record of the tail: two unused, type, distance, size.
const RECORD: u64 = 12;

/// How an entry's name begins when a part of the clip is slowed in the file.
const SLOWED: &[u8] = b"Super_SlowMotion";

/// What an entry's name has in it, in any case, when frames were interpolated.
const INTERPOLATED: &[u8] = b"interpolat";

/// What a maker's trailer says of the frames.
#[derive(Clone, Copy, Debug)]
pub(super) struct Trailer {
    /// The byte at which its first entry begins.
    pub(super) offset: u64,
    /// An entry begins `Super_SlowMotion`: a part of the clip is slowed in the
    /// file itself.
    pub(super) slowed_part: bool,
    /// The name of an entry says "interpolat…": frames were made, not filmed.
    pub(super) interpolated: bool,
}

/// The trailer of the file, if it ends with one.
pub(super) fn read<R: Read + Seek>(source: &mut Source<R>) -> Result<Option<Trailer>, ClipError> {
    let length = source.length();
    let Some(close) = length.checked_sub(8) else {
        return Ok(None);
    };
    let mut closing = [0_u8; 8];
    source.read(close, &mut closing)?;
    let [l0, l1, l2, l3, mark @ ..] = closing;
    if mark != *b"SEFT" {
        return Ok(None);
    }
    let damaged = |offset, what| ClipError::Trailer { offset, what };
    let tail = u64::from(u32::from_le_bytes([l0, l1, l2, l3]));
    let at = close
        .checked_sub(tail)
        .filter(|_| tail >= HEAD)
        .ok_or_else(|| damaged(close, "the length of its tail does not fit into the file"))?;
    let mut head = [0_u8; 12];
    source.read(at, &mut head)?;
    let [m0, m1, m2, m3, _, _, _, _, c0, c1, c2, c3] = head;
    if [m0, m1, m2, m3] != *b"SEFH" {
        return Err(damaged(at, "its tail does not begin with `SEFH`"));
    }
    let count = u64::from(u32::from_le_bytes([c0, c1, c2, c3]));
    if count > MAX_ENTRIES {
        return Err(ClipError::TooMany {
            what: "entries of the vendor trailer",
            offset: at,
            found: count,
            limit: MAX_ENTRIES,
        });
    }
    if HEAD + count * RECORD > tail {
        return Err(damaged(at, "its tail has no room for the entries that it claims"));
    }

    let mut trailer = Trailer { offset: at, slowed_part: false, interpolated: false };
    for index in 0..count {
        let place = at + HEAD + index * RECORD;
        let mut record = [0_u8; 12];
        source.read(place, &mut record)?;
        let [_, _, _, _, d0, d1, d2, d3, s0, s1, s2, s3] = record;
        let back = u64::from(u32::from_le_bytes([d0, d1, d2, d3]));
        let size = u64::from(u32::from_le_bytes([s0, s1, s2, s3]));
        let entry = at
            .checked_sub(back)
            .filter(|_| size <= back)
            .ok_or_else(|| damaged(place, "an entry lies outside the file or reaches into the tail"))?;
        name(source, entry, size, &mut trailer)?;
        trailer.offset = trailer.offset.min(entry);
    }
    Ok(Some(trailer))
}

/// Looks at the name of the entry at `entry`.
fn name<R: Read + Seek>(
    source: &mut Source<R>,
    entry: u64,
    size: u64,
    trailer: &mut Trailer,
) -> Result<(), ClipError> {
    let damaged = |what| ClipError::Trailer { offset: entry, what };
    if size < 8 {
        return Err(damaged("an entry is shorter than its head"));
    }
    let mut head = [0_u8; 8];
    source.read(entry, &mut head)?;
    let [_, _, _, _, n0, n1, n2, n3] = head;
    let length = u64::from(u32::from_le_bytes([n0, n1, n2, n3]));
    if length > size - 8 {
        return Err(damaged("the name of an entry is longer than the entry"));
    }
    let mut name = vec![0_u8; usize::try_from(length.min(MAX_NAME)).unwrap_or(0)];
    source.read(entry + 8, &mut name)?;
    trailer.slowed_part |= name.starts_with(SLOWED);
    name.make_ascii_lowercase();
    trailer.interpolated |= name.windows(INTERPOLATED.len()).any(|part| part == INTERPOLATED);
    Ok(())
}
