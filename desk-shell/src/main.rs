//! `pitside`: the coach's laptop.

fn main() {}
