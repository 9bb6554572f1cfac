//! A table in text → one column of sums.

use std::io::BufRead;

use super::error::RecordError;
use super::record::{Column, LARGEST_N};

const MAX_ROWS: u64 = 4_000_000;
const MAX_COLUMNS: usize = 256;
const MAX_LINE: u64 = 16_384;
const MAX_BYTES: u64 = 256 << 20;
/// Lines of text that may stand before the first row of numbers.
const MAX_HEAD: usize = 64;
/// Letters of a cell that an error shows.
const SHOWN: usize = 40;

/// What stands between two columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Separator {
    Mark(char),
    Blanks,
}

impl Separator {
    /// As a line has it: the first of tab, semicolon, comma and blanks that occurs.
    fn of(line: &str) -> Self {
        let marks = ['\t', ';', ','];
        marks.into_iter().find(|mark| line.contains(*mark)).map_or(Self::Blanks, Self::Mark)
    }

    fn cells(self, line: &str) -> Vec<&str> {
        match self {
            Self::Mark(mark) => line.split(mark).map(str::trim).collect(),
            Self::Blanks => line.split_whitespace().collect(),
        }
    }
}

/// Reads the sum of the chosen columns, row by row.
pub(super) fn read(reader: impl BufRead, columns: &[Column]) -> Result<Vec<f64>, RecordError> {
    let mut lines = Lines { reader, line: 0, bytes: 0 };
    let mut head: Vec<String> = Vec::new();
    let mut table: Option<Table> = None;
    let mut sums = Vec::new();
    while let Some(text) = lines.next()? {
        if text.trim().is_empty() {
            continue;
        }
        let line = lines.line;
        let table = match &mut table {
            Some(table) => table,
            None if is_row(&text) => table.insert(Table::begin(&head, &text, line, columns)?),
            None => {
                head.push(text);
                if head.len() > MAX_HEAD {
                    return Err(RecordError::NotATable { lines: MAX_HEAD });
                }
                continue;
            }
        };
        if sums.len() as u64 >= MAX_ROWS {
            return Err(RecordError::TooMany { what: "rows", line, limit: MAX_ROWS });
        }
        sums.push(table.row(&text, line)?);
    }
    match (sums.is_empty(), head.is_empty()) {
        (false, _) => Ok(sums),
        (true, true) => Err(RecordError::NoRows),
        (true, false) => Err(RecordError::NotATable { lines: head.len() }),
    }
}

/// Lines, each bounded, all together bounded; without the byte order mark.
struct Lines<R> {
    reader: R,
    /// The number of the line read last, from 1.
    line: u64,
    bytes: u64,
}

impl<R: BufRead> Lines<R> {
    fn next(&mut self) -> Result<Option<String>, RecordError> {
        let mut bytes = Vec::new();
        // Up to LF, CR, or both.
        loop {
            let at = self.line;
            let io = |source| RecordError::Io { line: at, source };
            let buffer = self.reader.fill_buf().map_err(io)?;
            if buffer.is_empty() {
                if bytes.is_empty() {
                    return Ok(None);
                }
                break;
            }
            let end = buffer.iter().position(|byte| matches!(byte, b'\n' | b'\r'));
            let taken = end.unwrap_or(buffer.len());
            let cr = end.is_some_and(|end| buffer.get(end) == Some(&b'\r'));
            bytes.extend(buffer.iter().take(taken));
            let used = taken + usize::from(end.is_some());
            self.reader.consume(used);
            self.bytes += used as u64;
            let line = self.line + 1;
            if bytes.len() as u64 > MAX_LINE {
                return Err(RecordError::TooMany { what: "bytes in a line", line, limit: MAX_LINE });
            }
            if self.bytes > MAX_BYTES {
                return Err(RecordError::TooMany { what: "bytes", line, limit: MAX_BYTES });
            }
            if cr && self.reader.fill_buf().map_err(io)?.first() == Some(&b'\n') {
                self.reader.consume(1);
            }
            if end.is_some() {
                break;
            }
        }
        self.line += 1;
        let bytes =
            if self.line == 1 { bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(&bytes) } else { &bytes };
        if bytes.contains(&0) {
            return Err(RecordError::Encoding { line: self.line });
        }
        Ok(Some(String::from_utf8_lossy(bytes).into_owned()))
    }
}

/// Whether a line is a row: its first cell is a number, or more than half of them are.
fn is_row(line: &str) -> bool {
    let cells = Separator::of(line).cells(line);
    let numbers = cells.iter().filter(|cell| looks_a_number(cell)).count();
    cells.first().is_some_and(|cell| looks_a_number(cell)) || 2 * numbers > cells.len()
}

fn looks_a_number(cell: &str) -> bool {
    let cell = cell.strip_prefix('"').and_then(|cell| cell.strip_suffix('"')).unwrap_or(cell);
    cell.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.'))
        && cell.replace(',', ".").parse::<f64>().is_ok()
}

/// A table, once its first row is seen.
struct Table {
    separator: Separator,
    width: usize,
    /// The chosen columns, from 0.
    chosen: Vec<usize>,
    /// What the numbers so far have shown of their decimals.
    decimals: Option<char>,
}

impl Table {
    fn begin(head: &[String], first: &str, line: u64, columns: &[Column]) -> Result<Self, RecordError> {
        let separator = Separator::of(first);
        let cells = separator.cells(first);
        let width = cells.len();
        if width > MAX_COLUMNS {
            return Err(RecordError::TooMany { what: "columns", line, limit: MAX_COLUMNS as u64 });
        }
        let names = head.iter().rev().map(|line| separator.cells(line)).find(|names| names.len() == width);
        let unclear = separator == Separator::Mark(',') && names.is_none() && !first.contains('.');
        if unclear {
            return Err(RecordError::CommasUnclear { line });
        }
        let names: Vec<String> = names.unwrap_or_default().into_iter().map(unquoted).collect();
        Ok(Self { separator, width, chosen: choose(columns, width, &names)?, decimals: None })
    }

    fn row(&mut self, text: &str, line: u64) -> Result<f64, RecordError> {
        let cells = self.separator.cells(text);
        for (cell, column) in cells.iter().zip(1..) {
            let whole = cell.len() >= 2 && cell.starts_with('"') && cell.ends_with('"');
            if cell.matches('"').count() != if whole { 2 } else { 0 } {
                return Err(RecordError::Quoted { line, column });
            }
        }
        if cells.len() != self.width {
            return Err(RecordError::Ragged { line, found: cells.len(), wanted: self.width });
        }
        let mut sum = 0.0;
        for index in self.chosen.clone() {
            let cell = cells.get(index).copied().unwrap_or_default();
            sum += self.number(cell.trim_matches('"'), line, index + 1)?;
        }
        Ok(sum)
    }

    fn number(&mut self, cell: &str, line: u64, column: usize) -> Result<f64, RecordError> {
        let found = || cell.chars().take(SHOWN).collect::<String>();
        let mark = match (cell.contains('.'), cell.contains(',')) {
            (false, false) => None,
            (true, false) => Some('.'),
            (false, true) => Some(','),
            (true, true) => return Err(RecordError::MixedDecimals { line, column, found: found() }),
        };
        if mark == Some(',') && self.decimals.is_none() && may_be_thousands(cell) {
            return Err(RecordError::Thousands { line, column, found: found() });
        }
        if let Some(mark) = mark {
            if self.decimals.is_some_and(|known| known != mark) {
                return Err(RecordError::MixedDecimals { line, column, found: found() });
            }
            self.decimals = Some(mark);
        }
        let newton: f64 = cell.replace(',', ".").parse().map_err(|_| RecordError::NotANumber {
            line,
            column,
            found: found(),
        })?;
        if !newton.is_finite() {
            return Err(RecordError::NotFinite { line, column, found: found() });
        }
        if newton.abs() > LARGEST_N {
            return Err(RecordError::TooLarge { line, column, found: found() });
        }
        Ok(newton)
    }
}

/// `1,234` may be either; `0,234` and `1,23` are decimals.
fn may_be_thousands(cell: &str) -> bool {
    let Some((before, after)) = cell.split_once(',') else { return false };
    let before = before.trim_start_matches(['-', '+']);
    after.len() == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0')
}

fn unquoted(cell: &str) -> String {
    cell.trim_matches('"').trim().to_owned()
}

/// The chosen columns as places from 0.
fn choose(columns: &[Column], width: usize, names: &[String]) -> Result<Vec<usize>, RecordError> {
    let mut chosen = Vec::new();
    for column in columns {
        let place = match column {
            Column::Number(number) => number
                .checked_sub(1)
                .filter(|place| *place < width)
                .ok_or(RecordError::NoColumn { column: *number, columns: width })?,
            Column::Name(name) => {
                let mut places = (0..width).filter(|place| names.get(*place) == Some(name));
                let missing = || RecordError::NoName { name: name.clone(), names: names.to_vec() };
                let place = places.next().ok_or_else(missing)?;
                if places.next().is_some() {
                    return Err(RecordError::TwoOfThatName { name: name.clone() });
                }
                place
            }
        };
        if chosen.contains(&place) {
            return Err(RecordError::ChosenTwice { column: place + 1 });
        }
        chosen.push(place);
    }
    match (chosen.is_empty(), width) {
        (false, _) => Ok(chosen),
        (true, 1) => Ok(vec![0]),
        (true, _) => Err(RecordError::ColumnsUnsaid { columns: width, names: names.to_vec() }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sums(text: &str, columns: &[&str]) -> Result<Vec<f64>, RecordError> {
        let columns: Vec<Column> = columns.iter().map(|column| column.parse().unwrap()).collect();
        read(text.as_bytes(), &columns)
    }

    #[test]
    fn tables_of_every_shape_are_read() {
        let cases: [(&str, &[&str], &[f64]); 10] = [
            ("1.5\n2\n-3e2", &[], &[1.5, 2.0, -300.0]),
            ("a\tb\r\n1\t2\r\n\r\n3\t4\r\n", &["1", "b"], &[3.0, 7.0]),
            ("\u{feff}Fz1,Fz2\n1,2\n3,4\n", &["Fz2"], &[2.0, 4.0]),
            ("1.0,2.0\r3.0,4.0\r", &["1"], &[1.0, 3.0]),
            ("t;F\n0,00;633,2\n0,01;1,250\n", &["F"], &[633.2, 1.25]),
            ("  1.0   2.0\n  3.0   4.0\n", &["2"], &[2.0, 4.0]),
            ("0,125\n1,250\n", &["1"], &[0.125, 1.25]),
            ("\"1.5\"\t\"x\"\n2.5\ty\n", &["1"], &[1.5, 2.5]),
            ("plate of the hall\nrate 1000\nFz\n5\n6", &["Fz"], &[5.0, 6.0]),
            ("7\tnote\n8\t\n", &["1"], &[7.0, 8.0]),
        ];
        for (text, columns, expected) in cases {
            // A single column of decimal commas cannot be told from two columns.
            let found = sums(text, columns);
            if text.starts_with("0,125") {
                assert!(matches!(found, Err(RecordError::CommasUnclear { line: 1 })), "{found:?}");
            } else {
                assert_eq!(found.unwrap(), expected, "{text:?}");
            }
        }
    }

    #[test]
    fn what_is_wrong_is_said_with_its_place() {
        macro_rules! refused {
            ($text:expr, $columns:expr, $pattern:pat) => {{
                let refused = sums($text, $columns).unwrap_err();
                assert!(matches!(refused, $pattern), "{refused}");
            }};
        }
        refused!("", &[], RecordError::NoRows);
        refused!("only\nwords", &[], RecordError::NotATable { lines: 2 });
        refused!(&"words\n".repeat(70), &[], RecordError::NotATable { lines: MAX_HEAD });
        refused!("1\n2\nx", &[], RecordError::NotANumber { line: 3, column: 1, .. });
        refused!("1\n-inf", &[], RecordError::NotFinite { line: 2, .. });
        refused!("1\nnan", &[], RecordError::NotFinite { line: 2, .. });
        refused!("1\n1e9", &[], RecordError::TooLarge { line: 2, .. });
        refused!("1\t2\n3", &["1"], RecordError::Ragged { line: 2, found: 1, wanted: 2 });
        refused!("1\t2", &[], RecordError::ColumnsUnsaid { columns: 2, .. });
        refused!("1\t2", &["3"], RecordError::NoColumn { column: 3, columns: 2 });
        refused!("1\t2", &["0"], RecordError::NoColumn { column: 0, .. });
        refused!("a\tb\n1\t2", &["c"], RecordError::NoName { .. });
        refused!("a\ta\n1\t2", &["a"], RecordError::TwoOfThatName { .. });
        refused!("a\tb\n1\t2", &["a", "1"], RecordError::ChosenTwice { column: 1 });
        refused!("1\0", &[], RecordError::Encoding { line: 1 });
        refused!("1;2,5\n1;2.5", &["2"], RecordError::MixedDecimals { line: 2, column: 2, .. });
        refused!("1;2,500\n", &["2"], RecordError::Thousands { line: 1, column: 2, .. });
        refused!("1\t\"2\n", &["1"], RecordError::Quoted { line: 1, column: 2 });
        refused!(&"1".repeat(20_000), &[], RecordError::TooMany { what: "bytes in a line", line: 1, .. });
        refused!(&"1\t".repeat(300), &["1"], RecordError::TooMany { what: "columns", .. });
    }

    proptest::proptest! {
        #[test]
        fn any_bytes_end_in_an_answer(bytes in proptest::collection::vec(proptest::num::u8::ANY, 0..300)) {
            let _ = read(bytes.as_slice(), &[Column::Number(1)]);
        }

        #[test]
        fn numbers_come_back(rows in proptest::collection::vec(-1e6_f64..1e6, 1..50)) {
            let text: String = rows.iter().map(|row| format!("{row}\t0\n")).collect();
            proptest::prop_assert_eq!(read(text.as_bytes(), &[Column::Number(1), Column::Number(2)]).unwrap(), rows);
        }
    }
}
