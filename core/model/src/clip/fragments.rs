//! Frame times in fragments (ISO/IEC 14496-12, 8.8): `moof` boxes behind the movie box,
//! each with runs of frames that go on where the tables end.

use std::io::{Read, Seek};

use super::error::ClipError;
use super::frames::MAX_FRAMES;
use super::source::{BoxAt, Source, only, required};

/// Tracks of one fragment, runs of one track.
const MAX_PARTS: u64 = 4_096;

/// What a frame has where its run says nothing else: `trex` (8.8.3).
#[derive(Clone, Copy, Debug, Default)]
struct Defaults {
    duration: u32,
    size: u32,
}

/// Flags of `tfhd` (8.8.7) and of `trun` (8.8.8).
mod flag {
    pub(super) const BASE_OFFSET: u32 = 0x1;
    pub(super) const DESCRIPTION: u32 = 0x2;
    pub(super) const DEFAULT_DURATION: u32 = 0x8;
    pub(super) const DEFAULT_SIZE: u32 = 0x10;
    pub(super) const DATA_OFFSET: u32 = 0x1;
    pub(super) const FIRST_FLAGS: u32 = 0x4;
    pub(super) const DURATION: u32 = 0x100;
    pub(super) const SIZE: u32 = 0x200;
    pub(super) const FLAGS: u32 = 0x400;
    pub(super) const OFFSET: u32 = 0x800;
}

/// A track's frames as they are gathered: its tables first, then its fragments.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    /// When each frame is shown, in decoding order.
    pub(super) times: Vec<i64>,
    /// How many bytes each has.
    pub(super) sizes: Vec<u32>,
    /// When the next frame is decoded.
    pub(super) next: i64,
}

/// Adds the frames that a track has in fragments.
pub(super) fn append<R: Read + Seek>(
    source: &mut Source<R>,
    top: &[BoxAt],
    movie: &[BoxAt],
    track: u32,
    frames: &mut Gathered,
) -> Result<(), ClipError> {
    let mut defaults = None;
    for moof in top.iter().filter(|found| &found.kind.0 == b"moof") {
        let defaults = match defaults {
            Some(defaults) => defaults,
            None => *defaults.insert(defaults_of(source, movie, track)?),
        };
        let parts = source.children(moof, 0)?;
        limit(&parts, b"traf", "tracks of one fragment")?;
        for traf in parts.iter().filter(|found| &found.kind.0 == b"traf") {
            one_track(source, traf, track, defaults, frames)?;
        }
    }
    Ok(())
}

fn limit(boxes: &[BoxAt], kind: &[u8; 4], what: &'static str) -> Result<(), ClipError> {
    let mut alike = boxes.iter().filter(|found| &found.kind.0 == kind);
    match alike.nth(usize::try_from(MAX_PARTS).unwrap_or(usize::MAX)) {
        Some(found) => {
            Err(ClipError::TooMany { what, offset: found.offset, found: MAX_PARTS + 1, limit: MAX_PARTS })
        }
        None => Ok(()),
    }
}

/// The defaults of a track; none at all where the movie box has none.
fn defaults_of<R: Read + Seek>(
    source: &mut Source<R>,
    movie: &[BoxAt],
    track: u32,
) -> Result<Defaults, ClipError> {
    let Some(mvex) = only(movie, b"mvex")? else { return Ok(Defaults::default()) };
    for trex in source.children(&mvex, 0)?.iter().filter(|found| &found.kind.0 == b"trex") {
        if source.u32(trex, 4)? == track {
            return Ok(Defaults { duration: source.u32(trex, 12)?, size: source.u32(trex, 16)? });
        }
    }
    Ok(Defaults::default())
}

fn one_track<R: Read + Seek>(
    source: &mut Source<R>,
    traf: &BoxAt,
    track: u32,
    mut defaults: Defaults,
    frames: &mut Gathered,
) -> Result<(), ClipError> {
    let boxes = source.children(traf, 0)?;
    let tfhd = required(&boxes, b"tfhd", traf.parent())?;
    if source.u32(&tfhd, 4)? != track {
        return Ok(());
    }
    let flags = source.u32(&tfhd, 0)?;
    let mut at = 8;
    for (present, bytes) in [(flag::BASE_OFFSET, 8), (flag::DESCRIPTION, 4)] {
        at += if flags & present == 0 { 0 } else { bytes };
    }
    if flags & flag::DEFAULT_DURATION != 0 {
        defaults.duration = source.u32(&tfhd, at)?;
        at += 4;
    }
    if flags & flag::DEFAULT_SIZE != 0 {
        defaults.size = source.u32(&tfhd, at)?;
    }
    if let Some(tfdt) = only(&boxes, b"tfdt")? {
        frames.next = match source.version(&tfdt)? {
            0 => i64::from(source.u32(&tfdt, 4)?),
            1 => i64::try_from(source.u64(&tfdt, 4)?)
                .map_err(|_| tfdt.field_error("a fragment begins beyond any time"))?,
            _ => return Err(tfdt.field_error("the time of a fragment has version 0 or 1")),
        };
    }
    limit(&boxes, b"trun", "runs of one fragment")?;
    for trun in boxes.iter().filter(|found| &found.kind.0 == b"trun") {
        run(source, trun, defaults, frames)?;
    }
    Ok(())
}

/// One run of frames. Composition offsets are read as signed in both versions, as in
/// `ctts`.
fn run<R: Read + Seek>(
    source: &mut Source<R>,
    trun: &BoxAt,
    defaults: Defaults,
    frames: &mut Gathered,
) -> Result<(), ClipError> {
    let flags = source.u32(trun, 0)?;
    let each = [flag::DURATION, flag::SIZE, flag::FLAGS, flag::OFFSET];
    let fields = each.iter().filter(|field| flags & **field != 0).count();
    let entry_size = 4 * u64::try_from(fields).unwrap_or(0);
    let first = [flag::DATA_OFFSET, flag::FIRST_FLAGS];
    let head = 8 + 4 * u64::try_from(first.iter().filter(|field| flags & **field != 0).count()).unwrap_or(0);
    let count = u64::from(source.u32(trun, 4)?);
    let room = trun.room(head);
    if count.saturating_mul(entry_size) > room {
        let (kind, offset) = (trun.kind, trun.offset);
        return Err(ClipError::Table { kind, offset, entries: count, entry_size, room });
    }
    let found = count.saturating_add(u64::try_from(frames.times.len()).unwrap_or(u64::MAX));
    if found > MAX_FRAMES {
        let what = "frames of one track";
        return Err(ClipError::TooMany { what, offset: trun.offset, found, limit: MAX_FRAMES });
    }
    let late = || trun.field_error("the frames reach beyond any time");
    let mut take = |entry: &[[u8; 4]]| {
        let mut fields = entry.iter().copied().map(u32::from_be_bytes);
        let mut field = |present: u32| if flags & present == 0 { None } else { fields.next() };
        let duration = field(flag::DURATION).unwrap_or(defaults.duration);
        let size = field(flag::SIZE).unwrap_or(defaults.size);
        field(flag::FLAGS);
        let offset = field(flag::OFFSET).map_or(0, |offset| i32::from_be_bytes(offset.to_be_bytes()));
        frames.times.push(frames.next.checked_add(i64::from(offset)).ok_or_else(late)?);
        frames.sizes.push(size);
        frames.next = frames.next.checked_add(i64::from(duration)).ok_or_else(late)?;
        Ok(())
    };
    if fields == 0 {
        return (0..count).try_for_each(|_| take(&[]));
    }
    source.words(trun, head, count * u64::try_from(fields).unwrap_or(0), |words| {
        words.chunks_exact(fields).try_for_each(&mut take)
    })
}
