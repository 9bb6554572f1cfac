//! `pitside import` as a person and a program call it: the real program, real folders.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::{Mutex, MutexGuard, PoisonError};

use pitside_book::clock::Stamp;
use pitside_book::keys::{Identity, OsRng, file};
use pitside_book::store::{self, Filter, Held};
use pitside_model::facts::{Approach, Card, Cue, Effort, Fact, Leg, Scope, Session, Set, Subject, kind};
use pitside_model::load::catalogue;
use serde_json::Value;
use tempfile::TempDir;

const NOW: Stamp = Stamp { ms: 1_795_608_000_000, zone_min: 0 };

/// Held while a book is open in this process and while another one is started: a process
/// that is just starting holds whatever was open, so that the book would seem in use.
static ALONE: Mutex<()> = Mutex::new(());

fn alone() -> MutexGuard<'static, ()> {
    ALONE.lock().unwrap_or_else(PoisonError::into_inner)
}

fn output(command: &mut Command) -> Output {
    let child = {
        let _alone = alone();
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap()
    };
    child.wait_with_output().unwrap()
}

/// A folder with a book.
struct Desk(TempDir);

impl Desk {
    /// A book of somebody alone.
    fn alone() -> Self {
        let desk = Self(TempDir::new().unwrap());
        let folder = desk.folder();
        std::fs::create_dir(&folder).unwrap();
        let seed = file::create(&folder.join("device.key"), &mut OsRng).unwrap();
        let _alone = alone();
        store::Book::create(&folder, Identity::from_seed(seed), false).unwrap().close().unwrap();
        desk
    }

    /// A coach's book with these athletes.
    fn of_squad(athletes: &[&str]) -> Self {
        let desk = Self::alone();
        desk.with_book(|book| {
            book.found("Quay jumps", NOW).unwrap();
            for athlete in athletes {
                book.add_member(athlete, NOW).unwrap();
            }
        });
        desk
    }

    fn folder(&self) -> PathBuf {
        self.0.path().join("book")
    }

    fn with_book<T>(&self, work: impl FnOnce(&store::Book) -> T) -> T {
        let seed = file::load(&self.folder().join("device.key")).unwrap();
        let _alone = alone();
        let book = store::Book::open(&self.folder(), Identity::from_seed(seed)).unwrap();
        let done = work(&book);
        book.close().unwrap();
        done
    }

    fn held(&self, kind: &str) -> Vec<Held> {
        self.with_book(|book| book.held(&Filter { kind: Some(kind), ..Filter::default() }).unwrap())
    }

    fn members(&self) -> usize {
        self.with_book(|book| book.members().unwrap().len())
    }

    /// Sessions, ratings, sets and rest days in the book.
    fn counts(&self) -> [usize; 4] {
        let sessions = self.held(kind::SESSION);
        let ratings = sessions.iter().filter(|held| matches!(held.fact(), Some(Fact::Effort(_)))).count();
        [sessions.len() - ratings, ratings, self.held(kind::SET).len(), self.held(kind::REST).len()]
    }

    fn sets(&self) -> Vec<Set> {
        let held = self.held(kind::SET);
        let set = |held: &Held| match held.fact() {
            Some(Fact::Set(set)) => Some(set.clone()),
            _ => None,
        };
        held.iter().filter_map(set).collect()
    }

    fn import_file(&self, table: &Path, arguments: &[&str]) -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_pitside"));
        output(command.arg("import").arg(table).arg("--book").arg(self.folder()).args(arguments))
    }

    fn import(&self, table: &str, arguments: &[&str]) -> Output {
        let file = self.0.path().join("log.csv");
        std::fs::write(&file, table).unwrap();
        self.import_file(&file, arguments)
    }

    /// What it said, where nothing was refused.
    fn said(&self, table: &str, arguments: &[&str]) -> String {
        let output = self.import(table, arguments);
        assert!(output.status.success(), "{}{}", text(&output.stdout), text(&output.stderr));
        text(&output.stdout)
    }

    /// What it said, where a line was refused.
    fn refused(&self, table: &str, arguments: &[&str]) -> String {
        let output = self.import(table, arguments);
        assert_eq!(output.status.code(), Some(3), "{}", text(&output.stderr));
        assert!(text(&output.stderr).contains("refused, so nothing was written"));
        text(&output.stdout)
    }

    fn json(&self, table: &str, arguments: &[&str]) -> Value {
        let output = self.import(table, &[arguments, &["--json"]].concat());
        serde_json::from_slice(&output.stdout).unwrap()
    }
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// The example that `--help` shows.
fn example() -> String {
    let help = output(Command::new(env!("CARGO_BIN_EXE_pitside")).args(["import", "--help"]));
    let help = text(&help.stdout);
    let (_, example) = help.split_once("Example, ").unwrap();
    example
        .lines()
        .skip(1)
        .take_while(|line| !line.is_empty())
        .map(|line| line.trim().to_owned() + "\n")
        .collect()
}

#[test]
fn the_example_of_the_help_is_taken_once() {
    let desk = Desk::of_squad(&["Ino Vale"]);
    let table = example();
    assert!(table.starts_with("date,athlete,exercise,"), "{table}");
    // Mara Quill is not on the roster.
    let said = desk.refused(&table, &[]);
    assert!(said.contains("nobody is called \"Mara Quill\" here"), "{said}");

    let said = desk.said(&table, &["--new-members"]);
    let wanted = "Nothing was written yet. With --write: \
                  1 new athlete, 2 sessions, 11 sets, 2 ratings, 1 rest day.\n";
    assert!(said.ends_with(wanted), "{said}");
    assert!(said.contains("New on the roster: Mara Quill (line 4)"), "{said}");
    assert_eq!(desk.counts(), [0; 4]);
    assert_eq!(desk.members(), 1);

    let said = desk.said(&table, &["--new-members", "--write"]);
    assert!(
        said.contains("line 2     2025-03-02 Ino Vale, Pogo, two legs, 3 sets, a new session, its rating\n")
    );
    assert!(
        said.ends_with("Written: 1 new athlete, 2 sessions, 11 sets, 2 ratings, 1 rest day.\n"),
        "{said}"
    );
    assert_eq!(desk.counts(), [2, 2, 11, 1]);
    assert_eq!(desk.members(), 2);

    for arguments in [&[][..], &["--write"], &["--new-members", "--write"]] {
        let said = desk.said(&table, arguments);
        assert!(said.ends_with("4 lines: 0 taken, 4 already there, 0 refused\nNothing is new.\n"), "{said}");
        assert_eq!(desk.counts(), [2, 2, 11, 1]);
    }
}

#[test]
fn every_column_arrives_in_its_fact() {
    let desk = Desk::of_squad(&["Ino Vale"]);
    let table = "date;start;athlete;exercise;reps;leg;run-in m;load kg;last 10 m s;cue;warm-up;contacts;\
                 purpose;place;surface;shoes;weather;rpe;minutes\n\
                 2025-03-02;7:05;ino  vale;one-leg hops with a run-in;4;right;12,5;2,5;1,25;high;yes;6;\
                 hops;hall two;hall;flats;dry;6,5;75\n";
    desk.said(table, &["--write"]);
    let [set] = desk.sets().try_into().unwrap();
    let exercise =
        catalogue::all().into_iter().find(|item| item.exercise.name == "One-leg hops with a run-in");
    let wanted = Set {
        session: set.session,
        exercise: exercise.unwrap().id,
        reps: 4,
        contacts_per_rep: Some(6),
        leg: Leg::Right,
        box_mm: None,
        approach: Some(Approach::Millimetres(12_500)),
        load_g: Some(2_500),
        last_10_m_ms: Some(1_250),
        cue: Some(Cue::High),
        warm_up: true,
        planned: None,
    };
    assert_eq!(set, wanted);
    let held = desk.held(kind::SESSION);
    let facts: Vec<&Fact> = held.iter().filter_map(Held::fact).collect();
    assert!(facts.contains(&&Fact::Effort(Effort { rpe_tenths: 65, minutes: 75 })), "{facts:?}");
    let session = facts.iter().find_map(|fact| match fact {
        Fact::Session(session) => Some(session),
        _ => None,
    });
    let Session { start_min, purpose, location, surface, shoes, weather, cut_short, .. } = session.unwrap();
    assert_eq!((*start_min, cut_short.as_deref()), (Some(425), None));
    assert_eq!((purpose.as_deref(), location.as_deref()), (Some("hops"), Some("hall two")));
    assert_eq!(surface.map(|surface| surface.word()), Some("hall"));
    assert_eq!((shoes.map(|shoes| shoes.word()), weather.as_deref()), (Some("flats"), Some("dry")));
}

#[test]
fn a_refused_line_keeps_the_whole_table_out() {
    let desk = Desk::of_squad(&["Ino Vale", "Mara Quill"]);
    let table = "date,athlete,exercise,reps,box cm,rest\n\
                 2025-03-02,Ino Vale,Drop jump,5,30,\n\
                 03/02/2025,Ino Vale,Drop jump,5,30,\n\
                 2025-03-02,Ino Vael,Drop jumps,5,30,\n\
                 2025-03-02,Mara Quill,\"Pogo, two legs\",5,30,\n\
                 2025-03-02,Mara Quill,,,,yes\n\
                 2025-03-02,,Drop jump,5,,\n\
                 2199-03-02,Ino Vale,Drop jump,5,,\n";
    for arguments in [&[][..], &["--write"]] {
        let said = desk.refused(table, arguments);
        let lines: Vec<&str> = said.lines().collect();
        assert!(lines[0].ends_with("Ino Vale, Drop jump, 1 set, a new session"), "{said}");
        assert!(lines[1].contains("column 1, `date`: `03/02/2025` is a date of another form"), "{said}");
        assert!(lines[2].contains("nobody is called \"Ino Vael\" here; nearest: \"Ino Vale\""), "{said}");
        assert!(lines[2].contains("no exercise is called \"Drop jumps\"; nearest: \"Drop jump\""), "{said}");
        assert!(
            lines[3].contains("column 5, `box cm`: does not fit the exercise; allowed is left out"),
            "{said}"
        );
        assert!(lines[4].contains("`rest`: but line 5 is training on that day"), "{said}");
        assert!(lines[6].contains("2199-03-02 is yet to come"), "{said}");
        assert!(lines[5].contains("column 2, `athlete`: is needed here"), "{said}");
        assert!(
            said.ends_with("7 lines: 1 taken, 0 already there, 6 refused\nNothing was written.\n"),
            "{said}"
        );
        assert_eq!(desk.counts(), [0; 4]);
    }
}

#[test]
fn what_is_there_already_is_not_taken_twice() {
    let desk = Desk::of_squad(&["Ino Vale"]);
    let head = "date,athlete,start,exercise,sets,reps,purpose,rpe,minutes\n";
    let row = |row: &str| format!("2025-03-02,Ino Vale,{row}\n");
    let morning = row("09:00,Drop jump,3,5,short contacts,,");
    desk.said(&format!("{head}{morning}"), &["--write"]);
    assert_eq!(desk.counts(), [1, 0, 3, 0]);

    // More of the same, and an evening like the morning.
    let table = format!("{head}{}{}", row("09:00,Drop jump,5,5,,,"), row("18:00,Drop jump,3,5,again,6,60"));
    let said = desk.said(&table, &["--write"]);
    assert!(said.contains("Drop jump, 2 sets, 3 already there\n"), "{said}");
    assert!(said.contains("Drop jump, 3 sets, a new session, its rating\n"), "{said}");
    assert_eq!(desk.counts(), [2, 1, 8, 0]);
    assert!(desk.said(&table, &["--write"]).contains("2 already there"));
    // In two rows as well as in one.
    let split = format!("{head}{}{}", row("09:00,Drop jump,2,5,,,"), row("09:00,Drop jump,4,5,,,"));
    let said = desk.said(&split, &[]);
    assert!(said.contains("Drop jump, already there\n"), "{said}");
    assert!(said.contains("Drop jump, 1 set, 3 already there\n"), "{said}");

    // What differs in one number is another set.
    let said = desk.said(&format!("{head}{}", row("09:00,Drop jump,1,6,,,")), &[]);
    assert!(said.contains("Drop jump, 1 set\n"), "{said}");

    // The book keeps what it says of a session, and a rating that is missing is added.
    let said = desk.said(&format!("{head}{}", row("09:00,Drop jump,5,5,long contacts,7,70")), &["--write"]);
    assert!(said.contains("Drop jump, its rating\n"), "{said}");
    assert!(said.contains("`purpose` stays as the book has it: short contacts"), "{said}");
    let said = desk.said(&format!("{head}{}", row("09:00,,,,,8,70")), &["--write"]);
    assert!(said.contains("already there\n") && said.contains("`rpe` stays as the book has it: 7"), "{said}");
    assert_eq!(desk.counts(), [2, 2, 8, 0]);
}

#[test]
fn a_day_with_one_session_needs_no_time() {
    let desk = Desk::of_squad(&["Ino Vale"]);
    let table = "date,athlete,exercise,sets,reps\n2025-03-02,Ino Vale,Drop jump,3,5\n";
    desk.said(table, &["--write"]);
    let timed = "date,athlete,start,exercise,sets,reps\n2025-03-02,Ino Vale,17:30,Drop jump,4,5\n";
    let said = desk.said(timed, &["--write"]);
    assert!(said.contains("1 set, 3 already there"), "{said}");
    assert!(said.contains("`start` stays as the book has it: nothing"), "{said}");
    assert_eq!(desk.counts(), [1, 0, 4, 0]);
}

#[test]
fn rest_days_and_training_do_not_contradict_each_other() {
    let desk = Desk::of_squad(&["Ino Vale"]);
    let rest = "date,athlete,rest\n2025-03-02,Ino Vale,yes\n2025-03-02,ino vale,Yes\n";
    let said = desk.said(rest, &["--write"]);
    assert!(said.contains("1 taken, 1 already there, 0 refused"), "{said}");
    assert_eq!(desk.counts(), [0, 0, 0, 1]);
    let trained =
        "date,athlete,exercise,reps\n2025-03-02,Ino Vale,Drop jump,5\n2025-03-03,Ino Vale,Drop jump,5\n";
    let said = desk.said(trained, &["--write"]);
    assert!(said.contains("the book has that day as a rest day"), "{said}");
    let said = desk.refused("date,athlete,rest\n2025-03-03,Ino Vale,yes\n", &["--write"]);
    assert!(said.contains("a rest day, but the book has training on that day"), "{said}");
}

#[test]
fn names_are_not_guessed() {
    let desk = Desk::of_squad(&["Ino Vale", "Ino Vale", "Mara Quill"]);
    let table = "date,athlete,exercise,reps\n2025-03-02,Ino Vale,Drop jump,5\n";
    assert!(desk.refused(table, &[]).contains("more than one is called \"Ino Vale\" here"));
    let table =
        "date,athlete,exercise,reps\n2025-03-02,Mara Qill,Drop jump,5\n2025-03-03,mara  qill,Drop jump,5\n";
    let said = desk.said(table, &["--new-members"]);
    assert!(said.contains("New on the roster: Mara Qill (line 2; is it one of these? Mara Quill)"), "{said}");
    assert!(said.contains("1 new athlete, 2 sessions"), "{said}");
}

#[test]
fn who_trains_alone_needs_no_column_for_it() {
    let desk = Desk::alone();
    desk.with_book(|book| {
        let member = book.start_member(NOW).unwrap();
        let name = Fact::Card(Card::Name("Ino".to_owned()));
        book.write(Scope::Member(member), &store::Draft::about(Subject::Uuid(member.0), name), NOW).unwrap();
    });
    let table = "date,exercise,reps\n2025-03-02,Drop jump,5\n";
    assert!(desk.refused(table, &[]).contains("`athlete`: is needed here"));
    desk.said(table, &["--member", "me", "--write"]);
    assert_eq!(desk.counts(), [1, 0, 1, 0]);
    // Somebody else cannot be put on a roster from here: the look at it says so, too.
    let table = "date,athlete,exercise,reps\n2025-03-05,,Drop jump,5\n2025-03-05,Mara,Drop jump,5\n";
    for arguments in
        [&["--member", "me", "--new-members"][..], &["--member", "me", "--new-members", "--write"]]
    {
        let output = desk.import(table, arguments);
        assert_eq!(output.status.code(), Some(5), "{}", text(&output.stderr));
        assert_eq!(desk.counts(), [1, 0, 1, 0]);
    }
}

#[test]
fn the_keys_of_the_answer() {
    let desk = Desk::of_squad(&["Ino Vale"]);
    let table = "date,athlete,exercise,sets,reps,box cm,rpe,minutes,note\n\
                 2025-03-02,Ino Vale,drop jump,2,5,30,6,70,well\n\
                 2025-03-02,Ino Vale,Drop jump,2,many,30,,,\n";
    let output = desk.import(table, &["--json"]);
    assert_eq!(output.status.code(), Some(3));
    let read: Value = serde_json::from_slice(&output.stdout).unwrap();
    let file = desk.0.path().join("log.csv").display().to_string();
    let wanted = serde_json::json!({
        "file": file,
        "written": false,
        "lines": [
            {
                "line": 2, "outcome": "taken", "date": "2025-03-02", "athlete": "Ino Vale",
                "exercise": "Drop jump", "sets": 2, "sets_there": 0, "session": true, "rating": true,
                "rest_day": false, "reasons": [], "notes": [],
            },
            {
                "line": 3, "outcome": "refused", "date": null, "athlete": null,
                "exercise": null, "sets": 0, "sets_there": 0, "session": false, "rating": false,
                "rest_day": false, "notes": [],
                "reasons": [
                    { "column": "reps", "number": 5, "text": "column 5, `reps`: `many` is no number" },
                ],
            },
        ],
        "passed_over": [{ "number": 9, "name": "note" }],
        "newcomers": [],
        "counts": {
            "taken": 1, "there": 0, "refused": 1, "newcomers": 0, "sessions": 1, "sets": 2, "ratings": 1,
            "rest_days": 0,
        },
    });
    assert_eq!(read, wanted);
    let sound = table.replace("many", "5");
    assert_eq!(desk.json(&sound, &[])["written"], false);
    let written = desk.json(&sound, &["--write"]);
    assert_eq!((&written["written"], &written["counts"]["sets"]), (&Value::from(true), &Value::from(4)));
    let added = desk.json("date,athlete,rest\n2025-04-01,Ino Vael,yes\n", &["--new-members"]);
    let newcomer = serde_json::json!([{ "name": "Ino Vael", "line": 2, "nearest": ["Ino Vale"] }]);
    assert_eq!(added["newcomers"], newcomer);
}

#[test]
fn what_is_no_table_is_said_and_the_book_is_left_alone() {
    let desk = Desk::of_squad(&["Ino Vale"]);
    for (table, wrong) in [
        ("", "no line that names the columns"),
        ("day,athlete\n", "no column is called `date`"),
        ("date,Reps,reps\n2025-03-02,5,5\n", "two columns are called `reps`"),
        ("date,athlete\n", "no row below"),
    ] {
        let output = desk.import(table, &["--json", "--write"]);
        assert_eq!(output.status.code(), Some(4));
        let read: Value = serde_json::from_slice(&output.stdout).unwrap();
        assert!(read["error"].as_str().unwrap().contains(wrong), "{read}");
    }
    let output = desk.import_file(&desk.0.path().join("nowhere.csv"), &[]);
    assert_eq!(output.status.code(), Some(4));
    let table = "date,athlete,rest\n2025-03-02,In\u{1b}[2Jo,yes\n";
    assert!(!desk.refused(table, &[]).contains('\u{1b}'));
    assert_eq!(desk.counts(), [0; 4]);
}

/// The seeds of the fuzz target `import` are tables, so that it gets past the first checks.
#[test]
fn the_seeds_of_the_fuzz_target_are_read() {
    let desk = Desk::of_squad(&["Ino Vale", "Mara Quill"]);
    let seeds = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/fuzz/seeds/import");
    let mut outcomes = std::collections::BTreeSet::new();
    for seed in std::fs::read_dir(seeds).unwrap() {
        let output = desk.import_file(&seed.unwrap().path(), &["--json"]);
        let read: Value = serde_json::from_slice(&output.stdout).unwrap();
        for line in read["lines"].as_array().unwrap() {
            outcomes.insert(line["outcome"].as_str().unwrap().to_owned());
        }
    }
    assert_eq!(outcomes.into_iter().collect::<Vec<_>>(), ["refused", "taken"]);
}
