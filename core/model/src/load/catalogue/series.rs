//! Horizontal series: hops, bounds and steps that travel.

use super::row::{Row, fixed, run_in, spot};
use super::{Item, id};
use crate::facts::exercise::{Entry, Kind, Knee, Landing, Legs, Move, Speed, Support};

pub(super) fn all() -> Vec<Item> {
    vec![
        bounds_standing(),
        bounds_run_in(),
        speed_bounds(),
        hops_standing(),
        hops_run_in(),
        standing_triple(),
    ]
}

fn bounds_standing() -> Item {
    let bound = |contact, flight, speed| {
        spot(Move::Bound, Legs::Alternate, contact, flight).travelling(fixed(speed), 68)
    };
    Row {
        id: id::BOUNDS_STANDING,
        name: "Bounds from a stand",
        about: "Leap from leg to leg out of a stand and gather speed; cue: push the ground away behind you.",
        kind: Kind::HorizontalSeries,
        legs: Legs::Alternate,
        knee: Knee::Bent,
        landing: Landing::Rebound,
        entry: Entry::Standing,
        contacts_per_rep: 10,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours, between sprint strides (Weyand et al. 2010) and the step of a triple jump (Perttunen et al. 2000)",
    }
    .with(vec![
        bound(230, 300, 3_500),
        bound(200, 340, 4_500),
        bound(180, 360, 5_500),
    ])
}

fn bounds_run_in() -> Item {
    Row {
        id: id::BOUNDS_RUN_IN,
        name: "Bounds with a run-in",
        about: "Bound for distance out of a short run-in; cue: flat foot, hips running on over it.",
        kind: Kind::HorizontalSeries,
        legs: Legs::Alternate,
        knee: Knee::Bent,
        landing: Landing::Rebound,
        entry: Entry::RunIn { usual_strides: 6 },
        contacts_per_rep: 10,
        loss_per_mille: 40,
        support: Support::Estimate,
        source: "an estimate of ours, between 0.108 s (sprint, Weyand et al. 2010) and 0.160 s (one-leg hopping, same)",
    }
    .with(vec![
        spot(Move::Bound, Legs::Alternate, 155, 360).travelling(run_in(8_000), 66),
    ])
}

fn speed_bounds() -> Item {
    Row {
        id: id::SPEED_BOUNDS,
        name: "Speed bounds",
        about: "Run with long flat bounds at most of the sprinting speed; cue: cover ground, don't climb.",
        kind: Kind::HorizontalSeries,
        legs: Legs::Alternate,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::RunIn { usual_strides: 10 },
        contacts_per_rep: 12,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours; nearer to sprinting than to bounds for distance: Mero & Komi 1994, J Appl Biomech 10(1):1–13",
    }
    .with(vec![
        spot(Move::Bound, Legs::Alternate, 130, 200)
            .travelling(Speed::TopShare { per_mille: 800 }, 70),
    ])
}

fn hops_standing() -> Item {
    let hop = |contact, speed| spot(Move::Hop, Legs::One, contact, 320).travelling(fixed(speed), 68);
    // Between the first and the fifth hop the row gives no values: ours lie
    // on the line between them.
    Row {
        id: id::HOPS_STANDING,
        name: "One-leg hops from a stand",
        about: "Hop forward on one leg out of a stand; cue: the free knee swings through each time.",
        kind: Kind::HorizontalSeries,
        legs: Legs::One,
        knee: Knee::Bent,
        landing: Landing::Rebound,
        entry: Entry::Standing,
        contacts_per_rep: 5,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "flight over contact 1.04 rising to 1.43: Sarabon et al. 2022, Appl Sci 12(22):11383; the flight of 0.32 s and the speeds are estimates of ours",
    }
    .with(vec![
        hop(310, 2_500),
        hop(289, 3_000),
        hop(268, 3_500),
        hop(246, 4_000),
        hop(225, 4_500),
    ])
}

fn hops_run_in() -> Item {
    Row {
        id: id::HOPS_RUN_IN,
        name: "One-leg hops with a run-in",
        about: "Carry the speed of a run-in through a series of hops on one leg; cue: claw back as the foot comes down.",
        kind: Kind::HorizontalSeries,
        legs: Legs::One,
        knee: Knee::Bent,
        landing: Landing::Rebound,
        entry: Entry::RunIn { usual_strides: 6 },
        contacts_per_rep: 5,
        loss_per_mille: 40,
        support: Support::Derived,
        source: "0.160 s and 2.71 BW in one-leg hopping at top speed: Weyand et al. 2010, J Appl Physiol 108:950–961",
    }
    .with(vec![
        spot(Move::Hop, Legs::One, 160, 270).travelling(run_in(7_000), 66),
    ])
}

fn standing_triple() -> Item {
    let contact = |mv, legs, contact, speed| spot(mv, legs, contact, 350).travelling(fixed(speed), 66);
    Row {
        id: id::STANDING_TRIPLE,
        name: "Standing triple jump",
        about: "Hop, step and jump into the sand out of a stand; cue: each one longer than the last.",
        kind: Kind::HorizontalSeries,
        legs: Legs::Alternate,
        knee: Knee::Bent,
        landing: Landing::Rebound,
        entry: Entry::Standing,
        contacts_per_rep: 3,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours, as for bounds from a stand",
    }
    .with(vec![
        contact(Move::Hop, Legs::One, 240, 3_500),
        contact(Move::Step, Legs::One, 200, 4_500),
        contact(Move::Jump, Legs::Alternate, 180, 5_500).into_pit(),
    ])
}
