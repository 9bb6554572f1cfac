//! What is done, the same through every library: devices write sets of their
//! own, and now and then edit a card that others edit too, none of them having
//! seen the others.

use pitside_model::cbor::{Value, encode};
use pitside_model::facts::{Card, Extra, Fact, Hash, Leg, Set};
use uuid::Uuid;

use crate::Failure;

/// Devices that write at once.
pub const DEVICES: u64 = 30;
/// Cards that all of them edit. They are there, and everywhere, before.
pub const CARDS: u64 = 500;
/// One fact in this many is an edit of a card.
const EDIT: u64 = 20;
/// Facts written down together: what a person does in a library in one go.
const SESSION: u64 = 18;
/// Exercises in use.
const EXERCISES: u64 = 24;
/// 2026-10-01.
const BEGINNING_MS: i64 = 1_790_812_800_000;

/// One fact, before any library has it.
#[derive(Clone, Debug)]
pub struct Record {
    /// The card that it edits; a set otherwise.
    pub card: Option<u64>,
    /// What it says.
    pub fact: Fact,
    /// When, by the device's clock.
    pub stamp_ms: i64,
    /// Where a library keeps it that names records itself.
    pub name: String,
}

impl Record {
    /// A card as it was before anybody edited it.
    pub fn card(card: u64) -> Self {
        let fact = Fact::Card(Card::MassG(60_000));
        Self { card: Some(card), fact, stamp_ms: BEGINNING_MS, name: card_name(card) }
    }

    /// The record as one value, with what stands in the header of an entry.
    pub fn bytes(&self) -> Result<Vec<u8>, Failure> {
        let (kind, _) = self.fact.address().ok_or("a fact without an address")?;
        let payload = self.fact.write(&Extra::new())?;
        Ok(encode(&Value::Array(vec![kind.into(), self.stamp_ms.into(), 60.into(), Value::Bytes(payload)])))
    }
}

/// A card as a subject.
pub fn card_id(card: u64) -> Uuid {
    Uuid::from_u128(0x019b_0000_0000_7000_8000_0000_0000_0000 | u128::from(card))
}

fn card_name(card: u64) -> String {
    format!("card-{card}")
}

/// What one device writes. It goes on where it stopped.
#[derive(Clone, Debug)]
pub struct Device {
    number: u64,
    written: u64,
    edits: u64,
    edits_each: u64,
    clock_ms: i64,
    random: Random,
}

impl Device {
    /// Device `number`, from 1, of a squad in which all together write `facts`.
    pub fn new(number: u64, facts: u64) -> Self {
        Self {
            number,
            written: 0,
            edits: 0,
            edits_each: share(facts) / EDIT,
            clock_ms: BEGINNING_MS + 60_000 * number.cast_signed(),
            random: Random(number),
        }
    }

    /// The next facts, session by session.
    pub fn write(&mut self, facts: u64) -> Vec<Vec<Record>> {
        let end = self.written + facts;
        let mut sessions = Vec::new();
        while self.written < end {
            let session = Hash(self.random.bytes());
            self.clock_ms += 40_000_000 + self.random.below(20_000_000).cast_signed();
            let count = SESSION.min(end - self.written);
            sessions.push((0..count).map(|_| self.record(session)).collect());
        }
        sessions
    }

    fn record(&mut self, session: Hash) -> Record {
        self.written += 1;
        self.clock_ms += 45_000 + self.random.below(180_000).cast_signed();
        let stamp_ms = self.clock_ms;
        if self.written.is_multiple_of(EDIT) {
            // The cards in turn, each device beginning elsewhere, so that each card is
            // edited by as many devices as any other.
            let card = ((self.number - 1) * self.edits_each + self.edits) % CARDS;
            self.edits += 1;
            let fact = Fact::Card(Card::MassG(45_000 + 100 * self.random.below(500) as u32));
            return Record { card: Some(card), fact, stamp_ms, name: card_name(card) };
        }
        let leg = [Leg::Left, Leg::Right, Leg::Both, Leg::AlternateLeft][self.random.below(4) as usize];
        let set = Set {
            session,
            exercise: Uuid::from_u128(
                0x019b_0000_0000_7000_8000_1000_0000_0000 + u128::from(self.random.below(EXERCISES)),
            ),
            reps: 1 + self.random.below(12) as u16,
            contacts_per_rep: Some(1 + self.random.below(10) as u16),
            leg,
            box_mm: Some(100 * self.random.below(8) as u32),
            approach: None,
            load_g: Some(2_500 * self.random.below(8) as u32),
            last_10_m_ms: None,
            cue: None,
            warm_up: false,
            planned: None,
        };
        let name = format!("{}-{}", self.number, self.written);
        Record { card: None, fact: Fact::Set(set), stamp_ms, name }
    }
}

/// Facts of one device, where all together write `facts`.
pub fn share(facts: u64) -> u64 {
    facts.div_ceil(DEVICES)
}

/// SplitMix64 (Steele et al. 2014): the same workload in every run.
#[derive(Clone, Debug)]
pub struct Random(pub u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
    /// A number below `end`.
    pub fn below(&mut self, end: u64) -> u64 {
        self.next() % end
    }
    /// Bytes that nothing compresses.
    pub fn bytes<const N: usize>(&mut self) -> [u8; N] {
        core::array::from_fn(|_| self.next() as u8)
    }
}
