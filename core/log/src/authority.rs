//! Who may write what, decided from the set of entries.
//!
//! The founding entry makes its device an owner. An owner's admissions give roles
//! to other devices, its removals take their standing away. From these
//! [acts](Act), and nothing else, follows the [`Authority`] by which every entry
//! is [judged](judge).
//!
//! # What is given
//!
//! | scope | owner | assistant | medical | guardian | serves the member |
//! |---|---|---|---|---|---|
//! | squad | everything but a second founding | – | – | – | – |
//! | staff | everything but acts and consent | the same | – | – | – |
//! | member | everything but consent | training, card | – | card | everything but limits, advice and rules |
//! | private | – | – | – | – | everything |
//!
//! Assistant, medical and guardian hold for the members their admission names. It
//! can add to them, for the same members, that they write limits and a clinician's advice,
//! or consent.
//! Admissions of one device add up.
//!
//! # What is taken away
//!
//! A removal carries a cut: the heads of the device's logs as the remover had
//! them. What lies on the way to one of these heads counts, what does not lie
//! there does not, so a date in an entry changes nothing. Of several removals
//! every cut holds: what one owner had seen stays. To take late entries in is to
//! write a removal with a later cut. On the removed device itself what it writes about
//! its members goes on counting: for its own person it is a log as before any squad.
//!
//! Owners remove each other by *seniority*: the recovery key, those it admitted,
//! the founder, those the founder admitted, and so on, each by the place of its
//! admission in the log of the one who admitted it. A removal holds against
//! juniors only; it is taken back by a deletion of any owner who is senior to the
//! removed device. [`settle`] looks at the owners from the most senior on: when it
//! comes to one, everyone who could remove it has been heard.
//!
//! A card or a consent speaks of the member whose scope it stands in; names stand
//! in no squad-wide log. Kinds that this version does not know count like any
//! training of the member.

use std::collections::{BTreeMap, BTreeSet};

use pitside_model::facts::{
    Consent, DeviceKey, Fact, Founding, Grant, Hash, Head, MemberId, Role, SamePerson, Scope, SquadId,
    Subject, field_name, kind,
};

use crate::entry::{Entry, Key};

/// Whether an entry counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Judgement {
    /// It counts.
    Counted,
    /// It will be judged again when authority arrives.
    Waiting,
    /// Its device is known and this does not count. Judged again when authority
    /// changes.
    Refused(Reason),
}

/// Why an entry of a known device does not count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reason {
    /// Only an owner device writes this.
    OwnerOnly,
    /// Only a device of this member writes this.
    MemberOnly,
    /// Only a device that was given it writes this.
    NotGiven,
    /// It speaks of someone or something that does not belong in this scope.
    WrongScope,
    /// A squad is founded once.
    SecondFounding,
    /// Its device was removed, and this lies behind the cut.
    Removed,
    /// It would remove a device senior to its own, or take such a removal back.
    Senior,
    /// The member's data were erased.
    Erased,
}

/// Members that something is given for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reach {
    /// Every member.
    pub everyone: bool,
    /// These.
    pub members: BTreeSet<MemberId>,
}

impl Reach {
    /// Whether the member is among them.
    #[must_use]
    pub fn covers(&self, member: MemberId) -> bool {
        self.everyone || self.members.contains(&member)
    }
    /// Whether nobody is.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        !self.everyone && self.members.is_empty()
    }
    fn add(&mut self, grant: &Grant) {
        self.everyone |= grant.everyone;
        self.members.extend(&grant.members);
    }
}

/// Everything that a device was given, added up.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Grants {
    /// It is an owner device.
    pub owner: bool,
    /// It is the squad's recovery key: it admits and removes, and writes nothing else.
    pub recovery: bool,
    /// The members it serves.
    pub serves: BTreeSet<MemberId>,
    /// As an assistant's.
    pub assists: Reach,
    /// As a medical one.
    pub treats: Reach,
    /// As a guardian's.
    pub guards: Reach,
    /// Whose limits it may write.
    pub limits: Reach,
    /// Whose consent it may write.
    pub consents: Reach,
}

/// Whom a member lets see the private part.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Consents {
    /// Owner devices.
    pub coach: bool,
    /// Assistants who are given the member.
    pub assistants: bool,
    /// Medical devices that are given the member.
    pub medical: bool,
}

impl Grants {
    /// Whether it was given nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// Adds a grant.
    pub fn add(&mut self, grant: &Grant) {
        match grant.role {
            Role::Owner => {
                self.owner = true;
                self.serves.extend(&grant.members);
            }
            Role::Athlete => self.serves.extend(&grant.members),
            Role::Assistant => self.assists.add(grant),
            Role::Medical => self.treats.add(grant),
            Role::Guardian => self.guards.add(grant),
        }
        if matches!(grant.role, Role::Assistant | Role::Medical | Role::Guardian) {
            if grant.limits {
                self.limits.add(grant);
            }
            if grant.consent {
                self.consents.add(grant);
            }
        }
    }

    /// Whether the device may receive a scope.
    #[must_use]
    pub fn may_read(&self, scope: Scope, consents: Consents) -> bool {
        match scope {
            Scope::Squad => !self.is_empty(),
            Scope::Staff => self.owner || !self.assists.is_empty(),
            Scope::Member(m) => {
                self.owner || self.keeps(m) || self.assists.covers(m) || self.treats.covers(m)
            }
            Scope::Private(m) => {
                self.keeps(m)
                    || (self.owner && consents.coach)
                    || (self.assists.covers(m) && consents.assistants)
                    || (self.treats.covers(m) && consents.medical)
            }
        }
    }

    /// Whether it is the member's own or a guardian's: it keeps the member's data
    /// until its person lets them go.
    #[must_use]
    pub fn keeps(&self, member: MemberId) -> bool {
        self.serves.contains(&member) || self.guards.covers(member)
    }

    /// Every member that is named.
    pub fn members(&self) -> impl Iterator<Item = MemberId> + '_ {
        let reaches = [&self.assists, &self.treats, &self.guards, &self.limits, &self.consents];
        reaches.into_iter().flat_map(|reach| &reach.members).chain(&self.serves).copied()
    }

    /// One athlete under two ids is given under both.
    fn join(&mut self, same: &BTreeMap<MemberId, MemberId>) {
        let reaches = [
            &mut self.assists.members,
            &mut self.treats.members,
            &mut self.guards.members,
            &mut self.limits.members,
            &mut self.consents.members,
            &mut self.serves,
        ];
        for members in reaches {
            let first: BTreeSet<MemberId> = members.iter().filter_map(|m| same.get(m)).copied().collect();
            members.extend(same.iter().filter(|(_, to)| first.contains(to)).map(|(m, _)| *m));
        }
    }
}

/// A device in the squad.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// What it was given.
    pub grants: Grants,
    /// Where it was cut off, once it was removed.
    pub cut: Option<Vec<Head>>,
}

impl Standing {
    /// Whether it is one of the squad's devices now.
    #[must_use]
    pub fn is_admitted(&self) -> bool {
        !self.grants.is_empty() && self.cut.is_none()
    }

    /// Whether the device may receive a scope. A removed device receives the
    /// squad-wide part only: it learns there that it was removed.
    #[must_use]
    pub fn may_read(&self, scope: Scope, consents: Consents) -> bool {
        self.grants.may_read(scope, consents) && (self.cut.is_none() || scope == Scope::Squad)
    }
}

/// What follows from the acts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Authority {
    /// Every device that was given anything.
    pub standings: BTreeMap<DeviceKey, Standing>,
    /// Members whose data go.
    pub erased: BTreeSet<MemberId>,
    /// Members who are one athlete with another, each to the first of them by id.
    pub same: BTreeMap<MemberId, MemberId>,
    /// Acts without effect, since the other device is senior.
    pub idle: BTreeSet<Hash>,
}

impl Authority {
    /// A device's standing.
    #[must_use]
    pub fn standing(&self, device: DeviceKey) -> Standing {
        self.standings.get(&device).cloned().unwrap_or_default()
    }
    /// The id under which an athlete is shown.
    #[must_use]
    pub fn person(&self, member: MemberId) -> MemberId {
        self.same.get(&member).copied().unwrap_or(member)
    }
    /// Whether a device may hold a log that `writer` wrote in a scope. What a device
    /// wrote itself it may hold too, but for what is private: there the other side
    /// cannot know what the member allows, if the device does not hear of it. Of an
    /// erased member only those devices hold anything that keep the member's own data.
    #[must_use]
    pub fn may_hold(&self, device: DeviceKey, scope: Scope, writer: DeviceKey, consents: Consents) -> bool {
        let standing = self.standing(device);
        let erased = scope.member().is_some_and(|m| self.erased.contains(&m) && !standing.grants.keeps(m));
        let own = device == writer && !matches!(scope, Scope::Private(_));
        !erased && (own || standing.may_read(scope, consents))
    }
}

/// From where a set of entries is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Root {
    /// The squad, once it is known; then its founding is where authority begins.
    pub squad: Option<SquadId>,
    /// This device. Before there is a squad its own entries about its members
    /// count: a phone works before any pairing.
    pub device: DeviceKey,
}

/// An entry from which authority follows: [`Entry::is_act`].
#[derive(Clone, Debug)]
pub struct Act<P> {
    /// Where it is kept.
    pub place: P,
    /// The device of its log.
    pub device: DeviceKey,
    /// The entry.
    pub entry: Entry,
}

impl<P> Act<P> {
    fn fact(&self) -> Option<Fact> {
        let payload = &self.entry.body()?.payload;
        let key = self.entry.key();
        Fact::read(&key.kind, &key.field, payload).ok().map(|(fact, _)| fact)
    }
    fn subject(&self) -> Option<Subject> {
        self.entry.header.target.as_ref().map(|t| t.subject)
    }
}

/// The place of an owner in seniority, the smallest first: how many admissions
/// away from the root, whose admission, and where in that one's log.
type Seniority = (u32, u32, u64, Hash);

/// A removal, and the earlier ones that its author saw.
struct HeldRemoval {
    entry: Hash,
    cut: Vec<Head>,
    replaces: Vec<Hash>,
}

/// One pass over the owners, from the most senior on.
struct Settling {
    order: BTreeSet<(Seniority, DeviceKey)>,
    settled: BTreeSet<DeviceKey>,
    grants: BTreeMap<DeviceKey, Grants>,
    /// By the device removed.
    removals: BTreeMap<DeviceKey, Vec<HeldRemoval>>,
    taken_back: BTreeSet<Hash>,
    idle: BTreeSet<Hash>,
}

impl Settling {
    /// Where a device is cut off, by those removals that were not taken back: a
    /// deletion takes back the removals it replaces, and those that they replace.
    fn cut(&self, device: DeviceKey) -> Option<Vec<Head>> {
        let removals = self.removals.get(&device)?;
        let mut gone: BTreeSet<Hash> = BTreeSet::new();
        let mut next: Vec<Hash> =
            removals.iter().map(|r| r.entry).filter(|hash| self.taken_back.contains(hash)).collect();
        while let Some(hash) = next.pop() {
            if gone.insert(hash) {
                next.extend(removals.iter().filter(|r| r.entry == hash).flat_map(|r| &r.replaces));
            }
        }
        let holding: Vec<_> = removals.iter().filter(|r| !gone.contains(&r.entry)).collect();
        if holding.is_empty() {
            return None;
        }
        let heads: BTreeSet<Head> = holding.into_iter().flat_map(|r| &r.cut).copied().collect();
        Some(heads.into_iter().collect())
    }

    /// What an owner's act about a device does.
    fn take<P>(&mut self, act: &Act<P>, by: Seniority, at: u32) {
        let Some(Subject::Device(receiver)) = act.subject() else { return };
        let removal = act.entry.key().field == field_name::REMOVAL;
        if removal && self.settled.contains(&receiver) {
            self.idle.insert(act.entry.hash);
            return;
        }
        match act.fact() {
            Some(Fact::Grant(grant)) => {
                self.grants.entry(receiver).or_default().add(&grant);
                if grant.role == Role::Owner && !self.settled.contains(&receiver) {
                    let rank = (by.0 + 1, at, act.entry.seq, act.entry.hash);
                    self.order.insert((rank, receiver));
                }
            }
            Some(Fact::Removal(removal)) => {
                let (entry, replaces) = (act.entry.hash, act.entry.header.replaces.clone());
                let removal = HeldRemoval { entry, cut: removal.cut, replaces };
                self.removals.entry(receiver).or_default().push(removal);
            }
            Some(Fact::Deleted) if removal => self.taken_back.extend(&act.entry.header.replaces),
            _ => {}
        }
    }
}

/// The authority that follows from a set of acts. `within` says whether an entry
/// lies on the way to one of the heads of a cut.
///
/// # Errors
/// Those of `within`.
pub fn settle<P: Copy, E>(
    root: &Root,
    acts: &[Act<P>],
    mut within: impl FnMut(P, &[Head]) -> Result<bool, E>,
) -> Result<Authority, E> {
    let mut authority = Authority::default();
    let founding = root.squad.and_then(|squad| acts.iter().find(|act| act.entry.hash.0 == squad.0));
    let Some(founding) = founding else { return Ok(authority) };
    let mut by_device: BTreeMap<DeviceKey, Vec<&Act<P>>> = BTreeMap::new();
    for act in acts {
        by_device.entry(act.device).or_default().push(act);
    }
    for acts in by_device.values_mut() {
        acts.sort_by_key(|act| (act.entry.seq, act.entry.hash));
    }
    let mut settling = Settling {
        order: BTreeSet::new(),
        settled: BTreeSet::new(),
        grants: BTreeMap::new(),
        removals: BTreeMap::new(),
        taken_back: BTreeSet::new(),
        idle: BTreeSet::new(),
    };
    let first = |depth| (depth, 0, 0, Hash([0; 32]));
    settling.order.insert((first(2), founding.device));
    settling.grants.entry(founding.device).or_default().owner = true;
    if let Some(Fact::Founding(Founding { recovery: Some(key), .. })) = founding.fact() {
        settling.order.insert((first(0), DeviceKey(key)));
        settling.grants.entry(DeviceKey(key)).or_default().recovery = true;
    }
    // About members: counted below, when every owner has been heard.
    let mut about_members: Vec<&Act<P>> = Vec::new();
    let mut at = 0;
    while let Some((rank, owner)) = settling.order.pop_first() {
        if !settling.settled.insert(owner) {
            continue;
        }
        let cut = settling.cut(owner);
        for act in by_device.get(&owner).into_iter().flatten() {
            if let Some(cut) = &cut
                && !within(act.place, cut)?
            {
                continue;
            }
            match act.entry.header.kind.as_str() {
                kind::DEVICE => settling.take(act, rank, at),
                kind::SAME_PERSON | kind::ERASURE if settling.grants[&owner].owner => about_members.push(act),
                _ => {}
            }
        }
        at += 1;
    }
    let replaced: BTreeSet<(Key, Hash)> = about_members
        .iter()
        .flat_map(|act| act.entry.header.replaces.iter().map(|h| (act.entry.key(), *h)))
        .collect();
    let mut pairs = Vec::new();
    for act in about_members {
        if replaced.contains(&(act.entry.key(), act.entry.hash)) {
            continue;
        }
        let Some(Subject::Uuid(member)) = act.subject() else { continue };
        match act.fact() {
            Some(Fact::SamePerson(SamePerson { with })) => pairs.push((MemberId(member), with)),
            Some(Fact::Erasure) => {
                authority.erased.insert(MemberId(member));
            }
            _ => {}
        }
    }
    authority.same = classes(&pairs);
    for (device, mut grants) in core::mem::take(&mut settling.grants) {
        if !grants.is_empty() {
            grants.join(&authority.same);
            let cut = settling.cut(device);
            authority.standings.insert(device, Standing { grants, cut });
        }
    }
    authority.idle = settling.idle;
    Ok(authority)
}

/// Each member of a pair to the first, by id, of all it is tied to.
fn classes(pairs: &[(MemberId, MemberId)]) -> BTreeMap<MemberId, MemberId> {
    let mut first: BTreeMap<MemberId, MemberId> = BTreeMap::new();
    for (a, b) in pairs {
        first.entry(*a).or_insert(*a);
        first.entry(*b).or_insert(*b);
        let (x, y) = (first[a], first[b]);
        for to in first.values_mut().filter(|to| **to == x || **to == y) {
            *to = x.min(y);
        }
    }
    first
}

/// Judges an entry by the standing of its device. `within` says whether it lies
/// on the way to one of the heads of a cut.
///
/// # Errors
/// Those of `within`.
pub fn judge<E>(
    root: &Root,
    authority: &Authority,
    entry: &Entry,
    device: DeviceKey,
    within: impl FnOnce(&[Head]) -> Result<bool, E>,
) -> Result<Judgement, E> {
    let key = entry.key();
    let founding = key.kind == kind::SQUAD && entry.header.target.is_none();
    let nothing = Standing::default();
    let standing = authority.standings.get(&device).unwrap_or(&nothing);
    let ruled = |grants: &Grants| rule(grants, &key).map_or_else(Judgement::Refused, |()| Judgement::Counted);
    match root.squad {
        Some(squad) if founding => {
            let own = entry.hash.0 == squad.0;
            return Ok(if own { Judgement::Counted } else { Judgement::Refused(Reason::SecondFounding) });
        }
        None if device == root.device => {
            return Ok(entry.scope.member().map_or(Judgement::Waiting, |member| {
                ruled(&Grants { serves: BTreeSet::from([member]), ..Grants::default() })
            }));
        }
        _ if standing.grants.is_empty() => return Ok(Judgement::Waiting),
        _ => {}
    }
    if let Some(member) = entry.scope.member()
        && authority.erased.contains(&member)
        && !authority.standings.get(&root.device).is_some_and(|own| own.grants.keeps(member))
    {
        return Ok(Judgement::Refused(Reason::Erased));
    }
    let judgement = ruled(&standing.grants);
    if judgement != Judgement::Counted {
        return Ok(judgement);
    }
    // A device that was removed goes on for its own person, as it began. It can take
    // consent back, and cannot give it: to the others it would not be given.
    let own = device == root.device && entry.scope.member().is_some() && !gives_consent(entry);
    if let Some(cut) = &standing.cut
        && !own
        && !within(cut)?
    {
        return Ok(Judgement::Refused(Reason::Removed));
    }
    if authority.idle.contains(&entry.hash) {
        return Ok(Judgement::Refused(Reason::Senior));
    }
    Ok(Judgement::Counted)
}

/// Whether an entry is a consent that is given, as far as its body says.
fn gives_consent(entry: &Entry) -> bool {
    let takes_back = |payload: &[u8]| {
        let fact = Fact::read(kind::CONSENT, &entry.key().field, payload);
        matches!(fact, Ok((Fact::Deleted | Fact::Consent(Consent { given: false, .. }), _)))
    };
    entry.header.kind == kind::CONSENT && !entry.body().is_some_and(|body| takes_back(&body.payload))
}

/// The table of this module.
///
/// # Errors
/// The [`Reason`] why a device with these grants may not write this.
pub fn rule(grants: &Grants, key: &Key) -> Result<(), Reason> {
    let owner = || if grants.owner { Ok(()) } else { Err(Reason::OwnerOnly) };
    let given = |so| if so { Ok(()) } else { Err(Reason::NotGiven) };
    let is_act = matches!(key.kind.as_str(), kind::DEVICE | kind::SQUAD | kind::SAME_PERSON | kind::ERASURE);
    match key.scope {
        Scope::Squad => match key.kind.as_str() {
            kind::DEVICE if grants.recovery => Ok(()),
            kind::MEMBER if key.field != field_name::ROSTER => Err(Reason::WrongScope),
            kind::CONSENT => Err(Reason::WrongScope),
            _ => owner(),
        },
        // What is written here reaches no athlete's device: an admission would hold
        // on some devices only.
        Scope::Staff if is_act || key.kind == kind::CONSENT => Err(Reason::WrongScope),
        Scope::Staff => given(grants.owner || !grants.assists.is_empty()),
        Scope::Member(m) => {
            let serves = grants.serves.contains(&m);
            match key.kind.as_str() {
                _ if is_act => Err(Reason::WrongScope),
                kind::MEMBER | kind::CONSENT
                    if key.subject != Subject::Uuid(m.0) || key.field == field_name::ROSTER =>
                {
                    Err(Reason::WrongScope)
                }
                kind::LIMIT | kind::ADVICE => given(grants.owner || grants.limits.covers(m)),
                kind::RULE => owner(),
                kind::CONSENT if serves || grants.consents.covers(m) => Ok(()),
                kind::CONSENT => Err(Reason::MemberOnly),
                kind::MEMBER if grants.guards.covers(m) => Ok(()),
                _ if grants.owner || serves || grants.assists.covers(m) => Ok(()),
                _ => Err(Reason::MemberOnly),
            }
        }
        Scope::Private(m) => match key.kind.as_str() {
            kind::CONSENT | kind::LIMIT | kind::ADVICE | kind::RULE => Err(Reason::WrongScope),
            _ if is_act => Err(Reason::WrongScope),
            _ if grants.serves.contains(&m) => Ok(()),
            _ => Err(Reason::MemberOnly),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uuid::Uuid;

    fn member(n: u128) -> MemberId {
        MemberId(Uuid::from_u128(n))
    }

    fn given(role: Role, members: &[u128]) -> Grants {
        let mut grants = Grants::default();
        grants.add(&Grant::new(role, members.iter().map(|n| member(*n)).collect()));
        grants
    }

    /// What an athlete did, and is to do, is written by the athlete, the coach and an
    /// assistant who is given the athlete, and by nobody else.
    #[test]
    fn what_was_trained_is_written_by_those_who_train_it() {
        for kind in [kind::PLAN, kind::SESSION, kind::SET, kind::TAKE, kind::JUMP, kind::REST] {
            let key = |scope| Key {
                scope,
                kind: kind.to_owned(),
                subject: Subject::Fact(Hash([7; 32])),
                field: field_name::WHOLE.to_owned(),
            };
            let own = key(Scope::Member(member(1)));
            for grants in [given(Role::Owner, &[]), given(Role::Assistant, &[1]), given(Role::Athlete, &[1])]
            {
                assert_eq!(rule(&grants, &own), Ok(()), "{kind}: {grants:?}");
            }
            for grants in [
                given(Role::Assistant, &[2]),
                given(Role::Athlete, &[2]),
                given(Role::Medical, &[1]),
                given(Role::Guardian, &[1]),
                Grants::default(),
            ] {
                assert_eq!(rule(&grants, &own), Err(Reason::MemberOnly), "{kind}: {grants:?}");
            }
            let squad = key(Scope::Squad);
            assert_eq!(rule(&given(Role::Athlete, &[1]), &squad), Err(Reason::OwnerOnly), "{kind}");
        }
    }
}
