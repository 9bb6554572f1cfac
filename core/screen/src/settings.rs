//! What a person chooses for this device, and what a person may do with what is on it. Choices
//! are kept on the device and go nowhere.

use icu_locale_core::Locale;
use icu_locale_core::subtags::Language;
use pitside_book::store::{Book, BookError};
use pitside_model::facts::Day;

use crate::companion::{Companion, ScreenError};
use crate::devices::sharing_link;
use crate::env::Env;
use crate::exchange::Rest;
use crate::figure::near_day;
use crate::record::{Choice, Confirm, Link};
use crate::route::Route;
use crate::text::{self, Words};
use crate::units::Units;

/// One thing to choose.
struct Kept {
    /// Its name; `setting/NAME` in the book.
    id: &'static str,
    /// What can be chosen, the first as long as nothing was.
    choices: &'static [&'static str],
    /// Whether more is to be said of it.
    about: bool,
}

impl Kept {
    fn place(&self) -> String {
        format!("setting/{}", self.id)
    }

    /// What was chosen. What a later version offered and this one does not is as if nothing was.
    fn chosen(&self, book: &Book) -> Result<&'static str, BookError> {
        let kept = book.local(&self.place())?;
        let known = self.choices.iter().find(|choice| kept.as_deref() == Some(choice.as_bytes()));
        Ok(known.or(self.choices.first()).copied().unwrap_or_default())
    }
}

/// The language of this device's words; `device` is that of the system.
const LANGUAGE: Kept = Kept { id: "language", choices: &["device", "en", "de"], about: false };
/// The units of lengths and masses, by the words that a language tag has for them.
const UNITS: Kept = Kept { id: "units", choices: &["device", "metric", "ussystem"], about: true };
/// The colours of this device's screens.
const CONTRAST: Kept = Kept { id: "contrast", choices: &["device", SUN], about: false };
const ALL: [Kept; 3] = [LANGUAGE, UNITS, CONTRAST];

/// Black on white, whatever the system's colours are: in the sun dark letters on a light ground are
/// the ones that are read.
const SUN: &str = "sun";

/// One thing to choose, with what can be chosen.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Setting {
    /// What to name when choosing.
    pub id: String,
    /// What it is.
    pub label: String,
    /// What can be chosen.
    pub choices: Vec<Choice>,
    /// More about it; may be empty.
    pub about: String,
}

/// Something that is on or off, and what choosing it once more comes to.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Switch {
    /// What it turns on.
    pub text: String,
    /// Whether it is on.
    pub on: bool,
    /// The setting to name when it is turned.
    pub setting: String,
    /// The choice to name when it is turned.
    pub choice: String,
}

/// What a person chose for this device and a shell has to know before it draws.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Chosen {
    /// The language, as BCP 47 names it; empty for that of the system.
    pub language: String,
    /// The system of measurement, as the key `ms` of a language tag names it; empty for that of
    /// the system.
    pub units: String,
    /// Black on white with every edge drawn, whatever the system's colours are.
    pub sun: bool,
}

/// What is chosen for this device, and what can be done with what is on it.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Settings {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// What can be chosen.
    pub settings: Vec<Setting>,
    /// Above who sees what.
    pub private: String,
    /// Who sees what hurts, for each member of this device.
    pub sharing: Vec<Link>,
    /// Above taking one's data along; empty where this device serves nobody.
    pub export_about: String,
    /// Writes all that is held into a file and passes it on; empty where there is nothing.
    pub export: String,
    /// Calls the writing of that file off.
    pub cancel: String,
    /// Goes on from what has ended.
    pub close: String,
    /// Leads to the system's ways of passing the file on.
    pub share: String,
    /// Above erasing.
    pub erase_about: String,
    /// To the screen that asks before all on this device is erased.
    pub erase: Link,
}

fn settings(words: &Words, book: &Book) -> Result<Settings, BookError> {
    let revision = book.revision();
    let members = book.own_members()?;
    let or = |key: &str| if members.is_empty() { String::new() } else { words.word(key) };
    let mut all = Vec::new();
    for kept in &ALL {
        let chosen = kept.chosen(book)?;
        let choice = |id: &&str| Choice {
            id: (*id).to_owned(),
            text: words.word(&format!("setting-{}-{id}", kept.id)),
            group: String::new(),
            chosen: *id == chosen,
        };
        all.push(Setting {
            id: kept.id.to_owned(),
            label: words.word(&format!("setting-{}", kept.id)),
            choices: kept.choices.iter().map(choice).collect(),
            about: if kept.about { words.word(&format!("setting-{}-about", kept.id)) } else { String::new() },
        });
    }
    let sharing: Result<Vec<Link>, BookError> =
        members.iter().map(|member| sharing_link(words, book, *member)).collect();
    Ok(Settings {
        revision,
        title: words.word("settings-title"),
        settings: all,
        private: or("settings-private"),
        sharing: sharing?,
        export_about: or("settings-export-about"),
        export: or("settings-export"),
        cancel: words.word("exchange-cancel"),
        close: words.word("exchange-close"),
        share: words.word("exchange-share"),
        erase_about: words.word("settings-erase-about"),
        erase: Link { text: words.word("settings-erase"), route: Route::EraseHere.to_string() },
    })
}

/// Black on white, at one touch from where a phone's screens are listed.
pub(crate) fn sun(words: &Words, book: &Book) -> Result<Switch, BookError> {
    let on = CONTRAST.chosen(book)? == SUN;
    Ok(Switch {
        text: words.word("setting-contrast-sun"),
        on,
        setting: CONTRAST.id.to_owned(),
        choice: if on { "device" } else { SUN }.to_owned(),
    })
}

fn chosen(book: &Book) -> Result<Chosen, BookError> {
    let but =
        |kept: Kept| Ok::<_, BookError>(kept.chosen(book)?).map(|own| if own == "device" { "" } else { own });
    let language = but(LANGUAGE)?;
    Ok(Chosen {
        language: if text::is_spoken(language) { language.to_owned() } else { String::new() },
        units: but(UNITS)?.to_owned(),
        sun: but(CONTRAST)? == SUN,
    })
}

/// The language tag for [`Env`]: the `device`'s, in the language and with the units that were
/// chosen. Without words in it, a tag is one of English.
#[uniffi::export]
#[must_use]
pub fn spoken(chosen: &Chosen, device: &str) -> String {
    let mut locale = Locale::try_from_str(device).unwrap_or(Locale::UNKNOWN);
    if let Ok(language) = Language::try_from_str(&chosen.language) {
        locale.id.language = language;
        locale.id.script = None;
        locale.id.variants.clear();
    }
    if !chosen.units.is_empty() {
        Units::put(&mut locale, &chosen.units);
    }
    locale.to_string()
}

/// What is said before all on this device is erased.
fn confirm(words: &Words, env: &Env, book: &Book) -> Result<Confirm, BookError> {
    let carried = book.carried()?;
    let mut only_here = Vec::new();
    if let Some(ms) = carried.oldest_only_here_ms {
        let day = near_day(words, env, Day::of_stamp(ms, env.zone_min));
        only_here
            .push(words.say("erase-here-only", &[("n", carried.only_here.into()), ("day", (&day).into())]));
    }
    only_here.extend(Rest::read(book)?.said(words, &carried));
    if only_here.is_empty() {
        only_here.push(words.word("all-carried"));
    }
    let others = if book.squad().is_some() { "erase-here-squad" } else { "erase-here-alone" };
    Ok(Confirm {
        title: words.word("erase-here-title"),
        means: [words.word("erase-here-all")]
            .into_iter()
            .chain(only_here)
            .chain([others, "erase-here-anew", "erase-final"].map(|key| words.word(key)))
            .collect(),
        not_reached: vec![words.word("erase-here-files")],
        files: Vec::new(),
        yes: words.word("erase-here-yes"),
        no: Link { text: words.word("erase-here-no"), route: Route::Settings.to_string() },
    })
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// What is chosen for this device, and what can be done with what is on it.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn settings(&self, env: &Env) -> Result<Settings, ScreenError> {
        Ok(settings(&Words::of(&env.language), &*self.open_book()?)?)
    }

    /// Chooses `choice` for `setting`, both by their ids; gives all that is chosen then.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] where there is no such setting or choice, [`ScreenError::Book`].
    pub fn choose(&self, setting: &str, choice: &str) -> Result<Chosen, ScreenError> {
        let missing = |what: &str| ScreenError::NotFound { what: what.to_owned() };
        let kept = ALL.iter().find(|kept| kept.id == setting).ok_or_else(|| missing("setting"))?;
        let chosen = kept.choices.iter().position(|own| *own == choice).ok_or_else(|| missing("choice"))?;
        // What holds anyway is not kept: a later version may know better.
        let value = (chosen > 0).then_some(choice.as_bytes());
        let book = self.open_book()?;
        book.set_local(&kept.place(), value)?;
        Ok(self::chosen(&book)?)
    }

    /// What a person chose for this device; [`spoken`] makes a language tag of it.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn chosen(&self) -> Result<Chosen, ScreenError> {
        Ok(chosen(&*self.open_book()?)?)
    }

    /// What is said before all on this device is erased, which a shell does by itself.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn confirm_erase_here(&self, env: &Env) -> Result<Confirm, ScreenError> {
        Ok(confirm(&Words::of(&env.language), env, &*self.open_book()?)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::companion::SessionForm;
    use crate::record::CheckInForm;

    fn env() -> Env {
        Env { language: "en".into(), zone_min: 60, hour24: true, now_ms: 1_795_593_600_000 }
    }

    #[test]
    fn a_choice_is_kept_over_a_restart_and_the_first_one_is_none() {
        let folder = tempfile::tempdir().unwrap();
        let open = || Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env()).unwrap();
        let phone = open();
        let nothing = Chosen { language: String::new(), units: String::new(), sun: false };
        assert_eq!(phone.chosen().unwrap(), nothing);
        assert_eq!(
            phone.choose("language", "de").unwrap(),
            Chosen { language: "de".into(), ..nothing.clone() }
        );
        phone.close();
        let phone = open();
        assert_eq!(phone.chosen().unwrap().language, "de");
        let language = phone.settings(&env()).unwrap().settings.remove(0);
        let chosen: Vec<&str> =
            language.choices.iter().filter(|c| c.chosen).map(|c| c.text.as_str()).collect();
        assert_eq!(chosen, ["Deutsch"]);
        assert_eq!(phone.choose("language", "device").unwrap(), nothing);
        assert!(matches!(phone.choose("language", "xx"), Err(ScreenError::NotFound { .. })));
        assert!(matches!(phone.choose("colour", "red"), Err(ScreenError::NotFound { .. })));
    }

    #[test]
    fn the_tag_is_the_devices_in_what_was_chosen() {
        let chosen = |language: &str, units: &str| Chosen {
            language: language.into(),
            units: units.into(),
            sun: false,
        };
        for (chosen, device, tag) in [
            (chosen("", ""), "de-AT-u-fw-mon", "de-AT-u-fw-mon"),
            (chosen("en", ""), "de-AT-u-fw-mon", "en-AT-u-fw-mon"),
            (chosen("de", ""), "zh-Hant-US", "de-US"),
            (chosen("de", "metric"), "en-US", "de-US-u-ms-metric"),
            (chosen("", "ussystem"), "en-GB-u-ms-metric", "en-GB-u-ms-ussystem"),
            (chosen("", "ussystem"), "not a tag", "und-u-ms-ussystem"),
            (chosen("de", ""), "", "de"),
        ] {
            assert_eq!(spoken(&chosen, device), tag);
        }
    }

    #[test]
    fn units_and_contrast_are_chosen_and_said() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env()).unwrap();
        assert_eq!(phone.choose("units", "ussystem").unwrap().units, "ussystem");
        assert_eq!(phone.choose("units", "metric").unwrap().units, "metric");
        assert!(matches!(phone.choose("units", "uksystem"), Err(ScreenError::NotFound { .. })));
        let units = phone.settings(&env()).unwrap().settings.remove(1);
        assert!(units.about.contains("m/s"), "what stays as it is, is said: {units:?}");
        let chosen: Vec<&str> = units.choices.iter().filter(|c| c.chosen).map(|c| c.text.as_str()).collect();
        assert_eq!(chosen, ["Metres, centimetres, kilograms"]);

        let sun = || phone.more(&env()).unwrap().sun;
        for on in [false, true, false] {
            let switch = sun();
            assert_eq!((switch.on, phone.chosen().unwrap().sun), (on, on));
            assert_eq!(phone.choose(&switch.setting, &switch.choice).unwrap().sun, !on);
        }
    }

    #[test]
    fn before_erasing_it_is_said_what_is_only_here() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env()).unwrap();
        let means = phone.confirm_erase_here(&env()).unwrap().means;
        assert!(means.contains(&"Nothing is on this device only.".to_owned()), "{means:?}");
        let form = phone.log_set(&env()).unwrap().form;
        phone.log_today(&env(), "", &form).unwrap();
        let means = phone.confirm_erase_here(&env()).unwrap().means;
        assert!(means.iter().any(|said| said.starts_with("1 set") && said.contains("today")), "{means:?}");
    }

    #[test]
    fn what_is_no_set_is_said_before_erasing_too() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env()).unwrap();
        phone.check_in(&env(), "", &CheckInForm::default()).unwrap();
        let means = phone.confirm_erase_here(&env()).unwrap().means;
        assert!(means.iter().any(|said| said.starts_with("1 entry on how you were")), "{means:?}");
        assert!(!means.contains(&"Nothing is on this device only.".to_owned()), "{means:?}");
        assert_eq!(phone.today(&env()).unwrap().carried, "No set, but 1 other entry only on this device.");

        phone.begin_session(&env(), "", &SessionForm::default()).unwrap();
        let means = phone.confirm_erase_here(&env()).unwrap().means;
        assert!(means.iter().any(|said| said.starts_with("1 entry is on this phone only")), "{means:?}");
        assert_eq!(phone.today(&env()).unwrap().carried, "No set, but 2 other entries only on this device.");
    }
}
