//! Attempts at the long and the triple jump → what they say together.
//!
//! An attempt is a fact, [`Jump`](crate::facts::Jump), in whole millimetres and mm/s;
//! nothing here is stored. Distances, winds and phases are compared as integers, so that
//! 7.29 m is 7.29 m; only means, spreads and their intervals are floats.
//!
//! * [`distance`]: the official distance, what the board cost, the effective distance.
//! * [`wind`]: the reading, and whether a distance can be a record with it.
//! * [`phase`]: shares and class of a triple jump's phases, contact times and speed.
//! * [`history`]: attempts by run-up, bests, and which of them are alike.
//! * [`mean`]: a mean with the interval of Student's t.
//! * [`reading`]: toe and wind from text, exact.
//! * [`training`]: the contacts that an attempt adds to a day's training.
//! * [`board`]: where the toe was at take-off, and how far to shift the start mark.

pub mod board;
pub mod distance;
pub mod history;
pub mod mean;
pub mod phase;
pub mod reading;
pub mod training;
pub mod wind;
