//! `pitside contact`: one contact between two marks on a clip.

use std::io::Write;
use std::path::PathBuf;

use pitside_model::clip::{Clip, Clock, ClockKind, Rate};
use pitside_model::timing::{Event, EventKind, Foot, Scale, Timed, TimingError, contact, rounded};
use serde::Serialize;

use super::{FILE_HINT, RATE_HELP, Unreadable, clip_hint, parse_rate, read_clip};
use crate::failure::{Exit, Failure};

const JSON_HELP: &str = "\
JSON keys (--json), all in milliseconds: contact_ms, u_ms (standard uncertainty),
half_width_95_ms and bound_ms of frames and clock, judging_u_ms of the judging by eye,
total_u_ms of all three; frame_u_ms, frame_bound_ms and clock_u_ms are the parts.
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
    /// Print JSON
    #[arg(long)]
    json: bool,
}

/// Why there is no time, and what a person can do about it.
struct Refusal {
    reason: String,
    hint: &'static str,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let timed = match read_clip(&args.file, args.track) {
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
    match timed {
        Ok(timed) if args.json => {
            serde_json::to_writer(&mut *out, &Report::from(&timed))?;
            writeln!(out)?;
            Ok(())
        }
        Ok(timed) => Ok(print(&timed, out)?),
        Err(refusal) if args.json => {
            serde_json::to_writer(&mut *out, &serde_json::json!({ "refused": refusal.reason }))?;
            writeln!(out)?;
            Err(Failure::told(Exit::Refused))
        }
        Err(refusal) => Err(Failure::new(Exit::Refused, refusal.reason).hint(refusal.hint)),
    }
}

fn time(args: &Args, clip: &Clip) -> Result<Timed, Refusal> {
    let on = event(clip, EventKind::Touchdown, args.on, args.on_before)?;
    let off = event(clip, EventKind::ToeOff, args.off, args.off_before)?;
    let clock = clip.clock(args.capture_rate);
    let scale = scale(clip, &clock)?;
    contact(&on, &off, &scale).map_err(marks)
}

/// The scale of a clip whose clock gives times, or why it gives none.
fn scale(clip: &Clip, clock: &Clock) -> Result<Scale, Refusal> {
    match (clock.pace, clip.frames.median_step()) {
        (Some(pace), Some(step)) => {
            Ok(Scale { rounded: rounded(clip.frames.ticks()), ..Scale::new(pace, step) })
        }
        _ => Err(Refusal {
            reason: format!("the clock of this clip is {}: {}", clock.kind.word(), clock.evidence.join(" ")),
            hint: match clock.kind {
                ClockKind::Mixed => "film at a high rate without a slow-motion effect",
                _ => "state the capture rate with --capture-rate if you know it",
            },
        }),
    }
}

/// One event from its marks. Which foot it was does not change its time.
fn event(clip: &Clip, kind: EventKind, after: i64, before: Option<i64>) -> Result<Event, Refusal> {
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

/// What a person can do about marks that give no time.
const MARKS_HINT: &str = "frames count from 0 in display order; --on is the first frame with the foot on the ground, --off the first with it off again";

fn marks(error: TimingError) -> Refusal {
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
}

impl From<&Timed> for Report {
    fn from(timed: &Timed) -> Self {
        Self {
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

fn print(timed: &Timed, out: &mut dyn Write) -> std::io::Result<()> {
    let ms = |seconds: f64| seconds * 1000.0;
    writeln!(
        out,
        "{:.3} s ± {:.0} ms (frames and clock) · with judging ± {:.0} ms",
        timed.seconds,
        ms(timed.half_width_95()),
        ms(timed.total_half_width_95())
    )?;
    writeln!(out)?;
    let rows = [
        ("frames", timed.frame_u, "the moment lies between two frames"),
        ("clock", timed.clock_u, "0.1 % of the time; our estimate, no source"),
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
