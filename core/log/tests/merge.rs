//! Merge is a function of the set of entries: whatever the order, the grouping
//! and the repetition in which they arrive, and nothing counts in it without
//! authority. The plain rules of `reference` are what it is held against.

use std::collections::{BTreeMap, BTreeSet};

use pitside_log::authority::{Grants, Judgement, Reason, Root, rule};
use pitside_log::entry::Entry;
use pitside_log::memory::MemoryLedger;
use pitside_log::merge::{apply, granted};
use pitside_log::reference::{self, State};
use pitside_log::seal::Signer;
use pitside_model::facts::{Card, Consent, DeviceKey, Fact, Level, Role, Scope, Subject};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

mod world;
use world::{Arrival, Draft, World, arrivals, grant, is_founding, member, rest, worlds};

/// Takes a group in as a store does: all of it is put in, then applied.
fn take(ledger: &mut MemoryLedger, root: &Root, world: &World, group: &[usize]) {
    for at in group {
        let entry = world.entries[*at].clone();
        ledger.put(world.device_of(&entry), entry);
    }
    for at in group {
        let Ok(()) = apply(ledger, root, world.entries[*at].place);
    }
}

fn arrived(arrival: &Arrival) -> State {
    let mut ledger = MemoryLedger::default();
    let root = arrival.world.root();
    arrival.groups.iter().for_each(|group| take(&mut ledger, &root, &arrival.world, group));
    ledger.state().clone()
}

fn counted<'a>(world: &'a World, state: &State) -> Vec<&'a Entry> {
    world.entries.iter().filter(|e| state.judgements[&e.place] == Judgement::Counted).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, ..ProptestConfig::default() })]

    #[test]
    fn any_order_grouping_and_repetition_give_one_state(arrival in arrivals()) {
        let world = &arrival.world;
        prop_assert_eq!(arrived(&arrival), reference::state(&world.root(), &world.logs, &world.entries));
    }

    #[test]
    fn incremental_equals_rebuild_at_every_step(arrival in arrivals()) {
        let world = &arrival.world;
        let root = world.root();
        let mut ledger = MemoryLedger::default();
        let mut there = BTreeSet::new();
        for group in &arrival.groups {
            take(&mut ledger, &root, world, group);
            there.extend(group.iter().copied());
            let entries: Vec<Entry> = there.iter().map(|at| world.entries[*at].clone()).collect();
            prop_assert_eq!(ledger.state(), &reference::state(&root, &world.logs, &entries));
        }
    }

    /// The same, derived anew: who was given what is followed from the founding
    /// on, along admissions that were counted, and nothing else.
    #[test]
    fn nothing_counts_without_authority(arrival in arrivals()) {
        let world = &arrival.world;
        let state = arrived(&arrival);
        let counted = counted(world, &state);
        let founder = world.devices[0].key();
        let mut given: BTreeMap<DeviceKey, Grants> = BTreeMap::new();
        given.insert(founder, Grants { owner: true, members: BTreeSet::new() });
        loop {
            let before = given.clone();
            for entry in counted.iter().filter(|e| !is_founding(e)) {
                // An admission hangs on the chain only if its author does, as an owner.
                let author_owns = before.get(&world.device_of(entry)).is_some_and(|g| g.owner);
                if let Some((receiver, grant)) = granted(entry, world.device_of(entry)).filter(|_| author_owns) {
                    given.entry(receiver).or_default().add(&grant);
                }
            }
            if given == before {
                break;
            }
        }
        given.retain(|_, grants| !grants.is_empty());
        prop_assert_eq!(&state.grants, &given);
        for entry in &world.entries {
            let grants = given.get(&world.device_of(entry));
            let may = if is_founding(entry) {
                entry.hash.0 == world.squad.0
            } else {
                grants.is_some_and(|grants| rule(grants, &entry.key()).is_ok())
            };
            let judgement = state.judgements[&entry.place];
            prop_assert_eq!(judgement == Judgement::Counted, may, "{:?} is {:?}", entry, judgement);
            if judgement == Judgement::Waiting {
                prop_assert_eq!(grants, None, "a device that was given something is judged");
            }
        }
    }

    /// Before pairing a phone counts what it wrote itself about a member, and
    /// nothing that anyone else wrote, authority or not.
    #[test]
    fn an_unpaired_device_counts_its_own_member_entries_only(arrival in arrivals(), at in 0_usize..6) {
        let world = &arrival.world;
        let device = world.devices[at % world.devices.len()].key();
        let root = Root { squad: None, device };
        let mut ledger = MemoryLedger::default();
        arrival.groups.iter().for_each(|group| take(&mut ledger, &root, world, group));
        prop_assert_eq!(ledger.state(), &reference::state(&root, &world.logs, &world.entries));
        prop_assert!(ledger.state().grants.is_empty());
        for entry in &world.entries {
            let may = world.device_of(entry) == device && entry.scope.member().is_some_and(|m| {
                rule(&Grants { owner: false, members: [m].into() }, &entry.key()).is_ok()
            });
            prop_assert_eq!(ledger.state().judgements[&entry.place] == Judgement::Counted, may);
        }
    }

    #[test]
    fn an_entry_never_vanishes(arrival in arrivals()) {
        let world = &arrival.world;
        let state = arrived(&arrival);
        prop_assert_eq!(state.judgements.len(), world.entries.len());
        let counted = counted(world, &state);
        for entry in &counted {
            let key = entry.key();
            let live = state.live.get(&key).is_some_and(|live| live.contains(&entry.hash));
            let replaced = counted.iter().any(|e| e.key() == key && e.header.replaces.contains(&entry.hash));
            prop_assert!(live != replaced, "{:?}: live {}, replaced {}", entry, live, replaced);
        }
        // And nothing is live that does not count.
        let live: usize = state.live.values().map(BTreeSet::len).sum();
        let hashes: BTreeSet<_> = counted.iter().map(|e| e.hash).collect();
        prop_assert!(live <= counted.len());
        prop_assert!(state.live.values().flatten().all(|hash| hashes.contains(hash)));
        prop_assert!(state.live.values().all(|live| !live.is_empty()));
    }
}

/// A world in which the founder admitted device 1 for member 1 and device 2 as
/// an owner.
fn squad() -> World {
    let mut world = World::founded(4);
    let (one, two) = (world.devices[1].key(), world.devices[2].key());
    let admit = |device, fact| Draft::about(Subject::Device(device), &fact);
    world.write(0, Scope::Squad, admit(one, grant(Role::Athlete, &[member(1)])));
    world.write(0, Scope::Squad, admit(two, grant(Role::Owner, &[])));
    world
}

fn state(world: &World) -> State {
    let groups = vec![(0..world.entries.len()).rev().collect()];
    let state = arrived(&Arrival { world: world.clone(), groups });
    assert_eq!(state, reference::state(&world.root(), &world.logs, &world.entries));
    state
}

fn level(level: Level) -> Draft {
    Draft::about(Subject::Uuid(member(1).0), &Fact::Card(Card::Level(level)))
}

/// Two devices that write the same value at once agree; that is no clash.
#[test]
fn equal_values_written_at_once_are_one_value() {
    let mut world = squad();
    let scope = Scope::Member(member(1));
    let a = world.write(1, scope, level(Level::Beginner));
    let b = world.write(2, scope, level(Level::Beginner));
    assert_ne!(a.header.commitment, b.header.commitment, "the salts differ");
    let state_then = state(&world);
    assert_eq!(state_then.live[&a.key()], [a.hash, b.hash].into());
    assert_eq!(world.values(&state_then)[&a.key()].len(), 1);
    let c = world.write(0, scope, level(Level::Advanced));
    let state_then = state(&world);
    assert_eq!(world.values(&state_then)[&c.key()].len(), 2, "two values: a clash");
    // Whoever settles it replaces the equal ones both.
    let d = world.write(0, scope, level(Level::Advanced).replacing(vec![a.hash, b.hash, c.hash]));
    assert_eq!(state(&world).live[&d.key()], [d.hash].into());
}

#[test]
fn an_entry_replaces_only_what_has_its_key() {
    let mut world = squad();
    let a = world.write(1, Scope::Member(member(1)), Draft::new(&rest(1)));
    // Another key, another scope, another device without authority.
    world.write(0, Scope::Member(member(1)), Draft::new(&rest(2)).replacing(vec![a.hash]));
    let key = a.key();
    let same = |payload: &Fact| Draft {
        target: world::about(key.subject, &key.field),
        ..Draft::new(payload).replacing(vec![a.hash])
    };
    world.write(1, Scope::Private(member(1)), same(&rest(3)));
    let stranger = world.write(3, Scope::Member(member(1)), same(&rest(4)));
    assert_eq!(state(&world).live[&key], [a.hash].into());
    // Once the stranger is admitted for the member, its correction counts.
    let three = world.devices[3].key();
    let admission = Draft::about(Subject::Device(three), &grant(Role::Athlete, &[member(1)]));
    world.write(2, Scope::Squad, admission);
    assert_eq!(state(&world).live[&key], [stranger.hash].into());
}

/// Authority stands where every device reads it: in no scope but the squad's.
#[test]
fn admissions_and_consents_stand_in_their_scopes() {
    for scope in [Scope::Staff, Scope::Member(member(1)), Scope::Private(member(1))] {
        let mut world = squad();
        let three = world.devices[3].key();
        let admission = Draft::about(Subject::Device(three), &grant(Role::Owner, &[]));
        let entry = world.write(0, scope, admission);
        let state = state(&world);
        assert_eq!(
            state.judgements[&entry.place],
            Judgement::Refused(Reason::WrongScope),
            "an admission in {scope:?}"
        );
        assert!(!state.grants.contains_key(&three));
    }
    for scope in [Scope::Squad, Scope::Staff, Scope::Private(member(1)), Scope::Member(member(2))] {
        let mut world = squad();
        let consent = Draft::about(Subject::Uuid(member(1).0), &Fact::Consent(Consent { given: true }));
        let entry = world.write(1, scope, consent.clone());
        let owners = world.write(0, scope, consent);
        let state = state(&world);
        for place in [entry.place, owners.place] {
            assert_ne!(state.judgements[&place], Judgement::Counted, "a consent in {scope:?}");
        }
    }
}

/// The generator makes what these properties are about, and not seldom.
#[test]
fn the_generator_makes_the_cases() {
    let mut runner = TestRunner::deterministic();
    let mut seen: BTreeMap<&str, u32> = BTreeMap::new();
    for _ in 0..300 {
        let world = worlds().new_tree(&mut runner).unwrap().current();
        let root = world.root();
        // The founding, then from the last entry to the first: admissions come late.
        let mut ledger = MemoryLedger::default();
        let mut first = BTreeMap::new();
        for at in [0].into_iter().chain((1..world.entries.len()).rev()) {
            take(&mut ledger, &root, &world, &[at]);
            let place = world.entries[at].place;
            first.insert(place, ledger.state().judgements[&place]);
        }
        let state = ledger.state();
        let mut saw = |what, so: bool| *seen.entry(what).or_default() += u32::from(so);
        for (place, judgement) in &state.judgements {
            saw("counted", *judgement == Judgement::Counted);
            saw("waiting", *judgement == Judgement::Waiting);
            saw("owner only", *judgement == Judgement::Refused(Reason::OwnerOnly));
            saw("member only", *judgement == Judgement::Refused(Reason::MemberOnly));
            saw("wrong scope", *judgement == Judgement::Refused(Reason::WrongScope));
            saw("second founding", *judgement == Judgement::Refused(Reason::SecondFounding));
            let late = first[place] != Judgement::Counted && *judgement == Judgement::Counted;
            saw("judged again", late);
            let refused_first = matches!(first[place], Judgement::Refused(_));
            saw("refused first, counted later", late && refused_first);
        }
        let values = world.values(state);
        for (key, live) in &state.live {
            saw("clash", values[key].len() > 1);
            saw("equal values", live.len() > values[key].len());
        }
        let hashes = world.by_hash();
        for entry in counted(&world, state) {
            for replaced in &entry.header.replaces {
                let other = hashes.get(replaced);
                saw("replaces what is not there", other.is_none());
                saw("replaces another key", other.is_some_and(|o| o.key() != entry.key()));
                saw("replaces its own key", other.is_some_and(|o| o.key() == entry.key()));
            }
            saw("settlement", entry.header.replaces.len() > 1);
            let body = entry.body.as_ref().unwrap();
            saw("deletion", body.payload == [0xf6]);
            let read = Fact::read(&entry.header.kind, &entry.key().field, &body.payload);
            saw("unknown kind or field", matches!(read, Ok((Fact::Unknown, _))));
            saw("unreadable", read.is_err());
            saw(
                "admission by one admitted",
                granted(entry, root.device).is_some() && world.device_of(entry) != root.device,
            );
            saw("by an athlete's device", !state.grants[&world.device_of(entry)].owner);
            let scope = match entry.scope {
                Scope::Squad => "in squad",
                Scope::Staff => "in staff",
                Scope::Member(_) => "in member",
                Scope::Private(_) => "in private",
            };
            saw(scope, true);
        }
    }
    for (what, times) in &seen {
        println!("{times:6} {what}");
    }
    assert_eq!(seen.len(), 23);
    let seldom: Vec<_> = seen.iter().filter(|(_, times)| **times < 50).collect();
    assert!(seldom.is_empty(), "seldom: {seldom:?}");
}
