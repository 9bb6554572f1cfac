//! Where the pictures of a track lie in the file, and what they are coded with, for
//! whoever decodes them. Nothing is decoded here.

use std::fmt::Write;
use std::io::{Read, Seek};

use super::error::{ClipError, FourCc};
use super::movie;
use super::source::{BoxAt, Source, only, required};

/// Bytes of a decoder's configuration. A phone writes below a hundred.
const MAX_CONFIG: u64 = 64 * 1024;

/// Where one coded picture lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sample {
    /// The byte of the file at which it begins.
    pub offset: u64,
    /// Its bytes.
    pub size: u32,
    /// Which frame of the clip's [`FrameTable`](super::FrameTable) it is, from 0 in
    /// display order.
    pub frame: u32,
    /// Whether it is decoded without another one.
    pub key: bool,
}

/// What the pictures of a track are coded with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Codec {
    /// The name of the sample entry, such as `avc1`.
    pub name: FourCc,
    /// The body of its configuration box (`avcC`, `hvcC`, `av1C`, `vpcC`); empty where
    /// there is none of these.
    pub config: Vec<u8>,
    /// The width in pixels, as the sample entry says.
    pub width: u16,
    /// The height.
    pub height: u16,
}

/// The coded pictures of one track.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Media {
    /// What they are coded with.
    pub codec: Codec,
    /// Where they lie, in decoding order.
    pub samples: Vec<Sample>,
}

impl Media {
    /// Finds the pictures of the track with this number, or of the one that
    /// [`Clip::read`](super::Clip::read) takes.
    ///
    /// # Errors
    /// As [`Clip::read_track`](super::Clip::read_track); [`ClipError::Field`] where the
    /// tables place a picture outside the file, or not at all, or code pictures of one
    /// track in more than one way.
    ///
    /// What is held at a time stays below 96 MiB for the most frames that are read, and
    /// the tables of a file that long.
    pub fn read<R: Read + Seek>(reader: R, track: Option<u32>) -> Result<Self, ClipError> {
        let mut source = Source::new(reader)?;
        let (movie, _) = movie::read(&mut source, track, true)?;
        movie.media(&mut source)
    }
}

/// Gives each sample, in decoding order, its place in the order of display. Frames of one
/// time stay in decoding order.
pub(super) fn number(ticks: &[i64], samples: &mut [Sample]) {
    // Numbers of four bytes: there may be two million.
    let mut order: Vec<u32> = (0_u32..).take(samples.len()).collect();
    let place = |at: u32| usize::try_from(at).unwrap_or(usize::MAX);
    order.sort_unstable_by_key(|at| (ticks.get(place(*at)), *at));
    for (decoded, shown) in order.iter().zip(0_u32..) {
        if let Some(sample) = samples.get_mut(place(*decoded)) {
            sample.frame = shown;
        }
    }
}

/// The first sample entry of `stsd` (ISO/IEC 14496-12, 8.5.2 and 12.1.3).
pub(super) fn codec<R: Read + Seek>(source: &mut Source<R>, stbl: &BoxAt) -> Result<Codec, ClipError> {
    let stsd = required(&source.children(stbl, 0)?, b"stsd", stbl.parent())?;
    // Version, flags and the number of entries stand first.
    let entries = source.children(&stsd, 8)?;
    let entry =
        entries.first().ok_or_else(|| stsd.field_error("no sample entry says how pictures are coded"))?;
    let (width, height) = (source.field::<2>(entry, 24)?, source.field::<2>(entry, 26)?);
    let mut config = Vec::new();
    // 78 bytes of fields come before the boxes of a visual sample entry; QuickTime may
    // close them with zeros, which are no box.
    let inner = source.leading(entry, 78)?;
    for kind in [b"avcC", b"hvcC", b"av1C", b"vpcC"] {
        let Some(found) = only(&inner, kind)? else { continue };
        let length = found.room(0);
        if length > MAX_CONFIG {
            return Err(ClipError::TooMany {
                what: "bytes of a decoder's configuration",
                offset: found.offset,
                found: length,
                limit: MAX_CONFIG,
            });
        }
        config = vec![0; usize::try_from(length).unwrap_or(0)];
        source.read(found.body, &mut config)?;
        break;
    }
    let (width, height) = (u16::from_be_bytes(width), u16::from_be_bytes(height));
    Ok(Codec { name: entry.kind, config, width, height })
}

impl Codec {
    /// The name with profile and level as RFC 6381 has it, such as `avc1.64001f`:
    /// what a browser's decoder is asked for. `None` where the configuration is
    /// missing, too short, or of a codec not known here.
    #[must_use]
    pub fn rfc6381(&self) -> Option<String> {
        let at = |index: usize| self.config.get(index).copied();
        match &self.name.0 {
            // RFC 6381, 3.3: profile, constraints and level of `avcC`.
            b"avc1" | b"avc3" => Some(format!("{}.{:02x}{:02x}{:02x}", self.name, at(1)?, at(2)?, at(3)?)),
            b"hvc1" | b"hev1" => self.hevc(),
            b"av01" => {
                // AV1 in ISO base media 1.2.0, section 5.
                let (profile_level, depth) = (at(1)?, at(2)?);
                let tier = if depth & 0x80 == 0 { 'M' } else { 'H' };
                let bits = match (depth & 0x40 != 0, depth & 0x20 != 0) {
                    (true, true) => 12,
                    (true, false) => 10,
                    _ => 8,
                };
                Some(format!("av01.{}.{:02}{tier}.{bits:02}", profile_level >> 5, profile_level & 31))
            }
            b"vp09" => {
                // VP codec ISO media file format binding 1.0: a full box.
                Some(format!("vp09.{:02}.{:02}.{:02}", at(4)?, at(5)?, at(6)? >> 4))
            }
            _ => None,
        }
    }

    /// ISO/IEC 14496-15, annex E.3: profile space and profile, compatibility with its
    /// bits reversed, tier and level, constraints without their last zero bytes.
    fn hevc(&self) -> Option<String> {
        let [_, profile, c0, c1, c2, c3, constraints @ .., level] = self.config.first_chunk::<13>()?;
        let space = ["", "A", "B", "C"].get(usize::from(profile >> 6))?;
        let tier = if profile & 0x20 == 0 { 'L' } else { 'H' };
        let compatible = u32::from_be_bytes([*c0, *c1, *c2, *c3]).reverse_bits();
        let mut text = format!("{}.{space}{}.{compatible:X}.{tier}{level}", self.name, profile & 31);
        let last = constraints.iter().rposition(|byte| *byte != 0).map_or(0, |last| last + 1);
        for byte in constraints.iter().take(last) {
            let _ = write!(text, ".{byte:X}");
        }
        Some(text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codec(name: &[u8; 4], config: &[u8]) -> Option<String> {
        Codec { name: FourCc(*name), config: config.to_vec(), width: 0, height: 0 }.rfc6381()
    }

    /// Check values: RFC 6381, 3.6 (`avc1.640028` has profile 100, level 4.0); ISO/IEC
    /// 14496-15, annex E.3 (`hev1.1.6.L93.B0`); AV1 in ISO base media 1.2.0, section 5
    /// (`av01.0.04M.10`).
    #[test]
    fn codecs_have_the_names_of_their_standards() {
        assert_eq!(codec(b"avc1", &[1, 0x64, 0, 0x28]).as_deref(), Some("avc1.640028"));
        let hevc = [1, 1, 0x60, 0, 0, 0, 0xb0, 0, 0, 0, 0, 0, 93];
        assert_eq!(codec(b"hev1", &hevc).as_deref(), Some("hev1.1.6.L93.B0"));
        assert_eq!(codec(b"av01", &[0x81, 4, 0x40, 0]).as_deref(), Some("av01.0.04M.10"));
        assert_eq!(codec(b"vp09", &[1, 0, 0, 0, 0, 31, 0x80]).as_deref(), Some("vp09.00.31.08"));
    }

    #[test]
    fn what_is_short_or_unknown_has_no_name() {
        assert_eq!(codec(b"avc1", &[1, 0x64]), None);
        assert_eq!(codec(b"hvc1", &[1; 12]), None);
        assert_eq!(codec(b"mp4v", &[1; 40]), None);
    }
}
