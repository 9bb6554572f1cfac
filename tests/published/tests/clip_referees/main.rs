//! Frame times beside what other readers say: `mp4parse`, `mp4-atom` and
//! ffprobe, on the real clips and on a family that ffmpeg writes.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod family;
mod referee;

use std::fs::File;
use std::path::{Path, PathBuf};

use pitside_model::clip::{Clip, Media};
use referee::Offsets;

fn real(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("data/clips").join(name)
}

fn clip(path: &Path) -> Clip {
    Clip::read(File::open(path).unwrap()).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn id(clip: &Clip) -> u32 {
    clip.tracks[clip.chosen].id
}

/// Times counted from the first frame, where a reader leaves out the shift of
/// the edit list.
fn from_first(times: &[i64]) -> Vec<i64> {
    times.iter().map(|time| time - times[0]).collect()
}

#[test]
fn the_real_clips_are_read_as_by_others() {
    // Of a cut clip ffprobe finds no packet, and mp4parse takes no fragments.
    let cases = [
        ("h265_bframes.mp4", true, true),
        ("h265_with_metadata_track.cut.mp4", false, true),
        ("iibbibb_editlist_videoonly.mp4", true, true),
        ("sample_android_slow_motion.mp4", true, true),
        ("sample_edit_list.cut.mp4", false, true),
        ("sample_partially_fragmented.mp4", true, false),
        ("sample_sef_slow_motion.mp4", true, true),
    ];
    let tools = family::tools();
    for (name, probed, plain) in cases {
        let path = real(name);
        let clip = clip(&path);
        let times = clip.frames.ticks();
        if tools && probed {
            let (expected, turn) = referee::ffprobe(&path);
            assert_eq!(from_first(times), from_first(&expected), "{name}: ffprobe");
            assert_eq!(clip.orientation.turn, turn, "{name}: ffprobe");
            pictures_lie_where_ffprobe_finds_them(&path);
        }
        if plain {
            let expected = referee::mp4parse(&path, id(&clip));
            assert_eq!(from_first(times), from_first(&expected), "{name}: mp4parse");
        }
        let expected = referee::mp4_atom(&path, id(&clip), Offsets::Signed);
        assert_eq!(times, expected, "{name}: mp4-atom");
    }
}

/// The coded pictures lie where ffprobe finds its packets, and each is the frame of
/// its presentation time.
fn pictures_lie_where_ffprobe_finds_them(path: &Path) {
    let found = Media::read(File::open(path).unwrap(), None).unwrap();
    let packets = referee::packets(path);
    let name = path.display();
    let places: Vec<_> = found.samples.iter().map(|sample| (sample.offset, sample.size)).collect();
    assert_eq!(places, packets.iter().map(|(at, size, ..)| (*at, *size)).collect::<Vec<_>>(), "{name}");
    let mut times: Vec<i64> = packets.iter().map(|(_, _, pts, _)| *pts).collect();
    times.sort_unstable();
    for (sample, (at, _, pts, key)) in found.samples.iter().zip(&packets) {
        assert_eq!(times[usize::try_from(sample.frame).unwrap()], *pts, "{name}: the frame at byte {at}");
        assert_eq!(sample.key, *key, "{name}: the frame at byte {at}");
    }
}

/// The known disagreement: negative composition offsets in version 0, which
/// ffprobe and mp4parse read as signed as we do.
#[test]
fn offsets_of_version_0_are_where_readers_disagree() {
    let path = real("sample_edit_list.cut.mp4");
    let clip = clip(&path);
    let raw = referee::mp4_atom(&path, id(&clip), Offsets::AsRead);
    assert!(raw.last() > Some(&(1 << 31)), "mp4-atom reads them as signed now: the note here is out of date");
    assert_ne!(clip.frames.ticks(), raw);
}

#[test]
fn a_generated_family_is_read_as_by_others() {
    if !family::tools() {
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let family = family::write(folder.path());
    for member in &family {
        let name = &member.name;
        let clip = clip(&member.path);
        let times = clip.frames.ticks();
        let (expected, turn) = referee::ffprobe(&member.path);
        assert_eq!(from_first(times), from_first(&expected), "{name}: ffprobe");
        assert_eq!(clip.orientation.turn, turn, "{name}: ffprobe");
        pictures_lie_where_ffprobe_finds_them(&member.path);
        let expected = referee::mp4_atom(&member.path, id(&clip), Offsets::AsRead);
        assert_eq!(times, expected, "{name}: mp4-atom");
        if !member.fragmented {
            let expected = referee::mp4parse(&member.path, id(&clip));
            assert_eq!(from_first(times), from_first(&expected), "{name}: mp4parse");
        }
        // B-frame pyramids are not taken for repeated frames; those are found.
        assert_eq!(clip.frames.repeated(), member.repeated, "{name}");
    }
    // The family has what it is for.
    let of = |name: &str| clip(&folder.path().join(format!("{name}.mp4")));
    assert_eq!(
        ["turned-90", "turned-180", "turned-270"].map(|name| of(name).orientation.turn),
        [90, 180, 270]
    );
    assert_eq!((of("24").frames.timescale(), of("960").frames.timescale()), (600, 960_000));
    assert!(of("60-dropped").frames.gaps().len() >= 6);
    for (trimmed, whole) in [("25-b-trimmed", "25-b"), ("240-b-trimmed", "240-b"), ("24-trimmed", "24")] {
        let (trimmed, whole) = (of(trimmed).frames, of(whole).frames);
        assert!(trimmed.ticks()[0] < 0 && trimmed.shown() < trimmed.ticks().len(), "{:?}", trimmed.ticks());
        assert!(trimmed.ticks().len() < whole.ticks().len());
    }
    // By 0.3 s, to the millisecond in which edits count.
    let delayed = of("60-b-delayed").frames;
    assert_eq!(delayed.shown(), delayed.ticks().len());
    assert!(
        (delayed.ticks()[0] * 1000 - 300 * i64::from(delayed.timescale())).abs()
            <= i64::from(delayed.timescale())
    );
    let partly = of("120-partly");
    assert_eq!(partly.tracks[partly.chosen].samples, 120);
}
