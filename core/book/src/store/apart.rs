//! The heads of the own logs, kept apart from the book: a file beside it.
//!
//! A book that was put back from a copy does not know what this device wrote
//! after the copy was made. If it wrote on, two entries would stand in one place.
//! The file knows: where it is ahead of the book, the old logs are closed and the
//! device goes on in new ones. It is written after the book, so it is never ahead
//! because of a power cut.

use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::Head;
use rusqlite::Connection;

use super::line::{self, End};
use crate::durable::sync_folder;

/// The name of the file in the book's folder.
pub const FILE: &str = "device.heads";
/// The largest file that is read: far more logs than a device has.
const MAX_BYTES: u64 = 4 << 20;

pub(super) fn path(folder: &Path) -> PathBuf {
    folder.join(FILE)
}

/// Keeps the heads. A file that is cut off while it is written leaves the old one.
pub(super) fn write(folder: &Path, ends: &[End]) -> std::io::Result<()> {
    let heads = Value::Array(ends.iter().map(|end| end.head().to_value()).collect());
    let temporary = folder.join(format!("{FILE}.new"));
    let mut file = File::create(&temporary)?;
    file.write_all(&encode(&heads))?;
    file.sync_all()?;
    fs::rename(&temporary, path(folder))?;
    sync_folder(folder)
}

/// The heads kept; none where there is no file, or it cannot be made out.
fn read(folder: &Path) -> Vec<Head> {
    let path = path(folder);
    if fs::metadata(&path).map_or(true, |m| m.len() > MAX_BYTES) {
        return Vec::new();
    }
    let bytes = fs::read(path).unwrap_or_default();
    match decode(&bytes) {
        Ok(Value::Array(items)) => items.iter().filter_map(Head::from_value).collect(),
        _ => Vec::new(),
    }
}

/// Whether this device wrote more than the book has.
pub(super) fn is_ahead(folder: &Path, c: &Connection) -> rusqlite::Result<bool> {
    for head in read(folder) {
        if line::find(c, &head)?.is_none() {
            return Ok(true);
        }
    }
    Ok(false)
}
