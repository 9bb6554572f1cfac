//! An attempt at the long jump or the triple jump.

use super::day::Day;
use super::field::{Extra, Fields, Pairs, Refusal, words};
use super::id::Hash;
use super::squad::day;
use super::training::{Approach, put_approach, read_approach};

words! {
    /// The event.
    JumpEvent {
        /// Long jump.
        Long = "long-jump",
        /// Triple jump.
        Triple = "triple-jump",
    }
}

words! {
    /// How the foul line was watched.
    Board {
        /// A board, fouls told by the plane above its line (a camera or a laser).
        Plane = "plane",
        /// A board with an indicator that takes the print of a shoe.
        Indicator = "indicator",
        /// A board or a painted line watched by eye.
        ByEye = "by-eye",
        /// A take-off zone: the distance is measured from the toe, not from the line.
        Zone = "zone",
    }
}

words! {
    /// From where the five seconds of a wind reading ran.
    WindRule {
        /// From passing the mark that the rules name, 40 m (long jump) or 35 m (triple
        /// jump) before the line.
        FromMark = "from-mark",
        /// From the start of a run-up shorter than that.
        FromStart = "from-start",
        /// Otherwise, as a hand-held reading: not by the rules.
        Otherwise = "otherwise",
    }
}

/// How an attempt came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Outcome {
    /// It counts: the official distance in millimetres, to the 0.01 m below, so a
    /// multiple of 10. Long jump 500 to 10 000, triple jump 1 000 to 20 000.
    Measured(u32),
    /// A foul, for whatever reason.
    Foul,
}

/// What is known of the wind, where anything was said.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Wind {
    /// The mean along the runway in mm/s, −15 000 to 15 000; with the jumper positive.
    Gauge(i32),
    /// There was no gauge.
    NoGauge,
}

/// The phases of a triple jump in millimetres, from toe to toe, the last one to the
/// mark in the pit: each 300 to 10 000 where it was measured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Phases {
    /// The hop.
    pub hop_mm: Option<u32>,
    /// The step.
    pub step_mm: Option<u32>,
    /// The jump.
    pub jump_mm: Option<u32>,
}

/// One attempt at an event jump, in training or competition.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Jump {
    /// The day.
    pub day: Day,
    /// The event.
    pub event: JumpEvent,
    /// Indoors; there no wind is measured.
    pub indoor: bool,
    /// In a competition. It counts as training all the same.
    pub competition: bool,
    /// Where, up to 80 characters.
    pub place: Option<String>,
    /// Which attempt of that day, 1 to 99.
    pub attempt: Option<u16>,
    /// Distance or foul.
    pub outcome: Outcome,
    /// Where the toe was at take-off, millimetres from the foul line along the runway:
    /// positive over the line, negative behind it, −3 000 to 1 000. An attempt that
    /// counts has none over the line, but with an indicator that took no print.
    pub toe_mm: Option<i32>,
    /// The wind.
    pub wind: Option<Wind>,
    /// By which rule the wind was read; only beside a reading.
    pub wind_rule: Option<WindRule>,
    /// The run-up.
    pub approach: Option<Approach>,
    /// Tape reading of the start mark: millimetres before the foul line, 1 000 to 60 000.
    pub start_mm: Option<u32>,
    /// From the foul line to the pit in millimetres, 0 to 15 000.
    pub pit_mm: Option<u32>,
    /// How the foul line was watched.
    pub board: Option<Board>,
    /// The phases; of a triple jump only.
    pub phases: Phases,
    /// The take of its clip.
    pub take: Option<Hash>,
}

impl Jump {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let event: JumpEvent = f.word("event")?;
        let indoor = f.flag("indoor")?;
        let board = f.word_opt("board")?;
        let (wind, wind_rule) = read_wind(&mut f, indoor)?;
        let jump = Self {
            day: day(&mut f, "day")?,
            event,
            indoor,
            competition: f.flag("competition")?,
            place: f.text_opt("place", 1..=80)?,
            attempt: f.int_opt("attempt", 1..=99)?,
            outcome: read_outcome(&mut f, event)?,
            toe_mm: f.int_opt("toe-mm", -3_000..=1_000)?,
            wind,
            wind_rule,
            approach: read_approach(&mut f)?,
            start_mm: f.int_opt("start-mm", 1_000..=60_000)?,
            pit_mm: f.int_opt("pit-mm", 0..=15_000)?,
            board,
            phases: read_phases(&mut f, event)?,
            take: f.fact_id_opt("take")?,
        };
        if let (Outcome::Measured(_), Some(toe)) = (jump.outcome, jump.toe_mm)
            && toe > 0
            && board != Some(Board::Indicator)
        {
            let range = "not over the line where the attempt counts; a toe over it is a foul";
            return Err(f.refuse("toe-mm", &toe.into(), range));
        }
        Ok((jump, f.rest()))
    }

    pub(super) fn write(&self) -> Pairs {
        let pairs = Pairs::default()
            .put("day", self.day.number())
            .put("event", self.event.word())
            .put_flag("indoor", self.indoor)
            .put_flag("competition", self.competition)
            .put_opt("place", self.place.as_deref())
            .put_opt("attempt", self.attempt);
        let pairs = match self.outcome {
            Outcome::Measured(mm) => pairs.put("distance-mm", mm),
            Outcome::Foul => pairs.put("foul", true),
        };
        let pairs = match self.wind {
            Some(Wind::Gauge(mm_s)) => pairs.put("wind-mm-s", mm_s),
            Some(Wind::NoGauge) => pairs.put("no-gauge", true),
            None => pairs,
        };
        let pairs = pairs
            .put_opt("toe-mm", self.toe_mm)
            .put_opt("wind-rule", self.wind_rule.map(WindRule::word))
            .put_opt("start-mm", self.start_mm)
            .put_opt("pit-mm", self.pit_mm)
            .put_opt("board", self.board.map(Board::word))
            .put_opt("hop-mm", self.phases.hop_mm)
            .put_opt("step-mm", self.phases.step_mm)
            .put_opt("jump-mm", self.phases.jump_mm)
            .put_opt("take", self.take.map(Hash::to_value));
        put_approach(pairs, self.approach)
    }
}

/// A distance or a foul, one of both.
fn read_outcome(f: &mut Fields, event: JumpEvent) -> Result<Outcome, Refusal> {
    if f.flag("foul")? {
        return match f.take("distance-mm") {
            None => Ok(Outcome::Foul),
            Some(mm) => Err(f.refuse("distance-mm", &mm, "a distance or a foul, not both")),
        };
    }
    let mm: u32 = match event {
        JumpEvent::Long => f.int("distance-mm", 500..=10_000)?,
        JumpEvent::Triple => f.int("distance-mm", 1_000..=20_000)?,
    };
    if mm.is_multiple_of(10) {
        Ok(Outcome::Measured(mm))
    } else {
        Err(f.refuse("distance-mm", &mm.into(), "a multiple of 10: the 0.01 m below"))
    }
}

/// A reading or that there was no gauge, and the rule of the reading.
fn read_wind(f: &mut Fields, indoor: bool) -> Result<(Option<Wind>, Option<WindRule>), Refusal> {
    let reading: Option<i32> = f.int_opt("wind-mm-s", -15_000..=15_000)?;
    let no_gauge = f.flag("no-gauge")?;
    let rule: Option<WindRule> = f.word_opt("wind-rule")?;
    let wind = match (reading, no_gauge) {
        (Some(mm_s), true) => {
            return Err(f.refuse("wind-mm-s", &mm_s.into(), "a reading or no gauge, not both"));
        }
        (Some(mm_s), false) if indoor => {
            return Err(f.refuse("wind-mm-s", &mm_s.into(), "left out: indoors no wind is measured"));
        }
        (Some(mm_s), false) => Some(Wind::Gauge(mm_s)),
        (None, true) => Some(Wind::NoGauge),
        (None, false) => None,
    };
    match (wind, rule) {
        (Some(Wind::Gauge(_)), _) | (_, None) => Ok((wind, rule)),
        (_, Some(rule)) => {
            Err(f.refuse("wind-rule", &rule.word().into(), "left out where there is no reading"))
        }
    }
}

fn read_phases(f: &mut Fields, event: JumpEvent) -> Result<Phases, Refusal> {
    let phases = Phases {
        hop_mm: f.int_opt("hop-mm", 300..=10_000)?,
        step_mm: f.int_opt("step-mm", 300..=10_000)?,
        jump_mm: f.int_opt("jump-mm", 300..=10_000)?,
    };
    let named = [("hop-mm", phases.hop_mm), ("step-mm", phases.step_mm), ("jump-mm", phases.jump_mm)];
    match named.into_iter().find_map(|(field, mm)| mm.map(|mm| (field, mm))) {
        Some((field, mm)) if event == JumpEvent::Long => {
            Err(f.refuse(field, &mm.into(), "left out: a long jump has no phases"))
        }
        _ => Ok(phases),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::{Fact, kind};

    fn jump() -> Jump {
        Jump {
            day: Day::parse("2026-06-13").unwrap(),
            event: JumpEvent::Long,
            indoor: false,
            competition: true,
            place: None,
            attempt: Some(2),
            outcome: Outcome::Measured(6_420),
            toe_mm: Some(-40),
            wind: Some(Wind::Gauge(1_300)),
            wind_rule: Some(WindRule::FromMark),
            approach: Some(Approach::Strides(18)),
            start_mm: Some(34_150),
            pit_mm: Some(2_000),
            board: Some(Board::Plane),
            phases: Phases::default(),
            take: None,
        }
    }

    fn refused(jump: Jump) -> (&'static str, String) {
        let refusal = Fact::Jump(jump).write(&Extra::new()).unwrap_err();
        assert_eq!(refusal.kind, kind::JUMP);
        (refusal.field, refusal.to_string())
    }

    #[test]
    fn a_distance_is_a_whole_number_of_centimetres_in_the_range_of_its_event() {
        for mm in [6_421, 6_429, 490, 10_010] {
            assert_eq!(refused(Jump { outcome: Outcome::Measured(mm), ..jump() }).0, "distance-mm");
        }
        let triple = Jump { event: JumpEvent::Triple, outcome: Outcome::Measured(15_020), ..jump() };
        assert!(Fact::Jump(triple.clone()).write(&Extra::new()).is_ok());
        assert_eq!(refused(Jump { outcome: Outcome::Measured(20_010), ..triple }).0, "distance-mm");
    }

    #[test]
    fn a_toe_over_the_line_is_a_foul_unless_an_indicator_took_no_print() {
        let over = Jump { toe_mm: Some(12), ..jump() };
        let (field, said) = refused(over.clone());
        assert_eq!(field, "toe-mm");
        assert!(said.contains("a toe over it is a foul"), "{said}");
        for counts in [
            Jump { outcome: Outcome::Foul, ..over.clone() },
            Jump { board: Some(Board::Indicator), ..over.clone() },
            Jump { toe_mm: Some(0), ..over },
        ] {
            let bytes = Fact::Jump(counts.clone()).write(&Extra::new()).unwrap();
            assert_eq!(Fact::read(kind::JUMP, "", &bytes).unwrap().0, Fact::Jump(counts));
        }
    }

    #[test]
    fn wind_is_read_by_a_gauge_outdoors_and_a_rule_needs_a_reading() {
        assert_eq!(refused(Jump { indoor: true, ..jump() }).0, "wind-mm-s");
        assert_eq!(refused(Jump { wind: Some(Wind::Gauge(15_100)), ..jump() }).0, "wind-mm-s");
        assert_eq!(refused(Jump { wind: Some(Wind::NoGauge), ..jump() }).0, "wind-rule");
        assert_eq!(refused(Jump { wind: None, ..jump() }).0, "wind-rule");
        let bare = Jump { indoor: true, wind: None, wind_rule: None, ..jump() };
        assert!(Fact::Jump(bare).write(&Extra::new()).is_ok());
    }

    #[test]
    fn phases_are_of_a_triple_jump_only() {
        let phases = Phases { step_mm: Some(4_300), ..Phases::default() };
        assert_eq!(refused(Jump { phases, ..jump() }).0, "step-mm");
        let triple = Jump { event: JumpEvent::Triple, outcome: Outcome::Measured(14_010), phases, ..jump() };
        assert!(Fact::Jump(triple).write(&Extra::new()).is_ok());
    }

    #[test]
    fn neither_both_nor_none_of_two_that_exclude_each_other() {
        use crate::cbor::{Value, encode};
        let read = |pairs: &[(&'static str, Value)]| {
            let mut all: Vec<(Value, Value)> =
                vec![("day".into(), 20_000.into()), ("event".into(), "long-jump".into())];
            all.extend(pairs.iter().map(|(key, value)| (Value::from(*key), value.clone())));
            Fact::read(kind::JUMP, "", &encode(&Value::Map(all))).map(|read| read.0)
        };
        let said = |pairs: &[(&'static str, Value)]| read(pairs).unwrap_err().to_string();
        assert!(said(&[]).contains("distance-mm is missing"));
        let both = [("foul", true.into()), ("distance-mm", 6_000.into())];
        assert!(said(&both).contains("not both"));
        let both = [("foul", true.into()), ("no-gauge", true.into()), ("wind-mm-s", 900.into())];
        assert!(said(&both).contains("not both"));
        assert!(read(&[("foul", true.into())]).is_ok());
    }
}
