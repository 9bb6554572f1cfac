//! What goes into a file for one device, and how such a file is taken in.
//!
//! The messages are those of a conversation in which only one side speaks:
//!
//! ```text
//! Hello      squad, wall clock
//! Batch…     all that the receiver may hold: authority first, what is private last
//! Receipt    what the sender has whole
//! ```
//!
//! Nobody answers, so the file is complete: it can be taken in by a device that
//! lost everything, and twice. The receipt is how the sender of an earlier file
//! learns that it arrived.

use pitside_model::facts::{DeviceKey, Head, Scope};

use super::conversation::{Conversation, Progress, Round, SyncError};
use super::message::{Batch, Message, Refusal};
use super::{Line, Replica, Taken};

/// The messages for one device, one after the other.
#[derive(Debug)]
pub struct Packing {
    talk: Conversation,
    stage: Stage,
    /// What was put in, for each line up to its head.
    packed: Vec<Head>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Hello,
    Round(Round),
    Receipt,
    Done,
}

impl Packing {
    /// A file for a device.
    ///
    /// # Errors
    /// [`SyncError::Refused`] where the device is not one of the squad's, or the
    /// store fails.
    pub fn new<R: Replica>(replica: &mut R, to: DeviceKey) -> Result<Self, SyncError<R::Error>> {
        let standing = replica.standing(to).map_err(SyncError::Store)?;
        if replica.squad().is_none() || !standing.is_admitted() {
            return Err(SyncError::Refused(Refusal::NotAdmitted));
        }
        replica.seal().map_err(SyncError::Store)?;
        let talk = Conversation::new(to, true, None);
        let mut packing = Self { talk, stage: Stage::Hello, packed: Vec::new() };
        for round in [Round::Authority, Round::Members, Round::Private] {
            packing.talk.progress.to_send +=
                packing.talk.lines(replica, round)?.iter().map(|line| line.head.seq).sum::<u64>();
        }
        Ok(packing)
    }

    /// How far it is: entries sent, of those to send.
    #[must_use]
    pub fn progress(&self) -> Progress {
        self.talk.progress()
    }
    /// The heads of what was put in so far.
    #[must_use]
    pub fn packed(&self) -> &[Head] {
        &self.packed
    }

    /// The next message; `None` after the last. `now_ms` is the wall clock.
    ///
    /// # Errors
    /// Where the store fails.
    pub fn next<R: Replica>(
        &mut self,
        replica: &R,
        now_ms: i64,
    ) -> Result<Option<Message>, SyncError<R::Error>> {
        loop {
            match self.stage {
                Stage::Hello => {
                    self.enter(replica, Some(Round::Authority))?;
                    return self.talk.hello(replica, now_ms).map(Some);
                }
                Stage::Round(round) => {
                    let message = self.talk.batch(replica, round)?;
                    if !matches!(&message, Message::Batch(batch) if batch.is_empty()) {
                        return Ok(Some(message));
                    }
                    self.enter(replica, round.next())?;
                }
                Stage::Receipt => {
                    self.stage = Stage::Done;
                    return self.talk.receipt(replica).map(Some);
                }
                Stage::Done => return Ok(None),
            }
        }
    }

    fn enter<R: Replica>(&mut self, replica: &R, round: Option<Round>) -> Result<(), SyncError<R::Error>> {
        let Some(round) = round else {
            self.stage = Stage::Receipt;
            return Ok(());
        };
        self.stage = Stage::Round(round);
        let lines: Vec<Line> = self.talk.lines(replica, round)?;
        self.packed.extend(lines.iter().map(|line| line.head));
        self.talk.queue.extend(lines.into_iter().map(|line| (line, 0)));
        Ok(())
    }
}

/// A file while it is taken in, message by message.
#[derive(Debug)]
pub struct Unpacking {
    from: DeviceKey,
    greeted: bool,
    taken: Taken,
    clock_apart_ms: i64,
}

impl Unpacking {
    /// A file by a device, as its container proves.
    #[must_use]
    pub fn new(from: DeviceKey) -> Self {
        Self { from, greeted: false, taken: Taken::default(), clock_apart_ms: 0 }
    }

    /// What was new so far.
    #[must_use]
    pub fn taken(&self) -> &Taken {
        &self.taken
    }

    /// Takes in one message.
    ///
    /// # Errors
    /// [`SyncError`]; what came before stays.
    pub fn take<R: Replica>(
        &mut self,
        replica: &mut R,
        message: &Message,
        now_ms: i64,
    ) -> Result<(), SyncError<R::Error>> {
        match message {
            Message::Hello(hello) if !self.greeted => {
                match (replica.squad(), hello.squad) {
                    (Some(a), Some(b)) if a == b => {}
                    (None, _) => return Err(SyncError::Refused(Refusal::NotAdmitted)),
                    _ => return Err(SyncError::Refused(Refusal::OtherSquad)),
                }
                self.greeted = true;
                self.clock_apart_ms = hello.clock_ms.saturating_sub(now_ms);
                Ok(())
            }
            Message::Batch(batch) if self.greeted => self.batch(replica, batch),
            Message::Receipt(heads) if self.greeted => {
                replica.note_clock(self.from, self.clock_apart_ms).map_err(SyncError::Store)?;
                replica.note_receipt(self.from, heads).map_err(SyncError::Store)
            }
            _ => Err(SyncError::Refused(Refusal::Turn)),
        }
    }

    fn batch<R: Replica>(&mut self, replica: &mut R, batch: &Batch) -> Result<(), SyncError<R::Error>> {
        for segment in &batch.segments {
            let known = replica.log(segment.log).map_err(SyncError::Store)?;
            let opening = batch.segments.iter().find(|s| s.log == segment.log && s.opening.is_some());
            let opened = opening.and_then(|s| s.opening.as_ref()).map(|o| (o.scope, o.device));
            let Some((scope, device)) = known.or(opened) else {
                return Err(SyncError::Refused(Refusal::Segment));
            };
            let own = replica.device();
            if scope != Scope::Squad && !replica.may_hold(own, scope, device).map_err(SyncError::Store)? {
                return Err(SyncError::Refused(Refusal::Scope));
            }
        }
        let taken = replica.take_in(batch, self.from).map_err(SyncError::Store)?;
        let taken = taken.map_err(SyncError::Segment)?;
        self.taken.new += taken.new;
        self.taken.forked.extend(taken.forked);
        // Authority comes first, so whoever made the file is known by now.
        let standing = replica.standing(self.from).map_err(SyncError::Store)?;
        if standing.grants.is_empty() { Err(SyncError::Refused(Refusal::NotAdmitted)) } else { Ok(()) }
    }
}
