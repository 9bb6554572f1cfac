//! Vertical rebounds: on the spot, over hurdles, off a box.

use super::row::{PLAIN, Row, fixed, level, off, spot, stop, worn};
use super::{Item, id};
use crate::facts::Cue;
use crate::facts::exercise::{Kind, Knee, Legs, Move};

const STIFF: Row = Row { kind: Kind::VerticalRebound, knee: Knee::Stiff, ..PLAIN };
const BENT: Row = Row { knee: Knee::Bent, ..STIFF };

pub(super) fn all() -> Vec<Item> {
    [rudiments(), jumps(), hurdles(), low_boxes(), drop_jumps()].concat()
}

fn rudiments() -> Vec<Item> {
    vec![
        Row {
            id: id::POGO,
            name: "Pogo, two legs",
            about: "Bounce on the spot from nearly straight legs; cue: a quick ankle, as if the floor were hot.",
            entry: level(460),
            source: "an estimate of ours after tests of repeated maximal hops, remembered and not read (Harper, Hobbs & Moore 2011; Comyns et al. 2017)",
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Two, 200, 460)]),
        Row {
            id: id::POGO_ONE_LEG,
            name: "Pogo, one leg",
            about: "Bounce on the spot on one foot; cue: hips level, heel just clear of the ground.",
            legs: Legs::One,
            entry: level(300),
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::One, 240, 300)]),
        Row {
            id: id::ANKLE_HOPS,
            name: "Ankle hops, low, two legs",
            about: "Skim up and down a hand's breadth off the floor from the ankles alone; cue: knees quiet, toes up before you land.",
            entry: level(300),
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Two, 180, 300)]),
        Row {
            id: id::ANKLE_HOPS_ONE_LEG,
            name: "Ankle hops, low, one leg",
            about: "Skim up and down on one foot and barely leave the floor; cue: tall, the free foot beside the ankle.",
            legs: Legs::One,
            entry: level(180),
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::One, 210, 180)]),
        Row {
            id: id::POGO_LEG_TO_LEG,
            name: "Pogo, from leg to leg",
            about: "Bounce on the spot from one foot to the other; cue: land under the hip, trunk still.",
            legs: Legs::Alternate,
            entry: level(220),
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Alternate, 200, 220)]),
        Row {
            id: id::POGO_TURN,
            name: "Pogo with quarter turns",
            about: "Bounce on both feet and turn a quarter in every flight; cue: turn from the hips, land square.",
            entry: level(420),
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Two, 210, 420)]),
        Row {
            id: id::POGO_SCISSOR,
            name: "Pogo with feet changing front and back",
            about: "Bounce with one foot a little ahead and swap them in the air; cue: both feet down at one time.",
            entry: level(320),
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Two, 210, 320)]),
        Row {
            id: id::POGO_LOADED,
            name: "Pogo, two legs, a tenth of body mass worn",
            about: "Bounce from the ankles in a vest of about a tenth of body mass; cue: as quick as without it.",
            entry: level(435),
            source: "an estimate of ours: pogo without a load, contact × (1 + 0.5 L) and height × (1 − 1.04 L) for a load L of 0.1; lines after countermovement jumps with a bar, Lake et al. 2021, J Strength Cond Res 35(1):25–32",
            load: worn(100),
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Two, 210, 435)]),
        Row {
            id: id::HOPS_PACED,
            name: "Two-leg hops to a beat, 2.2 a second",
            about: "Hop on the spot to a metronome at 2.2 beats a second; cue: one beat, one landing.",
            entry: level(175),
            source: "the rate is that of Hobara et al. 2011, Eur J Appl Physiol 111(9):2195–2201; how 0.455 s divide is an estimate of ours, remembered after Farley et al. 1991, J Appl Physiol 71:2127–2132",
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Two, 280, 175)]),
        Row {
            id: id::ROPE,
            name: "Rope jumping, two legs",
            about: "Turn a rope and hop over it on both feet; cue: only as high as the rope is thick.",
            entry: level(200),
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Two, 180, 200)]),
        Row {
            id: id::ROPE_ONE_LEG,
            name: "Rope jumping, one leg",
            about: "Turn a rope and hop over it on one foot; cue: stay on the ball of the foot.",
            legs: Legs::One,
            entry: level(180),
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::One, 200, 180)]),
    ]
}

fn jumps() -> Vec<Item> {
    vec![
        Row {
            id: id::TUCK_JUMPS,
            name: "Tuck jumps",
            about: "Jump again and again on the spot and bring the knees up at the top; cue: tall at take-off, then knees.",
            entry: level(540),
            ..BENT
        }
        .with([spot(Move::Jump, Legs::Two, 250, 540)]),
        Row {
            id: id::REBOUND_JUMPS,
            name: "Rebound jumps, two legs",
            about: "Jump for height again and again with the arms and little knee bend; cue: high, and short on the ground.",
            entry: level(540),
            source: "an estimate of ours; contact and height both belong to a jump's quality: Zushi et al. 2022, PLoS ONE 17(8):e0268339",
            ..STIFF
        }
        .with([spot(Move::Jump, Legs::Two, 220, 540)]),
        Row {
            id: id::REBOUND_JUMPS_ONE_LEG,
            name: "Rebound jumps, one leg",
            about: "Jump for height again and again off one leg; cue: the free knee and both arms lift you.",
            legs: Legs::One,
            entry: level(380),
            source: "an estimate of ours, as for drop jumps on one leg",
            ..BENT
        }
        .with([spot(Move::Hop, Legs::One, 290, 380)]),
        Row {
            id: id::REBOUND_JUMPS_LOADED,
            name: "Rebound jumps, two legs, a tenth of body mass worn",
            about: "Jump for height again and again in a vest of about a tenth of body mass; cue: stop the set when the contacts grow long.",
            entry: level(511),
            source: "an estimate of ours: rebound jumps without a load, contact × (1 + 0.5 L) and height × (1 − 1.04 L) for a load L of 0.1; lines after countermovement jumps with a bar, Lake et al. 2021, J Strength Cond Res 35(1):25–32",
            load: worn(100),
            ..STIFF
        }
        .with([spot(Move::Jump, Legs::Two, 231, 511)]),
        Row {
            id: id::SPLIT_JUMPS,
            name: "Split jumps, changing legs",
            about: "Jump up from a lunge and land in the other one; cue: drop straight down, front heel on the ground.",
            entry: level(400),
            ..BENT
        }
        .with([spot(Move::Jump, Legs::Two, 400, 400)]),
        Row {
            id: id::DEEP_JUMPS,
            name: "Repeated jumps from a deep bend",
            about: "Sink to a half squat in every landing and jump again without a stop; cue: one smooth turn at the bottom.",
            entry: level(520),
            ..BENT
        }
        .with([spot(Move::Jump, Legs::Two, 480, 520)]),
        Row {
            id: id::DEEP_JUMPS_LOADED,
            name: "Repeated jumps from a deep bend with a bar, a quarter of body mass",
            about: "Keep a light bar on the shoulders and jump without a stop between; cue: the bar never leaves the back.",
            entry: level(447),
            source: "an estimate of ours: the same without a bar, contact × (1 + 0.5 L) and height × (0.89 − 0.60 L) for a load L of 0.25; lines after countermovement jumps, Lake et al. 2021, J Strength Cond Res 35(1):25–32",
            load: worn(250),
            ..BENT
        }
        .with([spot(Move::Jump, Legs::Two, 540, 447)]),
        Row {
            id: id::COUNTER_REBOUND,
            name: "Countermovement jump and rebound",
            about: "Jump as high as you can, rebound at once from that landing, then stand; cue: the second one as high as the first.",
            entry: level(540),
            source: "an estimate of ours: as the drop jump from the height of the first jump; the two agree, Xu et al. 2023, Appl Sci 13(19):10680",
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Two, 215, 540), stop(350)]),
    ]
}

fn hurdles() -> Vec<Item> {
    vec![
        Row {
            id: id::HURDLE_JUMPS,
            name: "Hurdle jumps, two legs",
            about: "Clear a row of hurdles with one contact between each; cue: meet the ground, don't wait for it.",
            entry: level(560),
            contacts_per_rep: 5,
            source: "an estimate of ours; contacts below 0.25 s up to 140 % of the own jump height: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720",
            over_mm: Some(500),
            ..STIFF
        }
        .with([spot(Move::Jump, Legs::Two, 210, 560).travelling(fixed(1_500), 85)]),
        Row {
            id: id::HURDLE_JUMPS_LOW,
            name: "Low hurdle jumps, two legs",
            about: "Skip over a row of knee-high hurdles from the ankles; cue: the same rhythm at every hurdle.",
            entry: level(400),
            contacts_per_rep: 6,
            over_mm: Some(300),
            ..STIFF
        }
        .with([spot(Move::Jump, Legs::Two, 190, 400).travelling(fixed(1_500), 85)]),
        Row {
            id: id::HURDLE_JUMPS_HIGH,
            name: "High hurdle jumps, two legs",
            about: "Clear hurdles well above your own jump height with the knees drawn up; cue: up first, then over.",
            entry: level(600),
            contacts_per_rep: 4,
            source: "an estimate of ours; contacts grow longer at 160 % of the own jump height: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720",
            over_mm: Some(750),
            ..BENT
        }
        .with([spot(Move::Jump, Legs::Two, 260, 600).travelling(fixed(1_500), 85)]),
        Row {
            id: id::HURDLE_HOPS_ONE_LEG,
            name: "Hurdle hops, one leg",
            about: "Clear a row of low hurdles on one leg with one contact between each; cue: free knee up and over first.",
            legs: Legs::One,
            entry: level(420),
            contacts_per_rep: 4,
            source: "an estimate of ours; longer on one leg than on two: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720",
            over_mm: Some(300),
            ..BENT
        }
        .with([spot(Move::Hop, Legs::One, 300, 420).travelling(fixed(1_500), 85)]),
        // A repetition is one hurdle with the bounce before it.
        Row {
            id: id::HURDLE_JUMPS_BOUNCE,
            name: "Hurdle jumps with a bounce between",
            about: "Land from a hurdle, bounce once, and clear the next one; cue: the bounce stays low and fast.",
            entry: level(560),
            source: "an estimate of ours, between ankle hops and hurdle jumps",
            over_mm: Some(500),
            ..STIFF
        }
        .with([
            spot(Move::Rebound, Legs::Two, 200, 200).travelling(fixed(1_500), 85),
            spot(Move::Jump, Legs::Two, 220, 560).travelling(fixed(1_000), 88),
        ]),
        Row {
            id: id::STAIR_JUMPS,
            name: "Stair jumps, two legs",
            about: "Jump up a flight of stairs off both feet, two steps at a time, and walk down; cue: the whole foot on the step, eyes up.",
            contacts_per_rep: 6,
            onto_mm: Some(340),
            source: "an estimate of ours; the rise of two steps of 17 cm is in the numbers",
            ..BENT
        }
        .with([
            spot(Move::Jump, Legs::Two, 450, 440).rising(340),
            spot(Move::Jump, Legs::Two, 280, 440).travelling(fixed(1_000), 88).rising(340),
        ]),
    ]
}

fn low_boxes() -> Vec<Item> {
    vec![
        Row {
            id: id::LOW_BOX_REBOUND,
            name: "Low-box rebound, two legs",
            about: "Step off a box of a hand's length, bounce once from the ankles and stand; cue: toes up on the way down.",
            entry: off(150),
            source: "an estimate of ours, below the drop jump from 20 cm",
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::Two, 190, 420), stop(300)]),
        Row {
            id: id::LOW_BOX_REBOUND_ONE_LEG,
            name: "Low-box rebound, one leg",
            about: "Step off a low box onto one foot, bounce once and stand on both; cue: hips level as you land.",
            legs: Legs::One,
            entry: off(150),
            source: "an estimate of ours, below the one-leg drop jump",
            ..STIFF
        }
        .with([spot(Move::Rebound, Legs::One, 270, 320), stop(300)]),
        Row {
            id: id::LOW_BOX_PUSH_OFFS,
            name: "Low-box push-offs, same leg",
            about: "Keep one foot on a low box and drive yourself up off it again and again; cue: the foot on the floor only touches.",
            legs: Legs::One,
            entry: level(300),
            ..BENT
        }
        .with([spot(Move::Hop, Legs::One, 350, 300)]),
        Row {
            id: id::LOW_BOX_PUSH_OFFS_CHANGING,
            name: "Low-box push-offs, changing legs",
            about: "Drive up off the foot on a low box and change feet in the air; cue: straight up, head over the box.",
            legs: Legs::Alternate,
            entry: level(320),
            ..BENT
        }
        .with([spot(Move::Jump, Legs::Alternate, 350, 320)]),
    ]
}

const BALL: &str = "an estimate of ours; below 0.26 s and rising from 20 to 60 cm: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769";

fn drop_jumps() -> Vec<Item> {
    vec![
        Row {
            id: id::DROP_JUMP,
            name: "Drop jump",
            about: "Step off a box, rebound as high as a short contact allows, land and stand; cue: short first, then high.",
            entry: off(300),
            source: "an estimate of ours for 30 cm; below 0.26 s from 20 to 60 cm: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769",
            ..STIFF
        }
        .with([spot(Move::DropJump, Legs::Two, 205, 540), stop(350)]),
        Row {
            id: id::DROP_JUMP_20,
            name: "Drop jump from 20 cm",
            about: "Step off a box of 20 cm, rebound high off a short contact, land and stand; cue: short first, then high.",
            entry: off(200),
            source: BALL,
            ..STIFF
        }
        .with([spot(Move::DropJump, Legs::Two, 200, 530), stop(350)]),
        Row {
            id: id::DROP_JUMP_40,
            name: "Drop jump from 40 cm",
            about: "Step off a box of 40 cm, rebound high off a short contact, land and stand; cue: short and high together.",
            entry: off(400),
            source: "an estimate of ours; below 0.25 s with this cue: Boccia et al. 2026, J Strength Cond Res 40(2):152–157; below 0.26 s: Ball, Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769",
            ..STIFF
        }
        .with([spot(Move::DropJump, Legs::Two, 215, 540), stop(350)]),
        Row {
            id: id::DROP_JUMP_40_SHORT,
            name: "Drop jump from 40 cm, short",
            about: "Step off a box of 40 cm and leave the ground as soon as you can, whatever the height; cue: the shortest contact you have.",
            entry: off(400),
            source: "0.021 s and 5.9 cm less than with the cue for both, whose 0.215 s and 0.54 s are estimates of ours: Boccia et al. 2026, J Strength Cond Res 40(2):152–157",
            cue: Some(Cue::Short),
            ..STIFF
        }
        .with([spot(Move::DropJump, Legs::Two, 194, 494), stop(350)]),
        Row {
            id: id::DROP_JUMP_40_HIGH,
            name: "Drop jump from 40 cm, high",
            about: "Step off a box of 40 cm and take the time on the ground that height needs; cue: as high as you can.",
            entry: off(400),
            source: "0.049 s and 4.8 cm more than with the cue for both, whose 0.215 s and 0.54 s are estimates of ours: Boccia et al. 2026, J Strength Cond Res 40(2):152–157",
            cue: Some(Cue::High),
            ..BENT
        }
        .with([spot(Move::DropJump, Legs::Two, 264, 575), stop(350)]),
        Row {
            id: id::DROP_JUMP_60,
            name: "Drop jump from 60 cm",
            about: "Step off a box of 60 cm and rebound off a short contact, land and stand; cue: tense before you touch.",
            entry: off(600),
            source: BALL,
            ..STIFF
        }
        .with([spot(Move::DropJump, Legs::Two, 235, 550), stop(350)]),
        Row {
            id: id::DROP_JUMP_80,
            name: "Drop jump from 80 cm",
            about: "Step off a box of 80 cm and rebound without the heels giving way, land and stand; cue: lower the box if the heels touch.",
            entry: off(800),
            source: "an estimate of ours, carried on from the rows for 20 to 60 cm",
            ..STIFF
        }
        .with([spot(Move::DropJump, Legs::Two, 250, 540), stop(350)]),
        Row {
            id: id::DROP_JUMP_UNCUED,
            name: "Drop jump, no cue given",
            about: "Step off a box and jump up your own way, land and stand; cue: none, which shows what you do by habit.",
            entry: off(450),
            source: "0.325 s in college athletes from 45.7 cm: Sanchez et al., NSCA conference 2024; the flight is an estimate of ours",
            ..BENT
        }
        .with([spot(Move::DropJump, Legs::Two, 325, 520), stop(350)]),
        Row {
            id: id::DROP_JUMP_ONE_LEG,
            name: "Drop jump, one leg",
            about: "Step off a low box onto one leg, rebound off it and stand on both; cue: no box above 30 cm.",
            legs: Legs::One,
            entry: off(200),
            source: "an estimate of ours; best at 30 cm, and 20 to 30 cm on one leg about as intense as 40 cm on two: Wang & Peng 2014, Int J Sports Med 35(6):522–527",
            ..BENT
        }
        .with([spot(Move::DropJump, Legs::One, 290, 380), stop(350)]),
        Row {
            id: id::DROP_JUMP_REBOUNDS,
            name: "Drop jump into three rebounds",
            about: "Step off a box, rebound, and rebound twice more before you stand; cue: the last contact as short as the first.",
            entry: off(300),
            source: "an estimate of ours, as for drop jumps and rebound jumps",
            ..STIFF
        }
        .with([
            spot(Move::DropJump, Legs::Two, 205, 540),
            spot(Move::Rebound, Legs::Two, 215, 540),
            spot(Move::Rebound, Legs::Two, 220, 540),
            stop(350),
        ]),
        Row {
            id: id::DROP_JUMP_ONTO_BOX,
            name: "Drop jump onto a second box",
            about: "Step off a box, rebound onto another of the same height and stand; cue: land on it as you left the ground.",
            entry: off(300),
            onto_mm: Some(300),
            source: "an estimate of ours, as for the drop jump; the rise onto the box is in the numbers",
            ..STIFF
        }
        .with([spot(Move::DropJump, Legs::Two, 210, 480).rising(300), stop(300)]),
        Row {
            id: id::DROP_JUMP_HURDLE,
            name: "Drop jump over a hurdle",
            about: "Step off a box, rebound over a hurdle in front of it, land and stand; cue: the hurdle waits, the ground does not.",
            entry: off(300),
            source: "an estimate of ours, between drop jumps and hurdle jumps",
            over_mm: Some(500),
            ..STIFF
        }
        .with([
            spot(Move::DropJump, Legs::Two, 220, 560).travelling(fixed(1_000), 87),
            stop(350).travelling(fixed(1_500), 85),
        ]),
    ]
}
