//! Frame times of an MP4 or QuickTime file, and its clock.
//!
//! The reader walks boxes only (ISO/IEC 14496-12 and the QuickTime File
//! Format) and never loads media data. Every count is checked against the box
//! it stands in and against a limit before anything is allocated or walked, so
//! a damaged file ends in a [`ClipError`] that names box and byte offset.
//! Times stay integers: ticks of the track's timescale, with no floating-point
//! seconds anywhere in this module.
//!
//! What it does not read: fragments and a phone maker's trailer (both are
//! refused by name), the media itself, and any metadata but the capture rate.
//!
//! * [`Clip::read`]: a reader → tracks, frame times, what the file says of its
//!   capture rate.
//! * [`Clock::decide`]: real, stretched, mixed or unknown, with the evidence
//!   and the exact [`Pace`].

#![deny(clippy::as_conversions)]

mod capture;
mod clock;
mod error;
mod frames;
mod rate;
mod source;
mod track;

use std::io::{Read, Seek};

pub use capture::{CaptureSource, CaptureTag};
pub use clock::{Clock, ClockKind, Pace};
pub use error::{ClipError, FourCc, Parent};
pub use frames::{FrameTable, Gap};
pub use rate::Rate;
pub use track::{Orientation, Track, TrackKind};

use source::{Source, required};

/// What a file can begin with.
const FIRST_BOXES: [&[u8; 4]; 9] =
    [b"ftyp", b"moov", b"mdat", b"free", b"skip", b"wide", b"pnot", b"uuid", b"styp"];

/// What a file says about its frames.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clip {
    /// Every track, in the order of the file.
    pub tracks: Vec<Track>,
    /// Which of them is read: the index of the first enabled video track, or
    /// of the first video track where none is enabled, as a player chooses.
    pub chosen: usize,
    /// How the chosen track is turned for display.
    pub orientation: Orientation,
    /// The frame times of the chosen track.
    pub frames: FrameTable,
    /// What the file says about its capture rate, often nothing.
    pub capture: Vec<CaptureTag>,
}

impl Clip {
    /// Reads the tables of a clip.
    ///
    /// # Errors
    /// [`ClipError`] where the file cannot be read, is no clip, is damaged, or
    /// is of a form that is not read yet.
    pub fn read<R: Read + Seek>(reader: R) -> Result<Self, ClipError> {
        let mut source = Source::new(reader)?;
        if source.length() == 0 {
            return Err(ClipError::Empty);
        }
        let first = source.first()?.ok_or(ClipError::NotAClip)?;
        if !FIRST_BOXES.contains(&&first.0) {
            return Err(ClipError::NotAClip);
        }
        refuse_trailer(&mut source)?;
        let top = source.top()?;
        if let Some(moof) = top.iter().find(|found| &found.kind.0 == b"moof") {
            return Err(ClipError::Fragments { kind: moof.kind, offset: moof.offset });
        }
        let moov = required(&top, b"moov", Parent::File)?;
        let movie = source.children(&moov, 0)?;
        if let Some(mvex) = movie.iter().find(|found| &found.kind.0 == b"mvex") {
            return Err(ClipError::Fragments { kind: mvex.kind, offset: mvex.offset });
        }
        // A file cut off between its tables and its media has nothing to watch.
        if !top.iter().any(|found| &found.kind.0 == b"mdat") {
            return Err(ClipError::Missing { kind: FourCc(*b"mdat"), parent: Parent::File });
        }
        let mvhd = required(&movie, b"mvhd", moov.parent())?;
        let movie_timescale = track::timescale(&mut source, &mvhd)?;

        let found = track::read_all(&mut source, &movie)?;
        let chosen = track::choose(&found).ok_or(ClipError::NoVideo)?;
        let Some(video) = found.get(chosen) else {
            return Err(ClipError::NoVideo);
        };
        let orientation = video.orientation;
        let tables = video.tables(&mut source, movie_timescale)?;
        let frames = frames::read(&mut source, &tables)?;
        let capture = capture::read(&mut source, &movie)?;
        Ok(Self {
            tracks: found.into_iter().map(|track| track.shown).collect(),
            chosen,
            orientation,
            frames,
            capture,
        })
    }

    /// The clock of this clip; `stated` is the capture rate that a person
    /// gives, which wins over what the file says.
    pub fn clock(&self, stated: Option<Rate>) -> Clock {
        Clock::decide(&self.frames, &self.capture, stated)
    }
}

/// A phone maker's trailer closes the file with `SEFT`.
fn refuse_trailer<R: Read + Seek>(source: &mut Source<R>) -> Result<(), ClipError> {
    let offset = source.length().saturating_sub(4);
    let mut close = [0_u8; 4];
    source.read(offset, &mut close)?;
    if close == *b"SEFT" {
        return Err(ClipError::VendorTrailer { offset });
    }
    Ok(())
}

#[cfg(test)]
mod tests;
