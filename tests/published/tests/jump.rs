//! Jumps against rules, published shares and tables of statistics.
//!
//! Rules: World Athletics technical rules for the horizontal jumps.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use pitside_model::facts::{Day, Jump, JumpEvent, Outcome, Phases, Wind};
use pitside_model::jump::board::{Toes, quantile_factor};
use pitside_model::jump::distance::{effective, official_mm, parse_metres};
use pitside_model::jump::mean::mean;
use pitside_model::jump::phase::{Class, Phase, Shares, Whole, class_of_shares};
use pitside_model::jump::wind::{ForRecords, for_records, reading_tenths};
use published::draws::Draws;

fn jump(event: JumpEvent, mm: u32) -> Jump {
    Jump {
        day: Day::parse("2026-06-13").unwrap(),
        event,
        indoor: false,
        competition: true,
        place: None,
        attempt: None,
        outcome: Outcome::Measured(mm),
        toe_mm: None,
        wind: None,
        wind_rule: None,
        approach: None,
        start_mm: None,
        pit_mm: None,
        board: None,
        phases: Phases::default(),
        take: None,
    }
}

/// Source: the rules: to the 0.01 m below. As binary fractions 7.29 and 8.95 lie below
/// themselves, and a floor of them would lose a centimetre.
#[test]
fn a_distance_is_the_hundredth_below() {
    for (tape, official) in [
        ("7.899", 7_890),
        ("7.90", 7_900),
        ("7.29", 7_290),
        ("8.95", 8_950),
        ("7.290", 7_290),
        ("18.29", 18_290),
    ] {
        assert_eq!(official_mm(parse_metres(tape).unwrap()), official, "{tape}");
    }
    for cm in 50..2_000_u32 {
        let tape = format!("{}.{:02}", cm / 100, cm % 100);
        assert_eq!(official_mm(parse_metres(&tape).unwrap()), cm * 10, "{tape}");
    }
}

/// Source: the rules: up to +2.0 m/s a record, 2.1 not; none is measured indoors. The
/// rounding toward the positive (2.03 → 2.1, −2.03 → −2.0) is a value from memory.
#[test]
fn wind_for_records() {
    assert_eq!((reading_tenths(2_030), reading_tenths(-2_030)), (21, -20));
    let with = |mm_s| for_records(&Jump { wind: Some(Wind::Gauge(mm_s)), ..jump(JumpEvent::Long, 6_420) });
    assert_eq!(with(2_000), ForRecords::Allowed);
    assert_eq!(with(2_100), ForRecords::TooStrong);
    assert_eq!(with(2_030), ForRecords::TooStrong);
    assert_eq!(with(-2_030), ForRecords::Allowed);
}

/// Source: shares of 10 women, Panoutsakopoulos & Kollias 2008, New Studies in Athletics
/// 23(4):53–61; of a simulation, Allen, King & Yeadon, which add up to 100.1; classes Hay
/// 1992, J Sports Sci 10:343–378 (value from memory).
#[test]
fn printed_shares_have_their_class() {
    assert_eq!(class_of_shares([365, 293, 342]), Ok(Class::HopDominated));
    assert_eq!(class_of_shares([336, 317, 348]), Ok(Class::Balanced));
}

/// Source: 6.05 + 5.22 + 7.02 m (value from memory); the shares are computed from them.
#[test]
fn phases_of_18_29_m() {
    let phases = Phases { hop_mm: Some(6_050), step_mm: Some(5_220), jump_mm: Some(7_020) };
    let jump = Jump { phases, toe_mm: Some(0), ..jump(JumpEvent::Triple, 18_290) };
    let shares = Shares::of(&jump).unwrap();
    assert_eq!(shares.hundredths(), [3_308, 2_854, 3_838]);
    assert_eq!((shares.class(), shares.whole), (Class::JumpDominated, Whole::Effective));
    // Any one of them follows from the others and the distance.
    let without = Phases { step_mm: None, ..phases };
    let completed = Shares::of(&Jump { phases: without, ..jump.clone() }).unwrap();
    assert_eq!((completed.phases_mm, completed.completed), (shares.phases_mm, Some(Phase::Step)));
    // Of the effective distance: 10 cm behind the line it is 18.39 m, of which the phases
    // have to tell too.
    let behind = Jump { toe_mm: Some(-100), ..jump };
    assert_eq!(effective(&behind).map(|e| e.effective_mm), Some(18_390));
    assert!(Shares::of(&behind).is_err());
}

/// Source: the loads of Foster 1998, Med Sci Sports Exerc 30:1164–1168, as numbers whose
/// sample standard deviation is 240; t(97.5 %, 6) = 2.447, any table of Student's t (value
/// from memory).
#[test]
fn a_mean_with_students_interval() {
    let found = mean(&[420, 0, 540, 300, 0, 600, 240]).unwrap();
    let spread = found.spread.unwrap();
    assert_eq!((found.mm, spread.sd_mm), (300.0, 240.0));
    assert!((spread.half_width_95_mm * 7_f64.sqrt() / 240.0 - 2.447).abs() < 5e-4);
}

/// Toes with a mean of 0 and a sample standard deviation of 10⁶ mm, so that a millimetre
/// is the sixth digit: pairs about the middle.
fn standard_toes(count: usize) -> Toes {
    let pairs = i32::try_from(count / 2).unwrap();
    // n/2 pairs ±x: s² = n·x²/(n − 1).
    let x = (1e12 * (count - 1) as f64 / count as f64).sqrt().round() as i32;
    let mut toes_mm: Vec<i32> = (0..pairs).flat_map(|_| [x, -x]).collect();
    toes_mm.resize(count, 0);
    Toes { toes_mm, ..Toes::default() }
}

/// Source: factors of one-sided normal tolerance bounds, from the noncentral t: Natrella
/// 1963, NBS Handbook 91, table A-7, and for n = 43 the example of the NIST/SEMATECH
/// e-Handbook of Statistical Methods, 7.2.6.3 (values from memory).
#[test]
fn the_shifts_interval_is_made_of_the_tolerance_factors() {
    for (count, above, confidence, k) in [
        (5, 0.10, 0.95, 3.407),
        (10, 0.10, 0.95, 2.355),
        (20, 0.10, 0.95, 1.926),
        (5, 0.05, 0.95, 4.203),
        (10, 0.05, 0.95, 2.911),
        (20, 0.05, 0.95, 2.396),
        (43, 0.10, 0.99, 1.8752),
    ] {
        let found = quantile_factor(count, above, confidence);
        assert!((found - k).abs() < 1.5e-3, "{count} {above} {confidence}: {found}");
    }
    let (low, high) = standard_toes(10).shift(0.1).unwrap().back_95_mm;
    assert!((low / 1e6 - quantile_factor(10, 0.1, 0.025)).abs() < 1e-5);
    assert!((high / 1e6 - quantile_factor(10, 0.1, 0.975)).abs() < 1e-5);
}

/// Source: the definition. Of drawn squads of toes whose true spread is known, the
/// interval holds the true shift in 95 of 100 at any number of toes, and the shifted next
/// toe is over the line as often as was said to be expected.
#[test]
fn the_shifts_interval_covers_as_it_says() {
    let (bias, sd) = (-62_000.0, 48_000.0);
    let z = 1.281_551_565_544_600_4;
    let truth = bias + z * sd;
    let mut draws = Draws::new(7);
    for count in [3, 6, 15] {
        let rounds = 400;
        let (mut held, mut over, mut expected) = (0, 0, 0.0);
        for _ in 0..rounds {
            let toes_mm: Vec<i32> = (0..count).map(|_| (bias + sd * draws.normal()).round() as i32).collect();
            let shift = Toes { toes_mm, ..Toes::default() }.shift(0.1).unwrap();
            held += i32::from((shift.back_95_mm.0..=shift.back_95_mm.1).contains(&truth));
            over += i32::from(bias + sd * draws.normal() - shift.back_mm > 0.0);
            expected = shift.next_foul_share;
        }
        // Within four standard errors.
        let near = |seen: i32, share: f64| {
            let error = (share * (1.0 - share) / f64::from(rounds)).sqrt();
            (f64::from(seen) / f64::from(rounds) - share).abs() < 4.0 * error
        };
        assert!(near(held, 0.95), "{count}: {held}");
        assert!(near(over, expected), "{count}: {over} {expected}");
    }
}

/// Source: the rule that is picked: aim z·sd behind the line. For one foul in ten z is
/// 1.2816 (any table of the normal distribution; value from memory).
#[test]
fn one_foul_in_ten_is_1_28_standard_deviations() {
    let shift = standard_toes(10).shift(0.1).unwrap();
    assert!((shift.aim_mm / 1e6 - 1.2816).abs() < 5e-5);
    assert!((shift.back_mm - shift.aim_mm).abs() < 1.0);
}
