//! Pogo hops on two legs, both feet together.

use super::{Contact, Foot, Leg, Motion, Place, Point, Pose, Stance, curve, hip, place};

/// Speed over the ground, m/s.
const SPEED: f64 = 0.55;

/// Height of the hips at touchdown and toe-off, m.
const HIP: f64 = 1.0;

/// How fast the feet come down onto the ground and leave it, m/s.
const FEET: f64 = 2.4;

/// Heel's angle at touchdown, at the deepest and at toe-off: the heel hardly
/// comes down.
const HEEL_LANDING: f64 = 0.22;
const HEEL_DEEPEST: f64 = 0.10;
const HEEL_PUSH_OFF: f64 = 0.75;

const HOPS: [Contact; 5] = [
    Contact::new(Foot::Both, 187_100, 377_500),
    Contact::new(Foot::Both, 705_000, 911_300),
    Contact::new(Foot::Both, 1_228_300, 1_410_800),
    Contact::new(Foot::Both, 1_754_600, 1_955_000),
    Contact::new(Foot::Both, 2_280_000, 2_468_800),
];

/// Five pogo hops on two legs, drifting forward before a camera that stands.
#[derive(Clone, Copy, Debug)]
pub struct Pogo;

impl Motion for Pogo {
    fn contacts(&self) -> &'static [Contact] {
        &HOPS
    }

    fn run_in(&self) -> &'static [Contact] {
        &[]
    }

    fn pose(&self, t: f64) -> Pose {
        let stances = stances();
        let hip = Point::new(SPEED * t, hip::height(&stances, HIP, t));
        let leg = leg(&stances, t);
        // The arms go up with the body.
        let arm = 0.1 + 1.6 * (hip.y - HIP);
        let beside = |x: f64| Leg { tip: leg.tip.moved(x, 0.0), ..leg };
        Pose {
            hip,
            lean: 0.04,
            left: beside(0.06),
            right: beside(-0.06),
            left_arm: arm + 0.06,
            right_arm: arm - 0.06,
        }
    }

    fn camera(&self, _: f64) -> f64 {
        SPEED * 1.36
    }
}

/// The stances, with one before the clip and one after it.
fn stances() -> [Stance; 7] {
    let mut stances = [Stance::new(-0.35, -0.142); 7];
    for (stance, contact) in stances[1..].iter_mut().zip(&HOPS) {
        *stance = contact.stance();
    }
    stances[6] = Stance::new(2.79, 2.99);
    stances
}

/// Where the tips stand in a stance.
fn print(stance: &Stance) -> f64 {
    SPEED * stance.middle() + 0.14
}

fn leg(stances: &[Stance], t: f64) -> Leg {
    match place(stances, t) {
        Place::On(stance) => {
            let duration = stance.duration();
            Leg {
                tip: Point::new(print(&stance), 0.0),
                toe_lift: 0.0,
                heel_lift: curve::through(
                    &[(0.0, HEEL_LANDING), (0.4 * duration, HEEL_DEEPEST), (duration, HEEL_PUSH_OFF)],
                    -2.0,
                    8.0,
                    t - stance.touchdown,
                ),
            }
        }
        Place::Between(before, after) => {
            let duration = after.touchdown - before.toe_off;
            let since = t - before.toe_off;
            let height =
                curve::through(&[(0.0, 0.0), (duration / 2.0, 0.20), (duration, 0.0)], FEET, -FEET, since);
            Leg {
                tip: Point::new(
                    curve::cubic(print(&before), 0.0, print(&after), 0.0, duration, since),
                    height,
                ),
                toe_lift: 0.0,
                heel_lift: curve::cubic(HEEL_PUSH_OFF, 3.0, HEEL_LANDING, -1.0, duration, since),
            }
        }
    }
}
