//! The rules by which training is looked at: what each means, its unit, the line that
//! comes with the product and where that comes from, and the line that holds for an
//! athlete on a day.
//!
//! A rule shows something to a coach. None predicts an injury, none calls a load safe,
//! and a squad or an athlete may have another line, or none, for a reason that is kept
//! ([`crate::facts::Rule`]).

use crate::facts::exercise::Kind;
use crate::facts::{Day, Level, Rule, RuleName};

/// In what a rule's line is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Percent of what it is compared with, 100 for no change.
    Percent,
    /// Weeks.
    Weeks,
    /// Days.
    Days,
    /// Hours.
    Hours,
    /// Thousandths of a joule a kilogram, on each leg.
    MillijoulesPerKg,
    /// Contacts.
    Contacts,
    /// Years.
    Years,
    /// Millimetres.
    Millimetres,
    /// Millimetres a year.
    MillimetresPerYear,
    /// Grams.
    Grams,
    /// Milliseconds.
    Milliseconds,
}

/// What stands behind a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Basis {
    /// Published, and read.
    Published,
    /// Published, quoted from memory.
    FromMemory,
    /// A line of ours, without a source.
    Ours,
}

/// A rule as it comes with the product.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Definition {
    /// The unit of its line.
    pub unit: Unit,
    /// Its line.
    pub line: u32,
    /// What stands behind it.
    pub basis: Basis,
    /// Where it comes from.
    pub source: &'static str,
}

const POTACH_CHU: &str = "Potach & Chu, Essentials of Strength Training and Conditioning (NSCA): 80–100, 100–120, \
                          120–140 contacts (values from memory); sources disagree on session or week";
const YOUTH: &str = "Johnson, Salzberg & Stevenson 2011, J Strength Cond Res 25(9):2623–2633: twice a week, from \
                     50–60 jumps a session on (ages 5–14; seven studies of low quality)";
const BEFORE_DEPTH: &str =
    "convention of handbooks before depth work (value from memory); never shown to be needed";
const NO_SOURCE: &str = "a line of ours, no source";
const HARD: &str =
    "a line of ours, no source: where the harder exercises of this kind begin in the catalogue";

const fn percent(line: u32, source: &'static str) -> Definition {
    Definition { unit: Unit::Percent, line, basis: Basis::Ours, source }
}

const fn hard(line: u32) -> Definition {
    Definition { unit: Unit::MillijoulesPerKg, line, basis: Basis::Ours, source: HARD }
}

const fn contacts(line: u32, basis: Basis, source: &'static str) -> Definition {
    Definition { unit: Unit::Contacts, line, basis, source }
}

/// A rule as it comes with the product.
#[must_use]
pub const fn definition(name: RuleName) -> Definition {
    use Basis::{FromMemory, Ours, Published};
    match name {
        RuleName::WeekContacts | RuleName::WeekLoad => percent(
            125,
            "a line of ours, no source; rises of 10 % a week are a convention too: Buist et al. 2008, Am J Sports \
             Med 36(1):33–39, found as many injuries with it (20.8 %) as without (20.3 %)",
        ),
        RuleName::HardestContact => percent(125, NO_SOURCE),
        RuleName::FirstExposure => Definition { unit: Unit::Weeks, line: 12, basis: Ours, source: NO_SOURCE },
        RuleName::HardDays => Definition {
            unit: Unit::Hours,
            line: 48,
            basis: FromMemory,
            source: "48–72 h between sessions, handbooks (value from memory)",
        },
        RuleName::Gap => Definition { unit: Unit::Days, line: 14, basis: Ours, source: NO_SOURCE },
        RuleName::HardVerticalRebound => hard(2_000),
        RuleName::HardHorizontalSeries => hard(6_500),
        RuleName::HardHeldLanding => hard(2_700),
        RuleName::HardLateral => hard(3_000),
        RuleName::HardEventTakeOff => hard(7_000),
        RuleName::HardSprint => hard(4_000),
        RuleName::HardPausedJump => hard(2_000),
        RuleName::SessionBeginner => contacts(100, FromMemory, POTACH_CHU),
        RuleName::SessionIntermediate => contacts(120, FromMemory, POTACH_CHU),
        RuleName::SessionAdvanced => contacts(140, FromMemory, POTACH_CHU),
        RuleName::YoungAge => Definition {
            unit: Unit::Years,
            line: 18,
            basis: Ours,
            source: "the age of majority in most places; local rules come first",
        },
        RuleName::YoungDays => Definition { unit: Unit::Days, line: 2, basis: Published, source: YOUTH },
        RuleName::YoungContacts => contacts(60, Published, YOUTH),
        RuleName::GuardianConsent => Definition {
            unit: Unit::Years,
            line: 18,
            basis: Ours,
            source: "with consent: Johnson, Salzberg & Stevenson 2011, J Strength Cond Res 25(9):2623–2633 (ages \
                     5–14); the age is the one of majority in most places; local rules come first",
        },
        RuleName::FirstBox => {
            Definition { unit: Unit::Millimetres, line: 300, basis: Ours, source: NO_SOURCE }
        }
        RuleName::HeavyMass => Definition {
            unit: Unit::Grams,
            line: 100_000,
            basis: FromMemory,
            source: "over 100 kg no depth jump above 46 cm, handbooks (value from memory)",
        },
        RuleName::HeavyBox => Definition {
            unit: Unit::Millimetres,
            line: 460,
            basis: FromMemory,
            source: "over 100 kg no depth jump above 46 cm, handbooks (value from memory)",
        },
        RuleName::Squat => {
            Definition { unit: Unit::Percent, line: 150, basis: FromMemory, source: BEFORE_DEPTH }
        }
        RuleName::FiveSquats => {
            Definition { unit: Unit::Milliseconds, line: 5_000, basis: FromMemory, source: BEFORE_DEPTH }
        }
        RuleName::OneLegStand => {
            Definition { unit: Unit::Milliseconds, line: 30_000, basis: FromMemory, source: BEFORE_DEPTH }
        }
        RuleName::Growth => {
            Definition { unit: Unit::MillimetresPerYear, line: 70, basis: Ours, source: NO_SOURCE }
        }
    }
}

/// The rule that says from where on a contact of a kind is hard.
#[must_use]
pub const fn hard_line(kind: Kind) -> RuleName {
    match kind {
        Kind::VerticalRebound => RuleName::HardVerticalRebound,
        Kind::HorizontalSeries => RuleName::HardHorizontalSeries,
        Kind::HeldLanding => RuleName::HardHeldLanding,
        Kind::Lateral => RuleName::HardLateral,
        Kind::EventTakeOff => RuleName::HardEventTakeOff,
        Kind::Sprint => RuleName::HardSprint,
        Kind::PausedJump => RuleName::HardPausedJump,
    }
}

/// The rule that says how many contacts a session may have. An athlete of unknown level
/// counts as a beginner.
#[must_use]
pub const fn session_line(level: Option<Level>) -> RuleName {
    match level {
        None | Some(Level::Beginner) => RuleName::SessionBeginner,
        Some(Level::Intermediate) => RuleName::SessionIntermediate,
        Some(Level::Advanced) => RuleName::SessionAdvanced,
    }
}

/// Whose rule it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Whose {
    /// The squad's.
    Squad,
    /// One athlete's.
    Athlete,
}

/// Who drew a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drawn<'a> {
    /// The product.
    Product(Definition),
    /// The squad, and why.
    Squad(&'a Rule),
    /// A coach for this athlete, and why.
    Athlete(&'a Rule),
}

/// A line that holds, and who drew it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line<'a> {
    /// In the unit of the rule.
    pub value: u32,
    /// Who drew it.
    pub drawn: Drawn<'a>,
}

/// The rules of one athlete: the athlete's own before the squad's before the product's.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Rules {
    squad: Vec<Rule>,
    athlete: Vec<Rule>,
}

impl Rules {
    /// Of the squad's rules and the athlete's. While two people disagree on a rule both
    /// stand in the list and the one that bounds more holds: see [`Rules::get`].
    #[must_use]
    pub const fn new(squad: Vec<Rule>, athlete: Vec<Rule>) -> Self {
        Self { squad, athlete }
    }

    /// The line of a rule on a day; nothing where the rule is off.
    ///
    /// Of several rules of one name, which only two people who disagree leave, the one
    /// that shows more holds: on before off, then the lower line, or the higher one where
    /// a result has to reach it.
    #[must_use]
    pub fn get(&self, name: RuleName, day: Day) -> Option<Line<'_>> {
        let product = definition(name);
        match self.ruling(name, day) {
            None => Some(Line { value: product.line, drawn: Drawn::Product(product) }),
            Some((Rule { off: true, .. }, _)) => None,
            Some((rule, whose)) => Some(Line {
                value: rule.line.unwrap_or(product.line),
                drawn: match whose {
                    Whose::Athlete => Drawn::Athlete(rule),
                    Whose::Squad => Drawn::Squad(rule),
                },
            }),
        }
    }

    /// What stands on a day instead of a rule that comes with the product, off or with
    /// another line, and whose it is; nothing where nobody wrote anything that holds.
    #[must_use]
    pub fn ruling(&self, name: RuleName, day: Day) -> Option<(&Rule, Whose)> {
        let product = definition(name);
        let of = |rules: &'_ [Rule]| -> Option<usize> {
            let holds = |(_, rule): &(usize, &Rule)| rule.name == name && rule.holds_on(day);
            let rank = |rule: &Rule| {
                let line = i64::from(rule.line.unwrap_or(product.line));
                (rule.off, if is_reached(name) { -line } else { line })
            };
            rules.iter().enumerate().filter(holds).min_by_key(|(_, rule)| rank(rule)).map(|(at, _)| at)
        };
        let own = of(&self.athlete).and_then(|at| self.athlete.get(at)).map(|rule| (rule, Whose::Athlete));
        own.or_else(|| of(&self.squad).and_then(|at| self.squad.get(at)).map(|rule| (rule, Whose::Squad)))
    }

    /// The line's value, where the rule is on.
    #[must_use]
    pub fn value(&self, name: RuleName, day: Day) -> Option<u32> {
        self.get(name, day).map(|line| line.value)
    }
}

/// Whether a result has to reach the line, so that the higher one bounds more.
const fn is_reached(name: RuleName) -> bool {
    matches!(
        name,
        RuleName::Squat
            | RuleName::OneLegStand
            | RuleName::YoungAge
            | RuleName::GuardianConsent
            | RuleName::HardDays
            | RuleName::FirstExposure
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rule(name: RuleName, line: Option<u32>) -> Rule {
        Rule { name, off: false, line, until: None, reason: "tried".into() }
    }

    fn today() -> Day {
        Day::parse("2026-03-02").unwrap()
    }

    #[test]
    fn every_rule_has_a_line_in_its_range_and_a_source() {
        for name in RuleName::ALL {
            let definition = definition(*name);
            assert!(name.range().contains(&definition.line), "{name:?}");
            assert!(!definition.source.is_empty());
            assert_eq!(
                definition.basis == Basis::Ours,
                ["no source", "come first"].iter().any(|words| definition.source.contains(words)),
                "{name:?}"
            );
            let remembered = definition.source.contains("from memory");
            assert_eq!(definition.basis == Basis::FromMemory, remembered, "{name:?}");
            assert_eq!(Rules::default().value(*name, today()), Some(definition.line));
        }
    }

    #[test]
    fn the_athletes_line_comes_before_the_squads_and_ends_on_its_day() {
        let own = Rule { until: Some(today()), ..rule(RuleName::Gap, Some(20)) };
        let rules = Rules::new(vec![rule(RuleName::Gap, Some(10))], vec![own]);
        assert_eq!(rules.value(RuleName::Gap, today()), Some(20));
        assert!(matches!(rules.get(RuleName::Gap, today()).unwrap().drawn, Drawn::Athlete(_)));
        assert_eq!(rules.value(RuleName::Gap, today().plus(1)), Some(10));
        let off = Rules::new(vec![Rule { off: true, ..rule(RuleName::Gap, None) }], Vec::new());
        assert_eq!(off.get(RuleName::Gap, today()), None);
        assert_eq!(
            off.ruling(RuleName::Gap, today()).map(|(rule, whose)| (rule.off, whose)),
            Some((true, Whose::Squad))
        );
        assert_eq!(off.ruling(RuleName::WeekLoad, today()), None);
        assert_eq!(off.value(RuleName::WeekLoad, today()), Some(125));
    }

    #[test]
    fn of_two_that_disagree_the_one_that_shows_more_holds() {
        let off = Rule { off: true, ..rule(RuleName::FirstBox, None) };
        let rules = |name, lines: [u32; 2]| {
            Rules::new(vec![off.clone(), rule(name, Some(lines[0])), rule(name, Some(lines[1]))], Vec::new())
        };
        assert_eq!(rules(RuleName::FirstBox, [500, 400]).value(RuleName::FirstBox, today()), Some(400));
        assert_eq!(rules(RuleName::Squat, [120, 160]).value(RuleName::Squat, today()), Some(160));
    }

    #[test]
    fn a_kind_has_its_line_and_an_unknown_level_is_a_beginners() {
        for kind in Kind::ALL {
            assert_eq!(hard_line(*kind).word(), format!("hard-{}", kind.word()));
        }
        assert_eq!(session_line(None), RuleName::SessionBeginner);
    }
}
