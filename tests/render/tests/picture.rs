//! The committed clips tell the truth: decoded by ffmpeg, their pixels show a
//! sole on the ground in exactly the frames the known times say, the file says
//! what a phone's would, and the marks a person read agree.
//!
//! Where ffmpeg is missing the tests say so and pass; with CI=true they fail.

#![allow(
    clippy::panic,
    clippy::print_stderr,
    clippy::unwrap_used,
    reason = "helpers of tests, which clippy.toml does not take for tests"
)]

use std::fs;
use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use render::clip::{self, Clip};
use render::motion::Foot;
use render::picture::{BACKGROUND, Colour, GROUND_ROW, HEIGHT, SOLE, WIDTH, draw};
use render::truth::Truth;
use serde_json::Value;

/// A sole on the ground fills the row above the ground line along its toe part,
/// 0.08 m or 12 pixels; its round tip and the encoder take some of them.
const TOE_PIXELS: usize = 7;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("clips")
}

fn json(name: &str) -> Value {
    serde_json::from_str(&fs::read_to_string(folder().join(name)).unwrap()).unwrap()
}

/// Whether a program runs here. With CI=true it must.
fn there(program: &str) -> bool {
    let there = Command::new(program)
        .arg("-version")
        .stdout(Stdio::null())
        .status()
        .is_ok_and(|status| status.success());
    let ci = std::env::var("CI").is_ok_and(|value| value == "true");
    assert!(there || !ci, "{program} is missing, and CI=true leaves nothing out");
    if !there {
        eprintln!("left out: {program} is missing");
    }
    there
}

/// A decoded frame: luma, and at half the size the two chroma planes.
struct Frame {
    planes: Vec<u8>,
}

impl Frame {
    const LUMA: usize = WIDTH * HEIGHT;
    const CHROMA: usize = Self::LUMA / 4;

    fn luma(&self, x: usize, y: usize) -> f64 {
        f64::from(self.planes[y * WIDTH + x])
    }

    /// Red against blue, by the difference of the chroma planes.
    fn redness(&self, x: usize, y: usize) -> f64 {
        let at = Self::LUMA + y / 2 * (WIDTH / 2) + x / 2;
        f64::from(self.planes[at + Self::CHROMA]) - f64::from(self.planes[at])
    }

    /// The longest run of pixels that a sole fills by three quarters or more in
    /// the row right above the ground line.
    fn sole(&self) -> std::ops::Range<usize> {
        let dark = SOLE.luma() + 0.25 * (BACKGROUND.luma() - SOLE.luma());
        let mut longest = 0..0;
        let mut start = 0;
        for x in 0..WIDTH {
            if self.luma(x, GROUND_ROW - 1) > dark {
                start = x + 1;
            } else if x + 1 - start > longest.len() {
                longest = start..x + 1;
            }
        }
        longest
    }

    /// The foot whose sole touches the ground line, if one does.
    fn on_ground(&self) -> Option<Foot> {
        let sole = self.sole();
        if sole.len() < TOE_PIXELS {
            return None;
        }
        // The upper begins 5 pixels above the underside.
        let middle = sole.start.midpoint(sole.end);
        let redness = self.redness(middle, GROUND_ROW - 7);
        Some(if redness > 0.0 { Foot::Right } else { Foot::Left })
    }
}

/// Decodes every stored frame in display order.
fn decode(clip: &Clip, mut each: impl FnMut(u32, &Frame)) {
    let mut ffmpeg = Command::new("ffmpeg")
        .args(["-nostdin", "-loglevel", "error", "-ignore_editlist", "1", "-i"])
        .arg(folder().join(clip.file_name()))
        .args(["-fps_mode", "passthrough", "-f", "rawvideo"])
        .args(["-pix_fmt", "yuv420p", "pipe:1"])
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut pipe = ffmpeg.stdout.take().unwrap();
    let mut frame = Frame { planes: vec![0; Frame::LUMA + 2 * Frame::CHROMA] };
    for number in 0..clip.frames {
        pipe.read_exact(&mut frame.planes).unwrap();
        each(number, &frame);
    }
    assert_eq!(pipe.read(&mut [0]).unwrap(), 0, "more frames than are known");
    assert!(ffmpeg.wait().unwrap().success());
}

/// The foot that is on the ground in a frame by the times in the JSON.
fn known(truth: &Value, frame: u32) -> Option<Foot> {
    let rate = truth["capture_rate_hz"].as_f64().unwrap();
    let t = f64::from(frame) / rate;
    let contact = ["run_in", "contacts"].into_iter().flat_map(|part| truth[part].as_array().unwrap()).find(
        |contact| {
            let at = |key: &str| contact[key].as_f64().unwrap();
            at("touchdown_s") <= t && t < at("toe_off_s")
        },
    )?;
    Some(match contact["foot"].as_str().unwrap() {
        "left" => Foot::Left,
        "right" => Foot::Right,
        "both" => Foot::Both,
        other => panic!("{other}"),
    })
}

#[test]
fn the_pixels_show_each_contact_in_exactly_its_frames() {
    if !there("ffmpeg") {
        return;
    }
    for clip in clip::all() {
        let truth = json(&format!("{}.json", clip.stem));
        let mut on = 0;
        decode(&clip, |number, frame| {
            let seen = frame.on_ground();
            let known = known(&truth, number);
            on += u32::from(known.is_some());
            // With both feet down, the soles lie side by side in one row.
            let agrees = match known {
                Some(Foot::Both) => seen.is_some(),
                known => seen == known,
            };
            assert!(
                agrees,
                "{} frame {number}: seen {seen:?} ({:?}), known {known:?}",
                clip.stem,
                frame.sole()
            );
        });
        assert!(on > 100, "{}: {on} frames with contact", clip.stem);
    }
}

/// A clip that was not drawn again after a change would still pass the test
/// above; this one notices.
#[test]
fn the_committed_clips_are_what_the_generator_draws() {
    if !there("ffmpeg") {
        return;
    }
    for clip in clip::all() {
        let text = fs::read_to_string(folder().join(format!("{}.json", clip.stem))).unwrap();
        assert_eq!(text, Truth::of(&clip).to_json().unwrap());
        decode(&clip, |number, frame| {
            let drawn = draw(&clip, number);
            let differing = drawn
                .as_chunks::<3>()
                .0
                .iter()
                .zip(&frame.planes)
                .filter(|([red, green, blue], luma)| {
                    let drawn = Colour::new(*red, *green, *blue).luma();
                    (drawn - f64::from(**luma)).abs() > 40.0
                })
                .count();
            // The encoder softens an edge here and there; a limb one frame off
            // changes hundreds of pixels.
            assert!(differing < 60, "{} frame {number}: {differing}", clip.stem);
        });
    }
}

/// FFmpeg's reader as the referee of the file.
#[test]
fn ffprobe_reads_the_file_and_its_capture_key() {
    if !there("ffprobe") {
        return;
    }
    for clip in clip::all() {
        let output = Command::new("ffprobe")
            .args(["-loglevel", "error", "-of", "json", "-ignore_editlist", "1"])
            .args(["-show_entries", "format_tags:stream=codec_name,pix_fmt,time_base"])
            .args(["-show_entries", "packet=pts"])
            .arg(folder().join(clip.file_name()))
            .output()
            .unwrap();
        assert!(output.status.success() && output.stderr.is_empty());
        let probed: Value = serde_json::from_slice(&output.stdout).unwrap();
        let stream = &probed["streams"][0];
        assert_eq!(stream["codec_name"], "h264");
        assert_eq!(stream["pix_fmt"], "yuv420p");
        assert_eq!(stream["time_base"], "1/90000");
        let tags = &probed["format"]["tags"];
        assert_eq!(tags["comment"], "rendered, not filmed");
        let rate = tags["com.android.capture.fps"].as_str().unwrap();
        assert_eq!(rate.parse(), Ok(f64::from(clip.capture_rate_hz)));

        // Stored at 30 a second: 3000 ticks of 1/90000 s from frame to frame.
        let mut times: Vec<i64> = probed["packets"]
            .as_array()
            .unwrap()
            .iter()
            .map(|packet| packet["pts"].as_i64().unwrap())
            .collect();
        assert_eq!(times.len(), clip.frames as usize);
        assert!(!times.is_sorted(), "no B-frames: decode order is display order");
        times.sort_unstable();
        assert!(times.windows(2).all(|pair| pair[1] - pair[0] == 3000));
    }
}

#[test]
fn the_marks_a_person_read_follow_the_frame_rule() {
    let clip = &clip::all()[0];
    let marks = json("bounds-240.marks.json");
    let marks = marks["contacts"].as_array().unwrap();
    let contacts = clip.motion.contacts();
    assert_eq!(marks.len(), contacts.len());
    for (mark, contact) in marks.iter().zip(contacts) {
        let frame = |key: &str| u32::try_from(mark[key].as_u64().unwrap()).unwrap();
        let foot = serde_json::to_value(contact.foot).unwrap();
        assert_eq!(mark["foot"], foot);
        assert_eq!(frame("on"), clip.first_frame_from(contact.touchdown_us));
        assert_eq!(frame("off"), clip.first_frame_from(contact.toe_off_us));
    }
}
