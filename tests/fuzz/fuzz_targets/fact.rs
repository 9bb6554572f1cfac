//! Any bytes as the payload of a fact of every kind.
//!
//! Input: one byte that picks kind and field, then the payload.

#![no_main]

use libfuzzer_sys::fuzz_target;
use pitside_model::facts::{Fact, field_name as f, kind};

/// What no version has yet.
const LATER: [(&str, &str); 2] = [(kind::MEMBER, "of-a-later-day"), ("of-a-later-day", f::WHOLE)];

fuzz_target!(|bytes: &[u8]| {
    let Some((pick, payload)) = bytes.split_first() else { return };
    let addresses: Vec<(&str, &str)> = Fact::addresses().chain(LATER).collect();
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
