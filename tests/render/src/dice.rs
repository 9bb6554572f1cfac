//! Choices that a seed makes: the same seed, the same scene.

/// A stream of random values (SplitMix64; Steele, Lea & Flood 2014, "Fast
/// splittable pseudorandom number generators").
#[derive(Clone, Debug)]
pub(crate) struct Dice {
    state: u64,
}

impl Dice {
    /// The dice of one seed for one purpose: another `purpose` rolls other
    /// values, so that a choice added to one leaves the others as they are.
    pub(crate) fn new(seed: u64, purpose: u64) -> Self {
        let mut dice = Self { state: seed.wrapping_mul(0x2545_f491_4f6c_dd1d) ^ purpose };
        dice.bits();
        dice
    }

    /// 64 random bits.
    pub(crate) fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.state;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// Evenly from `low` up to `high`.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        // 53 bits fill a float's fraction.
        low + (high - low) * (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// True this often, 0 to 1.
    pub(crate) fn chance(&mut self, often: f64) -> bool {
        self.between(0.0, 1.0) < often
    }

    /// Near enough to normal, mean 0, deviation 1: a sum of eight bytes.
    pub(crate) fn normal(&mut self) -> f32 {
        let sum: u16 = self.bits().to_le_bytes().into_iter().map(u16::from).sum();
        // Eight uniform bytes: mean 8·127.5, variance 8·(256² − 1)/12.
        (f32::from(sum) - 1020.0) / 209.02
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_as_they_are_said_to_be() {
        let mut dice = Dice::new(3, 1);
        let even: Vec<f64> = (0..20_000).map(|_| dice.between(2.0, 4.0)).collect();
        assert!(even.iter().all(|value| (2.0..4.0).contains(value)));
        assert!((even.iter().sum::<f64>() / 20_000.0 - 3.0).abs() < 0.02);
        let normal: Vec<f32> = (0..20_000).map(|_| dice.normal()).collect();
        let square = normal.iter().map(|value| value * value).sum::<f32>() / 20_000.0;
        assert!((square - 1.0).abs() < 0.05, "{square}");
        let often = (0..20_000).filter(|_| dice.chance(0.25)).count();
        assert!((4700..5300).contains(&often), "{often}");
    }

    #[test]
    fn the_same_seed_rolls_the_same_and_another_purpose_does_not() {
        assert_eq!(Dice::new(7, 1).bits(), Dice::new(7, 1).bits());
        assert_ne!(Dice::new(7, 1).bits(), Dice::new(7, 2).bits());
        assert_ne!(Dice::new(7, 1).bits(), Dice::new(8, 1).bits());
    }
}
