//! Devices, members and what does not count, over real books.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use std::sync::Arc;

use meeting::{AtNoon, DAY_MS, NOON, at, book, coach, env, meet, pair};
use pitside_book::exchange::Part;
use pitside_book::hand_over;
use pitside_book::store::{Book, BookReplica, Draft};
use pitside_log::sync::Replica;
use pitside_model::facts::{
    Audience, Card, CheckIn, Day, DeviceKey, Fact, Grant, Limit, RestDay, Role, SaidBy, Scope, Subject,
};
use pitside_screen::record::{GiveForm, SetForm};
use pitside_screen::{Companion, ScreenError, SessionForm};
use tempfile::TempDir;

fn row(companion: &Companion, device: DeviceKey) -> pitside_screen::record::DeviceRow {
    let screen = companion.devices(&env()).unwrap();
    screen.devices.into_iter().find(|row| row.id == device.to_string()).expect("a device of the squad")
}

/// A device that was admitted and has not been met.
fn admit(book: &Book, n: u8, grant: Grant) -> String {
    let key = DeviceKey([n; 32]);
    book.give(key, grant, env().stamp()).unwrap();
    key.to_string()
}

#[test]
fn a_device_is_removed_and_taken_back_by_who_may() {
    let folder = TempDir::new().unwrap();
    let (book, coach, member) = coach(&folder);
    let phone = admit(&book, 9, Grant::new(Role::Athlete, vec![member]));
    let screen = coach.devices(&env()).unwrap();
    assert!(screen.devices[0].here && screen.devices[0].actions.is_empty(), "not this one");
    let row = &screen.devices[1];
    assert_eq!((row.short.as_str(), row.title.as_str()), ("0909 0909", "Device of Ino"));
    assert_eq!(row.since, "In the squad since today at 12:00.");
    assert_eq!(row.met, "Not met from here yet.");
    let ids = |screen: &pitside_screen::record::Devices| -> Vec<String> {
        screen.devices[1].actions.iter().map(|a| a.id.clone()).collect()
    };
    assert_eq!(ids(&screen), ["give", "remove"]);
    assert_eq!(coach.check_route(&row.actions[0].route).unwrap(), format!("give/{phone}"));
    assert_eq!(coach.check_route(&row.actions[1].route).unwrap(), format!("remove/{phone}"));

    let asks = coach.confirm_removal(&env(), &phone).unwrap();
    assert_eq!(asks.title, "Remove from the squad: Device of Ino (0909 0909)?");
    assert!(asks.not_reached[0].contains("keeps what it has"));
    assert!(matches!(coach.take_in(&env(), &phone), Err(ScreenError::NotFound { .. })), "it is not removed");
    coach.remove_device(&env(), &phone).unwrap();
    assert!(matches!(coach.remove_device(&env(), &phone), Err(ScreenError::NotFound { .. })), "once");
    let screen = coach.devices(&env()).unwrap();
    assert_eq!(screen.devices[1].removed, "Removed from the squad.");
    assert_eq!(ids(&screen), ["readmit"]);
    coach.readmit_device(&env(), &phone).unwrap();
    assert_eq!(ids(&coach.devices(&env()).unwrap()), ["give", "remove"]);
    assert!(matches!(coach.readmit_device(&env(), &phone), Err(ScreenError::NotFound { .. })));
    assert!(matches!(coach.remove_device(&env(), &"00".repeat(32)), Err(ScreenError::NotFound { .. })));
    let own = book.device().to_string();
    assert!(matches!(coach.remove_device(&env(), &own), Err(ScreenError::NotFound { .. })), "not this one");
    assert!(matches!(coach.confirm_removal(&env(), &own), Err(ScreenError::NotFound { .. })));
    assert!(matches!(coach.remove_device(&env(), "x"), Err(ScreenError::NotFound { .. })));
}

#[test]
fn athletes_do_not_learn_each_others_names_and_the_coachs_device_comes_first() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (book, phone, _) = pair(&folders);
    let other = book.add_member("Una", env().stamp()).unwrap();
    admit(&book, 9, Grant::new(Role::Athlete, vec![other]));
    meet(&phone, Part::Caller, &book);
    let titles = |book: Arc<Book>| -> Vec<String> {
        let rows = Companion::over(book).devices(&env()).unwrap().devices;
        rows.into_iter().map(|row| row.title).skip(1).collect()
    };
    assert_eq!(titles(phone), ["The coach's device", "Another athlete's device"]);
    assert!(titles(book).contains(&"Device of Una".to_owned()));
}

#[test]
fn what_is_given_is_said_and_nothing_is_given_to_nobody() {
    let folder = TempDir::new().unwrap();
    let (book, coach, member) = coach(&folder);
    let helper = admit(&book, 9, Grant::new(Role::Assistant, vec![member]));
    let form = GiveForm {
        role: "assistant".into(),
        members: vec![member.to_string()],
        limits: true,
        ..GiveForm::default()
    };
    coach.give(&env(), &helper, &form).unwrap();
    let row = coach.devices(&env()).unwrap().devices[1].clone();
    assert_eq!(row.title, "An assistant coach's device");
    assert_eq!(row.given, ["Helps to coach Ino.", "Writes limits of Ino."]);
    for wrong in [
        GiveForm { members: vec![], ..form.clone() },
        GiveForm { role: "referee".into(), ..form.clone() },
        GiveForm { role: "athlete".into(), ..form.clone() },
        GiveForm { role: "athlete".into(), limits: false, everyone: true, ..form.clone() },
    ] {
        assert!(matches!(coach.give(&env(), &helper, &wrong), Err(ScreenError::Refused { .. })), "{wrong:?}");
    }
    assert_eq!(coach.devices(&env()).unwrap().devices[1], row, "refused is not half done");
}

#[test]
fn members_are_tied_leave_and_are_erased() {
    let folder = TempDir::new().unwrap();
    let (book, coach, member) = coach(&folder);
    let twice = book.add_member("Ino B", env().stamp()).unwrap();
    let (one, two) = (member.to_string(), twice.to_string());
    assert!(matches!(coach.same_person(&env(), &one, &one), Err(ScreenError::Refused { .. })));
    coach.same_person(&env(), &one, &two).unwrap();
    let tied = coach.devices(&env()).unwrap();
    assert_eq!(tied.members.len(), 1);
    assert!(tied.members[0].standing.contains("joined as one athlete"));
    coach.two_persons(&env(), &tied.members[0].id).unwrap();
    assert_eq!(coach.devices(&env()).unwrap().members.len(), 2);

    coach.leave(&env(), &two, "2026-11-24").unwrap();
    let left = coach.devices(&env()).unwrap().members[1].clone();
    assert!(left.standing.contains("data are kept until Tue 24 Nov 2026"), "{}", left.standing);
    let board = coach.squad(&env()).unwrap();
    let due = board.notices.iter().find(|n| n.who == "Ino B").expect("its date is over");
    assert!(due.saw.contains("Tue 24 Nov 2026"));
    assert_eq!(due.route, format!("erase/{two}"));

    coach.come_back(&env(), &two).unwrap();
    assert!(coach.squad(&env()).unwrap().athletes.iter().any(|a| a.name == "Ino B"));
    coach.leave(&env(), &two, "2027-11-24").unwrap();
    assert!(coach.squad(&env()).unwrap().notices.is_empty(), "not due yet");

    admit(&book, 9, Grant::new(Role::Athlete, vec![twice]));
    let asks = coach.confirm_erasure(&env(), &two).unwrap();
    assert!(asks.means.iter().any(|s| s.contains("1 device of this member")), "{:?}", asks.means);
    assert!(asks.not_reached.iter().any(|s| s.contains("Backups, exports, printouts")));
    assert!(asks.files.is_empty() && asks.not_reached.iter().any(|s| s.contains("There may be others")));
    let backup = folder.path().join("kept.backup");
    book.back_up(&backup, env().stamp()).unwrap();
    let asks = coach.confirm_erasure(&env(), &two).unwrap();
    assert_eq!(
        asks.files,
        [format!("Backup of today at 12:00: {}", backup.canonicalize().unwrap().display())]
    );
    assert_eq!(coach.erase_member(&env(), &two).unwrap(), ["09".repeat(32)]);
    assert!(coach.squad(&env()).unwrap().notices.iter().all(|n| n.who != "Ino B"));
    assert!(!format!("{:?}", coach.devices(&env()).unwrap().members).contains("Ino B"));
    assert!(matches!(coach.come_back(&env(), &two), Err(ScreenError::NotFound { .. })), "erased is erased");
}

#[test]
fn what_was_refused_is_listed_with_its_reason() {
    let folder = TempDir::new().unwrap();
    let (book, coach, member) = coach(&folder);
    let empty = coach.aside(&env()).unwrap();
    assert_eq!(
        (empty.no_entries.as_str(), empty.no_refused.as_str()),
        ("Every entry held here counts.", "Nothing was refused.")
    );
    assert!(coach.squad(&env()).unwrap().notices.is_empty());
    let phone = DeviceKey([9; 32]);
    book.give(phone, Grant::new(Role::Athlete, vec![member]), env().stamp()).unwrap();
    book.set_aside(phone, "its signature is wrong", &[0; 1_200], env().stamp()).unwrap();
    let screen = coach.aside(&env()).unwrap();
    let row = &screen.refused[0];
    assert_eq!(row.reason, "its signature is wrong");
    assert_eq!(row.from, "Device of Ino (0909 0909)");
    assert_eq!(row.when, "today at 12:00, 1\u{202f}200 bytes");
    let board = coach.squad(&env()).unwrap();
    let notice = board.notices.iter().find(|n| n.route == "aside").expect("the board says it");
    assert!(notice.saw.contains("1 delivery was refused"));
}

fn limit(from: Day, until: Day) -> Fact {
    Fact::Limit(Limit {
        from,
        until: Some(until),
        no_one_leg: None,
        no_approach: true,
        max_box_mm: None,
        said_by: SaidBy::Coach,
        note: None,
    })
}

#[test]
fn what_comes_late_from_a_removed_device_is_shown_and_taken_in() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (book, phone, member) = pair(&folders);
    let coach = Companion::over(Arc::clone(&book));
    let key = phone.device().to_string();
    coach.remove_device(&env(), &key).unwrap();
    let rest = Fact::Rest(RestDay { day: env().today() });
    phone.write(Scope::Member(member), &Draft::new(rest), env().stamp()).unwrap();
    meet(&phone, Part::Caller, &book);
    let screen = coach.aside(&env()).unwrap();
    assert_eq!(screen.entries.len(), 1);
    let late = &screen.entries[0];
    assert!(late.what.starts_with("A rest day, of "), "{late:?}");
    assert_eq!(late.reason, "Its device was removed before this arrived.");
    assert!(late.spoken.contains(&late.reason) && late.spoken.contains(&late.may_do));
    let [from] = screen.late.as_slice() else { panic!("{:?}", screen.late) };
    assert_eq!((from.id.as_str(), from.take_in.id.as_str()), (key.as_str(), "take-in"));
    assert!(from.text.contains("1 entry came after it was removed"), "{from:?}");
    let on_phone = Companion::over(Arc::clone(&phone)).aside(&env()).unwrap();
    assert!(on_phone.late.is_empty(), "only a coach's device counts it: {on_phone:?}");
    let device = row(&coach, phone.device());
    assert!(device.removed.contains("1 entry that came later is kept here"), "{device:?}");
    assert_eq!(device.actions.iter().map(|a| a.id.as_str()).collect::<Vec<_>>(), ["take-in", "readmit"]);
    assert_eq!(coach.devices(&env()).unwrap().links[0].text, "1 entry does not count.");
    let today = Companion::over(Arc::clone(&phone)).today(&env()).unwrap();
    assert!(today.notices[0].text.contains("was removed from the squad"), "{:?}", today.notices);
    assert_eq!(today.notices[0].route, "aside");

    coach.take_in(&env(), &from.id).unwrap();
    let screen = coach.aside(&env()).unwrap();
    assert!(screen.entries.is_empty() && screen.late.is_empty());
    assert_eq!(row(&coach, phone.device()).removed, "Removed from the squad.");
}

#[test]
fn when_a_device_was_met_is_said_as_a_person_would() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (book, phone, _) = pair(&folders);
    let coach = Companion::over(book);
    let met = |now_ms: i64| {
        let screen = coach.devices(&at(now_ms)).unwrap();
        screen.devices.into_iter().find(|row| row.id == phone.device().to_string()).unwrap().met
    };
    assert_eq!(met(NOON), "Last met today at 12:00.");
    assert_eq!(met(NOON + DAY_MS), "Last met yesterday at 12:00.");
    assert_eq!(met(NOON + 12 * DAY_MS), "Last met 12 days ago, Wed 25 Nov at 12:00.");
    assert_eq!(met(NOON + 40 * DAY_MS), "Last met 40 days ago, Wed 25 Nov 2026 at 12:00.");
}

#[test]
fn each_device_is_said_to_have_what_it_confirmed_and_a_file_is_not_confirmed() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (book, phone, member) = pair(&folders);
    let on_phone = Companion::over(Arc::clone(&phone));
    let begun = SessionForm { day: env().today().to_string(), ..SessionForm::default() };
    let session = on_phone.begin_session(&env(), "", &begun).unwrap();
    let log = |reps: u16| {
        let screen = on_phone.log_set(&env()).unwrap();
        let chosen = screen.exercises.iter().find(|c| c.text.starts_with("Pogo, two legs")).expect("a pogo");
        let form = SetForm { exercise: chosen.id.clone(), sets: 1, reps, ..SetForm::default() };
        on_phone.save_sets(&env(), &session, &form).unwrap();
    };
    log(10);
    assert_eq!(row(&on_phone, phone.device()).has, ["1 set only on this device, from today"]);
    assert!(row(&on_phone, book.device()).has.is_empty());

    let (_, handed) = hand_over::write(&phone, book.device(), Vec::new(), &AtNoon, &mut |_| true).unwrap();
    phone.note_handed(&handed, env().stamp()).unwrap();
    let in_file = ["1 set was handed over to it as a file, today at 12:00; not confirmed."];
    assert_eq!(row(&on_phone, book.device()).has, in_file);
    let asks = on_phone.confirm_erasure(&env(), &member.to_string()).unwrap();
    assert_eq!(asks.files.len(), 1);
    assert!(asks.files[0].starts_with("File handed over to The coach's device ("), "{:?}", asks.files);

    meet(&phone, Part::Caller, &book);
    let has = ["It has 1 set written here, since today at 12:00."];
    assert_eq!(row(&on_phone, book.device()).has, has);
    assert!(row(&on_phone, phone.device()).has.is_empty());
    log(12);
    log(12);
    assert_eq!(row(&on_phone, book.device()).has, has);
    assert_eq!(row(&on_phone, phone.device()).has, ["2 sets only on this device, the oldest from today"]);
}

#[test]
fn every_limit_holds_while_the_clock_is_in_doubt_and_that_is_said_once() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (book, phone, member) = pair(&folders);
    let coach = Companion::over(Arc::clone(&book));
    let over = limit(env().today().plus(-9), env().today().plus(-2));
    book.write(Scope::Member(member), &Draft::new(over), env().stamp()).unwrap();
    let limits = || coach.squad(&env()).unwrap().athletes[0].limits.len();
    let off = |screen: &pitside_screen::record::Squad| -> Vec<String> {
        screen
            .notices
            .iter()
            .filter(|n| n.saw.to_lowercase().contains("clock"))
            .map(|n| n.saw.clone())
            .collect()
    };
    assert_eq!(limits(), 0);
    let mut replica = BookReplica::new(&book, &AtNoon);
    replica.note_clock(phone.device(), -3 * 366 * DAY_MS).unwrap();
    assert_eq!(limits(), 1);
    let board = coach.squad(&env()).unwrap();
    assert_eq!(off(&board).len(), 1, "{:?}", off(&board));
    assert_eq!(board.notices[0].rank, 0);
    assert!(off(&board)[0].contains("3 years ahead of every device it met last"));
    assert!(off(&board)[0].contains("every limit holds"));
    let screen = coach.devices(&env()).unwrap();
    assert_eq!(screen.notices.len(), 1);
    assert!(screen.devices.iter().all(|row| row.clock.is_empty()), "not said once more beside each device");

    // One device that agrees settles the doubt: now the phone's is the one that is off.
    let other = DeviceKey([7; 32]);
    book.give(other, Grant::new(Role::Assistant, vec![member]), env().stamp()).unwrap();
    replica.note_clock(other, 1_000).unwrap();
    assert_eq!(limits(), 0);
    let board = coach.squad(&env()).unwrap();
    assert_eq!(off(&board).len(), 1, "{:?}", off(&board));
    assert!(off(&board)[0].contains("3 years behind"), "{:?}", off(&board));
    assert_eq!(row(&coach, phone.device()).clock, "Its clock was 3 years behind when it was last met.");
    assert!(coach.devices(&env()).unwrap().notices.is_empty());

    // An hour off lifts and adds nothing.
    replica.note_clock(other, 60 * 60_000).unwrap();
    assert_eq!(limits(), 0);
    let said = off(&coach.squad(&env()).unwrap());
    assert!(said.len() == 1 && said[0].contains("60 minutes behind"), "{said:?}");
    assert!(!said[0].contains("limit"), "{said:?}");
}

#[test]
fn a_clock_that_went_back_is_noticed_without_any_other_device() {
    let folder = TempDir::new().unwrap();
    let (book, coach, member) = coach(&folder);
    let soon = limit(env().today().plus(-5), env().today().plus(3));
    book.write(Scope::Member(member), &Draft::new(soon), env().stamp()).unwrap();
    let held = |now_ms: i64| coach.squad(&at(now_ms)).unwrap().athletes[0].limits.len();
    assert_eq!(held(NOON), 1);
    assert_eq!(held(NOON + 3 * DAY_MS), 1, "its last day");
    assert_eq!(held(NOON + 4 * DAY_MS), 0, "over, by a clock that nothing speaks against");
    // Years behind its own entries: the limit, which begins later by that clock, holds.
    let behind = NOON - 1_000 * DAY_MS;
    assert_eq!(held(behind), 1);
    let said = coach.devices(&at(behind)).unwrap().notices;
    assert!(said[0].text.contains("an earlier day than when it last wrote"), "{said:?}");
    assert!(coach.devices(&env()).unwrap().notices.is_empty());
    // A device met since the clock was set agrees: what was written before says nothing.
    BookReplica::new(&book, &AtNoon).note_clock(DeviceKey([7; 32]), 0).unwrap();
    assert_eq!(held(behind), 0);
}

#[test]
fn a_phone_is_asked_before_it_erases_and_its_person_decides() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (book, phone, member) = pair(&folders);
    let name = Draft::about(Subject::Uuid(member.0), Fact::Card(Card::Name("Ino".into())));
    phone.write(Scope::Member(member), &name, env().stamp()).unwrap();
    let on_phone = Companion::over(Arc::clone(&phone));
    meet(&phone, Part::Caller, &book);
    let id = member.to_string();
    assert!(matches!(on_phone.agree_to_erase(&env(), &id), Err(ScreenError::NotFound { .. })), "not asked");
    Companion::over(Arc::clone(&book)).erase_member(&env(), &id).unwrap();
    meet(&phone, Part::Caller, &book);

    let today = on_phone.today(&env()).unwrap();
    assert_eq!((today.notices.len(), today.notices[0].route.as_str()), (1, "wishes"));
    assert_eq!(on_phone.more(&env()).unwrap().notices, today.notices, "and where the rest is");
    let screen = on_phone.devices(&env()).unwrap();
    assert!(screen.links.iter().any(|l| l.route == "wishes"), "{:?}", screen.links);
    assert!(screen.members[0].standing.contains("keeps its own copy"));
    let wish = on_phone.wishes(&env()).unwrap().wishes.remove(0);
    assert_eq!(wish.title, "The coach asks to erase Ino from this device");
    on_phone.keep_what_is_here(&id).unwrap();
    assert!(on_phone.today(&env()).unwrap().notices.is_empty(), "answered");
    let wish = on_phone.wishes(&env()).unwrap().wishes.remove(0);
    assert_eq!(wish.answered, "You chose to keep it.");
    assert_eq!(wish.actions.iter().map(|a| a.id.as_str()).collect::<Vec<_>>(), ["agree"]);
    on_phone.choose("language", "de").unwrap();
    on_phone.agree_to_erase(&env(), &id).unwrap();
    assert_eq!(
        on_phone.chosen().unwrap().language,
        "de",
        "how the phone is to be says nothing of whoever was erased"
    );
    let wishes = on_phone.wishes(&env()).unwrap();
    assert!(wishes.wishes.is_empty());
    assert_eq!(wishes.none, "Nothing is asked of this device.");
    assert!(on_phone.more(&env()).unwrap().notices.is_empty());
    on_phone.today(&env()).unwrap();
    assert!(!format!("{:?}", on_phone.devices(&env()).unwrap()).contains("Ino"));
}

#[test]
fn an_answer_outlives_what_is_let_go_of_another_member() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (book, phone, first) = pair(&folders);
    let second = book.add_member("Una", env().stamp()).unwrap();
    book.give(phone.device(), Grant::new(Role::Athlete, vec![second]), env().stamp()).unwrap();
    for member in [first, second] {
        Companion::over(Arc::clone(&book)).erase_member(&env(), &member.to_string()).unwrap();
    }
    meet(&phone, Part::Caller, &book);
    let on_phone = Companion::over(phone);
    assert_eq!(on_phone.today(&env()).unwrap().notices.len(), 2);
    on_phone.keep_what_is_here(&first.to_string()).unwrap();
    on_phone.agree_to_erase(&env(), &second.to_string()).unwrap();
    let left = on_phone.wishes(&env()).unwrap().wishes;
    assert!(
        matches!(left.as_slice(), [wish] if wish.member == first.to_string() && !wish.answered.is_empty())
    );
    assert!(on_phone.today(&env()).unwrap().notices.is_empty());
}

#[test]
fn each_audience_is_shared_with_for_itself() {
    let folder = TempDir::new().unwrap();
    let book = book(&folder, 1);
    let member = book.start_member(env().stamp()).unwrap();
    let phone = Companion::over(Arc::clone(&book));
    let given = || -> Vec<bool> { phone.sharing(&env(), "").unwrap().rows.iter().map(|r| r.given).collect() };
    assert_eq!(given(), [false, false, false]);
    phone.share_with(&env(), "", Audience::Medical.word(), true).unwrap();
    assert_eq!(given(), [false, false, true]);
    phone.share_with(&env(), "", Audience::Coach.word(), true).unwrap();
    phone.share_with(&env(), "", Audience::Medical.word(), false).unwrap();
    assert_eq!(given(), [true, false, false]);
    assert!(matches!(phone.share_with(&env(), "", "everybody", true), Err(ScreenError::Refused { .. })));
    let screen = phone.sharing(&env(), "").unwrap();
    assert!(screen.withdrawing.contains("stays on the devices that have it until it is erased"));
    let today = phone.today(&env()).unwrap();
    assert!(screen.may_change && screen.who_may.is_empty());
    let more = phone.more(&env()).unwrap();
    assert!(more.links.iter().any(|link| link.route == format!("sharing/{member}")));
    assert!(today.notices.is_empty() && phone.wishes(&env()).unwrap().wishes.is_empty());
}

#[test]
fn a_clash_in_the_private_part_shows_both_values_with_who_and_when() {
    let folder = TempDir::new().unwrap();
    let book = book(&folder, 1);
    let member = book.start_member(env().stamp()).unwrap();
    let day = Day::parse("2026-11-25").unwrap();
    let check_in =
        |sleep| Fact::CheckIn(CheckIn { day, hurts: vec![], sleep_min: Some(sleep), signs: [].into() });
    let scope = Scope::Private(member);
    let id = book.write(scope, &Draft::new(check_in(450)), env().stamp()).unwrap();
    // Both replace the first without knowing of each other.
    for (sleep, after) in [(480, 60_000), (425, 120_000)] {
        let draft = Draft { replaces: vec![id], ..Draft::about(Subject::Fact(id), check_in(sleep)) };
        book.write(scope, &draft, at(NOON + after).stamp()).unwrap();
    }
    let name = Draft::about(Subject::Uuid(member.0), Fact::Card(Card::Name("Ino".into())));
    book.write(Scope::Member(member), &name, env().stamp()).unwrap();
    let phone = Companion::over(book);
    let clashes = phone.athlete(&env(), &member.to_string(), "").unwrap().clashes;
    let values: Vec<(&str, &str)> =
        clashes[0].values.iter().map(|v| (v.text.as_str(), v.written.as_str())).collect();
    assert_eq!(
        values,
        [
            ("nothing hurts, today; slept 7 h 05 min", "this device, today at 12:02"),
            ("nothing hurts, today; slept 8 h 00 min", "this device, today at 12:01"),
        ]
    );
}

#[test]
fn a_private_clash_that_the_coach_may_see_is_left_to_the_member() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (book, phone, member) = pair(&folders);
    let on_phone = Companion::over(Arc::clone(&phone));
    on_phone.share_private(&env(), "", true).unwrap();
    let day = env().today();
    let check_in =
        |sleep| Fact::CheckIn(CheckIn { day, hurts: vec![], sleep_min: Some(sleep), signs: [].into() });
    let scope = Scope::Private(member);
    let id = phone.write(scope, &Draft::new(check_in(450)), env().stamp()).unwrap();
    for sleep in [480, 425] {
        let draft = Draft { replaces: vec![id], ..Draft::about(Subject::Fact(id), check_in(sleep)) };
        phone.write(scope, &draft, env().stamp()).unwrap();
    }
    meet(&phone, Part::Caller, &book);
    let clash = |companion: &Companion| {
        let mut clashes = companion.athlete(&env(), &member.to_string(), "").unwrap().clashes;
        assert_eq!(clashes.len(), 1, "{clashes:?}");
        clashes.remove(0)
    };
    let coachs = clash(&Companion::over(book));
    assert!(!coachs.can_settle);
    assert_eq!(coachs.settled_by, "The member chooses here, on a device of their own.");
    let own = clash(&on_phone);
    assert!(own.can_settle && own.settled_by.is_empty() && own.member == member.to_string());
}
