//! `pitside log`: writes sets, rest days and ratings from the command line. It
//! needs no connection.

use std::io::Write;
use std::sync::Arc;

use pitside_book::clock::{Clock, Stamp, SystemClock};
use pitside_book::store::{Book, Draft, Filter, Held};
use pitside_model::facts::exercise::{Exercise, Kind, Legs};
use pitside_model::facts::{
    Approach, Audience, CheckIn, Complete, Conditions, Consent, Cue, Day, Effort, Fact, Hash, Hurt, Leg,
    OtherTraining, RestDay, Scope, Session, Set, Sign, Subject, UnknownWord, Work, kind,
};
use pitside_screen::record::SetForm;
use pitside_screen::{Companion, ScreenError};
use uuid::Uuid;

use crate::device::{self, Where};
use crate::failure::{Exit, Failure};
use crate::lookup;

const EXAMPLES: &str = "\
Examples:
  pitside log --exercises
  pitside log --exercises hurdle
  pitside log --exercise \"Pogo, two legs\" --sets 3 --reps 10
  pitside log --exercise \"Drop jump\" --reps 6 --box-cm 30 --purpose \"short contacts\"
  pitside log --rpe 6 --minutes 70
  pitside log --exercise \"Sprint strides\" --start 17:30    (a second session of the day)
  pitside log --other strength --rpe 5 --minutes 45
  pitside log --rest --day 2026-11-24
  pitside log --complete";

/// The arguments of `pitside log`.
#[derive(clap::Args)]
#[command(after_help = EXAMPLES)]
pub(crate) struct Args {
    #[command(flatten)]
    at: Where,
    /// List the exercises by kind, all or those with WORD in the name
    #[arg(long, value_name = "WORD", num_args = 0..=1, default_missing_value = "")]
    exercises: Option<String>,
    /// Put a new athlete on the roster (a coach's book)
    #[arg(long, value_name = "NAME")]
    new_member: Option<String>,
    /// For whom, by name [default: the one this device serves]
    #[arg(long, value_name = "NAME")]
    member: Option<String>,
    /// The day [default: today]
    #[arg(long, value_name = "DATE", value_parser = parse_day)]
    day: Option<Day>,
    /// What was done, by name
    #[arg(long, value_name = "NAME")]
    exercise: Option<String>,
    /// Sets alike
    #[arg(long, default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=50))]
    sets: u16,
    /// Repetitions of each set
    #[arg(long, default_value_t = 1)]
    reps: u16,
    /// left, right, both, alternate-left or alternate-right [default: what the exercise is done on]
    #[arg(long, value_name = "LEG", value_parser = parse_leg)]
    leg: Option<Leg>,
    /// Height of the box
    #[arg(long, value_name = "CM")]
    box_cm: Option<u16>,
    /// Strides of the run-in
    #[arg(long, value_name = "N", conflicts_with = "run_in_m")]
    strides: Option<u16>,
    /// Metres of the run-in
    #[arg(long, value_name = "M")]
    run_in_m: Option<u16>,
    /// Seconds of the last 10 m of the run-in, timed
    #[arg(long, value_name = "SECONDS", allow_negative_numbers = true)]
    last_10_m: Option<f32>,
    /// Outside load: vest, bar, bag
    #[arg(long, value_name = "KG", allow_negative_numbers = true)]
    load_kg: Option<f32>,
    /// What to make of the contacts: short or high
    #[arg(long)]
    cue: Option<Cue>,
    /// A drill of the warm-up, counted apart
    #[arg(long)]
    warm_up: bool,
    /// Contacts of each repetition, where not as usual
    #[arg(long, value_name = "N")]
    contacts: Option<u16>,
    /// When the session began: it joins the one that began then, or is a new one [default: the
    /// last of the day]
    #[arg(long, value_name = "HH:MM", value_parser = parse_time)]
    start: Option<u16>,
    /// What the session was for
    #[arg(long, value_name = "TEXT")]
    purpose: Option<String>,
    /// Rating of perceived exertion, 0 to 10, about 30 minutes after the end
    #[arg(long, value_name = "RPE", requires = "minutes")]
    rpe: Option<f32>,
    /// Minutes that the session took
    #[arg(long, value_name = "MIN", requires = "rpe")]
    minutes: Option<u16>,
    /// Other training, rated by --rpe and --minutes: strength, running, general, other-sport,
    /// school or other
    #[arg(long, value_name = "WORK", conflicts_with = "exercise")]
    other: Option<Work>,
    /// The day was a rest day
    #[arg(long, conflicts_with_all = ["exercise", "rpe", "other"])]
    rest: bool,
    /// What hurts: place, side where there is one, and 0 to 10; "nothing 0" for nothing
    #[arg(long, value_name = "WORDS", value_parser = parse_hurt)]
    hurts: Vec<Said>,
    /// What is to be seen at any score of pain: limp, bony-spot, night, swelling,
    /// giving-way or on-arching
    #[arg(long, value_name = "WORD")]
    sign: Vec<Sign>,
    /// Write nothing: say what speaks against the set, and refuse it where a limit does
    #[arg(long, requires = "exercise")]
    check: bool,
    /// Whether the coach may see what hurts (the athlete's own device)
    #[arg(long, value_name = "yes|no", value_parser = parse_yes)]
    share_hurts: Option<bool>,
    /// Everything up to the day is written down
    #[arg(long)]
    complete: bool,
}

pub(super) fn parse_day(text: &str) -> Result<Day, String> {
    Day::parse(text).ok_or_else(|| "a day is written as 2026-11-25".to_owned())
}

fn parse_time(text: &str) -> Result<u16, String> {
    let odd = || "a time is written as 17:30".to_owned();
    let (hour, minute) = text.split_once(':').ok_or_else(odd)?;
    match (hour.parse(), minute.parse()) {
        (Ok(hour @ 0..24), Ok(minute @ 0..60)) => Ok(hour * 60 + minute),
        _ => Err(odd()),
    }
}

/// What hurts, as said; `None` where nothing does.
#[derive(Clone, Copy)]
struct Said(Option<Hurt>);

fn parse_hurt(text: &str) -> Result<Said, String> {
    let odd = || "say it as \"achilles right 3\" or \"low-back 2\"".to_owned();
    let words: Vec<&str> = text.split_whitespace().collect();
    let (part, side, score) = match words.as_slice() {
        ["nothing", ..] => return Ok(Said(None)),
        [part, score] => (part, None, score),
        [part, side, score] => (part, Some(side.parse().map_err(|e: UnknownWord| e.to_string())?), score),
        _ => return Err(odd()),
    };
    let part = part.parse().map_err(|e: UnknownWord| e.to_string())?;
    Ok(Said(Some(Hurt { part, side, score: score.parse().map_err(|_| odd())? })))
}

fn parse_yes(text: &str) -> Result<bool, String> {
    match text {
        "yes" => Ok(true),
        "no" => Ok(false),
        _ => Err("yes or no".to_owned()),
    }
}

fn parse_leg(text: &str) -> Result<Leg, UnknownWord> {
    text.parse()
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let now = SystemClock.now();
    let env = device::env(&SystemClock);
    let book = Arc::new(args.at.open_or_create()?);
    let companion = Companion::over(Arc::clone(&book));
    if let Some(name) = &args.new_member {
        book.add_member(name, now)?;
        writeln!(out, "On the roster: {name}")?;
        return Ok(());
    }
    let exercises = book.exercises()?;
    if let Some(word) = &args.exercises {
        return list(out, &exercises, word);
    }
    if book.squad().is_none() {
        book.start_member(now)?;
    }
    let member = lookup::own_or_named(&book, args.member.as_deref())?;
    let scope = Scope::Member(member);
    let day = args.day.unwrap_or_else(|| now.day());
    if let (Some(name), true) = (&args.exercise, args.check) {
        let (id, exercise) = lookup::exercise(&exercises, name)?;
        let form = form(args, *id, exercise);
        let said = companion.offer_set(&env, &member.to_string(), &form)?;
        for said in &said {
            writeln!(out, "{}", said.spoken)?;
        }
        if said.is_empty() {
            writeln!(out, "Nothing that is known here speaks against it. Local rules come first.")?;
        }
        return Ok(());
    }
    let mut written = false;
    let effort = match (args.rpe, args.minutes) {
        (Some(rpe), Some(minutes)) => Some(effort(rpe, minutes)),
        _ => None,
    };
    if let Some(work) = args.other {
        let other = OtherTraining { day, start_min: args.start, work, effort, note: args.purpose.clone() };
        book.write(scope, &Draft::new(Fact::OtherTraining(other)), now)?;
        let rated = if effort.is_some() { "" } else { ", not rated yet" };
        writeln!(out, "{day}: other training, {}{rated}", work.word())?;
        written = true;
    } else if args.exercise.is_some() || effort.is_some() {
        let session = session(&book, scope, day, args, now)?;
        if let Some(name) = &args.exercise {
            let (id, exercise) = lookup::exercise(&exercises, name)?;
            let drafts =
                vec![(scope, Draft::new(Fact::Set(set(args, session, *id, exercise)))); args.sets.into()];
            let refused = companion.offer_set(&env, &member.to_string(), &form(args, *id, exercise));
            book.write_all(&drafts, now)?;
            writeln!(out, "{day}: {} × {} × {}", args.sets, args.reps, exercise.name)?;
            // What was done is written down; that it was not to be offered is said.
            if let Err(ScreenError::NotAllowed { reason }) = refused {
                writeln!(out, "It is written down. {reason}")?;
            }
        }
        if let Some(effort) = effort {
            book.revise(scope, Subject::Fact(session), Fact::Effort(effort), now)?;
            let rpe = f32::from(effort.rpe_tenths) / 10.0;
            writeln!(out, "{day}: RPE {rpe} × {} min", effort.minutes)?;
        }
        written = true;
    }
    if args.rest {
        book.write(scope, &Draft::new(Fact::Rest(RestDay { day })), now)?;
        writeln!(out, "{day}: rest day")?;
        written = true;
    }
    if !args.hurts.is_empty() || !args.sign.is_empty() {
        let hurts = args.hurts.iter().filter_map(|said| said.0).collect();
        let fact = Fact::CheckIn(CheckIn {
            day,
            hurts,
            sleep_min: None,
            signs: args.sign.iter().copied().collect(),
        });
        book.write(Scope::Private(member), &Draft::new(fact), now)?;
        writeln!(out, "{day}: what hurts is written down, in the private part")?;
        writeln!(out, "New pain, a limp, swelling, pain at night or on one bony spot, or pain that rises:")?;
        writeln!(out, "stop, and have it seen by a licensed practitioner.")?;
        written = true;
    }
    if let Some(given) = args.share_hurts {
        let fact = Fact::Consent(Consent { to: Audience::Coach, given });
        book.revise(scope, Subject::Uuid(member.0), fact, now)?;
        writeln!(
            out,
            "{}",
            if given { "Shared with the coach from the next sync on" } else { "Shared no longer" }
        )?;
        written = true;
    }
    if args.complete {
        book.write(scope, &Draft::new(Fact::Complete(Complete { up_to: day })), now)?;
        writeln!(out, "Complete up to {day}")?;
        written = true;
    }
    if !written {
        return Err(Failure::new(Exit::Usage, "there is nothing to log").hint("see: pitside log --help"));
    }
    let carried = book.carried()?;
    if carried.only_here > 0 {
        writeln!(out, "{} sets are only on this device", carried.only_here)?;
    }
    Ok(())
}

/// The exercises by kind and name, each with its sentence below it.
fn list(out: &mut dyn Write, exercises: &[(Uuid, Exercise)], word: &str) -> Result<(), Failure> {
    let word = word.trim().to_lowercase();
    let mut found: Vec<&Exercise> = exercises
        .iter()
        .map(|(_, exercise)| exercise)
        .filter(|exercise| exercise.name.to_lowercase().contains(&word))
        .collect();
    if found.is_empty() {
        return Err(Failure::new(Exit::Usage, format!("no exercise has {word:?} in its name"))
            .hint("see all: pitside log --exercises"));
    }
    found.sort_by(|a, b| (a.kind, &a.name).cmp(&(b.kind, &b.name)));
    for (n, group) in found.chunk_by(|a, b| a.kind == b.kind).enumerate() {
        if n > 0 {
            writeln!(out)?;
        }
        writeln!(out, "{}", heading(group.first().map_or(Kind::VerticalRebound, |e| e.kind)))?;
        for exercise in group {
            writeln!(out, "  {}", exercise.name)?;
            writeln!(out, "      {}", exercise.about)?;
        }
    }
    Ok(())
}

const fn heading(kind: Kind) -> &'static str {
    match kind {
        Kind::VerticalRebound => "Vertical rebounds",
        Kind::HorizontalSeries => "Horizontal series",
        Kind::HeldLanding => "Held landings",
        Kind::Lateral => "Lateral",
        Kind::EventTakeOff => "Event take-offs",
        Kind::Sprint => "Sprinting",
        Kind::PausedJump => "Paused jumps",
    }
}

/// The session of that day, or a new one.
fn session(book: &Book, scope: Scope, day: Day, args: &Args, now: Stamp) -> Result<Hash, Failure> {
    let held = book.held(&Filter {
        scope: Some(scope),
        kind: Some(kind::SESSION),
        days: Some((day, day)),
        ..Filter::default()
    })?;
    let began = |held: &&Held| match held.fact() {
        Some(Fact::Session(session)) => args.start.is_none() || session.start_min == args.start,
        _ => false,
    };
    if let Some(place) = held.iter().rev().filter(began).find_map(|h| h.id()) {
        return Ok(place);
    }
    let session = Session {
        day,
        start_min: args.start,
        purpose: args.purpose.clone(),
        location: None,
        surface: None,
        shoes: None,
        weather: None,
        cut_short: None,
        conditions: Conditions::default(),
    };
    Ok(book.write(scope, &Draft::new(Fact::Session(session)), now)?)
}

/// The sets as a form has them. A run-in in metres has no place in it: the exercise's own
/// says that there is one.
fn form(args: &Args, id: Uuid, described: &Exercise) -> SetForm {
    let one_leg = described.series.iter().any(|c| c.legs != Legs::Two);
    let usual = if one_leg { Leg::AlternateLeft } else { Leg::Both };
    SetForm {
        exercise: id.to_string(),
        sets: args.sets,
        reps: args.reps,
        leg: args.leg.unwrap_or(usual).word().to_owned(),
        box_mm: args.box_cm.map(|cm| u32::from(cm) * 10),
        strides: args.strides,
        warm_up: args.warm_up,
        ..SetForm::default()
    }
}

fn set(args: &Args, session: Hash, exercise: Uuid, described: &Exercise) -> Set {
    let one_leg = described.series.iter().any(|c| c.legs != Legs::Two);
    let usual = if one_leg { Leg::AlternateLeft } else { Leg::Both };
    Set {
        session,
        exercise,
        reps: args.reps,
        contacts_per_rep: args.contacts,
        leg: args.leg.unwrap_or(usual),
        box_mm: args.box_cm.map(|cm| u32::from(cm) * 10),
        approach: match (args.strides, args.run_in_m) {
            (Some(n), _) => Some(Approach::Strides(n)),
            (None, Some(m)) => Some(Approach::Millimetres(u32::from(m) * 1_000)),
            (None, None) => None,
        },
        load_g: args.load_kg.map(thousandths),
        last_10_m_ms: args.last_10_m.map(thousandths),
        cue: args.cue,
        warm_up: args.warm_up,
        planned: None,
    }
}

/// In thousandths. What is below zero or no number stays out of range: the fact refuses it
/// by name.
fn thousandths(of: f32) -> u32 {
    if of >= 0.0 { (f64::from(of) * 1_000.0).round() as u32 } else { u32::MAX }
}

fn effort(rpe: f32, minutes: u16) -> Effort {
    // What is out of range stays out of range: the fact refuses it by name.
    Effort { rpe_tenths: (rpe * 10.0).round().clamp(0.0, f32::from(u16::MAX)) as u16, minutes }
}
