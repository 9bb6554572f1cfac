//! The jumps of one athlete, and attempts as they are written down.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use meeting::{coach, env};
use pitside_book::store::{Book, Draft, Filter};
use pitside_model::facts::{
    Bracket, Card, Day, Event, EventKind, Fact, Foot, Hash, HopPattern, Jump, MemberId, Outcome, Pace, Scope,
    Side, Subject, Take, Wind, WindRule, kind,
};
use pitside_model::load::catalogue::id;
use pitside_screen::record::{AttemptForm, CompetitionDay, CompetitionForm, JumpsForm, SetForm};
use pitside_screen::{Companion, Effort, SessionForm};
use tempfile::TempDir;

fn meeting_of(member: MemberId, event: &str) -> CompetitionForm {
    CompetitionForm {
        member: member.to_string(),
        event: event.into(),
        day: "2026-11-21".into(),
        place: "Quay field".into(),
        competition: true,
        wind_rule: "from-mark".into(),
        ..CompetitionForm::default()
    }
}

fn row(distance: &str, wind: &str, toe: &str, start: &str) -> AttemptForm {
    AttemptForm {
        distance: distance.into(),
        wind: wind.into(),
        toe: toe.into(),
        start: start.into(),
        run_up: "18".into(),
        ..AttemptForm::default()
    }
}

/// Writes an attempt down with the number that stands there; gives its id.
fn write(companion: &Companion, form: &CompetitionForm, row: AttemptForm) -> String {
    let screen = companion.competition_day(&env(), form, "").unwrap();
    let row = AttemptForm { attempt: screen.row.attempt, ..row };
    let saved = companion.save_attempt(&env(), form, &row, "").unwrap();
    assert_eq!(saved.troubles, []);
    saved.id
}

fn jumps(book: &Book, member: MemberId) -> Vec<Jump> {
    let held =
        book.held(&Filter { member: Some(member), kind: Some(kind::JUMP), ..Filter::default() }).unwrap();
    let jump = |fact: Option<&Fact>| match fact {
        Some(Fact::Jump(jump)) => Some(jump.clone()),
        _ => None,
    };
    held.iter().filter_map(|held| jump(held.fact())).collect()
}

fn day(companion: &Companion, form: &CompetitionForm) -> CompetitionDay {
    companion.competition_day(&env(), form, "").unwrap()
}

#[test]
fn the_next_attempt_has_its_number_and_the_marks_of_the_last() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let form = meeting_of(member, "long-jump");
    let first = day(&companion, &form);
    assert!(first.ready && first.attempts.is_empty());
    assert_eq!(
        (first.row.attempt.as_str(), first.row.start.as_str(), first.row.run_up.as_str()),
        ("1", "", "")
    );
    assert!(
        first.about.contains("Ino, long jump, Sat 21 Nov 2026, competition, Quay field"),
        "{}",
        first.about
    );
    write(&companion, &form, row("6.429", "1.3", "-4", "34.15"));
    write(&companion, &form, row("x", "", "1.5", "34,25"));
    let screen = day(&companion, &form);
    assert_eq!(
        (screen.row.attempt.as_str(), screen.row.start.as_str(), screen.row.run_up.as_str()),
        ("3", "34.25", "18")
    );
    assert_eq!((screen.row.distance.as_str(), screen.row.wind.as_str()), ("", ""));
    let titles: Vec<&str> = screen.attempts.iter().map(|row| row.title.as_str()).collect();
    assert_eq!(titles, ["long jump, attempt 2", "long jump, attempt 1"]);
    let [first, second] = jumps(&book, member).try_into().unwrap();
    assert_eq!(
        (first.outcome, first.toe_mm, first.start_mm),
        (Outcome::Measured(6_420), Some(-40), Some(34_150))
    );
    assert_eq!((first.wind, first.wind_rule), (Some(Wind::Gauge(1_300)), Some(WindRule::FromMark)));
    assert_eq!((second.outcome, second.wind, second.wind_rule), (Outcome::Foul, None, None));
    // The next day begins with one again, and its marks stand there all the same.
    let next = day(&companion, &CompetitionForm { day: "2026-11-22".into(), ..form });
    assert_eq!((next.row.attempt.as_str(), next.row.start.as_str()), ("1", "34.25"));
}

#[test]
fn everything_wrong_is_told_at_its_field_and_nothing_is_written() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let form = meeting_of(member, "long-jump");
    let typed = AttemptForm {
        attempt: "0".into(),
        run_up: "many".into(),
        hop: "far".into(),
        ..row("642", "strong", "4", "3415")
    };
    let told = companion.save_attempt(&env(), &form, &typed, "").unwrap();
    assert_eq!(told.id, "");
    let mut fields: Vec<&str> = told.troubles.iter().map(|trouble| trouble.field.as_str()).collect();
    fields.sort_unstable();
    // A long jump has no hop to be asked for.
    assert_eq!(fields, ["attempt", "distance", "run_up", "start", "wind"]);
    let toe = AttemptForm { distance: "6.42".into(), ..row("6.42", "", "4", "") };
    let told = companion.save_attempt(&env(), &form, &toe, "").unwrap();
    assert_eq!(told.troubles[0].field, "toe");
    assert!(told.troubles[0].text.contains("Behind the line it has a minus"), "{:?}", told.troubles);
    let indoors = CompetitionForm { indoor: true, ..form.clone() };
    let told = companion.save_attempt(&env(), &indoors, &row("6.42", "1.3", "", ""), "").unwrap();
    assert!(told.troubles[0].text.contains("Indoors no wind"), "{:?}", told.troubles);
    let no_gauge = CompetitionForm { wind_rule: "no-gauge".into(), ..form.clone() };
    let told = companion.save_attempt(&env(), &no_gauge, &row("6.42", "1.3", "", ""), "").unwrap();
    assert_eq!(told.troubles[0].field, "wind");
    let odd = CompetitionForm { event: "high-jump".into(), day: "soon".into(), pit: "99".into(), ..form };
    let told = companion.save_attempt(&env(), &odd, &row("6.42", "", "", ""), "").unwrap();
    let fields: Vec<&str> = told.troubles.iter().map(|trouble| trouble.field.as_str()).collect();
    assert_eq!(fields, ["event", "day", "pit"]);
    assert_eq!(jumps(&book, member), []);
    assert!(
        companion
            .save_attempt(&env(), &meeting_of(MemberId(uuid::Uuid::nil()), "long-jump"), &toe, "")
            .is_err()
    );
}

#[test]
fn an_attempt_sent_twice_stands_once_and_its_number_is_not_taken_again() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let form = meeting_of(member, "long-jump");
    let typed = AttemptForm { attempt: "1".into(), ..row("6.42", "1.3", "-4", "34.15") };
    let once = companion.save_attempt(&env(), &form, &typed, "").unwrap();
    let twice = companion.save_attempt(&env(), &form, &typed, "").unwrap();
    assert_eq!(once, twice);
    let other =
        companion.save_attempt(&env(), &form, &AttemptForm { distance: "6.40".into(), ..typed }, "").unwrap();
    assert!(other.troubles[0].text.contains("Attempt 1 is written down already (6.42 m)"), "{other:?}");
    assert_eq!(jumps(&book, member).len(), 1);
}

#[test]
fn a_correction_keeps_what_is_not_on_the_form_and_a_withdrawal_is_gone() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let take = take(&book, member, &[], None);
    let form = meeting_of(member, "long-jump");
    let id = write(&companion, &form, row("6.42", "1.3", "-4", "34.15"));
    let held = book
        .held(&Filter {
            kind: Some(kind::JUMP),
            subject: Some(Subject::Fact(Hash::parse(&id).unwrap())),
            ..Filter::default()
        })
        .unwrap();
    let linked = Jump { take: Some(take), ..jumps(&book, member).remove(0) };
    book.write(Scope::Member(member), &Draft::replacing(&held[0], Fact::Jump(linked.clone())), env().stamp())
        .unwrap();
    // The attempt alone says where and how it was jumped.
    let screen = companion.competition_day(&env(), &CompetitionForm::default(), &id).unwrap();
    assert_eq!(screen.form, form);
    assert_eq!((screen.row.distance.as_str(), screen.row.toe.as_str()), ("6.42", "\u{2212}4"));
    let typed = AttemptForm { toe: "-6".into(), wind: "2,1".into(), ..screen.row };
    let saved = companion.save_attempt(&env(), &screen.form, &typed, &id).unwrap();
    assert_eq!((saved.id.as_str(), saved.troubles.len()), (id.as_str(), 0));
    let corrected = Jump { toe_mm: Some(-60), wind: Some(Wind::Gauge(2_100)), ..linked };
    assert_eq!(jumps(&book, member), [corrected]);
    assert_eq!(companion.withdraw_attempt(&env(), &id).unwrap(), form);
    assert_eq!(jumps(&book, member), []);
    assert!(companion.withdraw_attempt(&env(), &id).is_err());
    assert!(companion.competition_day(&env(), &CompetitionForm::default(), &id).is_err());
}

#[test]
fn an_athlete_is_switched_to_among_those_of_the_competition() {
    let folder = TempDir::new().unwrap();
    let (book, companion, ino) = coach(&folder);
    let [ada, _] = ["Ada", "Uwe"].map(|name| book.add_member(name, env().stamp()).unwrap());
    let all = day(&companion, &meeting_of(ino, "long-jump"));
    let names = |choices: &[pitside_screen::record::Choice]| -> Vec<(String, bool)> {
        choices.iter().map(|choice| (choice.text.clone(), choice.chosen)).collect()
    };
    let is = |name: &str, chosen| (name.to_owned(), chosen);
    assert_eq!(names(&all.switch), [is("Ada", false), is("Ino", true), is("Uwe", false)]);
    let athletes = vec![ino.to_string(), ada.to_string()];
    let two = day(&companion, &CompetitionForm { athletes, ..meeting_of(ada, "long-jump") });
    assert_eq!(names(&two.switch), [is("Ada", true), is("Ino", false)]);
    // Before an athlete is chosen the form asks for it.
    let open = day(&companion, &CompetitionForm::default());
    assert!(!open.ready && open.switch.iter().all(|choice| !choice.chosen));
    assert_eq!(open.form.day, "2026-11-25");
}

/// A take of the member, in milliseconds.
fn take(book: &Book, member: MemberId, marked: &[(Foot, EventKind, i64)], set: Option<Hash>) -> Hash {
    let event = |(foot, kind, ms): &(Foot, EventKind, i64)| Event {
        foot: *foot,
        kind: *kind,
        bracket: Bracket { before: ms - 2, after: ms + 2 },
        doubted: false,
    };
    let fact = Fact::Take(Take {
        day: Day::parse("2026-11-21").unwrap(),
        clip: [1; 32],
        frames: [1; 32],
        pace: Pace { num: 1, den: 1_000 },
        frame_ticks: 4,
        stated_mhz: None,
        clock_ppm: None,
        rounded: false,
        exercise: None,
        set,
        rendered: false,
        events: marked.iter().map(event).collect(),
    });
    book.write(Scope::Member(member), &Draft::new(fact), env().stamp()).unwrap()
}

const TRIPLE: [(Foot, EventKind, i64); 7] = [
    (Foot::Right, EventKind::Touchdown, 240),
    (Foot::Right, EventKind::ToeOff, 380),
    (Foot::Right, EventKind::Touchdown, 880),
    (Foot::Right, EventKind::ToeOff, 1_040),
    (Foot::Left, EventKind::Touchdown, 1_420),
    (Foot::Left, EventKind::ToeOff, 1_600),
    (Foot::Both, EventKind::Touchdown, 2_240),
];

/// Links a take to the only jump of a member.
fn link(book: &Book, member: MemberId, take: Hash) {
    let held =
        book.held(&Filter { member: Some(member), kind: Some(kind::JUMP), ..Filter::default() }).unwrap();
    let linked = Jump { take: Some(take), ..jumps(book, member).remove(0) };
    book.write(Scope::Member(member), &Draft::replacing(&held[0], Fact::Jump(linked)), env().stamp())
        .unwrap();
}

#[test]
fn a_triple_jump_says_its_phases_its_contacts_and_its_speed() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let form = meeting_of(member, "triple-jump");
    let phases = AttemptForm {
        hop: "5.12".into(),
        step: "4.05".into(),
        jump: "4.83".into(),
        ..row("13.95", "-0.2", "-5", "38.2")
    };
    write(&companion, &form, phases);
    link(&book, member, take(&book, member, &TRIPLE, None));
    let screen = companion.jumps(&env(), &member.to_string(), &JumpsForm::default()).unwrap();
    let row = &screen.days[0].attempts[0];
    assert_eq!((row.outcome.as_str(), row.wind.as_str()), ("13.95 m", "wind -0.2 m/s"));
    assert_eq!(row.board, "toe 5 cm behind the line, 5 cm lost at the board, 14.00 m from toe to mark");
    assert_eq!(
        row.phases,
        "hop 5.12 m (36.6 %), step 4.05 m (28.9 %), jump 4.83 m (34.5 %): hop-dominated, \
         near another class: half a centimetre misread would make it one"
    );
    assert!(
        row.times.starts_with("hop 0.140 s ± 8 ms, step 0.160 s ± 8 ms, jump 0.180 s ± 8 ms; "),
        "{}",
        row.times
    );
    // 5.12 m in 0.64 s and 4.05 m in 0.54 s.
    assert!(
        row.times.contains("8.0 m/s over the hop, 7.5 m/s over the step: 6.3 % lost ± "),
        "{}",
        row.times
    );
    assert!(row.spoken.contains("attempt 1; 13.95 m") && row.record == "the wind allows a record");
}

#[test]
fn attempts_from_one_run_up_say_bests_the_board_and_the_shift() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let form = meeting_of(member, "long-jump");
    for (distance, wind, toe) in
        [("6.42", "1.3", "-4"), ("6.51", "2.4", "-9"), ("x", "0.3", "2"), ("6.38", "0.9", "-6")]
    {
        write(&companion, &form, row(distance, wind, toe, "34.15"));
    }
    let short = AttemptForm { run_up: "8".into(), ..row("5.60", "", "", "") };
    write(&companion, &form, short);
    let read = |form: JumpsForm| companion.jumps(&env(), &member.to_string(), &form).unwrap();
    let screen = read(JumpsForm::default());
    assert_eq!(screen.form.fouls, "10");
    let [full, short] = screen.groups.as_slice() else { panic!("{:?}", screen.groups) };
    assert_eq!(full.title, "long jump, run-up of 18 strides");
    assert_eq!(full.count, "4 attempts, 1 foul");
    assert_eq!(full.distances[0], "Best: 6.51 m, Sat 21 Nov 2026.");
    assert_eq!(full.distances[1], "Best with a wind that allows a record: 6.42 m, Sat 21 Nov 2026.");
    assert_eq!(full.distances[2], "Longest from toe to mark: 6.60 m, Sat 21 Nov 2026.");
    // Of 6.42, 6.51 and 6.38 m: s = 66.6 mm, t(97.5 %, 2) = 4.303, so ± 165.4 mm.
    let course = "Longer than all before: 6.42 m on Sat 21 Nov 2026, 6.51 m on Sat 21 Nov 2026.";
    assert_eq!(full.distances[3], course);
    assert!(
        full.distances[4].starts_with("Mean of 3 measured attempts: 6.44 m ± 0.17 m"),
        "{:?}",
        full.distances
    );
    assert_eq!(full.board[0], "1 of 4 toes over the line (25 %).");
    // −40, −90, 20 and −60 mm: mean −42.5 mm, s = 46.5 mm, z = 1.2816.
    assert!(full.board[1].starts_with("The mean is 4.2 cm behind the line"), "{:?}", full.board);
    assert!(
        full.shift[0].contains(
            "For 10 % of toes over the line, aim 6.0 cm behind it: move the start mark 1.7 cm back"
        ),
        "{:?}",
        full.shift
    );
    assert_eq!(full.shift[1], "That is from 34.15 m, the latest, to 34.17 m.");
    assert!(full.shift.iter().any(|said| said.starts_with("4 toes are few")), "{:?}", full.shift);
    assert!(short.shift.is_empty() && short.board[0].starts_with("Where the toe was is not written down."));
    // Alike in wind, and with another share.
    let calm = read(JumpsForm {
        wind_from: "0.5".into(),
        wind_to: "2,0".into(),
        fouls: "50 %".into(),
        ..JumpsForm::default()
    });
    assert_eq!((calm.groups.len(), calm.groups[0].count.as_str()), (1, "2 attempts, no foul"));
    assert_eq!(calm.days[0].attempts.len(), 5, "the list shows them all");
    let odd = read(JumpsForm { wind_from: "calm".into(), fouls: "60".into(), ..JumpsForm::default() });
    let fields: Vec<&str> = odd.troubles.iter().map(|trouble| trouble.field.as_str()).collect();
    assert_eq!((fields, odd.form.fouls.as_str()), (vec!["wind_from", "fouls"], "60"));
    assert_eq!(odd.groups.len(), 2);
}

#[test]
fn an_attempt_counts_as_training_once() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let card = |card| Draft::about(Subject::Uuid(member.0), Fact::Card(card));
    for field in [Card::TakeOffLeg(Side::Left), Card::HopPattern(HopPattern::RightRightLeft)] {
        book.write(Scope::Member(member), &card(field), env().stamp()).unwrap();
    }
    let contacts = |kind: &str| {
        let athlete = companion.athlete(&env(), &member.to_string(), "").unwrap();
        let row = athlete.rows.iter().find(|row| row.id == kind).map(|row| row.weeks[6].text.clone());
        row.unwrap_or_default()
    };
    assert_eq!(contacts("event-take-off"), "");
    let long = meeting_of(member, "long-jump");
    write(&companion, &long, row("6.42", "", "", ""));
    write(&companion, &long, row("x", "", "", ""));
    write(&companion, &meeting_of(member, "triple-jump"), row("13.20", "", "", ""));
    // Two take-offs, and hop, step and jump; no stride of the run-up and no pit.
    assert_eq!(contacts("event-take-off"), "5");
    assert_eq!(contacts("sprint"), "");
    let said = |companion: &Companion| {
        companion.jumps(&env(), &member.to_string(), &JumpsForm::default()).unwrap().days[0].training.clone()
    };
    assert_eq!(
        said(&companion),
        "As training: 3 attempts without a set of their own, 5 contacts among the event take-offs; \
         3 landings in the pit, counted apart."
    );
    // The same two long jumps logged as a set of that day are not counted twice.
    let form = SessionForm { day: "2026-11-21".into(), ..SessionForm::default() };
    let session = companion.begin_session(&env(), &member.to_string(), &form).unwrap();
    let set = SetForm {
        exercise: id::LONG_JUMP_SHORT.to_string(),
        sets: 1,
        reps: 2,
        leg: "left".into(),
        ..SetForm::default()
    };
    companion.save_sets(&env(), &session, &set).unwrap();
    assert_eq!(contacts("event-take-off"), "5");
    assert!(said(&companion).contains("2 attempts are in sets of that day"), "{}", said(&companion));
}

#[test]
fn a_day_of_jumps_is_a_known_day_and_a_take_measures_its_contacts() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let form = CompetitionForm { day: "2026-11-24".into(), ..meeting_of(member, "triple-jump") };
    write(&companion, &form, row("13.20", "", "", ""));
    let week = || {
        let athlete = companion.athlete(&env(), &member.to_string(), "").unwrap();
        athlete.rows.into_iter().find(|row| row.id == "event-take-off").unwrap()
    };
    // Monday and today are unknown, Tuesday is not.
    assert!(week().weeks[7].spoken.contains("incomplete, 2 days unknown"), "{:?}", week().weeks[7]);
    let before = week().weeks[7].more.clone();
    link(&book, member, take(&book, member, &TRIPLE, None));
    assert_ne!(week().weeks[7].more, before, "the flights of the clip take the place of the usual ones");
    assert_eq!(week().weeks[7].text, "3");
    // Nobody said how hard it was: that is not nothing.
    let form = SessionForm { day: "2026-11-23".into(), ..SessionForm::default() };
    let session = companion.begin_session(&env(), &member.to_string(), &form).unwrap();
    companion.set_effort(&env(), &session, &Effort { rpe_tenths: 50, minutes: 60 }).unwrap();
    let athlete = companion.athlete(&env(), &member.to_string(), "").unwrap();
    let load = &athlete.rows.iter().find(|row| row.id == "session-rpe").unwrap().weeks[7];
    assert_eq!((load.text.as_str(), load.more.as_str()), ("300", "1 unrated"));
}
