//! The commands of development, run as `cargo xtask COMMAND` from anywhere in
//! the workspace. One file a command, in `command/`; each has its arguments as
//! a struct and a `run`.

mod command;
mod shell;

use std::io::Write as _;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::command::{android, bench, bindings, fuzz, render, simulate, swift, test};
use crate::shell::Failure;

/// The commands of development.
#[derive(Debug, Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask")]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Test(test::Test),
    Fuzz(fuzz::Fuzz),
    Simulate(simulate::Simulate),
    Bench(bench::Bench),
    Render(render::Render),
    Bindings(bindings::Bindings),
    Android(android::Android),
    Swift(swift::Swift),
}

fn main() -> ExitCode {
    let result = match Arguments::parse().command {
        Command::Test(test) => test.run(),
        Command::Fuzz(fuzz) => fuzz.run(),
        Command::Simulate(simulate) => simulate.run(),
        Command::Bench(bench) => bench.run(),
        Command::Render(render) => render.run(),
        Command::Bindings(bindings) => bindings.run(),
        Command::Android(android) => android.run(),
        Command::Swift(swift) => swift.run(),
    };
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            report(&failure);
            ExitCode::FAILURE
        }
    }
}

/// Writes the failure as the last thing on standard error. Nothing is left to
/// do where even that cannot be written.
fn report(failure: &Failure) {
    let _ = writeln!(std::io::stderr(), "xtask: {failure}");
}
