//! Long readings give way to whoever takes deleted data out of the book's files.
//!
//! The write-ahead log is cut to nothing only when nobody reads in it. A short
//! reading is waited for. A look over the whole book takes minutes on a slow disk,
//! so it is broken off, and goes on when the files are clean.

use std::sync::{Arc, Condvar, Mutex, PoisonError};

use rusqlite::{Connection, ErrorCode};

use super::{Book, BookError, FILE, connect, guard};

/// Steps of SQLite's machine, or pages of its check, between two looks at whether a
/// cleaning is wanted: more than it takes to end a transaction, a few milliseconds at
/// most.
const STEPS: i32 = 1_000;

/// Whether somebody is taking deleted data out of the files, or waits to.
#[derive(Debug, Default)]
pub(super) struct Cleaning {
    wanted: Mutex<u32>,
    over: Condvar,
}

/// While it lives, long readings keep away.
#[derive(Debug)]
pub(super) struct Wanted<'a>(&'a Cleaning);

impl Cleaning {
    pub(super) fn want(&self) -> Wanted<'_> {
        *guard(&self.wanted) += 1;
        Wanted(self)
    }

    pub(super) fn is_wanted(&self) -> bool {
        *guard(&self.wanted) > 0
    }

    fn wait(&self) {
        let wanted = guard(&self.wanted);
        drop(self.over.wait_while(wanted, |wanted| *wanted > 0).unwrap_or_else(PoisonError::into_inner));
    }
}

impl Drop for Wanted<'_> {
    fn drop(&mut self) {
        *guard(&self.0.wanted) -= 1;
        self.0.over.notify_all();
    }
}

impl Book {
    /// A connection whose statements are broken off while a cleaning is wanted.
    pub(super) fn long_reader(&self) -> Result<Connection, BookError> {
        let mut connection = connect(&self.folder.join(FILE), false)?;
        let cleaning = Arc::clone(&self.cleaning);
        connection.progress_handler(STEPS, Some(move || cleaning.is_wanted()))?;
        Ok(connection)
    }

    /// Runs `work` on a snapshot of a [long reader](Self::long_reader). Where it was
    /// broken off it runs once more, on a newer snapshot.
    pub(super) fn reading_long<T>(
        &self,
        reader: &Connection,
        mut work: impl FnMut(&Connection) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        let mut once = || {
            let snapshot = reader.unchecked_transaction()?;
            let done = work(&snapshot)?;
            snapshot.finish()?;
            Ok(done)
        };
        loop {
            self.cleaning.wait();
            match once() {
                Err(e) if is_broken_off(&e) => {}
                done => return done,
            }
        }
    }
}

/// Nothing else interrupts a statement.
fn is_broken_off(e: &BookError) -> bool {
    matches!(e, BookError::Sqlite(e) if e.sqlite_error_code() == Some(ErrorCode::OperationInterrupted))
}
