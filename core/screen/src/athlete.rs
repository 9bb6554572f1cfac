//! One athlete: eight weeks, sessions, takes, and what stands against what.

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::facts::{Card as CardField, Day, Fact, MemberId, kind};

use crate::clock::OwnClock;
use crate::course::{Courses, first_day, rules};
use crate::details::details;
use crate::devices::sharing_link;
use crate::env::Env;
use crate::judged;
use crate::notice::{Looked, notices};
use crate::record::{Athlete, Link, Pair};
use crate::route::Route;
use crate::session::row;
use crate::squad::HURT_DAYS;
use crate::text::Words;
use crate::training::{self, Card, Catalogue, limits, takes_until};
use crate::wording::{self, card_value, check_ins, hurt, is_young, name, private_note, week_rows};

const WEEKS: i32 = 8;
/// Sessions in one window of the list.
const WINDOW: usize = 50;
/// Takes shown with their picture.
const TAKES: usize = 4;

/// `before` is the cursor that the window before gave: sessions before that day.
pub(crate) fn athlete(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    member: MemberId,
    before: Option<Day>,
) -> Result<Option<Athlete>, BookError> {
    if !book.members()?.contains(&member) {
        return Ok(None);
    }
    let revision = book.revision();
    let today = env.today();
    let catalogue = Catalogue::read(book)?;
    let rules = rules(book, Some(member))?;
    let mut look = courses.look(book)?;
    let kept = look.of(member, &catalogue, first_day(&rules, today, WEEKS))?;
    let who = name(words, &kept.card, member);
    let own = OwnClock::read(env, book)?;
    let limits = limits(book, member, own)?;
    let check_ins = check_ins(book, member)?;
    let mut cautions = Vec::new();
    if is_young(&kept.card, today) {
        cautions.push(words.word("caution-young"));
    }
    cautions.push(words.word("caution-pain"));
    let (sessions, older) = sessions(words, env, book, &catalogue, &kept.card, member, before)?;
    let takes = takes_until(book, &catalogue, member, today)?;
    let seen = Looked {
        env,
        book,
        catalogue: &catalogue,
        kept,
        rules: &rules,
        limits: &limits,
        check_ins: &check_ins,
    };
    Ok(Some(Athlete {
        revision,
        id: member.to_string(),
        card: card(words, book, member)?,
        notices: notices(words, &who, member, &seen)?,
        title: who,
        rows: week_rows(words, &kept.weeks(today, WEEKS)),
        details: details(words, kept, &rules, today),
        takes: judged::rows(words, env, book, &catalogue, member, &takes, takes.iter().rev().take(TAKES))?,
        other: other_training(words, book, member, (today.monday().plus(-7 * (WEEKS - 1)), today))?,
        sessions,
        older,
        hurts: check_ins
            .iter()
            .rev()
            .filter(|c| c.day > today.plus(-HURT_DAYS))
            .flat_map(|c| c.hurts.iter().map(|h| hurt(words, env, h, c.day)))
            .collect(),
        private_note: private_note(words, book, member)?,
        limits: limits
            .iter()
            .map(|l| {
                let text = wording::limit(words, l);
                if own.holds(l) { text } else { words.say("limit-past", &[("limit", (&text).into())]) }
            })
            .collect(),
        clashes: wording::clashes(words, env, book, &catalogue, member)?.into_iter().map(|c| c.1).collect(),
        links: links(words, book, member)?,
        cautions,
    }))
}

/// The plans, the jumps, whom the private part is shared with, and where an owner keeps the roster.
fn links(words: &Words, book: &Book, member: MemberId) -> Result<Vec<Link>, BookError> {
    let mut links = vec![
        Link { text: words.word("link-plans"), route: Route::Plans(member).to_string() },
        Link { text: words.word("link-jumps"), route: Route::Jumps(member).to_string() },
        Link { text: words.word("link-card"), route: Route::Card(member).to_string() },
        Link { text: words.word("link-body"), route: Route::Body(member).to_string() },
        Link { text: words.word("link-rules"), route: Route::Rules(member).to_string() },
        sharing_link(words, book, member)?,
    ];
    // The form asks whom it is about by the device that it is on.
    if book.own_members()? == [member] {
        links.push(Link { text: words.word("action-check-in"), route: Route::CheckIn.to_string() });
    }
    let own = book.authority()?.standing(book.device());
    if own.grants.owner && own.is_admitted() {
        links.push(Link { text: words.word("link-roster"), route: Route::Devices.to_string() });
    }
    Ok(links)
}

fn card(words: &Words, book: &Book, member: MemberId) -> Result<Vec<Pair>, BookError> {
    let filter = Filter { member: Some(member), kind: Some(kind::MEMBER), ..Filter::default() };
    let held = book.held(&filter)?;
    let known = |field: &str| {
        held.iter().find(|h| h.key.field == field).and_then(|h| match h.fact() {
            Some(Fact::Card(value)) => Some(card_value(words, value)),
            _ => None,
        })
    };
    Ok(CardField::FIELDS
        .iter()
        .skip(1)
        .map(|field| Pair {
            label: words.word(&format!("card-{field}")),
            value: known(field).unwrap_or_else(|| words.word("not-known")),
        })
        .collect())
}

/// Other training in a stretch of days, the newest first.
fn other_training(
    words: &Words,
    book: &Book,
    member: MemberId,
    days: (Day, Day),
) -> Result<Vec<String>, BookError> {
    let filter = Filter {
        member: Some(member),
        kind: Some(kind::OTHER_TRAINING),
        days: Some(days),
        ..Filter::default()
    };
    let held = book.held(&filter)?;
    let said = held.iter().rev().filter_map(|held| match held.fact() {
        Some(Fact::OtherTraining(other)) => Some(wording::other_training(words, other)),
        _ => None,
    });
    Ok(said.collect())
}

/// A window of sessions, the newest first, and the cursor for the next.
fn sessions(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    card: &Card,
    member: MemberId,
    before: Option<Day>,
) -> Result<(Vec<crate::record::SessionRow>, String), BookError> {
    let last = before.map_or(Day::LAST, |day| day.plus(-1));
    let mut held = book.held(&Filter {
        member: Some(member),
        kind: Some(kind::SESSION),
        days: Some((Day::FIRST, last)),
        ..Filter::default()
    })?;
    held.reverse();
    let mut rows = Vec::new();
    let mut cursor: Option<Day> = None;
    let mut older = String::new();
    for held in held {
        let Some(day) = held.fact().and_then(Fact::day) else { continue };
        // A window ends between two days, so that the cursor loses nothing.
        if rows.len() >= WINDOW && cursor != Some(day) {
            older = cursor.map_or_else(String::new, |day| day.to_string());
            break;
        }
        if let Some(done) = training::session(book, held, catalogue, card)? {
            rows.push(row(words, env, book, catalogue, member, &done)?);
            cursor = Some(day);
        }
    }
    Ok((rows, older))
}
