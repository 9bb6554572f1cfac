//! What stands still: wall or sky, clutter, ground.

use super::grey;
use crate::dice::Dice;
use crate::motion::Point;
use crate::picture::canvas::Canvas;
use crate::picture::{HEIGHT, View, WIDTH};

/// Least difference of the ground's shade from the sole's: below it nobody
/// sees the foot either.
const LEAST_CONTRAST: f64 = 22.0;

/// Draws it. `sole` is the shade of the soles that will stand on the ground.
pub(super) fn draw(dice: &mut Dice, view: &View, looks_down: f64, sole: f64) -> Canvas {
    let (width, height) = (WIDTH as f64, HEIGHT as f64);
    let wall = dice.between(70.0, 245.0);
    let mut canvas = Canvas::new(WIDTH, HEIGHT, grey(wall));
    // The ground reaches up to where it meets the wall behind.
    let edge = view.ground_row - view.pixels(looks_down) * dice.between(1.0, 3.0);
    let fade = dice.between(-50.0, 50.0);
    for row in 0..HEIGHT {
        let row = row as f64;
        canvas.rectangle(0.0, row, width, row + 1.0, grey(wall + fade * (row / height - 0.5)));
    }
    for _ in 0..dice.bits() % 14 {
        let left = dice.between(-60.0, width);
        let right = left + dice.between(4.0, 120.0);
        let top = dice.between(0.0, edge);
        let bottom = if dice.chance(0.5) { edge } else { top + dice.between(4.0, 80.0) };
        canvas.rectangle(left, top, right, bottom.min(edge), grey(dice.between(40.0, 245.0)));
    }
    let ground = loop {
        let shade = dice.between(60.0, 215.0);
        if (shade - sole).abs() >= LEAST_CONTRAST {
            break shade;
        }
    };
    canvas.rectangle(0.0, edge, width, height, grey(ground));
    // Lines of lanes, and marks across.
    let line = grey(ground + dice.between(15.0, 60.0));
    if dice.chance(0.5) {
        let row = view.ground_row + dice.between(-12.0, 20.0);
        canvas.rectangle(0.0, row, width, row + dice.between(1.5, 6.0), line);
    }
    if dice.chance(0.4) {
        for x in view.every(1.0) {
            let (x, row) = view.pixel(Point::new(x, 0.0));
            canvas.rectangle(x - 1.5, row - 4.0, x + 1.5, row + 14.0, line);
        }
    }
    // Grain of the ground: blotches a few pixels wide.
    let grain = dice.between(0.0, 9.0);
    for _ in 0..2500 {
        let (x, y) = (dice.between(0.0, width), dice.between(edge, height));
        let blotch = grey(ground + grain * f64::from(dice.normal()));
        canvas.rectangle(x, y, x + dice.between(1.0, 7.0), (y + dice.between(1.0, 3.0)).max(edge), blotch);
    }
    canvas
}
