//! A conversation of two devices over a link in memory, one message at a time.
//!
//! The link loses, repeats and changes what the plan says. Everything that
//! crosses is read on the way: nothing may reach a device that may not hold it,
//! by what the sender knows then.

use std::collections::VecDeque;

use pitside_book::store::{BookError, BookReplica};
use pitside_log::authority::{Consents, Grants};
use pitside_log::sync::{Conversation, Join, Message, Refusal, Replica, SyncError};
use pitside_model::facts::{DeviceKey, LogId, Scope, SquadId};

use crate::device::At;
use crate::world::{Violation, World};

/// One end of a conversation.
#[derive(Debug)]
struct Side {
    device: usize,
    conversation: Conversation,
    /// It is done, or refused or was refused.
    ended: bool,
    /// It spoke of the squad while it knew the other as one of its devices. What is
    /// squad-wide then goes on to the end of the round, whatever the round itself
    /// brings: the other hears there what became of it.
    knows_peer: bool,
    inbox: VecDeque<Vec<u8>>,
    /// What it took in so far, to be repeated.
    taken: Vec<Vec<u8>>,
}

/// A conversation under way: the caller's side and the other.
#[derive(Debug)]
pub(crate) struct Meeting {
    sides: [Side; 2],
    /// The link repeated or changed something.
    tampered: bool,
    /// Something else happened meanwhile, so that the two may know different things.
    crowded: bool,
    /// A side refused.
    refused: bool,
}

impl Meeting {
    pub(crate) fn involves(&self, device: usize) -> bool {
        self.sides.iter().any(|side| side.device == device)
    }
    pub(crate) fn devices(&self) -> [usize; 2] {
        [self.sides[0].device, self.sides[1].device]
    }
    pub(crate) fn crowd(&mut self) {
        self.crowded = true;
    }
    fn is_over(&self) -> bool {
        self.sides.iter().all(|side| side.ended) || self.sides.iter().all(|side| side.inbox.is_empty())
    }
    /// Both sides came to the end.
    fn is_done(&self) -> bool {
        self.sides.iter().all(|side| side.conversation.is_done()) && !self.refused
    }
}

/// How a conversation ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ended {
    /// Not yet.
    Open,
    /// Both sides said so.
    Done,
    /// One side refused.
    Refused,
}

/// Who may receive what: the table of the design, written down a second time.
fn may_receive(grants: &Grants, cut: bool, scope: Scope, consents: Consents) -> bool {
    let owner = grants.owner;
    match scope {
        Scope::Squad => *grants != Grants::default(),
        _ if cut => false,
        Scope::Staff => owner || grants.assists.everyone || !grants.assists.members.is_empty(),
        Scope::Member(m) => {
            let named = [&grants.assists, &grants.treats, &grants.guards];
            owner
                || grants.serves.contains(&m)
                || named.iter().any(|reach| reach.everyone || reach.members.contains(&m))
        }
        Scope::Private(m) => {
            let given = |reach: &pitside_log::authority::Reach| reach.everyone || reach.members.contains(&m);
            grants.serves.contains(&m)
                || given(&grants.guards)
                || (owner && consents.coach)
                || (given(&grants.assists) && consents.assistants)
                || (given(&grants.treats) && consents.medical)
        }
    }
}

impl World {
    /// Opens a conversation; the caller's first message is on its way.
    pub(crate) fn open_meeting(
        &mut self,
        caller: usize,
        called: usize,
        guest: Option<(Join, SquadId)>,
    ) -> Result<usize, Violation> {
        let peers = [self.devices[called].key(), self.devices[caller].key()];
        let mut near = Conversation::new(peers[0], true, guest);
        let clock = At(self.now(caller));
        let hello = {
            let mut replica = BookReplica::new(self.devices[caller].book()?, &clock);
            near.begin(&mut replica, clock.0.ms)
        };
        let hello = match hello {
            Ok(hello) => hello,
            Err(e) => return Err(Violation::new("store", format!("a conversation could not begin: {e}"))),
        };
        self.tap(caller, peers[0], &hello, false)?;
        let side = |device, conversation| Side {
            device,
            conversation,
            ended: false,
            knows_peer: false,
            inbox: VecDeque::new(),
            taken: Vec::new(),
        };
        let mut sides = [side(caller, near), side(called, Conversation::new(peers[1], false, None))];
        sides[1].inbox.push_back(hello.to_bytes());
        self.meetings.push(Meeting { sides, tampered: false, crowded: false, refused: false });
        Ok(self.meetings.len() - 1)
    }

    /// Moves so many messages, and drops the meeting when it is over.
    pub(crate) fn deliver(&mut self, at: usize, messages: u32) -> Result<Ended, Violation> {
        for _ in 0..messages {
            if self.meetings[at].is_over() {
                break;
            }
            self.deliver_one(at)?;
        }
        let meeting = &self.meetings[at];
        if !meeting.is_over() {
            return Ok(Ended::Open);
        }
        let ended = if meeting.is_done() { Ended::Done } else { Ended::Refused };
        let clean = !meeting.tampered && !meeting.refused;
        if clean && ended != Ended::Done {
            return Err(Violation::new("silence", "a conversation stopped before its end".to_owned()));
        }
        self.meetings.remove(at);
        Ok(ended)
    }

    fn deliver_one(&mut self, at: usize) -> Result<(), Violation> {
        let meeting = &mut self.meetings[at];
        let to = usize::from(!meeting.sides[1].inbox.is_empty());
        let (tampered, crowded) = (meeting.tampered, meeting.crowded);
        let side = &mut meeting.sides[to];
        let Some(bytes) = side.inbox.pop_front() else { return Ok(()) };
        side.taken.push(bytes.clone());
        if side.ended {
            return Ok(());
        }
        let device = side.device;
        let clock = At(self.now(device));
        let book = self.devices[device].book()?;
        let parsed = Message::from_bytes(&bytes);
        let told = parsed.as_ref().map_or(String::new(), |message| self.words(message));
        let stepped = match parsed {
            Ok(message) => {
                let mut replica = BookReplica::new(book, &clock);
                self.meetings[at].sides[to].conversation.step(&mut replica, message, clock.0.ms)
            }
            Err(why) => {
                let from = self.devices[self.meetings[at].sides[1 - to].device].key();
                book.set_aside(from, &why.to_string(), &bytes, clock.0)?;
                Err(SyncError::Message(why))
            }
        };
        let peer = self.devices[self.meetings[at].sides[1 - to].device].key();
        match stepped {
            Ok(answer) => {
                if let Some(answer) = answer {
                    let knows = self.meetings[at].sides[to].knows_peer;
                    self.meetings[at].sides[to].knows_peer |= self.tap(device, peer, &answer, knows)?;
                    self.meetings[at].sides[1 - to].inbox.push_back(answer.to_bytes());
                }
                let side = &mut self.meetings[at].sides[to];
                side.ended = side.conversation.is_done();
            }
            Err(e) => {
                if !may_end_so(&e, tampered, crowded) {
                    return Err(Violation::new(
                        "refusal",
                        format!("device {device} ended it so at {told} from {}: {e}", self.name_of(peer)),
                    ));
                }
                self.refused_pieces |= matches!(e, SyncError::Segment(_) | SyncError::Message(_));
                self.expired |= matches!(e, SyncError::Refused(Refusal::Expired));
                let meeting = &mut self.meetings[at];
                meeting.refused = true;
                meeting.sides[to].ended = true;
                if let Some(why) = e.to_tell() {
                    meeting.sides[1 - to].inbox.push_back(Message::Refuse(why).to_bytes());
                }
            }
        }
        Ok(())
    }

    /// A message in words.
    fn words(&self, message: &Message) -> String {
        match message {
            Message::Hello(_) => "a hello".to_owned(),
            Message::Have(_) => "a list of heads".to_owned(),
            Message::Batch(batch) => {
                let openings = batch.segments.iter().filter_map(|segment| segment.opening.as_ref());
                let logs =
                    openings.map(|o| format!("{} by {}", self.scope_name(o.scope), self.name_of(o.device)));
                let logs: Vec<String> = logs.collect();
                format!("a batch of {} segments ({})", batch.segments.len(), logs.join(", "))
            }
            Message::Receipt(_) => "a receipt".to_owned(),
            Message::Bye => "the end".to_owned(),
            Message::Refuse(_) => "a refusal".to_owned(),
        }
    }

    /// An earlier message comes once more, before the next one.
    pub(crate) fn repeat(&mut self, at: usize, back: usize) -> bool {
        let meeting = &mut self.meetings[at];
        let to = usize::from(!meeting.sides[1].inbox.is_empty());
        let side = &mut meeting.sides[to];
        let Some(bytes) = side.taken.iter().rev().nth(back % side.taken.len().max(1)).cloned() else {
            return false;
        };
        side.inbox.push_front(bytes);
        meeting.tampered = true;
        true
    }

    /// A bit of the next message flips.
    pub(crate) fn flip(&mut self, at: usize, bit: usize) -> bool {
        let meeting = &mut self.meetings[at];
        let to = usize::from(!meeting.sides[1].inbox.is_empty());
        let Some(bytes) = meeting.sides[to].inbox.front_mut() else { return false };
        let place = (bit / 8) % bytes.len();
        bytes[place] ^= 1 << (bit % 8);
        meeting.tampered = true;
        true
    }

    /// Reads what a device sends to another; says whether it speaks of the squad to
    /// a device that it knows.
    fn tap(&self, from: usize, to: DeviceKey, message: &Message, knew: bool) -> Result<bool, Violation> {
        let heads = |heads: &[pitside_model::facts::Head]| heads.iter().map(|h| h.log).collect::<Vec<_>>();
        let logs: Vec<LogId> = match message {
            Message::Hello(hello) => {
                let squad_wide = hello.credentials.iter().all(|segment| {
                    segment.opening.as_ref().is_some_and(|opening| opening.scope == Scope::Squad)
                });
                if !squad_wide {
                    return Err(Violation::new(
                        "leak",
                        format!("device {from} showed more than its admission"),
                    ));
                }
                Vec::new()
            }
            Message::Have(have) => [heads(&have.heads), heads(&have.lacking)].concat(),
            Message::Batch(batch) => {
                let bodies = batch.bodies.iter().map(|(head, _)| head.log);
                batch.segments.iter().map(|segment| segment.log).chain(bodies).collect()
            }
            Message::Receipt(all) => heads(all),
            Message::Bye | Message::Refuse(_) => Vec::new(),
        };
        if logs.is_empty() {
            return Ok(false);
        }
        let book = self.devices[from].book()?;
        let clock = At(self.now(from));
        let replica = BookReplica::new(book, &clock);
        let authority = book.authority()?;
        let standing = authority.standing(to);
        for log in logs {
            let Some((scope, writer)) = replica.log(log)? else {
                return Err(Violation::new("leak", format!("device {from} spoke of a log that it has not")));
            };
            if writer == to || (scope == Scope::Squad && (knew || book.squad().is_none())) {
                continue;
            }
            let consents = match scope {
                Scope::Private(member) => book.consents(member)?,
                _ => Consents::default(),
            };
            let erased = scope.member().is_some_and(|m| {
                authority.erased.contains(&m)
                    && !standing.grants.serves.contains(&m)
                    && !standing.grants.guards.covers(m)
            });
            if erased || !may_receive(&standing.grants, standing.cut.is_some(), scope, consents) {
                let what = self.scope_name(scope);
                return Err(Violation::new(
                    "leak",
                    format!("device {from} sent something of {what} to {}", self.name_of(to)),
                ));
            }
        }
        Ok(book.squad().is_some())
    }
}

/// Whether a conversation may end with this, by what happened to it.
fn may_end_so(e: &SyncError<BookError>, tampered: bool, crowded: bool) -> bool {
    match e {
        SyncError::Store(_) => false,
        SyncError::Message(_) => tampered,
        SyncError::Segment(_) => tampered || crowded,
        SyncError::Refused(why) | SyncError::RefusedByPeer(why) => match why {
            Refusal::NotAdmitted
            | Refusal::Invitation
            | Refusal::Expired
            | Refusal::NotOwner
            | Refusal::OtherSquad => true,
            Refusal::Scope | Refusal::Segment => tampered || crowded,
            Refusal::Protocol | Refusal::Turn | Refusal::Garbage => tampered,
            Refusal::Store => false,
        },
    }
}
