//! A set in one action, for a phone that does not ask which session it belongs to.

use pitside_book::store::Filter;
use pitside_model::facts::{Hash, kind};

use crate::companion::{Companion, ScreenError, SessionForm, member_of, set_of};
use crate::env::Env;
use crate::record::SetForm;
use crate::route::Route;

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Writes the sets of a form into today's newest session, or into one that is begun
    /// for them, and drops the draft; gives the session's route. `member` may be empty on
    /// a device that serves one.
    ///
    /// # Errors
    /// [`ScreenError::Refused`], [`ScreenError::NotAllowed`], [`ScreenError::NotFound`];
    /// then no session was begun either.
    pub fn log_today(&self, env: &Env, member: &str, form: &SetForm) -> Result<String, ScreenError> {
        let book = self.open_book()?;
        let whose = member_of(&book, member)?;
        // Before a session is begun that would stay empty.
        set_of(&book, Hash([0; 32]), form)?;
        let today = env.today();
        let sessions = book.held(&Filter {
            member: Some(whose),
            kind: Some(kind::SESSION),
            days: Some((today, today)),
            ..Filter::default()
        })?;
        let newest = sessions.iter().filter(|h| h.fact().is_some()).max_by_key(|h| h.value().stamp);
        let session = match newest.and_then(|held| held.id()) {
            Some(id) => id.to_string(),
            None => self.begin_session(env, &whose.to_string(), &SessionForm::default())?,
        };
        self.save_sets(env, &session, form)?;
        let place =
            Hash::parse(&session).ok_or_else(|| ScreenError::NotFound { what: "session".to_owned() })?;
        Ok(Route::Session(place).to_string())
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
