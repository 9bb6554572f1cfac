//! What is told in metres, centimetres and kilograms is told in feet, inches and pounds where the
//! language tag says so, on every screen alike; and nothing that is stored knows of it.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use std::fmt::Debug;
use std::sync::Arc;

use meeting::{coach, env, meet, pair};
use pitside_book::exchange::Part;
use pitside_book::store::Filter;
use pitside_model::facts::{Card, Fact, Limit, SaidBy, Scope, Subject, kind};
use pitside_model::load::catalogue::id;
use pitside_screen::record::{
    AttemptForm, CompetitionForm, HeightForm, JumpsForm, PlanForm, PlanRowForm, SetForm, TestForm,
};
use pitside_screen::{Companion, Env, labels};
use tempfile::TempDir;

fn with_feet() -> Env {
    Env { language: "en-u-ms-ussystem".into(), ..env() }
}

/// What stands behind a number in what a record says: the units of lengths and masses.
fn units(record: &impl Debug) -> Vec<String> {
    let said = format!("{record:?}");
    let words: Vec<&str> = said.split([' ', '\u{a0}', '\u{202f}']).collect();
    let unit = |pair: &[&str]| {
        let [number, unit] = pair else { return None };
        let unit = unit.split(|c: char| !c.is_alphabetic() && c != '/').next().unwrap_or_default();
        let number = number.trim_start_matches(|c: char| !c.is_ascii_digit());
        let is_number = number.chars().next().is_some_and(|c| c.is_ascii_digit());
        (is_number && ["m", "cm", "kg", "ft", "in", "lb"].contains(&unit)).then(|| unit.to_owned())
    };
    let mut found: Vec<String> = words.windows(2).filter_map(unit).collect();
    found.sort();
    found.dedup();
    found
}

/// A record is told in `metric` units, and in the `customary` ones where the tag says so.
fn both<R: Debug>(tell: impl Fn(&Env) -> R, metric: &[&str], customary: &[&str]) {
    let (one, other) = (tell(&env()), tell(&with_feet()));
    assert_eq!(units(&one), metric, "{one:?}");
    assert_eq!(units(&other), customary, "{other:?}");
}

#[test]
fn what_a_coach_reads_of_an_athlete() {
    let folder = TempDir::new().unwrap();
    let (book, coach, member) = coach(&folder);
    let who = member.to_string();
    for card in [Card::MassG(60_000), Card::StrideMm(2_150)] {
        book.revise(Scope::Member(member), Subject::Uuid(member.0), Fact::Card(card), env().stamp()).unwrap();
    }
    let day = |back: i32| env().today().plus(-back).to_string();
    for (cm, back) in [("164", 90), ("167.5", 0)] {
        coach
            .save_height(&env(), &HeightForm { member: who.clone(), cm: cm.into(), day: day(back) })
            .unwrap();
    }
    for (test, value) in [("squat", "92.5"), ("standing-long-jump", "245")] {
        let form =
            TestForm { member: who.clone(), test: test.into(), value: value.into(), ..TestForm::default() };
        coach.save_test(&env(), &form).unwrap();
    }
    both(|env| coach.athlete(env, &who, "").unwrap().card, &["kg", "m"], &["ft", "in", "lb"]);
    both(|env| coach.body(env, &who).unwrap().heights, &["cm"], &["ft", "in"]);
    both(|env| coach.body(env, &who).unwrap().tests, &["cm", "kg"], &["ft", "in", "lb"]);
    both(|env| coach.body(env, &who).unwrap().growth, &["cm"], &["in"]);
    both(|env| coach.body(env, &who).unwrap().today_against, &["cm"], &["in"]);
    let told = coach.body(&with_feet(), &who).unwrap();
    assert!(told.heights.iter().any(|row| row.text.starts_with("5 ft 5.9 in tall")), "{:?}", told.heights);
    let said = |wanted: &str| told.tests.iter().any(|row| row.text.contains(wanted));
    assert!(said("203.9 lb") && said("8 ft 0.5 in"), "{:?}", told.tests);
}

#[test]
fn attempts_and_what_they_say_together() {
    let folder = TempDir::new().unwrap();
    let (book, coach, member) = coach(&folder);
    let form = CompetitionForm {
        member: member.to_string(),
        event: "triple-jump".into(),
        day: "2026-11-21".into(),
        competition: true,
        pit: "11".into(),
        ..CompetitionForm::default()
    };
    for (n, (distance, toe)) in
        [("14.00", "-5"), ("13.80", "-7.5"), ("14.05", "-2"), ("13.95", "-4")].iter().enumerate()
    {
        let row = AttemptForm {
            attempt: (n + 1).to_string(),
            distance: (*distance).into(),
            toe: (*toe).into(),
            start: "34.15".into(),
            run_up: "34.5 m".into(),
            hop: "5.15".into(),
            step: "4.1".into(),
            ..AttemptForm::default()
        };
        assert_eq!(coach.save_attempt(&env(), &form, &row, "").unwrap().troubles, []);
    }
    let jumps = |env: &Env| coach.jumps(env, &member.to_string(), &JumpsForm::default()).unwrap();
    both(|env| jumps(env).days, &["cm", "m"], &["ft", "in"]);
    both(|env| jumps(env).groups, &["cm", "m"], &["ft", "in"]);
    let group = jumps(&with_feet()).groups.remove(0);
    assert!(group.title.ends_with("run-up of 113 ft 2.25 in"), "{group:?}");
    assert_eq!(group.distances[0], "Best: 46 ft 1 in, Sat 21 Nov 2026.", "553.15 in");
    let held = book.held(&Filter { kind: Some(kind::JUMP), ..Filter::default() }).unwrap();
    let starts: Vec<_> = held
        .iter()
        .filter_map(|held| match held.fact() {
            Some(Fact::Jump(jump)) => jump.start_mm,
            _ => None,
        })
        .collect();
    assert_eq!(starts, [34_150; 4]);
}

#[test]
fn what_an_athlete_reads_and_fills_in_on_a_phone() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (desk, book, member) = pair(&folders);
    let coach = Companion::over(Arc::clone(&desk));
    let row = |exercise: uuid::Uuid| PlanRowForm {
        exercise: exercise.to_string(),
        sets: 1,
        reps: 4,
        ..PlanRowForm::default()
    };
    let plan = PlanForm {
        members: vec![member.to_string()],
        purpose: "short contacts".into(),
        rows: vec![
            PlanRowForm { box_mm: Some(300), load_g: Some(5_000), ..row(id::DROP_JUMP) },
            PlanRowForm { run_mm: Some(12_500), leg: "left".into(), ..row(id::BOUNDS_RUN_IN) },
        ],
        ..PlanForm::default()
    };
    coach.save_plan(&env(), &plan).unwrap();
    let limit = Limit {
        from: env().today(),
        until: None,
        no_one_leg: None,
        no_approach: false,
        max_box_mm: Some(450),
        said_by: SaidBy::Coach,
        note: None,
    };
    desk.write(Scope::Member(member), &pitside_book::store::Draft::new(Fact::Limit(limit)), env().stamp())
        .unwrap();
    meet(&book, Part::Caller, &desk);
    let phone = Companion::over(Arc::clone(&book));
    both(|env| phone.today(env).unwrap().plans, &["cm", "kg", "m"], &["ft", "in", "lb"]);
    both(|env| phone.today(env).unwrap().limits, &["cm"], &["in"]);
    both(|env| phone.own_course(env, "").unwrap().limits, &["cm"], &["in"]);
    both(|env| labels(env).boxes, &["cm"], &["in"]);

    // Each height that can be chosen is read as it was chosen, once it is written down.
    for env in [env(), with_feet()] {
        for height in labels(&env).boxes {
            let form = SetForm {
                exercise: id::DROP_JUMP.to_string(),
                sets: 1,
                reps: 5,
                box_mm: height.id.parse().ok(),
                load_g: Some(4_536),
                ..SetForm::default()
            };
            phone.keep_set(&form).unwrap();
            let screen = phone.log_set(&env).unwrap();
            assert_eq!(screen.r#box, height.text);
            both(|env| phone.log_set(env).unwrap().load, &["kg"], &["lb"]);
            phone.log_today(&env, "", &form).unwrap();
            let session = phone.today(&env).unwrap().sessions.remove(0).id;
            let sets = phone.session_log(&env, &session).unwrap().sets;
            let boxed = format!("box {}", height.text);
            assert!(sets.iter().any(|set| set.text.contains(&boxed)), "{boxed}: {:?}", sets.last());
            let written = book.held(&Filter { kind: Some(kind::SET), ..Filter::default() }).unwrap();
            let kept = |fact: Option<&Fact>| matches!(fact, Some(Fact::Set(set)) if set.box_mm.map(|mm| mm.to_string()) == Some(height.id.clone()));
            assert!(written.iter().any(|held| kept(held.fact())));
        }
    }
}

#[test]
fn an_exercise_and_its_formula() {
    let folder = TempDir::new().unwrap();
    let (_, coach, _) = coach(&folder);
    let page = |env: &Env, exercise: uuid::Uuid| coach.exercise(env, &exercise.to_string()).unwrap();
    both(|env| page(env, id::DROP_JUMP).card, &["cm"], &["in"]);
    // What is computed with stays in its SI units.
    both(|env| page(env, id::DROP_JUMP).contacts, &["m"], &["m"]);
}
