//! The speed of a run-in from a stand.
//!
//! v(t) = v_max(1 − e^(−t/τ)), x = v_max[t − τ(1 − e^(−t/τ))]. Solved for the
//! time with Lambert's W: s = x/(v_max·τ), t = τ[1 + s + W₀(−e^(−(1+s)))].
//! Samozino et al. 2016, Scand J Med Sci Sports 26:648–658.

use lambert_w::lambert_w0;

use super::constants::STRIDES_PER_S;

/// How an athlete accelerates from a stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Acceleration {
    /// Top speed v_max, m/s, above zero.
    pub top_speed_m_s: f64,
    /// Time constant τ, s, above zero.
    pub tau_s: f64,
}

impl Acceleration {
    /// The source of the model, for those who ask on a screen.
    #[must_use]
    pub const fn source() -> &'static str {
        "v(t) = v_max(1 − e^(−t/τ)), Samozino et al. 2016, Scand J Med Sci Sports 26:648–658; \
         strides at 4.1 a second, an estimate of ours"
    }

    /// Time to run `distance_m` from a stand, s; 0 for no distance.
    #[must_use]
    pub fn time_to(self, distance_m: f64) -> f64 {
        let s = distance_m.max(0.0) / (self.top_speed_m_s * self.tau_s);
        // At the branch point −1/e rounding may leave W's domain by a hair.
        let argument = (-(-(1.0 + s)).exp()).max(-(-1.0_f64).exp());
        let time = self.tau_s * (1.0 + s + lambert_w0(argument));
        time.max(0.0)
    }

    /// Speed `time_s` after the start, m/s.
    #[must_use]
    pub fn speed_after(self, time_s: f64) -> f64 {
        self.top_speed_m_s * -(-time_s.max(0.0) / self.tau_s).exp_m1()
    }

    /// Distance `time_s` after the start, m.
    #[must_use]
    pub fn distance_after(self, time_s: f64) -> f64 {
        self.top_speed_m_s * time_s.max(0.0) - self.tau_s * self.speed_after(time_s)
    }

    /// Speed after a run-in of `distance_m`, m/s.
    #[must_use]
    pub fn speed_at(self, distance_m: f64) -> f64 {
        self.speed_after(self.time_to(distance_m))
    }

    /// Speed after `strides` from a stand, m/s, with t = strides / 4.1 Hz
    /// (the rate is an estimate of ours).
    #[must_use]
    pub fn speed_after_strides(self, strides: u16) -> f64 {
        self.speed_after(f64::from(strides) / STRIDES_PER_S)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const RUNNER: Acceleration = Acceleration { top_speed_m_s: 9.5, tau_s: 1.2 };

    #[test]
    fn time_to_a_distance_is_where_that_distance_is_reached() {
        for distance in [0.01, 0.5, 3.0, 10.0, 40.0, 100.0] {
            let reached = RUNNER.distance_after(RUNNER.time_to(distance));
            assert!((reached - distance).abs() < 1e-6, "{distance}: {reached}");
        }
    }

    #[test]
    fn no_distance_and_a_negative_one_take_no_time() {
        assert!(RUNNER.time_to(0.0) < 1e-6);
        assert!(RUNNER.time_to(-3.0) < 1e-6);
        assert_eq!(RUNNER.speed_after(-1.0), 0.0);
    }

    #[test]
    fn more_strides_are_faster_and_stay_below_top_speed() {
        let mut before = 0.0;
        for strides in 1..=40 {
            let speed = RUNNER.speed_after_strides(strides);
            assert!(speed > before && speed < 9.5);
            before = speed;
        }
    }
}
