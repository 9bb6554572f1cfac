//! The description of an exercise as people write it down.
//!
//! Integers only: microseconds, millimetres, millimetres per second, grams,
//! tenths of a degree. What follows from the description (landing, push,
//! totals) is computed in [`crate::load`] and never written down.
//!
//! Every enumeration is written as a short lower-case word. A variant with a number keeps the number beside its code.
//! What came later stands under keys of its own, left out where an exercise has nothing to say there, so that
//! a description written before reads as it did.

use std::ops::RangeInclusive;

use thiserror::Error;

use super::field::{Extra, Fields, Pairs, Refusal, Word, refuse, words};
use super::training::{Approach, Cue, Surface, put_approach, read_approach};
use crate::cbor::Value;

/// A value outside its range, or one that does not fit the rest.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{field} is {value}; allowed is {range}")]
pub struct FieldError {
    /// The field that was refused.
    pub field: &'static str,
    /// The value found there, as text.
    pub value: String,
    /// What the field allows, as text with its unit.
    pub range: String,
}

impl FieldError {
    /// A refusal of `value` in `field`.
    pub fn new(field: &'static str, value: impl ToString, range: impl ToString) -> Self {
        Self { field, value: value.to_string(), range: range.to_string() }
    }
}

/// Refuses a number outside `range`; `unit` is told with the range.
///
/// # Errors
/// [`FieldError`] with the field, the value and the range.
pub fn within(
    field: &'static str,
    value: u32,
    range: RangeInclusive<u32>,
    unit: &str,
) -> Result<(), FieldError> {
    if range.contains(&value) {
        return Ok(());
    }
    let range = format!("{} to {} {unit}", range.start(), range.end());
    Err(FieldError::new(field, value, range.trim_end()))
}

words! {
    /// The kind of a contact. Loads are never added across kinds.
    Kind {
        /// Up and down on the spot, off the ground again at once.
        VerticalRebound = "vertical-rebound",
        /// Hops, bounds and steps that travel forward.
        HorizontalSeries = "horizontal-series",
        /// A landing that is held still.
        HeldLanding = "held-landing",
        /// Work to the side.
        Lateral = "lateral",
        /// Take-offs of the long and triple jump, and their drills.
        EventTakeOff = "event-take-off",
        /// Sprinting and sprint drills.
        Sprint = "sprint",
        /// Jumps with a full stop in every contact.
        PausedJump = "paused-jump",
    }
}

impl Kind {
    /// Whether the contact is one that handbooks count as plyometric.
    /// Sprint strides never are, and a pause ends the rebound.
    #[must_use]
    pub const fn is_plyometric(self) -> bool {
        !matches!(self, Self::Sprint | Self::PausedJump)
    }
}

words! {
    /// The way in which an exercise goes.
    Direction {
        /// Up and down.
        Up = "up",
        /// Forward.
        Forward = "forward",
        /// To the side, or to and fro across.
        Sideways = "sideways",
        /// Backward.
        Backward = "backward",
    }
}

impl Direction {
    /// Where an exercise goes that does not say so itself: by its kind, and held landings and paused jumps
    /// forward where they travel at all.
    #[must_use]
    pub fn usual(kind: Kind, series: &[UsualContact]) -> Self {
        let travels = || series.iter().any(|contact| contact.speed != Speed::Fixed { mm_s: 0 });
        match kind {
            Kind::Lateral => Self::Sideways,
            Kind::HorizontalSeries | Kind::EventTakeOff | Kind::Sprint => Self::Forward,
            Kind::HeldLanding | Kind::PausedJump if travels() => Self::Forward,
            Kind::VerticalRebound | Kind::HeldLanding | Kind::PausedJump => Self::Up,
        }
    }
}

words! {
    /// Which legs a contact, or the exercise as a whole, uses.
    Legs {
        /// One leg, the same as in the contact before.
        One = "one",
        /// Both legs together.
        Two = "two",
        /// One leg, the other than in the contact before.
        Alternate = "alternate",
    }
}

impl Legs {
    /// How many legs share the contact.
    #[must_use]
    pub const fn count(self) -> u32 {
        match self {
            Self::One | Self::Alternate => 1,
            Self::Two => 2,
        }
    }
}

words! {
    /// What a contact does.
    Move {
        /// Off one leg and back onto the same.
        Hop = "hop",
        /// Leg to leg, long and flat.
        Bound = "bound",
        /// Leg to leg out of a hop, as in the triple jump.
        Step = "step",
        /// A jump off one or both legs.
        Jump = "jump",
        /// The rebound after a fall from a box.
        DropJump = "drop-jump",
        /// A bounce on the spot.
        Rebound = "rebound",
        /// A skip.
        Skip = "skip",
        /// A stride of a sprint.
        SprintStride = "sprint-stride",
        /// The take-off of an event.
        TakeOff = "take-off",
        /// A hop to the side.
        LateralHop = "lateral-hop",
        /// A landing that ends the movement.
        Landing = "landing",
    }
}

words! {
    /// How far the knee gives.
    Knee {
        /// Nearly straight: the ankle does the work.
        Stiff = "stiff",
        /// Visibly bent.
        Bent = "bent",
    }
}

words! {
    /// How the exercise treats the ground.
    Landing {
        /// Off again at once.
        Rebound = "rebound",
        /// Held still.
        Held = "held",
        /// A full stop, then the next jump.
        Paused = "paused",
    }
}

words! {
    /// What follows a contact.
    After {
        /// A flight to the next contact: on one level, or as its rise says.
        Flight = "flight",
        /// A flight into the sand, whose end is lower and drawn out: its
        /// duration gives neither height nor push.
        Pit = "pit",
        /// No flight: the movement ends here.
        Stand = "stand",
    }
}

words! {
    /// What stands behind a default value.
    Support {
        /// Read in a publication.
        Published = "published",
        /// Arithmetic on published numbers.
        Derived = "derived",
        /// An estimate of ours; shown as one everywhere.
        Estimate = "estimate",
    }
}

/// How the first contact of a repetition is reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Entry {
    /// Out of a stand: no fall comes before.
    Standing,
    /// Out of a few walking steps: no fall comes before, the speed is in the contacts.
    WalkIn {
        /// The steps.
        usual_steps: u16,
    },
    /// Out of a flight on one level.
    LevelFlight {
        /// The usual duration of that flight, µs.
        flight_us: u32,
    },
    /// Off a box; the set says how high it was.
    Box {
        /// The height where the set says none, mm.
        usual_mm: u32,
    },
    /// Onto a box from a little above it: what is jumped up is not fallen
    /// down again, so the height of the box does not matter.
    OntoBox {
        /// The usual fall onto the box, mm.
        fall_mm: u32,
    },
    /// Out of a run-in; the set says how long it was.
    RunIn {
        /// The strides where the set says nothing.
        usual_strides: u16,
    },
    /// Out of a run-in that is told by its length.
    RunInMetres {
        /// The length where the set says nothing, mm.
        usual_mm: u32,
    },
}

impl Entry {
    /// The code in the log; the number of the variant stands beside it.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Standing => "standing",
            Self::WalkIn { .. } => "walk-in",
            Self::LevelFlight { .. } => "level-flight",
            Self::Box { .. } => "box",
            Self::OntoBox { .. } => "onto-box",
            Self::RunIn { .. } => "run-in",
            Self::RunInMetres { .. } => "run-in-metres",
        }
    }

    /// The run-in where the set says none; nothing where the entry is another one.
    #[must_use]
    pub const fn run_in(self) -> Option<Approach> {
        match self {
            Self::RunIn { usual_strides } => Some(Approach::Strides(usual_strides)),
            Self::RunInMetres { usual_mm } => Some(Approach::Millimetres(usual_mm)),
            _ => None,
        }
    }

    /// The number beside the code: steps, µs, mm or strides; 0 from a stand.
    #[must_use]
    pub fn value(self) -> u32 {
        match self {
            Self::Standing => 0,
            Self::WalkIn { usual_steps } => u32::from(usual_steps),
            Self::LevelFlight { flight_us } => flight_us,
            Self::Box { usual_mm } => usual_mm,
            Self::OntoBox { fall_mm } => fall_mm,
            Self::RunIn { usual_strides } => u32::from(usual_strides),
            Self::RunInMetres { usual_mm } => usual_mm,
        }
    }

    /// The entry of a code and the number beside it.
    ///
    /// # Errors
    /// [`FieldError`] for an unknown code or a number out of range.
    pub fn parse(code: &str, value: u32) -> Result<Self, FieldError> {
        let entry = match code {
            "standing" => {
                within("entry", value, 0..=0, "from a stand")?;
                Self::Standing
            }
            "walk-in" => Self::WalkIn {
                usual_steps: u16::try_from(value)
                    .map_err(|_| FieldError::new("entry", value, "1 to 12 steps"))?,
            },
            "level-flight" => Self::LevelFlight { flight_us: value },
            "box" => Self::Box { usual_mm: value },
            "onto-box" => Self::OntoBox { fall_mm: value },
            "run-in" => Self::RunIn {
                usual_strides: u16::try_from(value)
                    .map_err(|_| FieldError::new("entry", value, "1 to 40 strides"))?,
            },
            "run-in-metres" => Self::RunInMetres { usual_mm: value },
            _ => {
                let range = "standing, walk-in, level-flight, box, onto-box, run-in, run-in-metres";
                return Err(FieldError::new("entry", code, range));
            }
        };
        entry.check()?;
        Ok(entry)
    }

    fn check(self) -> Result<(), FieldError> {
        match self {
            Self::Standing => Ok(()),
            Self::WalkIn { usual_steps } => within("entry", u32::from(usual_steps), STEPS, "steps"),
            Self::LevelFlight { flight_us } => within("entry", flight_us, FLIGHT_US, "µs"),
            Self::Box { usual_mm } => within("entry", usual_mm, BOX_MM, "mm"),
            Self::OntoBox { fall_mm } => within("entry", fall_mm, ONTO_BOX_MM, "mm"),
            Self::RunIn { usual_strides } => within("entry", u32::from(usual_strides), STRIDES, "strides"),
            Self::RunInMetres { usual_mm } => within("entry", usual_mm, RUN_IN_MM, "mm"),
        }
    }
}

/// The forward speed (or the speed to the side) at touchdown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Speed {
    /// The same for everybody.
    Fixed {
        /// mm/s.
        mm_s: u32,
    },
    /// What the run-in gives, up to a cap.
    Approach {
        /// Taken off the speed of the run-in at this contact, mm/s.
        less_mm_s: u32,
        /// The exercise is not done faster than this, mm/s.
        cap_mm_s: u32,
    },
    /// A share of the athlete's top speed.
    TopShare {
        /// Thousandths of the top speed.
        per_mille: u32,
    },
}

impl Speed {
    /// The code in the log; the numbers of the variant stand beside it.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Fixed { .. } => "fixed",
            Self::Approach { .. } => "approach",
            Self::TopShare { .. } => "top-share",
        }
    }

    /// The numbers beside the code: (mm/s, 0), (taken off, cap) in mm/s, or
    /// (thousandths, 0).
    #[must_use]
    pub const fn values(self) -> (u32, u32) {
        match self {
            Self::Fixed { mm_s } => (mm_s, 0),
            Self::Approach { less_mm_s, cap_mm_s } => (less_mm_s, cap_mm_s),
            Self::TopShare { per_mille } => (per_mille, 0),
        }
    }

    /// The speed of a code and the numbers beside it.
    ///
    /// # Errors
    /// [`FieldError`] for an unknown code or a number out of range.
    pub fn parse(code: &str, values: (u32, u32)) -> Result<Self, FieldError> {
        let (first, second) = values;
        let speed = match code {
            "fixed" => Self::Fixed { mm_s: first },
            "approach" => Self::Approach { less_mm_s: first, cap_mm_s: second },
            "top-share" => Self::TopShare { per_mille: first },
            _ => {
                return Err(FieldError::new("speed", code, "fixed, approach, top-share"));
            }
        };
        if !matches!(speed, Self::Approach { .. }) {
            within("speed", second, 0..=0, "beside this code")?;
        }
        speed.check()?;
        Ok(speed)
    }

    fn check(self) -> Result<(), FieldError> {
        match self {
            Self::Fixed { mm_s } => within("speed", mm_s, SPEED_MM_S, "mm/s"),
            Self::Approach { less_mm_s, cap_mm_s } => {
                within("speed", less_mm_s, SPEED_MM_S, "mm/s")?;
                within("speed", cap_mm_s, SPEED_MM_S, "mm/s")
            }
            Self::TopShare { per_mille } => within("speed", per_mille, 0..=1000, "‰ of top speed"),
        }
    }
}

/// A load from outside that belongs to an exercise, carried or worn; what is pulled weighs on nobody.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum UsualLoad {
    /// The same for everybody.
    Grams(u32),
    /// A share of the athlete's mass, thousandths.
    BodyShare(u16),
}

/// A contact as it usually is: what an untimed one is taken to be.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct UsualContact {
    /// What the contact does.
    pub mv: Move,
    /// Time on the ground, µs.
    pub contact_us: u32,
    /// What follows.
    pub after: After,
    /// The flight that follows, µs; 0 where none does.
    pub flight_us: u32,
    /// Speed at touchdown along the way of travel.
    pub speed: Speed,
    /// The leg against the ground at touchdown, tenths of a degree; 900 is
    /// upright, less is a foot ahead of the body.
    pub angle_ddeg: u32,
    /// The legs of this contact, told from the contact before.
    pub legs: Legs,
    /// How much higher the ground is at the next contact than at this one, mm; below zero where it is lower,
    /// 0 on one level and where no contact follows.
    pub rise_mm: i32,
    /// Share of the run-in's speed that this contact costs, thousandths; that of the exercise where left out.
    pub loss_per_mille: Option<u16>,
}

/// An exercise as a squad describes it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Exercise {
    /// What the squad calls it.
    pub name: String,
    /// One sentence that says how it is done.
    pub about: String,
    /// Its kind; a [`Move::Landing`] in the series counts as
    /// [`Kind::HeldLanding`] all the same.
    pub kind: Kind,
    /// The way in which it goes.
    pub direction: Direction,
    /// The legs it is done on, for those who read the list.
    pub legs: Legs,
    /// How far the knee gives.
    pub knee: Knee,
    /// How it treats the ground.
    pub landing: Landing,
    /// How the first contact of a repetition is reached.
    pub entry: Entry,
    /// The run-in on the box or platform that is left, or to the one that is jumped onto; nothing from a stand.
    pub box_run_in: Option<Approach>,
    /// The height of a box jumped onto, mm.
    pub onto_mm: Option<u32>,
    /// The height of the hurdles or boxes jumped over, mm.
    pub over_mm: Option<u32>,
    /// The load that belongs to it.
    pub load: Option<UsualLoad>,
    /// The cue that its times are told for: of drop jumps, where a set may say another one.
    pub cue: Option<Cue>,
    /// What is usually under the feet.
    pub surface: Option<Surface>,
    /// The contacts of a repetition in order; the last one repeats.
    pub series: Vec<UsualContact>,
    /// Contacts of a repetition, where the set does not say another number.
    pub contacts_per_rep: u16,
    /// Share of the run-in's speed lost from contact to contact, in
    /// thousandths, where a contact does not say its own.
    pub loss_per_mille: u16,
    /// What stands behind these values.
    pub support: Support,
    /// The publication, or what was estimated from what.
    pub source: String,
}

/// Letters in a name.
pub const NAME_CHARS: RangeInclusive<u32> = 1..=80;
/// Letters in a sentence.
pub const SENTENCE_CHARS: RangeInclusive<u32> = 1..=400;
/// A contact, µs. A held landing may be long.
pub const CONTACT_US: RangeInclusive<u32> = 30_000..=3_000_000;
/// A flight, µs.
pub const FLIGHT_US: RangeInclusive<u32> = 10_000..=1_500_000;
/// A box, mm.
pub const BOX_MM: RangeInclusive<u32> = 50..=1_500;
/// A fall onto a box, mm.
pub const ONTO_BOX_MM: RangeInclusive<u32> = 10..=500;
/// Steps of a walk-in.
pub const STEPS: RangeInclusive<u32> = 1..=12;
/// A run-in, mm.
pub const RUN_IN_MM: RangeInclusive<u32> = 500..=60_000;
/// A rise or fall of the ground from contact to contact, mm either way.
pub const RISE_MM: u32 = 1_500;
/// A load, g.
pub const LOAD_G: RangeInclusive<u32> = 1..=200_000;
/// A load, thousandths of the athlete's mass.
pub const LOAD_PER_MILLE: RangeInclusive<u32> = 1..=2_000;
/// A loss of speed in one contact, thousandths.
pub const LOSS_PER_MILLE: RangeInclusive<u32> = 0..=500;
/// Strides of a run-in.
pub const STRIDES: RangeInclusive<u32> = 1..=40;
/// A speed, mm/s.
pub const SPEED_MM_S: RangeInclusive<u32> = 0..=13_000;
/// A leg's angle at touchdown, tenths of a degree.
pub const ANGLE_DDEG: RangeInclusive<u32> = 300..=1_200;
/// Different contacts told in a series.
pub const SERIES_LEN: RangeInclusive<u32> = 1..=20;
/// Contacts of a repetition.
pub const CONTACTS_PER_REP: RangeInclusive<u32> = 1..=300;

impl UsualContact {
    fn check(&self) -> Result<(), FieldError> {
        within("contact_us", self.contact_us, CONTACT_US, "µs")?;
        match self.after {
            After::Flight | After::Pit => within("flight_us", self.flight_us, FLIGHT_US, "µs")?,
            After::Stand => within("flight_us", self.flight_us, 0..=0, "where no flight follows")?,
        }
        self.speed.check()?;
        if let Some(loss) = self.loss_per_mille {
            within("loss_per_mille", u32::from(loss), LOSS_PER_MILLE, "‰ a contact")?;
        }
        within("angle_ddeg", self.angle_ddeg, ANGLE_DDEG, "tenths of a degree")?;
        self.check_rise()
    }

    /// A rise that its flight has the time for: in tf nobody rises, or falls out of a jump that goes up, by more
    /// than g·tf²/2.
    fn check_rise(&self) -> Result<(), FieldError> {
        if self.rise_mm == 0 {
            return Ok(());
        }
        if self.after != After::Flight {
            return Err(FieldError::new("rise_mm", self.rise_mm, "0, where no contact follows"));
        }
        let flight_us = u64::from(self.flight_us);
        // 9.81 m/s² in mm over µs², halved.
        let most = (9_810 * flight_us * flight_us / 2_000_000_000_000).min(u64::from(RISE_MM));
        if u64::from(self.rise_mm.unsigned_abs()) <= most {
            return Ok(());
        }
        let range = format!("-{most} to {most} mm, in a flight of {flight_us} µs");
        Err(FieldError::new("rise_mm", self.rise_mm, range))
    }
}

impl UsualLoad {
    fn check(self) -> Result<(), FieldError> {
        match self {
            Self::Grams(grams) => within("load", grams, LOAD_G, "g"),
            Self::BodyShare(share) => {
                within("load", u32::from(share), LOAD_PER_MILLE, "‰ of the body's mass")
            }
        }
    }
}

impl Exercise {
    /// Refuses what cannot be an exercise.
    ///
    /// # Errors
    /// The first [`FieldError`] found: a value out of its range, or two that
    /// contradict each other.
    pub fn check(&self) -> Result<(), FieldError> {
        chars("name", &self.name, NAME_CHARS)?;
        chars("about", &self.about, SENTENCE_CHARS)?;
        chars("source", &self.source, SENTENCE_CHARS)?;
        self.entry.check()?;
        within("series", length(self.series.len()), SERIES_LEN, "contacts")?;
        for contact in &self.series {
            contact.check()?;
        }
        let contacts = u32::from(self.contacts_per_rep);
        within("contacts_per_rep", contacts, CONTACTS_PER_REP, "contacts")?;
        within(
            "contacts_per_rep",
            contacts,
            length(self.series.len())..=*CONTACTS_PER_REP.end(),
            "contacts, as the series tells them",
        )?;
        within("loss_per_mille", u32::from(self.loss_per_mille), LOSS_PER_MILLE, "‰ a contact")?;
        self.check_boxes()?;
        if let Some(load) = self.load {
            load.check()?;
        }
        self.check_order()?;
        self.check_kind()
    }

    /// The run-in that leads to the first contact, on the ground or on a platform; nothing without one.
    #[must_use]
    pub fn run_in(&self) -> Option<Approach> {
        self.entry.run_in().or(self.box_run_in)
    }

    /// Whether its numbers change with the cue: whether a drop jump is in it.
    #[must_use]
    pub fn asks_cue(&self) -> bool {
        self.series.iter().any(|contact| contact.mv == Move::DropJump)
    }

    /// Whether a box, platform or hurdle belongs to it, whose height a set may say.
    #[must_use]
    pub fn has_box(&self) -> bool {
        let entered = matches!(self.entry, Entry::Box { .. } | Entry::OntoBox { .. });
        entered || self.onto_mm.is_some() || self.over_mm.is_some()
    }

    fn check_boxes(&self) -> Result<(), FieldError> {
        for (field, height) in [("onto_mm", self.onto_mm), ("over_mm", self.over_mm)] {
            if let Some(height) = height {
                within(field, height, BOX_MM, "mm")?;
            }
        }
        match self.box_run_in {
            None => return Ok(()),
            Some(Approach::Strides(strides)) => {
                within("box_run_in", u32::from(strides), STRIDES, "strides")?;
            }
            Some(Approach::Millimetres(length)) => within("box_run_in", length, RUN_IN_MM, "mm")?,
        }
        match self.entry {
            Entry::Box { .. } | Entry::OntoBox { .. } => Ok(()),
            entry => {
                Err(FieldError::new("box_run_in", entry.as_str(), "left out, where the entry is no box"))
            }
        }
    }

    /// Only the last contact of a repetition can end the movement, so one
    /// that does neither comes earlier nor repeats.
    fn check_order(&self) -> Result<(), FieldError> {
        let last = self.series.len().saturating_sub(1);
        let repeats = usize::from(self.contacts_per_rep) > self.series.len();
        for (place, contact) in self.series.iter().enumerate() {
            let ends = contact.after != After::Flight;
            if ends && (place < last || repeats) {
                return Err(FieldError::new(
                    "after",
                    contact.after.word(),
                    "flight, in every contact that another one follows",
                ));
            }
            if contact.mv == Move::Landing && contact.after != After::Stand {
                return Err(FieldError::new("after", contact.after.word(), "stand, after a landing"));
            }
            let approach = matches!(contact.speed, Speed::Approach { .. });
            if approach && self.run_in().is_none() {
                return Err(FieldError::new(
                    "speed",
                    contact.speed.as_str(),
                    "fixed or top-share, where there is no run-in",
                ));
            }
        }
        Ok(())
    }

    fn check_kind(&self) -> Result<(), FieldError> {
        let wanted = match self.kind {
            Kind::PausedJump => Landing::Paused,
            Kind::HeldLanding => Landing::Held,
            _ if self.landing == Landing::Paused => Landing::Rebound,
            _ => return Ok(()),
        };
        if self.landing == wanted {
            return Ok(());
        }
        Err(FieldError::new(
            "landing",
            self.landing.word(),
            format!("{}, for the kind {}", wanted.word(), self.kind.word()),
        ))
    }
}

const KIND: &str = "exercise";
const CONTACT: &str =
    "[move, µs on the ground, what follows, µs of flight, speed, its two numbers, tenths of a degree, legs]";

impl UsualContact {
    fn from_value(value: &Value) -> Option<Self> {
        let Value::Array(items) = value else { return None };
        let [
            Value::Text(mv),
            Value::Int(contact),
            Value::Text(after),
            Value::Int(flight),
            Value::Text(speed),
            Value::Int(first),
            Value::Int(second),
            Value::Int(angle),
            Value::Text(legs),
        ] = items.as_slice()
        else {
            return None;
        };
        let number = |n: &i128| u32::try_from(*n).ok();
        Some(Self {
            mv: Move::from_word(mv).ok()?,
            contact_us: number(contact)?,
            after: After::from_word(after).ok()?,
            flight_us: number(flight)?,
            speed: Speed::parse(speed, (number(first)?, number(second)?)).ok()?,
            angle_ddeg: number(angle)?,
            legs: Legs::from_word(legs).ok()?,
            rise_mm: 0,
            loss_per_mille: None,
        })
    }

    fn to_value(&self) -> Value {
        let (first, second) = self.speed.values();
        Value::Array(vec![
            self.mv.word().into(),
            self.contact_us.into(),
            self.after.word().into(),
            self.flight_us.into(),
            self.speed.as_str().into(),
            first.into(),
            second.into(),
            self.angle_ddeg.into(),
            self.legs.word().into(),
        ])
    }
}

impl From<FieldError> for Refusal {
    fn from(e: FieldError) -> Self {
        Self { kind: KIND, field: e.field, value: e.value, range: e.range }
    }
}

impl Exercise {
    pub(super) fn read(mut f: Fields) -> Result<(Self, Extra), Refusal> {
        let entry = f.text("entry", 1..=40)?;
        let entry_value = f.int("entry-value", 0..=u32::MAX)?;
        let kind = f.word("kind")?;
        let mut series = f.list("series", 20, |v| {
            UsualContact::from_value(&v).ok_or_else(|| refuse(KIND, "series", &v, CONTACT))
        })?;
        read_beside(&mut f, "rises", &mut series, |contact, value| match value {
            Value::Int(rise) => {
                contact.rise_mm = i32::try_from(*rise).ok()?;
                Some(())
            }
            _ => None,
        })?;
        read_beside(&mut f, "losses", &mut series, |contact, value| match value {
            Value::Null => Some(()),
            Value::Int(loss) => {
                contact.loss_per_mille = Some(u16::try_from(*loss).ok()?);
                Some(())
            }
            _ => None,
        })?;
        let exercise = Self {
            name: f.text("name", 1..=80)?,
            about: f.text("about", 1..=400)?,
            kind,
            direction: f.word_opt("direction")?.unwrap_or_else(|| Direction::usual(kind, &series)),
            legs: f.word("legs")?,
            knee: f.word("knee")?,
            landing: f.word("landing")?,
            entry: Entry::parse(&entry, entry_value)?,
            box_run_in: read_approach(&mut f)?,
            onto_mm: f.int_opt("onto-mm", BOX_MM)?,
            over_mm: f.int_opt("over-mm", BOX_MM)?,
            load: read_load(&mut f)?,
            cue: f.word_opt("cue")?,
            surface: f.word_opt("surface")?,
            series,
            contacts_per_rep: f.int("contacts", 1..=300)?,
            loss_per_mille: f.int("loss", 0..=500)?,
            support: f.word("support")?,
            source: f.text("source", 1..=400)?,
        };
        exercise.check()?;
        Ok((exercise, f.rest()))
    }

    pub(super) fn write(&self) -> Pairs {
        let series: Vec<Value> = self.series.iter().map(UsualContact::to_value).collect();
        let usual = Direction::usual(self.kind, &self.series);
        let (load_g, load_share) = match self.load {
            None => (None, None),
            Some(UsualLoad::Grams(grams)) => (Some(grams), None),
            Some(UsualLoad::BodyShare(share)) => (None, Some(share)),
        };
        let rises = self.series.iter().any(|contact| contact.rise_mm != 0);
        let losses = self.series.iter().any(|contact| contact.loss_per_mille.is_some());
        let beside = |told: bool, value: fn(&UsualContact) -> Value| {
            if told { self.series.iter().map(value).collect() } else { Vec::new() }
        };
        let pairs = Pairs::default()
            .put("name", self.name.as_str())
            .put("about", self.about.as_str())
            .put("kind", self.kind.word())
            .put("legs", self.legs.word())
            .put("knee", self.knee.word())
            .put("landing", self.landing.word())
            .put("entry", self.entry.as_str())
            .put("entry-value", self.entry.value())
            .put_list("series", series)
            .put("contacts", self.contacts_per_rep)
            .put("loss", self.loss_per_mille)
            .put("support", self.support.word())
            .put("source", self.source.as_str())
            .put_opt("direction", Some(self.direction).filter(|way| *way != usual).map(Direction::word))
            .put_opt("onto-mm", self.onto_mm)
            .put_opt("over-mm", self.over_mm)
            .put_opt("load-g", load_g)
            .put_opt("load-share", load_share)
            .put_opt("cue", self.cue.map(Cue::word))
            .put_opt("surface", self.surface.map(Surface::word))
            .put_list("rises", beside(rises, |contact| contact.rise_mm.into()))
            .put_list(
                "losses",
                beside(losses, |contact| contact.loss_per_mille.map_or(Value::Null, Value::from)),
            );
        put_approach(pairs, self.box_run_in)
    }
}

/// Reads a list with one value a contact, where it is there; all of it left out is as if it said nothing.
fn read_beside(
    f: &mut Fields,
    field: &'static str,
    series: &mut [UsualContact],
    read: impl Fn(&mut UsualContact, &Value) -> Option<()>,
) -> Result<(), Refusal> {
    let Some(value) = f.take(field) else { return Ok(()) };
    let wanted = || format!("{} values, one a contact", series.len());
    let Value::Array(items) = &value else { return Err(refuse(KIND, field, &value, &wanted())) };
    if items.len() != series.len() {
        return Err(refuse(KIND, field, &value, &wanted()));
    }
    for (contact, item) in series.iter_mut().zip(items) {
        read(contact, item).ok_or_else(|| refuse(KIND, field, item, "a whole number for each contact"))?;
    }
    Ok(())
}

/// Grams or a share of the body's mass, never both.
fn read_load(f: &mut Fields) -> Result<Option<UsualLoad>, Refusal> {
    let grams = f.int_opt("load-g", LOAD_G)?;
    let share: Option<u16> = f.int_opt("load-share", 1..=2_000)?;
    match (grams, share) {
        (Some(grams), None) => Ok(Some(UsualLoad::Grams(grams))),
        (None, Some(share)) => Ok(Some(UsualLoad::BodyShare(share))),
        (None, None) => Ok(None),
        (Some(_), Some(share)) => {
            Err(f.refuse("load-share", &share.into(), "load-g or load-share, not both"))
        }
    }
}

fn chars(field: &'static str, text: &str, range: RangeInclusive<u32>) -> Result<(), FieldError> {
    within(field, length(text.chars().count()), range, "letters")
}

/// A length as a number that a range can judge.
fn length(len: usize) -> u32 {
    u32::try_from(len).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::{Fact, field_name};

    fn pogo() -> Exercise {
        Exercise {
            name: "Pogo".to_owned(),
            about: "Bounce from the ankles.".to_owned(),
            kind: Kind::VerticalRebound,
            direction: Direction::Up,
            legs: Legs::Two,
            knee: Knee::Stiff,
            landing: Landing::Rebound,
            entry: Entry::LevelFlight { flight_us: 460_000 },
            box_run_in: None,
            onto_mm: None,
            over_mm: None,
            load: None,
            cue: None,
            surface: None,
            series: vec![UsualContact {
                mv: Move::Rebound,
                contact_us: 200_000,
                after: After::Flight,
                flight_us: 460_000,
                speed: Speed::Fixed { mm_s: 0 },
                angle_ddeg: 900,
                legs: Legs::Two,
                rise_mm: 0,
                loss_per_mille: None,
            }],
            contacts_per_rep: 1,
            loss_per_mille: 0,
            support: Support::Estimate,
            source: "an estimate".to_owned(),
        }
    }

    fn refused(change: impl FnOnce(&mut Exercise)) -> &'static str {
        let mut exercise = pogo();
        change(&mut exercise);
        exercise.check().expect_err("refused").field
    }

    #[test]
    fn codes_are_short_lower_case_and_come_back() {
        macro_rules! round_trip {
            ($($name:ident),+) => { $(
                for &variant in $name::ALL {
                    let code = variant.word();
                    assert!(code.bytes().all(|b| b.is_ascii_lowercase() || b == b'-'), "{code}");
                    assert_eq!($name::from_word(code), Ok(variant));
                }
                assert!($name::from_word("no such code").is_err());
            )+ };
        }
        round_trip!(Kind, Direction, Legs, Move, Knee, Landing, After, Support);
    }

    #[test]
    fn entries_and_speeds_come_back_with_their_numbers() {
        for entry in [
            Entry::Standing,
            Entry::LevelFlight { flight_us: 460_000 },
            Entry::Box { usual_mm: 300 },
            Entry::OntoBox { fall_mm: 100 },
            Entry::RunIn { usual_strides: 8 },
            Entry::RunInMetres { usual_mm: 12_000 },
            Entry::WalkIn { usual_steps: 3 },
        ] {
            assert_eq!(Entry::parse(entry.as_str(), entry.value()), Ok(entry));
        }
        for speed in [
            Speed::Fixed { mm_s: 1_500 },
            Speed::Approach { less_mm_s: 800, cap_mm_s: 9_000 },
            Speed::TopShare { per_mille: 800 },
        ] {
            assert_eq!(Speed::parse(speed.as_str(), speed.values()), Ok(speed));
        }
        assert_eq!(Entry::parse("box", 5_000).map_err(|e| e.range), Err("50 to 1500 mm".to_owned()));
        assert!(Entry::parse("run-in", 70_000).is_err());
        assert!(Entry::parse("run-in-metres", 70_000).is_err());
        assert!(Entry::parse("walk-in", 13).is_err());
        assert!(Entry::parse("standing", 1).is_err());
        assert!(Entry::parse("lift", 1).is_err());
        assert!(Speed::parse("fixed", (1, 1)).is_err());
        assert!(Speed::parse("top-share", (1_001, 0)).is_err());
        assert!(Speed::parse("warp", (1, 0)).is_err());
    }

    #[test]
    fn a_refusal_names_field_value_and_range() {
        let mut exercise = pogo();
        exercise.series[0].contact_us = 5;
        assert_eq!(
            exercise.check().expect_err("too short").to_string(),
            "contact_us is 5; allowed is 30000 to 3000000 µs",
        );
    }

    #[test]
    fn a_sound_exercise_passes_and_each_fault_is_named() {
        assert_eq!(pogo().check(), Ok(()));
        assert_eq!(refused(|e| e.name.clear()), "name");
        assert_eq!(refused(|e| e.about = "a".repeat(401)), "about");
        assert_eq!(refused(|e| e.source.clear()), "source");
        assert_eq!(refused(|e| e.series.clear()), "series");
        assert_eq!(refused(|e| e.contacts_per_rep = 0), "contacts_per_rep");
        assert_eq!(refused(|e| e.contacts_per_rep = 301), "contacts_per_rep");
        assert_eq!(refused(|e| e.loss_per_mille = 501), "loss_per_mille");
        assert_eq!(refused(|e| e.entry = Entry::Box { usual_mm: 9 }), "entry");
        assert_eq!(refused(|e| e.series[0].flight_us = 0), "flight_us");
        assert_eq!(refused(|e| e.series[0].angle_ddeg = 100), "angle_ddeg");
        assert_eq!(refused(|e| e.series[0].speed = Speed::Fixed { mm_s: 20_000 }), "speed");
        assert_eq!(refused(|e| e.landing = Landing::Paused), "landing");
        assert_eq!(refused(|e| e.kind = Kind::HeldLanding), "landing");
    }

    #[test]
    fn fields_that_contradict_each_other_are_refused() {
        // A run-in's speed without a run-in.
        let approach = Speed::Approach { less_mm_s: 0, cap_mm_s: 8_000 };
        assert_eq!(refused(|e| e.series[0].speed = approach), "speed");
        // A repetition cannot end and go on.
        assert_eq!(
            refused(|e| {
                e.series[0].after = After::Pit;
                e.contacts_per_rep = 2;
            }),
            "after"
        );
        // A landing ends the movement.
        assert_eq!(refused(|e| e.series[0].mv = Move::Landing), "after");
        // Fewer contacts than the series tells.
        assert_eq!(
            refused(|e| {
                let again = e.series[0].clone();
                e.series.push(again);
            }),
            "contacts_per_rep"
        );
    }

    fn written_and_read(exercise: &Exercise) -> Exercise {
        let payload = Fact::Exercise(exercise.clone()).write(&Extra::new()).expect("sound");
        match Fact::read(KIND, field_name::WHOLE, &payload).expect("read") {
            (Fact::Exercise(read), extra) if extra.is_empty() => read,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn all_that_can_be_said_comes_back() {
        let mut exercise = pogo();
        exercise.direction = Direction::Backward;
        exercise.entry = Entry::Box { usual_mm: 300 };
        exercise.box_run_in = Some(Approach::Millimetres(6_000));
        exercise.onto_mm = Some(400);
        exercise.over_mm = Some(500);
        exercise.surface = Some(Surface::Grass);
        exercise.cue = Some(Cue::High);
        exercise.series[0].rise_mm = -200;
        exercise.series.push(exercise.series[0].clone());
        exercise.series[1].loss_per_mille = Some(85);
        exercise.contacts_per_rep = 2;
        for load in [None, Some(UsualLoad::Grams(7_000)), Some(UsualLoad::BodyShare(100))] {
            exercise.load = load;
            assert_eq!(written_and_read(&exercise), exercise);
        }
    }

    /// The keys of the first encoding, and no others where nothing more is said.
    #[test]
    fn what_says_nothing_new_is_written_as_before() {
        let Value::Map(pairs) = pogo().write().done(&Extra::new()) else { panic!("a map") };
        let mut keys: Vec<_> = pairs.iter().map(|(key, _)| key.clone()).collect();
        keys.sort_by_key(|key| format!("{key:?}"));
        let mut wanted: Vec<Value> = [
            "name",
            "about",
            "kind",
            "legs",
            "knee",
            "landing",
            "entry",
            "entry-value",
            "series",
            "contacts",
            "loss",
            "support",
            "source",
        ]
        .map(Value::from)
        .to_vec();
        wanted.sort_by_key(|key| format!("{key:?}"));
        assert_eq!(keys, wanted);
        assert_eq!(written_and_read(&pogo()), pogo());
    }

    #[test]
    fn the_direction_follows_from_the_kind() {
        let still = pogo().series;
        let mut moving = still.clone();
        moving[0].speed = Speed::Fixed { mm_s: 1_500 };
        for (kind, on_the_spot, travelling) in [
            (Kind::VerticalRebound, Direction::Up, Direction::Up),
            (Kind::HeldLanding, Direction::Up, Direction::Forward),
            (Kind::Lateral, Direction::Sideways, Direction::Sideways),
            (Kind::HorizontalSeries, Direction::Forward, Direction::Forward),
        ] {
            assert_eq!(Direction::usual(kind, &still), on_the_spot);
            assert_eq!(Direction::usual(kind, &moving), travelling);
        }
    }

    #[test]
    fn lists_beside_the_series_are_as_long_as_it() {
        let read = |key: &str, list: Value| {
            let Value::Map(mut pairs) = pogo().write().done(&Extra::new()) else { panic!("a map") };
            pairs.push((key.into(), list));
            let field = Fields::open(KIND, Value::Map(pairs)).expect("a map");
            Exercise::read(field).map(|(read, _)| read).map_err(|refusal| refusal.field)
        };
        assert_eq!(read("rises", vec![Value::from(50)].into()).map(|e| e.series[0].rise_mm), Ok(50));
        assert_eq!(read("rises", vec![Value::from(1), Value::from(1)].into()), Err("rises"));
        assert_eq!(read("rises", Value::Null), Err("rises"));
        assert_eq!(read("losses", vec![Value::from("much")].into()), Err("losses"));
        assert_eq!(read("losses", vec![Value::from(600)].into()), Err("loss_per_mille"));
        assert_eq!(read("load-g", 0.into()), Err("load-g"));
    }

    #[test]
    fn a_rise_has_room_in_its_flight_and_a_run_in_on_a_box_a_box() {
        // g·tf²/2 of 0.46 s is 1.037 m.
        assert_eq!(refused(|e| e.series[0].rise_mm = 1_038), "rise_mm");
        let mut most = pogo();
        most.series[0].rise_mm = 1_037;
        assert_eq!(most.check(), Ok(()));
        assert_eq!(
            refused(|e| {
                e.series[0].after = After::Pit;
                e.series[0].rise_mm = -100;
            }),
            "rise_mm"
        );
        assert_eq!(refused(|e| e.box_run_in = Some(Approach::Strides(4))), "box_run_in");
        assert_eq!(refused(|e| e.onto_mm = Some(9)), "onto_mm");
        assert_eq!(refused(|e| e.load = Some(UsualLoad::BodyShare(0))), "load");
        // A run-in on a box gives its speed to the contacts.
        let mut platform = pogo();
        platform.entry = Entry::Box { usual_mm: 300 };
        platform.series[0].speed = Speed::Approach { less_mm_s: 0, cap_mm_s: 8_000 };
        assert_eq!(platform.check().map_err(|e| e.field), Err("speed"));
        platform.box_run_in = Some(Approach::Strides(4));
        assert_eq!(platform.check(), Ok(()));
    }
}
