//! Whom a member's private part is shared with.

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::facts::{Audience, MemberId, Scope, Subject, kind};

use crate::record::{ShareRow, Sharing};
use crate::text::Words;
use crate::training::Card;
use crate::wording::name;

pub(crate) fn sharing(words: &Words, book: &Book, member: MemberId) -> Result<Sharing, BookError> {
    let revision = book.revision();
    let consents = book.consents(member)?;
    let held = book.held(&Filter {
        scope: Some(Scope::Member(member)),
        kind: Some(kind::CONSENT),
        subject: Some(Subject::Uuid(member.0)),
        ..Filter::default()
    })?;
    let rows = Audience::ALL.iter().map(|to| {
        let (key, given) = match to {
            Audience::Coach => ("coach", consents.coach),
            Audience::Assistants => ("assistants", consents.assistants),
            Audience::Medical => ("medical", consents.medical),
        };
        let disputed = held.iter().any(|h| h.key.field == to.word() && h.is_clash());
        let text = words.word(&format!("share-{key}"));
        let state = words.word(match (disputed, given) {
            (true, _) => "sharing-disputed",
            (false, true) => "sharing-on",
            (false, false) => "sharing-off",
        });
        let spoken = format!("{text}: {state}");
        ShareRow { id: to.word().to_owned(), text, given, state, spoken }
    });
    let own = book.authority()?.standing(book.device());
    let may_change =
        book.own_members()?.contains(&member) || (own.is_admitted() && own.grants.consents.covers(member));
    let who = name(words, &Card::read(book, member)?, member);
    Ok(Sharing {
        revision,
        member: member.to_string(),
        title: words.say("sharing-title", &[("name", (&who).into())]),
        about: words.word("sharing-about"),
        rows: rows.collect(),
        may_change,
        who_may: if may_change { String::new() } else { words.word("sharing-who-may") },
        withdrawing: words.word("sharing-withdrawing"),
    })
}
