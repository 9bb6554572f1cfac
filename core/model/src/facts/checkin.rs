//! How a member is: what hurts, how the night was. Kept in the private scope.

use super::day::Day;
use super::field::{Extra, Fields, Pairs, Refusal, refuse, words};
use super::squad::{Side, day};
use crate::cbor::Value;

words! {
    /// Where it hurts, coarse on purpose: this is no diagnosis.
    BodyPart {
        /// Foot or toes.
        Foot = "foot",
        /// Ankle.
        Ankle = "ankle",
        /// Achilles tendon.
        Achilles = "achilles",
        /// Calf.
        Calf = "calf",
        /// Shin.
        Shin = "shin",
        /// Knee.
        Knee = "knee",
        /// Front of the thigh.
        Thigh = "thigh",
        /// Back of the thigh.
        Hamstring = "hamstring",
        /// Groin.
        Groin = "groin",
        /// Hip.
        Hip = "hip",
        /// Low back.
        LowBack = "low-back",
        /// Elsewhere.
        Elsewhere = "elsewhere",
    }
}

/// One thing that hurts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hurt {
    /// Where.
    pub part: BodyPart,
    /// Which side, where there are two.
    pub side: Option<Side>,
    /// From 0 (gone) to 10 (worst imaginable).
    pub score: u8,
}

/// A check-in of one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckIn {
    /// The day.
    pub day: Day,
    /// What hurts, at most 12; empty: asked, and nothing does.
    pub hurts: Vec<Hurt>,
    /// Sleep in minutes, 0 to 1 440.
    pub sleep_min: Option<u16>,
}

impl CheckIn {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let day = day(&mut f, "day")?;
        let hurts = f.list("hurts", 12, |item| {
            let mut h = Fields::open("check-in", item)?;
            let hurt =
                Hurt { part: h.word("part")?, side: h.word_opt("side")?, score: h.int("score", 0..=10)? };
            match h.rest().first() {
                None => Ok(hurt),
                Some((key, _)) => Err(refuse("check-in", "hurts", key, "part, side and score only")),
            }
        })?;
        let sleep_min = f.int_opt("sleep", 0..=1_440)?;
        Ok((Self { day, hurts, sleep_min }, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        let hurts: Vec<Value> = self
            .hurts
            .iter()
            .map(|h| {
                Pairs::default()
                    .put("part", h.part.word())
                    .put_opt("side", h.side.map(Side::word))
                    .put("score", h.score)
                    .done(&Vec::new())
            })
            .collect();
        Pairs::default()
            .put("day", self.day.number())
            .put_list("hurts", hurts)
            .put_opt("sleep", self.sleep_min)
    }
}
