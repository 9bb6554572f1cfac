//! What a phone has that nobody else has, and how it gets to the others: where each
//! session is, what two people wrote differently, what is to be known before the phone is
//! erased or changed, and what can be done.

mod end;
mod file;
mod invitation;

pub(crate) use end::trouble;
pub use end::{ExchangeEnd, WorkWords, work_words};
pub use invitation::Invited;

use pitside_book::store::{Book, BookError, Carried, Held, OnlyHere};
use pitside_model::facts::{Day, DeviceKey, kind};

use crate::clock::OwnClock;
use crate::companion::{Companion, ScreenError};
use crate::devices;
use crate::env::Env;
use crate::figure::{day, near_day, weekday};
use crate::record::{Action, Clash, Link};
use crate::route::Route;
use crate::session::{self, Besides};
use crate::squad::squad_name;
use crate::text::Words;
use crate::training::{self, Card, Catalogue};
use crate::wording::{self, device_short, met, moment, name};

/// Days back, today included, of which the sessions are listed.
const DAYS: i32 = 28;
/// The most sessions that are listed.
const MOST: usize = 40;
/// What a device writes for itself: nobody would miss it.
const OWN_BUSINESS: [&str; 8] = [
    kind::SQUAD,
    kind::DEVICE,
    kind::MEMBER,
    kind::EXERCISE,
    kind::CONSENT,
    kind::SAME_PERSON,
    kind::WITHDRAWAL,
    kind::ERASURE,
];

/// What is here alone, and how it gets to the others.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Exchange {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// What is only here, in one line.
    pub header: String,
    /// Which squad this phone is in, or that it is in none.
    pub squad: String,
    /// What a person at this phone should know of its book, the gravest first.
    pub notices: Vec<Link>,
    /// What can be done, the main thing first: `sync`, `join`, `hand-over`, `take-in`.
    pub actions: Vec<Action>,
    /// Said beside these while the battery is low or is being spared.
    pub low_battery: String,
    /// What two people wrote differently about those whom this phone serves.
    pub clashes: Vec<Clash>,
    /// Above the sessions.
    pub sessions_title: String,
    /// The sessions of four weeks, the newest first, each with where it is.
    pub sessions: Vec<KeptRow>,
    /// Said where there is none, or where older ones are only here.
    pub sessions_note: String,
    /// Above the devices.
    pub devices_title: String,
    /// The other devices of the squad, and when each was last met. A file can be written for
    /// each.
    pub devices: Vec<KnownRow>,
    /// Above what is to be known before the phone is erased or changed.
    pub before_title: String,
    /// What would be lost now, or that nothing would: a sentence each.
    pub before: Vec<String>,
    /// Whether something would be lost now.
    pub would_lose: bool,
    /// How a new phone gets to what is elsewhere.
    pub new_phone: String,
    /// How a sync goes, and what it says on the network.
    pub note: String,
    /// Above the devices that a file can be written for.
    pub receivers_title: String,
    /// What a file is, said beside them.
    pub receivers_note: String,
    /// What is said where nothing can be handed over.
    pub no_receivers: String,
    /// Calls off what runs.
    pub cancel: String,
    /// Goes on from what has ended.
    pub close: String,
    /// Leads to the system's ways of passing a file on.
    pub share: String,
}

/// A session, and where it is.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct KeptRow {
    /// The session.
    pub id: String,
    /// Where it stands.
    pub route: String,
    /// The day, and what was done; the name before it where this phone serves several.
    pub text: String,
    /// `here`, `file`, `device` or `coach`.
    pub state: String,
    /// The same in words.
    pub kept: String,
    /// All of it.
    pub spoken: String,
}

/// Another device of the squad.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct KnownRow {
    /// The key.
    pub id: String,
    /// Whose it is.
    pub title: String,
    /// The first letters of its key.
    pub key: String,
    /// When it was last met.
    pub met: String,
    /// All of it.
    pub spoken: String,
}

fn exchange(words: &Words, env: &Env, book: &Book) -> Result<Exchange, BookError> {
    let revision = book.revision();
    let carried = book.carried()?;
    let rest = Rest::read(book)?;
    let devices = known(words, env, book)?;
    let own = OwnClock::read(env, book)?;
    let (sessions, sessions_note) = sessions(words, env, book, &carried)?;
    Ok(Exchange {
        revision,
        title: words.word("exchange-title"),
        header: header(words, env, &carried, &rest),
        squad: squad(words, book)?,
        notices: devices::notices(words, book, own)?.iter().map(devices::Said::link).collect(),
        actions: actions(words, book, &devices)?,
        low_battery: words.word("exchange-low-battery"),
        clashes: clashes(words, env, book)?,
        sessions_title: words.word("exchange-sessions"),
        sessions,
        sessions_note,
        devices_title: words.word("exchange-devices"),
        devices,
        before_title: words.word("exchange-before"),
        before: before(words, book, &carried, &rest),
        would_lose: carried.only_here > 0 || rest.count() > 0,
        new_phone: words.word(match book.squad() {
            Some(_) => "exchange-before-change",
            None => "exchange-before-alone",
        }),
        note: words.word("exchange-note"),
        receivers_title: words.word("exchange-receivers"),
        receivers_note: words.word("exchange-receivers-note"),
        no_receivers: words.word("exchange-no-receivers"),
        cancel: words.word("exchange-cancel"),
        close: words.word("exchange-close"),
        share: words.word("exchange-share"),
    })
}

/// What is only here beside sets.
pub(crate) struct Rest {
    entries: u64,
    /// Of the private part: it leaves only where it is shared.
    private: u64,
}

impl Rest {
    /// As a book has it.
    pub(crate) fn read(book: &Book) -> Result<Self, BookError> {
        Ok(Self::of(&book.only_here()?))
    }

    /// How many entries of either part.
    pub(crate) fn count(&self) -> u64 {
        self.entries + self.private
    }

    /// Both parts in a sentence each, after one about the sets where there are any; empty
    /// where nothing is only here.
    pub(crate) fn said(&self, words: &Words, carried: &Carried) -> Vec<String> {
        let others = if carried.only_here > 0 { "exchange-lost-others" } else { "exchange-lost-entries" };
        [(others, self.entries), ("exchange-lost-private", self.private)]
            .into_iter()
            .filter(|(_, n)| *n > 0)
            .map(|(key, n)| words.say(key, &[("n", n.into())]))
            .collect()
    }

    fn of(only_here: &[OnlyHere]) -> Self {
        let count = |private: bool| {
            let told = |o: &&OnlyHere| {
                o.private == private && o.kind != kind::SET && !OWN_BUSINESS.contains(&o.kind.as_str())
            };
            only_here.iter().filter(told).map(|o| o.entries).sum()
        };
        Self { entries: count(false), private: count(true) }
    }
}

/// What is only here, in one line: `7 sets only on this phone, oldest Tuesday`.
fn header(words: &Words, env: &Env, carried: &Carried, rest: &Rest) -> String {
    if let Some(ms) = carried.oldest_only_here_ms {
        let on = Day::of_stamp(ms, env.zone_min);
        let on = match env.today().number() - on.number() {
            0 | 1 => near_day(words, env, on),
            2..=6 => weekday(words, on),
            _ => day(words, on),
        };
        return words.say("exchange-only-here", &[("n", carried.only_here.into()), ("day", (&on).into())]);
    }
    match rest.count() {
        0 => words.word("exchange-all-carried"),
        n => words.say("exchange-only-others", &[("n", n.into())]),
    }
}

fn squad(words: &Words, book: &Book) -> Result<String, BookError> {
    if book.squad().is_none() {
        return Ok(words.word("exchange-no-squad"));
    }
    Ok(words.say("exchange-squad", &[("name", (&squad_name(words, book)?).into())]))
}

fn actions(words: &Words, book: &Book, devices: &[KnownRow]) -> Result<Vec<Action>, BookError> {
    let action =
        |id: &str, key: &str, route: String| Action { id: id.to_owned(), text: words.word(key), route };
    let join = action("join", "exchange-do-join", Route::Join.to_string());
    if book.squad().is_none() && book.peers()?.is_empty() {
        return Ok(vec![join]);
    }
    let mut actions = vec![action("sync", "exchange-do-sync", String::new())];
    if !devices.is_empty() {
        actions.push(action("hand-over", "exchange-do-hand-over", String::new()));
    }
    actions.extend([action("take-in", "exchange-do-take-in", String::new()), join]);
    Ok(actions)
}

fn sessions(
    words: &Words,
    env: &Env,
    book: &Book,
    carried: &Carried,
) -> Result<(Vec<KeptRow>, String), BookError> {
    let catalogue = Catalogue::read(book)?;
    let members = book.own_members()?;
    let from = env.today().plus(1 - DAYS);
    let mut rows = Vec::new();
    for member in &members {
        let card = Card::read(book, *member)?;
        let all = training::sessions(book, *member, &catalogue, &card, (from, env.today()))?;
        let held: Vec<Held> = all.iter().map(|done| done.held.clone()).collect();
        for (done, begun_at) in all.into_iter().zip(book.written(&held)?) {
            let row = session::row(words, env, book, &catalogue, *member, &done)?;
            let (state, kept) = kept(words, env, book, session::besides(book, &done)?)?;
            let mut text = format!("{}. {}", begun(&row.day), row.text);
            if members.len() > 1 {
                text = format!("{}. {text}", name(words, &card, *member));
            }
            let spoken = format!("{text}. {kept}");
            let at = (done.session.day, begun_at);
            rows.push((
                at,
                KeptRow { id: row.id, route: row.route, text, state: state.into(), kept, spoken },
            ));
        }
    }
    rows.sort_by(|(a, one), (b, other)| b.cmp(a).then_with(|| one.id.cmp(&other.id)));
    rows.truncate(MOST);
    let older = carried.oldest_only_here_ms.map(|ms| Day::of_stamp(ms, env.zone_min)).filter(|on| *on < from);
    let note = match older {
        Some(on) => words.say("exchange-older", &[("day", (&day(words, on)).into())]),
        None if rows.is_empty() => words.word("exchange-no-sessions"),
        None => String::new(),
    };
    Ok((rows.into_iter().map(|(_, row)| row).collect(), note))
}

/// A day as the first word of a line.
fn begun(day: &str) -> String {
    let mut letters = day.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Where a session is: only here, in a file that nobody confirmed, or with another device
/// since its receipt.
fn kept(words: &Words, env: &Env, book: &Book, at: Besides) -> Result<(&'static str, String), BookError> {
    let when = |ms: i64| moment(words, env, ms, env.zone_min);
    Ok(match at {
        Besides::Nowhere => ("here", words.word("exchange-kept-here")),
        Besides::InFile(ms) => ("file", words.say("exchange-kept-file", &[("when", (&when(ms)).into())])),
        Besides::Elsewhere => ("device", words.word("exchange-kept-elsewhere")),
        Besides::With(device, ms) => {
            let coach = book.grants(device)?.owner;
            let (state, key) =
                if coach { ("coach", "exchange-kept-coach") } else { ("device", "exchange-kept-device") };
            (state, words.say(key, &[("when", (&when(ms)).into())]))
        }
    })
}

fn known(words: &Words, env: &Env, book: &Book) -> Result<Vec<KnownRow>, BookError> {
    let peers = book.peers()?;
    let mut rows = Vec::new();
    for (device, standing) in book.devices()? {
        if device == book.device() || !standing.is_admitted() || standing.grants.recovery {
            continue;
        }
        let met_ms = peers.iter().find(|peer| peer.device == device).and_then(|peer| peer.met_ms);
        let title = devices::whose(words, book, &standing.grants)?;
        let key = words.say("device-key", &[("short", (&device_short(device)).into())]);
        let met = met_ms.map_or_else(|| words.word("device-never-met"), |ms| met(words, env, ms));
        let spoken = format!("{title}. {key}. {met}");
        let row = KnownRow { id: device.to_string(), title, key, met, spoken };
        rows.push((!standing.grants.owner, met_ms.is_none(), row));
    }
    rows.sort_by(|a, b| (a.0, a.1, &a.2.title, &a.2.id).cmp(&(b.0, b.1, &b.2.title, &b.2.id)));
    Ok(rows.into_iter().map(|(.., row)| row).collect())
}

/// What is to be known before the phone is erased or changed.
fn before(words: &Words, book: &Book, carried: &Carried, rest: &Rest) -> Vec<String> {
    let mut said = Vec::new();
    if carried.only_here > 0 {
        said.push(words.say("exchange-lost-sets", &[("n", carried.only_here.into())]));
    }
    said.extend(rest.said(words, carried));
    said.push(words.word(match (said.is_empty(), book.squad()) {
        (false, _) => "exchange-before-erase",
        (true, Some(_)) => "exchange-lost-nothing",
        (true, None) => "exchange-nothing-logged",
    }));
    said
}

fn clashes(words: &Words, env: &Env, book: &Book) -> Result<Vec<Clash>, BookError> {
    let catalogue = Catalogue::read(book)?;
    let members = book.own_members()?;
    let mut all = Vec::new();
    for member in &members {
        for (_, mut clash) in wording::clashes(words, env, book, &catalogue, *member)? {
            if members.len() > 1 {
                let who = name(words, &Card::read(book, *member)?, *member);
                clash.title = format!("{who}: {}", clash.title);
            }
            all.push(clash);
        }
    }
    Ok(all)
}

/// A device by its key in hexadecimal.
fn device(text: &str) -> Option<DeviceKey> {
    DeviceKey::parse(text)
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// What is only on this phone, where each session is, what two people wrote
    /// differently, and what can be done about it.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn exchange(&self, env: &Env) -> Result<Exchange, ScreenError> {
        Ok(exchange(&Words::of(&env.language), env, &*self.open_book()?)?)
    }
}
