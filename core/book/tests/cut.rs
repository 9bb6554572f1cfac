//! A sync that is cut after every single byte, and goes on.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use pitside_book::clock::{Clock, Stamp};
use pitside_book::exchange::{ExchangeError, Link, Outcome, Part, accept, exchange};
use pitside_book::keys::{Identity, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, Draft, Filter};
use pitside_model::facts::{
    Card, Day, DeviceKey, Fact, Grant, MemberId, RestDay, Role, Scope, Subject, kind,
};
use tempfile::TempDir;
use zeroize::Zeroizing;

const COACH: u8 = 1;
const PHONE: u8 = 2;
const NAMES: [&str; 2] = ["coach", "phone"];

/// Entries of each of the phone's three seals.
const SEALED: i32 = 2;

struct Fixed;

impl Clock for Fixed {
    fn now(&self) -> Stamp {
        Stamp { ms: 1_790_000_000_000, zone_min: 0 }
    }
}

fn identity(n: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32])))
}

/// A folder in memory where the system has one: thousands of books are written.
fn folder() -> TempDir {
    let memory = Path::new("/dev/shm");
    if memory.is_dir() { TempDir::new_in(memory).unwrap() } else { TempDir::new().unwrap() }
}

// ---- the link

/// One end of a stream of bytes that is cut, for both directions, after so many
/// bytes in all. Messages are framed as the carrier frames them.
struct Pipe {
    peer: DeviceKey,
    to: Option<Sender<Vec<u8>>>,
    from: Receiver<Vec<u8>>,
    arrived: Vec<u8>,
    left: Arc<AtomicUsize>,
}

#[derive(Debug, thiserror::Error)]
#[error("cut")]
struct Cut;

impl Pipe {
    /// The next `length` bytes, or nothing where the stream ends in them.
    fn read(&mut self, length: usize) -> Result<Vec<u8>, Cut> {
        while self.arrived.len() < length {
            // What had crossed before the cut arrives; then the other end is gone.
            self.arrived.extend(self.from.recv().map_err(|_| Cut)?);
        }
        let rest = self.arrived.split_off(length);
        Ok(std::mem::replace(&mut self.arrived, rest))
    }
}

impl Link for Pipe {
    type Error = Cut;

    fn peer(&self) -> DeviceKey {
        self.peer
    }

    fn send(&mut self, message: &[u8]) -> Result<(), Cut> {
        let framed = [&u32::try_from(message.len()).unwrap().to_be_bytes(), message].concat();
        // The two speak in turn, so nobody else takes from what is left meanwhile.
        let left = self.left.load(Ordering::Acquire);
        let crossing = framed.len().min(left);
        self.left.store(left - crossing, Ordering::Release);
        let to = self.to.as_ref().ok_or(Cut)?;
        let sent = to.send(framed[..crossing].to_vec()).map_err(|_| Cut);
        if crossing < framed.len() {
            self.to = None;
            return Err(Cut);
        }
        sent
    }

    fn receive(&mut self) -> Result<Vec<u8>, Cut> {
        let length = self.read(4)?;
        let length = u32::from_be_bytes(length.try_into().unwrap());
        self.read(length as usize)
    }
}

type Ended = Result<Outcome, ExchangeError<Cut>>;

/// Runs one exchange over a link that carries so many bytes; gives both ends and
/// how many bytes crossed.
fn meet(phone: &Book, part: Part, coach: &Book, bytes: usize) -> (Ended, Ended, usize) {
    let ((a, b), (c, d)) = (channel(), channel());
    let left = Arc::new(AtomicUsize::new(bytes));
    let pipe = |peer, to, from| Pipe { peer, to: Some(to), from, arrived: vec![], left: Arc::clone(&left) };
    let mut near = pipe(coach.device(), a, d);
    let mut far = pipe(phone.device(), c, b);
    let (near, far) = thread::scope(|scope| {
        let far = scope.spawn(move || exchange(coach, &mut far, Part::Called, &Fixed));
        let ended = exchange(phone, &mut near, part, &Fixed);
        drop(near);
        (ended, far.join().unwrap())
    });
    (near, far, bytes - left.load(Ordering::Acquire))
}

// ---- the books

/// Two paired books. The phone has three seals of entries that the coach lacks,
/// the coach has one that the phone lacks.
fn prepare(at: &Path) -> MemberId {
    let [coach, phone] = [COACH, PHONE].map(|n| {
        let folder = at.join(NAMES[usize::from(n) - 1]);
        std::fs::create_dir_all(&folder).unwrap();
        Book::create(&folder, identity(n), false).unwrap()
    });
    let now = Fixed.now();
    coach.found("Quay jumps", now).unwrap();
    let member = phone.start_member(now).unwrap();
    let open = coach.invite(Grant::new(Role::Athlete, vec![]), now, 10).unwrap();
    let invitation = Invitation::of(&coach, &open, vec![]).unwrap();
    let part = accept(&phone, &invitation, &Fixed).unwrap();
    meet(&phone, part, &coach, usize::MAX).0.unwrap();
    for seal in 0..3 {
        for n in 0..SEALED {
            let day = Day::parse("2026-01-01").unwrap().plus(seal * SEALED + n);
            phone.write(Scope::Member(member), &Draft::new(Fact::Rest(RestDay { day })), now).unwrap();
        }
        phone.seal().unwrap();
    }
    let name = Draft::about(Subject::Uuid(member.0), Fact::Card(Card::Name("Ino".into())));
    coach.write(Scope::Member(member), &name, now).unwrap();
    coach.close().unwrap();
    phone.close().unwrap();
    member
}

/// Copies of the prepared books, opened.
fn copy(prepared: &Path, to: &Path) -> [Book; 2] {
    [COACH, PHONE].map(|n| {
        let (from, to) = (prepared.join(NAMES[usize::from(n) - 1]), to.join(NAMES[usize::from(n) - 1]));
        let _ = std::fs::remove_dir_all(&to);
        std::fs::create_dir_all(&to).unwrap();
        for file in std::fs::read_dir(from).unwrap() {
            let file = file.unwrap();
            std::fs::copy(file.path(), to.join(file.file_name())).unwrap();
        }
        Book::open(&to, identity(n)).unwrap()
    })
}

/// Everything that is held, with every value and every entry seen.
fn state(book: &Book) -> String {
    let mut held: Vec<_> =
        book.held(&Filter::default()).unwrap().iter().map(|held| format!("{held:?}")).collect();
    held.sort();
    held.join("\n")
}

fn rests(book: &Book) -> usize {
    book.held(&Filter { kind: Some(kind::REST), ..Filter::default() }).unwrap().len()
}

fn nothing_is_left(ended: &Outcome) -> bool {
    (ended.sent, ended.received) == (0, 0)
}

/// One cut after `bytes` bytes, and the sync after it.
fn cut_after(bytes: usize, prepared: &Path, at: &Path, whole: &str) {
    let [coach, phone] = copy(prepared, at);
    let (near, far, crossed) = meet(&phone, Part::Caller, &coach, bytes);
    assert_eq!(crossed, bytes);
    assert!(near.is_err() || far.is_err(), "cut after {bytes} bytes");
    let held = rests(&coach);
    assert_eq!(held % SEALED as usize, 0, "cut after {bytes} bytes: whole seals only");
    let (near, far, _) = meet(&phone, Part::Caller, &coach, usize::MAX);
    let (near, far) = (near.unwrap(), far.unwrap());
    let all = 3 * SEALED as usize;
    assert_eq!(far.received, (all - held) as u64, "cut after {bytes} bytes: nothing is sent again");
    assert_eq!(near.received, far.sent);
    assert!(near.forked.is_empty() && far.forked.is_empty());
    for book in [&coach, &phone] {
        assert!(state(book) == whole, "cut after {bytes} bytes");
        assert!(book.uncounted().unwrap().is_empty() && book.aside().unwrap().is_empty());
        assert_eq!(rests(book), all);
    }
}

#[test]
fn a_sync_cut_after_any_byte_loses_nothing_and_takes_nothing_twice() {
    let prepared = folder();
    prepare(prepared.path());
    let at = folder();
    let [coach, phone] = copy(prepared.path(), at.path());
    let before = state(&coach);
    let (near, far, bytes) = meet(&phone, Part::Caller, &coach, usize::MAX);
    assert_eq!((near.unwrap().received, far.unwrap().received), (1, 3 * SEALED as u64));
    let whole = state(&coach);
    assert_eq!(whole, state(&phone));
    assert_ne!(whole, before);
    assert!(nothing_is_left(&meet(&phone, Part::Caller, &coach, usize::MAX).0.unwrap()));

    let next = AtomicUsize::new(0);
    let workers = thread::available_parallelism().map_or(1, usize::from);
    thread::scope(|scope| {
        for _ in 0..workers {
            scope.spawn(|| {
                let at = folder();
                loop {
                    let n = next.fetch_add(1, Ordering::Relaxed);
                    if n >= bytes {
                        break;
                    }
                    cut_after(n, prepared.path(), at.path(), &whole);
                }
            });
        }
    });
    println!("{bytes} bytes, cut after each");
}
