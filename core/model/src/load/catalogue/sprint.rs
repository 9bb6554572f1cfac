//! Sprinting and sprint drills.

use super::row::{NO_CAP_MM_S, Row, fixed, run_in, spot};
use super::{Item, id};
use crate::facts::exercise::{Entry, Kind, Knee, Landing, Legs, Move, Support};

pub(super) fn all() -> Vec<Item> {
    vec![a_skip(), sprint_strides()]
}

fn a_skip() -> Item {
    Row {
        id: id::A_SKIP,
        name: "A-skip",
        about: "Skip forward with the thigh brought level; cue: the foot comes straight down under the hip.",
        kind: Kind::Sprint,
        legs: Legs::Alternate,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::LevelFlight { flight_us: 150_000 },
        contacts_per_rep: 20,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours",
    }
    .with([spot(Move::Skip, Legs::Alternate, 180, 150).travelling(fixed(1_500), 85)])
}

fn sprint_strides() -> Item {
    Row {
        id: id::SPRINT_STRIDES,
        name: "Sprint strides at speed",
        about: "Run at top speed out of a long build-up; cue: strike down, not out in front.",
        kind: Kind::Sprint,
        legs: Legs::Alternate,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::RunIn { usual_strides: 20 },
        contacts_per_rep: 20,
        loss_per_mille: 0,
        support: Support::Derived,
        source: "0.108 s and 2.08 BW at top speed: Weyand et al. 2010, J Appl Physiol 108:950–961",
    }
    .with([spot(Move::SprintStride, Legs::Alternate, 108, 117).travelling(run_in(NO_CAP_MM_S), 73)])
}
