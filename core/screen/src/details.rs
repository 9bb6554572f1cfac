//! What stands behind an athlete's weeks: monotony and strain, averages and their ratio
//! with its critique, how smoothly the weeks went, the hardest contacts, and the legs.
//!
//! Nothing here is judged, and no figure stands where days are unknown.

use pitside_model::facts::exercise::Kind;
use pitside_model::facts::{Day, HopPattern, Side};
use pitside_model::load::rule::{Rules, hard_line};
use pitside_model::load::series::smoothness::Smoothness;
use pitside_model::load::series::{Figures, MONTH, WEEK};
use pitside_model::load::session::Totals;

use crate::course::Kept;
use crate::figure::{decimal, whole};
use crate::record::Detail;
use crate::text::Words;
use crate::wording::kind_word;

/// Weeks whose smoothness is told.
const WEEKS: i32 = 8;
/// Days over which hardest contacts and legs are told.
const DAYS: i32 = 28;
/// The part of the contacts that is called the hardest.
const HARDEST_PART: f64 = 0.2;

pub(crate) fn details(words: &Words, kept: &Kept, rules: &Rules, today: Day) -> Vec<Detail> {
    let mut details = loads(words, kept, today);
    details.extend(smoothness(words, kept, today));
    details.extend(hardest(words, kept, rules, today));
    details.extend(legs(words, kept, today));
    details
}

fn detail(id: &str, label: String, value: String, note: String) -> Detail {
    let spoken = [&label, &value, &note].map(String::as_str);
    let spoken: Vec<&str> = spoken.into_iter().filter(|part| !part.is_empty()).collect();
    Detail { id: id.to_owned(), spoken: spoken.join(". "), label, value, note }
}

/// Figures of the last seven and the last 28 days; of the days up to yesterday where
/// nothing is known of today yet.
fn loads(words: &Words, kept: &Kept, today: Day) -> Vec<Detail> {
    let last = if kept.course.is_known(today) { today } else { today.plus(-1) };
    let Some((begin, _)) = kept.course.begin().filter(|(begin, _)| *begin <= last) else { return Vec::new() };
    let series = kept.course.loads(begin, last);
    let Some(figures) = series.iter().next_back() else { return Vec::new() };
    let missing = kept.course.loads(last.plus(1 - WEEK as i32), last);
    let missing = missing.iter().filter(|day| day.load.is_none()).count() as u64;
    let one = |value: Option<f64>, places: usize| value.map(|value| decimal(words, value, places));
    let why = if missing > 0 {
        words.say("detail-incomplete", &[("n", missing.into())])
    } else if series.len() < WEEK {
        words.word("detail-not-a-week")
    } else {
        words.word("detail-undefined")
    };
    let or_why = |value: Option<String>| value.unwrap_or_else(|| why.clone());
    vec![
        detail(
            "monotony",
            words.word("detail-monotony"),
            or_why(one(figures.monotony, 2)),
            words.word("detail-monotony-note"),
        ),
        detail(
            "strain",
            words.word("detail-strain"),
            or_why(figures.strain.map(|strain| whole(strain.round() as u64))),
            words.word("detail-strain-note"),
        ),
        averages(words, figures),
        ratio(words, figures),
    ]
}

fn averages(words: &Words, figures: &Figures) -> Detail {
    let value = match (figures.ewma_7, figures.ewma_28) {
        (Some(acute), Some(chronic)) => {
            let text = |value: f64| whole(value.round() as u64);
            words.say(
                "detail-averages-value",
                &[("acute", (&text(acute)).into()), ("chronic", (&text(chronic)).into())],
            )
        }
        _ => words.word("detail-days-unknown"),
    };
    detail("averages", words.word("detail-averages"), value, words.word("detail-averages-note"))
}

/// A description, with its critique beside it: no band, and nothing before a month of
/// known days, while the seed of the averages weighs.
fn ratio(words: &Words, figures: &Figures) -> Detail {
    let days = u64::from(figures.averaged_days);
    let value = if days < MONTH as u64 {
        words.say("detail-ratio-early", &[("days", days.into())])
    } else {
        let text = |value: Option<f64>| {
            value.map_or_else(|| words.word("detail-undefined"), |value| decimal(words, value, 2))
        };
        words.say(
            "detail-ratio-value",
            &[
                ("averages", (&text(figures.ratio_ewma)).into()),
                ("coupled", (&text(figures.ratio_coupled)).into()),
                ("uncoupled", (&text(figures.ratio_uncoupled)).into()),
            ],
        )
    };
    detail("ratio", words.word("detail-ratio"), value, words.word("detail-ratio-note"))
}

/// How smoothly session load went over the last whole weeks.
fn smoothness(words: &Words, kept: &Kept, today: Day) -> Option<Detail> {
    let monday = today.monday();
    let loads: Vec<Option<f64>> = (1..=WEEKS)
        .rev()
        .map(|n| monday.plus(-7 * n))
        .filter(|monday| kept.course.began_before(monday.plus(1)))
        .map(|monday| {
            let week = kept.course.week(monday);
            let whole = kept.course.unknown(monday, monday.plus(6)) == 0;
            let rated = week.is_none_or(|week| week.unrated == 0);
            (whole && rated).then(|| week.map_or(0.0, |week| week.load as f64))
        })
        .collect();
    if loads.len() < 4 {
        return None;
    }
    let value = match Smoothness::of(&loads) {
        None => words.word("detail-smoothness-incomplete"),
        Some(smoothness) => words.say(
            "detail-smoothness-value",
            &[
                ("weeks", (loads.len() as u64).into()),
                ("course", (&whole(smoothness.course_rms.round() as u64)).into()),
                ("curve", (&whole(smoothness.curve_rms.round() as u64)).into()),
            ],
        ),
    };
    Some(detail("smoothness", words.word("detail-smoothness"), value, words.word("detail-smoothness-note")))
}

/// How many contacts of the last four weeks were hard, and how uneven they were.
fn hardest(words: &Words, kept: &Kept, rules: &Rules, today: Day) -> Vec<Detail> {
    let first = today.plus(1 - DAYS);
    let of = |kind: &Kind| {
        let hard = kept.course.hard(*kind, first, today);
        let share = hard.share_of_hardest(HARDEST_PART)?;
        let percent = (share * 100.0).round() as u64;
        let value = match rules.value(hard_line(*kind), today) {
            None => words.say("detail-hardest-share", &[("percent", percent.into())]),
            Some(line) => words.say(
                "detail-hardest-value",
                &[
                    ("n", hard.count_from(u64::from(line) * 1_000).into()),
                    ("line", (&decimal(words, f64::from(line) / 1_000.0, 1)).into()),
                    ("percent", percent.into()),
                ],
            ),
        };
        let label = words.say("detail-hardest", &[("kind", (&kind_word(words, *kind)).into())]);
        Some(detail(&format!("hardest-{}", kind.word()), label, value, String::new()))
    };
    Kind::ALL.iter().filter_map(of).collect()
}

/// Contacts of each leg in the last four weeks, beside what is usual for the athlete's
/// take-off leg and hop pattern.
fn legs(words: &Words, kept: &Kept, today: Day) -> Vec<Detail> {
    let mut totals = Totals::default();
    for (_, record) in kept.course.days(today.plus(1 - DAYS), today) {
        totals.add(&record.totals);
    }
    let of_one_leg = totals.iter().filter(|(_, total)| total.contacts > total.two_leg_contacts);
    of_one_leg
        .map(|(kind, total)| {
            let both = total.two_leg_contacts;
            let value = words.say(
                "detail-legs-value",
                &[
                    ("left", total.left.contacts.saturating_sub(both).into()),
                    ("right", total.right.contacts.saturating_sub(both).into()),
                ],
            );
            let label = words.say("detail-legs", &[("kind", (&kind_word(words, kind)).into())]);
            detail(&format!("legs-{}", kind.word()), label, value, usual_legs(words, kept, kind))
        })
        .collect()
}

/// What is usual: event take-offs follow the athlete's leg and pattern, in other work
/// each leg has its share.
fn usual_legs(words: &Words, kept: &Kept, kind: Kind) -> String {
    if kind != Kind::EventTakeOff {
        return words.word("legs-even");
    }
    let mut parts = Vec::new();
    if let Some(side) = kept.card.take_off {
        let key = match side {
            Side::Left => "legs-take-off-left",
            Side::Right => "legs-take-off-right",
        };
        parts.push(words.word(key));
    }
    if let Some(pattern) = kept.card.pattern {
        let key = match pattern {
            HopPattern::LeftLeftRight => "legs-pattern-llr",
            HopPattern::RightRightLeft => "legs-pattern-rrl",
        };
        parts.push(words.word(key));
    }
    if parts.is_empty() { words.word("legs-not-known") } else { parts.join(" ") }
}
