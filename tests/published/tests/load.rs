//! Falls, forces, run-ins, stiffness and the order of landings against
//! published values.
//!
//! Rows called *computed* were worked out apart from the product from the
//! formula of the source named with them.

#![allow(clippy::expect_used, reason = "helpers of tests fail as tests do")]

use pitside_model::facts::exercise::{Exercise, Legs};
use pitside_model::load::approach::Acceleration;
use pitside_model::load::ballistics::{FlightSpeeds, fall_speed, flight_height, level_speed};
use pitside_model::load::catalogue::{self, id};
use pitside_model::load::contact::{ContactLoad, Landing, repetition};
use pitside_model::load::force::{
    flight_contact_ratio, mean_force_bw, mean_force_from_flights_bw, peak_from_mean, reactive_strength,
};
use pitside_model::load::performed::{Approach, Athlete, Performed, Side, Timed};
use pitside_model::load::session::session_rpe;
use pitside_model::load::spring::{SpringMass, Stride, hopping_stiffness};

/// `value` rounds to `wanted` in the decimals given with it.
#[track_caller]
fn rounds_to(value: f64, wanted: f64, decimals: i32) {
    let half = 0.5 * 10_f64.powi(-decimals);
    assert!((value - wanted).abs() <= half * (1.0 + 1e-9), "{value} is not {wanted} to {decimals} decimals",);
}

/// The exercise of the catalogue with this name.
fn exercise(name: &str) -> Exercise {
    catalogue::all()
        .into_iter()
        .map(|item| item.exercise)
        .find(|exercise| exercise.name == name)
        .expect("in the catalogue")
}

/// Heights of flights: Bosco, Luhtanen & Komi 1983, Eur J Appl Physiol
/// 50:273–282 (formula: value from memory; rows computed).
#[test]
fn bosco_flight_heights() {
    for (flight, height) in [(0.30, 0.1104), (0.40, 0.1962), (0.50, 0.3066), (0.60, 0.4415), (0.70, 0.6009)] {
        rounds_to(flight_height(flight), height, 4);
    }
}

/// RSI = h/tc: Young 1995; Flanagan & Comyns 2008, Strength Cond J 30(5):32–38
/// (value from memory). With the ratio tf/tc of Healy, Kenny & Harrison 2017,
/// doi 10.1123/ijspp.2017-0511: RSI = (g·tc/8)(tf/tc)² (computed).
#[test]
fn reactive_strength_rows() {
    for (height, contact, index) in [(0.45, 0.18, 2.50), (0.30, 0.20, 1.50)] {
        let flight = (8.0 * height / 9.81_f64).sqrt();
        rounds_to(reactive_strength(flight, contact), index, 6);
        let ratio = flight_contact_ratio(flight, contact);
        rounds_to(9.81 * contact / 8.0 * ratio * ratio, index, 6);
    }
}

/// v = √(2gH) (computed).
#[test]
fn fall_speeds() {
    for (height, speed) in [(0.20, 1.981), (0.30, 2.426), (0.40, 2.801), (0.60, 3.431)] {
        rounds_to(fall_speed(height), speed, 3);
    }
}

/// Momentum balance: Weyand et al. 2000, J Appl Physiol 89:1991–1999, restated
/// in Clark 2022, Appl Sci 12(16):8289 (rows computed).
#[test]
fn mean_force_rows() {
    for (before, after, contact, force, decimals) in [
        (0.120, 0.120, 0.100, 2.200, 3),
        (0.120, 0.120, 0.110, 2.0909, 4),
        (0.120, 0.120, 0.250, 1.480, 3),
        (0.45, 0.40, 0.157, 3.707, 3),
    ] {
        let by_times = mean_force_from_flights_bw(before, after, contact);
        rounds_to(by_times, force, decimals);
        let by_speeds = mean_force_bw(level_speed(before), level_speed(after), contact);
        rounds_to(by_speeds, force, decimals);
    }
}

/// A flight that ends 0.10 m lower (computed): 2.43 m/s, where a level flight
/// of the same time gives 2.21.
#[test]
fn unequal_heights() {
    rounds_to(FlightSpeeds::over(0.45, -0.10).down, 2.43, 2);
    rounds_to(level_speed(0.45), 2.21, 2);
}

/// Approach speed: Samozino et al. 2016, Scand J Med Sci Sports 26:648–658
/// (formula: value from memory; rows computed).
#[test]
fn approach_speed_rows() {
    let runner = Acceleration { top_speed_m_s: 9.5, tau_s: 1.2 };
    for (distance, time, speed) in [(10.0, 2.0319, 7.753), (20.0, 3.2235, 8.853), (30.0, 4.3252, 9.242)] {
        rounds_to(runner.time_to(distance), time, 4);
        rounds_to(runner.speed_at(distance), speed, 3);
    }
}

/// Share of top speed after N strides at 4.1 a second (computed; the stride
/// rate is an estimate of ours).
#[test]
fn speed_after_strides_rows() {
    for (strides, shares) in [
        (2, [0.36, 0.32, 0.29]),
        (4, [0.59, 0.54, 0.49]),
        (6, [0.74, 0.69, 0.64]),
        (8, [0.83, 0.79, 0.74]),
        (10, [0.89, 0.86, 0.81]),
        (12, [0.93, 0.90, 0.87]),
        (16, [0.97, 0.96, 0.93]),
        (20, [0.99, 0.98, 0.97]),
    ] {
        for (tau_s, share) in [1.10, 1.25, 1.45].into_iter().zip(shares) {
            let runner = Acceleration { top_speed_m_s: 1.0, tau_s };
            rounds_to(runner.speed_after_strides(strides), share, 2);
        }
    }
}

/// Spring–mass: Morin et al. 2005, J Appl Biomech 21:167–180 (equations:
/// value from memory; rows computed).
#[test]
fn spring_mass_rows() {
    #[rustfmt::skip]
    let rows = [
        // m     v    L       tc     tf     Fmax    Δy       kvert    ΔL       kleg
        (70.0, 8.0, 0.950,  0.110, 0.120, 2255.4, 0.02466,  91.446, 0.13270, 16.996),
        (70.0, 5.0, 0.9275, 0.200, 0.120, 1725.9, 0.05087,  33.924, 0.19718,  8.753),
        (75.0, 9.5, 0.980,  0.100, 0.125, 2600.4, 0.02287, 113.717, 0.14568, 17.850),
    ];
    for (mass_kg, speed_m_s, leg_m, contact_s, flight_s, peak, sinking, kvert, shortening, kleg) in rows {
        let spring = SpringMass::of(Stride { mass_kg, speed_m_s, leg_m, contact_s, flight_s })
            .expect("within the model");
        rounds_to(spring.peak_n, peak, 1);
        rounds_to(spring.sinking_m, sinking, 5);
        rounds_to(spring.vertical_n_m / 1e3, kvert, 3);
        rounds_to(spring.shortening_m, shortening, 5);
        rounds_to(spring.leg_n_m / 1e3, kleg, 3);
    }
}

/// Dalleau et al. 2004, Int J Sports Med 25:170–176 (formula: value from
/// memory; row computed), and that it is Morin's vertical stiffness.
#[test]
fn dalleau_row_and_identity() {
    rounds_to(hopping_stiffness(70.0, 0.20, 0.30), 25_183.4, 1);
    for mass_kg in [45.0, 70.0, 95.0] {
        for contact_s in [0.10, 0.16, 0.25, 0.40] {
            for flight_s in [0.08, 0.20, 0.45] {
                let morin =
                    SpringMass::of(Stride { mass_kg, speed_m_s: 0.0, leg_m: 0.95, contact_s, flight_s })
                        .expect("within the model")
                        .vertical_n_m;
                let dalleau = hopping_stiffness(mass_kg, contact_s, flight_s);
                assert!((dalleau / morin - 1.0).abs() < 1e-9, "{dalleau} {morin}");
            }
        }
    }
}

/// Mean force at top speed 2.08 BW and in one-leg hopping at its top speed
/// 2.71 BW: Weyand et al. 2010, J Appl Physiol 108:950–961. The catalogue's
/// flights, 0.117 and 0.27 s, are those forces turned round and rounded: hence
/// one part in a hundred.
#[test]
fn weyand_mean_forces_from_the_times_of_the_catalogue() {
    for (name, published) in [("Sprint strides at speed", 2.08), ("One-leg hops with a run-in", 2.71)] {
        let exercise = exercise(name);
        let set = Performed::usual(&exercise, 1, Side::Left);
        let contacts = repetition(&set).expect("sound");
        let push = contacts[1].push.expect("a flight follows");
        let force = push.mean_force_bw_per_leg;
        assert!((force / published - 1.0).abs() < 0.01, "{force} {published}");
    }
}

/// Hops from side to side: 0.76 BW·s over 0.45 s → 1.69 BW; fast lateral
/// steps, 0.23 s with 0.08 s of flight → 1.35 BW: Wong et al. 2012, Int J
/// Sports Med 33(8):647–653.
#[test]
fn wong_lateral_mean_forces() {
    let hops = exercise("Skater hops");
    let contacts = repetition(&Performed::usual(&hops, 1, Side::Left)).expect("sound");
    let push = contacts[0].push.expect("a flight follows");
    rounds_to(push.mean_force_bw_per_leg, 1.69, 2);
    rounds_to(mean_force_from_flights_bw(0.08, 0.08, 0.23), 1.35, 2);
}

/// A mean force is no impact peak: 5.8 BW from the times (computed) where the
/// step of the triple jump peaked at 15.2 BW: Perttunen et al. 2000, J Sports
/// Sci 18:363–370.
#[test]
fn peak_from_times_leaves_out_the_impact() {
    let estimate = peak_from_mean(mean_force_from_flights_bw(0.45, 0.40, 0.157));
    rounds_to(estimate, 5.8, 1);
    assert!(estimate < 15.2 / 2.0);
}

fn first<'a>(set: &Performed<'a>) -> ContactLoad<'a> {
    repetition(set).expect("sound")[0]
}

fn off_a_box(exercise: &Exercise, box_mm: u32) -> f64 {
    let mut set = Performed::usual(exercise, 1, Side::Both);
    set.box_mm = Some(box_mm);
    first(&set).landing.energy_j_per_kg_per_leg
}

/// Peak forces rose from depth drops of 60 to 90 cm (4.30, 5.39 BW) and from
/// depth jumps of 30 to 90 cm (2.78, 4.93 BW): Wallace et al. 2010, J Strength
/// Cond Res 24(1):207–212. The landings keep that order.
#[test]
fn wallace_order_of_boxes() {
    let drop = exercise("Drop landing, held");
    assert!(off_a_box(&drop, 600) < off_a_box(&drop, 900));
    let jump = exercise("Drop jump");
    assert!(off_a_box(&jump, 300) < off_a_box(&jump, 900));
}

/// One leg takes up what two share (a model of ours); all of a fall's energy
/// is gH (computed).
#[test]
fn one_leg_takes_up_what_two_share() {
    let fall = fall_speed(0.2);
    let one = Landing::of(fall, 0.0, 90.0, Legs::One).energy_j_per_kg_per_leg;
    let two = Landing::of(fall, 0.0, 90.0, Legs::Two).energy_j_per_kg_per_leg;
    rounds_to(one, 1.962, 9);
    rounds_to(two, 0.981, 9);
}

/// A longer approach is harder in every exercise that takes one (a model of
/// ours), in strides and in metres, as far as no cap of the exercise holds.
#[test]
fn a_longer_approach_is_harder() {
    for name in [
        "Bounds with a run-in",
        "One-leg hops with a run-in",
        "Long jump, short run-up",
        "Triple jump, short run-up",
        "Sprint strides at speed",
    ] {
        let exercise = exercise(name);
        let energies = |approaches: [Approach; 3]| {
            approaches.map(|approach| {
                let mut set = Performed::usual(&exercise, 1, Side::Left);
                set.approach = Some(approach);
                first(&set).landing.energy_j_per_kg_per_leg
            })
        };
        let strides = energies([4, 6, 8].map(Approach::Strides));
        let metres = energies([4_000, 8_000, 12_000].map(Approach::Millimetres));
        for of in [strides, metres] {
            assert!(of[0] < of[1] && of[1] < of[2], "{name}: {of:?}");
        }
    }
}

/// At one approach hops land harder and push harder than bounds: Mero & Komi
/// 1994, J Appl Biomech 10(1):1–13. Their "bounding" is the one near to
/// sprinting; their "stepping", bounds for distance, goes with hopping.
/// In the triple jump the hop's flight is longer than the step's (Hay & Miller
/// 1985, value from memory).
#[test]
fn hops_land_harder_than_bounds_at_one_approach() {
    let athlete = Athlete { top_speed_mm_s: Some(8_000), ..Athlete::default() };
    // The second contact: the first one follows the run-in in both. 6.4 m/s is
    // the 80 % of top speed at which speed bounds are done.
    let second = |name| {
        let exercise = exercise(name);
        let mut set = Performed::usual(&exercise, 1, Side::Left);
        set.athlete = athlete;
        set.approach = Some(Approach::TimedSpeed(6_400));
        let contact = repetition(&set).expect("sound")[1];
        let push = contact.push.expect("a flight follows");
        (contact.landing.closing_speed_m_s, push.mean_force_bw_per_leg)
    };
    let (hop, bound) = (second("One-leg hops with a run-in"), second("Speed bounds"));
    assert!(hop.0 > bound.0 && hop.1 > bound.1, "{hop:?} {bound:?}");

    // The step lands out of the hop, the jump out of the step.
    let triple = exercise("Triple jump, short run-up");
    let contacts = repetition(&Performed::usual(&triple, 1, Side::Left)).expect("sound");
    let energies = [1, 2].map(|place: usize| contacts[place].landing.energy_j_per_kg_per_leg);
    assert!(energies[0] > energies[1], "{energies:?}");
}

/// A timed drop jump in a set gives the numbers of the open record in
/// `force.rs` (computed). Its fall is known to the millimetre only.
#[test]
fn a_timed_drop_jump_uses_its_own_times() {
    let jump = catalogue::find(id::DROP_JUMP).expect("in the catalogue").exercise;
    let timed = [Timed { contact_us: Some(249_000), flight_us: Some(487_000), ..Timed::default() }];
    let mut set = Performed::usual(&jump, 1, Side::Both);
    set.box_mm = Some(335);
    set.timed = &timed;
    let contact = first(&set);
    let push = contact.push.expect("a flight follows");
    rounds_to(push.mean_force_bw_per_leg * 2.0, 3.0275, 3);
    rounds_to(push.peak_bw_estimate, 4.756, 2);
    rounds_to(contact.height_m().expect("level"), 0.2908, 4);
    rounds_to(contact.reactive_strength().expect("a rebound"), 1.168, 3);
    rounds_to(contact.flight_contact_ratio().expect("level"), 1.956, 3);
}

/// Session load = RPE × minutes: Foster 1998, Med Sci Sports Exerc
/// 30:1164–1168; Foster et al. 2001, J Strength Cond Res 15(1):109–115 (a
/// week's loads computed).
#[test]
fn foster_session_loads() {
    let week = [(7, 60), (0, 0), (6, 90), (5, 60), (0, 0), (8, 75), (4, 60)];
    let loads = week.map(|(rpe, minutes)| session_rpe(10 * rpe, minutes).expect("in range"));
    assert_eq!(loads, [420, 0, 540, 300, 0, 600, 240]);
    assert_eq!(loads.iter().sum::<u32>(), 2_100);
}

/// Speed from flight to flight of a triple jump: 8.5 % lost from the hop's to the step's, 15.1 % from that to the
/// jump's: Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237 (pages from memory); of the energy 96 % are kept
/// at the board. Of a timed run-in, from every run-up.
#[test]
fn fukashiro_speeds_between_flights() {
    for name in [
        "Triple jump from four strides",
        "Triple jump, short run-up",
        "Triple jump, middle run-up",
        "Triple jump, full run-up",
    ] {
        let exercise = exercise(name);
        let mut set = Performed::usual(&exercise, 1, Side::Left);
        set.last_10_m_ms = Some(1_100);
        let contacts = repetition(&set).expect("sound");
        let flights: Vec<f64> =
            contacts.iter().map(|contact| contact.speed_after_m_s().expect("a run-in")).collect();
        rounds_to(flights[1] / flights[0], 0.915, 6);
        rounds_to(flights[2] / flights[1], 0.849, 6);
        let [board, step, jump] = [0, 1, 2].map(|place: usize| contacts[place].inputs.speed_m_s.value);
        rounds_to(board, 10.0 / 1.1, 9);
        rounds_to((flights[0] / board).powi(2), 0.96, 2);
        // Each contact is reached at the speed of the flight before it.
        assert_eq!((step, jump), (flights[0], flights[1]));
    }
}

/// In a series with a run-in 4 % are lost in each contact, ours, no source; out of a stand speed is gained.
#[test]
fn speed_is_lost_after_a_run_in_and_gained_from_a_stand() {
    let speeds = |name| {
        let exercise = exercise(name);
        let contacts = repetition(&Performed::usual(&exercise, 1, Side::Left)).expect("sound");
        contacts.iter().map(|contact| contact.inputs.speed_m_s.value).collect::<Vec<_>>()
    };
    for name in ["Bounds with a run-in", "One-leg hops with a run-in", "Hop, step, step, jump with a run-in"]
    {
        for pair in speeds(name).windows(2) {
            rounds_to(pair[1] / pair[0], 0.96, 9);
        }
    }
    for name in ["Bounds from a stand", "One-leg hops from a stand", "Standing triple jump"] {
        let speeds = speeds(name);
        assert!(speeds[..3].is_sorted_by(|before, after| before < after), "{name}: {speeds:?}");
    }
}

/// Speeds in the run-in with the athlete's own stride: the rows of Samozino et al. 2016 (see above), 20 strides of
/// 1 m in the place of 20 m (computed).
#[test]
fn strides_are_metres_by_the_athlete() {
    let jump = exercise("Long jump, full run-up");
    let mut set = Performed::usual(&jump, 1, Side::Left);
    set.athlete = Athlete {
        top_speed_mm_s: Some(9_500),
        tau_ms: Some(1_200),
        stride_mm: Some(1_000),
        ..Athlete::default()
    };
    for (strides, speed) in [(10, 7.753), (20, 8.853), (30, 9.242)] {
        set.approach = Some(Approach::Strides(strides));
        rounds_to(first(&set).inputs.speed_m_s.value, speed, 3);
    }
}

/// A flight that ends higher or lower (computed, the row of `unequal_heights`): in a series, from ground to box and
/// back. What is jumped less the rise is what is fallen.
#[test]
fn a_series_over_uneven_ground() {
    let bounds = exercise("Bounds over low boxes, onto each");
    let contacts = repetition(&Performed::usual(&bounds, 1, Side::Left)).expect("sound");
    for (place, rise) in [(0, 0.2), (1, -0.2), (2, 0.2)] {
        let speeds = FlightSpeeds::over(0.34, rise);
        assert_eq!(contacts[place].up_m_s(), Some(speeds.up));
        assert_eq!(contacts[place + 1].down_m_s(), speeds.down);
    }
    // Landing on the box is softer than landing beside it.
    let energy = |place: usize| contacts[place].landing.energy_j_per_kg_per_leg;
    assert!(energy(1) < energy(2), "{} {}", energy(1), energy(2));
}

/// Added load, in system and body weights: 1 + L, whether said in grams or as a share (computed).
#[test]
fn added_load_in_system_and_body_weights() {
    let pogo = exercise("Pogo, two legs");
    let mut set = Performed::usual(&pogo, 1, Side::Both);
    let bare = first(&set);
    set.added_load_g = Some(20_000);
    let system = first(&set);
    set.athlete.mass_g = Some(80_000);
    let body = first(&set);
    let mean = |contact: &ContactLoad<'_>| contact.push.expect("a flight follows").mean_force_bw_per_leg;
    assert_eq!(mean(&system), mean(&bare));
    rounds_to(mean(&body) / mean(&system), 1.25, 9);
    rounds_to(body.landing.energy_j_per_kg_per_leg / system.landing.energy_j_per_kg_per_leg, 1.25, 9);
}
