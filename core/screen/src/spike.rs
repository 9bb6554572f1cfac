//! What rose, came new, close together or after a gap, in words: what was seen, against
//! what, by which line, who drew it, and what can be done.

use pitside_model::facts::{self, MemberId};
use pitside_model::load::performed::Approach;
use pitside_model::load::rule::{Drawn, Line};
use pitside_model::load::spike::{Spike, spikes};

use crate::figure::{day, whole};
use crate::notice::{Looked, told};
use crate::record::Notice;
use crate::route::Route;
use crate::text::{Topic, Words};
use crate::wording::{exercise_name, hardest, kind_word, run_in};

/// The notices of what a course shows by the rules that hold.
pub(crate) fn notices(words: &Words, who: &str, member: MemberId, at: &Looked<'_>) -> Vec<Notice> {
    let today = at.env.today();
    let found = spikes(&at.kept.course, at.rules, today);
    found
        .chunk_by(of_one_day)
        .filter_map(|alike| {
            let first = alike.first()?;
            let rule = first.rule();
            let line = at.rules.get(rule, today)?;
            let value = line.value.to_string();
            Some(told(
                who,
                3,
                Route::Athlete(member),
                [
                    saw(words, at, alike, first),
                    words.say(&format!("spike-{}-rule", rule.word()), &[("line", (&value).into())]),
                    drawn(words, &line),
                    words.word(&format!("spike-{}-do", rule.word())),
                ],
            ))
        })
        .collect()
}

/// Exercises that came new on one day are said in one sentence.
fn of_one_day(one: &Spike, other: &Spike) -> bool {
    match (one, other) {
        (
            Spike::FirstExposure { day, approach: None, .. },
            Spike::FirstExposure { day: other, approach: None, .. },
        ) => day == other,
        _ => false,
    }
}

/// Who drew a line, and why.
pub(crate) fn drawn(words: &Words, line: &Line<'_>) -> String {
    match line.drawn {
        Drawn::Product(definition) => words.say(
            "line-of-product",
            &[("source", (&words.told_or_as_said(Topic::Source, definition.source)).into())],
        ),
        Drawn::Squad(rule) => words.say("line-of-squad", &[("reason", (&rule.reason).into())]),
        Drawn::Athlete(rule) => words.say("line-of-athlete", &[("reason", (&rule.reason).into())]),
    }
}

fn saw(words: &Words, at: &Looked<'_>, alike: &[Spike], spike: &Spike) -> String {
    let mean = |mean: f64| whole(mean.round() as u64);
    match spike {
        Spike::WeekContacts { kind, now, mean: before, weeks } => words.say(
            "spike-week-contacts-saw",
            &[
                ("kind", (&kind_word(words, *kind)).into()),
                ("now", (&whole(*now)).into()),
                ("mean", (&mean(*before)).into()),
                ("weeks", u64::from(*weeks).into()),
            ],
        ),
        Spike::WeekLoad { now, mean: before, weeks } => words.say(
            "spike-week-load-saw",
            &[
                ("now", (&whole(*now)).into()),
                ("mean", (&mean(*before)).into()),
                ("weeks", u64::from(*weeks).into()),
            ],
        ),
        Spike::HardestContact { kind, now, before, weeks } => words.say(
            "spike-hardest-contact-saw",
            &[
                ("kind", (&kind_word(words, *kind)).into()),
                ("now", (&hardest(words, Some(now))).into()),
                ("before", (&hardest(words, Some(before))).into()),
                ("weeks", u64::from(*weeks).into()),
            ],
        ),
        Spike::FirstExposure { day: on, exercise, approach, known_days } => {
            let names: Vec<String> = alike
                .iter()
                .filter_map(|spike| match spike {
                    Spike::FirstExposure { exercise, .. } => {
                        Some(exercise_name(words, at.catalogue, Some(*exercise)))
                    }
                    _ => None,
                })
                .collect();
            let (on, weeks) = (day(words, *on), u64::from(known_days.unsigned_abs()) / 7);
            match approach.and_then(as_written) {
                None => words.say(
                    "spike-first-exposure-saw",
                    &[
                        ("exercise", (&names.join(", ")).into()),
                        ("day", (&on).into()),
                        ("weeks", weeks.into()),
                    ],
                ),
                Some(approach) => words.say(
                    "spike-first-exposure-approach-saw",
                    &[
                        ("exercise", (&exercise_name(words, at.catalogue, Some(*exercise))).into()),
                        ("approach", (&run_in(words, approach)).into()),
                        ("day", (&on).into()),
                        ("weeks", weeks.into()),
                    ],
                ),
            }
        }
        Spike::HardDays { first, second, hours } => {
            let (first, second) = (day(words, *first), day(words, *second));
            let days = [("first", (&first).into()), ("second", (&second).into())];
            match hours {
                None => words.say("spike-hard-days-saw", &days),
                Some(hours) => {
                    let [first, second] = days;
                    let hours = ("hours", u64::from(*hours).into());
                    words.say("spike-hard-days-hours-saw", &[first, second, hours])
                }
            }
        }
        Spike::Gap { day: on, days } => words
            .say("spike-gap-saw", &[("day", (&day(words, *on)).into()), ("days", u64::from(*days).into())]),
    }
}

/// A run-in as a set says it.
fn as_written(approach: Approach) -> Option<facts::Approach> {
    match approach {
        Approach::Strides(n) => Some(facts::Approach::Strides(n)),
        Approach::Millimetres(mm) => Some(facts::Approach::Millimetres(mm)),
        Approach::Standing | Approach::TimedSpeed(_) => None,
    }
}
