//! The figure: strokes with round ends, the far side paler, two marked shoes.

use super::canvas::{Canvas, Colour};
use super::{LEFT_SHOE, RIGHT_SHOE, SOLE, View};
use crate::motion::{Leg, Point, Pose};

const NEAR: Colour = Colour::new(0x3a, 0x46, 0x52);
const FAR: Colour = Colour::new(0x96, 0xa1, 0xab);
const TRUNK: Colour = Colour::new(0x4a, 0x58, 0x66);

/// Lengths of the parts, m.
const THIGH: f64 = 0.46;
const SHANK: f64 = 0.46;
const TRUNK_LENGTH: f64 = 0.50;
const UPPER_ARM: f64 = 0.28;
const FOREARM: f64 = 0.25;

/// Bend of the elbow.
const ELBOW: f64 = 1.4;

/// Half the thickness of the sole, m.
const SOLE_RADIUS: f64 = 0.017;

pub(super) fn draw(canvas: &mut Canvas, view: &View, pose: &Pose) {
    let (sin, cos) = pose.lean.sin_cos();
    let up = |length: f64| pose.hip.moved(length * sin, length * cos);
    let shoulder = up(TRUNK_LENGTH - 0.03);

    let mut brush = Brush { canvas, view };
    brush.arm(shoulder, pose.left_arm, FAR);
    brush.leg(pose.hip, &pose.left, FAR, LEFT_SHOE);
    brush.stroke(pose.hip, up(TRUNK_LENGTH - 0.06), 0.085, TRUNK);
    brush.stroke(up(TRUNK_LENGTH), up(TRUNK_LENGTH + 0.08), 0.04, TRUNK);
    let head = up(TRUNK_LENGTH + 0.16);
    brush.stroke(head, head, 0.095, NEAR);
    brush.leg(pose.hip, &pose.right, NEAR, RIGHT_SHOE);
    brush.arm(shoulder, pose.right_arm, NEAR);
}

/// Draws in metres.
struct Brush<'a> {
    canvas: &'a mut Canvas,
    view: &'a View,
}

impl Brush<'_> {
    fn stroke(&mut self, from: Point, to: Point, radius: f64, colour: Colour) {
        self.canvas.stroke(self.view.pixel(from), self.view.pixel(to), View::pixels(radius), colour);
    }

    fn arm(&mut self, shoulder: Point, angle: f64, colour: Colour) {
        let elbow = hanging(shoulder, UPPER_ARM, angle);
        let hand = hanging(elbow, FOREARM, angle + ELBOW);
        self.stroke(shoulder, elbow, 0.038, colour);
        self.stroke(elbow, hand, 0.032, colour);
    }

    fn leg(&mut self, hip: Point, leg: &Leg, colour: Colour, shoe: Colour) {
        let ankle = leg.ankle();
        let knee = knee(hip, ankle);
        self.stroke(hip, knee, 0.065, colour);
        self.stroke(knee, ankle, 0.045, colour);
        self.shoe(leg, shoe);
    }

    /// Strokes are drawn by their middle line; the sole's lies half its
    /// thickness above the underside.
    fn shoe(&mut self, leg: &Leg, colour: Colour) {
        let (tip, ball, heel) = (leg.tip, leg.ball(), leg.heel());
        let (sin, cos) = leg.toe_lift.sin_cos();
        let over_toes = |point: Point, above: f64| point.moved(above * sin, above * cos);
        self.stroke(leg.rear(0.15, 0.055), leg.rear(0.12, 0.075), 0.048, colour);
        self.stroke(leg.rear(0.17, 0.045), leg.rear(0.0, 0.035), 0.030, colour);
        self.stroke(over_toes(ball, 0.036), over_toes(tip, 0.030).moved(-0.012, 0.0), 0.026, colour);
        let sole_ball = ball.moved(0.0, SOLE_RADIUS);
        // The undersides meet the ground along the toe part, to its very edge.
        self.stroke(heel.moved(0.0, SOLE_RADIUS), sole_ball, SOLE_RADIUS, SOLE);
        self.stroke(sole_ball, tip.moved(0.0, SOLE_RADIUS), SOLE_RADIUS, SOLE);
    }
}

/// The end of a part that hangs from a joint, turned forward.
fn hanging(joint: Point, length: f64, angle: f64) -> Point {
    let (sin, cos) = angle.sin_cos();
    joint.moved(length * sin, -length * cos)
}

/// The knee between hip and ankle, bent forward (law of cosines).
fn knee(hip: Point, ankle: Point) -> Point {
    let reach = hip.distance(ankle).clamp(0.01, THIGH + SHANK);
    let cosine = (THIGH * THIGH + reach * reach - SHANK * SHANK) / (2.0 * THIGH * reach);
    let bend = cosine.clamp(-1.0, 1.0).acos();
    let down = (ankle.x - hip.x).atan2(hip.y - ankle.y);
    hanging(hip, THIGH, down + bend)
}
