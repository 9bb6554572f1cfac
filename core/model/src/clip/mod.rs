//! Frame times of an MP4 or QuickTime file, and its clock.
//!
//! The reader walks boxes only (ISO/IEC 14496-12 and the QuickTime File
//! Format) and never loads media data. Every count is checked against the box
//! it stands in and against a limit before anything is allocated or walked, so
//! a damaged file ends in a [`ClipError`] that names box and byte offset.
//! Times stay integers: ticks of the track's timescale, with no floating-point
//! seconds anywhere in this module.
//!
//! What it does not read: the media itself, and any metadata but the capture rate; of
//! a phone maker's trailer only the names of what is in it.
//!
//! * [`Clip::read`]: a reader → tracks, frame times (of tables and fragments alike), what
//!   the file says of its capture rate.
//! * [`Clock::decide`]: real, stretched, mixed or unknown, with the evidence
//!   and the exact [`Pace`].

#![deny(clippy::as_conversions)]

mod capture;
mod clock;
mod error;
mod fragments;
mod frames;
mod rate;
mod source;
mod track;
mod trailer;

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
    /// A phone maker's trailer says that a part was recorded slowed.
    pub slowed_part: bool,
}

impl Clip {
    /// Reads the tables of a clip, of the track that a player would show.
    ///
    /// # Errors
    /// [`ClipError`] where the file cannot be read, is no clip, or is damaged.
    pub fn read<R: Read + Seek>(reader: R) -> Result<Self, ClipError> {
        Self::read_track(reader, None)
    }

    /// Reads the tables of a clip, of the video track with this number where one is
    /// given: a person's choice.
    ///
    /// # Errors
    /// As [`Self::read`]; [`ClipError::NoSuchTrack`] where the file has no video track
    /// of this number.
    pub fn read_track<R: Read + Seek>(reader: R, id: Option<u32>) -> Result<Self, ClipError> {
        let mut source = Source::new(reader)?;
        if source.length() == 0 {
            return Err(ClipError::Empty);
        }
        let first = source.first()?.ok_or(ClipError::NotAClip)?;
        if !FIRST_BOXES.contains(&&first.0) {
            return Err(ClipError::NotAClip);
        }
        let trailer = trailer::read(&mut source)?;
        let top = source.top(trailer.map(|trailer| trailer.offset))?;
        let moov = required(&top, b"moov", Parent::File)?;
        let movie = source.children(&moov, 0)?;
        // A file cut off between its tables and its media has nothing to watch.
        if !top.iter().any(|found| &found.kind.0 == b"mdat") {
            return Err(ClipError::Missing { kind: FourCc(*b"mdat"), parent: Parent::File });
        }
        let mvhd = required(&movie, b"mvhd", moov.parent())?;
        let movie_timescale = track::timescale(&mut source, &mvhd)?;

        let found = track::read_all(&mut source, &movie)?;
        let chosen = track::choose(&found, id)?;
        let Some(video) = found.get(chosen) else {
            return Err(ClipError::NoVideo);
        };
        let orientation = video.orientation;
        let tables = video.tables(&mut source, movie_timescale)?;
        let frames = frames::read(&mut source, &top, &movie, &tables)?;
        let capture = capture::read(&mut source, &movie)?;
        Ok(Self {
            tracks: found.into_iter().map(|track| track.shown).collect(),
            chosen,
            orientation,
            frames,
            capture,
            slowed_part: trailer.is_some_and(|trailer| trailer.slowed),
        })
    }

    /// The clock of this clip; `stated` is the capture rate that a person
    /// gives, which wins over what the file says.
    pub fn clock(&self, stated: Option<Rate>) -> Clock {
        Clock::decide(&self.frames, &self.capture, self.slowed_part, stated)
    }
}

#[cfg(test)]
mod tests;
