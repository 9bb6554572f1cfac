//! A phone whose language is German shows no English: every screen it draws, of a coach with an athlete of a few
//! weeks, and each of the exercises that come along.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use std::fmt::Debug;
use std::io::Cursor;
use std::path::Path;

use meeting::{DAY_MS, NOON, at};
use pitside_model::load::catalogue::{self, id};
use pitside_screen::record::{CheckInForm, ExerciseQuery, HurtForm, LimitForm, SetForm, TestForm};
use pitside_screen::take::{ClipFile, Tap};
use pitside_screen::{Companion, Effort, Env, OpenClip, SessionForm};
use tempfile::TempDir;

/// Words that stand in English sentences only.
const ENGLISH: [&str; 18] = [
    " the ", " and ", " of ", " is ", " are ", " with ", " not ", " to ", " for ", "The ", "expected",
    "there is", "estimate", " ours", "memory", "source", "cue:", "handbook",
];

/// Titles of journals and books, which stay as they are.
const TITLES: [&str; 1] = ["Essentials of Strength Training and Conditioning"];

fn german(now_ms: i64) -> Env {
    Env { language: "de-AT".into(), ..at(now_ms) }
}

/// The texts of a record: what stands in quotation marks where it is written out.
fn texts(record: &impl Debug) -> Vec<String> {
    let written = format!("{record:?}");
    let mut found = Vec::new();
    let mut letters = written.chars();
    while letters.any(|letter| letter == '"') {
        let mut text = String::new();
        while let Some(letter) = letters.next() {
            match letter {
                '"' => break,
                '\\' => text.extend(letters.next()),
                _ => text.push(letter),
            }
        }
        found.push(text);
    }
    found
}

/// What of a record is English, each text once.
fn english(what: &str, record: &impl Debug) -> Vec<String> {
    let mut found = Vec::new();
    for text in texts(record) {
        let bare = TITLES.iter().fold(format!(" {text} "), |text, title| text.replace(title, ""));
        if ENGLISH.iter().any(|word| bare.contains(word)) || bare.contains("[") {
            found.push(format!("{what}: {text}"));
        }
    }
    found.sort();
    found.dedup();
    found
}

fn none(what: &str, record: &impl Debug) {
    assert!(texts(record).len() > 1, "{what} says nothing");
    let found = english(what, record);
    assert!(found.is_empty(), "{found:#?}");
}

fn set(exercise: uuid::Uuid, leg: &str) -> SetForm {
    SetForm { exercise: exercise.to_string(), sets: 3, reps: 8, leg: leg.to_owned(), ..SetForm::default() }
}

/// Six weeks of an athlete, the last with more and higher jumps than those before; gives the last session.
fn a_few_weeks(phone: &Companion, athlete: &str) -> (Env, String) {
    for week in 0..6 {
        for (day, exercise, leg) in
            [(0, id::POGO, ""), (2, id::BOUNDS_STANDING, "alternate-left"), (4, id::DROP_JUMP_40, "")]
        {
            let now = german(NOON + (week * 7 + day - 42) * DAY_MS);
            let session = phone.begin_session(&now, athlete, &SessionForm::default()).unwrap();
            let reps = if week == 5 { 30 } else { 8 };
            phone.save_sets(&now, &session, &SetForm { reps, ..set(exercise, leg) }).unwrap();
            phone.set_effort(&now, &session, &Effort { rpe_tenths: 60, minutes: 70 }).unwrap();
        }
    }
    let now = german(NOON);
    let session = phone.begin_session(&now, athlete, &SessionForm::default()).unwrap();
    phone
        .save_sets(&now, &session, &SetForm { strides: Some(6), ..set(id::LONG_JUMP_SHORT, "left") })
        .unwrap();
    phone.save_sets(&now, &session, &SetForm { box_mm: Some(600), ..set(id::DROP_JUMP, "") }).unwrap();
    phone.say_condition(&now, &session, "surface", "track").unwrap();
    let test = TestForm {
        member: athlete.to_owned(),
        test: "squat".into(),
        value: "120".into(),
        ..TestForm::default()
    };
    phone.save_test(&now, &test).unwrap();
    (now, session)
}

#[test]
fn no_screen_of_a_phone_is_english() {
    let folder = TempDir::new().unwrap();
    let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &german(NOON)).unwrap();
    let (now, session) = a_few_weeks(&phone, "");
    let hurt = HurtForm { part: "achilles".into(), side: "left".into(), score: 4 };
    phone.check_in(&now, "", &CheckInForm { hurts: vec![hurt], ..CheckInForm::default() }).unwrap();
    none("today", &phone.today(&now).unwrap());
    none("log", &phone.log_set(&now).unwrap());
    none("check-in", &phone.check_in_form(&now, "").unwrap());
    let log = phone.session_log(&now, &session).unwrap();
    none("session", &log);
    let a_set = log.sets[0].route.split_once('/').unwrap().1;
    none("set", &phone.correction(&now, a_set).unwrap());
    none("effort", &phone.effort(&now, &session).unwrap());
    none("course", &phone.own_course(&now, "").unwrap());
    none("group", &phone.group(&now).unwrap());
    let squad = phone.squad(&now).unwrap();
    none("squad", &squad);
    none("athlete", &phone.athlete(&now, &squad.athletes[0].id, "").unwrap());
    none("sharing", &phone.sharing(&now, &squad.athletes[0].id).unwrap());
    none("settings", &phone.settings(&now).unwrap());
    none("erase here", &phone.confirm_erase_here(&now).unwrap());
    none("exchange", &phone.exchange(&now).unwrap());
    none("join", &phone.join_form(&now).unwrap());
    none("more", &phone.more(&now).unwrap());
    none("takes", &phone.takes(&now).unwrap());
    none("labels", &pitside_screen::labels(&now));
    none("headings", &pitside_screen::headings(&now));
}

#[test]
fn no_screen_of_a_coach_s_phone_is_english() {
    let folder = TempDir::new().unwrap();
    let (_, phone, athlete) = meeting::coach(&folder);
    let athlete = athlete.to_string();
    let (now, _) = a_few_weeks(&phone, &athlete);
    let limit = LimitForm {
        member: athlete.clone(),
        max_box_cm: "40".into(),
        note: "Knie schonen".into(),
        ..LimitForm::default()
    };
    phone.save_limit(&now, &limit).unwrap();
    let squad = phone.squad(&now).unwrap();
    assert!(!squad.notices.is_empty(), "something rose in the last week");
    none("squad", &squad);
    none("athlete", &phone.athlete(&now, &athlete, "").unwrap());
    none("exchange", &phone.exchange(&now).unwrap());
    none("more", &phone.more(&now).unwrap());
}

#[test]
fn no_exercise_that_comes_along_is_english() {
    let folder = TempDir::new().unwrap();
    let now = german(NOON);
    let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &now).unwrap();
    let query = ExerciseQuery { search: String::new(), sort: String::new(), event: String::new() };
    none("exercises", &phone.exercises(&now, &query).unwrap());
    let mut found = Vec::new();
    for item in catalogue::all() {
        let name = &item.exercise.name;
        let page = phone.exercise(&now, &item.id.to_string()).unwrap();
        assert!(!page.cue.is_empty() && !page.about.contains("Hinweis"), "{name}: {page:?}");
        found.extend(english(name, &page));
        phone.keep_set(&set(item.id, "")).unwrap();
        let log = phone.log_set(&now).unwrap();
        assert!(log.about.contains("; Hinweis: "), "{name}: {}", log.about);
        found.extend(english(name, &log));
    }
    assert!(found.is_empty(), "{found:#?}");
}

/// What speaks against a clip, what its clock rests on, and why marks give no times.
#[test]
fn no_clip_is_told_in_english() {
    let folder = TempDir::new().unwrap();
    let now = german(NOON);
    let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &now).unwrap();
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests");
    let mut evidence = 0;
    for clips in ["published/data/clips", "render/clips"] {
        for entry in std::fs::read_dir(tests.join(clips)).unwrap() {
            let path = entry.unwrap().path();
            let Some(name) = path.file_name().and_then(|name| name.to_str()) else { continue };
            if path.extension().is_none_or(|end| end != "mp4") {
                continue;
            }
            let bytes = std::fs::read(&path).unwrap();
            for stated in [None, Some(30_000), Some(60_000), Some(240_000)] {
                let Ok(open) = OpenClip::read(Cursor::new(bytes.clone()), None) else { continue };
                let file =
                    ClipFile { place: "clip".into(), name: "clip.mp4".into(), bytes: None, written_ms: None };
                none(name, &phone.choose_clip(&now, &open, &file, false).unwrap());
                phone.choose_clip(&now, &open, &file, true).unwrap();
                let page = phone.marking(&now, &open).unwrap();
                none(name, &page);
                let mut shows = page.marking.shows.clone();
                shows.capture_mhz = stated;
                let marking = phone.mark(&now, &open, &Tap::Shows { shows }).unwrap();
                none(name, &marking);
                evidence += marking.marked.clock.evidence.len();
                if open.clip().frames.ticks().len() > 6 {
                    let lone = Tap::Gap { foot: "left".into(), kind: "toe-off".into(), before: 2, after: 4 };
                    none(name, &phone.mark(&now, &open, &lone).unwrap());
                }
                let clip = phone.takes(&now).unwrap().later[0].id.clone();
                phone.drop_clip(&clip).unwrap();
            }
        }
    }
    assert!(evidence > 20, "{evidence}");
}
