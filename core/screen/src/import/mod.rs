//! A training log out of a spreadsheet → what it would add to a book.
//!
//! A [`Plan`] says of every line what becomes of it before anything is written,
//! and writes all of it or nothing. It only adds: what the book has of a session
//! stays, and sets that are in it already are not taken twice, so that a table
//! may be brought again after more was written into it.

mod names;
mod there;

use std::collections::{BTreeMap, BTreeSet};

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Draft, Together};
use pitside_model::facts::exercise::Exercise;
use pitside_model::facts::{self, Approach, Day, Effort, Fact, Hash, MemberId, RestDay, Scope, Subject};
use pitside_model::import::session::{Session, gather};
use pitside_model::import::{About, Column, Columns, Does, Fault, Log, Row, SetRow, Why};
use uuid::Uuid;

use crate::log_set::possible_legs;
use crate::training;
use names::{Exercises, People};
use there::{There, Training};

/// What a training log would add to a book.
pub struct Plan {
    lines: Vec<PlannedLine>,
    newcomers: Vec<Newcomer>,
    sessions: Vec<PlannedSession>,
    rests: Vec<(Who, Day)>,
}

/// What becomes of a line.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedLine {
    /// The line, counted from 1.
    pub line: u64,
    /// Its day, where it can be read.
    pub day: Option<Day>,
    /// Who trained, as the squad calls them where they are known.
    pub athlete: Option<String>,
    /// What was done, as the squad calls it where it is known.
    pub exercise: Option<String>,
    /// What becomes of it.
    pub outcome: Outcome,
    /// What a person should know besides.
    pub notes: Vec<Note>,
}

/// What becomes of a line.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// Something of it is new.
    Taken(Taken),
    /// All of it is in the book, or in a line above.
    There,
    /// It cannot be taken, and with it nothing of the table.
    Refused(Vec<Reason>),
}

/// What is new in a line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Taken {
    /// Sets that are new.
    pub sets: u16,
    /// Sets that are in the book already.
    pub sets_there: u16,
    /// Whether a session begins with it.
    pub session: bool,
    /// Whether it rates its session.
    pub rating: bool,
    /// Whether it is a rest day.
    pub rest_day: bool,
}

/// Why a line is refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Reason {
    /// It cannot be read, or contradicts another line.
    #[error(transparent)]
    Fault(Fault),
    /// Nobody has that name.
    #[error("nobody is called {name:?} here{}", like(nearest))]
    Nobody {
        /// The name.
        name: String,
        /// The names nearest to it, the nearest first.
        nearest: Vec<String>,
    },
    /// More than one has that name.
    #[error("more than one is called {name:?} here")]
    Several {
        /// The name.
        name: String,
    },
    /// No exercise has that name.
    #[error("no exercise is called {name:?}{}", like(nearest))]
    NoExercise {
        /// The name.
        name: String,
        /// The names nearest to it, the nearest first.
        nearest: Vec<String>,
    },
    /// More than one exercise has that name.
    #[error("more than one exercise is called {name:?}")]
    SeveralExercises {
        /// The name.
        name: String,
    },
    /// Who has that name left the squad.
    #[error("{name:?} left the squad")]
    Left {
        /// The name.
        name: String,
    },
    /// The day is yet to come.
    #[error("{0} is yet to come: only what was done is taken")]
    Future(Day),
    /// A rest day on which the book has training.
    #[error("a rest day, but the book has training on that day")]
    Trained,
}

impl Reason {
    /// The column that is at fault, where one is.
    #[must_use]
    pub fn column(&self) -> Option<Column> {
        match self {
            Self::Fault(fault) => fault.column,
            Self::Nobody { .. } | Self::Several { .. } | Self::Left { .. } => Some(Column::Athlete),
            Self::NoExercise { .. } | Self::SeveralExercises { .. } => Some(Column::Exercise),
            Self::Trained => Some(Column::Rest),
            Self::Future(_) => Some(Column::Date),
        }
    }
}

/// What a person should know of a line that is not refused.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Note {
    /// The book says something else of the session, and keeps it.
    #[error("`{}` stays as the book has it: {}", .column.name(), says.as_deref().unwrap_or("nothing"))]
    Kept {
        /// What of the session.
        column: Column,
        /// What the book says; `None` where it says nothing.
        says: Option<String>,
    },
    /// Its sets stand in a session of another time, which keeps its rating or none.
    #[error("its sets are in a session of another time in the book; the rating is not taken")]
    NotRated,
    /// The book calls the day a rest day.
    #[error("the book has that day as a rest day")]
    RestDay,
}

/// Somebody who would be put on the roster.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Newcomer {
    /// The name as it is first written.
    pub name: String,
    /// The line of it.
    pub line: u64,
    /// Names on the roster that are near to it: is it one of them?
    pub nearest: Vec<String>,
}

/// How many of what a plan would add.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Lines of which something is new.
    pub taken: u64,
    /// Lines that are in the book already.
    pub there: u64,
    /// Lines that are refused.
    pub refused: u64,
    /// New athletes.
    pub newcomers: u64,
    /// New sessions.
    pub sessions: u64,
    /// New sets.
    pub sets: u64,
    /// New ratings of sessions.
    pub ratings: u64,
    /// New rest days.
    pub rest_days: u64,
}

/// How names that nobody has are taken, and empty ones.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Naming {
    /// Whose a row is that names nobody.
    pub unnamed: Option<MemberId>,
    /// Whether those who are missing are put on the roster.
    pub new_members: bool,
}

/// An athlete of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Who {
    Known(MemberId),
    /// By place among the newcomers.
    New(usize),
}

/// A session that something is written into.
struct PlannedSession {
    who: Who,
    /// The session in the book, and its scope.
    home: Option<(Hash, Scope)>,
    fact: facts::Session,
    effort: Option<Effort>,
    /// A set, and how many alike.
    sets: Vec<(facts::Set, u16)>,
}

/// What a row is after its names are known.
struct Known<'a> {
    at: usize,
    line: u64,
    row: &'a Row,
    set: Option<(facts::Set, u16)>,
}

impl Plan {
    /// What a training log would add to a book, which stays as it is. Days after
    /// `today` are refused: mostly a year is mistyped.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn new(book: &Book, log: &Log, naming: Naming, today: Day) -> Result<Self, BookError> {
        let mut planning = Planning {
            columns: &log.columns,
            today,
            people: People::read(book, naming)?,
            exercises: Exercises::read(book)?,
            lines: Vec::with_capacity(log.lines.len()),
            sessions: Vec::new(),
            rests: Vec::new(),
        };
        let mut athletes: BTreeMap<Who, Vec<Known<'_>>> = BTreeMap::new();
        for (at, line) in log.lines.iter().enumerate() {
            let known = planning.line(at, line.line, line.row.as_ref());
            if let Some((who, known)) = known {
                athletes.entry(who).or_default().push(known);
            }
        }
        for (who, rows) in athletes {
            planning.athlete(book, who, &rows)?;
        }
        let Planning { people, lines, sessions, rests, .. } = planning;
        Ok(Self { lines, newcomers: people.newcomers, sessions, rests })
    }

    /// What becomes of every line, in their order.
    #[must_use]
    pub fn lines(&self) -> &[PlannedLine] {
        &self.lines
    }

    /// Who would be put on the roster.
    #[must_use]
    pub fn newcomers(&self) -> &[Newcomer] {
        &self.newcomers
    }

    /// How many of what it would add.
    #[must_use]
    pub fn counts(&self) -> Counts {
        let mut counts = Counts { newcomers: self.newcomers.len() as u64, ..Counts::default() };
        for line in &self.lines {
            match &line.outcome {
                Outcome::Taken(taken) => {
                    counts.taken += 1;
                    counts.sessions += u64::from(taken.session);
                    counts.sets += u64::from(taken.sets);
                    counts.ratings += u64::from(taken.rating);
                    counts.rest_days += u64::from(taken.rest_day);
                }
                Outcome::There => counts.there += 1,
                Outcome::Refused(_) => counts.refused += 1,
            }
        }
        counts
    }

    /// Whether a line is refused; nothing is written then.
    #[must_use]
    pub fn is_refused(&self) -> bool {
        self.lines.iter().any(|line| matches!(line.outcome, Outcome::Refused(_)))
    }

    /// Whether it would add nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.newcomers.is_empty() && self.sessions.is_empty() && self.rests.is_empty()
    }

    /// Goes through the whole of writing and takes it back: the book stays as it is.
    ///
    /// # Errors
    /// As [`Plan::write`].
    pub fn rehearse(&self, book: &Book, now: Stamp) -> Result<(), BookError> {
        book.rehearse(now, |together| self.write_together(together))
    }

    /// Writes all of it in one transaction, or nothing. A plan of which a line is
    /// refused writes nothing.
    ///
    /// # Errors
    /// As [`Book::write`].
    pub fn write(&self, book: &Book, now: Stamp) -> Result<(), BookError> {
        if self.is_refused() || self.is_empty() {
            return Ok(());
        }
        book.together(now, |together| self.write_together(together))
    }

    fn write_together(&self, together: &Together<'_>) -> Result<(), BookError> {
        let newcomers: Vec<MemberId> = self
            .newcomers
            .iter()
            .map(|newcomer| together.add_member(&newcomer.name))
            .collect::<Result<_, _>>()?;
        let scope = |who: Who| match who {
            Who::Known(member) => Some(Scope::Member(member)),
            Who::New(at) => newcomers.get(at).copied().map(Scope::Member),
        };
        for session in &self.sessions {
            let (place, scope) = match (session.home, scope(session.who)) {
                (Some(home), _) => home,
                (None, Some(scope)) => {
                    (together.write(scope, &Draft::new(Fact::Session(session.fact.clone())))?, scope)
                }
                (None, None) => continue,
            };
            for (set, times) in &session.sets {
                let draft = Draft::new(Fact::Set(facts::Set { session: place, ..set.clone() }));
                for _ in 0..*times {
                    together.write(scope, &draft)?;
                }
            }
            if let Some(effort) = session.effort {
                together.write(scope, &Draft::about(Subject::Fact(place), Fact::Effort(effort)))?;
            }
        }
        for (who, day) in &self.rests {
            if let Some(scope) = scope(*who) {
                together.write(scope, &Draft::new(Fact::Rest(RestDay { day: *day })))?;
            }
        }
        Ok(())
    }
}

/// A plan while it is made.
struct Planning<'a> {
    columns: &'a Columns,
    today: Day,
    people: People,
    exercises: Exercises,
    lines: Vec<PlannedLine>,
    sessions: Vec<PlannedSession>,
    rests: Vec<(Who, Day)>,
}

impl Planning<'_> {
    /// Begins a line: its names are found, or it is refused.
    fn line<'a>(
        &mut self,
        at: usize,
        line: u64,
        row: Result<&'a Row, &'a Vec<Fault>>,
    ) -> Option<(Who, Known<'a>)> {
        let mut planned = PlannedLine {
            line,
            day: None,
            athlete: None,
            exercise: None,
            outcome: Outcome::There,
            notes: Vec::new(),
        };
        let row = match row {
            Ok(row) => row,
            Err(faults) => {
                planned.outcome = Outcome::Refused(faults.iter().cloned().map(Reason::Fault).collect());
                self.lines.push(planned);
                return None;
            }
        };
        let mut reasons = Vec::new();
        planned.day = Some(row.day);
        if row.day > self.today {
            reasons.push(Reason::Future(row.day));
        }
        let who = match &row.athlete {
            Some(name) => self.people.find(name, line).map_err(|reason| reasons.push(reason)).ok(),
            None => self.people.unnamed().or_else(|| {
                let fault = Fault::new(self.columns, Column::Athlete, "", Why::Missing);
                reasons.push(Reason::Fault(fault));
                None
            }),
        };
        planned.athlete = who.map(|who| self.people.called(who)).or_else(|| row.athlete.clone());
        let mut set = None;
        if let Does::Sets(wanted) = &row.does {
            planned.exercise = Some(wanted.exercise.clone());
            match self.exercises.find(&wanted.exercise) {
                Ok((id, exercise)) => {
                    planned.exercise = Some(exercise.name.clone());
                    let fact = set_of(id, exercise, wanted);
                    if let Err(wrong) = training::check(&fact, exercise) {
                        let why = Why::Exercise(wrong.range);
                        let column = column_of(wrong.field, wanted);
                        reasons.push(Reason::Fault(Fault::new(self.columns, column, "", why)));
                    }
                    set = Some((fact, wanted.sets));
                }
                Err(reason) => reasons.push(reason),
            }
        }
        if !reasons.is_empty() {
            planned.outcome = Outcome::Refused(reasons);
        }
        self.lines.push(planned);
        // A refused row tells of its session all the same, so that no other is refused for
        // missing it.
        who.map(|who| (who, Known { at, line, row, set }))
    }

    /// Plans the rows of one athlete.
    fn athlete(&mut self, book: &Book, who: Who, rows: &[Known<'_>]) -> Result<(), BookError> {
        let days = rows.iter().map(|known| known.row.day);
        let (Some(first), Some(last)) = (days.clone().min(), days.max()) else { return Ok(()) };
        let mut training = match who {
            Who::Known(member) => Training::read(book, member, (first, last))?,
            Who::New(_) => Training::default(),
        };
        let lined: Vec<(u64, &Row)> = rows.iter().map(|known| (known.line, known.row)).collect();
        let gathered = gather(self.columns, &lined);
        for (at, fault) in gathered.faults {
            if let Some(known) = rows.get(at) {
                self.refuse(known.at, Reason::Fault(fault));
            }
        }
        let mut rested = BTreeSet::new();
        for known in rows.iter().filter(|known| known.row.does == Does::Rest) {
            let day = known.row.day;
            if self.is_refused(known.at) || training.rests.contains(&day) || !rested.insert(day) {
                continue;
            }
            if training.has_training(day) {
                self.refuse(known.at, Reason::Trained);
                continue;
            }
            self.take(known.at, |taken| taken.rest_day = true);
            self.rests.push((who, day));
        }
        // Sessions come by day, so those of one day stand together.
        for day in gathered.sessions.chunk_by(|a, b| a.day == b.day) {
            self.day(who, rows, day, &mut training);
        }
        Ok(())
    }

    /// Plans the sessions of one athlete and day.
    fn day(&mut self, who: Who, rows: &[Known<'_>], sessions: &[Session], training: &mut Training) {
        // What a session has at its own time goes to it before another one may claim it.
        let mut wanted: Vec<Vec<(usize, u16)>> = sessions
            .iter()
            .map(|session| {
                let sets = session.rows.iter().filter_map(|at| Some((*at, rows.get(*at)?.set.as_ref()?.1)));
                sets.collect()
            })
            .collect();
        for exact in [true, false] {
            for (session, wanted) in sessions.iter().zip(&mut wanted) {
                for (at, left) in wanted {
                    let set = rows.get(*at).and_then(|known| known.set.as_ref());
                    if let Some((set, _)) = set {
                        *left -= training.claim(session, set, *left, exact);
                    }
                }
            }
        }
        for (session, wanted) in sessions.iter().zip(wanted) {
            let home = training.home(session, sessions.len() == 1);
            self.session(who, rows, session, home, &wanted, training);
        }
    }

    fn session(
        &mut self,
        who: Who,
        rows: &[Known<'_>],
        session: &Session,
        home: Option<usize>,
        new_sets: &[(usize, u16)],
        training: &Training,
    ) {
        let home = home.and_then(|home| training.sessions.get(home));
        let known = |at: &usize| rows.get(*at);
        let all_there = new_sets.iter().all(|(_, left)| *left == 0);
        let effort = effort_of(&session.about);
        // Sets of a session without a home may all stand in another one of that day.
        let elsewhere = home.is_none() && all_there && !new_sets.is_empty();
        if elsewhere
            && effort.is_some()
            && let Some(first) = session.rows.first().and_then(known)
        {
            self.note(first.at, Note::NotRated);
        }
        let rating = effort.filter(|_| home.is_none_or(|home| home.effort.is_none()) && !elsewhere);
        let begins = home.is_none() && !elsewhere;
        for (at, left) in new_sets {
            let Some(Known { at, set: Some((_, sets)), .. }) = known(at) else { continue };
            if *left > 0 {
                self.take(*at, |taken| (taken.sets, taken.sets_there) = (*left, sets - left));
            }
        }
        if let Some(first) = session.rows.first().and_then(known) {
            if begins {
                self.take(first.at, |taken| taken.session = true);
            }
            if training.rests.contains(&session.day) {
                self.note(first.at, Note::RestDay);
            }
        }
        if rating.is_some() {
            let mut rated = session.rows.iter().filter_map(known);
            if let Some(rated) = rated.find(|known| known.row.about.rpe_tenths.is_some()) {
                self.take(rated.at, |taken| taken.rating = true);
            }
        }
        if let Some(home) = home {
            for known in session.rows.iter().filter_map(known) {
                for note in home.kept(known.row) {
                    self.note(known.at, note);
                }
            }
        }
        let sets: Vec<(facts::Set, u16)> = new_sets
            .iter()
            .filter(|(_, left)| *left > 0)
            .filter_map(|(at, left)| Some((known(at)?.set.as_ref()?.0.clone(), *left)))
            .collect();
        if begins || rating.is_some() || !sets.is_empty() {
            let home = home.map(|home: &There| (home.place, home.scope));
            self.sessions.push(PlannedSession { who, home, fact: fact_of(session), effort: rating, sets });
        }
    }

    /// Says what is taken of a line that is not refused.
    fn take(&mut self, at: usize, say: impl FnOnce(&mut Taken)) {
        let outcome = &mut self.lines[at].outcome;
        let mut taken = match outcome {
            Outcome::Taken(taken) => *taken,
            Outcome::There => Taken::default(),
            Outcome::Refused(_) => return,
        };
        say(&mut taken);
        *outcome = Outcome::Taken(taken);
    }

    fn note(&mut self, at: usize, note: Note) {
        self.lines[at].notes.push(note);
    }

    fn is_refused(&self, at: usize) -> bool {
        matches!(self.lines[at].outcome, Outcome::Refused(_))
    }

    fn refuse(&mut self, at: usize, reason: Reason) {
        match &mut self.lines[at].outcome {
            Outcome::Refused(reasons) => reasons.push(reason),
            outcome => *outcome = Outcome::Refused(vec![reason]),
        }
    }
}

/// The set of a row; its session is filled in when it is written.
fn set_of(id: Uuid, exercise: &Exercise, row: &SetRow) -> facts::Set {
    let usual = possible_legs(exercise).first().copied().unwrap_or(facts::Leg::Both);
    facts::Set {
        session: Hash([0; 32]),
        exercise: id,
        reps: row.reps,
        contacts_per_rep: row.contacts,
        leg: row.leg.unwrap_or(usual),
        box_mm: row.box_mm,
        approach: row.approach,
        load_g: row.load_g,
        last_10_m_ms: row.last_10_m_ms,
        cue: row.cue,
        warm_up: row.warm_up,
        planned: None,
    }
}

/// The column of a field that an exercise has no room for.
fn column_of(field: &str, row: &SetRow) -> Column {
    match (field, row.approach) {
        ("reps", _) => Column::Reps,
        ("contacts_per_rep", _) => Column::Contacts,
        ("leg", _) => Column::Leg,
        ("box_mm", _) => Column::Box,
        ("added_load_g", _) => Column::Load,
        ("approach", Some(Approach::Strides(_))) => Column::Strides,
        ("approach", _) => Column::RunIn,
        _ => Column::Exercise,
    }
}

fn fact_of(session: &Session) -> facts::Session {
    let about = &session.about;
    facts::Session {
        day: session.day,
        start_min: session.start_min,
        purpose: about.purpose.clone(),
        location: about.location.clone(),
        surface: about.surface,
        shoes: about.shoes,
        weather: about.weather.clone(),
        cut_short: None,
        conditions: facts::Conditions::default(),
    }
}

fn effort_of(about: &About) -> Option<Effort> {
    Some(Effort { rpe_tenths: about.rpe_tenths?, minutes: about.minutes? })
}

/// Names that come near, as a sentence goes on with them.
fn like(nearest: &[String]) -> String {
    let quoted: Vec<String> = nearest.iter().map(|name| format!("{name:?}")).collect();
    match quoted.as_slice() {
        [] => String::new(),
        names => format!("; nearest: {}", names.join(", ")),
    }
}
