//! How like an event an exercise is, part by part.
//!
//! The parts stand beside each other and are never blended into one number: a coach picks the part that matters
//! now and sorts by it. The event is its own exercise of the catalogue (the long and triple jump from a full
//! run-up, strides at top speed), done by the same athlete, so measuring and editing change it as they change any
//! other. What counts as like is a convention of ours.

use core::cmp::Ordering;

use super::catalogue::{self, id};
use super::contact::{ContactLoad, Feet, repetition};
use super::performed::{Athlete, Leg, Performed, Side};
use crate::facts::exercise::{
    After, Direction, Entry, Exercise, FieldError, Kind, Knee, Landing, Legs, Move, Speed,
};

/// An event that exercises are held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LikeEvent {
    /// The long jump.
    LongJump,
    /// The triple jump.
    TripleJump,
    /// The sprint at top speed.
    Sprint,
}

impl LikeEvent {
    /// Every event, in order.
    pub const ALL: [Self; 3] = [Self::LongJump, Self::TripleJump, Self::Sprint];

    /// The word in an address.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::LongJump => "long-jump",
            Self::TripleJump => "triple-jump",
            Self::Sprint => "sprint",
        }
    }

    /// The event of a word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|event| event.word() == word)
    }

    /// The exercise that stands for the event.
    #[must_use]
    pub const fn exercise(self) -> uuid::Uuid {
        match self {
            Self::LongJump => id::LONG_JUMP_FULL,
            Self::TripleJump => id::TRIPLE_JUMP_FULL,
            Self::Sprint => id::SPRINT_STRIDES,
        }
    }
}

/// One part of the likeness, by which exercises can be sorted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    /// Time on the ground.
    Contact,
    /// One leg at a time.
    OneLeg,
    /// The way in which it goes.
    Direction,
    /// The speed at which it is entered.
    Approach,
    /// How far the joints bend.
    Joints,
    /// Which leg follows which.
    Pattern,
}

impl Part {
    /// Every part, in order.
    pub const ALL: [Self; 6] =
        [Self::Contact, Self::OneLeg, Self::Direction, Self::Approach, Self::Joints, Self::Pattern];

    /// The word in an address.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Contact => "contact",
            Self::OneLeg => "one-leg",
            Self::Direction => "direction",
            Self::Approach => "approach",
            Self::Joints => "joints",
            Self::Pattern => "pattern",
        }
    }

    /// The part of a word.
    #[must_use]
    pub fn of(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|part| part.word() == word)
    }
}

/// A number of the exercise beside that of the event.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// The exercise's, in s or m/s.
    pub own: f64,
    /// The event's.
    pub event: f64,
}

impl Beside {
    /// The exercise's less the event's.
    #[must_use]
    pub fn difference(self) -> f64 {
        self.own - self.event
    }

    /// The exercise's over the event's; nothing where the event's is 0.
    #[must_use]
    pub fn ratio(self) -> Option<f64> {
        (self.event > 0.0).then(|| self.own / self.event)
    }
}

/// How far the joints bend on the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Joints {
    /// Off a nearly straight leg, out of a run or a flight: as in the events.
    Straight,
    /// Off a visibly bent knee, out of a run or a flight.
    Bent,
    /// Out of a stand or a stop: the joints open from a deep bend, which no event's take-off does.
    FromStand,
}

impl Joints {
    /// Read off the description. A start of a sprint is out of a stand, too.
    #[must_use]
    pub fn of(exercise: &Exercise) -> Self {
        let stood = matches!(exercise.entry, Entry::Standing | Entry::WalkIn { .. });
        match (exercise.landing, exercise.knee) {
            (Landing::Paused | Landing::Held, _) => Self::FromStand,
            _ if stood => Self::FromStand,
            (Landing::Rebound, Knee::Stiff) => Self::Straight,
            (Landing::Rebound, Knee::Bent) => Self::Bent,
        }
    }

    const fn order(self) -> u8 {
        match self {
            Self::Straight => 0,
            Self::Bent => 1,
            Self::FromStand => 2,
        }
    }
}

/// From one contact to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Change {
    /// On the same leg: a hop.
    Same,
    /// On the other leg: a bound, a step, a stride.
    Other,
    /// From or onto both.
    Both,
}

/// How like the legs of a series are to those of the event.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pattern {
    /// The event's contacts one by one, and no others.
    Same,
    /// All of the event's changes of legs in a row, among more; or a part of them in a row.
    Part,
    /// None of them.
    Other,
}

/// An exercise beside an event.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Likeness {
    /// Time on the ground, s: of the exercise's contact that lands hardest among those it leaves the ground from,
    /// against the event's nearest.
    pub contact: Option<Beside>,
    /// What that contact of the event does.
    pub event_move: Move,
    /// Whether every contact it leaves the ground from is on one leg, as in each of the events.
    pub one_leg: bool,
    /// The way in which it goes; each of the events goes forward.
    pub direction: Direction,
    /// Speed at which the first contact is reached, m/s; 0 out of a stand.
    pub approach: Beside,
    /// How far the joints bend; in each of the events off a nearly straight leg.
    pub joints: Joints,
    /// Which leg follows which.
    pub pattern: Pattern,
}

/// The event as one athlete does it, worked out once for a whole list.
#[derive(Clone, Debug)]
pub struct EventSide {
    event: LikeEvent,
    /// Contacts in s, with what each does.
    contacts: Vec<(f64, Move)>,
    approach_m_s: f64,
    changes: Vec<Change>,
}

impl EventSide {
    /// The event of an athlete; `exercise` is the squad's own description of it, the product's where left out.
    ///
    /// # Errors
    /// [`FieldError`] where the description is not sound.
    pub fn new(event: LikeEvent, exercise: Option<&Exercise>, athlete: Athlete) -> Result<Self, FieldError> {
        let found = exercise.cloned().or_else(|| catalogue::find(event.exercise()).map(|item| item.exercise));
        let missing = || FieldError::new("event", event.word(), "an event of the catalogue");
        let exercise = found.ok_or_else(missing)?;
        let set = usual(&exercise, athlete);
        let contacts = repetition(&set)?;
        let times = leaving(&set, &contacts).map(|c| (c.inputs.contact_s.value, c.mv)).collect();
        Ok(Self {
            event,
            contacts: times,
            approach_m_s: entered(&set, &contacts),
            changes: changes(&contacts),
        })
    }

    /// An exercise beside the event, both as one athlete usually does them.
    ///
    /// # Errors
    /// [`FieldError`] where the description is not sound.
    pub fn beside(&self, exercise: &Exercise, athlete: Athlete) -> Result<Likeness, FieldError> {
        let set = usual(exercise, athlete);
        let contacts = repetition(&set)?;
        let hardest = leaving(&set, &contacts)
            .max_by(|a, b| a.landing.energy_j_per_kg_per_leg.total_cmp(&b.landing.energy_j_per_kg_per_leg));
        let own = hardest.map(|contact| contact.inputs.contact_s.value);
        let nearest = self.contacts.iter().min_by(|a, b| {
            let far = |contact: &(f64, Move)| (contact.0 - own.unwrap_or(0.0)).abs();
            far(a).total_cmp(&far(b))
        });
        Ok(Likeness {
            contact: own.zip(nearest).map(|(own, event)| Beside { own, event: event.0 }),
            event_move: nearest.map_or(Move::TakeOff, |event| event.1),
            one_leg: leaving(&set, &contacts).all(|contact| contact.legs() == Legs::One),
            direction: exercise.direction,
            approach: Beside { own: entered(&set, &contacts), event: self.approach_m_s },
            joints: Joints::of(exercise),
            pattern: self.pattern(exercise, &contacts),
        })
    }

    fn pattern(&self, exercise: &Exercise, contacts: &[ContactLoad<'_>]) -> Pattern {
        let own = changes(contacts);
        let take_off = |mv: Move| matches!(mv, Move::TakeOff | Move::Hop | Move::Step | Move::Jump);
        match self.event {
            // One contact out of a run-in into the sand.
            LikeEvent::LongJump => {
                let last = exercise.series.last();
                let into_sand = last.is_some_and(|c| c.after == After::Pit && take_off(c.mv));
                match (into_sand, own.is_empty()) {
                    (true, true) => Pattern::Same,
                    (true, false) => Pattern::Part,
                    _ if exercise.kind == Kind::EventTakeOff => Pattern::Part,
                    _ => Pattern::Other,
                }
            }
            // A series without an end, from leg to leg.
            LikeEvent::Sprint => match own.iter().filter(|change| **change == Change::Other).count() {
                0 => Pattern::Other,
                n if n == own.len() => Pattern::Same,
                _ => Pattern::Part,
            },
            LikeEvent::TripleJump => {
                let within = |long: &[Change], short: &[Change]| {
                    !short.is_empty() && long.windows(short.len()).any(|run| run == short)
                };
                if own == self.changes {
                    Pattern::Same
                } else if within(&own, &self.changes) || within(&self.changes, &own) {
                    Pattern::Part
                } else {
                    Pattern::Other
                }
            }
        }
    }
}

impl Likeness {
    /// The nearer to the event by one part first; alike where the part says the same of both.
    #[must_use]
    pub fn nearer(&self, other: &Self, part: Part) -> Ordering {
        let far = |beside: Beside| beside.difference().abs();
        match part {
            Part::Contact => match (self.contact, other.contact) {
                (Some(a), Some(b)) => far(a).total_cmp(&far(b)),
                (a, b) => b.is_some().cmp(&a.is_some()),
            },
            Part::OneLeg => other.one_leg.cmp(&self.one_leg),
            Part::Direction => {
                let away = |likeness: &Self| likeness.direction != Direction::Forward;
                away(self).cmp(&away(other))
            }
            Part::Approach => far(self.approach).total_cmp(&far(other.approach)),
            Part::Joints => self.joints.order().cmp(&other.joints.order()),
            Part::Pattern => self.pattern.cmp(&other.pattern),
        }
    }
}

fn usual(exercise: &Exercise, athlete: Athlete) -> Performed<'_> {
    let on_one = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
    // Which leg begins changes nothing that is asked here.
    let leg = if on_one { Side::Alternate { first: Leg::Left } } else { Side::Both };
    Performed { athlete, ..Performed::usual(exercise, 1, leg) }
}

/// The contacts from which the ground is left: all but those that end in a stand; of paused jumps and landings
/// that are nothing else, each.
fn leaving<'b, 'a>(
    set: &Performed<'_>,
    contacts: &'b [ContactLoad<'a>],
) -> impl Iterator<Item = &'b ContactLoad<'a>> + use<'a, 'b> {
    let all = set.exercise.series.iter().all(|contact| contact.after == After::Stand);
    contacts.iter().filter(move |contact| all || contact.inputs.flight_s.is_some())
}

/// The speed at which the first contact is reached, m/s.
fn entered(set: &Performed<'_>, contacts: &[ContactLoad<'_>]) -> f64 {
    let first = contacts.first();
    match (set.exercise.entry, set.exercise.run_in()) {
        (_, Some(_)) => set.run_in_speed().value,
        (Entry::LevelFlight { .. } | Entry::WalkIn { .. }, None) => {
            let fixed = |c: &ContactLoad<'_>| c.inputs.speed_m_s.value;
            first.map_or(0.0, fixed)
        }
        _ => match set.exercise.series.first().map(|c| c.speed) {
            // A share of the top speed is run up to, whatever the entry says.
            Some(Speed::TopShare { .. }) if set.exercise.entry != Entry::Standing => {
                first.map_or(0.0, |c| c.inputs.speed_m_s.value)
            }
            _ => 0.0,
        },
    }
}

/// From each contact to the next, a landing that ends the movement left out.
fn changes(contacts: &[ContactLoad<'_>]) -> Vec<Change> {
    let on_ground: Vec<Feet> = contacts.iter().filter(|c| c.mv != Move::Landing).map(|c| c.feet).collect();
    on_ground
        .iter()
        .zip(on_ground.iter().skip(1))
        .map(|(before, next)| match (before, next) {
            (Feet::Both, _) | (_, Feet::Both) => Change::Both,
            (before, next) if before == next => Change::Same,
            _ => Change::Other,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn likeness(event: LikeEvent, id: uuid::Uuid) -> Likeness {
        let exercise = catalogue::find(id).expect("there").exercise;
        let side = EventSide::new(event, None, Athlete::default()).expect("sound");
        side.beside(&exercise, Athlete::default()).expect("sound")
    }

    #[test]
    fn an_event_is_like_itself_in_every_part() {
        for event in LikeEvent::ALL {
            let own = likeness(event, event.exercise());
            assert_eq!(own.contact.expect("a contact").difference(), 0.0);
            assert_eq!(own.approach.difference(), 0.0);
            assert!(own.one_leg);
            let rest = (own.direction, own.joints, own.pattern);
            assert_eq!(rest, (Direction::Forward, Joints::Straight, Pattern::Same), "{event:?}");
        }
    }

    #[test]
    fn the_triple_jump_is_held_against_its_nearest_contact() {
        // Hops with a run-in: 0.160 s, nearest to the step's 0.157 s.
        let hops = likeness(LikeEvent::TripleJump, id::HOPS_RUN_IN);
        let contact = hops.contact.expect("a contact");
        assert!((contact.difference() - 0.003).abs() < 1e-9 && hops.event_move == Move::Step, "{hops:?}");
        assert!((contact.ratio().expect("above zero") - 160.0 / 157.0).abs() < 1e-9);
    }

    #[test]
    fn standing_starts_bend_deeper_than_the_event() {
        assert_eq!(likeness(LikeEvent::LongJump, id::STANDING_TRIPLE).joints, Joints::FromStand);
        assert_eq!(likeness(LikeEvent::Sprint, id::START_STANDING).joints, Joints::FromStand);
        assert_eq!(likeness(LikeEvent::LongJump, id::PAUSED_SQUAT_JUMP).joints, Joints::FromStand);
        assert_eq!(likeness(LikeEvent::LongJump, id::TUCK_JUMPS).joints, Joints::Bent);
        assert_eq!(likeness(LikeEvent::LongJump, id::POGO).joints, Joints::Straight);
        assert_eq!(likeness(LikeEvent::LongJump, id::STANDING_TRIPLE).approach.own, 0.0);
    }

    #[test]
    fn patterns_are_told_by_the_legs() {
        let triple = |id| likeness(LikeEvent::TripleJump, id).pattern;
        assert_eq!(triple(id::TRIPLE_JUMP_FOUR), Pattern::Same);
        assert_eq!(triple(id::STANDING_TRIPLE), Pattern::Same);
        assert_eq!(triple(id::HOP_STEP_STEP_JUMP), Pattern::Part);
        assert_eq!(triple(id::HOP_STEP_PHASES), Pattern::Part);
        assert_eq!(triple(id::POGO), Pattern::Other);
        let long = |id| likeness(LikeEvent::LongJump, id).pattern;
        assert_eq!(long(id::LONG_JUMP_SHORT), Pattern::Same);
        assert_eq!(long(id::HOP_HOP_JUMP_RUN_IN), Pattern::Part);
        assert_eq!(long(id::DROP_JUMP), Pattern::Other);
        let sprint = |id| likeness(LikeEvent::Sprint, id).pattern;
        assert_eq!(sprint(id::HIGH_KNEES), Pattern::Same);
        assert_eq!(sprint(id::HOPS_RUN_IN), Pattern::Other);
        assert_eq!(sprint(id::HOP_STEP_IN_TURN), Pattern::Part);
    }

    #[test]
    fn one_part_sorts_and_the_others_are_left_alone() {
        let [near, far] = [id::LONG_JUMP_MIDDLE, id::DROP_JUMP].map(|id| likeness(LikeEvent::LongJump, id));
        for part in Part::ALL {
            let wanted = if part == Part::Joints { Ordering::Equal } else { Ordering::Less };
            assert_eq!(near.nearer(&far, part), wanted, "{part:?}");
            assert_eq!(far.nearer(&near, part), wanted.reverse());
        }
    }

    #[test]
    fn every_exercise_can_be_held_against_every_event() {
        for event in LikeEvent::ALL {
            let side = EventSide::new(event, None, Athlete::default()).expect("sound");
            for item in catalogue::all() {
                let likeness = side.beside(&item.exercise, Athlete::default()).expect("sound");
                let contact = likeness.contact.expect("a contact");
                assert!(contact.own > 0.0 && likeness.approach.own.is_finite(), "{}", item.exercise.name);
            }
            assert_eq!(LikeEvent::of(event.word()), Some(event));
        }
        for part in Part::ALL {
            assert_eq!(Part::of(part.word()), Some(part));
        }
    }
}
