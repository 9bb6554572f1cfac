//! The scale of a clip whose clock is unknown, measured in the clip itself.
//!
//! Both ways hold for a part of the clip that is slowed evenly, and for nothing beyond
//! it: who uses them says that the two moments and the contacts lie in one such part.
//!
//! * A ball that is let fall from a measured height h takes t = √(2h/g), so
//!   u(t)/t = u(h)/(2h). The air is left out: it slows a tennis ball over 2 m by about
//!   1 %, a heavy one by less, so take a small heavy one; that is not in the uncertainty.
//! * A running clock that was filmed is read at two frames. Each reading is anywhere
//!   within its last digit, uniform: u = δ/√12 each.
//!
//! Either time stands against a number of ticks between two brackets a and b wide:
//! u² = (a² + b²)/12. JCGM 100:2008 (GUM) 4.3.7, 5.1.2 (clause numbers from memory).

use std::time::Duration;

use thiserror::Error;

use super::event::Bracket;
use crate::clip::Pace;
use crate::load::constants::G;

/// A measured scale with its uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibration {
    /// Real seconds a tick.
    pub pace: Pace,
    /// Its relative standard uncertainty: it goes into every time of the clip, and no
    /// number of contacts makes it smaller.
    pub relative_u: f64,
    /// What it rests on, as sentences.
    pub evidence: Vec<String>,
}

/// A value with its standard uncertainty, in one unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

/// Why nothing can be measured.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CalibrationError {
    /// The two moments are not clearly one after the other.
    #[error("the second moment is not after the first: their frames are reversed or overlap")]
    Order,
    /// A number that cannot be.
    #[error("{what} is {value}, expected {range}")]
    Value {
        /// Which.
        what: &'static str,
        /// The number given.
        value: f64,
        /// What it can be.
        range: &'static str,
    },
    /// The uncertainty is so large that no time would mean anything.
    #[error(
        "the scale would be uncertain by {:.0} %: measure over a longer time, or more exactly", relative_u * 100.0
    )]
    TooUncertain {
        /// The relative standard uncertainty.
        relative_u: f64,
    },
}

/// The largest relative standard uncertainty that is taken: beyond it a contact of
/// 150 ms would be anything from 80 to 220.
const MOST_UNCERTAIN: f64 = 0.25;

/// From a ball let fall: the last frames in the hand and on the ground as brackets,
/// the height of its fall in metres, from 0.2 to 20.
///
/// # Errors
/// [`CalibrationError`].
pub fn falling_ball(
    released: Bracket,
    landed: Bracket,
    height: Measured,
) -> Result<Calibration, CalibrationError> {
    check("the height", height.value, 0.2..=20.0, "0.2 to 20 m")?;
    check("the uncertainty of the height", height.u, 0.0..=height.value, "a part of the height")?;
    let seconds = (2.0 * height.value / G).sqrt();
    let relative = height.u / (2.0 * height.value);
    let said = format!(
        "A ball was let fall from {:.2} m (± {:.2} m standard uncertainty): √(2h/g) = {seconds:.3} s, without the air.",
        height.value, height.u
    );
    scale(released, landed, Measured { value: seconds, u: relative * seconds }, said)
}

/// From a running clock that was filmed: two frames as brackets, what the clock showed
/// at them in seconds, and its last digit in seconds.
///
/// # Errors
/// [`CalibrationError`].
pub fn filmed_clock(
    first: (Bracket, f64),
    second: (Bracket, f64),
    last_digit: f64,
) -> Result<Calibration, CalibrationError> {
    let passed = second.1 - first.1;
    check("the time that passed on the clock", passed, 0.001..=3_600.0, "0.001 to 3600 s")?;
    check("the clock's last digit", last_digit, 1e-6..=1.0, "0.000001 to 1 s")?;
    let said = format!("A filmed clock went on by {passed} s, read to {last_digit} s.");
    scale(first.0, second.0, Measured { value: passed, u: last_digit / 6_f64.sqrt() }, said)
}

fn check(
    what: &'static str,
    value: f64,
    within: std::ops::RangeInclusive<f64>,
    range: &'static str,
) -> Result<(), CalibrationError> {
    if within.contains(&value) { Ok(()) } else { Err(CalibrationError::Value { what, value, range }) }
}

/// A real time against the ticks between two moments.
fn scale(
    early: Bracket,
    late: Bracket,
    real: Measured,
    said: String,
) -> Result<Calibration, CalibrationError> {
    if late.before < early.after {
        return Err(CalibrationError::Order);
    }
    let doubled = late.midpoint_doubled() - early.midpoint_doubled();
    let ticks = doubled as f64 / 2.0;
    let ticks_u = (early.width() as f64).hypot(late.width() as f64) / 12_f64.sqrt();
    let relative_u = (real.u / real.value).hypot(ticks_u / ticks);
    if relative_u.is_nan() || relative_u > MOST_UNCERTAIN {
        return Err(CalibrationError::TooUncertain { relative_u });
    }
    // Whole nanoseconds over whole ticks: 10⁻⁶ of what is measured at the most, also
    // where both are halved until they fit.
    let mut num = 2 * Duration::from_secs_f64(real.value).as_nanos();
    let mut den = doubled.unsigned_abs() * 1_000_000_000;
    while den > u128::from(u64::MAX) {
        (num, den) = (num / 2, den / 2);
    }
    let exact = u64::try_from(num).ok().zip(u64::try_from(den).ok());
    let pace = exact.and_then(|(num, den)| Pace::new(num, den)).ok_or(CalibrationError::Order)?;
    let frames = format!(
        "That is {ticks} ticks of the clip, so one tick is {:.6} ms, known to ± {:.1} % (standard uncertainty).",
        1000.0 * real.value / ticks,
        100.0 * relative_u
    );
    Ok(Calibration { pace, relative_u, evidence: vec![said, frames] })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bracket(before: i64, after: i64) -> Bracket {
        Bracket { before, after }
    }

    fn seconds_a_tick(found: &Calibration) -> f64 {
        found.pace.num as f64 / found.pace.den as f64
    }

    /// t = √(2h/g): 2 m take 0.638551 s with g = 9.81 (computed by hand); over 4 596
    /// ticks that is 0.138936 ms a tick. u(h)/(2h) = 0.01/4 = 0.25 %, the frames
    /// √(2·30²/12)/4596 = 0.2665 %, together 0.3654 %.
    #[test]
    fn a_ball_from_two_metres() {
        let height = Measured { value: 2.0, u: 0.01 };
        let found = falling_ball(bracket(0, 30), bracket(4_596, 4_626), height).unwrap();
        assert!((seconds_a_tick(&found) - 0.000_138_936).abs() < 1e-9, "{}", seconds_a_tick(&found));
        assert!((found.relative_u - 0.003_654).abs() < 1e-6, "{}", found.relative_u);
        assert!(found.evidence[0].contains("0.639 s") && found.evidence[1].contains("0.138936 ms"));
    }

    /// 2.50 s on a clock of hundredths over 20 000 ticks, brackets 30 wide:
    /// 0.125 ms a tick; 0.01/√6/2.5 = 0.1633 %, frames 12.247/20000 = 0.0612 %,
    /// together 0.1744 % (computed by hand).
    #[test]
    fn a_filmed_clock_of_hundredths() {
        let found = filmed_clock((bracket(10, 40), 1.25), (bracket(20_010, 20_040), 3.75), 0.01).unwrap();
        assert!((seconds_a_tick(&found) - 0.000_125).abs() < 1e-12);
        assert!((found.relative_u - 0.001_744).abs() < 1e-6, "{}", found.relative_u);
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let good = Measured { value: 2.0, u: 0.01 };
        let (early, late) = (bracket(0, 30), bracket(4_596, 4_626));
        assert_eq!(falling_ball(late, early, good), Err(CalibrationError::Order));
        assert_eq!(falling_ball(early, bracket(29, 60), good), Err(CalibrationError::Order));
        for value in [0.0, -1.0, 21.0, f64::NAN, f64::INFINITY] {
            let refused = falling_ball(early, late, Measured { value, u: 0.01 });
            assert!(matches!(refused, Err(CalibrationError::Value { what: "the height", .. })), "{value}");
        }
        for u in [-0.1, 3.0, f64::NAN] {
            assert!(falling_ball(early, late, Measured { value: 2.0, u }).is_err(), "{u}");
        }
        assert!(filmed_clock((early, 3.0), (late, 3.0), 0.01).is_err(), "it stands still");
        assert!(filmed_clock((early, 3.0), (late, 4.0), 0.0).is_err());
        let coarse = filmed_clock((early, 3.0), (late, 4.0), 1.0);
        assert!(matches!(coarse, Err(CalibrationError::TooUncertain { .. })), "{coarse:?}");
        let wide = falling_ball(bracket(0, 3_000), late, good);
        assert!(wide.is_ok() || matches!(wide, Err(CalibrationError::TooUncertain { .. })));
        let far = falling_ball(bracket(i64::MIN, 0), bracket(1, i64::MAX), good);
        assert!(matches!(far, Err(CalibrationError::TooUncertain { .. })), "{far:?}");
    }

    /// Clips of a nanosecond a tick are measured as those of a millisecond are.
    #[test]
    fn fine_timescales_are_measured_too() {
        for unit in [1, 1_000, 1_000_000] {
            let at = |ms: i64| bracket(ms * unit, (ms + 4) * unit);
            let found = filmed_clock((at(0), 1.0), (at(80_000), 11.0), 0.01).unwrap();
            let tick = 0.000_125 / unit as f64;
            assert!((seconds_a_tick(&found) / tick - 1.0).abs() < 1e-8, "{unit}");
        }
    }
}
