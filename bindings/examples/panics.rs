//! A library for tests alone: what phones load, and beside it one function that panics on
//! purpose while it holds a book. `panic = "unwind"` and the border must turn that into an
//! error, and the book must stay as it was.

#![allow(clippy::panic, reason = "it is what this library is for")]

use std::sync::Arc;

use pitside_screen::{Companion, Env};

uniffi::setup_scaffolding!("pitside_panics");
pitside_screen::uniffi_reexport_scaffolding!();

/// Begins to work with the book, and panics.
#[uniffi::export]
pub fn panic_on_purpose(book: Arc<Companion>, env: Env) -> u64 {
    let screen = book.today(&env);
    panic!("raised on purpose at revision {:?}", screen.map(|today| today.revision));
}
