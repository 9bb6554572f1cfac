//! A member's training, read from the book and computed: sessions with their
//! sets and totals, takes with their times.

use std::cell::OnceCell;
use std::collections::{BTreeMap, BTreeSet};

use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_model::facts::exercise::FieldError;
use pitside_model::facts::{
    self, Approach, Card as CardField, Day, DeviceKey, Exercise, Fact, Hash, HopPattern, Level, Limit,
    MemberId, Side, Subject, field_name, kind,
};
use pitside_model::load::caution::LeftOut;
use pitside_model::load::contact::{ContactLoad, repetition};
use pitside_model::load::course::DayRecord;
use pitside_model::load::performed::{self, Athlete, Leg, Performed, Timed};
use pitside_model::load::session::session_rpe;
use pitside_model::timing::agreement::{differences, judging_frames};
use pitside_model::timing::{Scale, Take, Timed as Measured, TimingError, mean};
use uuid::Uuid;

use crate::clock::OwnClock;
use crate::exercises;
use crate::record::NumberRow;
use crate::text::Words;

/// What a squad has of its own to compute with: its exercises, or the product's before
/// there is a squad, and its judging of events on a clip.
pub(crate) struct Catalogue {
    exercises: BTreeMap<Uuid, Exercise>,
    /// Read when the first take is: it needs all takes of everybody.
    judging_frames: OnceCell<Option<f64>>,
}

impl Catalogue {
    pub(crate) fn read(book: &Book) -> Result<Self, BookError> {
        let exercises = book.exercises()?.into_iter().collect();
        Ok(Self { exercises, judging_frames: OnceCell::new() })
    }
    pub(crate) fn get(&self, id: Uuid) -> Option<&Exercise> {
        self.exercises.get(&id)
    }
    pub(crate) fn iter(&self) -> impl Iterator<Item = (Uuid, &Exercise)> {
        self.exercises.iter().map(|(id, exercise)| (*id, exercise))
    }

    /// The half-width of the squad's judging of one event, in frames, where enough events
    /// were timed by two people; it replaces the default.
    pub(crate) fn judging_frames(&self, book: &Book) -> Result<Option<f64>, BookError> {
        if let Some(found) = self.judging_frames.get() {
            return Ok(*found);
        }
        let found = judging(book)?;
        Ok(*self.judging_frames.get_or_init(|| found))
    }
}

/// The squad's own judging, from all clips that two people timed.
fn judging(book: &Book) -> Result<Option<f64>, BookError> {
    let takes = book.held(&Filter { kind: Some(kind::TAKE), ..Filter::default() })?;
    let mut clips: BTreeMap<[u8; 32], Vec<(DeviceKey, &facts::Take)>> = BTreeMap::new();
    for held in &takes {
        if let Some(Fact::Take(take)) = held.fact() {
            clips.entry(take.frames).or_default().push((held.value().device, take));
        }
    }
    let mut apart = Vec::new();
    for timed in clips.values() {
        // The first two people: a third would count the first one's readings twice.
        let [first, rest @ ..] = timed.as_slice() else { continue };
        let Some(second) = rest.iter().find(|(device, _)| *device != first.0) else { continue };
        // Whoever saw other events says nothing about how these are judged.
        let ticks = i64::from(first.1.frame_ticks);
        apart.extend(differences(&first.1.events, &second.1.events, ticks).unwrap_or_default());
    }
    Ok(judging_frames(&apart))
}

/// What is known of a member.
#[derive(Clone, Debug, Default)]
pub(crate) struct Card {
    pub(crate) name: Option<String>,
    pub(crate) born: Option<Day>,
    pub(crate) level: Option<Level>,
    pub(crate) take_off: Option<Side>,
    pub(crate) pattern: Option<HopPattern>,
    pub(crate) mass_g: Option<u32>,
    /// Top speed in mm/s, with its standard uncertainty.
    pub(crate) top_speed: Option<(u32, Option<u32>)>,
    /// Time constant of acceleration in ms, with its standard uncertainty.
    pub(crate) tau: Option<(u32, Option<u32>)>,
    /// A stride of the run-in, mm.
    pub(crate) stride_mm: Option<u32>,
}

impl Card {
    pub(crate) fn read(book: &Book, member: MemberId) -> Result<Self, BookError> {
        let mut card = Self::default();
        let filter = Filter { member: Some(member), kind: Some(kind::MEMBER), ..Filter::default() };
        for held in book.held(&filter)? {
            let Some(Fact::Card(field)) = held.fact() else { continue };
            match field {
                CardField::Name(name) => card.name = Some(name.clone()),
                CardField::Born(day) => card.born = Some(*day),
                CardField::Level(level) => card.level = Some(*level),
                CardField::TakeOffLeg(side) => card.take_off = Some(*side),
                CardField::HopPattern(pattern) => card.pattern = Some(*pattern),
                CardField::MassG(g) => card.mass_g = Some(*g),
                CardField::Sprint { vmax_mm_s, tau_ms, vmax_u_mm_s, tau_u_ms } => {
                    card.top_speed = Some((*vmax_mm_s, *vmax_u_mm_s));
                    card.tau = Some((*tau_ms, *tau_u_ms));
                }
                CardField::StrideMm(mm) => card.stride_mm = Some(*mm),
            }
        }
        Ok(card)
    }

    pub(crate) fn athlete(&self) -> Athlete {
        Athlete {
            mass_g: self.mass_g,
            top_speed_mm_s: self.top_speed.map(|s| s.0),
            tau_ms: self.tau.map(|s| s.0),
            top_speed_u_mm_s: self.top_speed.and_then(|s| s.1),
            tau_u_ms: self.tau.and_then(|s| s.1),
            stride_mm: self.stride_mm,
        }
    }
}

/// The events of a clip, and the times that follow.
#[derive(Clone)]
pub(crate) struct DoneTake {
    pub(crate) place: Hash,
    /// Who timed it.
    pub(crate) device: DeviceKey,
    pub(crate) fact: facts::Take,
    pub(crate) scale: Scale,
    /// The squad's own judging, in frames, where it stands in the scale for the default.
    pub(crate) own_judging: Option<f64>,
    pub(crate) times: Result<Take, TimingError>,
}

impl DoneTake {
    /// The times of a take, with the squad's own judging where it has one.
    pub(crate) fn new(place: Hash, device: DeviceKey, fact: facts::Take, own_judging: Option<f64>) -> Self {
        let usual = Scale::of(&fact);
        let scale = Scale { judging_frames: own_judging.unwrap_or(usual.judging_frames), ..usual };
        let times = Take::read(&fact.events, &scale);
        Self { place, device, fact, scale, own_judging, times }
    }
}

/// A set and what it comes to.
pub(crate) struct DoneSet {
    pub(crate) held: Held,
    pub(crate) set: facts::Set,
    pub(crate) exercise: Option<Exercise>,
    /// Timed means by place in the series.
    pub(crate) timed: Vec<Timed>,
    athlete: Athlete,
    /// What it adds to its day, or why that cannot be computed.
    pub(crate) record: Result<DayRecord, Trouble>,
}

/// Why a set cannot be computed.
pub(crate) enum Trouble {
    /// Its exercise is not in the catalogue, or has not arrived.
    NoExercise,
    /// It does not fit its exercise.
    Field(FieldError),
}

/// A session, its effort, and what its sets come to.
pub(crate) struct DoneSession {
    pub(crate) place: Hash,
    pub(crate) held: Held,
    pub(crate) session: facts::Session,
    pub(crate) effort: Option<facts::Effort>,
    pub(crate) effort_held: Option<Held>,
    pub(crate) sets: Vec<DoneSet>,
    pub(crate) takes: Vec<DoneTake>,
    /// What it adds to its day.
    pub(crate) record: DayRecord,
}

impl DoneSession {
    /// Session-RPE × minutes, where both are known.
    pub(crate) fn load(&self) -> Option<u32> {
        self.effort.and_then(|e| session_rpe(e.rpe_tenths, e.minutes).ok())
    }
}

/// The limits of a member, those that hold first, then the newest.
pub(crate) fn limits(book: &Book, member: MemberId, own: OwnClock) -> Result<Vec<Limit>, BookError> {
    let filter = Filter { member: Some(member), kind: Some(kind::LIMIT), ..Filter::default() };
    let mut limits: Vec<Limit> = book
        .held(&filter)?
        .iter()
        .flat_map(|held| &held.values)
        .filter_map(|live| match &live.fact {
            // While two people disagree on a limit, both hold.
            Ok(Fact::Limit(limit)) => Some(limit.clone()),
            _ => None,
        })
        .collect();
    limits.sort_by_key(|limit| (!own.holds(limit), core::cmp::Reverse(limit.from)));
    Ok(limits)
}

/// The takes of a member up to a day, the newest last: of eight weeks, with which one of
/// that day is compared.
pub(crate) fn takes_until(
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    day: Day,
) -> Result<Vec<DoneTake>, BookError> {
    takes(book, catalogue, member, (day.plus(-7 * 8), day))
}

/// The takes of a member in a stretch of days, the newest last.
pub(crate) fn takes(
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    days: (Day, Day),
) -> Result<Vec<DoneTake>, BookError> {
    let filter =
        Filter { member: Some(member), kind: Some(kind::TAKE), days: Some(days), ..Filter::default() };
    let mut takes = Vec::new();
    for held in book.held(&filter)? {
        let (Some(place), Some(Fact::Take(fact))) = (held.id(), held.fact()) else { continue };
        takes.push(DoneTake::new(place, held.value().device, fact.clone(), catalogue.judging_frames(book)?));
    }
    Ok(takes)
}

/// The run-in of the set that a take shows.
pub(crate) fn run_in(book: &Book, take: &facts::Take) -> Result<Option<Approach>, BookError> {
    let Some(set) = take.set else { return Ok(None) };
    let filter = Filter { kind: Some(kind::SET), subject: Some(Subject::Fact(set)), ..Filter::default() };
    Ok(book.held(&filter)?.iter().find_map(|held| match held.fact() {
        Some(Fact::Set(set)) => set.approach,
        _ => None,
    }))
}

/// Times of the takes of a set, averaged by the contact's place in the series.
fn timed(takes: &[DoneTake], set: Hash, places: usize) -> Vec<Timed> {
    let mut contacts = vec![Vec::new(); places];
    let mut flights = vec![Vec::new(); places];
    for take in takes.iter().filter(|t| t.fact.set == Some(set)) {
        let Ok(times) = &take.times else { continue };
        for (at, contact) in times.contacts.iter().enumerate() {
            contacts[at.min(places - 1)].push(contact.timed);
            let after = times.flights.iter().find(|f| f.toe_off == contact.toe_off);
            flights[at.min(places - 1)].extend(after.map(|f| f.timed));
        }
    }
    let means = |of: &[Vec<Measured>]| -> Vec<Option<Measured>> { of.iter().map(|m| mean(m)).collect() };
    let (contacts, flights) = (means(&contacts), means(&flights));
    (0..places)
        .map(|at| {
            // The flight before the repeating contact is the one after it.
            let before = at.checked_sub(1).and_then(|before| flights[before]);
            Timed::measured(before, contacts[at], flights[at])
        })
        .collect()
}

impl DoneSet {
    fn new(held: Held, set: facts::Set, catalogue: &Catalogue, takes: &[DoneTake], card: &Card) -> Self {
        let exercise = catalogue.get(set.exercise).cloned();
        let timed = match (held.id(), &exercise) {
            (Some(place), Some(exercise)) => timed(takes, place, exercise.series.len().max(1)),
            _ => Vec::new(),
        };
        let mut done =
            Self { held, set, exercise, timed, athlete: card.athlete(), record: Err(Trouble::NoExercise) };
        if let Some(performed) = done.performed() {
            let mut record = DayRecord::default();
            let added = record.add_set(done.set.exercise, &performed, done.set.warm_up);
            done.record = added.map(|()| record).map_err(Trouble::Field);
        }
        done
    }

    /// As the computation takes it; nothing where its exercise is not known.
    pub(crate) fn performed(&self) -> Option<Performed<'_>> {
        let timed =
            if self.timed.iter().any(|t| *t != Timed::default()) { self.timed.as_slice() } else { &[] };
        Some(performed(self.exercise.as_ref()?, &self.set, timed, self.athlete))
    }

    /// The numbers of one of its contacts, each with what it rests on.
    pub(crate) fn numbers(&self, words: &Words, contact: &ContactLoad<'_>) -> Vec<NumberRow> {
        self.performed().map_or_else(Vec::new, |set| exercises::numbers(words, &set, contact))
    }

    /// What its numbers leave out, on the session's surface.
    pub(crate) fn left_out(&self, surface: Option<facts::Surface>) -> Vec<LeftOut> {
        self.performed().map_or_else(Vec::new, |set| LeftOut::of_set(&set, surface))
    }

    /// The contacts of one repetition.
    pub(crate) fn contacts(&self) -> Vec<ContactLoad<'_>> {
        self.performed().and_then(|p| repetition(&p).ok()).unwrap_or_default()
    }
}

/// A set as the computation takes it.
pub(crate) fn performed<'a>(
    exercise: &'a Exercise,
    set: &facts::Set,
    timed: &'a [Timed],
    athlete: Athlete,
) -> Performed<'a> {
    Performed {
        exercise,
        reps: set.reps,
        contacts_per_rep: set.contacts_per_rep,
        leg: match set.leg {
            facts::Leg::Left => performed::Side::Left,
            facts::Leg::Right => performed::Side::Right,
            facts::Leg::Both => performed::Side::Both,
            facts::Leg::AlternateLeft => performed::Side::Alternate { first: Leg::Left },
            facts::Leg::AlternateRight => performed::Side::Alternate { first: Leg::Right },
        },
        box_mm: set.box_mm,
        approach: set.approach.map(|approach| match approach {
            Approach::Strides(n) => performed::Approach::Strides(n),
            Approach::Millimetres(mm) => performed::Approach::Millimetres(mm),
        }),
        last_10_m_ms: set.last_10_m_ms,
        added_load_g: set.load_g,
        cue: set.cue,
        timed,
        athlete,
    }
}

/// Refuses a set that its exercise has no room for, before it is written down.
pub(crate) fn check(set: &facts::Set, exercise: &Exercise) -> Result<(), FieldError> {
    performed(exercise, set, &[], Athlete::default()).check()
}

/// One session.
pub(crate) fn session(
    book: &Book,
    held: Held,
    catalogue: &Catalogue,
    card: &Card,
) -> Result<Option<DoneSession>, BookError> {
    let (Some(day), Some(member)) = (held.fact().and_then(Fact::day), held.key.scope.member()) else {
        return Ok(None);
    };
    let takes = takes(book, catalogue, member, (day, day))?;
    with_takes(book, held, catalogue, card, &takes)
}

/// The sessions of a member in a stretch of days, the earliest first.
pub(crate) fn sessions(
    book: &Book,
    member: MemberId,
    catalogue: &Catalogue,
    card: &Card,
    days: (Day, Day),
) -> Result<Vec<DoneSession>, BookError> {
    let filter =
        Filter { member: Some(member), kind: Some(kind::SESSION), days: Some(days), ..Filter::default() };
    let held = book.held(&filter)?;
    if held.is_empty() {
        return Ok(Vec::new());
    }
    let takes = takes(book, catalogue, member, days)?;
    let mut sessions = Vec::with_capacity(held.len());
    for held in held {
        sessions.extend(with_takes(book, held, catalogue, card, &takes)?);
    }
    Ok(sessions)
}

/// A session, with those of the takes that show a set of it.
fn with_takes(
    book: &Book,
    held: Held,
    catalogue: &Catalogue,
    card: &Card,
    all_takes: &[DoneTake],
) -> Result<Option<DoneSession>, BookError> {
    let (Some(place), Some(Fact::Session(session))) = (held.id(), held.fact().cloned()) else {
        return Ok(None);
    };
    let efforts = book.held(&Filter {
        scope: Some(held.key.scope),
        kind: Some(kind::SESSION),
        field: Some(field_name::EFFORT),
        subject: Some(Subject::Fact(place)),
        ..Filter::default()
    })?;
    let effort_held = efforts.into_iter().next();
    let effort = match effort_held.as_ref().and_then(Held::fact) {
        Some(Fact::Effort(effort)) => Some(*effort),
        _ => None,
    };
    let own_takes: Vec<DoneTake> =
        all_takes.iter().filter(|take| take.fact.day == session.day).cloned().collect();
    let sets: Vec<DoneSet> = book
        .held(&Filter {
            scope: Some(held.key.scope),
            kind: Some(kind::SET),
            session: Some(place),
            ..Filter::default()
        })?
        .into_iter()
        .filter_map(|held| match held.fact().cloned() {
            Some(Fact::Set(set)) => Some(DoneSet::new(held, set, catalogue, &own_takes, card)),
            _ => None,
        })
        .collect();
    let mut record =
        DayRecord { began_min: session.start_min.map(|start| (start, start)), ..DayRecord::default() };
    add_effort(&mut record, effort);
    for done in &sets {
        match &done.record {
            Ok(set) => record.add(set),
            Err(_) => record.not_computed += 1,
        }
    }
    let ids: BTreeSet<Hash> = sets.iter().filter_map(|s| s.held.id()).collect();
    let takes = own_takes.into_iter().filter(|t| t.fact.set.is_some_and(|s| ids.contains(&s))).collect();
    Ok(Some(DoneSession { place, held, session, effort, effort_held, sets, takes, record }))
}

/// Adds a session, or other training, with its load where it was rated.
pub(crate) fn add_effort(record: &mut DayRecord, effort: Option<facts::Effort>) {
    record.sessions += 1;
    match effort.and_then(|effort| session_rpe(effort.rpe_tenths, effort.minutes).ok()) {
        Some(load) => record.load += u64::from(load),
        None => record.unrated += 1,
    }
}

/// The times of a take in order, with what each is called by its foot.
pub(crate) fn contact_times(take: &DoneTake) -> Vec<(facts::Foot, Measured, f64)> {
    let Ok(times) = &take.times else { return Vec::new() };
    times
        .contacts
        .iter()
        .map(|c| {
            let at =
                take.fact.events.get(c.touchdown).map_or(0, |e| (e.bracket.before + e.bracket.after) / 2);
            (c.foot, c.timed, take.scale.seconds(at))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use pitside_book::clock::Stamp;
    use pitside_book::keys::{Identity, Seed};
    use pitside_book::store::Draft;
    use pitside_model::facts::{Pace, Scope};
    use zeroize::Zeroizing;

    use super::*;

    #[test]
    fn the_squads_judging_is_read_only_where_there_is_a_take() {
        let folder = tempfile::TempDir::new().unwrap();
        let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new([1; 32])));
        let book = Book::create(folder.path(), identity, false).unwrap();
        let stamp = Stamp { ms: 1_795_608_000_000, zone_min: 0 };
        book.found("Quay jumps", stamp).unwrap();
        let member = book.add_member("Ino", stamp).unwrap();
        let catalogue = Catalogue::read(&book).unwrap();
        let days = (stamp.day(), stamp.day());
        assert!(takes(&book, &catalogue, member, days).unwrap().is_empty());
        assert_eq!(catalogue.judging_frames.get(), None);
        let take = Fact::Take(facts::Take {
            day: stamp.day(),
            clip: [1; 32],
            frames: [1; 32],
            pace: Pace { num: 1, den: 1_000 },
            frame_ticks: 4,
            stated_mhz: None,
            clock_ppm: None,
            rounded: false,
            exercise: None,
            set: None,
            rendered: false,
            events: Vec::new(),
        });
        book.write(Scope::Member(member), &Draft::new(take), stamp).unwrap();
        assert_eq!(takes(&book, &catalogue, member, days).unwrap().len(), 1);
        assert_eq!(catalogue.judging_frames.get(), Some(&None));
    }
}
