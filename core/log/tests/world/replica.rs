//! A replica in memory: the contract of `sync::Replica`, kept as a store keeps
//! it. Whatever comes in goes through `Segment::check` and `merge::apply`.

use std::collections::{BTreeMap, BTreeSet};
use std::convert::Infallible;

use pitside_log::authority::{Consents, Root, Standing};
use pitside_log::entry::{Body, Content, Entry, EntryError, Key, branch, origin};
use pitside_log::memory::MemoryLedger;
use pitside_log::merge::{Ledger, apply};
use pitside_log::opening::Opening;
use pitside_log::reference::{self, State};
use pitside_log::seal::{MAX_ENTRIES, Seal, Signer};
use pitside_log::segment::{Segment, SegmentError};
use pitside_log::sync::{Admission, Batch, Common, Join, Line, Replica, SECRET, Taken};
use pitside_model::facts::{
    Audience, Consent, DeviceKey, Fact, Hash, Head, LogId, MemberId, Removal, Role, Scope, SquadId, Subject,
    field_name, kind,
};

use super::{Device, Draft, founding, grant};

/// A log as a tree: one that was written twice has more than one leaf.
#[derive(Clone, Debug)]
struct Held {
    opening: Opening,
    entries: BTreeMap<Hash, Entry>,
    seals: Vec<Seal>,
}

impl Held {
    /// The entries up to this one, the last first.
    fn back(&self, from: Hash) -> impl Iterator<Item = &Entry> {
        core::iter::successors(self.entries.get(&from), |e| self.entries.get(&e.before))
    }
    fn reaches(&self, head: Hash, hash: Hash) -> bool {
        self.back(head).any(|e| e.hash == hash)
    }
    fn leaves(&self) -> Vec<&Seal> {
        let ends = |seal: &&Seal| {
            !self.seals.iter().any(|other| other.seq > seal.seq && self.reaches(other.hash, seal.hash))
        };
        self.seals.iter().filter(ends).collect()
    }
}

#[derive(Clone, Debug)]
struct Invitation {
    expires_ms: i64,
    used_by: Option<DeviceKey>,
}

/// A device's copy of its squad.
#[derive(Clone)]
pub struct MemoryReplica {
    pub device: Device,
    root: Root,
    recovers: Option<SquadId>,
    credentials: Vec<Segment>,
    logs: BTreeMap<LogId, Held>,
    /// The ends of the own logs, as far as they were written here.
    own: BTreeMap<LogId, Hash>,
    /// Own logs that others have more of: never written on.
    closed: BTreeSet<LogId>,
    ledger: MemoryLedger,
    invitations: BTreeMap<[u8; SECRET], Invitation>,
    pub now_ms: i64,
    /// Why segments were set aside.
    pub aside: Vec<SegmentError>,
    /// What peers said they have.
    pub receipts: Vec<(DeviceKey, Vec<Head>)>,
}

impl MemoryReplica {
    pub fn new(n: u8) -> Self {
        let device = super::device(n);
        let root = Root { squad: None, device: device.key() };
        Self {
            device,
            root,
            recovers: None,
            credentials: vec![],
            logs: BTreeMap::new(),
            own: BTreeMap::new(),
            closed: BTreeSet::new(),
            ledger: MemoryLedger::default(),
            invitations: BTreeMap::new(),
            now_ms: 0,
            aside: vec![],
            receipts: vec![],
        }
    }

    /// Founds a squad with this device as its first owner.
    pub fn found(&mut self) -> SquadId {
        self.found_with(None)
    }

    /// The same, with a recovery key.
    pub fn found_with(&mut self, recovery: Option<DeviceKey>) -> SquadId {
        let entry = self.write(Scope::Squad, Draft::new(&founding(recovery)));
        let squad = SquadId(entry.hash.0);
        self.root.squad = Some(squad);
        self.rebuild();
        squad
    }

    /// Carries a squad on, admitted by what the recovery key wrote.
    pub fn recover(&mut self, squad: SquadId, credentials: Vec<Segment>) {
        self.recovers = Some(squad);
        let shown = Batch { segments: credentials.clone(), bodies: vec![] };
        self.credentials = credentials;
        let Ok(taken) = self.take_in(&shown, self.root.device);
        taken.unwrap();
    }

    pub fn invite(&mut self, secret: [u8; SECRET], expires_ms: i64) {
        self.invitations.insert(secret, Invitation { expires_ms, used_by: None });
    }

    /// Writes an admission, as an owner does.
    pub fn admit_device(&mut self, device: DeviceKey, role: Role, members: &[MemberId]) -> Entry {
        self.write(Scope::Squad, Draft::about(Subject::Device(device), &grant(role, members)))
    }

    /// Writes a removal with the cut that this replica sees.
    pub fn remove_device(&mut self, device: DeviceKey) -> Entry {
        let Ok(lines) = self.lines();
        let cut = lines.iter().filter(|l| l.device == device).map(|l| l.head).collect();
        self.write(Scope::Squad, Draft::about(Subject::Device(device), &Fact::Removal(Removal { cut })))
    }

    pub fn consent(&mut self, member: MemberId, given: bool) -> Entry {
        let fact = Fact::Consent(Consent { to: Audience::Coach, given });
        let draft = Draft::about(Subject::Uuid(member.0), &fact);
        let seen = self.live(&consent_key(member, Audience::Coach)).into_iter().collect();
        self.write(Scope::Member(member), draft.replacing(seen))
    }

    pub fn live(&self, key: &Key) -> BTreeSet<Hash> {
        self.state().live.get(key).cloned().unwrap_or_default()
    }

    /// Writes into the own log of a scope; into another one where that is closed.
    pub fn write(&mut self, scope: Scope, draft: Draft) -> Entry {
        let mut openings = (0..).map(|n| Opening::new(&self.device, scope, [n; 16]));
        let opening = openings.find(|o| !self.closed.contains(&o.id())).unwrap();
        self.write_into(opening, draft)
    }

    /// Writes into the log that this record of the own device opens.
    pub fn write_into(&mut self, opening: Opening, draft: Draft) -> Entry {
        let (log, scope) = (opening.id(), opening.scope);
        let held =
            self.logs.entry(log).or_insert_with(|| Held { opening, entries: BTreeMap::new(), seals: vec![] });
        let before = self.own.get(&log).copied().unwrap_or(origin(log));
        let seq = held.entries.get(&before).map_or(0, |e| e.seq);
        let entry = draft.entry(log, seq + 1, scope, before);
        held.entries.insert(entry.hash, entry.clone());
        self.own.insert(log, entry.hash);
        let sealed = held.back(entry.hash).find(|e| held.seals.iter().any(|s| s.hash == e.hash));
        if seq + 1 - sealed.map_or(0, |e| e.seq) == MAX_ENTRIES {
            held.seals.push(Seal::new(&self.device, log, entry.seq, entry.hash));
        }
        self.put(std::slice::from_ref(&entry));
        entry
    }

    fn put(&mut self, entries: &[Entry]) {
        for entry in entries {
            self.ledger.put(self.logs[&entry.log].opening.device, entry.clone());
        }
        let places: Vec<Hash> = entries.iter().map(|e| e.hash).collect();
        let Ok(()) = apply(&mut self.ledger, &self.root, &places);
        self.forget();
    }

    /// Bodies that merge took away go here too, and what is erased goes whole.
    fn forget(&mut self) {
        let kept: BTreeMap<Hash, Content> =
            self.ledger.entries().map(|e| (e.hash, e.content.clone())).collect();
        for held in self.logs.values_mut() {
            for entry in held.entries.values_mut() {
                entry.content = kept[&entry.hash].clone();
            }
        }
        let Ok(authority) = self.ledger.authority();
        let own = authority.standing(self.root.device);
        let gone = |scope: Scope| {
            scope.member().is_some_and(|m| authority.erased.contains(&m) && !own.grants.keeps(m))
        };
        if self.logs.values().any(|held| gone(held.opening.scope)) {
            self.logs.retain(|_, held| !gone(held.opening.scope));
            self.rebuild();
        }
    }

    fn rebuild(&mut self) {
        self.ledger = MemoryLedger::default();
        self.put(&self.entries());
    }

    pub fn state(&self) -> State {
        self.ledger.state()
    }

    /// The state by the plain rules.
    pub fn reference(&self) -> State {
        let devices = self.logs.iter().map(|(id, held)| (*id, held.opening.device)).collect();
        reference::state(&self.root, &devices, &self.entries())
    }

    pub fn entries(&self) -> Vec<Entry> {
        self.logs.values().flat_map(|held| held.entries.values().cloned()).collect()
    }

    /// The entries of the scopes for which `wanted` holds.
    pub fn entries_of(&self, wanted: impl Fn(Scope) -> bool) -> Vec<Entry> {
        self.entries().into_iter().filter(|e| wanted(e.scope)).collect()
    }

    /// The names of the branches of logs that were written twice.
    pub fn branches(&self) -> BTreeSet<Hash> {
        let mut names = BTreeSet::new();
        for (log, held) in &self.logs {
            let mut children: BTreeMap<Hash, Vec<Hash>> = BTreeMap::new();
            for entry in held.entries.values() {
                children.entry(entry.before).or_default().push(entry.hash);
            }
            let forks = children.into_values().filter(|c| c.len() > 1).flatten();
            names.extend(forks.map(|first| branch(*log, first)));
        }
        names
    }

    /// Takes a body away, as a relay that lies would.
    pub fn strip(&mut self, hash: Hash) {
        for held in self.logs.values_mut() {
            if let Some(entry) = held.entries.get_mut(&hash) {
                entry.content = Content::Commitment(entry.content.commitment());
            }
        }
        let Ok(()) = self.ledger.drop_body(hash);
    }

    pub fn may_read(&self, device: DeviceKey, scope: Scope) -> bool {
        let Ok(may) = self.may_hold(device, scope, DeviceKey([0; 32]));
        may
    }

    fn consents(&self, member: MemberId) -> Consents {
        let given = |to| {
            let live = self.live(&consent_key(member, to));
            let entries: Vec<Entry> = self.entries().into_iter().filter(|e| live.contains(&e.hash)).collect();
            let yes = |entry: &Entry| {
                entry.body().is_some_and(|body| {
                    let fact = Fact::read(kind::CONSENT, to.word(), &body.payload);
                    matches!(fact, Ok((Fact::Consent(Consent { given: true, .. }), _)))
                })
            };
            !live.is_empty() && entries.iter().all(yes)
        };
        Consents {
            coach: given(Audience::Coach),
            assistants: given(Audience::Assistants),
            medical: given(Audience::Medical),
        }
    }

    fn withdrawn(&self) -> BTreeSet<Hash> {
        self.state().withdrawn
    }

    fn take_segment(&mut self, segment: &Segment) -> Result<Taken, SegmentError> {
        let log = segment.log;
        let (opening, entries) = segment.check(self.logs.get(&log).map(|held| &held.opening))?;
        let own = opening.device == self.root.device;
        let held =
            self.logs.entry(log).or_insert_with(|| Held { opening, entries: BTreeMap::new(), seals: vec![] });
        if segment.first_seq > 1 && !held.entries.contains_key(&segment.before) {
            if held.entries.is_empty() {
                self.logs.remove(&log);
            }
            return Err(SegmentError::Gap { log, first: segment.first_seq });
        }
        let forks = |e: &Entry| {
            let sibling = held.entries.values().any(|o| o.before == e.before && o.hash != e.hash);
            sibling && !held.entries.contains_key(&e.hash)
        };
        let forked = entries.iter().any(forks);
        let known: BTreeSet<Hash> = held.entries.keys().copied().collect();
        let new: Vec<Entry> = entries.iter().filter(|e| !known.contains(&e.hash)).cloned().collect();
        for entry in entries {
            let old = held.entries.entry(entry.hash).or_insert_with(|| entry.clone());
            if old.body().is_none() {
                old.content = entry.content.clone();
            }
        }
        if !held.seals.contains(&segment.seal) {
            held.seals.push(segment.seal.clone());
        }
        if own && !new.is_empty() {
            self.closed.insert(log);
        }
        let all: Vec<Entry> = segment.check(None).map_or_else(|_| new.clone(), |(_, all)| all);
        self.put(&all);
        Ok(Taken { new: new.len() as u64, forked: if forked { vec![log] } else { vec![] } })
    }
}

fn consent_key(member: MemberId, to: Audience) -> Key {
    Key {
        scope: Scope::Member(member),
        kind: kind::CONSENT.into(),
        subject: Subject::Uuid(member.0),
        field: to.word().into(),
    }
}

/// The field of a removal.
pub const REMOVAL: &str = field_name::REMOVAL;

impl Replica for MemoryReplica {
    type Error = Infallible;

    fn device(&self) -> DeviceKey {
        self.root.device
    }
    fn squad(&self) -> Option<SquadId> {
        self.root.squad
    }
    fn recovers(&self) -> Option<SquadId> {
        self.recovers
    }
    fn credentials(&self) -> Result<Vec<Segment>, Infallible> {
        Ok(self.credentials.clone())
    }
    fn seal(&mut self) -> Result<(), Infallible> {
        for (log, hash) in &self.own {
            let Some(held) = self.logs.get_mut(log) else { continue };
            let seq = held.entries[hash].seq;
            if !held.seals.iter().any(|s| s.hash == *hash) {
                held.seals.push(Seal::new(&self.device, *log, seq, *hash));
            }
        }
        Ok(())
    }
    fn standing(&self, device: DeviceKey) -> Result<Standing, Infallible> {
        Ok(self.ledger.authority()?.standing(device))
    }
    fn may_hold(&self, device: DeviceKey, scope: Scope, writer: DeviceKey) -> Result<bool, Infallible> {
        let consents = match scope {
            Scope::Private(member) => self.consents(member),
            _ => Consents::default(),
        };
        Ok(self.ledger.authority()?.may_hold(device, scope, writer, consents))
    }
    fn lines(&self) -> Result<Vec<Line>, Infallible> {
        let withdrawn = self.withdrawn();
        let mut lines = vec![];
        for (log, held) in &self.logs {
            for seal in held.leaves() {
                let lacks = |e: &&Entry| e.body().is_none() && !withdrawn.contains(&e.hash);
                let first_lacking = held.back(seal.hash).filter(lacks).last();
                let whole = match first_lacking {
                    None => Some(seal.head()),
                    Some(e) => (e.seq > 1).then_some(Head { log: *log, seq: e.seq - 1, hash: e.before }),
                };
                let (scope, device) = (held.opening.scope, held.opening.device);
                lines.push(Line { head: seal.head(), whole, scope, device });
            }
        }
        Ok(lines)
    }
    fn log(&self, log: LogId) -> Result<Option<(Scope, DeviceKey)>, Infallible> {
        Ok(self.logs.get(&log).map(|held| (held.opening.scope, held.opening.device)))
    }
    fn common(&self, line: &Head, theirs: &Head) -> Result<Common, Infallible> {
        let held = &self.logs[&line.log];
        if held.entries.contains_key(&theirs.hash) {
            let way: BTreeSet<Hash> = held.back(line.hash).map(|e| e.hash).collect();
            let common = held.back(theirs.hash).find(|e| way.contains(&e.hash));
            return Ok(Common::UpTo(common.map_or(0, |e| e.seq)));
        }
        let longest = held.entries.values().map(|e| e.seq).max().unwrap_or(0);
        Ok(if theirs.seq > longest { Common::Ahead } else { Common::Apart })
    }
    fn segment_after(&self, line: &Head, seq: u64) -> Result<Option<Segment>, Infallible> {
        let Some(held) = self.logs.get(&line.log) else { return Ok(None) };
        let mut way: Vec<&Entry> = held.back(line.hash).collect();
        way.reverse();
        let sealed = |e: &&&Entry| e.seq > seq && held.seals.iter().any(|s| s.hash == e.hash);
        let Some(last) = way.iter().find(sealed) else { return Ok(None) };
        let between = way.iter().filter(|e| e.seq > seq && e.seq <= last.seq);
        let before = way.iter().find(|e| e.seq == seq).map_or(origin(line.log), |e| e.hash);
        Ok(Some(Segment {
            log: line.log,
            first_seq: seq + 1,
            before,
            opening: (seq == 0).then(|| held.opening.clone()),
            entries: between.map(|e| (e.header_bytes.clone(), e.content.clone())).collect(),
            seal: held.seals.iter().find(|s| s.hash == last.hash).unwrap().clone(),
        }))
    }
    fn lacking(&self) -> Result<Vec<Head>, Infallible> {
        let withdrawn = self.withdrawn();
        let lacking =
            self.entries().into_iter().filter(|e| e.body().is_none() && !withdrawn.contains(&e.hash));
        Ok(lacking.map(|e| Head { log: e.log, seq: e.seq, hash: e.hash }).take(256).collect())
    }
    fn body(&self, entry: &Head) -> Result<Option<Body>, Infallible> {
        let held = self.logs.get(&entry.log).and_then(|held| held.entries.get(&entry.hash));
        Ok(held.and_then(|e| e.body().cloned()))
    }
    fn take_in(&mut self, batch: &Batch, _: DeviceKey) -> Result<Result<Taken, SegmentError>, Infallible> {
        let mut all = Taken::default();
        for segment in &batch.segments {
            match self.take_segment(segment) {
                Ok(taken) => {
                    all.new += taken.new;
                    all.forked.extend(taken.forked);
                }
                Err(why) => {
                    self.aside.push(why.clone());
                    return Ok(Err(why));
                }
            }
        }
        for (at, body) in &batch.bodies {
            let Some(held) = self.logs.get_mut(&at.log) else { continue };
            let Some(entry) = held.entries.get_mut(&at.hash) else { continue };
            if entry.content.commitment() != body.commitment() {
                let why = SegmentError::Entry { log: at.log, seq: at.seq, source: EntryError::Commitment };
                self.aside.push(why.clone());
                return Ok(Err(why));
            }
            entry.content = Content::Body(body.clone());
            let entry = entry.clone();
            self.put(&[entry]);
        }
        Ok(Ok(all))
    }
    fn admit(&mut self, guest: DeviceKey, join: &Join) -> Result<Admission, Infallible> {
        let now_ms = self.now_ms;
        let own = self.standing(self.root.device)?;
        let Some(invitation) = self.invitations.get_mut(&join.secret) else { return Ok(Admission::Unknown) };
        match invitation.used_by {
            Some(device) if device == guest => return Ok(Admission::Admitted),
            Some(_) => return Ok(Admission::Unknown),
            None if invitation.expires_ms < now_ms => return Ok(Admission::Expired),
            None => {}
        }
        if self.root.squad.is_some() && !(own.is_admitted() && own.grants.owner) {
            return Ok(Admission::NotOwner);
        }
        invitation.used_by = Some(guest);
        if self.root.squad.is_some() {
            self.admit_device(guest, Role::Athlete, &join.members);
        }
        self.seal()?;
        Ok(Admission::Admitted)
    }
    fn adopt(&mut self, squad: SquadId) -> Result<bool, Infallible> {
        self.root.squad = Some(squad);
        self.rebuild();
        let admitted = self.standing(self.root.device)?.is_admitted();
        if admitted {
            self.recovers = None;
        } else {
            self.root.squad = None;
            self.rebuild();
        }
        Ok(admitted)
    }
    fn note_receipt(&mut self, peer: DeviceKey, heads: &[Head]) -> Result<(), Infallible> {
        self.receipts.push((peer, heads.to_vec()));
        Ok(())
    }
    fn note_clock(&mut self, _: DeviceKey, _: i64) -> Result<(), Infallible> {
        Ok(())
    }
}
