//! The capture rate in an MP4's metadata, where Android's camera puts it.
//!
//! ffmpeg writes such a key as text at best, a phone writes a 32-bit float, so
//! the boxes are made here: `moov/meta` with handler `mdta`, its `keys` and its
//! `ilst` ("Metadata", QuickTime File Format). `meta` is written with version
//! and flags, as ISO/IEC 14496-12 has it.

/// The key that Android's recorder writes.
const CAPTURE_RATE: &str = "com.android.capture.fps";

/// A plain remark; it says what the clip is to whoever opens the file.
const COMMENT: &str = "comment";

/// Data types of the QuickTime File Format ("Well-known types").
const UTF_8: u32 = 1;
const FLOAT_32: u32 = 23;

/// Why the key cannot be appended.
#[derive(Debug, thiserror::Error)]
pub enum Misplaced {
    /// The boxes do not add up to the file.
    #[error("box at byte {0} does not fit the file")]
    Length(usize),
    /// The last box is not `moov`: growing it would move what follows.
    #[error("moov is not the last box")]
    MoovNotLast,
}

/// Appends the metadata to `moov`, which must come last so that no chunk
/// offset moves.
pub(super) fn append(mut file: Vec<u8>, capture_rate_hz: u32) -> Result<Vec<u8>, Misplaced> {
    let moov = last_box(&file)?;
    if file.get(moov + 4..moov + 8) != Some(b"moov") {
        return Err(Misplaced::MoovNotLast);
    }
    file.extend(meta(capture_rate_hz));
    let size = u32::try_from(file.len() - moov).map_err(|_| Misplaced::Length(moov))?;
    file[moov..moov + 4].copy_from_slice(&size.to_be_bytes());
    Ok(file)
}

/// Where the last box begins. Only boxes with a plain 32-bit size are known;
/// these small files have no others.
fn last_box(file: &[u8]) -> Result<usize, Misplaced> {
    let mut start = 0;
    loop {
        let size = file
            .get(start..)
            .and_then(|rest| rest.first_chunk())
            .map(|bytes| u32::from_be_bytes(*bytes) as usize)
            .filter(|size| *size >= 8 && *size <= file.len() - start)
            .ok_or(Misplaced::Length(start))?;
        if start + size == file.len() {
            return Ok(start);
        }
        start += size;
    }
}

fn meta(capture_rate_hz: u32) -> Vec<u8> {
    let handler = [&[0; 8][..], b"mdta", &[0; 13]].concat();
    let keys = [CAPTURE_RATE, COMMENT].map(|key| make_box(b"mdta", key.as_bytes())).concat();
    let keys = [&[0, 0, 0, 0, 0, 0, 0, 2][..], &keys].concat();
    // Frame rates are small whole numbers: exact in 32 bits.
    let rate = (capture_rate_hz as f32).to_be_bytes();
    let items = [item(1, FLOAT_32, &rate), item(2, UTF_8, b"rendered, not filmed")].concat();
    let content =
        [vec![0; 4], make_box(b"hdlr", &handler), make_box(b"keys", &keys), make_box(b"ilst", &items)]
            .concat();
    make_box(b"meta", &content)
}

/// An item of `ilst`: named by the place of its key, counted from 1.
fn item(key: u32, data_type: u32, value: &[u8]) -> Vec<u8> {
    const ANY_LOCALE: [u8; 4] = [0; 4];
    let data = [&data_type.to_be_bytes()[..], &ANY_LOCALE, value].concat();
    make_box(&key.to_be_bytes(), &make_box(b"data", &data))
}

fn make_box(name: &[u8; 4], content: &[u8]) -> Vec<u8> {
    // Contents here are a few hundred bytes.
    let size = (content.len() + 8) as u32;
    [&size.to_be_bytes()[..], name, content].concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moov_grows_by_the_metadata() {
        let file = [make_box(b"mdat", b"12345"), make_box(b"moov", b"xy")].concat();
        let with_key = append(file.clone(), 240).unwrap();
        assert_eq!(&with_key[..13], &file[..13]);
        let moov = u32::from_be_bytes(with_key[13..17].try_into().unwrap()) as usize;
        assert_eq!(13 + moov, with_key.len());
        // 240 as a 32-bit float.
        assert!(with_key.windows(4).any(|w| w == [0x43, 0x70, 0, 0]));
    }

    #[test]
    fn a_file_whose_moov_is_not_last_is_refused() {
        let file = [make_box(b"moov", b"xy"), make_box(b"mdat", b"12345")].concat();
        assert!(matches!(append(file, 240), Err(Misplaced::MoovNotLast)));
        assert!(matches!(append(vec![0, 0, 0, 9], 240), Err(Misplaced::Length(0))));
        assert!(matches!(append(vec![], 240), Err(Misplaced::Length(0))));
    }
}
