//! What must hold, on one device after every step and among all after quiet.

use std::collections::{BTreeMap, BTreeSet};

use pitside_book::store::{Filter, Whereabouts};
use pitside_log::authority::{Grants, Judgement, Reach, Root};
use pitside_log::entry::{Entry, Key, branch};
use pitside_log::reference::{self, State};
use pitside_model::facts::{Consent, DeviceKey, Fact, Hash, LogId, MemberId, Scope, SquadId, Subject, kind};

use crate::device::Seen;
use crate::meeting::Ended;
use crate::world::{Violation, World};

/// A writer that no device is: what is asked is whether one may read.
const NOBODY: DeviceKey = DeviceKey([0; 32]);

/// The most rounds in which everyone meets everyone before it must be quiet.
const ROUNDS: usize = 12;

/// What became of each fact that a step wrote, on each device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Shape {
    /// By device, then by fact: how it is judged, whether it is live, whether its
    /// body is there; `None` where it is not held.
    pub(crate) facts: Vec<Vec<Option<(Judgement, bool, bool)>>>,
    /// Whether an invitation ended before its guest came.
    pub(crate) expired: bool,
}

/// One device, read once.
struct Copy {
    entries: Vec<(DeviceKey, Entry)>,
    state: State,
}

impl World {
    fn copy(&self, device: usize) -> Result<Copy, Violation> {
        let book = self.devices[device].book()?;
        Ok(Copy { entries: book.entries()?, state: book.state()? })
    }

    /// Checks one device by itself, after one step.
    ///
    /// # Errors
    /// [`Violation`] of what does not hold.
    pub(crate) fn check(&mut self, device: usize) -> Result<(), Violation> {
        self.check_after(device, false)
    }

    /// The same, after one step or after many: then a withdrawal may have counted, or a
    /// member have been erased, for a while, until more of the squad's part was heard.
    fn check_after(&mut self, device: usize, many: bool) -> Result<(), Violation> {
        let copy = self.copy(device)?;
        let book = self.devices[device].book()?;
        let root = Root { squad: book.squad(), device: book.device() };
        let devices: BTreeMap<LogId, DeviceKey> = copy.entries.iter().map(|(d, e)| (e.log, *d)).collect();
        let entries: Vec<Entry> = copy.entries.iter().map(|(_, e)| e.clone()).collect();
        let expected = reference::state(&root, &devices, &entries);
        if copy.state != expected {
            let what = difference(&copy.state, &expected);
            return Err(Violation::new("reference", format!("device {device}: {what}")));
        }
        for entry in &entries {
            let bare = entry.body().is_none();
            let bound =
                matches!(entry.header.kind.as_str(), kind::LIMIT | kind::ADVICE | kind::RULE | kind::CONSENT);
            if bound && (bare || copy.state.withdrawn.contains(&entry.hash)) {
                let what = format!("on device {device} a {} is taken away", entry.header.kind);
                return Err(Violation::new("withdrawal", what));
            }
            if copy.state.withdrawn.contains(&entry.hash) && !bare {
                let what = format!("device {device} kept the body of a withdrawn {}", entry.header.kind);
                return Err(Violation::new("withdrawal", what));
            }
        }
        if root.squad.is_some() {
            self.check_authority(device, &copy, root.squad)?;
        }
        let own = copy.state.authority.standing(root.device).grants;
        let gone = |m: MemberId| copy.state.authority.erased.contains(&m) && !own.keeps(m);
        for entry in &entries {
            if entry.scope.member().is_some_and(gone) {
                let what = format!("device {device} holds a {} of an erased member", entry.header.kind);
                return Err(Violation::new("erasure", what));
            }
        }
        let mut withdrawn = copy.state.withdrawn.clone();
        if many {
            withdrawn.extend(entries.iter().filter_map(Entry::withdraws));
        }
        let now: BTreeMap<Hash, Seen> = copy
            .entries
            .iter()
            .map(|(by, e)| (e.hash, Seen { scope: e.scope, device: *by, with_body: e.body().is_some() }))
            .collect();
        for (hash, seen) in &self.devices[device].seen {
            let Some(still) = now.get(hash) else {
                let let_go = |m: &MemberId| self.devices[device].let_go.contains(m);
                // Its author's removal may have been heard later, or that it is one
                // athlete with the own one.
                let was_gone = |m: &MemberId| {
                    let about = |e: &Entry| e.header.target.as_ref().map(|t| t.subject);
                    let said =
                        |e: &Entry| e.header.kind == kind::ERASURE && about(e) == Some(Subject::Uuid(m.0));
                    many && entries.iter().any(said)
                };
                if !seen.scope.member().is_some_and(|m| gone(m) || was_gone(&m) || let_go(&m)) {
                    let what = format!("device {device} lost an entry of {}", self.scope_name(seen.scope));
                    return Err(Violation::new("loss", what));
                }
                continue;
            };
            if seen.with_body && !still.with_body && !withdrawn.contains(hash) {
                let what =
                    format!("device {device} lost the body of an entry of {}", self.scope_name(seen.scope));
                return Err(Violation::new("loss of a body", what));
            }
        }
        self.devices[device].seen = now;
        Ok(())
    }

    /// Nothing counts without authority, and nothing of a removed device that does
    /// not lead to a head of its cut.
    fn check_authority(&self, device: usize, copy: &Copy, squad: Option<SquadId>) -> Result<(), Violation> {
        let by_hash: BTreeMap<Hash, &Entry> = copy.entries.iter().map(|(_, e)| (e.hash, e)).collect();
        let mut inside: BTreeMap<DeviceKey, BTreeSet<Hash>> = BTreeMap::new();
        for (by, standing) in &copy.state.authority.standings {
            let Some(cut) = &standing.cut else { continue };
            let reached = inside.entry(*by).or_default();
            for head in cut {
                let mut at = by_hash.get(&head.hash);
                while let Some(entry) = at.filter(|entry| reached.insert(entry.hash)) {
                    at = by_hash.get(&entry.before);
                }
            }
        }
        for (by, entry) in &copy.entries {
            if copy.state.judgements.get(&entry.hash) != Some(&Judgement::Counted) {
                continue;
            }
            let founding = squad.is_some_and(|squad| squad.0 == entry.hash.0);
            let given = may_write(&copy.state.authority.standing(*by).grants, entry);
            // On the removed device itself its members' entries go on counting, but for a
            // consent that is given.
            let own = *by == self.devices[device].key() && entry.scope.member().is_some();
            let goes_on = own && (entry.header.kind != kind::CONSENT || takes_back(entry));
            let cut_off = !goes_on && inside.get(by).is_some_and(|inside| !inside.contains(&entry.hash));
            if !founding && (!given || cut_off) {
                let what = format!(
                    "device {device} counts a {} of {} by {}, {}",
                    entry.header.kind,
                    self.scope_name(entry.scope),
                    self.name_of(*by),
                    if given { "which was cut off before" } else { "which was not given that" }
                );
                return Err(Violation::new("authority", what));
            }
        }
        Ok(())
    }

    /// Checks what takes longer: what is kept against its hashes, the projection
    /// against one made anew, equal values against clashes.
    fn check_whole(&self, device: usize) -> Result<(), Violation> {
        let copy = self.copy(device)?;
        let book = self.devices[device].book()?;
        for (_, entry) in &copy.entries {
            let again = Entry::from_parts(
                entry.log,
                entry.seq,
                entry.scope,
                entry.before,
                entry.header_bytes.clone(),
                entry.content.clone(),
            );
            if again.as_ref() != Ok(entry) {
                return Err(Violation::new(
                    "bytes",
                    format!("device {device}: an entry is not what its hash says"),
                ));
            }
        }
        let bodies: BTreeMap<Hash, Option<&[u8]>> = copy
            .entries
            .iter()
            .map(|(_, e)| (e.hash, e.body().map(|body| body.payload.as_slice())))
            .collect();
        let clashes = book.held(&Filter { clashing: true, ..Filter::default() })?;
        let clashing: BTreeSet<Key> =
            clashes.iter().filter(|h| h.is_clash()).map(|h| h.key.clone()).collect();
        for (key, live) in &copy.state.live {
            // What was taken away and is wanted again has no value yet.
            let values: BTreeSet<_> = live.iter().map(|hash| bodies.get(hash).copied().flatten()).collect();
            if (values.len() > 1) != clashing.contains(key) {
                let what = format!(
                    "device {device}: {} values of {} {} are{} said to clash",
                    values.len(),
                    key.kind,
                    key.field,
                    if clashing.contains(key) { "" } else { " not" }
                );
                return Err(Violation::new("clash", what));
            }
        }
        let uncounted: BTreeMap<Hash, Judgement> =
            book.uncounted()?.into_iter().map(|entry| (entry.hash, entry.judgement)).collect();
        let judged = copy.state.judgements.iter().filter(|(_, j)| **j != Judgement::Counted);
        if uncounted != judged.map(|(hash, j)| (*hash, *j)).collect() {
            let what = format!("device {device} does not show all that does not count");
            return Err(Violation::new("uncounted", what));
        }
        if !self.refused_pieces && !book.aside()?.is_empty() {
            let what = format!("device {device} set something aside that nobody changed on the way");
            return Err(Violation::new("aside", what));
        }
        book.rebuild()?;
        let rebuilt = book.state()?;
        if rebuilt != copy.state {
            let what = difference(&rebuilt, &copy.state);
            return Err(Violation::new("rebuild", format!("device {device}: {what}")));
        }
        Ok(())
    }

    /// Everyone meets everyone until nothing moves; then all are compared.
    ///
    /// # Errors
    /// [`Violation`] of what does not hold.
    pub(crate) fn quiet(&mut self) -> Result<(), Violation> {
        self.meetings.clear();
        for device in &mut self.devices {
            device.group = 0;
        }
        for _ in 0..ROUNDS {
            let before: Vec<_> = self.devices.iter().map(|device| fingerprint(&device.seen)).collect();
            let mut met = Vec::new();
            for a in 0..self.devices.len() {
                for b in a + 1..self.devices.len() {
                    let apart = self.devices[a].key == self.devices[b].key;
                    if apart || self.devices[a].book()?.squad().is_none() {
                        continue;
                    }
                    let at = self.open_meeting(a, b, None)?;
                    if self.deliver(at, u32::MAX)? == Ended::Done {
                        met.push((a, b));
                    }
                }
            }
            for device in 0..self.devices.len() {
                self.check_after(device, true)?;
            }
            let after: Vec<_> = self.devices.iter().map(|device| fingerprint(&device.seen)).collect();
            if before == after {
                return self.compare(&met);
            }
        }
        Err(Violation::new(
            "rest",
            format!("after {ROUNDS} rounds in which everyone met everyone something still moves"),
        ))
    }

    fn compare(&mut self, met: &[(usize, usize)]) -> Result<(), Violation> {
        let mut copies = Vec::new();
        for device in 0..self.devices.len() {
            self.check_whole(device)?;
            copies.push(self.copy(device)?);
        }
        for (a, b) in met {
            self.compare_two((*a, &copies[*a]), (*b, &copies[*b]))?;
        }
        for device in 0..self.devices.len() {
            self.check_receipts(device, &copies, met)?;
        }
        Ok(())
    }

    /// What a device says about where its own entries are besides: the devices named
    /// have them, and of those met last none is missing.
    fn check_receipts(
        &self,
        device: usize,
        copies: &[Copy],
        met: &[(usize, usize)],
    ) -> Result<(), Violation> {
        let own = &self.devices[device];
        let book = own.book()?;
        // A book that is put back knows no more what it had, nor which of two copies.
        let one_book = |n: &usize| {
            let other = &self.devices[*n];
            !other.was_put_back && self.devices.iter().filter(|d| d.key == other.key).count() == 1
        };
        for held in book.held(&Filter::default())? {
            let scope = held.key.scope;
            if scope.member().is_some_and(|m| self.ever_erased.contains(&m)) {
                continue;
            }
            for live in held.values.iter().filter(|live| live.device == own.key()) {
                let named: BTreeSet<DeviceKey> = match book.whereabouts(live.place)? {
                    Whereabouts::With(others) => others.into_iter().map(|(other, _)| other).collect(),
                    _ => BTreeSet::new(),
                };
                for n in (0..self.devices.len()).filter(|n| *n != device).filter(one_book) {
                    let other = &self.devices[n];
                    let has = copies[n].state.judgements.contains_key(&live.hash);
                    let says = named.contains(&other.key());
                    let whole = copies[n].entries.iter().all(|(_, entry)| {
                        entry.body().is_some() || copies[n].state.withdrawn.contains(&entry.hash)
                    });
                    let just_met = met.contains(&(device, n)) || met.contains(&(n, device));
                    let due = just_met && has && whole && self.both_hold(device, n, scope)?;
                    if (says && !has) || (due && !says) {
                        let what = format!(
                            "device {device} says that device {n} has{} a {} of {}",
                            if says { "" } else { " not" },
                            held.key.kind,
                            self.scope_name(scope)
                        );
                        return Err(Violation::new("receipt", what));
                    }
                }
            }
        }
        Ok(())
    }

    /// Two that met last are the same in all that both may hold.
    fn compare_two(&self, (a, one): (usize, &Copy), (b, other): (usize, &Copy)) -> Result<(), Violation> {
        let differ = |what: &str, of: &str| {
            Err(Violation::new("difference", format!("devices {a} and {b} differ in {what} of {of}")))
        };
        if one.state.authority != other.state.authority {
            return differ("the authority", "the squad");
        }
        let scopes: BTreeSet<Scope> =
            one.entries.iter().chain(&other.entries).map(|(_, e)| e.scope).collect();
        for scope in scopes {
            if !self.both_hold(a, b, scope)? {
                continue;
            }
            let of = self.scope_name(scope);
            let (mine, theirs) = (within(one, scope), within(other, scope));
            if mine.keys().ne(theirs.keys()) {
                return differ("the entries", &of);
            }
            for (hash, entry) in &mine {
                if theirs[hash].header_bytes != entry.header_bytes || theirs[hash].content != entry.content {
                    return differ("what an entry says", &format!("{of} ({})", entry.header.kind));
                }
            }
            if branches(&mine) != branches(&theirs) {
                return differ("the branches", &of);
            }
            let live = |copy: &Copy| -> Vec<(Key, BTreeSet<Hash>)> {
                let of_scope = copy.state.live.iter().filter(|(key, _)| key.scope == scope);
                of_scope.map(|(key, live)| (key.clone(), live.clone())).collect()
            };
            // Of an erased member each judges by whether it keeps the member's own.
            let erased = scope.member().is_some_and(|m| one.state.authority.erased.contains(&m));
            if !erased && live(one) != live(other) {
                return differ("what is live", &of);
            }
            let judged = |hash: &Hash| one.state.judgements.get(hash) != other.state.judgements.get(hash);
            if !erased && mine.keys().any(judged) {
                return differ("what counts", &of);
            }
        }
        Ok(())
    }

    fn both_hold(&self, a: usize, b: usize, scope: Scope) -> Result<bool, Violation> {
        for device in [a, b] {
            let book = self.devices[device].book()?;
            let consents = match scope.member() {
                Some(member) => book.consents(member)?,
                None => pitside_log::authority::Consents::default(),
            };
            let authority = book.authority()?;
            if scope.member().is_some_and(|m| self.devices[device].let_go.contains(&m)) {
                return Ok(false);
            }
            for key in [self.devices[a].key(), self.devices[b].key()] {
                if !authority.may_hold(key, scope, NOBODY, consents) {
                    return Ok(false);
                }
            }
        }
        Ok(true)
    }

    /// What became of every fact.
    ///
    /// # Errors
    /// Where a book cannot be read.
    pub(crate) fn shape(&self) -> Result<Shape, Violation> {
        let mut facts = Vec::new();
        for device in 0..self.devices.len() {
            let copy = self.copy(device)?;
            let live: BTreeSet<Hash> = copy.state.live.values().flatten().copied().collect();
            let bodies: BTreeMap<Hash, bool> =
                copy.entries.iter().map(|(_, e)| (e.hash, e.body().is_some())).collect();
            let of = self.written.iter().map(|written| {
                let with_body = bodies.get(&written.hash)?;
                Some((copy.state.judgements[&written.hash], live.contains(&written.hash), *with_body))
            });
            facts.push(of.collect());
        }
        Ok(Shape { facts, expired: self.expired })
    }
}

/// Who may write what: the table of the design, written down a second time.
fn may_write(grants: &Grants, entry: &Entry) -> bool {
    let covers = |reach: &Reach, m: MemberId| reach.everyone || reach.members.contains(&m);
    let kind = entry.header.kind.as_str();
    match entry.scope {
        Scope::Squad => grants.owner || (grants.recovery && kind == kind::DEVICE),
        Scope::Staff => grants.owner || grants.assists.everyone || !grants.assists.members.is_empty(),
        Scope::Private(m) => grants.serves.contains(&m),
        Scope::Member(m) => match kind {
            kind::CONSENT => grants.serves.contains(&m) || covers(&grants.consents, m),
            kind::LIMIT | kind::ADVICE => grants.owner || covers(&grants.limits, m),
            kind::RULE => grants.owner,
            _ => {
                let guards = kind == kind::MEMBER && covers(&grants.guards, m);
                grants.owner || guards || grants.serves.contains(&m) || covers(&grants.assists, m)
            }
        },
    }
}

fn fingerprint(seen: &BTreeMap<Hash, Seen>) -> (usize, usize) {
    (seen.len(), seen.values().filter(|seen| seen.with_body).count())
}

fn within(copy: &Copy, scope: Scope) -> BTreeMap<Hash, &Entry> {
    copy.entries.iter().filter(|(_, e)| e.scope == scope).map(|(_, e)| (e.hash, e)).collect()
}

/// The names of the branches of all logs that were written twice.
fn branches(entries: &BTreeMap<Hash, &Entry>) -> BTreeSet<Hash> {
    let mut next: BTreeMap<(LogId, Hash), Vec<Hash>> = BTreeMap::new();
    for entry in entries.values() {
        next.entry((entry.log, entry.before)).or_default().push(entry.hash);
    }
    let forks = next.into_iter().filter(|(_, firsts)| firsts.len() > 1);
    forks.flat_map(|((log, _), firsts)| firsts.into_iter().map(move |first| branch(log, first))).collect()
}

/// In words, the first thing in which what is kept differs from what is expected.
fn difference(found: &State, expected: &State) -> String {
    let key = |key: &Key| format!("{:?} {} {}", key.scope, key.kind, key.field);
    if found.authority != expected.authority {
        return format!("authority is {:?}, expected {:?}", found.authority, expected.authority);
    }
    for (hash, judgement) in &expected.judgements {
        if found.judgements.get(hash) != Some(judgement) {
            return format!("an entry is judged {:?}, expected {judgement:?}", found.judgements.get(hash));
        }
    }
    for (k, live) in &expected.live {
        if found.live.get(k) != Some(live) {
            let n = found.live.get(k).map_or(0, BTreeSet::len);
            return format!("{n} values are live of {}, expected {}", key(k), live.len());
        }
    }
    for k in found.live.keys() {
        if !expected.live.contains_key(k) {
            return format!("something is live of {}, expected nothing", key(k));
        }
    }
    "what is withdrawn differs".to_owned()
}

/// Whether a consent is taken back by this entry.
fn takes_back(entry: &Entry) -> bool {
    let read = |payload: &[u8]| Fact::read(kind::CONSENT, &entry.key().field, payload);
    let fact = entry.body().and_then(|body| read(&body.payload).ok()).map(|(fact, _)| fact);
    matches!(fact, Some(Fact::Deleted | Fact::Consent(Consent { given: false, .. })))
}
