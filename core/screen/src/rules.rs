//! The rules by which training is looked at: each with its line, who drew it, its source,
//! and how to draw another one with a reason.

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::facts::{Day, Fact, Hash, MemberId, Rule, RuleName, Scope, Subject, kind};
use pitside_model::load::rule::{Rules as Lines, Unit, Whose, definition};

use crate::assessed::{in_unit, rule_name, scale, shown, stored};
use crate::companion::{ScreenError, day, member_of, refused};
use crate::course::rules as lines;
use crate::env::Env;
use crate::figure::full_day;
use crate::guard;
use crate::record::{RuleForm, RuleRow, Rules};
use crate::text::{Topic, Words};
use crate::training::Card;
use crate::wording::{self, name};

pub(crate) fn rules(
    words: &Words,
    env: &Env,
    book: &Book,
    member: Option<MemberId>,
) -> Result<Rules, BookError> {
    let revision = book.revision();
    let drawn = lines(book, member)?;
    let title = match member {
        Some(member) => {
            let who = name(words, &Card::read(book, member)?, member);
            words.say("rules-title-of", &[("name", (&who).into())])
        }
        None => words.word("rules-title"),
    };
    let own = book.authority()?.standing(book.device());
    let may_change = own.grants.owner && own.is_admitted();
    let mut members = wording::members(words, book)?;
    for choice in &mut members {
        choice.chosen = member.is_some_and(|member| member.to_string() == choice.id);
    }
    Ok(Rules {
        revision,
        title,
        about: words.word(if member.is_some() { "rules-about-member" } else { "rules-about" }),
        member: member.map_or_else(String::new, |member| member.to_string()),
        rows: RuleName::ALL
            .iter()
            .map(|name| row(words, &drawn, *name, env.today(), member.is_some()))
            .collect(),
        members,
        may_change,
        who_may: if may_change { String::new() } else { words.word("rules-who-may") },
    })
}

fn row(words: &Words, lines: &Lines, name: RuleName, today: Day, of_member: bool) -> RuleRow {
    let product = definition(name);
    let ruling = lines.ruling(name, today);
    let line = lines.get(name, today);
    let text = rule_name(words, name);
    let shown_line = match line {
        Some(line) => in_unit(words, product.unit, line.value),
        None => words.word("rules-off"),
    };
    let drawn = match (line, ruling) {
        (Some(line), _) => guard::drawn(words, line.drawn),
        (None, Some((rule, Whose::Athlete))) => {
            words.say("drawn-athlete", &[("reason", (&rule.reason).into())])
        }
        (None, Some((rule, Whose::Squad))) => words.say("drawn-squad", &[("reason", (&rule.reason).into())]),
        (None, None) => String::new(),
    };
    let until = ruling.and_then(|(rule, _)| rule.until).map_or_else(String::new, |until| {
        words.say("rules-holds-until", &[("until", (&full_day(words, until)).into())])
    });
    let usual = words.say(
        "rules-product",
        &[
            ("line", (&in_unit(words, product.unit, product.line)).into()),
            ("source", (&words.told_or_as_said(Topic::Source, product.source)).into()),
        ],
    );
    let spoken = [&text, &shown_line, &drawn, &until].map(String::as_str);
    let spoken: Vec<&str> = spoken.into_iter().filter(|part| !part.is_empty()).collect();
    let wanted = if of_member { Whose::Athlete } else { Whose::Squad };
    RuleRow {
        id: name.word().to_owned(),
        group: group(words, name),
        spoken: spoken.join(". "),
        text,
        value: line.map_or_else(String::new, |line| shown(words, product.unit, line.value)),
        unit: unit_word(words, product.unit),
        from: shown(words, product.unit, *name.range().start()),
        to: shown(words, product.unit, *name.range().end()),
        line: shown_line,
        drawn,
        until,
        // Beside another line the product's own is told, so that going back is a choice.
        product: if ruling.is_some() { usual } else { String::new() },
        off: line.is_none(),
        own: ruling.is_some_and(|(_, whose)| whose == wanted),
    }
}

/// The heading a rule stands under.
fn group(words: &Words, name: RuleName) -> String {
    words.word(match name {
        RuleName::WeekContacts
        | RuleName::WeekLoad
        | RuleName::HardestContact
        | RuleName::FirstExposure
        | RuleName::HardDays
        | RuleName::Gap => "rules-group-rises",
        RuleName::HardVerticalRebound
        | RuleName::HardHorizontalSeries
        | RuleName::HardHeldLanding
        | RuleName::HardLateral
        | RuleName::HardEventTakeOff
        | RuleName::HardSprint
        | RuleName::HardPausedJump => "rules-group-hard",
        RuleName::SessionBeginner | RuleName::SessionIntermediate | RuleName::SessionAdvanced => {
            "rules-group-session"
        }
        RuleName::YoungAge
        | RuleName::YoungDays
        | RuleName::YoungContacts
        | RuleName::GuardianConsent
        | RuleName::Growth => "rules-group-young",
        RuleName::FirstBox
        | RuleName::HeavyMass
        | RuleName::HeavyBox
        | RuleName::Squat
        | RuleName::FiveSquats
        | RuleName::OneLegStand => "rules-group-depth",
    })
}

/// The unit as it stands beside a field.
pub(crate) fn unit_word(words: &Words, unit: Unit) -> String {
    words.word(match unit {
        Unit::Percent => "in-percent",
        Unit::Weeks => "in-weeks",
        Unit::Days => "in-days",
        Unit::Hours => "in-hours",
        Unit::MillijoulesPerKg => "in-energy",
        Unit::Contacts => "in-contacts",
        Unit::Years => "in-years",
        Unit::Millimetres => "in-cm",
        Unit::MillimetresPerYear => "in-growth",
        Unit::Grams => "in-kg",
        Unit::Milliseconds => "in-seconds",
    })
}

/// Whose a rule is: one member's, or the squad's where none is named.
fn scope(book: &Book, member: &str) -> Result<(Scope, Subject), ScreenError> {
    if !member.is_empty() {
        let member = member_of(book, member)?;
        return Ok((Scope::Member(member), Subject::Uuid(member.0)));
    }
    let missing = || ScreenError::NotFound { what: "squad yet, and so no rule of one,".to_owned() };
    let squad = book.squad().ok_or_else(missing)?;
    // The founding is what the squad's own fields are about, its name too.
    Ok((Scope::Squad, Subject::Fact(Hash(squad.0))))
}

fn rule_of(word: &str) -> Result<RuleName, ScreenError> {
    word.parse().map_err(|_| ScreenError::NotFound { what: format!("rule {word:?}") })
}

fn standing(book: &Book, scope: Scope, subject: Subject, name: RuleName) -> Result<Option<Held>, BookError> {
    let held = book.held(&Filter {
        scope: Some(scope),
        kind: Some(kind::RULE),
        field: Some(name.word()),
        subject: Some(subject),
        ..Filter::default()
    })?;
    Ok(held.into_iter().next())
}

/// Draws a line, or turns a rule off, with a reason.
pub(crate) fn set(book: &Book, env: &Env, form: &RuleForm) -> Result<(), ScreenError> {
    let (scope, subject) = scope(book, &form.member)?;
    let name = rule_of(&form.rule)?;
    let unit = definition(name).unit;
    let line = match form.line.trim() {
        "" => None,
        text => {
            let words = Words::of(&env.language);
            let (low, high) = (*name.range().start(), *name.range().end());
            let range = format!(
                "{} to {} {}",
                shown(&words, unit, low),
                shown(&words, unit, high),
                unit_word(&words, unit)
            );
            let value = stored(text, scale(unit)).filter(|value| name.range().contains(value));
            Some(value.ok_or_else(|| refused("line", text.to_owned(), &range))?)
        }
    };
    if !form.off && line.is_none() {
        return Err(refused("line", "left out".to_owned(), "a line, or off"));
    }
    let reason = form.reason.trim();
    if reason.is_empty() {
        return Err(refused("reason", "left out".to_owned(), "why, in up to 200 characters"));
    }
    let until = match form.until.as_str() {
        "" => None,
        until => Some(day(env, until)?),
    };
    let rule = Rule { name, off: form.off, line, until, reason: reason.to_owned() };
    book.revise(scope, subject, Fact::Rule(rule), env.stamp())?;
    Ok(())
}

/// Goes back: an athlete's rule to the squad's, the squad's to the product's.
pub(crate) fn back(book: &Book, at: Stamp, member: &str, rule: &str) -> Result<(), ScreenError> {
    let (scope, subject) = scope(book, member)?;
    let held = standing(book, scope, subject, rule_of(rule)?)?;
    let held = held.filter(|held| held.fact().is_some());
    let held = held.ok_or_else(|| ScreenError::NotFound { what: "line of their own".to_owned() })?;
    book.write(scope, &Draft::replacing(&held, Fact::Deleted), at)?;
    Ok(())
}

/// Whose rules are looked at: one member's, or the squad's where none is named.
pub(crate) fn of(book: &Book, member: &str) -> Result<Option<MemberId>, ScreenError> {
    if member.is_empty() { Ok(None) } else { member_of(book, member).map(Some) }
}
