//! One phone logs for many: the roll is called, an exercise chosen once, and each tap on a
//! name writes a set of that athlete.

use std::collections::BTreeSet;

use pitside_book::store::{Book, BookError, Filter, Held, Written};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{self, Fact, Hash, Leg, MemberId, kind};
use uuid::Uuid;

use crate::athletes::{self, choice, named};
use crate::clock::OwnClock;
use crate::companion::{Companion, ScreenError, member_of, set_of};
use crate::correction;
use crate::course::Courses;
use crate::effort;
use crate::env::Env;
use crate::guard;
use crate::log_set::{self, chips, filled_in, first_form};
use crate::log_today::{empty_session, of_today, write_today};
use crate::record::{Choice, Link, LogSet, Said, SetForm};
use crate::route::Route;
use crate::text::Words;
use crate::training::Catalogue;
use crate::wording;

/// Where it is kept how far a group is: on this device, at every tap.
const DRAFT: &str = "draft/group";

/// Nobody does two sets in three seconds: a second tap within them is the first one's, or
/// the rain's.
const ONE_TAP_MS: i64 = 3_000;

/// The three steps, in order.
const STEPS: [&str; 3] = ["roll", "exercise", "names"];

/// How far a group is.
#[derive(Clone, Debug, Default, PartialEq, uniffi::Record)]
pub struct GroupForm {
    /// `roll`, `exercise` or `names`.
    pub step: String,
    /// Who is there.
    pub present: Vec<String>,
    /// What each tap writes: one set of it.
    pub form: SetForm,
}

/// An athlete of a group, to be tapped.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct GroupRow {
    /// The member.
    pub id: String,
    /// The name.
    pub name: String,
    /// Sets of the exercise written today.
    pub count: String,
    /// Which leg is next; empty where both are.
    pub next: String,
    /// The gravest that speaks against the next set, in a sentence; empty where nothing does,
    /// or the same stands against everybody's.
    pub against: String,
    /// All that speaks against it.
    pub said: Vec<Said>,
    /// The newest set that this device wrote, to be taken back by holding the name; empty
    /// where there is none.
    pub undo_set: String,
    /// What its author saw of it; given back as it is.
    pub undo_seen: String,
    /// The name of that action.
    pub undo: String,
    /// Where today's session stands; empty where there is none.
    pub route: String,
    /// All of it.
    pub spoken: String,
}

/// One phone that logs for many.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Group {
    /// The book's revision it was made at.
    pub revision: u64,
    /// The heading of this step.
    pub title: String,
    /// What to do in this step.
    pub about: String,
    /// How far it is, and what is filled in.
    pub form: GroupForm,
    /// Everybody this device may write for; those who are there are chosen.
    pub roll: Vec<Choice>,
    /// The button that chooses everybody.
    pub everybody: String,
    /// That this device may write for nobody else, and who changes that; else empty.
    pub who_may: String,
    /// Whom the name is for, given back as it is: a member who has none yet, else the id that
    /// another athlete will have.
    pub naming: String,
    /// Beside the field of that name; empty where this device can make nobody.
    pub naming_label: String,
    /// What it means to share this phone; empty where nobody is added to it.
    pub naming_about: String,
    /// Saves the name.
    pub naming_save: String,
    /// The exercise, in the step in which it is chosen.
    pub exercise: Option<LogSet>,
    /// What a tap writes, in words.
    pub what: String,
    /// What speaks against the next set of everybody who is there; empty where nothing does.
    pub against_all: String,
    /// Those who are there, in the step in which names are tapped.
    pub rows: Vec<GroupRow>,
    /// The questions how hard it was that are due, one an athlete.
    pub efforts: Vec<Link>,
    /// Goes on to the next step; empty where nothing is chosen yet, or it is the last.
    pub on: String,
    /// Goes back to the exercise.
    pub to_exercise: String,
    /// Goes back to the roll.
    pub to_roll: String,
}

fn read(book: &Book, env: &Env) -> Result<Option<GroupForm>, BookError> {
    let Some(bytes) = book.local(DRAFT)? else { return Ok(None) };
    let Ok(Value::Array(items)) = decode(&bytes) else { return Ok(None) };
    let [Value::Int(day), Value::Text(step), Value::Array(present), form] = items.as_slice() else {
        return Ok(None);
    };
    let Some(form) = log_set::read(form) else { return Ok(None) };
    // Who was there yesterday is asked again; the exercise is kept.
    let same_day = i128::from(env.today().number()) == *day;
    let texts = present.iter().filter_map(|one| match one {
        Value::Text(id) => Some(id.clone()),
        _ => None,
    });
    let present = if same_day { texts.collect() } else { Vec::new() };
    let step = if same_day { step.clone() } else { STEPS[0].to_owned() };
    Ok(Some(GroupForm { step, present, form }))
}

fn keep(book: &Book, env: &Env, form: &GroupForm) -> Result<(), BookError> {
    let present = form.present.iter().map(|id| Value::from(id.as_str())).collect();
    let draft = Value::Array(vec![
        env.today().number().into(),
        form.step.as_str().into(),
        Value::Array(present),
        log_set::kept(&form.form),
    ]);
    book.set_local(DRAFT, Some(&encode(&draft)))
}

/// A set of today, with when and by whom it was first written down.
type Done = (Written, Held);

/// Sets of today of one exercise, the newest last.
fn done_today(book: &Book, env: &Env, member: MemberId, exercise: Uuid) -> Result<Vec<Done>, BookError> {
    let mut sets = Vec::new();
    for session in of_today(env, book, member)? {
        let filter = Filter { kind: Some(kind::SET), session: session.id(), ..Filter::default() };
        sets.extend(
            book.held(&filter)?
                .into_iter()
                .filter(|held| matches!(held.fact(), Some(Fact::Set(set)) if set.exercise == exercise)),
        );
    }
    let mut sets: Vec<Done> = book.written(&sets)?.into_iter().zip(sets).collect();
    sets.sort_by_key(|(written, _)| *written);
    Ok(sets)
}

/// The newest that this device wrote, whoever put it right since.
fn newest_own<'a>(book: &Book, done: &'a [Done]) -> Option<&'a Done> {
    done.iter().rev().find(|(written, _)| written.device == book.device())
}

fn set_fact(held: &Held) -> Option<&facts::Set> {
    match held.fact() {
        Some(Fact::Set(set)) => Some(set),
        _ => None,
    }
}

/// The leg of an athlete's next set: the other one than in the last, as long as it was done
/// on the same leg or in the same turns as the form says.
fn next_leg(done: &[Done], wanted: Leg) -> Leg {
    let last = done.last().and_then(|(_, held)| set_fact(held)).map(|set| set.leg);
    match last {
        Some(last) if last == wanted || last.swapped() == wanted => last.swapped(),
        _ => wanted,
    }
}

/// What a tap writes: what was chosen, else the exercise that one of them did last.
fn what(
    form: SetForm,
    catalogue: &Catalogue,
    recent: impl FnOnce() -> Result<Vec<(String, SetForm)>, BookError>,
) -> Result<SetForm, BookError> {
    let form = match form {
        form if form != SetForm::default() => form,
        _ => recent()?.into_iter().next().map_or_else(first_form, |(_, form)| form),
    };
    // One tap is one set.
    Ok(log_set::completed(catalogue, SetForm { sets: 1, ..form }))
}

fn screen(words: &Words, env: &Env, book: &Book, courses: &mut Courses) -> Result<Group, BookError> {
    let revision = book.revision();
    let catalogue = Catalogue::read(book)?;
    let members = named(words, book, athletes::writes_for(book)?)?;
    let all: Vec<MemberId> = members.iter().map(|(id, _)| *id).collect();
    let mut form = match read(book, env)? {
        Some(form) => form,
        None => GroupForm { step: STEPS[0].to_owned(), ..GroupForm::default() },
    };
    form.present.retain(|id| all.iter().any(|member| member.to_string() == *id));
    if form.present.is_empty() || !STEPS.contains(&form.step.as_str()) {
        STEPS[0].clone_into(&mut form.step);
    }
    let present: BTreeSet<String> = form.present.iter().cloned().collect();
    let there = |id: &MemberId| present.contains(&id.to_string());
    let recent = log_set::recent(words, env, book, &catalogue, &all)?;
    form.form = what(form.form, &catalogue, || Ok(recent.clone()))?;
    let filled = filled_in(words, env, book, courses, &catalogue, form.form.clone(), &[])?;
    let what = set_of(book, Hash([0; 32]), &form.form).map(|set| wording::set(words, &catalogue, &set));
    let what = what.unwrap_or_default();
    let mut rows = if form.step == STEPS[2] {
        let there = members.iter().filter(|(id, _)| there(id)).cloned();
        rows(words, env, book, courses, &catalogue, &form.form, there.collect())?
    } else {
        Vec::new()
    };
    let against_all = said_once(&mut rows);
    let naming = athletes::nameless(book)?.filter(|member| all.contains(member));
    let may_name = naming.is_some() || athletes::may_add(book)?;
    let whom = match naming {
        Some(member) => member.to_string(),
        None if may_name => book.new_member_id(env.stamp())?.to_string(),
        None => String::new(),
    };
    let on = match form.step.as_str() {
        "roll" if present.is_empty() => String::new(),
        "roll" => words.say("group-on-roll", &[("n", (present.len() as u64).into())]),
        "exercise" => words.word("group-on-exercise"),
        _ => String::new(),
    };
    Ok(Group {
        revision,
        title: words.word(&format!("group-title-{}", form.step)),
        about: words.word(&format!("group-about-{}", form.step)),
        roll: members.iter().map(|(id, text)| choice(*id, text.clone(), there(id))).collect(),
        everybody: if all.len() > 1 { words.word("group-everybody") } else { String::new() },
        who_may: if may_name { String::new() } else { words.word("group-who-may") },
        naming: whom,
        naming_label: match (may_name, naming) {
            (false, _) => String::new(),
            (true, Some(_)) => words.word("group-name-first"),
            (true, None) => words.word("group-name-another"),
        },
        naming_about: if may_name && book.squad().is_none() {
            words.word("group-name-about")
        } else {
            String::new()
        },
        naming_save: words.word("group-name-save"),
        exercise: (form.step == STEPS[1]).then(|| LogSet { recent: chips(recent, &filled.form), ..filled }),
        what,
        against_all,
        rows,
        efforts: effort::due_each(words, env, book)?,
        on,
        to_exercise: words.word("group-to-exercise"),
        to_roll: words.word("group-to-roll"),
        form,
    })
}

/// What speaks against the next set of all of them alike is said once, above the names.
fn said_once(rows: &mut [GroupRow]) -> String {
    let Some(first) = rows.first().map(|row| row.against.clone()) else { return String::new() };
    if rows.len() < 2 || rows.iter().any(|row| row.against != first) {
        return String::new();
    }
    rows.iter_mut().for_each(|row| row.against.clear());
    first
}

fn rows(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
    catalogue: &Catalogue,
    form: &SetForm,
    there: Vec<(MemberId, String)>,
) -> Result<Vec<GroupRow>, BookError> {
    let Ok((id, exercise, wanted)) = log_set::chosen(catalogue, form) else { return Ok(Vec::new()) };
    let own_clock = OwnClock::read(env, book)?;
    let mut rows = Vec::with_capacity(there.len());
    for (member, name) in there {
        let done = done_today(book, env, member, id)?;
        let leg = next_leg(&done, wanted);
        let status = guard::status(book, courses, own_clock, catalogue, member, env.today(), Some(exercise))?;
        let said = guard::against_before_others(words, &status, &log_set::offer(form, id, exercise, leg));
        let against = said.first().map_or_else(String::new, |said| format!("{}: {}", said.grade, said.saw));
        let count = words.say("group-sets", &[("n", (done.len() as u64).into())]);
        let next = if leg == Leg::Both {
            String::new()
        } else {
            words.say("group-next", &[("leg", (&words.word(&format!("leg-{}", leg.word()))).into())])
        };
        let session = of_today(env, book, member)?.pop().and_then(|held| held.id());
        let own = newest_own(book, &done);
        let spoken = [&name, &count, &next, &against];
        let spoken: Vec<&str> = spoken.into_iter().map(String::as_str).filter(|s| !s.is_empty()).collect();
        rows.push(GroupRow {
            id: member.to_string(),
            spoken: spoken.join(". "),
            undo: words.say("group-undo", &[("name", (&name).into())]),
            undo_set: own.and_then(|(_, held)| held.id()).map_or_else(String::new, |id| id.to_string()),
            undo_seen: own.map_or_else(String::new, |(_, held)| correction::seen_of(held)),
            name,
            count,
            next,
            against,
            said,
            route: session.map_or_else(String::new, |session| Route::Session(session).to_string()),
        });
    }
    Ok(rows)
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// One phone that logs for many: roll, exercise, names.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn group(&self, env: &Env) -> Result<Group, ScreenError> {
        Ok(screen(&Words::of(&env.language), env, &*self.open_book()?, &mut self.courses())?)
    }

    /// Keeps how far a group is, at each tap.
    ///
    /// # Errors
    /// [`ScreenError::Refused`] for a step that is none, [`ScreenError::Book`].
    pub fn keep_group(&self, env: &Env, form: &GroupForm) -> Result<(), ScreenError> {
        if !STEPS.contains(&form.step.as_str()) {
            return Err(crate::companion::refused("step", form.step.clone(), "roll, exercise or names"));
        }
        Ok(keep(&*self.open_book()?, env, form)?)
    }

    /// Writes one set of what a group does, `form` as it was shown, into a member's session of
    /// today, on the leg whose turn it is. A second tap within three seconds writes nothing.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`].
    pub fn group_set(&self, env: &Env, member: &str, form: &SetForm) -> Result<(), ScreenError> {
        let book = self.open_book()?;
        let whose = member_of(&book, member)?;
        let set = set_of(&book, Hash([0; 32]), form)?;
        let done = done_today(&book, env, whose, set.exercise)?;
        let since = newest_own(&book, &done).map(|(written, _)| env.now_ms - written.stamp.ms);
        if since.is_some_and(|ms| (0..ONE_TAP_MS).contains(&ms)) {
            return Ok(());
        }
        let set = facts::Set { leg: next_leg(&done, set.leg), ..set };
        write_today(&book, env, whose, empty_session(env.today()), &[set])?;
        Ok(())
    }

    /// Takes a set back that this device wrote: `set` and `seen` as the row had them. What
    /// somebody wrote of it in between stands beside, as a clash, until a person settles it.
    ///
    /// # Errors
    /// [`ScreenError::NotFound`] where it is not there, or no longer; [`ScreenError::Refused`],
    /// [`ScreenError::NotAllowed`].
    pub fn undo_group_set(&self, env: &Env, set: &str, seen: &str) -> Result<(), ScreenError> {
        let book = self.open_book()?;
        let (held, ..) = correction::find(&book, set)?;
        book.write(held.key.scope, &correction::replacing_seen(&held, seen, Fact::Deleted)?, env.stamp())?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(seconds: i64) -> Env {
        let now_ms = 1_795_593_600_000 + seconds * 1_000;
        Env { language: "en".into(), zone_min: 60, hour24: true, now_ms }
    }

    fn open(folder: &tempfile::TempDir) -> Companion {
        Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &at(0)).unwrap()
    }

    /// A tap on a name, as the screen stands.
    fn tap(phone: &Companion, seconds: i64, member: &str) {
        let form = phone.group(&at(seconds)).unwrap().form.form;
        phone.group_set(&at(seconds), member, &form).unwrap();
    }

    /// A phone that three siblings share, none of them paired.
    fn siblings(folder: &tempfile::TempDir) -> (Companion, Vec<String>) {
        let phone = open(folder);
        let first = phone.group(&at(0)).unwrap().naming;
        let mut ids = vec![phone.name_athlete(&at(0), &first, "Ada").unwrap()];
        for name in ["Bo", "Cleo"] {
            let another = phone.group(&at(0)).unwrap();
            assert_eq!(another.naming_label, "Another athlete without a phone");
            ids.push(phone.name_athlete(&at(0), &another.naming, name).unwrap());
        }
        (phone, ids)
    }

    fn skips(phone: &Companion) -> SetForm {
        let one_leg = phone.find_exercises(&at(0), "").unwrap().into_iter().find(|choice| {
            let form = SetForm { exercise: choice.id.clone(), ..first_form() };
            phone.keep_set(&form).unwrap();
            phone.log_set(&at(0)).unwrap().legs.iter().any(|leg| leg.id == "left")
        });
        SetForm { exercise: one_leg.unwrap().id, leg: "left".into(), reps: 6, ..first_form() }
    }

    #[test]
    fn each_tap_is_a_set_on_the_leg_whose_turn_it_is_and_a_hold_takes_it_back() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, ids) = siblings(&folder);
        let form = skips(&phone);
        let group = GroupForm { step: "names".into(), present: ids[..2].to_vec(), form };
        phone.keep_group(&at(0), &group).unwrap();
        let row = |seconds, at_row: usize| phone.group(&at(seconds)).unwrap().rows[at_row].clone();
        assert_eq!(phone.group(&at(1)).unwrap().rows.len(), 2);
        assert_eq!(row(1, 0).next, "next: left leg");
        tap(&phone, 10, &ids[0]);
        tap(&phone, 12, &ids[0]);
        assert_eq!(row(12, 0).count, "1 set", "rain");
        assert_eq!(row(12, 0).next, "next: right leg");
        tap(&phone, 13, &ids[1]);
        tap(&phone, 20, &ids[0]);
        assert_eq!((row(21, 0).count, row(21, 1).count), ("2 sets".into(), "1 set".into()));
        // Each has a session of their own.
        assert_ne!(row(21, 0).route, row(21, 1).route);
        let log = phone.session_log(&at(21), row(21, 0).route.strip_prefix("session/").unwrap()).unwrap();
        assert_eq!(log.sets.len(), 2);
        assert!(log.sets[0].text.contains("left leg") && log.sets[1].text.contains("right leg"));
        let undo =
            |seconds, row: &GroupRow| phone.undo_group_set(&at(seconds), &row.undo_set, &row.undo_seen);
        let shown = row(30, 0);
        undo(30, &shown).unwrap();
        assert_eq!((row(30, 0).count, row(30, 0).next), ("1 set".into(), "next: right leg".into()));
        // A second hold on what was shown before it was answered takes no other set back.
        assert!(matches!(undo(30, &shown), Err(ScreenError::NotFound { .. })));
        assert_eq!(row(30, 0).count, "1 set");
        undo(31, &row(31, 0)).unwrap();
        assert_eq!((row(33, 0).undo_set, row(33, 0).undo_seen), (String::new(), String::new()));
    }

    #[test]
    fn a_set_that_is_put_right_stays_where_it_was_in_the_order() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, ids) = siblings(&folder);
        let group = GroupForm { step: "names".into(), present: ids[..2].to_vec(), form: skips(&phone) };
        phone.keep_group(&at(0), &group).unwrap();
        tap(&phone, 10, &ids[0]);
        tap(&phone, 20, &ids[0]);
        let row = || phone.group(&at(60)).unwrap().rows[0].clone();
        let session = row().route.strip_prefix("session/").unwrap().to_owned();
        let first = phone.session_log(&at(30), &session).unwrap().sets.remove(0).id;
        let right = SetForm { reps: 5, ..group.form };
        let seen = phone.correction(&at(59), &first).unwrap().seen;
        phone.correct_set(&at(59), &first, &seen, &right).unwrap();
        assert_eq!(row().next, "next: left leg", "the last one was on the right leg");
        tap(&phone, 60, &ids[0]);
        assert_eq!(row().count, "3 sets", "a correction is no tap");
        for seconds in [70, 71] {
            let row = row();
            phone.undo_group_set(&at(seconds), &row.undo_set, &row.undo_seen).unwrap();
        }
        let left = phone.session_log(&at(72), &session).unwrap().sets;
        assert_eq!(left.iter().map(|set| set.id.as_str()).collect::<Vec<_>>(), [first.as_str()]);
    }

    #[test]
    fn how_far_it_is_outlives_the_process_and_the_roll_is_called_anew_each_day() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, ids) = siblings(&folder);
        let form = GroupForm {
            step: "names".into(),
            present: ids.clone(),
            form: SetForm { reps: 7, ..first_form() },
        };
        phone.keep_group(&at(0), &form).unwrap();
        phone.close();
        let phone = open(&folder);
        let group = phone.group(&at(5)).unwrap();
        assert_eq!((group.form.step.as_str(), group.rows.len(), group.form.form.reps), ("names", 3, 7));
        let tomorrow = phone.group(&at(86_400)).unwrap();
        assert_eq!((tomorrow.form.step.as_str(), tomorrow.form.present.len()), ("roll", 0));
        assert_eq!(tomorrow.form.form.reps, 7);
        assert_eq!(tomorrow.roll.iter().map(|c| c.text.as_str()).collect::<Vec<_>>(), ["Ada", "Bo", "Cleo"]);
    }

    #[test]
    fn a_coachs_phone_logs_for_everybody_and_asks_how_hard_it_was_in_one_line() {
        use pitside_book::keys::{Identity, Seed};
        let folder = tempfile::tempdir().unwrap();
        let identity = Identity::from_seed(Seed::from_bytes(zeroize::Zeroizing::new([1; 32])));
        let book = Book::create(folder.path(), identity, false).unwrap();
        book.found("Quay jumps", at(0).stamp()).unwrap();
        let coach = Companion::over(std::sync::Arc::new(book));
        let names = ["Ada", "Bo", "Cleo"];
        let ids = names.map(|name| {
            let another = coach.group(&at(0)).unwrap().naming;
            coach.name_athlete(&at(0), &another, name).unwrap()
        });
        assert_eq!(coach.group(&at(0)).unwrap().naming_about, "", "nobody shares this one");
        let group = GroupForm { step: "names".into(), present: ids.to_vec(), form: first_form() };
        coach.keep_group(&at(0), &group).unwrap();
        for id in &ids[..2] {
            tap(&coach, 10, id);
        }
        let asked = |seconds| -> Vec<_> {
            let actions = coach.today(&at(seconds)).unwrap().actions;
            actions.into_iter().filter(|a| a.text.starts_with("How hard")).collect()
        };
        assert!(asked(29 * 60).is_empty());
        let now = asked(31 * 60);
        assert_eq!(now.len(), 1);
        assert_eq!(
            (now[0].text.as_str(), now[0].route.as_str()),
            ("How hard was it for 2 athletes?", "group")
        );
        let each = coach.group(&at(31 * 60)).unwrap().efforts;
        assert_eq!(each.len(), 2);
        assert!(each.iter().any(|link| link.text == "How hard was it for Ada?"));
        // Everybody's next set has the same against it: it is said once.
        let group = coach.group(&at(31 * 60)).unwrap();
        assert!(!group.against_all.is_empty() && group.rows.iter().all(|row| row.against.is_empty()));
    }

    #[test]
    fn what_hurts_is_not_told_beside_the_names() {
        use crate::record::{CheckInForm, HurtForm};
        let folder = tempfile::tempdir().unwrap();
        let (phone, ids) = siblings(&folder);
        let hurt = HurtForm { part: "achilles".into(), side: "left".into(), score: 7 };
        let form = CheckInForm { hurts: vec![hurt], ..CheckInForm::default() };
        phone.check_in(&at(0), &ids[0], &form).unwrap();
        let group = GroupForm { step: "names".into(), present: ids[..2].to_vec(), form: first_form() };
        phone.keep_group(&at(0), &group).unwrap();
        let rows = phone.group(&at(1)).unwrap().rows;
        assert!(rows[0].against.contains("See the athlete’s own page first"), "{}", rows[0].against);
        let all = format!("{rows:?}");
        assert!(!all.contains("Achilles") && !all.contains("of 10"), "{all}");
        assert_ne!(rows[0].against, rows[1].against, "it is only the one's");
    }

    #[test]
    fn on_a_phone_of_several_somebody_is_chosen_before_a_set_is_written() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, ids) = siblings(&folder);
        let screen = phone.log_set(&at(0)).unwrap();
        assert_eq!(screen.athletes.len(), 3);
        assert!(screen.athletes.iter().all(|choice| !choice.chosen));
        assert!(matches!(phone.log_today(&at(0), "", &screen.form), Err(ScreenError::NotFound { .. })));
        phone.write_for(&ids[1]).unwrap();
        phone.log_today(&at(0), "", &screen.form).unwrap();
        let screen = phone.log_set(&at(60)).unwrap();
        let chosen: Vec<_> = screen.athletes.iter().filter(|choice| choice.chosen).collect();
        assert_eq!(chosen[0].text, "Bo");
        assert!(phone.write_for(&Uuid::nil().to_string()).is_err());
        let another = phone.group(&at(0)).unwrap().naming;
        assert!(matches!(phone.name_athlete(&at(0), &another, " "), Err(ScreenError::Refused { .. })));
    }

    #[test]
    fn two_taps_on_a_name_make_one_athlete() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, ids) = siblings(&folder);
        let another = phone.group(&at(0)).unwrap().naming;
        let made = phone.name_athlete(&at(0), &another, "Dina").unwrap();
        let before = phone.revision().unwrap();
        assert_eq!(phone.name_athlete(&at(0), &another, "Dina").unwrap(), made);
        assert_eq!(phone.revision().unwrap(), before, "nothing was written twice");
        assert_eq!(phone.group(&at(0)).unwrap().roll.len(), ids.len() + 1);
        // One of the same name is another athlete where the screen was drawn anew.
        let next = phone.group(&at(0)).unwrap().naming;
        assert_ne!(phone.name_athlete(&at(0), &next, "Dina").unwrap(), made);
        for odd in ["", "Dina", &Uuid::nil().to_string()] {
            let refused = phone.name_athlete(&at(0), odd, "Dina");
            assert!(matches!(refused, Err(ScreenError::NotFound { .. })), "{odd}: {refused:?}");
        }
        assert_eq!(phone.group(&at(0)).unwrap().roll.len(), ids.len() + 2);
    }

    #[test]
    fn what_somebody_wrote_in_between_is_not_taken_back() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, ids) = siblings(&folder);
        let group = GroupForm { step: "names".into(), present: ids[..1].to_vec(), form: skips(&phone) };
        phone.keep_group(&at(0), &group).unwrap();
        tap(&phone, 10, &ids[0]);
        let shown = phone.group(&at(11)).unwrap().rows[0].clone();
        let right = SetForm { reps: 5, ..group.form };
        let seen = phone.correction(&at(20), &shown.undo_set).unwrap().seen;
        phone.correct_set(&at(20), &shown.undo_set, &seen, &right).unwrap();
        phone.undo_group_set(&at(21), &shown.undo_set, &shown.undo_seen).unwrap();
        let log = phone.session_log(&at(22), shown.route.strip_prefix("session/").unwrap()).unwrap();
        assert_eq!(log.clashes.len(), 1, "both stand side by side");
    }
}
