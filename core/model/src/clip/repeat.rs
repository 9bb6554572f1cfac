//! Frames that repeat the one before: a high rate that was made, not filmed.
//!
//! A rate raised by doubling frames looks real in the container, but a frame
//! that repeats the one before costs an encoder almost no bytes. The rule is
//! ours, no standard's: of every 2, 4 or 8 neighbouring frames all but one
//! have less than a twentieth of the bytes of a full one, in at least half of
//! the clip. Frames of other making escape it: new pictures computed between
//! two filmed ones have bytes of their own, and so has a repeated one where the
//! encoder went on refining it.
//!
//! Two things look like it and are let pass: frames shown before one that was
//! decoded earlier (B-frames are small by nature, so a repeated one escapes
//! too), and clips whose full frames are the key frames (a still scene).

/// The periods that are looked for: all but one of so many frames are empty.
/// With each a bit for every frame that is full.
const PERIODS: [(u8, u64); 3] =
    [(2, 0x5555_5555_5555_5555), (4, 0x1111_1111_1111_1111), (8, 0x0101_0101_0101_0101)];

/// Frames that are judged together, so that a dropped frame in between spoils
/// one window and not the clip.
const WINDOW: usize = 64;

/// The fewest frames that are judged where a clip is shorter than a window.
const LEAST: usize = 24;

/// Looks for the pattern while frames pass by in decoding order; its memory
/// does not grow with them.
#[derive(Debug)]
pub(super) struct Repeats {
    sizes: [u32; WINDOW],
    /// Bit n is set where frame n of the window is a B-frame.
    reordered: u64,
    filled: usize,
    latest: i64,
    frames: u64,
    windows: u64,
    /// Windows that follow each of the periods.
    following: [u64; PERIODS.len()],
}

impl Repeats {
    pub(super) fn new() -> Self {
        Self {
            sizes: [0; WINDOW],
            reordered: 0,
            filled: 0,
            latest: i64::MIN,
            frames: 0,
            windows: 0,
            following: [0; PERIODS.len()],
        }
    }

    /// The next frame in decoding order: its bytes and when it is shown.
    #[inline]
    pub(super) fn push(&mut self, size: u32, time: i64) {
        if let Some(slot) = self.sizes.get_mut(self.filled) {
            *slot = size;
        }
        if time < self.latest {
            self.reordered |= 1 << self.filled;
        }
        self.latest = self.latest.max(time);
        self.filled += 1;
        self.frames += 1;
        if self.filled == WINDOW {
            self.judge();
        }
    }

    /// The period found, 2, 4 or 8, in a clip with `sync` key frames.
    pub(super) fn finish(mut self, sync: u64) -> Option<u8> {
        if self.windows == 0 && self.filled >= LEAST {
            self.judge();
        }
        let most = self.following.iter().zip(PERIODS).max_by_key(|(windows, _)| **windows);
        most.filter(|(windows, (period, _))| {
            let full_are_sync = sync * 2 * u64::from(*period) >= self.frames;
            **windows > 0 && **windows * 2 >= self.windows && !full_are_sync
        })
        .map(|(_, (period, _))| period)
    }

    /// Looks for each period in the frames of this window.
    fn judge(&mut self) {
        let count = self.filled;
        if let Some(empty) = self.empty(count) {
            let all = u64::MAX >> (WINDOW - count);
            let tenth = u32::try_from(count / 10).unwrap_or(0);
            for (following, (period, full)) in self.following.iter_mut().zip(PERIODS) {
                // A frame in ten may be unlike the pattern.
                let unlike = |phase: u8| (empty ^ (!(full << phase) & all)).count_ones();
                *following += u64::from((0..period).any(|phase| unlike(phase) <= tenth));
            }
        }
        self.windows += 1;
        self.filled = 0;
        self.reordered = 0;
    }

    /// A bit for each of the first `count` frames that is almost empty; `None`
    /// where too few are for any pattern.
    fn empty(&self, count: usize) -> Option<u64> {
        let sizes = self.sizes.get(..count)?;
        // The fewest frames that a pattern has empty, a frame in ten unlike it.
        let least = count / 2 - count / 10;
        let emptier = |full: u32| sizes.iter().filter(|size| **size < full.div_ceil(20)).count();
        // Most windows end here: no frame that is full exceeds the largest.
        if emptier(sizes.iter().copied().max()?) < least {
            return None;
        }
        let mut ranked = self.sizes;
        let ranked = ranked.get_mut(..count)?;
        // Of a period of 8, an eighth of the frames is full: their median.
        let rank = count.checked_sub(1 + count / 16)?;
        let full = (*ranked.select_nth_unstable(rank).1).div_ceil(20);
        let mut empty = 0_u64;
        for (index, size) in sizes.iter().enumerate() {
            empty |= u64::from(*size < full) << index;
        }
        Some(empty & !self.reordered)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The verdict over sizes in display order, shown as they are decoded.
    fn verdict(sizes: impl IntoIterator<Item = u32>, sync: u64) -> Option<u8> {
        let mut repeats = Repeats::new();
        for (time, size) in (0..).zip(sizes) {
            repeats.push(size, time);
        }
        repeats.finish(sync)
    }

    /// Every `period`-th frame full, with sizes that vary as a scene does.
    fn doubled(count: u32, period: u32) -> impl Iterator<Item = u32> {
        (0..count).map(move |index| match index % period {
            0 => 9000 + (index * 7919) % 6000,
            _ => 60 + index % 9,
        })
    }

    #[test]
    fn each_period_is_found_in_long_and_short_clips() {
        for period in [2, 4, 8] {
            for count in [24, 63, 64, 65, 600, 43_200] {
                assert_eq!(verdict(doubled(count, period), 1), u8::try_from(period).ok(), "{count} {period}");
            }
        }
        assert_eq!(verdict(doubled(23, 2), 1), None);
        assert_eq!(verdict(doubled(600, 3), 1), None);
        assert_eq!(verdict(doubled(600, 1), 1), None);
        assert_eq!(verdict([], 0), None);
    }

    #[test]
    fn a_dropped_frame_and_a_key_frame_in_between_do_not_hide_it() {
        let dropped = doubled(600, 4).enumerate().filter(|(index, _)| index % 97 != 0).map(|(_, size)| size);
        assert_eq!(verdict(dropped, 5), Some(4));
        let keyed =
            doubled(600, 2).enumerate().map(|(index, size)| if index % 61 == 1 { 40_000 } else { size });
        assert_eq!(verdict(keyed, 10), Some(2));
    }

    #[test]
    fn less_than_half_of_the_clip_is_not_enough() {
        let real = (0..400).map(|index| 9000 + index % 100);
        assert_eq!(verdict(real.clone().chain(doubled(256, 2)), 1), None);
        assert_eq!(verdict(real.chain(doubled(512, 2)), 1), Some(2));
    }

    #[test]
    fn layers_of_quality_are_no_pattern() {
        // Every second frame of a layered stream has a fifth of the bytes.
        assert_eq!(verdict((0..600).map(|index| if index % 2 == 0 { 10_000 } else { 2000 }), 1), None);
        // A still scene: key frames, and almost nothing between them.
        for period in [2_u32, 4, 8] {
            assert_eq!(verdict(doubled(600, period), u64::from(600 / period)), None);
        }
    }

    #[test]
    fn small_b_frames_are_no_pattern() {
        let mut repeats = Repeats::new();
        for pair in 0..300 {
            // Decoded: the frame shown second, then the one shown first.
            repeats.push(9000, 2 * pair + 1);
            repeats.push(60, 2 * pair);
        }
        assert_eq!(repeats.finish(1), None);
    }
}
