//! A session on a phone: each set by itself, to be put right; how it was, and whether it
//! was cut short.

use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::facts::{
    self, Conditions, Fact, Hash, MemberId, Shoes, Subject, Surface, Warmth, Wetness, WindFelt, Word,
    field_name, kind,
};

use crate::athletes;
use crate::companion::{Companion, ScreenError, chosen_or_none, refused};
use crate::effort;
use crate::env::Env;
use crate::record::{Choice, Clash, Link, Pair};
use crate::route::Route;
use crate::session::session;
use crate::text::Words;
use crate::training::Catalogue;
use crate::wording;

/// Why a session can be cut short, in one touch. The word is written down, and every
/// device says it in its own language; what somebody typed stands as it is.
pub(crate) const REASONS: [&str; 6] = ["pain", "tired", "weather", "time", "ground", "other"];

/// One list of conditions: one touch says one.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct ConditionRow {
    /// What to give back: `surface`, `shoes`, `wetness`, `wind` or `warmth`.
    pub id: String,
    /// What it is.
    pub label: String,
    /// What can be said.
    pub choices: Vec<Choice>,
}

/// One set by itself.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct LoggedSet {
    /// The set.
    pub id: String,
    /// What was done.
    pub text: String,
    /// When it was written down.
    pub note: String,
    /// Where it is put right or taken back; empty where this device may not.
    pub route: String,
    /// All of it.
    pub spoken: String,
}

/// A session as a phone shows it.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct SessionLog {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The session.
    pub id: String,
    /// Purpose, or what stands for it.
    pub title: String,
    /// Whose it is; empty on a phone of one.
    pub athlete: String,
    /// Day, effort, conditions.
    pub card: Vec<Pair>,
    /// The sets in order.
    pub sets: Vec<LoggedSet>,
    /// What to say where there is none; else empty.
    pub empty: String,
    /// That a set is put right by holding it; empty where this device may not.
    pub hold: String,
    /// What the sets add up to, a sentence a kind.
    pub totals: Vec<String>,
    /// The question how hard it was, or to change what was said, and where; `None` where this device may not.
    pub effort: Option<Link>,
    /// What ground and air were like, to be said.
    pub conditions: Vec<ConditionRow>,
    /// The heading over them.
    pub conditions_label: String,
    /// Why it was cut short, to be said; the one that was said is chosen.
    pub cut: Vec<Choice>,
    /// The heading over that.
    pub cut_label: String,
    /// Who sees the reason.
    pub cut_note: String,
    /// Where it is said what hurts, once pain was the reason; on the athlete's own phone.
    pub check_in: Option<Link>,
    /// The button that takes it back when it is held; empty where the session was not cut short.
    pub cut_back: String,
    /// What a reader hears and does instead of holding.
    pub cut_back_spoken: String,
    /// What two people wrote differently.
    pub clashes: Vec<Clash>,
    /// Cautions of what was done.
    pub cautions: Vec<String>,
    /// Who may change it, where this device may not; else empty.
    pub who_may: String,
}

/// A reason in words.
pub(crate) fn reason(words: &Words, why: &str) -> String {
    if REASONS.contains(&why) { words.word(&format!("cut-{why}")) } else { why.to_owned() }
}

/// Ground and air in words, label and value, as far as they were said.
pub(crate) fn conditions(words: &Words, conditions: &Conditions) -> Vec<Pair> {
    let pair = |family: &str, word: Option<&'static str>| {
        let value = words.word(&format!("{family}{}", word?));
        Some(Pair { label: label(words, family), value })
    };
    let all = [
        pair("wetness-", conditions.wetness.map(Wetness::word)),
        pair("wind-", conditions.wind.map(WindFelt::word)),
        pair("warmth-", conditions.warmth.map(Warmth::word)),
    ];
    all.into_iter().flatten().collect()
}

/// The label of a family of words, which ends with a dash.
fn label(words: &Words, family: &str) -> String {
    words.word(&format!("label-{}", family.trim_end_matches('-')))
}

fn find(book: &Book, place: Hash) -> Result<Option<(Held, MemberId, facts::Session)>, BookError> {
    let held = book.held(&Filter {
        kind: Some(kind::SESSION),
        field: Some(field_name::WHOLE),
        subject: Some(Subject::Fact(place)),
        ..Filter::default()
    })?;
    Ok(held.into_iter().next().and_then(|held| match (held.key.scope.member(), held.fact()) {
        (Some(member), Some(Fact::Session(session))) => {
            let session = session.clone();
            Some((held, member, session))
        }
        _ => None,
    }))
}

fn log(words: &Words, env: &Env, book: &Book, place: Hash) -> Result<Option<SessionLog>, BookError> {
    let Some((_, member, fact)) = find(book, place)? else { return Ok(None) };
    let Some(whole) = session(words, env, book, place)? else { return Ok(None) };
    let may = athletes::writes_for(book)?.contains(&book.authority()?.person(member));
    let catalogue = Catalogue::read(book)?;
    let held = book.held(&Filter { kind: Some(kind::SET), session: Some(place), ..Filter::default() })?;
    let held = book.in_order(held)?;
    let sets: Vec<LoggedSet> =
        held.iter().filter_map(|held| logged(words, env, &catalogue, held, may)).collect();
    let rated = effort::rating(book, place)?;
    let mut card = whole.card;
    // Where it is asked, it need not be said to be missing.
    card.retain(|pair| rated.is_some() || !may || pair.label != words.word("label-effort"));
    let effort = may.then(|| Link {
        text: words.word(if rated.is_some() { "effort-change" } else { "effort-ask" }),
        route: Route::Effort(place).to_string(),
    });
    let pain = fact.cut_short.as_deref() == Some(REASONS[0]);
    let check_in = (pain && athletes::writing_for(book)? == Some(book.authority()?.person(member)))
        .then(|| Link { text: words.word("action-check-in"), route: Route::CheckIn.to_string() });
    Ok(Some(SessionLog {
        revision: whole.revision,
        id: whole.id,
        title: whole.title,
        athlete: if athletes::is_only_one(book, member)? { String::new() } else { whole.athlete.text },
        card,
        empty: if sets.is_empty() { words.word("session-no-sets") } else { String::new() },
        hold: if may && !sets.is_empty() { words.word("session-hold") } else { String::new() },
        sets,
        totals: whole.totals.into_iter().map(|row| row.text).collect(),
        effort,
        conditions: if may { rows(words, &fact) } else { Vec::new() },
        conditions_label: words.word("session-conditions"),
        cut: if may { reasons(words, fact.cut_short.as_deref()) } else { Vec::new() },
        cut_label: words.word("session-cut"),
        cut_note: words.word("session-cut-note"),
        check_in,
        cut_back: if may && fact.cut_short.is_some() {
            words.word("session-cut-back")
        } else {
            String::new()
        },
        cut_back_spoken: words.word("session-cut-back-spoken"),
        clashes: whole.clashes,
        cautions: whole.cautions,
        who_may: if may { String::new() } else { words.word("session-who-may") },
    }))
}

fn logged(words: &Words, env: &Env, catalogue: &Catalogue, held: &Held, may: bool) -> Option<LoggedSet> {
    let (Some(id), Some(Fact::Set(set))) = (held.id(), held.fact()) else { return None };
    let text = wording::set(words, catalogue, set);
    let stamp = held.value().stamp;
    let note = wording::moment(words, env, stamp.ms, stamp.zone_min);
    let route = if may { Route::Correct(id).to_string() } else { String::new() };
    Some(LoggedSet { id: id.to_string(), spoken: format!("{text}. {note}"), text, note, route })
}

fn reasons(words: &Words, said: Option<&str>) -> Vec<Choice> {
    let known = REASONS.iter().map(|why| Choice {
        id: (*why).to_owned(),
        text: words.word(&format!("cut-{why}")),
        group: String::new(),
        chosen: said == Some(*why),
    });
    known.collect()
}

fn rows(words: &Words, session: &facts::Session) -> Vec<ConditionRow> {
    fn row<W: Word>(words: &Words, family: &str, said: Option<W>) -> ConditionRow {
        let said = said.map(W::word);
        let choices = W::WORDS.iter().map(|(word, _)| Choice {
            id: (*word).to_owned(),
            text: words.word(&format!("{family}{word}")),
            group: String::new(),
            chosen: said == Some(*word),
        });
        let id = family.trim_end_matches('-').to_owned();
        ConditionRow { id, label: label(words, family), choices: choices.collect() }
    }
    let conditions = &session.conditions;
    vec![
        row::<Surface>(words, "surface-", session.surface),
        row::<Wetness>(words, "wetness-", conditions.wetness),
        row::<WindFelt>(words, "wind-", conditions.wind),
        row::<Warmth>(words, "warmth-", conditions.warmth),
        row::<Shoes>(words, "shoes-", session.shoes),
    ]
}

/// Refuses to change a session that two people wrote differently: whoever says one more
/// thing of it has not chosen between the two.
pub(crate) fn refuse_clash(words: &Words, held: &Held) -> Result<(), ScreenError> {
    if held.is_clash() {
        return Err(ScreenError::NotAllowed { reason: words.word("session-clash-first") });
    }
    Ok(())
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// One session as a phone shows it.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn session_log(&self, env: &Env, session: &str) -> Result<SessionLog, ScreenError> {
        let missing = || ScreenError::NotFound { what: "session".to_owned() };
        let place = Hash::parse(session).ok_or_else(missing)?;
        log(&Words::of(&env.language), env, &*self.open_book()?, place)?.ok_or_else(missing)
    }

    /// Says one condition of a session: `which` is the id of its row, `value` of the choice,
    /// empty to say nothing of it.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotFound`]; [`ScreenError::NotAllowed`], also
    /// while two people's values of the session stand side by side.
    pub fn say_condition(
        &self,
        env: &Env,
        session: &str,
        which: &str,
        value: &str,
    ) -> Result<(), ScreenError> {
        self.change_session(env, session, |session| {
            let conditions = &mut session.conditions;
            match which {
                "surface" => session.surface = chosen_or_none(which, value)?,
                "shoes" => session.shoes = chosen_or_none(which, value)?,
                "wetness" => conditions.wetness = chosen_or_none(which, value)?,
                "wind" => conditions.wind = chosen_or_none(which, value)?,
                "warmth" => conditions.warmth = chosen_or_none(which, value)?,
                other => {
                    let range = "one of: surface, shoes, wetness, wind, warmth";
                    return Err(refused("condition", other.to_owned(), range));
                }
            }
            Ok(())
        })
    }

    /// Takes back that a session was cut short.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`]; [`ScreenError::NotAllowed`], also while two people's values
    /// of the session stand side by side.
    pub fn not_cut_short(&self, env: &Env, session: &str) -> Result<(), ScreenError> {
        self.change_session(env, session, |session| {
            session.cut_short = None;
            Ok(())
        })
    }
}

impl Companion {
    fn change_session(
        &self,
        env: &Env,
        session: &str,
        change: impl FnOnce(&mut facts::Session) -> Result<(), ScreenError>,
    ) -> Result<(), ScreenError> {
        let book = self.open_book()?;
        let missing = || ScreenError::NotFound { what: "session".to_owned() };
        let place = Hash::parse(session).ok_or_else(missing)?;
        let (held, _, before) = find(&book, place)?.ok_or_else(missing)?;
        refuse_clash(&Words::of(&env.language), &held)?;
        let mut after = before.clone();
        change(&mut after)?;
        if after != before {
            book.write(held.key.scope, &Draft::replacing(&held, Fact::Session(after)), env.stamp())?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::SetForm;

    fn at(language: &str, minutes: i64) -> Env {
        let now_ms = 1_795_593_600_000 + minutes * 60_000;
        Env { language: language.into(), zone_min: 60, hour24: true, now_ms }
    }

    fn en(minutes: i64) -> Env {
        at("en", minutes)
    }

    /// A phone with a session of two different sets.
    fn begun(folder: &tempfile::TempDir) -> (Companion, String) {
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &en(0)).unwrap();
        let form = phone.log_set(&en(0)).unwrap().form;
        let route = phone.log_today(&en(0), "", &form).unwrap();
        phone.log_today(&en(4), "", &SetForm { reps: 6, sets: 2, ..form }).unwrap();
        (phone, route.strip_prefix("session/").unwrap().to_owned())
    }

    #[test]
    fn a_condition_is_said_by_one_touch_and_stands_on_the_card() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, session) = begun(&folder);
        phone.say_condition(&en(5), &session, "wetness", "wet").unwrap();
        phone.say_condition(&en(5), &session, "surface", "grass").unwrap();
        let log = phone.session_log(&en(5), &session).unwrap();
        let chosen: Vec<_> =
            log.conditions.iter().flat_map(|row| &row.choices).filter(|c| c.chosen).collect();
        assert_eq!(chosen.iter().map(|c| c.text.as_str()).collect::<Vec<_>>(), ["grass", "wet"]);
        let card = |language| phone.session(&at(language, 5), &session).unwrap().card;
        assert!(
            card("de").iter().any(|pair| pair.label == "Nässe" && pair.value == "nass"),
            "{:?}",
            card("de")
        );
        phone.say_condition(&en(5), &session, "wetness", "").unwrap();
        assert!(!card("en").iter().any(|pair| pair.value == "wet"));
        for (which, value) in [("mood", "wet"), ("wetness", "drenched")] {
            let refused = phone.say_condition(&en(5), &session, which, value);
            assert!(matches!(refused, Err(ScreenError::Refused { .. })), "{which}");
        }
    }

    #[test]
    fn a_reason_is_one_touch_told_in_each_language_and_taken_back() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, session) = begun(&folder);
        assert_eq!(phone.session_log(&en(5), &session).unwrap().cut_back, "");
        phone.cut_short(&en(5), &session, "weather").unwrap();
        let told = |language| {
            let card = phone.session(&at(language, 6), &session).unwrap().card;
            card.last().unwrap().value.clone()
        };
        assert_eq!((told("en").as_str(), told("de").as_str()), ("weather", "Wetter"));
        phone.cut_short(&en(6), &session, "the bus left").unwrap();
        assert_eq!(told("de"), "the bus left", "what was typed stands as it is");
        assert_eq!(phone.session_log(&en(6), &session).unwrap().check_in, None);
        phone.cut_short(&en(6), &session, "pain").unwrap();
        let link = phone.session_log(&en(6), &session).unwrap().check_in.unwrap();
        assert_eq!(link.route, "check-in");
        phone.cut_short(&en(6), &session, "the bus left").unwrap();
        let log = phone.session_log(&en(6), &session).unwrap();
        assert!(log.cut.iter().all(|choice| !choice.chosen) && !log.cut_back.is_empty());
        phone.not_cut_short(&en(7), &session).unwrap();
        assert_eq!(phone.session_log(&en(7), &session).unwrap().cut_back, "");
    }

    #[test]
    fn a_set_is_put_right_by_itself_and_taken_back() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, session) = begun(&folder);
        let sets = || phone.session_log(&en(9), &session).unwrap().sets;
        let texts = || sets().into_iter().map(|set| set.text).collect::<Vec<_>>();
        assert_eq!(sets().len(), 3, "equal ones stand apart");
        let set = sets()[1].id.clone();
        let screen = phone.correction(&en(5), &set).unwrap();
        let (seen, form) = (screen.seen, screen.form.form);
        assert_eq!(form.reps, 6);
        phone.keep_correction(&set, &seen, &SetForm { reps: 9, ..form.clone() }).unwrap();
        assert_eq!(phone.correction(&en(5), &set).unwrap().form.form.reps, 9, "kept");
        assert_eq!(phone.correction(&en(5), &sets()[0].id).unwrap().form.form.reps, 10, "of this set alone");
        let route = phone.correct_set(&en(6), &set, &seen, &SetForm { reps: 9, ..form }).unwrap();
        assert_eq!(route, format!("session/{session}"));
        assert_eq!(texts().iter().filter(|text| text.starts_with("9 ×")).count(), 1);
        let seen = phone.correction(&en(7), &set).unwrap().seen;
        let garbled = phone.take_set_back(&en(7), &set, "all of it");
        assert!(matches!(garbled, Err(ScreenError::Refused { .. })), "{garbled:?}");
        phone.take_set_back(&en(7), &set, &seen).unwrap();
        assert_eq!(sets().len(), 2);
        assert!(matches!(phone.correction(&en(8), &set), Err(ScreenError::NotFound { .. })));
    }

    #[test]
    fn the_last_session_is_done_again_in_one_action() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, session) = begun(&folder);
        assert_eq!(phone.log_set(&en(9)).unwrap().again, None, "today is not done again");
        let tomorrow = en(24 * 60);
        let screen = phone.log_set(&tomorrow).unwrap();
        let again = screen.again.unwrap();
        assert_eq!(again.session, session);
        assert_eq!(again.text, "Again as on Wed 25 Nov: 3 sets, 22 contacts");
        assert_eq!(again.sets.len(), 2);
        let route = phone.repeat_session(&tomorrow, "", "").unwrap();
        let id = route.strip_prefix("session/").unwrap();
        let log = phone.session_log(&tomorrow, id).unwrap();
        let before = phone.session_log(&tomorrow, &session).unwrap();
        let texts = |log: &SessionLog| log.sets.iter().map(|set| set.text.clone()).collect::<Vec<_>>();
        assert_eq!(texts(&log), texts(&before));
        let twice = phone.repeat_session(&tomorrow, "", &session);
        assert!(matches!(twice, Err(ScreenError::Refused { .. })), "a second touch writes nothing");
        assert_eq!(phone.log_set(&tomorrow).unwrap().again, None);
    }

    #[test]
    fn the_last_exercises_come_first_with_the_other_leg() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, _) = begun(&folder);
        let find = |text: &str| phone.find_exercises(&en(9), text).unwrap();
        let hops = find("hop");
        assert!(hops.len() > 1 && hops.iter().all(|c| c.text.to_lowercase().contains("hop")));
        assert!(find("nothing has this name").is_empty());
        let one_leg = hops
            .iter()
            .map(|choice| SetForm {
                exercise: choice.id.clone(),
                leg: "left".into(),
                sets: 1,
                reps: 5,
                ..SetForm::default()
            })
            .find(|form| {
                phone.keep_set(form).unwrap();
                phone.log_set(&en(9)).unwrap().legs.len() > 1
            })
            .unwrap();
        phone.log_today(&en(9), "", &one_leg).unwrap();
        let screen = phone.log_set(&en(10)).unwrap();
        assert_eq!(screen.recent.len(), 2);
        assert_eq!((screen.form.leg.as_str(), screen.form.reps), ("right", 5));
        assert!(screen.recent[0].chosen && !screen.recent[1].chosen);
    }
}
