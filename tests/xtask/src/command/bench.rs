//! `cargo xtask bench`: the log, the book and the clip reader beside others.

use clap::Args;

use crate::shell::{self, Failure};

/// Measure merge, sync and store beside three libraries of replicated data, and
/// the clip reader beside three others; print one table: work, ours, peer, ratio.
///
/// Builds tests/bench, which nothing else builds, with all optimisations.
#[derive(Debug, Args)]
pub(crate) struct Bench {
    /// How often each work is run; the median counts.
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u32).range(1..))]
    pub(crate) repeats: u32,
    /// Facts of the grown book.
    #[arg(long, value_name = "N", default_value_t = 1_000_000,
          value_parser = clap::value_parser!(u64).range(100_000..))]
    pub(crate) grown: u64,
}

impl Bench {
    /// Builds and runs the benchmark.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        let manifest = shell::root().join("tests/bench/Cargo.toml");
        let mut command = shell::cargo();
        command.args(["run", "--release", "--quiet", "--locked", "--manifest-path"]).arg(manifest);
        command.args(["--", &self.repeats.to_string(), &self.grown.to_string()]);
        shell::run(&mut command)
    }
}
