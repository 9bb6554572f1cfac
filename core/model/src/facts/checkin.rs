//! How a member is: what hurts, how the night was. Kept in the private scope.

use std::collections::BTreeSet;

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

words! {
    /// What is to be seen by a licensed practitioner at any score of pain. It is asked for
    /// and written down; what stands behind it is nothing that is judged here.
    Sign {
        /// Limping.
        Limp = "limp",
        /// Pain on one spot of a bone.
        BonySpot = "bony-spot",
        /// Pain at night.
        Night = "night",
        /// Swelling.
        Swelling = "swelling",
        /// A joint that gives way.
        GivingWay = "giving-way",
        /// Low back pain on arching.
        OnArching = "on-arching",
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
    /// What is to be seen at any score, as far as it was asked and answered with yes. Each
    /// is a flag of the check-in and not of one of `hurts`: that list is closed, and an
    /// earlier version reads the rest and carries the flags along.
    pub signs: BTreeSet<Sign>,
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
        let mut signs = BTreeSet::new();
        for sign in Sign::ALL {
            if f.flag(sign.word())? {
                signs.insert(*sign);
            }
        }
        Ok((Self { day, hurts, sleep_min, signs }, f.rest()))
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
        let pairs = Pairs::default()
            .put("day", self.day.number())
            .put_list("hurts", hurts)
            .put_opt("sleep", self.sleep_min);
        self.signs.iter().fold(pairs, |pairs, sign| pairs.put_flag(sign.word(), true))
    }
}

#[cfg(test)]
mod tests {
    use crate::cbor::{Value, encode};
    use crate::facts::{BodyPart, CheckIn, Day, Extra, Fact, Hurt, Sign, kind};

    #[test]
    fn signs_are_flags_beside_what_an_earlier_version_wrote() {
        let day = Day::parse("2026-02-03").unwrap();
        let before =
            encode(&Value::Map(vec![("day".into(), day.number().into()), ("sleep".into(), 450.into())]));
        let (fact, extra) = Fact::read(kind::CHECK_IN, "", &before).unwrap();
        let Fact::CheckIn(read) = &fact else { panic!("{fact:?}") };
        assert!(read.signs.is_empty() && extra.is_empty());
        assert_eq!(fact.write(&extra).unwrap(), before, "none is told: the same bytes");
        let signs = Sign::ALL.iter().copied().collect();
        let hurts = vec![Hurt { part: BodyPart::Shin, side: None, score: 1 }];
        let all = Fact::CheckIn(CheckIn { day, hurts, sleep_min: None, signs });
        let bytes = all.write(&Extra::new()).unwrap();
        assert_eq!(Fact::read(kind::CHECK_IN, "", &bytes).unwrap().0, all);
        let no =
            encode(&Value::Map(vec![("day".into(), day.number().into()), ("limp".into(), false.into())]));
        assert!(Fact::read(kind::CHECK_IN, "", &no).is_err(), "one value, one encoding");
    }
}
