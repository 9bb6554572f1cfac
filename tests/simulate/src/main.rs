//! Runs seeds one after another: `cargo xtask simulate`.

use std::io::{self, Write as _};
use std::process::ExitCode;
use std::time::{Duration, Instant};

use clap::Parser;

/// Simulate many devices, one plan a seed, and stop at the first that fails.
#[derive(Debug, Parser)]
struct Arguments {
    /// How many seeds.
    #[arg(long, default_value_t = 1)]
    seeds: u64,
    /// The first seed.
    #[arg(long, default_value_t = 0)]
    seed: u64,
    /// How long a failing plan is made small, in seconds.
    #[arg(long, default_value_t = 120)]
    shrink: u64,
    /// Go on after a seed that failed.
    #[arg(long)]
    all: bool,
    /// Tell the steps of seeds that hold too.
    #[arg(long)]
    tell: bool,
}

fn main() -> io::Result<ExitCode> {
    let arguments = Arguments::parse();
    let mut output = io::stdout().lock();
    let begun = Instant::now();
    let mut steps = 0;
    let mut failed = 0;
    for seed in arguments.seed..arguments.seed.saturating_add(arguments.seeds) {
        match simulate::run(seed, Duration::from_secs(arguments.shrink)) {
            Ok(trace) => {
                steps += trace.len() - 1;
                if arguments.tell {
                    writeln!(output, "seed {seed}:\n  {}", trace.join("\n  "))?;
                }
            }
            Err(failure) => {
                writeln!(output, "{failure}")?;
                failed += 1;
                if !arguments.all {
                    return Ok(ExitCode::FAILURE);
                }
            }
        }
    }
    let took = begun.elapsed().as_secs_f64();
    writeln!(output, "{} seeds, {steps} steps, {took:.1} s, {failed} failed", arguments.seeds)?;
    Ok(if failed == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}
