//! Fragments: frames described in `moof` boxes after the movie box
//! (ISO/IEC 14496-12, 8.8).

use std::io::{Read, Seek};

use super::error::ClipError;
use super::media::Place;
use super::source::{BoxAt, Source, only, required};
use super::table::{MAX_FRAMES, Timeline};

/// The latest time at which a frame may be decoded, in ticks: far from the
/// end of 64 bits, so that its composition offset cannot leave them.
const LATEST: u64 = 1 << 62;

/// The flag of a sample that is no key frame (8.8.3.1).
const NON_SYNC: u32 = 0x1_0000;

/// What a frame has where its run does not say it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Defaults {
    duration: Option<u32>,
    size: Option<u32>,
    flags: u32,
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
        let head = header(source, &tfhd, defaults)?;
        // Without a time of its own it goes on where the last one ended.
        if let Some(tfdt) = only(&boxes, b"tfdt")? {
            timeline.next = decode_time(source, &tfdt)?;
        }
        let mut runs = boxes.iter().filter(|inner| &inner.kind.0 == b"trun").peekable();
        if head.empty {
            if let Some(trun) = runs.peek() {
                return Err(trun.field_error("frames stand in a fragment that says it has none"));
            }
            let lasting = i64::from(head.defaults.duration.unwrap_or(0));
            timeline.next = advanced(&tfhd, timeline.next, lasting)?;
        }
        let base = match head.base {
            Some(said) => Some(said),
            None if head.from_moof => Some(moof.offset),
            None => follows,
        };
        follows = base;
        for trun in runs {
            follows = run(source, trun, head.defaults, Data { base, follows }, timeline)?;
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
    let flags = source.u32(tfhd, 0)? & 0xff_ffff;
    let mut at = 8;
    let base = if flags & 0x1 != 0 {
        at += 8;
        Some(source.u64(tfhd, 8)?)
    } else {
        None
    };
    if flags & 0x2 != 0 {
        at += 4;
    }
    let mut next = |flag| {
        if flags & flag == 0 {
            return Ok(None);
        }
        let value = source.u32(tfhd, at)?;
        at += 4;
        Ok::<_, ClipError>(Some(value))
    };
    defaults.duration = next(0x8)?.or(defaults.duration);
    defaults.size = next(0x10)?.or(defaults.size);
    defaults.flags = next(0x20)?.unwrap_or(defaults.flags);
    let (empty, from_moof) = (flags & 0x1_0000 != 0, flags & 0x2_0000 != 0);
    Ok(Header { defaults, base, from_moof, empty })
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
        .filter(|_| time <= LATEST)
        .ok_or_else(|| tfdt.field_error("the fragment begins beyond any time"))
}

/// A time later by `lasting`, which is not negative.
fn advanced(from: &BoxAt, time: i64, lasting: i64) -> Result<i64, ClipError> {
    time.checked_add(lasting)
        .filter(|time| u64::try_from(*time).is_ok_and(|time| time <= LATEST))
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
    let count = u64::from(source.u32(trun, 4)?);
    let before = u64::try_from(timeline.ticks.len()).unwrap_or(u64::MAX);
    if count > MAX_FRAMES.saturating_sub(before) {
        return Err(ClipError::TooMany {
            what: "frames of one track",
            offset: trun.offset,
            found: before.saturating_add(count),
            limit: MAX_FRAMES,
        });
    }
    let mut at = 8;
    let mut begins = data.follows;
    if flags & 0x1 != 0 {
        at += 4;
        let offset = i32::from_be_bytes(source.field(trun, 8)?);
        begins = data.base.and_then(|base| base.checked_add_signed(offset.into()));
    }
    let mut lies = match (begins, &timeline.places) {
        (Some(begins), _) => begins,
        (None, None) => 0,
        (None, Some(_)) => return Err(trun.field_error("nothing says where its frames lie")),
    };
    let first_flags = if flags & 0x4 != 0 {
        at += 4;
        Some(source.u32(trun, at - 4)?)
    } else {
        None
    };
    let said = |flag| flags & flag != 0;
    let (own_duration, own_size, own_flags, own_offset) =
        (said(0x100), said(0x200), said(0x400), said(0x800));
    if !own_duration && defaults.duration.is_none() {
        return Err(trun.field_error("frames have no duration: neither the run nor a default gives one"));
    }
    if !own_size && defaults.size.is_none() {
        return Err(trun.field_error("frames have no size: neither the run nor a default gives one"));
    }
    let mut usual = Frame {
        duration: defaults.duration.unwrap_or(0),
        size: defaults.size.unwrap_or(0),
        flags: defaults.flags,
        offset: 0,
    };
    let fields = [own_duration, own_size, own_flags, own_offset];
    let record = fields.iter().map(|own| if *own { 4 } else { 0 }).sum();

    // No frame of this run can then leave the 64 bits.
    let lasting = if own_duration { u32::MAX } else { usual.duration };
    let most = i64::try_from(count.saturating_mul(lasting.into())).unwrap_or(i64::MAX);
    advanced(trun, timeline.next, most)?;

    if record == 0 {
        // Nothing but a number: the frames that it claims must have room.
        let bytes = count.saturating_mul(usual.size.into());
        if count > 0 && (bytes == 0 || bytes > source.length()) {
            return Err(no_room(trun));
        }
        for index in 0..count {
            usual.flags = first_flags.filter(|_| index == 0).unwrap_or(defaults.flags);
            lies = timeline.push(&usual, lies);
        }
        return ended(source, trun, begins.map(|_| lies), timeline);
    }
    // Which field of a record is what.
    let place = |index: usize| {
        let own = fields.get(index).is_some_and(|own| *own);
        own.then(|| fields.iter().take(index).filter(|own| **own).count())
    };
    let places = [place(0), place(1), place(2), place(3)];
    let length = source.length();
    let mut first_flags = first_flags;
    let mut bytes = 0_u64;
    timeline.ticks.reserve(usize::try_from(count.min(trun.room(at) / record)).unwrap_or(0));
    source.records(trun, at, count, record, |part| {
        let (words, _) = part.as_chunks::<4>();
        for words in words.chunks_exact(usize::try_from(record / 4).unwrap_or(1)) {
            let field = |place: Option<usize>, usual: u32| {
                place.and_then(|place| words.get(place)).map_or(usual, |word| u32::from_be_bytes(*word))
            };
            let [duration, size, flags, offset] = places;
            let frame = Frame {
                duration: field(duration, usual.duration),
                size: field(size, usual.size),
                flags: first_flags.take().unwrap_or_else(|| field(flags, usual.flags)),
                offset: i32::from_be_bytes(field(offset, 0).to_be_bytes()),
            };
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
            places.push(Place { offset: place, size: frame.size, key });
        }
        place.saturating_add(frame.size.into())
    }
}
