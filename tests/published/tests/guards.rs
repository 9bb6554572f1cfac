//! The lines of the guards against the publications they name. What is marked "value from
//! memory" was not read again; the product says so beside the line too.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use pitside_model::facts::{
    Advice, BodyPart, CheckIn, Day, Hurt, Level, RuleName, Side, Sign, Test, TestResult,
};
use pitside_model::load::catalogue::{self, id};
use pitside_model::load::guard::{Grade, MayDo, Offer, Said, Status, What, against, pain};
use pitside_model::load::rule::{Basis, definition};

fn today() -> Day {
    Day::parse("2026-11-26").unwrap()
}

/// What is said of so many repetitions of an exercise.
fn said(status: &Status, exercise: uuid::Uuid, reps: u16, box_mm: Option<u32>) -> Vec<What> {
    let item = catalogue::find(exercise).unwrap();
    let offer = Offer { reps, box_mm, ..Offer::usual(item.id, &item.exercise) };
    against(status, &offer).iter().map(|said: &Said<'_>| said.what).collect()
}

fn adult() -> Status {
    Status { age: Some(24), ..Status::unknown(today()) }
}

/// Potach & Chu, in: Essentials of Strength Training and Conditioning (NSCA), contacts of a
/// session: beginner 80–100, intermediate 100–120, advanced 120–140. Value from memory.
#[test]
fn contacts_of_a_session_end_where_the_handbook_ends() {
    for (level, name, most) in [
        (Level::Beginner, RuleName::SessionBeginner, 100),
        (Level::Intermediate, RuleName::SessionIntermediate, 120),
        (Level::Advanced, RuleName::SessionAdvanced, 140),
    ] {
        assert_eq!((definition(name).line, definition(name).basis), (u32::from(most), Basis::FromMemory));
        let status = Status { level: Some(level), ..adult() };
        assert_eq!(said(&status, id::POGO, most, None), []);
        assert_eq!(said(&status, id::POGO, most + 1, None), [What::SessionContacts]);
    }
}

/// Handbooks, before depth work: squat of 1.5 times body weight, five squats with 60 % of
/// it within 5 s, 30 s on one leg; over 100 kg no depth jump above 46 cm. Values from memory.
#[test]
fn what_stands_before_depth_work_is_what_the_handbooks_name() {
    for (name, line) in [
        (RuleName::Squat, 150),
        (RuleName::FiveSquats, 5_000),
        (RuleName::OneLegStand, 30_000),
        (RuleName::HeavyMass, 100_000),
        (RuleName::HeavyBox, 460),
    ] {
        assert_eq!((definition(name).line, definition(name).basis), (line, Basis::FromMemory), "{name:?}");
        assert!(definition(name).source.contains("from memory"), "{name:?}");
    }
    let result = |test, value, side| TestResult { day: today(), test, value, side, note: None };
    let passed = |mass_g: u32| Status {
        mass_g: Some(mass_g),
        tests: vec![
            result(Test::Squat, mass_g / 2 * 3, None),
            result(Test::FiveSquats, 5_000, None),
            result(Test::OneLegStand, 30_000, Some(Side::Left)),
            result(Test::OneLegStand, 30_000, Some(Side::Right)),
        ],
        falls_mm: [(id::DROP_JUMP, 1_000)].into(),
        ..adult()
    };
    assert_eq!(said(&passed(80_000), id::DROP_JUMP, 1, Some(1_000)), []);
    assert_eq!(said(&passed(100_000), id::DROP_JUMP, 1, Some(1_000)), []);
    assert_eq!(said(&passed(104_000), id::DROP_JUMP, 1, Some(460)), []);
    assert_eq!(said(&passed(104_000), id::DROP_JUMP, 1, Some(470)), [What::HeavyBox]);
    let untested = Status { tests: vec![], ..passed(80_000) };
    assert_eq!(said(&untested, id::DROP_JUMP, 1, Some(1_000)).len(), 3);
    assert_eq!(said(&untested, id::POGO, 20, None), [], "low rebounds are gated by none of it");
}

/// Johnson, Salzberg & Stevenson 2011, J Strength Cond Res 25(9):2623–2633 (ages 5–14; seven
/// studies of low quality): twice a week, on days that do not follow each other, 50–60 jumps
/// a session to begin with, with consent. Progress by competency and not by age: Lloyd,
/// Meyers & Oliver 2011; Lloyd et al. 2016.
#[test]
fn the_young_have_two_days_sixty_contacts_and_consent() {
    for name in [RuleName::YoungDays, RuleName::YoungContacts] {
        assert_eq!(definition(name).basis, Basis::Published);
        assert!(definition(name).source.contains("2623–2633"));
    }
    assert!(definition(RuleName::GuardianConsent).source.contains("2623–2633"));
    let young = |days: &[i32]| Status {
        age: Some(13),
        plyometric_days: days.iter().map(|n| today().plus(*n)).collect(),
        ..Status::unknown(today())
    };
    let of = |status: &Status, reps| {
        let mut whats = said(status, id::POGO, reps, None);
        assert_eq!(whats.remove(0), What::GuardianConsent, "with consent");
        whats
    };
    assert_eq!(of(&young(&[-2]), 60), []);
    assert_eq!(of(&young(&[-2]), 61), [What::YoungContacts { held: false }]);
    assert_eq!(of(&young(&[-1]), 60), [What::YoungInARow { held: false }]);
    assert_eq!(of(&young(&[-2, -4]), 60), [What::YoungDays { held: false }]);
    assert_eq!(of(&Status { age: None, ..young(&[-2, -4]) }, 60).len(), 1, "of unknown age");
}

/// Silbernagel et al. 2007, Am J Sports Med 35(6):897–906: pain up to 5 of 10 may be allowed
/// in the treatment of a sore Achilles tendon; it settles by the next morning and does not
/// rise from week to week (wording from memory). Here only as a clinician advised it.
#[test]
fn pain_up_to_five_of_ten_goes_on_only_as_advised_and_never_rising() {
    assert_eq!(pain::PAIN_LINE, 5);
    assert!(pain::PAIN_SOURCE.contains("897–906") && pain::PAIN_SOURCE.contains("from memory"));
    let hurts = |n: i32, score| CheckIn {
        day: today().plus(n),
        hurts: vec![Hurt { part: BodyPart::Achilles, side: Some(Side::Left), score }],
        sleep_min: None,
        signs: [].into(),
    };
    let advice = Advice {
        from: today().plus(-30),
        until: today().plus(30),
        part: BodyPart::Achilles,
        side: Some(Side::Left),
        up_to: 5,
        note: "as told by a physiotherapist".into(),
    };
    let grades = |age, check_ins: Vec<CheckIn>, advice: &[Advice]| -> Vec<(Grade, MayDo)> {
        let status = Status { age, check_ins, advice: advice.to_vec(), ..adult() };
        pain::of(&status).iter().map(|said| (said.grade, said.may_do())).collect()
    };
    let advised = [advice];
    let go_on = [(Grade::Caution, MayDo::AsAdvised)];
    let end = [(Grade::Ask, MayDo::OfferToEnd)];
    let stop = [(Grade::Stop, MayDo::StopAndRefer)];
    assert_eq!(grades(Some(24), vec![hurts(0, 5)], &advised), go_on);
    assert_eq!(grades(Some(24), vec![hurts(0, 5)], &[]), end, "nobody advised it");
    assert_eq!(grades(Some(24), vec![hurts(0, 6)], &advised), stop);
    assert_eq!(grades(Some(24), vec![hurts(-7, 2), hurts(0, 3)], &advised), stop, "it rises");
    assert_eq!(grades(Some(17), vec![hurts(0, 1)], &advised), end, "never under 18");
    let signs = |sign| CheckIn { signs: [sign].into(), ..hurts(0, 1) };
    for sign in Sign::ALL {
        assert_eq!(grades(Some(24), vec![signs(*sign)], &advised)[0], stop[0], "{sign:?} at any score");
    }
}
