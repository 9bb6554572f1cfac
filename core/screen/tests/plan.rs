//! Planned sessions over real books: planned by the coach, done on a phone, changed and
//! withdrawn.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use std::sync::Arc;

use meeting::{AtNoon, DAY_MS, NOON, at, book, coach, env, meet, pair};
use pitside_book::exchange::{Part, accept};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, Filter};
use pitside_model::facts::{Card, Day, Fact, Grant, Leg, MemberId, Role, Scope, Set, Subject, kind};
use pitside_model::load::catalogue::id;
use pitside_screen::record::{LimitForm, PlanForm, PlanRowForm, PlannedSession, SetForm};
use pitside_screen::{Companion, Env, ScreenError, SessionForm};
use tempfile::TempDir;
use uuid::Uuid;

fn row(exercise: Uuid, sets: u16, reps: u16) -> PlanRowForm {
    PlanRowForm { exercise: exercise.to_string(), sets, reps, ..PlanRowForm::default() }
}

/// Rebounds on both legs, and bounds that begin on either leg in turn.
fn form(member: MemberId, day: &str) -> PlanForm {
    PlanForm {
        members: vec![member.to_string()],
        day: day.into(),
        purpose: "short contacts".into(),
        note: "on grass, if it is dry".into(),
        rows: vec![
            PlanRowForm { rest_s: Some(90), say: "quick off the ground".into(), ..row(id::POGO, 2, 10) },
            PlanRowForm {
                rest_times: Some(5),
                swap: true,
                leg: "alternate-left".into(),
                ..row(id::BOUNDS_STANDING, 3, 1)
            },
        ],
        ..PlanForm::default()
    }
}

fn planned(phone: &Companion, env: &Env) -> PlannedSession {
    let [plan] = phone.today(env).unwrap().plans.try_into().unwrap();
    plan
}

/// The sets in a book, the earliest first.
fn sets(book: &Book) -> Vec<Set> {
    let held = book.held(&Filter { kind: Some(kind::SET), ..Filter::default() }).unwrap();
    held.iter()
        .filter_map(|held| match held.fact() {
            Some(Fact::Set(set)) => Some(set.clone()),
            _ => None,
        })
        .collect()
}

fn refused(error: ScreenError) -> String {
    match error {
        ScreenError::Refused { field, .. } => field,
        other => panic!("{other}"),
    }
}

#[test]
fn what_the_coach_planned_is_done_on_the_phone_by_one_call_a_set() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (coach, phone, member) = pair(&folders);
    let desk = Companion::over(Arc::clone(&coach));
    let ids = desk.save_plan(&env(), &form(member, "")).unwrap();
    meet(&phone, Part::Caller, &coach);
    let companion = Companion::over(Arc::clone(&phone));

    let plan = planned(&companion, &env());
    assert_eq!((plan.id.as_str(), plan.who.as_str()), (ids[0].as_str(), ""));
    assert_eq!((plan.purpose.as_str(), plan.note.as_str()), ("short contacts", "on grass, if it is dry"));
    assert_eq!(plan.progress, "0 of 5 sets done");
    let [rebounds, bounds] = plan.rows.as_slice() else { panic!("{plan:?}") };
    assert_eq!(
        (rebounds.text.as_str(), rebounds.cue.as_str()),
        ("10 × Pogo, two legs", "quick off the ground")
    );
    assert_eq!((rebounds.rest.as_str(), rebounds.rest_s), ("rest 1:30 min", 90));
    assert!(rebounds.next && !bounds.next && rebounds.offered);
    assert!(bounds.rest.starts_with("rest 5 times the work: ") && bounds.rest_s % 5 == 0, "{}", bounds.rest);

    let route = companion.done_as_planned(&env(), &plan.id, rebounds.number, None).unwrap();
    let today = companion.today(&env()).unwrap();
    assert_eq!(today.sessions.len(), 1);
    assert_eq!(today.sessions[0].route, route);
    assert!(today.sessions[0].text.contains("short contacts"), "{:?}", today.sessions[0]);
    assert_eq!(today.plans[0].rows[0].progress, "1 of 2 sets done");
    let between = today.between.unwrap();
    assert!(between.locked);
    assert_eq!((between.since_ms, between.until_ms), (NOON, NOON + 90_000));
    assert_eq!(between.done, "10 × Pogo, two legs");
    assert_eq!(
        (between.next.as_str(), between.cue.as_str()),
        ("10 × Pogo, two legs", "quick off the ground")
    );

    companion.done_as_planned(&env(), &plan.id, 1, None).unwrap();
    let legs: Vec<Leg> = (0..3)
        .map(|n| {
            companion.done_as_planned(&at(NOON + 1 + n), &plan.id, 2, None).unwrap();
            sets(&phone).last().unwrap().leg
        })
        .collect();
    assert_eq!(legs, [Leg::AlternateLeft, Leg::AlternateRight, Leg::AlternateLeft]);
    let today = companion.today(&env()).unwrap();
    assert_eq!(today.plans[0].progress, "5 of 5 sets done");
    assert!(today.plans[0].rows.iter().all(|row| !row.next && row.against.is_empty()));
    assert_eq!(today.between, None, "nothing is left to rest for, and nothing is locked");
    assert_eq!((today.sessions.len(), sets(&phone).len()), (1, 5));
    assert!(sets(&phone).iter().all(|set| set.planned.is_some_and(|p| p.plan.to_string() == plan.id)));

    // Back in reach the coach sees how much of it was done.
    meet(&phone, Part::Caller, &coach);
    let list = desk.plans(&env(), &member.to_string()).unwrap();
    assert_eq!(list.coming[0].progress, "5 of 5 sets done");
    assert_eq!(list.coming[0].rows[0], "2 sets: 10 × Pogo, two legs · quick off the ground");
    assert!(list.may_plan && list.none.is_empty() && list.earlier.is_empty());
}

#[test]
fn rest_and_lock_are_there_again_when_the_book_is_opened_anew() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().to_str().unwrap();
    let open = |env: &Env| Companion::open(path, vec![7; 32], env).unwrap();
    let phone = open(&env());
    let member = planning_for_oneself(&phone);
    let plan = planned(&phone, &env());
    phone.done_as_planned(&env(), &plan.id, 1, None).unwrap();
    phone.close();
    drop(phone);

    let later = at(NOON + 60_000);
    let phone = open(&later);
    let between = phone.today(&later).unwrap().between.unwrap();
    assert_eq!((between.locked, between.until_ms), (true, NOON + 90_000));
    phone.lock_between(&later, false).unwrap();
    let between = phone.today(&later).unwrap().between.unwrap();
    assert_eq!((between.locked, between.until_ms), (false, NOON + 90_000), "the rest goes on");
    phone.lock_between(&later, true).unwrap();
    assert!(phone.today(&later).unwrap().between.unwrap().locked);
    assert_eq!(phone.today(&at(NOON - 60_000)).unwrap().between, None, "the clock was set back");
    assert_eq!(phone.today(&at(NOON + 2 * 60 * 60 * 1_000)).unwrap().between, None, "long over");

    // Long after, or before the first set, it is locked without a rest.
    let much_later = at(NOON + 3 * 60 * 60 * 1_000);
    phone.lock_between(&much_later, true).unwrap();
    let between = phone.today(&much_later).unwrap().between.unwrap();
    assert_eq!((between.locked, between.until_ms, between.done.as_str()), (true, 0, ""));
    assert!(phone.plans(&later, &member).unwrap().may_plan, "one's own session, before any pairing");
}

/// An athlete on a phone of her own, before any pairing; gives the member.
fn planning_for_oneself(phone: &Companion) -> String {
    let member = phone.plans(&env(), "").unwrap().member;
    let own = PlanForm { members: vec![member.clone()], ..form(MemberId(Uuid::nil()), "") };
    phone.save_plan(&env(), &own).unwrap();
    member
}

#[test]
fn what_was_done_otherwise_is_written_as_it_was_and_the_plan_stays() {
    let folder = TempDir::new().unwrap();
    let phone = book(&folder, 3);
    phone.start_member(env().stamp()).unwrap();
    let companion = Companion::over(Arc::clone(&phone));
    planning_for_oneself(&companion);
    // A set that was logged before it: its session had no purpose yet.
    let pogo = SetForm { exercise: id::POGO.to_string(), sets: 1, reps: 8, ..SetForm::default() };
    companion.log_today(&env(), "", &pogo).unwrap();
    let plan = planned(&companion, &env());
    let next = &plan.rows[1];
    assert_eq!(next.legs.len(), 4);
    let other = SetForm { reps: 2, leg: "right".into(), ..next.form.clone() };
    companion.done_as_planned(&env(), &plan.id, next.number, Some(other)).unwrap();
    let today = companion.today(&env()).unwrap();
    assert_eq!(today.sessions.len(), 1, "it goes into the session that was begun: {:?}", today.sessions);
    assert!(today.sessions[0].text.contains("short contacts"), "{:?}", today.sessions[0]);
    let set = sets(&phone).pop().unwrap();
    assert_eq!((set.reps, set.leg, set.planned.unwrap().row), (2, Leg::Right, 2));
    let row = &today.plans[0].rows[1];
    assert_eq!(
        (row.done, row.form.reps, row.form.leg.as_str()),
        (1, 1, "left"),
        "as planned, on the other leg"
    );

    let bad = SetForm { reps: 0, ..next.form.clone() };
    assert_eq!(refused(companion.done_as_planned(&env(), &plan.id, 2, Some(bad)).unwrap_err()), "reps");
    assert!(matches!(
        companion.done_as_planned(&env(), &plan.id, 9, None),
        Err(ScreenError::NotFound { .. })
    ));
    let tomorrow = at(NOON + DAY_MS);
    assert_eq!(refused(companion.done_as_planned(&tomorrow, &plan.id, 1, None).unwrap_err()), "day");
    assert_eq!(sets(&phone).len(), 2);
}

#[test]
fn a_set_is_taken_back_and_with_the_last_one_a_session_that_says_nothing_else() {
    let folder = TempDir::new().unwrap();
    let phone = book(&folder, 3);
    phone.start_member(env().stamp()).unwrap();
    let companion = Companion::over(Arc::clone(&phone));
    planning_for_oneself(&companion);
    let plan = planned(&companion, &env());
    companion.done_as_planned(&env(), &plan.id, 1, None).unwrap();
    companion.done_as_planned(&at(NOON + 1), &plan.id, 1, None).unwrap();
    let last = |companion: &Companion| planned(companion, &env()).rows[0].last.clone();
    companion.take_back_planned(&env(), "", &last(&companion).unwrap().id).unwrap();
    let today = companion.today(&env()).unwrap();
    assert_eq!((today.plans[0].rows[0].done, today.sessions.len()), (1, 1));
    assert_eq!(today.between, None, "neither a rest after nothing nor a lock");
    companion.take_back_planned(&env(), "", &last(&companion).unwrap().id).unwrap();
    let today = companion.today(&env()).unwrap();
    assert_eq!((today.plans[0].rows[0].done, today.sessions.len(), last(&companion)), (0, 0, None));

    // What was not done for a plan is no plan's to take back.
    let pogo = SetForm { exercise: id::POGO.to_string(), sets: 1, reps: 8, ..SetForm::default() };
    let session = companion.begin_session(&env(), "", &SessionForm::default()).unwrap();
    let set = companion.save_sets(&env(), &session, &pogo).unwrap().remove(0);
    assert!(matches!(companion.take_back_planned(&env(), "", &set), Err(ScreenError::NotFound { .. })));
}

#[test]
fn a_session_that_says_more_or_that_somebody_else_wrote_stays_when_its_last_set_is_taken_back() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (coach, phone, member) = pair(&folders);
    let desk = Companion::over(Arc::clone(&coach));
    let companion = Companion::over(Arc::clone(&phone));
    // The coach began the session, and the plan has its purpose.
    let purpose = SessionForm { purpose: "short contacts".into(), ..SessionForm::default() };
    desk.begin_session(&env(), &member.to_string(), &purpose).unwrap();
    desk.save_plan(&env(), &form(member, "")).unwrap();
    meet(&phone, Part::Caller, &coach);
    let plan = planned(&companion, &env());
    let do_and_take_back = |plan: &str| {
        companion.done_as_planned(&env(), plan, 1, None).unwrap();
        let today = companion.today(&env()).unwrap();
        let done = today.plans.iter().find(|other| other.id == plan).unwrap();
        let last = done.rows[0].last.clone().unwrap().id;
        companion.take_back_planned(&env(), "", &last).unwrap();
        companion.today(&env()).unwrap().sessions.len()
    };
    assert_eq!(do_and_take_back(&plan.id), 1, "the coach's own session");

    let other = PlanForm { purpose: "an easy day".into(), ..form(member, "") };
    let second = desk.save_plan(&env(), &other).unwrap().remove(0);
    meet(&phone, Part::Caller, &coach);
    let route = companion.done_as_planned(&env(), &second, 1, None).unwrap();
    let session = route.strip_prefix("session/").unwrap();
    companion.say_condition(&env(), session, "wetness", "wet").unwrap();
    assert_eq!(companion.today(&env()).unwrap().sessions.len(), 2);
    let done = companion.today(&env()).unwrap().plans.into_iter().find(|plan| plan.id == second).unwrap();
    companion.take_back_planned(&env(), "", &done.rows[0].last.clone().unwrap().id).unwrap();
    assert_eq!(companion.today(&env()).unwrap().sessions.len(), 2, "the ground was wet");
}

#[test]
fn who_begins_before_midnight_ends_after_it() {
    let folder = TempDir::new().unwrap();
    let phone = book(&folder, 3);
    phone.start_member(env().stamp()).unwrap();
    let companion = Companion::over(Arc::clone(&phone));
    planning_for_oneself(&companion);
    let minutes = |n: i64| at(NOON + n * 60_000);
    let plan = planned(&companion, &minutes(700));
    let before = companion.done_as_planned(&minutes(700), &plan.id, 1, None).unwrap();
    let after = minutes(725);
    let shown = planned(&companion, &after);
    assert_eq!((shown.id.as_str(), shown.rows[0].done), (plan.id.as_str(), 1));
    assert_eq!(companion.done_as_planned(&after, &plan.id, 1, None).unwrap(), before, "the same session");
    assert_eq!(planned(&companion, &after).rows[0].done, 2);

    assert_eq!(companion.today(&minutes(725 + 179)).unwrap().plans.len(), 1);
    let over = minutes(725 + 180);
    assert!(companion.today(&over).unwrap().plans.is_empty());
    assert_eq!(refused(companion.done_as_planned(&over, &plan.id, 2, None).unwrap_err()), "day");
}

#[test]
fn what_came_in_while_a_set_was_put_right_stands_beside() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (coach, phone, _) = pair(&folders);
    let desk = Companion::over(Arc::clone(&coach));
    let companion = Companion::over(Arc::clone(&phone));
    let pogo = SetForm { exercise: id::POGO.to_string(), sets: 1, reps: 8, ..SetForm::default() };
    let route = companion.log_today(&env(), "", &pogo).unwrap();
    let session = route.strip_prefix("session/").unwrap();
    meet(&phone, Part::Caller, &coach);
    let set = companion.session_log(&env(), session).unwrap().sets.remove(0).id;
    let shown = companion.correction(&env(), &set).unwrap();
    let own = SetForm { reps: 9, ..pogo.clone() };
    companion.keep_correction(&set, &shown.seen, &own).unwrap();

    let theirs = desk.correction(&env(), &set).unwrap().seen;
    desk.correct_set(&env(), &set, &theirs, &SetForm { reps: 12, ..pogo }).unwrap();
    meet(&phone, Part::Caller, &coach);
    let kept = companion.correction(&env(), &set).unwrap();
    assert_eq!(kept.seen, shown.seen, "what was begun goes on from what was seen then");
    companion.correct_set(&env(), &set, &kept.seen, &own).unwrap();
    let clash = companion.exchange(&env()).unwrap().clashes.remove(0);
    assert_eq!(clash.values.len(), 2, "{clash:?}");
    let fresh = companion.correction(&env(), &set).unwrap().seen;
    companion.take_set_back(&env(), &set, &fresh).unwrap();
    assert!(companion.exchange(&env()).unwrap().clashes.is_empty());
}

#[test]
fn no_tap_chooses_between_two_peoples_values_of_a_session() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (coach, phone, member) = pair(&folders);
    let desk = Companion::over(Arc::clone(&coach));
    let companion = Companion::over(Arc::clone(&phone));
    let session = companion.begin_session(&env(), "", &SessionForm::default()).unwrap();
    desk.save_plan(&env(), &form(member, "")).unwrap();
    meet(&phone, Part::Caller, &coach);
    desk.say_condition(&env(), &session, "wetness", "wet").unwrap();
    companion.say_condition(&env(), &session, "wetness", "dry").unwrap();
    meet(&phone, Part::Caller, &coach);
    let clashes = || companion.exchange(&env()).unwrap().clashes;
    assert_eq!(clashes().len(), 1);

    let taps = [
        companion.say_condition(&env(), &session, "wind", "calm"),
        companion.cut_short(&env(), &session, "tired"),
        companion.not_cut_short(&env(), &session),
    ];
    for tap in taps {
        let Err(ScreenError::NotAllowed { reason }) = tap else { panic!("{tap:?}") };
        assert!(reason.contains("on the exchange screen"), "{reason}");
    }
    // A set that was done is written all the same, and the session keeps no purpose for it.
    let plan = planned(&companion, &env());
    let route = companion.done_as_planned(&env(), &plan.id, 1, None).unwrap();
    assert_eq!(route, format!("session/{session}"));
    let clash = clashes().remove(0);
    assert_eq!(clash.values.len(), 2);
    companion.settle(&env(), &clash.member, &clash.values[0].choice).unwrap();
    companion.cut_short(&env(), &session, "tired").unwrap();
}

#[test]
fn a_change_keeps_what_was_done_and_two_changes_are_both_kept() {
    let folder = TempDir::new().unwrap();
    let (_, desk, member) = coach(&folder);
    let id = desk.save_plan(&env(), &form(member, "")).unwrap().remove(0);
    desk.done_as_planned(&env(), &id, 1, None).unwrap();
    let page = desk.plan_form(&env(), "", &id, false).unwrap();
    assert!(page.may_plan && page.clash.is_empty());
    let numbers = |form: &PlanForm| form.rows.iter().map(|row| row.number).collect::<Vec<_>>();
    assert_eq!(numbers(&page.form), [1, 2]);

    // A row before the others, and another one out.
    let mut first = page.form.clone();
    first.rows.remove(1);
    first.rows.insert(0, row(id::A_SKIP, 2, 1));
    assert_eq!(desk.save_plan(&env(), &first).unwrap(), std::slice::from_ref(&id));
    let again = desk.plan_form(&env(), "", &id, false).unwrap().form;
    assert_eq!(numbers(&again), [3, 1], "no number is given twice");
    let list = desk.plans(&env(), &member.to_string()).unwrap();
    assert_eq!(list.coming[0].progress, "1 of 4 sets done");
    assert!(list.coming[0].clash.is_empty());

    // The other coach's form was drawn before that.
    let second = PlanForm { purpose: "an easy day".into(), ..page.form };
    desk.save_plan(&env(), &second).unwrap();
    let page = desk.plan_form(&env(), "", &id, false).unwrap();
    assert_eq!(page.clash.len(), 2, "{:?}", page.clash);
    assert!(
        page.clash.iter().any(|said| said.contains("an easy day: 2 sets: 10 × Pogo")),
        "{:?}",
        page.clash
    );
    assert!(!desk.plans(&env(), &member.to_string()).unwrap().coming[0].clash.is_empty());
    let athlete = desk.athlete(&env(), &member.to_string(), "").unwrap();
    let [clash] = athlete.clashes.as_slice() else { panic!("{:?}", athlete.clashes) };
    assert_eq!(clash.what, "A planned session");
    let easy = clash.values.iter().find(|value| value.text.contains("an easy day")).unwrap();
    desk.settle(&env(), &member.to_string(), &easy.choice).unwrap();
    let list = desk.plans(&env(), &member.to_string()).unwrap();
    assert_eq!((list.coming[0].purpose.as_str(), list.coming[0].clash.as_str()), ("an easy day", ""));

    // Whoever withdraws it did not see what came in between.
    let row = list.coming[0].clone();
    let changed =
        PlanForm { note: "bring spikes".into(), ..desk.plan_form(&env(), "", &id, false).unwrap().form };
    desk.save_plan(&env(), &changed).unwrap();
    desk.withdraw_plan(&at(NOON + 1), &id, &row.seen).unwrap();
    let clash = desk.athlete(&env(), &member.to_string(), "").unwrap().clashes.remove(0);
    let change = clash.values.iter().find(|value| value.text.contains("bring spikes")).unwrap();
    desk.settle(&at(NOON + 2), &member.to_string(), &change.choice).unwrap();

    let page = desk.plan_form(&env(), "", &id, false).unwrap();
    assert_eq!(desk.withdraw_plan(&env(), &id, &page.form.seen).unwrap(), member.to_string());
    let list = desk.plans(&env(), &member.to_string()).unwrap();
    assert!(list.coming.is_empty() && !list.none.is_empty());
    let again = desk.withdraw_plan(&env(), &id, &page.form.seen);
    assert!(matches!(again, Err(ScreenError::NotFound { .. })));
}

#[test]
fn what_a_limit_rules_out_on_its_day_is_not_planned_and_the_rest_is_told() {
    let folder = TempDir::new().unwrap();
    let (book, desk, member) = coach(&folder);
    let born = Fact::Card(Card::Born(Day::parse("2001-05-06").unwrap()));
    book.revise(Scope::Member(member), Subject::Uuid(member.0), born, env().stamp()).unwrap();
    let who = member.to_string();
    let in_days = |days: i32| env().today().plus(days).to_string();
    let limit = LimitForm {
        member: who.clone(),
        until: in_days(3),
        max_box_cm: "30".into(),
        said_by: "coach".into(),
        ..LimitForm::default()
    };
    desk.save_limit(&env(), &limit).unwrap();
    let drops = |days: i32| PlanForm {
        rows: vec![PlanRowForm { box_mm: Some(400), ..row(id::DROP_JUMP, 2, 5) }],
        ..form(member, &in_days(days))
    };
    let error = desk.save_plan(&env(), &drops(2)).unwrap_err();
    let ScreenError::NotAllowed { reason } = error else { panic!("{error}") };
    assert!(reason.starts_with("Ino: ") && reason.contains("The box is 40 cm high. A limit:"), "{reason}");
    assert!(desk.plans(&env(), &who).unwrap().coming.is_empty(), "nothing was written");
    let id = desk.save_plan(&env(), &drops(4)).unwrap().remove(0);
    let page = desk.plan_form(&env(), "", &id, false).unwrap();
    assert!(page.against.iter().any(|said| said.saw.contains("A fall from 40 cm")), "{:?}", page.against);
    assert!(page.cautions.iter().any(|caution| caution.starts_with("High intensity")), "{:?}", page.cautions);

    // On the day itself it is asked again; what is ruled out by then is not offered.
    let longer = LimitForm { until: in_days(9), ..limit };
    desk.save_limit(&env(), &longer).unwrap();
    let page = desk.plan_form(&env(), "", &id, false).unwrap();
    assert!(page.against.iter().any(|said| said.refuses), "{:?}", page.against);
}

#[test]
fn each_of_several_athletes_gets_a_plan_and_a_copy_is_a_new_one() {
    let folder = TempDir::new().unwrap();
    let (book, desk, ino) = coach(&folder);
    let ada = book.add_member("Ada", env().stamp()).unwrap();
    let both = PlanForm { members: vec![ino.to_string(), ada.to_string()], ..form(ino, "") };
    let ids = desk.save_plan(&env(), &both).unwrap();
    assert_eq!(ids.len(), 2);
    assert_ne!(ids[0], ids[1]);
    let seen = desk.plans(&env(), &ino.to_string()).unwrap().coming[0].seen.clone();
    desk.withdraw_plan(&env(), &ids[0], &seen).unwrap();
    assert_eq!(desk.plans(&env(), &ada.to_string()).unwrap().coming.len(), 1, "hers stays");
    let copy = desk.plan_form(&at(NOON + 7 * DAY_MS), "", &ids[1], true).unwrap().form;
    assert_eq!((copy.id.as_str(), copy.day.as_str()), ("", "2026-12-02"));
    let copied = desk.save_plan(&at(NOON + 7 * DAY_MS), &copy).unwrap();
    assert_ne!(copied[0], ids[1]);
    assert_eq!(desk.plans(&env(), &ada.to_string()).unwrap().coming.len(), 2);

    let refusal = |form: PlanForm| refused(desk.save_plan(&env(), &form).unwrap_err());
    let of = |change: &dyn Fn(&mut PlanForm)| {
        let mut changed = form(ino, "");
        change(&mut changed);
        changed
    };
    assert_eq!(refusal(of(&|f| f.members.clear())), "athletes");
    assert_eq!(refusal(of(&|f| f.day = "2026-11-24".into())), "day");
    assert_eq!(refusal(of(&|f| f.purpose = " ".into())), "purpose");
    assert_eq!(refusal(of(&|f| f.rows.clear())), "rows");
    assert_eq!(refusal(of(&|f| f.rows[1].sets = 31)), "row 2: sets");
    assert_eq!(refusal(of(&|f| f.rows[1].rest_s = Some(9))), "row 2: rest");
    assert_eq!(refusal(of(&|f| f.rows[0].box_mm = Some(300))), "row 1: box_mm");
    let e = desk.save_plan(&env(), &of(&|f| f.rows[0].exercise = "x".into())).unwrap_err();
    assert_eq!(e.to_string(), "there is no exercise (row 1) here");
    let many = of(&|f| f.rows = vec![row(id::POGO, 1, 1); 25]);
    assert_eq!(refusal(many), "rows");
}

#[test]
fn the_next_planned_session_is_told_on_the_first_screen_and_leads_to_the_plans() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (coach, phone, member) = pair(&folders);
    let desk = Companion::over(Arc::clone(&coach));
    for day in ["2026-11-25", "2026-12-01", "2026-11-26"] {
        desk.save_plan(&env(), &form(member, day)).unwrap();
    }
    meet(&phone, Part::Caller, &coach);
    let phone = Companion::over(phone);
    let coming = |now_ms: i64| phone.today(&at(now_ms)).unwrap().coming;
    let text = |now_ms: i64| coming(now_ms).into_iter().map(|link| link.text).collect::<Vec<_>>();
    assert_eq!(text(NOON), ["Planned tomorrow: short contacts"]);
    assert_eq!(text(NOON + DAY_MS), ["Planned Tue 1 Dec: short contacts"], "today's stands as a card");
    assert!(text(NOON + 6 * DAY_MS).is_empty());
    let route = coming(NOON).remove(0).route;
    assert_eq!(route, format!("plans/{member}"));
    assert!(phone.own_course(&env(), "").unwrap().links.iter().any(|link| link.route == route));
    let days: Vec<String> = phone.plans(&env(), "").unwrap().coming.into_iter().map(|row| row.date).collect();
    assert_eq!(days, ["2026-11-25", "2026-11-26", "2026-12-01"]);
    // On the coach's own device nobody is trained.
    assert!(desk.today(&env()).unwrap().coming.is_empty());
}

#[test]
fn a_medical_device_reads_plans_and_writes_none() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (coach, desk, member) = coach(&folders[0]);
    let medical = book(&folders[1], 5);
    let grant = Grant { everyone: true, ..Grant::new(Role::Medical, vec![]) };
    let open = coach.invite(grant, env().stamp(), 10).unwrap();
    let invitation = Invitation::of(&coach, &open, vec![]).unwrap();
    let part = accept(&medical, &invitation, &AtNoon).unwrap();
    desk.save_plan(&env(), &form(member, "")).unwrap();
    meet(&medical, part, &coach);
    let theirs = Companion::over(medical);
    let list = theirs.plans(&env(), &member.to_string()).unwrap();
    assert_eq!((list.coming.len(), list.may_plan), (1, false));
    assert!(matches!(theirs.save_plan(&env(), &form(member, "")), Err(ScreenError::NotAllowed { .. })));
    let refused = theirs.withdraw_plan(&env(), &list.coming[0].id, &list.coming[0].seen);
    assert!(matches!(refused, Err(ScreenError::NotAllowed { .. })));
}

#[test]
fn what_a_limit_rules_out_today_is_not_offered_and_can_be_written_down() {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (coach, phone, member) = pair(&folders);
    let desk = Companion::over(Arc::clone(&coach));
    desk.save_plan(&env(), &form(member, "")).unwrap();
    let limit = LimitForm {
        member: member.to_string(),
        no_one_leg: "left".into(),
        said_by: "clinician".into(),
        ..LimitForm::default()
    };
    desk.save_limit(&env(), &limit).unwrap();
    meet(&phone, Part::Caller, &coach);
    let companion = Companion::over(Arc::clone(&phone));
    let plan = planned(&companion, &env());
    assert!(plan.rows[0].offered && !plan.rows[1].offered, "{plan:?}");
    assert!(plan.rows[1].against[0].refuses && !plan.rows[1].bound.is_empty());
    // What was done is a fact, and the coach has to see it.
    companion.done_as_planned(&env(), &plan.id, 2, None).unwrap();
    assert_eq!(sets(&phone).len(), 1);
    let german = Env { language: "de".into(), ..env() };
    let today = companion.today(&german).unwrap();
    assert_eq!(today.plans[0].progress, "1 von 5 Sätzen gemacht");
}
