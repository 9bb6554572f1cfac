//! Height of the hips: free fall in flight, a smooth dip on the ground.

use super::{Place, Stance, curve, place};

/// Acceleration of free fall, m/s².
const G: f64 = 9.81;

/// Height at `t`, `level` at every touchdown and toe-off.
///
/// A flight between equal heights begins and ends with g·tf/2, so the flight
/// times set the speeds between which the ground turns the fall.
pub(super) fn height(stances: &[Stance], level: f64, t: f64) -> f64 {
    match place(stances, t) {
        Place::Between(before, after) => {
            let flight = after.touchdown - before.toe_off;
            let since = t - before.toe_off;
            level + G * flight / 2.0 * since - G * since * since / 2.0
        }
        Place::On(stance) => {
            let speed_between = |before: Option<&Stance>, after: Option<&Stance>| {
                before.zip(after).map_or(0.0, |(b, a)| G * (a.touchdown - b.toe_off) / 2.0)
            };
            let before = stances.iter().rfind(|s| s.toe_off < stance.touchdown);
            let after = stances.iter().find(|s| s.touchdown > stance.toe_off);
            curve::cubic(
                level,
                -speed_between(before, Some(&stance)),
                level,
                speed_between(Some(&stance), after),
                stance.duration(),
                t - stance.touchdown,
            )
        }
    }
}
