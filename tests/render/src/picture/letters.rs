//! The few letters that are burnt in, five by seven dots each.

use super::canvas::{Canvas, Colour};

/// Columns from one letter to the next, in dots.
const ADVANCE: usize = 6;

/// Writes a text with its upper left corner at (x, y), each dot `dot` pixels
/// wide and high. A character without a shape here stays blank.
pub(super) fn write(canvas: &mut Canvas, x: usize, y: usize, dot: usize, colour: Colour, text: &str) {
    for (place, letter) in text.chars().enumerate() {
        for (row, dots) in shape(letter).into_iter().enumerate() {
            for column in (0..5).filter(|column| dots >> (4 - column) & 1 == 1) {
                let left = (x + (place * ADVANCE + column) * dot) as f64;
                let top = (y + row * dot) as f64;
                let size = dot as f64;
                canvas.rectangle(left, top, left + size, top + size, colour);
            }
        }
    }
}

/// Rows from the top, the highest of five bits left.
fn shape(letter: char) -> [u8; 7] {
    match letter {
        '0' => [0b01110, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b01110],
        '1' => [0b00100, 0b01100, 0b00100, 0b00100, 0b00100, 0b00100, 0b01110],
        '2' => [0b01110, 0b10001, 0b00001, 0b00110, 0b01000, 0b10000, 0b11111],
        '3' => [0b01110, 0b10001, 0b00001, 0b00110, 0b00001, 0b10001, 0b01110],
        '4' => [0b00010, 0b00110, 0b01010, 0b10010, 0b11111, 0b00010, 0b00010],
        '5' => [0b11111, 0b10000, 0b11110, 0b00001, 0b00001, 0b10001, 0b01110],
        '6' => [0b00110, 0b01000, 0b10000, 0b11110, 0b10001, 0b10001, 0b01110],
        '7' => [0b11111, 0b00001, 0b00010, 0b00010, 0b00100, 0b00100, 0b00100],
        '8' => [0b01110, 0b10001, 0b10001, 0b01110, 0b10001, 0b10001, 0b01110],
        '9' => [0b01110, 0b10001, 0b10001, 0b01111, 0b00001, 0b00010, 0b01100],
        'D' => [0b11110, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b11110],
        'E' => [0b11111, 0b10000, 0b10000, 0b11110, 0b10000, 0b10000, 0b11111],
        'N' => [0b10001, 0b11001, 0b10101, 0b10101, 0b10011, 0b10001, 0b10001],
        'R' => [0b11110, 0b10001, 0b10001, 0b11110, 0b10100, 0b10010, 0b10001],
        _ => [0; 7],
    }
}
