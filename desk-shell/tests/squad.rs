//! The book's commands as a person runs them: the real program, real folders,
//! real sockets on the loopback.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};
use std::sync::mpsc::channel;
use std::time::Duration;

use tempfile::TempDir;

fn pitside(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_pitside")).args(args).output().unwrap()
}

fn said(output: &Output) -> (String, String, Option<i32>) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (text(&output.stdout), text(&output.stderr), output.status.code())
}

fn path(folder: &Path) -> &str {
    folder.to_str().unwrap()
}

/// A running `pitside serve` or `pitside demo`; it ends with the test.
struct Serving {
    child: Child,
    page: String,
    token: String,
    phones: String,
}

impl Drop for Serving {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn serving(args: &[&str]) -> Serving {
    let mut child = Command::new(env!("CARGO_BIN_EXE_pitside"))
        .args(args)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let stdout = child.stdout.take().unwrap();
    let (tell, heard) = channel();
    std::thread::spawn(move || {
        for line in BufReader::new(stdout).lines().map_while(Result::ok) {
            if tell.send(line).is_err() {
                return;
            }
        }
    });
    let (mut page, mut phones) = (String::new(), String::new());
    while phones.is_empty() {
        let line = heard.recv_timeout(Duration::from_secs(120)).expect("it says where it serves");
        if let Some(rest) = line.strip_prefix("The page:") {
            page = rest.trim().trim_start_matches("http://").to_owned();
        }
        if let Some(rest) = line.strip_prefix("Phones:") {
            phones = rest.trim().split(',').next().unwrap().to_owned();
        }
    }
    let (address, token) = page.split_once("/?token=").unwrap();
    Serving { child, page: address.to_owned(), token: token.to_owned(), phones }
}

/// One request, whole; gives the answer, whole.
fn ask(address: &str, request: &str) -> String {
    let mut socket = TcpStream::connect(address).unwrap();
    socket.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
    socket.write_all(request.as_bytes()).unwrap();
    let mut answer = Vec::new();
    let _ = socket.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

impl Serving {
    fn get(&self, path: &str) -> String {
        self.get_with(path, &self.page, &self.cookie())
    }
    fn get_with(&self, path: &str, host: &str, cookie: &str) -> String {
        let head = format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n");
        ask(&self.page, &format!("{head}Cookie: {cookie}\r\n\r\n"))
    }
    fn cookie(&self) -> String {
        format!("pitside-{}={}", self.page.rsplit(':').next().unwrap(), self.token)
    }
    /// The token that forms of this start carry.
    fn form(&self) -> String {
        let page = self.get("/invite");
        let field = page.split("name=\"form\" value=\"").nth(1).unwrap();
        format!("form={}", field.split('"').next().unwrap())
    }
    fn post(&self, path: &str, origin: &str, body: &str) -> String {
        ask(
            &self.page,
            &format!(
                "POST {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\nOrigin: {origin}\r\nCookie: {}\r\n\
                 Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n\r\n{body}",
                self.page,
                self.cookie(),
                body.len()
            ),
        )
    }
}

fn status(answer: &str) -> &str {
    answer.split_whitespace().nth(1).unwrap_or("no answer")
}

#[test]
fn the_demo_does_the_whole_job() {
    let (out, err, code) = said(&pitside(&["demo", "--no-serve"]));
    assert_eq!((code, err.as_str()), (Some(0), ""));
    assert!(out.contains("An invented squad"));
    assert!(out.contains("drawn by a program, not filmed"));
    assert_eq!(out.matches("drawn with 0.1").count(), 4);
    assert!(out.contains("All within their uncertainty"));
    assert!(out.contains("0 received, 0 sent; nothing twice"));
    for name in ["Aune", "Bram", "Cleo", "Dario", "Elva", "Finn", "Greta", "Hana", "Ivo"] {
        assert!(out.contains(name), "{name}");
    }
    let look = out.split("To look at").nth(1).unwrap();
    assert!(
        look.contains("Bram") && look.contains("horizontal series: 110 contacts this week, 51 on average"),
        "{look}"
    );
    assert!(look.contains("Dario") && look.contains("Achilles tendon, right: 4 of 10"), "{look}");
    assert!(look.contains("Cleo") && look.contains("written differently by two people"), "{look}");
    assert!(out.lines().any(|l| l.starts_with("Ivo") && l.contains('~')), "unknown is not low");
}

#[test]
fn the_page_lets_in_only_this_start_of_this_machine() {
    let demo = serving(&["demo"]);
    assert_eq!(status(&demo.get_with("/", &demo.page, "")), "403");
    assert_eq!(status(&demo.get_with("/?token=00", &demo.page, "")), "403");
    assert_eq!(status(&demo.get_with("/", "pitside.example", &demo.cookie())), "421");
    let first = demo.get_with(&format!("/?token={}", demo.token), &demo.page, "");
    assert_eq!(status(&first), "303");
    assert!(first.contains("HttpOnly; SameSite=Strict"), "{first}");

    let board = demo.get("/");
    assert_eq!(status(&board), "200");
    for header in [
        "content-security-policy: default-src 'none'",
        "x-content-type-options: nosniff",
        "cache-control: no-store",
    ] {
        assert!(board.contains(header), "{header}");
    }
    assert!(board.contains("<html lang=\"en\">") && board.contains("<h1>Harbour Lane jumps</h1>"));
    assert!(!board.contains("<script") && !board.contains("https://"), "nothing from elsewhere");
    assert!(board.contains("incomplete"), "unknown days are said");

    // Every athlete's page and one session of each are there; a clash is settled by a form.
    let mut settled = false;
    let ids: std::collections::BTreeSet<&str> =
        board.split("/athlete/").skip(1).filter_map(|s| s.split('"').next()).collect();
    assert_eq!(ids.len(), 9);
    for id in ids {
        let page = demo.get(&format!("/athlete/{id}"));
        assert_eq!(status(&page), "200");
        let session = page.split("/session/").nth(1).and_then(|s| s.split('"').next()).unwrap();
        assert_eq!(status(&demo.get(&format!("/session/{session}"))), "200");
        let Some(choice) = page.split("name=\"choice\" value=\"").nth(1) else { continue };
        let choice = choice.split('"').next().unwrap();
        let form = format!("{}&member={id}&choice={choice}&back=athlete/{id}", demo.form());
        assert_eq!(status(&demo.post("/settle", "http://elsewhere.example", &form)), "403");
        assert_eq!(status(&demo.post("/settle", "null", &form)), "403");
        let origin = format!("http://{}", demo.page);
        assert_eq!(status(&demo.post("/settle", &origin, &form)), "303");
        assert!(!demo.get(&format!("/athlete/{id}")).contains("name=\"choice\""));
        assert_eq!(status(&demo.post("/settle", &origin, &form)), "404", "it is settled");
        settled = true;
        let large = format!("{form}&more={}", "x".repeat(70_000));
        assert_eq!(status(&demo.post("/settle", &origin, &large)), "413");
    }
    assert!(settled);
    for path in ["/nowhere", "/athlete/x", "/athlete/00000000-0000-0000-0000-000000000000", "/session/x"] {
        assert_eq!(status(&demo.get(path)), "404", "{path}");
    }
    assert_eq!(status(&demo.get("/guide")), "200");
}

#[test]
fn a_coach_founds_an_athlete_logs_joins_and_syncs() {
    let folder = TempDir::new().unwrap();
    let (coach, athlete) = (folder.path().join("coach"), folder.path().join("athlete"));
    // The athlete logs before there is any squad.
    let log = |more: &[&str]| {
        let mut args = vec!["log", "--book", path(&athlete)];
        args.extend(more);
        said(&pitside(&args))
    };
    let (out, err, code) = log(&["--exercise", "Pogo, two legs", "--sets", "3", "--reps", "10"]);
    assert_eq!((code, err.as_str()), (Some(0), ""), "{out}");
    assert!(out.contains("3 sets are only on this device"), "{out}");
    assert_eq!(log(&["--rpe", "6", "--minutes", "70"]).2, Some(0));
    let (_, err, code) = log(&["--exercise", "Pogo, two legs", "--reps", "501"]);
    assert_eq!(code, Some(5));
    assert!(err.contains("set: reps is 501, expected a whole number from 1 to 500"), "{err}");
    let (_, err, code) = log(&["--exercise", "cartwheels"]);
    assert_eq!(code, Some(2));
    assert!(err.contains("names no exercise"), "{err}");

    assert_eq!(log(&["--hurts", "achilles right 3"]).2, Some(0));
    assert_eq!(log(&["--hurts", "elbow 3"]).2, Some(2));

    let serve = serving(&[
        "serve",
        "--book",
        path(&coach),
        "--found",
        "Quay jumps",
        "--page-port",
        "0",
        "--listen",
        "127.0.0.1:0",
    ]);
    // A second program on the same book.
    let (_, err, code) = said(&pitside(&["log", "--book", path(&coach), "--exercises"]));
    assert_eq!(code, Some(5));
    assert!(err.contains("another program has this book open") && err.contains("hint:"), "{err}");

    let invited = serve.post("/invite", &format!("http://{}", serve.page), &serve.form());
    assert_eq!(status(&invited), "200");
    let text = invited.split("class=\"pairing\">").nth(1).unwrap().split('<').next().unwrap().to_owned();
    assert!(text.starts_with("PITSIDE1:"));
    let (out, err, code) = said(&pitside(&["pair", &text, "--book", path(&athlete)]));
    assert_eq!((code, err.as_str()), (Some(0), ""), "{out}");
    let board = serve.get("/");
    assert!(board.contains("vertical rebounds") && board.contains(">30<"), "30 contacts arrived");
    // The invitation is used up, and a stranger is told.
    let stranger = folder.path().join("stranger");
    let (_, err, code) = said(&pitside(&["pair", &text, "--book", path(&stranger)]));
    assert_eq!(code, Some(6));
    assert!(err.contains("the invitation is not known, or was used already"), "{err}");
    assert!(board.contains("What hurts is not shared.") && !board.contains("Achilles"));
    assert_eq!(log(&["--share-hurts", "yes"]).2, Some(0));
    // Another set.
    assert_eq!(log(&["--exercise", "Tuck jumps", "--reps", "8"]).2, Some(0));
    let (out, err, code) = said(&pitside(&["sync", &serve.phones, "--book", path(&athlete)]));
    assert_eq!((code, err.as_str()), (Some(0), ""), "{out}");
    let board = serve.get("/");
    assert!(board.contains(">38<") && board.contains("Achilles tendon, right: 3 of 10, today"));
}

#[test]
fn what_is_missing_or_wrong_is_said_with_what_to_do() {
    let folder = TempDir::new().unwrap();
    let nothing = folder.path().join("nothing");
    let (_, err, code) = said(&pitside(&["serve", "--book", path(&nothing)]));
    assert_eq!(code, Some(5));
    assert!(err.contains("there is no book here") && err.contains("--found"), "{err}");
    let (_, err, code) = said(&pitside(&["sync", "--book", path(&nothing)]));
    assert_eq!(code, Some(5), "{err}");
    let (_, err, code) = said(&pitside(&["pair", "hello", "--book", path(&nothing)]));
    assert_eq!(code, Some(6));
    assert!(err.contains("PITSIDE1:"), "{err}");
    std::fs::create_dir(&nothing).unwrap();
    std::fs::write(nothing.join("notes.txt"), "mine").unwrap();
    let (_, err, code) = said(&pitside(&["demo", "--no-serve", "--folder", path(&nothing)]));
    assert_eq!(code, Some(5));
    assert!(err.contains("not an empty folder"), "{err}");
    assert_eq!(std::fs::read(nothing.join("notes.txt")).unwrap(), b"mine");
    let (_, err, code) = said(&pitside(&["serve", "--book", "/proc/pitside", "--found", "X"]));
    assert_eq!(code, Some(5));
    assert!(err.contains("cannot be written to"), "{err}");
}
