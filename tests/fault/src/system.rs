//! The kernel, asked directly: the C library's functions are the ones that the
//! layer stands in for.

use std::ffi::{CStr, c_int};
use std::mem::MaybeUninit;

use libc::{c_long, mode_t, off_t};

use crate::Answer;

fn answered(result: c_long) -> Answer<c_long> {
    if result < 0 {
        // SAFETY: the pointer is to this thread's own number, and always valid.
        return Err(unsafe { *libc::__errno_location() });
    }
    Ok(result)
}

/// A result that is a descriptor or zero.
fn small(result: c_long) -> Answer<c_int> {
    answered(result).and_then(|n| c_int::try_from(n).map_err(|_| libc::EOVERFLOW))
}

/// A result that is a number of bytes.
fn long(result: c_long) -> Answer<isize> {
    answered(result).and_then(|n| isize::try_from(n).map_err(|_| libc::EOVERFLOW))
}

pub(crate) fn set_errno(number: c_int) {
    // SAFETY: the pointer is to this thread's own number, and always valid.
    unsafe { *libc::__errno_location() = number };
}

pub(crate) fn open(folder: c_int, path: &CStr, flags: c_int, mode: mode_t) -> Answer<c_int> {
    // SAFETY: the path is a C string that lives through the call.
    small(unsafe { libc::syscall(libc::SYS_openat, folder, path.as_ptr(), flags, mode) })
}

pub(crate) fn close(fd: c_int) -> Answer<c_int> {
    // SAFETY: no memory is handed over.
    small(unsafe { libc::syscall(libc::SYS_close, fd) })
}

pub(crate) fn write(fd: c_int, bytes: &[u8]) -> Answer<isize> {
    // SAFETY: the kernel reads the slice and no further, during the call.
    long(unsafe { libc::syscall(libc::SYS_write, fd, bytes.as_ptr(), bytes.len()) })
}

pub(crate) fn write_at(fd: c_int, bytes: &[u8], at: off_t) -> Answer<isize> {
    // SAFETY: the kernel reads the slice and no further, during the call.
    long(unsafe { libc::syscall(libc::SYS_pwrite64, fd, bytes.as_ptr(), bytes.len(), at) })
}

/// Where the next write goes.
pub(crate) fn offset(fd: c_int) -> Answer<isize> {
    // SAFETY: no memory is handed over.
    long(unsafe { libc::syscall(libc::SYS_lseek, fd, 0 as off_t, libc::SEEK_CUR) })
}

pub(crate) fn set_length(fd: c_int, length: off_t) -> Answer<c_int> {
    // SAFETY: no memory is handed over.
    small(unsafe { libc::syscall(libc::SYS_ftruncate, fd, length) })
}

pub(crate) fn sync(fd: c_int) -> Answer<c_int> {
    // SAFETY: no memory is handed over.
    small(unsafe { libc::syscall(libc::SYS_fsync, fd) })
}

pub(crate) fn make_folder(path: &CStr, mode: mode_t) -> Answer<c_int> {
    // SAFETY: the path is a C string that lives through the call.
    small(unsafe { libc::syscall(libc::SYS_mkdirat, libc::AT_FDCWD, path.as_ptr(), mode) })
}

/// Removes a file, or an empty folder where `flags` is `AT_REMOVEDIR`.
pub(crate) fn remove(path: &CStr, flags: c_int) -> Answer<c_int> {
    // SAFETY: the path is a C string that lives through the call.
    small(unsafe { libc::syscall(libc::SYS_unlinkat, libc::AT_FDCWD, path.as_ptr(), flags) })
}

pub(crate) fn rename(from: &CStr, to: &CStr) -> Answer<c_int> {
    let here = libc::AT_FDCWD;
    // SAFETY: both paths are C strings that live through the call.
    small(unsafe { libc::syscall(libc::SYS_renameat2, here, from.as_ptr(), here, to.as_ptr(), 0) })
}

pub(crate) fn link(
    from_folder: c_int,
    from: &CStr,
    to_folder: c_int,
    to: &CStr,
    flags: c_int,
) -> Answer<c_int> {
    // SAFETY: both paths are C strings that live through the call.
    small(unsafe {
        libc::syscall(libc::SYS_linkat, from_folder, from.as_ptr(), to_folder, to.as_ptr(), flags)
    })
}

pub(crate) fn exists(path: &CStr) -> bool {
    // SAFETY: the path is a C string that lives through the call.
    small(unsafe { libc::syscall(libc::SYS_faccessat, libc::AT_FDCWD, path.as_ptr(), libc::F_OK) }).is_ok()
}

pub(crate) fn is_folder(fd: c_int) -> bool {
    let mut status = MaybeUninit::<libc::stat>::uninit();
    // SAFETY: the kernel fills the whole structure where the call succeeds, and
    // only then is it read.
    unsafe {
        libc::fstat(fd, status.as_mut_ptr()) == 0
            && status.assume_init().st_mode & libc::S_IFMT == libc::S_IFDIR
    }
}

/// Ends the process as a pulled plug would: no handler runs, no buffer is flushed.
pub(crate) fn die() -> ! {
    loop {
        // SAFETY: no memory is handed over.
        unsafe { libc::kill(libc::getpid(), libc::SIGKILL) };
    }
}
