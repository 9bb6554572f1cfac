//! The official distance of an attempt, what the board cost, and the effective distance.
//!
//! World Athletics technical rules: a distance is measured from the foul line to the
//! nearest mark in the pit and written down to the 0.01 m below. The **board loss** is
//! what lies between toe and line at take-off, the **effective distance** is both
//! together: what was jumped, toe to mark.

use crate::facts::{Board, Jump, Outcome};

/// The official distance of a measured one in millimetres: to the 0.01 m below.
#[must_use]
pub const fn official_mm(measured_mm: u32) -> u32 {
    measured_mm - measured_mm % 10
}

/// What was jumped, from toe to mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effective {
    /// The official distance in millimetres.
    pub official_mm: u32,
    /// What the board cost in millimetres: from the toe to the line. Negative where the
    /// toe was over the line and the attempt counts all the same (an indicator without a
    /// print); 0 in a take-off zone, where the distance is measured from the toe.
    pub loss_mm: i32,
    /// Both together. The official distance is up to 9 mm less than what the tape
    /// showed, and so is this.
    pub effective_mm: u32,
}

/// The effective distance of an attempt; `None` of a foul, and where nobody wrote down
/// where the toe was.
#[must_use]
pub fn effective(jump: &Jump) -> Option<Effective> {
    let Outcome::Measured(official_mm) = jump.outcome else { return None };
    let loss_mm = match jump.board {
        Some(Board::Zone) => 0,
        _ => -jump.toe_mm?,
    };
    Some(Effective { official_mm, loss_mm, effective_mm: official_mm.saturating_add_signed(loss_mm) })
}

/// A length that is not written as one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LengthError {
    /// Not digits with at most one mark before the decimals.
    #[error("a length is written in metres, such as 7.42")]
    NotANumber,
    /// More than three decimals.
    #[error("a length is written to the millimetre at most: three decimals")]
    TooFine,
    /// A thousand kilometres or more.
    #[error("a length has at most six digits before the decimals")]
    TooLong,
}

/// Millimetres from metres as they are written, `7.42` or `7,42`: exact, without
/// a binary fraction in between.
///
/// # Errors
/// [`LengthError`] where it is not a length, finer than a millimetre, or absurdly long.
pub fn parse_metres(text: &str) -> Result<u32, LengthError> {
    let (whole, decimals) = match text.split_once(['.', ',']) {
        Some((_, "")) => return Err(LengthError::NotANumber),
        Some(parts) => parts,
        None => (text, ""),
    };
    let digits = |part: &str| part.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(decimals) {
        return Err(LengthError::NotANumber);
    }
    if decimals.len() > 3 {
        return Err(LengthError::TooFine);
    }
    if whole.len() > 6 {
        return Err(LengthError::TooLong);
    }
    let number = format!("{whole}{decimals:0<3}");
    number.parse().map_err(|_| LengthError::NotANumber)
}

/// Metres from millimetres, with two decimals where that is exact and three where not.
#[must_use]
pub fn metres(mm: u32) -> String {
    let (whole, rest) = (mm / 1_000, mm % 1_000);
    if rest.is_multiple_of(10) { format!("{whole}.{:02}", rest / 10) } else { format!("{whole}.{rest:03}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::jump::history::tests::long;
    use proptest::prelude::*;

    #[test]
    fn what_the_board_cost_is_added() {
        let behind = Jump { toe_mm: Some(-73), ..long(6_420) };
        let found = Effective { official_mm: 6_420, loss_mm: 73, effective_mm: 6_493 };
        assert_eq!(effective(&behind), Some(found));
        let over = Jump { toe_mm: Some(8), board: Some(Board::Indicator), ..long(6_420) };
        assert_eq!(effective(&over).map(|e| e.effective_mm), Some(6_412));
        let zone = Jump { board: Some(Board::Zone), ..behind.clone() };
        assert_eq!(effective(&zone).map(|e| e.effective_mm), Some(6_420));
        assert_eq!(effective(&Jump { toe_mm: None, ..behind.clone() }), None);
        assert_eq!(effective(&Jump { outcome: Outcome::Foul, ..behind }), None);
    }

    #[test]
    fn what_is_no_length_says_why() {
        for text in ["", ".", "7.", ".5", "7.4.2", "-7.42", "+7", "7.4e1", "7 42", "٧"] {
            assert_eq!(parse_metres(text), Err(LengthError::NotANumber), "{text}");
        }
        assert_eq!(parse_metres("7.4200"), Err(LengthError::TooFine));
        assert_eq!(parse_metres("1000000"), Err(LengthError::TooLong));
        assert_eq!(parse_metres("999999.999"), Ok(999_999_999));
        assert_eq!((parse_metres("7,5"), parse_metres("12")), (Ok(7_500), Ok(12_000)));
    }

    proptest! {
        #[test]
        fn a_length_comes_back_to_the_millimetre(mm in 0_u32..1_000_000_000) {
            prop_assert_eq!(parse_metres(&metres(mm)), Ok(mm));
            prop_assert!(official_mm(mm) <= mm && mm - official_mm(mm) < 10);
        }

        #[test]
        fn any_text_ends(text in ".{0,20}") {
            let _ = parse_metres(&text);
        }
    }
}
