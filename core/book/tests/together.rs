//! Many facts in one transaction: all of them are in the book, or none is.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use pitside_book::clock::Stamp;
use pitside_book::keys::{Identity, Seed};
use pitside_book::store::{Book, BookError, Draft, Filter, Together};
use pitside_model::facts::{
    Conditions, Day, Effort, Fact, Hash, MemberId, RestDay, Scope, Session, Subject, kind,
};
use tempfile::TempDir;
use zeroize::Zeroizing;

const NOW: Stamp = Stamp { ms: 1_790_000_000_000, zone_min: 60 };

fn identity() -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([1; 32])))
}

fn coach(folder: &TempDir) -> Book {
    let book = Book::create(folder.path(), identity(), false).unwrap();
    book.found("Quay jumps", NOW).unwrap();
    book
}

fn day(number: i32) -> Day {
    Day::parse("2026-09-21").unwrap().plus(number)
}

fn session(number: i32) -> Draft {
    Draft::new(Fact::Session(Session {
        day: day(number),
        start_min: None,
        purpose: None,
        location: None,
        surface: None,
        shoes: None,
        weather: None,
        cut_short: None,
        conditions: Conditions::default(),
    }))
}

fn effort(session: Hash, rpe_tenths: u16) -> Draft {
    Draft::about(Subject::Fact(session), Fact::Effort(Effort { rpe_tenths, minutes: 60 }))
}

fn rest(number: i32) -> Draft {
    Draft::new(Fact::Rest(RestDay { day: day(number) }))
}

/// A new athlete, three rated sessions, and as many rest days as fill several seals.
fn work(together: &Together<'_>, rpe_tenths: [u16; 3]) -> Result<MemberId, BookError> {
    let member = together.add_member("Ino")?;
    let scope = Scope::Member(member);
    for (number, rpe_tenths) in (0..).zip(rpe_tenths) {
        let session = together.write(scope, &session(number))?;
        together.write(scope, &effort(session, rpe_tenths))?;
    }
    for number in 10..710 {
        together.write(scope, &rest(number))?;
    }
    Ok(member)
}

/// What the book holds: members, sessions, ratings, rest days, entries in doubt.
fn held(book: &Book) -> [usize; 5] {
    let all =
        |kind, field| book.held(&Filter { kind: Some(kind), field, ..Filter::default() }).unwrap().len();
    [
        book.members().unwrap().len(),
        all(kind::SESSION, Some("")),
        all(kind::SESSION, Some("effort")),
        all(kind::REST, None),
        book.uncounted().unwrap().len(),
    ]
}

#[test]
fn facts_that_name_each_other_are_written_together() {
    let folder = TempDir::new().unwrap();
    let book = coach(&folder);
    let member = book.together(NOW, |together| work(together, [60, 50, 40])).unwrap();
    assert_eq!(held(&book), [1, 3, 3, 700, 0]);
    assert_eq!(book.members().unwrap(), [member]);
    book.close().unwrap();
    let book = Book::open(folder.path(), identity()).unwrap();
    assert_eq!(held(&book), [1, 3, 3, 700, 0]);
    assert!(!book.was_a_copy().unwrap());
}

#[test]
fn a_failure_in_the_middle_takes_everything_back() {
    let folder = TempDir::new().unwrap();
    let book = coach(&folder);
    let revision = book.revision();
    // The third rating is out of its range, the rest is sound.
    let refused = book.together(NOW, |together| work(together, [60, 50, 101])).unwrap_err();
    assert!(matches!(refused, BookError::Refused(_)), "{refused}");
    // So is what fails after everything was written.
    let refused = book.together(NOW, |together| {
        work(together, [60, 50, 40])?;
        Err::<(), _>(BookError::Unknown("that"))
    });
    assert!(matches!(refused, Err(BookError::Unknown(_))));
    assert_eq!(held(&book), [0; 5]);
    assert_eq!(book.revision(), revision);
    // The book goes on as if nothing had been tried.
    book.together(NOW, |together| work(together, [60, 50, 40])).unwrap();
    assert_eq!(held(&book), [1, 3, 3, 700, 0]);
    book.close().unwrap();
    let book = Book::open(folder.path(), identity()).unwrap();
    assert_eq!(held(&book), [1, 3, 3, 700, 0]);
    assert!(!book.was_a_copy().unwrap());
}

#[test]
fn a_rehearsal_fails_where_writing_would_and_leaves_nothing() {
    let folder = TempDir::new().unwrap();
    let book = coach(&folder);
    let revision = book.revision();
    book.rehearse(NOW, |together| work(together, [60, 50, 40])).unwrap();
    let refused = book.rehearse(NOW, |together| work(together, [101, 50, 40])).unwrap_err();
    assert!(matches!(refused, BookError::Refused(_)), "{refused}");
    assert_eq!(held(&book), [0; 5]);
    assert_eq!(book.revision(), revision);
    book.together(NOW, |together| work(together, [60, 50, 40])).unwrap();
    assert_eq!(held(&book), [1, 3, 3, 700, 0]);
}
