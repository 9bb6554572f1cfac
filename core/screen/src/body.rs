//! What is known of an athlete's body apart from training: tests, growth, how landings are
//! controlled, limits, and what a clinician advised. And how each is written down.

use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::facts::{
    Advice, BodyPart, Control, Day, Fact, Growth, LandingControl, Limit, MemberId, SaidBy, Scope, Side, Test,
    TestResult, Word, kind,
};
use pitside_model::load::guard::Status;
use uuid::Uuid;

use crate::assessed::{self, scale, stored, unit_of};
use crate::clock::OwnClock;
use crate::companion::{ScreenError, chosen, chosen_or_none, day, member_of, optional, refused};
use crate::course::Courses;
use crate::env::Env;
use crate::figure::{full_day, small};
use crate::guard;
use crate::record::{AdviceForm, Body, BodyRow, Choice, ControlForm, HeightForm, LimitForm, TestForm};
use crate::rules::unit_word;
use crate::text::Words;
use crate::training::{Card, Catalogue};
use crate::wording::{self, name};

/// A fact of a list: its day, what it says, and that it does not hold; nothing for one that
/// does not belong there.
type Say<'a> = &'a dyn Fn(&Fact) -> Option<(Day, String, String)>;

pub(crate) fn body(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    member: MemberId,
) -> Result<Body, BookError> {
    let revision = book.revision();
    let catalogue = Catalogue::read(book)?;
    let own = OwnClock::read(env, book)?;
    let today = env.today();
    let card = Card::read(book, member)?;
    let choice =
        |id: &str, text: String| Choice { id: id.to_owned(), text, group: String::new(), chosen: false };
    let rows = |kind: &str, say: Say<'_>| rows(book, member, kind, say);
    let standing = book.authority()?.standing(book.device());
    // Before there is a squad a device's own entries about its member count.
    let may_limit = match book.squad() {
        Some(_) => standing.is_admitted() && (standing.grants.owner || standing.grants.limits.covers(member)),
        None => false,
    };
    let status = guard::status(book, courses, own, &catalogue, member, today, None)?;
    let (today_against, depth_against) = (guard::today(words, &status), guard::depth(words, &status));
    let growth = Status { heights: guard::heights(book, member)?, ..Status::unknown(today) }.growth();
    Ok(Body {
        revision,
        member: member.to_string(),
        title: words.say("body-title", &[("name", (&name(words, &card, member)).into())]),
        about: words.word("body-about"),
        today_none: if today_against.is_empty() { words.word("body-today-none") } else { String::new() },
        today_against,
        depth_none: if depth_against.is_empty() { words.word("body-depth-none") } else { String::new() },
        depth_against,
        tests: rows(kind::TEST, &|fact| match fact {
            Fact::Test(x) => Some((x.day, assessed::test(words, x), String::new())),
            _ => None,
        })?,
        heights: rows(kind::GROWTH, &|fact| match fact {
            Fact::Growth(x) => Some((x.day, assessed::height(words, *x), String::new())),
            _ => None,
        })?,
        growth: growth.map_or_else(
            || words.word("body-growth-unknown"),
            |rate| {
                let grown = small(words, f64::from(rate.mm_per_year));
                words.say(
                    "body-growth",
                    &[
                        ("rate", (&grown).into()),
                        ("from", (&full_day(words, rate.from)).into()),
                        ("to", (&full_day(words, rate.to)).into()),
                    ],
                )
            },
        ),
        controls: rows(kind::LANDING_CONTROL, &|fact| match fact {
            Fact::LandingControl(x) => Some((x.day, assessed::control(words, &catalogue, x), String::new())),
            _ => None,
        })?,
        limits: rows(kind::LIMIT, &|fact| match fact {
            Fact::Limit(x) => Some((x.from, wording::limit(words, x), over(words, own.holds(x)))),
            _ => None,
        })?,
        advice: rows(kind::ADVICE, &|fact| match fact {
            Fact::Advice(x) => {
                let holds = !own.in_doubt() && x.holds_on(today);
                Some((x.from, assessed::advice(words, x), over(words, holds)))
            }
            _ => None,
        })?,
        advice_about: words.word("body-advice-about"),
        test_choices: Test::ALL
            .iter()
            .map(|test| {
                let unit = unit_word(words, unit_of(test.measure()));
                choice(test.word(), format!("{}, {unit}", words.word(&format!("test-{}", test.word()))))
            })
            .collect(),
        sides: worded(words, Side::ALL, |word| format!("side-{word}")),
        control_choices: worded(words, Control::ALL, |word| format!("control-{word}")),
        parts: worded(words, BodyPart::ALL, |word| format!("part-{word}")),
        said_by: worded(words, SaidBy::ALL, |word| format!("said-by-{word}")),
        exercises: wording::exercises(words, &catalogue),
        today: today.to_string(),
        may_limit,
        who_may: if may_limit { String::new() } else { words.word("body-who-may") },
    })
}

/// The words of an enumeration as choices; `key` gives the key of each.
pub(crate) fn worded<W: Word>(words: &Words, all: &[W], key: impl Fn(&str) -> String) -> Vec<Choice> {
    let choice = |id: &str| Choice {
        id: id.to_owned(),
        text: words.word(&key(id)),
        group: String::new(),
        chosen: false,
    };
    all.iter().map(|one| choice(one.word())).collect()
}

fn over(words: &Words, holds: bool) -> String {
    if holds { String::new() } else { words.word("body-over") }
}

/// The facts of a kind, the newest first.
fn rows(book: &Book, member: MemberId, kind: &str, say: Say<'_>) -> Result<Vec<BodyRow>, BookError> {
    let held = book.held(&Filter { member: Some(member), kind: Some(kind), ..Filter::default() })?;
    let mut found: Vec<(Day, BodyRow)> = held
        .iter()
        .filter_map(|held| {
            let (on, text, note) = say(held.fact()?)?;
            let spoken = if note.is_empty() { text.clone() } else { format!("{text}. {note}") };
            Some((on, BodyRow { id: held.id()?.to_string(), text, note, spoken }))
        })
        .collect();
    found.sort_by_key(|(on, _)| core::cmp::Reverse(*on));
    Ok(found.into_iter().map(|(_, row)| row).collect())
}

fn write(book: &Book, env: &Env, member: MemberId, fact: Fact) -> Result<String, ScreenError> {
    Ok(book.write(Scope::Member(member), &Draft::new(fact), env.stamp())?.to_string())
}

/// Writes the result of a test down; gives its id.
pub(crate) fn test(book: &Book, env: &Env, form: &TestForm) -> Result<String, ScreenError> {
    let member = member_of(book, &form.member)?;
    let test: Test = chosen("test", &form.test)?;
    let unit = unit_of(test.measure());
    let (low, high) = (*test.range().start(), *test.range().end());
    let words = Words::of(&env.language);
    let range = format!(
        "{} to {} {}",
        assessed::shown(&words, unit, low),
        assessed::shown(&words, unit, high),
        unit_word(&words, unit)
    );
    let value = stored(&form.value, scale(unit)).filter(|value| test.range().contains(value));
    let result = TestResult {
        day: day(env, &form.day)?,
        test,
        value: value.ok_or_else(|| refused("value", form.value.clone(), &range))?,
        // A side that is chosen beside a test of both legs says nothing.
        side: if test.is_of_one_leg() { chosen_or_none("side", &form.side)? } else { None },
        note: optional(&form.note),
    };
    write(book, env, member, Fact::Test(result))
}

/// Writes a height of the body down; gives its id.
pub(crate) fn height(book: &Book, env: &Env, form: &HeightForm) -> Result<String, ScreenError> {
    let member = member_of(book, &form.member)?;
    let height_mm = stored(&form.cm, 10).filter(|mm| (800..=2_300).contains(mm));
    let height_mm = height_mm.ok_or_else(|| refused("height", form.cm.clone(), "80 to 230 cm"))?;
    write(book, env, member, Fact::Growth(Growth { day: day(env, &form.day)?, height_mm }))
}

/// Writes down how landings were controlled; gives its id.
pub(crate) fn control(book: &Book, env: &Env, form: &ControlForm) -> Result<String, ScreenError> {
    let member = member_of(book, &form.member)?;
    let missing = || ScreenError::NotFound { what: "exercise".to_owned() };
    let exercise = Uuid::try_parse(&form.exercise).map_err(|_| missing())?;
    if Catalogue::read(book)?.get(exercise).is_none() {
        return Err(missing());
    }
    let judged = LandingControl {
        day: day(env, &form.day)?,
        exercise,
        set: None,
        side: chosen_or_none("side", &form.side)?,
        control: chosen("control", &form.control)?,
        knee_inward: form.knee_inward,
        trunk: form.trunk,
        note: optional(&form.note),
    };
    write(book, env, member, Fact::LandingControl(judged))
}

/// Writes a limit down; gives its id.
pub(crate) fn limit(book: &Book, env: &Env, form: &LimitForm) -> Result<String, ScreenError> {
    let member = member_of(book, &form.member)?;
    let max_box_mm = match form.max_box_cm.trim() {
        "" => None,
        text => {
            let mm = stored(text, 10).filter(|mm| *mm <= 2_000);
            Some(mm.ok_or_else(|| refused("box", text.to_owned(), "0 to 200 cm"))?)
        }
    };
    let limit = Limit {
        from: day(env, &form.from)?,
        until: if form.until.is_empty() { None } else { Some(day(env, &form.until)?) },
        no_one_leg: chosen_or_none("side", &form.no_one_leg)?,
        no_approach: form.no_approach,
        max_box_mm,
        said_by: chosen(
            "said by",
            if form.said_by.is_empty() { SaidBy::Coach.word() } else { &form.said_by },
        )?,
        note: optional(&form.note),
    };
    // A note alone bounds nothing that can be checked, and would look as if it did.
    if limit.no_one_leg.is_none() && !limit.no_approach && limit.max_box_mm.is_none() {
        return Err(refused("limit", "nothing".to_owned(), "a leg, the run-in or a height of boxes"));
    }
    write(book, env, member, Fact::Limit(limit))
}

/// Writes down what a clinician advised; gives its id.
pub(crate) fn advice(book: &Book, env: &Env, form: &AdviceForm) -> Result<String, ScreenError> {
    let member = member_of(book, &form.member)?;
    if form.until.is_empty() {
        return Err(refused("until", "left out".to_owned(), "a day as 2026-11-25"));
    }
    let advice = Advice {
        from: day(env, &form.from)?,
        until: day(env, &form.until)?,
        part: chosen("part", &form.part)?,
        side: chosen_or_none("side", &form.side)?,
        up_to: form.up_to,
        note: form.note.trim().to_owned(),
    };
    write(book, env, member, Fact::Advice(advice))
}

/// The kinds of facts of this screen.
const KINDS: [&str; 5] = [kind::TEST, kind::GROWTH, kind::LANDING_CONTROL, kind::LIMIT, kind::ADVICE];

/// Takes one of these facts back. A limit and an advice that were in force end with
/// yesterday instead, so that what they bounded stays readable.
pub(crate) fn end(book: &Book, env: &Env, member: &str, id: &str) -> Result<(), ScreenError> {
    let member = member_of(book, member)?;
    let held = found(book, member, id)?;
    let yesterday = env.today().plus(-1);
    let fact = match held.fact() {
        Some(Fact::Limit(limit)) if limit.from <= yesterday => Fact::Limit(Limit {
            until: Some(limit.until.map_or(yesterday, |u| u.min(yesterday))),
            ..limit.clone()
        }),
        Some(Fact::Advice(advice)) if advice.from <= yesterday => {
            Fact::Advice(Advice { until: advice.until.min(yesterday), ..advice.clone() })
        }
        _ => Fact::Deleted,
    };
    book.write(held.key.scope, &Draft::replacing(&held, fact), env.stamp())?;
    Ok(())
}

fn found(book: &Book, member: MemberId, id: &str) -> Result<Held, ScreenError> {
    for kind in KINDS {
        let held = book.held(&Filter { member: Some(member), kind: Some(kind), ..Filter::default() })?;
        let hit = held.into_iter().find(|held| held.id().is_some_and(|own| own.to_string() == id));
        if let Some(held) = hit {
            return Ok(held);
        }
    }
    Err(ScreenError::NotFound { what: "such entry of this athlete".to_owned() })
}
