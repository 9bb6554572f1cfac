//! Any bytes as the file of a book: it is opened and rescued, or refused.

#![no_main]

use std::fs;
use std::io;
use std::path::Path;

use libfuzzer_sys::fuzz_target;
use pitside_book::clock::Stamp;
use pitside_book::keys::{Identity, Rng, Seed};
use pitside_book::store::{Book, FILE};

/// The largest file: a book of a few hundred entries has less.
const MOST_BYTES: usize = 512 * 1024;
const NOW: Stamp = Stamp { ms: 1_790_000_000_000, zone_min: 0 };

/// The seed of the stored books.
struct Ones;

impl Rng for Ones {
    fn fill(&mut self, bytes: &mut [u8]) -> io::Result<()> {
        bytes.fill(1);
        Ok(())
    }
}

fn identity() -> Identity {
    Identity::from_seed(Seed::generate(&mut Ones).expect("it always gives"))
}

fuzz_target!(|bytes: &[u8]| {
    if bytes.len() > MOST_BYTES {
        return;
    }
    // In memory where the system has it: nothing here is to be kept.
    let memory = Path::new("/dev/shm");
    let folder = if memory.is_dir() { tempfile::tempdir_in(memory) } else { tempfile::tempdir() };
    let folder = folder.expect("a folder");
    let at = folder.path();
    fs::write(at.join(FILE), bytes).expect("room");
    if let Ok(book) = Book::open(at, identity()) {
        let _ = book.check(&mut |_, _| true);
        let _ = book.held(&Default::default());
    }
    // As it was, without a log: opening may have brought it up.
    let _ = fs::remove_file(at.join(format!("{FILE}-wal")));
    fs::write(at.join(FILE), bytes).expect("room");
    if let Ok(rescued) = Book::rescue(at, identity(), NOW) {
        assert_eq!(rescued.book.check(&mut |_, _| true).expect("it was just made"), [""; 0]);
        rescued.book.rebuild().expect("it was just made");
    }
});
