//! Pictures for a browser that cannot decode a clip: an installed ffmpeg draws them
//! anew, one for one, small and quick to step through. Times are never taken from them.

use std::ffi::OsString;
use std::fs::File;
use std::io::{self, BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use pitside_model::clip::Media;
use tempfile::TempPath;

/// Frames that are drawn at most: a minute and a half at 240 a second.
const MAX_FRAMES: usize = 21_600;

/// Bytes of the pictures of one clip; ffmpeg ends there.
const MAX_BYTES: u64 = 4 << 30;

/// How often it is looked whether ffmpeg has ended, once it has said everything.
const LOOK: Duration = Duration::from_millis(20);

/// How far the pictures of one clip are.
#[derive(Clone)]
pub(super) enum Drawing {
    /// Nobody asked for them.
    Unasked,
    /// So many of all.
    Underway(usize),
    /// All are there.
    Drawn(Arc<Drawn>),
    /// There will be none, and why.
    Failed(String),
}

/// The pictures, with the frame numbers of the clip.
pub(super) struct Drawn {
    /// Where their file lies; deleted with it.
    pub(super) path: TempPath,
    /// Where each lies in it.
    pub(super) media: Media,
}

/// What the thread that draws shares.
struct Shared {
    drawing: Drawing,
    /// Ended where nobody wants the pictures any more.
    child: Option<Child>,
}

/// The pictures of one clip, drawn when they are asked for.
pub(super) struct Pictures {
    folder: PathBuf,
    track: Option<u32>,
    frames: usize,
    shared: Arc<Mutex<Shared>>,
}

impl Drop for Pictures {
    fn drop(&mut self) {
        if let Some(child) = &mut lock(&self.shared).child {
            // It may have ended by itself; the thread that follows it sees that, and
            // deletes what was drawn.
            let _ = child.kill();
        }
    }
}

fn lock(shared: &Mutex<Shared>) -> std::sync::MutexGuard<'_, Shared> {
    shared.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Pictures {
    /// None yet. They will lie in `folder`.
    pub(super) fn new(folder: &Path, track: Option<u32>, frames: usize) -> Self {
        let shared = Shared { drawing: Drawing::Unasked, child: None };
        Self { folder: folder.to_owned(), track, frames, shared: Arc::new(Mutex::new(shared)) }
    }

    /// How far they are.
    pub(super) fn drawing(&self) -> Drawing {
        lock(&self.shared).drawing.clone()
    }

    /// Begins to draw the pictures of the clip at `path`, once.
    pub(super) fn draw(&self, path: &Path) {
        let mut shared = lock(&self.shared);
        if !matches!(shared.drawing, Drawing::Unasked) {
            return;
        }
        match self.start(path) {
            Ok((child, to)) => {
                shared.drawing = Drawing::Underway(0);
                shared.child = Some(child);
                let (frames, all) = (self.frames, Arc::clone(&self.shared));
                std::thread::spawn(move || follow(&all, to, frames));
            }
            Err(why) => shared.drawing = Drawing::Failed(why),
        }
    }

    fn start(&self, path: &Path) -> Result<(Child, TempPath), String> {
        if self.frames > MAX_FRAMES {
            return Err(format!(
                "The clip has {} frames; pictures are drawn for {MAX_FRAMES} at most. Cut it around the contacts.",
                self.frames
            ));
        }
        let to = tempfile::Builder::new()
            .suffix(".mp4")
            .tempfile_in(&self.folder)
            .map_err(|e| format!("There is no room for the pictures: {e}."))?
            .into_temp_path();
        // The track by its number in the file; without one the first video.
        let track = self.track.map_or_else(|| "0:v:0".to_owned(), |id| format!("0:i:{id}"));
        // A path, whatever colons it has.
        let mut from = OsString::from("file:");
        from.push(path);
        let child = Command::new("ffmpeg")
            // Local files only, whatever the clip refers to, and what was read as a clip
            // here is read as one there.
            .args(["-nostdin", "-v", "error", "-protocol_whitelist", "file,pipe", "-f", "mov"])
            .args(["-ignore_editlist", "1", "-noautorotate", "-i"])
            .arg(from)
            .args(["-map", &track, "-an", "-fps_mode", "passthrough"])
            .args(["-vf", "scale='min(1280,iw)':-2", "-c:v", "libx264", "-preset", "ultrafast", "-crf", "18"])
            .args(["-g", "12", "-bf", "0", "-pix_fmt", "yuv420p", "-progress", "pipe:1", "-y"])
            .args(["-fs", &MAX_BYTES.to_string()])
            .arg(&to)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn();
        let child = child.map_err(|e| {
            let why = match e.kind() {
                io::ErrorKind::NotFound => "is not installed".to_owned(),
                _ => format!("could not be started: {e}"),
            };
            format!(
                "This browser cannot decode the clip, and ffmpeg, which could draw its pictures, {why}. \
                 Frames can still be marked by their times."
            )
        })?;
        Ok((child, to))
    }
}

/// Counts the frames as they are drawn, and looks at what came out.
fn follow(shared: &Mutex<Shared>, to: TempPath, frames: usize) {
    let (out, err) = match &mut lock(shared).child {
        Some(child) => (child.stdout.take(), child.stderr.take()),
        None => (None, None),
    };
    // Read apart: a full pipe would hold ffmpeg up.
    let said = err
        .map(|err| std::thread::spawn(move || BufReader::new(err).split(b'\n').map_while(Result::ok).last()));
    for line in out.into_iter().flat_map(|out| BufReader::new(out).lines().map_while(Result::ok)) {
        if let Some(done) = line.strip_prefix("frame=").and_then(|done| done.trim().parse().ok()) {
            lock(shared).drawing = Drawing::Underway(done);
        }
    }
    let said = said.and_then(|said| said.join().ok().flatten());
    let said = said.map(|said| String::from_utf8_lossy(&said).into_owned());
    let well = ended(shared).is_some_and(|status| status.success());
    let read = || Media::read(File::open(&to).ok()?, None).ok();
    let drawing = match (well, read()) {
        // One picture for each frame, or they would stand beside other frames' times.
        (true, Some(media)) if media.samples.len() == frames => {
            Drawing::Drawn(Arc::new(Drawn { path: to, media }))
        }
        (true, Some(media)) => Drawing::Failed(format!(
            "ffmpeg drew {} pictures for {frames} frames, so none can be trusted.",
            media.samples.len()
        )),
        _ => Drawing::Failed(format!(
            "ffmpeg cannot decode the clip: {}.",
            said.unwrap_or_else(|| "it gave no reason".to_owned())
        )),
    };
    lock(shared).drawing = drawing;
}

/// Waits for ffmpeg to end, which it can be made to meanwhile.
fn ended(shared: &Mutex<Shared>) -> Option<ExitStatus> {
    loop {
        let mut held = lock(shared);
        match held.child.as_mut()?.try_wait() {
            Ok(None) => {}
            Ok(status) => {
                held.child = None;
                return status;
            }
            Err(_) => return None,
        }
        drop(held);
        std::thread::sleep(LOOK);
    }
}
