//! The squad, its devices and its members.

use super::day::Day;
use super::field::{Extra, Fields, Pairs, Refusal, words};
use super::id::{Head, MemberId};
use crate::cbor::Value;

words! {
    /// What a device may do.
    Role {
        /// The coach's own: admits and removes, writes everything but what is private.
        Owner = "owner",
        /// An assistant coach's: writes the training of the members it is given.
        Assistant = "assistant",
        /// Serves one or more members and writes about them only.
        Athlete = "athlete",
        /// Of someone licensed to treat: reads what the members it is given share.
        Medical = "medical",
        /// A guardian's: reads everything of the members it is given.
        Guardian = "guardian",
    }
}

words! {
    /// Left or right.
    Side {
        /// Left.
        Left = "left",
        /// Right.
        Right = "right",
    }
}

words! {
    /// Training age in the words of the handbooks.
    Level {
        /// New to jumping work.
        Beginner = "beginner",
        /// Some seasons of it.
        Intermediate = "intermediate",
        /// Many seasons of it.
        Advanced = "advanced",
    }
}

words! {
    /// The feet of a triple jump.
    HopPattern {
        /// Left, left, right.
        LeftLeftRight = "llr",
        /// Right, right, left.
        RightRightLeft = "rrl",
    }
}

words! {
    /// Whether a member is on the roster.
    Standing {
        /// On it.
        Active = "active",
        /// No longer.
        Left = "left",
    }
}

words! {
    /// Who may see a member's private part.
    Audience {
        /// The coach: owner devices.
        Coach = "private",
        /// Assistant coaches who are given the member.
        Assistants = "private-assistants",
        /// Medical devices that are given the member.
        Medical = "private-medical",
    }
}

/// The founding of a squad; its hash is the squad's identity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Founding {
    /// An invented squad of the demo: it never mixes with a person's own book.
    pub demo: bool,
    /// Public key of the recovery key printed at founding, where there is one.
    pub recovery: Option<[u8; 32]>,
}

/// What a device was admitted as. Admissions add up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grant {
    /// Its role.
    pub role: Role,
    /// The members it is given, at most 256; for an owner those it serves besides.
    pub members: Vec<MemberId>,
    /// It is given every member, those of later days too. Not for athletes' devices.
    pub everyone: bool,
    /// It may write what these members may not do.
    pub limits: bool,
    /// It may write what these members allow.
    pub consent: bool,
}

impl Grant {
    /// A role for some members, and nothing beside it.
    #[must_use]
    pub fn new(role: Role, members: Vec<MemberId>) -> Self {
        Self { role, members, everyone: false, limits: false, consent: false }
    }
}

/// A device is no longer one of the squad's. What it wrote up to these heads
/// counts, what it wrote after them does not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Removal {
    /// The end of each log of the device as the remover had it, at most 400.
    pub cut: Vec<Head>,
}

/// Two first entries that are one athlete.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SamePerson {
    /// The other one; the first stands in the target.
    pub with: MemberId,
}

/// A member on the coach's roster.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Roster {
    /// Active or left.
    pub standing: Standing,
    /// Since when.
    pub since: Day,
    /// Until when what is held about a member who left is kept: the day on
    /// which the coach is asked to erase it.
    pub keep_until: Option<Day>,
}

/// One field of a member's card. Each is a fact of its own, so that edits of
/// different fields never clash.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Card {
    /// The name the squad uses, 1 to 60 characters.
    Name(String),
    /// The day of birth. Unknown counts as young.
    Born(Day),
    /// The training level.
    Level(Level),
    /// The take-off leg.
    TakeOffLeg(Side),
    /// The feet of the triple jump.
    HopPattern(HopPattern),
    /// Body mass in grams, 20 000 to 200 000.
    MassG(u32),
    /// How the athlete accelerates, v(t) = v_max·(1 − e^(−t/τ)).
    Sprint {
        /// v_max in mm/s, 3 000 to 13 000.
        vmax_mm_s: u32,
        /// τ in ms, 500 to 2 500.
        tau_ms: u32,
        /// Standard uncertainty of v_max in mm/s, 0 to 2 000, where known.
        vmax_u_mm_s: Option<u32>,
        /// Standard uncertainty of τ in ms, 0 to 1 000, where known.
        tau_u_ms: Option<u32>,
    },
    /// The mean length of a stride of the run-in in millimetres, 500 to 3 000.
    StrideMm(u32),
}

impl Card {
    /// The names of the fields.
    pub const FIELDS: [&'static str; 8] =
        ["name", "born", "level", "take-off-leg", "hop-pattern", "mass", "sprint", "stride"];

    /// The field's name in the entry's target.
    #[must_use]
    pub fn field(&self) -> &'static str {
        let [name, born, level, leg, pattern, mass, sprint, stride] = Self::FIELDS;
        match self {
            Self::Name(_) => name,
            Self::Born(_) => born,
            Self::Level(_) => level,
            Self::TakeOffLeg(_) => leg,
            Self::HopPattern(_) => pattern,
            Self::MassG(_) => mass,
            Self::Sprint { .. } => sprint,
            Self::StrideMm(_) => stride,
        }
    }
}

/// Whether a member lets someone see the private part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Consent {
    /// Whom. It is the field in the target.
    pub to: Audience,
    /// Given or withdrawn.
    pub given: bool,
}

pub(super) const DAYS: core::ops::RangeInclusive<i32> = -25_567..=84_005;

pub(super) fn day(f: &mut Fields, field: &'static str) -> Result<Day, Refusal> {
    let n = f.int(field, DAYS)?;
    // The range is that of `Day`.
    Ok(Day::from_number(n).unwrap_or(Day::FIRST))
}

pub(super) fn day_opt(f: &mut Fields, field: &'static str) -> Result<Option<Day>, Refusal> {
    Ok(f.int_opt(field, DAYS)?.and_then(Day::from_number))
}

impl Founding {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let demo = f.flag("demo")?;
        let recovery = match f.take("recovery") {
            None => None,
            Some(Value::Bytes(b)) if b.len() == 32 => b.as_slice().try_into().ok(),
            Some(other) => return Err(f.refuse("recovery", &other, "32 bytes")),
        };
        Ok((Self { demo, recovery }, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put_flag("demo", self.demo)
            .put_opt("recovery", self.recovery.as_ref().map(|k| Value::Bytes(k.to_vec())))
    }
}

impl Grant {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let role: Role = f.word("role")?;
        let members = f.list("members", 256, |v| {
            MemberId::from_value(&v)
                .ok_or_else(|| super::field::refuse("device", "members", &v, "16 bytes each"))
        })?;
        let everyone = f.flag("everyone")?;
        if everyone && role == Role::Athlete {
            return Err(f.refuse("everyone", &true.into(), "left out for an athlete's device"));
        }
        let (limits, consent) = (f.flag("limits")?, f.flag("consent")?);
        Ok((Self { role, members, everyone, limits, consent }, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        let members = self.members.iter().map(|m| m.to_value()).collect();
        Pairs::default()
            .put("role", self.role.word())
            .put_list("members", members)
            .put_flag("everyone", self.everyone)
            .put_flag("limits", self.limits)
            .put_flag("consent", self.consent)
    }
}

impl Removal {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let cut = f.list("cut", 400, |v| {
            Head::from_value(&v)
                .ok_or_else(|| super::field::refuse("device", "cut", &v, "log, number and hash each"))
        })?;
        Ok((Self { cut }, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        let cut = self.cut.iter().map(|h| h.to_value()).collect();
        Pairs::default().put_list("cut", cut)
    }
}

impl SamePerson {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        Ok((Self { with: MemberId(f.uuid("with")?) }, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default().put("with", self.with.to_value())
    }
}

impl Roster {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let (standing, since) = (f.word("standing")?, day(&mut f, "since")?);
        Ok((Self { standing, since, keep_until: day_opt(&mut f, "keep-until")? }, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put("standing", self.standing.word())
            .put("since", self.since.number())
            .put_opt("keep-until", self.keep_until.map(Day::number))
    }
}

impl Card {
    pub(super) fn read(field: &str, mut f: Fields) -> Result<Option<(Self, Extra)>, Refusal> {
        let [name, born, level, leg, pattern, mass, sprint, stride] = Self::FIELDS;
        let card = match field {
            x if x == name => Self::Name(f.text("name", 1..=60)?),
            x if x == born => Self::Born(day(&mut f, "day")?),
            x if x == level => Self::Level(f.word("level")?),
            x if x == leg => Self::TakeOffLeg(f.word("side")?),
            x if x == pattern => Self::HopPattern(f.word("pattern")?),
            x if x == mass => Self::MassG(f.int("g", 20_000..=200_000)?),
            x if x == sprint => Self::Sprint {
                vmax_mm_s: f.int("vmax-mm-s", 3_000..=13_000)?,
                tau_ms: f.int("tau-ms", 500..=2_500)?,
                vmax_u_mm_s: f.int_opt("vmax-u-mm-s", 0..=2_000)?,
                tau_u_ms: f.int_opt("tau-u-ms", 0..=1_000)?,
            },
            x if x == stride => Self::StrideMm(f.int("mm", 500..=3_000)?),
            _ => return Ok(None),
        };
        Ok(Some((card, f.rest())))
    }
    pub(super) fn write(&self) -> Pairs {
        let pairs = Pairs::default();
        match self {
            Self::Name(name) => pairs.put("name", name.as_str()),
            Self::Born(day) => pairs.put("day", day.number()),
            Self::Level(level) => pairs.put("level", level.word()),
            Self::TakeOffLeg(side) => pairs.put("side", side.word()),
            Self::HopPattern(pattern) => pairs.put("pattern", pattern.word()),
            Self::MassG(g) => pairs.put("g", *g),
            Self::Sprint { vmax_mm_s, tau_ms, vmax_u_mm_s, tau_u_ms } => pairs
                .put("vmax-mm-s", *vmax_mm_s)
                .put("tau-ms", *tau_ms)
                .put_opt("vmax-u-mm-s", *vmax_u_mm_s)
                .put_opt("tau-u-ms", *tau_u_ms),
            Self::StrideMm(mm) => pairs.put("mm", *mm),
        }
    }
}

impl Consent {
    pub(super) fn read(field: &str, mut f: Fields) -> Result<Option<(Self, Extra)>, Refusal> {
        let Ok(to) = field.parse() else { return Ok(None) };
        Ok(Some((Self { to, given: f.flag("given")? }, f.rest())))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default().put_flag("given", self.given)
    }
}

/// The name of a squad, 1 to 60 characters.
pub(super) fn read_name(mut f: Fields) -> Result<(String, Extra), Refusal> {
    Ok((f.text("name", 1..=60)?, f.rest()))
}
