//! The records of planned sessions: on the phone's first screen, in lists, and as a form.

use crate::record::{Choice, Link, Said, SetForm};

/// A session that was planned for today.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct PlannedSession {
    /// The plan's id.
    pub id: String,
    /// Whose.
    pub member: String,
    /// The athlete's name, where this device serves several; else empty.
    pub who: String,
    /// What it is for.
    pub purpose: String,
    /// What else to know; empty for nothing.
    pub note: String,
    /// That two people planned it differently, and which is shown; else empty.
    pub clash: String,
    /// What speaks against everything in it, the gravest first.
    pub against: Vec<Said>,
    /// What to do, in order.
    pub rows: Vec<PlannedSets>,
    /// How much of it is done.
    pub progress: String,
}

/// A row of a planned session: sets of one exercise.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct PlannedSets {
    /// Its number in the plan.
    pub number: u16,
    /// What the next set is: repetitions, exercise, legs, box, run-in.
    pub text: String,
    /// The one thing to think of; empty for none.
    pub cue: String,
    /// How the exercise is done.
    pub about: String,
    /// What to see to before it; empty for none.
    pub caution: String,
    /// What speaks against the next set, the gravest first, but for what speaks against all
    /// of the session.
    pub against: Vec<Said>,
    /// Whether the next set is to be offered. What was done all the same can be logged.
    pub offered: bool,
    /// That it can be logged if it was done, where it is not to be offered; else empty.
    pub bound: String,
    /// Sets done.
    pub done: u16,
    /// Sets planned.
    pub sets: u16,
    /// `1 of 3 sets done`.
    pub progress: String,
    /// Whether it is the next in order that is not all done.
    pub next: bool,
    /// How long to rest after each set, in words; empty where nothing was planned.
    pub rest: String,
    /// The same in seconds; 0 where nothing was planned.
    pub rest_s: u32,
    /// The next set, filled in; left and right have changed places by themselves.
    pub form: SetForm,
    /// Which legs, as far as the exercise allows.
    pub legs: Vec<Choice>,
    /// Whether the exercise has a box.
    pub asks_box: bool,
    /// The height of the box of `form` in words; empty where none is planned.
    pub r#box: String,
    /// Whether the exercise has a run-in.
    pub asks_approach: bool,
    /// The last set that was done for it today, if any: it can be taken back.
    pub last: Option<DoneRow>,
    /// What a screen reader says of it.
    pub spoken: String,
}

/// A set that was done for a row.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct DoneRow {
    /// The set's id.
    pub id: String,
    /// What it was.
    pub text: String,
}

/// Between two sets: how long the rest is, and whether the screen is locked. It is kept by
/// the core, so it is there again after the process died.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Between {
    /// Whether the screen is locked: nothing but holding the bar does anything.
    pub locked: bool,
    /// When the set was done, milliseconds since the Unix epoch.
    pub since_ms: i64,
    /// When the rest is over, milliseconds since the Unix epoch; 0 where none was planned.
    pub until_ms: i64,
    /// What was done last; empty where the screen was locked before anything was done.
    pub done: String,
    /// What comes next; empty where nothing does.
    pub next: String,
    /// The one thing to think of in it; empty for none.
    pub cue: String,
}

/// The plans of an athlete: those that come, and how the last ones went.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Plans {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The athlete's id.
    pub member: String,
    /// The heading.
    pub title: String,
    /// What a plan is, in a sentence.
    pub about: String,
    /// From today on, the next first.
    pub coming: Vec<PlanRow>,
    /// Said where none comes; else empty.
    pub none: String,
    /// Of the last four weeks, the newest first.
    pub earlier: Vec<PlanRow>,
    /// Whether this device may plan for the athlete.
    pub may_plan: bool,
    /// To the athlete.
    pub athlete: Link,
}

/// A plan in a list.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct PlanRow {
    /// The plan's id.
    pub id: String,
    /// The values that this row is drawn from; given back as it is.
    pub seen: String,
    /// The day, `2026-11-25`.
    pub date: String,
    /// The day in words.
    pub day: String,
    /// What it is for.
    pub purpose: String,
    /// What to do, a sentence a row.
    pub rows: Vec<String>,
    /// What else to know; empty for nothing.
    pub note: String,
    /// How much of it was done; empty before its day.
    pub progress: String,
    /// That two people planned it differently; else empty.
    pub clash: String,
    /// The form by which it is changed.
    pub route: String,
    /// What a screen reader says of it.
    pub spoken: String,
}

/// A planned session, as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct PlanForm {
    /// The plan that is changed; empty for a new one.
    pub id: String,
    /// The values that stood in the book when the form was drawn, with blanks between.
    pub seen: String,
    /// For whom: each gets a plan of their own. One that is changed keeps its athlete.
    pub members: Vec<String>,
    /// The day, `2026-11-25`.
    pub day: String,
    /// What it is for.
    pub purpose: String,
    /// What else to know; empty for nothing.
    pub note: String,
    /// What to do, in order.
    pub rows: Vec<PlanRowForm>,
}

/// A row of a plan, as it is filled in.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct PlanRowForm {
    /// Its number, as the form showed it; 0 for a new one.
    pub number: u16,
    /// The exercise's id.
    pub exercise: String,
    /// Sets.
    pub sets: u16,
    /// Repetitions of each.
    pub reps: u16,
    /// The word of the legs in the first set; empty for what the exercise suggests.
    pub leg: String,
    /// Left and right change places from set to set.
    pub swap: bool,
    /// The height of the box in millimetres.
    pub box_mm: Option<u32>,
    /// The strides of the run-in.
    pub strides: Option<u16>,
    /// The run-in in millimetres, where it is not told in strides.
    pub run_mm: Option<u32>,
    /// The outside load in grams.
    pub load_g: Option<u32>,
    /// The word of the cue, `short` or `high`; empty for none.
    pub cue: String,
    /// The one thing to think of; empty for none.
    pub say: String,
    /// Seconds to rest after each set.
    pub rest_s: Option<u16>,
    /// How many times as long as the set to rest after it, where it is not told in seconds.
    pub rest_times: Option<u16>,
    /// A drill of the warm-up.
    pub warm_up: bool,
}

/// The form of a planned session.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct PlanFormPage {
    /// The heading.
    pub title: String,
    /// What a plan is, in a sentence.
    pub about: String,
    /// What is filled in.
    pub form: PlanForm,
    /// The athletes; those of the form are chosen.
    pub members: Vec<Choice>,
    /// The exercises by kind.
    pub exercises: Vec<Choice>,
    /// All the legs there are; which of them an exercise allows is said where it is saved.
    pub legs: Vec<Choice>,
    /// Cues to choose from.
    pub cues: Vec<Choice>,
    /// What speaks against it on its day, for the athlete whose plan it is.
    pub against: Vec<Said>,
    /// What two people wrote differently, each with its day, purpose and rows; empty where
    /// nothing clashes.
    pub clash: Vec<String>,
    /// Whether this device may plan for the athlete.
    pub may_plan: bool,
    /// Back to the athlete's plans; empty where it is for several.
    pub back: String,
    /// What to take care of.
    pub cautions: Vec<String>,
}
