//! Books of a coach and a phone, and the meetings of two books.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]
#![allow(dead_code, unreachable_pub, reason = "each test takes what it needs")]

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use pitside_book::clock::{Clock, Stamp};
use pitside_book::exchange::{ExchangeError, Link, Outcome, Part, accept, exchange};
use pitside_book::keys::{Identity, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, Draft, Filter};
use pitside_log::entry::Key;
use pitside_model::facts::{
    Day, DeviceKey, Fact, Grant, Hash, Leg, MemberId, RestDay, Role, Scope, Session, Set,
};
use pitside_model::load::catalogue;
use tempfile::TempDir;
use zeroize::Zeroizing;

/// Minutes after the morning on which the tests take place.
#[derive(Clone, Copy)]
pub struct At(pub i64);

impl Clock for At {
    fn now(&self) -> Stamp {
        Stamp { ms: 1_790_000_000_000 + self.0 * 60_000, zone_min: 0 }
    }
}

pub const NOW: At = At(0);

pub fn identity(n: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32])))
}

/// A folder in memory where the system has one: many books are written.
pub fn folder() -> TempDir {
    let memory = Path::new("/dev/shm");
    if memory.is_dir() { TempDir::new_in(memory).unwrap() } else { TempDir::new().unwrap() }
}

struct Wire {
    peer: DeviceKey,
    to: Sender<Vec<u8>>,
    from: Receiver<Vec<u8>>,
    /// What was sent from this end.
    sent: Vec<Vec<u8>>,
}

#[derive(Debug, thiserror::Error)]
#[error("cut")]
pub struct Cut;

impl Link for Wire {
    type Error = Cut;
    fn peer(&self) -> DeviceKey {
        self.peer
    }
    fn send(&mut self, message: &[u8]) -> Result<(), Cut> {
        self.sent.push(message.to_vec());
        self.to.send(message.to_vec()).map_err(|_| Cut)
    }
    fn receive(&mut self) -> Result<Vec<u8>, Cut> {
        self.from.recv().map_err(|_| Cut)
    }
}

/// Runs one exchange.
pub fn meet(caller: &Book, part: Part, called: &Book, clock: At) -> Result<Outcome, ExchangeError<Cut>> {
    meet_heard(caller, part, called, clock).map(|(ended, _)| ended)
}

/// Runs one exchange; gives every message too.
pub fn meet_heard(
    caller: &Book,
    part: Part,
    called: &Book,
    clock: At,
) -> Result<(Outcome, Vec<Vec<u8>>), ExchangeError<Cut>> {
    let ((a, b), (c, d)) = (channel(), channel());
    let mut near = Wire { peer: called.device(), to: a, from: d, sent: vec![] };
    let mut far = Wire { peer: caller.device(), to: c, from: b, sent: vec![] };
    thread::scope(|scope| {
        let other = scope.spawn(move || (exchange(called, &mut far, Part::Called, &clock), far.sent));
        let ended = exchange(caller, &mut near, part, &clock);
        let mut sent = std::mem::take(&mut near.sent);
        drop(near);
        let (other, answered) = other.join().unwrap();
        sent.extend(answered);
        ended.and_then(|ended| other.map(|_| (ended, sent)))
    })
}

pub fn sync(a: &Book, b: &Book, clock: At) {
    meet(a, Part::Caller, b, clock).unwrap();
}

/// Admits a book's device with a role; gives every message.
pub fn join(phone: &Book, coach: &Book, grant: Grant) -> Vec<Vec<u8>> {
    let role = grant.role;
    let open = coach.invite(grant, NOW.now(), 10).unwrap();
    let invitation = Invitation {
        device: coach.device(),
        squad: coach.squad().or(coach.recovers().unwrap()).unwrap(),
        demo: coach.is_demo(),
        secret: open.secret,
        expires_s: open.expires_ms / 1_000,
        member: None,
        role,
        addresses: vec!["127.0.0.1:4711".into()],
    };
    let part = accept(phone, &invitation, &NOW).unwrap();
    meet_heard(phone, part, coach, NOW).unwrap().1
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

pub fn rest(book: &Book, member: MemberId, days: std::ops::Range<i32>) {
    let drafts: Vec<_> = days
        .map(|n| {
            let day = Day::parse("2026-01-01").unwrap().plus(n);
            (Scope::Member(member), Draft::new(Fact::Rest(RestDay { day })))
        })
        .collect();
    book.write_all(&drafts, NOW.now()).unwrap();
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

pub fn count(book: &Book, kind: &str) -> usize {
    book.held(&Filter { kind: Some(kind), ..Filter::default() }).unwrap().len()
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
