//! What is kept apart from the book, in two files beside it.
//!
//! A book that was put back from a copy does not know what this device wrote
//! after the copy was made. If it wrote on, two entries would stand in one place.
//! The heads of the own logs know: where they are ahead of the book, the old logs
//! are closed and the device goes on in new ones.
//!
//! Nor does it know whose data were erased since, and would show them again. The
//! list of these members knows: what the copy has of them goes before anyone
//! sees it. It has ids alone.
//!
//! Both files are written after the book, so they are never ahead because of a
//! power cut.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::Write;
use std::path::Path;

use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{DeviceKey, Head, MemberId};
use rusqlite::Connection;

use super::ledger::{self, member as read_member};
use super::line::{self, End};
use super::squad::let_go;
use crate::durable::sync_folder;

/// The file of the own logs' heads in the book's folder.
pub const HEADS_FILE: &str = "device.heads";
/// The file of the members of whom this device holds nothing any more.
pub const ERASED_FILE: &str = "device.erased";
/// The largest file that is read: far more logs or members than a device has.
const MAX_BYTES: u64 = 4 << 20;

/// Keeps the heads. A file that is cut off while it is written leaves the old one.
pub(super) fn write(folder: &Path, ends: &[End]) -> std::io::Result<()> {
    keep(folder, HEADS_FILE, ends.iter().map(|end| end.head().to_value()).collect())
}

/// Keeps the members of whom this device holds nothing any more.
pub(super) fn write_erased(folder: &Path, members: &BTreeSet<MemberId>) -> std::io::Result<()> {
    keep(folder, ERASED_FILE, members.iter().map(|member| member.to_value()).collect())
}

fn keep(folder: &Path, name: &str, items: Vec<Value>) -> std::io::Result<()> {
    let temporary = folder.join(format!("{name}.new"));
    let mut file = File::create(&temporary)?;
    file.write_all(&encode(&Value::Array(items)))?;
    file.sync_all()?;
    fs::rename(&temporary, folder.join(name))?;
    sync_folder(folder)
}

/// What was kept; nothing where there is no file, or it cannot be made out.
fn kept(folder: &Path, name: &str) -> Vec<Value> {
    let path = folder.join(name);
    if fs::metadata(&path).map_or(true, |m| m.len() > MAX_BYTES) {
        return Vec::new();
    }
    match decode(&fs::read(path).unwrap_or_default()) {
        Ok(Value::Array(items)) => items,
        _ => Vec::new(),
    }
}

/// The heads kept.
pub(super) fn heads(folder: &Path) -> Vec<Head> {
    kept(folder, HEADS_FILE).iter().filter_map(Head::from_value).collect()
}

/// The members kept.
pub(super) fn erased(folder: &Path) -> BTreeSet<MemberId> {
    kept(folder, ERASED_FILE).iter().filter_map(MemberId::from_value).collect()
}

/// Whether this device wrote more than the book has.
pub(super) fn is_ahead(folder: &Path, c: &Connection) -> rusqlite::Result<bool> {
    for head in heads(folder) {
        if line::find(c, &head)?.is_none() {
            return Ok(true);
        }
    }
    Ok(false)
}

/// The members of whom a device holds nothing any more by what the book says:
/// erased and not kept for their person, or let go.
pub(super) fn gone(c: &Connection, device: DeviceKey) -> rusqlite::Result<BTreeSet<MemberId>> {
    let mut gone = erased_elsewhere(c, device)?;
    gone.extend(let_go(c)?);
    Ok(gone)
}

/// The erased members whose own data this device does not keep.
pub(super) fn erased_elsewhere(c: &Connection, device: DeviceKey) -> rusqlite::Result<BTreeSet<MemberId>> {
    let mut erased: BTreeSet<MemberId> = c
        .prepare_cached("SELECT member FROM erased")?
        .query_map([], |r| read_member(r, 0))?
        .collect::<Result<_, _>>()?;
    if !erased.is_empty() {
        let own = ledger::standing(c, device)?;
        erased.retain(|member| !own.grants.keeps(*member));
    }
    Ok(erased)
}
