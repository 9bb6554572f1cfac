//! What is wrong with a row, and where.

use core::fmt;

use thiserror::Error;

use super::LogError;
use super::column::{Column, Columns};
use crate::table::{MAX_LINE, NotANumber, SheetError, shown};

/// One thing that is wrong with a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The column, where one is at fault.
    pub column: Option<Column>,
    /// Its number from 1, where the table has it.
    pub number: Option<usize>,
    /// What stands there, cut where it is long.
    pub found: String,
    /// What is wrong with it.
    pub why: Why,
}

/// What is wrong with a cell or a row.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Why {
    /// A cell is empty, or the column is not there.
    #[error("is needed here")]
    Missing,
    /// No date at all, or not between 1900 and 2199.
    #[error("is no date such as 2026-11-25")]
    NotADate,
    /// A date of another form: which part of it is the month is not guessed.
    #[error("is a date of another form; write it as 2026-11-25")]
    OtherDate,
    /// No time of the day.
    #[error("is no time of the day such as 17:30")]
    NotATime,
    /// No number.
    #[error("is {0}")]
    NotANumber(NotANumber),
    /// A number, or a text by its length, that is out of range.
    #[error("is out of range: {0}")]
    Range(&'static str),
    /// A number that is finer than what is kept.
    #[error("is finer than {0}")]
    TooFine(&'static str),
    /// A word that is none of those accepted, which it lists.
    #[error("is none of: {0}")]
    Word(String),
    /// Bytes that are no UTF-8.
    #[error("has letters that cannot be read: save the table as UTF-8")]
    Letters,
    /// A cell has no business in its row.
    #[error("does not go together with {0}")]
    Beside(&'static str),
    /// The exercise has no room for it; what it allows.
    #[error("does not fit the exercise; allowed is {0}")]
    Exercise(String),
    /// A value of the session that goes only with another one.
    #[error("is needed with `{}` in the same session", .0.name())]
    Partner(Column),
    /// Another row of the same session says something else.
    #[error("but line {line} of the same session says `{says}`")]
    Contradicts {
        /// The line.
        line: u64,
        /// What it says, cut where it is long.
        says: String,
    },
    /// Several sessions of that day are told apart by when they began.
    #[error("is needed here: lines {0} and {1} are two sessions of that day")]
    WhichSession(u64, u64),
    /// A rest day on which there is training.
    #[error("but line {0} is training on that day")]
    Trained(u64),
    /// A row has another number of cells than there are columns.
    #[error("{found} cells for {wanted} columns")]
    Width {
        /// The cells of the row.
        found: usize,
        /// The columns of the table.
        wanted: usize,
    },
    /// A quotation mark stands alone in the cell of a column, counted from 1.
    #[error("column {0}: a quotation mark without its partner in one cell")]
    Quoted(usize),
    /// Zero bytes.
    #[error("zero bytes: save the table as plain text (UTF-8)")]
    Zeros,
    /// More bytes than are read in a line.
    #[error("more than {MAX_LINE} bytes, which is the most that is read in a line")]
    Long,
}

impl Fault {
    /// A fault of a cell.
    #[must_use]
    pub fn new(columns: &Columns, column: Column, found: &str, why: Why) -> Self {
        Self { column: Some(column), number: columns.number(column), found: shown(found), why }
    }

    /// The line of a row that could not be taken apart, and what is wrong with it; what
    /// is no row's fault is given back.
    pub(super) fn of_row(wrong: SheetError) -> Result<(u64, Self), LogError> {
        let (line, why) = match wrong {
            SheetError::Ragged { line, found, wanted } => (line, Why::Width { found, wanted }),
            SheetError::Quoted { line, column } => (line, Why::Quoted(column)),
            SheetError::Encoding { line } => (line, Why::Zeros),
            SheetError::TooMany { line, .. } => (line, Why::Long),
            other => return Err(other.into()),
        };
        Ok((line, Self { column: None, number: None, found: String::new(), why }))
    }
}

impl core::error::Error for Fault {}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Some(column) = self.column else { return self.why.fmt(f) };
        if let Some(number) = self.number {
            write!(f, "column {number}, ")?;
        }
        write!(f, "`{}`: ", column.name())?;
        if !self.found.is_empty() {
            write!(f, "`{}` ", self.found)?;
        }
        self.why.fmt(f)
    }
}
