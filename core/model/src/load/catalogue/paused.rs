//! Jumps out of a full stop.

use super::row::{Row, stop};
use super::{Item, id};
use crate::facts::exercise::{Entry, Kind, Knee, Landing, Legs, Support};

pub(super) fn all() -> Vec<Item> {
    vec![paused_squat_jump()]
}

fn paused_squat_jump() -> Item {
    Row {
        id: id::PAUSED_SQUAT_JUMP,
        name: "Paused squat jump",
        about: "Stop for two seconds in a half squat, then jump; cue: no dip before you go.",
        kind: Kind::PausedJump,
        legs: Legs::Two,
        knee: Knee::Bent,
        landing: Landing::Paused,
        entry: Entry::LevelFlight { flight_us: 500_000 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours",
    }
    .with([stop(350)])
}
