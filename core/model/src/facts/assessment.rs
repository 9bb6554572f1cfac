//! What was measured or judged of an athlete apart from training: test results,
//! growth, and how a landing was controlled.

use uuid::Uuid;

use super::day::Day;
use super::field::{Extra, Fields, Pairs, Refusal, words};
use super::id::Hash;
use super::squad::{Side, day};

words! {
    /// A test. Its unit is that of its [`Measure`].
    Test {
        /// The heaviest squat of one repetition, without the body's own weight.
        Squat = "squat",
        /// Five squats with 60 % of the body's weight, against the clock.
        FiveSquats = "five-squats",
        /// Standing on one leg.
        OneLegStand = "one-leg-stand",
        /// A jump up from a stand.
        VerticalJump = "vertical-jump",
        /// A jump forward from a stand.
        StandingLongJump = "standing-long-jump",
        /// A triple jump from a stand.
        StandingTripleJump = "standing-triple-jump",
        /// Five bounds from a stand.
        FiveBounds = "five-bounds",
        /// Ten metres at full speed, after a run-up.
        FlyingTen = "flying-ten",
        /// Thirty metres from a stand.
        Sprint30 = "sprint-30",
    }
}

/// What a test measures, and in which unit it is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measure {
    /// A mass in grams.
    Grams,
    /// A time in milliseconds.
    Milliseconds,
    /// A length or height in millimetres.
    Millimetres,
}

impl Test {
    /// What it measures.
    #[must_use]
    pub const fn measure(self) -> Measure {
        match self {
            Self::Squat => Measure::Grams,
            Self::FiveSquats | Self::OneLegStand | Self::FlyingTen | Self::Sprint30 => Measure::Milliseconds,
            Self::VerticalJump | Self::StandingLongJump | Self::StandingTripleJump | Self::FiveBounds => {
                Measure::Millimetres
            }
        }
    }

    /// What may be written, in the unit of its [`Measure`].
    #[must_use]
    pub const fn range(self) -> core::ops::RangeInclusive<u32> {
        match self {
            Self::Squat => 5_000..=500_000,
            Self::FiveSquats => 1_000..=60_000,
            Self::OneLegStand => 500..=600_000,
            Self::VerticalJump => 50..=1_500,
            Self::StandingLongJump => 500..=4_500,
            Self::StandingTripleJump => 1_500..=13_000,
            Self::FiveBounds => 3_000..=25_000,
            Self::FlyingTen => 700..=4_000,
            Self::Sprint30 => 3_000..=12_000,
        }
    }

    /// Whether each leg has a result of its own.
    #[must_use]
    pub const fn is_of_one_leg(self) -> bool {
        matches!(self, Self::OneLegStand)
    }
}

/// The result of a test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TestResult {
    /// The day.
    pub day: Day,
    /// Which test.
    pub test: Test,
    /// The result, in the unit and range of the test.
    pub value: u32,
    /// The leg, of a test of one leg only; needed there.
    pub side: Option<Side>,
    /// In words, up to 200 characters.
    pub note: Option<String>,
}

/// A measured height of the body: two of them tell how fast an athlete grows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Growth {
    /// The day.
    pub day: Day,
    /// Standing height in millimetres, 800 to 2 300.
    pub height_mm: u32,
}

words! {
    /// How a landing was controlled, in a coach's eye.
    Control {
        /// Held still where it came down.
        Held = "held",
        /// Held after a step or a sway.
        Corrected = "corrected",
        /// Not held.
        Lost = "lost",
    }
}

/// A coach's judgement of how an athlete controls the landings of an exercise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LandingControl {
    /// The day.
    pub day: Day,
    /// The exercise.
    pub exercise: Uuid,
    /// The set it was seen in, where it was one that is logged.
    pub set: Option<Hash>,
    /// The leg, where it was one.
    pub side: Option<Side>,
    /// How it was controlled.
    pub control: Control,
    /// The knee came inward.
    pub knee_inward: bool,
    /// The trunk tipped or turned.
    pub trunk: bool,
    /// In words, up to 200 characters.
    pub note: Option<String>,
}

impl TestResult {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let test: Test = f.word("test")?;
        let side: Option<Side> = f.word_opt("side")?;
        if side.is_some() != test.is_of_one_leg() {
            let range =
                if test.is_of_one_leg() { "left or right" } else { "left out in a test of both legs" };
            let found = side.map_or("left out", Side::word);
            return Err(f.refuse("side", &found.into(), range));
        }
        let result = Self {
            day: day(&mut f, "day")?,
            test,
            value: f.int("value", test.range())?,
            side,
            note: f.text_opt("note", 1..=200)?,
        };
        Ok((result, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put("day", self.day.number())
            .put("test", self.test.word())
            .put("value", self.value)
            .put_opt("side", self.side.map(Side::word))
            .put_opt("note", self.note.as_deref())
    }
}

impl Growth {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let growth = Self { day: day(&mut f, "day")?, height_mm: f.int("height-mm", 800..=2_300)? };
        Ok((growth, f.rest()))
    }
    pub(super) fn write(self) -> Pairs {
        Pairs::default().put("day", self.day.number()).put("height-mm", self.height_mm)
    }
}

impl LandingControl {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let judged = Self {
            day: day(&mut f, "day")?,
            exercise: f.uuid("exercise")?,
            set: f.fact_id_opt("set")?,
            side: f.word_opt("side")?,
            control: f.word("control")?,
            knee_inward: f.flag("knee-inward")?,
            trunk: f.flag("trunk")?,
            note: f.text_opt("note", 1..=200)?,
        };
        Ok((judged, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put("day", self.day.number())
            .put("exercise", self.exercise.as_bytes().as_slice())
            .put_opt("set", self.set.map(Hash::to_value))
            .put_opt("side", self.side.map(Side::word))
            .put("control", self.control.word())
            .put_flag("knee-inward", self.knee_inward)
            .put_flag("trunk", self.trunk)
            .put_opt("note", self.note.as_deref())
    }
}
