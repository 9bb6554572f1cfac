//! What to look at first. Every notice says what was seen, by which rule, where
//! the rule comes from, and what can be done. None predicts anything, and
//! nothing is judged on days that are unknown.

use pitside_book::store::{Book, BookError};
use pitside_model::facts::{CheckIn, Day, Limit, MemberId};
use pitside_model::load::guard::{self, Offer, Status, What};
use pitside_model::load::rule::Rules;

use crate::clock::{self, OwnClock};
use crate::course::Kept;
use crate::devices::{self, whose};
use crate::env::Env;
use crate::figure::{day, full_day};
use crate::naming::named;
use crate::record::Notice;
use crate::route::Route;
use crate::spike;
use crate::squad::apart;
use crate::text::Words;
use crate::training::{Card, Catalogue, DoneSession, DoneSet, sessions};
use crate::wording::{device_short, is_young, limit as limit_words, name};

/// Days for which a set against a limit is shown.
const LIMIT_DAYS: i32 = 14;
/// Above this score a person is asked to stop (`Silbernagel et al. 2007`).
const PAIN_LINE: u8 = 5;

/// The parts of a notice before it is put into words.
struct Seen {
    key: &'static str,
    saw: String,
    route: Route,
}

fn notice(words: &Words, who: &str, seen: Seen) -> Notice {
    let part = |part: &str| words.word(&format!("notice-{}-{part}", seen.key));
    let (rule, source, may_do) = (part("rule"), part("source"), part("do"));
    let rank = match seen.key {
        "removed" | "clock" => 0,
        "limit" => 2,
        "wish" | "copy" | "kept" | "clocks" | "apart" => 4,
        _ => 1,
    };
    told(who, rank, seen.route, [seen.saw, rule, source, may_do])
}

/// A notice of what was seen, its rule, where that comes from and what can be done.
pub(crate) fn told(who: &str, rank: u8, route: Route, [saw, rule, source, may_do]: [String; 4]) -> Notice {
    let mut spoken = format!("{saw} {rule} {source} {may_do}");
    if !who.is_empty() {
        spoken = format!("{who}. {spoken}");
    }
    Notice { rank, who: who.to_owned(), route: route.to_string(), saw, rule, source, may_do, spoken }
}

/// What the notices of an athlete are read off.
pub(crate) struct Looked<'a> {
    pub(crate) env: &'a Env,
    pub(crate) book: &'a Book,
    pub(crate) catalogue: &'a Catalogue,
    pub(crate) kept: &'a Kept,
    pub(crate) rules: &'a Rules,
    pub(crate) limits: &'a [Limit],
    pub(crate) check_ins: &'a [CheckIn],
}

/// The notices of one athlete.
pub(crate) fn notices(
    words: &Words,
    who: &str,
    member: MemberId,
    at: &Looked<'_>,
) -> Result<Vec<Notice>, BookError> {
    let today = at.env.today();
    let mut seen = pain(words, at.env, member, is_young(&at.kept.card, today), at.check_ins);
    seen.extend(signs(words, at.env, member, at.check_ins));
    if !at.limits.is_empty() {
        let days = (today.plus(1 - LIMIT_DAYS), today);
        let sessions = sessions(at.book, member, at.catalogue, &at.kept.card, days)?;
        seen.extend(against_limits(words, &sessions, at.limits));
    }
    let mut notices: Vec<Notice> = seen.into_iter().map(|s| notice(words, who, s)).collect();
    notices.extend(spike::notices(words, who, member, at));
    Ok(notices)
}

/// What a person at this device should know of its book, of clocks, of dates that
/// are over, and of what does not count.
pub(crate) fn squad_notices(
    words: &Words,
    env: &Env,
    book: &Book,
    own: OwnClock,
) -> Result<Vec<Notice>, BookError> {
    let mut notices = Vec::new();
    let here = words.word("notice-this-device");
    for said in devices::notices(words, book, own)? {
        notices.push(notice(words, &here, Seen { key: said.key, saw: said.text, route: said.route }));
    }
    for (member, until) in book.kept_too_long(env.today())? {
        let who = name(words, &Card::read(book, member)?, member);
        let saw = words.say("notice-kept-saw", &[("day", (&full_day(words, until)).into())]);
        notices.push(notice(words, &who, Seen { key: "kept", saw, route: Route::Erase(member) }));
    }
    let off = if own.is_off() { Vec::new() } else { clocks(words, book)? };
    if !off.is_empty() {
        let saw = words.say("notice-clocks-saw", &[("clocks", (&off.join("; ")).into())]);
        notices.push(notice(words, "", Seen { key: "clocks", saw, route: Route::Devices }));
    }
    let apart = apart(words, book)?;
    if !apart.is_empty() {
        notices.push(notice(words, "", Seen { key: "apart", saw: apart.join(" "), route: Route::Aside }));
    }
    Ok(notices)
}

/// The clocks of the squad's devices that are off. A removed device's is nobody's
/// concern here.
fn clocks(words: &Words, book: &Book) -> Result<Vec<String>, BookError> {
    let authority = book.authority()?;
    let mut off = Vec::new();
    for peer in book.peers()? {
        let standing = authority.standing(peer.device);
        let Some(by) = peer.clock_apart_ms.and_then(|ms| clock::apart(words, ms)) else { continue };
        if standing.is_admitted() {
            let whose = whose(words, book, &standing.grants)?;
            off.push(words.say(
                "clock-of",
                &[
                    ("whose", (&whose).into()),
                    ("short", (&device_short(peer.device)).into()),
                    ("by", (&by).into()),
                ],
            ));
        }
    }
    Ok(off)
}

/// Sets of the last two weeks that a limit of their day speaks against.
fn against_limits(words: &Words, sessions: &[DoneSession], limits: &[Limit]) -> Vec<Seen> {
    let mut seen = Vec::new();
    for session in sessions {
        for limit in limits.iter().filter(|l| l.holds_on(session.session.day)) {
            let Some(set) = session.sets.iter().find(|set| breaks(set, limit)) else { continue };
            let name = set.exercise.as_ref().map_or_else(String::new, |e| named(words, set.set.exercise, e));
            seen.push(Seen {
                key: "limit",
                saw: words.say(
                    "notice-limit-saw",
                    &[
                        ("exercise", (&name).into()),
                        ("day", (&day(words, session.session.day)).into()),
                        ("limit", (&limit_words(words, limit)).into()),
                    ],
                ),
                route: Route::Session(session.place),
            });
        }
    }
    seen
}

/// Whether a set is one that a limit rules out.
fn breaks(set: &DoneSet, limit: &Limit) -> bool {
    set.exercise.as_ref().is_some_and(|exercise| guard::breaks(&Offer::of(&set.set, exercise), limit))
}

/// What is to be seen at any score, as the newest check-in tells it.
fn signs(words: &Words, env: &Env, member: MemberId, check_ins: &[CheckIn]) -> Vec<Seen> {
    let status = Status { check_ins: check_ins.to_vec(), ..Status::unknown(env.today()) };
    let told = guard::pain::of(&status).into_iter().filter_map(|said| match said.what {
        What::Sign { sign, on, newest: true } => Some((sign, on)),
        _ => None,
    });
    told.map(|(sign, on)| Seen {
        key: "sign",
        saw: words.say(
            "notice-sign-saw",
            &[
                ("day", (&full_day(words, on)).into()),
                ("sign", (&words.word(&format!("sign-{}", sign.word()))).into()),
            ],
        ),
        route: Route::Athlete(member),
    })
    .collect()
}

/// Pain that rises from one stretch of seven days to the next, pain above the
/// line, any pain of the young, and pain that is new. One notice a place, the
/// gravest that holds.
fn pain(words: &Words, env: &Env, member: MemberId, young: bool, check_ins: &[CheckIn]) -> Vec<Seen> {
    let today = env.today();
    let worst = |from: Day, to: Day, part, side| {
        check_ins
            .iter()
            .filter(|c| (from..=to).contains(&c.day))
            .flat_map(|c| &c.hurts)
            .filter(|h| h.part == part && h.side == side)
            .map(|h| h.score)
            .max()
            .unwrap_or(0)
    };
    let mut parts: Vec<_> = check_ins.iter().flat_map(|c| &c.hurts).map(|h| (h.part, h.side)).collect();
    parts.sort_unstable();
    parts.dedup();
    let mut seen = Vec::new();
    for (part, side) in parts {
        let now = worst(today.plus(-6), today, part, side);
        let before = worst(today.plus(-13), today.plus(-7), part, side);
        let key = match (now, before) {
            (0, _) => continue,
            (now, before) if before > 0 && now > before => "pain-rising",
            (now, _) if now > PAIN_LINE => "pain-high",
            _ if young => "pain-young",
            (_, 0) => "pain-new",
            _ => continue,
        };
        let mut place = words.word(&format!("part-{}", part.word()));
        if let Some(side) = side {
            place = format!("{place}, {}", words.word(&format!("side-{}", side.word())));
        }
        seen.push(Seen {
            key,
            saw: words.say(
                &format!("notice-{key}-saw"),
                &[
                    ("place", (&place).into()),
                    ("now", (&now.to_string()).into()),
                    ("before", (&before.to_string()).into()),
                ],
            ),
            route: Route::Athlete(member),
        });
    }
    seen
}
