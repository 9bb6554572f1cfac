//! Frame times and clocks of real clips against independent references.
//!
//! The clips, their origin and licence: `data/clips/README.md`.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use std::path::PathBuf;
use std::process::Command;
use std::{env, fs};

use pitside_model::clip::{Clip, ClockKind, Rate};

fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/clips").join(name)
}

fn clip(name: &str) -> Clip {
    Clip::read(fs::File::open(path(name)).unwrap()).unwrap()
}

fn steps(ticks: &[i64]) -> Vec<i64> {
    ticks.windows(2).map(|pair| pair[1] - pair[0]).collect()
}

/// Sample times of one track of a reference file, in microseconds, sorted.
fn reference_times(name: &str, track: usize) -> Vec<i64> {
    let text = fs::read_to_string(path(name)).unwrap();
    let head = format!("track {track}:");
    let mut times: Vec<i64> = text
        .lines()
        .skip_while(|line| *line != head)
        .skip(1)
        .take_while(|line| !line.starts_with("track "))
        .filter_map(|line| line.strip_prefix("    time = "))
        .map(|time| time.parse().unwrap())
        .collect();
    times.sort_unstable();
    times
}

/// Source: the origin project's own dumps of every sample, whole microseconds.
#[test]
fn times_are_those_of_the_reference_dumps() {
    let cases = [
        ("h265_bframes.mp4", "h265_bframes.reference-times.txt", 30),
        ("sample_android_slow_motion.mp4", "sample_android_slow_motion.reference-times.txt", 7),
        ("sample_edit_list.cut.mp4", "sample_edit_list.reference-times.txt", 86),
        ("sample_partially_fragmented.mp4", "sample_partially_fragmented.reference-times.txt", 30),
    ];
    for (name, reference, count) in cases {
        let frames = clip(name).frames;
        let expected = reference_times(reference, 0);
        assert_eq!(expected.len(), count, "{reference}");
        assert_eq!(frames.ticks().len(), count, "{name}");
        for (tick, microseconds) in frames.ticks().iter().zip(expected) {
            // Within 1 µs, compared on integers.
            let scale = i64::from(frames.timescale());
            let off = (tick * 1_000_000 - microseconds * scale).abs();
            assert!(off <= scale, "{name}: tick {tick}, {microseconds} µs");
        }
    }
}

/// Source: ffprobe, packet times with the edit list ignored; `media_time` is
/// the shift that the edit list of the clip states.
#[test]
fn times_are_those_of_ffprobe() {
    let cases = [
        ("h265_bframes.mp4", 6000),
        ("iibbibb_editlist_videoonly.mp4", 40_960),
        ("sample_android_slow_motion.mp4", 0),
        ("sample_partially_fragmented.mp4", 0),
        ("sample_sef_slow_motion.mp4", 9018),
    ];
    for (name, media_time) in cases {
        let probe = Command::new("ffprobe")
            .args(["-v", "error", "-ignore_editlist", "1"])
            .args(["-select_streams", "v:0", "-show_entries", "packet=pts"])
            .args(["-of", "csv=p=0"])
            .arg(path(name))
            .output();
        let Ok(probe) = probe else {
            assert_ne!(env::var("CI").as_deref(), Ok("true"), "ffprobe is missing (Debian package ffmpeg)");
            println!("left out: ffprobe is not installed (Debian package ffmpeg)");
            return;
        };
        assert!(probe.status.success(), "{name}: {probe:?}");
        let mut expected: Vec<i64> = String::from_utf8(probe.stdout)
            .unwrap()
            .split_whitespace()
            .map(|pts| pts.trim_end_matches(',').parse::<i64>().unwrap() - media_time)
            .collect();
        expected.sort_unstable();
        assert_eq!(clip(name).frames.ticks(), expected, "{name}");
    }
}

/// Source: description of the clips that came with them (steps, shifts, what
/// is shown), and for the metadata clip ffprobe's packet times of the uncut
/// file: 0, 3002, 6004.
#[test]
fn tables_are_as_described() {
    let slow = clip("sample_android_slow_motion.mp4");
    assert_eq!(slow.frames.timescale(), 90_000);
    assert_eq!(steps(slow.frames.ticks()), [29_281, 3000, 3000, 3000, 3000, 3000]);
    assert_eq!(slow.frames.shown(), 7);
    assert_eq!(slow.frames.gaps().len(), 1);

    let edited = clip("sample_edit_list.cut.mp4");
    assert_eq!(edited.frames.timescale(), 600);
    assert_eq!(edited.frames.ticks().len(), 86);
    assert_eq!(edited.frames.shown(), 77);
    assert_eq!(edited.orientation.turn, 90);
    let of = |step| steps(edited.frames.ticks()).iter().filter(|other| **other == step).count();
    assert_eq!((of(20), of(21), of(40)), (77, 1, 7));
    // media_time 273: the stored first frame lies that far before 0.
    assert_eq!(edited.frames.ticks()[0], -273);

    let between = clip("iibbibb_editlist_videoonly.mp4");
    assert_eq!(between.frames.ticks().len(), 13);
    assert_eq!(between.frames.ticks()[..2], [-8192, 8192]);

    let pyramid = clip("h265_bframes.mp4");
    assert_eq!(steps(pyramid.frames.ticks()), [3000; 29]);
    assert_eq!(pyramid.frames.ticks()[0], 0);

    let metadata = clip("h265_with_metadata_track.cut.mp4");
    assert_eq!(metadata.frames.ticks(), [0, 3002, 6004]);
    assert_eq!(metadata.tracks.len(), 3);
    assert_eq!(metadata.chosen, 2);
    assert_eq!(metadata.orientation.turn, 90);
}

/// Source: the same description, and the rule that fits every clip.
#[test]
fn clocks_are_as_described() {
    let decide = |name, stated| {
        let clock = clip(name).clock(Rate::from_millihertz(stated));
        (clock.kind, clock.capture.map(Rate::millihertz))
    };
    assert_eq!(decide("sample_android_slow_motion.mp4", 0), (ClockKind::Stretched, Some(240_000)));
    assert_eq!(decide("h265_with_metadata_track.cut.mp4", 0), (ClockKind::Real, Some(30_000)));
    assert_eq!(decide("h265_bframes.mp4", 0), (ClockKind::Unknown, None));
    assert_eq!(decide("h265_bframes.mp4", 240_000), (ClockKind::Stretched, Some(240_000)));
    assert_eq!(decide("sample_edit_list.cut.mp4", 0), (ClockKind::Unknown, None));
    assert_eq!(decide("sample_edit_list.cut.mp4", 30_000), (ClockKind::Real, Some(30_000)));

    // Slowed 8 times: 3000 ticks at 90 000 a second are 1/240 s of the world.
    let pace = clip("sample_android_slow_motion.mp4").clock(None).pace.unwrap();
    assert_eq!(3000 * pace.num * 240, pace.den);
}

/// Source: the description of the clip: 64 frames, 63 shown by its edit of 2100 ms
/// (the media has 2100.3), slowed 8 times; two capture rates of 240. Its trailer has
/// no entry that says that a part was recorded slowed.
#[test]
fn a_clip_with_a_trailer_is_read() {
    let clip = clip("sample_sef_slow_motion.mp4");
    assert_eq!(clip.frames.timescale(), 90_000);
    assert_eq!(steps(clip.frames.ticks()), [3000; 63]);
    assert_eq!(clip.frames.ticks()[0], 0);
    assert_eq!(clip.frames.shown(), 63);
    assert_eq!(clip.capture.len(), 2);
    for tag in &clip.capture {
        assert_eq!(tag.rate.map(Rate::millihertz), Some(240_000), "{tag:?}");
    }
    assert!(!clip.slowed_part);
    assert_eq!(clip.clock(None).kind, ClockKind::Stretched);
}

/// No real clip here repeats its pictures: the rule of ours for that stays silent.
#[test]
fn no_clip_is_said_to_repeat_pictures() {
    for entry in fs::read_dir(path("")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|extension| extension == "mp4") {
            let clip = Clip::read(fs::File::open(&path).unwrap()).unwrap();
            assert_eq!(clip.clock(None).warnings, Vec::<String>::new(), "{}", path.display());
        }
    }
}

/// The seeds of the fuzz target are these clips without their media: damage to a clip
/// that is refused as it is would try nothing.
#[test]
fn the_fuzz_seeds_are_read_as_the_clips_they_are_of() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../fuzz/seeds/clip");
    let mut seeds = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let seed = entry.unwrap().path();
        let name = seed.file_name().unwrap().to_str().unwrap();
        let whole = if path(name).exists() { name.to_owned() } else { name.replace(".mp4", ".cut.mp4") };
        let read = Clip::read(fs::File::open(&seed).unwrap()).unwrap();
        assert_eq!(read, clip(&whole), "{name}");
        seeds += 1;
    }
    assert_eq!(seeds, 7);
}
