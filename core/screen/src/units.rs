//! The units that a person reads lengths and masses in. They are kept in millimetres and grams,
//! whatever is read.
//!
//! Which system it is, the language tag of a call says: by its Unicode extension `ms`, else by
//! its region (UTS 35, Unicode Measurement System Identifier). Times, speeds and energies are in
//! seconds, m/s and J/kg for everybody, since what is computed and cited is.

use icu_locale_core::Locale;
use icu_locale_core::extensions::unicode::{Key, Value, key, value};

/// The key of a language tag that says the system of measurement.
const MEASUREMENT: Key = key!("ms");

/// The key that says another region than that of the language, as for what is usual there.
const REGION: Key = key!("rg");

/// Where feet and pounds are what is usual; after the Unicode Common Locale Data Repository.
const CUSTOMARY_REGIONS: [&str; 3] = ["LR", "MM", "US"];

/// A system of measurement. That of the United Kingdom is the metric one here, as on its tracks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Units {
    /// Metres, centimetres, kilograms.
    Metric,
    /// Feet, inches, pounds.
    Customary,
}

impl Units {
    /// What a language tag says.
    pub(crate) fn of(locale: &Locale) -> Self {
        let keywords = &locale.extensions.unicode.keywords;
        if let Some(said) = keywords.get(&MEASUREMENT) {
            return if *said == value!("ussystem") { Self::Customary } else { Self::Metric };
        }
        // A region in this key has four letters more, for a part of it or none: `uszzzz`.
        let moved = keywords.get(&REGION).and_then(Value::as_single_subtag);
        let moved = moved.and_then(|subtag| subtag.as_str().get(..2)).map(str::to_ascii_uppercase);
        let region = moved.or_else(|| locale.id.region.map(|region| region.as_str().to_owned()));
        match region {
            Some(region) if CUSTOMARY_REGIONS.contains(&region.as_str()) => Self::Customary,
            _ => Self::Metric,
        }
    }

    /// Puts it into a language tag, by the word that the tag has for it.
    pub(crate) fn put(locale: &mut Locale, word: &str) {
        if let Ok(value) = Value::try_from_str(word) {
            locale.extensions.unicode.keywords.set(MEASUREMENT, value);
        }
    }

    /// The heights of a box to choose from in millimetres, the lowest first, as far as a set may
    /// have them: every 5 cm up to 150, or every second inch up to 58, each the nearest
    /// millimetre.
    pub(crate) fn boxes(self) -> Vec<u32> {
        match self {
            Self::Metric => (1..=30).map(|n| n * 50).collect(),
            // An inch is 25.4 mm exactly.
            Self::Customary => (1..=29).map(|n| (n * 508 + 5) / 10).collect(),
        }
    }
}

/// Tenths of an inch, the nearest.
pub(crate) fn tenths_of_inches(mm: u32) -> u64 {
    (u64::from(mm) * 100 + 127) / 254
}

/// Quarters of an inch, the nearest.
pub(crate) fn quarters_of_inches(mm: u32) -> u64 {
    (u64::from(mm) * 40 + 127) / 254
}

/// Whole quarters of an inch.
pub(crate) fn whole_quarters_of_inches(mm: u32) -> u64 {
    u64::from(mm) * 40 / 254
}

/// Tenths of a pound, the nearest. A pound is 453.592 37 g exactly.
pub(crate) fn tenths_of_pounds(g: u32) -> u64 {
    (u64::from(g) * 1_000_000 + 22_679_618) / 45_359_237
}

/// Inches of a computed length.
pub(crate) fn inches(mm: f64) -> f64 {
    mm / 25.4
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn of(tag: &str) -> Units {
        Units::of(&Locale::try_from_str(tag).unwrap())
    }

    #[test]
    fn the_system_is_said_by_its_key_else_by_the_region() {
        use Units::{Customary, Metric};
        for (tag, units) in [
            ("en", Metric),
            ("de-DE", Metric),
            ("en-US", Customary),
            ("es-US", Customary),
            ("en-GB", Metric),
            ("en-US-u-ms-metric", Metric),
            ("de-u-ms-ussystem", Customary),
            ("en-US-u-ms-uksystem", Metric),
            ("de-DE-u-fw-mon-ms-ussystem-mu-celsius", Customary),
            ("en-GB-u-rg-uszzzz", Customary),
            ("en-US-u-rg-gbzzzz", Metric),
            ("en-US-u-ms-metric-rg-uszzzz", Metric),
            ("zh-Hant-US-x-private", Customary),
        ] {
            assert_eq!(of(tag), units, "{tag}");
        }
    }

    #[test]
    fn a_tag_is_told_another_system_and_keeps_the_rest() {
        let mut locale = Locale::try_from_str("de-AT-u-fw-mon-ms-metric").unwrap();
        Units::put(&mut locale, "ussystem");
        assert_eq!(locale.to_string(), "de-AT-u-fw-mon-ms-ussystem");
    }

    /// The international foot and pound are 0.3048 m and 0.453 592 37 kg exactly (agreement of
    /// 1959; NIST SP 811, appendix B).
    #[test]
    fn conversions_are_by_the_exact_definitions() {
        assert_eq!(tenths_of_inches(305), 120, "a foot, to the millimetre");
        assert_eq!(tenths_of_inches(300), 118, "11.811 in");
        assert_eq!(tenths_of_inches(1_270), 500);
        assert_eq!(quarters_of_inches(7_620), 25 * 48, "25 ft");
        assert_eq!(whole_quarters_of_inches(7_620), 25 * 48);
        assert_eq!(whole_quarters_of_inches(7_619), 25 * 48 - 1);
        assert_eq!(tenths_of_pounds(453_592), 10_000, "1000 lb");
        assert_eq!(tenths_of_pounds(20_412), 450, "45 lb");
        assert_eq!(tenths_of_pounds(60_000), 1_323, "132.277 lb");
        assert_eq!([0, 1].map(tenths_of_pounds), [0, 0]);
        let most = u32::MAX;
        assert!(tenths_of_inches(most) > 0 && quarters_of_inches(most) > 0 && tenths_of_pounds(most) > 0);
    }

    proptest! {
        /// What is told is as near as its last place can say.
        #[test]
        fn what_is_told_is_the_nearest(mm in 0..100_000_u32, g in 0..500_000_u32) {
            let off = |told: f64, exact: f64, place: f64| (told - exact).abs() <= place / 2.0 + 1e-9;
            prop_assert!(off(tenths_of_inches(mm) as f64 / 10.0, inches(f64::from(mm)), 0.1));
            prop_assert!(off(quarters_of_inches(mm) as f64 / 4.0, inches(f64::from(mm)), 0.25));
            prop_assert!(off(tenths_of_pounds(g) as f64 / 10.0, f64::from(g) / 453.592_37, 0.1));
            let short = inches(f64::from(mm)) - whole_quarters_of_inches(mm) as f64 / 4.0;
            prop_assert!((-1e-9..0.25).contains(&short));
        }
    }
}
