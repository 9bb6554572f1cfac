//! One file a command.

pub(crate) mod android;
pub(crate) mod bench;
pub(crate) mod bindings;
pub(crate) mod fuzz;
pub(crate) mod render;
pub(crate) mod simulate;
pub(crate) mod swift;
pub(crate) mod test;
