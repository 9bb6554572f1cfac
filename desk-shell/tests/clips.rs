//! `pitside clip` and `pitside contact` as a person or a script runs them: the
//! keys of the JSON, the exit codes, and what bad input is answered with.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// Seven frames at 30 a second, captured at 240, a gap after the first.
const SLOW: &str = "sample_android_slow_motion.mp4";
/// Thirty frames at 30 a second; nothing says how they were captured.
const PLAIN: &str = "h265_bframes.mp4";

/// Four frames in the movie box, 26 in fragments.
const FRAGMENTED: &str = "sample_partially_fragmented.mp4";

/// A real clip; origin and licence in the README beside it.
fn clip(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../tests/published/data/clips")
        .join(name)
        .display()
        .to_string()
}

struct Answer {
    code: i32,
    out: String,
    err: String,
}

impl Answer {
    fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap()
    }

    fn number(&self, key: &str) -> f64 {
        self.json()[key].as_f64().unwrap()
    }

    fn text(&self, key: &str) -> String {
        self.json()[key].as_str().unwrap().to_owned()
    }

    fn keys(&self) -> Vec<String> {
        self.json().as_object().unwrap().keys().cloned().collect()
    }
}

fn pitside(args: &[&str]) -> Answer {
    let done = Command::new(env!("CARGO_BIN_EXE_pitside")).args(args).output().unwrap();
    let err = String::from_utf8(done.stderr).unwrap();
    assert!(!err.contains("panicked"), "{err}");
    Answer { code: done.status.code().unwrap(), out: String::from_utf8(done.stdout).unwrap(), err }
}

fn contact(name: &str, marks: &[&str]) -> Answer {
    let path = clip(name);
    let args = ["contact", &path, "--json"];
    pitside(&[&args[..], marks].concat())
}

/// Asserts a refusal in both forms and gives its reason.
fn refused(name: &str, marks: &[&str]) -> String {
    let answer = contact(name, marks);
    assert_eq!(answer.code, 3, "{marks:?}: {}{}", answer.out, answer.err);
    assert_eq!(answer.keys(), ["refused"]);
    let reason = answer.json()["refused"].as_str().unwrap().to_owned();

    let path = clip(name);
    let plain = pitside(&[&["contact", path.as_str()][..], marks].concat());
    assert_eq!(plain.code, 3);
    assert_eq!(plain.out, "");
    assert!(plain.err.contains(&format!("pitside: {reason}\nhint: ")), "{}", plain.err);
    reason
}

/// A file with these bytes, gone with the folder.
fn file(folder: &tempfile::TempDir, bytes: &[u8]) -> PathBuf {
    let path = folder.path().join("clip.mp4");
    fs::write(&path, bytes).unwrap();
    path
}

#[test]
fn a_clip_is_shown_with_its_keys() {
    let answer = pitside(&["clip", &clip(SLOW), "--json"]);
    assert_eq!((answer.code, answer.err.as_str()), (0, ""));
    let report = answer.json();
    assert_eq!(report["clock"], "stretched");
    assert_eq!(report["capture_rate_hz"], 240.0);
    assert_eq!(report["timescale"], 90_000);
    let frames = [0, 29_281, 32_281, 35_281, 38_281, 41_281, 44_281];
    assert_eq!(report["frames"], serde_json::json!(frames));
    assert_eq!(report["shown"], 7);
    assert_eq!(report["rotation_degrees"], 0);
    assert_eq!(report["median_rate_hz"], 30.0);
    assert_eq!(report["gaps"], serde_json::json!([{ "after_frame": 0, "ticks": 29_281 }]));
    assert!(report["evidence"].as_array().unwrap().len() >= 3);

    let silent = pitside(&["clip", &clip(PLAIN), "--json"]).json();
    assert_eq!(silent["clock"], "unknown");
    assert_eq!(silent["capture_rate_hz"], Value::Null);
    assert_eq!(silent["seconds_per_tick"], Value::Null);

    let stated = pitside(&["clip", &clip(PLAIN), "--capture-rate", "240", "--json"]).json();
    assert_eq!(stated["clock"], "stretched");
    assert_eq!(stated["capture_rate_hz"], 240.0);

    let turned = pitside(&["clip", &clip("sample_edit_list.cut.mp4"), "--json"]).json();
    assert_eq!(turned["rotation_degrees"], 90);
    assert_eq!(turned["shown"], 77);
    assert_eq!(turned["frames"].as_array().unwrap().len(), 86);
}

#[test]
fn a_clip_is_shown_in_words() {
    let answer = pitside(&["clip", &clip(SLOW)]);
    assert_eq!((answer.code, answer.err.as_str()), (0, ""));
    for words in [
        "clock     stretched",
        "slowed 8 times",
        "7 stored, 7 shown",
        "4.167 ms",
        "frame 0 to 1: 29281 ticks",
    ] {
        assert!(answer.out.contains(words), "{words}: {}", answer.out);
    }
}

#[test]
fn a_place_of_recording_is_never_shown() {
    // A clip with a capture key, to which a place is given in `udta`.
    let mut bytes = fs::read(clip("h265_with_metadata_track.cut.mp4")).unwrap();
    let place = b"\0\0\0\x1c\xa9xyz\0\x10\0\0+12.34-056.78/AB";
    let free = bytes.windows(8).position(|eight| eight == b"\0\0\0\x1cfree").unwrap();
    bytes[free..free + place.len()].copy_from_slice(place);
    let folder = tempfile::tempdir().unwrap();
    let path = file(&folder, &bytes).display().to_string();
    for args in [&["clip", &path][..], &["clip", &path, "--json"]] {
        let answer = pitside(args);
        assert_eq!(answer.code, 0, "{}", answer.err);
        assert!(!answer.out.contains("12.34"), "{}", answer.out);
    }
}

#[test]
fn a_contact_is_timed_with_its_keys() {
    let answer = contact(SLOW, &["--on", "2", "--off", "6"]);
    assert_eq!((answer.code, answer.err.as_str()), (0, ""));
    let mut keys = [
        "contact_ms",
        "u_ms",
        "half_width_95_ms",
        "bound_ms",
        "judging_u_ms",
        "total_u_ms",
        "frame_u_ms",
        "frame_bound_ms",
        "clock_u_ms",
    ];
    keys.sort_unstable();
    let mut found = answer.keys();
    found.sort_unstable();
    assert_eq!(found, keys);
    // Four frames of 1/240 s; the values for 240 frames a second.
    let frame = 1000.0 / 240.0;
    let near = |key: &str, value: f64| {
        let found = answer.number(key);
        assert!((found - value).abs() < 1e-3, "{key}: {found}, not {value}");
    };
    near("contact_ms", 4.0 * frame);
    near("frame_u_ms", 1.7010);
    near("frame_bound_ms", frame);
    near("clock_u_ms", 4.0 * frame * 0.001);
    near("u_ms", 1.7010_f64.hypot(4.0 * frame * 0.001));
    near("half_width_95_ms", 3.2350_f64.hypot(1.96 * 4.0 * frame * 0.001));
    near("bound_ms", frame + 3_f64.sqrt() * 4.0 * frame * 0.001);
    near("judging_u_ms", 3.402);
    near("total_u_ms", 3.804);
}

#[test]
fn a_contact_is_timed_in_words() {
    let answer = pitside(&["contact", &clip(SLOW), "--on", "2", "--off", "6"]);
    assert_eq!((answer.code, answer.err.as_str()), (0, ""));
    let first = answer.out.lines().next().unwrap();
    assert_eq!(first, "0.017 s ± 3 ms (frames and clock) · with judging ± 7 ms");
    assert!(answer.out.contains("never gives an impact peak"));
}

#[test]
fn a_widened_mark_replaces_its_judging() {
    let plain = contact(SLOW, &["--on", "2", "--off", "6"]);
    let neighbour = contact(SLOW, &["--on", "2", "--off", "6", "--off-before", "5"]);
    assert_eq!(plain.out, neighbour.out);
    let wide = contact(SLOW, &["--on", "2", "--off", "6", "--off-before", "3"]);
    assert_eq!(wide.code, 0);
    assert!(wide.number("u_ms") > plain.number("u_ms"));
    assert!(wide.number("judging_u_ms") < plain.number("judging_u_ms"));
    // The toe-off lies between frames 3 and 6: its middle is one frame earlier.
    let earlier = plain.number("contact_ms") - wide.number("contact_ms");
    assert!((earlier - 1000.0 / 240.0).abs() < 1e-9, "{earlier}");
    let both = ["--on", "3", "--on-before", "1", "--off", "6", "--off-before", "4"];
    assert_eq!(contact(SLOW, &both).number("judging_u_ms"), 0.0);
}

#[test]
fn marks_that_give_no_time_are_refused() {
    let reason = refused(SLOW, &["--on", "0", "--off", "4"]);
    assert!(reason.contains("touchdown is marked in frame 0"), "{reason}");
    let reason = refused(SLOW, &["--on", "2", "--off", "7"]);
    assert!(reason.contains("frame 7, but the clip has frames 0 to 6"));
    let reason = refused(SLOW, &["--on", "5", "--off", "2"]);
    assert!(reason.contains("reversed"), "{reason}");
    refused(SLOW, &["--on", "3", "--off", "3"]);
    refused(SLOW, &["--on", "-1", "--off", "3"]);
    refused(SLOW, &["--on", "3", "--off", "9223372036854775807"]);
    refused(SLOW, &["--on", "2", "--on-before", "2", "--off", "5"]);
    refused(SLOW, &["--on", "2", "--on-before", "99", "--off", "5"]);
    // Surely off the ground before it is surely on it.
    let reversed = ["--on", "4", "--off", "6", "--off-before", "3"];
    assert!(refused(SLOW, &reversed).contains("overlap"));
}

#[test]
fn clocks_and_clips_that_give_no_time_are_refused() {
    let marks = ["--on", "2", "--off", "9"];
    let reason = refused(PLAIN, &marks);
    assert!(reason.contains("unknown"), "{reason}");
    assert_eq!(contact(PLAIN, &[&marks[..], &["--capture-rate", "240"]].concat()).code, 0);
    let below = [&marks[..], &["--capture-rate", "20"]].concat();
    assert!(refused(PLAIN, &below).contains("cannot be"));
    // In fragments, and with a trailer: their clocks, not their form, decide.
    let reason = refused("sample_partially_fragmented.mp4", &marks);
    assert!(reason.contains("unknown"), "{reason}");
    assert_eq!(contact("sample_sef_slow_motion.mp4", &marks).code, 0);
    let reason = refused(SLOW, &["--on", "2", "--off", "5", "--track", "99"]);
    assert!(reason.contains("no track 99"), "{reason}");
}

#[test]
fn a_clock_that_is_unknown_is_measured_in_the_clip() {
    // 24 frames of 3000 ticks pass while the clock goes on by 0.1 s: 240 a second.
    let marks = ["--on", "3", "--off", "9", "--clock-shows", "1.20@2", "--clock-shows", "1.30@26"];
    let digits = [&marks[..], &["--clock-digit", "0.001"]].concat();
    let found = contact(PLAIN, &digits);
    assert!((found.number("contact_ms") - 25.0).abs() < 0.1, "{}", found.number("contact_ms"));
    // 0.001/√6/0.1 = 0.41 %, one frame of 24: √2/√12/24 = 1.7 %, of 25 ms.
    assert!((found.number("clock_u_ms") - 0.437).abs() < 0.01, "{}", found.number("clock_u_ms"));
    // A ball from 1.23 m takes 0.5008 s.
    let ball =
        ["--on", "3", "--off", "9", "--ball-from", "1.23", "--ball-released", "2", "--ball-landed", "26"];
    let found = contact(PLAIN, &ball);
    assert!((found.number("contact_ms") - 6.0 * 500.8 / 24.0).abs() < 0.5, "{}", found.number("contact_ms"));
    let reversed =
        ["--on", "3", "--off", "9", "--ball-from", "1.23", "--ball-released", "26", "--ball-landed", "2"];
    assert!(refused(PLAIN, &reversed).contains("not after the first"));
    let one = ["--on", "3", "--off", "9", "--clock-shows", "1.20@2"];
    assert!(refused(PLAIN, &one).contains("two readings"));
}

#[test]
fn a_target_is_answered_with_its_doubt() {
    // Three frames at 240 a second, 12.5 ms with 3.8 ms of doubt.
    let marks = ["--on", "2", "--off", "5"];
    let below = |ms| contact(SLOW, &[&marks[..], &["--below", ms]].concat());
    assert!(below("30").text("below") == "yes" && below("30").number("below_probability") > 0.99);
    assert_eq!(below("3").text("below"), "no");
    let near = below("17");
    assert_eq!(near.text("below"), "cannot tell");
    assert_eq!(near.number("would_tell_hz"), 480.0);
}

#[test]
fn fragments_a_trailer_and_a_chosen_track_are_read() {
    let fragmented = pitside(&["clip", &clip(FRAGMENTED), "--json"]).json();
    assert_eq!(fragmented["frames"].as_array().unwrap().len(), 30);
    assert_eq!(fragmented["warnings"], serde_json::json!([]));
    assert_eq!(fragmented["tracks"][0]["samples"], 30);
    let stated = contact(FRAGMENTED, &["--on", "2", "--off", "9", "--capture-rate", "29.97"]);
    assert_eq!(stated.code, 0, "{}", stated.err);

    let trailed = pitside(&["clip", &clip("sample_sef_slow_motion.mp4"), "--json"]).json();
    assert_eq!((&trailed["clock"], &trailed["shown"]), (&"stretched".into(), &63.into()));
    assert_eq!(trailed["frames"].as_array().unwrap().len(), 64);

    let video = fragmented["tracks"][0]["id"].to_string();
    let sound = fragmented["tracks"][1]["id"].to_string();
    let chosen = pitside(&["clip", &clip(FRAGMENTED), "--track", &video, "--json"]).json();
    assert_eq!(chosen, fragmented);
    let unfit = pitside(&["clip", &clip(FRAGMENTED), "--track", &sound, "--json"]);
    assert_eq!((unfit.code, unfit.keys()), (4, vec!["error".to_owned()]));
    assert!(unfit.err.contains("is no video") && unfit.err.contains("hint: `pitside clip"), "{}", unfit.err);
}

/// A clip in which every second frame has almost no bytes.
#[test]
fn doubled_frames_are_warned_of() {
    let mut bytes = fs::read(clip("h265_bframes.mp4")).unwrap();
    let at = bytes.windows(4).position(|name| name == b"stsz").unwrap() + 16;
    for frame in 0..30_usize {
        let size: u32 = if frame % 2 == 0 { 600 } else { 20 };
        bytes[at + 4 * frame..at + 4 * frame + 4].copy_from_slice(&size.to_be_bytes());
    }
    // Decoded in the order shown.
    let ctts = bytes.windows(4).position(|name| name == b"ctts").unwrap();
    bytes[ctts..ctts + 4].copy_from_slice(b"free");
    let folder = tempfile::tempdir().unwrap();
    let path = file(&folder, &bytes).display().to_string();
    let report = pitside(&["clip", &path, "--json"]).json();
    let warning = report["warnings"][0].as_str().unwrap().to_owned();
    assert!(warning.starts_with("Of every 2 frames"), "{warning}");
    assert!(pitside(&["clip", &path]).out.contains(&format!("warning   {warning}")));
    let marks = ["--on", "2", "--off", "9", "--capture-rate", "240"];
    let timed = pitside(&[&["contact", &path, "--json"][..], &marks].concat());
    assert_eq!(timed.json()["warnings"][0], warning);
    assert!(pitside(&[&["contact", &path][..], &marks].concat()).out.contains(&warning));
}

#[test]
fn a_place_of_recording_is_never_printed() {
    let plain = fs::read(clip(PLAIN)).unwrap();
    let place = b"+47.1234+008.5678/";
    let tag = [&[0, 0, 0, 30][..], b"\xa9xyz", &[0, 18, 0x15, 0xc7], place].concat();
    let udta = [&[0, 0, 0, 38][..], b"udta", &tag].concat();
    let moov = plain.windows(4).position(|name| name == b"moov").unwrap() - 4;
    let size = u32::from_be_bytes(plain[moov..moov + 4].try_into().unwrap());
    let end = moov + usize::try_from(size).unwrap();
    let mut bytes = plain.clone();
    // In the place of an `udta` that may stand there.
    if let Some(old) = bytes[moov..end].windows(4).position(|name| name == b"udta") {
        bytes[moov + old..moov + old + 4].copy_from_slice(b"free");
    }
    bytes.splice(end..end, udta.iter().copied());
    bytes[moov..moov + 4].copy_from_slice(&(size + 38).to_be_bytes());
    let folder = tempfile::tempdir().unwrap();
    let path = file(&folder, &bytes).display().to_string();
    for args in [&["clip", path.as_str()][..], &["clip", path.as_str(), "--json"]] {
        let answer = pitside(args);
        assert_eq!(answer.code, 0, "{}", answer.err);
        assert!(!answer.out.contains("47.1234") && !answer.out.contains("8.5678"), "{}", answer.out);
    }
}

#[test]
fn files_that_are_no_clips_are_told_apart() {
    let whole = fs::read(clip(SLOW)).unwrap();
    let mut huge = whole.clone();
    let moov = huge.windows(4).position(|name| name == b"moov").unwrap();
    huge[moov - 4..moov].copy_from_slice(&u32::MAX.to_be_bytes());
    let mut nest = Vec::new();
    for _ in 0..2000_u32 {
        let size = u32::try_from(nest.len() + 8).unwrap();
        nest = [&size.to_be_bytes()[..], b"moov", &nest].concat();
    }
    let cases: [(&[u8], &str); 6] = [
        (b"", "empty"),
        (b"A note about a jump, and no clip at all.", "no MP4"),
        (&whole[..whole.len() / 2], "cut off"),
        (&whole[..1153], "no box `mdat`"),
        (&huge, "4294967295 bytes"),
        (&nest, "inside another"),
    ];
    let folder = tempfile::tempdir().unwrap();
    for (bytes, words) in cases {
        let path = file(&folder, bytes).display().to_string();
        let shown = pitside(&["clip", &path]);
        assert_eq!(shown.code, 4, "{words}");
        assert_eq!(shown.out, "");
        assert!(shown.err.contains(words), "{words}: {}", shown.err);
        assert!(shown.err.contains("\nhint: "), "{}", shown.err);
        let json = pitside(&["clip", &path, "--json"]);
        assert_eq!(json.code, 4);
        assert_eq!(json.keys(), ["error"]);
        assert!(json.err.contains(words));

        let timed = pitside(&["contact", &path, "--on", "1", "--off", "2", "--json"]);
        assert_eq!(timed.code, 3, "{words}");
        assert!(timed.json()["refused"].as_str().unwrap().contains(words));
    }
}

#[test]
fn files_that_cannot_be_opened_are_said() {
    let folder = tempfile::tempdir().unwrap();
    let missing = folder.path().join("missing.mp4").display().to_string();
    let itself = folder.path().display().to_string();
    for path in [missing, itself] {
        for args in [&["clip", &path][..], &["contact", &path, "--on", "1", "--off", "2"]] {
            let answer = pitside(args);
            assert_eq!(answer.code, 4);
            assert!(answer.err.contains("cannot be opened"), "{}", answer.err);
            assert!(answer.err.contains("\nhint: "));
        }
    }
}

#[test]
fn a_wrong_command_line_is_usage() {
    let path = clip(SLOW);
    for args in [
        &[][..],
        &["clip"],
        &["clip", &path, "--capture-rate", "0"],
        &["clip", &path, "--capture-rate", "nan"],
        &["clip", &path, "--capture-rate", "fast"],
        &["contact", &path, "--on", "2"],
        &["contact", &path, "--on", "two", "--off", "4"],
        &["jump"],
    ] {
        assert_eq!(pitside(args).code, 2, "{args:?}");
    }
    let help = pitside(&["--help"]);
    assert_eq!(help.code, 0);
    assert!(help.out.contains("Exit codes:"));
    for command in ["clip", "contact"] {
        let help = pitside(&[command, "--help"]);
        assert_eq!(help.code, 0);
        assert!(help.out.contains("JSON keys"));
    }
}
