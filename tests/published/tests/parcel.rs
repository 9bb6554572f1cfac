//! Hand-over files against RFC 9180 (HPKE): first that the functions are the
//! standard's, by its own vectors, then that a parcel is what these functions
//! give for the bytes its documentation names.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::convert::Infallible;

use data_encoding::HEXLOWER;
use hpke::aead::{AeadCtxR, ChaCha20Poly1305};
use hpke::kdf::HkdfSha256;
use hpke::kem::X25519HkdfSha256;
use hpke::rand_core::{TryCryptoRng, TryRng};
use hpke::{
    Deserializable as _, Kem as _, OpModeR, OpModeS, Serializable as _, setup_receiver, setup_sender_with_rng,
};
use pitside_book::keys::{Identity, OsRng, Seed};
use pitside_book::parcel::Writer;
use sha2::{Digest as _, Sha256, Sha512};
use zeroize::Zeroizing;

type Kem = X25519HkdfSha256;
type Private = <Kem as hpke::Kem>::PrivateKey;
type Opener = AeadCtxR<ChaCha20Poly1305, HkdfSha256, Kem>;

fn hex(text: &str) -> Vec<u8> {
    HEXLOWER.decode(text.as_bytes()).unwrap()
}

/// Gives a vector's ikmE where the library asks for randomness.
struct Given(Vec<u8>);

impl TryRng for Given {
    type Error = Infallible;
    fn try_next_u32(&mut self) -> Result<u32, Infallible> {
        panic!("the vector gives no numbers")
    }
    fn try_next_u64(&mut self) -> Result<u64, Infallible> {
        panic!("the vector gives no numbers")
    }
    fn try_fill_bytes(&mut self, bytes: &mut [u8]) -> Result<(), Infallible> {
        bytes.copy_from_slice(&self.0);
        Ok(())
    }
}

impl TryCryptoRng for Given {}

/// RFC 9180, Appendix A.2: DHKEM(X25519, HKDF-SHA256), HKDF-SHA256,
/// ChaCha20Poly1305. All of it says `INFO` and seals `PLAINTEXT`, with "Count-n"
/// beside the n-th.
const INFO: &str = "4f6465206f6e2061204772656369616e2055726e";
const PLAINTEXT: &str = "4265617574792069732074727574682c20747275746820626561757479";

struct Vector {
    ikm_e: &'static str,
    /// skSm, in auth mode.
    sk_s: Option<&'static str>,
    sk_r: &'static str,
    enc: &'static str,
    /// Sequence numbers 0, 1, 2.
    sealed: [&'static str; 3],
}

/// A.2.1, "Base Setup Information": the envelope's mode.
const BASE: Vector = Vector {
    ikm_e: "909a9b35d3dc4713a5e72a4da274b55d3d3821a37e5d099e74a647db583a904b",
    sk_s: None,
    sk_r: "8057991eef8f1f1af18f4a9491d16a1ce333f695d4db8e38da75975c4478e0fb",
    enc: "1afa08d3dec047a643885163f1180476fa7ddb54c6a8029ea33f95796bf2ac4a",
    sealed: [
        "1c5250d8034ec2b784ba2cfd69dbdb8af406cfe3ff938e131f0def8c8b60b4db21993c62ce81883d2dd1b51a28",
        "6b53c051e4199c518de79594e1c4ab18b96f081549d45ce015be002090bb119e85285337cc95ba5f59992dc98c",
        "71146bd6795ccc9c49ce25dda112a48f202ad220559502cef1f34271e0cb4b02b4f10ecac6f48c32f878fae86b",
    ],
};

/// A.2.3, "Auth Setup Information": the contents' mode.
const AUTH: Vector = Vector {
    ikm_e: "938d3daa5a8904540bc24f48ae90eed3f4f7f11839560597b55e7c9598c996c0",
    sk_s: Some("2def0cb58ffcf83d1062dd085c8aceca7f4c0c3fd05912d847b61f3e54121f05"),
    sk_r: "3ca22a6d1cda1bb9480949ec5329d3bf0b080ca4c45879c95eddb55c70b80b82",
    enc: "f7674cc8cd7baa5872d1f33dbaffe3314239f6197ddf5ded1746760bfc847e0e",
    sealed: [
        "ab1a13c9d4f01a87ec3440dbd756e2677bd2ecf9df0ce7ed73869b98e00c09be111cb9fdf077347aeb88e61bdf",
        "3265c7807ffff7fdace21659a2c6ccffee52a26d270c76468ed74202a65478bfaedfff9c2b7634e24f10b71016",
        "3aadee86ad2a05081ea860033a9d09dbccb4acac2ded0891da40f51d4df19925f7a767b076a5cbc9355c8fd35e",
    ],
};

#[test]
fn the_functions_are_those_of_the_standard() {
    for vector in [BASE, AUTH] {
        let sk_s = vector.sk_s.map(|sk| Private::from_bytes(&hex(sk)).unwrap());
        let sk_r = Private::from_bytes(&hex(vector.sk_r)).unwrap();
        let sender = sk_s.clone().map_or(OpModeS::Base, |sk| {
            let pk = Kem::sk_to_pk(&sk);
            OpModeS::Auth((sk, pk))
        });
        let (enc, mut sealer) = setup_sender_with_rng::<ChaCha20Poly1305, HkdfSha256, Kem>(
            &sender,
            &Kem::sk_to_pk(&sk_r),
            &hex(INFO),
            &mut Given(hex(vector.ikm_e)),
        )
        .unwrap();
        assert_eq!(HEXLOWER.encode(&enc.to_bytes()), vector.enc);
        let receiver = sk_s.map_or(OpModeR::Base, |sk| OpModeR::Auth(Kem::sk_to_pk(&sk)));
        let mut opener: Opener = setup_receiver(&receiver, &sk_r, &enc, &hex(INFO)).unwrap();
        for (n, sealed) in vector.sealed.into_iter().enumerate() {
            let beside = format!("Count-{n}");
            let made = sealer.seal(&hex(PLAINTEXT), beside.as_bytes()).unwrap();
            assert_eq!(HEXLOWER.encode(&made), sealed);
            assert_eq!(opener.open(&hex(sealed), beside.as_bytes()).unwrap(), hex(PLAINTEXT));
        }
    }
}

/// The X25519 secret that belongs to an Ed25519 seed: RFC 8032 §5.1.5, steps 1
/// and 2 (the library clamps). Its public key is computed from it by X25519
/// itself, and not by the map from the Ed25519 key that the product uses.
fn secret(seed: [u8; 32]) -> Private {
    Private::from_bytes(&Sha512::digest(seed)[..32]).unwrap()
}

#[test]
fn a_parcel_is_what_its_documentation_says() {
    let identity = |seed| Identity::from_seed(Seed::from_bytes(Zeroizing::new(seed)));
    for (from, to) in [([1; 32], [2; 32]), ([3; 32], [250; 32]), ([77; 32], [76; 32])] {
        let (sender, receiver) = (identity(from).key().0, identity(to).key().0);
        let messages: [&[u8]; 3] = [b"first", b"", &[9; 70_000]];
        let mut writer =
            Writer::begin(&identity(from), identity(to).key(), 412, &mut OsRng, Vec::new()).unwrap();
        for message in messages {
            writer.put(message).unwrap();
        }
        let parcel = writer.finish().unwrap();

        let mut rest = parcel.as_slice();
        let mut take = |n: usize| {
            let (taken, after) = rest.split_at(n);
            rest = after;
            taken
        };
        let open = |mode: &OpModeR<Kem>, enc: &[u8], info: &[u8]| -> Opener {
            let enc = <Kem as hpke::Kem>::EncappedKey::from_bytes(enc).unwrap();
            setup_receiver(mode, &secret(to), &enc, info).unwrap()
        };

        let prefix = take(10);
        assert_eq!(prefix, b"\x89pitside\x00\x01");
        let info = [b"pitside parcel 1 envelope", receiver.as_slice()].concat();
        let mut envelope = open(&OpModeR::Base, take(32), &info);
        assert_eq!(envelope.open(take(48), prefix).unwrap(), sender);

        let info = [b"pitside parcel 1 contents", sender.as_slice(), &receiver, &parcel[..90]].concat();
        let mode = OpModeR::Auth(Kem::sk_to_pk(&secret(from)));
        let mut contents = open(&mode, take(32), &info);
        assert_eq!(contents.open(take(24), &[0, 0, 0, 0, 8]).unwrap(), 412_u64.to_be_bytes());
        assert_eq!(take(8), &Sha256::digest(&parcel[..146])[..8]);

        for message in messages {
            let frame = take(5);
            assert_eq!(
                frame,
                [&[1], u32::try_from(message.len()).unwrap().to_be_bytes().as_slice()].concat()
            );
            assert_eq!(contents.open(take(message.len() + 16), frame).unwrap(), message);
        }
        assert_eq!(take(5), [2, 0, 0, 0, 4]);
        assert_eq!(contents.open(take(20), &[2, 0, 0, 0, 4]).unwrap(), 3_u32.to_be_bytes());
        assert_eq!(rest, b"");
    }
}
