//! The seed in a file that only its owner can read: 32 bytes, nothing else.
//!
//! The file is written once and never changed; losing it means that the device
//! is a new device to its peers.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};

use zeroize::Zeroizing;

use super::seed::{Rng, SEED_LENGTH, Seed};
use crate::durable::{folder_of, sync_folder};

/// Why a seed file could not be made or read. Each names the file.
#[derive(Debug, thiserror::Error)]
pub enum SeedFileError {
    /// There is one already, and a seed is never overwritten.
    #[error("{path}: there is a key here already; it is kept")]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// There is none.
    #[error("{path}: there is no key here")]
    Missing {
        /// The file.
        path: PathBuf,
    },
    /// Others than the owner may read, write or run the file.
    #[error(
        "{path}: others than the owner can get at this key (mode {mode:03o}); \
         if nobody has copied it, close it with: chmod 600 {path}"
    )]
    Open {
        /// The file.
        path: PathBuf,
        /// Its permission bits.
        mode: u32,
    },
    /// It is a folder, a pipe or a device.
    #[error("{path}: not a regular file")]
    NotAFile {
        /// The path.
        path: PathBuf,
    },
    /// The file is not one seed long.
    #[error("{path}: {found} bytes where a key has {SEED_LENGTH}; this is not a key, or it is damaged")]
    Length {
        /// The file.
        path: PathBuf,
        /// Its length in bytes.
        found: u64,
    },
    /// The source of randomness had nothing to give.
    #[error("no random bytes to make a key from")]
    Random(#[source] io::Error),
    /// The file system said no.
    #[error("{path}: {kind}")]
    Io {
        /// The file.
        path: PathBuf,
        /// What it said.
        kind: io::ErrorKind,
    },
}

impl SeedFileError {
    fn io(path: &Path, error: &io::Error) -> Self {
        let path = path.to_owned();
        match error.kind() {
            io::ErrorKind::AlreadyExists => Self::Exists { path },
            io::ErrorKind::NotFound => Self::Missing { path },
            kind => Self::Io { path, kind },
        }
    }
}

/// Draws a seed and writes it to a new file at `path`, mode 0600. When this
/// returns, file and folder entry are on the disk. Where the machine stops in
/// the middle there is no key or a whole one.
///
/// # Errors
/// [`SeedFileError::Exists`], [`SeedFileError::Random`] or what the file system
/// said; no key is then left behind that was not there before.
pub fn create(path: &Path, rng: &mut impl Rng) -> Result<Seed, SeedFileError> {
    // Drawn first: without randomness no file is made.
    let seed = Seed::generate(rng).map_err(SeedFileError::Random)?;
    let failed = |error: io::Error| SeedFileError::io(path, &error);
    let exists = || fs::symlink_metadata(path).is_ok();
    if exists() {
        return Err(SeedFileError::Exists { path: path.to_owned() });
    }
    // Written beside, and put in its place whole.
    let mut draft = path.as_os_str().to_owned();
    draft.push(".new");
    let draft = PathBuf::from(draft);
    let mut options = OpenOptions::new();
    options.write(true).create(true).truncate(false);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut file = options.open(&draft).map_err(failed)?;
    // Of two programs that make one at once, the second waits, and finds the first's.
    file.lock().map_err(failed)?;
    if exists() {
        return Err(SeedFileError::Exists { path: path.to_owned() });
    }
    write_durably(&mut file, &draft, path, &seed).map_err(|error| {
        // A seed that is not surely on the disk must not be found there later.
        let _already_failing = fs::remove_file(&draft);
        let _already_failing = fs::remove_file(path);
        failed(error)
    })?;
    Ok(seed)
}

fn write_durably(file: &mut File, draft: &Path, path: &Path, seed: &Seed) -> io::Result<()> {
    // Another attempt may have been stopped here.
    file.set_len(0)?;
    file.write_all(seed.expose())?;
    file.sync_all()?;
    fs::rename(draft, path)?;
    sync_folder(folder_of(path))
}

/// Reads the seed at `path`.
///
/// # Errors
/// [`SeedFileError`]: missing, not a regular file, open to others, of another
/// length, or what the file system said.
pub fn load(path: &Path) -> Result<Seed, SeedFileError> {
    let failed = |error: io::Error| SeedFileError::io(path, &error);
    // Asked before opening: to open a pipe may wait for ever.
    if !fs::metadata(path).map_err(failed)?.is_file() {
        return Err(SeedFileError::NotAFile { path: path.to_owned() });
    }
    let mut file = File::open(path).map_err(failed)?;
    // Asked of the open file, so that what is checked is what is read.
    let metadata = file.metadata().map_err(failed)?;
    #[cfg(unix)]
    {
        let mode = std::os::unix::fs::PermissionsExt::mode(&metadata.permissions()) & 0o777;
        if mode & 0o077 != 0 {
            return Err(SeedFileError::Open { path: path.to_owned(), mode });
        }
    }
    if metadata.len() != SEED_LENGTH as u64 {
        return Err(SeedFileError::Length { path: path.to_owned(), found: metadata.len() });
    }
    let mut bytes = Zeroizing::new([0; SEED_LENGTH]);
    file.read_exact(bytes.as_mut()).map_err(failed)?;
    Ok(Seed::from_bytes(bytes))
}

#[cfg(all(test, unix))]
#[allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]
mod tests {
    use std::os::unix::fs::PermissionsExt as _;

    use super::*;
    use crate::keys::OsRng;

    struct Dry;

    impl Rng for Dry {
        fn fill(&mut self, _: &mut [u8]) -> io::Result<()> {
            Err(io::Error::other("dry"))
        }
    }

    fn set_mode(path: &Path, mode: u32) {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    }

    #[test]
    fn what_was_created_is_loaded() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("key");
        let made = create(&path, &mut OsRng).unwrap();
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o600);
        assert_eq!(load(&path).unwrap().expose(), made.expose());
    }

    #[test]
    fn a_seed_is_never_overwritten() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("key");
        let made = create(&path, &mut OsRng).unwrap();
        let again = create(&path, &mut OsRng);
        assert!(matches!(again, Err(SeedFileError::Exists { .. })));
        assert_eq!(load(&path).unwrap().expose(), made.expose());
    }

    #[test]
    fn what_a_machine_that_stopped_left_beside_is_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("key");
        fs::write(folder.path().join("key.new"), vec![7; 40]).unwrap();
        set_mode(&folder.path().join("key.new"), 0o600);
        let made = create(&path, &mut OsRng).unwrap();
        assert_eq!(load(&path).unwrap().expose(), made.expose());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn without_randomness_no_file_is_made() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("key");
        let made = create(&path, &mut Dry);
        assert!(matches!(made, Err(SeedFileError::Random(_))));
        assert!(!path.exists());
    }

    #[test]
    fn a_file_open_to_others_is_refused_with_a_hint() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("key");
        create(&path, &mut OsRng).unwrap();
        for mode in [0o640, 0o604, 0o620, 0o601] {
            set_mode(&path, mode);
            let refused = load(&path).unwrap_err();
            assert!(
                matches!(refused, SeedFileError::Open { mode: found, .. } if found == mode),
                "{refused:?}"
            );
            assert!(refused.to_string().contains("chmod 600"), "{refused}");
        }
        set_mode(&path, 0o400);
        load(&path).unwrap();
    }

    #[test]
    fn another_length_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("key");
        for length in [0_usize, 31, 33, 4096] {
            fs::write(&path, vec![1; length]).unwrap();
            set_mode(&path, 0o600);
            let refused = load(&path).unwrap_err();
            assert!(
                matches!(refused, SeedFileError::Length { found, .. } if found == length as u64),
                "{refused:?}"
            );
        }
    }

    #[test]
    fn what_is_no_file_is_named() {
        let folder = tempfile::tempdir().unwrap();
        assert!(matches!(load(folder.path()), Err(SeedFileError::NotAFile { .. })));
        assert!(matches!(load(&folder.path().join("none")), Err(SeedFileError::Missing { .. })));
        assert!(matches!(
            create(&folder.path().join("no/key"), &mut OsRng),
            Err(SeedFileError::Missing { .. })
        ));
    }
}
