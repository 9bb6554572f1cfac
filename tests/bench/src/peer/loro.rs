//! `loro`: records are byte strings in one map.

use loro::{ExportMode, LoroDoc, LoroValue, ValueOrContainer, VersionVector};

use super::Peer;
use crate::Failure;

/// A document.
pub struct Loro(LoroDoc);

impl Peer for Loro {
    type Version = VersionVector;

    fn new(device: u64) -> Result<Self, Failure> {
        let document = LoroDoc::new();
        document.set_peer_id(device)?;
        Ok(Self(document))
    }
    fn load(bytes: &[u8], device: u64) -> Result<Self, Failure> {
        let document = LoroDoc::from_snapshot(bytes)?;
        document.set_peer_id(device)?;
        Ok(Self(document))
    }
    fn save(&mut self) -> Result<Vec<u8>, Failure> {
        Ok(self.0.export(ExportMode::Snapshot)?)
    }
    fn write(&mut self, records: &[(String, Vec<u8>)]) -> Result<(), Failure> {
        let map = self.0.get_map("records");
        for (name, bytes) in records {
            map.insert(name, bytes.clone())?;
        }
        self.0.commit();
        Ok(())
    }
    fn version(&mut self) -> VersionVector {
        self.0.oplog_vv()
    }
    fn since(&mut self, version: &VersionVector) -> Result<Vec<u8>, Failure> {
        Ok(self.0.export(ExportMode::updates(version))?)
    }
    fn merge(&mut self, updates: Vec<Vec<u8>>) -> Result<(), Failure> {
        self.0.import_batch(&updates)?;
        Ok(())
    }
    fn read(&self, name: &str) -> Result<Vec<u8>, Failure> {
        match self.0.get_map("records").get(name) {
            Some(ValueOrContainer::Value(LoroValue::Binary(bytes))) => Ok(bytes.to_vec()),
            _ => Err("the record is not there".into()),
        }
    }
}
