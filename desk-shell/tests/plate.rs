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
