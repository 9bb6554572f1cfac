//! Tests, limits and rules as a person writes them from the command line: the real
//! program, real folders.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::process::{Command, Output};

use pitside_book::clock::Stamp;
use pitside_book::keys::{Identity, OsRng, file};
use pitside_book::store::Book as Store;
use pitside_model::facts::{Card, Day, Fact, Scope, Subject};
use serde_json::Value;
use tempfile::TempDir;

struct Book(TempDir);

impl Book {
    /// A coach's book with a squad of one adult of 60 kg.
    fn new() -> Self {
        let folder = TempDir::new().unwrap();
        let at = folder.path().join("book");
        std::fs::create_dir(&at).unwrap();
        let seed = file::create(&at.join("device.key"), &mut OsRng).unwrap();
        let store = Store::create(&at, Identity::from_seed(seed), false).unwrap();
        let now = Stamp { ms: 1_795_608_000_000, zone_min: 0 };
        store.found("Quay jumps", now).unwrap();
        let member = store.add_member("Ino", now).unwrap();
        for card in [Card::Born(Day::parse("2001-05-06").unwrap()), Card::MassG(60_000)] {
            store.revise(Scope::Member(member), Subject::Uuid(member.0), Fact::Card(card), now).unwrap();
        }
        Self(folder)
    }

    fn pitside(&self, args: &[&str]) -> Output {
        let book = self.0.path().join("book");
        Command::new(env!("CARGO_BIN_EXE_pitside")).args(args).arg("--book").arg(book).output().unwrap()
    }

    fn said(&self, args: &[&str]) -> String {
        let output = self.pitside(args);
        assert!(output.status.success(), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    }

    fn json(&self, args: &[&str]) -> Value {
        serde_json::from_str(&self.said(&[args, &["--json"]].concat())).unwrap()
    }

    fn refused(&self, args: &[&str]) -> String {
        let output = self.pitside(args);
        assert!(!output.status.success(), "{args:?}");
        String::from_utf8(output.stderr).unwrap()
    }
}

#[test]
fn results_of_tests_are_written_and_listed() {
    let book = Book::new();
    let said = book.said(&["test", "Ino", "--test", "squat", "--value", "95", "--day", "2026-11-20"]);
    assert_eq!(said, "Squat, one repetition, without the body’s own weight: 95 kg, Fri 20 Nov 2026\n");
    book.said(&["test", "Ino", "--test", "one-leg-stand", "--side", "left", "--value", "31.5"]);
    book.said(&["test", "ino", "--height-cm", "166,5"]);
    let all = book.json(&["test", "Ino"]);
    assert_eq!(all["tests"].as_array().unwrap().len(), 2);
    assert!(all["heights"][0]["text"].as_str().unwrap().starts_with("166.5 cm tall"), "{all}");
    assert!(all["growth"].as_str().unwrap().contains("60 days apart"));
    assert!(book.refused(&["test", "Ino", "--test", "squat", "--value", "2"]).contains("5 to 500 kg"));
    assert!(book.refused(&["test", "Ino", "--test", "hop", "--value", "2"]).contains("squat"));
    assert!(book.refused(&["test", "Ino", "--test", "squat"]).contains("--value"));
}

#[test]
fn a_limit_is_written_checked_against_and_lifted() {
    let book = Book::new();
    let drop = ["log", "--member", "Ino", "--exercise", "Drop jump", "--reps", "5", "--box-cm", "40"];
    let limit = book.json(&["limit", "set", "Ino", "--box-cm", "30", "--said-by", "clinician"]);
    assert!(limit["limits"][0]["holds"].as_bool().unwrap(), "{limit}");
    let wrong = book.refused(&[&drop[..], &["--check"]].concat());
    assert!(wrong.contains("box is 40 cm high") && wrong.contains("lifts it"), "{wrong}");
    let logged = book.said(&drop);
    assert!(logged.contains("It is written down. The box is 40 cm high."), "{logged}");
    let id = limit["limits"][0]["id"].as_str().unwrap();
    assert_eq!(book.said(&["limit", "lift", "Ino", id]), "No limit is written down.\n");
    let open = book.said(&[&drop[..], &["--check"]].concat());
    assert!(open.contains("Ask the coach: Squat or body mass is not known."), "{open}");
    assert!(book.refused(&["limit", "set", "Ino"]).contains("a leg, the run-in or a height of boxes"));
}

#[test]
fn a_rule_is_listed_drawn_and_taken_back() {
    let book = Book::new();
    let first_box = |args: &[&str]| {
        let all = book.json(&[&["rule", "list"], args].concat());
        let rules = all["rules"].as_array().unwrap();
        rules.iter().find(|rule| rule["rule"] == "first-box").unwrap().clone()
    };
    assert_eq!((&first_box(&[])["line"], &first_box(&[])["unit"]), (&Value::from(30.0), &Value::from("cm")));
    let set = ["rule", "set", "first-box", "20"];
    assert!(book.refused(&set).contains("--reason"));
    let said = book.said(&[&set[..], &["--reason", "a young squad"]].concat());
    assert!(said.contains("20 cm") && said.contains("a young squad") && said.contains("30 cm"), "{said}");
    let off =
        ["rule", "off", "first-box", "--member", "Ino", "--reason", "two winters", "--until", "2199-01-01"];
    book.said(&off);
    let own = first_box(&["--member", "Ino"]);
    assert!(own["off"].as_bool().unwrap() && own["line"].is_null() && own["own"].as_bool().unwrap(), "{own}");
    book.said(&["rule", "back", "first-box", "--member", "Ino"]);
    assert_eq!(first_box(&["--member", "Ino"])["line"], 20.0);
    book.said(&["rule", "back", "first-box"]);
    assert!(book.refused(&["rule", "back", "first-box"]).contains("line of their own"));
    assert!(book.refused(&["rule", "set", "first-box", "2", "--reason", "x"]).contains("5 to 150 cm"));
}

#[test]
fn signs_are_logged_beside_what_hurts() {
    let folder = TempDir::new().unwrap();
    let book = Book(folder);
    let said = book.said(&["log", "--hurts", "shin left 2", "--sign", "limp", "--sign", "night"]);
    assert!(said.contains("stop, and have it seen by a licensed practitioner"), "{said}");
    assert!(book.refused(&["log", "--sign", "tired"]).contains("limp"));
    let set = ["log", "--exercise", "Pogo, two legs", "--reps", "10"];
    let why = book.refused(&[&set[..], &["--check"]].concat());
    assert!(why.contains("limping") && why.contains("licensed practitioner"), "{why}");
    assert!(book.said(&set).contains("It is written down. Told on"));
}

#[test]
fn a_session_is_planned_listed_and_withdrawn() {
    let book = Book::new();
    let rows = [
        "--row",
        "3x10 Pogo, two legs; rest 90; say quick off the ground",
        "--row",
        "2x1 Bounds from a stand; swap",
    ];
    let add =
        [&["plan", "add", "Ino", "--day", "2199-01-01", "--purpose", "short contacts"][..], &rows].concat();
    let plan = &book.json(&add)["plans"][0];
    assert_eq!((&plan["athlete"], &plan["day"]), (&Value::from("Ino"), &Value::from("2199-01-01")));
    assert_eq!(plan["rows"][0], "3 sets: 10 × Pogo, two legs · quick off the ground");
    assert!(plan["rows"][1].as_str().unwrap().ends_with("left and right in turn from set to set"), "{plan}");
    assert_eq!((&plan["progress"], &plan["clash"]), (&Value::from(""), &Value::from(false)));
    let id = plan["id"].as_str().unwrap();
    assert!(book.said(&["plan", "list", "Ino"]).starts_with(&format!("{id}  Ino: ")));
    assert_eq!(book.said(&["plan", "withdraw", id]), "Nothing is planned.\n");
    assert!(book.refused(&["plan", "withdraw", id]).contains("planned session"));

    let refused = |row: &str| {
        book.refused(&["plan", "add", "Ino", "--day", "2199-01-01", "--purpose", "x", "--row", row])
    };
    assert!(refused("3x10 Nothing like it").contains("names no exercise"));
    assert!(refused("3 Pogo").contains("3x10"));
    assert!(refused("40x10 Pogo, two legs").contains("row 1: sets"));
    book.said(&["limit", "set", "Ino", "--box-cm", "30"]);
    let why = refused("2x5 Drop jump; box 40");
    assert!(why.contains("The box is 40 cm high") && why.contains("lifts it"), "{why}");
    assert!(
        book.refused(&["plan", "add", "Nobody", "--purpose", "x", "--row", "1x1 Pogo, two legs"])
            .contains("nobody is called")
    );
}
