//! The speed of a run-in from a stand.
//!
//! v(t) = v_max(1 − e^(−t/τ)), x = v_max[t − τ(1 − e^(−t/τ))]. Solved for the
//! time with Lambert's W: s = x/(v_max·τ), t = τ[1 + s + W₀(−e^(−(1+s)))].
//! Samozino et al. 2016, Scand J Med Sci Sports 26:648–658.

use lambert_w::lambert_w0;

use super::constants::STRIDES_PER_S;
use super::performed::Athlete;

/// How an athlete accelerates from a stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Acceleration {
    /// Top speed v_max, m/s, above zero.
    pub top_speed_m_s: f64,
    /// Time constant τ, s, above zero.
    pub tau_s: f64,
}

impl Acceleration {
    /// How an athlete accelerates, with the defaults for what is not known.
    #[must_use]
    pub fn of(athlete: Athlete) -> Self {
        let (top, tau) = (athlete.top_speed().0, athlete.tau().0);
        Self { top_speed_m_s: f64::from(top) / 1e3, tau_s: f64::from(tau) / 1e3 }
    }

    /// Standard uncertainty of what `value` gives for this acceleration, from those of the athlete's top speed
    /// and time constant, taken as independent: first order, JCGM 100:2008 (GUM), 5.1.2. `None` where neither is
    /// known.
    #[must_use]
    pub fn u_of(self, athlete: Athlete, value: impl Fn(Self) -> f64) -> Option<f64> {
        let (top_u, tau_u) = (athlete.top_speed_u_m_s(), athlete.tau_u_s());
        if top_u.is_none() && tau_u.is_none() {
            return None;
        }
        let by_top = slope(|top_speed_m_s| value(Self { top_speed_m_s, ..self }), self.top_speed_m_s);
        let by_tau = slope(|tau_s| value(Self { tau_s, ..self }), self.tau_s);
        Some((by_top * top_u.unwrap_or(0.0)).hypot(by_tau * tau_u.unwrap_or(0.0)))
    }

    /// The source of the model, for those who ask on a screen.
    #[must_use]
    pub const fn source() -> &'static str {
        "v(t) = v_max(1 − e^(−t/τ)), Samozino et al. 2016, Scand J Med Sci Sports 26:648–658; \
         strides at 4.1 a second, an estimate of ours"
    }

    /// The source of the model alone, where no strides are counted.
    #[must_use]
    pub const fn model() -> &'static str {
        "v(t) = v_max(1 − e^(−t/τ)), Samozino et al. 2016, Scand J Med Sci Sports 26:648–658"
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

/// Slope of a smooth function at a point other than 0, by a central difference.
pub(super) fn slope(value: impl Fn(f64) -> f64, at: f64) -> f64 {
    // The cube root of the rounding of a double, where the difference is most exact.
    let step = at.abs() * 6e-6;
    (value(at + step) - value(at - step)) / (2.0 * step)
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
    fn the_uncertainty_of_a_speed_is_that_of_its_formula() {
        let athlete = Athlete {
            top_speed_mm_s: Some(9_500),
            tau_ms: Some(1_200),
            top_speed_u_mm_s: Some(100),
            tau_u_ms: Some(50),
            ..Athlete::default()
        };
        let runner = Acceleration::of(athlete);
        // ∂v/∂v_max = 1 − e^(−t/τ), ∂v/∂τ = −v_max·t/τ²·e^(−t/τ).
        let time = 8.0 / STRIDES_PER_S;
        let fades = (-time / 1.2_f64).exp();
        let wanted = (0.1 * (1.0 - fades)).hypot(0.05 * 9.5 * time / 1.44 * fades);
        let u = runner.u_of(athlete, |a| a.speed_after_strides(8)).expect("known");
        assert!((u - wanted).abs() < 1e-8, "{u} {wanted}");
        let unknown = Athlete { top_speed_u_mm_s: None, tau_u_ms: None, ..athlete };
        assert_eq!(runner.u_of(unknown, |a| a.speed_after_strides(8)), None);
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
