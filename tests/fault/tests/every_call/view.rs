//! What is there to be seen, in lines that are the same in every run: ids and
//! hashes are drawn anew each time and stay out of them.

use std::collections::BTreeMap;
use std::path::Path;

use pitside_book::store::{Book, FILE, Filter};
use pitside_log::authority::Judgement;
use pitside_model::facts::{Card, Fact};
use serde::{Deserialize, Serialize};

/// Begins the line of an entry that waits for others to come before it counts.
pub(crate) const WAITING: &str = "waiting";

/// Both devices; `None` where there is no book.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct View {
    pub(crate) key: bool,
    pub(crate) coach: Option<Vec<String>>,
    pub(crate) phone: Option<Vec<String>>,
}

impl View {
    /// Each line is something more that the book has.
    pub(crate) fn lines(book: &Book, folder: &Path) -> Vec<String> {
        let mut lines = Vec::new();
        let sqlite = rusqlite::Connection::open(folder.join(FILE)).unwrap();
        for (table, line) in [("seals", "seal"), ("invitations", "invitation"), ("aside", "aside")] {
            let count = format!("SELECT count(*) FROM {table}");
            let count: usize = sqlite.query_row(&count, [], |r| r.get(0)).unwrap();
            lines.extend(std::iter::repeat_n(line.to_owned(), count));
        }
        lines.extend(book.squad().map(|_| "squad".to_owned()));
        lines.extend(book.members().unwrap().iter().map(|_| "member".to_owned()));
        lines.extend(book.own_members().unwrap().iter().map(|_| "own member".to_owned()));
        lines.extend(book.devices().unwrap().iter().map(|(_, s)| format!("device {}", s.grants.owner)));
        lines.extend(book.uncounted().unwrap().iter().map(|u| match u.judgement {
            Judgement::Waiting => format!("{WAITING} {}", u.kind),
            judgement => format!("{judgement:?} {}", u.kind),
        }));
        for held in book.held(&Filter::default()).unwrap() {
            lines.push(match held.fact() {
                Some(Fact::Session(session)) => format!("session {}", session.purpose.as_deref().unwrap()),
                Some(Fact::Set(set)) => format!("set {}", set.reps),
                Some(Fact::Rest(rest)) => format!("rest {}", rest.day),
                Some(Fact::Card(Card::Name(name))) => format!("member/name {name}"),
                _ => format!("{}/{} {}", held.key.kind, held.key.field, held.is_clash()),
            });
        }
        lines.sort();
        lines
    }

    /// What this one has and the other has not, book by book.
    pub(crate) fn beyond(&self, other: &Self) -> Vec<String> {
        let key = self.key && !other.key;
        let mut beyond: Vec<String> = key.then(|| "a key".to_owned()).into_iter().collect();
        for (name, mine, theirs) in
            [("coach", &self.coach, &other.coach), ("phone", &self.phone, &other.phone)]
        {
            let Some(mine) = mine else { continue };
            if theirs.is_none() {
                beyond.push(format!("{name}: a book"));
            }
            let mut counts = BTreeMap::new();
            mine.iter().for_each(|line| *counts.entry(line).or_insert(0_i32) += 1);
            theirs.iter().flatten().for_each(|line| *counts.entry(line).or_insert(0) -= 1);
            for (line, count) in counts.into_iter().filter(|(_, count)| *count > 0) {
                beyond.push(format!("{name}: {count} of {line}"));
            }
        }
        beyond
    }
}
