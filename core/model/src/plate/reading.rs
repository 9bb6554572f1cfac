//! A record and its conventions → contacts and flights, with what they weigh.
//!
//! * Contact: the force is at the threshold or above. Blips too short for a contact and
//!   gaps too short for a flight count for what is around them.
//! * Height from flight, h = g·tf²/8: Bosco, Luhtanen & Komi 1983, Eur J Appl Physiol
//!   50:273–282 (value from memory); reactive strength h/tc: Young 1995; Flanagan &
//!   Comyns 2008 (values from memory). Only where the body leaves and lands in the same
//!   posture.

use super::error::ReadingError;
use super::phase::{Phase, phases};
use super::record::{LARGEST_N, Record};
use super::weight::{BodyWeight, Weight};
use crate::load::ballistics::flight_height;
use crate::load::force::reactive_strength;

/// What is taken off the force before anything else.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Offset {
    /// Nothing: the record as it is.
    #[default]
    Zero,
    /// A number, N.
    Given(f64),
    /// The smallest force of the record.
    Minimum,
    /// The mean of the flights, found on the record as it is.
    Flight,
}

/// The conventions of a reading. They are stated with every result.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// From this force on, N, there is contact. Default 20.
    pub threshold_n: f64,
    /// What is taken off first.
    pub offset: Offset,
    /// The shortest contact, s. Default 0.02: a third of the shortest in sprinting.
    /// Ours, no source.
    pub least_contact_s: f64,
    /// The shortest flight, s. Default 0.02. Ours, no source.
    pub least_flight_s: f64,
    /// Where the body weight comes from.
    pub weight: Weight,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            threshold_n: 20.0,
            offset: Offset::Zero,
            least_contact_s: 0.02,
            least_flight_s: 0.02,
            weight: Weight::Found,
        }
    }
}

/// A contact that lies in the record whole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Its first sample, s.
    pub start_s: f64,
    /// The first sample after it, s.
    pub end_s: f64,
    /// How long it lasted, s.
    pub duration_s: f64,
    /// The mean force, N.
    pub mean_n: f64,
    /// The largest force, N.
    pub peak_n: f64,
    /// The mean force in body weights.
    pub mean_bw: Option<f64>,
    /// The largest force in body weights.
    pub peak_bw: Option<f64>,
    /// Height of the flight after it over its duration, m/s; `None` where none follows.
    pub reactive_strength: Option<f64>,
}

/// A contact of which the record has only a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutContact {
    /// Its first sample, s; `None` where it began before the record.
    pub start_s: Option<f64>,
    /// The first sample after it, s; `None` where the record ends in it.
    pub end_s: Option<f64>,
    /// The largest force of the part, N.
    pub peak_n: f64,
    /// The same in body weights.
    pub peak_bw: Option<f64>,
}

/// A flight, between two contacts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flight {
    /// Its first sample, s.
    pub start_s: f64,
    /// The first sample after it, s.
    pub end_s: f64,
    /// How long it lasted, s.
    pub duration_s: f64,
    /// g·tf²/8, m.
    pub height_m: f64,
}

/// What a record says.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Samples a second.
    pub rate_hz: f64,
    /// The threshold, N.
    pub threshold_n: f64,
    /// What was taken off, N.
    pub offset_n: f64,
    /// The body weight, where there is one.
    pub weight: Option<BodyWeight>,
    /// The contacts that are there whole, in order.
    pub contacts: Vec<Contact>,
    /// Those at the ends of the record.
    pub cut: Vec<CutContact>,
    /// The flights, in order. A plate that is empty before the first contact or after
    /// the last is none.
    pub flights: Vec<Flight>,
}

impl Reading {
    /// Reads a record.
    ///
    /// # Errors
    /// [`ReadingError`] where a setting is impossible, or what it asks for is not there.
    pub fn of(record: &Record, settings: &Settings) -> Result<Self, ReadingError> {
        let threshold_n = settings.threshold_n;
        if !(threshold_n > 0.0 && threshold_n <= LARGEST_N) {
            return Err(ReadingError::Threshold { found: threshold_n });
        }
        let samples = |what, seconds: f64| {
            let may = (0.0..=1.0).contains(&seconds);
            if may {
                // Above by what a float is short of a whole number.
                Ok(((seconds * record.rate_hz() - 1e-9).ceil() as usize).max(1))
            } else {
                Err(ReadingError::Shortest { what, found: seconds })
            }
        };
        let least_contact = samples("contact", settings.least_contact_s)?;
        let least_flight = samples("flight", settings.least_flight_s)?;
        let cut = |force: &[f64]| {
            phases(force.iter().map(|newton| *newton >= threshold_n), least_contact, least_flight)
        };
        let offset_n = offset(record, settings.offset, threshold_n, cut)?;
        let force: Vec<f64> = record.force_n().iter().map(|newton| newton - offset_n).collect();
        let phases = cut(&force);
        let weight = settings.weight.of(record, &force, &phases, threshold_n)?;
        Ok(read(record, &force, &phases, threshold_n, offset_n, weight))
    }
}

fn offset(
    record: &Record,
    offset: Offset,
    threshold_n: f64,
    cut: impl Fn(&[f64]) -> Vec<Phase>,
) -> Result<f64, ReadingError> {
    let force = record.force_n();
    match offset {
        Offset::Zero => Ok(0.0),
        Offset::Given(newtons) if newtons.abs() <= LARGEST_N => Ok(newtons),
        Offset::Given(found) => Err(ReadingError::Offset { found }),
        Offset::Minimum => Ok(force.iter().copied().fold(f64::INFINITY, f64::min)),
        Offset::Flight => {
            let phases = cut(force);
            let flights =
                flights(&phases).flat_map(|phase| force.get(phase.samples.clone()).unwrap_or_default());
            let (sum, count) = flights.fold((0.0, 0_u32), |(sum, count), newton| (sum + newton, count + 1));
            if count == 0 { Err(ReadingError::NoFlight { threshold_n }) } else { Ok(sum / f64::from(count)) }
        }
    }
}

/// The stretches in the air that have ground on both sides.
fn flights(phases: &[Phase]) -> impl Iterator<Item = &Phase> {
    let last = phases.len().saturating_sub(1);
    phases
        .iter()
        .enumerate()
        .filter(move |(at, phase)| !phase.grounded && *at > 0 && *at < last)
        .map(|(_, p)| p)
}

fn read(
    record: &Record,
    force: &[f64],
    phases: &[Phase],
    threshold_n: f64,
    offset_n: f64,
    weight: Option<BodyWeight>,
) -> Reading {
    let in_weights = |newtons: f64| weight.map(|weight| newtons / weight.newtons);
    let times = |phase: &Phase| (record.at_s(phase.samples.start), record.at_s(phase.samples.end));
    let lasts = |phase: &Phase| record.at_s(phase.samples.len());
    let mut reading = Reading {
        rate_hz: record.rate_hz(),
        threshold_n,
        offset_n,
        weight,
        contacts: Vec::new(),
        cut: Vec::new(),
        flights: Vec::new(),
    };
    for phase in flights(phases) {
        let (start_s, end_s) = times(phase);
        let duration_s = lasts(phase);
        reading.flights.push(Flight { start_s, end_s, duration_s, height_m: flight_height(duration_s) });
    }
    let last = phases.len().saturating_sub(1);
    for (at, phase) in phases.iter().enumerate().filter(|(_, phase)| phase.grounded) {
        let (start_s, end_s) = times(phase);
        let within = force.get(phase.samples.clone()).unwrap_or_default();
        let peak_n = within.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        if at == 0 || at == last {
            reading.cut.push(CutContact {
                start_s: (at > 0).then_some(start_s),
                end_s: (at < last).then_some(end_s),
                peak_n,
                peak_bw: in_weights(peak_n),
            });
            continue;
        }
        let duration_s = lasts(phase);
        let mean_n = within.iter().sum::<f64>() / within.len() as f64;
        let flight = phases.get(at + 1).filter(|_| at + 1 < last);
        reading.contacts.push(Contact {
            start_s,
            end_s,
            duration_s,
            mean_n,
            peak_n,
            mean_bw: in_weights(mean_n),
            peak_bw: in_weights(peak_n),
            reactive_strength: flight.map(|flight| reactive_strength(lasts(flight), duration_s)),
        });
    }
    reading
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn record(parts: &[(usize, f64)]) -> Record {
        let force =
            parts.iter().flat_map(|(samples, newton)| std::iter::repeat_n(*newton, *samples)).collect();
        Record::new(force, 1000.0).unwrap()
    }

    fn read(parts: &[(usize, f64)], settings: &Settings) -> Result<Reading, ReadingError> {
        Reading::of(&record(parts), settings)
    }

    #[test]
    fn contacts_flights_and_what_is_cut() {
        let parts = [(100, 1.0), (200, 900.0), (400, 2.0), (250, 1200.0), (300, 0.0)];
        let settings = Settings { weight: Weight::Given(600.0), ..Settings::default() };
        let reading = read(&parts, &settings).unwrap();
        let contact = reading.contacts[0];
        assert_eq!((contact.start_s, contact.end_s, contact.duration_s), (0.1, 0.3, 0.2));
        assert_eq!((contact.mean_bw, contact.peak_bw), (Some(1.5), Some(1.5)));
        // h = 9.81 · 0.16 / 8 = 0.1962 m, over 0.2 s.
        assert!((reading.flights[0].height_m - 0.1962).abs() < 1e-12);
        assert!((contact.reactive_strength.unwrap() - 0.981).abs() < 1e-12);
        assert_eq!((reading.flights.len(), reading.contacts.len()), (1, 2));
        assert_eq!(reading.contacts[1].reactive_strength, None, "an empty plate is no flight");
        let cut = read(&[(50, 700.0), (300, 0.0), (60, 800.0)], &Settings::default()).unwrap();
        assert!(cut.contacts.is_empty());
        assert_eq!((cut.cut[0].start_s, cut.cut[0].end_s), (None, Some(0.05)));
        assert_eq!((cut.cut[1].start_s, cut.cut[1].end_s, cut.cut[1].peak_bw), (Some(0.35), None, None));
        assert_eq!(cut.flights.len(), 1);
        let empty = read(&[(500, 0.0)], &Settings::default()).unwrap();
        assert!(empty.contacts.is_empty() && empty.flights.is_empty() && empty.cut.is_empty());
    }

    #[test]
    fn offsets_are_taken_off_before_the_threshold() {
        let parts = [(50, 700.0), (300, 30.0), (60, 800.0)];
        let with = |offset| read(&parts, &Settings { offset, ..Settings::default() });
        assert!(with(Offset::Zero).unwrap().flights.is_empty(), "30 N are above 20");
        assert_eq!(with(Offset::Given(15.0)).unwrap().flights.len(), 1);
        let least = with(Offset::Minimum).unwrap();
        assert_eq!((least.offset_n, least.flights.len(), least.cut[1].peak_n), (30.0, 1, 770.0));
        assert_eq!(with(Offset::Flight), Err(ReadingError::NoFlight { threshold_n: 20.0 }));
        let higher = Settings { threshold_n: 40.0, offset: Offset::Flight, ..Settings::default() };
        assert_eq!(read(&parts, &higher).unwrap().offset_n, 30.0);
    }

    #[test]
    fn impossible_settings_are_refused() {
        let parts = [(50, 700.0), (300, 0.0), (60, 800.0)];
        let with = |settings: Settings| read(&parts, &settings).unwrap_err();
        let usual = Settings::default();
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(matches!(with(Settings { threshold_n: bad, ..usual }), ReadingError::Threshold { .. }));
        }
        for bad in [-0.1, 1.1, f64::NAN] {
            let contact = with(Settings { least_contact_s: bad, ..usual });
            assert!(matches!(contact, ReadingError::Shortest { what: "contact", .. }));
            let flight = with(Settings { least_flight_s: bad, ..usual });
            assert!(matches!(flight, ReadingError::Shortest { what: "flight", .. }));
        }
        for bad in [f64::NAN, f64::INFINITY, -2e7] {
            let offset = Offset::Given(bad);
            assert!(matches!(with(Settings { offset, ..usual }), ReadingError::Offset { .. }));
        }
        assert!(matches!(
            with(Settings { weight: Weight::Given(0.0), ..usual }),
            ReadingError::Weight { .. }
        ));
        let window = |from_s, to_s| with(Settings { weight: Weight::Window { from_s, to_s }, ..usual });
        assert!(matches!(window(0.3, 0.2), ReadingError::Window { .. }));
        assert!(matches!(window(0.0, 9.0), ReadingError::Window { .. }));
        assert!(matches!(window(0.0, 0.1), ReadingError::NotStanding { at_s, .. } if at_s == 0.05));
    }

    proptest! {
        /// Pulses on noise below the threshold come back as they were put in.
        #[test]
        fn pulses_come_back(
            pulses in prop::collection::vec((30_usize..400, 30_usize..400, 100.0..3000.0_f64), 1..8),
            noise in prop::collection::vec(-15.0..15.0_f64, 64),
        ) {
            let mut noise = noise.iter().cycle();
            let mut force: Vec<f64> = Vec::new();
            let mut air = |force: &mut Vec<f64>, samples| force.extend(noise.by_ref().take(samples));
            air(&mut force, 50);
            for (contact, flight, newton) in &pulses {
                force.extend(std::iter::repeat_n(*newton, *contact));
                air(&mut force, *flight);
            }
            let reading = Reading::of(&Record::new(force, 1000.0).unwrap(), &Settings::default()).unwrap();
            let found: Vec<usize> =
                reading.contacts.iter().map(|c| (c.duration_s * 1000.0).round() as usize).collect();
            prop_assert_eq!(found, pulses.iter().map(|(contact, _, _)| *contact).collect::<Vec<_>>());
            let flights: Vec<usize> =
                reading.flights.iter().map(|f| (f.duration_s * 1000.0).round() as usize).collect();
            let between: Vec<usize> = pulses.iter().rev().skip(1).rev().map(|(_, flight, _)| *flight).collect();
            prop_assert_eq!(flights, between);
        }
    }
}
