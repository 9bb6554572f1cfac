//! Frame rates as exact integers, in millihertz.

use std::fmt;

/// A number of frames a second, in whole millihertz: from 0.001 Hz to 1 MHz.
///
/// Integers, so that what a phone wrote and what a person typed compare
/// exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rate(u32);

/// 1 MHz in millihertz.
const MAX_MILLIHERTZ: u32 = 1_000_000_000;

impl Rate {
    /// From millihertz; `None` outside 1 to 1 000 000 000.
    pub fn from_millihertz(millihertz: u64) -> Option<Self> {
        let millihertz = u32::try_from(millihertz).ok()?;
        (1..=MAX_MILLIHERTZ).contains(&millihertz).then_some(Self(millihertz))
    }

    /// From hertz, to the nearest millihertz; `None` for what is no number,
    /// not positive, or beyond the range.
    pub fn from_hz(hz: f64) -> Option<Self> {
        if !hz.is_finite() || hz <= 0.0 || hz > f64::from(MAX_MILLIHERTZ) / 1000.0 {
            return None;
        }
        // A float is mantissa × 2^exponent; in range the exponent lies between
        // −1074 and −32, so the rate in millihertz is 1000 × mantissa >> −exponent.
        let bits = hz.to_bits();
        let exponent_field = (bits >> 52) & 0x7ff;
        let fraction = bits & ((1 << 52) - 1);
        let (mantissa, exponent) = match exponent_field {
            0 => (fraction, -1074),
            field => (fraction | (1 << 52), i32::try_from(field).unwrap_or(0) - 1075),
        };
        let shift = u32::try_from(-exponent).ok()?;
        if shift > 100 {
            return None;
        }
        let doubled = (u128::from(mantissa) * 2000) >> shift;
        Self::from_millihertz(u64::try_from(doubled.div_ceil(2)).ok()?)
    }

    /// Whole millihertz.
    pub fn millihertz(self) -> u64 {
        u64::from(self.0)
    }

    /// Hertz, for display.
    pub fn hz(self) -> f64 {
        f64::from(self.0) / 1000.0
    }
}

impl fmt::Display for Rate {
    /// Hertz with up to three decimals and no trailing zeros: `240`, `29.97`.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&thousandths(u64::from(self.0)))
    }
}

/// A number of thousandths as a decimal without trailing zeros.
pub(super) fn thousandths(value: u64) -> String {
    let text = format!("{}.{:03}", value / 1000, value % 1000);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hertz_become_the_nearest_millihertz() {
        let cases = [
            (240.0, Some(240_000)),
            (239.97, Some(239_970)),
            (29.970_029_97, Some(29_970)),
            (0.0005, Some(1)),
            (0.000_499, None),
            (1e6, Some(1_000_000_000)),
            (1e6 + 0.001, None),
            (0.0, None),
            (-240.0, None),
            (f64::NAN, None),
            (f64::INFINITY, None),
            (f64::MIN_POSITIVE, None),
            (5e-324, None),
        ];
        for (hz, millihertz) in cases {
            assert_eq!(Rate::from_hz(hz).map(Rate::millihertz), millihertz, "{hz}");
        }
        // What a phone writes as float32.
        let phone = Rate::from_hz(f64::from(119.88_f32)).unwrap();
        assert_eq!(phone.millihertz(), 119_880);
    }

    #[test]
    fn every_millihertz_survives_the_way_through_hertz() {
        for millihertz in (1..=1_000_000_000_u64).step_by(99_991) {
            let rate = Rate::from_millihertz(millihertz).unwrap();
            assert_eq!(Rate::from_hz(rate.hz()), Some(rate));
        }
    }

    #[test]
    fn rates_print_without_idle_zeros() {
        let shown = |millihertz| Rate::from_millihertz(millihertz).unwrap().to_string();
        assert_eq!(shown(240_000), "240");
        assert_eq!(shown(29_970), "29.97");
        assert_eq!(shown(100_000), "100");
        assert_eq!(shown(7), "0.007");
    }
}
