//! The picture of the house: one line a foot, contacts as bars, flights as
//! gaps, uncertainty as a fading edge.

use maud::{Markup, PreEscaped, html};
use pitside_screen::record::{Lane, Time};

const WIDTH: f64 = 720.0;
const LEFT: f64 = 64.0;
const ROW: f64 = 54.0;
/// The length of the small lane of one mean time, in seconds.
const SMALL_SECONDS: f64 = 0.4;

/// One bar with its fading edges.
struct Drawn {
    id: String,
    from: f64,
    to: f64,
    /// The part of the bar's width that each edge fades over, 0 to 0.5.
    edge: f64,
}

fn drawn(id: String, start: f64, end: f64, fade: f64, scale: f64, left: f64) -> Drawn {
    let (from, to) = ((start - fade).max(0.0), end + fade);
    let edge = (2.0 * fade / (to - from).max(1e-9)).min(0.5);
    Drawn { id, from: left + from * scale, to: left + to * scale, edge }
}

fn gradient(bar: &Drawn) -> Markup {
    html! {
        (PreEscaped("<linearGradient id=\"")) (bar.id) (PreEscaped("\">"))
        stop.bar-edge offset="0" stop-opacity="0" {}
        stop.bar-edge offset=(format!("{:.4}", bar.edge)) stop-opacity="1" {}
        stop.bar-edge offset=(format!("{:.4}", 1.0 - bar.edge)) stop-opacity="1" {}
        stop.bar-edge offset="1" stop-opacity="0" {}
        (PreEscaped("</linearGradient>"))
    }
}

fn rect(bar: &Drawn, y: f64, height: f64) -> Markup {
    html! {
        rect x=(format!("{:.1}", bar.from)) y=(format!("{y:.1}"))
            width=(format!("{:.1}", bar.to - bar.from)) height=(format!("{height:.1}"))
            fill=(format!("url(#{})", bar.id)) {}
    }
}

/// The picture as a sign: a hop and a step on one leg, a jump on the other.
pub(super) fn sign() -> Markup {
    html! {
        svg.sign viewBox="0 0 44 20" aria-hidden="true" {
            line.lane-line x1="0" y1="6" x2="44" y2="6" {}
            line.lane-line x1="0" y1="15" x2="44" y2="15" {}
            rect x="1" y="3" width="7" height="6" {}
            rect x="16" y="3" width="8" height="6" {}
            rect x="33" y="12" width="9" height="6" {}
        }
    }
}

/// A take. `id` keeps its gradients apart from those of other lanes.
pub(super) fn large(id: &str, title: &str, lane: &Lane) -> Markup {
    if lane.feet.is_empty() || lane.seconds <= 0.0 {
        return html! {};
    }
    let scale = (WIDTH - LEFT - 8.0) / lane.seconds;
    // Under the feet a row for the flights.
    let air = ROW * lane.feet.len() as f64 + 14.0;
    let height = air + 36.0;
    html! {
        div.scroll tabindex="0" role="group" aria-label=(title) {
        svg.lane viewBox=(format!("0 0 {WIDTH} {height}")) role="img" aria-label=(lane.spoken) {
            @for (row, foot) in lane.feet.iter().enumerate() {
                @let base = ROW * row as f64 + 40.0;
                text.lane-foot x="0" y=(format!("{:.1}", base + 5.0)) { (foot.label) }
                line.lane-line x1=(LEFT) y1=(base) x2=(WIDTH - 8.0) y2=(base) {}
                @for (at, bar) in foot.bars.iter().enumerate() {
                    @let shape = drawn(format!("{id}-{row}-{at}"), bar.start, bar.end, bar.fade, scale, LEFT);
                    (gradient(&shape))
                    (rect(&shape, base - 9.0, 18.0))
                    @if let Some(target) = bar.target {
                        @let x = format!("{:.1}", LEFT + target * scale);
                        line.lane-target x1=(x) y1=(base - 15.0) x2=(x) y2=(base + 15.0) {}
                    }
                    text.lane-time x=(format!("{:.1}", LEFT + (bar.start + bar.end) / 2.0 * scale))
                        y=(format!("{:.1}", base - 16.0)) text-anchor="middle" { (bar.label) }
                }
            }
            @for flight in &lane.flights {
                @let (from, to) = (LEFT + flight.start * scale, LEFT + flight.end * scale);
                line.lane-air x1=(format!("{from:.1}")) y1=(air - 14.0) x2=(format!("{to:.1}")) y2=(air - 14.0) {}
                text.lane-tick-text x=(format!("{:.1}", f64::midpoint(from, to))) y=(air) text-anchor="middle" { (flight.label) }
            }
            @for tick in &lane.ticks {
                @let x = format!("{:.1}", LEFT + tick.at * scale);
                line.lane-tick x1=(x) y1=(height - 24.0) x2=(x) y2=(height - 18.0) {}
                text.lane-tick-text x=(x) y=(height - 4.0) text-anchor="middle" { (tick.text) }
            }
        }
        }
        p.label { (lane.legend) }
    }
}

/// One time: a bar of its length from 0 on, over a tick every tenth of a second.
pub(super) fn small(id: &str, time: &Time) -> Markup {
    let scale = 160.0 / SMALL_SECONDS;
    let mut bar = drawn(id.to_owned(), 0.0, time.seconds.min(SMALL_SECONDS), time.half_width, scale, 0.0);
    if time.seconds > SMALL_SECONDS {
        // It goes on past the picture: an edge here would claim an end.
        bar.edge = 0.0;
    }
    // Only its end is uncertain here: the left edge is the axis.
    html! {
        svg.lane-small viewBox="0 0 176 16" aria-hidden="true" {
            (PreEscaped("<linearGradient id=\"")) (bar.id) (PreEscaped("\">"))
            stop.bar-edge offset="0" stop-opacity="1" {}
            stop.bar-edge offset=(format!("{:.4}", 1.0 - bar.edge)) stop-opacity="1" {}
            stop.bar-edge offset="1" stop-opacity=(if bar.edge > 0.0 { "0" } else { "1" }) {}
            (PreEscaped("</linearGradient>"))
            line.lane-line x1="0" y1="8" x2="176" y2="8" {}
            @for tick in 0..=4 {
                @let x = format!("{:.1}", (f64::from(tick) * 0.1 * scale).max(0.5));
                line.lane-tick x1=(x) y1="13" x2=(x) y2="16" {}
            }
            (rect(&bar, 2.0, 10.0))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How much of a bar is there at a place, by its gradient: 0 to 1.
    fn opacity(bar: &Drawn, at: f64) -> f64 {
        let part = (at - bar.from) / (bar.to - bar.from);
        (part.min(1.0 - part) / bar.edge).clamp(0.0, 1.0)
    }

    #[test]
    fn an_event_stands_halfway_down_its_fading_edge() {
        let bar = drawn("a".to_owned(), 0.2, 0.35, 0.01, 100.0, 64.0);
        for (at, expected) in [(0.19, 0.0), (0.2, 0.5), (0.21, 1.0), (0.34, 1.0), (0.35, 0.5), (0.36, 0.0)] {
            let seen = opacity(&bar, 64.0 + at * 100.0);
            assert!((seen - expected).abs() < 1e-9, "{at} s: {seen}, expected {expected}");
        }
    }

    #[test]
    fn a_bar_less_certain_than_long_has_no_solid_part_and_no_broken_one() {
        let bar = drawn("a".to_owned(), 0.2, 0.22, 0.05, 100.0, 0.0);
        assert!((bar.edge - 0.5).abs() < 1e-9 && bar.from < bar.to);
        let nothing = drawn("a".to_owned(), 0.0, 0.0, 0.0, 100.0, 0.0);
        assert!(nothing.edge.is_finite());
    }

    fn time(seconds: f64) -> Time {
        let text = String::new;
        let (label, value, note, spoken) = (text(), text(), text(), text());
        Time { id: text(), label, value, note, seconds, half_width: 0.007, spoken }
    }

    #[test]
    fn what_goes_on_past_the_small_lane_has_no_end_there() {
        let ends = |seconds| small("t", &time(seconds)).into_string();
        assert!(ends(0.2).contains("offset=\"1\" stop-opacity=\"0\""), "{}", ends(0.2));
        assert!(!ends(0.6).contains("stop-opacity=\"0\""), "{}", ends(0.6));
    }

    #[test]
    fn a_take_without_times_has_no_picture() {
        let (feet, flights, ticks) = (Vec::new(), Vec::new(), Vec::new());
        let lane = Lane { seconds: 0.0, feet, flights, ticks, legend: String::new(), spoken: String::new() };
        assert_eq!(large("l", "A take", &lane).into_string(), "");
    }
}
