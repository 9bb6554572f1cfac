//! Any text as a pairing text, as it is and after its prefix.

#![no_main]

use libfuzzer_sys::fuzz_target;
use pitside_book::pairing::{Invitation, PREFIX};

fuzz_target!(|text: &str| {
    for text in [text.to_owned(), format!("{PREFIX}{text}")] {
        if let Ok(invitation) = Invitation::from_text(&text) {
            assert_eq!(Invitation::from_text(&invitation.to_text()), Ok(invitation));
        }
    }
});
