//! A fixed number of seeds in every run of the tests.

use std::time::Duration;

/// About two minutes on two busy cores.
const SEEDS: u64 = 20;

#[test]
fn what_must_hold_holds_for_every_seed() {
    for seed in 0..SEEDS {
        if let Err(failure) = simulate::run(seed, Duration::from_secs(60)) {
            panic!("{failure}");
        }
    }
}
