//! Everything a person can write down, with its ranges.
//!
//! A fact is one of the [kinds](Fact) below. It travels as the payload of an
//! entry: a CBOR map with text keys, integers only. [`Fact::write`] makes a
//! payload and [`Fact::read`] takes one apart; both refuse a value out of its
//! range with a [`Refusal`] that names kind, field, value and range.
//!
//! A kind that this version does not know reads as [`Fact::Unknown`], and keys
//! that it does not know come back as [`Extra`], to be written again with a
//! correction: an older app loses nothing that a newer one wrote. Lists inside
//! a fact are closed; what a later version adds, it adds beside them.
//!
//! To add a kind: a type with `read` and `write` in the file it belongs to, a
//! variant here, its line in [`Fact::address`], [`Fact::read`] and
//! its `pairs`, and its rule in the log's `authority`.

mod assessment;
mod checkin;
mod day;
pub mod exercise;
mod field;
mod id;
mod jump;
mod plan;
mod rule;
mod squad;
mod take;
mod target;
mod training;

pub use assessment::{Control, Growth, LandingControl, Measure, Test, TestResult};
pub use checkin::{BodyPart, CheckIn, Hurt, Sign};
pub use day::Day;
pub use exercise::Exercise;
pub use field::{Extra, Refusal, UnknownWord, Word};
pub use id::{DeviceKey, Hash, Head, LogId, MemberId, Scope, SquadId, Subject};
pub use jump::{Board, Jump, JumpEvent, Outcome, Phases, Wind, WindRule};
pub use plan::{Plan, PlanRow, Planned, Rest};
pub use rule::{Rule, RuleName};
pub use squad::{
    Audience, Card, Consent, Founding, Grant, HopPattern, Level, Removal, Role, Roster, SamePerson, Side,
    Standing,
};
pub use take::{Bracket, Event, EventKind, Foot, Pace, Take};
pub use target::Target;
pub use training::{
    Advice, Approach, Complete, Conditions, Cue, Effort, Leg, Limit, OtherTraining, RestDay, SaidBy, Session,
    Set, Shoes, Surface, Warmth, Wetness, WindFelt, Work,
};

use crate::cbor::{CborError, Value, decode, encode};
use field::{Fields, Pairs};

/// The kinds of facts, as written in the header of an entry.
pub mod kind {
    /// The founding of a squad, and its name.
    pub const SQUAD: &str = "squad";
    /// What a device was admitted as, and its removal.
    pub const DEVICE: &str = "device";
    /// A member: on the roster, and the fields of the card.
    pub const MEMBER: &str = "member";
    /// An exercise of the squad's catalogue.
    pub const EXERCISE: &str = "exercise";
    /// What a member allows.
    pub const CONSENT: &str = "consent";
    /// A training session, and how hard it was.
    pub const SESSION: &str = "session";
    /// A set.
    pub const SET: &str = "set";
    /// The session that was planned for a day.
    pub const PLAN: &str = "plan";
    /// What was read from a clip.
    pub const TAKE: &str = "take";
    /// An attempt at the long or triple jump.
    pub const JUMP: &str = "jump";
    /// Training that is not jumping or sprinting.
    pub const OTHER_TRAINING: &str = "other-training";
    /// The result of a test.
    pub const TEST: &str = "test";
    /// A measured height of the body.
    pub const GROWTH: &str = "growth";
    /// How landings were controlled.
    pub const LANDING_CONTROL: &str = "landing-control";
    /// A line by which training is looked at.
    pub const RULE: &str = "rule";
    /// What a clinician advised about pain in one place.
    pub const ADVICE: &str = "advice";
    /// How short a contact should be.
    pub const TARGET: &str = "target";
    /// How a member is.
    pub const CHECK_IN: &str = "check-in";
    /// A rest day.
    pub const REST: &str = "rest";
    /// Up to when the log is complete.
    pub const COMPLETE: &str = "complete";
    /// What a member may not do until when.
    pub const LIMIT: &str = "limit";
    /// Two first entries that are one athlete.
    pub const SAME_PERSON: &str = "same-person";
    /// The body of an entry is taken away; the entry itself stays in its chain.
    pub const WITHDRAWAL: &str = "withdrawal";
    /// Everything that is held about a member goes.
    pub const ERASURE: &str = "erasure";
}

/// The names of the fields in a target. A fact as a whole has the empty name.
pub mod field_name {
    /// The fact as a whole.
    pub const WHOLE: &str = "";
    /// The name of a squad.
    pub const NAME: &str = "name";
    /// What a device was admitted as.
    pub const GRANT: &str = "grant";
    /// That a device is no longer one of the squad's.
    pub const REMOVAL: &str = "removal";
    /// Whether a member is on the roster.
    pub const ROSTER: &str = "roster";
    /// How hard a session was.
    pub const EFFORT: &str = "effort";
}

/// A fact: what the payload of an entry says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fact {
    /// The founding of a squad.
    Founding(Founding),
    /// The name of a squad.
    SquadName(String),
    /// What a device was admitted as.
    Grant(Grant),
    /// Whether a member is on the roster.
    Roster(Roster),
    /// A field of a member's card.
    Card(Card),
    /// What a member allows.
    Consent(Consent),
    /// An exercise of the squad's catalogue.
    Exercise(Exercise),
    /// A training session.
    Session(Session),
    /// How hard a session was.
    Effort(Effort),
    /// A set.
    Set(Set),
    /// The session that was planned for a day.
    Plan(Plan),
    /// What was read from a clip.
    Take(Take),
    /// An attempt at the long or triple jump.
    Jump(Jump),
    /// Training that is not jumping or sprinting.
    OtherTraining(OtherTraining),
    /// The result of a test.
    Test(TestResult),
    /// A measured height of the body.
    Growth(Growth),
    /// How landings were controlled.
    LandingControl(LandingControl),
    /// A line by which training is looked at.
    Rule(Rule),
    /// What a clinician advised about pain in one place.
    Advice(Advice),
    /// How short a contact should be.
    Target(Target),
    /// How a member is.
    CheckIn(CheckIn),
    /// A rest day.
    Rest(RestDay),
    /// Up to when the log is complete.
    Complete(Complete),
    /// What a member may not do.
    Limit(Limit),
    /// A device is no longer one of the squad's.
    Removal(Removal),
    /// Two first entries that are one athlete.
    SamePerson(SamePerson),
    /// The body of the entry in the target is taken away.
    Withdrawal,
    /// Everything held about the member in the target goes.
    Erasure,
    /// The fact, or this field of it, was deleted.
    Deleted,
    /// A kind or field that this version does not know.
    Unknown,
}

/// Why a payload cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FactError {
    /// The bytes are not deterministic CBOR.
    #[error(transparent)]
    Cbor(#[from] CborError),
    /// A field is missing or out of its range.
    #[error(transparent)]
    Refused(#[from] Refusal),
}

impl Fact {
    /// The kind and field under which it is written; `None` for [`Fact::Deleted`]
    /// and [`Fact::Unknown`], which have those of the fact they stand for.
    #[must_use]
    pub fn address(&self) -> Option<(&'static str, &'static str)> {
        use field_name as f;
        Some(match self {
            Self::Founding(_) => (kind::SQUAD, f::WHOLE),
            Self::SquadName(_) => (kind::SQUAD, f::NAME),
            Self::Grant(_) => (kind::DEVICE, f::GRANT),
            Self::Roster(_) => (kind::MEMBER, f::ROSTER),
            Self::Card(card) => (kind::MEMBER, card.field()),
            Self::Consent(consent) => (kind::CONSENT, consent.to.word()),
            Self::Exercise(_) => (kind::EXERCISE, f::WHOLE),
            Self::Session(_) => (kind::SESSION, f::WHOLE),
            Self::Effort(_) => (kind::SESSION, f::EFFORT),
            Self::Set(_) => (kind::SET, f::WHOLE),
            Self::Plan(_) => (kind::PLAN, f::WHOLE),
            Self::Take(_) => (kind::TAKE, f::WHOLE),
            Self::Jump(_) => (kind::JUMP, f::WHOLE),
            Self::OtherTraining(_) => (kind::OTHER_TRAINING, f::WHOLE),
            Self::Test(_) => (kind::TEST, f::WHOLE),
            Self::Growth(_) => (kind::GROWTH, f::WHOLE),
            Self::LandingControl(_) => (kind::LANDING_CONTROL, f::WHOLE),
            Self::Rule(rule) => (kind::RULE, rule.name.word()),
            Self::Advice(_) => (kind::ADVICE, f::WHOLE),
            Self::Target(_) => (kind::TARGET, f::WHOLE),
            Self::CheckIn(_) => (kind::CHECK_IN, f::WHOLE),
            Self::Rest(_) => (kind::REST, f::WHOLE),
            Self::Complete(_) => (kind::COMPLETE, f::WHOLE),
            Self::Limit(_) => (kind::LIMIT, f::WHOLE),
            Self::Removal(_) => (kind::DEVICE, f::REMOVAL),
            Self::SamePerson(_) => (kind::SAME_PERSON, f::WHOLE),
            Self::Withdrawal => (kind::WITHDRAWAL, f::WHOLE),
            Self::Erasure => (kind::ERASURE, f::WHOLE),
            Self::Deleted | Self::Unknown => return None,
        })
    }

    /// Every kind and field that this version reads.
    pub fn addresses() -> impl Iterator<Item = (&'static str, &'static str)> {
        use field_name as f;
        let whole = [
            kind::SQUAD,
            kind::EXERCISE,
            kind::SESSION,
            kind::SET,
            kind::PLAN,
            kind::TAKE,
            kind::JUMP,
            kind::OTHER_TRAINING,
            kind::TEST,
            kind::GROWTH,
            kind::LANDING_CONTROL,
            kind::ADVICE,
            kind::TARGET,
            kind::CHECK_IN,
            kind::REST,
            kind::COMPLETE,
            kind::LIMIT,
            kind::SAME_PERSON,
            kind::WITHDRAWAL,
            kind::ERASURE,
        ];
        let fields = [
            (kind::SQUAD, f::NAME),
            (kind::DEVICE, f::GRANT),
            (kind::DEVICE, f::REMOVAL),
            (kind::MEMBER, f::ROSTER),
            (kind::SESSION, f::EFFORT),
        ];
        let cards = Card::FIELDS.iter().map(|field| (kind::MEMBER, *field));
        let consents = Audience::ALL.iter().map(|to| (kind::CONSENT, to.word()));
        let rules = RuleName::ALL.iter().map(|name| (kind::RULE, name.word()));
        whole.into_iter().map(|kind| (kind, f::WHOLE)).chain(fields).chain(cards).chain(consents).chain(rules)
    }

    /// Reads the payload of an entry of this kind and field.
    ///
    /// # Errors
    /// [`FactError`] where the bytes are not deterministic CBOR, or a field is
    /// missing or out of its range.
    pub fn read(kind: &str, field: &str, payload: &[u8]) -> Result<(Self, Extra), FactError> {
        let value = decode(payload)?;
        if value == Value::Null {
            return Ok((Self::Deleted, Extra::new()));
        }
        Ok(Self::from_value(kind, field, value)?)
    }

    fn from_value(kind: &str, field: &str, value: Value) -> Result<(Self, Extra), Refusal> {
        use field_name as f;
        macro_rules! known {
            ($kind:expr, $read:path, $variant:path) => {{
                let (fact, extra) = $read(Fields::open($kind, value)?)?;
                ($variant(fact), extra)
            }};
        }
        Ok(match (kind, field) {
            (kind::SQUAD, f::WHOLE) => known!(kind::SQUAD, Founding::read, Self::Founding),
            (kind::SQUAD, f::NAME) => known!(kind::SQUAD, squad::read_name, Self::SquadName),
            (kind::DEVICE, f::GRANT) => known!(kind::DEVICE, Grant::read, Self::Grant),
            (kind::MEMBER, f::ROSTER) => known!(kind::MEMBER, Roster::read, Self::Roster),
            (kind::MEMBER, card) => match Card::read(card, Fields::open(kind::MEMBER, value)?)? {
                Some((card, extra)) => (Self::Card(card), extra),
                None => (Self::Unknown, Extra::new()),
            },
            (kind::CONSENT, to) => match Consent::read(to, Fields::open(kind::CONSENT, value)?)? {
                Some((consent, extra)) => (Self::Consent(consent), extra),
                None => (Self::Unknown, Extra::new()),
            },
            (kind::EXERCISE, f::WHOLE) => known!(kind::EXERCISE, Exercise::read, Self::Exercise),
            (kind::SESSION, f::WHOLE) => known!(kind::SESSION, Session::read, Self::Session),
            (kind::SESSION, f::EFFORT) => known!(kind::SESSION, Effort::read, Self::Effort),
            (kind::SET, f::WHOLE) => known!(kind::SET, Set::read, Self::Set),
            (kind::PLAN, f::WHOLE) => known!(kind::PLAN, Plan::read, Self::Plan),
            (kind::TAKE, f::WHOLE) => known!(kind::TAKE, Take::read, Self::Take),
            (kind::JUMP, f::WHOLE) => known!(kind::JUMP, Jump::read, Self::Jump),
            (kind::OTHER_TRAINING, f::WHOLE) => {
                known!(kind::OTHER_TRAINING, OtherTraining::read, Self::OtherTraining)
            }
            (kind::TEST, f::WHOLE) => known!(kind::TEST, TestResult::read, Self::Test),
            (kind::GROWTH, f::WHOLE) => known!(kind::GROWTH, Growth::read, Self::Growth),
            (kind::LANDING_CONTROL, f::WHOLE) => {
                known!(kind::LANDING_CONTROL, LandingControl::read, Self::LandingControl)
            }
            (kind::RULE, name) => match Rule::read(name, Fields::open(kind::RULE, value)?)? {
                Some((rule, extra)) => (Self::Rule(rule), extra),
                None => (Self::Unknown, Extra::new()),
            },
            (kind::ADVICE, f::WHOLE) => known!(kind::ADVICE, Advice::read, Self::Advice),
            (kind::TARGET, f::WHOLE) => known!(kind::TARGET, Target::read, Self::Target),
            (kind::CHECK_IN, f::WHOLE) => known!(kind::CHECK_IN, CheckIn::read, Self::CheckIn),
            (kind::REST, f::WHOLE) => known!(kind::REST, RestDay::read, Self::Rest),
            (kind::COMPLETE, f::WHOLE) => known!(kind::COMPLETE, Complete::read, Self::Complete),
            (kind::LIMIT, f::WHOLE) => known!(kind::LIMIT, Limit::read, Self::Limit),
            (kind::DEVICE, f::REMOVAL) => known!(kind::DEVICE, Removal::read, Self::Removal),
            (kind::SAME_PERSON, f::WHOLE) => known!(kind::SAME_PERSON, SamePerson::read, Self::SamePerson),
            (kind::WITHDRAWAL, f::WHOLE) => (Self::Withdrawal, Fields::open(kind::WITHDRAWAL, value)?.rest()),
            (kind::ERASURE, f::WHOLE) => (Self::Erasure, Fields::open(kind::ERASURE, value)?.rest()),
            _ => (Self::Unknown, Extra::new()),
        })
    }

    /// Writes the payload, with the keys that were carried along.
    ///
    /// # Errors
    /// [`Refusal`] where a field is out of its range: it is read back first.
    ///
    /// # Panics
    /// Never; [`Fact::Unknown`] cannot be written and is refused.
    pub fn write(&self, extra: &Extra) -> Result<Vec<u8>, Refusal> {
        if *self == Self::Deleted {
            return Ok(encode(&Value::Null));
        }
        let Some((kind, field)) = self.address() else {
            return Err(Refusal {
                kind: "unknown",
                field: "kind",
                value: "unknown".to_owned(),
                range: "a kind that this version can write".to_owned(),
            });
        };
        let value = self.pairs().done(extra);
        let bytes = encode(&value);
        Self::from_value(kind, field, value)?;
        Ok(bytes)
    }

    fn pairs(&self) -> Pairs {
        match self {
            Self::Founding(x) => x.write(),
            Self::SquadName(name) => Pairs::default().put("name", name.as_str()),
            Self::Grant(x) => x.write(),
            Self::Roster(x) => x.write(),
            Self::Card(x) => x.write(),
            Self::Consent(x) => x.write(),
            Self::Exercise(x) => x.write(),
            Self::Session(x) => x.write(),
            Self::Effort(x) => x.write(),
            Self::Set(x) => x.write(),
            Self::Plan(x) => x.write(),
            Self::Take(x) => x.write(),
            Self::Jump(x) => x.write(),
            Self::OtherTraining(x) => x.write(),
            Self::Test(x) => x.write(),
            Self::Growth(x) => x.write(),
            Self::LandingControl(x) => x.write(),
            Self::Rule(x) => x.write(),
            Self::Advice(x) => x.write(),
            Self::Target(x) => x.write(),
            Self::CheckIn(x) => x.write(),
            Self::Rest(x) => x.write(),
            Self::Complete(x) => x.write(),
            Self::Limit(x) => x.write(),
            Self::Removal(x) => x.write(),
            Self::SamePerson(x) => x.write(),
            Self::Withdrawal | Self::Erasure | Self::Deleted | Self::Unknown => Pairs::default(),
        }
    }

    /// The day a fact is about, where it is about one.
    #[must_use]
    pub fn day(&self) -> Option<Day> {
        match self {
            Self::Session(x) => Some(x.day),
            Self::Plan(x) => Some(x.day),
            Self::Take(x) => Some(x.day),
            Self::Jump(x) => Some(x.day),
            Self::OtherTraining(x) => Some(x.day),
            Self::Test(x) => Some(x.day),
            Self::Growth(x) => Some(x.day),
            Self::LandingControl(x) => Some(x.day),
            Self::CheckIn(x) => Some(x.day),
            Self::Rest(x) => Some(x.day),
            Self::Complete(x) => Some(x.up_to),
            _ => None,
        }
    }

    /// The session a fact belongs to, where it does.
    #[must_use]
    pub fn session(&self) -> Option<Hash> {
        match self {
            Self::Set(x) => Some(x.session),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use uuid::Uuid;

    fn set_id() -> Hash {
        Hash([3; 32])
    }

    fn set() -> Set {
        Set {
            session: set_id(),
            exercise: Uuid::from_u128(77),
            reps: 8,
            contacts_per_rep: Some(10),
            leg: Leg::AlternateLeft,
            box_mm: Some(300),
            approach: Some(Approach::Strides(6)),
            load_g: None,
            last_10_m_ms: Some(1_140),
            cue: Some(Cue::Short),
            warm_up: true,
            planned: Some(Planned { plan: Hash([8; 32]), row: 2 }),
        }
    }

    fn all() -> Vec<Fact> {
        let day = Day::parse("2026-02-03").unwrap();
        vec![
            Fact::Founding(Founding { demo: true, recovery: Some([1; 32]) }),
            Fact::SquadName("Harbour jumps".into()),
            Fact::Grant(Grant::new(Role::Athlete, vec![MemberId(Uuid::from_u128(1))])),
            Fact::Grant(Grant { everyone: true, limits: true, ..Grant::new(Role::Medical, vec![]) }),
            Fact::Removal(Removal { cut: vec![Head { log: LogId([6; 32]), seq: 4, hash: Hash([7; 32]) }] }),
            Fact::SamePerson(SamePerson { with: MemberId(Uuid::from_u128(2)) }),
            Fact::Withdrawal,
            Fact::Erasure,
            Fact::Roster(Roster { standing: Standing::Left, since: day, keep_until: Some(day.plus(400)) }),
            Fact::Card(Card::Name("Ino".into())),
            Fact::Card(Card::Born(day)),
            Fact::Card(Card::Level(Level::Advanced)),
            Fact::Card(Card::TakeOffLeg(Side::Left)),
            Fact::Card(Card::HopPattern(HopPattern::RightRightLeft)),
            Fact::Card(Card::MassG(61_500)),
            Fact::Card(Card::Sprint {
                vmax_mm_s: 9_100,
                tau_ms: 1_250,
                vmax_u_mm_s: Some(120),
                tau_u_ms: None,
            }),
            Fact::Card(Card::StrideMm(2_050)),
            Fact::Consent(Consent { to: Audience::Medical, given: true }),
            Fact::Session(Session {
                day,
                start_min: Some(1_020),
                purpose: Some("bounds from a stand".into()),
                location: None,
                surface: Some(Surface::Grass),
                shoes: Some(Shoes::Flats),
                weather: None,
                cut_short: Some("rain".into()),
                conditions: Conditions {
                    wetness: Some(Wetness::Wet),
                    wind: Some(WindFelt::Gusts),
                    warmth: Some(Warmth::Cool),
                },
            }),
            Fact::Effort(Effort { rpe_tenths: 65, minutes: 75 }),
            Fact::Set(set()),
            Fact::Plan(Plan {
                day,
                purpose: "bounds from a stand".into(),
                rows: vec![PlanRow {
                    number: 1,
                    exercise: Uuid::from_u128(77),
                    sets: 4,
                    reps: 8,
                    leg: Leg::AlternateRight,
                    swap: true,
                    box_mm: None,
                    approach: Some(Approach::Strides(6)),
                    load_g: None,
                    cue: Some(Cue::High),
                    say: Some("knee up and wait".into()),
                    rest: Some(Rest::Seconds(120)),
                    warm_up: true,
                }],
                note: Some("on grass, if it is dry".into()),
            }),
            Fact::Exercise(crate::load::catalogue::all().remove(7).exercise),
            Fact::Take(Take {
                day,
                clip: [4; 32],
                frames: [5; 32],
                pace: Pace { num: 1_000, den: 240_000 * 3_000 },
                frame_ticks: 3_000,
                stated_mhz: None,
                clock_ppm: Some(4_000),
                rounded: true,
                exercise: Some(Uuid::from_u128(77)),
                set: Some(set_id()),
                rendered: true,
                events: vec![Event {
                    foot: Foot::Left,
                    kind: EventKind::ToeOff,
                    bracket: Bracket { before: 3_000, after: 9_000 },
                    doubted: true,
                }],
            }),
            Fact::Jump(Jump {
                day,
                event: JumpEvent::Triple,
                indoor: false,
                competition: true,
                place: Some("Harbour stadium".into()),
                attempt: Some(3),
                outcome: Outcome::Measured(14_020),
                toe_mm: Some(-40),
                wind: Some(Wind::Gauge(-300)),
                wind_rule: Some(WindRule::FromMark),
                approach: Some(Approach::Strides(16)),
                start_mm: Some(32_400),
                pit_mm: Some(11_000),
                board: Some(Board::Plane),
                phases: Phases { hop_mm: Some(5_150), step_mm: Some(4_080), jump_mm: None },
                take: Some(Hash([9; 32])),
            }),
            Fact::OtherTraining(OtherTraining {
                day,
                start_min: None,
                work: Work::OtherSport,
                effort: Some(Effort { rpe_tenths: 50, minutes: 90 }),
                note: Some("handball practice".into()),
            }),
            Fact::Test(TestResult { day, test: Test::Squat, value: 92_500, side: None, note: None }),
            Fact::Test(TestResult {
                day,
                test: Test::OneLegStand,
                value: 30_000,
                side: Some(Side::Left),
                note: None,
            }),
            Fact::Growth(Growth { day, height_mm: 1_684 }),
            Fact::LandingControl(LandingControl {
                day,
                exercise: Uuid::from_u128(77),
                set: Some(set_id()),
                side: Some(Side::Right),
                control: Control::Corrected,
                knee_inward: true,
                trunk: false,
                note: None,
            }),
            Fact::Rule(Rule {
                name: RuleName::FirstBox,
                off: false,
                line: Some(400),
                until: Some(day.plus(60)),
                reason: "two winters of landings behind her".into(),
            }),
            Fact::Advice(Advice {
                from: day,
                until: day.plus(42),
                part: BodyPart::Achilles,
                side: Some(Side::Right),
                up_to: 4,
                note: "told by her physiotherapist on 3 February".into(),
            }),
            Fact::Target(Target {
                exercise: Uuid::from_u128(77),
                contact: Some(3),
                approach: Some(Approach::Millimetres(12_000)),
                contact_us: 157_000,
                source: "her own best of last summer".into(),
            }),
            Fact::CheckIn(CheckIn {
                day,
                hurts: vec![Hurt { part: BodyPart::Achilles, side: Some(Side::Right), score: 3 }],
                sleep_min: Some(455),
                signs: [Sign::Night, Sign::Limp].into(),
            }),
            Fact::Rest(RestDay { day }),
            Fact::Complete(Complete { up_to: day }),
            Fact::Limit(Limit {
                from: day,
                until: Some(day.plus(20)),
                no_one_leg: Some(Side::Left),
                no_approach: true,
                max_box_mm: Some(300),
                said_by: SaidBy::Clinician,
                note: None,
            }),
        ]
    }

    #[test]
    fn every_kind_is_read_as_it_was_written_and_carries_unknown_keys() {
        let extra: Extra = vec![("a-later-key".into(), Value::from(5))];
        for fact in all() {
            let (kind, field) = fact.address().unwrap();
            assert!(Fact::addresses().any(|address| address == (kind, field)), "{kind} {field}");
            let bytes = fact.write(&extra).unwrap();
            assert_eq!(Fact::read(kind, field, &bytes).unwrap(), (fact, extra.clone()));
        }
    }

    #[test]
    fn every_address_is_read_and_of_every_kind_there_is_a_sample() {
        for (kind, field) in Fact::addresses() {
            let read = Fact::read(kind, field, &encode(&Value::Map(vec![])));
            assert!(!matches!(read, Ok((Fact::Unknown, _))), "{kind} {field}");
            assert!(all().iter().any(|fact| fact.address().unwrap().0 == kind), "{kind}");
        }
    }

    #[test]
    fn deletion_and_unknown_kinds_are_values_too() {
        let bytes = Fact::Deleted.write(&Extra::new()).unwrap();
        assert_eq!(Fact::read(kind::SET, "", &bytes).unwrap().0, Fact::Deleted);
        assert_eq!(Fact::read("of-a-later-day", "", &[0x01]).unwrap().0, Fact::Unknown);
        assert_eq!(Fact::read(kind::MEMBER, "of-a-later-day", &[0xa0]).unwrap().0, Fact::Unknown);
        assert!(Fact::Unknown.write(&Extra::new()).is_err());
    }

    #[test]
    fn a_value_out_of_range_is_refused_by_kind_field_value_and_range() {
        let e = Fact::Set(Set { reps: 501, ..set() }).write(&Extra::new()).unwrap_err();
        assert_eq!(e.to_string(), "set: reps is 501, expected a whole number from 1 to 500");
        let e = Fact::Card(Card::Name(String::new())).write(&Extra::new()).unwrap_err();
        assert_eq!((e.kind, e.field), ("member", "name"));
        let both = Value::Map(vec![("strides".into(), 4.into()), ("run-mm".into(), 9_000.into())]);
        let e = Fact::read(kind::SET, "", &encode(&both)).unwrap_err();
        assert!(e.to_string().contains("not both"), "{e}");
        let e = Fact::read(kind::SESSION, "", &encode(&Value::Map(vec![]))).unwrap_err();
        assert!(e.to_string().contains("day is missing"), "{e}");
        let no_row = Set { planned: Some(Planned { plan: Hash([8; 32]), row: 0 }), ..set() };
        let e = Fact::Set(no_row).write(&Extra::new()).unwrap_err();
        assert_eq!((e.kind, e.field), ("set", "planned"));
    }

    proptest! {
        /// Whatever arrives under whatever kind ends in a fact or an error.
        #[test]
        fn any_payload_ends(bytes in proptest::collection::vec(any::<u8>(), 0..120), pick in 0_usize..all().len()) {
            let (kind, field) = all()[pick].address().unwrap();
            let _ = Fact::read(kind, field, &bytes);
        }

        /// A known fact with one key replaced by anything small is read or refused
        /// with the name of a field, and what is read writes the same bytes again.
        #[test]
        fn one_odd_field_is_named(pick in 0_usize..all().len(), at in any::<prop::sample::Index>(), odd in -3_i64..100_000_000) {
            let fact = all()[pick].clone();
            let (kind, field) = fact.address().unwrap();
            let Value::Map(mut pairs) = decode(&fact.write(&Extra::new()).unwrap()).unwrap() else { unreachable!() };
            if !pairs.is_empty() {
                let at = at.index(pairs.len());
                pairs[at].1 = odd.into();
            }
            let bytes = encode(&Value::Map(pairs));
            match Fact::read(kind, field, &bytes) {
                Ok((fact, extra)) => prop_assert_eq!(fact.write(&extra).unwrap(), bytes),
                Err(FactError::Refused(e)) => prop_assert!(!e.range.is_empty()),
                Err(e) => prop_assert!(false, "{}", e),
            }
        }
    }
}
