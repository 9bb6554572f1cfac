//! The state of one conversation.

use std::collections::BTreeMap;
use std::collections::VecDeque;

use pitside_model::facts::{DeviceKey, LogId, Scope, SquadId};

use super::message::{Batch, Have, Head, Hello, Join, Message, MessageError, PROTOCOL, Refusal};
use super::{Admission, Replica};
use crate::segment::SegmentError;

/// The most bytes of segments in one batch; a segment alone may be a little more.
const BATCH_BYTES: usize = 256 * 1024;

/// Why a conversation ended before its end.
#[derive(Debug, thiserror::Error)]
pub enum SyncError<E: core::error::Error> {
    /// The other side refused.
    #[error("the other device refused: {0}")]
    RefusedByPeer(Refusal),
    /// This side refused.
    #[error("refused: {0}")]
    Refused(Refusal),
    /// A segment does not hold together; it is kept aside.
    #[error("refused, and kept aside: {0}")]
    Segment(SegmentError),
    /// What came is not a message.
    #[error("refused: {0}")]
    Message(#[from] MessageError),
    /// The own store failed.
    #[error(transparent)]
    Store(E),
}

impl<E: core::error::Error> SyncError<E> {
    /// What to tell the other side, where it should be told.
    #[must_use]
    pub fn to_tell(&self) -> Option<Refusal> {
        match self {
            Self::RefusedByPeer(_) => None,
            Self::Refused(why) => Some(*why),
            Self::Segment(_) => Some(Refusal::Segment),
            Self::Message(_) => Some(Refusal::Garbage),
            Self::Store(_) => Some(Refusal::Store),
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Hello,
    Have(Round),
    Batch(Round),
    Receipt,
    Bye,
    Done,
}

/// First the squad-wide logs, which carry authority, then what members and
/// staff wrote, consent among it, and last what is private: a consent that was
/// withdrawn is heard before anything is sent by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Round {
    Authority,
    Members,
    Private,
}

impl Round {
    fn next(self) -> Option<Self> {
        match self {
            Self::Authority => Some(Self::Members),
            Self::Members => Some(Self::Private),
            Self::Private => None,
        }
    }
    fn has(self, scope: Scope) -> bool {
        match scope {
            Scope::Squad => self == Self::Authority,
            Scope::Staff | Scope::Member(_) => self == Self::Members,
            Scope::Private(_) => self == Self::Private,
        }
    }
}

/// One conversation with one device.
#[derive(Debug)]
pub struct Conversation {
    peer: DeviceKey,
    initiator: bool,
    stage: Stage,
    /// The squad that both are in, or that a guest was invited to.
    squad: Option<SquadId>,
    join: Option<Join>,
    invited_to: Option<SquadId>,
    to_send: VecDeque<(LogId, u64)>,
    sent_nothing: bool,
    /// Logs whose history differs from ours: left alone, and told at the end.
    forked: Vec<LogId>,
    received: u64,
    sent: u64,
    clock_apart_ms: i64,
}

impl Conversation {
    /// A conversation with a device whose key the carrier has proved.
    ///
    /// A guest gives what it joins with and the squad it was invited to.
    #[must_use]
    pub fn new(peer: DeviceKey, initiator: bool, guest: Option<(Join, SquadId)>) -> Self {
        let (join, invited_to) = guest.unzip();
        Self {
            peer,
            initiator,
            stage: Stage::Hello,
            squad: None,
            join,
            invited_to,
            to_send: VecDeque::new(),
            sent_nothing: false,
            forked: Vec::new(),
            received: 0,
            sent: 0,
            clock_apart_ms: 0,
        }
    }

    /// Whether it has come to its end.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.stage == Stage::Done
    }
    /// Entries received that were new here.
    #[must_use]
    pub fn received(&self) -> u64 {
        self.received
    }
    /// Entries sent.
    #[must_use]
    pub fn sent(&self) -> u64 {
        self.sent
    }
    /// Logs whose history differs on the two sides.
    #[must_use]
    pub fn forked(&self) -> &[LogId] {
        &self.forked
    }
    /// The other's wall clock minus ours, in milliseconds.
    #[must_use]
    pub fn clock_apart_ms(&self) -> i64 {
        self.clock_apart_ms
    }

    /// The first message of the initiator. `now_ms` is the wall clock.
    ///
    /// # Errors
    /// Where the store fails.
    pub fn begin<R: Replica>(
        &mut self,
        replica: &mut R,
        now_ms: i64,
    ) -> Result<Message, SyncError<R::Error>> {
        replica.seal().map_err(SyncError::Store)?;
        Ok(self.hello(replica, now_ms))
    }

    fn hello<R: Replica>(&self, replica: &R, now_ms: i64) -> Message {
        Message::Hello(Hello {
            protocols: (PROTOCOL, PROTOCOL),
            squad: replica.squad(),
            clock_ms: now_ms,
            join: self.join.clone(),
        })
    }

    /// Takes in one message and gives the answer; `None` when the conversation
    /// is over.
    ///
    /// # Errors
    /// [`SyncError`]; the conversation is over then, and what
    /// [`SyncError::to_tell`] says goes to the other side.
    pub fn step<R: Replica>(
        &mut self,
        replica: &mut R,
        message: Message,
        now_ms: i64,
    ) -> Result<Option<Message>, SyncError<R::Error>> {
        if let Message::Refuse(why) = message {
            self.stage = Stage::Done;
            return Err(SyncError::RefusedByPeer(why));
        }
        let turn = Err(SyncError::Refused(Refusal::Turn));
        match (self.stage, message) {
            (Stage::Hello, Message::Hello(hello)) => {
                self.meet(replica, &hello, now_ms)?;
                self.stage = Stage::Have(Round::Authority);
                if self.initiator {
                    self.have(replica, Round::Authority).map(Some)
                } else {
                    replica.seal().map_err(SyncError::Store)?;
                    Ok(Some(self.hello(replica, now_ms)))
                }
            }
            (Stage::Have(round), Message::Have(have)) => self.compare(replica, round, &have).map(Some),
            // The responder hears of the next stage from the initiator.
            (Stage::Batch(round), Message::Have(have)) if !self.initiator => {
                let Some(next) = round.next() else { return turn };
                self.end_of(replica, round)?;
                self.compare(replica, next, &have).map(Some)
            }
            (Stage::Batch(Round::Private), Message::Receipt(have)) if !self.initiator => {
                replica.note_receipt(self.peer, &have).map_err(SyncError::Store)?;
                self.stage = Stage::Bye;
                self.receipt(replica).map(Some)
            }
            (Stage::Batch(round), Message::Batch(batch)) => {
                let was_empty = batch.segments.is_empty();
                self.take_in(replica, round, batch)?;
                if self.initiator && was_empty && self.sent_nothing {
                    return self.next_stage(replica, round).map(Some);
                }
                self.batch(replica).map(Some)
            }
            (Stage::Receipt, Message::Receipt(have)) => {
                replica.note_receipt(self.peer, &have).map_err(SyncError::Store)?;
                self.stage = Stage::Bye;
                Ok(Some(Message::Bye))
            }
            (Stage::Bye, Message::Bye) => {
                self.stage = Stage::Done;
                Ok((!self.initiator).then_some(Message::Bye))
            }
            _ => turn,
        }
    }

    /// Squad, protocol, admission.
    fn meet<R: Replica>(
        &mut self,
        replica: &mut R,
        hello: &Hello,
        now_ms: i64,
    ) -> Result<(), SyncError<R::Error>> {
        if !(hello.protocols.0..=hello.protocols.1).contains(&PROTOCOL) {
            return Err(SyncError::Refused(Refusal::Protocol));
        }
        self.clock_apart_ms = hello.clock_ms.saturating_sub(now_ms);
        self.squad = match (replica.squad(), hello.squad) {
            (Some(a), Some(b)) if a != b => return Err(SyncError::Refused(Refusal::OtherSquad)),
            (Some(a), _) => Some(a),
            (None, theirs) => theirs,
        };
        if let Some(join) = &hello.join {
            match replica.admit(self.peer, join).map_err(SyncError::Store)? {
                Admission::Admitted => {}
                Admission::Unknown => return Err(SyncError::Refused(Refusal::Invitation)),
                Admission::Expired => return Err(SyncError::Refused(Refusal::Expired)),
            }
        }
        if replica.squad().is_some() {
            // Whoever is in a squad speaks only with its devices.
            let grants = replica.grants(self.peer).map_err(SyncError::Store)?;
            if grants.is_empty() {
                return Err(SyncError::Refused(Refusal::NotAdmitted));
            }
        } else if self.squad.is_none() || self.squad != self.invited_to {
            return Err(SyncError::Refused(Refusal::OtherSquad));
        }
        Ok(())
    }

    /// Whether a scope's logs go to the other side in this round.
    fn may_send<R: Replica>(
        &self,
        replica: &R,
        round: Round,
        scope: Scope,
    ) -> Result<bool, SyncError<R::Error>> {
        crosses(replica, round, scope, self.peer)
    }

    /// What this side now has of all that the other may know of.
    fn receipt<R: Replica>(&self, replica: &R) -> Result<Message, SyncError<R::Error>> {
        let mut all = Have::default();
        for round in [Round::Authority, Round::Members, Round::Private] {
            all.heads.extend(self.heads(replica, round)?.heads);
        }
        Ok(Message::Receipt(all))
    }

    fn heads<R: Replica>(&self, replica: &R, round: Round) -> Result<Have, SyncError<R::Error>> {
        let mut heads = Vec::new();
        for (head, scope) in replica.heads().map_err(SyncError::Store)? {
            // What this device may know of and the other may too.
            if self.may_send(replica, round, scope)? {
                heads.push(head);
            }
        }
        Ok(Have { heads })
    }

    fn have<R: Replica>(&mut self, replica: &R, round: Round) -> Result<Message, SyncError<R::Error>> {
        self.stage = Stage::Have(round);
        Ok(Message::Have(self.heads(replica, round)?))
    }

    /// What the other lacks, by the heads it told.
    fn compare<R: Replica>(
        &mut self,
        replica: &mut R,
        round: Round,
        have: &Have,
    ) -> Result<Message, SyncError<R::Error>> {
        let mut theirs: BTreeMap<LogId, Head> = BTreeMap::new();
        for head in &have.heads {
            theirs.insert(head.log, *head);
        }
        let ours = self.heads(replica, round)?;
        self.to_send.clear();
        for head in &ours.heads {
            let from = match theirs.get(&head.log) {
                None => 0,
                Some(their) => match replica.agrees(their).map_err(SyncError::Store)? {
                    Some(true) => their.seq,
                    None => continue,
                    Some(false) => {
                        self.forked.push(head.log);
                        continue;
                    }
                },
            };
            if from < head.seq {
                self.to_send.push_back((head.log, from));
            }
        }
        self.stage = Stage::Batch(round);
        if self.initiator { self.batch(replica) } else { Ok(Message::Have(ours)) }
    }

    fn batch<R: Replica>(&mut self, replica: &R) -> Result<Message, SyncError<R::Error>> {
        let mut batch = Batch::default();
        let mut bytes = 0;
        while bytes < BATCH_BYTES {
            let Some((log, from)) = self.to_send.pop_front() else { break };
            let Some(segment) = replica.segment_after(log, from).map_err(SyncError::Store)? else { continue };
            let size: usize = segment
                .entries
                .iter()
                .map(|(header, body)| header.len() + body.as_ref().map_or(0, |b| b.payload.len() + 32))
                .sum();
            if bytes > 0 && bytes + size > BATCH_BYTES {
                self.to_send.push_front((log, from));
                break;
            }
            bytes += size + 400;
            self.sent += segment.entries.len() as u64;
            self.to_send.push_front((log, segment.seal.seq));
            batch.segments.push(segment);
        }
        self.sent_nothing = batch.segments.is_empty();
        Ok(Message::Batch(batch))
    }

    fn take_in<R: Replica>(
        &mut self,
        replica: &mut R,
        round: Round,
        batch: Batch,
    ) -> Result<(), SyncError<R::Error>> {
        for segment in batch.segments {
            let known = replica.scope(segment.log).map_err(SyncError::Store)?;
            let scope = known.or(segment.opening.as_ref().map(|o| o.scope));
            let Some(scope) = scope else { return Err(SyncError::Refused(Refusal::Segment)) };
            if !crosses(replica, round, scope, replica.device())? {
                return Err(SyncError::Refused(Refusal::Scope));
            }
            if self.forked.contains(&segment.log) {
                continue;
            }
            match replica.take_in(&segment, self.peer).map_err(SyncError::Store)? {
                Ok(new) => self.received += new,
                Err(e) => return Err(SyncError::Segment(e)),
            }
        }
        Ok(())
    }

    /// A guest takes the squad as its own once its authority has arrived.
    fn end_of<R: Replica>(&mut self, replica: &mut R, round: Round) -> Result<(), SyncError<R::Error>> {
        if round == Round::Authority
            && replica.squad().is_none()
            && let Some(squad) = self.squad
            && !replica.adopt(squad).map_err(SyncError::Store)?
        {
            return Err(SyncError::Refused(Refusal::NotAdmitted));
        }
        Ok(())
    }

    fn next_stage<R: Replica>(
        &mut self,
        replica: &mut R,
        round: Round,
    ) -> Result<Message, SyncError<R::Error>> {
        self.end_of(replica, round)?;
        match round.next() {
            Some(next) => self.have(replica, next),
            None => {
                self.stage = Stage::Receipt;
                self.receipt(replica)
            }
        }
    }
}

/// Whether a scope's logs go to `reader` in this round. Both sides ask it of the
/// receiving device, so a peer that sends too much is noticed.
fn crosses<R: Replica>(
    replica: &R,
    round: Round,
    scope: Scope,
    reader: DeviceKey,
) -> Result<bool, SyncError<R::Error>> {
    if !round.has(scope) {
        return Ok(false);
    }
    if round == Round::Authority {
        // A guest has no grants yet, and gets them with this round.
        return Ok(true);
    }
    let grants = replica.grants(reader).map_err(SyncError::Store)?;
    let shared = replica.shares_private(scope).map_err(SyncError::Store)?;
    Ok(grants.may_read(scope, shared))
}
