//! An earlier session, done again as it was.

use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_model::facts::{self, Hash, MemberId, Subject, field_name, kind};
use pitside_model::load::guard::Offer;

use crate::clock::OwnClock;
use crate::companion::{Companion, ScreenError, member_of, refused};
use crate::course::Courses;
use crate::env::Env;
use crate::figure::day;
use crate::guard;
use crate::log_today::{of_today, write_today};
use crate::newest::newest_first;
use crate::record::{Again, Said};
use crate::route::Route;
use crate::text::Words;
use crate::training::{self, Card, Catalogue, DoneSession};
use crate::wording;

/// The newest session before today that has sets.
fn before_today(
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
) -> Result<Option<DoneSession>, BookError> {
    let card = Card::read(book, member)?;
    let yesterday = env.today().plus(-1);
    let mut found = None;
    newest_first(book, &[member], (yesterday, yesterday), &mut |held| {
        found = training::session(book, held, catalogue, &card)?.filter(|done| !done.sets.is_empty());
        Ok(found.is_none())
    })?;
    found.map(|done| in_order(book, done)).transpose()
}

/// A session with its sets in the order in which they were done, whichever were put right since.
fn in_order(book: &Book, mut done: DoneSession) -> Result<DoneSession, BookError> {
    let held: Vec<Held> = done.sets.iter().map(|set| set.held.clone()).collect();
    let mut sets: Vec<_> = book.written(&held)?.into_iter().zip(done.sets).collect();
    sets.sort_by_key(|(written, _)| *written);
    done.sets = sets.into_iter().map(|(_, set)| set).collect();
    Ok(done)
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
    let exercises = offers.iter().map(|offer| offer.exercise);
    let status = guard::status(book, courses, own, catalogue, member, env.today(), exercises)?;
    let mut all: Vec<Said> = Vec::new();
    for offer in &offers {
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
                Some(held) => training::session(&book, held, &catalogue, &card)?
                    .map(|done| in_order(&book, done))
                    .transpose()?,
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

    #[test]
    fn what_was_put_right_is_repeated_in_its_place() {
        use crate::record::SetForm;
        let folder = tempfile::tempdir().unwrap();
        let at = |minutes: i64| {
            let now_ms = 1_795_593_600_000 + minutes * 60_000;
            Env { language: "en".into(), zone_min: 60, hour24: true, now_ms }
        };
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &at(0)).unwrap();
        let form = phone.log_set(&at(0)).unwrap().form;
        let id = |route: String| route.strip_prefix("session/").unwrap().to_owned();
        let mut sessions = Vec::new();
        // Two sessions of one day, each of two sets.
        for purpose in ["first", "second"] {
            let about = crate::companion::SessionForm { purpose: purpose.into(), ..Default::default() };
            sessions.push(phone.begin_session(&at(sessions.len() as i64), "", &about).unwrap());
            for reps in [4, 8] {
                let set = SetForm { reps, sets: 1, ..form.clone() };
                let minute = 10 * sessions.len() as i64 + i64::from(reps);
                phone.save_sets(&at(minute), &sessions[sessions.len() - 1], &set).unwrap();
            }
        }
        let reps = |minutes, session: &str| -> Vec<String> {
            let sets = phone.session_log(&at(minutes), session).unwrap().sets;
            sets.iter().map(|set| set.text.clone()).collect()
        };
        // In the evening the first set of the first session is put right, and the session.
        let set = phone.session_log(&at(50), &sessions[0]).unwrap().sets[0].id.clone();
        let seen = phone.correction(&at(500), &set).unwrap().seen;
        phone.correct_set(&at(500), &set, &seen, &SetForm { reps: 5, sets: 1, ..form }).unwrap();
        phone.say_condition(&at(501), &sessions[0], "wetness", "wet").unwrap();
        let (first, second) = (reps(502, &sessions[0]), reps(502, &sessions[1]));
        assert!(first[0].contains('5') && first[1].contains('8'), "{first:?}");
        let tomorrow = 24 * 60;
        let exchange = phone.exchange(&at(502)).unwrap();
        let listed: Vec<_> = exchange.sessions.iter().map(|row| row.id.as_str()).collect();
        assert_eq!(listed, [sessions[1].as_str(), sessions[0].as_str()]);
        let offered = phone.log_set(&at(tomorrow)).unwrap().again.unwrap();
        assert_eq!((&offered.session, &offered.sets), (&sessions[1], &second), "the one begun last");
        let repeated = id(phone.repeat_session(&at(tomorrow), "", &sessions[0]).unwrap());
        assert_eq!(reps(tomorrow, &repeated), first);
    }
}
