//! Work to the side.

use super::row::{Row, fixed, spot};
use super::{Item, id};
use crate::facts::exercise::{Entry, Kind, Knee, Landing, Legs, Move, Support};

pub(super) fn all() -> Vec<Item> {
    vec![skater_hop()]
}

fn skater_hop() -> Item {
    Row {
        id: id::SKATER_HOP,
        name: "Skater hops",
        about: "Spring from side to side, one leg to the other; cue: push off the inside edge of the foot.",
        kind: Kind::Lateral,
        legs: Legs::Alternate,
        knee: Knee::Bent,
        landing: Landing::Rebound,
        entry: Entry::LevelFlight { flight_us: 310_000 },
        contacts_per_rep: 2,
        loss_per_mille: 0,
        support: Support::Derived,
        source: "0.45 s and a mean of 0.76 BW·s: Wong et al. 2012, Int J Sports Med 33(8):647–653; the speed is an estimate of ours",
    }
    .with([
        spot(Move::LateralHop, Legs::Alternate, 450, 310).travelling(fixed(1_500), 65),
    ])
}
