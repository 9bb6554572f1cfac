//! Damaged copies of real clips, of copies in fragments and of one with a
//! maker's trailer: each ends in times or in an error, without panic, without
//! a hang, and within 64 MiB, which an allocator that counts sees to.
//!
//! The damage comes from a fixed seed, so that a failure can be run again.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::fs;
use std::io::Cursor;
use std::path::Path;
use std::sync::{Mutex, PoisonError};

use peak_alloc::PeakAlloc;
use pitside_model::clip::{Clip, ClipError, Media, Rate};
use published::draws::Draws;

#[global_allocator]
static HEAP: PeakAlloc = PeakAlloc;

/// One test at a time: what is held is counted for the whole process.
static ALONE: Mutex<()> = Mutex::new(());

/// Copies of each clip.
const COPIES: usize = 20_000;

/// What reading one clip may hold.
const LIMIT: usize = 64 << 20;

const CLIPS: [&str; 7] = [
    "h265_bframes.mp4",
    "h265_with_metadata_track.cut.mp4",
    "iibbibb_editlist_videoonly.mp4",
    "sample_android_slow_motion.mp4",
    "sample_edit_list.cut.mp4",
    "sample_partially_fragmented.mp4",
    "sample_sef_slow_motion.mp4",
];

fn bytes(name: &str) -> Vec<u8> {
    fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("data/clips").join(name)).unwrap()
}

/// A place among so many.
fn below(draws: &mut Draws, end: usize) -> usize {
    usize::try_from(draws.bits() % u64::try_from(end).unwrap()).unwrap()
}

/// A clip with its media taken out, so that most damage hits a table: the
/// reader never looks into `mdat`. Keeps 16 bytes of each.
fn without_media(whole: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut at = 0;
    while at < whole.len() {
        let size: [u8; 4] = whole[at..at + 4].try_into().unwrap();
        let size = usize::try_from(u32::from_be_bytes(size)).unwrap();
        // No clip here has boxes of 64-bit or open size.
        assert!(size >= 8);
        if &whole[at + 4..at + 8] == b"mdat" {
            bytes.extend(24_u32.to_be_bytes());
            bytes.extend(&whole[at + 4..at + 8]);
            bytes.extend([0; 16]);
        } else {
            bytes.extend(&whole[at..at + size]);
        }
        at += size;
    }
    bytes
}

/// Names of boxes and marks whose neighbourhood is hit more often.
const MARKS: [&[u8; 4]; 22] = [
    b"moov", b"trak", b"tkhd", b"mdhd", b"hdlr", b"elst", b"stbl", b"stts", b"ctts", b"stsz", b"stss",
    b"mvex", b"trex", b"moof", b"traf", b"tfhd", b"tfdt", b"trun", b"keys", b"ilst", b"SEFH", b"SEFT",
];

/// Damages a copy: flipped bits, changed bytes, false lengths and counts, a
/// piece taken out or put in twice, a cut.
fn damage(bytes: &mut Vec<u8>, marks: &[usize], draws: &mut Draws) {
    for _ in 0..=below(draws, 3) {
        let at = match below(draws, 2) {
            0 => below(draws, bytes.len()),
            _ => (marks[below(draws, marks.len())] + below(draws, 32)).saturating_sub(4),
        };
        let at = at.min(bytes.len() - 1);
        match below(draws, 5) {
            0 => bytes[at] ^= 1 << below(draws, 8),
            1 => bytes[at] = draws.bits().to_be_bytes()[0],
            2 | 3 => {
                let lies = [0, 1, 7, 8, 0xffff, 0x1f_ffff, 0x7fff_ffff, 0x8000_0000, u32::MAX];
                let lie = lies[below(draws, lies.len())].to_be_bytes();
                let end = bytes.len().min(at + 4);
                bytes[at..end].copy_from_slice(&lie[..end - at]);
            }
            _ => {
                let end = bytes.len().min(at + 1 + below(draws, 64));
                let piece = bytes[at..end].to_vec();
                let doubled = below(draws, 2) == 0;
                bytes.splice(at..end, if doubled { [piece.clone(), piece].concat() } else { Vec::new() });
            }
        }
        if bytes.is_empty() {
            return;
        }
    }
    if below(draws, 8) == 0 {
        bytes.truncate(below(draws, bytes.len()));
    }
}

/// Reads a copy as a person would use it; gives whether it was read.
fn answered(copy: &[u8]) -> bool {
    match Clip::read(Cursor::new(copy)) {
        Ok(clip) => {
            let frames = &clip.frames;
            assert!(frames.ticks().is_sorted());
            assert!(frames.shown() <= frames.ticks().len());
            assert!(!frames.ticks().is_empty());
            drop(clip.clock(None));
            drop(clip.clock(Rate::from_millihertz(240_000)));
            drop(frames.gaps());
            let id = clip.tracks[clip.chosen].id;
            if let Ok(again) = Clip::read_track(Cursor::new(copy), Some(id)) {
                // Where two tracks share a number, the first is meant.
                assert!(again.chosen <= clip.chosen);
            }
            pictures_lie_in_the_file(copy, frames.ticks().len());
            true
        }
        Err(error) => {
            assert!(!error.to_string().is_empty());
            assert!(!matches!(error, ClipError::Io { .. }), "read beyond what holds it: {error}");
            false
        }
    }
}

/// Of a copy whose times were read: each picture has its place in the file, or none has.
fn pictures_lie_in_the_file(copy: &[u8], frames: usize) {
    match Media::read(Cursor::new(copy), None) {
        Ok(media) => {
            assert_eq!(media.samples.len(), frames);
            for sample in &media.samples {
                assert!(sample.offset + u64::from(sample.size) <= copy.len() as u64);
                assert!((sample.frame as usize) < frames);
            }
            drop(media.codec.rfc6381());
        }
        Err(error) => assert!(!matches!(error, ClipError::Io { .. }), "read beyond what holds it: {error}"),
    }
}

#[test]
fn damaged_copies_end_in_times_or_an_error() {
    let _alone = ALONE.lock().unwrap_or_else(PoisonError::into_inner);
    let mut draws = Draws::new(240);
    let (mut read, mut refused) = (0, 0);
    for name in CLIPS {
        let whole = without_media(&bytes(name));
        assert!(answered(&whole), "{name}");
        let marks: Vec<usize> = (0..whole.len() - 4)
            .filter(|at| MARKS.iter().any(|mark| *mark == &whole[*at..*at + 4]))
            .collect();
        for copies in 0..COPIES {
            let mut copy = whole.clone();
            damage(&mut copy, &marks, &mut draws);
            let before = HEAP.current_usage();
            HEAP.reset_peak_usage();
            match answered(&copy) {
                true => read += 1,
                false => refused += 1,
            }
            let held = HEAP.peak_usage().saturating_sub(before);
            assert!(held <= LIMIT, "copy {copies} of {name} took {held} bytes");
        }
    }
    // Both happen often, so the damage is neither idle nor total.
    assert_eq!(read + refused, CLIPS.len() * COPIES);
    assert!(read > 5000 && refused > 5000, "{read} read, {refused} refused");
}

/// A small file that claims the most there may be: two million frames by one number.
fn largest_claim() -> Vec<u8> {
    let mut whole = without_media(&bytes("h265_bframes.mp4"));
    let find = |bytes: &[u8], name: &[u8; 4]| bytes.windows(4).position(|found| found == name).unwrap();
    let count = (2_u32 << 20).to_be_bytes();
    let stsz = find(&whole, b"stsz");
    whole[stsz + 8..stsz + 12].copy_from_slice(&1_u32.to_be_bytes());
    whole[stsz + 12..stsz + 16].copy_from_slice(&count);
    let stts = find(&whole, b"stts");
    whole[stts + 12..stts + 16].copy_from_slice(&count);
    let ctts = find(&whole, b"ctts");
    whole[ctts..ctts + 4].copy_from_slice(b"free");
    // Its pictures, a byte each, stand in one chunk at the beginning of the file.
    let stsc = find(&whole, b"stsc");
    whole[stsc + 8..stsc + 12].copy_from_slice(&1_u32.to_be_bytes());
    whole[stsc + 16..stsc + 20].copy_from_slice(&count);
    let stco = find(&whole, b"stco");
    whole[stco + 12..stco + 16].copy_from_slice(&[0; 4]);
    whole
}

#[test]
fn the_largest_claim_of_a_small_file_stays_within_the_limit() {
    let _alone = ALONE.lock().unwrap_or_else(PoisonError::into_inner);
    let whole = largest_claim();
    let before = HEAP.current_usage();
    HEAP.reset_peak_usage();
    let clip = Clip::read(Cursor::new(&whole)).unwrap();
    assert_eq!(clip.frames.ticks().len(), 2 << 20);
    drop(clip.clock(None));
    let held = HEAP.peak_usage().saturating_sub(before);
    assert!(held <= LIMIT, "{held} bytes");
}

/// What finding the pictures of one clip may hold.
const MEDIA_LIMIT: usize = 96 << 20;

#[test]
fn the_places_of_the_largest_claim_stay_within_theirs() {
    let _alone = ALONE.lock().unwrap_or_else(PoisonError::into_inner);
    let mut whole = largest_claim();
    // A byte for each picture must be there.
    whole.extend((2_u32 << 20).to_be_bytes());
    whole.extend(b"free");
    whole.resize(whole.len() + (2 << 20) - 8, 0);
    let before = HEAP.current_usage();
    HEAP.reset_peak_usage();
    let media = Media::read(Cursor::new(&whole), None).unwrap();
    let held = HEAP.peak_usage().saturating_sub(before);
    assert_eq!(media.samples.len(), 2 << 20);
    assert!(held <= MEDIA_LIMIT, "{held} bytes");
}
