//! A take: the events that a person read from one clip.

use uuid::Uuid;

use super::day::Day;
use super::field::{Extra, Fields, Pairs, Refusal, Word, refuse, words};
use super::id::Hash;
use super::squad::day;
use crate::cbor::Value;

words! {
    /// The foot of an event.
    Foot {
        /// The left.
        Left = "left",
        /// The right.
        Right = "right",
        /// Both: from the first touchdown to the last toe-off.
        Both = "both",
    }
}

words! {
    /// What happens at an event.
    EventKind {
        /// The foot meets the ground.
        Touchdown = "touchdown",
        /// The foot leaves it.
        ToeOff = "toe-off",
    }
}

/// The event lies between two frames: after `before`, not after `after`.
/// In ticks of the clip's timescale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Bracket {
    /// Time of the last frame surely before the event.
    pub before: i64,
    /// Time of the first frame surely after it.
    pub after: i64,
}

/// One touchdown or toe-off, as read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Event {
    /// The foot.
    pub foot: Foot,
    /// Touchdown or toe-off.
    pub kind: EventKind,
    /// Where it lies.
    pub bracket: Bracket,
    /// The reader was in doubt and widened the bracket; this replaces the
    /// default judging term.
    pub doubted: bool,
}

/// Real seconds a tick, as an exact ratio: seconds = ticks · `num` / `den`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pace {
    /// Numerator, from 1.
    pub num: u64,
    /// Denominator, from 1.
    pub den: u64,
}

/// The events read from one clip. The clip stays on its device; its digest
/// names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Take {
    /// The day it was filmed.
    pub day: Day,
    /// SHA-256 of the clip's bytes.
    pub clip: [u8; 32],
    /// SHA-256 of its frame table: the same for copies that were passed along.
    pub frames: [u8; 32],
    /// Real seconds a tick.
    pub pace: Pace,
    /// Usual ticks between neighbouring frames, from 1.
    pub frame_ticks: u32,
    /// The capture rate in millihertz where a person stated it.
    pub stated_mhz: Option<u32>,
    /// The relative standard uncertainty of the clock in millionths where it was
    /// measured in the clip, 1 to 500 000.
    pub clock_ppm: Option<u32>,
    /// The clip's times were rounded to ticks.
    pub rounded: bool,
    /// The exercise.
    pub exercise: Option<Uuid>,
    /// The set it shows.
    pub set: Option<Hash>,
    /// The run was drawn by a program, not filmed.
    pub rendered: bool,
    /// The events in order, at most [`MAX_EVENTS`](Self::MAX_EVENTS).
    pub events: Vec<Event>,
}

const KIND: &str = "take";
const EVENT: &str = "[foot, touchdown or toe-off, ticks before, ticks after, in doubt]";

impl Event {
    fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        let [
            Value::Text(foot),
            Value::Text(kind),
            Value::Int(before),
            Value::Int(after),
            Value::Bool(doubted),
        ] = items.as_slice()
        else {
            return None;
        };
        let bracket = Bracket { before: i64::try_from(*before).ok()?, after: i64::try_from(*after).ok()? };
        (bracket.before < bracket.after).then_some(())?;
        Some(Self {
            foot: Foot::from_word(foot).ok()?,
            kind: EventKind::from_word(kind).ok()?,
            bracket,
            doubted: *doubted,
        })
    }
    fn to_value(self) -> Value {
        Value::Array(vec![
            self.foot.word().into(),
            self.kind.word().into(),
            self.bracket.before.into(),
            self.bracket.after.into(),
            self.doubted.into(),
        ])
    }
}

impl Take {
    /// Events of one take.
    pub const MAX_EVENTS: usize = 400;

    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let take = Self {
            day: day(&mut f, "day")?,
            clip: f.bytes32("clip")?,
            frames: f.bytes32("frames")?,
            pace: Pace {
                num: f.int("pace-num", 1..=u64::MAX >> 1)?,
                den: f.int("pace-den", 1..=u64::MAX >> 1)?,
            },
            frame_ticks: f.int("frame-ticks", 1..=u32::MAX)?,
            stated_mhz: f.int_opt("stated-mhz", 1_000..=10_000_000)?,
            clock_ppm: f.int_opt("clock-ppm", 1..=500_000)?,
            rounded: f.flag("rounded")?,
            exercise: f.uuid_opt("exercise")?,
            set: f.fact_id_opt("set")?,
            rendered: f.flag("rendered")?,
            events: f.list("events", Self::MAX_EVENTS, |v| {
                Event::from_value(&v).ok_or_else(|| refuse(KIND, "events", &v, EVENT))
            })?,
        };
        Ok((take, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        let events: Vec<Value> = self.events.iter().map(|e| e.to_value()).collect();
        Pairs::default()
            .put("day", self.day.number())
            .put("clip", self.clip.as_slice())
            .put("frames", self.frames.as_slice())
            .put("pace-num", self.pace.num)
            .put("pace-den", self.pace.den)
            .put("frame-ticks", self.frame_ticks)
            .put_opt("stated-mhz", self.stated_mhz)
            .put_opt("clock-ppm", self.clock_ppm)
            .put_flag("rounded", self.rounded)
            .put_opt("exercise", self.exercise.as_ref().map(|id| id.as_bytes().as_slice()))
            .put_opt("set", self.set.map(Hash::to_value))
            .put_flag("rendered", self.rendered)
            .put_list("events", events)
    }
}
