//! A mean with the interval of Student's t.

use statrs::distribution::{ContinuousCDF, StudentsT};

/// The mean of some lengths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mean {
    /// How many.
    pub count: usize,
    /// Their mean in millimetres.
    pub mm: f64,
    /// How they scatter; `None` of one alone.
    pub spread: Option<Spread>,
}

/// How lengths scatter about their mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// The sample standard deviation in millimetres, with n − 1.
    pub sd_mm: f64,
    /// The 95 % half-width of the mean in millimetres: t(97.5 %, n − 1)·s/√n.
    pub half_width_95_mm: f64,
}

/// The mean of some lengths in millimetres; `None` of none.
///
/// Sum and squares are added up as integers, so that the order does not matter and
/// equal lengths have no spread at all.
#[must_use]
pub fn mean(lengths_mm: &[i32]) -> Option<Mean> {
    let count = lengths_mm.len();
    if count == 0 {
        return None;
    }
    let n = count as i128;
    let sum: i128 = lengths_mm.iter().map(|mm| i128::from(*mm)).sum();
    let squares: i128 = lengths_mm.iter().map(|mm| i128::from(*mm).pow(2)).sum();
    let spread = StudentsT::new(0.0, 1.0, (count - 1) as f64).ok().map(|student| {
        let variance = (n * squares - sum * sum) as f64 / (n * (n - 1)) as f64;
        let sd_mm = variance.sqrt();
        Spread { sd_mm, half_width_95_mm: student.inverse_cdf(0.975) * sd_mm / (count as f64).sqrt() }
    });
    Some(Mean { count, mm: sum as f64 / n as f64, spread })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn none_one_and_alike() {
        assert_eq!(mean(&[]), None);
        assert_eq!(mean(&[6_420]), Some(Mean { count: 1, mm: 6_420.0, spread: None }));
        let alike = mean(&[i32::MAX; 1_000]).unwrap();
        assert_eq!(alike.mm, f64::from(i32::MAX));
        assert_eq!(alike.spread, Some(Spread { sd_mm: 0.0, half_width_95_mm: 0.0 }));
    }

    #[test]
    fn the_half_width_is_students() {
        // t(97.5 %, 2) = 4.302653; of 6.40, 6.42, 6.44 m the standard deviation is 20 mm.
        let spread = mean(&[6_400, 6_440, 6_420]).unwrap().spread.unwrap();
        assert!((spread.sd_mm - 20.0).abs() < 1e-12);
        let by_hand = 4.302_652_729_911_275 * 20.0 / 3_f64.sqrt();
        assert!((spread.half_width_95_mm - by_hand).abs() < 1e-6, "{}", spread.half_width_95_mm);
    }
}
