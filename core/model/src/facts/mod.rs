//! Everything a person can write down.
