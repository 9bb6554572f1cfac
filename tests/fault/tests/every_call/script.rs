//! What the child does: a coach's key, two books, what people write in them,
//! and the exchanges between them. It says on standard output what it has done,
//! after the call has returned.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use pitside_book::clock::{Clock, Stamp};
use pitside_book::exchange::{ExchangeError, Link, Part, accept, exchange};
use pitside_book::keys::file::{self, SeedFileError};
use pitside_book::keys::{Identity, OsRng, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::facts::{
    Card, Conditions, Day, DeviceKey, Effort, Fact, Grant, Leg, MemberId, RestDay, Role, Scope, Session, Set,
    Subject, kind,
};
use pitside_model::load::catalogue;
use zeroize::Zeroizing;

use crate::view::View;

/// The folder to work in. Whoever sets it wants the script run.
pub(crate) const FOLDER: &str = "PITSIDE_FAULT_SCRIPT";
/// Set where the child is to say what is there after each step.
pub(crate) const TELL: &str = "PITSIDE_FAULT_TELL";
/// The report of the layer: the child removes it to deal with the fault.
pub(crate) const REPORT: &str = "PITSIDE_FAULT_REPORT";
/// Begins each line that the child says; the harness writes to the same lines.
pub(crate) const MARK: &str = "@ ";

#[derive(Clone, Copy)]
pub(crate) struct StoppedClock;
impl Clock for StoppedClock {
    fn now(&self) -> Stamp {
        NOW
    }
}
pub(crate) const NOW: Stamp = Stamp { ms: 1_790_000_000_000, zone_min: 60 };

/// Why a step was not done. The types say that it is an error with a name.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    #[error("the book says: {0}")]
    Book(#[from] BookError),
    #[error("the key says: {0}")]
    Key(#[from] SeedFileError),
    #[error("the exchange says: {0}")]
    Exchange(#[from] ExchangeError<Cut>),
}

pub(crate) fn coach_key(folder: &Path) -> PathBuf {
    folder.join("coach.key")
}
pub(crate) fn coach_folder(folder: &Path) -> PathBuf {
    folder.join("coach/book")
}
pub(crate) fn phone_folder(folder: &Path) -> PathBuf {
    folder.join("phone")
}
pub(crate) fn phone_identity() -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([2; 32])))
}

/// What the program does when it starts.
fn open_or_make(folder: &Path, identity: Identity) -> Result<Book, BookError> {
    if Book::exists(folder) { Book::open(folder, identity) } else { Book::create(folder, identity, false) }
}

/// The two devices, as far as the script has come.
pub(crate) struct Stage {
    folder: PathBuf,
    coach: Option<Book>,
    phone: Option<Book>,
    invitation: Option<Invitation>,
}

impl Stage {
    fn coach(&self) -> &Book {
        self.coach.as_ref().unwrap()
    }
    fn phone(&self) -> &Book {
        self.phone.as_ref().unwrap()
    }
    fn member(&self) -> MemberId {
        self.phone().own_members().unwrap()[0]
    }
    fn write(&self, draft: &Draft) -> Result<(), Failure> {
        self.phone().write(Scope::Member(self.member()), draft, NOW)?;
        Ok(())
    }
    fn set(&self, reps: u16) -> Held {
        let sets = self.phone().held(&Filter { kind: Some(kind::SET), ..Filter::default() }).unwrap();
        sets.into_iter().find(|s| matches!(s.fact(), Some(Fact::Set(s)) if s.reps == reps)).unwrap()
    }
    fn open_phone(&mut self) -> Result<(), Failure> {
        if self.phone.is_none() {
            self.phone = Some(Book::open(&phone_folder(&self.folder), phone_identity())?);
        }
        Ok(())
    }
    fn open_coach(&mut self) -> Result<(), Failure> {
        if self.coach.is_none() {
            let seed = file::load(&coach_key(&self.folder))?;
            self.coach = Some(Book::open(&coach_folder(&self.folder), Identity::from_seed(seed))?);
        }
        Ok(())
    }
}

/// One call that changes something, or one exchange.
pub(crate) struct Step {
    pub(crate) name: &'static str,
    pub(crate) run: fn(&mut Stage) -> Result<(), Failure>,
    /// It takes more than one transaction: what arrived by then stays.
    pub(crate) in_parts: bool,
}

const fn step(name: &'static str, run: fn(&mut Stage) -> Result<(), Failure>) -> Step {
    Step { name, run, in_parts: false }
}
const fn steps(name: &'static str, run: fn(&mut Stage) -> Result<(), Failure>) -> Step {
    Step { name, run, in_parts: true }
}

pub(crate) const STEPS: &[Step] = &[
    step("make the coach's key", |s| {
        file::create(&coach_key(&s.folder), &mut OsRng)?;
        Ok(())
    }),
    step("make the coach's book", |s| {
        let seed = file::load(&coach_key(&s.folder))?;
        s.coach = Some(open_or_make(&coach_folder(&s.folder), Identity::from_seed(seed))?);
        Ok(())
    }),
    step("found", |s| {
        s.coach().found("Quay jumps", NOW)?;
        Ok(())
    }),
    step("make the phone's book", |s| {
        s.phone = Some(open_or_make(&phone_folder(&s.folder), phone_identity())?);
        Ok(())
    }),
    step("start a member", |s| {
        s.phone().start_member(NOW)?;
        Ok(())
    }),
    step("write a session", |s| {
        s.write(&Draft::new(Fact::Session(Session {
            day: Day::parse("2026-09-21").unwrap(),
            start_min: None,
            purpose: Some("low hops".into()),
            location: None,
            surface: None,
            shoes: None,
            weather: None,
            cut_short: None,
            conditions: Conditions::default(),
        })))
    }),
    step("write sets and effort, all or none", |s| {
        let sessions = s.phone().held(&Filter { kind: Some(kind::SESSION), ..Filter::default() })?;
        let session = sessions[0].id().unwrap();
        let scope = Scope::Member(s.member());
        let set = |reps| {
            Draft::new(Fact::Set(Set {
                session,
                exercise: catalogue::id::POGO,
                reps,
                contacts_per_rep: None,
                leg: Leg::Both,
                box_mm: None,
                approach: None,
                load_g: None,
                last_10_m_ms: None,
                cue: None,
                warm_up: false,
                planned: None,
            }))
        };
        let effort = Fact::Effort(Effort { rpe_tenths: 50, minutes: 60 });
        let drafts = [set(10), set(8), set(6), Draft::about(Subject::Fact(session), effort)];
        s.phone().write_all(&drafts.map(|draft| (scope, draft)), NOW)?;
        Ok(())
    }),
    step("correct a set", |s| {
        let held = s.set(10);
        let Some(Fact::Set(set)) = held.fact() else { unreachable!("it was asked for") };
        s.write(&Draft::replacing(&held, Fact::Set(Set { reps: 12, ..set.clone() })))
    }),
    step("delete a set", |s| s.write(&Draft::replacing(&s.set(8), Fact::Deleted))),
    step("invite", |s| {
        s.invitation = Some(invite(s.coach())?);
        Ok(())
    }),
    steps("join", |s| join(s.phone(), s.invitation.as_ref().unwrap(), s.coach())),
    step("write rest days", |s| {
        let scope = Scope::Member(s.member());
        let drafts: Vec<_> = (0..20)
            .map(|n| {
                let day = Day::parse("2026-01-01").unwrap().plus(n);
                (scope, Draft::new(Fact::Rest(RestDay { day })))
            })
            .collect();
        s.phone().write_all(&drafts, NOW)?;
        Ok(())
    }),
    step("seal", |s| Ok(s.phone().seal()?)),
    step("close the phone's book", |s| {
        s.open_phone()?;
        Ok(s.phone.take().unwrap().close()?)
    }),
    step("open the phone's book", Stage::open_phone),
    step("write a name", |s| {
        let name = Fact::Card(Card::Name("Ino".into()));
        s.write(&Draft::about(Subject::Uuid(s.member().0), name))
    }),
    steps("exchange", |s| meet(s.phone(), Part::Caller, s.coach())),
    step("add a member", |s| {
        s.coach().add_member("Ada", NOW)?;
        Ok(())
    }),
    step("write a rest day", |s| {
        s.write(&Draft::new(Fact::Rest(RestDay { day: Day::parse("2026-03-01").unwrap() })))
    }),
    steps("exchange again", |s| meet(s.phone(), Part::Caller, s.coach())),
    step("close the phone's book again", |s| {
        s.open_phone()?;
        Ok(s.phone.take().unwrap().close()?)
    }),
    step("close the coach's book", |s| {
        s.open_coach()?;
        Ok(s.coach.take().unwrap().close()?)
    }),
];

/// Runs the script. A step that fails is told and tried again: once while the
/// fault lasts, once after it was dealt with.
pub(crate) fn run(folder: &Path) {
    let report = std::env::var_os(REPORT).map(PathBuf::from);
    let tell = std::env::var_os(TELL).is_some();
    let mut stage = Stage { folder: folder.to_owned(), coach: None, phone: None, invitation: None };
    say(&format!("begun{}", told(tell, folder, &stage)));
    for step in STEPS {
        for attempt in 0.. {
            match (step.run)(&mut stage) {
                Ok(()) => break,
                Err(failure) => say(&format!("failed {}: {failure}", step.name)),
            }
            match &report {
                // What was there can be read while nothing can be written.
                Some(_) if attempt == 0 => {
                    for book in [&stage.coach, &stage.phone].into_iter().flatten() {
                        book.held(&Filter::default()).unwrap();
                    }
                }
                Some(report) if attempt == 1 => std::fs::remove_file(report).unwrap(),
                _ => panic!("{}: does not work again", step.name),
            }
        }
        say(&format!("ok{}", told(tell, folder, &stage)));
    }
    say("through");
}

fn told(tell: bool, folder: &Path, stage: &Stage) -> String {
    if !tell {
        return String::new();
    }
    let key = coach_key(folder);
    let lines = |book: &Option<Book>, folder: &Path, identity: &dyn Fn() -> Identity| match book {
        Some(book) => Some(View::lines(book, folder)),
        // A book that is closed has what it had.
        None => Book::exists(folder).then(|| {
            let book = Book::open(folder, identity()).unwrap();
            View::lines(&book, folder)
        }),
    };
    let coach = || Identity::from_seed(file::load(&key).unwrap());
    let view = View {
        key: key.exists(),
        coach: lines(&stage.coach, &coach_folder(folder), &coach),
        phone: lines(&stage.phone, &phone_folder(folder), &phone_identity),
    };
    format!(" {}", serde_json::to_string(&view).unwrap())
}

fn say(line: &str) {
    let mut out = std::io::stdout().lock();
    out.write_all(format!("\n{MARK}{line}\n").as_bytes()).unwrap();
    out.flush().unwrap();
}

/// A link in memory.
struct Wire {
    peer: DeviceKey,
    to: Sender<Vec<u8>>,
    from: Receiver<Vec<u8>>,
}

/// The other side has ended.
#[derive(Debug, thiserror::Error)]
#[error("cut")]
pub(crate) struct Cut;

impl Link for Wire {
    type Error = Cut;
    fn peer(&self) -> DeviceKey {
        self.peer
    }
    fn send(&mut self, message: &[u8]) -> Result<(), Cut> {
        self.to.send(message.to_vec()).map_err(|_| Cut)
    }
    fn receive(&mut self) -> Result<Vec<u8>, Cut> {
        self.from.recv().map_err(|_| Cut)
    }
}

fn invite(coach: &Book) -> Result<Invitation, BookError> {
    let open = coach.invite(Grant::new(Role::Athlete, vec![]), NOW, 10)?;
    Invitation::of(coach, &open, vec![])
}

fn join(phone: &Book, invitation: &Invitation, coach: &Book) -> Result<(), Failure> {
    let part = accept(phone, invitation, &StoppedClock)?;
    meet(phone, part, coach)
}

/// An exchange between the two books of a folder, with a new invitation where
/// the first was not used yet.
pub(crate) fn meet_again(folder: &Path) -> Result<(), Failure> {
    let identity = Identity::from_seed(file::load(&coach_key(folder))?);
    let coach = Book::open(&coach_folder(folder), identity)?;
    let phone = Book::open(&phone_folder(folder), phone_identity())?;
    match phone.squad() {
        None => join(&phone, &invite(&coach)?, &coach),
        Some(_) => meet(&phone, Part::Caller, &coach),
    }
}

/// One exchange. Of two failures the one that is not the other's echo is given.
fn meet(caller: &Book, part: Part, called: &Book) -> Result<(), Failure> {
    let ((a, b), (c, d)) = (channel(), channel());
    let mut near = Wire { peer: called.device(), to: a, from: d };
    let mut far = Wire { peer: caller.device(), to: c, from: b };
    let (near, far) = thread::scope(|scope| {
        let other = scope.spawn(move || exchange(called, &mut far, Part::Called, &StoppedClock));
        let ended = exchange(caller, &mut near, part, &StoppedClock);
        drop(near);
        (ended, other.join().unwrap())
    });
    match (near, far) {
        (Ok(_), Ok(_)) => Ok(()),
        (Err(ExchangeError::Link(_)) | Ok(_), Err(e)) | (Err(e), _) => Err(e.into()),
    }
}
