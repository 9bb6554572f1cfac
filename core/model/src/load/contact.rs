//! Landing and push of each contact of a repetition.
//!
//! ```text
//! landing   v = v_down·sin α + v_h·cos α,  e = v²/(2·legs)   of every contact
//! push      F̄ = 1 + (v_down + v_up)/(g·tc), over the legs    where a flight follows
//! ```
//! α is the leg's angle to the ground. v_down comes from the flight before
//! (or the box), v_up from the flight after, v_h from the exercise or the
//! run-in. Each input says where it came from.

use super::approach::Acceleration;
use super::ballistics::{fall_speed, flight_height, level_speed};
use super::constants::{Assumed, RUN_IN_FLIGHT_US};
use super::force::{
    flight_contact_ratio, mean_force_bw, peak_from_mean, reactive_strength, system_to_body_weights,
};
use super::performed::{Approach, Leg, Performed, Timed};
use crate::facts::exercise::{After, Entry, FieldError, Kind, Legs, Move, Speed, Support, UsualContact};

/// Where an input came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin<'a> {
    /// Timed.
    Measured,
    /// Said by a person: a box, a stand.
    Stated,
    /// A default stood in.
    Default {
        /// What stands behind it.
        support: Support,
        /// Where it comes from.
        source: &'a str,
    },
}

impl From<Assumed> for Origin<'_> {
    fn from(assumed: Assumed) -> Self {
        Self::Default { support: assumed.support, source: assumed.source }
    }
}

/// The angle of a leg upright on the ground.
const UPRIGHT_DDEG: u32 = 900;

const ANGLE_OF_OURS: Origin<'static> = Origin::Default {
    support: Support::Estimate,
    source: "the leg's angle at touchdown, an estimate of ours",
};

const SPEED_LOST: Origin<'static> = Origin::Default {
    support: Support::Estimate,
    source: "the speed of the run-in less what the contacts cost, an estimate of ours",
};

const SPEED_CAPPED: Origin<'static> = Origin::Default {
    support: Support::Estimate,
    source: "the speed above which the exercise is not done, an estimate of ours",
};

/// A value and where it came from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Input<'a> {
    /// In the unit of the field.
    pub value: f64,
    /// Where it came from.
    pub origin: Origin<'a>,
}

/// What comes before a contact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Before<'a> {
    /// A stand: no fall.
    Stand,
    /// A fall, m.
    Fall(Input<'a>),
    /// A level flight, s.
    Flight(Input<'a>),
}

/// What a contact was computed from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inputs<'a> {
    /// What came before.
    pub before: Before<'a>,
    /// Contact time, s.
    pub contact_s: Input<'a>,
    /// Flight after it, s; nothing where none follows.
    pub flight_s: Option<Input<'a>>,
    /// Speed along the way of travel at touchdown, m/s.
    pub speed_m_s: Input<'a>,
    /// Angle of the leg to the ground at touchdown, degrees.
    pub angle_deg: Input<'a>,
}

impl<'a> Inputs<'a> {
    /// Whether any input is an estimate of ours.
    #[must_use]
    pub fn rests_on_an_estimate(&self) -> bool {
        let before = match self.before {
            Before::Stand => None,
            Before::Fall(input) | Before::Flight(input) => Some(input),
        };
        [before, self.flight_s]
            .into_iter()
            .flatten()
            .chain([self.contact_s, self.speed_m_s, self.angle_deg])
            .any(|input: Input<'a>| {
                matches!(input.origin, Origin::Default { support: Support::Estimate, .. })
            })
    }
}

/// The mass that forces and energies are told for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PerMass {
    /// The athlete's body.
    Body,
    /// The body and its outside load together, where the athlete's mass is
    /// not known.
    System,
}

/// What a contact must take up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Landing {
    /// Closing speed along the leg at touchdown, m/s.
    pub closing_speed_m_s: f64,
    /// Energy each leg in the contact must take up, J/kg.
    pub energy_j_per_kg_per_leg: f64,
}

impl Landing {
    /// The landing of `legs` legs (1 or 2) at an angle of `angle_deg` to the
    /// ground: v = v_down·sin α + v_h·cos α, e = v²/(2·legs). A leg that moves
    /// away from the ground faster than the body falls takes up nothing.
    #[must_use]
    pub fn of(down_m_s: f64, forward_m_s: f64, angle_deg: f64, legs: Legs) -> Self {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        let closing_speed_m_s = (down_m_s * sin + forward_m_s * cos).max(0.0);
        let energy_j_per_kg_per_leg = closing_speed_m_s * closing_speed_m_s / (2.0 * f64::from(legs.count()));
        Self { closing_speed_m_s, energy_j_per_kg_per_leg }
    }

    /// What to say wherever a landing is shown.
    #[must_use]
    pub const fn source() -> &'static str {
        "a model of ours: the speed at which the body closes on the ground along the leg, and the \
         energy each leg must take up; it ranks contacts of one kind and is not a force"
    }
}

/// How hard a contact pushes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// Mean vertical force over the contact on each leg in it, BW.
    pub mean_force_bw_per_leg: f64,
    /// Peak of a half sine with the mean force, of the whole body, BW: an
    /// estimate without the impact spike.
    pub peak_bw_estimate: f64,
}

impl Push {
    /// What to say wherever a push is shown.
    #[must_use]
    pub const fn source() -> &'static str {
        "mean force from contact and flight times by momentum balance (Weyand et al. 2000, J Appl \
         Physiol 89:1991–1999); the peak is that of a half sine and leaves out the impact, which \
         can be several times as high"
    }
}

/// The leg of a contact, told from the leg on which the repetition began.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feet {
    /// The leg of the first contact.
    First,
    /// The other one.
    Other,
    /// Both together.
    Both,
}

impl Feet {
    /// Whether `leg` is in the contact of a repetition begun on `first`.
    #[must_use]
    pub fn include(self, leg: Leg, first: Leg) -> bool {
        match self {
            Self::First => leg == first,
            Self::Other => leg != first,
            Self::Both => true,
        }
    }
}

/// One contact, computed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ContactLoad<'a> {
    /// Place in the repetition, from 0.
    pub place: u16,
    /// What it does.
    pub mv: Move,
    /// Its kind: that of the exercise, or [`Kind::HeldLanding`] for the
    /// landing that ends a rebound.
    pub kind: Kind,
    /// Its leg.
    pub feet: Feet,
    /// The mass that force and energy are told for.
    pub per_mass: PerMass,
    /// What it must take up.
    pub landing: Landing,
    /// How hard it pushes; nothing where no level flight follows, or where a
    /// stop divides the contact.
    pub push: Option<Push>,
    /// What it was computed from.
    pub inputs: Inputs<'a>,
    after: After,
}

impl ContactLoad<'_> {
    /// Whether it ends in a flight into the pit.
    #[must_use]
    pub fn ends_in_pit(&self) -> bool {
        self.after == After::Pit
    }

    /// Height of the flight after it, m; nothing into the pit or into a stand.
    #[must_use]
    pub fn height_m(&self) -> Option<f64> {
        self.level_flight().map(flight_height)
    }

    /// Reactive strength index of a vertical rebound, m/s; to be shown with
    /// height and contact time beside it.
    #[must_use]
    pub fn reactive_strength(&self) -> Option<f64> {
        if self.kind != Kind::VerticalRebound {
            return None;
        }
        let contact = self.inputs.contact_s.value;
        self.level_flight().map(|flight| reactive_strength(flight, contact))
    }

    /// Flight over contact time, where a level flight follows.
    #[must_use]
    pub fn flight_contact_ratio(&self) -> Option<f64> {
        let contact = self.inputs.contact_s.value;
        self.level_flight().map(|flight| flight_contact_ratio(flight, contact))
    }

    fn level_flight(&self) -> Option<f64> {
        let flight = self.inputs.flight_s.map(|input| input.value);
        flight.filter(|_| self.after == After::Flight)
    }
}

/// The contacts of one repetition of a set, in order.
///
/// At most [`CONTACTS_PER_REP`](crate::facts::exercise::CONTACTS_PER_REP) of
/// them; every number in the result is finite, no energy is below zero.
///
/// # Errors
/// [`FieldError`] where [`Performed::check`] refuses the set.
pub fn repetition<'a>(set: &Performed<'a>) -> Result<Vec<ContactLoad<'a>>, FieldError> {
    set.check()?;
    let mut feet = Feet::First;
    let mut contacts = Vec::with_capacity(usize::from(set.contacts()));
    for place in 0..set.contacts() {
        let Some(usual) = set.usual_at(place) else {
            break;
        };
        feet = match (usual.legs, feet) {
            (Legs::Two, _) => Feet::Both,
            // The first contact has no contact before it to differ from, and
            // out of both legs it is the set's own leg that goes on.
            (Legs::One | Legs::Alternate, Feet::Both) => Feet::First,
            (Legs::Alternate, before) if place > 0 => match before {
                Feet::First => Feet::Other,
                _ => Feet::First,
            },
            (_, before) => before,
        };
        contacts.push(set.contact(place, usual, feet));
    }
    Ok(contacts)
}

impl<'a> Performed<'a> {
    /// The usual contact at a place; the last one of the series repeats.
    fn usual_at(&self, place: u16) -> Option<&'a UsualContact> {
        let series = &self.exercise.series;
        series.get(usize::from(place)).or_else(|| series.last())
    }

    fn timed_at(&self, place: u16) -> Timed {
        let last = self.exercise.series.len().saturating_sub(1);
        let place = usize::from(place).min(last);
        self.timed.get(place).copied().unwrap_or_default()
    }

    /// The origin of the exercise's own defaults.
    fn usual_origin(&self) -> Origin<'a> {
        Origin::Default { support: self.exercise.support, source: &self.exercise.source }
    }

    fn seconds(&self, measured_us: Option<u32>, usual_us: u32) -> Input<'a> {
        match measured_us {
            Some(measured) => Input { value: f64::from(measured) / 1e6, origin: Origin::Measured },
            None => Input { value: f64::from(usual_us) / 1e6, origin: self.usual_origin() },
        }
    }

    fn contact(&self, place: u16, usual: &'a UsualContact, feet: Feet) -> ContactLoad<'a> {
        let timed = self.timed_at(place);
        let inputs = Inputs {
            before: self.before(place),
            contact_s: self.seconds(timed.contact_us, usual.contact_us),
            flight_s: (usual.after != After::Stand).then(|| self.seconds(timed.flight_us, usual.flight_us)),
            speed_m_s: self.speed(place, usual.speed),
            angle_deg: self.angle(usual.angle_ddeg),
        };
        let down = match inputs.before {
            Before::Stand => 0.0,
            Before::Fall(height) => fall_speed(height.value),
            Before::Flight(flight) => level_speed(flight.value),
        };
        let (per_mass, load_factor) = self.load_factor();
        let mut landing = Landing::of(down, inputs.speed_m_s.value, inputs.angle_deg.value, usual.legs);
        landing.energy_j_per_kg_per_leg *= load_factor;
        let pushes = usual.after == After::Flight && self.exercise.kind != Kind::PausedJump;
        let flight = inputs.flight_s.filter(|_| pushes);
        let push = flight.map(|flight| {
            let up = level_speed(flight.value);
            let mean = mean_force_bw(down, up, inputs.contact_s.value) * load_factor;
            Push {
                mean_force_bw_per_leg: mean / f64::from(usual.legs.count()),
                peak_bw_estimate: peak_from_mean(mean),
            }
        });
        ContactLoad {
            place,
            mv: usual.mv,
            kind: self.kind_of(usual.mv),
            feet,
            per_mass,
            landing,
            push,
            inputs,
            after: usual.after,
        }
    }

    /// Angles read in publications are of upright legs and of the long jump's
    /// take-off; every other one is ours, whatever the times beside it.
    fn angle(&self, ddeg: u32) -> Input<'a> {
        let read = ddeg == UPRIGHT_DDEG || self.exercise.kind == Kind::EventTakeOff;
        Input {
            value: f64::from(ddeg) / 10.0,
            origin: if read { self.usual_origin() } else { ANGLE_OF_OURS },
        }
    }

    /// A rebound that ends in a landing has contacts of two kinds. A pause
    /// keeps its kind: its landings are part of the paused jump.
    fn kind_of(&self, mv: Move) -> Kind {
        match (mv, self.exercise.kind) {
            (Move::Landing, kind) if kind != Kind::PausedJump => Kind::HeldLanding,
            (_, kind) => kind,
        }
    }

    /// What turns numbers of the system into numbers of the body.
    fn load_factor(&self) -> (PerMass, f64) {
        let added = f64::from(self.added_load_g);
        match self.athlete.mass_g {
            Some(mass) => (PerMass::Body, system_to_body_weights(1.0, f64::from(mass), added)),
            None if self.added_load_g == 0 => (PerMass::Body, 1.0),
            None => (PerMass::System, 1.0),
        }
    }

    fn before(&self, place: u16) -> Before<'a> {
        let timed = self.timed_at(place).before_us;
        // `before_us` of the repeating place tells the flights between its
        // repeats; the flight after the contact before is the same flight.
        if let Some(previous) = place.checked_sub(1) {
            let after = self.timed_at(previous).flight_us;
            let usual = self.usual_at(previous).map_or(0, |usual| usual.flight_us);
            return Before::Flight(self.seconds(timed.or(after), usual));
        }
        match self.exercise.entry {
            Entry::Standing => Before::Stand,
            Entry::LevelFlight { flight_us } => {
                // One repetition runs into the next, so the flight before the
                // first contact is the one after the last.
                let last = self.timed_at(self.contacts().saturating_sub(1)).flight_us;
                Before::Flight(self.seconds(timed.or(last), flight_us))
            }
            Entry::Box { usual_mm } => Before::Fall(self.fall(self.box_mm, usual_mm)),
            Entry::OntoBox { fall_mm } => Before::Fall(self.fall(None, fall_mm)),
            Entry::RunIn { .. } if self.approach == Some(Approach::Standing) => Before::Stand,
            Entry::RunIn { .. } => Before::Flight(match timed {
                Some(_) => self.seconds(timed, 0),
                None => {
                    Input { value: f64::from(RUN_IN_FLIGHT_US.value) / 1e6, origin: RUN_IN_FLIGHT_US.into() }
                }
            }),
        }
    }

    fn fall(&self, stated_mm: Option<u32>, usual_mm: u32) -> Input<'a> {
        Input {
            value: f64::from(stated_mm.unwrap_or(usual_mm)) / 1e3,
            origin: stated_mm.map_or(self.usual_origin(), |_| Origin::Stated),
        }
    }

    fn speed(&self, place: u16, speed: Speed) -> Input<'a> {
        match speed {
            Speed::Fixed { mm_s } => Input { value: f64::from(mm_s) / 1e3, origin: self.usual_origin() },
            Speed::TopShare { per_mille } => {
                let (top, assumed) = self.athlete.top_speed();
                Input {
                    value: f64::from(top) / 1e3 * f64::from(per_mille) / 1e3,
                    origin: assumed.map_or(self.usual_origin(), Origin::from),
                }
            }
            Speed::Approach { less_mm_s, cap_mm_s } => {
                let run_in = self.run_in_speed();
                let cap = f64::from(cap_mm_s) / 1e3;
                let loss = f64::from(self.exercise.loss_per_mille) / 1e3;
                let here = run_in.value.min(cap) * (1.0 - loss).powi(i32::from(place));
                let lost = less_mm_s > 0 || (place > 0 && loss > 0.0);
                Input {
                    value: (here - f64::from(less_mm_s) / 1e3).max(0.0),
                    // A speed that was timed at the first contact is not the
                    // speed of a later one, nor of an exercise done slower.
                    origin: match (lost, run_in.value > cap) {
                        (true, _) => SPEED_LOST,
                        (_, true) => SPEED_CAPPED,
                        _ => run_in.origin,
                    },
                }
            }
        }
    }

    /// Speed at the end of the run-in, m/s.
    fn run_in_speed(&self) -> Input<'a> {
        let (top, top_assumed) = self.athlete.top_speed();
        let (tau, tau_assumed) = self.athlete.tau();
        let acceleration = Acceleration { top_speed_m_s: f64::from(top) / 1e3, tau_s: f64::from(tau) / 1e3 };
        let estimated = |support| Origin::Default { support, source: Acceleration::source() };
        let approach = self.approach.unwrap_or(match self.exercise.entry {
            Entry::RunIn { usual_strides } => Approach::Strides(usual_strides),
            _ => Approach::Standing,
        });
        match approach {
            Approach::Standing => Input { value: 0.0, origin: Origin::Stated },
            Approach::TimedSpeed(speed) => Input { value: f64::from(speed) / 1e3, origin: Origin::Measured },
            Approach::Strides(strides) => Input {
                value: acceleration.speed_after_strides(strides),
                origin: estimated(Support::Estimate),
            },
            Approach::Millimetres(length) => Input {
                value: acceleration.speed_at(f64::from(length) / 1e3),
                origin: estimated(match (top_assumed, tau_assumed) {
                    (None, None) => Support::Derived,
                    _ => Support::Estimate,
                }),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::exercise::Exercise;
    use crate::load::catalogue::{self, id};
    use crate::load::performed::{Athlete, Side};
    use uuid::Uuid;

    fn exercise(id: Uuid) -> Exercise {
        catalogue::find(id).expect("in the catalogue").exercise
    }

    fn close(left: f64, right: f64) -> bool {
        (left - right).abs() < 1e-9
    }

    #[test]
    fn out_of_a_stand_nothing_falls() {
        let bounds = exercise(id::BOUNDS_STANDING);
        let contacts = repetition(&Performed::usual(&bounds, 1, Side::Left)).expect("sound");
        assert_eq!(contacts[0].inputs.before, Before::Stand);
        // 3.5 m/s over a leg at 68°, and no fall.
        let closing = 3.5 * 68_f64.to_radians().cos();
        assert!(close(contacts[0].landing.closing_speed_m_s, closing));
        // The second one lands out of the flight after the first.
        let Before::Flight(flight) = contacts[1].inputs.before else {
            panic!("{:?}", contacts[1].inputs.before);
        };
        assert!(close(flight.value, 0.30));
    }

    #[test]
    fn off_a_box_the_stated_height_is_fallen() {
        let jump = exercise(id::DROP_JUMP);
        let mut set = Performed::usual(&jump, 1, Side::Both);
        let usual = repetition(&set).expect("sound")[0];
        assert!(close(usual.landing.closing_speed_m_s, fall_speed(0.30)));
        set.box_mm = Some(450);
        let contacts = repetition(&set).expect("sound");
        assert!(close(contacts[0].landing.closing_speed_m_s, fall_speed(0.45)));
        let Before::Fall(height) = contacts[0].inputs.before else {
            panic!("{:?}", contacts[0].inputs.before);
        };
        assert_eq!(height.origin, Origin::Stated);
        // It lands out of its own flight, whatever the box was.
        assert!(close(contacts[1].landing.closing_speed_m_s, level_speed(0.54)));
        assert_eq!(contacts[1].kind, Kind::HeldLanding);
        assert_eq!(contacts[1].push, None);
    }

    #[test]
    fn what_is_jumped_up_is_not_fallen_down() {
        let jump = exercise(id::BOX_JUMP);
        let mut set = Performed::usual(&jump, 1, Side::Both);
        set.box_mm = Some(900);
        let contacts = repetition(&set).expect("sound");
        assert!(close(contacts[0].landing.closing_speed_m_s, fall_speed(0.10)));
        assert_eq!(contacts[0].push, None);
    }

    #[test]
    fn the_sand_gives_neither_height_nor_push() {
        let triple = exercise(id::TRIPLE_JUMP_SHORT);
        let contacts = repetition(&Performed::usual(&triple, 1, Side::Left)).expect("sound");
        assert!(contacts[0].push.is_some() && contacts[1].push.is_some());
        assert_eq!(contacts[2].push, None);
        assert_eq!(contacts[2].height_m(), None);
        assert_eq!(contacts[2].flight_contact_ratio(), None);
        assert!(contacts[2].landing.energy_j_per_kg_per_leg > 0.0);
    }

    #[test]
    fn timing_replaces_the_default_and_nothing_else() {
        let pogo = exercise(id::POGO);
        let timed = [Timed { contact_us: Some(180_000), ..Timed::default() }];
        let mut set = Performed::usual(&pogo, 10, Side::Both);
        let untimed = repetition(&set).expect("sound")[0];
        set.timed = &timed;
        let contact = repetition(&set).expect("sound")[0];
        assert_eq!(contact.inputs.contact_s.origin, Origin::Measured);
        assert!(close(contact.inputs.contact_s.value, 0.18));
        assert_eq!(contact.landing, untimed.landing);
        let restored = Inputs { contact_s: untimed.inputs.contact_s, ..contact.inputs };
        assert_eq!(restored, untimed.inputs);
        // F̄ = 1 + tf/tc on two legs.
        let push = contact.push.expect("a flight follows");
        assert!(close(push.mean_force_bw_per_leg, (1.0 + 0.46 / 0.18) / 2.0));
        assert!(close(contact.reactive_strength().expect("a rebound"), flight_height(0.46) / 0.18));
    }

    #[test]
    fn the_flight_after_one_rebound_is_the_flight_before_the_next() {
        let pogo = exercise(id::POGO);
        let timed = [Timed { flight_us: Some(500_000), ..Timed::default() }];
        let mut set = Performed::usual(&pogo, 10, Side::Both);
        set.timed = &timed;
        let contact = repetition(&set).expect("sound")[0];
        assert!(close(contact.landing.closing_speed_m_s, level_speed(0.5)));
    }

    #[test]
    fn a_timed_run_in_replaces_the_estimate_until_contacts_cost_speed() {
        let hops = exercise(id::HOPS_RUN_IN);
        let mut set = Performed::usual(&hops, 1, Side::Right);
        set.approach = Some(Approach::TimedSpeed(6_000));
        let contacts = repetition(&set).expect("sound");
        assert_eq!(contacts[0].inputs.speed_m_s.origin, Origin::Measured);
        assert!(close(contacts[0].inputs.speed_m_s.value, 6.0));
        // 4 % a contact.
        assert_eq!(contacts[1].inputs.speed_m_s.origin, SPEED_LOST);
        assert!(close(contacts[1].inputs.speed_m_s.value, 5.76));
        set.approach = Some(Approach::TimedSpeed(9_000));
        let capped = repetition(&set).expect("sound")[0].inputs.speed_m_s;
        assert_eq!((capped.value, capped.origin), (7.0, SPEED_CAPPED));
    }

    #[test]
    fn a_run_in_is_marked_as_far_as_it_is_guessed() {
        let support = |set: &Performed<'_>| match repetition(set).expect("sound")[0].inputs.speed_m_s.origin {
            Origin::Default { support, .. } => support,
            other => panic!("{other:?}"),
        };
        let jump = exercise(id::LONG_JUMP_SHORT);
        let mut set = Performed::usual(&jump, 1, Side::Left);
        assert_eq!(support(&set), Support::Estimate);
        set.approach = Some(Approach::Millimetres(20_000));
        assert_eq!(support(&set), Support::Estimate);
        set.athlete = Athlete { mass_g: None, top_speed_mm_s: Some(9_500), tau_ms: Some(1_200) };
        assert_eq!(support(&set), Support::Derived);
        set.approach = Some(Approach::Strides(8));
        assert_eq!(support(&set), Support::Estimate);
    }

    #[test]
    fn an_outside_load_is_told_for_the_body_where_its_mass_is_known() {
        let pogo = exercise(id::POGO);
        let mut set = Performed::usual(&pogo, 1, Side::Both);
        let bare = repetition(&set).expect("sound")[0];
        set.added_load_g = 7_000;
        let system = repetition(&set).expect("sound")[0];
        assert_eq!(system.per_mass, PerMass::System);
        assert_eq!((system.landing, system.push), (bare.landing, bare.push));
        set.athlete.mass_g = Some(70_000);
        let body = repetition(&set).expect("sound")[0];
        assert_eq!(body.per_mass, PerMass::Body);
        let mean = |contact: ContactLoad<'_>| contact.push.expect("pushes").mean_force_bw_per_leg;
        assert!(close(mean(body), mean(bare) * 1.1));
        let energy = |contact: ContactLoad<'_>| contact.landing.energy_j_per_kg_per_leg;
        assert!(close(energy(body), energy(bare) * 1.1));
    }

    #[test]
    fn a_leg_that_runs_away_from_the_ground_takes_up_nothing() {
        let landing = Landing::of(0.2, 9.0, 110.0, Legs::One);
        assert_eq!(landing.closing_speed_m_s, 0.0);
        assert_eq!(landing.energy_j_per_kg_per_leg, 0.0);
    }
}
