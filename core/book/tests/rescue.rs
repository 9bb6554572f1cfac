//! What is left of a book whose file was damaged: it is opened, or said to be
//! damaged; what can be read is rescued, and the rest comes from a peer.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod folders;

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::LazyLock;

use folders::{At, NOW, count, files_with, folder, identity, join, rebuilt, rest, squad, state, sync, train};
use pitside_book::clock::Clock;
use pitside_book::store::{Book, BookError, FILE, Lost, Rescued};
use pitside_model::facts::{Grant, MemberId, Role, Scope, kind};
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
#[derive(Debug, PartialEq, Eq)]
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

/// How many ended whole, in part, and beyond rescue.
fn ends(cases: impl Iterator<Item = (String, TempDir)>) -> [usize; 3] {
    let mut ends = [0; 3];
    for (what, at) in cases {
        match survive(&what, &at) {
            End::Whole => ends[0] += 1,
            End::Part => ends[1] += 1,
            End::Beyond => ends[2] += 1,
        }
    }
    ends
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
    // The page of the schema, those of the settings, and pages below them.
    let [_, _, beyond] = ends(cases);
    assert!(beyond <= 4, "{beyond} of {pages}");
}

#[test]
fn a_byte_that_flipped() {
    let stride = ORIGIN.file.len() / 43;
    let cases = (0..43).map(|n| {
        let at = n * stride + n;
        let mut file = ORIGIN.file.clone();
        file[at] ^= 1 << (n % 8);
        (format!("byte {at}"), place(&file, Some(&ORIGIN.log)))
    });
    let [whole, _, beyond] = ends(cases);
    assert!(whole >= 28 && beyond <= 2, "{whole} whole, {beyond} beyond rescue");
}

#[test]
fn a_file_that_was_cut_off() {
    let cases = (0..16).map(|n| {
        let length = ORIGIN.file.len() * n / 16 + n * 100;
        (format!("{length} bytes"), place(&ORIGIN.file[..length], None))
    });
    let [_, part, beyond] = ends(cases);
    // Where the schema, which SQLite reads whole, is not cut off.
    assert!(part >= 8, "{part} in part, {beyond} beyond rescue");
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
    let [_, part, beyond] = ends(cases);
    assert!(part >= 10 && beyond == 0, "what was in the log alone is on no other device");
}

/// A book of a few entries of which one was taken out of the middle.
fn without(place: &TempDir, which: &str) {
    let c = Connection::open(place.path().join(FILE)).unwrap();
    c.pragma_update(None, "foreign_keys", "OFF").unwrap();
    let gone = c.execute(&format!("DELETE FROM entries WHERE {which}"), []).unwrap();
    assert_eq!(gone, 1, "{which}");
    c.close().unwrap();
}

#[test]
fn what_is_missing_is_said_log_by_log() {
    let at = place(&ORIGIN.file, Some(&ORIGIN.log));
    let c = Connection::open(at.path().join(FILE)).unwrap();
    let (line, last): (i64, u64) = c
        .query_row(
            "SELECT id, head_seq FROM lines WHERE device = ?1",
            [identity(PHONE).key().0.as_slice()],
            |r| Ok((r.get(0)?, r.get(1)?)),
        )
        .unwrap();
    c.close().unwrap();
    // Not at a seal: what follows the last one before it is the device's own to seal.
    without(&at, &format!("line = {line} AND seq = 101"));
    let rescued = Book::rescue(at.path(), identity(PHONE), NOW.now()).unwrap();
    let [Lost::Log { device, scope, after, until, .. }] = rescued.lost.as_slice() else {
        panic!("{:?}", rescued.lost)
    };
    assert_eq!((*device, *scope), (rescued.book.device(), Some(Scope::Member(ORIGIN.member))));
    assert_eq!((*after, *until), (100, last));
    assert!(rescued.book.was_a_copy().unwrap(), "the heads kept apart lie further on");
    drop(rescued);
    survive("an entry less", &at);
}

#[test]
fn a_coach_whose_founding_is_lost_gathers_the_squad_again_from_a_phone() {
    let (coach_place, phone_place) = (folder(), folder());
    let (coach, phone, member) = squad(coach_place.path(), phone_place.path());
    train(&phone, member, 0..3, "low hops");
    sync(&phone, &coach, At(1));
    let (members, before) = (coach.members().unwrap(), state(&coach));
    coach.close().unwrap();
    without(&coach_place, "line = 1 AND seq = 1");
    let Rescued { book: coach, lost, .. } =
        Book::rescue(coach_place.path(), identity(1), At(2).now()).unwrap();
    assert!(lost.contains(&Lost::Admission), "{lost:?}");
    assert_eq!((coach.squad(), coach.recovers().unwrap()), (None, phone.squad()));
    join(&phone, &coach, Grant::new(Role::Athlete, vec![]));
    assert_eq!(coach.squad(), phone.squad());
    assert_eq!(coach.members().unwrap(), members);
    assert!(state(&coach) == before);
    assert!(coach.uncounted().unwrap().is_empty());
    for book in [&coach, &phone] {
        rebuilt(book);
    }
    // And it is the owner that it was.
    coach.add_member("Ada", At(3).now()).unwrap();
    sync(&phone, &coach, At(4));
}

#[test]
fn a_book_of_which_nothing_can_be_read_is_left_and_said_to_be() {
    for what in ["schema", "no database", "empty"] {
        let bytes = match what {
            "schema" => {
                let mut file = ORIGIN.file.clone();
                file[100..PAGE].fill(0);
                file
            }
            "no database" => vec![0x5a; 10_000],
            _ => Vec::new(),
        };
        let at = place(&bytes, None);
        match Book::rescue(at.path(), identity(PHONE), NOW.now()) {
            Err(e @ BookError::BeyondRescue(_)) => {
                assert!(e.to_string().contains("Restore a backup, or pair this device anew"));
            }
            other => panic!("{what}: {other:?}"),
        }
        assert_eq!(std::fs::read(at.path().join(FILE)).unwrap(), bytes, "{what}");
        assert!(!at.path().join("book.new").exists(), "{what}");
    }
    let none = folder();
    assert!(matches!(Book::rescue(none.path(), identity(1), NOW.now()), Err(BookError::Missing(_))));
    let other = place(&ORIGIN.file, None);
    assert!(matches!(Book::rescue(other.path(), identity(9), NOW.now()), Err(BookError::OtherDevice(_))));
    // A place of its own: another test opens the phone's.
    let own = place(&ORIGIN.file, None);
    let _open = Book::open(own.path(), identity(PHONE)).unwrap();
    let refused = Book::rescue(own.path(), identity(PHONE), NOW.now());
    assert!(matches!(refused, Err(BookError::InUse(_))));
}

#[test]
fn a_damaged_copy_goes_when_somebody_is_erased() {
    const SENTINEL: &str = "sentinel-51ce";
    let (place, _phone_place) = (folder(), folder());
    let (coach, _phone, _) = squad(place.path(), _phone_place.path());
    let member = coach.add_member("Ada", NOW.now()).unwrap();
    train(&coach, member, 0..2, SENTINEL);
    coach.close().unwrap();
    let Rescued { book: coach, .. } = Book::rescue(place.path(), identity(1), At(1).now()).unwrap();
    assert!(files_with(place.path(), SENTINEL.as_bytes()).iter().any(|name| name.contains("damaged")));
    coach.erase_member(member, At(2).now()).unwrap();
    assert_eq!(files_with(place.path(), SENTINEL.as_bytes()), [""; 0]);
}
