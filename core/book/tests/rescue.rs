//! A book that was damaged: what can be read comes back, the rest comes from the
//! peers. And backups: made in use, put back, noticed.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::collections::BTreeSet;
use std::path::Path;

use pitside_book::clock::Clock;
use pitside_book::exchange::Part;
use pitside_book::keys::{Identity, Seed};
use pitside_book::store::{Book, BookError, Draft, FILE, Filter, rescue, restore};
use pitside_model::facts::{Card, Fact, Hash, MemberId, Scope, Subject, kind};
use tempfile::TempDir;
use zeroize::Zeroizing;

mod meeting;
use meeting::{At, Device, NOW, count, join, meet, rest, squad};

const SENTINEL: &str = "Kestrelmoor";

fn identity() -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([2; 32])))
}

/// Every entry that stands in a file, replaced ones too.
fn written(folder: &Path) -> BTreeSet<Hash> {
    let sqlite = rusqlite::Connection::open(folder.join(FILE)).unwrap();
    let mut statement = sqlite.prepare("SELECT hash FROM entries").unwrap();
    let hashes = statement.query_map([], |r| r.get::<_, [u8; 32]>(0)).unwrap();
    hashes.map(|hash| Hash(hash.unwrap())).collect()
}

/// Every entry that a book shows: live, or not counted.
fn entries(book: &Book) -> BTreeSet<Hash> {
    let held = book.held(&Filter::default()).unwrap();
    let uncounted = book.uncounted().unwrap();
    held.into_iter().flat_map(|h| h.seen).chain(uncounted.into_iter().map(|u| u.hash)).collect()
}

fn copy(from: &Path, to: &Path) {
    for file in std::fs::read_dir(from).unwrap() {
        let path = file.unwrap().path();
        if path.is_file() {
            std::fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
        }
    }
}

/// A coach, and the closed folder of a phone that has synced and then written more.
fn synced() -> (Device, TempDir, MemberId, BTreeSet<Hash>) {
    let (coach, phone, member) = squad();
    rest(&phone.book, member, 0..700);
    join(&phone.book, &coach.book, NOW).0.unwrap();
    for n in 0..40 {
        let fact = Fact::Card(Card::Name(format!("{SENTINEL} {n}")));
        phone.book.revise(Scope::Member(member), Subject::Uuid(member.0), fact, NOW.now()).unwrap();
    }
    meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW).0.unwrap();
    rest(&phone.book, member, 700..720);
    let shown = entries(&phone.book);
    phone.book.close().unwrap();
    (coach, phone.folder, member, shown)
}

fn projection(book: &Book) -> String {
    format!("{:?} {:?}", book.held(&Filter::default()).unwrap(), book.uncounted().unwrap())
}

#[test]
fn a_damaged_book_gives_what_it_can_and_the_rest_comes_with_the_next_sync() {
    let (coach, whole, member, all) = synced();
    let written = written(whole.path());
    let length = std::fs::metadata(whole.path().join(FILE)).unwrap().len();
    let page = 4_096;
    // Every few pages one is lost, or has a byte changed; and the file is cut.
    let mut damages: Vec<(&str, u64)> = vec![];
    for at in (0..length / page).step_by(5) {
        damages.push(("lost", at));
        damages.push(("changed", at));
    }
    damages.extend([1, 2, 3].map(|quarter| ("cut", length * quarter / 4)));
    let (mut opened, mut rescued, mut hopeless) = (0, 0, 0);
    for (what, at) in damages {
        let folder = TempDir::new().unwrap();
        copy(whole.path(), folder.path());
        let file = folder.path().join(FILE);
        let mut bytes = std::fs::read(&file).unwrap();
        let start = (at * page) as usize;
        match what {
            "lost" => bytes[start..start + page as usize].fill(0),
            "changed" => bytes[start + 1_777] ^= 0x40,
            _ => bytes.truncate(at as usize),
        }
        std::fs::write(&file, &bytes).unwrap();
        let sound = |book: Book| {
            // It may look whole: then nothing is wrong that its own look finds.
            let faults = book.check(&mut |_, _| true);
            let same = faults.as_ref().is_ok_and(Vec::is_empty) && entries(&book) == all;
            drop(book);
            same
        };
        let looks_whole = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
            Book::open(folder.path(), identity()).is_ok_and(sound)
        }));
        if looks_whole.unwrap_or(false) {
            opened += 1;
            continue;
        }
        let before = std::fs::read(&file).unwrap();
        let done = match rescue(folder.path(), identity(), &NOW) {
            Ok(done) => done,
            Err(BookError::Damaged { why, .. }) => {
                hopeless += 1;
                assert!(at <= 1 || what == "cut", "{what} {at}: {why}");
                assert_eq!(std::fs::read(&file).unwrap(), before, "left as it was");
                continue;
            }
            Err(e) => panic!("{what} {at}: {e}"),
        };
        rescued += 1;
        let book = done.book;
        assert!(done.kept_at.exists(), "the damaged file is kept");
        assert!(entries(&book).is_subset(&written), "{what} {at}: nothing is invented");
        let state = projection(&book);
        book.rebuild().unwrap();
        assert_eq!(state, projection(&book));
        let ended = if book.squad().is_none() {
            // Who was admitted is lost: the device is paired anew.
            join(&book, &coach.book, NOW).0
        } else {
            meet(&book, Part::Caller, &coach.book, usize::MAX, NOW).0
        };
        ended.unwrap_or_else(|e| panic!("{what} {at}: {e}"));
        assert!(count(&book, kind::REST) >= 700, "{what} {at}: what was synced is back");
        assert_eq!(book.held(&Filter { field: Some("name"), ..Filter::default() }).unwrap().len(), 2);
        rest(&book, member, 800..801);
        assert!(book.check(&mut |_, _| true).unwrap().is_empty());
    }
    println!("{opened} opened whole, {rescued} rescued, {hopeless} given up by name");
    assert!(rescued > 20 && hopeless < 8);
}

#[test]
fn what_was_not_sealed_yet_is_rescued_too() {
    let (_, whole, _, all) = synced();
    // The seals are gone, the entries are there.
    let sqlite = rusqlite::Connection::open(whole.path().join(FILE)).unwrap();
    sqlite.execute("DELETE FROM seals WHERE seq > 256", []).unwrap();
    drop(sqlite);
    let done = rescue(whole.path(), identity(), &NOW).unwrap();
    assert_eq!(entries(&done.book), all);
    assert!(done.cut_short.is_empty(), "{:?}", done.cut_short);
    assert_eq!(done.lost, Vec::<String>::new());
}

#[test]
fn a_backup_is_one_file_made_in_use_and_put_back_it_is_noticed() {
    let (coach, mut phone, member) = squad();
    rest(&phone.book, member, 0..5);
    join(&phone.book, &coach.book, NOW).0.unwrap();
    let away = TempDir::new().unwrap();
    let backup = away.path().join("backup");
    phone.book.back_up(&backup, NOW.now()).unwrap();
    assert!(matches!(phone.book.back_up(&backup, NOW.now()), Err(BookError::Exists(_))));
    assert_eq!(std::fs::read_dir(away.path()).unwrap().count(), 1, "one file");
    assert!(phone.book.backups().unwrap()[0].0.ends_with("backup"));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = std::fs::metadata(&backup).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
    }
    rest(&phone.book, member, 5..9);
    meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW).0.unwrap();
    assert!(matches!(restore(&backup, phone.folder.path(), identity(), NOW.now()), Err(BookError::InUse(_))));
    phone.book.close().unwrap();
    let other = Identity::from_seed(Seed::from_bytes(Zeroizing::new([3; 32])));
    let refused = restore(&backup, phone.folder.path(), other, NOW.now());
    assert!(matches!(refused, Err(BookError::OtherDevice(_))));
    phone.book = restore(&backup, phone.folder.path(), identity(), At(1).now()).unwrap();
    assert!(phone.book.was_a_copy().unwrap());
    assert_eq!(count(&phone.book, kind::REST), 5);
    rest(&phone.book, member, 20..22);
    meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW).0.unwrap();
    for book in [&phone.book, &coach.book] {
        assert_eq!(count(book, kind::REST), 11, "both count");
        assert!(book.uncounted().unwrap().is_empty());
        assert!(book.check(&mut |_, _| true).unwrap().is_empty());
    }
    let replaced = |name: &std::ffi::OsStr| name.to_string_lossy().contains(".replaced-");
    let kept = std::fs::read_dir(phone.folder.path())
        .unwrap()
        .filter(|f| replaced(&f.as_ref().unwrap().file_name()));
    assert_eq!(kept.count(), 1, "what was there is kept");
    // A file that is none, and half of one.
    std::fs::write(away.path().join("text"), b"not a book").unwrap();
    let bytes = std::fs::read(&backup).unwrap();
    std::fs::write(away.path().join("half"), &bytes[..bytes.len() / 2]).unwrap();
    for name in ["text", "half"] {
        let to = TempDir::new().unwrap();
        let refused = restore(&away.path().join(name), to.path(), identity(), NOW.now());
        assert!(
            matches!(refused, Err(BookError::Damaged { .. } | BookError::Sqlite(_))),
            "{name}: {refused:?}"
        );
        assert!(!Book::exists(to.path()));
    }
}

#[test]
fn a_backup_from_before_an_erasure_does_not_bring_the_data_back() {
    let (coach, phone, member) = squad();
    join(&phone.book, &coach.book, NOW).0.unwrap();
    let name = Fact::Card(Card::Name(SENTINEL.into()));
    coach.book.write(Scope::Member(member), &Draft::about(Subject::Uuid(member.0), name), NOW.now()).unwrap();
    let away = TempDir::new().unwrap();
    let backup = away.path().join("backup");
    coach.book.back_up(&backup, NOW.now()).unwrap();
    coach.book.erase_member(member, NOW.now()).unwrap();
    let folder = coach.folder;
    coach.book.close().unwrap();
    let key = Identity::from_seed(Seed::from_bytes(Zeroizing::new([1; 32])));
    let book = restore(&backup, folder.path(), key, NOW.now()).unwrap();
    assert_eq!(
        book.held(&Filter { field: Some("name"), member: Some(member), ..Filter::default() }).unwrap().len(),
        0
    );
    for file in std::fs::read_dir(folder.path()).unwrap() {
        let path = file.unwrap().path();
        let bytes = std::fs::read(&path).unwrap();
        assert!(!bytes.windows(SENTINEL.len()).any(|w| w == SENTINEL.as_bytes()), "{}", path.display());
    }
}
