//! One run of the script with one call gone wrong, and what must hold after it.

use std::io::Write as _;
use std::os::unix::process::ExitStatusExt as _;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus};

use pitside_book::keys::file::{self, SeedFileError};
use pitside_book::keys::{Identity, OsRng};
use pitside_book::store::{Book, Draft, FILE, Filter};
use pitside_model::facts::{Day, Fact, RestDay, Scope};
use tempfile::TempDir;

use crate::script::{self, MARK, NOW, STEPS};
use crate::view::View;

const SIGKILL: i32 = 9;

/// The library that cargo built beside this test.
fn layer() -> PathBuf {
    let layer = std::env::current_exe().unwrap().with_file_name("libfault_layer.so");
    assert!(layer.is_file(), "{} is missing", layer.display());
    layer
}

/// A step of the run through n; all of them where all are asked for.
fn every(stride: usize) -> usize {
    match std::env::var("PITSIDE_FAULT_EVERY") {
        Ok(stride) => stride.parse().expect("PITSIDE_FAULT_EVERY is a number"),
        Err(_) => stride,
    }
}

fn child(folder: &Path) -> Command {
    let mut child = Command::new(std::env::current_exe().unwrap());
    child.args(["child_runs_the_script", "--exact", "--nocapture"]).env(script::FOLDER, folder);
    child
}

/// What is there before the script, and after each of its steps, where nothing
/// goes wrong.
pub(crate) fn views() -> Vec<View> {
    let folder = TempDir::new().unwrap();
    let output = child(folder.path()).env(script::TELL, "1").output().unwrap();
    let said = said(&output.stdout);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let json = |line: &String| line.split_once(' ').and_then(|(_, json)| serde_json::from_str(json).ok());
    said.iter().filter_map(json).collect()
}

fn said(stdout: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(stdout);
    text.lines().filter_map(|line| line.strip_prefix(MARK)).map(str::to_owned).collect()
}

/// How one run ended.
pub(crate) struct Run {
    mode: &'static str,
    folder: PathBuf,
    said: Vec<String>,
    stderr: String,
    status: ExitStatus,
    /// What the layer says it struck.
    struck: Option<String>,
    _temporary: TempDir,
}

impl Run {
    fn new(mode: &'static str, n: usize) -> Self {
        let temporary = TempDir::new().unwrap();
        // SQLite names its files by their real path.
        let root = temporary.path().canonicalize().unwrap();
        let (folder, report) = (root.join("disk"), root.join("report"));
        std::fs::create_dir(&folder).unwrap();
        let output = child(&folder)
            .env("LD_PRELOAD", layer())
            .env("PITSIDE_FAULT_FOLDER", &folder)
            .env("PITSIDE_FAULT_MODE", mode)
            .env("PITSIDE_FAULT_AT", n.to_string())
            .env(script::REPORT, &report)
            .output()
            .unwrap();
        let said = said(&output.stdout);
        let removed = said.iter().any(|line| line.starts_with("failed")).then(|| "dealt with".to_owned());
        Self {
            mode,
            folder,
            said,
            stderr: String::from_utf8_lossy(&output.stderr).into_owned(),
            status: output.status,
            struck: std::fs::read_to_string(&report).ok().or(removed),
            _temporary: temporary,
        }
    }

    fn acknowledged(&self) -> usize {
        self.said.iter().filter(|line| line.starts_with("ok")).count()
    }

    fn is_through(&self) -> bool {
        self.said.last().is_some_and(|line| line == "through")
    }

    fn where_it_was(&self) -> String {
        let step = STEPS.get(self.acknowledged()).map_or("the end", |step| step.name);
        let struck = self.struck.as_deref().unwrap_or("nothing").trim();
        format!("{} at {struck}, during: {step}\n{}", self.mode, self.stderr)
    }

    /// After the death of the process: all that was acknowledged is there, and
    /// of the step it died in all or nothing.
    pub(crate) fn check_dead(&self, views: &[View]) {
        assert_eq!(self.status.signal(), Some(SIGKILL), "{}", self.where_it_was());
        let step = &STEPS[self.acknowledged()];
        let (less, more) = (&views[self.acknowledged()], &views[self.acknowledged() + 1]);
        let found = self.reopened();
        let whole = found == *less || found == *more;
        assert!(
            whole || step.in_parts && found.is_between(less, more),
            "{}\nbefore: {less:?}\n after: {more:?}\n found: {found:?}",
            self.where_it_was()
        );
    }

    /// After errors that the process lived through: it came to the end that it
    /// would have come to without them.
    pub(crate) fn check_alive(&self, views: &[View]) {
        assert!(self.status.success() && self.is_through(), "{}", self.where_it_was());
        let failed = self.said.iter().filter(|line| line.starts_with("failed")).count();
        assert!(failed <= if self.mode == "full" { 2 } else { 1 }, "{}", self.where_it_was());
        let found = self.reopened();
        assert_eq!(Some(&found), views.last(), "{}", self.where_it_was());
    }

    /// Opens what is there without the layer, and checks that it is whole and
    /// can be written to; gives what was found first.
    fn reopened(&self) -> View {
        let key = script::coach_key(&self.folder);
        let mut found = View::default();
        let seed = match file::load(&key) {
            Ok(seed) => {
                found.key = true;
                seed
            }
            Err(SeedFileError::Missing { .. }) => file::create(&key, &mut OsRng)
                .unwrap_or_else(|e| panic!("{}: no new key: {e}", self.where_it_was())),
            Err(e) => panic!("{}: {e}", self.where_it_was()),
        };
        found.coach = self.reopened_book(&script::coach_folder(&self.folder), Identity::from_seed(seed));
        found.phone = self.reopened_book(&script::phone_folder(&self.folder), script::phone_identity());
        found
    }

    fn reopened_book(&self, folder: &Path, identity: Identity) -> Option<Vec<String>> {
        let was_there = Book::exists(folder);
        let opened =
            if was_there { Book::open(folder, identity) } else { Book::create(folder, identity, false) };
        let book = opened.unwrap_or_else(|e| panic!("{}: {e}", self.where_it_was()));
        let found = View::lines(&book, folder);
        let state = || {
            let held = book.held(&Filter::default()).unwrap();
            let held: Vec<_> = held.into_iter().map(|h| (h.key, h.seen)).collect();
            (held, book.devices().unwrap(), book.uncounted().unwrap())
        };
        let before = state();
        book.rebuild().unwrap();
        assert_eq!(state(), before, "{}: the projection is another", self.where_it_was());
        self.write_further(&book);
        let sqlite = rusqlite::Connection::open(folder.join(FILE)).unwrap();
        let whole: String = sqlite.query_row("PRAGMA integrity_check", [], |r| r.get(0)).unwrap();
        assert_eq!(whole, "ok", "{}", self.where_it_was());
        drop(sqlite);
        book.close().unwrap();
        was_there.then_some(found)
    }

    fn write_further(&self, book: &Book) {
        let count = || book.held(&Filter::default()).unwrap().len();
        let before = count();
        let member = match book.own_members().unwrap().first() {
            Some(member) => *member,
            None if book.squad().is_none() => book.start_member(NOW).unwrap(),
            None => {
                book.add_member("Mio", NOW).unwrap();
                assert!(count() > before, "{}", self.where_it_was());
                return;
            }
        };
        let rest = RestDay { day: Day::parse("2027-01-01").unwrap() };
        book.write(Scope::Member(member), &Draft::new(Fact::Rest(rest)), NOW).unwrap();
        assert_eq!(count(), before + 1, "{}", self.where_it_was());
    }
}

/// Runs the script with the n-th call gone wrong, for n in steps of `stride`,
/// until it runs through with nothing gone wrong.
pub(crate) fn run_until_unstruck(mode: &'static str, stride: usize, check: fn(&Run, &[View])) {
    let views = views();
    let (mut tried, mut told) = (0, 0);
    for n in (1..).step_by(every(stride)) {
        let run = Run::new(mode, n);
        if run.struck.is_none() {
            run.check_alive(&views);
            let counts = format!("{mode}: {tried} of {} calls tried, {told} told as an error\n", n - 1);
            std::io::stdout().write_all(counts.as_bytes()).unwrap();
            // Far fewer, and the layer is not under the script's files.
            assert!(n > 300, "{mode}: only {n} calls");
            return;
        }
        check(&run, &views);
        tried += 1;
        told += usize::from(run.said.iter().any(|line| line.starts_with("failed")));
    }
}
