//! Work to the side. The speed is the one to the side, the angle the leg's in
//! the frontal plane.

use super::row::{PLAIN, Row, fixed, level, off, spot, stop, stop_on};
use super::{Item, id};
use crate::facts::exercise::{Kind, Knee, Legs, Move, Support};

const LATERAL: Row = Row { kind: Kind::Lateral, ..PLAIN };
const SIDE_TO_SIDE: Row = Row { legs: Legs::Alternate, contacts_per_rep: 2, ..LATERAL };
const ONE_LEG: Row = Row { legs: Legs::One, ..LATERAL };

pub(super) fn all() -> Vec<Item> {
    [leg_to_leg(), two_legs(), one_leg()].concat()
}

fn leg_to_leg() -> Vec<Item> {
    vec![
        Row {
            id: id::SKATER_HOP,
            name: "Skater hops",
            about: "Spring from side to side, one leg to the other; cue: push off the inside edge of the foot.",
            entry: level(310),
            support: Support::Derived,
            source: "0.45 s and a mean of 0.76 BW·s: Wong et al. 2012, Int J Sports Med 33(8):647–653; the speed is an estimate of ours",
            ..SIDE_TO_SIDE
        }
        .with([spot(Move::LateralHop, Legs::Alternate, 450, 310).travelling(fixed(1_500), 65)]),
        Row {
            id: id::LATERAL_QUICK_STEPS,
            name: "Quick steps from side to side",
            about: "Step from foot to foot over a line as fast as you can; cue: feet fast, shoulders still.",
            knee: Knee::Stiff,
            entry: level(80),
            support: Support::Derived,
            source: "0.23 s in quick lateral footwork and a mean force of 1.35 BW: Wong et al. 2012, Int J Sports Med 33(8):647–653; the speed is an estimate of ours",
            ..SIDE_TO_SIDE
        }
        .with([spot(Move::LateralHop, Legs::Alternate, 230, 80).travelling(fixed(1_000), 80)]),
        Row {
            id: id::LATERAL_LEAPS_LONG,
            name: "Sideways leaps for distance",
            about: "Leap from one leg to the other as far to the side as you can; cue: land, sink, and go back the same way.",
            entry: level(360),
            source: "an estimate of ours, above hops from side to side",
            ..SIDE_TO_SIDE
        }
        .with([spot(Move::LateralHop, Legs::Alternate, 480, 360).travelling(fixed(2_000), 62)]),
        Row {
            id: id::ZIGZAG_BOUNDS,
            name: "Zigzag bounds",
            about: "Bound forward and outward from leg to leg between two lines; cue: each push goes forward and across.",
            entry: level(330),
            contacts_per_rep: 8,
            ..SIDE_TO_SIDE
        }
        .with([spot(Move::Bound, Legs::Alternate, 240, 330).travelling(fixed(3_000), 68)]),
        Row {
            id: id::SIDE_SHUFFLE,
            name: "Side shuffle",
            about: "Travel sideways with quick low steps that never cross; cue: stay low, push with the trailing foot.",
            entry: level(80),
            contacts_per_rep: 12,
            ..SIDE_TO_SIDE
        }
        .with([spot(Move::LateralHop, Legs::Alternate, 210, 80).travelling(fixed(2_500), 80)]),
        Row {
            id: id::LOW_BOX_SIDE_PUSH_OFFS,
            name: "Low-box push-offs from side to side",
            about: "Drive up off the foot on a low box and cross over to its other side; cue: up first, then across.",
            entry: level(280),
            ..SIDE_TO_SIDE
        }
        .with([spot(Move::LateralHop, Legs::Alternate, 340, 280).travelling(fixed(800), 80)]),
    ]
}

fn two_legs() -> Vec<Item> {
    vec![
        Row {
            id: id::LINE_HOPS,
            name: "Line hops from side to side, two legs",
            about: "Hop to and fro over a line on both feet; cue: just clear of the line, ankles only.",
            knee: Knee::Stiff,
            entry: level(200),
            ..LATERAL
        }
        .with([spot(Move::LateralHop, Legs::Two, 190, 200).travelling(fixed(800), 82)]),
        Row {
            id: id::SIDE_HURDLE_JUMPS,
            name: "Sideways hurdle jumps, two legs",
            about: "Jump sideways over a row of low hurdles with one contact between each; cue: hips travel with the feet.",
            entry: level(460),
            contacts_per_rep: 5,
            source: "an estimate of ours, above hurdle jumps forward",
            over_mm: Some(300),
            ..LATERAL
        }
        .with([spot(Move::LateralHop, Legs::Two, 240, 460).travelling(fixed(1_200), 78)]),
        Row {
            id: id::SIDE_DROP_JUMP,
            name: "Sideways drop jump, two legs",
            about: "Step sideways off a low box, rebound up and stand; cue: both feet down at one time.",
            entry: off(200),
            source: "an estimate of ours, above the drop jump",
            ..LATERAL
        }
        .with([spot(Move::DropJump, Legs::Two, 240, 460).travelling(fixed(800), 80), stop(350)]),
    ]
}

fn one_leg() -> Vec<Item> {
    vec![
        Row {
            id: id::LINE_HOPS_ONE_LEG,
            name: "Line hops from side to side, one leg",
            about: "Hop to and fro over a line on one foot; cue: the knee stays above the foot both ways.",
            knee: Knee::Stiff,
            entry: level(200),
            ..ONE_LEG
        }
        .with([spot(Move::LateralHop, Legs::One, 220, 200).travelling(fixed(800), 82)]),
        Row {
            id: id::SIDE_HURDLE_HOPS,
            name: "Sideways hurdle hops, one leg",
            about: "Hop sideways on one leg over a row of very low hurdles; cue: land under the hip.",
            entry: level(340),
            contacts_per_rep: 4,
            source: "an estimate of ours, as for hurdle hops forward",
            over_mm: Some(150),
            ..ONE_LEG
        }
        .with([spot(Move::LateralHop, Legs::One, 310, 340).travelling(fixed(1_000), 78)]),
        Row {
            id: id::CROSSOVER_HOPS,
            name: "Hops across a line, travelling, one leg",
            about: "Hop forward on one leg and cross a line with every hop; cue: steer with the hip, not the knee.",
            entry: level(300),
            source: "an estimate of ours, as for one-leg hops from a stand",
            ..ONE_LEG
        }
        .with([
            spot(Move::LateralHop, Legs::One, 280, 300).travelling(fixed(2_000), 70),
            spot(Move::LateralHop, Legs::One, 280, 300).travelling(fixed(2_500), 70),
            spot(Move::LateralHop, Legs::One, 280, 300).travelling(fixed(2_500), 70),
            stop_on(Legs::One, 400).travelling(fixed(2_500), 66),
        ]),
    ]
}
