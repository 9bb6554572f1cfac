//! The figures on the screens against a computation of their own from what was
//! written down.

#![allow(clippy::unwrap_used, clippy::panic, reason = "helpers of tests fail as tests do")]

mod meeting;

use std::collections::BTreeMap;

use meeting::{coach, env};
use pitside_book::store::Draft;
use pitside_model::facts::exercise::Kind;
use pitside_model::facts::{
    Bracket, Day, Event, EventKind, Fact, Foot, Hash, MemberId, Pace, Scope, Subject, Take,
};
use pitside_model::load::catalogue::{self, id};
use pitside_model::load::performed::{Leg, Performed, Side};
use pitside_model::load::session::Totals;
use pitside_screen::record::{SetForm, WeekRow};
use pitside_screen::{Companion, Effort, SessionForm};
use tempfile::TempDir;
use uuid::Uuid;

fn log(companion: &Companion, member: MemberId, day: Day, sets: &[SetForm]) -> (String, Vec<String>) {
    let form = SessionForm { day: day.to_string(), ..SessionForm::default() };
    let session = companion.begin_session(&env(), &member.to_string(), &form).unwrap();
    let ids = sets.iter().flat_map(|set| companion.save_sets(&env(), &session, set).unwrap()).collect();
    (session, ids)
}

fn set(exercise: Uuid, reps: u16, leg: &str) -> SetForm {
    SetForm { exercise: exercise.to_string(), sets: 1, reps, leg: leg.into(), ..SetForm::default() }
}

/// `1 234` as a number.
fn number(text: &str) -> u64 {
    text.chars().filter(char::is_ascii_digit).collect::<String>().parse().unwrap()
}

#[test]
fn the_weeks_of_the_board_are_the_sums_of_their_sets() {
    let folder = TempDir::new().unwrap();
    let (_, companion, member) = coach(&folder);
    let today = env().today();
    let choices = [
        (id::POGO, "both", Side::Both),
        (id::POGO_ONE_LEG, "left", Side::Left),
        (id::BOUNDS_STANDING, "alternate-left", Side::Alternate { first: Leg::Left }),
        (id::HOPS_STANDING, "right", Side::Right),
        (id::DROP_JUMP, "both", Side::Both),
        (id::SPRINT_STRIDES, "left", Side::Left),
    ];
    let mut expected: BTreeMap<Day, (Totals, u64)> = BTreeMap::new();
    for n in 0..30_i32 {
        let day = today.plus(-n);
        let (exercise, leg, side) = choices[n.unsigned_abs() as usize % choices.len()];
        let reps = 3 + (n % 7) as u16;
        let (session, _) =
            log(&companion, member, day, &[set(exercise, reps, leg), set(id::POGO, 10, "both")]);
        let effort = Effort { rpe_tenths: 30 + 10 * (n % 5) as u16, minutes: 45 };
        companion.set_effort(&env(), &session, &effort).unwrap();
        let week = expected.entry(day.monday()).or_default();
        let own = catalogue::find(exercise).unwrap().exercise;
        let pogo = catalogue::find(id::POGO).unwrap().exercise;
        let sets = [Performed::usual(&own, reps, side), Performed::usual(&pogo, 10, Side::Both)];
        week.0.add(&Totals::of(&sets).unwrap());
        // Session-RPE × minutes: 45 min at RPE 3, 4, 5, 6, 7.
        week.1 += [135, 180, 225, 270, 315][(n % 5) as usize];
    }
    let board = companion.squad(&env()).unwrap();
    let row = |label: &str| board.athletes[0].rows.iter().find(|r: &&WeekRow| r.id == label);
    for (at, back) in (0..5).rev().enumerate() {
        let monday = today.monday().plus(-7 * back);
        let Some((totals, load)) = expected.get(&monday) else { panic!("no week of {monday}") };
        for kind in Kind::ALL {
            let (contacts, energy) =
                totals.get(*kind).map_or((0, 0.0), |t| (t.contacts, t.energy_j_per_kg().round()));
            match row(kind.word()) {
                None => assert_eq!(contacts, 0, "{monday} {kind:?}"),
                Some(row) => {
                    assert_eq!(number(&row.weeks[at].text), contacts, "{monday} {kind:?}");
                    assert_eq!(number(&row.weeks[at].more) as f64, energy, "{monday} {kind:?}");
                    assert!((0.0..=1.0).contains(&row.weeks[at].share));
                }
            }
        }
        assert_eq!(number(&row("session-rpe").unwrap().weeks[at].text), *load, "{monday}");
    }
}

#[test]
fn every_row_can_be_spoken() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let (session, sets) = log(&companion, member, env().today(), &[set(id::TRIPLE_JUMP_SHORT, 3, "right")]);
    book.write(Scope::Member(member), &Draft::new(triple(&sets[0])), env().stamp()).unwrap();
    let board = companion.squad(&env()).unwrap();
    let athlete = companion.athlete(&env(), &member.to_string(), "").unwrap();
    let session = companion.session(&env(), &session).unwrap();
    let mut spoken: Vec<&String> = vec![];
    for row in &board.athletes {
        spoken.push(&row.spoken);
        spoken.extend(row.times.iter().map(|t| &t.spoken));
        spoken.extend(row.rows.iter().flat_map(|r| r.weeks.iter().map(|w| &w.spoken).chain([&r.spoken])));
    }
    spoken.extend(athlete.sessions.iter().map(|s| &s.spoken));
    spoken.extend(athlete.takes.iter().flat_map(|t| [&t.spoken, &t.lane.spoken]));
    spoken.extend(session.sets.iter().map(|s| &s.spoken));
    spoken.extend(session.totals.iter().map(|t| &t.spoken));
    assert!(spoken.len() > 12);
    for text in spoken {
        assert!(text.len() > 3 && !text.contains('['), "{text:?}");
    }
}

/// A triple jump at 250 frames a second: right, right, left; contacts of 140,
/// 160 and 180 ms, flights of 460 and 340 ms.
fn triple(set: &str) -> Fact {
    let event = |foot, kind, after: i64| Event {
        foot,
        kind,
        bracket: Bracket { before: after - 4, after },
        doubted: false,
    };
    Fact::Take(Take {
        day: env().today(),
        clip: [1; 32],
        frames: [2; 32],
        pace: Pace { num: 1, den: 1_000 },
        frame_ticks: 4,
        stated_mhz: None,
        clock_ppm: None,
        rounded: false,
        exercise: Some(id::TRIPLE_JUMP_SHORT),
        set: Hash::parse(set),
        rendered: true,
        events: vec![
            event(Foot::Right, EventKind::Touchdown, 100),
            event(Foot::Right, EventKind::ToeOff, 240),
            event(Foot::Right, EventKind::Touchdown, 700),
            event(Foot::Right, EventKind::ToeOff, 860),
            event(Foot::Left, EventKind::Touchdown, 1_200),
            event(Foot::Left, EventKind::ToeOff, 1_380),
        ],
    })
}

#[test]
fn a_take_replaces_the_usual_times_of_its_set_place_by_place() {
    let folder = TempDir::new().unwrap();
    let (book, companion, member) = coach(&folder);
    let sets = [set(id::TRIPLE_JUMP_SHORT, 1, "right"), set(id::TRIPLE_JUMP_SHORT, 2, "right")];
    let (session, ids) = log(&companion, member, env().today(), &sets);
    let before = companion.session(&env(), &session).unwrap();
    assert!(before.sets.iter().all(|s| s.mark == "an estimate" && s.source.contains("usual ones")));
    book.write(Scope::Member(member), &Draft::new(triple(&ids[0])), env().stamp()).unwrap();
    let after = companion.session(&env(), &session).unwrap();
    assert_eq!(after.sets[1], before.sets[1], "the other set was not timed");
    assert!(after.sets[0].mark.contains("measured") && after.sets[0].source.contains("from a clip"));
    assert_ne!(after.sets[0].push, before.sets[0].push);
    // Mean force of the step: 1 + (0.460 + 0.340)/(2·0.160) = 3.5 BW (science §3).
    assert!(after.sets[0].push.contains("push 3.5 BW a leg"), "{}", after.sets[0].push);
    // On the board a hop, a step and a jump stand apart.
    let times = &companion.squad(&env()).unwrap().athletes[0].times;
    let values: Vec<_> = times.iter().map(|t| (t.label.rsplit(", ").nth(1).unwrap(), t.seconds)).collect();
    let close = |at: usize, what: &str, s: f64| values[at].0 == what && (values[at].1 - s).abs() < 1e-9;
    assert!(close(0, "hop", 0.14) && close(1, "step", 0.16) && close(2, "jump", 0.18), "{values:?}");
    assert!(times.iter().all(|t| t.note.contains("drawn clip")));
    // Each leg's line of the lane has its own contacts, and the gaps are the flights.
    let lane = &after.takes[0].lane;
    let bars: Vec<(&str, usize)> = lane.feet.iter().map(|f| (f.label.as_str(), f.bars.len())).collect();
    assert_eq!(bars, [("left", 1), ("right", 2)]);
    let right = &lane.feet[1].bars;
    assert!((right[1].start - right[0].end - 0.46).abs() < 1e-9);
}

#[test]
fn a_clash_about_the_squad_stands_on_the_board_and_is_settled_there() {
    let folder = TempDir::new().unwrap();
    let (book, companion, _) = coach(&folder);
    let shown = || companion.squad(&env()).unwrap();
    assert!(shown().clashes.is_empty());
    let mut pogo = catalogue::find(id::POGO).unwrap().exercise;
    pogo.name = "Ankle bounces".into();
    let draft = Draft::about(Subject::Uuid(id::POGO), Fact::Exercise(pogo));
    book.write(Scope::Squad, &draft, env().stamp()).unwrap();
    let clashes = shown().clashes;
    assert_eq!((clashes.len(), clashes[0].values.len()), (1, 2));
    assert_eq!(clashes[0].what, "An exercise");
    let keep = clashes[0].values.iter().find(|v| v.text.starts_with("Ankle bounces")).unwrap();
    companion.settle(&env(), "", &keep.choice).unwrap();
    assert!(shown().clashes.is_empty());
    let form = companion.log_set(&env()).unwrap();
    assert!(form.exercises.iter().any(|e| e.text == "Ankle bounces"));
}
