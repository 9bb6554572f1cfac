//! How the library is linked that phones load: small.

use std::env;

fn main() {
    println!("cargo::rerun-if-changed=build.rs");
    let is = |name: &str, value: &str| env::var(name).is_ok_and(|own| own == value);
    // The linker of the NDK is lld, and so is Rust's own on this one system; `--profile dist`
    // optimises for size. There is nothing to win anywhere else.
    let on_a_phone = is("CARGO_CFG_TARGET_OS", "android");
    let as_on_a_phone = is("TARGET", "x86_64-unknown-linux-gnu") && is("OPT_LEVEL", "s");
    if !(on_a_phone || as_on_a_phone) {
        return;
    }
    // Functions that came out alike become one: generic code is most of this library. SQLite tells
    // a few destructors apart by their addresses; none of them has the code of another that is
    // given in its place (looked at in SQLite 3.54).
    link("--icf=all");
    // Addresses that are set when it is loaded, packed: Android knows this form from 6.0 on. The
    // other one is glibc's, which asks for a mark of its version beside it.
    link(if on_a_phone { "--pack-dyn-relocs=android" } else { "-z,pack-relative-relocs" });
}

fn link(arg: &str) {
    println!("cargo::rustc-cdylib-link-arg=-Wl,{arg}");
}
