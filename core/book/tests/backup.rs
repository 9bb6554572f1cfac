//! A copy of the book in one file, and the way back.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod folders;

use std::path::PathBuf;

use folders::{At, NOW, count, files_with, folder, identity, join, rebuilt, rest, squad, state, sync, train};
use pitside_book::clock::Clock;
use pitside_book::store::{Book, BookError, ERASED_FILE, FILE};
use pitside_model::facts::{Grant, MemberId, Role, kind};

const SENTINEL: &str = "sentinel-7f3c";

fn in_folder(folder: &tempfile::TempDir, name: &str) -> PathBuf {
    folder.path().join(name)
}

/// The names in a folder that begin with these letters.
fn names(folder: &tempfile::TempDir, begin: &str) -> Vec<String> {
    let files = std::fs::read_dir(folder.path()).unwrap();
    let names = files.map(|f| f.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names.filter(|name| name.starts_with(begin)).collect();
    names.sort();
    names
}

#[test]
fn a_backup_is_one_private_file_and_never_takes_anothers_place() {
    let (place, out) = (folder(), folder());
    let book = Book::create(place.path(), identity(1), false).unwrap();
    let member = book.start_member(NOW.now()).unwrap();
    rest(&book, member, 0..3);
    book.set_local("draft", Some(b"half a set")).unwrap();
    let to = in_folder(&out, "squad.backup");
    book.back_up(&to, NOW.now()).unwrap();
    assert_eq!(names(&out, ""), ["squad.backup"], "no log and no draft beside it");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(std::fs::metadata(&to).unwrap().permissions().mode() & 0o777, 0o600);
    }
    let header = std::fs::read(&to).unwrap();
    assert_eq!(header[18..20], [1, 1], "its header names no write-ahead log");
    assert_eq!(book.backups().unwrap(), [(to.to_string_lossy().into_owned(), NOW.now().ms)]);
    let refused = book.back_up(&to, At(1).now());
    assert!(matches!(refused, Err(BookError::FileExists(_))), "{refused:?}");
    assert_eq!(std::fs::read(&to).unwrap(), header, "it is left as it was");
    let refused = book.back_up(&in_folder(&out, "not/there"), At(1).now());
    assert!(matches!(refused, Err(BookError::ReadOnly { .. })), "{refused:?}");
    assert_eq!(book.backups().unwrap().len(), 1, "what failed is not told");

    let place = folder();
    let restored = Book::restore(&to, place.path(), identity(1), At(2).now()).unwrap();
    assert_eq!(state(&restored), state(&book));
    assert_eq!(restored.backups().unwrap(), book.backups().unwrap());
    assert_eq!(restored.local("draft").unwrap().unwrap(), b"half a set");
    assert_eq!(names(&place, ""), ["book.lock", "book.sqlite", "book.sqlite-shm", "book.sqlite-wal"]);
    rest(&restored, member, 3..4);
    rebuilt(&restored);
}

#[test]
fn a_backup_is_made_while_another_thread_writes() {
    let (place, out) = (folder(), folder());
    let book = Book::create(place.path(), identity(1), false).unwrap();
    let member = book.start_member(NOW.now()).unwrap();
    rest(&book, member, 0..10);
    std::thread::scope(|scope| {
        let writer = scope.spawn(|| (10..60).for_each(|n| rest(&book, member, n..n + 1)));
        for n in 0..5 {
            book.back_up(&in_folder(&out, &n.to_string()), NOW.now()).unwrap();
        }
        writer.join().unwrap();
    });
    let mut least = 10;
    for n in 0..5 {
        let place = folder();
        let from = in_folder(&out, &n.to_string());
        let restored = Book::restore(&from, place.path(), identity(1), NOW.now()).unwrap();
        let held = count(&restored, kind::REST);
        assert!((least..=60).contains(&held), "{held} after {least}");
        least = held;
        assert_eq!(restored.check(&mut |_, _| true).unwrap(), [""; 0]);
    }
}

#[test]
fn what_is_no_backup_of_this_device_is_refused_and_the_book_stays() {
    let (place, out) = (folder(), folder());
    let book = Book::create(place.path(), identity(1), false).unwrap();
    let member = book.start_member(NOW.now()).unwrap();
    rest(&book, member, 0..300);
    let backup = in_folder(&out, "backup");
    book.back_up(&backup, NOW.now()).unwrap();
    let restore = |from: PathBuf, n| {
        Book::restore(&from, place.path(), identity(n), NOW.now()).map(|_| ()).unwrap_err()
    };
    assert!(matches!(restore(backup.clone(), 1), BookError::InUse(_)));
    book.close().unwrap();
    let before = std::fs::read(place.path().join(FILE)).unwrap();

    assert!(matches!(restore(in_folder(&out, "none"), 1), BookError::Missing(_)));
    std::fs::write(in_folder(&out, "text"), "no book ".repeat(2_000)).unwrap();
    assert!(matches!(restore(in_folder(&out, "text"), 1), BookError::NoBackup(_)));
    std::fs::write(in_folder(&out, "empty"), "").unwrap();
    assert!(matches!(restore(in_folder(&out, "empty"), 1), BookError::NoBackup(_)));
    let plain = in_folder(&out, "a book itself");
    std::fs::copy(place.path().join(FILE), &plain).unwrap();
    assert!(matches!(restore(plain, 1), BookError::NoBackup(_)));
    assert!(matches!(restore(backup.clone(), 2), BookError::OtherDevice(_)));
    let bytes = std::fs::read(&backup).unwrap();
    for (name, cut) in [("half", bytes.len() / 2), ("a page less", bytes.len() - 4_096)] {
        std::fs::write(in_folder(&out, name), &bytes[..cut]).unwrap();
        let refused = restore(in_folder(&out, name), 1);
        assert!(matches!(refused, BookError::Damaged { .. }), "{name}: {refused:?}");
    }
    let newer = in_folder(&out, "newer");
    std::fs::copy(&backup, &newer).unwrap();
    rusqlite::Connection::open(&newer).unwrap().pragma_update(None, "user_version", 99).unwrap();
    assert!(matches!(restore(newer, 1), BookError::Newer { found: 99, .. }));

    assert_eq!(names(&place, ""), ["book.lock", FILE, "device.heads"]);
    assert_eq!(std::fs::read(place.path().join(FILE)).unwrap(), before);
}

#[test]
fn a_restored_book_goes_on_in_new_logs_and_gets_the_rest_from_its_peer() {
    let (coach_place, place, out) = (folder(), folder(), folder());
    let (coach, phone, member) = squad(coach_place.path(), place.path());
    train(&phone, member, 0..4, "low hops");
    let backup = in_folder(&out, "backup");
    phone.back_up(&backup, NOW.now()).unwrap();
    train(&phone, member, 4..6, "low hops");
    sync(&phone, &coach, At(1));
    train(&phone, member, 6..7, "only in what is replaced");
    phone.close().unwrap();

    let phone = Book::restore(&backup, place.path(), identity(2), At(2).now()).unwrap();
    assert!(phone.was_a_copy().unwrap());
    assert_eq!(count(&phone, kind::SESSION), 4);
    train(&phone, member, 7..9, "after");
    sync(&phone, &coach, At(3));
    for book in [&phone, &coach] {
        assert_eq!(count(book, kind::SESSION), 8, "before, meanwhile and after");
        assert_eq!(count(book, kind::SET), 40);
        assert!(book.uncounted().unwrap().is_empty());
        rebuilt(book);
    }
    assert_eq!(state(&phone), state(&coach));
    // What was replaced is kept, and is a book that can be opened.
    let kept = names(&place, "book.sqlite.replaced-");
    assert_eq!(kept, [format!("book.sqlite.replaced-{}", At(2).now().ms)]);
    let elsewhere = folder();
    std::fs::copy(place.path().join(&kept[0]), elsewhere.path().join(FILE)).unwrap();
    assert_eq!(count(&Book::open(elsewhere.path(), identity(2)).unwrap(), kind::SESSION), 7);
}

#[test]
fn a_backup_put_in_the_folder_by_hand_is_noticed_by_the_heads_kept_apart() {
    let (place, out) = (folder(), folder());
    let book = Book::create(place.path(), identity(1), false).unwrap();
    let member = book.start_member(NOW.now()).unwrap();
    rest(&book, member, 0..3);
    let backup = in_folder(&out, "backup");
    book.back_up(&backup, NOW.now()).unwrap();
    book.close().unwrap();
    std::fs::copy(&backup, place.path().join(FILE)).unwrap();
    let book = Book::open(place.path(), identity(1)).unwrap();
    assert!(!book.was_a_copy().unwrap(), "nothing was written since");
    rest(&book, member, 3..4);
    book.close().unwrap();
    std::fs::copy(&backup, place.path().join(FILE)).unwrap();
    assert!(Book::open(place.path(), identity(1)).unwrap().was_a_copy().unwrap());
}

/// A coach with a member who has no phone, an assistant, and a backup of each
/// made before the member is erased.
struct Erased {
    coach_place: tempfile::TempDir,
    assistant_place: tempfile::TempDir,
    out: tempfile::TempDir,
    member: MemberId,
}

fn erased(tell_assistant: bool) -> Erased {
    let (coach_place, assistant_place, phone_place, out) = (folder(), folder(), folder(), folder());
    let (coach, _phone, _) = squad(coach_place.path(), phone_place.path());
    let assistant = Book::create(assistant_place.path(), identity(3), false).unwrap();
    join(&assistant, &coach, Grant { everyone: true, ..Grant::new(Role::Assistant, vec![]) });
    let member = coach.add_member("Ada", NOW.now()).unwrap();
    train(&coach, member, 0..3, SENTINEL);
    sync(&assistant, &coach, NOW);
    coach.back_up(&in_folder(&out, "coach"), NOW.now()).unwrap();
    assistant.back_up(&in_folder(&out, "assistant"), NOW.now()).unwrap();
    coach.erase_member(member, At(1).now()).unwrap();
    if tell_assistant {
        sync(&assistant, &coach, At(2));
        assert_eq!(files_with(assistant_place.path(), SENTINEL.as_bytes()), [""; 0]);
    }
    coach.close().unwrap();
    assistant.close().unwrap();
    Erased { coach_place, assistant_place, out, member }
}

#[test]
fn who_was_erased_since_the_backup_stays_erased_and_the_others_are_told_again() {
    // The erasure itself was on no other device: it is lost with the book.
    let at = erased(false);
    let from = in_folder(&at.out, "coach");
    assert_eq!(files_with(at.out.path(), SENTINEL.as_bytes()).len(), 2, "the backups have it");
    let coach = Book::restore(&from, at.coach_place.path(), identity(1), At(3).now()).unwrap();
    assert_eq!(files_with(at.coach_place.path(), SENTINEL.as_bytes()), [""; 0]);
    assert_eq!(count(&coach, kind::SESSION), 0);
    assert!(!coach.members().unwrap().contains(&at.member));
    assert_eq!(names(&at.coach_place, "book.sqlite.replaced-").len(), 1, "what was replaced was clean");
    assert_eq!(coach.backups().unwrap().len(), 1, "and the backup that still has the data is named");
    rebuilt(&coach);

    let assistant = Book::open(at.assistant_place.path(), identity(3)).unwrap();
    assert_eq!(count(&assistant, kind::SESSION), 3);
    sync(&assistant, &coach, At(4));
    assert_eq!(count(&assistant, kind::SESSION), 0);
    assert_eq!(files_with(at.assistant_place.path(), SENTINEL.as_bytes()), [""; 0]);
    assert!(coach.authority().unwrap().erased.contains(&at.member));
    assert!(assistant.authority().unwrap().erased.contains(&at.member));
    for book in [&coach, &assistant] {
        rebuilt(book);
    }
}

#[test]
fn an_assistants_restored_book_holds_the_erasure_before_it_hears_of_it_again() {
    let at = erased(true);
    let from = in_folder(&at.out, "assistant");
    let assistant = Book::restore(&from, at.assistant_place.path(), identity(3), At(3).now()).unwrap();
    assert_eq!(files_with(at.assistant_place.path(), SENTINEL.as_bytes()), [""; 0]);
    assert!(!assistant.members().unwrap().contains(&at.member));
    // A device that has not heard of the erasure brings nothing back.
    let (stale_place, fresh) = (folder(), folder());
    let stale = Book::restore(&in_folder(&at.out, "coach"), stale_place.path(), identity(1), At(3).now());
    let stale = stale.unwrap();
    assert_eq!(count(&stale, kind::SESSION), 3, "a folder that knows of nothing");
    sync(&assistant, &stale, At(4));
    assert_eq!(count(&assistant, kind::SESSION), 0);
    assert_eq!(files_with(at.assistant_place.path(), SENTINEL.as_bytes()), [""; 0]);
    // And with the erasure it is as if nothing had been restored.
    let coach = Book::open(at.coach_place.path(), identity(1)).unwrap();
    sync(&assistant, &coach, At(5));
    assert!(assistant.authority().unwrap().erased.contains(&at.member));
    rebuilt(&assistant);
    // A book begun anew in the folder knows it too.
    std::fs::copy(at.assistant_place.path().join(ERASED_FILE), fresh.path().join(ERASED_FILE)).unwrap();
    let anew = Book::create(fresh.path(), identity(3), false).unwrap();
    assert!(!anew.members().unwrap().contains(&at.member));
}

#[test]
fn an_older_book_put_in_the_folder_by_hand_is_purged_when_it_is_opened() {
    let at = erased(true);
    let file = at.assistant_place.path().join(FILE);
    std::fs::copy(in_folder(&at.out, "assistant"), &file).unwrap();
    let assistant = Book::open(at.assistant_place.path(), identity(3)).unwrap();
    assert_eq!(count(&assistant, kind::SESSION), 0);
    assert_eq!(files_with(at.assistant_place.path(), SENTINEL.as_bytes()), [""; 0]);
    rebuilt(&assistant);
}
