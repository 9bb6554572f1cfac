//! What to say before intense work, and beside numbers that leave something out.
//!
//! A caution says what makes an exercise intense; its words are the screens'. It
//! is read off the description, so that an exercise a squad adds has it too.
//! Surface, shoes and weather are no factors of any number: they are cautions.

use super::performed::Performed;
use crate::facts::Surface;
use crate::facts::exercise::{Entry, Exercise, Kind, Knee, Legs, UsualLoad};

/// Why an exercise is intense.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Caution {
    /// A fall from a box.
    FallFromBox,
    /// A take-off of an event.
    EventTakeOff,
    /// One leg takes up the speed of a run-in.
    OneLegRunIn,
}

impl Caution {
    /// The caution of an exercise, where it has one.
    #[must_use]
    pub fn of(exercise: &Exercise) -> Option<Self> {
        let one_leg = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
        match (exercise.kind, exercise.entry) {
            (_, Entry::Box { .. }) => Some(Self::FallFromBox),
            (Kind::EventTakeOff, _) => Some(Self::EventTakeOff),
            (Kind::HorizontalSeries | Kind::Lateral, _) if one_leg && exercise.run_in().is_some() => {
                Some(Self::OneLegRunIn)
            }
            _ => None,
        }
    }
}

/// What the numbers of a set or an exercise leave out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LeftOut {
    /// Added load lengthens contacts, by a fifth to a half in countermovement jumps with 25 to 100 % of body mass
    /// (Lake et al. 2021, J Strength Cond Res 35(1):25–32); the usual times are of the exercise without it.
    LoadLengthensContacts,
    /// The load is told in grams and the athlete's mass is not known, so that numbers are told for body and load
    /// together.
    MassUnknown,
    /// Hard ground: the impact is harder than on the track, and no number shows it.
    HardGround,
    /// Sand, grass or mat: contacts grow longer than the usual times.
    SoftGround,
    /// The knee is nearly straight: the ankle's tendon works harder than on a bent knee, and no number shows it.
    StiffKnee,
}

impl LeftOut {
    /// What the numbers of an exercise leave out, on its usual surface.
    #[must_use]
    pub fn of(exercise: &Exercise) -> Vec<Self> {
        let ground = exercise.surface.and_then(Self::ground);
        let rebounds = exercise.kind.is_plyometric() && exercise.kind != Kind::HeldLanding;
        let knee = exercise.knee == Knee::Stiff && rebounds;
        ground.into_iter().chain(knee.then_some(Self::StiffKnee)).collect()
    }

    /// What the numbers of a set leave out, done on `surface` where that is known.
    #[must_use]
    pub fn of_set(set: &Performed<'_>, surface: Option<Surface>) -> Vec<Self> {
        let ground = surface.or(set.exercise.surface).and_then(Self::ground);
        let usual_g = match set.exercise.load {
            Some(UsualLoad::Grams(grams)) => Some(grams),
            _ => None,
        };
        let own_load = set.added_load_g.is_some_and(|grams| grams > 0 && Some(grams) != usual_g);
        let untimed = set.timed.iter().all(|timed| timed.contact_us.is_none());
        let in_grams = set.added_load_g.or(usual_g).is_some_and(|grams| grams > 0);
        ground
            .into_iter()
            .chain((own_load && untimed).then_some(Self::LoadLengthensContacts))
            .chain((in_grams && set.athlete.mass_g.is_none()).then_some(Self::MassUnknown))
            .collect()
    }

    const fn ground(surface: Surface) -> Option<Self> {
        match surface {
            Surface::Hard => Some(Self::HardGround),
            Surface::Sand | Surface::Grass | Surface::Mat => Some(Self::SoftGround),
            Surface::Track | Surface::Hall => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::catalogue::{self, id};
    use crate::load::performed::{Athlete, Side, Timed};

    #[test]
    fn an_added_load_is_a_caution_only_while_the_contact_is_not_timed() {
        let pogo = catalogue::find(id::POGO).expect("there").exercise;
        let mut set = Performed::usual(&pogo, 1, Side::Both);
        assert_eq!(LeftOut::of_set(&set, None), []);
        set.added_load_g = Some(7_000);
        assert_eq!(LeftOut::of_set(&set, None), [LeftOut::LoadLengthensContacts, LeftOut::MassUnknown]);
        set.athlete = Athlete { mass_g: Some(70_000), ..Athlete::default() };
        assert_eq!(LeftOut::of_set(&set, None), [LeftOut::LoadLengthensContacts]);
        let timed = [Timed { contact_us: Some(210_000), ..Timed::default() }];
        set.timed = &timed;
        assert_eq!(LeftOut::of_set(&set, None), []);
    }

    #[test]
    fn an_exercise_with_a_load_of_its_own_has_its_own_times() {
        let pogo = catalogue::find(id::POGO_LOADED).expect("there").exercise;
        assert_eq!(LeftOut::of_set(&Performed::usual(&pogo, 1, Side::Both), None), []);
    }

    #[test]
    fn the_ground_is_said_and_changes_no_number() {
        let pogo = catalogue::find(id::POGO).expect("there").exercise;
        let set = Performed::usual(&pogo, 1, Side::Both);
        assert_eq!(LeftOut::of_set(&set, Some(Surface::Hard)), [LeftOut::HardGround]);
        assert_eq!(LeftOut::of_set(&set, Some(Surface::Sand)), [LeftOut::SoftGround]);
        assert_eq!(LeftOut::of_set(&set, Some(Surface::Track)), []);
        assert_eq!(LeftOut::of(&pogo), [LeftOut::StiffKnee]);
    }
}
