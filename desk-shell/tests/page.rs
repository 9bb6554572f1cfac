//! The page as a browser meets it, and as whoever should not be let in meets it:
//! the real program, real sockets of the loopback.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::Duration;

use tempfile::TempDir;

/// An athlete's name that would be markup if it were not escaped.
const NAME: &str = "<script>alert(\"1\")</script>";

fn pitside(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pitside"));
    command.args(args);
    command
}

/// A running `pitside serve` or `pitside demo`; it ends with the test.
struct Page {
    child: Child,
    /// Held open: the program ends where nobody takes what it says.
    _out: BufReader<ChildStdout>,
    /// `127.0.0.1:PORT`
    host: String,
    token: String,
}

impl Drop for Page {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

struct Answer {
    status: u16,
    head: String,
    body: String,
}

impl Answer {
    fn header(&self, name: &str) -> &str {
        let found = self.head.lines().filter_map(|line| line.split_once(": ")).find(|(n, _)| *n == name);
        found.map_or("", |(_, value)| value)
    }
}

/// What stands between two texts, each time.
fn between<'a>(text: &'a str, from: &str, to: &str) -> Vec<&'a str> {
    text.split(from).skip(1).filter_map(|rest| rest.split(to).next()).collect()
}

impl Page {
    fn start(args: &[&str]) -> Self {
        let mut child = pitside(args).stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let mut said = String::new();
        while !said.starts_with("The page:") {
            said.clear();
            assert!(out.read_line(&mut said).unwrap() > 0, "it ended without saying where the page is");
        }
        let (host, token) = said.trim().split_once("http://").unwrap().1.split_once("/?token=").unwrap();
        Self { host: host.to_owned(), token: token.to_owned(), child, _out: out }
    }

    fn of_book(book: &Path, more: &[&str]) -> Self {
        let ports = ["--page-port", "0", "--listen", "127.0.0.1:0"];
        Self::start(&[&["serve", "--book", book.to_str().unwrap()], more, &ports].concat())
    }

    /// A founded squad with one athlete, [`NAME`].
    fn of_a_squad(folder: &TempDir) -> Self {
        let book = folder.path().join("book");
        drop(Self::of_book(&book, &["--found", "Quay jumps"]));
        let log = ["log", "--book", book.to_str().unwrap(), "--new-member", NAME];
        assert!(pitside(&log).stdout(Stdio::null()).status().unwrap().success());
        Self::of_book(&book, &[])
    }

    fn port(&self) -> &str {
        self.host.rsplit(':').next().unwrap()
    }

    fn cookie(&self) -> String {
        format!("pitside-{}={}", self.port(), self.token)
    }

    /// One request with these lines of its head, whole; gives the answer, whole.
    fn ask(&self, request: &str, head: &[String], body: &str) -> Answer {
        let mut socket = TcpStream::connect(&self.host).unwrap();
        socket.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
        let head: String = head.iter().map(|line| format!("{line}\r\n")).collect();
        write!(socket, "{request} HTTP/1.1\r\nConnection: close\r\n{head}\r\n{body}").unwrap();
        let mut answer = Vec::new();
        // A body that is not wanted may end the connection before it is all sent.
        let _ = socket.read_to_end(&mut answer);
        let answer = String::from_utf8(answer).unwrap();
        let (head, body) = answer.split_once("\r\n\r\n").unwrap();
        Answer {
            status: head.split(' ').nth(1).unwrap().parse().unwrap(),
            head: head.to_owned(),
            body: body.to_owned(),
        }
    }

    fn get(&self, path: &str) -> Answer {
        self.ask(
            &format!("GET {path}"),
            &[format!("Host: {}", self.host), format!("Cookie: {}", self.cookie())],
            "",
        )
    }

    fn post(&self, path: &str, origin: Option<&str>, body: &str) -> Answer {
        let mut head = vec![
            format!("Host: {}", self.host),
            format!("Cookie: {}", self.cookie()),
            "Content-Type: application/x-www-form-urlencoded".to_owned(),
            format!("Content-Length: {}", body.len()),
        ];
        head.extend(origin.map(|origin| format!("Origin: {origin}")));
        self.ask(&format!("POST {path}"), &head, body)
    }

    /// A form as a browser sends it from the page itself.
    fn send(&self, path: &str, body: &str) -> Answer {
        self.post(path, Some(&format!("http://{}", self.host)), body)
    }

    /// The token that forms of this start carry.
    fn form(&self) -> String {
        let page = self.get("/invite").body;
        format!("form={}", between(&page, "name=\"form\" value=\"", "\"")[0])
    }
}

#[test]
fn only_the_address_of_this_start_opens_it() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let host = format!("Host: {}", page.host);
    let with = |path: &str, head: &[String]| page.ask(&format!("GET {path}"), head, "");

    let refused = with("/", std::slice::from_ref(&host));
    assert_eq!(refused.status, 403);
    assert!(refused.body.contains("Open the page with the address that pitside printed"), "{}", refused.body);
    assert!(!refused.body.contains("Quay jumps") && !refused.body.contains(&page.token));
    assert_eq!(with("/?token=0123", std::slice::from_ref(&host)).status, 403);
    assert_eq!(with("/", &[host.clone(), "Cookie: pitside-1=0; pitside=0".to_owned()]).status, 403);

    let first = with(&format!("/?token={}", page.token), std::slice::from_ref(&host));
    assert_eq!((first.status, first.header("location")), (303, "/"));
    let cookie = first.header("set-cookie");
    assert_eq!(cookie, format!("{}; HttpOnly; SameSite=Strict; Path=/", page.cookie()));
    assert_eq!(page.get("/").status, 200);
}

#[test]
fn a_name_that_points_here_from_elsewhere_is_refused() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let status = |host: &str| {
        let head = [format!("Host: {host}"), format!("Cookie: {}", page.cookie())];
        page.ask("GET /", &head, "").status
    };
    let port = page.port();
    for own in [format!("127.0.0.1:{port}"), format!("localhost:{port}"), format!("[::1]:{port}")] {
        assert_eq!(status(&own), 200, "{own}");
    }
    for other in [
        format!("rebound.example:{port}"),
        "127.0.0.1".to_owned(),
        "127.0.0.1:1".to_owned(),
        format!("127.0.0.1.example:{port}"),
        format!("0.0.0.0:{port}"),
        String::new(),
    ] {
        assert_eq!(status(&other), 421, "{other:?}");
    }
}

#[test]
fn every_answer_keeps_the_browser_from_everywhere_else() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let stranger = page.ask("GET /", &[format!("Host: {}", page.host)], "");
    let answers = [page.get("/"), page.get("/guide"), page.get("/nowhere"), page.get("/style.css"), stranger];
    for answer in &answers {
        let policy = answer.header("content-security-policy");
        for part in [
            "default-src 'none'",
            "style-src 'self'",
            "img-src 'self' data:",
            "form-action 'self'",
            "base-uri 'none'",
            "frame-ancestors 'none'",
        ] {
            assert!(policy.split("; ").any(|p| p == part), "{part} in {policy}");
        }
        assert!(!policy.contains("unsafe") && !policy.contains("script-src"), "{policy}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff");
        assert_eq!(answer.header("cache-control"), "no-store");
        // `no-referrer` would make browsers send `Origin: null` with our own forms.
        assert_eq!(answer.header("referrer-policy"), "same-origin");
    }
}

/// All there is to open, found by following links from the board.
fn all_pages(page: &Page) -> Vec<(String, Answer)> {
    let mut paths = vec!["/".to_owned()];
    let mut seen: Vec<(String, Answer)> = Vec::new();
    while let Some(path) = paths.pop() {
        if seen.iter().any(|(p, _)| *p == path) {
            continue;
        }
        let answer = page.get(&path);
        let links = between(&answer.body, "<a href=\"", "\"");
        // One session of each athlete stands for all of them.
        let few = links.iter().filter(|l| l.starts_with("/session/")).take(1);
        let others = links.iter().filter(|l| l.starts_with('/') && !l.starts_with("/session/"));
        paths.extend(few.chain(others).map(|l| (*l).to_owned()));
        seen.push((path, answer));
    }
    seen
}

#[test]
fn every_page_of_the_demo_reads_without_scripts_and_from_here_only() {
    let page = Page::start(&["demo"]);
    let pages = all_pages(&page);
    let count = |start: &str| pages.iter().filter(|(path, _)| path.starts_with(start)).count();
    assert_eq!(count("/athlete/"), 9);
    assert!(count("/session/") >= 9 && count("/guide") == 1 && count("/invite") == 1);
    for (path, answer) in &pages {
        assert_eq!(answer.status, 200, "{path}");
        let body = &answer.body;
        assert!(body.contains("<html lang=\"en\">"), "{path}");
        let title = between(body, "<title>", "</title>");
        assert!(title.len() == 1 && title[0].len() > " · Pitside".len(), "{path}: {title:?}");
        assert_eq!(body.matches("<h1>").count(), 1, "{path}");
        assert!(body.contains("An invented squad"), "{path} says that the squad is invented");
        for never in ["<script", "http://", "https://", "style=\"", "javascript:", "@import", "onclick"] {
            // The name of the SVG language is no address that is opened; and one page has
            // a script of its own, without which it says what else there is.
            let text = body.replace("http://www.w3.org/2000/svg", "");
            let text = match path.starts_with("/take") {
                true => text.replacen("<script type=\"module\" src=\"/take/mark.js\">", "", 1),
                false => text,
            };
            assert!(!text.contains(never), "{never} in {path}");
        }
        let policy = answer.header("content-security-policy");
        assert!(policy.starts_with("default-src 'none'"), "{path}: {policy}");
        assert_eq!(policy.contains("script-src"), path.starts_with("/take"), "{path}: {policy}");
        for at in body.match_indices("<svg").map(|(at, _)| &body[at..]) {
            let tag = at.split('>').next().unwrap();
            assert!(tag.contains("aria-hidden") || tag.contains("role=\"img\""), "{path}: {tag}");
        }
        let ids = between(body, " id=\"", "\"");
        let once: std::collections::BTreeSet<&&str> = ids.iter().collect();
        assert_eq!(once.len(), ids.len(), "{path}: an id stands once");
    }
    // The board says what to look at before it says anything else.
    let board = &pages[0].1.body;
    let at = |text: &str| board.find(text).unwrap_or_else(|| panic!("{text}"));
    assert!(at("To look at") < at("Athletes"));
    assert!(at("Achilles tendon, right: 4 of 10") < at("Athletes"), "what rises stands at the top");
    assert!(at("What you may do") < at("Athletes") && board.contains("Where the rule comes from"));
    assert!(board.contains("incomplete"), "unknown days are said");
}

#[test]
fn a_clash_is_settled_by_the_page_s_own_form_only() {
    let page = Page::start(&["demo"]);
    let board = page.get("/").body;
    let (id, screen) = between(&board, "href=\"/athlete/", "\"")
        .into_iter()
        .map(|id| (id, page.get(&format!("/athlete/{id}")).body))
        .find(|(_, body)| body.contains("name=\"choice\""))
        .expect("somebody's fact clashes");
    let values = between(&screen, "name=\"choice\" value=\"", "\"");
    assert_eq!(values.len(), 2);
    let fields = format!("member={id}&choice={}&back=athlete/{id}", values[1]);
    let whole = format!("{}&{fields}", page.form());

    for origin in [None, Some("null"), Some("http://elsewhere.example"), Some("https://127.0.0.1")] {
        assert_eq!(page.post("/settle", origin, &whole).status, 403, "{origin:?}");
    }
    let other_port = format!("http://127.0.0.1:{}", page.port().parse::<u16>().unwrap() ^ 1);
    assert_eq!(page.post("/settle", Some(&other_port), &whole).status, 403);
    for forged in [fields.clone(), format!("form=00&{fields}"), format!("form={}&{fields}", page.token)] {
        assert_eq!(page.send("/settle", &forged).status, 403, "{forged}");
    }
    assert_eq!(page.get(&format!("/settle?{whole}")).status, 405, "a link settles nothing");
    let still = page.get(&format!("/athlete/{id}")).body;
    assert_eq!(between(&still, "name=\"choice\" value=\"", "\""), values, "nothing has changed so far");

    let done = page.send("/settle", &whole);
    assert_eq!((done.status, done.header("location")), (303, format!("/athlete/{id}").as_str()));
    assert!(!page.get(&format!("/athlete/{id}")).body.contains("name=\"choice\""));
    let again = page.send("/settle", &whole);
    assert_eq!(again.status, 404);
    assert!(again.body.contains("<h1>"), "said in a page: {}", again.body);
}

#[test]
fn where_a_form_leads_back_to_is_a_page_of_this_server() {
    let page = Page::start(&["demo"]);
    let board = page.get("/").body;
    let (id, choice) = between(&board, "href=\"/athlete/", "\"")
        .into_iter()
        .find_map(|id| {
            let body = page.get(&format!("/athlete/{id}")).body;
            let choice = (*between(&body, "name=\"choice\" value=\"", "\"").first()?).to_owned();
            Some((id, choice))
        })
        .expect("somebody's fact clashes");
    let form = format!("{}&member={id}&choice={choice}&back=//elsewhere.example/", page.form());
    let done = page.send("/settle", &form);
    assert_eq!((done.status, done.header("location")), (303, "/"));
}

#[test]
fn an_invitation_is_a_code_a_text_and_an_end() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    assert_eq!(page.send("/invite", "").status, 403, "a form without its token");
    let invited = page.send("/invite", &page.form());
    assert_eq!(invited.status, 200);
    let text = between(&invited.body, "class=\"pairing\">", "<")[0];
    assert!(text.starts_with("PITSIDE1:"), "{text}");
    assert!(invited.body.contains("aria-label=\"A QR code of the text below\""));
    assert!(invited.body.contains("It ends at "), "{}", invited.body);
    assert!(invited.body.contains("no phone reaches it"), "it listens for this machine only, and says so");
}

#[test]
fn a_member_leaves_comes_back_and_is_erased_after_being_asked_about_it() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let board = page.get("/").body;
    let id = between(&board, "/athlete/", "\"")[0].to_owned();
    let devices = page.get("/devices").body;
    assert!(devices.contains("(this one)") && devices.contains("action=\"/do/leave\""), "{devices}");
    assert!(!devices.contains("/remove/"), "no device removes itself");

    let leave = format!("member={id}&until=2020-01-31");
    let whole = format!("{}&{leave}", page.form());
    let done = page.send("/do/leave", &whole);
    assert_eq!((done.status, done.header("location")), (303, "/devices?done=leave"));
    let said = page.get("/devices?done=leave").body;
    assert!(said.contains("The member left the squad."));
    assert!(said.contains("action=\"/do/come-back\"") && said.contains("action=\"/do/keep-until\""));
    assert!(!page.get("/devices?done=%3Cb%3E").body.contains("role=\"status\""), "nothing else is said");
    let board = page.get("/").body;
    assert!(board.contains("the data were to be kept until Fri 31 Jan 2020"), "{board}");
    assert!(board.contains(&format!("href=\"/erase/{id}\"")) && !board.contains(&format!("/athlete/{id}")));
    let later = format!("{}&member={id}&until=2190-01-31", page.form());
    assert_eq!(page.send("/do/keep-until", &later).header("location"), "/devices?done=keep-until");
    assert!(!page.get("/").body.contains("the data were to be kept"));
    let back = page.send("/do/come-back", &format!("{}&member={id}", page.form()));
    assert_eq!(back.header("location"), "/devices?done=come-back");
    assert!(page.get("/").body.contains(&format!("/athlete/{id}")));

    let asks = page.get(&format!("/erase/{id}")).body;
    for said in ["What it does not reach", "Backups, exports, printouts", "It cannot be taken back."] {
        assert!(asks.contains(said), "{said}");
    }
    let erased = page.send("/do/erase", &format!("{}&member={id}", page.form()));
    assert_eq!(erased.header("location"), "/devices?done=erase");
    assert!(!page.get("/devices").body.contains("alert("));
}

#[test]
fn the_question_before_an_erasure_names_the_files_that_it_does_not_reach() {
    let folder = TempDir::new().unwrap();
    drop(Page::of_a_squad(&folder));
    let (book, backup) = (folder.path().join("book"), folder.path().join("march.backup"));
    let book = book.to_str().unwrap();
    let made = ["book", "back-up", backup.to_str().unwrap(), "--book", book];
    assert!(pitside(&made).stdout(Stdio::null()).status().unwrap().success());
    let page = Page::of_book(Path::new(book), &[]);
    let id = between(&page.get("/").body, "/athlete/", "\"")[0].to_owned();
    let asks = page.get(&format!("/erase/{id}")).body;
    let backup = backup.canonicalize().unwrap();
    assert!(asks.contains(backup.to_str().unwrap()), "{asks}");
    assert!(asks.contains("Backup of today at "), "{asks}");
}

#[test]
fn a_damaged_book_is_found_in_the_background_and_said_on_every_page() {
    let folder = TempDir::new().unwrap();
    drop(Page::of_a_squad(&folder));
    let book = folder.path().join("book");
    let page = Page::of_book(&book, &[]);
    assert!(!page.get("/guide").body.contains("book is damaged"));
    drop(page);
    let file = rusqlite::Connection::open(book.join("book.sqlite")).unwrap();
    assert!(file.execute("UPDATE entries SET salt = zeroblob(16) WHERE salt IS NOT NULL", []).unwrap() > 0);
    drop(file);
    let page = Page::of_book(&book, &[]);
    let said = || page.get("/guide").body.contains("book is damaged");
    // It looks meanwhile: asked until it is there, and not for ever.
    assert!((0..600).any(|_| {
        std::thread::sleep(Duration::from_millis(50));
        said()
    }));
    assert!(page.get("/devices").body.contains("pitside book rescue"));
}

/// The path and the fields of every form of a page, but for the token.
fn forms(body: &str) -> Vec<(String, String)> {
    let mut forms = Vec::new();
    for form in between(body, "<form", "</form>") {
        let fields: Vec<String> = between(form, "type=\"hidden\" name=\"", "\">")
            .iter()
            .filter_map(|field| field.split_once("\" value=\""))
            .filter(|(name, _)| *name != "form")
            .map(|(name, value)| format!("{name}={value}"))
            .collect();
        forms.push((between(form, "action=\"", "\"")[0].to_owned(), fields.join("&")));
    }
    forms
}

#[test]
fn no_action_is_done_for_whoever_does_not_send_the_page_s_own_form() {
    let page = Page::start(&["demo"]);
    let devices = page.get("/devices").body;
    let removed = between(&devices, "href=\"/remove/", "\"")[0].to_owned();
    let member = between(&devices, "href=\"/erase/", "\"")[0].to_owned();
    let mut all = forms(&devices);
    for asks in [format!("/remove/{removed}"), format!("/erase/{member}"), format!("/give/{removed}")] {
        all.extend(forms(&page.get(&asks).body));
    }
    for (action, fields) in [
        ("take-in", format!("device={removed}")),
        ("readmit", format!("device={removed}")),
        ("two-persons", format!("member={member}")),
        ("come-back", format!("member={member}")),
        ("keep-until", format!("member={member}&until=2190-01-31")),
        ("share", format!("member={member}&to=coach&given=yes")),
        ("agree", format!("member={member}")),
        ("keep", format!("member={member}")),
    ] {
        all.push((format!("/do/{action}"), fields));
    }
    let mut actions: Vec<&str> = all.iter().map(|(action, _)| action.as_str()).collect();
    actions.sort_unstable();
    actions.dedup();
    assert_eq!(actions.len(), 13, "{actions:?}");
    let (form, own) = (page.form(), format!("http://{}", page.host));
    for (action, fields) in &all {
        let whole = format!("{form}&{fields}");
        for forged in [fields.clone(), format!("form=00&{fields}"), format!("{form}0&{fields}")] {
            assert_eq!(page.send(action, &forged).status, 403, "{action} {forged}");
        }
        for origin in ["http://elsewhere.example", "null", "http://127.0.0.1:1"] {
            assert_eq!(page.post(action, Some(origin), &whole).status, 403, "{action} from {origin}");
        }
        let head = [
            format!("Host: {}", page.host),
            format!("Origin: {own}"),
            "Content-Type: application/x-www-form-urlencoded".to_owned(),
            format!("Content-Length: {}", whole.len()),
        ];
        let without = page.ask(&format!("POST {action}"), &head, &whole);
        assert_eq!(without.status, 403, "{action} without the cookie of this start");
        let wrong = [&head[..], &[format!("Cookie: pitside-{}={}", page.port(), "0".repeat(32))]].concat();
        assert_eq!(page.ask(&format!("POST {action}"), &wrong, &whole).status, 403, "{action}");
        assert_eq!(page.get(&format!("{action}?{whole}")).status, 405, "{action} by GET");
    }
    // The forms' tokens are the same at every drawing, so the page tells what changed.
    assert_eq!(page.get("/devices").body, devices, "nothing has changed");
}

#[test]
fn a_device_is_removed_and_taken_back_on_the_page() {
    let page = Page::start(&["demo"]);
    let devices = page.get("/devices").body;
    let device = between(&devices, "href=\"/remove/", "\"")[0].to_owned();
    let asks = page.get(&format!("/remove/{device}")).body;
    assert!(
        asks.contains("The device keeps what it has.") && asks.contains("You can take the removal back.")
    );
    let done = page.send("/do/remove", &format!("{}&device={device}", page.form()));
    assert_eq!((done.status, done.header("location")), (303, "/devices?done=remove"));
    let devices = page.get("/devices?done=remove").body;
    assert!(devices.contains("role=\"status\"") && devices.contains("Removed from the squad."));
    assert!(!devices.contains(&format!("href=\"/remove/{device}\"")));
    let again = page.send("/do/remove", &format!("{}&device={device}", page.form()));
    assert_eq!(again.status, 404, "a form sent twice removes once");
    let done = page.send("/do/readmit", &format!("{}&device={device}", page.form()));
    assert_eq!(done.header("location"), "/devices?done=readmit");
    assert!(page.get("/devices").body.contains(&format!("href=\"/remove/{device}\"")));

    let asks = page.get(&format!("/give/{device}")).body;
    let member = between(&asks, "name=\"member\" value=\"", "\"")[0].to_owned();
    let given = format!("{}&device={device}&role=guardian&member={member}&consent=yes", page.form());
    assert_eq!(page.send("/do/give", &given).header("location"), "/devices?done=give");
    let devices = page.get("/devices").body;
    assert!(
        devices.contains("Guardian of ") && devices.contains("Says who sees what hurts of "),
        "{devices}"
    );
}

#[test]
fn the_screens_beside_the_devices_are_linked_from_where_a_person_looks() {
    let page = Page::start(&["demo"]);
    let board = page.get("/").body;
    assert!(board.contains("href=\"/devices\""));
    let devices = page.get("/devices").body;
    assert!(devices.contains("href=\"/aside\""));
    let id = between(&board, "/athlete/", "\"")[0];
    let sharing = format!("href=\"/sharing/{id}\"");
    assert!(devices.contains(&sharing) && page.get(&format!("/athlete/{id}")).body.contains(&sharing));
    let sharing = page.get(&format!("/sharing/{id}")).body;
    assert!(
        sharing.contains("Only the member&#39;s own devices") || sharing.contains("Only the member's own")
    );
    assert!(!sharing.contains("action=\"/do/share\""), "the coach does not share it with himself");
    let forced = format!("{}&member={id}&to=coach&given=yes", page.form());
    assert_eq!(page.send("/do/share", &forced).status, 400);
    assert_eq!(page.get(&format!("/sharing/{id}")).body, sharing);
}

#[test]
fn the_member_of_a_device_shares_on_its_page() {
    let folder = TempDir::new().unwrap();
    let book = folder.path().join("phone");
    let log = ["log", "--book", book.to_str().unwrap(), "--hurts", "achilles right 3"];
    assert!(pitside(&log).stdout(Stdio::null()).status().unwrap().success());
    let page = Page::of_book(&book, &[]);
    let devices = page.get("/devices").body;
    let sharing = format!("/sharing/{}", between(&devices, "href=\"/sharing/", "\"")[0]);
    let before = page.get(&sharing).body;
    assert_eq!((before.matches("Not shared").count() / 2, before.matches("name=\"to\"").count()), (3, 3));
    let first = forms(&before).remove(0);
    let done = page.send(&first.0, &format!("{}&{}", page.form(), first.1));
    assert_eq!(done.header("location"), format!("{sharing}?done=share"));
    let after = page.get(&format!("{sharing}?done=share")).body;
    assert!(after.contains("Stop sharing") && after.contains("role=\"status\""), "{after}");
    assert!(after.contains("until it is erased"));
}

#[test]
fn what_is_wrong_with_an_action_is_said_in_a_page() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let board = page.get("/").body;
    let id = between(&board, "/athlete/", "\"")[0];
    let form = page.form();
    let none = "00".repeat(32);
    for (status, path, fields) in [
        (404, "/do/dance", String::new()),
        (404, "/do/remove", format!("device={none}")),
        (404, "/do/take-in", format!("device={none}")),
        (404, "/do/readmit", format!("device={none}")),
        (404, "/do/give", format!("device={none}&role=athlete&member={id}")),
        (404, "/do/erase", "member=x".to_owned()),
        (404, "/do/come-back", "member=x".to_owned()),
        (404, "/do/agree", format!("member={id}")),
        (404, "/do/keep", format!("member={id}")),
        (400, "/do/leave", format!("member={id}&until=soon")),
        (400, "/do/same", format!("member={id}&other={id}")),
        (400, "/do/share", format!("member={id}&to=everybody&given=yes")),
    ] {
        let answer = page.send(path, &format!("{form}&{fields}"));
        assert_eq!(answer.status, status, "{path} {fields}: {}", answer.body);
        assert_eq!(answer.body.matches("<h1>").count(), 1);
    }
    for asks in [format!("/remove/{none}"), format!("/give/{none}"), "/erase/x".into(), "/sharing/x".into()] {
        assert_eq!(page.get(&asks).status, 404, "{asks}");
    }
    assert!(page.get("/aside").body.contains("Every entry held here counts."));
    assert!(page.get("/wishes").body.contains("Nothing is asked of this device."));
}

#[test]
fn a_name_is_text_wherever_it_stands() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let escaped = "&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;";
    let board = page.get("/").body;
    assert!(board.contains(&format!(">{escaped}</a>")), "{board}");
    let athlete = page.get(&format!("/athlete/{}", between(&board, "/athlete/", "\"")[0])).body;
    assert!(athlete.contains(&format!("<h1>{escaped}</h1>")), "{athlete}");
    for body in [board, athlete] {
        assert!(!body.contains("<script") && !body.contains("alert(\"1\")"));
    }
}

#[test]
fn what_cannot_be_answered_is_said_in_a_page() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let large = format!("{}&more={}", page.form(), "x".repeat(65 * 1024));
    let known = page.get("/").body;
    let known = between(&known, "/athlete/", "\"")[0];
    let answers = [
        (404, page.get("/nowhere")),
        (404, page.get("/athlete/x")),
        (404, page.get("/athlete/00000000-0000-0000-0000-000000000000")),
        (404, page.get("/session/x")),
        (404, page.get(&format!("/session/{}-1", "0".repeat(64)))),
        (404, page.get("/style.css/more")),
        (400, page.get("/athlete/%ff")),
        (400, page.get(&format!("/athlete/{known}?before=yesterday"))),
        (405, page.send("/guide", "")),
        (413, page.send("/settle", &large)),
        (413, page.send("/invite", &large)),
        (422, page.send("/settle", &page.form())),
    ];
    for (at, (status, answer)) in answers.iter().enumerate() {
        assert_eq!(answer.status, *status, "answer {at}: {}", answer.body);
        assert_eq!(answer.body.matches("<h1>").count(), 1, "answer {at}: {}", answer.body);
        assert!(answer.body.contains("<html lang=\"en\">") && answer.body.contains("Back to the board"));
    }
    assert_eq!(page.get("/").status, 200, "it goes on");
}

#[test]
fn a_target_is_set_listed_and_taken_back_on_the_page() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let listed = page.get("/targets").body;
    assert!(listed.contains("published, nobody here has set one"), "{listed}");
    let exercise = between(&listed, "<option value=\"", "</option>")
        .into_iter()
        .find_map(|option| option.strip_suffix("\">Bounds with a run-in"))
        .unwrap();
    let form = page.form();
    let set = |ms: &str| {
        let fields = "member=&contact=2&strides=&source=the%20coach";
        page.send("/do/set-target", &format!("{form}&exercise={exercise}&ms={ms}&{fields}"))
    };
    assert_eq!(set("160").status, 303);
    let listed = page.get("/targets").body;
    assert!(listed.contains("Bounds with a run-in, contact 2: below 160 ms"), "{listed}");
    // Again for the same contact: in its place.
    assert_eq!(set("150").status, 303);
    let listed = page.get("/targets").body;
    assert!(listed.contains("below 150 ms") && !listed.contains("below 160 ms"), "{listed}");
    for refused in ["10", "fast", ""] {
        assert_eq!(set(refused).status, 400, "{refused:?}");
    }
    let id = between(&listed, "name=\"target\" value=\"", "\"")[0].to_owned();
    assert_eq!(page.send("/do/remove-target", &format!("{form}&target={id}")).status, 303);
    assert!(!page.get("/targets").body.contains("below 150 ms"));
    assert_eq!(page.send("/do/remove-target", &format!("{form}&target={id}")).status, 404);
}

#[test]
fn rules_tests_and_limits_are_written_on_the_page() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let board = page.get("/").body;
    let member = between(&board, "/athlete/", "\"")[0].to_owned();
    let athlete = page.get(&format!("/athlete/{member}")).body;
    let (body, rules) = (format!("/body?member={member}"), format!("/rules?member={member}"));
    assert!(athlete.contains(&body) && athlete.contains(&rules), "the athlete's page leads there");
    let form = format!("{}&member={member}", page.form());
    let write = |action: &str, fields: &str, to: &str| {
        let answer = page.send(&format!("/do/{action}"), &format!("{form}&{fields}"));
        assert_eq!((answer.status, answer.header("location")), (303, to), "{action}: {}", answer.body);
    };
    write("save-test", "test=squat&value=92%2C5&side=&day=2026-02-27&note=", &body);
    write("save-height", "cm=166.5&day=2026-02-27", &body);
    write(
        "save-limit",
        "no_one_leg=left&max_box_cm=&from=2026-02-27&until=2199-01-31&said_by=coach&note=",
        &body,
    );
    write("save-advice", "part=shin&side=left&up_to=2&from=2026-02-27&until=2026-03-27&note=as+told", &body);
    let shown = page.get(&body);
    assert_eq!(shown.status, 200);
    for words in
        ["92.5 kg", "166.5 cm tall", "no one-leg contacts on the left", "up to 2 of 10", "over, or not yet"]
    {
        assert!(shown.body.contains(words), "{words}");
    }
    let entry = between(&shown.body, "name=\"entry\" value=\"", "\"")[0].to_owned();
    write("end-body", &format!("entry={entry}"), &body);

    write("set-rule", "rule=guardian-consent&off=yes&line=&until=&reason=signed+by+a+guardian", &rules);
    assert!(page.get(&rules).body.contains("signed by a guardian"));
    write("rule-back", "rule=guardian-consent", &rules);
    assert!(!page.get(&rules).body.contains("signed by a guardian"));
    let squad = page.get("/rules").body;
    assert!(squad.contains("First boxes to drop from, up to") && squad.contains("a line of ours, no source"));

    let refused = |action: &str, fields: &str, why: &str| {
        let answer = page.send(&format!("/do/{action}"), &format!("{form}&{fields}"));
        assert!(answer.status == 400 && answer.body.contains(why), "{action}: {}", answer.status);
    };
    refused("save-test", "test=squat&value=2&day=", "5 to 500 kg");
    refused("save-advice", "part=shin&side=&up_to=9&until=2199-01-01&note=x", "from 1 to 5");
    refused("set-rule", "rule=first-box&line=20&reason=", "Reason is left out");
    assert_eq!(page.get("/rules?member=nobody").status, 404);
    assert_eq!(page.get("/check-in").status, 404, "this device serves nobody");
    let answer = page.send("/do/set-rule", &format!("{form}&rule=none&line=1&reason=x"));
    assert_eq!(answer.status, 404);
    // Who is hurt writes it on an own device: a coach's desk may not.
    refused("check-in", "part=knee&side=left&score=2&sign=swelling&sleep=", "may not");
}

#[test]
fn whom_this_device_serves_is_asked_for_signs_and_offered_to_end() {
    let folder = TempDir::new().unwrap();
    let book = folder.path().join("book");
    let rest = ["log", "--book", book.to_str().unwrap(), "--rest"];
    assert!(pitside(&rest).stdout(Stdio::null()).status().unwrap().success());
    let page = Page::of_book(&book, &["--found", "Quay jumps"]);
    let board = page.get("/").body;
    let member = between(&board, "/athlete/", "\"")[0].to_owned();
    assert!(page.get(&format!("/athlete/{member}")).body.contains("href=\"/check-in\""));
    let asked = page.get("/check-in").body;
    assert!(asked.contains("Do you limp?") && !asked.contains("end the session here"));
    let form = page.form();
    let told = "part=shin&side=left&score=2&part=&side=&score=0&sign=limp&sign=night&sleep=450";
    let answer = page.send("/do/check-in", &format!("{form}&member=&{told}"));
    assert_eq!(
        (answer.status, answer.header("location")),
        (303, format!("/check-in?member={member}").as_str())
    );
    let shown = page.get(answer.header("location")).body;
    for words in ["end the session here", "Stop: ", ": limping.", "licensed practitioner", "value=\"450\""] {
        assert!(shown.contains(words), "{words}");
    }
    assert!(page.get("/").body.contains("limping"), "the board says it too");
    let odd = page.send("/do/check-in", &format!("{form}&member=&part=shin&side=&score=x"));
    assert_eq!(odd.status, 400);
}

/// The value of a text field of a page.
fn typed<'a>(body: &'a str, name: &str) -> &'a str {
    let from = format!("name=\"{name}\" value=\"");
    let found = between(body, &from, "\"");
    assert!(!found.is_empty(), "no field {name}: {body}");
    found[0]
}

#[test]
fn attempts_are_written_down_one_after_the_other_and_changed() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let board = page.get("/").body;
    let member = between(&board, "/athlete/", "\"")[0].to_owned();
    let athlete = page.get(&format!("/athlete/{member}")).body;
    assert!(athlete.contains(&format!("href=\"/jumps?member={member}\"")), "{athlete}");
    let empty = page.get(&format!("/jumps?member={member}")).body;
    assert!(empty.contains("No attempt at the long or triple jump is written down."), "{empty}");
    assert!(empty.contains(&format!("href=\"/jumps/day?member={member}\"")), "{empty}");
    // Before the event is chosen the page asks for it, and for nothing else.
    let open = page.get(&format!("/jumps/day?member={member}")).body;
    assert!(open.contains("name=\"event\"") && !open.contains("name=\"distance\""), "{open}");

    let place = "Quay%20field%20%26%20hall";
    let set_up = format!(
        "member={member}&event=long-jump&day=2026-06-13&place={place}&kind=competition&wind_rule=from-mark"
    );
    let ready = page.get(&format!("/jumps/day?{set_up}"));
    assert_eq!(ready.status, 200);
    assert_eq!((typed(&ready.body, "attempt"), typed(&ready.body, "start")), ("1", ""));
    let form = page.form();
    let send = |row: &str| page.send("/jumps/day", &format!("{form}&{set_up}&{row}"));
    let saved = send("attempt=1&distance=6.42&wind=1.3&toe=-4&start=34.15&run_up=18");
    assert_eq!(saved.status, 303, "{}", saved.body);
    let back = saved.header("location").to_owned();
    // What was chosen once stays in the address, whatever stands in it.
    assert!(back.starts_with("/jumps/day?") && back.contains("place=Quay+field+%26+hall"), "{back}");
    let next = page.get(&back).body;
    assert!(next.contains("Written down: long jump, attempt 1; 6.42 m; wind +1.3 m/s"), "{next}");
    assert_eq!((typed(&next, "attempt"), typed(&next, "distance")), ("2", ""));
    assert_eq!((typed(&next, "start"), typed(&next, "run_up")), ("34.15", "18"));

    // What is wrong is said at its field, and what was typed stands there still.
    let wrong = send("attempt=2&distance=6.38&wind=calm&toe=4&start=34.15&run_up=18");
    assert_eq!(wrong.status, 400);
    for said in ["id=\"wind-wrong\"", "id=\"toe-wrong\"", "Behind the line it has a minus"] {
        assert!(wrong.body.contains(said), "{said}: {}", wrong.body);
    }
    let kept = ["distance", "wind", "toe", "start", "run_up", "place"].map(|name| typed(&wrong.body, name));
    assert_eq!(kept, ["6.38", "calm", "4", "34.15", "18", "Quay field &amp; hall"]);
    assert_eq!(send("attempt=2&distance=x&wind=0.4&toe=4&start=34.15&run_up=18").status, 303);
    let far = send("attempt=3&distance=%3Cb%3E&wind=&toe=&start=&run_up=");
    assert!(far.status == 400 && !far.body.contains("<b>"), "{}", far.body);

    let jumps = page.get(&format!("/jumps?member={member}&fouls=5")).body;
    assert!(
        jumps.contains("long jump, run-up of 18 strides") && jumps.contains("2 attempts, 1 foul"),
        "{jumps}"
    );
    assert!(jumps.contains("toe 4 cm over the line") && jumps.contains("ours, no source"), "{jumps}");
    let id = between(&jumps, "/jumps/day?editing=", "\"")[0].to_owned();
    let change = page.get(&format!("/jumps/day?editing={id}")).body;
    assert_eq!((typed(&change, "distance"), typed(&change, "toe")), ("6.42", "\u{2212}4"));
    assert!(change.contains("Take this attempt back"), "{change}");
    let corrected =
        format!("{form}&editing={id}&{set_up}&attempt=1&distance=6.40&wind=1.3&toe=-4&start=34.15&run_up=18");
    assert_eq!(page.send("/jumps/day", &corrected).status, 303);
    let jumps = page.get(&format!("/jumps?member={member}")).body;
    assert!(jumps.contains("6.40 m") && !jumps.contains("6.42 m"), "{jumps}");
    // Only for whoever sends the page's own form.
    for path in ["/jumps/day", "/jumps/withdraw"] {
        let forged = format!("form=00&editing={id}&{set_up}");
        assert_eq!(page.send(path, &forged).status, 403, "{path}");
        let elsewhere = page.post(path, Some("http://elsewhere.example"), &format!("{form}&editing={id}"));
        assert_eq!(elsewhere.status, 403, "{path}");
    }
    let gone = page.send("/jumps/withdraw", &format!("{form}&editing={id}"));
    assert_eq!(gone.status, 303);
    assert!(page.get(gone.header("location")).body.contains("Taken back."));
    assert!(!page.get(&format!("/jumps?member={member}")).body.contains("6.40 m"));
    assert_eq!(page.get(&format!("/jumps/day?editing={id}")).status, 404);
    assert_eq!(page.get("/jumps?member=nobody").status, 404);
}

#[test]
fn another_athlete_of_the_competition_is_one_press_away() {
    let page = Page::start(&["demo"]);
    let board = page.get("/").body;
    let members: Vec<String> =
        between(&board, "href=\"/athlete/", "\"").iter().map(|id| (*id).to_owned()).collect();
    let (one, other) = (&members[0], members.iter().find(|id| *id != &members[0]).unwrap());
    let set_up =
        format!("event=triple-jump&day=2026-06-13&place=Quay&kind=competition&athlete={one}&athlete={other}");
    let body = page.get(&format!("/jumps/day?member={one}&{set_up}")).body;
    let switch = between(&body, "<form class=\"switch\"", "</form>")[0];
    assert_eq!(switch.matches("<button").count(), 2, "{switch}");
    assert!(switch.contains(&format!("name=\"member\" value=\"{other}\"")), "{switch}");
    assert!(
        switch.contains("name=\"place\" value=\"Quay\"")
            && switch.contains("name=\"event\" value=\"triple-jump\"")
    );
    assert!(!switch.contains("type=\"hidden\" name=\"member\""), "{switch}");
    // A triple jump is asked for its phases.
    assert!(
        body.contains("name=\"hop\"") && body.contains("name=\"step\"") && body.contains("name=\"jump\"")
    );
}

fn attribute(tag: &str, name: &str) -> String {
    let found = between(tag, &format!(" {name}=\""), "\"").first().map_or("", |value| value);
    found.replace("&quot;", "\"").replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
}

/// The fields of the form that goes to `action`, as a browser would send them untouched.
fn filled(body: &str, action: &str) -> Vec<(String, String)> {
    let form = between(body, &format!("action=\"{action}\">"), "</form>")[0];
    let mut fields: Vec<(String, String)> = Vec::new();
    let mut first = false;
    for tag in form.split('<') {
        let tag = tag.split('>').next().unwrap();
        if tag.starts_with("input ") {
            fields.push((attribute(tag, "name"), attribute(tag, "value")));
        } else if tag.starts_with("select ") {
            fields.push((attribute(tag, "name"), String::new()));
            first = true;
        } else if tag.starts_with("option ") {
            if first || tag.ends_with(" selected") {
                fields.last_mut().unwrap().1 = attribute(tag, "value");
            }
            first = false;
        }
    }
    fields
}

fn encoded(fields: &[(String, String)]) -> String {
    let encode = |text: &str| -> String {
        text.bytes()
            .map(|b| if b.is_ascii_alphanumeric() { char::from(b).to_string() } else { format!("%{b:02X}") })
            .collect()
    };
    let pairs: Vec<String> = fields.iter().map(|(n, v)| format!("{}={}", encode(n), encode(v))).collect();
    pairs.join("&")
}

#[test]
fn an_exercise_is_found_copied_and_changed_on_the_page() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let listed = page.get("/exercises?name=Bounds%20with&by=like-approach&event=sprint").body;
    assert!(
        listed.contains("approach speed, beside the sprint") && listed.contains(">1 exercise<"),
        "{listed}"
    );
    let path = format!("/exercise/{}", between(&listed, "href=\"/exercise/", "\"")[0]);
    let one = page.get(&path).body;
    assert!(one.contains("v = v_down·sin α + v_h·cos α") && one.contains("no uncertainty known"), "{one}");

    let mut fields = filled(&page.get(&format!("{path}/copy")).body, "/do/save-exercise");
    let set = |fields: &mut Vec<(String, String)>, name: &str, value: &str| {
        fields.iter_mut().find(|(own, _)| own == name).unwrap().1 = value.to_owned();
    };
    assert_eq!(page.send("/do/save-exercise", &encoded(&fields)).status, 400, "it has no name");
    set(&mut fields, "name", "Bounds <up> & over");
    set(&mut fields, "contact-ms", "162.5");
    let answer = page.send("/do/save-exercise", &encoded(&fields));
    assert_eq!(answer.status, 303, "{}", answer.body);
    let added = answer.header("location").to_owned();
    let own = page.get(&added).body;
    assert!(own.contains("<h1>Bounds &lt;up&gt; &amp; over</h1>"), "{own}");
    assert!(own.contains("copied from Bounds with a run-in"), "{own}");

    // Changed, and the rest as it stood.
    let mut fields = filled(&page.get(&format!("{added}/change")).body, "/do/save-exercise");
    set(&mut fields, "contacts", "4");
    set(&mut fields, "surface", "grass");
    let answer = page.send("/do/save-exercise", &encoded(&fields));
    assert_eq!((answer.status, answer.header("location")), (303, added.as_str()), "{}", answer.body);
    let own = page.get(&added).body;
    assert!(own.contains("grass"), "{own}");
    set(&mut fields, "contact-ms", "soon");
    assert_eq!(page.send("/do/save-exercise", &encoded(&fields)).status, 400);
    assert_eq!(page.get("/exercise/nothing").status, 404);
    // A squad that has them all takes in none, and says nothing of it.
    assert!(!page.get("/exercises").body.contains("take-in-exercises"));
    assert_eq!(page.send("/do/take-in-exercises", &page.form()).status, 303);
}

#[test]
fn the_exercises_are_listed_by_kind_and_by_a_word_of_their_name() {
    let folder = TempDir::new().unwrap();
    let list = |word: &[&str]| {
        let book = folder.path().join("book");
        let output = pitside(&[&["log", "--book", book.to_str().unwrap(), "--exercises"], word].concat());
        let output = { output }.output().unwrap();
        (String::from_utf8(output.stdout).unwrap(), output.status.code())
    };
    let (all, code) = list(&[]);
    assert_eq!(code, Some(0));
    let headings: Vec<&str> = all.lines().filter(|l| !l.is_empty() && !l.starts_with(' ')).collect();
    assert_eq!(headings.len(), 7, "{headings:?}");
    let (hurdles, _) = list(&["HURDLE"]);
    let names: Vec<&str> = hurdles.lines().filter(|l| l.starts_with("  ") && !l.starts_with("   ")).collect();
    assert!(names.len() > 5 && names.iter().all(|name| name.to_lowercase().contains("hurdle")), "{hurdles}");
    assert_eq!(list(&["no such word"]).1, Some(2));
}

#[test]
fn a_card_is_filled_in_on_the_page() {
    let folder = TempDir::new().unwrap();
    let page = Page::of_a_squad(&folder);
    let member = between(&page.get("/").body, "/athlete/", "\"")[0].to_owned();
    let athlete = page.get(&format!("/athlete/{member}")).body;
    assert!(athlete.contains(&format!("href=\"/card?member={member}\"")), "{athlete}");
    let shown = page.get(&format!("/card?member={member}")).body;
    assert!(shown.contains("an unknown age counts as young") && shown.contains("name=\"top_speed_m_s\""));
    let form = format!("{}&member={member}", page.form());
    let filled = "name=&born=2007-03-09&level=advanced&mass_kg=58%2C4&stride_m=2.1";
    let answer = page.send("/do/save-card", &format!("{form}&{filled}"));
    assert_eq!((answer.status, answer.header("location")), (303, format!("/athlete/{member}").as_str()));
    let athlete = page.get(&format!("/athlete/{member}")).body;
    for words in ["advanced", "58.4 kg", "2.10 m"] {
        assert!(athlete.contains(words), "{words}");
    }
    let answer = page.send("/do/save-card", &format!("{form}&mass_kg=heavy"));
    assert!(answer.status == 400 && answer.body.contains("three decimals"), "{}", answer.status);
    assert_eq!(page.get("/card?member=nobody").status, 404);
}

#[test]
fn a_session_is_planned_for_two_changed_and_withdrawn() {
    let page = Page::start(&["demo"]);
    let form = page.form();
    let named = |name: &str| {
        let body = page.get("/plan").body;
        let at = body.find(&format!(">{name}</label>")).or_else(|| body.find(&format!("> {name}</label>")));
        let before = &body[..at.unwrap_or_else(|| panic!("{name}: {body}"))];
        let value = &before[before.rfind("value=\"").unwrap() + 7..];
        value[..value.find('"').unwrap()].to_owned()
    };
    let (elva, greta) = (named("Elva"), named("Greta"));
    let athlete = page.get(&format!("/athlete/{elva}")).body;
    assert!(athlete.contains(&format!("href=\"/plans?member={elva}\"")), "{athlete}");
    let planned = page.get(&format!("/plans?member={elva}")).body;
    assert!(
        planned.contains("bounds with a short run-in") && planned.contains("0 of 9 sets done"),
        "{planned}"
    );

    let pogo = pitside_model::load::catalogue::id::POGO;
    let row = format!("exercise-0={pogo}&sets-0=3&reps-0=10&rest-0=90&say-0=quick+off+the+ground&place-0=1");
    let filled = format!("{form}&day=2026-03-30&purpose=short+contacts&{row}");
    let answer = page.send("/do/save-plan", &format!("{filled}&member={elva}&member={greta}"));
    assert_eq!((answer.status, answer.header("location")), (303, "/plan?done=several"));
    assert!(page.get("/plan?done=several").body.contains("each of the athletes has it"));
    for member in [&elva, &greta] {
        let list = page.get(&format!("/plans?member={member}")).body;
        assert!(list.contains("Mon 30 Mar 2026: short contacts"), "{list}");
        assert!(list.contains("3 sets: 10 × Pogo, two legs · quick off the ground"), "{list}");
    }

    // One of the two is changed: the form carries the values that it showed.
    let list = page.get(&format!("/plans?member={greta}")).body;
    let id = between(&list, "href=\"/plan?id=", "\"")[0].to_owned();
    let shown = page.get(&format!("/plan?id={id}")).body;
    let seen = between(&shown, "name=\"seen\" value=\"", "\"")[0].to_owned();
    let changed = filled.replace("sets-0=3", "sets-0=2&number-0=1");
    let answer = page.send("/do/save-plan", &format!("{changed}&id={id}&seen={seen}"));
    assert_eq!(answer.header("location"), format!("/plans?member={greta}"));
    let list = page.get(&format!("/plans?member={greta}")).body;
    assert!(list.contains("2 sets: 10 × Pogo, two legs"), "{list}");
    assert!(page.get(&format!("/plans?member={elva}")).body.contains("3 sets: 10 × Pogo"), "hers stays");

    let seen = between(&list, "name=\"seen\" value=\"", "\"")[0].to_owned();
    let answer = page.send("/do/withdraw-plan", &format!("{form}&plan={id}&seen={seen}"));
    assert_eq!(answer.header("location"), format!("/plans?member={greta}"));
    assert!(page.get(&format!("/plans?member={greta}")).body.contains("Nothing is planned from today on."));

    let answer =
        page.send("/do/save-plan", &format!("{filled}&member={elva}").replace("sets-0=3", "sets-0=many"));
    assert_eq!(answer.status, 400);
    assert!(answer.body.contains("Sets of exercise 1"), "{}", answer.body);
    let answer = page.send("/do/save-plan", &filled);
    assert!(answer.status == 400 && answer.body.contains("one athlete or more"), "{}", answer.body);
    let stale = filled.replacen("form=", "form=0", 1);
    assert_eq!(page.send("/do/save-plan", &format!("{stale}&member={elva}")).status, 403);
    assert_eq!(page.get("/plan?id=07").status, 404);
}
