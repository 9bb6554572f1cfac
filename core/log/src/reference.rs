//! The rules of merge in their plainest form: the oracle.
//!
//! No order, no increments, no indexes: authority from all acts, then every entry
//! judged once, then what is live read off the whole set.
//! [`merge::apply`](crate::merge::apply) must end in the same state whatever the
//! order, grouping and repetition in which it got the entries.

use std::collections::{BTreeMap, BTreeSet};
use std::convert::Infallible;

use pitside_model::facts::{DeviceKey, Hash, Head, LogId, Scope};

use crate::authority::{Act, Authority, Judgement, Root, judge, settle};
use crate::entry::{Entry, Key};

/// The state of a squad, as merge sees it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct State {
    /// How each entry was judged.
    pub judgements: BTreeMap<Hash, Judgement>,
    /// Who stands where.
    pub authority: Authority,
    /// The live entries of each key.
    pub live: BTreeMap<Key, BTreeSet<Hash>>,
    /// The entries whose body is taken away.
    pub withdrawn: BTreeSet<Hash>,
}

/// The state that follows from a set of entries.
#[must_use]
pub fn state(root: &Root, devices: &BTreeMap<LogId, DeviceKey>, entries: &[Entry]) -> State {
    let by_hash: BTreeMap<Hash, &Entry> = entries.iter().map(|e| (e.hash, e)).collect();
    let within = |hash: Hash, cut: &[Head]| -> Result<bool, Infallible> {
        Ok(cut.iter().any(|head| on_the_way(&by_hash, hash, head)))
    };
    let acts: Vec<Act<Hash>> = entries
        .iter()
        .filter(|e| e.is_act())
        .map(|e| Act { place: e.hash, device: devices[&e.log], entry: e.clone() })
        .collect();
    let Ok(authority) = settle(root, &acts, within);
    let mut judgements = BTreeMap::new();
    for entry in entries {
        let at = |cut: &[Head]| within(entry.hash, cut);
        let Ok(judgement) = judge(root, &authority, entry, devices[&entry.log], at);
        judgements.insert(entry.hash, judgement);
    }
    let counted: Vec<&Entry> =
        by_hash.values().filter(|e| judgements[&e.hash] == Judgement::Counted).copied().collect();
    let replaced: BTreeSet<(Key, Hash)> =
        counted.iter().flat_map(|e| e.header.replaces.iter().map(|h| (e.key(), *h))).collect();
    let aimed_at: BTreeSet<(Scope, Hash)> =
        counted.iter().filter_map(|e| Some((e.scope, e.withdraws()?))).collect();
    let mut state = State { judgements, authority, ..State::default() };
    for entry in counted {
        if entry.can_be_withdrawn() && aimed_at.contains(&(entry.scope, entry.hash)) {
            state.withdrawn.insert(entry.hash);
        } else if !replaced.contains(&(entry.key(), entry.hash)) {
            state.live.entry(entry.key()).or_default().insert(entry.hash);
        }
    }
    state
}

/// Whether an entry is one of those that lead to a head, or the head itself.
fn on_the_way(by_hash: &BTreeMap<Hash, &Entry>, hash: Hash, head: &Head) -> bool {
    let mut at = by_hash.get(&head.hash).filter(|e| (e.log, e.seq) == (head.log, head.seq));
    while let Some(entry) = at {
        if entry.hash == hash {
            return true;
        }
        at = by_hash.get(&entry.before);
    }
    false
}
