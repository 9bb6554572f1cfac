//! Books as released versions wrote them: each opens, says what it said, and can be
//! written on. `books/README.md` says how the next version's is added.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::path::{Path, PathBuf};

use pitside_book::clock::Stamp;
use pitside_book::keys::{Identity, Seed};
use pitside_book::store::{Book, Draft, FILE, Filter};
use pitside_model::facts::{Card, Day, Fact, Leg, RestDay, Scope, Session, Set, Subject, kind};
use pitside_model::load::catalogue;
use tempfile::TempDir;
use zeroize::Zeroizing;

const NOW: Stamp = Stamp { ms: 1_790_000_000_000, zone_min: 60 };

fn books() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/books")
}

/// The key of every stored book: it protects nothing.
fn identity() -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([42; 32])))
}

/// Writes the book of the current version into the folder that the variable names.
#[test]
fn the_book_of_this_version_is_written_where_that_is_asked_for() {
    let Ok(to) = std::env::var("PITSIDE_STORE_BOOK") else { return };
    let folder = TempDir::new().unwrap();
    let book = Book::create(folder.path(), identity(), false).unwrap();
    let member = book.start_member(NOW).unwrap();
    let scope = Scope::Member(member);
    let day = Day::parse("2026-09-21").unwrap();
    let session = Session {
        day,
        start_min: Some(1_020),
        purpose: Some("low hops".into()),
        location: None,
        surface: None,
        shoes: None,
        weather: None,
        cut_short: None,
    };
    let session = book.write(scope, &Draft::new(Fact::Session(session)), NOW).unwrap();
    for reps in [8, 10, 12] {
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
        book.write(scope, &Draft::new(Fact::Set(set)), NOW).unwrap();
    }
    book.found("Quay jumps", NOW).unwrap();
    for name in ["Ino", "Ino Vale"] {
        let fact = Fact::Card(Card::Name(name.into()));
        book.revise(scope, Subject::Uuid(member.0), fact, NOW).unwrap();
    }
    let drafts: Vec<_> =
        (0..300).map(|n| (scope, Draft::new(Fact::Rest(RestDay { day: day.plus(n) })))).collect();
    book.write_all(&drafts, NOW).unwrap();
    let other = book.add_member("Ada", NOW).unwrap();
    book.erase_member(other, NOW).unwrap();
    let file = Path::new(&to).join("book.sqlite");
    book.back_up(&file, NOW).unwrap();
}

#[test]
fn every_stored_book_opens_and_says_what_it_said() {
    let mut tried = 0;
    for stored in std::fs::read_dir(books()).unwrap() {
        let stored = stored.unwrap().path();
        if !stored.is_dir() {
            continue;
        }
        tried += 1;
        let folder = TempDir::new().unwrap();
        std::fs::copy(stored.join(FILE), folder.path().join(FILE)).unwrap();
        let book = Book::open(folder.path(), identity()).unwrap();
        let of = |kind| book.held(&Filter { kind: Some(kind), ..Filter::default() }).unwrap();
        assert!(book.squad().is_some() && !book.is_demo());
        assert_eq!(of(kind::REST).len(), 300, "{}", stored.display());
        let reps: Vec<_> = of(kind::SET)
            .iter()
            .filter_map(|h| match h.fact() {
                Some(Fact::Set(set)) => Some(set.reps),
                _ => None,
            })
            .collect();
        let mut sorted = reps.clone();
        sorted.sort_unstable();
        assert_eq!(sorted, [8, 10, 12]);
        let names = book.held(&Filter { field: Some("name"), ..Filter::default() }).unwrap();
        let called = |h: &pitside_book::store::Held| match h.fact() {
            Some(Fact::Card(Card::Name(name)) | Fact::SquadName(name)) => name.clone(),
            other => panic!("{other:?}"),
        };
        let mut called: Vec<_> = names.iter().map(called).collect();
        called.sort();
        assert_eq!(called, ["Ino Vale", "Quay jumps"]);
        assert_eq!(of(kind::EXERCISE).len(), 19);
        assert_eq!(book.members().unwrap().len(), 1, "the erased one is gone");
        assert!(book.uncounted().unwrap().is_empty());
        assert!(book.check(&mut |_, _| true).unwrap().is_empty());
        let shown = format!("{:?}", book.held(&Filter::default()).unwrap());
        book.rebuild().unwrap();
        assert_eq!(shown, format!("{:?}", book.held(&Filter::default()).unwrap()));
        let member = book.members().unwrap()[0];
        let rest = Draft::new(Fact::Rest(RestDay { day: Day::parse("2025-01-01").unwrap() }));
        book.write(Scope::Member(member), &rest, NOW).unwrap();
        assert_eq!(of(kind::REST).len(), 301);
    }
    assert!(tried > 0, "the collection is there");
}
