//! Devices with real keys, the entries they write, and a generator of worlds:
//! sets of entries in which everything happens that merge has a rule for.

#![allow(dead_code, unreachable_pub, reason = "each file of tests uses its part of this one")]
#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

pub mod replica;

use std::collections::{BTreeMap, BTreeSet};

use ed25519_dalek::{Signer as _, SigningKey};
use pitside_log::authority::Root;
use pitside_log::entry::{Body, Content, Entry, Header, Key, Target, origin};
use pitside_log::opening::Opening;
use pitside_log::reference::State;
use pitside_log::seal::Signer;
use pitside_model::cbor::{Value, encode};
use pitside_model::facts::{
    Audience, BodyPart, Card, CheckIn, Conditions, Consent, Day, DeviceKey, Extra, Fact, Founding, Grant,
    Hash, Head, Hurt, Level, Limit, LogId, MemberId, Removal, RestDay, Role, Roster, SaidBy, SamePerson,
    Scope, Session, SquadId, Standing, Subject, field_name, kind,
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
    Fact::Grant(Grant::new(role, members.to_vec()))
}

pub fn rest(n: u8) -> Fact {
    Fact::Rest(RestDay { day: day(n) })
}

pub fn hurt(score: u8) -> Fact {
    let hurts = vec![Hurt { part: BodyPart::Shin, side: None, score }];
    Fact::CheckIn(CheckIn { day: day(score), hurts, sleep_min: None, signs: BTreeSet::new() })
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
    pub fn entry(self, log: LogId, seq: u64, scope: Scope, before: Hash) -> Entry {
        let mut salt = [0; 16];
        salt[..8].copy_from_slice(&before.0[..8]);
        salt[8..].copy_from_slice(&seq.to_be_bytes());
        let body = Body { salt, payload: self.payload };
        let header = Header {
            kind: self.kind,
            target: self.target,
            stamp_ms: 1_780_000_000_000,
            zone_min: 120,
            replaces: self.replaces,
        };
        Entry::from_parts(log, seq, scope, before, header.to_bytes(), Content::Body(body)).unwrap()
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
            let at = self.devices.iter().position(|d| d.key() == self.logs[&entry.log]).unwrap();
            let h = &entry.header;
            let payload = &entry.body().unwrap().payload;
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
        let founding = world.write(0, Scope::Squad, Draft::new(&founding(Some(world.recovery()))));
        world.squad = SquadId(founding.hash.0);
        world
    }

    /// The recovery key: the last of the devices.
    pub fn recovery(&self) -> DeviceKey {
        self.devices[self.devices.len() - 1].key()
    }

    /// The heads of a device's logs up to here.
    pub fn cut(&self, device: DeviceKey) -> Vec<Head> {
        let heads = self.heads.iter().filter(|(log, _)| self.logs[log] == device);
        let head = |(log, hash): (&LogId, &Hash)| {
            let seq = self.entries.iter().find(|e| e.hash == *hash).unwrap().seq;
            Head { log: *log, seq, hash: *hash }
        };
        heads.map(head).collect()
    }

    /// Whether an entry lies on the way to one of the heads, or there is no cut.
    /// Nothing in these worlds is written twice.
    pub fn within(&self, entry: &Entry, cut: Option<&[Head]>) -> bool {
        cut.is_none_or(|cut| cut.iter().any(|h| h.log == entry.log && h.seq >= entry.seq))
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
        let seq = 1 + self.entries.iter().filter(|e| e.log == log).count() as u64;
        let entry = draft.entry(log, seq, scope, before);
        self.heads.insert(log, entry.hash);
        self.entries.push(entry.clone());
        entry
    }

    pub fn device_of(&self, entry: &Entry) -> DeviceKey {
        self.logs[&entry.log]
    }

    pub fn by_hash(&self) -> BTreeMap<Hash, &Entry> {
        self.entries.iter().map(|e| (e.hash, e)).collect()
    }

    /// The distinct values of each live key. Merge keeps the live entries; that
    /// equal values are one is for whoever reads the payloads.
    pub fn values(&self, state: &State) -> BTreeMap<Key, BTreeSet<Vec<u8>>> {
        let entries = self.by_hash();
        let value = |hash: &Hash| entries[hash].body().unwrap().payload.clone();
        state.live.iter().map(|(key, live)| (key.clone(), live.iter().map(value).collect())).collect()
    }
}

pub fn founding(recovery: Option<DeviceKey>) -> Fact {
    Fact::Founding(Founding { demo: false, recovery: recovery.map(|key| key.0) })
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
    /// Removes a device, with the cut of this moment.
    Remove {
        by: usize,
        removed: usize,
    },
    /// Takes every removal of a device so far back.
    TakeBack {
        by: usize,
        removed: usize,
    },
    /// Takes the body of an entry away, or claims to from another scope.
    Withdraw {
        by: usize,
        at: Index,
        elsewhere: bool,
    },
    /// Ties two members together.
    Same {
        by: usize,
        a: u8,
        b: u8,
    },
    /// Erases a member, or takes that back.
    Erase {
        by: usize,
        of: u8,
        back: bool,
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
        conditions: Conditions::default(),
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
        1 => Draft::about(
            subject,
            &Fact::Consent(Consent { to: Audience::Coach, given: value.is_multiple_of(2) }),
        ),
        2 => Draft::about(subject, &Fact::Roster(Roster { standing, since: day(value), keep_until: None })),
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
                self.write(by % n, Scope::Squad, Draft::new(&founding(None)));
            }
            Step::Admit { by, receiver, owner, members } => {
                let receiver = self.devices[receiver % n].key();
                let other =
                    [Role::Athlete, Role::Assistant, Role::Medical, Role::Guardian][members.len() % 4];
                let role = if owner { Role::Owner } else { other };
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
                    1 => old.body().unwrap().payload.clone(),
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
            Step::Remove { by, removed } => {
                let removed = self.devices[removed % n].key();
                let cut = self.cut(removed);
                let fact = Fact::Removal(Removal { cut });
                self.write(by % n, Scope::Squad, Draft::about(Subject::Device(removed), &fact));
            }
            Step::TakeBack { by, removed } => {
                let subject = Subject::Device(self.devices[removed % n].key());
                let key =
                    Key { scope: Scope::Squad, kind: kind::DEVICE.into(), subject, field: REMOVAL.into() };
                let target = about(subject, REMOVAL);
                let (replaces, payload) = (self.same_key(&key), encode(&Value::Null));
                self.write(by % n, Scope::Squad, Draft { kind: key.kind, target, replaces, payload });
            }
            Step::Withdraw { by, at, elsewhere } => {
                let old = at.get(&self.entries).clone();
                let scope = if elsewhere { Scope::Squad } else { old.scope };
                self.write(by % n, scope, Draft::about(Subject::Fact(old.hash), &Fact::Withdrawal));
            }
            Step::Same { by, a, b } => {
                let fact = Fact::SamePerson(SamePerson { with: member(b) });
                self.write(by % n, Scope::Squad, Draft::about(Subject::Uuid(member(a).0), &fact));
            }
            Step::Erase { by, of, back } => {
                let draft = Draft::about(Subject::Uuid(member(of).0), &Fact::Erasure);
                let target = draft.target.clone().unwrap();
                let (kind, subject) = (draft.kind.clone(), target.subject);
                let key = Key { scope: Scope::Squad, kind, subject, field: target.field };
                let draft = if back {
                    Draft { payload: encode(&Value::Null), replaces: self.same_key(&key), ..draft }
                } else {
                    draft
                };
                self.write(by % n, Scope::Squad, draft);
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
        5 => (author(), 0_usize..6).prop_map(|(by, removed)| Step::Remove { by, removed }),
        1 => (author(), 0_usize..6).prop_map(|(by, removed)| Step::TakeBack { by, removed }),
        3 => (author(), any::<Index>(), prop::bool::weighted(0.2))
            .prop_map(|(by, at, elsewhere)| Step::Withdraw { by, at, elsewhere }),
        1 => (author(), 0..MEMBERS, 0..MEMBERS).prop_map(|(by, a, b)| Step::Same { by, a, b }),
        1 => (author(), 0..MEMBERS, prop::bool::weighted(0.4))
            .prop_map(|(by, of, back)| Step::Erase { by, of, back }),
        2 => (author(), any::<Index>(), 0_u8..8, 0..MEMBERS)
            .prop_map(|(by, at, scope, of)| Step::Elsewhere { by, at, scope, of }),
    ]
}

/// Worlds of 3 to 7 devices, the recovery key among them, and up to 40 steps.
pub fn worlds() -> impl Strategy<Value = World> {
    (3_u8..=7, prop::collection::vec(step(), 1..40)).prop_map(|(devices, steps)| {
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

/// The field of a removal.
const REMOVAL: &str = field_name::REMOVAL;
