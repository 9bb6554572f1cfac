//! Tests, growth, landing control, rules and a clinician's advice in words.

use pitside_model::facts::{Advice, Growth, LandingControl, Measure, Rule, RuleName, Side, TestResult};
use pitside_model::load::rule::{Unit, definition};

use crate::figure::{self, day, decimal, full_day, mass, reach};
use crate::text::Words;
use crate::training::Catalogue;
use crate::wording::exercise_name;

/// A value in its unit: `30 cm`, `150 %`, `5 s`.
pub(crate) fn in_unit(words: &Words, unit: Unit, value: u32) -> String {
    let counted = |key: &str| words.say(key, &[("n", u64::from(value).into())]);
    let worded = |key: &str, text: String| words.say(key, &[("value", (&text).into())]);
    match unit {
        Unit::Percent => worded("unit-percent", value.to_string()),
        Unit::Weeks => counted("unit-weeks"),
        Unit::Days => counted("unit-days"),
        Unit::Hours => counted("unit-hours"),
        Unit::Years => counted("unit-years"),
        Unit::Contacts => counted("contacts"),
        Unit::MillijoulesPerKg => worded("unit-energy", shown(words, unit, value)),
        Unit::Millimetres => figure::height(words, value),
        Unit::MillimetresPerYear => worded("unit-growth", figure::height(words, value)),
        Unit::Grams => mass(words, value),
        Unit::Milliseconds => worded("unit-seconds", shown(words, unit, value)),
    }
}

/// How many of the stored unit make one of the shown one.
pub(crate) const fn scale(unit: Unit) -> u32 {
    match unit {
        Unit::Percent | Unit::Weeks | Unit::Days | Unit::Hours | Unit::Contacts | Unit::Years => 1,
        Unit::Millimetres | Unit::MillimetresPerYear => 10,
        Unit::MillijoulesPerKg | Unit::Grams | Unit::Milliseconds => 1_000,
    }
}

/// The number alone in the shown unit, without zeros that say nothing: `30`, `2.05`.
pub(crate) fn shown(words: &Words, unit: Unit, value: u32) -> String {
    let per = scale(unit);
    let places = match per {
        1 => 0,
        10 => usize::from(!value.is_multiple_of(10)),
        _ if value.is_multiple_of(1_000) => 0,
        _ if value.is_multiple_of(100) => 1,
        _ if value.is_multiple_of(10) => 2,
        _ => 3,
    };
    decimal(words, f64::from(value) / f64::from(per), places)
}

/// A number in a shown unit as a person fills it in, with a point or a comma; nothing
/// where it is none, is below zero, or says more than the stored unit can hold.
pub(crate) fn stored(text: &str, per: u32) -> Option<u32> {
    let number: f64 = text.trim().replace(',', ".").parse().ok()?;
    let scaled = number * f64::from(per);
    let whole = scaled.round();
    let sound = whole >= 0.0 && whole <= f64::from(u32::MAX) && (scaled - whole).abs() < 1e-6;
    sound.then_some(whole as u32)
}

/// The unit a test's result is shown in.
pub(crate) const fn unit_of(measure: Measure) -> Unit {
    match measure {
        Measure::Grams => Unit::Grams,
        Measure::Milliseconds => Unit::Milliseconds,
        Measure::Millimetres => Unit::Millimetres,
    }
}

fn with_side(words: &Words, what: String, side: Option<Side>) -> String {
    match side {
        Some(side) => format!("{what}, {}", words.word(&format!("side-{}", side.word()))),
        None => what,
    }
}

fn with_note(what: String, note: Option<&str>) -> String {
    match note {
        Some(note) => format!("{what} ({note})"),
        None => what,
    }
}

/// The result of a test.
pub(crate) fn test(words: &Words, result: &TestResult) -> String {
    let name = with_side(words, words.word(&format!("test-{}", result.test.word())), result.side);
    let value = match result.test.measure() {
        Measure::Millimetres => reach(words, result.value),
        measure => in_unit(words, unit_of(measure), result.value),
    };
    let said = words.say(
        "test-result",
        &[
            ("test", (&name).into()),
            ("value", (&value).into()),
            ("day", (&full_day(words, result.day)).into()),
        ],
    );
    with_note(said, result.note.as_deref())
}

/// A height of the body.
pub(crate) fn height(words: &Words, growth: Growth) -> String {
    let height = reach(words, growth.height_mm);
    words.say("height", &[("height", (&height).into()), ("day", (&full_day(words, growth.day)).into())])
}

/// How landings were controlled.
pub(crate) fn control(words: &Words, catalogue: &Catalogue, judged: &LandingControl) -> String {
    let exercise = with_side(words, exercise_name(words, catalogue, Some(judged.exercise)), judged.side);
    let mut how = vec![words.word(&format!("control-{}", judged.control.word()))];
    if judged.knee_inward {
        how.push(words.word("control-knee"));
    }
    if judged.trunk {
        how.push(words.word("control-trunk"));
    }
    let said = words.say(
        "control",
        &[
            ("exercise", (&exercise).into()),
            ("how", (&how.join(", ")).into()),
            ("day", (&full_day(words, judged.day)).into()),
        ],
    );
    with_note(said, judged.note.as_deref())
}

/// What a clinician advised.
pub(crate) fn advice(words: &Words, advice: &Advice) -> String {
    let place = with_side(words, words.word(&format!("part-{}", advice.part.word())), advice.side);
    words.say(
        "advice",
        &[
            ("place", (&place).into()),
            ("score", (&advice.up_to.to_string()).into()),
            ("from", (&day(words, advice.from)).into()),
            ("until", (&full_day(words, advice.until)).into()),
            ("note", (&advice.note).into()),
        ],
    )
}

/// What a rule is called.
pub(crate) fn rule_name(words: &Words, name: RuleName) -> String {
    words.word(&format!("rule-{}", name.word()))
}

/// A rule that somebody wrote: its line, or that it is off, until when and why.
pub(crate) fn rule(words: &Words, rule: &Rule) -> String {
    let product = definition(rule.name);
    let line = match rule.off {
        true => words.word("rules-off"),
        false => in_unit(words, product.unit, rule.line.unwrap_or(product.line)),
    };
    let said = words.say(
        "rules-written",
        &[
            ("name", (&rule_name(words, rule.name)).into()),
            ("line", (&line).into()),
            ("reason", (&rule.reason).into()),
        ],
    );
    match rule.until {
        Some(until) => {
            words.say("rules-until", &[("rule", (&said).into()), ("until", (&full_day(words, until)).into())])
        }
        None => said,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pitside_model::facts::{Day, Test};

    #[test]
    fn every_line_is_shown_and_filled_in_without_a_loss() {
        let words = &Words::of("en");
        for name in RuleName::ALL {
            let product = definition(*name);
            for value in [product.line, *name.range().start(), *name.range().end()] {
                let text = shown(words, product.unit, value);
                assert_eq!(stored(&text, scale(product.unit)), Some(value), "{name:?} {text}");
            }
            assert!(!rule_name(words, *name).starts_with('['), "{name:?}");
            assert!(!in_unit(words, product.unit, product.line).contains('['), "{name:?}");
        }
        assert_eq!(stored("7,5", 10), Some(75));
        assert_eq!(stored("7.25", 10), None, "more than a millimetre can hold");
        assert_eq!(
            (stored("-1", 1), stored("x", 1), stored("NaN", 1), stored("1e99", 1)),
            (None, None, None, None)
        );
    }

    #[test]
    fn a_result_says_test_value_and_day() {
        let words = &Words::of("en");
        let day = Day::parse("2026-02-03").unwrap();
        for name in Test::ALL {
            let side = name.is_of_one_leg().then_some(Side::Left);
            let value = *name.range().start();
            let said = test(words, &TestResult { day, test: *name, value, side, note: None });
            assert!(!said.contains('[') && said.contains("3 Feb 2026"), "{said}");
        }
        let stand = TestResult {
            day,
            test: Test::OneLegStand,
            value: 31_200,
            side: Some(Side::Left),
            note: Some("eyes open".into()),
        };
        assert_eq!(test(words, &stand), "Standing on one leg, left: 31.2 s, Tue 3 Feb 2026 (eyes open)");
    }
}
