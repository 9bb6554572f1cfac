//! Landing and push of each contact of a repetition.
//!
//! ```text
//! landing   v = v_down·sin α + v_h·cos α,  e = v²/(2·legs)   of every contact
//! push      F̄ = 1 + (v_down + v_up)/(g·tc), over the legs    where a flight follows
//! ```
//! α is the leg's angle to the ground. v_down comes from the flight before
//! (or the box), v_up from the flight after, both with the rise of the ground
//! over them, v_h from the exercise or the run-in. Each input says where it came
//! from, and its standard uncertainty where one is known.

use super::approach::Acceleration;
use super::ballistics::{FlightSpeeds, fall_height, fall_speed, flight_height, flight_of};
use super::constants::{Assumed, RUN_IN_FLIGHT_US};
use super::force::{flight_contact_ratio, mean_force_bw, peak_from_mean, system_to_body_weights};
use super::performed::{Approach, Leg, Performed, Timed};
use crate::facts::exercise::{
    After, Entry, FieldError, Kind, Legs, Move, Speed, Support, UsualContact, UsualLoad,
};
use crate::facts::{self, Cue};

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

const CUED: Origin<'static> = Origin::Default {
    support: Support::Estimate,
    source: "the usual time, changed as the cue changed drop jumps from 40 cm in trained youth: Boccia et al. 2026, \
             J Strength Cond Res 40(2):152–157; for other boxes an estimate of ours",
};

/// By how much a cue changes a drop jump against the cue for both, short and high: seconds on the ground and metres
/// of height. Boccia et al. 2026, J Strength Cond Res 40(2):152–157.
const fn cue_change(cue: Option<Cue>) -> (f64, f64) {
    match cue {
        Some(Cue::Short) => (-0.021, -0.059),
        Some(Cue::High) => (0.049, 0.048),
        None => (0.0, 0.0),
    }
}

/// A value and where it came from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Input<'a> {
    /// In the unit of the field.
    pub value: f64,
    /// Where it came from.
    pub origin: Origin<'a>,
    /// Its standard uncertainty in the same unit; nothing where none is known.
    pub u: Option<f64>,
}

impl<'a> Input<'a> {
    /// A value of which no uncertainty is known.
    #[must_use]
    pub const fn new(value: f64, origin: Origin<'a>) -> Self {
        Self { value, origin, u: None }
    }
}

/// What comes before a contact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Before<'a> {
    /// A stand, or steps of a walk: no fall.
    Stand,
    /// A fall, m.
    Fall(Input<'a>),
    /// A flight, s; level, or over the rise that the inputs tell.
    Flight(Input<'a>),
}

/// What a contact was computed from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inputs<'a> {
    /// What came before.
    pub before: Before<'a>,
    /// How much higher the ground is here than at the contact before, m.
    pub rise_before_m: f64,
    /// How much higher it is at the next contact, m.
    pub rise_after_m: f64,
    /// Contact time, s.
    pub contact_s: Input<'a>,
    /// Flight after it, s; nothing where none follows.
    pub flight_s: Option<Input<'a>>,
    /// Speed along the way of travel at touchdown, m/s.
    pub speed_m_s: Input<'a>,
    /// Share of that speed lost in this contact, where it is that of a run-in.
    pub loss: Option<Input<'a>>,
    /// Angle of the leg to the ground at touchdown, degrees.
    pub angle_deg: Input<'a>,
    /// Outside load as a share of the athlete's mass, where there is one and the share is known.
    pub load_share: Option<Input<'a>>,
}

impl<'a> Inputs<'a> {
    fn down_m_s(&self) -> f64 {
        match self.before {
            Before::Stand => 0.0,
            Before::Fall(height) => fall_speed(height.value),
            Before::Flight(flight) => FlightSpeeds::over(flight.value, self.rise_before_m).down,
        }
    }

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
            .chain(self.load_share)
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

    /// How many legs share it.
    #[must_use]
    pub const fn legs(&self) -> Legs {
        match self.feet {
            Feet::Both => Legs::Two,
            Feet::First | Feet::Other => Legs::One,
        }
    }

    /// Downward speed at touchdown, m/s; below zero where the body still rises as it lands higher up.
    #[must_use]
    pub fn down_m_s(&self) -> f64 {
        self.inputs.down_m_s()
    }

    /// Upward speed at toe-off, m/s; nothing into the pit or into a stand.
    #[must_use]
    pub fn up_m_s(&self) -> Option<f64> {
        self.level_flight().map(|flight| FlightSpeeds::over(flight, self.inputs.rise_after_m).up)
    }

    /// Speed along the way of travel after it, m/s, where it is that of a run-in.
    #[must_use]
    pub fn speed_after_m_s(&self) -> Option<f64> {
        self.inputs.loss.map(|loss| self.inputs.speed_m_s.value * (1.0 - loss.value))
    }

    /// Height of the flight after it above its own ground, m; nothing into the pit or into a stand.
    #[must_use]
    pub fn height_m(&self) -> Option<f64> {
        self.up_m_s().map(|up| fall_height(up.max(0.0)))
    }

    /// Reactive strength index of a vertical rebound, m/s; to be shown with
    /// height and contact time beside it.
    #[must_use]
    pub fn reactive_strength(&self) -> Option<f64> {
        if self.kind != Kind::VerticalRebound {
            return None;
        }
        let contact = self.inputs.contact_s.value;
        self.height_m().map(|height| height / contact)
    }

    /// Flight over contact time, where a contact follows.
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
    pub(super) fn usual_at(&self, place: u16) -> Option<&'a UsualContact> {
        let series = &self.exercise.series;
        series.get(usize::from(place)).or_else(|| series.last())
    }

    pub(super) fn timed_at(&self, place: u16) -> Timed {
        let last = self.exercise.series.len().saturating_sub(1);
        let place = usize::from(place).min(last);
        self.timed.get(place).copied().unwrap_or_default()
    }

    /// The origin of the exercise's own defaults.
    pub(super) fn usual_origin(&self) -> Origin<'a> {
        Origin::Default { support: self.exercise.support, source: &self.exercise.source }
    }

    /// A time of `measured` µs with its uncertainty, or the usual one.
    fn seconds(&self, measured: (Option<u32>, Option<u32>), usual_us: u32) -> Input<'a> {
        let seconds = |us: u32| f64::from(us) / 1e6;
        match measured {
            (Some(us), u) => Input { value: seconds(us), origin: Origin::Measured, u: u.map(seconds) },
            (None, _) => Input::new(seconds(usual_us), self.usual_origin()),
        }
    }

    /// A usual contact and flight, changed where the set was cued otherwise than the exercise's times are.
    fn cued(&self, usual: &UsualContact, contact_s: Input<'a>, flight_s: Input<'a>) -> [Input<'a>; 2] {
        if usual.mv != Move::DropJump || self.cue.is_none() || self.cue == self.exercise.cue {
            return [contact_s, flight_s];
        }
        let (told, own) = (cue_change(self.cue), cue_change(self.exercise.cue));
        let change = |input: Input<'a>, to: &dyn Fn(f64) -> f64| match input.origin {
            Origin::Measured => input,
            _ => Input::new(to(input.value), CUED),
        };
        // Never below what a hop from the ankles is.
        let contact = |s: f64| (s + told.0 - own.0).max(0.1);
        let flight = |s: f64| flight_of((flight_height(s) + told.1 - own.1).max(0.02));
        [change(contact_s, &contact), change(flight_s, &flight)]
    }

    /// Time on the ground at a place and of the flight after it, s.
    fn times(&self, place: u16, usual: &UsualContact) -> [Input<'a>; 2] {
        let timed = self.timed_at(place);
        let contact = self.seconds((timed.contact_us, timed.contact_u_us), usual.contact_us);
        let flight = self.seconds((timed.flight_us, timed.flight_u_us), usual.flight_us);
        self.cued(usual, contact, flight)
    }

    /// Rise of the ground over the flight after a place, m.
    fn rise_after(&self, place: u16) -> f64 {
        self.usual_at(place).map_or(0.0, |usual| f64::from(usual.rise_mm) / 1e3)
    }

    fn contact(&self, place: u16, usual: &'a UsualContact, feet: Feet) -> ContactLoad<'a> {
        let [contact_s, flight_s] = self.times(place, usual);
        let (per_mass, load_share) = self.load_share();
        let inputs = Inputs {
            before: self.before(place),
            rise_before_m: place.checked_sub(1).map_or(0.0, |before| self.rise_after(before)),
            rise_after_m: self.rise_after(place),
            contact_s,
            flight_s: (usual.after != After::Stand).then_some(flight_s),
            speed_m_s: self.speed(place, usual.speed),
            loss: matches!(usual.speed, Speed::Approach { .. }).then(|| self.loss(usual)),
            angle_deg: self.angle(usual.angle_ddeg),
            load_share,
        };
        let down = inputs.down_m_s();
        let load_factor = load_share.map_or(1.0, |share| system_to_body_weights(1.0, 1.0, share.value));
        let mut landing = Landing::of(down, inputs.speed_m_s.value, inputs.angle_deg.value, usual.legs);
        landing.energy_j_per_kg_per_leg *= load_factor;
        let pushes = usual.after == After::Flight && self.exercise.kind != Kind::PausedJump;
        let flight = inputs.flight_s.filter(|_| pushes);
        let push = flight.map(|flight| {
            let up = FlightSpeeds::over(flight.value, inputs.rise_after_m).up;
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
        Input::new(f64::from(ddeg) / 10.0, if read { self.usual_origin() } else { ANGLE_OF_OURS })
    }

    /// A rebound that ends in a landing has contacts of two kinds. A pause
    /// keeps its kind: its landings are part of the paused jump.
    fn kind_of(&self, mv: Move) -> Kind {
        match (mv, self.exercise.kind) {
            (Move::Landing, kind) if kind != Kind::PausedJump => Kind::HeldLanding,
            (_, kind) => kind,
        }
    }

    /// The outside load as a share of the body's mass, and what numbers are told for: without the body's mass
    /// a load in grams leaves them those of the system.
    fn load_share(&self) -> (PerMass, Option<Input<'a>>) {
        let (grams, origin) = match (self.added_load_g, self.exercise.load) {
            (Some(grams), _) => (grams, Origin::Stated),
            (None, Some(UsualLoad::Grams(grams))) => (grams, self.usual_origin()),
            (None, Some(UsualLoad::BodyShare(share))) => {
                let share = Input::new(f64::from(share) / 1e3, self.usual_origin());
                return (PerMass::Body, Some(share));
            }
            (None, None) => (0, Origin::Stated),
        };
        match self.athlete.mass_g {
            _ if grams == 0 => (PerMass::Body, None),
            Some(mass) => (PerMass::Body, Some(Input::new(f64::from(grams) / f64::from(mass), origin))),
            None => (PerMass::System, None),
        }
    }

    fn before(&self, place: u16) -> Before<'a> {
        let own = self.timed_at(place);
        let timed = (own.before_us, own.before_u_us);
        // `before_us` of the repeating place tells the flights between its
        // repeats; the flight after the contact before is the same flight.
        let or_after = |place: u16, usual_us: u32| match (timed.0, self.usual_at(place)) {
            (None, Some(usual)) => {
                let usual = UsualContact { flight_us: usual_us, ..usual.clone() };
                self.times(place, &usual)[1]
            }
            _ => self.seconds(timed, usual_us),
        };
        if let Some(previous) = place.checked_sub(1) {
            let usual = self.usual_at(previous).map_or(0, |usual| usual.flight_us);
            return Before::Flight(or_after(previous, usual));
        }
        match self.exercise.entry {
            Entry::Standing | Entry::WalkIn { .. } => Before::Stand,
            Entry::LevelFlight { flight_us } => {
                // One repetition runs into the next, so the flight before the
                // first contact is the one after the last.
                let last = self.contacts().saturating_sub(1);
                Before::Flight(or_after(last, flight_us))
            }
            Entry::Box { usual_mm } => Before::Fall(self.fall(self.box_mm, usual_mm)),
            Entry::OntoBox { fall_mm } => Before::Fall(self.fall(None, fall_mm)),
            Entry::RunIn { .. } | Entry::RunInMetres { .. } => match (self.approach, timed.0) {
                (Some(Approach::Standing), _) => Before::Stand,
                (_, Some(_)) => Before::Flight(self.seconds(timed, 0)),
                (_, None) => {
                    let seconds = f64::from(RUN_IN_FLIGHT_US.value) / 1e6;
                    Before::Flight(Input::new(seconds, RUN_IN_FLIGHT_US.into()))
                }
            },
        }
    }

    fn fall(&self, stated_mm: Option<u32>, usual_mm: u32) -> Input<'a> {
        let metres = f64::from(stated_mm.unwrap_or(usual_mm)) / 1e3;
        Input::new(metres, stated_mm.map_or(self.usual_origin(), |_| Origin::Stated))
    }

    /// Share of the run-in's speed that a contact costs: its own, or the exercise's for each.
    fn loss(&self, usual: &UsualContact) -> Input<'a> {
        let own = usual.loss_per_mille;
        let loss = f64::from(own.unwrap_or(self.exercise.loss_per_mille)) / 1e3;
        Input::new(loss, if own.is_some() { self.usual_origin() } else { SPEED_LOST })
    }

    /// Share of the run-in's speed that the contacts before a place leave, and whose word that is: the exercise's
    /// where each of them says its own cost.
    pub(super) fn kept(&self, place: u16) -> (f64, Origin<'a>) {
        let (mut kept, mut origin) = (1.0, self.usual_origin());
        for loss in (0..place).filter_map(|place| self.usual_at(place)).map(|usual| self.loss(usual)) {
            kept *= 1.0 - loss.value;
            if loss.origin == SPEED_LOST {
                origin = SPEED_LOST;
            }
        }
        (kept, origin)
    }

    fn speed(&self, place: u16, speed: Speed) -> Input<'a> {
        match speed {
            Speed::Fixed { mm_s } => Input::new(f64::from(mm_s) / 1e3, self.usual_origin()),
            Speed::TopShare { per_mille } => {
                let (top, assumed) = self.athlete.top_speed();
                let share = f64::from(per_mille) / 1e3;
                Input {
                    value: f64::from(top) / 1e3 * share,
                    origin: assumed.map_or(self.usual_origin(), Origin::from),
                    u: self.athlete.top_speed_u_m_s().map(|u| u * share),
                }
            }
            Speed::Approach { less_mm_s, cap_mm_s } => {
                let run_in = self.run_in_speed();
                let cap = f64::from(cap_mm_s) / 1e3;
                let (kept, cost) = self.kept(place);
                let lost = less_mm_s > 0 || kept < 1.0;
                Input {
                    value: (run_in.value.min(cap) * kept - f64::from(less_mm_s) / 1e3).max(0.0),
                    // A speed that was timed at the first contact is not the
                    // speed of a later one, nor of an exercise done slower.
                    origin: match (lost, run_in.value > cap) {
                        (true, _) if less_mm_s == 0 => cost,
                        (true, _) => SPEED_LOST,
                        (_, true) => SPEED_CAPPED,
                        _ => run_in.origin,
                    },
                    u: run_in.u.filter(|_| run_in.value <= cap).map(|u| u * kept),
                }
            }
        }
    }

    /// The run-in as it was done, or as it usually is.
    pub(super) fn run_in(&self) -> Approach {
        let usual = || match self.exercise.run_in() {
            Some(facts::Approach::Strides(strides)) => Approach::Strides(strides),
            Some(facts::Approach::Millimetres(length)) => Approach::Millimetres(length),
            None => Approach::Standing,
        };
        self.approach.unwrap_or_else(usual)
    }

    /// Speed at the end of the run-in, m/s.
    pub(super) fn run_in_speed(&self) -> Input<'a> {
        let (_, top_assumed) = self.athlete.top_speed();
        let (_, tau_assumed) = self.athlete.tau();
        let acceleration = Acceleration::of(self.athlete);
        let estimated = |support| Origin::Default { support, source: Acceleration::source() };
        let support = match (top_assumed, tau_assumed) {
            (None, None) => Support::Derived,
            _ => Support::Estimate,
        };
        let by_metres = Origin::Default { support, source: Acceleration::model() };
        let over = |metres: f64| Input {
            value: acceleration.speed_at(metres),
            origin: by_metres,
            u: acceleration.u_of(self.athlete, |a| a.speed_at(metres)),
        };
        if let Some(ms) = self.last_10_m_ms {
            return Input::new(1e4 / f64::from(ms), Origin::Measured);
        }
        match self.run_in() {
            Approach::Standing => Input::new(0.0, Origin::Stated),
            Approach::TimedSpeed(speed) => Input::new(f64::from(speed) / 1e3, Origin::Measured),
            Approach::Strides(strides) => match self.athlete.stride_mm {
                Some(stride) => over(f64::from(strides) * f64::from(stride) / 1e3),
                None => Input {
                    value: acceleration.speed_after_strides(strides),
                    origin: estimated(Support::Estimate),
                    u: acceleration.u_of(self.athlete, |a| a.speed_after_strides(strides)),
                },
            },
            Approach::Millimetres(length) => over(f64::from(length) / 1e3),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::exercise::Exercise;
    use crate::load::ballistics::{flight_height, level_speed};
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
        set.athlete = Athlete { top_speed_mm_s: Some(9_500), tau_ms: Some(1_200), ..Athlete::default() };
        assert_eq!(support(&set), Support::Derived);
        set.approach = Some(Approach::Strides(8));
        assert_eq!(support(&set), Support::Estimate);
    }

    #[test]
    fn an_outside_load_is_told_for_the_body_where_its_mass_is_known() {
        let pogo = exercise(id::POGO);
        let mut set = Performed::usual(&pogo, 1, Side::Both);
        let bare = repetition(&set).expect("sound")[0];
        set.added_load_g = Some(7_000);
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

    #[test]
    fn a_rise_takes_from_the_fall_and_gives_to_the_push() {
        let stairs = exercise(id::STAIR_JUMPS);
        let contacts = repetition(&Performed::usual(&stairs, 1, Side::Both)).expect("sound");
        let (level, rise) = (level_speed(0.44), 0.34 / 0.44);
        assert!(close(contacts[0].up_m_s().expect("a flight"), level + rise));
        assert!(close(contacts[1].down_m_s(), level - rise));
        assert!(close(contacts[0].height_m().expect("a flight"), fall_height(level + rise)));
        // Fallen again, it is what was jumped less the rise.
        let fallen = fall_height(contacts[1].down_m_s());
        assert!(close(contacts[0].height_m().expect("a flight") - fallen, 0.34));
    }

    #[test]
    fn a_run_in_on_a_platform_joins_the_fall_from_it() {
        let hops = exercise(id::PLATFORM_HOPS_RUN_IN);
        let mut set = Performed::usual(&hops, 1, Side::Left);
        let usual = repetition(&set).expect("sound")[0];
        assert!(close(usual.down_m_s(), fall_speed(0.3)));
        assert!(usual.inputs.speed_m_s.value > 4.0);
        set.last_10_m_ms = Some(2_000);
        let timed = repetition(&set).expect("sound")[0];
        assert_eq!((timed.inputs.speed_m_s.value, timed.inputs.speed_m_s.origin), (5.0, Origin::Measured));
        set.last_10_m_ms = None;
        set.approach = Some(Approach::Standing);
        let stood = repetition(&set).expect("sound")[0];
        assert!(close(stood.inputs.speed_m_s.value, 0.0));
        assert!(close(stood.down_m_s(), usual.down_m_s()));
    }

    #[test]
    fn a_load_of_the_exercises_own_weighs_without_the_bodys_mass() {
        let pogo = exercise(id::POGO_LOADED);
        let contact = repetition(&Performed::usual(&pogo, 1, Side::Both)).expect("sound")[0];
        assert_eq!(contact.per_mass, PerMass::Body);
        let push = contact.push.expect("pushes").mean_force_bw_per_leg;
        assert!(close(push, 1.1 * (1.0 + 0.435 / 0.21) / 2.0));
        // A set that says its own load replaces it.
        let mut bare = Performed::usual(&pogo, 1, Side::Both);
        bare.added_load_g = Some(0);
        let push = repetition(&bare).expect("sound")[0].push.expect("pushes").mean_force_bw_per_leg;
        assert!(close(push, (1.0 + 0.435 / 0.21) / 2.0));
    }

    #[test]
    fn a_stride_of_the_athletes_own_turns_strides_into_metres() {
        let jump = exercise(id::LONG_JUMP_SHORT);
        let mut set = Performed::usual(&jump, 1, Side::Left);
        set.athlete.stride_mm = Some(1_900);
        let by_strides = repetition(&set).expect("sound")[0].inputs.speed_m_s;
        set.approach = Some(Approach::Millimetres(8 * 1_900));
        assert_eq!(repetition(&set).expect("sound")[0].inputs.speed_m_s, by_strides);
    }

    #[test]
    fn an_uncertainty_goes_with_its_time_and_its_speed() {
        let hops = exercise(id::HOPS_RUN_IN);
        let timed = [Timed {
            contact_us: Some(150_000),
            contact_u_us: Some(2_000),
            flight_us: Some(260_000),
            flight_u_us: Some(3_000),
            ..Timed::default()
        }];
        let mut set = Performed::usual(&hops, 1, Side::Left);
        set.timed = &timed;
        set.athlete.top_speed_u_mm_s = Some(200);
        let contacts = repetition(&set).expect("sound");
        assert_eq!(contacts[1].inputs.contact_s.u, Some(0.002));
        let Before::Flight(before) = contacts[1].inputs.before else { panic!("a flight") };
        assert_eq!((before.value, before.u), (0.26, Some(0.003)));
        let [first, second] = [0, 1].map(|place: usize| contacts[place].inputs.speed_m_s.u.expect("known"));
        assert!(close(second, first * 0.96));
    }

    #[test]
    fn a_cue_changes_the_usual_times_and_no_timed_one() {
        let jump = exercise(id::DROP_JUMP_40);
        let mut set = Performed::usual(&jump, 1, Side::Both);
        let cued = |set: &Performed<'_>| {
            let contacts = repetition(set).expect("sound");
            (contacts[0].inputs.contact_s.value, contacts[0].height_m().expect("a flight"))
        };
        let both = cued(&set);
        for (cue, contact, height) in [(Cue::Short, -0.021, -0.059), (Cue::High, 0.049, 0.048)] {
            set.cue = Some(cue);
            let told = cued(&set);
            assert!(close(told.0 - both.0, contact) && close(told.1 - both.1, height), "{told:?}");
            // The landing that follows is out of the changed flight.
            let contacts = repetition(&set).expect("sound");
            assert!(close(contacts[1].down_m_s(), contacts[0].up_m_s().expect("a flight")));
        }
        let timed = [Timed { contact_us: Some(200_000), ..Timed::default() }];
        set.timed = &timed;
        assert!(close(cued(&set).0, 0.2));
        // An exercise whose times are told for the cue keeps them.
        let short = exercise(id::DROP_JUMP_40_SHORT);
        let mut set = Performed::usual(&short, 1, Side::Both);
        let usual = cued(&set);
        set.cue = Some(Cue::Short);
        assert_eq!(cued(&set), usual);
    }
}
