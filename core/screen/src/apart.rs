//! What is held and does not count, and what was refused: all of it with its
//! reason, for nothing is dropped in silence.

use std::collections::BTreeMap;

use pitside_book::store::{Book, BookError, Uncounted};
use pitside_log::authority::{Judgement, Reason};
use pitside_model::facts::{DeviceKey, Scope};

use crate::env::Env;
use crate::figure::whole;
use crate::record::{Action, Apart, ApartRow, LateRow, RefusedRow};
use crate::text::Words;
use crate::training::Card;
use crate::wording::{self, device, moment};

/// The most entries listed; of more only the number is said.
const MOST: usize = 200;

pub(crate) fn apart(words: &Words, env: &Env, book: &Book) -> Result<Apart, BookError> {
    let revision = book.revision();
    let mut uncounted = book.uncounted()?;
    uncounted.sort_by_key(|u| (core::cmp::Reverse(u.stamp), u.hash));
    let beyond = uncounted.len().saturating_sub(MOST) as u64;
    let mut entries = Vec::new();
    for entry in uncounted.iter().take(MOST) {
        entries.push(row(words, env, book, entry)?);
    }
    let mut refused = Vec::new();
    for aside in book.aside()? {
        let from = match aside.from {
            Some(from) => device(words, book, from)?,
            None => words.word("apart-from-unknown"),
        };
        let when = words.say(
            "apart-when",
            &[
                ("when", (&moment(words, env, aside.at_ms, env.zone_min)).into()),
                ("bytes", (&whole(aside.bytes)).into()),
                ("times", aside.times.into()),
            ],
        );
        refused.push(RefusedRow {
            spoken: format!("{}. {from}. {when}", aside.reason),
            reason: aside.reason,
            from,
            when,
        });
    }
    let unless = |empty: bool, key: &str| if empty { words.word(key) } else { String::new() };
    Ok(Apart {
        revision,
        title: words.word("apart-title"),
        note: words.word("apart-note"),
        late: late(words, book, &uncounted)?,
        no_entries: unless(entries.is_empty(), "apart-no-entries"),
        more: if beyond > 0 { words.say("apart-more", &[("n", beyond.into())]) } else { String::new() },
        entries,
        no_refused: unless(refused.is_empty(), "apart-no-refused"),
        refused,
    })
}

/// The removed devices of which something came late, on a device that may count it.
fn late(words: &Words, book: &Book, uncounted: &[Uncounted]) -> Result<Vec<LateRow>, BookError> {
    let own = book.authority()?.standing(book.device());
    if !own.grants.owner || !own.is_admitted() {
        return Ok(Vec::new());
    }
    let mut entries: BTreeMap<DeviceKey, u64> = BTreeMap::new();
    for entry in uncounted.iter().filter(|u| u.judgement == Judgement::Refused(Reason::Removed)) {
        *entries.entry(entry.device).or_default() += 1;
    }
    let row = |(key, n): (DeviceKey, u64)| {
        let whose = device(words, book, key)?;
        Ok(LateRow {
            id: key.to_string(),
            text: words.say("apart-late", &[("whose", (&whose).into()), ("n", n.into())]),
            take_in: Action { id: "take-in".into(), text: words.word("do-take-in"), route: String::new() },
        })
    };
    entries.into_iter().map(row).collect()
}

fn row(words: &Words, env: &Env, book: &Book, entry: &Uncounted) -> Result<ApartRow, BookError> {
    let kind = wording::fact_kind(words, &entry.kind);
    let what = match entry.scope {
        // Of the private part only that there is something.
        Scope::Member(member) | Scope::Private(member) => {
            let name = wording::name(words, &Card::read(book, member)?, member);
            words.say("apart-of", &[("kind", (&kind).into()), ("name", (&name).into())])
        }
        Scope::Squad | Scope::Staff => kind,
    };
    let who = device(words, book, entry.device)?;
    let when = moment(words, env, entry.stamp.ms, entry.stamp.zone_min);
    let written = words.say("written-at", &[("who", (&who).into()), ("when", (&when).into())]);
    let key = match entry.judgement {
        Judgement::Counted | Judgement::Waiting => "waiting",
        Judgement::Refused(reason) => match reason {
            Reason::OwnerOnly => "owner-only",
            Reason::MemberOnly => "member-only",
            Reason::NotGiven => "not-given",
            Reason::WrongScope => "wrong-scope",
            Reason::SecondFounding => "second-founding",
            Reason::Removed => "removed",
            Reason::Senior => "senior",
            Reason::Erased => "erased",
        },
    };
    let reason = words.word(&format!("why-{key}"));
    let may_do = words.word(&format!("then-{key}"));
    let spoken = format!("{what}. {written}. {reason} {may_do}");
    Ok(ApartRow { id: entry.hash.to_string(), what, written, reason, may_do, spoken })
}
