//! Where the samples of a track lie: they stand one behind the other in chunks, and
//! tables say where each chunk begins and how many it holds (ISO/IEC 14496-12, 8.7.4
//! and 8.7.5).

use std::io::{Read, Seek};

use super::error::ClipError;
use super::media::Sample;
use super::source::{BoxAt, Source, only, required};
use super::table::{MAX_FRAMES, Sizes};

/// From a chunk on, so many samples a chunk.
struct Run {
    first: u64,
    samples: u64,
}

/// The places of all samples of the movie box, in decoding order; none is numbered yet.
pub(super) fn places<R: Read + Seek>(
    source: &mut Source<R>,
    stbl: &BoxAt,
    boxes: &[BoxAt],
    sizes: &Sizes,
) -> Result<Vec<Sample>, ClipError> {
    if sizes.samples == 0 {
        return Ok(Vec::new());
    }
    let stsc = required(boxes, b"stsc", stbl.parent())?;
    let runs = runs(source, &stsc)?;
    let chunks = chunks(source, stbl, boxes)?;
    let mut places = Vec::with_capacity(usize::try_from(sizes.samples).unwrap_or(0));
    sizes.each(source, |size| places.push(Sample { offset: 0, size, frame: 0, key: true }))?;
    let mut left = places.iter_mut();
    let mut runs = runs.iter().peekable();
    let mut a_chunk = 0;
    'chunks: for (chunk, number) in chunks.iter().zip(1_u64..) {
        if let Some(run) = runs.next_if(|run| run.first == number) {
            a_chunk = run.samples;
        }
        let mut at = *chunk;
        for _ in 0..a_chunk {
            let Some(place) = left.next() else { break 'chunks };
            place.offset = at;
            at = at.saturating_add(place.size.into());
            if at > source.length() {
                return Err(stsc.field_error("a frame is placed beyond the end of the file"));
            }
        }
    }
    if left.next().is_some() {
        return Err(stsc.field_error("the chunks hold fewer frames than there are"));
    }
    if let Some(stss) = only(boxes, b"stss")? {
        mark_keys(source, &stss, &mut places)?;
    }
    Ok(places)
}

/// `stsc`: (first chunk, samples a chunk, sample entry), the chunks rising from 1. Only
/// the first sample entry is read, so another one is refused.
fn runs<R: Read + Seek>(source: &mut Source<R>, stsc: &BoxAt) -> Result<Vec<Run>, ClipError> {
    let entries = source.entries(stsc, 4, 12, MAX_FRAMES, "runs of chunks")?;
    let mut runs: Vec<Run> = Vec::new();
    source.records(stsc, 8, entries, 12, |part| {
        for [f0, f1, f2, f3, s0, s1, s2, s3, entry @ ..] in part.as_chunks::<12>().0 {
            let first = u64::from(u32::from_be_bytes([*f0, *f1, *f2, *f3]));
            let samples = u64::from(u32::from_be_bytes([*s0, *s1, *s2, *s3]));
            let rises = runs.last().map_or(first == 1, |last| first > last.first);
            if !rises {
                return Err(stsc.field_error("the runs of chunks do not rise from the first one"));
            }
            if u32::from_be_bytes(*entry) > 1 {
                return Err(stsc.field_error("frames are coded in more than one way"));
            }
            runs.push(Run { first, samples });
        }
        Ok(())
    })?;
    Ok(runs)
}

/// Where each chunk begins, from `stco` or its 64-bit form `co64`.
fn chunks<R: Read + Seek>(
    source: &mut Source<R>,
    stbl: &BoxAt,
    boxes: &[BoxAt],
) -> Result<Vec<u64>, ClipError> {
    let mut chunks = Vec::new();
    if let Some(co64) = only(boxes, b"co64")? {
        let entries = source.entries(&co64, 4, 8, MAX_FRAMES, "chunks")?;
        source.records(&co64, 8, entries, 8, |part| {
            chunks.extend(part.as_chunks::<8>().0.iter().map(|at| u64::from_be_bytes(*at)));
            Ok(())
        })?;
        return Ok(chunks);
    }
    let stco = required(boxes, b"stco", stbl.parent())?;
    let entries = source.entries(&stco, 4, 4, MAX_FRAMES, "chunks")?;
    source.records(&stco, 8, entries, 4, |part| {
        chunks.extend(part.as_chunks::<4>().0.iter().map(|at| u64::from(u32::from_be_bytes(*at))));
        Ok(())
    })?;
    Ok(chunks)
}

/// `stss` (8.6.2): the numbers of the samples that are key frames, from 1.
fn mark_keys<R: Read + Seek>(
    source: &mut Source<R>,
    stss: &BoxAt,
    places: &mut [Sample],
) -> Result<(), ClipError> {
    for place in places.iter_mut() {
        place.key = false;
    }
    let entries = source.entries(stss, 4, 4, MAX_FRAMES, "key frames")?;
    source.records(stss, 8, entries, 4, |part| {
        for number in part.as_chunks::<4>().0 {
            let index = usize::try_from(u32::from_be_bytes(*number)).ok().and_then(|n| n.checked_sub(1));
            let place = index.and_then(|index| places.get_mut(index));
            place.ok_or_else(|| stss.field_error("a key frame is none of the frames"))?.key = true;
        }
        Ok(())
    })
}
