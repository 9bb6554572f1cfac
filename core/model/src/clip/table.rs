//! The sample tables of a track: when each frame is decoded and shown, and how
//! many bytes it has. They lie in the movie box, and may go on in fragments.

use std::io::{Read, Seek};

use super::chunk;
use super::error::{ClipError, FourCc};
use super::media::Sample;
use super::repeat::Repeats;
use super::source::{BoxAt, Source, only, required};

/// Frames of one track: two hours and 25 minutes at 240 a second, 16 MiB of
/// times.
pub(super) const MAX_FRAMES: u64 = 2 << 20;

/// The frames of one track as they are read, in decoding order.
pub(super) struct Timeline {
    /// When each frame is shown, in ticks of the track.
    pub(super) ticks: Vec<i64>,
    /// When the frame after the last one will be decoded.
    pub(super) next: i64,
    pub(super) repeats: Repeats,
    /// How many of the frames are key frames.
    pub(super) sync: u64,
    /// Where each frame lies, not numbered yet, where that is asked for.
    pub(super) places: Option<Vec<Sample>>,
}

/// What `stsz` or its compact form `stz2` says (ISO/IEC 14496-12, 8.7.3).
pub(super) struct Sizes {
    table: BoxAt,
    pub(super) samples: u64,
    /// Bits of one size; 0 where all samples have the same.
    bits: u64,
}

impl Sizes {
    /// Gives the size of each sample to `each`, in decoding order.
    pub(super) fn each<R: Read + Seek>(
        &self,
        source: &mut Source<R>,
        mut each: impl FnMut(u32),
    ) -> Result<(), ClipError> {
        let mut left = self.samples;
        let mut each = |size| {
            // A table of half bytes may hold one more.
            if left > 0 {
                left -= 1;
                each(size);
            }
        };
        let table = &self.table;
        match self.bits {
            32 => source.records(table, 12, self.samples, 4, |part| {
                part.as_chunks::<4>().0.iter().for_each(|size| each(u32::from_be_bytes(*size)));
                Ok(())
            }),
            16 => source.records(table, 12, self.samples, 2, |part| {
                part.as_chunks::<2>().0.iter().for_each(|size| each(u16::from_be_bytes(*size).into()));
                Ok(())
            }),
            8 => source.records(table, 12, self.samples, 1, |part| {
                part.iter().for_each(|size| each((*size).into()));
                Ok(())
            }),
            4 => source.records(table, 12, self.samples.div_ceil(2), 1, |part| {
                for pair in part {
                    each((pair >> 4).into());
                    each((pair & 15).into());
                }
                Ok(())
            }),
            _ => {
                let size = source.u32(table, 4)?;
                if u64::from(size).saturating_mul(self.samples) > source.length() {
                    return Err(table.field_error("the file has no room for frames of that size"));
                }
                (0..self.samples).for_each(|_| each(size));
                Ok(())
            }
        }
    }
}

/// The number of samples of a track.
pub(super) fn sample_count<R: Read + Seek>(source: &mut Source<R>, stbl: &BoxAt) -> Result<u64, ClipError> {
    let boxes = source.children(stbl, 0)?;
    sizes(source, stbl, &boxes).map(|sizes| sizes.samples)
}

fn sizes<R: Read + Seek>(source: &mut Source<R>, stbl: &BoxAt, boxes: &[BoxAt]) -> Result<Sizes, ClipError> {
    let (table, bits) = match only(boxes, b"stsz")? {
        Some(table) => {
            let constant = source.u32(&table, 4)?;
            (table, if constant == 0 { 32 } else { 0 })
        }
        None => {
            let Some(table) = only(boxes, b"stz2")? else {
                return Err(ClipError::Missing { kind: FourCc(*b"stsz"), parent: stbl.parent() });
            };
            let [.., bits] = source.field::<4>(&table, 4)?;
            if ![4, 8, 16].contains(&bits) {
                return Err(table.field_error("a size field has 4, 8 or 16 bits"));
            }
            (table, u64::from(bits))
        }
    };
    let samples = u64::from(source.u32(&table, 8)?);
    let room = table.room(12);
    if (samples * bits).div_ceil(8) > room {
        return Err(ClipError::Table {
            kind: table.kind,
            offset: table.offset,
            entries: samples,
            entry_size: bits.div_ceil(8),
            room,
        });
    }
    Ok(Sizes { table, samples, bits })
}

/// Reads the tables of the movie box, which may be empty where fragments
/// follow; `places` asks for where the frames lie too.
pub(super) fn read<R: Read + Seek>(
    source: &mut Source<R>,
    stbl: &BoxAt,
    places: bool,
) -> Result<Timeline, ClipError> {
    let boxes = source.children(stbl, 0)?;
    let sizes = sizes(source, stbl, &boxes)?;
    let frames = sizes.samples;
    if frames > MAX_FRAMES {
        return Err(ClipError::TooMany {
            what: "frames of one track",
            offset: stbl.offset,
            found: frames,
            limit: MAX_FRAMES,
        });
    }
    let stts = required(&boxes, b"stts", stbl.parent())?;
    let (mut ticks, next) = decode_times(source, &stts, frames)?;
    if let Some(ctts) = only(&boxes, b"ctts")? {
        add_composition_offsets(source, &ctts, frames, &mut ticks)?;
    }
    let mut repeats = Repeats::new();
    weigh(source, &sizes, &ticks, &mut repeats)?;
    // Without the table every sample is a key frame (8.6.2).
    let sync = match only(&boxes, b"stss")? {
        Some(stss) => source.entries(&stss, 4, 4, MAX_FRAMES, "key frames")?,
        None => frames,
    };
    let places = if places { Some(chunk::places(source, stbl, &boxes, &sizes)?) } else { None };
    Ok(Timeline { ticks, next, repeats, sync, places })
}

/// Decoding times from `stts` (8.6.1.2): runs of (count, step). Also gives the
/// time after the last frame.
fn decode_times<R: Read + Seek>(
    source: &mut Source<R>,
    stts: &BoxAt,
    frames: u64,
) -> Result<(Vec<i64>, i64), ClipError> {
    let mut times = Vec::with_capacity(usize::try_from(frames).unwrap_or(0));
    let mut now = 0_i64;
    each_run(source, stts, frames, |count, step| {
        let step = i64::from(step);
        // At most 2^21 frames of less than 2^32 ticks: far below 2^63.
        times.extend((0..count).map(|index| now + step * i64::from(index)));
        now += step * i64::from(count);
    })?;
    Ok((times, now))
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
    mut run: impl FnMut(u32, u32),
) -> Result<(), ClipError> {
    let miscount = |found| ClipError::Count { kind: table.kind, offset: table.offset, found, frames };
    let entries = source.entries(table, 4, 8, MAX_FRAMES, "runs of frame times")?;
    let mut covered = 0_u64;
    source.records(table, 8, entries, 8, |part| {
        let (runs, _) = part.as_chunks::<8>();
        for [c0, c1, c2, c3, value @ ..] in runs {
            let count = u32::from_be_bytes([*c0, *c1, *c2, *c3]);
            covered += u64::from(count);
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

/// Shows the sizes of the frames to what looks for repeated ones.
fn weigh<R: Read + Seek>(
    source: &mut Source<R>,
    sizes: &Sizes,
    ticks: &[i64],
    repeats: &mut Repeats,
) -> Result<(), ClipError> {
    if sizes.bits == 0 {
        // All the same: nothing repeats.
        return Ok(());
    }
    let mut times = ticks.iter();
    sizes.each(source, |size| {
        if let Some(time) = times.next() {
            repeats.push(size, *time);
        }
    })
}
