//! Between two sets: how long the rest is, and whether the screen is locked against the
//! taps that rain makes. Kept on this device, so that it is there after the process died.

use pitside_book::store::{Book, BookError};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::Hash;

use super::HeldPlan;
use super::day::{last_of, next_set};
use super::set_text;
use crate::env::Env;
use crate::record::Between;
use crate::text::Words;
use crate::training::Catalogue;
use crate::wording;

/// Where it is kept.
const BETWEEN: &str = "between-sets";
/// No rest is longer, ms: what would end later was written with another clock.
const LONGEST_MS: i64 = 60 * 60 * 1_000;
/// So long after the rest nobody is between sets any more, and the screen is no longer locked, ms.
const STALE_MS: i64 = 60 * 60 * 1_000;

/// What is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct State {
    pub(super) locked: bool,
    pub(super) since_ms: i64,
    /// 0 where no rest was planned.
    pub(super) until_ms: i64,
    /// The plan and the row of the last set; nothing where the screen was locked before one.
    pub(super) after: Option<(Hash, u16)>,
}

/// Keeps it, or that there is nothing more to keep.
pub(super) fn keep(book: &Book, state: Option<&State>) -> Result<(), BookError> {
    let bytes = state.map(|state| {
        let (plan, row) = state.after.map_or((Value::Null, 0), |(plan, row)| (plan.to_value(), row));
        let items = vec![state.locked.into(), state.since_ms.into(), state.until_ms.into(), plan, row.into()];
        encode(&Value::Array(items))
    });
    book.set_local(BETWEEN, bytes.as_deref())
}

/// What is kept, as far as it still holds: not over long ago, and not of a clock that was
/// set back since.
pub(super) fn kept(book: &Book, env: &Env) -> Result<Option<State>, BookError> {
    let Some(bytes) = book.local(BETWEEN)? else { return Ok(None) };
    // What a later version wrote is not this one's to read.
    Ok(decode(&bytes).ok().and_then(|value| read(&value)).filter(|state| state.holds(env.now_ms)))
}

impl State {
    fn holds(&self, now_ms: i64) -> bool {
        let end = self.since_ms.max(self.until_ms);
        let long = end.saturating_sub(self.since_ms) > LONGEST_MS;
        self.since_ms <= now_ms && now_ms.saturating_sub(end) < STALE_MS && !long
    }
}

fn read(value: &Value) -> Option<State> {
    let Value::Array(items) = value else { return None };
    let [Value::Bool(locked), Value::Int(since), Value::Int(until), plan, Value::Int(row)] = items.as_slice()
    else {
        return None;
    };
    let after = match plan {
        Value::Null => None,
        plan => Some((Hash::from_value(plan)?, u16::try_from(*row).ok()?)),
    };
    Some(State {
        locked: *locked,
        since_ms: i64::try_from(*since).ok()?,
        until_ms: i64::try_from(*until).ok()?,
        after,
    })
}

/// What is between two sets, with what was done and what comes; nothing where nobody is.
pub(crate) fn between(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
) -> Result<Option<Between>, BookError> {
    let Some(state) = kept(book, env)? else { return Ok(None) };
    let mut between = Between {
        locked: state.locked,
        since_ms: state.since_ms,
        until_ms: state.until_ms,
        done: String::new(),
        next: String::new(),
        cue: String::new(),
    };
    let after =
        state.after.and_then(|(plan, row)| Some((HeldPlan::find(book, &plan.to_string()).ok()?, row)));
    let Some((plan, row)) = after else { return Ok(Some(between)) };
    let done = plan.done(book)?;
    if let Some((_, _, set)) = last_of(&done, row) {
        between.done = wording::set(words, catalogue, set);
    }
    let open = |number: u16, sets: u16| super::count(done.iter().map(|(_, _, set)| set), number) < sets;
    if let Some(row) = plan.plan.rows.iter().find(|row| open(row.number, row.sets)) {
        let last = last_of(&done, row.number).map(|(_, _, set)| set);
        between.next = set_text(words, catalogue, &next_set(catalogue, row, last));
        between.cue = row.say.clone().unwrap_or_default();
    }
    Ok(Some(between))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_holds_until_an_hour_after_and_not_with_a_clock_set_back() {
        let state =
            State { locked: true, since_ms: 1_000_000, until_ms: 1_090_000, after: Some((Hash([5; 32]), 3)) };
        assert!(state.holds(1_000_000) && state.holds(1_090_000 + STALE_MS - 1));
        assert!(!state.holds(1_090_000 + STALE_MS), "an hour later nobody rests any more");
        assert!(!state.holds(999_999), "the clock was set back");
        assert!(!State { until_ms: 1_000_001 + LONGEST_MS, ..state }.holds(1_000_000));
        assert!(State { until_ms: 0, ..state }.holds(1_000_001), "locked without a rest");
        assert!(!State { since_ms: i64::MIN, until_ms: i64::MAX, ..state }.holds(0));
    }
}
