//! The file as boxes: where each begins and ends, and fixed fields out of it.
//!
//! ISO/IEC 14496-12, 4.2: a box is a 32-bit size, a four-character name and
//! its body; size 1 means that a 64-bit size follows, size 0 that the box
//! reaches to the end of the file. Everything here is bounded by what holds
//! the box, so a false size can neither be followed nor allocated.

use std::io::{BufReader, Read, Seek, SeekFrom};

use super::error::{ClipError, FourCc, Parent};

/// Boxes that one parent may hold. A phone's clip has a few dozen.
const MAX_SIBLINGS: u64 = 16_384;

/// Boxes of the file itself. A fragment has two to four, and some recorders
/// write one for every few frames.
const MAX_TOP: u64 = 1 << 19;

/// Bytes of a table that are read at a time.
const BLOCK: u64 = 1 << 15;

/// One box in the file.
#[derive(Clone, Copy, Debug)]
pub(super) struct BoxAt {
    pub(super) kind: FourCc,
    /// Where its size field stands.
    pub(super) offset: u64,
    /// Where its body begins.
    pub(super) body: u64,
    /// The first byte after it.
    pub(super) end: u64,
}

impl BoxAt {
    pub(super) fn parent(&self) -> Parent {
        Parent::Within { kind: self.kind, offset: self.offset }
    }

    /// Bytes of the body after its first `at`.
    pub(super) fn room(&self, at: u64) -> u64 {
        self.end.saturating_sub(self.body).saturating_sub(at)
    }

    pub(super) fn field_error(&self, what: &'static str) -> ClipError {
        ClipError::Field { kind: self.kind, offset: self.offset, what }
    }
}

/// What holds the boxes that are walked.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Within {
    /// The file: its last box may be open-ended, and boxes end where a trailer begins.
    File { trailer: Option<u64> },
    /// Another box.
    Box,
}

/// Boxes that follow each other, as far as they were walked.
pub(super) struct Row {
    within: Within,
    at: u64,
    end: u64,
    count: u64,
}

impl Row {
    /// The boxes of the file itself, up to a trailer that is not inside one of them.
    pub(super) fn top<R: Read + Seek>(source: &Source<R>, trailer: Option<u64>) -> Self {
        Self { within: Within::File { trailer }, at: 0, end: source.length(), count: 0 }
    }

    /// The boxes inside another, from byte `start` of the file to byte `end`.
    fn inside(start: u64, end: u64) -> Self {
        Self { within: Within::Box, at: start, end, count: 0 }
    }

    /// The next box, if there is one.
    pub(super) fn next<R: Read + Seek>(
        &mut self,
        source: &mut Source<R>,
    ) -> Result<Option<BoxAt>, ClipError> {
        let offset = self.at;
        let left = self.end.saturating_sub(offset);
        if left == 0 || self.within == (Within::File { trailer: Some(offset) }) {
            return Ok(None);
        }
        if left < 8 {
            return Err(ClipError::Stray { offset, left });
        }
        self.count += 1;
        let limit = if self.within == Within::Box { MAX_SIBLINGS } else { MAX_TOP };
        if self.count > limit {
            return Err(ClipError::TooMany { what: "boxes side by side", offset, found: self.count, limit });
        }
        let next = source.header(offset, left, self.within)?;
        self.at = next.end;
        Ok(Some(next))
    }
}

/// A file that is read box by box.
pub(super) struct Source<R> {
    inner: BufReader<R>,
    at: u64,
    length: u64,
    /// Where a block of a table is read into, kept from table to table.
    block: Vec<u8>,
}

impl<R: Read + Seek> Source<R> {
    pub(super) fn new(reader: R) -> Result<Self, ClipError> {
        // Boxes are small and far apart; a large buffer would load media data.
        // A fragment of a second fits.
        let mut inner = BufReader::with_capacity(8192, reader);
        let io = |source| ClipError::Io { offset: 0, source };
        let length = inner.seek(SeekFrom::End(0)).map_err(io)?;
        inner.seek(SeekFrom::Start(0)).map_err(io)?;
        Ok(Self { inner, at: 0, length, block: Vec::new() })
    }

    pub(super) fn length(&self) -> u64 {
        self.length
    }

    /// Fills `buffer` from byte `offset` of the file.
    pub(super) fn read(&mut self, offset: u64, buffer: &mut [u8]) -> Result<(), ClipError> {
        let io = |source| ClipError::Io { offset, source };
        if offset != self.at {
            match i64::try_from(i128::from(offset) - i128::from(self.at)) {
                // Keeps what is buffered where the way is short.
                Ok(step) => self.inner.seek_relative(step).map_err(io)?,
                Err(_) => {
                    self.inner.seek(SeekFrom::Start(offset)).map_err(io)?;
                }
            }
            self.at = offset;
        }
        self.inner.read_exact(buffer).map_err(io)?;
        let read = u64::try_from(buffer.len()).unwrap_or(u64::MAX);
        self.at = offset.saturating_add(read);
        Ok(())
    }

    /// The boxes that follow each other inside another, from `start` to `end`.
    fn boxes(&mut self, start: u64, end: u64) -> Result<Vec<BoxAt>, ClipError> {
        let mut row = Row::inside(start, end);
        let mut found = Vec::new();
        while let Some(next) = row.next(self)? {
            found.push(next);
        }
        Ok(found)
    }

    /// The box at `offset`, where `left` (at least 8) bytes are left.
    fn header(&mut self, offset: u64, left: u64, within: Within) -> Result<BoxAt, ClipError> {
        let mut head = [0_u8; 8];
        self.read(offset, &mut head)?;
        let [s0, s1, s2, s3, k0, k1, k2, k3] = head;
        let kind = FourCc([k0, k1, k2, k3]);
        let (size, header) = match u32::from_be_bytes([s0, s1, s2, s3]) {
            0 if within != Within::Box => (left, 8),
            1 => {
                if left < 16 {
                    return Err(ClipError::CutOff { kind, offset, size: 16, left });
                }
                let mut long = [0_u8; 8];
                self.read(offset + 8, &mut long)?;
                (u64::from_be_bytes(long), 16)
            }
            size => (u64::from(size), 8),
        };
        if size < header {
            return Err(ClipError::TooShort { kind, offset, size, least: header });
        }
        if size > left {
            return Err(ClipError::CutOff { kind, offset, size, left });
        }
        Ok(BoxAt { kind, offset, body: offset + header, end: offset + size })
    }

    /// The first box of the file, if a box begins there.
    pub(super) fn first(&mut self) -> Result<Option<FourCc>, ClipError> {
        if self.length < 8 {
            return Ok(None);
        }
        let mut head = [0_u8; 8];
        self.read(0, &mut head)?;
        let [.., k0, k1, k2, k3] = head;
        Ok(Some(FourCc([k0, k1, k2, k3])))
    }

    /// The boxes inside `parent`, after the first `skip` bytes of its body.
    pub(super) fn children(&mut self, parent: &BoxAt, skip: u64) -> Result<Vec<BoxAt>, ClipError> {
        let mut end = parent.end;
        let start = parent.body.saturating_add(skip).min(end);
        // QuickTime allows four zero bytes at the end of `udta`.
        if parent.kind == FourCc(*b"udta") && end - start >= 4 {
            let mut close = [0_u8; 4];
            self.read(end - 4, &mut close)?;
            if close == [0; 4] && self.boxes(start, end).is_err() {
                end -= 4;
            }
        }
        let found = self.boxes(start, end)?;
        match found.iter().find(|child| child.kind == parent.kind) {
            Some(inner) => Err(ClipError::Nested { kind: inner.kind, offset: inner.offset }),
            None => Ok(found),
        }
    }

    /// The boxes inside `parent`, after the first `skip` bytes of its body, up to the
    /// first bytes that make none.
    pub(super) fn leading(&mut self, parent: &BoxAt, skip: u64) -> Result<Vec<BoxAt>, ClipError> {
        let mut row = Row::inside(parent.body.saturating_add(skip).min(parent.end), parent.end);
        let mut found = Vec::new();
        loop {
            match row.next(self) {
                Ok(Some(next)) => found.push(next),
                Err(error @ (ClipError::Io { .. } | ClipError::TooMany { .. })) => return Err(error),
                Ok(None) | Err(_) => return Ok(found),
            }
        }
    }

    /// `N` bytes of the body of `from`, from its byte `at`.
    pub(super) fn field<const N: usize>(&mut self, from: &BoxAt, at: u64) -> Result<[u8; N], ClipError> {
        let wanted = u64::try_from(N).unwrap_or(u64::MAX);
        if from.room(at) < wanted {
            return Err(ClipError::TooShort {
                kind: from.kind,
                offset: from.offset,
                size: from.end - from.offset,
                least: (from.body - from.offset).saturating_add(at).saturating_add(wanted),
            });
        }
        let mut bytes = [0_u8; N];
        self.read(from.body + at, &mut bytes)?;
        Ok(bytes)
    }

    /// Hands `each` the `count` records of `size` bytes that stand in the body
    /// of `from` from its byte `at`, as many whole records at a time as a block
    /// holds.
    pub(super) fn records(
        &mut self,
        from: &BoxAt,
        at: u64,
        count: u64,
        size: u64,
        mut each: impl FnMut(&[u8]) -> Result<(), ClipError>,
    ) -> Result<(), ClipError> {
        let wanted = count.saturating_mul(size);
        if from.room(at) < wanted {
            return Err(ClipError::Table {
                kind: from.kind,
                offset: from.offset,
                entries: count,
                entry_size: size,
                room: from.room(at),
            });
        }
        let mut block = std::mem::take(&mut self.block);
        let least = usize::try_from(wanted.min(BLOCK)).unwrap_or(0);
        if block.len() < least {
            block.resize(least, 0);
        }
        let whole = BLOCK - BLOCK.checked_rem(size).unwrap_or(0);
        let mut done = 0;
        while done < wanted {
            let length = whole.min(wanted - done);
            let part = usize::try_from(length).ok().and_then(|length| block.get_mut(..length));
            let Some(part) = part else { break };
            self.read(from.body + at + done, part)?;
            each(part)?;
            done += length;
        }
        self.block = block;
        Ok(())
    }

    /// A big-endian 32-bit field.
    pub(super) fn u32(&mut self, from: &BoxAt, at: u64) -> Result<u32, ClipError> {
        self.field(from, at).map(u32::from_be_bytes)
    }

    /// A big-endian 64-bit field.
    pub(super) fn u64(&mut self, from: &BoxAt, at: u64) -> Result<u64, ClipError> {
        self.field(from, at).map(u64::from_be_bytes)
    }

    /// The version of a full box: the first byte of its body.
    pub(super) fn version(&mut self, from: &BoxAt) -> Result<u8, ClipError> {
        let [version, ..] = self.field::<4>(from, 0)?;
        Ok(version)
    }

    /// The count field at `at`, checked against the room that follows it and
    /// against `limit`, so that nothing is allocated or walked on its word.
    pub(super) fn entries(
        &mut self,
        from: &BoxAt,
        at: u64,
        entry_size: u64,
        limit: u64,
        what: &'static str,
    ) -> Result<u64, ClipError> {
        let entries = u64::from(self.u32(from, at)?);
        let room = from.room(at + 4);
        if entries.saturating_mul(entry_size) > room {
            return Err(ClipError::Table { kind: from.kind, offset: from.offset, entries, entry_size, room });
        }
        if entries > limit {
            return Err(ClipError::TooMany { what, offset: from.offset, found: entries, limit });
        }
        Ok(entries)
    }
}

/// The only box of its kind among `siblings`, if there is one.
pub(super) fn only(siblings: &[BoxAt], kind: &[u8; 4]) -> Result<Option<BoxAt>, ClipError> {
    let mut matching = siblings.iter().filter(|found| &found.kind.0 == kind);
    let first = matching.next().copied();
    match matching.next() {
        Some(second) => Err(ClipError::Repeated { kind: second.kind, offset: second.offset }),
        None => Ok(first),
    }
}

/// The only box of its kind among `siblings`, which must be there.
pub(super) fn required(siblings: &[BoxAt], kind: &[u8; 4], parent: Parent) -> Result<BoxAt, ClipError> {
    only(siblings, kind)?.ok_or(ClipError::Missing { kind: FourCc(*kind), parent })
}
