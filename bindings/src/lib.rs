//! The library that phones load.
//!
//! It exports the one object and the records of `pitside-screen` and has nothing
//! of its own: all UniFFI types live in one crate, since several would become
//! several Swift modules. `cargo xtask bindings` writes the Kotlin and Swift
//! that call it; what is written is not committed.

pitside_screen::uniffi_reexport_scaffolding!();
