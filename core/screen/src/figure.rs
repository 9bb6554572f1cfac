//! Numbers, days and times as people read them.

use chrono::Datelike;
use pitside_model::facts::Day;

use crate::env::Env;
use crate::text::Words;
use crate::units::{
    Units, inches, quarters_of_inches, tenths_of_inches, tenths_of_pounds, whole_quarters_of_inches,
};

/// `Tue 24 Nov`.
pub(crate) fn day(words: &Words, day: Day) -> String {
    let date = day.date();
    let weekday = words.word(&format!("weekday-{}", date.weekday().number_from_monday()));
    let month = words.word(&format!("month-{}", date.month()));
    words.say(
        "day",
        &[
            ("weekday", (&weekday).into()),
            ("day", (&date.day().to_string()).into()),
            ("month", (&month).into()),
        ],
    )
}

/// `Tuesday`.
pub(crate) fn weekday(words: &Words, on: Day) -> String {
    words.word(&format!("weekday-long-{}", on.date().weekday().number_from_monday()))
}

/// `Tue 24 Nov 2026`.
pub(crate) fn full_day(words: &Words, on: Day) -> String {
    format!("{} {}", day(words, on), on.date().year())
}

/// `today`, `yesterday`, `tomorrow`, or the day.
pub(crate) fn near_day(words: &Words, env: &Env, on: Day) -> String {
    match env.today().number() - on.number() {
        0 => words.word("today"),
        1 => words.word("yesterday"),
        -1 => words.word("tomorrow"),
        _ => day(words, on),
    }
}

/// `14:02`, or `2:02 pm`.
pub(crate) fn clock(words: &Words, env: &Env, minute_of_day: u16) -> String {
    let (hour, minute) = (minute_of_day / 60, minute_of_day % 60);
    if env.hour24 {
        return format!("{hour}:{minute:02}");
    }
    let half = words.word(if hour < 12 { "clock-am" } else { "clock-pm" });
    format!("{}:{minute:02} {half}", (hour + 11) % 12 + 1)
}

/// The label of an ISO week: `wk 48`.
pub(crate) fn week(words: &Words, monday: Day) -> String {
    let number = monday.date().iso_week().week().to_string();
    words.say("week-label", &[("number", (&number).into())])
}

/// A number with so many decimals, behind the mark of the language.
pub(crate) fn decimal(words: &Words, value: f64, places: usize) -> String {
    format!("{value:.places$}").replace('.', &words.word("decimal-mark"))
}

/// A whole number, thousands apart: `3 010`.
pub(crate) fn whole(value: u64) -> String {
    let digits = value.to_string();
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out
}

/// `0.145 s ± 7 ms`: the value to a millisecond, the half-width rounded up, so
/// that it never claims more than it holds.
pub(crate) fn timed(words: &Words, seconds: f64, half_width: f64) -> String {
    format!("{} s ± {:.0} ms", decimal(words, seconds, 3), (half_width * 1_000.0).ceil())
}

/// Tenths of a unit, with a decimal where there is one: `30`, `45.5`.
fn tenths(words: &Words, tenths: u64) -> String {
    decimal(words, tenths as f64 / 10.0, usize::from(!tenths.is_multiple_of(10)))
}

/// Thousandths of a unit, with at least so many decimals and as many as are needed to say all.
pub(crate) fn thousandths(words: &Words, value: u32, least: usize) -> String {
    let needed = (0..3).find(|places| value.is_multiple_of(10_u32.pow(3 - places))).unwrap_or(3) as usize;
    decimal(words, f64::from(value) / 1_000.0, needed.max(least))
}

fn metres(words: &Words, mm: u32, least: usize) -> String {
    format!("{} m", thousandths(words, mm, least))
}

/// Quarters of an inch in feet and inches: `23 ft 7.75 in`.
fn feet(words: &Words, quarters: u64) -> String {
    let (feet, quarters) = (quarters / 48, quarters % 48);
    let places = match quarters % 4 {
        0 => 0,
        2 => 1,
        _ => 2,
    };
    format!("{feet} ft {} in", decimal(words, quarters as f64 / 4.0, places))
}

/// A height of a box or hurdle, or what a toe is off the line: `30 cm`, `45.5 cm`; to the tenth
/// of an inch: `11.8 in`.
pub(crate) fn height(words: &Words, mm: u32) -> String {
    match words.units() {
        Units::Metric => format!("{} cm", tenths(words, u64::from(mm))),
        Units::Customary => format!("{} in", tenths(words, tenths_of_inches(mm))),
    }
}

/// How tall a body is, or what it reached in a test: `171.5 cm`; to the tenth of an inch, from a
/// yard on in feet: `5 ft 7.5 in`.
pub(crate) fn reach(words: &Words, mm: u32) -> String {
    match (words.units(), tenths_of_inches(mm)) {
        (Units::Customary, inches) if inches >= 360 => {
            format!("{} ft {} in", inches / 120, tenths(words, inches % 120))
        }
        _ => height(words, mm),
    }
}

/// A length on the ground, with at least so many decimals: `34.5 m`; to the quarter of an inch:
/// `113 ft 2.25 in`.
pub(crate) fn distance(words: &Words, mm: u32, least: usize) -> String {
    match words.units() {
        Units::Metric => metres(words, mm, least),
        Units::Customary => feet(words, quarters_of_inches(mm)),
    }
}

/// What a jump counts: `6.42 m`; a quarter of an inch that is not whole does not count, as at
/// meets that measure in feet.
pub(crate) fn official(words: &Words, mm: u32) -> String {
    match words.units() {
        Units::Metric => metres(words, mm, 2),
        Units::Customary => feet(words, whole_quarters_of_inches(mm)),
    }
}

/// A computed length of a hand's size, its sign left out: `4.2 cm`, `1.7 in`.
pub(crate) fn small(words: &Words, mm: f64) -> String {
    match words.units() {
        Units::Metric => format!("{} cm", decimal(words, mm.abs() / 10.0, 1)),
        Units::Customary => format!("{} in", decimal(words, inches(mm.abs()), 1)),
    }
}

/// A computed length on the ground: `6.44 m`; to the tenth of an inch: `21 ft 1.5 in`.
pub(crate) fn mean(words: &Words, mm: f64) -> String {
    match words.units() {
        Units::Metric => format!("{} m", decimal(words, mm / 1_000.0, 2)),
        Units::Customary => {
            let all = (inches(mm.max(0.0)) * 10.0).round() as u64;
            format!("{} ft {} in", all / 120, decimal(words, (all % 120) as f64 / 10.0, 1))
        }
    }
}

/// How far a length on the ground may be off, rounded up, so that it never claims more than it
/// holds: `0.17 m`, `6.7 in`.
pub(crate) fn half_width(words: &Words, mm: f64) -> String {
    match words.units() {
        Units::Metric => format!("{} m", decimal(words, (mm / 10.0).ceil() / 100.0, 2)),
        Units::Customary => format!("{} in", decimal(words, (inches(mm) * 10.0).ceil() / 10.0, 1)),
    }
}

/// A mass: `12.5 kg`; to the tenth of a pound: `27.6 lb`.
pub(crate) fn mass(words: &Words, g: u32) -> String {
    match words.units() {
        Units::Metric => format!("{} kg", thousandths(words, g, 0)),
        Units::Customary => format!("{} lb", tenths(words, tenths_of_pounds(g))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_as_people_write_them() {
        let words = &Words::of("en");
        assert_eq!(whole(7), "7");
        assert_eq!(whole(3_010), "3\u{202f}010");
        assert_eq!(whole(1_234_567), "1\u{202f}234\u{202f}567");
        assert_eq!(timed(words, 0.145_42, 0.006_21), "0.145 s ± 7 ms");
        assert_eq!(height(words, 300), "30 cm");
        assert_eq!(height(words, 455), "45.5 cm");
        assert_eq!(reach(words, 1_715), "171.5 cm");
        assert_eq!(distance(words, 34_500, 1), "34.5 m");
        assert_eq!(distance(words, 34_000, 0), "34 m");
        assert_eq!(distance(words, 34_525, 1), "34.525 m", "nothing is rounded away");
        assert_eq!(official(words, 6_420), "6.42 m");
        assert_eq!(small(words, -41.6), "4.2 cm");
        assert_eq!(mean(words, 6_437.0), "6.44 m");
        assert_eq!(half_width(words, 161.0), "0.17 m");
        assert_eq!(mass(words, 12_500), "12.5 kg");
        assert_eq!(mass(words, 60_000), "60 kg");
    }

    #[test]
    fn feet_inches_and_pounds_where_the_language_says_so() {
        let words = &Words::of("en-u-ms-ussystem");
        assert_eq!(height(words, 305), "12 in");
        assert_eq!(height(words, 300), "11.8 in");
        assert_eq!(reach(words, 610), "24 in", "a jump up from a stand");
        assert_eq!(reach(words, 1_715), "5 ft 7.5 in");
        assert_eq!(reach(words, 914), "3 ft 0 in");
        assert_eq!(distance(words, 34_500, 1), "113 ft 2.25 in");
        assert_eq!(small(words, -41.6), "1.6 in");
        assert_eq!(mean(words, 6_437.0), "21 ft 1.4 in");
        assert_eq!(half_width(words, 161.0), "6.4 in", "6.34 in, rounded up");
        assert_eq!(mass(words, 20_412), "45 lb");
        assert_eq!(mass(words, 60_000), "132.3 lb");
        let german = &Words::of("de-u-ms-ussystem");
        assert_eq!(height(german, 300), "11,8 in");
        assert_eq!(distance(german, 34_500, 1), "113 ft 2,25 in");
    }

    /// Lists of results say 50 ft 10 in beside 15.50 m, 29 ft 4¼ in beside 8.95 m and 60 ft
    /// beside 18.29 m: what is left over of a quarter of an inch does not count. Common practice
    /// of meets that measure in feet; no rule book was read.
    #[test]
    fn a_distance_in_feet_counts_whole_quarters_of_an_inch() {
        let words = &Words::of("en-US");
        assert_eq!(official(words, 15_500), "50 ft 10 in");
        assert_eq!(official(words, 8_950), "29 ft 4.25 in");
        assert_eq!(official(words, 18_290), "60 ft 0 in");
        assert_eq!(official(words, 7_240), "23 ft 9 in");
        assert_eq!(official(words, 6_420), "21 ft 0.75 in");
        assert_eq!(distance(words, 6_420, 2), "21 ft 0.75 in", "252.756 in");
        assert_eq!([official(words, 7_020), distance(words, 7_020, 2)], ["23 ft 0.25 in", "23 ft 0.5 in"]);
    }

    /// Whoever steps through the heights of a box reads, once it is saved, what was chosen.
    #[test]
    fn a_height_that_was_chosen_reads_as_it_was_chosen() {
        for (tag, step) in [("en", 5), ("en-US", 2)] {
            let words = Words::of(tag);
            let unit = if step == 5 { "cm" } else { "in" };
            for (at, mm) in (1..).zip(words.units().boxes()) {
                assert_eq!(height(&words, mm), format!("{} {unit}", at * step));
            }
        }
    }

    #[test]
    fn times_are_the_same_in_both_systems() {
        assert_eq!(timed(&Words::of("en-US"), 0.145_42, 0.006_21), "0.145 s ± 7 ms");
    }

    #[test]
    fn the_mark_before_the_decimals_is_the_languages() {
        let words = &Words::over("de", "decimal-mark = ,\n");
        assert_eq!(timed(words, 0.145_42, 0.006_21), "0,145 s ± 7 ms");
        assert_eq!(height(words, 455), "45,5 cm");
        assert_eq!(decimal(words, 2.0, 0), "2");
    }

    #[test]
    fn days_and_hours() {
        let words = Words::of("en");
        let env = Env { language: "en".into(), zone_min: 0, hour24: true, now_ms: 1_795_600_000_000 };
        let today = env.today();
        assert_eq!(full_day(&words, Day::parse("2026-11-24").unwrap()), "Tue 24 Nov 2026");
        assert_eq!(near_day(&words, &env, today), "today");
        assert_eq!(near_day(&words, &env, today.plus(-1)), "yesterday");
        assert_eq!(clock(&words, &env, 842), "14:02");
        let twelve = Env { hour24: false, ..env };
        assert_eq!(
            [0, 719, 720, 842].map(|m| clock(&words, &twelve, m)),
            ["12:00 am", "11:59 am", "12:00 pm", "2:02 pm"]
        );
    }
}
