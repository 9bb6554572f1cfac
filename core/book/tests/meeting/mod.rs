//! Books in temporary folders that meet over a link in memory.

#![allow(dead_code, unreachable_pub, reason = "each file of tests uses its part of this one")]
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use pitside_book::clock::{Clock, Stamp};
use pitside_book::exchange::{ExchangeError, Link, Outcome, Part, accept, exchange};
use pitside_book::keys::{Identity, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, Draft, Filter};
use pitside_log::sync::Message;
use pitside_model::cbor::encode;
use pitside_model::facts::{
    Audience, BodyPart, CheckIn, Consent, Day, DeviceKey, Fact, Grant, Hurt, MemberId, RestDay, Role, Scope,
    Subject, kind,
};
use tempfile::TempDir;
use zeroize::Zeroizing;

#[derive(Clone, Copy)]
pub struct At(pub i64);
impl Clock for At {
    fn now(&self) -> Stamp {
        Stamp { ms: 1_790_000_000_000 + self.0 * 60_000, zone_min: 0 }
    }
}
pub const NOW: At = At(0);

/// A link in memory that is cut after so many messages, and keeps what crossed it.
pub struct Wire {
    peer: DeviceKey,
    to: Sender<Vec<u8>>,
    from: Receiver<Vec<u8>>,
    left: usize,
    crossed: Vec<Vec<u8>>,
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
        self.left = self.left.checked_sub(1).ok_or(Cut)?;
        self.crossed.push(message.to_vec());
        self.to.send(message.to_vec()).map_err(|_| Cut)
    }
    fn receive(&mut self) -> Result<Vec<u8>, Cut> {
        self.from.recv().map_err(|_| Cut)
    }
}

/// The bytes of a message, what is packed in it unpacked.
pub fn plain(message: &[u8]) -> Vec<u8> {
    let Ok(Message::Batch(batch)) = Message::from_bytes(message) else { return message.to_vec() };
    let segments = batch.segments.iter().flat_map(|s| encode(&s.to_value()));
    segments.chain(batch.bodies.into_iter().flat_map(|(_, body)| body.payload)).collect()
}

pub struct Device {
    pub book: Book,
    pub folder: TempDir,
}

pub fn device(n: u8, demo: bool) -> Device {
    let folder = TempDir::new().unwrap();
    let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32])));
    Device { book: Book::create(folder.path(), identity, demo).unwrap(), folder }
}

pub type Ended = Result<Outcome, ExchangeError<Cut>>;

/// Runs one exchange; gives both ends and every byte that crossed, unpacked.
pub fn meet(caller: &Book, part: Part, called: &Book, messages: usize, clock: At) -> (Ended, Ended, Vec<u8>) {
    let (near, far, crossed) = meet_heard(caller, part, called, messages, clock);
    (near, far, crossed.iter().flat_map(|message| plain(message)).collect())
}

/// Runs one exchange; gives both ends and every message that crossed.
pub fn meet_heard(
    caller: &Book,
    part: Part,
    called: &Book,
    messages: usize,
    clock: At,
) -> (Ended, Ended, Vec<Vec<u8>>) {
    let ((a, b), (c, d)) = (channel(), channel());
    let mut near = Wire { peer: called.device(), to: a, from: d, left: messages, crossed: vec![] };
    let mut far = Wire { peer: caller.device(), to: c, from: b, left: messages, crossed: vec![] };
    thread::scope(|scope| {
        let other = scope.spawn(move || {
            let ended = exchange(called, &mut far, Part::Called, &clock);
            (ended, far.crossed)
        });
        let ended = exchange(caller, &mut near, part, &clock);
        let mut crossed = std::mem::take(&mut near.crossed);
        drop(near);
        let (far_ended, far_crossed) = other.join().unwrap();
        crossed.extend(far_crossed);
        (ended, far_ended, crossed)
    })
}

pub fn invitation(coach: &Book, member: Option<MemberId>) -> Invitation {
    let grant = Grant::new(Role::Athlete, member.into_iter().collect());
    let open = coach.invite(grant, NOW.now(), 10).unwrap();
    Invitation::of(coach, &open, vec![]).unwrap()
}

pub fn join(phone: &Book, coach: &Book, clock: At) -> (Ended, Ended) {
    let invitation = invitation(coach, None);
    let part = accept(phone, &invitation, &NOW).unwrap();
    let (a, b, _) = meet(phone, part, coach, usize::MAX, clock);
    (a, b)
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

pub fn hurts(book: &Book, member: MemberId) {
    let check_in = CheckIn {
        day: NOW.now().day(),
        hurts: vec![Hurt { part: BodyPart::Shin, side: None, score: 4 }],
        sleep_min: None,
        signs: std::collections::BTreeSet::new(),
    };
    book.write(Scope::Private(member), &Draft::new(Fact::CheckIn(check_in)), NOW.now()).unwrap();
}

pub fn share(book: &Book, member: MemberId, given: bool) {
    let held = book.held(&Filter { kind: Some(kind::CONSENT), ..Filter::default() }).unwrap();
    let fact = Fact::Consent(Consent { to: Audience::Coach, given });
    let draft = match held.first() {
        Some(held) => Draft::replacing(held, fact),
        None => Draft::about(Subject::Uuid(member.0), fact),
    };
    book.write(Scope::Member(member), &draft, NOW.now()).unwrap();
}

pub fn count(book: &Book, kind: &str) -> usize {
    book.held(&Filter { kind: Some(kind), ..Filter::default() }).unwrap().len()
}

pub fn squad() -> (Device, Device, MemberId) {
    let (coach, phone) = (device(1, false), device(2, false));
    coach.book.found("Quay jumps", NOW.now()).unwrap();
    let member = phone.book.start_member(NOW.now()).unwrap();
    (coach, phone, member)
}
