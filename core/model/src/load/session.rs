//! Totals of a session by kind of contact and by leg, and session-RPE.
//!
//! Sums are integers (energies are rounded to a millionth of a joule a
//! kilogram, contact by contact), so that any order and grouping of sets gives
//! the same total to the last digit: day totals may be kept up entry by entry
//! and checked against a recomputation.
//!
//! Energies are never added across kinds, and nothing here offers to: running
//! redirects more than it absorbs, so one sum would mislead.

use std::sync::Arc;

use super::contact::{ContactLoad, Feet, Origin, PerMass, repetition};
use super::performed::{Leg, Performed};
use crate::facts::exercise::{FieldError, Kind, Move, within};

/// What one leg did.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ledger {
    /// Contacts this leg was in; a two-leg contact stands in both ledgers.
    pub contacts: u64,
    /// Energy this leg took up, µJ/kg.
    pub energy_uj_per_kg: u64,
}

impl Ledger {
    fn add(&mut self, other: Self) {
        self.contacts = self.contacts.saturating_add(other.contacts);
        self.energy_uj_per_kg = self.energy_uj_per_kg.saturating_add(other.energy_uj_per_kg);
    }

    /// Energy in J/kg, for display.
    #[must_use]
    pub fn energy_j_per_kg(self) -> f64 {
        self.energy_uj_per_kg as f64 / 1e6
    }
}

/// The hardest contact of a kind, by the energy a leg took up.
///
/// The order of fields is the order of comparison, so that of equal contacts
/// the same one is named whatever came first.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hardest {
    /// Energy each leg took up, µJ/kg.
    pub energy_uj_per_kg_per_leg: u64,
    /// Closing speed along the leg, mm/s.
    pub closing_speed_mm_s: u64,
    /// Name of the exercise, shared by all contacts of a set.
    pub exercise: Arc<str>,
    /// What the contact did.
    pub mv: Move,
    /// Place in the repetition, from 0.
    pub place: u16,
    /// Whether an estimate of ours stands behind it.
    pub estimated: bool,
}

/// All contacts of one kind.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct KindTotal {
    /// Contacts, a two-leg contact counted once.
    pub contacts: u64,
    /// Of these, on both legs together.
    pub two_leg_contacts: u64,
    /// Of these, with a timed contact.
    pub timed_contacts: u64,
    /// Of these, resting on an estimate of ours.
    pub estimated_contacts: u64,
    /// Of these, told for body and load together since the athlete's mass is
    /// not known.
    pub system_contacts: u64,
    /// The left leg.
    pub left: Ledger,
    /// The right leg.
    pub right: Ledger,
    /// The hardest of them.
    pub hardest: Option<Hardest>,
}

impl KindTotal {
    /// Energy of both legs, µJ/kg: the sum of the ledgers.
    #[must_use]
    pub fn energy_uj_per_kg(&self) -> u64 {
        let (left, right) = (self.left.energy_uj_per_kg, self.right.energy_uj_per_kg);
        left.saturating_add(right)
    }

    /// Energy of both legs in J/kg, for display.
    #[must_use]
    pub fn energy_j_per_kg(&self) -> f64 {
        self.energy_uj_per_kg() as f64 / 1e6
    }

    fn add(&mut self, other: &Self) {
        self.contacts = self.contacts.saturating_add(other.contacts);
        self.two_leg_contacts = self.two_leg_contacts.saturating_add(other.two_leg_contacts);
        self.timed_contacts = self.timed_contacts.saturating_add(other.timed_contacts);
        self.estimated_contacts = self.estimated_contacts.saturating_add(other.estimated_contacts);
        self.system_contacts = self.system_contacts.saturating_add(other.system_contacts);
        self.left.add(other.left);
        self.right.add(other.right);
        if other.hardest > self.hardest {
            self.hardest.clone_from(&other.hardest);
        }
    }
}

/// What was done, by kind.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Totals {
    /// In the order of kinds; few, so that a list is quicker than a tree.
    kinds: Vec<(Kind, KindTotal)>,
    /// Landings in the pit: no contact of any kind, since sand takes them up.
    pit_landings: u64,
}

impl Totals {
    /// Totals of nothing.
    pub const NOTHING: Self = Self { kinds: Vec::new(), pit_landings: 0 };

    /// Totals of some sets.
    ///
    /// # Errors
    /// [`FieldError`] of the first set that [`Performed::check`] refuses.
    pub fn of(sets: &[Performed<'_>]) -> Result<Self, FieldError> {
        let mut totals = Self::default();
        for set in sets {
            totals.add_set(set)?;
        }
        Ok(totals)
    }

    /// Adds one set; a refused set adds nothing.
    ///
    /// # Errors
    /// [`FieldError`] where [`Performed::check`] refuses the set.
    pub fn add_set(&mut self, set: &Performed<'_>) -> Result<(), FieldError> {
        let name = name_of(set);
        for contact in repetition(set)? {
            self.add_contact(set, &contact, &name);
        }
        Ok(())
    }

    /// Adds one place of the series over all repetitions of its set, and gives its total.
    pub(super) fn add_contact(
        &mut self,
        set: &Performed<'_>,
        contact: &ContactLoad<'_>,
        name: &Arc<str>,
    ) -> KindTotal {
        let total = of_place(set, contact, name);
        self.add_kind(contact.kind, &total);
        if contact.ends_in_pit() {
            self.pit_landings = self.pit_landings.saturating_add(total.contacts);
        }
        total
    }

    /// Landings in the pit, which stand apart from every kind.
    #[must_use]
    pub const fn pit_landings(&self) -> u64 {
        self.pit_landings
    }

    /// Adds the total of a kind.
    fn add_kind(&mut self, kind: Kind, total: &KindTotal) {
        match self.kinds.binary_search_by_key(&kind, |(kind, _)| *kind) {
            Ok(at) => {
                if let Some((_, kept)) = self.kinds.get_mut(at) {
                    kept.add(total);
                }
            }
            Err(at) => self.kinds.insert(at, (kind, total.clone())),
        }
    }

    /// Adds other totals, kind by kind.
    pub fn add(&mut self, other: &Self) {
        self.pit_landings = self.pit_landings.saturating_add(other.pit_landings);
        for (kind, total) in &other.kinds {
            self.add_kind(*kind, total);
        }
    }

    /// The total of a kind; nothing where it did not occur.
    #[must_use]
    pub fn get(&self, kind: Kind) -> Option<&KindTotal> {
        let at = self.kinds.binary_search_by_key(&kind, |(kind, _)| *kind).ok()?;
        self.kinds.get(at).map(|(_, total)| total)
    }

    /// The kinds that occurred, in their order.
    pub fn iter(&self) -> impl Iterator<Item = (Kind, &KindTotal)> {
        self.kinds.iter().map(|(kind, total)| (*kind, total))
    }

    /// Plyometric contacts as handbooks count them: of all kinds but sprint
    /// strides and paused jumps, a two-leg contact once.
    #[must_use]
    pub fn plyometric_contacts(&self) -> u64 {
        self.iter()
            .filter(|(kind, _)| kind.is_plyometric())
            .map(|(_, total)| total.contacts)
            .fold(0, u64::saturating_add)
    }
}

/// The name of a set's exercise, for its contacts to share.
pub(super) fn name_of(set: &Performed<'_>) -> Arc<str> {
    Arc::from(set.exercise.name.as_str())
}

/// One place of the series over all repetitions of its set.
fn of_place(set: &Performed<'_>, contact: &ContactLoad<'_>, name: &Arc<str>) -> KindTotal {
    let energy = parts(contact.landing.energy_j_per_kg_per_leg, 1e6);
    let contacts = u64::from(set.reps);
    let counted = |holds: bool| if holds { contacts } else { 0 };
    let on_two = contact.feet == Feet::Both;
    let ledger = |leg: Leg| {
        let in_contact = if on_two {
            contacts
        } else {
            [Leg::Left, Leg::Right]
                .into_iter()
                .filter(|&first| contact.feet.include(leg, first))
                .map(|first| u64::from(set.leg.beginning_on(first, set.reps)))
                .sum()
        };
        Ledger { contacts: in_contact, energy_uj_per_kg: energy.saturating_mul(in_contact) }
    };
    let estimated = contact.inputs.rests_on_an_estimate();
    KindTotal {
        contacts,
        two_leg_contacts: counted(on_two),
        timed_contacts: counted(contact.inputs.contact_s.origin == Origin::Measured),
        estimated_contacts: counted(estimated),
        system_contacts: counted(contact.per_mass == PerMass::System),
        left: ledger(Leg::Left),
        right: ledger(Leg::Right),
        hardest: Some(Hardest {
            energy_uj_per_kg_per_leg: energy,
            closing_speed_mm_s: parts(contact.landing.closing_speed_m_s, 1e3),
            exercise: Arc::clone(name),
            mv: contact.mv,
            place: contact.place,
            estimated,
        }),
    }
}

/// `value` in whole parts, `per_unit` of them to one, rounded. Inputs are in
/// range, so the value is finite, not negative and far below the largest integer; the cast
/// saturates if ever it were not.
fn parts(value: f64, per_unit: f64) -> u64 {
    (value * per_unit).round() as u64
}

/// Load of a session, in arbitrary units: rating of perceived exertion (0 to
/// 10, here in tenths, asked about half an hour after the end) × minutes, rounded.
///
/// Foster 1998, Med Sci Sports Exerc 30:1164–1168; Foster et al. 2001,
/// J Strength Cond Res 15(1):109–115.
///
/// # Errors
/// [`FieldError`] for a rating above 10 or more than ten hours.
pub fn session_rpe(rpe_tenths: u16, minutes: u16) -> Result<u32, FieldError> {
    within("rpe", u32::from(rpe_tenths), 0..=100, "tenths on the scale of ten")?;
    within("minutes", u32::from(minutes), 0..=600, "minutes")?;
    Ok((u32::from(rpe_tenths) * u32::from(minutes) + 5) / 10)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use proptest::prelude::*;

    use super::*;
    use crate::facts::exercise::{
        After, Direction, Entry, Exercise, Knee, Landing, Legs, Speed, Support, UsualContact,
    };
    use crate::load::catalogue::{self, id};
    use crate::load::performed::{Approach, Athlete, Side, Timed};

    #[test]
    fn a_drop_jump_is_a_rebound_and_a_held_landing() {
        let exercise = catalogue::find(id::DROP_JUMP).expect("there").exercise;
        let set = Performed::usual(&exercise, 5, Side::Both);
        let totals = Totals::of(&[set]).expect("sound");
        let kinds: Vec<_> = totals.iter().map(|(kind, total)| (kind, total.contacts)).collect();
        assert_eq!(kinds, [(Kind::VerticalRebound, 5), (Kind::HeldLanding, 5)]);
        assert_eq!(totals.plyometric_contacts(), 10);
    }

    #[test]
    fn paused_jumps_and_strides_are_no_plyometric_contacts() {
        let paused = catalogue::find(id::PAUSED_SQUAT_JUMP).expect("there").exercise;
        let strides = catalogue::find(id::SPRINT_STRIDES).expect("there").exercise;
        let totals = Totals::of(&[
            Performed::usual(&paused, 6, Side::Both),
            Performed::usual(&strides, 2, Side::Left),
        ])
        .expect("sound");
        assert_eq!(totals.plyometric_contacts(), 0);
        assert_eq!(totals.get(Kind::PausedJump).map(|total| total.contacts), Some(6));
        assert_eq!(totals.get(Kind::Sprint).map(|total| total.contacts), Some(40));
    }

    #[test]
    fn legs_follow_the_series_and_the_repetitions() {
        // Hop and step on the left, jump on the right; then the other way round.
        let triple = catalogue::find(id::TRIPLE_JUMP_SHORT).expect("there").exercise;
        let of = |leg, reps| {
            let totals = Totals::of(&[Performed::usual(&triple, reps, leg)]).expect("sound");
            let total = totals.get(Kind::EventTakeOff).expect("there").clone();
            (total.left.contacts, total.right.contacts)
        };
        assert_eq!(of(Side::Left, 4), (8, 4));
        assert_eq!(of(Side::Right, 4), (4, 8));
        assert_eq!(of(Side::Alternate { first: Leg::Left }, 3), (5, 4));
        // Five bounds begun on the right: right, left, right, left, right.
        let bounds = catalogue::find(id::BOUNDS_STANDING).expect("there").exercise;
        let mut set = Performed::usual(&bounds, 1, Side::Right);
        set.contacts_per_rep = Some(5);
        let totals = Totals::of(&[set]).expect("sound");
        let total = totals.get(Kind::HorizontalSeries).expect("there");
        assert_eq!((total.left.contacts, total.right.contacts), (2, 3));
    }

    #[test]
    fn a_landing_in_the_pit_stands_apart() {
        let long = catalogue::find(id::LONG_JUMP_SHORT).expect("there").exercise;
        let totals = Totals::of(&[Performed::usual(&long, 6, Side::Left)]).expect("sound");
        assert_eq!(totals.get(Kind::EventTakeOff).map(|total| total.contacts), Some(6));
        assert_eq!(totals.get(Kind::HeldLanding), None);
        assert_eq!((totals.plyometric_contacts(), totals.pit_landings()), (6, 6));
    }

    #[test]
    fn a_refused_set_adds_nothing() {
        let pogo = catalogue::find(id::POGO).expect("there").exercise;
        let mut totals = Totals::of(&[Performed::usual(&pogo, 3, Side::Both)]).expect("sound");
        let before = totals.clone();
        assert!(totals.add_set(&Performed::usual(&pogo, 0, Side::Both)).is_err());
        assert_eq!(totals, before);
    }

    #[test]
    fn session_rpe_is_rating_times_minutes() {
        assert_eq!(session_rpe(70, 60), Ok(420));
        assert_eq!(session_rpe(0, 60), Ok(0));
        assert_eq!(session_rpe(101, 60).map_err(|error| error.field), Err("rpe"));
        assert_eq!(session_rpe(50, 601).map_err(|error| error.field), Err("minutes"));
    }

    /// A set whose exercise is owned.
    #[derive(Clone, Debug)]
    struct Done {
        exercise: Exercise,
        reps: u16,
        leg: Side,
        box_mm: Option<u32>,
        approach: Option<Approach>,
        added_load_g: u32,
        timed: Vec<Timed>,
        athlete: Athlete,
    }

    impl Done {
        fn set(&self) -> Performed<'_> {
            Performed {
                exercise: &self.exercise,
                reps: self.reps,
                contacts_per_rep: None,
                leg: self.leg,
                box_mm: self.box_mm,
                approach: self.approach,
                last_10_m_ms: None,
                added_load_g: Some(self.added_load_g),
                cue: None,
                timed: &self.timed,
                athlete: self.athlete,
            }
        }
    }

    fn catalogue_set() -> impl Strategy<Value = Done> {
        let exercise = prop::sample::select(catalogue::all());
        let leg = prop::sample::select(vec![Side::Left, Side::Right, Side::Alternate { first: Leg::Left }]);
        let timed = prop::option::of(100_000_u32..500_000);
        let mass = prop::option::of(30_000_u32..120_000);
        (exercise, leg, 1_u16..12, timed, mass, 0_u32..30_000).prop_map(
            |(item, leg, reps, contact_us, mass_g, added_load_g)| {
                let exercise = item.exercise;
                let on_one = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
                Done {
                    exercise,
                    reps,
                    leg: if on_one { leg } else { Side::Both },
                    box_mm: None,
                    approach: None,
                    added_load_g,
                    timed: vec![Timed { contact_us, ..Timed::default() }],
                    athlete: Athlete { mass_g, ..Athlete::default() },
                }
            },
        )
    }

    prop_compose! {
        fn any_contact()(
            contact_us in 30_000_u32..=3_000_000,
            flight_us in 10_000_u32..=1_500_000,
            angle_ddeg in 300_u32..=1_200,
            legs in prop::sample::select(Legs::ALL),
            speed in prop_oneof![
                (0_u32..=13_000).prop_map(|mm_s| Speed::Fixed { mm_s }),
                (0_u32..=13_000, 0_u32..=13_000).prop_map(|(less_mm_s, cap_mm_s)| {
                    Speed::Approach { less_mm_s, cap_mm_s }
                }),
                (0_u32..=1_000).prop_map(|per_mille| Speed::TopShare { per_mille }),
            ],
        ) -> UsualContact {
            UsualContact {
                mv: Move::Bound,
                contact_us,
                after: After::Flight,
                flight_us,
                speed,
                angle_ddeg,
                legs,
                rise_mm: 0,
                loss_per_mille: None,
            }
        }
    }

    prop_compose! {
        /// Any exercise and set within the ranges; some are still refused for
        /// fields that contradict each other.
        fn any_set()(
            series in prop::collection::vec(any_contact(), 1..6),
            more in 0_u16..40,
            entry in prop_oneof![
                Just(Entry::Standing),
                (10_000_u32..=1_500_000).prop_map(|flight_us| Entry::LevelFlight { flight_us }),
                (50_u32..=1_500).prop_map(|usual_mm| Entry::Box { usual_mm }),
                (10_u32..=500).prop_map(|fall_mm| Entry::OntoBox { fall_mm }),
                (1_u16..=40).prop_map(|usual_strides| Entry::RunIn { usual_strides }),
            ],
            loss_per_mille in 0_u16..=500,
            ending in prop::sample::select(After::ALL),
            reps in 1_u16..=1_000,
            approach in prop::option::of(prop_oneof![
                Just(Approach::Standing),
                (1_u16..=40).prop_map(Approach::Strides),
                (500_u32..=60_000).prop_map(Approach::Millimetres),
                (500_u32..=13_000).prop_map(Approach::TimedSpeed),
            ]),
            athlete in (
                prop::option::of(15_000_u32..=250_000),
                prop::option::of(500_u32..=13_000),
                prop::option::of(300_u32..=3_000),
            ),
            added_load_g in 0_u32..=200_000,
        ) -> Done {
            let mut series = series;
            let run_in = matches!(entry, Entry::RunIn { .. });
            for contact in &mut series {
                if !run_in && matches!(contact.speed, Speed::Approach { .. }) {
                    contact.speed = Speed::Fixed { mm_s: 4_000 };
                }
            }
            let last = series.len() - 1;
            series[last].after = ending;
            if ending == After::Stand {
                series[last].flight_us = 0;
            }
            let more = if ending == After::Flight { more } else { 0 };
            let contacts_per_rep = u16::try_from(series.len()).expect("short") + more;
            let on_one = series.iter().any(|contact| contact.legs != Legs::Two);
            let (mass_g, top_speed_mm_s, tau_ms) = athlete;
            Done {
                exercise: Exercise {
                    name: "Any".to_owned(),
                    about: "Any exercise.".to_owned(),
                    kind: Kind::HorizontalSeries,
                    direction: Direction::Forward,
                    legs: Legs::One,
                    knee: Knee::Bent,
                    landing: Landing::Rebound,
                    entry,
                    box_run_in: None,
                    onto_mm: None,
                    over_mm: None,
                    load: None,
                    cue: None,
                    surface: None,
                    series,
                    contacts_per_rep,
                    loss_per_mille,
                    support: Support::Estimate,
                    source: "made up for a test".to_owned(),
                },
                reps,
                leg: if on_one { Side::Right } else { Side::Both },
                box_mm: None,
                approach: approach.filter(|approach| run_in || *approach == Approach::Standing),
                added_load_g,
                timed: vec![],
                athlete: Athlete { mass_g, top_speed_mm_s, tau_ms, ..Athlete::default() },
            }
        }
    }

    proptest! {
        #[test]
        fn totals_are_the_sum_over_contacts_in_any_grouping(
            done in prop::collection::vec(catalogue_set(), 1..8),
            cut in 0_usize..8,
            turn in 0_usize..8,
        ) {
            let sets: Vec<_> = done.iter().map(Done::set).collect();
            let whole = Totals::of(&sets).expect("sound");

            // Any two groups, in any rotation.
            let cut = cut.min(sets.len());
            let mut grouped = Totals::of(&sets[cut..]).expect("sound");
            grouped.add(&Totals::of(&sets[..cut]).expect("sound"));
            prop_assert_eq!(&grouped, &whole);
            let mut turned = sets.clone();
            turned.rotate_left(turn % sets.len());
            prop_assert_eq!(&Totals::of(&turned).expect("sound"), &whole);

            // Contact by contact, repetition by repetition, foot by foot.
            let mut by_foot: BTreeMap<(Kind, Leg), (u64, u64)> = BTreeMap::new();
            let mut contacts: BTreeMap<Kind, u64> = BTreeMap::new();
            for set in &sets {
                for rep in 0..set.reps {
                    let first = match set.leg {
                        Side::Right => Leg::Right,
                        Side::Alternate { first } if rep % 2 == 1 => first.other(),
                        Side::Alternate { first } => first,
                        Side::Left | Side::Both => Leg::Left,
                    };
                    for contact in repetition(set).expect("sound") {
                        *contacts.entry(contact.kind).or_default() += 1;
                        let energy = contact.landing.energy_j_per_kg_per_leg * 1e6;
                        for leg in [Leg::Left, Leg::Right] {
                            if contact.feet.include(leg, first) {
                                let foot = by_foot.entry((contact.kind, leg)).or_default();
                                foot.0 += 1;
                                foot.1 += energy.round() as u64;
                            }
                        }
                    }
                }
            }
            for (kind, total) in whole.iter() {
                let foot = |leg| by_foot.get(&(kind, leg)).copied().unwrap_or_default();
                let ledger = |ledger: Ledger| (ledger.contacts, ledger.energy_uj_per_kg);
                prop_assert_eq!(Some(&total.contacts), contacts.get(&kind));
                prop_assert_eq!(ledger(total.left), foot(Leg::Left));
                prop_assert_eq!(ledger(total.right), foot(Leg::Right));
                prop_assert_eq!(
                    total.energy_uj_per_kg(),
                    foot(Leg::Left).1 + foot(Leg::Right).1
                );
                prop_assert_eq!(
                    total.left.contacts + total.right.contacts,
                    total.contacts + total.two_leg_contacts
                );
            }
        }

        #[test]
        fn no_number_is_negative_or_undefined(done in any_set()) {
            let set = done.set();
            for contact in repetition(&set).expect("in range") {
                let landing = contact.landing;
                prop_assert!(landing.closing_speed_m_s.is_finite());
                prop_assert!(landing.closing_speed_m_s >= 0.0);
                prop_assert!(landing.energy_j_per_kg_per_leg.is_finite());
                prop_assert!(landing.energy_j_per_kg_per_leg >= 0.0);
                if let Some(push) = contact.push {
                    // At least half the body's weight, on each of two legs.
                    prop_assert!(push.mean_force_bw_per_leg.is_finite());
                    prop_assert!(push.mean_force_bw_per_leg >= 0.5);
                    prop_assert!(push.peak_bw_estimate.is_finite());
                }
            }
            let totals = Totals::of(&[set]).expect("in range");
            let total = totals.get(Kind::HorizontalSeries).expect("contacts");
            prop_assert_eq!(
                total.contacts,
                u64::from(done.reps) * u64::from(done.exercise.contacts_per_rep)
            );
        }
    }
}
