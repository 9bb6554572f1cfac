//! Sessions from the newest on, without reading the years before them.

use core::cmp::Reverse;
use std::collections::BTreeSet;

use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_model::facts::{Day, Fact, MemberId, field_name, kind};

/// Days of the stretch that is read first: what is looked for stands there mostly.
const FIRST_STRETCH: i32 = 28;

/// Gives the sessions of some members to `each` until it says `false`: the newest day first,
/// and of one day the one that was begun last, whatever was put right about it since. `near` is
/// where they are looked for first; none after `last` is given.
pub(crate) fn newest_first(
    book: &Book,
    members: &[MemberId],
    (near, last): (Day, Day),
    each: &mut dyn FnMut(Held) -> Result<bool, BookError>,
) -> Result<(), BookError> {
    // Where two people gave a session different days it is met in two stretches.
    let mut seen = BTreeSet::new();
    for days in stretches(near, last) {
        for held in of_days(book, members, days)? {
            if held.id().is_some_and(|id| seen.insert(id)) && !each(held)? {
                return Ok(());
            }
        }
    }
    Ok(())
}

/// Stretches of days back from the last one, each twice as long as the one before, down to the
/// first day there is. Whoever ends in one of them has read no more than about twice as many
/// days as was necessary.
fn stretches(near: Day, last: Day) -> impl Iterator<Item = (Day, Day)> {
    let first = (near.plus(1 - FIRST_STRETCH), last, FIRST_STRETCH);
    core::iter::successors(Some(first), |(from, _, long)| {
        let (last, long) = (from.plus(-1), long.saturating_mul(2));
        (*from > Day::FIRST).then(|| (last.plus(1 - long), last, long))
    })
    .map(|(from, last, _)| (from, last))
}

fn of_days(book: &Book, members: &[MemberId], days: (Day, Day)) -> Result<Vec<Held>, BookError> {
    let mut held = Vec::new();
    for member in members {
        held.extend(book.held(&Filter {
            member: Some(*member),
            kind: Some(kind::SESSION),
            field: Some(field_name::WHOLE),
            days: Some(days),
            ..Filter::default()
        })?);
    }
    held.retain(|held| held.fact().and_then(Fact::day).is_some());
    let mut held = book.in_order(held)?;
    held.reverse();
    held.sort_by_key(|held| Reverse(held.fact().and_then(Fact::day)));
    Ok(held)
}

#[cfg(test)]
mod tests {
    use pitside_book::clock::Stamp;
    use pitside_book::keys::{Identity, Seed};
    use pitside_book::store::Draft;
    use pitside_model::facts::{Hash, Scope, Session};
    use proptest::prelude::*;
    use tempfile::TempDir;
    use zeroize::Zeroizing;

    use super::*;
    use crate::log_today::empty_session;

    const NOON: i64 = 1_795_608_000_000;

    fn at(minutes: i64) -> Stamp {
        Stamp { ms: NOON + minutes * 60_000, zone_min: 0 }
    }

    fn today() -> Day {
        at(0).day()
    }

    fn phone(folder: &TempDir) -> (Book, MemberId) {
        let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new([1; 32])));
        let book = Book::create(folder.path(), identity, false).unwrap();
        let member = book.start_member(at(0)).unwrap();
        (book, member)
    }

    /// What a walk gives, as far as it goes.
    fn walked(book: &Book, members: &[MemberId], last: Day, most: usize) -> Vec<Hash> {
        let mut found = Vec::new();
        newest_first(book, members, (today().min(last), last), &mut |held| {
            found.push(held.id().unwrap());
            Ok(found.len() < most)
        })
        .unwrap();
        found
    }

    #[test]
    fn every_day_is_in_one_stretch_and_the_last_of_them_ends() {
        for (near, last) in [(today(), Day::LAST), (today(), today()), (Day::FIRST, Day::FIRST)] {
            let all: Vec<_> = stretches(near, last).collect();
            assert!(all.len() < 20, "{}", all.len());
            assert_eq!((all[0].1, all[all.len() - 1].0), (last, Day::FIRST));
            assert!(all.windows(2).all(|two| two[1].1.plus(1) == two[0].0));
        }
    }

    #[test]
    fn of_five_years_the_last_weeks_are_read() {
        let folder = TempDir::new().unwrap();
        let (book, member) = phone(&folder);
        let scope = Scope::Member(member);
        let on = |day| (scope, Draft::new(Fact::Session(empty_session(day))));
        let years: Vec<_> = (0..1_825).rev().step_by(2).map(|back| on(today().plus(-back))).collect();
        let written = book.write_all(&years, at(0)).unwrap();
        let newest: Vec<Hash> = written.iter().rev().take(12).copied().collect();
        assert_eq!(walked(&book, &[member], Day::LAST, 12), newest);
        let (mut read, mut found) = (0, 0);
        for days in stretches(today(), Day::LAST) {
            let of_days = of_days(&book, &[member], days).unwrap().len();
            (read, found) = (read + of_days, found + of_days);
            if found >= 12 {
                break;
            }
        }
        assert_eq!(read, 14, "of {}", written.len());
        assert_eq!(walked(&book, &[member], Day::LAST, usize::MAX).len(), written.len());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        /// Whatever was put right since, and whichever days: as if all were read and sorted.
        #[test]
        fn they_come_as_if_all_had_been_read(
            sessions in prop::collection::vec((-900_i32..40, any::<bool>(), any::<bool>()), 1..14),
            most in 1_usize..16,
            back in -3_i32..400,
        ) {
            let folder = TempDir::new().unwrap();
            let (book, one) = phone(&folder);
            let other = book.new_member_id(at(0)).unwrap();
            book.start_another(other, "Bo", at(0)).unwrap();
            let mut plain = Vec::new();
            for (minute, (day, right, others)) in (0_i64..).zip(&sessions) {
                let scope = Scope::Member(if *others { other } else { one });
                // Few days, so that there are several sessions on one.
                let day = today().plus(day - day.rem_euclid(30));
                let session = empty_session(day);
                let id = book.write(scope, &Draft::new(Fact::Session(session)), at(minute)).unwrap();
                plain.push((day, minute, id, *right));
            }
            for (.., id, right) in plain.iter().filter(|session| session.3) {
                prop_assert!(right);
                let all = book.held(&Filter { kind: Some(kind::SESSION), ..Filter::default() }).unwrap();
                let held = all.iter().find(|held| held.id() == Some(*id)).unwrap();
                let Some(Fact::Session(before)) = held.fact().cloned() else { unreachable!() };
                let fact = Fact::Session(Session { location: Some("hall".into()), ..before });
                book.write(held.key.scope, &Draft::replacing(held, fact), at(1_000)).unwrap();
            }
            let last = today().plus(-back);
            plain.retain(|(day, ..)| *day <= last);
            plain.sort_by_key(|(day, minute, ..)| Reverse((*day, *minute)));
            let plain: Vec<Hash> = plain.iter().map(|session| session.2).take(most).collect();
            prop_assert_eq!(walked(&book, &[one, other], last, most), plain);
        }
    }
}
