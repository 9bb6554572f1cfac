//! The seeds of the fuzz targets are what their targets read: a seed that has become
//! garbage helps no fuzzer.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::path::Path;

use pitside_log::entry::Header;
use pitside_log::sync::Message;
use pitside_model::cbor::decode;

/// The seeds of a target: name and bytes.
fn seeds(target: &str) -> Vec<(String, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fuzz/seeds").join(target);
    let files = std::fs::read_dir(folder).unwrap().map(Result::unwrap);
    files.map(|f| (f.file_name().into_string().unwrap(), std::fs::read(f.path()).unwrap())).collect()
}

#[test]
fn every_seed_is_what_its_target_reads() {
    let messages = seeds("message");
    for (name, bytes) in &messages {
        assert_eq!(Message::from_bytes(bytes).unwrap().to_bytes(), *bytes, "{name}");
    }
    assert!(messages.iter().any(|(name, _)| name.starts_with("batch-")));
    let entries = seeds("entry");
    for (name, bytes) in &entries {
        let (length, rest) = bytes.split_first_chunk::<2>().unwrap();
        let (header, body) = rest.split_at(u16::from_be_bytes(*length).into());
        assert_eq!(Header::from_bytes(header).unwrap().to_bytes(), header, "{name}");
        assert!(body.is_empty() || decode(&body[16..]).is_ok(), "{name}");
    }
    let facts = seeds("fact");
    for (name, bytes) in &facts {
        assert!(decode(&bytes[1..]).is_ok(), "{name}");
    }
    assert!(entries.len() >= 12 && facts.len() >= 10, "{} {}", entries.len(), facts.len());
}
