//! The invented athletes.

use pitside_model::facts::{Level, Side};

/// What is special about one.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Story {
    /// Nothing: a season as planned.
    Plain,
    /// A clip of bounds is timed.
    Filmed,
    /// Athlete and coach rate one session differently.
    Disagrees,
    /// Far more bounds this week than in the weeks before.
    Spikes,
    /// Comes back after weeks off, with limits.
    Returns,
    /// Pain that rises from week to week, shared with the coach.
    Hurts,
    /// Trains twice a week; does not share what hurts.
    Young,
    /// Logs now and then: many days are unknown.
    Gaps,
}

/// One of the cast.
pub(super) struct Athlete {
    pub(super) name: &'static str,
    pub(super) age: i32,
    pub(super) level: Level,
    pub(super) take_off: Side,
    pub(super) mass_kg: u32,
    /// Volume against the plan, in percent.
    pub(super) volume: u16,
    pub(super) story: Story,
}

const fn athlete(
    name: &'static str,
    age: i32,
    level: Level,
    take_off: Side,
    mass_kg: u32,
    volume: u16,
    story: Story,
) -> Athlete {
    Athlete { name, age, level, take_off, mass_kg, volume, story }
}

/// Everybody.
pub(super) const ALL: &[Athlete] = &[
    athlete("Aune", 22, Level::Advanced, Side::Left, 61, 104, Story::Filmed),
    athlete("Bram", 19, Level::Intermediate, Side::Right, 74, 100, Story::Spikes),
    athlete("Cleo", 24, Level::Advanced, Side::Left, 58, 92, Story::Disagrees),
    athlete("Dario", 21, Level::Intermediate, Side::Left, 77, 88, Story::Hurts),
    athlete("Elva", 18, Level::Intermediate, Side::Right, 63, 102, Story::Plain),
    athlete("Finn", 23, Level::Advanced, Side::Left, 80, 100, Story::Returns),
    athlete("Greta", 20, Level::Beginner, Side::Right, 60, 100, Story::Plain),
    athlete("Hana", 14, Level::Beginner, Side::Left, 49, 90, Story::Young),
    athlete("Ivo", 25, Level::Intermediate, Side::Right, 72, 96, Story::Gaps),
];
