//! 52 500 damaged copies of real clips: each ends in times or an error, in bounded
//! memory. By itself in this file, so that the memory measured is its own.
//!
//! The clips, their origin and licence: `data/clips/README.md`.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use std::io::Cursor;
use std::path::PathBuf;
use std::{env, fs};

use pitside_model::clip::{Clip, Rate};

fn bytes(name: &str) -> Vec<u8> {
    fs::read(PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/clips").join(name)).unwrap()
}

/// A small generator with a fixed seed (splitmix64), so that a failure can be
/// run again.
struct Draws(u64);

impl Draws {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, end: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(end).unwrap()).unwrap()
    }
}

/// Damages a copy: flipped bytes, false lengths, a cut.
fn damage(bytes: &mut Vec<u8>, draws: &mut Draws) {
    // Mostly within the tables: damage in the media goes unread.
    let moov = bytes.windows(4).position(|name| name == b"moov").unwrap() - 4;
    let stated: [u8; 4] = bytes[moov..moov + 4].try_into().unwrap();
    let size = usize::try_from(u32::from_be_bytes(stated)).unwrap();
    let place = |draws: &mut Draws, bytes: &[u8]| match draws.below(10) {
        0 => draws.below(bytes.len()),
        _ => moov + draws.below(size),
    };
    for _ in 0..=draws.below(3) {
        let at = place(draws, bytes);
        match draws.below(3) {
            0 => bytes[at] ^= 1 << draws.below(8),
            1 => bytes[at] = draws.next().to_be_bytes()[0],
            _ => {
                let lies = [0, 1, 7, 8, 0x7fff_ffff, 0x8000_0000, u32::MAX];
                let lie = lies[draws.below(lies.len())].to_be_bytes();
                let end = bytes.len().min(at + 4);
                bytes[at..end].copy_from_slice(&lie[..end - at]);
            }
        }
    }
    if draws.below(8) == 0 {
        let keep = place(draws, bytes);
        bytes.truncate(keep);
    }
}

#[test]
fn damaged_copies_end_in_times_or_an_error() {
    let clips = [
        "h265_bframes.mp4",
        "h265_with_metadata_track.cut.mp4",
        "iibbibb_editlist_videoonly.mp4",
        "sample_android_slow_motion.mp4",
        "sample_edit_list.cut.mp4",
        "sample_partially_fragmented.mp4",
        "sample_sef_slow_motion.mp4",
    ];
    let before = peak_bytes();
    let mut draws = Draws(240);
    let (mut read, mut refused) = (0, 0);
    for name in clips {
        let whole = bytes(name);
        for _ in 0..7_500 {
            let mut copy = whole.clone();
            damage(&mut copy, &mut draws);
            match Clip::read(Cursor::new(&copy)) {
                Ok(clip) => {
                    read += 1;
                    let frames = &clip.frames;
                    assert!(frames.ticks().is_sorted());
                    assert!(frames.shown() <= frames.ticks().len());
                    assert!(!frames.ticks().is_empty());
                    drop(clip.clock(None));
                    drop(clip.clock(Rate::from_millihertz(240_000)));
                    drop(frames.gaps());
                    drop(frames.digest_bytes());
                }
                Err(error) => {
                    refused += 1;
                    assert!(!error.to_string().is_empty());
                }
            }
        }
    }
    // Both happen often, so the damage is neither idle nor total.
    assert_eq!(read + refused, 7 * 7_500);
    assert!(read > 5_000 && refused > 5_000, "{read} read, {refused} refused");
    if let Some(peak) = peak_bytes() {
        let grown = peak - before.unwrap_or(0);
        assert!(grown < 64 << 20, "{grown} bytes at the most");
    }
}

/// The most memory that this process has held so far; `None` where the system does not
/// say.
fn peak_bytes() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.split_whitespace().next()?.parse::<u64>().ok().map(|kib| kib * 1024)
}
