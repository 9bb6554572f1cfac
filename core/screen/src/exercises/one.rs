//! One exercise: how it is done, each contact of a repetition with its numbers unfolded, and how like the events
//! it is.

use pitside_book::store::Book;
use pitside_model::facts::Approach;
use pitside_model::facts::exercise::{Entry, Exercise, Legs, UsualLoad};
use pitside_model::load::caution::LeftOut;
use pitside_model::load::contact::{ContactLoad, Origin, repetition};
use pitside_model::load::likeness::{LikeEvent, Part};
use pitside_model::load::performed::{Athlete, Performed};
use pitside_model::load::unfold::{Term, Unfolded, Unit, What, unfold};

use super::{event_side, find, landing, likeness_part, mark, usual};
use crate::companion::ScreenError;
use crate::figure::{decimal, distance, height, mass, thousandths};
use crate::naming::{about_and_cue, named};
use crate::record::{ContactCard, ExercisePage, InputRow, LikenessCard, NumberRow, Pair};
use crate::text::{Topic, Words};
use crate::training::Catalogue;
use crate::wording::{caution, kind_word, support};

pub(crate) fn one(words: &Words, book: &Book, id: &str) -> Result<ExercisePage, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    let (id, exercise) = find(&catalogue, id)?;
    let set = usual(exercise);
    let contacts = repetition(&set).unwrap_or_default();
    let (about, cue) = about_and_cue(words, id, exercise);
    let likeness = LikeEvent::ALL
        .iter()
        .filter_map(|event| {
            let likeness = event_side(&catalogue, *event)?.beside(exercise, Athlete::default()).ok()?;
            let part = |part: &Part| Pair {
                label: words.word(&format!("part-{}", part.word())),
                value: likeness_part(words, &likeness, *part),
            };
            Some(LikenessCard {
                event: words.word(&format!("like-{}", event.word())),
                parts: Part::ALL.iter().map(part).collect(),
            })
        })
        .collect();
    let left_out = LeftOut::of(exercise).into_iter().map(|left| left_out(words, left));
    Ok(ExercisePage {
        revision: book.revision(),
        id: id.to_string(),
        title: named(words, id, exercise),
        about,
        cue,
        card: card(words, exercise),
        contacts: cards(words, &set, &contacts),
        cautions: caution(words, exercise).into_iter().chain(left_out).collect(),
        mark: mark(words, contacts.iter()),
        source: source(words, exercise),
        likeness,
        like_note: words.word("like-note"),
    })
}

/// What stands behind the usual times; that it is ours is said once.
fn source(words: &Words, exercise: &Exercise) -> String {
    let support = support(words, exercise.support);
    let source = words.told_or_as_said(Topic::Source, &exercise.source);
    if source.starts_with(&support) { source } else { format!("{support}: {source}") }
}

/// What numbers leave out, in words.
pub(crate) fn left_out(words: &Words, left: LeftOut) -> String {
    words.word(match left {
        LeftOut::LoadLengthensContacts => "left-out-load",
        LeftOut::MassUnknown => "left-out-mass",
        LeftOut::HardGround => "left-out-hard",
        LeftOut::SoftGround => "left-out-soft",
        LeftOut::StiffKnee => "left-out-knee",
    })
}

fn run_in(words: &Words, approach: Approach) -> String {
    match approach {
        Approach::Strides(n) => words.say("approach-strides", &[("n", u64::from(n).into())]),
        Approach::Millimetres(mm) => distance(words, mm, 0),
    }
}

fn entry(words: &Words, entry: Entry) -> String {
    match entry {
        Entry::Standing => words.word("entry-standing"),
        Entry::WalkIn { usual_steps } => words.say("entry-walk-in", &[("n", u64::from(usual_steps).into())]),
        Entry::LevelFlight { flight_us } => {
            words.say("entry-level-flight", &[("n", (&decimal(words, f64::from(flight_us) / 1e6, 3)).into())])
        }
        Entry::Box { usual_mm } => words.say("entry-box", &[("height", (&height(words, usual_mm)).into())]),
        Entry::OntoBox { fall_mm } => {
            words.say("entry-onto-box", &[("height", (&height(words, fall_mm)).into())])
        }
        Entry::RunIn { usual_strides } => {
            words.say("entry-run-in", &[("n", u64::from(usual_strides).into())])
        }
        Entry::RunInMetres { usual_mm } => {
            words.say("entry-run-in-distance", &[("distance", (&distance(words, usual_mm, 0)).into())])
        }
    }
}

fn card(words: &Words, exercise: &Exercise) -> Vec<Pair> {
    let mut card = Vec::new();
    let mut pair = |key: &str, value: String| card.push(Pair { label: words.word(key), value });
    pair("label-kind", kind_word(words, exercise.kind));
    pair("label-direction", words.word(&format!("direction-{}", exercise.direction.word())));
    pair("label-legs", words.word(&format!("legs-{}", exercise.legs.word())));
    pair("label-entry", entry(words, exercise.entry));
    if let Some(approach) = exercise.box_run_in {
        pair("label-box-run-in", run_in(words, approach));
    }
    if let Some(mm) = exercise.onto_mm {
        pair("label-onto", height(words, mm));
    }
    if let Some(mm) = exercise.over_mm {
        pair("label-over", height(words, mm));
    }
    pair("label-way", words.word(&format!("way-{}", exercise.landing.word())));
    pair("label-knee", words.word(&format!("knee-{}", exercise.knee.word())));
    if let Some(load) = exercise.load {
        let said = match load {
            UsualLoad::Grams(grams) => mass(words, grams),
            UsualLoad::BodyShare(share) => {
                let percent = thousandths(words, u32::from(share) * 100, 0);
                words.say("load-share", &[("n", (&percent).into())])
            }
        };
        pair("label-load", said);
    }
    if exercise.asks_cue() {
        let cue = exercise
            .cue
            .map_or_else(|| words.word("cue-both"), |cue| words.word(&format!("cue-said-{}", cue.word())));
        pair("label-cue", cue);
    }
    if let Some(surface) = exercise.surface {
        pair("label-surface", words.word(&format!("surface-{}", surface.word())));
    }
    pair("label-contacts", exercise.contacts_per_rep.to_string());
    if exercise.run_in().is_some() && exercise.loss_per_mille > 0 {
        let percent = thousandths(words, u32::from(exercise.loss_per_mille) * 100, 0);
        pair("label-loss", words.say("share-percent", &[("n", (&percent).into())]));
    }
    card
}

/// The contacts in order; those that are alike, as where the last one of a series repeats, on one card.
fn cards(words: &Words, set: &Performed<'_>, contacts: &[ContactLoad<'_>]) -> Vec<ContactCard> {
    let alike = |a: &ContactLoad<'_>, b: &ContactLoad<'_>| {
        a.mv == b.mv && a.kind == b.kind && a.landing == b.landing && a.push == b.push && a.inputs == b.inputs
    };
    let mut cards = Vec::new();
    for run in contacts.chunk_by(alike) {
        let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
        let what = words.word(&format!("move-{}", first.mv.word()));
        let legs = words.word(match first.legs() {
            Legs::Two => "contact-legs-two",
            Legs::One | Legs::Alternate => "contact-legs-one",
        });
        let place = |contact: &ContactLoad<'_>| u64::from(contact.place) + 1;
        let label = if run.len() == 1 {
            words.say(
                "exercise-contact-label",
                &[("n", place(first).into()), ("what", (&what).into()), ("legs", (&legs).into())],
            )
        } else {
            words.say(
                "exercise-contact-again",
                &[
                    ("n", place(first).into()),
                    ("last", place(last).into()),
                    ("what", (&what).into()),
                    ("legs", (&legs).into()),
                ],
            )
        };
        let push = match first.push {
            Some(push) => {
                let mean = decimal(words, push.mean_force_bw_per_leg, 1);
                let peak = decimal(words, push.peak_bw_estimate, 1);
                words.say("push", &[("mean", (&mean).into()), ("peak", (&peak).into())])
            }
            None => words.word("exercise-no-push"),
        };
        cards.push(ContactCard {
            id: first.place.to_string(),
            label,
            landing: landing(words, first),
            push,
            seconds: words.say(
                "exercise-seconds",
                &[("seconds", (&decimal(words, first.inputs.contact_s.value, 3)).into())],
            ),
            mark: mark(words, [first].into_iter()),
            numbers: numbers(words, set, first),
        });
    }
    cards
}

fn what(words: &Words, what: What) -> String {
    words.word(&format!("what-{}", what.word()))
}

/// A value with its unit.
fn with_unit(words: &Words, value: f64, unit: Unit) -> String {
    let (key, places) = match unit {
        Unit::Second => ("unit-second", 3),
        Unit::Metre => ("unit-metre", 3),
        Unit::MetrePerSecond => ("unit-metre-per-second", 2),
        Unit::Degree => ("unit-degree", 1),
        Unit::PerSecond => ("unit-per-second", 1),
        Unit::One if value.fract() == 0.0 => ("unit-one", 0),
        Unit::One => ("unit-one", 3),
        Unit::JoulePerKilogram => ("unit-joule-per-kilogram", 2),
        Unit::BodyWeight => ("unit-body-weight", 2),
        Unit::SystemWeight => ("unit-system-weight", 2),
    };
    words.say(key, &[("n", (&decimal(words, value, places)).into())])
}

fn input(words: &Words, usual: &str, term: &Term<'_>) -> InputRow {
    let value = with_unit(words, term.value, term.unit);
    let origin = match term.origin {
        None if term.what == What::Legs => words.word("origin-counted"),
        None => words.word("origin-above"),
        Some(Origin::Measured) => words.word("origin-measured"),
        Some(Origin::Stated) => words.word("origin-stated"),
        // What stands behind the exercise itself is told once, beside it.
        Some(Origin::Default { source, .. }) if source == usual => words.word("origin-usual"),
        Some(Origin::Default { support: behind, source }) => words.say(
            "origin-default",
            &[
                ("support", (&support(words, behind)).into()),
                ("source", (&words.told_or_as_said(Topic::Source, source)).into()),
            ],
        ),
    };
    InputRow {
        label: what(words, term.what),
        symbol: term.symbol.to_owned(),
        value,
        origin,
        uncertainty: match term.u {
            Some(u) => words.say("number-u", &[("u", (&with_unit(words, u, term.unit)).into())]),
            None => String::new(),
        },
    }
}

/// The numbers of a contact of a set, each with what it rests on.
pub(crate) fn numbers(words: &Words, set: &Performed<'_>, contact: &ContactLoad<'_>) -> Vec<NumberRow> {
    unfold(set, contact).iter().map(|number| row(words, &set.exercise.source, number)).collect()
}

fn row(words: &Words, usual: &str, number: &Unfolded<'_>) -> NumberRow {
    let value = with_unit(words, number.value, number.unit);
    let label = what(words, number.what);
    let uncertainty = match number.u {
        None => words.word("number-u-unknown"),
        Some(u) => {
            let u = with_unit(words, u, number.unit);
            let list: Vec<String> = number.without_u.iter().map(|own| what(words, *own)).collect();
            if list.is_empty() {
                words.say("number-u", &[("u", (&u).into())])
            } else {
                words.say("number-u-without", &[("u", (&u).into()), ("list", (&list.join(", ")).into())])
            }
        }
    };
    let source = words.told_or_as_said(Topic::Source, number.source);
    let formula = |said: &str| words.known(Topic::Formula, said).unwrap_or_else(|| words.in_figures(said));
    let numbers = formula(&number.numbers);
    NumberRow {
        id: number.what.word().to_owned(),
        spoken: format!("{label}: {value}. {numbers}. {uncertainty}. {source}"),
        label,
        value,
        symbols: formula(number.symbols),
        numbers,
        source,
        inputs: number.terms.iter().map(|term| input(words, usual, term)).collect(),
        uncertainty,
    }
}
