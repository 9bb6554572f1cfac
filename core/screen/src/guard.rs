//! What speaks against a set, in words, and what is known of an athlete to say it.
//!
//! Logging is never refused: a set that was done is a fact, and one that a limit ruled out
//! has to be seen by the coach, which it is not if it cannot be written down. So the form
//! says what speaks against a set before it is saved, a limit stands first and says that
//! the set is not offered, and what was done all the same comes back as a notice. What
//! refuses is [`offered`]: whoever plans a set asks there.

use std::collections::BTreeMap;

use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_model::facts::exercise::Entry;
use pitside_model::facts::{
    Advice, Day, Exercise, Fact, Growth, LandingControl, MemberId, RuleName, Set, TestResult, kind,
};
use pitside_model::load::catalogue;
use pitside_model::load::course::{Course, DayRecord};
use pitside_model::load::guard::{
    self, Found, Grade, Ground, GrowthRate, MayDo, Offer, Place, Said as Finding, Status, What,
};
use pitside_model::load::rule::Drawn;
use uuid::Uuid;

use crate::assessed::{in_unit, rule_name};
use crate::clock::OwnClock;
use crate::companion::ScreenError;
use crate::course::{Courses, rules};
use crate::env::Env;
use crate::figure::{full_day, height};
use crate::own_course::{Condition, State};
use crate::record::Said;
use crate::text::{Topic, Words};
use crate::training::{Card, Catalogue, limits};
use crate::wording::{self, check_ins};

/// Days back of which plyometric days are told, and in which the last one mostly is.
const NEAR_DAYS: i32 = 28;

/// The facts of a kind about a member that can be read: of those that two people wrote
/// differently, every value.
fn all<T>(
    book: &Book,
    member: MemberId,
    kind: &str,
    of: impl Fn(&Fact) -> Option<T>,
) -> Result<Vec<T>, BookError> {
    let held = book.held(&Filter { member: Some(member), kind: Some(kind), ..Filter::default() })?;
    let values = held.iter().flat_map(|held| &held.values);
    Ok(values.filter_map(|live| live.fact.as_ref().ok().and_then(&of)).collect())
}

/// The results of tests of a member.
pub(crate) fn tests(book: &Book, member: MemberId) -> Result<Vec<TestResult>, BookError> {
    all(book, member, kind::TEST, |fact| if let Fact::Test(x) = fact { Some(x.clone()) } else { None })
}

/// The measured heights of a member.
pub(crate) fn heights(book: &Book, member: MemberId) -> Result<Vec<Growth>, BookError> {
    all(book, member, kind::GROWTH, |fact| if let Fact::Growth(x) = fact { Some(*x) } else { None })
}

fn controls(book: &Book, member: MemberId) -> Result<Vec<LandingControl>, BookError> {
    all(book, member, kind::LANDING_CONTROL, |fact| {
        if let Fact::LandingControl(x) = fact { Some(x.clone()) } else { None }
    })
}

fn advice(book: &Book, member: MemberId) -> Result<Vec<Advice>, BookError> {
    all(book, member, kind::ADVICE, |fact| if let Fact::Advice(x) = fact { Some(x.clone()) } else { None })
}

/// What is known of a member on a day, before some exercises. Falls from boxes are read only
/// where one of them has a box, since they need the whole log.
pub(crate) fn status<'a>(
    book: &Book,
    courses: &mut Courses,
    own: OwnClock,
    catalogue: &Catalogue,
    member: MemberId,
    day: Day,
    exercises: impl IntoIterator<Item = &'a Exercise>,
) -> Result<Status, BookError> {
    let falls = exercises.into_iter().any(|exercise| matches!(exercise.entry, Entry::Box { .. }));
    let card = Card::read(book, member)?;
    let rules = rules(book, Some(member))?;
    let mut look = courses.look(book)?;
    let near = day.plus(-NEAR_DAYS);
    // Mostly there was some of it lately; whoever comes back after long is read whole.
    let lately = last_before(&look.of(member, catalogue, near)?.course, day).is_some();
    let course = &look.of(member, catalogue, if lately { near } else { Day::FIRST })?.course;
    let contacts = |record: &DayRecord| record.totals.plyometric_contacts();
    // An advice loosens, so it ends where the clock is in doubt, as a limit then goes on.
    let in_doubt = own.in_doubt();
    Ok(Status {
        day,
        age: card.born.map(|born| u32::try_from(born.years_until(day)).unwrap_or(0)),
        level: card.level,
        mass_g: card.mass_g,
        heights: heights(book, member)?,
        tests: tests(book, member)?,
        controls: controls(book, member)?,
        days_off: last_before(course, day).and_then(|last| days_off(course, last, day)),
        plyometric_days: course
            .days(near, day.plus(-1))
            .filter(|(_, record)| contacts(record) > 0)
            .map(|(on, _)| on)
            .collect(),
        contacts_today: course.day(day).map_or(0, contacts),
        falls_mm: if falls { falls_mm(book, member, catalogue)? } else { BTreeMap::new() },
        limits: limits(book, member, own)?.into_iter().filter(|limit| own.holds(limit)).collect(),
        check_ins: check_ins(book, member)?
            .into_iter()
            .filter(|check_in| check_in.day > day.plus(-14) && check_in.day <= day)
            .collect(),
        advice: if in_doubt {
            Vec::new()
        } else {
            advice(book, member)?.into_iter().filter(|advice| advice.holds_on(day)).collect()
        },
        rules,
    })
}

fn sets<'a>(held: &'a [Held], catalogue: &'a Catalogue) -> impl Iterator<Item = (&'a Set, &'a Exercise)> {
    held.iter().filter_map(|held| match held.fact() {
        Some(Fact::Set(set)) => catalogue.get(set.exercise).map(|exercise| (set, exercise)),
        _ => None,
    })
}

/// The last day with plyometric work before a day, of those that were read.
fn last_before(course: &Course, before: Day) -> Option<Day> {
    let mut days = course.days(Day::FIRST, before.plus(-1)).rev();
    days.find(|(_, record)| record.totals.plyometric_contacts() > 0).map(|(day, _)| day)
}

/// How many days without lie between the last plyometric work and a day, where each of them
/// is known.
fn days_off(course: &Course, last: Day, day: Day) -> Option<u32> {
    let known = course.unknown(last.plus(1), day.plus(-1)) == 0;
    u32::try_from(day.number() - last.number() - 1).ok().filter(|_| known)
}

/// By exercise, the highest box that was dropped from.
fn falls_mm(book: &Book, member: MemberId, catalogue: &Catalogue) -> Result<BTreeMap<Uuid, u32>, BookError> {
    let held = book.held(&Filter { member: Some(member), kind: Some(kind::SET), ..Filter::default() })?;
    let mut highest = BTreeMap::new();
    for (set, exercise) in sets(&held, catalogue) {
        if let Some(mm) = Offer::of(set, exercise).fall_mm() {
            let most: &mut u32 = highest.entry(set.exercise).or_default();
            *most = mm.max(*most);
        }
    }
    Ok(highest)
}

/// What speaks against a set, in words, the gravest first.
pub(crate) fn against(words: &Words, status: &Status, offer: &Offer<'_>) -> Vec<Said> {
    guard::against(status, offer).iter().map(|said| in_words(words, said)).collect()
}

/// What speaks against a set where others look on: what is said of the athlete's health is
/// there by its grade alone.
pub(crate) fn against_before_others(words: &Words, status: &Status, offer: &Offer<'_>) -> Vec<Said> {
    let found = guard::against(status, offer);
    found
        .iter()
        .map(|said| match said.ground {
            Ground::Rule(..) => in_words(words, said),
            Ground::Limit(_) | Ground::Pain { .. } | Ground::AnyScore | Ground::Advice(_) => {
                let whole = in_words(words, said);
                let saw = words.word("against-apart");
                let spoken = format!("{}: {saw}", whole.grade);
                let (rule, source, may_do) = (String::new(), String::new(), String::new());
                Said { saw, rule, source, may_do, spoken, ..whole }
            }
        })
        .collect()
}

/// What speaks against a set that somebody plans; where it is not to be offered at all,
/// that is refused with the reason.
pub(crate) fn offered(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    catalogue: &Catalogue,
    member: MemberId,
    offer: &Offer<'_>,
) -> Result<Vec<Said>, ScreenError> {
    let own = OwnClock::read(env, book)?;
    let status = status(book, courses, own, catalogue, member, env.today(), Some(offer.exercise))?;
    let said = against(words, &status, offer);
    match said.iter().find(|said| said.refuses) {
        None => Ok(said),
        Some(first) => {
            let reason = format!("{} {} {}", first.saw, first.rule, first.may_do);
            Err(ScreenError::NotAllowed { reason })
        }
    }
}

/// What is said of pain on a day, in words.
pub(crate) fn pain(words: &Words, status: &Status) -> Vec<Said> {
    let mut said = guard::pain::of(status);
    said.sort_by_key(|said| core::cmp::Reverse(said.grade));
    said.iter().map(|said| in_words(words, said)).collect()
}

/// What speaks against the least plyometric work there is, a low rebound of one repetition:
/// it speaks against any.
pub(crate) fn today(words: &Words, status: &Status) -> Vec<Said> {
    let Some(item) = catalogue::find(catalogue::id::POGO) else { return Vec::new() };
    against(words, status, &Offer::usual(item.id, &item.exercise))
}

/// Which tests before falls from boxes above the first ones fall short, or are not known.
pub(crate) fn depth(words: &Words, status: &Status) -> Vec<Said> {
    let Some(item) = catalogue::find(catalogue::id::DROP_JUMP) else { return Vec::new() };
    // Above any first box; which height it is matters to no test.
    let highest = *RuleName::FirstBox.range().end();
    let offer = Offer { box_mm: Some(highest + 1), ..Offer::usual(item.id, &item.exercise) };
    let of_tests =
        |said: &&Finding<'_>| matches!(said.what, What::Squat | What::FiveSquats | What::OneLegStand(_));
    guard::against(status, &offer).iter().filter(of_tests).map(|said| in_words(words, said)).collect()
}

/// The tests before falls from higher boxes, those that are passed too.
pub(crate) fn conditions(words: &Words, status: &Status) -> Vec<Condition> {
    let tests = guard::depth::conditions(status).into_iter().enumerate();
    tests
        .map(|(at, test)| {
            let said = in_words(words, &test.said);
            Condition::new(
                words,
                format!("test-{at}"),
                State::of(test.met),
                said.saw,
                // What a person may do is for those that are not met.
                [said.rule, said.source, if test.met == Some(true) { String::new() } else { said.may_do }],
            )
        })
        .collect()
}

fn in_words(words: &Words, said: &Finding<'_>) -> Said {
    let saw = saw(words, said);
    let rule = match said.ground {
        Ground::Limit(limit) => {
            words.say("against-by-limit", &[("limit", (&wording::limit(words, limit)).into())])
        }
        Ground::Rule(name, line) => words.say(
            "against-by-rule",
            &[
                ("rule", (&rule_name(words, name)).into()),
                (
                    "line",
                    (&said.unit().map_or_else(String::new, |unit| in_unit(words, unit, line.value))).into(),
                ),
            ],
        ),
        Ground::Pain { line } => words.say("against-by-pain", &[("line", (&line.to_string()).into())]),
        Ground::AnyScore => words.word("against-by-sign"),
        Ground::Advice(advice) => {
            words.say("against-by-advice", &[("score", (&advice.up_to.to_string()).into())])
        }
    };
    let source = match said.ground {
        Ground::Rule(_, line) => drawn(words, line.drawn),
        _ => words.say(
            "against-source",
            &[("source", (&words.told_or_as_said(Topic::Source, said.ground.source())).into())],
        ),
    };
    let may_do = words.word(&format!("may-{}", may_do(said.may_do())));
    let grade = words.word(&format!("grade-{}", grade(said.grade)));
    Said {
        grade: grade.clone(),
        refuses: said.grade >= Grade::Stop,
        spoken: format!("{grade}: {saw} {rule} {source} {may_do}"),
        saw,
        rule,
        source,
        may_do,
    }
}

/// Who drew a line, and from what.
pub(crate) fn drawn(words: &Words, drawn: Drawn<'_>) -> String {
    match drawn {
        Drawn::Product(product) => words.say(
            "drawn-product",
            &[("source", (&words.told_or_as_said(Topic::Source, product.source)).into())],
        ),
        Drawn::Squad(rule) => words.say("drawn-squad", &[("reason", (&rule.reason).into())]),
        Drawn::Athlete(rule) => words.say("drawn-athlete", &[("reason", (&rule.reason).into())]),
    }
}

const fn grade(grade: Grade) -> &'static str {
    match grade {
        Grade::Bound => "bound",
        Grade::Stop => "stop",
        Grade::Ask => "ask",
        Grade::Caution => "caution",
    }
}

const fn may_do(may_do: MayDo) -> &'static str {
    match may_do {
        MayDo::KeepToLimit => "keep",
        MayDo::LowerBox => "lower",
        MayDo::TestFirst => "test",
        MayDo::TrainFirst => "train",
        MayDo::FewerContacts => "fewer",
        MayDo::AnotherDay => "day",
        MayDo::AskGuardian => "guardian",
        MayDo::AskCoach => "measure",
        MayDo::BeginLower => "begin",
        MayDo::OfferToEnd => "end",
        MayDo::StopAndRefer => "refer",
        MayDo::AskWhetherSeen => "seen",
        MayDo::AsAdvised => "advised",
    }
}

/// A place that hurts.
fn place(words: &Words, place: Place) -> String {
    let part = words.word(&format!("part-{}", place.part.word()));
    match place.side {
        Some(side) => format!("{part}, {}", words.word(&format!("side-{}", side.word()))),
        None => part,
    }
}

/// What was found, in words.
fn saw(words: &Words, said: &Finding<'_>) -> String {
    let value = |n: u32| said.unit().map_or_else(|| n.to_string(), |unit| in_unit(words, unit, n));
    let found = match said.found {
        Found::Value(n) | Found::Measured(n, _) => value(n),
        Found::NotKnown | Found::Told => String::new(),
    };
    let unknown = said.found == Found::NotKnown;
    let of = |key: &str| match said.found {
        Found::Measured(_, on) => {
            words.say(key, &[("found", (&found).into()), ("day", (&full_day(words, on)).into())])
        }
        _ => words.say(key, &[("found", (&found).into())]),
    };
    let skilled = |key: &str, held: bool| {
        let said = of(key);
        let skill = words.word(if held { "against-landings-held" } else { "against-landings-open" });
        format!("{said} {skill}")
    };
    let hurts = |key: &str, at: Place| {
        words.say(key, &[("place", (&place(words, at)).into()), ("score", (&found).into())])
    };
    match said.what {
        What::OneLeg(side) => words.word(&format!("against-leg-{}", side.word())),
        What::RunIn => words.word("against-run-in"),
        What::BoxOver => of("against-box"),
        What::FirstBox { highest_mm: None } => of("against-first-box"),
        What::FirstBox { highest_mm: Some(mm) } => words.say(
            "against-higher-box",
            &[("found", (&found).into()), ("highest", (&height(words, mm)).into())],
        ),
        What::Squat if unknown => words.word("against-squat-unknown"),
        What::Squat => of("against-squat"),
        What::FiveSquats if unknown => words.word("against-five-squats-unknown"),
        What::FiveSquats => of("against-five-squats"),
        What::OneLegStand(side) => {
            let side = words.word(match side {
                Some(pitside_model::facts::Side::Left) => "against-side-left",
                Some(pitside_model::facts::Side::Right) => "against-side-right",
                None => "against-side-either",
            });
            let key = if unknown { "against-stand-unknown" } else { "against-stand" };
            match said.found {
                Found::Measured(_, on) => words.say(
                    key,
                    &[
                        ("side", (&side).into()),
                        ("found", (&found).into()),
                        ("day", (&full_day(words, on)).into()),
                    ],
                ),
                _ => words.say(key, &[("side", (&side).into())]),
            }
        }
        What::HeavyBox if unknown => words.word("against-heavy-unknown"),
        What::HeavyBox => of("against-heavy"),
        What::SessionContacts => of("against-contacts"),
        What::YoungContacts { held } => skilled("against-young-contacts", held),
        What::YoungDays { held } => skilled("against-young-days", held),
        What::YoungInARow { held } => skilled("against-young-row", held),
        What::GuardianConsent => words.word("against-consent"),
        What::Growth(GrowthRate { from, to, .. }) => words.say(
            "against-growth",
            &[
                ("found", (&found).into()),
                ("from", (&full_day(words, from)).into()),
                ("to", (&full_day(words, to)).into()),
            ],
        ),
        What::Gap => of("against-gap"),
        What::Sign { sign, on, newest } => words.say(
            if newest { "against-sign" } else { "against-sign-earlier" },
            &[
                ("sign", (&words.word(&format!("sign-{}", sign.word()))).into()),
                ("day", (&full_day(words, on)).into()),
            ],
        ),
        What::PainRising { place: at, before } => words.say(
            "against-pain-rising",
            &[
                ("place", (&place(words, at)).into()),
                ("score", (&found).into()),
                ("before", (&before.to_string()).into()),
            ],
        ),
        What::PainHigh(at) | What::PainGoesOn(at) | What::PainAdvised(at) => hurts("against-pain", at),
        What::PainYoung(at) => hurts("against-pain-young", at),
        What::PainNew(at) => hurts("against-pain-new", at),
    }
}
