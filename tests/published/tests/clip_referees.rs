//! Frame times against other readers, on real clips and on a family that ffmpeg makes:
//! frame rates from 24 to 960, frames out of order, fragments, edit lists by trims
//! without coding anew, timescales, turns.
//!
//! Referees: ffprobe (packet times with the edit list ignored), `mp4parse` 0.17 (its
//! sample table, feature `unstable-api`), `mp4-atom` 0.17 (its boxes, expanded here).
//! `mp4-atom` reads offsets of `ctts` version 0 as unsigned, where recorders write
//! negative ones: it is not asked about such clips. Neither reads fragments.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "helpers of tests fail as tests do")]

use std::fs::File;
use std::io::{BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

use mp4_atom::{Moov, ReadFrom};
use pitside_model::clip::{Clip, Orientation};

/// A clip of the family, and how it is made.
struct Made {
    name: String,
    path: PathBuf,
    fragmented: bool,
    turn: u16,
}

/// Makes the family; `None` where ffmpeg is not installed, and CI does not ask for it.
fn family(folder: &Path) -> Option<Vec<Made>> {
    let mut made = Vec::new();
    let mut make = |name: &str, input: &[&str], output: &[&str]| {
        let path = folder.join(format!("{name}.mp4"));
        let run =
            Command::new("ffmpeg").args(["-v", "error", "-y"]).args(input).args(output).arg(&path).output();
        let Ok(run) = run else {
            assert_ne!(env::var("CI").as_deref(), Ok("true"), "ffmpeg is missing (Debian package ffmpeg)");
            std::io::stderr()
                .write_all(b"left out: ffmpeg is not installed (Debian package ffmpeg)\n")
                .unwrap();
            return None;
        };
        assert!(run.status.success(), "{name}: {}", String::from_utf8_lossy(&run.stderr));
        let (fragmented, turn) = (name.contains("fragments"), if name.contains("turned") { 270 } else { 0 });
        made.push(Made { name: name.to_owned(), path: path.clone(), fragmented, turn });
        Some(path)
    };
    let source = |rate: u32| format!("testsrc2=size=64x48:rate={rate}:duration=0.5");
    let plain = ["-c:v", "libx264", "-preset", "ultrafast", "-bf", "0"];
    let mixed = ["-c:v", "libx264", "-preset", "fast", "-bf", "3", "-g", "24"];
    for rate in [24, 30, 60, 120, 240, 480, 960] {
        let input = source(rate);
        let input = ["-f", "lavfi", "-i", input.as_str()];
        make(&format!("plain-{rate}"), &input, &plain)?;
        make(&format!("b-frames-{rate}"), &input, &mixed)?;
    }
    let input = source(240);
    let input = ["-f", "lavfi", "-i", input.as_str()];
    for timescale in ["600", "1000", "15360", "90000", "240000"] {
        let scaled = [&mixed[..], &["-video_track_timescale", timescale]].concat();
        make(&format!("timescale-{timescale}"), &input, &scaled)?;
    }
    for (name, flags) in
        [("fragments-only", "frag_keyframe+empty_moov"), ("fragments-behind-tables", "frag_keyframe")]
    {
        make(name, &input, &[&mixed[..], &["-movflags", flags]].concat())?;
    }
    let whole = make("first", &input, &[&mixed[..], &["-movflags", "faststart"]].concat())?;
    let whole = whole.to_str().unwrap().to_owned();
    make("trimmed", &["-ss", "0.21", "-i", &whole], &["-c", "copy"])?;
    make("delayed", &["-itsoffset", "0.3", "-i", &whole], &["-c", "copy"])?;
    // Both are against the clock. The option came with version 6; before it was a key.
    let help = Command::new("ffmpeg").args(["-v", "quiet", "-h", "full"]).output().ok()?;
    if String::from_utf8_lossy(&help.stdout).contains("-display_rotation") {
        make("turned", &["-display_rotation", "90", "-i", &whole], &["-c", "copy"])?;
    } else {
        make("turned", &["-i", &whole], &["-c", "copy", "-metadata:s:v:0", "rotate=90"])?;
    }
    Some(made)
}

/// Times as distances from the first, in order.
fn from_first(mut times: Vec<i64>) -> Vec<i64> {
    times.sort_unstable();
    let first = times.first().copied().unwrap_or(0);
    times.into_iter().map(|time| time - first).collect()
}

fn by_ffprobe(path: &Path) -> Vec<i64> {
    let probe = Command::new("ffprobe")
        .args(["-v", "error", "-ignore_editlist", "1", "-select_streams", "v:0"])
        .args(["-show_entries", "packet=pts", "-of", "csv=p=0"])
        .arg(path)
        .output()
        .expect("ffprobe comes with ffmpeg");
    let text = String::from_utf8(probe.stdout).unwrap();
    from_first(text.split_whitespace().map(|pts| pts.trim_end_matches(',').parse().unwrap()).collect())
}

/// By mp4parse's sample table; none where it has no video track.
fn by_mp4parse(path: &Path) -> Option<Vec<i64>> {
    let media = mp4parse::read_mp4(&mut BufReader::new(File::open(path).unwrap())).ok()?;
    let track = media.tracks.iter().find(|track| track.track_type == mp4parse::TrackType::Video)?;
    let table = mp4parse::unstable::create_sample_table(track, 0.into())?;
    Some(from_first(table.iter().map(|sample| sample.start_composition.0).collect()))
}

/// By mp4-atom's boxes, expanded here; none where it does not read the movie box.
fn by_mp4_atom(path: &Path) -> Option<Vec<i64>> {
    let bytes = fs::read(path).unwrap();
    let at = bytes.windows(4).position(|name| name == b"moov").unwrap() - 4;
    let moov = Moov::read_from(&mut &bytes[at..]).ok()?;
    let track = moov.trak.iter().find(|track| *track.mdia.hdlr.handler.as_ref() == *b"vide")?;
    let tables = &track.mdia.minf.stbl;
    let mut times = Vec::new();
    let mut now = 0;
    for run in &tables.stts.entries {
        for _ in 0..run.sample_count {
            times.push(now);
            now += i64::from(run.sample_delta);
        }
    }
    if let Some(ctts) = &tables.ctts {
        let offsets = ctts.entries.iter().flat_map(|run| (0..run.sample_count).map(|_| run.sample_offset));
        for (time, offset) in times.iter_mut().zip(offsets) {
            *time += offset;
        }
    }
    Some(from_first(times))
}

fn ours(path: &Path) -> (Vec<i64>, Clip) {
    let clip = Clip::read(File::open(path).unwrap()).unwrap();
    (from_first(clip.frames.ticks().to_vec()), clip)
}

#[test]
fn a_made_family_is_read_as_others_read_it() {
    let folder = tempfile::tempdir().unwrap();
    let Some(family) = family(folder.path()) else { return };
    assert!(family.len() >= 24);
    let mut asked = 0;
    for made in &family {
        let (times, clip) = ours(&made.path);
        assert_eq!(times, by_ffprobe(&made.path), "{}: ffprobe", made.name);
        assert_eq!(clip.orientation, Orientation { turn: made.turn, mirrored: false }, "{}", made.name);
        assert_eq!(clip.frames.repeated(), None, "{}", made.name);
        if !made.fragmented {
            assert_eq!(Some(&times), by_mp4parse(&made.path).as_ref(), "{}: mp4parse", made.name);
            assert_eq!(Some(&times), by_mp4_atom(&made.path).as_ref(), "{}: mp4-atom", made.name);
            asked += 1;
        }
    }
    assert!(asked >= 20, "{asked}");
    // A trim shows fewer frames than are stored, a delay all of them, later.
    let named = |name: &str| ours(&family.iter().find(|made| made.name == name).unwrap().path).1.frames;
    let trimmed = named("trimmed");
    assert!(trimmed.shown() < trimmed.ticks().len() && trimmed.ticks()[0] < 0);
    let delayed = named("delayed");
    let delay = delayed.ticks()[0];
    assert_eq!(delayed.shown(), delayed.ticks().len());
    assert!(
        (delay * 10 - i64::from(delayed.timescale()) * 3).abs() < 100,
        "{delay} of {}",
        delayed.timescale()
    );
}

#[test]
fn real_clips_are_read_as_others_read_them() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/clips");
    // Clip, and who is not asked: mp4-atom where a version 0 has negative offsets.
    let clips = [
        ("h265_bframes.mp4", true),
        ("iibbibb_editlist_videoonly.mp4", true),
        ("sample_android_slow_motion.mp4", true),
        ("sample_edit_list.cut.mp4", false),
    ];
    let mut by_atom = 0;
    for (name, atom) in clips {
        let path = folder.join(name);
        let (times, _) = ours(&path);
        if let Some(theirs) = by_mp4parse(&path) {
            assert_eq!(times, theirs, "{name}: mp4parse");
        }
        if let Some(theirs) = by_mp4_atom(&path).filter(|_| atom) {
            assert_eq!(times, theirs, "{name}: mp4-atom");
            by_atom += 1;
        }
    }
    assert!(by_atom >= 2, "{by_atom}");
}
