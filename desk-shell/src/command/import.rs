//! `pitside import`: a training log out of a spreadsheet. It says first, line by
//! line, what would be taken; it writes all of it or nothing.

use std::fs::File;
use std::io::Write;
use std::path::PathBuf;

use pitside_book::clock::{Clock, SystemClock};
use pitside_model::import::{Column, Columns, Log, LogError};
use pitside_model::table::{SheetError, shown};
use pitside_screen::import::{Counts, Naming, Newcomer, Outcome, Plan, PlannedLine, Reason, Taken};
use serde::Serialize;

use super::FILE_HINT;
use crate::device::Where;
use crate::failure::{Exit, Failure};
use crate::lookup;

const MORE_HELP: &str = "\
One row is one or several sets alike, a rest day, or what is known of a session. The first line
names the columns, in any order, in letters of either case; others are passed over and named.
  date         2026-11-25; needed in every row
  athlete      by name, as the squad calls them; needed unless --member says whose rows they are
  exercise     by name, as pitside log --exercises lists them
  sets         sets alike, 1 to 50 (left out: 1)
  reps         repetitions of each set, 1 to 500; needed with an exercise
  contacts     contacts of each repetition, 1 to 300, where not as the exercise says
  leg          left, right, both, alternate-left or alternate-right (left out: as usual)
  box cm       height of the box, 0 to 200
  strides      strides of the run-in, 1 to 30; or
  run-in m     its length, 0.5 to 60
  load kg      outside load, 0 to 200
  last 10 m s  the last 10 m of the run-in, timed in seconds
  cue          short or high: what was asked for
  warm-up      yes for a drill of the warm-up
  rest         yes for a rest day; the row has nothing else then
Of the session as a whole, in any of its rows, and not two things in two rows:
  start        17:30; tells two sessions of a day apart
  purpose, place, weather   up to 80 letters
  surface      track, grass, hall, sand, mat or hard
  shoes        spikes, flats or bare
  rpe, minutes 0 to 10 in tenths, and 1 to 600: both or neither
Rows of one athlete and day, and of one start where that is said, are one session.

Commas, semicolons or tabs stand between cells; a cell that holds one stands in quotation marks, on
one line. Numbers have a decimal point or a decimal comma, one of them throughout. Dates of other
forms are refused, since which part is the month is not guessed, and so are days to come. At most 16 MiB, 100 000 rows and
200 000 sets are read.

What is in the book already (same athlete, day, time, exercise and numbers) is not taken twice, so
the same table may be brought again after more was written into it. What the book says of a
session stays. Where one line is refused nothing is written.

Example, two athletes of an invented squad:
  date,athlete,exercise,sets,reps,box cm,run-in m,leg,purpose,rpe,minutes,rest
  2025-03-02,Ino Vale,\"Pogo, two legs\",3,10,,,,short contacts,6,70,
  2025-03-02,Ino Vale,Drop jump,4,5,30,,,,,,
  2025-03-02,Mara Quill,One-leg hops with a run-in,4,5,,12.5,left,hops,7,65,
  2025-03-03,Ino Vale,,,,,,,,,,yes

JSON keys (--json): file, written, lines ({line, outcome: taken|there|refused, date, athlete,
exercise, sets, sets_there, session, rating, rest_day, reasons: [{column, number, text}], notes}),
passed_over ({number, name}), newcomers ({name, line, nearest}), counts ({taken, there, refused,
newcomers, sessions, sets, ratings, rest_days}). A file that is no such table: {\"error\": \"...\"}
and exit code 4. A line that is refused: exit code 3.";

/// The arguments of `pitside import`.
#[derive(clap::Args)]
#[command(after_help = MORE_HELP)]
pub(crate) struct Args {
    /// The table
    file: PathBuf,
    #[command(flatten)]
    at: Where,
    /// Write it. Left out: only say what would be taken and what would be refused
    #[arg(long)]
    write: bool,
    /// Put athletes whose names are not known on the roster (a coach's book)
    #[arg(long)]
    new_members: bool,
    /// Whose rows those are that name nobody, by name, or "me"
    #[arg(long, value_name = "NAME")]
    member: Option<String>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let path = args.file.display();
    let log = File::open(&args.file)
        .map_err(|error| (format!("{path} cannot be opened: {error}"), FILE_HINT))
        .and_then(|file| Log::read(file).map_err(|error| (format!("{path}: {error}"), hint(&error))));
    let log = match log {
        Ok(log) => log,
        Err((wrong, hint)) => {
            if args.json {
                serde_json::to_writer(&mut *out, &serde_json::json!({ "error": wrong }))?;
                writeln!(out)?;
            }
            return Err(Failure::new(Exit::NotAClip, wrong).hint(hint));
        }
    };
    let book = args.at.open()?;
    let unnamed = args.member.as_deref().map(|name| lookup::member(&book, name)).transpose()?;
    let now = SystemClock.now();
    let naming = Naming { unnamed, new_members: args.new_members };
    let plan = Plan::new(&book, &log, naming, now.day())?;
    let written = args.write && !plan.is_refused();
    if written {
        plan.write(&book, now)?;
    } else if !plan.is_refused() {
        plan.rehearse(&book, now)?;
    }
    if args.json {
        serde_json::to_writer(&mut *out, &Report::of(args, &log, &plan, written))?;
        writeln!(out)?;
    } else {
        print(&log, &plan, written, out)?;
    }
    match plan.counts().refused {
        0 => Ok(()),
        refused => {
            let lines = counted(refused, "line is", "lines are");
            let mut reasons = plan.lines().iter().filter_map(|line| match &line.outcome {
                Outcome::Refused(reasons) => Some(reasons),
                _ => None,
            });
            let unknown = reasons.any(|all| all.iter().any(|why| matches!(why, Reason::Nobody { .. })));
            let hint = if unknown {
                "correct the table, or put those who are missing on the roster with --new-members"
            } else {
                "correct the table, then call it once more"
            };
            Err(Failure::new(Exit::Refused, format!("{lines} refused, so nothing was written")).hint(hint))
        }
    }
}

/// What a person can do about a table that is not read.
fn hint(error: &LogError) -> &'static str {
    match error {
        LogError::Sheet(SheetError::Io { .. }) => FILE_HINT,
        LogError::TooManyRows { .. } | LogError::TooManySets { .. } => {
            "divide the table, for instance by year, and bring one part after the other"
        }
        _ => "save the sheet as CSV with a column date; pitside import --help says which others there are",
    }
}

fn counted(n: u64, one: &str, several: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { several })
}

fn print(log: &Log, plan: &Plan, written: bool, out: &mut dyn Write) -> std::io::Result<()> {
    for line in plan.lines() {
        write!(out, "line {:<5}", line.line)?;
        if let Some(day) = line.day {
            write!(out, " {day}")?;
        }
        for named in [&line.athlete, &line.exercise].into_iter().flatten() {
            write!(out, " {},", shown(named))?;
        }
        match &line.outcome {
            Outcome::Taken(taken) => writeln!(out, " {}", told(*taken))?,
            Outcome::There => writeln!(out, " already there")?,
            Outcome::Refused(reasons) => {
                let reasons: Vec<String> = reasons.iter().map(Reason::to_string).collect();
                writeln!(out, " refused: {}", reasons.join("; "))?;
            }
        }
        for note in &line.notes {
            writeln!(out, "           {note}")?;
        }
    }
    for (number, name) in &log.passed_over {
        writeln!(out, "Passed over: column {number}, `{name}`")?;
    }
    for newcomer in plan.newcomers() {
        write!(out, "New on the roster: {} (line {}", shown(&newcomer.name), newcomer.line)?;
        match newcomer.nearest.as_slice() {
            [] => writeln!(out, ")")?,
            nearest => writeln!(out, "; is it one of these? {})", nearest.join(", "))?,
        }
    }
    let counts = plan.counts();
    writeln!(
        out,
        "{}: {} taken, {} already there, {} refused",
        counted(plan.lines().len() as u64, "line", "lines"),
        counts.taken,
        counts.there,
        counts.refused
    )?;
    let added = [
        (counts.newcomers, "new athlete", "new athletes"),
        (counts.sessions, "session", "sessions"),
        (counts.sets, "set", "sets"),
        (counts.ratings, "rating", "ratings"),
        (counts.rest_days, "rest day", "rest days"),
    ];
    let added: Vec<String> = added
        .into_iter()
        .filter(|(n, ..)| *n > 0)
        .map(|(n, one, several)| counted(n, one, several))
        .collect();
    match (plan.is_refused(), added.as_slice()) {
        (true, _) => writeln!(out, "Nothing was written."),
        (false, []) => writeln!(out, "Nothing is new."),
        (false, added) if written => writeln!(out, "Written: {}.", added.join(", ")),
        (false, added) => {
            writeln!(out, "Nothing was written yet. With --write: {}.", added.join(", "))
        }
    }
}

/// What is taken of a line, in words.
fn told(taken: Taken) -> String {
    let mut words = Vec::new();
    if taken.sets > 0 {
        words.push(counted(taken.sets.into(), "set", "sets"));
    }
    if taken.sets_there > 0 {
        words.push(format!("{} already there", taken.sets_there));
    }
    for (is, word) in
        [(taken.session, "a new session"), (taken.rating, "its rating"), (taken.rest_day, "rest day")]
    {
        if is {
            words.push(word.to_owned());
        }
    }
    words.join(", ")
}

/// The answer as JSON. The keys are documented in `--help` and stay.
#[derive(Serialize)]
struct Report<'a> {
    file: String,
    written: bool,
    lines: Vec<LineReport<'a>>,
    passed_over: Vec<ColumnReport<'a>>,
    newcomers: Vec<NewcomerReport<'a>>,
    counts: CountsReport,
}

#[derive(Serialize)]
struct LineReport<'a> {
    line: u64,
    outcome: &'static str,
    date: Option<String>,
    athlete: Option<&'a str>,
    exercise: Option<&'a str>,
    sets: u16,
    sets_there: u16,
    session: bool,
    rating: bool,
    rest_day: bool,
    reasons: Vec<ReasonReport>,
    notes: Vec<String>,
}

#[derive(Serialize)]
struct ReasonReport {
    column: Option<&'static str>,
    number: Option<usize>,
    text: String,
}

#[derive(Serialize)]
struct ColumnReport<'a> {
    number: usize,
    name: &'a str,
}

#[derive(Serialize)]
struct NewcomerReport<'a> {
    name: &'a str,
    line: u64,
    nearest: &'a [String],
}

#[derive(Serialize)]
struct CountsReport {
    taken: u64,
    there: u64,
    refused: u64,
    newcomers: u64,
    sessions: u64,
    sets: u64,
    ratings: u64,
    rest_days: u64,
}

impl<'a> Report<'a> {
    fn of(args: &Args, log: &'a Log, plan: &'a Plan, written: bool) -> Self {
        let column = |(number, name): &'a (usize, String)| ColumnReport { number: *number, name };
        Self {
            file: args.file.display().to_string(),
            written,
            lines: plan.lines().iter().map(|line| LineReport::of(&log.columns, line)).collect(),
            passed_over: log.passed_over.iter().map(column).collect(),
            newcomers: plan.newcomers().iter().map(NewcomerReport::of).collect(),
            counts: plan.counts().into(),
        }
    }
}

impl<'a> LineReport<'a> {
    fn of(columns: &Columns, line: &'a PlannedLine) -> Self {
        let (outcome, taken, reasons) = match &line.outcome {
            Outcome::Taken(taken) => ("taken", *taken, &[][..]),
            Outcome::There => ("there", Taken::default(), &[][..]),
            Outcome::Refused(reasons) => ("refused", Taken::default(), reasons.as_slice()),
        };
        Self {
            line: line.line,
            outcome,
            date: line.day.map(|day| day.to_string()),
            athlete: line.athlete.as_deref(),
            exercise: line.exercise.as_deref(),
            sets: taken.sets,
            sets_there: taken.sets_there,
            session: taken.session,
            rating: taken.rating,
            rest_day: taken.rest_day,
            reasons: reasons.iter().map(|reason| ReasonReport::of(columns, reason)).collect(),
            notes: line.notes.iter().map(ToString::to_string).collect(),
        }
    }
}

impl ReasonReport {
    fn of(columns: &Columns, reason: &Reason) -> Self {
        let column = reason.column();
        Self {
            column: column.map(Column::name),
            number: column.and_then(|column| columns.number(column)),
            text: reason.to_string(),
        }
    }
}

impl<'a> NewcomerReport<'a> {
    fn of(newcomer: &'a Newcomer) -> Self {
        Self { name: &newcomer.name, line: newcomer.line, nearest: &newcomer.nearest }
    }
}

impl From<Counts> for CountsReport {
    fn from(counts: Counts) -> Self {
        let Counts { taken, there, refused, newcomers, sessions, sets, ratings, rest_days } = counts;
        Self { taken, there, refused, newcomers, sessions, sets, ratings, rest_days }
    }
}
