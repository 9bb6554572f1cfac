//! Timed durations → what may be said of them: below a target or not, two apart or
//! not, changed or not, and what would tell where this camera cannot.
//!
//! A duration is taken as normal with its total standard uncertainty. Something is
//! said where its probability is at least [`SURE`], that is, where the value lies
//! beyond a guard band of 1.645·u: JCGM 106:2012, guarded acceptance and guarded
//! rejection (8.3; clause number from memory). Between the two lies "can't tell",
//! which is an answer.

use statrs::distribution::{ContinuousCDF, Normal, StudentsT};

use super::duration::{NORMAL_95, Timed};

/// The probability from which something is said.
pub const SURE: f64 = 0.95;

/// The one-sided normal quantile of [`SURE`].
const NORMAL_SURE: f64 = 1.644_853_626_951_472_2;

/// Frame rates that phones offer, a second.
const FRAME_RATES: [f64; 6] = [30.0, 60.0, 120.0, 240.0, 480.0, 960.0];

/// The most contacts that are proposed.
const MOST_CONTACTS: u32 = 100;

/// Days from which an athlete's own spread is known well enough to be used.
pub const DAYS_FOR_SPREAD: usize = 3;

/// An answer with its doubt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Yes, with probability of at least [`SURE`].
    Yes,
    /// No, with probability of at least [`SURE`].
    No,
    /// This camera cannot tell.
    CannotTell,
}

impl Answer {
    fn from(probability: f64) -> Self {
        if probability >= SURE {
            Self::Yes
        } else if probability <= 1.0 - SURE {
            Self::No
        } else {
            Self::CannotTell
        }
    }
}

/// Whether a duration is below a target.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Below {
    /// The probability that the true duration is below it.
    pub probability: f64,
    /// What may be said.
    pub answer: Answer,
    /// What would tell, where this cannot.
    pub would_tell: WouldTell,
}

/// What would tell where a camera cannot. Both are empty where it can, and where
/// nothing proposed would.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WouldTell {
    /// The lowest usual frame rate, a second, at which as many contacts would.
    pub frames_a_second: Option<f64>,
    /// The number of contacts, at this frame rate, that would.
    pub contacts: Option<u32>,
}

/// Whether a duration is below `target` seconds. `frame` is one frame in real
/// seconds, `contacts` how many it is the mean of; both serve to say what would tell.
///
/// The parts of frames, ticks and judging shrink with a faster camera, only those of
/// frames and ticks with more contacts; the clock's stays.
#[must_use]
pub fn below(timed: &Timed, target: f64, frame: f64, contacts: u32) -> Below {
    let probability = share_below((target - timed.seconds) / timed.total_u());
    let answer = Answer::from(probability);
    let mut would_tell = WouldTell::default();
    if answer == Answer::CannotTell {
        let needed = (target - timed.seconds).abs() / NORMAL_SURE;
        let tells = |frames: f64, judging: f64| frames.hypot(judging).hypot(timed.clock_u) <= needed;
        would_tell.frames_a_second = FRAME_RATES.into_iter().find(|rate| {
            let finer = 1.0 / (rate * frame);
            finer < 0.99 && tells(timed.frame_u.hypot(timed.tick_u) * finer, timed.judging_u * finer)
        });
        would_tell.contacts = (contacts + 1..=MOST_CONTACTS).find(|n| {
            let shrink = (f64::from(contacts.max(1)) / f64::from(*n)).sqrt();
            tells(timed.frame_u.hypot(timed.tick_u) * shrink, timed.judging_u)
        });
    }
    Below { probability, answer, would_tell }
}

/// Whether one duration is shorter than another: the probability, and what may be
/// said. The two are taken as independent, their judging too.
#[must_use]
pub fn shorter(one: &Timed, other: &Timed) -> (f64, Answer) {
    let probability = share_below((other.seconds - one.seconds) / one.total_u().hypot(other.total_u()));
    (probability, Answer::from(probability))
}

/// What lies between two days' means of one exercise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// The later less the earlier, in seconds.
    pub seconds: f64,
    /// The smallest change that this camera can show between the two days:
    /// 1.96·√(u₁² + u₂²).
    pub camera_least: f64,
    /// The smallest change beyond the athlete's own spread from day to day; `None`
    /// before [`DAYS_FOR_SPREAD`] days are there.
    pub own_least: Option<f64>,
}

/// What may be said of a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// Too small for this camera.
    NotByThisCamera,
    /// The camera sees it; whether it is more than this athlete's own spread is not
    /// known yet.
    SpreadUnknown,
    /// The camera sees it, and it is within the athlete's own spread.
    WithinSpread,
    /// Beyond the athlete's own spread.
    Beyond,
}

impl Change {
    /// What may be said of it.
    #[must_use]
    pub fn seen(&self) -> Seen {
        let size = self.seconds.abs();
        match self.own_least {
            _ if size < self.camera_least => Seen::NotByThisCamera,
            None => Seen::SpreadUnknown,
            Some(own) if size < own => Seen::WithinSpread,
            Some(_) => Seen::Beyond,
        }
    }
}

/// The change from one day's mean to another's. `days` are the means of all days that
/// count for the athlete's own spread, in seconds.
///
/// With n of them and their standard deviation s, a difference of two days lies
/// within ±t(97.5 %, n − 1)·√2·s in 95 of 100 cases; s holds the camera's part too. The
/// larger of this and the camera's own is the smallest change beyond the spread.
#[must_use]
pub fn change(earlier: &Timed, later: &Timed, days: &[f64]) -> Change {
    let camera_least = NORMAL_95 * earlier.total_u().hypot(later.total_u());
    let own_least = (days.len() >= DAYS_FOR_SPREAD)
        .then(|| Some(student_97_5(days.len() - 1)? * 2_f64.sqrt() * spread(days)?))
        .flatten()
        .map(|own| own.max(camera_least));
    Change { seconds: later.seconds - earlier.seconds, camera_least, own_least }
}

/// The standard normal distribution up to `z`.
fn share_below(z: f64) -> f64 {
    if z.is_nan() { 0.5 } else { Normal::standard().cdf(z) }
}

/// The 97.5 % quantile of Student's t; `None` without degrees of freedom.
pub(super) fn student_97_5(freedom: usize) -> Option<f64> {
    StudentsT::new(0.0, 1.0, freedom as f64).ok().map(|t| t.inverse_cdf(0.975))
}

/// The sample standard deviation; `None` of fewer than two.
pub(super) fn spread(values: &[f64]) -> Option<f64> {
    if values.len() < 2 {
        return None;
    }
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    Some((values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A contact at a frame rate with the default judging and clock.
    fn at(rate: f64, seconds: f64) -> Timed {
        let frame = 1.0 / rate;
        Timed {
            seconds,
            frame_u: frame / 6_f64.sqrt(),
            frame_half_width_95: frame * (1.0 - 0.05_f64.sqrt()),
            frame_bound: frame,
            tick_u: 0.0,
            clock_u: 0.001 * seconds,
            judging_u: (2.0 / 3.0_f64).sqrt() * frame,
        }
    }

    #[test]
    fn what_cannot_be_told_says_what_would_tell() {
        let contact = at(120.0, 0.089);
        let said = below(&contact, 0.1, 1.0 / 120.0, 1);
        assert_eq!(said.answer, Answer::CannotTell);
        assert_eq!(said.would_tell.frames_a_second, Some(240.0));
        // Judging alone is 6.80 ms: 11 / 1.645 = 6.69 is less, whatever the number.
        assert_eq!(said.would_tell.contacts, None);
        // With a judging of half a frame more contacts do.
        let careful = Timed { judging_u: contact.judging_u / 2.0, seconds: 0.0938, ..contact };
        let said = below(&careful, 0.1, 1.0 / 120.0, 1);
        let many = said.would_tell.contacts.expect("a number");
        let mean = |n: u32| Timed { frame_u: careful.frame_u / f64::from(n).sqrt(), ..careful };
        assert_eq!(below(&mean(many), 0.1, 1.0 / 120.0, many).answer, Answer::Yes);
        assert_eq!(below(&mean(many - 1), 0.1, 1.0 / 120.0, many - 1).answer, Answer::CannotTell);
        // On the target itself nothing tells.
        assert_eq!(below(&at(240.0, 0.1), 0.1, 1.0 / 240.0, 1).would_tell, WouldTell::default());
        let over = below(&at(240.0, 0.12), 0.1, 1.0 / 240.0, 1);
        assert_eq!((over.answer, over.would_tell), (Answer::No, WouldTell::default()));
    }

    #[test]
    fn a_change_is_held_against_camera_and_spread() {
        let (one, other) = (at(240.0, 0.160), at(240.0, 0.150));
        let two = change(&one, &other, &[0.160, 0.150]);
        assert!((two.seconds + 0.010).abs() < 1e-12);
        assert!((two.camera_least - NORMAL_95 * one.total_u().hypot(other.total_u())).abs() < 1e-15);
        assert_eq!((two.own_least, two.seen()), (None, Seen::NotByThisCamera));
        let more = change(&one, &at(240.0, 0.140), &[0.160, 0.140]);
        assert_eq!(more.seen(), Seen::SpreadUnknown);
        // t(97.5 %, 2) = 4.303; of 150, 152, 154 ms the standard deviation is 2 ms.
        let calm = change(&one, &at(240.0, 0.140), &[0.150, 0.152, 0.154]);
        let own = calm.own_least.expect("three days");
        assert!((own - 4.302_652_729_911_275 * 2_f64.sqrt() * 0.002).abs() < 1e-9, "{own}");
        assert_eq!(calm.seen(), Seen::Beyond);
        let restless = change(&one, &at(240.0, 0.140), &[0.140, 0.152, 0.164]);
        assert_eq!(restless.seen(), Seen::WithinSpread);
        // Days that are all alike do not make the camera better than it is.
        let alike = change(&one, &other, &[0.150; 5]);
        assert_eq!(alike.own_least, Some(alike.camera_least));
    }
}
