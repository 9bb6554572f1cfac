//! Running other programs, and what can go wrong with them.

use std::env;
use std::ffi::OsString;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, ExitStatus};

/// Why a command of development did not succeed.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    /// A program was not found or could not be started.
    #[error("{program} could not be started: {source}")]
    Start { program: String, source: io::Error },
    /// A program ran and failed.
    #[error("`{command}` failed: {status}")]
    Status { command: String, status: ExitStatus },
    /// A file or folder could not be read or made.
    #[error("{path}: {source}")]
    File { path: PathBuf, source: io::Error },
    /// Standard output is gone.
    #[error("standard output: {0}")]
    Output(io::Error),
    /// A fuzz target that does not exist was asked for.
    #[error("no fuzz target `{name}`; there are: {known}")]
    UnknownTarget { name: String, known: String },
    /// Something the tests need is missing where nothing may be left out.
    #[error("missing, and CI=true leaves nothing out: {0}")]
    LeftOut(String),
    /// The lock file of a workspace of its own is missing or says something else than
    /// what it builds from.
    #[error(
        "the Cargo.lock beside {} is not in step: `cargo update --workspace --manifest-path {}` mends it; \
         commit it then. Cargo said: {said}",
        manifest.display(), manifest.display()
    )]
    LockFile { manifest: PathBuf, said: String },
    /// A step of `cargo xtask test` failed.
    #[error("step `{step}` failed: {source}")]
    Step { step: String, source: Box<Failure> },
}

impl Failure {
    pub(crate) fn file(path: &Path, source: io::Error) -> Self {
        Self::File { path: path.to_owned(), source }
    }
}

/// The root of the workspace.
pub(crate) fn root() -> &'static Path {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here)
}

/// The cargo that runs this program, started at the root of the workspace.
///
/// By then its own build is done and its lock released, so the cargo started
/// here does not wait for it.
pub(crate) fn cargo() -> Command {
    let mut command = Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root());
    command
}

/// Runs a command, its output going where ours goes, and waits for it.
pub(crate) fn run(command: &mut Command) -> Result<(), Failure> {
    let status = command.status().map_err(|source| Failure::Start {
        program: command.get_program().to_string_lossy().into_owned(),
        source,
    })?;
    if status.success() {
        return Ok(());
    }
    Err(Failure::Status { command: line(command), status })
}

/// Writes one line to standard output.
pub(crate) fn say(text: &str) -> Result<(), Failure> {
    let mut output = io::stdout().lock();
    writeln!(output, "{text}").and_then(|()| output.flush()).map_err(Failure::Output)
}

/// Where a program lies on the PATH.
pub(crate) fn program(name: &str) -> Option<PathBuf> {
    let path: OsString = env::var_os("PATH")?;
    env::split_paths(&path).map(|folder| folder.join(name)).find(|file| file.is_file())
}

/// The command as one would type it, for a person to read.
fn line(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let mut words = vec![program.file_name().unwrap_or(program.as_os_str()).to_string_lossy().into_owned()];
    words.extend(command.get_args().map(|word| word.to_string_lossy().into_owned()));
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_root_holds_the_workspace() {
        assert!(root().join("Cargo.lock").is_file());
        assert!(root().join(".cargo/config.toml").is_file());
    }

    #[test]
    fn a_failed_program_is_named_with_its_arguments() {
        let failure = run(Command::new("/bin/sh").args(["-c", "exit 3"])).unwrap_err();
        assert_eq!(failure.to_string(), "`sh -c exit 3` failed: exit status: 3");
    }

    #[test]
    fn a_missing_program_is_named() {
        let failure = run(&mut Command::new("/nowhere/at-all")).unwrap_err();
        assert!(failure.to_string().starts_with("/nowhere/at-all could not"));
    }
}
