//! The trailer that one maker's phones put after the last box, or into a last box of
//! their own.
//!
//! The file ends with a list of what it has: `SEFH`, version, number, and for each
//! entry {2 bytes, type (16 bits), distance back from `SEFH`, size}; then the list's
//! length and `SEFT`. An entry is {2 bytes, type, length of its name, name, data}. All
//! numbers are little-endian. Types are given inconsistently, so entries go by their
//! names; their data are not read.

use std::io::{Read, Seek};

use super::error::ClipError;
use super::source::Source;

/// How an entry's name begins where a part of the clip was recorded slowed.
const SLOWED: &[u8] = b"Super_SlowMotion";
/// Entries of one trailer. A phone writes a handful.
const MAX_ENTRIES: u32 = 1_024;
/// The longest name of an entry.
const MAX_NAME: u32 = 256;

/// A trailer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Trailer {
    /// Where its first entry begins.
    pub(super) offset: u64,
    /// It says that a part of the clip was recorded slowed.
    pub(super) slowed: bool,
}

/// The trailer of the file, if it has one.
pub(super) fn read<R: Read + Seek>(source: &mut Source<R>) -> Result<Option<Trailer>, ClipError> {
    let length = source.length();
    let Some(close) = length.checked_sub(8) else { return Ok(None) };
    let mut tail = [0_u8; 8];
    source.read(close, &mut tail)?;
    let [l0, l1, l2, l3, mark @ ..] = tail;
    if mark != *b"SEFT" {
        return Ok(None);
    }
    let wrong = |offset, what| ClipError::Trailer { offset, what };
    let list = u64::from(u32::from_le_bytes([l0, l1, l2, l3]));
    let begin = close.checked_sub(list).ok_or(wrong(close, "its list is longer than the file"))?;
    if list < 12 {
        return Err(wrong(close, "its list is shorter than a list is"));
    }
    let mut head = [0_u8; 12];
    source.read(begin, &mut head)?;
    let [m0, m1, m2, m3, _, _, _, _, c0, c1, c2, c3] = head;
    if [m0, m1, m2, m3] != *b"SEFH" {
        return Err(wrong(begin, "its list does not begin with SEFH"));
    }
    let count = u32::from_le_bytes([c0, c1, c2, c3]);
    if count > MAX_ENTRIES || u64::from(count) * 12 > list - 12 {
        return Err(wrong(begin, "it claims more entries than there is room for"));
    }
    let mut trailer = Trailer { offset: begin, slowed: false };
    for entry in 0..u64::from(count) {
        let at = begin + 12 + 12 * entry;
        let mut record = [0_u8; 12];
        source.read(at, &mut record)?;
        let [_, _, _, _, b0, b1, b2, b3, s0, s1, s2, s3] = record;
        let back = u64::from(u32::from_le_bytes([b0, b1, b2, b3]));
        let size = u64::from(u32::from_le_bytes([s0, s1, s2, s3]));
        let from = begin.checked_sub(back).ok_or(wrong(at, "an entry begins before the file"))?;
        if size < 8 || size > back {
            return Err(wrong(at, "an entry has no room for its name, or reaches into the list"));
        }
        let mut head = [0_u8; 8];
        source.read(from, &mut head)?;
        let [_, _, _, _, n0, n1, n2, n3] = head;
        let name = u32::from_le_bytes([n0, n1, n2, n3]);
        if name > MAX_NAME || u64::from(name) > size - 8 {
            return Err(wrong(from, "an entry's name is longer than the entry"));
        }
        let mut begins = [0_u8; SLOWED.len()];
        if let Some(begins) = begins.get_mut(..usize::try_from(name).unwrap_or(0).min(SLOWED.len())) {
            source.read(from + 8, begins)?;
        }
        trailer.slowed |= begins == *SLOWED;
        trailer.offset = trailer.offset.min(from);
    }
    Ok(Some(trailer))
}
