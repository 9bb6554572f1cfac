//! Fragments: frames described in `moof` boxes after the movie box
//! (ISO/IEC 14496-12, 8.8).

use std::io::{Read, Seek};

use super::error::ClipError;
use super::media::Sample;
use super::source::{BoxAt, Source, only, required};
use super::table::{MAX_FRAMES, Timeline};

/// The latest time at which a frame may be decoded, in ticks: far from the
/// end of 64 bits, so that its composition offset cannot leave them.
const LATEST: i64 = 1 << 62;

/// The flag of a sample that is no key frame (8.8.3.1).
const NON_SYNC: u32 = 0x1_0000;

/// Flags of `tfhd` (8.8.7), in the order of the fields that they announce.
mod head {
    pub(super) const BASE_OFFSET: u32 = 0x1;
    pub(super) const DESCRIPTION: u32 = 0x2;
    pub(super) const DURATION: u32 = 0x8;
    pub(super) const SIZE: u32 = 0x10;
    pub(super) const SAMPLE_FLAGS: u32 = 0x20;
    /// The time passes without a frame; announces no field.
    pub(super) const EMPTY: u32 = 0x1_0000;
    /// Its data are counted from the fragment itself; announces no field.
    pub(super) const FROM_MOOF: u32 = 0x2_0000;
}

/// Flags of `trun` (8.8.8): two fields of the run, then those of each frame in the
/// order in which they stand there.
mod each {
    pub(super) const DATA_OFFSET: u32 = 0x1;
    pub(super) const FIRST_FLAGS: u32 = 0x4;
    pub(super) const DURATION: u32 = 0x100;
    pub(super) const SIZE: u32 = 0x200;
    pub(super) const SAMPLE_FLAGS: u32 = 0x400;
    pub(super) const OFFSET: u32 = 0x800;
    /// Those of each frame.
    pub(super) const FIELDS: [u32; 4] = [DURATION, SIZE, SAMPLE_FLAGS, OFFSET];
}

/// What a frame has where its run does not say it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Defaults {
    duration: Option<u32>,
    size: Option<u32>,
    flags: u32,
    /// The number of the sample entry that says how it is coded.
    entry: u32,
}

/// The tracks for which fragments are announced, with their defaults, from
/// `mvex`/`trex` (8.8.3).
pub(super) fn announced<R: Read + Seek>(
    source: &mut Source<R>,
    movie: &[BoxAt],
) -> Result<Vec<(u32, Defaults)>, ClipError> {
    let mut found = Vec::new();
    let Some(mvex) = only(movie, b"mvex")? else {
        return Ok(found);
    };
    for trex in source.children(&mvex, 0)?.iter().filter(|inner| &inner.kind.0 == b"trex") {
        let defaults = Defaults {
            duration: Some(source.u32(trex, 12)?),
            size: Some(source.u32(trex, 16)?),
            flags: source.u32(trex, 20)?,
            entry: source.u32(trex, 8)?,
        };
        found.push((source.u32(trex, 4)?, defaults));
    }
    Ok(found)
}

/// Adds the frames that the fragment `moof` has of track `id`. What it holds
/// of other tracks is passed over.
pub(super) fn append<R: Read + Seek>(
    source: &mut Source<R>,
    moof: &BoxAt,
    id: u32,
    defaults: Defaults,
    timeline: &mut Timeline,
) -> Result<(), ClipError> {
    // Where the data of the next track part begins, where nothing else says it: behind
    // those of the part before, which is known only if that part was read (8.8.7.1).
    let mut follows = Some(moof.offset);
    for traf in source.children(moof, 0)?.iter().filter(|inner| &inner.kind.0 == b"traf") {
        let boxes = source.children(traf, 0)?;
        let tfhd = required(&boxes, b"tfhd", traf.parent())?;
        if source.u32(&tfhd, 4)? != id {
            follows = None;
            continue;
        }
        let header = header(source, &tfhd, defaults)?;
        // Only the first sample entry is read.
        if timeline.places.is_some() && header.defaults.entry > 1 {
            return Err(tfhd.field_error("frames are coded in more than one way"));
        }
        // Without a time of its own it goes on where the last one ended.
        if let Some(tfdt) = only(&boxes, b"tfdt")? {
            timeline.next = decode_time(source, &tfdt)?;
        }
        let mut runs = boxes.iter().filter(|inner| &inner.kind.0 == b"trun").peekable();
        if header.empty {
            if let Some(trun) = runs.peek() {
                return Err(trun.field_error("frames stand in a fragment that says it has none"));
            }
            let lasting = i64::from(header.defaults.duration.unwrap_or(0));
            timeline.next = advanced(&tfhd, timeline.next, lasting)?;
        }
        let base = match header.base {
            Some(said) => Some(said),
            None if header.from_moof => Some(moof.offset),
            None => follows,
        };
        follows = base;
        for trun in runs {
            follows = run(source, trun, header.defaults, Data { base, follows }, timeline)?;
        }
    }
    Ok(())
}

/// Where the data of a run may begin: counted from `base`, or behind the run before.
#[derive(Clone, Copy)]
struct Data {
    base: Option<u64>,
    follows: Option<u64>,
}

/// What `tfhd` says (8.8.7).
struct Header {
    defaults: Defaults,
    /// Where its data are counted from.
    base: Option<u64>,
    /// They are counted from the fragment itself.
    from_moof: bool,
    /// The time passes without a frame.
    empty: bool,
}

fn header<R: Read + Seek>(
    source: &mut Source<R>,
    tfhd: &BoxAt,
    mut defaults: Defaults,
) -> Result<Header, ClipError> {
    let flags = source.u32(tfhd, 0)?;
    let has = |flag| flags & flag != 0;
    let mut at = 8;
    let mut base = None;
    if has(head::BASE_OFFSET) {
        base = Some(source.u64(tfhd, at)?);
        at += 8;
    }
    if has(head::DESCRIPTION) {
        defaults.entry = source.u32(tfhd, at)?;
        at += 4;
    }
    let mut next = |flag| {
        if !has(flag) {
            return Ok(None);
        }
        let value = source.u32(tfhd, at)?;
        at += 4;
        Ok::<_, ClipError>(Some(value))
    };
    defaults.duration = next(head::DURATION)?.or(defaults.duration);
    defaults.size = next(head::SIZE)?.or(defaults.size);
    defaults.flags = next(head::SAMPLE_FLAGS)?.unwrap_or(defaults.flags);
    Ok(Header { defaults, base, from_moof: has(head::FROM_MOOF), empty: has(head::EMPTY) })
}

/// When the first frame of a fragment is decoded, from `tfdt` (8.8.12).
fn decode_time<R: Read + Seek>(source: &mut Source<R>, tfdt: &BoxAt) -> Result<i64, ClipError> {
    let time = match source.version(tfdt)? {
        0 => u64::from(source.u32(tfdt, 4)?),
        1 => source.u64(tfdt, 4)?,
        _ => return Err(tfdt.field_error("the time of a fragment has version 0 or 1")),
    };
    i64::try_from(time)
        .ok()
        .filter(|time| *time <= LATEST)
        .ok_or_else(|| tfdt.field_error("the fragment begins beyond any time"))
}

/// A time later by `lasting`; neither is negative.
fn advanced(from: &BoxAt, time: i64, lasting: i64) -> Result<i64, ClipError> {
    time.checked_add(lasting)
        .filter(|time| *time <= LATEST)
        .ok_or_else(|| from.field_error("the fragments reach beyond any time"))
}

/// One run of frames (8.8.8). Composition offsets are signed in version 1; in
/// version 0 recorders write negative ones too, so both are read as signed.
fn run<R: Read + Seek>(
    source: &mut Source<R>,
    trun: &BoxAt,
    defaults: Defaults,
    data: Data,
    timeline: &mut Timeline,
) -> Result<Option<u64>, ClipError> {
    let [version, f0, f1, f2] = source.field::<4>(trun, 0)?;
    if version > 1 {
        return Err(trun.field_error("a run of frames has version 0 or 1"));
    }
    let flags = u32::from_be_bytes([0, f0, f1, f2]);
    let has = |flag: u32| flags & flag != 0;
    let count = u64::from(source.u32(trun, 4)?);
    let before = u64::try_from(timeline.ticks.len()).unwrap_or(u64::MAX);
    let found = before.saturating_add(count);
    if found > MAX_FRAMES {
        let what = "frames of one track";
        return Err(ClipError::TooMany { what, offset: trun.offset, found, limit: MAX_FRAMES });
    }
    if !has(each::DURATION) && defaults.duration.is_none() {
        return Err(trun.field_error("frames have no duration: neither the run nor a default gives one"));
    }
    if !has(each::SIZE) && defaults.size.is_none() {
        return Err(trun.field_error("frames have no size: neither the run nor a default gives one"));
    }
    let usual = Frame {
        duration: defaults.duration.unwrap_or(0),
        size: defaults.size.unwrap_or(0),
        flags: defaults.flags,
        offset: 0,
    };
    let mut at = 8;
    let mut begins = data.follows;
    if has(each::DATA_OFFSET) {
        let offset = i32::from_be_bytes(source.field(trun, at)?);
        begins = data.base.and_then(|base| base.checked_add_signed(offset.into()));
        at += 4;
    }
    let mut lies = match (begins, &timeline.places) {
        (Some(begins), _) => begins,
        (None, None) => 0,
        (None, Some(_)) => return Err(trun.field_error("nothing says where its frames lie")),
    };
    let mut first_flags = None;
    if has(each::FIRST_FLAGS) {
        first_flags = Some(source.u32(trun, at)?);
        at += 4;
    }

    // No frame of this run can then leave the 64 bits.
    let longest = if has(each::DURATION) { u32::MAX } else { usual.duration };
    let lasting = i64::try_from(count.saturating_mul(longest.into())).unwrap_or(i64::MAX);
    advanced(trun, timeline.next, lasting)?;

    // Where each field stands in the words of a frame.
    let place = |field: u32| {
        let before = each::FIELDS.iter().take_while(|other| **other != field);
        has(field).then(|| before.filter(|other| has(**other)).count())
    };
    let (duration, size, sample_flags, offset) =
        (place(each::DURATION), place(each::SIZE), place(each::SAMPLE_FLAGS), place(each::OFFSET));
    let mut frame = |words: &[[u8; 4]]| {
        let field = |place: Option<usize>, usual: u32| {
            place.and_then(|place| words.get(place)).map_or(usual, |word| u32::from_be_bytes(*word))
        };
        Frame {
            duration: field(duration, usual.duration),
            size: field(size, usual.size),
            flags: first_flags.take().unwrap_or_else(|| field(sample_flags, usual.flags)),
            offset: i32::from_be_bytes(field(offset, 0).to_be_bytes()),
        }
    };
    let words = each::FIELDS.iter().filter(|field| has(**field)).count();
    if words == 0 {
        // Nothing but a number: the frames that it claims must have room.
        let bytes = count.saturating_mul(usual.size.into());
        if count > 0 && (bytes == 0 || bytes > source.length()) {
            return Err(no_room(trun));
        }
        for _ in 0..count {
            lies = timeline.push(&frame(&[]), lies);
        }
        return ended(source, trun, begins.map(|_| lies), timeline);
    }
    let record = 4 * u64::try_from(words).unwrap_or(0);
    let length = source.length();
    let mut bytes = 0_u64;
    timeline.ticks.reserve(usize::try_from(count.min(trun.room(at) / record)).unwrap_or(0));
    source.records(trun, at, count, record, |part| {
        for words in part.as_chunks::<4>().0.chunks_exact(words) {
            let frame = frame(words);
            bytes += u64::from(frame.size);
            lies = timeline.push(&frame, lies);
        }
        if bytes > length { Err(no_room(trun)) } else { Ok(()) }
    })?;
    ended(source, trun, begins.map(|_| lies), timeline)
}

/// Where the data of a run end, which must be in the file where they are asked for.
fn ended<R: Read + Seek>(
    source: &Source<R>,
    trun: &BoxAt,
    end: Option<u64>,
    timeline: &Timeline,
) -> Result<Option<u64>, ClipError> {
    if timeline.places.is_some() && end.is_some_and(|end| end > source.length()) {
        return Err(trun.field_error("its frames lie beyond the end of the file"));
    }
    Ok(end)
}

fn no_room(trun: &BoxAt) -> ClipError {
    trun.field_error("the file has no room for the frames that the run claims")
}

/// One frame of a run.
struct Frame {
    duration: u32,
    size: u32,
    flags: u32,
    offset: i32,
}

impl Timeline {
    /// Adds a frame that lies at byte `place`, whose times were checked to stay within
    /// 64 bits; gives where the next one lies.
    #[inline]
    fn push(&mut self, frame: &Frame, place: u64) -> u64 {
        let time = self.next + i64::from(frame.offset);
        self.ticks.push(time);
        self.repeats.push(frame.size, time);
        let key = frame.flags & NON_SYNC == 0;
        self.sync += u64::from(key);
        self.next += i64::from(frame.duration);
        if let Some(places) = &mut self.places {
            places.push(Sample { offset: place, size: frame.size, frame: 0, key });
        }
        place.saturating_add(frame.size.into())
    }
}
