//! What the disk has, and what only the system's memory has: the model by which
//! a power cut loses things.
//!
//! It is the least that POSIX promises. What was written to a file is on the
//! disk once that file was synced. A name (made, renamed, linked, removed) is
//! on the disk once the folder that has it was synced, and a folder's own name
//! lies in the folder above: syncing a file does not save its name. The folder
//! that the layer watches is on the disk, and empty, when the process starts.
//! What was never synced may be lost in any part and in any order, in sectors of
//! 512 bytes; a lost write leaves what was there before, and bytes that nobody
//! wrote do not change.

use std::collections::{BTreeMap, BTreeSet};
use std::ffi::{CString, c_int};
use std::os::unix::ffi::OsStrExt as _;
use std::path::{Path, PathBuf};

use libc::mode_t;

use crate::plan::Keep;
use crate::system;

const SECTOR: usize = 512;

/// What is open under a descriptor.
#[derive(Clone, Debug)]
pub(crate) enum Handle {
    /// A file, by its number, and the name it was opened by.
    File(usize, PathBuf),
    /// A folder.
    Folder(PathBuf),
}

impl Handle {
    pub(crate) fn path(&self) -> &Path {
        match self {
            Self::File(_, path) | Self::Folder(path) => path,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Node {
    File(usize),
    Folder,
}

#[derive(Debug)]
enum Change {
    Write { at: usize, bytes: Vec<u8> },
    Length(usize),
}

/// A file: its bytes on the disk, and what was done to it since.
#[derive(Debug)]
struct File {
    mode: mode_t,
    durable: Vec<u8>,
    since: Vec<Change>,
}

/// The files below one folder, as the disk and as the system's memory has them.
#[derive(Debug, Default)]
pub(crate) struct Disk {
    files: Vec<File>,
    now: BTreeMap<PathBuf, Node>,
    durable: BTreeMap<PathBuf, Node>,
    open: BTreeMap<c_int, Handle>,
}

impl Disk {
    pub(crate) fn handle(&self, fd: c_int) -> Option<&Handle> {
        self.open.get(&fd)
    }

    pub(crate) fn has_file(&self, path: &Path) -> bool {
        matches!(self.now.get(path), Some(Node::File(_)))
    }

    pub(crate) fn make_file(&mut self, path: &Path, mode: mode_t) {
        self.now.insert(path.to_owned(), Node::File(self.files.len()));
        self.files.push(File { mode, durable: Vec::new(), since: Vec::new() });
    }

    pub(crate) fn make_folder(&mut self, path: &Path) {
        self.now.insert(path.to_owned(), Node::Folder);
    }

    pub(crate) fn opened(&mut self, fd: c_int, path: &Path) {
        if let Some(Node::File(file)) = self.now.get(path) {
            self.open.insert(fd, Handle::File(*file, path.to_owned()));
        } else if system::is_folder(fd) {
            self.open.insert(fd, Handle::Folder(path.to_owned()));
        }
    }

    pub(crate) fn closed(&mut self, fd: c_int) {
        self.open.remove(&fd);
    }

    pub(crate) fn wrote(&mut self, file: usize, at: usize, bytes: &[u8]) {
        self.files[file].since.push(Change::Write { at, bytes: bytes.to_vec() });
    }

    pub(crate) fn set_length(&mut self, file: usize, length: usize) {
        self.files[file].since.push(Change::Length(length));
    }

    pub(crate) fn synced(&mut self, handle: &Handle) {
        match handle {
            Handle::File(number, _) => {
                let file = &mut self.files[*number];
                file.durable = file.after(*number, Keep::All, 0);
                file.since.clear();
            }
            Handle::Folder(folder) => {
                let within = |path: &PathBuf| path.parent() == Some(folder);
                self.durable.retain(|path, _| !within(path));
                let now = self.now.iter().filter(|(path, _)| within(path));
                self.durable.extend(now.map(|(path, node)| (path.clone(), *node)));
            }
        }
    }

    pub(crate) fn removed(&mut self, path: &Path) {
        self.now.remove(path);
    }

    pub(crate) fn linked(&mut self, from: &Path, to: &Path) {
        if let Some(node) = self.now.get(from).copied() {
            self.now.insert(to.to_owned(), node);
        }
    }

    pub(crate) fn renamed(&mut self, from: &Path, to: &Path) {
        self.linked(from, to);
        self.now.remove(from);
    }

    /// Makes the real files what the disk would have after a power cut; `seed`
    /// chooses, where only some is kept.
    pub(crate) fn cut(&self, folder: &Path, keep: Keep, seed: u64) {
        let mut left: BTreeMap<&Path, Node> = BTreeMap::new();
        // A folder sorts before what is in it.
        for path in self.durable.keys().chain(self.now.keys()).collect::<BTreeSet<_>>() {
            let Some(parent) = path.parent() else { continue };
            if parent != folder && left.get(parent) != Some(&Node::Folder) {
                continue;
            }
            let names = match keep {
                Keep::Nothing => &self.durable,
                Keep::All => &self.now,
                Keep::Some => {
                    // By its name below the folder, which is another one each time.
                    let below = parent.strip_prefix(folder).unwrap_or(parent);
                    if kept(seed, below.as_os_str().as_bytes(), 0) { &self.now } else { &self.durable }
                }
            };
            if let Some(node) = names.get(path) {
                left.insert(path, *node);
            }
        }
        for (path, node) in self.now.iter().rev() {
            match node {
                Node::File(_) => remove(path, 0),
                Node::Folder if left.contains_key(path.as_path()) => {}
                Node::Folder => {
                    // The one file in it that is not part of the model.
                    remove(&path.join("book.sqlite-shm"), 0);
                    remove(path, libc::AT_REMOVEDIR);
                }
            }
        }
        for (path, node) in left {
            if let Node::File(number) = node {
                let file = &self.files[number];
                put(path, file.mode, &file.after(number, keep, seed));
            }
        }
    }
}

impl File {
    /// Its bytes after a power cut.
    fn after(&self, number: usize, keep: Keep, seed: u64) -> Vec<u8> {
        let mut bytes = self.durable.clone();
        for (n, change) in self.since.iter().enumerate() {
            let stays = |sector: usize| match keep {
                Keep::Nothing => false,
                Keep::All => true,
                Keep::Some => kept(seed, &(number as u64).to_le_bytes(), ((n as u64) << 32) + sector as u64),
            };
            match change {
                Change::Length(length) if stays(0) => bytes.resize(*length, 0),
                Change::Length(_) => {}
                Change::Write { at, bytes: new } => {
                    let mut from = 0;
                    while from < new.len() {
                        let start = at + from;
                        let sector = start / SECTOR;
                        let piece = &new[from..new.len().min(from + (sector + 1) * SECTOR - start)];
                        if stays(sector) {
                            if bytes.len() < start + piece.len() {
                                bytes.resize(start + piece.len(), 0);
                            }
                            bytes[start..start + piece.len()].copy_from_slice(piece);
                        }
                        from += piece.len();
                    }
                }
            }
        }
        bytes
    }
}

/// A coin that falls the same way every time: FNV-1a, mixed as in SplitMix64.
fn kept(seed: u64, what: &[u8], part: u64) -> bool {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for byte in seed.to_le_bytes().iter().chain(what).chain(&part.to_le_bytes()) {
        hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
    }
    hash = (hash ^ (hash >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    (hash ^ (hash >> 27)) & 1 == 1
}

// What cannot be done leaves a disk that the test will not accept.

fn remove(path: &Path, flags: c_int) {
    if let Ok(path) = CString::new(path.as_os_str().as_bytes()) {
        let _noticed_later = system::remove(&path, flags);
    }
}

fn put(path: &Path, mode: mode_t, bytes: &[u8]) {
    let Ok(path) = CString::new(path.as_os_str().as_bytes()) else { return };
    let flags = libc::O_CREAT | libc::O_EXCL | libc::O_WRONLY;
    let Ok(fd) = system::open(libc::AT_FDCWD, &path, flags, mode) else { return };
    let mut left = bytes;
    while let Ok(done @ 1..) = system::write(fd, left) {
        left = &left[done.unsigned_abs()..];
    }
}
