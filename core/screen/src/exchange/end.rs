//! A sync as a person sees it: how far it is, how it ended, and what may be done then.

use pitside_book::carrier::{CarrierError, NotReached};
use pitside_book::exchange::ExchangeError;
use pitside_book::pairing::PairingError;
use pitside_book::store::BookError;
use pitside_log::sync::{Refusal, SyncError};

use crate::companion::Companion;
use crate::env::Env;
use crate::job::{Job, Moves, Nearby, Synced, Trouble};
use crate::text::Words;

/// How a piece of exchange ended, or the writing of all data, in words.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct ExchangeEnd {
    /// It came to its end.
    pub done: bool,
    /// What came of it, and what may be done where it came to nothing.
    pub text: String,
    /// More of it; may be empty.
    pub more: String,
    /// The device was not where it was last: it may be looked for nearby.
    pub look_nearby: bool,
    /// The file that was written; empty for none.
    pub path: String,
}

impl ExchangeEnd {
    pub(crate) fn good(text: String) -> Self {
        Self { done: true, text, ..Self::default() }
    }

    pub(crate) fn bad(text: String) -> Self {
        Self { text, ..Self::default() }
    }
}

/// What a sync moved, in words.
fn synced(words: &Words, synced: &Synced) -> String {
    let count = |key: &str, n: u64| words.say(key, &[("n", n.into())]);
    format!("{} {}", count("end-received", synced.received), count("end-sent", synced.sent))
}

/// Why it came to nothing, in words.
pub(crate) fn trouble(words: &Words, why: &Trouble) -> ExchangeEnd {
    let key = match why {
        Trouble::Cancelled | Trouble::Exchange(ExchangeError::CalledOff) => "end-called-off",
        Trouble::Nobody => "end-nobody",
        Trouble::NotReached(e) => return not_reached(words, e),
        Trouble::Exchange(ExchangeError::Sync(SyncError::RefusedByPeer(why) | SyncError::Refused(why))) => {
            refusal(*why)
        }
        Trouble::Exchange(ExchangeError::Sync(SyncError::Segment(_) | SyncError::Message(_))) => {
            "end-refused"
        }
        Trouble::Exchange(ExchangeError::Sync(SyncError::Store(e))) | Trouble::Book(e) => book(e),
        Trouble::Exchange(ExchangeError::Link(_) | ExchangeError::Endless) => "end-broken",
        Trouble::Text(PairingError::Prefix | PairingError::TooLong) => "end-no-invitation",
        Trouble::Text(PairingError::Garbled) => "end-garbled",
        Trouble::Closed => "end-book",
    };
    ExchangeEnd::bad(words.word(key))
}

fn not_reached(words: &Words, e: &NotReached) -> ExchangeEnd {
    let any = |is: fn(&CarrierError) -> bool| e.tried.iter().any(|tried| is(&tried.error));
    // Another key is the one thing that calling again does not mend.
    let key = if any(|e| matches!(e, CarrierError::WrongKey { .. } | CarrierError::Unproved)) {
        "end-other-device"
    } else if any(|e| matches!(e, CarrierError::Busy)) {
        "end-busy"
    } else {
        "end-not-reached"
    };
    let addresses: Vec<&str> = e.tried.iter().map(|tried| tried.address.as_str()).collect();
    let tried = || words.say("end-tried", &[("addresses", (&addresses.join(", ")).into())]);
    ExchangeEnd {
        text: words.word(key),
        more: if addresses.is_empty() { String::new() } else { tried() },
        look_nearby: true,
        ..ExchangeEnd::default()
    }
}

fn refusal(why: Refusal) -> &'static str {
    match why {
        Refusal::Protocol => "end-protocol",
        Refusal::OtherSquad => "end-other-squad",
        Refusal::NotAdmitted => "end-not-admitted",
        Refusal::Invitation => "end-invitation-used",
        Refusal::Expired => "end-invitation-over",
        Refusal::NotOwner => "end-not-owner",
        Refusal::Store => "end-their-book",
        Refusal::Turn | Refusal::Garbage | Refusal::Scope | Refusal::Segment => "end-refused",
    }
}

pub(crate) fn book(e: &BookError) -> &'static str {
    match e {
        BookError::HasSquad => "end-has-squad",
        BookError::Demo => "end-demo",
        BookError::Full => "end-full",
        _ => "end-book",
    }
}

/// An end in words, of a sync or of the first one.
fn ended(words: &Words, began: &str, ended: Result<Synced, Trouble>) -> ExchangeEnd {
    match ended {
        Ok(moved) => ExchangeEnd { more: synced(words, &moved), ..ExchangeEnd::good(words.word(began)) },
        Err(why) => trouble(words, &why),
    }
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Brings the book together with the first device that is found of those it knows:
    /// where it was last, and at what was found nearby. However it ends is said in words.
    #[must_use]
    pub fn sync_now(&self, env: &Env, found: &[Nearby], job: &Job) -> ExchangeEnd {
        ended(&Words::of(&env.language), "end-synced", self.synced(env, "", found, job))
    }

    /// Joins a squad by the text of an invitation, and syncs for the first time.
    #[must_use]
    pub fn join_now(&self, env: &Env, text: &str, job: &Job) -> ExchangeEnd {
        ended(&Words::of(&env.language), "end-joined", self.joined(env, text, job))
    }
}

/// What the system shows while long work goes on: a phone's services are named before
/// a book is open.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct WorkWords {
    /// The kind of notice, as it stands in the settings of the system.
    pub channel: String,
    /// The heading of the notice.
    pub title: String,
    /// Calls the work off.
    pub cancel: String,
}

/// What the system shows while long work goes on.
#[uniffi::export]
#[must_use]
pub fn work_words(env: &Env) -> WorkWords {
    let words = Words::of(&env.language);
    WorkWords {
        channel: words.word("job-channel"),
        title: words.word("job-title"),
        cancel: words.word("exchange-cancel"),
    }
}

#[uniffi::export]
impl Job {
    /// How far it is, in words.
    #[must_use]
    pub fn told(&self, env: &Env) -> String {
        let (words, now) = (Words::of(&env.language), self.progress());
        let moved = |key: &str| words.say(key, &[("moved", now.moved.into()), ("of", now.of.into())]);
        if now.cancelled {
            return words.word("job-calling-off");
        }
        match self.moves() {
            Moves::Entries if self.is_reaching() || now.of == 0 => words.word("job-looking"),
            Moves::Entries => moved("job-moved"),
            Moves::Export if now.of == 0 => words.word("job-export-begins"),
            Moves::Export => moved("job-export"),
            Moves::Clip => {
                let percent = now.moved.saturating_mul(100) / now.of.max(1);
                words.say("job-clip", &[("percent", percent.into())])
            }
        }
    }
}
