//! Five years of an invented squad, set by set: the same in every run.

use pitside_model::facts::Day;
use pitside_model::facts::exercise::{Exercise, Legs};
use pitside_model::load::catalogue;
use pitside_model::load::performed::{Leg, Performed, Side};
use uuid::Uuid;

use crate::Failure;
use crate::workload::Random;

const DAYS: u64 = 5 * 365;
const SESSIONS_A_YEAR: u64 = 150;
const SETS: u64 = 10;

/// A set as the book has it, its session's day beside it.
#[derive(Clone, Copy, Debug)]
pub struct DoneSet {
    /// The athlete, from 0.
    pub athlete: u32,
    /// The day.
    pub day: Day,
    /// The exercise, by place in [`Season::exercises`].
    pub exercise: usize,
    /// Repetitions.
    pub reps: u16,
    /// Which legs.
    pub leg: Side,
}

/// All sets of a squad, by athlete and day.
pub struct Season {
    /// The catalogue.
    pub exercises: Vec<(Uuid, Exercise)>,
    /// The sets.
    pub sets: Vec<DoneSet>,
}

impl Season {
    /// The season of so many athletes.
    pub fn of(athletes: u32) -> Result<Self, Failure> {
        let exercises: Vec<(Uuid, Exercise)> =
            catalogue::all().into_iter().map(|item| (item.id, item.exercise)).collect();
        let first = Day::parse("2021-11-01").ok_or("a day")?;
        let mut sets = Vec::new();
        for athlete in 0..athletes {
            let mut random = Random(u64::from(athlete));
            for day in 0..DAYS {
                if random.below(365) < SESSIONS_A_YEAR {
                    let day = first.plus(i32::try_from(day)?);
                    for _ in 0..SETS {
                        sets.push(set(athlete, day, &exercises, &mut random)?);
                    }
                }
            }
        }
        Ok(Self { exercises, sets })
    }

    /// A set as the computation takes it.
    pub fn performed(&self, set: &DoneSet) -> Performed<'_> {
        Performed::usual(&self.exercises[set.exercise].1, set.reps, set.leg)
    }

    /// The exercise of a set.
    pub fn id(&self, set: &DoneSet) -> Uuid {
        self.exercises[set.exercise].0
    }
}

/// Some set of some exercise.
pub fn set(
    athlete: u32,
    day: Day,
    exercises: &[(Uuid, Exercise)],
    random: &mut Random,
) -> Result<DoneSet, Failure> {
    let exercise = usize::try_from(random.below(exercises.len() as u64))?;
    let on_two = exercises[exercise].1.series.iter().all(|contact| contact.legs == Legs::Two);
    let leg = match random.below(3) {
        _ if on_two => Side::Both,
        0 => Side::Left,
        1 => Side::Right,
        _ => Side::Alternate { first: Leg::Left },
    };
    let reps = u16::try_from(random.below(8) + 3)?;
    Ok(DoneSet { athlete, day, exercise, reps, leg })
}
