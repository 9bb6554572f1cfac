//! The phone's first screen. It works before any pairing.

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::facts::{Day, MemberId, kind};

use crate::athletes;
use crate::clock::OwnClock;
use crate::course::Courses;
use crate::devices;
use crate::effort;
use crate::env::Env;
use crate::exchange::Rest;
use crate::figure::full_day;
use crate::log_set;
use crate::plan;
use crate::record::{Link, Today};
use crate::route::Route;
use crate::session::row;
use crate::text::Words;
use crate::training::{self, Card, Catalogue, limits};
use crate::wording::{self, is_young};

pub(crate) fn today(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
) -> Result<Today, BookError> {
    let revision = book.revision();
    let day = env.today();
    let catalogue = Catalogue::read(book)?;
    let members: Vec<MemberId> = book.own_members()?;
    let mut sessions = Vec::new();
    let mut held_limits = Vec::new();
    let own = OwnClock::read(env, book)?;
    let mut young = members.is_empty();
    for member in &members {
        let card = Card::read(book, *member)?;
        young |= is_young(&card, day);
        let filter = Filter {
            member: Some(*member),
            kind: Some(kind::SESSION),
            days: Some((day, day)),
            ..Filter::default()
        };
        for held in book.held(&filter)? {
            if let Some(done) = training::session(book, held, &catalogue, &card)? {
                sessions.push(row(words, env, book, &catalogue, *member, &done)?);
            }
        }
        let limits = limits(book, *member, own)?;
        held_limits.extend(limits.iter().filter(|l| own.holds(l)).map(|l| wording::limit(words, l)));
    }
    let carried = book.carried()?;
    let carried = match carried.oldest_only_here_ms {
        Some(ms) => words.say(
            "only-here",
            &[
                ("n", carried.only_here.into()),
                ("day", (&crate::figure::near_day(words, env, Day::of_stamp(ms, env.zone_min))).into()),
            ],
        ),
        None => match Rest::read(book)?.count() {
            0 => words.word("all-carried"),
            n => words.say("only-here-others", &[("n", n.into())]),
        },
    };
    let mut cautions = Vec::new();
    if young {
        cautions.push(words.word("caution-young"));
    }
    cautions.push(words.word("caution-pain"));
    Ok(Today {
        revision,
        title: full_day(words, day),
        notices: devices::notices(words, book, own)?.into_iter().map(|n| n.link()).collect(),
        carried,
        sessions,
        coming: plan::coming(words, env, book, &members)?,
        plans: plan::today(words, env, book, courses, &catalogue, own, &members)?,
        between: plan::between(words, env, book, &catalogue)?,
        actions: effort::due(words, env, book)?.into_iter().chain(actions(words, book)?).collect(),
        reminder: effort::reminder(words, env, book)?,
        limits: held_limits,
        cautions,
    })
}

/// What can be done from here; a set that was begun is not forgotten.
fn actions(words: &Words, book: &Book) -> Result<Vec<Link>, BookError> {
    let log = words.word(if log_set::draft(book)?.is_some() { "action-go-on" } else { "action-log-set" });
    let mut actions = vec![Link { text: log, route: Route::LogSet.to_string() }];
    if athletes::writes_for(book)?.len() > 1 {
        actions.push(Link { text: words.word("action-group"), route: Route::Group.to_string() });
    }
    if !book.own_members()?.is_empty() {
        actions.push(Link { text: words.word("action-check-in"), route: Route::CheckIn.to_string() });
    }
    Ok(actions)
}
