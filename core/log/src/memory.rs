//! A ledger in memory: for simulations, and to show what a ledger is.

use std::collections::{BTreeMap, HashMap};
use std::convert::Infallible;
use std::hash::{BuildHasherDefault, DefaultHasher};
use std::sync::Arc;

use pitside_model::facts::{DeviceKey, Hash, Head, Scope};

use crate::authority::{Act, Authority, Judgement};
use crate::entry::{Content, Entry, Key};
use crate::merge::Ledger;
use crate::reference::State;

/// A map whose order is the same in every run, so that a simulation is too.
type Map<K, V> = HashMap<K, V, BuildHasherDefault<DefaultHasher>>;

/// An entry, and what is known of it.
#[derive(Clone, Debug)]
struct Slot {
    entry: Arc<Entry>,
    device: DeviceKey,
    judgement: Option<Judgement>,
}

/// A ledger in memory. An entry is kept under its hash.
#[derive(Clone, Debug, Default)]
pub struct MemoryLedger {
    slots: Map<Hash, Slot>,
    authority: Authority,
    /// By the hash of what is replaced: as a value of what, and by which entry.
    replaced: Map<Hash, Vec<(Key, Hash)>>,
    /// By the hash of what is withdrawn: in which scope, and by which entry.
    withdrawn: Map<Hash, Vec<(Scope, Hash)>>,
    live: Map<Key, Vec<Hash>>,
}

impl MemoryLedger {
    /// Puts an entry in, with the device of its log. One that is held without its
    /// body gets it.
    pub fn put(&mut self, device: DeviceKey, entry: Entry) {
        match self.slots.get_mut(&entry.hash) {
            None => {
                let hash = entry.hash;
                self.slots.insert(hash, Slot { entry: Arc::new(entry), device, judgement: None });
            }
            Some(held) if held.entry.body().is_none() => {
                Arc::make_mut(&mut held.entry).content = entry.content;
            }
            Some(_) => {}
        }
    }
    /// The state so far.
    #[must_use]
    pub fn state(&self) -> State {
        let aimed_at = |hash: &Hash, slot: &Slot| {
            let mut by = self.withdrawn.get(hash).into_iter().flatten();
            by.any(|(scope, _)| *scope == slot.entry.scope)
        };
        let withdrawn = self.slots.iter().filter(|(hash, slot)| {
            slot.judgement == Some(Judgement::Counted)
                && slot.entry.can_be_withdrawn()
                && aimed_at(hash, slot)
        });
        State {
            judgements: self.slots.iter().filter_map(|(hash, slot)| Some((*hash, slot.judgement?))).collect(),
            authority: self.authority.clone(),
            live: self.live.iter().map(|(key, live)| (key.clone(), live.iter().copied().collect())).collect(),
            withdrawn: withdrawn.map(|(hash, _)| *hash).collect(),
        }
    }
    /// Every entry that was put in, by hash.
    pub fn entries(&self) -> impl Iterator<Item = &Entry> {
        let sorted: BTreeMap<Hash, &Entry> =
            self.slots.iter().map(|(hash, slot)| (*hash, &*slot.entry)).collect();
        sorted.into_values()
    }

    fn places(&self, wanted: impl Fn(&Slot) -> bool) -> Vec<Hash> {
        self.slots.iter().filter(|(_, slot)| wanted(slot)).map(|(hash, _)| *hash).collect()
    }
}

impl Ledger for MemoryLedger {
    type Error = Infallible;
    type Place = Hash;

    fn entry(&self, place: Hash) -> Result<(Arc<Entry>, DeviceKey), Infallible> {
        let slot = &self.slots[&place];
        Ok((Arc::clone(&slot.entry), slot.device))
    }
    fn find(&self, scope: Scope, hash: Hash) -> Result<Option<Hash>, Infallible> {
        Ok(self.slots.get(&hash).filter(|slot| slot.entry.scope == scope).map(|_| hash))
    }
    fn acts(&self) -> Result<Vec<Act<Hash>>, Infallible> {
        let acts = self.slots.values().filter(|slot| slot.entry.is_act());
        let act = |slot: &Slot| Act {
            place: slot.entry.hash,
            device: slot.device,
            entry: Entry::clone(&slot.entry),
        };
        Ok(acts.map(act).collect())
    }
    fn of_device(&self, device: DeviceKey) -> Result<Vec<Hash>, Infallible> {
        Ok(self.places(|slot| slot.device == device))
    }
    fn of_scope(&self, scope: Scope) -> Result<Vec<Hash>, Infallible> {
        Ok(self.places(|slot| slot.entry.scope == scope))
    }
    fn within(&self, place: Hash, cut: &[Head]) -> Result<bool, Infallible> {
        let from = |head: &Head| {
            let held = self.slots.get(&head.hash).map(|slot| &slot.entry);
            held.filter(|e| (e.log, e.seq) == (head.log, head.seq))
        };
        let before = |e: &&Arc<Entry>| self.slots.get(&e.before).map(|slot| &slot.entry);
        let on_the_way = |head| core::iter::successors(from(head), before).any(|e| e.hash == place);
        Ok(cut.iter().any(on_the_way))
    }
    fn authority(&self) -> Result<Authority, Infallible> {
        Ok(self.authority.clone())
    }
    fn set_authority(&mut self, authority: &Authority) -> Result<(), Infallible> {
        self.authority = authority.clone();
        Ok(())
    }
    fn judgement(&self, place: Hash) -> Result<Option<Judgement>, Infallible> {
        Ok(self.slots.get(&place).and_then(|slot| slot.judgement))
    }
    fn set_judgement(&mut self, place: Hash, judgement: Judgement) -> Result<(), Infallible> {
        if let Some(slot) = self.slots.get_mut(&place) {
            slot.judgement = Some(judgement);
        }
        Ok(())
    }
    fn replace(&mut self, key: &Key, hash: Hash, by: Hash) -> Result<(), Infallible> {
        put_in(&mut self.replaced, hash, (key.clone(), by));
        Ok(())
    }
    fn unreplace(&mut self, key: &Key, hash: Hash, by: Hash) -> Result<(), Infallible> {
        take_out(&mut self.replaced, &hash, |(k, b)| k == key && *b == by);
        Ok(())
    }
    fn is_replaced(&self, key: &Key, hash: Hash) -> Result<bool, Infallible> {
        Ok(self.replaced.get(&hash).is_some_and(|by| by.iter().any(|(k, _)| k == key)))
    }
    fn withdraw(&mut self, scope: Scope, hash: Hash, by: Hash) -> Result<(), Infallible> {
        put_in(&mut self.withdrawn, hash, (scope, by));
        Ok(())
    }
    fn unwithdraw(&mut self, scope: Scope, hash: Hash, by: Hash) -> Result<(), Infallible> {
        take_out(&mut self.withdrawn, &hash, |at| *at == (scope, by));
        Ok(())
    }
    fn is_withdrawn(&self, scope: Scope, hash: Hash) -> Result<bool, Infallible> {
        Ok(self.withdrawn.get(&hash).is_some_and(|by| by.iter().any(|(s, _)| *s == scope)))
    }
    fn drop_body(&mut self, place: Hash) -> Result<(), Infallible> {
        if let Some(slot) = self.slots.get_mut(&place) {
            let entry = Arc::make_mut(&mut slot.entry);
            entry.content = Content::Commitment(entry.content.commitment());
        }
        Ok(())
    }
    fn put_live(&mut self, key: &Key, _: Hash, entry: &Entry) -> Result<(), Infallible> {
        match self.live.get_mut(key) {
            Some(live) if live.contains(&entry.hash) => {}
            Some(live) => live.push(entry.hash),
            None => {
                self.live.insert(key.clone(), vec![entry.hash]);
            }
        }
        Ok(())
    }
    fn drop_live(&mut self, key: &Key, hash: Hash) -> Result<(), Infallible> {
        take_out(&mut self.live, key, |one| *one == hash);
        Ok(())
    }
}

/// Adds something to a list, once.
fn put_in<K: Eq + core::hash::Hash, T: PartialEq>(lists: &mut Map<K, Vec<T>>, key: K, one: T) {
    let list = lists.entry(key).or_default();
    if !list.contains(&one) {
        list.push(one);
    }
}

/// Takes something out of a list, which goes when it is empty.
fn take_out<K: Eq + core::hash::Hash, T>(lists: &mut Map<K, Vec<T>>, key: &K, is_it: impl Fn(&T) -> bool) {
    if let Some(list) = lists.get_mut(key) {
        list.retain(|one| !is_it(one));
        if list.is_empty() {
            lists.remove(key);
        }
    }
}
