//! What can be written down, read from a clip, and computed from both.
//!
//! This crate is pure: it knows no clock, no randomness, no files and no
//! network. Readers are handed in, results are handed out.
//!
//! * [`cbor`]: the deterministic subset of CBOR in which facts are written.
//! * [`facts`]: everything a person can write down, with its ranges.
//! * [`clip`]: frame times of an MP4 or QuickTime file, and its clock.
//! * [`timing`]: events on a clip → contact and flight times with uncertainty.
//! * [`suggest`]: the brightness of frames → suggested events.
//! * [`plate`]: a force plate's record → contacts and flights, beside those of a clip.
//! * [`load`]: exercises, and the landing and push of every contact.
//! * [`import`]: a training log out of a spreadsheet.
//! * [`table`]: a table in text, as a spreadsheet saves it.
//! * [`jump`]: attempts at the event jumps: distance, wind, phases, bests, the board.

pub mod cbor;
pub mod clip;
pub mod facts;
pub mod import;
pub mod jump;
pub mod load;
pub mod plate;
pub mod suggest;
pub mod table;
pub mod timing;
