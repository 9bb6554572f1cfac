//! Places where a book cannot be written: full, read-only, or held by another
//! process. Each is said by an error with a type, what was acknowledged stays,
//! and when the place is as it should be the book goes on.
//!
//! Real file systems and real processes; what needs a mount of its own is left
//! out where the machine does not let this user make one, and fails there if
//! `CI=true`.

#![cfg(target_os = "linux")]
#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::fs::{self, Permissions};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _};
use std::os::unix::process::CommandExt as _;
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Output, Stdio};
use std::sync::{Mutex, MutexGuard, PoisonError};

use pitside_book::clock::Stamp;
use pitside_book::keys::{Identity, Seed};
use pitside_book::store::{Book, BookError, Draft, FILE, Filter};
use pitside_model::facts::{Day, Fact, RestDay, Scope, kind};
use rusqlite::Connection;
use tempfile::TempDir;
use zeroize::Zeroizing;

const NOW: Stamp = Stamp { ms: 1_790_000_000_000, zone_min: 60 };
/// Where a child is to work; only then do its tests do something.
const PLACE: &str = "PITSIDE_FAULT_PLACE";
/// What a child says when it is where the other process wants it.
const READY: &str = "@ ready";

/// One of these tests at a time: a child that is begun beside another test has,
/// until it is its own program, the locks on that test's book.
static TURN: Mutex<()> = Mutex::new(());

fn turn() -> MutexGuard<'static, ()> {
    TURN.lock().unwrap_or_else(PoisonError::into_inner)
}

fn identity() -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([1; 32])))
}

fn write(book: &Book, days: std::ops::Range<i32>) -> Result<(), BookError> {
    let member = book.own_members()?[0];
    let drafts: Vec<_> = days
        .map(|n| {
            let day = Day::parse("2000-01-01").unwrap().plus(n);
            (Scope::Member(member), Draft::new(Fact::Rest(RestDay { day })))
        })
        .collect();
    book.write_all(&drafts, NOW).map(|_| ())
}

fn count(book: &Book) -> usize {
    book.held(&Filter { kind: Some(kind::REST), ..Filter::default() }).unwrap().len()
}

fn new_book(folder: &Path) -> Book {
    let book = Book::create(folder, identity(), false).unwrap();
    book.start_member(NOW).unwrap();
    write(&book, 0..10).unwrap();
    book
}

/// The name of an error; SQLite's code where it has none of its own.
fn name(error: &BookError) -> String {
    match error {
        BookError::Full => "Full".to_owned(),
        BookError::Locked => "Locked".to_owned(),
        BookError::Sqlite(e) => format!("{:?}", e.sqlite_error_code()),
        other => format!("{other:?}"),
    }
}

/// The place of a child, in whose process this is; `None` in the tests' own.
fn place() -> Option<PathBuf> {
    std::env::var_os(PLACE).map(PathBuf::from)
}

fn ready() {
    std::io::stdout().write_all(format!("\n{READY}\n").as_bytes()).unwrap();
}

/// The arguments by which the harness runs one test.
fn only(test: &str) -> [&str; 3] {
    [test, "--exact", "--nocapture"]
}

fn check(output: &Output) {
    let said = String::from_utf8_lossy(&output.stdout);
    let why = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success() && said.contains(READY), "{said}\n{why}");
}

fn is_root() -> bool {
    fs::metadata("/proc/self").unwrap().uid() == 0
}

/// A shell with mounts of its own, which nobody else sees and which end with it.
/// `$0` is the folder, `$1` this program.
fn in_own_mounts(folder: &Path, commands: &str) -> Option<Output> {
    let shell = |commands: &str| {
        let mut unshare = Command::new("unshare");
        if !is_root() {
            unshare.args(["--user", "--map-root-user"]);
        }
        unshare.args(["--mount", "sh", "-e", "-c", commands]).arg(folder);
        unshare.arg(std::env::current_exe().unwrap()).env(PLACE, folder).output()
    };
    if shell("mount -t tmpfs tmpfs \"$0\"").is_ok_and(|output| output.status.success()) {
        return Some(shell(commands).unwrap());
    }
    // That is the machine's to decide; a missing program is a fault where CI runs.
    let missing = Command::new("unshare").arg("--version").output().is_err();
    assert!(!missing || std::env::var("CI").as_deref() != Ok("true"), "unshare is missing");
    std::io::stderr().write_all(b"left out: this machine lets nobody mount a folder\n").unwrap();
    None
}

#[test]
fn child_fills_its_disk() {
    let Some(place) = place() else { return };
    let folder = place.join("book");
    let book = new_book(&folder);
    let ballast = place.join("ballast");
    fs::write(&ballast, vec![0; 200_000]).unwrap();
    let mut written = 10;
    let error = loop {
        match write(&book, written..written + 10) {
            Ok(()) => written += 10,
            Err(error) => break error,
        }
    };
    // A limit on the size of files is no full disk; SQLite takes it for a fault.
    let expected = std::env::var("PITSIDE_FAULT_CODE").unwrap();
    assert_eq!(name(&error), expected, "{error:?}");
    assert_eq!(count(&book), written as usize, "what was written can be read, all or nothing of a call");
    fs::remove_file(ballast).unwrap();
    // A file at its limit is smaller only after the log was folded into the other.
    book.close().unwrap();
    let book = Book::open(&folder, identity()).unwrap();
    assert_eq!(count(&book), written as usize);
    write(&book, written..written + 1).unwrap();
    book.rebuild().unwrap();
    assert_eq!(count(&book), written as usize + 1);
    ready();
}

#[test]
fn a_full_disk_is_told_and_nothing_acknowledged_is_lost() {
    let _turn = turn();
    let folder = TempDir::new().unwrap();
    let commands = "mount -t tmpfs -o size=1m tmpfs \"$0\"
        PITSIDE_FAULT_CODE=Full exec \"$1\" child_fills_its_disk --exact --nocapture";
    if let Some(output) = in_own_mounts(folder.path(), commands) {
        check(&output);
    }
}

#[test]
fn a_limit_on_the_size_of_files_is_told_and_nothing_acknowledged_is_lost() {
    let _turn = turn();
    let folder = TempDir::new().unwrap();
    // The signal ignored, the write fails instead. In blocks of 512 bytes.
    let commands = "trap '' XFSZ; ulimit -f 600; exec \"$0\" child_fills_its_disk --exact --nocapture";
    let mut shell = Command::new("sh");
    shell.args(["-e", "-c", commands]).arg(std::env::current_exe().unwrap());
    shell.env(PLACE, folder.path()).env("PITSIDE_FAULT_CODE", "Some(SystemIoFailure)");
    check(&shell.output().unwrap());
}

#[test]
fn child_makes_a_book() {
    let Some(place) = place() else { return };
    new_book(&place.join("book")).close().unwrap();
    ready();
}

#[test]
fn child_finds_its_file_system_read_only() {
    let Some(place) = place() else { return };
    for refused in
        [Book::open(&place.join("book"), identity()), Book::create(&place.join("another"), identity(), false)]
    {
        assert!(matches!(refused, Err(BookError::ReadOnly { .. })), "{refused:?}");
    }
    ready();
}

#[test]
fn a_read_only_file_system_is_told() {
    let _turn = turn();
    let folder = TempDir::new().unwrap();
    let commands = "mount -t tmpfs tmpfs \"$0\"
        \"$1\" child_makes_a_book --exact --nocapture
        mount -o remount,ro \"$0\"
        \"$1\" child_finds_its_file_system_read_only --exact --nocapture
        mount -o remount,rw \"$0\"
        \"$1\" child_finds_its_book_again --exact --nocapture";
    if let Some(output) = in_own_mounts(folder.path(), commands) {
        check(&output);
        let said = String::from_utf8_lossy(&output.stdout).matches(READY).count();
        assert_eq!(said, 3, "each of the three did its part");
    }
}

#[test]
fn child_finds_its_book_again() {
    let Some(place) = place() else { return };
    let book = Book::open(&place.join("book"), identity()).unwrap();
    assert_eq!(count(&book), 10);
    write(&book, 10..11).unwrap();
    ready();
}

#[test]
fn child_takes_its_own_rights_away() {
    let Some(place) = place() else { return };
    let folder = place.join("book");
    new_book(&folder).close().unwrap();
    let file = folder.join(FILE);
    for (path, closed, open) in [(&file, 0o400, 0o600), (&folder, 0o500, 0o700)] {
        fs::set_permissions(path, Permissions::from_mode(closed)).unwrap();
        let refused = Book::open(&folder, identity());
        assert!(matches!(refused, Err(BookError::ReadOnly { .. })), "{closed:o}: {refused:?}");
        fs::set_permissions(path, Permissions::from_mode(open)).unwrap();
    }
    let book = Book::open(&folder, identity()).unwrap();
    assert_eq!(count(&book), 10);
    write(&book, 10..11).unwrap();
    ready();
}

#[test]
fn a_file_and_a_folder_without_the_right_to_write_are_told() {
    let _turn = turn();
    let folder = TempDir::new().unwrap();
    fs::set_permissions(folder.path(), Permissions::from_mode(0o777)).unwrap();
    // Where others may come to it, whoever they are.
    let program = folder.path().join("program");
    fs::copy(std::env::current_exe().unwrap(), &program).unwrap();
    let mut child = Command::new(program);
    child.args(only("child_takes_its_own_rights_away")).env(PLACE, folder.path());
    if is_root() {
        // Rights do not bind the superuser. This is nobody.
        child.uid(65_534).gid(65_534);
    }
    let output = child.output().unwrap();
    check(&output);
}

/// Another process that holds something until it is let go.
struct Holder {
    child: Child,
    /// Kept, so that what the harness says at the end goes somewhere.
    _said: BufReader<ChildStdout>,
}

impl Holder {
    fn new(test: &str, place: &Path) -> Self {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(only(test))
            .env(PLACE, place)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut said = BufReader::new(child.stdout.take().unwrap());
        let is_ready = said.by_ref().lines().any(|line| line.unwrap() == READY);
        assert!(is_ready, "the other process did not come that far");
        Self { child, _said: said }
    }
    fn let_go(mut self) {
        drop(self.child.stdin.take());
        assert!(self.child.wait().unwrap().success());
    }
}

fn hold_until_let_go() {
    ready();
    std::io::stdin().lines().for_each(drop);
}

#[test]
fn child_holds_the_book() {
    let Some(place) = place() else { return };
    let _book = Book::open(&place, identity()).unwrap();
    hold_until_let_go();
}

#[test]
fn child_holds_the_lock_for_writing() {
    let Some(place) = place() else { return };
    let sqlite = Connection::open(place.join(FILE)).unwrap();
    sqlite.execute_batch("BEGIN IMMEDIATE").unwrap();
    hold_until_let_go();
}

#[test]
fn child_holds_the_file_for_itself() {
    let Some(place) = place() else { return };
    let sqlite = Connection::open(place.join(FILE)).unwrap();
    sqlite.execute_batch("PRAGMA locking_mode = EXCLUSIVE; BEGIN IMMEDIATE").unwrap();
    hold_until_let_go();
}

#[test]
fn a_book_that_another_process_has_open_is_told() {
    let _turn = turn();
    let folder = TempDir::new().unwrap();
    new_book(folder.path()).close().unwrap();
    let holder = Holder::new("child_holds_the_book", folder.path());
    let refused = Book::open(folder.path(), identity());
    assert!(matches!(refused, Err(BookError::InUse(_))), "{refused:?}");
    holder.let_go();
    assert_eq!(count(&Book::open(folder.path(), identity()).unwrap()), 10);
}

#[test]
fn a_lock_held_by_another_process_is_told_and_reading_goes_on() {
    let _turn = turn();
    let folder = TempDir::new().unwrap();
    let book = new_book(folder.path());
    let holder = Holder::new("child_holds_the_lock_for_writing", folder.path());
    let refused = write(&book, 10..11).unwrap_err();
    assert!(matches!(refused, BookError::Locked), "{refused:?}");
    assert_eq!(count(&book), 10);
    holder.let_go();
    write(&book, 10..11).unwrap();
    assert_eq!(count(&book), 11);
}

#[test]
fn a_file_held_by_another_process_is_told() {
    let _turn = turn();
    let folder = TempDir::new().unwrap();
    new_book(folder.path()).close().unwrap();
    let holder = Holder::new("child_holds_the_file_for_itself", folder.path());
    let refused = Book::open(folder.path(), identity()).unwrap_err();
    assert!(matches!(refused, BookError::Locked), "{refused:?}");
    holder.let_go();
    assert_eq!(count(&Book::open(folder.path(), identity()).unwrap()), 10);
}
