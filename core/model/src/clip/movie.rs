//! The movie box, and the frames of the track that is read.

use std::io::{Read, Seek};

use super::error::ClipError;
use super::fragment::{self, Defaults};
use super::frames::FrameTable;
use super::source::{BoxAt, Source, required};
use super::table::{self, Timeline};
use super::track::{self, Found};
use super::trailer::Trailer;
use super::{Clip, capture, edit};

/// A movie as far as it was read: its tables, and the fragments so far.
pub(super) struct Movie {
    boxes: Vec<BoxAt>,
    timescale: u32,
    tracks: Vec<Found>,
    chosen: usize,
    defaults: Defaults,
    timeline: Timeline,
}

impl Movie {
    /// Reads the movie box `moov`, and in it the track with the number
    /// `wanted`, or else the one that a player shows.
    pub(super) fn read<R: Read + Seek>(
        source: &mut Source<R>,
        moov: &BoxAt,
        wanted: Option<u32>,
    ) -> Result<Self, ClipError> {
        let boxes = source.children(moov, 0)?;
        let mvhd = required(&boxes, b"mvhd", moov.parent())?;
        let timescale = track::timescale(source, &mvhd)?;
        let announced = fragment::announced(source, &boxes)?;
        let tracks = track::read_all(source, &boxes)?;
        let chosen = match wanted {
            Some(id) => track::find(&tracks, id)?,
            None => {
                let announced: Vec<u32> = announced.iter().map(|(id, _)| *id).collect();
                track::choose(&tracks, &announced).ok_or(ClipError::NoVideo)?
            }
        };
        let video = tracks.get(chosen).ok_or(ClipError::NoVideo)?;
        let defaults = announced.iter().find(|(id, _)| *id == video.shown.id);
        let defaults = defaults.map(|(_, defaults)| *defaults).unwrap_or_default();
        let timeline = table::read(source, &video.sample_tables)?;
        Ok(Self { boxes, timescale, tracks, chosen, defaults, timeline })
    }

    /// Adds the frames of the fragment `moof`.
    pub(super) fn append<R: Read + Seek>(
        &mut self,
        source: &mut Source<R>,
        moof: &BoxAt,
    ) -> Result<(), ClipError> {
        let id = self.tracks.get(self.chosen).ok_or(ClipError::NoVideo)?.shown.id;
        fragment::append(source, moof, id, self.defaults, &mut self.timeline)
    }

    /// The clip, when all fragments were added.
    pub(super) fn finish<R: Read + Seek>(
        mut self,
        source: &mut Source<R>,
        trailer: Option<Trailer>,
    ) -> Result<Clip, ClipError> {
        let video = self.tracks.get_mut(self.chosen).ok_or(ClipError::NoVideo)?;
        if self.timeline.ticks.is_empty() {
            return Err(ClipError::NoFrames { id: video.shown.id });
        }
        video.shown.samples = u64::try_from(self.timeline.ticks.len()).unwrap_or(u64::MAX);
        let repeated = self.timeline.repeats.finish(self.timeline.sync);
        let mut frames = FrameTable::new(video.shown.timescale, self.timeline.ticks, repeated);
        if let Some(elst) = video.edits(source)? {
            edit::apply(source, &elst, self.timescale, &mut frames)?;
        }
        Ok(Clip {
            orientation: video.orientation,
            tracks: self.tracks.into_iter().map(|track| track.shown).collect(),
            chosen: self.chosen,
            frames,
            capture: capture::read(source, &self.boxes)?,
            slowed_part: trailer.is_some_and(|trailer| trailer.slowed_part),
            interpolated: trailer.is_some_and(|trailer| trailer.interpolated),
        })
    }
}
