//! `cargo xtask simulate`: many devices, one seed a plan, what must hold checked.

use clap::Args;

use crate::shell::{self, Failure};

/// Run the simulation of tests/simulate, one seed after another.
///
/// The first seed that fails ends it, with the fewest steps found that lead
/// there.
#[derive(Debug, Args)]
pub(crate) struct Simulate {
    /// How many seeds.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u64).range(1..))]
    seeds: u64,
    /// The first seed.
    #[arg(long, value_name = "S", default_value_t = 0)]
    seed: u64,
}

impl Simulate {
    /// Builds the simulation and runs the seeds.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        let (seeds, seed) = (self.seeds.to_string(), self.seed.to_string());
        shell::run(shell::cargo().args([
            "run",
            "--release",
            "--locked",
            "--package",
            "simulate",
            "--",
            "--seeds",
            &seeds,
            "--seed",
            &seed,
        ]))
    }
}
