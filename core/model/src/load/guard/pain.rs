//! What hurts. Any new pain asks for place and side and offers to end the session; at some
//! signs, and where it rises from week to week, training stops at any score and it is seen
//! by a licensed practitioner. Nothing here says what it is.
//!
//! Training on with pain up to 5 of 10 is a rule made for adults with a sore Achilles
//! tendon under treatment. It is used only where a clinician advised it for that place and
//! side, up to the score that was advised, and never for the young or those of unknown age.

use super::said::{Found, Grade, Ground, Said, What};
use super::status::Status;
use crate::facts::{BodyPart, Hurt, Side};

/// The highest score with which training may go on, and only with a clinician's advice.
pub const PAIN_LINE: u8 = 5;
/// Below so many years, or of unknown age, no advice lets training go on with pain. No
/// rule moves it.
pub const ADULT_YEARS: u32 = 18;
/// Where the scores of the pain rule come from.
pub const PAIN_SOURCE: &str = "after Silbernagel et al. 2007, Am J Sports Med 35(6):897–906 (made for adults with a \
                               sore Achilles tendon under treatment; wording from memory); local rules come first";
/// Where the signs that stop come from.
pub const SIGN_SOURCE: &str = "a rule of ours: licensed practice and local rules come first";

/// Where it hurts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The part of the body.
    pub part: BodyPart,
    /// The side, where it was said.
    pub side: Option<Side>,
}

impl Place {
    /// The place of a pain.
    #[must_use]
    pub const fn of(hurt: &Hurt) -> Self {
        Self { part: hurt.part, side: hurt.side }
    }
}

/// What is said of pain on a day, whatever is to be done: of each place the gravest that
/// holds, and every sign of the last two weeks.
#[must_use]
pub fn of(status: &Status) -> Vec<Said<'_>> {
    let mut said = signs(status);
    let mut places: Vec<Place> =
        status.check_ins.iter().flat_map(|check_in| &check_in.hurts).map(Place::of).collect();
    places.sort_unstable();
    places.dedup();
    said.extend(places.into_iter().filter_map(|place| at(status, place)));
    said
}

/// The signs: those of the newest check-in stop; earlier ones ask whether it was seen.
fn signs(status: &Status) -> Vec<Said<'_>> {
    let window = status.day.plus(-13)..=status.day;
    let recent = || status.check_ins.iter().filter(|check_in| window.contains(&check_in.day));
    let newest = recent().map(|check_in| check_in.day).max();
    let mut told = std::collections::BTreeMap::new();
    for check_in in recent() {
        for sign in &check_in.signs {
            let on = told.entry(*sign).or_insert(check_in.day);
            *on = check_in.day.max(*on);
        }
    }
    let say = |(sign, on)| {
        let newest = Some(on) == newest;
        let grade = if newest { Grade::Stop } else { Grade::Ask };
        Said { what: What::Sign { sign, on, newest }, grade, found: Found::Told, ground: Ground::AnyScore }
    };
    told.into_iter().map(say).collect()
}

/// The gravest that holds of a place.
fn at(status: &Status, place: Place) -> Option<Said<'_>> {
    let worst = |from: i32, to: i32| {
        let days = status.day.plus(from)..=status.day.plus(to);
        let hurts = status.check_ins.iter().filter(|c| days.contains(&c.day)).flat_map(|c| &c.hurts);
        hurts.filter(|hurt| Place::of(hurt) == place).map(|hurt| hurt.score).max().unwrap_or(0)
    };
    let (now, before) = (worst(-6, 0), worst(-13, -7));
    let young = status.is_young() || status.age.is_none_or(|age| age < ADULT_YEARS);
    let advised = |advice: &&crate::facts::Advice| {
        advice.part == place.part && advice.side == place.side && advice.holds_on(status.day)
    };
    // Of two that disagree the lower score holds.
    let advice = status.advice.iter().filter(advised).min_by_key(|advice| advice.up_to);
    let rule = Ground::Pain { line: PAIN_LINE };
    let (what, grade, ground) = match (now, advice) {
        (0, _) => return None,
        _ if before > 0 && now > before => {
            (What::PainRising { place, before }, Grade::Stop, Ground::AnyScore)
        }
        _ if now > PAIN_LINE => (What::PainHigh(place), Grade::Stop, rule),
        _ if young => (What::PainYoung(place), Grade::Ask, Ground::AnyScore),
        (_, Some(advice)) if now <= advice.up_to => {
            (What::PainAdvised(place), Grade::Caution, Ground::Advice(advice))
        }
        _ if before == 0 => (What::PainNew(place), Grade::Ask, Ground::AnyScore),
        _ => (What::PainGoesOn(place), Grade::Ask, rule),
    };
    Some(Said { what, grade, found: Found::Value(now.into()), ground })
}

#[cfg(test)]
mod tests {
    use super::super::said::MayDo;
    use super::*;
    use crate::facts::{Advice, CheckIn, Day, Sign};

    const HERE: Place = Place { part: BodyPart::Achilles, side: Some(Side::Right) };

    fn today() -> Day {
        Day::parse("2026-11-26").unwrap()
    }

    fn told(n: i32, score: u8, signs: &[Sign]) -> CheckIn {
        let hurts = match score {
            0 => vec![],
            score => vec![Hurt { part: HERE.part, side: HERE.side, score }],
        };
        CheckIn { day: today().plus(n), hurts, sleep_min: None, signs: signs.iter().copied().collect() }
    }

    fn adult(check_ins: Vec<CheckIn>) -> Status {
        Status { age: Some(24), check_ins, ..Status::unknown(today()) }
    }

    fn advice(up_to: u8) -> Advice {
        let (from, until) = (today().plus(-20), today().plus(20));
        Advice { from, until, part: HERE.part, side: HERE.side, up_to, note: "her physiotherapist".into() }
    }

    fn whats(status: &Status) -> Vec<(What, Grade)> {
        of(status).into_iter().map(|said| (said.what, said.grade)).collect()
    }

    #[test]
    fn new_pain_offers_to_end_at_any_score() {
        for score in 1..=5 {
            assert_eq!(whats(&adult(vec![told(0, score, &[])])), [(What::PainNew(HERE), Grade::Ask)]);
        }
        let status = adult(vec![told(0, 1, &[])]);
        assert_eq!(of(&status)[0].may_do(), MayDo::OfferToEnd);
        assert_eq!(whats(&adult(vec![told(0, 6, &[])])), [(What::PainHigh(HERE), Grade::Stop)]);
        let goes_on = adult(vec![told(-8, 3, &[]), told(0, 3, &[])]);
        assert_eq!(whats(&goes_on), [(What::PainGoesOn(HERE), Grade::Ask)], "nobody advised to go on");
        assert_eq!(whats(&adult(vec![told(-8, 3, &[])])), [], "it has gone");
    }

    #[test]
    fn pain_that_rises_stops_whatever_was_advised() {
        let rising = Status { advice: vec![advice(5)], ..adult(vec![told(-8, 1, &[]), told(0, 2, &[])]) };
        assert_eq!(whats(&rising), [(What::PainRising { place: HERE, before: 1 }, Grade::Stop)]);
        assert_eq!(of(&rising)[0].may_do(), MayDo::StopAndRefer);
    }

    #[test]
    fn a_score_is_accepted_only_as_advised_for_that_place_and_side() {
        let hurts = |score| adult(vec![told(0, score, &[])]);
        let with = |advice, status: Status| Status { advice: vec![advice], ..status };
        assert_eq!(whats(&with(advice(3), hurts(3))), [(What::PainAdvised(HERE), Grade::Caution)]);
        assert_eq!(whats(&with(advice(3), hurts(4))), [(What::PainNew(HERE), Grade::Ask)]);
        for other in [
            Advice { side: Some(Side::Left), ..advice(5) },
            Advice { side: None, ..advice(5) },
            Advice { part: BodyPart::Calf, ..advice(5) },
            Advice { until: today().plus(-1), ..advice(5) },
        ] {
            assert_eq!(whats(&with(other, hurts(2))), [(What::PainNew(HERE), Grade::Ask)]);
        }
        let two = Status { advice: vec![advice(5), advice(2)], ..hurts(3) };
        assert_eq!(whats(&two), [(What::PainNew(HERE), Grade::Ask)], "the lower of two that disagree");
    }

    #[test]
    fn no_advice_counts_for_the_young_or_an_unknown_age() {
        for age in [Some(17), None] {
            let status = Status { age, advice: vec![advice(5)], ..adult(vec![told(0, 1, &[])]) };
            assert_eq!(whats(&status), [(What::PainYoung(HERE), Grade::Ask)], "{age:?}");
        }
        // A line that makes nobody young moves nothing here.
        let off = crate::facts::Rule {
            name: crate::facts::RuleName::YoungAge,
            off: true,
            line: None,
            until: None,
            reason: "an adult squad".into(),
        };
        let rules = crate::load::rule::Rules::new(vec![off], vec![]);
        let status = Status { age: None, advice: vec![advice(5)], rules, ..adult(vec![told(0, 1, &[])]) };
        assert_eq!(whats(&status), [(What::PainYoung(HERE), Grade::Ask)]);
    }

    #[test]
    fn every_sign_stops_at_any_score_until_a_later_check_in_is_without_it() {
        for sign in Sign::ALL {
            let status = Status { advice: vec![advice(5)], ..adult(vec![told(-2, 0, &[*sign])]) };
            let on = today().plus(-2);
            assert_eq!(whats(&status), [(What::Sign { sign: *sign, on, newest: true }, Grade::Stop)]);
            let later = adult(vec![told(-2, 0, &[*sign]), told(0, 0, &[])]);
            assert_eq!(whats(&later), [(What::Sign { sign: *sign, on, newest: false }, Grade::Ask)]);
            assert_eq!(of(&later)[0].may_do(), MayDo::AskWhetherSeen);
            assert_eq!(whats(&adult(vec![told(-14, 0, &[*sign])])), []);
        }
    }
}
