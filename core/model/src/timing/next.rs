//! The event that comes next in a take: which foot, which kind, and about when, by the
//! exercise's series. Whoever marks a clip is then asked for neither, and looks near
//! the right frame.

use super::event::{Bracket, Event, EventKind, Foot};
use crate::facts::Pace;
use crate::facts::exercise::{After, Exercise, Legs, Move, UsualContact};

/// The event that is expected next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Next {
    /// The foot.
    pub foot: Foot,
    /// Touchdown or toe-off.
    pub kind: EventKind,
    /// About when, in ticks of the clip: by the same contact or flight earlier in the
    /// take, or by the exercise's usual times; `None` where neither is known.
    pub ticks: Option<i64>,
}

/// The event after `events`, which stand in the order of time; `None` where the
/// exercise ends: on the ground, or in the pit.
///
/// `first` is the foot of the first contact where the exercise does not say "both".
/// Each further foot follows the one before, as it was marked. Without `exercise` feet
/// alternate; without `pace` usual times tell nothing.
#[must_use]
pub fn next(events: &[Event], exercise: Option<&Exercise>, first: Foot, pace: Option<Pace>) -> Option<Next> {
    let seen = Seen::of(events);
    let series = exercise.map_or(&[][..], |exercise| &exercise.series);
    let usual = |touchdown: usize| series.get(touchdown).or(series.last());
    // Touchdowns that have one place in the series; its last contact repeats.
    let alike = |one: usize, other: usize| {
        let last = series.len().saturating_sub(1);
        one.min(last) == other.min(last)
    };
    if let Some((number, on)) = seen.down.first() {
        let usual = usual(*number);
        if usual.is_some_and(|usual| usual.after == After::Stand) || seen.in_pit(*number, &usual) {
            return None;
        }
        let lasting = newest(&seen.contacts, *number, alike).or_else(|| ticks(usual?.contact_us, pace?));
        let ticks = lasting.and_then(|lasting| middle(on.bracket).checked_add(lasting));
        return Some(Next { foot: on.foot, kind: EventKind::ToeOff, ticks });
    }
    let number = seen.touchdowns;
    let expected = |foot, ticks| Some(Next { foot, kind: EventKind::Touchdown, ticks });
    let two = |usual: Option<&UsualContact>| usual.is_some_and(|usual| usual.legs == Legs::Two);
    let Some(before) = number.checked_sub(1) else {
        return expected(if two(usual(0)) { Foot::Both } else { first }, None);
    };
    let left = usual(before);
    let lasting = newest(&seen.flights, before, alike).or_else(|| ticks(left?.flight_us, pace?));
    let ticks =
        seen.last_off.zip(lasting).and_then(|(off, lasting)| middle(off.bracket).checked_add(lasting));
    let foot = match (seen.last_foot, left) {
        _ if two(usual(number)) || left.is_some_and(|left| left.after == After::Pit) => Foot::Both,
        (Some(Foot::Both) | None, _) => first,
        (Some(foot), None) => other(foot),
        (Some(foot), Some(left)) => match left.mv {
            Move::Hop => foot,
            Move::Bound | Move::Step => other(foot),
            // A skip lands twice on each foot.
            Move::Skip if number % 2 == 1 => foot,
            Move::Skip => other(foot),
            _ if left.legs == Legs::Alternate => other(foot),
            _ => foot,
        },
    };
    expected(foot, ticks)
}

/// What the events so far tell.
#[derive(Default)]
struct Seen<'a> {
    touchdowns: usize,
    /// Feet on the ground with the number of their touchdown, the longest there first.
    down: Vec<(usize, &'a Event)>,
    last_foot: Option<Foot>,
    last_off: Option<&'a Event>,
    /// How long the contact of each touchdown lasted, in ticks.
    contacts: Vec<Option<i64>>,
    /// How long the flight after the contact of each touchdown lasted.
    flights: Vec<Option<i64>>,
}

impl<'a> Seen<'a> {
    fn of(events: &'a [Event]) -> Self {
        let mut seen = Self::default();
        let mut left: Option<(usize, i64)> = None;
        for event in events {
            let at = middle(event.bracket);
            match event.kind {
                EventKind::Touchdown => {
                    if let Some((number, off)) = left.take()
                        && let Some(flight) = seen.flights.get_mut(number)
                    {
                        *flight = at.checked_sub(off);
                    }
                    seen.down.push((seen.touchdowns, event));
                    seen.contacts.push(None);
                    seen.flights.push(None);
                    seen.touchdowns += 1;
                    seen.last_foot = Some(event.foot);
                }
                EventKind::ToeOff => {
                    let Some(place) = seen.down.iter().position(|(_, on)| on.foot == event.foot) else {
                        continue;
                    };
                    let (number, on) = seen.down.remove(place);
                    if let Some(contact) = seen.contacts.get_mut(number) {
                        *contact = at.checked_sub(middle(on.bracket));
                    }
                    seen.last_off = Some(event);
                    if seen.down.is_empty() {
                        left = Some((number, at));
                    }
                }
            }
        }
        seen
    }

    /// The landing that comes after a take-off into the pit.
    fn in_pit(&self, number: usize, usual: &Option<&UsualContact>) -> bool {
        number > 0
            && usual.is_some_and(|usual| usual.after == After::Pit)
            && self.last_foot == Some(Foot::Both)
            && usual.is_some_and(|usual| usual.legs != Legs::Two)
    }
}

/// What lasted the newest before number `number`, of those alike.
fn newest(lasted: &[Option<i64>], number: usize, alike: impl Fn(usize, usize) -> bool) -> Option<i64> {
    let before = lasted.iter().enumerate().take(number).rev();
    before.filter(|(other, _)| alike(*other, number)).find_map(|(_, ticks)| *ticks)
}

fn other(foot: Foot) -> Foot {
    match foot {
        Foot::Left => Foot::Right,
        Foot::Right => Foot::Left,
        Foot::Both => Foot::Both,
    }
}

fn middle(bracket: Bracket) -> i64 {
    i64::midpoint(bracket.before, bracket.after)
}

/// Microseconds as ticks.
fn ticks(us: u32, pace: Pace) -> Option<i64> {
    let ticks = u128::from(us) * u128::from(pace.den) / (u128::from(pace.num) * 1_000_000);
    i64::try_from(ticks).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::catalogue::{find, id};
    use crate::timing::Scale;
    use EventKind::{ToeOff, Touchdown};
    use Foot::{Both, Left, Right};
    use uuid::Uuid;

    /// A thousand ticks a second.
    fn pace() -> Option<Pace> {
        Pace::new(1, 1000)
    }

    /// Marks what is expected, each where it is, until the exercise ends; `most` at most.
    fn follow(exercise: Uuid, first: Foot, most: usize) -> Vec<(Foot, EventKind, i64)> {
        let exercise = find(exercise).unwrap().exercise;
        let mut events = Vec::new();
        let mut told = Vec::new();
        while told.len() < most {
            let Some(next) = next(&events, Some(&exercise), first, pace()) else { break };
            let at = next.ticks.unwrap_or(1000);
            told.push((next.foot, next.kind, at));
            let bracket = Bracket { before: at - 2, after: at + 2 };
            events.push(Event { foot: next.foot, kind: next.kind, bracket, doubted: false });
        }
        crate::timing::Take::read(&events, &Scale::new(pace().unwrap(), 4)).unwrap();
        told
    }

    #[test]
    fn a_triple_jump_is_right_right_left_and_the_pit() {
        let usual = [
            (Right, Touchdown, 1000),
            (Right, ToeOff, 1155),
            (Right, Touchdown, 1555),
            (Right, ToeOff, 1732),
            (Left, Touchdown, 2072),
            (Left, ToeOff, 2269),
            (Both, Touchdown, 2769),
        ];
        assert_eq!(follow(id::TRIPLE_JUMP_SHORT, Right, 20), usual);
    }

    #[test]
    fn bounds_alternate_hops_stay_rebounds_are_of_both_and_a_held_landing_ends() {
        let feet = |exercise, first| {
            let told = follow(exercise, first, 8);
            let down = told.iter().filter(|(_, kind, _)| *kind == Touchdown);
            down.map(|(foot, ..)| *foot).collect::<Vec<_>>()
        };
        assert_eq!(feet(id::BOUNDS_RUN_IN, Left), [Left, Right, Left, Right]);
        assert_eq!(feet(id::SPRINT_STRIDES, Right), [Right, Left, Right, Left]);
        assert_eq!(feet(id::HOPS_RUN_IN, Left), [Left; 4]);
        assert_eq!(feet(id::A_SKIP, Left), [Left, Left, Right, Right]);
        assert_eq!(feet(id::DROP_JUMP, Left), [Both, Both]);
        assert_eq!(follow(id::DROP_JUMP, Left, 9).len(), 3);
    }

    #[test]
    fn the_newest_contact_tells_when_and_the_marked_foot_which() {
        let bounds = find(id::BOUNDS_RUN_IN).unwrap().exercise;
        let events = crate::timing::event::events(&[
            (Left, Touchdown, 1002),
            (Left, ToeOff, 1132),
            // Corrected by hand: the same foot once more.
            (Left, Touchdown, 1532),
        ]);
        let toe_off = next(&events, Some(&bounds), Left, None);
        assert_eq!(toe_off, Some(Next { foot: Left, kind: ToeOff, ticks: Some(1660) }));
        let mut events = events;
        events.extend(crate::timing::event::events(&[(Left, ToeOff, 1662)]));
        let touchdown = next(&events, Some(&bounds), Left, None);
        assert_eq!(touchdown, Some(Next { foot: Right, kind: Touchdown, ticks: Some(2060) }));
    }

    #[test]
    fn without_an_exercise_feet_alternate_and_a_first_time_is_not_guessed() {
        let first = next(&[], None, Right, pace());
        assert_eq!(first, Some(Next { foot: Right, kind: Touchdown, ticks: None }));
        let events = crate::timing::event::events(&[(Right, Touchdown, 100), (Right, ToeOff, 250)]);
        let touchdown = next(&events, None, Right, pace());
        assert_eq!(touchdown, Some(Next { foot: Left, kind: Touchdown, ticks: None }));
        assert_eq!(next(&events[..1], None, Right, pace()).and_then(|next| next.ticks), None);
    }
}
