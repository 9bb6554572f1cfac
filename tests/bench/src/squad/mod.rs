//! The squad board: week totals by kind of an invented squad over five years, beside
//! the same sums in polars and DuckDB.

mod ours;
mod peer;
mod season;

use std::io::Write as _;
use std::path::Path;

use crate::Failure;
use crate::measure::{Figures, child, median};
use crate::table::{Table, Unit};

use peer::Peers;

/// How many athletes a squad has.
const SQUADS: [u32; 2] = [25, 250];
/// Runs within one process, of which the median counts.
const RUNS: u32 = 5;

/// One piece of work in this process: `rows` writes the table that the peers load,
/// `board` measures ours.
pub fn work(what: &str, athletes: &str, path: &Path) -> Result<Figures, Failure> {
    let athletes = athletes.parse()?;
    match what {
        "rows" => ours::write_rows(athletes, path),
        "board" => ours::measure(athletes, RUNS),
        _ => Err(format!("no work squad {what}").into()),
    }
}

/// Measures all and adds the lines to the table.
pub fn measure(table: &mut Table, repeats: u32) -> Result<(), Failure> {
    let peers = match Peers::prepare() {
        Ok(peers) => peers,
        Err(why) => {
            writeln!(std::io::stderr(), "left out, the squad board: no polars and DuckDB: {why}")?;
            return Ok(());
        }
    };
    for athletes in SQUADS {
        let rows = peers.folder().join(format!("squad-{athletes}.csv"));
        let rows = rows.to_str().ok_or("a path that is no text")?;
        let count = athletes.to_string();
        let written = child(&["squad", "rows", &count, rows])?;
        let run = || child(&["squad", "board", &count, rows]);
        let ours = median(&(0..repeats).map(|_| run()).collect::<Result<Vec<_>, _>>()?);
        same(&written, &ours)?;
        let name = format!("{athletes} athletes, {} sets", ours.get("sets")?);
        for peer in peers.names() {
            let run = || peers.run(peer, Path::new(rows), RUNS);
            let theirs = median(&(0..repeats).map(|_| run()).collect::<Result<Vec<_>, _>>()?);
            same(&written, &theirs)?;
            for (work, own, other) in [
                ("all week totals from the sets' totals", "sums", "full"),
                ("… processor time", "sums-processor", "full-processor"),
                ("… computing every contact, too", "full", "full"),
                ("… processor time", "full-processor", "full-processor"),
                ("one set more, against all anew", "update", "full"),
                ("one set more, against its week anew", "update", "week"),
            ] {
                let line = format!("{name}: {work}");
                table.beside(&line, Unit::Seconds, ours.get(own)?, peer, theirs.get(other)?);
            }
        }
    }
    Ok(())
}

/// Whether two have come to the same groups and sums.
fn same(one: &Figures, other: &Figures) -> Result<(), Failure> {
    for figure in ["groups", "contacts", "energy", "hardest"] {
        let (one, other) = (one.get(figure)?, other.get(figure)?);
        if one != other {
            return Err(format!("{figure}: {one} here, {other} there").into());
        }
    }
    Ok(())
}

/// The squad board alone.
pub fn alone(repeats: u32) -> Result<(), Failure> {
    let mut out = std::io::stdout();
    writeln!(out, "{}; {repeats} runs, the median of each", crate::measure::machine())?;
    let mut table = Table::default();
    measure(&mut table, repeats)?;
    write!(out, "{}{NOTES}", table.to_text())?;
    Ok(())
}

/// What the table compares.
pub const NOTES: &str = "
The squad board: the peers add up rows of one set and kind that are in their memory as columns, on
all cores; ours adds up the totals of each set, athlete by athlete, on one. Groups, contacts,
energies and hardest contacts were found the same. Computing the contacts is work that no peer does.
One set more: ours takes it into its day and week; a peer is given the row and adds up all, or only
the rows of that athlete and week.
";
