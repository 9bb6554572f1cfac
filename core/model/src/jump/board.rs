//! Where the toe was at take-off, and how far to shift the start mark.
//!
//! Every toe counts, those over the line too: leaving fouls out would move the mean back
//! and narrow the spread. Positions are millimetres from the foul line, positive over it.
//! They are taken as normal about their mean. What is computed holds as long as the
//! athlete spreads as before; who steers by the board on the last strides may take a
//! shift back, so watch the next jumps.

use core::ops::RangeInclusive;

use statrs::distribution::{ChiSquared, Continuous, ContinuousCDF, Normal, StudentsT};

use super::mean::{Mean, mean};
use crate::facts::{Jump, Outcome};

/// The least toes for a spread with an interval. Two would do; of two it is too wide to
/// say anything. Ours, no source.
pub const LEAST_TOES: usize = 3;

/// The toes of some attempts, from one and the same start mark.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Toes {
    /// Millimetres from the line, positive over it. Where start marks were written down,
    /// as they would have been from `start_mm`: a mark farther back takes the toe back.
    pub toes_mm: Vec<i32>,
    /// The start mark of the latest attempt that has one, millimetres before the line.
    pub start_mm: Option<u32>,
    /// Attempts that are left out as nobody wrote down where the toe was.
    pub without_toe: usize,
    /// Fouls among them: while there are any, the fouls are told too few.
    pub fouls_without_toe: usize,
    /// Attempts that are left out as they have no start mark while others have.
    pub without_start: usize,
    /// Toes over the line, as they were, of those taken.
    pub over: usize,
}

impl Toes {
    /// The toes of attempts, of which the last is the latest.
    pub fn of<'a>(jumps: impl IntoIterator<Item = &'a Jump>) -> Self {
        let mut found = Self::default();
        let mut placed: Vec<(i32, Option<u32>)> = Vec::new();
        for jump in jumps {
            match jump.toe_mm {
                Some(toe) => placed.push((toe, jump.start_mm)),
                None => {
                    found.without_toe += 1;
                    found.fouls_without_toe += usize::from(jump.outcome == Outcome::Foul);
                }
            }
        }
        found.start_mm = placed.iter().rev().find_map(|(_, start)| *start);
        for (toe, start) in placed {
            let moved = match (found.start_mm, start) {
                (None, _) => toe,
                // The farther back it began than the latest one, the farther back it ended.
                (Some(latest), Some(start)) => {
                    toe.saturating_add_unsigned(start).saturating_sub_unsigned(latest)
                }
                (Some(_), None) => {
                    found.without_start += 1;
                    continue;
                }
            };
            found.over += usize::from(toe > 0);
            found.toes_mm.push(moved);
        }
        found
    }

    /// Bias and spread; `None` of fewer than [`LEAST_TOES`].
    #[must_use]
    pub fn accuracy(&self) -> Option<Accuracy> {
        let Mean { count, mm, spread } = mean(&self.toes_mm)?;
        let spread = spread.filter(|_| count >= LEAST_TOES)?;
        let freedom = (count - 1) as f64;
        let chi = ChiSquared::new(freedom).ok()?;
        let bound = |share: f64| spread.sd_mm * (freedom / chi.inverse_cdf(share)).sqrt();
        Some(Accuracy {
            count,
            bias_mm: mm,
            bias_half_width_95_mm: spread.half_width_95_mm,
            sd_mm: spread.sd_mm,
            sd_95_mm: (bound(0.975), bound(0.025)),
        })
    }

    /// How far to shift the start mark, so that the share of toes over the line that is
    /// picked comes out.
    ///
    /// # Errors
    /// [`ShiftError`] where the share is none to aim at, or the toes are too few.
    pub fn shift(&self, foul_share: f64) -> Result<Shift, ShiftError> {
        if !SHARES.contains(&foul_share) {
            return Err(ShiftError::Share);
        }
        let too_few = ShiftError::TooFew { toes: self.toes_mm.len() };
        let accuracy = self.accuracy().ok_or(too_few)?;
        let z = Normal::standard().inverse_cdf(1.0 - foul_share);
        let freedom = accuracy.count - 1;
        let bound = |confidence| {
            accuracy.bias_mm + accuracy.sd_mm * quantile_factor(accuracy.count, foul_share, confidence)
        };
        let next = z / (1.0 + 1.0 / accuracy.count as f64).sqrt();
        let student = StudentsT::new(0.0, 1.0, freedom as f64).map_err(|_| too_few)?;
        Ok(Shift {
            foul_share,
            aim_mm: z * accuracy.sd_mm,
            back_mm: accuracy.bias_mm + z * accuracy.sd_mm,
            back_95_mm: (bound(0.025), bound(0.975)),
            next_foul_share: student.sf(next),
        })
    }
}

/// The shares of fouls that can be aimed at: one in a thousand to one in two.
/// Ours, no source.
pub const SHARES: RangeInclusive<f64> = 0.001..=0.5;

/// How near the line the toe comes, and how surely.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Accuracy {
    /// Toes.
    pub count: usize,
    /// Their mean position in millimetres, positive over the line.
    pub bias_mm: f64,
    /// Its 95 % half-width (Student's t).
    pub bias_half_width_95_mm: f64,
    /// Their standard deviation in millimetres, with n − 1.
    pub sd_mm: f64,
    /// Its 95 % interval: s·√((n − 1)/χ²), equal tails.
    pub sd_95_mm: (f64, f64),
}

/// A shift of the start mark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    /// The share of toes over the line that was picked.
    pub foul_share: f64,
    /// How far behind the line to aim: z·s, with z the normal quantile of 1 − share.
    pub aim_mm: f64,
    /// How far to move the start mark back, away from the pit; negative toward it. It is
    /// bias and aim together: the quantile of the toes that shall come to lie on the line.
    pub back_mm: f64,
    /// Its 95 % interval, equal tails: of a normal quantile, exact at any number of toes,
    /// x̄ + s·t′/√n with t′ the quantiles of the noncentral t of n − 1 degrees of freedom
    /// and noncentrality z·√n (as the factors of one-sided tolerance bounds).
    pub back_95_mm: (f64, f64),
    /// The share to be expected of the next toe after the shift, as mean and spread are
    /// only estimated: above `foul_share` at few toes. P(T > z/√(1 + 1/n)), n − 1 degrees of
    /// freedom.
    pub next_foul_share: f64,
}

/// Why there is no shift.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ShiftError {
    /// The share of fouls is none to aim at.
    #[error("a share of fouls to aim at is from 0.001 to 0.5")]
    Share,
    /// Too few toes.
    #[error("{toes} attempts have a toe position, {LEAST_TOES} are needed")]
    TooFew {
        /// How many there are.
        toes: usize,
    },
}

/// The factor k by which, of `count` values of a normal distribution, x̄ + k·s lies with
/// this confidence at or above the value that a share of `above` exceeds: the factor of a
/// one-sided tolerance bound, k = t′/√n, with t′ the quantile of the noncentral t of n − 1
/// degrees of freedom and noncentrality z·√n. Not a number of fewer than [`LEAST_TOES`]
/// values, and where a share or a confidence is none.
#[must_use]
pub fn quantile_factor(count: usize, above: f64, confidence: f64) -> f64 {
    let is_share = |share: f64| share > 0.0 && share < 1.0;
    if count < LEAST_TOES || !is_share(above) || !is_share(confidence) {
        return f64::NAN;
    }
    let root = (count as f64).sqrt();
    let z = Normal::standard().inverse_cdf(1.0 - above);
    noncentral_t_quantile(confidence, count - 1, z * root) / root
}

/// The noncentral t distribution up to `t`, for two degrees of freedom and more:
/// P((Z + δ)/Y ≤ t) = ∫ Φ(t·y − δ) f(y) dy, with Y² = χ²/ν. By Simpson's rule over twelve
/// standard deviations of Y about 1.
fn noncentral_t(t: f64, freedom: f64, delta: f64) -> f64 {
    const STEPS: u32 = 400;
    let Ok(chi) = ChiSquared::new(freedom) else { return f64::NAN };
    let reach = 12.0 / (2.0 * freedom).sqrt();
    let (from, to) = ((1.0 - reach).max(0.0), 1.0 + reach);
    let width = (to - from) / f64::from(STEPS);
    let normal = Normal::standard();
    let at = |step: u32| {
        let y = from + width * f64::from(step);
        normal.cdf(t * y - delta) * 2.0 * freedom * y * chi.pdf(freedom * y * y)
    };
    let inner: f64 = (1..STEPS).map(|step| at(step) * if step % 2 == 1 { 4.0 } else { 2.0 }).sum();
    (at(0) + inner + at(STEPS)) * width / 3.0
}

/// Where the search for a quantile ends.
const FARTHEST: f64 = 1e9;

/// A quantile of the noncentral t, by halving.
fn noncentral_t_quantile(share: f64, freedom: usize, delta: f64) -> f64 {
    let freedom = freedom as f64;
    let (mut low, mut high) = (-1.0, 1.0);
    // Twice as far each time; where there is no number, the comparison ends it.
    while noncentral_t(low, freedom, delta) > share && low > -FARTHEST {
        low *= 2.0;
    }
    while noncentral_t(high, freedom, delta) < share && high < FARTHEST {
        high *= 2.0;
    }
    // Below a billionth of the width at which it began.
    for _ in 0..48 {
        let middle = f64::midpoint(low, high);
        if noncentral_t(middle, freedom, delta) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::jump::history::tests::long;

    fn toes(toes_mm: &[i32]) -> Toes {
        Toes { toes_mm: toes_mm.to_vec(), ..Toes::default() }
    }

    #[test]
    fn fouls_count_and_start_marks_are_brought_to_the_latest() {
        let jump = |toe_mm, start_mm| Jump { toe_mm, start_mm, ..long(6_420) };
        let foul = |toe_mm| Jump { outcome: Outcome::Foul, ..jump(toe_mm, None) };
        let plain = Toes::of(&[jump(Some(-40), None), foul(Some(30)), foul(None), jump(None, None)]);
        assert_eq!((plain.toes_mm.as_slice(), plain.over), ([-40, 30].as_slice(), 1));
        assert_eq!((plain.without_toe, plain.fouls_without_toe, plain.start_mm), (2, 1, None));
        // From 34.00 m the toe was 10 mm over; from 34.20 m it would be 190 mm behind.
        let marks =
            Toes::of(&[jump(Some(10), Some(34_000)), jump(Some(-60), Some(34_200)), jump(Some(-5), None)]);
        assert_eq!((marks.toes_mm.as_slice(), marks.start_mm), ([-190, -60].as_slice(), Some(34_200)));
        assert_eq!((marks.without_start, marks.over), (1, 1));
        assert_eq!(Toes::of(&[]), Toes::default());
    }

    #[test]
    fn two_toes_say_nothing_and_odd_shares_are_refused() {
        assert_eq!(toes(&[-40, 10]).accuracy(), None);
        assert_eq!(toes(&[-40, 10]).shift(0.1), Err(ShiftError::TooFew { toes: 2 }));
        for share in [0.0, 0.0005, 0.51, 1.0, -0.1, f64::NAN, f64::INFINITY] {
            assert_eq!(toes(&[-40, 10, 20]).shift(share), Err(ShiftError::Share));
        }
    }

    #[test]
    fn half_the_toes_over_the_line_is_the_mean_on_the_line() {
        // With z = 0 the interval is that of the mean: Student's t.
        let toes = toes(&[-90, -20, -60, 15, -75]);
        let (accuracy, shift) = (toes.accuracy().unwrap(), toes.shift(0.5).unwrap());
        assert!(shift.aim_mm.abs() < 1e-9 && (shift.back_mm - accuracy.bias_mm).abs() < 1e-9);
        assert!((shift.next_foul_share - 0.5).abs() < 1e-9);
        let (low, high) = shift.back_95_mm;
        assert!((high - accuracy.bias_mm - accuracy.bias_half_width_95_mm).abs() < 1e-4);
        assert!((accuracy.bias_mm - low - accuracy.bias_half_width_95_mm).abs() < 1e-4);
    }

    #[test]
    fn a_shifted_mark_brings_the_quantile_onto_the_line() {
        let before = toes(&[-90, -20, -60, 15, -75, -31]);
        let shift = before.shift(0.1).unwrap();
        assert!(shift.back_95_mm.0 < shift.back_mm && shift.back_mm < shift.back_95_mm.1);
        assert!(shift.next_foul_share > 0.1);
        let back = shift.back_mm.round() as i32;
        let after = toes(&before.toes_mm.iter().map(|mm| mm - back).collect::<Vec<_>>());
        assert!(after.shift(0.1).unwrap().back_mm.abs() <= 0.5);
        // Toes all alike need no room, and the interval closes.
        let alike = toes(&[-50; 6]).shift(0.1).unwrap();
        assert_eq!((alike.back_mm, alike.back_95_mm), (-50.0, (-50.0, -50.0)));
    }

    #[test]
    fn a_factor_needs_values_and_shares() {
        for (count, above, confidence) in
            [(2, 0.1, 0.95), (5, 0.0, 0.95), (5, 1.0, 0.95), (5, 0.1, 1.0), (5, f64::NAN, 0.5)]
        {
            assert!(quantile_factor(count, above, confidence).is_nan());
        }
        assert!(quantile_factor(usize::MAX, 0.1, 0.95).is_finite());
    }

    #[test]
    fn the_noncentral_t_without_noncentrality_is_students() {
        for freedom in [2.0, 5.0, 30.0, 400.0, 20_000.0] {
            let student = StudentsT::new(0.0, 1.0, freedom).unwrap();
            for t in [-6.0, -2.0, -0.3, 0.0, 1.0, 2.5, 9.0] {
                let (ours, theirs) = (noncentral_t(t, freedom, 0.0), student.cdf(t));
                assert!((ours - theirs).abs() < 1e-8, "{freedom} {t}: {ours} {theirs}");
            }
        }
    }
}
