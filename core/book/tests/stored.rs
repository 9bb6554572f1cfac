//! Books of every released version are opened by this one, and hold what they
//! held.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod folders;

use std::path::{Path, PathBuf};

use folders::{At, NOW, count, files_with, folder, rebuilt, state, train};
use pitside_book::clock::Clock;
use pitside_book::keys::{Identity, Seed};
use pitside_book::store::{Book, Draft, FILE, Filter};
use pitside_log::authority::{Judgement, Reason};
use pitside_model::facts::{
    Card, Conditions, Day, Fact, Jump, JumpEvent, MemberId, Outcome, Phases, Scope, Session, kind,
};
use rusqlite::Connection;
use uuid::Uuid;
use zeroize::Zeroizing;

fn collection() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books")
}

/// The versions in the collection.
fn versions() -> Vec<u32> {
    let files = std::fs::read_dir(collection()).unwrap();
    let names = files.map(|file| file.unwrap().file_name().into_string().unwrap());
    let mut versions: Vec<u32> = names
        .filter_map(|name| name.strip_prefix("version-")?.strip_suffix(".sqlite")?.parse().ok())
        .collect();
    versions.sort_unstable();
    versions
}

fn seed(version: u32) -> Identity {
    let seed = std::fs::read(collection().join(format!("version-{version}.seed"))).unwrap();
    Identity::from_seed(Seed::from_bytes(Zeroizing::new(seed.try_into().unwrap())))
}

/// A copy of a stored book, opened.
fn open(version: u32) -> (Book, tempfile::TempDir) {
    let at = folder();
    std::fs::copy(collection().join(format!("version-{version}.sqlite")), at.path().join(FILE)).unwrap();
    (Book::open(at.path(), seed(version)).unwrap(), at)
}

#[test]
fn there_is_a_book_of_every_version_up_to_this_one() {
    let at = folder();
    Book::create(at.path(), seed(1), false).unwrap().close().unwrap();
    let current: u32 = Connection::open(at.path().join(FILE))
        .unwrap()
        .query_row("PRAGMA user_version", [], |r| r.get(0))
        .unwrap();
    assert_eq!(versions(), (1..=current).collect::<Vec<_>>());
}

#[test]
fn every_stored_book_is_whole_and_can_be_written_backed_up_and_rescued() {
    for version in versions() {
        let (book, at) = open(version);
        assert_eq!(book.check(&mut |_, _| true).unwrap(), [""; 0], "version {version}");
        rebuilt(&book);
        let before = state(&book);
        let member = book.members().unwrap()[0];
        train(&book, member, 90..91, "written by a later version");
        assert_eq!(state(&book).len(), before.len() + 6);
        rebuilt(&book);
        let backup = at.path().join("backup");
        book.back_up(&backup, NOW.now()).unwrap();
        let held = state(&book);
        book.close().unwrap();
        let book = Book::restore(&backup, at.path(), seed(version), At(1).now()).unwrap();
        assert!(state(&book) == held);
        book.close().unwrap();

        // Straight from the version it was written by.
        let at = folder();
        std::fs::copy(collection().join(format!("version-{version}.sqlite")), at.path().join(FILE)).unwrap();
        let rescued = Book::rescue(at.path(), seed(version), NOW.now()).unwrap();
        assert_eq!(rescued.lost, []);
        assert!(state(&rescued.book) == before);
        rebuilt(&rescued.book);
    }
}

/// A jump that came while the program could not read one stands without its day; where it
/// is read, it is found by its day.
#[test]
fn what_an_earlier_program_could_not_read_is_projected_anew() {
    let (book, at) = open(2);
    let member = book.members().unwrap()[0];
    let day = Day::parse("2026-06-13").unwrap();
    let jump = Fact::Jump(Jump {
        day,
        event: JumpEvent::Long,
        indoor: false,
        competition: true,
        place: None,
        attempt: Some(1),
        outcome: Outcome::Foul,
        toe_mm: Some(12),
        wind: None,
        wind_rule: None,
        approach: None,
        start_mm: None,
        pit_mm: None,
        board: None,
        phases: Phases::default(),
        take: None,
    });
    book.write(Scope::Member(member), &Draft::new(jump.clone()), NOW.now()).unwrap();
    book.close().unwrap();
    let c = Connection::open(at.path().join(FILE)).unwrap();
    let as_before = "UPDATE live SET day = NULL WHERE topic IN (SELECT id FROM topics WHERE kind = ?1)";
    assert_eq!(c.execute(as_before, [kind::JUMP]).unwrap(), 1);
    // The projection of the last program that knew no jumps.
    let version = 2_u32.to_be_bytes();
    c.execute("UPDATE meta SET value = ?1 WHERE name = 'projection'", [version.as_slice()]).unwrap();
    c.close().unwrap();
    let book = Book::open(at.path(), seed(2)).unwrap();
    let that_day = Filter { kind: Some(kind::JUMP), days: Some((day, day)), ..Filter::default() };
    let found = book.held(&that_day).unwrap();
    assert_eq!(found.iter().map(|held| held.fact()).collect::<Vec<_>>(), [Some(&jump)]);
    rebuilt(&book);
}

/// What is another in every stored book.
struct Written {
    version: u32,
    squad: &'static str,
    member: &'static str,
    erased: &'static str,
    session: &'static str,
}

#[test]
fn version_1_holds_what_was_written() {
    holds(&Written {
        version: 1,
        squad: "46a7bd481f68cd7d8b894732c4954ce507e6009d72b8ec4b924a116ffb289474",
        member: "01a0c450-6c00-7fbd-b2ab-5d875eb5139a",
        erased: "01a0c450-6c00-7dfb-8b35-33b61ae94ffe",
        session: "06a7b60a4d1c9a5f157eb6568733fb755c0609b8793a9b54ccd731215d1f2dfb",
    });
}

#[test]
fn version_2_holds_what_was_written() {
    holds(&Written {
        version: 2,
        squad: "4ae379f3aa3bcc269134ecade30a628f8fa2c7e0e9ef58f83e883f282ce80c60",
        member: "01a0c450-6c00-740f-aa3d-54c37fdbe777",
        erased: "01a0c450-6c00-7c69-bbac-e6a8e689a249",
        session: "8030db2705b32ac73bebdff26f94a2a755feac894ca5a0488ae732060f9dbbe5",
    });
}

fn holds(written: &Written) {
    let (book, at) = open(written.version);
    let hex = |bytes: &[u8]| data_encoding::HEXLOWER.encode(bytes);
    let kind_of = |kind| book.held(&Filter { kind: Some(kind), ..Filter::default() }).unwrap();
    assert_eq!(
        hex(&book.device().0),
        "8a88e3dd7409f195fd52db2d3cba5d72ca6709bf1d94121bf3748801b40f6f5c",
        "the public key of this seed"
    );
    assert_eq!(hex(&book.squad().unwrap().0), written.squad);
    assert!(!book.is_demo() && !book.was_a_copy().unwrap());
    let name = book.held(&Filter { kind: Some(kind::SQUAD), field: Some("name"), ..Filter::default() });
    assert_eq!(name.unwrap()[0].fact(), Some(&Fact::SquadName("Quay jumps".into())));

    // The phone's member; the other was erased.
    let member = MemberId(Uuid::parse_str(written.member).unwrap());
    let erased = MemberId(Uuid::parse_str(written.erased).unwrap());
    assert_eq!(book.members().unwrap(), [member]);
    assert_eq!(book.authority().unwrap().erased.iter().collect::<Vec<_>>(), [&erased]);
    assert_eq!(files_with(at.path(), b"to be erased"), [""; 0]);

    // The coach, the phone, and the assistant that was removed and wrote on.
    let devices = book.devices().unwrap();
    let standing = |begin: &str| {
        let found = devices.iter().find(|(device, _)| hex(&device.0).starts_with(begin)).unwrap();
        (found.1.grants.owner, found.1.grants.serves.contains(&member), found.1.cut.is_some())
    };
    assert_eq!(devices.len(), 3);
    assert_eq!(standing("8a88e3dd"), (true, false, false));
    assert_eq!(standing("8139770e"), (false, true, false));
    assert_eq!(standing("ed4928c6"), (false, false, true));
    let uncounted = book.uncounted().unwrap();
    assert_eq!(uncounted.len(), 6);
    assert!(uncounted.iter().all(|late| late.judgement == Judgement::Refused(Reason::Removed)));

    let session = &kind_of(kind::SESSION)[0];
    assert_eq!(hex(&session.value().hash.0), written.session);
    assert_eq!(
        session.fact(),
        Some(&Fact::Session(Session {
            day: Day::parse("2026-02-01").unwrap(),
            start_min: None,
            purpose: Some("low hops".into()),
            location: None,
            surface: None,
            shoes: None,
            weather: None,
            cut_short: None,
            conditions: Conditions::default(),
        }))
    );
    let sets = book.held(&Filter { session: session.id(), kind: Some(kind::SET), ..Filter::default() });
    let reps: Vec<u16> = sets
        .unwrap()
        .iter()
        .map(|set| match set.fact() {
            Some(Fact::Set(set)) => set.reps,
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(reps, [5, 6, 7, 8, 9]);
    let names = book.held(&Filter { field: Some("name"), kind: Some(kind::MEMBER), ..Filter::default() });
    let names: Vec<Fact> = names.unwrap()[0].values.iter().map(|v| v.fact.clone().unwrap()).collect();
    let clash = ["Ino Quay", "Inosh"].map(|name| Fact::Card(Card::Name(name.into())));
    assert!(names.len() == 2 && clash.iter().all(|name| names.contains(name)), "{names:?}");
    assert!(matches!(kind_of(kind::CHECK_IN)[0].fact(), Some(Fact::CheckIn(c)) if c.hurts[0].score == 4));
    assert!(book.consents(member).unwrap().coach);
    assert!(matches!(kind_of(kind::LIMIT)[0].fact(), Some(Fact::Limit(l)) if l.max_box_mm == Some(400)));
    let counts = [kind::SESSION, kind::SET, kind::REST, kind::EXERCISE].map(|kind| count(&book, kind));
    assert_eq!(counts, [2, 10, 2, 19], "one day of rest was withdrawn");

    assert_eq!(book.local("draft").unwrap().unwrap(), b"half a set");
    let peers = book.peers().unwrap();
    let phone = peers.iter().find(|peer| hex(&peer.device.0).starts_with("8139770e")).unwrap();
    assert_eq!(
        (phone.addresses.as_slice(), phone.met_ms),
        (&["127.0.0.1:4711".into()][..], Some(At(4).now().ms))
    );
    let c = Connection::open(at.path().join(FILE)).unwrap();
    let rows = ["entries", "seals", "lines", "receipts", "invitations"].map(|table| {
        c.query_row(&format!("SELECT count(*) FROM {table}"), [], |r| r.get::<_, u32>(0)).unwrap()
    });
    assert_eq!(rows, [55, 9, 5, 12, 3]);
}
