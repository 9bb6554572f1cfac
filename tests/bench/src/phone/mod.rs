//! What a phone does most, called from Kotlin by JNA and from Rust: opening a book of five
//! years, drawing its first screen, and writing a set down.

use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use pitside_screen::record::SetForm;
use pitside_screen::{Companion, Env, SessionForm};

use crate::Failure;
use crate::measure::{Figures, child, machine, median};
use crate::table::{Table, Unit};

/// Sessions of five years, and how many days lie between two.
const SESSIONS: i64 = 750;
const DAYS_BETWEEN: f64 = 365.25 * 5.0 / SESSIONS as f64;
/// Exercises that change from session to session, and sets of each that is done.
const EXERCISES: usize = 8;
const SETS: u16 = 5;
/// Calls of which the median counts.
const CALLS: usize = 31;
/// The key of the invented phone; the Kotlin side has the same.
const SEED: [u8; 32] = {
    let mut seed = [0; 32];
    let mut at = 0;
    while at < 32 {
        seed[at] = at as u8 + 1;
        at += 1;
    }
    seed
};

/// Wednesday 25 November 2026, 9:00 at an invented ground one hour east of UTC, so many
/// days before.
fn env(days_before: f64) -> Env {
    let now_ms = 1_795_593_600_000 - (days_before * 86_400_000.0) as i64;
    Env { language: "en".to_owned(), zone_min: 60, hour24: true, now_ms }
}

/// One piece of work in this process: `write` makes the book, `calls` measures it.
pub fn work(what: &str, folder: &Path) -> Result<Figures, Failure> {
    let text = folder.to_str().ok_or("a path that is no text")?;
    match what {
        "write" => write(text),
        "calls" => calls(text),
        _ => Err(format!("no work phone {what}").into()),
    }
}

/// An athlete's book of five years.
fn write(folder: &str) -> Result<Figures, Failure> {
    let first = SESSIONS as f64 * DAYS_BETWEEN;
    let phone = Companion::open(folder, SEED.to_vec(), &env(first))?;
    let screen = phone.log_set(&env(first))?;
    let mut forms: Vec<SetForm> = Vec::new();
    for session in 0..SESSIONS {
        let env = env(first - session as f64 * DAYS_BETWEEN);
        let form = SessionForm { purpose: "Jumps".to_owned(), ..SessionForm::default() };
        let place = phone.begin_session(&env, "", &form)?;
        if forms.is_empty() {
            // Those that need neither a box nor a run-in to be said.
            for exercise in &screen.exercises {
                let form =
                    SetForm { exercise: exercise.id.clone(), sets: SETS, reps: 8, ..SetForm::default() };
                if forms.len() < EXERCISES && phone.save_sets(&env, &place, &form).is_ok() {
                    forms.push(form);
                }
            }
            continue;
        }
        for more in 0..2 {
            let at = (session as usize * 2 + more) % forms.len();
            phone.save_sets(&env, &place, &forms[at])?;
        }
    }
    let mut figures = Figures::default();
    figures.put("sets", SESSIONS as f64 * 2.0 * f64::from(SETS));
    Ok(figures)
}

/// Opens a book and calls it, from Rust.
fn calls(folder: &str) -> Result<Figures, Failure> {
    let env = env(0.0);
    let begun = Instant::now();
    let phone = Companion::open(folder, SEED.to_vec(), &env)?;
    let mut figures = Figures::default();
    figures.put("open", begun.elapsed().as_secs_f64());
    let begun = Instant::now();
    phone.today(&env)?;
    figures.put("first", begun.elapsed().as_secs_f64());
    let form = phone.log_set(&env)?.form;
    figures.put("screen", middle(|| phone.today(&env).map(drop))?);
    figures.put("form", middle(|| phone.log_set(&env).map(drop))?);
    figures.put("action", middle(|| phone.log_today(&env, "", &form).map(drop))?);
    Ok(figures)
}

/// The median time of some calls.
fn middle<E>(mut call: impl FnMut() -> Result<(), E>) -> Result<f64, E> {
    let mut times = Vec::with_capacity(CALLS);
    for _ in 0..CALLS {
        let begun = Instant::now();
        call()?;
        times.push(begun.elapsed().as_secs_f64());
    }
    times.sort_by(f64::total_cmp);
    Ok(times[CALLS / 2])
}

/// The same from Kotlin, in a JVM of its own.
fn from_kotlin(classes: &str, library: &Path, folder: &Path) -> Result<Figures, Failure> {
    let library = library.parent().ok_or("a library in no folder")?;
    let mut java = Command::new("java");
    java.arg(format!("-Djna.library.path={}", library.display()));
    java.args(["-cp", classes, "pitside.phone.Measured"]).arg(folder).arg(CALLS.to_string());
    let output = java.stderr(Stdio::inherit()).output()?;
    if !output.status.success() {
        return Err(format!("the calls from Kotlin: {}", output.status).into());
    }
    Figures::from_text(&String::from_utf8(output.stdout)?)
}

/// Measures the library of a file with the Kotlin of a class path, and prints the table.
pub fn alone(repeats: u32, classes: &str, library: &Path) -> Result<(), Failure> {
    let near = std::env::current_exe()?;
    let ground = tempfile::TempDir::with_prefix_in("bench-", near.parent().ok_or("no folder")?)?;
    let whole = ground.path().join("whole");
    fs::create_dir(&whole)?;
    let path = |path: &Path| path.to_str().map(str::to_owned).ok_or("a path that is no text");
    let written = child(&["phone", "write", &path(&whole)?])?;
    let (mut rust, mut kotlin) = (Vec::new(), Vec::new());
    for run in 0..repeats {
        // Each writes sets into a book of its own.
        let copies = [format!("rust-{run}"), format!("kotlin-{run}")].map(|name| ground.path().join(name));
        for copy in &copies {
            fs::create_dir(copy)?;
            for file in fs::read_dir(&whole)? {
                let file = file?;
                fs::copy(file.path(), copy.join(file.file_name()))?;
            }
        }
        rust.push(child(&["phone", "calls", &path(&copies[0])?])?);
        kotlin.push(from_kotlin(classes, library, &copies[1])?);
    }
    let (rust, kotlin) = (median(&rust), median(&kotlin));
    let mut out = std::io::stdout();
    writeln!(out, "{}; {repeats} runs, the median of each", machine())?;
    let mut table = Table::default();
    table.alone("the library that phones load, x86-64", Unit::Bytes, fs::metadata(library)?.len() as f64);
    let book = format!("a book of five years, {} sets", written.get("sets")?);
    for (work, figure) in [
        ("open", "open"),
        ("its first screen for the first time", "first"),
        ("its first screen", "screen"),
        ("the form of a set", "form"),
        ("write a set down", "action"),
    ] {
        let line = format!("{book}: {work}");
        table.beside(&line, Unit::Seconds, kotlin.get(figure)?, "from Rust", rust.get(figure)?);
    }
    write!(out, "{}{NOTES}", table.to_text())?;
    Ok(())
}

/// What the table compares.
const NOTES: &str = "
The phone: the same calls of the same book, from Kotlin through JNA and from Rust without it. The
library is the one that phones load, built small (opt-level s) and without symbols, for this machine;
the Rust beside it is built for speed. The first call from Kotlin loads the library, so opening has
that in it. A set is durable when the call is back. No phone was measured.
";
