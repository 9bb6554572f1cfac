//! The lines by which training is looked at, as data: of the squad, in its scope, or
//! of one athlete, in the athlete's.
//!
//! A squad that wrote nothing has the lines that come with the product; those, their
//! units and their sources are in [`crate::load::rule`]. A rule is the field in its
//! entry's target, so that two rules edited at once never clash, and one rule edited by
//! two people does.

use core::ops::RangeInclusive;

use super::day::Day;
use super::field::{Extra, Fields, Pairs, Refusal, words};
use super::squad::day_opt;

words! {
    /// Which rule.
    RuleName {
        /// The contacts of a kind in a week, over the mean of the weeks before, in percent.
        WeekContacts = "week-contacts",
        /// The session load of a week, over the mean of the weeks before, in percent.
        WeekLoad = "week-load",
        /// The hardest contact of a kind, over the hardest of the weeks before, in percent.
        HardestContact = "hardest-contact",
        /// An exercise or run-in not seen in so many weeks.
        FirstExposure = "first-exposure",
        /// Two hard days less than so many hours apart.
        HardDays = "hard-days",
        /// Plyometric work after so many days without any.
        Gap = "gap",
        /// A vertical rebound is hard from so many mJ/kg a leg on.
        HardVerticalRebound = "hard-vertical-rebound",
        /// A contact of a horizontal series is hard from so many mJ/kg a leg on.
        HardHorizontalSeries = "hard-horizontal-series",
        /// A held landing is hard from so many mJ/kg a leg on.
        HardHeldLanding = "hard-held-landing",
        /// A contact to the side is hard from so many mJ/kg a leg on.
        HardLateral = "hard-lateral",
        /// A take-off of an event is hard from so many mJ/kg a leg on.
        HardEventTakeOff = "hard-event-take-off",
        /// A stride is hard from so many mJ/kg a leg on.
        HardSprint = "hard-sprint",
        /// A paused jump's landing is hard from so many mJ/kg a leg on.
        HardPausedJump = "hard-paused-jump",
        /// Plyometric contacts of a session, for a beginner.
        SessionBeginner = "session-beginner",
        /// Plyometric contacts of a session, for an intermediate.
        SessionIntermediate = "session-intermediate",
        /// Plyometric contacts of a session, for an advanced athlete.
        SessionAdvanced = "session-advanced",
        /// Below so many years an athlete counts as young.
        YoungAge = "young-age",
        /// Days of plyometric work a week of the young.
        YoungDays = "young-days",
        /// Plyometric contacts of a session of the young.
        YoungContacts = "young-contacts",
        /// Below so many years a guardian's consent is asked for. Where it was given, it is
        /// an exception of the athlete's: off, with who gave it as the reason.
        GuardianConsent = "guardian-consent",
        /// The first boxes an athlete drops from are at most so high, in mm.
        FirstBox = "first-box",
        /// Above this body mass, in g, boxes are bounded by `heavy-box`.
        HeavyMass = "heavy-mass",
        /// The highest box a heavy athlete drops from, in mm.
        HeavyBox = "heavy-box",
        /// The squat before depth work, in percent of the body's weight.
        Squat = "squat",
        /// Five squats with 60 % of the body's weight before depth work, in ms.
        FiveSquats = "five-squats",
        /// Standing on one leg before depth work, in ms.
        OneLegStand = "one-leg-stand",
        /// Growing faster than so many mm a year asks the coach.
        Growth = "growth",
    }
}

impl RuleName {
    /// What its line may be, in its unit.
    #[must_use]
    pub const fn range(self) -> RangeInclusive<u32> {
        match self {
            Self::WeekContacts | Self::WeekLoad | Self::HardestContact => 101..=1_000,
            Self::FirstExposure => 1..=104,
            Self::HardDays => 1..=168,
            Self::Gap => 3..=365,
            Self::HardVerticalRebound
            | Self::HardHorizontalSeries
            | Self::HardHeldLanding
            | Self::HardLateral
            | Self::HardEventTakeOff
            | Self::HardSprint
            | Self::HardPausedJump => 1..=200_000,
            Self::SessionBeginner
            | Self::SessionIntermediate
            | Self::SessionAdvanced
            | Self::YoungContacts => 1..=2_000,
            Self::YoungAge | Self::GuardianConsent => 10..=30,
            Self::YoungDays => 1..=7,
            Self::FirstBox | Self::HeavyBox => 50..=1_500,
            Self::HeavyMass => 30_000..=200_000,
            Self::Squat => 50..=400,
            Self::FiveSquats => 1_000..=60_000,
            Self::OneLegStand => 1_000..=600_000,
            Self::Growth => 10..=200,
        }
    }
}

/// What a squad or an athlete has instead of a rule that comes with the product.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rule {
    /// Which one; it is the field in the target.
    pub name: RuleName,
    /// Off: nothing is judged by it.
    pub off: bool,
    /// The line, in the unit and [range](RuleName::range) of the rule; left out: the
    /// product's.
    pub line: Option<u32>,
    /// Up to and including this day; open where missing. Afterwards what stood before
    /// stands again: the squad's, or the product's.
    pub until: Option<Day>,
    /// Why, 1 to 200 characters: whoever loosens a bound says so.
    pub reason: String,
}

impl Rule {
    /// Whether it holds on a day.
    #[must_use]
    pub fn holds_on(&self, day: Day) -> bool {
        self.until.is_none_or(|until| day <= until)
    }

    pub(super) fn read(field: &str, mut f: Fields) -> Result<Option<(Self, Extra)>, Refusal> {
        let Ok(name) = field.parse() else { return Ok(None) };
        let rule = Self {
            name,
            off: f.flag("off")?,
            line: f.int_opt("line", name.range())?,
            until: day_opt(&mut f, "until")?,
            reason: f.text("reason", 1..=200)?,
        };
        Ok(Some((rule, f.rest())))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put_flag("off", self.off)
            .put_opt("line", self.line)
            .put_opt("until", self.until.map(Day::number))
            .put("reason", self.reason.as_str())
    }
}
