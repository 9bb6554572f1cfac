//! The plate reader on three open records. `data/force/README.md` names their origins and
//! licences.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use std::fs::File;
use std::io::BufReader;
use std::path::Path;

use pitside_model::plate::{Column, Filmed, Offset, Reading, Record, Settings, Weight, compare};

fn record(name: &str, columns: &[&str], rate_hz: f64) -> Record {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/force").join(name);
    let columns: Vec<Column> = columns.iter().map(|column| column.parse().unwrap()).collect();
    Record::read(BufReader::new(File::open(path).unwrap()), &columns, rate_hz).unwrap()
}

fn to(digits: usize, value: f64) -> String {
    format!("{value:.digits$}")
}

/// Computed from the open drop jump (two plates summed, 1000 Hz, 20 N, debounced: row
/// 1894 is a blip of one sample; off 2146, on again 2633; weight the mean of rows 4000 to
/// 4999): contact 0.249 s, flight 0.487 s, height 0.2908 m, RSI 1.168 m/s, mean force
/// 3.0275 and peak 4.659 body weights.
#[test]
fn the_open_drop_jump() {
    let jump = record("Dual-DJ-Fz.txt", &["FP1", "FP2"], 1000.0);
    let standing = Settings { weight: Weight::Window { from_s: 4.0, to_s: 5.0 }, ..Settings::default() };
    let reading = Reading::of(&jump, &standing).unwrap();
    assert_eq!(to(2, reading.weight.unwrap().newtons), "665.33");
    let contact = reading.contacts[0];
    assert_eq!((reading.contacts.len(), contact.start_s, contact.end_s), (1, 1.897, 2.146));
    assert_eq!(to(4, contact.mean_bw.unwrap()), "3.0275");
    assert_eq!(to(3, contact.peak_bw.unwrap()), "4.659");
    assert_eq!(to(3, contact.reactive_strength.unwrap()), "1.168");
    let flight = reading.flights[0];
    assert_eq!((reading.flights.len(), to(3, flight.duration_s), flight.end_s), (1, "0.487".into(), 2.633));
    assert_eq!(to(4, flight.height_m), "0.2908");
    // Whoever gives no window: the steadiest second of standing after the landing.
    let found = Reading::of(&jump, &Settings::default()).unwrap().weight.unwrap();
    assert!((found.newtons - 665.33).abs() < 3.0, "{}", found.newtons);
    // The same contact by other thresholds (5, 10, 20 and 50 N).
    let at = |threshold_n| Reading::of(&jump, &Settings { threshold_n, ..standing }).unwrap().contacts[0];
    let times = [5.0, 10.0, 20.0, 50.0].map(|threshold_n| to(3, at(threshold_n).duration_s));
    assert_eq!(times, ["0.255", "0.254", "0.249", "0.244"]);
}

/// Source: Duarte & Watanabe 2021 (doi 10.5281/zenodo.4599319), the record and its
/// published answers. Their rule takes the first and the last sample below 10 N after the
/// record's minimum is subtracted (0.907 and 1.323 s, 250 samples, 0.213 m with g = 9.8),
/// though the force is above it in between; an unbroken run below 20 N of the record as
/// it is has 255 samples, 0.221 m. The reader keeps to runs, so by their settings it
/// finds more than one stretch, which together reach from 544 to 794.
#[test]
fn the_open_countermovement_jump() {
    let jump = record("GRFZjump.txt", &[], 600.0);
    let quiet = Settings { weight: Weight::Window { from_s: 0.0, to_s: 0.1 }, ..Settings::default() };
    let reading = Reading::of(&jump, &quiet).unwrap();
    assert_eq!(to(0, reading.flights[0].duration_s * 600.0), "255");
    assert_eq!(to(3, reading.flights[0].height_m), "0.221");
    assert!(reading.contacts.is_empty(), "both are cut by the record's ends");

    let theirs = Settings {
        threshold_n: 10.0,
        offset: Offset::Minimum,
        least_contact_s: 0.0,
        least_flight_s: 0.0,
        ..quiet
    };
    let theirs = Reading::of(&jump, &theirs).unwrap();
    assert_eq!(to(2, theirs.offset_n), "-7.15");
    let (first, last) = (theirs.flights[0].start_s, theirs.flights.last().unwrap().end_s);
    // Their last sample is the last one below, ours the first above.
    let last = last - 1.0 / 600.0;
    assert_eq!((to(0, first * 600.0), to(0, last * 600.0)), ("544".into(), "794".into()));
    assert_eq!(to(3, 9.8 * (last - first).powi(2) / 8.0), "0.213");

    // Computed: the landing's peak is 5.83 body weights (5.87 N subtracted; weight 622.5
    // N from the first 60 samples).
    let landing = Reading::of(&jump, &Settings { offset: Offset::Given(5.87), ..quiet }).unwrap();
    assert_eq!(to(1, landing.weight.unwrap().newtons), "622.5");
    assert_eq!(to(2, landing.cut[1].peak_bw.unwrap()), "5.83");
}

/// Computed from the open treadmill run (300 Hz, column `right`, 20 N): the first whole
/// contacts last 0.2967 and 0.2933 s, the flights 0.0900, 0.0867 and 0.0933 s.
#[test]
fn the_open_treadmill_run() {
    let run = record("joss_example.csv", &["right"], 300.0);
    let reading = Reading::of(&run, &Settings::default()).unwrap();
    let contacts: Vec<String> = reading.contacts.iter().map(|c| to(4, c.duration_s)).collect();
    let flights: Vec<String> = reading.flights.iter().map(|f| to(4, f.duration_s)).collect();
    assert_eq!(contacts, ["0.2967", "0.2933"]);
    assert_eq!(flights, ["0.0900", "0.0867", "0.0933"]);
    assert_eq!(reading.weight, None, "a runner never stands still");
    // A camera at 240 frames a second that saw the same: within what both can see.
    let filmed = [0.2958, 0.2917].map(|seconds| Filmed { seconds, half_width_95_s: 0.0075 });
    let compared = compare(&reading, &filmed).unwrap();
    assert!(compared.pairs.iter().all(|pair| pair.within));
    assert_eq!(to(4, compared.mean_difference_s), "-0.0013");
}
