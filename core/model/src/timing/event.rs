//! Marks on frames → events, each with its bracket.

use std::fmt;

use thiserror::Error;

pub use crate::facts::{Bracket, Event, EventKind, Foot};

impl Foot {
    /// Whether one leg belongs to both.
    pub fn overlaps(self, other: Self) -> bool {
        self == other || self == Self::Both || other == Self::Both
    }
}

impl fmt::Display for Foot {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::Left => "the left foot",
            Self::Right => "the right foot",
            Self::Both => "both feet",
        })
    }
}

impl fmt::Display for EventKind {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::Touchdown => "touchdown",
            Self::ToeOff => "toe-off",
        })
    }
}

impl Bracket {
    /// Ticks of the last frame surely before the event, and of the first
    /// frame surely after it.
    ///
    /// # Errors
    /// [`TimingError::Reversed`] unless `before` is earlier.
    pub fn new(before: i64, after: i64) -> Result<Self, TimingError> {
        if before < after { Ok(Self { before, after }) } else { Err(TimingError::Reversed { before, after }) }
    }

    /// The width in ticks; at least 1.
    pub fn width(self) -> i64 {
        self.after.saturating_sub(self.before)
    }

    /// Twice the midpoint, so that it is a whole number of ticks.
    pub(super) fn midpoint_doubled(self) -> i128 {
        i128::from(self.before) + i128::from(self.after)
    }
}

impl Event {
    /// An event out of marks on the frames of a clip.
    ///
    /// `frames` are the ticks of all frames in display order; `first_after`
    /// is the first frame surely after the event; `last_before` the last one
    /// surely before it where that is not the neighbour. Frames count from 0.
    ///
    /// # Errors
    /// [`TimingError`] where a mark lies outside the clip, in its first frame
    /// (nothing shows the moment before), or the two marks are reversed.
    pub fn marked(
        frames: &[i64],
        foot: Foot,
        kind: EventKind,
        first_after: usize,
        last_before: Option<usize>,
    ) -> Result<Self, TimingError> {
        let ticks = |frame: usize| {
            frames.get(frame).copied().ok_or(TimingError::OutOfRange {
                event: kind,
                frame,
                frames: frames.len(),
            })
        };
        let after = ticks(first_after)?;
        let neighbour = first_after.checked_sub(1).ok_or(TimingError::FirstFrame { event: kind })?;
        let last = last_before.unwrap_or(neighbour);
        let before = ticks(last)?;
        if last >= first_after {
            return Err(TimingError::MarksReversed { event: kind, before: last, after: first_after });
        }
        if before >= after {
            return Err(TimingError::SameTime { event: kind, before: last, after: first_after });
        }
        Ok(Self { foot, kind, bracket: Bracket { before, after }, doubted: last != neighbour })
    }
}

/// Why events give no time. Events of a take are numbered from 0.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum TimingError {
    /// A mark lies outside the clip.
    #[error("the {event} is marked at frame {frame}, but the clip has frames 0 to {}", frames.saturating_sub(1))]
    OutOfRange {
        /// Which event.
        event: EventKind,
        /// The frame marked.
        frame: usize,
        /// The frames of the clip.
        frames: usize,
    },
    /// The event is marked in the first frame.
    #[error("the {event} is marked in frame 0: no frame before it shows when it happened")]
    FirstFrame {
        /// Which event.
        event: EventKind,
    },
    /// The last frame before an event does not come before the first after it.
    #[error(
        "for the {event}, the last frame before ({before}) must be earlier than the first frame after ({after})"
    )]
    MarksReversed {
        /// Which event.
        event: EventKind,
        /// The frame marked as before it.
        before: usize,
        /// The frame marked as after it.
        after: usize,
    },
    /// Two frames around an event have one time.
    #[error("frames {before} and {after} around the {event} have the same time in the clip")]
    SameTime {
        /// Which event.
        event: EventKind,
        /// The frame before it.
        before: usize,
        /// The frame after it.
        after: usize,
    },
    /// A bracket whose beginning does not come before its end.
    #[error("a bracket from tick {before} to tick {after} is reversed or empty")]
    Reversed {
        /// The beginning given.
        before: i64,
        /// The end given.
        after: i64,
    },
    /// The later event does not lie clearly after the earlier one.
    #[error("the {later} is not after the {earlier}: their frames are reversed or overlap")]
    Order {
        /// The event that should come first.
        earlier: EventKind,
        /// The event that should come second.
        later: EventKind,
    },
    /// A duration between two events that do not bound it.
    #[error("a {wanted} begins with a {from} and ends with a {to}, not the other way round")]
    Kinds {
        /// Contact or flight.
        wanted: &'static str,
        /// The kind it begins with.
        from: EventKind,
        /// The kind it ends with.
        to: EventKind,
    },
    /// A contact that begins with one foot and ends with another.
    #[error("the contact begins with {on} and ends with {off}")]
    OtherFoot {
        /// The foot of the touchdown.
        on: Foot,
        /// The foot of the toe-off.
        off: Foot,
    },
    /// An event of a take that is not after the one before it.
    #[error("event {index} of the take ({event}) is earlier than the event before it")]
    TakeOrder {
        /// Its number.
        index: usize,
        /// Its kind.
        event: EventKind,
    },
    /// A foot lands that is on the ground already.
    #[error("event {index} of the take: {foot} lands while on the ground already")]
    AlreadyDown {
        /// Its number.
        index: usize,
        /// The foot that lands.
        foot: Foot,
    },
    /// A foot leaves the ground that did not land.
    #[error("event {index} of the take: {foot} leaves the ground without a touchdown before it")]
    NotDown {
        /// Its number.
        index: usize,
        /// The foot that leaves.
        foot: Foot,
    },
    /// Two takes that do not have the same events.
    #[error("the two takes differ in event {index}: only takes with the same events are compared")]
    Unlike {
        /// The first event that one has and the other has not, from 0.
        index: usize,
    },
    /// A scale that no clip can have.
    #[error(
        "the clock or judging terms are no uncertainty: they must be finite and not negative, and a frame at least one tick long"
    )]
    BadScale,
}

/// Events for tests: foot, kind, and the first tick after each, in brackets of 4 ticks.
#[cfg(test)]
pub(super) fn events(list: &[(Foot, EventKind, i64)]) -> Vec<Event> {
    let event = |(foot, kind, after): &(Foot, EventKind, i64)| Event {
        foot: *foot,
        kind: *kind,
        bracket: Bracket { before: after - 4, after: *after },
        doubted: false,
    };
    list.iter().map(event).collect()
}
