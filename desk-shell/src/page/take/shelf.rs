//! The clips that are open for marking: read in place where the server may look, else
//! copied here while they are marked.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::SystemTime;

use axum::body::Body;
use data_encoding::HEXLOWER;
use http_body_util::BodyExt;
use pitside_book::keys::{OsRng, Rng};
use pitside_model::clip::{ClipError, Media};
use pitside_screen::OpenClip;
use tempfile::TempDir;

use super::pictures::Pictures;

/// Clips that are open at a time; opening another one closes the oldest.
const MAX_OPEN: usize = 4;

/// Bytes of one clip: twenty minutes of a phone's best.
const MAX_BYTES: u64 = 8 << 30;

/// Clips of the folder that are listed, the newest first.
const MAX_LISTED: usize = 100;

/// What the names of clips end with.
const ENDINGS: [&str; 4] = ["mp4", "mov", "m4v", "3gp"];

/// Why a clip is not open.
#[derive(Debug, thiserror::Error)]
pub(super) enum ShelfError {
    /// It is no clip, or is damaged.
    #[error(transparent)]
    Clip(#[from] ClipError),
    /// It cannot be read, copied or deleted.
    #[error("the clip could not be {what}: {source}")]
    Io {
        /// What was tried.
        what: &'static str,
        /// What the system said.
        source: io::Error,
    },
    /// It is larger than any clip that is taken.
    #[error("the clip has more than {} GB; cut it around the contacts", MAX_BYTES >> 30)]
    TooLarge,
    /// The browser stopped sending.
    #[error("the clip did not arrive whole: {0}")]
    Sending(axum::Error),
    /// No clip of this name lies in the folder.
    #[error("there is no such clip in the folder")]
    NotListed,
    /// It was closed meanwhile.
    #[error("the clip is no longer open here; choose it once more")]
    Closed,
    /// A copy, which only the person can delete where it came from.
    #[error("this is a copy; delete the clip itself where you chose it")]
    NotOurs,
}

fn io_error(what: &'static str) -> impl Fn(io::Error) -> ShelfError {
    move |source| ShelfError::Io { what, source }
}

/// One open clip.
pub(super) struct Shelved {
    /// What the page names it by.
    pub(super) id: String,
    /// Where it lies.
    pub(super) lies: Arc<Lying>,
    /// Its tables.
    pub(super) open: OpenClip,
    /// Where its coded pictures lie, or why that is not known.
    pub(super) media: Result<Media, ClipError>,
    /// Pictures that a browser can decode where it cannot decode the clip.
    pub(super) pictures: Pictures,
}

/// The file of a clip. A copy is deleted with its last clip.
pub(super) struct Lying {
    pub(super) path: PathBuf,
    copy: bool,
}

impl Drop for Lying {
    fn drop(&mut self) {
        if self.copy {
            // What cannot be deleted goes with the folder.
            let _ = fs::remove_file(&self.path);
        }
    }
}

/// A clip that lies in the folder.
pub(super) struct Listed {
    /// Its file name.
    pub(super) name: String,
    /// Its bytes.
    pub(super) bytes: u64,
}

/// All open clips.
pub(crate) struct Shelf {
    /// Where clips are read in place, where the person says so.
    folder: Option<PathBuf>,
    /// Where copies and pictures are kept.
    own: TempDir,
    open: Mutex<Vec<Arc<Shelved>>>,
}

impl Shelf {
    /// An empty shelf; `folder` is where clips lie that may be read in place.
    pub(crate) fn new(folder: Option<PathBuf>) -> io::Result<Self> {
        let own = tempfile::Builder::new().prefix("pitside-clips-").tempdir()?;
        Ok(Self { folder, own, open: Mutex::default() })
    }

    /// The clips of the folder, the newest first; none where there is no folder.
    pub(super) fn listed(&self) -> Vec<Listed> {
        let Some(folder) = &self.folder else { return Vec::new() };
        let mut found: Vec<(SystemTime, Listed)> = Vec::new();
        for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
            let (Ok(about), Ok(name)) = (entry.metadata(), entry.file_name().into_string()) else { continue };
            let ending = Path::new(&name).extension().map(|ending| ending.to_string_lossy().to_lowercase());
            if about.is_file() && ending.is_some_and(|ending| ENDINGS.contains(&ending.as_str())) {
                let when = about.modified().unwrap_or(SystemTime::UNIX_EPOCH);
                found.push((when, Listed { name, bytes: about.len() }));
            }
        }
        found.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.name.cmp(&b.1.name)));
        found.into_iter().take(MAX_LISTED).map(|(_, listed)| listed).collect()
    }

    /// Opens a clip of the folder in place. It blocks.
    pub(super) fn open_listed(&self, name: &str) -> Result<Arc<Shelved>, ShelfError> {
        // A name as it was listed: nothing else reaches the file system.
        let listed = self.listed().into_iter().any(|listed| listed.name == name);
        let folder = self.folder.as_ref().filter(|_| listed).ok_or(ShelfError::NotListed)?;
        self.shelve(Arc::new(Lying { path: folder.join(name), copy: false }), None)
    }

    /// Copies what the browser sends to a file of the shelf's own.
    pub(super) async fn receive(&self, mut body: Body) -> Result<Arc<Lying>, ShelfError> {
        let (mut file, path) = tempfile::Builder::new()
            .suffix(".clip")
            .tempfile_in(self.own.path())
            .and_then(|file| file.keep().map_err(|e| e.error))
            .map_err(io_error("copied"))?;
        let lies = Arc::new(Lying { path, copy: true });
        let mut length = 0_u64;
        while let Some(frame) = body.frame().await {
            let Ok(data) = frame.map_err(ShelfError::Sending)?.into_data() else { continue };
            length = length.saturating_add(data.len() as u64);
            if length > MAX_BYTES {
                return Err(ShelfError::TooLarge);
            }
            file.write_all(&data).map_err(io_error("copied"))?;
        }
        Ok(lies)
    }

    /// Opens another video track of a clip that is open, in its place.
    pub(super) fn open_track(&self, id: &str, track: u32) -> Result<Arc<Shelved>, ShelfError> {
        let held = self.get(id)?;
        let other = self.shelve(Arc::clone(&held.lies), Some(track))?;
        // Another page may have closed it meanwhile.
        let _ = self.close(id, false);
        Ok(other)
    }

    /// A clip that is open.
    pub(super) fn get(&self, id: &str) -> Result<Arc<Shelved>, ShelfError> {
        let all = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        all.iter().find(|shelved| shelved.id == id).cloned().ok_or(ShelfError::Closed)
    }

    /// Closes a clip, and deletes it where it lies in the folder and `delete` says so.
    pub(super) fn close(&self, id: &str, delete: bool) -> Result<(), ShelfError> {
        let mut all = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        let place = all.iter().position(|shelved| shelved.id == id).ok_or(ShelfError::Closed)?;
        if delete && all.get(place).is_some_and(|shelved| shelved.lies.copy) {
            return Err(ShelfError::NotOurs);
        }
        let closed = all.remove(place);
        if delete { fs::remove_file(&closed.lies.path).map_err(io_error("deleted")) } else { Ok(()) }
    }

    /// Opens a clip. It blocks.
    pub(super) fn shelve(&self, lies: Arc<Lying>, track: Option<u32>) -> Result<Arc<Shelved>, ShelfError> {
        let file = File::open(&lies.path).map_err(io_error("opened"))?;
        let open = OpenClip::read(&file, track)?;
        let clip = open.clip();
        let track = clip.tracks.get(clip.chosen).map(|track| track.id);
        let media = Media::read(&file, track);
        let pictures = Pictures::new(self.own.path(), track, clip.frames.ticks().len());
        let mut id = [0; 16];
        OsRng.fill(&mut id).map_err(io_error("opened"))?;
        let shelved = Arc::new(Shelved { id: HEXLOWER.encode(&id), lies, open, media, pictures });
        let mut all = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        while all.len() >= MAX_OPEN {
            all.remove(0);
        }
        all.push(Arc::clone(&shelved));
        Ok(shelved)
    }
}
