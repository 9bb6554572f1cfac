//! The contacts of one set in order → whether they lengthen.
//!
//! A straight line through contact time over contact number, by least squares. Its
//! interval comes from the scatter about the line (Student's t, n − 2 degrees of
//! freedom) and so holds the frames, the ticks and the athlete; a judge who leans one
//! way lifts all contacts alike and the slope not at all; the clock's scale turns it
//! by its own relative share, which is added.

use super::decision::student_97_5;
use super::duration::{NORMAL_95, Timed};

/// The least contacts for a slope with an interval.
pub const LEAST_CONTACTS: usize = 3;

/// How contact time changes from contact to contact in one set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lengthening {
    /// Seconds a contact.
    pub slope: f64,
    /// The 95 % half-width of the slope.
    pub half_width_95: f64,
    /// The smallest slope that this camera can show over so many contacts, 95 %:
    /// from frames, ticks and judging alone.
    pub camera_least: f64,
    /// The contacts it comes from.
    pub contacts: usize,
}

/// What may be said of a slope.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// The contacts lengthen.
    Longer,
    /// The contacts shorten.
    Shorter,
    /// The interval holds zero.
    NeitherShown,
    /// The slope is smaller than what this camera can show.
    NotByThisCamera,
}

impl Lengthening {
    /// From the first contact to the last, in seconds.
    #[must_use]
    pub fn over_the_set(&self) -> f64 {
        self.slope * (self.contacts.saturating_sub(1)) as f64
    }

    /// What may be said of it.
    #[must_use]
    pub fn direction(&self) -> Direction {
        if self.slope.abs() < self.camera_least {
            Direction::NotByThisCamera
        } else if self.slope.abs() <= self.half_width_95 {
            Direction::NeitherShown
        } else if self.slope > 0.0 {
            Direction::Longer
        } else {
            Direction::Shorter
        }
    }
}

/// The slope over the contacts of one set in order; `None` of fewer than
/// [`LEAST_CONTACTS`].
///
/// For what the camera can show, the judging of each contact counts as independent of
/// the others': a judge who leans one way does better than that.
#[must_use]
pub fn lengthening(contacts: &[Timed]) -> Option<Lengthening> {
    if contacts.len() < LEAST_CONTACTS {
        return None;
    }
    let count = contacts.len() as f64;
    let middle = (count - 1.0) / 2.0;
    let mean = contacts.iter().map(|contact| contact.seconds).sum::<f64>() / count;
    let about_middle =
        || contacts.iter().enumerate().map(|(place, contact)| (place as f64 - middle, contact));
    let width: f64 = about_middle().map(|(x, _)| x * x).sum();
    let slope = about_middle().map(|(x, contact)| x * (contact.seconds - mean)).sum::<f64>() / width;
    let scatter: f64 =
        about_middle().map(|(x, contact)| (contact.seconds - mean - slope * x).powi(2)).sum::<f64>();
    let slope_u = (scatter / (count - 2.0) / width).sqrt();
    let clock = contacts.iter().map(|contact| contact.clock_u).sum::<f64>() / (count * mean);
    let clock = if clock.is_finite() { NORMAL_95 * clock * slope.abs() } else { 0.0 };
    let camera_u = about_middle()
        .map(|(x, contact)| (x * contact.frame_u.hypot(contact.tick_u).hypot(contact.judging_u)).powi(2))
        .sum::<f64>()
        .sqrt()
        / width;
    Some(Lengthening {
        slope,
        half_width_95: (student_97_5(contacts.len() - 2)? * slope_u).hypot(clock),
        camera_least: NORMAL_95 * camera_u,
        contacts: contacts.len(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn contact(seconds: f64, u: f64) -> Timed {
        Timed {
            seconds,
            frame_u: u,
            frame_half_width_95: 2.0 * u,
            frame_bound: 2.0 * u,
            tick_u: 0.0,
            clock_u: 0.0,
            judging_u: 0.0,
        }
    }

    #[test]
    fn a_line_comes_back() {
        let set: Vec<Timed> = (0..8).map(|n| contact(0.150 + 0.002 * f64::from(n), 0.0017)).collect();
        let found = lengthening(&set).unwrap();
        assert!((found.slope - 0.002).abs() < 1e-12 && found.half_width_95 < 1e-9);
        assert!((found.over_the_set() - 0.014).abs() < 1e-12);
        // Σ(x − 3.5)² = 42: 1.96 · 1.7 / √42 = 0.514 ms a contact.
        assert!((found.camera_least - NORMAL_95 * 0.0017 / 42_f64.sqrt()).abs() < 1e-12);
        assert_eq!(found.direction(), Direction::Longer);
        let back: Vec<Timed> = set.iter().rev().copied().collect();
        assert_eq!(lengthening(&back).unwrap().direction(), Direction::Shorter);
        let coarse: Vec<Timed> = set.iter().map(|one| contact(one.seconds, 0.0136)).collect();
        assert_eq!(lengthening(&coarse).unwrap().direction(), Direction::NotByThisCamera);
        assert_eq!(lengthening(&set[..2]), None);
    }

    #[test]
    fn scatter_hides_a_slope() {
        let times = [0.150, 0.162, 0.148, 0.165, 0.151, 0.166];
        let set: Vec<Timed> = times.iter().map(|seconds| contact(*seconds, 0.0001)).collect();
        let found = lengthening(&set).unwrap();
        assert_eq!(found.direction(), Direction::NeitherShown);
        // The clock's share turns the slope, it does not lift it.
        let clocked: Vec<Timed> =
            set.iter().map(|one| Timed { clock_u: 0.1 * one.seconds, ..*one }).collect();
        assert!(lengthening(&clocked).unwrap().half_width_95 > found.half_width_95);
    }
}
