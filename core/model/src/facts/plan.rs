//! What is to be trained: the session that was planned for one member on one day.
//!
//! A plan is written ahead of its day and says nothing about what was done. A
//! [`Set`](super::Set) that was done as part of it names the plan and the number of the
//! row, so that what was done of it can be counted whatever was written otherwise.

use std::collections::BTreeSet;

use uuid::Uuid;

use super::day::Day;
use super::field::{Extra, Fields, Pairs, Refusal, refuse};
use super::id::Hash;
use super::squad::day;
use super::training::{Approach, Cue, Leg, put_approach, read_approach};
use crate::cbor::Value;

/// The session to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// The day.
    pub day: Day,
    /// What it is for, 1 to 80 characters; the session that is begun for it has the same.
    pub purpose: String,
    /// What to do, in order: 1 to [`MAX_ROWS`](Self::MAX_ROWS).
    pub rows: Vec<PlanRow>,
    /// What else to know, up to 200 characters.
    pub note: Option<String>,
}

/// How long to rest after a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rest {
    /// So many seconds, 1 to 3 600.
    Seconds(u16),
    /// So many times as long as the set took, 1 to 30: the 5 of a work:rest of 1:5.
    Times(u16),
}

/// Sets of one exercise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanRow {
    /// By what number it is known, 1 to 999. It is the row's own: a row that is put
    /// before others does not change what their sets were done for.
    pub number: u16,
    /// The exercise.
    pub exercise: Uuid,
    /// Sets, 1 to 30.
    pub sets: u16,
    /// Repetitions of each, 1 to 500.
    pub reps: u16,
    /// Which legs, in the first set.
    pub leg: Leg,
    /// Left and right change places from set to set: the legs of a set on one leg, and
    /// which of them begins where they alternate.
    pub swap: bool,
    /// Height of box or platform in millimetres, 0 to 2 000.
    pub box_mm: Option<u32>,
    /// The run-in.
    pub approach: Option<Approach>,
    /// Outside load in grams, 0 to 200 000.
    pub load_g: Option<u32>,
    /// What to make of the contacts.
    pub cue: Option<Cue>,
    /// The one thing to think of, up to 80 characters.
    pub say: Option<String>,
    /// How long to rest after each set.
    pub rest: Option<Rest>,
    /// A drill of the warm-up: counted apart.
    pub warm_up: bool,
}

/// The row of a plan that a set was done for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Planned {
    /// The plan.
    pub plan: Hash,
    /// The [number](PlanRow::number) of the row.
    pub row: u16,
}

const KIND: &str = "plan";
const PLANNED: &str = "the 32 bytes of a plan's id, and the number of a row from 1 to 999";

impl Planned {
    pub(super) fn read_opt(f: &mut Fields, field: &'static str) -> Result<Option<Self>, Refusal> {
        let Some(value) = f.take(field) else { return Ok(None) };
        Self::from_value(&value).map(Some).ok_or_else(|| f.refuse(field, &value, PLANNED))
    }

    fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        let [plan, Value::Int(row)] = items.as_slice() else { return None };
        let row = u16::try_from(*row).ok().filter(|n| PlanRow::NUMBERS.contains(n))?;
        Some(Self { plan: Hash::from_value(plan)?, row })
    }

    pub(super) fn to_value(self) -> Value {
        Value::Array(vec![self.plan.to_value(), self.row.into()])
    }
}

impl PlanRow {
    /// The numbers that a row can have.
    pub const NUMBERS: core::ops::RangeInclusive<u16> = 1..=999;

    fn from_value(value: Value) -> Result<Self, Refusal> {
        let mut f = Fields::open(KIND, value)?;
        let approach = read_approach(&mut f)?;
        let seconds = f.int_opt("rest-s", 1..=3_600)?;
        let times = f.int_opt("rest-times", 1..=30)?;
        let rest = match (seconds, times) {
            (None, None) => None,
            (Some(s), None) => Some(Rest::Seconds(s)),
            (None, Some(n)) => Some(Rest::Times(n)),
            (Some(_), Some(n)) => {
                return Err(f.refuse("rest-times", &n.into(), "seconds or times the work, not both"));
            }
        };
        let row = Self {
            number: f.int("row", Self::NUMBERS)?,
            exercise: f.uuid("exercise")?,
            sets: f.int("sets", 1..=30)?,
            reps: f.int("reps", 1..=500)?,
            leg: f.word("leg")?,
            swap: f.flag("swap")?,
            box_mm: f.int_opt("box-mm", 0..=2_000)?,
            approach,
            load_g: f.int_opt("load-g", 0..=200_000)?,
            cue: f.word_opt("cue")?,
            say: f.text_opt("say", 1..=80)?,
            rest,
            warm_up: f.flag("warm-up")?,
        };
        match f.rest().first() {
            Some((key, _)) => Err(refuse(KIND, "rows", key, "no other key in a row")),
            None => Ok(row),
        }
    }

    fn to_value(&self) -> Value {
        let (seconds, times) = match self.rest {
            None => (None, None),
            Some(Rest::Seconds(s)) => (Some(s), None),
            Some(Rest::Times(n)) => (None, Some(n)),
        };
        let pairs = Pairs::default()
            .put("row", self.number)
            .put("exercise", self.exercise.as_bytes().as_slice())
            .put("sets", self.sets)
            .put("reps", self.reps)
            .put("leg", self.leg.word())
            .put_flag("swap", self.swap)
            .put_opt("box-mm", self.box_mm)
            .put_opt("load-g", self.load_g)
            .put_opt("cue", self.cue.map(Cue::word))
            .put_opt("say", self.say.as_deref())
            .put_opt("rest-s", seconds)
            .put_opt("rest-times", times)
            .put_flag("warm-up", self.warm_up);
        put_approach(pairs, self.approach).done(&Extra::new())
    }
}

impl Plan {
    /// Rows of a plan.
    pub const MAX_ROWS: usize = 24;

    /// The row of a number.
    #[must_use]
    pub fn row(&self, number: u16) -> Option<&PlanRow> {
        self.rows.iter().find(|row| row.number == number)
    }

    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let plan = Self {
            day: day(&mut f, "day")?,
            purpose: f.text("purpose", 1..=80)?,
            rows: f.list("rows", Self::MAX_ROWS, PlanRow::from_value)?,
            note: f.text_opt("note", 1..=200)?,
        };
        if plan.rows.is_empty() {
            return Err(f.refuse("rows", &Value::Array(Vec::new()), "1 to 24 rows"));
        }
        let mut numbers = BTreeSet::new();
        if let Some(twice) = plan.rows.iter().find(|row| !numbers.insert(row.number)) {
            return Err(f.refuse("row", &twice.number.into(), "a number that no other row has"));
        }
        Ok((plan, f.rest()))
    }

    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put("day", self.day.number())
            .put("purpose", self.purpose.as_str())
            .put_list("rows", self.rows.iter().map(PlanRow::to_value).collect())
            .put_opt("note", self.note.as_deref())
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Fact, FactError, kind};
    use super::*;
    use crate::cbor::{decode, encode};

    fn row(number: u16) -> PlanRow {
        PlanRow {
            number,
            exercise: Uuid::from_u128(77),
            sets: 3,
            reps: 10,
            leg: Leg::AlternateLeft,
            swap: true,
            box_mm: Some(300),
            approach: Some(Approach::Strides(4)),
            load_g: Some(2_000),
            cue: Some(Cue::Short),
            say: Some("tall at the touchdown".into()),
            rest: Some(Rest::Times(5)),
            warm_up: false,
        }
    }

    fn plan() -> Plan {
        let day = Day::parse("2026-02-03").unwrap();
        Plan { day, purpose: "short contacts".into(), rows: vec![row(2), row(1)], note: None }
    }

    /// The field by which a plan is refused.
    fn refused(change: impl FnOnce(&mut Plan)) -> &'static str {
        let mut plan = plan();
        change(&mut plan);
        Fact::Plan(plan).write(&Extra::new()).unwrap_err().field
    }

    #[test]
    fn rows_keep_their_order_and_their_numbers() {
        let bytes = Fact::Plan(plan()).write(&Extra::new()).unwrap();
        let read = Fact::read(kind::PLAN, "", &bytes).unwrap().0;
        assert_eq!(read, Fact::Plan(plan()));
        assert_eq!(plan().row(1), Some(&row(1)));
        assert_eq!(plan().row(3), None);
    }

    #[test]
    fn what_is_out_of_range_in_a_row_is_refused_by_its_field() {
        assert_eq!(refused(|p| p.rows.clear()), "rows");
        assert_eq!(refused(|p| p.rows = (1..26).map(row).collect()), "rows");
        assert_eq!(refused(|p| p.rows = vec![row(1), row(1)]), "row");
        assert_eq!(refused(|p| p.rows[0].number = 0), "row");
        assert_eq!(refused(|p| p.rows[0].number = 1_000), "row");
        assert_eq!(refused(|p| p.rows[0].sets = 0), "sets");
        assert_eq!(refused(|p| p.rows[0].sets = 31), "sets");
        assert_eq!(refused(|p| p.rows[1].reps = 501), "reps");
        assert_eq!(refused(|p| p.rows[1].box_mm = Some(2_001)), "box-mm");
        assert_eq!(refused(|p| p.rows[1].approach = Some(Approach::Strides(31))), "strides");
        assert_eq!(refused(|p| p.rows[1].load_g = Some(200_001)), "load-g");
        assert_eq!(refused(|p| p.rows[1].rest = Some(Rest::Seconds(0))), "rest-s");
        assert_eq!(refused(|p| p.rows[1].rest = Some(Rest::Seconds(3_601))), "rest-s");
        assert_eq!(refused(|p| p.rows[1].rest = Some(Rest::Times(31))), "rest-times");
        assert_eq!(refused(|p| p.rows[1].say = Some(String::new())), "say");
        assert_eq!(refused(|p| p.rows[1].say = Some("x".repeat(81))), "say");
        assert_eq!(refused(|p| p.purpose = String::new()), "purpose");
        assert_eq!(refused(|p| p.note = Some("x".repeat(201))), "note");
    }

    /// Adds a key to the first row of a plan that was written.
    fn with_key(key: &str, value: Value) -> Result<(Fact, Extra), FactError> {
        let mut value_of = decode(&Fact::Plan(plan()).write(&Extra::new()).unwrap()).unwrap();
        let Value::Map(pairs) = &mut value_of else { unreachable!() };
        let rows = pairs.iter_mut().find(|(k, _)| *k == "rows".into()).unwrap();
        let Value::Array(rows) = &mut rows.1 else { unreachable!() };
        let Value::Map(row) = &mut rows[0] else { unreachable!() };
        row.push((key.into(), value));
        Fact::read(kind::PLAN, "", &encode(&value_of))
    }

    #[test]
    fn a_row_rests_in_one_way_and_has_no_other_keys() {
        let e = with_key("rest-s", 90.into()).unwrap_err().to_string();
        assert!(e.contains("rest-times") && e.contains("not both"), "{e}");
        let e = with_key("of-a-later-day", 1.into()).unwrap_err().to_string();
        assert!(e.contains("no other key in a row"), "{e}");
        let e = with_key("run-mm", 9_000.into()).unwrap_err().to_string();
        assert!(e.contains("strides or millimetres"), "{e}");
    }
}
