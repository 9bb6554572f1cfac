//! What the book has of an athlete on the days of a table.

use std::collections::{BTreeMap, BTreeSet};

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::facts::{
    self, Day, Effort, Fact, Hash, MemberId, Scope, Shoes, Subject, Surface, field_name, kind,
};
use pitside_model::import::session::Session;
use pitside_model::import::{Column, Row};

use super::Note;

/// The training of an athlete in the book.
#[derive(Default)]
pub(super) struct Training {
    pub(super) sessions: Vec<There>,
    pub(super) rests: BTreeSet<Day>,
    /// Places among the sessions by day.
    by_day: BTreeMap<Day, Vec<usize>>,
}

/// A session in the book.
pub(super) struct There {
    pub(super) place: Hash,
    pub(super) scope: Scope,
    session: facts::Session,
    pub(super) effort: Option<Effort>,
    /// Its sets that no row has claimed yet; their session is left out of comparison.
    sets: Vec<facts::Set>,
}

impl Training {
    pub(super) fn read(book: &Book, member: MemberId, days: (Day, Day)) -> Result<Self, BookError> {
        let of = |kind, field, days| {
            book.held(&Filter { member: Some(member), kind: Some(kind), field, days, ..Filter::default() })
        };
        let mut training = Self::default();
        let mut places: BTreeMap<Hash, usize> = BTreeMap::new();
        for held in of(kind::SESSION, Some(field_name::WHOLE), Some(days))? {
            let (Some(place), Some(Fact::Session(session))) = (held.id(), held.fact()) else { continue };
            let at = training.sessions.len();
            places.insert(place, at);
            training.by_day.entry(session.day).or_default().push(at);
            training.sessions.push(There {
                place,
                scope: held.key.scope,
                session: session.clone(),
                effort: None,
                sets: Vec::new(),
            });
        }
        for held in of(kind::REST, None, Some(days))? {
            training.rests.extend(held.fact().and_then(Fact::day));
        }
        if places.is_empty() {
            return Ok(training);
        }
        for held in of(kind::SESSION, Some(field_name::EFFORT), None)? {
            let (Subject::Fact(session), Some(Fact::Effort(effort))) = (held.key.subject, held.fact()) else {
                continue;
            };
            if let Some(there) = places.get(&session).and_then(|at| training.sessions.get_mut(*at)) {
                there.effort = Some(*effort);
            }
        }
        for held in of(kind::SET, None, None)? {
            let Some(Fact::Set(set)) = held.fact() else { continue };
            if let Some(there) = places.get(&set.session).and_then(|at| training.sessions.get_mut(*at)) {
                there.sets.push(set.clone());
            }
        }
        Ok(training)
    }

    pub(super) fn has_training(&self, day: Day) -> bool {
        self.by_day.contains_key(&day)
    }

    /// Claims up to so many sets like one for a session of the table, and gives how
    /// many there were: in sessions of its own time, or in those of that day whose time, or
    /// its own, is not known.
    pub(super) fn claim(&mut self, of: &Session, set: &facts::Set, most: u16, exact: bool) -> u16 {
        let mut left = most;
        for at in self.by_day.get(&of.day).map_or(&[][..], Vec::as_slice) {
            let Some(there) = self.sessions.get_mut(*at) else { continue };
            let same = there.session.start_min == of.start_min;
            let open = there.session.start_min.is_none() || of.start_min.is_none();
            if if exact { same } else { open && !same } {
                there.sets.retain(|held| {
                    let alike = left > 0
                        && facts::Set { session: set.session, planned: set.planned, ..held.clone() } == *set;
                    left -= u16::from(alike);
                    !alike
                });
            }
        }
        most - left
    }

    /// The session in the book that one of the table is: the one of its time, or the
    /// only one of a day where the table has one too and a time is missing.
    pub(super) fn home(&self, of: &Session, alone: bool) -> Option<usize> {
        let places = self.by_day.get(&of.day)?;
        let start = |at: &usize| self.sessions.get(*at).and_then(|there| there.session.start_min);
        if let Some(own) = places.iter().find(|at| start(at) == of.start_min) {
            return Some(*own);
        }
        match places.as_slice() {
            [only] if alone && (start(only).is_none() || of.start_min.is_none()) => Some(*only),
            _ => None,
        }
    }
}

impl There {
    /// What a row says of the session and the book does not: the book keeps its own.
    pub(super) fn kept(&self, row: &Row) -> Vec<Note> {
        let (about, session) = (&row.about, &self.session);
        let clock = |min: u16| format!("{:02}:{:02}", min / 60, min % 60);
        let effort = self.effort;
        let tenths = |tenths: u16| (f64::from(tenths) / 10.0).to_string();
        let mut notes = Vec::new();
        let mut compare = |column, row: Option<String>, says: Option<String>| {
            if row.is_some() && row != says {
                notes.push(Note::Kept { column, says });
            }
        };
        compare(Column::Start, row.start_min.map(clock), session.start_min.map(clock));
        compare(Column::Purpose, about.purpose.clone(), session.purpose.clone());
        compare(Column::Place, about.location.clone(), session.location.clone());
        let word = |surface: Surface| surface.word().to_owned();
        compare(Column::Surface, about.surface.map(word), session.surface.map(word));
        let word = |shoes: Shoes| shoes.word().to_owned();
        compare(Column::Shoes, about.shoes.map(word), session.shoes.map(word));
        compare(Column::Weather, about.weather.clone(), session.weather.clone());
        if let Some(effort) = effort {
            compare(Column::Rpe, about.rpe_tenths.map(tenths), Some(tenths(effort.rpe_tenths)));
            let minutes = |minutes: u16| minutes.to_string();
            compare(Column::Minutes, about.minutes.map(minutes), Some(minutes(effort.minutes)));
        }
        notes
    }
}
