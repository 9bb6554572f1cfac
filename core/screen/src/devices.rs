//! The squad's devices, and what is held and does not count: nothing is dropped in
//! silence.

use std::collections::BTreeSet;

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Peer};
use pitside_log::authority::{Judgement, Reach, Reason, Standing};
use pitside_model::facts::{DeviceKey, MemberId, Scope};

use crate::env::Env;
use crate::figure::{clock, near_day};
use crate::record::{ApartRow, DeviceRow, Devices};
use crate::text::Words;
use crate::training::Card;
use crate::wording::name;

/// A clock that is off by less than this is nobody's business.
const CLOCK_MS: u64 = 10 * 60_000;

pub(crate) fn devices(words: &Words, env: &Env, book: &Book) -> Result<Devices, BookError> {
    let revision = book.revision();
    let peers = book.peers()?;
    let mut rows = Vec::new();
    for (device, standing) in book.devices()? {
        let peer = peers.iter().find(|peer| peer.device == device);
        rows.push(row(words, env, book, device, &standing, peer)?);
    }
    let mut uncounted = Vec::new();
    for entry in book.uncounted()? {
        let whose = match entry.scope {
            Scope::Squad => words.word("scope-squad"),
            Scope::Staff => words.word("scope-staff"),
            Scope::Member(member) | Scope::Private(member) => called(words, book, member)?,
        };
        let device = short(entry.device);
        let text = words.say(
            "uncounted-entry",
            &[
                ("kind", (&entry.kind).into()),
                ("whose", (&whose).into()),
                ("device", (&device).into()),
                ("at", (&at(words, env, entry.stamp.ms)).into()),
            ],
        );
        uncounted.push(apart(entry.hash.to_string(), text, words.word(why(entry.judgement))));
    }
    let mut refused = Vec::new();
    for (n, piece) in book.aside()?.iter().enumerate() {
        let text = words.say(
            "refused-piece",
            &[
                ("device", (&piece.from.map_or_else(|| "?".to_owned(), short)).into()),
                ("at", (&at(words, env, piece.at_ms)).into()),
                ("bytes", piece.bytes.into()),
                ("times", piece.times.into()),
            ],
        );
        refused.push(apart(format!("{}-{n}", piece.at_ms), text, piece.reason.clone()));
    }
    Ok(Devices {
        revision,
        title: words.word("devices"),
        devices: rows,
        uncounted,
        refused,
        notices: notices(words, book)?,
    })
}

/// What a person at this device should know about its book.
pub(crate) fn notices(words: &Words, book: &Book) -> Result<Vec<String>, BookError> {
    let mut notices = Vec::new();
    if book.authority()?.standing(book.device()).cut.is_some() {
        notices.push(words.word("notice-removed"));
    }
    if book.was_a_copy()? {
        notices.push(words.word("notice-copy"));
    }
    for member in book.asked_to_erase()? {
        notices.push(words.say("notice-erase", &[("who", (&called(words, book, member)?).into())]));
    }
    if let Some(ms) = book.clock_doubt_ms()?
        && ms.unsigned_abs() > CLOCK_MS
    {
        notices.push(words.say("notice-clock", &[("by", (&apart_by(words, -ms)).into())]));
    }
    Ok(notices)
}

fn row(
    words: &Words,
    env: &Env,
    book: &Book,
    device: DeviceKey,
    standing: &Standing,
    peer: Option<&Peer>,
) -> Result<DeviceRow, BookError> {
    let (id, short) = (device.to_string(), short(device));
    let role = role(words, book, standing)?;
    let mut states = Vec::new();
    if device == book.device() {
        states.push(words.word("device-this"));
    }
    if standing.cut.is_some() {
        states.push(words.word("device-removed"));
    }
    if let Some(ms) = peer.and_then(|peer| peer.met_ms) {
        states.push(words.say("device-met", &[("at", (&at(words, env, ms)).into())]));
    }
    if let Some(ms) = peer.and_then(|peer| peer.clock_apart_ms).filter(|ms| ms.unsigned_abs() > CLOCK_MS) {
        states.push(words.say("device-clock", &[("by", (&apart_by(words, ms)).into())]));
    }
    let state = states.join(", ");
    let spoken = if state.is_empty() { role.clone() } else { format!("{role}. {state}") };
    Ok(DeviceRow { id, short, role, state, spoken })
}

fn role(words: &Words, book: &Book, standing: &Standing) -> Result<String, BookError> {
    let grants = &standing.grants;
    let mut roles = Vec::new();
    if grants.owner {
        roles.push(words.word("role-coach"));
    }
    let serves = Reach { everyone: false, members: grants.serves.clone() };
    for (key, reach) in [
        ("role-athlete", &serves),
        ("role-assistant", &grants.assists),
        ("role-medical", &grants.treats),
        ("role-guardian", &grants.guards),
    ] {
        if !reach.is_empty() {
            let who = if reach.everyone {
                words.word("everyone")
            } else {
                all_called(words, book, &reach.members)?
            };
            roles.push(words.say(key, &[("who", (&who).into())]));
        }
    }
    Ok(roles.join("; "))
}

fn all_called(words: &Words, book: &Book, members: &BTreeSet<MemberId>) -> Result<String, BookError> {
    let persons: BTreeSet<MemberId> = {
        let authority = book.authority()?;
        members.iter().map(|m| authority.person(*m)).collect()
    };
    let names: Vec<String> =
        persons.into_iter().map(|member| called(words, book, member)).collect::<Result<_, _>>()?;
    Ok(names.join(", "))
}

fn called(words: &Words, book: &Book, member: MemberId) -> Result<String, BookError> {
    Ok(name(words, &Card::read(book, member)?, member))
}

fn apart(id: String, text: String, why: String) -> ApartRow {
    let spoken = format!("{text}: {why}");
    ApartRow { id, text, why, spoken }
}

/// The key of the words for why an entry does not count.
fn why(judgement: Judgement) -> &'static str {
    match judgement {
        Judgement::Counted | Judgement::Waiting => "why-waiting",
        Judgement::Refused(reason) => match reason {
            Reason::OwnerOnly => "why-owner-only",
            Reason::MemberOnly => "why-member-only",
            Reason::NotGiven => "why-not-given",
            Reason::WrongScope => "why-wrong-scope",
            Reason::SecondFounding => "why-second-founding",
            Reason::Removed => "why-removed",
            Reason::Senior => "why-senior",
            Reason::Erased => "why-erased",
        },
    }
}

/// The first letters of a key, enough to tell devices apart by eye.
fn short(device: DeviceKey) -> String {
    device.to_string().chars().take(12).collect()
}

fn at(words: &Words, env: &Env, ms: i64) -> String {
    let stamp = Stamp { ms, zone_min: env.zone_min };
    format!("{}, {}", near_day(words, env, stamp.day()), clock(words, env, stamp.minute()))
}

/// By how much a clock is off, in words.
fn apart_by(words: &Words, ms: i64) -> String {
    let minutes = ms.unsigned_abs() / 60_000;
    let (unit, n) = match minutes {
        0..120 => ("clock-minutes", minutes),
        120..2_880 => ("clock-hours", minutes / 60),
        _ => ("clock-days", minutes / 1_440),
    };
    let amount = words.say(unit, &[("n", n.into())]);
    words.say(if ms > 0 { "clock-ahead" } else { "clock-behind" }, &[("amount", (&amount).into())])
}
