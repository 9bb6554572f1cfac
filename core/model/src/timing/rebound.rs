//! Reactive strength of a contact and the flight after it.
//!
//! RSI = h/tc with h = g·tf²/8, in metres a second: Young 1995; Flanagan &
//! Comyns 2008, Strength Cond J 30(5):32–38 (values from memory); height from
//! flight: Bosco, Luhtanen & Komi 1983, Eur J Appl Physiol 50:273–282 (from
//! memory). Contact and flight share the reading of the toe-off: a late one
//! lengthens the contact and shortens the flight. Treating them as independent
//! understates the uncertainty.

use super::duration::{Scale, Timed, contact, flight};
use super::event::{Bracket, Event, TimingError};
use crate::load::{self, ballistics::flight_height};

/// Acceleration of free fall used throughout, m/s².
pub use crate::load::constants::G as GRAVITY;

/// Reactive strength with the parts of its uncertainty, all in m/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReactiveStrength {
    /// g·tf²/(8·tc).
    pub value: f64,
    /// The contact.
    pub contact: Timed,
    /// The flight after it.
    pub flight: Timed,
    /// Jump height from the flight, g·tf²/8, in metres: only where the body
    /// leaves and lands in the same posture.
    pub height: f64,
    /// Standard uncertainty of the frames alone.
    pub frame_u: f64,
    /// Standard uncertainty of the clock's scale: RSI grows as the scale does.
    pub clock_u: f64,
    /// Standard uncertainty of the judging by eye.
    pub judging_u: f64,
}

impl ReactiveStrength {
    /// Standard uncertainty of frames and clock.
    pub fn u(&self) -> f64 {
        self.frame_u.hypot(self.clock_u)
    }

    /// Standard uncertainty of frames, clock and judging.
    pub fn total_u(&self) -> f64 {
        self.u().hypot(self.judging_u)
    }
}

/// The covariance of a contact and the flight after it in s²: −w²/12, with w
/// the bracket of the toe-off that they share (at a steady rate −Δt²/12).
pub fn shared_covariance(toe_off: Bracket, scale: &Scale) -> f64 {
    -scale.seconds(toe_off.width()).powi(2) / 12.0
}

/// Reactive strength from three events: touchdown, toe-off, next touchdown.
///
/// Each event moves RSI by its own slope: −RSI·(−1/tc) at the touchdown,
/// −RSI·(2/tf + 1/tc) at the toe-off, RSI·2/tf at the landing. Summed over
/// the three brackets this is (u/RSI)² = 4(u_f/tf)² + (u_c/tc)² −
/// 4·cov(tc, tf)/(tf·tc).
///
/// # Errors
/// As for [`contact`] and [`flight`].
pub fn reactive_strength(
    touchdown: &Event,
    toe_off: &Event,
    landing: &Event,
    scale: &Scale,
) -> Result<ReactiveStrength, TimingError> {
    let on_ground = contact(touchdown, toe_off, scale)?;
    let in_air = flight(toe_off, landing, scale)?;
    let (tc, tf) = (on_ground.seconds, in_air.seconds);
    let height = flight_height(tf);
    let value = load::force::reactive_strength(tf, tc);
    let slopes =
        [(touchdown, value / tc), (toe_off, -value * (2.0 / tf + 1.0 / tc)), (landing, value * 2.0 / tf)];
    let combined = |u: &dyn Fn(&Event) -> f64| {
        slopes.iter().map(|(event, slope)| (slope * u(event)).powi(2)).sum::<f64>().sqrt()
    };
    Ok(ReactiveStrength {
        value,
        contact: on_ground,
        flight: in_air,
        height,
        frame_u: combined(&|event| scale.seconds(event.bracket.width()) / 12_f64.sqrt()),
        clock_u: scale.clock_u * value,
        judging_u: combined(&|event| scale.judging_u(event)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clip::Pace;
    use crate::timing::{EventKind, Foot};

    #[test]
    fn three_slopes_equal_two_durations_with_their_covariance() {
        let event = |kind, before, after| Event {
            foot: Foot::Both,
            kind,
            bracket: Bracket::new(before, after).unwrap(),
            doubted: false,
        };
        // Unequal brackets, so that each enters with its own width.
        let on = event(EventKind::Touchdown, 0, 5);
        let off = event(EventKind::ToeOff, 250, 253);
        let land = event(EventKind::Touchdown, 700, 711);
        let scale = Scale::new(Pace::new(1, 1000).unwrap(), 4);
        let rsi = reactive_strength(&on, &off, &land, &scale).unwrap();
        let (tc, tf) = (rsi.contact.seconds, rsi.flight.seconds);
        let relative = 4.0 * (rsi.flight.frame_u / tf).powi(2) + (rsi.contact.frame_u / tc).powi(2)
            - 4.0 * shared_covariance(off.bracket, &scale) / (tf * tc);
        assert!((rsi.frame_u / rsi.value - relative.sqrt()).abs() < 1e-12);
        assert!((rsi.clock_u / rsi.value - 0.001).abs() < 1e-12);
        assert!((rsi.height - GRAVITY * tf * tf / 8.0).abs() < 1e-15);
    }
}
