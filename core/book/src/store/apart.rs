//! The heads of the own logs, kept apart from the book: a file beside it.
//!
//! A book that was put back from a copy does not know what this device wrote
//! after the copy was made. If it wrote on, two entries would stand in one place.
//! The file knows: where it is ahead of the book, the old logs are closed and the
//! device goes on in new ones. It is written after the book, so it is never ahead
//! because of a power cut.

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;

use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{Head, MemberId};
use rusqlite::Connection;

use super::line::{self, End};
use crate::durable::sync_folder;

/// The name of the file in the book's folder.
pub const FILE: &str = "device.heads";
/// The file beside it: the members who were erased here. A backup that is put back
/// does not know of them.
pub const ERASED: &str = "device.erased";
/// The largest file that is read: far more logs than a device has.
const MAX_BYTES: u64 = 4 << 20;

/// Keeps the heads.
pub(super) fn write(folder: &Path, ends: &[End]) -> std::io::Result<()> {
    put(folder, FILE, ends.iter().map(|end| end.head().to_value()).collect())
}

/// Keeps that members were erased.
pub(super) fn add_erased(folder: &Path, members: &[MemberId]) -> std::io::Result<()> {
    let mut all = erased(folder);
    all.extend(members);
    all.sort_unstable();
    all.dedup();
    put(folder, ERASED, all.into_iter().map(MemberId::to_value).collect())
}

/// The members erased on this device.
pub(super) fn erased(folder: &Path) -> Vec<MemberId> {
    items(&folder.join(ERASED)).iter().filter_map(MemberId::from_value).collect()
}

/// A file that is cut off while it is written leaves the old one.
fn put(folder: &Path, name: &str, items: Vec<Value>) -> std::io::Result<()> {
    let temporary = folder.join(format!("{name}.new"));
    let mut file = File::create(&temporary)?;
    file.write_all(&encode(&Value::Array(items)))?;
    file.sync_all()?;
    fs::rename(&temporary, folder.join(name))?;
    sync_folder(folder)
}

/// The items of such a file; none where there is no file, or it cannot be made out.
fn items(path: &Path) -> Vec<Value> {
    if fs::metadata(path).map_or(true, |m| m.len() > MAX_BYTES) {
        return Vec::new();
    }
    match decode(&fs::read(path).unwrap_or_default()) {
        Ok(Value::Array(items)) => items,
        _ => Vec::new(),
    }
}

/// Whether this device wrote more than the book has.
pub(super) fn is_ahead(folder: &Path, c: &Connection) -> rusqlite::Result<bool> {
    for head in items(&folder.join(FILE)).iter().filter_map(Head::from_value) {
        if line::find(c, &head)?.is_none() {
            return Ok(true);
        }
    }
    Ok(false)
}
