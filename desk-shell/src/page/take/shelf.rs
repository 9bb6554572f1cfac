//! The clips that are open for marking: read in place where the server may look, else
//! copied here while they are marked.

use std::fs::{self, File, Metadata};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::SystemTime;

use axum::body::Body;
use data_encoding::HEXLOWER;
use http_body_util::BodyExt;
use pitside_book::keys::{OsRng, Rng};
use pitside_model::clip::{ClipError, Media};
use pitside_screen::OpenClip;
use tempfile::{TempDir, TempPath};
use tokio::sync::Semaphore;

use super::pictures::Pictures;

/// Clips that are open at a time; opening another one closes the one that was not looked
/// at for longest.
const MAX_OPEN: usize = 4;

/// Clips that are copied at a time.
const MAX_ARRIVING: usize = 2;

/// Bytes of one clip: twenty minutes of a phone's best.
pub(super) const MAX_BYTES: u64 = 8 << 30;

/// Bytes of all copies together.
const MAX_HELD: u64 = 2 * MAX_BYTES;

/// Frames of one clip: twenty minutes at 240 a second.
const MAX_FRAMES: usize = 300_000;

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
    /// It has more frames than any clip that is taken.
    #[error("the clip has {frames} frames, and at most {MAX_FRAMES} are taken; cut it around the contacts")]
    TooLong {
        /// Its frames.
        frames: usize,
    },
    /// Enough clips are being copied.
    #[error("other clips are just being copied; choose it once more when they are there")]
    Arriving,
    /// The copies fill what they may.
    #[error("the clips that are open take {} GB; close one of them first", MAX_HELD >> 30)]
    Full,
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
    /// Another file lies in its place now.
    #[error("the file is not the one that was opened any more; choose it once more")]
    Changed,
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
pub(super) enum Lying {
    /// In the folder, as it was when it was opened.
    Folder(PathBuf, Stamp),
    /// On the shelf, with the room that it takes there.
    Copy {
        /// Deleted with it.
        path: TempPath,
        _share: Share,
    },
}

impl Lying {
    pub(super) fn path(&self) -> &Path {
        match self {
            Self::Folder(path, _) => path,
            Self::Copy { path, .. } => path,
        }
    }

    /// Whether it is still the file that was opened, and no link to another one.
    pub(super) fn check(&self) -> Result<(), ShelfError> {
        let Self::Folder(path, as_opened) = self else { return Ok(()) };
        let about = fs::symlink_metadata(path).map_err(io_error("read"))?;
        if about.is_file() && Stamp::of(&about) == *as_opened { Ok(()) } else { Err(ShelfError::Changed) }
    }

    pub(super) fn is_copy(&self) -> bool {
        matches!(self, Self::Copy { .. })
    }
}

/// What tells a file from another one that took its place: length and time of change.
#[derive(PartialEq, Eq)]
pub(super) struct Stamp(u64, Option<SystemTime>);

impl Stamp {
    fn of(about: &Metadata) -> Self {
        Self(about.len(), about.modified().ok())
    }
}

/// The bytes that one copy takes of what all may.
pub(super) struct Share {
    all: Arc<AtomicU64>,
    bytes: u64,
}

impl Share {
    /// Takes as many bytes more, where there is room for them.
    fn grow(&mut self, more: u64) -> bool {
        let room = |all: u64| all.checked_add(more).filter(|all| *all <= MAX_HELD);
        let taken = self.all.fetch_update(Ordering::Relaxed, Ordering::Relaxed, room).is_ok();
        if taken {
            self.bytes += more;
        }
        taken
    }
}

impl Drop for Share {
    fn drop(&mut self) {
        self.all.fetch_sub(self.bytes, Ordering::Relaxed);
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
    /// The one that was not looked at for longest comes first.
    open: Mutex<Vec<Arc<Shelved>>>,
    /// Bytes of all copies.
    held: Arc<AtomicU64>,
    arriving: Semaphore,
    /// Where copies and pictures are kept.
    own: Own,
}

/// A folder for copies, which is known as one in use by its locked file.
struct Own {
    /// Let go before the folder is deleted.
    _lock: File,
    folder: TempDir,
}

/// What the names of such folders begin with.
const OWN: &str = "pitside-clips-";

/// The file in them that is locked.
const LOCK: &str = "in-use";

impl Own {
    fn new() -> io::Result<Self> {
        Self::sweep();
        let folder = tempfile::Builder::new().prefix(OWN).tempdir()?;
        let lock = File::create(folder.path().join(LOCK))?;
        lock.lock()?;
        Ok(Self { _lock: lock, folder })
    }

    /// Deletes the copies of starts that ended without deleting them: by a power cut, or
    /// killed. What is in use, or cannot be deleted, stays.
    fn sweep() {
        for entry in fs::read_dir(std::env::temp_dir()).into_iter().flatten().flatten() {
            // A link with such a name is nobody's here.
            let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
            if !is_folder || !entry.file_name().to_string_lossy().starts_with(OWN) {
                continue;
            }
            let lock = File::open(entry.path().join(LOCK));
            if lock.is_ok_and(|lock| lock.try_lock().is_ok()) {
                let _ = fs::remove_dir_all(entry.path());
            }
        }
    }
}

impl Shelf {
    /// An empty shelf; `folder` is where clips lie that may be read in place.
    pub(crate) fn new(folder: Option<PathBuf>) -> io::Result<Self> {
        let arriving = Semaphore::new(MAX_ARRIVING);
        Ok(Self { folder, open: Mutex::default(), held: Arc::default(), arriving, own: Own::new()? })
    }

    fn all(&self) -> MutexGuard<'_, Vec<Arc<Shelved>>> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
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
        let path = folder.join(name);
        let about = fs::symlink_metadata(&path).map_err(io_error("opened"))?;
        self.shelve(Arc::new(Lying::Folder(path, Stamp::of(&about))))
    }

    /// Copies what the browser sends to a file of the shelf's own.
    pub(super) async fn receive(&self, mut body: Body) -> Result<Arc<Lying>, ShelfError> {
        let _arriving = self.arriving.try_acquire().map_err(|_| ShelfError::Arriving)?;
        let (mut file, path) = tempfile::Builder::new()
            .suffix(".clip")
            .tempfile_in(self.own.folder.path())
            .map_err(io_error("copied"))?
            .into_parts();
        let mut share = Share { all: Arc::clone(&self.held), bytes: 0 };
        while let Some(frame) = body.frame().await {
            let Ok(data) = frame.map_err(ShelfError::Sending)?.into_data() else { continue };
            let more = u64::try_from(data.len()).unwrap_or(u64::MAX);
            if share.bytes.saturating_add(more) > MAX_BYTES {
                return Err(ShelfError::TooLarge);
            }
            while !share.grow(more) {
                self.close_oldest_copy()?;
            }
            file.write_all(&data).map_err(io_error("copied"))?;
        }
        Ok(Arc::new(Lying::Copy { path, _share: share }))
    }

    /// Makes room for another copy.
    fn close_oldest_copy(&self) -> Result<(), ShelfError> {
        let mut all = self.all();
        let oldest = all.iter().position(|shelved| shelved.lies.is_copy()).ok_or(ShelfError::Full)?;
        drop(all.remove(oldest));
        Ok(())
    }

    /// Opens another video track of a clip that is open, in its place. It blocks.
    pub(super) fn open_track(&self, id: &str, track: u32) -> Result<Arc<Shelved>, ShelfError> {
        let held = self.get(id)?;
        let other = self.read(Arc::clone(&held.lies), Some(track))?;
        let mut all = self.all();
        // Another page may have closed it meanwhile.
        let place = all.iter().position(|shelved| shelved.id == id).ok_or(ShelfError::Closed)?;
        all.remove(place);
        all.push(Arc::clone(&other));
        Ok(other)
    }

    /// A clip that is open.
    pub(super) fn get(&self, id: &str) -> Result<Arc<Shelved>, ShelfError> {
        let mut all = self.all();
        let place = all.iter().position(|shelved| shelved.id == id).ok_or(ShelfError::Closed)?;
        let looked_at = all.remove(place);
        all.push(Arc::clone(&looked_at));
        Ok(looked_at)
    }

    /// Closes a clip, and deletes it where it lies in the folder and `delete` says so.
    pub(super) fn close(&self, id: &str, delete: bool) -> Result<(), ShelfError> {
        let mut all = self.all();
        let place = all.iter().position(|shelved| shelved.id == id).ok_or(ShelfError::Closed)?;
        if delete {
            let lies = all.get(place).map(|shelved| &*shelved.lies).filter(|lies| !lies.is_copy());
            let lies = lies.ok_or(ShelfError::NotOurs)?;
            lies.check()?;
            fs::remove_file(lies.path()).map_err(io_error("deleted"))?;
        }
        all.remove(place);
        Ok(())
    }

    /// Opens a clip. It blocks.
    pub(super) fn shelve(&self, lies: Arc<Lying>) -> Result<Arc<Shelved>, ShelfError> {
        let shelved = self.read(lies, None)?;
        let mut all = self.all();
        while all.len() >= MAX_OPEN {
            all.remove(0);
        }
        all.push(Arc::clone(&shelved));
        Ok(shelved)
    }

    fn read(&self, lies: Arc<Lying>, track: Option<u32>) -> Result<Arc<Shelved>, ShelfError> {
        let file = File::open(lies.path()).map_err(io_error("opened"))?;
        let open = OpenClip::read(&file, track)?;
        let clip = open.clip();
        let frames = clip.frames.ticks().len();
        if frames > MAX_FRAMES {
            return Err(ShelfError::TooLong { frames });
        }
        // The same choice of track: two may share a number.
        let media = Media::read(&file, track);
        let shown = clip.tracks.get(clip.chosen).map(|track| track.id);
        let pictures = Pictures::new(self.own.folder.path(), shown, frames);
        let mut id = [0; 16];
        OsRng.fill(&mut id).map_err(io_error("opened"))?;
        Ok(Arc::new(Shelved { id: HEXLOWER.encode(&id), lies, open, media, pictures }))
    }
}
