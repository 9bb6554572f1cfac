//! Everything a person can write down.

pub mod exercise;
