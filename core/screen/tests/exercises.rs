//! The catalogue over real books: its list, one exercise unfolded, and how a coach adds and changes one.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use meeting::{at, coach, env};
use pitside_book::store::{Book, Draft, Filter};
use pitside_model::facts::{Card, Fact, Scope, Subject, kind};
use pitside_model::load::catalogue::{self, id};
use pitside_screen::record::{ExerciseQuery, Exercises, SetForm};
use pitside_screen::{Companion, ScreenError, SessionForm};
use tempfile::TempDir;

fn asked(companion: &Companion, search: &str, sort: &str, event: &str) -> Exercises {
    let query = ExerciseQuery { search: search.into(), sort: sort.into(), event: event.into() };
    companion.exercises(&env(), &query).unwrap()
}

fn names(screen: &Exercises, kind: &str) -> Vec<String> {
    let group = screen.groups.iter().find(|group| group.id == kind).expect("the kind");
    group.rows.iter().map(|row| row.name.clone()).collect()
}

fn position(names: &[String], name: &str) -> usize {
    names.iter().position(|own| own == name).unwrap_or_else(|| panic!("{name} is not in {names:?}"))
}

#[test]
fn the_list_is_by_kind_in_the_order_that_is_asked_for() {
    let folder = TempDir::new().unwrap();
    let (_, companion, _) = coach(&folder);
    let by_name = asked(&companion, "", "", "");
    let rows: usize = by_name.groups.iter().map(|group| group.rows.len()).sum();
    assert_eq!((rows, by_name.groups.len()), (catalogue::all().len(), 7));
    assert!(by_name.missing.is_empty() && by_name.like.is_empty());
    assert!(names(&by_name, "lateral").is_sorted());
    assert!(by_name.groups[0].rows.iter().all(|row| !row.spoken.is_empty() && row.like.is_empty()));

    let hardest = names(&asked(&companion, "", "landing", ""), "vertical-rebound");
    assert!(position(&hardest, "Drop jump from 80 cm") < position(&hardest, "Drop jump from 20 cm"));
    let push = names(&asked(&companion, "", "push", ""), "vertical-rebound");
    assert!(position(&push, "Pogo, one leg") < position(&push, "Pogo, two legs"));
    let contact = names(&asked(&companion, "", "contact-time", ""), "vertical-rebound");
    assert!(position(&contact, "Pogo, two legs") < position(&contact, "Repeated jumps from a deep bend"));

    let like = asked(&companion, "", "like-contact", "triple-jump");
    assert_eq!(like.like, "time on the ground, beside the triple jump");
    assert!(like.events.iter().any(|event| event.chosen && event.id == "triple-jump"));
    let series = names(&like, "horizontal-series");
    assert!(position(&series, "One-leg hops with a run-in") < position(&series, "One-leg hops from a stand"));
    let found = asked(&companion, " HURDLE ", "name", "");
    assert!(
        found
            .groups
            .iter()
            .flat_map(|group| &group.rows)
            .all(|row| row.name.to_lowercase().contains("hurdle"))
    );
    assert_eq!(asked(&companion, "nobody does this", "", "").found, "No exercise has that in its name.");
}

#[test]
fn an_exercise_unfolds_each_of_its_numbers() {
    let folder = TempDir::new().unwrap();
    let (_, companion, _) = coach(&folder);
    let page = companion.exercise(&env(), &id::DROP_JUMP.to_string()).unwrap();
    assert_eq!((page.title.as_str(), page.cue.as_str()), ("Drop jump", "short first, then high"));
    assert_eq!(page.contacts.len(), 2);
    let down = &page.contacts[0].numbers[0];
    assert_eq!(down.numbers, "√(2·9.81·0.300) = 2.426 m/s");
    assert_eq!(
        (down.inputs[0].value.as_str(), down.inputs[0].origin.as_str()),
        ("0.300 m", "as the exercise says")
    );
    assert_eq!(down.uncertainty, "no uncertainty known");
    assert!(page.cautions[0].starts_with("High intensity"), "{:?}", page.cautions);
    assert_eq!(page.likeness.len(), 3);
    assert!(page.likeness.iter().all(|card| card.parts.len() == 6));
    let missing = companion.exercise(&env(), &uuid::Uuid::from_u128(1).to_string());
    assert!(matches!(missing, Err(ScreenError::NotFound { .. })));
    // Every exercise can be drawn, and no words are missing.
    for item in catalogue::all() {
        let page = companion.exercise(&env(), &item.id.to_string()).unwrap();
        assert!(!format!("{page:?}").contains("\"["), "{}: {page:?}", page.title);
    }
}

fn values(book: &Book, id: &str) -> usize {
    let subject = Subject::Uuid(uuid::Uuid::parse_str(id).unwrap());
    let filter = Filter { kind: Some(kind::EXERCISE), subject: Some(subject), ..Filter::default() };
    book.held(&filter).unwrap().first().map_or(0, |held| held.values.len())
}

#[test]
fn a_coach_adds_one_from_a_copy_and_changes_it() {
    let folder = TempDir::new().unwrap();
    let (book, companion, _) = coach(&folder);
    let mut form = companion.copy_exercise(&env(), &id::BOUNDS_RUN_IN.to_string()).unwrap().form;
    assert!(form.id.is_empty() && form.name.is_empty() && form.support == "estimate", "{form:?}");
    assert!(form.source.contains("copied from Bounds with a run-in"), "{}", form.source);
    let unnamed = companion.save_exercise(&env(), &form);
    assert!(matches!(unnamed, Err(ScreenError::Refused { field, .. }) if field == "name"));
    form.name = "Bounds up the bank".to_owned();
    form.surface = "grass".to_owned();
    form.series[0].contact_ms = "172,75".to_owned();
    let id = companion.save_exercise(&env(), &form).unwrap();
    let page = companion.exercise(&env(), &id).unwrap();
    assert_eq!(page.title, "Bounds up the bank");
    assert_eq!(page.contacts[0].seconds, "0.173 s");
    assert!(page.cautions.iter().any(|caution| caution.contains("grass")), "{:?}", page.cautions);

    // Changed: what the form showed is replaced.
    let first = companion.change_exercise(&env(), &id).unwrap().form;
    let later = at(meeting::NOON + 1_000);
    let mut changed = first.clone();
    changed.series[0].flight_ms = "380".to_owned();
    assert_eq!(companion.save_exercise(&later, &changed).unwrap(), id);
    assert_eq!(values(&book, &id), 1);

    // A form that did not see that value replaces what it saw: both stand until a person settles it.
    let mut stale = first;
    stale.name = "Bounds up the hill".to_owned();
    companion.save_exercise(&at(meeting::NOON + 2_000), &stale).unwrap();
    assert_eq!(values(&book, &id), 2);
    // A form opened now has seen both.
    let seen = companion.change_exercise(&later, &id).unwrap().form;
    companion.save_exercise(&at(meeting::NOON + 3_000), &seen).unwrap();
    assert_eq!(values(&book, &id), 1);
}

#[test]
fn a_squad_takes_in_what_the_product_has_and_it_has_not() {
    let folder = TempDir::new().unwrap();
    let (book, companion, _) = coach(&folder);
    for gone in [id::STAIR_JUMPS, id::POGO] {
        let filter =
            Filter { kind: Some(kind::EXERCISE), subject: Some(Subject::Uuid(gone)), ..Filter::default() };
        let held = book.held(&filter).unwrap().remove(0);
        book.write(Scope::Squad, &Draft::replacing(&held, Fact::Deleted), env().stamp()).unwrap();
    }
    let screen = asked(&companion, "", "", "");
    assert_eq!(screen.missing, "The product has 2 exercises that this squad has not.");
    // The form of a set begins with what lands softest.
    let begun = companion.log_set(&env()).unwrap();
    assert_ne!(begun.form.exercise, id::POGO.to_string());
    assert!(!begun.form.exercise.is_empty() && begun.caution.is_empty(), "{begun:?}");

    assert_eq!(companion.take_in_exercises(&at(meeting::NOON + 1_000)).unwrap(), 2);
    assert!(asked(&companion, "", "", "").missing.is_empty());
    assert_eq!(companion.take_in_exercises(&env()).unwrap(), 0);
    assert_eq!(companion.log_set(&env()).unwrap().form.exercise, id::POGO.to_string());
}

#[test]
fn a_set_of_the_athletes_own_speed_has_its_uncertainty() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let sprint = Card::Sprint { vmax_mm_s: 9_000, tau_ms: 1_300, vmax_u_mm_s: Some(100), tau_u_ms: Some(60) };
    for card in [sprint, Card::StrideMm(1_900)] {
        let draft = Draft::about(Subject::Uuid(member.0), Fact::Card(card));
        book.write(Scope::Member(member), &draft, env().stamp()).unwrap();
    }
    let session = companion.begin_session(&env(), &member.to_string(), &SessionForm::default()).unwrap();
    let set = SetForm {
        exercise: id::LONG_JUMP_SHORT.to_string(),
        sets: 1,
        reps: 4,
        leg: "left".into(),
        strides: Some(8),
        ..SetForm::default()
    };
    companion.save_sets(&env(), &session, &set).unwrap();
    let screen = companion.session(&env(), &session).unwrap();
    let number = |id: &str| screen.sets[0].numbers.iter().find(|number| number.id == id).expect("unfolded");
    let run_in = number("run-in-speed");
    assert!(run_in.numbers.starts_with("x = 8·1.90 = 15.20 m"), "{}", run_in.numbers);
    assert!(run_in.inputs.iter().any(|input| input.uncertainty == "standard uncertainty 0.10 m/s"));
    assert!(run_in.uncertainty.starts_with("standard uncertainty 0."), "{}", run_in.uncertainty);
    let energy = number("energy");
    assert!(energy.uncertainty.starts_with("standard uncertainty"), "{}", energy.uncertainty);
}
