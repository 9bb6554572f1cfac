//! A family of clips, written by ffmpeg from drawn pictures: frame rates 24 to
//! 960, with and without B-frames, fragments, edit lists by trims without
//! coding anew, timescales, rotations, dropped and doubled frames.

use std::env;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::Command;

/// One clip of the family.
pub(super) struct Member {
    pub(super) name: String,
    pub(super) path: PathBuf,
    /// Whether some of its frames stand in fragments.
    pub(super) fragmented: bool,
    /// The period of frames that repeat the one before.
    pub(super) repeated: Option<u8>,
}

/// What is drawn, and how it is written.
struct Recipe {
    name: &'static str,
    /// Pictures drawn a second, and in all.
    drawn: (u32, u32),
    arguments: &'static str,
}

const B_FRAMES: &str = "-c:v libx264 -preset veryfast -bf 3";
const NO_B_FRAMES: &str = "-c:v libx264 -preset ultrafast -bf 0";

const RECIPES: [Recipe; 15] = [
    Recipe { name: "24", drawn: (24, 48), arguments: "NO_B -video_track_timescale 600" },
    Recipe { name: "25-b", drawn: (25, 50), arguments: "B -video_track_timescale 90000" },
    Recipe { name: "29.97-b", drawn: (30, 60), arguments: "B -vf setpts=N/(30000/1001)/TB -r 30000/1001" },
    Recipe { name: "30-b-signed", drawn: (30, 60), arguments: "B -movflags negative_cts_offsets" },
    Recipe {
        name: "30-hevc",
        drawn: (30, 60),
        arguments: "-c:v libx265 -preset ultrafast -bf 4 -x265-params b-pyramid=1:log-level=none",
    },
    Recipe {
        name: "60-b-front",
        drawn: (60, 120),
        arguments: "B -movflags +faststart -video_track_timescale 15360",
    },
    Recipe {
        name: "60-dropped",
        drawn: (60, 120),
        arguments: "NO_B -vf select=not(eq(mod(n\\,17)\\,5)) -vsync passthrough",
    },
    Recipe {
        name: "120-b-fragments",
        drawn: (120, 120),
        arguments: "B -g 24 -movflags frag_keyframe+empty_moov",
    },
    Recipe { name: "120-partly", drawn: (120, 120), arguments: "B -g 24 -movflags frag_keyframe" },
    Recipe {
        name: "240-fragments",
        drawn: (240, 240),
        arguments: "NO_B -movflags empty_moov+default_base_moof -frag_duration 100000 -video_track_timescale 90000",
    },
    Recipe { name: "240-b", drawn: (240, 240), arguments: "B -video_track_timescale 240000" },
    Recipe { name: "480-b", drawn: (480, 240), arguments: "B" },
    Recipe { name: "960", drawn: (960, 240), arguments: "NO_B -video_track_timescale 960000" },
    Recipe {
        name: "960-b-fragments",
        drawn: (960, 240),
        arguments: "B -g 60 -movflags frag_keyframe+empty_moov",
    },
    Recipe { name: "240-intra", drawn: (240, 96), arguments: "-c:v mjpeg -f mov" },
];

/// Trims without coding anew, which leave an edit list: of which clip, from
/// when, how long.
const TRIMS: [(&str, &str, &str, &str); 3] = [
    ("25-b", "25-b-trimmed", "0.5", "1.0"),
    ("240-b", "240-b-trimmed", "0.31", "0.4"),
    ("24", "24-trimmed", "0.7", "0.9"),
];

/// A copy that begins to show later, by an empty edit.
const DELAYED: (&str, &str, &str) = ("60-b-front", "60-b-delayed", "0.3");

/// Turned copies without coding anew: the clockwise turn, and how ffmpeg says
/// it, which counts the other way.
const TURNS: [(&str, &str); 3] = [("90", "270"), ("180", "180"), ("270", "90")];

/// Doubled frames: drawn at one rate, stored at another.
const DOUBLED: [(&str, u32, &str, u8, &str); 4] = [
    ("30-as-60", 30, "60", 2, ""),
    ("30-as-240", 30, "240", 8, ""),
    ("60-as-240", 60, "240", 4, ""),
    ("60-as-240-fragments", 60, "240", 4, "-movflags frag_keyframe+empty_moov"),
];

/// Whether ffmpeg and ffprobe are there; their lack is said, and with CI=true
/// it is a failure.
pub(super) fn tools() -> bool {
    let there = ["ffmpeg", "ffprobe"].iter().all(|tool| Command::new(tool).arg("-version").output().is_ok());
    if !there {
        assert_ne!(env::var("CI").as_deref(), Ok("true"), "ffmpeg is missing (Debian package ffmpeg)");
        let mut out = io::stderr();
        writeln!(out, "left out: ffmpeg and ffprobe are not installed (Debian package ffmpeg)").unwrap();
    }
    there
}

/// Writes the family into `folder`.
pub(super) fn write(folder: &Path) -> Vec<Member> {
    let mut family = Vec::new();
    let path = |name: &str| folder.join(format!("{name}.mp4"));
    for recipe in &RECIPES {
        let (rate, count) = recipe.drawn;
        draw(&path(recipe.name), rate, count, recipe.arguments);
        let fragmented = recipe.arguments.contains("frag") || recipe.arguments.contains("empty_moov");
        family.push(Member {
            name: recipe.name.to_owned(),
            path: path(recipe.name),
            fragmented,
            repeated: None,
        });
    }
    for (of, name, from, lasting) in TRIMS {
        let source = path(of);
        let input = source.to_str().unwrap();
        ffmpeg(&path(name), &["-ss", from, "-i", input, "-t", lasting, "-c", "copy"]);
        family.push(Member { name: name.to_owned(), path: path(name), fragmented: false, repeated: None });
    }
    let (of, name, by) = DELAYED;
    let source = path(of);
    ffmpeg(&path(name), &["-itsoffset", by, "-i", source.to_str().unwrap(), "-c", "copy"]);
    family.push(Member { name: name.to_owned(), path: path(name), fragmented: false, repeated: None });
    let help = Command::new("ffmpeg").args(["-v", "quiet", "-h", "full"]).output().unwrap();
    let by_option = String::from_utf8_lossy(&help.stdout).contains("-display_rotation");
    for (turn, counter) in TURNS {
        let source = path("30-b-signed");
        let source = source.to_str().unwrap();
        let name = format!("turned-{turn}");
        // The option came with version 6; before it was a key of the output.
        let rotate = format!("rotate={counter}");
        match by_option {
            true => ffmpeg(&path(&name), &["-display_rotation", counter, "-i", source, "-c", "copy"]),
            false => ffmpeg(&path(&name), &["-i", source, "-c", "copy", "-metadata:s:v:0", &rotate]),
        }
        family.push(Member { path: path(&name), name, fragmented: false, repeated: None });
    }
    for (name, rate, stored, period, more) in DOUBLED {
        // Noise, as a sensor has it, and one quality throughout: a coder that
        // spends what it has left on refining a repeated frame hides it.
        let arguments = format!(
            "-c:v libx264 -preset veryfast -qp 28 -bf 0 -g 1000 -sc_threshold 0 -vf noise=alls=20:allf=t,fps={stored} {more}"
        );
        draw(&path(name), rate, rate, &arguments);
        let fragmented = more.contains("frag");
        family.push(Member { name: name.to_owned(), path: path(name), fragmented, repeated: Some(period) });
    }
    family
}

fn draw(path: &Path, rate: u32, count: u32, arguments: &str) {
    let drawn = format!("testsrc2=size=96x64:rate={rate}:duration={}", f64::from(count) / f64::from(rate));
    let coder = |word: &str| match word {
        "B" => B_FRAMES.to_owned(),
        "NO_B" => NO_B_FRAMES.to_owned(),
        other => other.to_owned(),
    };
    let arguments: Vec<String> = arguments.split_whitespace().map(coder).collect();
    let arguments = arguments.join(" ");
    let mut all = vec!["-f", "lavfi", "-i", &drawn, "-pix_fmt", "yuv420p"];
    all.extend(arguments.split_whitespace());
    ffmpeg(path, &all);
}

fn ffmpeg(path: &Path, arguments: &[&str]) {
    let done = Command::new("ffmpeg")
        .args(["-v", "error", "-nostdin", "-y"])
        .args(arguments)
        .args(["-threads", "1", "-bitexact"])
        .arg(path)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{}: {said}", path.display());
}
