//! Frame times of an MP4 or QuickTime file, and its clock.
//!
//! The reader walks boxes only (ISO/IEC 14496-12 and the QuickTime File
//! Format) and never loads media data. Every count is checked against the box
//! it stands in and against a limit before anything is allocated or walked, so
//! a damaged file ends in a [`ClipError`] that names box and byte offset.
//! The memory of [`Clip::read`] grows by 8 bytes a frame and stays below 64 MiB
//! whatever a file claims. Times stay integers: ticks of the track's timescale,
//! with no floating-point seconds anywhere in this module.
//!
//! What it does not read: the media itself, and any metadata but the capture
//! rate; of a phone maker's trailer only the names of what is in it. Where a clip
//! was recorded is neither kept nor shown.
//!
//! * [`Clip::read`]: a reader → tracks, frame times, what the file says of its
//!   capture rate. The frames may lie in the movie box, in fragments, or both.
//! * [`Clip::clock`]: real, stretched, mixed or unknown, with the evidence
//!   and the exact [`Pace`].
//! * [`Media`]: where the coded pictures lie, for whoever decodes them.
//! * [`identity`] and [`FrameTable::digest`]: which clip it is.

#![deny(clippy::as_conversions)]

mod capture;
mod chunk;
mod clock;
mod edit;
mod error;
mod fragment;
mod frames;
mod identity;
mod media;
mod movie;
mod rate;
mod repeat;
mod source;
mod table;
mod track;
mod trailer;

use std::io::{Read, Seek};

pub use capture::{CaptureSource, CaptureTag};
pub use clock::{Clock, ClockKind, Pace};
pub use error::{ClipError, FourCc, Parent};
pub use frames::{FrameTable, Gap};
pub use identity::identity;
pub use media::{Codec, Media, Sample};
pub use rate::Rate;
pub use track::{Orientation, Track, TrackKind};

use source::Source;

/// What a file says about its frames.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clip {
    /// Every track, in the order of the file.
    pub tracks: Vec<Track>,
    /// Which of them is read, as an index.
    pub chosen: usize,
    /// How the chosen track is turned for display.
    pub orientation: Orientation,
    /// The frame times of the chosen track.
    pub frames: FrameTable,
    /// What the file says about its capture rate, often nothing.
    pub capture: Vec<CaptureTag>,
    /// A phone maker's trailer says that a part was recorded slowed.
    pub slowed_part: bool,
    /// A phone maker's trailer says that frames were interpolated.
    pub interpolated: bool,
}

impl Clip {
    /// Reads the tables of a clip, of the track that a player would show: the
    /// first enabled video track that has frames, where there is none the first
    /// that has frames.
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
    /// As [`Self::read`]; [`ClipError::NoSuchTrack`] where the file has no track
    /// of this number, [`ClipError::NotAVideo`] where that is no video.
    pub fn read_track<R: Read + Seek>(reader: R, id: Option<u32>) -> Result<Self, ClipError> {
        let mut source = Source::new(reader)?;
        let (movie, trailer) = movie::read(&mut source, id, false)?;
        movie.finish(&mut source, trailer)
    }

    /// The clock of this clip; `stated` is the capture rate that a person
    /// gives, which wins over what the file says.
    pub fn clock(&self, stated: Option<Rate>) -> Clock {
        Clock::decide(self, stated)
    }
}

#[cfg(test)]
mod tests;
