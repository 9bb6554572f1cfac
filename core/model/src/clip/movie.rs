//! The movie box, and the frames of the track that is read.

use std::io::{Read, Seek};

use super::error::{ClipError, FourCc, Parent};
use super::fragment::{self, Defaults};
use super::frames::FrameTable;
use super::media::{self, Media};
use super::source::{BoxAt, Row, Source, required};
use super::table::{self, Timeline};
use super::track::{self, Found};
use super::trailer::{self, Trailer};
use super::{Clip, capture, edit};

/// What a file can begin with.
const FIRST_BOXES: [&[u8; 4]; 9] =
    [b"ftyp", b"moov", b"mdat", b"free", b"skip", b"wide", b"pnot", b"uuid", b"styp"];

/// Reads the movie box and all fragments; `places` asks for where the pictures lie too.
pub(super) fn read<R: Read + Seek>(
    source: &mut Source<R>,
    wanted: Option<u32>,
    places: bool,
) -> Result<(Movie, Option<Trailer>), ClipError> {
    if source.length() == 0 {
        return Err(ClipError::Empty);
    }
    let first = source.first()?.ok_or(ClipError::NotAClip)?;
    if !FIRST_BOXES.contains(&&first.0) {
        return Err(ClipError::NotAClip);
    }
    let trailer = trailer::read(source)?;
    let mut row = Row::top(source, trailer.map(|trailer| trailer.offset));
    let mut movie: Option<Movie> = None;
    // Fragments before the movie box, which wait for it: no more than boxes side by side.
    let mut early = Vec::new();
    let mut media = false;
    while let Some(next) = row.next(source)? {
        match (&next.kind.0, &mut movie) {
            (b"moov", None) => {
                let read = movie.insert(Movie::read(source, &next, wanted, places)?);
                for moof in early.drain(..) {
                    read.append(source, &moof)?;
                }
            }
            (b"moov", Some(_)) => return Err(ClipError::Repeated { kind: next.kind, offset: next.offset }),
            (b"moof", None) => early.push(next),
            (b"moof", Some(movie)) => movie.append(source, &next)?,
            (b"mdat", _) => media = true,
            _ => {}
        }
    }
    let movie = movie.ok_or(ClipError::Missing { kind: FourCc(*b"moov"), parent: Parent::File })?;
    // A file cut off between its tables and its media has nothing to watch.
    if !media {
        return Err(ClipError::Missing { kind: FourCc(*b"mdat"), parent: Parent::File });
    }
    Ok((movie, trailer))
}

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
        places: bool,
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
        let timeline = table::read(source, &video.sample_tables, places)?;
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

    /// The coded pictures, when all fragments were added.
    pub(super) fn media<R: Read + Seek>(self, source: &mut Source<R>) -> Result<Media, ClipError> {
        let video = self.tracks.get(self.chosen).ok_or(ClipError::NoVideo)?;
        if self.timeline.ticks.is_empty() {
            return Err(ClipError::NoFrames { id: video.shown.id });
        }
        let codec = media::codec(source, &video.sample_tables)?;
        let mut samples = self.timeline.places.unwrap_or_default();
        media::number(&self.timeline.ticks, &mut samples);
        Ok(Media { codec, samples })
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
