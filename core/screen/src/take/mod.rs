//! Takes on a phone: a clip is chosen, waits on a list, is marked tap by tap, and its times
//! are saved. What a person did is kept at every tap; the clip itself stays where it is.

mod draft;
mod frames;
mod record;

use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError};
use pitside_model::clip::Clock;
use pitside_model::facts::{Day, EventKind, Foot, Hash, MemberId, Word};
use pitside_model::timing::Scale;

pub use record::{
    ChosenClip, ClipFile, ClipFound, ClipRow, ClipShows, Coming, Crop, CropLook, FrameIndex, FrameLook,
    GapLook, MarkPage, MarkWords, Marking, RateChoice, TakeLine, Takes, Tap,
};

use self::draft::ClipDraft;
use crate::companion::{Companion, ScreenError, member_of, refused};
use crate::env::Env;
use crate::figure::{decimal, near_day};
use crate::judged;
use crate::marking::{self, OpenClip, event_words};
use crate::naming;
use crate::record::{Mark, MarkForm, Marked, TakeRow};
use crate::route::Route;
use crate::text::{Topic, Words};
use crate::training::{self, Catalogue};
use crate::wording;

/// Where it is kept which hand holds the phone.
const HAND: &str = "hand";

/// Takes that are shown.
const NEWEST: usize = 10;

/// Frames a second from which a clip is called slow motion.
const SLOW_MOTION_HZ: f64 = 100.0;

/// Capture rates to choose from, in thousandths of a frame a second.
const RATES: [u32; 4] = [120_000, 240_000, 480_000, 960_000];

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// The takes of this device: the clips that wait, those whose times are kept, the newest
    /// takes of the members it serves.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn takes(&self, env: &Env) -> Result<Takes, ScreenError> {
        let book = self.open_book()?;
        let words = Words::of(&env.language);
        let (done, later): (Vec<_>, Vec<_>) =
            draft::list(&book)?.into_iter().partition(|(_, draft)| draft.saved);
        let rows = |list: Vec<(Hash, ClipDraft)>| {
            list.into_iter().map(|(clip, draft)| clip_row(&words, env, clip, &draft)).collect()
        };
        let takes = newest(&words, env, &book)?;
        let word = |key: &str| words.word(key);
        Ok(Takes {
            revision: book.revision(),
            title: word("takes-title"),
            choose: word("takes-choose"),
            about: word("marking-filming"),
            later_title: word("takes-later"),
            later: rows(later),
            done_title: word("takes-done"),
            done: rows(done),
            takes_title: word("takes-newest"),
            empty: if takes.is_empty() { word("takes-none") } else { String::new() },
            takes,
            unfold: word("mark-more"),
            cancel: word("exchange-cancel"),
            not_deleted: word("takes-not-deleted"),
        })
    }

    /// Puts a clip that was chosen onto the list of those that wait to be marked. Where
    /// something speaks against it, it is told and nothing is kept, unless `anyway`. A clip
    /// that is there already keeps its marks; once its times were saved, it begins anew.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`] where as many clips as the list has room for wait with marks
    /// that are not saved: none of them is dropped for another; [`ScreenError::Book`].
    pub fn choose_clip(
        &self,
        env: &Env,
        open: &OpenClip,
        file: &ClipFile,
        anyway: bool,
    ) -> Result<ChosenClip, ScreenError> {
        let book = self.open_book()?;
        let words = Words::of(&env.language);
        let against = against(&words, open);
        let clip = Hash(open.identity());
        let mut chosen = ChosenClip {
            route: String::new(),
            title: words.word("choose-title"),
            against,
            instead: words.word("choose-original"),
            another: words.word("choose-another"),
            anyway: words.word("choose-anyway"),
            left: Vec::new(),
        };
        if anyway || chosen.against.is_empty() {
            let draft = match draft::read(&book, clip)?.filter(|draft| !draft.saved) {
                Some(begun) => ClipDraft { file: file.clone(), ..begun },
                None => begin(env, &book, file)?,
            };
            chosen.left = kept(&words, &book, clip, &draft)?;
            chosen.route = Route::Mark(clip).to_string();
        }
        Ok(chosen)
    }

    /// Where the file of a clip on the list is; `clip` is the end of its route.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn clip_file(&self, env: &Env, clip: &str) -> Result<ClipFound, ScreenError> {
        let file = draft::read(&*self.open_book()?, named(clip)?)?.ok_or_else(no_clip)?.file;
        let words = Words::of(&env.language);
        Ok(ClipFound { file, gone: words.word("takes-gone"), cancel: words.word("exchange-cancel") })
    }

    /// A clip on the list, opened for marking.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] where it is not on the list; else as [`Self::mark`].
    pub fn marking(&self, env: &Env, open: &OpenClip) -> Result<MarkPage, ScreenError> {
        let book = self.open_book()?;
        let words = Words::of(&env.language);
        let draft = draft::read(&book, Hash(open.identity()))?.ok_or_else(no_clip)?;
        let form = marking::form(&words, env, &book, &draft.shows.member, &draft.shows.set)?;
        Ok(MarkPage {
            title: draft.file.name.clone(),
            words: mark_words(&words),
            left_hand: left_hand(&book)?,
            frames: open.index(),
            form,
            rates: rates(&words),
            marking: so_far(&words, env, &book, open, &draft)?,
        })
    }

    /// One tap on a clip that is marked: it is kept, and what the marks then come to is
    /// given, with the frame to look at. A gap that is tapped twice is one mark.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] where the clip is not on the list,
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`] where the mark cannot be,
    /// [`ScreenError::Book`]. Then nothing was kept.
    pub fn mark(&self, env: &Env, open: &OpenClip, tap: &Tap) -> Result<Marking, ScreenError> {
        let book = self.open_book()?;
        let words = Words::of(&env.language);
        let clip = Hash(open.identity());
        let mut draft = draft::read(&book, clip)?.ok_or_else(no_clip)?;
        let marked = tapped(&words, env, &book, open, &mut draft, tap)?;
        kept(&words, &book, clip, &draft)?;
        Ok(marked)
    }

    /// Writes the marks on a clip down as a take. The clip stays on the list, where it can
    /// be deleted with its times kept. Gives the route of the session, or of the athlete,
    /// where the take stands.
    ///
    /// # Errors
    /// As [`Self::mark`]; [`ScreenError::NotAllowed`] where the marks give no times.
    pub fn save_marks(&self, env: &Env, open: &OpenClip) -> Result<String, ScreenError> {
        let book = self.open_book()?;
        let clip = Hash(open.identity());
        let draft = draft::read(&book, clip)?.filter(|draft| !draft.saved).ok_or_else(no_clip)?;
        let route = self.save_take(env, open, &draft.form(open))?;
        // The take is written, whether or not there is room on the list.
        draft::keep(&book, clip, &ClipDraft { saved: true, ..draft })?;
        Ok(route)
    }

    /// Takes a clip off the list: its file was deleted, or nobody wants to mark it. Times
    /// that were saved stay.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn drop_clip(&self, clip: &str) -> Result<(), ScreenError> {
        let book = self.open_book()?;
        if draft::drop(&book, named(clip)?)? { Ok(()) } else { Err(no_clip()) }
    }

    /// Keeps which hand holds this phone.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn hold_in(&self, left_hand: bool) -> Result<(), ScreenError> {
        Ok(self.open_book()?.set_local(HAND, left_hand.then_some(&[1][..]))?)
    }
}

/// Keeps a draft, or says that there is no room for it. Gives the places of the files that
/// left the list.
fn kept(words: &Words, book: &Book, clip: Hash, draft: &ClipDraft) -> Result<Vec<String>, ScreenError> {
    draft::keep(book, clip, draft)?.ok_or_else(|| {
        let most = (draft::MOST as u64).into();
        ScreenError::NotAllowed { reason: words.say("clips-full", &[("n", most)]) }
    })
}

fn no_clip() -> ScreenError {
    ScreenError::NotFound { what: "clip on the list".to_owned() }
}

fn named(clip: &str) -> Result<Hash, ScreenError> {
    Hash::parse(clip).ok_or_else(no_clip)
}

fn left_hand(book: &Book) -> Result<bool, BookError> {
    Ok(book.local(HAND)?.is_some())
}

/// What speaks against a clip: no clock, or too few frames to time a contact.
fn against(words: &Words, open: &OpenClip) -> Vec<String> {
    let Clock { kind, pace, evidence, warnings, .. } = open.clip().clock(None);
    let mut found = Vec::new();
    match pace.zip(open.clip().frames.median_step()) {
        None => {
            found.push(words.word(&format!("clock-{}", kind.word())));
            found.extend(words.told_all(Topic::Clip, evidence));
        }
        Some((pace, step)) => {
            let frame = Scale::new(pace, step).frame_seconds();
            if 1.0 / frame < SLOW_MOTION_HZ {
                let (rate, ms) = (decimal(words, 1.0 / frame, 0), decimal(words, frame * 1_000.0, 0));
                found.push(words.say("choose-slow", &[("rate", (&rate).into()), ("ms", (&ms).into())]));
            }
        }
    }
    found.extend(words.told_all(Topic::Clip, warnings));
    found
}

/// A clip that nothing was marked on. Its day is that of its file; where just one set of
/// that day was done, it shows that one.
fn begin(env: &Env, book: &Book, file: &ClipFile) -> Result<ClipDraft, ScreenError> {
    let today = env.today();
    let written = file.written_ms.map(|ms| Stamp { ms, zone_min: env.zone_min }.day());
    let day = written.filter(|day| *day <= today && *day >= today.plus(-365)).unwrap_or(today);
    let mut shows = ClipShows { day: day.to_string(), ..ClipShows::default() };
    if let Ok(member) = member_of(book, "") {
        shows.member = member.to_string();
        shows.set = set_of_day(book, member, today, day)?;
    }
    Ok(ClipDraft::new(file.clone(), today, shows))
}

/// The newest set of a day where all sets of that day are of one exercise; else empty.
fn set_of_day(book: &Book, member: MemberId, today: Day, day: Day) -> Result<String, ScreenError> {
    let sets = marking::sets(book, member, today)?;
    let mut of_day = sets.iter().filter(|(_, _, on)| *on == day);
    let Some((newest, first, _)) = of_day.next_back() else { return Ok(String::new()) };
    let one = of_day.all(|(_, set, _)| set.exercise == first.exercise);
    Ok(if one { newest.to_string() } else { String::new() })
}

fn clip_row(words: &Words, env: &Env, clip: Hash, draft: &ClipDraft) -> ClipRow {
    let ClipFile { place, name, bytes, .. } = draft.file.clone();
    let size = bytes.map(|bytes| match bytes {
        0..100_000 => words.say("clip-size-small", &[("size", (&bytes.div_ceil(1_000).to_string()).into())]),
        _ => {
            let mb = decimal(words, bytes as f64 / 1e6, usize::from(bytes < 10_000_000));
            words.say("clip-size", &[("size", (&mb).into())])
        }
    });
    let day = near_day(words, env, draft.chosen);
    let chosen = words.say("clip-chosen", &[("day", (&day).into())]);
    let marks = words.say("clip-marks", &[("n", (draft.put.len() as u64).into())]);
    let text = size.iter().cloned().chain([chosen, marks]).collect::<Vec<_>>().join(" · ");
    let [hold_delete, delete] = match &size {
        Some(size) => {
            ["clip-hold-delete-size", "clip-delete-size"].map(|key| words.say(key, &[("size", size.into())]))
        }
        None => ["clip-hold-delete", "clip-delete"].map(|key| words.word(key)),
    };
    let (hold_delete, hold_drop, drop) = match draft.saved {
        true => (hold_delete, String::new(), "clip-keep"),
        false => (String::new(), words.word("clip-hold-drop"), "clip-drop"),
    };
    ClipRow {
        id: clip.to_string(),
        route: if draft.saved { String::new() } else { Route::Mark(clip).to_string() },
        place,
        spoken: format!("{name}, {}", text.replace(" · ", ", ")),
        name,
        text,
        hold_delete,
        delete,
        hold_drop,
        drop: words.word(drop),
    }
}

/// The newest takes of the members that this device serves.
fn newest(words: &Words, env: &Env, book: &Book) -> Result<Vec<TakeRow>, BookError> {
    let catalogue = Catalogue::read(book)?;
    let mut found = Vec::new();
    for member in book.own_members()? {
        let takes = training::takes_until(book, &catalogue, member, env.today())?;
        let days = takes.iter().rev().map(|take| take.fact.day);
        let rows =
            judged::rows(words, env, book, &catalogue, member, &takes, takes.iter().rev().take(NEWEST))?;
        found.extend(days.zip(rows));
    }
    found.sort_by_key(|(day, _)| core::cmp::Reverse(*day));
    Ok(found.into_iter().map(|(_, row)| row).take(NEWEST).collect())
}

/// Does a tap to a draft; gives what the marks then come to.
fn tapped(
    words: &Words,
    env: &Env,
    book: &Book,
    open: &OpenClip,
    draft: &mut ClipDraft,
    tap: &Tap,
) -> Result<Marking, ScreenError> {
    let mut gap = None;
    match tap {
        Tap::Gap { foot, kind, before, after } => {
            let mark = Mark { foot: foot.clone(), kind: kind.clone(), before: *before, after: *after };
            // One gap tapped twice is one mark, unless another foot or event was chosen for it.
            let chosen = !(draft.foot.is_empty() && draft.kind.is_empty());
            let same = |last: &Mark| (last.before, last.after) == (*before, *after);
            let twice = draft.put.last().is_some_and(same) && !chosen;
            if !twice {
                draft.put.push(mark.clone());
                (draft.foot, draft.kind) = (String::new(), String::new());
                draft.frame = mark.after.min(open.last_frame());
                gap = Some(mark);
            }
        }
        Tap::Undo => {
            if let Some(last) = draft.put.pop() {
                draft.frame = last.after.min(open.last_frame());
            }
            (draft.foot, draft.kind) = (String::new(), String::new());
        }
        Tap::OtherFoot | Tap::OtherKind => {
            let next = coming(words, &draft_marked(words, env, book, open, draft)?, draft);
            match tap {
                Tap::OtherFoot => draft.foot = after::<Foot>(&next.foot),
                _ => draft.kind = after::<EventKind>(&next.kind),
            }
        }
        Tap::Look { frame } => draft.frame = (*frame).min(open.last_frame()),
        Tap::Pin { crop } => draft.crop = Some(within(*crop)?),
        Tap::Shows { shows } => draft.shows = shows.clone(),
    }
    let marked = draft_marked(words, env, book, open, draft)?;
    // Whoever put in an earlier mark stays there.
    let newest = gap.is_some_and(|gap| draft.in_time(open).last() == Some(&gap));
    if let Some(frame) = marked.expected.as_ref().and_then(|next| next.frame).filter(|_| newest) {
        draft.frame = frame;
    }
    so_far_of(words, book, draft, marked)
}

/// The word that follows another one, the first after the last.
fn after<W: Word>(word: &str) -> String {
    let at = W::WORDS.iter().position(|(one, _)| *one == word).map_or(0, |at| at + 1);
    W::WORDS.iter().cycle().nth(at).map_or("", |(one, _)| one).to_owned()
}

/// A crop inside the picture, and not so small that it shows single points.
fn within(crop: Crop) -> Result<Crop, ScreenError> {
    if ![crop.x, crop.y, crop.width].iter().all(|part| part.is_finite()) {
        return Err(refused("crop", format!("{crop:?}"), "parts of the picture from 0 to 1"));
    }
    Ok(Crop { x: crop.x.clamp(0.0, 1.0), y: crop.y.clamp(0.0, 1.0), width: crop.width.clamp(0.05, 1.0) })
}

fn draft_marked(
    words: &Words,
    env: &Env,
    book: &Book,
    open: &OpenClip,
    draft: &ClipDraft,
) -> Result<Marked, ScreenError> {
    let mut form = draft.form(open);
    match marking::marked(words, env, book, open, &form) {
        // The set was taken back, or the athlete erased, since the clip was chosen; or nobody
        // of several was chosen yet. The marks are shown as anybody's, and no time of them.
        Err(ScreenError::NotFound { .. }) => {
            let anybody = book.own_members()?.into_iter().chain(book.members()?).next();
            let member = anybody.map_or_else(String::new, |member| member.to_string());
            form = MarkForm { member, set: String::new(), exercise: String::new(), ..form };
            let marked = marking::marked(words, env, book, open, &form)?;
            Ok(Marked { take: None, trouble: words.word("mark-whose"), may_save: false, ..marked })
        }
        other => other,
    }
}

fn so_far(
    words: &Words,
    env: &Env,
    book: &Book,
    open: &OpenClip,
    draft: &ClipDraft,
) -> Result<Marking, ScreenError> {
    so_far_of(words, book, draft, draft_marked(words, env, book, open, draft)?)
}

fn so_far_of(words: &Words, book: &Book, draft: &ClipDraft, marked: Marked) -> Result<Marking, ScreenError> {
    let line = line(words, draft, &marked);
    let undo = draft.put.last().and_then(|last| {
        let what = event_words(words, last.foot.parse().ok()?, last.kind.parse().ok()?);
        Some(words.say("mark-undo-what", &[("what", (&what).into())]))
    });
    Ok(Marking {
        next: coming(words, &marked, draft),
        frame: draft.frame,
        crop: draft.crop.unwrap_or(draft::USUAL),
        pinned: draft.crop.is_some(),
        shows: draft.shows.clone(),
        shown: shown(words, book, &draft.shows)?,
        undo: undo.unwrap_or_default(),
        // A touchdown alone is no time yet.
        may_save: marked.may_save && !line.text.is_empty(),
        line,
        marks: marked.marks.clone(),
        marked,
    })
}

/// What the marks come to in one line, or why they come to nothing.
fn line(words: &Words, draft: &ClipDraft, marked: &Marked) -> TakeLine {
    let text = marked.take.as_ref().map(|take| take.line.clone()).unwrap_or_default();
    let why = if draft.put.is_empty() && marked.clock.known {
        words.word("mark-none")
    } else if !marked.trouble.is_empty() {
        marked.trouble.clone()
    } else if text.is_empty() {
        words.word("mark-open")
    } else {
        String::new()
    };
    TakeLine { text, why }
}

/// The event that the next mark is of: as it is expected, or as the person chose.
fn coming(words: &Words, marked: &Marked, draft: &ClipDraft) -> Coming {
    let expected = marked.expected.as_ref();
    let or = |chosen: &str, expected: Option<&String>, usual: &str| match (chosen, expected) {
        ("", Some(expected)) => expected.clone(),
        ("", None) => usual.to_owned(),
        (chosen, _) => chosen.to_owned(),
    };
    let foot = or(&draft.foot, expected.map(|next| &next.foot), Foot::Left.word());
    let kind = or(&draft.kind, expected.map(|next| &next.kind), EventKind::Touchdown.word());
    let text = match (foot.parse(), kind.parse()) {
        (Ok(foot), Ok(kind)) => event_words(words, foot, kind),
        _ => String::new(),
    };
    let ended = expected.is_none() && !draft.put.is_empty() && draft.foot.is_empty() && draft.kind.is_empty();
    let [before, after] = ["before", "after"].map(|side| words.word(&format!("mark-{side}-{kind}")));
    Coming {
        text,
        hint: words.word(&format!("mark-hint-{kind}")),
        before,
        after,
        ended: if ended { words.word("mark-ended") } else { String::new() },
        foot,
        kind,
    }
}

/// What a clip shows, in words.
fn shown(words: &Words, book: &Book, shows: &ClipShows) -> Result<String, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    if let Some(set) = Hash::parse(&shows.set)
        && let Some(set) = marking::set(book, set)?
    {
        return Ok(wording::set(words, &catalogue, &set));
    }
    let exercise = uuid::Uuid::try_parse(&shows.exercise).ok().and_then(|id| catalogue.get(id));
    let id = uuid::Uuid::try_parse(&shows.exercise).unwrap_or_default();
    Ok(exercise.map_or_else(|| words.word("phone-not-said"), |exercise| naming::named(words, id, exercise)))
}

fn rates(words: &Words) -> Vec<RateChoice> {
    let of_clip = RateChoice { mhz: None, text: words.word("mark-rate-own") };
    let choice = |mhz: u32| {
        let rate = decimal(words, f64::from(mhz) / 1_000.0, 0);
        RateChoice { mhz: Some(mhz), text: words.say("mark-rate", &[("rate", (&rate).into())]) }
    };
    [of_clip].into_iter().chain(RATES.map(choice)).collect()
}

fn mark_words(words: &Words) -> MarkWords {
    let word = |key: &str| words.word(key);
    MarkWords {
        undo: word("mark-undo"),
        save: word("mark-save"),
        later: word("mark-later"),
        more: word("mark-more"),
        less: word("mark-less"),
        foot: word("mark-foot"),
        foot_hint: word("mark-foot-hint"),
        closer: word("mark-closer"),
        wider: word("mark-wider"),
        pin: word("mark-pin"),
        strip: word("mark-strip"),
        on: word("mark-on"),
        back: word("mark-back"),
        other_foot: word("mark-other-foot"),
        other_kind: word("mark-other-kind"),
        shows: word("mark-shows"),
        sets: word("mark-sets"),
        exercises: word("mark-exercises"),
        rate: word("mark-rate-title"),
        hand: word("mark-hand"),
        left: word("mark-hand-left"),
        right: word("mark-hand-right"),
        doubt_before: word("mark-doubt-before"),
        doubt_after: word("mark-doubt-after"),
        no_picture: word("mark-no-picture"),
    }
}
