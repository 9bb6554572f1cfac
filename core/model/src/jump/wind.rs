//! The wind of an attempt, and whether its distance can be a record.
//!
//! World Athletics technical rules for the horizontal jumps: the reading is in tenths of
//! a metre a second, rounded toward the positive (rounding from memory); up to +2.0 m/s a
//! distance can be a record. Above that it still counts, only records are barred.

use crate::facts::{Jump, Wind, WindRule};

/// The strongest following wind of a record, in tenths of a metre a second.
pub const MOST_TENTHS: i32 = 20;

/// What the wind says of a record. Whether a competition, its officials and its gauge
/// were such that one can be set, the rules of the place decide.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ForRecords {
    /// A gauge said so.
    Allowed,
    /// Indoors no wind is measured.
    Indoors,
    /// A gauge read more than +2.0 m/s.
    TooStrong,
    /// There was a reading, but not one by the rules.
    NotByRule,
    /// There was no gauge.
    NoGauge,
    /// Nothing was said of the wind.
    NotSaid,
}

impl ForRecords {
    /// Whether the wind does not stand in the way of a record.
    #[must_use]
    pub fn is_allowed(self) -> bool {
        matches!(self, Self::Allowed | Self::Indoors)
    }
}

/// The reading in tenths of a metre a second, rounded toward the positive: 2.03 m/s is
/// 2.1, −2.03 is −2.0.
#[must_use]
pub const fn reading_tenths(mm_s: i32) -> i32 {
    mm_s.div_euclid(100) + (mm_s.rem_euclid(100) > 0) as i32
}

/// What the wind of an attempt says of a record. A reading beside which no rule was
/// written is taken as one by the rules (ours, no source).
#[must_use]
pub fn for_records(jump: &Jump) -> ForRecords {
    match jump.wind {
        _ if jump.indoor => ForRecords::Indoors,
        Some(Wind::Gauge(_)) if jump.wind_rule == Some(WindRule::Otherwise) => ForRecords::NotByRule,
        Some(Wind::Gauge(mm_s)) if reading_tenths(mm_s) <= MOST_TENTHS => ForRecords::Allowed,
        Some(Wind::Gauge(_)) => ForRecords::TooStrong,
        Some(Wind::NoGauge) => ForRecords::NoGauge,
        None => ForRecords::NotSaid,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::jump::history::tests::long;

    #[test]
    fn only_a_gauge_read_by_the_rules_allows_a_record_outdoors() {
        let with = |wind| Jump { wind, ..long(6_420) };
        assert_eq!(for_records(&with(Some(Wind::Gauge(2_000)))), ForRecords::Allowed);
        assert_eq!(for_records(&with(Some(Wind::Gauge(2_001)))), ForRecords::TooStrong);
        assert_eq!(for_records(&with(Some(Wind::Gauge(-4_000)))), ForRecords::Allowed);
        assert_eq!(for_records(&with(Some(Wind::NoGauge))), ForRecords::NoGauge);
        assert_eq!(for_records(&with(None)), ForRecords::NotSaid);
        assert_eq!(for_records(&Jump { indoor: true, ..with(None) }), ForRecords::Indoors);
        let hand = Jump { wind_rule: Some(WindRule::Otherwise), ..with(Some(Wind::Gauge(500))) };
        assert_eq!(for_records(&hand), ForRecords::NotByRule);
        assert!(ForRecords::Indoors.is_allowed() && !ForRecords::NotSaid.is_allowed());
    }

    #[test]
    fn a_reading_is_the_tenth_at_or_above() {
        for mm_s in -15_000..=15_000 {
            let above = reading_tenths(mm_s) * 100 - mm_s;
            assert!((0..100).contains(&above), "{mm_s}");
        }
    }
}
