//! What speaks against a set, the rules and the facts it is judged by, over real books.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use meeting::{book, coach, env};
use pitside_book::clock::Stamp;
use pitside_book::store::{Draft, Filter};
use pitside_model::facts::{
    Card, Day, Fact, Growth, Jump, JumpEvent, MemberId, Outcome, Phases, Scope, Subject, kind,
};
use pitside_model::load::catalogue::id;
use pitside_screen::record::{
    AdviceForm, CheckInForm, ControlForm, HeightForm, HurtForm, LimitForm, RuleForm, Said, SetForm, TestForm,
};
use pitside_screen::{Companion, ScreenError, SessionForm};
use tempfile::TempDir;

fn drop_jump(box_mm: u32) -> SetForm {
    SetForm {
        exercise: id::DROP_JUMP.to_string(),
        sets: 2,
        reps: 5,
        box_mm: Some(box_mm),
        ..SetForm::default()
    }
}

fn pogo() -> SetForm {
    SetForm { exercise: id::POGO.to_string(), sets: 1, reps: 10, ..SetForm::default() }
}

fn reason(error: ScreenError) -> String {
    match error {
        ScreenError::NotAllowed { reason } => reason,
        other => panic!("{other}"),
    }
}

fn saw(said: &[Said]) -> Vec<&str> {
    said.iter().map(|said| said.saw.as_str()).collect()
}

/// A coach's book, and an adult who writes in it.
fn adult(folder: &TempDir) -> (std::sync::Arc<pitside_book::store::Book>, Companion, String) {
    let (book, companion, member) = coach(folder);
    let write = |card| {
        book.revise(Scope::Member(member), Subject::Uuid(member.0), Fact::Card(card), env().stamp()).unwrap();
    };
    write(Card::Born(Day::parse("2001-05-06").unwrap()));
    write(Card::MassG(60_000));
    (book, companion, member.to_string())
}

fn end_in(days: i32) -> String {
    env().today().plus(days).to_string()
}

#[test]
fn what_a_limit_rules_out_is_not_offered_and_still_logged() {
    let folder = TempDir::new().unwrap();
    let (_, companion, who) = adult(&folder);
    let limit = LimitForm {
        member: who.clone(),
        until: end_in(20),
        max_box_cm: "30".into(),
        said_by: "clinician".into(),
        ..LimitForm::default()
    };
    companion.save_limit(&env(), &limit).unwrap();
    let why = reason(companion.offer_set(&env(), &who, &drop_jump(400)).unwrap_err());
    assert!(why.starts_with("The box is 40 cm high. A limit: boxes up to 30 cm;"), "{why}");
    assert!(why.ends_with("Only whoever said the limit lifts it."), "{why}");
    assert!(companion.offer_set(&env(), &who, &drop_jump(300)).unwrap().is_empty());

    let session = companion.begin_session(&env(), &who, &SessionForm::default()).unwrap();
    assert_eq!(companion.save_sets(&env(), &session, &drop_jump(400)).unwrap().len(), 2);
    let notices = companion.squad(&env()).unwrap().notices;
    assert!(notices.iter().any(|n| n.saw.contains("goes against a limit")), "{notices:?}");

    let list = companion.body(&env(), &who).unwrap();
    assert_eq!((list.limits.len(), list.limits[0].note.as_str()), (1, ""));
    companion.end_body(&env(), &who, &list.limits[0].id).unwrap();
    assert!(
        companion.body(&env(), &who).unwrap().limits.is_empty(),
        "it began today, so nothing of it stays"
    );
    let nothing = LimitForm { member: who, note: "careful".into(), ..LimitForm::default() };
    assert!(matches!(companion.save_limit(&env(), &nothing), Err(ScreenError::Refused { .. })));
}

#[test]
fn the_form_of_a_set_says_what_speaks_against_it() {
    let folder = TempDir::new().unwrap();
    let phone = book(&folder, 3);
    phone.start_member(env().stamp()).unwrap();
    let companion = Companion::over(phone);
    companion.keep_set(&drop_jump(600)).unwrap();
    let form = companion.log_set(&env()).unwrap();
    let said = saw(&form.against);
    assert!(said.contains(&"A fall from 60 cm: this exercise was not done from a box before."), "{said:?}");
    assert!(said.contains(&"Squat or body mass is not known."), "{said:?}");
    assert!(form.bound.is_empty() && form.against.iter().all(|said| said.grade == "Ask the coach"));
    companion.keep_set(&pogo()).unwrap();
    let form = companion.log_set(&env()).unwrap();
    assert_eq!(saw(&form.against), ["Young, or of unknown age: no guardian’s consent is written down."]);

    let hurt = HurtForm { part: "knee".into(), side: "left".into(), score: 1 };
    let told = CheckInForm { hurts: vec![hurt], signs: vec!["swelling".into()], ..CheckInForm::default() };
    companion.check_in(&env(), "", &told).unwrap();
    let form = companion.log_set(&env()).unwrap();
    assert!(form.bound.contains("can still be logged"), "{}", form.bound);
    assert_eq!((form.against[0].grade.as_str(), form.against[0].refuses), ("Stop", true));
    let check_in = companion.check_in_form(&env(), "").unwrap();
    assert_eq!((check_in.form.signs, check_in.signs.len()), (vec!["swelling".to_owned()], 6));
    assert!(check_in.end.contains("end the session") && check_in.said.len() == 2);
    assert_eq!(check_in.said[0].saw, "Told on Wed 25 Nov 2026: swelling.");
    let session = companion.begin_session(&env(), "", &SessionForm::default()).unwrap();
    companion.cut_short(&env(), &session, "knee").unwrap();
    let screen = companion.session(&env(), &session).unwrap();
    assert!(screen.card.iter().any(|pair| pair.label == "Cut short" && pair.value == "knee"));
    let notices = companion.athlete(&env(), &screen.athlete.route[8..], "").unwrap().notices;
    assert!(notices.iter().any(|notice| notice.saw.ends_with("swelling.")), "{notices:?}");
}

#[test]
fn tests_that_were_passed_open_depth_work() {
    let folder = TempDir::new().unwrap();
    let (_, companion, who) = adult(&folder);
    let test = |test: &str, value: &str, side: &str| {
        let form = TestForm {
            member: who.clone(),
            test: test.into(),
            value: value.into(),
            side: side.into(),
            ..TestForm::default()
        };
        companion.save_test(&env(), &form)
    };
    test("squat", "89,5", "").unwrap();
    test("five-squats", "4.6", "").unwrap();
    test("one-leg-stand", "31", "left").unwrap();
    let said = companion.offer_set(&env(), &who, &drop_jump(400)).unwrap();
    assert_eq!(
        saw(&said),
        [
            "A fall from 40 cm: this exercise was not done from a box before.",
            "Squat: 149 % of body weight, Wed 25 Nov 2026.",
            "Standing on one leg, right: not known."
        ]
    );
    assert!(said[1].source.contains("from memory"), "{}", said[1].source);
    test("squat", "90", "left").unwrap();
    test("one-leg-stand", "30", "right").unwrap();
    // The newest of a day is not told apart: the weaker result is taken back.
    let body = companion.body(&env(), &who).unwrap();
    let weak = body.tests.iter().find(|row| row.text.contains("89.5 kg")).unwrap();
    companion.end_body(&env(), &who, &weak.id).unwrap();
    assert_eq!(companion.offer_set(&env(), &who, &drop_jump(400)).unwrap().len(), 1);
    for (name, value, side) in
        [("squat", "2", ""), ("squat", "x", ""), ("five-squats", "4.6001", ""), ("one-leg-stand", "30", "")]
    {
        assert!(matches!(test(name, value, side), Err(ScreenError::Refused { .. })), "{name} {value}");
    }
}

#[test]
fn a_rule_is_drawn_with_a_reason_and_taken_back() {
    let folder = TempDir::new().unwrap();
    let (_, companion, who) = adult(&folder);
    let row = |member: &str| {
        let rules = companion.rules(&env(), member).unwrap();
        assert!(rules.may_change && rules.rows.iter().all(|row| !row.drawn.is_empty()));
        rules.rows.into_iter().find(|row| row.id == "first-box").unwrap()
    };
    let product = row("");
    assert_eq!((product.line.as_str(), product.value.as_str(), product.own), ("30 cm", "30", false));
    let form = |member: &str, line: &str, reason: &str| RuleForm {
        rule: "first-box".into(),
        member: member.into(),
        line: line.into(),
        reason: reason.into(),
        ..RuleForm::default()
    };
    companion.set_rule(&env(), &form("", "20", "a young squad")).unwrap();
    let squad = row(&who);
    assert_eq!((squad.line.as_str(), squad.own), ("20 cm", false));
    assert_eq!(squad.drawn, "The squad’s own line: a young squad.");
    let own = RuleForm { until: end_in(30), ..form(&who, "45.5", "two winters of landings") };
    companion.set_rule(&env(), &own).unwrap();
    let own = row(&who);
    assert_eq!((own.line.as_str(), own.own), ("45.5 cm", true));
    assert!(own.until.starts_with("Until ") && own.product.contains("30 cm"), "{own:?}");
    assert_eq!(row("").line, "20 cm", "the squad's stays");
    companion.take_rule_back(&env(), &who, "first-box").unwrap();
    assert_eq!(row(&who).line, "20 cm");
    companion.take_rule_back(&env(), "", "first-box").unwrap();
    assert_eq!(row("").drawn, product.drawn);
    assert!(matches!(companion.take_rule_back(&env(), "", "first-box"), Err(ScreenError::NotFound { .. })));
    for bad in [form("", "20", " "), form("", "", "why"), form("", "2", "why"), form("", "30.55", "why")] {
        assert!(matches!(companion.set_rule(&env(), &bad), Err(ScreenError::Refused { .. })), "{bad:?}");
    }
    let off = RuleForm { off: true, ..form("", "", "another test is used here") };
    companion.set_rule(&env(), &off).unwrap();
    let off = row("");
    assert!(off.off && off.line == "off" && off.drawn.contains("another test"), "{off:?}");
}

#[test]
fn a_guardians_consent_is_an_exception_with_its_reason() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let who = member.to_string();
    assert_eq!(companion.offer_set(&env(), &who, &pogo()).unwrap().len(), 1);
    let consent = RuleForm {
        rule: "guardian-consent".into(),
        member: who.clone(),
        off: true,
        reason: "signed by his mother on 2 November".into(),
        until: end_in(200),
        ..RuleForm::default()
    };
    companion.set_rule(&env(), &consent).unwrap();
    assert!(companion.offer_set(&env(), &who, &pogo()).unwrap().is_empty());
}

#[test]
fn growth_landings_and_advice_are_written_and_read() {
    let folder = TempDir::new().unwrap();
    let (book, companion, who) = adult(&folder);
    let height = |cm: &str, days| {
        let form = HeightForm { member: who.clone(), cm: cm.into(), day: end_in(days) };
        companion.save_height(&env(), &form)
    };
    assert!(companion.body(&env(), &who).unwrap().growth.contains("60 days apart"));
    height("164.0", -73).unwrap();
    height("166,0", 0).unwrap();
    assert!(matches!(height("20", 0), Err(ScreenError::Refused { .. })));
    let control = ControlForm {
        member: who.clone(),
        exercise: id::DROP_LANDING.to_string(),
        control: "held".into(),
        knee_inward: true,
        ..ControlForm::default()
    };
    companion.save_control(&env(), &control).unwrap();
    let advice = AdviceForm {
        member: who.clone(),
        until: end_in(30),
        part: "achilles".into(),
        side: "right".into(),
        up_to: 3,
        note: "told by her physiotherapist".into(),
        ..AdviceForm::default()
    };
    companion.save_advice(&env(), &advice).unwrap();
    let body = companion.body(&env(), &who).unwrap();
    assert!(saw(&body.today_against)[0].starts_with("Growing 10 cm a year, from"), "{body:?}");
    assert_eq!((body.depth_against.len(), body.depth_none.as_str()), (3, ""));
    assert_eq!(body.growth, "Growing 10.0 cm a year, from Sun 13 Sep 2026 to Wed 25 Nov 2026.");
    assert!(body.controls[0].text.contains("landing held, the knee came inward"), "{:?}", body.controls);
    assert!(body.advice[0].text.contains("Achilles tendon, right: up to 3 of 10"), "{:?}", body.advice);
    let said = companion.offer_set(&env(), &who, &pogo()).unwrap();
    assert!(said[0].saw.starts_with("Growing 10 cm a year, from"), "{said:?}");
    assert!(matches!(companion.end_body(&env(), &who, &"00".repeat(32)), Err(ScreenError::NotFound { .. })));

    // Two heights of one entry stand side by side and are read.
    let held = book.held(&Filter { kind: Some(kind::GROWTH), ..Filter::default() }).unwrap();
    let other = |mm, ms| {
        let fact = Fact::Growth(Growth { day: env().today(), height_mm: mm });
        let later = Stamp { ms: env().now_ms + ms, zone_min: 0 };
        let scope = held[1].key.scope;
        book.write(scope, &Draft::replacing(&held[1], fact), later).unwrap();
    };
    other(1_661, 1_000);
    other(1_662, 2_000);
    let clash = companion.athlete(&env(), &who, "").unwrap().clashes.remove(0);
    assert_eq!(clash.values.len(), 2);
    assert!(clash.values[0].text.starts_with("166.2 cm tall, "), "{clash:?}");
}

/// An attempt is training: it counts among the contacts and the days that guards look at.
#[test]
fn attempts_count_in_what_speaks_against_a_set() {
    let folder = TempDir::new().unwrap();
    let (book, companion, who) = adult(&folder);
    let member = MemberId(uuid::Uuid::try_parse(&who).unwrap());
    let jump = |day: Day, attempt: u16| {
        Fact::Jump(Jump {
            day,
            event: JumpEvent::Triple,
            indoor: false,
            competition: true,
            place: None,
            attempt: Some(attempt),
            outcome: Outcome::Measured(11_500),
            toe_mm: None,
            wind: None,
            wind_rule: None,
            approach: None,
            start_mm: None,
            pit_mm: None,
            board: None,
            phases: Phases::default(),
            take: None,
        })
    };
    let many = || SetForm { reps: 99, ..pogo() };
    let offered = || companion.offer_set(&env(), &who, &many()).unwrap();
    let today = env().today();
    assert!(!saw(&offered()).iter().any(|saw| saw.starts_with("With this set")));
    book.write(Scope::Member(member), &Draft::new(jump(today, 1)), env().stamp()).unwrap();
    // 99 rebounds, and hop, step and jump: past the hundred of a beginner.
    let said = offered();
    assert!(saw(&said).iter().any(|saw| saw.starts_with("With this set: 102 ")), "{said:?}");
}
