//! How a command ends when it does not end well: what is wrong, what to do,
//! and the exit code that scripts can rely on.

use std::io::{self, Write};
use std::process::ExitCode;

use pitside_screen::ScreenError;

/// The exit codes, as `--help` shows them.
pub(crate) const EXIT_CODES: &str = "\
Exit codes:
  0  done
  1  unexpected: the system refused something
  2  the command line is wrong
  3  refused: the clip or the marks give no time, or a line of a table is not taken
  4  not readable as a clip or a table
  5  the book: locked, read-only, newer than this program, or damaged
  6  the other side of a sync";

/// What kind of failure it is; its number is the exit code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Exit {
    /// Something that no other code covers.
    Unexpected = 1,
    /// The command line is wrong.
    Usage = 2,
    /// The clip or the marks give no time, or a line of a table is not taken.
    Refused = 3,
    /// The file cannot be read as a clip or a table.
    NotAClip = 4,
    /// The book cannot be opened, read or written.
    Book = 5,
    /// The other side of a sync.
    Sync = 6,
}

/// A failure as it is told to a person.
#[derive(Debug)]
pub(crate) struct Failure {
    exit: Exit,
    /// What is wrong; `None` where standard output has said it already or
    /// nobody listens any more.
    wrong: Option<String>,
    hint: Option<String>,
}

impl Failure {
    /// `wrong` is one sentence without a full stop.
    pub(crate) fn new(exit: Exit, wrong: impl Into<String>) -> Self {
        Self { exit, wrong: Some(wrong.into()), hint: None }
    }

    /// A failure that standard output has told already, in JSON.
    pub(crate) fn told(exit: Exit) -> Self {
        Self { exit, wrong: None, hint: None }
    }

    /// Adds what a person can do about it.
    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// Tells it and gives the exit code.
    pub(crate) fn report(&self, err: &mut dyn Write) -> ExitCode {
        // Where standard error is closed there is nobody left to tell.
        if let Some(wrong) = &self.wrong {
            drop(writeln!(err, "pitside: {wrong}"));
        }
        if let Some(hint) = &self.hint {
            drop(writeln!(err, "hint: {hint}"));
        }
        ExitCode::from(self.exit as u8)
    }
}

impl From<io::Error> for Failure {
    /// Output that could not be written. A reader that closed its end has what
    /// it wanted and needs no message.
    fn from(error: io::Error) -> Self {
        if error.kind() == io::ErrorKind::BrokenPipe {
            Self::told(Exit::Unexpected)
        } else {
            Self::new(Exit::Unexpected, format!("the output could not be written: {error}"))
        }
    }
}

impl From<ScreenError> for Failure {
    fn from(error: ScreenError) -> Self {
        let exit = match &error {
            ScreenError::Refused { .. } | ScreenError::NotFound { .. } => Exit::Usage,
            ScreenError::NotAllowed { .. } | ScreenError::Book { .. } | ScreenError::Closed => Exit::Book,
        };
        Self::new(exit, error.to_string())
    }
}

impl From<serde_json::Error> for Failure {
    fn from(error: serde_json::Error) -> Self {
        io::Error::from(error).into()
    }
}
