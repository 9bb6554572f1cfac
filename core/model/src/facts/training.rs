//! What was trained: sessions, sets, rest days, and up to when the log is
//! complete. And what may not be trained: limits, and what a clinician advised.

use uuid::Uuid;

use super::checkin::BodyPart;
use super::day::Day;
use super::field::{Extra, Fields, Pairs, Refusal, words};
use super::id::Hash;
use super::plan::Planned;
use super::squad::{Side, day, day_opt};

words! {
    /// What was under the feet. A tag with cautions, not a factor.
    Surface {
        /// Synthetic track.
        Track = "track",
        /// Grass.
        Grass = "grass",
        /// Sports-hall floor.
        Hall = "hall",
        /// Sand.
        Sand = "sand",
        /// Gymnastic or foam mat.
        Mat = "mat",
        /// Anything harder: asphalt, concrete.
        Hard = "hard",
    }
}

words! {
    /// What was on the feet. A tag, not a factor.
    Shoes {
        /// Spikes.
        Spikes = "spikes",
        /// Flat training shoes.
        Flats = "flats",
        /// None.
        Bare = "bare",
    }
}

words! {
    /// How wet the ground was.
    Wetness {
        /// Dry.
        Dry = "dry",
        /// Damp.
        Damp = "damp",
        /// Wet.
        Wet = "wet",
    }
}

words! {
    /// The wind along the way that was run, as it felt.
    WindFelt {
        /// Hardly any.
        Calm = "calm",
        /// From behind.
        Tail = "tail",
        /// From the front.
        Head = "head",
        /// From the side.
        Cross = "cross",
        /// Now so, now so.
        Gusts = "gusts",
    }
}

words! {
    /// How warm the air was.
    Warmth {
        /// Below 5 °C.
        Cold = "cold",
        /// 5 to 14 °C.
        Cool = "cool",
        /// 15 to 24 °C.
        Warm = "warm",
        /// 25 °C and more.
        Hot = "hot",
    }
}

/// What ground and air were like, as far as it was said: tags, no factors.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Conditions {
    /// How wet the ground was.
    pub wetness: Option<Wetness>,
    /// The wind.
    pub wind: Option<WindFelt>,
    /// How warm it was.
    pub warmth: Option<Warmth>,
}

/// A training session. How hard it was is a fact of its own, [`Effort`]: it is
/// asked later, and often by someone else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Session {
    /// The day.
    pub day: Day,
    /// When it began, minutes after local midnight.
    pub start_min: Option<u16>,
    /// What it was for, up to 80 characters.
    pub purpose: Option<String>,
    /// Where, up to 80 characters.
    pub location: Option<String>,
    /// What was under the feet.
    pub surface: Option<Surface>,
    /// What was on the feet.
    pub shoes: Option<Shoes>,
    /// Weather in words, up to 80 characters.
    pub weather: Option<String>,
    /// Why it was cut short, where it was, up to 80 characters.
    pub cut_short: Option<String>,
    /// What ground and air were like.
    pub conditions: Conditions,
}

/// How hard a session was and how long it took: session-RPE × minutes (Foster
/// et al. 2001). RPE is asked about 30 minutes after the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Rating of perceived exertion in tenths, 0 to 100 for 0 to 10.
    pub rpe_tenths: u16,
    /// Duration in minutes, 1 to 600.
    pub minutes: u16,
}

words! {
    /// Which legs did the repetitions of a set.
    Leg {
        /// The left.
        Left = "left",
        /// The right.
        Right = "right",
        /// Both at once.
        Both = "both",
        /// In turn, the left first.
        AlternateLeft = "alternate-left",
        /// In turn, the right first.
        AlternateRight = "alternate-right",
    }
}

/// The run-in to the first contact.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Approach {
    /// Running strides, 1 to 30.
    Strides(u16),
    /// Millimetres, 500 to 60 000.
    Millimetres(u32),
}

words! {
    /// What the athlete was told to make of a contact. It outweighs the height of a box.
    Cue {
        /// Off the ground as fast as can be.
        Short = "short",
        /// As high or as far as can be.
        High = "high",
    }
}

/// Repetitions of one exercise: the unit of an entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Set {
    /// The session it belongs to.
    pub session: Hash,
    /// The exercise.
    pub exercise: Uuid,
    /// Repetitions, 1 to 500.
    pub reps: u16,
    /// Contacts of each repetition where not as the exercise says, 1 to 300.
    pub contacts_per_rep: Option<u16>,
    /// Which legs.
    pub leg: Leg,
    /// Height of box or platform in millimetres, 0 to 2 000.
    pub box_mm: Option<u32>,
    /// The run-in.
    pub approach: Option<Approach>,
    /// Outside load in grams, 0 to 200 000.
    pub load_g: Option<u32>,
    /// The last 10 m of the run-in, timed, in ms, 700 to 6 000: it replaces the speed
    /// that the length of the run-in gives.
    pub last_10_m_ms: Option<u32>,
    /// What the athlete was told to make of the contacts.
    pub cue: Option<Cue>,
    /// A drill of the warm-up: counted apart.
    pub warm_up: bool,
    /// The row of a plan that it was done for, whether it was done as planned or not.
    pub planned: Option<Planned>,
}

words! {
    /// What other training was.
    Work {
        /// Weights and the like.
        Strength = "strength",
        /// Running: tempo, endurance, hills.
        Running = "running",
        /// Mobility, core, general exercises.
        General = "general",
        /// A game or practice of another sport.
        OtherSport = "other-sport",
        /// Sport at school.
        School = "school",
        /// Anything else.
        Other = "other",
    }
}

/// Training that is not jumping or sprinting: it has a load, and no contacts here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherTraining {
    /// The day.
    pub day: Day,
    /// When it began, minutes after local midnight.
    pub start_min: Option<u16>,
    /// What it was.
    pub work: Work,
    /// How hard and how long, where it was said.
    pub effort: Option<Effort>,
    /// In words, up to 200 characters.
    pub note: Option<String>,
}

/// A day known to be without training: unknown is not zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RestDay {
    /// The day.
    pub day: Day,
}

/// The writer says that all days up to this one are written down; a day
/// without a session was a rest day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Complete {
    /// The last such day.
    pub up_to: Day,
}

words! {
    /// On whose word a limit stands.
    SaidBy {
        /// The coach.
        Coach = "coach",
        /// A clinician, as told to the coach.
        Clinician = "clinician",
    }
}

/// What a clinician advised about pain in one place, as a coach was told: up to which
/// score training may go on there. Without it any new pain ends a session. It is never
/// used for the young, and it settles nothing that is to be seen at any score.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Advice {
    /// From this day on.
    pub from: Day,
    /// Up to and including this day.
    pub until: Day,
    /// Where.
    pub part: BodyPart,
    /// Which side, where there are two.
    pub side: Option<Side>,
    /// Up to this score, 1 to 5.
    pub up_to: u8,
    /// Who said so and what, 1 to 200 characters.
    pub note: String,
}

impl Advice {
    /// Whether it holds on a day.
    #[must_use]
    pub fn holds_on(&self, day: Day) -> bool {
        (self.from..=self.until).contains(&day)
    }
}

/// What a member may not do until when: a hard bound.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limit {
    /// From this day on.
    pub from: Day,
    /// Up to and including this day; open where missing.
    pub until: Option<Day>,
    /// No one-leg contacts on this side.
    pub no_one_leg: Option<Side>,
    /// No run-in.
    pub no_approach: bool,
    /// Boxes and platforms up to this height, in millimetres.
    pub max_box_mm: Option<u32>,
    /// On whose word.
    pub said_by: SaidBy,
    /// In words, up to 200 characters.
    pub note: Option<String>,
}

impl Limit {
    /// Whether it holds on a day. What has an end holds while the clock is in
    /// doubt, so ask with the earliest day it may be.
    #[must_use]
    pub fn holds_on(&self, day: Day) -> bool {
        self.from <= day && self.until.is_none_or(|until| day <= until)
    }
}

impl Leg {
    /// The same with left and right changed places.
    #[must_use]
    pub const fn swapped(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            Self::Both => Self::Both,
            Self::AlternateLeft => Self::AlternateRight,
            Self::AlternateRight => Self::AlternateLeft,
        }
    }
}

impl Session {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let session = Self {
            day: day(&mut f, "day")?,
            start_min: f.int_opt("start", 0..=1439)?,
            purpose: f.text_opt("purpose", 1..=80)?,
            location: f.text_opt("location", 1..=80)?,
            surface: f.word_opt("surface")?,
            shoes: f.word_opt("shoes")?,
            weather: f.text_opt("weather", 1..=80)?,
            cut_short: f.text_opt("cut-short", 1..=80)?,
            conditions: Conditions {
                wetness: f.word_opt("wetness")?,
                wind: f.word_opt("wind")?,
                warmth: f.word_opt("warmth")?,
            },
        };
        Ok((session, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put("day", self.day.number())
            .put_opt("start", self.start_min)
            .put_opt("purpose", self.purpose.as_deref())
            .put_opt("location", self.location.as_deref())
            .put_opt("surface", self.surface.map(Surface::word))
            .put_opt("shoes", self.shoes.map(Shoes::word))
            .put_opt("weather", self.weather.as_deref())
            .put_opt("cut-short", self.cut_short.as_deref())
            .put_opt("wetness", self.conditions.wetness.map(Wetness::word))
            .put_opt("wind", self.conditions.wind.map(WindFelt::word))
            .put_opt("warmth", self.conditions.warmth.map(Warmth::word))
    }
}

impl Effort {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let effort = Self { rpe_tenths: f.int("rpe", 0..=100)?, minutes: f.int("minutes", 1..=600)? };
        Ok((effort, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default().put("rpe", self.rpe_tenths).put("minutes", self.minutes)
    }
}

impl Set {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let approach = read_approach(&mut f)?;
        let set = Self {
            session: f.fact_id("session")?,
            exercise: f.uuid("exercise")?,
            reps: f.int("reps", 1..=500)?,
            contacts_per_rep: f.int_opt("contacts", 1..=300)?,
            leg: f.word("leg")?,
            box_mm: f.int_opt("box-mm", 0..=2_000)?,
            approach,
            load_g: f.int_opt("load-g", 0..=200_000)?,
            last_10_m_ms: f.int_opt("last-10-m", 700..=6_000)?,
            cue: f.word_opt("cue")?,
            warm_up: f.flag("warm-up")?,
            planned: Planned::read_opt(&mut f, "planned")?,
        };
        Ok((set, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        let pairs = Pairs::default()
            .put("session", self.session.to_value())
            .put("exercise", self.exercise.as_bytes().as_slice())
            .put("reps", self.reps)
            .put_opt("contacts", self.contacts_per_rep)
            .put("leg", self.leg.word())
            .put_opt("box-mm", self.box_mm)
            .put_opt("load-g", self.load_g)
            .put_opt("last-10-m", self.last_10_m_ms)
            .put_opt("cue", self.cue.map(Cue::word))
            .put_flag("warm-up", self.warm_up)
            .put_opt("planned", self.planned.map(Planned::to_value));
        put_approach(pairs, self.approach)
    }
}

/// Strides or millimetres, never both.
pub(super) fn read_approach(f: &mut Fields) -> Result<Option<Approach>, Refusal> {
    let strides = f.int_opt("strides", 1..=30)?;
    let run_mm = f.int_opt("run-mm", 500..=60_000)?;
    match (strides, run_mm) {
        (None, None) => Ok(None),
        (Some(n), None) => Ok(Some(Approach::Strides(n))),
        (None, Some(mm)) => Ok(Some(Approach::Millimetres(mm))),
        (Some(_), Some(mm)) => Err(f.refuse("run-mm", &mm.into(), "strides or millimetres, not both")),
    }
}

pub(super) fn put_approach(pairs: Pairs, approach: Option<Approach>) -> Pairs {
    match approach {
        None => pairs,
        Some(Approach::Strides(n)) => pairs.put("strides", n),
        Some(Approach::Millimetres(mm)) => pairs.put("run-mm", mm),
    }
}

impl RestDay {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        Ok((Self { day: day(&mut f, "day")? }, f.rest()))
    }
    pub(super) fn write(self) -> Pairs {
        Pairs::default().put("day", self.day.number())
    }
}

impl Complete {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        Ok((Self { up_to: day(&mut f, "day")? }, f.rest()))
    }
    pub(super) fn write(self) -> Pairs {
        Pairs::default().put("day", self.up_to.number())
    }
}

impl OtherTraining {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let rpe_tenths = f.int_opt("rpe", 0..=100)?;
        let minutes = f.int_opt("minutes", 1..=600)?;
        let effort = match (rpe_tenths, minutes) {
            (None, None) => None,
            (Some(rpe_tenths), Some(minutes)) => Some(Effort { rpe_tenths, minutes }),
            (Some(rpe), None) => return Err(f.refuse("rpe", &rpe.into(), "beside its minutes")),
            (None, Some(minutes)) => return Err(f.refuse("minutes", &minutes.into(), "beside its rating")),
        };
        let training = Self {
            day: day(&mut f, "day")?,
            start_min: f.int_opt("start", 0..=1439)?,
            work: f.word("work")?,
            effort,
            note: f.text_opt("note", 1..=200)?,
        };
        Ok((training, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put("day", self.day.number())
            .put_opt("start", self.start_min)
            .put("work", self.work.word())
            .put_opt("rpe", self.effort.map(|effort| effort.rpe_tenths))
            .put_opt("minutes", self.effort.map(|effort| effort.minutes))
            .put_opt("note", self.note.as_deref())
    }
}

impl Advice {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let advice = Self {
            from: day(&mut f, "from")?,
            until: day(&mut f, "until")?,
            part: f.word("part")?,
            side: f.word_opt("side")?,
            up_to: f.int("up-to", 1..=5)?,
            note: f.text("note", 1..=200)?,
        };
        if advice.until < advice.from {
            return Err(f.refuse("until", &advice.until.to_string().into(), "a day not before `from`"));
        }
        Ok((advice, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put("from", self.from.number())
            .put("until", self.until.number())
            .put("part", self.part.word())
            .put_opt("side", self.side.map(Side::word))
            .put("up-to", self.up_to)
            .put("note", self.note.as_str())
    }
}

impl Limit {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let limit = Self {
            from: day(&mut f, "from")?,
            until: day_opt(&mut f, "until")?,
            no_one_leg: f.word_opt("no-one-leg")?,
            no_approach: f.flag("no-approach")?,
            max_box_mm: f.int_opt("max-box-mm", 0..=2_000)?,
            said_by: f.word("said-by")?,
            note: f.text_opt("note", 1..=200)?,
        };
        if let Some(until) = limit.until.filter(|until| *until < limit.from) {
            return Err(f.refuse("until", &until.to_string().into(), "a day not before `from`"));
        }
        Ok((limit, f.rest()))
    }
    pub(super) fn write(&self) -> Pairs {
        Pairs::default()
            .put("from", self.from.number())
            .put_opt("until", self.until.map(Day::number))
            .put_opt("no-one-leg", self.no_one_leg.map(Side::word))
            .put_flag("no-approach", self.no_approach)
            .put_opt("max-box-mm", self.max_box_mm)
            .put("said-by", self.said_by.word())
            .put_opt("note", self.note.as_deref())
    }
}
