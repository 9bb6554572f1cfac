//! Everything that is held about a member, as JSON: for whoever wants to see it, keep it or
//! take it along.

use std::fs::OpenOptions;
use std::io::Write as _;
use std::path::Path;

use data_encoding::HEXLOWER;
use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Filter, Said};
use pitside_log::authority::Judgement;
use pitside_model::cbor::{Value, decode};
use pitside_model::facts::{Card, Fact, MemberId, Scope, Subject, field_name, kind};
use serde_json::{Value as Json, json};

use crate::companion::{Companion, ScreenError, refused};

/// Everything that this device holds about a member; nothing where it holds nothing.
///
/// # Errors
/// Where the book cannot be read.
pub fn member_record(book: &Book, member: MemberId) -> Result<Option<Json>, BookError> {
    let record = book.record_of(member)?;
    if record.is_empty() {
        return Ok(None);
    }
    Ok(Some(json!({
        "member": member.to_string(),
        "names": names(book, member)?,
        "written-by": "pitside",
        "entries": record.iter().map(said).collect::<Vec<_>>(),
    })))
}

/// The names that a member goes by, the one shown first.
///
/// # Errors
/// Where the book cannot be read.
pub fn names(book: &Book, member: MemberId) -> Result<Vec<String>, BookError> {
    let filter = Filter {
        member: Some(member),
        kind: Some(kind::MEMBER),
        field: Some(field_name::NAME),
        ..Filter::default()
    };
    let held = book.held(&filter)?;
    let names = held.iter().flat_map(|h| &h.values).filter_map(|live| match &live.fact {
        Ok(Fact::Card(Card::Name(name))) => Some(name.clone()),
        _ => None,
    });
    Ok(names.collect())
}

fn said(said: &Said) -> Json {
    let subject = match said.key.subject {
        Subject::Fact(id) => id.to_string(),
        Subject::Uuid(id) => id.to_string(),
        Subject::Device(key) => key.to_string(),
    };
    json!({
        "entry": said.hash.to_string(),
        "kind": said.key.kind,
        "field": said.key.field,
        "about": subject,
        "scope": scope(said.key.scope),
        "device": said.device.to_string(),
        "written": written(said.stamp),
        "day": day_of(said),
        "counts": said.judgement == Judgement::Counted,
        "current": said.live,
        "says": said.payload.as_deref().map(|bytes| decode(bytes).map_or(json!(null), |v| plain(&v))),
    })
}

fn scope(scope: Scope) -> &'static str {
    match scope {
        Scope::Squad => "squad",
        Scope::Staff => "staff",
        Scope::Member(_) => "member",
        Scope::Private(_) => "private",
    }
}

/// A moment where it was written (RFC 3339).
fn written(stamp: Stamp) -> String {
    let (hour, minute) = (stamp.minute() / 60, stamp.minute() % 60);
    let second = stamp.ms.div_euclid(1_000).rem_euclid(60);
    let (sign, zone) = (if stamp.zone_min < 0 { '-' } else { '+' }, stamp.zone_min.unsigned_abs());
    format!("{}T{hour:02}:{minute:02}:{second:02}{sign}{:02}:{:02}", stamp.day(), zone / 60, zone % 60)
}

/// The day that an entry is about, where it is about one; in the payload days are
/// numbers from 1970-01-01 on.
fn day_of(said: &Said) -> Option<String> {
    let (fact, _) = Fact::read(&said.key.kind, &said.key.field, said.payload.as_deref()?).ok()?;
    fact.day().map(|day| day.to_string())
}

/// CBOR as JSON; bytes in hexadecimal.
fn plain(value: &Value) -> Json {
    match value {
        Value::Null => json!(null),
        Value::Bool(b) => json!(b),
        Value::Int(n) => i64::try_from(*n).map_or_else(|_| json!(n.to_string()), |n| json!(n)),
        Value::Text(t) => json!(t),
        Value::Bytes(b) => json!(HEXLOWER.encode(b)),
        Value::Array(items) => items.iter().map(plain).collect(),
        Value::Map(pairs) => pairs
            .iter()
            .map(|(key, value)| {
                let key = match key {
                    Value::Text(t) => t.clone(),
                    other => plain(other).to_string(),
                };
                (key, plain(value))
            })
            .collect::<serde_json::Map<_, _>>()
            .into(),
    }
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Writes everything that is held about the members whom this device serves into a new
    /// file: `{"written-by": "pitside", "members": [...]}`, each as
    /// [`member_record`] gives it.
    ///
    /// # Errors
    /// [`ScreenError::Refused`] with `file` where it cannot be written or is there already;
    /// [`ScreenError::NotFound`] where this device serves nobody; [`ScreenError::Book`].
    pub fn export(&self, file: &str) -> Result<(), ScreenError> {
        let book = self.open_book()?;
        let own = book.own_members()?;
        if own.is_empty() {
            return Err(ScreenError::NotFound { what: "athlete of this device".to_owned() });
        }
        let mut members = Vec::new();
        for member in own {
            members.extend(member_record(&book, member)?);
        }
        let all = json!({ "written-by": "pitside", "members": members });
        write(Path::new(file), &all).map_err(|e| refused("file", e.to_string(), "a new file"))
    }
}

fn write(path: &Path, all: &Json) -> std::io::Result<()> {
    let mut file = std::io::BufWriter::new(OpenOptions::new().write(true).create_new(true).open(path)?);
    serde_json::to_writer_pretty(&mut file, all)?;
    writeln!(file)?;
    file.flush()?;
    file.get_ref().sync_all()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::env::Env;

    #[test]
    fn all_that_is_held_is_in_the_file_and_no_file_is_overwritten() {
        let folder = tempfile::tempdir().unwrap();
        let env = Env { language: "en".into(), zone_min: 60, hour24: true, now_ms: 1_795_593_600_000 };
        let book = folder.path().join("book");
        std::fs::create_dir(&book).unwrap();
        let phone = Companion::open(book.to_str().unwrap(), vec![7; 32], &env).unwrap();
        let form = phone.log_set(&env).unwrap().form;
        phone.log_today(&env, "", &form).unwrap();
        let file = folder.path().join("all.json");
        phone.export(file.to_str().unwrap()).unwrap();
        let all: Json = serde_json::from_slice(&std::fs::read(&file).unwrap()).unwrap();
        let entries = all["members"][0]["entries"].as_array().unwrap();
        let set = entries.iter().find(|entry| entry["kind"] == "set").unwrap();
        assert_eq!((&set["scope"], &set["written"]), (&json!("member"), &json!("2026-11-25T09:00:00+01:00")));
        assert_eq!(set["says"]["reps"], json!(form.reps));
        assert!(matches!(phone.export(file.to_str().unwrap()), Err(ScreenError::Refused { .. })));
    }
}
