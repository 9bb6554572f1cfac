//! Horizontal series: hops, bounds and steps that travel.

use super::row::{
    NO_CAP_MM_S, PLAIN, Row, fixed, level, off, run_in, share, spot, stop, stop_on, strides, strides_on, worn,
};
use super::{Item, id};
use crate::facts::exercise::{Kind, Knee, Legs, Move, Speed, Support, UsualContact};

const SERIES: Row = Row { kind: Kind::HorizontalSeries, ..PLAIN };
const TO_AND_FRO: Row = Row { legs: Legs::Alternate, ..SERIES };
const ONE_LEG: Row = Row { legs: Legs::One, ..SERIES };

/// Share of the run-in's speed that a contact costs, in thousandths: ours, no source.
const LOSS_PER_MILLE: u16 = 40;

pub(super) fn all() -> Vec<Item> {
    [rudiments(), jumps(), bounds(), hops(), combinations(), combinations_run_in(), platforms()].concat()
}

fn rudiments() -> Vec<Item> {
    vec![
        Row {
            id: id::POGO_FORWARD,
            name: "Pogo travelling forward, two legs",
            about: "Bounce forward from both ankles, a foot's length at a time; cue: the ankles do the work, the knees stay long.",
            knee: Knee::Stiff,
            entry: level(360),
            contacts_per_rep: 10,
            ..SERIES
        }
        .with([spot(Move::Rebound, Legs::Two, 190, 360).travelling(fixed(1_500), 82)]),
        Row {
            id: id::POGO_FORWARD_ONE_LEG,
            name: "Pogo travelling forward, one leg",
            about: "Bounce forward on one foot, a foot's length at a time; cue: land on the whole forefoot, hip over it.",
            knee: Knee::Stiff,
            entry: level(260),
            contacts_per_rep: 10,
            ..ONE_LEG
        }
        .with([spot(Move::Hop, Legs::One, 220, 260).travelling(fixed(1_500), 82)]),
        Row {
            id: id::SKIPS_HEIGHT,
            name: "Skips for height",
            about: "Skip forward and rise as high as you can off every push; cue: knee and opposite arm up together.",
            entry: level(450),
            contacts_per_rep: 10,
            source: "an estimate of ours; the push of each skip alone is told, not the light step before it",
            ..TO_AND_FRO
        }
        .with([spot(Move::Skip, Legs::Alternate, 250, 450).travelling(fixed(2_000), 78)]),
        Row {
            id: id::SKIPS_DISTANCE,
            name: "Skips for distance",
            about: "Skip forward and cover as much ground as you can off every push; cue: push back, then float.",
            entry: level(380),
            contacts_per_rep: 10,
            source: "an estimate of ours; the push of each skip alone is told, not the light step before it",
            ..TO_AND_FRO
        }
        .with([spot(Move::Skip, Legs::Alternate, 210, 380).travelling(fixed(3_500), 72)]),
        Row {
            id: id::GALLOP,
            name: "Gallop",
            about: "Travel forward with the same foot always in front; cue: the rear leg pushes, the front leg rolls on.",
            entry: level(200),
            contacts_per_rep: 10,
            source: "an estimate of ours; the rear leg, which alone is told, carries more: Andrada et al. 2016, R Soc Open Sci 3(11):160602",
            ..ONE_LEG
        }
        .with([spot(Move::Hop, Legs::One, 220, 200).travelling(fixed(3_000), 75)]),
    ]
}

fn jumps() -> Vec<Item> {
    vec![
        Row {
            id: id::STANDING_LONG_JUMP,
            name: "Standing long jump",
            about: "Swing, jump forward off both feet and stand the landing; cue: fall forward before you push.",
            source: "an estimate of ours: 0.45 s of upward push and 0.50 s of flight",
            ..SERIES
        }
        .with([spot(Move::Jump, Legs::Two, 450, 500), stop(250).travelling(fixed(3_000), 60)]),
        Row {
            id: id::LONG_JUMPS_TWO_LEG,
            name: "Three two-leg long jumps in a row",
            about: "Jump forward off both feet three times without a stop and stand the last landing; cue: feet back under you as they land.",
            source: "an estimate of ours; each jump goes 0.92 to 0.95 of the best single one: Chen et al. 2015",
            ..SERIES
        }
        .with([
            spot(Move::Jump, Legs::Two, 450, 450),
            spot(Move::Jump, Legs::Two, 280, 450).travelling(fixed(2_500), 66),
            spot(Move::Jump, Legs::Two, 280, 450).travelling(fixed(2_750), 66),
            stop(250).travelling(fixed(3_000), 60),
        ]),
        Row {
            id: id::FORWARD_JUMPS_EASY,
            name: "Two-leg forward jumps, easy",
            about: "Jump forward off both feet at half of the best distance, one after the other; cue: the same length every time.",
            entry: level(360),
            contacts_per_rep: 6,
            ..SERIES
        }
        .with([spot(Move::Jump, Legs::Two, 260, 360).travelling(fixed(1_500), 78)]),
    ]
}

/// A bound that travels at its own speed.
fn bound(contact_ms: u32, flight_ms: u32, mm_s: u32) -> UsualContact {
    spot(Move::Bound, Legs::Alternate, contact_ms, flight_ms).travelling(fixed(mm_s), 68)
}

fn bounds() -> Vec<Item> {
    vec![
        Row {
            id: id::BOUNDS_STANDING,
            name: "Bounds from a stand",
            about: "Leap from leg to leg out of a stand and gather speed; cue: push the ground away behind you.",
            contacts_per_rep: 10,
            source: "an estimate of ours, between sprint strides (Weyand et al. 2010) and the step of a triple jump (Perttunen et al. 2000)",
            ..TO_AND_FRO
        }
        .with([bound(230, 300, 3_500), bound(200, 340, 4_500), bound(180, 360, 5_500)]),
        Row {
            id: id::BOUNDS_RUN_IN,
            name: "Bounds with a run-in",
            about: "Bound for distance out of a short run-in; cue: flat foot, hips running on over it.",
            entry: strides(6),
            contacts_per_rep: 10,
            loss_per_mille: LOSS_PER_MILLE,
            source: "an estimate of ours, between 0.108 s (sprint, Weyand et al. 2010) and 0.160 s (one-leg hopping, same)",
            ..TO_AND_FRO
        }
        .with([spot(Move::Bound, Legs::Alternate, 155, 360).travelling(run_in(8_000), 66)]),
        Row {
            id: id::SPEED_BOUNDS,
            name: "Speed bounds",
            about: "Run with long flat bounds at most of the sprinting speed; cue: cover ground, don't climb.",
            knee: Knee::Stiff,
            entry: strides(10),
            contacts_per_rep: 12,
            source: "an estimate of ours; nearer to sprinting than to bounds for distance: Mero & Komi 1994, J Appl Biomech 10(1):1–13",
            ..TO_AND_FRO
        }
        .with([spot(Move::Bound, Legs::Alternate, 130, 200).travelling(share(800), 70)]),
        Row {
            id: id::BOUNDS_STRAIGHT_LEG,
            name: "Straight-leg bounds",
            about: "Run forward on long legs with the feet swinging low in front; cue: paw the ground back from the hip.",
            knee: Knee::Stiff,
            entry: level(140),
            contacts_per_rep: 16,
            ..TO_AND_FRO
        }
        .with([spot(Move::Bound, Legs::Alternate, 130, 140).travelling(fixed(5_000), 72)]),
        Row {
            id: id::BOUNDS_FIVE,
            name: "Five bounds from a stand into the sand",
            about: "Bound five times out of a stand and land the last one in the sand; cue: each one longer than the last.",
            source: "an estimate of ours, as for bounds from a stand",
            ..TO_AND_FRO
        }
        .with([
            spot(Move::Bound, Legs::Alternate, 240, 350).travelling(fixed(3_500), 66),
            spot(Move::Bound, Legs::Alternate, 200, 350).travelling(fixed(4_500), 66),
            spot(Move::Bound, Legs::Alternate, 180, 350).travelling(fixed(5_500), 66),
            spot(Move::Bound, Legs::Alternate, 180, 350).travelling(fixed(5_500), 66),
            spot(Move::Jump, Legs::Alternate, 180, 350).travelling(fixed(5_500), 66).into_pit(),
        ]),
        Row {
            id: id::BOUNDS_HELD,
            name: "Three bounds and hold",
            about: "Bound three times out of a stand and hold the next landing on one leg; cue: hip, knee and foot in one line.",
            source: "an estimate of ours, as for bounds from a stand",
            ..TO_AND_FRO
        }
        .with([
            bound(230, 300, 3_000),
            bound(210, 320, 3_500),
            bound(200, 320, 4_000),
            stop_on(Legs::Alternate, 400).travelling(fixed(4_000), 60),
        ]),
        Row {
            id: id::BOUNDS_HURDLES,
            name: "Bounds over low hurdles",
            about: "Bound out of a short run-in over a row of low hurdles set a bound apart; cue: rise over them with the knee, not the back.",
            entry: strides(4),
            contacts_per_rep: 6,
            loss_per_mille: LOSS_PER_MILLE,
            source: "an estimate of ours, above bounds with a run-in",
            over_mm: Some(300),
            ..TO_AND_FRO
        }
        .with([spot(Move::Bound, Legs::Alternate, 170, 400).travelling(run_in(7_000), 66)]),
        Row {
            id: id::BOUNDS_LOADED,
            name: "Bounds from a stand, a tenth of body mass worn",
            about: "Bound out of a stand in a vest of about a tenth of body mass; cue: as long as you can without sitting down.",
            contacts_per_rep: 6,
            source: "an estimate of ours: bounds from a stand, contact × (1 + 0.5 L) and height × (1 − 1.04 L) for a load L of 0.1; lines after countermovement jumps with a bar, Lake et al. 2021, J Strength Cond Res 35(1):25–32",
            load: worn(100),
            ..TO_AND_FRO
        }
        .with([bound(242, 284, 3_500), bound(210, 322, 4_500), bound(189, 341, 5_500)]),
    ]
}

/// A hop that travels at its own speed.
fn hop(contact_ms: u32, mm_s: u32) -> UsualContact {
    spot(Move::Hop, Legs::One, contact_ms, 320).travelling(fixed(mm_s), 68)
}

const SARABON: &str = "flight over contact 1.04 rising to 1.43: Sarabon et al. 2022, Appl Sci 12(22):11383; the flight of 0.32 s and the speeds are estimates of ours";

fn hops() -> Vec<Item> {
    vec![
        // Between the first and the fifth hop the row gives no values: ours lie
        // on the line between them.
        Row {
            id: id::HOPS_STANDING,
            name: "One-leg hops from a stand",
            about: "Hop forward on one leg out of a stand; cue: the free knee swings through each time.",
            source: SARABON,
            ..ONE_LEG
        }
        .with([hop(310, 2_500), hop(289, 3_000), hop(268, 3_500), hop(246, 4_000), hop(225, 4_500)]),
        Row {
            id: id::HOPS_RUN_IN,
            name: "One-leg hops with a run-in",
            about: "Carry the speed of a run-in through a series of hops on one leg; cue: claw back as the foot comes down.",
            entry: strides(6),
            contacts_per_rep: 5,
            loss_per_mille: LOSS_PER_MILLE,
            support: Support::Derived,
            source: "0.160 s and 2.71 BW in one-leg hopping at top speed: Weyand et al. 2010, J Appl Physiol 108:950–961",
            ..ONE_LEG
        }
        .with([spot(Move::Hop, Legs::One, 160, 270).travelling(run_in(7_000), 66)]),
        Row {
            id: id::HOPS_HELD,
            name: "Three hops and hold, one leg",
            about: "Hop forward three times on one leg and hold the last landing on it; cue: stick it and count to two.",
            source: SARABON,
            ..ONE_LEG
        }
        .with([
            hop(310, 2_500),
            hop(289, 3_000),
            hop(268, 3_500),
            stop_on(Legs::One, 400).travelling(fixed(3_500), 60),
        ]),
        Row {
            id: id::HOPS_HURDLES,
            name: "One-leg hops over low hurdles, travelling",
            about: "Hop on one leg over a row of low hurdles that stand far apart; cue: the heel passes under the hip.",
            entry: level(360),
            contacts_per_rep: 5,
            source: "an estimate of ours, between hurdle hops and one-leg hops from a stand",
            over_mm: Some(200),
            ..ONE_LEG
        }
        .with([spot(Move::Hop, Legs::One, 270, 360).travelling(fixed(2_500), 74)]),
        Row {
            id: id::HOP_HOP_JUMP_RUN_IN,
            name: "Two hops and a jump into the sand, short run-in",
            about: "Hop twice on one leg out of a few strides and jump into the sand off the same leg; cue: keep running through the hops.",
            entry: strides(4),
            loss_per_mille: LOSS_PER_MILLE,
            source: "an estimate of ours, as for the triple jump from four strides",
            ..ONE_LEG
        }
        .with([
            combined(Move::Hop, Legs::One, 165, 330, run_in(NO_CAP_MM_S)),
            combined(Move::Hop, Legs::One, 187, 310, run_in(NO_CAP_MM_S)),
            combined(Move::Jump, Legs::One, 207, 450, run_in(NO_CAP_MM_S)).into_pit(),
        ]),
    ]
}

/// A contact of a combination of hops, steps and jumps.
fn combined(mv: Move, legs: Legs, contact_ms: u32, flight_ms: u32, speed: Speed) -> UsualContact {
    spot(mv, legs, contact_ms, flight_ms).travelling(speed, 66)
}

const COMBINED: &str = "an estimate of ours, as for the standing triple jump";

fn combinations() -> Vec<Item> {
    let contact = |mv, legs, contact, speed| combined(mv, legs, contact, 350, fixed(speed));
    vec![
        Row {
            id: id::STANDING_TRIPLE,
            name: "Standing triple jump",
            about: "Hop, step and jump into the sand out of a stand; cue: each one longer than the last.",
            source: "an estimate of ours, as for bounds from a stand",
            ..TO_AND_FRO
        }
        .with([
            contact(Move::Hop, Legs::One, 240, 3_500),
            contact(Move::Step, Legs::One, 200, 4_500),
            contact(Move::Jump, Legs::Alternate, 180, 5_500).into_pit(),
        ]),
        Row {
            id: id::STEP_STEP_JUMP,
            name: "Step, step, jump from a stand",
            about: "Take two long steps out of a stand and jump into the sand; cue: the whole foot down, then over it.",
            source: COMBINED,
            ..TO_AND_FRO
        }
        .with([
            contact(Move::Step, Legs::One, 240, 3_500),
            contact(Move::Step, Legs::Alternate, 200, 4_500),
            contact(Move::Jump, Legs::Alternate, 180, 5_500).into_pit(),
        ]),
        Row {
            id: id::HOP_STEP_STEP_JUMP,
            name: "Hop, step, step, jump from a stand",
            about: "Hop, take two steps and jump into the sand out of a stand; cue: one even rhythm from first to last.",
            source: COMBINED,
            ..TO_AND_FRO
        }
        .with([
            contact(Move::Hop, Legs::One, 240, 3_500),
            contact(Move::Step, Legs::One, 200, 4_500),
            contact(Move::Step, Legs::Alternate, 180, 5_500),
            contact(Move::Jump, Legs::Alternate, 180, 5_500).into_pit(),
        ]),
        Row {
            id: id::HOP_HOP_STEP_JUMP,
            name: "Hop, hop, step, jump from a stand",
            about: "Hop twice on one leg, step and jump into the sand out of a stand; cue: the second hop no higher than the first.",
            source: COMBINED,
            ..TO_AND_FRO
        }
        .with([
            contact(Move::Hop, Legs::One, 240, 3_500),
            contact(Move::Hop, Legs::One, 220, 4_000),
            contact(Move::Step, Legs::One, 200, 4_500),
            contact(Move::Jump, Legs::Alternate, 180, 5_500).into_pit(),
        ]),
        Row {
            id: id::HOP_STEP_IN_TURN,
            name: "Hop and step in turn from a stand",
            about: "Hop on one leg, step to the other, hop on that one, and so on; cue: say the rhythm aloud.",
            source: COMBINED,
            ..TO_AND_FRO
        }
        .with([
            contact(Move::Hop, Legs::One, 240, 3_500),
            contact(Move::Step, Legs::One, 220, 4_000),
            contact(Move::Hop, Legs::Alternate, 210, 4_500),
            contact(Move::Step, Legs::One, 200, 4_500),
            contact(Move::Hop, Legs::Alternate, 200, 4_500),
            contact(Move::Step, Legs::One, 200, 4_500),
            stop_on(Legs::Alternate, 350).travelling(fixed(4_500), 60),
        ]),
    ]
}

const COMBINED_RUN_IN: &str = "an estimate of ours: times as in the triple jump from a short run-up, 4 % of the speed lost in each contact";

fn combinations_run_in() -> Vec<Item> {
    let hop = |legs| combined(Move::Hop, legs, 155, 400, run_in(NO_CAP_MM_S));
    let step = |legs| combined(Move::Step, legs, 177, 340, run_in(NO_CAP_MM_S));
    let jump = || combined(Move::Jump, Legs::Alternate, 197, 500, run_in(NO_CAP_MM_S)).into_pit();
    const RUN_IN: Row =
        Row { entry: strides(6), loss_per_mille: LOSS_PER_MILLE, source: COMBINED_RUN_IN, ..TO_AND_FRO };
    vec![
        Row {
            id: id::STEP_STEP_JUMP_RUN_IN,
            name: "Step, step, jump with a run-in",
            about: "Take two long steps out of six strides and jump into the sand; cue: run through the first step.",
            ..RUN_IN
        }
        .with([step(Legs::One), step(Legs::Alternate), jump()]),
        Row {
            id: id::HOP_STEP_STEP_JUMP_RUN_IN,
            name: "Hop, step, step, jump with a run-in",
            about: "Hop, take two steps and jump into the sand out of six strides; cue: tall between the contacts.",
            ..RUN_IN
        }
        .with([hop(Legs::One), step(Legs::One), step(Legs::Alternate), jump()]),
        Row {
            id: id::HOP_HOP_STEP_JUMP_RUN_IN,
            name: "Hop, hop, step, jump with a run-in",
            about: "Hop twice on one leg, step and jump into the sand out of six strides; cue: a low first hop.",
            ..RUN_IN
        }
        .with([hop(Legs::One), hop(Legs::One), step(Legs::One), jump()]),
        Row {
            id: id::HOP_STEP_HOP_STEP_JUMP_RUN_IN,
            name: "Hop, step, hop, step, jump with a run-in",
            about: "Hop, step, hop on the other leg, step and jump into the sand out of six strides; cue: the trunk stays upright throughout.",
            ..RUN_IN
        }
        .with([
            hop(Legs::One),
            step(Legs::One),
            hop(Legs::Alternate),
            step(Legs::One),
            jump(),
        ]),
    ]
}

const PLATFORM: &str = "an estimate of ours, out of one-leg hops and bounds from a stand; a platform lengthens the first contact";

fn platforms() -> Vec<Item> {
    let hop = |contact, speed| spot(Move::Hop, Legs::One, contact, 320).travelling(speed, 68);
    vec![
        Row {
            id: id::PLATFORM_HOPS,
            name: "Hops off a platform, from a stand",
            about: "Step off a low platform onto one leg and hop on forward; cue: reach for the ground with a firm foot.",
            entry: off(300),
            source: PLATFORM,
            ..ONE_LEG
        }
        .with([
            hop(320, fixed(2_500)),
            hop(289, fixed(3_000)),
            hop(268, fixed(3_500)),
            stop_on(Legs::One, 400).travelling(fixed(3_500), 60),
        ]),
        Row {
            id: id::PLATFORM_HOPS_RUN_IN,
            name: "Hops off a platform, with a run-in on it",
            about: "Run four strides along a low platform, land off it on one leg and hop on; cue: run off it, don't jump off it.",
            entry: off(300),
            box_run_in: strides_on(4),
            loss_per_mille: LOSS_PER_MILLE,
            source: "an estimate of ours, out of one-leg hops",
            ..ONE_LEG
        }
        .with([
            hop(260, run_in(7_000)),
            hop(240, run_in(7_000)),
            hop(230, run_in(7_000)),
            stop_on(Legs::One, 400).travelling(run_in(7_000), 60),
        ]),
        Row {
            id: id::PLATFORM_BOUNDS,
            name: "Bounds off a platform, from a stand",
            about: "Step off a low platform and bound on from leg to leg; cue: the first bound goes out, not up.",
            entry: off(300),
            contacts_per_rep: 5,
            source: PLATFORM,
            ..TO_AND_FRO
        }
        .with([bound(240, 300, 3_500), bound(200, 340, 4_500), bound(180, 360, 5_500)]),
        Row {
            id: id::PLATFORM_BOUNDS_RUN_IN,
            name: "Bounds off a platform, with a run-in on it",
            about: "Run six strides along a low platform and bound on from the ground; cue: keep the speed you bring.",
            entry: off(300),
            box_run_in: strides_on(6),
            contacts_per_rep: 5,
            loss_per_mille: LOSS_PER_MILLE,
            source: "an estimate of ours, out of bounds with a run-in",
            ..TO_AND_FRO
        }
        .with([
            spot(Move::Bound, Legs::Alternate, 200, 340).travelling(run_in(8_000), 68),
            spot(Move::Bound, Legs::Alternate, 180, 360).travelling(run_in(8_000), 68),
        ]),
        // A repetition is two boxes.
        Row {
            id: id::BOUNDS_LOW_BOXES,
            name: "Bounds over low boxes, onto each",
            about: "Bound from leg to leg along a row of low boxes, one contact on each box and one between; cue: step onto it, push off it.",
            entry: level(340),
            onto_mm: Some(200),
            source: "an estimate of ours, out of bounds from a stand; the rise onto the box and the fall from it are in the numbers",
            ..TO_AND_FRO
        }
        .with([
            bound(220, 340, 3_000).rising(200),
            bound(200, 340, 3_000).rising(-200),
            bound(220, 340, 3_000).rising(200),
            bound(200, 340, 3_000).rising(-200),
        ]),
        Row {
            id: id::PLATFORM_STEP_JUMP,
            name: "Step and jump off a platform into the sand",
            about: "Drop off a low platform onto one leg, step to the other and jump into the sand; cue: an active foot under a tall trunk.",
            entry: off(300),
            source: PLATFORM,
            ..TO_AND_FRO
        }
        .with([
            combined(Move::Step, Legs::One, 230, 340, fixed(3_500)),
            combined(Move::Jump, Legs::Alternate, 200, 450, fixed(4_500)).into_pit(),
        ]),
        Row {
            id: id::DROP_JUMP_FORWARD,
            name: "Drop jump forward, two legs",
            about: "Step off a box, rebound forward as far as a short contact allows and stand; cue: lean as you land.",
            entry: off(300),
            source: "an estimate of ours, 0.06 s above the drop jump; longer than the vertical one: Ball & Zanetti 2012, J Strength Cond Res 26(5):1407–1412; Montoro-Bombú et al. 2024, PeerJ 12:e17026",
            ..SERIES
        }
        .with([
            spot(Move::DropJump, Legs::Two, 265, 420).travelling(fixed(1_000), 70),
            stop(300).travelling(fixed(2_750), 60),
        ]),
        Row {
            id: id::DROP_JUMP_FORWARD_ONE_LEG,
            name: "Drop jump forward, one leg",
            about: "Step off a low box onto one leg, rebound forward off it and stand on both; cue: stiff first, then far.",
            entry: off(200),
            source: "an estimate of ours, 0.06 s above the one-leg drop jump, as on two legs",
            ..ONE_LEG
        }
        .with([
            spot(Move::DropJump, Legs::One, 350, 340).travelling(fixed(1_000), 70),
            stop(300).travelling(fixed(2_250), 60),
        ]),
    ]
}
