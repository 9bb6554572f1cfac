//! Merge: which entries count, and which are live.
//!
//! An entry is *live* when it counts, no entry that counts replaces it, and its
//! body was not withdrawn. An entry replaces only what has the same [key](Key).
//! More than one distinct live value of a key is a *clash*, shown until a person
//! settles it with an entry that replaces them all. Edit, correction, settlement
//! and deletion are this one rule.
//!
//! [`apply`] takes entries in any order, grouping and repetition and keeps the
//! state that follows from the set of them. Where an [act](Entry::is_act) is
//! among them, authority is [settled](settle) anew, and the entries of the devices
//! and members for which something changed are judged again, both ways.
//! [`reference`](crate::reference) is what it is checked against.

use std::collections::BTreeSet;
use std::sync::Arc;

use pitside_model::facts::{DeviceKey, Hash, Head, MemberId, Scope};

use crate::authority::{Act, Authority, Judgement, Root, judge, settle};
use crate::entry::{Entry, Key};

/// What merge keeps between two calls. Each store of entries is one, and must
/// pass the same suite.
///
/// Its functions fail only where the ledger cannot be read or written.
#[allow(clippy::missing_errors_doc, reason = "said once, above")]
pub trait Ledger {
    /// Why it could not read or write.
    type Error;
    /// Where an entry is kept.
    type Place: Copy;

    /// An entry that was put in, and the device of its log.
    fn entry(&self, place: Self::Place) -> Result<(Arc<Entry>, DeviceKey), Self::Error>;
    /// The entry with this hash in a scope, where it was put in.
    fn find(&self, scope: Scope, hash: Hash) -> Result<Option<Self::Place>, Self::Error>;
    /// The acts that were put in.
    fn acts(&self) -> Result<Vec<Act<Self::Place>>, Self::Error>;
    /// The entries of a device.
    fn of_device(&self, device: DeviceKey) -> Result<Vec<Self::Place>, Self::Error>;
    /// The entries of a scope.
    fn of_scope(&self, scope: Scope) -> Result<Vec<Self::Place>, Self::Error>;
    /// Whether an entry lies on the way to one of these heads, or is one; `false`
    /// as long as the head itself is not held.
    fn within(&self, place: Self::Place, cut: &[Head]) -> Result<bool, Self::Error>;

    /// The authority settled last.
    fn authority(&self) -> Result<Authority, Self::Error>;
    /// Keeps the authority.
    fn set_authority(&mut self, authority: &Authority) -> Result<(), Self::Error>;
    /// How an entry was judged last; `None` before.
    fn judgement(&self, place: Self::Place) -> Result<Option<Judgement>, Self::Error>;
    /// Keeps a judgement.
    fn set_judgement(&mut self, place: Self::Place, judgement: Judgement) -> Result<(), Self::Error>;

    /// Keeps that the entry at `by` replaces the entry `hash`.
    fn replace(&mut self, key: &Key, hash: Hash, by: Self::Place) -> Result<(), Self::Error>;
    /// Takes that back.
    fn unreplace(&mut self, key: &Key, hash: Hash, by: Self::Place) -> Result<(), Self::Error>;
    /// Whether any entry is kept as replacing it.
    fn is_replaced(&self, key: &Key, hash: Hash) -> Result<bool, Self::Error>;
    /// Keeps that the entry at `by` withdraws the entry `hash`.
    fn withdraw(&mut self, scope: Scope, hash: Hash, by: Self::Place) -> Result<(), Self::Error>;
    /// Takes that back.
    fn unwithdraw(&mut self, scope: Scope, hash: Hash, by: Self::Place) -> Result<(), Self::Error>;
    /// Whether any entry is kept as withdrawing it.
    fn is_withdrawn(&self, scope: Scope, hash: Hash) -> Result<bool, Self::Error>;
    /// Takes the body of an entry away.
    fn drop_body(&mut self, place: Self::Place) -> Result<(), Self::Error>;
    /// Adds an entry to the live ones, or refreshes it there.
    fn put_live(&mut self, key: &Key, place: Self::Place, entry: &Entry) -> Result<(), Self::Error>;
    /// Takes an entry out of the live ones, where it is among them.
    fn drop_live(&mut self, key: &Key, hash: Hash) -> Result<(), Self::Error>;
}

/// Takes entries into the state. They must be in the ledger; one whose body came
/// later is taken in again.
///
/// # Errors
/// Where the ledger cannot be read or written.
pub fn apply<L: Ledger>(ledger: &mut L, root: &Root, places: &[L::Place]) -> Result<(), L::Error> {
    let authority = ledger.authority()?;
    let mut acts = false;
    let mut cut_off = BTreeSet::new();
    for place in places {
        let (entry, device) = ledger.entry(*place)?;
        acts |= entry.is_act();
        if authority.standings.get(&device).is_some_and(|standing| standing.cut.is_some()) {
            cut_off.insert(device);
        }
        judge_entry(ledger, root, &authority, *place, &entry, device)?;
    }
    // What lies on the way to a cut shows when the head is there.
    let removed_owner = |device: &DeviceKey| {
        let grants = &authority.standings[device].grants;
        grants.owner || grants.recovery
    };
    if acts || cut_off.iter().any(removed_owner) {
        resettle(ledger, root, &authority)?;
    }
    let authority = ledger.authority()?;
    for device in cut_off {
        for place in ledger.of_device(device)? {
            if ledger.judgement(place)? != Some(Judgement::Counted) {
                judge_again(ledger, root, &authority, place)?;
            }
        }
    }
    Ok(())
}

/// Settles authority and judges again what hangs on what changed.
fn resettle<L: Ledger>(ledger: &mut L, root: &Root, old: &Authority) -> Result<(), L::Error> {
    let acts = ledger.acts()?;
    let new = settle(root, &acts, |place, cut| ledger.within(place, cut))?;
    if new == *old {
        return Ok(());
    }
    ledger.set_authority(&new)?;
    let devices: BTreeSet<DeviceKey> = old.standings.keys().chain(new.standings.keys()).copied().collect();
    for device in devices.iter().filter(|d| old.standings.get(d) != new.standings.get(d)) {
        for place in ledger.of_device(*device)? {
            judge_again(ledger, root, &new, place)?;
        }
    }
    for act in acts {
        if old.idle.contains(&act.entry.hash) != new.idle.contains(&act.entry.hash) {
            judge_again(ledger, root, &new, act.place)?;
        }
    }
    let keeps = |authority: &Authority, member: MemberId| {
        authority.standings.get(&root.device).is_some_and(|own| own.grants.keeps(member))
    };
    let erased: BTreeSet<MemberId> = old.erased.union(&new.erased).copied().collect();
    for member in erased {
        let before = old.erased.contains(&member) && !keeps(old, member);
        let after = new.erased.contains(&member) && !keeps(&new, member);
        if before == after {
            continue;
        }
        for scope in [Scope::Member(member), Scope::Private(member)] {
            for place in ledger.of_scope(scope)? {
                judge_again(ledger, root, &new, place)?;
            }
        }
    }
    Ok(())
}

fn judge_again<L: Ledger>(
    ledger: &mut L,
    root: &Root,
    authority: &Authority,
    place: L::Place,
) -> Result<(), L::Error> {
    let (entry, device) = ledger.entry(place)?;
    judge_entry(ledger, root, authority, place, &entry, device)
}

fn judge_entry<L: Ledger>(
    ledger: &mut L,
    root: &Root,
    authority: &Authority,
    place: L::Place,
    entry: &Entry,
    device: DeviceKey,
) -> Result<(), L::Error> {
    let old = ledger.judgement(place)?;
    let new = judge(root, authority, entry, device, |cut| ledger.within(place, cut))?;
    if old != Some(new) {
        ledger.set_judgement(place, new)?;
    }
    match (old == Some(Judgement::Counted), new == Judgement::Counted) {
        (_, true) => count(ledger, place, entry),
        (true, false) => uncount(ledger, place, entry),
        (false, false) => Ok(()),
    }
}

/// An entry counts from now on, or does still and its body came.
fn count<L: Ledger>(ledger: &mut L, place: L::Place, entry: &Entry) -> Result<(), L::Error> {
    let key = entry.key();
    for replaced in &entry.header.replaces {
        ledger.replace(&key, *replaced, place)?;
        ledger.drop_live(&key, *replaced)?;
    }
    if let Some(hash) = entry.withdraws() {
        ledger.withdraw(entry.scope, hash, place)?;
        if let Some(at) = ledger.find(entry.scope, hash)? {
            let (aimed_at, _) = ledger.entry(at)?;
            if aimed_at.can_be_withdrawn() {
                ledger.drop_live(&aimed_at.key(), hash)?;
                ledger.drop_body(at)?;
            }
        }
    }
    if entry.can_be_withdrawn() && ledger.is_withdrawn(entry.scope, entry.hash)? {
        return ledger.drop_body(place);
    }
    if !ledger.is_replaced(&key, entry.hash)? {
        ledger.put_live(&key, place, entry)?;
    }
    Ok(())
}

/// An entry counts no longer: what it replaced or withdrew is live again, unless
/// another does so too. A body that is gone comes back from a device that has it.
fn uncount<L: Ledger>(ledger: &mut L, place: L::Place, entry: &Entry) -> Result<(), L::Error> {
    let key = entry.key();
    ledger.drop_live(&key, entry.hash)?;
    for replaced in &entry.header.replaces {
        ledger.unreplace(&key, *replaced, place)?;
        revive(ledger, entry.scope, *replaced)?;
    }
    if let Some(hash) = entry.withdraws() {
        ledger.unwithdraw(entry.scope, hash, place)?;
        revive(ledger, entry.scope, hash)?;
    }
    Ok(())
}

fn revive<L: Ledger>(ledger: &mut L, scope: Scope, hash: Hash) -> Result<(), L::Error> {
    let Some(place) = ledger.find(scope, hash)? else { return Ok(()) };
    if ledger.judgement(place)? != Some(Judgement::Counted) {
        return Ok(());
    }
    let (entry, _) = ledger.entry(place)?;
    let key = entry.key();
    let withdrawn = entry.can_be_withdrawn() && ledger.is_withdrawn(scope, hash)?;
    if !withdrawn && !ledger.is_replaced(&key, hash)? {
        ledger.put_live(&key, place, &entry)?;
    }
    Ok(())
}
