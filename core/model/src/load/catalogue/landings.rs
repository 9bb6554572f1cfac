//! Landings that are held.

use super::row::{Row, stop};
use super::{Item, id};
use crate::facts::exercise::{Entry, Kind, Knee, Landing, Legs, Support};

pub(super) fn all() -> Vec<Item> {
    vec![drop_landing(), box_jump()]
}

fn drop_landing() -> Item {
    Row {
        id: id::DROP_LANDING,
        name: "Drop landing, held",
        about: "Step off a box and hold the landing for two seconds; cue: land so that nobody hears it.",
        kind: Kind::HeldLanding,
        legs: Legs::Two,
        knee: Knee::Bent,
        landing: Landing::Held,
        entry: Entry::Box { usual_mm: 300 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours",
    }
    .with([stop(350)])
}

fn box_jump() -> Item {
    Row {
        id: id::BOX_JUMP,
        name: "Box jump",
        about: "Jump onto a box, stand up, step down; cue: land as high as you took off.",
        kind: Kind::HeldLanding,
        legs: Legs::Two,
        knee: Knee::Bent,
        landing: Landing::Held,
        entry: Entry::OntoBox { fall_mm: 100 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours: a fall of 5 to 15 cm onto the box",
    }
    .with([stop(250)])
}
