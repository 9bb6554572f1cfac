//! Device signatures against RFC 8032 §7.1 (Ed25519), TEST 1, 2 and 3.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use data_encoding::HEXLOWER;
use pitside_book::keys::{Identity, Seed};
use pitside_log::seal::verify;
use zeroize::Zeroizing;

/// Secret key, public key, message, signature.
const VECTORS: [[&str; 4]; 3] = [
    [
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
        "",
        "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
    ],
    [
        "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
    ],
    [
        "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
    ],
];

fn hex(text: &str) -> Vec<u8> {
    HEXLOWER.decode(text.as_bytes()).unwrap()
}

#[test]
fn keys_and_signatures_are_those_of_the_standard() {
    for [secret, public, message, signature] in VECTORS {
        let seed = Seed::from_bytes(Zeroizing::new(hex(secret).try_into().unwrap()));
        let identity = Identity::from_seed(seed);
        assert_eq!(identity.key().to_string(), public);
        assert_eq!(HEXLOWER.encode(&identity.sign(&hex(message))), signature);
        let signature: [u8; 64] = hex(signature).try_into().unwrap();
        assert!(verify(identity.key(), &hex(message), &signature));
        let mut other = hex(message);
        other.push(0);
        assert!(!verify(identity.key(), &other, &signature));
    }
}

/// §8.4 and §5.1.7: a signature whose S is not below the group's order is a
/// second form of a valid one and must be refused.
#[test]
fn a_second_form_of_a_signature_is_refused() {
    // The order L of the base point, little-endian (§5.1).
    let order = hex("edd3f55c1a631258d69cf7a2def9de1400000000000000000000000000000010");
    let [_, public, message, signature] = VECTORS[1];
    let mut forged: [u8; 64] = hex(signature).try_into().unwrap();
    let mut carry = 0_u16;
    for (digit, add) in forged[32..].iter_mut().zip(&order) {
        carry += u16::from(*digit) + u16::from(*add);
        *digit = (carry & 0xff) as u8;
        carry >>= 8;
    }
    assert_eq!(carry, 0);
    let key = pitside_model::facts::DeviceKey::parse(public).unwrap();
    assert!(!verify(key, &hex(message), &forged));
}
