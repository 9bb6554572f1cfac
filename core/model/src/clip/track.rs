//! Tracks: what each one is, which one a player shows, how it is turned.

use std::io::{Read, Seek};

use super::error::{ClipError, FourCc};
use super::source::{BoxAt, Source, only, required};
use super::table;

/// Tracks of one file. A phone writes up to about six.
const MAX_TRACKS: u64 = 128;

/// What a track carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TrackKind {
    /// Pictures.
    Video,
    /// Sound.
    Sound,
    /// Anything else, by the name of its handler.
    Other(FourCc),
}

/// One track as the file describes it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Track {
    /// Its number in the file.
    pub id: u32,
    /// What it carries.
    pub kind: TrackKind,
    /// Whether the file says that it is to be played.
    pub enabled: bool,
    /// Ticks in a second; never 0.
    pub timescale: u32,
    /// How many samples (frames, for a video) it has: of the track that is
    /// read all, of the others those of the movie box.
    pub samples: u64,
}

/// How pictures are turned for display.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Orientation {
    /// The clockwise turn in degrees: 0, 90, 180 or 270.
    pub turn: u16,
    /// Whether the picture is also mirrored, left to right, before the turn.
    pub mirrored: bool,
}

/// A track with the places of its tables.
pub(super) struct Found {
    pub(super) shown: Track,
    pub(super) orientation: Orientation,
    pub(super) sample_tables: BoxAt,
    trak: BoxAt,
}

impl Found {
    /// The edit list of the track, if it has one.
    pub(super) fn edits<R: Read + Seek>(&self, source: &mut Source<R>) -> Result<Option<BoxAt>, ClipError> {
        match only(&source.children(&self.trak, 0)?, b"edts")? {
            Some(edts) => only(&source.children(&edts, 0)?, b"elst"),
            None => Ok(None),
        }
    }
}

/// All tracks of the movie box.
pub(super) fn read_all<R: Read + Seek>(
    source: &mut Source<R>,
    movie: &[BoxAt],
) -> Result<Vec<Found>, ClipError> {
    let mut found = Vec::new();
    let mut count = 0;
    for trak in movie.iter().filter(|inner| &inner.kind.0 == b"trak") {
        count += 1;
        if count > MAX_TRACKS {
            return Err(ClipError::TooMany {
                what: "tracks",
                offset: trak.offset,
                found: count,
                limit: MAX_TRACKS,
            });
        }
        found.push(read(source, trak)?);
    }
    Ok(found)
}

fn read<R: Read + Seek>(source: &mut Source<R>, trak: &BoxAt) -> Result<Found, ClipError> {
    let boxes = source.children(trak, 0)?;
    let tkhd = required(&boxes, b"tkhd", trak.parent())?;
    let mdia = required(&boxes, b"mdia", trak.parent())?;
    let media = source.children(&mdia, 0)?;
    let mdhd = required(&media, b"mdhd", mdia.parent())?;
    let hdlr = required(&media, b"hdlr", mdia.parent())?;
    let minf = required(&media, b"minf", mdia.parent())?;
    let stbl = required(&source.children(&minf, 0)?, b"stbl", minf.parent())?;

    let [version, _, _, flags] = source.field::<4>(&tkhd, 0)?;
    // ISO/IEC 14496-12, 8.3.2: times and duration have 64 bits in version 1.
    let (id_at, matrix_at) = match version {
        0 => (12, 40),
        1 => (20, 52),
        _ => return Err(tkhd.field_error("a track header has version 0 or 1")),
    };
    let kind = match FourCc(source.field::<4>(&hdlr, 8)?) {
        FourCc([b'v', b'i', b'd', b'e']) => TrackKind::Video,
        FourCc([b's', b'o', b'u', b'n']) => TrackKind::Sound,
        other => TrackKind::Other(other),
    };
    Ok(Found {
        shown: Track {
            id: source.u32(&tkhd, id_at)?,
            kind,
            enabled: flags & 1 == 1,
            timescale: timescale(source, &mdhd)?,
            samples: table::sample_count(source, &stbl)?,
        },
        orientation: orientation(source, &tkhd, matrix_at)?,
        sample_tables: stbl,
        trak: *trak,
    })
}

/// The timescale of `mvhd` or `mdhd`, which lie alike (8.2.2, 8.4.2).
pub(super) fn timescale<R: Read + Seek>(source: &mut Source<R>, header: &BoxAt) -> Result<u32, ClipError> {
    let timescale = match source.version(header)? {
        0 => source.u32(header, 12)?,
        1 => source.u32(header, 20)?,
        _ => return Err(header.field_error("the header has version 0 or 1")),
    };
    if timescale == 0 {
        return Err(header.field_error("a second has no ticks"));
    }
    Ok(timescale)
}

/// The track that a player shows: the first video that is enabled, else the
/// first video. One that has frames, or for which fragments are announced
/// (`announced`), comes before one that has none.
pub(super) fn choose(tracks: &[Found], announced: &[u32]) -> Option<usize> {
    let first = |suits: &dyn Fn(&Track) -> bool| {
        tracks.iter().position(|track| track.shown.kind == TrackKind::Video && suits(&track.shown))
    };
    let filled = |track: &Track| track.samples > 0 || announced.contains(&track.id);
    first(&|track| track.enabled && filled(track)).or_else(|| first(&filled)).or_else(|| first(&|_| true))
}

/// The video track that has the number `id`.
pub(super) fn find(tracks: &[Found], id: u32) -> Result<usize, ClipError> {
    let index = tracks.iter().position(|track| track.shown.id == id).ok_or_else(|| {
        ClipError::NoSuchTrack { id, tracks: tracks.iter().map(|track| track.shown.id).collect() }
    })?;
    match tracks.get(index).map(|track| track.shown.kind) {
        Some(TrackKind::Sound) => Err(ClipError::NotAVideo { id, handler: FourCc(*b"soun") }),
        Some(TrackKind::Other(handler)) => Err(ClipError::NotAVideo { id, handler }),
        Some(TrackKind::Video) | None => Ok(index),
    }
}

/// The turn out of the matrix of `tkhd` (6.2.2): rows (a b u), (c d v),
/// (x y w) send a picture's point (p, q), q downwards, to
/// (a·p + c·q + x, b·p + d·q + y).
fn orientation<R: Read + Seek>(
    source: &mut Source<R>,
    tkhd: &BoxAt,
    at: u64,
) -> Result<Orientation, ClipError> {
    let mut part =
        |index: u64| source.field(tkhd, at + 4 * index).map(|bytes| i64::from(i32::from_be_bytes(bytes)));
    let (a, b, c, d) = (part(0)?, part(1)?, part(3)?, part(4)?);
    let mirrored = i128::from(a) * i128::from(d) < i128::from(b) * i128::from(c);
    // Where the picture's rightward axis points after the turn; a mirror
    // before the turn sends it leftwards first.
    let (right, down) = if mirrored { (-a, -b) } else { (a, b) };
    let turn = if right.abs() >= down.abs() {
        if right >= 0 { 0 } else { 180 }
    } else if down > 0 {
        90
    } else {
        270
    };
    Ok(Orientation { turn, mirrored })
}
