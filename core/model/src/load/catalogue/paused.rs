//! Jumps out of a full stop. What is computed of them is the landing: the stop
//! divides the contact, so its times give no push.

use super::row::{PLAIN, Row, fixed, level, stop, stop_on, worn};
use super::{Item, id};
use crate::facts::exercise::{Entry, Kind, Landing, Legs};

const PAUSED: Row = Row { kind: Kind::PausedJump, landing: Landing::Paused, ..PLAIN };

pub(super) fn all() -> Vec<Item> {
    [bodyweight(), loaded()].concat()
}

fn bodyweight() -> Vec<Item> {
    vec![
        Row {
            id: id::PAUSED_SQUAT_JUMP,
            name: "Paused squat jump",
            about: "Stop for two seconds in a half squat, then jump; cue: no dip before you go.",
            entry: level(500),
            ..PAUSED
        }
        .with([stop(350)]),
        Row {
            id: id::PAUSED_JUMP_ONE_LEG,
            name: "Paused jump, one leg",
            about: "Stop for two seconds on a bent leg, jump up off it and land on it; cue: no dip, free leg quiet.",
            legs: Legs::One,
            entry: level(340),
            ..PAUSED
        }
        .with([stop_on(Legs::One, 400)]),
        Row {
            id: id::PAUSED_SPLIT_JUMP,
            name: "Paused split jump",
            about: "Stop for two seconds in a lunge, jump up and land in it again; cue: drive through the front heel.",
            entry: level(400),
            ..PAUSED
        }
        .with([stop(400)]),
        Row {
            id: id::SEATED_BOX_JUMP,
            name: "Jump from a seat onto a box",
            about: "Sit still on a bench with the feet down, jump onto a box and step down; cue: no rocking before you go.",
            entry: Entry::OntoBox { fall_mm: 100 },
            source: "an estimate of ours: a fall of 5 to 15 cm onto the box",
            onto_mm: Some(500),
            ..PAUSED
        }
        .with([stop(250)]),
        Row {
            id: id::PAUSED_LONG_JUMP,
            name: "Paused standing long jump",
            about: "Stop for two seconds in a half squat, then jump forward off both feet; cue: the arms start with the legs.",
            entry: level(480),
            source: "an estimate of ours, below the standing long jump with a swing",
            ..PAUSED
        }
        .with([stop(250).travelling(fixed(2_750), 60)]),
        // A repetition is one hurdle.
        Row {
            id: id::PAUSED_HURDLE_JUMPS,
            name: "Hurdle jumps with a stop before each",
            about: "Land from a hurdle, stop for two seconds in a half squat, and clear the next one; cue: dead still, then go.",
            entry: level(520),
            source: "an estimate of ours, below hurdle jumps with a rebound",
            over_mm: Some(500),
            ..PAUSED
        }
        .with([stop(350).travelling(fixed(1_250), 85)]),
    ]
}

fn loaded() -> Vec<Item> {
    vec![
        Row {
            id: id::PAUSED_SQUAT_JUMP_QUARTER,
            name: "Paused squat jump with a bar, a quarter of body mass",
            about: "Stop for two seconds in a half squat under a light bar, then jump; cue: push the bar away from the floor.",
            entry: level(430),
            source: "an estimate of ours: paused squat jump without a bar, height × 0.74 and landing × 1.20 as in countermovement jumps: Lake et al. 2021, J Strength Cond Res 35(1):25–32",
            load: worn(250),
            ..PAUSED
        }
        .with([stop(420)]),
        Row {
            id: id::PAUSED_SQUAT_JUMP_HALF,
            name: "Paused squat jump with a bar, half of body mass",
            about: "Stop for two seconds in a half squat under a bar of half your mass, then jump; cue: fast from the very bottom.",
            entry: level(384),
            source: "an estimate of ours: paused squat jump without a bar, height × 0.59 and landing × 1.29, on lines between loads of 0.25 and 1 in countermovement jumps: Lake et al. 2021, J Strength Cond Res 35(1):25–32",
            load: worn(500),
            ..PAUSED
        }
        .with([stop(451)]),
    ]
}
