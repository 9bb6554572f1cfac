//! What attempts add to an athlete's training.

use std::collections::BTreeMap;

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::facts::{Day, Fact, Hash, MemberId, kind};
use pitside_model::jump::training::{OfDay, Repetition, exercises, without_set};
use pitside_model::load::catalogue::{self, Item};
use pitside_model::load::course::DayRecord;
use pitside_model::load::performed::Performed;
use uuid::Uuid;

use super::{Attempt, attempts};
use crate::figure::whole;
use crate::text::Words;
use crate::training::{Card, Catalogue};

/// What the attempts of one day add.
#[derive(Clone, Debug, Default)]
pub(crate) struct DayOfJumps {
    /// How many attempts have no set of their own.
    added: u64,
    /// Their contacts and energies, and their landings in the pit.
    pub(crate) record: DayRecord,
    /// Attempts that a set of the day has counted already.
    pub(crate) in_sets: u64,
    /// What the day was computed from: the attempts, and their takes, here or not.
    pub(crate) facts: Vec<Hash>,
    /// Of how many nothing says which leg they were jumped off.
    pub(crate) legs_assumed: u64,
}

/// What the attempts of a member add to each day of a stretch; days without an attempt are
/// left out.
///
/// # Errors
/// [`BookError`].
pub(crate) fn as_training(
    book: &Book,
    catalogue: &Catalogue,
    card: &Card,
    member: MemberId,
    days: (Day, Day),
) -> Result<BTreeMap<Day, DayOfJumps>, BookError> {
    let all = attempts(book, catalogue, member, Some(days))?;
    let mut found = BTreeMap::new();
    for of_day in all.chunk_by(|a, b| a.jump.day == b.jump.day) {
        if let Some(first) = of_day.first() {
            found.insert(first.jump.day, of_one(book, catalogue, card, member, of_day)?);
        }
    }
    Ok(found)
}

/// A set as far as it matters here.
struct Logged {
    id: Hash,
    exercise: Uuid,
    reps: u16,
}

/// The sets of one day.
fn logged(book: &Book, member: MemberId, day: Day) -> Result<Vec<Logged>, BookError> {
    let own = |kind| Filter { member: Some(member), kind: Some(kind), ..Filter::default() };
    let mut found = Vec::new();
    for session in book.held(&Filter { days: Some((day, day)), ..own(kind::SESSION) })? {
        for held in book.held(&Filter { session: session.id(), ..own(kind::SET) })? {
            if let (Some(id), Some(Fact::Set(set))) = (held.id(), held.fact()) {
                found.push(Logged { id, exercise: set.exercise, reps: set.reps });
            }
        }
    }
    Ok(found)
}

fn of_one(
    book: &Book,
    catalogue: &Catalogue,
    card: &Card,
    member: MemberId,
    of_day: &[Attempt],
) -> Result<DayOfJumps, BookError> {
    let Some(day) = of_day.first().map(|attempt| attempt.jump.day) else { return Ok(DayOfJumps::default()) };
    let sets = logged(book, member, day)?;
    let of_set = |id: Hash| sets.iter().find(|set| set.id == id).map(|set| set.exercise);
    let seen: Vec<OfDay<'_>> = of_day
        .iter()
        .map(|attempt| OfDay {
            jump: &attempt.jump,
            set_of_take: attempt.take.as_ref().and_then(|take| take.fact.set).and_then(of_set),
        })
        .collect();
    let reps: Vec<(Uuid, u16)> = sets.iter().map(|set| (set.exercise, set.reps)).collect();
    let alone = without_set(&seen, &reps);
    let mut done = DayOfJumps {
        in_sets: (of_day.len() - alone.len()) as u64,
        facts: of_day.iter().flat_map(|attempt| [Some(attempt.id), attempt.jump.take]).flatten().collect(),
        ..DayOfJumps::default()
    };
    for attempt in alone.into_iter().filter_map(|place| of_day.get(place)) {
        let times = attempt.times();
        let repetition = Repetition::of(&attempt.jump, times.as_ref(), card.take_off, card.pattern);
        let Some(exercise) = exercise(catalogue, attempt) else { continue };
        done.legs_assumed += u64::from(repetition.leg_assumed);
        let full = repetition.performed(&exercise.exercise, card.athlete());
        // A coach may have taken the run-up out of the exercise: then it is done as it says.
        let set = if full.check().is_ok() { full } else { Performed { approach: None, timed: &[], ..full } };
        // One that the coach made into something else entirely adds no contacts.
        done.record.not_computed += u32::from(done.record.add_set(exercise.id, &set, false).is_err());
        done.added += 1;
    }
    Ok(done)
}

/// The squad's exercise of the event with the nearest run-up, else the product's.
fn exercise(own: &Catalogue, attempt: &Attempt) -> Option<Item> {
    let wanted = exercises(&attempt.jump);
    let found = wanted.iter().find_map(|id| Some(Item { id: *id, exercise: own.get(*id)?.clone() }));
    found.or_else(|| wanted.iter().find_map(|id| catalogue::find(*id)))
}

/// What the attempts of one day add, in words.
pub(super) fn said(
    words: &Words,
    book: &Book,
    catalogue: &Catalogue,
    card: &Card,
    member: MemberId,
    of_day: &[Attempt],
) -> Result<String, BookError> {
    let done = of_one(book, catalogue, card, member, of_day)?;
    let contacts: u64 = done.record.totals.iter().map(|(_, total)| total.contacts).sum();
    let mut said = Vec::new();
    if done.added > 0 {
        said.push(words.say(
            "jumps-adds",
            &[
                ("n", done.added.into()),
                ("contacts", (&words.say("contacts", &[("n", contacts.into())])).into()),
                ("pit", (&whole(done.record.totals.pit_landings())).into()),
            ],
        ));
    }
    if done.in_sets > 0 {
        said.push(words.say("jumps-in-sets", &[("n", done.in_sets.into())]));
    }
    if done.legs_assumed > 0 {
        said.push(words.word("jumps-leg-assumed"));
    }
    Ok(said.join(" "))
}
