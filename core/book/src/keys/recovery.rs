//! The recovery key of a squad: printed when it is founded, kept on paper.
//!
//! `PITSIDEKEY1:` and the base32 (RFC 4648, no padding) of squad, seed, a byte for
//! the demo, and the first four bytes of a SHA-256 over these, so that a letter
//! typed wrongly is noticed.

use data_encoding::BASE32_NOPAD;
use pitside_model::facts::SquadId;
use sha2::{Digest, Sha256};
use zeroize::Zeroizing;

use super::identity::Identity;
use super::seed::Seed;

/// What every recovery text begins with.
pub const RECOVERY_PREFIX: &str = "PITSIDEKEY1:";
const LENGTH: usize = 32 + 32 + 1 + 4;

/// What carries a squad on when the coach's device is lost.
#[derive(Debug)]
pub struct Recovery {
    /// The squad.
    pub squad: SquadId,
    /// Whether it is the demo's.
    pub demo: bool,
    /// The key that the founding entry names.
    pub seed: Seed,
}

/// Why a text is no recovery text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RecoveryError {
    /// It begins otherwise.
    #[error("this is not a recovery key: it should begin with {RECOVERY_PREFIX}")]
    Prefix,
    /// Letters are missing or changed.
    #[error("the recovery key is incomplete, or a letter is wrong: compare it with the printed one")]
    Garbled,
}

impl Recovery {
    /// The text to print, in groups of four.
    #[must_use]
    pub fn to_text(&self) -> Zeroizing<String> {
        let mut bytes = Zeroizing::new(Vec::with_capacity(LENGTH));
        bytes.extend_from_slice(&self.squad.0);
        bytes.extend_from_slice(self.seed.expose());
        bytes.push(self.demo.into());
        let check = check(&bytes);
        bytes.extend_from_slice(&check);
        let code = Zeroizing::new(BASE32_NOPAD.encode(&bytes));
        let mut text = Zeroizing::new(RECOVERY_PREFIX.to_owned());
        for (n, letter) in code.chars().enumerate() {
            if n > 0 && n % 4 == 0 {
                text.push(' ');
            }
            text.push(letter);
        }
        text
    }

    /// Reads a text; white space and small letters do not matter.
    ///
    /// # Errors
    /// [`RecoveryError`].
    pub fn from_text(text: &str) -> Result<Self, RecoveryError> {
        let text: Zeroizing<String> = Zeroizing::new(
            text.split_whitespace().flat_map(str::chars).take(400).map(|c| c.to_ascii_uppercase()).collect(),
        );
        let code = text.strip_prefix(RECOVERY_PREFIX).ok_or(RecoveryError::Prefix)?;
        let bytes = Zeroizing::new(BASE32_NOPAD.decode(code.as_bytes()).map_err(|_| RecoveryError::Garbled)?);
        let (said, sum) = bytes.split_at_checked(LENGTH - 4).ok_or(RecoveryError::Garbled)?;
        let demo = match said[64] {
            0 => false,
            1 => true,
            _ => return Err(RecoveryError::Garbled),
        };
        if sum != check(said) {
            return Err(RecoveryError::Garbled);
        }
        let part = |from: usize| <[u8; 32]>::try_from(&said[from..from + 32]);
        let (Ok(squad), Ok(seed)) = (part(0), part(32)) else { return Err(RecoveryError::Garbled) };
        Ok(Self { squad: SquadId(squad), demo, seed: Seed::from_bytes(Zeroizing::new(seed)) })
    }

    /// The identity that signs with it.
    #[must_use]
    pub fn identity(&self) -> Identity {
        Identity::from_seed(Seed::from_bytes(Zeroizing::new(*self.seed.expose())))
    }
}

fn check(bytes: &[u8]) -> [u8; 4] {
    let sum: [u8; 32] = Sha256::new().chain_update(b"recovery1").chain_update(bytes).finalize().into();
    [sum[0], sum[1], sum[2], sum[3]]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_recovery_key_survives_paper_and_a_wrong_letter_is_noticed() {
        let seed = Seed::from_bytes(Zeroizing::new([7; 32]));
        let key = Recovery { squad: SquadId([3; 32]), demo: false, seed };
        let text = key.to_text();
        let read = Recovery::from_text(&text.to_lowercase()).unwrap();
        assert_eq!((read.squad, read.demo, read.seed.expose()), (key.squad, false, key.seed.expose()));
        assert_eq!(read.identity().key(), key.identity().key());
        let letters: Vec<char> = text.chars().collect();
        for at in RECOVERY_PREFIX.len()..letters.len() {
            if letters[at] == ' ' {
                continue;
            }
            let mut wrong = letters.clone();
            wrong[at] = if wrong[at] == 'A' { 'B' } else { 'A' };
            let wrong: String = wrong.into_iter().collect();
            assert_eq!(Recovery::from_text(&wrong).unwrap_err(), RecoveryError::Garbled, "letter {at}");
            let short: String = letters[..at].iter().collect();
            assert_eq!(Recovery::from_text(&short).unwrap_err(), RecoveryError::Garbled);
        }
        assert_eq!(Recovery::from_text("PITSIDE1:AAAA").unwrap_err(), RecoveryError::Prefix);
    }
}
