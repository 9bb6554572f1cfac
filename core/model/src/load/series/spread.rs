//! How alike the days of a week are, and the quotient of two means.

/// Monotony of some days: mean over standard deviation, without a unit.
///
/// The deviation is the sample's (n − 1 under the root): the papers do not say
/// which they take, and with the population's, monotony is 8 % higher over seven
/// days. Undefined (`None`) for equal days, whose deviation is 0, and for fewer
/// than two.
///
/// Foster 1998, Med Sci Sports Exerc 30:1164–1168; Foster et al. 2001,
/// J Strength Cond Res 15(1):109–115. Days of rest count as 0.
#[must_use]
pub fn monotony(loads: &[f64]) -> Option<f64> {
    let deviation = sample_deviation(loads)?;
    quotient(loads.iter().sum::<f64>() / loads.len() as f64, deviation)
}

/// Strain of some days: their sum × their [`monotony`], in the unit of the
/// loads. Undefined where monotony is.
///
/// Foster 1998, Med Sci Sports Exerc 30:1164–1168.
#[must_use]
pub fn strain(loads: &[f64]) -> Option<f64> {
    Some(loads.iter().sum::<f64>() * monotony(loads)?)
}

/// Standard deviation of a sample (n − 1), in the unit of the values; `None`
/// for fewer than two.
fn sample_deviation(values: &[f64]) -> Option<f64> {
    let (first, rest) = values.split_first()?;
    let degrees = rest.len();
    if degrees == 0 {
        return None;
    }
    // From the first value on, so that equal values deviate by exactly 0.
    let mean = rest.iter().map(|value| value - first).sum::<f64>() / values.len() as f64;
    let squares: f64 = values.iter().map(|value| (value - first - mean).powi(2)).sum();
    Some((squares / degrees as f64).sqrt())
}

/// `above` over `below`; `None` over zero, or where the result is too large for
/// a number.
pub(super) fn quotient(above: f64, below: f64) -> Option<f64> {
    let quotient = above / below;
    (below > 0.0 && quotient.is_finite()).then_some(quotient)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_days_have_no_monotony_whatever_their_load() {
        for load in [0.0, 0.1, 1.0 / 3.0, 420.0, 1e9] {
            assert_eq!((monotony(&[load; 7]), strain(&[load; 7])), (None, None), "{load}");
        }
        assert_eq!((monotony(&[]), monotony(&[1.0])), (None, None));
    }

    #[test]
    fn one_day_of_seven() {
        // Mean x/7, sample deviation x/√7.
        let mut week = [0.0; 7];
        week[3] = 300.0;
        assert!((monotony(&week).unwrap() - 1.0 / 7_f64.sqrt()).abs() < 1e-12);
        assert!((strain(&week).unwrap() - 300.0 / 7_f64.sqrt()).abs() < 1e-9);
    }

    #[test]
    fn nothing_is_divided_by_nothing() {
        let cases = [(1.0, 0.0), (0.0, 0.0), (1.0, -0.0), (1.0, f64::NAN), (1e9, f64::MIN_POSITIVE)];
        for (above, below) in cases {
            assert_eq!(quotient(above, below), None, "{above} / {below}");
        }
        assert_eq!(quotient(1.0, 4.0), Some(0.25));
    }
}
