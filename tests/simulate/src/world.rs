//! The devices of one plan, and what each step does to them.

use std::collections::BTreeSet;
use std::path::Path;

use pitside_book::clock::Stamp;
use pitside_book::exchange::{Part, accept};
use pitside_book::keys::Recovery;
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, BookError, BookReplica, Draft, Filter, Held};
use pitside_log::entry::{Body, Content, Entry, Header, Key, Target, origin};
use pitside_log::opening::Opening;
use pitside_log::seal::Seal;
use pitside_log::segment::Segment;
use pitside_log::sync::{Batch, Replica};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{
    Audience, BodyPart, Card, CheckIn, Conditions, Consent, Day, DeviceKey, Extra, Fact, Grant, Hash, Hurt,
    Leg, Level, Limit, MemberId, RestDay, Role, SaidBy, Scope, Session, Set, Side, SquadId, Subject,
    field_name, kind,
};
use pitside_model::load::catalogue;

use crate::device::{At, Device, identity};
use crate::meeting::{Ended, Meeting};
use crate::plan::{MAX_DEVICES, Step, WHOLE, What};

/// What must not be, and was.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{kind}: {what}")]
pub struct Violation {
    /// Which of the things that must hold; a trace is shrunk while this stays.
    pub kind: &'static str,
    /// What was found.
    pub what: String,
}

impl Violation {
    pub(crate) fn new(kind: &'static str, what: String) -> Self {
        Self { kind, what }
    }
}

impl From<BookError> for Violation {
    fn from(e: BookError) -> Self {
        Self::new("store", e.to_string())
    }
}

impl From<std::io::Error> for Violation {
    fn from(e: std::io::Error) -> Self {
        Self::new("machine", e.to_string())
    }
}

/// A fact that a step wrote.
#[derive(Clone, Debug)]
pub(crate) struct Written {
    pub(crate) hash: Hash,
    pub(crate) key: Key,
    what: What,
}

/// All devices.
#[derive(Debug)]
pub(crate) struct World {
    folder: tempfile::TempDir,
    pub(crate) devices: Vec<Device>,
    pub(crate) meetings: Vec<Meeting>,
    pub(crate) members: Vec<MemberId>,
    pub(crate) written: Vec<Written>,
    squad: SquadId,
    recovery: Recovery,
    ticks: i64,
    /// Members who were erased by anyone at any time.
    pub(crate) ever_erased: BTreeSet<MemberId>,
    /// Something was refused that did not hold together.
    pub(crate) refused_pieces: bool,
    /// What a step is about to do that takes a while, in words.
    pub(crate) doing: String,
    /// An invitation ended before its guest came: what a clock may well change.
    pub(crate) expired: bool,
}

/// The first moment: in September 2026.
const BEGIN_MS: i64 = 1_790_000_000_000;
const YEAR_MS: i64 = 365 * 24 * 3_600_000;

/// What a step said of itself.
type Told = Result<String, Violation>;

impl World {
    /// Blank devices, of which the first has founded the squad.
    ///
    /// # Errors
    /// [`Violation`] where a book cannot be made.
    pub(crate) fn new(devices: usize) -> Result<Self, Violation> {
        // In memory where there is such a place: nothing here is about the disk.
        let memory = Path::new("/dev/shm");
        let folder = if memory.is_dir() { tempfile::tempdir_in(memory)? } else { tempfile::tempdir()? };
        let devices: Vec<Device> = (0..devices.clamp(1, MAX_DEVICES))
            .map(|n| Device::new(u8::try_from(n).unwrap_or(0), folder.path().join(format!("device-{n}"))))
            .collect::<Result<_, _>>()?;
        let founded = devices[0].book()?.found("Harbour jumps", Stamp { ms: BEGIN_MS, zone_min: 60 })?;
        let (squad, recovery) = (founded.squad, founded.recovery);
        Ok(Self {
            folder,
            devices,
            meetings: Vec::new(),
            members: Vec::new(),
            written: Vec::new(),
            squad,
            recovery,
            ticks: 0,
            ever_erased: BTreeSet::new(),
            refused_pieces: false,
            doing: String::new(),
            expired: false,
        })
    }

    pub(crate) fn now(&self, device: usize) -> Stamp {
        let ms = BEGIN_MS + self.ticks * 60_000 + self.devices[device].years * YEAR_MS;
        Stamp { ms, zone_min: 60 }
    }

    /// Takes a step; says in words what became of it, and which devices to check.
    ///
    /// # Errors
    /// [`Violation`] where something happened that must not.
    pub(crate) fn take(&mut self, step: &Step) -> Result<(String, Vec<usize>), Violation> {
        self.ticks += 1;
        self.doing.clear();
        let open = self.meetings.len();
        let goes_on = match step {
            Step::Deliver { meeting, .. }
            | Step::Cut { meeting }
            | Step::Repeat { meeting, .. }
            | Step::Flip { meeting, .. } => Some(usize::from(*meeting) % open.max(1)),
            _ => None,
        };
        for (at, meeting) in self.meetings.iter_mut().enumerate() {
            if goes_on != Some(at) {
                meeting.crowd();
            }
        }
        let mut touched = BTreeSet::new();
        let told = self.act(step, &mut touched)?;
        self.register_members()?;
        Ok((told, touched.into_iter().collect()))
    }

    fn act(&mut self, step: &Step, touched: &mut BTreeSet<usize>) -> Told {
        match *step {
            Step::Start { device } => {
                let d = self.device(device, touched);
                let begun = self.devices[d].book()?.start_member(self.now(d));
                Ok(format!("device {d} makes the member it serves{}", tried(begun)?))
            }
            Step::AddMember { owner } => {
                let d = self.owner(owner, touched)?;
                let made = self.devices[d].book()?.add_member("Ino", self.now(d));
                Ok(format!("device {d} puts a member on the roster{}", tried(made)?))
            }
            Step::Write { device, what, about, value } => {
                let d = self.device(device, touched);
                self.write(d, what, about, value)
            }
            Step::Correct { device, fact, value } => {
                let d = self.device(device, touched);
                let Some((n, held)) = self.held_fact(d, fact)? else {
                    return Ok(format!("device {d} has no fact to correct"));
                };
                let written = self.written[n].clone();
                let session = match held.fact() {
                    Some(Fact::Set(set)) => Some(set.session),
                    _ => None,
                };
                let fact = match &written.key.field {
                    // The field of a card stays the same.
                    field if written.what == What::Card => card(field, value),
                    _ => fact_of(written.what, value, session),
                };
                let done = self.replace(d, &held, fact, written.what)?;
                Ok(format!("device {d} corrects fact {n}{done}"))
            }
            Step::Delete { device, fact } => {
                let d = self.device(device, touched);
                let Some((n, held)) = self.held_fact(d, fact)? else {
                    return Ok(format!("device {d} has no fact to delete"));
                };
                let done = self.replace(d, &held, Fact::Deleted, self.written[n].what)?;
                Ok(format!("device {d} deletes fact {n}{done}"))
            }
            Step::Withdraw { device, fact } => {
                let d = self.device(device, touched);
                let Some((n, held)) = self.held_fact(d, fact)? else {
                    return Ok(format!("device {d} has no fact to withdraw"));
                };
                let done = self.devices[d].book()?.withdraw(&held, self.now(d));
                Ok(format!("device {d} withdraws fact {n}{}", tried(done)?))
            }
            Step::Settle { device, clash, value } => {
                let d = self.device(device, touched);
                self.settle(d, clash, value)
            }
            Step::Consent { device, about, to, given } => {
                let d = self.device(device, touched);
                let Some(member) = self.member_of(d, about)? else {
                    return Ok("there is no member".to_owned());
                };
                let to = [Audience::Coach, Audience::Assistants, Audience::Medical][usize::from(to) % 3];
                let fact = Fact::Consent(Consent { to, given });
                let subject = Subject::Uuid(member.0);
                let done = self.devices[d].book()?.revise(Scope::Member(member), subject, fact, self.now(d));
                let verb = if given { "gives" } else { "takes back" };
                let whose = self.member_name(member);
                Ok(format!("device {d} {verb} {whose}'s consent {}{}", to_word(to), tried(done)?))
            }
            Step::Later { device, about, value } => {
                let d = self.device(device, touched);
                self.later(d, about, value)
            }
            Step::Invite { owner, guest, role, about, extras, messages } => {
                let o = self.owner(owner, touched)?;
                let g = self.next(guest, |d| self.can_meet(o, d));
                touched.insert(g);
                self.invite(o, g, role, about, extras, messages)
            }
            Step::Give { owner, device, role, about, extras } => {
                let o = self.owner(owner, touched)?;
                let d = self.device(device, &mut BTreeSet::new());
                let grant = self.grant(role, about, extras);
                let words = self.grant_words(&grant);
                let key = self.devices[d].key();
                let done = self.devices[o].book()?.give(key, grant, self.now(o));
                Ok(format!("device {o} gives device {d} {words}{}", tried(done)?))
            }
            Step::Remove { owner, device } => {
                let o = self.owner(owner, touched)?;
                let d = self.device(device, &mut BTreeSet::new());
                let key = self.devices[d].key();
                let done = self.devices[o].book()?.remove_device(key, self.now(o));
                Ok(format!("device {o} removes device {d}{}", tried(done)?))
            }
            Step::RemoveByKey { owner, device } => {
                let o = self.owner(owner, touched)?;
                let d = self.device(device, &mut BTreeSet::new());
                let key = self.devices[d].key();
                let book = self.devices[o].book()?;
                let done = book.remove_device_by_recovery(key, &self.recovery, self.now(o));
                Ok(format!("device {o} removes device {d} by the recovery key{}", tried(done)?))
            }
            Step::Readmit { owner, device } => {
                let o = self.owner(owner, touched)?;
                let authority = self.devices[o].book()?.authority()?;
                let removed = |d: usize| authority.standing(self.devices[d].key()).cut.is_some();
                let d = self.next(device, removed);
                let key = self.devices[d].key();
                let done = self.devices[o].book()?.readmit_device(key, self.now(o));
                Ok(format!("device {o} takes the removal of device {d} back{}", tried(done)?))
            }
            Step::Recover { device } => {
                let d = self.device(device, touched);
                let done = self.devices[d].book()?.recover(&self.recovery, self.now(d));
                Ok(format!("device {d} carries the squad on by the recovery key{}", tried(done)?))
            }
            Step::SamePerson { owner, a, b } => {
                let d = self.owner(owner, touched)?;
                let (Some(a), Some(b)) = (self.member(a), self.member(b)) else {
                    return Ok("there is no member".to_owned());
                };
                let done = self.devices[d].book()?.same_person(a, b, self.now(d));
                let (a, b) = (self.member_name(a), self.member_name(b));
                Ok(format!("device {d} says that {a} is {b}{}", tried(done)?))
            }
            Step::TwoPersons { owner, about } => {
                let d = self.owner(owner, touched)?;
                let Some(member) = self.member(about) else { return Ok("there is no member".to_owned()) };
                let done = self.devices[d].book()?.two_persons(member, self.now(d));
                Ok(format!(
                    "device {d} says that {} is nobody else{}",
                    self.member_name(member),
                    tried(done)?
                ))
            }
            Step::Erase { owner, about } => {
                let d = self.owner(owner, touched)?;
                let Some(member) = self.member(about) else { return Ok("there is no member".to_owned()) };
                // One athlete under two ids is erased under both.
                let before = self.devices[d].book()?.authority()?.erased.clone();
                let done = self.devices[d].book()?.erase_member(member, self.now(d));
                let after = self.devices[d].book()?.authority()?;
                self.ever_erased.extend(after.erased.difference(&before));
                Ok(format!("device {d} erases {}{}", self.member_name(member), tried(done)?))
            }
            Step::LetGo { device } => {
                let d = self.next(device, |d| {
                    let book = self.devices[d].book();
                    book.is_ok_and(|book| book.asked_to_erase().is_ok_and(|asked| !asked.is_empty()))
                });
                touched.insert(d);
                let book = self.devices[d].book()?;
                let asked = book.asked_to_erase()?;
                let Some(member) = self.members.iter().copied().find(|m| asked.contains(m)) else {
                    return Ok(format!("device {d} is not asked to let go"));
                };
                let done = tried(book.let_go(member, self.now(d)))?;
                let left = book.asked_to_erase()?;
                self.devices[d].let_go.extend(asked.into_iter().filter(|m| !left.contains(m)));
                Ok(format!("device {d} lets go of {}{done}", self.member_name(member)))
            }
            Step::Fork { device } => {
                let d = self.device(device, touched);
                if self.devices.len() >= MAX_DEVICES {
                    return Ok("there are enough devices".to_owned());
                }
                let n = self.devices.len();
                self.drop_meetings(d);
                self.devices[d].stop();
                let folder = self.folder.path().join(format!("device-{n}"));
                let copy = self.devices[d].copy_to(folder)?;
                self.devices.push(copy);
                self.devices[d].start()?;
                self.devices[n].start()?;
                touched.insert(n);
                Ok(format!("the folder of device {d} is copied: device {n} has the same key"))
            }
            Step::Restore { device } => {
                let d = self.device(device, touched);
                self.restore(d)
            }
            Step::Clock { device, years } => {
                let d = self.device(device, touched);
                self.devices[d].years = i64::from(years);
                Ok(format!("the clock of device {d} is {years} years off"))
            }
            Step::Meet { caller, called, messages } => {
                let a = self.device(caller, touched);
                let b = self.next(called, |d| self.can_meet(a, d));
                touched.insert(b);
                if !self.can_meet(a, b) {
                    return Ok(format!("devices {a} and {b} cannot meet"));
                }
                let at = self.open_meeting(a, b, None)?;
                self.go_on(at, messages, format!("device {a} calls device {b}"))
            }
            Step::Report { caller, owner, messages } => {
                let b = self.owner(owner, touched)?;
                let a = self.next(caller, |d| self.can_meet(d, b));
                touched.insert(a);
                if !self.can_meet(a, b) {
                    return Ok(format!("devices {a} and {b} cannot meet"));
                }
                let at = self.open_meeting(a, b, None)?;
                self.go_on(at, messages, format!("device {a} calls device {b}"))
            }
            Step::Deliver { meeting, messages } => {
                let Some(at) = self.meeting(meeting, touched) else {
                    return Ok("nobody is meeting".to_owned());
                };
                let [a, b] = self.meetings[at].devices();
                self.go_on(at, messages, format!("devices {a} and {b} go on"))
            }
            Step::Cut { meeting } => {
                let Some(at) = self.meeting(meeting, touched) else {
                    return Ok("nobody is meeting".to_owned());
                };
                let [a, b] = self.meetings.remove(at).devices();
                Ok(format!("a message between devices {a} and {b} is lost, and the link cut"))
            }
            Step::Repeat { meeting, back } => {
                let Some(at) = self.meeting(meeting, touched) else {
                    return Ok("nobody is meeting".to_owned());
                };
                let [a, b] = self.meetings[at].devices();
                let done = self.repeat(at, back.into());
                Ok(format!("between devices {a} and {b} {} an earlier message comes again", or_not(done)))
            }
            Step::Flip { meeting, at: bit } => {
                let Some(at) = self.meeting(meeting, touched) else {
                    return Ok("nobody is meeting".to_owned());
                };
                let [a, b] = self.meetings[at].devices();
                let done = self.flip(at, bit.into());
                Ok(format!(
                    "between devices {a} and {b} {} bit {bit} of the next message flips",
                    or_not(done)
                ))
            }
            Step::Partition { groups, shift } => {
                let groups = usize::from(groups.max(1));
                for (n, device) in self.devices.iter_mut().enumerate() {
                    device.group = (n * usize::from(shift | 1) / 2) % groups;
                }
                let devices = &self.devices;
                self.meetings.retain(|m| {
                    let [a, b] = m.devices();
                    devices[a].group == devices[b].group
                });
                Ok(format!("{groups} group(s) meet among themselves from now on"))
            }
            Step::Crash { device } => {
                let d = self.device(device, touched);
                self.drop_meetings(d);
                self.devices[d].stop();
                self.devices[d].start()?;
                Ok(format!("the process of device {d} dies and comes back"))
            }
            Step::Quiet => {
                touched.extend(0..self.devices.len());
                let what = "everyone meets everyone until nothing moves".to_owned();
                self.doing.clone_from(&what);
                self.quiet()?;
                Ok(what)
            }
        }
    }

    fn device(&self, pick: u8, touched: &mut BTreeSet<usize>) -> usize {
        let device = usize::from(pick) % self.devices.len();
        touched.insert(device);
        device
    }

    /// The first device from the one picked for which something holds; else that one.
    fn next(&self, pick: u8, holds: impl Fn(usize) -> bool) -> usize {
        let all = self.devices.len();
        let from = usize::from(pick) % all;
        (0..all).map(|n| (from + n) % all).find(|d| holds(*d)).unwrap_or(from)
    }

    /// An owner device, by what it knows itself; now and then one that is none.
    fn owner(&self, pick: u8, touched: &mut BTreeSet<usize>) -> Result<usize, Violation> {
        let mut owners = Vec::new();
        for (n, device) in self.devices.iter().enumerate() {
            let book = device.book()?;
            let own = book.authority()?.standing(device.key());
            if (own.grants.owner && own.is_admitted()) || book.recovers()?.is_some() {
                owners.push(n);
            }
        }
        if owners.is_empty() || pick % 16 == 15 {
            return Ok(self.device(pick, touched));
        }
        let owner = owners[usize::from(pick) % owners.len()];
        touched.insert(owner);
        Ok(owner)
    }

    fn member(&self, pick: u8) -> Option<MemberId> {
        self.members.get(usize::from(pick) % self.members.len().max(1)).copied()
    }

    /// A member that a device writes about; one that it does not, where there is none.
    fn member_of(&self, device: usize, pick: u8) -> Result<Option<MemberId>, Violation> {
        let book = self.devices[device].book()?;
        let grants = book.grants(self.devices[device].key())?;
        let own = book.own_members()?;
        let its: Vec<MemberId> = self
            .members
            .iter()
            .copied()
            .filter(|m| own.contains(m) || grants.owner || grants.keeps(*m) || grants.assists.covers(*m))
            .collect();
        if its.is_empty() || pick % 16 == 15 {
            return Ok(self.member(pick));
        }
        Ok(Some(its[usize::from(pick) % its.len()]))
    }

    /// A fact that a device sees, the next one from the one picked.
    fn held_fact(&self, device: usize, pick: u16) -> Result<Option<(usize, Held)>, Violation> {
        let book = self.devices[device].book()?;
        let all = self.written.len();
        for n in 0..all {
            let at = (usize::from(pick) + n) % all;
            if let Some(held) = held(book, &self.written[at].key)? {
                return Ok(Some((at, held)));
            }
        }
        Ok(None)
    }

    fn meeting(&self, pick: u8, touched: &mut BTreeSet<usize>) -> Option<usize> {
        if self.meetings.is_empty() {
            return None;
        }
        let at = usize::from(pick) % self.meetings.len();
        touched.extend(self.meetings[at].devices());
        Some(at)
    }

    fn drop_meetings(&mut self, device: usize) {
        self.meetings.retain(|meeting| !meeting.involves(device));
    }

    pub(crate) fn can_meet(&self, a: usize, b: usize) -> bool {
        let (a, b) = (&self.devices[a], &self.devices[b]);
        a.key != b.key && a.group == b.group
    }

    fn go_on(&mut self, at: usize, messages: u8, what: String) -> Told {
        self.doing.clone_from(&what);
        let messages = if messages == WHOLE { u32::MAX } else { messages.into() };
        Ok(match self.deliver(at, messages)? {
            Ended::Open => what + ": not done yet",
            Ended::Done => what + ": done",
            Ended::Refused => what + ": refused",
        })
    }

    fn write(&mut self, d: usize, what: What, about: u8, value: u8) -> Told {
        let Some(member) = self.member_of(d, about)? else { return Ok("there is no member".to_owned()) };
        let now = self.now(d);
        let scope = match what {
            What::CheckIn => Scope::Private(member),
            What::Note => Scope::Staff,
            _ => Scope::Member(member),
        };
        let book = self.devices[d].book()?;
        let done = match what {
            What::Card => {
                let field = Card::FIELDS[[0, 2, 5][usize::from(value) % 3]];
                let fact = card(field, value / 3);
                let subject = Subject::Uuid(member.0);
                let done = book.revise(scope, subject, fact, now);
                let key = Key { scope, kind: kind::MEMBER.to_owned(), subject, field: field.to_owned() };
                self.record(done, |_| key, what)?
            }
            What::Set => {
                let session = book.write(scope, &Draft::new(fact_of(What::Note, value, None)), now);
                let id = session.as_ref().ok().copied();
                let done = self.record(session, |h| anew(scope, kind::SESSION, h), What::Note)?;
                match id {
                    Some(id) => {
                        let draft = Draft::new(fact_of(what, value, Some(id)));
                        let set = self.devices[d].book()?.write(scope, &draft, now);
                        done + &self.record(set, |h| anew(scope, kind::SET, h), what)?
                    }
                    None => done,
                }
            }
            _ => {
                let fact = fact_of(what, value, None);
                let kind = fact.address().map_or("", |(kind, _)| kind);
                let done = book.write(scope, &Draft::new(fact), now);
                self.record(done, |h| anew(scope, kind, h), what)?
            }
        };
        Ok(format!("device {d} writes a {what:?} in {}{done}", self.scope_name(scope)))
    }

    /// Notes what was written.
    fn record(&mut self, done: Result<Hash, BookError>, key: impl FnOnce(Hash) -> Key, what: What) -> Told {
        if let Ok(hash) = &done {
            self.written.push(Written { hash: *hash, key: key(*hash), what });
        }
        let number = self.written.len().saturating_sub(1);
        let tried = tried(done)?;
        Ok(if tried.is_empty() { format!(" (fact {number})") } else { tried })
    }

    fn replace(&mut self, d: usize, held: &Held, fact: Fact, what: What) -> Told {
        let draft = Draft::replacing(held, fact);
        let done = self.devices[d].book()?.write(held.key.scope, &draft, self.now(d));
        let key = held.key.clone();
        self.record(done, |_| key, what)
    }

    fn settle(&mut self, d: usize, pick: u8, value: u8) -> Told {
        let filter = Filter { clashing: true, ..Filter::default() };
        let mut clashes = self.devices[d].book()?.held(&filter)?;
        clashes.retain(Held::is_clash);
        // In an order that no hash decides.
        clashes.sort_by_key(|held| {
            let subject = self.subject_number(&held.key.subject);
            (held.key.kind.clone(), held.key.field.clone(), self.scope_name(held.key.scope), subject)
        });
        if clashes.is_empty() {
            return Ok(format!("device {d} sees no clash"));
        }
        let held = &clashes[usize::from(pick) % clashes.len()];
        let mut facts: Vec<Fact> = held.values.iter().filter_map(|live| live.fact.clone().ok()).collect();
        facts.retain(|fact| *fact != Fact::Unknown);
        facts.sort_by_key(|fact| format!("{fact:?}"));
        if facts.is_empty() {
            return Ok(format!("device {d} cannot read the clash"));
        }
        let fact = facts[usize::from(value) % facts.len()].clone();
        let what = self.written.iter().find(|w| w.key == held.key).map_or(What::Card, |w| w.what);
        let name = format!("{} {}", held.key.kind, held.key.field);
        let done = self.replace(d, held, fact, what)?;
        Ok(format!("device {d} settles the clash of {name}{done}"))
    }

    fn subject_number(&self, subject: &Subject) -> usize {
        let found = match subject {
            Subject::Fact(hash) => self.written.iter().position(|w| w.hash == *hash),
            Subject::Uuid(id) => self.members.iter().position(|m| m.0 == *id),
            Subject::Device(key) => self.devices.iter().position(|d| d.key() == *key),
        };
        found.unwrap_or(usize::MAX)
    }

    /// Entries as a later version writes them, sealed by the device itself.
    fn later(&mut self, d: usize, about: u8, value: u8) -> Told {
        let Some(member) = self.member_of(d, about)? else { return Ok("there is no member".to_owned()) };
        let scope = if value.is_multiple_of(4) { Scope::Private(member) } else { Scope::Member(member) };
        let key = identity(self.devices[d].key);
        let now = self.now(d);
        let mut nonce = [self.devices[d].key; 16];
        nonce[..8].copy_from_slice(&self.ticks.to_be_bytes());
        nonce[8] = u8::try_from(d).unwrap_or(0);
        let opening = Opening::new(&key, scope, nonce);
        let log = opening.id();
        let payload = encode(&Value::Map(vec![("gait".into(), i64::from(value).into())]));
        let rest = Fact::Rest(RestDay { day: day(value) });
        let extra: Extra = vec![("x-later".into(), Value::Array(vec![5.into(), "as it is".into()]))];
        let known = rest.write(&extra).map_err(BookError::from)?;
        let header = |kind: &str, replaced: Option<Hash>| Header {
            kind: kind.to_owned(),
            target: replaced
                .map(|hash| Target { subject: Subject::Fact(hash), field: field_name::WHOLE.to_owned() }),
            stamp_ms: now.ms,
            zone_min: now.zone_min,
            replaces: replaced.into_iter().collect(),
        };
        let mut before = origin(log);
        let mut first = None;
        let mut entries = Vec::new();
        for seq in 1..=4_u64 {
            let (bytes, payload) = match seq {
                // A header with more at its end than this version knows.
                1 => (later_header(&header("gait-map", None)), payload.clone()),
                2 => (
                    header("gait-map", first).to_bytes(),
                    encode(&Value::Map(vec![("gait".into(), 7.into())])),
                ),
                3 => (header(kind::REST, None).to_bytes(), known.clone()),
                _ => (later_header(&header("gait-map", first)), payload.clone()),
            };
            let salt = [u8::try_from(seq).unwrap_or(0) ^ value; 16];
            let content = Content::Body(Body { salt, payload });
            let made = Entry::from_parts(log, seq, scope, before, bytes, content)
                .map_err(|e| Violation::new("simulation", e.to_string()))?;
            before = made.hash;
            first = first.or(Some(made.hash));
            self.written.push(Written { hash: made.hash, key: made.key(), what: What::Rest });
            entries.push((made.header_bytes, made.content));
        }
        let seal = Seal::new(&key, log, 4, before);
        let segment =
            Segment { log, first_seq: 1, before: origin(log), opening: Some(opening), entries, seal };
        let clock = At(now);
        let mut replica = BookReplica::new(self.devices[d].book()?, &clock);
        let batch = Batch { segments: vec![segment], bodies: Vec::new() };
        replica
            .take_in(&batch, key.key())?
            .map_err(|e| Violation::new("later version", format!("refused: {e}")))?;
        Ok(format!("entries of a later version come into device {d}'s log of {}", self.scope_name(scope)))
    }

    fn grant(&self, role: u8, about: u8, extras: u8) -> Grant {
        let role = match role % 8 {
            0..=3 => Role::Athlete,
            4 => Role::Assistant,
            5 => Role::Medical,
            6 => Role::Guardian,
            _ => Role::Owner,
        };
        let staff = matches!(role, Role::Assistant | Role::Medical | Role::Guardian);
        let named = if staff || extras & 1 == 0 { self.member(about) } else { None };
        Grant {
            role,
            members: named.into_iter().collect(),
            everyone: staff && (extras & 6 == 6 || named.is_none()),
            limits: staff && extras & 8 != 0,
            consent: staff && extras & 16 != 0,
        }
    }

    fn grant_words(&self, grant: &Grant) -> String {
        let whom: Vec<String> = grant.members.iter().map(|m| self.member_name(*m)).collect();
        let mut words = format!("{:?}({}", grant.role, whom.join(", "));
        for (so, word) in
            [(grant.everyone, " everyone"), (grant.limits, " limits"), (grant.consent, " consent")]
        {
            if so {
                words.push_str(word);
            }
        }
        words + ")"
    }

    fn invite(&mut self, o: usize, g: usize, role: u8, about: u8, extras: u8, messages: u8) -> Told {
        if !self.can_meet(o, g) {
            return Ok(format!("devices {o} and {g} cannot meet"));
        }
        let grant = self.grant(role, about, extras);
        let words = self.grant_words(&grant);
        let book = self.devices[o].book()?;
        let open = match book.invite(grant.clone(), self.now(o), 30) {
            Ok(open) => open,
            Err(e) => return Ok(format!("device {o} cannot invite{}", tried(Err::<(), _>(e))?)),
        };
        let invitation = Invitation {
            device: self.devices[o].key(),
            squad: self.squad,
            demo: false,
            secret: open.secret,
            expires_s: open.expires_ms.div_euclid(1_000),
            member: grant.members.first().copied(),
            role: grant.role,
            addresses: vec![],
        };
        let clock = At(self.now(g));
        let part = match accept(self.devices[g].book()?, &invitation, &clock) {
            Ok(part) => part,
            Err(e) => return Ok(format!("device {g} does not accept{}", tried(Err::<(), _>(e))?)),
        };
        let guest = match part {
            Part::Guest(join, squad) => Some((join, squad)),
            Part::Caller | Part::Called => None,
        };
        let at = self.open_meeting(g, o, guest)?;
        self.go_on(at, messages, format!("device {o} invites device {g} as {words}"))
    }

    fn restore(&mut self, d: usize) -> Told {
        self.drop_meetings(d);
        self.devices[d].stop();
        if !self.devices[d].put_back()? {
            self.devices[d].keep()?;
            self.devices[d].start()?;
            return Ok(format!("the book of device {d} is kept elsewhere"));
        }
        self.devices[d].start()?;
        let device = &self.devices[d];
        let book = device.book()?;
        let now: BTreeSet<Hash> = book.entries()?.into_iter().map(|(_, entry)| entry.hash).collect();
        let own = self.devices[d].key();
        let lost = device.seen.iter().any(|(hash, seen)| seen.device == own && !now.contains(hash));
        if lost && !book.was_a_copy()? {
            return Err(Violation::new("copy", format!("device {d} did not notice that its book is older")));
        }
        self.devices[d].seen.clear();
        Ok(format!("the kept book of device {d} is put back"))
    }

    fn register_members(&mut self) -> Result<(), Violation> {
        for n in 0..self.devices.len() {
            let book = self.devices[n].book()?;
            // A step makes one at most, so no order of ids shows here.
            let mut found = book.own_members()?;
            found.extend(book.members()?);
            for member in found {
                if !self.members.contains(&member) {
                    self.members.push(member);
                }
            }
        }
        Ok(())
    }

    pub(crate) fn member_name(&self, member: MemberId) -> String {
        match self.members.iter().position(|m| *m == member) {
            Some(n) => format!("member {n}"),
            None => "a member".to_owned(),
        }
    }

    pub(crate) fn scope_name(&self, scope: Scope) -> String {
        match scope {
            Scope::Squad => "the squad".to_owned(),
            Scope::Staff => "the staff".to_owned(),
            Scope::Member(m) => self.member_name(m),
            Scope::Private(m) => format!("{}'s private part", self.member_name(m)),
        }
    }

    pub(crate) fn name_of(&self, key: DeviceKey) -> String {
        match self.devices.iter().position(|d| d.key() == key) {
            Some(n) => format!("device {n}"),
            None => "another device".to_owned(),
        }
    }
}

/// What a device holds under a key.
fn held(book: &Book, key: &Key) -> Result<Option<Held>, BookError> {
    let filter = Filter {
        scope: Some(key.scope),
        kind: Some(&key.kind),
        field: Some(&key.field),
        subject: Some(key.subject),
        ..Filter::default()
    };
    Ok(book.held(&filter)?.into_iter().next())
}

/// What a device may well be refused, in words; nothing where it was done.
fn tried<T>(done: Result<T, BookError>) -> Told {
    match done {
        Ok(_) => Ok(String::new()),
        Err(
            e @ (BookError::NotAllowed(_)
            | BookError::Refused(_)
            | BookError::Unknown(_)
            | BookError::HasSquad
            | BookError::NoSquad),
        ) => Ok(format!(", refused: {e}")),
        Err(e) => Err(e.into()),
    }
}

fn or_not(done: bool) -> &'static str {
    if done { "now" } else { "not" }
}

fn to_word(to: Audience) -> &'static str {
    match to {
        Audience::Coach => "to the coach",
        Audience::Assistants => "to the assistants",
        Audience::Medical => "to the medical devices",
    }
}

fn anew(scope: Scope, kind: &str, hash: Hash) -> Key {
    Key { scope, kind: kind.to_owned(), subject: Subject::Fact(hash), field: field_name::WHOLE.to_owned() }
}

fn day(value: u8) -> Day {
    Day::FIRST.plus(46_000 + i32::from(value % 10))
}

/// A value of a field of the card; few, so that equal ones are written at once.
fn card(field: &str, value: u8) -> Fact {
    let n = usize::from(value) % 3;
    Fact::Card(match field {
        "name" => Card::Name(["Ino", "Sule", "Mako"][n].to_owned()),
        "level" => Card::Level([Level::Beginner, Level::Intermediate, Level::Advanced][n]),
        _ => Card::MassG([52_000, 61_500, 70_000][n]),
    })
}

fn fact_of(what: What, value: u8, session: Option<Hash>) -> Fact {
    match (what, session) {
        (What::Set, Some(session)) => Fact::Set(Set {
            session,
            exercise: catalogue::id::POGO,
            reps: 1 + u16::from(value % 12),
            contacts_per_rep: None,
            leg: Leg::Both,
            box_mm: None,
            approach: None,
            load_g: None,
            last_10_m_ms: None,
            cue: None,
            warm_up: false,
            planned: None,
        }),
        (What::CheckIn, _) => Fact::CheckIn(CheckIn {
            day: day(value),
            hurts: vec![Hurt { part: BodyPart::Shin, side: Some(Side::Left), score: value % 11 }],
            sleep_min: None,
            signs: BTreeSet::new(),
        }),
        (What::Note | What::Set, _) => Fact::Session(Session {
            day: day(value),
            start_min: None,
            purpose: Some("low hops".to_owned()),
            location: None,
            surface: None,
            shoes: None,
            weather: None,
            cut_short: None,
            conditions: Conditions::default(),
        }),
        (What::Limit, _) => Fact::Limit(Limit {
            from: day(value),
            until: None,
            no_one_leg: Some(Side::Right),
            no_approach: value.is_multiple_of(2),
            max_box_mm: None,
            said_by: SaidBy::Coach,
            note: None,
        }),
        (What::Rest | What::Card, _) => Fact::Rest(RestDay { day: day(value) }),
    }
}

/// A header of the next version, with one element more.
fn later_header(header: &Header) -> Vec<u8> {
    let mut value = decode(&header.to_bytes()).unwrap_or(Value::Null);
    if let Value::Array(items) = &mut value {
        items[0] = 2.into();
        items.push(Value::Array(vec!["as it is".into(), 9.into()]));
    }
    encode(&value)
}
