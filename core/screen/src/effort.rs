//! How hard a session was: when it is asked, and the form.
//!
//! Nothing of it is stored: that it is due follows from the sets that are written down and
//! the rating that is not, so it outlives the process and reaches every device alike.

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{self, Day, Fact, Hash, Subject, field_name, kind};

use crate::athletes;
use crate::companion::{Companion, ScreenError};
use crate::env::Env;
use crate::figure::{clock, near_day};
use crate::record::{Choice, Link};
use crate::route::Route;
use crate::text::Words;
use crate::training::Card;
use crate::wording::name;

/// The rating is asked this long after the end of a session, so that its last minutes do
/// not stand for all of it (Foster et al. 2001, J Strength Cond Res 15:109–115; the half
/// hour is a value from memory).
const ASKED_AFTER_MS: i64 = 30 * 60 * 1_000;

/// Where it is kept that the person wants to be reminded.
const REMIND: &str = "effort/remind";

/// Where the drafts are kept, the newest last, each beside its session.
const DRAFTS: &str = "draft/effort";

/// Drafts that are kept at most: a coach's phone asks for many athletes, on two days.
const MOST_DRAFTS: usize = 100;

/// The ratings of the 0-to-10 scale that have words (Borg's category-ratio scale as Foster
/// et al. 2001 changed it; words from memory). The others stand between two of them.
const WORDED: [u16; 8] = [0, 1, 2, 3, 4, 5, 7, 10];

/// How hard a session was, to be filled in.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct EffortPage {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The session.
    pub session: String,
    /// The question.
    pub title: String,
    /// Whose session it is, and of which day.
    pub about: String,
    /// When it is asked and why then.
    pub asked: String,
    /// The scale from 0 to 10: tenths as the id, the number and its words as the text.
    pub scale: Vec<Choice>,
    /// Beside the minutes.
    pub minutes_label: String,
    /// Minutes that stand in the field: written before, or from the first set to the last;
    /// `None` where nothing says it.
    pub minutes: Option<u16>,
    /// Where these come from.
    pub minutes_source: String,
    /// The field where nothing says it.
    pub not_said: String,
    /// Saves it.
    pub save: String,
    /// What was tapped and is not saved; `None` where nothing was.
    pub draft: Option<EffortDraft>,
    /// Whether the device reminds of it.
    pub reminds: bool,
    /// Turns that on.
    pub remind: String,
    /// What turning it on means.
    pub remind_about: String,
}

/// How hard a session was, tapped and not saved.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct EffortDraft {
    /// Rating of perceived exertion in tenths; `None` as long as none was tapped.
    pub rpe_tenths: Option<u16>,
    /// Minutes; `None` as long as they were left as they stood.
    pub minutes: Option<u16>,
}

/// A question for later, that a device may remind of.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Reminder {
    /// When, in milliseconds since the Unix epoch.
    pub at_ms: i64,
    /// The words; nobody's name and nothing of what was done is among them.
    pub text: String,
    /// Where it is answered.
    pub route: String,
}

/// When the sets of a session were written down on its day, the first and the last.
#[derive(Clone, Copy)]
struct Written {
    first_ms: i64,
    last_ms: i64,
}

/// A session that nobody rated yet.
struct Unrated {
    session: Hash,
    who: facts::MemberId,
    /// When it is asked; `None` where its sets were written on a later day.
    due_ms: Option<i64>,
}

fn drafts(book: &Book) -> Result<Vec<(Hash, EffortDraft)>, BookError> {
    let Some(bytes) = book.local(DRAFTS)? else { return Ok(Vec::new()) };
    let Ok(Value::Array(items)) = decode(&bytes) else { return Ok(Vec::new()) };
    let number = |value: &Value| match value {
        Value::Int(n) => u16::try_from(*n).ok(),
        _ => None,
    };
    let read = |item: &Value| match item {
        Value::Array(parts) => match parts.as_slice() {
            [Value::Bytes(session), rpe, minutes] => {
                let session = Hash(<[u8; 32]>::try_from(session.as_slice()).ok()?);
                Some((session, EffortDraft { rpe_tenths: number(rpe), minutes: number(minutes) }))
            }
            _ => None,
        },
        _ => None,
    };
    Ok(items.iter().filter_map(read).collect())
}

/// Keeps what was tapped about a session, or drops it.
pub(crate) fn keep(book: &Book, session: Hash, draft: Option<EffortDraft>) -> Result<(), BookError> {
    let mut all = drafts(book)?;
    let before = all.len();
    all.retain(|(of, _)| *of != session);
    if draft.is_none() && all.len() == before {
        return Ok(());
    }
    all.extend(draft.map(|draft| (session, draft)));
    let too_many = all.len().saturating_sub(MOST_DRAFTS);
    let number = |n: Option<u16>| n.map_or(Value::Null, Value::from);
    let kept = all.iter().skip(too_many).map(|(of, draft)| {
        Value::Array(vec![of.0.as_slice().into(), number(draft.rpe_tenths), number(draft.minutes)])
    });
    book.set_local(DRAFTS, Some(&encode(&Value::Array(kept.collect()))))
}

fn find(book: &Book, place: Hash) -> Result<Option<Held>, BookError> {
    let filter = Filter {
        kind: Some(kind::SESSION),
        field: Some(field_name::WHOLE),
        subject: Some(Subject::Fact(place)),
        ..Filter::default()
    };
    Ok(book.held(&filter)?.into_iter().next())
}

/// How hard a session was, where it was said.
pub(crate) fn rating(book: &Book, place: Hash) -> Result<Option<facts::Effort>, BookError> {
    let held = book.held(&Filter {
        kind: Some(kind::SESSION),
        field: Some(field_name::EFFORT),
        subject: Some(Subject::Fact(place)),
        ..Filter::default()
    })?;
    Ok(held.iter().find_map(|held| match held.fact() {
        Some(Fact::Effort(effort)) => Some(*effort),
        _ => None,
    }))
}

fn sets(book: &Book, place: Hash) -> Result<Vec<Held>, BookError> {
    book.held(&Filter { kind: Some(kind::SET), session: Some(place), ..Filter::default() })
}

/// What was written on a later day says nothing of the hour, and neither does what was put
/// right since.
fn written(book: &Book, sets: &[Held], day: Day) -> Result<Option<Written>, BookError> {
    let stamps: Vec<Stamp> = book.written(sets)?.into_iter().map(|first| first.stamp).collect();
    let times = || stamps.iter().filter(|stamp| stamp.day() == day).map(|stamp| stamp.ms);
    let span = times().min().zip(times().max());
    Ok(span.map(|(first_ms, last_ms)| Written { first_ms, last_ms }))
}

/// The sessions of today and yesterday that were not rated, the newest first: those of the
/// members this device serves, and those that were written on it for others.
fn unrated(env: &Env, book: &Book) -> Result<Vec<Unrated>, BookError> {
    let (own, today, authority) = (book.own_members()?, env.today(), book.authority()?);
    let sessions = book.in_order(book.held(&Filter {
        kind: Some(kind::SESSION),
        field: Some(field_name::WHOLE),
        days: Some((today.plus(-1), today)),
        ..Filter::default()
    })?)?;
    let mut found = Vec::new();
    for held in sessions.iter().rev() {
        let (Some(who), Some(session), Some(day)) =
            (held.key.scope.member(), held.id(), held.fact().and_then(Fact::day))
        else {
            continue;
        };
        let who = authority.person(who);
        if !own.contains(&who) && held.value().device != book.device() {
            continue;
        }
        let sets = sets(book, session)?;
        if sets.is_empty() || rating(book, session)?.is_some() {
            continue;
        }
        let due_ms = written(book, &sets, day)?.map(|written| written.last_ms + ASKED_AFTER_MS);
        found.push(Unrated { session, who, due_ms });
    }
    Ok(found)
}

/// Those that are due now.
fn due_now(env: &Env, book: &Book) -> Result<Vec<Unrated>, BookError> {
    let mut due = unrated(env, book)?;
    due.retain(|unrated| unrated.due_ms.is_none_or(|at| at <= env.now_ms));
    Ok(due)
}

/// What the first screen asks now: each of the members this device serves, and in one line
/// those it only wrote for.
pub(crate) fn due(words: &Words, env: &Env, book: &Book) -> Result<Vec<Link>, BookError> {
    let members = book.own_members()?;
    let (own, others): (Vec<_>, Vec<_>) =
        due_now(env, book)?.into_iter().partition(|unrated| members.contains(&unrated.who));
    let mut links = own.iter().map(|one| link(words, book, one)).collect::<Result<Vec<_>, _>>()?;
    let n = others.len() as u64;
    links.extend((n > 0).then(|| Link {
        text: words.say("effort-ask-many", &[("n", n.into())]),
        route: Route::Group.to_string(),
    }));
    Ok(links)
}

/// What is due now, each with where it is answered.
pub(crate) fn due_each(words: &Words, env: &Env, book: &Book) -> Result<Vec<Link>, BookError> {
    due_now(env, book)?.iter().map(|one| link(words, book, one)).collect()
}

fn link(words: &Words, book: &Book, due: &Unrated) -> Result<Link, BookError> {
    let text = if athletes::is_only_one(book, due.who)? {
        words.word("effort-ask")
    } else {
        let who = name(words, &Card::read(book, due.who)?, due.who);
        words.say("effort-ask-whom", &[("name", (&who).into())])
    };
    Ok(Link { text, route: Route::Effort(due.session).to_string() })
}

/// The next question that is not due yet, where the person wants to be reminded of it.
pub(crate) fn reminder(words: &Words, env: &Env, book: &Book) -> Result<Option<Reminder>, BookError> {
    if book.local(REMIND)?.is_none() {
        return Ok(None);
    }
    let next = unrated(env, book)?
        .into_iter()
        .filter_map(|unrated| Some((unrated.due_ms.filter(|at| *at > env.now_ms)?, unrated.session)))
        .min();
    Ok(next.map(|(at_ms, session)| Reminder {
        at_ms,
        text: words.word("effort-ask"),
        route: Route::Effort(session).to_string(),
    }))
}

fn page(words: &Words, env: &Env, book: &Book, place: Hash) -> Result<Option<EffortPage>, BookError> {
    let revision = book.revision();
    let Some(held) = find(book, place)? else { return Ok(None) };
    let (Some(who), Some(Fact::Session(session))) = (held.key.scope.member(), held.fact()) else {
        return Ok(None);
    };
    let saved = rating(book, place)?;
    let written = written(book, &sets(book, place)?, session.day)?;
    let minute = |ms: i64| {
        let stamp = Stamp { ms, zone_min: env.zone_min };
        clock(words, env, stamp.minute())
    };
    // A set is written down when it is done, so one alone says no length.
    let between = written.and_then(|written| {
        let minutes = (written.last_ms - written.first_ms) / 60_000;
        u16::try_from(minutes).ok().filter(|minutes| (1..=600).contains(minutes))
    });
    let minutes_source = match (saved, between, written) {
        (Some(_), ..) => words.word("effort-minutes-saved"),
        (None, Some(_), Some(written)) => words.say(
            "effort-minutes-sets",
            &[("first", (&minute(written.first_ms)).into()), ("last", (&minute(written.last_ms)).into())],
        ),
        _ => words.word("effort-minutes-none"),
    };
    let day = near_day(words, env, session.day);
    let about = if athletes::is_only_one(book, who)? {
        words.say("effort-about", &[("day", (&day).into())])
    } else {
        let who = name(words, &Card::read(book, who)?, who);
        words.say("effort-about-whom", &[("name", (&who).into()), ("day", (&day).into())])
    };
    let asked = match written {
        Some(written) if written.last_ms + ASKED_AFTER_MS > env.now_ms => {
            words.say("effort-asked-later", &[("at", (&minute(written.last_ms + ASKED_AFTER_MS)).into())])
        }
        _ => words.word("effort-asked"),
    };
    let scale = (0..=10).map(|rating: u16| {
        let text = if WORDED.contains(&rating) {
            format!("{rating} · {}", words.word(&format!("effort-word-{rating}")))
        } else {
            rating.to_string()
        };
        let tenths = rating * 10;
        let chosen = saved.is_some_and(|saved| saved.rpe_tenths == tenths);
        Choice { id: tenths.to_string(), text, group: String::new(), chosen }
    });
    Ok(Some(EffortPage {
        revision,
        session: place.to_string(),
        title: words.word("effort-ask"),
        about,
        asked,
        scale: scale.collect(),
        minutes_label: words.word("effort-minutes"),
        minutes: saved.map(|saved| saved.minutes).or(between),
        minutes_source,
        not_said: words.word("phone-not-said"),
        save: words.word("effort-save"),
        draft: drafts(book)?.into_iter().find_map(|(of, draft)| (of == place).then_some(draft)),
        reminds: book.local(REMIND)?.is_some(),
        remind: words.word("effort-remind"),
        remind_about: words.word("effort-remind-about"),
    }))
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// How hard a session was, to be filled in.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn effort(&self, env: &Env, session: &str) -> Result<EffortPage, ScreenError> {
        let missing = || ScreenError::NotFound { what: "session".to_owned() };
        let place = Hash::parse(session).ok_or_else(missing)?;
        page(&Words::of(&env.language), env, &*self.open_book()?, place)?.ok_or_else(missing)
    }

    /// Keeps how hard a session was as it is tapped, until it is saved.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] for what is no session's id, [`ScreenError::Book`].
    pub fn keep_effort(&self, session: &str, draft: &EffortDraft) -> Result<(), ScreenError> {
        let missing = || ScreenError::NotFound { what: "session".to_owned() };
        let place = Hash::parse(session).ok_or_else(missing)?;
        Ok(keep(&*self.open_book()?, place, Some(*draft))?)
    }

    /// Whether the device is to remind of the question when it is due. It is asked on the
    /// first screen in either case.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn remind_of_effort(&self, on: bool) -> Result<(), ScreenError> {
        Ok(self.open_book()?.set_local(REMIND, on.then_some(&[1][..]))?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::companion::Effort;

    fn at(minutes: i64) -> Env {
        // Wednesday 25 November 2026, 9:00 one hour east of UTC.
        let now_ms = 1_795_593_600_000 + minutes * 60_000;
        Env { language: "en".into(), zone_min: 60, hour24: true, now_ms }
    }

    #[test]
    fn it_is_asked_half_an_hour_after_the_last_set_until_it_is_said() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &at(0)).unwrap();
        let form = phone.log_set(&at(0)).unwrap().form;
        let route = phone.log_today(&at(0), "", &form).unwrap();
        phone.log_today(&at(42), "", &form).unwrap();
        let session = route.strip_prefix("session/").unwrap();
        let asked = |minutes| {
            let today = phone.today(&at(minutes)).unwrap();
            today.actions.iter().any(|action| action.route == format!("effort/{session}"))
        };
        assert!(!asked(71) && asked(72) && asked(23 * 60));
        assert_eq!(phone.today(&at(50)).unwrap().reminder, None, "nobody asked to be reminded");
        phone.remind_of_effort(true).unwrap();
        let reminder = phone.today(&at(50)).unwrap().reminder.unwrap();
        assert_eq!(reminder.at_ms, at(72).now_ms);
        assert_eq!(phone.today(&at(72)).unwrap().reminder, None);

        let page = phone.effort(&at(72), session).unwrap();
        assert_eq!(page.minutes, Some(42));
        assert!(page.minutes_source.contains("9:00") && page.minutes_source.contains("9:42"));
        assert_eq!(page.scale[7].text, "7 · very hard");
        assert!(page.scale.iter().all(|choice| !choice.chosen));
        phone.set_effort(&at(72), session, &Effort { rpe_tenths: 70, minutes: 60 }).unwrap();
        assert!(!asked(73));
        let page = phone.effort(&at(73), session).unwrap();
        assert_eq!((page.minutes, page.scale[7].chosen), (Some(60), true));
    }

    #[test]
    fn what_was_tapped_is_kept_for_each_session_until_it_is_saved() {
        let folder = tempfile::tempdir().unwrap();
        let open = || Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &at(0)).unwrap();
        let phone = open();
        let begin = |minutes| {
            let form = phone.log_set(&at(minutes)).unwrap().form;
            phone.log_today(&at(minutes), "", &form).unwrap().strip_prefix("session/").unwrap().to_owned()
        };
        let (one, other) = (begin(0), begin(24 * 60));
        let draft = EffortDraft { rpe_tenths: Some(70), minutes: None };
        phone.keep_effort(&one, &draft).unwrap();
        phone.keep_effort(&other, &EffortDraft { minutes: Some(55), ..draft }).unwrap();
        drop(phone);
        let phone = open();
        let page = phone.effort(&at(24 * 60), &one).unwrap();
        assert_eq!((page.draft, page.minutes), (Some(draft), None), "nothing of it is saved");
        assert!(page.scale.iter().all(|choice| !choice.chosen));
        phone.set_effort(&at(24 * 60), &one, &Effort { rpe_tenths: 70, minutes: 60 }).unwrap();
        let kept = |session: &str| phone.effort(&at(24 * 60), session).unwrap().draft;
        assert_eq!((kept(&one), kept(&other).unwrap().minutes), (None, Some(55)));
        // The newest stay, and what is no session is refused.
        for n in 0..=u8::try_from(MOST_DRAFTS).unwrap() {
            phone.keep_effort(&Hash([n; 32]).to_string(), &draft).unwrap();
        }
        assert_eq!(kept(&other), None);
        assert!(matches!(phone.keep_effort("one", &draft), Err(ScreenError::NotFound { .. })));
    }

    #[test]
    fn a_set_that_is_put_right_in_the_evening_was_done_when_it_was_done() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &at(0)).unwrap();
        let form = phone.log_set(&at(0)).unwrap().form;
        let route = phone.log_today(&at(0), "", &form).unwrap();
        phone.log_today(&at(42), "", &form).unwrap();
        let session = route.strip_prefix("session/").unwrap();
        let set = phone.session_log(&at(42), session).unwrap().sets.remove(0).id;
        let right = crate::record::SetForm { reps: form.reps + 1, sets: 1, ..form };
        let seen = phone.correction(&at(328), &set).unwrap().seen;
        phone.correct_set(&at(328), &set, &seen, &right).unwrap();
        assert_eq!(phone.effort(&at(328), session).unwrap().minutes, Some(42));
        let today = phone.today(&at(328)).unwrap();
        assert!(
            today.actions.iter().any(|action| action.route == format!("effort/{session}")),
            "still asked"
        );
    }

    #[test]
    fn a_single_set_says_no_length_and_two_days_later_nobody_asks() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &at(0)).unwrap();
        let form = phone.log_set(&at(0)).unwrap().form;
        let route = phone.log_today(&at(0), "", &form).unwrap();
        let page = phone.effort(&at(40), route.strip_prefix("session/").unwrap()).unwrap();
        assert_eq!(page.minutes, None);
        let asks = |minutes| {
            phone.today(&at(minutes)).unwrap().actions.iter().any(|a| a.route.starts_with("effort/"))
        };
        assert!(asks(24 * 60) && !asks(48 * 60));
    }
}
