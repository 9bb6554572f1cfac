//! A take beside a plate: the same contacts, seen by a camera and by force.
//!
//! The two do not measure quite the same: the plate's contact depends on its
//! threshold, the camera's on what can be seen of a shoe. A difference beyond
//! both resolutions is therefore a finding about camera, judge and threshold
//! together.

use super::error::CompareError;
use super::reading::Reading;

/// A contact of a take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filmed {
    /// How long it lasted, s.
    pub seconds: f64,
    /// Its 95 % half-width, s, of all that the take counts in.
    pub half_width_95_s: f64,
}

/// One contact, seen by both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// On the plate, s.
    pub plate_s: f64,
    /// On the clip, s.
    pub film_s: f64,
    /// Clip minus plate, s.
    pub difference_s: f64,
    /// What the two resolutions allow, s: the 95 % half-widths of the clip
    /// and of the plate's samples, in quadrature.
    pub allowed_s: f64,
    /// Whether the difference is no larger than that.
    pub within: bool,
}

/// All contacts of a take beside those of a plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Pair by pair, in the order of time.
    pub pairs: Vec<Pair>,
    /// The mean of the differences, clip minus plate, s.
    pub mean_difference_s: f64,
}

/// Pairs the whole contacts of a plate with those of a take, in order.
///
/// A duration on the plate is known to the sample at both ends, so its error
/// is triangular on ± one sample and its 95 % half-width is (1 − √0.05) of
/// one (JCGM 100:2008 4.3.9, clause number from memory).
///
/// # Errors
/// [`CompareError`] where there is nothing to compare, the numbers of contacts
/// differ (no alignment is guessed), or a contact of the take has no time.
pub fn compare(plate: &Reading, take: &[Filmed]) -> Result<Comparison, CompareError> {
    for (index, film) in take.iter().enumerate() {
        let timed = film.seconds.is_finite() && film.seconds > 0.0;
        let width = film.half_width_95_s.is_finite() && film.half_width_95_s >= 0.0;
        if !(timed && width) {
            return Err(CompareError::NoTime { index });
        }
    }
    if plate.contacts.len() != take.len() {
        return Err(CompareError::Counts { plate: plate.contacts.len(), film: take.len() });
    }
    if take.is_empty() {
        return Err(CompareError::Nothing);
    }
    let plate_half_width_s = (1.0 - 0.05_f64.sqrt()) / plate.rate_hz;
    let pairs: Vec<Pair> = plate
        .contacts
        .iter()
        .zip(take)
        .map(|(contact, film)| {
            let difference_s = film.seconds - contact.duration_s;
            let allowed_s = film.half_width_95_s.hypot(plate_half_width_s);
            Pair {
                plate_s: contact.duration_s,
                film_s: film.seconds,
                difference_s,
                allowed_s,
                within: difference_s.abs() <= allowed_s,
            }
        })
        .collect();
    let mean_difference_s = pairs.iter().map(|pair| pair.difference_s).sum::<f64>() / pairs.len() as f64;
    Ok(Comparison { pairs, mean_difference_s })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plate::{Record, Settings};

    /// Contacts of 200 and 250 ms at 1000 Hz.
    fn plate() -> Reading {
        let force = [(100, 0.0), (200, 900.0), (300, 0.0), (250, 900.0), (300, 0.0)]
            .into_iter()
            .flat_map(|(samples, newton)| std::iter::repeat_n(newton, samples))
            .collect();
        Reading::of(&Record::new(force, 1000.0).unwrap(), &Settings::default()).unwrap()
    }

    fn filmed(seconds: f64) -> Filmed {
        Filmed { seconds, half_width_95_s: 0.003 }
    }

    #[test]
    fn contacts_pair_in_order() {
        let compared = compare(&plate(), &[filmed(0.202), filmed(0.244)]).unwrap();
        let [first, second] = compared.pairs[..] else { panic!("two pairs") };
        assert_eq!((first.plate_s, first.film_s, first.within), (0.2, 0.202, true));
        assert!((first.difference_s - 0.002).abs() < 1e-12);
        // science of one sample at 1000 Hz: 0.7764 ms.
        assert!((first.allowed_s - 0.003_f64.hypot(0.000_776_4)).abs() < 1e-8);
        assert_eq!((second.plate_s, second.within), (0.25, false));
        assert!((compared.mean_difference_s + 0.002).abs() < 1e-12);
    }

    #[test]
    fn the_plate_has_its_own_resolution() {
        let exact = |seconds| Filmed { seconds, half_width_95_s: 0.0 };
        let compared = compare(&plate(), &[exact(0.2007), exact(0.2508)]).unwrap();
        assert_eq!(compared.pairs.iter().map(|pair| pair.within).collect::<Vec<_>>(), [true, false]);
    }

    #[test]
    fn no_alignment_is_guessed() {
        let counts = |film| Err(CompareError::Counts { plate: 2, film });
        assert_eq!(compare(&plate(), &[filmed(0.2)]), counts(1));
        assert_eq!(compare(&plate(), &[]), counts(0));
        assert_eq!(compare(&plate(), &[filmed(0.2); 3]), counts(3));
        let empty = Reading { contacts: vec![], ..plate() };
        assert_eq!(compare(&empty, &[]), Err(CompareError::Nothing));
        for bad in [0.0, -0.2, f64::NAN, f64::INFINITY] {
            assert_eq!(
                compare(&plate(), &[filmed(0.2), filmed(bad)]),
                Err(CompareError::NoTime { index: 1 })
            );
        }
        for bad in [-0.1, f64::NAN, f64::INFINITY] {
            let film = Filmed { seconds: 0.2, half_width_95_s: bad };
            assert_eq!(compare(&plate(), &[film, film]), Err(CompareError::NoTime { index: 0 }));
        }
    }
}
