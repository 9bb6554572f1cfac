//! A set that is put right or taken back.

use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{self, Approach, Fact, Hash, MemberId, Subject, kind};

use crate::athletes;
use crate::companion::{Companion, ScreenError, refused, set_of};
use crate::env::Env;
use crate::log_set;
use crate::record::{LogSet, SetForm};
use crate::route::Route;
use crate::text::Words;
use crate::training::{Card, Catalogue};
use crate::wording;

/// Where the draft is kept, beside the set it is of.
const DRAFT: &str = "draft/correction";

/// A set that is put right.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Correction {
    /// The heading.
    pub title: String,
    /// What is written down now.
    pub about: String,
    /// What its author saw when it was begun; given back as it is.
    pub seen: String,
    /// The form, filled in with that or with what was begun.
    pub form: LogSet,
    /// Saves it.
    pub save: String,
    /// Takes the set back when it is held.
    pub take_back: String,
    /// What a reader hears and does instead of holding.
    pub take_back_spoken: String,
    /// That it has to be held, and what becomes of the set.
    pub hold: String,
}

/// A set that is held, whose it is, and what it says.
pub(crate) fn find(book: &Book, id: &str) -> Result<(Held, MemberId, facts::Set), ScreenError> {
    let missing = || ScreenError::NotFound { what: "set".to_owned() };
    let place = Hash::parse(id).ok_or_else(missing)?;
    let filter = Filter { kind: Some(kind::SET), subject: Some(Subject::Fact(place)), ..Filter::default() };
    let held = book.held(&filter)?.into_iter().next().ok_or_else(missing)?;
    match (held.key.scope.member(), held.fact()) {
        (Some(member), Some(Fact::Set(set))) => {
            let set = set.clone();
            Ok((held, member, set))
        }
        _ => Err(missing()),
    }
}

/// What was begun of a set, and what its author saw then; nothing where it was of another one.
fn draft(book: &Book, id: &str) -> Result<Option<(String, SetForm)>, BookError> {
    let Some(bytes) = book.local(DRAFT)? else { return Ok(None) };
    Ok(match decode(&bytes) {
        Ok(Value::Array(items)) => match items.as_slice() {
            [Value::Text(of), Value::Text(seen), form] if of == id => {
                log_set::read(form).map(|form| (seen.clone(), form))
            }
            _ => None,
        },
        _ => None,
    })
}

/// The values of a fact as a form carries them.
pub(crate) fn seen_of(held: &Held) -> String {
    let seen: Vec<String> = held.seen.iter().map(Hash::to_string).collect();
    seen.join(" ")
}

/// A draft in the place of those values that its author saw. What came to the book in between
/// is not replaced: it stands beside, as a clash, until a person settles it.
///
/// # Errors
/// [`ScreenError::Refused`] where `seen` is not what a form carried.
pub(crate) fn replacing_seen(held: &Held, seen: &str, fact: Fact) -> Result<Draft, ScreenError> {
    let hashes: Option<Vec<Hash>> = seen.split_whitespace().map(Hash::parse).collect();
    let hashes = hashes.ok_or_else(|| refused("seen", seen.to_owned(), "the ids that the form carried"))?;
    let of_this = hashes.into_iter().filter(|hash| held.seen.contains(hash)).collect();
    Ok(Draft { replaces: of_this, ..Draft::replacing(held, fact) })
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// The form by which a set is put right.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn correction(&self, env: &Env, set: &str) -> Result<Correction, ScreenError> {
        let book = self.open_book()?;
        let words = Words::of(&env.language);
        let (held, member, before) = find(&book, set)?;
        let catalogue = Catalogue::read(&book)?;
        let (seen, form) = draft(&book, set)?.unwrap_or_else(|| (seen_of(&held), log_set::form_of(&before)));
        // What was done is not offered: nothing is said against it here, where it may be long ago.
        let form = log_set::filled_in(&words, env, &book, &mut self.courses(), &catalogue, form, &[])?;
        Ok(Correction {
            title: words.word("correct-title"),
            about: if athletes::is_only_one(&book, member)? {
                wording::set(&words, &catalogue, &before)
            } else {
                let who = wording::name(&words, &Card::read(&book, member)?, member);
                format!("{who}: {}", wording::set(&words, &catalogue, &before))
            },
            seen,
            form,
            save: words.word("correct-save"),
            take_back: words.word("correct-take-back"),
            take_back_spoken: words.word("correct-take-back-spoken"),
            hold: words.word("correct-hold"),
        })
    }

    /// Keeps what is filled in about a set that is put right, at each tap, with what its author
    /// saw.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn keep_correction(&self, set: &str, seen: &str, form: &SetForm) -> Result<(), ScreenError> {
        let draft = encode(&Value::Array(vec![set.into(), seen.into(), log_set::kept(form)]));
        Ok(self.open_book()?.set_local(DRAFT, Some(&draft))?)
    }

    /// Puts a set right; gives the session's route. What it said before stays in the log, and
    /// what its author did not see stands beside.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn correct_set(
        &self,
        env: &Env,
        set: &str,
        seen: &str,
        form: &SetForm,
    ) -> Result<String, ScreenError> {
        let book = self.open_book()?;
        let (held, _, before) = find(&book, set)?;
        let one = SetForm { sets: 1, ..form.clone() };
        // What the form does not ask stays as it was, as long as it is the same exercise.
        let said = set_of(&book, before.session, &one)?;
        let same = said.exercise == before.exercise;
        let contacts_per_rep = before.contacts_per_rep.filter(|_| same);
        let approach = said.approach.or(match before.approach {
            Some(run @ Approach::Millimetres(_)) if same => Some(run),
            _ => None,
        });
        let after = facts::Set { contacts_per_rep, approach, planned: before.planned, ..said };
        if after != before {
            book.write(held.key.scope, &replacing_seen(&held, seen, Fact::Set(after))?, env.stamp())?;
        }
        book.set_local(DRAFT, None)?;
        Ok(Route::Session(before.session).to_string())
    }

    /// Takes a set back: it was not done. Gives the session's route. What its author did not
    /// see stands beside.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn take_set_back(&self, env: &Env, set: &str, seen: &str) -> Result<String, ScreenError> {
        let book = self.open_book()?;
        let (held, _, before) = find(&book, set)?;
        book.write(held.key.scope, &replacing_seen(&held, seen, Fact::Deleted)?, env.stamp())?;
        book.set_local(DRAFT, None)?;
        Ok(Route::Session(before.session).to_string())
    }
}
