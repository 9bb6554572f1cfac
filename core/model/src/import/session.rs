//! Rows of one athlete → sessions.
//!
//! Rows of one day and one time are one session. A row without a time belongs to
//! the session of its day; where that day has several, it must say which. What
//! is told of a session may stand in any of its rows, and rows must agree.

use std::collections::BTreeMap;

use super::column::{Column, Columns};
use super::fault::{Fault, Why};
use super::row::{About, Does, Row};
use crate::facts::Day;
use crate::table::shown;

/// A session as its rows tell it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    /// The day.
    pub day: Day,
    /// When it began, minutes after midnight, where a row says so.
    pub start_min: Option<u16>,
    /// What its rows say of it together.
    pub about: About,
    /// Its rows, by their place among those given.
    pub rows: Vec<usize>,
}

/// The training of one athlete.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Gathered {
    /// The sessions by day and time. Rows at fault are not in them.
    pub sessions: Vec<Session>,
    /// What is wrong between rows, by the place of the row that is refused.
    pub faults: Vec<(usize, Fault)>,
}

/// Gathers the rows of one athlete, each with its line, in the order of the table.
#[must_use]
pub fn gather(columns: &Columns, rows: &[(u64, &Row)]) -> Gathered {
    let mut days: BTreeMap<Day, Vec<usize>> = BTreeMap::new();
    for (at, (_, row)) in rows.iter().enumerate() {
        days.entry(row.day).or_default().push(at);
    }
    let mut gathering = Gathering { columns, rows, done: Gathered::default() };
    for (day, at) in days {
        gathering.day(day, &at);
    }
    gathering.done
}

struct Gathering<'a> {
    columns: &'a Columns,
    rows: &'a [(u64, &'a Row)],
    done: Gathered,
}

impl Gathering<'_> {
    fn refuse(&mut self, at: usize, column: Column, found: &str, why: Why) {
        self.done.faults.push((at, Fault::new(self.columns, column, found, why)));
    }

    fn day(&mut self, day: Day, at: &[usize]) {
        let rows = self.rows;
        let (rests, trained): (Vec<usize>, Vec<usize>) =
            at.iter().partition(|at| rows[**at].1.does == Does::Rest);
        if let Some(first) = trained.first() {
            for rest in rests {
                self.refuse(rest, Column::Rest, "", Why::Trained(rows[*first].0));
            }
        }
        let mut sessions: BTreeMap<Option<u16>, Vec<usize>> = BTreeMap::new();
        for at in trained {
            sessions.entry(rows[at].1.start_min).or_default().push(at);
        }
        if let Some(unsaid) = sessions.remove(&None) {
            let mut named = sessions.iter().map(|(start, rows)| (*start, rows[0]));
            match (named.next(), named.next()) {
                (Some((_, one)), Some((_, other))) => {
                    let lines = (rows[one].0, rows[other].0);
                    let (one, other) = (lines.0.min(lines.1), lines.0.max(lines.1));
                    for at in unsaid {
                        self.refuse(at, Column::Start, "", Why::WhichSession(one, other));
                    }
                }
                (Some((start, _)), None) => {
                    let session = sessions.entry(start).or_default();
                    session.extend(unsaid);
                    session.sort_unstable();
                }
                _ => {
                    sessions.insert(None, unsaid);
                }
            }
        }
        for (start_min, at) in sessions {
            self.session(day, start_min, at);
        }
    }

    fn session(&mut self, day: Day, start_min: Option<u16>, at: Vec<usize>) {
        let mut about = About::default();
        let mut said = BTreeMap::new();
        let mut taken = Vec::new();
        for at in at {
            let before = self.done.faults.len();
            let own = &self.rows[at].1.about;
            self.agree(&mut said, at, Column::Purpose, &mut about.purpose, &own.purpose, String::clone);
            self.agree(&mut said, at, Column::Place, &mut about.location, &own.location, String::clone);
            self.agree(&mut said, at, Column::Surface, &mut about.surface, &own.surface, |w| {
                w.word().to_owned()
            });
            self.agree(&mut said, at, Column::Shoes, &mut about.shoes, &own.shoes, |w| w.word().to_owned());
            self.agree(&mut said, at, Column::Weather, &mut about.weather, &own.weather, String::clone);
            self.agree(&mut said, at, Column::Rpe, &mut about.rpe_tenths, &own.rpe_tenths, |tenths| {
                format!("{}", f64::from(*tenths) / 10.0)
            });
            self.agree(&mut said, at, Column::Minutes, &mut about.minutes, &own.minutes, u16::to_string);
            if self.done.faults.len() == before {
                taken.push(at);
            }
        }
        let alone = match (about.rpe_tenths, about.minutes) {
            (Some(_), None) => Some((Column::Rpe, Column::Minutes)),
            (None, Some(_)) => Some((Column::Minutes, Column::Rpe)),
            _ => None,
        };
        if let Some((there, missing)) = alone
            && let Some(at) = said.get(&there).copied()
        {
            self.refuse(at, missing, "", Why::Partner(there));
            taken.retain(|taken| *taken != at);
        }
        if !taken.is_empty() {
            self.done.sessions.push(Session { day, start_min, about, rows: taken });
        }
    }

    /// Takes what a row says of a column, or refuses the row where another said
    /// something else.
    fn agree<T: Clone + PartialEq>(
        &mut self,
        said: &mut BTreeMap<Column, usize>,
        at: usize,
        column: Column,
        known: &mut Option<T>,
        own: &Option<T>,
        words: impl Fn(&T) -> String,
    ) {
        let Some(own) = own else { return };
        match (known.as_ref(), said.get(&column)) {
            (Some(known), Some(first)) if known != own => {
                let why = Why::Contradicts { line: self.rows[*first].0, says: shown(&words(known)) };
                self.refuse(at, column, &words(own), why);
            }
            (Some(_), _) => {}
            _ => {
                *known = Some(own.clone());
                said.insert(column, at);
            }
        }
    }
}
