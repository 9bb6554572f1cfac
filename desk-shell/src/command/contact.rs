//! `pitside contact`: one contact between two marks on a clip.

use std::io::Write;
use std::path::PathBuf;

use pitside_model::clip::{Clip, ClockKind, Rate};
use pitside_model::timing::calibration::{self, Calibration, CalibrationError, Measured};
use pitside_model::timing::decision::{self, Answer, Below};
use pitside_model::timing::{Event, EventKind, Foot, Scale, Timed, TimingError, contact, rounded};
use serde::Serialize;

use super::{FILE_HINT, RATE_HELP, Unreadable, clip_hint, parse_rate, read_clip};
use crate::failure::{Exit, Failure};

const JSON_HELP: &str = "\
JSON keys (--json), all in milliseconds: contact_ms, u_ms (standard uncertainty),
half_width_95_ms and bound_ms of frames and clock, judging_u_ms of the judging by eye,
total_u_ms of all three; frame_u_ms, frame_bound_ms and clock_u_ms are the parts.
clock_evidence (sentences): only where the clock was measured in the clip.
warnings (sentences): only where the frames may not be what they seem.
With --below: below_probability, below (\"yes\", \"no\", \"cannot tell\"), would_tell_hz and
would_tell_contacts (what would tell where this cannot; else null).
Where the clip or the marks give no time: {\"refused\": \"...\"} and exit code 3.";

/// The arguments of `pitside contact`.
#[derive(clap::Args)]
#[command(after_help = JSON_HELP)]
pub(crate) struct Args {
    /// The clip: an MP4 or MOV file
    file: PathBuf,
    /// First frame surely with the foot on the ground (frames count from 0)
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    on: i64,
    /// First frame surely with the foot off the ground again
    #[arg(long, value_name = "M", allow_negative_numbers = true)]
    off: i64,
    /// Last frame surely before the touchdown, where that is not N - 1
    #[arg(long, value_name = "K", allow_negative_numbers = true)]
    on_before: Option<i64>,
    /// Last frame surely before the toe-off, where that is not M - 1
    #[arg(long, value_name = "L", allow_negative_numbers = true)]
    off_before: Option<i64>,
    #[arg(long, value_name = "HZ", value_parser = parse_rate, help = RATE_HELP)]
    capture_rate: Option<Rate>,
    /// The number of the video track, where not the one that a player shows
    #[arg(long, value_name = "ID")]
    track: Option<u32>,
    /// A time in milliseconds: say whether the contact is below it
    #[arg(long, value_name = "MS", value_parser = parse_target)]
    below: Option<f64>,
    /// Print JSON
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    measured: MeasuredClock,
}

/// A clock that is measured in the clip, in a part that is slowed evenly and has the
/// contact too.
#[derive(clap::Args)]
#[command(next_help_heading = "A clock that is unknown, measured in the same evenly slowed part")]
struct MeasuredClock {
    /// Height in metres from which a small heavy ball is let fall
    #[arg(long, value_name = "METRES", requires_all = ["ball_released", "ball_landed"], conflicts_with = "capture_rate")]
    ball_from: Option<f64>,
    /// How well that height is known (standard uncertainty), in metres
    #[arg(long, value_name = "METRES", default_value_t = 0.01, requires = "ball_from")]
    ball_uncertainty: f64,
    /// First frame with the ball surely out of the hand
    #[arg(long, value_name = "N", requires = "ball_from")]
    ball_released: Option<i64>,
    /// First frame with the ball surely on the ground
    #[arg(long, value_name = "M", requires = "ball_from")]
    ball_landed: Option<i64>,
    /// What a filmed clock shows at a frame, in seconds; give it twice
    #[arg(long, value_name = "SECONDS@FRAME", num_args = 1, value_parser = parse_reading, conflicts_with_all = ["ball_from", "capture_rate"])]
    clock_shows: Vec<(f64, usize)>,
    /// The last digit of that clock in seconds
    #[arg(long, value_name = "SECONDS", default_value_t = 0.01, requires = "clock_shows")]
    clock_digit: f64,
}

/// Why there is no time, and what a person can do about it.
pub(super) struct Refusal {
    pub(super) reason: String,
    pub(super) hint: &'static str,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let answered = match read_clip(&args.file, args.track) {
        Ok(clip) => time(args, &clip),
        Err(Unreadable::Content(error)) => {
            Err(Refusal { reason: error.to_string(), hint: clip_hint(&error) })
        }
        Err(Unreadable::File(wrong)) => {
            if args.json {
                serde_json::to_writer(&mut *out, &serde_json::json!({ "error": wrong }))?;
                writeln!(out)?;
            }
            return Err(Failure::new(Exit::NotAClip, wrong).hint(FILE_HINT));
        }
    };
    match answered {
        Ok(answered) if args.json => {
            serde_json::to_writer(&mut *out, &Report::from(&answered))?;
            writeln!(out)?;
            Ok(())
        }
        Ok(answered) => Ok(print(&answered, out)?),
        Err(refusal) if args.json => {
            serde_json::to_writer(&mut *out, &serde_json::json!({ "refused": refusal.reason }))?;
            writeln!(out)?;
            Err(Failure::told(Exit::Refused))
        }
        Err(refusal) => Err(Failure::new(Exit::Refused, refusal.reason).hint(refusal.hint)),
    }
}

/// A contact, with what was asked about it.
struct Answered {
    timed: Timed,
    /// What a measured clock rests on.
    clock: Vec<String>,
    /// Why the frames may not be what they seem.
    warnings: Vec<String>,
    /// The target in seconds and what may be said of it.
    below: Option<(f64, Below)>,
}

fn time(args: &Args, clip: &Clip) -> Result<Answered, Refusal> {
    let on = event(clip, EventKind::Touchdown, args.on, args.on_before)?;
    let off = event(clip, EventKind::ToeOff, args.off, args.off_before)?;
    let (scale, clock) = scale(clip, args.capture_rate, args.measured.read(clip)?)?;
    let timed = contact(&on, &off, &scale).map_err(marks)?;
    let below = args.below.map(|target| (target, decision::below(&timed, target, scale.frame_seconds(), 1)));
    let warnings = clip.clock(args.capture_rate).warnings;
    Ok(Answered { timed, clock, warnings, below })
}

/// The scale of a clip whose clock gives times or was measured in it, with what a
/// measured one rests on; or why there is none.
pub(super) fn scale(
    clip: &Clip,
    capture_rate: Option<Rate>,
    measured: Option<Calibration>,
) -> Result<(Scale, Vec<String>), Refusal> {
    let clock = clip.clock(capture_rate);
    let no_time = || Refusal {
        reason: format!("the clock of this clip is {}: {}", clock.kind.word(), clock.evidence.join(" ")),
        hint: match clock.kind {
            ClockKind::Mixed => "film at a high rate without a slow-motion effect",
            _ => "state the capture rate with --capture-rate if you know it, or measure it: see --help",
        },
    };
    let step = clip.frames.median_step().ok_or_else(no_time)?;
    let with = |pace| Scale { rounded: rounded(clip.frames.ticks()), ..Scale::new(pace, step) };
    match (measured, clock.pace) {
        (Some(found), _) => Ok((Scale { clock_u: found.relative_u, ..with(found.pace) }, found.evidence)),
        (None, Some(pace)) => Ok((with(pace), Vec::new())),
        (None, None) => Err(no_time()),
    }
}

impl MeasuredClock {
    /// The scale measured, where one was asked for.
    fn read(&self, clip: &Clip) -> Result<Option<Calibration>, Refusal> {
        let refused = |error: CalibrationError| Refusal { reason: error.to_string(), hint: MEASURED_HINT };
        if let (Some(value), Some(released), Some(landed)) =
            (self.ball_from, self.ball_released, self.ball_landed)
        {
            // A ball is told from the hand as a foot from the ground.
            let released = event(clip, EventKind::ToeOff, released, None)?.bracket;
            let landed = event(clip, EventKind::Touchdown, landed, None)?.bracket;
            let height = Measured { value, u: self.ball_uncertainty };
            return calibration::falling_ball(released, landed, height).map(Some).map_err(refused);
        }
        match self.clock_shows.as_slice() {
            [] => Ok(None),
            [first, second] => {
                let read = |(seconds, frame): (f64, usize)| {
                    // What a frame shows was there until the next one.
                    let next = i64::try_from(frame).unwrap_or(i64::MAX).saturating_add(1);
                    Ok((event(clip, EventKind::Touchdown, next, None)?.bracket, seconds))
                };
                calibration::filmed_clock(read(*first)?, read(*second)?, self.clock_digit)
                    .map(Some)
                    .map_err(refused)
            }
            _ => Err(Refusal {
                reason: "a filmed clock needs two readings".to_owned(),
                hint: "give --clock-shows SECONDS@FRAME twice, the earlier one first",
            }),
        }
    }
}

/// One event from its marks. Which foot it was does not change its time.
pub(super) fn event(clip: &Clip, kind: EventKind, after: i64, before: Option<i64>) -> Result<Event, Refusal> {
    let frames = clip.frames.ticks();
    let frame = |mark: i64| {
        usize::try_from(mark).map_err(|_| Refusal {
            reason: format!("the {kind} is marked at frame {mark}, but frames count from 0"),
            hint: MARKS_HINT,
        })
    };
    let before = before.map(frame).transpose()?;
    Event::marked(frames, Foot::Both, kind, frame(after)?, before).map_err(marks)
}

/// What a person can do about a clock that cannot be measured so.
const MEASURED_HINT: &str =
    "choose two moments far apart, in the same evenly slowed part as the contact, the earlier one first";

/// What a person can do about marks that give no time.
const MARKS_HINT: &str = "frames count from 0 in display order; --on is the first frame with the foot on the ground, --off the first with it off again";

pub(super) fn marks(error: TimingError) -> Refusal {
    Refusal { reason: error.to_string(), hint: MARKS_HINT }
}

/// The answer as JSON. The keys are documented in `--help` and stay.
#[derive(Serialize)]
struct Report {
    contact_ms: f64,
    u_ms: f64,
    half_width_95_ms: f64,
    bound_ms: f64,
    judging_u_ms: f64,
    total_u_ms: f64,
    frame_u_ms: f64,
    frame_bound_ms: f64,
    clock_u_ms: f64,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    clock_evidence: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    warnings: Vec<String>,
    #[serde(flatten)]
    below: Option<BelowReport>,
}

#[derive(Serialize)]
struct BelowReport {
    below_probability: f64,
    below: &'static str,
    would_tell_hz: Option<f64>,
    would_tell_contacts: Option<u32>,
}

fn word(answer: Answer) -> &'static str {
    match answer {
        Answer::Yes => "yes",
        Answer::No => "no",
        Answer::CannotTell => "cannot tell",
    }
}

impl From<&Answered> for Report {
    fn from(Answered { timed, clock, warnings, below }: &Answered) -> Self {
        let below = below.as_ref().map(|(_, said)| BelowReport {
            below_probability: said.probability,
            below: word(said.answer),
            would_tell_hz: said.would_tell.frames_a_second,
            would_tell_contacts: said.would_tell.contacts,
        });
        Self {
            below,
            clock_evidence: clock.clone(),
            warnings: warnings.clone(),
            contact_ms: timed.seconds * 1000.0,
            u_ms: timed.u() * 1000.0,
            half_width_95_ms: timed.half_width_95() * 1000.0,
            bound_ms: timed.bound() * 1000.0,
            judging_u_ms: timed.judging_u * 1000.0,
            total_u_ms: timed.total_u() * 1000.0,
            frame_u_ms: timed.frame_u * 1000.0,
            frame_bound_ms: timed.frame_bound * 1000.0,
            clock_u_ms: timed.clock_u * 1000.0,
        }
    }
}

fn print(answered: &Answered, out: &mut dyn Write) -> std::io::Result<()> {
    let timed = &answered.timed;
    let ms = |seconds: f64| seconds * 1000.0;
    writeln!(
        out,
        "{:.3} s ± {:.0} ms (frames and clock) · with judging ± {:.0} ms",
        timed.seconds,
        ms(timed.half_width_95()),
        ms(timed.total_half_width_95())
    )?;
    if let Some((target, said)) = &answered.below {
        writeln!(out, "{}", below_sentence(*target, said))?;
    }
    for line in &answered.warnings {
        writeln!(out, "warning: {line}")?;
    }
    for sentence in &answered.clock {
        writeln!(out, "{sentence}")?;
    }
    writeln!(out)?;
    let rows = [
        ("frames", timed.frame_u, "the moment lies between two frames"),
        (
            "clock",
            timed.clock_u,
            if answered.clock.is_empty() {
                "0.1 % of the time; our estimate, no source"
            } else {
                "as measured"
            },
        ),
        (
            "judging",
            timed.judging_u,
            "one frame either way at each event not widened; our estimate, no source",
        ),
        ("all three", timed.total_u(), ""),
    ];
    writeln!(out, "standard uncertainty")?;
    for (name, u, what) in rows {
        let line = format!("  {name:<10}{:6.2} ms   {what}", ms(u));
        writeln!(out, "{}", line.trim_end())?;
    }
    writeln!(
        out,
        "± is the 95 % half-width. Frames and clock together stay within ± {:.1} ms.",
        ms(timed.bound())
    )?;
    writeln!(out, "A video gives times, and from them a mean force at most. It never gives an impact peak.")
}

/// What may be said of a target, in words.
fn below_sentence(target: f64, said: &Below) -> String {
    let share = said.probability * 100.0;
    match said.answer {
        Answer::Yes => format!("Below {target:.3} s: yes, with {share:.1} %."),
        Answer::No => format!("Below {target:.3} s: no; {share:.1} % for it."),
        Answer::CannotTell => {
            let rate = said.would_tell.frames_a_second.map(|rate| format!("{rate:.0} frames a second"));
            let contacts = said.would_tell.contacts.map(|n| format!("{n} contacts at this rate"));
            let would = match [rate, contacts].into_iter().flatten().collect::<Vec<_>>().as_slice() {
                [] => "It is too near for any camera here.".to_owned(),
                ways => format!("Would tell: {}.", ways.join(", or ")),
            };
            format!("Below {target:.3} s: this camera cannot tell ({share:.1} % for it). {would}")
        }
    }
}

/// A target from the command line: milliseconds, as seconds.
fn parse_target(text: &str) -> Result<f64, String> {
    let ms = text.parse::<f64>().ok().filter(|ms| (1.0..=10_000.0).contains(ms));
    ms.map(|ms| ms / 1000.0).ok_or_else(|| "expected milliseconds from 1 to 10000".to_owned())
}

/// A reading of a filmed clock from the command line.
fn parse_reading(text: &str) -> Result<(f64, usize), String> {
    let read = || {
        let (seconds, frame) = text.split_once('@')?;
        let seconds = seconds.parse::<f64>().ok().filter(|seconds| seconds.is_finite())?;
        Some((seconds, frame.parse().ok()?))
    };
    read().ok_or_else(|| "expected what the clock shows and the frame, such as 3.25@120".to_owned())
}
