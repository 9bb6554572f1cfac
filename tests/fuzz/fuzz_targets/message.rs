//! Any bytes as a message of a conversation, and the segments in it.

#![no_main]

use libfuzzer_sys::fuzz_target;
use pitside_log::seal::MAX_ENTRIES;
use pitside_log::sync::Message;

fuzz_target!(|bytes: &[u8]| {
    let Ok(message) = Message::from_bytes(bytes) else { return };
    let written = message.to_bytes();
    assert_eq!(Message::from_bytes(&written).as_ref(), Ok(&message), "reading is undone by writing");
    match message {
        Message::Have(_) | Message::Receipt(_) => assert_eq!(written, bytes, "one encoding"),
        // It is packed, and packing has more than one encoding.
        Message::Batch(batch) => {
            for segment in batch.segments {
                if let Ok((opening, entries)) = segment.check(None) {
                    assert!(!entries.is_empty() && entries.len() as u64 <= MAX_ENTRIES);
                    assert_eq!(opening.id(), segment.log);
                    assert_eq!(entries.last().map(|e| e.hash), Some(segment.seal.hash));
                    // What is held already is checked again when it comes once more.
                    assert_eq!(segment.check(Some(&opening)), Ok((opening, entries)));
                }
            }
        }
        // A later version may say more in these; that is not kept.
        Message::Hello(_) | Message::Bye | Message::Refuse(_) => {}
    }
});
