//! A jump in words.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use meeting::{NOON, coach, env};
use pitside_book::clock::Stamp;
use pitside_book::store::Draft;
use pitside_model::facts::{
    Approach, Board, Day, Fact, Jump, JumpEvent, Outcome, Phases, Scope, Subject, Wind, WindRule,
};
use tempfile::TempDir;

/// What two people can read differently is in its words.
#[test]
fn a_jump_written_differently_says_what_tape_and_gauge_said() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let own = Scope::Member(member);
    let at = |ms| Stamp { ms: NOON + ms, zone_min: 0 };
    let jump = Jump {
        day: Day::parse("2026-11-21").unwrap(),
        event: JumpEvent::Long,
        indoor: false,
        competition: true,
        place: Some("Quay field".into()),
        attempt: Some(2),
        outcome: Outcome::Measured(6_290),
        toe_mm: Some(-45),
        wind: Some(Wind::Gauge(2_030)),
        wind_rule: Some(WindRule::FromMark),
        approach: Some(Approach::Strides(18)),
        start_mm: Some(34_150),
        pit_mm: None,
        board: Some(Board::Plane),
        phases: Phases::default(),
        take: None,
    };
    let foul = Jump {
        event: JumpEvent::Triple,
        outcome: Outcome::Foul,
        toe_mm: Some(12),
        wind: Some(Wind::NoGauge),
        wind_rule: None,
        approach: Some(Approach::Millimetres(34_000)),
        start_mm: None,
        place: None,
        ..jump.clone()
    };
    let id = book.write(own, &Draft::new(Fact::Jump(jump.clone())), at(0)).unwrap();
    // Both replace the first without knowing of each other.
    for (after, fact) in [(60_000, jump), (120_000, foul)] {
        let draft = Draft { replaces: vec![id], ..Draft::about(Subject::Fact(id), Fact::Jump(fact)) };
        book.write(own, &draft, at(after)).unwrap();
    }
    let clashes = companion.athlete(&env(), &member.to_string(), "").unwrap().clashes;
    assert_eq!(clashes[0].what, "A jump");
    let texts: Vec<&str> = clashes[0].values.iter().map(|v| v.text.as_str()).collect();
    assert_eq!(
        texts,
        [
            "Sat 21 Nov 2026, triple jump, foul, attempt 2, no wind gauge, toe 1.2 cm over the line, \
             run-in of 34.0 m",
            "Sat 21 Nov 2026, long jump, 6.29 m, attempt 2, wind +2.1 m/s, toe 4.5 cm behind the line, \
             run-in of 18 strides, start mark at 34.15 m, Quay field",
        ]
    );
}
