//! A device: a key, a clock, and a book in a folder.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use pitside_book::clock::{Clock, Stamp};
use pitside_book::keys::{Identity, Seed};
use pitside_book::store::{Book, BookError, FILE};
use pitside_model::facts::{DeviceKey, Hash, MemberId, Scope};
use zeroize::Zeroizing;

/// A wall clock that shows one moment.
#[derive(Clone, Copy, Debug)]
pub(crate) struct At(pub(crate) Stamp);

impl Clock for At {
    fn now(&self) -> Stamp {
        self.0
    }
}

/// An entry that a device held.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Seen {
    pub(crate) scope: Scope,
    pub(crate) device: DeviceKey,
    pub(crate) with_body: bool,
}

/// A book's file as it was once.
#[derive(Clone, Debug)]
pub(crate) struct Kept {
    folder: PathBuf,
    let_go: BTreeSet<MemberId>,
}

/// One device, or one copy of its book's folder.
#[derive(Debug)]
pub(crate) struct Device {
    /// Decides the key; a copy has that of the device it was copied from.
    pub(crate) key: u8,
    pub(crate) folder: PathBuf,
    book: Option<Book>,
    /// How far its clock is off.
    pub(crate) years: i64,
    /// It meets devices of its own group only.
    pub(crate) group: usize,
    /// Every entry it ever held and must still hold, and whether with its body.
    pub(crate) seen: BTreeMap<Hash, Seen>,
    /// Members whose data its person let go.
    pub(crate) let_go: BTreeSet<MemberId>,
    pub(crate) kept: Option<Kept>,
    /// An older book was put back here.
    pub(crate) was_put_back: bool,
}

pub(crate) fn identity(key: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([key.wrapping_add(1); 32])))
}

impl Device {
    pub(crate) fn new(key: u8, folder: PathBuf) -> Result<Self, BookError> {
        let book = Book::create(&folder, identity(key), false)?;
        Ok(Self {
            key,
            folder,
            book: Some(book),
            years: 0,
            group: 0,
            seen: BTreeMap::new(),
            let_go: BTreeSet::new(),
            kept: None,
            was_put_back: false,
        })
    }

    /// The book; between two steps it is always open.
    pub(crate) fn book(&self) -> Result<&Book, BookError> {
        self.book.as_ref().ok_or_else(|| BookError::Missing(self.folder.clone()))
    }

    pub(crate) fn key(&self) -> DeviceKey {
        identity(self.key).key()
    }

    /// The process dies; nothing is closed in an orderly way.
    pub(crate) fn stop(&mut self) {
        self.book = None;
    }

    pub(crate) fn start(&mut self) -> Result<(), BookError> {
        self.book = None;
        self.book = Some(Book::open(&self.folder, identity(self.key))?);
        Ok(())
    }

    /// A copy of the folder, with the same key. The book must not be open.
    pub(crate) fn copy_to(&self, folder: PathBuf) -> io::Result<Self> {
        fs::create_dir_all(&folder)?;
        copy_files(&self.folder, &folder, |_| true)?;
        Ok(Self {
            key: self.key,
            folder,
            book: None,
            years: self.years,
            group: self.group,
            seen: self.seen.clone(),
            let_go: self.let_go.clone(),
            kept: None,
            was_put_back: false,
        })
    }

    /// Keeps the file of the book elsewhere. The book must not be open.
    pub(crate) fn keep(&mut self) -> io::Result<()> {
        let folder = self.folder.with_extension("kept");
        fs::create_dir_all(&folder)?;
        copy_files(&self.folder, &folder, |name| name.starts_with(FILE))?;
        self.kept = Some(Kept { folder, let_go: self.let_go.clone() });
        Ok(())
    }

    /// Puts it back. The book must not be open.
    pub(crate) fn put_back(&mut self) -> io::Result<bool> {
        let Some(kept) = self.kept.clone() else { return Ok(false) };
        for file in fs::read_dir(&self.folder)? {
            let file = file?;
            if file.file_name().to_string_lossy().starts_with(FILE) {
                fs::remove_file(file.path())?;
            }
        }
        copy_files(&kept.folder, &self.folder, |_| true)?;
        self.let_go = kept.let_go;
        self.was_put_back = true;
        Ok(true)
    }
}

fn copy_files(from: &Path, to: &Path, which: impl Fn(&str) -> bool) -> io::Result<()> {
    for file in fs::read_dir(from)? {
        let file = file?;
        if which(&file.file_name().to_string_lossy()) {
            fs::copy(file.path(), to.join(file.file_name()))?;
        }
    }
    Ok(())
}
