//! The state of one conversation.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use pitside_model::facts::{DeviceKey, Head, LogId, Scope, SquadId};

use super::message::{Batch, Have, Hello, Join, Message, MessageError, PROTOCOL, Refusal};
use super::{Admission, Common, Line, Replica};
use crate::segment::{Segment, SegmentError};

/// The most bytes of segments in one batch; a segment alone may be a little more.
const BATCH_BYTES: usize = 512 * 1024;

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
pub(super) enum Round {
    Authority,
    Members,
    Private,
}

impl Round {
    pub(super) fn next(self) -> Option<Self> {
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

/// How far a conversation is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Entries received that were new here.
    pub received: u64,
    /// Entries that the other side has and this one had not, as told so far.
    pub to_receive: u64,
    /// Entries sent.
    pub sent: u64,
    /// Entries that the other side lacked, as told so far.
    pub to_send: u64,
}

/// One conversation with one device.
#[derive(Debug)]
pub struct Conversation {
    pub(super) peer: DeviceKey,
    initiator: bool,
    stage: Stage,
    /// The squad that both are in, or that a guest was invited to.
    squad: Option<SquadId>,
    join: Option<Join>,
    invited_to: Option<SquadId>,
    /// Lines of which the other lacks what comes after this entry.
    pub(super) queue: VecDeque<(Line, u64)>,
    /// Heads of the lines that were queued in this round.
    queued: BTreeSet<Head>,
    /// What the other told in this round of the logs that are branched here.
    branched: BTreeMap<LogId, Vec<Head>>,
    bodies: VecDeque<Head>,
    sent_nothing: bool,
    /// Both sides said in this round that they have nothing more.
    quiet: bool,
    /// Logs that were written twice, as this conversation showed.
    forked: Vec<LogId>,
    pub(super) progress: Progress,
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
            queue: VecDeque::new(),
            queued: BTreeSet::new(),
            branched: BTreeMap::new(),
            bodies: VecDeque::new(),
            sent_nothing: false,
            quiet: false,
            forked: Vec::new(),
            progress: Progress::default(),
            clock_apart_ms: 0,
        }
    }

    /// Whether it has come to its end.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.stage == Stage::Done
    }
    /// How far it is.
    #[must_use]
    pub fn progress(&self) -> Progress {
        self.progress
    }
    /// Logs that were written twice, as this conversation showed.
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
        self.hello(replica, now_ms)
    }

    pub(super) fn hello<R: Replica>(&self, replica: &R, now_ms: i64) -> Result<Message, SyncError<R::Error>> {
        Ok(Message::Hello(Hello {
            protocols: (PROTOCOL, PROTOCOL),
            squad: replica.squad().or(replica.recovers()),
            clock_ms: now_ms,
            join: self.join.clone(),
            credentials: replica.credentials().map_err(SyncError::Store)?,
        }))
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
                    self.hello(replica, now_ms).map(Some)
                }
            }
            (Stage::Have(round), Message::Have(have)) => self.compare(replica, round, &have).map(Some),
            // The responder hears of the next stage from the initiator.
            (Stage::Batch(round), Message::Have(have)) if !self.initiator && self.quiet => {
                let Some(next) = round.next() else { return turn };
                self.end_of(replica, round)?;
                self.compare(replica, next, &have).map(Some)
            }
            (Stage::Batch(Round::Private), Message::Receipt(heads)) if !self.initiator && self.quiet => {
                replica.note_receipt(self.peer, &heads).map_err(SyncError::Store)?;
                self.stage = Stage::Bye;
                self.receipt(replica).map(Some)
            }
            (Stage::Batch(round), Message::Batch(batch)) if !self.quiet => {
                let heard_nothing = batch.is_empty();
                self.take_in(replica, round, &batch)?;
                if self.initiator && heard_nothing && self.sent_nothing && self.queue.is_empty() {
                    return self.next_stage(replica, round).map(Some);
                }
                let answer = self.batch(replica, round)?;
                self.quiet = !self.initiator && heard_nothing && self.sent_nothing;
                Ok(Some(answer))
            }
            (Stage::Receipt, Message::Receipt(heads)) => {
                replica.note_receipt(self.peer, &heads).map_err(SyncError::Store)?;
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
        replica.note_clock(self.peer, self.clock_apart_ms).map_err(SyncError::Store)?;
        let own = replica.squad().or(replica.recovers());
        self.squad = match (own, hello.squad) {
            (Some(a), Some(b)) if a != b => return Err(SyncError::Refused(Refusal::OtherSquad)),
            (Some(a), _) => Some(a),
            (None, theirs) => theirs,
        };
        if replica.squad().is_some() && hello.credentials.iter().all(|s| opens(s, Scope::Squad)) {
            let shown = Batch { segments: hello.credentials.clone(), bodies: Vec::new() };
            replica.take_in(&shown, self.peer).map_err(SyncError::Store)?.map_err(SyncError::Segment)?;
        }
        if let Some(join) = &hello.join {
            match replica.admit(self.peer, join).map_err(SyncError::Store)? {
                Admission::Admitted => {}
                Admission::Unknown => return Err(SyncError::Refused(Refusal::Invitation)),
                Admission::Expired => return Err(SyncError::Refused(Refusal::Expired)),
                Admission::NotOwner => return Err(SyncError::Refused(Refusal::NotOwner)),
            }
        }
        if replica.squad().is_some() {
            // Whoever is in a squad speaks only with its devices. One that was
            // removed is told so, and may hand over what it wrote late.
            let standing = replica.standing(self.peer).map_err(SyncError::Store)?;
            if standing.grants.is_empty() {
                return Err(SyncError::Refused(Refusal::NotAdmitted));
            }
        } else if replica.recovers().is_some() {
            // Nobody's authority is here yet: the one-time secret stands for it.
            if hello.join.is_none() || hello.squad != replica.recovers() {
                return Err(SyncError::Refused(Refusal::NotAdmitted));
            }
        } else if self.squad.is_none() || self.squad != self.invited_to {
            return Err(SyncError::Refused(Refusal::OtherSquad));
        }
        Ok(())
    }

    /// Whether a log goes between the two in this round.
    pub(super) fn crosses<R: Replica>(
        &self,
        replica: &R,
        round: Round,
        scope: Scope,
        device: DeviceKey,
    ) -> Result<bool, SyncError<R::Error>> {
        if !round.has(scope) {
            return Ok(false);
        }
        if round == Round::Authority {
            // A guest has no standing yet, and gets it with this round.
            return Ok(true);
        }
        for side in [replica.device(), self.peer] {
            if !replica.may_hold(side, scope, device).map_err(SyncError::Store)? {
                return Ok(false);
            }
        }
        Ok(true)
    }

    pub(super) fn lines<R: Replica>(
        &self,
        replica: &R,
        round: Round,
    ) -> Result<Vec<Line>, SyncError<R::Error>> {
        let mut crossing = Vec::new();
        for line in replica.lines().map_err(SyncError::Store)? {
            if self.crosses(replica, round, line.scope, line.device)? {
                crossing.push(line);
            }
        }
        Ok(crossing)
    }

    /// What this side now has whole of all that the other may know of.
    pub(super) fn receipt<R: Replica>(&self, replica: &R) -> Result<Message, SyncError<R::Error>> {
        let mut heads = Vec::new();
        for round in [Round::Authority, Round::Members, Round::Private] {
            heads.extend(self.lines(replica, round)?.iter().filter_map(|line| line.whole));
        }
        Ok(Message::Receipt(heads))
    }

    fn told<R: Replica>(&self, replica: &R, round: Round) -> Result<Have, SyncError<R::Error>> {
        let heads = self.lines(replica, round)?.iter().map(|line| line.head).collect();
        let mut lacking = replica.lacking().map_err(SyncError::Store)?;
        let mut crossing = BTreeMap::new();
        for entry in &lacking {
            if let Some((scope, device)) = replica.log(entry.log).map_err(SyncError::Store)? {
                crossing.insert(entry.log, self.crosses(replica, round, scope, device)?);
            }
        }
        lacking.retain(|entry| crossing.get(&entry.log) == Some(&true));
        Ok(Have { heads, lacking })
    }

    fn have<R: Replica>(&mut self, replica: &R, round: Round) -> Result<Message, SyncError<R::Error>> {
        self.stage = Stage::Have(round);
        Ok(Message::Have(self.told(replica, round)?))
    }

    /// What the other lacks, by the heads it told.
    fn compare<R: Replica>(
        &mut self,
        replica: &mut R,
        round: Round,
        have: &Have,
    ) -> Result<Message, SyncError<R::Error>> {
        let mut theirs: BTreeMap<LogId, Vec<Head>> = BTreeMap::new();
        for head in &have.heads {
            theirs.entry(head.log).or_default().push(*head);
        }
        self.queue.clear();
        self.queued.clear();
        let ours = self.lines(replica, round)?;
        let is_branched = |log: LogId| ours.iter().filter(|line| line.head.log == log).count() > 1;
        self.branched =
            theirs.iter().filter(|(log, _)| is_branched(**log)).map(|(l, h)| (*l, h.clone())).collect();
        for line in &ours {
            self.offer(replica, line, theirs.get(&line.head.log).map_or(&[], Vec::as_slice))?;
        }
        for head in &have.heads {
            let longest = ours.iter().filter(|l| l.head.log == head.log).map(|l| l.head.seq).max();
            self.progress.to_receive += head.seq.saturating_sub(longest.unwrap_or(0));
        }
        self.bodies.clear();
        for entry in &have.lacking {
            if let Some((scope, device)) = replica.log(entry.log).map_err(SyncError::Store)?
                && self.crosses(replica, round, scope, device)?
            {
                self.bodies.push_back(*entry);
            }
        }
        self.stage = Stage::Batch(round);
        self.quiet = false;
        if self.initiator {
            self.batch(replica, round)
        } else {
            Ok(Message::Have(self.told(replica, round)?))
        }
    }

    /// Queues what one side has of a line and the other, by its heads, has not.
    fn offer<R: Replica>(
        &mut self,
        replica: &R,
        line: &Line,
        theirs: &[Head],
    ) -> Result<(), SyncError<R::Error>> {
        let mut from = theirs.is_empty().then_some(0);
        for head in theirs {
            match replica.common(&line.head, head).map_err(SyncError::Store)? {
                Common::UpTo(seq) => from = from.max(Some(seq)),
                Common::Ahead => {}
                Common::Apart => from = from.or(Some(0)),
            }
        }
        if let Some(from) = from.filter(|from| *from < line.head.seq)
            && self.queued.insert(line.head)
        {
            self.progress.to_send += line.head.seq - from;
            self.queue.push_back((*line, from));
        }
        Ok(())
    }

    /// The next of what is queued. Whether it still crosses is asked again: another
    /// conversation may have brought a removal meanwhile.
    pub(super) fn batch<R: Replica>(
        &mut self,
        replica: &R,
        round: Round,
    ) -> Result<Message, SyncError<R::Error>> {
        let mut batch = Batch::default();
        let mut bytes = 0;
        while bytes < BATCH_BYTES {
            let Some((line, from)) = self.queue.pop_front() else { break };
            if !self.crosses(replica, round, line.scope, line.device)? {
                continue;
            }
            let segment = replica.segment_after(&line.head, from).map_err(SyncError::Store)?;
            let Some(segment) = segment else { continue };
            let size: usize = segment
                .entries
                .iter()
                .map(|(header, content)| header.len() + content.body().map_or(0, |b| b.payload.len()) + 32)
                .sum();
            if bytes > 0 && bytes + size > BATCH_BYTES {
                self.queue.push_front((line, from));
                break;
            }
            bytes += size + 400;
            self.progress.sent += segment.entries.len() as u64;
            self.queue.push_front((line, segment.seal.seq));
            batch.segments.push(segment);
        }
        while bytes < BATCH_BYTES {
            let Some(entry) = self.bodies.pop_front() else { break };
            let Some((scope, device)) = replica.log(entry.log).map_err(SyncError::Store)? else { continue };
            if !self.crosses(replica, round, scope, device)? {
                continue;
            }
            if let Some(body) = replica.body(&entry).map_err(SyncError::Store)? {
                bytes += body.payload.len() + 100;
                batch.bodies.push((entry, body));
            }
        }
        self.sent_nothing = batch.is_empty();
        Ok(Message::Batch(batch))
    }

    fn take_in<R: Replica>(
        &mut self,
        replica: &mut R,
        round: Round,
        batch: &Batch,
    ) -> Result<(), SyncError<R::Error>> {
        let opened = batch.segments.iter().map(|s| (s.log, s.opening.as_ref().map(|o| (o.scope, o.device))));
        let filled = batch.bodies.iter().map(|(entry, _)| (entry.log, None));
        for (log, opening) in opened.chain(filled) {
            let known = replica.log(log).map_err(SyncError::Store)?.or(opening);
            // A later segment of a log that this batch opens says it no more.
            let earlier = || batch.segments.iter().find(|s| s.log == log)?.opening.as_ref();
            let known = known.or_else(|| earlier().map(|o| (o.scope, o.device)));
            let Some((scope, device)) = known else { return Err(SyncError::Refused(Refusal::Segment)) };
            if !self.crosses(replica, round, scope, device)? {
                return Err(SyncError::Refused(Refusal::Scope));
            }
        }
        let taken = replica.take_in(batch, self.peer).map_err(SyncError::Store)?;
        let taken = taken.map_err(SyncError::Segment)?;
        self.progress.received += taken.new;
        for log in taken.forked {
            if !self.forked.contains(&log) {
                self.forked.push(log);
            }
            self.branched.entry(log).or_default();
        }
        // The other showed one side and may not have the other: where its head lay
        // further on than anything held, that could not be told before.
        let mut shown: BTreeMap<LogId, Vec<Head>> = BTreeMap::new();
        for segment in &batch.segments {
            if let Some(told) = self.branched.get(&segment.log) {
                shown.entry(segment.log).or_insert_with(|| told.clone()).push(segment.seal.head());
            }
        }
        if shown.is_empty() {
            return Ok(());
        }
        for line in self.lines(replica, round)? {
            if let Some(shown) = shown.get(&line.head.log) {
                self.offer(replica, &line, shown)?;
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

/// Whether a segment begins a log of this scope.
fn opens(segment: &Segment, scope: Scope) -> bool {
    segment.opening.as_ref().is_some_and(|opening| opening.scope == scope)
}
