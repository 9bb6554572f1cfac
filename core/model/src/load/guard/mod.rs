//! What speaks against a set before it is done: limits that were said of a person, and
//! lines drawn by published convention or by us.
//!
//! Nothing here says that training is harmless, predicts an injury or names an illness.
//! What is [said](Said) names what was found, the line it stands against, where that line
//! comes from and what a person can do; local rules and licensed practice come before all
//! of it. A line is a [rule](crate::load::rule): a coach gives a squad or an athlete
//! another one, or none, and says why.
//!
//! * [`limit`]: what may not be done at all. The one implementation of it.
//! * [`depth`]: falls from a box, by height, by first exposure and by tests.
//! * [`young`]: days, contacts and consent of the young.
//! * [`dose`]: contacts of a session, the return after a gap, growth.
//! * [`pain`]: what hurts, and what is to be seen at any score.
//! * [`status`], [`offer`], [`said`]: what goes in, and what comes out.
//!
//! The formulas are comparisons; each line's source stands in [`crate::load::rule`], the
//! pain rule's in [`pain`].

pub mod depth;
pub mod dose;
pub mod limit;
pub mod offer;
pub mod pain;
pub mod said;
pub mod status;
pub mod young;

pub use limit::breaks;
pub use offer::Offer;
pub use pain::Place;
pub use said::{Found, Grade, Ground, MayDo, Said, What};
pub use status::{GrowthRate, Status};

/// Everything that speaks against a set for an athlete on a day, the gravest first.
#[must_use]
pub fn against<'a>(status: &'a Status, offer: &Offer<'_>) -> Vec<Said<'a>> {
    let mut said = limit::against(status, offer);
    said.extend(pain::of(status));
    said.extend(depth::against(status, offer));
    said.extend(young::against(status, offer));
    said.extend(dose::against(status, offer));
    said.sort_by_key(|said| core::cmp::Reverse(said.grade));
    said
}

/// Whether a set is not to be offered or planned: a limit rules it out, or something was
/// told that is to be seen by a licensed practitioner first.
///
/// What was done is written down all the same: it is a fact.
#[must_use]
pub fn refuses(said: &[Said<'_>]) -> bool {
    said.iter().any(|said| said.grade >= Grade::Stop)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::facts::exercise::{Entry, Kind};
    use crate::facts::{Approach, Day, Leg, Level, Limit, SaidBy, Side, Test, TestResult};
    use crate::load::catalogue;

    fn today() -> Day {
        Day::parse("2026-11-26").unwrap()
    }

    fn limits() -> impl Strategy<Value = Limit> {
        (prop::option::of(prop::sample::select(Side::ALL)), any::<bool>(), prop::option::of(0_u32..1_000))
            .prop_map(|(no_one_leg, no_approach, max_box_mm)| Limit {
                from: today(),
                until: None,
                no_one_leg,
                no_approach,
                max_box_mm,
                said_by: SaidBy::Coach,
                note: None,
            })
    }

    fn results() -> impl Strategy<Value = TestResult> {
        (prop::sample::select(vec![Test::Squat, Test::FiveSquats, Test::OneLegStand]), any::<u32>()).prop_map(
            |(test, value)| {
                let (low, high) = (*test.range().start(), *test.range().end());
                let side = test.is_of_one_leg().then_some(Side::Left);
                TestResult { day: today(), test, value: low + value % (high - low), side, note: None }
            },
        )
    }

    fn statuses() -> impl Strategy<Value = Status> {
        (
            prop::option::of(8_u32..40),
            prop::option::of(prop::sample::select(Level::ALL)),
            prop::option::of(30_000_u32..140_000),
            prop::collection::vec(results(), 0..4),
            prop::collection::vec(limits(), 0..3),
            0_u64..200,
        )
            .prop_map(|(age, level, mass_g, tests, limits, contacts_today)| Status {
                age,
                level,
                mass_g,
                tests,
                limits,
                contacts_today,
                ..Status::unknown(today())
            })
    }

    proptest! {
        /// A further limit takes nothing back that was said before, so that a set that was
        /// refused stays refused.
        #[test]
        fn a_further_limit_never_allows_more(
            status in statuses(),
            more in limits(),
            pick in 0_usize..catalogue::all().len(),
            leg in prop::sample::select(Leg::ALL),
            box_mm in prop::option::of(50_u32..1_000),
            strides in prop::option::of(1_u16..20),
        ) {
            let item = catalogue::all().remove(pick);
            let approach = strides.map(Approach::Strides);
            let offer = Offer { leg, box_mm, approach, ..Offer::usual(item.id, &item.exercise) };
            let bound = Status { limits: [status.limits.clone(), vec![more]].concat(), ..status.clone() };
            let (before, after) = (against(&status, &offer), against(&bound, &offer));
            prop_assert!(!refuses(&before) || refuses(&after));
            let whats: Vec<_> = after.iter().map(|said| said.what).collect();
            prop_assert!(before.iter().all(|said| whats.contains(&said.what)));
        }

        /// Rebounds that begin from the ground are never held up by what stands before
        /// depth work, whatever is known of the athlete.
        #[test]
        fn low_rebounds_are_not_gated_by_depth_tests(status in statuses(), reps in 1_u16..60) {
            for item in catalogue::all() {
                let low = matches!(item.exercise.entry, Entry::Standing | Entry::LevelFlight { .. });
                if !low || item.exercise.kind != Kind::VerticalRebound {
                    continue;
                }
                let offer = Offer { reps, ..Offer::usual(item.id, &item.exercise) };
                for said in against(&status, &offer) {
                    let of_depth = matches!(
                        said.what,
                        What::FirstBox { .. } | What::Squat | What::FiveSquats | What::OneLegStand(_) | What::HeavyBox
                    );
                    prop_assert!(!of_depth, "{}: {:?}", item.exercise.name, said);
                }
            }
        }
    }

    #[test]
    fn the_gravest_is_said_first_and_only_what_is_grave_refuses() {
        let item = catalogue::find(catalogue::id::DROP_JUMP).unwrap();
        let offer = Offer { box_mm: Some(600), ..Offer::usual(item.id, &item.exercise) };
        let unknown = Status::unknown(today());
        let said = against(&unknown, &offer);
        assert!(said.iter().any(|said| said.what == What::Squat && said.found == Found::NotKnown));
        assert!(!refuses(&said), "what is not known asks");
        let limit = Limit {
            from: today(),
            until: None,
            no_one_leg: None,
            no_approach: false,
            max_box_mm: Some(300),
            said_by: SaidBy::Clinician,
            note: None,
        };
        let bound = Status { limits: vec![limit], ..unknown };
        let said = against(&bound, &offer);
        assert_eq!((said[0].what, said[0].grade), (What::BoxOver, Grade::Bound));
        assert_eq!((said[0].found, said[0].line()), (Found::Value(600), Some(300)));
        assert!(refuses(&said));
        assert!(said.iter().all(|said| !said.ground.source().is_empty()));
    }
}
