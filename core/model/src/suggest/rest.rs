//! Where something that does not belong to the ground lies still for a while.

use super::stack::{Stack, Still};

/// Frames over which a covered pixel hardly changes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rest {
    pub(super) x: usize,
    pub(super) y: usize,
    /// First frame.
    pub(super) first: usize,
    /// Last frame.
    pub(super) last: usize,
}

impl Rest {
    pub(super) fn frames(&self) -> usize {
        self.last + 1 - self.first
    }
}

/// How far brightness may go astray.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    /// From frame to frame, of what lies still.
    pub(super) still: f32,
    /// From the ground, to be something else.
    pub(super) covered: f32,
}

impl Limits {
    pub(super) fn of(noise: f32) -> Self {
        Self { still: (4.0 * noise).max(6.0), covered: (5.0 * noise).max(10.0) }
    }
}

/// All rests of at least so many frames.
pub(super) fn all(stack: &Stack, still: &Still, limits: Limits, least: usize) -> Vec<Rest> {
    let pixels = (0..stack.height).flat_map(|y| (0..stack.width).map(move |x| (x, y)));
    pixels.flat_map(|(x, y)| rests(stack, still, limits, least, x, y)).collect()
}

/// The rests of one pixel: of an edge in it, since the inside of anything of
/// one shade looks still while it moves, above all a shadow's.
fn rests(stack: &Stack, still: &Still, limits: Limits, least: usize, x: usize, y: usize) -> Vec<Rest> {
    /// How soon the level follows a slow change.
    const FOLLOW: f32 = 0.2;
    let mut found = Vec::new();
    if x == 0 || y == 0 || x + 1 >= stack.width || y + 1 >= stack.height || stack.frames == 0 {
        return found;
    }
    let pixel = y * stack.width + x;
    let [left, right, above, below] = [pixel - 1, pixel + 1, pixel - stack.width, pixel + stack.width];
    let step = |a: usize, b: usize| f32::from(still.ground[b]) - f32::from(still.ground[a]);
    let ground = [step(left, right), step(above, below)];
    let edge = |frame: usize| {
        let step = |a: usize, b: usize| f32::from(stack.at(frame, b)) - f32::from(stack.at(frame, a));
        [step(left, right), step(above, below)]
    };
    let at = |frame: usize| {
        let [across, down] = edge(frame);
        [across - ground[0], down - ground[1]]
    };
    // In a shadow the ground's own edges are fainter by the same share as its
    // brightness.
    let shaded = |frame: usize| {
        let share = f32::from(stack.at(frame, pixel)) / f32::from(still.ground[pixel]).max(1.0);
        ground.map(|step| step * share.min(1.0))
    };
    let apart = |a: [f32; 2], b: [f32; 2]| (a[0] - b[0]).abs().max((a[1] - b[1]).abs());
    let mut first = 0;
    let mut covered = 0_usize;
    let mut level = at(0);
    for frame in 0..=stack.frames {
        let stays = frame < stack.frames && {
            let fits = |frame: usize| frame < stack.frames && apart(at(frame), level) <= limits.still;
            // One frame astray is noise, not a move.
            fits(frame) || (frame > first && fits(frame + 1) && fits(frame + 2))
        };
        if !stays {
            let frames = frame - first;
            if frames >= least && 10 * covered >= 8 * frames {
                found.push(Rest { x, y, first, last: frame - 1 });
            }
            if frame == stack.frames {
                break;
            }
            (first, covered, level) = (frame, 0, at(frame));
        }
        let now = at(frame);
        let own = edge(frame);
        let foreign = [[0.0, 0.0], ground, shaded(frame)];
        covered += usize::from(foreign.into_iter().all(|other| (own[0] - other[0]).abs() > limits.covered));
        for (level, now) in level.iter_mut().zip(now) {
            *level += FOLLOW * (now - *level);
        }
    }
    found
}
