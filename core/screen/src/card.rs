//! The card of an athlete, and how it is written down: what guards and loads are computed
//! with. An empty field is not known, and what is not known is never taken for the better
//! value.

use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::facts::{
    Card as Field, Day, Extra, Fact, HopPattern, Level, MemberId, Scope, Side, Subject, Word, kind,
};

use crate::assessed::stored;
use crate::body::worded;
use crate::companion::{ScreenError, chosen_or_none, member_of, refused};
use crate::env::Env;
use crate::record::{CardForm, CardPage, Choice};
use crate::text::Words;
use crate::training::Card;
use crate::wording::name;

/// The card as a form shows it.
pub(crate) fn card(words: &Words, book: &Book, member: MemberId) -> Result<CardPage, BookError> {
    let card = Card::read(book, member)?;
    let word = |word: Option<&'static str>| word.unwrap_or_default().to_owned();
    let number = |value: Option<u32>| value.map_or_else(String::new, thousandths);
    let athlete = card.athlete();
    let title = words.say("card-title", &[("name", (&name(words, &card, member)).into())]);
    Ok(CardPage {
        title,
        about: words.word("card-about"),
        levels: known(words, Level::ALL, "level", card.level),
        sides: known(words, Side::ALL, "side", card.take_off),
        patterns: known(words, HopPattern::ALL, "pattern", card.pattern),
        form: CardForm {
            member: member.to_string(),
            name: card.name.clone().unwrap_or_default(),
            born: card.born.map_or_else(String::new, |day| day.to_string()),
            level: word(card.level.map(Level::word)),
            take_off_leg: word(card.take_off.map(Side::word)),
            hop_pattern: word(card.pattern.map(HopPattern::word)),
            mass_kg: number(card.mass_g),
            top_speed_m_s: number(athlete.top_speed_mm_s),
            top_speed_u_m_s: number(athlete.top_speed_u_mm_s),
            tau_s: number(athlete.tau_ms),
            tau_u_s: number(athlete.tau_u_ms),
            stride_m: number(card.stride_mm),
        },
    })
}

/// The words of a field, the known one chosen.
fn known<W: Word + PartialEq>(words: &Words, all: &[W], family: &str, known: Option<W>) -> Vec<Choice> {
    let mut choices = worded(words, all, |word| format!("{family}-{word}"));
    for (choice, word) in choices.iter_mut().zip(all) {
        choice.chosen = known == Some(*word);
    }
    choices
}

/// A number of thousandths as a form takes it: 61500 is 61.5.
fn thousandths(value: u32) -> String {
    let text = format!("{}.{:03}", value / 1_000, value % 1_000);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn held(book: &Book, member: MemberId) -> Result<Vec<Held>, BookError> {
    book.held(&Filter { member: Some(member), kind: Some(kind::MEMBER), ..Filter::default() })
}

/// Writes what is other than before, each field by itself, so that two people's edits of
/// two fields never clash. A form in which one field cannot be read writes nothing.
pub(crate) fn save(book: &Book, env: &Env, form: &CardForm) -> Result<(), ScreenError> {
    let member = member_of(book, &form.member)?;
    let fields = read(form)?;
    for field in fields.iter().flatten() {
        Fact::Card(field.clone()).write(&Extra::new()).map_err(|e| ScreenError::Refused {
            field: e.field.to_owned(),
            value: e.value,
            range: e.range,
        })?;
    }
    let held = held(book, member)?;
    let scope = Scope::Member(member);
    for (name, field) in Field::FIELDS.iter().zip(fields) {
        let before = held.iter().find(|held| held.key.field == *name);
        let known = before.and_then(Held::fact);
        match (field, before) {
            (Some(field), _) if known == Some(&Fact::Card(field.clone())) => {}
            (Some(field), _) => {
                book.revise(scope, Subject::Uuid(member.0), Fact::Card(field), env.stamp())?;
            }
            // A name stays: somebody without one could not be told from others.
            (None, Some(before)) if *name != Field::FIELDS[0] => {
                book.write(before.key.scope, &Draft::replacing(before, Fact::Deleted), env.stamp())?;
            }
            (None, _) => {}
        }
    }
    Ok(())
}

/// The fields of a form in the order of [`Field::FIELDS`]; nothing for an empty one.
fn read(form: &CardForm) -> Result<[Option<Field>; 8], ScreenError> {
    let number = |name: &str, text: &str| -> Result<Option<u32>, ScreenError> {
        let text = text.trim();
        if text.is_empty() {
            return Ok(None);
        }
        let wrong = || refused(name, text.to_owned(), "a number with at most three decimals");
        stored(text, 1_000).map(Some).ok_or_else(wrong)
    };
    let born = match form.born.trim() {
        "" => None,
        text => Some(
            Day::parse(text).ok_or_else(|| refused("born", text.to_owned(), "a day such as 2008-05-31"))?,
        ),
    };
    let top_speed = number("top-speed", &form.top_speed_m_s)?;
    let tau = number("tau", &form.tau_s)?;
    let sprint = match (top_speed, tau) {
        (Some(vmax_mm_s), Some(tau_ms)) => Some(Field::Sprint {
            vmax_mm_s,
            tau_ms,
            vmax_u_mm_s: number("top-speed-u", &form.top_speed_u_m_s)?,
            tau_u_ms: number("tau-u", &form.tau_u_s)?,
        }),
        (None, None) => None,
        (Some(_), None) => return Err(refused("tau", String::new(), "seconds beside the top speed")),
        (None, Some(_)) => return Err(refused("top-speed", String::new(), "m/s beside the time constant")),
    };
    let name = form.name.trim();
    Ok([
        (!name.is_empty()).then(|| Field::Name(name.to_owned())),
        born.map(Field::Born),
        chosen_or_none("level", &form.level)?.map(Field::Level),
        chosen_or_none("take-off-leg", &form.take_off_leg)?.map(Field::TakeOffLeg),
        chosen_or_none("hop-pattern", &form.hop_pattern)?.map(Field::HopPattern),
        number("mass", &form.mass_kg)?.map(Field::MassG),
        sprint,
        number("stride", &form.stride_m)?.map(Field::StrideMm),
    ])
}
