//! A ledger in memory: for simulations, and to show what a ledger is.

use std::collections::{BTreeMap, BTreeSet};
use std::convert::Infallible;

use pitside_model::facts::{DeviceKey, Hash, Head, Scope};

use crate::authority::{Act, Authority, Judgement};
use crate::entry::{Content, Entry, Key};
use crate::merge::Ledger;
use crate::reference::State;

/// A ledger in memory. An entry is kept under its hash.
#[derive(Clone, Debug, Default)]
pub struct MemoryLedger {
    entries: BTreeMap<Hash, (Entry, DeviceKey)>,
    replaced: BTreeMap<(Key, Hash), BTreeSet<Hash>>,
    withdrawn: BTreeMap<(Scope, Hash), BTreeSet<Hash>>,
    state: State,
}

impl MemoryLedger {
    /// Puts an entry in, with the device of its log. One that is held without its
    /// body gets it.
    pub fn put(&mut self, device: DeviceKey, entry: Entry) {
        let held = self.entries.entry(entry.hash).or_insert_with(|| (entry.clone(), device));
        if held.0.body().is_none() {
            held.0.content = entry.content;
        }
    }
    /// The state so far.
    #[must_use]
    pub fn state(&self) -> State {
        let mut state = self.state.clone();
        let counted = |hash: &Hash| state.judgements.get(hash) == Some(&Judgement::Counted);
        let aimed_at = self.withdrawn.keys().filter(|(scope, hash)| {
            self.entries.get(hash).is_some_and(|(e, _)| e.scope == *scope && e.can_be_withdrawn())
        });
        state.withdrawn = aimed_at.map(|(_, hash)| *hash).filter(counted).collect();
        state
    }
    /// Every entry that was put in.
    pub fn entries(&self) -> impl Iterator<Item = &Entry> {
        self.entries.values().map(|(entry, _)| entry)
    }
}

impl Ledger for MemoryLedger {
    type Error = Infallible;
    type Place = Hash;

    fn entry(&self, place: Hash) -> Result<(Entry, DeviceKey), Infallible> {
        Ok(self.entries[&place].clone())
    }
    fn find(&self, scope: Scope, hash: Hash) -> Result<Option<Hash>, Infallible> {
        Ok(self.entries.get(&hash).filter(|(e, _)| e.scope == scope).map(|_| hash))
    }
    fn acts(&self) -> Result<Vec<Act<Hash>>, Infallible> {
        let acts = self.entries.values().filter(|(e, _)| e.is_act());
        Ok(acts.map(|(e, d)| Act { place: e.hash, device: *d, entry: e.clone() }).collect())
    }
    fn of_device(&self, device: DeviceKey) -> Result<Vec<Hash>, Infallible> {
        Ok(self.entries.values().filter(|(_, d)| *d == device).map(|(e, _)| e.hash).collect())
    }
    fn of_scope(&self, scope: Scope) -> Result<Vec<Hash>, Infallible> {
        Ok(self.entries.values().filter(|(e, _)| e.scope == scope).map(|(e, _)| e.hash).collect())
    }
    fn within(&self, place: Hash, cut: &[Head]) -> Result<bool, Infallible> {
        let from = |head: &Head| {
            let held = self.entries.get(&head.hash).map(|(e, _)| e);
            held.filter(|e| (e.log, e.seq) == (head.log, head.seq))
        };
        let before = |e: &&Entry| self.entries.get(&e.before).map(|(e, _)| e);
        let on_the_way = |head| core::iter::successors(from(head), before).any(|e| e.hash == place);
        Ok(cut.iter().any(on_the_way))
    }
    fn authority(&self) -> Result<Authority, Infallible> {
        Ok(self.state.authority.clone())
    }
    fn set_authority(&mut self, authority: &Authority) -> Result<(), Infallible> {
        self.state.authority = authority.clone();
        Ok(())
    }
    fn judgement(&self, place: Hash) -> Result<Option<Judgement>, Infallible> {
        Ok(self.state.judgements.get(&place).copied())
    }
    fn set_judgement(&mut self, place: Hash, judgement: Judgement) -> Result<(), Infallible> {
        self.state.judgements.insert(place, judgement);
        Ok(())
    }
    fn replace(&mut self, key: &Key, hash: Hash, by: Hash) -> Result<(), Infallible> {
        self.replaced.entry((key.clone(), hash)).or_default().insert(by);
        Ok(())
    }
    fn unreplace(&mut self, key: &Key, hash: Hash, by: Hash) -> Result<(), Infallible> {
        take_out(&mut self.replaced, &(key.clone(), hash), by);
        Ok(())
    }
    fn is_replaced(&self, key: &Key, hash: Hash) -> Result<bool, Infallible> {
        Ok(self.replaced.contains_key(&(key.clone(), hash)))
    }
    fn withdraw(&mut self, scope: Scope, hash: Hash, by: Hash) -> Result<(), Infallible> {
        self.withdrawn.entry((scope, hash)).or_default().insert(by);
        Ok(())
    }
    fn unwithdraw(&mut self, scope: Scope, hash: Hash, by: Hash) -> Result<(), Infallible> {
        take_out(&mut self.withdrawn, &(scope, hash), by);
        Ok(())
    }
    fn is_withdrawn(&self, scope: Scope, hash: Hash) -> Result<bool, Infallible> {
        Ok(self.withdrawn.contains_key(&(scope, hash)))
    }
    fn drop_body(&mut self, place: Hash) -> Result<(), Infallible> {
        if let Some((entry, _)) = self.entries.get_mut(&place) {
            entry.content = Content::Commitment(entry.content.commitment());
        }
        Ok(())
    }
    fn put_live(&mut self, key: &Key, _: Hash, entry: &Entry) -> Result<(), Infallible> {
        self.state.live.entry(key.clone()).or_default().insert(entry.hash);
        Ok(())
    }
    fn drop_live(&mut self, key: &Key, hash: Hash) -> Result<(), Infallible> {
        take_out(&mut self.state.live, key, hash);
        Ok(())
    }
}

/// Takes a hash out of the set of a key, which goes when it is empty.
fn take_out<K: Ord>(sets: &mut BTreeMap<K, BTreeSet<Hash>>, key: &K, hash: Hash) {
    if let Some(set) = sets.get_mut(key) {
        set.remove(&hash);
        if set.is_empty() {
            sets.remove(key);
        }
    }
}
