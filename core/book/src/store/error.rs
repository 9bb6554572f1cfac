//! What can go wrong with a book.

use std::path::{Path, PathBuf};

use pitside_log::authority::Reason;
use pitside_model::facts::Refusal;

/// Why a book cannot be opened, read or written. What was acknowledged before
/// is not touched by any of them.
#[derive(Debug, thiserror::Error)]
pub enum BookError {
    /// There is no book in the folder.
    #[error("{}: there is no book here", .0.display())]
    Missing(PathBuf),
    /// There is one already.
    #[error("{}: there is a book here already", .0.display())]
    Exists(PathBuf),
    /// Another process has it open.
    #[error("{}: another program has this book open", .0.display())]
    InUse(PathBuf),
    /// Folder or file cannot be written.
    #[error("{}: this place cannot be written to: {source}", path.display())]
    ReadOnly {
        /// The folder or file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// A newer version of the program wrote it.
    #[error("{}: the book has version {found}, this program knows up to {known}", path.display())]
    Newer {
        /// The file.
        path: PathBuf,
        /// The version found.
        found: u32,
        /// The newest version known.
        known: u32,
    },
    /// The file is not a book, or it is damaged.
    #[error("{}: this is not a book, or it is damaged: {why}", path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What was found.
        why: String,
    },
    /// Nothing can be read of a damaged book.
    #[error(
        "{}: nothing in this book can be read any more; it was left as it is. \
         Restore a backup, or pair this device anew", .0.display()
    )]
    BeyondRescue(PathBuf),
    /// The file is no backup.
    #[error("{}: this is not a backup of a book", .0.display())]
    NoBackup(PathBuf),
    /// A backup never takes the place of a file.
    #[error("{}: there is a file here already; it was left as it is", .0.display())]
    FileExists(PathBuf),
    /// The book belongs to another device.
    #[error("{}: the book belongs to another device than this key", .0.display())]
    OtherDevice(PathBuf),
    /// A fact out of its range.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// This device may not write this here.
    #[error("this device may not write this: {}", match .0 {
        Some(Reason::OwnerOnly) => "only the coach's own devices do",
        Some(Reason::MemberOnly) => "only the athlete's own devices do",
        Some(Reason::WrongScope) => "it does not belong there",
        Some(Reason::SecondFounding) => "a squad is founded once",
        Some(Reason::NotGiven) => "the coach has not given it that",
        Some(Reason::Removed) => "it was removed from the squad",
        Some(Reason::Senior) => "only a device senior to that one removes it, or takes its removal back",
        Some(Reason::Erased) => "the member's data were erased",
        None => "it is not admitted to a squad",
    })]
    NotAllowed(Option<Reason>),
    /// The book has a squad, and the step is for one without.
    #[error("this book belongs to a squad already")]
    HasSquad,
    /// The step needs a squad.
    #[error("this book has no squad yet")]
    NoSquad,
    /// A book of the invented demo squad and a person's own never mix.
    #[error("one of the two is the invented demo squad's: a demo book and a person's own never mix")]
    Demo,
    /// Something that was deleted could not be taken out of every file yet.
    #[error(
        "it is deleted, and still in a file of the book until the next attempt: another call was reading"
    )]
    Busy,
    /// What is named is not held.
    #[error("this book knows no {0}")]
    Unknown(&'static str),
    /// The disk is full.
    #[error("the disk is full: what was saved before is kept, this was not saved")]
    Full,
    /// Another program holds the lock of the book's file.
    #[error("another program holds the book's file: try again when it has let go")]
    Locked,
    /// A failing disk, a file that cannot be read.
    #[error("the book could not be read or written: {0}")]
    Sqlite(rusqlite::Error),
    /// The system gave no random bytes.
    #[error("no random bytes from the system: {0}")]
    Random(std::io::Error),
}

impl From<rusqlite::Error> for BookError {
    fn from(e: rusqlite::Error) -> Self {
        use rusqlite::ErrorCode;
        match e.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Self::Full,
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Locked,
            _ => Self::Sqlite(e),
        }
    }
}

impl BookError {
    /// The same, or that the file is damaged where that is what SQLite means: a
    /// page that cannot be made out, a table that is not there, a value of another
    /// shape. A full disk, a lock and what the system refuses are none of these.
    pub(super) fn or_damaged(self, path: &Path) -> Self {
        use rusqlite::ErrorCode as Code;
        let Self::Sqlite(e) = &self else { return self };
        match e.sqlite_error_code() {
            Some(
                Code::SystemIoFailure
                | Code::ReadOnly
                | Code::CannotOpen
                | Code::OutOfMemory
                | Code::PermissionDenied
                | Code::FileLockingProtocolFailed
                | Code::OperationInterrupted,
            ) => self,
            _ => Self::Damaged { path: path.to_owned(), why: e.to_string() },
        }
    }
}
