//! Smooth curves through given points.

/// Cubic from `from` to `to` with given slopes at both ends, over a duration,
/// at time `t` from its start (the Hermite form).
pub(super) fn cubic(from: f64, slope_from: f64, to: f64, slope_to: f64, duration: f64, t: f64) -> f64 {
    let s = t / duration;
    let (s2, s3) = (s * s, s * s * s);
    from * (2.0 * s3 - 3.0 * s2 + 1.0)
        + slope_from * duration * (s3 - 2.0 * s2 + s)
        + to * (3.0 * s2 - 2.0 * s3)
        + slope_to * duration * (s3 - s2)
}

/// Curve through knots (time, value), with given slopes at both ends. The slope
/// at an inner knot is that between its neighbours.
pub(super) fn through(knots: &[(f64, f64)], slope_first: f64, slope_last: f64, t: f64) -> f64 {
    let last = knots.len() - 1;
    let slope = |at: usize| match at {
        0 => slope_first,
        at if at == last => slope_last,
        at => (knots[at + 1].1 - knots[at - 1].1) / (knots[at + 1].0 - knots[at - 1].0),
    };
    let piece = knots[1..last].iter().take_while(|(time, _)| *time <= t).count();
    let ((t0, y0), (t1, y1)) = (knots[piece], knots[piece + 1]);
    cubic(y0, slope(piece), y1, slope(piece + 1), t1 - t0, t - t0)
}

/// 0 up to `from`, 1 beyond `to`, smooth between.
pub(super) fn ramp(from: f64, to: f64, t: f64) -> f64 {
    let s = ((t - from) / (to - from)).clamp(0.0, 1.0);
    s * s * (3.0 - 2.0 * s)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_curve_meets_its_knots_and_end_slopes() {
        let knots = [(0.0, 1.0), (0.2, 3.0), (0.5, -1.0), (1.0, 2.0)];
        let at = |t| through(&knots, 4.0, -3.0, t);
        for (t, y) in knots {
            assert!((at(t) - y).abs() < 1e-12, "{t}");
        }
        let h = 1e-6;
        assert!(((at(h) - at(0.0)) / h - 4.0).abs() < 1e-3);
        assert!(((at(1.0) - at(1.0 - h)) / h + 3.0).abs() < 1e-3);
    }
}
