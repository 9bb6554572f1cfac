//! The screens over real books.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use std::sync::Arc;

use meeting::{NOON, book, coach, env};
use pitside_book::clock::Stamp;
use pitside_book::store::Draft;
use pitside_model::facts::{
    BodyPart, Card, CheckIn, Fact, Hurt, Limit, MemberId, RestDay, SaidBy, Scope, Side, Subject,
};
use pitside_model::load::catalogue::id;
use pitside_screen::record::SetForm;
use pitside_screen::{Companion, Effort, ScreenError, SessionForm};
use tempfile::TempDir;

fn form(exercise: uuid::Uuid, reps: u16, leg: &str) -> SetForm {
    SetForm { exercise: exercise.to_string(), sets: 1, reps, leg: leg.into(), ..SetForm::default() }
}

fn log(companion: &Companion, member: MemberId, day: &str, set: &SetForm) -> String {
    let form = SessionForm { day: day.into(), purpose: "rebounds".into(), ..SessionForm::default() };
    let session = companion.begin_session(&env(), &member.to_string(), &form).unwrap();
    companion.save_sets(&env(), &session, set).unwrap();
    session
}

#[test]
fn the_board_counts_by_kind_and_says_what_is_unknown() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let session = log(&companion, member, "2026-11-24", &form(id::POGO, 10, "both"));
    companion.set_effort(&env(), &session, &Effort { rpe_tenths: 60, minutes: 70 }).unwrap();
    let board = companion.squad(&env()).unwrap();
    assert_eq!((board.title.as_str(), board.athletes.len()), ("Quay jumps", 1));
    let row = &board.athletes[0];
    assert_eq!(row.name, "Ino");
    assert_eq!(row.last_session.as_ref().unwrap().text, "yesterday: rebounds");
    let this_week = row.rows[0].weeks.last().unwrap();
    assert_eq!(row.rows[0].label, "vertical rebounds");
    // Monday and today are unknown: unknown is not zero.
    assert!(this_week.incomplete && this_week.spoken.contains("incomplete, 2 days unknown"), "{this_week:?}");
    assert!(row.rows.iter().any(|r| r.label.starts_with("session-RPE") && r.weeks[4].text == "420"));
    companion.rest_day(&env(), &member.to_string(), "2026-11-23").unwrap();
    companion.complete_up_to(&env(), &member.to_string(), "").unwrap();
    let board = companion.squad(&env()).unwrap();
    assert!(!board.athletes[0].rows[0].weeks[4].incomplete);
    assert!(!board.athletes[0].spoken.is_empty());
}

#[test]
fn a_session_says_its_landing_its_push_and_where_they_come_from() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let set = SetForm { box_mm: Some(400), ..form(id::DROP_JUMP, 6, "both") };
    let session = log(&companion, member, "", &set);
    let screen = companion.session(&env(), &session).unwrap();
    assert_eq!(screen.sets.len(), 1);
    let row = &screen.sets[0];
    assert!(row.text.contains("box 40 cm"), "{}", row.text);
    // √(2·9.81·0.4) = 2.801 m/s, and half of v²/2 for each of two legs (science: fall from H).
    assert!(row.landing.starts_with("landing 2.8 m/s along the leg, 2.0 J/kg"), "{}", row.landing);
    assert!(row.source.contains("model of ours"), "{}", row.source);
    assert_eq!(screen.totals.len(), 2, "the rebound and the held landing are two kinds");
    assert_eq!(screen.cautions.len(), 1);
}

#[test]
fn a_rise_is_a_notice_only_on_complete_weeks() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let who = member.to_string();
    for day in ["2026-11-03", "2026-11-10", "2026-11-17"] {
        log(&companion, member, day, &form(id::POGO, 20, "both"));
    }
    log(&companion, member, "2026-11-23", &form(id::POGO, 60, "both"));
    let notices = || companion.squad(&env()).unwrap().notices;
    assert!(notices().is_empty(), "days are unknown, so nothing is judged");
    companion.complete_up_to(&env(), &who, "").unwrap();
    let seen = notices();
    assert_eq!(seen.len(), 1);
    assert_eq!(
        seen[0].saw,
        "vertical rebounds: 60 contacts this week, 20 on average in the 3 complete weeks before."
    );
    assert!(!seen[0].source.is_empty() && !seen[0].may_do.is_empty());
}

#[test]
fn what_a_limit_rules_out_is_a_notice() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let limit = Limit {
        from: env().today().plus(-10),
        until: None,
        no_one_leg: Some(Side::Left),
        no_approach: false,
        max_box_mm: Some(300),
        said_by: SaidBy::Clinician,
        note: None,
    };
    book.write(Scope::Member(member), &Draft::new(Fact::Limit(limit)), env().stamp()).unwrap();
    log(&companion, member, "2026-11-24", &form(id::POGO_ONE_LEG, 10, "right"));
    assert!(companion.squad(&env()).unwrap().notices.is_empty(), "the right leg is free");
    log(&companion, member, "2026-11-24", &form(id::POGO_ONE_LEG, 10, "left"));
    let board = companion.squad(&env()).unwrap();
    assert_eq!(board.notices.len(), 1);
    assert_eq!(board.athletes[0].limits.len(), 1);
}

#[test]
fn a_clash_shows_both_values_and_is_settled_by_a_person() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let about = |name: &str| Draft::about(Subject::Uuid(member.0), Fact::Card(Card::Name(name.into())));
    let later = Stamp { ms: NOON + 60_000, zone_min: 0 };
    book.write(Scope::Member(member), &about("Ino Vale"), later).unwrap();
    let screen = companion.athlete(&env(), &member.to_string(), "").unwrap();
    assert_eq!(screen.clashes.len(), 1);
    let texts: Vec<_> = screen.clashes[0].values.iter().map(|v| v.text.clone()).collect();
    assert_eq!(texts, ["Ino Vale", "Ino"]);
    let choice = screen.clashes[0].values[1].choice.clone();
    companion.settle(&env(), &member.to_string(), &choice).unwrap();
    let screen = companion.athlete(&env(), &member.to_string(), "").unwrap();
    assert_eq!((screen.title.as_str(), screen.clashes.len()), ("Ino", 0));
    assert!(matches!(
        companion.settle(&env(), &member.to_string(), &choice),
        Err(ScreenError::NotFound { .. })
    ));
}

#[test]
fn a_phone_works_at_once_and_keeps_what_hurts_to_itself() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("book");
    let companion = Companion::open(path.to_str().unwrap(), vec![7; 32], &env()).unwrap();
    assert!(companion.today(&env()).unwrap().sessions.is_empty());
    let form = companion.log_set(&env()).unwrap();
    assert!(form.exercises.len() > 10 && form.exercises.iter().filter(|e| e.chosen).count() == 1);
    let session = companion.begin_session(&env(), "", &SessionForm::default()).unwrap();
    let filled = SetForm { sets: 3, ..self::form(id::POGO, 12, "both") };
    companion.keep_set(&filled).unwrap();
    companion.close();
    assert!(matches!(companion.today(&env()), Err(ScreenError::Closed)));

    let companion = Companion::open(path.to_str().unwrap(), vec![7; 32], &env()).unwrap();
    assert_eq!(companion.log_set(&env()).unwrap().form, filled, "the draft survived");
    assert_eq!(companion.save_sets(&env(), &session, &filled).unwrap().len(), 3);
    let today = companion.today(&env()).unwrap();
    assert_eq!(today.carried, "3 sets only on this device, the oldest from today");
    assert!(today.sessions[0].spoken.contains("only on this device"));
    let odd = SetForm { reps: 0, ..filled.clone() };
    match companion.save_sets(&env(), &session, &odd) {
        Err(ScreenError::Refused { field, value, .. }) => {
            assert_eq!((field.as_str(), value.as_str()), ("reps", "0"))
        }
        other => panic!("{other:?}"),
    }
    assert!(matches!(companion.check_route("nowhere"), Err(ScreenError::NotFound { .. })));
    assert_eq!(companion.check_route("today").unwrap(), "today");
}

#[test]
fn rising_pain_says_stop_and_where_to_go_and_nothing_of_it_without_sharing() {
    let folder = TempDir::new().unwrap();
    let book = book(&folder, 1);
    let member = book.start_member(env().stamp()).unwrap();
    let companion = Companion::over(Arc::clone(&book));
    for (back, score) in [(9, 2), (1, 4)] {
        let check_in = CheckIn {
            day: env().today().plus(-back),
            hurts: vec![Hurt { part: BodyPart::Shin, side: Some(Side::Left), score }],
            sleep_min: None,
            signs: [].into(),
        };
        book.write(Scope::Private(member), &Draft::new(Fact::CheckIn(check_in)), env().stamp()).unwrap();
    }
    let board = companion.squad(&env()).unwrap();
    assert_eq!(board.notices.len(), 1);
    assert!(board.notices[0].saw.contains("4 of 10 in the last 7 days, 2 in the 7 days before"));
    assert!(board.notices[0].may_do.contains("licensed practitioner"));
    // Another device's board, which has none of it, says so.
    let other = TempDir::new().unwrap();
    let (_, companion, member) = coach(&other);
    let board = companion.squad(&env()).unwrap();
    assert_eq!(board.athletes[0].private_note, "What hurts is not shared.");
    companion.rest_day(&env(), &member.to_string(), "").unwrap();
    let refused = companion.share_private(&env(), &member.to_string(), true);
    assert!(matches!(refused, Err(ScreenError::NotAllowed { .. })), "a coach cannot consent for a member");
}

#[test]
fn long_lists_come_in_windows_that_lose_nothing() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    for n in 0..120 {
        log(&companion, member, &env().today().plus(-n / 2).to_string(), &form(id::POGO, 5, "both"));
    }
    book.write(Scope::Member(member), &Draft::new(Fact::Rest(RestDay { day: env().today() })), env().stamp())
        .unwrap();
    let mut seen = std::collections::BTreeSet::new();
    let mut cursor = String::new();
    loop {
        let window = companion.athlete(&env(), &member.to_string(), &cursor).unwrap();
        assert!(window.sessions.len() <= 200);
        for row in &window.sessions {
            assert!(seen.insert(row.id.clone()), "twice");
        }
        cursor = window.older;
        if cursor.is_empty() {
            break;
        }
    }
    assert_eq!(seen.len(), 120);
}

#[test]
fn a_rise_of_exactly_the_line_is_shown_and_one_contact_less_is_not() {
    for (now, shown) in [(50, true), (49, false)] {
        let folder = TempDir::new().unwrap();
        let (_, companion, member) = coach(&folder);
        for day in ["2026-11-10", "2026-11-17"] {
            log(&companion, member, day, &form(id::POGO, 40, "both"));
        }
        log(&companion, member, "2026-11-23", &form(id::POGO, now, "both"));
        companion.complete_up_to(&env(), &member.to_string(), "").unwrap();
        assert_eq!(companion.squad(&env()).unwrap().notices.len(), usize::from(shown), "{now} after 40");
    }
}

#[test]
fn no_run_in_speaks_against_an_exercise_that_has_one_though_the_set_is_silent() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let limit = Limit {
        from: env().today().plus(-10),
        until: None,
        no_one_leg: None,
        no_approach: true,
        max_box_mm: None,
        said_by: SaidBy::Coach,
        note: None,
    };
    book.write(Scope::Member(member), &Draft::new(Fact::Limit(limit)), env().stamp()).unwrap();
    log(&companion, member, "2026-11-24", &form(id::BOUNDS_STANDING, 4, ""));
    assert!(companion.squad(&env()).unwrap().notices.is_empty(), "bounds from a stand are free");
    log(&companion, member, "2026-11-24", &form(id::BOUNDS_RUN_IN, 4, ""));
    assert_eq!(companion.squad(&env()).unwrap().notices.len(), 1);
}

#[test]
fn a_set_that_does_not_fit_its_exercise_is_refused_by_field_and_nothing_is_written() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let session = companion.begin_session(&env(), &member.to_string(), &SessionForm::default()).unwrap();
    let odd = [
        ("leg", form(id::POGO_ONE_LEG, 5, "both")),
        ("leg", form(id::POGO, 5, "sideways")),
        ("box_mm", SetForm { box_mm: Some(300), ..form(id::POGO, 5, "both") }),
        ("approach", SetForm { strides: Some(6), ..form(id::POGO, 5, "both") }),
        ("sets", SetForm { sets: 0, ..form(id::POGO, 5, "both") }),
    ];
    for (expected, form) in odd {
        match companion.save_sets(&env(), &session, &form) {
            Err(ScreenError::Refused { field, range, .. }) => {
                assert_eq!(field, expected);
                assert!(!range.is_empty());
            }
            other => panic!("{expected}: {other:?}"),
        }
    }
    let nobody = form(uuid::Uuid::from_u128(1), 5, "both");
    assert!(matches!(companion.save_sets(&env(), &session, &nobody), Err(ScreenError::NotFound { .. })));
    assert!(companion.session(&env(), &session).unwrap().sets.is_empty());
    // A slip in the athlete's id begins no log of somebody who is not there.
    let stranger = uuid::Uuid::from_u128(2).to_string();
    let begun = companion.begin_session(&env(), &stranger, &SessionForm::default());
    assert!(matches!(begun, Err(ScreenError::NotFound { .. })));
    // Left empty, the leg is the exercise's usual one.
    companion.save_sets(&env(), &session, &form(id::POGO_ONE_LEG, 5, "")).unwrap();
    assert_eq!(companion.session(&env(), &session).unwrap().sets.len(), 1);
}
