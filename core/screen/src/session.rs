//! One session: its sets, what they come to, and why.

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Draft, Filter, Whereabouts};
use pitside_model::facts::exercise::Kind;
use pitside_model::facts::{self, DeviceKey, Fact, Hash, MemberId, Subject, field_name, kind};
use pitside_model::load::contact::{ContactLoad, Landing, Origin, Push};
use pitside_model::load::session::{KindTotal, Ledger};

use crate::companion::{ScreenError, optional, refused};
use crate::env::Env;
use crate::exercises::left_out;
use crate::figure::{clock, decimal, full_day, near_day, whole};
use crate::judged;
use crate::naming;
use crate::record::{KindRow, Link, Pair, Session, SessionRow, SetRow, TakeRow};
use crate::route::Route;
use crate::session_log::{conditions, reason, refuse_clash};
use crate::text::Words;
use crate::training::{self, Card, Catalogue, DoneSession, DoneSet, Trouble};
use crate::wording::{self, caution, hardest, kind_word, name};

pub(crate) fn session(
    words: &Words,
    env: &Env,
    book: &Book,
    place: Hash,
) -> Result<Option<Session>, BookError> {
    let revision = book.revision();
    let held = book.held(&Filter {
        kind: Some(kind::SESSION),
        field: Some(field_name::WHOLE),
        subject: Some(Subject::Fact(place)),
        ..Filter::default()
    })?;
    let Some(held) = held.into_iter().next() else { return Ok(None) };
    let Some(member) = held.key.scope.member() else { return Ok(None) };
    let catalogue = Catalogue::read(book)?;
    let card = Card::read(book, member)?;
    let Some(done) = training::session(book, held, &catalogue, &card)? else { return Ok(None) };
    let who = name(words, &card, member);
    let ids: Vec<_> = done
        .sets
        .iter()
        .map(|s| &s.held)
        .chain([&done.held])
        .chain(&done.effort_held)
        .map(|h| h.key.clone())
        .collect();
    let clashes = wording::clashes(words, env, book, &catalogue, member)?
        .into_iter()
        .filter(|(held, _)| ids.contains(&held.key))
        .map(|(_, clash)| clash)
        .collect();
    let mut cautions: Vec<String> =
        done.sets.iter().filter_map(|s| caution(words, s.exercise.as_ref()?)).collect();
    for set in &done.sets {
        cautions.extend(set.left_out(done.session.surface).into_iter().map(|left| left_out(words, left)));
    }
    cautions.sort();
    cautions.dedup();
    Ok(Some(Session {
        revision,
        id: place.to_string(),
        title: done.session.purpose.clone().unwrap_or_else(|| words.word("session")),
        athlete: Link { text: who, route: Route::Athlete(member).to_string() },
        card: card_of(words, env, &done),
        sets: alike(&done.sets).map(|sets| set_row(words, &catalogue, sets)).collect(),
        totals: kind_rows(words, &done),
        pit: pit(words, done.record.totals.pit_landings()),
        takes: take_rows(words, env, book, &catalogue, member, &done)?,
        clashes,
        cautions,
        notes: ["note-landing", "note-push", "note-kinds", "note-estimate"]
            .map(|key| words.word(key))
            .to_vec(),
    }))
}

/// Writes down that a session was cut short, and why.
pub(crate) fn cut_short(book: &Book, env: &Env, place: Hash, why: &str) -> Result<(), ScreenError> {
    let held = book.held(&Filter {
        kind: Some(kind::SESSION),
        field: Some(field_name::WHOLE),
        subject: Some(Subject::Fact(place)),
        ..Filter::default()
    })?;
    let found = held.first().and_then(|held| match held.fact() {
        Some(Fact::Session(session)) => Some((held, session.clone())),
        _ => None,
    });
    let (held, session) = found.ok_or_else(|| ScreenError::NotFound { what: "session".to_owned() })?;
    refuse_clash(&Words::of(&env.language), held)?;
    let cut_short =
        optional(why).ok_or_else(|| refused("why", "left out".to_owned(), "why, in a few words"))?;
    let fact = Fact::Session(facts::Session { cut_short: Some(cut_short), ..session });
    book.write(held.key.scope, &Draft::replacing(held, fact), env.stamp())?;
    Ok(())
}

/// The takes of the session, beside those of the weeks before.
fn take_rows(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    done: &DoneSession,
) -> Result<Vec<TakeRow>, BookError> {
    if done.takes.is_empty() {
        return Ok(Vec::new());
    }
    let all = training::takes_until(book, catalogue, member, done.session.day)?;
    let shown = all.iter().filter(|take| done.takes.iter().any(|own| own.place == take.place));
    judged::rows(words, env, book, catalogue, member, &all, shown)
}

fn card_of(words: &Words, env: &Env, done: &DoneSession) -> Vec<Pair> {
    let session = &done.session;
    let mut card = Vec::new();
    let mut pair = |key: &str, value: String| card.push(Pair { label: words.word(key), value });
    let mut when = full_day(words, session.day);
    if let Some(start) = session.start_min {
        when = format!("{when}, {}", clock(words, env, start));
    }
    pair("label-day", when);
    match &done.effort {
        Some(effort) => {
            let load = done.load().map_or(0, u64::from);
            let text = wording::effort(words, effort);
            pair("label-effort", format!("{text} = {}", whole(load)));
        }
        None => pair("label-effort", words.word("effort-missing")),
    }
    if let Some(location) = &session.location {
        pair("label-location", location.clone());
    }
    if let Some(surface) = session.surface {
        pair("label-surface", words.word(&format!("surface-{}", surface.word())));
    }
    if let Some(shoes) = session.shoes {
        pair("label-shoes", words.word(&format!("shoes-{}", shoes.word())));
    }
    if let Some(weather) = &session.weather {
        pair("label-weather", weather.clone());
    }
    if let Some(why) = &session.cut_short {
        pair("label-cut-short", reason(words, why));
    }
    card.extend(conditions(words, &session.conditions));
    card
}

/// Runs of sets that say the same and come to the same.
fn alike(sets: &[DoneSet]) -> impl Iterator<Item = &[DoneSet]> {
    sets.chunk_by(|a, b| a.set == b.set && a.timed == b.timed && !a.held.is_clash() && !b.held.is_clash())
}

fn set_row(words: &Words, catalogue: &Catalogue, sets: &[DoneSet]) -> SetRow {
    let done = &sets[0];
    let mut text = wording::set(words, catalogue, &done.set);
    if sets.len() > 1 {
        text = words.say("sets-alike", &[("n", (sets.len() as u64).into()), ("set", (&text).into())]);
    }
    let contacts = done.contacts();
    let by_energy = |a: &&ContactLoad<'_>, b: &&ContactLoad<'_>| {
        a.landing.energy_j_per_kg_per_leg.total_cmp(&b.landing.energy_j_per_kg_per_leg)
    };
    let hardest = contacts.iter().max_by(by_energy);
    let landing = hardest.map(|c| {
        words.say(
            "landing",
            &[
                ("speed", (&decimal(words, c.landing.closing_speed_m_s, 1)).into()),
                ("energy", (&decimal(words, c.landing.energy_j_per_kg_per_leg, 1)).into()),
            ],
        )
    });
    let push = contacts
        .iter()
        .filter_map(|c| c.push)
        .max_by(|a, b| a.mean_force_bw_per_leg.total_cmp(&b.mean_force_bw_per_leg))
        .map(|push| {
            words.say(
                "push",
                &[
                    ("mean", (&decimal(words, push.mean_force_bw_per_leg, 1)).into()),
                    ("peak", (&decimal(words, push.peak_bw_estimate, 1)).into()),
                ],
            )
        });
    let trouble = match &done.record {
        Ok(_) => String::new(),
        Err(Trouble::NoExercise) => words.word("trouble-exercise"),
        Err(Trouble::Field(e)) => words.say("trouble-field", &[("why", (&e.to_string()).into())]),
    };
    // Both speak of the contact whose landing is shown.
    let source = hardest.map_or_else(String::new, |c| source(words, done, c));
    let mark = hardest.map_or_else(String::new, |c| words.word(mark(c)));
    let (landing, push) = (landing.unwrap_or_default(), push.unwrap_or_default());
    let spoken: Vec<&str> = [&text, &landing, &push, &mark, &trouble]
        .into_iter()
        .map(String::as_str)
        .filter(|s| !s.is_empty())
        .collect();
    SetRow {
        id: done.held.id().map_or_else(String::new, |p| p.to_string()),
        spoken: spoken.join(". "),
        text,
        landing,
        push,
        mark,
        source,
        trouble,
        numbers: hardest.map_or_else(Vec::new, |contact| done.numbers(words, contact)),
    }
}

/// The mark beside a set's numbers.
fn mark(contact: &ContactLoad<'_>) -> &'static str {
    let measured = contact.inputs.contact_s.origin == Origin::Measured;
    match (measured, contact.inputs.rests_on_an_estimate()) {
        (true, false) => "mark-measured",
        (true, true) => "mark-partly",
        (false, true) => "mark-estimate",
        (false, false) => "mark-published",
    }
}

/// Which times a set's numbers come from, and the formulas.
fn source(words: &Words, done: &DoneSet, contact: &ContactLoad<'_>) -> String {
    let times = match contact.inputs.contact_s.origin {
        Origin::Measured => words.word("times-measured"),
        Origin::Stated => words.word("times-stated"),
        Origin::Default { source, .. } => {
            let support = done.exercise.as_ref().map(|e| wording::support(words, e.support));
            words.say(
                "times-default",
                &[("support", (&support.unwrap_or_default()).into()), ("source", source.into())],
            )
        }
    };
    let mut parts = vec![times, format!("{}: {}", words.word("label-landing"), Landing::source())];
    if contact.push.is_some() {
        parts.push(format!("{}: {}", words.word("label-push"), Push::source()));
    }
    parts.join(". ")
}

/// Landings in the pit, in words; nothing where there was none.
fn pit(words: &Words, landings: u64) -> String {
    if landings == 0 { String::new() } else { words.say("pit-landings", &[("n", landings.into())]) }
}

/// What was done of each kind, the drills of the warm-up apart.
fn kind_rows(words: &Words, done: &DoneSession) -> Vec<KindRow> {
    let nothing = KindTotal::default();
    let row = |kind: &Kind| {
        let (total, warm_up) = (done.record.totals.get(*kind), done.record.warm_up.get(*kind));
        let any = total.is_some() || warm_up.is_some();
        any.then(|| kind_row(words, *kind, total.unwrap_or(&nothing), warm_up))
    };
    Kind::ALL.iter().filter_map(row).collect()
}

fn kind_row(words: &Words, kind: Kind, total: &KindTotal, warm_up: Option<&KindTotal>) -> KindRow {
    let leg = |ledger: Ledger| {
        words.say(
            "leg-total",
            &[
                ("n", ledger.contacts.into()),
                ("energy", (&whole(ledger.energy_j_per_kg().round() as u64)).into()),
            ],
        )
    };
    let energy = words.say("energy", &[("energy", (&whole(total.energy_j_per_kg().round() as u64)).into())]);
    let (left, right) = (leg(total.left), leg(total.right));
    let (label, hardest) = (kind_word(words, kind), hardest(words, total.hardest.as_ref()));
    let contacts = words.say("contacts", &[("n", total.contacts.into())]);
    let side = |side: &str, told: &str| format!("{} {told}", words.word(side));
    let legs = [side("side-left", &left), side("side-right", &right)];
    let warm_up = warm_up.map_or_else(String::new, |total| whole(total.contacts));
    let warm_up_spoken = if warm_up.is_empty() {
        String::new()
    } else {
        words.say("warm-up-spoken", &[("n", (&warm_up).into())])
    };
    let spoken = [&label, &contacts, &energy, &legs[0], &legs[1], &hardest, &warm_up_spoken];
    let spoken = spoken.map(String::as_str);
    let spoken: Vec<&str> = spoken.into_iter().filter(|s| !s.is_empty()).collect();
    KindRow {
        id: kind.word().to_owned(),
        spoken: spoken.join(". "),
        text: format!("{label}: {contacts}, {energy}"),
        label,
        contacts: whole(total.contacts),
        energy,
        left,
        right,
        hardest,
        warm_up,
    }
}

/// A session in a list.
pub(crate) fn row(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    done: &DoneSession,
) -> Result<SessionRow, BookError> {
    let named = |id| Some(naming::named(words, id, catalogue.get(id)?));
    let mut names: Vec<String> = done.sets.iter().filter_map(|s| named(s.set.exercise)).collect();
    names.dedup();
    let purpose = done.session.purpose.clone().unwrap_or_else(|| words.word("session"));
    let text = if names.is_empty() { purpose } else { format!("{purpose}: {}", names.join("; ")) };
    let contacts = words.say("contacts", &[("n", done.record.totals.plyometric_contacts().into())]);
    let figures = match done.load() {
        Some(load) => {
            let load = words.say("load", &[("load", (&whole(load.into())).into())]);
            format!("{contacts}, {load}")
        }
        None => contacts,
    };
    let kept =
        if !book.own_members()?.contains(&member) { String::new() } else { kept(words, env, book, done)? };
    let day = near_day(words, env, done.session.day);
    let mut spoken = format!("{day}. {text}. {figures}");
    if !kept.is_empty() {
        spoken = format!("{spoken}. {kept}");
    }
    Ok(SessionRow {
        id: done.place.to_string(),
        route: Route::Session(done.place).to_string(),
        day,
        text,
        figures,
        kept,
        spoken,
    })
}

/// Where a session is besides here, as receipts prove it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Besides {
    /// A part of it is nowhere else.
    Nowhere,
    /// The whole, but a part of it only in a file that was handed over then.
    InFile(i64),
    /// The whole is with this device since then.
    With(DeviceKey, i64),
    /// Nothing of it was written here, so another device has it.
    Elsewhere,
}

/// Where a session is besides here: as far as the part of it is that is least far.
pub(crate) fn besides(book: &Book, done: &DoneSession) -> Result<Besides, BookError> {
    let mut handed = None;
    let mut with: Option<(DeviceKey, i64)> = None;
    for held in done.sets.iter().map(|set| &set.held).chain([&done.held]).chain(&done.effort_held) {
        match book.whereabouts(held.value().place)? {
            Whereabouts::NotOwn => {}
            Whereabouts::OnlyHere => return Ok(Besides::Nowhere),
            Whereabouts::Handed { at_ms, .. } => handed = handed.max(Some(at_ms)),
            Whereabouts::With(devices) => {
                let first = devices.first().copied();
                if first.map(|(_, at)| at) > with.map(|(_, at)| at) {
                    with = first;
                }
            }
        }
    }
    Ok(match (handed, with) {
        (Some(at), _) => Besides::InFile(at),
        (None, Some((device, at))) => Besides::With(device, at),
        (None, None) => Besides::Elsewhere,
    })
}

fn kept(words: &Words, env: &Env, book: &Book, done: &DoneSession) -> Result<String, BookError> {
    let at = |ms: i64| {
        let stamp = Stamp { ms, zone_min: env.zone_min };
        format!("{}, {}", near_day(words, env, stamp.day()), clock(words, env, stamp.minute()))
    };
    Ok(match besides(book, done)? {
        Besides::Nowhere => words.word("kept-here"),
        Besides::InFile(ms) => words.say("kept-file", &[("at", (&at(ms)).into())]),
        Besides::Elsewhere => words.word("kept-elsewhere"),
        Besides::With(device, ms) => {
            let coach = book.grants(device)?.owner;
            words.say(if coach { "kept-coach" } else { "kept-device" }, &[("at", (&at(ms)).into())])
        }
    })
}
