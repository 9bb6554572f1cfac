//! Books in temporary folders, at noon of one day, and how they meet.

#![allow(dead_code, reason = "each file of tests uses its part of this one")]
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
use pitside_book::store::{Book, BookReplica};
use pitside_log::sync::Conversation;
use pitside_model::facts::{Grant, MemberId, Role};
use pitside_screen::{Companion, Env};
use tempfile::TempDir;
use zeroize::Zeroizing;

/// Wednesday 25 November 2026, noon.
pub(crate) const NOON: i64 = 1_795_608_000_000;

/// A day in milliseconds.
pub(crate) const DAY_MS: i64 = 24 * 60 * 60 * 1_000;

pub(crate) fn at(now_ms: i64) -> Env {
    Env { language: "en".into(), zone_min: 0, hour24: true, now_ms }
}

/// The screens' surroundings at noon.
pub(crate) fn env() -> Env {
    at(NOON)
}

pub(crate) struct AtNoon;

impl Clock for AtNoon {
    fn now(&self) -> Stamp {
        env().stamp()
    }
}

/// An empty book; `seed` says whose.
pub(crate) fn book(folder: &TempDir, seed: u8) -> Arc<Book> {
    let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new([seed; 32])));
    Arc::new(Book::create(folder.path(), identity, false).unwrap())
}

/// A coach's book with a squad of one member.
pub(crate) fn coach(folder: &TempDir) -> (Arc<Book>, Companion, MemberId) {
    let book = book(folder, 1);
    book.found("Quay jumps", env().stamp()).unwrap();
    let member = book.add_member("Ino", env().stamp()).unwrap();
    (Arc::clone(&book), Companion::over(book), member)
}

/// A whole conversation of two books.
pub(crate) fn meet(caller: &Book, part: Part, called: &Book) {
    let guest = match part {
        Part::Guest(join, squad) => Some((join, squad)),
        Part::Caller | Part::Called => None,
    };
    let mut near = BookReplica::new(caller, &AtNoon);
    let mut far = BookReplica::new(called, &AtNoon);
    let mut a = Conversation::new(called.device(), true, guest);
    let mut b = Conversation::new(caller.device(), false, None);
    let mut message = Some(a.begin(&mut near, NOON).unwrap());
    while let Some(said) = message {
        let answer = b.step(&mut far, said, NOON).unwrap();
        message = answer.and_then(|answer| a.step(&mut near, answer, NOON).unwrap());
    }
    assert!(a.is_done() && b.is_done());
}

/// A coach's book and a phone's that was paired with it.
pub(crate) fn pair(folders: &[TempDir; 2]) -> (Arc<Book>, Arc<Book>, MemberId) {
    let (coach, phone) = (book(&folders[0], 1), book(&folders[1], 2));
    coach.found("Quay jumps", env().stamp()).unwrap();
    let member = phone.start_member(env().stamp()).unwrap();
    let open = coach.invite(Grant::new(Role::Athlete, vec![]), env().stamp(), 10).unwrap();
    let invitation = Invitation::of(&coach, &open, vec![]).unwrap();
    let part = accept(&phone, &invitation, &AtNoon).unwrap();
    meet(&phone, part, &coach);
    (coach, phone, member)
}
