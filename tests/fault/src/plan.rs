//! What is to go wrong, and when: read once from the environment.

use std::ffi::{CString, OsString, c_int};
use std::os::unix::ffi::OsStringExt as _;
use std::path::PathBuf;

/// What goes wrong at the n-th call.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Mode {
    /// `kill`: the process dies before the call. To die after it is to die
    /// before the next one.
    Kill,
    /// `torn`: it dies when half of the bytes are written; where the call is no
    /// write, before it.
    Torn,
    /// `eio`, `enospc`: the call does nothing and gives this error, once.
    Fail(c_int),
    /// `full`: no room from this call on. The first write still gets half of its
    /// bytes in. Overwriting needs room too, as where a file system copies.
    Full,
    /// `cut-none`, `cut-some`, `cut-all`: the power goes before the call.
    Cut(Keep),
}

/// How much of what was never synced a power cut leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Keep {
    /// Nothing.
    Nothing,
    /// Some sectors of some writes, in no order, and the names in some folders;
    /// which ones follows from n.
    Some,
    /// Everything: what a kill leaves. It shows that the layer saw every write.
    All,
}

/// What is to go wrong, where and when.
pub(crate) struct Plan {
    pub(crate) folder: PathBuf,
    pub(crate) mode: Mode,
    pub(crate) at: u64,
    pub(crate) report: CString,
}

impl Plan {
    /// The plan of the environment; `None` where there is none, or one that
    /// cannot be read. The tests notice: nothing is ever reported.
    pub(crate) fn from_environment() -> Option<Self> {
        let of = |name: &str| -> Option<OsString> { std::env::var_os(name) };
        let mode = match of("PITSIDE_FAULT_MODE")?.to_str()? {
            "kill" => Mode::Kill,
            "torn" => Mode::Torn,
            "eio" => Mode::Fail(libc::EIO),
            "enospc" => Mode::Fail(libc::ENOSPC),
            "full" => Mode::Full,
            "cut-none" => Mode::Cut(Keep::Nothing),
            "cut-some" => Mode::Cut(Keep::Some),
            "cut-all" => Mode::Cut(Keep::All),
            _ => return None,
        };
        Some(Self {
            folder: of("PITSIDE_FAULT_FOLDER")?.into(),
            mode,
            at: of("PITSIDE_FAULT_AT")?.to_str()?.parse().ok()?,
            report: CString::new(of("PITSIDE_FAULT_REPORT")?.into_vec()).ok()?,
        })
    }
}
