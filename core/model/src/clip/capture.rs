//! The capture rate that a phone writes into the clip.
//!
//! Only this one value is read out of the metadata. What else stands there
//! (the place of the recording, above all) is passed over unread.

use std::io::{Read, Seek};

use super::error::ClipError;
use super::rate::Rate;
use super::source::{BoxAt, Source, only};

/// The metadata key under which Android writes the capture rate.
const CAPTURE_KEY: &[u8; 23] = b"com.android.capture.fps";

/// Keys of one file. A phone writes fewer than ten.
const MAX_KEYS: u64 = 4096;

/// Where a clip says how fast it was captured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CaptureSource {
    /// The key `com.android.capture.fps` of the metadata list.
    AndroidKey,
    /// The box `smta` of the user data, field `srfr`.
    UserData,
}

impl CaptureSource {
    /// How evidence names it.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::AndroidKey => "key com.android.capture.fps",
            Self::UserData => "user data (smta)",
        }
    }
}

/// What one place in the clip says about the capture rate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CaptureTag {
    /// Where it stands.
    pub source: CaptureSource,
    /// The rate; `None` where what stands there is no rate (0, negative, not
    /// a number, a type that holds no number).
    pub rate: Option<Rate>,
}

/// All capture rates of the movie box.
pub(super) fn read<R: Read + Seek>(
    source: &mut Source<R>,
    movie: &[BoxAt],
) -> Result<Vec<CaptureTag>, ClipError> {
    let mut tags = Vec::new();
    let user_data = only(movie, b"udta")?;
    let inner = match &user_data {
        Some(udta) => source.children(udta, 0)?,
        None => Vec::new(),
    };
    // Recorders put the list into the movie box; other writers may put it into
    // the user data.
    for place in [movie, inner.as_slice()] {
        if let Some(meta) = only(place, b"meta")? {
            tags.extend(keyed(source, &meta)?);
        }
    }
    if let Some(smta) = only(&inner, b"smta")? {
        tags.extend(user_rate(source, &smta)?);
    }
    Ok(tags)
}

/// `smta`: version and flags, then boxes; `srfr` holds the rate as 16.16.
fn user_rate<R: Read + Seek>(source: &mut Source<R>, smta: &BoxAt) -> Result<Option<CaptureTag>, ClipError> {
    let boxes = source.children(smta, 4)?;
    let Some(srfr) = only(&boxes, b"srfr")? else {
        return Ok(None);
    };
    let fixed = u64::from(source.u32(&srfr, 0)?);
    Ok(Some(CaptureTag {
        source: CaptureSource::UserData,
        rate: Rate::from_millihertz((fixed * 1000 + 0x8000) >> 16),
    }))
}

/// The capture key of a metadata list: `keys` names, `ilst` holds the values
/// by the number of the name, from 1 (QuickTime File Format, "Metadata").
fn keyed<R: Read + Seek>(source: &mut Source<R>, meta: &BoxAt) -> Result<Option<CaptureTag>, ClipError> {
    let skip = meta_head(source, meta)?;
    let boxes = source.children(meta, skip)?;
    let (Some(keys), Some(list)) = (only(&boxes, b"keys")?, only(&boxes, b"ilst")?) else {
        return Ok(None);
    };
    let Some(number) = key_number(source, &keys)? else {
        return Ok(None);
    };
    let Some(item) = only(&source.children(&list, 0)?, &number.to_be_bytes())? else {
        return Ok(None);
    };
    let Some(data) = only(&source.children(&item, 0)?, b"data")? else {
        return Ok(None);
    };
    Ok(Some(CaptureTag { source: CaptureSource::AndroidKey, rate: value(source, &data)? }))
}

/// The bytes before the first box of `meta`: ISO writes version and flags,
/// QuickTime does not. Both begin with `hdlr`, so its name tells.
fn meta_head<R: Read + Seek>(source: &mut Source<R>, meta: &BoxAt) -> Result<u64, ClipError> {
    if meta.room(0) < 8 {
        // Empty, with or without version and flags.
        return Ok(meta.room(0).min(4));
    }
    let [.., k0, k1, k2, k3] = source.field::<8>(meta, 0)?;
    Ok(if [k0, k1, k2, k3] == *b"hdlr" { 0 } else { 4 })
}

/// The number of the capture key, from 1.
fn key_number<R: Read + Seek>(source: &mut Source<R>, keys: &BoxAt) -> Result<Option<u32>, ClipError> {
    // A key has at least its size and its namespace.
    let entries = source.entries(keys, 4, 8, MAX_KEYS, "metadata keys")?;
    let mut at = 8_u64;
    let mut number = 0_u32;
    let mut found = None;
    for _ in 0..entries {
        number += 1;
        let size = u64::from(source.u32(keys, at)?);
        if size < 8 || size > keys.room(at) {
            return Err(keys.field_error("a key is longer than the box or shorter than its head"));
        }
        if size == 8 + 23 {
            let [n0, n1, n2, n3, name @ ..] = source.field::<27>(keys, at + 4)?;
            if [n0, n1, n2, n3] == *b"mdta" && name == *CAPTURE_KEY {
                if found.is_some() {
                    return Err(keys.field_error("the capture key stands there twice"));
                }
                found = Some(number);
            }
        }
        at += size;
    }
    Ok(found)
}

/// A value by its type (QuickTime File Format, "Well-known types"); `None`
/// where it is no rate.
fn value<R: Read + Seek>(source: &mut Source<R>, data: &BoxAt) -> Result<Option<Rate>, ClipError> {
    /// The longest text that can be a rate.
    const LONGEST: u64 = 32;
    let kind = source.u32(data, 0)?;
    // Type, then locale, then the value.
    let length = data.room(8);
    source.u32(data, 4)?;
    let rate = match (kind, length) {
        (1, 1..=LONGEST) => {
            let mut text = Vec::new();
            for at in 0..length {
                let [byte] = source.field::<1>(data, 8 + at)?;
                text.push(byte);
            }
            std::str::from_utf8(&text)
                .ok()
                .and_then(|text| text.trim_end_matches('\0').trim().parse::<f64>().ok())
                .and_then(Rate::from_hz)
        }
        (23, 4) => Rate::from_hz(f32::from_be_bytes(source.field(data, 8)?).into()),
        (24, 8) => Rate::from_hz(f64::from_be_bytes(source.field(data, 8)?)),
        (21 | 22 | 65..=67 | 74..=78, 1..=8) => {
            let signed = matches!(kind, 21 | 65..=67 | 74);
            let mut whole = 0_u64;
            let mut negative = false;
            for at in 0..length {
                let [byte] = source.field::<1>(data, 8 + at)?;
                negative |= at == 0 && signed && byte >= 0x80;
                whole = (whole << 8) | u64::from(byte);
            }
            (!negative).then(|| whole.checked_mul(1000)).flatten().and_then(Rate::from_millihertz)
        }
        _ => None,
    };
    Ok(rate)
}
