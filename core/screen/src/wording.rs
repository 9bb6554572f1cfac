//! Facts in words: what a set, a limit, a take or a clash says.

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Draft, Filter, Held, Live};
use pitside_model::facts::exercise::{Exercise, Kind, Support};
use pitside_model::facts::{
    Approach, Card as CardField, CheckIn, Day, DeviceKey, Effort, Fact, Foot, Hurt, Jump, Leg, Limit,
    MemberId, OtherTraining, Outcome, Scope, Set, Take, Target, Wind, field_name, kind,
};
use pitside_model::jump::wind;
use pitside_model::load::caution::Caution;
use pitside_model::load::session::{Hardest, KindTotal};
use pitside_model::timing::target::Aim;
use pitside_model::timing::{Timed, TimingError};
use uuid::Uuid;

use crate::assessed;
use crate::course::Week;
use crate::env::Env;
use crate::figure::{
    clock, day, decimal, distance, full_day, height, mass, near_day, official, timed, whole,
};
use crate::naming::{called, named};
use crate::plan;
use crate::record::Figure;
use crate::record::{
    Air, Bar, Choice, Clash, ClashValue, Foot as FootRow, Lane, TakeRow, Tick, Time, WeekRow,
};
use crate::text::{Topic, Words};
use crate::training::{Card, Catalogue, DoneTake, contact_times};

/// A kind of contact.
pub(crate) fn kind_word(words: &Words, kind: Kind) -> String {
    words.word(&format!("kind-{}", kind.word()))
}

/// The name of a member, or what stands for it.
pub(crate) fn name(words: &Words, card: &Card, member: MemberId) -> String {
    card.name.clone().unwrap_or_else(|| {
        let short: String = member.to_string().chars().take(8).collect();
        words.say("no-name", &[("short", (&short).into())])
    })
}

/// Whether a member counts as young: under 18, or of unknown age.
pub(crate) fn is_young(card: &Card, today: Day) -> bool {
    card.born.is_none_or(|born| born.years_until(today) < 18)
}

/// Level and age.
pub(crate) fn about(words: &Words, card: &Card, today: Day) -> String {
    let level = match card.level {
        Some(level) => words.word(&format!("level-{}", level.word())),
        None => words.word("level-unknown"),
    };
    let age = match card.born {
        None => words.word("age-unknown"),
        Some(born) => {
            let years = born.years_until(today);
            let years = u64::try_from(years).unwrap_or(0);
            let key = if years < 18 { "age-young" } else { "age" };
            words.say(key, &[("years", years.into())])
        }
    };
    format!("{level}, {age}")
}

/// What a set says.
pub(crate) fn set(words: &Words, catalogue: &Catalogue, set: &Set) -> String {
    let name = exercise_name(words, catalogue, Some(set.exercise));
    let mut parts =
        vec![words.say("set", &[("reps", u64::from(set.reps).into()), ("exercise", (&name).into())])];
    if set.leg != Leg::Both {
        parts.push(words.word(&format!("leg-{}", set.leg.word())));
    }
    parts.extend(set.approach.map(|approach| run_in(words, approach)));
    if let Some(mm) = set.box_mm {
        parts.push(words.say("box", &[("height", (&height(words, mm)).into())]));
    }
    if let Some(g) = set.load_g.filter(|g| *g > 0) {
        parts.push(words.say("outside-load", &[("load", (&mass(words, g)).into())]));
    }
    if let Some(ms) = set.last_10_m_ms {
        let seconds = decimal(words, f64::from(ms) / 1_000.0, 2);
        parts.push(words.say("last-10-m", &[("seconds", (&seconds).into())]));
    }
    parts.extend(set.cue.map(|cue| words.word(&format!("cue-{}", cue.word()))));
    if set.warm_up {
        parts.push(words.word("warm-up"));
    }
    if let Some(n) = set.contacts_per_rep {
        parts.push(words.say("contacts-each", &[("n", u64::from(n).into())]));
    }
    parts.join(", ")
}

/// A run-in.
pub(crate) fn run_in(words: &Words, approach: Approach) -> String {
    match approach {
        Approach::Strides(n) => words.say("strides", &[("n", u64::from(n).into())]),
        Approach::Millimetres(mm) => {
            words.say("run-in-distance", &[("distance", (&distance(words, mm, 1)).into())])
        }
    }
}

/// The exercises as choices, by kind and name.
pub(crate) fn exercises(words: &Words, catalogue: &Catalogue) -> Vec<Choice> {
    let order = |kind: Kind| Kind::ALL.iter().position(|other| *other == kind).unwrap_or(0);
    let mut all: Vec<(usize, String, Uuid, Kind)> = catalogue
        .iter()
        .map(|(id, exercise)| (order(exercise.kind), named(words, id, exercise), id, exercise.kind))
        .collect();
    all.sort_by(|a, b| (a.0, &a.1).cmp(&(b.0, &b.1)));
    let choice = |(_, text, id, kind): (usize, String, Uuid, Kind)| Choice {
        id: id.to_string(),
        text,
        group: kind_word(words, kind),
        chosen: false,
    };
    all.into_iter().map(choice).collect()
}

/// The members as choices, by name.
pub(crate) fn members(words: &Words, book: &Book) -> Result<Vec<Choice>, BookError> {
    let mut members = Vec::new();
    for id in book.members()? {
        let text = name(words, &Card::read(book, id)?, id);
        members.push(Choice { id: id.to_string(), text, group: String::new(), chosen: false });
    }
    members.sort_by(|a, b| a.text.cmp(&b.text));
    Ok(members)
}

/// What a jump says: how it came out first, then what was written beside it.
fn jump(words: &Words, jump: &Jump) -> String {
    let mut parts = vec![full_day(words, jump.day), words.word(&format!("event-{}", jump.event.word()))];
    parts.push(match jump.outcome {
        Outcome::Measured(mm) => official(words, mm),
        Outcome::Foul => words.word("jump-foul"),
    });
    if let Some(n) = jump.attempt {
        parts.push(words.say("jump-attempt", &[("n", u64::from(n).into())]));
    }
    match jump.wind {
        Some(Wind::Gauge(mm_s)) => {
            let tenths = wind::reading_tenths(mm_s);
            let sign = if tenths > 0 { "+" } else { "" };
            let speed = format!("{sign}{}", decimal(words, f64::from(tenths) / 10.0, 1));
            parts.push(words.say("jump-wind", &[("speed", (&speed).into())]));
        }
        Some(Wind::NoGauge) => parts.push(words.word("jump-no-gauge")),
        None => {}
    }
    if let Some(mm) = jump.toe_mm {
        let key = if mm > 0 { "jump-toe-over" } else { "jump-toe-behind" };
        parts.push(words.say(key, &[("by", (&height(words, mm.unsigned_abs())).into())]));
    }
    parts.extend(jump.approach.map(|approach| run_in(words, approach)));
    if let Some(mm) = jump.start_mm {
        parts.push(words.say("jump-start-mark", &[("distance", (&distance(words, mm, 2)).into())]));
    }
    parts.extend(jump.place.clone());
    parts.join(", ")
}

/// Training that is not jumping or sprinting.
pub(crate) fn other_training(words: &Words, other: &OtherTraining) -> String {
    let mut parts = vec![day(words, other.day), words.word(&format!("work-{}", other.work.word()))];
    parts
        .push(other.effort.as_ref().map_or_else(|| words.word("effort-missing"), |said| effort(words, said)));
    parts.extend(other.note.clone());
    parts.join(", ")
}

/// How hard and how long a session was.
pub(crate) fn effort(words: &Words, effort: &Effort) -> String {
    let rpe = decimal(
        words,
        f64::from(effort.rpe_tenths) / 10.0,
        usize::from(!effort.rpe_tenths.is_multiple_of(10)),
    );
    words.say("effort", &[("rpe", (&rpe).into()), ("minutes", u64::from(effort.minutes).into())])
}

/// What a member may not do.
pub(crate) fn limit(words: &Words, limit: &Limit) -> String {
    let mut parts = Vec::new();
    if let Some(side) = limit.no_one_leg {
        parts.push(words.word(&format!("limit-one-leg-{}", side.word())));
    }
    if limit.no_approach {
        parts.push(words.word("limit-approach"));
    }
    if let Some(mm) = limit.max_box_mm {
        parts.push(words.say("limit-box", &[("height", (&height(words, mm)).into())]));
    }
    parts.extend(limit.note.clone());
    let what = parts.join(", ");
    let from = day(words, limit.from);
    let by = words.word(&format!("said-by-{}", limit.said_by.word()));
    match limit.until {
        Some(until) => words.say(
            "limit-until",
            &[
                ("what", (&what).into()),
                ("from", (&from).into()),
                ("until", (&day(words, until)).into()),
                ("by", (&by).into()),
            ],
        ),
        None => words
            .say("limit-open", &[("what", (&what).into()), ("from", (&from).into()), ("by", (&by).into())]),
    }
}

/// What hurts.
pub(crate) fn hurt(words: &Words, env: &Env, hurt: &Hurt, on: Day) -> String {
    let part = words.word(&format!("part-{}", hurt.part.word()));
    let place = match hurt.side {
        Some(side) => format!("{part}, {}", words.word(&format!("side-{}", side.word()))),
        None => part,
    };
    words.say(
        "hurt",
        &[
            ("place", (&place).into()),
            ("score", (&hurt.score.to_string()).into()),
            ("day", (&near_day(words, env, on)).into()),
        ],
    )
}

/// Whether a member's private part may be shown here: on a device that serves
/// the member, and elsewhere as long as the member shares it with whoever holds
/// the device. What arrived while
/// it was shared stays in the book, but is not shown once the sharing ended.
pub(crate) fn sees_private(book: &Book, member: MemberId) -> Result<bool, BookError> {
    let own = book.authority()?.standing(book.device());
    let shared = own.may_read(Scope::Private(member), book.consents(member)?);
    Ok(shared || book.own_members()?.contains(&member))
}

/// The check-ins that may be shown here, the oldest first.
pub(crate) fn check_ins(book: &Book, member: MemberId) -> Result<Vec<CheckIn>, BookError> {
    if sees_private(book, member)? { all_check_ins(book, member) } else { Ok(Vec::new()) }
}

/// Every check-in that the book holds, whether it may be shown or not.
fn all_check_ins(book: &Book, member: MemberId) -> Result<Vec<CheckIn>, BookError> {
    let filter =
        Filter { scope: Some(Scope::Private(member)), kind: Some(kind::CHECK_IN), ..Filter::default() };
    Ok(book
        .held(&filter)?
        .iter()
        .filter_map(|held| match held.fact() {
            Some(Fact::CheckIn(check_in)) => Some(check_in.clone()),
            _ => None,
        })
        .collect())
}

/// What is said where what hurts is not shared, or no longer; empty on the
/// member's own devices, which see all of it.
pub(crate) fn private_note(words: &Words, book: &Book, member: MemberId) -> Result<String, BookError> {
    if book.own_members()?.contains(&member) {
        return Ok(String::new());
    }
    Ok(match (sees_private(book, member)?, all_check_ins(book, member)?.is_empty()) {
        (true, false) => String::new(),
        (true, true) => words.word("private-none"),
        (false, false) => words.word("private-withdrawn"),
        (false, true) => words.word("private-not-shared"),
    })
}

/// The first letters of a device's key, in groups that can be read out.
pub(crate) fn device_short(device: DeviceKey) -> String {
    let hex = device.to_string();
    format!("{} {}", hex.get(..4).unwrap_or_default(), hex.get(4..8).unwrap_or_default())
}

/// A device in words: this one, the coach's, whose phone.
pub(crate) fn device(words: &Words, book: &Book, device: DeviceKey) -> Result<String, BookError> {
    if device == book.device() {
        return Ok(words.word("device-this"));
    }
    let grants = book.grants(device)?;
    let whose = if grants.recovery {
        words.word("whose-recovery")
    } else {
        crate::devices::whose(words, book, &grants)?
    };
    Ok(words.say("device-named", &[("whose", (&whose).into()), ("short", (&device_short(device)).into())]))
}

/// A day and a time: `today at 14:02`; with the year where it is another one.
pub(crate) fn moment(words: &Words, env: &Env, ms: i64, zone_min: i16) -> String {
    let stamp = Stamp { ms, zone_min };
    let on = stamp.day();
    let same_year = on.to_string().get(..4) == env.today().to_string().get(..4);
    let on = if same_year { near_day(words, env, on) } else { full_day(words, on) };
    let time = clock(words, env, stamp.minute());
    words.say("moment", &[("day", (&on).into()), ("time", (&time).into())])
}

/// When a device was last met: the time while it is near, else how many days ago.
pub(crate) fn met(words: &Words, env: &Env, ms: i64) -> String {
    let on = Day::of_stamp(ms, env.zone_min);
    let days = env.today().number() - on.number();
    let when = moment(words, env, ms, env.zone_min);
    match u64::try_from(days) {
        Ok(n) if n > 1 => words.say("device-met-ago", &[("n", n.into()), ("when", (&when).into())]),
        _ => words.say("device-met", &[("when", (&when).into())]),
    }
}

/// A kind of fact.
pub(crate) fn fact_kind(words: &Words, found: &str) -> String {
    if Fact::addresses().any(|(kind, _)| kind == found) {
        words.word(&format!("fact-{found}"))
    } else {
        words.say("apart-kind-unknown", &[("kind", found.into())])
    }
}

/// What a check-in says: what hurts, and the night.
fn check_in(words: &Words, env: &Env, check_in: &CheckIn) -> String {
    let mut parts: Vec<String> = check_in.hurts.iter().map(|h| hurt(words, env, h, check_in.day)).collect();
    if parts.is_empty() {
        parts.push(words.say("hurts-nothing", &[("day", (&near_day(words, env, check_in.day)).into())]));
    }
    parts.extend(check_in.signs.iter().map(|sign| words.word(&format!("sign-{}", sign.word()))));
    if let Some(minutes) = check_in.sleep_min {
        let (hours, minutes) = (minutes / 60, format!("{:02}", minutes % 60));
        let hours = hours.to_string();
        parts.push(words.say("slept", &[("hours", (&hours).into()), ("minutes", (&minutes).into())]));
    }
    parts.join("; ")
}

/// A target: of which contact, with which run-in, and how short.
pub(crate) fn target(words: &Words, catalogue: &Catalogue, target: &Target) -> String {
    let mut about = vec![exercise_name(words, catalogue, Some(target.exercise))];
    about.extend(target.contact.map(|n| words.say("target-contact", &[("n", (&n.to_string()).into())])));
    about.extend(target.approach.map(|approach| run_in(words, approach)));
    let ms = whole(u64::from(target.contact_us / 1_000));
    words.say("target-value", &[("about", (&about.join(", ")).into()), ("ms", (&ms).into())])
}

/// What one value of a fact says.
fn value(words: &Words, env: &Env, catalogue: &Catalogue, live: &Live) -> String {
    match &live.fact {
        Err(e) => words.say("unreadable", &[("why", (&e.to_string()).into())]),
        Ok(Fact::Deleted) => words.word("deleted"),
        Ok(Fact::Set(fact)) => set(words, catalogue, fact),
        Ok(Fact::Plan(fact)) => plan::said(words, catalogue, fact),
        Ok(Fact::Effort(fact)) => effort(words, fact),
        Ok(Fact::Limit(fact)) => limit(words, fact),
        Ok(Fact::OtherTraining(fact)) => other_training(words, fact),
        Ok(Fact::Session(fact)) => {
            let purpose = fact.purpose.clone().unwrap_or_else(|| words.word("session"));
            format!("{}, {purpose}", full_day(words, fact.day))
        }
        Ok(Fact::Card(field)) => card_value(words, field),
        Ok(Fact::Consent(fact)) => words.word(if fact.given { "consent-given" } else { "consent-withdrawn" }),
        Ok(Fact::Exercise(fact)) => format!("{}. {}", fact.name, fact.about),
        Ok(Fact::Roster(fact)) => words.word(&format!("roster-{}", fact.standing.word())),
        Ok(Fact::SquadName(name)) => name.clone(),
        Ok(Fact::CheckIn(fact)) => check_in(words, env, fact),
        Ok(Fact::Rest(fact)) => full_day(words, fact.day),
        Ok(Fact::Complete(fact)) => full_day(words, fact.up_to),
        Ok(Fact::Take(fact)) => {
            format!("{}, {}", take_name(words, catalogue, fact), full_day(words, fact.day))
        }
        Ok(Fact::Jump(fact)) => jump(words, fact),
        Ok(Fact::Target(fact)) => format!("{} ({})", target(words, catalogue, fact), fact.source),
        Ok(Fact::Grant(fact)) => words.word(&format!("role-{}", fact.role.word())),
        Ok(Fact::Test(fact)) => assessed::test(words, fact),
        Ok(Fact::Growth(fact)) => assessed::height(words, *fact),
        Ok(Fact::LandingControl(fact)) => assessed::control(words, catalogue, fact),
        Ok(Fact::Rule(fact)) => assessed::rule(words, fact),
        Ok(Fact::Advice(fact)) => assessed::advice(words, fact),
        Ok(_) => words.word("another-value"),
    }
}

/// A field of the card in words.
pub(crate) fn card_value(words: &Words, field: &CardField) -> String {
    match field {
        CardField::Name(name) => name.clone(),
        CardField::Born(day) => full_day(words, *day),
        CardField::Level(level) => words.word(&format!("level-{}", level.word())),
        CardField::TakeOffLeg(side) => words.word(&format!("side-{}", side.word())),
        CardField::HopPattern(pattern) => words.word(&format!("pattern-{}", pattern.word())),
        CardField::MassG(g) => mass(words, *g),
        CardField::StrideMm(mm) => distance(words, *mm, 2),
        CardField::Sprint { vmax_mm_s, tau_ms, .. } => {
            let speed = decimal(words, f64::from(*vmax_mm_s) / 1_000.0, 2);
            let tau = decimal(words, f64::from(*tau_ms) / 1_000.0, 2);
            words.say("sprint", &[("speed", (&speed).into()), ("tau", (&tau).into())])
        }
    }
}

/// Of some facts, those of a member that clash and may be shown here.
pub(crate) fn clashing_of<'a>(
    book: &Book,
    held: &'a [Held],
    member: MemberId,
) -> Result<impl Iterator<Item = &'a Held>, BookError> {
    let private = sees_private(book, member)?;
    Ok(held.iter().filter(move |held| match held.key.scope {
        Scope::Member(of) => of == member && held.is_clash(),
        Scope::Private(of) => of == member && private && held.is_clash(),
        Scope::Squad | Scope::Staff => false,
    }))
}

/// The facts of a member that two people wrote differently.
pub(crate) fn clashes(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
) -> Result<Vec<(Held, Clash)>, BookError> {
    let held = book.held(&Filter { member: Some(member), clashing: true, ..Filter::default() })?;
    let id = member.to_string();
    clashing_of(book, &held, member)?
        .map(|held| Ok((held.clone(), clash(words, env, book, catalogue, &id, held)?)))
        .collect()
}

/// Of some facts, those of the squad itself that clash.
pub(crate) fn squad_clashes(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    held: &[Held],
) -> Result<Vec<Clash>, BookError> {
    held.iter()
        .filter(|held| held.key.scope == Scope::Squad && held.is_clash())
        .map(|held| clash(words, env, book, catalogue, "", held))
        .collect()
}

fn clash(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    member: &str,
    held: &Held,
) -> Result<Clash, BookError> {
    let what = match (held.key.kind.as_str(), held.key.field.as_str()) {
        (kind::MEMBER, field) => words.word(&format!("card-{field}")),
        (kind::SESSION, field_name::EFFORT) => words.word("clash-effort"),
        // Two rules that clash are told apart by their names.
        (kind::RULE, field) => match field.parse() {
            Ok(name) => format!("{}: {}", words.word("clash-rule"), assessed::rule_name(words, name)),
            Err(_) => words.word("clash-rule"),
        },
        (other, _) => words.word(&format!("clash-{other}")),
    };
    let mut values = Vec::new();
    for live in &held.values {
        let who = device(words, book, live.device)?;
        let when = moment(words, env, live.stamp.ms, live.stamp.zone_min);
        let text = value(words, env, catalogue, live);
        values.push(ClashValue {
            choice: live.hash.to_string(),
            keep: words.say("exchange-keep", &[("value", (&text).into())]),
            text,
            written: words.say("written-at", &[("who", (&who).into()), ("when", (&when).into())]),
        });
    }
    let said: Vec<String> = values.iter().map(|v| format!("{}, {}", v.text, v.written)).collect();
    let spoken =
        words.say("clash-spoken", &[("what", (&what).into()), ("values", (&said.join("; ")).into())]);
    let can_settle = may_settle(env, book, held)?;
    let settled_by = match held.key.scope {
        _ if can_settle => String::new(),
        Scope::Private(_) => words.word("exchange-clash-member"),
        Scope::Member(_) | Scope::Squad | Scope::Staff => words.word("exchange-clash-coach"),
    };
    Ok(Clash {
        member: member.to_owned(),
        title: words.say("exchange-clash", &[("what", (&what).into())]),
        note: words.word("exchange-clash-note"),
        what,
        values,
        can_settle,
        settled_by,
        spoken,
    })
}

/// Whether this device may write the value that settles it. Tried and taken back, so that
/// it is the rule itself that answers.
fn may_settle(env: &Env, book: &Book, held: &Held) -> Result<bool, BookError> {
    let Ok(fact) = held.value().fact.clone() else { return Ok(false) };
    let draft = Draft::replacing(held, fact);
    match book.rehearse(env.stamp(), |all| all.write(held.key.scope, &draft)) {
        Ok(_) => Ok(true),
        Err(BookError::NotAllowed(_) | BookError::Refused(_)) => Ok(false),
        Err(e) => Err(e),
    }
}

/// A foot.
/// The name of a foot.
pub(crate) fn foot(words: &Words, foot: Foot) -> String {
    words.word(&format!("foot-{}", foot.word()))
}

/// The name of what a take shows.
pub(crate) fn take_name(words: &Words, catalogue: &Catalogue, take: &Take) -> String {
    exercise_name(words, catalogue, take.exercise)
}

/// The name of an exercise.
pub(crate) fn exercise_name(words: &Words, catalogue: &Catalogue, exercise: Option<Uuid>) -> String {
    let known = exercise.and_then(|id| Some(named(words, id, catalogue.get(id)?)));
    known.unwrap_or_else(|| words.word("exercise-unknown"))
}

/// A timed contact, or the mean of several: the one `at` that place in the take.
fn time(words: &Words, env: &Env, take: &DoneTake, at: usize, label: String, measured: &Timed) -> Time {
    let on = near_day(words, env, take.fact.day);
    let note = if take.fact.rendered { words.say("rendered-on", &[("day", (&on).into())]) } else { on };
    let half_width = measured.total_half_width_95();
    let value = timed(words, measured.seconds, half_width);
    Time {
        id: format!("{}/{at}", take.place),
        spoken: format!("{label}: {value}, {note}"),
        label,
        value,
        note,
        seconds: measured.seconds,
        half_width,
    }
}

/// A take with its picture; `line` says it in one; `aims` are the targets of its contacts.
pub(crate) fn take(
    words: &Words,
    env: &Env,
    catalogue: &Catalogue,
    take: &DoneTake,
    aims: &[Option<Aim>],
    line: String,
    judged: Vec<String>,
) -> TakeRow {
    let exercise = take_name(words, catalogue, &take.fact);
    let title = words.say(
        "take-title",
        &[("exercise", (&exercise).into()), ("day", (&full_day(words, take.fact.day)).into())],
    );
    let contacts = contact_times(take);
    let times: Vec<Time> = contacts
        .iter()
        .enumerate()
        .map(|(at, (side, measured, _))| {
            let label = words.say(
                "contact-label",
                &[("n", (&(at + 1).to_string()).into()), ("foot", (&foot(words, *side)).into())],
            );
            time(words, env, take, at, label, measured)
        })
        .collect();
    let begin = contacts.first().map_or(0.0, |c| c.2) - 0.05;
    let end = contacts.last().map_or(0.0, |c| c.2 + c.1.seconds) + 0.05;
    let mut feet: Vec<FootRow> = Vec::new();
    for side in [Foot::Left, Foot::Right, Foot::Both] {
        let bars: Vec<Bar> = contacts
            .iter()
            .enumerate()
            .filter(|(_, (f, ..))| *f == side)
            .map(|(at, (_, measured, start))| Bar {
                start: start - begin,
                end: start - begin + measured.seconds,
                fade: measured.total_half_width_95(),
                label: format!("{:.0} ms", measured.seconds * 1_000.0),
                target: aims.get(at).and_then(Option::as_ref).map(|aim| start - begin + aim.seconds()),
            })
            .collect();
        if !bars.is_empty() {
            feet.push(FootRow { label: foot(words, side), bars });
        }
    }
    let said: Vec<String> = times.iter().map(|t| format!("{}: {}", t.label, t.value)).collect();
    let mut note = words.word("take-note");
    if take.fact.rendered {
        note = format!("{} {note}", words.word("take-rendered"));
    }
    if let Some(frames) = take.own_judging {
        let frames = decimal(words, frames, 1);
        note = format!("{note} {}", words.say("take-judging", &[("frames", (&frames).into())]));
    }
    if let Err(e) = &take.times {
        note = no_times(words, e);
    }
    let seconds = (end - begin).max(0.0);
    let lane = Lane {
        seconds,
        ticks: ticks(words, seconds),
        legend: lane_legend(words, &feet),
        feet,
        flights: flights(take, begin, end),
        spoken: format!("{title}. {}", said.join(". ")),
    };
    let all: Vec<&str> =
        [lane.spoken.as_str()].into_iter().chain(judged.iter().map(String::as_str)).collect();
    let spoken = format!("{}. {note}", all.join(". ").replace("..", "."));
    TakeRow { id: take.place.to_string(), title, line, lane, times, said: judged, note, spoken }
}

/// Why the marks of a take give no times.
pub(crate) fn no_times(words: &Words, why: &TimingError) -> String {
    let why = words.told_or_as_said(Topic::Mark, &why.to_string());
    words.say("take-refused", &[("why", (&why).into())])
}

/// Marks of the time that one lane has at most.
const TICKS: usize = 200;

/// A mark every tenth of a second, in a long lane every half.
fn ticks(words: &Words, seconds: f64) -> Vec<Tick> {
    let tenths: usize = if seconds < 1.0 { 1 } else { 5 };
    (0..)
        .step_by(tenths)
        .map(|tenth: u32| f64::from(tenth) / 10.0)
        .take_while(|at| *at <= seconds)
        .take(TICKS)
        .map(|at| Tick { at, text: words.say("lane-tick", &[("seconds", (&decimal(words, at, 1)).into())]) })
        .collect()
}

fn lane_legend(words: &Words, feet: &[FootRow]) -> String {
    let aimed = feet.iter().flat_map(|foot| &foot.bars).any(|bar| bar.target.is_some());
    let legend = words.word("lane-legend");
    if aimed { format!("{legend} {}", words.word("lane-target")) } else { legend }
}

/// The flights of a take between its contacts, from the left edge of the picture.
fn flights(take: &DoneTake, begin: f64, end: f64) -> Vec<Air> {
    let Ok(times) = &take.times else { return Vec::new() };
    let flights = times.flights.iter().filter_map(|flight| {
        let event = take.fact.events.get(flight.toe_off)?;
        let start = take.scale.seconds(i64::midpoint(event.bracket.before, event.bracket.after));
        let (from, to) = (start - begin, start - begin + flight.timed.seconds);
        let label = format!("{:.0} ms", flight.timed.seconds * 1_000.0);
        (to <= end - begin).then_some(Air { start: from, end: to, label })
    });
    flights.collect()
}

/// The newest times for a board, from the last takes. Contacts that do the same
/// are averaged; those that differ stand apart, for the mean of a hop, a step
/// and a jump is the time of none of them.
pub(crate) fn newest_times(
    words: &Words,
    env: &Env,
    catalogue: &Catalogue,
    takes: &[DoneTake],
    most: usize,
) -> Vec<Time> {
    let timed = takes.iter().rev().filter(|take| !contact_times(take).is_empty()).take(most);
    timed.flat_map(|take| times_by_place(words, env, catalogue, take)).collect()
}

/// The mean of the contacts at each place of the exercise's series; the last
/// place repeats.
fn times_by_place(words: &Words, env: &Env, catalogue: &Catalogue, take: &DoneTake) -> Vec<Time> {
    let exercise = take.fact.exercise.and_then(|id| catalogue.get(id));
    let series = exercise.map_or(&[][..], |e| e.series.as_slice());
    let last = series.len().saturating_sub(1);
    let mut places: Vec<Vec<Timed>> = vec![Vec::new(); last + 1];
    for (at, (_, measured, _)) in contact_times(take).into_iter().enumerate() {
        places[at.min(last)].push(measured);
    }
    let name = take_name(words, catalogue, &take.fact);
    let means = places.iter().enumerate().filter_map(|(at, contacts)| {
        let mean = pitside_model::timing::mean(contacts)?;
        let name = match series.get(at) {
            Some(contact) if last > 0 => {
                let what = words.word(&format!("move-{}", contact.mv.word()));
                words.say("place-label", &[("exercise", (&name).into()), ("what", (&what).into())])
            }
            _ => name.clone(),
        };
        let label =
            words.say("mean-label", &[("exercise", (&name).into()), ("n", (contacts.len() as u64).into())]);
        Some(time(words, env, take, at, label, &mean))
    });
    means.collect()
}

/// The hardest contact of a kind.
pub(crate) fn hardest(words: &Words, hardest: Option<&Hardest>) -> String {
    let Some(hardest) = hardest else { return String::new() };
    let energy = decimal(words, hardest.energy_uj_per_kg_per_leg as f64 / 1e6, 1);
    let speed = decimal(words, hardest.closing_speed_mm_s as f64 / 1e3, 1);
    let key = if hardest.estimated { "hardest-estimated" } else { "hardest" };
    words.say(
        key,
        &[
            ("exercise", (&called(words, &hardest.exercise)).into()),
            ("speed", (&speed).into()),
            ("energy", (&energy).into()),
        ],
    )
}

/// Contacts and energy by kind, and session-RPE, over some weeks.
pub(crate) fn week_rows(words: &Words, weeks: &[Week]) -> Vec<WeekRow> {
    let mut rows = Vec::new();
    for kind in Kind::ALL {
        let totals: Vec<Option<&KindTotal>> = weeks.iter().map(|w| w.sum.totals.get(*kind)).collect();
        let most = totals.iter().flatten().map(|t| t.contacts).max().unwrap_or(0);
        if most == 0 {
            continue;
        }
        let figures = weeks.iter().zip(&totals).map(|(week, total)| {
            let contacts = total.map_or(0, |t| t.contacts);
            let energy = total.map_or(0.0, KindTotal::energy_j_per_kg);
            let more = words.say("energy", &[("energy", (&whole(energy.round() as u64)).into())]);
            let said = words.say("contacts", &[("n", contacts.into())]);
            figure(words, week, whole(contacts), more, contacts as f64 / most as f64, &said)
        });
        let hardest = hardest(words, weeks.last().and_then(|w| w.sum.totals.get(*kind)?.hardest.as_ref()));
        rows.push(week_row(kind.word(), kind_word(words, *kind), figures.collect(), hardest));
    }
    let most = weeks.iter().map(|w| w.sum.load).max().unwrap_or(0);
    if most > 0 {
        let figures = weeks.iter().map(|week| {
            let more = if week.sum.unrated > 0 {
                words.say("unrated", &[("n", u64::from(week.sum.unrated).into())])
            } else {
                String::new()
            };
            let said = words.say("load-spoken", &[("load", (&whole(week.sum.load)).into())]);
            figure(words, week, whole(week.sum.load), more, week.sum.load as f64 / most as f64, &said)
        });
        rows.push(week_row("session-rpe", words.word("session-rpe"), figures.collect(), String::new()));
    }
    rows
}

fn week_row(id: &str, label: String, weeks: Vec<Figure>, hardest: String) -> WeekRow {
    let mut spoken: Vec<String> = vec![label.clone()];
    // What is asked for first comes first: this week, then back.
    spoken.extend(weeks.iter().rev().map(|figure| figure.spoken.clone()));
    spoken.extend((!hardest.is_empty()).then(|| hardest.clone()));
    WeekRow { id: id.to_owned(), label, weeks, hardest, spoken: spoken.join(". ") }
}

fn figure(words: &Words, week: &Week, text: String, more: String, share: f64, said: &str) -> Figure {
    let label = crate::figure::week(words, week.monday);
    if week.before_begin {
        let spoken = words.say("week-before-begin", &[("week", (&label).into())]);
        return Figure {
            week: label,
            text: "–".to_owned(),
            more: String::new(),
            share: 0.0,
            incomplete: false,
            spoken,
        };
    }
    let mut spoken = format!("{label}: {said}");
    if !more.is_empty() {
        spoken = format!("{spoken}, {more}");
    }
    if week.incomplete() {
        let unknown = words.say("incomplete-spoken", &[("n", u64::from(week.unknown).into())]);
        spoken = format!("{spoken}, {unknown}");
    }
    Figure { week: label, text, more, share, incomplete: week.incomplete(), spoken }
}

/// The caution of an exercise, in words.
pub(crate) fn caution(words: &Words, exercise: &Exercise) -> Option<String> {
    Some(words.word(match Caution::of(exercise)? {
        Caution::FallFromBox => "caution-fall",
        Caution::EventTakeOff => "caution-event",
        Caution::OneLegRunIn => "caution-one-leg",
    }))
}

/// What stands behind a default value.
pub(crate) fn support(words: &Words, support: Support) -> String {
    words.word(&format!("support-{}", support.word()))
}
