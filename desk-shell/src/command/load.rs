//! `pitside load`: the figures of daily loads, day by day.

use std::fs::File;
use std::io::Write;
use std::path::PathBuf;

use clap::ValueEnum;
use pitside_model::facts::Day;
use pitside_model::load::series::table::{self, Table, TableError};
use pitside_model::load::series::{Figures, MONTH, Series};
use pitside_model::table::SheetError;
use serde::Serialize;

use super::FILE_HINT;
use crate::failure::{Exit, Failure};

const MORE_HELP: &str = "\
The table names its columns in the first line: `date` (2026-11-25, each day once, oldest first)
and `load` (0 or more, in any one unit, such as rating times minutes, the day's sessions added up).
Commas, semicolons or tabs stand between them; other columns are passed over.

JSON keys (--json): days ({date, load, ewma7, ewma28, ratio_ewma, ratio_coupled,
ratio_uncoupled, monotony, strain}; null where undefined, before the window is full, and where a
day in it is not known). ewma7 and ewma28 (2/(N+1) for today) begin with the first day as their
seed, and ratio_ewma with them: for 28 days the seed weighs on it. After a day that is not known they begin
anew, and are null until 7 and 28 days in a row are known. ratio_coupled is the mean of 7 days
over that of 28, ratio_uncoupled over that of the 21 days before the 7. monotony is the mean of 7
days over their sample standard deviation, strain it times their sum.
A file that is no such table: {\"error\": \"...\"} and exit code 4.";

/// The arguments of `pitside load`.
#[derive(clap::Args)]
#[command(after_help = MORE_HELP)]
pub(crate) struct Args {
    /// The table: one row a day
    file: PathBuf,
    /// What a day was that has no load: its date left out between two others, or its cell
    /// empty. Left out: such a day is an error
    #[arg(long, value_name = "WHAT")]
    missing: Option<Missing>,
    /// Print JSON
    #[arg(long)]
    json: bool,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Missing {
    /// A day of rest: 0
    Rest,
    /// Not known: it makes every figure over it incomplete
    Unknown,
}

impl From<Missing> for table::Missing {
    fn from(missing: Missing) -> Self {
        match missing {
            Missing::Rest => Self::Rest,
            Missing::Unknown => Self::Unknown,
        }
    }
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let shown = args.file.display();
    let table = File::open(&args.file)
        .map_err(|error| (format!("{shown} cannot be opened: {error}"), FILE_HINT))
        .and_then(|file| {
            Table::read(file, args.missing.map(table::Missing::from))
                .map_err(|error| (format!("{shown}: {error}"), table_hint(&error)))
        });
    let table = match table {
        Ok(table) => table,
        Err((wrong, hint)) => {
            if args.json {
                serde_json::to_writer(&mut *out, &serde_json::json!({ "error": wrong }))?;
                writeln!(out)?;
            }
            return Err(Failure::new(Exit::NotAClip, wrong).hint(hint));
        }
    };
    let series: Series = table.loads().iter().copied().collect();
    let days = || table.iter().map(|(day, _)| day).zip(series.iter());
    if args.json {
        let report = Report { days: days().map(|(day, figures)| DayReport::of(day, figures)).collect() };
        serde_json::to_writer(&mut *out, &report)?;
        writeln!(out)?;
    } else {
        print(days(), out)?;
    }
    Ok(())
}

/// What a person can do about a table that is not read.
fn table_hint(error: &TableError) -> &'static str {
    match error {
        TableError::LeftOut { .. } | TableError::Blank { .. } => {
            "write 0 where it was rest; if all such days were, say --missing rest, and --missing unknown if you cannot tell"
        }
        TableError::Sheet(SheetError::Io { .. }) => FILE_HINT,
        _ => {
            "save the sheet as CSV with the columns date and load; pitside load --help says how they are read"
        }
    }
}

/// The answer as JSON. The keys are documented in `--help` and stay.
#[derive(Serialize)]
struct Report {
    days: Vec<DayReport>,
}

#[derive(Serialize)]
struct DayReport {
    date: String,
    load: Option<f64>,
    ewma7: Option<f64>,
    ewma28: Option<f64>,
    ratio_ewma: Option<f64>,
    ratio_coupled: Option<f64>,
    ratio_uncoupled: Option<f64>,
    monotony: Option<f64>,
    strain: Option<f64>,
}

impl DayReport {
    fn of(day: Day, figures: &Figures) -> Self {
        Self {
            date: day.to_string(),
            load: figures.load,
            ewma7: figures.ewma_7,
            ewma28: figures.ewma_28,
            ratio_ewma: figures.ratio_ewma,
            ratio_coupled: figures.ratio_coupled,
            ratio_uncoupled: figures.ratio_uncoupled,
            monotony: figures.monotony,
            strain: figures.strain,
        }
    }
}

/// The names over the table's columns, and how wide they are.
const COLUMNS: [(&str, usize); 11] = [
    ("date", 10),
    ("load", 9),
    ("7 days", 10),
    ("28 days", 10),
    ("ewma 7", 9),
    ("ewma 28", 9),
    ("monotony", 9),
    ("strain", 10),
    ("ratio", 6),
    ("coupled", 8),
    ("uncoupled", 10),
];

fn print<'a>(days: impl Iterator<Item = (Day, &'a Figures)>, out: &mut dyn Write) -> std::io::Result<()> {
    let mut line = |cells: [String; COLUMNS.len()]| {
        let cells = cells.iter().zip(COLUMNS);
        let padded: Vec<String> = cells.map(|(cell, (_, width))| format!("{cell:>width$}")).collect();
        writeln!(out, "{}", padded.join(" "))
    };
    line(COLUMNS.map(|(name, _)| name.to_owned()))?;
    for (day, figures) in days {
        let enough = figures.averaged_days as usize >= MONTH;
        line([
            day.to_string(),
            figures.load.map_or_else(|| "unknown".to_owned(), |load| round(load, 1)),
            cell(figures.sum_7, 1),
            cell(figures.sum_28, 1),
            cell(figures.ewma_7, 1),
            cell(figures.ewma_28, 1),
            cell(figures.monotony, 2),
            cell(figures.strain, 0),
            cell(figures.ratio_ewma.filter(|_| enough), 2),
            cell(figures.ratio_coupled, 2),
            cell(figures.ratio_uncoupled, 2),
        ])?;
    }
    writeln!(out, "{NOTES}")
}

/// What stands below the table.
const NOTES: &str = "
A dash: not enough days yet, a day among them that is not known, or nothing to divide by.
Monotony is the mean of 7 days over their sample standard deviation; strain is it times their sum.
Averages (ewma) begin with the first day, which weighs on them for weeks. The ratios are ewma 7 over
28, the mean of 7 days over that of 28, and over that of the 21 days before the 7. They describe, and
predict nothing: over a fixed or a random number, the week's load goes with injuries nearly as well
(Impellizzeri et al. 2020, Sports Med, doi 10.1007/s40279-020-01378-6). No range of them is a goal or a permission.";

fn cell(figure: Option<f64>, decimals: usize) -> String {
    figure.map_or_else(|| "-".to_owned(), |figure| round(figure, decimals))
}

fn round(figure: f64, decimals: usize) -> String {
    format!("{figure:.decimals$}")
}
