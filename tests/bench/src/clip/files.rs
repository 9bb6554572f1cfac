//! The clips that are read: the real ones, and long ones that ffmpeg writes.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::Failure;

/// Frames that are coded; longer clips repeat them without coding anew.
const CODED: u32 = 400;

/// The real clips of the repository, whole and cut.
pub fn shared() -> Result<Vec<PathBuf>, Failure> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../published/data/clips");
    let mut clips = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        let cut = path.to_str().is_some_and(|path| path.ends_with(".cut.mp4"));
        // A cut clip has no media: ffprobe would find no packet in it.
        if path.extension().is_some_and(|extension| extension == "mp4") && !cut {
            clips.push(path);
        }
    }
    clips.sort();
    Ok(clips)
}

/// A folder of long clips, gone at the end.
pub struct Files(tempfile::TempDir);

impl Files {
    pub fn new() -> Result<Self, Failure> {
        let files = Self(tempfile::TempDir::with_prefix("bench-clips-")?);
        // B-frames, so that every frame has an offset of its own.
        let drawn = format!("testsrc2=size=64x64:rate=240:duration={}", f64::from(CODED) / 240.0);
        let coder = ["-c:v", "libx264", "-preset", "veryfast", "-bf", "2", "-flags", "+cgop"];
        let shape = ["-pix_fmt", "yuv420p", "-video_track_timescale", "90000"];
        let input = ["-f", "lavfi", "-i", drawn.as_str()];
        ffmpeg(&[&input[..], &coder, &shape].concat(), &files.path("coded"))?;
        Ok(files)
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(format!("{name}.mp4"))
    }

    /// A clip of `frames` frames, a multiple of those coded, its tables last.
    pub fn plain(&self, frames: u32) -> Result<PathBuf, Failure> {
        self.looped(frames, "plain", &[])
    }

    /// The three forms of one clip: tables last, tables first, in fragments of
    /// about a second.
    pub fn forms(&self, frames: u32) -> Result<[PathBuf; 3], Failure> {
        Ok([
            self.plain(frames)?,
            self.looped(frames, "first", &["-movflags", "+faststart"])?,
            self.looped(
                frames,
                "fragments",
                &["-movflags", "empty_moov+default_base_moof", "-frag_duration", "1000000"],
            )?,
        ])
    }

    fn looped(&self, frames: u32, form: &str, arguments: &[&str]) -> Result<PathBuf, Failure> {
        let path = self.path(&format!("{form}-{frames}"));
        let times = (frames / CODED - 1).to_string();
        let coded = self.path("coded");
        let coded = coded.to_str().ok_or("a path that is no text")?;
        let copy = ["-stream_loop", &times, "-i", coded, "-c", "copy"];
        ffmpeg(&[&copy[..], arguments].concat(), &path)?;
        Ok(path)
    }
}

fn ffmpeg(arguments: &[&str], path: &Path) -> Result<(), Failure> {
    let mut command = Command::new("ffmpeg");
    command.args(["-v", "error", "-nostdin", "-y"]).args(arguments).arg(path);
    let done = command.output().map_err(|error| format!("ffmpeg (Debian package ffmpeg): {error}"))?;
    if done.status.success() { Ok(()) } else { Err(String::from_utf8_lossy(&done.stderr).into()) }
}
