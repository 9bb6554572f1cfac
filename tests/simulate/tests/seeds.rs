//! A fixed number of seeds in every run of the tests.

use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;
use std::time::Duration;

/// About two minutes on two cores.
const SEEDS: u64 = 32;
/// At most so many plans at once.
const WORKERS: usize = 2;

#[test]
fn what_must_hold_holds_for_every_seed() {
    let next = AtomicU64::new(0);
    let work = || {
        while let seed = next.fetch_add(1, Ordering::Relaxed)
            && seed < SEEDS
        {
            if let Err(failure) = simulate::run(seed, Duration::from_secs(60)) {
                panic!("{failure}");
            }
        }
    };
    thread::scope(|scope| {
        let workers: Vec<_> = (0..WORKERS).map(|_| scope.spawn(work)).collect();
        for worker in workers {
            if let Err(failure) = worker.join() {
                std::panic::resume_unwind(failure);
            }
        }
    });
}
