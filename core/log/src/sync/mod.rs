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

mod conversation;
mod message;

pub use conversation::{Conversation, SyncError};
pub use message::{
    Batch, Have, Head, Hello, Join, MAX_MESSAGE, Message, MessageError, PROTOCOL, Refusal, SECRET,
};

use pitside_model::facts::{DeviceKey, LogId, Scope, SquadId};

use crate::authority::Grants;
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
}

/// What a conversation reads from and writes to.
pub trait Replica {
    /// Why it could not.
    type Error: core::error::Error;

    /// This device.
    fn device(&self) -> DeviceKey;
    /// The squad, once it is known.
    fn squad(&self) -> Option<SquadId>;
    /// Seals every own log up to its last entry.
    ///
    /// # Errors
    /// Where the store fails.
    fn seal(&mut self) -> Result<(), Self::Error>;
    /// What a device was given, and is counted.
    ///
    /// # Errors
    /// Where the store fails.
    fn grants(&self, device: DeviceKey) -> Result<Grants, Self::Error>;
    /// Whether the member lets the staff see the private scope.
    ///
    /// # Errors
    /// Where the store fails.
    fn shares_private(&self, scope: Scope) -> Result<bool, Self::Error>;
    /// The sealed heads of all logs, with their scopes.
    ///
    /// # Errors
    /// Where the store fails.
    fn heads(&self) -> Result<Vec<(Head, Scope)>, Self::Error>;
    /// The scope of a log, where it is held.
    ///
    /// # Errors
    /// Where the store fails.
    fn scope(&self, log: LogId) -> Result<Option<Scope>, Self::Error>;
    /// The segment after an entry, up to the next seal; `None` at the sealed head.
    ///
    /// # Errors
    /// Where the store fails.
    fn segment_after(&self, log: LogId, seq: u64) -> Result<Option<Segment>, Self::Error>;
    /// Whether the log has this entry with this hash; `None` where it is shorter.
    ///
    /// # Errors
    /// Where the store fails.
    fn agrees(&self, head: &Head) -> Result<Option<bool>, Self::Error>;
    /// Takes in a segment whole, or sets it aside whole. Entries that are there
    /// already are passed over.
    ///
    /// # Errors
    /// The outer error where the store fails, the inner where the segment is
    /// refused; it is then kept aside with the reason.
    fn take_in(
        &mut self,
        segment: &Segment,
        from: DeviceKey,
    ) -> Result<Result<u64, SegmentError>, Self::Error>;
    /// Looks a guest's invitation up, and admits the guest if it is open.
    ///
    /// # Errors
    /// Where the store fails.
    fn admit(&mut self, guest: DeviceKey, join: &Join) -> Result<Admission, Self::Error>;
    /// Makes this squad the book's, after its authority arrived; `false` where
    /// this device is not admitted in it.
    ///
    /// # Errors
    /// Where the store fails.
    fn adopt(&mut self, squad: SquadId) -> Result<bool, Self::Error>;
    /// Keeps what the other side has, and its wall clock against ours.
    ///
    /// # Errors
    /// Where the store fails.
    fn note_receipt(&mut self, peer: DeviceKey, have: &Have) -> Result<(), Self::Error>;
}
