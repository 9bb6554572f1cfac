//! A set as it was done, and the athlete who did it.

use std::ops::RangeInclusive;

use super::constants::{Assumed, TAU_MS, TOP_SPEED_MM_S};
use crate::facts::Cue;
use crate::facts::exercise::{
    After, BOX_MM, CONTACT_US, CONTACTS_PER_REP, Entry, Exercise, FLIGHT_US, FieldError, Legs, RUN_IN_MM,
    STRIDES, within,
};
use crate::timing;

/// Repetitions of a set.
pub const REPS: RangeInclusive<u32> = 1..=1_000;
/// A timed speed, or a top speed, mm/s.
pub const RUN_SPEED_MM_S: RangeInclusive<u32> = 500..=13_000;
/// A time constant of acceleration, ms.
pub const TAU_RANGE_MS: RangeInclusive<u32> = 300..=3_000;
/// A time over the last ten metres of a run-in, ms.
pub const LAST_10_M_MS: RangeInclusive<u32> = 700..=6_000;
/// The length of a stride, mm.
pub const STRIDE_MM: RangeInclusive<u32> = 300..=3_500;
/// An athlete's mass, g.
pub const MASS_G: RangeInclusive<u32> = 15_000..=250_000;
/// An outside load, g.
pub const ADDED_LOAD_G: RangeInclusive<u32> = 0..=200_000;

/// One leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Leg {
    /// The left one.
    Left,
    /// The right one.
    Right,
}

impl Leg {
    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// The leg on which the repetitions of a set begin.
///
/// Which leg the later contacts use is the exercise's business: an
/// alternating series begun on the left goes left, right, left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// Every repetition begins on the left.
    Left,
    /// Every repetition begins on the right.
    Right,
    /// Both legs together, in every contact.
    Both,
    /// The repetitions take turns.
    Alternate {
        /// The leg of the first repetition.
        first: Leg,
    },
}

impl Side {
    /// Of `reps` repetitions, how many begin on `leg`; none where both legs
    /// are used together.
    pub(super) fn beginning_on(self, leg: Leg, reps: u16) -> u16 {
        match (self, leg) {
            (Self::Left, Leg::Left) | (Self::Right, Leg::Right) => reps,
            (Self::Alternate { first }, _) if first == leg => reps.div_ceil(2),
            (Self::Alternate { .. }, _) => reps / 2,
            _ => 0,
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Both => "both",
            Self::Alternate { .. } => "alternate",
        }
    }
}

/// The run-in of a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Approach {
    /// None: out of a stand.
    Standing,
    /// So many strides from a stand.
    Strides(u16),
    /// So many millimetres from a stand.
    Millimetres(u32),
    /// The speed at its end was timed, mm/s: it replaces the estimate.
    TimedSpeed(u32),
}

/// Timed means of one place in the series, each left out where not timed, with their standard uncertainties
/// where known.
///
/// `timed[i]` of a [`Performed`] belongs to `series[i]` of its exercise; the
/// last one repeats as the last contact does.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Timed {
    /// The flight that ends at this contact, µs.
    pub before_us: Option<u32>,
    /// The contact, µs.
    pub contact_us: Option<u32>,
    /// The flight after it, µs.
    pub flight_us: Option<u32>,
    /// Standard uncertainty of `before_us`, µs.
    pub before_u_us: Option<u32>,
    /// Standard uncertainty of `contact_us`, µs.
    pub contact_u_us: Option<u32>,
    /// Standard uncertainty of `flight_us`, µs.
    pub flight_u_us: Option<u32>,
    /// Standard uncertainty of the reading of the toe-off that contact and flight share, µs: what makes one
    /// longer makes the other shorter.
    pub toe_off_u_us: Option<u32>,
}

impl Timed {
    /// What was timed of one place, with its uncertainties.
    #[must_use]
    pub fn measured(
        before: Option<timing::Timed>,
        contact: Option<timing::Timed>,
        flight: Option<timing::Timed>,
    ) -> Self {
        let us = |seconds: f64| (seconds * 1e6).round() as u32;
        let value = |timed: Option<timing::Timed>| timed.map(|timed| us(timed.seconds));
        let uncertainty = |timed: Option<timing::Timed>| timed.map(|timed| us(timed.total_u()));
        Self {
            before_us: value(before),
            contact_us: value(contact),
            flight_us: value(flight),
            before_u_us: uncertainty(before),
            contact_u_us: uncertainty(contact),
            flight_u_us: uncertainty(flight),
            // Half of the variance of frames and judging is the toe-off's, where brackets are alike.
            toe_off_u_us: contact.map(|timed| us(timed.frame_u.hypot(timed.judging_u) / 2_f64.sqrt())),
        }
    }
}

/// What is known of an athlete, for the sums of one day.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Athlete {
    /// Mass, g.
    pub mass_g: Option<u32>,
    /// Top sprinting speed, mm/s; [`TOP_SPEED_MM_S`] where not stated.
    pub top_speed_mm_s: Option<u32>,
    /// Time constant of acceleration, ms; [`TAU_MS`] where not stated.
    pub tau_ms: Option<u32>,
    /// Standard uncertainty of the top speed, mm/s.
    pub top_speed_u_mm_s: Option<u32>,
    /// Standard uncertainty of the time constant, ms.
    pub tau_u_ms: Option<u32>,
    /// Length of a stride in the run-in, mm, on the average; it turns strides into metres.
    pub stride_mm: Option<u32>,
}

impl Athlete {
    /// Top speed in mm/s, with the default where it had to stand in.
    #[must_use]
    pub fn top_speed(self) -> (u32, Option<Assumed>) {
        stated_or(self.top_speed_mm_s, TOP_SPEED_MM_S)
    }

    pub(super) fn top_speed_u_m_s(self) -> Option<f64> {
        self.top_speed_u_mm_s.map(|u| f64::from(u) / 1e3)
    }

    pub(super) fn tau_u_s(self) -> Option<f64> {
        self.tau_u_ms.map(|u| f64::from(u) / 1e3)
    }

    /// Time constant in ms, with the default where it had to stand in.
    #[must_use]
    pub fn tau(self) -> (u32, Option<Assumed>) {
        stated_or(self.tau_ms, TAU_MS)
    }
}

fn stated_or(stated: Option<u32>, assumed: Assumed) -> (u32, Option<Assumed>) {
    stated.map_or((assumed.value, Some(assumed)), |value| (value, None))
}

/// A set of one exercise, as it was done.
#[derive(Clone, Copy, Debug)]
pub struct Performed<'a> {
    /// What was done.
    pub exercise: &'a Exercise,
    /// How often.
    pub reps: u16,
    /// Contacts of each repetition, where not as the exercise says.
    pub contacts_per_rep: Option<u16>,
    /// The leg on which repetitions began.
    pub leg: Side,
    /// Height of the box, mm.
    pub box_mm: Option<u32>,
    /// The run-in, where not as the exercise says.
    pub approach: Option<Approach>,
    /// Time over the last ten metres of the run-in, ms: their mean speed replaces the estimate.
    pub last_10_m_ms: Option<u32>,
    /// Vest, bar or bag, g; the exercise's own load where the set says none.
    pub added_load_g: Option<u32>,
    /// What the athlete was told to make of a drop jump.
    pub cue: Option<Cue>,
    /// Timed means by place in the series.
    pub timed: &'a [Timed],
    /// Who did it.
    pub athlete: Athlete,
}

impl<'a> Performed<'a> {
    /// `reps` repetitions as the exercise usually is: nothing timed, stated or
    /// added.
    #[must_use]
    pub fn usual(exercise: &'a Exercise, reps: u16, leg: Side) -> Self {
        Self {
            exercise,
            reps,
            contacts_per_rep: None,
            leg,
            box_mm: None,
            approach: None,
            last_10_m_ms: None,
            added_load_g: None,
            cue: None,
            timed: &[],
            athlete: Athlete::default(),
        }
    }

    /// Contacts of each repetition.
    #[must_use]
    pub fn contacts(&self) -> u16 {
        self.contacts_per_rep.unwrap_or(self.exercise.contacts_per_rep)
    }

    /// Refuses what cannot have been done.
    ///
    /// # Errors
    /// The first [`FieldError`] found, of the exercise or of the set: a value
    /// out of its range, or one that its exercise has no room for.
    pub fn check(&self) -> Result<(), FieldError> {
        self.exercise.check()?;
        within("reps", u32::from(self.reps), REPS, "repetitions")?;
        within("added_load_g", self.added_load_g.unwrap_or(0), ADDED_LOAD_G, "g")?;
        self.athlete.check()?;
        self.check_contacts()?;
        self.check_leg()?;
        self.check_box()?;
        self.check_approach()?;
        self.check_timed()
    }

    fn check_contacts(&self) -> Result<(), FieldError> {
        let Some(contacts) = self.contacts_per_rep else {
            return Ok(());
        };
        let contacts = u32::from(contacts);
        within("contacts_per_rep", contacts, CONTACTS_PER_REP, "contacts")?;
        let series = &self.exercise.series;
        let ends = series.last().is_some_and(|last| last.after != After::Flight);
        if ends && contacts != u32::from(self.exercise.contacts_per_rep) {
            let range = format!("{}, for this exercise ends there", series.len());
            return Err(FieldError::new("contacts_per_rep", contacts, range));
        }
        Ok(())
    }

    fn check_leg(&self) -> Result<(), FieldError> {
        let mut legs = self.exercise.series.iter().map(|contact| contact.legs);
        let on_one = legs.any(|legs| legs != Legs::Two);
        match (on_one, self.leg) {
            (true, Side::Both) => Err(FieldError::new(
                "leg",
                self.leg.name(),
                "left, right or alternate, in an exercise on one leg",
            )),
            (false, Side::Left | Side::Right | Side::Alternate { .. }) => {
                Err(FieldError::new("leg", self.leg.name(), "both, in an exercise on two legs"))
            }
            _ => Ok(()),
        }
    }

    fn check_box(&self) -> Result<(), FieldError> {
        let Some(height) = self.box_mm else {
            return Ok(());
        };
        if !self.exercise.has_box() {
            let range = "left out, in an exercise without a box";
            return Err(FieldError::new("box_mm", height, range));
        }
        within("box_mm", height, BOX_MM, "mm")
    }

    fn check_approach(&self) -> Result<(), FieldError> {
        if let Some(ms) = self.last_10_m_ms {
            within("last_10_m_ms", ms, LAST_10_M_MS, "ms over ten metres")?;
            if self.exercise.run_in().is_none() {
                return Err(FieldError::new("last_10_m_ms", ms, "left out, in an exercise without a run-in"));
            }
        }
        match self.approach {
            None | Some(Approach::Standing) => return Ok(()),
            Some(Approach::Strides(strides)) => {
                within("approach", u32::from(strides), STRIDES, "strides")?;
            }
            Some(Approach::Millimetres(length)) => within("approach", length, RUN_IN_MM, "mm")?,
            Some(Approach::TimedSpeed(speed)) => {
                within("approach", speed, RUN_SPEED_MM_S, "mm/s")?;
            }
        }
        if self.exercise.run_in().is_some() {
            return Ok(());
        }
        let entry = self.exercise.entry.as_str();
        Err(FieldError::new(
            "approach",
            format!("a run-in to an exercise entered by {entry}"),
            "standing or left out",
        ))
    }

    fn check_timed(&self) -> Result<(), FieldError> {
        let series = &self.exercise.series;
        if self.timed.len() > series.len() {
            let range = format!("0 to {} places, as in the series", series.len());
            return Err(FieldError::new("timed", self.timed.len(), range));
        }
        for (place, (timed, usual)) in self.timed.iter().zip(series).enumerate() {
            if let Some(contact) = timed.contact_us {
                within("timed.contact_us", contact, CONTACT_US, "µs")?;
            }
            if let Some(flight) = timed.flight_us {
                if usual.after == After::Stand {
                    let range = "left out, where no flight follows";
                    return Err(FieldError::new("timed.flight_us", flight, range));
                }
                within("timed.flight_us", flight, FLIGHT_US, "µs")?;
            }
            if let Some(before) = timed.before_us {
                let out_of_flight = place > 0
                    || matches!(self.exercise.entry, Entry::LevelFlight { .. })
                    || self.exercise.entry.run_in().is_some();
                if !out_of_flight {
                    let range = "left out, after a stand or a box";
                    return Err(FieldError::new("timed.before_us", before, range));
                }
                within("timed.before_us", before, FLIGHT_US, "µs")?;
            }
        }
        Ok(())
    }
}

impl Athlete {
    fn check(self) -> Result<(), FieldError> {
        if let Some(mass) = self.mass_g {
            within("mass_g", mass, MASS_G, "g")?;
        }
        if let Some(speed) = self.top_speed_mm_s {
            within("top_speed_mm_s", speed, RUN_SPEED_MM_S, "mm/s")?;
        }
        if let Some(tau) = self.tau_ms {
            within("tau_ms", tau, TAU_RANGE_MS, "ms")?;
        }
        if let Some(u) = self.top_speed_u_mm_s {
            within("top_speed_u_mm_s", u, 0..=*RUN_SPEED_MM_S.end(), "mm/s")?;
        }
        if let Some(u) = self.tau_u_ms {
            within("tau_u_ms", u, 0..=*TAU_RANGE_MS.end(), "ms")?;
        }
        if let Some(stride) = self.stride_mm {
            within("stride_mm", stride, STRIDE_MM, "mm")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::catalogue::{self, id};
    use uuid::Uuid;

    const NOT_TIMED: Timed = Timed {
        before_us: None,
        contact_us: None,
        flight_us: None,
        before_u_us: None,
        contact_u_us: None,
        flight_u_us: None,
        toe_off_u_us: None,
    };

    fn refused(exercise: Uuid, leg: Side, change: impl FnOnce(&mut Performed<'_>)) -> &'static str {
        let exercise = catalogue::find(exercise).expect("in the catalogue").exercise;
        let mut set = Performed::usual(&exercise, 5, leg);
        assert_eq!(set.check(), Ok(()));
        change(&mut set);
        set.check().expect_err("refused").field
    }

    #[test]
    fn alternating_repetitions_share_an_odd_one_to_the_first_leg() {
        let side = Side::Alternate { first: Leg::Right };
        assert_eq!(side.beginning_on(Leg::Right, 5), 3);
        assert_eq!(side.beginning_on(Leg::Left, 5), 2);
        assert_eq!(Side::Left.beginning_on(Leg::Right, 5), 0);
        assert_eq!(Side::Both.beginning_on(Leg::Left, 5), 0);
    }

    #[test]
    fn ranges_are_refused_by_name() {
        assert_eq!(refused(id::POGO, Side::Both, |s| s.reps = 0), "reps");
        assert_eq!(refused(id::POGO, Side::Both, |s| s.added_load_g = Some(300_000)), "added_load_g");
        assert_eq!(refused(id::POGO, Side::Both, |s| s.athlete.mass_g = Some(1)), "mass_g");
        assert_eq!(refused(id::POGO, Side::Both, |s| s.athlete.tau_ms = Some(0)), "tau_ms");
        assert_eq!(refused(id::DROP_JUMP, Side::Both, |s| s.box_mm = Some(2_000)), "box_mm");
        assert_eq!(
            refused(id::LONG_JUMP_SHORT, Side::Left, |s| s.approach = Some(Approach::Strides(41))),
            "approach"
        );
    }

    #[test]
    fn what_the_exercise_has_no_room_for_is_refused() {
        assert_eq!(refused(id::POGO, Side::Both, |s| s.leg = Side::Left), "leg");
        assert_eq!(refused(id::SKATER_HOP, Side::Left, |s| s.leg = Side::Both), "leg");
        assert_eq!(refused(id::POGO, Side::Both, |s| s.box_mm = Some(300)), "box_mm");
        assert_eq!(refused(id::POGO, Side::Both, |s| s.approach = Some(Approach::Strides(6))), "approach");
        assert_eq!(refused(id::DROP_JUMP, Side::Both, |s| s.contacts_per_rep = Some(3)), "contacts_per_rep");
        assert_eq!(refused(id::POGO, Side::Both, |s| s.timed = &[NOT_TIMED; 2]), "timed");
        assert_eq!(
            refused(id::DROP_JUMP, Side::Both, |s| {
                s.timed = &[Timed { before_us: Some(200_000), ..NOT_TIMED }];
            }),
            "timed.before_us"
        );
        assert_eq!(
            refused(id::DROP_LANDING, Side::Both, |s| {
                s.timed = &[Timed { flight_us: Some(200_000), ..NOT_TIMED }];
            }),
            "timed.flight_us"
        );
    }
}
