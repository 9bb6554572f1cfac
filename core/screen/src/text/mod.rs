//! The words. Every word a person sees comes from a Fluent file beside this
//! one; nothing else in the crate has any.

mod told;

use std::sync::{Arc, OnceLock};

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};
use icu_locale_core::Locale;

use crate::units::Units;

pub(crate) use told::Topic;

/// The languages there are, English first.
const LANGUAGES: &[(&str, &str)] = &[("en", include_str!("en.ftl")), ("de", include_str!("de.ftl"))];

/// What a language says. A step through a clip asks for words too, so each is read once.
type Bundle = Arc<FluentBundle<FluentResource>>;

static BUNDLES: [OnceLock<Bundle>; LANGUAGES.len()] = [const { OnceLock::new() }; LANGUAGES.len()];

/// The words of one language, and the units that lengths and masses are told in.
pub(crate) struct Words {
    bundle: Bundle,
    units: Units,
}

/// What a sentence is filled with.
pub(crate) type Args<'a> = &'a [(&'a str, Arg<'a>)];

/// A number chooses the plural; a text stands as it is.
#[derive(Clone, Copy)]
pub(crate) enum Arg<'a> {
    /// A count.
    Count(u64),
    /// A text.
    Text(&'a str),
}

impl<'a> From<&'a str> for Arg<'a> {
    fn from(text: &'a str) -> Self {
        Self::Text(text)
    }
}
impl<'a> From<&'a String> for Arg<'a> {
    fn from(text: &'a String) -> Self {
        Self::Text(text)
    }
}
impl From<u64> for Arg<'_> {
    fn from(n: u64) -> Self {
        Self::Count(n)
    }
}

/// Whether there are words in a language.
pub(crate) fn is_spoken(language: &str) -> bool {
    LANGUAGES.iter().any(|(spoken, _)| *spoken == language)
}

impl Words {
    /// The words of a BCP 47 tag's language, of its base language, or English; in the units that
    /// the tag says.
    pub(crate) fn of(tag: &str) -> Self {
        let wanted = Locale::try_from_str(tag).unwrap_or(Locale::UNKNOWN);
        let found = LANGUAGES.iter().position(|(language, _)| *language == wanted.id.language.as_str());
        let at = found.unwrap_or(0);
        let (language, source) = LANGUAGES[at];
        let bundle = Arc::clone(BUNDLES[at].get_or_init(|| Self::over(language, source).bundle));
        Self { bundle, units: Units::of(&wanted) }
    }

    /// The units that lengths and masses are told in.
    pub(crate) fn units(&self) -> Units {
        self.units
    }

    /// The words that a Fluent text says.
    pub(crate) fn over(language: &str, source: &str) -> Self {
        let mut bundle = FluentBundle::new_concurrent(language.parse().into_iter().collect());
        // Marks of direction around every argument would stand in tests, tables
        // and spoken text; there is no right-to-left language here yet.
        bundle.set_use_isolating(false);
        let resource = match FluentResource::try_new(source.to_owned()) {
            Ok(resource) | Err((resource, _)) => resource,
        };
        bundle.add_resource_overriding(resource);
        Self { bundle: Arc::new(bundle), units: Units::Metric }
    }

    /// A sentence. A key that is missing shows itself; a test keeps that from
    /// happening.
    pub(crate) fn say(&self, key: &str, args: Args<'_>) -> String {
        let Some(pattern) = self.bundle.get_message(key).and_then(|m| m.value()) else {
            return format!("[{key}]");
        };
        let mut fluent = FluentArgs::new();
        for (name, arg) in args {
            fluent.set(
                *name,
                match arg {
                    Arg::Count(n) => FluentValue::from(*n),
                    Arg::Text(t) => FluentValue::from(*t),
                },
            );
        }
        self.bundle.format_pattern(pattern, Some(&fluent), &mut Vec::new()).into_owned()
    }

    /// A sentence without arguments.
    pub(crate) fn word(&self, key: &str) -> String {
        self.say(key, &[])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pitside_model::facts::{Fact, kind};
    use std::collections::{BTreeMap, BTreeSet};

    fn keys(source: &str) -> BTreeSet<&str> {
        source
            .lines()
            .filter(|l| l.starts_with(|c: char| c.is_ascii_lowercase()))
            .filter_map(|l| l.split_once(" ="))
            .map(|(key, _)| key)
            .collect()
    }

    #[test]
    fn every_language_parses_and_says_the_same_things() {
        let english = keys(LANGUAGES[0].1);
        assert!(english.len() > 60);
        for (language, source) in LANGUAGES {
            let parsed = FluentResource::try_new((*source).to_owned());
            assert!(parsed.is_ok(), "{language}: {:?}", parsed.err().map(|e| e.1));
            let own = keys(source);
            let missing: Vec<_> = english.difference(&own).collect();
            let more: Vec<_> = own.difference(&english).collect();
            assert!(missing.is_empty(), "{language} does not say {missing:?}");
            assert!(more.is_empty(), "only {language} says {more:?}");
        }
    }

    /// What is filled in, by key.
    fn filled(source: &str) -> BTreeMap<String, BTreeSet<&str>> {
        let mut by_key: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
        let mut key = "";
        for line in source.lines() {
            if line.starts_with(|c: char| c.is_ascii_lowercase()) {
                key = line.split_once(" =").map_or(line, |(key, _)| key);
            }
            for rest in line.split("{ $").skip(1) {
                let name = rest.split([' ', '}']).next().unwrap_or_default();
                by_key.entry(key.to_owned()).or_default().insert(name);
            }
        }
        by_key
    }

    /// A name that only one language fills in would show itself instead of the value.
    #[test]
    fn every_language_is_filled_in_with_the_same_things() {
        let english = filled(LANGUAGES[0].1);
        for (language, source) in LANGUAGES {
            for (key, names) in filled(source) {
                assert_eq!(Some(&names), english.get(&key), "{language}: {key}");
            }
            for key in english.keys() {
                assert!(filled(source).contains_key(key), "{language} fills nothing in: {key}");
            }
        }
    }

    #[test]
    fn a_region_has_the_words_of_its_language() {
        assert_eq!(Words::of("de-AT").word("today"), "heute");
        assert_eq!(Words::of("en-GB").word("today"), "today");
        assert_eq!(Words::of("sw").word("today"), "today", "no words of its own: English");
        assert_eq!(Words::of("de-DE-u-fw-mon-mu-celsius").word("today"), "heute", "as Android says it");
        assert_eq!(Words::of("de-Latn-AT-x-private").word("today"), "heute");
        for none in ["", "-", "en-", "de_DE", "en-u", "en-a-foo", "no language at all", "\u{f6}"] {
            assert_eq!(Words::of(none).word("today"), "today", "{none:?}");
        }
        assert_eq!(Words::of("de").say("contacts", &[("n", 1.into())]), "1 Kontakt");
        assert_eq!(Words::of("de").say("contacts", &[("n", 2.into())]), "2 Kontakte");
    }

    /// Every kind of fact can be named, and so can a clash about it. A card's fields
    /// have words of their own, and what is said only once cannot clash.
    #[test]
    fn every_kind_of_fact_has_its_words() {
        let english = keys(LANGUAGES[0].1);
        let never = [kind::MEMBER, kind::SAME_PERSON, kind::WITHDRAWAL, kind::ERASURE];
        for (kind, _) in Fact::addresses() {
            assert!(english.contains(format!("fact-{kind}").as_str()), "{kind}");
            let clash = format!("clash-{kind}");
            assert!(never.contains(&kind) || english.contains(clash.as_str()), "{kind}");
        }
    }

    /// Every key that the code names stands in the file, and every key of the
    /// file is named by the code, whole or by its first part.
    #[test]
    fn the_code_and_the_words_speak_of_the_same_keys() {
        let code = [
            include_str!("../apart.rs"),
            include_str!("../assessed.rs"),
            include_str!("../athlete.rs"),
            include_str!("../body.rs"),
            include_str!("../card.rs"),
            include_str!("../check_in.rs"),
            include_str!("../clock.rs"),
            include_str!("../correction.rs"),
            include_str!("../companion.rs"),
            include_str!("../details.rs"),
            include_str!("../devices.rs"),
            include_str!("../effort.rs"),
            include_str!("../exchange/end.rs"),
            include_str!("../exchange/file.rs"),
            include_str!("../exchange/invitation.rs"),
            include_str!("../exchange/mod.rs"),
            include_str!("../exercises/form.rs"),
            include_str!("../exercises/mod.rs"),
            include_str!("../exercises/one.rs"),
            include_str!("../export.rs"),
            include_str!("../failure.rs"),
            include_str!("../figure.rs"),
            include_str!("../group.rs"),
            include_str!("../guard.rs"),
            include_str!("../headings.rs"),
            include_str!("../judged.rs"),
            include_str!("../jumps/attempt.rs"),
            include_str!("../jumps/competition.rs"),
            include_str!("../jumps/group.rs"),
            include_str!("../jumps/mod.rs"),
            include_str!("../jumps/training.rs"),
            include_str!("../labels.rs"),
            include_str!("../log_set.rs"),
            include_str!("../marking.rs"),
            include_str!("../more.rs"),
            include_str!("../naming.rs"),
            include_str!("../notice.rs"),
            include_str!("../own_course.rs"),
            include_str!("../plan/day.rs"),
            include_str!("../plan/form.rs"),
            include_str!("../plan/mod.rs"),
            include_str!("../repeat.rs"),
            include_str!("../rules.rs"),
            include_str!("../session.rs"),
            include_str!("../session_log.rs"),
            include_str!("../settings.rs"),
            include_str!("../sharing.rs"),
            include_str!("../spike.rs"),
            include_str!("../squad.rs"),
            include_str!("../take/frames.rs"),
            include_str!("../take/mod.rs"),
            include_str!("../targets.rs"),
            include_str!("../today.rs"),
            include_str!("../wishes.rs"),
            include_str!("../wording.rs"),
            include_str!("told.rs"),
        ]
        .concat();
        let english = keys(LANGUAGES[0].1);
        for key in &english {
            let family = key.rsplit_once('-').map_or(*key, |(first, _)| first);
            let stem = family.split_once('-').map_or(family, |(first, _)| first);
            assert!(
                code.contains(&format!("\"{key}\""))
                    || code.contains(&format!("\"{family}-"))
                    || code.contains(&format!("\"{stem}-{{"))
                    // Found by what they say; a test of `told` looks for who says it.
                    || key.starts_with("told-"),
                "nobody says {key}"
            );
        }
        for call in ["word(\"", "say(\""] {
            for rest in code.split(call).skip(1) {
                let key = rest.split('"').next().unwrap_or_default();
                assert!(english.contains(key), "no words for {key}");
            }
        }
    }
}
