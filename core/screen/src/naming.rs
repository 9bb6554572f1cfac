//! What exercises are called. Those that come along have a name in each language, as long as
//! the squad has left the name as it came; what a coach wrote stays as it was written.

use std::collections::HashMap;
use std::sync::LazyLock;

use pitside_model::facts::exercise::Exercise;
use pitside_model::load::catalogue;
use uuid::Uuid;

use crate::text::Words;

/// The name and the key of its words, of each exercise that comes along.
static COME_ALONG: LazyLock<HashMap<Uuid, (String, String)>> = LazyLock::new(|| {
    let named = catalogue::all().into_iter().map(|item| {
        let key = key(&item.exercise.name);
        (item.id, (item.exercise.name, key))
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
        Some((name, key)) if *name == exercise.name => words.word(&format!("named-{key}")),
        _ => exercise.name.clone(),
    }
}

/// What an exercise is called of which only the name is known, as a figure keeps it.
pub(crate) fn called(words: &Words, name: &str) -> String {
    let known = COME_ALONG.values().find(|(own, _)| own == name);
    known.map_or_else(|| name.to_owned(), |(_, key)| words.word(&format!("named-{key}")))
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
}
