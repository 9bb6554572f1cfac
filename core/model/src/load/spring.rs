//! Stiffness from contact and flight times: the body as a mass on a spring.
//!
//! Stiffness of different papers must not be mixed: for the same hopping
//! published values differ by two with task rate and method.

use std::f64::consts::{FRAC_PI_2, PI};

use super::constants::G;

/// What a running or hopping contact tells under the half-sine model of
/// Morin et al. 2005, J Appl Biomech 21:167–180.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpringMass {
    /// Largest force, N: Fmax = m·g·(π/2)(tf/tc + 1).
    pub peak_n: f64,
    /// Sinking of the body's centre, m: Δy = Fmax·tc²/(m·π²) − g·tc²/8.
    pub sinking_m: f64,
    /// Vertical stiffness, N/m: Fmax/Δy.
    pub vertical_n_m: f64,
    /// Shortening of the leg, m: ΔL = L − √(L² − (v·tc/2)²) + Δy.
    pub shortening_m: f64,
    /// Stiffness of the leg, N/m: Fmax/ΔL.
    pub leg_n_m: f64,
}

/// What [`SpringMass::of`] is computed from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stride {
    /// Mass of the athlete, kg.
    pub mass_kg: f64,
    /// Forward speed, m/s; 0 on the spot.
    pub speed_m_s: f64,
    /// Length of the leg, m.
    pub leg_m: f64,
    /// Contact time, s.
    pub contact_s: f64,
    /// Flight time, s.
    pub flight_s: f64,
}

impl SpringMass {
    /// The spring of a stride, or nothing where the model does not hold: a
    /// value that is not positive, or a half contact that carries the body
    /// further than the leg is long (v·tc/2 ≥ L).
    #[must_use]
    pub fn of(stride: Stride) -> Option<Self> {
        let Stride { mass_kg, speed_m_s, leg_m, contact_s, flight_s } = stride;
        let positive =
            [mass_kg, leg_m, contact_s, flight_s].iter().all(|value| value.is_finite() && *value > 0.0);
        let half_way = speed_m_s * contact_s / 2.0;
        if !positive || !(0.0..leg_m).contains(&half_way) {
            return None;
        }
        let peak_n = mass_kg * G * FRAC_PI_2 * (flight_s / contact_s + 1.0);
        let squared = contact_s * contact_s;
        let sinking_m = peak_n * squared / (mass_kg * PI * PI) - G * squared / 8.0;
        let shortening_m = leg_m - (leg_m * leg_m - half_way * half_way).sqrt() + sinking_m;
        Some(Self {
            peak_n,
            sinking_m,
            vertical_n_m: peak_n / sinking_m,
            shortening_m,
            leg_n_m: peak_n / shortening_m,
        })
    }
}

/// Stiffness of hopping on the spot, N/m:
/// k = m·π(tf + tc)/(tc²[(tf + tc)/π − tc/4]).
///
/// Dalleau et al. 2004, Int J Sports Med 25:170–176; algebraically the
/// vertical stiffness of [`SpringMass`]. Kilograms and seconds above zero.
#[must_use]
pub fn hopping_stiffness(mass_kg: f64, contact_s: f64, flight_s: f64) -> f64 {
    let period = flight_s + contact_s;
    mass_kg * PI * period / (contact_s * contact_s * (period / PI - contact_s / 4.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    const STRIDE: Stride =
        Stride { mass_kg: 70.0, speed_m_s: 8.0, leg_m: 0.95, contact_s: 0.11, flight_s: 0.12 };

    #[test]
    fn a_leg_cannot_reach_further_than_its_length() {
        assert!(SpringMass::of(STRIDE).is_some());
        let long = Stride { contact_s: 0.24, ..STRIDE };
        assert_eq!(SpringMass::of(long), None);
    }

    #[test]
    fn values_outside_the_model_give_nothing() {
        for stride in [
            Stride { mass_kg: 0.0, ..STRIDE },
            Stride { contact_s: f64::NAN, ..STRIDE },
            Stride { flight_s: -0.1, ..STRIDE },
            Stride { speed_m_s: -1.0, ..STRIDE },
        ] {
            assert_eq!(SpringMass::of(stride), None, "{stride:?}");
        }
    }

    #[test]
    fn on_the_spot_leg_and_vertical_stiffness_are_one() {
        let spot = SpringMass::of(Stride { speed_m_s: 0.0, ..STRIDE }).expect("within the model");
        assert!((spot.leg_n_m - spot.vertical_n_m).abs() < 1e-6);
    }
}
