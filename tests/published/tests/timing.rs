//! Durations from frames and their uncertainty, against published rules and
//! values, and against simulated contacts whose truth is known: frames, ticks, clock.
//!
//! Rules: JCGM 100:2008 (GUM) 4.3.7, 4.3.9, F.2.2.1 and 5.2.2 (clause numbers
//! from memory): rectangular a/√3, triangular a/√6, correlated inputs add
//! their covariances.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use pitside_model::clip::Pace;
use pitside_model::timing::agreement::agreement;
use pitside_model::timing::decision::{Answer, below, shorter};
use pitside_model::timing::{
    Bracket, Event, EventKind, Foot, GRAVITY, Scale, Timed, contact, mean, reactive_strength, rounded,
    shared_covariance,
};
use published::draws::Draws;

/// A thousand ticks a frame at any rate, so that every value is exact.
fn scale(fps: u64) -> Scale {
    Scale { clock_u: 0.0, ..Scale::new(Pace::new(1, fps * 1000).unwrap(), 1000) }
}

fn event(kind: EventKind, before: i64, after: i64) -> Event {
    Event { foot: Foot::Both, kind, bracket: Bracket::new(before, after).unwrap(), doubted: false }
}

/// A contact `ticks` long between two brackets of the widths given.
fn between(ticks: i64, a: i64, b: i64, scale: &Scale) -> Timed {
    let on = event(EventKind::Touchdown, 0, a);
    let middle = ticks + a / 2;
    let off = event(EventKind::ToeOff, middle - b / 2, middle - b / 2 + b);
    contact(&on, &off, scale).unwrap()
}

fn to(digits: usize, value: f64) -> String {
    format!("{value:.digits$}")
}

/// Source: the rules above; table computed from u = Δt/√6, half-width
/// Δt(1−√0.05), bound Δt, judging √(2/3)·Δt, together Δt·√(5/6).
#[test]
fn frame_rates_give_their_uncertainties() {
    let table = [
        (30, "33.3333", "13.6083", "25.8798"),
        (60, "16.6667", "6.8041", "12.9399"),
        (120, "8.3333", "3.4021", "6.4699"),
        (240, "4.1667", "1.7010", "3.2350"),
        (480, "2.0833", "0.8505", "1.6175"),
        (1000, "1.0000", "0.4082", "0.7764"),
    ];
    for (fps, frame, u, half_width) in table {
        let timed = between(26_000, 1000, 1000, &scale(fps));
        assert_eq!(to(4, timed.frame_bound * 1000.0), frame, "{fps}");
        assert_eq!(to(4, timed.frame_u * 1000.0), u, "{fps}");
        assert_eq!(to(4, timed.frame_half_width_95 * 1000.0), half_width);
    }
    let timed = between(26_000, 1000, 1000, &scale(240));
    assert_eq!(to(3, timed.judging_u * 1000.0), "3.402");
    assert_eq!(to(3, timed.total_u() * 1000.0), "3.804");
    // Mean of ten independent contacts: Δt/√(6N), frame part only.
    let ten = mean(&[timed; 10]).unwrap();
    assert_eq!(to(3, ten.frame_u * 1000.0), "0.538");
    assert_eq!(to(3, ten.judging_u * 1000.0), "3.402");
}

/// Source: EURACHEM/CITAC guide "Quantifying Uncertainty in Analytical
/// Measurement", Appendix E: "between 7 and 10" → a = 1.5, u = 0.87
/// rectangular; the triangular 0.61 is computed from the same rule.
#[test]
fn the_eurachem_examples() {
    // Microseconds, so that the other bracket, one tick wide, adds nothing.
    let scale = Scale { clock_u: 0.0, ..Scale::new(Pace::new(1, 1_000_000).unwrap(), 1) };
    let rectangular = between(10_000_000, 3_000_000, 1, &scale);
    assert_eq!(to(2, rectangular.frame_u), "0.87");
    let triangular = between(10_000_000, 1_500_000, 1_500_000, &scale);
    assert_eq!(to(2, triangular.frame_u), "0.61");
    assert_eq!(to(2, triangular.frame_bound), "1.50");
}

/// Contacts as a camera sees them: `frames` are its times, the truth is a
/// touchdown at `on` that lasts `lasts`.
fn seen(frames: &[i64], on: i64, lasts: i64, scale: &Scale) -> Timed {
    stamped(frames, frames, on, lasts, scale)
}

/// The same by a camera that writes other times than those of its frames.
fn stamped(frames: &[i64], stamps: &[i64], on: i64, lasts: i64, scale: &Scale) -> Timed {
    let first_after = |moment: i64| frames.partition_point(|frame| *frame < moment);
    let mark = |kind, moment| Event::marked(stamps, Foot::Left, kind, first_after(moment), None).unwrap();
    contact(&mark(EventKind::Touchdown, on), &mark(EventKind::ToeOff, on + lasts), scale).unwrap()
}

fn steady(count: i64) -> Vec<i64> {
    (0..count).map(|frame| frame * 1000).collect()
}

/// Computed from the distribution of a count: 110 ms at 240 frames a second
/// are 26.4 frames, seen as 26 (60 %) or 27 (40 %), sd 2.041 ms, unbiased.
#[test]
fn a_contact_of_110_ms_is_seen_as_26_or_27_frames() {
    let frames = steady(40);
    let scale = scale(240);
    let times: Vec<f64> =
        (1..=1000).map(|phase| seen(&frames, phase, 26_400, &scale).seconds * 1000.0).collect();
    let count = |frames: f64| {
        let time = frames * 1000.0 / 240.0;
        times.iter().filter(|seen| (**seen - time).abs() < 1e-9).count()
    };
    assert_eq!((count(26.0), count(27.0)), (600, 400));
    let average = times.iter().sum::<f64>() / 1000.0;
    let variance = times.iter().map(|time| (time - average).powi(2)).sum::<f64>() / 1000.0;
    assert_eq!(to(3, average), "110.000");
    assert_eq!(to(3, variance.sqrt()), "2.041");
}

/// The 95 % interval holds the truth in 95 of 100 contacts, the bound always,
/// over durations and phases drawn together, at a steady rate and with a third
/// of the frames dropped (brackets of unequal widths).
#[test]
fn the_interval_covers_the_truth() {
    let scale = scale(240);
    let mut draws = Draws::new(110);
    let mut dropped = steady(4000);
    dropped.retain(|_| draws.below(3) > 0);
    for frames in [steady(4000), dropped] {
        let draws_made = 100_000;
        let mut covered = 0;
        for _ in 0..draws_made {
            let on = 5000 + draws.below(3_800_000);
            let lasts = 12_000 + draws.below(60_000);
            let timed = seen(&frames, on, lasts, &scale);
            let error = (timed.seconds - scale.seconds(lasts)).abs();
            assert!(error <= timed.frame_bound + 1e-12, "{on} {lasts}");
            covered += i32::from(error <= timed.frame_half_width_95);
        }
        let share = f64::from(covered) / f64::from(draws_made);
        assert!((0.94..=0.96).contains(&share), "{share}");
    }
}

/// 240 frames a second on a coarse timescale: the true times of the frames in
/// thousandths of a tick, the times written in whole ticks, and the scale of a tick.
fn coarse(timescale: u64, count: i64) -> (Vec<i64>, Vec<i64>, Scale) {
    let step = i64::try_from(timescale).unwrap() * 1000;
    let frames: Vec<i64> = (0..count).map(|frame| frame * step / 240).collect();
    let stamps: Vec<i64> = frames.iter().map(|frame| (frame + 500).div_euclid(1000)).collect();
    let usual = stamps.windows(2).map(|pair| pair[1] - pair[0]).max().unwrap();
    let scale = Scale::new(Pace::new(1, timescale).unwrap(), usual);
    assert!(rounded(&stamps), "{timescale}");
    (frames, stamps, Scale { rounded: true, clock_u: 0.0, ..scale })
}

/// The same where the camera's times are rounded to ticks, a few of which make a frame:
/// on 600, 1000 and 1250 ticks a second. Without the ticks' part the bound is broken.
#[test]
fn the_interval_covers_the_truth_on_a_coarse_timescale() {
    let mut draws = Draws::new(600);
    for timescale in [600, 1000, 1250] {
        let (frames, stamps, scale) = coarse(timescale, 4000);
        let second = i64::try_from(timescale).unwrap() * 1000;
        let (mut covered, mut beyond_frames, made) = (0, 0, 100_000);
        for _ in 0..made {
            let on = second + draws.below(12_000) * second / 1000 + draws.below(1000);
            let lasts = second / 20 + draws.below(250) * second / 1000 + draws.below(1000);
            let timed = stamped(&frames, &stamps, on, lasts, &scale);
            let error = (timed.seconds - lasts as f64 / second as f64).abs();
            assert!(error <= timed.frame_bound + 1e-12, "{timescale}: {on} {lasts}");
            covered += i32::from(error <= timed.half_width_95());
            beyond_frames += i32::from(error > timed.frame_bound - scale.seconds(1) + 1e-12);
        }
        let share = f64::from(covered) / f64::from(made);
        assert!((0.94..=0.96).contains(&share), "{timescale}: {share}");
        assert!(beyond_frames > 0, "{timescale}");
    }
}

/// A clock that is off by a share that was drawn once for a take, so for all of its
/// contacts alike: the interval of one contact and of the mean of ten. On exact ticks
/// and on coarse ones. Were the clock's part to shrink as the frames' does, the mean's
/// interval would hold the truth far too seldom.
#[test]
fn the_interval_covers_the_truth_when_the_clock_is_off() {
    let mut draws = Draws::new(1001);
    let exact = (steady(4000), steady(4000), scale(240));
    for (frames, stamps, scale) in [exact, coarse(1000, 4000)] {
        // As a ball that was let fall gives it (timing::calibration).
        let scale = Scale { clock_u: 0.01, ..scale };
        let second = frames[240];
        for contacts in [1, 10] {
            let (mut covered, mut shrunk, made) = (0, 0, 100_000);
            for _ in 0..made {
                let off = scale.clock_u * draws.normal();
                let (mut timed, mut truth) = (Vec::new(), 0.0);
                for _ in 0..contacts {
                    let on = second + draws.below(12_000) * second / 1000 + draws.below(1000);
                    let lasts = second / 10 + draws.below(200) * second / 1000 + draws.below(1000);
                    timed.push(stamped(&frames, &stamps, on, lasts, &scale));
                    truth += lasts as f64 / second as f64 / f64::from(contacts);
                }
                let mean = mean(&timed).unwrap();
                let error = (mean.seconds - truth * (1.0 + off)).abs();
                covered += i32::from(error <= mean.half_width_95());
                let less = Timed { clock_u: mean.clock_u / f64::from(contacts).sqrt(), ..mean };
                shrunk += i32::from(error <= less.half_width_95());
            }
            let share = |count: i32| f64::from(count) / f64::from(made);
            assert!((0.94..=0.96).contains(&share(covered)), "{contacts}: {}", share(covered));
            assert!(contacts == 1 || share(shrunk) < 0.8, "{}", share(shrunk));
        }
    }
}

/// Counting from the first frame on to the last frame on, instead of the first
/// one off, is short by one whole frame: on average, not just at worst.
#[test]
fn mixed_conventions_are_a_whole_frame_short() {
    let frames = steady(200);
    let scale = scale(240);
    let mut draws = Draws::new(7);
    let (mut right, mut mixed) = (0.0, 0.0);
    let draws_made = 20_000;
    for _ in 0..draws_made {
        let (on, lasts) = (1 + draws.below(100_000), 20_000 + draws.below(30_000));
        let truth = scale.seconds(lasts);
        right += seen(&frames, on, lasts, &scale).seconds - truth;
        // The last frame on the ground lies one frame before the first off it.
        mixed += seen(&frames, on, lasts - 1000, &scale).seconds - truth;
    }
    let in_frames = |sum: f64| sum / f64::from(draws_made) / scale.frame_seconds();
    assert!(in_frames(right).abs() < 0.02, "{}", in_frames(right));
    assert!((in_frames(mixed) + 1.0).abs() < 0.02, "{}", in_frames(mixed));
}

/// Computed from the open drop jump (two plates, 1000 Hz: contact 0.249 s,
/// flight 0.487 s, RSI 1.168 m/s) at 240 frames a second: u = 0.0140 m/s,
/// 1.20 %; treated as independent it would be 0.98 %, which is wrong.
#[test]
fn reactive_strength_keeps_the_shared_toe_off() {
    let scale = scale(240);
    let at = |kind, ticks: i64| event(kind, ticks - 500, ticks + 500);
    let on = at(EventKind::Touchdown, 0);
    let off = at(EventKind::ToeOff, 59_760);
    let land = at(EventKind::Touchdown, 59_760 + 116_880);
    let rsi = reactive_strength(&on, &off, &land, &scale).unwrap();
    assert_eq!(to(3, rsi.contact.seconds), "0.249");
    assert_eq!(to(3, rsi.flight.seconds), "0.487");
    assert_eq!(to(4, rsi.height), "0.2908");
    assert_eq!(to(3, rsi.value), "1.168");
    assert_eq!(to(4, rsi.frame_u), "0.0140");
    assert_eq!(to(2, 100.0 * rsi.frame_u / rsi.value), "1.20");

    let (tc, tf) = (rsi.contact.seconds, rsi.flight.seconds);
    let apart = 4.0 * (rsi.flight.frame_u / tf).powi(2) + (rsi.contact.frame_u / tc).powi(2);
    assert_eq!(to(2, 100.0 * apart.sqrt()), "0.98");
    let shared = -4.0 * shared_covariance(off.bracket, &scale) / (tf * tc);
    assert_eq!(to(2, 100.0 * (apart + shared).sqrt()), "1.20");
    let frame = scale.frame_seconds();
    assert!((shared_covariance(off.bracket, &scale) + frame * frame / 12.0).abs() < 1e-15);
}

/// Computed from the same drop jump seen by slower cameras at every phase.
#[test]
fn the_drop_jump_as_slower_cameras_see_it() {
    let table =
        [(30, "1.001", "1.314"), (60, "1.146", "1.314"), (120, "1.146", "1.227"), (240, "1.146", "1.185")];
    for (fps, least, most) in table {
        let scale = scale(fps);
        let frames = steady(400);
        let (mut low, mut high) = (f64::INFINITY, 0_f64);
        for phase in 1..=1000 {
            let ticks = |ms: i64| ms * i64::try_from(fps).unwrap();
            let mark = |kind, moment: i64| {
                let first = frames.partition_point(|frame| *frame < moment);
                Event::marked(&frames, Foot::Both, kind, first, None).unwrap()
            };
            let rsi = reactive_strength(
                &mark(EventKind::Touchdown, phase),
                &mark(EventKind::ToeOff, phase + ticks(249)),
                &mark(EventKind::Touchdown, phase + ticks(249 + 487)),
                &scale,
            )
            .unwrap();
            low = low.min(rsi.value);
            high = high.max(rsi.value);
        }
        assert_eq!((to(3, low), to(3, high)), (least.into(), most.into()), "{fps}");
    }
}

/// Height from flight, h = g·tf²/8. Source: Bosco, Luhtanen & Komi 1983, Eur J
/// Appl Physiol 50:273–282 (formula from memory; values computed from it).
#[test]
fn heights_from_flights() {
    for (ms, height) in [(300, "0.1104"), (400, "0.1962"), (500, "0.3066"), (600, "0.4415"), (700, "0.6009")]
    {
        let scale = scale(1000);
        let at = |kind, ms: i64| event(kind, ms * 1000 - 500, ms * 1000 + 500);
        let rsi = reactive_strength(
            &at(EventKind::Touchdown, 0),
            &at(EventKind::ToeOff, 200),
            &at(EventKind::Touchdown, 200 + ms),
            &scale,
        )
        .unwrap();
        assert_eq!(to(4, rsi.height), height);
        assert!((rsi.value - rsi.height / 0.2).abs() < 1e-12);
    }
    assert_eq!(GRAVITY.to_string(), "9.81");
}

/// Source: Bland & Altman 1986, Lancet i:307–310, the worked example: 17 people, large
/// against mini flow meter, first readings (values from memory, and confirmed by the
/// results of the paper that they give): mean −2.1, standard deviation 38.8 l/min;
/// limits −79.7 and 75.5 with a factor of 2 and from the rounded values.
#[test]
fn the_worked_example_of_bland_and_altman() {
    let large = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
    let mini = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];
    let pairs: Vec<(f64, f64)> =
        large.iter().zip(mini).map(|(one, other)| (f64::from(*one), f64::from(other))).collect();
    let found = agreement(&pairs).unwrap();
    assert_eq!((found.pairs, to(1, found.bias), to(1, found.spread)), (17, "-2.1".into(), "38.8".into()));
    assert_eq!((to(1, -2.1 - 2.0 * 38.8), to(1, -2.1 + 2.0 * 38.8)), ("-79.7".into(), "75.5".into()));
    let (low, high) = found.limits();
    assert!((-79.7..-77.0).contains(&low) && (73.0..75.5).contains(&high), "{low} {high}");
}

/// One contact with the default judging and clock, as frames of this rate see it.
fn filmed(fps: u64, ms: f64) -> Timed {
    let timed = between(26_000, 1000, 1000, &Scale { clock_u: 0.001, ..scale(fps) });
    Timed { seconds: ms / 1000.0, clock_u: 0.001 * ms / 1000.0, ..timed }
}

/// Common practice, no source: a bound of about 130 ms and a board contact of about
/// 110 ms are told apart at 240 frames a second and not at 30.
#[test]
fn a_bound_and_a_board_contact_are_told_apart_at_240_and_not_at_30() {
    let answer = |fps| shorter(&filmed(fps, 110.0), &filmed(fps, 130.0)).1;
    assert_eq!(answer(240), Answer::Yes);
    assert_eq!(answer(30), Answer::CannotTell);
}

/// Common practice, no source: a sprint contact near 89 ms. At 120 frames a second it
/// is below 100 ms with Φ(11 / 7.609) = 0.926, at 240 with Φ(11 / 3.805) = 0.998, so
/// only the faster camera may say so (JCGM 106:2012, guard band of 1.645·u; clause
/// from memory). Φ computed with a table of the normal distribution.
#[test]
fn a_sprint_contact_is_below_100_ms_with_these_probabilities() {
    let at = |fps: u64| below(&filmed(fps, 89.0), 0.1, 1.0 / fps as f64, 1);
    assert_eq!((to(3, at(120).probability), at(120).answer), ("0.926".into(), Answer::CannotTell));
    assert_eq!((to(3, at(240).probability), at(240).answer), ("0.998".into(), Answer::Yes));
    assert_eq!(at(120).would_tell.frames_a_second, Some(240.0));
    // With the frames alone, no judging, 120 would do: Φ(11 / 3.40) = 0.999.
    let frames = Timed { judging_u: 0.0, ..filmed(120, 89.0) };
    assert_eq!(below(&frames, 0.1, 1.0 / 120.0, 1).answer, Answer::Yes);
}

/// The decision keeps its promise: of contacts with the target for their true length,
/// at most one in twenty is said to be below it. Drawn with length, phase and judging
/// (uniform ±1 frame at each event), as the defaults have it.
#[test]
fn what_is_said_to_be_below_is_seldom_not() {
    let scale = Scale { clock_u: 0.0, ..scale(240) };
    let frames = steady(400);
    let mut draws = Draws::new(2012);
    let target = 24_000;
    let (mut said, made) = (0, 50_000);
    for _ in 0..made {
        let on = 50_000 + draws.below(1_000);
        let off = on + target + draws.below(2001) - 1000 - (draws.below(2001) - 1000);
        let timed = seen(&frames, on, off - on, &scale);
        let found = below(&timed, scale.seconds(target), scale.frame_seconds(), 1);
        said += u32::from(found.answer == Answer::Yes);
    }
    let share = f64::from(said) / f64::from(made);
    assert!(share < 0.055, "{share}");
}
