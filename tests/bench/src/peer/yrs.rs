//! `yrs`: records are byte strings in one map.

use yrs::updates::decoder::Decode;
use yrs::{Any, Doc, Map, MapRef, Out, ReadTxn, StateVector, Transact, Update};

use super::Peer;
use crate::Failure;

/// A document.
pub struct Yrs(Doc, MapRef);

impl Peer for Yrs {
    type Version = StateVector;

    fn new(device: u64) -> Result<Self, Failure> {
        let document = Doc::with_client_id(device);
        let map = document.get_or_insert_map("records");
        Ok(Self(document, map))
    }
    fn load(bytes: &[u8], device: u64) -> Result<Self, Failure> {
        let mut document = Self::new(device)?;
        document.merge(vec![bytes.to_vec()])?;
        Ok(document)
    }
    fn save(&mut self) -> Result<Vec<u8>, Failure> {
        self.since(&StateVector::default())
    }
    fn write(&mut self, records: &[(String, Vec<u8>)]) -> Result<(), Failure> {
        let mut transaction = self.0.transact_mut();
        for (name, bytes) in records {
            self.1.insert(&mut transaction, name.as_str(), Any::Buffer(bytes.as_slice().into()));
        }
        Ok(())
    }
    fn version(&mut self) -> StateVector {
        self.0.transact().state_vector()
    }
    fn since(&mut self, version: &StateVector) -> Result<Vec<u8>, Failure> {
        Ok(self.0.transact().encode_state_as_update_v1(version))
    }
    fn merge(&mut self, updates: Vec<Vec<u8>>) -> Result<(), Failure> {
        let mut transaction = self.0.transact_mut();
        for update in &updates {
            transaction.apply_update(Update::decode_v1(update)?)?;
        }
        Ok(())
    }
    fn read(&self, name: &str) -> Result<Vec<u8>, Failure> {
        match self.1.get(&self.0.transact(), name) {
            Some(Out::Any(Any::Buffer(bytes))) => Ok(bytes.to_vec()),
            _ => Err("the record is not there".into()),
        }
    }
}
