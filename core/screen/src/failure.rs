//! Why a call brought nothing, in the words of a phone's language, and what a person may do.

use pitside_model::facts::Day;

use crate::companion::{BookTrouble, ScreenError};
use crate::env::Env;
use crate::figure::full_day;
use crate::text::{Topic, Words};

/// Why a call brought nothing.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Failure {
    /// What is in the way, in whole sentences.
    pub text: String,
    /// What a person may do; empty where `text` says it.
    pub may_do: String,
}

/// What a field says that was left empty, where a form has no text for it.
const EMPTY: [&str; 6] = ["", "left out", "missing", "nobody", "none", "nothing"];

/// Why a call brought nothing, in the language of a device. No book need be open. Without an
/// error of the core's something went wrong inside: what a person hears is then the same,
/// whatever it was.
#[uniffi::export]
#[must_use]
pub fn failure(env: &Env, error: Option<ScreenError>) -> Failure {
    in_words(&Words::of(&env.language), error.as_ref())
}

fn in_words(words: &Words, error: Option<&ScreenError>) -> Failure {
    let said = |text: &str, may_do: &str| Failure { text: words.word(text), may_do: words.word(may_do) };
    match error {
        None => said("failure-inside", "failure-inside-do"),
        Some(ScreenError::Closed) => said("failure-closed", "failure-closed-do"),
        Some(ScreenError::Book { trouble, .. }) => book(words, *trouble),
        Some(ScreenError::NotFound { what }) => missing(words, what),
        Some(ScreenError::NotAllowed { reason }) => not_allowed(words, reason),
        Some(ScreenError::Refused { field, value, range }) => refused(words, field, value, range),
    }
}

fn book(words: &Words, trouble: BookTrouble) -> Failure {
    let (text, may_do) = match trouble {
        BookTrouble::Full => ("failure-full", "failure-full-do"),
        BookTrouble::Held => ("failure-held", "failure-held-do"),
        BookTrouble::Busy => ("failure-busy", ""),
        BookTrouble::Damaged => ("failure-damaged", "failure-damaged-do"),
        BookTrouble::Newer => ("failure-newer", "failure-newer-do"),
        BookTrouble::ReadOnly => ("failure-read-only", "failure-read-only-do"),
        BookTrouble::OtherDevice => ("failure-other-device", "failure-other-device-do"),
        BookTrouble::NoSquad => ("failure-no-squad", "failure-no-squad-do"),
        BookTrouble::HasSquad => ("end-has-squad", ""),
        BookTrouble::Demo => ("end-demo", ""),
        BookTrouble::Other => ("failure-book", "failure-book-do"),
    };
    let may_do = if may_do.is_empty() { String::new() } else { words.word(may_do) };
    Failure { text: words.word(text), may_do }
}

fn missing(words: &Words, what: &str) -> Failure {
    let text = match words.told(Topic::Missing, what) {
        Some(what) => words.say("failure-missing", &[("what", (&what).into())]),
        None => words.word("failure-missing-unsaid"),
    };
    let may_do = if what == "file" { "failure-missing-file-do" } else { "failure-missing-do" };
    Failure { text, may_do: words.word(may_do) }
}

/// Most reasons are in words already, and say what may be done.
fn not_allowed(words: &Words, reason: &str) -> Failure {
    if let Some(text) = words.known(Topic::Reason, reason) {
        return Failure { text, may_do: words.word("failure-not-allowed-do") };
    }
    Failure { text: words.told_or_as_said(Topic::Mark, reason), may_do: String::new() }
}

/// A field of a form, in quotation marks where it has no name in these words.
fn field_name(words: &Words, field: &str) -> String {
    words
        .told(Topic::Field, field)
        .unwrap_or_else(|| words.say("failure-field-unnamed", &[("field", field.into())]))
}

fn refused(words: &Words, field: &str, value: &str, range: &str) -> Failure {
    match field {
        "clip" => {
            let text = match words.told(Topic::Clip, value) {
                Some(why) => words.say("failure-clip", &[("why", (&why).into())]),
                None => words.word("failure-clip-damaged"),
            };
            return Failure { text, may_do: words.word("failure-clip-do") };
        }
        "file" => {
            return Failure { text: words.word("failure-file"), may_do: words.word("failure-file-do") };
        }
        _ => {}
    }
    let name = field_name(words, field);
    let empty = EMPTY.contains(&value);
    // The model says a text in quotation marks.
    let value = value.trim_matches('"');
    let value = match Day::parse(value) {
        Some(day) => full_day(words, day),
        None => words.told_or_as_said(Topic::Value, value),
    };
    let args = [("field", (&name).into()), ("value", (&value).into())];
    let text = match words.told(Topic::Range, range) {
        Some(range) if empty => {
            words.say("failure-empty", &[("field", (&name).into()), ("range", (&range).into())])
        }
        Some(range) => {
            let [field, value] = args;
            words.say("failure-refused", &[field, value, ("range", (&range).into())])
        }
        None if empty => words.say("failure-empty-unsaid", &[("field", (&name).into())]),
        None => words.say("failure-refused-unsaid", &args),
    };
    // A phone fills days in by itself: one that does not fit is that of its clock.
    let may_do = if field == "day" { "failure-day-do" } else { "failure-refused-do" };
    Failure { text, may_do: words.word(may_do) }
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;

    use pitside_book::clock::{Clock as _, SystemClock};
    use pitside_book::store::BookError;
    use pitside_log::authority::Reason;

    use super::*;
    use crate::companion::{Companion, Effort, SessionForm};
    use crate::record::{HurtForm, SetForm};

    fn env(language: &str) -> Env {
        Env { language: language.into(), zone_min: 60, hour24: true, now_ms: SystemClock.now().ms }
    }

    fn german(error: ScreenError) -> Failure {
        failure(&env("de"), Some(error))
    }

    #[test]
    fn what_is_wrong_with_a_book_is_said_once_with_what_may_be_done() {
        let place = PathBuf::from("/data/book");
        let io = || std::io::Error::other("as the system says");
        let all = [
            BookError::Full,
            BookError::Locked,
            BookError::InUse(place.clone()),
            BookError::Busy,
            BookError::Damaged { path: place.clone(), why: "database disk image is malformed".into() },
            BookError::BeyondRescue(place.clone()),
            BookError::Newer { path: place.clone(), found: 9, known: 2 },
            BookError::ReadOnly { path: place.clone(), source: io() },
            BookError::OtherDevice(place.clone()),
            BookError::NoSquad,
            BookError::HasSquad,
            BookError::Demo,
            BookError::Random(io()),
            BookError::NotAllowed(None),
            BookError::NotAllowed(Some(Reason::NotGiven)),
            BookError::NotAllowed(Some(Reason::Removed)),
            BookError::NotAllowed(Some(Reason::Senior)),
        ];
        for e in all {
            let english = e.to_string();
            let said = german(e.into());
            assert!(!said.text.is_empty() && !said.text.contains('['), "{english}: {said:?}");
            for odd in ["this ", "the ", "book", "/data", "malformed", "system"] {
                assert!(!said.text.contains(odd) && !said.may_do.contains(odd), "{english}: {said:?}");
            }
            assert_ne!(said.text, said.may_do);
        }
        let full = german(BookError::Full.into());
        assert!(full.text.starts_with("Der Speicher dieses Telefons ist voll."), "{full:?}");
        assert_eq!(full.may_do, "Mach Platz und versuch es noch einmal.");
        let may_not = german(BookError::NotAllowed(Some(Reason::NotGiven)).into());
        assert_eq!(
            may_not.text,
            "Dieses Gerät darf das nicht schreiben: Der Trainer hat ihm das nicht erlaubt."
        );
        let english = failure(&env("en"), Some(BookError::NotAllowed(Some(Reason::NotGiven)).into()));
        assert!(english.text.contains("the coach has not given it that"), "{english:?}");
        assert_eq!(english.may_do, "Ask your coach if you should be allowed to.");
    }

    /// What was refused in words of the language already stays, and nothing is added.
    #[test]
    fn a_reason_in_words_stays() {
        let said = german(ScreenError::NotAllowed { reason: "Keine Sprünge auf einem Bein.".into() });
        assert_eq!(said, Failure { text: "Keine Sprünge auf einem Bein.".into(), may_do: String::new() });
    }

    /// What a phone's forms can be refused for has German words, value and all.
    #[test]
    fn what_a_phone_is_refused_is_said_in_german() {
        let folder = tempfile::tempdir().unwrap();
        let now = env("de");
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![9; 32], &now).unwrap();
        let session = phone.begin_session(&now, "", &SessionForm::default()).unwrap();
        let form = phone.log_set(&now).unwrap().form;
        let save = |form: SetForm| phone.save_sets(&now, &session, &form).unwrap_err();
        let effort = |rpe_tenths, minutes| {
            phone.set_effort(&now, &session, &Effort { rpe_tenths, minutes }).unwrap_err()
        };
        let mut hurts = phone.check_in_form(&now, "").unwrap().form;
        hurts.hurts.push(HurtForm { part: "knee".into(), side: String::new(), score: 11 });
        let long = "x".repeat(81);
        let refused = [
            (
                save(SetForm { sets: 0, ..form.clone() }),
                "Sätze: „0“ geht nicht. Möglich ist: eine ganze Zahl von 1 bis 50.",
            ),
            (save(SetForm { reps: 0, ..form.clone() }), "Wiederholungen: „0“ geht nicht."),
            (
                save(SetForm { box_mm: Some(300), ..form.clone() }),
                "Höhe des Kastens: „300“ geht nicht. Möglich ist: leer lassen",
            ),
            (save(SetForm { strides: Some(6), ..form.clone() }), "Anlauf: "),
            (
                save(SetForm { load_g: Some(900_000), ..form.clone() }),
                "Zusatzlast: „900000“ geht nicht. Möglich ist: 0 bis 200000 g.",
            ),
            (effort(101, 60), "Anstrengung: „101“ geht nicht."),
            (effort(50, 0), "Minuten: „0“ geht nicht. Möglich ist: eine ganze Zahl von 1 bis 600."),
            (phone.check_in(&now, "", &hurts).unwrap_err(), "Schmerz von 0 bis 10: „11“ geht nicht."),
            (
                phone.cut_short(&now, &session, " ").unwrap_err(),
                "Grund: Hier fehlt etwas. Nötig ist: der Grund, in ein paar Worten.",
            ),
            (phone.cut_short(&now, &session, &long).unwrap_err(), "Grund des Abbruchs: „xxx"),
            (phone.name_athlete(&now, "", "").unwrap_err(), "Name: Hier fehlt etwas. Nötig ist: ein Name."),
            (
                phone
                    .begin_session(&now, "", &SessionForm { day: "gestern".into(), ..SessionForm::default() })
                    .unwrap_err(),
                "Tag: „gestern“ geht nicht. Möglich ist: ein Tag, geschrieben wie Mi, 25. Nov. 2026.",
            ),
            (
                phone.session(&now, "nowhere").unwrap_err(),
                "Dieses Telefon kennt diese Einheit nicht oder nicht mehr.",
            ),
            (
                phone.clip_file(&now, "nowhere").unwrap_err(),
                "Dieses Telefon kennt diesen Clip auf der Liste nicht oder nicht mehr.",
            ),
        ];
        for (error, begins) in refused {
            let english = error.to_string();
            let said = german(error);
            assert!(said.text.starts_with(begins), "{english}: {}", said.text);
            assert!(!said.may_do.is_empty(), "{english}");
            for odd in [" the ", " to ", " a ", "expected", "there is", "left out", "whole number"] {
                assert!(!said.text.contains(odd), "{english}: {}", said.text);
            }
        }
        phone.close();
        let closed = german(phone.today(&now).unwrap_err());
        assert_eq!(
            (closed.text.as_str(), closed.may_do.as_str()),
            ("Das Buch ist zu.", "Schließe die App und öffne sie wieder.")
        );
    }

    /// A field that only a desk has keeps its English name, in one German sentence.
    #[test]
    fn a_field_of_the_desk_is_named_and_no_more() {
        let desk = ScreenError::Refused {
            field: "members".into(),
            value: "nobody".into(),
            range: "at least one member, or everyone".into(),
        };
        assert_eq!(german(desk).text, "„members“: Hier fehlt etwas.");
        let inside = failure(&env("de"), None);
        assert!(inside.text.starts_with("In der App ging etwas schief."), "{inside:?}");
    }

    #[cfg(unix)]
    #[test]
    fn what_is_no_clip_is_said_in_german() {
        use std::io::Write as _;
        use std::os::fd::AsRawFd as _;

        let mut file = tempfile::tempfile().unwrap();
        let refused = |file: &std::fs::File| {
            let job = crate::job::Job::of_clip();
            german(crate::lent::read_lent_clip(file.as_raw_fd(), &job).expect_err("no clip"))
        };
        assert_eq!(refused(&file).text, "Dieser Clip lässt sich nicht lesen: Die Datei ist leer.");
        file.write_all(&[7; 400]).unwrap();
        let said = refused(&file);
        assert_eq!(said.text, "Dieser Clip lässt sich nicht lesen: Das ist keine MP4- oder QuickTime-Datei.");
        assert_eq!(said.may_do, "Wähle das Original eines Zeitlupenclips, MP4 oder MOV.");
    }
}
