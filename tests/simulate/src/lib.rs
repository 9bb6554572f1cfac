//! Many devices with real books in one process. One number decides everything
//! that happens to them: who writes, who meets whom, which message is lost, when a
//! process dies. After every step, and when all is quiet, what must hold is checked.
//!
//! The books draw salts, nonces and members' ids from the system, so hashes differ
//! between two runs of a seed; the plan picks by number and never by
//! hash. What a hash decides by the rules themselves (which of two branches of one
//! log is senior) is the one thing that may go either way.
//!
//! A failing seed is made small and told in words: [`run`].

mod check;
mod device;
mod meeting;
mod plan;
mod trace;
mod world;

pub use trace::{Failure, run};
pub use world::Violation;
