//! What goes into a book and what comes out: drafts, and live facts.

use pitside_log::entry::{Key, Target};
use pitside_model::facts::{Day, DeviceKey, Extra, Fact, FactError, Hash, MemberId, Scope, Subject};

use super::line::Place;
use crate::clock::Stamp;

/// A fact about to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// What it says.
    pub fact: Fact,
    /// What it is about; `None` for a fact written down anew.
    pub target: Option<Target>,
    /// The entries that its author saw and that it takes the place of.
    pub replaces: Vec<Hash>,
    /// Keys of the replaced value that this version does not know.
    pub extra: Extra,
    /// The kind, where the fact itself has none: a deletion.
    pub kind: Option<String>,
}

impl Draft {
    /// A fact written down anew: a session, a set, a take.
    #[must_use]
    pub fn new(fact: Fact) -> Self {
        Self { fact, target: None, replaces: Vec::new(), extra: Extra::new(), kind: None }
    }

    /// A field of a member, exercise, device or session.
    #[must_use]
    pub fn about(subject: Subject, fact: Fact) -> Self {
        let field = fact.address().map_or("", |(_, field)| field).to_owned();
        Self { target: Some(Target { subject, field }), ..Self::new(fact) }
    }

    /// Takes the place of every value that its author saw: a correction, a
    /// settlement or, with [`Fact::Deleted`], a deletion.
    #[must_use]
    pub fn replacing(held: &Held, fact: Fact) -> Self {
        Self {
            fact,
            target: Some(Target { subject: held.key.subject, field: held.key.field.clone() }),
            replaces: held.seen.clone(),
            extra: held.value().extra.clone(),
            kind: Some(held.key.kind.clone()),
        }
    }
}

/// One live value of a fact.
#[derive(Clone, Debug)]
pub struct Live {
    /// Where this book keeps it.
    pub place: Place,
    /// Its entry.
    pub hash: Hash,
    /// The device that wrote it.
    pub device: DeviceKey,
    /// When, by that device's clock.
    pub stamp: Stamp,
    /// What it says.
    pub fact: Result<Fact, FactError>,
    /// Keys that this version does not know.
    pub extra: Extra,
}

/// A fact with its live values. More than one is a clash.
#[derive(Clone, Debug)]
pub struct Held {
    /// What the values are values of.
    pub key: Key,
    /// The distinct values, the newest stamp first, ties by hash. Never empty.
    pub values: Vec<Live>,
    /// Every live entry, equal ones too: what a correction replaces.
    pub seen: Vec<Hash>,
}

impl Held {
    /// The newest value: the one shown, and computed with, until a clash is settled.
    ///
    /// # Panics
    /// Never: a held fact has a value.
    #[must_use]
    pub fn value(&self) -> &Live {
        &self.values[0]
    }
    /// What the newest value says, where it can be read and is no deletion.
    #[must_use]
    pub fn fact(&self) -> Option<&Fact> {
        self.value().fact.as_ref().ok().filter(|f| **f != Fact::Deleted)
    }
    /// Whether two people's values stand side by side.
    #[must_use]
    pub fn is_clash(&self) -> bool {
        self.values.len() > 1
    }
    /// The fact's id, where it was written down anew.
    #[must_use]
    pub fn id(&self) -> Option<Hash> {
        match self.key.subject {
            Subject::Fact(id) => Some(id),
            _ => None,
        }
    }
}

/// When and by whom a fact was first written down, whatever was put right about it since. In
/// the order of the stamps; those of one moment as this book has them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Written {
    /// When, by the clock of the device that wrote it.
    pub stamp: Stamp,
    /// Where this book keeps the entry.
    pub place: Place,
    /// The device that wrote it.
    pub device: DeviceKey,
}

/// Which facts to read. What is `None` does not narrow.
#[derive(Clone, Copy, Debug, Default)]
pub struct Filter<'a> {
    /// In this scope.
    pub scope: Option<Scope>,
    /// In a scope of this member, under any id of the same person. A scope that is
    /// named too says it more closely.
    pub member: Option<MemberId>,
    /// Of this kind.
    pub kind: Option<&'a str>,
    /// Of this field.
    pub field: Option<&'a str>,
    /// About this.
    pub subject: Option<Subject>,
    /// Belonging to this session.
    pub session: Option<Hash>,
    /// About a day from the first to the second, both included.
    pub days: Option<(Day, Day)>,
    /// Only facts with more than one live entry: what may clash.
    pub clashing: bool,
}
