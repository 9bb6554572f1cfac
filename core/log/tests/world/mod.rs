//! Devices with real keys, the entries they write, and a generator of worlds:
//! sets of entries in which everything happens that merge has a rule for.

#![allow(dead_code, unreachable_pub, reason = "each file of tests uses its part of this one")]
#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

pub mod replica;

use std::collections::{BTreeMap, BTreeSet};

use ed25519_dalek::{Signer as _, SigningKey};
use pitside_log::authority::Root;
use pitside_log::entry::{Body, Entry, Header, Key, Target, origin};
use pitside_log::opening::Opening;
use pitside_log::reference::State;
use pitside_log::seal::Signer;
use pitside_model::cbor::{Value, encode};
use pitside_model::facts::{
    BodyPart, Card, CheckIn, Consent, Day, DeviceKey, Extra, Fact, Founding, Grant, Hash, Hurt, Level, Limit,
    LogId, MemberId, Place, RestDay, Role, Roster, SaidBy, Scope, Session, SquadId, Standing, Subject,
    field_name, kind,
};
use proptest::prelude::*;
use proptest::sample::Index;
use uuid::Uuid;

/// A device with its key.
#[derive(Clone)]
pub struct Device(SigningKey);

impl Signer for Device {
    fn key(&self) -> DeviceKey {
        DeviceKey(self.0.verifying_key().to_bytes())
    }
    fn sign(&self, bytes: &[u8]) -> [u8; 64] {
        self.0.sign(bytes).to_bytes()
    }
}

/// The device with this number: the same key in every run.
pub fn device(n: u8) -> Device {
    Device(SigningKey::from_bytes(&[n + 1; 32]))
}

/// The member with this number.
pub fn member(n: u8) -> MemberId {
    MemberId(Uuid::from_u128(0x7000 + u128::from(n)))
}

/// A day of the season.
pub fn day(n: u8) -> Day {
    Day::parse("2026-03-02").unwrap().plus(n.into())
}

pub fn payload(fact: &Fact) -> Vec<u8> {
    fact.write(&Extra::new()).unwrap()
}

pub fn grant(role: Role, members: &[MemberId]) -> Fact {
    Fact::Grant(Grant { role, members: members.to_vec() })
}

pub fn rest(n: u8) -> Fact {
    Fact::Rest(RestDay { day: day(n) })
}

pub fn hurt(score: u8) -> Fact {
    let hurts = vec![Hurt { part: BodyPart::Shin, side: None, score }];
    Fact::CheckIn(CheckIn { day: day(score), hurts, sleep_min: None })
}

pub fn about(subject: Subject, field: &str) -> Option<Target> {
    Some(Target { subject, field: field.to_owned() })
}

/// What is to be written, before it has its place.
#[derive(Clone, Debug)]
pub struct Draft {
    pub kind: String,
    pub target: Option<Target>,
    pub replaces: Vec<Hash>,
    pub payload: Vec<u8>,
}

impl Draft {
    /// A fact written down anew.
    pub fn new(fact: &Fact) -> Self {
        let kind = fact.address().unwrap().0.to_owned();
        Self { kind, target: None, replaces: vec![], payload: payload(fact) }
    }
    /// A field of something.
    pub fn about(subject: Subject, fact: &Fact) -> Self {
        let target = about(subject, fact.address().unwrap().1);
        Self { target, ..Self::new(fact) }
    }
    pub fn replacing(self, replaces: Vec<Hash>) -> Self {
        Self { replaces, ..self }
    }
    /// The entry at a place of a log. Its salt differs from every other's.
    pub fn entry(self, place: Place, scope: Scope, before: Hash) -> Entry {
        let mut salt = [0; 16];
        salt[..8].copy_from_slice(&place.log.0[..8]);
        salt[8..].copy_from_slice(&place.seq.to_be_bytes());
        let body = Body { salt, payload: self.payload };
        let header = Header {
            kind: self.kind,
            target: self.target,
            stamp_ms: 1_780_000_000_000,
            zone_min: 120,
            replaces: self.replaces,
            commitment: body.commitment(),
        };
        Entry::from_parts(place, scope, before, header.to_bytes(), Some(body)).unwrap()
    }
}

/// A set of entries, and who wrote which log.
#[derive(Clone)]
pub struct World {
    pub devices: Vec<Device>,
    pub squad: SquadId,
    pub logs: BTreeMap<LogId, DeviceKey>,
    pub entries: Vec<Entry>,
    heads: BTreeMap<LogId, Hash>,
}

impl std::fmt::Debug for World {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for entry in &self.entries {
            let at = self.devices.iter().position(|d| d.key() == self.logs[&entry.place.log]).unwrap();
            let h = &entry.header;
            let payload = &entry.body.as_ref().unwrap().payload;
            writeln!(
                f,
                "device {at} {:?} {:?}: {} {:?} replaces {:?} {payload:02x?}",
                entry.scope, entry.hash, h.kind, h.target, h.replaces
            )?;
        }
        Ok(())
    }
}

impl World {
    /// Device 0 founds the squad, the others are there.
    pub fn founded(devices: u8) -> Self {
        let mut world = Self {
            devices: (0..devices).map(device).collect(),
            squad: SquadId([0; 32]),
            logs: BTreeMap::new(),
            entries: vec![],
            heads: BTreeMap::new(),
        };
        let founding = world.write(0, Scope::Squad, Draft::new(&founding()));
        world.squad = SquadId(founding.hash.0);
        world
    }

    pub fn root(&self) -> Root {
        Root { squad: Some(self.squad), device: self.devices[0].key() }
    }

    /// Device `by` writes in its log of the scope, whether it may or not.
    pub fn write(&mut self, by: usize, scope: Scope, draft: Draft) -> Entry {
        let opening = Opening::new(&self.devices[by], scope, [0; 16]);
        let log = opening.id();
        self.logs.insert(log, opening.device);
        let before = self.heads.get(&log).copied().unwrap_or(origin(log));
        let seq = 1 + self.entries.iter().filter(|e| e.place.log == log).count() as u64;
        let entry = draft.entry(Place { log, seq }, scope, before);
        self.heads.insert(log, entry.hash);
        self.entries.push(entry.clone());
        entry
    }

    pub fn device_of(&self, entry: &Entry) -> DeviceKey {
        self.logs[&entry.place.log]
    }

    pub fn by_hash(&self) -> BTreeMap<Hash, &Entry> {
        self.entries.iter().map(|e| (e.hash, e)).collect()
    }

    /// The distinct values of each live key. Merge keeps the live entries; that
    /// equal values are one is for whoever reads the payloads.
    pub fn values(&self, state: &State) -> BTreeMap<Key, BTreeSet<Vec<u8>>> {
        let entries = self.by_hash();
        let value = |hash: &Hash| entries[hash].body.as_ref().unwrap().payload.clone();
        state.live.iter().map(|(key, live)| (key.clone(), live.iter().map(value).collect())).collect()
    }
}

pub fn founding() -> Fact {
    Fact::Founding(Founding { demo: false, recovery: None })
}

/// What the author of an edit saw.
#[derive(Clone, Copy, Debug)]
pub enum Seen {
    /// Nothing: a second first value.
    Nothing,
    /// The one entry.
    One,
    /// Every entry of the key so far: a settlement, where there was a clash.
    All,
}

/// One thing that a device does.
#[derive(Clone, Debug)]
pub enum Step {
    Found {
        by: usize,
    },
    Admit {
        by: usize,
        receiver: usize,
        owner: bool,
        members: Vec<u8>,
    },
    Anew {
        by: usize,
        scope: u8,
        of: u8,
        kind: usize,
        value: u8,
    },
    Field {
        by: usize,
        scope: u8,
        of: u8,
        field: usize,
        value: u8,
        seen: Seen,
    },
    Edit {
        by: usize,
        at: Index,
        value: u8,
        seen: Seen,
    },
    /// Writes anew and claims to replace an entry of another key.
    Usurp {
        by: usize,
        scope: u8,
        of: u8,
        at: Index,
    },
    /// An edit that replaces an entry nobody has.
    Absent {
        by: usize,
        scope: u8,
        of: u8,
        value: u8,
    },
    /// An edit of a known fact by its right key, but standing in another scope.
    Elsewhere {
        by: usize,
        at: Index,
        scope: u8,
        of: u8,
    },
}

const MEMBERS: u8 = 3;

fn scope(pick: u8, of: u8) -> Scope {
    match pick % 8 {
        0 | 1 => Scope::Squad,
        2 => Scope::Staff,
        3..=5 => Scope::Member(member(of)),
        _ => Scope::Private(member(of)),
    }
}

/// Something of this kind written down anew, of a few values.
fn anew(pick: usize, value: u8) -> Draft {
    let session = Session {
        day: day(value),
        start_min: None,
        purpose: None,
        location: None,
        surface: None,
        shoes: None,
        weather: None,
        cut_short: None,
    };
    let limit = Limit {
        from: day(value),
        until: None,
        no_one_leg: None,
        no_approach: true,
        max_box_mm: None,
        said_by: SaidBy::Coach,
        note: None,
    };
    let odd = |kind: &str, payload: Value| Draft {
        kind: kind.to_owned(),
        target: None,
        replaces: vec![],
        payload: encode(&payload),
    };
    match pick % 7 {
        0 => Draft::new(&Fact::Session(session)),
        1 => Draft::new(&Fact::Limit(limit)),
        2 => Draft::new(&hurt(value)),
        3 => Draft::new(&rest(value)),
        4 => odd("of-a-later-day", value.into()),
        // A set whose payload is not one.
        5 => odd(kind::SET, Value::Bool(true)),
        _ => odd(kind::DEVICE, value.into()),
    }
}

/// A field of something that has an id.
fn field(pick: usize, of: u8, value: u8) -> Draft {
    let subject = Subject::Uuid(member(of).0);
    let level = Level::ALL[usize::from(value) % Level::ALL.len()];
    let standing = Standing::ALL[usize::from(value) % Standing::ALL.len()];
    match pick % 6 {
        0 => Draft::about(subject, &Fact::Card(Card::Level(level))),
        1 => Draft::about(subject, &Fact::Consent(Consent { given: value.is_multiple_of(2) })),
        2 => Draft::about(subject, &Fact::Roster(Roster { standing, since: day(value) })),
        3 => Draft {
            target: about(subject, "of-a-later-day"),
            ..Draft::about(subject, &Fact::Card(Card::Level(level)))
        },
        4 => Draft::about(subject, &Fact::SquadName(format!("Weir jumps {value}"))),
        _ => Draft::about(subject, &Fact::Card(Card::MassG(50_000 + u32::from(value)))),
    }
}

/// A grant that cannot be read: of a later role.
fn later_grant(receiver: DeviceKey) -> Draft {
    let payload = encode(&Value::Map(vec![("role".into(), "of-a-later-day".into())]));
    let draft = Draft::about(Subject::Device(receiver), &grant(Role::Owner, &[]));
    Draft { payload, ..draft }
}

impl World {
    /// Of the same key, in the order of writing.
    fn same_key(&self, key: &Key) -> Vec<Hash> {
        self.entries.iter().filter(|e| e.key() == *key).map(|e| e.hash).collect()
    }

    pub fn take(&mut self, step: &Step) {
        let n = self.devices.len();
        match step.clone() {
            Step::Found { by } => {
                self.write(by % n, Scope::Squad, Draft::new(&founding()));
            }
            Step::Admit { by, receiver, owner, members } => {
                let receiver = self.devices[receiver % n].key();
                let role = if owner { Role::Owner } else { Role::Athlete };
                let members: Vec<_> = members.into_iter().map(member).collect();
                let draft = if members.len() > 2 {
                    later_grant(receiver)
                } else {
                    Draft::about(Subject::Device(receiver), &grant(role, &members))
                };
                self.write(by % n, Scope::Squad, draft);
            }
            Step::Anew { by, scope: pick, of, kind, value } => {
                self.write(by % n, scope(pick, of), anew(kind, value));
            }
            Step::Field { by, scope: pick, of, field: which, value, seen } => {
                let (scope, draft) = (scope(pick, of), field(which, of, value));
                let target = draft.target.clone().unwrap();
                let key =
                    Key { scope, kind: draft.kind.clone(), subject: target.subject, field: target.field };
                let same = self.same_key(&key);
                let replaces = match seen {
                    Seen::Nothing => vec![],
                    Seen::One => same.into_iter().take(1).collect(),
                    Seen::All => same,
                };
                self.write(by % n, scope, draft.replacing(replaces));
            }
            Step::Edit { by, at, value, seen } => {
                let old = at.get(&self.entries).clone();
                let key = old.key();
                let replaces = match seen {
                    Seen::Nothing => vec![],
                    Seen::One => vec![old.hash],
                    Seen::All => self.same_key(&key),
                };
                // Value 0 is a deletion; the others are equal to earlier ones or odd.
                let payload = match value {
                    0 => encode(&Value::Null),
                    1 => old.body.unwrap().payload,
                    _ => encode(&Value::Map(vec![("g".into(), (40_000 + i64::from(value)).into())])),
                };
                let target = about(key.subject, &key.field);
                self.write(by % n, old.scope, Draft { kind: key.kind, target, replaces, payload });
            }
            Step::Usurp { by, scope: pick, of, at } => {
                let other = at.get(&self.entries).hash;
                self.write(by % n, scope(pick, of), Draft::new(&rest(of)).replacing(vec![other]));
            }
            Step::Absent { by, scope: pick, of, value } => {
                let draft = field(0, of, value).replacing(vec![Hash([value; 32])]);
                self.write(by % n, scope(pick, of), draft);
            }
            Step::Elsewhere { by, at, scope: pick, of } => {
                let old = at.get(&self.entries).clone();
                let key = old.key();
                let target = about(key.subject, &key.field);
                let payload = encode(&Value::Null);
                let draft = Draft { kind: key.kind, target, replaces: vec![old.hash], payload };
                self.write(by % n, scope(pick, of), draft);
            }
        }
    }
}

/// Devices by number: the founder does about half of everything.
fn author() -> impl Strategy<Value = usize> {
    prop_oneof![Just(0_usize), 1_usize..6]
}

fn step() -> impl Strategy<Value = Step> {
    let seen = || prop_oneof![Just(Seen::Nothing), Just(Seen::One), Just(Seen::All)];
    let members = || prop_oneof![9 => prop::collection::vec(0..MEMBERS, 0..3), 1 => Just(vec![0, 1, 2])];
    prop_oneof![
        1 => author().prop_map(|by| Step::Found { by }),
        8 => (author(), 0_usize..6, prop::bool::weighted(0.25), members())
            .prop_map(|(by, receiver, owner, members)| Step::Admit { by, receiver, owner, members }),
        6 => (author(), 0_u8..8, 0..MEMBERS, 0_usize..7, 0_u8..3)
            .prop_map(|(by, scope, of, kind, value)| Step::Anew { by, scope, of, kind, value }),
        8 => (author(), 0_u8..8, 0..MEMBERS, 0_usize..6, 0_u8..3, seen()).prop_map(
            |(by, scope, of, field, value, seen)| Step::Field { by, scope, of, field, value, seen }
        ),
        8 => (author(), any::<Index>(), 0_u8..4, seen())
            .prop_map(|(by, at, value, seen)| Step::Edit { by, at, value, seen }),
        2 => (author(), 0_u8..8, 0..MEMBERS, any::<Index>())
            .prop_map(|(by, scope, of, at)| Step::Usurp { by, scope, of, at }),
        1 => (author(), 0_u8..8, 0..MEMBERS, 0_u8..3)
            .prop_map(|(by, scope, of, value)| Step::Absent { by, scope, of, value }),
        2 => (author(), any::<Index>(), 0_u8..8, 0..MEMBERS)
            .prop_map(|(by, at, scope, of)| Step::Elsewhere { by, at, scope, of }),
    ]
}

/// Worlds of 2 to 6 devices and up to 40 steps.
pub fn worlds() -> impl Strategy<Value = World> {
    (2_u8..=6, prop::collection::vec(step(), 1..40)).prop_map(|(devices, steps)| {
        let mut world = World::founded(devices);
        steps.iter().for_each(|step| world.take(step));
        world
    })
}

/// A world, and an order in which its entries arrive: each at least once, some
/// again, in groups that are put in before the first of them is applied.
#[derive(Clone, Debug)]
pub struct Arrival {
    pub world: World,
    pub groups: Vec<Vec<usize>>,
}

pub fn arrivals() -> impl Strategy<Value = Arrival> {
    worlds()
        .prop_flat_map(|world| {
            let n = world.entries.len();
            let again = prop::collection::vec(0..n, 0..=n);
            (Just(world), again, prop::collection::vec(1_usize..8, 1..12))
        })
        .prop_flat_map(|(world, again, sizes)| {
            let order: Vec<usize> = (0..world.entries.len()).chain(again).collect();
            (Just(world), Just(order).prop_shuffle(), Just(sizes))
        })
        .prop_map(|(world, order, sizes)| {
            let mut groups = vec![];
            let mut rest = order.as_slice();
            for size in sizes.into_iter().cycle() {
                if rest.is_empty() {
                    break;
                }
                let (group, later) = rest.split_at(size.min(rest.len()));
                groups.push(group.to_vec());
                rest = later;
            }
            Arrival { world, groups }
        })
}

/// The founding's own key is a fact of the squad's scope.
pub fn is_founding(entry: &Entry) -> bool {
    entry.header.kind == kind::SQUAD && entry.header.target.is_none()
}

/// The name of the field under which grants stand.
pub const GRANT: &str = field_name::GRANT;
