//! Merge: which entries count, and which are live.
//!
//! An entry is *live* when it counts and no entry that counts replaces it. An
//! entry replaces only what has the same [key](Key). More than one distinct live
//! value of a key is a *clash*, shown until a person settles it with an entry
//! that replaces them all. Edit, correction, settlement and deletion are this
//! one rule.
//!
//! [`apply`] takes entries one at a time, in any order and any number of times.
//! It only ever moves an entry from waiting or refused to counted, and a value
//! from live to replaced, so the end state depends on the set of entries alone;
//! [`reference`](crate::reference) is what it is checked against.

use pitside_model::facts::{DeviceKey, Fact, Hash, Place, Subject, kind};

use crate::authority::{Grants, Judgement, Root, judge};
use crate::entry::{Entry, Key};

/// What merge keeps between two entries. Each store of entries is one, and must
/// pass the same suite.
pub trait Ledger {
    /// Why it could not read or write.
    type Error;

    /// The device that writes a log.
    ///
    /// # Errors
    /// Where the ledger cannot be read.
    fn device(&self, log: pitside_model::facts::LogId) -> Result<Option<DeviceKey>, Self::Error>;
    /// An entry that was put in.
    ///
    /// # Errors
    /// Where the ledger cannot be read.
    fn entry(&self, place: Place) -> Result<Option<Entry>, Self::Error>;
    /// How an entry was judged last; `None` before.
    ///
    /// # Errors
    /// Where the ledger cannot be read.
    fn judgement(&self, place: Place) -> Result<Option<Judgement>, Self::Error>;
    /// Keeps a judgement.
    ///
    /// # Errors
    /// Where the ledger cannot be written.
    fn set_judgement(&mut self, place: Place, judgement: Judgement) -> Result<(), Self::Error>;
    /// The device's entries that were put in and do not count.
    ///
    /// # Errors
    /// Where the ledger cannot be read.
    fn uncounted(&self, device: DeviceKey) -> Result<Vec<Place>, Self::Error>;
    /// What a device was given.
    ///
    /// # Errors
    /// Where the ledger cannot be read.
    fn grants(&self, device: DeviceKey) -> Result<Grants, Self::Error>;
    /// Keeps what a device was given.
    ///
    /// # Errors
    /// Where the ledger cannot be written.
    fn set_grants(&mut self, device: DeviceKey, grants: &Grants) -> Result<(), Self::Error>;
    /// Keeps that a counted entry of this key replaces the entry `hash`, and
    /// takes that one out of the live ones if it is there.
    ///
    /// # Errors
    /// Where the ledger cannot be written.
    fn replace(&mut self, key: &Key, hash: Hash) -> Result<(), Self::Error>;
    /// Whether [`replace`](Ledger::replace) was called for it.
    ///
    /// # Errors
    /// Where the ledger cannot be read.
    fn is_replaced(&self, key: &Key, hash: Hash) -> Result<bool, Self::Error>;
    /// Adds an entry to the live ones.
    ///
    /// # Errors
    /// Where the ledger cannot be written.
    fn put_live(&mut self, key: &Key, entry: &Entry) -> Result<(), Self::Error>;
}

/// Takes one entry into the state. The entry must be in the ledger.
///
/// # Errors
/// Where the ledger cannot be read or written.
pub fn apply<L: Ledger>(ledger: &mut L, root: &Root, place: Place) -> Result<(), L::Error> {
    let mut queue = vec![place];
    while let Some(place) = queue.pop() {
        if ledger.judgement(place)? == Some(Judgement::Counted) {
            continue;
        }
        let (Some(entry), Some(device)) = (ledger.entry(place)?, ledger.device(place.log)?) else { continue };
        let judgement = judge(root, &entry, device, &ledger.grants(device)?);
        ledger.set_judgement(place, judgement)?;
        if judgement == Judgement::Counted {
            count(ledger, &entry)?;
            if let Some(given) = give(ledger, &entry, device)? {
                queue.extend(ledger.uncounted(given)?);
            }
        }
    }
    Ok(())
}

fn count<L: Ledger>(ledger: &mut L, entry: &Entry) -> Result<(), L::Error> {
    let key = entry.key();
    for replaced in &entry.header.replaces {
        ledger.replace(&key, *replaced)?;
    }
    if !ledger.is_replaced(&key, entry.hash)? {
        ledger.put_live(&key, entry)?;
    }
    Ok(())
}

/// Adds what a counted entry gives; says which device has more than before.
fn give<L: Ledger>(ledger: &mut L, entry: &Entry, device: DeviceKey) -> Result<Option<DeviceKey>, L::Error> {
    let Some((receiver, grant)) = granted(entry, device) else { return Ok(None) };
    let mut grants = ledger.grants(receiver)?;
    if !grants.add(&grant) {
        return Ok(None);
    }
    ledger.set_grants(receiver, &grants)?;
    Ok(Some(receiver))
}

/// What an entry gives to which device, if it counts: the founding makes its own
/// device an owner, an admission says.
#[must_use]
pub fn granted(entry: &Entry, device: DeviceKey) -> Option<(DeviceKey, pitside_model::facts::Grant)> {
    use pitside_model::facts::{Grant, Role};
    match (entry.header.kind.as_str(), &entry.header.target) {
        (kind::SQUAD, None) => Some((device, Grant { role: Role::Owner, members: Vec::new() })),
        (kind::DEVICE, Some(target)) => {
            let Subject::Device(receiver) = target.subject else { return None };
            let payload = &entry.body.as_ref()?.payload;
            match Fact::read(kind::DEVICE, &target.field, payload) {
                Ok((Fact::Grant(grant), _)) => Some((receiver, grant)),
                _ => None,
            }
        }
        _ => None,
    }
}
