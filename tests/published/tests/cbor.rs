//! The subset of CBOR against RFC 8949, Appendix A (examples of encoded data
//! items) and §4.2.1 (core deterministic encoding). The table is written down
//! from the RFC.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use data_encoding::HEXLOWER;
use pitside_model::cbor::{Fault, Value, decode, encode};

fn hex(text: &str) -> Vec<u8> {
    HEXLOWER.decode(text.as_bytes()).unwrap()
}

fn ints(items: impl IntoIterator<Item = i64>) -> Value {
    Value::Array(items.into_iter().map(Value::from).collect())
}

fn map(pairs: &[(Value, Value)]) -> Value {
    Value::Map(pairs.to_vec())
}

/// The rows of Appendix A that are of the subset.
fn of_the_subset() -> Vec<(&'static str, Value)> {
    let text = |s: &str| Value::from(s);
    let letters: Vec<(Value, Value)> =
        ["a", "b", "c", "d", "e"].iter().map(|l| (text(l), text(&l.to_uppercase()))).collect();
    vec![
        ("00", 0.into()),
        ("01", 1.into()),
        ("0a", 10.into()),
        ("17", 23.into()),
        ("1818", 24.into()),
        ("1819", 25.into()),
        ("1864", 100.into()),
        ("1903e8", 1_000.into()),
        ("1a000f4240", 1_000_000.into()),
        ("1b000000e8d4a51000", Value::Int(1_000_000_000_000)),
        ("1bffffffffffffffff", Value::Int(18_446_744_073_709_551_615)),
        ("3bffffffffffffffff", Value::Int(-18_446_744_073_709_551_616)),
        ("20", (-1).into()),
        ("29", (-10).into()),
        ("3863", (-100).into()),
        ("3903e7", (-1_000).into()),
        ("f4", false.into()),
        ("f5", true.into()),
        ("f6", Value::Null),
        ("40", Value::Bytes(vec![])),
        ("4401020304", Value::Bytes(vec![1, 2, 3, 4])),
        ("60", text("")),
        ("6161", text("a")),
        ("6449455446", text("IETF")),
        ("62225c", text("\"\\")),
        ("62c3bc", text("\u{fc}")),
        ("63e6b0b4", text("\u{6c34}")),
        ("64f0908591", text("\u{10151}")),
        ("80", ints([])),
        ("83010203", ints([1, 2, 3])),
        ("8301820203820405", Value::Array(vec![1.into(), ints([2, 3]), ints([4, 5])])),
        ("98190102030405060708090a0b0c0d0e0f101112131415161718181819", ints(1..=25)),
        ("a0", map(&[])),
        ("a201020304", map(&[(1.into(), 2.into()), (3.into(), 4.into())])),
        ("a26161016162820203", map(&[(text("a"), 1.into()), (text("b"), ints([2, 3]))])),
        ("826161a161626163", Value::Array(vec![text("a"), map(&[(text("b"), text("c"))])])),
        ("a56161614161626142616361436164614461656145", map(&letters)),
    ]
}

/// The rows of Appendix A that are not: bignums and other tags, floats,
/// undefined and simple values, indefinite lengths.
const OUTSIDE: [&str; 45] = [
    "c249010000000000000000",
    "c349010000000000000000",
    "f90000",
    "f98000",
    "f93c00",
    "fb3ff199999999999a",
    "f93e00",
    "f97bff",
    "fa47c35000",
    "fa7f7fffff",
    "fb7e37e43c8800759c",
    "f90001",
    "f90400",
    "f9c400",
    "fbc010666666666666",
    "f97c00",
    "f97e00",
    "f9fc00",
    "fa7f800000",
    "fa7fc00000",
    "faff800000",
    "fb7ff0000000000000",
    "fb7ff8000000000000",
    "fbfff0000000000000",
    "f7",
    "f0",
    "f8ff",
    "c074323031332d30332d32315432303a30343a30305a",
    "c11a514b67b0",
    "c1fb41d452d9ec200000",
    "d74401020304",
    "d818456449455446",
    "d82076687474703a2f2f7777772e6578616d706c652e636f6d",
    "5f42010243030405ff",
    "7f657374726561646d696e67ff",
    "9fff",
    "9f018202039f0405ffff",
    "9f01820203820405ff",
    "83018202039f0405ff",
    "83019f0203ff820405",
    "9f0102030405060708090a0b0c0d0e0f101112131415161718181819ff",
    "bf61610161629f0203ffff",
    "826161bf61626163ff",
    "bf6346756ef563416d7421ff",
    "bf61610161629f0203ff",
];

#[test]
fn every_row_of_the_subset_is_read_and_written() {
    for (bytes, value) in of_the_subset() {
        assert_eq!(decode(&hex(bytes)), Ok(value.clone()), "{bytes}");
        assert_eq!(HEXLOWER.encode(&encode(&value)), bytes);
    }
}

#[test]
fn every_other_row_is_refused() {
    for bytes in OUTSIDE {
        let e = decode(&hex(bytes)).unwrap_err();
        assert!(matches!(e.fault, Fault::Forbidden(_) | Fault::Malformed(_)), "{bytes}: {e}");
    }
    // All but the last, which ends too early, are well-formed: it is their kind that is refused.
    for bytes in &OUTSIDE[..44] {
        let e = decode(&hex(bytes)).unwrap_err();
        assert!(matches!(e.fault, Fault::Forbidden(_)), "{bytes}: {e}");
    }
}

/// §4.2.1: preferred (shortest) arguments, definite lengths, keys in the
/// bytewise order of their encodings, each once.
#[test]
fn only_the_deterministic_encoding_is_read() {
    let longer =
        ["1800", "1817", "190018", "1a000003e8", "1b00000000000f4240", "3800", "580101", "7801 61", "980100"];
    for bytes in longer.map(|b| b.replace(' ', "")) {
        let e = decode(&hex(&bytes)).unwrap_err();
        assert_eq!(e.fault, Fault::NotDeterministic, "{bytes}");
    }
    // The order that §4.2.1 gives as its example: 10, 100, -1, "z", "aa", [100], [-1], false.
    let ordered = "a80a011864012001617a0162616101811864018120 01f401".replace(' ', "");
    let Value::Map(pairs) = decode(&hex(&ordered)).unwrap() else { unreachable!() };
    assert_eq!(pairs.len(), 8);
    let mut shuffled = pairs.clone();
    shuffled.reverse();
    assert_eq!(HEXLOWER.encode(&encode(&Value::Map(shuffled))), ordered);
    let swapped = "a2186401 0a01".replace(' ', "");
    assert_eq!(decode(&hex(&swapped)).unwrap_err().fault, Fault::NotDeterministic);
    assert_eq!(decode(&hex("a2616101616102")).unwrap_err().fault, Fault::NotDeterministic);
}
