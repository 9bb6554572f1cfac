//! What was read at the board and the gauge, from text as people type it: exact, without
//! a binary fraction in between.

use super::distance::parse_metres;

/// A reading that is not written as one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadingError {
    /// A position beside the line without its unit.
    #[error("say it with its unit, as -4cm, 1.5cm or -45mm")]
    NoUnit,
    /// A position with a unit that is no number.
    #[error("a length, as -4cm, 1.5cm or -45mm")]
    NotALength,
    /// A position in centimetres that is no number.
    #[error("centimetres, as −4 behind the line or 1.5 over it")]
    NotCentimetres,
    /// Finer than a millimetre.
    #[error("to the millimetre at most")]
    TooFine,
    /// Farther than anything beside a runway.
    #[error("that is too long")]
    TooLong,
    /// Wind that is no number.
    #[error("metres a second, as 1.3 or -0.4")]
    NotAWind,
}

/// A sign, and what is behind it.
fn signed(text: &str) -> (i32, &str) {
    match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (-1, rest),
        None => (1, text.strip_prefix('+').unwrap_or(text)),
    }
}

/// Millimetres from a number and how many thousandths of its unit make one.
fn millimetres(sign: i32, number: &str, each: u32, odd: ReadingError) -> Result<i32, ReadingError> {
    let thousandths = parse_metres(number.trim_end()).map_err(|_| odd)?;
    if !thousandths.is_multiple_of(each) {
        return Err(ReadingError::TooFine);
    }
    i32::try_from(thousandths / each).map(|mm| sign * mm).map_err(|_| ReadingError::TooLong)
}

/// Where the toe was, in millimetres, from `-4cm`, `1.5cm` or `-45mm`: never without a
/// unit. Negative behind the line, positive over it.
///
/// # Errors
/// [`ReadingError`] where it has no unit, is no length, or finer than a millimetre.
pub fn parse_toe(text: &str) -> Result<i32, ReadingError> {
    let (sign, rest) = signed(text);
    let (number, each) = match (rest.strip_suffix("cm"), rest.strip_suffix("mm")) {
        (Some(number), _) => (number, 100),
        (_, Some(number)) => (number, 1_000),
        _ => return Err(ReadingError::NoUnit),
    };
    millimetres(sign, number, each, ReadingError::NotALength)
}

/// Where the toe was, in millimetres, from centimetres where the unit stands beside the
/// field: `-4`, `1.5`; with its unit too.
///
/// # Errors
/// [`ReadingError`] where it is no length, or finer than a millimetre.
pub fn parse_toe_cm(text: &str) -> Result<i32, ReadingError> {
    if text.ends_with("cm") || text.ends_with("mm") {
        return parse_toe(text);
    }
    let (sign, rest) = signed(text);
    millimetres(sign, rest, 100, ReadingError::NotCentimetres)
}

/// A wind in mm/s from `1.3` or `-0.4` m/s.
///
/// # Errors
/// [`ReadingError::NotAWind`].
pub fn parse_wind(text: &str) -> Result<i32, ReadingError> {
    let (sign, rest) = signed(text);
    let mm_s = parse_metres(rest).map_err(|_| ReadingError::NotAWind)?;
    i32::try_from(mm_s).map(|mm_s| sign * mm_s).map_err(|_| ReadingError::NotAWind)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn toes_and_winds_are_exact_and_have_their_sign() {
        assert_eq!(parse_toe("-4cm"), Ok(-40));
        assert_eq!(parse_toe("\u{2212}4,5 cm"), Ok(-45));
        assert_eq!(parse_toe("+12mm"), Ok(12));
        assert_eq!(parse_toe("0cm"), Ok(0));
        for odd in ["-4", "4 m", "cm", "--4cm", "4.55cm", "1.5mm", "9999999cm"] {
            assert!(parse_toe(odd).is_err(), "{odd}");
        }
        let winds = [parse_wind("1.3"), parse_wind("-0.4"), parse_wind("2.03")];
        assert_eq!(winds, [Ok(1_300), Ok(-400), Ok(2_030)]);
        assert!(parse_wind("strong").is_err() && parse_wind("1e3").is_err());
    }

    #[test]
    fn beside_a_unit_centimetres_need_none() {
        assert_eq!((parse_toe_cm("-4"), parse_toe_cm("1,5"), parse_toe_cm("0")), (Ok(-40), Ok(15), Ok(0)));
        assert_eq!((parse_toe_cm("-45mm"), parse_toe_cm("-4 cm")), (Ok(-45), Ok(-40)));
        assert_eq!(parse_toe_cm("4.55"), Err(ReadingError::TooFine));
        assert_eq!(parse_toe_cm("near"), Err(ReadingError::NotCentimetres));
    }

    proptest! {
        #[test]
        fn any_text_ends(text in ".{0,20}") {
            let _ = (parse_toe(&text), parse_toe_cm(&text), parse_wind(&text));
        }
    }
}
