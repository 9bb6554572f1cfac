//! A file descriptor that a shell lends, and a clip read through it. The one file with
//! `unsafe` in it.

#![allow(unsafe_code, reason = "a number from outside is taken for a descriptor in this file alone")]

use std::fs::File;
use std::io;
use std::os::fd::{BorrowedFd, RawFd};
use std::sync::Arc;

use crate::companion::{ScreenError, refused};
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

#[uniffi::export]
impl OpenClip {
    /// Opens a clip through a descriptor that is lent for this call, as a document
    /// provider of a phone gives it. It must not be read elsewhere meanwhile.
    ///
    /// # Errors
    /// [`ScreenError::Refused`] with the reason: it is no clip, is damaged, or cannot be read.
    #[uniffi::constructor]
    pub fn lent(descriptor: i32) -> Result<Arc<Self>, ScreenError> {
        let not_read = |e: String| refused("clip", e, "an original slow-motion clip, MP4 or MOV");
        let file = own(descriptor).map_err(|e| not_read(e.to_string()))?;
        Ok(Arc::new(Self::read_for_pictures(file, None).map_err(|e| not_read(e.to_string()))?))
    }

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

    fn clip() -> std::path::PathBuf {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        root.join("tests/published/data/clips/sample_android_slow_motion.mp4")
    }

    #[test]
    fn a_lent_descriptor_is_read_and_stays_the_lenders() {
        let file = File::open(clip()).unwrap();
        let lent = OpenClip::lent(file.as_raw_fd()).unwrap();
        let own = OpenClip::read(File::open(clip()).unwrap(), None).unwrap();
        assert_eq!(lent.identity(), own.identity());
        assert!(file.metadata().is_ok(), "the lender's is open still");
    }

    #[test]
    fn a_number_that_is_no_descriptor_is_refused() {
        for odd in [-1, i32::MIN, 1_000_000] {
            assert!(matches!(OpenClip::lent(odd), Err(ScreenError::Refused { .. })), "{odd}");
        }
    }
}
