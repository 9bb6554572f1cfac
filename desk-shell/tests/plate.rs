//! `pitside plate` as a person and a program call it.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

/// An open record: `tests/published/data/force/README.md` names its origin.
fn plate(record: &str, arguments: &[&str]) -> Output {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/published/data/force").join(record);
    Command::new(env!("CARGO_BIN_EXE_pitside")).arg("plate").arg(file).args(arguments).output().unwrap()
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Computed from the open drop jump: contact 0.249 s, flight 0.487 s, 0.2908 m; mean
/// 3.0275 and peak 4.659 body weights of 665.33 N.
#[test]
fn the_keys_of_a_drop_jump() {
    let columns = ["--rate", "1000", "--columns", "FP1,FP2", "--weight", "4-5", "--json"];
    let output = plate("Dual-DJ-Fz.txt", &columns);
    assert!(output.status.success());
    let read = json(&output);
    let near = |value: &Value, wanted: f64, within: f64| {
        assert!((value.as_f64().unwrap() - wanted).abs() <= within, "{value} {wanted}");
    };
    near(&read["weight_n"], 665.33, 0.005);
    let contact = &read["contacts"][0];
    near(&contact["duration_s"], 0.249, 1e-9);
    near(&contact["start_s"], 1.897, 1e-9);
    near(&contact["end_s"], 2.146, 1e-9);
    near(&contact["mean_bw"], 3.0275, 5e-5);
    near(&contact["peak_bw"], 4.659, 5e-4);
    near(&contact["reactive_strength_m_s"], 1.168, 5e-4);
    near(&read["flights"][0]["duration_s"], 0.487, 1e-9);
    near(&read["flights"][0]["height_m"], 0.2908, 5e-5);
    near(&read["cut_contacts"][0]["start_s"], 2.633, 1e-9);
    assert!(read["cut_contacts"][0]["end_s"].is_null());
    // The same in words.
    let told = String::from_utf8(plate("Dual-DJ-Fz.txt", &columns[..6]).stdout).unwrap();
    assert!(told.contains("0.2490 s") && told.contains("threshold 20 N"), "{told}");
}

#[test]
fn what_cannot_be_read_is_told_with_its_code() {
    let unsaid = plate("Dual-DJ-Fz.txt", &["--rate", "1000", "--json"]);
    assert_eq!(unsaid.status.code(), Some(4));
    assert!(json(&unsaid)["error"].as_str().unwrap().contains("FP1, FP2"));
    let missing = plate("no-such-record.txt", &["--rate", "1000"]);
    assert_eq!(missing.status.code(), Some(4));
    let refused = plate("GRFZjump.txt", &["--rate", "600", "--threshold=-5", "--json"]);
    assert_eq!(refused.status.code(), Some(3));
    assert!(json(&refused)["refused"].as_str().unwrap().contains("threshold"));
    for rate in ["0", "nan", "-600"] {
        let wrong = plate("GRFZjump.txt", &[&format!("--rate={rate}")]);
        assert_eq!(wrong.status.code(), Some(4), "{rate}");
    }
    let usage = plate("GRFZjump.txt", &["--rate", "600", "--offset", "much"]);
    assert_eq!(usage.status.code(), Some(2));
}

/// A record made here: 1000 samples a second, 1500 N while the drawn figure of the rendered
/// clip is on the ground (`tests/render/clips`, its times are known), the first contact
/// longer by so many milliseconds.
fn record(folder: &tempfile::TempDir, longer_ms: usize) -> String {
    let told = std::fs::read_to_string(rendered("bounds-240.json")).unwrap();
    let told: Value = serde_json::from_str(&told).unwrap();
    let mut force = vec!["0"; 2600];
    for (at, contact) in told["contacts"].as_array().unwrap().iter().enumerate() {
        let sample = |key: &str| (contact[key].as_f64().unwrap() * 1000.0).round() as usize;
        let longer = if at == 0 { longer_ms } else { 0 };
        force[sample("touchdown_s")..sample("toe_off_s") + longer].fill("1500");
    }
    let file = folder.path().join("plate.csv");
    std::fs::write(&file, force.join("\n")).unwrap();
    file.display().to_string()
}

fn rendered(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/render/clips").join(name).display().to_string()
}

#[test]
fn a_clip_stands_beside_the_plate() {
    let folder = tempfile::tempdir().unwrap();
    let clip = rendered("bounds-240.mp4");
    // Read by eye from the pictures: bounds-240.marks.json.
    let marks = "165-200,270-308,383-416,496-539";
    let beside = |record: &str, marks: &str, more: &[&str]| {
        let beside = ["--rate", "1000", "--against", &clip, "--marks", marks];
        plate(record, &[&beside[..], more].concat())
    };
    let true_to_it = record(&folder, 0);
    let output = beside(&true_to_it, marks, &["--json"]);
    assert!(output.status.success());
    let read = json(&output);
    let pairs = read["compared"].as_array().unwrap();
    assert_eq!(pairs.len(), 4);
    for (pair, (frames, plate_ms)) in pairs.iter().zip([(35, 144), (38, 160), (33, 136), (43, 179)]) {
        let number = |key: &str| pair[key].as_f64().unwrap();
        assert!((number("clip_s") - f64::from(frames) / 240.0).abs() < 1e-9, "{pair}");
        assert!((number("plate_s") - f64::from(plate_ms) / 1000.0).abs() < 0.0011, "{pair}");
        assert!((number("difference_s") - (number("clip_s") - number("plate_s"))).abs() < 1e-12);
        // 1.96 · √(1.701² + 3.402² + clock²) ms at 240 frames a second.
        assert!((number("half_width_95_s") - 0.00746).abs() < 3e-5, "{pair}");
        assert!(number("allowed_s") > number("half_width_95_s") && pair["covered"] == true, "{pair}");
    }
    let mean = pairs.iter().map(|pair| pair["difference_s"].as_f64().unwrap()).sum::<f64>() / 4.0;
    assert!((read["mean_difference_s"].as_f64().unwrap() - mean).abs() < 1e-12);
    let told = String::from_utf8(beside(&true_to_it, marks, &[]).stdout).unwrap();
    assert_eq!(told.matches(" ms, covered (").count(), 4, "{told}");
    assert!(told.contains("clip 0.1458 s ± 8 ms"), "{told}");

    // Twelve milliseconds more on the plate are beyond the clip's interval.
    let longer = record(&folder, 12);
    let covered: Vec<bool> = json(&beside(&longer, marks, &["--json"]))["compared"]
        .as_array()
        .unwrap()
        .iter()
        .map(|pair| pair["covered"].as_bool().unwrap())
        .collect();
    assert_eq!(covered, [false, true, true, true]);
    let told = String::from_utf8(beside(&longer, marks, &[]).stdout).unwrap();
    assert_eq!(told.matches("not covered (").count(), 1, "{told}");

    // No pairing is guessed; marks, clip and command line are refused by their codes.
    let fewer = beside(&longer, "165-200,270-308", &["--json"]);
    assert_eq!(fewer.status.code(), Some(3));
    assert!(json(&fewer)["refused"].as_str().unwrap().contains("4 whole contacts, the take 2"));
    assert_eq!(beside(&longer, "200-165,270-308,383-416,496-539", &[]).status.code(), Some(3));
    assert_eq!(beside(&longer, "165", &[]).status.code(), Some(2));
    let no_clip = ["--rate", "1000", "--against", "no-such-clip.mp4", "--marks", marks, "--json"];
    let no_clip = plate(&longer, &no_clip);
    assert_eq!(no_clip.status.code(), Some(4));
    assert!(json(&no_clip)["error"].as_str().unwrap().contains("no-such-clip.mp4"));
    assert_eq!(plate(&longer, &["--rate", "1000", "--marks", marks]).status.code(), Some(2));
}
