//! How short a contact should be.

use uuid::Uuid;

use super::field::{Extra, Fields, Pairs, Refusal};
use super::training::{Approach, put_approach, read_approach};

/// A contact time to come below: of the squad, in its scope, or a member's own, in the
/// member's. A correction replaces it as any fact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Target {
    /// The exercise.
    pub exercise: Uuid,
    /// Which contact of a repetition, 1 to 300; `None` stands for each that has no
    /// target of its own.
    pub contact: Option<u16>,
    /// With this run-in only; `None` stands for any that has no target of its own.
    pub approach: Option<Approach>,
    /// The contact time in µs, 30 000 to 3 000 000.
    pub contact_us: u32,
    /// Where it comes from, 1 to 200 characters: a publication, an athlete's own
    /// baseline, the coach's judgement.
    pub source: String,
}

impl Target {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let approach = read_approach(&mut f)?;
        let target = Self {
            exercise: f.uuid("exercise")?,
            contact: f.int_opt("contact", 1..=300)?,
            approach,
            contact_us: f.int("contact-us", 30_000..=3_000_000)?,
            source: f.text("source", 1..=200)?,
        };
        Ok((target, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        let pairs = Pairs::default()
            .put("exercise", self.exercise.as_bytes().as_slice())
            .put_opt("contact", self.contact)
            .put("contact-us", self.contact_us)
            .put("source", self.source.as_str());
        put_approach(pairs, self.approach)
    }
}
