//! How much of it, and when: contacts of a session by level, the return after a gap, and
//! growth that is fast.

use super::offer::Offer;
use super::said::{Found, Said, What};
use super::status::Status;
use crate::facts::RuleName;
use crate::load::rule::session_line;

/// What speaks against plyometric work by its amount and its day.
pub(super) fn against<'a>(status: &'a Status, offer: &Offer<'_>) -> Vec<Said<'a>> {
    let mut said = Vec::new();
    if !offer.is_plyometric_work() {
        return said;
    }
    let line = |name| status.rules.get(name, status.day);
    // The young have a line of their own, which stands for the level's.
    let young = status.is_young() && line(RuleName::YoungContacts).is_some();
    let name = session_line(status.level);
    let contacts = status.contacts_today.saturating_add(offer.plyometric_contacts());
    if let Some(line) = line(name)
        && !young
        && contacts > u64::from(line.value)
    {
        let found = Found::Value(u32::try_from(contacts).unwrap_or(u32::MAX));
        said.push(Said::ask(What::SessionContacts, found, name, line));
    }
    if let (Some(line), Some(days)) = (line(RuleName::Gap), status.days_off)
        && days >= line.value
    {
        said.push(Said::ask(What::Gap, Found::Value(days), RuleName::Gap, line));
    }
    if let (Some(line), Some(rate)) = (line(RuleName::Growth), status.growth())
        && rate.mm_per_year > line.value
    {
        let found = Found::Measured(rate.mm_per_year, rate.to);
        said.push(Said::ask(What::Growth(rate), found, RuleName::Growth, line));
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::{Day, Growth, Level, Rule};
    use crate::load::catalogue::{find, id};
    use crate::load::rule::Rules;

    fn adult() -> Status {
        Status { age: Some(24), ..Status::unknown(Day::parse("2026-11-26").unwrap()) }
    }

    fn whats(status: &Status, reps: u16) -> Vec<(What, Found)> {
        let item = find(id::POGO).unwrap();
        let offer = Offer { reps, ..Offer::usual(item.id, &item.exercise) };
        against(status, &offer).into_iter().map(|said| (said.what, said.found)).collect()
    }

    #[test]
    fn contacts_by_level_and_an_unknown_level_is_a_beginners() {
        let at = |level, contacts_today| Status { level, contacts_today, ..adult() };
        for (level, line) in [
            (None, 100),
            (Some(Level::Beginner), 100),
            (Some(Level::Intermediate), 120),
            (Some(Level::Advanced), 140),
        ] {
            assert_eq!(whats(&at(level, line - 1), 1), [], "{level:?}");
            let over = Found::Value(u32::try_from(line).unwrap() + 1);
            assert_eq!(whats(&at(level, line), 1), [(What::SessionContacts, over)], "{level:?}");
        }
        let young = Status { age: Some(15), ..at(None, 200) };
        assert_eq!(whats(&young, 1), [], "the young have a line of their own");
        let off = |name| Rule { name, off: true, line: None, until: None, reason: "tried".into() };
        let without = Status { rules: Rules::new(vec![off(RuleName::YoungContacts)], vec![]), ..young };
        assert_eq!(whats(&without, 1).len(), 1, "where that is off, the level's holds");
    }

    #[test]
    fn a_gap_is_told_only_where_its_days_are_known() {
        let off = |days_off| Status { days_off, ..adult() };
        assert_eq!(whats(&off(Some(14)), 1), [(What::Gap, Found::Value(14))]);
        assert_eq!(whats(&off(Some(13)), 1), []);
        assert_eq!(whats(&off(None), 1), []);
    }

    #[test]
    fn growth_faster_than_the_line_asks_the_coach() {
        let grown = |mm: u32| {
            let height = |n: i32, height_mm| Growth { day: adult().day.plus(n), height_mm };
            Status { heights: vec![height(-365, 1_600), height(0, 1_600 + mm)], ..adult() }
        };
        assert_eq!(whats(&grown(70), 1), []);
        let said = whats(&grown(71), 1);
        assert!(matches!(said[..], [(What::Growth(_), Found::Measured(71, _))]), "{said:?}");
    }
}
