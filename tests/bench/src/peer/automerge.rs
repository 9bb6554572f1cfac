//! `automerge`: records are byte strings in the root map.

use automerge::transaction::Transactable;
use automerge::{ActorId, AutoCommit, ChangeHash, ROOT, ReadDoc, Value};

use super::Peer;
use crate::Failure;

/// A document.
pub struct Automerge(AutoCommit);

fn actor(device: u64) -> ActorId {
    ActorId::from(device.to_be_bytes().as_slice())
}

impl Peer for Automerge {
    type Version = Vec<ChangeHash>;

    fn new(device: u64) -> Result<Self, Failure> {
        Ok(Self(AutoCommit::new().with_actor(actor(device))))
    }
    fn load(bytes: &[u8], device: u64) -> Result<Self, Failure> {
        Ok(Self(AutoCommit::load(bytes)?.with_actor(actor(device))))
    }
    fn save(&mut self) -> Result<Vec<u8>, Failure> {
        Ok(self.0.save())
    }
    fn write(&mut self, records: &[(String, Vec<u8>)]) -> Result<(), Failure> {
        for (name, bytes) in records {
            self.0.put(ROOT, name.as_str(), bytes.clone())?;
        }
        self.0.commit();
        Ok(())
    }
    fn version(&mut self) -> Vec<ChangeHash> {
        self.0.get_heads()
    }
    fn since(&mut self, version: &Vec<ChangeHash>) -> Result<Vec<u8>, Failure> {
        Ok(self.0.save_after(version))
    }
    fn merge(&mut self, updates: Vec<Vec<u8>>) -> Result<(), Failure> {
        self.0.load_incremental(&updates.concat())?;
        Ok(())
    }
    fn read(&self, name: &str) -> Result<Vec<u8>, Failure> {
        match self.0.get(ROOT, name)? {
            Some((Value::Scalar(value), _)) => {
                Ok(value.into_owned().into_bytes().map_err(|_| "bytes expected")?)
            }
            _ => Err("the record is not there".into()),
        }
    }
}
