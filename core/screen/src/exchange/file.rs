//! A sync in a file, for a device that is out of reach: written for the share sheet of the
//! phone, and taken in from wherever it came.

use std::fs::{self, File, OpenOptions};
use std::io::{self, BufReader, BufWriter};
use std::path::{Path, PathBuf};

use pitside_book::hand_over::{self, HandOverError, Handed, TakeInError};
use pitside_book::parcel::{PackError, ParcelError};
use pitside_book::store::Book;
use pitside_log::sync::SyncError;
use pitside_model::facts::DeviceKey;

use super::end::{ExchangeEnd, book, trouble};
use crate::companion::Companion;
use crate::env::Env;
use crate::figure::whole;
use crate::job::{Here, Job, Trouble};
use crate::text::Words;
use crate::wording;

/// The most files of one minute that stand side by side.
const MOST_ALIKE: u32 = 100;

/// A new file in a folder. Its name says when it was made, and nothing of whom.
fn new_file(folder: &Path, env: &Env) -> io::Result<(PathBuf, File)> {
    let stamp = env.stamp();
    let minute = stamp.minute();
    let name = format!("pitside-{}-{:02}{:02}", stamp.day(), minute / 60, minute % 60);
    for n in 1..=MOST_ALIKE {
        let more = if n == 1 { String::new() } else { format!("-{n}") };
        let path = folder.join(format!("{name}{more}.pitside"));
        match OpenOptions::new().write(true).create_new(true).open(&path) {
            Ok(file) => return Ok((path, file)),
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => {}
            Err(e) => return Err(e),
        }
    }
    Err(io::Error::new(io::ErrorKind::AlreadyExists, "too many files of this minute"))
}

/// Why no file came about.
enum NotWritten {
    HandOver(HandOverError),
    File,
}

impl From<io::Error> for NotWritten {
    fn from(_: io::Error) -> Self {
        Self::File
    }
}

fn write(book: &Book, to: DeviceKey, file: File, env: &Env, job: &Job) -> Result<Handed, NotWritten> {
    let clock = Here(env.zone_min);
    let written =
        hand_over::write(book, to, BufWriter::new(file), &clock, &mut |p| job.go_on(p.sent, p.to_send));
    let (file, handed) = written.map_err(NotWritten::HandOver)?;
    let file = file.into_inner().map_err(io::IntoInnerError::into_error)?;
    file.sync_all()?;
    Ok(handed)
}

fn not_written(words: &Words, why: NotWritten) -> ExchangeEnd {
    let key = match why {
        NotWritten::HandOver(HandOverError::CalledOff) => "end-called-off-file",
        NotWritten::HandOver(HandOverError::Sync(SyncError::Store(e))) => book(&e),
        NotWritten::HandOver(HandOverError::Sync(_) | HandOverError::Pack(PackError::Receiver { .. })) => {
            "end-no-receiver"
        }
        NotWritten::HandOver(HandOverError::Pack(_)) | NotWritten::File => "end-not-written",
    };
    ExchangeEnd::bad(words.word(key))
}

fn not_taken_in(words: &Words, why: TakeInError) -> ExchangeEnd {
    let key = match why {
        TakeInError::CalledOff => "end-called-off",
        TakeInError::Parcel(ParcelError::NotAParcel) => "end-not-a-file",
        TakeInError::Parcel(ParcelError::OtherReceiver) => "end-other-receiver",
        TakeInError::Parcel(ParcelError::Newer { .. }) => "end-protocol",
        TakeInError::Parcel(ParcelError::Io(_)) => "end-file-not-read",
        TakeInError::Parcel(_) => "end-file-damaged",
        TakeInError::Sync(why) => return trouble(words, &Trouble::Exchange(why.into())),
    };
    ExchangeEnd::bad(words.word(key))
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// Writes a file for one device of the squad, with all that it may hold, into a folder.
    /// Only that device can read it, and nothing in its name says whose it is.
    #[must_use]
    pub fn hand_over(&self, env: &Env, device: &str, folder: &str, job: &Job) -> ExchangeEnd {
        let words = Words::of(&env.language);
        let Ok(book) = self.open_book() else { return trouble(&words, &Trouble::Closed) };
        let Some(to) = super::device(device) else { return ExchangeEnd::bad(words.word("end-no-receiver")) };
        let Ok((path, file)) = new_file(Path::new(folder), env) else {
            return ExchangeEnd::bad(words.word("end-not-written"));
        };
        let written = write(&book, to, file, env, job);
        let handed = match written {
            Ok(handed) => handed,
            Err(why) => {
                // Half a file is of no use to anybody while the whole can be written.
                drop(fs::remove_file(&path));
                return not_written(&words, why);
            }
        };
        let whose = book.note_handed(&handed, env.stamp()).and_then(|()| wording::device(&words, &book, to));
        match whose {
            Err(e) => trouble(&words, &Trouble::Book(e)),
            Ok(whose) => ExchangeEnd {
                more: words.word("end-not-confirmed"),
                path: path.to_string_lossy().into_owned(),
                ..ExchangeEnd::good(words.say(
                    "end-handed-over",
                    &[
                        ("whose", (&whose).into()),
                        ("n", handed.entries.into()),
                        ("entries", (&whole(handed.entries)).into()),
                    ],
                ))
            },
        }
    }

    /// Takes in a file that was written for this device. Once more does no harm.
    #[must_use]
    pub fn take_in_file(&self, env: &Env, path: &str, job: &Job) -> ExchangeEnd {
        let words = Words::of(&env.language);
        let Ok(book) = self.open_book() else { return trouble(&words, &Trouble::Closed) };
        let Ok(file) = File::open(path) else { return ExchangeEnd::bad(words.word("end-file-not-read")) };
        let read = hand_over::read(&book, BufReader::new(file), &Here(env.zone_min), &mut |new, all| {
            job.go_on(new, all)
        });
        match read {
            Err(why) => not_taken_in(&words, why),
            Ok(taken) => match wording::device(&words, &book, taken.from) {
                Err(e) => trouble(&words, &Trouble::Book(e)),
                Ok(whose) => ExchangeEnd::good(words.say(
                    "end-taken-in",
                    &[
                        ("whose", (&whose).into()),
                        ("n", taken.received.into()),
                        ("entries", (&whole(taken.received)).into()),
                    ],
                )),
            },
        }
    }
}
