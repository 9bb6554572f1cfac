//! The form of a check-in: what hurts, how long the night was. Coarse on
//! purpose; it is no diagnosis and asks for none.

use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{self, BodyPart, Day, Fact, Hurt, MemberId, Scope, Side, Sign, kind};

use crate::athletes;
use crate::body::worded;
use crate::clock::OwnClock;
use crate::companion::{Companion, ScreenError, member_of};
use crate::course::Courses;
use crate::env::Env;
use crate::figure::full_day;
use crate::guard;
use crate::record::{CheckIn, CheckInDraft, CheckInForm, HurtForm};
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
    let written_here = book.own_members()?.contains(&member);
    let written = match written_here {
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
        draft: match written_here {
            true => draft(book, member, today)?,
            false => None,
        },
        shared: words.word(if book.consents(member)?.coach { "check-in-shared" } else { "check-in-private" }),
        caution: words.word("caution-pain"),
    })
}

/// Where the draft of a member is kept, on this device. What hurts stands in it, so it goes as
/// soon as it is saved, and with the member.
fn draft_of(member: MemberId) -> String {
    format!("draft/check-in/{member}")
}

/// Keeps what was tapped on a day, or drops it.
pub(crate) fn keep(
    book: &Book,
    member: MemberId,
    draft: Option<(Day, &CheckInDraft)>,
) -> Result<(), BookError> {
    let value = draft.map(|(day, CheckInDraft { hurting, form })| {
        let hurt = |hurt: &HurtForm| {
            Value::Array(vec![hurt.part.as_str().into(), hurt.side.as_str().into(), hurt.score.into()])
        };
        encode(&Value::Array(vec![
            day.number().into(),
            hurting.map_or(Value::Null, Value::from),
            Value::Array(form.hurts.iter().map(hurt).collect()),
            form.sleep_min.map_or(Value::Null, Value::from),
            Value::Array(form.signs.iter().map(|sign| sign.as_str().into()).collect()),
        ]))
    });
    book.set_local(&draft_of(member), value.as_deref())
}

/// What was tapped today and is not saved.
fn draft(book: &Book, member: MemberId, today: Day) -> Result<Option<CheckInDraft>, BookError> {
    let Some(bytes) = book.local(&draft_of(member))? else { return Ok(None) };
    // A draft that a later version wrote is not this one's to read.
    Ok(decode(&bytes).ok().and_then(|value| read(&value, today)))
}

fn read(value: &Value, today: Day) -> Option<CheckInDraft> {
    let Value::Array(items) = value else { return None };
    let [Value::Int(day), hurting, Value::Array(hurts), sleep, Value::Array(signs)] = items.as_slice() else {
        return None;
    };
    // How somebody was yesterday is not how they are.
    if *day != i128::from(today.number()) {
        return None;
    }
    let hurt = |value: &Value| match value {
        Value::Array(items) => match items.as_slice() {
            [Value::Text(part), Value::Text(side), Value::Int(score)] => {
                Some(HurtForm { part: part.clone(), side: side.clone(), score: u8::try_from(*score).ok()? })
            }
            _ => None,
        },
        _ => None,
    };
    let sign = |value: &Value| match value {
        Value::Text(sign) => Some(sign.clone()),
        _ => None,
    };
    Some(CheckInDraft {
        hurting: match hurting {
            Value::Bool(yes) => Some(*yes),
            _ => None,
        },
        form: CheckInForm {
            day: today.to_string(),
            hurts: hurts.iter().map(hurt).collect::<Option<_>>()?,
            sleep_min: match sleep {
                Value::Int(minutes) => Some(u16::try_from(*minutes).ok()?),
                _ => None,
            },
            signs: signs.iter().map(sign).collect::<Option<_>>()?,
        },
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

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Keeps a check-in as it is tapped, until it is saved or its day is over. `member` may be empty on a
    /// device that serves one, or was told whom it writes for.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn keep_check_in(&self, env: &Env, member: &str, draft: &CheckInDraft) -> Result<(), ScreenError> {
        let book = self.open_book()?;
        let member = member_of(&book, member)?;
        // Begun before midnight, it is about that day.
        let day = Day::parse(&draft.form.day).unwrap_or_else(|| env.today());
        Ok(keep(&book, member, Some((day, draft)))?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(minutes: i64) -> Env {
        let now_ms = 1_795_593_600_000 + minutes * 60_000;
        Env { language: "en".into(), zone_min: 60, hour24: true, now_ms }
    }

    #[test]
    fn what_was_tapped_outlives_the_process_and_ends_with_the_day_or_the_saving() {
        let folder = tempfile::tempdir().unwrap();
        let open = || Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &at(0)).unwrap();
        let phone = open();
        assert_eq!(phone.check_in_form(&at(0), "").unwrap().draft, None);
        // A side was chosen, and no score yet.
        let hurt = HurtForm { part: "achilles".into(), side: "left".into(), score: u8::MAX };
        let form = CheckInForm {
            day: at(0).today().to_string(),
            hurts: vec![hurt.clone()],
            sleep_min: Some(450),
            signs: vec!["limp".into()],
        };
        let draft = CheckInDraft { hurting: Some(true), form };
        phone.keep_check_in(&at(0), "", &draft).unwrap();
        drop(phone);
        let phone = open();
        let screen = phone.check_in_form(&at(5), "").unwrap();
        assert_eq!(screen.draft.as_ref(), Some(&draft));
        assert!(screen.form.hurts.is_empty() && screen.end.is_empty(), "nothing of it is saved");
        assert_eq!(phone.check_in_form(&at(24 * 60), "").unwrap().draft, None, "tomorrow it is asked anew");
        // What is not whole is refused, and stays as it was tapped.
        let refused = phone.check_in(&at(6), "", &draft.form);
        assert!(matches!(refused, Err(ScreenError::Refused { .. })), "{refused:?}");
        assert_eq!(phone.check_in_form(&at(6), "").unwrap().draft, Some(draft.clone()));
        let whole = CheckInForm { hurts: vec![HurtForm { score: 2, ..hurt }], ..draft.form };
        phone.check_in(&at(7), "", &whole).unwrap();
        let screen = phone.check_in_form(&at(7), "").unwrap();
        assert_eq!((screen.draft, screen.form), (None, whole));
    }

    #[test]
    fn siblings_have_a_draft_each() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &at(0)).unwrap();
        let ids = ["Ada", "Bo"].map(|name| {
            let next = phone.group(&at(0)).unwrap().naming;
            phone.name_athlete(&at(0), &next, name).unwrap()
        });
        let draft = CheckInDraft { hurting: Some(false), ..CheckInDraft::default() };
        phone.keep_check_in(&at(0), &ids[0], &draft).unwrap();
        let kept = |id| phone.check_in_form(&at(1), id).unwrap().draft.map(|draft| draft.hurting);
        assert_eq!((kept(&ids[0]), kept(&ids[1])), (Some(Some(false)), None));
    }
}
