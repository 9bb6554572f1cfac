//! The 32 bytes from which everything secret about a device is made.

use std::fmt;
use std::io;

use zeroize::Zeroizing;

/// Length of a seed in bytes: an Ed25519 private key (RFC 8032 §5.1.5).
pub const SEED_LENGTH: usize = 32;

/// A source of bytes that nobody can guess.
///
/// Handed in, so that nothing but the edge of the program decides where
/// randomness comes from, and a simulation can be repeated.
pub trait Rng {
    /// Fills `bytes`.
    ///
    /// # Errors
    /// When the source has nothing to give; `bytes` must then not be used.
    fn fill(&mut self, bytes: &mut [u8]) -> io::Result<()>;
}

/// The operating system's own source.
#[derive(Debug, Clone, Copy, Default)]
pub struct OsRng;

impl Rng for OsRng {
    fn fill(&mut self, bytes: &mut [u8]) -> io::Result<()> {
        getrandom::fill(bytes).map_err(|error| io::Error::other(error.to_string()))
    }
}

/// A device's secret. Wiped from memory when dropped, never printed, not cloned.
pub struct Seed(Zeroizing<[u8; SEED_LENGTH]>);

impl Seed {
    /// Takes over a seed that a key store unwrapped.
    #[must_use]
    pub fn from_bytes(bytes: Zeroizing<[u8; SEED_LENGTH]>) -> Self {
        Self(bytes)
    }

    /// Draws a new seed.
    ///
    /// # Errors
    /// What `rng` says when it has nothing to give.
    pub fn generate(rng: &mut impl Rng) -> io::Result<Self> {
        let mut bytes = Zeroizing::new([0; SEED_LENGTH]);
        rng.fill(bytes.as_mut())?;
        Ok(Self(bytes))
    }

    /// The secret itself, for a key store to wrap.
    #[must_use]
    pub fn expose(&self) -> &[u8; SEED_LENGTH] {
        &self.0
    }
}

impl fmt::Debug for Seed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Seed(secret)")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Dry;

    impl Rng for Dry {
        fn fill(&mut self, _: &mut [u8]) -> io::Result<()> {
            Err(io::Error::other("dry"))
        }
    }

    #[test]
    fn a_seed_is_not_printed() {
        let seed = Seed::from_bytes(Zeroizing::new([0xab; SEED_LENGTH]));
        assert_eq!(format!("{seed:?}"), "Seed(secret)");
    }

    #[test]
    fn two_seeds_of_the_system_differ() {
        let first = Seed::generate(&mut OsRng).unwrap();
        let second = Seed::generate(&mut OsRng).unwrap();
        assert_ne!(first.expose(), second.expose());
    }

    #[test]
    fn without_randomness_there_is_no_seed() {
        assert!(Seed::generate(&mut Dry).is_err());
    }
}
