//! How far clocks can be trusted, and what that means for limits.
//!
//! A wrong clock changes what a screen calls today, and nothing else: whatever has
//! an end date holds while this device's clock is in doubt.

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::facts::{Day, Limit, kind};

use crate::env::Env;
use crate::text::Words;

/// Beyond this a clock is in doubt, in milliseconds: a day, since limits are
/// said in days.
const DOUBT_MS: u64 = 24 * 60 * 60 * 1_000;
/// From here on a clock is said to be off: ten minutes.
const OFF_MS: u64 = 10 * 60 * 1_000;

/// This device's clock, beside those of the devices it met last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct OwnClock {
    today: Day,
    /// The nearest of the others' clocks minus this one's, where even that is far.
    apart_ms: Option<i64>,
    /// Whether it shows less than it did when this device last wrote.
    back: bool,
}

impl OwnClock {
    pub(crate) fn read(env: &Env, book: &Book) -> Result<Self, BookError> {
        let apart_ms = book.clock_doubt_ms()?.filter(|ms| ms.unsigned_abs() > OFF_MS);
        let back = apart_ms.is_none() && !agreed(env, book)? && wrote_later(env, book)?;
        Ok(Self { today: env.today(), apart_ms, back })
    }

    /// Whether it is off from every other clock, so that theirs say nothing new.
    pub(crate) fn is_off(self) -> bool {
        self.back || self.apart_ms.is_some()
    }

    /// Whether it may not be today.
    pub(crate) fn in_doubt(self) -> bool {
        self.back || self.apart_ms.is_some_and(|ms| ms.unsigned_abs() > DOUBT_MS)
    }

    /// Whether a limit holds: each does while the clock is in doubt.
    pub(crate) fn holds(self, limit: &Limit) -> bool {
        self.in_doubt() || limit.holds_on(self.today)
    }

    /// What is said of it where it is off.
    pub(crate) fn said(self, words: &Words) -> Option<String> {
        let how = match self.apart_ms {
            // The others' minus ours: where theirs are ahead, ours is behind.
            Some(ms) => {
                let key = if ms > 0 { "clock-own-behind" } else { "clock-own-ahead" };
                words.say(key, &[("span", (&span(words, ms.unsigned_abs())).into())])
            }
            None if self.back => words.word("clock-own-back"),
            None => return None,
        };
        let means = if self.in_doubt() { "clock-own-doubt" } else { "clock-own-means" };
        Some(format!("{how} {}", words.word(means)))
    }
}

/// Whether a device was met that agreed, and not later than now: what this device
/// wrote with a wrong clock before it was set says nothing any more.
fn agreed(env: &Env, book: &Book) -> Result<bool, BookError> {
    Ok(book.peers()?.iter().any(|peer| {
        peer.clock_apart_ms.is_some_and(|ms| ms.unsigned_abs() <= OFF_MS)
            && peer.met_ms.is_none_or(|met| met <= env.now_ms)
    }))
}

/// Whether an own entry was stamped more than a day after now.
///
/// Looked for among what is about later days, which is little, and among the
/// few facts that are about no day; not among everything that was ever written.
fn wrote_later(env: &Env, book: &Book) -> Result<bool, BookError> {
    let after = (env.today().plus(1), Day::LAST);
    let mut held = book.held(&Filter { days: Some(after), ..Filter::default() })?;
    for kind in [kind::MEMBER, kind::CONSENT, kind::DEVICE, kind::LIMIT, kind::SQUAD] {
        held.extend(book.held(&Filter { kind: Some(kind), ..Filter::default() })?);
    }
    let mut own = held.iter().flat_map(|h| &h.values).filter(|live| live.device == book.device());
    Ok(own.any(|live| live.stamp.ms > env.now_ms.saturating_add_unsigned(DOUBT_MS)))
}

/// By how much another device's clock is off, from ten minutes on.
pub(crate) fn apart(words: &Words, ms: i64) -> Option<String> {
    let far = ms.unsigned_abs();
    if far <= OFF_MS {
        return None;
    }
    let key = if ms > 0 { "clock-ahead" } else { "clock-behind" };
    Some(words.say(key, &[("span", (&span(words, far)).into())]))
}

/// A stretch of time in its largest whole unit.
fn span(words: &Words, ms: u64) -> String {
    let minutes = ms / 60_000;
    let (key, n) = match minutes {
        0..120 => ("span-minutes", minutes),
        120..2_880 => ("span-hours", minutes / 60),
        2_880..1_051_920 => ("span-days", minutes / 1_440),
        _ => ("span-years", minutes / 525_960),
    };
    words.say(key, &[("n", n.into())])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_is_off_from_ten_minutes_on() {
        let words = &Words::of("en");
        let minute = 60_000;
        assert_eq!(apart(words, 10 * minute), None);
        assert_eq!(apart(words, -10 * minute), None);
        let said = |minutes: i64| apart(words, minutes * minute).unwrap();
        assert_eq!(said(11), "11 minutes ahead");
        assert_eq!(said(-3 * 60), "3 hours behind");
        assert_eq!(said(3 * 1_440), "3 days ahead");
        assert_eq!(said(-1_461 * 1_440), "4 years behind");
        assert_eq!(said(1_051_920), "2 years ahead", "never one of a unit: nothing to put in the singular");
        assert!(apart(words, i64::MIN).is_some_and(|said| said.contains("years")));
    }
}
