//! A layer between a process and its files, for tests: preloaded, it stands in
//! for the C library's calls that change files, counts those below one folder,
//! and lets the n-th of them go wrong.
//!
//! | variable | says |
//! |---|---|
//! | `PITSIDE_FAULT_FOLDER` | the folder; without it every call passes through |
//! | `PITSIDE_FAULT_MODE` | what goes wrong: `kill`, `torn`, `eio`, `enospc`, `full`, `cut-none`, `cut-some` or `cut-all`, see `plan.rs` |
//! | `PITSIDE_FAULT_AT` | n: which call, from 1 |
//! | `PITSIDE_FAULT_REPORT` | a file outside the folder in which the layer says what it struck |
//!
//! Counted are making, writing, shortening, renaming, linking and removing a
//! file, making a folder, and syncing either: whatever a disk could have missed.
//! Reading is not. Whoever removes the report has dealt with the fault: nothing
//! goes wrong from then on.
//!
//! **Not part of it.** The `-shm` file of SQLite: it is mapped memory that
//! processes share, and made anew after a crash. Writing through other mapped
//! memory, `dup`, `fallocate`, and paths that are not absolute: neither SQLite
//! nor the book use them, and the run in which a cut keeps everything fails if
//! a write ever goes past the layer.
//!
//! Linux only: it counts on preloading, and on the calling conventions of
//! x86-64 and AArch64, in which a variadic `open` finds its mode where a plain
//! one does.

#![cfg(target_os = "linux")]
#![allow(unsafe_code, reason = "it takes the place of C functions and calls the kernel in their stead")]
#![allow(clippy::missing_safety_doc, reason = "each function asks of its caller what the C function asks")]

mod disk;
mod layer;
mod plan;
mod system;

use std::ffi::{CStr, c_char, c_int, c_void};

use libc::{AT_FDCWD, iovec, mode_t, off_t, size_t, ssize_t};

/// What a call answers: its result, or the number of an error.
type Answer<T> = Result<T, c_int>;

/// Says it the C way.
fn say<T: From<i8>>(answer: Answer<T>) -> T {
    answer.unwrap_or_else(|number| {
        system::set_errno(number);
        T::from(-1)
    })
}

/// A path that a caller handed in.
///
/// # Safety
/// `path` is null or a C string that lives through `'a`.
unsafe fn named<'a>(path: *const c_char) -> Answer<&'a CStr> {
    if path.is_null() {
        return Err(libc::EFAULT);
    }
    // SAFETY: not null, and the caller promises the rest.
    Ok(unsafe { CStr::from_ptr(path) })
}

/// Bytes that a caller handed in.
///
/// # Safety
/// `bytes` is null or points to `length` bytes that nobody writes during `'a`.
unsafe fn given<'a>(bytes: *const c_void, length: size_t) -> Answer<&'a [u8]> {
    if length == 0 {
        return Ok(&[]);
    }
    if bytes.is_null() {
        return Err(libc::EFAULT);
    }
    // SAFETY: not null, and the caller promises the rest.
    Ok(unsafe { std::slice::from_raw_parts(bytes.cast(), length) })
}

/// The first buffer that has something in it: to write less than all is allowed.
///
/// # Safety
/// As writev(2) asks.
unsafe fn first<'a>(buffers: *const iovec, count: c_int) -> Answer<&'a [u8]> {
    for at in 0..usize::try_from(count).map_err(|_| libc::EINVAL)? {
        // SAFETY: the caller promises `count` buffers.
        let buffer = unsafe { &*buffers.add(at) };
        if buffer.iov_len > 0 {
            // SAFETY: the caller promises that each buffer is as long as it says.
            return unsafe { given(buffer.iov_base, buffer.iov_len) };
        }
    }
    Ok(&[])
}

/// open(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn open(path: *const c_char, flags: c_int, mode: mode_t) -> c_int {
    // SAFETY: the caller promises a C string.
    say(unsafe { named(path) }.and_then(|path| layer::open(AT_FDCWD, path, flags, mode)))
}

/// open(2) under its name for large files.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn open64(path: *const c_char, flags: c_int, mode: mode_t) -> c_int {
    // SAFETY: the caller promises a C string.
    say(unsafe { named(path) }.and_then(|path| layer::open(AT_FDCWD, path, flags, mode)))
}

/// openat(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn openat(folder: c_int, path: *const c_char, flags: c_int, mode: mode_t) -> c_int {
    // SAFETY: the caller promises a C string.
    say(unsafe { named(path) }.and_then(|path| layer::open(folder, path, flags, mode)))
}

/// openat(2) under its name for large files.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn openat64(folder: c_int, path: *const c_char, flags: c_int, mode: mode_t) -> c_int {
    // SAFETY: the caller promises a C string.
    say(unsafe { named(path) }.and_then(|path| layer::open(folder, path, flags, mode)))
}

/// close(2).
#[unsafe(no_mangle)]
pub extern "C" fn close(fd: c_int) -> c_int {
    say(layer::close(fd))
}

/// write(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn write(fd: c_int, bytes: *const c_void, length: size_t) -> ssize_t {
    // SAFETY: the caller promises `length` bytes.
    say(unsafe { given(bytes, length) }.and_then(|bytes| layer::write(fd, bytes, None)))
}

/// pwrite(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn pwrite(fd: c_int, bytes: *const c_void, length: size_t, at: off_t) -> ssize_t {
    // SAFETY: the caller promises `length` bytes.
    say(unsafe { given(bytes, length) }.and_then(|bytes| layer::write(fd, bytes, Some(at))))
}

/// pwrite(2) under its name for large files.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn pwrite64(fd: c_int, bytes: *const c_void, length: size_t, at: off_t) -> ssize_t {
    // SAFETY: the caller promises `length` bytes.
    say(unsafe { given(bytes, length) }.and_then(|bytes| layer::write(fd, bytes, Some(at))))
}

/// writev(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn writev(fd: c_int, buffers: *const iovec, count: c_int) -> ssize_t {
    // SAFETY: the caller promises `count` buffers.
    say(unsafe { first(buffers, count) }.and_then(|bytes| layer::write(fd, bytes, None)))
}

/// pwritev(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn pwritev(fd: c_int, buffers: *const iovec, count: c_int, at: off_t) -> ssize_t {
    // SAFETY: the caller promises `count` buffers.
    say(unsafe { first(buffers, count) }.and_then(|bytes| layer::write(fd, bytes, Some(at))))
}

/// pwritev(2) under its name for large files.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn pwritev64(fd: c_int, buffers: *const iovec, count: c_int, at: off_t) -> ssize_t {
    // SAFETY: the caller promises `count` buffers.
    say(unsafe { first(buffers, count) }.and_then(|bytes| layer::write(fd, bytes, Some(at))))
}

/// ftruncate(2).
#[unsafe(no_mangle)]
pub extern "C" fn ftruncate(fd: c_int, length: off_t) -> c_int {
    say(layer::set_length(fd, length))
}

/// ftruncate(2) under its name for large files.
#[unsafe(no_mangle)]
pub extern "C" fn ftruncate64(fd: c_int, length: off_t) -> c_int {
    say(layer::set_length(fd, length))
}

/// fsync(2).
#[unsafe(no_mangle)]
pub extern "C" fn fsync(fd: c_int) -> c_int {
    say(layer::sync(fd))
}

/// fdatasync(2): the length of a file is data, so nothing sets it apart here.
#[unsafe(no_mangle)]
pub extern "C" fn fdatasync(fd: c_int) -> c_int {
    say(layer::sync(fd))
}

/// mkdir(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn mkdir(path: *const c_char, mode: mode_t) -> c_int {
    // SAFETY: the caller promises a C string.
    say(unsafe { named(path) }.and_then(|path| layer::make_folder(path, mode)))
}

/// unlink(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn unlink(path: *const c_char) -> c_int {
    // SAFETY: the caller promises a C string.
    say(unsafe { named(path) }.and_then(layer::remove))
}

/// rename(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn rename(from: *const c_char, to: *const c_char) -> c_int {
    // SAFETY: the caller promises two C strings.
    say(unsafe { named(from).and_then(|from| Ok((from, named(to)?))) }
        .and_then(|(from, to)| layer::rename(from, to)))
}

/// link(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn link(from: *const c_char, to: *const c_char) -> c_int {
    // SAFETY: the caller promises two C strings.
    say(unsafe { named(from).and_then(|from| Ok((from, named(to)?))) }
        .and_then(|(from, to)| layer::link(AT_FDCWD, from, AT_FDCWD, to, 0)))
}

/// linkat(2).
#[unsafe(no_mangle)]
pub unsafe extern "C" fn linkat(
    from_folder: c_int,
    from: *const c_char,
    to_folder: c_int,
    to: *const c_char,
    flags: c_int,
) -> c_int {
    // SAFETY: the caller promises two C strings.
    say(unsafe { named(from).and_then(|from| Ok((from, named(to)?))) }
        .and_then(|(from, to)| layer::link(from_folder, from, to_folder, to, flags)))
}
