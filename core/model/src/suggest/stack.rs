//! The frames of a clip, kept; what stands still in them, and how noisy they
//! are.

use super::error::SuggestError;

/// The most pixels that are kept, all frames together: 64 MiB, or about five
/// seconds of 320 by 180 pixels at 240 frames a second.
pub const MOST_PIXELS: usize = 64 << 20;

/// Steps from one looked-at pixel to the next where a part says enough.
const SPARSE: usize = 7;

/// Frames of one size.
#[derive(Clone, Debug)]
pub(super) struct Stack {
    pub(super) width: usize,
    pub(super) height: usize,
    pub(super) frames: usize,
    luma: Vec<u8>,
}

/// What stands still, and how much it seems to move.
#[derive(Clone, Debug)]
pub(super) struct Still {
    pub(super) ground: Vec<u8>,
    /// Standard deviation of one pixel of one frame, in 8-bit steps.
    pub(super) noise: f32,
}

impl Stack {
    pub(super) fn new(width: usize, height: usize) -> Self {
        Self { width, height, frames: 0, luma: Vec::new() }
    }

    /// Keeps a frame, smoothed along its rows: a foot is wide and its height
    /// is what tells.
    pub(super) fn push(&mut self, luma: &[u8]) -> Result<(), SuggestError> {
        let wanted = self.width * self.height;
        if luma.len() != wanted {
            return Err(SuggestError::Bytes { frame: self.frames, found: luma.len(), wanted });
        }
        if self.luma.len() + wanted > MOST_PIXELS {
            return Err(SuggestError::TooMany { frame: self.frames, limit: MOST_PIXELS });
        }
        for row in luma.chunks_exact(self.width) {
            let at = |x: usize| u16::from(row[x]);
            let last = self.width - 1;
            self.luma.extend((0..self.width).map(|x| {
                let sum = at(x.saturating_sub(1)) + 2 * at(x) + at((x + 1).min(last));
                ((sum + 2) / 4) as u8
            }));
        }
        self.frames += 1;
        Ok(())
    }

    /// Brightness of one pixel of one frame.
    pub(super) fn at(&self, frame: usize, pixel: usize) -> u8 {
        self.luma[frame * self.width * self.height + pixel]
    }

    /// Finds what stands still, and takes out what the light does to the whole
    /// picture from frame to frame.
    pub(super) fn settle(&mut self) -> Still {
        let median = self.median();
        self.even_light(&median);
        Still { noise: self.noise(), ground: self.uncovered(&median) }
    }

    /// The median of each pixel over time.
    fn median(&self) -> Vec<u8> {
        (0..self.width * self.height)
            .map(|pixel| {
                let mut counts = [0_u32; 256];
                for frame in 0..self.frames {
                    counts[usize::from(self.at(frame, pixel))] += 1;
                }
                middle(&counts, self.frames)
            })
            .collect()
    }

    /// Divides each frame by the median of its brightness against what stands
    /// still, so that lamps on alternating current move nothing.
    fn even_light(&mut self, median: &[u8]) {
        let pixels = self.width * self.height;
        for frame in self.luma.chunks_exact_mut(pixels) {
            let mut ratios: Vec<f32> = median
                .iter()
                .zip(&*frame)
                .step_by(SPARSE)
                .filter(|(still, _)| **still >= 24)
                .map(|(still, now)| f32::from(*now) / f32::from(*still))
                .collect();
            let Some(light) = median_of(&mut ratios) else { continue };
            // Less than this is rounding.
            if (light - 1.0).abs() < 0.002 || light <= 0.0 {
                continue;
            }
            for value in frame {
                // `as` holds to 0–255.
                *value = (f32::from(*value) / light).round() as u8;
            }
        }
    }

    /// The noise that half of all pixels stay below: from the mean step of a
    /// pixel from frame to frame, which is 2/√π deviations for normal noise.
    fn noise(&self) -> f32 {
        let mut steps: Vec<f32> = (0..self.width * self.height)
            .step_by(SPARSE)
            .map(|pixel| {
                let sum: u32 = (1..self.frames)
                    .map(|frame| u32::from(self.at(frame, pixel).abs_diff(self.at(frame - 1, pixel))))
                    .sum();
                sum as f32 / (self.frames - 1).max(1) as f32
            })
            .collect();
        median_of(&mut steps).unwrap_or(0.0) / 1.128
    }

    /// The median, but where something covers a pixel most of the time, the
    /// other brightness that it has, if that fits the row beside it better.
    fn uncovered(&self, median: &[u8]) -> Vec<u8> {
        const APART: u8 = 14;
        let mut ground = median.to_vec();
        let others: Vec<Option<(u8, bool)>> = (0..median.len())
            .map(|pixel| {
                let mut counts = [0_u32; 256];
                let mut far = 0_usize;
                for frame in 0..self.frames {
                    let value = self.at(frame, pixel);
                    if value.abs_diff(median[pixel]) > APART {
                        counts[usize::from(value)] += 1;
                        far += 1;
                    }
                }
                // Somewhat often: not ground beyond doubt. Often: maybe not ground.
                (10 * far >= self.frames).then(|| (middle(&counts, far), 5 * far >= self.frames))
            })
            .collect();
        for (row, medians) in median.chunks_exact(self.width).enumerate() {
            let start = row * self.width;
            let others = &others[start..start + self.width];
            for x in 0..self.width {
                let Some((other, true)) = others[x] else { continue };
                let left = (0..x).rev().find(|x| others[*x].is_none());
                let right = (x + 1..self.width).find(|x| others[*x].is_none());
                let beside: Vec<u8> = left.into_iter().chain(right).map(|x| medians[x]).collect();
                if beside.is_empty() {
                    continue;
                }
                let distance = |value: u8| beside.iter().map(|b| u16::from(b.abs_diff(value))).sum::<u16>();
                if 2 * distance(other) < distance(medians[x]) {
                    ground[start + x] = other;
                }
            }
        }
        ground
    }
}

/// The value at the middle of a histogram of `total` values.
fn middle(counts: &[u32; 256], total: usize) -> u8 {
    let mut seen = 0_usize;
    for (value, count) in (0..=u8::MAX).zip(counts) {
        seen += *count as usize;
        if 2 * seen >= total {
            return value;
        }
    }
    u8::MAX
}

/// The middle value; none of nothing.
pub(super) fn median_of(values: &mut [f32]) -> Option<f32> {
    if values.is_empty() {
        return None;
    }
    let middle = values.len() / 2;
    Some(*values.select_nth_unstable_by(middle, f32::total_cmp).1)
}
