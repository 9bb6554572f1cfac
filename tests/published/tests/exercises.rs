//! The exercises of the catalogue against published times, and the orders that coaches
//! keep within a kind.
//!
//! Formulas and the rows that `load.rs` checks are not checked again here.

#![allow(clippy::expect_used, reason = "helpers of tests fail as tests do")]

use pitside_model::facts::Cue;
use pitside_model::facts::exercise::{Entry, Exercise, Kind, Knee, Legs};
use pitside_model::load::ballistics::flight_height;
use pitside_model::load::catalogue::{self, id};
use pitside_model::load::caution::LeftOut;
use pitside_model::load::contact::repetition;
use pitside_model::load::performed::{Approach, Performed, Side};
use uuid::Uuid;

fn exercise(id: Uuid) -> Exercise {
    catalogue::find(id).expect("in the catalogue").exercise
}

fn usual(exercise: &Exercise) -> Performed<'_> {
    let on_one = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
    Performed::usual(exercise, 1, if on_one { Side::Left } else { Side::Both })
}

/// Energy of each landing of a repetition, J/kg on each leg.
fn landings(set: &Performed<'_>) -> Vec<f64> {
    let contacts = repetition(set).expect("sound");
    contacts.iter().map(|contact| contact.landing.energy_j_per_kg_per_leg).collect()
}

fn usual_landings(id: Uuid) -> Vec<f64> {
    landings(&usual(&exercise(id)))
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / f64::from(u32::try_from(values.len()).expect("few"))
}

/// Mean force of the first contact, BW on each leg.
fn first_push(id: Uuid) -> f64 {
    let exercise = exercise(id);
    let contacts = repetition(&usual(&exercise)).expect("sound");
    contacts[0].push.expect("a flight follows").mean_force_bw_per_leg
}

/// Contact of a place in the series, µs.
fn contact(id: Uuid, place: usize) -> u32 {
    exercise(id).series[place].contact_us
}

fn height_m(id: Uuid) -> f64 {
    flight_height(f64::from(exercise(id).series[0].flight_us) / 1e6)
}

#[track_caller]
fn about(value: f64, wanted: f64, within: f64) {
    assert!((value - wanted).abs() <= within, "{value} is not {wanted} within {within}");
}

/// Contact times as they were read, each beside its source.
#[test]
fn contacts_are_those_read() {
    for (id, place, contact_us) in [
        // Weyand et al. 2010, J Appl Physiol 108:950–961.
        (id::SPRINT_STRIDES, 0, 108_000),
        (id::HOPS_RUN_IN, 0, 160_000),
        (id::BACKWARD_RUN, 0, 116_000),
        // Wong et al. 2012, Int J Sports Med 33(8):647–653.
        (id::SKATER_HOP, 0, 450_000),
        (id::LATERAL_QUICK_STEPS, 0, 230_000),
        // Sanchez et al., NSCA conference 2024.
        (id::DROP_JUMP_UNCUED, 0, 325_000),
        // Perttunen et al. 2000, J Sports Sci 18:363–370.
        (id::TRIPLE_JUMP_FULL, 1, 157_000),
        (id::TRIPLE_JUMP_FULL, 2, 177_000),
    ] {
        assert_eq!(contact(id, place), contact_us, "{}", exercise(id).name);
    }
}

/// Mean force in quick lateral footwork, 1.35 BW (0.23 s and 0.08 s of flight, computed): Wong et
/// al. 2012, Int J Sports Med 33(8):647–653.
#[test]
fn wong_quick_steps() {
    about(first_push(id::LATERAL_QUICK_STEPS), 1.35, 0.005);
}

/// Contacts of bounce drop jumps rose from 20 to 40 to 60 cm and all stayed below 0.26 s: Ball,
/// Stock & Scurr 2010, J Strength Cond Res 24(10):2762–2769.
#[test]
fn ball_drop_jump_contacts() {
    let [low, middle, high] = [id::DROP_JUMP_20, id::DROP_JUMP_40, id::DROP_JUMP_60].map(|id| contact(id, 0));
    assert!(low < middle && middle < high && high < 260_000, "{low} {middle} {high}");
}

/// From 40 cm, asked for "high and short", trained youth stayed below 0.25 s; asked for the
/// shortest contact they were 0.021 s shorter and 5.9 cm lower, asked for the greatest height 0.049 s
/// longer and 4.8 cm higher: Boccia et al. 2026, J Strength Cond Res 40(2):152–157.
#[test]
fn boccia_cues() {
    let both = id::DROP_JUMP_40;
    assert!(contact(both, 0) < 250_000);
    for (cued, contact_us, height_cm) in
        [(id::DROP_JUMP_40_SHORT, -21_000, -5.9), (id::DROP_JUMP_40_HIGH, 49_000, 4.8)]
    {
        assert_eq!(i64::from(contact(cued, 0)) - i64::from(contact(both, 0)), contact_us);
        // The flights are rounded to a millisecond, 1.4 mm of height.
        about((height_m(cued) - height_m(both)) * 100.0, height_cm, 0.15);
    }
}

/// The cue changes the contact more than 60 cm of box do: the cues' span of 0.070 s is Boccia et al. 2026,
/// J Strength Cond Res 40(2):152–157; the boxes' is an estimate of ours.
#[test]
fn the_cue_outweighs_the_box() {
    let by_cue = contact(id::DROP_JUMP_40_HIGH, 0) - contact(id::DROP_JUMP_40_SHORT, 0);
    let by_box = contact(id::DROP_JUMP_80, 0) - contact(id::DROP_JUMP_20, 0);
    assert_eq!(by_cue, 70_000);
    assert!(by_cue > by_box, "{by_cue} {by_box}");
}

/// Drop jumps go on longer forward than upward: Ball & Zanetti 2012, J Strength Cond Res 26(5):1407–1412;
/// Montoro-Bombú et al. 2024, PeerJ 12:e17026.
#[test]
fn drop_jumps_forward_take_longer() {
    assert!(contact(id::DROP_JUMP_FORWARD, 0) > contact(id::DROP_JUMP, 0));
    assert!(contact(id::DROP_JUMP_FORWARD_ONE_LEG, 0) > contact(id::DROP_JUMP_ONE_LEG, 0));
}

/// Contacts between hurdles up to 140 % of the own jump height stay below 0.25 s; at 160 %, and on one leg
/// over 70 to 90 %, they are longer: Cappa & Behm 2011, J Strength Cond Res 25(10):2715–2720.
#[test]
fn cappa_hurdles() {
    let usual = contact(id::HURDLE_JUMPS, 0);
    assert!(usual < 250_000);
    assert!(contact(id::HURDLE_JUMPS_HIGH, 0) > usual);
    assert!(contact(id::HURDLE_HOPS_ONE_LEG, 0) > usual);
}

/// Flight over contact of one-leg hops from a stand: 1.04 ± 0.17 in the first, 1.41 ± 0.22 in the fifth:
/// Sarabon et al. 2022, Appl Sci 12(22):11383. The product's contacts are rounded to 5 ms.
#[test]
fn sarabon_hops_from_a_stand() {
    let series = exercise(id::HOPS_STANDING).series;
    let ratio = |place: usize| f64::from(series[place].flight_us) / f64::from(series[place].contact_us);
    about(ratio(0), 1.04, 0.02);
    about(ratio(4), 1.41, 0.02);
}

/// In the triple jump contacts lengthen from hop to step to jump: Perttunen et al. 2000, J Sports Sci
/// 18:363–370. In the long jump the contact shortens as the run-up lengthens: Bridgett &
/// Linthorne 2006, J Sports Sci 24(8):889–897.
#[test]
fn contacts_of_the_events_keep_their_order() {
    for id in [id::TRIPLE_JUMP_FOUR, id::TRIPLE_JUMP_SHORT, id::TRIPLE_JUMP_MIDDLE, id::TRIPLE_JUMP_FULL] {
        let [hop, step, jump] = [0, 1, 2].map(|place| contact(id, place));
        assert!(hop < step && step < jump, "{hop} {step} {jump}");
    }
    let run_ups = LONG_JUMPS.map(|id| contact(id, 0));
    assert!(run_ups.is_sorted_by(|shorter, longer| shorter > longer), "{run_ups:?}");
}

/// From the shortest run-up to the longest.
const LONG_JUMPS: [Uuid; 4] =
    [id::LONG_JUMP_FOUR, id::LONG_JUMP_SHORT, id::LONG_JUMP_MIDDLE, id::LONG_JUMP_FULL];
const TRIPLE_JUMPS: [Uuid; 4] =
    [id::TRIPLE_JUMP_FOUR, id::TRIPLE_JUMP_SHORT, id::TRIPLE_JUMP_MIDDLE, id::TRIPLE_JUMP_FULL];

/// With a quarter of body mass on the bar jumps fell by 26 %, landings took 20 % longer and pushes 13 %:
/// Lake et al. 2021, J Strength Cond Res 35(1):25–32. The push lies on a line between that and 50 % longer
/// with all of body mass, 12.5 % at a quarter.
#[test]
fn lake_added_load() {
    let (bare, loaded) = (id::PAUSED_SQUAT_JUMP, id::PAUSED_SQUAT_JUMP_QUARTER);
    about(f64::from(contact(loaded, 0)) / f64::from(contact(bare, 0)), 1.20, 0.005);
    let entry = |id| match exercise(id).entry {
        Entry::LevelFlight { flight_us } => flight_height(f64::from(flight_us) / 1e6),
        _ => 0.0,
    };
    about(entry(loaded) / entry(bare), 0.74, 0.005);
    let (bare, loaded) = (id::DEEP_JUMPS, id::DEEP_JUMPS_LOADED);
    about(f64::from(contact(loaded, 0)) / f64::from(contact(bare, 0)), 1.13, 0.01);
    about(height_m(loaded) / height_m(bare), 0.74, 0.005);
}

/// Loading lengthens every contact: common practice, no source for these exercises.
#[test]
fn loading_lengthens_contacts() {
    for (bare, loaded) in [
        (id::POGO, id::POGO_LOADED),
        (id::REBOUND_JUMPS, id::REBOUND_JUMPS_LOADED),
        (id::BOUNDS_STANDING, id::BOUNDS_LOADED),
        (id::PAUSED_SQUAT_JUMP_QUARTER, id::PAUSED_SQUAT_JUMP_HALF),
        (id::START_STANDING, id::START_SLED),
    ] {
        let (bare, loaded) = (exercise(bare), exercise(loaded));
        assert_eq!(bare.kind, loaded.kind);
        assert_eq!(bare.series.len(), loaded.series.len());
        for (bare, loaded) in bare.series.iter().zip(&loaded.series) {
            assert!(loaded.contact_us > bare.contact_us, "{bare:?} {loaded:?}");
        }
    }
}

/// One leg is harder than two: common practice, no source. By the landing off one box, by the push of each
/// leg everywhere. On one leg people jump lower, so landings out of a free flight need not keep the order.
#[test]
fn one_leg_is_harder_than_two() {
    for (one, two, box_mm) in [
        (id::DROP_JUMP_ONE_LEG, id::DROP_JUMP, 200),
        (id::LOW_BOX_REBOUND_ONE_LEG, id::LOW_BOX_REBOUND, 150),
        (id::DROP_LANDING_ONE_LEG, id::DROP_LANDING, 200),
        (id::BOX_HOP, id::BOX_JUMP, 300),
        (id::DROP_JUMP_FORWARD_ONE_LEG, id::DROP_JUMP_FORWARD, 200),
    ] {
        let [one, two] = [one, two].map(|id| {
            let exercise = exercise(id);
            let mut set = usual(&exercise);
            set.box_mm = Some(box_mm);
            landings(&set)[0]
        });
        assert!(one > two, "{one} {two}");
    }
    for (one, two) in [
        (id::POGO_ONE_LEG, id::POGO),
        (id::ANKLE_HOPS_ONE_LEG, id::ANKLE_HOPS),
        (id::ROPE_ONE_LEG, id::ROPE),
        (id::REBOUND_JUMPS_ONE_LEG, id::REBOUND_JUMPS),
        (id::HURDLE_HOPS_ONE_LEG, id::HURDLE_JUMPS),
        (id::DROP_JUMP_ONE_LEG, id::DROP_JUMP),
        (id::POGO_FORWARD_ONE_LEG, id::POGO_FORWARD),
        (id::LINE_HOPS_ONE_LEG, id::LINE_HOPS),
        (id::SIDE_HURDLE_HOPS, id::SIDE_HURDLE_JUMPS),
    ] {
        let (by_one, by_two) = (first_push(one), first_push(two));
        assert!(by_one > by_two, "{}: {by_one} {by_two}", exercise(one).name);
    }
}

/// A longer run-up is harder, from one exercise to the next: common practice, no source.
#[test]
fn longer_run_ups_are_harder() {
    for run_ups in [LONG_JUMPS, TRIPLE_JUMPS] {
        let means = run_ups.map(|id| mean(&usual_landings(id)));
        assert!(means.is_sorted_by(|shorter, longer| shorter < longer), "{means:?}");
    }
}

/// At one run-in fewer contacts are harder than more, by their mean: common practice, no source. Of the
/// contacts of the series itself: the first one lands out of the run-in's flat stride and is the lightest.
#[test]
fn fewer_contacts_are_harder_than_more() {
    for id in [id::HOPS_RUN_IN, id::BOUNDS_RUN_IN, id::BOUNDS_HURDLES] {
        let exercise = exercise(id);
        let means = [3, 5, 10].map(|contacts| {
            let mut set = usual(&exercise);
            set.approach = Some(Approach::Strides(6));
            set.contacts_per_rep = Some(contacts);
            mean(&landings(&set)[1..])
        });
        assert!(means.is_sorted_by(|fewer, more| fewer > more), "{}: {means:?}", exercise.name);
    }
}

/// Out of one run-in the contact after a hop lands harder than the one after a step in the same place: common
/// practice, no source.
#[test]
fn a_hop_lands_harder_than_a_step_in_its_place() {
    let hop = usual_landings(id::HOP_STEP_STEP_JUMP_RUN_IN);
    let step = usual_landings(id::STEP_STEP_JUMP_RUN_IN);
    assert_eq!(hop[0], step[0]);
    assert!(hop[1] > step[1], "{hop:?} {step:?}");
    // The same one place later: hop, hop, step, jump and hop, step, step, jump.
    let two_hops = usual_landings(id::HOP_HOP_STEP_JUMP_RUN_IN);
    assert_eq!(two_hops[1], hop[1]);
    assert!(two_hops[2] > hop[2], "{two_hops:?} {hop:?}");
}

/// A platform with a run-in is harder than one from a stand, and that harder than the flat: common
/// practice, no source. By the first landing and by the mean of the first three.
#[test]
fn platforms_are_harder_than_the_flat() {
    for harder_first in [
        [id::PLATFORM_HOPS_RUN_IN, id::PLATFORM_HOPS, id::HOPS_STANDING],
        [id::PLATFORM_BOUNDS_RUN_IN, id::PLATFORM_BOUNDS, id::BOUNDS_STANDING],
    ] {
        let landings = harder_first.map(usual_landings);
        let firsts = landings.each_ref().map(|landings| landings[0]);
        let means = landings.each_ref().map(|landings| mean(&landings[..3]));
        for order in [firsts, means] {
            assert!(order.is_sorted_by(|harder, easier| harder > easier), "{order:?}");
        }
    }
}

/// Higher boxes are harder, from one exercise to the next. Wallace's order (see `load.rs`), carried to
/// the heights of the catalogue.
#[test]
fn higher_boxes_are_harder() {
    let drop_jumps = [id::DROP_JUMP_20, id::DROP_JUMP, id::DROP_JUMP_40, id::DROP_JUMP_60, id::DROP_JUMP_80]
        .map(|id| usual_landings(id)[0]);
    assert!(drop_jumps.is_sorted_by(|lower, higher| lower < higher), "{drop_jumps:?}");
    let held = [id::DROP_LANDING, id::DROP_LANDING_HIGH].map(|id| usual_landings(id)[0]);
    assert!(held[0] < held[1], "{held:?}");
}

/// What ends a rebound in a stand is counted with the held landings, wherever it stands.
#[test]
fn a_stand_at_the_end_of_a_series_is_a_held_landing() {
    for id in [id::BOUNDS_HELD, id::HOPS_HELD, id::STANDING_LONG_JUMP, id::CROSSOVER_HOPS] {
        let exercise = exercise(id);
        let contacts = repetition(&usual(&exercise)).expect("sound");
        let last = contacts.last().expect("contacts");
        assert_eq!(last.kind, Kind::HeldLanding, "{}", exercise.name);
        assert!(contacts[..contacts.len() - 1].iter().all(|contact| contact.kind == exercise.kind));
    }
}

/// A longer run-up on the platform is harder, and one from a stand is the easiest: common practice, no source.
#[test]
fn a_longer_run_up_on_the_platform_is_harder() {
    for id in [id::PLATFORM_HOPS_RUN_IN, id::PLATFORM_BOUNDS_RUN_IN, id::STEP_JUMP_PHASES] {
        let exercise = exercise(id);
        let means = [Approach::Standing, Approach::Strides(2), Approach::Strides(4), Approach::Strides(6)]
            .map(|approach| {
                let mut set = usual(&exercise);
                set.approach = Some(approach);
                mean(&landings(&set))
            });
        assert!(means.is_sorted_by(|shorter, longer| shorter < longer), "{}: {means:?}", exercise.name);
    }
}

/// The cue of a set changes a drop jump's usual times by what the cues of one session changed them: Boccia et al.
/// 2026, J Strength Cond Res 40(2):152–157; the rows told for a cue are those that the cue leads to.
#[test]
fn a_cue_leads_from_one_row_to_the_other() {
    let both = exercise(id::DROP_JUMP_40);
    for (cue, row) in [(Cue::Short, id::DROP_JUMP_40_SHORT), (Cue::High, id::DROP_JUMP_40_HIGH)] {
        let mut set = usual(&both);
        set.cue = Some(cue);
        let cued = repetition(&set).expect("sound")[0];
        about(cued.inputs.contact_s.value * 1e6, f64::from(contact(row, 0)), 1.0);
        // The row's flight is rounded to a millisecond.
        about(cued.height_m().expect("a flight"), height_m(row), 0.0015);
    }
}

/// With and without a tenth of body mass worn: the load lengthens the contact, so that the push a leg grows by less
/// than the load, and less in weights of the system: after Lake et al. 2021, J Strength Cond Res 35(1):25–32, where the
/// mean force fell with the load (carried over to rebounds, an estimate of ours).
#[test]
fn a_load_slows_more_than_it_presses() {
    for (bare, loaded) in [(id::POGO, id::POGO_LOADED), (id::REBOUND_JUMPS, id::REBOUND_JUMPS_LOADED)] {
        let (bare, loaded) = (first_push(bare), first_push(loaded));
        assert!(loaded / 1.1 < bare && loaded < bare * 1.1, "{bare} {loaded}");
    }
}

/// What the product says of the knee is a tag, not a number: the same times on a stiff and a bent knee come to the
/// same. Stiff contacts use the tendon more: common practice, no source.
#[test]
fn the_knee_is_a_tag() {
    let stiff = exercise(id::POGO);
    let bent = Exercise { knee: Knee::Bent, ..stiff.clone() };
    assert_eq!(landings(&usual(&stiff)), landings(&usual(&bent)));
    assert!(LeftOut::of(&stiff).contains(&LeftOut::StiffKnee));
    assert!(!LeftOut::of(&bent).contains(&LeftOut::StiffKnee));
}
