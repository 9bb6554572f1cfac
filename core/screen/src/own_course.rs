//! The course of the person at this device: own weeks, timed contacts, and how they stand to
//! what comes next, as far as it is known: the tests before falls from higher boxes, and the
//! targets of contact times. Stages of a season are not written down yet, and that is said.

use pitside_book::store::{Book, BookError};
use pitside_model::facts::MemberId;

use crate::athletes;
use crate::clock::OwnClock;
use crate::companion::{Companion, ScreenError, member_of};
use crate::course::{Courses, first_day, rules};
use crate::details::details;
use crate::env::Env;
use crate::guard;
use crate::judged;
use crate::record::{Choice, Detail, Link, Said, TakeRow, WeekRow};
use crate::route::Route;
use crate::text::Words;
use crate::training::{Card, Catalogue, limits, takes_until};
use crate::wording::{self, is_young, name, week_rows};

const WEEKS: i32 = 8;
/// Takes shown with their picture.
const TAKES: usize = 6;

/// How something stands to a line or a target.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum State {
    Met,
    NotMet,
    /// It was never tested.
    NotKnown,
    /// It was timed, and this camera cannot tell.
    CannotTell,
    /// It was never timed.
    NotTimed,
}

impl State {
    pub(crate) fn of(met: Option<bool>) -> Self {
        met.map_or(Self::NotKnown, |met| if met { Self::Met } else { Self::NotMet })
    }

    const fn word(self) -> &'static str {
        match self {
            Self::Met => "met",
            Self::NotMet => "not-met",
            Self::NotKnown => "not-known",
            Self::CannotTell => "cannot-tell",
            Self::NotTimed => "not-timed",
        }
    }
}

/// Something that stands before what comes next.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Condition {
    /// What it is about, the same as long as that is.
    pub id: String,
    /// `met`, `not-met`, `not-known`, `cannot-tell` or `not-timed`.
    pub state: String,
    /// The same in words.
    pub said: String,
    /// What was found.
    pub saw: String,
    /// The line, and how what was found stands to it.
    pub rule: String,
    /// Where the line comes from; may be empty.
    pub source: String,
    /// What a person may do; empty where there is nothing to do.
    pub may_do: String,
    /// All of it.
    pub spoken: String,
}

impl Condition {
    pub(crate) fn new(
        words: &Words,
        id: String,
        state: State,
        saw: String,
        [rule, source, may_do]: [String; 3],
    ) -> Self {
        let said = words.word(&format!("condition-{}", state.word()));
        let parts = [&saw, &rule, &source, &may_do].map(String::as_str);
        let told: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
        let spoken = format!("{said}: {}", told.join(" "));
        Self { id, state: state.word().to_owned(), said, saw, rule, source, may_do, spoken }
    }
}

/// The course of the person at this device.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct OwnCourse {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// Said on a device that serves no athlete; else empty, and so is the rest there.
    pub nobody: String,
    /// Whom this device serves, the one who is shown chosen; empty where it is one.
    pub members: Vec<Choice>,
    /// What speaks against plyometric work of any kind today, the gravest first.
    pub against: Vec<Said>,
    /// Limits that hold today.
    pub limits: Vec<String>,
    /// Contacts and energy by kind, and session-RPE, over eight weeks.
    pub rows: Vec<WeekRow>,
    /// What stands behind these.
    pub details: Vec<Detail>,
    /// Above the conditions: what is known of what comes next, and what is not.
    pub next: String,
    /// The tests before falls from higher boxes.
    pub tests: Vec<Condition>,
    /// The targets of contact times.
    pub targets: Vec<Condition>,
    /// Said where there is no target; else empty.
    pub no_targets: String,
    /// The newest takes.
    pub takes: Vec<TakeRow>,
    /// Said where there is none; else empty.
    pub no_takes: String,
    /// What else there is.
    pub links: Vec<Link>,
    /// Cautions that hold for this athlete.
    pub cautions: Vec<String>,
}

/// The course of a member whom this device serves; where none is named, of the one it writes
/// for, or of the first.
fn own_course(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    member: &str,
) -> Result<OwnCourse, ScreenError> {
    let own_members = book.own_members()?;
    let usual = athletes::writing_for(book)?.or(own_members.first().copied());
    let member = match (member, usual) {
        ("", None) => return Ok(nobody(words, book)),
        ("", Some(usual)) => usual,
        (named, _) => member_of(book, named)?,
    };
    let revision = book.revision();
    let today = env.today();
    let catalogue = Catalogue::read(book)?;
    let own = OwnClock::read(env, book)?;
    let rules = rules(book, Some(member))?;
    let status = guard::status(book, courses, own, &catalogue, member, today, None)?;
    let takes = takes_until(book, &catalogue, member, today)?;
    let targets = judged::conditions(words, env, book, &catalogue, member, &takes)?;
    let pictures =
        judged::rows(words, env, book, &catalogue, member, &takes, takes.iter().rev().take(TAKES))?;
    let limits = limits(book, member, own)?;
    let mut look = courses.look(book)?;
    let kept = look.of(member, &catalogue, first_day(&rules, today, WEEKS))?;
    let mut cautions = Vec::new();
    if is_young(&kept.card, today) {
        cautions.push(words.word("caution-young"));
    }
    cautions.push(words.word("caution-pain"));
    let or = |missing: bool, key: &str| if missing { words.word(key) } else { String::new() };
    Ok(OwnCourse {
        revision,
        title: words.word("own-course-title"),
        nobody: String::new(),
        members: members(words, book, &own_members, member)?,
        against: guard::today(words, &status),
        limits: limits.iter().filter(|l| own.holds(l)).map(|l| wording::limit(words, l)).collect(),
        rows: week_rows(words, &kept.weeks(today, WEEKS)),
        details: details(words, kept, &rules, today),
        next: words.word("own-course-next"),
        tests: guard::conditions(words, &status),
        no_targets: or(targets.is_empty(), "own-course-no-targets"),
        targets,
        no_takes: or(pictures.is_empty(), "own-course-no-takes"),
        takes: pictures,
        links: vec![
            Link { text: words.word("link-plans"), route: Route::Plans(member).to_string() },
            Link { text: words.word("own-course-all"), route: Route::Athlete(member).to_string() },
            Link { text: words.word("link-body"), route: Route::Body(member).to_string() },
            Link { text: words.word("link-jumps"), route: Route::Jumps(member).to_string() },
        ],
        cautions,
    })
}

/// On the coach's own phone.
fn nobody(words: &Words, book: &Book) -> OwnCourse {
    OwnCourse {
        revision: book.revision(),
        title: words.word("own-course-title"),
        nobody: words.word("own-course-nobody"),
        members: Vec::new(),
        against: Vec::new(),
        limits: Vec::new(),
        rows: Vec::new(),
        details: Vec::new(),
        next: String::new(),
        tests: Vec::new(),
        targets: Vec::new(),
        no_targets: String::new(),
        takes: Vec::new(),
        no_takes: String::new(),
        links: vec![Link { text: words.word("squad"), route: Route::Squad.to_string() }],
        cautions: Vec::new(),
    }
}

fn members(words: &Words, book: &Book, own: &[MemberId], chosen: MemberId) -> Result<Vec<Choice>, BookError> {
    if own.len() < 2 {
        return Ok(Vec::new());
    }
    let choice = |member: &MemberId| {
        Ok(Choice {
            id: member.to_string(),
            text: name(words, &Card::read(book, *member)?, *member),
            group: String::new(),
            chosen: *member == chosen,
        })
    };
    own.iter().map(choice).collect()
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// The course of a member whom this device serves; `member` may be empty for the one
    /// this device writes for, or the first.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`], [`ScreenError::Book`].
    pub fn own_course(&self, env: &Env, member: &str) -> Result<OwnCourse, ScreenError> {
        let book = self.open_book()?;
        own_course(&Words::of(&env.language), env, &book, &mut self.courses(), member)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{CardForm, TargetForm, TestForm};

    fn env() -> Env {
        Env { language: "en".into(), zone_min: 60, hour24: true, now_ms: 1_795_593_600_000 }
    }

    #[test]
    fn tests_are_met_not_met_or_not_known_and_targets_wait_for_a_clip() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env()).unwrap();
        let before = phone.own_course(&env(), "").unwrap();
        assert!(before.nobody.is_empty() && before.members.is_empty() && before.takes.is_empty());
        assert!(before.tests.iter().all(|test| test.state == "not-known"), "{:?}", before.tests);
        assert!(!before.no_targets.is_empty() && !before.no_takes.is_empty());

        let member = phone.card(&env(), "").unwrap().form.member;
        phone.save_card(&env(), &CardForm { member, mass_kg: "60".into(), ..CardForm::default() }).unwrap();
        let test = |test: &str, value: &str| TestForm {
            test: test.into(),
            value: value.into(),
            ..TestForm::default()
        };
        phone.save_test(&env(), &test("squat", "95")).unwrap();
        phone.save_test(&env(), &test("five-squats", "5.6")).unwrap();
        let exercise = phone.log_set(&env()).unwrap().form.exercise;
        let own = phone.body(&env(), "").unwrap().member;
        phone
            .set_target(
                &env(),
                &TargetForm {
                    member: own,
                    exercise,
                    ms: 150,
                    source: "the coach".into(),
                    ..TargetForm::default()
                },
            )
            .unwrap();
        let after = phone.own_course(&env(), "").unwrap();
        let states: Vec<&str> = after.tests.iter().map(|test| test.state.as_str()).collect();
        assert_eq!(states, ["met", "not-met", "not-known"]);
        assert!(after.tests[0].may_do.is_empty() && !after.tests[1].may_do.is_empty());
        assert_eq!(after.targets.len(), 1);
        assert_eq!(after.targets[0].state, "not-timed");
        assert!(after.targets[0].spoken.contains("150 ms"), "{}", after.targets[0].spoken);
        assert!(after.no_targets.is_empty());
    }

    #[test]
    fn on_a_phone_of_several_it_is_the_course_of_the_one_who_was_chosen() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env()).unwrap();
        let first = phone.group(&env()).unwrap().naming;
        phone.name_athlete(&env(), &first, "Ada").unwrap();
        let others = ["Bo", "Cleo"].map(|name| {
            let another = phone.group(&env()).unwrap().naming;
            phone.name_athlete(&env(), &another, name).unwrap()
        });
        let shown = || {
            let members = phone.own_course(&env(), "").unwrap().members;
            members.into_iter().filter(|choice| choice.chosen).map(|choice| choice.text).collect::<Vec<_>>()
        };
        assert_eq!(shown().len(), 1, "before anybody was chosen");
        for (id, name) in others.iter().zip(["Bo", "Cleo"]) {
            phone.write_for(id).unwrap();
            assert_eq!(shown(), [name]);
        }
    }

    #[test]
    fn nobody_else_is_shown() {
        let folder = tempfile::tempdir().unwrap();
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env()).unwrap();
        let other = uuid::Uuid::from_u128(5).to_string();
        assert!(matches!(phone.own_course(&env(), &other), Err(ScreenError::NotFound { .. })));
    }
}
