//! The squad board: who needs a look first, then everybody.

use pitside_book::store::{Book, BookError, Filter, Held};
use pitside_log::authority::Judgement;
use pitside_model::facts::{Fact, MemberId, Rule, field_name, kind};

use crate::clock::OwnClock;
use crate::course::{Courses, Look, first_day, rules_of, squad_rules};
use crate::env::Env;
use crate::figure::{full_day, near_day, week};
use crate::notice::{Looked, notices, squad_notices};
use crate::record::{AthleteRow, Link, Notice, Squad};
use crate::route::Route;
use crate::text::Words;
use crate::training::{Catalogue, limits, takes};
use crate::wording::{
    self, about, check_ins, hurt, name, newest_times, private_note, squad_clashes, week_rows,
};

/// Weeks on the board: this one and four before.
const WEEKS: i32 = 5;
/// Days for which something that hurt is still shown.
pub(crate) const HURT_DAYS: i32 = 14;

pub(crate) fn squad(
    words: &Words,
    env: &Env,
    book: &Book,
    courses: &mut Courses,
) -> Result<Squad, BookError> {
    let revision = book.revision();
    let today = env.today();
    let catalogue = Catalogue::read(book)?;
    let mut athletes = Vec::new();
    let mut all_notices = Vec::new();
    // Read once for the whole board: the search goes over every live fact.
    let clashing = book.held(&Filter { clashing: true, ..Filter::default() })?;
    let own = OwnClock::read(env, book)?;
    let rules = squad_rules(book)?;
    let board = Board { words, env, book, catalogue: &catalogue, clashing: &clashing, own, rules };
    let mut look = courses.look(book)?;
    for member in book.members()? {
        let (row, notices) = board.athlete(&mut look, member)?;
        all_notices.extend(notices);
        athletes.push(row);
    }
    all_notices.extend(squad_notices(words, env, book, own)?);
    athletes.sort_by(|a, b| a.name.to_lowercase().cmp(&b.name.to_lowercase()).then(a.id.cmp(&b.id)));
    all_notices.sort_by(|a, b| (a.rank, &a.who).cmp(&(b.rank, &b.who)));
    let empty = match (athletes.is_empty(), all_notices.is_empty()) {
        (true, _) => words.word("squad-empty"),
        (false, true) => words.word("nothing-to-look-at"),
        _ => String::new(),
    };
    Ok(Squad {
        revision,
        title: squad_name(words, book)?,
        demo_note: if book.is_demo() { words.word("demo-note") } else { String::new() },
        week: words.say(
            "week-of",
            &[("week", (&week(words, today.monday())).into()), ("day", (&full_day(words, today)).into())],
        ),
        notices: all_notices,
        empty,
        athletes,
        clashes: squad_clashes(words, env, book, &catalogue, &clashing)?,
        notes: ["note-landing", "note-kinds", "note-unknown", "note-estimate", "note-care"]
            .map(|key| words.word(key))
            .to_vec(),
    })
}

/// The name of the squad.
pub(crate) fn squad_name(words: &Words, book: &Book) -> Result<String, BookError> {
    let held =
        book.held(&Filter { kind: Some(kind::SQUAD), field: Some(field_name::NAME), ..Filter::default() })?;
    Ok(match held.first().and_then(|h| h.fact()) {
        Some(Fact::SquadName(name)) => name.clone(),
        _ => words.word("squad"),
    })
}

/// Entries that wait, do not count, or were set aside: nothing is dropped in
/// silence.
pub(crate) fn apart(words: &Words, book: &Book) -> Result<Vec<String>, BookError> {
    let uncounted = book.uncounted()?;
    let waiting = uncounted.iter().filter(|u| u.judgement == Judgement::Waiting).count() as u64;
    let refused = uncounted.len() as u64 - waiting;
    let aside = book.aside()?.len() as u64;
    Ok([("apart-waiting", waiting), ("apart-refused", refused), ("apart-aside", aside)]
        .into_iter()
        .filter(|(_, n)| *n > 0)
        .map(|(key, n)| words.say(key, &[("n", n.into())]))
        .collect())
}

/// What is read once for all athletes of the board.
struct Board<'a> {
    words: &'a Words,
    env: &'a Env,
    book: &'a Book,
    catalogue: &'a Catalogue,
    /// Every fact with more than one value.
    clashing: &'a [Held],
    own: OwnClock,
    /// The squad's own.
    rules: Vec<Rule>,
}

impl Board<'_> {
    fn athlete(&self, look: &mut Look<'_>, member: MemberId) -> Result<(AthleteRow, Vec<Notice>), BookError> {
        let Self { words, env, book, catalogue, clashing, own, .. } = *self;
        let today = env.today();
        let rules = rules_of(book, &self.rules, member)?;
        let kept = look.of(member, catalogue, first_day(&rules, today, WEEKS))?;
        let who = name(words, &kept.card, member);
        let limits = limits(book, member, own)?;
        let check_ins = check_ins(book, member)?;
        let seen =
            Looked { env, book, catalogue, kept, rules: &rules, limits: &limits, check_ins: &check_ins };
        let notices = notices(words, &who, member, &seen)?;
        let last_session = kept.last().map(|s| {
            let purpose = s.purpose.clone().unwrap_or_else(|| words.word("session"));
            let text = format!("{}: {purpose}", near_day(words, env, s.day));
            Link { text, route: Route::Session(s.place).to_string() }
        });
        let rows = week_rows(words, &kept.weeks(today, WEEKS));
        let times = newest_times(
            words,
            env,
            catalogue,
            &takes(book, catalogue, member, (today.plus(-56), today))?,
            2,
        );
        let hurts: Vec<String> = check_ins
            .iter()
            .rev()
            .filter(|c| c.day > today.plus(-HURT_DAYS))
            .take(1)
            .flat_map(|c| c.hurts.iter().map(|h| hurt(words, env, h, c.day)))
            .collect();
        let private_note = private_note(words, book, member)?;
        let limits: Vec<String> =
            limits.iter().filter(|l| own.holds(l)).map(|l| wording::limit(words, l)).collect();
        let count = wording::clashing_of(book, clashing, member)?.count() as u64;
        let clashes = if count > 0 { words.say("clashes", &[("n", count.into())]) } else { String::new() };
        let about = about(words, &kept.card, today);
        let mut spoken = vec![who.clone(), about.clone()];
        spoken.extend(last_session.iter().map(|l| words.say("last-session", &[("what", (&l.text).into())])));
        for row in &rows {
            spoken.extend(row.weeks.last().map(|f| format!("{}, {}", row.label, f.spoken)));
        }
        spoken.extend(times.iter().map(|t| format!("{}: {}, {}", t.label, t.value, t.note)));
        spoken.extend(hurts.iter().chain(&limits).cloned());
        spoken.extend([&private_note, &clashes].into_iter().filter(|s| !s.is_empty()).cloned());
        let row = AthleteRow {
            id: member.to_string(),
            route: Route::Athlete(member).to_string(),
            name: who,
            about,
            last_session,
            rows,
            times,
            hurts,
            private_note,
            limits,
            clashes,
            spoken: spoken.join(". "),
        };
        Ok((row, notices))
    }
}
