//! What is said of a set, or of an athlete's day: what was found, against which line,
//! where the line comes from, and what a person can do.

use super::pain::{PAIN_SOURCE, Place, SIGN_SOURCE};
use super::status::GrowthRate;
use crate::facts::{Advice, Day, Limit, RuleName, Side, Sign};
use crate::load::rule::{Drawn, Line, Unit, definition};

/// How grave it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// To be borne in mind.
    Caution,
    /// It needs the coach's word: a convention, published or ours, speaks against it.
    Ask,
    /// Something was told that a licensed practitioner is to see first: nothing is offered.
    Stop,
    /// A limit that was said of this person: not offered, and nobody's word but that of
    /// whoever said it changes that.
    Bound,
}

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// One-leg contacts on a side that a limit rules out.
    OneLeg(Side),
    /// A run-in that a limit rules out.
    RunIn,
    /// A box above the height of a limit, mm.
    BoxOver,
    /// A fall from a box above the first ones, and above any that was dropped from in this
    /// exercise, mm.
    FirstBox {
        /// The highest so far in this exercise, mm; nothing where it was never done.
        highest_mm: Option<u32>,
    },
    /// The squat before depth work, percent of the body's weight.
    Squat,
    /// The five squats before depth work, ms.
    FiveSquats,
    /// Standing on one leg before depth work, ms, of a side, or of both where neither is known.
    OneLegStand(Option<Side>),
    /// A fall from a box of a heavy athlete, mm.
    HeavyBox,
    /// Contacts of a session for a level.
    SessionContacts,
    /// Contacts of a session of the young.
    YoungContacts {
        /// Landings were held lately.
        held: bool,
    },
    /// Days of plyometric work in seven days of the young.
    YoungDays {
        /// Landings were held lately.
        held: bool,
    },
    /// Plyometric work of the young on two days in a row.
    YoungInARow {
        /// Landings were held lately.
        held: bool,
    },
    /// No guardian's consent was written down for the young.
    GuardianConsent,
    /// Growing fast, mm a year.
    Growth(GrowthRate),
    /// Days without plyometric work before.
    Gap,
    /// Something that is to be seen at any score of pain was told.
    Sign {
        /// What.
        sign: Sign,
        /// On which day.
        on: Day,
        /// In the newest check-in.
        newest: bool,
    },
    /// Pain that rose from one stretch of seven days to the next.
    PainRising {
        /// Where.
        place: Place,
        /// The worst score of the seven days before.
        before: u8,
    },
    /// Pain above the line of the pain rule.
    PainHigh(Place),
    /// Pain of the young, at whatever score.
    PainYoung(Place),
    /// Pain that was not there in the seven days before.
    PainNew(Place),
    /// Pain that goes on, without a clinician's advice.
    PainGoesOn(Place),
    /// Pain up to the score that a clinician advised.
    PainAdvised(Place),
}

/// What stands against the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// A value, in the unit of the line.
    Value(u32),
    /// A value that was measured on a day, in the unit of the line.
    Measured(u32, Day),
    /// It is not known.
    NotKnown,
    /// It was told, and has no value.
    Told,
}

/// Where a line comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ground<'a> {
    /// A limit that was said of this person.
    Limit(&'a Limit),
    /// A rule, and who drew its line.
    Rule(RuleName, Line<'a>),
    /// The pain rule: a score, 0 to 10.
    Pain {
        /// The score.
        line: u8,
    },
    /// What is to be seen at any score.
    AnyScore,
    /// A clinician's advice.
    Advice(&'a Advice),
}

impl<'a> Ground<'a> {
    /// The source in words: the publication, the reason that a coach gave, or what was
    /// said about a limit or an advice.
    #[must_use]
    pub fn source(&self) -> &'a str {
        match self {
            Self::Limit(limit) => limit.note.as_deref().unwrap_or("the limit itself"),
            Self::Rule(_, Line { drawn: Drawn::Product(definition), .. }) => definition.source,
            Self::Rule(_, Line { drawn: Drawn::Squad(rule) | Drawn::Athlete(rule), .. }) => &rule.reason,
            Self::Pain { .. } => PAIN_SOURCE,
            Self::AnyScore => SIGN_SOURCE,
            Self::Advice(advice) => &advice.note,
        }
    }
}

/// What a person can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MayDo {
    /// Do something else; only whoever said the limit lifts it.
    KeepToLimit,
    /// Begin from a lower box.
    LowerBox,
    /// Test, or write down what was tested; until then stay with low boxes.
    TestFirst,
    /// Stay with low boxes until the test reaches the line.
    TrainFirst,
    /// Do fewer contacts, or leave the rest for another day.
    FewerContacts,
    /// Take another day.
    AnotherDay,
    /// Ask a guardian, and write the consent down as an exception with its reason.
    AskGuardian,
    /// Ask the coach; keep contacts low while growth is fast, and measure again.
    AskCoach,
    /// Begin below what was done before the gap.
    BeginLower,
    /// Ask for place and side, and offer to end the session.
    OfferToEnd,
    /// Stop, and have it seen by a licensed practitioner.
    StopAndRefer,
    /// Ask whether it was seen, before anything is offered.
    AskWhetherSeen,
    /// Go on as advised; end where it rises or has not settled by the next morning.
    AsAdvised,
}

/// One thing that speaks against a set, or is to be borne in mind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Said<'a> {
    /// What was found.
    pub what: What,
    /// How grave it is.
    pub grade: Grade,
    /// What stands against the line.
    pub found: Found,
    /// The line, and where it comes from.
    pub ground: Ground<'a>,
}

impl<'a> Said<'a> {
    /// A convention that speaks against a set.
    pub(super) const fn ask(what: What, found: Found, name: RuleName, line: Line<'a>) -> Self {
        Self { what, grade: Grade::Ask, found, ground: Ground::Rule(name, line) }
    }

    /// The line, in its [unit](Said::unit); nothing where there is none to compare with.
    #[must_use]
    pub fn line(&self) -> Option<u32> {
        match (self.ground, self.what) {
            (Ground::Limit(limit), What::BoxOver) => limit.max_box_mm,
            (Ground::Limit(_) | Ground::AnyScore, _) => None,
            (Ground::Rule(_, line), _) => Some(line.value),
            (Ground::Pain { line }, _) => Some(line.into()),
            (Ground::Advice(advice), _) => Some(advice.up_to.into()),
        }
    }

    /// The unit of the line and of the value; nothing for scores of pain and for what has none.
    #[must_use]
    pub fn unit(&self) -> Option<Unit> {
        match (self.ground, self.what) {
            (Ground::Limit(_), What::BoxOver) => Some(Unit::Millimetres),
            (Ground::Rule(name, _), _) => Some(definition(name).unit),
            _ => None,
        }
    }

    /// What a person can do about it.
    #[must_use]
    pub const fn may_do(&self) -> MayDo {
        match (self.what, self.found) {
            (What::OneLeg(_) | What::RunIn | What::BoxOver, _) => MayDo::KeepToLimit,
            (What::FirstBox { .. } | What::HeavyBox, _) => MayDo::LowerBox,
            (What::Squat | What::FiveSquats | What::OneLegStand(_), Found::NotKnown) => MayDo::TestFirst,
            (What::Squat | What::FiveSquats | What::OneLegStand(_), _) => MayDo::TrainFirst,
            (What::SessionContacts | What::YoungContacts { .. }, _) => MayDo::FewerContacts,
            (What::YoungDays { .. } | What::YoungInARow { .. }, _) => MayDo::AnotherDay,
            (What::GuardianConsent, _) => MayDo::AskGuardian,
            (What::Growth(_), _) => MayDo::AskCoach,
            (What::Gap, _) => MayDo::BeginLower,
            (What::Sign { newest: false, .. }, _) => MayDo::AskWhetherSeen,
            (What::Sign { .. } | What::PainRising { .. } | What::PainHigh(_), _) => MayDo::StopAndRefer,
            (What::PainYoung(_) | What::PainNew(_) | What::PainGoesOn(_), _) => MayDo::OfferToEnd,
            (What::PainAdvised(_), _) => MayDo::AsAdvised,
        }
    }
}
