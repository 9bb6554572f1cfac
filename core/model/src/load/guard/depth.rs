//! Falls from a box: drop jumps and held drops.
//!
//! From the low boxes on that everybody begins with, nothing is asked. Above them the
//! height, a first exposure and three tests of handbooks ask. Rebounds from the ground are
//! no falls from a box, and none of this is asked of them.

use super::offer::Offer;
use super::said::{Found, Said, What};
use super::status::Status;
use crate::facts::{RuleName, Side, Test, TestResult};
use crate::load::rule::Line;

/// A test that stands before falls from boxes above the first ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Condition<'a> {
    /// What was found, and against which line.
    pub said: Said<'a>,
    /// Whether the line is reached; nothing where that is not known.
    pub met: Option<bool>,
}

/// The tests before falls from boxes above the first ones, those that are passed too; none
/// of those whose rule is off.
#[must_use]
pub fn conditions(status: &Status) -> Vec<Condition<'_>> {
    let line = |name| status.rules.get(name, status.day);
    let mut tests = Vec::new();
    if let Some(line) = line(RuleName::Squat) {
        let reached = |percent| percent >= line.value;
        tests.push(condition(What::Squat, squat(status), RuleName::Squat, line, reached));
    }
    if let Some(line) = line(RuleName::FiveSquats) {
        let found = measured(status.test(Test::FiveSquats, None));
        tests.push(condition(What::FiveSquats, found, RuleName::FiveSquats, line, |ms| ms <= line.value));
    }
    if let Some(line) = line(RuleName::OneLegStand) {
        for (side, found) in stands(status) {
            let what = What::OneLegStand(side);
            tests.push(condition(what, found, RuleName::OneLegStand, line, |ms| ms >= line.value));
        }
    }
    tests
}

/// What stands before a fall from a box that is not a low one.
pub(super) fn against<'a>(status: &'a Status, offer: &Offer<'_>) -> Vec<Said<'a>> {
    let Some(fall_mm) = offer.fall_mm() else { return Vec::new() };
    let mut said = Vec::new();
    let line = |name| status.rules.get(name, status.day);
    let highest_mm = status.falls_mm.get(&offer.id).copied();
    // Where the rule of first boxes is off, the line that comes with the product still
    // tells which boxes are low: the tests stand on their own.
    let low = line(RuleName::FirstBox);
    let low_mm = low.map_or(crate::load::rule::definition(RuleName::FirstBox).line, |line| line.value);
    if fall_mm <= low_mm {
        return said;
    }
    if let Some(line) = low
        && highest_mm.is_none_or(|highest| fall_mm > highest)
    {
        said.push(Said::ask(What::FirstBox { highest_mm }, Found::Value(fall_mm), RuleName::FirstBox, line));
    }
    said.extend(conditions(status).into_iter().filter(|test| test.met != Some(true)).map(|test| test.said));
    if let (Some(mass), Some(line)) = (line(RuleName::HeavyMass), line(RuleName::HeavyBox))
        && fall_mm > line.value
        && status.mass_g.is_none_or(|g| g > mass.value)
    {
        let found = if status.mass_g.is_some() { Found::Value(fall_mm) } else { Found::NotKnown };
        said.push(Said::ask(What::HeavyBox, found, RuleName::HeavyBox, line));
    }
    said
}

fn condition<'a>(
    what: What,
    found: Found,
    name: RuleName,
    line: Line<'a>,
    reached: impl Fn(u32) -> bool,
) -> Condition<'a> {
    let met = match found {
        Found::Measured(value, _) => Some(reached(value)),
        _ => None,
    };
    Condition { said: Said::ask(what, found, name, line), met }
}

fn measured(result: Option<&TestResult>) -> Found {
    result.map_or(Found::NotKnown, |result| Found::Measured(result.value, result.day))
}

/// The squat in whole percent of the body's weight, rounded down: 149.9 is not 150.
fn squat(status: &Status) -> Found {
    match (status.test(Test::Squat, None), status.mass_g) {
        (Some(result), Some(mass_g)) if mass_g > 0 => {
            let percent = u64::from(result.value) * 100 / u64::from(mass_g);
            Found::Measured(u32::try_from(percent).unwrap_or(u32::MAX), result.day)
        }
        _ => Found::NotKnown,
    }
}

/// Each side's stand; said once where neither is known.
fn stands(status: &Status) -> Vec<(Option<Side>, Found)> {
    let of = |side: &Side| (Some(*side), measured(status.test(Test::OneLegStand, Some(*side))));
    let sides: Vec<_> = Side::ALL.iter().map(of).collect();
    if sides.iter().all(|(_, found)| *found == Found::NotKnown) {
        return vec![(None, Found::NotKnown)];
    }
    sides
}

#[cfg(test)]
mod tests {
    use super::super::said::Grade;
    use super::*;
    use crate::facts::{Day, Rule};
    use crate::load::catalogue::{find, id};
    use crate::load::rule::Rules;

    fn today() -> Day {
        Day::parse("2026-11-26").unwrap()
    }

    fn result(test: Test, value: u32, side: Option<Side>) -> TestResult {
        TestResult { day: today().plus(-10), test, value, side, note: None }
    }

    /// An athlete of 60 kg who passed every test exactly.
    fn passed() -> Status {
        Status {
            mass_g: Some(60_000),
            tests: vec![
                result(Test::Squat, 90_000, None),
                result(Test::FiveSquats, 5_000, None),
                result(Test::OneLegStand, 30_000, Some(Side::Left)),
                result(Test::OneLegStand, 30_000, Some(Side::Right)),
            ],
            falls_mm: [(id::DROP_JUMP, 400)].into(),
            ..Status::unknown(today())
        }
    }

    fn whats(status: &Status, fall_mm: u32) -> Vec<(What, Found)> {
        let item = find(id::DROP_JUMP).unwrap();
        let offer = Offer { box_mm: Some(fall_mm), ..Offer::usual(item.id, &item.exercise) };
        let said = against(status, &offer);
        assert!(said.iter().all(|said| said.grade == Grade::Ask));
        said.into_iter().map(|said| (said.what, said.found)).collect()
    }

    #[test]
    fn low_boxes_are_open_and_higher_ones_ask_for_what_was_done_before() {
        assert_eq!(whats(&Status::unknown(today()), 300), []);
        assert_eq!(whats(&passed(), 400), [], "done before, and every line reached exactly");
        let first = What::FirstBox { highest_mm: Some(400) };
        assert_eq!(whats(&passed(), 401), [(first, Found::Value(401))]);
        let never = Status { falls_mm: [(id::DROP_LANDING, 900)].into(), ..passed() };
        assert_eq!(whats(&never, 400), [(What::FirstBox { highest_mm: None }, Found::Value(400))]);
    }

    #[test]
    fn a_test_is_met_not_met_or_not_known() {
        let mut status = passed();
        let met = |status: &Status| conditions(status).iter().map(|test| test.met).collect::<Vec<_>>();
        assert_eq!(met(&status), [Some(true); 4]);
        status.tests.truncate(2);
        status.tests[1].value = 5_001;
        assert_eq!(met(&status), [Some(true), Some(false), None], "neither stand: asked once");
    }

    #[test]
    fn each_test_that_falls_short_or_is_not_known_asks() {
        let on = today().plus(-10);
        let with = |tests: Vec<TestResult>| Status { tests, ..passed() };
        assert_eq!(
            whats(&with(vec![]), 400),
            [
                (What::Squat, Found::NotKnown),
                (What::FiveSquats, Found::NotKnown),
                (What::OneLegStand(None), Found::NotKnown)
            ]
        );
        let short = with(vec![
            result(Test::Squat, 89_999, None),
            result(Test::FiveSquats, 5_001, None),
            result(Test::OneLegStand, 29_999, Some(Side::Right)),
        ]);
        assert_eq!(
            whats(&short, 400),
            [
                (What::Squat, Found::Measured(149, on)),
                (What::FiveSquats, Found::Measured(5_001, on)),
                (What::OneLegStand(Some(Side::Left)), Found::NotKnown),
                (What::OneLegStand(Some(Side::Right)), Found::Measured(29_999, on)),
            ]
        );
        let no_mass = Status { mass_g: None, ..passed() };
        assert_eq!(whats(&no_mass, 400), [(What::Squat, Found::NotKnown)], "a share of an unknown weight");
    }

    #[test]
    fn a_heavy_athlete_drops_from_lower_boxes() {
        let heavy = |mass_g, squat| Status {
            mass_g,
            tests: [vec![result(Test::Squat, squat, None)], passed().tests.split_off(1)].concat(),
            falls_mm: [(id::DROP_JUMP, 900)].into(),
            ..passed()
        };
        assert_eq!(whats(&heavy(Some(100_001), 200_000), 461), [(What::HeavyBox, Found::Value(461))]);
        assert_eq!(whats(&heavy(Some(100_001), 200_000), 460), []);
        assert_eq!(whats(&heavy(Some(100_000), 200_000), 461), [], "over 100 kg, not at 100 kg");
        assert!(whats(&heavy(None, 200_000), 461).contains(&(What::HeavyBox, Found::NotKnown)));
    }

    #[test]
    fn a_rule_that_is_off_asks_nothing_and_the_others_stay() {
        let off = |name| Rule { name, off: true, line: None, until: None, reason: "tested elsewhere".into() };
        let rules = Rules::new(vec![], vec![off(RuleName::FirstBox), off(RuleName::Squat)]);
        let status = Status { tests: vec![], rules, ..passed() };
        assert_eq!(
            whats(&status, 600),
            [(What::FiveSquats, Found::NotKnown), (What::OneLegStand(None), Found::NotKnown)]
        );
    }
}
