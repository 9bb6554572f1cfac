//! Where a person is: a short text that is also a deep link, and what is
//! restored after the process died.

use core::fmt;

use pitside_model::facts::{DeviceKey, Hash, MemberId};
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
    /// `exercises`
    Exercises,
    /// `exercise/UUID`
    Exercise(Uuid),
    /// `today`
    Today,
    /// `log-set`
    LogSet,
    /// `check-in`
    CheckIn,
    /// `devices`
    Devices,
    /// `give/KEY`: the form by which a device is given more.
    Give(DeviceKey),
    /// `remove/KEY`: asks before a device is removed.
    Remove(DeviceKey),
    /// `erase/UUID`: asks before a member is erased.
    Erase(MemberId),
    /// `aside`
    Aside,
    /// `sharing/UUID`
    Sharing(MemberId),
    /// `card/UUID`: the card, to be filled in.
    Card(MemberId),
    /// `body/UUID`: tests, growth, landings, limits and advice.
    Body(MemberId),
    /// `rules/UUID`: the rules that hold for an athlete.
    Rules(MemberId),
    /// `join`: the form by which this device joins a squad.
    Join,
    /// `erase-here`: asks before all on this device is erased.
    EraseHere,
    /// `wishes`: what the coach asks this device to erase.
    Wishes,
    /// `jumps/UUID`
    Jumps(MemberId),
    /// `competition/UUID`: attempts of one athlete are written down.
    Competition(MemberId),
    /// `effort/LOG-SEQ`: how hard a session was.
    Effort(Hash),
    /// `correct/LOG-SEQ`: a set is put right or taken back.
    Correct(Hash),
    /// `attempt/HASH`: one attempt is changed or taken back.
    Attempt(Hash),
    /// `mark/HASH`: a clip on the list is marked.
    Mark(Hash),
    /// `times`: clips to be marked, and what was timed.
    Times,
    /// `course`: the own weeks of a phone.
    Course,
    /// `exchange`: what other devices have of this one's, and how they get it.
    Exchange,
    /// `more`: the rest of what a phone leads to.
    More,
    /// `group`: one phone logs for many.
    Group,
    /// `settings`
    Settings,
    /// `plans/UUID`: what is planned for an athlete.
    Plans(MemberId),
    /// `plan/HASH`: one planned session, to be changed.
    Plan(Hash),
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
            Self::Exercises => f.write_str("exercises"),
            Self::Exercise(id) => write!(f, "exercise/{id}"),
            Self::Today => f.write_str("today"),
            Self::LogSet => f.write_str("log-set"),
            Self::CheckIn => f.write_str("check-in"),
            Self::Devices => f.write_str("devices"),
            Self::Give(device) => write!(f, "give/{device}"),
            Self::Remove(device) => write!(f, "remove/{device}"),
            Self::Erase(member) => write!(f, "erase/{member}"),
            Self::Aside => f.write_str("aside"),
            Self::Sharing(member) => write!(f, "sharing/{member}"),
            Self::Card(member) => write!(f, "card/{member}"),
            Self::Body(member) => write!(f, "body/{member}"),
            Self::Rules(member) => write!(f, "rules/{member}"),
            Self::Join => f.write_str("join"),
            Self::EraseHere => f.write_str("erase-here"),
            Self::Wishes => f.write_str("wishes"),
            Self::Jumps(member) => write!(f, "jumps/{member}"),
            Self::Competition(member) => write!(f, "competition/{member}"),
            Self::Effort(place) => write!(f, "effort/{place}"),
            Self::Correct(place) => write!(f, "correct/{place}"),
            Self::Attempt(id) => write!(f, "attempt/{id}"),
            Self::Mark(clip) => write!(f, "mark/{clip}"),
            Self::Times => f.write_str("times"),
            Self::Course => f.write_str("course"),
            Self::Exchange => f.write_str("exchange"),
            Self::More => f.write_str("more"),
            Self::Group => f.write_str("group"),
            Self::Settings => f.write_str("settings"),
            Self::Plans(member) => write!(f, "plans/{member}"),
            Self::Plan(id) => write!(f, "plan/{id}"),
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
                "exercises" => Ok(Self::Exercises),
                "today" => Ok(Self::Today),
                "log-set" => Ok(Self::LogSet),
                "check-in" => Ok(Self::CheckIn),
                "devices" => Ok(Self::Devices),
                "aside" => Ok(Self::Aside),
                "join" => Ok(Self::Join),
                "erase-here" => Ok(Self::EraseHere),
                "wishes" => Ok(Self::Wishes),
                "times" => Ok(Self::Times),
                "course" => Ok(Self::Course),
                "exchange" => Ok(Self::Exchange),
                "more" => Ok(Self::More),
                "group" => Ok(Self::Group),
                "settings" => Ok(Self::Settings),
                _ => Err(unknown()),
            },
            Some(("athlete", id)) => member(id).map(Self::Athlete).ok_or_else(unknown),
            Some(("exercise", id)) => Uuid::try_parse(id).map(Self::Exercise).map_err(|_| unknown()),
            Some(("erase", id)) => member(id).map(Self::Erase).ok_or_else(unknown),
            Some(("sharing", id)) => member(id).map(Self::Sharing).ok_or_else(unknown),
            Some(("card", id)) => member(id).map(Self::Card).ok_or_else(unknown),
            Some(("body", id)) => member(id).map(Self::Body).ok_or_else(unknown),
            Some(("rules", id)) => member(id).map(Self::Rules).ok_or_else(unknown),
            Some(("jumps", id)) => member(id).map(Self::Jumps).ok_or_else(unknown),
            Some(("competition", id)) => member(id).map(Self::Competition).ok_or_else(unknown),
            Some(("effort", place)) => Hash::parse(place).map(Self::Effort).ok_or_else(unknown),
            Some(("correct", place)) => Hash::parse(place).map(Self::Correct).ok_or_else(unknown),
            Some(("attempt", id)) => Hash::parse(id).map(Self::Attempt).ok_or_else(unknown),
            Some(("mark", clip)) => Hash::parse(clip).map(Self::Mark).ok_or_else(unknown),
            Some(("plans", id)) => member(id).map(Self::Plans).ok_or_else(unknown),
            Some(("plan", id)) => Hash::parse(id).map(Self::Plan).ok_or_else(unknown),
            Some(("give", key)) => DeviceKey::parse(key).map(Self::Give).ok_or_else(unknown),
            Some(("remove", key)) => DeviceKey::parse(key).map(Self::Remove).ok_or_else(unknown),
            Some(("session", place)) => Hash::parse(place).map(Self::Session).ok_or_else(unknown),
            Some(_) => Err(unknown()),
        }
    }
}

fn member(id: &str) -> Option<MemberId> {
    Uuid::try_parse(id).ok().map(MemberId)
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
            Route::Exercises,
            Route::Exercise(Uuid::from_u128(9)),
            Route::Today,
            Route::LogSet,
            Route::CheckIn,
            Route::Devices,
            Route::Give(DeviceKey([7; 32])),
            Route::Remove(DeviceKey([7; 32])),
            Route::Erase(member),
            Route::Aside,
            Route::Sharing(member),
            Route::Card(member),
            Route::Body(member),
            Route::Rules(member),
            Route::Join,
            Route::EraseHere,
            Route::Wishes,
            Route::Jumps(member),
            Route::Competition(member),
            Route::Attempt(place),
            Route::Mark(place),
            Route::Effort(place),
            Route::Correct(place),
            Route::Times,
            Route::Course,
            Route::Exchange,
            Route::More,
            Route::Group,
            Route::Settings,
            Route::Plans(member),
            Route::Plan(place),
        ] {
            assert_eq!(route.to_string().parse(), Ok(route));
        }
        for odd in
            ["", "squads", "athlete/", "athlete/x", "session/00-1", "remove/07", "erase/", "aside/1", "a/b/c"]
        {
            assert_eq!(odd.parse::<Route>(), Err(UnknownRoute(odd.into())));
        }
    }
}
