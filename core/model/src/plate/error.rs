//! Why a record is not read, gives no times, or cannot be compared: each error
//! says what is wrong, and where in the text it stands.
//!
//! Lines and columns count from 1, as an editor and a spreadsheet show them.

use std::io;

use thiserror::Error;

/// Why a text is no record.
#[derive(Debug, Error)]
pub enum RecordError {
    /// The text itself could not be read.
    #[error("reading failed after line {line}: {source}")]
    Io {
        /// The last line that was read whole.
        line: u64,
        /// What the system said.
        source: io::Error,
    },
    /// The sampling rate is no number, or outside the range.
    #[error("a sampling rate of {found} Hz: it must lie between 1 and 1000000 Hz")]
    Rate {
        /// What was given.
        found: f64,
    },
    /// There is no row of numbers.
    #[error("the record has no row of numbers")]
    NoRows,
    /// The first lines are all text.
    #[error("none of the first {lines} lines is a row of numbers")]
    NotATable {
        /// How many lines were looked at.
        lines: usize,
    },
    /// The text is not one byte a character.
    #[error("line {line} holds zero bytes: save the table as plain text (UTF-8)")]
    Encoding {
        /// The line.
        line: u64,
    },
    /// More of something than is read.
    #[error("line {line}: more than {limit} {what}, which is the most that is read")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// Where the limit was passed.
        line: u64,
        /// The limit.
        limit: u64,
    },
    /// A row has another number of cells than the first one.
    #[error("line {line} has {found} columns, the rows before it {wanted}")]
    Ragged {
        /// The line.
        line: u64,
        /// Its cells.
        found: usize,
        /// The cells of the first row.
        wanted: usize,
    },
    /// A quotation mark that opens or closes inside a row: the separators
    /// between such marks cannot be told from others.
    #[error("line {line}, column {column}: a quotation mark without its partner in one cell")]
    Quoted {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
    },
    /// A cell that should be a force is none.
    #[error("line {line}, column {column}: `{found}` is no number")]
    NotANumber {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// What stands there, cut where it is long.
        found: String,
    },
    /// A force is infinite or not a number.
    #[error("line {line}, column {column}: `{found}` is no force")]
    NotFinite {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// What stands there.
        found: String,
    },
    /// A force is beyond any plate.
    #[error("line {line}, column {column}: `{found}` N is beyond any plate (10 MN)")]
    TooLarge {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// What stands there.
        found: String,
    },
    /// Commas in a table that may be separators or decimal commas.
    #[error(
        "line {line}: these commas may separate columns or be decimal commas: no number has a decimal point and no header names the columns"
    )]
    CommasUnclear {
        /// The first row.
        line: u64,
    },
    /// Decimal points and commas in one record.
    #[error(
        "line {line}, column {column}: `{found}`, but this record has both points and commas in its numbers"
    )]
    MixedDecimals {
        /// The line at which this is seen.
        line: u64,
        /// The column.
        column: usize,
        /// What stands there.
        found: String,
    },
    /// A comma before three digits that may be a decimal comma or set off the
    /// thousands.
    #[error("line {line}, column {column}: `{found}` may be a decimal comma or set off the thousands")]
    Thousands {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// What stands there.
        found: String,
    },
    /// Several columns, and nothing says which are forces.
    #[error("the record has {columns} columns{}; which of them hold the force?", named(names))]
    ColumnsUnsaid {
        /// How many there are.
        columns: usize,
        /// Their names, where a header gives them.
        names: Vec<String>,
    },
    /// A column is chosen that is not there.
    #[error("there is no column {column}: the record has {columns}, counted from 1")]
    NoColumn {
        /// The number asked for.
        column: usize,
        /// How many there are.
        columns: usize,
    },
    /// A column is chosen by a name that the header does not have.
    #[error("no column is called `{name}`{}", named(names))]
    NoName {
        /// The name asked for.
        name: String,
        /// The names of the header; none where no header fits the rows.
        names: Vec<String>,
    },
    /// Two columns have the name that is asked for.
    #[error("two columns are called `{name}`: choose by number")]
    TwoOfThatName {
        /// The name.
        name: String,
    },
    /// One column is chosen twice, and would be added twice.
    #[error("column {column} is chosen twice")]
    ChosenTwice {
        /// The column.
        column: usize,
    },
}

/// Names of columns as an addition to a sentence.
fn named(names: &[String]) -> String {
    if names.is_empty() { String::new() } else { format!(" ({})", names.join(", ")) }
}

/// Why a record gives no times.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ReadingError {
    /// The threshold is no number above zero.
    #[error("a threshold of {found} N: it must lie above 0 and at most at 10 MN")]
    Threshold {
        /// What was given.
        found: f64,
    },
    /// The offset is no number.
    #[error("an offset of {found} N: it must be a number, at most 10 MN either way")]
    Offset {
        /// What was given.
        found: f64,
    },
    /// The shortest contact or flight is no duration.
    #[error("a shortest {what} of {found} s: it must lie between 0 and 1 s")]
    Shortest {
        /// `contact` or `flight`.
        what: &'static str,
        /// What was given, in seconds.
        found: f64,
    },
    /// The mean of the flight is asked for, and there is none.
    #[error("no flight is found at {threshold_n} N on the record as it is, so its mean cannot be subtracted")]
    NoFlight {
        /// The threshold.
        threshold_n: f64,
    },
    /// The weight is no number above zero.
    #[error("a weight of {found} N: it must lie above 0 and at most at 10 MN")]
    Weight {
        /// What was given.
        found: f64,
    },
    /// The window of quiet standing is none, or not inside the record.
    #[error("no weight from {from_s} to {to_s} s: the record lasts from 0 to {record_s} s")]
    Window {
        /// Where it begins.
        from_s: f64,
        /// Where it ends.
        to_s: f64,
        /// How long the record is.
        record_s: f64,
    },
    /// Nobody stands on the plate in the window of quiet standing.
    #[error("no weight from {from_s} to {to_s} s: the force is below {threshold_n} N at {at_s} s")]
    NotStanding {
        /// Where the window begins.
        from_s: f64,
        /// Where it ends.
        to_s: f64,
        /// The first sample below the threshold.
        at_s: f64,
        /// The threshold.
        threshold_n: f64,
    },
}

/// Why a take cannot be set beside a plate.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CompareError {
    /// Neither side has a contact.
    #[error("there is no contact to compare")]
    Nothing,
    /// The numbers of contacts differ. Which of them belong together is not
    /// guessed.
    #[error(
        "the plate has {plate} whole contacts, the take {film}: which of them belong together is not guessed"
    )]
    Counts {
        /// Contacts of the plate.
        plate: usize,
        /// Contacts of the take.
        film: usize,
    },
    /// A contact of the take has no time, or no half-width.
    #[error("contact {index} of the take (counted from 0) has no time above zero with its half-width")]
    NoTime {
        /// The contact, from 0.
        index: usize,
    },
}
