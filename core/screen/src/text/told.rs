//! What the layers below say, in the words of a language.
//!
//! They know no language and say in English where a number comes from, what a field takes or
//! what a clip's reader saw: the command line prints that as it is. For a screen each such
//! sentence stands in the Fluent files, in English as the layer below says it, and is found by
//! that, as a translator's catalogue finds its messages. Where a sentence is filled in, only a
//! number, a day, or what is said of the same matter elsewhere takes the place of a name, so
//! that no English comes through.

use std::collections::HashMap;
use std::sync::LazyLock;

use pitside_model::facts::Day;

use super::{Arg, LANGUAGES, Words};
use crate::figure::full_day;

/// What a sentence of the layers below is about. Two that read alike may mean different things.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Topic {
    /// Where a number or a line comes from.
    Source,
    /// A formula in symbols or with numbers.
    Formula,
    /// The name of a field.
    Field,
    /// What a field takes.
    Range,
    /// What was filled in.
    Value,
    /// What is not there.
    Missing,
    /// Why a device may not write.
    Reason,
    /// What the marks on a clip cannot be.
    Mark,
    /// What a clip's reader saw.
    Clip,
}

impl Topic {
    const ALL: [Self; 9] = [
        Self::Source,
        Self::Formula,
        Self::Field,
        Self::Range,
        Self::Value,
        Self::Missing,
        Self::Reason,
        Self::Mark,
        Self::Clip,
    ];

    /// What the keys of its sentences begin with.
    const fn prefix(self) -> &'static str {
        match self {
            Self::Source => "told-source-",
            Self::Formula => "told-formula-",
            Self::Field => "told-field-",
            Self::Range => "told-range-",
            Self::Value => "told-value-",
            Self::Missing => "told-missing-",
            Self::Reason => "told-reason-",
            Self::Mark => "told-mark-",
            Self::Clip => "told-clip-",
        }
    }
}

/// A sentence with names in it that are filled in: `from { $from } to { $to } mm`.
struct Pattern {
    key: &'static str,
    /// What stands before the first name.
    head: &'static str,
    /// Each name, and what stands behind it.
    names: Vec<(&'static str, &'static str)>,
}

impl Pattern {
    fn read(key: &'static str, sentence: &'static str) -> Self {
        let mut parts = sentence.split("{ $");
        let head = parts.next().unwrap_or_default();
        Self { key, head, names: parts.filter_map(|part| part.split_once(" }")).collect() }
    }

    /// What a text fills in; `None` where it is another sentence.
    fn filled<'t>(&self, text: &'t str) -> Option<Vec<(&'static str, &'t str)>> {
        let mut rest = text.strip_prefix(self.head)?;
        let mut found = Vec::with_capacity(self.names.len());
        for (at, (name, behind)) in self.names.iter().enumerate() {
            let end = if at + 1 == self.names.len() {
                rest.len().checked_sub(behind.len()).filter(|_| rest.ends_with(behind))?
            } else {
                rest.find(behind)?
            };
            found.push((*name, rest.get(..end)?));
            rest = rest.get(end + behind.len()..)?;
        }
        Some(found)
    }
}

/// The sentences about one matter.
#[derive(Default)]
struct Known {
    /// Those that are always the same, by what they say.
    whole: HashMap<&'static str, &'static str>,
    /// Those that are filled in.
    patterns: Vec<Pattern>,
}

static KNOWN: LazyLock<HashMap<Topic, Known>> = LazyLock::new(|| {
    let mut known: HashMap<Topic, Known> = HashMap::new();
    let [(_, english), ..] = LANGUAGES else { return known };
    for (key, sentence) in english.lines().filter_map(|line| line.split_once(" = ")) {
        let Some(topic) = Topic::ALL.into_iter().find(|topic| key.starts_with(topic.prefix())) else {
            continue;
        };
        let known = known.entry(topic).or_default();
        if sentence.contains("{ $") {
            known.patterns.push(Pattern::read(key, sentence));
        } else {
            known.whole.insert(sentence, key);
        }
    }
    known
});

/// Figures and their signs, without a letter: `-1.5`, `10 000`, `(1 + 0.5)/2`.
fn is_figures(text: &str) -> bool {
    text.contains(|c: char| c.is_ascii_digit()) && !text.contains(char::is_alphabetic)
}

impl Words {
    /// Whether these are the words that the layers below use.
    fn are_english(&self) -> bool {
        self.bundle.locales.first().is_some_and(|spoken| spoken.language == "en")
    }

    /// What a layer below says, in these words; `None` where there are none for it. What is
    /// English already needs none.
    pub(crate) fn told(&self, topic: Topic, said: &str) -> Option<String> {
        if self.are_english() { Some(said.to_owned()) } else { self.known(topic, said) }
    }

    /// What a layer below says, in these words; `None` where it is no sentence of its own.
    pub(crate) fn known(&self, topic: Topic, said: &str) -> Option<String> {
        let known = KNOWN.get(&topic)?;
        if let Some(key) = known.whole.get(said) {
            return Some(self.word(key));
        }
        known.patterns.iter().find_map(|pattern| {
            let filled = pattern.filled(said)?.into_iter();
            let filled: Option<Vec<_>> =
                filled.map(|(name, text)| Some((name, self.filling(topic, text)?))).collect();
            let filled = filled?;
            let args: Vec<_> = filled.iter().map(|(name, text)| (*name, Arg::Text(text))).collect();
            Some(self.say(pattern.key, &args))
        })
    }

    /// The same, or as it was said: by a person in words of their own, or of something that an
    /// older version brought.
    pub(crate) fn told_or_as_said(&self, topic: Topic, said: &str) -> String {
        self.told(topic, said).unwrap_or_else(|| said.to_owned())
    }

    /// The sentences about one matter, each in these words.
    pub(crate) fn told_all(&self, topic: Topic, said: Vec<String>) -> Vec<String> {
        said.into_iter().map(|said| self.told(topic, &said).unwrap_or(said)).collect()
    }

    /// Figures in a text, with the decimal mark of these words.
    pub(crate) fn in_figures(&self, text: &str) -> String {
        let mark = self.word("decimal-mark");
        let mut out = String::with_capacity(text.len());
        let mut letters = text.chars().peekable();
        let mut digit_before = false;
        while let Some(letter) = letters.next() {
            let between = digit_before && letters.peek().is_some_and(char::is_ascii_digit);
            match letter {
                '.' if between => out.push_str(&mark),
                _ => out.push(letter),
            }
            digit_before = letter.is_ascii_digit();
        }
        out
    }

    fn filling(&self, topic: Topic, text: &str) -> Option<String> {
        match Day::parse(text) {
            Some(day) => Some(full_day(self, day)),
            None if is_figures(text) => Some(self.in_figures(text)),
            None => self.known(topic, text),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::path::Path;

    use pitside_model::facts::exercise::{Exercise, Legs};
    use pitside_model::facts::{Cue, RuleName};
    use pitside_model::load::catalogue;
    use pitside_model::load::contact::{Origin, repetition};
    use pitside_model::load::guard::pain::{PAIN_SOURCE, SIGN_SOURCE};
    use pitside_model::load::performed::{Leg, Performed, Side};
    use pitside_model::load::rule::definition;
    use pitside_model::load::unfold::unfold;
    use pitside_model::timing::target::published;

    use super::*;

    fn usual_side(exercise: &Exercise) -> Side {
        let on_one = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
        if on_one { Side::Alternate { first: Leg::Left } } else { Side::Both }
    }

    #[test]
    fn a_sentence_is_found_by_what_it_says() {
        let words = Words::of("de");
        let told = |topic, said| words.told(topic, said);
        assert_eq!(told(Topic::Source, "an estimate of ours").as_deref(), Some("eine eigene Schätzung"));
        assert_eq!(
            told(Topic::Range, "a whole number from 1 to 50").as_deref(),
            Some("eine ganze Zahl von 1 bis 50")
        );
        assert_eq!(told(Topic::Range, "0 to 2000 mm").as_deref(), Some("0 bis 2000 mm"));
        assert_eq!(told(Topic::Field, "row 3: sets").as_deref(), Some("Zeile 3, Sätze"));
        assert_eq!(
            told(Topic::Range, "a day from 2026-11-26 on").as_deref(),
            Some("ein Tag ab Do, 26. Nov. 2026")
        );
        assert_eq!(
            told(Topic::Clip, "240.0 captured and 29.97 stored: the clip is slowed 8.0 times.").as_deref(),
            Some("240,0 aufgenommen und 29,97 gespeichert: Der Clip ist 8,0-fach verlangsamt.")
        );
    }

    /// Better no words than half of them in English.
    #[test]
    fn what_is_not_known_is_not_half_said() {
        let words = Words::of("de");
        assert_eq!(words.told(Topic::Range, "1 to several mm"), None);
        assert_eq!(words.told(Topic::Field, "row 3: colour"), None);
        assert_eq!(words.told(Topic::Source, "the coach"), None);
        assert_eq!(words.told_or_as_said(Topic::Source, "the coach"), "the coach");
        assert_eq!(Words::of("en").told(Topic::Range, "1 to several mm").as_deref(), Some("1 to several mm"));
    }

    #[test]
    fn figures_have_the_mark_of_the_language_and_sentences_keep_their_stops() {
        let words = Words::of("de");
        assert_eq!(words.in_figures("√(2·9.81·0.400) = 2.801 m/s."), "√(2·9,81·0,400) = 2,801 m/s.");
        assert_eq!(words.in_figures("1. Bild"), "1. Bild");
        assert_eq!(Words::of("en").in_figures("2.801"), "2.801");
    }

    /// What is said in English here is what the layers below say, so no two keys may say it.
    #[test]
    fn no_sentence_stands_twice() {
        let [(_, english), ..] = LANGUAGES else { panic!("no language") };
        let keys = english.lines().filter(|line| line.starts_with("told-")).count();
        let known: usize = KNOWN.values().map(|known| known.whole.len() + known.patterns.len()).sum();
        assert_eq!(known, keys);
        let mut patterns = BTreeSet::new();
        for (topic, known) in KNOWN.iter() {
            for pattern in &known.patterns {
                let gaps: Vec<_> = pattern.names.iter().map(|(_, behind)| *behind).collect();
                assert!(patterns.insert((topic.prefix(), pattern.head, gaps)), "{}", pattern.key);
            }
        }
    }
    /// The Rust files of the core, each string in one line.
    fn core() -> String {
        fn read(folder: &Path, into: &mut String) {
            for entry in std::fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    read(&path, into);
                } else if path.extension().is_some_and(|end| end == "rs") && !path.ends_with("text/told.rs") {
                    let text = std::fs::read_to_string(&path).unwrap();
                    let mut lines = text.lines();
                    while let Some(line) = lines.next() {
                        let mut line = line.to_owned();
                        while let Some(begun) = line.strip_suffix('\\') {
                            line = format!("{begun}{}", lines.next().unwrap_or_default().trim_start());
                        }
                        into.push_str(&line);
                        into.push('\n');
                    }
                }
            }
        }
        let mut core = String::new();
        for layer in ["book", "log", "model", "screen"] {
            let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(layer).join("src");
            read(&root, &mut core);
        }
        core
    }

    /// A sentence that the core words anew would be shown in English, and its key stay behind.
    #[test]
    fn the_core_says_each_sentence() {
        let core = core();
        for known in KNOWN.values() {
            for (sentence, key) in &known.whole {
                assert!(core.contains(sentence), "{key}: nobody says {sentence}");
            }
            for pattern in &known.patterns {
                let pieces = pattern.names.iter().map(|(_, behind)| *behind);
                // Some are put together of whole sentences.
                for piece in std::iter::once(pattern.head).chain(pieces).flat_map(|piece| piece.split(". ")) {
                    assert!(core.contains(piece.trim()), "{}: nobody says {piece}", pattern.key);
                }
            }
        }
    }
    /// Words that stand in English sentences only.
    fn english_in(text: &str) -> Option<&'static str> {
        const ENGLISH: [&str; 14] = [
            " the ", " and ", " of ", " with ", "estimate", "ours", "memory", "handbook", "source",
            "strides", " is ", "speed", " after ", "there",
        ];
        // Titles of journals and books are named as they are.
        const TITLES: [&str; 2] = ["Essentials of Strength Training and Conditioning", "R Soc Open Sci"];
        let text = TITLES.iter().fold(format!(" {text} "), |text, title| text.replace(title, ""));
        ENGLISH.into_iter().find(|word| text.contains(word))
    }

    /// Where a number or a line comes from is said in German on a German phone; who wrote it
    /// and when stays as it is.
    #[test]
    fn every_source_is_said_in_each_language() {
        let mut sources: BTreeSet<String> = BTreeSet::new();
        for item in catalogue::all() {
            sources.insert(item.exercise.source.clone());
            for cue in [None, Some(Cue::Short), Some(Cue::High)] {
                let set =
                    Performed { cue, ..Performed::usual(&item.exercise, 1, usual_side(&item.exercise)) };
                for contact in repetition(&set).unwrap_or_default() {
                    for number in unfold(&set, &contact) {
                        sources.insert(number.source.to_owned());
                        let of_terms = number.terms.iter().filter_map(|term| match term.origin {
                            Some(Origin::Default { source, .. }) => Some(source.to_owned()),
                            _ => None,
                        });
                        sources.extend(of_terms);
                    }
                }
            }
        }
        sources.extend(RuleName::ALL.iter().map(|name| definition(*name).source.to_owned()));
        sources.extend([PAIN_SOURCE, SIGN_SOURCE].map(str::to_owned));
        sources.extend(published().map(|target| target.source));
        assert!(sources.len() > 100, "{}", sources.len());
        let german = Words::of("de");
        let unknown: Vec<_> =
            sources.iter().filter(|source| german.known(Topic::Source, source).is_none()).collect();
        assert!(unknown.is_empty(), "no German words for: {unknown:#?}");
        for source in sources {
            let told = german.told_or_as_said(Topic::Source, &source);
            assert_eq!(english_in(&told), None, "{told}");
            let year = |text: &str| -> Vec<String> {
                let parts = text.split(|c: char| !c.is_ascii_digit());
                parts.filter(|part| part.len() == 4).map(str::to_owned).collect()
            };
            assert_eq!(year(&told), year(&source), "the years of {source}");
        }
    }

    /// Names of fields, and words that are the same in both languages, aside.
    #[test]
    fn no_sentence_is_left_in_english() {
        let german = Words::of("de");
        for known in KNOWN.values() {
            let keys = known.whole.values().copied().chain(known.patterns.iter().map(|pattern| pattern.key));
            for key in keys {
                let filled: Vec<_> = known
                    .patterns
                    .iter()
                    .filter(|pattern| pattern.key == key)
                    .flat_map(|pattern| pattern.names.iter().map(|(name, _)| (*name, Arg::Text("7"))))
                    .collect();
                assert_eq!(english_in(&german.say(key, &filled)), None, "{key}");
            }
        }
    }
}
