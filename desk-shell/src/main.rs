//! `pitside`: the coach's laptop.
//!
//! One file a command under [`command`], each with its `Args` and a `run` that
//! writes to a handed-in stream and ends in a [`failure::Failure`] or not at
//! all. Results go to standard output, errors to standard error with a hint.

mod command;
mod demo;
mod device;
mod failure;
mod lookup;
mod page;
mod progress;

use std::io::Write;
use std::process::ExitCode;

use clap::Parser;

use command::Command;
use failure::EXIT_CODES;

/// Times contacts, keeps the training book, and brings the squad together.
#[derive(Parser)]
#[command(name = "pitside", version, after_help = EXIT_CODES)]
struct Pitside {
    #[command(subcommand)]
    command: Command,
}

fn main() -> ExitCode {
    let Pitside { command } = Pitside::parse();
    let mut out = anstream::stdout().lock();
    let done = command.run(&mut out).and_then(|()| out.flush().map_err(Into::into));
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.report(&mut anstream::stderr().lock()),
    }
}
