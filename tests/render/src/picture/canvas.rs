//! Shapes with soft edges on a field of pixels.

use super::noise::Noise;

/// A colour, 0–255 each for red, green and blue (sRGB).
#[derive(Clone, Copy, Debug)]
pub struct Colour([f32; 3]);

impl Colour {
    /// A colour from its three parts.
    #[must_use]
    pub const fn new(red: u8, green: u8, blue: u8) -> Self {
        Self([red as f32, green as f32, blue as f32])
    }

    /// The brightness of a grey.
    pub(crate) fn shade(self) -> f32 {
        self.0[0]
    }

    /// Luma as 8-bit video stores it, 16 (black) to 235 (white): ITU-R BT.601,
    /// which is what applies to a picture of this size.
    #[must_use]
    pub fn luma(self) -> f64 {
        let [red, green, blue] = self.0.map(f64::from);
        16.0 + 219.0 / 255.0 * (0.299 * red + 0.587 * green + 0.114 * blue)
    }
}

/// A picture while it is drawn. Pixel (x, y) covers the square from its whole
/// numbers to the next.
#[derive(Clone)]
pub(crate) struct Canvas {
    width: usize,
    height: usize,
    pixels: Vec<[f32; 3]>,
}

impl Canvas {
    pub(crate) fn new(width: usize, height: usize, colour: Colour) -> Self {
        Self { width, height, pixels: vec![colour.0; width * height] }
    }

    pub(crate) fn width(&self) -> usize {
        self.width
    }

    pub(crate) fn height(&self) -> usize {
        self.height
    }

    /// The shades of a picture in greys, row by row.
    pub(crate) fn shades(&self) -> impl Iterator<Item = f32> {
        self.pixels.iter().map(|[shade, _, _]| *shade)
    }

    /// Multiplies by `left` where `cover` is white, by 1 where it is black.
    pub(crate) fn darken(&mut self, cover: &Self, left: f64) {
        for (pixel, cover) in self.pixels.iter_mut().zip(cover.shades()) {
            let light = 1.0 - cover / 255.0 * (1.0 - left as f32);
            for value in pixel {
                *value *= light;
            }
        }
    }

    /// A stroke from `a` to `b` with round ends.
    pub(crate) fn stroke(&mut self, a: (f64, f64), b: (f64, f64), radius: f64, colour: Colour) {
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let length2 = dx * dx + dy * dy;
        self.fill(
            a.0.min(b.0) - radius,
            a.1.min(b.1) - radius,
            a.0.max(b.0) + radius,
            a.1.max(b.1) + radius,
            colour,
            |x, y| {
                let along = if length2 > 0.0 {
                    (((x - a.0) * dx + (y - a.1) * dy) / length2).clamp(0.0, 1.0)
                } else {
                    0.0
                };
                let distance = (x - a.0 - along * dx).hypot(y - a.1 - along * dy);
                0.5 + radius - distance
            },
        );
    }

    /// A rectangle along the pixels.
    pub(crate) fn rectangle(&mut self, left: f64, top: f64, right: f64, bottom: f64, colour: Colour) {
        let share =
            |from: f64, to: f64, middle: f64| (to.min(middle + 0.5) - from.max(middle - 0.5)).max(0.0);
        self.fill(left, top, right, bottom, colour, |x, y| share(left, right, x) * share(top, bottom, y));
    }

    /// Mixes in a colour by the share of each pixel that a shape covers. The
    /// share is asked at pixel middles and held to 0–1.
    fn fill(
        &mut self,
        left: f64,
        top: f64,
        right: f64,
        bottom: f64,
        colour: Colour,
        covered: impl Fn(f64, f64) -> f64,
    ) {
        // `as` holds a float to what fits: what lies left of the picture or
        // above it is cut off here, the rest by `min`.
        let columns = (left - 1.0) as usize..((right + 2.0) as usize).min(self.width);
        let rows = (top - 1.0) as usize..((bottom + 2.0) as usize).min(self.height);
        for row in rows {
            for column in columns.clone() {
                let share = covered(column as f64 + 0.5, row as f64 + 0.5).clamp(0.0, 1.0) as f32;
                let pixel = &mut self.pixels[row * self.width + column];
                for (old, new) in pixel.iter_mut().zip(colour.0) {
                    *old += (new - *old) * share;
                }
            }
        }
    }

    /// The picture as bytes, noise added to the brightness of each pixel.
    pub(super) fn into_bytes(self, noise: &mut Noise) -> Vec<u8> {
        self.pixels
            .iter()
            .flat_map(|pixel| {
                let noise = noise.next_pixel();
                // Held to 0–255.
                pixel.map(|value| (value + noise).round() as u8)
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BLACK: Colour = Colour::new(0, 0, 0);
    const WHITE: Colour = Colour::new(255, 255, 255);

    #[test]
    fn a_flat_edge_covers_its_exact_share() {
        let mut canvas = Canvas::new(20, 20, WHITE);
        // Underside at y = 10.25: a quarter of row 10.
        canvas.stroke((4.0, 7.25), (16.0, 7.25), 3.0, BLACK);
        let row = |y: usize| canvas.pixels[y * 20 + 10][0];
        assert_eq!(row(9), 0.0);
        assert!((row(10) - 0.75 * 255.0).abs() < 0.01);
        assert_eq!(row(11), 255.0);
    }

    #[test]
    fn what_lies_beyond_the_picture_is_cut_off() {
        let mut canvas = Canvas::new(8, 8, WHITE);
        canvas.rectangle(-100.0, -50.0, 500.0, 2.0, BLACK);
        canvas.stroke((-30.0, 900.0), (-30.0, 900.0), 5.0, BLACK);
        assert_eq!(canvas.pixels[8 + 7][0], 0.0);
        assert_eq!(canvas.pixels[2 * 8][0], 255.0);
    }
}
