//! A set in one action, for a phone that does not ask which session it belongs to.

use pitside_book::store::{Book, BookError, Draft, Filter, Held};
use pitside_model::facts::{Conditions, Day, Fact, Hash, MemberId, Scope, Session, Set, field_name, kind};

use crate::companion::{Companion, ScreenError, member_of, set_of};
use crate::env::Env;
use crate::log_set;
use crate::record::{Choice, SetForm};
use crate::route::Route;
use crate::text::Words;

/// Today's sessions of a member, the newest last.
pub(crate) fn of_today(env: &Env, book: &Book, member: MemberId) -> Result<Vec<Held>, BookError> {
    let today = env.today();
    let mut sessions = book.held(&Filter {
        member: Some(member),
        kind: Some(kind::SESSION),
        field: Some(field_name::WHOLE),
        days: Some((today, today)),
        ..Filter::default()
    })?;
    sessions.retain(|held| held.fact().is_some());
    book.in_order(sessions)
}

/// A session of which nothing was said but its day.
pub(crate) fn empty_session(day: Day) -> Session {
    Session {
        day,
        start_min: None,
        purpose: None,
        location: None,
        surface: None,
        shoes: None,
        weather: None,
        cut_short: None,
        conditions: Conditions::default(),
    }
}

/// Writes sets into today's newest session of a member, or into `begin`, all or nothing;
/// gives the session and the sets.
pub(crate) fn write_today(
    book: &Book,
    env: &Env,
    member: MemberId,
    begin: Session,
    sets: &[Set],
) -> Result<(Hash, Vec<Hash>), BookError> {
    let newest = of_today(env, book, member)?.pop().and_then(|held| Some((held.key.scope, held.id()?)));
    book.together(env.stamp(), |together| {
        let (scope, session) = match newest {
            Some(there) => there,
            None => {
                let scope = Scope::Member(member);
                (scope, together.write(scope, &Draft::new(Fact::Session(begin)))?)
            }
        };
        let write = |set: &Set| together.write(scope, &Draft::new(Fact::Set(Set { session, ..set.clone() })));
        Ok((session, sets.iter().map(write).collect::<Result<_, _>>()?))
    })
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Writes the sets of a form into today's newest session, or into one that is begun
    /// for them, and drops the draft; gives the session's route. `member` may be empty on
    /// a device that serves one, or was told whom it writes for.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`];
    /// then no session was begun either.
    pub fn log_today(&self, env: &Env, member: &str, form: &SetForm) -> Result<String, ScreenError> {
        let book = self.open_book()?;
        let whose = member_of(&book, member)?;
        // The session is written in when it is known.
        let set = set_of(&book, Hash([0; 32]), form)?;
        let sets = vec![set; usize::from(form.sets)];
        let (session, _) = write_today(&book, env, whose, empty_session(env.today()), &sets)?;
        // They are written: a draft that stays is shown once more, an error would have them written
        // twice.
        let _ = log_set::keep(&book, None);
        Ok(Route::Session(session).to_string())
    }

    /// The exercises whose name has a text in it, those first in which a word begins so.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn find_exercises(&self, env: &Env, text: &str) -> Result<Vec<Choice>, ScreenError> {
        Ok(log_set::find(&Words::of(&env.language), &*self.open_book()?, text)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_set_begins_the_session_and_the_next_goes_into_it() {
        let folder = tempfile::tempdir().unwrap();
        let env = Env { language: "en".into(), zone_min: 60, hour24: true, now_ms: 1_795_593_600_000 };
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env).unwrap();
        let form = phone.log_set(&env).unwrap().form;
        let bad = SetForm { sets: 0, ..form.clone() };
        assert!(matches!(phone.log_today(&env, "", &bad), Err(ScreenError::Refused { .. })));
        assert!(phone.today(&env).unwrap().sessions.is_empty(), "nothing was begun for it");
        let first = phone.log_today(&env, "", &form).unwrap();
        let later = Env { now_ms: env.now_ms + 300_000, ..env.clone() };
        assert_eq!(phone.log_today(&later, "", &form).unwrap(), first);
        let tomorrow = Env { now_ms: env.now_ms + 86_400_000, ..env };
        assert_ne!(phone.log_today(&tomorrow, "", &form).unwrap(), first);
    }
}
