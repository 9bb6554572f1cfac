//! Three open force-plate records, put through the product's formulas.
//! `data/force/README.md` names their origins and licences.
//!
//! The reader of this file (threshold, debounce) serves these checks alone.

#![allow(clippy::expect_used, reason = "helpers of tests fail as tests do")]

use std::fs;
use std::path::Path;

use pitside_model::facts::exercise::Legs;
use pitside_model::load::ballistics::{fall_height, flight_height, level_speed};
use pitside_model::load::constants::G;
use pitside_model::load::contact::Landing;
use pitside_model::load::force::{
    flight_contact_ratio, mean_force_bw, mean_force_from_flights_bw, peak_from_mean, reactive_strength,
};

/// `value` rounds to `wanted` in the decimals given with it.
#[track_caller]
fn rounds_to(value: f64, wanted: f64, decimals: i32) {
    let half = 0.5 * 10_f64.powi(-decimals);
    assert!((value - wanted).abs() <= half * (1.0 + 1e-9), "{value} is not {wanted} to {decimals} decimals",);
}

/// The numbers of a record, row by row, below its header if it has one.
fn record(name: &str) -> Vec<Vec<f64>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/force").join(name);
    fs::read_to_string(path)
        .expect("the record")
        .lines()
        .filter_map(|line| line.split([',', '\t']).map(|cell| cell.trim().parse().ok()).collect())
        .collect()
}

/// A stretch of a record on one side of the threshold.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Phase {
    grounded: bool,
    first_sample: usize,
}

/// Phases on the ground and in the air, by turns: one begins where the force
/// has crossed `threshold` and stays on that side for `debounce` samples.
fn phases(force: &[f64], threshold: f64, debounce: usize) -> Vec<Phase> {
    let mut phases: Vec<Phase> = Vec::new();
    for (first_sample, window) in force.windows(debounce).enumerate() {
        let grounded = window[0] >= threshold;
        let settled = window.iter().all(|newton| (*newton >= threshold) == grounded);
        let turned = phases.last().is_none_or(|last| last.grounded != grounded);
        if settled && turned {
            phases.push(Phase { grounded, first_sample });
        }
    }
    phases
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn largest(values: &[f64]) -> f64 {
    values.iter().copied().fold(f64::NEG_INFINITY, f64::max)
}

/// A countermovement jump with its published answer, h = 0.213 m: Duarte &
/// Watanabe 2021, doi 10.5281/zenodo.4599319 (CC-BY 4.0). Their rule: subtract
/// the record's minimum, then first and last sample below 10 N; g is 9.8.
#[test]
fn countermovement_jump_with_its_published_height() {
    const RATE: f64 = 600.0;
    let force: Vec<f64> = record("GRFZjump.txt").iter().map(|row| row[0]).collect();
    assert_eq!(force.len(), 1_200);
    let least = force.iter().copied().fold(f64::INFINITY, f64::min);
    rounds_to(least, -7.15, 2);
    let below = |newton: &f64| newton - least < 10.0;
    let off = force.iter().position(below).expect("a flight");
    let on = force.iter().rposition(below).expect("a flight");
    assert_eq!((off, on), (544, 794));
    rounds_to(off as f64 / RATE, 0.907, 3);
    rounds_to(on as f64 / RATE, 1.323, 3);
    let flight = (on - off) as f64 / RATE;
    rounds_to(flight_height(flight), 0.213, 3);
    rounds_to(flight_height(flight) * 9.8 / G, 0.21267, 5);

    // The landing: what was jumped is fallen, 2.044 m/s (computed). And it is no peak: 5.8 BW were measured on it
    // (computed: the mean of the flight subtracted, the weight from the first 60 samples).
    let landing = Landing::of(level_speed(flight), 0.0, 90.0, Legs::Two);
    rounds_to(landing.closing_speed_m_s, 2.044, 3);
    let in_flight = mean(&force[off..=on]);
    let weight = mean(&force[..60]) - in_flight;
    rounds_to(weight, 623.0, 0);
    rounds_to((largest(&force[on..]) - in_flight) / weight, 5.82, 2);

    // The definition is worth 8 mm: the run below 20 N of the raw record
    // (computed).
    let phases = phases(&force, 20.0, 3);
    let off = phases.iter().position(|phase| !phase.grounded).expect("a flight");
    let flight = phases[off + 1].first_sample - phases[off].first_sample;
    assert_eq!(flight, 255);
    rounds_to(flight_height(flight as f64 / RATE), 0.221, 3);
}

/// A drop jump on two plates (MIT, commit c4c08f9); answers computed apart
/// from the product: 20 N on the sum, debounced over a one-sample blip.
#[test]
fn drop_jump_times_strength_and_fall() {
    let force: Vec<f64> = record("Dual-DJ-Fz.txt").iter().map(|row| row[0] + row[1]).collect();
    assert_eq!(force.len(), 5_000);
    let weight = mean(&force[4_000..5_000]);
    rounds_to(weight, 665.33, 2);

    assert!(force[1_894] >= 20.0 && force[1_895] < 20.0, "the blip");
    let touchdown = Phase { grounded: true, first_sample: 1_897 };
    let phases = phases(&force, 20.0, 3);
    let at = phases.iter().position(|phase| *phase == touchdown).expect("the touchdown after the blip");
    let [on, off, again] = [0, 1, 2].map(|next| phases[at + next].first_sample);
    assert_eq!((on, off, again), (1_897, 2_146, 2_633));

    let contact = (off - on) as f64 / 1e3;
    let flight = (again - off) as f64 / 1e3;
    rounds_to(contact, 0.249, 6);
    rounds_to(flight, 0.487, 6);
    rounds_to(flight_height(flight), 0.2908, 4);
    rounds_to(reactive_strength(flight, contact), 1.168, 3);
    rounds_to(flight_contact_ratio(flight, contact), 1.956, 3);

    // What the plates read over the contact.
    let measured = mean(&force[on..off]) / weight;
    rounds_to(measured, 3.0275, 4);
    rounds_to(largest(&force[on..off]) / weight, 4.659, 3);

    // The fall implied by the impulse, and back through the product's formula.
    let up = level_speed(flight);
    let down = (measured - 1.0) * G * contact - up;
    rounds_to(fall_height(down), 0.335, 3);
    rounds_to(mean_force_bw(down, up, contact), 3.0275, 4);
    // The landing: all of the fall's energy, shared by two legs (computed).
    let landing = Landing::of(down, 0.0, 90.0, Legs::Two);
    rounds_to(landing.closing_speed_m_s, down, 9);
    rounds_to(landing.energy_j_per_kg_per_leg, G * fall_height(down) / 2.0, 9);
    rounds_to(landing.closing_speed_m_s, 2.564, 2);
    // Without an impact the peak from times stays near the measured one.
    rounds_to(peak_from_mean(measured), 4.756, 3);
}

/// Treadmill running (MIT, commit f9c014b), column `right`, 20 N; answers
/// computed apart from the product. Each step's weight is the mean force up to
/// the next touchdown.
#[test]
fn treadmill_contacts_flights_and_peaks() {
    const RATE: f64 = 300.0;
    let force: Vec<f64> = record("joss_example.csv").iter().map(|row| row[3]).collect();
    assert_eq!(force.len(), 437);
    let phases = phases(&force, 20.0, 3);
    let steps: Vec<(f64, f64, f64, f64)> = phases
        .windows(3)
        .filter(|step| step[0].grounded)
        .map(|step| {
            let [on, off, next] = [0, 1, 2].map(|at: usize| step[at].first_sample);
            let weight = mean(&force[on..next]);
            let contact = (off - on) as f64 / RATE;
            let flight = (next - off) as f64 / RATE;
            (contact, flight, weight, largest(&force[on..off]) / weight)
        })
        .collect();
    assert_eq!(steps.len(), 3);

    // The first contact begins with the record, so its time is not checked.
    rounds_to(steps[1].0, 0.2967, 4);
    rounds_to(steps[2].0, 0.2933, 4);
    let rows = [
        // flight, weight, peak measured, peak from times
        (0.0900, 600.0, 2.24, 2.06),
        (0.0867, 592.0, 2.18, 2.03),
        (0.0933, 594.0, 2.35, 2.07),
    ];
    for ((contact, flight, weight, peak), row) in steps.into_iter().zip(rows) {
        rounds_to(flight, row.0, 4);
        rounds_to(weight, row.1, 0);
        rounds_to(peak, row.2, 2);
        // Running redirects more than it absorbs: the landing is small (computed).
        let landing = Landing::of(level_speed(flight), 0.0, 90.0, Legs::One);
        assert!((0.42..0.47).contains(&landing.closing_speed_m_s), "{landing:?}");
        // Over the contact of one step the mean force is its weight over the share of the step on the ground.
        rounds_to(mean_force_from_flights_bw(flight, flight, contact), (contact + flight) / contact, 9);
        let estimate = peak_from_mean(mean_force_from_flights_bw(flight, flight, contact));
        rounds_to(estimate, row.3, 2);
    }
}
