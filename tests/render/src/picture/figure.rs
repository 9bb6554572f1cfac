//! The figure: strokes with round ends, the far side paler, two marked shoes.

use super::canvas::{Canvas, Colour};
use super::{LEFT_SHOE, RIGHT_SHOE, SOLE, View};
use crate::motion::{Leg, Point, Pose};

/// Lengths, m, girth and shades of a figure.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Body {
    pub(crate) thigh: f64,
    pub(crate) shank: f64,
    pub(crate) trunk: f64,
    pub(crate) upper_arm: f64,
    pub(crate) forearm: f64,
    /// Thickness of trunk and limbs, against that of the usual figure.
    pub(crate) girth: f64,
    /// How much higher the far foot stands in the picture, m: the camera looks
    /// down on the ground a little.
    pub(crate) far_foot_higher: f64,
    pub(crate) near_side: Colour,
    pub(crate) far_side: Colour,
    pub(crate) clothes: Colour,
    pub(crate) left_shoe: Colour,
    pub(crate) right_shoe: Colour,
    pub(crate) sole: Colour,
}

/// The figure of the committed clips.
pub(super) const USUAL: Body = Body {
    thigh: 0.46,
    shank: 0.46,
    trunk: 0.50,
    upper_arm: 0.28,
    forearm: 0.25,
    girth: 1.0,
    far_foot_higher: 0.0,
    near_side: Colour::new(0x3a, 0x46, 0x52),
    far_side: Colour::new(0x96, 0xa1, 0xab),
    clothes: Colour::new(0x4a, 0x58, 0x66),
    left_shoe: LEFT_SHOE,
    right_shoe: RIGHT_SHOE,
    sole: SOLE,
};

/// Bend of the elbow.
const ELBOW: f64 = 1.4;

/// Half the thickness of the sole, m.
const SOLE_RADIUS: f64 = 0.017;

pub(crate) fn draw(canvas: &mut Canvas, view: &View, body: &Body, pose: &Pose) {
    let (sin, cos) = pose.lean.sin_cos();
    let up = |length: f64| pose.hip.moved(length * sin, length * cos);
    let shoulder = up(body.trunk - 0.03);
    let far = Leg { tip: pose.left.tip.moved(0.0, body.far_foot_higher), ..pose.left };

    let mut brush = Brush { canvas, view, body };
    brush.arm(shoulder, pose.left_arm, body.far_side);
    brush.leg(pose.hip, &far, body.far_side, body.left_shoe);
    brush.limb(pose.hip, up(body.trunk - 0.06), 0.085, body.clothes);
    brush.limb(up(body.trunk), up(body.trunk + 0.08), 0.04, body.clothes);
    let head = up(body.trunk + 0.16);
    brush.stroke(head, head, 0.095, body.near_side);
    brush.leg(pose.hip, &pose.right, body.near_side, body.right_shoe);
    brush.arm(shoulder, pose.right_arm, body.near_side);
}

/// Draws in metres.
struct Brush<'a> {
    canvas: &'a mut Canvas,
    view: &'a View,
    body: &'a Body,
}

impl Brush<'_> {
    fn stroke(&mut self, from: Point, to: Point, radius: f64, colour: Colour) {
        let (from, to) = (self.view.pixel(from), self.view.pixel(to));
        self.canvas.stroke(from, to, self.view.pixels(radius), colour);
    }

    fn limb(&mut self, from: Point, to: Point, radius: f64, colour: Colour) {
        self.stroke(from, to, radius * self.body.girth, colour);
    }

    fn arm(&mut self, shoulder: Point, angle: f64, colour: Colour) {
        let elbow = hanging(shoulder, self.body.upper_arm, angle);
        let hand = hanging(elbow, self.body.forearm, angle + ELBOW);
        self.limb(shoulder, elbow, 0.038, colour);
        self.limb(elbow, hand, 0.032, colour);
    }

    fn leg(&mut self, hip: Point, leg: &Leg, colour: Colour, shoe: Colour) {
        let ankle = leg.ankle();
        let knee = knee(self.body, hip, ankle);
        self.limb(hip, knee, 0.065, colour);
        self.limb(knee, ankle, 0.045, colour);
        self.shoe(leg, shoe);
    }

    /// Strokes are drawn by their middle line; the sole's lies half its
    /// thickness above the underside.
    fn shoe(&mut self, leg: &Leg, colour: Colour) {
        let sole = self.body.sole;
        let (tip, ball, heel) = (leg.tip, leg.ball(), leg.heel());
        let (sin, cos) = leg.toe_lift.sin_cos();
        let over_toes = |point: Point, above: f64| point.moved(above * sin, above * cos);
        self.stroke(leg.rear(0.15, 0.055), leg.rear(0.12, 0.075), 0.048, colour);
        self.stroke(leg.rear(0.17, 0.045), leg.rear(0.0, 0.035), 0.030, colour);
        self.stroke(over_toes(ball, 0.036), over_toes(tip, 0.030).moved(-0.012, 0.0), 0.026, colour);
        let sole_ball = ball.moved(0.0, SOLE_RADIUS);
        // The undersides meet the ground along the toe part, to its very edge.
        self.stroke(heel.moved(0.0, SOLE_RADIUS), sole_ball, SOLE_RADIUS, sole);
        self.stroke(sole_ball, tip.moved(0.0, SOLE_RADIUS), SOLE_RADIUS, sole);
    }
}

/// The end of a part that hangs from a joint, turned forward.
fn hanging(joint: Point, length: f64, angle: f64) -> Point {
    let (sin, cos) = angle.sin_cos();
    joint.moved(length * sin, -length * cos)
}

/// The knee between hip and ankle, bent forward (law of cosines).
fn knee(body: &Body, hip: Point, ankle: Point) -> Point {
    let (thigh, shank) = (body.thigh, body.shank);
    let reach = hip.distance(ankle).clamp(0.01, thigh + shank);
    let cosine = (thigh * thigh + reach * reach - shank * shank) / (2.0 * thigh * reach);
    let bend = cosine.clamp(-1.0, 1.0).acos();
    let down = (ankle.x - hip.x).atan2(hip.y - ankle.y);
    hanging(hip, thigh, down + bend)
}
