//! Who may write what.
//!
//! The founding entry makes its device an owner. An owner's admissions give a
//! role to other devices. From these grants, and nothing else, follows whether
//! an entry counts. Grants only add up here; taking away is removal.
//!
//! | scope | owner | device that serves the member |
//! |---|---|---|
//! | squad | everything but a second founding | – |
//! | staff | everything but admissions and consent | – |
//! | member | everything but consent | everything but limits |
//! | private | – | everything |
//!
//! A card or a consent speaks of the member whose scope it stands in; names stand
//! in no squad-wide log. Kinds that this version does not know count like any
//! training of the member.

use std::collections::BTreeSet;

use pitside_model::facts::{DeviceKey, Grant, MemberId, Role, Scope, SquadId, Subject, field_name, kind};

use crate::entry::{Entry, Key};

/// Whether an entry counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Judgement {
    /// It counts.
    Counted,
    /// It will be judged again when authority arrives.
    Waiting,
    /// Its device is known and may not write this here. Judged again when the
    /// device is given more.
    Refused(Reason),
}

/// Why an entry of a known device does not count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Reason {
    /// Only an owner device writes this.
    OwnerOnly,
    /// Only a device of this member writes this.
    MemberOnly,
    /// It speaks of someone or something that does not belong in this scope.
    WrongScope,
    /// A squad is founded once.
    SecondFounding,
}

/// Everything that a device was given, added up.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Grants {
    /// It is an owner device.
    pub owner: bool,
    /// The members it serves.
    pub members: BTreeSet<MemberId>,
}

impl Grants {
    /// Whether it was given nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        !self.owner && self.members.is_empty()
    }

    /// Adds a grant; says whether that changed anything.
    pub fn add(&mut self, grant: &Grant) -> bool {
        let before = (self.owner, self.members.len());
        self.owner |= grant.role == Role::Owner;
        self.members.extend(&grant.members);
        before != (self.owner, self.members.len())
    }

    /// Whether the device may receive a scope. `shared` says whether the member
    /// lets the staff see the private part.
    #[must_use]
    pub fn may_read(&self, scope: Scope, shared: bool) -> bool {
        match scope {
            Scope::Squad => !self.is_empty(),
            Scope::Staff => self.owner,
            Scope::Member(m) => self.owner || self.members.contains(&m),
            Scope::Private(m) => self.members.contains(&m) || (self.owner && shared),
        }
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

/// Judges an entry by what its device was given.
#[must_use]
pub fn judge(root: &Root, entry: &Entry, device: DeviceKey, grants: &Grants) -> Judgement {
    let key = entry.key();
    let founding = key.kind == kind::SQUAD && entry.header.target.is_none();
    match root.squad {
        Some(squad) if founding => {
            return if entry.hash.0 == squad.0 {
                Judgement::Counted
            } else {
                Judgement::Refused(Reason::SecondFounding)
            };
        }
        None if device == root.device => {
            if let Some(member) = entry.scope.member() {
                let own = Grants { owner: false, members: BTreeSet::from([member]) };
                return rule(&own, &key).map_or_else(Judgement::Refused, |()| Judgement::Counted);
            }
            return Judgement::Waiting;
        }
        _ if grants.is_empty() => return Judgement::Waiting,
        _ => {}
    }
    rule(grants, &key).map_or_else(Judgement::Refused, |()| Judgement::Counted)
}

/// The table of this module.
///
/// # Errors
/// The [`Reason`] why a device with these grants may not write this.
pub fn rule(grants: &Grants, key: &Key) -> Result<(), Reason> {
    let owner = || if grants.owner { Ok(()) } else { Err(Reason::OwnerOnly) };
    let serves = |m: &MemberId| grants.members.contains(m);
    match key.scope {
        Scope::Squad => {
            let card = key.kind == kind::MEMBER && key.field != field_name::ROSTER;
            if card || key.kind == kind::CONSENT { Err(Reason::WrongScope) } else { owner() }
        }
        // What is written here reaches no athlete's device: an admission would hold
        // on some devices only.
        Scope::Staff => match key.kind.as_str() {
            kind::DEVICE | kind::SQUAD | kind::CONSENT => Err(Reason::WrongScope),
            _ => owner(),
        },
        Scope::Member(m) => {
            let about = matches!(key.kind.as_str(), kind::MEMBER | kind::CONSENT);
            if about && (key.subject != Subject::Uuid(m.0) || key.field == field_name::ROSTER) {
                return Err(Reason::WrongScope);
            }
            match key.kind.as_str() {
                kind::DEVICE | kind::SQUAD => Err(Reason::WrongScope),
                kind::LIMIT => owner(),
                kind::CONSENT if serves(&m) => Ok(()),
                kind::CONSENT => Err(Reason::MemberOnly),
                _ if grants.owner || serves(&m) => Ok(()),
                _ => Err(Reason::MemberOnly),
            }
        }
        Scope::Private(m) => match key.kind.as_str() {
            kind::DEVICE | kind::SQUAD | kind::CONSENT | kind::LIMIT => Err(Reason::WrongScope),
            _ if serves(&m) => Ok(()),
            _ => Err(Reason::MemberOnly),
        },
    }
}
