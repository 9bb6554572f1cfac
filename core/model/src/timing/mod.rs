//! Events on a clip → contact and flight times with their uncertainty.
//!
//! An event (touchdown, toe-off) is not a frame but a [`Bracket`]: it lies
//! between the last frame surely before it and the first frame surely after
//! it. A duration is the difference of two brackets' midpoints. Steady rates,
//! varying rates, dropped frames and doubtful frames are then one rule.
//!
//! * [`event`]: marks on frames → events.
//! * [`duration`]: two events → a [`Timed`] duration, and means of several.
//! * [`take`]: the ordered events of one clip → its contacts and flights.
//! * [`calibration`]: the scale of a clip whose clock is unknown, measured in the clip.
//! * [`moves`]: the same events → stances, steps with their rates, and moves.
//! * [`rebound`]: reactive strength of a contact and the flight after it.
//! * [`series`]: the contacts of one set → whether they lengthen.
//! * [`decision`]: what may be said of a time: below a target, changed, or that this
//!   camera cannot tell, and what would.
//! * [`next`]: the event to mark next, by the exercise's series.
//! * [`target`]: the contact time to come below.
//! * [`agreement`]: two people's readings of one clip → how far they agree.

pub mod agreement;
pub mod calibration;
pub mod decision;
pub mod duration;
pub mod event;
pub mod moves;
pub mod next;
pub mod rebound;
pub mod series;
pub mod take;
pub mod target;

pub use duration::{Scale, Timed, contact, flight, mean, rounded};
pub use event::{Bracket, Event, EventKind, Foot, TimingError};
pub use rebound::{
    GRAVITY, ReactiveStrength, Rebound, mean_reactive_strength, reactive_strength, rebounds,
    shared_covariance,
};
pub use take::{Contact, Flight, Take};
