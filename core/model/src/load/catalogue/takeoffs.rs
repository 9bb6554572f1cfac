//! Take-offs of the long and triple jump, and their drills.

use super::row::{NO_CAP_MM_S, PLAIN, Row, fixed, level, off, run_in, spot, strides, strides_on};
use super::{Item, id};
use crate::facts::Surface;
use crate::facts::exercise::{Entry, Kind, Knee, Legs, Move, UsualContact};

const TAKE_OFF: Row = Row {
    kind: Kind::EventTakeOff,
    legs: Legs::One,
    knee: Knee::Stiff,
    surface: Some(Surface::Track),
    ..PLAIN
};
const TRIPLE: Row = Row { legs: Legs::Alternate, ..TAKE_OFF };

pub(super) fn all() -> Vec<Item> {
    [long_jumps(), triple_jumps(), drills()].concat()
}

/// A take-off from the board into the sand.
fn board(contact_ms: u32, flight_ms: u32) -> UsualContact {
    spot(Move::TakeOff, Legs::One, contact_ms, flight_ms).travelling(run_in(NO_CAP_MM_S), 62).into_pit()
}

fn long_jumps() -> Vec<Item> {
    vec![
        Row {
            id: id::LONG_JUMP_SHORT,
            name: "Long jump, short run-up",
            about: "Jump into the sand from a few strides; cue: tall and flat onto the board, then up.",
            entry: strides(8),
            source: "ours for 8 strides: 0.12 s + 0.015 s for each m/s below full speed; the angle stays as the run-up changes: Bridgett & Linthorne 2006, J Sports Sci 24(8):889–897",
            ..TAKE_OFF
        }
        .with([board(150, 620)]),
        Row {
            id: id::LONG_JUMP_FOUR,
            name: "Long jump from four strides",
            about: "Jump into the sand from four strides; cue: the last step flat and quick.",
            entry: strides(4),
            source: "ours for 4 strides: 0.12 s + 0.015 s for each m/s below full speed; the angle stays as the run-up changes: Bridgett & Linthorne 2006, J Sports Sci 24(8):889–897",
            ..TAKE_OFF
        }
        .with([board(180, 550)]),
        Row {
            id: id::LONG_JUMP_MIDDLE,
            name: "Long jump, middle run-up",
            about: "Jump into the sand from about twelve strides; cue: build the speed, then stay tall for the last two.",
            entry: strides(12),
            source: "ours for 12 strides: 0.12 s + 0.015 s for each m/s below full speed; the angle stays as the run-up changes: Bridgett & Linthorne 2006, J Sports Sci 24(8):889–897",
            ..TAKE_OFF
        }
        .with([board(131, 700)]),
        Row {
            id: id::LONG_JUMP_FULL,
            name: "Long jump, full run-up",
            about: "Jump into the sand from the run-up of a competition; cue: run through the board and jump on the way.",
            entry: strides(18),
            source: "ours: 0.12 s, between 0.127 s of one world-class man (Čoh, Žvan & Kugovnik 2017, doi 10.5772/intechopen.71418) and 0.11 s and 61 to 63° remembered after Linthorne 2008",
            ..TAKE_OFF
        }
        .with([board(120, 800)]),
    ]
}

/// The contacts of a triple jump with what they cost: 8.5 % of the speed from the hop's flight to the step's
/// and 15.1 % from that to the jump's, Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237; at the board 4 % of
/// the energy, which is 2 % of the speed.
fn phase(mv: Move, legs: Legs, contact_ms: u32, flight_ms: u32) -> UsualContact {
    let lost = match mv {
        Move::Hop => 20,
        Move::Step => 85,
        _ => 151,
    };
    spot(mv, legs, contact_ms, flight_ms).travelling(run_in(NO_CAP_MM_S), 66).costing(lost)
}

fn triple_jumps() -> Vec<Item> {
    vec![
        Row {
            id: id::TRIPLE_JUMP_SHORT,
            name: "Triple jump, short run-up",
            about: "Hop, step and jump into the sand from six to eight strides; cue: a low hop keeps the speed for the jump.",
            entry: strides(8),
            source: "ours: 0.02 s above full run-ups (0.135, 0.157, 0.177 s after Perttunen et al. 2000, J Sports Sci 18:363–370); speed by Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237",
            ..TRIPLE
        }
        .with([
            phase(Move::Hop, Legs::One, 155, 400),
            phase(Move::Step, Legs::One, 177, 340),
            phase(Move::Jump, Legs::Alternate, 197, 500).into_pit(),
        ]),
        Row {
            id: id::TRIPLE_JUMP_FOUR,
            name: "Triple jump from four strides",
            about: "Hop, step and jump into the sand from four strides; cue: the same rhythm as from far back.",
            entry: strides(4),
            source: "ours: 0.03 s above full run-ups (0.135, 0.157, 0.177 s after Perttunen et al. 2000, J Sports Sci 18:363–370); speed by Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237",
            ..TRIPLE
        }
        .with([
            phase(Move::Hop, Legs::One, 165, 330),
            phase(Move::Step, Legs::One, 187, 290),
            phase(Move::Jump, Legs::Alternate, 207, 430).into_pit(),
        ]),
        Row {
            id: id::TRIPLE_JUMP_MIDDLE,
            name: "Triple jump, middle run-up",
            about: "Hop, step and jump into the sand from about twelve strides; cue: an active step, foot pulled back under you.",
            entry: strides(12),
            source: "ours: 0.01 s above full run-ups (0.135, 0.157, 0.177 s after Perttunen et al. 2000, J Sports Sci 18:363–370); speed by Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237",
            ..TRIPLE
        }
        .with([
            phase(Move::Hop, Legs::One, 145, 450),
            phase(Move::Step, Legs::One, 167, 380),
            phase(Move::Jump, Legs::Alternate, 187, 560).into_pit(),
        ]),
        Row {
            id: id::TRIPLE_JUMP_FULL,
            name: "Triple jump, full run-up",
            about: "Hop, step and jump into the sand from the run-up of a competition; cue: off the board forward, not upward.",
            entry: strides(16),
            source: "contacts after Perttunen et al. 2000, J Sports Sci 18:363–370 (0.139, 0.157, 0.177 s), the first at 0.135 s; speed by Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237; flights and angles are estimates of ours",
            ..TRIPLE
        }
        .with([
            phase(Move::Hop, Legs::One, 135, 500),
            phase(Move::Step, Legs::One, 157, 420),
            phase(Move::Jump, Legs::Alternate, 177, 620).into_pit(),
        ]),
    ]
}

const DRILL: &str = "an estimate of ours, out of the short run-ups of the events";

fn drills() -> Vec<Item> {
    vec![
        Row {
            id: id::TAKE_OFF_ONE_STEP,
            name: "Take-off out of one step",
            about: "Step onto the take-off leg out of a stand and jump up into the sand; cue: hip over the foot, free thigh level.",
            source: DRILL,
            ..TAKE_OFF
        }
        .with([spot(Move::TakeOff, Legs::One, 220, 400).travelling(fixed(2_000), 66).into_pit()]),
        // A repetition is one take-off and the landing on the other leg.
        Row {
            id: id::TAKE_OFFS_RUNNING,
            name: "Take-offs every few strides",
            about: "Run easily, take off upward every third or fifth stride and run on from the free leg; cue: pop up, no reaching.",
            legs: Legs::Alternate,
            entry: level(100),
            source: DRILL,
            ..TAKE_OFF
        }
        .with([
            spot(Move::TakeOff, Legs::One, 165, 380).travelling(fixed(5_000), 64),
            spot(Move::Step, Legs::Alternate, 180, 100).travelling(fixed(4_500), 70),
        ]),
        Row {
            id: id::TAKE_OFF_KNEE_HELD,
            name: "Take-off with the free knee held",
            about: "Take off from six strides and keep the free thigh level until the sand; cue: freeze the take-off picture.",
            entry: strides(6),
            source: DRILL,
            ..TAKE_OFF
        }
        .with([board(160, 560)]),
        Row {
            id: id::TAKE_OFF_LOW_BOX,
            name: "Take-off from a low box into the sand",
            about: "Run six strides and take off from a box of a few centimetres, for time in the air; cue: use the time, land far.",
            entry: strides(6),
            source: "an estimate of ours, out of the short run-ups of the events; the raised board is not in the numbers",
            ..TAKE_OFF
        }
        .with([board(160, 640)]),
        Row {
            id: id::HOP_PHASE,
            name: "Hop into the sand",
            about: "Hop off the board from six strides and land in the sand on the same leg; cue: heel under the hip, then reach.",
            entry: strides(6),
            source: DRILL,
            ..TAKE_OFF
        }
        .with([phase(Move::Hop, Legs::One, 160, 400).into_pit()]),
        Row {
            id: id::HOP_STEP_PHASES,
            name: "Hop and step into the sand",
            about: "Hop and step from six strides and land the step in the sand; cue: hold the step, knee high.",
            entry: strides(6),
            source: DRILL,
            ..TRIPLE
        }
        .with([
            phase(Move::Hop, Legs::One, 160, 380),
            phase(Move::Step, Legs::One, 182, 340).into_pit(),
        ]),
        Row {
            id: id::STEP_JUMP_PHASES,
            name: "Step and jump off a platform, with a run-in on it",
            about: "Run six strides along a low platform, land off it on the step leg and jump off the other into the sand; cue: long step, then up.",
            entry: off(300),
            box_run_in: strides_on(6),
            source: "an estimate of ours, out of the short run-ups of the events; speed lost in the step by Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237",
            ..TRIPLE
        }
        .with([
            phase(Move::Step, Legs::One, 185, 340),
            phase(Move::Jump, Legs::Alternate, 205, 480).into_pit(),
        ]),
        Row {
            id: id::TAKE_OFF_WALK_IN,
            name: "Take-off out of a walk",
            about: "Walk three brisk steps, take off upward from a flat foot and land in the sand; cue: tall, free thigh level, toe up.",
            entry: Entry::WalkIn { usual_steps: 3 },
            source: DRILL,
            ..TAKE_OFF
        }
        .with([spot(Move::TakeOff, Legs::One, 240, 380).travelling(fixed(1_800), 68).into_pit()]),
    ]
}
