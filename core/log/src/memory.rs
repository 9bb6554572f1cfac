//! A ledger in memory: for simulations, and to show what a ledger is.

use std::collections::{BTreeMap, BTreeSet};
use std::convert::Infallible;

use pitside_model::facts::{DeviceKey, Hash, LogId, Place};

use crate::authority::{Grants, Judgement};
use crate::entry::{Entry, Key};
use crate::merge::Ledger;
use crate::reference::State;

/// A ledger in memory.
#[derive(Clone, Debug, Default)]
pub struct MemoryLedger {
    devices: BTreeMap<LogId, DeviceKey>,
    entries: BTreeMap<Place, Entry>,
    replaced: BTreeSet<(Key, Hash)>,
    state: State,
}

impl MemoryLedger {
    /// Puts an entry in, with the device of its log.
    pub fn put(&mut self, device: DeviceKey, entry: Entry) {
        self.devices.insert(entry.place.log, device);
        self.entries.insert(entry.place, entry);
    }
    /// The state so far.
    #[must_use]
    pub fn state(&self) -> &State {
        &self.state
    }
}

impl Ledger for MemoryLedger {
    type Error = Infallible;

    fn device(&self, log: LogId) -> Result<Option<DeviceKey>, Infallible> {
        Ok(self.devices.get(&log).copied())
    }
    fn entry(&self, place: Place) -> Result<Option<Entry>, Infallible> {
        Ok(self.entries.get(&place).cloned())
    }
    fn judgement(&self, place: Place) -> Result<Option<Judgement>, Infallible> {
        Ok(self.state.judgements.get(&place).copied())
    }
    fn set_judgement(&mut self, place: Place, judgement: Judgement) -> Result<(), Infallible> {
        self.state.judgements.insert(place, judgement);
        Ok(())
    }
    fn uncounted(&self, device: DeviceKey) -> Result<Vec<Place>, Infallible> {
        let judged = self.state.judgements.iter();
        let open = judged.filter(|(p, j)| self.devices[&p.log] == device && **j != Judgement::Counted);
        Ok(open.map(|(p, _)| *p).collect())
    }
    fn grants(&self, device: DeviceKey) -> Result<Grants, Infallible> {
        Ok(self.state.grants.get(&device).cloned().unwrap_or_default())
    }
    fn set_grants(&mut self, device: DeviceKey, grants: &Grants) -> Result<(), Infallible> {
        self.state.grants.insert(device, grants.clone());
        Ok(())
    }
    fn replace(&mut self, key: &Key, hash: Hash) -> Result<(), Infallible> {
        self.replaced.insert((key.clone(), hash));
        if let Some(live) = self.state.live.get_mut(key) {
            live.remove(&hash);
            if live.is_empty() {
                self.state.live.remove(key);
            }
        }
        Ok(())
    }
    fn is_replaced(&self, key: &Key, hash: Hash) -> Result<bool, Infallible> {
        Ok(self.replaced.contains(&(key.clone(), hash)))
    }
    fn put_live(&mut self, key: &Key, entry: &Entry) -> Result<(), Infallible> {
        self.state.live.entry(key.clone()).or_default().insert(entry.hash);
        Ok(())
    }
}
