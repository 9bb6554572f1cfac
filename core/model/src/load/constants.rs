//! Gravity, and the defaults that do not belong to one exercise.

use crate::facts::exercise::Support;

/// Acceleration of free fall, m/s². The rounded value of the papers cited in
/// this module; standard gravity is 9.80665.
pub const G: f64 = 9.81;

/// A default that stands for something nobody has stated or measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Assumed {
    /// The value, in the unit of the constant.
    pub value: u32,
    /// What stands behind it.
    pub support: Support,
    /// Where it comes from.
    pub source: &'static str,
}

/// Top sprinting speed of an athlete who has not stated one, mm/s.
pub const TOP_SPEED_MM_S: Assumed = Assumed {
    value: 8_500,
    support: Support::Estimate,
    source: "an estimate of ours for a mixed squad; state or time the athlete's own",
};

/// Time constant of the acceleration of an athlete who has not stated one, ms.
///
/// A jumper's run-up is built up on purpose, so the slower value is taken.
pub const TAU_MS: Assumed = Assumed {
    value: 1_450,
    support: Support::Derived,
    source: "9.46 m/s over 6.42 m/s², rounded; di Prampero et al. 2005, J Exp Biol 208:2809–2816",
};

/// Flight of the stride that brings the run-in to its first contact, µs.
pub const RUN_IN_FLIGHT_US: Assumed = Assumed {
    value: 117_000,
    support: Support::Derived,
    source: "0.108 s × (2.08 − 1); Weyand et al. 2010, J Appl Physiol 108:950–961",
};

/// Strides a second of a run-in from a stand.
///
/// Ours: a stride rate near 4 Hz is reached at once (a review of sprint
/// starts), taken as constant.
pub const STRIDES_PER_S: f64 = 4.1;
