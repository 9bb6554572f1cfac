//! The commands of development.

fn main() {}
