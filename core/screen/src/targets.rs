//! The contact times to come below: the squad's, members' own, and the published ones
//! that hold where nobody has set one.

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::facts::{Approach, Fact, Hash, Scope, Target, kind};
use pitside_model::timing::target::published;
use uuid::Uuid;

use crate::companion::{ScreenError, member_of, refused};
use crate::record::{TargetForm, TargetRow, Targets};
use crate::text::{Topic, Words};
use crate::training::{Card, Catalogue};
use crate::wording::{self, name};

pub(crate) fn targets(words: &Words, book: &Book) -> Result<Targets, BookError> {
    let revision = book.revision();
    let catalogue = Catalogue::read(book)?;
    let mut rows = Vec::new();
    let mut set = Vec::new();
    for held in book.held(&Filter { kind: Some(kind::TARGET), ..Filter::default() })? {
        let (Some(id), Some(Fact::Target(target))) = (held.id(), held.fact()) else { continue };
        let whose = match held.key.scope.member() {
            Some(member) => name(words, &Card::read(book, member)?, member),
            None => words.word("targets-squad"),
        };
        set.push(target.exercise);
        rows.push(row(words, &catalogue, id.to_string(), target, whose));
    }
    rows.sort_by(|a, b| a.text.cmp(&b.text));
    // Those that a target of the squad takes the place of are not shown beside it.
    let published = published().filter(|target| !set.contains(&target.exercise));
    let published = published
        .map(|target| row(words, &catalogue, String::new(), &target, words.word("judged-published")));
    rows.extend(published);
    Ok(Targets {
        revision,
        title: words.word("targets-title"),
        about: words.word("targets-about"),
        rows,
        exercises: wording::exercises(words, &catalogue),
        members: wording::members(words, book)?,
    })
}

fn row(words: &Words, catalogue: &Catalogue, id: String, target: &Target, whose: String) -> TargetRow {
    let text = wording::target(words, catalogue, target);
    let source = words.told_or_as_said(Topic::Source, &target.source);
    let spoken = format!("{text}. {whose}. {source}");
    TargetRow { id, text, whose, source, spoken }
}

/// The contact that a form is about.
struct About {
    scope: Scope,
    exercise: Uuid,
    contact: Option<u16>,
    approach: Option<Approach>,
}

impl About {
    fn of(book: &Book, form: &TargetForm) -> Result<Self, ScreenError> {
        let missing = || ScreenError::NotFound { what: "exercise".to_owned() };
        let exercise = Uuid::try_parse(&form.exercise).map_err(|_| missing())?;
        if Catalogue::read(book)?.get(exercise).is_none() {
            return Err(missing());
        }
        let scope = match form.member.as_str() {
            "" => Scope::Squad,
            named => Scope::Member(member_of(book, named)?),
        };
        let approach = form.strides.map(Approach::Strides);
        Ok(Self { scope, exercise, contact: form.contact, approach })
    }

    /// The target for this contact and run-in, where one was set.
    fn standing(&self, book: &Book) -> Result<Option<Held>, BookError> {
        let filter = Filter { scope: Some(self.scope), kind: Some(kind::TARGET), ..Filter::default() };
        let about = (self.exercise, self.contact, self.approach);
        let same = |held: &Held| matches!(held.fact(), Some(Fact::Target(t)) if (t.exercise, t.contact, t.approach) == about);
        Ok(book.held(&filter)?.into_iter().find(same))
    }
}

/// The id of the target that stands for a form's contact and run-in.
pub(crate) fn standing(book: &Book, form: &TargetForm) -> Result<Option<String>, ScreenError> {
    let standing = About::of(book, form)?.standing(book)?;
    Ok(standing.and_then(|held| held.id()).map(|id| id.to_string()))
}

/// Sets a target, in the place of one for the same contact and run-in.
pub(crate) fn set(book: &Book, at: Stamp, form: &TargetForm) -> Result<Hash, ScreenError> {
    let about = About::of(book, form)?;
    let contact_us = form.ms.checked_mul(1_000).filter(|us| (30_000..=3_000_000).contains(us));
    let fact = Fact::Target(Target {
        exercise: about.exercise,
        contact: about.contact,
        approach: about.approach,
        contact_us: contact_us
            .ok_or_else(|| refused("contact time", form.ms.to_string(), "30 to 3000 ms"))?,
        source: form.source.trim().to_owned(),
    });
    let standing = about.standing(book)?;
    let draft = match &standing {
        Some(held) => Draft::replacing(held, fact),
        None => Draft::new(fact),
    };
    let written = book.write(about.scope, &draft, at)?;
    Ok(standing.and_then(|held| held.id()).unwrap_or(written))
}

/// Takes a target back.
pub(crate) fn remove(book: &Book, at: Stamp, id: &str) -> Result<(), ScreenError> {
    let held = book.held(&Filter { kind: Some(kind::TARGET), ..Filter::default() })?;
    let found = held.into_iter().find(|held| held.id().is_some_and(|own| own.to_string() == id));
    let held = found.ok_or_else(|| ScreenError::NotFound { what: "target".to_owned() })?;
    book.write(held.key.scope, &Draft::replacing(&held, Fact::Deleted), at)?;
    Ok(())
}
