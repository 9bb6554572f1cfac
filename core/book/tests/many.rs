//! Two hundred athletes' devices and one coach's, over real connections.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use pitside_book::carrier::{Admission, Connection, Limits, Listener, Verdict};
use pitside_book::clock::Clock;
use pitside_book::exchange::{Part, accept, exchange};
use pitside_book::keys::{Identity, Seed};
use pitside_book::store::{Book, Filter};
use pitside_model::facts::kind;
use tempfile::TempDir;
use zeroize::Zeroizing;

mod meeting;
use meeting::{Device, NOW, count, device, invitation, rest};

const DEVICES: usize = 200;
/// As many as come at once: a phone on a field waits its turn.
const AT_ONCE: usize = 16;

fn phone(n: usize) -> Device {
    let folder = TempDir::new().unwrap();
    let mut seed = [7; 32];
    seed[..8].copy_from_slice(&n.to_be_bytes());
    let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new(seed)));
    Device { book: Book::create(folder.path(), identity, false).unwrap(), folder }
}

#[test]
fn two_hundred_devices_join_at_once_and_sync_again() {
    let coach = device(1, false);
    coach.book.found("Quay jumps", NOW.now()).unwrap();
    // All of them come from one address here.
    let admission = Admission { connections_per_source: 64, ..Admission::default() };
    let limits = Limits { admission, ..Limits::default() };
    let listener = Listener::bind("127.0.0.1:0".parse().unwrap(), limits).unwrap();
    let address = listener.address().to_string();
    let stop = listener.stop();
    let phones: Vec<Device> = (0..DEVICES).map(phone).collect();
    thread::scope(|scope| {
        let serving = scope.spawn(|| {
            listener.serve(coach.book.identity(), &|connection| {
                let mut connection = connection.unwrap();
                let ended = exchange(&coach.book, &mut connection, Part::Called, &NOW);
                connection.close();
                ended.as_ref().unwrap();
                Verdict::of(&ended)
            });
        });
        for again in [false, true] {
            let next = AtomicUsize::new(0);
            thread::scope(|callers| {
                for _ in 0..AT_ONCE {
                    callers.spawn(|| {
                        while let Some(phone) = phones.get(next.fetch_add(1, Ordering::Relaxed)) {
                            let part = if again {
                                Part::Caller
                            } else {
                                let part = accept(&phone.book, &invitation(&coach.book, None), &NOW).unwrap();
                                rest(&phone.book, phone.book.own_members().unwrap()[0], 0..3);
                                part
                            };
                            let mut connection = Connection::reach(
                                std::slice::from_ref(&address),
                                phone.book.identity(),
                                coach.book.device(),
                                &limits,
                            )
                            .unwrap();
                            exchange(&phone.book, &mut connection, part, &NOW).unwrap();
                            connection.close();
                        }
                    });
                }
            });
        }
        stop.stop();
        serving.join().unwrap();
    });
    assert_eq!(count(&coach.book, kind::REST), 3 * DEVICES);
    assert_eq!(coach.book.members().unwrap().len(), DEVICES);
    assert_eq!(coach.book.devices().unwrap().len(), DEVICES + 1);
    assert!(coach.book.uncounted().unwrap().is_empty() && coach.book.aside().unwrap().is_empty());
    let (last, first) = (&phones[DEVICES - 1], &phones[0]);
    for phone in [first, last] {
        assert_eq!(count(&phone.book, kind::REST), 3, "its own member's, and no other's");
        assert_eq!(phone.book.carried().unwrap().only_here, 0);
    }
    // Whoever synced after all had joined knows all of them.
    assert_eq!(first.book.devices().unwrap().len(), DEVICES + 1);
    let state = |book: &Book| book.held(&Filter::default()).unwrap().len();
    let before = state(&coach.book);
    coach.book.rebuild().unwrap();
    assert_eq!(state(&coach.book), before);
}
