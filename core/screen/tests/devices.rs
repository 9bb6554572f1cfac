//! The devices of a squad, what does not count, and limits while a clock is in
//! doubt.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::sync::Arc;

use pitside_book::clock::{Clock, Stamp};
use pitside_book::exchange::{Part, accept};
use pitside_book::keys::{Identity, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, BookReplica, Draft};
use pitside_log::sync::{Conversation, Replica};
use pitside_model::facts::{DeviceKey, Fact, Grant, Limit, RestDay, Role, SaidBy, Scope};
use pitside_screen::{Companion, Env};
use tempfile::TempDir;
use zeroize::Zeroizing;

const NOON: Stamp = Stamp { ms: 1_790_000_000_000, zone_min: 0 };

struct AtNoon;
impl Clock for AtNoon {
    fn now(&self) -> Stamp {
        NOON
    }
}

fn env() -> Env {
    Env { language: "en".into(), zone_min: 0, hour24: true, now_ms: NOON.ms }
}

fn meet(caller: &Book, part: Part, called: &Book) {
    let guest = match part {
        Part::Guest(join, squad) => Some((join, squad)),
        _ => None,
    };
    let mut near = BookReplica::new(caller, &AtNoon);
    let mut far = BookReplica::new(called, &AtNoon);
    let mut a = Conversation::new(called.device(), true, guest);
    let mut b = Conversation::new(caller.device(), false, None);
    let mut message = Some(a.begin(&mut near, NOON.ms).unwrap());
    while let Some(said) = message {
        let answer = b.step(&mut far, said, NOON.ms).unwrap();
        message = answer.and_then(|answer| a.step(&mut near, answer, NOON.ms).unwrap());
    }
    assert!(a.is_done() && b.is_done());
}

#[test]
fn devices_and_what_is_held_apart_are_told_with_their_reasons() {
    let folders: Vec<TempDir> = (0..2).map(|_| TempDir::new().unwrap()).collect();
    let book = |n: u8| {
        let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new([n + 1; 32])));
        Arc::new(Book::create(folders[usize::from(n)].path(), identity, false).unwrap())
    };
    let (coach, phone) = (book(0), book(1));
    coach.found("Quay jumps", NOON).unwrap();
    let member = phone.start_member(NOON).unwrap();
    let open = coach.invite(Grant::new(Role::Athlete, vec![]), NOON, 10).unwrap();
    let invitation = Invitation::of(&coach, &open, vec![]).unwrap();
    let part = accept(&phone, &invitation, &AtNoon).unwrap();
    meet(&phone, part, &coach);
    let limit = Limit {
        from: NOON.day().plus(-9),
        until: Some(NOON.day().plus(-2)),
        no_one_leg: None,
        no_approach: true,
        max_box_mm: None,
        said_by: SaidBy::Coach,
        note: None,
    };
    coach.write(Scope::Member(member), &Draft::new(Fact::Limit(limit)), NOON).unwrap();
    coach.remove_device(phone.device(), NOON).unwrap();
    phone.write(Scope::Member(member), &Draft::new(Fact::Rest(RestDay { day: NOON.day() })), NOON).unwrap();
    meet(&phone, Part::Caller, &coach);
    coach.set_aside(phone.device(), "not a message", &[1, 2, 3], NOON).unwrap();

    let companion = Companion::over(Arc::clone(&coach));
    let devices = companion.devices(&env()).unwrap();
    assert_eq!(devices.devices.len(), 2);
    let row = devices.devices.iter().find(|row| row.id == phone.device().to_string()).unwrap();
    assert!(row.state.contains("removed from the squad"), "{row:?}");
    assert!(row.spoken.contains(&row.role));
    assert_eq!(devices.uncounted.len(), 1);
    assert!(devices.uncounted[0].why.contains("after its device was removed"), "{:?}", devices.uncounted);
    assert_eq!(devices.refused[0].why, "not a message");
    let on_phone = Companion::over(Arc::clone(&phone)).today(&env()).unwrap();
    assert!(on_phone.notices[0].contains("removed from the squad"), "{:?}", on_phone.notices);

    // A limit that is over holds again while the clock is years from everybody's.
    let limits = || companion.squad(&env()).unwrap().athletes[0].limits.len();
    assert_eq!(limits(), 0);
    let years = 3 * 365 * 24 * 60 * 60 * 1_000;
    let mut replica = BookReplica::new(&coach, &AtNoon);
    replica.note_clock(phone.device(), -years).unwrap();
    assert_eq!(limits(), 1);
    let told = companion.devices(&env()).unwrap();
    assert!(told.notices.iter().any(|n| n.contains("1095 days ahead")), "{:?}", told.notices);
    // One device that agrees with it settles the doubt.
    replica.note_clock(DeviceKey([7; 32]), 1_000).unwrap();
    assert_eq!(limits(), 0);
}
