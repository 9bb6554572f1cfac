//! The object that a shell holds: screens out, actions in.

use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, RwLock};

use pitside_book::keys::{Identity, Seed};
use pitside_book::store::{Book, BookError, Draft, Filter};
use pitside_model::facts::{
    self, Approach, Audience, Complete, Consent, Day, DeviceKey, Fact, Grant, Hash, MemberId, RestDay, Role,
    Scope, Set, Subject, Word, field_name, kind,
};
use uuid::Uuid;
use zeroize::Zeroizing;

use crate::course::Courses;
use crate::env::Env;
use crate::marking::{self, OpenClip};
use crate::record::{
    AdviceForm, Apart, Athlete, AttemptForm, AttemptSaved, Body, CardForm, CardPage, CheckIn, CheckInForm,
    CompetitionDay, CompetitionForm, Confirm, ControlForm, Devices, ExerciseForm, ExerciseFormPage, GiveForm,
    HeightForm, Jumps, JumpsForm, LimitForm, LogSet, MarkForm, Marked, MarkingForm, OtherForm, RuleForm,
    Rules, Said, Session, SetForm, Sharing, Squad, TargetForm, Targets, TestForm, Today, Wishes,
};
use crate::route::Route;
use crate::text::Words;
use crate::training::{self, Catalogue};
use crate::{
    apart, athlete, athletes, body, card, check_in, devices, effort, exercises, guard, jumps, log_set, rules,
    session, sharing, squad, targets, today, wishes, wording,
};

/// Why a call brought nothing. What was acknowledged before is untouched.
#[derive(Debug, thiserror::Error, uniffi::Error)]
pub enum ScreenError {
    /// A field of a form is out of its range.
    #[error("{field} is {value}, expected {range}")]
    Refused {
        /// The field.
        field: String,
        /// What was filled in.
        value: String,
        /// What is accepted, in words.
        range: String,
    },
    /// This device may not do that.
    #[error("{reason}")]
    NotAllowed {
        /// Why.
        reason: String,
    },
    /// There is no such screen, athlete, session or choice.
    #[error("there is no {what} here")]
    NotFound {
        /// What was asked for.
        what: String,
    },
    /// The book cannot be opened, read or written.
    #[error("{reason}")]
    Book {
        /// What is wrong, as far as a person may do something about it.
        trouble: BookTrouble,
        /// What is wrong.
        reason: String,
    },
    /// The object was closed.
    #[error("the book is closed")]
    Closed,
}

impl From<BookError> for ScreenError {
    fn from(e: BookError) -> Self {
        match e {
            BookError::Refused(refusal) => {
                Self::Refused { field: refusal.field.to_owned(), value: refusal.value, range: refusal.range }
            }
            BookError::NotAllowed(_) => Self::NotAllowed { reason: e.to_string() },
            other => Self::Book { trouble: BookTrouble::of(&other), reason: other.to_string() },
        }
    }
}

/// What is wrong with a book, as far as a person may do something about it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Enum)]
pub enum BookTrouble {
    /// The disk is full.
    Full,
    /// Another program holds it.
    Held,
    /// What was deleted is in a file until the next attempt.
    Busy,
    /// It is damaged, or no book.
    Damaged,
    /// A newer version of the program wrote it.
    Newer,
    /// Its place cannot be written to.
    ReadOnly,
    /// It belongs to another device.
    OtherDevice,
    /// It has no squad yet.
    NoSquad,
    /// It has a squad already.
    HasSquad,
    /// The invented demo squad and a person's own do not mix.
    Demo,
    /// Anything else.
    Other,
}

impl BookTrouble {
    fn of(e: &BookError) -> Self {
        match e {
            BookError::Full => Self::Full,
            BookError::InUse(_) | BookError::Locked => Self::Held,
            BookError::Busy => Self::Busy,
            BookError::Damaged { .. } | BookError::BeyondRescue(_) => Self::Damaged,
            BookError::Newer { .. } => Self::Newer,
            BookError::ReadOnly { .. } => Self::ReadOnly,
            BookError::OtherDevice(_) => Self::OtherDevice,
            BookError::NoSquad => Self::NoSquad,
            BookError::HasSquad => Self::HasSquad,
            BookError::Demo => Self::Demo,
            BookError::Missing(_)
            | BookError::Exists(_)
            | BookError::NoBackup(_)
            | BookError::FileExists(_)
            | BookError::Refused(_)
            | BookError::NotAllowed(_)
            | BookError::Unknown(_)
            | BookError::Sqlite(_)
            | BookError::Random(_) => Self::Other,
        }
    }
}

/// What a session was like, as far as it is known.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct SessionForm {
    /// The day, `2026-11-25`; empty for today.
    pub day: String,
    /// What it was for; empty for nothing.
    pub purpose: String,
    /// Where; empty for nothing.
    pub location: String,
}

/// How hard a session was.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Effort {
    /// Rating of perceived exertion in tenths, 0 to 100.
    pub rpe_tenths: u16,
    /// Minutes, 1 to 600.
    pub minutes: u16,
}

/// One open book with its screens and actions. Its calls block and may come from
/// any thread; reading never waits for a sync.
///
/// Phones know it as `Pitside`: inside a Kotlin class `Companion` means the
/// class's own companion object.
#[derive(uniffi::Object)]
#[uniffi(name = "Pitside")]
pub struct Companion {
    book: RwLock<Option<Arc<Book>>>,
    /// Kept up with the book; it can be thrown away at any time.
    courses: Mutex<Courses>,
}

impl Companion {
    /// A companion over a book that is open already.
    #[must_use]
    pub fn over(book: Arc<Book>) -> Self {
        Self { book: RwLock::new(Some(book)), courses: Mutex::default() }
    }

    /// The squad board of a book that is not held by a companion.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn board_of(book: &Book, env: &Env) -> Result<Squad, ScreenError> {
        Ok(squad::squad(&Words::of(&env.language), env, book, &mut Courses::default())?)
    }
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// What can be chosen before a clip is marked; `member` and `set` may be empty.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn marking_form(&self, env: &Env, member: &str, set: &str) -> Result<MarkingForm, ScreenError> {
        marking::form(&Words::of(&env.language), env, &*self.book()?, member, set)
    }

    /// What the marks on a clip come to so far. Nothing is written.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`] where a mark cannot be,
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn marked(&self, env: &Env, open: &OpenClip, form: &MarkForm) -> Result<Marked, ScreenError> {
        marking::marked(&Words::of(&env.language), env, &*self.book()?, open, form)
    }

    /// Writes the marks on a clip down as a take; gives the route where it stands.
    ///
    /// # Errors
    /// As [`Self::marked`]; [`ScreenError::NotAllowed`] where the marks give no times.
    pub fn save_take(&self, env: &Env, open: &OpenClip, form: &MarkForm) -> Result<String, ScreenError> {
        let (member, session) = marking::save(&Words::of(&env.language), env, &*self.book()?, open, form)?;
        Ok(session.map_or(Route::Athlete(member), Route::Session).to_string())
    }
}

impl Companion {
    /// The book, for what is written in another file.
    pub(crate) fn open_book(&self) -> Result<Arc<Book>, ScreenError> {
        self.book()
    }

    /// The form of a new exercise, filled in as a copy of another.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn copy_exercise(&self, env: &Env, from: &str) -> Result<ExerciseFormPage, ScreenError> {
        exercises::copy(&Words::of(&env.language), &*self.book()?, from)
    }

    /// The form by which an exercise is changed.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn change_exercise(&self, env: &Env, id: &str) -> Result<ExerciseFormPage, ScreenError> {
        exercises::change(&Words::of(&env.language), &*self.book()?, id)
    }

    /// Writes an exercise down, anew or in the place of what its form showed; gives its id.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn save_exercise(&self, env: &Env, form: &ExerciseForm) -> Result<String, ScreenError> {
        Ok(exercises::save(&*self.book()?, env.stamp(), form)?.to_string())
    }

    /// Takes in the exercises that the product has and the squad has not; gives how many.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::Book`].
    pub fn take_in_exercises(&self, env: &Env) -> Result<usize, ScreenError> {
        Ok(exercises::take_in_missing(&*self.book()?, env.stamp())?)
    }

    /// Whatever a panic left of it is sound: a course is taken out while it is changed.
    pub(crate) fn courses(&self) -> MutexGuard<'_, Courses> {
        self.courses.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn book(&self) -> Result<Arc<Book>, ScreenError> {
        // A panic inside a call leaves the book whole: its transaction is rolled
        // back. So a poisoned lock is taken like any other.
        let book = self.book.read().unwrap_or_else(PoisonError::into_inner);
        book.clone().ok_or(ScreenError::Closed)
    }

    /// A member who is, or was, in the squad: those who left too, until they are erased.
    fn on_roster(book: &Book, member: &str) -> Result<MemberId, ScreenError> {
        let missing = || ScreenError::NotFound { what: "member".to_owned() };
        let id = Uuid::try_parse(member).map(MemberId).map_err(|_| missing())?;
        let on_roster =
            devices::roster(book)?.iter().any(|(on, _)| *on == id) && !book.authority()?.erased.contains(&id);
        let known = on_roster || book.members()?.contains(&id);
        if known { Ok(id) } else { Err(missing()) }
    }

    /// A member whose data this device is asked to erase.
    fn asked_for(book: &Book, member: &str) -> Result<MemberId, ScreenError> {
        let missing = || ScreenError::NotFound { what: "wish to erase that member".to_owned() };
        let id = Uuid::try_parse(member).map(MemberId).map_err(|_| missing())?;
        if book.asked_to_erase()?.contains(&id) { Ok(id) } else { Err(missing()) }
    }
}

/// The member an action is about: the one named, else the only one served, or of several
/// the one this phone writes for now.
pub(crate) fn member_of(book: &Book, member: &str) -> Result<MemberId, ScreenError> {
    let missing = |what: &str| ScreenError::NotFound { what: what.to_owned() };
    if !member.is_empty() {
        let id = Uuid::try_parse(member).map(MemberId).map_err(|_| missing("athlete"))?;
        // A slip in an id must not begin the log of somebody who is not there.
        return if book.members()?.contains(&id) { Ok(id) } else { Err(missing("athlete")) };
    }
    athletes::writing_for(book)?.ok_or_else(|| missing("athlete of this device"))
}

/// One of the words that a field of a form accepts.
pub(crate) fn chosen<W: Word>(field: &str, text: &str) -> Result<W, ScreenError> {
    W::from_word(text).map_err(|facts::UnknownWord { found, accepted }| refused(field, found, &accepted))
}

/// One that may be left empty.
pub(crate) fn chosen_or_none<W: Word>(field: &str, text: &str) -> Result<Option<W>, ScreenError> {
    if text.is_empty() { Ok(None) } else { chosen(field, text).map(Some) }
}

/// A field of a form that is out of its range.
pub(crate) fn refused(field: &str, value: String, range: &str) -> ScreenError {
    ScreenError::Refused { field: field.to_owned(), value, range: range.to_owned() }
}

/// The set that a form says, checked against its exercise.
pub(crate) fn set_of(book: &Book, session: Hash, form: &SetForm) -> Result<Set, ScreenError> {
    let catalogue = Catalogue::read(book)?;
    let (id, exercise, leg) = log_set::chosen(&catalogue, form)?;
    if !(1..=50).contains(&form.sets) {
        return Err(refused("sets", form.sets.to_string(), "a whole number from 1 to 50"));
    }
    let cue = chosen_or_none("cue", &form.cue)?;
    let set = Set {
        session,
        exercise: id,
        reps: form.reps,
        contacts_per_rep: None,
        leg,
        box_mm: form.box_mm,
        approach: form.strides.map(Approach::Strides),
        load_g: form.load_g,
        last_10_m_ms: form.last_10_m_ms,
        cue,
        warm_up: form.warm_up,
        planned: None,
    };
    training::check(&set, exercise).map_err(|e| refused(e.field, e.value, &e.range))?;
    Ok(set)
}

fn no_device() -> ScreenError {
    ScreenError::NotFound { what: "device of that key".to_owned() }
}

/// A device that was removed.
fn removed(book: &Book, device: &str) -> Result<DeviceKey, ScreenError> {
    let device = key(device)?;
    if book.authority()?.standing(device).cut.is_none() {
        return Err(ScreenError::NotFound { what: "removal of this device".to_owned() });
    }
    Ok(device)
}

fn key(hex: &str) -> Result<DeviceKey, ScreenError> {
    DeviceKey::parse(hex).ok_or_else(no_device)
}

fn place(id: &str) -> Result<Hash, ScreenError> {
    Hash::parse(id).ok_or_else(|| ScreenError::NotFound { what: "session".to_owned() })
}

pub(crate) fn day(env: &Env, text: &str) -> Result<Day, ScreenError> {
    if text.is_empty() {
        return Ok(env.today());
    }
    Day::parse(text).ok_or_else(|| ScreenError::Refused {
        field: "day".to_owned(),
        value: text.to_owned(),
        range: "a day as 2026-11-25".to_owned(),
    })
}

pub(crate) fn optional(text: &str) -> Option<String> {
    let text = text.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Opens the book of a folder, or makes one where there is none; a phone
    /// then serves a member of its own and works at once.
    ///
    /// # Errors
    /// [`ScreenError::Book`] with the reason; the seed must be 32 bytes.
    #[uniffi::constructor]
    pub fn open(folder: &str, seed: Vec<u8>, env: &Env) -> Result<Self, ScreenError> {
        let seed: [u8; 32] =
            Zeroizing::new(seed).as_slice().try_into().map_err(|_| ScreenError::Refused {
                field: "seed".to_owned(),
                value: "of another length".to_owned(),
                range: "32 bytes".to_owned(),
            })?;
        let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new(seed)));
        let folder = Path::new(folder);
        let book = if Book::exists(folder) {
            Book::open(folder, identity)?
        } else {
            let book = Book::create(folder, identity, false)?;
            book.start_member(env.stamp())?;
            book
        };
        Ok(Self::over(Arc::new(book)))
    }

    /// Lets go of the book. Further calls say [`ScreenError::Closed`]. Phones know
    /// it as `let_go`: a generated Kotlin object has a `close` of its own.
    #[uniffi::method(name = "let_go")]
    pub fn close(&self) {
        self.book.write().unwrap_or_else(PoisonError::into_inner).take();
    }

    /// Grows with every change of the book.
    ///
    /// # Errors
    /// [`ScreenError::Closed`].
    pub fn revision(&self) -> Result<u64, ScreenError> {
        Ok(self.book()?.revision())
    }

    /// The squad board.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn squad(&self, env: &Env) -> Result<Squad, ScreenError> {
        Ok(squad::squad(&Words::of(&env.language), env, &*self.book()?, &mut self.courses())?)
    }

    /// One athlete. `before` is the cursor `older` of the window before, or empty.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn athlete(&self, env: &Env, id: &str, before: &str) -> Result<Athlete, ScreenError> {
        let book = self.book()?;
        let missing = || ScreenError::NotFound { what: "athlete".to_owned() };
        let member = Uuid::try_parse(id).map(MemberId).map_err(|_| missing())?;
        let before = if before.is_empty() { None } else { Some(day(env, before)?) };
        let words = Words::of(&env.language);
        athlete::athlete(&words, env, &book, &mut self.courses(), member, before)?.ok_or_else(missing)
    }

    /// One session.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn session(&self, env: &Env, id: &str) -> Result<Session, ScreenError> {
        session::session(&Words::of(&env.language), env, &*self.book()?, place(id)?)?
            .ok_or_else(|| ScreenError::NotFound { what: "session".to_owned() })
    }

    /// The jumps of one athlete. `member` may be empty on a device that serves one.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn jumps(&self, env: &Env, member: &str, form: &JumpsForm) -> Result<Jumps, ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        Ok(jumps::jumps(&Words::of(&env.language), env, &book, member, form)?)
    }

    /// The screen on which attempts are written down. `editing` is the attempt that is
    /// changed; its own day, place and conditions then stand in the form.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn competition_day(
        &self,
        env: &Env,
        form: &CompetitionForm,
        editing: &str,
    ) -> Result<CompetitionDay, ScreenError> {
        jumps::competition::competition_day(&Words::of(&env.language), env, &*self.book()?, form, editing)
    }

    /// Writes an attempt down, or with `editing` the correction of one. Where a field is
    /// wrong, nothing is written and all such fields are told.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn save_attempt(
        &self,
        env: &Env,
        form: &CompetitionForm,
        row: &AttemptForm,
        editing: &str,
    ) -> Result<AttemptSaved, ScreenError> {
        jumps::competition::save(&Words::of(&env.language), env, &*self.book()?, form, row, editing)
    }

    /// Takes an attempt back; gives the form with which it was written down.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn withdraw_attempt(&self, env: &Env, id: &str) -> Result<CompetitionForm, ScreenError> {
        jumps::competition::withdraw(&*self.book()?, env.stamp(), id)
    }

    /// The targets of contact times.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn targets(&self, env: &Env) -> Result<Targets, ScreenError> {
        Ok(targets::targets(&Words::of(&env.language), &*self.book()?)?)
    }

    /// Sets a target, in the place of one for the same contact and run-in; gives its id.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn set_target(&self, env: &Env, form: &TargetForm) -> Result<String, ScreenError> {
        Ok(targets::set(&*self.book()?, env.stamp(), form)?.to_string())
    }

    /// The target that stands for the same contact and run-in as a form's, whatever its
    /// length; `None` where none was set.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn standing_target(&self, form: &TargetForm) -> Result<Option<String>, ScreenError> {
        targets::standing(&*self.book()?, form)
    }

    /// Takes a target back.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn remove_target(&self, env: &Env, id: &str) -> Result<(), ScreenError> {
        targets::remove(&*self.book()?, env.stamp(), id)
    }

    /// The rules of the squad, or, with a member, those that hold for that athlete.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn rules(&self, env: &Env, member: &str) -> Result<Rules, ScreenError> {
        let book = self.book()?;
        let member = rules::of(&book, member)?;
        Ok(rules::rules(&Words::of(&env.language), env, &book, member)?)
    }

    /// Draws another line for the squad or an athlete, or turns a rule off, with a reason.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn set_rule(&self, env: &Env, form: &RuleForm) -> Result<(), ScreenError> {
        rules::set(&*self.book()?, env, form)
    }

    /// Takes a rule of the squad, or of an athlete, back: what stood before it holds again.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`] where none was drawn there.
    pub fn take_rule_back(&self, env: &Env, member: &str, rule: &str) -> Result<(), ScreenError> {
        rules::back(&*self.book()?, env.stamp(), member, rule)
    }

    /// Tests, growth, landing control, limits and advice of an athlete. `member` may be
    /// empty on a device that serves one.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn body(&self, env: &Env, member: &str) -> Result<Body, ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        Ok(body::body(&Words::of(&env.language), env, &book, &mut self.courses(), member)?)
    }

    /// Writes the result of a test down; gives its id.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn save_test(&self, env: &Env, form: &TestForm) -> Result<String, ScreenError> {
        body::test(&*self.book()?, env, form)
    }

    /// Writes a height of the body down; gives its id.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn save_height(&self, env: &Env, form: &HeightForm) -> Result<String, ScreenError> {
        body::height(&*self.book()?, env, form)
    }

    /// The card of an athlete, to be filled in.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn card(&self, env: &Env, member: &str) -> Result<CardPage, ScreenError> {
        let book = self.book()?;
        Ok(card::card(&Words::of(&env.language), &book, member_of(&book, member)?)?)
    }

    /// Writes down what of a card is other than before.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn save_card(&self, env: &Env, form: &CardForm) -> Result<(), ScreenError> {
        card::save(&*self.book()?, env, form)
    }

    /// Writes down how landings were controlled; gives its id.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn save_control(&self, env: &Env, form: &ControlForm) -> Result<String, ScreenError> {
        body::control(&*self.book()?, env, form)
    }

    /// Writes down what a member may not do; gives its id.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn save_limit(&self, env: &Env, form: &LimitForm) -> Result<String, ScreenError> {
        body::limit(&*self.book()?, env, form)
    }

    /// Writes down what a clinician advised about pain in one place; gives its id.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn save_advice(&self, env: &Env, form: &AdviceForm) -> Result<String, ScreenError> {
        body::advice(&*self.book()?, env, form)
    }

    /// Takes back what [`Self::body`] lists under an id; a limit and an advice that were in
    /// force end with yesterday.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn end_body(&self, env: &Env, member: &str, id: &str) -> Result<(), ScreenError> {
        body::end(&*self.book()?, env, member, id)
    }

    /// Ends a session early and keeps why.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn cut_short(&self, env: &Env, session: &str, why: &str) -> Result<(), ScreenError> {
        session::cut_short(&*self.book()?, env, place(session)?, why)
    }

    /// The phone's first screen.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn today(&self, env: &Env) -> Result<Today, ScreenError> {
        Ok(today::today(&Words::of(&env.language), env, &*self.book()?, &mut self.courses())?)
    }

    /// The form of a check-in.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn check_in_form(&self, env: &Env, member: &str) -> Result<CheckIn, ScreenError> {
        let book = self.book()?;
        let member = match (member_of(&book, member), book.own_members()?.first()) {
            // Who of several it is, is asked on the form.
            (Err(_), Some(first)) if member.is_empty() => *first,
            (member, _) => member?,
        };
        Ok(check_in::check_in(&Words::of(&env.language), env, &book, &mut self.courses(), member)?)
    }

    /// The form of a set.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn log_set(&self, env: &Env) -> Result<LogSet, ScreenError> {
        Ok(log_set::log_set(&Words::of(&env.language), env, &*self.book()?, &mut self.courses())?)
    }

    /// What speaks against a set that somebody plans for a member, the gravest first.
    /// Logging asks nothing of the kind: what was done is written down.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`] with the reason where the set is not to be offered: a
    /// limit rules it out, or something is to be seen by a licensed practitioner first;
    /// [`ScreenError::Refused`], [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn offer_set(&self, env: &Env, member: &str, form: &SetForm) -> Result<Vec<Said>, ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        let catalogue = Catalogue::read(&book)?;
        let (id, exercise, leg) = log_set::chosen(&catalogue, form)?;
        let offer = log_set::offer(form, id, exercise, leg);
        guard::offered(&Words::of(&env.language), env, &book, &mut self.courses(), &catalogue, member, &offer)
    }

    /// Keeps what is filled in on the form, at each tap.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn keep_set(&self, form: &SetForm) -> Result<(), ScreenError> {
        Ok(log_set::keep(&*self.book()?, Some(form))?)
    }

    /// Checks a route, for instance one that was kept over a restart.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] where it names no screen.
    pub fn check_route(&self, route: &str) -> Result<String, ScreenError> {
        let route: Route =
            route.parse().map_err(|_| ScreenError::NotFound { what: format!("screen {route:?}") })?;
        Ok(route.to_string())
    }

    /// Begins a session; gives its id. `member` may be empty on a device that
    /// serves one.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn begin_session(&self, env: &Env, member: &str, form: &SessionForm) -> Result<String, ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        let session = facts::Session {
            day: day(env, &form.day)?,
            start_min: None,
            purpose: optional(&form.purpose),
            location: optional(&form.location),
            surface: None,
            shoes: None,
            weather: None,
            cut_short: None,
            conditions: facts::Conditions::default(),
        };
        let place = book.write(Scope::Member(member), &Draft::new(Fact::Session(session)), env.stamp())?;
        Ok(place.to_string())
    }

    /// Writes the sets of a form into a session and drops the draft.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn save_sets(&self, env: &Env, session: &str, form: &SetForm) -> Result<Vec<String>, ScreenError> {
        let book = self.book()?;
        let at = place(session)?;
        let held = book.held(&Filter {
            kind: Some(kind::SESSION),
            field: Some(field_name::WHOLE),
            subject: Some(Subject::Fact(at)),
            ..Filter::default()
        })?;
        let missing = |what: &str| ScreenError::NotFound { what: what.to_owned() };
        let scope = held.first().map(|h| h.key.scope).ok_or_else(|| missing("session"))?;
        let set = set_of(&book, at, form)?;
        let drafts = vec![(scope, Draft::new(Fact::Set(set))); usize::from(form.sets)];
        let places = book.write_all(&drafts, env.stamp())?;
        log_set::keep(&book, None)?;
        Ok(places.iter().map(Hash::to_string).collect())
    }

    /// Writes how hard a session was; what was written before is replaced.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn set_effort(&self, env: &Env, session: &str, effort: &Effort) -> Result<(), ScreenError> {
        let book = self.book()?;
        let at = place(session)?;
        let held = book.held(&Filter {
            kind: Some(kind::SESSION),
            subject: Some(Subject::Fact(at)),
            ..Filter::default()
        })?;
        let scope = held.first().map(|h| h.key.scope);
        let scope = scope.ok_or_else(|| ScreenError::NotFound { what: "session".to_owned() })?;
        let fact = Fact::Effort(facts::Effort { rpe_tenths: effort.rpe_tenths, minutes: effort.minutes });
        book.revise(scope, Subject::Fact(at), fact, env.stamp())?;
        effort::keep(&book, at, None)?;
        Ok(())
    }

    /// Writes down how a member is; what was written for that day before is
    /// replaced. It stays in the private part. Gives the id of the check-in.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn check_in(&self, env: &Env, member: &str, form: &CheckInForm) -> Result<String, ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        let day = day(env, &form.day)?;
        let fact = Fact::CheckIn(check_in::fact(form, day)?);
        let held = check_in::of_day(&book, member, day)?;
        let draft = match &held {
            Some(held) => Draft::replacing(held, fact),
            None => Draft::new(fact),
        };
        let place = book.write(Scope::Private(member), &draft, env.stamp())?;
        check_in::keep(&book, member, None)?;
        Ok(held.and_then(|held| held.id()).unwrap_or(place).to_string())
    }

    /// Writes other training down; its id.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn log_other(&self, env: &Env, member: &str, form: &OtherForm) -> Result<String, ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        let effort = match (form.rpe_tenths, form.minutes) {
            (Some(rpe_tenths), Some(minutes)) => Some(facts::Effort { rpe_tenths, minutes }),
            (None, None) => None,
            (Some(_), None) => return Err(refused("minutes", String::new(), "minutes beside the rating")),
            (None, Some(_)) => return Err(refused("rpe", String::new(), "a rating beside the minutes")),
        };
        let other = facts::OtherTraining {
            day: day(env, &form.day)?,
            start_min: None,
            work: chosen("work", &form.work)?,
            effort,
            note: (!form.note.is_empty()).then(|| form.note.clone()),
        };
        let draft = Draft::new(Fact::OtherTraining(other));
        Ok(book.write(Scope::Member(member), &draft, env.stamp())?.to_string())
    }

    /// Says that a day was a rest day.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn rest_day(&self, env: &Env, member: &str, on: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        let fact = Fact::Rest(RestDay { day: day(env, on)? });
        book.write(Scope::Member(member), &Draft::new(fact), env.stamp())?;
        Ok(())
    }

    /// Says that everything up to a day is written down.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn complete_up_to(&self, env: &Env, member: &str, on: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        let fact = Fact::Complete(Complete { up_to: day(env, on)? });
        book.write(Scope::Member(member), &Draft::new(fact), env.stamp())?;
        Ok(())
    }

    /// The devices and members of the squad.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn devices(&self, env: &Env) -> Result<Devices, ScreenError> {
        Ok(devices::devices(&Words::of(&env.language), env, &*self.book()?)?)
    }

    /// What is held and not counted, and what was refused, with the reasons.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn aside(&self, env: &Env) -> Result<Apart, ScreenError> {
        Ok(apart::apart(&Words::of(&env.language), env, &*self.book()?)?)
    }

    /// What is said before a device is removed.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn confirm_removal(&self, env: &Env, device: &str) -> Result<Confirm, ScreenError> {
        let confirm = devices::confirm_removal(&Words::of(&env.language), &*self.book()?, key(device)?)?;
        confirm.ok_or_else(no_device)
    }

    /// What is said before a member is erased.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn confirm_erasure(&self, env: &Env, member: &str) -> Result<Confirm, ScreenError> {
        let book = self.book()?;
        let member = Self::on_roster(&book, member)?;
        Ok(devices::confirm_erasure(&Words::of(&env.language), env, &book, member)?)
    }

    /// Removes a device; not this one.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn remove_device(&self, env: &Env, device: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let device = key(device)?;
        let known =
            book.devices()?.iter().any(|(known, standing)| *known == device && standing.cut.is_none());
        if !known || device == book.device() {
            return Err(no_device());
        }
        Ok(book.remove_device(device, env.stamp())?)
    }

    /// Takes in what a removed device wrote later: what has arrived by now counts.
    /// It stays removed.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`] where it was not removed.
    pub fn take_in(&self, env: &Env, device: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        Ok(book.remove_device(removed(&book, device)?, env.stamp())?)
    }

    /// Takes the removal of a device back.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn readmit_device(&self, env: &Env, device: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        Ok(book.readmit_device(removed(&book, device)?, env.stamp())?)
    }

    /// Gives a device more. What it was given before stays: taking away is removal.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn give(&self, env: &Env, device: &str, form: &GiveForm) -> Result<(), ScreenError> {
        let book = self.book()?;
        let device = key(device)?;
        if book.devices()?.iter().all(|(known, _)| *known != device) {
            return Err(no_device());
        }
        let refused = |field: &str, value: &str, range: &str| ScreenError::Refused {
            field: field.to_owned(),
            value: value.to_owned(),
            range: range.to_owned(),
        };
        let role: Role =
            form.role.parse().map_err(|e: facts::UnknownWord| refused("role", &e.found, &e.accepted))?;
        let mut members = Vec::new();
        for member in &form.members {
            members.push(Self::on_roster(&book, member)?);
        }
        // A role that reaches nobody would be written for ever and do nothing.
        if role != Role::Owner && members.is_empty() && !form.everyone {
            return Err(refused("members", "nobody", "at least one member, or everyone"));
        }
        let widens = matches!(role, Role::Assistant | Role::Medical | Role::Guardian);
        if !widens && (form.limits || form.consent) {
            let range = "left out: only an assistant, a medical device or a guardian is given it";
            return Err(refused("limits or consent", "chosen", range));
        }
        let (everyone, limits, consent) = (form.everyone, form.limits, form.consent);
        Ok(book.give(device, Grant { role, members, everyone, limits, consent }, env.stamp())?)
    }

    /// Says that two members are one athlete.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn same_person(&self, env: &Env, one: &str, other: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let (one, other) = (Self::on_roster(&book, one)?, Self::on_roster(&book, other)?);
        if one == other {
            return Err(ScreenError::Refused {
                field: "other member".to_owned(),
                value: "the same one".to_owned(),
                range: "another member".to_owned(),
            });
        }
        Ok(book.same_person(one, other, env.stamp())?)
    }

    /// Takes it back: they are two again.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn two_persons(&self, env: &Env, member: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let member = Self::on_roster(&book, member)?;
        Ok(book.two_persons(member, env.stamp())?)
    }

    /// Takes a member off the roster. `keep_until` is the day on which the board
    /// reminds of erasing, or empty.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn leave(&self, env: &Env, member: &str, keep_until: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let member = Self::on_roster(&book, member)?;
        let until = if keep_until.is_empty() { None } else { Some(day(env, keep_until)?) };
        Ok(book.leave(member, until, env.stamp())?)
    }

    /// Puts a member who left back on the roster.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn come_back(&self, env: &Env, member: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let member = Self::on_roster(&book, member)?;
        let standing = facts::Standing::Active;
        let fact = Fact::Roster(facts::Roster { standing, since: env.today(), keep_until: None });
        book.revise(Scope::Squad, Subject::Uuid(member.0), fact, env.stamp())?;
        Ok(())
    }

    /// Erases a member; gives the keys of the devices that are asked to.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn erase_member(&self, env: &Env, member: &str) -> Result<Vec<String>, ScreenError> {
        let book = self.book()?;
        let member = Self::on_roster(&book, member)?;
        check_in::keep(&book, member, None)?;
        Ok(book.erase_member(member, env.stamp())?.iter().map(DeviceKey::to_string).collect())
    }

    /// What the coach asks this device to erase.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn wishes(&self, env: &Env) -> Result<Wishes, ScreenError> {
        Ok(wishes::wishes(&Words::of(&env.language), &*self.book()?)?)
    }

    /// Agrees to a wish of the coach: what this device keeps of the member goes.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] where nobody asked for it, [`ScreenError::Book`].
    pub fn agree_to_erase(&self, env: &Env, member: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let member = Self::asked_for(&book, member)?;
        check_in::keep(&book, member, None)?;
        Ok(wishes::agree(&book, member, env.stamp())?)
    }

    /// Answers a wish of the coach with keeping. It can still be agreed to.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] where nobody asked for it, [`ScreenError::Book`].
    pub fn keep_what_is_here(&self, member: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let member = Self::asked_for(&book, member)?;
        Ok(wishes::keep(&book, member)?)
    }

    /// Whom a member's private part is shared with. `member` may be empty on a
    /// device that serves one.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn sharing(&self, env: &Env, member: &str) -> Result<Sharing, ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        Ok(sharing::sharing(&Words::of(&env.language), &book, member)?)
    }

    /// Shares the private part with one audience, the `id` of its row, or no longer.
    /// What they have by then stays until it is erased.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn share_with(&self, env: &Env, member: &str, to: &str, given: bool) -> Result<(), ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        let to: Audience = to.parse().map_err(|e: facts::UnknownWord| ScreenError::Refused {
            field: "audience".to_owned(),
            value: e.found,
            range: e.accepted,
        })?;
        let fact = Fact::Consent(Consent { to, given });
        book.revise(Scope::Member(member), Subject::Uuid(member.0), fact, env.stamp())?;
        Ok(())
    }

    /// Lets the coach see what hurts, or no longer. The member's own devices do.
    ///
    /// # Errors
    /// [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn share_private(&self, env: &Env, member: &str, given: bool) -> Result<(), ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        let fact = Fact::Consent(Consent { to: Audience::Coach, given });
        book.revise(Scope::Member(member), Subject::Uuid(member.0), fact, env.stamp())?;
        Ok(())
    }

    /// Settles a clash with the value that `choice` names: it takes the place of
    /// all that stand side by side. `member` is the athlete whose screen shows it;
    /// empty for one that the board shows.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] where the value is not, or no longer, one of a clash.
    pub fn settle(&self, env: &Env, member: &str, choice: &str) -> Result<(), ScreenError> {
        let book = self.book()?;
        let missing = || ScreenError::NotFound { what: "open choice of that name".to_owned() };
        let hash = Hash::parse(choice).ok_or_else(missing)?;
        let clashing = Filter { clashing: true, ..Filter::default() };
        let held = match member {
            "" => {
                let mut held = book.held(&Filter { scope: Some(Scope::Squad), ..clashing })?;
                for member in book.own_members()? {
                    held.extend(book.held(&Filter { member: Some(member), ..clashing })?);
                }
                held
            }
            id => book.held(&Filter { member: Some(member_of(&book, id)?), ..clashing })?,
        };
        let clash =
            held.iter().filter(|h| h.is_clash()).find(|h| h.seen.contains(&hash)).ok_or_else(missing)?;
        let chosen = clash.values.iter().find(|v| v.hash == hash).ok_or_else(missing)?;
        let fact = chosen.fact.clone().map_err(|_| missing())?;
        let draft = Draft { extra: chosen.extra.clone(), ..Draft::replacing(clash, fact) };
        book.write(clash.key.scope, &draft, env.stamp())?;
        Ok(())
    }

    /// The name of a member, or what stands for it.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn member_name(&self, env: &Env, member: &str) -> Result<String, ScreenError> {
        let book = self.book()?;
        let member = member_of(&book, member)?;
        let card = training::Card::read(&book, member)?;
        Ok(wording::name(&Words::of(&env.language), &card, member))
    }
}
