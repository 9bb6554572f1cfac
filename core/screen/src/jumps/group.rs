//! What attempts of one event from one run-up say together.

use pitside_model::facts::{Approach, Jump, Outcome};
use pitside_model::jump::board::{Accuracy, LEAST_TOES, Shift, Toes};
use pitside_model::jump::distance::effective;
use pitside_model::jump::history::History;

use super::attempt::approach_of;
use crate::figure::{decimal, distance, full_day, half_width, mean, official, small};
use crate::record::JumpGroup;
use crate::text::Words;

/// Below so many toes it is said that they are few. Ours, no source.
const FEW_TOES: usize = 10;

/// So many of the attempts that were longer than all before are told, the last ones.
const COURSE: usize = 5;

pub(super) fn group(words: &Words, jumps: &[Jump], history: &History, share: f64) -> JumpGroup {
    let event = words.word(&format!("event-{}", history.event.word()));
    let (id, run_up) = match history.approach {
        Some(approach @ Approach::Strides(n)) => (format!("strides-{n}"), approach_of(words, approach)),
        Some(approach @ Approach::Millimetres(mm)) => (format!("mm-{mm}"), approach_of(words, approach)),
        None => ("unknown".to_owned(), words.word("jumps-run-up-unknown")),
    };
    let count = words.say("jumps-count", &[("n", (history.attempts.len() as u64).into())]);
    let fouls = words.say("jumps-fouls", &[("n", (history.fouls as u64).into())]);
    let toes = Toes::of(history.attempts.iter().filter_map(|at| jumps.get(*at)));
    let distances = distances(words, jumps, history);
    let (board, shift) = match (toes.accuracy(), toes.shift(share)) {
        (Some(accuracy), Ok(shift)) => (board(words, &toes, &accuracy), self::shift(words, &toes, &shift)),
        _ => (few(words, &toes), Vec::new()),
    };
    let title = format!("{event}, {run_up}");
    let count = format!("{count}, {fouls}");
    let all: Vec<&str> = [&title, &count]
        .into_iter()
        .chain(&distances)
        .chain(&board)
        .chain(&shift)
        .map(|said| said.trim_end_matches('.'))
        .collect();
    let spoken = format!("{}.", all.join(". "));
    JumpGroup { id: format!("{}/{id}", history.event.word()), title, count, distances, board, shift, spoken }
}

fn distances(words: &Words, jumps: &[Jump], history: &History) -> Vec<String> {
    let mut said = Vec::new();
    let official = |jump: &Jump| match jump.outcome {
        Outcome::Measured(mm) => Some(official(words, mm)),
        Outcome::Foul => None,
    };
    let mut best = |key: &str, at: Option<usize>, length: &dyn Fn(&Jump) -> Option<String>| {
        let found = at.and_then(|at| jumps.get(at)).and_then(|jump| Some((jump, length(jump)?)));
        said.extend(found.map(|(jump, distance)| {
            let on = full_day(words, jump.day);
            words.say(key, &[("distance", (&distance).into()), ("day", (&on).into())])
        }));
    };
    best("jumps-best", history.best, &official);
    best("jumps-best-records", history.best_for_records, &official);
    best("jumps-best-effective", history.best_effective, &|jump| {
        effective(jump).map(|found| distance(words, found.effective_mm, 2))
    });
    if history.best.is_some() && history.best_for_records.is_none() {
        said.push(words.word("jumps-best-records-none"));
    }
    // One alone is the best itself.
    let course = history.improvements.iter().rev().take(COURSE).rev().filter_map(|at| jumps.get(*at));
    let course: Vec<String> = course
        .filter_map(|jump| {
            let (distance, on) = (official(jump)?, full_day(words, jump.day));
            Some(words.say("jumps-course-one", &[("distance", (&distance).into()), ("day", (&on).into())]))
        })
        .collect();
    if course.len() > 1 {
        said.push(words.say("jumps-course", &[("bests", (&course.join(", ")).into())]));
    }
    if let Some((all, spread)) = history.mean.and_then(|mean| Some((mean, mean.spread?))) {
        said.push(words.say(
            "jumps-mean",
            &[
                ("n", (all.count as u64).into()),
                ("mean", (&mean(words, all.mm)).into()),
                ("half", (&half_width(words, spread.half_width_95_mm)).into()),
                ("sd", (&small(words, spread.sd_mm)).into()),
            ],
        ));
    }
    said
}

fn board(words: &Words, toes: &Toes, accuracy: &Accuracy) -> Vec<String> {
    let side = if accuracy.bias_mm > 0.0 { "jumps-bias-over" } else { "jumps-bias-behind" };
    let over = decimal(words, 100.0 * toes.over as f64 / accuracy.count as f64, 0);
    let mut said = vec![
        words.say(
            "jumps-over",
            &[
                ("n", (accuracy.count as u64).into()),
                ("over", (&toes.over.to_string()).into()),
                ("share", (&over).into()),
            ],
        ),
        words.say(
            side,
            &[
                ("by", (&small(words, accuracy.bias_mm)).into()),
                ("half", (&small(words, accuracy.bias_half_width_95_mm)).into()),
            ],
        ),
        words.say(
            "jumps-spread",
            &[
                ("sd", (&small(words, accuracy.sd_mm)).into()),
                ("low", (&small(words, accuracy.sd_95_mm.0)).into()),
                ("high", (&small(words, accuracy.sd_95_mm.1)).into()),
            ],
        ),
    ];
    said.extend(left_out(words, toes));
    said
}

/// What is said of too few toes.
fn few(words: &Words, toes: &Toes) -> Vec<String> {
    let least = LEAST_TOES.to_string();
    let mut said = vec![
        words.say("jumps-toes-few", &[("n", (toes.toes_mm.len() as u64).into()), ("least", (&least).into())]),
    ];
    said.extend(left_out(words, toes));
    said
}

/// Attempts that the figures of the board leave out.
fn left_out(words: &Words, toes: &Toes) -> Vec<String> {
    let counted = |key: &str, n: usize| (n > 0).then(|| words.say(key, &[("n", (n as u64).into())]));
    [
        counted("jumps-without-start", toes.without_start),
        counted("jumps-fouls-without-toe", toes.fouls_without_toe),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// A move of the start mark.
fn moved(words: &Words, back_mm: f64) -> String {
    let key = if back_mm < 0.0 { "jumps-move-forward" } else { "jumps-move-back" };
    words.say(key, &[("by", (&small(words, back_mm)).into())])
}

fn percent(words: &Words, share: f64) -> String {
    let percent = 100.0 * share;
    let whole = (percent - percent.round()).abs() < 1e-9;
    decimal(words, percent, usize::from(!whole))
}

fn shift(words: &Words, toes: &Toes, shift: &Shift) -> Vec<String> {
    let share = percent(words, shift.foul_share);
    let mut said = vec![words.say(
        "jumps-shift",
        &[
            ("share", (&share).into()),
            ("aim", (&small(words, shift.aim_mm)).into()),
            ("move", (&moved(words, shift.back_mm)).into()),
        ],
    )];
    if let Some(start) = toes.start_mm {
        let to = f64::from(start) + shift.back_mm;
        let to = mean(words, to);
        let from = distance(words, start, 2);
        said.push(words.say("jumps-shift-to", &[("from", (&from).into()), ("to", (&to).into())]));
    }
    said.push(words.say(
        "jumps-shift-interval",
        &[
            ("low", (&moved(words, shift.back_95_mm.0)).into()),
            ("high", (&moved(words, shift.back_95_mm.1)).into()),
        ],
    ));
    let next = decimal(words, 100.0 * shift.next_foul_share, 0);
    said.push(words.say("jumps-shift-next", &[("share", (&share).into()), ("next", (&next).into())]));
    let n = toes.toes_mm.len();
    if n < FEW_TOES {
        said.push(words.say("jumps-shift-few", &[("n", (n as u64).into())]));
    }
    said.push(words.word("jumps-shift-holds"));
    said
}
