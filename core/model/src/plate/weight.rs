//! Body weight from quiet standing.
//!
//! One second of quiet standing is common practice in jump testing (Owen et
//! al. 2014, J Strength Cond Res 28(6):1552–1558, from memory). Whoever lands
//! and sways gives no weight, so a second that is not still is not taken.

use std::ops::Range;

use super::error::ReadingError;
use super::phase::Phase;
use super::record::{LARGEST_N, Record};

/// Standard deviation up to which standing counts as quiet, as a share of the
/// mean. Ours, with no source: standing still stays near 1 %, the noise of an
/// ordinary plate included; stepping and swaying after a landing do not.
const QUIET: f64 = 0.03;

/// Samples that a second must hold, for its spread to mean anything.
const LEAST_SAMPLES: usize = 10;

/// Where the body weight comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Weight {
    /// From the steadiest second on the ground; no weight where none is quiet.
    #[default]
    Found,
    /// A number, N.
    Given(f64),
    /// The mean from one time to another, s; the first sample is at 0.
    Window {
        /// Where quiet standing begins.
        from_s: f64,
        /// Where it ends.
        to_s: f64,
    },
}

/// A body weight with its origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BodyWeight {
    /// The weight, N.
    pub newtons: f64,
    /// Where it comes from.
    pub source: WeightSource,
}

/// What a body weight was taken from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WeightSource {
    /// A person's word.
    Given,
    /// The mean over standing.
    Standing {
        /// Its first sample, s.
        from_s: f64,
        /// The sample after its last, s.
        to_s: f64,
        /// The standard deviation within it, N.
        deviation_n: f64,
        /// Whether the second was searched for, not stated.
        found: bool,
    },
}

impl Weight {
    /// The weight; `None` where no quiet second is found. `force_n` is the
    /// record with the offset taken off.
    pub(super) fn of(
        self,
        record: &Record,
        force_n: &[f64],
        phases: &[Phase],
        threshold_n: f64,
    ) -> Result<Option<BodyWeight>, ReadingError> {
        match self {
            Self::Found => Ok(steadiest(record, force_n, phases)),
            Self::Given(found) if found > 0.0 && found <= LARGEST_N => {
                Ok(Some(BodyWeight { newtons: found, source: WeightSource::Given }))
            }
            Self::Given(found) => Err(ReadingError::Weight { found }),
            Self::Window { from_s, to_s } => {
                let record_s = record.duration_s();
                let outside = ReadingError::Window { from_s, to_s, record_s };
                let samples = window(record, from_s, to_s).ok_or(outside)?;
                let low = samples.clone().find(|sample| force_n[*sample] < threshold_n);
                if let Some(low) = low {
                    let at_s = record.at_s(low);
                    return Err(ReadingError::NotStanding { from_s, to_s, at_s, threshold_n });
                }
                Ok(Some(standing(record, force_n, samples, false)))
            }
        }
    }
}

/// The samples from one time to another, at least one.
fn window(record: &Record, from_s: f64, to_s: f64) -> Option<Range<usize>> {
    // Half a sample beyond the end is rounding, not another record.
    let longest = record.duration_s() + 0.5 / record.rate_hz();
    if !(from_s >= 0.0 && from_s < to_s && to_s <= longest) {
        return None;
    }
    let nearest = |seconds: f64| (seconds * record.rate_hz()).round() as usize;
    let samples = nearest(from_s)..nearest(to_s).min(record.force_n().len());
    (!samples.is_empty()).then_some(samples)
}

/// The second on the ground whose force spreads least, if it is quiet.
fn steadiest(record: &Record, force_n: &[f64], phases: &[Phase]) -> Option<BodyWeight> {
    let length = record.rate_hz().round() as usize;
    if length < LEAST_SAMPLES {
        return None;
    }
    let count = length as f64;
    let mut least: Option<(f64, usize)> = None;
    for phase in phases.iter().filter(|phase| phase.grounded && phase.samples.len() >= length) {
        let force = &force_n[phase.samples.clone()];
        // Sums around a value nearby, so that their difference keeps its digits.
        let near = force[..length].iter().sum::<f64>() / count;
        let mut sum = 0.0;
        let mut squares = 0.0;
        for (sample, newton) in force.iter().enumerate() {
            let enters = newton - near;
            sum += enters;
            squares += enters * enters;
            if let Some(gone) = sample.checked_sub(length) {
                let leaves = force[gone] - near;
                sum -= leaves;
                squares -= leaves * leaves;
            }
            if sample + 1 >= length {
                let variance = squares / count - (sum / count).powi(2);
                if least.is_none_or(|(least, _)| variance < least) {
                    least = Some((variance, phase.samples.start + sample + 1 - length));
                }
            }
        }
    }
    let (_, start) = least?;
    let weight = standing(record, force_n, start..start + length, true);
    let WeightSource::Standing { deviation_n, .. } = weight.source else { return None };
    (weight.newtons > 0.0 && deviation_n <= QUIET * weight.newtons).then_some(weight)
}

/// Mean and standard deviation over samples, of which there is at least one.
fn standing(record: &Record, force_n: &[f64], samples: Range<usize>, found: bool) -> BodyWeight {
    let (from_s, to_s) = (record.at_s(samples.start), record.at_s(samples.end));
    let force = &force_n[samples];
    let count = force.len() as f64;
    let newtons = force.iter().sum::<f64>() / count;
    let variance = force.iter().map(|newton| (newton - newtons).powi(2)).sum::<f64>() / count;
    let deviation_n = variance.sqrt();
    BodyWeight { newtons, source: WeightSource::Standing { from_s, to_s, deviation_n, found } }
}
