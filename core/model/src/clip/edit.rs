//! The edit list of a track (ISO/IEC 14496-12, 8.6.6): from when on it shows, and
//! how many of its frames.

use std::io::{Read, Seek};

use super::error::ClipError;
use super::frames::FrameTable;
use super::source::{BoxAt, Source};

/// Segments of one edit list. A phone writes one or two.
const MAX_EDITS: u64 = 1024;

/// The media rate 1.0 as an edit list writes it: 16.16.
const NORMAL_RATE: u32 = 0x0001_0000;

/// Applies the edit list as a shift of the whole track: the first segment that
/// shows media begins at 0, or later by the empty segments before it. Further
/// segments only add to what is shown, because the distance of two frames in
/// the media is what was recorded, however they are cut together.
pub(super) fn apply<R: Read + Seek>(
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
