//! The rules of merge in their plainest form: the oracle.
//!
//! No order, no increments, no indexes: look at the whole set until nothing
//! changes any more. [`merge::apply`](crate::merge::apply) must end in the same
//! state whatever the order, grouping and repetition in which it got the entries.

use std::collections::{BTreeMap, BTreeSet};

use pitside_model::facts::{DeviceKey, Hash, LogId, Place};

use crate::authority::{Grants, Judgement, Root, judge};
use crate::entry::{Entry, Key};
use crate::merge::granted;

/// The state of a squad, as merge sees it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct State {
    /// How each entry was judged.
    pub judgements: BTreeMap<Place, Judgement>,
    /// What each device was given.
    pub grants: BTreeMap<DeviceKey, Grants>,
    /// The live entries of each key.
    pub live: BTreeMap<Key, BTreeSet<Hash>>,
}

/// The state that follows from a set of entries.
#[must_use]
pub fn state(root: &Root, devices: &BTreeMap<LogId, DeviceKey>, entries: &[Entry]) -> State {
    let mut state = State::default();
    // Authority: judge everything by the grants so far, until there are no more.
    loop {
        let mut grants: BTreeMap<DeviceKey, Grants> = BTreeMap::new();
        for entry in entries {
            let device = devices[&entry.place.log];
            let given = state.grants.get(&device).cloned().unwrap_or_default();
            let judgement = judge(root, entry, device, &given);
            state.judgements.insert(entry.place, judgement);
            if judgement == Judgement::Counted
                && let Some((receiver, grant)) = granted(entry, device)
            {
                grants.entry(receiver).or_default().add(&grant);
            }
        }
        grants.retain(|_, g| !g.is_empty());
        if grants == state.grants {
            break;
        }
        state.grants = grants;
    }
    // Liveness: counted, and replaced by nothing that counts and has its key.
    let counted: Vec<&Entry> =
        entries.iter().filter(|e| state.judgements[&e.place] == Judgement::Counted).collect();
    let replaced: BTreeSet<(Key, Hash)> =
        counted.iter().flat_map(|e| e.header.replaces.iter().map(|h| (e.key(), *h))).collect();
    for entry in counted {
        if !replaced.contains(&(entry.key(), entry.hash)) {
            state.live.entry(entry.key()).or_default().insert(entry.hash);
        }
    }
    state
}
