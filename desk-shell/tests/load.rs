//! `pitside load` as a person and a program call it.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

fn load(table: &str, arguments: &[&str]) -> Output {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("loads.csv");
    std::fs::write(&file, table).unwrap();
    load_file(&file, arguments)
}

fn load_file(file: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_pitside")).arg("load").arg(file).args(arguments).output().unwrap()
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap()
}

/// A table of consecutive days of March 2026 with these loads.
fn march(loads: &[f64]) -> String {
    let row = |(day, load): (i32, &f64)| format!("2026-03-{day:02},{load}\n");
    "date,load\n".to_owned() + &(1..).zip(loads).map(row).collect::<String>()
}

fn near(value: &Value, wanted: f64, within: f64) {
    let number = value.as_f64().unwrap_or(f64::NAN);
    assert!((number - wanted).abs() <= within, "{value} is not {wanted}");
}

const KEYS: [&str; 9] = [
    "date",
    "load",
    "ewma28",
    "ewma7",
    "monotony",
    "ratio_coupled",
    "ratio_ewma",
    "ratio_uncoupled",
    "strain",
];

/// Averages and ratios: Williams et al. 2017, Br J Sports Med 51:209–210.
#[test]
fn the_keys_of_four_weeks() {
    let output = load(&march(&[vec![30.0; 21], vec![50.0; 7]].concat()), &["--json"]);
    assert!(output.status.success());
    let read = json(&output);
    assert_eq!(read.as_object().unwrap().keys().collect::<Vec<_>>(), ["days"]);
    let days = read["days"].as_array().unwrap();
    assert_eq!(days.len(), 28);
    for day in days {
        let mut keys: Vec<&String> = day.as_object().unwrap().keys().collect();
        keys.sort_unstable();
        let mut wanted = KEYS;
        wanted.sort_unstable();
        assert_eq!(keys, wanted);
    }
    let last = &days[27];
    assert_eq!(last["date"], "2026-03-28");
    near(&last["load"], 50.0, 0.0);
    near(&last["ewma7"], 47.3303, 5e-5);
    near(&last["ewma28"], 37.8720, 5e-5);
    near(&last["ratio_ewma"], 1.25, 5e-3);
    near(&last["ratio_coupled"], 10.0 / 7.0, 1e-12);
    near(&last["ratio_uncoupled"], 5.0 / 3.0, 1e-12);
    // Seven equal days.
    assert!(last["monotony"].is_null() && last["strain"].is_null());
    // Averages begin with the first day, everything else with a full window.
    near(&days[0]["ewma7"], 30.0, 0.0);
    near(&days[0]["ewma28"], 30.0, 0.0);
    near(&days[0]["ratio_ewma"], 1.0, 0.0);
    for key in ["ratio_coupled", "ratio_uncoupled", "monotony", "strain"] {
        assert!(days[0][key].is_null(), "{key}");
    }
    assert!(days[26]["ratio_coupled"].is_null() && days[26]["ratio_uncoupled"].is_null());
}

/// Foster 1998, Med Sci Sports Exerc 30:1164–1168: sample standard deviation.
#[test]
fn the_monotony_of_a_week() {
    let read = json(&load(&march(&[420.0, 0.0, 540.0, 300.0, 0.0, 600.0, 240.0]), &["--json"]));
    near(&read["days"][6]["monotony"], 1.25, 1e-12);
    near(&read["days"][6]["strain"], 2625.0, 1e-9);
    assert!(read["days"][5]["monotony"].is_null() && read["days"][5]["strain"].is_null());
}

#[test]
fn a_date_left_out_is_an_error_until_it_is_said_what_it_was() {
    let rows = "2026-03-01,420\n2026-03-03,540\n2026-03-04,300\n2026-03-06,600\n2026-03-07,240\n";
    let table = format!("date,load\n{rows}");
    let refused = load(&table, &["--json"]);
    assert_eq!(refused.status.code(), Some(4));
    let error = json(&refused)["error"].as_str().unwrap().to_owned();
    assert!(error.contains("line 3, column 1: 2026-03-02 is left out"), "{error}");
    assert!(String::from_utf8(refused.stderr).unwrap().contains("--missing rest"));

    let rest = json(&load(&table, &["--json", "--missing", "rest"]));
    assert_eq!(rest["days"].as_array().unwrap().len(), 7);
    assert_eq!(rest["days"][1]["date"], "2026-03-02");
    near(&rest["days"][1]["load"], 0.0, 0.0);
    near(&rest["days"][6]["monotony"], 1.25, 1e-12);

    let unknown = json(&load(&table, &["--json", "--missing", "unknown"]));
    for key in KEYS.iter().filter(|key| !["date", "load"].contains(key)) {
        assert!(unknown["days"][6][key].is_null(), "{key}");
    }
    assert!(unknown["days"][1]["load"].is_null());
    near(&unknown["days"][0]["ewma7"], 420.0, 0.0);

    // An empty cell is a day without a load, too.
    let blank = "date,load\n2026-03-01,5\n2026-03-02,\n";
    assert_eq!(load(blank, &[]).status.code(), Some(4));
    near(&json(&load(blank, &["--json", "--missing", "rest"]))["days"][1]["load"], 0.0, 0.0);
}

#[test]
fn the_table_says_what_the_ratio_is_not() {
    let loads: Vec<f64> = (0..30).map(|day| f64::from(day % 7) * 100.0).collect();
    let output = load(&march(&loads), &[]);
    assert!(output.status.success());
    let told = String::from_utf8(output.stdout).unwrap();
    let rows: Vec<&str> = told.lines().filter(|line| line.starts_with("2026-03-")).collect();
    assert_eq!(rows.len(), 30);
    // A week of 0 to 600: sum 2100, sample deviation 216.02.
    assert!(rows[6].contains("2100.0") && rows[6].contains(" 1.39 "), "{}", rows[6]);
    // No ratio before 28 days, not even of the averages.
    assert!(rows[26].ends_with("-        -          -"), "{}", rows[26]);
    assert!(!rows[27].contains('-') || rows[27].matches('-').count() == 2, "{}", rows[27]);
    assert!(told.contains("predict nothing") && told.contains("10.1007/s40279-020-01378-6"), "{told}");
    assert!(!told.to_lowercase().contains("safe"), "{told}");
    let unknown = load("date,load\n2026-03-01,1\n2026-03-03,1\n", &["--missing", "unknown"]);
    assert!(String::from_utf8(unknown.stdout).unwrap().contains("2026-03-02   unknown"));
}

#[test]
fn what_cannot_be_read_is_told_with_its_code() {
    let cases = [
        ("", "names the columns"),
        ("day,load\n2026-03-01,1\n", "no column is called `date`"),
        ("date,load\n2026-03-01,-1\n", "line 2, column 2"),
        ("date,load\n01.03.2026,1\n", "line 2, column 1"),
        ("date,load\n2026-03-01,1\n2026-03-01,1\n", "line 3, column 1: 2026-03-01 stands in line 2"),
        ("date,load\n2026-03-02,1\n2026-03-01,1\n", "sort the rows by date"),
    ];
    for (table, wanted) in cases {
        let refused = load(table, &["--json"]);
        assert_eq!(refused.status.code(), Some(4), "{table:?}");
        let error = json(&refused)["error"].as_str().unwrap().to_owned();
        assert!(error.contains(wanted), "{error}");
        let told = load(table, &[]);
        assert!(told.stdout.is_empty() && String::from_utf8(told.stderr).unwrap().contains(wanted));
    }
    let folder = tempfile::tempdir().unwrap();
    for file in [folder.path().join("no-such-table.csv"), folder.path().to_owned()] {
        let missing = load_file(&file, &["--json"]);
        assert_eq!(missing.status.code(), Some(4));
        assert!(json(&missing)["error"].is_string());
    }
    assert_eq!(load("date,load\n2026-03-01,1\n", &["--missing", "training"]).status.code(), Some(2));
}

/// The seeds of the fuzz target `load` are tables, so that it gets past the first checks.
#[test]
fn the_seeds_of_the_fuzz_target_are_read() {
    let seeds = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/fuzz/seeds/load");
    let mut read = 0;
    for seed in std::fs::read_dir(seeds).unwrap() {
        let output = load_file(&seed.unwrap().path(), &["--json", "--missing", "unknown"]);
        assert!(output.status.success(), "{}", String::from_utf8(output.stderr).unwrap());
        read += 1;
    }
    assert!(read >= 3);
}
