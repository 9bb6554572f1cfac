//! Vertical rebounds: on the spot, over hurdles, off a box.

use super::row::{Row, fixed, spot, stop};
use super::{Item, id};
use crate::facts::exercise::{Entry, Kind, Knee, Landing, Legs, Move, Support};

pub(super) fn all() -> Vec<Item> {
    vec![pogo(), pogo_one_leg(), hurdle_jumps(), tuck_jumps(), drop_jump()]
}

fn pogo() -> Item {
    Row {
        id: id::POGO,
        name: "Pogo, two legs",
        about: "Bounce on the spot from nearly straight legs; cue: a quick ankle, as if the floor were hot.",
        kind: Kind::VerticalRebound,
        legs: Legs::Two,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::LevelFlight { flight_us: 460_000 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours after tests of repeated maximal hops, remembered and not read (Harper, Hobbs & Moore 2011; Comyns et al. 2017)",
    }
    .with(vec![spot(Move::Rebound, Legs::Two, 200, 460)])
}

fn pogo_one_leg() -> Item {
    Row {
        id: id::POGO_ONE_LEG,
        name: "Pogo, one leg",
        about: "Bounce on the spot on one foot; cue: hips level, heel just clear of the ground.",
        kind: Kind::VerticalRebound,
        legs: Legs::One,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::LevelFlight { flight_us: 300_000 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours",
    }
    .with(vec![spot(Move::Rebound, Legs::One, 240, 300)])
}

fn hurdle_jumps() -> Item {
    Row {
        id: id::HURDLE_JUMPS,
        name: "Hurdle jumps, two legs",
        about: "Clear a row of hurdles with one contact between each; cue: meet the ground, don't wait for it.",
        kind: Kind::VerticalRebound,
        legs: Legs::Two,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::LevelFlight { flight_us: 560_000 },
        contacts_per_rep: 5,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours; contacts below 0.25 s up to 140 % of the own jump height: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720",
    }
    .with(vec![
        spot(Move::Jump, Legs::Two, 210, 560).travelling(fixed(1_500), 85),
    ])
}

fn tuck_jumps() -> Item {
    Row {
        id: id::TUCK_JUMPS,
        name: "Tuck jumps",
        about: "Jump again and again on the spot and bring the knees up at the top; cue: tall at take-off, then knees.",
        kind: Kind::VerticalRebound,
        legs: Legs::Two,
        knee: Knee::Bent,
        landing: Landing::Rebound,
        entry: Entry::LevelFlight { flight_us: 540_000 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours",
    }
    .with(vec![spot(Move::Jump, Legs::Two, 250, 540)])
}

fn drop_jump() -> Item {
    Row {
        id: id::DROP_JUMP,
        name: "Drop jump",
        about: "Step off a box, rebound as high as a short contact allows, land and stand; cue: short first, then high.",
        kind: Kind::VerticalRebound,
        legs: Legs::Two,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::Box { usual_mm: 300 },
        contacts_per_rep: 2,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours for 30 cm; below 0.26 s from 20 to 60 cm: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769",
    }
    .with(vec![spot(Move::DropJump, Legs::Two, 205, 540), stop(350)])
}
