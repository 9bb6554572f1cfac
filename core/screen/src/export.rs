//! Everything that is held about a member, as JSON: for whoever wants to see it, keep it or
//! take it along.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write as _};
use std::path::{Path, PathBuf};

use data_encoding::HEXLOWER;
use pitside_book::clock::Stamp;
use pitside_book::store::{Book, BookError, Filter, Said};
use pitside_log::authority::Judgement;
use pitside_model::cbor::{Value, decode};
use pitside_model::facts::{Card, Fact, MemberId, Scope, Subject, field_name, kind};
use serde_json::{Value as Json, json};

use crate::companion::Companion;
use crate::env::Env;
use crate::exchange::{ExchangeEnd, trouble};
use crate::job::{Job, Trouble, Watched};
use crate::text::Words;

/// Everything that this device holds about a member; nothing where it holds nothing.
///
/// # Errors
/// Where the book cannot be read.
pub fn member_record(book: &Book, member: MemberId) -> Result<Option<Json>, BookError> {
    as_json(book, member, &book.record_of(member)?)
}

fn as_json(book: &Book, member: MemberId, record: &[Said]) -> Result<Option<Json>, BookError> {
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

/// Why no file came about.
enum NotWritten {
    CalledOff,
    Nobody,
    Book(BookError),
    File,
}

impl From<BookError> for NotWritten {
    fn from(e: BookError) -> Self {
        Self::Book(e)
    }
}

/// What is held about the members whom a device serves.
fn all_held(book: &Book, job: &Job) -> Result<Json, NotWritten> {
    let own = book.own_members()?;
    if own.is_empty() {
        return Err(NotWritten::Nobody);
    }
    let (mut members, mut before) = (Vec::new(), 0);
    for member in own {
        let mut looked = 0;
        let record = book.record_watched(member, &mut |at, of| {
            looked = of;
            job.go_on(before + at, before + of)
        })?;
        before += looked;
        if !job.go_on(before, before) {
            return Err(NotWritten::CalledOff);
        }
        members.extend(as_json(book, member, &record.unwrap_or_default())?);
    }
    Ok(json!({ "written-by": "pitside", "members": members }))
}

/// What a file is called until it is whole: nobody takes half of one for all.
fn unfinished(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".part");
    PathBuf::from(name)
}

/// Writes into a file beside the one that is wanted, which then takes its name. One that a
/// dead process left is written over; a whole one is not.
fn write(path: &Path, all: &Json, job: &Job) -> io::Result<()> {
    if path.try_exists()? {
        return Err(io::ErrorKind::AlreadyExists.into());
    }
    let part = unfinished(path);
    let written = File::create(&part).and_then(|file| {
        let mut file = BufWriter::new(Watched::new(file, job, 0));
        serde_json::to_writer_pretty(&mut file, all)?;
        writeln!(file)?;
        file.flush()?;
        file.get_ref().file().sync_all()?;
        fs::rename(&part, path)
    });
    if written.is_err() {
        // What cannot be deleted is written over the next time.
        drop(fs::remove_file(&part));
    }
    written
}

fn export(book: &Book, path: &Path, job: &Job) -> Result<(), NotWritten> {
    let all = all_held(book, job)?;
    write(path, &all, job)
        .map_err(|_| if job.is_cancelled() { NotWritten::CalledOff } else { NotWritten::File })
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Writes everything that is held about the members whom this device serves into a new
    /// file: `{"written-by": "pitside", "members": [...]}`, each as [`member_record`] gives
    /// it. The file is there once it is whole, and a file that is there already is not
    /// written over. Five years take seconds, so a shell calls it on a thread of its own and
    /// shows the progress of `job`. However it ends is said in words.
    #[must_use]
    pub fn export_all(&self, env: &Env, file: &str, job: &Job) -> ExchangeEnd {
        let words = Words::of(&env.language);
        let Ok(book) = self.open_book() else { return trouble(&words, &Trouble::Closed) };
        let bad = |key: &str| ExchangeEnd::bad(words.word(key));
        match export(&book, Path::new(file), job) {
            Ok(()) => ExchangeEnd { path: file.to_owned(), ..ExchangeEnd::good(words.word("end-exported")) },
            Err(NotWritten::CalledOff) => bad("end-called-off-file"),
            Err(NotWritten::Nobody) => bad("end-nobodys-data"),
            Err(NotWritten::File) => bad("end-not-written"),
            Err(NotWritten::Book(e)) => trouble(&words, &Trouble::Book(e)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn env() -> Env {
        Env { language: "en".into(), zone_min: 60, hour24: true, now_ms: 1_795_593_600_000 }
    }

    /// A phone with a set that was logged, and a folder for its files.
    fn phone(folder: &tempfile::TempDir) -> (Companion, PathBuf) {
        let (book, files) = (folder.path().join("book"), folder.path().join("files"));
        fs::create_dir(&book).unwrap();
        fs::create_dir(&files).unwrap();
        let phone = Companion::open(book.to_str().unwrap(), vec![7; 32], &env()).unwrap();
        let form = phone.log_set(&env()).unwrap().form;
        phone.log_today(&env(), "", &form).unwrap();
        (phone, files)
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        entries.map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect()
    }

    #[test]
    fn all_that_is_held_is_in_the_file_and_no_file_is_overwritten() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, files) = phone(&folder);
        let reps = phone.log_set(&env()).unwrap().form.reps;
        let file = files.join("all.json");
        // What a process that died has left is no file with all data.
        fs::write(unfinished(&file), "{\"written-by\"").unwrap();
        let job = Job::of_export();
        let end = phone.export_all(&env(), file.to_str().unwrap(), &job);
        assert_eq!((end.done, end.path.as_str()), (true, file.to_str().unwrap()), "{}", end.text);
        assert_eq!(names(&files), ["all.json"]);
        let all: Json = serde_json::from_slice(&fs::read(&file).unwrap()).unwrap();
        let entries = all["members"][0]["entries"].as_array().unwrap();
        let set = entries.iter().find(|entry| entry["kind"] == "set").unwrap();
        assert_eq!((&set["scope"], &set["written"]), (&json!("member"), &json!("2026-11-25T09:00:00+01:00")));
        assert_eq!(set["says"]["reps"], json!(reps));
        let progress = job.progress();
        assert!(progress.moved == progress.of && progress.of >= entries.len() as u64, "{progress:?}");
        let before = fs::read(&file).unwrap();
        let again = phone.export_all(&env(), file.to_str().unwrap(), &Job::of_export());
        assert!(!again.done && again.path.is_empty(), "{}", again.text);
        assert_eq!(fs::read(&file).unwrap(), before);
    }

    #[test]
    fn what_is_called_off_or_cannot_be_written_leaves_no_file() {
        let folder = tempfile::tempdir().unwrap();
        let (phone, files) = phone(&folder);
        let file = files.join("all.json");
        let job = Job::of_export();
        job.cancel();
        let end = phone.export_all(&env(), file.to_str().unwrap(), &job);
        assert_eq!((end.done, end.text.as_str()), (false, "Called off. No file was written."));
        // Called off while it is written.
        assert!(write(&file, &json!({ "members": [] }), &job).is_err());
        assert!(names(&files).is_empty(), "{:?}", names(&files));
        let nowhere = files.join("gone/all.json");
        let end = phone.export_all(&env(), nowhere.to_str().unwrap(), &Job::of_export());
        assert_eq!(end.text, "The file could not be written. Is there room on the phone?");
    }
}
