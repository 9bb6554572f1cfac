//! A scene as an application gets it: encoded, decoded again, made smaller.
//!
//! No file is written: the stream goes from one ffmpeg to the other.

use std::io::{self, Read as _, Write as _};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread;

use super::Scene;
use crate::picture::{HEIGHT, WIDTH};

/// Why a scene could not be filmed.
#[derive(Debug, thiserror::Error)]
pub enum FilmError {
    /// ffmpeg could not be started, or its pipes failed.
    #[error("ffmpeg: {0}")]
    Pipe(#[from] io::Error),
    /// ffmpeg failed.
    #[error("ffmpeg failed: {0}")]
    Failed(ExitStatus),
    /// Another number of bytes than the frames have came back.
    #[error("{found} bytes were decoded, {wanted} were drawn")]
    Length {
        /// What came back.
        found: usize,
        /// What was expected.
        wanted: usize,
    },
}

/// Decoded brightness of a whole scene.
pub struct Film {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    luma: Vec<u8>,
}

impl Film {
    /// Draws, encodes and decodes a scene, at half its size.
    ///
    /// # Errors
    /// Where ffmpeg fails.
    pub fn of(scene: &Scene) -> Result<Self, FilmError> {
        let (width, height) = (WIDTH / 2, HEIGHT / 2);
        let drawn = (0..scene.frames).map(|frame| scene.draw(frame));
        let encoded = through(&mut encoder(scene), drawn)?;
        let luma = through(&mut decoder(width, height), std::iter::once(encoded))?;
        let wanted = scene.frames as usize * width * height;
        if luma.len() != wanted {
            return Err(FilmError::Length { found: luma.len(), wanted });
        }
        Ok(Self { width, height, luma })
    }

    /// The frames in order.
    pub fn frames(&self) -> impl Iterator<Item = &[u8]> {
        self.luma.chunks_exact(self.width * self.height)
    }
}

fn quiet() -> Command {
    let mut ffmpeg = Command::new("ffmpeg");
    ffmpeg.args(["-loglevel", "error"]);
    ffmpeg
}

fn encoder(scene: &Scene) -> Command {
    let mut ffmpeg = quiet();
    ffmpeg
        .args(["-f", "rawvideo", "-pix_fmt", "gray", "-s", &format!("{WIDTH}x{HEIGHT}")])
        .args(["-r", "30", "-i", "pipe:0", "-pix_fmt", "yuv420p"])
        .args(["-c:v", "libx264", "-preset", "veryfast", "-crf", &scene.quality.crf.to_string()])
        .args(["-bf", "2", "-g", "30", "-threads", "1", "-f", "h264", "pipe:1"]);
    ffmpeg
}

fn decoder(width: usize, height: usize) -> Command {
    let mut ffmpeg = quiet();
    ffmpeg
        .args(["-f", "h264", "-i", "pipe:0", "-fps_mode", "passthrough"])
        .args(["-vf", &format!("scale={width}:{height}:flags=area,format=gray")])
        .args(["-f", "rawvideo", "pipe:1"]);
    ffmpeg
}

/// Sends pieces through a program while its answer is read.
fn through(command: &mut Command, pieces: impl Iterator<Item = Vec<u8>>) -> Result<Vec<u8>, FilmError> {
    let mut child: Child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn()?;
    let (input, output) = (child.stdin.take(), child.stdout.take());
    let (Some(mut input), Some(mut output)) = (input, output) else {
        return Err(io::Error::from(io::ErrorKind::BrokenPipe).into());
    };
    let reader = thread::spawn(move || {
        let mut answer = Vec::new();
        output.read_to_end(&mut answer).map(|_| answer)
    });
    let mut sent = Ok(());
    for piece in pieces {
        sent = input.write_all(&piece);
        if sent.is_err() {
            break;
        }
    }
    drop(input);
    let status = child.wait()?;
    // A broken pipe follows from the program's failure, which says more.
    if !status.success() {
        return Err(FilmError::Failed(status));
    }
    sent?;
    Ok(reader.join().map_err(|_| io::Error::from(io::ErrorKind::BrokenPipe))??)
}
