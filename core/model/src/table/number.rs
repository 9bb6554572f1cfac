//! Numbers of one table: a decimal point or a decimal comma, one of them throughout.

use thiserror::Error;

/// What the numbers of a table so far have shown of their decimals.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Decimals {
    mark: Option<char>,
}

/// Why a cell is no number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum NotANumber {
    /// It is none.
    #[error("no number")]
    Other,
    /// It has a point and a comma, or the one where numbers above it have the other.
    #[error("a number with both points and commas in this table")]
    Mixed,
    /// A comma before three digits that may be a decimal comma or set off the
    /// thousands.
    #[error("a number whose comma may be a decimal comma or set off the thousands")]
    Thousands,
}

impl Decimals {
    /// The number of a cell; it may be infinite or none at all, which the caller's
    /// range refuses.
    ///
    /// # Errors
    /// [`NotANumber`].
    pub fn number(&mut self, cell: &str) -> Result<f64, NotANumber> {
        let mark = match (cell.contains('.'), cell.contains(',')) {
            (false, false) => None,
            (true, false) => Some('.'),
            (false, true) => Some(','),
            (true, true) => return Err(NotANumber::Mixed),
        };
        if mark == Some(',') && self.mark.is_none() && may_be_thousands(cell) {
            return Err(NotANumber::Thousands);
        }
        if mark.is_some() && self.mark.is_some_and(|known| Some(known) != mark) {
            return Err(NotANumber::Mixed);
        }
        self.mark = self.mark.or(mark);
        cell.replace(',', ".").parse().map_err(|_| NotANumber::Other)
    }
}

/// `1,234` may be either; `0,234` and `1,23` are decimals.
fn may_be_thousands(cell: &str) -> bool {
    let Some((before, after)) = cell.split_once(',') else { return false };
    after.len() == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_mark_throughout() {
        let mut decimals = Decimals::default();
        assert_eq!(decimals.number("30"), Ok(30.0));
        assert_eq!(decimals.number("1,234"), Err(NotANumber::Thousands));
        assert_eq!(decimals.number("1,5"), Ok(1.5));
        // A comma has shown itself as a decimal comma.
        assert_eq!(decimals.number("1,234"), Ok(1.234));
        assert_eq!(decimals.number("1.5"), Err(NotANumber::Mixed));
        assert_eq!(decimals.number("1.234,5"), Err(NotANumber::Mixed));
        assert_eq!(decimals.number("1 234"), Err(NotANumber::Other));
    }
}
