//! The frames of a clip as a person steps through them and as a decoder finds them.

use pitside_model::clip::TrackKind;

use super::record::{CropLook, FrameIndex, FrameLook, GapLook};
use crate::env::Env;
use crate::figure::decimal;
use crate::marking::{OpenClip, event_words};
use crate::text::Words;

/// Decoded frames that are held on either side of the one in the middle.
const AROUND: u32 = 20;

#[uniffi::export]
impl OpenClip {
    /// What stands around a frame, while the next mark is of the event that `foot` and
    /// `kind` name. `capture_mhz` is the rate that the person stated. Nothing is read from
    /// the file and no book is asked: a step is shown at once.
    #[must_use]
    pub fn look(&self, env: &Env, frame: u32, foot: &str, kind: &str, capture_mhz: Option<u32>) -> FrameLook {
        let words = Words::of(&env.language);
        let last = self.last_frame();
        let frame = frame.min(last);
        let at = |step: i64| u32::try_from(i64::from(frame) + step).ok().filter(|at| *at <= last);
        let time =
            |at: u32| self.seconds(at, capture_mhz).map_or_else(String::new, |s| decimal(&words, s, 4));
        let caption = |at: u32| {
            words.say("mark-caption", &[("frame", (&at.to_string()).into()), ("time", (&time(at)).into())])
        };
        let crop = |step: i64| {
            let frame = at(step);
            CropLook { frame, caption: frame.map_or_else(|| words.word("mark-outside"), caption) }
        };
        let what = match (foot.parse(), kind.parse()) {
            (Ok(foot), Ok(kind)) => event_words(&words, foot, kind),
            _ => String::new(),
        };
        let gap = |step: i64| {
            let (before, after) = (at(step), at(step + 1));
            let possible = before.is_some() && after.is_some();
            let (before, after) = (before.unwrap_or(frame), after.unwrap_or(frame));
            let numbers = [before.to_string(), after.to_string()];
            let spoken = match possible {
                true => words.say(
                    "marking-between",
                    &[
                        ("what", (&what).into()),
                        ("before", (&numbers[0]).into()),
                        ("after", (&numbers[1]).into()),
                    ],
                ),
                false => words.word("mark-no-gap"),
            };
            GapLook { before, after, possible, spoken }
        };
        let spoken = words.say(
            "mark-frame",
            &[
                ("frame", (&frame.to_string()).into()),
                ("time", (&time(frame)).into()),
                ("last", (&last.to_string()).into()),
            ],
        );
        FrameLook { frame, spoken, crops: [-1, 0, 1].map(crop).to_vec(), gaps: [-1, 0].map(gap).to_vec() }
    }

    /// The frames to hold decoded while `frame` is in the middle, the most wanted first:
    /// the three that are shown, then twenty in the direction of the steps, then
    /// twenty the other way.
    #[must_use]
    pub fn around(&self, frame: u32, back: bool) -> Vec<u32> {
        let last = self.last_frame();
        let frame = frame.min(last);
        let on = |step: u32| frame.checked_add(step).filter(|at| *at <= last);
        let behind = |step: u32| frame.checked_sub(step);
        let [first, then]: [&dyn Fn(u32) -> Option<u32>; 2] =
            if back { [&behind, &on] } else { [&on, &behind] };
        let near = [Some(frame), first(1), then(1)];
        let ahead = (2..=AROUND).map(first);
        let rest = (2..=AROUND).map(then);
        near.into_iter().chain(ahead).chain(rest).flatten().collect()
    }
}

impl OpenClip {
    pub(super) fn last_frame(&self) -> u32 {
        u32::try_from(self.clip().frames.ticks().len().saturating_sub(1)).unwrap_or(u32::MAX)
    }

    /// When a frame was, in seconds of the world from the first frame on; in seconds of the file where the
    /// clock is not known. `None` where there is no such frame.
    fn seconds(&self, frame: u32, capture_mhz: Option<u32>) -> Option<f64> {
        let frames = &self.clip().frames;
        let at = usize::try_from(frame).ok().and_then(|at| frames.ticks().get(at))?;
        let ticks = at.checked_sub(*frames.ticks().first()?)? as f64;
        Some(match self.pace(capture_mhz) {
            Some(pace) => ticks * pace.num as f64 / pace.den as f64,
            None => ticks / f64::from(frames.timescale()),
        })
    }

    /// What a decoder has to know.
    pub(super) fn index(&self) -> FrameIndex {
        let clip = self.clip();
        let frames = &clip.frames;
        let first = frames.ticks().first().copied().unwrap_or(0);
        let us = |tick: &i64| {
            let us =
                (i128::from(*tick) - i128::from(first)) * 1_000_000 / i128::from(frames.timescale().max(1));
            i64::try_from(us).unwrap_or(i64::MAX)
        };
        let before = clip.tracks.iter().take(clip.chosen);
        let video = before.filter(|track| track.kind == TrackKind::Video).count();
        FrameIndex {
            times_us: frames.ticks().iter().map(us).collect(),
            keys: self.keys().to_vec(),
            video: u32::try_from(video).unwrap_or(0),
            turn: clip.orientation.turn,
            mirrored: clip.orientation.mirrored,
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs::File;
    use std::path::Path;

    use super::*;

    fn opened(path: &str) -> OpenClip {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        OpenClip::read_for_pictures(File::open(root.join(path)).unwrap(), None).unwrap()
    }

    fn env() -> Env {
        Env { language: "en".into(), zone_min: 0, hour24: true, now_ms: 0 }
    }

    /// The drawn clip: 601 frames, stored at 30 a second, captured at 240.
    #[test]
    fn a_frame_is_told_with_its_real_time_and_the_gaps_beside_it() {
        let clip = opened("tests/render/clips/bounds-240.mp4");
        let look = clip.look(&env(), 165, "left", "touchdown", None);
        assert_eq!(look.spoken, "Frame 165, 0.6875 s; the last is 600");
        let frames: Vec<_> = look.crops.iter().map(|crop| crop.frame).collect();
        assert_eq!(frames, [Some(164), Some(165), Some(166)]);
        assert_eq!(look.crops[1].caption, "165 · 0.6875 s");
        assert_eq!(look.gaps[0].spoken, "Touchdown, left: between frames 164 and 165");
        assert_eq!((look.gaps[1].before, look.gaps[1].after), (165, 166));
        // Stated at half the rate, the same frame is twice as late.
        let stated = clip.look(&env(), 165, "left", "touchdown", Some(120_000));
        assert_eq!(stated.crops[1].caption, "165 · 1.3750 s");
    }

    #[test]
    fn at_its_ends_a_clip_has_one_gap() {
        let clip = opened("tests/render/clips/bounds-240.mp4");
        let first = clip.look(&env(), 0, "left", "touchdown", None);
        assert_eq!((first.crops[0].frame, first.crops[0].caption.as_str()), (None, "outside the clip"));
        assert_eq!(first.gaps.iter().map(|gap| gap.possible).collect::<Vec<_>>(), [false, true]);
        let last = clip.look(&env(), u32::MAX, "left", "toe-off", None);
        assert_eq!((last.frame, last.crops[2].frame), (600, None));
        assert_eq!(last.gaps.iter().map(|gap| gap.possible).collect::<Vec<_>>(), [true, false]);
    }

    #[test]
    fn decoded_first_is_what_is_shown_then_where_the_person_goes() {
        let clip = opened("tests/render/clips/bounds-240.mp4");
        let on = clip.around(100, false);
        assert_eq!((on.len(), &on[..5]), (41, &[100, 101, 99, 102, 103][..]));
        assert_eq!(&clip.around(100, true)[..5], &[100, 99, 101, 98, 97]);
        assert_eq!(clip.around(0, true).len(), 21);
        assert_eq!(clip.around(u32::MAX, false)[..3], [600, 599, 598]);
        let short = opened("tests/published/data/clips/sample_android_slow_motion.mp4");
        assert_eq!(short.around(3, false), [3, 4, 2, 5, 6, 1, 0]);
    }

    /// A phone's clip; its times in microseconds are those of
    /// `sample_android_slow_motion.reference-times.txt`.
    #[test]
    fn a_decoder_is_told_times_and_where_it_can_begin() {
        let index = opened("tests/published/data/clips/sample_android_slow_motion.mp4").index();
        assert_eq!(index.times_us, [0, 325_344, 358_677, 392_011, 425_344, 458_677, 492_011]);
        assert_eq!((index.keys.first(), index.video, index.turn), (Some(&0), 0, 0));
        // Sound stands before the video in this one.
        let second = opened("tests/published/data/clips/sample_sef_slow_motion.mp4").index();
        assert_eq!((second.video, second.times_us.len()), (0, 64));
        // As `ffprobe -show_entries packet=pts,flags` tells them: every 60 frames.
        let drawn = opened("tests/render/clips/bounds-240.mp4").index();
        assert_eq!(drawn.keys, (0..=600).step_by(60).collect::<Vec<_>>());
    }
}
