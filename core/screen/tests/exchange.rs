//! What a phone has that nobody else has, over real books, files and sockets.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use std::collections::HashMap;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;
use std::thread;

use meeting::{DAY_MS, NOON, at, book, env, meet, pair};
use pitside_book::carrier::{Limits, Listener, Verdict};
use pitside_book::clock::SystemClock;
use pitside_book::exchange::{Part, exchange};
use pitside_book::keys::{Identity, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, Draft, Filter};
use pitside_model::facts::{
    Day, DeviceKey, Effort, Fact, Grant, Hash, Limit, Role, SaidBy, Scope, Subject, kind,
};
use pitside_screen::record::{CheckInForm, Clash, SetForm};
use pitside_screen::{Companion, Env, Job, Nearby, ScreenError};
use sha2::{Digest as _, Sha256};
use tempfile::TempDir;
use zeroize::Zeroizing;

fn folders() -> [TempDir; 2] {
    [TempDir::new().unwrap(), TempDir::new().unwrap()]
}

fn log(phone: &Companion, env: &Env) -> String {
    let form = SetForm { reps: 8, ..phone.log_set(env).unwrap().form };
    phone.log_today(env, "", &form).unwrap()
}

fn states(phone: &Companion) -> Vec<(String, String)> {
    let screen = phone.exchange(&env()).unwrap();
    screen.sessions.into_iter().map(|row| (row.state, row.kept)).collect()
}

fn said(state: &str, kept: &str) -> Vec<(String, String)> {
    vec![(state.to_owned(), kept.to_owned())]
}

#[test]
fn a_phone_alone_says_what_is_only_here_and_can_only_join() {
    let folder = TempDir::new().unwrap();
    let phone = book(&folder, 2);
    phone.start_member(env().stamp()).unwrap();
    let phone = Companion::over(phone);
    let screen = phone.exchange(&env()).unwrap();
    assert_eq!(screen.header, "Nothing is only on this phone");
    assert!(!screen.would_lose, "its own first entries are no loss: {:?}", screen.before);
    assert_eq!(screen.before, ["Nothing is logged on this phone yet."]);
    assert_eq!(screen.actions.iter().map(|a| a.id.as_str()).collect::<Vec<_>>(), ["join"]);
    assert_eq!(phone.check_route(&screen.actions[0].route).unwrap(), "join");

    log(&phone, &at(NOON - DAY_MS));
    log(&phone, &env());
    log(&phone, &env());
    let screen = phone.exchange(&env()).unwrap();
    assert_eq!(screen.header, "3 sets only on this phone, oldest yesterday");
    assert!(screen.would_lose);
    assert_eq!(screen.before[0], "3 sets are on this phone, and no other device has confirmed them.");
    assert!(screen.before[1].starts_with("So are 2 other entries"), "the two sessions: {:?}", screen.before);
    assert_eq!(screen.sessions.len(), 2);
    assert!(screen.sessions[0].text.starts_with("Today. "), "{:?}", screen.sessions[0]);
    assert!(screen.sessions.iter().all(|row| row.state == "here"));

    let days = |n: i64| phone.exchange(&at(NOON + n * DAY_MS)).unwrap().header;
    assert_eq!(days(1), "3 sets only on this phone, oldest Tuesday");
    assert_eq!(days(40), "3 sets only on this phone, oldest Tue 24 Nov");
    let later = phone.exchange(&at(NOON + 40 * DAY_MS)).unwrap();
    assert!(later.sessions.is_empty());
    assert_eq!(later.sessions_note, "Older ones are only on this phone too, the oldest from Tue 24 Nov.");
}

#[test]
fn a_session_is_here_then_in_a_file_then_with_the_coach_and_only_a_receipt_says_so() {
    let (folders, files) = (folders(), TempDir::new().unwrap());
    let (coach, phone, member) = pair(&folders);
    let (coachs, phone) = (Companion::over(Arc::clone(&coach)), Companion::over(phone));
    log(&phone, &env());
    assert_eq!(states(&phone), said("here", "only on this phone"));

    let device = phone.exchange(&env()).unwrap().devices.remove(0);
    assert_eq!((device.title.as_str(), device.id), ("The coach's device", coach.device().to_string()));
    let folder = files.path().to_str().unwrap();
    let job = Job::new();
    let end = phone.hand_over(&env(), &coach.device().to_string(), folder, &job);
    assert!(end.done && end.text.starts_with("A file for The coach's device ("), "{end:?}");
    let name = end.path.rsplit('/').next().unwrap();
    assert_eq!(name, "pitside-2026-11-25-1200.pitside", "nothing of whom");
    let progress = job.progress();
    assert!(progress.moved == progress.of && progress.of > 100, "a file is complete: {progress:?}");
    assert_eq!(job.told(&env()), format!("{0} of {0} entries", progress.of));
    assert_eq!(
        states(&phone),
        said("file", "in a file that was handed over today at 12:00; nobody has confirmed it")
    );
    assert!(phone.exchange(&env()).unwrap().would_lose, "a file that nobody confirmed may be lost");
    let second = phone.hand_over(&env(), &coach.device().to_string(), folder, &Job::new());
    assert!(second.path.ends_with("pitside-2026-11-25-1200-2.pitside"), "{second:?}");

    let taken = coachs.take_in_file(&env(), &end.path, &Job::new());
    assert!(taken.done && taken.text.ends_with("2 entries were new here."), "{taken:?}");
    let again = coachs.take_in_file(&env(), &end.path, &Job::new());
    assert!(again.text.ends_with("All of it was here already."), "{again:?}");
    assert_eq!(states(&phone)[0].0, "file", "the coach has it, and this phone cannot know yet");

    let own = Companion::over(book(&TempDir::new().unwrap(), 2));
    let back = coachs.hand_over(&env(), &own_key(2), folder, &Job::new());
    assert!(back.done, "{back:?}");
    assert!(!own.take_in_file(&env(), &end.path, &Job::new()).done, "for the coach and nobody else");
    assert!(phone.take_in_file(&env(), &back.path, &Job::new()).done);
    // Receipts are stamped by this machine's own clock.
    let now = states(&phone).remove(0);
    assert!(now.0 == "coach" && now.1.starts_with("with the coach, confirmed "), "{now:?}");

    // A rating that comes later is a part of the session.
    let id = phone.exchange(&env()).unwrap().sessions[0].id.clone();
    phone.set_effort(&env(), &id, &pitside_screen::Effort { rpe_tenths: 60, minutes: 50 }).unwrap();
    assert_eq!(states(&phone)[0].0, "here");
    assert_eq!(phone.exchange(&env()).unwrap().header, "No set, but 1 other entry only on this phone");
    assert!(coach.members().unwrap().contains(&member));
}

fn own_key(seed: u8) -> String {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([seed; 32]))).key().to_string()
}

#[test]
fn what_is_private_is_told_apart_and_counts_as_a_loss() {
    let folders = folders();
    let (coach, phones, _) = pair(&folders);
    let phone = Companion::over(Arc::clone(&phones));
    let form = CheckInForm { sleep_min: Some(480), ..phone.check_in_form(&env(), "").unwrap().form };
    phone.check_in(&env(), "", &form).unwrap();
    meet(&phones, Part::Caller, &coach);
    let screen = phone.exchange(&env()).unwrap();
    assert_eq!(screen.header, "No set, but 1 other entry only on this phone");
    assert!(screen.before[0].starts_with("1 entry on how you were is private"), "{:?}", screen.before);
    phone.share_private(&env(), "", true).unwrap();
    meet(&phones, Part::Caller, &coach);
    let screen = phone.exchange(&env()).unwrap();
    assert!(!screen.would_lose, "{:?}", screen.before);
    assert_eq!(screen.before[0], "All that is logged here is on another device too.");
}

fn clash(phone: &Companion) -> Clash {
    let mut clashes = phone.exchange(&env()).unwrap().clashes;
    assert_eq!(clashes.len(), 1, "{clashes:?}");
    clashes.remove(0)
}

#[test]
fn a_clash_made_on_both_sides_is_shown_on_both_and_settled_on_the_phone() {
    let folders = folders();
    let (coach, phones, member) = pair(&folders);
    let (coachs, phone) = (Companion::over(Arc::clone(&coach)), Companion::over(Arc::clone(&phones)));
    log(&phone, &env());
    meet(&phones, Part::Caller, &coach);
    let id = phone.exchange(&env()).unwrap().sessions[0].id.clone();
    phone.set_effort(&env(), &id, &pitside_screen::Effort { rpe_tenths: 60, minutes: 50 }).unwrap();
    let theirs = Fact::Effort(Effort { rpe_tenths: 75, minutes: 50 });
    let session = Subject::Fact(Hash::parse(&id).unwrap());
    coach.revise(Scope::Member(member), session, theirs, at(NOON + 60_000).stamp()).unwrap();
    meet(&phones, Part::Caller, &coach);

    let shown = clash(&phone);
    assert_eq!(shown.title, "Written differently: Effort of a session");
    assert!(shown.can_settle && shown.settled_by.is_empty());
    let theirs = coachs.athlete(&env(), &member.to_string(), "").unwrap().clashes;
    assert!(matches!(theirs.as_slice(), [one] if one.can_settle && one.member == shown.member), "{theirs:?}");
    let own = shown.values.iter().find(|v| v.written.starts_with("this device")).unwrap();
    assert!(own.keep.starts_with("Keep “") && own.keep.contains(&own.text), "{own:?}");
    phone.settle(&env(), &shown.member, &own.choice).unwrap();
    assert!(phone.exchange(&env()).unwrap().clashes.is_empty());
    meet(&phones, Part::Caller, &coach);
    let athlete = coachs.athlete(&env(), &member.to_string(), "").unwrap();
    assert!(athlete.clashes.is_empty());
}

#[test]
fn what_the_phone_may_not_write_it_shows_and_leaves_to_the_coach() {
    let folders = folders();
    let (coach, phones, member) = pair(&folders);
    let phone = Companion::over(Arc::clone(&phones));
    let limit = |max_box_mm: u32| {
        let from = Day::parse("2026-11-25").unwrap();
        let max_box_mm = Some(max_box_mm);
        let said_by = SaidBy::Coach;
        Fact::Limit(Limit {
            from,
            until: None,
            no_one_leg: None,
            no_approach: false,
            max_box_mm,
            said_by,
            note: None,
        })
    };
    coach.write(Scope::Member(member), &Draft::new(limit(300)), env().stamp()).unwrap();
    // Two corrections of one that neither saw of the other.
    let filter = Filter { member: Some(member), kind: Some(kind::LIMIT), ..Filter::default() };
    let seen = coach.held(&filter).unwrap().remove(0);
    for height in [200, 400] {
        coach.write(Scope::Member(member), &Draft::replacing(&seen, limit(height)), env().stamp()).unwrap();
    }
    meet(&phones, Part::Caller, &coach);
    let revision = phones.revision();
    let shown = clash(&phone);
    assert!(!shown.can_settle);
    assert_eq!(shown.settled_by, "The coach chooses here.");
    assert_eq!(shown.values.len(), 2);
    let refused = phone.settle(&env(), &shown.member, &shown.values[0].choice);
    assert!(matches!(refused, Err(ScreenError::NotAllowed { .. })), "{refused:?}");
    assert_eq!(phones.revision(), revision, "asking wrote nothing");
}

/// A coach's book that answers on a port of this machine until the test lets go.
fn serving<T>(coach: &Book, seed: u8, work: impl FnOnce(SocketAddr) -> T) -> T {
    let listener = Listener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, 0)), Limits::default()).unwrap();
    let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new([seed; 32])));
    thread::scope(|scope| {
        scope.spawn(|| {
            listener.serve(&identity, &|connection| {
                let Ok(mut connection) = connection else { return Verdict::Refused };
                let ended = exchange(coach, &mut connection, Part::Called, &SystemClock);
                connection.close();
                Verdict::of(&ended)
            });
        });
        let done = work(listener.address());
        listener.stop().stop();
        done
    })
}

/// What a desk announces: its form is frozen by a test of `pitside-book`.
fn announced(key: DeviceKey, address: SocketAddr) -> Nearby {
    let nonce = [5_u8; 16];
    let check = Sha256::new().chain_update("announce1").chain_update(nonce).chain_update(key.0).finalize();
    let hex = |bytes: &[u8]| bytes.iter().map(|b| format!("{b:02x}")).collect::<String>().into_bytes();
    let attributes = HashMap::from([
        ("txtvers".to_owned(), b"1".to_vec()),
        ("nonce".to_owned(), hex(&nonce)),
        ("check".to_owned(), hex(&check[..16])),
    ]);
    Nearby { attributes, addresses: vec![address.to_string()] }
}

#[test]
fn a_device_that_moved_is_found_nearby_and_nobody_else_is_called() {
    let [coachs, phones] = folders();
    let coach = book(&coachs, 1);
    let now = || Env { now_ms: pitside_book::clock::Clock::now(&SystemClock).ms, ..env() };
    coach.found("Quay jumps", now().stamp()).unwrap();
    let phone = Companion::open(phones.path().to_str().unwrap(), vec![2; 32], &now()).unwrap();
    let end = phone.sync_now(&now(), &[], &Job::new());
    assert_eq!((end.done, end.look_nearby), (false, false), "there is nobody to look for: {end:?}");
    serving(&coach, 1, |address| {
        let open = coach.invite(Grant::new(Role::Athlete, vec![]), now().stamp(), 10).unwrap();
        let text = Invitation::of(&coach, &open, vec![address.to_string()]).unwrap().to_text();
        let end = phone.join_now(&now(), &text, &Job::new());
        assert!(end.done, "{end:?}");
        assert_eq!(end.text, "This phone is in the squad now.");
        let used = phone.join_now(&now(), &text, &Job::new());
        assert!(used.done || used.text.starts_with("The invitation is not known"), "{used:?}");
    });
    log(&phone, &now());
    let end = phone.sync_now(&now(), &[], &Job::new());
    assert!(!end.done && end.look_nearby && end.more.starts_with("Tried at 127.0.0.1:"), "{end:?}");
    serving(&coach, 1, |address| {
        let stranger = announced(DeviceKey([8; 32]), address);
        let end = phone.sync_now(&now(), std::slice::from_ref(&stranger), &Job::new());
        assert!(!end.done, "whoever announces another key is not called: {end:?}");
        let end = phone.sync_now(&now(), &[stranger, announced(coach.device(), address)], &Job::new());
        assert!(end.done, "{end:?}");
        assert_eq!(end.more, "Nothing was new here. 2 entries went out.");
        let end = phone.sync_now(&now(), &[], &Job::new());
        assert!(end.done, "where it was found is known from then on: {end:?}");
        assert_eq!(phone.exchange(&now()).unwrap().header, "Nothing is only on this phone");
    });
    // Somebody who copied the announcement has not the key.
    let other = book(&TempDir::new().unwrap(), 9);
    serving(&other, 9, |address| {
        let end = phone.sync_now(&now(), &[announced(coach.device(), address)], &Job::new());
        assert!(!end.done && end.text.starts_with("Another device answers there"), "{end:?}");
    });
}

#[test]
fn an_end_says_what_may_be_done_in_both_languages() {
    let folder = TempDir::new().unwrap();
    let phone = Companion::open(folder.path().to_str().unwrap(), vec![2; 32], &env()).unwrap();
    let german = Env { language: "de".into(), ..env() };
    let join = |text: &str, env: &Env| phone.join_now(env, text, &Job::new()).text;
    assert!(join("hello", &env()).starts_with("That is no invitation."));
    assert!(join("hello", &german).starts_with("Das ist keine Einladung."));
    assert!(join("PITSIDE1:AAAA", &env()).starts_with("The invitation is not whole"));
    let file = folder.path().join("holiday.jpg");
    std::fs::write(&file, b"not ours").unwrap();
    let end = phone.take_in_file(&env(), file.to_str().unwrap(), &Job::new());
    assert_eq!((end.done, end.text.as_str()), (false, "That is no file of this app."));
    let end = phone.hand_over(&env(), &own_key(7), folder.path().to_str().unwrap(), &Job::new());
    assert!(!end.done && end.path.is_empty(), "{end:?}");
    let left = std::fs::read_dir(folder.path()).unwrap().flatten();
    assert!(left.map(|f| f.file_name()).all(|name| !name.to_string_lossy().ends_with(".pitside")));
    let job = Job::new();
    assert_eq!(job.told(&env()), "Looking for the other device …");
    job.cancel();
    assert_eq!(job.told(&german), "Es wird abgebrochen …");
}
