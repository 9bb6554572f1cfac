//! Falls and flights of the body's centre, air ignored.

use super::constants::G;

/// Speed after a fall of `height_m`, m/s: v = √(2gH). Constant acceleration.
///
/// A height below zero is taken as none. The height of a box is not quite the
/// height fallen: McMahon et al. 2021, Biomechanics 1(2):178–189.
#[must_use]
pub fn fall_speed(height_m: f64) -> f64 {
    (2.0 * G * height_m.max(0.0)).sqrt()
}

/// The fall that gives `speed_m_s`, m: H = v²/2g.
#[must_use]
pub fn fall_height(speed_m_s: f64) -> f64 {
    speed_m_s * speed_m_s / (2.0 * G)
}

/// Height of a flight that ends at the height it began, m: h = g·tf²/8.
///
/// Bosco, Luhtanen & Komi 1983, Eur J Appl Physiol 50:273–282.
#[must_use]
pub fn flight_height(flight_s: f64) -> f64 {
    G * flight_s * flight_s / 8.0
}

/// The level flight that is `height_m` high, s: tf = √(8h/g), [`flight_height`] turned round.
#[must_use]
pub fn flight_of(height_m: f64) -> f64 {
    (8.0 * height_m.max(0.0) / G).sqrt()
}

/// Vertical speeds at both ends of a flight, m/s, both counted positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlightSpeeds {
    /// Upward speed at toe-off.
    pub up: f64,
    /// Downward speed at the touchdown that ends the flight.
    pub down: f64,
}

impl FlightSpeeds {
    /// Speeds of a flight of `flight_s` over which the body's centre rises by
    /// `rise_m` (touchdown minus toe-off; negative when it lands lower):
    /// v_up = g·tf/2 + Δh/tf, v_down = g·tf/2 − Δh/tf. Constant acceleration.
    ///
    /// `flight_s` is above zero. A speed may come out negative where the rise
    /// cannot be flown in that time upward and down again.
    #[must_use]
    pub fn over(flight_s: f64, rise_m: f64) -> Self {
        let level = G * flight_s / 2.0;
        Self { up: level + rise_m / flight_s, down: level - rise_m / flight_s }
    }
}

/// Vertical speed at either end of a level flight, m/s: g·tf/2.
#[must_use]
pub fn level_speed(flight_s: f64) -> f64 {
    G * flight_s / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fall_and_its_height_are_one_relation() {
        for height in [0.05, 0.3, 0.9] {
            assert!((fall_height(fall_speed(height)) - height).abs() < 1e-12);
        }
        assert_eq!(fall_speed(-0.1), 0.0);
    }

    #[test]
    fn a_level_flight_is_the_unequal_one_without_a_rise() {
        let speeds = FlightSpeeds::over(0.45, 0.0);
        assert_eq!(speeds.up, level_speed(0.45));
        assert_eq!(speeds.down, level_speed(0.45));
        // Rising through the flight height takes half of the flight.
        assert!((fall_height(level_speed(0.45)) - flight_height(0.45)).abs() < 1e-12);
    }

    #[test]
    fn unequal_flights_keep_the_energy_of_the_rise() {
        let speeds = FlightSpeeds::over(0.45, -0.10);
        let gained = fall_height(speeds.down) - fall_height(speeds.up);
        assert!((gained - 0.10).abs() < 1e-12);
    }
}
