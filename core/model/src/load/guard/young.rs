//! The young, and those of unknown age: days and contacts by a published convention, and
//! a guardian's consent.
//!
//! They progress by skill and not by age. That landings were held lately goes into what is
//! said, so that a coach who decides knows it; no line moves by it.

use super::offer::Offer;
use super::said::{Found, Said, What};
use super::status::Status;
use crate::facts::RuleName;

/// What speaks against plyometric work of the young.
pub(super) fn against<'a>(status: &'a Status, offer: &Offer<'_>) -> Vec<Said<'a>> {
    let mut said = Vec::new();
    if !offer.is_plyometric_work() {
        return said;
    }
    let line = |name| status.rules.get(name, status.day);
    if status.is_younger_than(RuleName::GuardianConsent)
        && let Some(line) = line(RuleName::GuardianConsent)
    {
        let found = status.age.map_or(Found::NotKnown, Found::Value);
        said.push(Said::ask(What::GuardianConsent, found, RuleName::GuardianConsent, line));
    }
    if !status.is_young() {
        return said;
    }
    let held = status.holds_landings();
    let contacts = status.contacts_today.saturating_add(offer.plyometric_contacts());
    if let Some(line) = line(RuleName::YoungContacts)
        && contacts > u64::from(line.value)
    {
        let found = Found::Value(u32::try_from(contacts).unwrap_or(u32::MAX));
        said.push(Said::ask(What::YoungContacts { held }, found, RuleName::YoungContacts, line));
    }
    if let Some(line) = line(RuleName::YoungDays) {
        // In seven days and not in a calendar week, so that Saturday and Monday count together.
        let week = status.day.plus(-6)..status.day;
        let days: std::collections::BTreeSet<_> =
            status.plyometric_days.iter().filter(|day| week.contains(day)).collect();
        let now = u32::try_from(days.len()).unwrap_or(u32::MAX).saturating_add(1);
        if now > line.value {
            said.push(Said::ask(What::YoungDays { held }, Found::Value(now), RuleName::YoungDays, line));
        }
        if days.contains(&status.day.plus(-1)) {
            said.push(Said::ask(What::YoungInARow { held }, Found::Told, RuleName::YoungDays, line));
        }
    }
    said
}

#[cfg(test)]
mod tests {
    use uuid::Uuid;

    use super::*;
    use crate::facts::{Control, Day, LandingControl, Rule};
    use crate::load::catalogue::{find, id};
    use crate::load::rule::Rules;

    fn today() -> Day {
        Day::parse("2026-11-26").unwrap()
    }

    fn with_consent() -> Rules {
        let name = RuleName::GuardianConsent;
        let reason = "signed by her father on 2 November".to_owned();
        Rules::new(vec![], vec![Rule { name, off: true, line: None, until: None, reason }])
    }

    fn young() -> Status {
        Status { age: Some(15), rules: with_consent(), ..Status::unknown(today()) }
    }

    fn whats(status: &Status, exercise: Uuid, reps: u16) -> Vec<(What, Found)> {
        let item = find(exercise).unwrap();
        let offer = Offer { reps, ..Offer::usual(item.id, &item.exercise) };
        against(status, &offer).into_iter().map(|said| (said.what, said.found)).collect()
    }

    #[test]
    fn contacts_of_a_session_ask_from_the_line_on() {
        let so_far = |contacts_today| Status { contacts_today, ..young() };
        assert_eq!(whats(&so_far(40), id::POGO, 20), []);
        let over = (What::YoungContacts { held: false }, Found::Value(61));
        assert_eq!(whats(&so_far(40), id::POGO, 21), [over]);
        assert_eq!(whats(&Status { age: Some(18), ..so_far(40) }, id::POGO, 21), []);
        assert_eq!(whats(&Status { age: None, ..so_far(40) }, id::POGO, 21), [over], "unknown is young");
        assert_eq!(whats(&so_far(100), id::SPRINT_STRIDES, 21), [], "sprint strides are never counted");
    }

    #[test]
    fn two_days_in_seven_and_not_in_a_row() {
        let on = |days: &[i32]| Status {
            plyometric_days: days.iter().map(|n| today().plus(*n)).collect(),
            ..young()
        };
        assert_eq!(whats(&on(&[-3]), id::POGO, 1), []);
        assert_eq!(
            whats(&on(&[-3, -6, -6]), id::POGO, 1),
            [(What::YoungDays { held: false }, Found::Value(3))]
        );
        assert_eq!(whats(&on(&[-3, -7]), id::POGO, 1), [], "seven days ago is another week");
        assert_eq!(whats(&on(&[-1]), id::POGO, 1), [(What::YoungInARow { held: false }, Found::Told)]);
    }

    #[test]
    fn held_landings_change_what_is_said_and_no_line() {
        let judged = LandingControl {
            day: today().plus(-4),
            exercise: id::DROP_LANDING,
            set: None,
            side: None,
            control: Control::Held,
            knee_inward: false,
            trunk: false,
            note: None,
        };
        let held = Status { controls: vec![judged], contacts_today: 60, ..young() };
        assert_eq!(whats(&held, id::POGO, 1), [(What::YoungContacts { held: true }, Found::Value(61))]);
    }

    #[test]
    fn consent_is_asked_for_until_it_is_written_down() {
        let without = Status { rules: Rules::default(), ..young() };
        assert_eq!(whats(&without, id::POGO, 1), [(What::GuardianConsent, Found::Value(15))]);
        assert_eq!(whats(&without, id::SPRINT_STRIDES, 1), []);
        assert_eq!(whats(&Status { age: None, ..without.clone() }, id::POGO, 1)[0].1, Found::NotKnown);
        assert_eq!(whats(&Status { age: Some(18), ..without }, id::POGO, 1), []);
    }
}
