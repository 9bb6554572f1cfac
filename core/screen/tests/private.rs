//! What hurts: written on the phone, seen by the coach only while it is shared.

#![allow(clippy::unwrap_used, clippy::panic, reason = "helpers of tests fail as tests do")]

mod meeting;

use std::sync::Arc;

use meeting::{env, meet};
use pitside_book::exchange::Part;
use pitside_book::store::{Book, Filter};
use pitside_model::facts::{Card, Fact, MemberId, Scope, Subject, kind};
use pitside_screen::record::{CheckInForm, HurtForm};
use pitside_screen::{Companion, ScreenError};
use tempfile::TempDir;

struct Pair {
    coach: Arc<Book>,
    phone: Arc<Book>,
    member: MemberId,
    _folders: [TempDir; 2],
}

fn pair() -> Pair {
    let folders = [TempDir::new().unwrap(), TempDir::new().unwrap()];
    let (coach, phone, member) = meeting::pair(&folders);
    Pair { coach, phone, member, _folders: folders }
}

impl Pair {
    /// Twice: the consent arrives first, the private part with the next.
    fn sync(&self) {
        for _ in 0..2 {
            meet(&self.phone, Part::Caller, &self.coach);
        }
    }
}

fn shin(score: u8) -> CheckInForm {
    let hurt = HurtForm { part: "shin".into(), side: "left".into(), score };
    CheckInForm { day: String::new(), hurts: vec![hurt], sleep_min: Some(450), signs: Vec::new() }
}

#[test]
fn nothing_of_it_is_in_any_record_unless_it_is_shared_now() {
    let pair = pair();
    let phone = Companion::over(Arc::clone(&pair.phone));
    let coach = Companion::over(Arc::clone(&pair.coach));
    let member = pair.member.to_string();
    phone.check_in(&env(), "", &shin(7)).unwrap();
    let seen = || {
        let board = coach.squad(&env()).unwrap();
        let athlete = coach.athlete(&env(), &member, "").unwrap();
        let all = format!("{board:?} {athlete:?}").to_lowercase();
        (all.contains("shin") || all.contains("7 of 10"), board.athletes[0].private_note.clone())
    };
    pair.sync();
    assert_eq!(seen(), (false, "What hurts is not shared.".into()));
    phone.share_private(&env(), "", true).unwrap();
    pair.sync();
    assert_eq!(seen(), (true, String::new()));
    phone.share_private(&env(), "", false).unwrap();
    pair.sync();
    let held = pair.coach.held(&Filter { kind: Some(kind::CHECK_IN), ..Filter::default() }).unwrap();
    assert_eq!(held.len(), 1, "it did arrive while it was shared");
    let (any, note) = seen();
    assert!(!any, "but is not shown any more");
    assert!(note.contains("withdrawn"), "{note}");
    assert!(format!("{:?}", phone.squad(&env()).unwrap()).contains("shin"), "the phone sees its own");
}

#[test]
fn a_second_check_in_of_a_day_takes_the_place_of_the_first() {
    let pair = pair();
    let phone = Companion::over(Arc::clone(&pair.phone));
    let first = phone.check_in(&env(), "", &shin(7)).unwrap();
    assert_eq!(phone.check_in(&env(), "", &shin(2)).unwrap(), first);
    let form = phone.check_in_form(&env(), "").unwrap();
    assert_eq!(form.form.hurts, shin(2).hurts);
    assert!(form.parts.len() == 12 && form.shared.starts_with("Only your own devices"));
    let held = pair.phone.held(&Filter { kind: Some(kind::CHECK_IN), ..Filter::default() }).unwrap();
    assert_eq!((held.len(), held[0].is_clash()), (1, false));
    for (field, odd) in [
        ("part", HurtForm { part: "soul".into(), ..HurtForm::default() }),
        ("side", HurtForm { part: "shin".into(), side: "up".into(), score: 1 }),
        ("score", HurtForm { part: "shin".into(), side: String::new(), score: 11 }),
    ] {
        match phone.check_in(&env(), "", &CheckInForm { hurts: vec![odd], ..CheckInForm::default() }) {
            Err(ScreenError::Refused { field: named, value, range }) => {
                assert!(named.contains(field) || range.contains(field), "{named}: {value}, {range}");
            }
            other => panic!("{field}: {other:?}"),
        }
    }
}

#[test]
fn pain_is_a_notice_by_the_gravest_rule_that_holds() {
    let pair = pair();
    let phone = Companion::over(Arc::clone(&pair.phone));
    let saw = || phone.squad(&env()).unwrap().notices;
    phone.check_in(&env(), "", &shin(2)).unwrap();
    assert!(saw()[0].rule.contains("Under 18, or of unknown age"), "of unknown age");
    let born = pitside_model::facts::Day::parse("2000-01-01").unwrap();
    let card = Fact::Card(Card::Born(born));
    let draft = pitside_book::store::Draft::about(Subject::Uuid(pair.member.0), card);
    pair.phone.write(Scope::Member(pair.member), &draft, env().stamp()).unwrap();
    assert!(saw()[0].rule.starts_with("New pain"));
    phone.check_in(&env(), "", &shin(6)).unwrap();
    assert!(saw()[0].rule.starts_with("Above 5 of 10"));
    let before = CheckInForm { day: "2026-11-16".into(), ..shin(5) };
    phone.check_in(&env(), "", &before).unwrap();
    assert!(saw()[0].rule.starts_with("Pain that rises"));
    phone.check_in(&env(), "", &shin(5)).unwrap();
    assert!(saw().is_empty(), "no higher than before, and not above the line");
}
