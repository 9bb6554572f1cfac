//! The frames between which a contact begins or ends.

use super::contact::Contact;
use super::stack::{Stack, median_of};
use super::{FrameBracket, frames_in};
use crate::facts::EventKind;

/// How far, as a share of the greatest change seen, the picture of the sole may
/// have moved when the foot still counts as down. A foot lands at speed and
/// leaves slowly.
const TOUCHDOWN_SHARE: f32 = 0.12;
const TOE_OFF_SHARE: f32 = 0.18;

/// Changes, in 8-bit steps a pixel, below which nothing is seen.
const LEAST_CHANGE: f32 = 4.0;

/// The least change that counts as one, beyond the calm one.
const LEAST_LIMIT: f32 = 0.7;

/// Time runs forward to a toe-off and backward to a touchdown.
#[derive(Clone, Copy)]
struct Walk {
    from: usize,
    backward: bool,
    frames: usize,
}

impl Walk {
    /// The frame so many steps on, if there is one.
    fn frame(&self, steps: usize) -> Option<usize> {
        if self.backward {
            self.from.checked_sub(steps)
        } else {
            Some(self.from + steps).filter(|frame| *frame < self.frames)
        }
    }
}

/// What was seen at one end of a contact.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    pub(super) bracket: FrameBracket,
    /// Greatest change of the sole's picture beyond the event, in 8-bit steps.
    pub(super) change: f32,
    /// How much it changes while the foot is down.
    pub(super) unrest: f32,
}

/// Finds the event at one end of a contact; none where too few frames lie
/// beyond it, or nothing changes there.
pub(super) fn edge(stack: &Stack, contact: &Contact, kind: EventKind, rate_hz: f64) -> Option<Edge> {
    let backward = kind == EventKind::Touchdown;
    let span = |seconds: f64, least: usize| frames_in(seconds, rate_hz, least);
    let (first, last) = contact.frames();
    let end = outer_end(contact, backward)?;
    let parts = contact.rests.iter().filter(|rest| {
        if backward {
            rest.first + 1 >= end && rest.first <= end + span(0.016, 2)
        } else {
            rest.last <= end + 1 && rest.last + span(0.005, 1) >= end
        }
    });
    // At a touchdown all of the shoe stops; at the toe-off only the sole's tip
    // still stands, while what is above it already rolls.
    let above = if backward { 2 } else { 0 };
    let pixels: Vec<usize> = parts
        .flat_map(|rest| {
            let rows = rest.y.saturating_sub(above)..=(rest.y + 1).min(stack.height - 1);
            rows.map(|y| y * stack.width + rest.x)
        })
        .collect();
    if pixels.is_empty() {
        return None;
    }

    // Where the foot surely lies still: a little inside.
    let settled = span(0.012, 2);
    let window = span(0.03, 4).min((last - first) / 2).max(2);
    let from = if backward {
        (end + settled + window).min(last)
    } else {
        end.saturating_sub(settled + window).max(first)
    };
    let walk = Walk { from, backward, frames: stack.frames };
    let look: Vec<f32> = pixels
        .iter()
        .map(|pixel| {
            let values: Vec<f32> = (0..window)
                .filter_map(|step| walk.frame(step))
                .map(|frame| f32::from(stack.at(frame, *pixel)))
                .collect();
            values.iter().sum::<f32>() / values.len().max(1) as f32
        })
        .collect();
    let change = |frame: usize| {
        let changes = pixels.iter().zip(&look).map(|(p, look)| (f32::from(stack.at(frame, *p)) - look).abs());
        changes.sum::<f32>() / pixels.len() as f32
    };
    let changes: Vec<f32> =
        (0..window + settled + span(0.03, 5)).map_while(|step| walk.frame(step)).map(change).collect();
    let calm = changes.get(..window)?;
    let floor = median_of(&mut calm.to_vec())?;
    // 1.48 median deviations are one standard deviation of normal noise.
    let unrest = 1.48 * median_of(&mut calm.iter().map(|change| (change - floor).abs()).collect::<Vec<_>>())?;
    let most = changes.iter().copied().fold(0.0, f32::max) - floor;
    if most < LEAST_CHANGE {
        return None;
    }
    let share = if backward { TOUCHDOWN_SHARE } else { TOE_OFF_SHARE };
    let limit = floor + (share * most).max(4.0 * unrest).max(LEAST_LIMIT);
    // The first step beyond which the look does not come back at once.
    let gone = (window - 1..changes.len())
        .find(|step| changes[*step..].iter().take(3).all(|change| *change > limit))?;
    let (inside, outside) = (walk.frame(gone.checked_sub(1)?)?, walk.frame(gone)?);
    let bracket = FrameBracket { before: inside.min(outside), after: inside.max(outside) };
    Some(Edge { bracket, change: most, unrest })
}

/// The outermost frame at which several of a contact's rests end, a few of
/// them, so that none gone astray decides.
fn outer_end(contact: &Contact, backward: bool) -> Option<usize> {
    let mut ends: Vec<usize> =
        contact.rests.iter().map(|rest| if backward { rest.first } else { rest.last }).collect();
    ends.sort_unstable();
    if !backward {
        ends.reverse();
    }
    let several = if backward { ends.len() / 10 } else { ends.len() / 16 }.max(3).min(ends.len());
    let together = |at: usize| ends[at..].iter().take_while(|end| end.abs_diff(ends[at]) <= 1).count();
    (0..ends.len()).find(|at| together(*at) >= several).or(Some(0)).and_then(|at| ends.get(at).copied())
}
