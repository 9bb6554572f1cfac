//! The session to do: what was planned for a day.

use pitside_model::facts::{Hash, Plan, PlanRow, Set};

use crate::figure::full_day;
use crate::text::Words;
use crate::training::Catalogue;
use crate::wording;

/// A row as one of its sets: nothing is said of the session that it would belong to.
fn as_set(row: &PlanRow) -> Set {
    Set {
        session: Hash([0; 32]),
        exercise: row.exercise,
        reps: row.reps,
        contacts_per_rep: None,
        leg: row.leg,
        box_mm: row.box_mm,
        approach: row.approach,
        load_g: row.load_g,
        last_10_m_ms: None,
        cue: row.cue,
        warm_up: row.warm_up,
        planned: None,
    }
}

/// A row in words: how many sets of what.
fn row_text(words: &Words, catalogue: &Catalogue, row: &PlanRow) -> String {
    let set = wording::set(words, catalogue, &as_set(row));
    if row.sets == 1 {
        return set;
    }
    words.say("sets-alike", &[("n", u64::from(row.sets).into()), ("set", (&set).into())])
}

/// A plan in one sentence, for a clash about it.
pub(crate) fn said(words: &Words, catalogue: &Catalogue, plan: &Plan) -> String {
    let rows: Vec<String> = plan.rows.iter().map(|row| row_text(words, catalogue, row)).collect();
    format!("{}, {}: {}", full_day(words, plan.day), plan.purpose, rows.join("; "))
}
