//! `cargo xtask fuzz`: every parser against bytes nobody meant.

use std::fs;
use std::io;
use std::path::Path;

use clap::Args;

use crate::shell::{self, Failure};

/// Longest time one input may take. The parsers answer in microseconds; an
/// input that needs seconds is a hang.
const INPUT_LIMIT_S: u32 = 10;

/// Memory the fuzzed process may hold, the sanitizer's own included.
const MEMORY_LIMIT_MB: u32 = 1024;

/// Run the fuzz targets of tests/fuzz, each for the same time.
///
/// Inputs found stay in tests/fuzz/corpus, inputs that fail in
/// tests/fuzz/artifacts. Installs cargo-fuzz where it is missing.
#[derive(Debug, Args)]
pub(crate) struct Fuzz {
    /// How long each target runs, in seconds.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub(crate) seconds: u32,
    /// Run this target alone.
    pub(crate) target: Option<String>,
}

/// Real files that lie elsewhere and are read as seeds too.
const FOUND_ELSEWHERE: [(&str, &str); 1] = [("book", "core/book/tests/books")];

impl Fuzz {
    /// Runs the targets one after another and stops at the first that fails.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        let known = targets()?;
        let chosen = match &self.target {
            Some(name) if !known.contains(name) => {
                return Err(Failure::UnknownTarget { name: name.clone(), known: known.join(", ") });
            }
            Some(name) => vec![name.clone()],
            None => known,
        };
        if chosen.is_empty() {
            return shell::say("no fuzz targets in tests/fuzz/fuzz_targets");
        }
        install()?;
        for target in &chosen {
            run_target(target, self.seconds)?;
        }
        Ok(())
    }
}

/// Names of the targets: the files of tests/fuzz/fuzz_targets, sorted. A
/// workspace without that folder has none.
pub(crate) fn targets() -> Result<Vec<String>, Failure> {
    let folder = shell::root().join("tests/fuzz/fuzz_targets");
    let entries = match fs::read_dir(&folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(Failure::file(&folder, error)),
    };
    let mut names = Vec::new();
    for entry in entries {
        let path = entry.map_err(|error| Failure::file(&folder, error))?.path();
        names.extend(target_name(&path));
    }
    names.sort();
    Ok(names)
}

/// The target a file of the folder stands for: `clip` for `clip.rs`.
fn target_name(path: &Path) -> Option<String> {
    let is_rust = path.extension().is_some_and(|extension| extension == "rs");
    let stem = path.file_stem()?.to_str()?;
    is_rust.then(|| stem.to_owned())
}

/// Makes `cargo fuzz` available.
fn install() -> Result<(), Failure> {
    if shell::program("cargo-fuzz").is_some() {
        return Ok(());
    }
    shell::run(shell::cargo().args(["install", "cargo-fuzz", "--locked"]))
}

fn run_target(target: &str, seconds: u32) -> Result<(), Failure> {
    let fuzz = shell::root().join("tests/fuzz");
    let corpus = fuzz.join("corpus").join(target);
    fs::create_dir_all(&corpus).map_err(|error| Failure::file(&corpus, error))?;
    let seeds = fuzz.join("seeds").join(target);

    let mut command = shell::cargo();
    command
        .args(["fuzz", "run", "--fuzz-dir"])
        .arg(&fuzz)
        .arg(target)
        // libFuzzer writes what it finds into the first folder and only reads
        // the others.
        .arg(&corpus);
    let elsewhere = FOUND_ELSEWHERE.iter().filter(|(of, _)| *of == target);
    let elsewhere = elsewhere.map(|(_, folder)| shell::root().join(folder));
    command.args(std::iter::once(seeds).chain(elsewhere).filter(|folder| folder.is_dir()));
    command
        .arg("--")
        .arg(format!("-max_total_time={seconds}"))
        .arg(format!("-timeout={INPUT_LIMIT_S}"))
        .arg(format!("-rss_limit_mb={MEMORY_LIMIT_MB}"))
        // Sanitizers stand behind unstable flags; this lets the pinned
        // toolchain take them, so that no second one is needed.
        .env("RUSTC_BOOTSTRAP", "1");
    shell::run(&mut command)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_target_is_a_rust_file() {
        assert_eq!(target_name(Path::new("a/clip.rs")).as_deref(), Some("clip"));
        assert_eq!(target_name(Path::new("a/README.md")), None);
        assert_eq!(target_name(Path::new("a/clip")), None);
    }
}
