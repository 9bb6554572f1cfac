//! What the rows of the catalogue share: an exercise said in short, and its usual contacts.

use uuid::Uuid;

use super::Item;
use crate::facts::exercise::{
    After, Direction, Entry, Exercise, Kind, Knee, Landing, Legs, Move, Speed, Support, UsualContact,
    UsualLoad,
};
use crate::facts::{Approach, Cue, Surface};

/// An exercise without its series.
pub(super) struct Row {
    pub(super) id: Uuid,
    pub(super) name: &'static str,
    pub(super) about: &'static str,
    pub(super) kind: Kind,
    pub(super) legs: Legs,
    pub(super) knee: Knee,
    pub(super) landing: Landing,
    pub(super) entry: Entry,
    /// Where it is not that of its kind.
    pub(super) direction: Option<Direction>,
    pub(super) box_run_in: Option<Approach>,
    pub(super) onto_mm: Option<u32>,
    pub(super) over_mm: Option<u32>,
    pub(super) load: Option<UsualLoad>,
    pub(super) cue: Option<Cue>,
    pub(super) surface: Option<Surface>,
    /// Where more than the series tells: its last contact repeats.
    pub(super) contacts_per_rep: u16,
    pub(super) loss_per_mille: u16,
    pub(super) support: Support,
    pub(super) source: &'static str,
}

/// What a row is where it says nothing else. The rows name id, name and sentence
/// themselves: the ones here are refused.
pub(super) const PLAIN: Row = Row {
    id: Uuid::nil(),
    name: "",
    about: "",
    kind: Kind::VerticalRebound,
    legs: Legs::Two,
    knee: Knee::Bent,
    landing: Landing::Rebound,
    entry: Entry::Standing,
    direction: None,
    box_run_in: None,
    onto_mm: None,
    over_mm: None,
    load: None,
    cue: None,
    surface: None,
    contacts_per_rep: 1,
    loss_per_mille: 0,
    support: Support::Estimate,
    source: "an estimate of ours",
};

impl Row {
    pub(super) fn with<const N: usize>(self, series: [UsualContact; N]) -> Item {
        let told = u16::try_from(N).unwrap_or(u16::MAX);
        Item {
            id: self.id,
            exercise: Exercise {
                name: self.name.to_owned(),
                about: self.about.to_owned(),
                kind: self.kind,
                direction: self.direction.unwrap_or_else(|| Direction::usual(self.kind, &series)),
                legs: self.legs,
                knee: self.knee,
                landing: self.landing,
                entry: self.entry,
                box_run_in: self.box_run_in,
                onto_mm: self.onto_mm,
                over_mm: self.over_mm,
                load: self.load,
                cue: self.cue,
                surface: self.surface,
                series: series.to_vec(),
                contacts_per_rep: self.contacts_per_rep.max(told),
                loss_per_mille: self.loss_per_mille,
                support: self.support,
                source: self.source.to_owned(),
            },
        }
    }
}

/// Out of a flight of so many milliseconds on one level.
pub(super) const fn level(flight_ms: u32) -> Entry {
    Entry::LevelFlight { flight_us: flight_ms * 1_000 }
}

/// Off a box.
pub(super) const fn off(usual_mm: u32) -> Entry {
    Entry::Box { usual_mm }
}

/// A run-in on the box or platform.
pub(super) const fn strides_on(strides: u16) -> Option<Approach> {
    Some(Approach::Strides(strides))
}

/// A share of the body's mass, worn or carried, in thousandths.
pub(super) const fn worn(per_mille: u16) -> Option<UsualLoad> {
    Some(UsualLoad::BodyShare(per_mille))
}

/// Out of a run-in.
pub(super) const fn strides(usual_strides: u16) -> Entry {
    Entry::RunIn { usual_strides }
}

/// A contact on the spot, its times in milliseconds, that a flight follows.
pub(super) fn spot(mv: Move, legs: Legs, contact_ms: u32, flight_ms: u32) -> UsualContact {
    UsualContact {
        mv,
        contact_us: contact_ms * 1_000,
        after: After::Flight,
        flight_us: flight_ms * 1_000,
        speed: Speed::Fixed { mm_s: 0 },
        angle_ddeg: 900,
        legs,
        rise_mm: 0,
        loss_per_mille: None,
    }
}

/// A landing on both legs that ends the movement.
pub(super) fn stop(contact_ms: u32) -> UsualContact {
    stop_on(Legs::Two, contact_ms)
}

/// A landing that ends the movement.
pub(super) fn stop_on(legs: Legs, contact_ms: u32) -> UsualContact {
    UsualContact { after: After::Stand, ..spot(Move::Landing, legs, contact_ms, 0) }
}

impl UsualContact {
    /// Travelling at `speed` over a leg set down at `angle_deg`.
    pub(super) fn travelling(self, speed: Speed, angle_deg: u32) -> Self {
        Self { speed, angle_ddeg: angle_deg * 10, ..self }
    }

    /// The next contact so much higher, or below zero lower.
    pub(super) fn rising(self, rise_mm: i32) -> Self {
        Self { rise_mm, ..self }
    }

    /// At a cost of its own, thousandths of the run-in's speed.
    pub(super) fn costing(self, loss_per_mille: u16) -> Self {
        Self { loss_per_mille: Some(loss_per_mille), ..self }
    }

    /// Followed by the sand.
    pub(super) fn into_pit(self) -> Self {
        Self { after: After::Pit, ..self }
    }
}

pub(super) const fn fixed(mm_s: u32) -> Speed {
    Speed::Fixed { mm_s }
}

/// A share of the athlete's top speed, in thousandths.
pub(super) const fn share(per_mille: u32) -> Speed {
    Speed::TopShare { per_mille }
}

/// The speed of the run-in, not above `cap_mm_s`.
pub(super) const fn run_in(cap_mm_s: u32) -> Speed {
    Speed::Approach { less_mm_s: 0, cap_mm_s }
}

/// The top of the range: no cap of the exercise's own.
pub(super) const NO_CAP_MM_S: u32 = 13_000;
