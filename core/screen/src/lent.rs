//! A file descriptor that a shell lends, and a clip read through it. The one file with
//! `unsafe` in it.

#![allow(unsafe_code, reason = "a number from outside is taken for a descriptor in this file alone")]

use std::fs::File;
use std::io::{self, Seek as _, SeekFrom};
use std::os::fd::{BorrowedFd, RawFd};
use std::sync::Arc;

use crate::companion::{ScreenError, refused};
use crate::job::{Job, Watched};
use crate::marking::OpenClip;

/// A descriptor of our own for the file that is lent; the lender closes the lent one.
/// Both share one position in the file.
fn own(lent: RawFd) -> io::Result<File> {
    if lent < 0 {
        return Err(io::Error::new(io::ErrorKind::InvalidInput, "no descriptor"));
    }
    // SAFETY: `borrow_raw` asks that the descriptor be open until the borrow ends, and
    // not be -1. The shell lends it for the call that runs here and closes it later; the
    // borrow ends on the next line. Where a shell lends a number that is not open, the
    // system refuses to duplicate it (EBADF), and nothing was read through it.
    let borrowed = unsafe { BorrowedFd::borrow_raw(lent) };
    borrowed.try_clone_to_owned().map(File::from)
}

/// Opens a clip through a descriptor that is lent for this call, as a document provider of a
/// phone gives it: its tables are read, and all of its bytes once. It must not be read
/// elsewhere meanwhile. A long clip takes seconds, so a shell calls it on a thread of its own
/// and shows the progress of `job`. Nothing where the job was called off.
///
/// # Errors
/// [`ScreenError::Refused`] with the reason: it is no clip, is damaged, or cannot be read.
#[uniffi::export]
pub fn read_lent_clip(descriptor: i32, job: &Job) -> Result<Option<Arc<OpenClip>>, ScreenError> {
    let not_read = |e: String| refused("clip", e, "an original slow-motion clip, MP4 or MOV");
    let mut file = own(descriptor).map_err(|e| not_read(e.to_string()))?;
    let bytes = file.seek(SeekFrom::End(0)).map_err(|e| not_read(e.to_string()))?;
    match OpenClip::read_for_pictures(Watched::new(file, job, bytes), None) {
        Ok(open) => Ok(Some(Arc::new(open))),
        Err(_) if job.is_cancelled() => Ok(None),
        Err(e) => Err(not_read(e.to_string())),
    }
}

#[uniffi::export]
impl OpenClip {
    /// SHA-256 of its bytes in hexadecimal: the name under which takes remember it.
    #[must_use]
    pub fn name(&self) -> String {
        data_encoding::HEXLOWER.encode(&self.identity())
    }
}

#[cfg(test)]
mod tests {
    use std::os::fd::AsRawFd as _;
    use std::path::Path;

    use super::*;
    use crate::job::JobProgress;

    fn clip() -> std::path::PathBuf {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        root.join("tests/published/data/clips/sample_android_slow_motion.mp4")
    }

    #[test]
    fn a_lent_descriptor_is_read_and_stays_the_lenders() {
        let file = File::open(clip()).unwrap();
        let job = Job::of_clip();
        assert_eq!(job.progress().of, 0, "not begun");
        let lent = read_lent_clip(file.as_raw_fd(), &job).unwrap().unwrap();
        let own = OpenClip::read(File::open(clip()).unwrap(), None).unwrap();
        assert_eq!(lent.identity(), own.identity());
        let bytes = file.metadata().expect("the lender's is open still").len();
        assert_eq!(job.progress(), JobProgress { moved: bytes, of: bytes, cancelled: false });
    }

    #[test]
    fn a_number_that_is_no_descriptor_is_refused() {
        for odd in [-1, i32::MIN, 1_000_000] {
            assert!(
                matches!(read_lent_clip(odd, &Job::of_clip()), Err(ScreenError::Refused { .. })),
                "{odd}"
            );
        }
    }

    #[test]
    fn a_reading_that_is_called_off_gives_nothing_and_the_next_begins_anew() {
        let file = File::open(clip()).unwrap();
        let job = Job::of_clip();
        job.cancel();
        assert!(read_lent_clip(file.as_raw_fd(), &job).unwrap().is_none());
        assert_eq!(job.progress().moved, 0, "nothing was read");
        assert!(read_lent_clip(file.as_raw_fd(), &Job::of_clip()).unwrap().is_some());
    }

    /// Calls its job off once so many bytes were read.
    struct After<'a>(File, &'a Job, u64);

    impl io::Read for After<'_> {
        fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
            if self.1.progress().moved >= self.2 {
                self.1.cancel();
            }
            self.0.read(buffer)
        }
    }

    impl io::Seek for After<'_> {
        fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
            self.0.seek(to)
        }
    }

    #[test]
    fn a_reading_ends_soon_after_it_was_called_off() {
        let job = Job::of_clip();
        let bytes = std::fs::metadata(clip()).unwrap().len();
        let after = After(File::open(clip()).unwrap(), &job, bytes / 4);
        assert!(OpenClip::read_for_pictures(Watched::new(after, &job, bytes), None).is_err());
        let progress = job.progress();
        assert!(
            progress.cancelled && (bytes / 4..bytes).contains(&progress.moved),
            "{progress:?} of {bytes}"
        );
    }
}
