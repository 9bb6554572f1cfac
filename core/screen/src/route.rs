//! Where a person is: a short text that is also a deep link, and what is
//! restored after the process died.

use core::fmt;

use pitside_model::facts::{Hash, MemberId};
use uuid::Uuid;

/// A screen and what it shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Route {
    /// `squad`
    Squad,
    /// `athlete/UUID`
    Athlete(MemberId),
    /// `session/LOG-SEQ`
    Session(Hash),
    /// `today`
    Today,
    /// `log-set`
    LogSet,
    /// `check-in`
    CheckIn,
    /// `devices`
    Devices,
}

/// A text that names no screen.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0:?} names no screen")]
pub struct UnknownRoute(pub String);

impl fmt::Display for Route {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Squad => f.write_str("squad"),
            Self::Athlete(member) => write!(f, "athlete/{member}"),
            Self::Session(place) => write!(f, "session/{place}"),
            Self::Today => f.write_str("today"),
            Self::LogSet => f.write_str("log-set"),
            Self::CheckIn => f.write_str("check-in"),
            Self::Devices => f.write_str("devices"),
        }
    }
}

impl core::str::FromStr for Route {
    type Err = UnknownRoute;

    fn from_str(text: &str) -> Result<Self, UnknownRoute> {
        let unknown = || UnknownRoute(text.chars().take(80).collect());
        match text.split_once('/') {
            None => match text {
                "squad" => Ok(Self::Squad),
                "today" => Ok(Self::Today),
                "log-set" => Ok(Self::LogSet),
                "check-in" => Ok(Self::CheckIn),
                "devices" => Ok(Self::Devices),
                _ => Err(unknown()),
            },
            Some(("athlete", id)) => {
                Uuid::try_parse(id).map(|id| Self::Athlete(MemberId(id))).map_err(|_| unknown())
            }
            Some(("session", place)) => Hash::parse(place).map(Self::Session).ok_or_else(unknown),
            Some(_) => Err(unknown()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn routes_are_texts_and_back() {
        let place = Hash([4; 32]);
        let member = MemberId(Uuid::from_u128(8));
        for route in [
            Route::Squad,
            Route::Athlete(member),
            Route::Session(place),
            Route::Today,
            Route::LogSet,
            Route::CheckIn,
            Route::Devices,
        ] {
            assert_eq!(route.to_string().parse(), Ok(route));
        }
        for odd in ["", "squads", "athlete/", "athlete/x", "session/00-1", "a/b/c"] {
            assert_eq!(odd.parse::<Route>(), Err(UnknownRoute(odd.into())));
        }
    }
}
