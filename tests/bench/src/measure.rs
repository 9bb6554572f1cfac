//! Measuring: every figure in a process of its own, so that none of them finds
//! memory or caches that another left.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::Failure;

/// Named figures: seconds, bytes, counts.
#[derive(Clone, Debug, Default)]
pub struct Figures(BTreeMap<String, f64>);

impl Figures {
    /// Keeps a figure.
    pub fn put(&mut self, name: &str, value: f64) {
        self.0.insert(name.to_owned(), value);
    }
    /// A figure that must be there.
    pub fn get(&self, name: &str) -> Result<f64, Failure> {
        self.0.get(name).copied().ok_or_else(|| format!("no figure {name}").into())
    }
    /// One a line: name and value.
    pub fn to_text(&self) -> String {
        self.0.iter().map(|(name, value)| format!("{name} {value}\n")).collect()
    }
    /// From [`Figures::to_text`].
    pub fn from_text(text: &str) -> Result<Self, Failure> {
        let mut figures = Self::default();
        for line in text.lines() {
            let (name, value) = line.split_once(' ').ok_or("name and value expected")?;
            figures.put(name, value.parse()?);
        }
        Ok(figures)
    }
    /// Into a file.
    pub fn write(&self, path: &Path) -> Result<(), Failure> {
        Ok(fs::write(path, self.to_text())?)
    }
    /// From a file.
    pub fn read(path: &Path) -> Result<Self, Failure> {
        Self::from_text(&fs::read_to_string(path)?)
    }
}

/// Runs this program again for one piece of work and gives what it measured.
pub fn child(arguments: &[&str]) -> Result<Figures, Failure> {
    let output = Command::new(std::env::current_exe()?).args(arguments).stderr(Stdio::inherit()).output()?;
    if !output.status.success() {
        return Err(format!("{}: {}", arguments.join(" "), output.status).into());
    }
    Figures::from_text(&String::from_utf8(output.stdout)?)
}

/// The median of each figure over several runs; of an even count the lower of
/// the two in the middle.
pub fn median(runs: &[Figures]) -> Figures {
    let mut all: BTreeMap<&String, Vec<f64>> = BTreeMap::new();
    for (name, value) in runs.iter().flat_map(|run| &run.0) {
        all.entry(name).or_default().push(*value);
    }
    let mut figures = Figures::default();
    for (name, mut values) in all {
        values.sort_by(f64::total_cmp);
        figures.put(name, values[(values.len() - 1) / 2]);
    }
    figures
}

/// The most memory this process has held: `VmHWM` of Linux.
pub fn memory_bytes() -> Result<f64, Failure> {
    let status = fs::read_to_string("/proc/self/status")?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).ok_or("no VmHWM")?;
    let kib: f64 = line.trim().trim_end_matches("kB").trim().parse()?;
    Ok(kib * 1024.0)
}

/// Wall clock and processor time of some work, several pieces of it together.
#[derive(Debug, Default)]
pub struct Watch {
    wall: Duration,
    processor: Duration,
}

impl Watch {
    /// Does a piece of the work, on this thread.
    pub fn run<T>(&mut self, work: impl FnOnce() -> Result<T, Failure>) -> Result<T, Failure> {
        let (wall, processor) = (Instant::now(), on_processor()?);
        let done = work()?;
        self.wall += wall.elapsed();
        self.processor += on_processor()?.saturating_sub(processor);
        Ok(done)
    }
    /// Keeps both: under the name, and under the name with `-processor`.
    pub fn put(&self, figures: &mut Figures, name: &str) {
        figures.put(name, self.wall.as_secs_f64());
        figures.put(&format!("{name}-processor"), self.processor.as_secs_f64());
    }
    /// Both watches as one.
    pub fn and(&self, other: &Self) -> Self {
        Self { wall: self.wall + other.wall, processor: self.processor + other.processor }
    }
}

/// How long this thread has run: where the machine is busy it says more than
/// the clock on the wall.
fn on_processor() -> Result<Duration, Failure> {
    let text = fs::read_to_string("/proc/thread-self/schedstat")?;
    Ok(Duration::from_nanos(text.split(' ').next().ok_or("no schedstat")?.parse()?))
}

/// Bytes of the files in a folder.
pub fn size_of(folder: &Path) -> Result<u64, Failure> {
    let mut bytes = 0;
    for entry in fs::read_dir(folder)? {
        bytes += entry?.metadata()?.len();
    }
    Ok(bytes)
}

/// Copies the files of a folder into a new one.
pub fn copy(from: &Path, to: &Path) -> Result<(), Failure> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        fs::copy(entry.path(), to.join(entry.file_name()))?;
    }
    Ok(())
}

/// The machine: processor, cores, system.
pub fn machine() -> String {
    let info = fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let cpu = info.lines().find_map(|line| line.strip_prefix("model name")?.trim().strip_prefix(':'));
    let cores = std::thread::available_parallelism().map_or(0, usize::from);
    let load = fs::read_to_string("/proc/loadavg").unwrap_or_default();
    let load = load.split(' ').next().unwrap_or_default();
    format!("{}, {cores} cores, load before {load}", cpu.map_or("unknown processor", str::trim))
}
