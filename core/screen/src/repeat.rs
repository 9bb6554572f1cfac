//! An earlier session, done again as it was.

use core::cmp::Reverse;

use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_model::facts::{self, Fact, Hash, MemberId, Subject, field_name, kind};
use pitside_model::load::guard::Offer;

use crate::clock::OwnClock;
use crate::companion::{Companion, ScreenError, member_of, refused};
use crate::course::Courses;
use crate::env::Env;
use crate::figure::day;
use crate::guard;
use crate::log_today::{of_today, write_today};
use crate::record::{Again, Said};
use crate::route::Route;
use crate::text::Words;
use crate::training::{self, Card, Catalogue, DoneSession};
use crate::wording;

/// The sessions of a member, the newest first.
fn newest_first(book: &Book, member: MemberId) -> Result<Vec<Held>, BookError> {
    let mut held = book.held(&Filter {
        member: Some(member),
        kind: Some(kind::SESSION),
        field: Some(field_name::WHOLE),
        ..Filter::default()
    })?;
    held.sort_by_key(|held| Reverse((held.fact().and_then(Fact::day), held.value().stamp)));
    Ok(held)
}

/// The newest session before today that has sets.
fn before_today(
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
) -> Result<Option<DoneSession>, BookError> {
    let card = Card::read(book, member)?;
    for held in newest_first(book, member)? {
        if held.fact().and_then(Fact::day).is_none_or(|day| day >= env.today()) {
            continue;
        }
        if let Some(done) = training::session(book, held, catalogue, &card)?
            && !done.sets.is_empty()
        {
            return Ok(Some(done));
        }
    }
    Ok(None)
}

/// Whether a set of today is written down.
fn begun_today(env: &Env, book: &Book, member: MemberId) -> Result<bool, BookError> {
    for held in of_today(env, book, member)? {
        let sets = Filter { kind: Some(kind::SET), session: held.id(), ..Filter::default() };
        if !book.held(&sets)?.is_empty() {
            return Ok(true);
        }
    }
    Ok(false)
}

/// The session before today as it is offered; nothing once a set of today is written down.
pub(crate) fn offered(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    catalogue: &Catalogue,
    member: MemberId,
) -> Result<Option<Again>, BookError> {
    if begun_today(env, book, member)? {
        return Ok(None);
    }
    let Some(done) = before_today(env, book, catalogue, member)? else { return Ok(None) };
    let runs: Vec<(&facts::Set, u64)> =
        done.sets.chunk_by(|a, b| a.set == b.set).map(|run| (&run[0].set, run.len() as u64)).collect();
    let sets: Vec<String> = runs
        .iter()
        .map(|(set, n)| {
            let text = wording::set(words, catalogue, set);
            if *n == 1 {
                text
            } else {
                words.say("sets-alike", &[("n", (*n).into()), ("set", (&text).into())])
            }
        })
        .collect();
    let contacts = words.say("contacts", &[("n", done.record.totals.plyometric_contacts().into())]);
    let text = words.say(
        "again-as",
        &[
            ("day", (&day(words, done.session.day)).into()),
            ("n", (done.sets.len() as u64).into()),
            ("contacts", (&contacts).into()),
        ],
    );
    let against = against(words, env, book, courses, catalogue, member, &done)?;
    let bound = against.iter().any(|said| said.refuses);
    Ok(Some(Again {
        session: done.place.to_string(),
        spoken: format!("{text}. {}", sets.join(". ")),
        text,
        sets,
        against,
        bound: if bound { words.word("log-set-bound") } else { String::new() },
    }))
}

/// What speaks today against the sets of a session. Those of one exercise done alike count
/// together, for their contacts add up.
fn against(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    catalogue: &Catalogue,
    member: MemberId,
    done: &DoneSession,
) -> Result<Vec<Said>, BookError> {
    let own = OwnClock::read(env, book)?;
    let mut offers: Vec<Offer<'_>> = Vec::new();
    for set in done.sets.iter().map(|done| &done.set) {
        let Some(exercise) = catalogue.get(set.exercise) else { continue };
        let offer = Offer::of(set, exercise);
        let alike = offers.iter_mut().find(|other| {
            (other.id, other.leg, other.box_mm, other.approach, other.warm_up)
                == (offer.id, offer.leg, offer.box_mm, offer.approach, offer.warm_up)
                && other.contacts_per_rep == offer.contacts_per_rep
        });
        match alike {
            Some(other) => other.reps = other.reps.saturating_add(offer.reps),
            None => offers.push(offer),
        }
    }
    let mut all: Vec<Said> = Vec::new();
    for offer in &offers {
        let status = guard::status(book, courses, own, catalogue, member, env.today(), Some(offer.exercise))?;
        for said in guard::against(words, &status, offer) {
            if !all.contains(&said) {
                all.push(said);
            }
        }
    }
    all.sort_by_key(|said| !said.refuses);
    Ok(all)
}

/// A set as it is done again: what was timed is not timed again, and what was planned for
/// that day is not done by it.
fn again(set: &facts::Set) -> facts::Set {
    facts::Set { last_10_m_ms: None, planned: None, ..set.clone() }
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Writes all sets of an earlier session into today's, or into one that is begun for
    /// them with the same purpose, in one action; gives today's route. `session` may be
    /// empty for the newest before today, `member` on a device that serves one.
    ///
    /// # Errors
    /// [`ScreenError::Refused`] where a set of today is written down already: a second touch
    /// must not write everything twice. [`ScreenError::NotFound`], [`ScreenError::NotAllowed`].
    pub fn repeat_session(&self, env: &Env, member: &str, session: &str) -> Result<String, ScreenError> {
        let book = self.open_book()?;
        let member = member_of(&book, member)?;
        let missing = || ScreenError::NotFound { what: "earlier session".to_owned() };
        if begun_today(env, &book, member)? {
            let range = "a day without sets: further ones are written one by one";
            return Err(refused("session", env.today().to_string(), range));
        }
        let catalogue = Catalogue::read(&book)?;
        let done = if session.is_empty() {
            before_today(env, &book, &catalogue, member)?
        } else {
            let place = Hash::parse(session).ok_or_else(missing)?;
            let filter = Filter {
                member: Some(member),
                kind: Some(kind::SESSION),
                field: Some(field_name::WHOLE),
                subject: Some(Subject::Fact(place)),
                ..Filter::default()
            };
            let card = Card::read(&book, member)?;
            match book.held(&filter)?.into_iter().next() {
                Some(held) => training::session(&book, held, &catalogue, &card)?,
                None => None,
            }
        };
        let done = done.filter(|done| !done.sets.is_empty()).ok_or_else(missing)?;
        let begin = facts::Session {
            purpose: done.session.purpose.clone(),
            ..crate::log_today::empty_session(env.today())
        };
        let sets: Vec<facts::Set> = done.sets.iter().map(|done| again(&done.set)).collect();
        let (place, _) = write_today(&book, env, member, begin, &sets)?;
        Ok(Route::Session(place).to_string())
    }
}

#[cfg(test)]
mod tests {
    use pitside_model::facts::{Leg, Planned, Set};
    use uuid::Uuid;

    use super::*;

    #[test]
    fn what_was_timed_and_what_was_planned_belong_to_their_day() {
        let set = Set {
            session: Hash([1; 32]),
            exercise: Uuid::from_u128(4),
            reps: 6,
            contacts_per_rep: Some(3),
            leg: Leg::AlternateRight,
            box_mm: None,
            approach: None,
            load_g: Some(2_000),
            last_10_m_ms: Some(1_150),
            cue: None,
            warm_up: false,
            planned: Some(Planned { plan: Hash([2; 32]), row: 3 }),
        };
        let done = again(&set);
        assert_eq!((done.last_10_m_ms, done.planned), (None, None));
        assert_eq!(Set { last_10_m_ms: set.last_10_m_ms, planned: set.planned, ..done }, set);
    }
}
