//! A clip is marked: what the marks come to, what is expected next, what is saved.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use std::io::Cursor;

use meeting::{coach, env};
use pitside_book::store::Draft;
use pitside_model::facts::{Fact, Scope, Target};
use pitside_model::load::catalogue::id;
use pitside_screen::record::{Mark, MarkForm, Measurement, SetForm};
use pitside_screen::{Companion, OpenClip, ScreenError, SessionForm};
use tempfile::TempDir;

/// Drawn with known contacts at 240 frames a second: tests/render.
const DRAWN: &[u8] = include_bytes!("../../../tests/render/clips/bounds-240.mp4");

/// As read by eye from its pictures: bounds-240.marks.json.
const READ: [(&str, u32, u32); 4] =
    [("left", 165, 200), ("right", 270, 308), ("left", 383, 416), ("right", 496, 539)];

/// 25 frames a second, and nothing says what they were captured with.
const UNKNOWN: &[u8] = include_bytes!("../../../tests/published/data/clips/iibbibb_editlist_videoonly.mp4");

fn mark(foot: &str, kind: &str, after: u32) -> Mark {
    Mark { foot: foot.to_owned(), kind: kind.to_owned(), before: after - 1, after }
}

fn marks() -> Vec<Mark> {
    READ.iter()
        .flat_map(|(foot, on, off)| [mark(foot, "touchdown", *on), mark(foot, "toe-off", *off)])
        .collect()
}

fn drawn() -> OpenClip {
    OpenClip::read(Cursor::new(DRAWN), None).unwrap()
}

/// A session of today with a set of bounds on the left leg first.
fn bounds(companion: &Companion, member: &str) -> (String, String) {
    let session = companion.begin_session(&env(), member, &SessionForm::default()).unwrap();
    let form = SetForm {
        exercise: id::BOUNDS_RUN_IN.to_string(),
        sets: 1,
        reps: 1,
        leg: "alternate-left".to_owned(),
        strides: Some(6),
        ..SetForm::default()
    };
    let set = companion.save_sets(&env(), &session, &form).unwrap().remove(0);
    (session, set)
}

#[test]
fn four_contacts_are_eight_marks_and_foot_and_kind_are_never_asked() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let (session, set) = bounds(&companion, &member.to_string());
    let offered = companion.marking_form(&env(), &member.to_string(), &set).unwrap();
    assert!(offered.sets.iter().any(|choice| choice.id == set && choice.chosen), "{:?}", offered.sets);
    let clip = drawn();
    let mut form = MarkForm { member: member.to_string(), set, ..MarkForm::default() };
    for (number, mark) in marks().into_iter().enumerate() {
        let so_far = companion.marked(&env(), &clip, &form).unwrap();
        let expected = so_far.expected.unwrap();
        assert_eq!((&expected.foot, &expected.kind), (&mark.foot, &mark.kind), "mark {number}");
        // From the second contact on the view jumps near: within 60 ms.
        if number > 0 {
            let away = i64::from(expected.frame.unwrap()) - i64::from(mark.after);
            assert!(away.abs() < 35, "mark {number} is {away} frames away");
        }
        form.marks.push(mark);
    }
    let done = companion.marked(&env(), &clip, &form).unwrap();
    assert!(done.may_save && done.trouble.is_empty());
    assert_eq!(done.marks.len(), 8);
    assert_eq!(done.marks[0].text, "Touchdown, left: between frames 164 and 165");
    let route = companion.save_take(&env(), &clip, &form).unwrap();
    assert_eq!(route, format!("session/{session}"));
    let saved = companion.session(&env(), &session).unwrap().takes.remove(0);
    let draft = done.take.unwrap();
    assert_eq!((saved.lane.clone(), saved.said), (draft.lane, draft.said));
    assert_eq!(saved.lane.flights.len(), 3);
    // Left 35 and 33 frames, right 38 and 43, of 1/240 s.
    let labels: Vec<_> =
        saved.lane.feet.iter().flat_map(|foot| &foot.bars).map(|bar| bar.label.as_str()).collect();
    assert_eq!(labels, ["146 ms", "138 ms", "158 ms", "179 ms"]);
}

#[test]
fn a_target_stands_in_the_picture() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let target = Target {
        exercise: id::BOUNDS_RUN_IN,
        contact: None,
        approach: None,
        contact_us: 150_000,
        source: "the coach".to_owned(),
    };
    book.write(Scope::Squad, &Draft::new(Fact::Target(target)), env().stamp()).unwrap();
    let exercise = id::BOUNDS_RUN_IN.to_string();
    let form = MarkForm {
        member: member.to_string(),
        exercise,
        marks: marks()[..2].to_vec(),
        ..MarkForm::default()
    };
    let take = companion.marked(&env(), &drawn(), &form).unwrap().take.unwrap();
    assert_eq!(take.line, "0.146 s ± 8 ms · can’t tell from 0.150");
    let bar = take.lane.feet[0].bars[0].clone();
    assert!((bar.target.unwrap() - bar.start - 0.150).abs() < 1e-9);
    // Without it there is none: a bound has no published target.
    let plain = MarkForm { exercise: String::new(), ..form };
    let take = companion.marked(&env(), &drawn(), &plain).unwrap().take.unwrap();
    assert_eq!((take.lane.feet[0].bars[0].target, take.line.as_str()), (None, "0.146 s ± 8 ms"));
}

#[test]
fn doubt_is_said_and_impossible_marks_are_refused() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let clip = drawn();
    let with = |marks: Vec<Mark>| MarkForm { member: member.to_string(), marks, ..MarkForm::default() };
    let doubted = Mark { before: 162, ..mark("left", "touchdown", 165) };
    let said = companion.marked(&env(), &clip, &with(vec![doubted])).unwrap();
    assert_eq!(said.marks[0].text, "Touchdown, left: in doubt between frames 162 and 165");
    // A foot leaves the ground that did not land: said, and not saved.
    let form = with(vec![mark("left", "toe-off", 200)]);
    let said = companion.marked(&env(), &clip, &form).unwrap();
    assert!(!said.may_save && said.trouble.contains("without a touchdown"), "{}", said.trouble);
    assert!(matches!(companion.save_take(&env(), &clip, &form), Err(ScreenError::NotAllowed { .. })));
    for (mark, reason) in [
        (mark("left", "touchdown", 9_999), "frames 0 to"),
        (Mark { before: 5, after: 5, ..mark("left", "touchdown", 9) }, "must be earlier"),
        (mark("wing", "touchdown", 9), "wing"),
    ] {
        let refused = companion.marked(&env(), &clip, &with(vec![mark])).unwrap_err().to_string();
        assert!(refused.contains(reason), "{refused}");
    }
    let refused = companion.save_take(&env(), &clip, &with(Vec::new())).unwrap_err();
    assert_eq!(refused.to_string(), "nothing is marked yet");
}

/// What no take can hold is said while the clip is marked, not when it is saved.
#[test]
fn marks_and_rates_that_no_take_holds_are_refused_at_once() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let clip = OpenClip::read(Cursor::new(UNKNOWN), None).unwrap();
    let form = |capture_mhz| MarkForm {
        member: member.to_string(),
        day: env().today().to_string(),
        capture_mhz: Some(capture_mhz),
        ..MarkForm::default()
    };
    for rate in [1_000, 10_000_000] {
        assert!(companion.marked(&env(), &clip, &form(rate)).is_ok(), "{rate}");
    }
    for rate in [0, 999, 10_000_001, u32::MAX] {
        let refused = companion.marked(&env(), &clip, &form(rate));
        assert!(matches!(refused, Err(ScreenError::Refused { .. })), "{rate}: {refused:?}");
    }
    let clip = drawn();
    let many = |number| MarkForm { marks: vec![mark("left", "touchdown", 1); number], ..form(240_000) };
    assert!(companion.marked(&env(), &clip, &many(400)).is_ok());
    let refused = companion.marked(&env(), &clip, &many(401));
    assert!(matches!(refused, Err(ScreenError::Refused { .. })), "{refused:?}");
}

#[test]
fn an_unknown_clock_is_settled_by_a_rate_or_by_a_measurement() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let clip = OpenClip::read(Cursor::new(UNKNOWN), None).unwrap();
    let marks = vec![mark("left", "touchdown", 2), mark("left", "toe-off", 5)];
    let form = MarkForm { member: member.to_string(), marks, ..MarkForm::default() };
    let unknown = companion.marked(&env(), &clip, &form).unwrap();
    assert!(!unknown.clock.known && unknown.take.is_none() && !unknown.may_save);
    assert!(unknown.trouble.contains("State the capture rate"), "{}", unknown.trouble);
    let stored = clip.clip().clock(None).evidence.remove(0);
    let stated = MarkForm { capture_mhz: Some(240_000), ..form.clone() };
    let said = companion.marked(&env(), &clip, &stated).unwrap();
    assert!(said.clock.known && said.may_save, "{stored} {}", said.trouble);
    // Three steps of 1/240 s.
    assert_eq!(said.take.unwrap().lane.feet[0].bars[0].label, "12 ms");
    // A clock in the picture that passes 50 ms in ten frames: 5 ms a frame.
    let read = Measurement::Clock { first: 1, first_ms: 1_000, second: 11, second_ms: 1_050, digit_ms: 1 };
    let measured = MarkForm { measured: Some(read), ..form.clone() };
    let said = companion.marked(&env(), &clip, &measured).unwrap();
    assert_eq!(said.take.unwrap().lane.feet[0].bars[0].label, "15 ms");
    assert!(said.clock.text.contains("measured in the clip"), "{}", said.clock.text);
    let ball = Measurement::Ball {
        released: mark("", "", 2),
        landed: mark("", "", 2),
        height_mm: 1_500,
        height_u_mm: 10,
    };
    let refused = companion.marked(&env(), &clip, &MarkForm { measured: Some(ball), ..form }).unwrap_err();
    assert!(refused.to_string().contains("not after the first"), "{refused}");
}
