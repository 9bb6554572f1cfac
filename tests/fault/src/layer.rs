//! The calls as the layer answers them: counted, judged by the plan, done, and
//! told to the model of the disk.

use std::ffi::{CStr, OsStr, c_int};
use std::os::unix::ffi::OsStrExt as _;
use std::path::Path;
use std::sync::{LazyLock, Mutex, MutexGuard, PoisonError};

use libc::{AT_FDCWD, mode_t, off_t};

use crate::Answer;
use crate::disk::{Disk, Handle};
use crate::plan::{Mode, Plan};
use crate::system;

/// One process has one layer; without a plan it has none.
static LAYER: LazyLock<Option<Mutex<Layer>>> = LazyLock::new(|| {
    Plan::from_environment()
        .map(|plan| Mutex::new(Layer { plan, calls: 0, reported: false, over: false, disk: Disk::default() }))
});

struct Layer {
    plan: Plan,
    calls: u64,
    reported: bool,
    /// The fault has been dealt with.
    over: bool,
    disk: Disk,
}

/// What a call does.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Deed {
    Make,
    Write,
    Shorten,
    Sync,
    Rename,
    Link,
    Remove,
}

impl Deed {
    const fn name(self) -> &'static str {
        match self {
            Self::Make => "make",
            Self::Write => "write",
            Self::Shorten => "shorten",
            Self::Sync => "sync",
            Self::Rename => "rename",
            Self::Link => "link",
            Self::Remove => "remove",
        }
    }

    const fn needs_room(self) -> bool {
        matches!(self, Self::Make | Self::Write | Self::Link)
    }
}

/// How a call that does not fail goes on.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Extent {
    Whole,
    /// Half of the bytes.
    Half,
    /// Half of the bytes, then the end of the process.
    Torn,
}

fn layer() -> Option<MutexGuard<'static, Layer>> {
    LAYER.as_ref().map(|layer| layer.lock().unwrap_or_else(PoisonError::into_inner))
}

fn path(name: &CStr) -> &Path {
    Path::new(OsStr::from_bytes(name.to_bytes()))
}

impl Layer {
    fn watches(&self, name: &CStr) -> bool {
        let path = path(name);
        path.starts_with(&self.plan.folder) && !path.as_os_str().as_bytes().ends_with(b"-shm")
    }

    /// Counts a call, and lets it go wrong if it is its turn.
    fn judge(&mut self, deed: Deed, path: &Path) -> Answer<Extent> {
        self.calls += 1;
        let now = self.calls == self.plan.at;
        match self.plan.mode {
            _ if self.over => {}
            Mode::Kill if now => {
                self.report(deed, path);
                system::die();
            }
            Mode::Torn if now => {
                self.report(deed, path);
                if deed == Deed::Write {
                    return Ok(Extent::Torn);
                }
                system::die();
            }
            Mode::Cut(keep) if now => {
                self.report(deed, path);
                self.disk.cut(&self.plan.folder, keep, self.plan.at);
                system::die();
            }
            Mode::Fail(number) if now => {
                self.report(deed, path);
                return Err(number);
            }
            Mode::Full if self.calls >= self.plan.at && deed.needs_room() => {
                let first = !self.reported;
                if first {
                    self.report(deed, path);
                }
                if first && deed == Deed::Write {
                    return Ok(Extent::Half);
                }
                return Err(libc::ENOSPC);
            }
            _ => {}
        }
        Ok(Extent::Whole)
    }

    fn report(&mut self, deed: Deed, path: &Path) {
        self.reported = true;
        let below = path.strip_prefix(&self.plan.folder).unwrap_or(path);
        let line = format!("{} {} {}\n", self.calls, deed.name(), below.display());
        let flags = libc::O_CREAT | libc::O_TRUNC | libc::O_WRONLY;
        // Without a report the test takes the run for one that nothing struck,
        // and finds that it was cut short all the same.
        if let Ok(fd) = system::open(AT_FDCWD, &self.plan.report, flags, 0o600) {
            let _noticed_later = system::write(fd, line.as_bytes());
            let _noticed_later = system::close(fd);
        }
    }
}

pub(crate) fn open(folder: c_int, name: &CStr, flags: c_int, mode: mode_t) -> Answer<c_int> {
    let Some(mut layer) = layer().filter(|layer| layer.watches(name)) else {
        return system::open(folder, name, flags, mode);
    };
    let path = path(name);
    let makes = flags & libc::O_CREAT != 0 && !system::exists(name);
    let empties = flags & libc::O_TRUNC != 0 && layer.disk.has_file(path);
    if makes {
        layer.judge(Deed::Make, path)?;
    } else if empties {
        layer.judge(Deed::Shorten, path)?;
    }
    let fd = system::open(folder, name, flags, mode)?;
    if makes {
        layer.disk.make_file(path, mode);
    }
    layer.disk.opened(fd, path);
    if empties && let Some(Handle::File(file, _)) = layer.disk.handle(fd).cloned() {
        layer.disk.set_length(file, 0);
    }
    Ok(fd)
}

pub(crate) fn close(fd: c_int) -> Answer<c_int> {
    if let Some(mut layer) = layer() {
        // Before the system gives the number to another thread.
        layer.disk.closed(fd);
    }
    system::close(fd)
}

pub(crate) fn write(fd: c_int, bytes: &[u8], at: Option<off_t>) -> Answer<isize> {
    let pass = |bytes: &[u8]| match at {
        Some(at) => system::write_at(fd, bytes, at),
        None => system::write(fd, bytes),
    };
    let Some(mut layer) = layer() else { return pass(bytes) };
    let Some(Handle::File(file, path)) = layer.disk.handle(fd).cloned() else {
        // Not held while a pipe or a terminal lets the process wait.
        drop(layer);
        return pass(bytes);
    };
    let extent = layer.judge(Deed::Write, &path)?;
    let bytes = if extent == Extent::Whole { bytes } else { &bytes[..bytes.len() / 2] };
    let done = pass(bytes)?;
    let end = match at {
        Some(at) => isize::try_from(at).map_err(|_| libc::EOVERFLOW)? + done,
        None => system::offset(fd)?,
    };
    layer.disk.wrote(file, (end - done).unsigned_abs(), &bytes[..done.unsigned_abs()]);
    if extent == Extent::Torn {
        system::die();
    }
    Ok(done)
}

pub(crate) fn set_length(fd: c_int, length: off_t) -> Answer<c_int> {
    let Some(mut layer) = layer() else { return system::set_length(fd, length) };
    let Some(Handle::File(file, path)) = layer.disk.handle(fd).cloned() else {
        return system::set_length(fd, length);
    };
    layer.judge(Deed::Shorten, &path)?;
    let done = system::set_length(fd, length)?;
    layer.disk.set_length(file, usize::try_from(length).map_err(|_| libc::EINVAL)?);
    Ok(done)
}

/// Nothing here outlives the machine, so the real sync, which would take most of
/// a run's time, is left out for what the layer watches: a kill leaves what the
/// system's memory has, a cut what the model has.
pub(crate) fn sync(fd: c_int) -> Answer<c_int> {
    let Some(mut layer) = layer() else { return system::sync(fd) };
    let Some(handle) = layer.disk.handle(fd).cloned() else { return system::sync(fd) };
    layer.judge(Deed::Sync, handle.path())?;
    layer.disk.synced(&handle);
    Ok(0)
}

pub(crate) fn make_folder(name: &CStr, mode: mode_t) -> Answer<c_int> {
    let Some(mut layer) = layer().filter(|layer| layer.watches(name) && !system::exists(name)) else {
        return system::make_folder(name, mode);
    };
    layer.judge(Deed::Make, path(name))?;
    let done = system::make_folder(name, mode)?;
    layer.disk.make_folder(path(name));
    Ok(done)
}

pub(crate) fn remove(name: &CStr) -> Answer<c_int> {
    let Some(mut layer) = layer() else { return system::remove(name, 0) };
    if name == layer.plan.report.as_c_str() {
        layer.over = true;
    }
    if !layer.watches(name) || !system::exists(name) {
        return system::remove(name, 0);
    }
    layer.judge(Deed::Remove, path(name))?;
    let done = system::remove(name, 0)?;
    layer.disk.removed(path(name));
    Ok(done)
}

pub(crate) fn rename(from: &CStr, to: &CStr) -> Answer<c_int> {
    let Some(mut layer) = layer().filter(|layer| layer.watches(from) && layer.watches(to)) else {
        return system::rename(from, to);
    };
    layer.judge(Deed::Rename, path(to))?;
    let done = system::rename(from, to)?;
    layer.disk.renamed(path(from), path(to));
    Ok(done)
}

pub(crate) fn link(
    from_folder: c_int,
    from: &CStr,
    to_folder: c_int,
    to: &CStr,
    flags: c_int,
) -> Answer<c_int> {
    let Some(mut layer) = layer().filter(|layer| layer.watches(from) && layer.watches(to)) else {
        return system::link(from_folder, from, to_folder, to, flags);
    };
    layer.judge(Deed::Link, path(to))?;
    let done = system::link(from_folder, from, to_folder, to, flags)?;
    layer.disk.linked(path(from), path(to));
    Ok(done)
}
