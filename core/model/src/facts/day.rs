//! Calendar days, without a time zone: the day it was where it happened.

use core::fmt;

use chrono::{Datelike, Days, NaiveDate};

/// A calendar day. Written as days since 1970-01-01 (as in RFC 8943, without
/// its tag), shown as RFC 3339 `full-date`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(i32);

impl Day {
    /// 1900-01-01: nothing earlier is accepted.
    pub const FIRST: Self = Self(-25_567);
    /// 2199-12-31: nothing later is accepted.
    pub const LAST: Self = Self(84_005);

    /// From days since 1970-01-01; `None` outside [`Day::FIRST`] ..= [`Day::LAST`].
    #[must_use]
    pub fn from_number(n: i32) -> Option<Self> {
        (Self::FIRST.0..=Self::LAST.0).contains(&n).then_some(Self(n))
    }
    /// Days since 1970-01-01.
    #[must_use]
    pub fn number(self) -> i32 {
        self.0
    }
    /// From a calendar date; `None` outside the accepted years.
    #[must_use]
    pub fn from_date(date: NaiveDate) -> Option<Self> {
        let days = date.signed_duration_since(NaiveDate::default()).num_days();
        i32::try_from(days).ok().and_then(Self::from_number)
    }
    /// As a calendar date.
    #[must_use]
    pub fn date(self) -> NaiveDate {
        let epoch = NaiveDate::default();
        let by = Days::new(u64::from(self.0.unsigned_abs()));
        let date = if self.0 < 0 { epoch.checked_sub_days(by) } else { epoch.checked_add_days(by) };
        date.unwrap_or(epoch)
    }
    /// From `2026-11-25`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        NaiveDate::parse_from_str(text, "%Y-%m-%d").ok().and_then(Self::from_date)
    }
    /// The day `n` days later (earlier where negative), kept inside the accepted years.
    #[must_use]
    pub fn plus(self, n: i32) -> Self {
        Self(self.0.saturating_add(n).clamp(Self::FIRST.0, Self::LAST.0))
    }
    /// The Monday of its ISO 8601 calendar week.
    #[must_use]
    pub fn monday(self) -> Self {
        let back = i32::try_from(self.date().weekday().num_days_from_monday()).unwrap_or(0);
        self.plus(-back)
    }
    /// The day on which a wall clock stands: milliseconds since the Unix epoch
    /// and minutes east of UTC.
    #[must_use]
    pub fn of_stamp(stamp_ms: i64, zone_min: i16) -> Self {
        let local = stamp_ms.saturating_add(i64::from(zone_min) * 60_000);
        let day = local.div_euclid(86_400_000);
        Self(i32::try_from(day).unwrap_or(Self::LAST.0).clamp(Self::FIRST.0, Self::LAST.0))
    }
    /// Whole years from `self` to `on`, as ages are counted.
    #[must_use]
    pub fn years_until(self, on: Self) -> i32 {
        let (born, then) = (self.date(), on.date());
        let not_yet = (then.month(), then.day()) < (born.month(), born.day());
        then.year() - born.year() - i32::from(not_yet)
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.date().format("%Y-%m-%d").fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_weeks_and_ages() {
        let day = Day::parse("2026-11-25").unwrap();
        assert_eq!(day.to_string(), "2026-11-25");
        assert_eq!(day.monday().to_string(), "2026-11-23");
        assert_eq!(Day::of_stamp(0, -60).to_string(), "1969-12-31");
        assert_eq!(Day::parse("2010-11-26").unwrap().years_until(day), 15);
        assert_eq!(Day::parse("2010-11-25").unwrap().years_until(day), 16);
        assert_eq!(Day::FIRST.to_string(), "1900-01-01");
        assert_eq!(Day::LAST.to_string(), "2199-12-31");
        assert_eq!(Day::parse("1800-01-01"), None);
        assert_eq!(Day::of_stamp(i64::MAX, 0), Day::LAST);
    }
}
