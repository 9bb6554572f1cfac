//! Any bytes as a header, and as the body that it speaks of.
//!
//! Input: the header's length in two bytes, the header, and what is left as
//! salt and payload. The commitment is set to that of the body: no fuzzer finds
//! a SHA-256 by chance.

#![no_main]

use libfuzzer_sys::fuzz_target;
use pitside_log::entry::{Body, Entry, EntryError, Header, origin};
use pitside_model::cbor::decode;
use pitside_model::facts::{LogId, MemberId, Place, Scope};

fuzz_target!(|bytes: &[u8]| {
    let Some((length, rest)) = bytes.split_first_chunk::<2>() else { return };
    let (header, rest) = rest.split_at(usize::from(u16::from_be_bytes(*length)).min(rest.len()));
    let Ok(read) = Header::from_bytes(header) else { return };
    let written = read.to_bytes();
    assert_eq!(Header::from_bytes(&written).as_ref(), Ok(&read), "reading is undone by writing");
    if header[1] == 1 {
        assert_eq!(written, header, "a header of this version has one encoding");
    }

    let place = Place { log: LogId([1; 32]), seq: 1 };
    let make = |header: Vec<u8>, body| {
        Entry::from_parts(place, Scope::Member(MemberId(Default::default())), origin(place.log), header, body)
    };
    let bare = make(header.to_vec(), None).expect("an entry needs no body");
    assert_eq!(bare.header_bytes, header);
    let Some((salt, payload)) = rest.split_first_chunk::<16>() else { return };
    let body = Body { salt: *salt, payload: payload.to_vec() };
    if body.commitment() != read.commitment {
        assert_eq!(make(header.to_vec(), Some(body.clone())), Err(EntryError::Commitment));
    }
    let committed = Header { commitment: body.commitment(), ..read };
    assert_eq!(make(committed.to_bytes(), Some(body)).is_ok(), decode(payload).is_ok());
});
