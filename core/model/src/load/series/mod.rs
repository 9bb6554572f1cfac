//! Loads day by day: rolling sums, moving averages, monotony, strain, ratios.
//!
//! The unit of a load is the caller's (session-RPE × minutes, contacts of one
//! kind, J/kg): sums, averages and strain have it too, monotony and ratios have
//! none. A day on which nothing was done has a load of 0 and must be known to be
//! such; a day that is not known is `None` and makes every figure over it
//! `None`: incomplete, never low.
//!
//! * [`average`]: exponentially weighted moving averages.
//! * [`spread`](mod@spread): monotony, strain, and the quotients of two means.
//! * [`smoothness`]: a course of weeks beside the minimum-jerk curve.
//! * [`table`]: dates and loads as a spreadsheet writes them.
//!
//! The acute:chronic ratios are here since people ask for them. They describe
//! and predict nothing: whatever stands under the fraction bar, fixed or at
//! random, goes with injuries nearly as well (Impellizzeri et al. 2020, Sports
//! Med, doi 10.1007/s40279-020-01378-6; Lolli et al. 2019, value from memory).
//! No range of them is offered, and wherever one is shown, this is said beside it.

pub mod average;
pub mod smoothness;
pub mod spread;
pub mod table;

use thiserror::Error;

use average::Average;
use spread::{monotony, quotient, strain};

/// Days of a week's figures, and of the acute average.
pub const WEEK: usize = 7;

/// Days of the chronic average.
pub const MONTH: usize = 28;

/// What a day's load was: zero or more, at most [`DayLoad::LARGEST`].
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct DayLoad(f64);

impl DayLoad {
    /// The load of a day of rest.
    pub const REST: Self = Self(0.0);

    /// The largest load that is taken, in whatever unit: it keeps every figure finite.
    pub const LARGEST: f64 = 1e9;

    /// A load; `None` where it is no number, below zero or above
    /// [`DayLoad::LARGEST`].
    #[must_use]
    pub fn new(load: f64) -> Option<Self> {
        // Adding zero takes the sign off a negative zero.
        (0.0..=Self::LARGEST).contains(&load).then_some(Self(load + 0.0))
    }

    /// The load, in the caller's unit.
    #[must_use]
    pub fn get(self) -> f64 {
        self.0
    }
}

/// The figures of one day, over it and the days before it.
///
/// `None` where a figure is undefined, before its window is full, and where a
/// day in the window is not known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Figures {
    /// The day's own load.
    pub load: Option<f64>,
    /// Sum of 7 days.
    pub sum_7: Option<f64>,
    /// Sum of 28 days.
    pub sum_28: Option<f64>,
    /// [Average] of span 7; from the first day on, see there.
    pub ewma_7: Option<f64>,
    /// [Average] of span 28; from the first day on, see there.
    pub ewma_28: Option<f64>,
    /// Known days in a row behind the averages. Below 28 their first day still
    /// weighs more than it would in a mean, and a ratio of them should be shown
    /// as "not enough days yet": see [`Average::seed_weight`].
    pub averaged_days: u32,
    /// Average of span 7 over that of span 28; undefined over zero.
    ///
    /// Williams et al. 2017, Br J Sports Med 51:209–210.
    pub ratio_ewma: Option<f64>,
    /// Mean of 7 days over the mean of 28, which these 7 are part of; at most 4.
    pub ratio_coupled: Option<f64>,
    /// Mean of 7 days over the mean of the 21 before them. With r for it, the
    /// coupled ratio is 4r/(r + 3).
    pub ratio_uncoupled: Option<f64>,
    /// [`monotony`] of 7 days.
    pub monotony: Option<f64>,
    /// [`strain`] of 7 days.
    pub strain: Option<f64>,
}

/// Consecutive days, counted from 0, with their figures kept up.
///
/// A day costs the same whatever stands before it, and changing one leaves
/// alone what cannot have changed; the figures are always those of a series
/// that is built anew from the same loads, to the last digit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Series {
    loads: Vec<Option<DayLoad>>,
    steps: Vec<Step>,
}

/// What one day adds: its figures, and the averages the next day goes on from.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Step {
    acute: Average,
    chronic: Average,
    figures: Figures,
}

/// A day was changed that the series does not have.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("day {at} (counted from 0) is not one of the {days} days of the series")]
pub struct NoSuchDay {
    /// The day asked for.
    pub at: usize,
    /// How many there are.
    pub days: usize,
}

impl Series {
    /// Adds the day after the last one; `None` where its load is not known.
    pub fn push(&mut self, load: Option<DayLoad>) {
        self.loads.push(load);
        let step = self.step(self.steps.len());
        self.steps.push(step);
    }

    /// Changes what is known of a day, and the figures that rest on it: those
    /// of 28 days and, of the averages, all up to the next day not known.
    ///
    /// # Errors
    /// [`NoSuchDay`]; nothing is changed.
    pub fn replace(&mut self, at: usize, load: Option<DayLoad>) -> Result<(), NoSuchDay> {
        let days = self.loads.len();
        let held = self.loads.get_mut(at).ok_or(NoSuchDay { at, days })?;
        *held = load;
        for day in at..days {
            let step = self.step(day);
            let Some(known) = self.steps.get_mut(day) else { break };
            let same = *known == step;
            *known = step;
            // No later window has the day in it, and the averages have met again.
            if same && day + 1 >= at + MONTH {
                break;
            }
        }
        Ok(())
    }

    /// The figures of every day, in order.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = &Figures> + DoubleEndedIterator {
        self.steps.iter().map(|step| &step.figures)
    }

    /// The figures of a day, counted from 0.
    #[must_use]
    pub fn get(&self, at: usize) -> Option<&Figures> {
        self.steps.get(at).map(|step| &step.figures)
    }

    /// How many days there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.loads.len()
    }

    /// Whether there is no day.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.loads.is_empty()
    }

    /// A day's step, from its loads and the step before it.
    fn step(&self, at: usize) -> Step {
        let before = at.checked_sub(1).and_then(|before| self.steps.get(before));
        let (mut acute, mut chronic) = before
            .map_or((Average::of_span(WEEK as u32), Average::of_span(MONTH as u32)), |step| {
                (step.acute, step.chronic)
            });
        let load = self.loads.get(at).copied().flatten();
        acute.push(load);
        chronic.push(load);
        let week = self.window::<WEEK>(at);
        let month = self.window::<MONTH>(at);
        let sum_7 = week.map(|week| week.iter().sum::<f64>());
        let sum_28 = month.map(|month| month.iter().sum::<f64>());
        // Summed apart: taking one sum off the other would leave a rest where there is none.
        let before_week = month.map(|month| month.iter().take(MONTH - WEEK).sum::<f64>());
        let mean = |sum: Option<f64>, days: usize| sum.map(|sum| sum / days as f64);
        let ratio = |acute: Option<f64>, chronic: Option<f64>| quotient(acute?, chronic?);
        let figures = Figures {
            load: load.map(DayLoad::get),
            sum_7,
            sum_28,
            ewma_7: acute.value(),
            ewma_28: chronic.value(),
            averaged_days: chronic.days(),
            ratio_ewma: ratio(acute.value(), chronic.value()),
            ratio_coupled: ratio(mean(sum_7, WEEK), mean(sum_28, MONTH)),
            ratio_uncoupled: ratio(mean(sum_7, WEEK), mean(before_week, MONTH - WEEK)),
            monotony: week.and_then(|week| monotony(&week)),
            strain: week.and_then(|week| strain(&week)),
        };
        Step { acute, chronic, figures }
    }

    /// The last `N` days up to a day, oldest first, where there are so many and all are known.
    fn window<const N: usize>(&self, at: usize) -> Option<[f64; N]> {
        let first = (at + 1).checked_sub(N)?;
        let mut window = [0.0; N];
        for (slot, load) in window.iter_mut().zip(self.loads.get(first..=at)?) {
            *slot = (*load)?.get();
        }
        Some(window)
    }
}

impl FromIterator<Option<DayLoad>> for Series {
    fn from_iter<I: IntoIterator<Item = Option<DayLoad>>>(loads: I) -> Self {
        let mut series = Self::default();
        for load in loads {
            series.push(load);
        }
        series
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn series(loads: &[f64]) -> Series {
        loads.iter().map(|load| DayLoad::new(*load)).collect()
    }

    fn last(series: &Series) -> Figures {
        *series.iter().next_back().unwrap()
    }

    #[test]
    fn a_load_is_a_number_from_zero_on() {
        for wrong in [-1.0, -f64::MIN_POSITIVE, f64::NAN, f64::INFINITY, 1.1e9] {
            assert_eq!(DayLoad::new(wrong), None, "{wrong}");
        }
        assert_eq!(DayLoad::new(0.0), Some(DayLoad::REST));
        assert!(DayLoad::new(-0.0).unwrap().get().is_sign_positive());
    }

    #[test]
    fn windows_are_none_until_they_are_full() {
        let loads: Vec<f64> = (0..30).map(f64::from).collect();
        let series = series(&loads);
        for (day, figures) in series.iter().enumerate() {
            let (week, month) = (day >= 6, day >= 27);
            assert_eq!(figures.sum_7.is_some(), week, "{day}");
            assert_eq!(figures.monotony.is_some(), week);
            assert_eq!(figures.strain.is_some(), week);
            assert_eq!(figures.sum_28.is_some(), month);
            assert_eq!(figures.ratio_coupled.is_some(), month);
            assert_eq!(figures.ratio_uncoupled.is_some(), month);
            assert!(figures.ewma_7.is_some() && figures.ewma_28.is_some());
            assert_eq!(figures.averaged_days as usize, day + 1);
        }
        assert_eq!(series.get(6).unwrap().sum_7, Some(21.0));
        assert_eq!(series.get(29).unwrap().sum_28, Some(434.0));
        assert_eq!(series.get(30), None);
    }

    #[test]
    fn an_unknown_day_is_incomplete_and_never_low() {
        let mut loads = vec![DayLoad::new(40.0); 80];
        loads[30] = None;
        let series: Series = loads.into_iter().collect();
        for (day, figures) in series.iter().enumerate() {
            let free_of = |window: usize| day + 1 >= window && !(30..30 + window).contains(&day);
            assert_eq!(figures.sum_7, free_of(7).then_some(280.0), "{day}");
            assert_eq!(figures.sum_28, free_of(28).then_some(1120.0), "{day}");
            assert_eq!(figures.ratio_coupled, free_of(28).then_some(1.0), "{day}");
            let averaged = |span: usize| day < 30 || day > 30 + span - 1;
            assert_eq!(figures.ewma_7.is_some(), averaged(7), "{day}");
            assert_eq!(figures.ewma_28.is_some(), averaged(28), "{day}");
        }
        assert_eq!(series.get(30).unwrap().load, None);
    }

    #[test]
    fn nothing_over_zero_is_a_ratio() {
        let rest = last(&series(&[0.0; 40]));
        assert_eq!(rest.sum_28, Some(0.0));
        let none = [rest.ratio_ewma, rest.ratio_coupled, rest.ratio_uncoupled, rest.monotony, rest.strain];
        assert_eq!(none, [None; 5]);
        // After three weeks of rest there is nothing to compare this week with, but itself.
        let mut loads = vec![0.0; 21];
        loads.extend([10.0; 7]);
        let begun = last(&series(&loads));
        assert_eq!((begun.ratio_uncoupled, begun.ratio_coupled), (None, Some(4.0)));
    }

    #[test]
    fn a_day_that_is_not_there_is_not_changed() {
        let mut days = series(&[1.0, 2.0]);
        let before = days.clone();
        assert_eq!(days.replace(2, None), Err(NoSuchDay { at: 2, days: 2 }));
        assert_eq!(days, before);
        assert_eq!((days.len(), days.is_empty(), Series::default().is_empty()), (2, false, true));
    }

    fn any_load() -> impl Strategy<Value = Option<DayLoad>> {
        prop_oneof![
            1 => Just(None),
            6 => Just(Some(DayLoad::REST)),
            12 => (0_u32..2_000).prop_map(|load| DayLoad::new(f64::from(load))),
            2 => (0.0..=DayLoad::LARGEST).prop_map(DayLoad::new),
            1 => Just(DayLoad::new(f64::MIN_POSITIVE)),
        ]
    }

    proptest! {
        #[test]
        fn kept_up_equals_computed_from_nothing(
            loads in prop::collection::vec(any_load(), 1..150),
            changes in prop::collection::vec((any::<prop::sample::Index>(), any_load()), 0..12),
        ) {
            let mut kept: Series = loads.iter().copied().collect();
            let mut loads = loads;
            for (at, load) in changes {
                let at = at.index(loads.len());
                loads[at] = load;
                kept.replace(at, load).unwrap();
                let anew: Series = loads.iter().copied().collect();
                prop_assert_eq!(&kept, &anew);
            }
        }

        /// Every figure again, each from its definition over the whole history.
        #[test]
        fn figures_are_what_they_are_defined_as(
            loads in prop::collection::vec(any_load(), 1..120),
        ) {
            let series: Series = loads.iter().copied().collect();
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1e-9);
            for (day, figures) in series.iter().enumerate() {
                let known = |from: usize, days: usize| -> Option<f64> {
                    let part = loads.get(from..from + days)?;
                    part.iter().map(|load| load.map(DayLoad::get)).sum()
                };
                let window = |days: usize| (day + 1).checked_sub(days).and_then(|from| known(from, days));
                prop_assert_eq!(figures.sum_7, window(7));
                prop_assert_eq!(figures.sum_28, window(28));
                if let Some(sum) = figures.sum_28 {
                    prop_assert_eq!(figures.ratio_coupled.is_some(), sum > 0.0);
                }
                if let (Some(coupled), Some(r)) = (figures.ratio_coupled, figures.ratio_uncoupled) {
                    prop_assert!(near(coupled, 4.0 * r / (r + 3.0)), "{coupled} {r}");
                }
                if let Some(coupled) = figures.ratio_coupled {
                    prop_assert!((0.0..=4.0 + 1e-9).contains(&coupled));
                }
                if let (Some(strain), Some(monotony), Some(sum)) =
                    (figures.strain, figures.monotony, figures.sum_7)
                {
                    prop_assert!(near(strain, sum * monotony));
                }
                // Weights λ(1−λ)^k back to the seed, which has what is left.
                let seed = loads[..=day].iter().rposition(Option::is_none).map_or(0, |gap| gap + 1);
                for (span, value) in [(7_usize, figures.ewma_7), (28, figures.ewma_28)] {
                    let run = &loads[seed..=day];
                    let shown = !run.is_empty() && (seed == 0 || run.len() >= span);
                    prop_assert_eq!(value.is_some(), shown);
                    let Some(value) = value else { continue };
                    let lambda = 2.0 / (span as f64 + 1.0);
                    let weighed: f64 = run.iter().rev().enumerate().map(|(back, load)| {
                        let left = (1.0 - lambda).powi(back as i32);
                        let weight = if back + 1 == run.len() { left } else { lambda * left };
                        weight * load.unwrap().get()
                    }).sum();
                    prop_assert!(near(value, weighed), "{value} {weighed}");
                }
                let all = [
                    figures.ewma_7, figures.ewma_28, figures.ratio_ewma, figures.ratio_coupled,
                    figures.ratio_uncoupled, figures.monotony, figures.strain,
                ];
                prop_assert!(all.into_iter().flatten().all(|figure| figure.is_finite() && figure >= 0.0));
            }
        }
    }
}
