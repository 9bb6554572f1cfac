//! The phases of a triple jump: shares and class, contact times and speed.
//!
//! Shares are of the effective distance (official distance and board loss). The classes
//! are those of Hay 1992, J Sports Sci 10:343–378 (from memory): the longest phase at
//! least two points above the next makes a jump hop- or jump-dominated, otherwise it is
//! balanced. They describe a jump, they prescribe none.

use super::distance::effective;
use crate::facts::{Jump, JumpEvent};
use crate::timing::moves::{Move, Moves};
use crate::timing::{Contact, Event, Foot, Scale, Take, Timed, TimingError};

/// How far the sum of three phases may lie from the effective distance, in millimetres:
/// three readings to the centimetre, and the official distance to the one below. Ours, no
/// source.
pub const TOLERANCE_MM: u32 = 40;

/// How far apart two phases may be misread, in millimetres: half a centimetre each. Ours,
/// no source.
const MISREAD_MM: u64 = 10;

/// One phase of a triple jump.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Phase {
    /// From the board onto the same foot.
    Hop,
    /// Onto the other foot.
    Step,
    /// Into the pit.
    Jump,
}

impl Phase {
    /// The three, in order.
    pub const ALL: [Self; 3] = [Self::Hop, Self::Step, Self::Jump];
    /// The word for it: `hop`, `step`, `jump`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hop => "hop",
            Self::Step => "step",
            Self::Jump => "jump",
        }
    }
}

/// What shares are of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whole {
    /// The effective distance.
    Effective,
    /// The sum of the phases, where the effective distance is not known.
    Phases,
}

/// Which phase is the longest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// The hop, by two points at least.
    HopDominated,
    /// The jump, by two points at least.
    JumpDominated,
    /// No phase by two points.
    Balanced,
    /// The step, by two points at least: Hay has no class for it.
    StepLongest,
}

/// The phases of a triple jump and what they are shares of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shares {
    /// Hop, step and jump in millimetres.
    pub phases_mm: [u32; 3],
    /// The phase that nobody measured: it is what the others leave of the effective
    /// distance.
    pub completed: Option<Phase>,
    /// What they are shares of, in millimetres.
    pub whole_mm: u32,
    /// What that is.
    pub whole: Whole,
}

/// Why there are no shares.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SharesError {
    /// The attempt is a long jump.
    #[error("a long jump has no phases")]
    LongJump,
    /// Fewer phases were measured than are needed.
    #[error("shares need all three phases, or two of them and the effective distance")]
    TooFew,
    /// The phases do not make up the effective distance.
    #[error("the phases make {phases_mm} mm, the effective distance is {effective_mm} mm")]
    DoNotAddUp {
        /// The sum of those measured.
        phases_mm: u32,
        /// The effective distance.
        effective_mm: u32,
    },
    /// Shares in tenths of a percent that do not make 100 %.
    #[error("the shares make {tenths} tenths of a percent, not 1000")]
    NotAWhole {
        /// Their sum.
        tenths: u32,
    },
}

impl Shares {
    /// The shares of an attempt's phases. A third phase that was not measured is what the
    /// two others leave of the effective distance.
    ///
    /// # Errors
    /// [`SharesError`] where the phases are too few or contradict the distance by more
    /// than [`TOLERANCE_MM`].
    pub fn of(jump: &Jump) -> Result<Self, SharesError> {
        if jump.event == JumpEvent::Long {
            return Err(SharesError::LongJump);
        }
        let read = [jump.phases.hop_mm, jump.phases.step_mm, jump.phases.jump_mm];
        let known: u32 = read.iter().flatten().sum();
        let effective = effective(jump).map(|found| found.effective_mm);
        let contradicts = |effective_mm| SharesError::DoNotAddUp { phases_mm: known, effective_mm };
        let missing: Vec<Phase> = Phase::ALL
            .into_iter()
            .zip(read)
            .filter_map(|(phase, mm)| mm.is_none().then_some(phase))
            .collect();
        let (completed, rest) = match (missing.as_slice(), effective) {
            ([], _) => (None, 0),
            ([phase], Some(effective)) if effective > known => (Some(*phase), effective - known),
            ([_], Some(effective)) => return Err(contradicts(effective)),
            _ => return Err(SharesError::TooFew),
        };
        let phases_mm = read.map(|mm| mm.unwrap_or(rest));
        let (whole_mm, whole) = match effective {
            Some(effective) if known.abs_diff(effective) > TOLERANCE_MM && completed.is_none() => {
                return Err(contradicts(effective));
            }
            Some(effective) => (effective, Whole::Effective),
            None => (known, Whole::Phases),
        };
        Ok(Self { phases_mm, completed, whole_mm, whole })
    }

    /// Hop, step and jump in hundredths of a percent, half a hundredth rounded up.
    /// Together they may miss 10 000 by what the readings miss the whole.
    #[must_use]
    pub fn hundredths(&self) -> [u32; 3] {
        let whole = u64::from(self.whole_mm).max(1);
        self.phases_mm
            .map(|mm| u32::try_from((u64::from(mm) * 20_000 + whole) / (2 * whole)).unwrap_or(u32::MAX))
    }

    /// The class, from the lengths themselves and not from rounded shares.
    #[must_use]
    pub fn class(&self) -> Class {
        class(self.phases_mm, u64::from(self.whole_mm))
    }

    /// Whether readings half a centimetre off could make it another class.
    #[must_use]
    pub fn is_near_another_class(&self) -> bool {
        let (_, lead) = lead(self.phases_mm);
        (50 * lead).abs_diff(u64::from(self.whole_mm)) <= 50 * MISREAD_MM
    }
}

/// The class of shares as they are printed, in tenths of a percent.
///
/// # Errors
/// [`SharesError::NotAWhole`] where they miss 100 % by more than three roundings of half a
/// tenth: 99.9 and 100.1 are taken, 99.8 is not.
pub fn class_of_shares(tenths: [u16; 3]) -> Result<Class, SharesError> {
    let sum: u32 = tenths.iter().copied().map(u32::from).sum();
    if sum.abs_diff(1_000) > 1 {
        return Err(SharesError::NotAWhole { tenths: sum });
    }
    Ok(class(tenths.map(u32::from), 1_000))
}

/// The longest phase, and by how much it leads the next.
fn lead(phases: [u32; 3]) -> (Phase, u64) {
    let mut order: Vec<(u32, Phase)> = phases.into_iter().zip(Phase::ALL).collect();
    order.sort_unstable_by(|a, b| b.cmp(a));
    match order.as_slice() {
        [(first, phase), (next, _), ..] => (*phase, u64::from(first - next)),
        _ => (Phase::Hop, 0),
    }
}

fn class(phases: [u32; 3], whole: u64) -> Class {
    match lead(phases) {
        // Two points are a fiftieth.
        (_, lead) if 50 * lead < whole => Class::Balanced,
        (Phase::Hop, _) => Class::HopDominated,
        (Phase::Step, _) => Class::StepLongest,
        (Phase::Jump, _) => Class::JumpDominated,
    }
}

/// Contact and flight times of a triple jump, from the events of its take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PhaseTimes {
    /// The foot of hop and step.
    pub foot: Foot,
    /// The flight that ends on the board, where its begin was marked.
    pub before: Option<Timed>,
    /// The contacts from which hop, step and jump go.
    pub contacts: [Timed; 3],
    /// The flights of hop and step.
    pub flights: [Timed; 2],
    /// The flight into the pit, where its end was marked.
    pub last_flight: Option<Timed>,
    /// From touchdown to touchdown: hop and step.
    pub steps: [Timed; 2],
}

/// Why a take is not one of a triple jump.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PhaseTimesError {
    /// The events give no times.
    #[error(transparent)]
    Timing(#[from] TimingError),
    /// No contact that was left.
    #[error("the take has no contact that was left again")]
    NoTakeOff,
    /// Fewer than three contacts.
    #[error("a triple jump has three contacts, the take has {contacts}")]
    TooFew {
        /// How many there are.
        contacts: usize,
    },
    /// The feet are not those of a triple jump.
    #[error("the last three contacts are not of one foot, the same foot, and the other one")]
    Feet,
}

impl PhaseTimes {
    /// The times of the last three contacts of a take: run-up strides before them may be
    /// marked too, and so may the landing in the pit. That the last ones are the jump is
    /// ours, no source.
    ///
    /// # Errors
    /// [`PhaseTimesError`] where the events are in no possible order, too few, or of feet
    /// that make no hop and step.
    pub fn read(events: &[Event], scale: &Scale) -> Result<Self, PhaseTimesError> {
        let take = Take::read(events, scale)?;
        let moves = Moves::of(&take, events, scale)?;
        let left: Vec<(usize, usize, Timed)> = moves
            .stances
            .iter()
            .enumerate()
            .filter_map(|(number, stance)| Some((number, stance.toe_off?, stance.timed?)))
            .collect();
        let Some([(first, hop_off, hop), (second, step_off, step), (_, jump_off, jump)]) = left.last_chunk()
        else {
            return Err(PhaseTimesError::TooFew { contacts: left.len() });
        };
        let is = |number: usize, wanted| moves.moves.get(number) == Some(&wanted);
        let one_foot = |number: &usize| moves.stances.get(*number).is_some_and(|s| s.foot != Foot::Both);
        if !(is(*first, Move::Hop) && is(*second, Move::Bound) && one_foot(first) && one_foot(second)) {
            return Err(PhaseTimesError::Feet);
        }
        let flight = |toe_off: usize| take.flights.iter().find(|f| f.toe_off == toe_off).map(|f| f.timed);
        let step_time = |number: usize| moves.steps.iter().find(|s| s.stance == number).map(|s| s.timed);
        let known = (flight(*hop_off), flight(*step_off), step_time(*first), step_time(*second));
        let (Some(hop_flight), Some(step_flight), Some(hop_step), Some(step_step)) = known else {
            return Err(PhaseTimesError::Feet);
        };
        let board = take.contacts.iter().find(|contact| contact.toe_off == *hop_off);
        Ok(Self {
            foot: board.map_or(Foot::Both, |contact| contact.foot),
            before: board.and_then(|contact| flight_before(&take, contact)),
            contacts: [*hop, *step, *jump],
            flights: [hop_flight, step_flight],
            last_flight: flight(*jump_off),
            steps: [hop_step, step_step],
        })
    }

    /// The mean speeds over hop and step, with what is lost between them.
    #[must_use]
    pub fn speeds(&self, shares: &Shares) -> SpeedLoss {
        let [hop_mm, step_mm, _] = shares.phases_mm;
        let [hop, step] = self.steps;
        let speed = |mm: u32, step: Timed| f64::from(mm) / 1_000.0 / step.seconds;
        let (hop_m_s, step_m_s) = (speed(hop_mm, hop), speed(step_mm, step));
        // The clock's scale is one for both and cancels.
        let time_u = |step: Timed| step.frame_u.hypot(step.tick_u).hypot(step.judging_u) / step.seconds;
        let length_u = |mm: u32| 10.0 / 12_f64.sqrt() / f64::from(mm);
        let relative_u = (time_u(hop) + time_u(step)).hypot(length_u(hop_mm)).hypot(length_u(step_mm));
        let kept = step_m_s / hop_m_s;
        SpeedLoss { hop_m_s, step_m_s, lost: 1.0 - kept, lost_u: kept * relative_u }
    }
}

/// The mean speeds of hop and step.
///
/// Each is the length of the phase over the time from its touchdown to the next (speed =
/// step length × step rate), which takes the body to stand over the foot alike at both.
/// The jump has none: into the pit one lands otherwise. Losses published between the
/// flights themselves (8.5 % and 15.1 %, Fukashiro et al. 1981, Med Sci Sports Exerc
/// 13:233–237) are of another speed and not to be held against this one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedLoss {
    /// Over the hop, m/s.
    pub hop_m_s: f64,
    /// Over the step, m/s.
    pub step_m_s: f64,
    /// The share of the hop's speed that the step does not have; negative where it is
    /// faster.
    pub lost: f64,
    /// The standard uncertainty of `lost`, at most: both times share a touchdown, and
    /// what it is off is taken to work against both.
    pub lost_u: f64,
}

/// The flight that ends where a contact begins.
fn flight_before(take: &Take, contact: &Contact) -> Option<Timed> {
    take.flights.iter().find(|flight| flight.touchdown == contact.touchdown).map(|flight| flight.timed)
}

/// What a take says of an attempt: of a long jump its take-off, of a triple jump its
/// phases.
#[derive(Clone, Debug, PartialEq)]
pub struct JumpTimes {
    /// The foot of the take-off.
    pub foot: Foot,
    /// The flight that ends on the board, where its begin was marked.
    pub before: Option<Timed>,
    /// The take-off of a long jump; of a triple jump those of hop, step and jump.
    pub contacts: Vec<Timed>,
    /// The flights between the contacts.
    pub flights: Vec<Timed>,
    /// The flight into the pit, where its end was marked.
    pub last_flight: Option<Timed>,
    /// The speeds of hop and step, where the lengths of the phases are known too.
    pub speeds: Option<SpeedLoss>,
}

impl JumpTimes {
    /// The times of an attempt from the events of its take. Run-up strides before the
    /// take-off may be marked too, and so may the landing in the pit.
    ///
    /// # Errors
    /// [`PhaseTimesError`] where the events are in no possible order, or not those of the
    /// event.
    pub fn read(jump: &Jump, events: &[Event], scale: &Scale) -> Result<Self, PhaseTimesError> {
        match jump.event {
            JumpEvent::Long => {
                let take = Take::read(events, scale)?;
                let contact = take.contacts.last().ok_or(PhaseTimesError::NoTakeOff)?;
                let last = take.flights.iter().find(|flight| flight.toe_off == contact.toe_off);
                Ok(Self {
                    foot: contact.foot,
                    before: flight_before(&take, contact),
                    contacts: vec![contact.timed],
                    flights: Vec::new(),
                    last_flight: last.map(|flight| flight.timed),
                    speeds: None,
                })
            }
            JumpEvent::Triple => {
                let times = PhaseTimes::read(events, scale)?;
                Ok(Self {
                    foot: times.foot,
                    before: times.before,
                    contacts: times.contacts.to_vec(),
                    flights: times.flights.to_vec(),
                    last_flight: times.last_flight,
                    speeds: Shares::of(jump).ok().map(|shares| times.speeds(&shares)),
                })
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clip::Pace;
    use crate::facts::{Outcome, Phases};
    use crate::jump::history::tests::long;
    use crate::timing::EventKind::{ToeOff, Touchdown};
    use crate::timing::Foot::{Both, Left, Right};
    use crate::timing::{Bracket, EventKind};

    fn triple(mm: u32, toe_mm: Option<i32>, phases: [Option<u32>; 3]) -> Jump {
        let [hop_mm, step_mm, jump_mm] = phases;
        Jump {
            event: JumpEvent::Triple,
            outcome: Outcome::Measured(mm),
            toe_mm,
            phases: Phases { hop_mm, step_mm, jump_mm },
            ..long(mm)
        }
    }

    #[test]
    fn a_missing_phase_is_what_the_others_leave() {
        let shares = Shares::of(&triple(14_020, Some(-80), [Some(5_150), None, Some(4_870)])).unwrap();
        assert_eq!(shares.phases_mm, [5_150, 4_080, 4_870]);
        assert_eq!((shares.completed, shares.whole_mm), (Some(Phase::Step), 14_100));
        assert_eq!(shares.class(), Class::Balanced);
        let unknown = triple(14_020, None, [Some(5_150), None, Some(4_870)]);
        assert_eq!(Shares::of(&unknown), Err(SharesError::TooFew));
        let one = triple(14_020, Some(0), [Some(5_150), None, None]);
        assert_eq!(Shares::of(&one), Err(SharesError::TooFew));
        let more = triple(9_000, Some(0), [Some(5_150), None, Some(4_870)]);
        assert!(matches!(Shares::of(&more), Err(SharesError::DoNotAddUp { .. })));
        assert_eq!(Shares::of(&long(6_420)), Err(SharesError::LongJump));
    }

    #[test]
    fn three_phases_are_held_against_the_effective_distance() {
        let phases = [Some(5_150), Some(4_080), Some(4_870)];
        let shares = |mm, toe| Shares::of(&triple(mm, toe, phases));
        assert_eq!(shares(14_060, Some(0)).map(|s| (s.whole, s.whole_mm)), Ok((Whole::Effective, 14_060)));
        let apart = SharesError::DoNotAddUp { phases_mm: 14_100, effective_mm: 14_050 };
        assert_eq!(shares(14_050, Some(0)), Err(apart));
        assert_eq!(shares(14_050, None).map(|s| (s.whole, s.whole_mm)), Ok((Whole::Phases, 14_100)));
        let foul = Jump { outcome: Outcome::Foul, ..triple(0, Some(30), phases) };
        assert_eq!(Shares::of(&foul).map(|s| s.whole), Ok(Whole::Phases));
    }

    #[test]
    fn two_points_are_exact() {
        let of = |phases_mm: [u32; 3]| {
            let whole_mm = phases_mm.iter().sum();
            Shares { phases_mm, completed: None, whole_mm, whole: Whole::Phases }
        };
        // A lead of 300 mm in 15.00 m is two points.
        assert_eq!(of([5_400, 4_500, 5_100]).class(), Class::HopDominated);
        assert_eq!(of([5_390, 4_510, 5_100]).class(), Class::Balanced);
        assert_eq!(of([5_100, 4_500, 5_400]).class(), Class::JumpDominated);
        assert_eq!(of([4_800, 5_200, 5_000 - 200]).class(), Class::StepLongest);
        assert!(of([5_390, 4_510, 5_100]).is_near_another_class());
        assert!(!of([5_370, 4_530, 5_100]).is_near_another_class());
        assert_eq!(of([5_000, 5_000, 5_000]).hundredths(), [3_333; 3]);
        assert_eq!(class_of_shares([400, 300, 298]), Err(SharesError::NotAWhole { tenths: 998 }));
    }

    /// Events in milliseconds, brackets 4 ms wide.
    fn events(marked: &[(Foot, EventKind, i64)]) -> Vec<Event> {
        let event = |(foot, kind, ms): &(Foot, EventKind, i64)| Event {
            foot: *foot,
            kind: *kind,
            bracket: Bracket::new(ms - 2, ms + 2).unwrap(),
            doubted: false,
        };
        marked.iter().map(event).collect()
    }

    const TRIPLE: [(Foot, EventKind, i64); 9] = [
        (Left, Touchdown, 10),
        (Left, ToeOff, 120),
        (Right, Touchdown, 240),
        (Right, ToeOff, 380),
        (Right, Touchdown, 880),
        (Right, ToeOff, 1_040),
        (Left, Touchdown, 1_420),
        (Left, ToeOff, 1_600),
        (Both, Touchdown, 2_240),
    ];

    fn scale() -> Scale {
        Scale::new(Pace::new(1, 1000).unwrap(), 4)
    }

    #[test]
    fn the_last_three_contacts_are_the_phases() {
        let read = |events: &[Event]| PhaseTimes::read(events, &scale());
        let all = events(&TRIPLE);
        let times = read(&all).unwrap();
        let ms = |timed: &Timed| (timed.seconds * 1_000.0).round();
        assert_eq!(times.contacts.each_ref().map(ms), [140.0, 160.0, 180.0]);
        assert_eq!(times.flights.each_ref().map(ms), [500.0, 380.0]);
        assert_eq!(times.last_flight.as_ref().map(ms), Some(640.0));
        assert_eq!(times.steps.each_ref().map(ms), [640.0, 540.0]);
        // Without the landing in the pit, and without the run-up.
        let bare = read(&all[2..8]).unwrap();
        assert_eq!((bare.contacts, bare.last_flight), (times.contacts, None));
        assert_eq!(read(&all[4..]), Err(PhaseTimesError::TooFew { contacts: 2 }));
        let other =
            events(&[&TRIPLE[..2], &TRIPLE[2..4], &[(Left, Touchdown, 700), (Left, ToeOff, 860)]].concat());
        assert_eq!(read(&other), Err(PhaseTimesError::Feet));
        assert!(matches!(read(&all[1..]), Err(PhaseTimesError::Timing(_))));
        assert_eq!((times.foot, times.before.as_ref().map(ms)), (Right, Some(120.0)));
        assert_eq!(bare.before, None);
    }

    #[test]
    fn a_long_jump_is_its_last_contact() {
        let all = events(&TRIPLE);
        let read = |events: &[Event]| JumpTimes::read(&long(6_420), events, &scale());
        let ms = |timed: &Timed| (timed.seconds * 1_000.0).round();
        let times = read(&all[..5]).unwrap();
        assert_eq!((times.contacts.iter().map(ms).collect::<Vec<_>>(), times.foot), (vec![140.0], Right));
        assert_eq!(
            (times.before.as_ref().map(ms), times.last_flight.as_ref().map(ms)),
            (Some(120.0), Some(500.0))
        );
        assert_eq!(read(&[]), Err(PhaseTimesError::NoTakeOff));
        // Of a triple jump the speeds need the lengths.
        let phases = |phases| JumpTimes::read(&triple(14_000, Some(0), phases), &all, &scale()).unwrap();
        assert!(phases([None; 3]).speeds.is_none());
        let known = phases([Some(5_120), Some(4_050), Some(4_830)]);
        assert_eq!((known.contacts.len(), known.flights.len()), (3, 2));
        assert!(known.speeds.is_some_and(|speeds| (speeds.lost - 0.0625).abs() < 1e-9));
    }

    #[test]
    fn speed_is_length_over_the_time_from_touchdown_to_touchdown() {
        let times = PhaseTimes::read(&events(&TRIPLE), &scale()).unwrap();
        let phases = [Some(5_120), Some(4_050), Some(4_830)];
        let shares = Shares::of(&triple(14_000, Some(0), phases)).unwrap();
        let speeds = times.speeds(&shares);
        assert!((speeds.hop_m_s - 8.0).abs() < 1e-9 && (speeds.step_m_s - 7.5).abs() < 1e-9);
        assert!((speeds.lost - 0.0625).abs() < 1e-9);
        // Frames √(2·4²/12) and judging 4·√(2/3) ms: 3.65 of 640 and of 540 ms, 10/√12 mm.
        let lengths = (2.886_75_f64 / 5_120.0).hypot(2.886_75 / 4_050.0);
        let times_u: f64 = 3.651_48 / 640.0 + 3.651_48 / 540.0;
        assert!((speeds.lost_u - 0.9375 * times_u.hypot(lengths)).abs() < 1e-6, "{}", speeds.lost_u);
    }
}
