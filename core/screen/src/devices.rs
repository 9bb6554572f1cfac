//! The devices of the squad and its members: whose they are, when they were met,
//! what they have of this one, what was taken away, and what an owner can do.

use pitside_book::store::{Book, BookError, Filter, Peer, Reached, Uncounted};
use pitside_log::authority::{Authority, Grants, Judgement, Reach, Reason, Standing};
use pitside_model::facts::{
    DeviceKey, Fact, MemberId, Role, Roster, Scope, Standing as OnRoster, Subject, field_name, kind,
};

use crate::clock::{self, OwnClock};
use crate::env::Env;
use crate::figure::{full_day, near_day, whole};
use crate::record::{Action, Choice, Confirm, DeviceRow, Devices, Link, MemberRow};
use crate::route::Route;
use crate::squad::apart;
use crate::text::Words;
use crate::training::Card;
use crate::wishes::is_kept;
use crate::wording::{device_short, met, moment, name};

pub(crate) fn devices(words: &Words, env: &Env, book: &Book) -> Result<Devices, BookError> {
    let revision = book.revision();
    let authority = book.authority()?;
    let standing = authority.standing(book.device());
    let owner = standing.grants.owner && standing.is_admitted();
    let clock = OwnClock::read(env, book)?;
    let mut known = book.devices()?;
    if known.iter().all(|(device, _)| *device != book.device()) {
        known.push((book.device(), standing));
    }
    let seen = Seen {
        owner,
        off: clock.is_off(),
        peers: book.peers()?,
        uncounted: book.uncounted()?,
        reached: book.reached()?,
    };
    let mut rows = Vec::new();
    for (device, standing) in &known {
        rows.push((!standing.grants.owner, device_row(words, env, book, *device, standing, &seen)?));
    }
    rows.sort_by(|a, b| {
        let order = |(other, row): &(bool, DeviceRow)| (!row.here, !row.removed.is_empty(), *other);
        (order(a), &a.1.title, &a.1.id).cmp(&(order(b), &b.1.title, &b.1.id))
    });
    let note = words.word(match (book.squad(), owner) {
        (None, _) => "devices-alone",
        (Some(_), false) => "devices-read-only",
        (Some(_), true) => "devices-note",
    });
    let only_owner = |key: &str| if owner { words.word(key) } else { String::new() };
    let roles = Role::ALL.iter().filter(|_| owner).map(|role| Choice {
        id: role.word().to_owned(),
        text: words.word(&format!("role-{}", role.word())),
        group: String::new(),
        chosen: *role == Role::Athlete,
    });
    Ok(Devices {
        revision,
        title: words.word("devices-title"),
        note,
        notices: notices(words, book, clock)?.iter().map(Said::link).collect(),
        devices: rows.into_iter().map(|(_, row)| row).collect(),
        links: links(words, book)?,
        members: members(words, book, &authority, owner)?,
        roles: roles.collect(),
        same_note: only_owner("same-note"),
        leave_note: only_owner("leave-note"),
    })
}

/// Something that a person at this device should know of its book.
pub(crate) struct Said {
    /// What it is.
    pub(crate) key: &'static str,
    /// In words.
    pub(crate) text: String,
    /// Where more of it is.
    pub(crate) route: Route,
}

impl Said {
    pub(crate) fn link(&self) -> Link {
        Link { text: self.text.clone(), route: self.route.to_string() }
    }
}

/// What a person at this device should know of its book, the gravest first.
pub(crate) fn notices(words: &Words, book: &Book, clock: OwnClock) -> Result<Vec<Said>, BookError> {
    let mut notices = Vec::new();
    if book.authority()?.standing(book.device()).cut.is_some() {
        notices.push(Said { key: "removed", text: words.word("here-removed"), route: Route::Aside });
    }
    if let Some(text) = clock.said(words) {
        notices.push(Said { key: "clock", text, route: Route::Devices });
    }
    for member in book.asked_to_erase()? {
        if !is_kept(book, member)? {
            let who = name(words, &Card::read(book, member)?, member);
            let text = words.say("here-wish", &[("name", (&who).into())]);
            notices.push(Said { key: "wish", text, route: Route::Wishes });
        }
    }
    if book.was_a_copy()? {
        notices.push(Said { key: "copy", text: words.word("here-copy"), route: Route::Devices });
    }
    Ok(notices)
}

/// The screens that belong to this one.
fn links(words: &Words, book: &Book) -> Result<Vec<Link>, BookError> {
    let apart = apart(words, book)?;
    let text = if apart.is_empty() { words.word("link-aside") } else { apart.join(" ") };
    let mut links = vec![Link { text, route: Route::Aside.to_string() }];
    if !book.asked_to_erase()?.is_empty() {
        links.push(Link { text: words.word("link-wishes"), route: Route::Wishes.to_string() });
    }
    for member in book.own_members()? {
        links.push(sharing_link(words, book, member)?);
    }
    Ok(links)
}

/// Leads to whom a member shares the private part with; on a phone of one nobody is named.
pub(crate) fn sharing_link(words: &Words, book: &Book, member: MemberId) -> Result<Link, BookError> {
    if book.own_members()? == [member] {
        let route = Route::Sharing(member).to_string();
        return Ok(Link { text: words.word("link-sharing-own"), route });
    }
    let who = name(words, &Card::read(book, member)?, member);
    let text = words.say("link-sharing", &[("name", (&who).into())]);
    Ok(Link { text, route: Route::Sharing(member).to_string() })
}

/// Names of some members, joined.
fn names<'a>(
    words: &Words,
    book: &Book,
    members: impl IntoIterator<Item = &'a MemberId>,
) -> Result<String, BookError> {
    let authority = book.authority()?;
    let mut names = Vec::new();
    for member in members {
        // One athlete under two ids is one name.
        let name = name(words, &Card::read(book, authority.person(*member))?, authority.person(*member));
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.sort();
    Ok(names.join(", "))
}

/// What is read once for all rows.
struct Seen {
    /// Whether this device is an owner's.
    owner: bool,
    /// Whether its clock is off, so that the others' say nothing.
    off: bool,
    peers: Vec<Peer>,
    uncounted: Vec<Uncounted>,
    reached: Vec<Reached>,
}

fn device_row(
    words: &Words,
    env: &Env,
    book: &Book,
    device: DeviceKey,
    standing: &Standing,
    seen: &Seen,
) -> Result<DeviceRow, BookError> {
    let here = device == book.device();
    let peer = seen.peers.iter().find(|peer| !here && peer.device == device);
    let since = admitted_ms(book, device)?
        .map(|ms| words.say("device-since", &[("when", (&moment(words, env, ms, env.zone_min)).into())]));
    let late = seen
        .uncounted
        .iter()
        .filter(|u| u.device == device && u.judgement == Judgement::Refused(Reason::Removed))
        .count() as u64;
    let removed = match (standing.cut.is_some(), late) {
        (false, _) => String::new(),
        (true, 0) => words.word("device-removed"),
        (true, n) => {
            format!("{} {}", words.word("device-removed"), words.say("device-late", &[("n", n.into())]))
        }
    };
    let action =
        |id: &str, route: String| Action { id: id.to_owned(), text: words.word(&format!("do-{id}")), route };
    let mut actions = Vec::new();
    if seen.owner && !here {
        if standing.cut.is_some() {
            actions.extend((late > 0).then(|| action("take-in", String::new())));
            actions.push(action("readmit", String::new()));
        } else {
            actions.push(action("give", Route::Give(device).to_string()));
            actions.push(action("remove", Route::Remove(device).to_string()));
        }
    }
    let mut row = DeviceRow {
        id: device.to_string(),
        short: device_short(device),
        title: match book.squad() {
            None if here => words.word("whose-own"),
            _ => whose(words, book, &standing.grants)?,
        },
        key: String::new(),
        here,
        given: given(words, book, &standing.grants)?,
        since: since.unwrap_or_default(),
        met: match peer.and_then(|peer| peer.met_ms) {
            _ if here => String::new(),
            Some(ms) => met(words, env, ms),
            None => words.word("device-never-met"),
        },
        clock: peer
            .filter(|_| !seen.off)
            .and_then(|peer| clock::apart(words, peer.clock_apart_ms?))
            .map(|by| words.say("device-clock", &[("by", (&by).into())]))
            .unwrap_or_default(),
        has: has(words, env, book, device, &seen.reached)?,
        removed,
        actions,
        spoken: String::new(),
    };
    let key = words.say("device-key", &[("short", (&row.short).into())]);
    row.key = if here { format!("{} · {key}", words.word("device-here")) } else { key.clone() };
    let mut said = vec![row.title.clone()];
    said.extend(here.then(|| words.word("device-here")));
    said.push(key);
    said.push(row.removed.clone());
    said.extend(row.given.iter().cloned());
    said.extend([&row.since, &row.met].map(Clone::clone));
    said.extend(row.has.iter().cloned());
    said.push(row.clock.clone());
    said.retain(|s| !s.is_empty());
    row.spoken = said.iter().map(|s| s.trim_end_matches('.')).collect::<Vec<_>>().join(". ");
    Ok(row)
}

/// What a device has of the sets that were written here; for this device, what
/// nobody else is known to have.
fn has(
    words: &Words,
    env: &Env,
    book: &Book,
    device: DeviceKey,
    reached: &[Reached],
) -> Result<Vec<String>, BookError> {
    let mut has = Vec::new();
    if device == book.device() {
        let carried = book.carried()?;
        if let Some(ms) = carried.oldest_only_here_ms {
            let from = near_day(words, env, pitside_model::facts::Day::of_stamp(ms, env.zone_min));
            has.push(words.say("only-here", &[("n", carried.only_here.into()), ("day", (&from).into())]));
        }
        return Ok(has);
    }
    let Some(reached) = reached.iter().find(|r| r.device == device) else { return Ok(has) };
    for (key, sets, at) in [
        ("device-has", reached.confirmed, reached.since_ms),
        ("device-in-file", reached.in_file, reached.file_ms),
    ] {
        if let Some(ms) = at.filter(|_| sets > 0) {
            let when = moment(words, env, ms, env.zone_min);
            has.push(
                words.say(
                    key,
                    &[("n", sets.into()), ("sets", (&whole(sets)).into()), ("when", (&when).into())],
                ),
            );
        }
    }
    Ok(has)
}

/// When a device was first given something, by the clock of the one who gave it.
fn admitted_ms(book: &Book, device: DeviceKey) -> Result<Option<i64>, BookError> {
    let held = book.held(&Filter {
        scope: Some(Scope::Squad),
        kind: Some(kind::DEVICE),
        field: Some(field_name::GRANT),
        subject: Some(Subject::Device(device)),
        ..Filter::default()
    })?;
    Ok(held.iter().flat_map(|h| &h.values).map(|live| live.stamp.ms).min())
}

/// Whose a device is: the names of whom it serves, else its role.
pub(crate) fn whose(words: &Words, book: &Book, grants: &Grants) -> Result<String, BookError> {
    if grants.owner {
        return Ok(words.word("whose-owner"));
    }
    if !grants.serves.is_empty() {
        // Athletes do not learn each other's names; an owner tells a new member by its id.
        let authority = book.authority()?;
        let mut told = authority.standing(book.device()).grants.owner;
        let own = book.own_members()?;
        for member in &grants.serves {
            let person = authority.person(*member);
            told = told || own.contains(&person) || Card::read(book, person)?.name.is_some();
        }
        if !told {
            return Ok(words.word("whose-other"));
        }
        let names = names(words, book, &grants.serves)?;
        return Ok(words.say("whose-athlete", &[("names", (&names).into())]));
    }
    Ok(words.word(match grants {
        g if !g.guards.is_empty() => "whose-guardian",
        g if !g.treats.is_empty() => "whose-medical",
        g if !g.assists.is_empty() => "whose-assistant",
        _ => "whose-nobody",
    }))
}

/// What a device was given, a sentence each.
fn given(words: &Words, book: &Book, grants: &Grants) -> Result<Vec<String>, BookError> {
    let mut given = Vec::new();
    if grants.owner && !grants.serves.is_empty() {
        let names = names(words, book, &grants.serves)?;
        given.push(words.say("given-serves", &[("names", (&names).into())]));
    }
    let reaches: [(&str, &Reach); 5] = [
        ("given-assists", &grants.assists),
        ("given-treats", &grants.treats),
        ("given-guards", &grants.guards),
        ("given-limits", &grants.limits),
        ("given-consents", &grants.consents),
    ];
    for (key, reach) in reaches.into_iter().filter(|(_, reach)| !reach.is_empty()) {
        let names =
            if reach.everyone { words.word("given-everyone") } else { names(words, book, &reach.members)? };
        given.push(words.say(key, &[("names", (&names).into())]));
    }
    Ok(given)
}

/// The roster as it stands, with who left.
pub(crate) fn roster(book: &Book) -> Result<Vec<(MemberId, Roster)>, BookError> {
    let held = book.held(&Filter {
        scope: Some(Scope::Squad),
        kind: Some(kind::MEMBER),
        field: Some(field_name::ROSTER),
        ..Filter::default()
    })?;
    let entries = held.iter().filter_map(|held| match (held.key.subject, held.fact()) {
        (Subject::Uuid(id), Some(Fact::Roster(roster))) => Some((MemberId(id), roster.clone())),
        _ => None,
    });
    Ok(entries.collect())
}

fn members(
    words: &Words,
    book: &Book,
    authority: &Authority,
    owner: bool,
) -> Result<Vec<MemberRow>, BookError> {
    let roster = roster(book)?;
    let here = book.members()?;
    let left = roster.iter().filter(|(_, r)| r.standing == OnRoster::Left).map(|(id, _)| *id);
    let mut ids = here.clone();
    ids.extend(left.filter(|id| !authority.erased.contains(id)));
    ids.sort_unstable();
    ids.dedup();
    let mut rows = Vec::new();
    for id in ids {
        let name = name(words, &Card::read(book, id)?, id);
        let left = roster.iter().find(|(of, r)| *of == id && r.standing == OnRoster::Left);
        let tied = authority.same.iter().any(|(of, first)| (*of == id || *first == id) && of != first);
        let erased = authority.erased.contains(&id);
        let mut standing = Vec::new();
        if let Some((_, roster)) = left {
            let since = full_day(words, roster.since);
            standing.push(match roster.keep_until {
                Some(until) => words.say(
                    "member-left-until",
                    &[("since", (&since).into()), ("until", (&full_day(words, until)).into())],
                ),
                None => words.say("member-left", &[("since", (&since).into())]),
            });
        }
        standing.extend(erased.then(|| words.word("member-erased")));
        standing.extend(tied.then(|| words.word("member-tied")));
        let action = |id: &str, route: String| Action {
            id: id.to_owned(),
            text: words.word(&format!("do-{id}")),
            route,
        };
        let mut actions = Vec::new();
        if owner {
            if left.is_some() {
                actions.push(action("keep-until", String::new()));
                actions.push(action("come-back", String::new()));
            } else {
                actions.push(action("leave", String::new()));
            }
            actions.extend(tied.then(|| action("two-persons", String::new())));
            actions.extend((!erased).then(|| action("erase", Route::Erase(id).to_string())));
        }
        let on_board = here.contains(&id);
        let standing = standing.join(" ");
        let row = MemberRow {
            id: id.to_string(),
            route: if on_board { Route::Athlete(id).to_string() } else { String::new() },
            sharing: on_board.then(|| sharing_link(words, book, id)).transpose()?,
            spoken: if standing.is_empty() { name.clone() } else { format!("{name}. {standing}") },
            name,
            standing,
            actions,
        };
        rows.push((left.is_some(), row));
    }
    rows.sort_by(|a, b| {
        (a.0, a.1.name.to_lowercase(), &a.1.id).cmp(&(b.0, b.1.name.to_lowercase(), &b.1.id))
    });
    Ok(rows.into_iter().map(|row| row.1).collect())
}

/// What is said before a device is removed; nothing where it is not known, or is
/// this one.
pub(crate) fn confirm_removal(
    words: &Words,
    book: &Book,
    device: DeviceKey,
) -> Result<Option<Confirm>, BookError> {
    let authority = book.authority()?;
    let known = authority.standings.get(&device).filter(|s| !s.grants.recovery && device != book.device());
    let Some(standing) = known else { return Ok(None) };
    let whose = whose(words, book, &standing.grants)?;
    let mut not_reached = vec![words.word("remove-keeps")];
    not_reached.extend(standing.grants.owner.then(|| words.word("remove-senior")));
    Ok(Some(Confirm {
        title: words
            .say("remove-title", &[("whose", (&whose).into()), ("short", (&device_short(device)).into())]),
        means: ["remove-counts", "remove-late", "remove-stops", "remove-back"]
            .map(|key| words.word(key))
            .to_vec(),
        not_reached,
        files: vec![],
        yes: words.word("remove-yes"),
        no: Link { text: words.word("confirm-no"), route: Route::Devices.to_string() },
    }))
}

/// What is said before a member is erased: in full what is reached and what not.
pub(crate) fn confirm_erasure(
    words: &Words,
    env: &Env,
    book: &Book,
    member: MemberId,
) -> Result<Confirm, BookError> {
    let who = name(words, &Card::read(book, member)?, member);
    let (authority, ids) = (book.authority()?, person(book, member)?);
    let asked = authority.standings.iter().filter(|(device, standing)| {
        **device != book.device() && standing.cut.is_none() && ids.iter().any(|id| standing.grants.keeps(*id))
    });
    let asked = asked.count() as u64;
    let means = [
        words.say("erase-here", &[("name", (&who).into())]),
        words.word("erase-staff"),
        if asked == 0 {
            words.word("erase-nobody-asked")
        } else {
            words.say("erase-asked", &[("n", asked.into())])
        },
        words.word("erase-final"),
    ];
    let when = |ms: i64| moment(words, env, ms, env.zone_min);
    let mut files = Vec::new();
    for (path, ms) in book.backups()? {
        files.push(words.say("file-backup", &[("path", (&path).into()), ("when", (&when(ms)).into())]));
    }
    for id in ids {
        for (to, ms) in book.handed_about(id)? {
            let whose = crate::wording::device(words, book, to)?;
            let said = words.say("file-handed", &[("whose", (&whose).into()), ("when", (&when(ms)).into())]);
            if !files.contains(&said) {
                files.push(said);
            }
        }
    }
    let known = words.word(if files.is_empty() { "erase-files-unknown" } else { "erase-files-known" });
    Ok(Confirm {
        title: words.say("erase-title", &[("name", (&who).into())]),
        means: means.to_vec(),
        not_reached: vec![words.word("erase-copies"), words.word("erase-trace"), known],
        files,
        yes: words.say("erase-yes", &[("name", (&who).into())]),
        no: Link { text: words.word("confirm-no"), route: Route::Devices.to_string() },
    })
}

/// Every id of one athlete.
fn person(book: &Book, member: MemberId) -> Result<Vec<MemberId>, BookError> {
    let authority = book.authority()?;
    let person = authority.person(member);
    let mut ids = vec![member, person];
    ids.extend(authority.same.iter().filter(|(_, first)| **first == person).map(|(id, _)| *id));
    ids.sort_unstable();
    ids.dedup();
    Ok(ids)
}
