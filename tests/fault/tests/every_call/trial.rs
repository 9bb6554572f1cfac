//! One run of the script with one call gone wrong, and what must hold after it.

use std::error::Error;
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
use crate::view::{View, WAITING};

const SIGKILL: i32 = 9;
/// The mode in which the child is to try every call.
pub(crate) const MODE: &str = "PITSIDE_FAULT_TRY";
/// The step from one n to the next.
const EVERY: &str = "PITSIDE_FAULT_EVERY";

/// The library that cargo built beside this test.
fn layer() -> PathBuf {
    let layer = std::env::current_exe().unwrap().with_file_name("libfault_layer.so");
    assert!(layer.is_file(), "{} is missing", layer.display());
    layer
}

/// A folder in memory, where there is one: nothing waits for a real disk, and
/// what a kill or a cut leaves is the same there.
fn temporary() -> TempDir {
    TempDir::new_in("/dev/shm").or_else(|_| TempDir::new()).unwrap()
}

fn child(test: &str) -> Command {
    let mut child = Command::new(std::env::current_exe().unwrap());
    child.args([test, "--exact", "--nocapture"]);
    child
}

/// What is there before the script, and after each of its steps, where nothing
/// goes wrong.
pub(crate) fn views() -> Vec<View> {
    let folder = temporary();
    let output = child("child_runs_the_script")
        .env(script::FOLDER, folder.path())
        .env(script::TELL, "1")
        .output()
        .unwrap();
    let said = said(&output.stdout);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let json = |line: &String| line.split_once(' ').and_then(|(_, json)| serde_json::from_str(json).ok());
    said.iter().filter_map(json).collect()
}

fn said(stdout: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(stdout);
    text.lines().filter_map(|line| line.strip_prefix(MARK)).map(str::to_owned).collect()
}

type Checked<T> = Result<T, Box<dyn Error>>;

fn holds(it: bool, otherwise: &str) -> Checked<()> {
    if it { Ok(()) } else { Err(otherwise.into()) }
}

/// How one run ended.
pub(crate) struct Run {
    mode: String,
    folder: PathBuf,
    said: Vec<String>,
    stderr: String,
    status: ExitStatus,
    /// What the layer says it struck.
    struck: Option<String>,
    _temporary: TempDir,
}

impl Run {
    fn new(mode: &str, n: usize) -> Self {
        let temporary = temporary();
        // SQLite names its files by their real path.
        let root = temporary.path().canonicalize().unwrap();
        let (folder, report) = (root.join("disk"), root.join("report"));
        std::fs::create_dir(&folder).unwrap();
        let output = child("child_runs_the_script")
            .env(script::FOLDER, &folder)
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
            mode: mode.to_owned(),
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
    pub(crate) fn check_dead(&self, views: &[View]) -> Checked<()> {
        holds(self.status.signal() == Some(SIGKILL), "it did not die of it")?;
        let step = &STEPS[self.acknowledged()];
        let (less, more) = (&views[self.acknowledged()], &views[self.acknowledged() + 1]);
        let found = self.reopened()?;
        let (lost, gained) = (less.beyond(&found), found.beyond(less));
        let (missing, excess) = (more.beyond(&found), found.beyond(more));
        let nothing = lost.is_empty() && gained.is_empty();
        let all = missing.is_empty() && excess.is_empty();
        let waits = |line: &String| line.contains(WAITING);
        let part = step.in_parts && lost.is_empty() && excess.iter().all(waits);
        holds(
            nothing || all || part,
            &format!("lost {lost:?}, gained {gained:?}; to all missing {missing:?}, excess {excess:?}"),
        )?;
        if !step.in_parts {
            return Ok(());
        }
        // Where an exchange was cut off the next one goes on. It seals at other
        // places, and what was checked above has been written to since.
        script::meet_again(&self.folder)?;
        let missing = more.beyond(&self.reopened()?);
        let missing: Vec<_> = missing.into_iter().filter(|line| !line.ends_with("seal")).collect();
        holds(missing.is_empty(), &format!("after another exchange missing {missing:?}"))
    }

    /// After errors that the process lived through: it came to the end that it
    /// would have come to without them.
    pub(crate) fn check_alive(&self, views: &[View]) -> Checked<()> {
        holds(self.status.success() && self.is_through(), "it did not come to the end")?;
        let failed = self.said.iter().filter(|line| line.starts_with("failed")).count();
        holds(failed <= if self.mode == "full" { 2 } else { 1 }, "one fault was told more than once")?;
        let found = self.reopened()?;
        let end = &views[STEPS.len()];
        let (missing, excess) = (end.beyond(&found), found.beyond(end));
        holds(missing.is_empty() && excess.is_empty(), &format!("missing {missing:?}, excess {excess:?}"))
    }

    /// Opens what is there without the layer, and checks that it is whole and
    /// can be written to; gives what was found first.
    fn reopened(&self) -> Checked<View> {
        let key = script::coach_key(&self.folder);
        let (seed, had_key) = match file::load(&key) {
            Err(SeedFileError::Missing { .. }) => (file::create(&key, &mut OsRng)?, false),
            seed => (seed?, true),
        };
        let coach = reopened(&script::coach_folder(&self.folder), Identity::from_seed(seed))?;
        let phone = reopened(&script::phone_folder(&self.folder), script::phone_identity())?;
        Ok(View { key: had_key, coach, phone })
    }
}

/// The lines of a book, made anew where there is none, after it was found whole
/// and took another fact.
fn reopened(folder: &Path, identity: Identity) -> Checked<Option<Vec<String>>> {
    let was_there = Book::exists(folder);
    let book = if was_there { Book::open(folder, identity)? } else { Book::create(folder, identity, false)? };
    let found = View::lines(&book, folder);
    let state = || -> Checked<_> {
        let held = book.held(&Filter::default())?;
        let held: Vec<_> = held.into_iter().map(|h| (h.key, h.seen)).collect();
        Ok((held, book.devices()?, book.uncounted()?))
    };
    let before = state()?;
    book.rebuild()?;
    holds(state()? == before, "the projection made anew is another")?;
    write_further(&book)?;
    let sqlite = rusqlite::Connection::open(folder.join(FILE))?;
    let whole: String = sqlite.query_row("PRAGMA integrity_check", [], |r| r.get(0))?;
    holds(whole == "ok", &whole)?;
    drop(sqlite);
    book.close()?;
    Ok(was_there.then_some(found))
}

fn write_further(book: &Book) -> Checked<()> {
    let before = book.held(&Filter::default())?.len();
    let member = match book.own_members()?.first() {
        Some(member) => Some(*member),
        None if book.squad().is_none() => Some(book.start_member(NOW)?),
        None => None,
    };
    match member {
        Some(member) => {
            let rest = RestDay { day: Day::parse("2027-01-01").unwrap() };
            book.write(Scope::Member(member), &Draft::new(Fact::Rest(rest)), NOW)?;
        }
        None => {
            book.add_member("Mio", NOW)?;
        }
    }
    holds(book.held(&Filter::default())?.len() > before, "what was written further is not there")
}

/// Runs the script with the n-th call gone wrong, for n in steps of `stride`,
/// until it runs through with nothing gone wrong; all of it in a process of its
/// own. A child has, until it is its own program, what its parent has open: begun
/// beside another test it would hold the locks on that test's books.
pub(crate) fn try_every_call(mode: &str, stride: usize) {
    let stride = std::env::var(EVERY).unwrap_or_else(|_| stride.to_string());
    let output = child("child_tries_every_call").env(MODE, mode).env(EVERY, stride).output().unwrap();
    let (said, why) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    let counts = said.lines().find(|line| line.contains("calls tried")).unwrap_or_default();
    std::io::stdout().write_all(format!("{counts}\n").as_bytes()).unwrap();
    assert!(output.status.success() && !counts.is_empty(), "{why}");
}

/// What the child of [`try_every_call`] does.
pub(crate) fn run_until_unstruck(mode: &str) {
    let stride = std::env::var(EVERY).unwrap().parse().expect("a number of calls");
    let check = match mode {
        "eio" | "enospc" | "full" => Run::check_alive,
        _ => Run::check_dead,
    };
    let views = views();
    let (mut tried, mut told, mut wrong) = (0, 0, Vec::new());
    for n in (1..).step_by(stride) {
        let run = Run::new(mode, n);
        let check = if run.struck.is_some() { check } else { Run::check_alive };
        if let Err(e) = check(&run, &views) {
            wrong.push(format!("{}\n{e}", run.where_it_was()));
        }
        if run.struck.is_none() {
            let counts = format!("{mode}: {tried} of {} calls tried, {told} told as an error\n", n - 1);
            std::io::stdout().write_all(counts.as_bytes()).unwrap();
            // Far fewer, and the layer is not under the script's files.
            assert!(n > 300, "{mode}: only {n} calls");
            break;
        }
        tried += 1;
        told += usize::from(run.said.iter().any(|line| line.starts_with("failed")));
    }
    assert!(wrong.is_empty(), "{} of {tried} went wrong\n\n{}", wrong.len(), wrong.join("\n\n"));
}
