//! Four alternate bounds after two running steps.

use super::{Contact, Foot, Leg, Motion, Place, Point, Pose, Stance, curve, hip, place};

/// Speed over the ground, m/s.
const SPEED: f64 = 5.4;

/// Height of the hips at touchdown and toe-off, m.
const HIP: f64 = 0.88;

/// How fast the foot comes down onto the ground and leaves it, m/s.
const FOOT_DOWN: f64 = 4.0;
const FOOT_UP: f64 = 4.0;

/// Heel's angle at toe-off.
const PUSH_OFF: f64 = 0.85;

const RUN_IN: [Contact; 2] =
    [Contact::new(Foot::Left, 60_200, 176_400), Contact::new(Foot::Right, 302_500, 422_500)];

const BOUNDS: [Contact; 4] = [
    Contact::new(Foot::Left, 685_900, 830_400),
    Contact::new(Foot::Right, 1_122_400, 1_281_500),
    Contact::new(Foot::Left, 1_594_600, 1_731_500),
    Contact::new(Foot::Right, 2_064_600, 2_244_400),
];

/// Four alternate bounds after two running steps, seen by a camera that turns
/// with the figure, a little slower.
#[derive(Clone, Copy, Debug)]
pub struct Bounds;

impl Motion for Bounds {
    fn contacts(&self) -> &'static [Contact] {
        &BOUNDS
    }

    fn run_in(&self) -> &'static [Contact] {
        &RUN_IN
    }

    fn pose(&self, t: f64) -> Pose {
        let left = stances(Foot::Left);
        let right = stances(Foot::Right);
        let mut all = [left, right].concat();
        all.sort_by(|a, b| a.touchdown.total_cmp(&b.touchdown));

        let hip = Point::new(SPEED * t, hip::height(&all, HIP, t));
        let left = leg(&left, t);
        let right = leg(&right, t);
        // An arm swings with the leg of the other side.
        let arm = |other: &Leg| 0.95 * (other.tip.x - hip.x) - 0.15;
        Pose { hip, lean: 0.12, left, right, left_arm: arm(&right), right_arm: arm(&left) }
    }

    fn camera(&self, t: f64) -> f64 {
        1.25 + (SPEED - 0.95) * t
    }
}

/// Stances of one foot, with one before the clip and one after it.
fn stances(foot: Foot) -> [Stance; 5] {
    let outside = match foot {
        Foot::Left => (Stance::new(-0.42, -0.30), Stance::new(2.59, 2.74)),
        _ => (Stance::new(-0.18, -0.062), Stance::new(3.06, 3.21)),
    };
    let mut stances = [outside.0, outside.0, outside.0, outside.0, outside.1];
    let inside = RUN_IN.iter().chain(&BOUNDS).filter(|c| c.foot == foot);
    for (stance, contact) in stances[1..4].iter_mut().zip(inside) {
        *stance = contact.stance();
    }
    stances
}

/// Where the tip stands in a stance: a little ahead of the hips at its middle.
fn print(stance: &Stance) -> f64 {
    SPEED * stance.middle() + 0.06
}

fn leg(stances: &[Stance], t: f64) -> Leg {
    match place(stances, t) {
        Place::On(stance) => Leg {
            tip: Point::new(print(&stance), 0.0),
            toe_lift: 0.0,
            heel_lift: PUSH_OFF * curve::ramp(0.4, 1.15, (t - stance.touchdown) / stance.duration())
                / curve::ramp(0.4, 1.15, 1.0),
        },
        Place::Between(before, after) => swing(&before, &after, t),
    }
}

/// The leg in the air: the heel comes up behind, the knee is carried through,
/// and the foot comes down flat.
fn swing(before: &Stance, after: &Stance, t: f64) -> Leg {
    let duration = after.touchdown - before.toe_off;
    let since = t - before.toe_off;
    let at = |share: f64| share * duration;
    let from = print(before) - SPEED * before.toe_off;
    let to = print(after) - SPEED * after.touchdown;
    let ahead = curve::through(
        &[(0.0, from), (at(0.2), -0.60), (at(0.45), -0.12), (at(0.75), 0.52), (duration, to)],
        -SPEED,
        -2.4,
        since,
    );
    let height = curve::through(
        &[(0.0, 0.0), (at(0.2), 0.36), (at(0.45), 0.46), (at(0.75), 0.30), (duration, 0.0)],
        FOOT_UP,
        -FOOT_DOWN,
        since,
    );
    let heel_lift = curve::through(
        &[
            (0.0, PUSH_OFF),
            (at(0.2), 1.45),
            (at(0.45), 0.95),
            (at(0.75), 0.12),
            (at(0.9), 0.0),
            (duration, 0.0),
        ],
        2.0,
        0.0,
        since,
    );
    let share = since / duration;
    Leg {
        tip: Point::new(SPEED * t + ahead, height),
        toe_lift: heel_lift.max(0.0) * curve::ramp(0.05, 0.3, share),
        heel_lift: heel_lift.max(0.0),
    }
}
