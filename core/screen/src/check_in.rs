//! The form of a check-in: what hurts, how long the night was. Coarse on
//! purpose; it is no diagnosis and asks for none.

use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_model::facts::{self, BodyPart, Day, Fact, Hurt, MemberId, Scope, Side, Sign, kind};

use crate::athletes;
use crate::body::worded;
use crate::clock::OwnClock;
use crate::companion::ScreenError;
use crate::course::Courses;
use crate::env::Env;
use crate::figure::full_day;
use crate::guard;
use crate::record::{CheckIn, CheckInForm, HurtForm};
use crate::text::Words;
use crate::training::Catalogue;

/// The form, filled in with what was written for today.
pub(crate) fn check_in(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    member: MemberId,
) -> Result<CheckIn, BookError> {
    let today = env.today();
    let written = match book.own_members()?.contains(&member) {
        true => of_day(book, member, today)?,
        false => None,
    };
    let form = match written.as_ref().and_then(Held::fact) {
        Some(Fact::CheckIn(fact)) => form_of(fact),
        _ => CheckInForm { day: today.to_string(), ..CheckInForm::default() },
    };
    let told_today = form.hurts.iter().any(|hurt| hurt.score > 0) || !form.signs.is_empty();
    let (own, catalogue) = (OwnClock::read(env, book)?, Catalogue::read(book)?);
    let status = guard::status(book, courses, own, &catalogue, member, today, None)?;
    Ok(CheckIn {
        athletes: athletes::own(words, book)?,
        title: words.say("check-in-title", &[("day", (&full_day(words, today)).into())]),
        parts: worded(words, BodyPart::ALL, |word| format!("part-{word}")),
        sides: worded(words, Side::ALL, |word| format!("side-{word}")),
        score: words.word("check-in-score"),
        signs: worded(words, Sign::ALL, |word| format!("asks-{word}")),
        signs_about: words.word("check-in-signs"),
        end: if told_today { words.word("check-in-end") } else { String::new() },
        said: guard::pain(words, &status),
        form,
        shared: words.word(if book.consents(member)?.coach { "check-in-shared" } else { "check-in-private" }),
        caution: words.word("caution-pain"),
    })
}

/// What was written for a day, the newest where there are several.
pub(crate) fn of_day(book: &Book, member: MemberId, day: Day) -> Result<Option<Held>, BookError> {
    let held = book.held(&Filter {
        scope: Some(Scope::Private(member)),
        kind: Some(kind::CHECK_IN),
        days: Some((day, day)),
        ..Filter::default()
    })?;
    Ok(held.into_iter().max_by_key(|h| h.value().stamp))
}

fn form_of(fact: &facts::CheckIn) -> CheckInForm {
    CheckInForm {
        day: fact.day.to_string(),
        hurts: fact
            .hurts
            .iter()
            .map(|h| HurtForm {
                part: h.part.word().to_owned(),
                side: h.side.map_or("", Side::word).to_owned(),
                score: h.score,
            })
            .collect(),
        sleep_min: fact.sleep_min,
        signs: fact.signs.iter().map(|sign| sign.word().to_owned()).collect(),
    }
}

/// The fact that a form says.
pub(crate) fn fact(form: &CheckInForm, day: Day) -> Result<facts::CheckIn, ScreenError> {
    let refused = |field: &str, e: facts::UnknownWord| ScreenError::Refused {
        field: field.to_owned(),
        value: e.found,
        range: e.accepted,
    };
    let hurts = form.hurts.iter().map(|h| {
        let side = match h.side.as_str() {
            "" => None,
            side => Some(side.parse().map_err(|e| refused("side", e))?),
        };
        Ok(Hurt { part: h.part.parse().map_err(|e| refused("part", e))?, side, score: h.score })
    });
    let hurts = hurts.collect::<Result<_, ScreenError>>()?;
    let signs = form.signs.iter().map(|sign| sign.parse().map_err(|e| refused("sign", e)));
    let signs = signs.collect::<Result<_, ScreenError>>()?;
    Ok(facts::CheckIn { day, hurts, sleep_min: form.sleep_min, signs })
}
