//! `pitside clip`: the frame times of a clip and its clock.

use std::io::Write;
use std::path::PathBuf;

use pitside_model::clip::{Clip, Clock, ClockKind, Rate, TrackKind};
use serde::Serialize;

use super::{FILE_HINT, RATE_HELP, Unreadable, clip_hint, parse_rate, read_clip};
use crate::failure::{Exit, Failure};

const JSON_HELP: &str = "\
JSON keys (--json): clock (\"real\", \"stretched\", \"mixed\", \"unknown\"), capture_rate_hz
(null where nothing says it), timescale (ticks a second), frames (ticks of every stored
frame in display order), shown (how many of them the edit list shows), rotation_degrees
(clockwise: 0, 90, 180, 270), mirrored, evidence and warnings (sentences), median_rate_hz and
median_step_ticks (of the stored times; null for a single frame), gaps ({after_frame,
ticks}), tracks ({id, kind, enabled, timescale, samples, read}), seconds_per_tick
([numerator, denominator], null where the clock gives no time). A file that is not
readable gives {\"error\": \"...\"} and exit code 4.";

/// The arguments of `pitside clip`.
#[derive(clap::Args)]
#[command(after_help = JSON_HELP)]
pub(crate) struct Args {
    /// The clip: an MP4 or MOV file
    file: PathBuf,
    #[arg(long, value_name = "HZ", value_parser = parse_rate, help = RATE_HELP)]
    capture_rate: Option<Rate>,
    /// The number of the video track, where not the one that a player shows
    #[arg(long, value_name = "ID")]
    track: Option<u32>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let clip = match read_clip(&args.file, args.track) {
        Ok(clip) => clip,
        Err(unreadable) => {
            let (wrong, hint) = match unreadable {
                Unreadable::File(wrong) => (wrong, FILE_HINT),
                Unreadable::Content(error) => {
                    (format!("{}: {error}", args.file.display()), clip_hint(&error))
                }
            };
            if args.json {
                serde_json::to_writer(&mut *out, &serde_json::json!({ "error": wrong }))?;
                writeln!(out)?;
            }
            return Err(Failure::new(Exit::NotAClip, wrong).hint(hint));
        }
    };
    let clock = clip.clock(args.capture_rate);
    if args.json {
        serde_json::to_writer(&mut *out, &Report::new(&clip, &clock))?;
        writeln!(out)?;
    } else {
        print(&clip, &clock, out)?;
    }
    Ok(())
}

/// The answer as JSON. The keys are documented in `--help` and stay.
#[derive(Serialize)]
struct Report<'a> {
    clock: &'static str,
    capture_rate_hz: Option<f64>,
    timescale: u32,
    frames: &'a [i64],
    shown: usize,
    rotation_degrees: u16,
    mirrored: bool,
    evidence: &'a [String],
    warnings: &'a [String],
    median_rate_hz: Option<f64>,
    median_step_ticks: Option<i64>,
    gaps: Vec<GapReport>,
    tracks: Vec<TrackReport>,
    seconds_per_tick: Option<[u64; 2]>,
}

#[derive(Serialize)]
struct GapReport {
    after_frame: usize,
    ticks: i64,
}

#[derive(Serialize)]
struct TrackReport {
    id: u32,
    kind: String,
    enabled: bool,
    timescale: u32,
    samples: u64,
    read: bool,
}

impl<'a> Report<'a> {
    fn new(clip: &'a Clip, clock: &'a Clock) -> Self {
        let frames = &clip.frames;
        Self {
            clock: clock.kind.word(),
            capture_rate_hz: clock.capture.map(Rate::hz),
            timescale: frames.timescale(),
            frames: frames.ticks(),
            shown: frames.shown(),
            rotation_degrees: clip.orientation.turn,
            mirrored: clip.orientation.mirrored,
            evidence: &clock.evidence,
            warnings: &clock.warnings,
            median_rate_hz: median_rate(clip),
            median_step_ticks: frames.median_step(),
            gaps: frames
                .gaps()
                .iter()
                .map(|gap| GapReport { after_frame: gap.after, ticks: gap.ticks })
                .collect(),
            tracks: clip
                .tracks
                .iter()
                .enumerate()
                .map(|(index, track)| TrackReport {
                    id: track.id,
                    kind: kind_word(track.kind),
                    enabled: track.enabled,
                    timescale: track.timescale,
                    samples: track.samples,
                    read: index == clip.chosen,
                })
                .collect(),
            seconds_per_tick: clock.pace.map(|pace| [pace.num, pace.den]),
        }
    }
}

fn median_rate(clip: &Clip) -> Option<f64> {
    let step = clip.frames.median_step()?;
    Some(f64::from(clip.frames.timescale()) / step as f64)
}

fn kind_word(kind: TrackKind) -> String {
    match kind {
        TrackKind::Video => "video".to_owned(),
        TrackKind::Sound => "sound".to_owned(),
        TrackKind::Other(code) => code.to_string(),
    }
}

/// Gaps listed in full; more are counted.
const GAPS_SHOWN: usize = 8;

fn print(clip: &Clip, clock: &Clock, out: &mut dyn Write) -> std::io::Result<()> {
    let frames = &clip.frames;
    let words = match clock.kind {
        ClockKind::Real => "real: the times are seconds of the world",
        ClockKind::Stretched => "stretched: slowed evenly, real times follow from the capture rate",
        ClockKind::Mixed => "mixed: a part is slowed, so no contact can be timed",
        ClockKind::Unknown => "unknown: no contact can be timed until it is settled",
    };
    writeln!(out, "clock     {words}")?;
    for line in &clock.evidence {
        writeln!(out, "          - {line}")?;
    }
    for line in &clock.warnings {
        writeln!(out, "warning   {line}")?;
    }
    let count = frames.ticks().len();
    writeln!(
        out,
        "frames    {count} stored, {} shown, {} ticks a second",
        frames.shown(),
        frames.timescale()
    )?;
    if let Some(pace) = clock.pace
        && let Some(step) = frames.median_step()
    {
        let frame = step as f64 * pace.num as f64 / pace.den as f64;
        writeln!(out, "one frame {:.3} ms of real time: nothing between two frames is seen", frame * 1000.0)?;
    }
    if let (Some(first), Some(last)) = (frames.ticks().first(), frames.ticks().last()) {
        writeln!(out, "          ticks {first} to {last}")?;
    }
    let gaps = frames.gaps();
    if gaps.is_empty() {
        writeln!(out, "gaps      none")?;
    }
    for (index, gap) in gaps.iter().take(GAPS_SHOWN).enumerate() {
        let label = if index == 0 { "gaps" } else { "" };
        writeln!(
            out,
            "{label:<10}frame {} to {}: {} ticks, the usual step is {}",
            gap.after,
            gap.after + 1,
            gap.ticks,
            frames.median_step().unwrap_or(0)
        )?;
    }
    if let Some(more @ 1..) = gaps.len().checked_sub(GAPS_SHOWN) {
        writeln!(out, "          and {more} more (all of them with --json)")?;
    }
    let mirrored = if clip.orientation.mirrored { ", mirrored" } else { "" };
    writeln!(out, "turn      {}° clockwise for display{mirrored}", clip.orientation.turn)?;
    for (index, track) in clip.tracks.iter().enumerate() {
        let label = if index == 0 { "tracks" } else { "" };
        let read = if index == clip.chosen { ", read here" } else { "" };
        let enabled = if track.enabled { "" } else { ", not enabled" };
        writeln!(
            out,
            "{label:<10}{} {}, {} samples, {} ticks a second{enabled}{read}",
            track.id,
            kind_word(track.kind),
            track.samples,
            track.timescale
        )?;
    }
    Ok(())
}
