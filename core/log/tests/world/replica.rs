//! A replica in memory: the contract of `sync::Replica`, kept as a store keeps
//! it. Whatever comes in goes through `Segment::check` and `merge::apply`.

use std::collections::BTreeMap;
use std::convert::Infallible;

use pitside_log::authority::{Grants, Root};
use pitside_log::entry::{Entry, origin};
use pitside_log::memory::MemoryLedger;
use pitside_log::merge::{Ledger, apply};
use pitside_log::opening::Opening;
use pitside_log::reference::{self, State};
use pitside_log::seal::{MAX_ENTRIES, Seal, Signer};
use pitside_log::segment::{Segment, SegmentError};
use pitside_log::sync::{Admission, Have, Head, Join, Replica, SECRET};
use pitside_model::facts::{
    Consent, DeviceKey, Fact, LogId, MemberId, Place, Role, Scope, SquadId, Subject, field_name, kind,
};

use super::{Device, Draft, founding, grant};

#[derive(Clone, Debug)]
struct Held {
    opening: Opening,
    entries: Vec<Entry>,
    seals: Vec<Seal>,
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
    logs: BTreeMap<LogId, Held>,
    ledger: MemoryLedger,
    invitations: BTreeMap<[u8; SECRET], Invitation>,
    pub now_ms: i64,
    /// Why segments were set aside.
    pub aside: Vec<SegmentError>,
    /// What peers said they have.
    pub receipts: Vec<(DeviceKey, Have)>,
}

impl MemoryReplica {
    pub fn new(n: u8) -> Self {
        let device = super::device(n);
        let root = Root { squad: None, device: device.key() };
        Self {
            device,
            root,
            logs: BTreeMap::new(),
            ledger: MemoryLedger::default(),
            invitations: BTreeMap::new(),
            now_ms: 0,
            aside: vec![],
            receipts: vec![],
        }
    }

    /// Founds a squad with this device as its first owner.
    pub fn found(&mut self) -> SquadId {
        let entry = self.write(Scope::Squad, Draft::new(&founding()));
        let squad = SquadId(entry.hash.0);
        self.root.squad = Some(squad);
        self.rebuild();
        squad
    }

    pub fn invite(&mut self, secret: [u8; SECRET], expires_ms: i64) {
        self.invitations.insert(secret, Invitation { expires_ms, used_by: None });
    }

    /// Writes an admission, as an owner does.
    pub fn admit_device(&mut self, device: DeviceKey, role: Role, members: &[MemberId]) -> Entry {
        self.write(Scope::Squad, Draft::about(Subject::Device(device), &grant(role, members)))
    }

    pub fn consent(&mut self, member: MemberId, given: bool) -> Entry {
        let fact = Fact::Consent(Consent { given });
        let draft = Draft::about(Subject::Uuid(member.0), &fact);
        let key = pitside_log::entry::Key {
            scope: Scope::Member(member),
            kind: kind::CONSENT.into(),
            subject: Subject::Uuid(member.0),
            field: field_name::PRIVATE.into(),
        };
        let seen = self.state().live.get(&key).into_iter().flatten().copied().collect();
        self.write(Scope::Member(member), draft.replacing(seen))
    }

    pub fn write(&mut self, scope: Scope, draft: Draft) -> Entry {
        self.write_into(Opening::new(&self.device, scope, [0; 16]), draft)
    }

    /// Writes into the log that this record of the own device opens.
    pub fn write_into(&mut self, opening: Opening, draft: Draft) -> Entry {
        let (log, scope) = (opening.id(), opening.scope);
        let held = self.logs.entry(log).or_insert_with(|| Held { opening, entries: vec![], seals: vec![] });
        let (seq, before) = held.entries.last().map_or((0, origin(log)), |e| (e.place.seq, e.hash));
        let entry = draft.entry(Place { log, seq: seq + 1 }, scope, before);
        held.entries.push(entry.clone());
        let unsealed = seq + 1 - held.seals.last().map_or(0, |s| s.seq);
        if unsealed == MAX_ENTRIES {
            held.seals.push(Seal::new(&self.device, log, entry.place.seq, entry.hash));
        }
        self.put(&entry);
        entry
    }

    fn put(&mut self, entry: &Entry) {
        let device = self.logs[&entry.place.log].opening.device;
        self.ledger.put(device, entry.clone());
        let Ok(()) = apply(&mut self.ledger, &self.root, entry.place);
    }

    fn rebuild(&mut self) {
        self.ledger = MemoryLedger::default();
        for entry in self.entries() {
            self.put(&entry);
        }
    }

    pub fn state(&self) -> &State {
        self.ledger.state()
    }

    /// The state by the plain rules.
    pub fn reference(&self) -> State {
        let devices = self.logs.iter().map(|(id, held)| (*id, held.opening.device)).collect();
        reference::state(&self.root, &devices, &self.entries())
    }

    pub fn entries(&self) -> Vec<Entry> {
        self.logs.values().flat_map(|held| held.entries.clone()).collect()
    }

    /// The entries of the scopes for which `wanted` holds, by place.
    pub fn entries_of(&self, wanted: impl Fn(Scope) -> bool) -> Vec<Entry> {
        self.entries().into_iter().filter(|e| wanted(e.scope)).collect()
    }

    pub fn shares(&self, scope: Scope) -> bool {
        let Ok(shares) = self.shares_private(scope);
        shares
    }

    pub fn may_read(&self, device: DeviceKey, scope: Scope) -> bool {
        let Ok(grants) = self.grants(device);
        grants.may_read(scope, self.shares(scope))
    }
}

impl Replica for MemoryReplica {
    type Error = Infallible;

    fn device(&self) -> DeviceKey {
        self.root.device
    }
    fn squad(&self) -> Option<SquadId> {
        self.root.squad
    }
    fn seal(&mut self) -> Result<(), Infallible> {
        for (log, held) in &mut self.logs {
            let Some(last) = held.entries.last() else { continue };
            let sealed = held.seals.last().map_or(0, |s| s.seq);
            if held.opening.device == self.root.device && sealed < last.place.seq {
                held.seals.push(Seal::new(&self.device, *log, last.place.seq, last.hash));
            }
        }
        Ok(())
    }
    fn grants(&self, device: DeviceKey) -> Result<Grants, Infallible> {
        self.ledger.grants(device)
    }
    fn shares_private(&self, scope: Scope) -> Result<bool, Infallible> {
        let Scope::Private(member) = scope else { return Ok(false) };
        let live: Vec<_> = self
            .state()
            .live
            .iter()
            .filter(|(key, _)| {
                key.scope == Scope::Member(member)
                    && key.kind == kind::CONSENT
                    && key.subject == Subject::Uuid(member.0)
                    && key.field == field_name::PRIVATE
            })
            .flat_map(|(_, live)| live)
            .collect();
        let given = |entry: &Entry| {
            let payload = &entry.body.as_ref().unwrap().payload;
            matches!(
                Fact::read(kind::CONSENT, field_name::PRIVATE, payload),
                Ok((Fact::Consent(Consent { given: true }), _))
            )
        };
        let entries = self.entries();
        let mut values = entries.iter().filter(|e| live.contains(&&e.hash));
        Ok(!live.is_empty() && values.all(given))
    }
    fn heads(&self) -> Result<Vec<(Head, Scope)>, Infallible> {
        let sealed = self.logs.iter().filter_map(|(log, held)| Some((log, held, held.seals.last()?)));
        Ok(sealed
            .map(|(log, held, seal)| (Head { log: *log, seq: seal.seq, hash: seal.hash }, held.opening.scope))
            .collect())
    }
    fn scope(&self, log: LogId) -> Result<Option<Scope>, Infallible> {
        Ok(self.logs.get(&log).map(|held| held.opening.scope))
    }
    fn segment_after(&self, log: LogId, seq: u64) -> Result<Option<Segment>, Infallible> {
        let Some(held) = self.logs.get(&log) else { return Ok(None) };
        let Some(seal) = held.seals.iter().find(|s| s.seq > seq) else { return Ok(None) };
        let before = held.entries.iter().find(|e| e.place.seq == seq).map_or(origin(log), |e| e.hash);
        let between = held.entries.iter().filter(|e| e.place.seq > seq && e.place.seq <= seal.seq);
        Ok(Some(Segment {
            log,
            first_seq: seq + 1,
            before,
            opening: (seq == 0).then(|| held.opening.clone()),
            entries: between.map(|e| (e.header_bytes.clone(), e.body.clone())).collect(),
            seal: seal.clone(),
        }))
    }
    fn agrees(&self, head: &Head) -> Result<Option<bool>, Infallible> {
        let held = self.logs.get(&head.log);
        let entry = held.and_then(|held| held.entries.iter().find(|e| e.place.seq == head.seq));
        Ok(entry.map(|e| e.hash == head.hash))
    }
    fn take_in(
        &mut self,
        segment: &Segment,
        _from: DeviceKey,
    ) -> Result<Result<u64, SegmentError>, Infallible> {
        let taken = self.take_checked(segment);
        if let Err(why) = &taken {
            self.aside.push(why.clone());
        }
        Ok(taken)
    }
    fn admit(&mut self, guest: DeviceKey, join: &Join) -> Result<Admission, Infallible> {
        let now_ms = self.now_ms;
        let Some(invitation) = self.invitations.get_mut(&join.secret) else { return Ok(Admission::Unknown) };
        match invitation.used_by {
            Some(device) if device == guest => return Ok(Admission::Admitted),
            Some(_) => return Ok(Admission::Unknown),
            None if invitation.expires_ms < now_ms => return Ok(Admission::Expired),
            None => {}
        }
        invitation.used_by = Some(guest);
        self.admit_device(guest, Role::Athlete, &join.members);
        Ok(Admission::Admitted)
    }
    fn adopt(&mut self, squad: SquadId) -> Result<bool, Infallible> {
        self.root.squad = Some(squad);
        self.rebuild();
        let admitted = !self.ledger.grants(self.root.device)?.is_empty();
        if !admitted {
            self.root.squad = None;
            self.rebuild();
        }
        Ok(admitted)
    }
    fn note_receipt(&mut self, peer: DeviceKey, have: &Have) -> Result<(), Infallible> {
        self.receipts.push((peer, have.clone()));
        Ok(())
    }
}

impl MemoryReplica {
    fn take_checked(&mut self, segment: &Segment) -> Result<u64, SegmentError> {
        let log = segment.log;
        let (opening, entries) = segment.check(self.logs.get(&log).map(|held| &held.opening))?;
        let held = self.logs.get(&log);
        let head = held.and_then(|held| held.entries.last());
        let (head_seq, head_hash) = head.map_or((0, origin(log)), |e| (e.place.seq, e.hash));
        if segment.first_seq > head_seq + 1 {
            return Err(SegmentError::Gap { log, after: head_seq, first: segment.first_seq });
        }
        if segment.first_seq == head_seq + 1 && segment.before != head_hash {
            return Err(SegmentError::Fork { log, seq: head_seq });
        }
        let known = held.into_iter().flat_map(|held| &held.entries);
        let known: BTreeMap<u64, &Entry> = known.map(|e| (e.place.seq, e)).collect();
        for entry in &entries {
            if known.get(&entry.place.seq).is_some_and(|k| k.hash != entry.hash) {
                return Err(SegmentError::Fork { log, seq: entry.place.seq });
            }
        }
        let new: Vec<Entry> = entries.into_iter().filter(|e| e.place.seq > head_seq).collect();
        if !new.is_empty() {
            let held =
                self.logs.entry(log).or_insert_with(|| Held { opening, entries: vec![], seals: vec![] });
            held.entries.extend(new.iter().cloned());
            held.seals.push(segment.seal.clone());
            new.iter().for_each(|entry| self.put(entry));
        }
        Ok(new.len() as u64)
    }
}
