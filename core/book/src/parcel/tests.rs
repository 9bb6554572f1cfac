//! Whole parcels: what comes back, and everything that must not.

use std::io::{self, Read, Write};

use pitside_log::sync::MAX_MESSAGE;
use pitside_model::facts::DeviceKey;
use proptest::prelude::*;
use sha2::{Digest as _, Sha256};
use zeroize::Zeroizing;

use super::head::LENGTH as HEAD;
use super::*;
use crate::keys::{Identity, OsRng, Rng, Seed};

/// Counts up, so that a parcel can be made twice.
struct Counting(u8);

impl Rng for Counting {
    fn fill(&mut self, bytes: &mut [u8]) -> io::Result<()> {
        for byte in bytes {
            *byte = self.0;
            self.0 = self.0.wrapping_add(1);
        }
        Ok(())
    }
}

/// Gives so many times and then has nothing more.
struct Dry(u8);

impl Rng for Dry {
    fn fill(&mut self, bytes: &mut [u8]) -> io::Result<()> {
        self.0 = self.0.checked_sub(1).ok_or_else(|| io::Error::other("dry"))?;
        OsRng.fill(bytes)
    }
}

fn identity(n: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([n; 32])))
}

/// From device 1 to device 2.
fn pack(messages: &[&[u8]]) -> Vec<u8> {
    pack_with(&mut OsRng, 1, 2, messages)
}

fn pack_with(rng: &mut impl Rng, from: u8, to: u8, messages: &[&[u8]]) -> Vec<u8> {
    let total = messages.len() as u64;
    let mut writer = Writer::begin(&identity(from), identity(to).key(), total, rng, Vec::new()).unwrap();
    for message in messages {
        writer.put(message).unwrap();
    }
    assert_eq!(writer.count() as usize, messages.len());
    writer.finish().unwrap()
}

/// What device `as_` reads: the messages, and what stood in the way, if anything.
fn unpack(bytes: &[u8], as_: u8) -> (Vec<Vec<u8>>, Result<(), ParcelError>) {
    let mut messages = Vec::new();
    let mut reader = match Reader::open(&identity(as_), bytes) {
        Ok(reader) => reader,
        Err(error) => return (messages, Err(error)),
    };
    loop {
        match reader.next_message() {
            Ok(Some(message)) => messages.push(message),
            Ok(None) => {
                assert!(matches!(reader.next_message(), Ok(None)));
                return (messages, Ok(()));
            }
            Err(error) => {
                let again = reader.next_message();
                assert!(matches!(again, Err(ParcelError::Cut { after }) if after as usize == messages.len()));
                return (messages, Err(error));
            }
        }
    }
}

fn refused(bytes: &[u8], as_: u8) -> ParcelError {
    let (messages, end) = unpack(bytes, as_);
    assert_eq!(messages, Vec::<Vec<u8>>::new());
    end.unwrap_err()
}

/// The frames of a parcel, each with its five bytes.
fn frames(bytes: &[u8]) -> Vec<Vec<u8>> {
    let mut rest = &bytes[HEAD..];
    let mut frames = Vec::new();
    while !rest.is_empty() {
        let length = u32::from_be_bytes(rest[1..FRAME].try_into().unwrap()) as usize;
        let (frame, after) = rest.split_at(FRAME + length + suite::TAG);
        frames.push(frame.to_vec());
        rest = after;
    }
    frames
}

const THREE: [&[u8]; 3] = [b"warm-up", b"", b"six jumps from a short run-up"];

#[test]
fn the_reader_learns_the_sender_and_the_total_before_the_first_message() {
    let mut writer = Writer::begin(&identity(1), identity(2).key(), 3_010, &mut OsRng, Vec::new()).unwrap();
    writer.put(b"some of them").unwrap();
    let bytes = writer.finish().unwrap();
    let receiver = identity(2);
    let mut reader = Reader::open(&receiver, bytes.as_slice()).unwrap();
    assert_eq!((reader.sender(), reader.total(), reader.count()), (identity(1).key(), 3_010, 0));
    assert_eq!(reader.next_message().unwrap().as_deref(), Some(b"some of them".as_slice()));
    assert_eq!(reader.count(), 1);
    // Also when the file was cut right after its head.
    let reader = Reader::open(&receiver, &bytes[..HEAD]).unwrap();
    assert_eq!(reader.total(), 3_010);
}

#[test]
fn a_parcel_without_messages_ends_well() {
    assert!(matches!(unpack(&pack(&[]), 2), (messages, Ok(())) if messages.is_empty()));
}

#[test]
fn a_device_can_hand_over_to_itself() {
    let (messages, end) = unpack(&pack_with(&mut OsRng, 4, 4, &THREE), 4);
    assert_eq!(messages, THREE);
    end.unwrap();
}

#[test]
fn messages_up_to_the_limit_pass_and_longer_ones_are_refused() {
    let largest = vec![7; MAX_MESSAGE];
    let (messages, end) = unpack(&pack(&[&largest]), 2);
    assert!(messages == [largest]);
    end.unwrap();

    let mut writer = Writer::begin(&identity(1), identity(2).key(), 1, &mut OsRng, Vec::new()).unwrap();
    let too_long = writer.put(&vec![7; MAX_MESSAGE + 1]).unwrap_err();
    assert!(matches!(too_long, PackError::TooLong { found } if found == MAX_MESSAGE + 1));
    // It is as it was.
    writer.put(b"short").unwrap();
    let (messages, end) = unpack(&writer.finish().unwrap(), 2);
    assert_eq!(messages, [b"short"]);
    end.unwrap();
}

#[test]
fn a_file_has_so_many_messages_and_no_more() {
    let mut writer = Writer::begin(&identity(1), identity(2).key(), 1, &mut OsRng, Vec::new()).unwrap();
    writer.pretend_count(MAX_MESSAGES - 1);
    writer.put(b"the last").unwrap();
    assert!(matches!(writer.put(b"one more"), Err(PackError::Full)));

    let bytes = pack(&THREE);
    let receiver = identity(2);
    let mut reader = Reader::open(&receiver, bytes.as_slice()).unwrap();
    reader.pretend_count(MAX_MESSAGES - 1);
    reader.next_message().unwrap();
    assert!(matches!(reader.next_message(), Err(ParcelError::TooMany)));
}

/// The bytes of version 1 stay as they are: what was handed over on a stick last
/// winter opens with next year's program.
#[test]
fn the_bytes_of_version_1_are_frozen() {
    let bytes = pack_with(&mut Counting(0), 1, 2, &THREE);
    assert_eq!(bytes.len(), HEAD + THREE.concat().len() + 3 * (FRAME + 16) + FRAME + 4 + 16);
    let digest = data_encoding::HEXLOWER.encode(&Sha256::digest(&bytes));
    assert_eq!(digest, "727e040b065abac77c99774c8dc27930be44518a9121d636ad12e69dd81abd1a");
}

#[test]
fn nothing_of_what_is_inside_or_whom_it_concerns_stands_in_the_open() {
    let message = b"a message that is long enough not to occur by chance";
    let (one, two) = (pack(&[message]), pack(&[message]));
    for secret in [&message[..], &identity(1).key().0, &identity(2).key().0] {
        for piece in secret.windows(8) {
            assert!(!one.windows(8).any(|bytes| bytes == piece));
        }
    }
    // Two parcels of the same pair have no eight bytes in common but the first
    // ones, and the five before each frame.
    let bytes_after_prefix = |bytes: &[u8]| bytes[head::PREFIX..].to_vec();
    let (one, two) = (bytes_after_prefix(&one), bytes_after_prefix(&two));
    assert!(!one.windows(8).any(|piece| two.windows(8).any(|other| other == piece)));
}

#[test]
fn every_cut_is_noticed_and_what_comes_before_it_is_of_use() {
    let bytes = pack(&THREE);
    let mut ends = vec![HEAD];
    for frame in frames(&bytes) {
        ends.push(ends.last().unwrap() + frame.len());
    }
    for length in 0..bytes.len() {
        let whole = ends[1..].iter().filter(|end| **end <= length).count();
        let (messages, end) = unpack(&bytes[..length], 2);
        assert_eq!(messages, THREE[..whole], "cut at {length}");
        assert!(
            matches!(end, Err(ParcelError::Cut { after }) if after as usize == whole),
            "cut at {length}: {end:?}"
        );
    }
}

#[test]
fn every_flipped_bit_is_noticed_and_what_comes_before_it_is_of_use() {
    let bytes = pack(&THREE);
    let mut of_frame = vec![0; HEAD];
    for (n, frame) in frames(&bytes).iter().enumerate() {
        of_frame.extend(vec![n; frame.len()]);
    }
    for bit in 0..bytes.len() * 8 {
        let mut bent = bytes.clone();
        bent[bit / 8] ^= 1 << (bit % 8);
        let (messages, end) = unpack(&bent, 2);
        let end = end.unwrap_err();
        if bit / 8 < HEAD {
            let expected = match bit / 8 {
                0..8 => matches!(end, ParcelError::NotAParcel),
                8..10 => matches!(end, ParcelError::Newer { .. } | ParcelError::NotAParcel),
                _ => matches!(end, ParcelError::Damaged { at: 0 }),
            };
            assert!(expected, "bit {bit}: {end:?}");
            assert!(messages.is_empty());
        } else {
            let before = of_frame[bit / 8];
            assert_eq!(messages, THREE[..before], "bit {bit}");
            // A length that became larger than the file ends with the file.
            let expected = matches!(end, ParcelError::Damaged { at } if at as usize == before + 1)
                || matches!(end, ParcelError::Cut { after } if after as usize == before);
            assert!(expected, "bit {bit}: {end:?}");
        }
    }
}

#[test]
fn frames_in_another_order_or_number_are_refused() {
    let bytes = pack(&THREE);
    let good = frames(&bytes);
    let rebuilt = |order: &[usize]| {
        let mut bytes = bytes[..HEAD].to_vec();
        order.iter().for_each(|n| bytes.extend(&good[*n]));
        unpack(&bytes, 2)
    };
    assert!(rebuilt(&[0, 1, 2, 3]).1.is_ok());
    for (order, read) in [
        (&[1, 0, 2, 3][..], 0), // two exchanged
        (&[0, 2, 1, 3], 1),
        (&[0, 0, 1, 2, 3], 1), // one twice
        (&[0, 1, 2, 2, 3], 3),
        (&[1, 2, 3], 0), // one left out: the first,
        (&[0, 2, 3], 1), // one in the middle,
        (&[0, 1, 3], 2), // the last
        (&[3], 0),       // all
    ] {
        let (messages, end) = rebuilt(order);
        assert_eq!(messages, THREE[..read], "{order:?}");
        assert!(
            matches!(end, Err(ParcelError::Damaged { at }) if at as usize == read + 1),
            "{order:?}: {end:?}"
        );
    }
}

#[test]
fn nothing_follows_the_end() {
    let bytes = pack(&THREE);
    for tail in [b"\0".to_vec(), frames(&bytes)[0].clone(), frames(&bytes)[3].clone(), bytes.clone()] {
        let (messages, end) = unpack(&[bytes.clone(), tail].concat(), 2);
        assert_eq!(messages, THREE);
        assert!(matches!(end, Err(ParcelError::Trailing)), "{end:?}");
    }
}

#[test]
fn pieces_of_another_parcel_of_the_same_pair_are_refused() {
    let (one, two) = (pack(&THREE), pack(&THREE));
    // The whole tail, at each frame.
    for at in 0..4 {
        let (a, b) = (frames(&one), frames(&two));
        let mixed = [&one[..HEAD], &a[..at].concat(), &b[at..].concat()].concat();
        let (messages, end) = unpack(&mixed, 2);
        assert_eq!(messages, THREE[..at]);
        assert!(matches!(end, Err(ParcelError::Damaged { at: n }) if n as usize == at + 1), "{end:?}");
    }
    // Pieces of the head, with the hash set right, so that only the seals judge.
    for cut in [42, 90, 122] {
        let mut mixed = [&one[..cut], &two[cut..]].concat();
        mend(&mut mixed);
        let end = refused(&mixed, 2);
        assert!(matches!(end, ParcelError::OtherReceiver | ParcelError::Forged { .. }), "{cut}: {end:?}");
    }
}

/// Sets the hash at the end of the head right: it keeps nobody out.
fn mend(bytes: &mut [u8]) {
    let digest = Sha256::digest(&bytes[..HEAD - 8]);
    bytes[HEAD - 8..HEAD].copy_from_slice(&digest[..8]);
}

#[test]
fn with_the_hash_set_right_every_flipped_bit_of_the_head_is_noticed_too() {
    let bytes = pack(&THREE);
    for bit in head::PREFIX * 8..(HEAD - 8) * 8 {
        let mut bent = bytes.clone();
        bent[bit / 8] ^= 1 << (bit % 8);
        mend(&mut bent);
        let end = refused(&bent, 2);
        match bit / 8 {
            ..90 => assert!(matches!(end, ParcelError::OtherReceiver), "bit {bit}: {end:?}"),
            _ => assert!(
                matches!(end, ParcelError::Forged { claimed } if claimed == identity(1).key()),
                "bit {bit}: {end:?}"
            ),
        }
    }
}

#[test]
fn another_device_cannot_open_it_nor_can_its_sender() {
    let bytes = pack(&THREE);
    for other in [1, 3] {
        assert!(matches!(refused(&bytes, other), ParcelError::OtherReceiver));
    }
}

/// A stranger who knows both public keys names another device as the sender.
#[test]
fn only_the_named_sender_can_have_made_it() {
    let (named, receiver) = (identity(1).key(), identity(2).key());
    let forge = |named: DeviceKey| {
        // By the same steps as `head::write`, but with the stranger's own secret.
        let mut bytes = b"\x89pitside\0\x01".to_vec();
        let info = [b"pitside parcel 1 envelope", &receiver.0[..]].concat();
        let stranger = identity(9);
        let sealer = |proof, info: &[u8]| {
            suite::sealer(&stranger, proof, receiver, info, &mut OsRng).unwrap_or_else(|_| panic!())
        };
        let (encapsulated, mut envelope) = sealer(suite::Proof::Anybody, &info);
        let sender = envelope.seal(&named.0, &bytes).unwrap();
        bytes.extend(encapsulated);
        bytes.extend(sender);
        let info = [b"pitside parcel 1 contents", &named.0[..], &receiver.0, &bytes].concat();
        let (encapsulated, mut contents) = sealer(suite::Proof::Sender, &info);
        let total = contents.seal(&[0; 8], &frame(Kind::Opening, 8)).unwrap();
        bytes.extend(encapsulated);
        bytes.extend(total);
        bytes.extend([0; 8]);
        mend(&mut bytes);
        let end = contents.seal(&[0; 4], &frame(Kind::End, 4)).unwrap();
        bytes.extend(frame(Kind::End, 4));
        bytes.extend(end);
        bytes
    };
    // By its own name the stranger's parcel opens: the steps are the right ones.
    unpack(&forge(identity(9).key()), 2).1.unwrap();
    assert!(matches!(refused(&forge(named), 2), ParcelError::Forged { claimed } if claimed == named));
    // The negative of a key is the same key to X25519, and yet another name.
    let mut negative = identity(9).key();
    negative.0[31] ^= 0x80;
    let mut renamed = forge(identity(9).key());
    let honest = renamed.clone();
    renamed[..90].copy_from_slice(&forge(negative)[..90]);
    mend(&mut renamed);
    assert!(matches!(refused(&renamed, 2), ParcelError::Forged { claimed } if claimed == negative));
    assert!(unpack(&honest, 2).1.is_ok());
    // Under a key of small order everybody would agree on the same secret.
    let mut neutral = DeviceKey([0; 32]);
    neutral.0[0] = 1;
    assert!(matches!(refused(&forge(neutral), 2), ParcelError::Forged { claimed } if claimed == neutral));
}

#[test]
fn what_is_no_parcel_or_a_later_one_is_named() {
    assert!(matches!(refused(b"PK\x03\x04", 2), ParcelError::NotAParcel));
    assert!(matches!(refused(b"{", 2), ParcelError::NotAParcel));
    assert!(matches!(refused(b"", 2), ParcelError::Cut { after: 0 }));
    assert!(matches!(refused(b"\x89pitside\0", 2), ParcelError::Cut { after: 0 }));
    assert!(matches!(refused(b"\x89pitside\0\0", 2), ParcelError::NotAParcel));
    // A later one may be shorter than ours.
    assert!(matches!(refused(b"\x89pitside\0\x02", 2), ParcelError::Newer { found: 2 }));
}

#[test]
fn nothing_is_sealed_to_a_key_that_anybody_could_hold() {
    let mut neutral = DeviceKey([0; 32]);
    neutral.0[0] = 1;
    // y = 2 is no point of the curve.
    let mut nowhere = DeviceKey([0; 32]);
    nowhere.0[0] = 2;
    for key in [neutral, DeviceKey([0; 32]), nowhere] {
        let mut out = Vec::new();
        let refused = Writer::begin(&identity(1), key, 0, &mut OsRng, &mut out).err().unwrap();
        assert!(matches!(refused, PackError::Receiver { key: named } if named == key), "{refused:?}");
        assert!(out.is_empty());
    }
}

#[test]
fn without_randomness_nothing_is_written() {
    let needed =
        (0..16).find(|n| Writer::begin(&identity(1), identity(2).key(), 0, &mut Dry(*n), Vec::new()).is_ok());
    // One draw an encapsulated key.
    assert_eq!(needed, Some(2));
    for draws in 0..2 {
        let mut out = Vec::new();
        let failed = Writer::begin(&identity(1), identity(2).key(), 0, &mut Dry(draws), &mut out);
        assert!(matches!(failed.err().unwrap(), PackError::Random(_)));
        assert!(out.is_empty());
    }
}

/// A stick with so much room.
struct Stick {
    room: usize,
    bytes: Vec<u8>,
}

impl Write for Stick {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let taken = bytes.len().min(self.room);
        if taken == 0 && !bytes.is_empty() {
            return Err(io::ErrorKind::StorageFull.into());
        }
        self.bytes.extend(&bytes[..taken]);
        self.room -= taken;
        Ok(taken)
    }
    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_full_stick_is_said_and_holds_what_was_written_whole() {
    let whole = pack(&THREE).len();
    for room in 0..whole {
        let mut stick = Stick { room, bytes: Vec::new() };
        let mut put = 0;
        let packed = Writer::begin(&identity(1), identity(2).key(), 3, &mut OsRng, &mut stick).and_then(
            |mut writer| {
                for message in THREE {
                    if let Err(error) = writer.put(message) {
                        assert!(matches!(writer.put(message), Err(PackError::Broken)));
                        assert!(matches!(writer.finish(), Err(PackError::Broken)));
                        return Err(error);
                    }
                    put += 1;
                }
                writer.finish().map(|_| ())
            },
        );
        assert!(
            matches!(&packed, Err(PackError::Io(error)) if error.kind() == io::ErrorKind::StorageFull),
            "room for {room}: {packed:?}"
        );
        let (messages, end) = unpack(&stick.bytes, 2);
        assert_eq!(messages, THREE[..put]);
        assert!(matches!(end, Err(ParcelError::Cut { .. })));
    }
}

/// Gives one byte at a time, is interrupted before each, and fails in the end.
struct Fitful<'a> {
    bytes: &'a [u8],
    interrupted: bool,
}

impl Read for Fitful<'_> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        self.interrupted = !self.interrupted;
        if self.interrupted {
            return Err(io::ErrorKind::Interrupted.into());
        }
        let (first, rest) = self.bytes.split_first().ok_or(io::ErrorKind::TimedOut)?;
        into[0] = *first;
        self.bytes = rest;
        Ok(1)
    }
}

#[test]
fn a_stick_that_fails_is_no_end_of_the_file() {
    let bytes = pack(&THREE);
    let receiver = identity(2);
    for length in [0, 9, 60, HEAD, HEAD + 3, bytes.len() - 1, bytes.len()] {
        let input = Fitful { bytes: &bytes[..length], interrupted: false };
        let failed = Reader::open(&receiver, input).and_then(|mut reader| {
            while reader.next_message()?.is_some() {}
            Ok(())
        });
        assert!(
            matches!(&failed, Err(ParcelError::Io(error)) if error.kind() == io::ErrorKind::TimedOut),
            "{length}: {failed:?}"
        );
    }
}

proptest! {
    #[test]
    fn any_messages_come_back(
        messages in proptest::collection::vec(proptest::collection::vec(any::<u8>(), 0..3_000), 0..12)
    ) {
        let borrowed: Vec<&[u8]> = messages.iter().map(Vec::as_slice).collect();
        let bytes = pack(&borrowed);
        let (read, end) = unpack(&bytes, 2);
        prop_assert_eq!(&read, &messages);
        prop_assert!(end.is_ok());
        // Safe to read again, and at the same bytes.
        prop_assert_eq!(unpack(&bytes, 2).0, messages);
    }

    #[test]
    fn any_bytes_end(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        let head = &pack(&[])[..HEAD];
        let after_magic = [b"\x89pitside\0\x01", bytes.as_slice()].concat();
        let after_head = [head, bytes.as_slice()].concat();
        for bytes in [bytes, after_magic, after_head] {
            let (messages, end) = unpack(&bytes, 2);
            prop_assert!(messages.is_empty());
            prop_assert!(end.is_err());
        }
    }

    #[test]
    fn whatever_is_done_to_a_parcel_only_its_first_messages_come_out(
        at in any::<proptest::sample::Index>(),
        removed in 0_usize..40,
        put_in in proptest::collection::vec(any::<u8>(), 0..40),
    ) {
        let bytes = pack(&THREE);
        let at = at.index(bytes.len());
        let mut changed = bytes.clone();
        changed.splice(at..bytes.len().min(at + removed), put_in);
        let (messages, end) = unpack(&changed, 2);
        prop_assert!(messages == THREE[..messages.len()]);
        prop_assert_eq!(end.is_ok(), changed == bytes);
    }
}
