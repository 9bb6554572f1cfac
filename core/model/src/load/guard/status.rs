//! What is known of an athlete on a day, as far as it bears on what may be offered.

use std::collections::BTreeMap;

use uuid::Uuid;

use crate::facts::{
    Advice, CheckIn, Control, Day, Growth, LandingControl, Level, Limit, RuleName, Side, Test, TestResult,
};
use crate::load::rule::Rules;

/// Two heights tell a rate of growth only from so many days apart on. Ours, without a
/// source: half a centimetre of reading is 30 mm a year over two months.
pub const GROWTH_DAYS: i32 = 60;
/// A judgement of landing control is recent for so many days. Ours, without a source.
pub const CONTROL_DAYS: i32 = 42;

/// What is known of an athlete on a day. What is not known stands as such: it asks, and
/// is never taken for the better value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Status {
    /// The day.
    pub day: Day,
    /// Whole years; unknown counts as young.
    pub age: Option<u32>,
    /// The training level; unknown counts as a beginner's.
    pub level: Option<Level>,
    /// Body mass, g.
    pub mass_g: Option<u32>,
    /// Measured heights of the body, in any order.
    pub heights: Vec<Growth>,
    /// Test results, in any order.
    pub tests: Vec<TestResult>,
    /// Judgements of landing control, in any order.
    pub controls: Vec<LandingControl>,
    /// Days without plyometric work between the last one and this day, where each of them
    /// is known: on days that are not known no gap is judged.
    pub days_off: Option<u32>,
    /// The days of the last week with plyometric work, this one apart.
    pub plyometric_days: Vec<Day>,
    /// Plyometric contacts of this day so far, warm-up apart.
    pub contacts_today: u64,
    /// By exercise, the highest box that was dropped from so far, mm.
    pub falls_mm: BTreeMap<Uuid, u32>,
    /// The limits that hold. Whoever gives them knows how far the clock is to be trusted.
    pub limits: Vec<Limit>,
    /// The check-ins of the last two weeks; empty too where they may not be seen.
    pub check_ins: Vec<CheckIn>,
    /// A clinician's advice that holds.
    pub advice: Vec<Advice>,
    /// The lines.
    pub rules: Rules,
}

/// How fast an athlete grew between two days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GrowthRate {
    /// mm a year.
    pub mm_per_year: u32,
    /// The day of the first height.
    pub from: Day,
    /// The day of the second.
    pub to: Day,
}

impl Status {
    /// Nothing is known.
    #[must_use]
    pub fn unknown(day: Day) -> Self {
        Self {
            day,
            age: None,
            level: None,
            mass_g: None,
            heights: Vec::new(),
            tests: Vec::new(),
            controls: Vec::new(),
            days_off: None,
            plyometric_days: Vec::new(),
            contacts_today: 0,
            falls_mm: BTreeMap::new(),
            limits: Vec::new(),
            check_ins: Vec::new(),
            advice: Vec::new(),
            rules: Rules::default(),
        }
    }

    /// Whether the athlete is below the line of a rule of years, or of unknown age. Where
    /// the rule is off, nobody is.
    #[must_use]
    pub fn is_younger_than(&self, rule: RuleName) -> bool {
        self.rules.value(rule, self.day).is_some_and(|years| self.age.is_none_or(|age| age < years))
    }

    /// Whether the rules for the young hold.
    #[must_use]
    pub fn is_young(&self) -> bool {
        self.is_younger_than(RuleName::YoungAge)
    }

    /// The newest result of a test up to this day, of one side where it has sides.
    #[must_use]
    pub fn test(&self, test: Test, side: Option<Side>) -> Option<&TestResult> {
        let of = |result: &&TestResult| result.test == test && result.side == side && result.day <= self.day;
        self.tests.iter().filter(of).max_by_key(|result| result.day)
    }

    /// The rate of growth: from the newest height and the newest one at least
    /// [`GROWTH_DAYS`] before it. A smaller height than before is no growth.
    #[must_use]
    pub fn growth(&self) -> Option<GrowthRate> {
        let last = self.heights.iter().filter(|height| height.day <= self.day).max_by_key(|h| h.day)?;
        let early = |height: &&Growth| height.day <= last.day.plus(-GROWTH_DAYS);
        let before = self.heights.iter().filter(early).max_by_key(|height| height.day)?;
        let days = u64::try_from(last.day.number() - before.day.number()).ok()?;
        let grown = u64::from(last.height_mm.saturating_sub(before.height_mm));
        let mm_per_year = u32::try_from((grown * 365 + days / 2) / days).unwrap_or(u32::MAX);
        Some(GrowthRate { mm_per_year, from: before.day, to: last.day })
    }

    /// Whether landings were held lately: the newest judgement of the last
    /// [`CONTROL_DAYS`] says so, and none of those days says that one was lost.
    #[must_use]
    pub fn holds_landings(&self) -> bool {
        let recent = |c: &&LandingControl| (self.day.plus(-CONTROL_DAYS)..=self.day).contains(&c.day);
        let newest = self.controls.iter().filter(recent).max_by_key(|control| control.day);
        newest.is_some_and(|newest| newest.control == Control::Held && !newest.knee_inward && !newest.trunk)
            && self.controls.iter().filter(recent).all(|control| control.control != Control::Lost)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::Rule;

    fn day(n: i32) -> Day {
        Day::parse("2026-11-26").unwrap().plus(n)
    }

    fn height(n: i32, height_mm: u32) -> Growth {
        Growth { day: day(n), height_mm }
    }

    #[test]
    fn growth_needs_two_heights_two_months_apart() {
        let of =
            |heights: &[Growth]| Status { heights: heights.to_vec(), ..Status::unknown(day(0)) }.growth();
        assert_eq!(of(&[height(0, 1_650), height(-59, 1_640)]), None);
        // 12 mm in 60 days are 73 mm a year.
        let rate =
            of(&[height(-60, 1_640), height(-90, 1_600), height(-20, 1_651), height(0, 1_652)]).unwrap();
        assert_eq!((rate.mm_per_year, rate.from), (73, day(-60)));
        assert_eq!(of(&[height(-100, 1_640), height(0, 1_638)]).unwrap().mm_per_year, 0);
        assert_eq!(of(&[height(-100, 1_640), height(1, 1_700)]), None, "a height of a later day is not read");
    }

    #[test]
    fn an_unknown_age_counts_as_young_and_a_line_is_editable() {
        let unknown = Status::unknown(day(0));
        assert!(unknown.is_young());
        let aged = |age| Status { age: Some(age), ..unknown.clone() };
        assert!(aged(17).is_young() && !aged(18).is_young());
        let line =
            Rule { name: RuleName::YoungAge, off: false, line: Some(16), until: None, reason: "ours".into() };
        assert!(!Status { rules: Rules::new(vec![line.clone()], vec![]), ..aged(17) }.is_young());
        let off = Rule { off: true, ..line };
        assert!(!Status { rules: Rules::new(vec![], vec![off]), ..unknown }.is_young());
    }

    #[test]
    fn the_newest_result_of_a_side_counts() {
        let result =
            |n, value, side| TestResult { day: day(n), test: Test::OneLegStand, value, side, note: None };
        let tests = vec![
            result(-9, 31_000, Some(Side::Left)),
            result(-2, 20_000, Some(Side::Left)),
            result(1, 60_000, Some(Side::Left)),
        ];
        let status = Status { tests, ..Status::unknown(day(0)) };
        assert_eq!(status.test(Test::OneLegStand, Some(Side::Left)).map(|r| r.value), Some(20_000));
        assert_eq!(status.test(Test::OneLegStand, Some(Side::Right)), None);
    }

    #[test]
    fn landings_are_held_where_the_newest_was_and_none_was_lost() {
        let judged = |n, control| LandingControl {
            day: day(n),
            exercise: Uuid::nil(),
            set: None,
            side: None,
            control,
            knee_inward: false,
            trunk: false,
            note: None,
        };
        let of = |controls: Vec<_>| Status { controls, ..Status::unknown(day(0)) }.holds_landings();
        assert!(!of(vec![]));
        assert!(of(vec![judged(-1, Control::Held), judged(-8, Control::Corrected)]));
        assert!(!of(vec![judged(-1, Control::Held), judged(-8, Control::Lost)]));
        assert!(!of(vec![judged(-1, Control::Corrected), judged(-8, Control::Held)]));
        assert!(!of(vec![judged(-43, Control::Held)]), "too long ago");
        assert!(!of(vec![LandingControl { knee_inward: true, ..judged(-1, Control::Held) }]));
    }
}
