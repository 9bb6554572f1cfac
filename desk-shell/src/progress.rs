//! How far a sync is, on the line where a person waits for it.

use std::io::{IsTerminal, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// Set by Ctrl-C: the sync ends after the message it is at.
static CALLED_OFF: AtomicBool = AtomicBool::new(false);

/// Tells standard error, where it is a terminal, a few times a second.
pub(crate) struct Progress {
    shown: bool,
    what: &'static str,
    last: Option<Instant>,
}

impl Progress {
    /// Counts these, and listens for Ctrl-C from now on.
    pub(crate) fn new(what: &'static str) -> Self {
        // Without a handler Ctrl-C ends the program, which loses nothing either.
        drop(ctrlc::set_handler(|| CALLED_OFF.store(true, Ordering::Release)));
        Self { shown: std::io::stderr().is_terminal(), what, last: None }
    }

    /// Says how far it is; `false` once a person has called it off.
    pub(crate) fn tell(&mut self, done: u64, of: u64) -> bool {
        let due = self.last.is_none_or(|last| last.elapsed() > Duration::from_millis(250));
        if self.shown && due && of > 0 {
            self.last = Some(Instant::now());
            // A terminal that is gone does not end the sync.
            drop(write!(anstream::stderr(), "\r{done} of {of} {} ", self.what));
        }
        !CALLED_OFF.load(Ordering::Acquire)
    }

    /// Ends the line.
    pub(crate) fn end(&self) {
        if self.last.is_some() {
            drop(writeln!(anstream::stderr()));
        }
    }
}
