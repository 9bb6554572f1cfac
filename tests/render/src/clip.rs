//! The clips there are.

use crate::motion::bounds::Bounds;
use crate::motion::pogo::Pogo;
use crate::motion::{Contact, Motion};

/// Frames a second at which the files play. A phone stores its slow motion so,
/// which stretches the times by capture rate / stored rate.
pub const STORED_RATE_HZ: u32 = 30;

/// One rendered clip.
pub struct Clip {
    /// File name without its extension.
    pub stem: &'static str,
    /// What the figure does, in the trade's words.
    pub exercise: &'static str,
    /// Frames a second of the figure's time. The shutter is open for an
    /// instant: frame n shows the figure at n / rate.
    pub capture_rate_hz: u32,
    /// How many frames.
    pub frames: u32,
    /// What moves.
    pub motion: Box<dyn Motion>,
}

impl Clip {
    /// Name of the video file.
    #[must_use]
    pub fn file_name(&self) -> String {
        format!("{}.mp4", self.stem)
    }

    /// The instant a frame shows, in real seconds from frame 0.
    #[must_use]
    pub fn instant(&self, frame: u32) -> f64 {
        f64::from(frame) / f64::from(self.capture_rate_hz)
    }

    /// Whether this frame lies at or after the touchdown and before the
    /// toe-off: whether it shows this contact.
    #[must_use]
    pub fn shows(&self, contact: &Contact, frame: u32) -> bool {
        (self.first_frame_from(contact.touchdown_us)..self.first_frame_from(contact.toe_off_us))
            .contains(&frame)
    }

    /// The first frame at or after an instant, in whole numbers so that no
    /// rounding decides.
    #[must_use]
    pub fn first_frame_from(&self, instant_us: u32) -> u32 {
        let frames_e6 = u64::from(instant_us) * u64::from(self.capture_rate_hz);
        u32::try_from(frames_e6.div_ceil(1_000_000)).unwrap_or(u32::MAX)
    }
}

/// Every clip, in the order of their names.
#[must_use]
pub fn all() -> Vec<Clip> {
    vec![
        Clip {
            stem: "bounds-240",
            exercise: "alternate bounds",
            capture_rate_hz: 240,
            frames: 601,
            motion: Box::new(Bounds),
        },
        Clip {
            stem: "pogo-120",
            exercise: "pogo hops on two legs",
            capture_rate_hz: 120,
            frames: 326,
            motion: Box::new(Pogo),
        },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::motion::{Foot, Leg};

    /// A picture can only show on which side of a frame an event lies if the
    /// foot is clearly off in the frame beside it.
    #[test]
    fn no_event_hides_beside_a_frame_with_the_foot_off() {
        for clip in all() {
            for contact in clip.motion.contacts() {
                let phase = |us: u32| (f64::from(us) * 1e-6 * f64::from(clip.capture_rate_hz)).fract();
                assert!(phase(contact.touchdown_us) >= 0.3, "{} {contact:?}", clip.stem);
                assert!(phase(contact.toe_off_us) <= 0.7, "{} {contact:?}", clip.stem);
            }
        }
    }

    #[test]
    fn contacts_are_in_order_and_inside_the_clip() {
        for clip in all() {
            let mut last = 0;
            for contact in clip.motion.run_in().iter().chain(clip.motion.contacts()) {
                assert!(last < contact.touchdown_us && contact.touchdown_us < contact.toe_off_us);
                last = contact.toe_off_us;
            }
            assert!(clip.first_frame_from(last) < clip.frames);
        }
    }

    #[test]
    fn the_sole_is_on_the_ground_exactly_in_a_contact() {
        let lowest = |leg: &Leg| leg.tip.y;
        for clip in all() {
            for step in 0..clip.frames * 10 {
                // Off the tenths, so that no instant is an event.
                let t = (clip.instant(step) + 1e-5) / 10.0;
                let pose = clip.motion.pose(t);
                let on = |foot| {
                    clip.motion.run_in().iter().chain(clip.motion.contacts()).any(|c| {
                        (c.foot == foot || c.foot == Foot::Both)
                            && (f64::from(c.touchdown_us)..f64::from(c.toe_off_us)).contains(&(t * 1e6))
                    })
                };
                for (leg, foot) in [(&pose.left, Foot::Left), (&pose.right, Foot::Right)] {
                    assert!(leg.toe_lift >= 0.0 && leg.heel_lift >= 0.0, "{t} {leg:?}");
                    assert_eq!(lowest(leg) <= 0.0, on(foot), "{} {t} {leg:?}", clip.stem);
                    assert!(lowest(leg) >= 0.0, "{} {t} {leg:?}", clip.stem);
                }
            }
        }
    }

    #[test]
    fn no_leg_is_longer_than_a_leg() {
        for clip in all() {
            for frame in 0..clip.frames {
                let t = clip.instant(frame);
                let pose = clip.motion.pose(t);
                for leg in [&pose.left, &pose.right] {
                    let reach = pose.hip.distance(leg.ankle());
                    assert!(reach < 0.92, "{} {t:.3} s: {reach:.3} m", clip.stem);
                }
            }
        }
    }
}
