//! Mean force over a contact, and what contact and flight times tell.
//!
//! Forces are of the whole body, in body weights (BW), unless a name says
//! otherwise. A mean force is fixed by the times and speeds; an impact peak
//! is not, and nothing here predicts one: the step of a triple jump peaks at
//! 15.2 BW (Perttunen et al. 2000) where the times alone give near 6.

use std::f64::consts::FRAC_PI_2;

use super::ballistics::flight_height;
use super::constants::G;

/// Mean vertical force over a contact, BW: F̄ = 1 + (v_down + v_up)/(g·tc).
///
/// Momentum balance; Weyand et al. 2000, J Appl Physiol 89:1991–1999 for the
/// case of level flights. Speeds in m/s, both counted positive; `contact_s`
/// above zero.
#[must_use]
pub fn mean_force_bw(down_m_s: f64, up_m_s: f64, contact_s: f64) -> f64 {
    1.0 + (down_m_s + up_m_s) / (G * contact_s)
}

/// Mean vertical force of a contact between two level flights, BW:
/// F̄ = 1 + (tf₁ + tf₂)/(2·tc).
///
/// Weyand et al. 2000, J Appl Physiol 89:1991–1999, restated in Clark 2022,
/// Appl Sci 12(16):8289. Times in seconds, `contact_s` above zero.
#[must_use]
pub fn mean_force_from_flights_bw(before_s: f64, after_s: f64, contact_s: f64) -> f64 {
    1.0 + (before_s + after_s) / (2.0 * contact_s)
}

/// From weights of the whole system (athlete and outside load) to body
/// weights: × (m + M)/m. Both masses in one unit, the body's above zero.
#[must_use]
pub fn system_to_body_weights(system_weights: f64, body_mass: f64, added_mass: f64) -> f64 {
    system_weights * (body_mass + added_mass) / body_mass
}

/// Peak force of a half sine with the given mean, whatever the unit:
/// (π/2)·F̄. An estimate without the impact spike.
///
/// The half sine is the assumption of Morin et al. 2005, J Appl Biomech
/// 21:167–180.
#[must_use]
pub fn peak_from_mean(mean_force: f64) -> f64 {
    FRAC_PI_2 * mean_force
}

/// Reactive strength index, m/s: height of the flight over contact time.
/// Never to be shown without both beside it.
///
/// Young 1995; Flanagan & Comyns 2008, Strength Cond J 30(5):32–38.
#[must_use]
pub fn reactive_strength(flight_s: f64, contact_s: f64) -> f64 {
    flight_height(flight_s) / contact_s
}

/// Flight over contact time, without a unit.
///
/// Healy, Kenny & Harrison 2017, Int J Sports Physiol Perform, doi
/// 10.1123/ijspp.2017-0511.
#[must_use]
pub fn flight_contact_ratio(flight_s: f64, contact_s: f64) -> f64 {
    flight_s / contact_s
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::ballistics::level_speed;

    #[test]
    fn both_forms_of_the_mean_force_agree_on_level_flights() {
        let speeds = mean_force_bw(level_speed(0.45), level_speed(0.40), 0.157);
        let times = mean_force_from_flights_bw(0.45, 0.40, 0.157);
        assert!((speeds - times).abs() < 1e-12);
    }

    #[test]
    fn standing_still_is_one_body_weight() {
        assert_eq!(mean_force_bw(0.0, 0.0, 0.5), 1.0);
    }

    #[test]
    fn an_outside_load_weighs_on_the_body() {
        // 70 kg with a 7 kg vest: a tenth more for the body.
        assert!((system_to_body_weights(2.0, 70.0, 7.0) - 2.2).abs() < 1e-12);
        assert_eq!(system_to_body_weights(2.0, 70.0, 0.0), 2.0);
    }
}
