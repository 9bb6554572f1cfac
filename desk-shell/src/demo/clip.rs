//! The drawn clip, timed from the marks that a person read from its pictures,
//! and compared with the times it was drawn with.

use std::io::Cursor;

use pitside_book::store::{Book, Draft, Filter};
use pitside_model::clip::{Clip, identity};
use pitside_model::facts::{Event, EventKind, Fact, Foot, MemberId, Scope, Take, kind};
use pitside_model::load::catalogue::id;
use pitside_model::timing::{self, Scale};
use serde::Deserialize;

use super::{stamp, today};
use crate::failure::{Exit, Failure};

/// The clip, and its name.
pub(super) const NAME: &str = "drawn-bounds.mp4";
pub(super) const CLIP: &[u8] = include_bytes!("../../../tests/render/clips/bounds-240.mp4");
const MARKS: &str = include_str!("../../../tests/render/clips/bounds-240.marks.json");
const TRUTH: &str = include_str!("../../../tests/render/clips/bounds-240.json");

#[derive(Deserialize)]
struct Marks {
    contacts: Vec<Mark>,
}

#[derive(Deserialize)]
struct Mark {
    foot: String,
    on: usize,
    off: usize,
}

#[derive(Deserialize)]
struct Truth {
    contacts: Vec<Drawn>,
}

#[derive(Deserialize)]
struct Drawn {
    touchdown_s: f64,
    toe_off_s: f64,
}

/// A contact as timed and as drawn, in seconds.
struct Compared {
    foot: Foot,
    seconds: f64,
    /// 95 % half-width of frames and clock.
    half_width: f64,
    /// The same with the judging by eye.
    total: f64,
    drawn: f64,
}

/// All contacts of the clip.
pub(super) struct Timed(Vec<Compared>);

impl Timed {
    /// A line each.
    pub(super) fn lines(&self) -> impl Iterator<Item = String> {
        self.0.iter().map(|c| {
            format!(
                "{:<6}{:.3} s ± {:.0} ms (frames and clock ± {:.0})   drawn with {:.4} s",
                c.foot.word(),
                c.seconds,
                (c.total * 1e3).ceil(),
                (c.half_width * 1e3).ceil(),
                c.drawn
            )
        })
    }
    /// Whether every drawn time lies within the interval of its timed one, by
    /// frames and clock alone.
    pub(super) fn all_within(&self) -> bool {
        !self.0.is_empty() && self.0.iter().all(|c| (c.seconds - c.drawn).abs() <= c.half_width)
    }
}

fn odd(e: impl core::fmt::Display) -> Failure {
    Failure::new(Exit::Unexpected, format!("the demo's own clip: {e}"))
}

/// Times the clip and writes the take into the athlete's book, with the newest
/// set of bounds with a run-in.
pub(super) fn time(book: &Book, member: MemberId) -> Result<Timed, Failure> {
    let clip = Clip::read(Cursor::new(CLIP)).map_err(odd)?;
    let clock = clip.clock(None);
    let pace = clock.pace.ok_or_else(|| odd(clock.evidence.join(". ")))?;
    let frames = clip.frames.ticks();
    let step = clip.frames.median_step().ok_or_else(|| odd("it has one frame"))?;
    let marks: Marks = serde_json::from_str(MARKS).map_err(odd)?;
    let truth: Truth = serde_json::from_str(TRUTH).map_err(odd)?;
    let mut events = Vec::new();
    for mark in &marks.contacts {
        let foot: Foot = mark.foot.parse().map_err(odd)?;
        events.push(Event::marked(frames, foot, EventKind::Touchdown, mark.on, None).map_err(odd)?);
        events.push(Event::marked(frames, foot, EventKind::ToeOff, mark.off, None).map_err(odd)?);
    }
    let scope = Scope::Member(member);
    let sets = book.held(&Filter { scope: Some(scope), kind: Some(kind::SET), ..Filter::default() })?;
    let set = sets
        .iter()
        .filter(|h| matches!(h.fact(), Some(Fact::Set(s)) if s.exercise == id::BOUNDS_RUN_IN))
        .max_by_key(|h| h.value().stamp);
    let take = Take {
        day: today(),
        clip: identity(CLIP).map_err(odd)?,
        frames: clip.frames.digest(),
        pace,
        frame_ticks: u32::try_from(step).map_err(odd)?,
        stated_mhz: None,
        clock_ppm: None,
        rounded: timing::rounded(frames),
        exercise: Some(id::BOUNDS_RUN_IN),
        set: set.and_then(|h| h.id()),
        rendered: true,
        events,
    };
    let scale = Scale::of(&take);
    let read = timing::Take::read(&take.events, &scale).map_err(odd)?;
    let compared = read
        .contacts
        .iter()
        .zip(&truth.contacts)
        .map(|(c, drawn)| Compared {
            foot: c.foot,
            seconds: c.timed.seconds,
            half_width: c.timed.half_width_95(),
            total: c.timed.total_half_width_95(),
            drawn: drawn.toe_off_s - drawn.touchdown_s,
        })
        .collect();
    book.write(scope, &Draft::new(Fact::Take(take)), stamp(today(), 18 * 60 + 30))?;
    Ok(Timed(compared))
}
