//! The form by which a coach adds an exercise, as a copy of another, or changes one.
//!
//! Numbers are read exactly, digit by digit: what was not touched is written as it stood.

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, Draft, Filter};
use pitside_model::facts::exercise::{
    After, Direction, Entry, Exercise, FieldError, Kind, Knee, Landing, Legs, Move, SERIES_LEN, Speed,
    Support, UsualContact, UsualLoad,
};
use pitside_model::facts::{Approach, Cue, Fact, Hash, Scope, Subject, Surface, kind};
use uuid::Uuid;

use super::find;
use crate::companion::{ScreenError, chosen, chosen_or_none, refused};
use crate::record::{Choice, ContactForm, ExerciseForm, ExerciseFormPage};
use crate::text::Words;
use crate::training::Catalogue;
use crate::wording::kind_word;

/// The form of a new exercise, a copy of another.
pub(crate) fn copy(words: &Words, book: &Book, from: &str) -> Result<ExerciseFormPage, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    let (_, exercise) = find(&catalogue, from)?;
    let name = exercise.name.as_str();
    let form = ExerciseForm {
        name: String::new(),
        support: Support::Estimate.word().to_owned(),
        source: words.say("exercise-copied", &[("name", name.into())]),
        ..filled(exercise)
    };
    Ok(page(words, words.say("exercise-new-title", &[("name", name.into())]), form))
}

/// The form of an exercise that is changed.
pub(crate) fn change(words: &Words, book: &Book, id: &str) -> Result<ExerciseFormPage, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    let (id, exercise) = find(&catalogue, id)?;
    let held = book.held(&Filter {
        kind: Some(kind::EXERCISE),
        subject: Some(Subject::Uuid(id)),
        ..Filter::default()
    })?;
    let seen: Vec<String> = held.iter().flat_map(|held| &held.seen).map(|hash| hash.to_string()).collect();
    let form = ExerciseForm { id: id.to_string(), seen: seen.join(" "), ..filled(exercise) };
    let title = words.say("exercise-edit-title", &[("name", exercise.name.as_str().into())]);
    Ok(page(words, title, form))
}

/// Writes a form down: as a new exercise, or in the place of the values that its author saw. Gives the id.
///
/// What came to the book in between is not replaced: it stands beside, as a clash, until a person settles it.
pub(crate) fn save(book: &Book, at: Stamp, form: &ExerciseForm) -> Result<Uuid, ScreenError> {
    let exercise = read(form)?;
    exercise.check().map_err(|e| field(&e))?;
    if form.id.is_empty() {
        return Ok(book.add_exercise(exercise, at)?);
    }
    let catalogue = Catalogue::read(book)?;
    let (id, _) = find(&catalogue, &form.id)?;
    let held = book.held(&Filter {
        kind: Some(kind::EXERCISE),
        subject: Some(Subject::Uuid(id)),
        ..Filter::default()
    })?;
    let seen: Option<Vec<Hash>> = form.seen.split_whitespace().map(Hash::parse).collect();
    let seen = seen.ok_or_else(|| refused("seen", form.seen.clone(), "the ids that the form carried"))?;
    let fact = Fact::Exercise(exercise);
    let draft = match held.first() {
        Some(held) => {
            let of_this = seen.into_iter().filter(|hash| held.seen.contains(hash)).collect();
            Draft { replaces: of_this, ..Draft::replacing(held, fact) }
        }
        None => Draft::about(Subject::Uuid(id), fact),
    };
    book.write(Scope::Squad, &draft, at)?;
    Ok(id)
}

fn field(error: &FieldError) -> ScreenError {
    refused(error.field, error.value.clone(), &error.range)
}

/// `value` parts, `digits` of them to a unit as a power of ten, as a decimal without idle zeros.
fn told(value: i64, digits: u32) -> String {
    let unit = 10_u64.pow(digits);
    let (whole, part) = (value.unsigned_abs() / unit, value.unsigned_abs() % unit);
    let sign = if value < 0 { "-" } else { "" };
    let width = digits as usize;
    let part = format!("{part:0width$}");
    let part = part.trim_end_matches('0');
    if digits == 0 || part.is_empty() { format!("{sign}{whole}") } else { format!("{sign}{whole}.{part}") }
}

/// A decimal as parts of a unit, exactly; `None` where it is none, or says more than the parts can.
fn parts(text: &str, digits: u32) -> Option<i64> {
    let text = text.trim().replace(['−', '–'], "-").replace(',', ".");
    let (sign, digits_of) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, text.strip_prefix('+').unwrap_or(&text)),
    };
    let (whole, part) = digits_of.split_once('.').unwrap_or((digits_of, ""));
    let plain = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    let part = part.trim_end_matches('0');
    if whole.len() + part.len() == 0 || !plain(whole) || !plain(part) || part.len() > digits as usize {
        return None;
    }
    let width = digits as usize;
    let all: i64 = format!("{whole}{part:0<width$}").parse().ok()?;
    Some(sign * all)
}

/// A number of a form that has to be there.
fn number<T: TryFrom<i64>>(field: &str, text: &str, digits: u32) -> Result<T, ScreenError> {
    let odd = || {
        let range = match digits {
            0 => "a whole number".to_owned(),
            n => format!("a number with up to {n} decimals"),
        };
        refused(field, text.to_owned(), &range)
    };
    parts(text, digits).and_then(|parts| T::try_from(parts).ok()).ok_or_else(odd)
}

/// A number that may be left empty.
fn optional<T: TryFrom<i64>>(field: &str, text: &str, digits: u32) -> Result<Option<T>, ScreenError> {
    if text.trim().is_empty() { Ok(None) } else { number(field, text, digits).map(Some) }
}

/// Decimals of the number beside an entry, and whether it is told in other parts than it is written in: ms and cm.
const fn entry_digits(code: &str) -> u32 {
    match code.as_bytes() {
        b"level-flight" | b"run-in-metres" => 3,
        b"box" | b"onto-box" => 1,
        _ => 0,
    }
}

fn filled(exercise: &Exercise) -> ExerciseForm {
    let mm_as_cm = |mm: Option<u32>| mm.map_or_else(String::new, |mm| told(i64::from(mm), 1));
    let (load_kg, load_percent) = match exercise.load {
        None => (String::new(), String::new()),
        Some(UsualLoad::Grams(grams)) => (told(i64::from(grams), 3), String::new()),
        Some(UsualLoad::BodyShare(share)) => (String::new(), told(i64::from(share), 1)),
    };
    let (box_strides, box_run_m) = match exercise.box_run_in {
        None => (String::new(), String::new()),
        Some(Approach::Strides(n)) => (n.to_string(), String::new()),
        Some(Approach::Millimetres(mm)) => (String::new(), told(i64::from(mm), 3)),
    };
    ExerciseForm {
        id: String::new(),
        seen: String::new(),
        name: exercise.name.clone(),
        about: exercise.about.clone(),
        kind: exercise.kind.word().to_owned(),
        direction: exercise.direction.word().to_owned(),
        legs: exercise.legs.word().to_owned(),
        knee: exercise.knee.word().to_owned(),
        landing: exercise.landing.word().to_owned(),
        entry: exercise.entry.as_str().to_owned(),
        entry_value: match exercise.entry {
            Entry::Standing => String::new(),
            entry => told(i64::from(entry.value()), entry_digits(entry.as_str())),
        },
        box_strides,
        box_run_m,
        onto_cm: mm_as_cm(exercise.onto_mm),
        over_cm: mm_as_cm(exercise.over_mm),
        load_kg,
        load_percent,
        cue: exercise.cue.map_or("", Cue::word).to_owned(),
        surface: exercise.surface.map_or("", Surface::word).to_owned(),
        contacts: exercise.contacts_per_rep.to_string(),
        loss_percent: told(i64::from(exercise.loss_per_mille), 1),
        support: exercise.support.word().to_owned(),
        source: exercise.source.clone(),
        series: exercise.series.iter().map(contact_filled).collect(),
    }
}

fn contact_filled(contact: &UsualContact) -> ContactForm {
    let (speed_value, speed_less) = match contact.speed {
        Speed::Fixed { mm_s } => (told(i64::from(mm_s), 3), String::new()),
        Speed::Approach { less_mm_s: 0, cap_mm_s } => (told(i64::from(cap_mm_s), 3), String::new()),
        Speed::Approach { less_mm_s, cap_mm_s } => {
            (told(i64::from(cap_mm_s), 3), told(i64::from(less_mm_s), 3))
        }
        Speed::TopShare { per_mille } => (told(i64::from(per_mille), 1), String::new()),
    };
    ContactForm {
        mv: contact.mv.word().to_owned(),
        legs: contact.legs.word().to_owned(),
        contact_ms: told(i64::from(contact.contact_us), 3),
        after: contact.after.word().to_owned(),
        flight_ms: match contact.after {
            After::Stand => String::new(),
            _ => told(i64::from(contact.flight_us), 3),
        },
        speed: contact.speed.as_str().to_owned(),
        speed_value,
        speed_less,
        angle_deg: told(i64::from(contact.angle_ddeg), 1),
        rise_cm: if contact.rise_mm == 0 { String::new() } else { told(i64::from(contact.rise_mm), 1) },
        loss_percent: contact.loss_per_mille.map_or_else(String::new, |loss| told(i64::from(loss), 1)),
    }
}

fn read(form: &ExerciseForm) -> Result<Exercise, ScreenError> {
    let entry_value = match form.entry.as_str() {
        "standing" => 0,
        code => number("number of the first contact", &form.entry_value, entry_digits(code))?,
    };
    let load =
        match (optional("load in kg", &form.load_kg, 3)?, optional("load in %", &form.load_percent, 1)?) {
            (None, None) => None,
            (Some(grams), None) => Some(UsualLoad::Grams(grams)),
            (None, Some(share)) => Some(UsualLoad::BodyShare(share)),
            (Some(_), Some(_)) => {
                return Err(refused(
                    "load",
                    form.load_kg.clone(),
                    "kilograms or a share of the body, not both",
                ));
            }
        };
    let box_run_in = match (
        optional("strides on the box", &form.box_strides, 0)?,
        optional("metres on the box", &form.box_run_m, 3)?,
    ) {
        (None, None) => None,
        (Some(strides), None) => Some(Approach::Strides(strides)),
        (None, Some(mm)) => Some(Approach::Millimetres(mm)),
        (Some(_), Some(_)) => {
            let range = "strides or metres, not both";
            return Err(refused("run-in on the box", form.box_strides.clone(), range));
        }
    };
    let told: Vec<&ContactForm> = form.series.iter().filter(|contact| !contact.mv.is_empty()).collect();
    Ok(Exercise {
        name: form.name.trim().to_owned(),
        about: form.about.trim().to_owned(),
        kind: chosen("kind", &form.kind)?,
        direction: chosen("direction", &form.direction)?,
        legs: chosen("legs", &form.legs)?,
        knee: chosen("knee", &form.knee)?,
        landing: chosen("landing", &form.landing)?,
        entry: Entry::parse(&form.entry, entry_value).map_err(|e| field(&e))?,
        box_run_in,
        onto_mm: optional("height onto", &form.onto_cm, 1)?,
        over_mm: optional("height over", &form.over_cm, 1)?,
        load,
        cue: chosen_or_none("cue", &form.cue)?,
        surface: chosen_or_none("surface", &form.surface)?,
        contacts_per_rep: number("contacts of a repetition", &form.contacts, 0)?,
        loss_per_mille: optional("speed lost", &form.loss_percent, 1)?.unwrap_or(0),
        support: chosen("what stands behind it", &form.support)?,
        source: form.source.trim().to_owned(),
        series: told.into_iter().map(contact).collect::<Result<_, _>>()?,
    })
}

fn contact(form: &ContactForm) -> Result<UsualContact, ScreenError> {
    let after: After = chosen("what follows", &form.after)?;
    let value = || match form.speed.as_str() {
        "top-share" => number("share of the top speed", &form.speed_value, 1),
        _ => optional("speed", &form.speed_value, 3).map(|speed| speed.unwrap_or(0)),
    };
    let values = match form.speed.as_str() {
        "approach" => (optional("speed taken off", &form.speed_less, 3)?.unwrap_or(0), value()?),
        _ => (value()?, 0),
    };
    Ok(UsualContact {
        mv: chosen("move", &form.mv)?,
        contact_us: number("time on the ground", &form.contact_ms, 3)?,
        after,
        flight_us: match after {
            After::Stand => 0,
            After::Flight | After::Pit => number("flight", &form.flight_ms, 3)?,
        },
        speed: Speed::parse(&form.speed, values).map_err(|e| field(&e))?,
        angle_ddeg: number("angle", &form.angle_deg, 1)?,
        legs: chosen("legs", &form.legs)?,
        rise_mm: optional("rise", &form.rise_cm, 1)?.unwrap_or(0),
        loss_per_mille: optional("speed lost", &form.loss_percent, 1)?,
    })
}

fn page(words: &Words, title: String, mut form: ExerciseForm) -> ExerciseFormPage {
    // One more than there are, to add by.
    if form.series.len() < *SERIES_LEN.end() as usize {
        form.series.push(ContactForm {
            after: After::Flight.word().to_owned(),
            legs: Legs::One.word().to_owned(),
            speed: "fixed".to_owned(),
            ..ContactForm::default()
        });
    }
    let choice =
        |id: &str, text: String| Choice { id: id.to_owned(), text, group: String::new(), chosen: false };
    let said = |id: &str, key: String| choice(id, words.word(&key));
    let entries = ["standing", "walk-in", "level-flight", "box", "onto-box", "run-in", "run-in-metres"];
    let contact_legs = |legs: &Legs| match legs {
        Legs::One => choice(legs.word(), words.word("contact-legs-same")),
        Legs::Two => choice(legs.word(), words.word("contact-legs-two")),
        Legs::Alternate => choice(legs.word(), words.word("contact-legs-other")),
    };
    ExerciseFormPage {
        title,
        form,
        kinds: Kind::ALL.iter().map(|kind| choice(kind.word(), kind_word(words, *kind))).collect(),
        directions: Direction::ALL
            .iter()
            .map(|way| said(way.word(), format!("direction-{}", way.word())))
            .collect(),
        legs: Legs::ALL.iter().map(|legs| said(legs.word(), format!("legs-{}", legs.word()))).collect(),
        knees: Knee::ALL.iter().map(|knee| said(knee.word(), format!("knee-{}", knee.word()))).collect(),
        landings: Landing::ALL
            .iter()
            .map(|landing| said(landing.word(), format!("way-{}", landing.word())))
            .collect(),
        entries: entries.iter().map(|entry| said(entry, format!("choice-{entry}"))).collect(),
        cues: Cue::ALL.iter().map(|cue| said(cue.word(), format!("cue-{}", cue.word()))).collect(),
        surfaces: Surface::ALL
            .iter()
            .map(|surface| said(surface.word(), format!("surface-{}", surface.word())))
            .collect(),
        supports: Support::ALL
            .iter()
            .map(|support| said(support.word(), format!("support-{}", support.word())))
            .collect(),
        moves: Move::ALL.iter().map(|mv| said(mv.word(), format!("move-{}", mv.word()))).collect(),
        contact_legs: Legs::ALL.iter().map(contact_legs).collect(),
        afters: After::ALL
            .iter()
            .map(|after| said(after.word(), format!("after-{}", after.word())))
            .collect(),
        speeds: ["fixed", "approach", "top-share"]
            .iter()
            .map(|speed| said(speed, format!("speed-{speed}")))
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use pitside_model::load::catalogue;

    use super::*;

    #[test]
    fn decimals_are_exact_both_ways() {
        for (value, digits, text) in [
            (155_000, 3, "155"),
            (155_500, 3, "155.5"),
            (-1_234, 1, "-123.4"),
            (40, 1, "4"),
            (7, 0, "7"),
            (5, 3, "0.005"),
        ] {
            assert_eq!(told(value, digits), text);
            assert_eq!(parts(text, digits), Some(value));
        }
        assert_eq!(parts("3,5", 1), Some(35));
        assert_eq!(parts("−2", 1), Some(-20));
        assert_eq!(parts(" 2.50 ", 1), Some(25));
        for odd in ["", "-", ".", "1.25", "1e3", "1 2", "9999999999999999999"] {
            assert_eq!(parts(odd, 1), None, "{odd}");
        }
    }

    #[test]
    fn a_form_that_is_not_touched_says_what_stood() {
        for item in catalogue::all() {
            assert_eq!(read(&filled(&item.exercise)).ok().as_ref(), Some(&item.exercise));
        }
    }

    #[test]
    fn what_cannot_be_read_is_named() {
        let exercise = catalogue::find(catalogue::id::BOUNDS_RUN_IN).expect("there").exercise;
        let refused = |change: fn(&mut ExerciseForm)| {
            let mut form = filled(&exercise);
            change(&mut form);
            match read(&form) {
                Err(ScreenError::Refused { field, .. }) => field,
                other => panic!("{other:?}"),
            }
        };
        assert_eq!(refused(|f| f.series[0].contact_ms = "short".to_owned()), "time on the ground");
        assert_eq!(refused(|f| f.kind = "odd".to_owned()), "kind");
        assert_eq!(refused(|f| f.entry_value = String::new()), "number of the first contact");
        assert_eq!(
            refused(|f| {
                f.load_kg = "5".to_owned();
                f.load_percent = "10".to_owned();
            }),
            "load"
        );
    }
}
