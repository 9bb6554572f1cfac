//! The figure's shadow on the ground.

use crate::dice::Dice;
use crate::motion::{Leg, Point, Pose};
use crate::picture::View;
use crate::picture::canvas::{Canvas, Colour};
use crate::picture::figure::Body;

/// Where the light comes from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sun {
    /// How far to the right a metre of height throws its shadow, m.
    aside: f64,
    /// How far down the picture it does, m: towards the camera, or with a
    /// minus away from it.
    down: f64,
    /// Brightness left in the shadow.
    left: f64,
}

impl Sun {
    /// Whether it shines, and how; `looks_down` is how much a metre of ground
    /// towards the camera takes up in the picture, m.
    pub(super) fn shines(dice: &mut Dice, looks_down: f64) -> Option<Self> {
        let shines = dice.chance(0.6);
        let sun = Self {
            aside: dice.between(-1.3, 1.3),
            down: dice.between(-1.2, 1.2) * looks_down,
            left: dice.between(0.45, 0.85),
        };
        shines.then_some(sun)
    }

    /// Darkens the ground where the figure stands in the light.
    pub(super) fn cast(&self, canvas: &mut Canvas, view: &View, body: &Body, pose: &Pose) {
        const DARK: Colour = Colour::new(255, 255, 255);
        let mut cover = Canvas::new(canvas.width(), canvas.height(), Colour::new(0, 0, 0));
        let mut part = |from: Point, to: Point, radius: f64, higher: f64| {
            let at = |p: Point| view.pixel(Point::new(p.x + self.aside * p.y, higher - self.down * p.y));
            // Flattened: what is round is a narrow oval on the ground.
            cover.stroke(at(from), at(to), view.pixels(radius), DARK);
        };
        let (sin, cos) = pose.lean.sin_cos();
        part(pose.hip, pose.hip.moved(body.trunk * sin, body.trunk * cos), 0.06 * body.girth, 0.0);
        for (leg, higher) in [(&pose.left, body.far_foot_higher), (&pose.right, 0.0)] {
            let Leg { tip, .. } = *leg;
            part(pose.hip, leg.ankle(), 0.035 * body.girth, higher);
            part(leg.heel(), leg.ball(), 0.016, higher);
            part(leg.ball(), tip, 0.016, higher);
        }
        canvas.darken(&cover, self.left);
    }
}
