//! Two people timing the same contacts → how far they agree, and how far one person's
//! judging of an event is off.
//!
//! Bias and limits of agreement: Bland & Altman 1986, Lancet i:307–310. Two readings of
//! one event differ by the judging of both, so one person's part has the variance of
//! the differences halved; the frames have no part in it, since both saw the same.

use super::decision::spread;
use super::duration::NORMAL_95;
use super::event::{Event, TimingError};

/// The fewest events of which a squad's own judging is taken.
pub const LEAST_EVENTS: usize = 20;

/// How far two series of readings agree, in their unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Agreement {
    /// The pairs compared.
    pub pairs: usize,
    /// The mean of the first less the second.
    pub bias: f64,
    /// The standard deviation of the differences.
    pub spread: f64,
}

impl Agreement {
    /// Between what the differences lie in 95 of 100 pairs: bias ± 1.96 standard
    /// deviations. The worked example of 1986 rounds 1.96 to 2.
    #[must_use]
    pub fn limits(&self) -> (f64, f64) {
        (self.bias - NORMAL_95 * self.spread, self.bias + NORMAL_95 * self.spread)
    }
}

/// Compares pairs of readings; `None` of fewer than two pairs.
#[must_use]
pub fn agreement(pairs: &[(f64, f64)]) -> Option<Agreement> {
    let differences: Vec<f64> = pairs.iter().map(|(one, other)| one - other).collect();
    let bias = differences.iter().sum::<f64>() / differences.len() as f64;
    Some(Agreement { pairs: pairs.len(), bias, spread: spread(&differences)? })
}

/// The differences of two people's readings of one clip in ordinary frames, event by
/// event, first less second.
///
/// # Errors
/// [`TimingError::Unlike`] where the two do not have the same events: the number, or a
/// foot or kind.
pub fn differences(one: &[Event], other: &[Event], frame_ticks: i64) -> Result<Vec<f64>, TimingError> {
    if frame_ticks < 1 {
        return Err(TimingError::BadScale);
    }
    if one.len() != other.len() {
        return Err(TimingError::Unlike { index: one.len().min(other.len()) });
    }
    let pairs = one.iter().zip(other).enumerate();
    let difference = |(index, (a, b)): (usize, (&Event, &Event))| {
        if (a.foot, a.kind) != (b.foot, b.kind) {
            return Err(TimingError::Unlike { index });
        }
        // A midpoint is doubled, so that it is a whole number of ticks.
        let ticks = a.bracket.midpoint_doubled() - b.bracket.midpoint_doubled();
        Ok(ticks as f64 / (2.0 * frame_ticks as f64))
    };
    pairs.map(difference).collect()
}

/// The squad's own judging at one event as the half-width, in frames, of a uniform
/// error (√3·u, as [`Scale::judging_frames`](super::Scale) takes it), from the
/// differences of two people's readings of events; `None` of fewer than
/// [`LEAST_EVENTS`].
///
/// The root mean square of the differences and not their standard deviation: that one
/// person is always earlier than the other is judging too.
#[must_use]
pub fn judging_frames(differences: &[f64]) -> Option<f64> {
    if differences.len() < LEAST_EVENTS {
        return None;
    }
    let mean_square = differences.iter().map(|d| d * d).sum::<f64>() / differences.len() as f64;
    Some((3.0 * mean_square / 2.0).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::timing::{Bracket, EventKind, Foot};

    fn event(kind: EventKind, before: i64, after: i64) -> Event {
        Event { foot: Foot::Left, kind, bracket: Bracket::new(before, after).unwrap(), doubted: false }
    }

    #[test]
    fn readings_are_compared_event_by_event() {
        let one = [event(EventKind::Touchdown, 0, 4), event(EventKind::ToeOff, 40, 44)];
        let other = [event(EventKind::Touchdown, 4, 8), event(EventKind::ToeOff, 40, 48)];
        assert_eq!(differences(&one, &other, 4).unwrap(), [-1.0, -0.5]);
        assert_eq!(differences(&one, &other[..1], 4), Err(TimingError::Unlike { index: 1 }));
        let foot = [Event { foot: Foot::Right, ..one[0] }, one[1]];
        assert_eq!(differences(&foot, &one, 4), Err(TimingError::Unlike { index: 0 }));
        assert_eq!(differences(&one, &one, 0), Err(TimingError::BadScale));
    }

    #[test]
    fn a_squads_own_judging_comes_from_enough_events() {
        assert_eq!(judging_frames(&[1.0; LEAST_EVENTS - 1]), None);
        assert_eq!(judging_frames(&[0.0; LEAST_EVENTS]), Some(0.0));
        // Always one frame apart: half of the variance 1 is each one's, √3·√½.
        let apart = judging_frames(&[1.0; LEAST_EVENTS]).unwrap();
        assert!((apart - 1.5_f64.sqrt()).abs() < 1e-12);
        assert_eq!(agreement(&[(1.0, 2.0)]), None);
    }

    /// Two judges who are uniformly off by up to a frame give that frame back.
    #[test]
    fn the_default_judging_is_what_two_such_judges_would_give() {
        let steps = 400;
        let off = |n: i32| (f64::from(n) + 0.5) / f64::from(steps) * 2.0 - 1.0;
        let all: Vec<f64> = (0..steps).flat_map(|a| (0..steps).map(move |b| off(a) - off(b))).collect();
        assert!((judging_frames(&all).unwrap() - 1.0).abs() < 1e-4);
    }
}
