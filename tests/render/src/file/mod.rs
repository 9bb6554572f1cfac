//! Frames → an MP4 as a phone writes slow motion: stored at 30 frames a second,
//! the capture rate in a key.

mod capture_key;

use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};

use crate::clip::{Clip, STORED_RATE_HZ};
use crate::picture::{self, HEIGHT, WIDTH};

pub use capture_key::Misplaced;

/// Why a clip could not be written.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// ffmpeg could not be started.
    #[error("ffmpeg could not be started: {0}")]
    Start(io::Error),
    /// ffmpeg took no more frames.
    #[error("ffmpeg stopped reading at frame {frame}: {source}")]
    Frame {
        /// The frame that was not taken.
        frame: u32,
        /// What the pipe said.
        source: io::Error,
    },
    /// ffmpeg failed.
    #[error("ffmpeg failed: {0}")]
    Encode(ExitStatus),
    /// The file could not be read or written again.
    #[error("{path}: {source}")]
    File {
        /// The video file.
        path: PathBuf,
        /// What the file system said.
        source: io::Error,
    },
    /// The file has no place for the capture key.
    #[error("{path}: {source}")]
    Key {
        /// The video file.
        path: PathBuf,
        /// What stands in the way.
        source: Misplaced,
    },
}

/// Draws and encodes a clip. An older file is replaced.
///
/// The same ffmpeg and x264 write the same bytes every time.
///
/// # Errors
/// Where ffmpeg or the file fails.
pub fn write(clip: &Clip, path: &Path) -> Result<(), WriteError> {
    let mut ffmpeg = encoder(path).map_err(WriteError::Start)?;
    let sent = send_frames(clip, &mut ffmpeg);
    let status = ffmpeg.wait().map_err(WriteError::Start)?;
    // A broken pipe follows from the encoder's failure, which says more.
    if !status.success() {
        return Err(WriteError::Encode(status));
    }
    sent?;

    let file_error = |source| WriteError::File { path: path.to_owned(), source };
    let bytes = std::fs::read(path).map_err(file_error)?;
    let bytes = capture_key::append(bytes, clip.capture_rate_hz)
        .map_err(|source| WriteError::Key { path: path.to_owned(), source })?;
    std::fs::write(path, bytes).map_err(file_error)
}

fn encoder(path: &Path) -> io::Result<Child> {
    Command::new("ffmpeg")
        .args(["-nostdin", "-loglevel", "error", "-y"])
        .args(["-f", "rawvideo", "-pix_fmt", "rgb24"])
        .args(["-s", &format!("{WIDTH}x{HEIGHT}")])
        .args(["-r", &STORED_RATE_HZ.to_string(), "-i", "pipe:0"])
        .args(["-sws_flags", "bitexact+accurate_rnd+full_chroma_int"])
        .args(["-pix_fmt", "yuv420p", "-colorspace", "smpte170m"])
        // B-frames as phones write them: decode order is not display order.
        // A key frame a quarter of a second apart keeps stepping quick.
        .args(["-c:v", "libx264", "-preset", "veryslow", "-crf", "23"])
        .args(["-bf", "2", "-g", "60", "-threads", "1"])
        .args(["-fflags", "+bitexact", "-flags:v", "+bitexact"])
        .args(["-video_track_timescale", "90000", "-f", "mp4"])
        .arg(path)
        .stdin(Stdio::piped())
        .spawn()
}

/// Sends every frame and closes the pipe.
fn send_frames(clip: &Clip, ffmpeg: &mut Child) -> Result<(), WriteError> {
    let Some(mut pipe) = ffmpeg.stdin.take() else {
        return Err(WriteError::Start(io::ErrorKind::BrokenPipe.into()));
    };
    for frame in 0..clip.frames {
        pipe.write_all(&picture::draw(clip, frame)).map_err(|source| WriteError::Frame { frame, source })?;
    }
    Ok(())
}
