//! Any bytes as the payload of a fact of every kind.
//!
//! Input: one byte that picks kind and field, then the payload.

#![no_main]

use libfuzzer_sys::fuzz_target;
use pitside_model::facts::{Audience, Card, Fact, field_name as f, kind};

const WHOLE: [&str; 13] = [
    kind::SQUAD,
    kind::EXERCISE,
    kind::SESSION,
    kind::SET,
    kind::TAKE,
    kind::TARGET,
    kind::CHECK_IN,
    kind::REST,
    kind::COMPLETE,
    kind::LIMIT,
    kind::SAME_PERSON,
    kind::WITHDRAWAL,
    kind::ERASURE,
];
// The example `fuzz_seeds` of core/book counts in the same order.
const FIELDS: [(&str, &str); 7] = [
    (kind::SQUAD, f::NAME),
    (kind::DEVICE, f::GRANT),
    (kind::MEMBER, f::ROSTER),
    (kind::DEVICE, f::REMOVAL),
    (kind::SESSION, f::EFFORT),
    (kind::MEMBER, "of-a-later-day"),
    ("of-a-later-day", f::WHOLE),
];

fuzz_target!(|bytes: &[u8]| {
    let Some((pick, payload)) = bytes.split_first() else { return };
    let addresses: Vec<(&str, &str)> = WHOLE
        .map(|kind| (kind, f::WHOLE))
        .into_iter()
        .chain(Card::FIELDS.map(|field| (kind::MEMBER, field)))
        .chain(FIELDS)
        .chain([Audience::Coach, Audience::Assistants, Audience::Medical].map(|to| (kind::CONSENT, to.word())))
        .collect();
    let (kind, field) = addresses[usize::from(*pick) % addresses.len()];
    let Ok((fact, extra)) = Fact::read(kind, field, payload) else { return };
    if fact == Fact::Unknown {
        return;
    }
    if fact != Fact::Deleted {
        assert_eq!(fact.address(), Some((kind, field)));
    }
    let written = fact.write(&extra).expect("what was read is in its range");
    assert_eq!(Fact::read(kind, field, &written), Ok((fact, extra)), "reading is undone by writing");
});
