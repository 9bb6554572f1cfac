//! The frame times of a clip in display order, by each reader.

use std::fs::File;
use std::io::BufReader;
use std::path::Path;
use std::str::FromStr;

use mp4_atom::{Atom, Header, Moof, Moov, ReadAtom, ReadFrom};
use pitside_model::clip::Clip;

use crate::Failure;

/// Who reads.
#[derive(Clone, Copy, Debug)]
pub enum Reader {
    Ours,
    Mp4parse,
    Mp4Atom,
}

impl FromStr for Reader {
    type Err = Failure;

    fn from_str(name: &str) -> Result<Self, Failure> {
        match name {
            "ours" => Ok(Self::Ours),
            "mp4parse" => Ok(Self::Mp4parse),
            "mp4-atom" => Ok(Self::Mp4Atom),
            _ => Err(format!("no reader {name}").into()),
        }
    }
}

impl Reader {
    /// How many frame times the file at `path` has, all of them worked out.
    pub fn index(self, path: &Path) -> Result<usize, Failure> {
        match self {
            Self::Ours => Ok(Clip::read(File::open(path)?)?.frames.ticks().len()),
            _ => self.times(path).map(|times| times.len()),
        }
    }

    /// The frame times of the file at `path`.
    pub fn times(self, path: &Path) -> Result<Vec<i64>, Failure> {
        let file = File::open(path)?;
        match self {
            Self::Ours => Ok(Clip::read(file)?.frames.ticks().to_vec()),
            Self::Mp4parse => mp4parse(file),
            Self::Mp4Atom => mp4_atom(file),
        }
    }
}

fn mp4parse(file: File) -> Result<Vec<i64>, Failure> {
    let context = mp4parse::read_mp4(&mut BufReader::new(file)).map_err(|error| format!("{error:?}"))?;
    let video = context.tracks.iter().find(|track| track.track_type == mp4parse::TrackType::Video);
    let video = video.ok_or("no video track")?;
    let table = mp4parse::unstable::create_sample_table(video, 0.into()).ok_or("no sample table")?;
    let mut times: Vec<i64> = table.iter().map(|frame| frame.start_composition.0).collect();
    times.sort_unstable();
    Ok(times)
}

fn mp4_atom(file: File) -> Result<Vec<i64>, Failure> {
    let mut file = BufReader::new(file);
    let mut times = Vec::new();
    let mut next = 0;
    // The number of the video track and its default duration in fragments.
    let mut video = (0, 0);
    while let Ok(header) = Header::read_from(&mut file) {
        match header.kind {
            Moov::KIND => {
                let moov = Moov::read_atom(&header, &mut file)?;
                let found = moov.trak.iter().find(|trak| trak.mdia.hdlr.handler == b"vide".into());
                let found = found.ok_or("no video track")?;
                let id = found.tkhd.track_id;
                let trex = moov.mvex.iter().flat_map(|mvex| &mvex.trex).find(|trex| trex.track_id == id);
                video = (id, trex.map_or(0, |trex| trex.default_sample_duration));
                let tables = &found.mdia.minf.stbl;
                for entry in &tables.stts.entries {
                    for _ in 0..entry.sample_count {
                        times.push(next);
                        next += i64::from(entry.sample_delta);
                    }
                }
                let mut left = times.iter_mut();
                for entry in tables.ctts.iter().flat_map(|ctts| &ctts.entries) {
                    for time in left.by_ref().take(entry.sample_count as usize) {
                        *time += entry.sample_offset;
                    }
                }
            }
            Moof::KIND => {
                let moof = Moof::read_atom(&header, &mut file)?;
                for traf in moof.traf.iter().filter(|traf| traf.tfhd.track_id == video.0) {
                    if let Some(tfdt) = &traf.tfdt {
                        next = i64::try_from(tfdt.base_media_decode_time)?;
                    }
                    let usual = traf.tfhd.default_sample_duration.unwrap_or(video.1);
                    for entry in traf.trun.iter().flat_map(|trun| trun.samples.iter()) {
                        times.push(next + entry.cts.unwrap_or(0));
                        next += i64::from(entry.duration.unwrap_or(usual));
                    }
                }
            }
            _ => file.seek_relative(i64::try_from(header.size.unwrap_or(0))?)?,
        }
    }
    times.sort_unstable();
    Ok(times)
}
