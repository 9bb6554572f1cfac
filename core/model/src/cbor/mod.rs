//! The deterministic subset of CBOR in which everything that is kept or sent
//! is written: RFC 8949 §4.2.1, without floats, tags and indefinite lengths.
//!
//! One value has one encoding, so hashes and signatures over the bytes say
//! something about the value, and a value read and written again gives the
//! same bytes. `minicbor` does the reading and writing; this module adds the
//! closed set of types, the limits, and the refusal of every other encoding.
//!
//! ```
//! use pitside_model::cbor::{Value, decode, encode};
//! let bytes = encode(&Value::Array(vec![Value::from(24), Value::from("hop")]));
//! assert_eq!(bytes, [0x82, 0x18, 0x18, 0x63, b'h', b'o', b'p']);
//! assert_eq!(decode(&bytes).unwrap(), Value::Array(vec![24.into(), "hop".into()]));
//! assert!(decode(&[0x18, 0x05]).is_err(), "five in two bytes is not its one encoding");
//! ```

use minicbor::data::{Int, Type};
use minicbor::{Decoder, Encoder};

/// Arrays and maps nested deeper than this are refused.
pub const MAX_DEPTH: usize = 8;

/// A value of the subset.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Value {
    /// `null`; as the payload of an entry it means "deleted".
    Null,
    /// `true` or `false`.
    Bool(bool),
    /// An integer of CBOR's range, −2⁶⁴ ..= 2⁶⁴−1.
    Int(i128),
    /// A byte string.
    Bytes(Vec<u8>),
    /// A UTF-8 text string.
    Text(String),
    /// An array.
    Array(Vec<Value>),
    /// A map. Written in the order of the encoded keys, whatever the order here.
    Map(Vec<(Value, Value)>),
}

impl From<i64> for Value {
    fn from(n: i64) -> Self {
        Self::Int(n.into())
    }
}
impl From<i32> for Value {
    fn from(n: i32) -> Self {
        Self::Int(n.into())
    }
}
impl From<u64> for Value {
    fn from(n: u64) -> Self {
        Self::Int(n.into())
    }
}
impl From<u32> for Value {
    fn from(n: u32) -> Self {
        Self::Int(n.into())
    }
}
impl From<u16> for Value {
    fn from(n: u16) -> Self {
        Self::Int(n.into())
    }
}
impl From<u8> for Value {
    fn from(n: u8) -> Self {
        Self::Int(n.into())
    }
}
impl From<i16> for Value {
    fn from(n: i16) -> Self {
        Self::Int(n.into())
    }
}
impl From<bool> for Value {
    fn from(b: bool) -> Self {
        Self::Bool(b)
    }
}
impl From<&str> for Value {
    fn from(s: &str) -> Self {
        Self::Text(s.to_owned())
    }
}
impl From<String> for Value {
    fn from(s: String) -> Self {
        Self::Text(s)
    }
}
impl From<&[u8]> for Value {
    fn from(b: &[u8]) -> Self {
        Self::Bytes(b.to_vec())
    }
}
impl From<Vec<Value>> for Value {
    fn from(items: Vec<Value>) -> Self {
        Self::Array(items)
    }
}

/// Why bytes are not a value of the subset.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("not deterministic CBOR at byte {offset}: {fault}")]
pub struct CborError {
    /// Where in the input.
    pub offset: usize,
    /// What is wrong there.
    pub fault: Fault,
}

/// What is wrong with an encoding.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    /// The input ends inside a value, or is not CBOR.
    #[error("{0}")]
    Malformed(String),
    /// Bytes follow the value.
    #[error("bytes follow the value")]
    Trailing,
    /// A float, a tag, `undefined`, a simple value, an indefinite length.
    #[error("{0} is not allowed")]
    Forbidden(String),
    /// Nested deeper than [`MAX_DEPTH`].
    #[error("nested deeper than {MAX_DEPTH}")]
    Depth,
    /// Well-formed, but a shorter or differently ordered encoding is the one.
    #[error("not the shortest form, or map keys out of order or twice")]
    NotDeterministic,
}

/// Writes a value in its one encoding.
///
/// Integers outside CBOR's range are written as the nearest end of the range;
/// [`decode`] never makes one.
#[must_use]
pub fn encode(value: &Value) -> Vec<u8> {
    let mut out = Vec::new();
    write(value, &mut out);
    out
}

fn write(value: &Value, out: &mut Vec<u8>) {
    // Writing into a vector cannot fail: its error type has no value.
    let mut e = Encoder::new(&mut *out);
    let Ok(_) = (match value {
        Value::Null => e.null(),
        Value::Bool(b) => e.bool(*b),
        Value::Int(n) => {
            let n = (*n).clamp(-(1_i128 << 64), (1_i128 << 64) - 1);
            e.int(Int::try_from(n).unwrap_or_else(|_| Int::from(0_u8)))
        }
        Value::Bytes(b) => e.bytes(b),
        Value::Text(s) => e.str(s),
        Value::Array(items) => e.array(items.len() as u64),
        Value::Map(pairs) => e.map(pairs.len() as u64),
    }) else {
        return;
    };
    match value {
        Value::Array(items) => items.iter().for_each(|item| write(item, out)),
        Value::Map(pairs) => {
            let mut encoded: Vec<_> = pairs.iter().map(|(k, v)| (encode(k), v)).collect();
            encoded.sort_by(|a, b| a.0.cmp(&b.0));
            for (key, v) in encoded {
                out.extend_from_slice(&key);
                write(v, out);
            }
        }
        _ => {}
    }
}

/// Reads exactly one value and refuses every encoding but its one.
///
/// # Errors
/// [`CborError`] with the byte offset. Memory stays proportional to the input,
/// whatever lengths it claims.
pub fn decode(bytes: &[u8]) -> Result<Value, CborError> {
    let mut d = Decoder::new(bytes);
    let value = read(&mut d, 0)?;
    if d.position() != bytes.len() {
        return Err(CborError { offset: d.position(), fault: Fault::Trailing });
    }
    Ok(value)
}

/// Bytes of the one encoding of an integer, or of a length with its type.
fn shortest(n: u64) -> usize {
    match n {
        0..24 => 1,
        24..0x100 => 2,
        0x100..0x1_0000 => 3,
        0x1_0000..0x1_0000_0000 => 5,
        _ => 9,
    }
}

fn read(d: &mut Decoder<'_>, depth: usize) -> Result<Value, CborError> {
    let offset = d.position();
    let fail = |fault| CborError { offset, fault };
    let malformed = |e: minicbor::decode::Error| fail(Fault::Malformed(e.to_string()));
    if depth > MAX_DEPTH {
        return Err(fail(Fault::Depth));
    }
    let only = |n: u64, taken: usize| {
        if taken == shortest(n) { Ok(()) } else { Err(fail(Fault::NotDeterministic)) }
    };
    Ok(match d.datatype().map_err(malformed)? {
        Type::Null => {
            d.null().map_err(malformed)?;
            Value::Null
        }
        Type::Bool => Value::Bool(d.bool().map_err(malformed)?),
        Type::U8
        | Type::U16
        | Type::U32
        | Type::U64
        | Type::I8
        | Type::I16
        | Type::I32
        | Type::I64
        | Type::Int => {
            let n = i128::from(d.int().map_err(malformed)?);
            let size = if n < 0 { -1 - n } else { n };
            only(u64::try_from(size).unwrap_or(u64::MAX), d.position() - offset)?;
            Value::Int(n)
        }
        Type::Bytes => {
            let bytes = d.bytes().map_err(malformed)?.to_vec();
            only(bytes.len() as u64, d.position() - offset - bytes.len())?;
            Value::Bytes(bytes)
        }
        Type::String => {
            let text = d.str().map_err(malformed)?.to_owned();
            only(text.len() as u64, d.position() - offset - text.len())?;
            Value::Text(text)
        }
        Type::Array => {
            let n = d.array().map_err(malformed)?;
            let n = n.ok_or_else(|| fail(Fault::Forbidden("an indefinite length".into())))?;
            only(n, d.position() - offset)?;
            let mut items = Vec::new();
            for _ in 0..n {
                items.push(read(d, depth + 1)?);
            }
            Value::Array(items)
        }
        Type::Map => {
            let n = d.map().map_err(malformed)?;
            let n = n.ok_or_else(|| fail(Fault::Forbidden("an indefinite length".into())))?;
            only(n, d.position() - offset)?;
            let mut pairs = Vec::new();
            // In the order of their encodings, and so none of them twice.
            let mut before: &[u8] = &[];
            for _ in 0..n {
                let from = d.position();
                let key = read(d, depth + 1)?;
                let encoded = &d.input()[from..d.position()];
                if encoded <= before {
                    return Err(CborError { offset: from, fault: Fault::NotDeterministic });
                }
                before = encoded;
                pairs.push((key, read(d, depth + 1)?));
            }
            Value::Map(pairs)
        }
        other => return Err(fail(Fault::Forbidden(other.to_string()))),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn any_value() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![
            Just(Value::Null),
            any::<bool>().prop_map(Value::Bool),
            any::<i64>().prop_map(Value::from),
            any::<u64>().prop_map(Value::from),
            proptest::collection::vec(any::<u8>(), 0..40).prop_map(Value::Bytes),
            "\\PC{0,20}".prop_map(Value::Text),
        ];
        leaf.prop_recursive(4, 32, 6, |inner| {
            prop_oneof![
                proptest::collection::vec(inner.clone(), 0..6).prop_map(Value::Array),
                proptest::collection::btree_map(inner.clone(), inner, 0..6).prop_map(|map| {
                    let mut pairs: Vec<_> = map.into_iter().collect();
                    pairs.sort_by_key(|(k, _)| encode(k));
                    Value::Map(pairs)
                }),
            ]
        })
    }

    proptest! {
        #[test]
        fn what_is_written_is_read_back(value in any_value()) {
            prop_assert_eq!(decode(&encode(&value)), Ok(value));
        }

        #[test]
        fn any_bytes_end_in_a_value_or_an_error(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
            if let Ok(value) = decode(&bytes) {
                prop_assert_eq!(encode(&value), bytes);
            }
        }
    }

    #[test]
    fn a_claimed_length_costs_no_memory() {
        // An array that claims 2^63 items in nine bytes.
        let e = decode(&[0x9b, 0x7f, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff]).unwrap_err();
        assert!(matches!(e.fault, Fault::Malformed(_)), "{e}");
    }

    #[test]
    fn depth_and_repeated_keys_are_refused() {
        let mut deep = vec![0x81; MAX_DEPTH + 2];
        deep.push(0x00);
        assert_eq!(decode(&deep).unwrap_err().fault, Fault::Depth);
        assert_eq!(decode(&[0xa2, 0x01, 0x01, 0x01, 0x02]).unwrap_err().fault, Fault::NotDeterministic);
        assert_eq!(decode(&[0xa2, 0x02, 0x01, 0x01, 0x02]).unwrap_err().fault, Fault::NotDeterministic);
        assert_eq!(decode(&[0x00, 0x00]).unwrap_err().fault, Fault::Trailing);
    }
}
