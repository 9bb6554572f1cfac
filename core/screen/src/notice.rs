//! What to look at first. Every notice says what was seen, by which rule, where
//! the rule comes from, and what can be done. None predicts anything, and
//! nothing is judged on days that are unknown.

use pitside_book::store::{Book, BookError};
use pitside_model::facts::exercise::Kind;
use pitside_model::facts::{CheckIn, Day, Limit, MemberId};
use pitside_model::load::guard::{self, Offer, Status, What};

use crate::clock::{self, OwnClock};
use crate::devices::{self, whose};
use crate::env::Env;
use crate::figure::{day, full_day, whole};
use crate::record::Notice;
use crate::route::Route;
use crate::squad::apart;
use crate::text::Words;
use crate::training::{Card, DoneSession, DoneSet, Training, Week};
use crate::wording::{device_short, is_young, kind_word, limit as limit_words, name};

/// A rise of a week over the mean of the complete weeks before is shown from
/// here on, in hundredths of that mean: 25 %, a line of our own, without a source.
const RISE_PERCENT: u64 = 125;
/// Fewer contacts than this are no load to speak of; ours, without a source.
const FEW: u64 = 20;
/// The complete weeks before that a rise is measured against, at least.
const WEEKS_BEFORE: usize = 2;
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
    let mut spoken = format!("{} {rule} {source} {may_do}", seen.saw);
    if !who.is_empty() {
        spoken = format!("{who}. {spoken}");
    }
    let rank = match seen.key {
        "removed" | "clock" => 0,
        "limit" => 2,
        "rise" => 3,
        "wish" | "copy" | "kept" | "clocks" | "apart" => 4,
        _ => 1,
    };
    Notice {
        rank,
        who: who.to_owned(),
        route: seen.route.to_string(),
        saw: seen.saw,
        rule,
        source,
        may_do,
        spoken,
    }
}

/// The notices of one athlete.
pub(crate) fn notices(
    words: &Words,
    env: &Env,
    who: &str,
    member: MemberId,
    training: &Training,
    limits: &[Limit],
    check_ins: &[CheckIn],
) -> Vec<Notice> {
    let mut seen = pain(words, env, member, is_young(&training.card, env.today()), check_ins);
    seen.extend(signs(words, env, member, check_ins));
    seen.extend(against_limits(words, training, limits, env.today()));
    seen.extend(rises(words, member, &training.weeks));
    seen.into_iter().map(|s| notice(words, who, s)).collect()
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

/// This week against the mean of the complete weeks before it, kind by kind.
fn rises(words: &Words, member: MemberId, weeks: &[Week]) -> Vec<Seen> {
    let Some((this, before)) = weeks.split_last() else { return Vec::new() };
    if this.incomplete() {
        return Vec::new();
    }
    let before: Vec<&Week> =
        before.iter().rev().take(4).filter(|w| !w.incomplete() && !w.before_begin).collect();
    if before.len() < WEEKS_BEFORE {
        return Vec::new();
    }
    let contacts = |week: &Week, kind| week.totals.get(kind).map_or(0, |t| t.contacts);
    let mut seen = Vec::new();
    for kind in Kind::ALL {
        let now = contacts(this, *kind);
        let (sum, count) = (before.iter().map(|w| contacts(w, *kind)).sum::<u64>(), before.len() as u64);
        // In whole numbers, so that a rise of exactly the line is shown.
        if now >= FEW && now.saturating_mul(100 * count) >= sum.saturating_mul(RISE_PERCENT) {
            seen.push(Seen {
                key: "rise",
                saw: words.say(
                    "notice-rise-saw",
                    &[
                        ("now", (&whole(now)).into()),
                        ("kind", (&kind_word(words, *kind)).into()),
                        ("mean", (&whole((sum + count / 2) / count)).into()),
                        ("weeks", count.into()),
                    ],
                ),
                route: Route::Athlete(member),
            });
        }
    }
    seen
}

/// Sets of the last two weeks that a limit of their day speaks against.
fn against_limits(words: &Words, training: &Training, limits: &[Limit], today: Day) -> Vec<Seen> {
    let recent = |s: &&DoneSession| s.session.day > today.plus(-14);
    let mut seen = Vec::new();
    for session in training.sessions.iter().filter(recent) {
        for limit in limits.iter().filter(|l| l.holds_on(session.session.day)) {
            let Some(set) = session.sets.iter().find(|set| breaks(set, limit)) else { continue };
            let name = set.exercise.as_ref().map_or_else(String::new, |e| e.name.clone());
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
