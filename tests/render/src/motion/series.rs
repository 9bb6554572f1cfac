//! A series of contacts whose times, speed and manner a seed chooses.

use super::{Contact, Foot, Leg, Motion, Place, Point, Pose, Stance, curve, hip, place};
use crate::dice::Dice;

/// Acceleration of free fall, m/s².
const G: f64 = 9.81;

/// What is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exercise {
    /// Hops on two legs, on the spot or drifting.
    Pogo,
    /// Hops on one leg, going forward.
    Hops,
    /// Alternate bounds.
    Bounds,
    /// Running steps.
    Run,
}

/// A series of contacts, made by a seed.
///
/// Unlike the motion of the committed clips, the foot may leave the ground
/// slowly, peel off by the toes, come down with the heel raised or flat, and
/// two feet may land and leave a few milliseconds apart. No foot lands heel
/// first: the drawn foot cannot point its toes up.
#[derive(Clone, Debug)]
pub struct Series {
    exercise: Exercise,
    contacts: Vec<Contact>,
    left: Vec<Stance>,
    right: Vec<Stance>,
    /// Any foot on the ground.
    either: Vec<Stance>,
    /// Speed over the ground, m/s.
    speed: f64,
    /// Height of the hips at touchdown and toe-off, m.
    hip: f64,
    /// How fast the foot comes down onto the ground and leaves it, m/s.
    down: f64,
    up: f64,
    /// How fast it still goes forward when it comes down, m/s.
    forward: f64,
    /// Heel's angle at touchdown, at the deepest and at toe-off.
    heel: [f64; 3],
    /// Angle to which the toe part is raised at toe-off.
    peel: f64,
    lean: f64,
}

impl Series {
    /// The series of a seed, over `duration` seconds from frame 0; legs of
    /// `leg` metres.
    #[must_use]
    pub fn new(seed: u64, exercise: Exercise, duration: f64, leg: f64) -> Self {
        let mut dice = Dice::new(seed, 0x5e71e5);
        let (contact, flight, speed) = match exercise {
            Exercise::Pogo => {
                (dice.between(0.14, 0.26), dice.between(0.22, 0.46), dice.between(-0.1, 0.6).max(0.0))
            }
            Exercise::Hops => (dice.between(0.15, 0.26), dice.between(0.18, 0.38), dice.between(0.8, 3.5)),
            Exercise::Bounds => (dice.between(0.12, 0.20), dice.between(0.22, 0.40), dice.between(3.0, 6.5)),
            Exercise::Run => (dice.between(0.09, 0.17), dice.between(0.09, 0.16), dice.between(4.0, 8.5)),
        };
        let whole = |seconds: f64| (seconds * 1e6).round() / 1e6;
        let (mut left, mut right, mut either) = (vec![], vec![], vec![]);
        let mut touchdown = -2.0 - dice.between(0.0, contact + flight);
        let mut on_left = dice.chance(0.5);
        // One contact before the clip and one after it shape its ends.
        while touchdown < duration + 2.0 {
            let toe_off = touchdown + contact * dice.between(0.88, 1.12);
            let stance = Stance::new(whole(touchdown), whole(toe_off));
            either.push(stance);
            if exercise == Exercise::Pogo {
                let (first, last) = (dice.between(0.0, 0.006), dice.between(0.0, 0.006));
                let late = Stance::new(whole(touchdown + first), stance.toe_off);
                let early = Stance::new(stance.touchdown, whole(toe_off - last));
                let left_late = dice.chance(0.5);
                left.push(if left_late { late } else { early });
                right.push(if left_late { early } else { late });
            } else {
                if on_left { &mut left } else { &mut right }.push(stance);
                on_left ^= exercise != Exercise::Hops;
            }
            touchdown = toe_off + flight * dice.between(0.9, 1.1);
        }
        let fall = G * flight / 2.0;
        let upright = exercise == Exercise::Pogo || exercise == Exercise::Hops;
        let heel_landing = dice.between(0.0, if upright { 0.35 } else { 0.2 });
        let mut series = Self {
            exercise,
            contacts: vec![],
            left,
            right,
            either,
            speed,
            hip: leg * if upright { 1.0 } else { 0.955 },
            down: if upright { fall * dice.between(0.7, 1.1) } else { dice.between(1.2, 3.5) },
            up: if upright { fall * dice.between(0.35, 0.9) } else { dice.between(0.7, 3.0) },
            forward: dice.between(0.2, 2.2).min(speed),
            heel: [heel_landing, heel_landing * dice.between(0.0, 0.6), dice.between(0.55, 0.9)],
            peel: dice.between(0.0, 0.35),
            lean: dice.between(0.02, 0.16),
        };
        let micros = |seconds: f64| (seconds * 1e6).round() as u32;
        for stance in series.either.iter().filter(|s| s.touchdown > 0.0 && s.toe_off < duration) {
            let foot = match exercise {
                Exercise::Pogo => Foot::Both,
                _ if series.left.iter().any(|s| s.touchdown == stance.touchdown) => Foot::Left,
                _ => Foot::Right,
            };
            series.contacts.push(Contact::new(foot, micros(stance.touchdown), micros(stance.toe_off)));
        }
        series
    }

    /// Where the hips are at an instant, along the ground, m.
    #[must_use]
    pub fn along(&self, t: f64) -> f64 {
        self.speed * t
    }

    /// Every touchdown and toe-off with where the tips of the foot then stand,
    /// m: also those of contacts that are in the clip by one half only.
    pub fn events(&self) -> impl Iterator<Item = (bool, f64, f64)> {
        self.either.iter().flat_map(|stance| {
            let print = self.place_of(stance);
            [(true, stance.touchdown, print), (false, stance.toe_off, print)]
        })
    }

    fn place_of(&self, stance: &Stance) -> f64 {
        let ahead = if self.exercise == Exercise::Pogo { 0.14 } else { 0.07 };
        self.along(stance.middle()) + ahead
    }

    fn leg(&self, stances: &[Stance], t: f64) -> Leg {
        if stances.is_empty() {
            return self.free(t);
        }
        let [landing, deepest, push_off] = self.heel;
        match place(stances, t) {
            Place::On(stance) => {
                let duration = stance.duration();
                Leg {
                    tip: Point::new(self.place_of(&stance), 0.0),
                    toe_lift: self.peel * curve::ramp(0.75, 1.0, (t - stance.touchdown) / duration),
                    heel_lift: curve::through(
                        &[
                            (0.0, landing),
                            (0.35 * duration, deepest),
                            (0.6 * duration, deepest + 0.25 * (push_off - deepest)),
                            (duration, push_off),
                        ],
                        -1.0,
                        3.0,
                        t - stance.touchdown,
                    )
                    .max(0.0),
                }
            }
            Place::Between(before, after) if matches!(self.exercise, Exercise::Pogo | Exercise::Hops) => {
                self.rebound(&before, &after, t)
            }
            Place::Between(before, after) => self.swing(&before, &after, t),
        }
    }

    /// A leg in the flight of a hop: it stays under the body.
    fn rebound(&self, before: &Stance, after: &Stance, t: f64) -> Leg {
        let [landing, _, push_off] = self.heel;
        let duration = after.touchdown - before.toe_off;
        let since = t - before.toe_off;
        let peak = G * duration * duration / 8.0 + if self.exercise == Exercise::Hops { 0.12 } else { 0.0 };
        let arrival = if self.exercise == Exercise::Hops { self.forward } else { 0.0 };
        let heel_lift = curve::cubic(push_off, 2.0, landing, -1.0, duration, since).max(0.0);
        Leg {
            tip: Point::new(
                curve::cubic(self.place_of(before), 0.0, self.place_of(after), arrival, duration, since),
                curve::through(
                    &[(0.0, 0.0), (duration / 2.0, peak), (duration, 0.0)],
                    self.up,
                    -self.down,
                    since,
                ),
            ),
            toe_lift: (self.peel * (1.0 - curve::ramp(0.0, 0.4, since / duration))).min(heel_lift),
            heel_lift,
        }
    }

    /// A leg in the flight of a step: the heel comes up behind, the knee is
    /// carried through, and the foot comes down.
    fn swing(&self, before: &Stance, after: &Stance, t: f64) -> Leg {
        let [landing, _, push_off] = self.heel;
        let duration = after.touchdown - before.toe_off;
        let since = t - before.toe_off;
        let at = |share: f64| share * duration;
        let from = self.place_of(before) - self.along(before.toe_off);
        let to = self.place_of(after) - self.along(after.touchdown);
        let ahead = curve::through(
            &[(0.0, from), (at(0.2), from - 0.2), (at(0.45), -0.12), (at(0.75), to + 0.16), (duration, to)],
            -self.speed,
            self.forward - self.speed,
            since,
        );
        let height = curve::through(
            &[(0.0, 0.0), (at(0.2), 0.30), (at(0.45), 0.44), (at(0.75), 0.28), (duration, 0.0)],
            self.up,
            -self.down,
            since,
        );
        let heel_lift = curve::through(
            &[
                (0.0, push_off),
                (at(0.2), 1.4),
                (at(0.45), 0.95),
                (at(0.75), landing + 0.12),
                (at(0.9), landing),
                (duration, landing),
            ],
            2.0,
            0.0,
            since,
        )
        .max(0.0);
        let share = since / duration;
        let raised = self.peel * (1.0 - curve::ramp(0.0, 0.3, share))
            + heel_lift * curve::ramp(0.05, 0.3, share) * (1.0 - curve::ramp(0.5, 0.8, share));
        Leg { tip: Point::new(self.along(t) + ahead, height), toe_lift: raised.min(heel_lift), heel_lift }
    }

    /// The leg that does not hop: bent, swinging a little.
    fn free(&self, t: f64) -> Leg {
        let swing = (t * 9.0).sin();
        Leg {
            tip: Point::new(
                self.along(t) - 0.22 + 0.12 * swing,
                self.height(t) - self.hip + 0.42 + 0.05 * swing,
            ),
            toe_lift: 0.3,
            heel_lift: 0.8,
        }
    }

    fn height(&self, t: f64) -> f64 {
        hip::height(&self.either, self.hip, t)
    }
}

impl Motion for Series {
    fn contacts(&self) -> &[Contact] {
        &self.contacts
    }

    fn run_in(&self) -> &[Contact] {
        &[]
    }

    fn pose(&self, t: f64) -> Pose {
        let hip = Point::new(self.along(t), self.height(t));
        let (left, right) = (self.leg(&self.left, t), self.leg(&self.right, t));
        let beside = |leg: Leg, x: f64| Leg { tip: leg.tip.moved(x, 0.0), ..leg };
        if self.exercise == Exercise::Pogo {
            let arm = 0.1 + 1.6 * (hip.y - self.hip);
            return Pose {
                hip,
                lean: self.lean,
                left: beside(left, 0.05),
                right: beside(right, -0.05),
                left_arm: arm + 0.06,
                right_arm: arm - 0.06,
            };
        }
        // An arm swings with the leg of the other side.
        let arm = |other: &Leg| 0.95 * (other.tip.x - hip.x) - 0.15;
        Pose { hip, lean: self.lean, left, right, left_arm: arm(&right), right_arm: arm(&left) }
    }

    fn camera(&self, _: f64) -> f64 {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [Exercise; 4] = [Exercise::Pogo, Exercise::Hops, Exercise::Bounds, Exercise::Run];

    #[test]
    fn a_sole_is_on_the_ground_exactly_in_a_contact() {
        for exercise in ALL {
            for seed in 0..30 {
                let series = Series::new(seed, exercise, 1.6, 0.92);
                assert!(series.contacts().len() >= 2, "{exercise:?} {seed}");
                let first = f64::from(series.contacts()[0].touchdown_us) / 1e6;
                for step in 0..1600 {
                    // Off the microseconds, so that no instant is an event.
                    let t = f64::from(step) / 1000.0 + 5e-7;
                    let last = f64::from(series.contacts().last().unwrap().toe_off_us) / 1e6;
                    if t < first || t > last {
                        continue;
                    }
                    let pose = series.pose(t);
                    let lowest = pose.left.tip.y.min(pose.right.tip.y);
                    let on = series
                        .contacts()
                        .iter()
                        .any(|c| (f64::from(c.touchdown_us)..f64::from(c.toe_off_us)).contains(&(t * 1e6)));
                    assert!(lowest >= 0.0, "{exercise:?} {seed} {t} {pose:?}");
                    assert_eq!(lowest <= 0.0, on, "{exercise:?} {seed} {t}: {lowest}");
                }
            }
        }
    }

    #[test]
    fn nothing_of_a_foot_points_below_its_tip() {
        for exercise in ALL {
            for seed in 0..30 {
                let series = Series::new(seed, exercise, 1.6, 0.92);
                for step in 0..800 {
                    let pose = series.pose(f64::from(step) / 500.0);
                    for leg in [&pose.left, &pose.right] {
                        assert!(leg.toe_lift >= 0.0 && leg.heel_lift >= 0.0, "{exercise:?} {seed} {leg:?}");
                    }
                }
            }
        }
    }
}
