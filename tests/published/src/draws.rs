//! Numbers drawn from a fixed seed, so that a failure can be run again.

use core::f64::consts::TAU;

/// A small generator: splitmix64 (Steele, Lea & Flood 2014, OOPSLA; constants from
/// memory).
#[derive(Clone, Debug)]
pub struct Draws(u64);

impl Draws {
    /// Begins at a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from 0 to below `end`; 0 where there is none. The bias of the
    /// remainder is below 2⁻³² for every `end` used here.
    pub fn below(&mut self, end: u32) -> i64 {
        i64::from(u32::try_from(self.bits() % u64::from(end.max(1))).unwrap_or(0))
    }

    /// A number between 0 and 1, neither of them.
    pub fn unit(&mut self) -> f64 {
        ((self.bits() >> 12) as f64 + 0.5) / (1_u64 << 52) as f64
    }

    /// A number of the standard normal distribution (Box & Muller 1958).
    pub fn normal(&mut self) -> f64 {
        (-2.0 * self.unit().ln()).sqrt() * (TAU * self.unit()).cos()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_draws_have_the_moments_of_their_distributions() {
        let mut draws = Draws::new(1);
        let made = 100_000;
        let normal: Vec<f64> = (0..made).map(|_| draws.normal()).collect();
        let mean = normal.iter().sum::<f64>() / f64::from(made);
        let square = normal.iter().map(|x| x * x).sum::<f64>() / f64::from(made);
        // Four standard errors: 4/√n and 4·√(2/n).
        assert!(mean.abs() < 0.013 && (square - 1.0).abs() < 0.018, "{mean} {square}");
        let inside = normal.iter().filter(|x| x.abs() < 1.96).count();
        assert!((94_700..95_300).contains(&inside), "{inside}");
        let whole: Vec<i64> = (0..made).map(|_| draws.below(7)).collect();
        for number in 0..7 {
            let count = whole.iter().filter(|drawn| **drawn == number).count();
            assert!((13_800..14_800).contains(&count), "{number}: {count}");
        }
    }
}
