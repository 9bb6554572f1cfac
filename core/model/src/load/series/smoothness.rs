//! How smoothly a course of weeks goes from its first to its last.
//!
//! The third difference of a course is what jerk is of a movement. It is set
//! beside that of the curve of least jerk between the same ends: two numbers in
//! one unit, no score. The curve sets out and arrives at rest; a straight rise
//! does neither, and its third differences are 0, below the curve's.

/// A course of weeks beside the minimum-jerk curve between its ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Smoothness {
    /// Third differences of the course, one from every four weeks in a row, in
    /// the unit of its values (per week cubed).
    pub third_differences: Vec<f64>,
    /// Their root mean square.
    pub course_rms: f64,
    /// The minimum-jerk curve, week by week, in the unit of the values.
    pub curve: Vec<f64>,
    /// Root mean square of the curve's third differences; 0 where both ends of
    /// the course are equal.
    pub curve_rms: f64,
}

impl Smoothness {
    /// Of the values of consecutive weeks, oldest first. `None` for fewer than
    /// four weeks, where one is not known, and where one is no number or too large
    /// to take a third difference of.
    ///
    /// Flash & Hogan 1985, J Neurosci 5:1688–1703 (value from memory), for the
    /// curve.
    #[must_use]
    pub fn of(weeks: &[Option<f64>]) -> Option<Self> {
        let course = weeks.iter().copied().collect::<Option<Vec<f64>>>()?;
        let [from, _, .., _, to] = course.as_slice() else { return None };
        let steps = (course.len() - 1) as f64;
        let curve: Vec<f64> =
            (0..course.len()).map(|week| minimum_jerk(*from, *to, week as f64 / steps)).collect();
        let third_differences = third_differences(&course);
        let course_rms = root_mean_square(&third_differences);
        let curve_rms = root_mean_square(&self::third_differences(&curve));
        let finite = course_rms.is_finite() && curve_rms.is_finite();
        finite.then_some(Self { third_differences, course_rms, curve, curve_rms })
    }
}

/// The curve of least jerk: x₀ + (x₁ − x₀)(10s³ − 15s⁴ + 6s⁵), `share` (s) from
/// 0 at `from` to 1 at `to`; in the unit of the ends. Slope and curvature are 0
/// at both ends, and the slope is steepest half way, 1.875 times the mean one.
///
/// Flash & Hogan 1985, J Neurosci 5:1688–1703 (value from memory).
#[must_use]
pub fn minimum_jerk(from: f64, to: f64, share: f64) -> f64 {
    let s = share;
    from + (to - from) * s * s * s * (10.0 - 15.0 * s + 6.0 * s * s)
}

/// x₊₃ − 3x₊₂ + 3x₊₁ − x of every four values in a row.
fn third_differences(values: &[f64]) -> Vec<f64> {
    let third = |four: &[f64]| match four {
        [a, b, c, d] => (d - a) - 3.0 * (c - b),
        _ => 0.0,
    };
    values.windows(4).map(third).collect()
}

fn root_mean_square(values: &[f64]) -> f64 {
    let squares: f64 = values.iter().map(|value| value * value).sum();
    (squares / values.len().max(1) as f64).sqrt()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn of(weeks: &[f64]) -> Smoothness {
        Smoothness::of(&weeks.iter().copied().map(Some).collect::<Vec<_>>()).unwrap()
    }

    #[test]
    fn three_weeks_and_unknown_ones_have_none() {
        assert_eq!(Smoothness::of(&[Some(1.0); 3]), None);
        assert_eq!(Smoothness::of(&[Some(1.0), None, Some(1.0), Some(1.0), Some(1.0)]), None);
        for wrong in [f64::NAN, f64::INFINITY, f64::MAX] {
            assert_eq!(Smoothness::of(&[Some(1.0), Some(wrong), Some(1.0), Some(1.0)]), None);
        }
    }

    #[test]
    fn straight_and_bent_courses_have_no_third_difference_and_a_step_has() {
        assert_eq!(of(&[10.0, 20.0, 30.0, 40.0, 50.0]).course_rms, 0.0);
        assert_eq!(of(&[0.0, 1.0, 4.0, 9.0, 16.0]).course_rms, 0.0);
        let cubic = of(&[0.0, 1.0, 8.0, 27.0, 64.0]);
        assert_eq!(cubic.third_differences, [6.0, 6.0]);
        assert_eq!(cubic.course_rms, 6.0);
        let step = of(&[0.0, 0.0, 0.0, 60.0, 60.0, 60.0]);
        assert_eq!(step.third_differences, [60.0, -120.0, 60.0]);
        assert!(step.course_rms > step.curve_rms);
        let flat = of(&[5.0; 8]);
        assert_eq!((flat.course_rms, flat.curve_rms), (0.0, 0.0));
    }

    proptest! {
        #[test]
        fn the_curve_is_as_smooth_as_itself_and_ends_where_it_should(
            from in 0.0..1e4_f64,
            to in 0.0..1e4_f64,
            weeks in 4_usize..60,
        ) {
            let steps = (weeks - 1) as f64;
            let curve: Vec<f64> = (0..weeks).map(|week| minimum_jerk(from, to, week as f64 / steps)).collect();
            let smoothness = of(&curve);
            prop_assert!((smoothness.course_rms - smoothness.curve_rms).abs() < 1e-9);
            prop_assert_eq!(smoothness.curve[0], from);
            prop_assert!((smoothness.curve[weeks - 1] - to).abs() < 1e-9);
        }

        #[test]
        fn it_grows_with_the_loads(weeks in prop::collection::vec(0.0..1e3_f64, 4..30), times in 1_u8..9) {
            let by = f64::from(times);
            let (one, more) = (of(&weeks), of(&weeks.iter().map(|week| week * by).collect::<Vec<_>>()));
            prop_assert!((more.course_rms - by * one.course_rms).abs() < 1e-6);
            prop_assert!((more.curve_rms - by * one.curve_rms).abs() < 1e-6);
        }
    }
}
