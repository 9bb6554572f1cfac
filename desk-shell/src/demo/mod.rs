//! The whole job on an invented squad: athletes log offline, contacts of a drawn
//! clip are timed, the books sync over the loopback, and the coach sees the
//! squad. Every name, place and number is made up.

mod cast;
mod clip;
mod season;

use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicI64, Ordering};

use pitside_book::carrier::{Limits, Listener};
use pitside_book::clock::{Clock, Stamp};
use pitside_book::exchange::{Part, accept};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, Draft, Filter};
use pitside_model::facts::{
    Approach, Card, Day, Effort, Fact, Grant, Leg, Level, Limit, MemberId, Plan, PlanRow, Rest, Role, SaidBy,
    Scope, Side, Subject, field_name, kind,
};
use pitside_model::load::catalogue::id;
use pitside_screen::record::AthleteRow;
use pitside_screen::{Companion, Env};

use crate::device;
use crate::failure::{Exit, Failure};
use cast::{Athlete, Story};

/// The demo's clock stands still: Saturday 28 March 2026, 18:00.
pub(crate) struct DemoClock;

/// Minutes east of UTC where the demo plays.
const ZONE_MIN: i16 = 60;

impl Clock for DemoClock {
    fn now(&self) -> Stamp {
        stamp(today(), 18 * 60)
    }
}

fn today() -> Day {
    Day::parse("2026-03-28").unwrap_or(Day::LAST)
}

/// A minute of a day on the demo's clock.
fn stamp(day: Day, minute: i64) -> Stamp {
    let local = i64::from(day.number()) * 1_440 + minute - i64::from(ZONE_MIN);
    Stamp { ms: local * 60_000, zone_min: ZONE_MIN }
}

/// The one clock of the demo's devices, put on from scene to scene.
struct SceneClock(AtomicI64);

impl SceneClock {
    fn put_on(&self, to: Stamp) {
        self.0.store(to.ms, Ordering::Release);
    }
}

impl Clock for SceneClock {
    fn now(&self) -> Stamp {
        Stamp { ms: self.0.load(Ordering::Acquire), zone_min: stamp(today(), 0).zone_min }
    }
}

/// One athlete's phone: a folder and a book of its own.
struct Phone {
    athlete: &'static Athlete,
    book: Book,
    member: MemberId,
}

/// Plays the demo in an empty folder; gives the coach's book.
pub(crate) fn run(folder: &Path, out: &mut dyn Write) -> Result<Book, Failure> {
    let begin = today().monday().plus(-7 * (season::WEEKS - 1));
    writeln!(out, "An invented squad; in the demo it is Saturday 28 March 2026.")?;

    let coach = device::create(&folder.join("coach"), true)?;
    coach.found("Harbour Lane jumps", stamp(begin, 8 * 60))?;
    heading(out, "1. Each athlete's own book, written with no connection")?;
    let mut phones = Vec::new();
    for athlete in cast::ALL {
        phones.push(phone(folder, athlete, begin)?);
    }
    writeln!(out, "{} books in folders of their own, {} weeks each", phones.len(), season::WEEKS)?;

    let listener = Listener::bind(std::net::SocketAddr::from(([127, 0, 0, 1], 0)), Limits::default())?;
    let address = listener.address().to_string();
    let stop = listener.stop();
    let clock = SceneClock(AtomicI64::new(stamp(begin, 9 * 60).ms));
    std::thread::scope(|scope| -> Result<(), Failure> {
        let calls = scope.spawn(|| {
            // The callers say how each call went.
            listener.serve(coach.identity(), &|connection| device::answer(&coach, connection, &clock).1);
        });
        let done = together(&coach, &phones, &address, begin, &clock, out);
        stop.stop();
        let _ = calls.join();
        done
    })?;
    table(&coach, out)?;
    Ok(coach)
}

/// A folder with the drawn clip in it, for the page to offer.
pub(crate) fn clips(folder: &Path) -> Result<PathBuf, Failure> {
    let clips = folder.join("clips");
    let written =
        std::fs::create_dir(&clips).and_then(|()| std::fs::write(clips.join(clip::NAME), clip::CLIP));
    written
        .map_err(|e| Failure::new(Exit::Unexpected, format!("the demo's clip could not be written: {e}")))?;
    Ok(clips)
}

fn heading(out: &mut dyn Write, text: &str) -> std::io::Result<()> {
    writeln!(out, "\n{text}")
}

fn phone(folder: &Path, athlete: &'static Athlete, begin: Day) -> Result<Phone, Failure> {
    let book = device::create(&folder.join(athlete.name.to_lowercase()), true)?;
    let first = stamp(begin, 7 * 60);
    let member = book.start_member(first)?;
    let cards: Vec<_> = athlete
        .cards()
        .into_iter()
        .map(|card| (Scope::Member(member), Draft::about(Subject::Uuid(member.0), Fact::Card(card))))
        .collect();
    book.write_all(&cards, first)?;
    Ok(Phone { athlete, book, member })
}

/// Everything from the first pairing to the last sync.
fn together(
    coach: &Book,
    phones: &[Phone],
    address: &str,
    begin: Day,
    clock: &SceneClock,
    out: &mut dyn Write,
) -> Result<(), Failure> {
    // At the season's begin every phone is paired: key, address, one-time secret.
    for phone in phones {
        let open = coach.invite(Grant::new(Role::Athlete, vec![]), clock.now(), 10)?;
        let invitation = Invitation::of(coach, &open, vec![address.to_owned()])?;
        let part = accept(&phone.book, &invitation, clock)?;
        device::call(&phone.book, coach.device(), &invitation.addresses, part, clock)?;
    }
    let mut clip = None;
    for phone in phones {
        season::write(phone.athlete, &phone.book, phone.member, begin)?;
        if phone.athlete.story == Story::Filmed {
            clip = Some(clip::time(&phone.book, phone.member)?);
        }
    }
    heading(out, "2. Contacts timed on a clip (drawn by a program, not filmed: 240 captured, 30 stored)")?;
    if let Some(timed) = clip {
        for line in timed.lines() {
            writeln!(out, "{line}")?;
        }
        if !timed.all_within() {
            return Err(Failure::new(Exit::Unexpected, "a timed contact missed the drawn one"));
        }
        writeln!(out, "All within their uncertainty of the times the clip was drawn with.")?;
    }

    clock.put_on(stamp(today(), 8 * 60 + 30));
    heading(out, "3. Back in reach: every book syncs with the coach's over 127.0.0.1")?;
    let mut arrived = 0;
    for phone in phones {
        arrived +=
            device::call(&phone.book, coach.device(), &[address.to_owned()], Part::Caller, clock)?.sent;
    }
    // Away from each other again, two people rate one session differently, and
    // the coach says what may not be done, and plans what is to be done.
    for phone in phones {
        match phone.athlete.story {
            Story::Disagrees => disagree(coach, phone)?,
            Story::Returns => limit(coach, phone.member)?,
            _ => {}
        }
        plan(coach, phone)?;
    }
    let mut received = 0;
    for phone in phones {
        let outcome = device::call(&phone.book, coach.device(), &[address.to_owned()], Part::Caller, clock)?;
        arrived += outcome.sent;
        received += outcome.received;
    }
    writeln!(out, "{arrived} entries reached the coach, {received} of the coach's reached the athletes")?;
    let again = device::call(&phones[0].book, coach.device(), &[address.to_owned()], Part::Caller, clock)?;
    writeln!(out, "Once more: {} received, {} sent; nothing twice", again.received, again.sent)?;
    Ok(())
}

/// The athlete's phone and the coach's laptop rate the same session, neither
/// knowing of the other.
fn disagree(coach: &Book, phone: &Phone) -> Result<(), Failure> {
    let scope = Scope::Member(phone.member);
    let sessions = |book: &Book| {
        book.held(&Filter {
            scope: Some(scope),
            kind: Some(kind::SESSION),
            field: Some(field_name::WHOLE),
            ..Filter::default()
        })
    };
    let Some(place) = sessions(coach)?.last().and_then(|h| h.id()) else { return Ok(()) };
    for (book, minute, rpe_tenths, minutes) in [(&phone.book, 17 * 60, 60, 70), (coach, 17 * 60 + 20, 80, 85)]
    {
        let fact = Fact::Effort(Effort { rpe_tenths, minutes });
        book.revise(scope, Subject::Fact(place), fact, stamp(today(), minute))?;
    }
    Ok(())
}

fn limit(coach: &Book, member: MemberId) -> Result<(), Failure> {
    let limit = Limit {
        from: today().plus(-24),
        until: Some(today().plus(14)),
        no_one_leg: Some(Side::Left),
        no_approach: true,
        max_box_mm: Some(300),
        said_by: SaidBy::Clinician,
        note: Some("back after an ankle sprain".to_owned()),
    };
    coach.write(Scope::Member(member), &Draft::new(Fact::Limit(limit)), stamp(today().plus(-24), 8 * 60))?;
    Ok(())
}

/// The coach plans this evening for those who have not trained today, and the next Tuesday
/// for those who have; for nobody whom something hurts or who comes back.
fn plan(coach: &Book, phone: &Phone) -> Result<(), Failure> {
    let row = |number, exercise, sets, reps, leg, say: &str, rest| PlanRow {
        number,
        exercise,
        sets,
        reps,
        leg,
        swap: leg != Leg::Both,
        box_mm: None,
        approach: None,
        load_g: None,
        cue: None,
        say: Some(say.to_owned()),
        rest: Some(rest),
        warm_up: false,
    };
    let bounds = [
        row(1, id::POGO, 3, 10, Leg::Both, "quick off the ground", Rest::Seconds(60)),
        PlanRow {
            approach: Some(Approach::Strides(4)),
            ..row(2, id::BOUNDS_RUN_IN, 4, 1, Leg::AlternateLeft, "wait for the ground", Rest::Times(8))
        },
        row(3, id::HOPS_STANDING, 2, 1, Leg::Left, "knee up, foot flat", Rest::Seconds(120)),
    ];
    let contacts = [
        row(1, id::POGO, 4, 12, Leg::Both, "stiff ankles", Rest::Seconds(60)),
        row(2, id::HURDLE_JUMPS, 3, 6, Leg::Both, "meet the ground from above", Rest::Seconds(150)),
    ];
    let (day, purpose, rows, note) = match (phone.athlete.story, phone.athlete.level) {
        (Story::Hurts | Story::Returns | Story::Young, _) | (_, Level::Beginner) => return Ok(()),
        (_, Level::Intermediate) => {
            (today(), "bounds with a short run-in", bounds.to_vec(), Some("On the grass, if it is dry."))
        }
        (_, Level::Advanced) => (today().plus(3), "short contacts", contacts.to_vec(), None),
    };
    let plan = Plan { day, purpose: purpose.to_owned(), rows, note: note.map(str::to_owned) };
    coach.write(Scope::Member(phone.member), &Draft::new(Fact::Plan(plan)), stamp(today(), 9 * 60))?;
    Ok(())
}

/// The columns of the table: the kinds as they are most often seen here.
const COLUMNS: [(&str, &str); 5] = [
    ("vertical rebounds", "rebounds"),
    ("horizontal series", "series"),
    ("held landings", "landings"),
    ("event take-offs", "take-offs"),
    ("session-RPE × min", "RPE×min"),
];

fn table(coach: &Book, out: &mut dyn Write) -> Result<(), Failure> {
    let now = DemoClock.now();
    let env = Env { language: "en".to_owned(), zone_min: now.zone_min, hour24: true, now_ms: now.ms };
    let squad = Companion::board_of(coach, &env).map_err(|e| Failure::new(Exit::Book, e.to_string()))?;
    heading(out, "4. The squad this week (contacts; ~ means that days are unknown)")?;
    write!(out, "{:<8}", "")?;
    for (_, short) in COLUMNS {
        write!(out, "{short:>11}")?;
    }
    writeln!(out, "  last session")?;
    for athlete in &squad.athletes {
        write!(out, "{:<8}", athlete.name)?;
        for (label, _) in COLUMNS {
            write!(out, "{:>11}", this_week(athlete, label))?;
        }
        let last = athlete.last_session.as_ref().map_or("none in these weeks", |l| l.text.as_str());
        writeln!(out, "  {last}")?;
    }
    heading(out, "To look at")?;
    for notice in &squad.notices {
        writeln!(out, "{:<8}{}", notice.who, notice.saw)?;
    }
    for athlete in squad.athletes.iter().filter(|a| !a.clashes.is_empty()) {
        writeln!(out, "{:<8}{}.", athlete.name, athlete.clashes)?;
    }
    Ok(())
}

fn this_week(athlete: &AthleteRow, label: &str) -> String {
    let figure = athlete.rows.iter().find(|r| r.label == label).and_then(|r| r.weeks.last());
    figure.map_or_else(|| "–".to_owned(), |f| format!("{}{}", if f.incomplete { "~" } else { "" }, f.text))
}

impl Athlete {
    fn cards(&self) -> Vec<Card> {
        let born = today().plus(-365 * self.age - 40);
        vec![
            Card::Name(self.name.to_owned()),
            Card::Born(born),
            Card::Level(self.level),
            Card::TakeOffLeg(self.take_off),
            Card::MassG(self.mass_kg * 1_000),
        ]
    }
}
