//! Merge is a function of the set of entries: whatever the order, the grouping
//! and the repetition in which they arrive, and nothing counts in it without
//! authority. The plain rules of `reference` are what it is held against.

use std::collections::{BTreeMap, BTreeSet};

use pitside_log::authority::{Authority, Grants, Judgement, Reason, Root, rule};
use pitside_log::entry::Entry;
use pitside_log::memory::MemoryLedger;
use pitside_log::merge::apply;
use pitside_log::reference::{self, State};
use pitside_log::seal::Signer;
use pitside_model::facts::{
    Audience, Card, Consent, DeviceKey, Fact, Hash, Level, Limit, Role, SaidBy, Scope, Subject, kind,
};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

mod world;
use world::replica::REMOVAL;
use world::{Arrival, Draft, World, arrivals, day, grant, is_founding, member, rest, worlds};

/// Takes a group in as a store does: all of it is put in, then applied.
fn take(ledger: &mut MemoryLedger, root: &Root, world: &World, group: &[usize]) {
    for at in group {
        let entry = world.entries[*at].clone();
        ledger.put(world.device_of(&entry), entry);
    }
    let places: Vec<Hash> = group.iter().map(|at| world.entries[*at].hash).collect();
    let Ok(()) = apply(ledger, root, &places);
}

fn arrived(arrival: &Arrival) -> State {
    let mut ledger = MemoryLedger::default();
    let root = arrival.world.root();
    arrival.groups.iter().for_each(|group| take(&mut ledger, &root, &arrival.world, group));
    ledger.state()
}

fn counted<'a>(world: &'a World, state: &State) -> Vec<&'a Entry> {
    world.entries.iter().filter(|e| state.judgements[&e.hash] == Judgement::Counted).collect()
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
            prop_assert_eq!(ledger.state(), reference::state(&root, &world.logs, &entries));
        }
    }

    /// The same, derived anew: from the founding and the recovery key on, along
    /// admissions that count, everyone who stands anywhere was let in, and nothing
    /// counts that its device was not given or that lies behind its cut.
    #[test]
    fn nothing_counts_without_authority(arrival in arrivals()) {
        let world = &arrival.world;
        let state = arrived(&arrival);
        let counted = counted(world, &state);
        let owners = |given: &BTreeMap<DeviceKey, Grants>, d: &DeviceKey| {
            given.get(d).is_some_and(|g| g.owner || g.recovery)
        };
        let mut given: BTreeMap<DeviceKey, Grants> = BTreeMap::new();
        given.insert(world.devices[0].key(), Grants { owner: true, ..Grants::default() });
        given.insert(world.recovery(), Grants { recovery: true, ..Grants::default() });
        loop {
            let before = given.clone();
            for entry in counted.iter().filter(|e| owners(&before, &world.device_of(e))) {
                let Some(Subject::Device(receiver)) = entry.header.target.as_ref().map(|t| t.subject) else {
                    continue;
                };
                let read = entry.body().map(|b| Fact::read(&entry.header.kind, &entry.key().field, &b.payload));
                if let Some(Ok((Fact::Grant(grant), _))) = read {
                    given.entry(receiver).or_default().add(&grant);
                }
            }
            if given == before {
                break;
            }
        }
        given.retain(|_, grants| !grants.is_empty());
        let standings = &state.authority.standings;
        prop_assert_eq!(standings.keys().collect::<Vec<_>>(), given.keys().collect::<Vec<_>>());
        for entry in &world.entries {
            let standing = standings.get(&world.device_of(entry));
            let judgement = state.judgements[&entry.hash];
            let keeps = |m| standings.get(&world.root().device).is_some_and(|s| s.grants.keeps(m));
            let erased = entry.scope.member().is_some_and(|m| state.authority.erased.contains(&m) && !keeps(m));
            let may = if is_founding(entry) {
                entry.hash.0 == world.squad.0
            } else {
                let read = entry.body().map(|b| Fact::read(kind::CONSENT, &entry.key().field, &b.payload));
                let takes_back =
                    matches!(read, Some(Ok((Fact::Deleted | Fact::Consent(Consent { given: false, .. }), _))));
                let own = world.device_of(entry) == world.root().device
                    && entry.scope.member().is_some()
                    && (entry.header.kind != kind::CONSENT || takes_back);
                standing.is_some_and(|s| {
                    rule(&s.grants, &entry.key()).is_ok() && (own || world.within(entry, s.cut.as_deref()))
                })
                    && !state.authority.idle.contains(&entry.hash)
                    && !erased
            };
            prop_assert_eq!(judgement == Judgement::Counted, may, "{:?} is {:?}", entry, judgement);
            if judgement == Judgement::Waiting {
                prop_assert_eq!(standing, None, "a device that was given something is judged");
            }
        }
    }

    /// Removals hold downwards only: who removed a device that is cut off now came
    /// to the squad by a chain of admissions that does not lead through it, and the
    /// recovery key is never cut off.
    #[test]
    fn nobody_is_removed_by_a_junior(arrival in arrivals()) {
        let world = &arrival.world;
        let state = arrived(&arrival);
        prop_assert!(state.authority.standings[&world.recovery()].cut.is_none());
        let counted = counted(world, &state);
        for (device, standing) in &state.authority.standings {
            if standing.cut.is_none() {
                continue;
            }
            // Without the removed device's own acts the remover is still an owner.
            let without: Vec<Entry> =
                world.entries.iter().filter(|e| world.device_of(e) != *device || is_founding(e)).cloned().collect();
            let other = reference::state(&world.root(), &world.logs, &without);
            let by = counted.iter().filter(|e| {
                e.key().field == REMOVAL && e.key().subject == Subject::Device(*device)
            });
            let stands = |e: &&&Entry| {
                let by = other.authority.standings.get(&world.device_of(e));
                by.is_some_and(|s| s.grants.owner || s.grants.recovery)
            };
            prop_assert!(by.clone().any(|e| stands(&e)), "{device:?}");
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
        prop_assert_eq!(ledger.state(), reference::state(&root, &world.logs, &world.entries));
        prop_assert_eq!(ledger.state().authority, Authority::default());
        for entry in &world.entries {
            let may = world.device_of(entry) == device && entry.scope.member().is_some_and(|m| {
                rule(&Grants { serves: [m].into(), ..Grants::default() }, &entry.key()).is_ok()
            });
            prop_assert_eq!(ledger.state().judgements[&entry.hash] == Judgement::Counted, may);
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
            let withdrawn = state.withdrawn.contains(&entry.hash);
            prop_assert_eq!(live, !replaced && !withdrawn, "{:?}", entry);
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
    let mut world = World::founded(5);
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
    assert_ne!(a.content.commitment(), b.content.commitment(), "the salts differ");
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
            state.judgements[&entry.hash],
            Judgement::Refused(Reason::WrongScope),
            "an admission in {scope:?}"
        );
        assert!(!state.authority.standings.contains_key(&three));
    }
    for scope in [Scope::Squad, Scope::Staff, Scope::Private(member(1)), Scope::Member(member(2))] {
        let mut world = squad();
        let consent = Draft::about(
            Subject::Uuid(member(1).0),
            &Fact::Consent(Consent { to: Audience::Coach, given: true }),
        );
        let entry = world.write(1, scope, consent.clone());
        let owners = world.write(0, scope, consent);
        let state = state(&world);
        for hash in [entry.hash, owners.hash] {
            assert_ne!(state.judgements[&hash], Judgement::Counted, "a consent in {scope:?}");
        }
    }
}

/// Whoever may write training may write withdrawals, but lifts no limit by one.
#[test]
fn no_withdrawal_takes_a_limit_or_a_consent_away() {
    let mut world = squad();
    let scope = Scope::Member(member(1));
    let limit = Fact::Limit(Limit {
        from: day(1),
        until: None,
        no_one_leg: None,
        no_approach: true,
        max_box_mm: None,
        said_by: SaidBy::Coach,
        note: None,
    });
    let limit = world.write(0, scope, Draft::new(&limit));
    let consent = Fact::Consent(Consent { to: Audience::Coach, given: false });
    let consent = world.write(1, scope, Draft::about(Subject::Uuid(member(1).0), &consent));
    let training = world.write(1, scope, Draft::new(&rest(1)));
    // The athlete's device aims at the coach's limit, the coach at the athlete's consent.
    for (by, aimed_at) in [(1, &limit), (0, &consent), (0, &training)] {
        world.write(by, scope, Draft::about(Subject::Fact(aimed_at.hash), &Fact::Withdrawal));
    }
    let state = state(&world);
    for held in [&limit, &consent] {
        assert_eq!(state.live.get(&held.key()), Some(&[held.hash].into()), "{}", held.header.kind);
    }
    assert_eq!(state.withdrawn, [training.hash].into());
    assert!(!state.live.contains_key(&training.key()));
}

/// The generator makes what these properties are about, and not seldom.
#[test]
fn the_generator_makes_the_cases() {
    let mut runner = TestRunner::deterministic();
    let mut seen: BTreeMap<&str, u32> = BTreeMap::new();
    for _ in 0..800 {
        let world = worlds().new_tree(&mut runner).unwrap().current();
        let root = world.root();
        // The founding, then from the last entry to the first: admissions come late.
        let mut ledger = MemoryLedger::default();
        let mut first = BTreeMap::new();
        for at in [0].into_iter().chain((1..world.entries.len()).rev()) {
            take(&mut ledger, &root, &world, &[at]);
            let hash = world.entries[at].hash;
            first.insert(hash, ledger.state().judgements[&hash]);
        }
        let state = &ledger.state();
        let mut saw = |what, so: bool| *seen.entry(what).or_default() += u32::from(so);
        for (hash, judgement) in &state.judgements {
            saw("counted", *judgement == Judgement::Counted);
            saw("waiting", *judgement == Judgement::Waiting);
            saw("owner only", *judgement == Judgement::Refused(Reason::OwnerOnly));
            saw("member only", *judgement == Judgement::Refused(Reason::MemberOnly));
            saw("wrong scope", *judgement == Judgement::Refused(Reason::WrongScope));
            saw("second founding", *judgement == Judgement::Refused(Reason::SecondFounding));
            saw("not given", *judgement == Judgement::Refused(Reason::NotGiven));
            saw("behind a cut", *judgement == Judgement::Refused(Reason::Removed));
            saw("aimed at a senior", *judgement == Judgement::Refused(Reason::Senior));
            saw("erased", *judgement == Judgement::Refused(Reason::Erased));
            let late = first[hash] != Judgement::Counted && *judgement == Judgement::Counted;
            saw("judged again", late);
            let refused_first = matches!(first[hash], Judgement::Refused(_));
            saw("refused first, counted later", late && refused_first);
            saw(
                "counted first, refused later",
                first[hash] == Judgement::Counted && *judgement != Judgement::Counted,
            );
        }
        let standings = &state.authority.standings;
        saw("an owner cut off", standings.values().any(|s| s.grants.owner && s.cut.is_some()));
        saw("another's cut off", standings.values().any(|s| !s.grants.owner && s.cut.is_some()));
        saw("one athlete under two ids", !state.authority.same.is_empty());
        saw("withdrawn", !state.withdrawn.is_empty());
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
            let body = entry.body().unwrap();
            saw("deletion", body.payload == [0xf6]);
            let read = Fact::read(&entry.header.kind, &entry.key().field, &body.payload);
            saw("unknown kind or field", matches!(read, Ok((Fact::Unknown, _))));
            saw("unreadable", read.is_err());
            let admits = matches!(read, Ok((Fact::Grant(_), _)));
            saw("admission by one admitted", admits && world.device_of(entry) != root.device);
            saw("by another than an owner", !standings[&world.device_of(entry)].grants.owner);
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
    assert_eq!(seen.len(), 32);
    let seldom: Vec<_> = seen.iter().filter(|(_, times)| **times < 50).collect();
    assert!(seldom.is_empty(), "seldom: {seldom:?}");
}
