//! The ordered events of one clip → its contacts and flights.

use super::duration::{Scale, Timed, contact, flight};
use super::event::{Event, EventKind, Foot, TimingError};

/// One contact of a take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// The foot, or both.
    pub foot: Foot,
    /// Its touchdown: the number of the event in the take, from 0.
    pub touchdown: usize,
    /// Its toe-off.
    pub toe_off: usize,
    /// How long it lasted.
    pub timed: Timed,
}

/// One flight of a take: no foot on the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flight {
    /// The toe-off that begins it: the number of the event, from 0.
    pub toe_off: usize,
    /// The touchdown that ends it.
    pub touchdown: usize,
    /// How long it lasted.
    pub timed: Timed,
}

/// What the events of one clip say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Take {
    /// The contacts, in the order of their toe-offs.
    pub contacts: Vec<Contact>,
    /// The flights, in order.
    pub flights: Vec<Flight>,
    /// Touchdowns without a toe-off: the landing that ends a series.
    pub standing: Vec<usize>,
}

impl Take {
    /// Pairs the events of a take, which stand in the order of time.
    ///
    /// A foot may land while the other is on the ground; no flight lies
    /// between such contacts.
    ///
    /// # Errors
    /// [`TimingError`] naming the event where an order is impossible: a foot
    /// lands that is on the ground, leaves the ground without having landed,
    /// or events overlap or are reversed.
    pub fn read(events: &[Event], scale: &Scale) -> Result<Self, TimingError> {
        scale.check()?;
        let mut take = Self::default();
        let mut down: Vec<(usize, &Event)> = Vec::new();
        let mut airborne_since: Option<(usize, &Event)> = None;
        let mut latest: Option<&Event> = None;
        for (index, event) in events.iter().enumerate() {
            let backwards = latest
                .is_some_and(|latest| latest.bracket.midpoint_doubled() > event.bracket.midpoint_doubled());
            if backwards {
                return Err(TimingError::TakeOrder { index, event: event.kind });
            }
            latest = Some(event);
            let foot = event.foot;
            match event.kind {
                EventKind::Touchdown => {
                    if down.iter().any(|(_, other)| other.foot.overlaps(foot)) {
                        return Err(TimingError::AlreadyDown { index, foot });
                    }
                    if let Some((toe_off, start)) = airborne_since.take() {
                        take.flights.push(Flight {
                            toe_off,
                            touchdown: index,
                            timed: flight(start, event, scale)?,
                        });
                    }
                    down.push((index, event));
                }
                EventKind::ToeOff => {
                    let Some(place) = down.iter().position(|(_, on)| on.foot == foot) else {
                        return Err(TimingError::NotDown { index, foot });
                    };
                    let (touchdown, on) = down.remove(place);
                    take.contacts.push(Contact {
                        foot,
                        touchdown,
                        toe_off: index,
                        timed: contact(on, event, scale)?,
                    });
                    if down.is_empty() {
                        airborne_since = Some((index, event));
                    }
                }
            }
        }
        take.standing = down.into_iter().map(|(index, _)| index).collect();
        Ok(take)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clip::Pace;
    use crate::timing::event;
    use EventKind::{ToeOff, Touchdown};
    use Foot::{Both, Left, Right};

    fn read(events: &[(Foot, EventKind, i64)]) -> Result<Take, TimingError> {
        let events = event::events(events);
        Take::read(&events, &Scale::new(Pace::new(1, 1000).unwrap(), 4))
    }

    #[test]
    fn a_hop_a_step_and_a_landing() {
        let take = read(&[
            (Right, Touchdown, 100),
            (Right, ToeOff, 240),
            (Right, Touchdown, 700),
            (Right, ToeOff, 860),
            (Left, Touchdown, 1200),
            (Left, ToeOff, 1380),
            (Both, Touchdown, 2000),
        ])
        .unwrap();
        let ms = |seconds: f64| (seconds * 1000.0).round();
        let contacts: Vec<_> =
            take.contacts.iter().map(|contact| (contact.foot, ms(contact.timed.seconds))).collect();
        assert_eq!(contacts, [(Right, 140.0), (Right, 160.0), (Left, 180.0)]);
        let flights: Vec<_> = take
            .flights
            .iter()
            .map(|flight| (flight.toe_off, flight.touchdown, ms(flight.timed.seconds)))
            .collect();
        assert_eq!(flights, [(1, 2, 460.0), (3, 4, 340.0), (5, 6, 620.0)]);
        assert_eq!(take.standing, [6]);
    }

    #[test]
    fn feet_on_the_ground_together_leave_no_flight_between() {
        let take = read(&[
            (Left, Touchdown, 10),
            (Right, Touchdown, 20),
            (Left, ToeOff, 100),
            (Right, ToeOff, 120),
            (Both, Touchdown, 300),
            (Both, ToeOff, 400),
        ])
        .unwrap();
        assert_eq!(take.contacts.len(), 3);
        assert_eq!(take.flights.len(), 1);
        assert_eq!((take.flights[0].toe_off, take.flights[0].touchdown), (3, 4));
    }

    #[test]
    fn impossible_orders_are_refused_with_the_event() {
        let refused = |events: &[(Foot, EventKind, i64)]| read(events).unwrap_err();
        assert_eq!(refused(&[(Left, ToeOff, 10)]), TimingError::NotDown { index: 0, foot: Left });
        assert_eq!(
            refused(&[(Left, Touchdown, 10), (Right, ToeOff, 40)]),
            TimingError::NotDown { index: 1, foot: Right }
        );
        assert_eq!(
            refused(&[(Left, Touchdown, 10), (Left, Touchdown, 40)]),
            TimingError::AlreadyDown { index: 1, foot: Left }
        );
        assert_eq!(
            refused(&[(Left, Touchdown, 10), (Both, Touchdown, 40)]),
            TimingError::AlreadyDown { index: 1, foot: Both }
        );
        assert_eq!(
            refused(&[(Left, Touchdown, 40), (Left, ToeOff, 10)]),
            TimingError::TakeOrder { index: 1, event: ToeOff }
        );
        assert_eq!(
            refused(&[(Left, Touchdown, 40), (Left, ToeOff, 42)]),
            TimingError::Order { earlier: Touchdown, later: ToeOff }
        );
        assert_eq!(read(&[]), Ok(Take::default()));
    }
}
