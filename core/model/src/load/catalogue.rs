//! The exercises that come with the product.
//!
//! Usual times, speeds and angles are of a trained adult at full effort. They
//! stand in for a contact nobody has timed and say what is behind them: a row
//! marked [`Support::Estimate`] is ours and must look like an estimate. People
//! and cues spread about a quarter either way around any of them.
//!
//! An id never changes and is never given to another exercise: books refer to
//! it. A squad adds and changes exercises in its own book.

use uuid::Uuid;

use crate::facts::exercise::{
    After, Entry, Exercise, Kind, Knee, Landing, Legs, Move, Speed, Support, UsualContact,
};

/// An exercise under its lasting id.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// The id.
    pub id: Uuid,
    /// The description.
    pub exercise: Exercise,
}

/// The ids, drawn once.
pub mod id {
    use uuid::Uuid;

    /// Two-leg pogos.
    pub const POGO: Uuid = Uuid::from_u128(0xba0fab70_8902_4e66_9bb7_3c25da19237f);
    /// One-leg pogos.
    pub const POGO_ONE_LEG: Uuid = Uuid::from_u128(0xc0c15c6c_298c_4419_83f0_0783d5346063);
    /// Hurdle jumps.
    pub const HURDLE_JUMPS: Uuid = Uuid::from_u128(0xa8e0fe37_eb88_4d6f_8990_10b89017f747);
    /// Tuck jumps.
    pub const TUCK_JUMPS: Uuid = Uuid::from_u128(0x6a9186f3_e82a_451e_826d_ee7e74a42017);
    /// Drop jump.
    pub const DROP_JUMP: Uuid = Uuid::from_u128(0x8e696410_514c_43dd_931f_99cf9531a326);
    /// Drop landing.
    pub const DROP_LANDING: Uuid = Uuid::from_u128(0x3872d9d3_7e77_4079_99f4_ed8ee23cf999);
    /// Box jump.
    pub const BOX_JUMP: Uuid = Uuid::from_u128(0xce21941d_dfc7_47cd_add8_5869288194a7);
    /// Bounds from a stand.
    pub const BOUNDS_STANDING: Uuid = Uuid::from_u128(0xbb1cdf4c_b393_405a_a123_220dad277c49);
    /// Bounds with a run-in.
    pub const BOUNDS_RUN_IN: Uuid = Uuid::from_u128(0x0ed66ffd_565c_4b4a_b387_a2a382bbd60e);
    /// Speed bounds.
    pub const SPEED_BOUNDS: Uuid = Uuid::from_u128(0x4d8a2c07_61f3_4b5e_9e0d_7c31a8f2b964);
    /// One-leg hops from a stand.
    pub const HOPS_STANDING: Uuid = Uuid::from_u128(0x26d5f20c_f50d_4e68_a652_7efd9dd3b477);
    /// One-leg hops with a run-in.
    pub const HOPS_RUN_IN: Uuid = Uuid::from_u128(0x8fec19bb_1d03_4dec_ad70_f293bf36a4ec);
    /// Skater hops.
    pub const SKATER_HOP: Uuid = Uuid::from_u128(0xa120b4d8_9826_4705_8147_a55944b80a79);
    /// Standing triple jump.
    pub const STANDING_TRIPLE: Uuid = Uuid::from_u128(0xfe02bb0b_5a8e_4941_8897_efcfb943e1a4);
    /// Long jump from a short run-up.
    pub const LONG_JUMP_SHORT: Uuid = Uuid::from_u128(0x9162be11_1216_4c66_8f85_5afa883345b3);
    /// Triple jump from a short run-up.
    pub const TRIPLE_JUMP_SHORT: Uuid = Uuid::from_u128(0xec15e837_fc3b_402b_8717_89549e899817);
    /// A-skips.
    pub const A_SKIP: Uuid = Uuid::from_u128(0x23f35a3f_92a3_4e1a_ac30_684d277880da);
    /// Sprint strides at speed.
    pub const SPRINT_STRIDES: Uuid = Uuid::from_u128(0x7c7b0bdf_8ef0_40c2_b340_9210f675e17d);
    /// Paused squat jumps.
    pub const PAUSED_SQUAT_JUMP: Uuid = Uuid::from_u128(0x2dff784c_b728_4d5b_b6dc_f5b7a586ad0f);
}

/// The exercise with an id; nothing where the product brings none.
#[must_use]
pub fn find(id: Uuid) -> Option<Item> {
    all().into_iter().find(|item| item.id == id)
}

/// Every exercise, by kind.
#[must_use]
pub fn all() -> Vec<Item> {
    vec![
        pogo(),
        pogo_one_leg(),
        hurdle_jumps(),
        tuck_jumps(),
        drop_jump(),
        drop_landing(),
        box_jump(),
        bounds_standing(),
        bounds_run_in(),
        speed_bounds(),
        hops_standing(),
        hops_run_in(),
        standing_triple(),
        skater_hop(),
        long_jump_short(),
        triple_jump_short(),
        a_skip(),
        sprint_strides(),
        paused_squat_jump(),
    ]
}

/// What an exercise of the catalogue needs beyond its series; the rest has a
/// plain value that few rows change.
struct Row {
    id: Uuid,
    name: &'static str,
    about: &'static str,
    kind: Kind,
    legs: Legs,
    knee: Knee,
    landing: Landing,
    entry: Entry,
    contacts_per_rep: u16,
    loss_per_mille: u16,
    support: Support,
    source: &'static str,
}

impl Row {
    fn with(self, series: Vec<UsualContact>) -> Item {
        Item {
            id: self.id,
            exercise: Exercise {
                name: self.name.to_owned(),
                about: self.about.to_owned(),
                kind: self.kind,
                legs: self.legs,
                knee: self.knee,
                landing: self.landing,
                entry: self.entry,
                series,
                contacts_per_rep: self.contacts_per_rep,
                loss_per_mille: self.loss_per_mille,
                support: self.support,
                source: self.source.to_owned(),
            },
        }
    }
}

/// A contact on the spot, its times in milliseconds, that a flight follows.
fn spot(mv: Move, legs: Legs, contact_ms: u32, flight_ms: u32) -> UsualContact {
    UsualContact {
        mv,
        contact_us: contact_ms * 1_000,
        after: After::Flight,
        flight_us: flight_ms * 1_000,
        speed: Speed::Fixed { mm_s: 0 },
        angle_ddeg: 900,
        legs,
    }
}

/// A landing that ends the movement.
fn stop(contact_ms: u32) -> UsualContact {
    UsualContact { after: After::Stand, ..spot(Move::Landing, Legs::Two, contact_ms, 0) }
}

impl UsualContact {
    /// Travelling at `speed` over a leg set down at `angle_deg`.
    fn travelling(self, speed: Speed, angle_deg: u32) -> Self {
        Self { speed, angle_ddeg: angle_deg * 10, ..self }
    }

    /// Followed by the sand.
    fn into_pit(self) -> Self {
        Self { after: After::Pit, ..self }
    }
}

const fn fixed(mm_s: u32) -> Speed {
    Speed::Fixed { mm_s }
}

/// The speed of the run-in, not above `cap_mm_s`.
const fn run_in(cap_mm_s: u32) -> Speed {
    Speed::Approach { less_mm_s: 0, cap_mm_s }
}

/// The top of the range: no cap of the exercise's own.
const NO_CAP_MM_S: u32 = 13_000;

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

fn drop_landing() -> Item {
    Row {
        id: id::DROP_LANDING,
        name: "Drop landing, held",
        about: "Step off a box and hold the landing for two seconds; cue: land so that nobody hears it.",
        kind: Kind::HeldLanding,
        legs: Legs::Two,
        knee: Knee::Bent,
        landing: Landing::Held,
        entry: Entry::Box { usual_mm: 300 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours",
    }
    .with(vec![stop(350)])
}

fn box_jump() -> Item {
    Row {
        id: id::BOX_JUMP,
        name: "Box jump",
        about: "Jump onto a box, stand up, step down; cue: land as high as you took off.",
        kind: Kind::HeldLanding,
        legs: Legs::Two,
        knee: Knee::Bent,
        landing: Landing::Held,
        entry: Entry::OntoBox { fall_mm: 100 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours: a fall of 5 to 15 cm onto the box",
    }
    .with(vec![stop(250)])
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

fn skater_hop() -> Item {
    Row {
        id: id::SKATER_HOP,
        name: "Skater hops",
        about: "Spring from side to side, one leg to the other; cue: push off the inside edge of the foot.",
        kind: Kind::Lateral,
        legs: Legs::Alternate,
        knee: Knee::Bent,
        landing: Landing::Rebound,
        entry: Entry::LevelFlight { flight_us: 310_000 },
        contacts_per_rep: 2,
        loss_per_mille: 0,
        support: Support::Derived,
        source: "0.45 s and a mean of 0.76 BW·s: Wong et al. 2012, Int J Sports Med 33(8):647–653; the speed is an estimate of ours",
    }
    .with(vec![
        spot(Move::LateralHop, Legs::Alternate, 450, 310).travelling(fixed(1_500), 65),
    ])
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
    .with(vec![
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
    .with(vec![
        phase(Move::Hop, Legs::One, 155, 400, 0),
        phase(Move::Step, Legs::One, 177, 340, 800),
        phase(Move::Jump, Legs::Alternate, 197, 500, 1_600).into_pit(),
    ])
}

fn a_skip() -> Item {
    Row {
        id: id::A_SKIP,
        name: "A-skip",
        about: "Skip forward with the thigh brought level; cue: the foot comes straight down under the hip.",
        kind: Kind::Sprint,
        legs: Legs::Alternate,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::LevelFlight { flight_us: 150_000 },
        contacts_per_rep: 20,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours",
    }
    .with(vec![spot(Move::Skip, Legs::Alternate, 180, 150).travelling(fixed(1_500), 85)])
}

fn sprint_strides() -> Item {
    Row {
        id: id::SPRINT_STRIDES,
        name: "Sprint strides at speed",
        about: "Run at top speed out of a long build-up; cue: strike down, not out in front.",
        kind: Kind::Sprint,
        legs: Legs::Alternate,
        knee: Knee::Stiff,
        landing: Landing::Rebound,
        entry: Entry::RunIn { usual_strides: 20 },
        contacts_per_rep: 20,
        loss_per_mille: 0,
        support: Support::Derived,
        source: "0.108 s and 2.08 BW at top speed: Weyand et al. 2010, J Appl Physiol 108:950–961",
    }
    .with(vec![spot(Move::SprintStride, Legs::Alternate, 108, 117).travelling(run_in(NO_CAP_MM_S), 73)])
}

fn paused_squat_jump() -> Item {
    Row {
        id: id::PAUSED_SQUAT_JUMP,
        name: "Paused squat jump",
        about: "Stop for two seconds in a half squat, then jump; cue: no dip before you go.",
        kind: Kind::PausedJump,
        legs: Legs::Two,
        knee: Knee::Bent,
        landing: Landing::Paused,
        entry: Entry::LevelFlight { flight_us: 500_000 },
        contacts_per_rep: 1,
        loss_per_mille: 0,
        support: Support::Estimate,
        source: "an estimate of ours",
    }
    .with(vec![stop(350)])
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::load::caution::Caution;
    use crate::load::performed::{Leg, Performed, Side};
    use crate::load::session::Totals;

    #[test]
    fn every_exercise_is_sound_and_stands_once() {
        let all = all();
        let ids: BTreeSet<_> = all.iter().map(|item| item.id).collect();
        let names: BTreeSet<_> = all.iter().map(|item| &item.exercise.name).collect();
        assert_eq!(ids.len(), all.len());
        assert_eq!(names.len(), all.len());
        for item in &all {
            assert_eq!(item.exercise.check(), Ok(()), "{}", item.exercise.name);
            assert!(item.exercise.about.contains("; cue: "), "{}", item.exercise.about);
            assert_eq!(find(item.id).as_ref(), Some(item));
        }
        assert_eq!(find(Uuid::nil()), None);
    }

    #[test]
    fn every_kind_is_there_and_every_exercise_can_be_done() {
        let mut totals = Totals::default();
        for Item { exercise, .. } in &all() {
            let on_one = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
            let leg = if on_one { Side::Alternate { first: Leg::Left } } else { Side::Both };
            totals
                .add_set(&Performed::usual(exercise, 2, leg))
                .unwrap_or_else(|error| panic!("{}: {error}", exercise.name));
        }
        let kinds: Vec<_> = totals.iter().map(|(kind, _)| kind).collect();
        assert_eq!(kinds, Kind::ALL);
    }

    #[test]
    fn intense_exercises_carry_a_caution_and_gentle_ones_none() {
        let caution = |id| Caution::of(&find(id).expect("there").exercise);
        assert_eq!(caution(id::DROP_JUMP), Some(Caution::FallFromBox));
        assert_eq!(caution(id::DROP_LANDING), Some(Caution::FallFromBox));
        assert_eq!(caution(id::LONG_JUMP_SHORT), Some(Caution::EventTakeOff));
        assert_eq!(caution(id::TRIPLE_JUMP_SHORT), Some(Caution::EventTakeOff));
        assert_eq!(caution(id::HOPS_RUN_IN), Some(Caution::OneLegRunIn));
        for gentle in [id::POGO, id::BOX_JUMP, id::A_SKIP, id::SPRINT_STRIDES, id::HOPS_STANDING] {
            assert_eq!(caution(gentle), None);
        }
    }
}
