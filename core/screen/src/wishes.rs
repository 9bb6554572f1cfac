//! What the coach asks this device to erase: it keeps a member's data for its
//! person, so its person decides.

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError};
use pitside_model::facts::MemberId;

use crate::record::{Action, Wish, Wishes};
use crate::text::Words;
use crate::training::Card;
use crate::wording::name;

/// Where it is kept that the person answered with keeping: the answer outlives what another
/// member's person lets go.
fn kept(member: MemberId) -> String {
    format!("setting/kept/{member}")
}

/// Every wish that is open, those answered with keeping too: they can still be
/// agreed to.
pub(crate) fn wishes(words: &Words, book: &Book) -> Result<Wishes, BookError> {
    let revision = book.revision();
    let mut wishes = Vec::new();
    for member in book.asked_to_erase()? {
        let who = name(words, &Card::read(book, member)?, member);
        let action = |id: &str| Action {
            id: id.to_owned(),
            text: words.word(&format!("wish-do-{id}")),
            route: String::new(),
        };
        let answered = is_kept(book, member)?;
        let mut actions = vec![action("agree")];
        actions.extend((!answered).then(|| action("keep")));
        wishes.push(Wish {
            member: member.to_string(),
            title: words.say("wish-title", &[("name", (&who).into())]),
            means: ["wish-asked", "wish-agree", "wish-keep"]
                .map(|key| words.say(key, &[("name", (&who).into())]))
                .to_vec(),
            answered: if answered { words.word("wish-kept") } else { String::new() },
            actions,
        });
    }
    Ok(Wishes {
        revision,
        title: words.word("link-wishes"),
        none: if wishes.is_empty() { words.word("wish-none") } else { String::new() },
        wishes,
    })
}

/// Whether the person answered a wish with keeping.
pub(crate) fn is_kept(book: &Book, member: MemberId) -> Result<bool, BookError> {
    Ok(book.local(&kept(member))?.is_some())
}

/// The person keeps the data.
pub(crate) fn keep(book: &Book, member: MemberId) -> Result<(), BookError> {
    book.set_local(&kept(member), Some(&[1]))
}

/// The person lets the data go, and with them the answer before.
pub(crate) fn agree(book: &Book, member: MemberId, now: Stamp) -> Result<(), BookError> {
    book.let_go(member, now)?;
    book.set_local(&kept(member), None)
}
