//! polars and DuckDB, as their Python wheels, in a virtual environment beside this program.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::Failure;
use crate::measure::Figures;

/// The wheels that are installed.
const WHEELS: [&str; 2] = ["polars==2.1.0", "duckdb==2.0.1"];
/// What adds the rows up.
const SCRIPT: &str = include_str!("aggregate.py");

/// The peers, where Python has them.
pub struct Peers {
    folder: PathBuf,
}

impl Peers {
    /// Installs the wheels where they are missing; builds none.
    pub fn prepare() -> Result<Self, Failure> {
        let near = std::env::current_exe()?;
        let folder = near.parent().ok_or("no folder")?.join("squad-peers");
        let peers = Self { folder };
        let done = peers.folder.join(WHEELS.join("+"));
        if !done.exists() {
            fs::create_dir_all(&peers.folder)?;
            peers.call(Command::new("python3").args(["-m", "venv", "venv"]))?;
            let pip = ["-m", "pip", "install", "--quiet", "--no-input", "--only-binary", ":all:"];
            peers.call(Command::new(peers.python()).args(pip).args(WHEELS))?;
            fs::write(&done, "")?;
        }
        fs::write(peers.folder.join("aggregate.py"), SCRIPT)?;
        Ok(peers)
    }

    /// Where they and the rows lie.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Their names.
    pub fn names(&self) -> [&'static str; 2] {
        ["polars", "duckdb"]
    }

    /// Measures one of them in a process of its own.
    pub fn run(&self, peer: &str, rows: &Path, runs: u32) -> Result<Figures, Failure> {
        let mut command = Command::new(self.python());
        command.args(["aggregate.py", peer]).arg(rows).arg(runs.to_string());
        Figures::from_text(&self.call(&mut command)?)
    }

    fn python(&self) -> PathBuf {
        self.folder.join("venv/bin/python")
    }

    /// Runs a command in the folder; gives what it says.
    fn call(&self, command: &mut Command) -> Result<String, Failure> {
        let output = command.current_dir(&self.folder).stderr(Stdio::inherit()).output()?;
        if !output.status.success() {
            return Err(format!("{command:?}: {}", output.status).into());
        }
        Ok(String::from_utf8(output.stdout)?)
    }
}
