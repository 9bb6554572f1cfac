//! The sync conversation of two devices. It does no I/O: a carrier moves the
//! messages, a [`Replica`] keeps what they bring.
//!
//! The two sides speak in turn, one message each: the initiator begins, every
//! message is answered by one. So nothing can pile up, and neither side waits
//! for room that the other holds.
//!
//! ```text
//! Hello   ⇄ Hello      protocol range, squad, wall clock; a guest's secret
//! Have    ⇄ Have       heads of the squad-wide logs
//! Batch…  ⇄ Batch…     what the other lacks of them: authority first
//! Have    ⇄ Have       heads of the members' and the staff's logs the other may read
//! Batch…  ⇄ Batch…     consent is among them
//! Have    ⇄ Have       heads of the private logs that the other may read
//! Batch…  ⇄ Batch…
//! Receipt ⇄ Receipt    what each now has
//! Bye     ⇄ Bye
//! ```
//!
//! A `Batch` without segments means "nothing more for now"; when both sides have
//! said so, the initiator goes on. `Refuse` ends the conversation at any point
//! and tells the other side why.
//!
//! A device sends, lists and takes a log only where both sides may hold its scope,
//! by the authority that both have after the first round; its own logs it may
//! always show, but for what is private, also one that was removed: what it wrote late
//! can still be looked at, and it learns that it was removed.

mod conversation;
mod hand_over;
mod message;

pub use conversation::{Conversation, Progress, SyncError};
pub use hand_over::{Packing, Unpacking};
pub use message::{Batch, Have, Hello, Join, MAX_MESSAGE, Message, MessageError, PROTOCOL, Refusal, SECRET};

use pitside_model::facts::{DeviceKey, Head, LogId, Scope, SquadId};

use crate::authority::Standing;
use crate::entry::Body;
use crate::segment::{Segment, SegmentError};

/// What a guest's invitation is worth to the inviter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Admission {
    /// The guest was admitted.
    Admitted,
    /// The secret is not one of an open invitation.
    Unknown,
    /// It was, and its time is over by the inviter's clock.
    Expired,
    /// The inviter is no owner's device any more; the guest itself may have brought
    /// that news.
    NotOwner,
}

/// A log as it is held, or one branch of a log that was written twice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// Its last sealed entry.
    pub head: Head,
    /// The last entry up to which no body is lacking; `None` where the first is.
    pub whole: Option<Head>,
    /// The scope of the log.
    pub scope: Scope,
    /// The device of the log.
    pub device: DeviceKey,
}

/// How far another's head and a line that is held go together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Common {
    /// The head is held; the two are one up to this entry.
    UpTo(u64),
    /// The head lies further on than anything held of the log.
    Ahead,
    /// The head is not held, and another entry stands in its place: the log was
    /// written twice.
    Apart,
}

/// What a batch brought.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Taken {
    /// Entries that were new.
    pub new: u64,
    /// Logs of which this batch showed that they were written twice.
    pub forked: Vec<LogId>,
}

/// What a conversation reads from and writes to.
///
/// Its functions fail only where the store does.
#[allow(clippy::missing_errors_doc, reason = "said once, above")]
pub trait Replica {
    /// Why it could not.
    type Error: core::error::Error;

    /// This device.
    fn device(&self) -> DeviceKey;
    /// The squad, once it is known.
    fn squad(&self) -> Option<SquadId>;
    /// The squad that this device carries on by the recovery key, until it has its
    /// authority.
    fn recovers(&self) -> Option<SquadId>;
    /// What admits this device and the other may not have yet.
    fn credentials(&self) -> Result<Vec<Segment>, Self::Error>;
    /// Seals every own log up to its last entry.
    fn seal(&mut self) -> Result<(), Self::Error>;
    /// Where a device stands.
    fn standing(&self, device: DeviceKey) -> Result<Standing, Self::Error>;
    /// Whether a device may hold a log that `writer` wrote in a scope, by authority and
    /// the members' consent.
    fn may_hold(&self, device: DeviceKey, scope: Scope, writer: DeviceKey) -> Result<bool, Self::Error>;
    /// Every log as it is held, as far as it is sealed.
    fn lines(&self) -> Result<Vec<Line>, Self::Error>;
    /// Scope and device of a log, where it is held.
    fn log(&self, log: LogId) -> Result<Option<(Scope, DeviceKey)>, Self::Error>;
    /// How far a line, named by its head, and another's head go together.
    fn common(&self, line: &Head, theirs: &Head) -> Result<Common, Self::Error>;
    /// The segment after an entry of a line, up to the next seal; `None` at its end.
    fn segment_after(&self, line: &Head, seq: u64) -> Result<Option<Segment>, Self::Error>;
    /// Entries whose body is lacking though nobody withdrew it, a few hundred at most.
    fn lacking(&self) -> Result<Vec<Head>, Self::Error>;
    /// The body of an entry, where it is held.
    fn body(&self, entry: &Head) -> Result<Option<Body>, Self::Error>;
    /// Takes in a batch, segment by segment. Entries that are there already are
    /// passed over; a segment that diverges from what is held is a branch.
    ///
    /// # Errors
    /// The outer error where the store fails, the inner where a segment or body is
    /// refused; it is then kept aside with the reason, and what came before it stays.
    fn take_in(&mut self, batch: &Batch, from: DeviceKey)
    -> Result<Result<Taken, SegmentError>, Self::Error>;
    /// Looks a guest's invitation up, and admits the guest if it is open. The
    /// admission is sealed: a guest that called hears of it in this conversation.
    fn admit(&mut self, guest: DeviceKey, join: &Join) -> Result<Admission, Self::Error>;
    /// Makes this squad the book's, after its authority arrived; `false` where
    /// this device is not admitted in it.
    fn adopt(&mut self, squad: SquadId) -> Result<bool, Self::Error>;
    /// Keeps what the other side has whole.
    fn note_receipt(&mut self, peer: DeviceKey, heads: &[Head]) -> Result<(), Self::Error>;
    /// Keeps the other's wall clock minus ours, in milliseconds.
    fn note_clock(&mut self, peer: DeviceKey, apart_ms: i64) -> Result<(), Self::Error>;
}
