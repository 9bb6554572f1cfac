//! What a coach does with devices and members on the command line, with the real
//! program, real folders and real sockets on the loopback.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};

use tempfile::TempDir;

/// Runs a command; gives what it said and its exit code.
fn pitside(book: &Path, args: &[&str]) -> (String, i32) {
    let out =
        Command::new(env!("CARGO_BIN_EXE_pitside")).args(args).arg("--book").arg(book).output().unwrap();
    let text = String::from_utf8([out.stdout, out.stderr].concat()).unwrap();
    (text, out.status.code().unwrap())
}

#[track_caller]
fn done(book: &Path, args: &[&str]) -> String {
    let (said, code) = pitside(book, args);
    assert_eq!(code, 0, "{args:?}: {said}");
    said
}

/// Starts a command and reads its output up to a line that begins like this.
fn until(book: &Path, args: &[&str], begins: &str) -> (Child, Vec<String>) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_pitside"))
        .args(args)
        .arg("--book")
        .arg(book)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut lines = Vec::new();
    for line in BufReader::new(child.stdout.as_mut().unwrap()).lines() {
        lines.push(line.unwrap());
        if lines.last().unwrap().starts_with(begins) {
            break;
        }
    }
    (child, lines)
}

/// Founds a squad; gives its recovery key.
fn found(book: &Path) -> String {
    let args = ["serve", "--found", "Quay jumps", "--page-port", "0", "--listen", "127.0.0.1:0"];
    let (mut serving, lines) = until(book, &args, "End with");
    serving.kill().unwrap();
    serving.wait().unwrap();
    lines.iter().find(|l| l.contains("PITSIDEKEY1:")).unwrap().trim().to_owned()
}

/// Pairs two books: `more` is what the invitation gives.
fn pair(inviting: &Path, guest: &Path, more: &[&str]) {
    let args = [&["pair", "--listen", "127.0.0.1:0"], more].concat();
    let (mut waiting, lines) = until(inviting, &args, "PITSIDE1:");
    let said = done(guest, &["pair", lines.last().unwrap()]);
    assert!(said.starts_with("Paired."), "{said}");
    assert!(waiting.wait().unwrap().success());
}

/// The name of the device whose book this is.
fn this_one(book: &Path) -> String {
    let squad = done(book, &["squad"]);
    let line = squad.lines().find(|l| l.contains("this one")).unwrap();
    line.split_whitespace().next().unwrap().to_owned()
}

#[test]
fn a_lost_laptop_is_followed_removed_and_a_file_does_for_a_sync() {
    let at = TempDir::new().unwrap();
    let [coach, phone, laptop] = ["coach", "phone", "laptop"].map(|n| at.path().join(n));
    let key = found(&coach);
    done(&phone, &["log", "--exercise", "Pogo, two legs", "--sets", "2", "--reps", "10"]);
    pair(&coach, &phone, &[]);
    let lost = this_one(&coach);

    // The printed key, typed in small letters, on a machine that knows nothing.
    let mut recover = Command::new(env!("CARGO_BIN_EXE_pitside"))
        .args(["recover", "--book"])
        .arg(&laptop)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    write!(recover.stdin.take().unwrap(), "{}\n\n", key.to_lowercase()).unwrap();
    assert!(recover.wait().unwrap().success());
    assert!(done(&laptop, &["squad"]).contains("Carrying on squad"));
    pair(&laptop, &phone, &[]);
    assert!(done(&laptop, &["device", "remove", &lost]).starts_with("Removed"));
    let squad = done(&laptop, &["squad"]);
    assert!(squad.lines().any(|l| l.contains(&lost) && l.contains("Removed")), "{squad}");

    // Out of reach: a file, once and again, and only for whom it is.
    done(&phone, &["log", "--exercise", "Pogo, two legs", "--sets", "1", "--reps", "9"]);
    let file = at.path().join("to-laptop");
    let file = file.to_str().unwrap();
    done(&phone, &["file", "write", file, "--to", &this_one(&laptop)]);
    assert!(done(&laptop, &["file", "read", file]).contains("1 entries were new"));
    assert!(done(&laptop, &["file", "read", file]).contains("0 entries were new"));
    let (said, code) = pitside(&coach, &["file", "read", file]);
    assert_eq!(code, 6, "{said}");
    assert!(said.contains("for another device"), "{said}");
    let (said, code) = pitside(&phone, &["file", "write", file, "--to", &this_one(&laptop)]);
    assert_eq!(code, 1, "a file that is there is not written over: {said}");
}

#[test]
fn two_persons_compare_words_where_no_text_is_copied() {
    for same in [true, false] {
        let at = TempDir::new().unwrap();
        let [coach, phone] = ["coach", "phone"].map(|n| at.path().join(n));
        found(&coach);
        let inviting = ["pair", "--listen", "127.0.0.1:0"];
        let (mut waiting, lines) = until(&coach, &inviting, "Without the text");
        let address = lines.last().unwrap().split_whitespace().find(|w| w.contains(':') && w.contains('.'));
        let mut asking = Command::new(env!("CARGO_BIN_EXE_pitside"))
            .args(["pair", "--calling", address.unwrap(), "--book"])
            .arg(&phone)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        writeln!(asking.stdin.take().unwrap(), "y").unwrap();
        writeln!(waiting.stdin.as_mut().unwrap(), "{}", if same { "y" } else { "n" }).unwrap();
        let asked = asking.wait_with_output().unwrap();
        let said = String::from_utf8(asked.stdout).unwrap();
        assert_eq!(asked.status.success(), same, "{said}");
        assert_eq!(said.contains("Paired."), same, "{said}");
        assert!(said.contains("The device there: ") && said.contains("This device: "));
        if same {
            assert!(waiting.wait().unwrap().success());
        } else {
            waiting.kill().unwrap();
            waiting.wait().unwrap();
        }
        assert_eq!(done(&coach, &["squad"]).matches("Last met").count(), usize::from(same));
    }
}

#[test]
fn a_member_leaves_with_everything_that_was_held() {
    let at = TempDir::new().unwrap();
    let [coach, phone] = ["coach", "phone"].map(|n| at.path().join(n));
    found(&coach);
    done(&phone, &["log", "--exercise", "Pogo, two legs", "--sets", "2", "--reps", "10"]);
    done(&phone, &["member", "name", "me", "Ino Vale"]);
    pair(&coach, &phone, &[]);
    let export: serde_json::Value =
        serde_json::from_str(&done(&coach, &["member", "export", "ino vale"])).unwrap();
    assert_eq!(export["names"][0], "Ino Vale");
    let kinds: Vec<_> = export["entries"].as_array().unwrap().iter().map(|e| e["kind"].clone()).collect();
    for kind in ["member", "session", "set"] {
        assert!(kinds.contains(&kind.into()), "{kinds:?}");
    }
    let sets = export["entries"].as_array().unwrap().iter().filter(|e| e["kind"] == "set");
    assert_eq!(sets.clone().count(), 2);
    assert!(sets.clone().all(|s| s["says"]["reps"] == 10 && s["counts"] == true));
    done(&coach, &["member", "leave", "Ino Vale", "--keep-until", "2020-01-31"]);
    assert!(done(&coach, &["squad"]).contains("to be erased since 2020-01-31"));
    let id = export["member"].as_str().unwrap();
    assert_eq!(pitside(&coach, &["member", "erase", id]).1, 2, "only when it is meant");
    assert!(done(&coach, &["member", "erase", id, "--yes"]).contains("is asked"));
    assert_eq!(pitside(&coach, &["member", "export", "Ino Vale"]).1, 2, "nobody of this name");
    for file in std::fs::read_dir(&coach).unwrap() {
        let bytes = std::fs::read(file.unwrap().path()).unwrap();
        assert!(!bytes.windows(8).any(|w| w == b"Ino Vale"));
    }
}

#[test]
fn targets_are_set_replaced_listed_and_taken_back() {
    let folder = TempDir::new().unwrap();
    found(folder.path());
    done(folder.path(), &["log", "--new-member", "Ino"]);
    assert!(done(folder.path(), &["target", "list"]).contains("No target was set"));
    let bounds = ["target", "set", "bounds with a run-in", "160"];
    done(folder.path(), &[&bounds[..], &["--source", "the coach"]].concat());
    let own = [&bounds[..3], &["150", "--member", "Ino", "--strides", "6", "--source", "her best"]].concat();
    assert!(done(folder.path(), &own).contains("6 strides: below 150 ms for Ino (her best)"));
    // The same contact and run-in: it takes the other's place.
    done(folder.path(), &[&bounds[..3], &["165", "--source", "the coach, later"]].concat());
    let list = done(folder.path(), &["target", "list"]);
    assert_eq!(list.lines().count(), 2, "{list}");
    assert!(list.contains("Bounds with a run-in: below 165 ms for the squad (the coach, later)"), "{list}");
    done(folder.path(), &["target", "remove", "bounds with a run-in"]);
    assert_eq!(done(folder.path(), &["target", "list"]).lines().count(), 1);
    let (said, code) = pitside(folder.path(), &["target", "remove", "pogo"]);
    assert_ne!(code, 0, "{said}");
    let (_, code) = pitside(folder.path(), &["target", "set", "pogo", "10", "--source", "x"]);
    assert_eq!(code, 2, "below any contact");
}
