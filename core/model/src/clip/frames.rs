//! The frame times of a track, in display order, on integer ticks.

use std::io::{Read, Seek};

use super::error::{ClipError, FourCc};
use super::fragments::{self, Gathered};
use super::source::{BoxAt, Source, only, required};

/// Frames of one track: four hours at 240 a second, 32 MiB of times.
pub(super) const MAX_FRAMES: u64 = 4 << 20;

/// Segments of one edit list. A phone writes one or two.
const MAX_EDITS: u64 = 1024;

/// The media rate 1.0 as an edit list writes it: 16.16.
const NORMAL_RATE: u32 = 0x0001_0000;

/// When each frame of a clip is shown.
///
/// `ticks / timescale` are seconds of the container, which are seconds of the
/// world only where the [clock](super::Clock) says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FrameTable {
    pub(super) timescale: u32,
    pub(super) ticks: Vec<i64>,
    pub(super) shown: usize,
    pub(super) steady_edits: bool,
    pub(super) repeated: Option<u8>,
}

/// A step between two neighbouring frames that is longer than 1.5 times the
/// median step: dropped frames, or a place where the clip was trimmed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// The frame before the gap, from 0 in display order.
    pub after: usize,
    /// The length of the step in ticks.
    pub ticks: i64,
}

impl FrameTable {
    /// Ticks in one second of the container; never 0.
    pub fn timescale(&self) -> u32 {
        self.timescale
    }

    /// The time of every stored frame in display order, in ticks. The edit
    /// list is applied as a shift: 0 is where it begins to show, frames before
    /// that have negative times. No frame is dropped; there is at least one.
    pub fn ticks(&self) -> &[i64] {
        &self.ticks
    }

    /// How many of the frames begin within what the edit list shows.
    pub fn shown(&self) -> usize {
        self.shown
    }

    /// Whether the edit list, if there is one, plays everything at rate 1.
    pub fn steady_edits(&self) -> bool {
        self.steady_edits
    }

    /// How many times each picture seems to stand in the clip, 2, 4 or 8: of so many
    /// frames all but one hold almost no picture. `None` where nothing tells.
    pub fn repeated(&self) -> Option<u8> {
        self.repeated
    }

    /// The median step between neighbouring frames in ticks (of an even
    /// number of steps the lower middle one, so that it is a step that
    /// occurs). `None` where the clip has only one frame or the median is 0.
    pub fn median_step(&self) -> Option<i64> {
        let mut steps: Vec<i64> = self.steps().collect();
        let middle = steps.len().checked_sub(1)? / 2;
        let (_, median, _) = steps.select_nth_unstable(middle);
        (*median > 0).then_some(*median)
    }

    /// All steps longer than 1.5 times the median, in display order.
    pub fn gaps(&self) -> Vec<Gap> {
        let Some(median) = self.median_step() else {
            return Vec::new();
        };
        self.steps()
            .enumerate()
            .filter(|(_, step)| i128::from(*step) * 2 > i128::from(median) * 3)
            .map(|(after, ticks)| Gap { after, ticks })
            .collect()
    }

    /// What to hash so that copies of one clip can be matched: the timescale
    /// (4 bytes), the number of frames (8), then the time of each frame after
    /// the first one (8 each), all big-endian. Measured from the first frame,
    /// so a copy that lost its edit list on the way still matches.
    pub fn digest_bytes(&self) -> Vec<u8> {
        let first = self.ticks.first().copied().unwrap_or(0);
        let count = u64::try_from(self.ticks.len()).unwrap_or(u64::MAX);
        let mut bytes = Vec::with_capacity(12 + 8 * self.ticks.len());
        bytes.extend_from_slice(&self.timescale.to_be_bytes());
        bytes.extend_from_slice(&count.to_be_bytes());
        for tick in &self.ticks {
            bytes.extend_from_slice(&tick.wrapping_sub(first).to_be_bytes());
        }
        bytes
    }

    fn steps(&self) -> impl Iterator<Item = i64> {
        self.ticks.iter().zip(self.ticks.iter().skip(1)).map(|(early, late)| late.saturating_sub(*early))
    }
}

/// What is needed to build the table of one track.
pub(super) struct TrackTables {
    pub(super) id: u32,
    pub(super) timescale: u32,
    pub(super) movie_timescale: u32,
    pub(super) sample_tables: BoxAt,
    pub(super) edits: Option<BoxAt>,
}

/// The table of frame sizes: `stsz`, or its compact form `stz2` (ISO/IEC 14496-12,
/// 8.7.3).
struct Sizes {
    table: BoxAt,
    /// Bits of one size; 0 where all frames have the same.
    bits: u64,
    constant: u32,
    count: u64,
}

fn sizes<R: Read + Seek>(source: &mut Source<R>, stbl: &BoxAt) -> Result<Sizes, ClipError> {
    let boxes = source.children(stbl, 0)?;
    let (table, bits, constant) = match only(&boxes, b"stsz")? {
        Some(table) => {
            let constant = source.u32(&table, 4)?;
            (table, if constant == 0 { 32 } else { 0 }, constant)
        }
        None => {
            let Some(table) = only(&boxes, b"stz2")? else {
                return Err(ClipError::Missing { kind: FourCc(*b"stsz"), parent: stbl.parent() });
            };
            let [.., bits] = source.field::<4>(&table, 4)?;
            if ![4, 8, 16].contains(&bits) {
                return Err(table.field_error("a size field has 4, 8 or 16 bits"));
            }
            (table, u64::from(bits), 0)
        }
    };
    let count = u64::from(source.u32(&table, 8)?);
    let room = table.room(12);
    if (count * bits).div_ceil(8) > room {
        return Err(ClipError::Table {
            kind: table.kind,
            offset: table.offset,
            entries: count,
            entry_size: bits.div_ceil(8),
            room,
        });
    }
    Ok(Sizes { table, bits, constant, count })
}

/// The number of samples that the tables of a track have.
pub(super) fn sample_count<R: Read + Seek>(source: &mut Source<R>, stbl: &BoxAt) -> Result<u64, ClipError> {
    Ok(sizes(source, stbl)?.count)
}

/// Builds the frame table of a track; `top` are the boxes of the file, `movie` those of
/// the movie box.
pub(super) fn read<R: Read + Seek>(
    source: &mut Source<R>,
    top: &[BoxAt],
    movie: &[BoxAt],
    track: &TrackTables,
) -> Result<FrameTable, ClipError> {
    let mut gathered = from_tables(source, &track.sample_tables)?;
    fragments::append(source, top, movie, track.id, &mut gathered)?;
    let Gathered { times: mut ticks, sizes, .. } = gathered;
    if ticks.is_empty() {
        return Err(ClipError::NoFrames);
    }
    ticks.sort_unstable();

    let mut table = FrameTable {
        timescale: track.timescale,
        shown: ticks.len(),
        ticks,
        steady_edits: true,
        repeated: repeated(&sizes),
    };
    if let Some(elst) = &track.edits {
        apply_edits(source, elst, track.movie_timescale, &mut table)?;
    }
    Ok(table)
}

/// The frames that the tables of the movie box have.
fn from_tables<R: Read + Seek>(source: &mut Source<R>, stbl: &BoxAt) -> Result<Gathered, ClipError> {
    let table = sizes(source, stbl)?;
    let frames = table.count;
    if frames > MAX_FRAMES {
        return Err(ClipError::TooMany {
            what: "frames of one track",
            offset: stbl.offset,
            found: frames,
            limit: MAX_FRAMES,
        });
    }
    let capacity = usize::try_from(frames).unwrap_or(0);
    let mut gathered =
        Gathered { times: Vec::with_capacity(capacity), sizes: Vec::with_capacity(capacity), next: 0 };
    match table.bits {
        0 => gathered.sizes.resize(capacity, table.constant),
        32 => source.words(&table.table, 12, frames, |words| {
            gathered.sizes.extend(words.iter().copied().map(u32::from_be_bytes));
            Ok(())
        })?,
        // Compact sizes are of small frames: sound, text. Nothing is told from them.
        _ => {}
    }
    let boxes = source.children(stbl, 0)?;
    let stts = required(&boxes, b"stts", stbl.parent())?;
    decode_times(source, &stts, frames, &mut gathered)?;
    if let Some(ctts) = only(&boxes, b"ctts")? {
        add_composition_offsets(source, &ctts, frames, &mut gathered.times)?;
    }
    Ok(gathered)
}

/// Frames that hold a picture are at least so large, in bytes, for [`repeated`].
const PICTURE_BYTES: u32 = 2_048;
/// And so many times as large as those that hold almost none.
const PICTURE_RATIO: u32 = 20;
/// Groups of frames that must be there, and the share that must be so, in hundredths.
const GROUPS: usize = 16;
const SHARE_PERCENT: usize = 90;

/// Whether of every 2, 4 or 8 frames all but one hold almost no picture: a coder writes
/// a repeated frame in a few dozen bytes. The bounds are ours, with no source; frames
/// between others (B-frames) are smaller than those, but not so much.
fn repeated(sizes: &[u32]) -> Option<u8> {
    [2_u8, 4, 8].into_iter().find(|period| {
        let groups = sizes.chunks_exact(usize::from(*period));
        let all = groups.len();
        let one_picture = |group: &&[u32]| {
            let large = group.iter().copied().max().unwrap_or(0);
            let small = group.iter().filter(|size| size.saturating_mul(PICTURE_RATIO) <= large).count();
            large >= PICTURE_BYTES && small + 1 == group.len()
        };
        all >= GROUPS && groups.filter(one_picture).count() * 100 >= all * SHARE_PERCENT
    })
}

/// Decoding times from `stts` (8.6.1.2): runs of (count, step).
fn decode_times<R: Read + Seek>(
    source: &mut Source<R>,
    stts: &BoxAt,
    frames: u64,
    gathered: &mut Gathered,
) -> Result<(), ClipError> {
    each_run(source, stts, frames, |count, step| {
        for _ in 0..count {
            gathered.times.push(gathered.next);
            // At most 2^22 frames of less than 2^32 ticks: far below 2^63.
            gathered.next += i64::from(step);
        }
    })
}

/// Composition offsets from `ctts` (8.6.1.3). Version 0 should be unsigned,
/// but recorders write negative offsets into it; an offset of more than 2^31
/// ticks means nothing, so both versions are read as signed. `cslg` only
/// repeats what follows from the offsets and is not read.
fn add_composition_offsets<R: Read + Seek>(
    source: &mut Source<R>,
    ctts: &BoxAt,
    frames: u64,
    times: &mut [i64],
) -> Result<(), ClipError> {
    if source.u32(ctts, 4)? == 0 {
        return Ok(());
    }
    let mut times = times.iter_mut();
    each_run(source, ctts, frames, |count, offset| {
        let offset = i64::from(i32::from_be_bytes(offset.to_be_bytes()));
        for _ in 0..count {
            if let Some(time) = times.next() {
                *time += offset;
            }
        }
    })
}

/// Walks a table of (count, value) runs that must cover `frames` frames.
fn each_run<R: Read + Seek>(
    source: &mut Source<R>,
    table: &BoxAt,
    frames: u64,
    mut run: impl FnMut(u64, u32),
) -> Result<(), ClipError> {
    let miscount = |found| ClipError::Count { kind: table.kind, offset: table.offset, found, frames };
    let entries = source.entries(table, 4, 8, MAX_FRAMES, "runs of frame times")?;
    let mut covered = 0_u64;
    source.words(table, 8, 2 * entries, |words| {
        for entry in words.chunks_exact(2) {
            let [count, value] = entry else { continue };
            let count = u64::from(u32::from_be_bytes(*count));
            covered += count;
            // Checked at every run, so that a false count is never walked.
            if covered > frames {
                return Err(miscount(covered));
            }
            run(count, u32::from_be_bytes(*value));
        }
        Ok(())
    })?;
    if covered < frames {
        return Err(miscount(covered));
    }
    Ok(())
}

/// The edit list (8.6.6) as a shift of the whole track: the first segment that
/// shows media begins at 0, or later by the empty segments before it. Further
/// segments only add to what is shown, because the distance of two frames in
/// the media is what was recorded, however they are cut together.
fn apply_edits<R: Read + Seek>(
    source: &mut Source<R>,
    elst: &BoxAt,
    movie_timescale: u32,
    table: &mut FrameTable,
) -> Result<(), ClipError> {
    let long = match source.version(elst)? {
        0 => false,
        1 => true,
        _ => return Err(elst.field_error("an edit list has version 0 or 1")),
    };
    let entry_size = if long { 20 } else { 12 };
    let entries = source.entries(elst, 4, entry_size, MAX_EDITS, "edits of one track")?;
    if entries == 0 {
        return Ok(());
    }
    let mut delay = 0_i128;
    let mut first_media_time = None;
    let mut windows: Vec<(usize, usize)> = Vec::new();
    for entry in 0..entries {
        let at = 8 + entry_size * entry;
        let (duration, media_time, rate) = if long {
            let media_time = i64::from_be_bytes(source.field(elst, at + 8)?);
            (source.u64(elst, at)?, media_time, source.u32(elst, at + 16)?)
        } else {
            let media_time = i32::from_be_bytes(source.field(elst, at + 4)?);
            let duration = u64::from(source.u32(elst, at)?);
            (duration, i64::from(media_time), source.u32(elst, at + 8)?)
        };
        // Movie ticks × this track's ticks a second; divided at the end.
        let length = i128::from(duration) * i128::from(table.timescale);
        match media_time {
            -1 => {
                if first_media_time.is_none() {
                    delay += length;
                }
                continue;
            }
            ..-1 => return Err(elst.field_error("an edit begins before the media")),
            0.. => {}
        }
        first_media_time.get_or_insert(media_time);
        table.steady_edits &= rate == NORMAL_RATE;
        let start = table.ticks.partition_point(|tick| *tick < media_time);
        let end = if duration == 0 {
            table.ticks.len()
        } else {
            table.ticks.partition_point(|tick| {
                (i128::from(*tick) - i128::from(media_time)) * i128::from(movie_timescale) < length
            })
        };
        windows.push((start, end));
    }

    windows.sort_unstable();
    table.shown = 0;
    let mut counted = 0;
    for (start, end) in windows {
        let start = start.max(counted);
        table.shown += end.saturating_sub(start);
        counted = counted.max(end);
    }

    let movie_timescale = i128::from(movie_timescale);
    // To the nearest tick; it moves all frames alike.
    let delay = (2 * delay + movie_timescale) / (2 * movie_timescale);
    let shift = i64::try_from(delay - i128::from(first_media_time.unwrap_or(0)))
        .map_err(|_| elst.field_error("the edits reach beyond any time"))?;
    for tick in &mut table.ticks {
        *tick = tick.checked_add(shift).ok_or_else(|| elst.field_error("the edits reach beyond any time"))?;
    }
    Ok(())
}
