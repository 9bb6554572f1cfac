//! A force plate's record → contacts, flights and what they weigh.
//!
//! A plate sees what a camera cannot: the force itself. Its times depend on
//! one convention, the threshold, which is stated with every reading: the same
//! drop jump lasts 255 ms on the ground at 5 N and 244 at 50.
//!
//! * [`record`]: a table in text, one or several columns summed → a [`Record`].
//! * [`reading`]: a record and its [`Settings`] → a [`Reading`].
//! * [`weight`]: body weight from quiet standing.
//! * [`compare`](mod@compare): contacts of a take beside those of the plate.
//!
//! Nothing is filtered and nothing is guessed: no offset is taken off unasked,
//! and no contact is longer than what the record shows of it.

pub mod compare;
pub mod error;
mod phase;
pub mod reading;
pub mod record;
mod table;
pub mod weight;

pub use compare::{Comparison, Filmed, Pair, compare};
pub use error::{CompareError, ReadingError, RecordError};
pub use reading::{Contact, CutContact, Flight, Offset, Reading, Settings};
pub use record::{Column, Record};
pub use weight::{BodyWeight, Weight, WeightSource};
