//! Dates and loads as a spreadsheet writes them → consecutive days.
//!
//! Lines and columns of errors count from 1, as a spreadsheet shows them.

use std::io::Read;

use thiserror::Error;

use super::DayLoad;
use crate::facts::Day;
use crate::table::{Decimals, NotANumber, Row as Cells, Sheet, SheetError, shown};

/// The column that holds the day.
const DATE: &str = "date";
/// The column that holds its load.
const LOAD: &str = "load";
/// Most days, those left out among them: a hundred years.
const MAX_DAYS: u64 = 36_525;

/// What a day was that has no load in the table: its date left out between two
/// others, or its cell empty.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Missing {
    /// A day of rest: its load was 0.
    Rest,
    /// Not known: it may have been rest, or not been written down.
    Unknown,
}

/// Consecutive days and their loads.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    first: Day,
    loads: Vec<Option<DayLoad>>,
}

impl Table {
    /// Reads a table whose first line names its columns. One is called `date`
    /// (2026-11-25, each day once, rising), one `load` (a number from 0 to
    /// 10⁹ in any one unit), in letters of either case; others are passed over.
    ///
    /// Columns are separated by commas, semicolons or tabs. A cell may stand in
    /// quotation marks, doubled inside it (RFC 4180), on one line. Lines end
    /// with LF, CR or both; a byte order mark and empty rows are passed over.
    /// Numbers have a decimal point or a decimal comma, one of them throughout.
    ///
    /// A day without a load is an error unless `missing` says what it was. At
    /// most 16 MiB, 16 384 bytes a line, 256 columns and 36 525 days are read.
    ///
    /// # Errors
    /// [`TableError`], naming line and column.
    pub fn read(reader: impl Read, missing: Option<Missing>) -> Result<Self, TableError> {
        let sheet = Sheet::read(reader, &[DATE, LOAD])?;
        let mut columns = Columns::find(&sheet)?;
        let mut days: Option<Days> = None;
        for cells in sheet.rows() {
            let row = columns.row(&cells?)?;
            match &mut days {
                None => days = Some(Days::begin(&row, missing)?),
                Some(days) => days.add(&row)?,
            }
        }
        let days = days.ok_or(TableError::NoRows)?;
        Ok(Self { first: days.first, loads: days.loads })
    }

    /// The first day.
    #[must_use]
    pub fn first(&self) -> Day {
        self.first
    }

    /// The load of every day from the first on; `None` where it is not known.
    #[must_use]
    pub fn loads(&self) -> &[Option<DayLoad>] {
        &self.loads
    }

    /// Every day with its load, in order.
    pub fn iter(&self) -> impl Iterator<Item = (Day, Option<DayLoad>)> {
        (0..).zip(&self.loads).map(|(at, load)| (self.first.plus(at), *load))
    }
}

/// Where the two columns are, counted from 0, and how numbers are written.
struct Columns {
    date: usize,
    load: usize,
    decimals: Decimals,
}

/// A row that is not empty.
struct Row {
    line: u64,
    /// Columns from 1.
    date_column: usize,
    load_column: usize,
    day: Day,
    load: Option<DayLoad>,
}

impl Columns {
    fn find(sheet: &Sheet) -> Result<Self, TableError> {
        // The sheet has both, or it would not have been read.
        let place = |name| sheet.place(name).map(Option::unwrap_or_default);
        Ok(Self { date: place(DATE)?, load: place(LOAD)?, decimals: Decimals::default() })
    }

    fn row(&mut self, cells: &Cells) -> Result<Row, TableError> {
        let (line, date_column, load_column) = (cells.line, self.date + 1, self.load + 1);
        let date = cells.cell(self.date);
        let day = Day::parse(date)
            .filter(|day| day.to_string() == date)
            .ok_or_else(|| TableError::NotADate { line, column: date_column, found: shown(date) })?;
        let load = match cells.cell(self.load) {
            "" => None,
            number => Some(self.number(number, line)?),
        };
        Ok(Row { line, date_column, load_column, day, load })
    }

    fn number(&mut self, cell: &str, line: u64) -> Result<DayLoad, TableError> {
        let (column, found) = (self.load + 1, shown(cell));
        let number = self.decimals.number(cell).map_err(|why| {
            let found = found.clone();
            match why {
                NotANumber::Other => TableError::NotANumber { line, column, found },
                NotANumber::Mixed => TableError::MixedDecimals { line, column, found },
                NotANumber::Thousands => TableError::Thousands { line, column, found },
            }
        })?;
        DayLoad::new(number).ok_or(TableError::OutOfRange { line, column, found })
    }
}

/// Days as they come in.
struct Days {
    missing: Option<Missing>,
    first: Day,
    last: Day,
    /// The line of the last day.
    line: u64,
    loads: Vec<Option<DayLoad>>,
}

impl Days {
    fn begin(row: &Row, missing: Option<Missing>) -> Result<Self, TableError> {
        let mut days = Self { missing, first: row.day, last: row.day, line: row.line, loads: Vec::new() };
        days.take(row)?;
        Ok(days)
    }

    fn add(&mut self, row: &Row) -> Result<(), TableError> {
        let (line, column, day) = (row.line, row.date_column, row.day);
        if day == self.last {
            return Err(TableError::Twice { line, column, day, before: self.line });
        }
        if day < self.last {
            return Err(TableError::Falling { line, column, day, last: self.last });
        }
        let (from, to) = (self.last.plus(1), day.plus(-1));
        if from <= to {
            let Some(missing) = self.missing else {
                return Err(TableError::LeftOut { line, column, from, to });
            };
            let left_out = to.number().abs_diff(from.number()) as usize + 1;
            let days = (self.loads.len() + left_out) as u64;
            if days >= MAX_DAYS {
                return Err(TableError::TooManyDays { line, limit: MAX_DAYS });
            }
            self.loads.extend(std::iter::repeat_n(missing.load(), left_out));
        }
        self.take(row)
    }

    /// Takes a row for the day after those there are.
    fn take(&mut self, row: &Row) -> Result<(), TableError> {
        let (line, column, day) = (row.line, row.load_column, row.day);
        if self.loads.len() as u64 >= MAX_DAYS {
            return Err(TableError::TooManyDays { line, limit: MAX_DAYS });
        }
        let load = match (row.load, self.missing) {
            (Some(load), _) => Some(load),
            (None, Some(missing)) => missing.load(),
            (None, None) => return Err(TableError::Blank { line, column, day }),
        };
        self.loads.push(load);
        (self.last, self.line) = (day, line);
        Ok(())
    }
}

impl Missing {
    fn load(self) -> Option<DayLoad> {
        match self {
            Self::Rest => Some(DayLoad::REST),
            Self::Unknown => None,
        }
    }
}

/// Why a text is no table of daily loads.
#[derive(Debug, Error)]
pub enum TableError {
    /// The text, or a row of it, is no table.
    #[error(transparent)]
    Sheet(#[from] SheetError),
    /// There are names of columns, and no row below them.
    #[error("there is no day below the names of the columns")]
    NoRows,
    /// More days than are read, those left out among them.
    #[error("line {line}: more than {limit} days, which is the most that is read")]
    TooManyDays {
        /// Where the limit was passed.
        line: u64,
        /// The limit.
        limit: u64,
    },
    /// A cell that should be a date is none, or not between 1900 and 2199.
    #[error("line {line}, column {column}: `{found}` is no date such as 2026-11-25")]
    NotADate {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// What stands there, cut where it is long.
        found: String,
    },
    /// A day stands in two rows. Whether they are two sessions or one written
    /// twice is not guessed.
    #[error(
        "line {line}, column {column}: {day} stands in line {before} already; one row a day, its sessions added up"
    )]
    Twice {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// The day.
        day: Day,
        /// The line it stands in, too.
        before: u64,
    },
    /// A day stands below a later one.
    #[error("line {line}, column {column}: {day} stands below {last}; sort the rows by date, oldest first")]
    Falling {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// The day.
        day: Day,
        /// The day above it.
        last: Day,
    },
    /// Days between two rows have none, and nothing says what they were.
    #[error(
        "line {line}, column {column}: {} left out before it, and nothing says whether that was rest", days(*from, *to)
    )]
    LeftOut {
        /// The line of the day after them.
        line: u64,
        /// The column.
        column: usize,
        /// The first of them.
        from: Day,
        /// The last of them.
        to: Day,
    },
    /// A day has no load, and nothing says what it was.
    #[error("line {line}, column {column}: {day} has no load, and nothing says whether that was rest")]
    Blank {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// The day.
        day: Day,
    },
    /// A cell that should be a load is no number.
    #[error("line {line}, column {column}: `{found}` is no number")]
    NotANumber {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// What stands there, cut where it is long.
        found: String,
    },
    /// A number is no load.
    #[error("line {line}, column {column}: `{found}` is no load: it lies between 0 and 1000000000")]
    OutOfRange {
        /// The line.
        line: u64,
        /// The column.
        column: usize,
        /// What stands there, cut where it is long.
        found: String,
    },
    /// Decimal points and commas in one table.
    #[error(
        "line {line}, column {column}: `{found}`, but this table has both points and commas in its numbers"
    )]
    MixedDecimals {
        /// The line at which this is seen.
        line: u64,
        /// The column.
        column: usize,
        /// What stands there, cut where it is long.
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
        /// What stands there, cut where it is long.
        found: String,
    },
}

/// One or several days that are left out.
fn days(from: Day, to: Day) -> String {
    if from == to { format!("{from} is") } else { format!("{from} to {to} are") }
}

#[cfg(test)]
mod tests {
    use std::io;

    use proptest::prelude::*;

    use super::*;
    use crate::table::SEPARATORS;

    fn read(text: &str, missing: Option<Missing>) -> Result<Table, TableError> {
        Table::read(text.as_bytes(), missing)
    }

    fn loads(text: &str, missing: Option<Missing>) -> Vec<Option<f64>> {
        read(text, missing).unwrap().loads().iter().map(|load| load.map(DayLoad::get)).collect()
    }

    #[test]
    fn tables_of_every_shape_are_read() {
        let cases = [
            ("date,load\n2026-03-01,420\n2026-03-02,0\n", [420.0, 0.0]),
            ("date,load\r\n2026-03-01,420\r\n\r\n2026-03-02,0", [420.0, 0.0]),
            ("date,load\r2026-03-01,1.5\r2026-03-02,2e2\r", [1.5, 200.0]),
            ("\u{feff}\"Date\";\"Load\"\n2026-03-01;\"1,5\"\n2026-03-02;1,250\n", [1.5, 1.25]),
            ("load\tnote\tDATE\n7\tsaid \"no\"\t2026-03-01\n8\t\t2026-03-02\n", [7.0, 8.0]),
            ("\ndate , load , note\n2026-03-01 , 7 ,\"a, \"\"b\"\"\" \n 2026-03-02, 8,\n,,\n", [7.0, 8.0]),
            ("date,load,where; with whom\n2026-03-01,1,\n2026-03-02,2,\n", [1.0, 2.0]),
            ("date,load\n2026-03-01,\"1,5\"\n2026-03-02,-0\n", [1.5, 0.0]),
        ];
        for (text, expected) in cases {
            assert_eq!(loads(text, None), expected.map(Some), "{text:?}");
            assert_eq!(read(text, None).unwrap().first(), Day::parse("2026-03-01").unwrap());
        }
        // Any bytes may stand in a column that is not looked at.
        let latin = b"date,load,note\n2026-03-01,1,\xfcbung\n";
        assert_eq!(Table::read(&latin[..], None).unwrap().loads().len(), 1);
    }

    #[test]
    fn a_day_without_a_load_is_what_it_is_said_to_be() {
        let text = "date,load\n2026-02-27,1\n2026-03-02,2\n2026-03-03,\n";
        let (one, two) = (Some(1.0), Some(2.0));
        assert_eq!(loads(text, Some(Missing::Rest)), [one, Some(0.0), Some(0.0), two, Some(0.0)]);
        assert_eq!(loads(text, Some(Missing::Unknown)), [one, None, None, two, None]);
        let days: Vec<String> =
            read(text, Some(Missing::Rest)).unwrap().iter().map(|(day, _)| day.to_string()).collect();
        assert_eq!(days, ["2026-02-27", "2026-02-28", "2026-03-01", "2026-03-02", "2026-03-03"]);
        let refused = read(text, None).unwrap_err();
        assert!(matches!(refused, TableError::LeftOut { line: 3, column: 1, .. }), "{refused}");
        assert!(refused.to_string().contains("2026-02-28 to 2026-03-01 are left out"), "{refused}");
    }

    #[test]
    fn what_is_wrong_is_said_with_its_place() {
        macro_rules! refused {
            ($text:expr, $pattern:pat) => {{
                let refused = read($text, None).unwrap_err();
                assert!(matches!(refused, $pattern), "{refused}");
            }};
        }
        let row = |row: &str| format!("date,load\n2026-03-01,1\n\n{row}\n");
        refused!("", TableError::Sheet(SheetError::Empty));
        refused!("\n \n", TableError::Sheet(SheetError::Empty));
        refused!("date,load\n,\n", TableError::NoRows);
        refused!("2026-03-01,1\n", TableError::Sheet(SheetError::NoColumn { line: 1, name: "date", .. }));
        refused!("date;loads\n", TableError::Sheet(SheetError::NoColumn { line: 1, name: "load", .. }));
        refused!("date,load,Load\n", TableError::Sheet(SheetError::TwoOfThatName { line: 1, name: "load" }));
        refused!("date,\"load\n", TableError::Sheet(SheetError::Quoted { line: 1, column: 2 }));
        refused!("date,lo\0ad\n", TableError::Sheet(SheetError::Encoding { line: 1 }));
        refused!(
            &"date,".repeat(300),
            TableError::Sheet(SheetError::TooMany { what: "columns", line: 1, .. })
        );
        refused!(
            &row(&"1".repeat(20_000)),
            TableError::Sheet(SheetError::TooMany { what: "bytes in a line", line: 4, .. })
        );
        refused!(&row("2026-03-02"), TableError::Sheet(SheetError::Ragged { line: 4, found: 1, wanted: 2 }));
        refused!(
            &row("2026-03-02,1,5"),
            TableError::Sheet(SheetError::Ragged { line: 4, found: 3, wanted: 2 })
        );
        refused!(&row("2026-03-02,\"1\"5"), TableError::Sheet(SheetError::Quoted { line: 4, column: 2 }));
        for wrong in
            ["02.03.2026", "2026-02-30", "2026-3-2", "26-03-02", "2026-03-02T10:00", "1899-12-31", ""]
        {
            refused!(&row(&format!("{wrong},1")), TableError::NotADate { line: 4, column: 1, .. });
        }
        refused!(&row("2026-03-01,1"), TableError::Twice { line: 4, column: 1, before: 2, .. });
        refused!(&row("2026-02-28,1"), TableError::Falling { line: 4, column: 1, .. });
        refused!(&row("2026-03-03,1"), TableError::LeftOut { line: 4, column: 1, .. });
        refused!(&row("2026-03-02,"), TableError::Blank { line: 4, column: 2, .. });
        for wrong in ["rest", "1 234", "1.2.3", "0x10", "--1", "12\u{1b}[2J"] {
            refused!(&row(&format!("2026-03-02,{wrong}")), TableError::NotANumber { line: 4, column: 2, .. });
        }
        for wrong in ["-1", "nan", "inf", "1e10", "-1e-9"] {
            refused!(&row(&format!("2026-03-02,{wrong}")), TableError::OutOfRange { line: 4, column: 2, .. });
        }
        refused!(&row("2026-03-02,\"1,234\""), TableError::Thousands { line: 4, column: 2, .. });
        refused!(&row("2026-03-02,\"1.234,5\""), TableError::MixedDecimals { line: 4, .. });
        refused!(
            "date;load\n2026-03-01;1,5\n2026-03-02;1.5\n",
            TableError::MixedDecimals { line: 3, column: 2, .. }
        );
        let shown = read(&row("2026-03-02,12\u{1b}[2J"), None).unwrap_err().to_string();
        assert!(!shown.contains('\u{1b}'), "{shown:?}");
    }

    #[test]
    fn nothing_grows_without_bound() {
        let century = |last: &str| read(&format!("date,load\n1950-01-01,1\n{last},1\n"), Some(Missing::Rest));
        // 36 525 days from the first one on, and one more.
        assert_eq!(century("2049-12-31").unwrap().loads().len(), 36_525);
        let refused = century("2050-01-01").unwrap_err();
        assert!(matches!(refused, TableError::TooManyDays { line: 3, .. }), "{refused}");
        // Endless text, in lines and without, at its head and behind days.
        for (begin, byte) in [("date,load\n2026-03-01,1\n", b'\n'), ("", b'\r'), ("", b'x')] {
            let endless = begin.as_bytes().chain(io::repeat(byte));
            let refused = Table::read(endless, None).unwrap_err();
            assert!(
                matches!(refused, TableError::Sheet(SheetError::TooMany { what: "bytes", .. })),
                "{byte}: {refused}"
            );
        }
    }

    proptest! {
        #[test]
        fn any_bytes_end_in_an_answer(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
            let _ = Table::read(bytes.as_slice(), Some(Missing::Unknown));
        }

        #[test]
        fn any_rows_end_in_an_answer(
            rows in "(\u{feff})?(date[,;\t]load)?(\r?\n|\r)((2026-0[12]-[0-3][0-9]|[0-9-]{0,10})[,;\t]\"?[0-9.,e-]{0,6}\"?(\r?\n|\r)){0,6}"
        ) {
            for missing in [None, Some(Missing::Rest), Some(Missing::Unknown)] {
                if let Ok(table) = read(&rows, missing) {
                    prop_assert!(!table.loads().is_empty());
                    prop_assert!(missing == Some(Missing::Unknown) || table.loads().iter().all(Option::is_some));
                }
            }
        }

        #[test]
        fn days_and_loads_come_back(
            first in -20_000_i32..40_000,
            rows in prop::collection::vec(prop::option::of(0.0..=DayLoad::LARGEST), 1..60),
            separator in prop::sample::select(&SEPARATORS[..]),
            end in prop::sample::select(&["\n", "\r\n", "\r"][..]),
            left_out in any::<bool>(),
        ) {
            let first = Day::from_number(first).unwrap();
            let mut text = format!("date{separator}load{end}");
            let mut expected: Vec<Option<f64>> = vec![Some(1.0)];
            text += &format!("{first}{separator}1{end}");
            expected.extend(&rows);
            for (at, row) in (1..).zip(&rows) {
                let day = first.plus(at);
                match row {
                    Some(load) => text += &format!("{day}{separator}{load}{end}"),
                    None if left_out => {}
                    None => text += &format!("{day}{separator}{end}"),
                }
            }
            if left_out {
                while expected.last() == Some(&None) {
                    expected.pop();
                }
            }
            let table = read(&text, Some(Missing::Unknown)).unwrap();
            prop_assert_eq!(table.first(), first);
            prop_assert_eq!(loads(&text, Some(Missing::Unknown)), expected);
        }
    }
}
