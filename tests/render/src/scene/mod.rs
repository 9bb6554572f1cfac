//! Scenes for measuring: a figure before a tripod's camera, everything of it
//! chosen by a seed.
//!
//! What differs from seed to seed: the exercise and its times, the figure's
//! proportions, girth, clothes and shoes, the width of the field, how much the
//! camera looks down, wall, clutter and ground behind, a shadow on the ground,
//! flickering light, somebody who walks by behind, exposure (blur), sensor
//! noise, frame rate and compression. They are drawings all the same; see the
//! README for what they lack.

mod backdrop;
pub mod film;
mod shadow;

use crate::dice::Dice;
use crate::motion::series::{Exercise, Series};
use crate::motion::{Motion as _, Point};
use crate::picture::canvas::{Canvas, Colour};
use crate::picture::figure::{self, Body};
use crate::picture::{HEIGHT, View, WIDTH};
use shadow::Sun;

/// Pictures averaged over the time the shutter is open.
const EXPOSURES: u32 = 6;

/// How near to the edge of the picture a foot may stand, m, to count as seen.
const FOOT_SEEN: f64 = 0.32;

/// How near to the edge of the picture, m, it may yet be half seen.
const FOOT_UNSEEN: f64 = 0.25;

/// Frames at both ends of a clip in which nobody could say more of an event
/// than that it is near: too little of the foot on one side of it is seen.
const EDGE: u32 = 10;

/// What the picture's quality depends on.
#[derive(Clone, Copy, Debug)]
pub struct Quality {
    /// Share of the time from frame to frame for which the shutter is open.
    pub exposure: f64,
    /// Standard deviation of the sensor's noise, in 8-bit steps.
    pub noise: f64,
    /// Constant rate factor of x264: larger is worse.
    pub crf: u32,
}

/// One scene.
pub struct Scene {
    /// What made it.
    pub seed: u64,
    /// What the figure does.
    pub exercise: Exercise,
    /// Frames a second.
    pub rate_hz: u32,
    /// How many frames.
    pub frames: u32,
    /// What the picture's quality depends on.
    pub quality: Quality,
    series: Series,
    body: Body,
    view: View,
    sun: Option<Sun>,
    flicker: Flicker,
    walker: Option<Walker>,
    backdrop: Canvas,
}

/// The frames beside an event: the last one before it and the first one at or
/// after it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnownEvent {
    /// True for a touchdown, false for a toe-off.
    pub touchdown: bool,
    /// The last frame before it.
    pub before: u32,
    /// The first frame at or after it.
    pub after: u32,
    /// Whether the whole foot is in the picture; of a foot half in it neither a
    /// suggestion nor its absence is wrong.
    pub seen: bool,
    /// Column of the tip of the foot.
    pub column: f64,
}

/// Lamps on alternating current.
#[derive(Clone, Copy, Debug)]
struct Flicker {
    share: f64,
    hz: f64,
}

/// Somebody behind, whose feet do not matter.
#[derive(Clone, Copy, Debug)]
struct Walker {
    from: f64,
    speed: f64,
    /// How much higher in the picture the walker's ground is, m.
    higher: f64,
    shade: Colour,
}

impl Scene {
    /// The scene of a seed.
    #[must_use]
    pub fn of(seed: u64) -> Self {
        let mut dice = Dice::new(seed, 0x5cee);
        let exercise =
            [Exercise::Pogo, Exercise::Hops, Exercise::Bounds, Exercise::Run][(dice.bits() % 4) as usize];
        let rate_hz = if dice.chance(0.5) { 240 } else { 120 };
        let field = dice.between(3.2, 5.5);
        let scale = WIDTH as f64 / field;
        let mut body = body(&mut dice);
        let leg = body.thigh + body.shank;
        // Steps begin so long before and end so long after.
        let duration = match exercise {
            Exercise::Pogo => dice.between(1.4, 2.2),
            _ => 2.4,
        };
        let series = Series::new(seed, exercise, duration, leg * 0.97);
        let crossing = series.along(1.0) * duration;
        // The figure crosses the field, or is in it all the time.
        let (duration, middle) = if crossing < field {
            (duration, crossing / 2.0)
        } else {
            let speed = series.along(1.0);
            let in_view = (field + 1.6) / speed + dice.between(0.0, 0.3);
            let duration = in_view.min(duration);
            (duration, speed * duration / 2.0)
        };
        let looks_down = dice.between(0.04, 0.22);
        body.far_foot_higher = 0.16 * looks_down;
        let view = View { middle, ground_row: dice.between(270.0, 325.0).floor(), scale };
        let sun = Sun::shines(&mut dice, looks_down);
        let flicker = Flicker {
            share: if dice.chance(0.3) { dice.between(0.01, 0.05) } else { 0.0 },
            hz: if dice.chance(0.5) { 100.0 } else { 119.88 },
        };
        let walker = dice.chance(0.2).then(|| Walker {
            from: middle + dice.between(-1.5, 0.0),
            speed: dice.between(0.6, 1.5),
            higher: dice.between(0.18, 0.35),
            shade: grey(dice.between(30.0, 220.0)),
        });
        let quality = Quality {
            exposure: dice.between(0.08, 0.9),
            noise: dice.between(0.8, 4.5),
            crf: 18 + (dice.bits() % 13) as u32,
        };
        let sole = f64::from(body.sole.shade());
        let backdrop = backdrop::draw(&mut dice, &view, looks_down, sole);
        let frames = (duration * f64::from(rate_hz)) as u32;
        Self { seed, exercise, rate_hz, frames, quality, series, body, view, sun, flicker, walker, backdrop }
    }

    /// The row at whose upper edge the nearer foot stands.
    #[must_use]
    pub fn ground_row(&self) -> f64 {
        self.view.ground_row
    }

    /// The events that lie between two frames of the clip, in order.
    #[must_use]
    pub fn events(&self) -> Vec<KnownEvent> {
        let mut events = Vec::new();
        for (touchdown, t, print) in self.series.events().filter(|(_, t, _)| *t > 0.0) {
            // Microseconds, as the series has them; within a clip they fit.
            let after = first_frame_from((t * 1e6).round() as u32, self.rate_hz);
            let inside = self.room_to_edge(print);
            if after >= 1 && after < self.frames && inside > -FOOT_UNSEEN {
                events.push(KnownEvent {
                    touchdown,
                    before: after - 1,
                    after,
                    seen: inside > FOOT_SEEN && (EDGE..self.frames - EDGE).contains(&after),
                    column: self.view.pixel(Point::new(print, 0.0)).0,
                });
            }
        }
        events
    }

    /// How far inside the picture a foot stands whose tip is at `print`, m.
    fn room_to_edge(&self, print: f64) -> f64 {
        let half = WIDTH as f64 / self.view.scale / 2.0;
        half - (print - self.view.middle).abs()
    }

    /// Draws a frame: rows from the top, one byte of brightness a pixel.
    ///
    /// The shutter opens and closes evenly around frame / rate.
    #[must_use]
    pub fn draw(&self, frame: u32) -> Vec<u8> {
        let mut sum = vec![0.0_f32; WIDTH * HEIGHT];
        for exposure in 0..EXPOSURES {
            let share = (f64::from(exposure) + 0.5) / f64::from(EXPOSURES) - 0.5;
            let t = (f64::from(frame) + share * self.quality.exposure) / f64::from(self.rate_hz);
            let mut canvas = self.backdrop.clone();
            if let Some(walker) = &self.walker {
                walker.draw(&mut canvas, &self.view, t);
            }
            let pose = self.series.pose(t);
            if let Some(sun) = &self.sun {
                sun.cast(&mut canvas, &self.view, &self.body, &pose);
            }
            figure::draw(&mut canvas, &self.view, &self.body, &pose);
            for (sum, shade) in sum.iter_mut().zip(canvas.shades()) {
                *sum += shade;
            }
        }
        let t = f64::from(frame) / f64::from(self.rate_hz);
        let light = 1.0 + self.flicker.share * (std::f64::consts::TAU * self.flicker.hz * t).sin();
        let light = light as f32 / EXPOSURES as f32;
        let deviation = self.quality.noise as f32;
        let mut dice = Dice::new(self.seed, 0x0015_e000 + u64::from(frame));
        // Held to 0–255.
        sum.into_iter().map(|sum| (sum * light + dice.normal() * deviation).round() as u8).collect()
    }
}

/// The first frame at or after an instant, in whole numbers so that no
/// rounding decides.
fn first_frame_from(instant_us: u32, rate_hz: u32) -> u32 {
    let frames_e6 = u64::from(instant_us) * u64::from(rate_hz);
    u32::try_from(frames_e6.div_ceil(1_000_000)).unwrap_or(u32::MAX)
}

fn grey(shade: f64) -> Colour {
    // Held to 0–255.
    let shade = shade.round() as u8;
    Colour::new(shade, shade, shade)
}

fn body(dice: &mut Dice) -> Body {
    let size = dice.between(0.88, 1.08);
    let legs = dice.between(0.95, 1.05);
    let clothes = dice.between(25.0, 230.0);
    let skin = dice.between(60.0, 210.0);
    let shoe = dice.between(20.0, 240.0);
    Body {
        thigh: 0.46 * size * legs,
        shank: 0.46 * size * legs,
        trunk: 0.50 * size,
        upper_arm: 0.28 * size,
        forearm: 0.25 * size,
        girth: dice.between(0.8, 1.25),
        far_foot_higher: 0.0,
        near_side: grey(skin),
        far_side: grey(skin * 0.85),
        clothes: grey(clothes),
        left_shoe: grey(shoe * 0.9),
        right_shoe: grey(shoe),
        sole: grey(if dice.chance(0.5) { dice.between(15.0, 70.0) } else { dice.between(150.0, 245.0) }),
    }
}

impl Walker {
    fn draw(&self, canvas: &mut Canvas, view: &View, t: f64) {
        let x = self.from + self.speed * t;
        let at = |x: f64, y: f64| view.pixel(Point::new(x, y + self.higher));
        let stride = 0.28 * (t * 5.5).sin();
        canvas.stroke(at(x, 0.8), at(x + stride, 0.04), view.pixels(0.06), self.shade);
        canvas.stroke(at(x, 0.8), at(x - stride, 0.04), view.pixels(0.06), self.shade);
        canvas.stroke(at(x, 0.85), at(x, 1.35), view.pixels(0.13), self.shade);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scene_has_events_and_a_seed_makes_it_again() {
        for seed in 0..40 {
            let scene = Scene::of(seed);
            let events = scene.events();
            assert!(events.iter().filter(|event| event.seen).count() >= 2, "{seed}: {events:?}");
            assert!(events.is_sorted_by(|a, b| a.after <= b.after));
            assert!((70..700).contains(&scene.frames), "{seed}: {}", scene.frames);
        }
        assert_eq!(Scene::of(5).draw(20), Scene::of(5).draw(20));
        assert_ne!(Scene::of(5).draw(20), Scene::of(6).draw(20));
    }

    /// The pixels right above the ground at the tip change at a touchdown.
    #[test]
    fn the_foot_is_where_it_is_said_to_be() {
        let scene = Scene::of(2);
        let event = scene.events().into_iter().find(|event| event.touchdown && event.seen).unwrap();
        let difference = |a: u32, b: u32| {
            let (a, b) = (scene.draw(a), scene.draw(b));
            let row = scene.ground_row() as usize - 2;
            let columns = event.column as usize - 8..event.column as usize;
            columns
                .map(|x| i32::from(a[row * WIDTH + x]).abs_diff(i32::from(b[row * WIDTH + x])))
                .sum::<u32>()
        };
        let on = event.after + 3;
        assert!(difference(event.before - 4, on) > 4 * difference(on, on + 1));
    }
}
