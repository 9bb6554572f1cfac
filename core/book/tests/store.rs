//! A book on the disk: what was acknowledged is there, whatever happens.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::process::{Command, Stdio};

use pitside_book::clock::Stamp;
use pitside_book::keys::{Identity, OsRng, Seed};
use pitside_book::store::{Book, BookError, Draft, FILE, Filter, Whereabouts};
use pitside_model::facts::{
    Card, Conditions, Day, Effort, Fact, Grant, Leg, Limit, MemberId, RestDay, Role, SaidBy, Scope, Session,
    Set, Subject, kind,
};
use pitside_model::load::catalogue;
use tempfile::TempDir;
use zeroize::Zeroizing;

const NOW: Stamp = Stamp { ms: 1_790_000_000_000, zone_min: 60 };

fn identity(n: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32])))
}

fn later(minutes: i64) -> Stamp {
    Stamp { ms: NOW.ms + minutes * 60_000, ..NOW }
}

fn session(day: &str) -> Fact {
    Fact::Session(Session {
        day: Day::parse(day).unwrap(),
        start_min: None,
        purpose: Some("low hops".into()),
        location: None,
        surface: None,
        shoes: None,
        weather: None,
        cut_short: None,
        conditions: Conditions::default(),
    })
}

fn phone(folder: &TempDir) -> (Book, MemberId) {
    let book = Book::create(folder.path(), identity(1), false).unwrap();
    let member = book.start_member(NOW).unwrap();
    (book, member)
}

fn athlete() -> Grant {
    Grant::new(Role::Athlete, vec![])
}

fn count(book: &Book, kind: &str) -> usize {
    book.held(&Filter { kind: Some(kind), ..Filter::default() }).unwrap().len()
}

#[test]
fn a_phone_logs_before_any_pairing_and_finds_it_again() {
    let folder = TempDir::new().unwrap();
    let (book, member) = phone(&folder);
    let place = book.write(Scope::Member(member), &Draft::new(session("2026-09-21")), NOW).unwrap();
    let set = Set {
        session: place,
        exercise: catalogue::id::POGO,
        reps: 10,
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
    book.write(Scope::Member(member), &Draft::new(Fact::Set(set.clone())), NOW).unwrap();
    book.close().unwrap();

    let book = Book::open(folder.path(), identity(1)).unwrap();
    let held = book.held(&Filter { session: Some(place), ..Filter::default() }).unwrap();
    assert_eq!(held.len(), 1);
    assert_eq!(held[0].fact(), Some(&Fact::Set(set)));
    assert_eq!(book.own_members().unwrap(), [member]);
    let carried = book.carried().unwrap();
    assert_eq!((carried.only_here, carried.oldest_only_here_ms), (1, Some(NOW.ms)));
    assert_eq!(book.whereabouts(held[0].value().place).unwrap(), Whereabouts::OnlyHere);
}

#[test]
fn a_correction_replaces_and_two_at_once_clash_until_one_settles() {
    let folder = TempDir::new().unwrap();
    let (book, member) = phone(&folder);
    let scope = Scope::Member(member);
    let about = |fact| Draft::about(Subject::Uuid(member.0), fact);
    let name = |n: &str| Fact::Card(Card::Name(n.into()));
    let filter = Filter { kind: Some(kind::MEMBER), ..Filter::default() };
    book.write(scope, &about(name("Ino")), NOW).unwrap();
    book.write(scope, &about(name("Ino")), later(1)).unwrap();
    let held = book.held(&filter).unwrap();
    assert!(!held[0].is_clash(), "equal values written at once are no clash");
    assert_eq!(held[0].seen.len(), 2);

    book.write(scope, &about(name("Inosh")), later(2)).unwrap();
    let clash = book.held(&filter).unwrap().remove(0);
    assert!(clash.is_clash());
    assert_eq!(clash.fact(), Some(&name("Inosh")), "the newest is shown first");

    book.write(scope, &Draft::replacing(&clash, name("Ino")), later(3)).unwrap();
    let settled = book.held(&filter).unwrap().remove(0);
    assert!(!settled.is_clash());
    assert_eq!(settled.fact(), Some(&name("Ino")));

    book.write(scope, &Draft::replacing(&settled, Fact::Deleted), later(4)).unwrap();
    assert!(book.held(&filter).unwrap().is_empty());
}

#[test]
fn what_may_not_be_written_is_refused_and_leaves_no_trace() {
    let folder = TempDir::new().unwrap();
    let (book, member) = phone(&folder);
    let limit = Fact::Limit(Limit {
        from: NOW.day(),
        until: None,
        no_one_leg: None,
        no_approach: true,
        max_box_mm: None,
        said_by: SaidBy::Coach,
        note: None,
    });
    let refused = book.write(Scope::Member(member), &Draft::new(limit), NOW);
    assert!(matches!(refused, Err(BookError::NotAllowed(Some(_)))), "{refused:?}");
    let odd = Fact::Effort(Effort { rpe_tenths: 101, minutes: 60 });
    let place = book.write(Scope::Member(member), &Draft::new(session("2026-09-21")), NOW).unwrap();
    let refused = book.write(Scope::Member(member), &Draft::about(Subject::Fact(place), odd), NOW);
    assert_eq!(
        refused.unwrap_err().to_string(),
        "session: rpe is 101, expected a whole number from 0 to 100"
    );
    assert!(book.uncounted().unwrap().is_empty());
    assert_eq!(count(&book, kind::SESSION), 1);
}

#[test]
fn all_of_several_facts_or_none() {
    let folder = TempDir::new().unwrap();
    let (book, member) = phone(&folder);
    let good = (Scope::Member(member), Draft::new(session("2026-09-21")));
    let bad = (Scope::Squad, Draft::new(Fact::Rest(RestDay { day: NOW.day() })));
    assert!(book.write_all(&[good.clone(), bad], NOW).is_err());
    assert_eq!(count(&book, kind::SESSION), 0);
    assert_eq!(book.write_all(&[good], NOW).unwrap().len(), 1);
}

#[test]
fn founding_makes_an_owner_and_a_catalogue_once() {
    let folder = TempDir::new().unwrap();
    let (book, member) = phone(&folder);
    book.write(Scope::Member(member), &Draft::new(session("2026-09-21")), NOW).unwrap();
    let squad = book.found("Quay jumps", NOW).unwrap().squad;
    assert_eq!(book.squad(), Some(squad));
    assert!(matches!(book.found("again", NOW), Err(BookError::HasSquad)));
    let grants = book.grants(book.device()).unwrap();
    assert!(grants.owner && grants.serves.contains(&member));
    assert_eq!(count(&book, kind::EXERCISE), catalogue::all().len());
    assert_eq!(count(&book, kind::SESSION), 1, "what was logged before counts on");
    let guest = book.add_member("Ada", NOW).unwrap();
    let mut members = book.members().unwrap();
    members.sort();
    let mut expected = vec![member, guest];
    expected.sort();
    assert_eq!(members, expected);
    assert!(book.uncounted().unwrap().is_empty());
}

#[test]
fn the_projection_made_anew_is_the_one_kept() {
    let folder = TempDir::new().unwrap();
    let (book, member) = phone(&folder);
    book.found("Quay jumps", NOW).unwrap();
    for day in 1..=9 {
        let place = book
            .write(Scope::Member(member), &Draft::new(session(&format!("2026-09-{day:02}"))), later(day))
            .unwrap();
        let effort = Fact::Effort(Effort { rpe_tenths: 50, minutes: 60 });
        book.write(Scope::Member(member), &Draft::about(Subject::Fact(place), effort), later(day)).unwrap();
    }
    let state = || {
        let held = book.held(&Filter::default()).unwrap();
        held.into_iter().map(|h| (h.key.clone(), h.seen.clone())).collect::<Vec<_>>()
    };
    let (before, devices) = (state(), book.devices().unwrap());
    book.rebuild().unwrap();
    assert_eq!(state(), before);
    assert_eq!(book.devices().unwrap(), devices);
}

#[test]
fn a_second_program_another_key_and_a_newer_book_are_refused_by_name() {
    let folder = TempDir::new().unwrap();
    let (book, _) = phone(&folder);
    assert!(matches!(Book::open(folder.path(), identity(1)), Err(BookError::InUse(_))));
    assert!(matches!(Book::create(folder.path(), identity(1), false), Err(BookError::Exists(_))));
    book.close().unwrap();
    assert!(matches!(Book::open(folder.path(), identity(2)), Err(BookError::OtherDevice(_))));
    let sqlite = rusqlite::Connection::open(folder.path().join(FILE)).unwrap();
    sqlite.pragma_update(None, "user_version", 99).unwrap();
    drop(sqlite);
    match Book::open(folder.path(), identity(1)) {
        Err(BookError::Newer { found: 99, known, .. }) => assert!(known < 99),
        other => panic!("{other:?}"),
    }
    let empty = TempDir::new().unwrap();
    assert!(matches!(Book::open(empty.path(), identity(1)), Err(BookError::Missing(_))));
}

#[test]
fn a_file_that_is_no_book_and_a_place_that_cannot_be_written_are_refused_and_kept() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join(FILE);
    std::fs::write(&path, vec![0x5a; 10_000]).unwrap();
    let refused = Book::open(folder.path(), identity(1));
    assert!(matches!(refused, Err(BookError::Damaged { .. })), "{refused:?}");
    assert_eq!(std::fs::read(&path).unwrap(), vec![0x5a; 10_000], "it is left as it was");
    // Even the superuser cannot make a folder there.
    let refused = Book::create(std::path::Path::new("/proc/pitside"), identity(1), false);
    assert!(matches!(refused, Err(BookError::ReadOnly { .. })), "{refused:?}");
}

#[test]
fn a_long_log_is_sealed_on_its_way() {
    let folder = TempDir::new().unwrap();
    let (book, member) = phone(&folder);
    let drafts: Vec<_> = (0..600)
        .map(|n| {
            let day = Day::parse("2025-01-01").unwrap().plus(n);
            (Scope::Member(member), Draft::new(Fact::Rest(RestDay { day })))
        })
        .collect();
    book.write_all(&drafts, NOW).unwrap();
    book.close().unwrap();
    let sqlite = rusqlite::Connection::open(folder.path().join(FILE)).unwrap();
    let seals: Vec<i64> = sqlite
        .prepare("SELECT seq FROM seals ORDER BY seq")
        .unwrap()
        .query_map([], |r| r.get(0))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap();
    assert_eq!(seals, [256, 512]);
}

/// What the child of the next test does: writes, and says after each `Ok` that
/// it is written.
#[test]
fn child_writes_until_it_is_killed() {
    let Ok(folder) = std::env::var("PITSIDE_KILL_TEST") else { return };
    let book = Book::open(std::path::Path::new(&folder), identity(1)).unwrap();
    let member = book.own_members().unwrap()[0];
    for n in 0.. {
        let day = Day::parse("2000-01-01").unwrap().plus(n);
        book.write(Scope::Member(member), &Draft::new(Fact::Rest(RestDay { day })), NOW).unwrap();
        println!("written {n}");
    }
}

#[test]
fn a_write_acknowledged_is_there_after_a_kill() {
    use std::io::{BufRead, BufReader};
    for after in [1, 7, 40] {
        let folder = TempDir::new().unwrap();
        let (book, _) = phone(&folder);
        book.close().unwrap();
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["child_writes_until_it_is_killed", "--exact", "--nocapture"])
            .env("PITSIDE_KILL_TEST", folder.path())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut acknowledged = 0;
        for line in BufReader::new(child.stdout.take().unwrap()).lines() {
            // The harness writes to the same line.
            if line.unwrap().contains("written") {
                acknowledged += 1;
                if acknowledged == after {
                    break;
                }
            }
        }
        child.kill().unwrap();
        child.wait().unwrap();
        assert_eq!(acknowledged, after, "the child ended by itself");
        let book = Book::open(folder.path(), identity(1)).unwrap();
        assert!(count(&book, kind::REST) >= after);
        book.write(
            Scope::Member(book.own_members().unwrap()[0]),
            &Draft::new(Fact::Rest(RestDay { day: NOW.day() })),
            NOW,
        )
        .unwrap();
    }
}

#[test]
fn an_invitation_needs_a_squad_and_random_seeds_differ() {
    let folder = TempDir::new().unwrap();
    let (book, _) = phone(&folder);
    assert!(matches!(book.invite(athlete(), NOW, 10), Err(BookError::NoSquad)));
    book.found("Quay jumps", NOW).unwrap();
    let a = book.invite(athlete(), NOW, 10).unwrap();
    let b = book.invite(athlete(), NOW, 10).unwrap();
    assert_ne!(a.secret, b.secret);
    assert_eq!(a.expires_ms, NOW.ms + 600_000);
    let seeds = [Seed::generate(&mut OsRng).unwrap(), Seed::generate(&mut OsRng).unwrap()];
    assert_ne!(seeds[0].expose(), seeds[1].expose());
}
