//! `pitside jump` as a person runs it: the real program, real folders.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::process::{Command, Output};

use pitside_book::clock::Stamp;
use pitside_book::keys::{Identity, file};
use pitside_book::store::{self, Draft};
use pitside_model::facts::{Bracket, Day, Event, EventKind, Fact, Foot, Pace, Scope, Take};
use serde_json::Value;
use tempfile::TempDir;

struct Book(TempDir);

impl Book {
    fn pitside(&self, args: &str) -> Output {
        let book = self.0.path().join("book");
        Command::new(env!("CARGO_BIN_EXE_pitside"))
            .args(args.split_whitespace())
            .arg("--book")
            .arg(book)
            .output()
            .unwrap()
    }

    /// What it said, where it went well.
    fn said(&self, args: &str) -> String {
        let output = self.pitside(args);
        assert!(output.status.success(), "{args}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    }

    /// What was wrong, and the exit code.
    fn refused(&self, args: &str) -> (String, Option<i32>) {
        let output = self.pitside(args);
        assert!(!output.status.success(), "{args}");
        (String::from_utf8(output.stderr).unwrap(), output.status.code())
    }

    fn list(&self, args: &str) -> Value {
        serde_json::from_str(&self.said(&format!("jump list --json {args}"))).unwrap()
    }
}

fn book() -> Book {
    Book(TempDir::new().unwrap())
}

#[test]
fn distances_are_exact_and_to_the_hundredth_below() {
    let book = book();
    let said = book.said("jump --event long-jump --distance 7.29 --day 2026-06-13");
    assert!(said.contains("2026-06-13") && said.contains("long jump, 7.29 m"), "{said}");
    book.said("jump --event long-jump --distance 7,299 --day 2026-06-14");
    book.said("jump --event long-jump --distance 7.2 --day 2026-06-15");
    let groups = book.list("");
    let attempts = groups["groups"][0]["attempts"].as_array().unwrap();
    let found: Vec<_> = attempts.iter().map(|a| a["distance_mm"].as_u64().unwrap()).collect();
    assert_eq!(found, [7_290, 7_290, 7_200]);
}

#[test]
fn attempts_are_listed_by_run_up_with_bests_board_and_shift() {
    let book = book();
    let jump = |rest: &str| book.said(&format!("jump --event long-jump --competition {rest}"));
    jump("--strides 18 --day 2026-06-13 --attempt 1 --distance 6.29 --wind 1.3 --toe -4cm");
    jump("--strides 18 --day 2026-06-13 --attempt 2 --foul --toe 1.5cm");
    jump("--strides 18 --day 2026-06-13 --attempt 3 --distance 6.41 --wind 2.03 --toe -85mm");
    jump("--strides 18 --day 2026-06-20 --attempt 1 --distance 6.35 --no-gauge --toe -9cm");
    jump("--strides 18 --day 2026-06-20 --attempt 2 --foul");
    jump("--strides 8 --day 2026-06-10 --distance 5.61");
    let all = book.list("--foul-share 0.1");
    let groups = all["groups"].as_array().unwrap();
    assert_eq!((groups.len(), &groups[0]["strides"]), (2, &Value::from(8)));
    let full = &groups[1];
    assert_eq!((&full["strides"], &full["fouls"]), (&Value::from(18), &Value::from(2)));
    assert_eq!((&full["best_mm"], &full["best_for_records_mm"]), (&Value::from(6_410), &Value::from(6_290)));
    assert_eq!(full["best_effective_mm"], 6_495);
    assert_eq!(full["mean_mm"], 6_350.0);
    assert_eq!(full["attempts"][2]["records"], "too-strong");
    assert_eq!(full["attempts"][3]["records"], "no-gauge");
    // Toes of −40, 15, −85 and −90 mm: mean −50, s = √(7150/3).
    let board = &full["board"];
    assert_eq!((&board["toes"], &board["over"]), (&Value::from(4), &Value::from(1)));
    assert_eq!((&board["bias_mm"], &board["fouls_without_toe"]), (&Value::from(-50.0), &Value::from(1)));
    let sd = (7_150_f64 / 3.0).sqrt();
    let near = |value: &Value, wanted: f64| (value.as_f64().unwrap() - wanted).abs() < 1e-3;
    assert!(near(&board["sd_mm"], sd), "{board}");
    let shift = &full["shift"];
    assert!(near(&shift["back_mm"], -50.0 + 1.281_551_6 * sd), "{shift}");
    let ends: Vec<f64> =
        shift["back_95_mm"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
    assert!(ends[0] < shift["back_mm"].as_f64().unwrap() && shift["back_mm"].as_f64().unwrap() < ends[1]);
    assert!(groups[0]["board"].is_null() && groups[0]["shift"].is_null());

    // Only what is alike in wind and run-up.
    let calm = book.list("--strides 18 --wind-from 0 --wind-to 2.0");
    assert_eq!(calm["groups"][0]["attempts"].as_array().unwrap().len(), 1);
    assert_eq!(book.list("--event triple-jump")["groups"], Value::from(Vec::<Value>::new()));

    let text = book.said("jump list --strides 18");
    assert!(text.contains("6.41 m, wind +2.1 m/s, toe 8.5 cm behind the line, toe to mark 6.49"), "{text}");
    assert!(text.contains("Best with a wind that allows a record: 6.29 m"), "{text}");
    assert!(text.contains("4 toes, 1 over the line; mean 5.0 cm behind the line"), "{text}");
    assert!(
        text.contains("noncentral t")
            && text.contains("Fouls without a toe, which mean and spread leave out: 1"),
        "{text}"
    );
}

#[test]
fn phases_of_a_triple_jump_have_shares_and_class() {
    let book = book();
    book.said("jump --event triple-jump --distance 14.02 --toe -8cm --hop 5.32 --step 4.08 --day 2026-06-13");
    let attempt = book.list("")["groups"][0]["attempts"][0].clone();
    // 14.10 m from toe to mark leave 4.70 m for the jump.
    assert_eq!(attempt["shares_percent"], serde_json::json!([37.73, 28.94, 33.33]));
    assert_eq!(attempt["class"], "hop-dominated");
    assert!(book.said("jump list").contains("37.7/28.9/33.3 %, hop-dominated"));
}

#[test]
fn a_take_gives_contact_times_and_speed() {
    use EventKind::{ToeOff, Touchdown};
    let book = book();
    book.said("jump --event triple-jump --foul --day 2026-06-12");
    let folder = book.0.path().join("book");
    let identity = Identity::from_seed(file::load(&folder.join("device.key")).unwrap());
    let open = store::Book::open(&folder, identity).unwrap();
    let event = |foot, kind, ms: i64| Event {
        foot,
        kind,
        bracket: Bracket { before: ms - 2, after: ms + 2 },
        doubted: false,
    };
    let events = vec![
        event(Foot::Right, Touchdown, 240),
        event(Foot::Right, ToeOff, 380),
        event(Foot::Right, Touchdown, 880),
        event(Foot::Right, ToeOff, 1_040),
        event(Foot::Left, Touchdown, 1_420),
        event(Foot::Left, ToeOff, 1_600),
        event(Foot::Both, Touchdown, 2_240),
    ];
    let take = Take {
        day: Day::parse("2026-06-13").unwrap(),
        clip: [1; 32],
        frames: [2; 32],
        pace: Pace { num: 1, den: 1_000 },
        frame_ticks: 4,
        stated_mhz: None,
        clock_ppm: None,
        rounded: false,
        exercise: None,
        set: None,
        rendered: false,
        events,
    };
    let scope = Scope::Member(open.own_members().unwrap()[0]);
    let now = Stamp { ms: 1_781_350_000_000, zone_min: 0 };
    let id = open.write(scope, &Draft::new(Fact::Take(take)), now).unwrap().to_string();
    drop(open);
    let letters = &id[..10];
    let distances = "--distance 14.00 --toe 0cm --hop 5.12 --step 4.05 --jump 4.83";
    book.said(&format!("jump --event triple-jump {distances} --take {letters} --day 2026-06-13"));
    let attempt = book.list("")["groups"][0]["attempts"][1].clone();
    let near = |value: &Value, wanted: f64| (value.as_f64().unwrap() - wanted).abs() < 1e-9;
    for (at, seconds) in [0.140, 0.160, 0.180].into_iter().enumerate() {
        assert!(near(&attempt["contacts_s"][at], seconds), "{attempt}");
    }
    assert!(near(&attempt["flights_s"][2], 0.640), "{attempt}");
    assert!(near(&attempt["hop_m_s"], 8.0) && near(&attempt["speed_lost"], 0.0625), "{attempt}");
    assert!(book.said("jump list").contains("contacts 140/160/180 ms, hop to step 6."));
    let (wrong, _) = book.refused("jump --event triple-jump --foul --take ffffffffffffff");
    assert!(wrong.contains("no take"), "{wrong}");
}

#[test]
fn what_is_wrong_is_said() {
    let book = book();
    let (wrong, code) = book.refused("jump --distance 6.42");
    assert!(wrong.contains("--event") && code == Some(2), "{wrong}");
    let (wrong, code) = book.refused("jump --event long-jump");
    assert!(wrong.contains("--distance") && code == Some(2), "{wrong}");
    let (wrong, _) = book.refused("jump --event long-jump --distance 6.42 --toe -4");
    assert!(wrong.contains("unit"), "{wrong}");
    let (wrong, _) = book.refused("jump --event long-jump --distance 6.42 --toe 2cm");
    assert!(wrong.contains("toe-mm") && wrong.contains("foul"), "{wrong}");
    let (wrong, _) = book.refused("jump --event long-jump --distance 6.4e0");
    assert!(wrong.contains("metres"), "{wrong}");
    let (wrong, _) = book.refused("jump --event long-jump --distance 6.42 --hop 3");
    assert!(wrong.contains("no phases"), "{wrong}");
    book.said("jump --event long-jump --distance 6.42");
    let (wrong, code) = book.refused("jump list --foul-share 0.7");
    assert!(wrong.contains("0.001 to 0.5") && code == Some(2), "{wrong}");
    assert!(book.said("jump list --event triple-jump").contains("No such jump"));
}

/// The short id of the attempts of a listing.
fn ids(listed: &Value) -> Vec<String> {
    let groups = listed["groups"].as_array().unwrap();
    let attempts = groups.iter().flat_map(|group| group["attempts"].as_array().unwrap());
    attempts.map(|attempt| attempt["id"].as_str().unwrap()[..8].to_owned()).collect()
}

#[test]
fn a_correction_takes_the_place_of_what_was_written_and_a_withdrawal_of_all_of_it() {
    let book = book();
    book.said("jump --event long-jump --distance 6.42 --toe -4cm --wind 2.4 --strides 18 --day 2026-06-13");
    book.said("jump --event long-jump --foul --toe 2cm --strides 18 --day 2026-06-13");
    let ids = ids(&book.list(""));
    let said = book.said(&format!("jump correct {} --toe -6cm --wind 1.4 --attempt 1", ids[0]));
    assert!(said.contains("Corrected: 2026-06-13") && said.contains("long jump, 6.42 m"), "{said}");
    let listed = book.list("");
    let group = &listed["groups"][0];
    let first = &group["attempts"][0];
    assert_eq!(first["toe_mm"], -60);
    assert_eq!((&first["wind_tenths_m_s"], &first["attempt"]), (&Value::from(14), &Value::from(1)));
    // Its id stays, and so does what was not spoken of.
    assert!(first["id"].as_str().unwrap().starts_with(&ids[0]));
    assert_eq!((&group["strides"], group["attempts"].as_array().unwrap().len()), (&Value::from(18), 2));
    book.said(&format!("jump correct {} --clear wind --clear toe", ids[0]));
    let first = book.list("")["groups"][0]["attempts"][0].clone();
    assert_eq!((&first["toe_mm"], &first["records"]), (&Value::Null, &Value::from("not-said")));
    // What cannot be is refused, and nothing is lost.
    let (why, code) = book.refused(&format!("jump correct {} --distance 6.40", ids[1]));
    assert!(why.contains("a toe over it is a foul"), "{why}");
    assert_eq!(code, Some(2));
    let said = book.said(&format!("jump withdraw {}", ids[1]));
    assert!(said.contains("Taken back: 2026-06-13") && said.contains("long jump, foul"), "{said}");
    assert_eq!(book.list("")["groups"][0]["attempts"].as_array().unwrap().len(), 1);
    let (why, _) = book.refused(&format!("jump withdraw {}", ids[1]));
    assert!(why.contains("no attempt begins with"), "{why}");
}
