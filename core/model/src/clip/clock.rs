//! Whether the times of a clip are seconds of the world.
//!
//! A phone that films 240 frames a second may store them with their real
//! times, or stretched to 30 a second, or with a part slowed inside the file.
//! Nothing but the file and the person can tell which, so the answer comes
//! with its evidence, and "unknown" is an answer.
//!
//! The rule, with r the median rate of the stored times and c the capture
//! rate: c within 5 % of r is real; c of at least 1.5 r is stretched by c/r;
//! no c and r of at least 100 a second is real; a trailer that says that a part was
//! recorded slowed is mixed; everything else is unknown.

use super::Clip;
use super::capture::CaptureTag;
use super::rate::{Rate, thousandths};
pub use crate::facts::Pace;

impl Pace {
    /// `num / den` seconds a tick; `None` where one of them is 0.
    pub fn new(num: u64, den: u64) -> Option<Self> {
        (num > 0 && den > 0).then_some(Self { num, den })
    }
}

/// What the times of a clip are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClockKind {
    /// Seconds of the world.
    Real,
    /// Slowed evenly: the stored rate is a fraction of the capture rate.
    Stretched,
    /// Slowed in a part of the clip only.
    Mixed,
    /// Nothing tells.
    Unknown,
}

impl ClockKind {
    /// The word for it: `real`, `stretched`, `mixed`, `unknown`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Real => "real",
            Self::Stretched => "stretched",
            Self::Mixed => "mixed",
            Self::Unknown => "unknown",
        }
    }
}

/// The decision about a clip's clock, with what it rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clock {
    /// What the times are.
    pub kind: ClockKind,
    /// The capture rate that was used; `None` where nothing says it.
    pub capture: Option<Rate>,
    /// Real seconds a tick; `None` where the clock is mixed or unknown.
    pub pace: Option<Pace>,
    /// What was seen and what follows from it, as sentences.
    pub evidence: Vec<String>,
    /// What may make the times other than they look, as sentences.
    pub warnings: Vec<String>,
}

impl Clock {
    /// Decides from the frame times, what the file says, and what a person
    /// says (`stated`, which wins over the file).
    pub(super) fn decide(clip: &Clip, stated: Option<Rate>) -> Self {
        let frames = &clip.frames;
        let mut evidence = Vec::new();
        let stored = frames.median_step().map(|step| Stored {
            timescale: u128::from(frames.timescale()),
            step: u128::from(step.unsigned_abs()),
        });
        evidence.push(match &stored {
            Some(stored) => {
                let steps = frames.ticks().len() - 1;
                let noun = if steps == 1 { "step" } else { "steps" };
                format!(
                    "The stored times run at {} frames a second (median of {steps} {noun}).",
                    stored.shown()
                )
            }
            None => "The stored times have no rate: fewer than two frames, or most frames share one time."
                .to_owned(),
        });
        let capture = capture_rate(&clip.capture, stated, &mut evidence);
        let (kind, pace) = match (&stored, capture) {
            _ if !frames.steady_edits() => {
                evidence.push(
                    "The edit list plays a part at another speed, so the times of one part are not those of another."
                        .to_owned(),
                );
                (ClockKind::Mixed, None)
            }
            _ if clip.slowed_part => {
                evidence.push(
                    "The file's trailer says that a part was recorded slowed, so the times of one part are not those of another."
                        .to_owned(),
                );
                (ClockKind::Mixed, None)
            }
            (None, _) => (ClockKind::Unknown, None),
            (Some(_), Capture::Disputed) => (ClockKind::Unknown, None),
            (Some(stored), Capture::Unsaid) if stored.at_least_hz(100) => {
                evidence.push(
                    "Nothing says that it was slowed, and 100 or more stored frames a second are no playback rate: the times are real."
                        .to_owned(),
                );
                (ClockKind::Real, Pace::new(1, u64::from(frames.timescale())))
            }
            (Some(_), Capture::Unsaid) => {
                evidence.push(
                    "Nothing says how many frames a second were captured: it may be a plain clip or a slowed one. The capture rate, stated by whoever filmed it, settles it; so does a ball filmed falling from a measured height, or a filmed running clock."
                        .to_owned(),
                );
                (ClockKind::Unknown, None)
            }
            (Some(stored), Capture::Said(rate)) => stored.against(rate, frames.timescale(), &mut evidence),
        };
        Self {
            kind,
            capture: match capture {
                Capture::Said(rate) => Some(rate),
                Capture::Unsaid | Capture::Disputed => None,
            },
            pace,
            evidence,
            warnings: warnings(clip, stored.as_ref()),
        }
    }
}

fn warnings(clip: &Clip, stored: Option<&Stored>) -> Vec<String> {
    let interpolated = clip.interpolated.then(|| {
        "The file's trailer says that frames were interpolated: such a frame shows no moment that was filmed."
            .to_owned()
    });
    clip.frames.repeated().map(|times| repeated(times, stored)).into_iter().chain(interpolated).collect()
}

/// What to say where pictures are repeated or made in between.
fn repeated(times: u8, stored: Option<&Stored>) -> String {
    let rate = match stored {
        Some(stored) => format!(
            " The camera may have taken {} a second of the {} that are stored.",
            Stored { step: stored.step * u128::from(times), ..*stored }.shown(),
            stored.shown()
        ),
        None => String::new(),
    };
    format!(
        "Of every {times} frames only one holds a picture worth the name: the others may be repeated or made \
         by a program.{rate} A contact cannot be timed finer than the camera saw it. This is a rule of ours, \
         from the sizes of the frames alone."
    )
}

/// What is known of the capture rate.
#[derive(Clone, Copy)]
enum Capture {
    Said(Rate),
    Unsaid,
    /// Two places in the file disagree.
    Disputed,
}

fn capture_rate(tags: &[CaptureTag], stated: Option<Rate>, evidence: &mut Vec<String>) -> Capture {
    let mut from_file: Option<Rate> = None;
    let mut disputed = false;
    for tag in tags {
        let name = tag.source.name();
        match tag.rate {
            Some(rate) => {
                evidence.push(format!("The clip's {name} says {rate} frames a second captured."));
                match from_file {
                    Some(first) => disputed |= !near(first, rate),
                    None => from_file = Some(rate),
                }
            }
            None => evidence.push(format!("The clip's {name} holds no usable rate and is passed over.")),
        }
    }
    match (stated, from_file) {
        (Some(stated), Some(file)) if near(stated, file) => {
            evidence.push(format!("Stated capture rate: {stated} frames a second, as the clip says."));
            Capture::Said(stated)
        }
        (Some(stated), Some(_)) => {
            evidence.push(format!(
                "Stated capture rate: {stated} frames a second. It is used in place of what the clip says."
            ));
            Capture::Said(stated)
        }
        (Some(stated), None) => {
            evidence.push(format!("Stated capture rate: {stated} frames a second."));
            Capture::Said(stated)
        }
        (None, Some(_)) if disputed => {
            evidence.push(
                "These rates contradict each other. The capture rate, stated by whoever filmed it, settles it."
                    .to_owned(),
            );
            Capture::Disputed
        }
        (None, Some(file)) => Capture::Said(file),
        (None, None) => Capture::Unsaid,
    }
}

/// Whether two rates are within 5 % of each other.
fn near(one: Rate, other: Rate) -> bool {
    let (one, other) = (one.millihertz(), other.millihertz());
    one.abs_diff(other) * 20 <= one.max(other)
}

/// The median rate of the stored times: `timescale / step` frames a second.
struct Stored {
    timescale: u128,
    step: u128,
}

impl Stored {
    fn at_least_hz(&self, hz: u128) -> bool {
        self.timescale >= hz * self.step
    }

    fn shown(&self) -> String {
        let millihertz = (2000 * self.timescale + self.step) / (2 * self.step);
        thousandths(u64::try_from(millihertz).unwrap_or(u64::MAX))
    }

    /// The rule where a capture rate is known. Both rates are compared as
    /// whole numbers, times 1000 × step.
    fn against(&self, rate: Rate, timescale: u32, evidence: &mut Vec<String>) -> (ClockKind, Option<Pace>) {
        let capture = u128::from(rate.millihertz()) * self.step;
        let stored = 1000 * self.timescale;
        let shown = self.shown();
        if capture.abs_diff(stored) * 20 <= stored {
            evidence
                .push(format!("{rate} captured and {shown} stored are the same to 5 %: the times are real."));
            return (ClockKind::Real, Pace::new(1, u64::from(timescale)));
        }
        if capture < stored {
            evidence.push(format!(
                "{rate} captured but {shown} stored: more frames than were captured cannot be, so the capture rate or the times are wrong."
            ));
            return (ClockKind::Unknown, None);
        }
        if 2 * capture < 3 * stored {
            evidence.push(format!(
                "{rate} captured and {shown} stored: too far apart for real times, too near for a slowed clip."
            ));
            return (ClockKind::Unknown, None);
        }
        let den = u64::try_from(capture).ok();
        match den.and_then(|den| Pace::new(1000, den)) {
            Some(pace) => {
                let slowed = u64::try_from(1000 * capture / stored).unwrap_or(u64::MAX);
                evidence.push(format!(
                    "{rate} captured and {shown} stored: the clip is slowed {} times.",
                    thousandths(slowed / 10 * 10)
                ));
                (ClockKind::Stretched, Some(pace))
            }
            None => {
                evidence.push("The steps between the frames are too long for any clip.".to_owned());
                (ClockKind::Unknown, None)
            }
        }
    }
}
