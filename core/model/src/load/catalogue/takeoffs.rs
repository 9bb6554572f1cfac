//! Take-offs of the long and triple jump, and their drills.

use super::row::{NO_CAP_MM_S, Row, run_in, spot};
use super::{Item, id};
use crate::facts::exercise::{Entry, Kind, Knee, Landing, Legs, Move, Speed, Support};

pub(super) fn all() -> Vec<Item> {
    vec![long_jump_short(), triple_jump_short()]
}

fn long_jump_short() -> Item {
    Row {
        id: id::LONG_JUMP_SHORT,
        name: "Long jump, short run-up",
        about: "Jump into the sand from a few strides; cue: tall and flat onto the board, then up.",
        kind: Kind::EventTakeOff,
        legs: Legs::One,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::RunIn { usual_strides: 8 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "ours for 8 strides: 0.12 s + 0.015 s for each m/s below full speed; the angle stays as the run-up changes: Bridgett & Linthorne 2006, J Sports Sci 24(8):889–897",
    }
    .with([
        spot(Move::TakeOff, Legs::One, 150, 620)
            .travelling(run_in(NO_CAP_MM_S), 62)
            .into_pit(),
    ])
}

fn triple_jump_short() -> Item {
    let phase = |mv, legs, contact, flight, less_mm_s| {
        let speed = Speed::Approach { less_mm_s, cap_mm_s: NO_CAP_MM_S };
        spot(mv, legs, contact, flight).travelling(speed, 66)
    };
    Row {
        id: id::TRIPLE_JUMP_SHORT,
        name: "Triple jump, short run-up",
        about: "Hop, step and jump into the sand from six to eight strides; cue: a low hop keeps the speed for the jump.",
        kind: Kind::EventTakeOff,
        legs: Legs::Alternate,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::RunIn { usual_strides: 8 },
        contacts_per_rep: 3,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "ours: 0.02 s above full run-ups (0.135, 0.157, 0.177 s after Perttunen et al. 2000, J Sports Sci 18:363–370), 0.8 m/s lost each time",
    }
    .with([
        phase(Move::Hop, Legs::One, 155, 400, 0),
        phase(Move::Step, Legs::One, 177, 340, 800),
        phase(Move::Jump, Legs::Alternate, 197, 500, 1_600).into_pit(),
    ])
}
