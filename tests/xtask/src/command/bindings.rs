//! `cargo xtask bindings`: writes the sources that call the library phones load.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::shell::{self, Failure};

/// Build the library that phones load, and write the Kotlin or Swift that calls it.
#[derive(Debug, Args)]
pub(crate) struct Bindings {
    /// kotlin or swift
    #[arg(long, default_value = "kotlin")]
    language: String,
    /// The folder to write into
    #[arg(long, default_value = "target/bindings")]
    out: PathBuf,
}

impl Bindings {
    /// Builds the library, then runs the `bindgen` crate on it.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        shell::run(shell::cargo().args(["build", "--locked", "--package", "pitside-bindings"]))?;
        write(&built().join(library()), &self.language, &self.out)
    }
}

/// Writes the sources that call a built library.
pub(super) fn write(library: &Path, language: &str, out: &Path) -> Result<(), Failure> {
    let mut bindgen = shell::cargo();
    bindgen.args(["run", "--quiet", "--locked", "--package", "bindgen", "--", "--library"]);
    bindgen.arg(library).args(["--language", language, "--out"]).arg(out);
    shell::run(&mut bindgen)
}

/// The file name of the library that phones load, on this machine.
pub(super) fn library() -> String {
    format!("{}pitside_bindings{}", std::env::consts::DLL_PREFIX, std::env::consts::DLL_SUFFIX)
}

/// Where cargo builds.
pub(super) fn target() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| shell::root().join("target"), PathBuf::from)
}

/// Where it puts what is built for development.
pub(super) fn built() -> PathBuf {
    target().join("debug")
}
