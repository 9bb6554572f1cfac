//! A table in text, as a spreadsheet saves it: named columns, cells, numbers.
//!
//! What the cells mean is said by who reads them: daily loads by
//! [`load::series::table`](crate::load::series::table), a training log by
//! [`import`](crate::import). Lines and columns of errors count from 1, as a
//! spreadsheet shows them.
//!
//! The reader is our own, since what is odd must be refused with its line and
//! column and not be guessed: a quotation mark that stands alone, a row of
//! another width, a comma that may set off the thousands.

mod number;

use std::io::{self, Read};

use thiserror::Error;

pub use number::{Decimals, NotANumber};

/// Most bytes that are read.
pub const MAX_BYTES: u64 = 16 << 20;
/// Most bytes in a line.
pub const MAX_LINE: usize = 16_384;
/// Most columns.
pub const MAX_COLUMNS: usize = 256;
/// What may separate columns.
pub const SEPARATORS: [char; 3] = [',', ';', '\t'];
/// Letters of a cell that an error shows.
const SHOWN: usize = 40;

/// A table whose first line that is not empty names its columns.
///
/// Columns are separated by commas, semicolons or tabs. A cell may stand in
/// quotation marks, doubled inside it (RFC 4180), on one line. Lines end with
/// LF, CR or both; a byte order mark and empty rows are passed over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    text: Vec<u8>,
    /// Where the rows begin.
    body: usize,
    head_line: u64,
    separator: char,
    names: Vec<String>,
}

/// A row that is not empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// Its line.
    pub line: u64,
    cells: Vec<String>,
}

impl Row {
    /// The cell of a place, counted from 0, without blanks around it; empty where
    /// there is none.
    #[must_use]
    pub fn cell(&self, place: usize) -> &str {
        self.cells.get(place).map_or("", String::as_str)
    }
}

impl Sheet {
    /// Reads a table that has the `wanted` columns, named as by [`plain`]. Rows
    /// are taken apart by [`Sheet::rows`]. At most 16 MiB, 16 384 bytes a line
    /// and 256 columns are read.
    ///
    /// # Errors
    /// [`SheetError`], naming the line.
    pub fn read(reader: impl Read, wanted: &[&'static str]) -> Result<Self, SheetError> {
        let mut text = Vec::new();
        reader.take(MAX_BYTES + 1).read_to_end(&mut text).map_err(|source| SheetError::Io { source })?;
        if text.len() as u64 > MAX_BYTES {
            let line = lines(&text).count() as u64;
            return Err(SheetError::TooMany { what: "bytes", line, limit: MAX_BYTES });
        }
        let begin = if text.starts_with(b"\xef\xbb\xbf") { 3 } else { 0 };
        let mut head = None;
        for (line, (bytes, end)) in (1..).zip(lines(&text[begin..])) {
            let found = decoded(bytes, line)?;
            if !found.trim().is_empty() {
                let (separator, names) = names(&found, line, wanted)?;
                head = Some((line, begin + end, separator, names));
                break;
            }
        }
        let (head_line, body, separator, names) = head.ok_or(SheetError::Empty)?;
        Ok(Self { text, body, head_line, separator, names })
    }

    /// The names of the columns as they are written.
    #[must_use]
    pub fn names(&self) -> &[String] {
        &self.names
    }

    /// Where the column of a [`plain`] name is, counted from 0.
    ///
    /// # Errors
    /// [`SheetError::TwoOfThatName`].
    pub fn place(&self, name: &'static str) -> Result<Option<usize>, SheetError> {
        place(&self.names, name, self.head_line)
    }

    /// The rows below the names, empty ones passed over.
    ///
    /// An error says that this one row is not to be read.
    pub fn rows(&self) -> impl Iterator<Item = Result<Row, SheetError>> {
        let below = self.text.get(self.body..).unwrap_or_default();
        let numbered = (self.head_line + 1..).zip(lines(below));
        numbered.filter_map(|(line, (bytes, _))| self.row(bytes, line).transpose())
    }

    fn row(&self, bytes: &[u8], line: u64) -> Result<Option<Row>, SheetError> {
        let text = decoded(bytes, line)?;
        let cells = cells(&text, self.separator).map_err(|column| SheetError::Quoted { line, column })?;
        if cells.iter().all(String::is_empty) {
            return Ok(None);
        }
        if cells.len() != self.names.len() {
            return Err(SheetError::Ragged { line, found: cells.len(), wanted: self.names.len() });
        }
        Ok(Some(Row { line, cells }))
    }
}

/// A name of a column as it is compared: small letters and digits, one blank
/// between them, so that `Box (cm)` and `box_cm` are one.
#[must_use]
pub fn plain(name: &str) -> String {
    let apart: String = name.chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    apart.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A cell as an error shows it: not too long, and nothing that a terminal acts on.
#[must_use]
pub fn shown(cell: &str) -> String {
    let visible = |letter: char| if letter.is_control() { char::REPLACEMENT_CHARACTER } else { letter };
    cell.chars().take(SHOWN).map(visible).collect()
}

/// Lines without their ends (LF, CR or both), each with where the next one begins.
fn lines(text: &[u8]) -> impl Iterator<Item = (&[u8], usize)> {
    let mut rest = Some(text);
    std::iter::from_fn(move || {
        let now = rest?;
        let Some(end) = now.iter().position(|byte| matches!(byte, b'\n' | b'\r')) else {
            rest = None;
            return Some((now, text.len()));
        };
        let (line, ended) = now.split_at(end);
        let next = ended.strip_prefix(b"\r\n").or_else(|| ended.get(1..)).unwrap_or_default();
        rest = Some(next);
        Some((line, text.len() - next.len()))
    })
}

/// The text of a line. Bytes that are no UTF-8 become [`char::REPLACEMENT_CHARACTER`]:
/// they may stand in a column that is not looked at.
fn decoded(bytes: &[u8], line: u64) -> Result<std::borrow::Cow<'_, str>, SheetError> {
    if bytes.len() > MAX_LINE {
        return Err(SheetError::TooMany { what: "bytes in a line", line, limit: MAX_LINE as u64 });
    }
    if bytes.contains(&0) {
        return Err(SheetError::Encoding { line });
    }
    Ok(String::from_utf8_lossy(bytes))
}

/// The names of the columns, and the first separator with which the wanted ones
/// are among them.
fn names(text: &str, line: u64, wanted: &[&'static str]) -> Result<(char, Vec<String>), SheetError> {
    let mut widest: Option<Vec<String>> = None;
    for separator in SEPARATORS {
        let names = match cells(text, separator) {
            Ok(names) => names,
            Err(column) if text.contains(separator) => return Err(SheetError::Quoted { line, column }),
            Err(_) => continue,
        };
        if names.len() > MAX_COLUMNS {
            return Err(SheetError::TooMany { what: "columns", line, limit: MAX_COLUMNS as u64 });
        }
        let places = wanted.iter().map(|name| place(&names, name, line));
        if places.collect::<Result<Option<Vec<_>>, _>>()?.is_some() {
            return Ok((separator, names));
        }
        if widest.as_ref().is_none_or(|widest| widest.len() < names.len()) {
            widest = Some(names);
        }
    }
    let names = widest.unwrap_or_default();
    let there = |name: &str| names.iter().any(|found| plain(found) == name);
    let name = wanted.iter().find(|name| !there(name)).copied().unwrap_or_default();
    Err(SheetError::NoColumn { line, name, names: names.iter().map(|name| shown(name)).collect() })
}

fn place(names: &[String], wanted: &'static str, line: u64) -> Result<Option<usize>, SheetError> {
    let mut places = (0..).zip(names).filter(|(_, name)| plain(name) == wanted);
    let place = places.next().map(|(place, _)| place);
    if places.next().is_some() {
        return Err(SheetError::TwoOfThatName { line, name: wanted });
    }
    Ok(place)
}

/// The cells of a line; the column where a quotation mark stands alone, otherwise.
fn cells(text: &str, separator: char) -> Result<Vec<String>, usize> {
    let mut cells = Vec::new();
    let mut rest = Some(text);
    while let Some(text) = rest {
        let column = cells.len() + 1;
        let blank = |c: char| c.is_whitespace() && c != separator;
        let (cell, after) = if let Some(quoted) = text.trim_start_matches(blank).strip_prefix('"') {
            let (cell, after) = quoted_cell(quoted).ok_or(column)?;
            let after = after.trim_start_matches(blank);
            match after.strip_prefix(separator) {
                Some(after) => (cell, Some(after)),
                None if after.is_empty() => (cell, None),
                None => return Err(column),
            }
        } else {
            match text.split_once(separator) {
                Some((cell, after)) => (cell.to_owned(), Some(after)),
                None => (text.to_owned(), None),
            }
        };
        cells.push(cell.trim().to_owned());
        rest = after;
    }
    Ok(cells)
}

/// A cell after its opening quotation mark, and what stands behind its closing one.
fn quoted_cell(text: &str) -> Option<(String, &str)> {
    let mut cell = String::new();
    let mut rest = text;
    loop {
        let (before, after) = rest.split_once('"')?;
        cell.push_str(before);
        match after.strip_prefix('"') {
            Some(after) => {
                cell.push('"');
                rest = after;
            }
            None => return Some((cell, after)),
        }
    }
}

/// Why a text, or a row of it, is no table.
#[derive(Debug, Error)]
pub enum SheetError {
    /// The text itself could not be read.
    #[error("reading failed: {source}")]
    Io {
        /// What the system said.
        source: io::Error,
    },
    /// There is nothing in it.
    #[error("there is no line that names the columns")]
    Empty,
    /// A column that is needed is not there.
    #[error("line {line}: no column is called `{name}`; there is {}", names.join(", "))]
    NoColumn {
        /// The line of the names.
        line: u64,
        /// The column.
        name: &'static str,
        /// The names that are there, each cut where it is long.
        names: Vec<String>,
    },
    /// Two columns have the name of one that is looked at.
    #[error("line {line}: two columns are called `{name}`")]
    TwoOfThatName {
        /// The line of the names.
        line: u64,
        /// The name.
        name: &'static str,
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
    /// A row has another number of cells than there are columns.
    #[error("line {line} has {found} cells for {wanted} columns")]
    Ragged {
        /// The line.
        line: u64,
        /// Its cells.
        found: usize,
        /// The columns.
        wanted: usize,
    },
    /// A quotation mark without its partner in one cell, or something beside
    /// the marks.
    #[error("line {line}, column {column}: a quotation mark without its partner in one cell")]
    Quoted {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(text: &str, wanted: &[&'static str]) -> Vec<(u64, Vec<String>)> {
        let sheet = Sheet::read(text.as_bytes(), wanted).unwrap();
        sheet.rows().map(|row| row.unwrap()).map(|row| (row.line, row.cells)).collect()
    }

    #[test]
    fn names_are_compared_without_their_trim() {
        for name in ["Box (cm)", "box_cm", " BOX  cm.", "box-cm"] {
            assert_eq!(plain(name), "box cm");
        }
        assert_eq!(plain("(–)"), "");
    }

    #[test]
    fn rows_keep_their_lines() {
        let text = "\u{feff}\r\nday;Box (cm)\r\n\r\n1;2\r;\n\"a;\"\"b\"; c \n";
        let cells = |cells: [&str; 2]| cells.map(str::to_owned).to_vec();
        assert_eq!(rows(text, &["box cm"]), [(4, cells(["1", "2"])), (6, cells(["a;\"b", "c"]))]);
    }

    #[test]
    fn a_row_that_is_odd_leaves_the_others_readable() {
        let text = "a,b\n1\n2,3\n\"4,5\n6,\0\n7,8\n";
        let sheet = Sheet::read(text.as_bytes(), &["a", "b"]).unwrap();
        let seen: Vec<_> =
            sheet.rows().map(|row| row.map(|row| row.line).map_err(|e| e.to_string())).collect();
        assert_eq!(
            seen,
            [
                Err("line 2 has 1 cells for 2 columns".to_owned()),
                Ok(3),
                Err("line 4, column 1: a quotation mark without its partner in one cell".to_owned()),
                Err("line 5 holds zero bytes: save the table as plain text (UTF-8)".to_owned()),
                Ok(6),
            ]
        );
    }

    #[test]
    fn the_separator_is_the_one_that_finds_the_columns() {
        for (text, separator) in [("a,b;c\n", ','), ("a;\"b,c\"\n", ';'), ("x, y\ta\n", '\t')] {
            assert_eq!(Sheet::read(text.as_bytes(), &["a"]).unwrap().separator, separator, "{text:?}");
        }
        let none = Sheet::read(&b"x;y;z\n"[..], &["a"]).unwrap_err();
        assert_eq!(none.to_string(), "line 1: no column is called `a`; there is x, y, z");
    }
}
