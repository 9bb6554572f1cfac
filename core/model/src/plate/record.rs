//! A record: one vertical force a sample, at a steady rate.

use std::convert::Infallible;
use std::io::BufRead;
use std::str::FromStr;

use super::error::RecordError;
use super::table;

/// Largest force that is read, N, either way. It keeps every sum finite.
pub(super) const LARGEST_N: f64 = 1e7;

/// Samples a second that are taken.
const RATES_HZ: std::ops::RangeInclusive<f64> = 1.0..=1e6;

/// The vertical force under the feet, sample by sample.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    force_n: Vec<f64>,
    rate_hz: f64,
}

/// A column of a table, as a person says it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Column {
    /// By its place, counted from 1.
    Number(usize),
    /// By its name in the header, letter for letter.
    Name(String),
}

impl FromStr for Column {
    type Err = Infallible;

    /// Digits alone are a number, everything else is a name.
    fn from_str(text: &str) -> Result<Self, Infallible> {
        let text = text.trim();
        let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        Ok(match text.parse() {
            Ok(number) if digits => Self::Number(number),
            _ => Self::Name(text.to_owned()),
        })
    }
}

impl Record {
    /// Reads a table: rows of numbers, one a sample, below at most a few lines
    /// of text. The force is the sum of `columns`; they may be left out where
    /// there is only one.
    ///
    /// Columns are separated by tabs, semicolons, commas or spaces, as the
    /// first row has it. Lines end with LF, CR or both; a byte order mark is
    /// passed over, and so are empty lines. Numbers have a decimal point; a
    /// decimal comma is read where it can be told from a separator. Only the
    /// chosen columns need to hold numbers.
    ///
    /// At most 4 000 000 rows, 256 columns, 16 384 bytes a line and 256 MiB
    /// are read.
    ///
    /// # Errors
    /// [`RecordError`], naming line and column.
    pub fn read(reader: impl BufRead, columns: &[Column], rate_hz: f64) -> Result<Self, RecordError> {
        check_rate(rate_hz)?;
        Ok(Self { force_n: table::read(reader, columns)?, rate_hz })
    }

    /// A record of forces that are there already, in newtons.
    ///
    /// # Errors
    /// [`RecordError`] where there is no sample, a force is no number or
    /// beyond 10 MN (its line is its place, counted from 1), or the rate lies
    /// outside 1 Hz to 1 MHz.
    pub fn new(force_n: Vec<f64>, rate_hz: f64) -> Result<Self, RecordError> {
        check_rate(rate_hz)?;
        if force_n.is_empty() {
            return Err(RecordError::NoRows);
        }
        for (newton, line) in force_n.iter().zip(1..) {
            if !newton.is_finite() {
                return Err(RecordError::NotFinite { line, column: 1, found: newton.to_string() });
            }
            if newton.abs() > LARGEST_N {
                return Err(RecordError::TooLarge { line, column: 1, found: newton.to_string() });
            }
        }
        Ok(Self { force_n, rate_hz })
    }

    /// The force of every sample, N, as recorded.
    #[must_use]
    pub fn force_n(&self) -> &[f64] {
        &self.force_n
    }

    /// Samples a second.
    #[must_use]
    pub fn rate_hz(&self) -> f64 {
        self.rate_hz
    }

    /// When a sample was taken, s: the first one at 0.
    pub(super) fn at_s(&self, sample: usize) -> f64 {
        sample as f64 / self.rate_hz
    }

    /// How long the record is, s.
    #[must_use]
    pub fn duration_s(&self) -> f64 {
        self.at_s(self.force_n.len())
    }
}

fn check_rate(found: f64) -> Result<(), RecordError> {
    if RATES_HZ.contains(&found) { Ok(()) } else { Err(RecordError::Rate { found }) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_is_a_number_or_a_name() {
        let cases = [
            ("2", Column::Number(2)),
            (" 10 ", Column::Number(10)),
            ("0", Column::Number(0)),
            ("+2", Column::Name("+2".to_owned())),
            ("FP1", Column::Name("FP1".to_owned())),
            ("", Column::Name(String::new())),
            ("99999999999999999999999", Column::Name("99999999999999999999999".to_owned())),
        ];
        for (text, column) in cases {
            assert_eq!(text.parse(), Ok(column));
        }
    }

    #[test]
    fn a_record_has_samples_and_a_rate() {
        let record = Record::new(vec![1.0, 2.0, 3.0], 2.0).unwrap();
        assert_eq!(record.duration_s(), 1.5);
        for found in [0.0, -600.0, 0.5, 1e6 + 1.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let wrong = Record::new(vec![1.0], found);
            assert!(matches!(wrong, Err(RecordError::Rate { .. })), "{found}");
            let wrong = Record::read(&b"1\n"[..], &[], found);
            assert!(matches!(wrong, Err(RecordError::Rate { .. })), "{found}");
        }
        assert!(matches!(Record::new(vec![], 1.0), Err(RecordError::NoRows)));
        let nan = Record::new(vec![1.0, f64::NAN], 1.0);
        assert!(matches!(nan, Err(RecordError::NotFinite { line: 2, .. })));
        let large = Record::new(vec![1.0, 1.0, -1.1e7], 1.0);
        assert!(matches!(large, Err(RecordError::TooLarge { line: 3, .. })));
    }
}
