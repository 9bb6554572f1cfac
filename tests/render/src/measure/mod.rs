//! How well the suggested events meet the known ones.

use std::fmt::Write as _;

use pitside_model::facts::EventKind;
use pitside_model::suggest::{Setting, SuggestError, Suggester, Suggestion};

use crate::picture::WIDTH;
use crate::scene::film::{Film, FilmError};
use crate::scene::{KnownEvent, Scene};

/// How far a suggestion may lie from an event and still be meant for it.
const FARTHEST: usize = 10;

/// How far aside, in pixels of the drawn picture.
const ASIDE: f64 = 70.0;

/// The confidence from which on a suggestion is called sure in the table.
const SURE: f64 = 0.8;

/// Why a seed could not be measured.
#[derive(Debug, thiserror::Error)]
pub enum MeasureError {
    /// The scene could not be filmed.
    #[error(transparent)]
    Film(#[from] FilmError),
    /// The frames were refused.
    #[error(transparent)]
    Suggest(#[from] SuggestError),
}

/// One suggestion beside what is known.
#[derive(Clone, Copy, Debug)]
pub struct Judged {
    /// The suggestion.
    pub suggestion: Suggestion,
    /// Frames by which the worse edge of its bracket misses that of the event;
    /// none where there is no such event.
    pub off: Option<usize>,
}

/// What came of one scene, or of several.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// Events that could be found.
    pub events: usize,
    /// Those for which there is no suggestion, touchdowns and toe-offs.
    pub missed: usize,
    /// The suggestions that count.
    pub judged: Vec<Judged>,
}

/// What the suggestions are told of the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ground {
    /// Its row, as a person points at it: up to two rows wrong, by the seed.
    Pointed,
    /// Nothing.
    Unsaid,
}

/// Suggests the events of a scene, once for each of `grounds`.
///
/// # Errors
/// Where ffmpeg fails or the frames are refused.
pub fn suggestions(scene: &Scene, grounds: &[Ground]) -> Result<Vec<Vec<Suggestion>>, MeasureError> {
    let film = Film::of(scene)?;
    let scale = WIDTH / film.width;
    let suggest = |ground: &Ground| {
        let row = scene.ground_row() as usize / scale + (scene.seed % 5) as usize - 2;
        let setting = Setting {
            width: film.width,
            height: film.height,
            rate_hz: f64::from(scene.rate_hz),
            ground_row: (*ground == Ground::Pointed).then_some(row),
        };
        let mut suggester = Suggester::new(setting)?;
        for frame in film.frames() {
            suggester.push(frame)?;
        }
        Ok(suggester.finish())
    };
    grounds.iter().map(suggest).collect()
}

/// Sets suggestions beside the known events: each event takes the nearest
/// suggestion of its kind within ten frames, and each suggestion is
/// taken once.
#[must_use]
pub fn judge(events: &[KnownEvent], suggestions: &[Suggestion], width: usize) -> Outcome {
    let scale = WIDTH as f64 / width as f64;
    let mut pairs: Vec<(usize, usize, usize)> = Vec::new();
    for (at, event) in events.iter().enumerate() {
        for (place, suggestion) in suggestions.iter().enumerate() {
            let kind = if event.touchdown { EventKind::Touchdown } else { EventKind::ToeOff };
            let off = off(event, suggestion);
            let aside = (suggestion.column as f64 * scale - event.column).abs();
            if suggestion.kind == kind && off <= FARTHEST && aside < ASIDE {
                pairs.push((off, at, place));
            }
        }
    }
    pairs.sort_unstable();
    let mut of_event = vec![None; events.len()];
    let mut of_suggestion = vec![None; suggestions.len()];
    for (off, at, place) in pairs {
        if of_event[at].is_none() && of_suggestion[place].is_none() {
            (of_event[at], of_suggestion[place]) = (Some(place), Some((at, off)));
        }
    }
    let mut outcome = Outcome::default();
    for (_, place) in events.iter().zip(&of_event).filter(|(event, _)| event.seen) {
        outcome.events += 1;
        outcome.missed += usize::from(place.is_none());
    }
    for (suggestion, meant) in suggestions.iter().zip(&of_suggestion) {
        match meant {
            // Half in the picture: neither right nor wrong.
            Some((at, _)) if !events[*at].seen => {}
            Some((_, off)) => outcome.judged.push(Judged { suggestion: *suggestion, off: Some(*off) }),
            None => outcome.judged.push(Judged { suggestion: *suggestion, off: None }),
        }
    }
    outcome
}

fn off(event: &KnownEvent, suggestion: &Suggestion) -> usize {
    let bracket = suggestion.bracket;
    bracket.before.abs_diff(event.before as usize).max(bracket.after.abs_diff(event.after as usize))
}

/// What stands above the lines of the table.
pub const HEAD: &str =
    "                       events  exact  ±1      ±2     missed false | sure  ±1 of them  false of them";

impl Outcome {
    /// Adds another scene's.
    pub fn add(&mut self, other: Self) {
        self.events += other.events;
        self.missed += other.missed;
        self.judged.extend(other.judged);
    }

    /// Suggestions at or above a confidence that lie within so many frames.
    #[must_use]
    pub fn within(&self, frames: usize, confidence: f64) -> usize {
        self.judged
            .iter()
            .filter(|j| j.suggestion.confidence >= confidence && j.off.is_some_and(|off| off <= frames))
            .count()
    }

    /// Suggestions at or above a confidence with no event for them.
    #[must_use]
    pub fn false_ones(&self, confidence: f64) -> usize {
        self.judged.iter().filter(|j| j.suggestion.confidence >= confidence && j.off.is_none()).count()
    }

    /// Suggestions at or above a confidence.
    #[must_use]
    pub fn made(&self, confidence: f64) -> usize {
        self.judged.iter().filter(|j| j.suggestion.confidence >= confidence).count()
    }

    /// One line of the table.
    #[must_use]
    pub fn line(&self, name: &str) -> String {
        let share = |count: usize, of: usize| 100.0 * count as f64 / of.max(1) as f64;
        let mut line = format!(
            "{name:<22} {:>6} {:>5.1} % {:>5.1} % {:>5.1} % {:>6} {:>6}",
            self.events,
            share(self.within(0, 0.0), self.events),
            share(self.within(1, 0.0), self.events),
            share(self.within(2, 0.0), self.events),
            self.missed,
            self.false_ones(0.0),
        );
        let sure = self.made(SURE);
        // Writing into a string does not fail.
        let _ = write!(
            line,
            " {sure:>6} {:>5.1} % {:>6}",
            share(self.within(1, SURE), sure),
            self.false_ones(SURE)
        );
        line
    }
}
