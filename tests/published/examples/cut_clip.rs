//! Cuts a clip down to what a reader of frame times needs, for use as test
//! data: `cargo run -p published --example cut_clip -- IN.mp4 OUT.mp4`.
//!
//! All boxes stay byte for byte, so every sample table keeps its values, but
//! * the media data (`mdat`) loses its payload and keeps its header;
//! * a place of recording (`©xyz`, `loci`) becomes a `free` box of zeros.
//!
//! Offsets of samples into the media (`stco`, `co64`) then point at nothing.

use std::error::Error;
use std::{env, fs};

fn main() -> Result<(), Box<dyn Error>> {
    let mut paths = env::args_os().skip(1);
    let (Some(from), Some(to)) = (paths.next(), paths.next()) else {
        return Err("give the clip to cut and the file to write".into());
    };
    fs::write(to, cut(&fs::read(from)?)?)?;
    Ok(())
}

/// The boxes of a whole file, cut.
fn cut(whole: &[u8]) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut kept = Vec::new();
    for found in boxes(whole)? {
        match found.kind {
            b"mdat" => kept.extend(b"\0\0\0\x08mdat"),
            b"moov" => kept.extend(without_place(found.whole)?),
            _ => kept.extend(found.whole),
        }
    }
    Ok(kept)
}

/// A movie box with the place of recording blanked out in its user data.
fn without_place(moov: &[u8]) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut blanked = moov.get(..8).ok_or("a box without a head")?.to_vec();
    for child in boxes(moov.get(8..).unwrap_or_default())? {
        match child.kind {
            b"udta" => blanked.extend(without_place(child.whole)?),
            b"\xa9xyz" | b"loci" => {
                blanked.extend(child.whole.get(..4).unwrap_or_default());
                blanked.extend(b"free");
                blanked.resize(blanked.len() + child.whole.len() - 8, 0);
            }
            _ => blanked.extend(child.whole),
        }
    }
    Ok(blanked)
}

struct Found<'a> {
    kind: &'a [u8],
    whole: &'a [u8],
}

/// Boxes side by side, with 32-bit or 64-bit sizes.
fn boxes(mut bytes: &[u8]) -> Result<Vec<Found<'_>>, Box<dyn Error>> {
    let mut found = Vec::new();
    while !bytes.is_empty() {
        let (size, rest) = bytes.split_first_chunk().ok_or("a box without a size")?;
        let size = match u32::from_be_bytes(*size) {
            0 => bytes.len(),
            1 => {
                let long = rest
                    .get(4..)
                    .and_then(|rest| rest.first_chunk())
                    .ok_or("a box without its 64-bit size")?;
                usize::try_from(u64::from_be_bytes(*long))?
            }
            size => usize::try_from(size)?,
        };
        let whole = bytes.get(..size).ok_or("a box that is cut off")?;
        let kind = whole.get(4..8).ok_or("a box without a name")?;
        found.push(Found { kind, whole });
        bytes = bytes.get(size..).unwrap_or_default();
    }
    Ok(found)
}
