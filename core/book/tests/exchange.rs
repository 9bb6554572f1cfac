//! Two books and more come together over a link.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use pitside_book::clock::Clock;
use pitside_book::exchange::{ExchangeError, Part, accept};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, BookError, BookReplica, Draft, Filter};
use pitside_log::sync::{Conversation, Message, Refusal, Replica, SyncError};
use pitside_model::facts::{Card, Conditions, Extra, Fact, MemberId, Scope, Session, Subject, kind};

mod meeting;
use meeting::{At, Ended, NOW, count, device, hurts, invitation, join, meet, rest, share, squad};

/// As many bytes as go into a few batches.
fn long_sessions(book: &Book, member: MemberId) {
    for n in 0..90 {
        let session = Fact::Session(Session {
            day: NOW.now().day(),
            start_min: None,
            purpose: None,
            location: None,
            surface: None,
            shoes: None,
            weather: None,
            cut_short: None,
            conditions: Conditions::default(),
        });
        let extra: Extra = vec![("x-later".into(), vec![n; 9_000].as_slice().into())];
        let draft = Draft { extra, ..Draft::new(session) };
        book.write(Scope::Member(member), &draft, NOW.now()).unwrap();
    }
}

#[test]
fn a_phone_that_logged_before_pairing_joins_and_its_data_count() {
    let (coach, phone, member) = squad();
    rest(&phone.book, member, 0..700);
    let rests = |book: &Book| {
        let only = book.only_here().unwrap().into_iter().find(|only| only.kind == kind::REST);
        only.map(|only| (only.entries, only.private))
    };
    assert_eq!(rests(&phone.book), Some((700, false)));
    let (near, far) = join(&phone.book, &coach.book, NOW);
    let (near, far) = (near.unwrap(), far.unwrap());
    assert_eq!((near.sent, far.received), (700, 700));
    assert_eq!(phone.book.squad(), coach.book.squad());
    assert_eq!(count(&coach.book, kind::REST), 700);
    assert_eq!(coach.book.members().unwrap(), [member]);
    assert!(coach.book.uncounted().unwrap().is_empty());
    assert!(count(&phone.book, kind::EXERCISE) > 10, "the catalogue came along");
    // Nothing twice: the next one moves nothing.
    let (near, far, _) = meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW);
    let (near, far) = (near.unwrap(), far.unwrap());
    assert_eq!((near.sent, near.received, far.sent, far.received), (0, 0, 0, 0));
    assert_eq!(phone.book.carried().unwrap().only_here, 0);
    assert_eq!(rests(&phone.book), None);
}

#[test]
fn what_was_let_go_is_passed_over_whatever_else_is_sent() {
    let (coach, phone, member) = squad();
    let other = device(3, false);
    join(&phone.book, &coach.book, NOW).0.unwrap();
    let invitation = invitation(&coach.book, Some(member));
    let part = accept(&other.book, &invitation, &NOW).unwrap();
    meet(&other.book, part, &coach.book, usize::MAX, NOW).0.unwrap();
    // More than one seal, and more than one batch.
    rest(&other.book, member, 0..20);
    long_sessions(&other.book, member);
    coach.book.erase_member(member, NOW.now()).unwrap();
    meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW).0.unwrap();
    phone.book.let_go(member, NOW.now()).unwrap();
    for _ in 0..2 {
        let (near, far, _) = meet(&phone.book, Part::Caller, &other.book, usize::MAX, NOW);
        near.unwrap();
        far.unwrap();
    }
    assert_eq!(count(&phone.book, kind::REST) + count(&phone.book, kind::SESSION), 0);
    assert!(phone.book.aside().unwrap().is_empty(), "nothing of it is kept");
    assert_eq!(count(&other.book, kind::REST), 20);
}

#[test]
fn a_removed_phone_takes_back_what_it_wrote_whoever_may_see_it_now() {
    let (coach, phone, member) = squad();
    let other = device(3, false);
    join(&phone.book, &coach.book, NOW).0.unwrap();
    let invitation = invitation(&coach.book, Some(member));
    let part = accept(&other.book, &invitation, &NOW).unwrap();
    meet(&other.book, part, &coach.book, usize::MAX, NOW).0.unwrap();
    hurts(&phone.book, member);
    meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW).0.unwrap();
    meet(&phone.book, Part::Caller, &other.book, usize::MAX, NOW).0.unwrap();
    coach.book.remove_device(phone.book.device(), NOW.now()).unwrap();
    // Said on the other phone, so that the removed one never hears of it.
    share(&other.book, member, true);
    meet(&other.book, Part::Caller, &coach.book, usize::MAX, NOW).0.unwrap();
    assert_eq!(
        coach.book.record_of(member).unwrap().iter().filter(|s| s.key.kind == kind::CHECK_IN).count(),
        1
    );
    let (near, far, _) = meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW);
    near.unwrap();
    far.unwrap();
}

#[test]
fn a_removal_in_the_middle_of_a_conversation_stops_what_is_queued() {
    let (coach, phone, member) = squad();
    let other = device(3, false);
    join(&phone.book, &coach.book, NOW).0.unwrap();
    long_sessions(&coach.book, member);
    let part = accept(&other.book, &invitation(&coach.book, Some(member)), &NOW).unwrap();
    let Part::Guest(join, squad) = part else { panic!() };
    let (mut near, mut far) = (BookReplica::new(&other.book, &NOW), BookReplica::new(&coach.book, &NOW));
    let mut calls = Conversation::new(coach.book.device(), true, Some((join, squad)));
    let mut answers = Conversation::new(other.book.device(), false, None);
    let mut message = calls.begin(&mut near, NOW.now().ms).unwrap();
    let mut segments = 0;
    while let Some(answer) = answers.step(&mut far, message, NOW.now().ms).unwrap() {
        if let Message::Batch(batch) = &answer
            && batch.segments.iter().any(|s| far.log(s.log).unwrap().unwrap().0 != Scope::Squad)
        {
            segments += 1;
            // Another conversation of the coach's brings the same.
            let removed = coach.book.remove_device(other.book.device(), NOW.now());
            assert!(segments == 1 && removed.is_ok(), "nothing more after the removal");
        }
        match calls.step(&mut near, answer, NOW.now().ms).unwrap() {
            Some(next) => message = next,
            None => break,
        }
    }
    assert_eq!(segments, 1);
    assert!(answers.is_done());
}

#[test]
fn what_hurts_crosses_only_while_the_member_says_so() {
    let (coach, phone, member) = squad();
    join(&phone.book, &coach.book, NOW).0.unwrap();
    hurts(&phone.book, member);
    let (_, far, crossed) = meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW);
    far.unwrap();
    assert_eq!(count(&coach.book, kind::CHECK_IN), 0);
    let needle = b"shin";
    assert!(!crossed.windows(needle.len()).any(|w| w == needle), "not a byte of it");
    share(&phone.book, member, true);
    // The consent arrives first, the private scope with the same exchange or the next.
    for _ in 0..2 {
        meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW).1.unwrap();
    }
    assert_eq!(count(&coach.book, kind::CHECK_IN), 1);
    share(&phone.book, member, false);
    hurts(&phone.book, member);
    for _ in 0..2 {
        meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW).1.unwrap();
    }
    assert_eq!(count(&coach.book, kind::CHECK_IN), 1, "what exists stays, nothing new comes");
}

#[test]
fn two_phones_keep_to_their_members() {
    let (coach, phone, member) = squad();
    join(&phone.book, &coach.book, NOW).0.unwrap();
    let other = device(3, false);
    let second = other.book.start_member(NOW.now()).unwrap();
    join(&other.book, &coach.book, NOW).0.unwrap();
    rest(&phone.book, member, 0..3);
    let name = Fact::Card(Card::Name("Zephyrine".into()));
    phone.book.write(Scope::Member(member), &Draft::about(Subject::Uuid(member.0), name), NOW.now()).unwrap();
    meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW).0.unwrap();
    let (near, _, crossed) = meet(&other.book, Part::Caller, &coach.book, usize::MAX, NOW);
    near.unwrap();
    assert!(!crossed.windows(9).any(|w| w == b"Zephyrine"));
    assert_eq!(count(&other.book, kind::REST), 0);
    assert_eq!(other.book.own_members().unwrap(), [second]);
    // And straight between the two phones nothing of either member crosses.
    let (near, _, crossed) = meet(&other.book, Part::Caller, &phone.book, usize::MAX, NOW);
    near.unwrap();
    assert!(!crossed.windows(9).any(|w| w == b"Zephyrine"));
}

#[test]
fn a_cut_anywhere_goes_on_next_time_with_nothing_lost_and_nothing_twice() {
    for messages in 0..18 {
        let (coach, phone, member) = squad();
        join(&phone.book, &coach.book, NOW).0.unwrap();
        rest(&phone.book, member, 0..600);
        coach.book.add_member("Ada", NOW.now()).unwrap();
        let name = Fact::Card(Card::Name("Ino".into()));
        coach
            .book
            .write(Scope::Member(member), &Draft::about(Subject::Uuid(member.0), name), NOW.now())
            .unwrap();
        let _ = meet(&phone.book, Part::Caller, &coach.book, messages, NOW);
        let held = count(&coach.book, kind::REST);
        assert!([0, 256, 512, 600].contains(&held), "whole seals only, found {held}");
        let (near, far, _) = meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW);
        near.unwrap();
        assert_eq!(far.unwrap().received, 600 - held as u64);
        assert_eq!(count(&coach.book, kind::REST), 600);
        assert_eq!(
            count(&phone.book, kind::MEMBER),
            count(&coach.book, kind::MEMBER) - 1,
            "Ada's name stays"
        );
    }
}

#[test]
fn a_guest_cut_off_in_the_middle_comes_again_with_the_same_invitation() {
    for messages in 0..14 {
        let (coach, phone, member) = squad();
        rest(&phone.book, member, 0..5);
        let invitation = invitation(&coach.book, None);
        let part = accept(&phone.book, &invitation, &NOW).unwrap();
        let _ = meet(&phone.book, part, &coach.book, messages, NOW);
        assert_eq!(count(&phone.book, kind::REST), 5, "its own data count at every moment");
        let part = accept(&phone.book, &invitation, &NOW).unwrap();
        meet(&phone.book, part, &coach.book, usize::MAX, NOW).0.unwrap();
        assert_eq!(count(&coach.book, kind::REST), 5);
    }
}

fn refused(ended: Ended) -> Refusal {
    match ended {
        Err(ExchangeError::Sync(SyncError::Refused(why) | SyncError::RefusedByPeer(why))) => why,
        other => panic!("{other:?}"),
    }
}

#[test]
fn strangers_used_and_expired_invitations_are_refused_and_both_sides_told() {
    let (coach, phone, _) = squad();
    let stranger = device(4, false);
    // No invitation at all.
    let (near, far, _) = meet(&stranger.book, Part::Caller, &coach.book, usize::MAX, NOW);
    assert_eq!((refused(near), refused(far)), (Refusal::NotAdmitted, Refusal::NotAdmitted));
    // A used one.
    let invitation = invitation(&coach.book, None);
    let part = accept(&phone.book, &invitation, &NOW).unwrap();
    meet(&phone.book, part, &coach.book, usize::MAX, NOW).0.unwrap();
    let part = accept(&stranger.book, &invitation, &NOW).unwrap();
    let (near, far, _) = meet(&stranger.book, part, &coach.book, usize::MAX, NOW);
    assert_eq!((refused(near), refused(far)), (Refusal::Invitation, Refusal::Invitation));
    // One whose time is over by the inviter's clock.
    let (near, far) = join(&stranger.book, &coach.book, At(11));
    assert_eq!((refused(near), refused(far)), (Refusal::Expired, Refusal::Expired));
    assert_eq!(stranger.book.squad(), None);
    assert_eq!(coach.book.devices().unwrap().len(), 2);
}

#[test]
fn another_squad_and_a_demo_book_do_not_mix() {
    let (coach, phone, _) = squad();
    join(&phone.book, &coach.book, NOW).0.unwrap();
    let other = device(5, false);
    other.book.found("Hill jumps", NOW.now()).unwrap();
    let (near, far, _) = meet(&phone.book, Part::Caller, &other.book, usize::MAX, NOW);
    assert_eq!((refused(near), refused(far)), (Refusal::OtherSquad, Refusal::OtherSquad));
    assert!(matches!(accept(&phone.book, &invitation(&other.book, None), &NOW), Err(BookError::HasSquad)));
    let demo = device(6, true);
    demo.book.found("Demo", NOW.now()).unwrap();
    let fresh = device(7, false);
    assert!(matches!(accept(&fresh.book, &invitation(&demo.book, None), &NOW), Err(BookError::Demo)));
    // And an invitation that says the wrong thing of its squad changes nothing.
    let forged = Invitation { demo: false, ..invitation(&demo.book, None) };
    let part = accept(&fresh.book, &forged, &NOW).unwrap();
    let (near, _, _) = meet(&fresh.book, part, &demo.book, usize::MAX, NOW);
    assert!(matches!(near, Err(ExchangeError::Sync(SyncError::Store(BookError::Demo)))), "{near:?}");
    assert_eq!(fresh.book.squad(), None);
}

#[test]
fn an_edit_on_both_sides_is_a_clash_on_both_and_its_settlement_too() {
    let (coach, phone, member) = squad();
    join(&phone.book, &coach.book, NOW).0.unwrap();
    let name = |book: &Book, n: &str, at: i64| {
        let fact = Fact::Card(Card::Name(n.into()));
        let held = book.held(&Filter { kind: Some(kind::MEMBER), field: Some("name"), ..Filter::default() });
        let draft = match held.unwrap().first() {
            Some(held) => Draft::replacing(held, fact),
            None => Draft::about(Subject::Uuid(member.0), fact),
        };
        book.write(Scope::Member(member), &draft, At(at).now()).unwrap();
    };
    name(&phone.book, "Ino", 1);
    name(&coach.book, "Ino Vale", 2);
    let sync = || meet(&phone.book, Part::Caller, &coach.book, usize::MAX, NOW).0.unwrap();
    sync();
    let card = |book: &Book| {
        let held = book.held(&Filter { kind: Some(kind::MEMBER), field: Some("name"), ..Filter::default() });
        held.unwrap().remove(0)
    };
    for book in [&phone.book, &coach.book] {
        assert!(card(book).is_clash());
        assert_eq!(card(book).fact(), Some(&Fact::Card(Card::Name("Ino Vale".into()))));
    }
    name(&coach.book, "Ino", 3);
    sync();
    for book in [&phone.book, &coach.book] {
        assert!(!card(book).is_clash());
        assert_eq!(card(book).values.len(), 1);
    }
}
