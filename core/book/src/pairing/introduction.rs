//! Pairing by words that two persons compare.
//!
//! The connection is encrypted, but to whom nobody knows yet. Each side shows the
//! words of its own key and of the key it sees; whoever stands in between has
//! other keys, and would need one whose words are the same: eighty bits of a
//! hash. Only then the invitation crosses, and pairing goes on as with its text.

use pitside_model::facts::DeviceKey;
use sha2::{Digest, Sha256};

use super::{Invitation, PairingError};
use crate::exchange::Link;

/// What a guest says first.
const ASK: &[u8] = b"pitside-ask1";
/// What an inviter says whose person said no.
const NO: &[u8] = b"pitside-no1";

/// Why an introduction came to nothing.
#[derive(Debug, thiserror::Error)]
pub enum IntroductionError<E: core::error::Error> {
    /// The other person said no, or does not invite by words.
    #[error("the other device does not invite this one")]
    Declined,
    /// What came is no invitation.
    #[error(transparent)]
    Text(#[from] PairingError),
    /// The invitation is another device's than the one whose words were compared.
    #[error("the invitation is another device's than the one whose words were compared")]
    OtherDevice,
    /// The link failed.
    #[error(transparent)]
    Link(E),
}

/// A key in words: five proquints (Wilkerson 2009, arXiv 0901.4016), each 16 bits
/// in five letters, of the first ten bytes of SHA-256("words1" ‖ key).
#[must_use]
pub fn words(key: DeviceKey) -> String {
    let sum: [u8; 32] = Sha256::new().chain_update(b"words1").chain_update(key.0).finalize().into();
    let quints = sum[..10].chunks_exact(2).map(|pair| proquint(u16::from_be_bytes([pair[0], pair[1]])));
    quints.collect::<Vec<_>>().join(" ")
}

fn proquint(n: u16) -> String {
    const CONSONANTS: &[u8; 16] = b"bdfghjklmnprstvz";
    const VOWELS: &[u8; 4] = b"aiou";
    let consonant = |shift: u32| char::from(CONSONANTS[usize::from(n >> shift & 0xf)]);
    let vowel = |shift: u32| char::from(VOWELS[usize::from(n >> shift & 0x3)]);
    [consonant(12), vowel(10), consonant(6), vowel(4), consonant(0)].iter().collect()
}

/// Asks for an invitation, after the person has compared the words, and waits for
/// the other person.
///
/// # Errors
/// [`IntroductionError`].
pub fn ask<L: Link>(link: &mut L) -> Result<Invitation, IntroductionError<L::Error>> {
    link.send(ASK).map_err(IntroductionError::Link)?;
    let answer = link.receive().map_err(IntroductionError::Link)?;
    if answer == NO {
        return Err(IntroductionError::Declined);
    }
    let text = core::str::from_utf8(&answer).map_err(|_| PairingError::Garbled)?;
    let invitation = Invitation::from_text(text)?;
    if invitation.device == link.peer() { Ok(invitation) } else { Err(IntroductionError::OtherDevice) }
}

/// What a caller wants.
#[derive(Debug)]
pub enum Asked<'a, L> {
    /// An introduction: show the words, let the person decide, and [`answer`].
    Introduction(&'a mut L),
    /// A sync: what it said first is heard again.
    Sync(Heard<'a, L>),
}

/// A link whose first message was heard already.
#[derive(Debug)]
pub struct Heard<'a, L> {
    first: Option<Vec<u8>>,
    link: &'a mut L,
}

impl<L: Link> Link for Heard<'_, L> {
    type Error = L::Error;
    fn peer(&self) -> DeviceKey {
        self.link.peer()
    }
    fn send(&mut self, message: &[u8]) -> Result<(), L::Error> {
        self.link.send(message)
    }
    fn receive(&mut self) -> Result<Vec<u8>, L::Error> {
        match self.first.take() {
            Some(first) => Ok(first),
            None => self.link.receive(),
        }
    }
}

/// Hears what a caller wants.
///
/// # Errors
/// Where the link fails.
pub fn hear<L: Link>(link: &mut L) -> Result<Asked<'_, L>, L::Error> {
    let first = link.receive()?;
    if first == ASK {
        Ok(Asked::Introduction(link))
    } else {
        Ok(Asked::Sync(Heard { first: Some(first), link }))
    }
}

/// Answers an introduction: with an invitation, or with no.
///
/// # Errors
/// Where the link fails.
pub fn answer<L: Link>(link: &mut L, invitation: Option<&Invitation>) -> Result<(), L::Error> {
    match invitation {
        Some(invitation) => link.send(invitation.to_text().as_bytes()),
        None => link.send(NO),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The examples of the proposal: 127.0.0.1, 63.84.220.193, 63.118.7.35.
    #[test]
    fn proquints_are_those_of_the_proposal() {
        let address = |bytes: [u8; 4]| {
            let [a, b, c, d] = bytes;
            format!("{}-{}", proquint(u16::from_be_bytes([a, b])), proquint(u16::from_be_bytes([c, d])))
        };
        assert_eq!(address([127, 0, 0, 1]), "lusab-babad");
        assert_eq!(address([63, 84, 220, 193]), "gutih-tugad");
        assert_eq!(address([63, 118, 7, 35]), "gutuk-bisog");
    }

    #[test]
    fn keys_differ_in_their_words() {
        assert_ne!(words(DeviceKey([1; 32])), words(DeviceKey([2; 32])));
        assert_eq!(words(DeviceKey([1; 32])).split(' ').count(), 5);
    }
}
