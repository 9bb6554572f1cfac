//! A training log as a coach's spreadsheet has it → typed rows, each taken apart
//! or refused by itself.
//!
//! One row is one or several sets alike, a rest day, or what is known of a
//! session as a whole. The [columns](mod@column) may stand in any order; a day and
//! whoever trained is all that a row must have besides. Rows are made into
//! [sessions](session) once it is known who is meant by a name.
//!
//! Nothing is guessed: dates in one form, words and ranges as facts have them.

pub mod column;
mod fault;
mod row;
pub mod session;

use std::io::Read;

use thiserror::Error;

use crate::table::{Decimals, Sheet, SheetError, shown};
pub use column::{Column, Columns};
pub use fault::{Fault, Why};
pub use row::{About, Does, Row, SetRow};

/// Most rows that are read.
pub const MAX_ROWS: usize = 100_000;
/// Most sets that are read, those alike counted each: 25 athletes over 5 years.
pub const MAX_SETS: u64 = 200_000;

/// A training log as its table has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Log {
    /// Where the columns are.
    pub columns: Columns,
    /// Columns of other names, which are passed over: the number from 1, and the name,
    /// cut where it is long.
    pub passed_over: Vec<(usize, String)>,
    /// The rows that are not empty, in their order.
    pub lines: Vec<Line>,
}

/// One row of the table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Its line, counted from 1.
    pub line: u64,
    /// What it says, or all that is wrong with it.
    pub row: Result<Row, Vec<Fault>>,
}

impl Log {
    /// Reads a table of the form of [`Sheet`] with the [columns](Column::ALL). Only
    /// `date` must be there. At most [`MAX_ROWS`] rows and [`MAX_SETS`] sets are read.
    ///
    /// # Errors
    /// [`LogError`] where the whole is no such table. What is wrong in a row is in its
    /// [`Line`].
    pub fn read(reader: impl Read) -> Result<Self, LogError> {
        let sheet = Sheet::read(reader, &[Column::Date.plain()])?;
        let columns = Columns::find(&sheet)?;
        let named = (1..).zip(sheet.names()).filter(|(number, _)| !columns.has_number(*number));
        let passed_over = named.map(|(number, name)| (number, shown(name))).collect();
        let mut decimals = Decimals::default();
        let mut lines = Vec::new();
        let mut sets = 0;
        for cells in sheet.rows() {
            let (line, row) = match cells {
                Ok(cells) => (cells.line, row::read(&columns, &mut decimals, &cells)),
                Err(wrong) => {
                    let (line, fault) = Fault::of_row(wrong)?;
                    (line, Err(vec![fault]))
                }
            };
            if lines.len() == MAX_ROWS {
                return Err(LogError::TooManyRows { line });
            }
            if let Ok(Row { does: Does::Sets(set), .. }) = &row {
                sets += u64::from(set.sets);
            }
            if sets > MAX_SETS {
                return Err(LogError::TooManySets { line });
            }
            lines.push(Line { line, row });
        }
        if lines.is_empty() {
            return Err(LogError::NoRows);
        }
        Ok(Self { columns, passed_over, lines })
    }
}

/// Why a text is no training log.
#[derive(Debug, Error)]
pub enum LogError {
    /// It is no table.
    #[error(transparent)]
    Sheet(#[from] SheetError),
    /// There are names of columns, and no row below them.
    #[error("there is no row below the names of the columns")]
    NoRows,
    /// More rows than are read.
    #[error("line {line}: more than {MAX_ROWS} rows, which is the most that is read")]
    TooManyRows {
        /// Where the limit was passed.
        line: u64,
    },
    /// More sets than are read.
    #[error("line {line}: more than {MAX_SETS} sets, which is the most that is read")]
    TooManySets {
        /// Where the limit was passed.
        line: u64,
    },
}

#[cfg(test)]
mod tests;
