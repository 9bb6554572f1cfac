//! Our board: week totals kept up athlete by athlete and day by day.

use std::collections::{BTreeMap, HashMap};
use std::fs::File;
use std::hint::black_box;
use std::io::{BufWriter, Write as _};
use std::path::Path;
use std::time::Instant;

use pitside_model::facts::Day;
use pitside_model::load::course::{Course, DayRecord};
use pitside_model::load::performed::Side;
use pitside_model::load::session::Totals;

use super::season::{DoneSet, Season, set};
use crate::Failure;
use crate::measure::{Figures, Watch, median};
use crate::workload::Random;

/// Sets that are added one by one while one is timed.
const MORE: u32 = 1_000;

type Board = BTreeMap<u32, Course>;

/// What a set comes to, once for all sets alike.
struct Pool(HashMap<(usize, u16, Side), Totals>);

impl Pool {
    fn of(season: &Season) -> Result<Self, Failure> {
        let mut pool = HashMap::new();
        for set in &season.sets {
            let alike = (set.exercise, set.reps, set.leg);
            if !pool.contains_key(&alike) {
                pool.insert(alike, Totals::of(&[season.performed(set)])?);
            }
        }
        Ok(Self(pool))
    }

    fn get(&self, set: &DoneSet) -> Result<&Totals, Failure> {
        self.0.get(&(set.exercise, set.reps, set.leg)).ok_or_else(|| "a set of the season".into())
    }
}

/// Measures recomputing all and one set more.
pub fn measure(athletes: u32, runs: u32) -> Result<Figures, Failure> {
    let season = Season::of(athletes)?;
    let pool = Pool::of(&season)?;
    let totals: Vec<&Totals> = season.sets.iter().map(|set| pool.get(set)).collect::<Result<_, _>>()?;
    let mut figures = Vec::new();
    for run in 0..runs {
        let mut run_figures = Figures::default();
        let mut watch = Watch::default();
        let board = watch.run(|| {
            built(&season, |record, at, _| {
                record.totals.add(totals[at]);
                Ok(())
            })
        })?;
        watch.put(&mut run_figures, "sums");
        let summed = checks(&board);
        drop(board);
        let mut watch = Watch::default();
        let mut board = watch.run(|| {
            built(&season, |record, _, set| {
                Ok(record.add_set(season.id(set), &season.performed(set), false)?)
            })
        })?;
        watch.put(&mut run_figures, "full");
        let found = checks(&board);
        for figure in ["groups", "contacts", "energy", "hardest"] {
            if summed.get(figure)? != found.get(figure)? {
                return Err(format!("{figure} of the two ways differ").into());
            }
            run_figures.put(figure, found.get(figure)?);
        }
        let mut random = Random(u64::from(run) + 1_000_000);
        let mut more = Vec::new();
        for _ in 0..MORE {
            let some = season.sets[usize::try_from(random.below(season.sets.len() as u64))?];
            more.push(set(some.athlete, some.day, &season.exercises, &mut random)?);
        }
        let begun = Instant::now();
        for set in &more {
            let course = board.get_mut(&set.athlete).ok_or("an athlete")?;
            let mut record = course.day(set.day).cloned().unwrap_or_default();
            record.add_set(season.id(set), &season.performed(set), false)?;
            course.put(set.day, Some(record));
        }
        run_figures.put("update", begun.elapsed().as_secs_f64() / f64::from(MORE));
        black_box(&board);
        figures.push(run_figures);
    }
    let mut figures = median(&figures);
    figures.put("sets", season.sets.len() as f64);
    Ok(figures)
}

/// The board of a season; `add` adds a set, with its place, to its day.
fn built(
    season: &Season,
    mut add: impl FnMut(&mut DayRecord, usize, &DoneSet) -> Result<(), Failure>,
) -> Result<Board, Failure> {
    let mut board = Board::new();
    let mut at = 0;
    for sets in season.sets.chunk_by(|a, b| (a.athlete, a.day) == (b.athlete, b.day)) {
        let mut record = DayRecord { sessions: 1, unrated: 1, ..DayRecord::default() };
        for set in sets {
            add(&mut record, at, set)?;
            at += 1;
        }
        board.entry(sets[0].athlete).or_default().put(sets[0].day, Some(record));
    }
    Ok(board)
}

/// By what it is seen that two have added up the same.
fn checks(board: &Board) -> Figures {
    let (mut groups, mut contacts, mut energy, mut hardest) = (0_u64, 0_u64, 0_u64, 0_u64);
    for course in board.values() {
        let mut mondays: Vec<Day> = course.days(Day::FIRST, Day::LAST).map(|(day, _)| day.monday()).collect();
        mondays.dedup();
        for week in mondays.iter().filter_map(|monday| course.week(*monday)) {
            for (_, total) in week.totals.iter() {
                groups += 1;
                contacts += total.contacts;
                energy += total.energy_uj_per_kg();
                hardest += total.hardest.as_ref().map_or(0, |hardest| hardest.energy_uj_per_kg_per_leg);
            }
        }
    }
    let mut figures = Figures::default();
    // Below 2^53, so as exact as the integers.
    figures.put("groups", groups as f64);
    figures.put("contacts", contacts as f64);
    figures.put("energy", energy as f64);
    figures.put("hardest", hardest as f64);
    figures
}

/// Writes the rows that the peers load, one a set and kind; gives what they come to.
pub fn write_rows(athletes: u32, path: &Path) -> Result<Figures, Failure> {
    let season = Season::of(athletes)?;
    let pool = Pool::of(&season)?;
    let mut out = BufWriter::new(File::create(path)?);
    writeln!(
        out,
        "athlete,week,kind,contacts,two_leg,timed,estimated,system,left_contacts,left_energy,right_contacts,right_energy,hardest"
    )?;
    for set in &season.sets {
        let week = set.day.monday().number();
        for (kind, total) in pool.get(set)?.iter() {
            let hardest = total.hardest.as_ref().map_or(0, |hardest| hardest.energy_uj_per_kg_per_leg);
            writeln!(
                out,
                "{},{week},{},{},{},{},{},{},{},{},{},{},{hardest}",
                set.athlete,
                kind as u8,
                total.contacts,
                total.two_leg_contacts,
                total.timed_contacts,
                total.estimated_contacts,
                total.system_contacts,
                total.left.contacts,
                total.left.energy_uj_per_kg,
                total.right.contacts,
                total.right.energy_uj_per_kg,
            )?;
        }
    }
    out.flush()?;
    let board = built(&season, |record, _, set| {
        record.totals.add(pool.get(set)?);
        Ok(())
    })?;
    Ok(checks(&board))
}
