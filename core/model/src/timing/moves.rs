//! The contacts and flights of a take → stances, steps and moves.
//!
//! * A **stance** is a time with any foot on the ground: feet whose contacts overlap
//!   share one, from the first touchdown to the last toe-off.
//! * A **step** leads from one touchdown to the next stance's touchdown; its rate is
//!   one over its time.
//! * A **move** is the flight from one stance to the next, named by the feet: onto the
//!   foot it left is a hop, onto the other one a bound (the step of a triple jump),
//!   from or onto both feet a jump.

use super::duration::{Scale, Timed, between};
use super::event::{Event, EventKind, Foot, TimingError};
use super::take::Take;

/// A time with any foot on the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    /// The foot, or both where the contacts of two overlap.
    pub foot: Foot,
    /// The first touchdown: the number of the event in the take, from 0.
    pub touchdown: usize,
    /// The last toe-off; `None` where the take ends on the ground.
    pub toe_off: Option<usize>,
    /// How long it lasted; `None` where it has no end.
    pub timed: Option<Timed>,
}

/// From one stance's touchdown to the next one's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// The number of the stance that it begins with, from 0.
    pub stance: usize,
    /// How long it lasted.
    pub timed: Timed,
}

impl Step {
    /// Steps a second.
    #[must_use]
    pub fn rate(&self) -> f64 {
        1.0 / self.timed.seconds
    }

    /// Standard uncertainty of the rate in steps a second: rate²·u, as JCGM 100:2008,
    /// 5.1.2 has it for 1/x.
    #[must_use]
    pub fn rate_u(&self) -> f64 {
        self.rate().powi(2) * self.timed.total_u()
    }
}

/// What leads from one stance to the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Move {
    /// Onto the foot that left the ground.
    Hop,
    /// Onto the other foot.
    Bound,
    /// From or onto both feet.
    Jump,
}

impl Move {
    /// The word for it: `hop`, `bound`, `jump`.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Hop => "hop",
            Self::Bound => "bound",
            Self::Jump => "jump",
        }
    }
}

/// What the events of a take say beside contacts and flights.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Moves {
    /// The stances in order.
    pub stances: Vec<Stance>,
    /// The steps, one from each stance but the last.
    pub steps: Vec<Step>,
    /// The moves, one from each stance but the last.
    pub moves: Vec<Move>,
}

impl Moves {
    /// The stances, steps and moves of a take that was read from these events.
    ///
    /// # Errors
    /// [`TimingError`] where two events give no time.
    pub fn of(take: &Take, events: &[Event], scale: &Scale) -> Result<Self, TimingError> {
        let between = |early: usize, late: usize| match (events.get(early), events.get(late)) {
            (Some(early), Some(late)) => between(early, late, scale).map(Some),
            _ => Ok(None),
        };
        let standing = take.standing.iter().filter_map(|at| Some((*at, None, events.get(*at)?.foot)));
        let mut down: Vec<(usize, Option<usize>, Foot)> =
            take.contacts.iter().map(|c| (c.touchdown, Some(c.toe_off), c.foot)).chain(standing).collect();
        down.sort_unstable_by_key(|(touchdown, ..)| *touchdown);
        let mut found = Self::default();
        for (touchdown, toe_off, foot) in down {
            match found.stances.last_mut() {
                // Still on the ground when this foot lands.
                Some(stance) if stance.toe_off.is_none_or(|last| touchdown < last) => {
                    stance.foot = Foot::Both;
                    stance.toe_off = stance.toe_off.zip(toe_off).map(|(one, other)| one.max(other));
                }
                _ => found.stances.push(Stance { foot, touchdown, toe_off, timed: None }),
            }
        }
        for stance in &mut found.stances {
            if let Some(toe_off) = stance.toe_off {
                stance.timed = between(stance.touchdown, toe_off)?;
            }
        }
        for (number, pair) in found.stances.windows(2).enumerate() {
            let [from, to] = pair else { continue };
            let Some(timed) = between(from.touchdown, to.touchdown)? else { continue };
            found.steps.push(Step { stance: number, timed });
            found.moves.push(match (leaves(events, from), lands(events, to)) {
                (Foot::Both, _) | (_, Foot::Both) => Move::Jump,
                (from, to) if from == to => Move::Hop,
                _ => Move::Bound,
            });
        }
        Ok(found)
    }
}

/// The foot from which a stance is left: of two that overlap, the last to leave.
/// Two that leave in one bracket leave together.
fn leaves(events: &[Event], stance: &Stance) -> Foot {
    let Some((last, toe_off)) = stance.toe_off.and_then(|last| Some((last, events.get(last)?))) else {
        return stance.foot;
    };
    let within = events.get(stance.touchdown..last).unwrap_or_default();
    let together = within
        .iter()
        .any(|event| event.kind == EventKind::ToeOff && event.bracket.after > toe_off.bracket.before);
    if together { Foot::Both } else { toe_off.foot }
}

/// The foot onto which a stance is entered: of two that overlap, the first to land.
fn lands(events: &[Event], stance: &Stance) -> Foot {
    let Some(touchdown) = events.get(stance.touchdown) else { return stance.foot };
    let after = events.get(stance.touchdown + 1..).unwrap_or_default();
    let together = after
        .iter()
        .take_while(|event| event.kind == EventKind::Touchdown)
        .any(|event| event.bracket.before < touchdown.bracket.after);
    if together { Foot::Both } else { touchdown.foot }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clip::Pace;
    use crate::timing::event;
    use EventKind::{ToeOff, Touchdown};
    use Foot::{Both, Left, Right};

    fn read(events: &[(Foot, EventKind, i64)]) -> Moves {
        let events = event::events(events);
        let scale = Scale::new(Pace::new(1, 1000).unwrap(), 4);
        let take = Take::read(&events, &scale).unwrap();
        Moves::of(&take, &events, &scale).unwrap()
    }

    #[test]
    fn a_triple_jump_is_hop_bound_jump() {
        let moves = read(&[
            (Right, Touchdown, 100),
            (Right, ToeOff, 240),
            (Right, Touchdown, 700),
            (Right, ToeOff, 860),
            (Left, Touchdown, 1200),
            (Left, ToeOff, 1380),
            (Both, Touchdown, 2000),
        ]);
        assert_eq!(moves.moves, [Move::Hop, Move::Bound, Move::Jump]);
        let steps: Vec<f64> = moves.steps.iter().map(|step| (step.timed.seconds * 1000.0).round()).collect();
        assert_eq!(steps, [600.0, 500.0, 800.0]);
        assert!((moves.steps[1].rate() - 2.0).abs() < 1e-9);
        // u of 1/x: for 0.5 s and 3.65 ms, 14.6 thousandths of a step a second.
        let u = moves.steps[1].timed.total_u();
        assert!((moves.steps[1].rate_u() - 4.0 * u).abs() < 1e-12);
        let last = moves.stances.last().unwrap();
        assert_eq!((last.foot, last.toe_off, last.timed), (Both, None, None));
    }

    #[test]
    fn both_feet_last_from_the_first_touchdown_to_the_last_toe_off() {
        let moves = read(&[
            (Left, Touchdown, 100),
            (Right, Touchdown, 102),
            (Left, ToeOff, 300),
            (Right, ToeOff, 303),
            (Right, Touchdown, 700),
            (Left, Touchdown, 701),
        ]);
        assert_eq!(moves.stances.len(), 2);
        assert_eq!(moves.stances[0].foot, Both);
        assert_eq!((moves.stances[0].touchdown, moves.stances[0].toe_off), (0, Some(3)));
        assert!((moves.stances[0].timed.unwrap().seconds - 0.203).abs() < 1e-12);
        assert_eq!(moves.moves, [Move::Jump]);
    }

    #[test]
    fn a_skip_lands_twice_on_one_foot_and_a_walked_step_has_no_flight() {
        let skip = read(&[
            (Left, Touchdown, 100),
            (Left, ToeOff, 250),
            (Left, Touchdown, 300),
            (Left, ToeOff, 420),
            (Right, Touchdown, 600),
        ]);
        assert_eq!(skip.moves, [Move::Hop, Move::Bound]);
        let walked = read(&[
            (Left, Touchdown, 100),
            (Right, Touchdown, 400),
            (Left, ToeOff, 450),
            (Right, ToeOff, 700),
            (Left, Touchdown, 800),
        ]);
        // One stance of both, left by the right foot alone, onto the left one.
        assert_eq!(walked.stances[0].foot, Both);
        assert_eq!(walked.moves, [Move::Bound]);
    }
}
