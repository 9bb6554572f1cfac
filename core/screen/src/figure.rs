//! Numbers, days and times as people read them.

use chrono::Datelike;
use pitside_model::facts::Day;

use crate::env::Env;
use crate::text::Words;

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

/// Millimetres as centimetres: `30 cm`, `45.5 cm`.
pub(crate) fn centimetres(words: &Words, mm: u32) -> String {
    format!("{} cm", decimal(words, f64::from(mm) / 10.0, usize::from(!mm.is_multiple_of(10))))
}

/// Grams as kilograms: `12.5 kg`.
pub(crate) fn kilograms(words: &Words, g: u32) -> String {
    format!("{} kg", decimal(words, f64::from(g) / 1_000.0, usize::from(!g.is_multiple_of(1_000))))
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
        assert_eq!(centimetres(words, 300), "30 cm");
        assert_eq!(centimetres(words, 455), "45.5 cm");
        assert_eq!(kilograms(words, 12_500), "12.5 kg");
        assert_eq!(kilograms(words, 60_000), "60 kg");
    }

    #[test]
    fn the_mark_before_the_decimals_is_the_languages() {
        let words = &Words::over("de", "decimal-mark = ,\n");
        assert_eq!(timed(words, 0.145_42, 0.006_21), "0,145 s ± 7 ms");
        assert_eq!(centimetres(words, 455), "45,5 cm");
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
