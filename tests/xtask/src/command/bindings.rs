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
    /// The Kotlin of the phone shell.
    pub(crate) fn kotlin(out: &Path) -> Self {
        Self { language: "kotlin".to_owned(), out: out.to_owned() }
    }

    /// Builds the library, then runs the `bindgen` crate on it.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        shell::run(shell::cargo().args(["build", "--locked", "--package", "pitside-bindings"]))?;
        let name =
            format!("{}pitside_bindings{}", std::env::consts::DLL_PREFIX, std::env::consts::DLL_SUFFIX);
        let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| "target".into(), PathBuf::from);
        let library = target.join("debug").join(name);
        let mut bindgen = shell::cargo();
        bindgen.args(["run", "--quiet", "--locked", "--package", "bindgen", "--", "--library"]);
        bindgen.arg(library).args(["--language", &self.language, "--out"]).arg(&self.out);
        shell::run(&mut bindgen)
    }
}
