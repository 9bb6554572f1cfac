//! The squad's exercises by kind, in an order that the coach picks; one of them with its numbers unfolded; and the
//! form by which one is added or changed.

mod calls;
mod form;
mod one;

use core::cmp::Ordering;

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Draft};
use pitside_model::facts::exercise::{Direction, Exercise, Kind, Legs};
use pitside_model::facts::{Fact, Scope, Subject};
use pitside_model::load::catalogue;
use pitside_model::load::contact::{ContactLoad, repetition};
use pitside_model::load::likeness::{Beside, EventSide, Joints, LikeEvent, Likeness, Part, Pattern};
use pitside_model::load::performed::{Athlete, Leg, Performed, Side};
use uuid::Uuid;

pub(crate) use form::{change, copy, save};
pub(crate) use one::{left_out, numbers, one};

use crate::companion::ScreenError;
use crate::figure::decimal;
use crate::naming::named;
use crate::record::{Choice, ExerciseGroup, ExerciseQuery, ExerciseRow, Exercises};
use crate::route::Route;
use crate::text::Words;
use crate::training::Catalogue;
use crate::wording::kind_word;

/// By what the rows of a kind are in order.
#[derive(Clone, Copy, PartialEq)]
enum Order {
    Name,
    Landing,
    Push,
    Contact,
    Like(Part),
}

impl Order {
    const PLAIN: [(&'static str, Self); 4] = [
        ("name", Self::Name),
        ("landing", Self::Landing),
        ("push", Self::Push),
        ("contact-time", Self::Contact),
    ];

    fn of(word: &str) -> Self {
        let like = word.strip_prefix("like-").and_then(Part::of).map(Self::Like);
        let plain = Self::PLAIN.iter().find(|(own, _)| *own == word).map(|(_, order)| *order);
        like.or(plain).unwrap_or(Self::Name)
    }
}

/// An exercise as it usually is.
pub(super) fn usual(exercise: &Exercise) -> Performed<'_> {
    let on_one = exercise.series.iter().any(|contact| contact.legs != Legs::Two);
    let leg = if on_one { Side::Alternate { first: Leg::Left } } else { Side::Both };
    Performed::usual(exercise, 1, leg)
}

/// The exercise that lies behind a row, and what it is sorted by.
struct Measured<'a> {
    id: Uuid,
    /// In the language of the call.
    name: String,
    exercise: &'a Exercise,
    contacts: Vec<ContactLoad<'a>>,
    likeness: Option<Likeness>,
}

impl<'a> Measured<'a> {
    fn hardest(&self) -> Option<&ContactLoad<'a>> {
        let own = self.contacts.iter().filter(|contact| contact.kind == self.exercise.kind);
        own.max_by(|a, b| a.landing.energy_j_per_kg_per_leg.total_cmp(&b.landing.energy_j_per_kg_per_leg))
    }

    fn energy(&self) -> f64 {
        self.hardest().map_or(0.0, |contact| contact.landing.energy_j_per_kg_per_leg)
    }

    fn push(&self) -> Option<f64> {
        self.contacts
            .iter()
            .filter_map(|contact| contact.push)
            .map(|push| push.mean_force_bw_per_leg)
            .max_by(f64::total_cmp)
    }

    fn contact_s(&self) -> f64 {
        self.hardest().map_or(f64::INFINITY, |contact| contact.inputs.contact_s.value)
    }

    fn compare(&self, other: &Self, order: Order) -> Ordering {
        let by = match order {
            Order::Name => Ordering::Equal,
            Order::Landing => other.energy().total_cmp(&self.energy()),
            Order::Push => {
                let push = |of: &Self| of.push().unwrap_or(f64::NEG_INFINITY);
                push(other).total_cmp(&push(self))
            }
            Order::Contact => self.contact_s().total_cmp(&other.contact_s()),
            Order::Like(part) => match (&self.likeness, &other.likeness) {
                (Some(a), Some(b)) => a.nearer(b, part),
                _ => Ordering::Equal,
            },
        };
        by.then_with(|| self.name.cmp(&other.name))
    }
}

/// The list, as far as a name holds what is searched for.
pub(crate) fn exercises(words: &Words, book: &Book, query: &ExerciseQuery) -> Result<Exercises, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    let order = Order::of(&query.sort);
    let event = LikeEvent::of(&query.event).unwrap_or(LikeEvent::LongJump);
    let side = match order {
        Order::Like(_) => event_side(&catalogue, event),
        _ => None,
    };
    let search = query.search.trim().to_lowercase();
    let mut found: Vec<Measured<'_>> = catalogue
        .iter()
        .map(|(id, exercise)| (id, named(words, id, exercise), exercise))
        .filter(|(_, name, _)| search.is_empty() || name.to_lowercase().contains(&search))
        .map(|(id, name, exercise)| Measured {
            id,
            name,
            exercise,
            // What is no longer sound is listed all the same, without numbers.
            contacts: repetition(&usual(exercise)).unwrap_or_default(),
            likeness: side.as_ref().and_then(|side| side.beside(exercise, Athlete::default()).ok()),
        })
        .collect();
    found.sort_by(|a, b| a.compare(b, order));
    let groups: Vec<ExerciseGroup> = Kind::ALL
        .iter()
        .map(|kind| ExerciseGroup {
            id: kind.word().to_owned(),
            label: kind_word(words, *kind),
            rows: found
                .iter()
                .filter(|measured| measured.exercise.kind == *kind)
                .map(|measured| row(words, measured, order))
                .collect(),
        })
        .filter(|group| !group.rows.is_empty())
        .collect();
    let missing = missing(book)?.len() as u64;
    let like = match order {
        Order::Like(part) => words.say(
            "like-heading",
            &[
                ("part", (&words.word(&format!("part-{}", part.word()))).into()),
                ("event", (&words.word(&format!("like-{}", event.word()))).into()),
            ],
        ),
        _ => String::new(),
    };
    Ok(Exercises {
        revision: book.revision(),
        title: words.word("exercises-title"),
        about: words.word("exercises-about"),
        search: query.search.trim().to_owned(),
        sorts: sorts(words, order),
        events: LikeEvent::ALL
            .iter()
            .map(|own| Choice {
                id: own.word().to_owned(),
                text: words.word(&format!("like-{}", own.word())),
                group: String::new(),
                chosen: *own == event,
            })
            .collect(),
        like,
        found: words.say("exercises-found", &[("n", (found.len() as u64).into())]),
        groups,
        missing: match missing {
            0 => String::new(),
            n => words.say("exercises-missing", &[("n", n.into())]),
        },
    })
}

fn sorts(words: &Words, order: Order) -> Vec<Choice> {
    let plain = Order::PLAIN.iter().map(|(word, own)| Choice {
        id: (*word).to_owned(),
        text: words.word(&format!("sort-{word}")),
        group: String::new(),
        chosen: *own == order,
    });
    let like = Part::ALL.iter().map(|part| Choice {
        id: format!("like-{}", part.word()),
        text: words.word(&format!("part-{}", part.word())),
        group: words.word("sort-like"),
        chosen: order == Order::Like(*part),
    });
    plain.chain(like).collect()
}

/// The event, as the squad describes it.
fn event_side(catalogue: &Catalogue, event: LikeEvent) -> Option<EventSide> {
    EventSide::new(event, catalogue.get(event.exercise()), Athlete::default()).ok()
}

fn row(words: &Words, measured: &Measured<'_>, order: Order) -> ExerciseRow {
    let landing = measured.hardest().map_or_else(String::new, |contact| landing(words, contact));
    let push = measured.push().map_or_else(String::new, |mean| {
        words.say("exercise-push", &[("mean", (&decimal(words, mean, 1)).into())])
    });
    let contact = measured.hardest().map_or_else(String::new, |contact| {
        words.say(
            "exercise-seconds",
            &[("seconds", (&decimal(words, contact.inputs.contact_s.value, 3)).into())],
        )
    });
    let like = match (order, &measured.likeness) {
        (Order::Like(part), Some(likeness)) => likeness_part(words, likeness, part),
        _ => String::new(),
    };
    let mark = mark(words, measured.contacts.iter());
    let spoken = [&measured.name, &landing, &push, &contact, &like, &mark].map(String::as_str);
    let spoken: Vec<&str> = spoken.into_iter().filter(|s| !s.is_empty()).collect();
    ExerciseRow {
        id: measured.id.to_string(),
        route: Route::Exercise(measured.id).to_string(),
        name: measured.name.clone(),
        spoken: spoken.join(". "),
        landing,
        push,
        contact,
        like,
        mark,
    }
}

fn landing(words: &Words, contact: &ContactLoad<'_>) -> String {
    let landing = contact.landing;
    words.say(
        "exercise-landing",
        &[
            ("speed", (&decimal(words, landing.closing_speed_m_s, 1)).into()),
            ("energy", (&decimal(words, landing.energy_j_per_kg_per_leg, 1)).into()),
        ],
    )
}

/// Says it where an estimate of ours stands behind the numbers.
fn mark<'a, 'b: 'a>(words: &Words, mut contacts: impl Iterator<Item = &'a ContactLoad<'b>>) -> String {
    let estimated = contacts.any(|contact| contact.inputs.rests_on_an_estimate());
    words.word(if estimated { "mark-estimate" } else { "mark-published" })
}

/// One part of the likeness in words.
fn likeness_part(words: &Words, likeness: &Likeness, part: Part) -> String {
    let signed = |value: f64, places: usize| {
        let sign = if value < 0.0 { "−" } else { "+" };
        format!("{sign}{}", decimal(words, value.abs(), places))
    };
    match part {
        Part::Contact => match likeness.contact {
            Some(contact @ Beside { own, .. }) => words.say(
                "like-contact",
                &[
                    ("own", (&decimal(words, own, 3)).into()),
                    ("difference", (&signed(contact.difference(), 3)).into()),
                    ("move", (&words.word(&format!("move-{}", likeness.event_move.word()))).into()),
                    ("ratio", (&decimal(words, contact.ratio().unwrap_or(0.0), 2)).into()),
                ],
            ),
            None => words.word("like-no-contact"),
        },
        Part::OneLeg => words.word(if likeness.one_leg { "like-one-leg-yes" } else { "like-one-leg-no" }),
        Part::Direction => match likeness.direction {
            Direction::Forward => words.word("direction-forward"),
            away => {
                let direction = words.word(&format!("direction-{}", away.word()));
                words.say("like-direction", &[("direction", (&direction).into())])
            }
        },
        Part::Approach => words.say(
            "like-approach",
            &[
                ("own", (&decimal(words, likeness.approach.own, 1)).into()),
                ("event", (&decimal(words, likeness.approach.event, 1)).into()),
                ("difference", (&signed(likeness.approach.difference(), 1)).into()),
            ],
        ),
        Part::Joints => words.word(match likeness.joints {
            Joints::Straight => "joints-straight",
            Joints::Bent => "joints-bent",
            Joints::FromStand => "joints-from-stand",
        }),
        Part::Pattern => words.word(match likeness.pattern {
            Pattern::Same => "pattern-same",
            Pattern::Part => "pattern-part",
            Pattern::Other => "pattern-other",
        }),
    }
}

/// What the product has and the squad has not; nothing before there is a squad, which uses the product's own.
fn missing(book: &Book) -> Result<Vec<catalogue::Item>, BookError> {
    if book.squad().is_none() {
        return Ok(Vec::new());
    }
    let own = Catalogue::read(book)?;
    Ok(catalogue::all().into_iter().filter(|item| own.get(item.id).is_none()).collect())
}

/// Takes in what the product has and the squad has not; gives how many that were.
pub(crate) fn take_in_missing(book: &Book, at: Stamp) -> Result<usize, BookError> {
    let drafts: Vec<_> = missing(book)?
        .into_iter()
        .map(|item| (Scope::Squad, Draft::about(Subject::Uuid(item.id), Fact::Exercise(item.exercise))))
        .collect();
    Ok(book.write_all(&drafts, at)?.len())
}

/// An exercise of the squad.
pub(super) fn find<'a>(catalogue: &'a Catalogue, id: &str) -> Result<(Uuid, &'a Exercise), ScreenError> {
    let missing = || ScreenError::NotFound { what: "exercise".to_owned() };
    let id = Uuid::try_parse(id).map_err(|_| missing())?;
    Ok((id, catalogue.get(id).ok_or_else(missing)?))
}
