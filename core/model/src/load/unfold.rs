//! A contact's numbers, each with what it was computed from.
//!
//! An [`Unfolded`] number lists its inputs (what, value, unit, measured or default, the source, the standard
//! uncertainty where one is known), the formula in symbols and with numbers, where the formula comes from, and the
//! result with its uncertainty.
//!
//! Uncertainties go through formulas to first order, u² = Σ(∂f/∂x)²u² + 2·(∂f/∂tc)(∂f/∂tf)·cov(tc, tf): JCGM
//! 100:2008 (GUM), 5.1 and 5.2. A contact and the flight after it share the reading of the toe-off, so
//! cov(tc, tf) = −u². All else is taken as independent. What is known of no input is not made up: an input
//! without an uncertainty is named beside the result.

use super::approach::{Acceleration, slope};
use super::ballistics::{FlightSpeeds, fall_height, fall_speed};
use super::constants::{G, STRIDES_PER_S};
use super::contact::{Before, ContactLoad, Input, Landing, Origin, Push};
use super::force::{mean_force_bw, peak_from_mean};
use super::performed::{Approach, Performed};
use crate::facts::exercise::{Kind, Speed, Support};

/// What an input or a number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum What {
    /// Time on the ground.
    Contact,
    /// The flight that ends at this contact.
    FlightBefore,
    /// The flight after it.
    FlightAfter,
    /// A fall.
    Fall,
    /// Rise of the ground up to this contact.
    RiseBefore,
    /// Rise of the ground to the next contact.
    RiseAfter,
    /// The leg's angle to the ground at touchdown.
    Angle,
    /// Legs in the contact.
    Legs,
    /// The athlete's top speed.
    TopSpeed,
    /// The athlete's time constant of acceleration.
    Tau,
    /// Strides of the run-in.
    Strides,
    /// Strides a second.
    StrideRate,
    /// Length of a stride.
    Stride,
    /// Length of the run-in.
    RunIn,
    /// Time over the last ten metres of the run-in.
    LastTen,
    /// Share of the top speed at which the exercise is done.
    TopShare,
    /// Share of the run-in's speed that is left at this contact.
    Kept,
    /// Share of the speed lost in this contact.
    Lost,
    /// Speed at the end of the run-in.
    RunInSpeed,
    /// Speed along the way of travel at touchdown.
    Speed,
    /// Speed along the way of travel after the contact.
    SpeedAfter,
    /// Downward speed at touchdown.
    DownSpeed,
    /// Upward speed at toe-off.
    UpSpeed,
    /// Outside load as a share of the body's mass.
    LoadShare,
    /// Closing speed along the leg at touchdown.
    ClosingSpeed,
    /// Energy that each leg takes up.
    Energy,
    /// Mean force on each leg.
    MeanForce,
    /// Peak force of the whole body, from times.
    PeakForce,
    /// Height of the flight after the contact.
    Height,
    /// Height over contact time.
    ReactiveStrength,
}

impl What {
    /// The word under which its label stands.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Contact => "contact",
            Self::FlightBefore => "flight-before",
            Self::FlightAfter => "flight-after",
            Self::Fall => "fall",
            Self::RiseBefore => "rise-before",
            Self::RiseAfter => "rise-after",
            Self::Angle => "angle",
            Self::Legs => "legs",
            Self::TopSpeed => "top-speed",
            Self::Tau => "tau",
            Self::Strides => "strides",
            Self::StrideRate => "stride-rate",
            Self::Stride => "stride",
            Self::RunIn => "run-in",
            Self::LastTen => "last-ten",
            Self::TopShare => "top-share",
            Self::Kept => "kept",
            Self::Lost => "lost",
            Self::RunInSpeed => "run-in-speed",
            Self::Speed => "speed",
            Self::SpeedAfter => "speed-after",
            Self::DownSpeed => "down-speed",
            Self::UpSpeed => "up-speed",
            Self::LoadShare => "load-share",
            Self::ClosingSpeed => "closing-speed",
            Self::Energy => "energy",
            Self::MeanForce => "mean-force",
            Self::PeakForce => "peak-force",
            Self::Height => "height",
            Self::ReactiveStrength => "reactive-strength",
        }
    }
}

/// The unit of a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// s.
    Second,
    /// m.
    Metre,
    /// m/s.
    MetrePerSecond,
    /// Degrees.
    Degree,
    /// 1/s.
    PerSecond,
    /// None: a count or a share.
    One,
    /// J/kg.
    JoulePerKilogram,
    /// Body weights.
    BodyWeight,
    /// Weights of body and load together.
    SystemWeight,
}

/// An input of a formula.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term<'a> {
    /// What it is.
    pub what: What,
    /// Its symbol in the formula.
    pub symbol: &'static str,
    /// Value, origin and standard uncertainty; no origin where a number above this one gives it.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// Where it came from; nothing where another of the unfolded numbers is meant.
    pub origin: Option<Origin<'a>>,
    /// Its standard uncertainty; nothing where none is known.
    pub u: Option<f64>,
}

/// A number with all that it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Unfolded<'a> {
    /// What it is.
    pub what: What,
    /// What it was computed from.
    pub terms: Vec<Term<'a>>,
    /// The formula in symbols.
    pub symbols: &'static str,
    /// The formula with numbers and the result.
    pub numbers: String,
    /// Where the formula comes from, or that it is a model of ours.
    pub source: &'static str,
    /// The result.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// Its standard uncertainty from the inputs that have one; nothing where none has one.
    pub u: Option<f64>,
    /// The inputs, exact ones left out, of which no uncertainty is known.
    pub without_u: Vec<What>,
}

const STRIDE_RATE: Origin<'static> =
    Origin::Default { support: Support::Estimate, source: "4.1 strides a second, an estimate of ours" };

const FREE_FALL: &str = "constant acceleration, g = 9.81 m/s², air left out";

/// Every number of a contact of `set`, in the order in which one rests on the other: downward speed, speed of
/// travel, landing (closing speed, energy), and where a level flight follows upward speed, push (mean force, peak),
/// height and, of a vertical rebound, reactive strength.
///
/// `contact` is one that [`repetition`](super::contact::repetition) gave for the same set.
#[must_use]
pub fn unfold<'a>(set: &Performed<'a>, contact: &ContactLoad<'a>) -> Vec<Unfolded<'a>> {
    let inputs = &contact.inputs;
    let mut numbers = vec![down(contact)];
    numbers.extend(run_in(set, contact));
    numbers.extend(travel(set, contact));
    let from = Sum::of(contact, set);
    numbers.push(from.closing_speed());
    numbers.push(from.energy());
    if let (Some(push), Some(flight)) = (contact.push, inputs.flight_s) {
        numbers.push(up(contact, flight));
        numbers.push(from.mean_force(flight));
        numbers.push(from.peak(&push, flight));
    }
    if let (Some(height), Some(flight)) = (contact.height_m(), inputs.flight_s) {
        numbers.push(from.height(height, flight));
        if contact.kind == Kind::VerticalRebound {
            numbers.push(from.reactive_strength(height, flight));
        }
    }
    numbers
}

/// A term that was put in.
fn term<'a>(what: What, symbol: &'static str, input: Input<'a>, unit: Unit) -> Term<'a> {
    Term { what, symbol, value: input.value, unit, origin: Some(input.origin), u: input.u }
}

/// A term that another number above gives, or that is exact.
const fn given<'a>(what: What, symbol: &'static str, value: f64, unit: Unit, u: Option<f64>) -> Term<'a> {
    Term { what, symbol, value, unit, origin: None, u }
}

/// The inputs that have no uncertainty, what is counted or given above left out.
fn without_u(terms: &[Term<'_>]) -> Vec<What> {
    let counted = |what: What| matches!(what, What::Strides | What::Legs);
    let unknown = |term: &&Term<'_>| term.u.is_none() && term.origin.is_some() && !counted(term.what);
    terms.iter().filter(unknown).map(|term| term.what).collect()
}

/// Root of the sum of squares of what is known; nothing where nothing is.
fn joined(parts: impl IntoIterator<Item = Option<f64>>) -> Option<f64> {
    let known: Vec<f64> = parts.into_iter().flatten().collect();
    (!known.is_empty()).then(|| known.iter().map(|u| u * u).sum::<f64>().sqrt())
}

fn down<'a>(contact: &ContactLoad<'a>) -> Unfolded<'a> {
    let value = contact.down_m_s();
    let rise = contact.inputs.rise_before_m;
    let (terms, symbols, numbers, u) = match contact.inputs.before {
        Before::Stand => (vec![], "v_down = 0", "out of a stand nothing falls".to_owned(), None),
        Before::Fall(height) => (
            vec![term(What::Fall, "H", height, Unit::Metre)],
            "v_down = √(2·g·H)",
            format!("√(2·9.81·{:.3}) = {value:.3} m/s", height.value),
            height.u.map(|u| u * slope(fall_speed, height.value)),
        ),
        Before::Flight(flight) => {
            let mut terms = vec![term(What::FlightBefore, "tf₁", flight, Unit::Second)];
            let u = flight.u.map(|u| u * slope(|t| FlightSpeeds::over(t, rise).down, flight.value).abs());
            if rise == 0.0 {
                let numbers = format!("9.81·{:.3}/2 = {value:.3} m/s", flight.value);
                (terms, "v_down = g·tf₁/2", numbers, u)
            } else {
                terms.push(given(What::RiseBefore, "Δh₁", rise, Unit::Metre, None));
                let numbers = format!("9.81·{0:.3}/2 − ({rise:.3})/{0:.3} = {value:.3} m/s", flight.value);
                (terms, "v_down = g·tf₁/2 − Δh₁/tf₁", numbers, u)
            }
        }
    };
    let without_u = without_u(&terms);
    Unfolded {
        what: What::DownSpeed,
        terms,
        symbols,
        numbers,
        source: FREE_FALL,
        value,
        unit: Unit::MetrePerSecond,
        u,
        without_u,
    }
}

fn up<'a>(contact: &ContactLoad<'a>, flight: Input<'a>) -> Unfolded<'a> {
    let rise = contact.inputs.rise_after_m;
    let of = |seconds: f64| FlightSpeeds::over(seconds, rise).up;
    let value = of(flight.value);
    let mut terms = vec![term(What::FlightAfter, "tf₂", flight, Unit::Second)];
    let (symbols, numbers) = if rise == 0.0 {
        ("v_up = g·tf₂/2", format!("9.81·{:.3}/2 = {value:.3} m/s", flight.value))
    } else {
        terms.push(given(What::RiseAfter, "Δh₂", rise, Unit::Metre, None));
        let numbers = format!("9.81·{0:.3}/2 + ({rise:.3})/{0:.3} = {value:.3} m/s", flight.value);
        ("v_up = g·tf₂/2 + Δh₂/tf₂", numbers)
    };
    let without_u = without_u(&terms);
    Unfolded {
        what: What::UpSpeed,
        terms,
        symbols,
        numbers,
        source: FREE_FALL,
        value,
        unit: Unit::MetrePerSecond,
        u: flight.u.map(|u| u * slope(of, flight.value).abs()),
        without_u,
    }
}

/// The speed of the run-in, where the contact's speed rests on it.
fn run_in<'a>(set: &Performed<'a>, contact: &ContactLoad<'a>) -> Option<Unfolded<'a>> {
    if !matches!(set.usual_at(contact.place)?.speed, Speed::Approach { .. }) {
        return None;
    }
    let speed = set.run_in_speed();
    let value = speed.value;
    let athlete = set.athlete;
    let origin = |assumed: Option<super::constants::Assumed>| assumed.map_or(Origin::Stated, Origin::from);
    let (top, top_assumed) = athlete.top_speed();
    let (tau, tau_assumed) = athlete.tau();
    let runner = Acceleration::of(athlete);
    let mut terms = vec![
        Term {
            what: What::TopSpeed,
            symbol: "v_max",
            value: f64::from(top) / 1e3,
            unit: Unit::MetrePerSecond,
            origin: Some(origin(top_assumed)),
            u: athlete.top_speed_u_m_s(),
        },
        Term {
            what: What::Tau,
            symbol: "τ",
            value: f64::from(tau) / 1e3,
            unit: Unit::Second,
            origin: Some(origin(tau_assumed)),
            u: athlete.tau_u_s(),
        },
    ];
    let (v_max, tau_s) = (runner.top_speed_m_s, runner.tau_s);
    let by_time = |t: f64| format!("{v_max:.2}·(1 − e^(−{t:.3}/{tau_s:.2})) = {value:.2} m/s");
    let by_metres = |metres: f64| {
        let t = runner.time_to(metres);
        let s = metres / (v_max * tau_s);
        format!("s = {s:.3}, t = {t:.3} s; {}", by_time(t))
    };
    let length = if set.approach.is_some() { Origin::Stated } else { set.usual_origin() };
    const STRIDES: &str = "t = n/f; v = v_max·(1 − e^(−t/τ))";
    const METRES: &str = "s = x/(v_max·τ); t = τ·(1 + s + W₀(−e^(−(1+s)))); v = v_max·(1 − e^(−t/τ))";
    const BY_STRIDE: &str =
        "x = n·l; s = x/(v_max·τ); t = τ·(1 + s + W₀(−e^(−(1+s)))); v = v_max·(1 − e^(−t/τ))";
    let (symbols, numbers, source) = match (set.last_10_m_ms, set.run_in()) {
        (Some(ms), _) => {
            let seconds = f64::from(ms) / 1e3;
            let input = Input::new(seconds, Origin::Measured);
            terms = vec![term(What::LastTen, "t₁₀", input, Unit::Second)];
            let numbers = format!("10/{seconds:.3} = {value:.2} m/s");
            ("v = 10 m/t₁₀", numbers, "the mean speed over the last ten metres stands for that at their end")
        }
        (None, Approach::Standing) => return None,
        (None, Approach::TimedSpeed(_)) => {
            terms = vec![term(What::RunInSpeed, "v", speed, Unit::MetrePerSecond)];
            ("v", format!("{value:.2} m/s"), "timed at the end of the run-in")
        }
        (None, Approach::Strides(n)) => {
            terms.push(term(What::Strides, "n", Input::new(f64::from(n), length), Unit::One));
            match athlete.stride_mm {
                Some(mm) => {
                    let stride = f64::from(mm) / 1e3;
                    terms.push(term(What::Stride, "l", Input::new(stride, Origin::Stated), Unit::Metre));
                    let metres = f64::from(n) * stride;
                    let numbers = format!("x = {n}·{stride:.2} = {metres:.2} m; {}", by_metres(metres));
                    (BY_STRIDE, numbers, Acceleration::model())
                }
                None => {
                    let rate = Input::new(STRIDES_PER_S, STRIDE_RATE);
                    terms.push(term(What::StrideRate, "f", rate, Unit::PerSecond));
                    let t = f64::from(n) / STRIDES_PER_S;
                    let numbers = format!("t = {n}/{STRIDES_PER_S} = {t:.3} s; {}", by_time(t));
                    (STRIDES, numbers, Acceleration::source())
                }
            }
        }
        (None, Approach::Millimetres(mm)) => {
            let metres = f64::from(mm) / 1e3;
            terms.push(term(What::RunIn, "x", Input::new(metres, length), Unit::Metre));
            (METRES, by_metres(metres), Acceleration::model())
        }
    };
    let without_u = without_u(&terms);
    Some(Unfolded {
        what: What::RunInSpeed,
        terms,
        symbols,
        numbers,
        source,
        value,
        unit: Unit::MetrePerSecond,
        u: speed.u,
        without_u,
    })
}

/// The speed at touchdown, and after the contact where one is lost in it.
fn travel<'a>(set: &Performed<'a>, contact: &ContactLoad<'a>) -> Vec<Unfolded<'a>> {
    let speed = contact.inputs.speed_m_s;
    let Some(usual) = set.usual_at(contact.place) else { return Vec::new() };
    let plain = |terms: Vec<Term<'a>>, symbols, numbers, source| Unfolded {
        what: What::Speed,
        without_u: without_u(&terms),
        terms,
        symbols,
        numbers,
        source,
        value: speed.value,
        unit: Unit::MetrePerSecond,
        u: speed.u,
    };
    let mut numbers = Vec::new();
    match usual.speed {
        Speed::Fixed { mm_s: 0 } => {}
        Speed::Fixed { .. } => numbers.push(plain(
            vec![term(What::Speed, "v_h", speed, Unit::MetrePerSecond)],
            "v_h",
            format!("{:.2} m/s", speed.value),
            "as the exercise says: out of a stand speed is gained from contact to contact",
        )),
        Speed::TopShare { per_mille } => {
            let (top, assumed) = set.athlete.top_speed();
            let (top, share) = (f64::from(top) / 1e3, f64::from(per_mille) / 1e3);
            let top_speed = Input {
                value: top,
                origin: assumed.map_or(Origin::Stated, Origin::from),
                u: set.athlete.top_speed_u_m_s(),
            };
            numbers.push(plain(
                vec![
                    term(What::TopSpeed, "v_max", top_speed, Unit::MetrePerSecond),
                    term(What::TopShare, "p", Input::new(share, set.usual_origin()), Unit::One),
                ],
                "v_h = p·v_max",
                format!("{share:.3}·{top:.2} = {:.2} m/s", speed.value),
                "as the exercise says: a share of the top speed",
            ));
        }
        Speed::Approach { less_mm_s, cap_mm_s } => {
            let run_in = set.run_in_speed();
            let (kept, origin) = set.kept(contact.place);
            let mut terms = vec![
                given(What::RunInSpeed, "v", run_in.value, Unit::MetrePerSecond, run_in.u),
                term(What::Kept, "k", Input::new(kept, origin), Unit::One),
            ];
            let (cap, less) = (f64::from(cap_mm_s) / 1e3, f64::from(less_mm_s) / 1e3);
            let capped = run_in.value > cap;
            if contact.place == 0 {
                terms.pop();
            }
            let taken = run_in.value.min(cap);
            let off = if less > 0.0 { format!(" − {less:.2}") } else { String::new() };
            let symbols = match (capped, less > 0.0) {
                (false, false) => "v_h = v·k",
                (false, true) => "v_h = v·k − what it costs",
                (true, false) => "v_h = the exercise's cap·k",
                (true, true) => "v_h = the exercise's cap·k − what it costs",
            };
            let told = format!("{taken:.2}·{kept:.3}{off} = {:.2} m/s", speed.value);
            const SOURCE: &str = "speed of the run-in less what the contacts before cost: in a triple jump 8.5 and \
                                  15.1 % from flight to flight, Fukashiro et al. 1981, Med Sci Sports Exerc 13:233–237; \
                                  in other series a share for each contact, 4 % where nothing else is said, an \
                                  estimate of ours";
            numbers.push(plain(terms, symbols, told, SOURCE));
            if let (Some(loss), Some(after)) = (contact.inputs.loss, contact.speed_after_m_s())
                && loss.value > 0.0
            {
                let terms = vec![
                    given(What::Speed, "v_h", speed.value, Unit::MetrePerSecond, speed.u),
                    term(What::Lost, "q", loss, Unit::One),
                ];
                numbers.push(Unfolded {
                    what: What::SpeedAfter,
                    without_u: without_u(&terms),
                    terms,
                    symbols: "v_after = v_h·(1 − q)",
                    numbers: format!("{:.2}·(1 − {:.3}) = {after:.2} m/s", speed.value, loss.value),
                    source: SOURCE,
                    value: after,
                    unit: Unit::MetrePerSecond,
                    u: speed.u.map(|u| u * (1.0 - loss.value)),
                });
            }
        }
    }
    numbers
}

/// What landing and push are summed from.
struct Sum<'a, 'b> {
    contact: &'b ContactLoad<'a>,
    down: f64,
    down_u: Option<f64>,
    /// Standard uncertainty of the toe-off that contact and flight after it share, s.
    toe_off_u: f64,
    /// The contact before the place, and the flight, rest on the same reading: a set whose flights before and after
    /// are one mean.
    one_flight: bool,
}

impl<'a, 'b> Sum<'a, 'b> {
    fn of(contact: &'b ContactLoad<'a>, set: &Performed<'a>) -> Self {
        let toe_off_us = set.timed_at(contact.place).toe_off_u_us;
        let down_u = down(contact).u;
        let one_flight = match (contact.inputs.before, contact.inputs.flight_s) {
            (Before::Flight(before), Some(after)) => {
                before.origin == Origin::Measured && before == after && set.timed.len() == 1
            }
            _ => false,
        };
        Self {
            contact,
            down: contact.down_m_s(),
            down_u,
            toe_off_u: toe_off_us.map_or(0.0, |us| f64::from(us) / 1e6),
            one_flight,
        }
    }

    fn load(&self) -> f64 {
        self.contact.inputs.load_share.map_or(1.0, |share| 1.0 + share.value)
    }

    fn legs(&self) -> f64 {
        f64::from(self.contact.legs().count())
    }

    fn weights(&self) -> Unit {
        match self.contact.per_mass {
            super::contact::PerMass::Body => Unit::BodyWeight,
            super::contact::PerMass::System => Unit::SystemWeight,
        }
    }

    fn load_term(&self) -> Option<Term<'a>> {
        self.contact.inputs.load_share.map(|share| term(What::LoadShare, "L", share, Unit::One))
    }

    fn closing_speed(&self) -> Unfolded<'a> {
        let inputs = &self.contact.inputs;
        let (speed, angle) = (inputs.speed_m_s, inputs.angle_deg);
        let (sin, cos) = angle.value.to_radians().sin_cos();
        let value = self.contact.landing.closing_speed_m_s;
        let terms = vec![
            given(What::DownSpeed, "v_down", self.down, Unit::MetrePerSecond, self.down_u),
            given(What::Speed, "v_h", speed.value, Unit::MetrePerSecond, speed.u),
            term(What::Angle, "α", angle, Unit::Degree),
        ];
        Unfolded {
            what: What::ClosingSpeed,
            without_u: without_u(&terms),
            terms,
            symbols: "v = v_down·sin α + v_h·cos α",
            numbers: format!(
                "{:.3}·sin {2:.1}° + {:.2}·cos {2:.1}° = {value:.3} m/s",
                self.down, speed.value, angle.value
            ),
            source: Landing::source(),
            value,
            unit: Unit::MetrePerSecond,
            u: joined([self.down_u.map(|u| u * sin), speed.u.map(|u| u * cos)]),
        }
    }

    fn energy(&self) -> Unfolded<'a> {
        let closing = self.closing_speed();
        let value = self.contact.landing.energy_j_per_kg_per_leg;
        let (legs, v) = (self.legs(), closing.value);
        let mut terms = vec![
            given(What::ClosingSpeed, "v", v, Unit::MetrePerSecond, closing.u),
            given(What::Legs, "legs", legs, Unit::One, None),
        ];
        terms.extend(self.load_term());
        let (symbols, numbers) = match self.contact.inputs.load_share {
            None => ("e = v²/(2·legs)", format!("{v:.3}²/(2·{legs}) = {value:.3} J/kg")),
            Some(share) => (
                "e = v²/(2·legs)·(1 + L)",
                format!("{v:.3}²/(2·{legs})·(1 + {:.3}) = {value:.3} J/kg", share.value),
            ),
        };
        Unfolded {
            what: What::Energy,
            without_u: without_u(&terms),
            terms,
            symbols,
            numbers,
            source: Landing::source(),
            value,
            unit: Unit::JoulePerKilogram,
            // de/dv = v/legs·(1 + L).
            u: closing.u.map(|u| u * v / legs * self.load()),
        }
    }

    /// Standard uncertainty of `value(v_down, tc, tf₂)`, the toe-off shared and, of a set with one mean flight, the
    /// flight before with the one after.
    fn u_of_push(&self, flight: Input<'a>, value: impl Fn(f64, f64, f64) -> f64) -> Option<f64> {
        let contact = self.contact.inputs.contact_s;
        let (down, tc, tf) = (self.down, contact.value, flight.value);
        if self.down_u.is_none() && contact.u.is_none() && flight.u.is_none() {
            return None;
        }
        let by_down = if down == 0.0 {
            (value(1e-6, tc, tf) - value(0.0, tc, tf)) / 1e-6
        } else {
            slope(|v| value(v, tc, tf), down)
        };
        let by_contact = slope(|t| value(down, t, tf), tc);
        let mut by_flight = slope(|t| value(down, tc, t), tf);
        let mut down_u = self.down_u.unwrap_or(0.0);
        if self.one_flight {
            // v_down = g·tf/2 of the very same reading.
            by_flight += by_down * G / 2.0;
            down_u = 0.0;
        }
        let shared = match (contact.u, flight.u) {
            (Some(_), Some(_)) => -self.toe_off_u * self.toe_off_u,
            _ => 0.0,
        };
        let variance = (by_down * down_u).powi(2)
            + (by_contact * contact.u.unwrap_or(0.0)).powi(2)
            + (by_flight * flight.u.unwrap_or(0.0)).powi(2)
            + 2.0 * by_contact * by_flight * shared;
        Some(variance.max(0.0).sqrt())
    }

    fn push_terms(&self, flight: Input<'a>) -> Vec<Term<'a>> {
        let up = up(self.contact, flight);
        let mut terms = vec![
            given(What::DownSpeed, "v_down", self.down, Unit::MetrePerSecond, self.down_u),
            given(What::UpSpeed, "v_up", up.value, Unit::MetrePerSecond, up.u),
            term(What::Contact, "tc", self.contact.inputs.contact_s, Unit::Second),
        ];
        terms.extend(self.load_term());
        terms
    }

    fn mean_of(&self, down: f64, contact: f64, flight: f64) -> f64 {
        let up = FlightSpeeds::over(flight, self.contact.inputs.rise_after_m).up;
        mean_force_bw(down, up, contact) * self.load()
    }

    fn mean_force(&self, flight: Input<'a>) -> Unfolded<'a> {
        let legs = self.legs();
        let mut terms = self.push_terms(flight);
        terms.push(given(What::Legs, "legs", legs, Unit::One, None));
        let contact = self.contact.inputs.contact_s.value;
        let value = self.mean_of(self.down, contact, flight.value) / legs;
        let up = FlightSpeeds::over(flight.value, self.contact.inputs.rise_after_m).up;
        let unit = self.weights();
        let (symbols, load) = match self.contact.inputs.load_share {
            None => ("F̄ = (1 + (v_down + v_up)/(g·tc))/legs", String::new()),
            Some(share) => {
                ("F̄ = (1 + (v_down + v_up)/(g·tc))·(1 + L)/legs", format!("·(1 + {:.3})", share.value))
            }
        };
        Unfolded {
            what: What::MeanForce,
            without_u: without_u(&terms),
            terms,
            symbols,
            numbers: format!(
                "(1 + ({:.3} + {up:.3})/(9.81·{contact:.3})){load}/{legs} = {value:.2} {}",
                self.down,
                match unit {
                    Unit::SystemWeight => "weights of body and load",
                    _ => "BW",
                }
            ),
            source: Push::source(),
            value,
            unit,
            u: self.u_of_push(flight, |v, tc, tf| self.mean_of(v, tc, tf) / legs),
        }
    }

    fn peak(&self, push: &Push, flight: Input<'a>) -> Unfolded<'a> {
        let terms = self.push_terms(flight);
        let whole = push.mean_force_bw_per_leg * self.legs();
        let value = push.peak_bw_estimate;
        Unfolded {
            what: What::PeakForce,
            without_u: without_u(&terms),
            terms,
            symbols: "F_peak = (π/2)·F̄·legs",
            numbers: format!("1.571·{whole:.2} = {value:.2}, without the impact"),
            source: "a half sine with the same mean: Morin et al. 2005, J Appl Biomech 21:167–180; an estimate without \
                     the impact, which can be several times as high",
            value,
            unit: self.weights(),
            u: self.u_of_push(flight, |v, tc, tf| peak_from_mean(self.mean_of(v, tc, tf))),
        }
    }

    fn height(&self, value: f64, flight: Input<'a>) -> Unfolded<'a> {
        let rise = self.contact.inputs.rise_after_m;
        let of = |seconds: f64| fall_height(FlightSpeeds::over(seconds, rise).up.max(0.0));
        let terms = vec![term(What::FlightAfter, "tf₂", flight, Unit::Second)];
        let (symbols, numbers) = if rise == 0.0 {
            ("h = g·tf₂²/8", format!("9.81·{:.3}²/8 = {value:.3} m", flight.value))
        } else {
            let up = FlightSpeeds::over(flight.value, rise).up;
            ("h = v_up²/(2·g)", format!("{up:.3}²/(2·9.81) = {value:.3} m"))
        };
        Unfolded {
            what: What::Height,
            without_u: without_u(&terms),
            terms,
            symbols,
            numbers,
            source: "Bosco, Luhtanen & Komi 1983, Eur J Appl Physiol 50:273–282",
            value,
            unit: Unit::Metre,
            u: flight.u.map(|u| u * slope(of, flight.value).abs()),
        }
    }

    fn reactive_strength(&self, height: f64, flight: Input<'a>) -> Unfolded<'a> {
        let rise = self.contact.inputs.rise_after_m;
        let of =
            |contact: f64, seconds: f64| fall_height(FlightSpeeds::over(seconds, rise).up.max(0.0)) / contact;
        let contact = self.contact.inputs.contact_s;
        let terms = vec![
            term(What::FlightAfter, "tf₂", flight, Unit::Second),
            term(What::Contact, "tc", contact, Unit::Second),
        ];
        let value = of(contact.value, flight.value);
        let (by_contact, by_flight) =
            (slope(|t| of(t, flight.value), contact.value), slope(|t| of(contact.value, t), flight.value));
        let u = joined([contact.u.map(|u| u * by_contact), flight.u.map(|u| u * by_flight)]);
        let shared = match (contact.u, flight.u) {
            (Some(_), Some(_)) => -2.0 * by_contact * by_flight * self.toe_off_u * self.toe_off_u,
            _ => 0.0,
        };
        Unfolded {
            what: What::ReactiveStrength,
            without_u: without_u(&terms),
            terms,
            symbols: "RSI = h/tc",
            numbers: format!("{height:.3}/{:.3} = {value:.3} m/s", contact.value),
            source: "Young 1995; Flanagan & Comyns 2008, Strength Cond J 30(5):32–38; with height and contact time \
                     beside it, for there is no table of norms",
            value,
            unit: Unit::MetrePerSecond,
            u: u.map(|u| (u * u + shared).max(0.0).sqrt()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::catalogue::{self, id};
    use crate::load::contact::repetition;
    use crate::load::performed::{Side, Timed};

    fn find(numbers: &[Unfolded<'_>], what: What) -> Unfolded<'static> {
        let found = numbers.iter().find(|number| number.what == what).expect("there");
        // Only what is compared below.
        Unfolded {
            terms: Vec::new(),
            what: found.what,
            symbols: found.symbols,
            numbers: found.numbers.clone(),
            source: found.source,
            value: found.value,
            unit: found.unit,
            u: found.u,
            without_u: found.without_u.clone(),
        }
    }

    #[track_caller]
    fn close(left: f64, right: f64) {
        assert!((left - right).abs() <= 1e-6 * right.abs().max(1.0), "{left} {right}");
    }

    /// Every number that is unfolded is the one that the contact has, of every exercise.
    #[test]
    fn what_is_unfolded_is_what_was_computed() {
        for item in catalogue::all() {
            let exercise = item.exercise;
            let on_one = exercise.series.iter().any(|c| c.legs.count() == 1);
            let set = Performed::usual(&exercise, 1, if on_one { Side::Left } else { Side::Both });
            for contact in repetition(&set).expect("sound") {
                let numbers = unfold(&set, &contact);
                close(find(&numbers, What::ClosingSpeed).value, contact.landing.closing_speed_m_s);
                let closing = find(&numbers, What::ClosingSpeed).value;
                let energy = find(&numbers, What::Energy);
                close(energy.value, contact.landing.energy_j_per_kg_per_leg);
                let share = contact.inputs.load_share.map_or(0.0, |share| share.value);
                close(
                    energy.value,
                    closing * closing / 2.0 / f64::from(contact.legs().count()) * (1.0 + share),
                );
                if let Some(push) = contact.push {
                    close(find(&numbers, What::MeanForce).value, push.mean_force_bw_per_leg);
                    close(find(&numbers, What::PeakForce).value, push.peak_bw_estimate);
                }
                // Nothing was measured: nothing has an uncertainty, and each input is named for it.
                for number in &numbers {
                    assert_eq!(number.u, None, "{}: {:?}", exercise.name, number.what);
                    assert!(!number.numbers.is_empty() && !number.source.is_empty());
                }
            }
        }
    }

    /// tc 0.249, tf 0.487 at 240 frames a second, frames alone: u(RSI)/RSI = 1.20 %, 0.0140 m/s on 1.168, where
    /// contact and flight taken as independent give 0.98 % (computed apart from the product).
    #[test]
    fn the_toe_off_that_contact_and_flight_share_counts_twice() {
        let jump = catalogue::find(id::DROP_JUMP).expect("there").exercise;
        let frame_us = 1e6 / 240.0;
        let (u, toe_off) = ((frame_us / 6_f64.sqrt()) as u32, (frame_us / 12_f64.sqrt()) as u32);
        let mut timed = [Timed {
            contact_us: Some(249_000),
            flight_us: Some(487_000),
            contact_u_us: Some(u),
            flight_u_us: Some(u),
            toe_off_u_us: Some(toe_off),
            ..Timed::default()
        }];
        let strength = |timed: &[Timed]| {
            let mut set = Performed::usual(&jump, 1, Side::Both);
            set.timed = timed;
            let contact = repetition(&set).expect("sound")[0];
            find(&unfold(&set, &contact), What::ReactiveStrength)
        };
        let rsi = strength(&timed);
        assert!((rsi.u.expect("known") - 0.0140).abs() < 0.00005, "{rsi:?}");
        timed[0].toe_off_u_us = None;
        let rsi = strength(&timed);
        assert!((rsi.u.expect("known") / rsi.value - 0.0098).abs() < 0.00005, "{rsi:?}");
    }

    /// A pogo timed by one mean contact and one mean flight: F̄ = (1 + tf/tc)/2 with the flight counted once.
    #[test]
    fn one_mean_flight_is_one_reading() {
        let pogo = catalogue::find(id::POGO).expect("there").exercise;
        let timed = [Timed {
            contact_us: Some(180_000),
            flight_us: Some(480_000),
            contact_u_us: Some(2_000),
            flight_u_us: Some(3_000),
            ..Timed::default()
        }];
        let mut set = Performed::usual(&pogo, 10, Side::Both);
        set.timed = &timed;
        let contact = repetition(&set).expect("sound")[0];
        let force = find(&unfold(&set, &contact), What::MeanForce);
        let (tc, tf) = (0.18, 0.48);
        close(force.value, (1.0 + tf / tc) / 2.0);
        let wanted = (0.003 / tc / 2.0_f64).hypot(tf / (tc * tc) / 2.0 * 0.002);
        close(force.u.expect("known"), wanted);
        assert_eq!(force.without_u, []);
    }

    #[test]
    fn a_number_names_what_no_uncertainty_is_known_of() {
        let hops = catalogue::find(id::HOPS_RUN_IN).expect("there").exercise;
        let mut set = Performed::usual(&hops, 1, Side::Left);
        set.athlete.top_speed_mm_s = Some(9_000);
        set.athlete.top_speed_u_mm_s = Some(200);
        let contacts = repetition(&set).expect("sound");
        let numbers = unfold(&set, &contacts[1]);
        let run_in = find(&numbers, What::RunInSpeed);
        assert_eq!(run_in.without_u, [What::Tau, What::StrideRate]);
        let speed = find(&numbers, What::Speed);
        close(speed.u.expect("known"), run_in.u.expect("known") * 0.96);
        close(speed.value, run_in.value * 0.96);
        let closing = find(&numbers, What::ClosingSpeed);
        assert_eq!(closing.without_u, [What::Angle]);
        close(closing.u.expect("known"), speed.u.expect("known") * 66_f64.to_radians().cos());
    }

    #[test]
    fn formulas_are_told_with_their_numbers() {
        let jump = catalogue::find(id::DROP_JUMP).expect("there").exercise;
        let mut set = Performed::usual(&jump, 1, Side::Both);
        set.box_mm = Some(400);
        let contact = repetition(&set).expect("sound")[0];
        let numbers = unfold(&set, &contact);
        assert_eq!(find(&numbers, What::DownSpeed).numbers, "√(2·9.81·0.400) = 2.801 m/s");
        assert_eq!(find(&numbers, What::Energy).numbers, "2.801²/(2·2) = 1.962 J/kg");
        let terms: Vec<_> =
            numbers[0].terms.iter().map(|term| (term.what, term.value, term.origin)).collect();
        assert_eq!(terms, [(What::Fall, 0.4, Some(Origin::Stated))]);
    }
}
