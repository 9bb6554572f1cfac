//! `cargo xtask bench`: the log, the book and the clip reader beside others, and the library
//! that phones load.

use clap::Args;

use std::fs;

use crate::command::android::Android;
use crate::command::bindings;
use crate::shell::{self, Failure};

/// Measure merge, sync and store beside three libraries of replicated data, and
/// the clip reader beside three others, the squad board beside two engines; print one
/// table: work, ours, peer, ratio. Then the phone's library and what it takes to call it.
///
/// Builds tests/bench, which nothing else builds, with all optimisations, and the
/// library as phones get it. The phone's part needs what `cargo xtask android` needs.
#[derive(Debug, Args)]
pub(crate) struct Bench {
    /// How often each work is run; the median counts.
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u32).range(1..))]
    pub(crate) repeats: u32,
    /// Facts of the grown book.
    #[arg(long, value_name = "N", default_value_t = 1_000_000,
          value_parser = clap::value_parser!(u64).range(100_000..))]
    pub(crate) grown: u64,
    /// Only the phone's part
    #[arg(long)]
    pub(crate) phone: bool,
}

impl Bench {
    /// Runs what is asked for.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        if !self.phone {
            measure(&[&self.repeats.to_string(), &self.grown.to_string()])?;
        }
        self.phone()
    }

    /// The library as phones get it, called from Kotlin.
    fn phone(&self) -> Result<(), Failure> {
        let build = ["build", "--locked", "--profile", "dist", "--package", "pitside-bindings"];
        shell::run(shell::cargo().args(build))?;
        let library = bindings::target().join("dist").join(bindings::library());
        let listed = Android::classes()?;
        let classes = fs::read_to_string(&listed).map_err(|e| Failure::file(&listed, e))?;
        measure(&["phone", &self.repeats.to_string(), classes.trim(), &library.display().to_string()])
    }
}

/// Builds and runs the benchmark.
fn measure(arguments: &[&str]) -> Result<(), Failure> {
    let manifest = shell::root().join("tests/bench/Cargo.toml");
    let mut command = shell::cargo();
    command.args(["run", "--release", "--quiet", "--locked", "--manifest-path"]).arg(manifest);
    shell::run(command.arg("--").args(arguments))
}
