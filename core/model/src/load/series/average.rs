//! Exponentially weighted moving averages of daily loads.

use super::DayLoad;

/// An average in which a day counts the less the longer ago it is:
/// EWMA_t = λ·load_t + (1 − λ)·EWMA_(t−1), with λ = 2/(N + 1) for a span of N
/// days. In the unit of the load.
///
/// It is seeded with the first load: EWMA of the first day = its load. So the
/// first day weighs (1 − λ)^(t−1) on day t ([`Average::seed_weight`]), which for
/// N = 28 is still 0.145 on the 28th day.
///
/// Williams et al. 2017, Br J Sports Med 51:209–210.
///
/// A day that is not known empties the average: it is seeded anew with the next
/// known day, and has no value before N days in a row are known, as a mean of N
/// days would not have one. A series that begins with a known day has values
/// from there on: where it begins was its keeper's choice, and is seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Average {
    span: u32,
    /// Of the days since the seed; means nothing where there are none.
    value: f64,
    /// Known days in a row, the seed among them.
    days: u32,
    /// Whether a day was not known.
    interrupted: bool,
}

impl Average {
    /// An average over `span` days (at least 1) that has not seen any.
    #[must_use]
    pub fn of_span(span: u32) -> Self {
        Self { span: span.max(1), value: 0.0, days: 0, interrupted: false }
    }

    /// Takes in the next day; `None` where its load is not known.
    pub fn push(&mut self, load: Option<DayLoad>) {
        match load {
            None => *self = Self { interrupted: true, ..Self::of_span(self.span) },
            Some(load) => {
                let lambda = self.lambda();
                let load = load.get();
                self.value = if self.days == 0 { load } else { lambda * load + (1.0 - lambda) * self.value };
                self.days = self.days.saturating_add(1);
            }
        }
    }

    /// The average up to the last day; `None` before the first, and after a day
    /// that is not known until a whole span of known ones.
    #[must_use]
    pub fn value(&self) -> Option<f64> {
        let least = if self.interrupted { self.span } else { 1 };
        (self.days >= least).then_some(self.value)
    }

    /// Known days in a row that it rests on, the seed among them.
    #[must_use]
    pub fn days(&self) -> u32 {
        self.days
    }

    /// What part of the value is the first day's load, 0 to 1: (1 − λ)^(days −
    /// 1). `None` before the first day.
    #[must_use]
    pub fn seed_weight(&self) -> Option<f64> {
        let steps = self.days.checked_sub(1)?;
        Some((1.0 - self.lambda()).powf(f64::from(steps)))
    }

    fn lambda(&self) -> f64 {
        2.0 / (f64::from(self.span) + 1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pushed(span: u32, loads: &[Option<f64>]) -> Average {
        let mut average = Average::of_span(span);
        for load in loads {
            average.push(load.and_then(DayLoad::new));
        }
        average
    }

    #[test]
    fn the_first_load_is_the_seed() {
        assert_eq!(Average::of_span(3).value(), None);
        assert_eq!(Average::of_span(3).seed_weight(), None);
        assert_eq!(pushed(3, &[Some(8.0)]).value(), Some(8.0));
        assert_eq!(pushed(3, &[Some(8.0)]).seed_weight(), Some(1.0));
        // λ = 1/2.
        assert_eq!(pushed(3, &[Some(8.0), Some(4.0), Some(0.0)]).value(), Some(3.0));
        assert_eq!(pushed(3, &[Some(8.0), Some(4.0), Some(0.0)]).seed_weight(), Some(0.25));
    }

    #[test]
    fn an_unknown_day_begins_it_anew_and_hides_it_for_a_span() {
        let after = |known: usize| {
            let mut loads = vec![Some(100.0), None];
            loads.extend(vec![Some(8.0); known]);
            pushed(3, &loads)
        };
        assert_eq!(
            (0..5).map(|known| after(known).value()).collect::<Vec<_>>(),
            [None, None, None, Some(8.0), Some(8.0)]
        );
        assert_eq!(after(2).days(), 2);
        assert_eq!(pushed(3, &[None, Some(1.0), Some(1.0)]).value(), None);
    }

    #[test]
    fn a_span_of_one_is_the_day_itself() {
        for span in [0, 1] {
            assert_eq!(pushed(span, &[Some(5.0), Some(2.0)]).value(), Some(2.0));
        }
    }
}
