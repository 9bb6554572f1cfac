//! Members and devices, as a person names them on the command line.

use data_encoding::HEXLOWER;
use pitside_book::store::Book;
use pitside_model::facts::{DeviceKey, Exercise, MemberId};
use uuid::Uuid;

use crate::failure::{Exit, Failure};

/// The name a member is shown by.
pub(crate) fn called(book: &Book, member: MemberId) -> Result<String, Failure> {
    Ok(pitside_screen::names(book, member)?
        .into_iter()
        .next()
        .unwrap_or_else(|| "someone without a name yet".to_owned()))
}

/// A member by name or id.
pub(crate) fn member(book: &Book, wanted: &str) -> Result<MemberId, Failure> {
    if wanted == "me" {
        return own_or_named(book, None);
    }
    if let Ok(id) = Uuid::parse_str(wanted) {
        return Ok(MemberId(id));
    }
    let mut found = Vec::new();
    for member in book.members()? {
        if pitside_screen::names(book, member)?
            .iter()
            .any(|name| name.to_lowercase() == wanted.to_lowercase())
        {
            found.push(member);
        }
    }
    match found.as_slice() {
        [one] => Ok(*one),
        [] => Err(Failure::new(Exit::Usage, format!("nobody is called {wanted:?} here"))
            .hint("list them: pitside squad; a new athlete: pitside log --new-member NAME")),
        _ => Err(Failure::new(Exit::Usage, format!("more than one is called {wanted:?}"))
            .hint("name the id instead; pitside squad lists them")),
    }
}

/// A member by name, or the one whom this device serves.
pub(crate) fn own_or_named(book: &Book, name: Option<&str>) -> Result<MemberId, Failure> {
    if let Some(name) = name {
        return member(book, name);
    }
    let several = match book.own_members()?.as_slice() {
        [one] => return Ok(*one),
        [] => "this device serves no athlete",
        _ => "this device serves several athletes",
    };
    Err(Failure::new(Exit::Usage, several).hint("name one: --member NAME"))
}

/// The first letters of a key, enough to tell devices apart by eye.
pub(crate) fn short(device: DeviceKey) -> String {
    HEXLOWER.encode(&device.0[..6])
}

/// A device of the squad by the first letters of its key.
pub(crate) fn device(book: &Book, wanted: &str) -> Result<DeviceKey, Failure> {
    let wanted = wanted.to_lowercase();
    let devices = book.devices()?;
    let mut found = devices.iter().map(|(device, _)| *device).filter(|d| d.to_string().starts_with(&wanted));
    match (found.next(), found.next()) {
        (Some(one), None) if wanted.len() >= 4 => Ok(one),
        (None, _) => Err(Failure::new(Exit::Usage, format!("no device of the squad begins with {wanted:?}"))
            .hint("list them: pitside squad")),
        _ => Err(Failure::new(Exit::Usage, format!("{wanted:?} is not enough to tell one device"))
            .hint("give more letters of it, at least four")),
    }
}

/// An exercise by its name or a part of it that only one has.
pub(crate) fn exercise<'a>(
    exercises: &'a [(Uuid, Exercise)],
    name: &str,
) -> Result<&'a (Uuid, Exercise), Failure> {
    let wanted = name.to_lowercase();
    let exact = exercises.iter().find(|(_, e)| e.name.to_lowercase() == wanted);
    let mut parts = exercises.iter().filter(|(_, e)| e.name.to_lowercase().contains(&wanted));
    let only = match (parts.next(), parts.next()) {
        (Some(one), None) => Some(one),
        _ => None,
    };
    exact.or(only).ok_or_else(|| {
        Failure::new(Exit::Usage, format!("{name:?} names no exercise, or more than one"))
            .hint("list them: pitside log --exercises")
    })
}
