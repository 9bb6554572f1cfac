//! Which clip this is.

use std::io::{self, Read};

use sha2::{Digest, Sha256};

/// The identity of a clip: SHA-256 of its bytes, read to the end in blocks.
/// Copies that a messenger wrote anew have another one; see
/// [`FrameTable::digest`](super::FrameTable::digest) for what they share.
///
/// # Errors
/// Where reading fails.
pub fn identity<R: Read>(mut reader: R) -> io::Result<[u8; 32]> {
    let mut hash = Sha256::new();
    let mut block = vec![0_u8; 1 << 16];
    loop {
        match reader.read(&mut block) {
            Ok(0) => return Ok(hash.finalize().into()),
            Ok(count) => hash.update(block.get(..count).unwrap_or_default()),
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gives one byte at a time, and is interrupted before each.
    struct Halting<'a>(&'a [u8], bool);

    impl Read for Halting<'_> {
        fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
            self.1 = !self.1;
            if self.1 {
                return Err(io::ErrorKind::Interrupted.into());
            }
            let Some((first, rest)) = self.0.split_first() else { return Ok(0) };
            buffer[0] = *first;
            self.0 = rest;
            Ok(1)
        }
    }

    /// Check value: FIPS 180-4, the example "abc".
    #[test]
    fn the_bytes_are_hashed_however_they_come() {
        let expected = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        let hex = |hash: [u8; 32]| hash.iter().map(|byte| format!("{byte:02x}")).collect::<String>();
        assert_eq!(hex(identity(&b"abc"[..]).unwrap()), expected);
        assert_eq!(hex(identity(Halting(b"abc", false)).unwrap()), expected);
    }
}
