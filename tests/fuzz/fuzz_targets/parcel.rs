//! Any bytes as a hand-over file, as they are, after a good head, and laid over
//! a good file.

#![no_main]

use std::io;
use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use pitside_book::keys::{Identity, Rng, Seed};
use pitside_book::parcel::{Reader, Writer};

/// Not random, so that an input that fails fails again.
struct Same(u8);

impl Rng for Same {
    fn fill(&mut self, bytes: &mut [u8]) -> io::Result<()> {
        bytes.fill(self.0);
        Ok(())
    }
}

fn identity(n: u8) -> Identity {
    Identity::from_seed(Seed::generate(&mut Same(n)).expect("it always gives"))
}

const HEAD: usize = 154;
const MESSAGES: [&[u8]; 4] = [b"first", b"", b"third", &[4; 300]];

static RECEIVER: LazyLock<Identity> = LazyLock::new(|| identity(2));
static GOOD: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let to = RECEIVER.key();
    let mut writer = Writer::begin(&identity(1), to, 4, &mut Same(3), Vec::new()).expect("a good key");
    MESSAGES.iter().for_each(|message| writer.put(message).expect("a short message"));
    writer.finish().expect("memory takes all")
});

/// Whatever the bytes are: first messages of the good file come out, or none,
/// and all of them only from the file as it was.
fn judge(bytes: &[u8]) {
    let mut read = 0;
    let ended = Reader::open(&RECEIVER, bytes).and_then(|mut reader| {
        assert_eq!((reader.sender(), reader.total()), (identity(1).key(), 4));
        while let Some(message) = reader.next_message()? {
            assert_eq!(message, MESSAGES[read]);
            read += 1;
        }
        Ok(())
    });
    assert_eq!(ended.is_ok(), bytes == *GOOD);
}

fuzz_target!(|data: &[u8]| {
    // The first byte says how; to open a head takes long, so one way at a time.
    match data.split_first() {
        Some((0, after_head)) => judge(&[&GOOD[..HEAD], after_head].concat()),
        // Two bytes say where, the rest replaces what is there.
        Some((1, [high, low, patch @ ..])) => {
            let mut bytes = GOOD.clone();
            let at = usize::from(u16::from_be_bytes([*high, *low])) % bytes.len();
            let end = bytes.len().min(at + patch.len());
            bytes.splice(at..end, patch.iter().copied());
            judge(&bytes);
        }
        _ => judge(data),
    }
});
