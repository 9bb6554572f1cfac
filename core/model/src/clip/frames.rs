//! The frame times of a track, in display order, on integer ticks.

use sha2::{Digest, Sha256};

/// When each frame of a clip is shown.
///
/// `ticks / timescale` are seconds of the container, which are seconds of the
/// world only where the [clock](super::Clock) says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FrameTable {
    pub(super) timescale: u32,
    pub(super) ticks: Vec<i64>,
    pub(super) shown: usize,
    pub(super) steady_edits: bool,
    pub(super) repeated: Option<u8>,
}

/// A step between two neighbouring frames that is longer than 1.5 times the
/// median step: dropped frames, or a place where the clip was trimmed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// The frame before the gap, from 0 in display order.
    pub after: usize,
    /// The length of the step in ticks.
    pub ticks: i64,
}

impl FrameTable {
    /// From times in decoding order, all of them shown.
    pub(super) fn new(timescale: u32, mut ticks: Vec<i64>, repeated: Option<u8>) -> Self {
        sort(&mut ticks);
        Self { timescale, shown: ticks.len(), ticks, steady_edits: true, repeated }
    }

    /// Ticks in one second of the container; never 0.
    pub fn timescale(&self) -> u32 {
        self.timescale
    }

    /// The time of every stored frame in display order, in ticks. The edit
    /// list is applied as a shift: 0 is where it begins to show, frames before
    /// that have negative times. No frame is dropped; there is at least one.
    pub fn ticks(&self) -> &[i64] {
        &self.ticks
    }

    /// How many of the frames begin within what the edit list shows.
    pub fn shown(&self) -> usize {
        self.shown
    }

    /// Whether the edit list, if there is one, plays everything at rate 1.
    pub fn steady_edits(&self) -> bool {
        self.steady_edits
    }

    /// How many times each picture seems to stand in the clip, 2, 4 or 8: of so many
    /// frames all but one hold almost no picture. `None` where nothing tells.
    pub fn repeated(&self) -> Option<u8> {
        self.repeated
    }

    /// The median step between neighbouring frames in ticks (of an even
    /// number of steps the lower middle one, so that it is a step that
    /// occurs). `None` where the clip has only one frame or the median is 0.
    pub fn median_step(&self) -> Option<i64> {
        let mut steps: Vec<i64> = self.steps().collect();
        let middle = steps.len().checked_sub(1)? / 2;
        let (_, median, _) = steps.select_nth_unstable(middle);
        (*median > 0).then_some(*median)
    }

    /// All steps longer than 1.5 times the median, in display order.
    pub fn gaps(&self) -> Vec<Gap> {
        let Some(median) = self.median_step() else {
            return Vec::new();
        };
        self.steps()
            .enumerate()
            .filter(|(_, step)| i128::from(*step) * 2 > i128::from(median) * 3)
            .map(|(after, ticks)| Gap { after, ticks })
            .collect()
    }

    /// What copies of one clip have in common: SHA-256 of the timescale (4
    /// bytes), the number of frames (8), then the time of each frame after the
    /// first one (8 each), all big-endian. Measured from the first frame, so a
    /// copy that lost its edit list on the way still matches.
    pub fn digest(&self) -> [u8; 32] {
        let first = self.ticks.first().copied().unwrap_or(0);
        let count = u64::try_from(self.ticks.len()).unwrap_or(u64::MAX);
        let mut hash = Sha256::new();
        hash.update(self.timescale.to_be_bytes());
        hash.update(count.to_be_bytes());
        for tick in &self.ticks {
            hash.update(tick.wrapping_sub(first).to_be_bytes());
        }
        hash.finalize().into()
    }

    fn steps(&self) -> impl Iterator<Item = i64> {
        self.ticks.iter().zip(self.ticks.iter().skip(1)).map(|(early, late)| late.saturating_sub(*early))
    }
}

/// Sorts times that are nearly in order, as decoding order is: a frame is
/// shown a few places from where it is decoded. Where they are not, the
/// library's sort takes over.
fn sort(ticks: &mut [i64]) {
    let mut budget = 8 * ticks.len();
    for index in 1..ticks.len() {
        let mut at = index;
        while at > 0 && ticks.get(at - 1) > ticks.get(at) {
            ticks.swap(at - 1, at);
            at -= 1;
        }
        match budget.checked_sub(index - at) {
            Some(left) => budget = left,
            None => return ticks.sort_unstable(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_in_any_order_are_sorted() {
        // As decoded, a little out of order, reversed, and two tracks joined.
        let decoded = (0..750_i64).flat_map(|group| [0, 3, 1, 2].map(|place| 4 * group + place));
        let joined = (0..1500).chain(0..1500);
        for times in [decoded.collect(), (0..3000).rev().collect(), joined.collect::<Vec<i64>>()] {
            let mut expected = times.clone();
            expected.sort_unstable();
            assert_eq!(FrameTable::new(600, times, None).ticks(), expected);
        }
        assert_eq!(FrameTable::new(600, vec![], None).ticks(), [0_i64; 0]);
    }
}
