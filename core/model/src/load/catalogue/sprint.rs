//! Sprinting and sprint drills.

use super::row::{NO_CAP_MM_S, PLAIN, Row, fixed, level, run_in, share, spot, strides};
use super::{Item, id};
use crate::facts::Surface;
use crate::facts::exercise::{Direction, Kind, Knee, Legs, Move, Support, UsualContact};

const SPRINT: Row = Row { kind: Kind::Sprint, legs: Legs::Alternate, knee: Knee::Stiff, ..PLAIN };

pub(super) fn all() -> Vec<Item> {
    [drills(), starts(), at_speed()].concat()
}

fn drills() -> Vec<Item> {
    vec![
        Row {
            id: id::A_SKIP,
            name: "A-skip",
            about: "Skip forward with the thigh brought level; cue: the foot comes straight down under the hip.",
            entry: level(150),
            contacts_per_rep: 20,
            ..SPRINT
        }
        .with([spot(Move::Skip, Legs::Alternate, 180, 150).travelling(fixed(1_500), 85)]),
        Row {
            id: id::B_SKIP,
            name: "B-skip",
            about: "Skip forward, bring the thigh level and let the shin swing out before the foot comes back; cue: down and back, never out and stop.",
            entry: level(150),
            contacts_per_rep: 20,
            source: "an estimate of ours, as for A-skips",
            ..SPRINT
        }
        .with([spot(Move::Skip, Legs::Alternate, 190, 150).travelling(fixed(1_500), 83)]),
        Row {
            id: id::HIGH_KNEES,
            name: "High knees",
            about: "Run on the forefoot with the thighs brought level and little travel; cue: hips high, quick to the ground.",
            entry: level(80),
            contacts_per_rep: 20,
            ..SPRINT
        }
        .with([spot(Move::SprintStride, Legs::Alternate, 150, 80).travelling(fixed(1_500), 85)]),
        Row {
            id: id::HEEL_FLICKS,
            name: "Heel flicks",
            about: "Run on the forefoot and fold the heel up under the seat; cue: knee forward as the heel comes up.",
            entry: level(80),
            contacts_per_rep: 20,
            ..SPRINT
        }
        .with([spot(Move::SprintStride, Legs::Alternate, 140, 80).travelling(fixed(2_000), 85)]),
        Row {
            id: id::ANKLE_RUN,
            name: "Ankle run",
            about: "Roll over the ankles in tiny running steps; cue: step over the other ankle.",
            entry: level(40),
            contacts_per_rep: 20,
            ..SPRINT
        }
        .with([spot(Move::SprintStride, Legs::Alternate, 170, 40).travelling(fixed(1_200), 86)]),
        Row {
            id: id::BACKWARD_RUN,
            name: "Backward running at speed",
            about: "Run backward as fast as you can on a free lane; cue: reach back long, eyes ahead.",
            entry: level(100),
            contacts_per_rep: 16,
            source: "0.116 s at top backward speed: Weyand et al. 2010, J Appl Physiol 108:950–961; flight, speed and angle are estimates of ours",
            direction: Some(Direction::Backward),
            ..SPRINT
        }
        .with([spot(Move::SprintStride, Legs::Alternate, 116, 100).travelling(share(600), 80)]),
    ]
}

/// A stride of a start: its contact, flight, and share of top speed, which is that
/// of a run from a stand at 4.1 strides a second with a time constant of 1.45 s.
fn stride(contact_ms: u32, flight_ms: u32, per_mille: u32, angle_deg: u32) -> UsualContact {
    spot(Move::SprintStride, Legs::Alternate, contact_ms, flight_ms).travelling(share(per_mille), angle_deg)
}

fn starts() -> Vec<Item> {
    const STEPS: &str = "an estimate of ours after first steps of 0.166 to 0.225 s in Ciacci et al. 2017, J Sports Sci 35(13):1270–1278, as a review reports them; the later ones remembered after Salo et al. 2005";
    vec![
        Row {
            id: id::START_STANDING,
            name: "Standing start",
            about: "Sprint off the mark out of a stand, one foot ahead; cue: push the ground back, eyes down.",
            contacts_per_rep: 6,
            source: STEPS,
            ..SPRINT
        }
        .with([stride(200, 50, 155, 100), stride(175, 60, 286, 95), stride(160, 70, 396, 90), stride(140, 80, 490, 85)]),
        Row {
            id: id::START_HILL,
            name: "Standing start uphill",
            about: "Sprint off the mark up a gentle slope; cue: drive, and let the hill lift the knees.",
            contacts_per_rep: 8,
            source: "an estimate of ours, as for the standing start with 0.01 s more on the ground; the slope is not in the numbers",
            surface: Some(Surface::Grass),
            ..SPRINT
        }
        .with([stride(210, 45, 150, 100), stride(185, 55, 270, 96), stride(170, 65, 370, 92), stride(150, 75, 450, 88)]),
        Row {
            id: id::START_SLED,
            name: "Sled start, an eighth of body mass",
            about: "Sprint off the mark with a light sled behind; cue: the same steps as without it.",
            contacts_per_rep: 8,
            source: "an estimate of ours: the standing start, contact × (1 + 0.7 L) and speed × (1 − 0.45 L) for a load L of 0.126; lines after Lockie et al. 2003, J Strength Cond Res 17(4):760–767, and a study of sled sprints at 20 to 40 % of body mass (PLoS ONE 2018)",
            ..SPRINT
        }
        .with([stride(218, 45, 146, 100), stride(190, 55, 270, 95), stride(174, 65, 374, 90), stride(152, 75, 462, 85)]),
    ]
}

fn at_speed() -> Vec<Item> {
    vec![
        Row {
            id: id::SPRINT_STRIDES,
            name: "Sprint strides at speed",
            about: "Run at top speed out of a long build-up; cue: strike down, not out in front.",
            entry: strides(20),
            contacts_per_rep: 20,
            support: Support::Derived,
            source: "0.108 s and 2.08 BW at top speed: Weyand et al. 2010, J Appl Physiol 108:950–961",
            surface: Some(Surface::Track),
            ..SPRINT
        }
        .with([spot(Move::SprintStride, Legs::Alternate, 108, 117).travelling(run_in(NO_CAP_MM_S), 73)]),
        Row {
            id: id::STRIDES_EASY,
            name: "Strides at three quarters of top speed",
            about: "Run relaxed and tall at about three quarters of top speed; cue: loose face, loose hands.",
            entry: level(130),
            contacts_per_rep: 30,
            ..SPRINT
        }
        .with([spot(Move::SprintStride, Legs::Alternate, 140, 130).travelling(share(750), 73)]),
        Row {
            id: id::STRIDES_MARKS,
            name: "Strides over marks",
            about: "Run fast over low marks set a stride apart; cue: down between the marks, knees up over them.",
            entry: level(120),
            contacts_per_rep: 12,
            source: "an estimate of ours, below sprint strides at speed",
            ..SPRINT
        }
        .with([spot(Move::SprintStride, Legs::Alternate, 118, 120).travelling(share(900), 75)]),
        Row {
            id: id::RUN_THROUGH,
            name: "Run-up without the jump",
            about: "Run the whole run-up past the board and do not jump; cue: the same marks, the same rhythm.",
            entry: strides(16),
            contacts_per_rep: 3,
            source: "an estimate of ours: the last three strides of the run-up, as sprint strides at speed",
            surface: Some(Surface::Track),
            ..SPRINT
        }
        .with([spot(Move::SprintStride, Legs::Alternate, 112, 117).travelling(run_in(NO_CAP_MM_S), 73)]),
    ]
}
