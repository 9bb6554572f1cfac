//! One frame of a clip: background, figure, what is burnt in, sensor noise.

pub(crate) mod canvas;
pub(crate) mod figure;
mod letters;
mod noise;

pub use canvas::Colour;

use crate::clip::Clip;
use crate::motion::Point;
use canvas::Canvas;

/// Width of the picture, in pixels.
pub const WIDTH: usize = 640;

/// Height of the picture, in pixels.
pub const HEIGHT: usize = 360;

/// The first row of the ground line. A sole on the ground fills the row above
/// it to the edge.
pub const GROUND_ROW: usize = 316;

/// Background above the ground.
pub const BACKGROUND: Colour = Colour::new(0xf4, 0xf2, 0xec);

/// Soles of both shoes: dark against the background and the ground line.
pub const SOLE: Colour = Colour::new(0x16, 0x16, 0x1a);

/// The left shoe.
pub const LEFT_SHOE: Colour = Colour::new(0x00, 0x72, 0xb2);

/// The right shoe.
pub const RIGHT_SHOE: Colour = Colour::new(0xd5, 0x5e, 0x00);

const GROUND_LINE: Colour = Colour::new(0x8c, 0x86, 0x7a);
const GROUND: Colour = Colour::new(0xd9, 0xd3, 0xc6);
const POST: Colour = Colour::new(0xe6, 0xe2, 0xd8);
const INK: Colour = Colour::new(0x40, 0x40, 0x44);

const GROUND_LINE_ROWS: usize = 3;

/// Pixels a metre.
const SCALE: f64 = 150.0;

/// Draws a frame.
///
/// Rows from the top, pixels from the left, three bytes (red, green, blue) a
/// pixel. The same frame of the same clip is always the same bytes.
#[must_use]
pub fn draw(clip: &Clip, frame: u32) -> Vec<u8> {
    let t = clip.instant(frame);
    let view = View::of_clip(clip.motion.camera(t));
    let mut canvas = Canvas::new(WIDTH, HEIGHT, BACKGROUND);
    draw_posts(&mut canvas, &view);
    figure::draw(&mut canvas, &view, &figure::USUAL, &clip.motion.pose(t));
    // The ground comes last: nothing of a shoe covers its line.
    draw_ground(&mut canvas, &view);
    letters::write(&mut canvas, 12, 12, 2, INK, &format!("{frame:04}"));
    letters::write(&mut canvas, WIDTH - 108, 12, 2, INK, "RENDERED");
    canvas.into_bytes(&mut noise::Noise::new(frame))
}

/// From metres to pixels of a picture of [`WIDTH`] by [`HEIGHT`].
#[derive(Clone, Copy, Debug)]
pub(crate) struct View {
    /// Where the middle of the picture lies along the ground, m.
    pub(crate) middle: f64,
    /// The row at whose upper edge the ground is.
    pub(crate) ground_row: f64,
    /// Pixels a metre.
    pub(crate) scale: f64,
}

impl View {
    fn of_clip(middle: f64) -> Self {
        Self { middle, ground_row: GROUND_ROW as f64, scale: SCALE }
    }

    pub(crate) fn pixel(&self, point: Point) -> (f64, f64) {
        ((point.x - self.middle) * self.scale + WIDTH as f64 / 2.0, self.ground_row - point.y * self.scale)
    }

    pub(crate) fn pixels(&self, metres: f64) -> f64 {
        metres * self.scale
    }

    /// The whole multiples of `step` metres in the picture, and a bit beyond.
    pub(crate) fn every(&self, step: f64) -> impl Iterator<Item = f64> {
        let half = WIDTH as f64 / self.scale / 2.0 + 0.5;
        let first = ((self.middle - half) / step).ceil() as i64;
        let last = ((self.middle + half) / step).floor() as i64;
        (first..=last).map(move |n| n as f64 * step)
    }
}

/// Faint posts behind the figure, which show how the camera turns.
fn draw_posts(canvas: &mut Canvas, view: &View) {
    for x in view.every(2.0) {
        let (left, top) = view.pixel(Point::new(x - 0.03, 1.1));
        let (right, bottom) = view.pixel(Point::new(x + 0.03, 0.0));
        canvas.rectangle(left, top, right, bottom, POST);
    }
}

/// The ground, its line, and a mark each metre below it.
fn draw_ground(canvas: &mut Canvas, view: &View) {
    let (width, height) = (WIDTH as f64, HEIGHT as f64);
    let line = GROUND_ROW as f64;
    let ground = (GROUND_ROW + GROUND_LINE_ROWS) as f64;
    canvas.rectangle(0.0, ground, width, height, GROUND);
    for x in view.every(1.0) {
        let (middle, _) = view.pixel(Point::new(x, 0.0));
        canvas.rectangle(middle - 1.0, ground, middle + 1.0, ground + 10.0, GROUND_LINE);
    }
    canvas.rectangle(0.0, line, width, ground, GROUND_LINE);
}
