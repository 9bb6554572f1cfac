//! Books in folders that outlive them: to be copied, damaged and put back.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]
#![allow(dead_code, unreachable_pub, unused_imports, reason = "each test takes what it needs")]

use std::collections::BTreeMap;
use std::path::Path;

use pitside_book::clock::Clock;
use pitside_book::exchange::{Part, accept};
use pitside_book::keys::{Identity, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, Draft, Filter};
use pitside_log::entry::Key;
use pitside_model::facts::{Conditions, Day, Fact, Grant, Hash, Leg, MemberId, Role, Scope, Session, Set};
use pitside_model::load::catalogue;
use tempfile::TempDir;
use zeroize::Zeroizing;

#[path = "../meeting/mod.rs"]
mod meeting;
pub use meeting::{At, NOW, count, hurts, meet_heard, rest, share};

pub fn identity(n: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32])))
}

/// A folder in memory where the system has one: many books are written.
pub fn folder() -> TempDir {
    let memory = Path::new("/dev/shm");
    if memory.is_dir() { TempDir::new_in(memory).unwrap() } else { TempDir::new().unwrap() }
}

pub fn sync(a: &Book, b: &Book, clock: At) {
    hear(a, Part::Caller, b, clock);
}

/// Lets two books meet; gives every message.
pub fn hear(caller: &Book, part: Part, called: &Book, clock: At) -> Vec<Vec<u8>> {
    let (near, far, messages) = meet_heard(caller, part, called, usize::MAX, clock);
    near.unwrap();
    far.unwrap();
    messages
}

/// Admits a book's device with a role; gives every message.
pub fn join(phone: &Book, coach: &Book, grant: Grant) -> Vec<Vec<u8>> {
    let open = coach.invite(grant, NOW.now(), 10).unwrap();
    let part = accept(phone, &Invitation::of(coach, &open, vec![]).unwrap(), &NOW).unwrap();
    hear(phone, part, coach, NOW)
}

/// Founds a squad in one new folder and lets a phone join from another.
pub fn squad(coach: &Path, phone: &Path) -> (Book, Book, MemberId) {
    let coach = Book::create(coach, identity(1), false).unwrap();
    coach.found("Quay jumps", NOW.now()).unwrap();
    let phone = Book::create(phone, identity(2), false).unwrap();
    let member = phone.start_member(NOW.now()).unwrap();
    join(&phone, &coach, Grant::new(Role::Athlete, vec![]));
    (coach, phone, member)
}

/// Sessions of five sets, one a day.
pub fn train(book: &Book, member: MemberId, days: std::ops::Range<i32>, purpose: &str) {
    for n in days {
        let session = Fact::Session(Session {
            day: Day::parse("2026-02-01").unwrap().plus(n),
            start_min: None,
            purpose: Some(purpose.into()),
            location: None,
            surface: None,
            shoes: None,
            weather: None,
            cut_short: None,
            conditions: Conditions::default(),
        });
        let session = book.write(Scope::Member(member), &Draft::new(session), NOW.now()).unwrap();
        let set = |reps| {
            let set = Set {
                session,
                exercise: catalogue::id::POGO,
                reps,
                contacts_per_rep: None,
                leg: Leg::Both,
                box_mm: None,
                approach: None,
                load_g: None,
                last_10_m_ms: None,
                cue: None,
                warm_up: false,
                planned: None,
            };
            (Scope::Member(member), Draft::new(Fact::Set(set)))
        };
        book.write_all(&[5, 6, 7, 8, 9].map(set), NOW.now()).unwrap();
    }
}

pub type State = BTreeMap<Key, Vec<(Hash, Option<Fact>)>>;

/// Everything that is live.
pub fn state(book: &Book) -> State {
    let held = book.held(&Filter::default()).unwrap();
    let values = |held: &pitside_book::store::Held| {
        let mut values: Vec<_> = held.values.iter().map(|v| (v.hash, v.fact.clone().ok())).collect();
        values.sort_by_key(|(hash, _)| *hash);
        values
    };
    held.iter().map(|held| (held.key.clone(), values(held))).collect()
}

/// Checks that the projection made anew is the one kept.
pub fn rebuilt(book: &Book) {
    let (before, devices, members) = (state(book), book.devices().unwrap(), book.members().unwrap());
    let uncounted = book.uncounted().unwrap();
    book.rebuild().unwrap();
    assert!(state(book) == before, "the projection differs from the one made anew");
    assert_eq!(book.devices().unwrap(), devices);
    assert_eq!(book.members().unwrap(), members);
    assert_eq!(book.uncounted().unwrap(), uncounted);
}

/// The files of a folder in which some bytes stand.
pub fn files_with(folder: &Path, bytes: &[u8]) -> Vec<String> {
    let mut found = Vec::new();
    for file in std::fs::read_dir(folder).unwrap() {
        let path = file.unwrap().path();
        if path.is_dir() {
            found.extend(files_with(&path, bytes));
        } else if std::fs::read(&path).unwrap().windows(bytes.len()).any(|w| w == bytes) {
            found.push(path.file_name().unwrap().to_string_lossy().into_owned());
        }
    }
    found
}
