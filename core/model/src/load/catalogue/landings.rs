//! Landings that are held.

use super::row::{PLAIN, Row, fixed, level, off, stop, stop_on};
use super::{Item, id};
use crate::facts::exercise::{Direction, Entry, Kind, Knee, Landing, Legs};

const HELD: Row = Row { kind: Kind::HeldLanding, landing: Landing::Held, ..PLAIN };
const ONE_LEG: Row = Row { legs: Legs::One, ..HELD };

pub(super) fn all() -> Vec<Item> {
    [level_landings(), onto_boxes(), drops()].concat()
}

fn level_landings() -> Vec<Item> {
    vec![
        Row {
            id: id::SNAP_DOWN,
            name: "Drop from tiptoe into a held squat",
            about: "Stand tall on the toes, pull yourself down into a half squat and freeze; cue: feet flat before the hips stop.",
            entry: level(100),
            ..HELD
        }
        .with([stop(300)]),
        Row {
            id: id::JUMP_HELD,
            name: "Jump and hold, two legs",
            about: "Jump up and hold the landing for two seconds; cue: knees over the toes, heels down.",
            entry: level(500),
            ..HELD
        }
        .with([stop(350)]),
        Row {
            id: id::JUMP_HELD_ONE_LEG,
            name: "Jump off two legs and hold on one",
            about: "Jump up off both feet and hold the landing on one; cue: the hip stays level with the other.",
            entry: level(440),
            ..ONE_LEG
        }
        .with([stop_on(Legs::One, 400)]),
        Row {
            id: id::HOP_HELD,
            name: "Hop forward and hold",
            about: "Hop forward on one leg and hold each landing for two seconds; cue: quiet foot, quiet trunk.",
            entry: level(320),
            ..ONE_LEG
        }
        .with([stop_on(Legs::One, 400).travelling(fixed(1_500), 68)]),
        Row {
            id: id::LEAP_HELD,
            name: "Leap to the other leg and hold",
            about: "Leap forward from one leg and hold the landing on the other; cue: land on the whole foot.",
            legs: Legs::Alternate,
            entry: level(340),
            ..HELD
        }
        .with([stop_on(Legs::Alternate, 400).travelling(fixed(2_000), 66)]),
        Row {
            id: id::SIDE_HOP_HELD,
            name: "Sideways leap and hold",
            about: "Leap sideways from one leg and hold the landing on the other; cue: the knee stays above the foot.",
            legs: Legs::Alternate,
            entry: level(310),
            source: "an estimate of ours, with the flight of hops from side to side: Wong et al. 2012, Int J Sports Med 33(8):647–653",
            direction: Some(Direction::Sideways),
            ..HELD
        }
        .with([stop_on(Legs::Alternate, 450).travelling(fixed(1_500), 65)]),
    ]
}

fn onto_boxes() -> Vec<Item> {
    const FALL: &str = "an estimate of ours: a fall of 5 to 15 cm onto the box";
    vec![
        Row {
            id: id::BOX_JUMP,
            name: "Box jump",
            about: "Jump onto a box, stand up, step down; cue: land as high as you took off.",
            entry: Entry::OntoBox { fall_mm: 100 },
            source: FALL,
            onto_mm: Some(500),
            ..HELD
        }
        .with([stop(250)]),
        Row {
            id: id::BOX_HOP,
            name: "Box jump, landing on one leg",
            about: "Jump onto a low box, land and hold on one leg, step down; cue: soft knee, still foot.",
            legs: Legs::One,
            entry: Entry::OntoBox { fall_mm: 100 },
            source: FALL,
            onto_mm: Some(300),
            ..HELD
        }
        .with([stop_on(Legs::One, 300)]),
    ]
}

fn drops() -> Vec<Item> {
    vec![
        Row {
            id: id::DROP_LANDING,
            name: "Drop landing, held",
            about: "Step off a box and hold the landing for two seconds; cue: land so that nobody hears it.",
            entry: off(300),
            ..HELD
        }
        .with([stop(350)]),
        Row {
            id: id::DROP_LANDING_STIFF,
            name: "Drop landing, short and stiff",
            about: "Step off a box and stop yourself at once on nearly straight legs; cue: brace before you touch.",
            knee: Knee::Stiff,
            entry: off(300),
            ..HELD
        }
        .with([stop(200)]),
        Row {
            id: id::DROP_LANDING_HIGH,
            name: "Drop landing from 60 cm, held",
            about: "Step off a box of 60 cm and hold the landing for two seconds; cue: take it with hips and knees, back long.",
            entry: off(600),
            source: "an estimate of ours; peak force grows with the square root of the height: Niu et al. 2014, BioMed Res Int 2014:126860",
            ..HELD
        }
        .with([stop(350)]),
        Row {
            id: id::DROP_LANDING_ONE_LEG,
            name: "Drop landing on one leg, held",
            about: "Step off a low box and hold the landing on one leg; cue: knee above the foot, hips level.",
            entry: off(200),
            ..ONE_LEG
        }
        .with([stop_on(Legs::One, 400)]),
        Row {
            id: id::DROP_LANDING_LUNGE,
            name: "Drop landing in a lunge, held",
            about: "Step off a low box and land with one foot ahead of the other; cue: weight on both feet, trunk tall.",
            entry: off(200),
            ..HELD
        }
        .with([stop(400)]),
        Row {
            id: id::DROP_LANDING_FORWARD,
            name: "Drop landing off a forward leap, held",
            about: "Leap forward off a box and hold the landing on both feet; cue: sit back into it.",
            entry: off(300),
            ..HELD
        }
        .with([stop(350).travelling(fixed(1_500), 72)]),
    ]
}
