//! What ours is measured beside: three libraries of replicated data.
//!
//! Each is used as it asks to be: a record is one value in a map, a session one
//! transaction; what others lack is exported since a version, packed with
//! Zstandard level 3 as our batches are; many updates are taken in at once where
//! it has a call for it.

mod automerge;
mod loro;
mod yrs;

pub use automerge::Automerge;
pub use loro::Loro;
pub use yrs::Yrs;

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;
use std::time::Instant;

use crate::Failure;
use crate::measure::{Figures, Watch, memory_bytes};
use crate::workload::{CARDS, DEVICES, Device, Record, share};

/// The level of our batches.
const COMPRESSION: i32 = 9;

/// A document of a library.
pub trait Peer: Sized {
    /// A version, to export from.
    type Version;
    /// An empty document of a device.
    fn new(device: u64) -> Result<Self, Failure>;
    /// A stored document, opened by a device.
    fn load(bytes: &[u8], device: u64) -> Result<Self, Failure>;
    /// The whole document, to be stored.
    fn save(&mut self) -> Result<Vec<u8>, Failure>;
    /// Writes records in one go.
    fn write(&mut self, records: &[(String, Vec<u8>)]) -> Result<(), Failure>;
    /// What it holds.
    fn version(&mut self) -> Self::Version;
    /// What was written since.
    fn since(&mut self, version: &Self::Version) -> Result<Vec<u8>, Failure>;
    /// Takes updates in.
    fn merge(&mut self, updates: Vec<Vec<u8>>) -> Result<(), Failure>;
    /// A record.
    fn read(&self, name: &str) -> Result<Vec<u8>, Failure>;
}

fn named(records: &[Record]) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    records.iter().map(|record| Ok((record.name.clone(), record.bytes()?))).collect()
}

fn update(folder: &Path, number: u64) -> std::path::PathBuf {
    folder.join(format!("update-{number}"))
}

/// Lets every device write, and leaves in the folder: `base`, the document with
/// the cards; an update of each device, packed; `full`, the document with all of
/// them; `figures`.
pub fn prepare<P: Peer>(folder: &Path, facts: u64) -> Result<(), Failure> {
    let mut first = P::new(DEVICES + 1)?;
    first.write(&named(&(0..CARDS).map(Record::card).collect::<Vec<_>>())?)?;
    let base = first.save()?;
    fs::write(folder.join("base"), &base)?;
    let mut sent = [0, 0];
    for number in 1..=DEVICES {
        let mut document = P::load(&base, number)?;
        let mut device = Device::new(number, facts);
        for (round, sent) in sent.iter_mut().enumerate() {
            let each = if round == 0 { share(facts) } else { share(facts / 100) };
            let before = document.version();
            for session in device.write(each) {
                document.write(&named(&session)?)?;
            }
            let packed = zstd::bulk::compress(&document.since(&before)?, COMPRESSION)?;
            *sent += packed.len();
            if round == 0 {
                fs::write(update(folder, number), packed)?;
            }
        }
    }
    let mut all = P::load(&base, DEVICES + 2)?;
    all.merge(updates(folder)?)?;
    fs::write(folder.join("full"), all.save()?)?;
    let mut figures = Figures::default();
    figures.put("sent", sent[0] as f64);
    figures.put("further", sent[1] as f64);
    figures.write(&folder.join("figures"))
}

fn unpack(packed: &[u8]) -> Result<Vec<u8>, Failure> {
    Ok(zstd::stream::decode_all(packed)?)
}

fn updates(folder: &Path) -> Result<Vec<Vec<u8>>, Failure> {
    (1..=DEVICES).map(|number| unpack(&fs::read(update(folder, number))?)).collect()
}

/// The name of the record that is read at the end: the first device's first.
const WANTED: &str = "1-1";

/// Merge until readable, and then until stored.
pub fn merge<P: Peer>(folder: &Path, work: &Path) -> Result<Figures, Failure> {
    let mut document = P::load(&fs::read(folder.join("base"))?, DEVICES + 2)?;
    let packed: Vec<Vec<u8>> =
        (1..=DEVICES).map(|number| fs::read(update(folder, number))).collect::<Result<_, _>>()?;
    let (mut reading, mut storing) = (Watch::default(), Watch::default());
    reading.run(|| {
        document.merge(packed.iter().map(|packed| unpack(packed)).collect::<Result<_, _>>()?)?;
        document.read(WANTED)
    })?;
    // Before the document is stored, as ours.
    let memory = memory_bytes()?;
    fs::create_dir_all(work)?;
    let stored = storing.run(|| {
        let stored = document.save()?;
        let mut file = File::create(work.join("document"))?;
        file.write_all(&stored)?;
        file.sync_all()?;
        Ok(stored)
    })?;
    let mut figures = Figures::default();
    reading.put(&mut figures, "merge");
    reading.and(&storing).put(&mut figures, "durable");
    figures.put("stored", stored.len() as f64);
    figures.put("memory", memory);
    Ok(figures)
}

/// Opening a stored document and reading one record.
pub fn open<P: Peer>(folder: &Path) -> Result<Figures, Failure> {
    let begin = Instant::now();
    let document = P::load(&fs::read(folder.join("full"))?, DEVICES + 3)?;
    document.read(WANTED)?;
    let mut figures = Figures::default();
    figures.put("read", begin.elapsed().as_secs_f64());
    figures.put("memory", memory_bytes()?);
    Ok(figures)
}
