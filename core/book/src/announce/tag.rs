//! What a desk announces about itself: recognised by who knows its key, and by
//! nobody else.
//!
//! check = the first 16 bytes of SHA-256("announce1" ‖ nonce ‖ device key). To
//! find a key behind a check is to guess 32 random bytes; a check by chance the
//! same for another key is one in 2^128.

use std::io;

use data_encoding::HEXLOWER_PERMISSIVE;
use mdns_sd::{TxtProperties, TxtProperty};
use pitside_model::facts::DeviceKey;
use sha2::{Digest as _, Sha256};

use crate::keys::Rng;

const DOMAIN: &[u8] = b"announce1";
const LENGTH: usize = 16;
const VERSION: (&str, &str) = ("txtvers", "1");
const NONCE: &str = "nonce";
const CHECK: &str = "check";

/// A nonce, and the check that goes with it and one device's key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tag {
    nonce: [u8; LENGTH],
    check: [u8; LENGTH],
}

fn check(nonce: [u8; LENGTH], key: DeviceKey) -> [u8; LENGTH] {
    let digest = Sha256::new().chain_update(DOMAIN).chain_update(nonce).chain_update(key.0).finalize();
    let mut check = [0; LENGTH];
    check.copy_from_slice(&digest[..LENGTH]);
    check
}

impl Tag {
    /// Draws a nonce.
    pub(super) fn draw(key: DeviceKey, rng: &mut impl Rng) -> io::Result<Self> {
        let mut nonce = [0; LENGTH];
        rng.fill(&mut nonce)?;
        Ok(Self { nonce, check: check(nonce, key) })
    }

    /// Whether a device with this key can have made it, or somebody copied it.
    pub(super) fn is_of(&self, key: DeviceKey) -> bool {
        self.check == check(self.nonce, key)
    }

    /// As the properties of a TXT record (RFC 6763 §6.3), the version first.
    pub(super) fn to_txt(self) -> Vec<TxtProperty> {
        let hex = |bytes| HEXLOWER_PERMISSIVE.encode(bytes);
        [(VERSION.0, VERSION.1.to_owned()), (NONCE, hex(&self.nonce)), (CHECK, hex(&self.check))]
            .iter()
            .map(TxtProperty::from)
            .collect()
    }

    /// Reads a TXT record from anybody. What is unknown in it does not matter;
    /// another version, or a value that is not 32 hexadecimal digits, is no tag.
    pub(super) fn from_txt(txt: &TxtProperties) -> Option<Self> {
        Self::read(|key| txt.get_property_val(key).flatten())
    }

    /// Reads the values that a TXT record has under its keys.
    pub(super) fn read<'a>(value: impl Fn(&str) -> Option<&'a [u8]>) -> Option<Self> {
        let bytes = |key| {
            // The length first, so that nothing long is decoded.
            let digits = value(key).filter(|digits| digits.len() == 2 * LENGTH)?;
            HEXLOWER_PERMISSIVE.decode(digits).ok()?.try_into().ok()
        };
        (value(VERSION.0)? == VERSION.1.as_bytes())
            .then(|| Some(Self { nonce: bytes(NONCE)?, check: bytes(CHECK)? }))?
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]
mod tests {
    use super::*;
    use crate::keys::OsRng;
    use proptest::prelude::*;

    const KEY: DeviceKey = DeviceKey([7; 32]);

    /// The bytes of a TXT record: each string after its length (RFC 6763 §6.1).
    fn record(strings: &[&[u8]]) -> TxtProperties {
        let bytes: Vec<u8> =
            strings.iter().flat_map(|s| [&[u8::try_from(s.len()).unwrap()], *s].concat()).collect();
        TxtProperties::from(bytes.as_slice())
    }

    /// Nonce 00 … 0f and the key 07 07 …: `printf` of the tag, the nonce and the
    /// key through `sha256sum` gives the same 16 first bytes.
    const NONCE_LINE: &[u8] = b"nonce=000102030405060708090a0b0c0d0e0f";
    const CHECK_LINE: &[u8] = b"check=047716985a5d41f1293d81d36c8c1669";

    #[test]
    fn the_form_is_frozen() {
        let txt = record(&[b"txtvers=1", NONCE_LINE, CHECK_LINE]);
        let tag = Tag::from_txt(&txt).unwrap();
        assert!(tag.is_of(KEY));
        let written: Vec<_> = tag.to_txt().iter().map(|p| format!("{}={}", p.key(), p.val_str())).collect();
        assert_eq!(
            written.iter().map(String::as_bytes).collect::<Vec<_>>(),
            [b"txtvers=1".as_slice(), NONCE_LINE, CHECK_LINE]
        );
    }

    #[test]
    fn who_knows_the_key_recognises_every_start_and_no_two_starts_are_alike() {
        let (one, two) = (Tag::draw(KEY, &mut OsRng).unwrap(), Tag::draw(KEY, &mut OsRng).unwrap());
        assert!(one.is_of(KEY) && two.is_of(KEY));
        assert!(one.nonce != two.nonce && one.check != two.check);
        assert!(!one.is_of(DeviceKey([8; 32])));
        // Neither half goes with the other's.
        assert!(!Tag { nonce: one.nonce, check: two.check }.is_of(KEY));
    }

    #[test]
    fn records_that_are_no_tag_are_left_alone() {
        let without = |strings: &[&[u8]]| Tag::from_txt(&record(strings));
        assert_eq!(without(&[]), None);
        assert_eq!(without(&[NONCE_LINE, CHECK_LINE]), None);
        assert_eq!(without(&[b"txtvers=2", NONCE_LINE, CHECK_LINE]), None);
        assert_eq!(without(&[b"txtvers=1", NONCE_LINE]), None);
        assert_eq!(without(&[b"txtvers=1", b"nonce", CHECK_LINE]), None);
        assert_eq!(without(&[b"txtvers=1", b"nonce=", CHECK_LINE]), None);
        assert_eq!(without(&[b"txtvers=1", &NONCE_LINE[..NONCE_LINE.len() - 2], CHECK_LINE]), None);
        assert_eq!(without(&[b"txtvers=1", &[NONCE_LINE, b"00"].concat(), CHECK_LINE]), None);
        assert_eq!(without(&[b"txtvers=1", b"nonce=g00102030405060708090a0b0c0d0e0f", CHECK_LINE]), None);
        // The first of a name counts (RFC 6763 §6.4), in whatever case.
        assert_eq!(without(&[b"txtvers=1", b"NONCE=1", NONCE_LINE, CHECK_LINE]), None);
        let upper = [b"nonce=".as_slice(), &NONCE_LINE[6..].to_ascii_uppercase()].concat();
        assert!(without(&[b"a", b"x=1", b"TXTVERS=1", &upper, CHECK_LINE, b"\xff=2"]).unwrap().is_of(KEY));
    }

    /// A phone's own search gives the attributes in any order, and keys in any case.
    #[test]
    fn attributes_that_the_system_read_say_the_same_as_the_record() {
        let given = [
            ("CHECK", &CHECK_LINE[6..]),
            ("txtvers", b"1".as_slice()),
            ("nonce", &NONCE_LINE[6..]),
            ("nonce", b"later"),
            ("x", b"\xff"),
        ];
        assert!(super::super::is_of(given, KEY));
        assert!(!super::super::is_of(given, DeviceKey([8; 32])));
        assert!(!super::super::is_of([given[0], given[1]], KEY));
    }

    proptest! {
        #[test]
        fn any_record_ends(bytes in proptest::collection::vec(any::<u8>(), 0..1_500)) {
            prop_assert_eq!(Tag::from_txt(&TxtProperties::from(bytes.as_slice())), None);
        }

        #[test]
        fn a_tag_survives_what_stands_around_it(
            nonce: [u8; 16],
            others in proptest::collection::vec(("x[a-z]{0,8}", proptest::collection::vec(any::<u8>(), 0..200)), 0..6),
            at: prop::sample::Index,
        ) {
            let tag = Tag { nonce, check: check(nonce, KEY) };
            let mut strings: Vec<Vec<u8>> =
                others.iter().map(|(key, value)| [key.as_bytes(), b"=", value].concat()).collect();
            let at = at.index(strings.len() + 1);
            let own = tag.to_txt();
            strings.splice(at..at, own.iter().map(|p| format!("{}={}", p.key(), p.val_str()).into_bytes()));
            let strings: Vec<&[u8]> = strings.iter().map(Vec::as_slice).collect();
            prop_assert_eq!(Tag::from_txt(&record(&strings)), Some(tag));
        }
    }
}
