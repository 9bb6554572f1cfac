//! Where the figure is at any instant, and when a foot is on the ground.
//!
//! Metres, seconds and radians; x forward, y up from the ground, angles
//! forward. The motion is invented: it obeys gravity in flight and keeps the
//! foot still on the ground, and looks plausible for the rest.

pub mod bounds;
mod curve;
mod hip;
pub mod pogo;
pub mod series;

use serde::Serialize;

/// A moving figure.
pub trait Motion {
    /// The contacts of the exercise, in order.
    fn contacts(&self) -> &[Contact];

    /// Contacts of the steps that lead to it, in order.
    fn run_in(&self) -> &[Contact];

    /// The figure at an instant, in seconds from frame 0.
    fn pose(&self, t: f64) -> Pose;

    /// Where the middle of the picture lies along the ground, in metres.
    fn camera(&self, t: f64) -> f64;
}

/// One contact: from touchdown up to toe-off, toe-off excluded.
#[derive(Clone, Copy, Debug)]
pub struct Contact {
    /// The foot on the ground.
    pub foot: Foot,
    /// Microseconds from frame 0 to touchdown.
    pub touchdown_us: u32,
    /// Microseconds from frame 0 to toe-off.
    pub toe_off_us: u32,
}

impl Contact {
    const fn new(foot: Foot, touchdown_us: u32, toe_off_us: u32) -> Self {
        Self { foot, touchdown_us, toe_off_us }
    }

    fn stance(&self) -> Stance {
        Stance { touchdown: f64::from(self.touchdown_us) / 1e6, toe_off: f64::from(self.toe_off_us) / 1e6 }
    }
}

/// The foot, or feet, of a contact.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Foot {
    /// The left one, drawn farther from the camera.
    Left,
    /// The right one, drawn nearer to the camera.
    Right,
    /// Both at once.
    Both,
}

/// A time on the ground, in seconds; also one outside the clip, which shapes
/// the motion at its ends.
#[derive(Clone, Copy, Debug)]
struct Stance {
    touchdown: f64,
    toe_off: f64,
}

impl Stance {
    const fn new(touchdown: f64, toe_off: f64) -> Self {
        Self { touchdown, toe_off }
    }

    fn duration(&self) -> f64 {
        self.toe_off - self.touchdown
    }

    fn middle(&self) -> f64 {
        f64::midpoint(self.touchdown, self.toe_off)
    }
}

/// Where an instant lies among stances.
enum Place {
    On(Stance),
    Between(Stance, Stance),
}

/// Finds the instant among stances in order, of which the first begins before
/// it and the last ends after it.
fn place(stances: &[Stance], t: f64) -> Place {
    let next = stances.iter().position(|stance| t < stance.toe_off).unwrap_or(stances.len() - 1);
    let stance = stances[next];
    if t >= stance.touchdown || next == 0 {
        return Place::On(stance);
    }
    Place::Between(stances[next - 1], stance)
}

/// A point of the picture's plane, in metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Forward.
    pub x: f64,
    /// Up from the ground.
    pub y: f64,
}

impl Point {
    /// A point from its two coordinates.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// This point moved.
    #[must_use]
    pub fn moved(self, x: f64, y: f64) -> Self {
        Self::new(self.x + x, self.y + y)
    }

    /// Distance to another point.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// The figure at an instant.
#[derive(Clone, Copy, Debug)]
pub struct Pose {
    /// Middle of the hips.
    pub hip: Point,
    /// Trunk's lean forward.
    pub lean: f64,
    /// The left leg.
    pub left: Leg,
    /// The right leg.
    pub right: Leg,
    /// Angle of the left upper arm forward from hanging.
    pub left_arm: f64,
    /// Angle of the right upper arm forward from hanging.
    pub right_arm: f64,
}

/// A leg, given by its foot: the knee follows from hip and ankle.
///
/// The sole bends at the ball of the foot. Neither part ever points below the
/// tip, so the tip's height is the sole's distance from the ground.
#[derive(Clone, Copy, Debug)]
pub struct Leg {
    /// Underside of the sole at the tip.
    pub tip: Point,
    /// Angle by which the toe part is raised at its back.
    pub toe_lift: f64,
    /// Angle by which the part behind the ball is raised at the heel.
    pub heel_lift: f64,
}

impl Leg {
    /// Underside of the sole at the ball of the foot.
    #[must_use]
    pub fn ball(&self) -> Point {
        const TIP_TO_BALL: f64 = 0.08;
        let (sin, cos) = self.toe_lift.sin_cos();
        self.tip.moved(-TIP_TO_BALL * cos, TIP_TO_BALL * sin)
    }

    /// Underside of the sole at the heel.
    #[must_use]
    pub fn heel(&self) -> Point {
        self.rear(0.19, 0.0)
    }

    /// The ankle joint.
    #[must_use]
    pub fn ankle(&self) -> Point {
        self.rear(0.14, 0.10)
    }

    /// A point of the part behind the ball: so far back along the sole, and so
    /// far above it.
    #[must_use]
    pub fn rear(&self, back: f64, above: f64) -> Point {
        let (sin, cos) = self.heel_lift.sin_cos();
        self.ball().moved(above * sin - back * cos, above * cos + back * sin)
    }
}
