//! Sensor noise: different in every frame, the same in every run.

/// Standard deviation, in 8-bit steps.
const DEVIATION: f32 = 1.4;

/// A stream of noise, one value a pixel (SplitMix64; Steele, Lea & Flood 2014,
/// "Fast splittable pseudorandom number generators").
pub(super) struct Noise {
    state: u64,
}

impl Noise {
    /// The noise of one frame.
    pub(super) fn new(frame: u32) -> Self {
        Self { state: u64::from(frame) << 32 | 0x5eed }
    }

    /// The next pixel's noise, near enough to normal: a sum of eight bytes.
    pub(super) fn next_pixel(&mut self) -> f32 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.state;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^= bits >> 31;
        let sum: u16 = bits.to_le_bytes().into_iter().map(u16::from).sum();
        // Eight uniform bytes: mean 8·127.5, variance 8·(256² − 1)/12.
        (f32::from(sum) - 1020.0) / 209.02 * DEVIATION
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noise_has_the_deviation_it_says() {
        let mut noise = Noise::new(7);
        let values: Vec<f32> = (0..100_000).map(|_| noise.next_pixel()).collect();
        let mean = values.iter().sum::<f32>() / 100_000.0;
        let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f32>() / 100_000.0;
        assert!(mean.abs() < 0.03, "{mean}");
        assert!((variance.sqrt() - DEVIATION).abs() < 0.03, "{variance}");
    }
}
