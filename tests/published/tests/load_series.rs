//! Daily load series against published examples.
//!
//! Rows called *computed* were worked out apart from the product from the
//! formula of the source named with them.

#![allow(clippy::expect_used, reason = "helpers of tests fail as tests do")]

use pitside_model::load::series::average::Average;
use pitside_model::load::series::smoothness::{Smoothness, minimum_jerk};
use pitside_model::load::series::spread::{monotony, strain};
use pitside_model::load::series::{DayLoad, Figures, Series};

/// `value` rounds to `wanted` in the decimals given with it.
#[track_caller]
fn rounds_to(value: Option<f64>, wanted: f64, decimals: i32) {
    let half = 0.5 * 10_f64.powi(-decimals);
    let value = value.expect("a value");
    assert!((value - wanted).abs() <= half * (1.0 + 1e-9), "{value} is not {wanted} to {decimals} decimals");
}

fn series(loads: &[f64]) -> Series {
    loads.iter().map(|load| Some(DayLoad::new(*load).expect("a load"))).collect()
}

fn last(loads: &[f64]) -> Figures {
    *series(loads).iter().next_back().expect("a day")
}

/// Monotony and strain: Foster 1998, Med Sci Sports Exerc 30:1164–1168; Foster et
/// al. 2001, J Strength Cond Res 15(1):109–115 (formula; the week is computed with
/// both standard deviations, of which the product takes the sample's).
#[test]
fn foster_monotony_and_strain() {
    let week = [420.0, 0.0, 540.0, 300.0, 0.0, 600.0, 240.0];
    let figures = last(&week);
    rounds_to(figures.sum_7, 2100.0, 9);
    // The sample's standard deviation is 240.
    rounds_to(figures.monotony, 1.250, 9);
    rounds_to(figures.strain, 2625.0, 6);
    // The population's, 222.197, gives 1.3502 and 2835.3, √(7/6) times as much: not ours.
    let population = (7.0_f64 / 6.0).sqrt();
    rounds_to(monotony(&week).map(|sample| sample * population), 1.3502, 4);
    rounds_to(strain(&week).map(|sample| sample * population), 2835.3, 1);
    // Seven equal days have no standard deviation, and so no monotony.
    let equal = last(&[300.0; 7]);
    assert_eq!((equal.sum_7, equal.monotony, equal.strain), (Some(2100.0), None, None));
}

/// The series A of Menaspà that Williams et al. 2017, Br J Sports Med 51:209–210
/// work with: three weeks of 30, then one of 50.
fn stepped() -> Vec<f64> {
    [vec![30.0; 21], vec![50.0; 7]].concat()
}

/// Their series C.
const UNEVEN: [f64; 28] = [
    55.0, 50.0, 40.0, 60.0, 45.0, 50.0, 50.0, 20.0, 30.0, 80.0, 25.0, 10.0, 30.0, 15.0, 20.0, 15.0, 5.0, 5.0,
    15.0, 5.0, 5.0, 5.0, 5.0, 15.0, 45.0, 90.0, 95.0, 95.0,
];

/// EWMA and their ratio: Williams et al. 2017, Br J Sports Med 51:209–210 (ratios
/// published, averages computed).
#[test]
fn williams_averages() {
    let stepped = last(&stepped());
    rounds_to(stepped.ewma_7, 47.3303, 4);
    rounds_to(stepped.ewma_28, 37.8720, 4);
    rounds_to(stepped.ratio_ewma, 1.25, 2);
    let uneven = last(&UNEVEN);
    rounds_to(uneven.ewma_7, 62.1242, 4);
    rounds_to(uneven.ewma_28, 40.0614, 4);
    rounds_to(uneven.ratio_ewma, 1.55, 2);
}

/// The first value is the first load, so that after 27 steps 0.145 of an average
/// over 28 days is still that day (computed).
#[test]
fn the_seed_of_an_average_weighs_long() {
    let first = series(&stepped());
    assert_eq!(first.get(0).and_then(|day| day.ewma_28), Some(30.0));
    let mut average = Average::of_span(28);
    average.push(DayLoad::new(1.0));
    for _ in 0..27 {
        average.push(Some(DayLoad::REST));
    }
    rounds_to(average.value(), 0.145, 3);
    assert!((average.value().expect("there") - average.seed_weight().expect("there")).abs() < 1e-12);
}

/// Rolling means of 7 over 28 days: of both series 1.43 with the week in the month,
/// 1.6667 with the 21 days before it (Williams et al. 2017; computed). In general
/// the coupled ratio is 4r/(r + 3) of the uncoupled r, and at most 4 (computed).
#[test]
fn coupled_and_uncoupled_ratios() {
    for loads in [stepped(), UNEVEN.to_vec()] {
        let figures = last(&loads);
        rounds_to(figures.ratio_coupled, 1.43, 2);
        rounds_to(figures.ratio_uncoupled, 1.6667, 4);
        let r = figures.ratio_uncoupled.expect("there");
        rounds_to(figures.ratio_coupled, 4.0 * r / (r + 3.0), 12);
    }
    let ceiling = last(&[vec![0.0; 21], vec![50.0; 7]].concat());
    assert_eq!((ceiling.ratio_coupled, ceiling.ratio_uncoupled), (Some(4.0), None));
}

/// Minimum jerk: Flash & Hogan 1985, J Neurosci 5:1688–1703 (value from memory; rows
/// computed).
#[test]
fn flash_hogan_minimum_jerk() {
    rounds_to(Some(minimum_jerk(0.0, 1.0, 0.25)), 0.103516, 6);
    rounds_to(Some(minimum_jerk(0.0, 1.0, 0.5)), 0.5, 12);
    rounds_to(Some(minimum_jerk(80.0, 120.0, 0.5)), 100.0, 12);
    let step = 1e-4;
    let slope = |s: f64| (minimum_jerk(0.0, 1.0, s + step) - minimum_jerk(0.0, 1.0, s - step)) / (2.0 * step);
    rounds_to(Some(slope(0.5)), 1.875, 6);
    assert!((1..100).all(|s| slope(f64::from(s) / 100.0) <= slope(0.5)));
    for end in [0.0, 1.0] {
        rounds_to(Some(slope(end)), 0.0, 5);
        let bend = (slope(end + step) - slope(end - step)) / (2.0 * step);
        rounds_to(Some(bend), 0.0, 2);
    }
    // The curve through five weeks, and its third differences (computed): 0, 0.103516,
    // 0.5, 0.896484, 1 → −0.292969 and, mirrored, the same.
    let smoothness = Smoothness::of(&[0.0, 0.25, 0.5, 0.75, 1.0].map(Some)).expect("five weeks");
    for (week, wanted) in smoothness.curve.iter().zip([0.0, 0.103516, 0.5, 0.896484, 1.0]) {
        rounds_to(Some(*week), wanted, 6);
    }
    rounds_to(Some(smoothness.curve_rms), 0.292969, 6);
    assert_eq!(smoothness.course_rms, 0.0);
}
