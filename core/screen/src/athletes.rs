//! Who writes on this phone: one athlete, siblings who share it, or somebody who logs for
//! many.

use pitside_book::store::{Book, BookError};
use pitside_model::facts::{Card as CardField, Fact, MemberId, Scope, Subject};
use uuid::Uuid;

use crate::companion::{Companion, ScreenError, refused};
use crate::env::Env;
use crate::record::Choice;
use crate::text::Words;
use crate::training::Card;
use crate::wording::name;

/// Where it is kept whom a phone of several writes for.
const NOW: &str = "athlete";

/// The member this phone writes for: the only one it serves, or of several the one that was
/// chosen last. Nobody is taken for the other as long as nobody was chosen.
pub(crate) fn writing_for(book: &Book) -> Result<Option<MemberId>, BookError> {
    let own = book.own_members()?;
    if let [one] = own.as_slice() {
        return Ok(Some(*one));
    }
    let kept = book.local(NOW)?.and_then(|bytes| Uuid::from_slice(&bytes).ok()).map(MemberId);
    Ok(kept.filter(|member| own.contains(member)))
}

/// Whether a member is the only one this device writes for: nobody's name need be said.
pub(crate) fn is_only_one(book: &Book, member: MemberId) -> Result<bool, BookError> {
    Ok(writes_for(book)? == [book.authority()?.person(member)])
}

/// The members that a phone of several serves, by name; empty on a phone of one.
pub(crate) fn own(words: &Words, book: &Book) -> Result<Vec<Choice>, BookError> {
    let own = book.own_members()?;
    if own.len() < 2 {
        return Ok(Vec::new());
    }
    let now = writing_for(book)?;
    Ok(named(words, book, own)?.into_iter().map(|(id, text)| choice(id, text, Some(id) == now)).collect())
}

/// Members with their names, by name.
pub(crate) fn named(
    words: &Words,
    book: &Book,
    members: Vec<MemberId>,
) -> Result<Vec<(MemberId, String)>, BookError> {
    let mut named = Vec::with_capacity(members.len());
    for member in members {
        named.push((member, name(words, &Card::read(book, member)?, member)));
    }
    named.sort_by(|a, b| a.1.cmp(&b.1));
    Ok(named)
}

pub(crate) fn choice(member: MemberId, text: String, chosen: bool) -> Choice {
    Choice { id: member.to_string(), text, group: String::new(), chosen }
}

/// The members whose training this device may write: those it serves, those it assists,
/// and on the coach's own devices everybody.
pub(crate) fn writes_for(book: &Book) -> Result<Vec<MemberId>, BookError> {
    if book.squad().is_none() {
        return book.own_members();
    }
    let own = book.authority()?.standing(book.device());
    let mut members = book.members()?;
    members.retain(|member| {
        let grants = &own.grants;
        // A removed device goes on for its own person alone.
        grants.serves.contains(member)
            || (own.is_admitted() && (grants.owner || grants.assists.covers(*member)))
    });
    Ok(members)
}

/// A member this device serves who has no name yet.
pub(crate) fn nameless(book: &Book) -> Result<Option<MemberId>, BookError> {
    for member in book.own_members()? {
        if Card::read(book, member)?.name.is_none() {
            return Ok(Some(member));
        }
    }
    Ok(None)
}

/// Whether another athlete can be made on this device: before any squad, where siblings
/// share a phone, and on the coach's own devices. Elsewhere the coach gives the device one more.
pub(crate) fn may_add(book: &Book) -> Result<bool, BookError> {
    let own = book.authority()?.standing(book.device());
    Ok(book.squad().is_none() || (own.is_admitted() && own.grants.owner))
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Says whom this phone writes for from now on, of the members it serves: what is
    /// called without a member is about this one.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] where it does not serve the member, [`ScreenError::Book`].
    pub fn write_for(&self, member: &str) -> Result<(), ScreenError> {
        let book = self.open_book()?;
        let id = Uuid::try_parse(member).map(MemberId).ok();
        let own = book.own_members()?;
        let id = id
            .filter(|id| own.contains(id))
            .ok_or_else(|| ScreenError::NotFound { what: "athlete of this device".to_owned() })?;
        Ok(book.set_local(NOW, Some(id.0.as_bytes()))?)
    }

    /// Gives a name to a member, or makes another athlete of that name under the id that the
    /// screen had for one: one more on a phone that siblings share, before any squad, or one of
    /// the squad on a coach's device. `member` is [`Group::naming`](crate::Group::naming) of the
    /// screen on which the name was typed, so that a second tap makes no second athlete. Gives
    /// the member.
    ///
    /// # Errors
    /// [`ScreenError::Refused`] for the name; [`ScreenError::NotAllowed`] in a squad on a
    /// device that is not the coach's; [`ScreenError::NotFound`].
    pub fn name_athlete(&self, env: &Env, member: &str, name: &str) -> Result<String, ScreenError> {
        let book = self.open_book()?;
        let name = name.trim();
        if name.is_empty() {
            return Err(refused("name", String::new(), "a name"));
        }
        let id = Uuid::try_parse(member).ok().filter(|id| Book::makes_ids_like(*id)).map(MemberId);
        let id = id.ok_or_else(|| ScreenError::NotFound { what: "athlete".to_owned() })?;
        if book.members()?.contains(&id) {
            if Card::read(&book, id)?.name.as_deref() != Some(name) {
                let card = Fact::Card(CardField::Name(name.to_owned()));
                book.revise(Scope::Member(id), Subject::Uuid(id.0), card, env.stamp())?;
            }
        } else if book.squad().is_none() {
            book.start_another(id, name, env.stamp())?;
        } else {
            book.add_member_as(id, name, env.stamp())?;
        }
        Ok(id.to_string())
    }
}
