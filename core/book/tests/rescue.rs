//! What is left of a book whose file was damaged: it is opened, or said to be
//! damaged; what can be read is rescued, and the rest comes from a peer.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::LazyLock;

use meeting::{At, NOW, count, folder, identity, join, rebuilt, rest, squad, state, sync, train};
use pitside_book::clock::Clock;
use pitside_book::store::{Book, BookError, FILE, Lost, Rescued};
use pitside_model::facts::{Grant, MemberId, Role, kind};
use rusqlite::Connection;
use tempfile::TempDir;

const PAGE: usize = 4_096;
const PHONE: u8 = 2;

/// The books of a coach and a phone after a few weeks, as files.
struct Origin {
    coach: TempDir,
    phone: TempDir,
    /// The phone's file and its log, before the log was folded in.
    file: Vec<u8>,
    log: Vec<u8>,
    member: MemberId,
    /// Every entry that the phone has.
    hashes: BTreeSet<Vec<u8>>,
    /// Those of them that the coach has too.
    synced: BTreeSet<Vec<u8>>,
}

fn hashes(file: &Path) -> BTreeSet<Vec<u8>> {
    let c = Connection::open(file).unwrap();
    let mut entries = c.prepare("SELECT hash FROM entries").unwrap();
    entries.query_map([], |r| r.get(0)).unwrap().collect::<Result<_, _>>().unwrap()
}

static ORIGIN: LazyLock<Origin> = LazyLock::new(|| {
    let (coach_place, phone_place) = (folder(), folder());
    let (coach, phone, member) = squad(coach_place.path(), phone_place.path());
    train(&phone, member, 0..45, "low hops");
    rest(&phone, member, 0..20);
    sync(&phone, &coach, At(1));
    train(&coach, member, 45..50, "written by the coach");
    sync(&phone, &coach, At(2));
    phone.set_local("draft", Some(b"half a set")).unwrap();
    phone.close().unwrap();
    let phone = Book::open(phone_place.path(), identity(PHONE)).unwrap();
    // Not sealed yet, and in the log alone.
    train(&phone, member, 50..53, "nobody else has it");
    let read = |name: &str| std::fs::read(phone_place.path().join(name)).unwrap();
    let (file, log) = (read(FILE), read("book.sqlite-wal"));
    drop(phone);
    coach.close().unwrap();
    Origin {
        file,
        log,
        member,
        hashes: hashes(&phone_place.path().join(FILE)),
        synced: hashes(&coach_place.path().join(FILE)),
        coach: coach_place,
        phone: phone_place,
    }
});

/// A folder of the phone with its heads and these files.
fn place(file: &[u8], log: Option<&[u8]>) -> TempDir {
    let at = folder();
    std::fs::write(at.path().join(FILE), file).unwrap();
    if let Some(log) = log {
        std::fs::write(at.path().join("book.sqlite-wal"), log).unwrap();
    }
    std::fs::copy(ORIGIN.phone.path().join("device.heads"), at.path().join("device.heads")).unwrap();
    at
}

/// The coach's book, on its own.
fn coach() -> (Book, TempDir) {
    let at = folder();
    std::fs::copy(ORIGIN.coach.path().join(FILE), at.path().join(FILE)).unwrap();
    (Book::open(at.path(), identity(1)).unwrap(), at)
}

/// How a damage ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum End {
    /// A new book has every entry.
    Whole,
    /// A new book has some of them.
    Part,
    /// Nothing can be read.
    Beyond,
}

/// Opens and rescues a damaged book, checks what must hold whatever the damage
/// was, and syncs with the coach.
fn survive(what: &str, at: &TempDir) -> End {
    let file = at.path().join(FILE);
    let (bytes, log) = (std::fs::read(&file).unwrap(), std::fs::read(at.path().join("book.sqlite-wal")));
    match Book::open(at.path(), identity(PHONE)) {
        Ok(book) => drop(book),
        Err(BookError::Damaged { .. }) => {}
        // The very bytes that name version or device.
        Err(BookError::Newer { .. } | BookError::OtherDevice(_)) => {}
        Err(other) => panic!("{what}: {other:?}"),
    }
    let heads = "device.heads";
    std::fs::copy(ORIGIN.phone.path().join(heads), at.path().join(heads)).unwrap();
    std::fs::write(&file, &bytes).unwrap();
    if let Ok(log) = log {
        std::fs::write(at.path().join("book.sqlite-wal"), log).unwrap();
    }
    let rescued = match Book::rescue(at.path(), identity(PHONE), At(9).now()) {
        Ok(rescued) => rescued,
        Err(BookError::BeyondRescue(_)) => {
            assert_eq!(std::fs::read(&file).unwrap(), bytes, "{what}: it is left as it was");
            return End::Beyond;
        }
        Err(other) => panic!("{what}: {other:?}"),
    };
    let Rescued { book, entries, lost, .. } = rescued;
    let kept = at.path().join(format!("book.sqlite.damaged-{}", At(9).now().ms));
    assert_eq!(std::fs::read(kept).unwrap(), bytes, "{what}: the damaged file is kept");
    let held = hashes(&file);
    assert_eq!(held.len() as u64, entries, "{what}");
    assert!(held.is_subset(&ORIGIN.hashes), "{what}: an entry was invented");
    assert_eq!(book.check(&mut |_, _| true).unwrap(), [""; 0], "{what}");
    rebuilt(&book);
    let whole = held == ORIGIN.hashes;
    assert!(
        whole || !lost.is_empty(),
        "{what}: {} entries are lost and nothing is said",
        ORIGIN.hashes.len() - held.len()
    );

    let (coach, _place) = coach();
    assert_eq!(book.own_members().unwrap(), [ORIGIN.member], "{what}");
    train(&book, ORIGIN.member, 60..61, "after");
    // Where the coach's word on this phone is lost, the phone is invited again.
    assert_eq!(book.squad().is_none(), lost.contains(&Lost::Admission), "{what}");
    if book.squad().is_none() {
        join(&book, &coach, Grant::new(Role::Athlete, vec![]));
    }
    sync(&book, &coach, At(10));
    let after = hashes(&file);
    assert!(after.is_superset(&ORIGIN.synced), "{what}: what was synced is not back");
    assert!(after.is_superset(&held), "{what}");
    assert_eq!(count(&book, kind::SESSION), count(&coach, kind::SESSION), "{what}");
    assert!(state(&book) == state(&coach), "{what}: the two differ");
    assert!(book.uncounted().unwrap().is_empty() && coach.uncounted().unwrap().is_empty(), "{what}");
    let lines: i64 = Connection::open(&file)
        .unwrap()
        .query_row("SELECT count(*) FROM lines WHERE parent IS NOT NULL", [], |r| r.get(0))
        .unwrap();
    assert_eq!(lines, 0, "{what}: a place was written twice");
    rebuilt(&book);
    if whole { End::Whole } else { End::Part }
}

/// How often each end came, for what a test expects at least.
fn ends(cases: impl Iterator<Item = (String, TempDir)>) -> Vec<(End, usize)> {
    let mut ends = std::collections::BTreeMap::new();
    for (what, at) in cases {
        *ends.entry(survive(&what, &at)).or_insert(0) += 1;
    }
    ends.into_iter().collect()
}

#[test]
fn a_book_that_is_not_damaged_is_rescued_whole() {
    assert_eq!(ORIGIN.file.len() % PAGE, 0);
    assert!(ORIGIN.hashes.len() > 350 && ORIGIN.log.len() > PAGE);
    let at = place(&ORIGIN.file, Some(&ORIGIN.log));
    let Rescued { book, entries, logs, lost } = Book::rescue(at.path(), identity(PHONE), NOW.now()).unwrap();
    assert_eq!(lost, []);
    assert_eq!(entries, ORIGIN.hashes.len() as u64, "what is in the log alone too");
    assert_eq!(logs, 3);
    assert!(!book.was_a_copy().unwrap());
    assert_eq!(book.local("draft").unwrap().unwrap(), b"half a set");
    let whole = Book::open(ORIGIN.phone.path(), identity(PHONE)).unwrap();
    assert_eq!(state(&book), state(&whole));
    assert_eq!(book.peers().unwrap(), whole.peers().unwrap());
    assert_eq!(book.carried().unwrap(), whole.carried().unwrap());
    assert_eq!((book.squad(), book.is_demo()), (whole.squad(), whole.is_demo()));
    assert_eq!(book.own_members().unwrap(), whole.own_members().unwrap());
    drop(whole);
    drop(book);
    assert_eq!(survive("not damaged", &place(&ORIGIN.file, Some(&ORIGIN.log))), End::Whole);
}

#[test]
fn a_page_of_zeros() {
    let pages = ORIGIN.file.len() / PAGE;
    let cases = (0..pages).map(|page| {
        let mut file = ORIGIN.file.clone();
        file[page * PAGE..(page + 1) * PAGE].fill(0);
        (format!("page {page} of {pages}"), place(&file, None))
    });
    let ends = ends(cases);
    println!("{ends:?}");
}

#[test]
fn a_byte_that_flipped() {
    let stride = ORIGIN.file.len() / 61;
    let cases = (0..61).map(|n| {
        let at = n * stride + n;
        let mut file = ORIGIN.file.clone();
        file[at] ^= 1 << (n % 8);
        (format!("byte {at}"), place(&file, Some(&ORIGIN.log)))
    });
    let ends = ends(cases);
    println!("{ends:?}");
}

#[test]
fn a_file_that_was_cut_off() {
    let cases = (0..16).map(|n| {
        let length = ORIGIN.file.len() * n / 16 + n * 100;
        (format!("{length} bytes"), place(&ORIGIN.file[..length], None))
    });
    let ends = ends(cases);
    println!("{ends:?}");
}

#[test]
fn a_damaged_log() {
    let length = ORIGIN.log.len();
    let cases = (0..12).map(|n| {
        let mut log = ORIGIN.log.clone();
        let at = length * n / 12;
        match n % 3 {
            0 => log[at] ^= 0x10,
            1 => log.truncate(at),
            _ => log[at..(at + 600).min(length)].fill(0),
        }
        (format!("log, way {} at {at}", n % 3), place(&ORIGIN.file, Some(&log)))
    });
    let ends = ends(cases);
    println!("{ends:?}");
}
