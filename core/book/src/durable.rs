//! Names that are still there after a power cut: a file's name lies in its
//! folder, and a folder's name in the one above, each of which has to be synced.

use std::fs;
use std::io;
use std::path::Path;

/// Puts the names that a folder has on the disk.
///
/// # Errors
/// What the system said.
pub(crate) fn sync_folder(folder: &Path) -> io::Result<()> {
    // Elsewhere a folder cannot be opened to be synced.
    #[cfg(unix)]
    fs::File::open(folder)?.sync_all()?;
    #[cfg(not(unix))]
    let _ = folder;
    Ok(())
}

/// The folder that has a path's name.
pub(crate) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

/// Makes a folder, and those above it, so that they stay.
///
/// # Errors
/// What the system said; what was made by then is left.
pub(crate) fn make_folder(folder: &Path) -> io::Result<()> {
    if !folder.is_dir() {
        match fs::create_dir(folder) {
            Err(e) if e.kind() == io::ErrorKind::NotFound && folder.parent().is_some() => {
                make_folder(folder_of(folder))?;
                fs::create_dir(folder)?;
            }
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => {}
            made => made?,
        }
    }
    match folder.parent() {
        Some(_) => sync_folder(folder_of(folder)),
        None => Ok(()),
    }
}
