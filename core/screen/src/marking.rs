//! A clip while its events are marked: what the marks so far come to, and which event
//! is expected next.

use std::io::{Read, Seek, SeekFrom};
use std::sync::OnceLock;

use pitside_book::store::{Book, BookError, Draft, Filter};
use pitside_model::clip::{self, Clip, ClipError, Clock, Media, Rate};
use pitside_model::facts::{
    self, Bracket, Day, Event, EventKind, Fact, Foot, Hash, Leg, MemberId, Pace, Scope, Side, Subject, kind,
};
use pitside_model::timing::calibration::{self, Calibration, Measured};
use pitside_model::timing::next::next;
use pitside_model::timing::{self, Scale};
use uuid::Uuid;

use crate::companion::{ScreenError, day, member_of, refused};
use crate::env::Env;
use crate::figure::{decimal, near_day};
use crate::judged;
use crate::record::{
    Choice, ClockRow, Expected, Mark, MarkForm, MarkRow, Marked, MarkingForm, Measurement, TakeRow,
};
use crate::text::{Topic, Words};
use crate::training::{self, Card, Catalogue, DoneTake};
use crate::wording;

/// What stands for the id of a take that is not written down.
const DRAFT: Hash = Hash([0; 32]);

/// Days back from which sets are offered.
const OFFERED_DAYS: i32 = 28;

/// Sets that are offered at most.
const OFFERED_SETS: usize = 60;

/// A clip that is open for marking: its tables and what names it. The clip itself stays
/// where it is.
#[derive(Clone, Debug, uniffi::Object)]
pub struct OpenClip {
    clip: Clip,
    identity: [u8; 32],
    /// Frames that are decoded without another one, in decoding order; empty where nobody
    /// asked for them.
    keys: Vec<u32>,
    /// Whether the book says that it was drawn; asked once, for marking asks at every tap.
    drawn: OnceLock<bool>,
}

impl OpenClip {
    /// Reads the tables of a clip, and all of its bytes once for its identity. `track`
    /// chooses another video track than a player would show.
    ///
    /// # Errors
    /// [`ClipError`] where it cannot be read, is no clip, or is damaged.
    pub fn read<R: Read + Seek>(mut reader: R, track: Option<u32>) -> Result<Self, ClipError> {
        let clip = Clip::read_track(&mut reader, track)?;
        let io = |source| ClipError::Io { offset: 0, source };
        reader.seek(SeekFrom::Start(0)).map_err(io)?;
        let identity = clip::identity(&mut reader).map_err(io)?;
        Ok(Self { clip, identity, keys: Vec::new(), drawn: OnceLock::new() })
    }

    /// The same with the frames at which a decoder can begin, for a shell that decodes.
    ///
    /// # Errors
    /// As [`Self::read`].
    pub fn read_for_pictures<R: Read + Seek>(mut reader: R, track: Option<u32>) -> Result<Self, ClipError> {
        let media = Media::read(&mut reader, track)?;
        let keys = media.samples.iter().filter(|sample| sample.key).map(|sample| sample.frame).collect();
        Ok(Self { keys, ..Self::read(reader, track)? })
    }

    /// The frames at which a decoder can begin.
    pub(crate) fn keys(&self) -> &[u32] {
        &self.keys
    }

    /// Real seconds a tick, with a rate that a person stated; `None` where the clock is not
    /// known.
    pub(crate) fn pace(&self, stated_mhz: Option<u32>) -> Option<Pace> {
        let stated = stated_mhz.and_then(|mhz| Rate::from_millihertz(mhz.into()));
        self.clip.clock(stated).pace
    }

    /// What the tables say.
    #[must_use]
    pub fn clip(&self) -> &Clip {
        &self.clip
    }

    /// SHA-256 of the clip's bytes, which names it.
    #[must_use]
    pub fn identity(&self) -> [u8; 32] {
        self.identity
    }

    /// The clock and, where it was measured in the clip, its scale.
    fn clock(&self, form: &MarkForm) -> Result<(Clock, Option<Calibration>), ScreenError> {
        let range = "a rate of at least 1 and at most 10 000 frames a second";
        let stated = match form.capture_mhz {
            None => None,
            Some(mhz) => {
                // As a take can be written down.
                let rate = Some(mhz).filter(|mhz| (1_000..=10_000_000).contains(mhz));
                Some(
                    rate.and_then(|mhz| Rate::from_millihertz(mhz.into()))
                        .ok_or_else(|| refused("capture rate", mhz.to_string(), range))?,
                )
            }
        };
        let measured = match &form.measured {
            None => None,
            Some(measurement) => Some(self.measure(measurement)?),
        };
        Ok((self.clip.clock(stated), measured))
    }

    fn measure(&self, measurement: &Measurement) -> Result<Calibration, ScreenError> {
        let metres = |mm: u32| f64::from(mm) / 1_000.0;
        let measured = match measurement {
            Measurement::Ball { released, landed, height_mm, height_u_mm } => {
                // A ball is told from the hand as a foot from the ground.
                let released = self.event(released, Foot::Both, EventKind::ToeOff)?.bracket;
                let landed = self.event(landed, Foot::Both, EventKind::Touchdown)?.bracket;
                let height = Measured { value: metres(*height_mm), u: metres(*height_u_mm) };
                calibration::falling_ball(released, landed, height)
            }
            Measurement::Clock { first, first_ms, second, second_ms, digit_ms } => {
                let read = |frame: u32, ms: u32| -> Result<(Bracket, f64), ScreenError> {
                    // What a frame shows was there until the next one.
                    let mark = Mark { before: frame, after: frame.saturating_add(1), ..Mark::default() };
                    Ok((self.event(&mark, Foot::Both, EventKind::Touchdown)?.bracket, metres(ms)))
                };
                let (first, second) = (read(*first, *first_ms)?, read(*second, *second_ms)?);
                calibration::filmed_clock(first, second, metres(*digit_ms))
            }
        };
        measured.map_err(|e| ScreenError::NotAllowed { reason: e.to_string() })
    }

    fn event(&self, mark: &Mark, foot: Foot, kind: EventKind) -> Result<Event, ScreenError> {
        let frame = |frame: u32| usize::try_from(frame).unwrap_or(usize::MAX);
        Event::marked(self.clip.frames.ticks(), foot, kind, frame(mark.after), Some(frame(mark.before)))
            .map_err(|e| ScreenError::NotAllowed { reason: e.to_string() })
    }

    /// The marks as events, in the order of time.
    fn events(&self, form: &MarkForm) -> Result<Vec<Event>, ScreenError> {
        let (found, most) = (form.marks.len(), facts::Take::MAX_EVENTS);
        if found > most {
            return Err(refused(
                "number of marks",
                found.to_string(),
                &format!("at most {most} of one clip"),
            ));
        }
        let mut events = Vec::with_capacity(found);
        for mark in &form.marks {
            let word = |e: facts::UnknownWord| refused("mark", e.found, &e.accepted);
            let foot: Foot = mark.foot.parse().map_err(word)?;
            let kind: EventKind = mark.kind.parse().map_err(word)?;
            events.push(self.event(mark, foot, kind)?);
        }
        Ok(events)
    }

    /// Whether somebody said of this clip, or of a copy of it, that a program drew it.
    fn is_drawn(&self, book: &Book) -> Result<bool, BookError> {
        if let Some(drawn) = self.drawn.get() {
            return Ok(*drawn);
        }
        let frames = self.clip.frames.digest();
        let takes = book.held(&Filter { kind: Some(kind::TAKE), ..Filter::default() })?;
        let drawn = |fact: &Fact| matches!(fact, Fact::Take(take) if take.rendered && take.frames == frames);
        let drawn = takes.iter().any(|held| held.fact().is_some_and(drawn));
        Ok(*self.drawn.get_or_init(|| drawn))
    }

    /// The frame nearest to a time.
    fn nearest(&self, ticks: i64) -> Option<u32> {
        let all = self.clip.frames.ticks();
        let after = all.partition_point(|tick| *tick < ticks);
        let before = after.checked_sub(1);
        let away = |at: &usize| all.get(*at).map_or(u64::MAX, |tick| tick.abs_diff(ticks));
        let nearest = before.into_iter().chain([after]).min_by_key(away)?;
        u32::try_from(nearest.min(all.len().saturating_sub(1))).ok()
    }
}

/// The set that a clip shows, as far as that is known.
struct Shown {
    member: MemberId,
    set: Option<(Hash, facts::Set)>,
    exercise: Option<Uuid>,
    day: Day,
}

impl Shown {
    fn of(book: &Book, env: &Env, form: &MarkForm) -> Result<Self, ScreenError> {
        let member = member_of(book, &form.member)?;
        let missing = |what: &str| ScreenError::NotFound { what: what.to_owned() };
        if form.set.is_empty() {
            let exercise = match form.exercise.as_str() {
                "" => None,
                text => Some(Uuid::try_parse(text).map_err(|_| missing("exercise"))?),
            };
            return Ok(Self { member, set: None, exercise, day: day(env, &form.day)? });
        }
        // Older than those that are offered, too: a clip may be put off for long.
        let of = |kind, id| Filter {
            scope: Some(Scope::Member(member)),
            kind: Some(kind),
            subject: Some(Subject::Fact(id)),
            ..Filter::default()
        };
        let gone = || missing("set of this athlete");
        let id = Hash::parse(&form.set).ok_or_else(gone)?;
        let sets = book.held(&of(kind::SET, id))?;
        let set = sets.iter().find_map(|held| match held.fact() {
            Some(Fact::Set(set)) => Some(set.clone()),
            _ => None,
        });
        let set = set.ok_or_else(gone)?;
        let sessions = book.held(&of(kind::SESSION, set.session))?;
        let day = sessions.iter().find_map(|held| held.fact().and_then(Fact::day)).ok_or_else(gone)?;
        Ok(Self { member, exercise: Some(set.exercise), set: Some((id, set)), day })
    }

    /// The foot of the first contact: what the set says, else the take-off leg.
    fn first_foot(&self, card: &Card) -> Foot {
        match self.set.as_ref().map(|(_, set)| set.leg) {
            Some(Leg::Left | Leg::AlternateLeft) => Foot::Left,
            Some(Leg::Right | Leg::AlternateRight) => Foot::Right,
            Some(Leg::Both) | None => match card.take_off {
                Some(Side::Left) => Foot::Left,
                Some(Side::Right) | None => Foot::Right,
            },
        }
    }
}

/// The sets of the last weeks with their days, the newest session first.
pub(crate) fn sets(
    book: &Book,
    member: MemberId,
    today: Day,
) -> Result<Vec<(Hash, facts::Set, Day)>, BookError> {
    let days = Some((today.plus(-OFFERED_DAYS), today));
    let of = |kind| Filter { scope: Some(Scope::Member(member)), kind: Some(kind), ..Filter::default() };
    let mut found = Vec::new();
    let mut sessions = book.held(&Filter { days, ..of(kind::SESSION) })?;
    sessions.sort_by_key(|held| core::cmp::Reverse(held.fact().and_then(Fact::day)));
    for session in sessions {
        let (Some(place), Some(Fact::Session(said))) = (session.id(), session.fact()) else { continue };
        for held in book.held(&Filter { session: Some(place), ..of(kind::SET) })? {
            if let (Some(id), Some(Fact::Set(set))) = (held.id(), held.fact()) {
                found.push((id, set.clone(), said.day));
            }
        }
    }
    found.truncate(OFFERED_SETS);
    Ok(found)
}

/// A set by its name; `None` where there is none.
pub(crate) fn set(book: &Book, id: Hash) -> Result<Option<facts::Set>, BookError> {
    let filter = Filter { kind: Some(kind::SET), subject: Some(Subject::Fact(id)), ..Filter::default() };
    let held = book.held(&filter)?;
    let set = |fact: &Fact| match fact {
        Fact::Set(set) => Some(set.clone()),
        _ => None,
    };
    Ok(held.iter().find_map(|held| held.fact().and_then(set)))
}

/// What can be chosen before a clip is marked.
pub(crate) fn form(
    words: &Words,
    env: &Env,
    book: &Book,
    member: &str,
    set: &str,
) -> Result<MarkingForm, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    let mut members = wording::members(words, book)?;
    let chosen = match (member, members.as_slice()) {
        ("", [only]) => only.id.clone(),
        ("", _) => String::new(),
        (named, _) => member_of(book, named)?.to_string(),
    };
    for choice in &mut members {
        choice.chosen = choice.id == chosen;
    }
    let mut offered = Vec::new();
    if let Ok(id) = Uuid::try_parse(&chosen) {
        for (id, set_done, on) in sets(book, MemberId(id), env.today())? {
            offered.push(Choice {
                chosen: id.to_string() == set,
                id: id.to_string(),
                text: wording::set(words, &catalogue, &set_done),
                group: near_day(words, env, on),
            });
        }
    }
    Ok(MarkingForm {
        title: words.word("marking-title"),
        members,
        sets: offered,
        exercises: wording::exercises(words, &catalogue),
        today: env.today().to_string(),
        cautions: vec![words.word("marking-filming"), words.word("take-note")],
    })
}

/// What the marks so far come to.
pub(crate) fn marked(
    words: &Words,
    env: &Env,
    book: &Book,
    open: &OpenClip,
    form: &MarkForm,
) -> Result<Marked, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    let read = Marking::read(book, env, open, form)?;
    let card = Card::read(book, read.shown.member)?;
    let exercise = read.shown.exercise.and_then(|id| catalogue.get(id));
    let coming = next(&read.events, exercise, read.shown.first_foot(&card), read.pace());
    let expected = coming.map(|coming| Expected {
        foot: coming.foot.word().to_owned(),
        kind: coming.kind.word().to_owned(),
        frame: coming.ticks.and_then(|ticks| open.nearest(ticks)),
        text: event_words(words, coming.foot, coming.kind),
    });
    let marks =
        form.marks.iter().zip(&read.events).map(|(mark, event)| mark_row(words, mark, event)).collect();
    let clock = clock_row(words, &read.clock, read.measured.as_ref());
    let member = read.shown.member;
    let (take, trouble) = match read.fact(open, open.is_drawn(book)?) {
        Ok(fact) => {
            let own_judging = catalogue.judging_frames(book)?;
            let done = DoneTake::new(DRAFT, book.device(), fact, own_judging);
            let trouble = match &done.times {
                Ok(_) => String::new(),
                Err(e) => wording::no_times(words, e),
            };
            (row(words, env, book, &catalogue, member, done)?, trouble)
        }
        Err(why) => (None, words.word(why)),
    };
    Ok(Marked { clock, marks, expected, may_save: take.is_some() && trouble.is_empty(), take, trouble })
}

/// A take as it will stand on the screens, beside the athlete's other ones.
fn row(
    words: &Words,
    env: &Env,
    book: &Book,
    catalogue: &Catalogue,
    member: MemberId,
    done: DoneTake,
) -> Result<Option<TakeRow>, BookError> {
    let mut takes = training::takes_until(book, catalogue, member, done.fact.day)?;
    takes.push(done);
    let draft = takes.last().into_iter();
    let rows = judged::rows(words, env, book, catalogue, member, &takes, draft)?;
    Ok(rows.into_iter().next())
}

/// A form as it was read: what the clip shows, and when.
struct Marking {
    shown: Shown,
    stated_mhz: Option<u32>,
    clock: Clock,
    /// The scale, where it was measured in the clip.
    measured: Option<Calibration>,
    events: Vec<Event>,
}

impl Marking {
    fn read(book: &Book, env: &Env, open: &OpenClip, form: &MarkForm) -> Result<Self, ScreenError> {
        let shown = Shown::of(book, env, form)?;
        let (clock, measured) = open.clock(form)?;
        Ok(Self { shown, stated_mhz: form.capture_mhz, clock, measured, events: open.events(form)? })
    }

    fn pace(&self) -> Option<Pace> {
        self.measured.as_ref().map(|found| found.pace).or(self.clock.pace)
    }

    /// The fact that is written down; else the key of what is missing. `drawn`: by a
    /// program, not filmed.
    fn fact(self, open: &OpenClip, drawn: bool) -> Result<facts::Take, &'static str> {
        let frames = &open.clip.frames;
        let pace = self.pace().ok_or("marking-no-clock")?;
        let step = frames.median_step().and_then(|step| u32::try_from(step).ok()).ok_or("marking-no-rate")?;
        // Rounded up, so that nothing is claimed that was not measured.
        let ppm = |found: &Calibration| (found.relative_u * 1e6).ceil().clamp(1.0, 500_000.0) as u32;
        Ok(facts::Take {
            day: self.shown.day,
            clip: open.identity,
            frames: frames.digest(),
            pace,
            frame_ticks: step,
            stated_mhz: self.stated_mhz.filter(|_| self.measured.is_none()),
            clock_ppm: self.measured.as_ref().map(ppm),
            rounded: timing::rounded(frames.ticks()),
            exercise: self.shown.exercise,
            set: self.shown.set.as_ref().map(|(id, _)| *id),
            rendered: drawn,
            events: self.events,
        })
    }
}

/// Writes the marks down as a take; gives its member and the session of its set.
pub(crate) fn save(
    words: &Words,
    env: &Env,
    book: &Book,
    open: &OpenClip,
    form: &MarkForm,
) -> Result<(MemberId, Option<Hash>), ScreenError> {
    let read = Marking::read(book, env, open, form)?;
    let not = |reason: String| ScreenError::NotAllowed { reason };
    if read.events.is_empty() {
        return Err(not(words.word("marking-nothing")));
    }
    let (member, session) = (read.shown.member, read.shown.set.as_ref().map(|(_, set)| set.session));
    let take = read.fact(open, open.is_drawn(book)?).map_err(|why| not(words.word(why)))?;
    timing::Take::read(&take.events, &Scale::of(&take)).map_err(|e| not(e.to_string()))?;
    book.write(Scope::Member(member), &Draft::new(Fact::Take(take)), env.stamp())?;
    Ok((member, session))
}

/// An event by its foot and kind.
pub(crate) fn event_words(words: &Words, foot: Foot, kind: EventKind) -> String {
    let foot = wording::foot(words, foot);
    words.say(&format!("marking-{}", kind.word()), &[("foot", (&foot).into())])
}

fn mark_row(words: &Words, mark: &Mark, event: &Event) -> MarkRow {
    let what = event_words(words, event.foot, event.kind);
    let (before, after) = (mark.before.to_string(), mark.after.to_string());
    let key = if event.doubted { "marking-doubted" } else { "marking-between" };
    let text =
        words.say(key, &[("what", (&what).into()), ("before", (&before).into()), ("after", (&after).into())]);
    MarkRow { text, doubted: event.doubted }
}

fn clock_row(words: &Words, clock: &Clock, measured: Option<&Calibration>) -> ClockRow {
    let said = match measured {
        Some(found) => {
            let share = decimal(words, found.relative_u * 100.0, 1);
            words.say("clock-measured", &[("share", (&share).into())])
        }
        None => words.word(&format!("clock-{}", clock.kind.word())),
    };
    let evidence = match measured {
        Some(found) => found.evidence.clone(),
        None => clock.evidence.clone(),
    };
    ClockRow {
        text: said,
        evidence: words.told_all(Topic::Clip, evidence),
        warnings: words.told_all(Topic::Clip, clock.warnings.clone()),
        known: measured.is_some() || clock.pace.is_some(),
    }
}
