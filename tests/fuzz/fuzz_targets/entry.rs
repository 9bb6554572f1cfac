//! Any bytes as a header, and as the body beside it.
//!
//! Input: the header's length in two bytes, the header, and what is left as
//! salt and payload.

#![no_main]

use libfuzzer_sys::fuzz_target;
use pitside_log::entry::{Body, Content, Entry, Header, origin};
use pitside_model::cbor::decode;
use pitside_model::facts::{LogId, MemberId, Scope};

fuzz_target!(|bytes: &[u8]| {
    let Some((length, rest)) = bytes.split_first_chunk::<2>() else { return };
    let (header, rest) = rest.split_at(usize::from(u16::from_be_bytes(*length)).min(rest.len()));
    let Ok(read) = Header::from_bytes(header) else { return };
    let written = read.to_bytes();
    assert_eq!(Header::from_bytes(&written).as_ref(), Ok(&read), "reading is undone by writing");
    if header[1] == 1 {
        assert_eq!(written, header, "a header of this version has one encoding");
    }

    let log = LogId([1; 32]);
    let scope = Scope::Member(MemberId(Default::default()));
    let make = |content| Entry::from_parts(log, 1, scope, origin(log), header.to_vec(), content);
    let Some((salt, payload)) = rest.split_first_chunk::<16>() else { return };
    let body = Body { salt: *salt, payload: payload.to_vec() };
    let bare = make(Content::Commitment(body.commitment())).expect("an entry needs no body");
    assert_eq!(bare.header_bytes, header);
    let whole = make(Content::Body(body));
    assert_eq!(whole.is_ok(), decode(payload).is_ok());
    if let Ok(whole) = whole {
        assert_eq!(whole.hash, bare.hash, "an entry is the same with its body and without");
    }
});
