//! `cargo xtask test`: the one test command, the same for a person and for CI.

use std::env;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use clap::Args;

use crate::command::android::Android;
use crate::command::fuzz::{self, Fuzz};
use crate::command::swift::Swift;
use crate::shell::{self, Failure};

/// How long `--full` fuzzes each target.
const FULL_FUZZ_S: u32 = 60;

/// Programs the tests use, with the Debian package each comes in. Chromium's
/// dependencies bring a font along.
const PROGRAMS: [(&str, &str); 4] =
    [("ffmpeg", "ffmpeg"), ("ffprobe", "ffmpeg"), ("chromium", "chromium"), ("ip", "iproute2")];

/// Those of the phone shell.
const SHELL_PROGRAMS: [(&str, &str); 5] = [
    ("javac", "openjdk-17-jdk-headless"),
    ("mvn", "maven"),
    ("aapt2", "aapt"),
    ("zipalign", "zipalign"),
    ("apksigner", "apksigner"),
];

/// Folders that are workspaces of their own: no other step reads their lock files.
const OWN_WORKSPACES: [&str; 2] = ["tests/bench", "tests/fuzz"];

/// Check everything: format, lints, documentation, lock files, tests, the phone shell.
///
/// Maven fetches some 560 MB for the phone shell the first time.
///
/// Stops at the first step that fails. As root on Debian it installs the
/// programs the tests use; else it says which are left out. With CI=true
/// leaving one out is a failure.
#[derive(Debug, Args)]
pub(crate) struct Test {
    /// Also call the core from Swift, and fuzz every target for a minute.
    #[arg(long)]
    full: bool,
}

/// A step that has ended: its name, how long it took, what it ended with.
struct Done {
    name: String,
    took: Duration,
    ended: &'static str,
}

impl Test {
    /// Runs the steps in order, then prints the summary, also after a failure.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        let mut left_out = Vec::new();
        let mut done = Vec::new();
        let result = self.steps(&mut done, &mut left_out);
        summary(&done, &left_out)?;
        result
    }

    fn steps(&self, done: &mut Vec<Done>, left_out: &mut Vec<String>) -> Result<(), Failure> {
        step(done, "programs", || {
            *left_out = provide_programs(&PROGRAMS)?;
            Ok(())
        })?;
        step(done, "format", || shell::run(shell::cargo().args(["fmt", "--all", "--check"])))?;
        step(done, "lints", || {
            shell::run(shell::cargo().args([
                "clippy",
                "--workspace",
                "--all-targets",
                "--locked",
                "--",
                "-D",
                "warnings",
            ]))
        })?;
        step(done, "documentation", || {
            shell::run(
                shell::cargo()
                    .args(["doc", "--workspace", "--no-deps", "--locked"])
                    .env("RUSTDOCFLAGS", "-D warnings"),
            )
        })?;
        step(done, "lock files", || {
            OWN_WORKSPACES.into_iter().try_for_each(|folder| lock_file(&shell::root().join(folder)))
        })?;
        step(done, "tests", || shell::run(shell::cargo().args(["test", "--workspace", "--locked"])))?;
        step(done, "phone shell", || {
            let missing = provide_programs(&SHELL_PROGRAMS)?;
            let whole = missing.is_empty();
            left_out.extend(missing);
            if whole { Android::all().run() } else { Ok(()) }
        })?;
        if self.full {
            step(done, "swift", || Swift {}.run())?;
            for target in fuzz::targets()? {
                let name = format!("fuzz {target}");
                let fuzz = Fuzz { seconds: FULL_FUZZ_S, target: Some(target) };
                step(done, &name, || fuzz.run())?;
            }
        }
        Ok(())
    }
}

/// Runs one step under a heading and notes how it ended.
fn step(done: &mut Vec<Done>, name: &str, work: impl FnOnce() -> Result<(), Failure>) -> Result<(), Failure> {
    shell::say(&format!("\n== {name}"))?;
    let start = Instant::now();
    let result = work();
    let took = start.elapsed();
    let ended = if result.is_ok() { "passed" } else { "FAILED" };
    shell::say(&format!("== {name}: {ended} in {}", seconds(took)))?;
    done.push(Done { name: name.to_owned(), took, ended });
    result.map_err(|source| Failure::Step { step: name.to_owned(), source: Box::new(source) })
}

/// Sees that the lock file of a workspace is in step with what it builds from.
fn lock_file(folder: &Path) -> Result<(), Failure> {
    let manifest = folder.join("Cargo.toml");
    let mut command = shell::cargo();
    command.args(["metadata", "--locked", "--quiet", "--format-version", "1", "--manifest-path"]);
    let output = command
        .arg(&manifest)
        .output()
        .map_err(|source| Failure::Start { program: "cargo".to_owned(), source })?;
    if output.status.success() {
        return Ok(());
    }
    let said = String::from_utf8_lossy(&output.stderr).trim().to_owned();
    Err(Failure::LockFile { manifest, said })
}

/// Sees that the programs are there and returns those that are not.
fn provide_programs(programs: &[(&str, &str)]) -> Result<Vec<String>, Failure> {
    let missing =
        || programs.iter().filter(|(program, _)| shell::program(program).is_none()).collect::<Vec<_>>();
    if missing().is_empty() {
        shell::say("all there")?;
        return Ok(Vec::new());
    }
    if is_root()? && shell::program("apt-get").is_some() {
        let mut packages: Vec<_> = missing().iter().map(|(_, package)| *package).collect();
        packages.dedup();
        shell::run(apt().arg("update"))?;
        shell::run(apt().args(["install", "-y", "--no-install-recommends"]).args(packages))?;
    }
    let left_out: Vec<_> =
        missing().iter().map(|(program, package)| format!("{program} (Debian package {package})")).collect();
    if left_out.is_empty() {
        return Ok(left_out);
    }
    if env::var("CI").is_ok_and(|value| value == "true") {
        return Err(Failure::LeftOut(left_out.join(", ")));
    }
    for program in &left_out {
        shell::say(&format!("left out: what needs {program}"))?;
    }
    Ok(left_out)
}

fn apt() -> Command {
    let mut command = Command::new("apt-get");
    command.arg("-q").env("DEBIAN_FRONTEND", "noninteractive");
    command
}

/// Whether this process may install packages. The standard library does not
/// tell the user, `id` does.
fn is_root() -> Result<bool, Failure> {
    let output = Command::new("id")
        .arg("-u")
        .output()
        .map_err(|source| Failure::Start { program: "id".to_owned(), source })?;
    Ok(output.stdout.trim_ascii() == b"0")
}

fn summary(done: &[Done], left_out: &[String]) -> Result<(), Failure> {
    let width = done.iter().map(|step| step.name.len()).max().unwrap_or(0);
    shell::say("\n== summary")?;
    for step in done {
        shell::say(&format!("{:width$}  {}  {:>8}", step.name, step.ended, seconds(step.took)))?;
    }
    let total = done.iter().map(|step| step.took).sum();
    shell::say(&format!("{:width$}          {:>8}", "total", seconds(total)))?;
    for program in left_out {
        shell::say(&format!("left out: what needs {program}"))?;
    }
    Ok(())
}

fn seconds(duration: Duration) -> String {
    format!("{:.1} s", duration.as_secs_f64())
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    #[test]
    fn a_lock_file_out_of_step_is_named_with_what_mends_it() {
        let folder = tempfile::tempdir().unwrap();
        let manifest =
            |name: &str| format!("[package]\nname = \"{name}\"\nedition = \"2024\"\n[workspace]\n");
        fs::create_dir(folder.path().join("src")).unwrap();
        fs::write(folder.path().join("src/lib.rs"), "").unwrap();
        fs::write(folder.path().join("Cargo.toml"), manifest("one")).unwrap();
        let lock = "version = 4\n\n[[package]]\nname = \"one\"\nversion = \"0.0.0\"\n";
        fs::write(folder.path().join("Cargo.lock"), lock).unwrap();
        lock_file(folder.path()).unwrap();
        fs::write(folder.path().join("Cargo.toml"), manifest("other")).unwrap();
        let told = lock_file(folder.path()).unwrap_err().to_string();
        let shown = folder.path().join("Cargo.toml").display().to_string();
        assert!(told.contains(&format!("`cargo update --workspace --manifest-path {shown}`")), "{told}");
        assert!(told.contains("--locked"), "{told}");
        assert_eq!(fs::read_to_string(folder.path().join("Cargo.lock")).unwrap(), lock, "it only looks");
    }

    #[test]
    fn a_failed_step_is_named_and_noted() {
        let mut done = Vec::new();
        let failure = step(&mut done, "made to fail", || Err(Failure::LeftOut("x".to_owned())))
            .unwrap_err()
            .to_string();
        assert!(failure.starts_with("step `made to fail` failed"), "{failure}");
        assert_eq!(done.len(), 1);
        assert_eq!(done[0].ended, "FAILED");
    }
}
