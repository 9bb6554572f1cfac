//! What other readers say of a clip.

use std::fs::File;
use std::io::{BufReader, Seek, SeekFrom};
use std::path::Path;
use std::process::Command;

use mp4_atom::{Atom, Header, Moof, Moov, ReadAtom, ReadFrom, Trak};

/// What ffprobe says: packet times of the first video track with the edit list
/// ignored, in display order, and the clockwise turn.
pub(super) fn ffprobe(path: &Path) -> (Vec<i64>, u16) {
    let ask = |what: &[&str]| {
        let done = Command::new("ffprobe")
            .args(["-v", "error", "-ignore_editlist", "1", "-select_streams", "v:0"])
            .args(what)
            .args(["-of", "csv=p=0"])
            .arg(path)
            .output()
            .unwrap();
        assert!(done.status.success(), "{}: {done:?}", path.display());
        String::from_utf8(done.stdout).unwrap()
    };
    let mut times: Vec<i64> = ask(&["-show_entries", "packet=pts"])
        .split_whitespace()
        .map(|pts| pts.trim_end_matches(',').parse().unwrap())
        .collect();
    times.sort_unstable();
    // Counter-clockwise, between −180 and 180; no line where nothing is turned.
    let rotation = ask(&["-show_entries", "stream_side_data=rotation"]);
    let rotation: i64 = rotation.trim().trim_matches(',').parse().unwrap_or(0);
    (times, u16::try_from((-rotation).rem_euclid(360)).unwrap())
}

/// Where ffprobe finds the packets of the first video track, in decoding order: byte,
/// size, presentation time, and whether it is a key.
pub(super) fn packets(path: &Path) -> Vec<(u64, u32, i64, bool)> {
    let done = Command::new("ffprobe")
        .args(["-v", "error", "-ignore_editlist", "1", "-select_streams", "v:0"])
        .args(["-show_entries", "packet=pts,size,pos,flags", "-of", "csv=p=0"])
        .arg(path)
        .output()
        .unwrap();
    assert!(done.status.success(), "{}: {done:?}", path.display());
    let packet = |line: &str| {
        let [pts, size, at, flags, ..] = line.split(',').collect::<Vec<_>>()[..] else { panic!("{line}") };
        (at.parse().unwrap(), size.parse().unwrap(), pts.parse().unwrap(), flags.starts_with('K'))
    };
    String::from_utf8(done.stdout).unwrap().lines().map(packet).collect()
}

/// What mp4parse says of the frames in the movie box of video track `id`: it
/// does not read fragments. Without the shift of the edit list.
pub(super) fn mp4parse(path: &Path, id: u32) -> Vec<i64> {
    let mut file = BufReader::new(File::open(path).unwrap());
    let context =
        mp4parse::read_mp4(&mut file).unwrap_or_else(|error| panic!("{}: {error:?}", path.display()));
    let track = context.tracks.iter().find(|track| track.track_id == Some(id)).unwrap();
    let table = mp4parse::unstable::create_sample_table(track, 0.into()).unwrap();
    let mut times: Vec<i64> = table.iter().map(|frame| frame.start_composition.0).collect();
    times.sort_unstable();
    times
}

/// How a composition offset of version 0 is taken, which mp4-atom reads as
/// unsigned.
#[derive(Clone, Copy)]
pub(super) enum Offsets {
    AsRead,
    Signed,
}

/// What mp4-atom reads out of the tables of video track `id`, expanded here:
/// frame times of the movie box and of the fragments, shifted by the edit list.
pub(super) fn mp4_atom(path: &Path, id: u32, offsets: Offsets) -> Vec<i64> {
    let mut file = BufReader::new(File::open(path).unwrap());
    let mut movie: Option<Moov> = None;
    let mut times = Vec::new();
    let mut next = 0;
    let taken = |offset: i64| match offsets {
        Offsets::AsRead => offset,
        Offsets::Signed => offset - if offset > i64::from(i32::MAX) { 1 << 32 } else { 0 },
    };
    while let Ok(header) = Header::read_from(&mut file) {
        match header.kind {
            Moov::KIND => {
                let moov = Moov::read_atom(&header, &mut file).unwrap();
                next = expand(track(&moov, id), taken, &mut times);
                movie = Some(moov);
            }
            Moof::KIND => {
                let moof = Moof::read_atom(&header, &mut file).unwrap();
                let trex = movie.as_ref().and_then(|moov| moov.mvex.as_ref());
                let trex = trex.and_then(|mvex| mvex.trex.iter().find(|trex| trex.track_id == id)).unwrap();
                for traf in moof.traf.iter().filter(|traf| traf.tfhd.track_id == id) {
                    if let Some(tfdt) = &traf.tfdt {
                        next = i64::try_from(tfdt.base_media_decode_time).unwrap();
                    }
                    let usual = traf.tfhd.default_sample_duration.unwrap_or(trex.default_sample_duration);
                    for entry in traf.trun.iter().flat_map(|trun| trun.samples.iter()) {
                        times.push(next + taken(entry.cts.unwrap_or(0)));
                        next += i64::from(entry.duration.unwrap_or(usual));
                    }
                }
            }
            _ => {
                let size = header.size.unwrap_or(0);
                file.seek(SeekFrom::Current(i64::try_from(size).unwrap())).unwrap();
            }
        }
    }
    let shift = shift(&movie.unwrap(), id);
    times.sort_unstable();
    times.iter().map(|time| time + shift).collect()
}

fn track(moov: &Moov, id: u32) -> &Trak {
    moov.trak.iter().find(|trak| trak.tkhd.track_id == id).unwrap()
}

/// Expands `stts` and `ctts`; gives the time after the last frame.
fn expand(track: &Trak, taken: impl Fn(i64) -> i64, times: &mut Vec<i64>) -> i64 {
    let tables = &track.mdia.minf.stbl;
    let mut next = 0;
    for entry in &tables.stts.entries {
        for _ in 0..entry.sample_count {
            times.push(next);
            next += i64::from(entry.sample_delta);
        }
    }
    let offsets = tables.ctts.iter().flat_map(|ctts| &ctts.entries);
    let offsets =
        offsets.flat_map(|entry| (0..entry.sample_count).map(|_| entry.sample_offset).collect::<Vec<_>>());
    for (time, offset) in times.iter_mut().zip(offsets) {
        *time += taken(offset);
    }
    next
}

/// The empty edits before the first one that shows media, less where in the
/// media that begins.
fn shift(moov: &Moov, id: u32) -> i64 {
    let track = track(moov, id);
    let edits = track.edts.as_ref().and_then(|edts| edts.elst.as_ref());
    let mut empty = 0;
    for edit in edits.iter().flat_map(|elst| &elst.entries) {
        match edit.media_time {
            Some(media_time) => {
                let media = i128::from(track.mdia.mdhd.timescale);
                let movie = i128::from(moov.mvhd.timescale);
                let delay = (2 * empty * media + movie) / (2 * movie);
                return i64::try_from(delay - i128::from(media_time)).unwrap();
            }
            None => empty += i128::from(edit.segment_duration),
        }
    }
    0
}
