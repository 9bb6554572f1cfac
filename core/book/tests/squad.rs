//! What becomes of a squad over the years: devices that are lost, removed, copied
//! and put back, members who leave, and data that go.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::path::Path;

use pitside_book::clock::{Clock, Stamp};
use pitside_book::exchange::{ExchangeError, Part, accept};
use pitside_book::hand_over::{self, TakeInError};
use pitside_book::keys::{Identity, Recovery, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::parcel::ParcelError;
use pitside_book::store::{Book, BookError, BookReplica, Draft, FILE, Filter, Whereabouts};
use pitside_log::authority::{Judgement, Reason};
use pitside_log::sync::{Refusal, Replica, SyncError};
use pitside_model::facts::{
    Audience, Card, Conditions, Consent, Day, DeviceKey, Fact, Grant, Hash, Head, Limit, LogId, MemberId,
    RestDay, Role, SaidBy, Scope, Session, Subject, kind,
};
use zeroize::Zeroizing;

mod meeting;
use meeting::{At, Device, NOW, count, device, hurts, join, meet, rest, squad};

/// Words that stand in no file after an erasure.
const SENTINEL: &str = "Kestrelmoor";

fn said(words: &str) -> Draft {
    Draft::new(Fact::Session(Session {
        day: Day::parse("2026-05-02").unwrap(),
        start_min: None,
        purpose: Some(words.to_owned()),
        location: None,
        surface: None,
        shoes: None,
        weather: None,
        cut_short: None,
        conditions: Conditions::default(),
    }))
}

/// A squad that is whole: coach, the phone of a member, both know each other.
fn joined() -> (Device, Device, MemberId) {
    let (coach, phone, member) = squad();
    rest(&phone.book, member, 0..3);
    join(&phone.book, &coach.book, NOW).0.unwrap();
    (coach, phone, member)
}

fn sync(caller: &Device, called: &Device) {
    meet(&caller.book, Part::Caller, &called.book, usize::MAX, NOW).0.unwrap();
}

/// Invites a device and lets it come.
fn invite(coach: &Device, guest: &Device, grant: Grant) {
    let open = coach.book.invite(grant.clone(), NOW.now(), 10).unwrap();
    let invitation = Invitation::of(&coach.book, &open, vec![]).unwrap();
    let part = accept(&guest.book, &invitation, &NOW).unwrap();
    meet(&guest.book, part, &coach.book, usize::MAX, NOW).0.unwrap();
}

fn owner(coach: &Device, n: u8) -> Device {
    let second = device(n, false);
    invite(coach, &second, Grant::new(Role::Owner, vec![]));
    second
}

fn identity(n: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32])))
}

/// The files of a folder in which the words stand.
fn found_in(folder: &Path, words: &str) -> Vec<String> {
    let mut found = vec![];
    for file in std::fs::read_dir(folder).unwrap() {
        let path = file.unwrap().path();
        let bytes = std::fs::read(&path).unwrap();
        if bytes.windows(words.len()).any(|w| w == words.as_bytes()) {
            found.push(path.file_name().unwrap().to_string_lossy().into_owned());
        }
    }
    found
}

/// The projection made anew is the one that was kept.
#[track_caller]
fn sound(book: &Book) {
    let state = || {
        let held = book.held(&Filter::default()).unwrap();
        let mut keys: Vec<_> = held.into_iter().map(|h| (h.key.clone(), h.seen)).collect();
        keys.sort();
        let mut uncounted = book.uncounted().unwrap();
        uncounted.sort_by_key(|u| u.hash);
        (keys, uncounted, book.devices().unwrap())
    };
    let before = state();
    book.rebuild().unwrap();
    assert_eq!(before, state());
}

#[test]
fn a_removed_phone_learns_it_and_what_it_logged_late_can_be_taken_in() {
    let (coach, phone, member) = joined();
    coach.book.remove_device(phone.book.device(), NOW.now()).unwrap();
    rest(&phone.book, member, 3..5);
    sync(&phone, &coach);
    assert!(phone.book.authority().unwrap().standing(phone.book.device()).cut.is_some());
    assert_eq!(count(&coach.book, kind::REST), 3);
    let late = coach.book.uncounted().unwrap();
    assert_eq!(late.len(), 2);
    assert!(late.iter().all(|u| u.judgement == Judgement::Refused(Reason::Removed) && u.kind == kind::REST));
    sound(&coach.book);
    coach.book.remove_device(phone.book.device(), NOW.now()).unwrap();
    assert_eq!(count(&coach.book, kind::REST), 5, "taken in");
    // And back altogether.
    rest(&phone.book, member, 5..6);
    sync(&phone, &coach);
    assert_eq!(count(&coach.book, kind::REST), 5);
    coach.book.readmit_device(phone.book.device(), NOW.now()).unwrap();
    assert_eq!(count(&coach.book, kind::REST), 6);
    assert!(coach.book.uncounted().unwrap().is_empty());
    sync(&phone, &coach);
    sound(&coach.book);
    sound(&phone.book);
}

/// No stamp brings a late entry before the cut: it is the place in the log that counts.
#[test]
fn entries_dated_back_by_a_removed_phone_stay_late() {
    let (coach, phone, member) = joined();
    coach.book.remove_device(phone.book.device(), NOW.now()).unwrap();
    for years in [-30, -1, 30] {
        let when = Stamp { ms: NOW.now().ms + years * 365 * 86_400_000, ..NOW.now() };
        let day = Day::parse("2025-11-01").unwrap().plus(i32::try_from(years).unwrap());
        phone.book.write(Scope::Member(member), &Draft::new(Fact::Rest(RestDay { day })), when).unwrap();
    }
    sync(&phone, &coach);
    assert_eq!(count(&coach.book, kind::REST), 3, "what was there before the removal");
    let late = coach.book.uncounted().unwrap();
    assert_eq!(late.len(), 3);
    assert!(late.iter().all(|u| u.judgement == Judgement::Refused(Reason::Removed)));
    sound(&coach.book);
}

#[test]
fn of_two_coaches_who_remove_each_other_the_senior_stays_on_every_device() {
    let (coach, phone, _) = joined();
    let second = owner(&coach, 5);
    sync(&phone, &coach);
    coach.book.remove_device(second.book.device(), NOW.now()).unwrap();
    second.book.remove_device(coach.book.device(), At(1).now()).unwrap_err();
    // A junior of both is removed by either.
    let third = owner(&coach, 6);
    sync(&second, &coach);
    let standing = |of: &Device, device: DeviceKey| of.book.authority().unwrap().standing(device);
    for at in [&coach, &second, &third] {
        assert!(standing(at, second.book.device()).cut.is_some());
        assert!(standing(at, coach.book.device()).is_admitted());
    }
    let refused = third.book.remove_device(coach.book.device(), NOW.now());
    assert!(matches!(refused, Err(BookError::NotAllowed(Some(Reason::Senior)))), "{refused:?}");
    let unknown = coach.book.remove_device(DeviceKey([9; 32]), NOW.now());
    assert!(matches!(unknown, Err(BookError::Unknown(_))));
}

#[test]
fn a_lost_laptop_is_followed_by_a_new_one_with_the_printed_key() {
    let coach = device(1, false);
    let founded = coach.book.found("Quay jumps", NOW.now()).unwrap();
    let paper = founded.recovery.to_text();
    let phone = device(2, false);
    let member = phone.book.start_member(NOW.now()).unwrap();
    rest(&phone.book, member, 0..4);
    join(&phone.book, &coach.book, NOW).0.unwrap();

    let laptop = device(7, false);
    let key = Recovery::from_text(&paper).unwrap();
    laptop.book.recover(&key, NOW.now()).unwrap();
    assert_eq!(laptop.book.squad(), None);
    assert!(matches!(laptop.book.found("another", NOW.now()), Err(BookError::HasSquad)));
    let open = laptop.book.invite(Grant::new(Role::Athlete, vec![]), NOW.now(), 10).unwrap();
    let invitation = Invitation::of(&laptop.book, &open, vec![]).unwrap();
    // Whoever has no secret is not let in, and neither is another squad's device.
    let stranger = device(8, false);
    stranger.book.start_member(NOW.now()).unwrap();
    assert!(meet(&stranger.book, Part::Caller, &laptop.book, usize::MAX, NOW).1.is_err());
    let part = accept(&phone.book, &invitation, &NOW).unwrap();
    meet(&phone.book, part, &laptop.book, usize::MAX, NOW).0.unwrap();
    assert_eq!(laptop.book.squad(), Some(founded.squad));
    assert_eq!(count(&laptop.book, kind::REST), 4);
    assert!(laptop.book.grants(laptop.book.device()).unwrap().owner);
    // It removes the lost one, though that was the founder's.
    laptop.book.remove_device(coach.book.device(), NOW.now()).unwrap();
    sync(&phone, &laptop);
    assert!(phone.book.authority().unwrap().standing(coach.book.device()).cut.is_some());
    // What the thief of the lost one writes counts nowhere.
    coach.book.remove_device(phone.book.device(), NOW.now()).unwrap();
    let _ = meet(&coach.book, Part::Caller, &phone.book, usize::MAX, NOW);
    assert!(phone.book.authority().unwrap().standing(phone.book.device()).is_admitted());
    assert!(!phone.book.uncounted().unwrap().is_empty(), "it is kept and shown");
    sound(&phone.book);
    // The key also removes whoever is senior to this laptop.
    laptop.book.remove_device_by_recovery(coach.book.device(), &key, NOW.now()).unwrap();
    sound(&laptop.book);
}

#[test]
fn a_book_that_was_put_back_goes_on_in_a_new_log_and_gets_what_it_lost() {
    let (coach, mut phone, member) = joined();
    let (file, n) = (phone.folder.path().join(FILE), 2);
    // A copy of the file, made while it was closed.
    phone.book.close().unwrap();
    let copy = std::fs::read(&file).unwrap();
    phone.book = Book::open(phone.folder.path(), identity(n)).unwrap();
    assert!(!phone.book.was_a_copy().unwrap());
    rest(&phone.book, member, 3..6);
    sync(&phone, &coach);
    rest(&phone.book, member, 6..7);
    phone.book.close().unwrap();
    std::fs::write(&file, copy).unwrap();

    phone.book = Book::open(phone.folder.path(), identity(n)).unwrap();
    assert!(phone.book.was_a_copy().unwrap(), "noticed at once");
    assert_eq!(count(&phone.book, kind::REST), 3);
    rest(&phone.book, member, 10..12);
    sync(&phone, &coach);
    // Day 6 was on this phone only, and is lost with it; the rest is back.
    for book in [&phone.book, &coach.book] {
        assert_eq!(count(book, kind::REST), 3 + 3 + 2);
        assert!(book.uncounted().unwrap().is_empty());
        sound(book);
    }
}

#[test]
fn a_copied_folder_written_on_in_both_places_is_kept_as_two_branches() {
    let (coach, mut phone, member) = joined();
    phone.book.close().unwrap();
    let copied = tempfile::TempDir::new().unwrap();
    for file in std::fs::read_dir(phone.folder.path()).unwrap() {
        let path = file.unwrap().path();
        std::fs::copy(&path, copied.path().join(path.file_name().unwrap())).unwrap();
    }
    phone.book = Book::open(phone.folder.path(), identity(2)).unwrap();
    let copy = Device { book: Book::open(copied.path(), identity(2)).unwrap(), folder: copied };
    rest(&phone.book, member, 10..13);
    rest(&copy.book, member, 20..22);
    sync(&phone, &coach);
    sync(&copy, &coach);
    sync(&phone, &coach);
    for book in [&coach.book, &phone.book, &copy.book] {
        assert_eq!(count(book, kind::REST), 3 + 3 + 2, "both count");
        assert!(book.uncounted().unwrap().is_empty());
        sound(book);
    }
    // Each goes on in a log of its own, so nothing parts again.
    rest(&phone.book, member, 30..31);
    rest(&copy.book, member, 40..41);
    for _ in 0..2 {
        sync(&phone, &coach);
        sync(&copy, &coach);
    }
    for book in [&coach.book, &phone.book, &copy.book] {
        assert_eq!(count(book, kind::REST), 3 + 3 + 2 + 2);
    }
    // A removal cuts off both branches where they end.
    coach.book.remove_device(phone.book.device(), NOW.now()).unwrap();
    assert_eq!(count(&coach.book, kind::REST), 10);
    sound(&coach.book);
}

#[test]
fn an_erased_member_is_in_no_file_on_either_end() {
    let (coach, mut phone, member) = joined();
    let mut second = owner(&coach, 5);
    rest(&second.book, member, 50..51);
    let other = coach.book.add_member("Ada", NOW.now()).unwrap();
    phone.book.write(Scope::Member(member), &said(SENTINEL), NOW.now()).unwrap();
    coach.book.write(Scope::Member(member), &said(SENTINEL), NOW.now()).unwrap();
    sync(&phone, &coach);
    sync(&second, &coach);
    sync(&phone, &coach);
    for device in [&coach, &second, &phone] {
        assert!(!found_in(device.folder.path(), SENTINEL).is_empty());
    }
    let asked = coach.book.erase_member(member, NOW.now()).unwrap();
    assert_eq!(asked, [phone.book.device()]);
    assert_eq!(found_in(coach.folder.path(), SENTINEL), Vec::<String>::new());
    assert_eq!(coach.book.members().unwrap(), [other]);
    sound(&coach.book);
    // The other coach's device hears of it before anything of the member.
    phone.book.write(Scope::Member(member), &said("after it"), NOW.now()).unwrap();
    sync(&second, &coach);
    assert_eq!(found_in(second.folder.path(), SENTINEL), Vec::<String>::new());
    sync(&phone, &second);
    assert_eq!(count(&second.book, kind::SESSION), 0);
    // The athlete's own phone is asked, keeps everything until then, and then not.
    assert_eq!(phone.book.asked_to_erase().unwrap(), [member]);
    assert_eq!(count(&phone.book, kind::SESSION), 3);
    assert!(matches!(coach.book.let_go(member, NOW.now()), Err(BookError::Unknown(_))));
    phone.book.let_go(member, NOW.now()).unwrap();
    assert_eq!(count(&phone.book, kind::SESSION), 0);
    assert_eq!(found_in(phone.folder.path(), SENTINEL), Vec::<String>::new());
    assert!(phone.book.asked_to_erase().unwrap().is_empty());
    sync(&phone, &coach);
    assert_eq!(count(&phone.book, kind::SESSION), 0);
    // That own logs went is no reason to take the book for an older copy.
    for (device, n) in [(&mut second, 5), (&mut phone, 2)] {
        let folder = device.folder.path().to_owned();
        let spare = tempfile::TempDir::new().unwrap();
        let closing = Book::create(spare.path(), identity(99), false).unwrap();
        std::mem::replace(&mut device.book, closing).close().unwrap();
        device.book = Book::open(&folder, identity(n)).unwrap();
        assert!(!device.book.was_a_copy().unwrap());
        sound(&device.book);
    }
}

#[test]
fn a_withdrawn_fact_is_in_no_file_and_its_place_stays() {
    let (coach, phone, member) = joined();
    phone.book.write(Scope::Member(member), &said(SENTINEL), NOW.now()).unwrap();
    phone.book.write(Scope::Member(member), &said("stays"), NOW.now()).unwrap();
    sync(&phone, &coach);
    let held = phone.book.held(&Filter { kind: Some(kind::SESSION), ..Filter::default() }).unwrap();
    let spoken = |h: &&pitside_book::store::Held| matches!(h.fact(), Some(Fact::Session(s)) if s.purpose.as_deref() == Some(SENTINEL));
    phone.book.withdraw(held.iter().find(spoken).unwrap(), NOW.now()).unwrap();
    assert_eq!(found_in(phone.folder.path(), SENTINEL), Vec::<String>::new());
    sync(&phone, &coach);
    assert_eq!(found_in(coach.folder.path(), SENTINEL), Vec::<String>::new());
    for book in [&phone.book, &coach.book] {
        assert_eq!(count(book, kind::SESSION), 1);
        let record = book.record_of(member).unwrap();
        assert_eq!(record.iter().filter(|s| s.key.kind == kind::SESSION).count(), 2, "its place stays");
        sound(book);
    }
    // A new device of the member gets the chain without the body, and misses nothing.
    let tablet = device(6, false);
    invite(&coach, &tablet, Grant::new(Role::Athlete, vec![member]));
    assert_eq!(count(&tablet.book, kind::SESSION), 1);
    assert_eq!(phone.book.carried().unwrap().only_here, 0);
    sound(&tablet.book);
}

#[test]
fn assistants_medical_staff_and_guardians_see_and_write_what_they_are_given() {
    let (coach, phone, member) = joined();
    hurts(&phone.book, member);
    let other = coach.book.add_member("Ada", NOW.now()).unwrap();
    let assistant = device(5, false);
    invite(&coach, &assistant, Grant { limits: true, ..Grant::new(Role::Assistant, vec![member]) });
    let medical = device(6, false);
    invite(&coach, &medical, Grant { everyone: true, limits: true, ..Grant::new(Role::Medical, vec![]) });
    let guardian = device(7, false);
    invite(&coach, &guardian, Grant { consent: true, ..Grant::new(Role::Guardian, vec![member]) });
    sync(&phone, &coach);

    assert_eq!(count(&assistant.book, kind::REST), 3);
    let names = |d: &Device| count(&d.book, kind::MEMBER);
    // Two on the roster; Ada's name is for those who are given her.
    assert_eq!((names(&assistant), names(&medical), names(&guardian)), (2, 3, 2));
    let limit = || {
        Draft::new(Fact::Limit(Limit {
            from: NOW.now().day(),
            until: None,
            no_one_leg: None,
            no_approach: true,
            max_box_mm: None,
            said_by: SaidBy::Clinician,
            note: None,
        }))
    };
    let now = NOW.now();
    assistant.book.write(Scope::Member(member), &limit(), now).unwrap();
    medical.book.write(Scope::Member(other), &limit(), now).unwrap();
    let refused = |ended: Result<_, BookError>| match ended {
        Err(BookError::NotAllowed(why)) => why,
        other => panic!("{other:?}"),
    };
    assert_eq!(refused(assistant.book.write(Scope::Member(other), &limit(), now)), Some(Reason::NotGiven));
    assert_eq!(refused(guardian.book.write(Scope::Member(member), &limit(), now)), Some(Reason::NotGiven));
    assert_eq!(refused(medical.book.write(Scope::Member(member), &said("x"), now)), Some(Reason::MemberOnly));
    assert_eq!(refused(assistant.book.write(Scope::Squad, &said("x"), now)), Some(Reason::OwnerOnly));
    // Private: the guardian reads it, the others by consent, each for itself.
    let consent = |book: &Book, to| {
        let fact = Fact::Consent(Consent { to, given: true });
        book.revise(Scope::Member(member), Subject::Uuid(member.0), fact, now).map(drop)
    };
    assert!(consent(&assistant.book, Audience::Medical).is_err());
    sync(&phone, &guardian);
    assert_eq!(count(&guardian.book, kind::CHECK_IN), 1);
    consent(&guardian.book, Audience::Medical).unwrap();
    sync(&guardian, &coach);
    sync(&medical, &coach);
    assert_eq!(count(&medical.book, kind::CHECK_IN), 0, "the coach has nothing private to pass on");
    sync(&phone, &medical);
    assert_eq!(count(&medical.book, kind::CHECK_IN), 1);
    sync(&phone, &assistant);
    sync(&phone, &coach);
    assert_eq!((count(&assistant.book, kind::CHECK_IN), count(&coach.book, kind::CHECK_IN)), (0, 0));
    for d in [&coach, &assistant, &medical, &guardian, &phone] {
        sound(&d.book);
    }
}

#[test]
fn two_first_entries_of_one_athlete_become_one_and_two_again() {
    let (coach, phone, member) = joined();
    let twin = coach.book.add_member("Ino", NOW.now()).unwrap();
    rest(&coach.book, twin, 20..24);
    sync(&phone, &coach);
    assert_eq!(count(&phone.book, kind::REST), 3);
    coach.book.same_person(member, twin, NOW.now()).unwrap();
    sync(&phone, &coach);
    for book in [&coach.book, &phone.book] {
        assert_eq!(book.members().unwrap().len(), 1);
        let person = book.members().unwrap()[0];
        for id in [member, twin] {
            let of = Filter { member: Some(id), kind: Some(kind::REST), ..Filter::default() };
            assert_eq!(book.held(&of).unwrap().len(), 7, "under either id");
        }
        assert_eq!(book.authority().unwrap().person(twin), person);
        sound(book);
    }
    rest(&phone.book, twin, 30..31);
    coach.book.two_persons(twin, NOW.now()).unwrap();
    assert_eq!(coach.book.members().unwrap().len(), 2);
    sync(&phone, &coach);
    assert_eq!(coach.book.uncounted().unwrap().len(), 1, "the phone is not given the other any more");
    sound(&coach.book);
}

#[test]
fn a_phone_put_back_without_its_key_is_a_new_device_of_the_same_member() {
    let (coach, _lost, member) = joined();
    let phone = device(9, false);
    invite(&coach, &phone, Grant::new(Role::Athlete, vec![member]));
    assert_eq!(phone.book.own_members().unwrap(), [member]);
    assert_eq!(count(&phone.book, kind::REST), 3, "what the coach had is back");
    rest(&phone.book, member, 10..11);
    sync(&phone, &coach);
    assert_eq!(count(&coach.book, kind::REST), 4);
    assert_eq!(coach.book.members().unwrap(), [member]);
}

#[test]
fn a_file_brings_what_a_sync_would_and_is_confirmed_by_one_that_comes_back() {
    let (coach, phone, member) = joined();
    let place = phone.book.write(Scope::Member(member), &said(SENTINEL), NOW.now()).unwrap();
    let whereabouts = || {
        let filter = Filter { subject: Some(Subject::Fact(place)), ..Filter::default() };
        let held = phone.book.held(&filter).unwrap().remove(0);
        phone.book.whereabouts(held.value().place).unwrap()
    };
    assert_eq!(whereabouts(), Whereabouts::OnlyHere);
    let file = |from: &Device, to: &Device| {
        let mut told = vec![];
        let (bytes, handed) = hand_over::write(&from.book, to.book.device(), vec![], &NOW, &mut |p| {
            told.push((p.sent, p.to_send));
            true
        })
        .unwrap();
        from.book.note_handed(&handed, At(7).now()).unwrap();
        assert_eq!(told.last().map(|t| t.0), Some(handed.entries));
        assert!(told.iter().all(|(sent, all)| sent <= all && *all == handed.entries));
        bytes
    };
    let bytes = file(&phone, &coach);
    let (to, at_ms) = (coach.book.device(), At(7).now().ms);
    assert_eq!(whereabouts(), Whereabouts::Handed { to, at_ms });
    assert!(!bytes.windows(11).any(|w| w == SENTINEL.as_bytes()));
    // Not for anyone else, and not cut short unnoticed: but what came is kept.
    let stranger = device(8, false);
    let refused = hand_over::read(&stranger.book, &bytes[..], &NOW, &mut |_, _| true);
    assert!(matches!(refused, Err(TakeInError::Parcel(ParcelError::OtherReceiver))), "{refused:?}");
    let cut = hand_over::read(&coach.book, &bytes[..bytes.len() - 40], &NOW, &mut |_, _| true);
    assert!(matches!(cut, Err(TakeInError::Parcel(ParcelError::Cut { .. }))), "{cut:?}");
    assert_eq!(count(&coach.book, kind::SESSION), 1);
    for new in [0, 0] {
        let taken = hand_over::read(&coach.book, &bytes[..], &NOW, &mut |_, _| true).unwrap();
        assert_eq!((taken.from, taken.received), (phone.book.device(), new), "safe to apply twice");
    }
    let back = file(&coach, &phone);
    hand_over::read(&phone.book, &back[..], &At(9), &mut |_, _| true).unwrap();
    assert_eq!(whereabouts(), Whereabouts::With(vec![(coach.book.device(), At(9).now().ms)]));
    // A removed device gets no file, and a stranger's is not taken in.
    coach.book.remove_device(phone.book.device(), NOW.now()).unwrap();
    let none = hand_over::write(&coach.book, phone.book.device(), vec![], &NOW, &mut |_| true);
    assert!(matches!(none, Err(hand_over::HandOverError::Sync(SyncError::Refused(Refusal::NotAdmitted)))));
    sound(&coach.book);
}

#[test]
fn what_a_member_left_behind_is_named_when_its_time_is_over() {
    let (coach, _, _) = joined();
    let gone = coach.book.add_member("Ada", NOW.now()).unwrap();
    let today = NOW.now().day();
    coach.book.leave(gone, Some(today.plus(30)), NOW.now()).unwrap();
    assert_eq!(coach.book.members().unwrap().len(), 1);
    assert!(coach.book.kept_too_long(today.plus(29)).unwrap().is_empty());
    assert_eq!(coach.book.kept_too_long(today.plus(30)).unwrap(), [(gone, today.plus(30))]);
    coach.book.erase_member(gone, NOW.now()).unwrap();
    assert!(coach.book.kept_too_long(today.plus(31)).unwrap().is_empty());
}

#[test]
fn a_card_edit_of_a_removed_phone_gives_the_earlier_value_back() {
    let (coach, phone, member) = joined();
    let name = |book: &Book, n: &str| {
        let fact = Fact::Card(Card::Name(n.into()));
        book.revise(Scope::Member(member), Subject::Uuid(member.0), fact, NOW.now()).unwrap();
    };
    name(&coach.book, "Ino");
    sync(&phone, &coach);
    coach.book.remove_device(phone.book.device(), NOW.now()).unwrap();
    name(&phone.book, "Nobody");
    sync(&phone, &coach);
    let filter = Filter { kind: Some(kind::MEMBER), field: Some("name"), ..Filter::default() };
    let held = coach.book.held(&filter).unwrap().remove(0);
    assert!(!held.is_clash());
    assert_eq!(held.fact(), Some(&Fact::Card(Card::Name("Ino".into()))));
    sound(&coach.book);
}

#[test]
fn a_stale_admission_lets_nobody_in() {
    let (coach, _, _) = joined();
    let second = owner(&coach, 5);
    coach.book.remove_device(second.book.device(), NOW.now()).unwrap();
    // It has not heard of it yet, and admits someone.
    let late = device(6, false);
    invite(&second, &late, Grant::new(Role::Athlete, vec![]));
    let (near, far, _) = meet(&late.book, Part::Caller, &coach.book, usize::MAX, NOW);
    assert!(near.is_err() && far.is_err(), "nobody here knows it");
    sync(&second, &coach);
    let uncounted = coach.book.uncounted().unwrap();
    assert!(uncounted.iter().any(|u| u.kind == kind::DEVICE), "kept and shown");
    assert!(uncounted.iter().all(|u| u.judgement == Judgement::Refused(Reason::Removed)));
    let (near, far, _) = meet(&late.book, Part::Caller, &coach.book, usize::MAX, NOW);
    assert!(near.is_err() && far.is_err(), "and still not let in");
    sound(&coach.book);
}

#[test]
fn an_inviter_that_hears_of_its_removal_from_its_guest_admits_nobody() {
    let coach = device(1, false);
    let key = Recovery::from_text(&coach.book.found("Quay jumps", NOW.now()).unwrap().recovery.to_text());
    let key = key.unwrap();
    let phone = device(2, false);
    phone.book.start_member(NOW.now()).unwrap();
    join(&phone.book, &coach.book, NOW).0.unwrap();
    let second = owner(&coach, 5);
    sync(&phone, &coach);
    // The coach's new laptop shows by the recovery key's acts what it may, and they
    // hold the removal.
    let laptop = device(7, false);
    laptop.book.recover(&key, NOW.now()).unwrap();
    let open = laptop.book.invite(Grant::new(Role::Athlete, vec![]), NOW.now(), 10).unwrap();
    let invitation = Invitation::of(&laptop.book, &open, vec![]).unwrap();
    let part = accept(&phone.book, &invitation, &NOW).unwrap();
    meet(&phone.book, part, &laptop.book, usize::MAX, NOW).0.unwrap();
    laptop.book.remove_device_by_recovery(second.book.device(), &key, NOW.now()).unwrap();

    let open = second.book.invite(Grant::new(Role::Assistant, vec![]), NOW.now(), 10).unwrap();
    let invitation = Invitation::of(&second.book, &open, vec![]).unwrap();
    let part = accept(&laptop.book, &invitation, &NOW).unwrap();
    let (near, far, _) = meet(&laptop.book, part, &second.book, usize::MAX, NOW);
    assert!(
        matches!(near, Err(ExchangeError::Sync(SyncError::RefusedByPeer(Refusal::NotOwner)))),
        "{near:?} {far:?}"
    );
    assert!(matches!(far, Err(ExchangeError::Sync(SyncError::Refused(Refusal::NotOwner)))));
    assert!(second.book.authority().unwrap().standing(second.book.device()).cut.is_some());
    sound(&second.book);
}

#[test]
fn a_receipt_for_another_history_confirms_nothing() {
    let (coach, phone, member) = joined();
    let place = phone.book.write(Scope::Member(member), &said("new"), NOW.now()).unwrap();
    phone.book.seal().unwrap();
    let mut replica = BookReplica::new(&phone.book, &NOW);
    let line = replica.lines().unwrap().into_iter().find(|l| l.scope == Scope::Member(member)).unwrap();
    let whereabouts = || {
        let filter = Filter { subject: Some(Subject::Fact(place)), ..Filter::default() };
        let held = phone.book.held(&filter).unwrap().remove(0);
        phone.book.whereabouts(held.value().place).unwrap()
    };
    for forged in [
        Head { hash: Hash([7; 32]), ..line.head },
        Head { seq: line.head.seq + 9, ..line.head },
        Head { log: LogId([7; 32]), ..line.head },
        Head { seq: line.head.seq - 1, ..line.head },
    ] {
        replica.note_receipt(coach.book.device(), &[forged]).unwrap();
        assert_eq!(whereabouts(), Whereabouts::OnlyHere, "{forged:?}");
    }
    replica.note_receipt(coach.book.device(), &[line.head]).unwrap();
    assert!(matches!(whereabouts(), Whereabouts::With(_)));
}

#[test]
fn siblings_who_share_a_phone_come_into_the_squad_together() {
    let coach = device(1, false);
    coach.book.found("Quay jumps", NOW.now()).unwrap();
    let phone = device(2, false);
    let first = phone.book.start_member(NOW.now()).unwrap();
    let second = phone.book.new_member_id(NOW.now()).unwrap();
    phone.book.start_another(second, "Ino", NOW.now()).unwrap();
    let mut both = vec![first, second];
    both.sort_unstable();
    assert_eq!(phone.book.start_member(NOW.now()).unwrap(), first, "once, as before");
    assert_eq!(phone.book.own_members().unwrap(), both);
    let refused = phone.book.start_another(phone.book.new_member_id(NOW.now()).unwrap(), "", NOW.now());
    assert!(matches!(refused, Err(BookError::Refused(_))), "{refused:?}");
    assert_eq!(phone.book.own_members().unwrap(), both, "a name that is refused makes nobody");
    for member in &both {
        rest(&phone.book, *member, 0..2);
    }
    join(&phone.book, &coach.book, NOW).0.unwrap();
    assert_eq!(coach.book.members().unwrap(), both);
    assert_eq!(count(&coach.book, kind::REST), 4);
    let third = phone.book.new_member_id(NOW.now()).unwrap();
    assert!(matches!(phone.book.start_another(third, "Ada", NOW.now()), Err(BookError::HasSquad)));
    rest(&phone.book, second, 5..6);
    sync(&phone, &coach);
    assert_eq!(count(&coach.book, kind::REST), 5);
    sound(&coach.book);
    sound(&phone.book);
}
