//! What a phone leads to beside its first screens.

use pitside_book::store::{Book, BookError};
use pitside_log::authority::Grants;

use crate::clock::OwnClock;
use crate::companion::{Companion, ScreenError};
use crate::devices;
use crate::env::Env;
use crate::record::{Link, More};
use crate::route::Route;
use crate::settings;
use crate::text::Words;

/// The screens that a phone can be at from anywhere, the first one first.
pub(crate) fn places(words: &Words) -> Vec<Link> {
    [
        ("place-today", Route::Today),
        ("place-times", Route::Times),
        ("place-course", Route::Course),
        ("place-exchange", Route::Exchange),
        ("place-more", Route::More),
    ]
    .map(|(key, route)| Link { text: words.word(key), route: route.to_string() })
    .to_vec()
}

fn more(words: &Words, env: &Env, book: &Book) -> Result<More, BookError> {
    let link = |key: &str, route: Route| Link { text: words.word(key), route: route.to_string() };
    let grants = book.grants(book.device())?;
    let mut links = vec![link("more-group", Route::Group)];
    if sees_a_squad(&grants) {
        links.push(link("more-squad", Route::Squad));
    }
    links.push(link("more-exercises", Route::Exercises));
    for member in book.own_members()? {
        links.push(devices::sharing_link(words, book, member)?);
    }
    links.push(link("devices-title", Route::Devices));
    links.push(link("more-settings", Route::Settings));
    let notices = devices::notices(words, book, OwnClock::read(env, book)?)?;
    Ok(More {
        revision: book.revision(),
        title: words.word("place-more"),
        notices: notices.iter().map(devices::Said::link).collect(),
        links,
        sun: settings::sun(words, book)?,
    })
}

/// Whether there are others to look after.
fn sees_a_squad(grants: &Grants) -> bool {
    grants.owner || [&grants.assists, &grants.treats, &grants.guards].iter().any(|reach| !reach.is_empty())
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// What a phone leads to beside its first screens.
    ///
    /// # Errors
    /// [`ScreenError::Book`].
    pub fn more(&self, env: &Env) -> Result<More, ScreenError> {
        Ok(more(&Words::of(&env.language), env, &*self.open_book()?)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_squad_is_for_those_who_look_after_one() {
        let folder = tempfile::tempdir().unwrap();
        let env = Env { language: "en".into(), zone_min: 60, hour24: true, now_ms: 1_795_593_600_000 };
        let phone = Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env).unwrap();
        let routes = |phone: &Companion| -> Vec<String> {
            phone.more(&env).unwrap().links.into_iter().map(|link| link.route).collect()
        };
        assert!(!routes(&phone).contains(&"squad".to_owned()));
        assert!(routes(&phone).iter().any(|route| route.starts_with("sharing/")));
        assert!(routes(&phone).contains(&"devices".to_owned()));

        let (coachs, identity) = (
            tempfile::tempdir().unwrap(),
            pitside_book::keys::Identity::from_seed(pitside_book::keys::Seed::from_bytes(
                zeroize::Zeroizing::new([3; 32]),
            )),
        );
        let book = Book::create(coachs.path(), identity, false).unwrap();
        book.found("Weir jumps", env.stamp()).unwrap();
        let coach = Companion::over(std::sync::Arc::new(book));
        assert!(routes(&coach).contains(&"squad".to_owned()));
    }
}
