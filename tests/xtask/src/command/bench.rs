//! `cargo xtask bench`: ours beside automerge, loro and yrs, in one run.

use clap::Args;

use crate::shell::{self, Failure};

/// Run the benchmarks of tests/bench and print their table.
///
/// They are a workspace of their own: neither the product nor the tests build
/// them. The first run compiles the peers, which takes minutes.
#[derive(Debug, Args)]
pub(crate) struct Bench {
    /// How often each piece of work is done; the table has the median.
    #[arg(long, value_name = "N", default_value_t = 3, value_parser = clap::value_parser!(u32).range(1..))]
    repeats: u32,
}

impl Bench {
    /// Builds the benchmarks and runs them.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        let manifest = "tests/bench/Cargo.toml";
        let repeats = self.repeats.to_string();
        shell::run(shell::cargo().args([
            "run",
            "--release",
            "--locked",
            "--manifest-path",
            manifest,
            "--",
            &repeats,
        ]))
    }
}
