//! Reading and writing the payload of a fact: a map with text keys.
//!
//! Ranges stand in one place, where a payload is read. Writing reads back what
//! it wrote, so a fact out of range is refused on the device that writes it
//! too. Keys that this version does not know are carried along.

use core::fmt;
use core::ops::RangeInclusive;

use uuid::Uuid;

use super::id::{Hash, MemberId};
use crate::cbor::Value;

/// A fact, or a field of one, that is not accepted.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{kind}: {field} is {value}, expected {range}")]
pub struct Refusal {
    /// The kind of fact.
    pub kind: &'static str,
    /// The field of it.
    pub field: &'static str,
    /// What was found, shortened.
    pub value: String,
    /// What is accepted, in words.
    pub range: String,
}

/// Keys of a payload that this version does not know, kept as they are.
pub type Extra = Vec<(Value, Value)>;

/// Makes an enum whose variants are written as short lower-case words.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$vdoc])* $variant,)+ }

        impl $name {
            /// Every variant, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];
            /// The word in which it is written down.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)+ }
            }
        }
        impl $crate::facts::field::Word for $name {
            const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$variant),)+];
            fn word(self) -> &'static str { self.word() }
        }
        impl core::str::FromStr for $name {
            type Err = $crate::facts::field::UnknownWord;
            fn from_str(s: &str) -> Result<Self, Self::Err> {
                <Self as $crate::facts::field::Word>::from_word(s)
            }
        }
    };
}
pub(crate) use words;

/// A word that is not one of those accepted.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{found:?} is none of: {accepted}")]
pub struct UnknownWord {
    /// The word found.
    pub found: String,
    /// The words accepted, with commas between.
    pub accepted: String,
}

/// An enum that is written as one of a few words.
pub trait Word: Copy + Sized + 'static {
    /// Every word with its variant.
    const WORDS: &'static [(&'static str, Self)];
    /// The word of a variant.
    fn word(self) -> &'static str;

    /// The variant of a word.
    ///
    /// # Errors
    /// [`UnknownWord`], which lists those accepted.
    fn from_word(found: &str) -> Result<Self, UnknownWord> {
        let hit = Self::WORDS.iter().find(|(word, _)| *word == found);
        hit.map(|(_, v)| *v).ok_or_else(|| UnknownWord {
            found: found.chars().take(40).collect(),
            accepted: Self::WORDS.iter().map(|w| w.0).collect::<Vec<_>>().join(", "),
        })
    }
}

/// The payload of one fact while it is read: what is taken out is known, what
/// stays is carried along.
pub(crate) struct Fields {
    kind: &'static str,
    pairs: Extra,
}

impl Fields {
    pub(crate) fn open(kind: &'static str, payload: Value) -> Result<Self, Refusal> {
        match payload {
            Value::Map(pairs) => Ok(Self { kind, pairs }),
            other => Err(refuse(kind, "payload", &other, "a map")),
        }
    }

    /// Takes a key out; `None` where it is missing.
    pub(crate) fn take(&mut self, field: &'static str) -> Option<Value> {
        let at = self.pairs.iter().position(|(k, _)| matches!(k, Value::Text(t) if t == field))?;
        Some(self.pairs.remove(at).1)
    }

    fn need(&mut self, field: &'static str, range: &str) -> Result<Value, Refusal> {
        let kind = self.kind;
        self.take(field).ok_or_else(|| Refusal {
            kind,
            field,
            value: "missing".to_owned(),
            range: range.to_owned(),
        })
    }

    pub(crate) fn refuse(&self, field: &'static str, value: &Value, range: &str) -> Refusal {
        refuse(self.kind, field, value, range)
    }

    pub(crate) fn int<T: TryFrom<i128> + PartialOrd + fmt::Display>(
        &mut self,
        field: &'static str,
        range: RangeInclusive<T>,
    ) -> Result<T, Refusal> {
        let words = format!("a whole number from {} to {}", range.start(), range.end());
        let value = self.need(field, &words)?;
        self.as_int(field, &value, &range, &words)
    }

    pub(crate) fn int_opt<T: TryFrom<i128> + PartialOrd + fmt::Display>(
        &mut self,
        field: &'static str,
        range: RangeInclusive<T>,
    ) -> Result<Option<T>, Refusal> {
        let words = format!("a whole number from {} to {}", range.start(), range.end());
        self.take(field).map(|value| self.as_int(field, &value, &range, &words)).transpose()
    }

    fn as_int<T: TryFrom<i128> + PartialOrd>(
        &self,
        field: &'static str,
        value: &Value,
        range: &RangeInclusive<T>,
        words: &str,
    ) -> Result<T, Refusal> {
        match value {
            Value::Int(n) => T::try_from(*n).ok().filter(|n| range.contains(n)),
            _ => None,
        }
        .ok_or_else(|| self.refuse(field, value, words))
    }

    /// True, or left out: one value has one encoding.
    pub(crate) fn flag(&mut self, field: &'static str) -> Result<bool, Refusal> {
        match self.take(field) {
            None => Ok(false),
            Some(Value::Bool(true)) => Ok(true),
            Some(other) => Err(self.refuse(field, &other, "true, or left out")),
        }
    }

    pub(crate) fn text(
        &mut self,
        field: &'static str,
        chars: RangeInclusive<usize>,
    ) -> Result<String, Refusal> {
        let words = format!("text of {} to {} characters", chars.start(), chars.end());
        let value = self.need(field, &words)?;
        self.as_text(field, value, &chars, &words)
    }

    pub(crate) fn text_opt(
        &mut self,
        field: &'static str,
        chars: RangeInclusive<usize>,
    ) -> Result<Option<String>, Refusal> {
        let words = format!("text of {} to {} characters", chars.start(), chars.end());
        self.take(field).map(|value| self.as_text(field, value, &chars, &words)).transpose()
    }

    fn as_text(
        &self,
        field: &'static str,
        value: Value,
        chars: &RangeInclusive<usize>,
        words: &str,
    ) -> Result<String, Refusal> {
        match value {
            Value::Text(t) if chars.contains(&t.chars().count()) && !t.chars().any(char::is_control) => Ok(t),
            other => Err(self.refuse(field, &other, &format!("{words}, no control characters"))),
        }
    }

    pub(crate) fn word<W: Word>(&mut self, field: &'static str) -> Result<W, Refusal> {
        let value = self.need(field, "a word")?;
        self.as_word(field, &value)
    }

    pub(crate) fn word_opt<W: Word>(&mut self, field: &'static str) -> Result<Option<W>, Refusal> {
        self.take(field).map(|value| self.as_word(field, &value)).transpose()
    }

    fn as_word<W: Word>(&self, field: &'static str, value: &Value) -> Result<W, Refusal> {
        let accepted = || W::WORDS.iter().map(|w| w.0).collect::<Vec<_>>().join(", ");
        match value {
            Value::Text(t) => W::from_word(t).ok(),
            _ => None,
        }
        .ok_or_else(|| self.refuse(field, value, &format!("one of: {}", accepted())))
    }

    pub(crate) fn fact_id(&mut self, field: &'static str) -> Result<Hash, Refusal> {
        let value = self.need(field, "the 32 bytes of a fact's id")?;
        Hash::from_value(&value).ok_or_else(|| self.refuse(field, &value, "the 32 bytes of a fact's id"))
    }

    pub(crate) fn fact_id_opt(&mut self, field: &'static str) -> Result<Option<Hash>, Refusal> {
        self.take(field)
            .map(|v| {
                Hash::from_value(&v).ok_or_else(|| self.refuse(field, &v, "the 32 bytes of a fact's id"))
            })
            .transpose()
    }

    pub(crate) fn uuid(&mut self, field: &'static str) -> Result<Uuid, Refusal> {
        let value = self.need(field, "16 bytes")?;
        MemberId::from_value(&value).map(|m| m.0).ok_or_else(|| self.refuse(field, &value, "16 bytes"))
    }

    pub(crate) fn uuid_opt(&mut self, field: &'static str) -> Result<Option<Uuid>, Refusal> {
        self.take(field)
            .map(|v| MemberId::from_value(&v).map(|m| m.0).ok_or_else(|| self.refuse(field, &v, "16 bytes")))
            .transpose()
    }

    pub(crate) fn bytes32(&mut self, field: &'static str) -> Result<[u8; 32], Refusal> {
        let value = self.need(field, "32 bytes")?;
        match &value {
            Value::Bytes(b) => b.as_slice().try_into().ok(),
            _ => None,
        }
        .ok_or_else(|| self.refuse(field, &value, "32 bytes"))
    }

    /// A list of 1 to `most` items, each read by `read`. An empty one is left out:
    /// one value has one encoding.
    pub(crate) fn list<T>(
        &mut self,
        field: &'static str,
        most: usize,
        mut read: impl FnMut(Value) -> Result<T, Refusal>,
    ) -> Result<Vec<T>, Refusal> {
        match self.take(field) {
            None => Ok(Vec::new()),
            Some(Value::Array(items)) if (1..=most).contains(&items.len()) => {
                items.into_iter().map(&mut read).collect()
            }
            Some(other) => Err(self.refuse(field, &other, &format!("a list of 1 to {most}, or left out"))),
        }
    }

    /// What was not taken out.
    pub(crate) fn rest(self) -> Extra {
        self.pairs
    }
}

pub(crate) fn refuse(kind: &'static str, field: &'static str, value: &Value, range: &str) -> Refusal {
    let mut shown = match value {
        Value::Int(n) => n.to_string(),
        Value::Text(t) => format!("{t:?}"),
        Value::Bytes(b) => format!("{} bytes", b.len()),
        Value::Array(items) => format!("a list of {}", items.len()),
        Value::Map(_) => "a map".to_owned(),
        Value::Bool(b) => b.to_string(),
        Value::Null => "null".to_owned(),
    };
    if let Some((at, _)) = shown.char_indices().nth(60) {
        shown.truncate(at);
        shown.push('…');
    }
    Refusal { kind, field, value: shown, range: range.to_owned() }
}

/// The payload of one fact while it is written.
#[derive(Default)]
pub(crate) struct Pairs(Extra);

impl Pairs {
    pub(crate) fn put(mut self, field: &'static str, value: impl Into<Value>) -> Self {
        self.0.push((field.into(), value.into()));
        self
    }
    pub(crate) fn put_opt(self, field: &'static str, value: Option<impl Into<Value>>) -> Self {
        match value {
            Some(v) => self.put(field, v),
            None => self,
        }
    }
    /// Left out where empty: absent and empty are one value.
    pub(crate) fn put_list(self, field: &'static str, items: Vec<Value>) -> Self {
        if items.is_empty() { self } else { self.put(field, items) }
    }
    /// Left out where false: absent and false are one value.
    pub(crate) fn put_flag(self, field: &'static str, value: bool) -> Self {
        if value { self.put(field, true) } else { self }
    }
    pub(crate) fn done(mut self, extra: &Extra) -> Value {
        let own = self.0.len();
        for pair in extra {
            if !self.0[..own].iter().any(|(k, _)| *k == pair.0) {
                self.0.push(pair.clone());
            }
        }
        Value::Map(self.0)
    }
}
