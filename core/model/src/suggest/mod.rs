//! Suggests touchdowns and toe-offs from the brightness of a tripod clip's
//! frames. A suggestion is help in finding the place: a person looks at the
//! frames beside it and decides.
//!
//! **Worse than useful, so nothing switches it on.** On rendered scenes held
//! back from tuning 66 % of the events came within one frame where the ground's
//! row was pointed at, 58 % where it was not; of the suggestions with a
//! confidence of 0.8 or more, half as many as events, 89 % did. Drawings are
//! not clips, and nothing here has seen a filmed one. The whole table, and the
//! command that measures it, stand in `tests/render/README.md`. Foot and order
//! are not asked of it.
//!
//! What it goes by:
//!
//! 1. `stack`: frames are kept within a hard limit. What stands still is each
//!    pixel's median over time; the light's flicker, the same for the whole
//!    picture, is divided out; the noise is the usual step from frame to frame.
//! 2. `rest`: while a foot is down, its upright edges (tip, heel) stay in
//!    their pixels. The inside of a limb or shadow looks still while it moves,
//!    and so does a level edge that moves along itself (a shadow's, a passing
//!    sole's); an upright edge does not, since people move along the ground.
//! 3. `contact`: rests near the ground's row that begin or end together are a
//!    contact. Those far smaller than the others of the clip are left out.
//! 4. `edge`: from inside the contact outward, the first frame in which the
//!    sole's picture has changed by more than it does while the foot is down.
//!
//! Limits that follow: a camera that moves, a foot without contrast to the
//! ground, somebody else who walks by, a slow figure's shadow below the feet.

mod contact;
mod edge;
mod error;
mod rest;
mod stack;

pub use error::SuggestError;
pub use stack::MOST_PIXELS;

use contact::Contact;
use edge::Edge;
use stack::Stack;

use crate::facts::EventKind;

/// Least size of a contact, as a share of the second largest in the clip.
const LEAST_SHARE: f64 = 0.35;

/// Columns from tip to heel, or from foot to foot, that one contact may have
/// between them at least; in wide pictures a twelfth of the width.
const LEAST_REACH: usize = 16;

/// Columns at both sides of the picture: what reaches into them is cut off.
const SIDE: usize = 3;

/// Two frames, counted from 0 in the order in which they were given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FrameBracket {
    /// The last frame surely before the event.
    pub before: usize,
    /// The first frame surely after it; always later.
    pub after: usize,
}

/// A suggested event.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Suggestion {
    /// Touchdown or toe-off.
    pub kind: EventKind,
    /// Where it lies.
    pub bracket: FrameBracket,
    /// How clearly it is seen, 0 to 1: an order among suggestions, not a
    /// probability.
    pub confidence: f64,
    /// Column of the middle of what rests on the ground, for a crop around it.
    pub column: usize,
}

/// What is known of a clip before its frames are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setting {
    /// Pixels in a row of each frame, 16 to 2048. Made for 160 to 320.
    pub width: usize,
    /// Rows of each frame, 16 to 2048.
    pub height: usize,
    /// Real frames a second, 10 to 2000. Where the clock is unknown a guess
    /// does: it says how long a foot must lie still, and moves no event.
    pub rate_hz: f64,
    /// The row in which a foot meets the ground, where a person has pointed at
    /// it; a few rows off does no harm. Without it the row is guessed, which
    /// goes wrong more often than all the rest.
    pub ground_row: Option<usize>,
}

/// Takes the frames of a clip, one after another.
#[derive(Clone, Debug)]
pub struct Suggester {
    setting: Setting,
    stack: Stack,
}

impl Suggester {
    /// Begins a clip.
    ///
    /// # Errors
    /// [`SuggestError::Rate`], [`SuggestError::Size`] and
    /// [`SuggestError::GroundRow`] for a setting that no clip has.
    pub fn new(setting: Setting) -> Result<Self, SuggestError> {
        let Setting { width, height, rate_hz, ground_row } = setting;
        if !(10.0..=2000.0).contains(&rate_hz) {
            return Err(SuggestError::Rate { found: rate_hz });
        }
        if !(16..=2048).contains(&width) || !(16..=2048).contains(&height) {
            return Err(SuggestError::Size { width, height });
        }
        if let Some(row) = ground_row.filter(|row| *row >= height) {
            return Err(SuggestError::GroundRow { row, height });
        }
        Ok(Self { setting, stack: Stack::new(width, height) })
    }

    /// Takes the next frame: its brightness, row by row from the top, one byte
    /// a pixel.
    ///
    /// # Errors
    /// [`SuggestError::Bytes`] for a frame of another size,
    /// [`SuggestError::TooMany`] beyond [`MOST_PIXELS`]; the frame is then not
    /// taken, and those before it stay.
    pub fn push(&mut self, luma: &[u8]) -> Result<(), SuggestError> {
        self.stack.push(luma)
    }

    /// The events, in the order of their brackets. Nothing is suggested where
    /// nothing comes to rest.
    #[must_use]
    pub fn finish(mut self) -> Vec<Suggestion> {
        let Setting { width, height, rate_hz, ground_row } = self.setting;
        if self.stack.frames < 2 {
            return Vec::new();
        }
        let span = |seconds: f64, least: usize| frames_in(seconds, rate_hz, least);
        let rows = |share: f64, least: usize| ((height as f64 * share).round() as usize).max(least);
        let still = self.stack.settle();
        let rests = rest::all(&self.stack, &still, rest::Limits::of(still.noise), span(0.045, 4));
        let Some(ground) = ground_row.or_else(|| contact::ground_row(&rests, height, span(0.5, 8))) else {
            return Vec::new();
        };
        let band = ground.saturating_sub(rows(0.06, 4))..=ground + rows(0.012, 2);
        let mut contacts = contact::contacts(&rests, band, (width / 12).max(LEAST_REACH), span(0.008, 1));
        contacts.retain(|contact| {
            let columns = contact.columns();
            *columns.start() >= SIDE && columns.end() + SIDE < width
        });
        let usual = usual_size(&contacts);
        contacts.retain(|contact| contact.rests.len() as f64 >= LEAST_SHARE * usual);

        let mut suggestions: Vec<Suggestion> = contacts
            .iter()
            .flat_map(|contact| [(contact, EventKind::Touchdown), (contact, EventKind::ToeOff)])
            .filter_map(|(contact, kind)| {
                let edge = edge::edge(&self.stack, contact, kind, rate_hz)?;
                let columns = contact.columns();
                Some(Suggestion {
                    kind,
                    bracket: edge.bracket,
                    confidence: confidence(&edge, contact.rests.len() as f64 / usual),
                    column: usize::midpoint(*columns.start(), *columns.end()),
                })
            })
            .collect();
        suggestions.sort_by_key(|suggestion| (suggestion.bracket, suggestion.column));
        suggestions
    }
}

/// The size of the second largest contact, or of the only one, in rests.
fn usual_size(contacts: &[Contact]) -> f64 {
    let mut sizes: Vec<usize> = contacts.iter().map(|contact| contact.rests.len()).collect();
    sizes.sort_unstable();
    sizes.get(sizes.len().saturating_sub(2)).map_or(1.0, |size| *size as f64)
}

/// How clearly an event is seen: how much the sole's picture changes, how
/// little it does while the foot is down, and how large the contact is beside
/// the others. Chosen on the tuning seeds, by nothing but that.
fn confidence(edge: &Edge, size: f64) -> f64 {
    let (change, unrest) = (f64::from(edge.change), f64::from(edge.unrest));
    let contrast = ((change - 8.0) / 24.0).clamp(0.0, 1.0).sqrt();
    let calm = (1.0 - 5.0 * unrest / change).clamp(0.0, 1.0);
    let whole = (size / 0.7).clamp(0.0, 1.0);
    contrast * calm * whole
}

/// Whole frames in so many seconds, at least `least`.
fn frames_in(seconds: f64, rate_hz: f64, least: usize) -> usize {
    // The rate is held to 10–2000 and the seconds are ours.
    ((seconds * rate_hz).round() as usize).max(least)
}

#[cfg(test)]
mod tests;
