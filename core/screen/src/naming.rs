//! What exercises are called and how they are done. Those that come along have a name and a
//! description in each language, as long as the squad has left them as they came; what a coach
//! wrote stays as it was written.

use std::collections::HashMap;
use std::sync::LazyLock;

use pitside_model::facts::exercise::Exercise;
use pitside_model::load::catalogue;
use uuid::Uuid;

use crate::text::Words;

/// An exercise that comes along.
struct ComeAlong {
    name: String,
    about: String,
    /// The end of the keys of its words.
    key: String,
}

static COME_ALONG: LazyLock<HashMap<Uuid, ComeAlong>> = LazyLock::new(|| {
    let named = catalogue::all().into_iter().map(|item| {
        let Exercise { name, about, .. } = item.exercise;
        let key = key(&name);
        (item.id, ComeAlong { name, about, key })
    });
    named.collect()
});

/// A name as a key is written: small letters and numbers, hyphens for what is between.
fn key(name: &str) -> String {
    let lower = name.to_lowercase();
    let parts = lower.split(|c: char| !c.is_ascii_alphanumeric()).filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("-")
}

/// What an exercise is called in a language.
pub(crate) fn named(words: &Words, id: Uuid, exercise: &Exercise) -> String {
    match COME_ALONG.get(&id) {
        Some(own) if own.name == exercise.name => words.word(&format!("named-{}", own.key)),
        _ => exercise.name.clone(),
    }
}

/// How an exercise is done, and its cue, in a language.
pub(crate) fn about(words: &Words, id: Uuid, exercise: &Exercise) -> String {
    match COME_ALONG.get(&id) {
        Some(own) if own.about == exercise.about => words.word(&format!("about-{}", own.key)),
        _ => exercise.about.clone(),
    }
}

/// The same, the cue apart; it is empty where none is told.
pub(crate) fn about_and_cue(words: &Words, id: Uuid, exercise: &Exercise) -> (String, String) {
    let whole = about(words, id, exercise);
    let mark = words.say("exercise-cue", &[("cue", "".into())]);
    // What a coach copied has the mark of the language it was copied in.
    let parts = [mark.trim(), "; cue:"].into_iter().find_map(|mark| whole.split_once(mark));
    let (how, cue) = parts.unwrap_or((&whole, ""));
    (format!("{}.", how.trim_end_matches('.')), cue.trim().trim_end_matches('.').to_owned())
}

/// What an exercise is called of which only the name is known, as a figure keeps it.
pub(crate) fn called(words: &Words, name: &str) -> String {
    let known = COME_ALONG.values().find(|own| own.name == name);
    known.map_or_else(|| name.to_owned(), |own| words.word(&format!("named-{}", own.key)))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn what_comes_along_is_called_in_each_language_and_what_a_coach_wrote_stays() {
        let (english, german) = (Words::of("en"), Words::of("de"));
        let mut names = BTreeSet::new();
        for item in catalogue::all() {
            let name = &item.exercise.name;
            assert_eq!(named(&english, item.id, &item.exercise), *name);
            let in_german = named(&german, item.id, &item.exercise);
            assert!(!in_german.starts_with('['), "{name}: {in_german}");
            assert!(names.insert(in_german), "two are called alike: {name}");
        }
        assert_eq!(called(&german, "Hurdle jumps, two legs"), "Hürdensprünge, beidbeinig");
        assert_eq!(called(&german, "Own jumps"), "Own jumps");
        let mut own = catalogue::find(catalogue::id::POGO).unwrap();
        own.exercise.name = "Pogo on the lawn".to_owned();
        assert_eq!(named(&german, own.id, &own.exercise), "Pogo on the lawn");
        let copy = Uuid::from_u128(7);
        own.exercise.name = "Pogo, two legs".to_owned();
        assert_eq!(named(&german, copy, &own.exercise), "Pogo, two legs", "a copy is the coach's own");
    }
    #[test]
    fn what_comes_along_is_described_in_each_language_and_what_a_coach_wrote_stays() {
        let (english, german) = (Words::of("en"), Words::of("de"));
        let mut abouts = BTreeSet::new();
        for item in catalogue::all() {
            let (name, own) = (&item.exercise.name, &item.exercise.about);
            assert_eq!(about(&english, item.id, &item.exercise), *own, "{name}");
            let in_german = about(&german, item.id, &item.exercise);
            assert!(in_german.contains("; Hinweis: ") && in_german.ends_with('.'), "{name}: {in_german}");
            for (words, how) in [(&english, own), (&german, &in_german)] {
                let (described, cue) = about_and_cue(words, item.id, &item.exercise);
                assert!(!cue.is_empty() && how.ends_with(&format!(" {cue}.")), "{cue}");
                assert!(how.starts_with(described.trim_end_matches('.')), "{described}");
            }
            assert!(abouts.insert(in_german), "two are described alike: {name}");
        }
        let mut own = catalogue::find(catalogue::id::POGO).unwrap();
        let (described, cue) = about_and_cue(&german, own.id, &own.exercise);
        assert_eq!(described, "Am Ort aus fast gestreckten Beinen prellen.");
        assert_eq!(cue, "schnelles Fußgelenk, als wäre der Boden heiß");
        own.exercise.about = "Bounce as on Tuesday; cue: breathe".to_owned();
        assert_eq!(about(&german, own.id, &own.exercise), own.exercise.about);
        let (described, cue) = about_and_cue(&german, own.id, &own.exercise);
        assert_eq!((described.as_str(), cue.as_str()), ("Bounce as on Tuesday.", "breathe"));
        own.exercise.about = "Prellen".to_owned();
        assert_eq!(about_and_cue(&german, own.id, &own.exercise), ("Prellen.".to_owned(), String::new()));
    }
}
