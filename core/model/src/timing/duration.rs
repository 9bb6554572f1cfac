//! Two events → a duration with its uncertainty.
//!
//! With brackets a and b wide, each event is taken as uniform in its bracket,
//! so the error of the difference of the midpoints is a trapezoid (of equal
//! widths a triangle): u² = (a² + b²)/12, |error| ≤ (a + b)/2. JCGM 100:2008
//! (GUM) 4.3.7, 4.3.9 and F.2.2.1 (clause numbers from memory).
//!
//! Where a clip's times were rounded to ticks, each stamp is off by up to half a
//! tick. A midpoint is the mean of two stamps, so an event has q²/24 of it and a
//! duration q²/12, with q the tick; the error of a duration is at most q.
//!
//! Beside these stand two terms that do not shrink with more contacts: the scale
//! of the clock, and the judging of the events by eye.

use super::event::{Event, EventKind, TimingError};
use crate::clip::Pace;
use crate::facts;

/// The normal quantile for 95 %, two-sided.
pub(super) const NORMAL_95: f64 = 1.959_963_984_540_054;

/// The relative standard uncertainty of a clock that was not measured.
const CLOCK_U: f64 = 0.001;

/// What turns ticks into seconds, and the terms beside the frames.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Real seconds a tick.
    pub pace: Pace,
    /// One ordinary frame in ticks: the median step of the clip.
    pub frame_ticks: i64,
    /// Whether the times were rounded to ticks: see [`rounded`].
    pub rounded: bool,
    /// Relative standard uncertainty of the clock. Default 0.001; ours, with
    /// no source.
    pub clock_u: f64,
    /// Half-width of the judging at each event, in frames, taken as uniform.
    /// Default 1; ours, with no source. A squad's own measured agreement
    /// replaces it.
    pub judging_frames: f64,
}

impl Scale {
    /// With the default clock and judging terms, and times that fall on ticks.
    pub fn new(pace: Pace, frame_ticks: i64) -> Self {
        Self { pace, frame_ticks, rounded: false, clock_u: CLOCK_U, judging_frames: 1.0 }
    }

    /// As a take was written down, with the default judging.
    pub fn of(take: &facts::Take) -> Self {
        Self {
            rounded: take.rounded,
            clock_u: take.clock_ppm.map_or(CLOCK_U, |ppm| f64::from(ppm) / 1e6),
            ..Self::new(take.pace, i64::from(take.frame_ticks))
        }
    }

    /// One tick in real seconds where the times were rounded to ticks, else 0.
    pub(super) fn tick(&self) -> f64 {
        if self.rounded { self.seconds(1) } else { 0.0 }
    }

    /// Ticks as real seconds.
    pub fn seconds(&self, ticks: i64) -> f64 {
        self.half_ticks(i128::from(ticks) * 2)
    }

    /// One ordinary frame in real seconds.
    pub fn frame_seconds(&self) -> f64 {
        self.seconds(self.frame_ticks)
    }

    /// Half ticks as real seconds. The only step from integers to floats.
    fn half_ticks(&self, half_ticks: i128) -> f64 {
        half_ticks as f64 * self.pace.num as f64 / (2.0 * self.pace.den as f64)
    }

    /// Standard uncertainty of the judging of one event in seconds: 0 where
    /// the judge widened the bracket, which then holds it.
    pub(super) fn judging_u(&self, event: &Event) -> f64 {
        if event.doubted { 0.0 } else { self.judging_frames * self.frame_seconds() / 3_f64.sqrt() }
    }

    pub(super) fn check(&self) -> Result<(), TimingError> {
        let term = |value: f64| value.is_finite() && value >= 0.0;
        if self.frame_ticks > 0 && term(self.clock_u) && term(self.judging_frames) {
            Ok(())
        } else {
            Err(TimingError::BadScale)
        }
    }
}

/// A duration with the parts of its uncertainty, all in seconds.
///
/// `u`, `half_width_95` and `bound` hold frames, ticks and clock; `total_u` also
/// the judging.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timed {
    /// The duration: the difference of the midpoints.
    pub seconds: f64,
    /// Standard uncertainty of the frames alone.
    pub frame_u: f64,
    /// 95 % half-width of the frames alone.
    pub frame_half_width_95: f64,
    /// What the error of frames and ticks cannot exceed.
    pub frame_bound: f64,
    /// Standard uncertainty of times that were rounded to ticks.
    pub tick_u: f64,
    /// Standard uncertainty of the clock's scale.
    pub clock_u: f64,
    /// Standard uncertainty of the judging by eye.
    pub judging_u: f64,
}

impl Timed {
    /// Standard uncertainty of frames, ticks and clock.
    pub fn u(&self) -> f64 {
        self.frame_u.hypot(self.tick_u).hypot(self.clock_u)
    }

    /// 95 % half-width of frames, ticks and clock.
    pub fn half_width_95(&self) -> f64 {
        self.frame_half_width_95.hypot(NORMAL_95 * self.tick_u.hypot(self.clock_u))
    }

    /// Bound of frames, ticks and clock, the clock's term taken as rectangular with
    /// half-width √3·u.
    pub fn bound(&self) -> f64 {
        self.frame_bound + 3_f64.sqrt() * self.clock_u
    }

    /// Standard uncertainty of frames, ticks, clock and judging.
    pub fn total_u(&self) -> f64 {
        self.u().hypot(self.judging_u)
    }

    /// 95 % half-width of frames, ticks, clock and judging: 1.96 × the total, since
    /// a sum of several such terms is near normal.
    pub fn total_half_width_95(&self) -> f64 {
        NORMAL_95 * self.total_u()
    }
}

/// The contact from a touchdown to the toe-off of the same foot.
///
/// # Errors
/// [`TimingError`] where the events are of other kinds or feet, or the toe-off
/// does not lie after the touchdown.
pub fn contact(touchdown: &Event, toe_off: &Event, scale: &Scale) -> Result<Timed, TimingError> {
    kinds("contact", touchdown, EventKind::Touchdown, toe_off)?;
    if touchdown.foot != toe_off.foot {
        return Err(TimingError::OtherFoot { on: touchdown.foot, off: toe_off.foot });
    }
    between(touchdown, toe_off, scale)
}

/// The flight from a toe-off to the next touchdown, of any foot.
///
/// # Errors
/// [`TimingError`] where the events are of other kinds, or the touchdown does
/// not lie after the toe-off.
pub fn flight(toe_off: &Event, touchdown: &Event, scale: &Scale) -> Result<Timed, TimingError> {
    kinds("flight", toe_off, EventKind::ToeOff, touchdown)?;
    between(toe_off, touchdown, scale)
}

fn kinds(wanted: &'static str, early: &Event, from: EventKind, late: &Event) -> Result<(), TimingError> {
    let to = match from {
        EventKind::Touchdown => EventKind::ToeOff,
        EventKind::ToeOff => EventKind::Touchdown,
    };
    if early.kind == from && late.kind == to { Ok(()) } else { Err(TimingError::Kinds { wanted, from, to }) }
}

pub(super) fn between(early: &Event, late: &Event, scale: &Scale) -> Result<Timed, TimingError> {
    scale.check()?;
    // The frame that closes one bracket may open the next, no more.
    if late.bracket.before < early.bracket.after {
        return Err(TimingError::Order { earlier: early.kind, later: late.kind });
    }
    let half_ticks = late.bracket.midpoint_doubled() - early.bracket.midpoint_doubled();
    let seconds = scale.half_ticks(half_ticks);
    let a = scale.seconds(early.bracket.width());
    let b = scale.seconds(late.bracket.width());
    Ok(Timed {
        seconds,
        frame_u: a.hypot(b) / 12_f64.sqrt(),
        frame_half_width_95: trapezoid_half_width(a, b, 0.95),
        frame_bound: (a + b) / 2.0 + scale.tick(),
        tick_u: scale.tick() / 12_f64.sqrt(),
        clock_u: scale.clock_u * seconds,
        judging_u: scale.judging_u(early).hypot(scale.judging_u(late)),
    })
}

/// The half-width that holds `share` of the difference of two uniform errors,
/// `a` and `b` wide.
///
/// The tails beyond x hold ((a+b)/2 − x)²/(a·b) on the slopes of the
/// trapezoid; on its flat top, up to |a−b|/2, the middle holds 2x over the
/// wider width.
fn trapezoid_half_width(a: f64, b: f64, share: f64) -> f64 {
    let (narrow, wide) = if a < b { (a, b) } else { (b, a) };
    if (1.0 - share) * wide <= narrow {
        (a + b) / 2.0 - ((1.0 - share) * a * b).sqrt()
    } else {
        share * wide / 2.0
    }
}

/// The mean of several durations of one take. `None` where there are none.
///
/// Errors of frames and ticks are independent from one contact to the next and
/// shrink with √N. Judging leans one way for one judge, and the clock's scale is one, so
/// both stay what they are on average. The bound of a mean is the mean bound.
pub fn mean(durations: &[Timed]) -> Option<Timed> {
    let count = durations.len() as f64;
    let average = |part: fn(&Timed) -> f64| durations.iter().map(part).sum::<f64>() / count;
    let shrunk = |part: fn(&Timed) -> f64| {
        durations.iter().map(|timed| part(timed).powi(2)).sum::<f64>().sqrt() / count
    };
    let frame_u = shrunk(|timed| timed.frame_u);
    match durations {
        [] => None,
        [one] => Some(*one),
        _ => Some(Timed {
            seconds: average(|timed| timed.seconds),
            frame_u,
            // A sum of four or more uniform errors is near normal.
            frame_half_width_95: NORMAL_95 * frame_u,
            frame_bound: average(|timed| timed.frame_bound),
            tick_u: shrunk(|timed| timed.tick_u),
            clock_u: average(|timed| timed.clock_u),
            judging_u: average(|timed| timed.judging_u),
        }),
    }
}

/// Whether the times of a clip were rounded to ticks: leaving out dropped frames and
/// trims (1.5 times the usual step and more), the steps between its frames are not all
/// alike. A clip of 240 frames a second on 600 ticks is, with steps of 2 and 3 by turns.
pub fn rounded(frames: &[i64]) -> bool {
    let mut steps: Vec<i64> =
        frames.windows(2).filter_map(|pair| Some(pair.last()? - pair.first()?)).collect();
    steps.sort_unstable();
    let runs = steps.chunk_by(|a, b| a == b).map(|run| (run.len(), run.first().copied().unwrap_or(0)));
    let Some((often, usual)) = runs.max() else { return false };
    10 * often < 8 * steps.len() || steps.iter().any(|step| 2 * step < 3 * usual && *step != usual)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::timing::{Bracket, Foot};

    fn event(kind: EventKind, before: i64, after: i64) -> Event {
        Event { foot: Foot::Left, kind, bracket: Bracket::new(before, after).unwrap(), doubted: false }
    }

    fn milliseconds() -> Scale {
        Scale::new(Pace::new(1, 1000).unwrap(), 4)
    }

    fn near(one: f64, other: f64) {
        assert!((one - other).abs() < 1e-12, "{one} {other}");
    }

    #[test]
    fn unequal_brackets_make_a_trapezoid() {
        // Against the distribution written out on a fine grid.
        for (a, b) in [(4, 4), (4, 8), (4, 40), (4, 79), (4, 81), (4, 400), (9, 1)] {
            let half = trapezoid_half_width(f64::from(a), f64::from(b), 0.95);
            let (mut inside, mut all) = (0_u64, 0_u64);
            let steps = 2000;
            for i in 0..steps {
                // For one error x of the first event, the share of the second
                // event's errors within ±half of it.
                let x = (f64::from(i) + 0.5) / f64::from(steps) * f64::from(a) - f64::from(a) / 2.0;
                let reach = f64::from(b) / 2.0;
                let share = ((x + half).min(reach) - (x - half).max(-reach)).max(0.0);
                inside += (share / f64::from(b) * 1e9) as u64;
                all += 1_000_000_000;
            }
            let share = inside as f64 / all as f64;
            assert!((share - 0.95).abs() < 1e-5, "{a} {b}: {share}");
        }
    }

    #[test]
    fn a_contact_is_the_difference_of_midpoints() {
        let on = event(EventKind::Touchdown, 0, 4);
        let off = event(EventKind::ToeOff, 100, 108);
        let timed = contact(&on, &off, &milliseconds()).unwrap();
        near(timed.seconds, 0.102);
        near(timed.frame_u, (80_f64 / 12.0).sqrt() / 1000.0);
        near(timed.frame_bound, 0.006);
        near(timed.clock_u, 0.000_102);
        near(timed.judging_u, 0.004 * (2_f64 / 3.0).sqrt());
        near(timed.bound(), 0.006 + 3_f64.sqrt() * 0.000_102);
        assert!(timed.half_width_95() > timed.frame_half_width_95);
        assert!(timed.half_width_95() < timed.bound());
        near(timed.total_u().powi(2), timed.u().powi(2) + timed.judging_u.powi(2));
    }

    #[test]
    fn times_rounded_to_ticks_are_told_and_add_their_part() {
        assert!(!rounded(&[]) && !rounded(&[7]) && !rounded(&[7, 9]));
        let steady: Vec<i64> = (0..50).map(|n| n * 375).collect();
        assert!(!rounded(&steady));
        let dropped: Vec<i64> = steady.iter().copied().filter(|tick| tick % 3750 != 0).collect();
        assert!(!rounded(&dropped));
        // A clip that was trimmed at its beginning.
        assert!(!rounded(&[0, 29_281, 32_281, 35_281, 38_281, 41_281, 44_281]));
        // 240 frames a second on 600 ticks, on 1000 and on 360.
        for timescale in [600, 1000, 360] {
            let frames: Vec<i64> = (0..50).map(|n| n * timescale / 240).collect();
            assert!(rounded(&frames), "{timescale}");
        }
        let on = event(EventKind::Touchdown, 0, 4);
        let off = event(EventKind::ToeOff, 100, 104);
        let plain = contact(&on, &off, &milliseconds()).unwrap();
        let timed = contact(&on, &off, &Scale { rounded: true, ..milliseconds() }).unwrap();
        near(timed.tick_u, 0.001 / 12_f64.sqrt());
        near(timed.bound() - plain.bound(), 0.001);
        near(mean(&[timed; 4]).unwrap().bound(), timed.bound());
        near(timed.u().powi(2), plain.u().powi(2) + 1e-6 / 12.0);
        near(mean(&[timed; 4]).unwrap().tick_u, timed.tick_u / 2.0);
    }

    #[test]
    fn a_doubted_bracket_replaces_the_judging_of_its_event() {
        let on = Event { doubted: true, ..event(EventKind::Touchdown, 0, 8) };
        let off = event(EventKind::ToeOff, 100, 104);
        let timed = contact(&on, &off, &milliseconds()).unwrap();
        near(timed.judging_u, 0.004 / 3_f64.sqrt());
        let off = Event { doubted: true, ..off };
        near(contact(&on, &off, &milliseconds()).unwrap().judging_u, 0.0);
    }

    #[test]
    fn impossible_pairs_are_refused() {
        let scale = milliseconds();
        let on = event(EventKind::Touchdown, 4, 8);
        let off = event(EventKind::ToeOff, 8, 12);
        assert!(contact(&on, &off, &scale).is_ok());
        let early = event(EventKind::ToeOff, 7, 12);
        assert!(matches!(contact(&on, &early, &scale), Err(TimingError::Order { .. })));
        assert!(matches!(contact(&off, &on, &scale), Err(TimingError::Kinds { .. })));
        assert!(matches!(flight(&on, &off, &scale), Err(TimingError::Kinds { .. })));
        let other = Event { foot: Foot::Right, ..off };
        assert!(matches!(contact(&on, &other, &scale), Err(TimingError::OtherFoot { .. })));
        for bad in [f64::NAN, -1.0, f64::INFINITY] {
            let scale = Scale { clock_u: bad, ..scale };
            assert_eq!(contact(&on, &off, &scale), Err(TimingError::BadScale));
        }
        assert!(Bracket::new(5, 5).is_err());
    }

    #[test]
    fn a_mean_shrinks_in_its_frame_part_only() {
        let on = event(EventKind::Touchdown, 0, 4);
        let off = event(EventKind::ToeOff, 100, 104);
        let one = contact(&on, &off, &milliseconds()).unwrap();
        let ten = mean(&[one; 10]).unwrap();
        near(ten.seconds, one.seconds);
        near(ten.frame_u, one.frame_u / 10_f64.sqrt());
        near(ten.judging_u, one.judging_u);
        near(ten.clock_u, one.clock_u);
        assert_eq!(mean(&[one]), Some(one));
        assert_eq!(mean(&[]), None);
    }
}
