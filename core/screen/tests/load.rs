//! What the athlete's page tells of load: weeks, rules, details, other training.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use meeting::{DAY_MS, NOON, at, coach, env};
use pitside_book::store::{Book, Draft};
use pitside_model::facts::{Card, Day, Fact, HopPattern, MemberId, Rule, RuleName, Scope, Side, Subject};
use pitside_model::load::catalogue::id;
use pitside_screen::record::{Athlete, OtherForm, SetForm};
use pitside_screen::{Companion, Effort, SessionForm};
use tempfile::TempDir;

/// Wednesday, as the screens say it; the week began two days before.
fn day(back: i64) -> String {
    Day::of_stamp(NOON - back * DAY_MS, 0).to_string()
}

/// A rated session of one set.
fn train(companion: &Companion, member: MemberId, back: i64, reps: u16, warm_up: bool) {
    let form = SessionForm { day: day(back), ..SessionForm::default() };
    let session = companion.begin_session(&env(), &member.to_string(), &form).unwrap();
    let set =
        SetForm { exercise: id::BOUNDS_STANDING.to_string(), sets: 1, reps, warm_up, ..SetForm::default() };
    companion.save_sets(&env(), &session, &set).unwrap();
    companion.set_effort(&env(), &session, &Effort { rpe_tenths: 50, minutes: 60 }).unwrap();
}

/// Bounds on a Monday of nine weeks, all days known.
fn nine_weeks(companion: &Companion, member: MemberId) {
    for week in 0..9 {
        train(companion, member, 2 + 7 * week, 5, false);
    }
    companion.complete_up_to(&env(), &member.to_string(), "").unwrap();
}

fn athlete(companion: &Companion, member: MemberId) -> Athlete {
    companion.athlete(&env(), &member.to_string(), "").unwrap()
}

fn value(athlete: &Athlete, id: &str) -> String {
    let detail = athlete.details.iter().find(|detail| detail.id == id);
    detail.map_or_else(|| panic!("no {id}"), |detail| detail.value.clone())
}

#[test]
fn figures_stand_where_the_days_are_known_and_say_why_they_do_not() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    nine_weeks(&companion, member);
    for card in [Card::TakeOffLeg(Side::Left), Card::HopPattern(HopPattern::LeftLeftRight)] {
        book.revise(Scope::Member(member), Subject::Uuid(member.0), Fact::Card(card), env().stamp()).unwrap();
    }
    let seen = athlete(&companion, member);
    // One session of 300 in seven days: mean 42.857, sample deviation 113.389.
    assert_eq!(value(&seen, "monotony"), "0.38");
    assert_eq!(value(&seen, "strain"), "113");
    assert!(value(&seen, "ratio").contains("of sums 1.00"), "{}", value(&seen, "ratio"));
    let ratio = seen.details.iter().find(|detail| detail.id == "ratio").unwrap();
    assert!(ratio.note.contains("10.1007/s40279-020-01378-6"));
    assert!(value(&seen, "smoothness").starts_with("8 weeks: third differences of 0"));
    let even = value(&seen, "legs-horizontal-series");
    let (left, right) = even.trim_start_matches("left ").split_once(", right ").unwrap();
    assert_eq!(left, right, "five repetitions of as many contacts begun in turn");
    let all: Vec<&str> = seen.details.iter().map(|detail| detail.spoken.as_str()).collect();
    assert!(!all.concat().to_lowercase().contains("safe"));
    assert!(seen.notices.is_empty(), "{:?}", seen.notices);
    // A day later nothing is known of the day between: figures say so.
    let later = companion.athlete(&at(NOON + 2 * DAY_MS), &member.to_string(), "").unwrap();
    assert_eq!(value(&later, "monotony"), "Incomplete: 1 of 7 days are unknown or not rated");
}

#[test]
fn before_a_month_is_known_there_is_no_ratio() {
    let folder = TempDir::new().unwrap();
    let (_book, companion, member) = coach(&folder);
    train(&companion, member, 9, 5, false);
    companion.complete_up_to(&env(), &member.to_string(), "").unwrap();
    let seen = athlete(&companion, member);
    assert_eq!(value(&seen, "ratio"), "Not enough days yet: 10 of 28 known in a row");
}

fn squad_rule(book: &Book, name: RuleName, off: bool, line: Option<u32>) {
    let rule = Rule { name, off, line, until: None, reason: "a camp was planned".into() };
    let squad = Subject::Fact(pitside_model::facts::Hash(book.squad().unwrap().0));
    book.write(Scope::Squad, &Draft::about(squad, Fact::Rule(rule)), env().stamp()).unwrap();
}

#[test]
fn a_rise_is_told_with_its_line_and_who_drew_it() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    nine_weeks(&companion, member);
    train(&companion, member, 1, 5, false);
    let rise = |athlete: &Athlete| {
        let of = |notice: &&pitside_screen::record::Notice| {
            notice.saw.contains("on average in the 4 complete weeks")
        };
        athlete
            .notices
            .iter()
            .filter(of)
            .map(|notice| (notice.rule.clone(), notice.source.clone()))
            .collect::<Vec<_>>()
    };
    let product = rise(&athlete(&companion, member));
    assert_eq!(product.len(), 2, "contacts and load");
    assert!(product[0].0.contains("from 125 %") && product[0].1.contains("no source"), "{product:?}");
    squad_rule(&book, RuleName::WeekLoad, true, None);
    squad_rule(&book, RuleName::WeekContacts, false, Some(150));
    let squad = rise(&athlete(&companion, member));
    assert_eq!(squad.len(), 1);
    assert!(squad[0].0.contains("from 150 %"), "{squad:?}");
    assert_eq!(squad[0].1, "A line of the squad: a camp was planned.");
    // A drill of the warm-up adds to neither.
    let before = athlete(&companion, member).rows;
    train(&companion, member, 0, 30, true);
    let contacts = |rows: &[pitside_screen::record::WeekRow]| rows[0].weeks.last().unwrap().text.clone();
    assert_eq!(contacts(&athlete(&companion, member).rows), contacts(&before));
    let session = athlete(&companion, member).sessions[0].id.clone();
    let session = companion.session(&env(), &session).unwrap();
    assert_eq!((session.totals[0].contacts.as_str(), session.totals[0].warm_up.is_empty()), ("0", false));
}

#[test]
fn other_training_counts_with_the_sessions() {
    let folder = TempDir::new().unwrap();
    let (_book, companion, member) = coach(&folder);
    nine_weeks(&companion, member);
    let form = OtherForm {
        work: "strength".into(),
        rpe_tenths: Some(60),
        minutes: Some(50),
        note: "squats".into(),
        ..OtherForm::default()
    };
    companion.log_other(&env(), &member.to_string(), &form).unwrap();
    let seen = athlete(&companion, member);
    assert_eq!(seen.other, ["Wed 25 Nov, strength, RPE 6 × 50 min, squats"]);
    let load = seen.rows.iter().find(|row| row.id == "session-rpe").unwrap();
    assert_eq!(load.weeks.last().unwrap().text, "600");
    let half = OtherForm { minutes: None, ..form };
    assert!(companion.log_other(&env(), &member.to_string(), &half).is_err());
}
