//! The routes of the page as somebody meets them who is not the page, and as a browser
//! that stops, goes, or asks for more than there is.

use std::fs;
use std::io::{Read, Write};
use std::net::{Shutdown, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tempfile::TempDir;

use super::Page;

/// How long anything may take on a busy machine.
const PATIENCE: Duration = Duration::from_secs(60);

/// Waits until it is so.
fn until(what: &str, so: impl Fn() -> bool) {
    let begun = Instant::now();
    while !so() {
        assert!(begun.elapsed() < PATIENCE, "never: {what}");
        std::thread::sleep(Duration::from_millis(20));
    }
}

fn drawn_clip() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/render/clips/bounds-240.mp4")
}

/// Whoever speaks to the page, and what they show it.
#[derive(Clone)]
struct Caller {
    host: String,
    shown_host: String,
    cookie: String,
    origin: String,
    form: String,
}

struct Answer {
    status: u16,
    body: Vec<u8>,
}

impl Answer {
    fn json(&self) -> Value {
        serde_json::from_slice(&self.body).unwrap()
    }

    fn trouble(&self) -> String {
        self.json()["trouble"].as_str().unwrap().to_owned()
    }
}

impl Caller {
    /// The page's own script.
    fn of(page: &Page) -> Self {
        let (host, token) = page.address.strip_prefix("http://").unwrap().split_once("/?token=").unwrap();
        let port = host.rsplit(':').next().unwrap();
        let mut own = Self {
            host: host.to_owned(),
            shown_host: host.to_owned(),
            cookie: format!("pitside-{port}={token}"),
            origin: format!("http://{host}"),
            form: String::new(),
        };
        let drawn = String::from_utf8(own.ask("GET", "/take", &[], b"").body).unwrap();
        let field = drawn.split("name=\"form\" value=\"").nth(1).unwrap();
        own.form = field.split('"').next().unwrap().to_owned();
        own
    }

    /// The head of a request, and then as much of a body as is given.
    fn begin(&self, method: &str, path: &str, more: &[&str], length: usize, body: &[u8]) -> TcpStream {
        let mut socket = TcpStream::connect(&self.host).unwrap();
        socket.set_read_timeout(Some(PATIENCE)).unwrap();
        let mut head =
            format!("{method} {path} HTTP/1.1\r\nConnection: close\r\nHost: {}\r\n", self.shown_host);
        for (name, value) in [("Cookie", &self.cookie), ("Origin", &self.origin), ("X-Form", &self.form)] {
            if !value.is_empty() {
                head.push_str(&format!("{name}: {value}\r\n"));
            }
        }
        for line in more {
            head.push_str(&format!("{line}\r\n"));
        }
        write!(socket, "{head}Content-Length: {length}\r\n\r\n").unwrap();
        // A body that is not wanted may end the connection before it is all sent.
        let _ = socket.write_all(body);
        socket
    }

    fn ask(&self, method: &str, path: &str, more: &[&str], body: &[u8]) -> Answer {
        let mut socket = self.begin(method, path, more, body.len(), body);
        let mut answer = Vec::new();
        let _ = socket.read_to_end(&mut answer);
        let end = answer.windows(4).position(|found| found == b"\r\n\r\n").unwrap();
        let status = std::str::from_utf8(&answer[9..12]).unwrap().parse().unwrap();
        Answer { status, body: answer.split_off(end + 4) }
    }

    fn post(&self, path: &str, what: &Value) -> Answer {
        self.ask("POST", path, &[], what.to_string().as_bytes())
    }

    /// Opens a clip of the folder; gives its id.
    fn listed(&self, name: &str) -> String {
        let opened = self.post("/take/listed", &json!({ "name": name }));
        assert_eq!(opened.status, 200);
        opened.json()["id"].as_str().unwrap().to_owned()
    }

    fn is_open(&self, id: &str) -> bool {
        self.ask("GET", &format!("/take/clip/{id}"), &[], b"").status == 200
    }
}

/// A folder of clips, and one for what the program keeps meanwhile.
struct Place {
    folder: TempDir,
    clips: PathBuf,
    own: PathBuf,
}

impl Place {
    fn of(names: &[&str]) -> Self {
        let folder = TempDir::new().unwrap();
        let (clips, own) = (folder.path().join("clips"), folder.path().join("own"));
        fs::create_dir(&clips).unwrap();
        fs::create_dir(&own).unwrap();
        for name in names {
            fs::copy(drawn_clip(), clips.join(name)).unwrap();
        }
        Self { folder, clips, own }
    }

    fn page(&self) -> Page {
        let more = ["--clips", self.clips.to_str().unwrap()];
        Page::of_a_squad_with(&self.folder, &more, &[("TMPDIR", &self.own)])
    }

    /// Once more, with another variable.
    fn again(&self, variables: &[(&str, &Path)]) -> Page {
        let more = ["--clips", self.clips.to_str().unwrap()];
        let variables = [&[("TMPDIR", self.own.as_path())], variables].concat();
        Page::start_with(&self.folder.path().join("book"), &more, &variables)
    }

    /// The folders that starts keep.
    fn kept(&self) -> Vec<PathBuf> {
        let entries = fs::read_dir(&self.own).unwrap().map(|entry| entry.unwrap().path());
        entries.filter(|path| path.file_name().unwrap().to_str().unwrap().starts_with("pitside-")).collect()
    }

    /// Copies and pictures in them.
    fn files(&self) -> usize {
        let files = self.kept().into_iter().flat_map(|folder| fs::read_dir(folder).into_iter().flatten());
        files.filter(|file| file.as_ref().is_ok_and(|file| file.file_name() != "in-use")).count()
    }
}

#[test]
fn every_route_refuses_whoever_is_not_the_page() {
    let place = Place::of(&["a.mp4"]);
    let page = place.page();
    let own = Caller::of(&page);
    let id = own.listed("a.mp4");
    let clip = format!("/take/clip/{id}");
    let reads = ["", "/bytes", "/pictures", "/pictures/bytes"].map(|rest| format!("{clip}{rest}"));
    let reads = reads.iter().map(String::as_str).chain(["/take", "/take/mark.js", "/take/decode.js"]);
    let writes = ["/track", "/pictures", "/marked", "/save", "/close"].map(|rest| format!("{clip}{rest}"));
    let writes = writes.iter().map(String::as_str).chain(["/take/clip", "/take/listed"]);
    let asked: Vec<(&str, &str)> =
        reads.map(|path| ("GET", path)).chain(writes.map(|path| ("POST", path))).collect();
    let body = br#"{"delete":true,"name":"a.mp4","track":1}"#;
    for (method, path) in asked {
        let status = |caller: &Caller| caller.ask(method, path, &[], body).status;
        let named = Caller { shown_host: "clips.example".to_owned(), ..own.clone() };
        assert_eq!(status(&named), 421, "{method} {path} by another name");
        let unknown = Caller { cookie: String::new(), ..own.clone() };
        assert_eq!(status(&unknown), 403, "{method} {path} without a cookie");
        if method == "GET" {
            continue;
        }
        for origin in ["", "null", "http://127.0.0.1:1", "http://clips.example"] {
            let elsewhere = Caller { origin: origin.to_owned(), ..own.clone() };
            assert_eq!(status(&elsewhere), 403, "{method} {path} from {origin:?}");
        }
        for form in ["", "made up"] {
            let stale = Caller { form: form.to_owned(), ..own.clone() };
            assert_eq!(status(&stale), 403, "{method} {path} with the form {form:?}");
        }
    }
    assert!(own.is_open(&id) && place.clips.join("a.mp4").exists());
    assert_eq!(place.files(), 0);
}

/// Links lead out of the folder, folders and what the listing leaves out are no clips.
#[cfg(unix)]
#[test]
fn only_plain_files_of_the_folder_are_clips() {
    let place = Place::of(&["a.mp4"]);
    let outside = place.folder.path().join("outside.mp4");
    fs::copy(drawn_clip(), &outside).unwrap();
    std::os::unix::fs::symlink(&outside, place.clips.join("link.mp4")).unwrap();
    std::os::unix::fs::symlink(place.clips.join("a.mp4"), place.clips.join("inside.mp4")).unwrap();
    fs::create_dir(place.clips.join("folder.mp4")).unwrap();
    fs::copy(drawn_clip(), place.clips.join("folder.mp4/deep.mp4")).unwrap();
    fs::copy(drawn_clip(), place.clips.join("no-ending")).unwrap();
    let page = place.page();
    let own = Caller::of(&page);
    let drawn = String::from_utf8(own.ask("GET", "/take", &[], b"").body).unwrap();
    let names: Vec<&str> =
        drawn.split("data-name=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    assert_eq!(names, ["a.mp4"]);
    let absolute = outside.to_str().unwrap();
    let others = ["link.mp4", "inside.mp4", "folder.mp4", "folder.mp4/deep.mp4", "no-ending", "", ".", ".."];
    for name in others.into_iter().chain(["../outside.mp4", "./a.mp4", "a.mp4/", "a.mp4\0", absolute]) {
        let refused = own.post("/take/listed", &json!({ "name": name }));
        assert_eq!(refused.status, 404, "{name}");
    }
    // A path in the place of an id is none either.
    for id in ["..%2f..%2fbook", "%2e%2e", "a.mp4", "%ff"] {
        let refused = own.ask("GET", &format!("/take/clip/{id}/bytes"), &[], b"").status;
        assert!([400, 404].contains(&refused), "{id}: {refused}");
    }
    // A link that took the place of the clip is neither followed nor deleted.
    let id = own.listed("a.mp4");
    fs::remove_file(place.clips.join("a.mp4")).unwrap();
    std::os::unix::fs::symlink(&outside, place.clips.join("a.mp4")).unwrap();
    let bytes = own.ask("GET", &format!("/take/clip/{id}/bytes"), &["Range: bytes=0-9"], b"");
    assert_eq!((bytes.status, bytes.trouble().contains("not the one")), (409, true));
    let refused = own.post(&format!("/take/clip/{id}/close"), &json!({ "delete": true }));
    assert_eq!(refused.status, 409);
    assert!(outside.exists() && place.clips.join("a.mp4").is_symlink());
}

#[test]
fn a_file_that_took_the_place_of_a_clip_is_not_deleted() {
    let place = Place::of(&["a.mp4"]);
    let page = place.page();
    let own = Caller::of(&page);
    let id = own.listed("a.mp4");
    fs::write(place.clips.join("a.mp4"), b"filmed meanwhile").unwrap();
    let close = format!("/take/clip/{id}/close");
    let refused = own.post(&close, &json!({ "delete": true }));
    assert_eq!(refused.status, 409, "{}", refused.trouble());
    assert!(place.clips.join("a.mp4").exists() && own.is_open(&id));
    assert_eq!(own.post(&close, &json!({ "delete": false })).status, 204);
    assert_eq!(own.post(&close, &json!({ "delete": false })).status, 404);
}

#[test]
fn what_does_not_arrive_whole_leaves_nothing() {
    let place = Place::of(&[]);
    let page = place.page();
    let own = Caller::of(&page);
    let clip = fs::read(drawn_clip()).unwrap();
    // Half a clip, and then the browser is gone.
    let socket = own.begin("POST", "/take/clip", &[], clip.len(), &clip[..clip.len() / 2]);
    until("a copy begins", || place.files() == 1);
    drop(socket);
    until("the half copy is deleted", || place.files() == 0);
    // Half a clip as if that were all of it.
    let refused = own.ask("POST", "/take/clip", &[], &clip[..clip.len() / 2]);
    assert_eq!(refused.status, 400);
    until("a damaged copy is deleted", || place.files() == 0);
    // Two at a time; a third one may come when they are gone.
    let begun = [0, 1].map(|_| own.begin("POST", "/take/clip", &[], clip.len(), &clip[..100]));
    until("both begin", || place.files() == 2);
    let third = own.ask("POST", "/take/clip", &[], &clip);
    assert_eq!(third.status, 429);
    for socket in begun {
        socket.shutdown(Shutdown::Both).unwrap();
    }
    until("there is room again", || place.files() == 0);
    let opened = own.ask("POST", "/take/clip", &[], &clip);
    assert_eq!((opened.status, place.files()), (200, 1));
    // A copy is deleted by closing it, and by nothing else.
    let close = format!("/take/clip/{}/close", opened.json()["id"].as_str().unwrap());
    assert_eq!(own.post(&close, &json!({ "delete": true })).status, 400);
    assert_eq!(place.files(), 1);
    assert_eq!(own.post(&close, &json!({ "delete": false })).status, 204);
    assert_eq!(place.files(), 0);
}

#[test]
fn of_more_than_four_clips_the_one_least_looked_at_is_closed() {
    let place = Place::of(&["a.mp4", "b.mp4"]);
    let page = place.page();
    let own = Caller::of(&page);
    let clip = fs::read(drawn_clip()).unwrap();
    let copy = || own.ask("POST", "/take/clip", &[], &clip).json()["id"].as_str().unwrap().to_owned();
    let mut ids = [copy(), own.listed("a.mp4"), copy(), own.listed("b.mp4")];
    // One page still works on the first, and another track of one takes no more room.
    assert!(own.is_open(&ids[0]));
    let track = own.post(&format!("/take/clip/{}/track", ids[1]), &json!({ "track": 1 }));
    assert_eq!(track.status, 200);
    assert!(!own.is_open(&ids[1]));
    ids[1] = track.json()["id"].as_str().unwrap().to_owned();
    let fifth = copy();
    let open = ids.each_ref().map(|id| own.is_open(id));
    assert_eq!((open, own.is_open(&fifth)), ([true, true, false, true], true));
    assert_eq!(place.files(), 2);
}

#[test]
fn parts_of_a_clip_are_those_asked_for() {
    let place = Place::of(&["a.mp4"]);
    let page = place.page();
    let own = Caller::of(&page);
    let clip = fs::read(drawn_clip()).unwrap();
    let path = format!("/take/clip/{}/bytes", own.listed("a.mp4"));
    let part = |range: &str| own.ask("GET", &path, &[&format!("Range: bytes={range}")], b"");
    let some = part("3-9");
    assert_eq!((some.status, &some.body[..]), (206, &clip[3..10]));
    let last = part(&format!("{}-{}", clip.len() - 2, clip.len() + 40));
    assert_eq!((last.status, &last.body[..]), (206, &clip[clip.len() - 2..]));
    for beyond in [format!("{}-", clip.len()), "18446744073709551615-".to_owned(), "9-5".to_owned()] {
        assert_eq!(part(&beyond).status, 416, "{beyond}");
    }
}

/// What a start left that was killed is deleted by the next one, but not what another
/// start still uses; a start that ends deletes its own.
#[cfg(unix)]
#[test]
fn copies_do_not_outlive_the_program_for_long() {
    let place = Place::of(&[]);
    let clip = fs::read(drawn_clip()).unwrap();
    let mut page = place.page();
    assert_eq!(Caller::of(&page).ask("POST", "/take/clip", &[], &clip).status, 200);
    assert_eq!((place.kept().len(), place.files()), (1, 1));
    page.child.kill().unwrap();
    page.child.wait().unwrap();
    assert_eq!(place.files(), 1);
    // Answered once the shelf is there.
    let own_shelf = |page: &Page| drop(Caller::of(page));
    let other = TempDir::new().unwrap();
    let beside = Page::of_a_squad_with(&other, &[], &[("TMPDIR", &place.own)]);
    own_shelf(&beside);
    assert_eq!((place.kept().len(), place.files()), (1, 0));
    for signal in ["-INT", "-TERM", "-HUP"] {
        let mut next = place.again(&[]);
        assert_eq!(Caller::of(&next).ask("POST", "/take/clip", &[], &clip).status, 200);
        assert_eq!((place.kept().len(), place.files()), (2, 1));
        let ended = Command::new("kill").args([signal, &next.child.id().to_string()]).status();
        assert!(ended.unwrap().success() && next.child.wait().unwrap().success(), "{signal}");
        assert_eq!((place.kept().len(), place.files()), (1, 0), "{signal}");
    }
    drop(beside);
}

/// Nobody waits for what draws the pictures of a clip that was closed.
#[cfg(target_os = "linux")]
#[test]
fn closing_a_clip_ends_what_draws_its_pictures() {
    use std::os::unix::fs::PermissionsExt;

    let place = Place::of(&["a.mp4"]);
    drop(place.page());
    // What never ends by itself, under the name that is called.
    let programs = place.folder.path().join("programs");
    fs::create_dir(&programs).unwrap();
    let endless = programs.join("ffmpeg");
    fs::write(&endless, "#!/bin/sh\nexec /bin/sleep 600\n").unwrap();
    fs::set_permissions(&endless, fs::Permissions::from_mode(0o755)).unwrap();
    let page = place.again(&[("PATH", &programs)]);
    let own = Caller::of(&page);
    // Ended ones that nobody waited for count too.
    let children = || {
        let shown = Command::new("ps")
            .args(["--ppid", &page.child.id().to_string(), "-o", "pid="])
            .stderr(Stdio::null())
            .output();
        String::from_utf8(shown.unwrap().stdout).unwrap().split_whitespace().count()
    };
    let id = own.listed("a.mp4");
    let begun = own.post(&format!("/take/clip/{id}/pictures"), &json!({}));
    assert_eq!(begun.json()["state"], "underway");
    assert_eq!((children(), place.files()), (1, 1));
    // Asked for twice, they are drawn once.
    assert_eq!(own.post(&format!("/take/clip/{id}/pictures"), &json!({})).status, 200);
    assert_eq!(children(), 1);
    assert_eq!(own.post(&format!("/take/clip/{id}/close"), &json!({ "delete": false })).status, 204);
    until("it ends", || children() == 0);
    until("its pictures go", || place.files() == 0);
}
