//! Eight invented weeks of one athlete, written as a phone writes them.

use pitside_book::store::{Book, Draft};
use pitside_model::facts::{
    Approach, Audience, Board, BodyPart, CheckIn, Complete, Conditions, Consent, Day, Effort, Fact, Hash,
    Hurt, Jump, JumpEvent, Leg, Level, MemberId, Outcome, Phases, Scope, Session, Set, Shoes, Side, Subject,
    Surface, Wind, WindRule,
};
use pitside_model::load::catalogue::id;
use uuid::Uuid;

use super::cast::{Athlete, Story};
use super::{stamp, today};
use crate::failure::Failure;

/// Weeks of the demo, this one included.
pub(super) const WEEKS: i32 = 8;
/// Volume of each week in percent: up, a lighter fourth week, up again.
const SHAPE: [u16; WEEKS as usize] = [80, 88, 96, 70, 92, 100, 104, 108];

/// Sets of one exercise.
struct Work {
    exercise: Uuid,
    sets: u16,
    reps: u16,
    leg: Leg,
    box_mm: Option<u32>,
    strides: Option<u16>,
}

fn work(exercise: Uuid, sets: u16, reps: u16, leg: Leg) -> Work {
    Work { exercise, sets, reps, leg, box_mm: None, strides: None }
}

/// One session of the week's plan.
struct Plan {
    weekday: i32,
    purpose: &'static str,
    work: Vec<Work>,
    rpe_tenths: u16,
    minutes: u16,
}

fn plan(athlete: &Athlete) -> Vec<Plan> {
    let leg = |side| if side == Side::Left { Leg::Left } else { Leg::Right };
    let take_off = leg(athlete.take_off);
    let rebounds = Plan {
        weekday: 1,
        purpose: "short contacts",
        work: vec![
            work(id::POGO, 4, 12, Leg::Both),
            work(id::HURDLE_JUMPS, 3, 6, Leg::Both),
            Work { box_mm: Some(300), ..work(id::DROP_JUMP, 2, 5, Leg::Both) },
        ],
        rpe_tenths: 60,
        minutes: 70,
    };
    let bounds = Plan {
        weekday: 3,
        purpose: "bounds and hops from a stand",
        work: vec![
            work(id::A_SKIP, 2, 1, Leg::AlternateLeft),
            work(id::BOUNDS_STANDING, 4, 1, Leg::AlternateLeft),
            work(id::HOPS_STANDING, 3, 1, Leg::AlternateRight),
        ],
        rpe_tenths: 65,
        minutes: 80,
    };
    let event = Plan {
        weekday: 5,
        purpose: "short run-ups",
        work: vec![
            work(id::POGO, 2, 10, Leg::Both),
            Work { strides: Some(6), ..work(id::BOUNDS_RUN_IN, 3, 1, Leg::AlternateLeft) },
            Work { strides: Some(8), ..work(id::LONG_JUMP_SHORT, 5, 1, take_off) },
        ],
        rpe_tenths: 70,
        minutes: 90,
    };
    let basics = |weekday| Plan {
        weekday,
        purpose: "learning to land and rebound",
        work: vec![
            work(id::POGO, 3, 10, Leg::Both),
            work(id::BOX_JUMP, 3, 4, Leg::Both),
            work(id::A_SKIP, 2, 1, Leg::AlternateLeft),
        ],
        rpe_tenths: 40,
        minutes: 55,
    };
    match (athlete.story, athlete.level) {
        (Story::Returns, _) => vec![Plan {
            weekday: 3,
            purpose: "both legs, low",
            work: vec![
                work(id::POGO, 3, 8, Leg::Both),
                Work { box_mm: Some(300), ..work(id::BOX_JUMP, 2, 4, Leg::Both) },
            ],
            rpe_tenths: 30,
            minutes: 45,
        }],
        (Story::Young, _) => vec![basics(1), basics(4)],
        (_, Level::Beginner) => vec![basics(1), basics(3), basics(5)],
        (_, Level::Intermediate) => vec![rebounds, bounds],
        (_, Level::Advanced) => vec![rebounds, bounds, event],
    }
}

/// Writes the season of one athlete into the athlete's own book.
pub(super) fn write(athlete: &Athlete, book: &Book, member: MemberId, begin: Day) -> Result<(), Failure> {
    let scope = Scope::Member(member);
    for (week, percent) in SHAPE.iter().enumerate() {
        let week = i32::try_from(week).unwrap_or(0);
        for plan in plan(athlete) {
            let day = begin.plus(7 * week + plan.weekday);
            let off = match athlete.story {
                Story::Returns => week < 5,
                Story::Gaps => week == 2 || (week == 5 && plan.weekday > 1),
                _ => false,
            };
            if day > today() || off {
                continue;
            }
            let spike = athlete.story == Story::Spikes && week == WEEKS - 1;
            let percent = percent * athlete.volume / 100;
            let place = session(book, scope, day, &plan, percent, spike)?;
            // Harder weeks feel harder: half a point for every ten percent.
            let rpe_tenths = (plan.rpe_tenths + percent / 20 * 5).saturating_sub(25);
            let minutes = plan.minutes + percent / 10;
            let rated = Fact::Effort(Effort { rpe_tenths, minutes });
            // One session of the last week is left to be rated twice.
            if !(athlete.story == Story::Disagrees && day == today()) {
                let draft = Draft::about(Subject::Fact(place), rated);
                book.write(scope, &draft, stamp(day, 19 * 60 + 30))?;
            }
        }
    }
    if athlete.story != Story::Gaps {
        let complete = Fact::Complete(Complete { up_to: today() });
        book.write(scope, &Draft::new(complete), stamp(today(), 16 * 60))?;
    }
    if athlete.level == Level::Advanced && athlete.story != Story::Returns {
        competition(athlete, book, member)?;
    }
    private(athlete, book, member)
}

fn session(
    book: &Book,
    scope: Scope,
    day: Day,
    plan: &Plan,
    percent: u16,
    spike: bool,
) -> Result<Hash, Failure> {
    let session = Session {
        day,
        start_min: Some(17 * 60),
        purpose: Some(plan.purpose.to_owned()),
        location: Some("Harbour Lane ground".to_owned()),
        surface: Some(Surface::Track),
        shoes: Some(Shoes::Flats),
        weather: None,
        cut_short: None,
        conditions: Conditions::default(),
    };
    let place = book.write(scope, &Draft::new(Fact::Session(session)), stamp(day, 17 * 60))?;
    let mut sets = Vec::new();
    for work in &plan.work {
        // More volume is more repetitions, or more sets where a set is one series.
        let grown = |n: u16| (n * percent + 50) / 100;
        let (mut count, mut reps) = (work.sets, work.reps);
        if reps > 1 {
            reps = grown(reps).max(1);
        } else {
            count = grown(count).max(1);
        }
        if spike && [id::BOUNDS_STANDING, id::HOPS_STANDING].contains(&work.exercise) {
            count *= 2;
        }
        let set = Set {
            session: place,
            exercise: work.exercise,
            reps,
            contacts_per_rep: None,
            leg: work.leg,
            box_mm: work.box_mm,
            approach: work.strides.map(Approach::Strides),
            load_g: None,
            last_10_m_ms: None,
            cue: None,
            warm_up: false,
            planned: None,
        };
        for _ in 0..count {
            sets.push((scope, Draft::new(Fact::Set(set.clone()))));
        }
    }
    book.write_all(&sets, stamp(day, 18 * 60))?;
    Ok(place)
}

/// Two weeks ago: six attempts at the long jump, as gauge and tape said.
fn competition(athlete: &Athlete, book: &Book, member: MemberId) -> Result<(), Failure> {
    // Distance in millimetres, toe to line, wind in mm/s, and the tape reading of the start mark.
    const ATTEMPTS: [(Option<u32>, i32, i32, u32); 6] = [
        (Some(5_610), -120, 400, 31_900),
        (None, 30, 1_100, 31_900),
        (Some(5_740), -20, 900, 32_000),
        (Some(5_690), -90, 2_300, 32_000),
        (None, 15, 700, 32_000),
        (Some(5_820), -10, 1_300, 32_050),
    ];
    let day = today().plus(-14);
    for ((distance_mm, toe_mm, wind, start_mm), attempt) in ATTEMPTS.into_iter().zip(1_u16..) {
        let jump = Jump {
            day,
            event: JumpEvent::Long,
            indoor: false,
            competition: true,
            place: Some("Harbour Lane ground".to_owned()),
            attempt: Some(attempt),
            outcome: distance_mm
                .map_or(Outcome::Foul, |mm| Outcome::Measured(mm + u32::from(athlete.volume) / 10 * 10)),
            toe_mm: Some(toe_mm),
            wind: Some(Wind::Gauge(wind)),
            wind_rule: Some(WindRule::FromMark),
            approach: Some(Approach::Strides(16)),
            start_mm: Some(start_mm),
            pit_mm: Some(2_000),
            board: Some(Board::Plane),
            phases: Phases::default(),
            take: None,
        };
        let at = stamp(day, 15 * 60 + i64::from(attempt) * 12);
        book.write(Scope::Member(member), &Draft::new(Fact::Jump(jump)), at)?;
    }
    Ok(())
}

/// What hurts, in the private scope; shared by some.
fn private(athlete: &Athlete, book: &Book, member: MemberId) -> Result<(), Failure> {
    if athlete.story != Story::Young {
        let consent = Draft::about(
            Subject::Uuid(member.0),
            Fact::Consent(Consent { to: Audience::Coach, given: true }),
        );
        book.write(Scope::Member(member), &consent, stamp(today().plus(-30), 8 * 60))?;
    }
    let rising: &[(i32, u8)] = match athlete.story {
        Story::Hurts => &[(18, 1), (11, 2), (8, 2), (4, 3), (1, 4)],
        Story::Young => &[(3, 1)],
        _ => &[],
    };
    for (back, score) in rising {
        let day = today().plus(-back);
        let hurt = Hurt { part: BodyPart::Achilles, side: Some(Side::Right), score: *score };
        let check_in = Fact::CheckIn(CheckIn {
            day,
            hurts: vec![hurt],
            sleep_min: Some(440),
            signs: std::collections::BTreeSet::new(),
        });
        book.write(Scope::Private(member), &Draft::new(check_in), stamp(day, 8 * 60))?;
    }
    Ok(())
}
