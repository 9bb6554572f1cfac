//! Reactive strength of a contact and the flight after it.
//!
//! RSI = h/tc with h = g·tf²/8, in metres a second: Young 1995; Flanagan &
//! Comyns 2008, Strength Cond J 30(5):32–38 (values from memory); height from
//! flight: Bosco, Luhtanen & Komi 1983, Eur J Appl Physiol 50:273–282 (from
//! memory). Contact and flight share the reading of the toe-off: a late one
//! lengthens the contact and shortens the flight. Treating them as independent
//! understates the uncertainty.

use super::duration::{NORMAL_95, Scale, Timed, contact, flight, mean};
use super::event::{Bracket, Event, Foot, TimingError};
use super::moves::{Moves, Stance};
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
    /// Standard uncertainty of times that were rounded to ticks.
    pub tick_u: f64,
    /// Standard uncertainty of the clock's scale: RSI grows as the scale does.
    pub clock_u: f64,
    /// Standard uncertainty of the judging by eye.
    pub judging_u: f64,
}

impl ReactiveStrength {
    /// Standard uncertainty of frames, ticks and clock.
    pub fn u(&self) -> f64 {
        self.frame_u.hypot(self.tick_u).hypot(self.clock_u)
    }

    /// Standard uncertainty of frames, ticks, clock and judging.
    pub fn total_u(&self) -> f64 {
        self.u().hypot(self.judging_u)
    }

    /// 95 % half-width of frames, ticks, clock and judging: 1.96 × the total.
    pub fn total_half_width_95(&self) -> f64 {
        NORMAL_95 * self.total_u()
    }
}

/// A contact between two flights: its events' numbers in the take, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rebound {
    /// The first touchdown.
    pub touchdown: usize,
    /// The last toe-off.
    pub toe_off: usize,
    /// The first touchdown after the flight.
    pub landing: usize,
}

/// The rebounds of a take: its stances with a flight before and one after them. The
/// flight before the first stance is not in the take; `dropped` says that there was
/// one all the same, off a box.
#[must_use]
pub fn rebounds(moves: &Moves, dropped: bool) -> Vec<Rebound> {
    let pairs = moves.stances.windows(2).skip(usize::from(!dropped));
    let rebound = |pair: &[Stance]| {
        let [stance, next] = pair else { return None };
        Some(Rebound { touchdown: stance.touchdown, toe_off: stance.toe_off?, landing: next.touchdown })
    };
    pairs.filter_map(rebound).collect()
}

/// The covariance of a contact and the flight after it in s²: −w²/12, with w
/// the bracket of the toe-off that they share (at a steady rate −Δt²/12).
pub fn shared_covariance(toe_off: Bracket, scale: &Scale) -> f64 {
    -scale.seconds(toe_off.width()).powi(2) / 12.0
}

/// What rounding to ticks makes of one event: the mean of two stamps, each off by up to
/// half a tick, has q²/24.
fn event_tick_u(scale: &Scale) -> f64 {
    scale.tick() / 24_f64.sqrt()
}

/// What a second's delay of the touchdown, the toe-off and the landing does to RSI.
fn slopes(value: f64, contact: f64, flight: f64) -> [f64; 3] {
    [value / contact, -value * (2.0 / flight + 1.0 / contact), value * 2.0 / flight]
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
    let slopes = slopes(value, tc, tf);
    let combined = |u: &dyn Fn(&Event) -> f64| {
        let events = [touchdown, toe_off, landing];
        events.iter().zip(slopes).map(|(event, slope)| (slope * u(event)).powi(2)).sum::<f64>().sqrt()
    };
    Ok(ReactiveStrength {
        value,
        contact: on_ground,
        flight: in_air,
        height,
        frame_u: combined(&|event| scale.seconds(event.bracket.width()) / 12_f64.sqrt()),
        tick_u: combined(&|_| event_tick_u(scale)),
        clock_u: scale.clock_u * value,
        judging_u: combined(&|event| scale.judging_u(event)),
    })
}

/// The mean reactive strength of several rebounds of one take, with the means of their
/// contacts, flights and heights; `None` where there are none.
///
/// The landing of one rebound is the touchdown of the next, so each event moves the
/// mean by the sum of its slopes in both, and the frame part comes from these. What
/// the clock and the judging add does not shrink, as with [`mean`].
///
/// # Errors
/// As for [`reactive_strength`].
pub fn mean_reactive_strength(
    rebounds: &[Rebound],
    events: &[Event],
    scale: &Scale,
) -> Result<Option<ReactiveStrength>, TimingError> {
    // Of both feet the first touchdown and the last toe-off count.
    let both = |at: usize| events.get(at).map(|event| Event { foot: Foot::Both, ..*event });
    let mut sums = vec![0.0; events.len()];
    let mut found = Vec::new();
    for rebound in rebounds {
        let places = [rebound.touchdown, rebound.toe_off, rebound.landing];
        let [Some(touchdown), Some(toe_off), Some(landing)] = places.map(both) else { continue };
        let one = reactive_strength(&touchdown, &toe_off, &landing, scale)?;
        let slopes = slopes(one.value, one.contact.seconds, one.flight.seconds);
        for (place, slope) in places.into_iter().zip(slopes) {
            if let Some(sum) = sums.get_mut(place) {
                *sum += slope;
            }
        }
        found.push(one);
    }
    let count = found.len() as f64;
    let average = |part: fn(&ReactiveStrength) -> f64| found.iter().map(part).sum::<f64>() / count;
    let timed = |part: fn(&ReactiveStrength) -> Timed| mean(&found.iter().map(part).collect::<Vec<_>>());
    let (Some(contact), Some(flight)) = (timed(|one| one.contact), timed(|one| one.flight)) else {
        return Ok(None);
    };
    let summed = |u: &dyn Fn(&Event) -> f64| {
        let moved = events.iter().zip(&sums).map(|(event, slope)| (slope / count * u(event)).powi(2));
        moved.sum::<f64>().sqrt()
    };
    Ok(Some(ReactiveStrength {
        value: average(|one| one.value),
        contact,
        flight,
        height: average(|one| one.height),
        frame_u: summed(&|event| scale.seconds(event.bracket.width()) / 12_f64.sqrt()),
        tick_u: summed(&|_| event_tick_u(scale)),
        clock_u: average(|one| one.clock_u),
        judging_u: average(|one| one.judging_u),
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clip::Pace;
    use crate::timing::{EventKind, Take};

    /// On 600 ticks a second each stamp is off by up to half a tick.
    #[test]
    fn rounding_to_ticks_has_its_part() {
        let at = |tick: i64, kind| Event {
            foot: Foot::Both,
            kind,
            bracket: Bracket::new(tick - 3, tick).unwrap(),
            doubted: false,
        };
        let [on, off, next] =
            [at(100, EventKind::Touchdown), at(220, EventKind::ToeOff), at(520, EventKind::Touchdown)];
        let plain = Scale::new(Pace::new(1, 600).unwrap(), 3);
        let of = |scale: &Scale| reactive_strength(&on, &off, &next, scale).unwrap();
        let (exact, rounded) = (of(&plain), of(&Scale { rounded: true, ..plain }));
        assert!(exact.tick_u == 0.0 && rounded.total_u() > exact.total_u());
        // Contact 0.2 s, flight 0.5 s: RSI 1.532 m/s; slopes 1/tc, 2/tf + 1/tc, 2/tf of it.
        let slopes = (5.0_f64.powi(2) + 9.0_f64.powi(2) + 4.0_f64.powi(2)).sqrt() * rounded.value;
        assert!((rounded.tick_u - slopes / 600.0 / 24_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn a_mean_counts_the_landing_that_two_rebounds_share_once() {
        let kinds = [EventKind::Touchdown, EventKind::ToeOff];
        let at = |ticks: &[i64]| -> Vec<Event> {
            let event = |(ticks, kind): (&i64, EventKind)| Event {
                foot: Foot::Both,
                kind,
                bracket: Bracket::new(ticks - 2, ticks + 2).unwrap(),
                doubted: false,
            };
            ticks.iter().zip(kinds.into_iter().cycle()).map(event).collect()
        };
        let ticks = [0, 200, 700, 890, 1400, 1610, 2100];
        let scale = Scale::new(Pace::new(1, 1000).unwrap(), 4);
        let strength = |ticks: &[i64], dropped| {
            let events = at(ticks);
            let moves = Moves::of(&Take::read(&events, &scale).unwrap(), &events, &scale).unwrap();
            let rebounds = rebounds(&moves, dropped);
            (rebounds.len(), mean_reactive_strength(&rebounds, &events, &scale).unwrap())
        };
        // Without a box nothing says that the first contact was landed on.
        assert_eq!((strength(&ticks, false).0, strength(&ticks, true).0), (2, 3));
        let whole = strength(&ticks, true).1.unwrap();
        let events = at(&ticks);
        let single = |first: usize| {
            reactive_strength(&events[first], &events[first + 1], &events[first + 2], &scale).unwrap()
        };
        let values = [0, 2, 4].map(|first| single(first).value);
        assert!((whole.value - values.iter().sum::<f64>() / 3.0).abs() < 1e-12);
        assert!((whole.contact.seconds - 0.2).abs() < 1e-12);
        // By the differences when each event is moved by a tick either way.
        let square: f64 = (0..ticks.len())
            .map(|place| {
                let moved = |by: i64| {
                    let mut other = ticks;
                    other[place] += by;
                    strength(&other, true).1.unwrap().value
                };
                ((moved(1) - moved(-1)) / 2.0 * 4.0 / 12_f64.sqrt()).powi(2)
            })
            .sum();
        assert!((whole.frame_u / square.sqrt() - 1.0).abs() < 1e-3, "{} {}", whole.frame_u, square.sqrt());
        let apart = [0, 2, 4].map(|first| single(first).frame_u.powi(2)).iter().sum::<f64>().sqrt() / 3.0;
        assert!(whole.frame_u > 1.05 * apart, "as if independent it is too small: {apart}");
        assert_eq!(strength(&ticks[..2], true), (0, None));
    }

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
