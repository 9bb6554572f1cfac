//! The log and the book, measured beside three libraries of replicated data, the clip
//! reader beside three other readers, the squad board beside two engines, and the library
//! that phones load beside itself. `cargo xtask bench` builds and runs it; see the README
//! beside it.

mod clip;
mod measure;
mod ours;
mod peer;
mod phone;
mod squad;
mod table;
mod workload;

use std::fs;
use std::io::Write;
use std::path::Path;

use measure::{Figures, child, machine, median};
use peer::{Automerge, Loro, Yrs};
use table::{Table, Unit};

/// Why a measurement came to nothing.
pub type Failure = Box<dyn core::error::Error + Send + Sync>;

/// The facts of the workload.
const FACTS: u64 = 100_000;
/// What growth is measured with.
const MORE: u64 = 1_000_000;
/// Runs of which the median counts.
const REPEATS: u32 = 5;
const PEERS: [&str; 3] = ["automerge", "loro", "yrs"];

fn main() -> Result<(), Failure> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match arguments.as_slice() {
        // A child: one piece of work.
        [whose, work, folder, space, facts] => {
            let figures = measured(whose, work, Path::new(folder), Path::new(space), facts.parse()?)?;
            write!(std::io::stdout(), "{}", figures.to_text())?;
            Ok(())
        }
        ["clip", what, whose, path] => {
            let figures = clip::work(what, whose, Path::new(path))?;
            write!(std::io::stdout(), "{}", figures.to_text())?;
            Ok(())
        }
        ["squad", what, athletes, path] => {
            let figures = squad::work(what, athletes, Path::new(path))?;
            write!(std::io::stdout(), "{}", figures.to_text())?;
            Ok(())
        }
        ["phone", what, path] => {
            let figures = phone::work(what, Path::new(path))?;
            write!(std::io::stdout(), "{}", figures.to_text())?;
            Ok(())
        }
        // What `cargo xtask bench` built.
        ["phone", repeats, classes, library] => phone::alone(repeats.parse()?, classes, Path::new(library)),
        ["squad"] => squad::alone(REPEATS),
        ["squad", repeats] => squad::alone(repeats.parse()?),
        ["clip"] => clips(REPEATS),
        ["clip", repeats] => clips(repeats.parse()?),
        [] => bench(REPEATS, MORE),
        [repeats] => bench(repeats.parse()?, MORE),
        [repeats, more] => bench(repeats.parse()?, more.parse()?),
        _ => Err("bench [REPEATS [FACTS OF THE GROWN BOOK]] | bench clip|squad [REPEATS]".into()),
    }
}

/// Does one piece of work in this process.
fn measured(whose: &str, work: &str, folder: &Path, space: &Path, facts: u64) -> Result<Figures, Failure> {
    macro_rules! peers {
        ($($name:literal $peer:ty),*) => {
            match (whose, work) {
                ("ours", "prepare") => ours::prepare(folder, facts).map(|()| Figures::default()),
                ("ours", "merge") => ours::merge(folder, space),
                ("ours", "durable") => ours::durable(folder, space),
                ("ours", "open") => ours::open(folder, space),
                ("ours", "sync") => ours::sync(folder, space),
                $(
                    ($name, "prepare") => peer::prepare::<$peer>(folder, facts).map(|()| Figures::default()),
                    ($name, "merge") => peer::merge::<$peer>(folder, space),
                    ($name, "open") => peer::open::<$peer>(folder),
                )*
                _ => Err(format!("no work {whose} {work}").into()),
            }
        };
    }
    peers!("automerge" Automerge, "loro" Loro, "yrs" Yrs)
}

/// Where things lie while it runs: a real disk, not the system's folder for
/// temporary files, which may be memory.
struct Ground(tempfile::TempDir);

impl Ground {
    fn new() -> Result<Self, Failure> {
        let near = std::env::current_exe()?;
        let near = near.parent().ok_or("no folder")?;
        Ok(Self(tempfile::TempDir::with_prefix_in("bench-", near)?))
    }

    /// Runs one piece of work `times` times; gives the medians.
    fn run(&self, whose: &str, work: &str, facts: u64, times: u32) -> Result<Figures, Failure> {
        let folder = self.0.path().join(format!("{whose}-{facts}"));
        fs::create_dir_all(&folder)?;
        let space = self.0.path().join("space");
        let mut runs = Vec::new();
        for _ in 0..times {
            let path = |path: &Path| path.to_str().map(str::to_owned).ok_or("a path that is no text");
            runs.push(child(&[whose, work, &path(&folder)?, &path(&space)?, &facts.to_string()])?);
            if space.exists() {
                fs::remove_dir_all(&space)?;
            }
        }
        Ok(median(&runs))
    }

    fn prepare(&self, whose: &str, facts: u64) -> Result<Figures, Failure> {
        self.run(whose, "prepare", facts, 1)?;
        Figures::read(&self.0.path().join(format!("{whose}-{facts}")).join("figures"))
    }
}

fn bench(repeats: u32, more: u64) -> Result<(), Failure> {
    let mut out = std::io::stdout();
    writeln!(out, "{}; {repeats} runs, the median of each", machine())?;
    let ground = Ground::new()?;
    let mut table = Table::default();
    let sent = ground.prepare("ours", FACTS)?;
    let merge = ground.run("ours", "merge", FACTS, repeats)?;
    let durable = ground.run("ours", "durable", FACTS, repeats)?;
    let open = ground.run("ours", "open", FACTS, repeats)?;
    let sync = ground.run("ours", "sync", FACTS, repeats)?;
    let mut theirs = Vec::new();
    for name in PEERS {
        let sent = ground.prepare(name, FACTS)?;
        let merge = ground.run(name, "merge", FACTS, repeats)?;
        theirs.push((name, sent, merge, ground.run(name, "open", FACTS, repeats)?));
    }
    let works: [(&str, Unit, f64, &str); 13] = [
        ("merge alone, in memory", Unit::Seconds, merge.get("merge")?, "merge"),
        ("… processor time", Unit::Seconds, merge.get("merge-processor")?, "merge-processor"),
        ("unpack, check, merge, in memory", Unit::Seconds, merge.get("checked")?, "merge"),
        ("… processor time", Unit::Seconds, merge.get("checked-processor")?, "merge-processor"),
        ("merge until readable and durable", Unit::Seconds, durable.get("durable")?, "durable"),
        ("… processor time", Unit::Seconds, durable.get("durable-processor")?, "durable-processor"),
        ("sent by 30 devices, whole conversations", Unit::Bytes, sent.get("sent")?, "sent"),
        ("sent by 30 devices, the batches alone", Unit::Bytes, sent.get("sent-batches")?, "sent"),
        ("for a further 1 %, whole conversations", Unit::Bytes, sent.get("further")?, "further"),
        ("for a further 1 %, the batches alone", Unit::Bytes, sent.get("further-batches")?, "further"),
        ("stored", Unit::Bytes, durable.get("stored")?, "stored"),
        ("peak memory while merging", Unit::Bytes, durable.get("memory")?, "memory"),
        ("open and read one record", Unit::Seconds, open.get("read")?, "read"),
    ];
    for (work, unit, own, figure) in works {
        for (name, sent, merge, open) in &theirs {
            let beside = sent.get(figure).or_else(|_| merge.get(figure)).or_else(|_| open.get(figure))?;
            table.beside(work, unit, own, name, beside);
        }
    }
    table.alone("open alone", Unit::Seconds, open.get("open")?);
    table.alone("sync of all over loopback, TCP and TLS", Unit::Seconds, sync.get("sync")?);

    let grown_sent = ground.prepare("ours", more)?;
    let grown = ground.run("ours", "durable", more, 1)?;
    let grown_open = ground.run("ours", "open", more, repeats)?;
    let times = format!("{more} facts, beside ours of");
    let before = format!("{FACTS}:");
    let grown = [
        ("readable and durable", Unit::Seconds, grown.get("durable")?, durable.get("durable")?),
        (
            "… processor time",
            Unit::Seconds,
            grown.get("durable-processor")?,
            durable.get("durable-processor")?,
        ),
        ("sent", Unit::Bytes, grown_sent.get("sent")?, sent.get("sent")?),
        ("stored", Unit::Bytes, grown.get("stored")?, durable.get("stored")?),
        ("peak memory", Unit::Bytes, grown.get("memory")?, durable.get("memory")?),
        ("open and read one record", Unit::Seconds, grown_open.get("read")?, open.get("read")?),
    ];
    for (work, unit, more, less) in grown {
        table.beside(&format!("{times} {before} {work}"), unit, more, "ours", less);
    }
    clip::measure(&mut table, repeats)?;
    squad::measure(&mut table, repeats)?;
    write!(out, "{}{NOTES}{}{}", table.to_text(), clip::NOTES, squad::NOTES)?;
    Ok(())
}

/// The clip reader alone.
fn clips(repeats: u32) -> Result<(), Failure> {
    let mut out = std::io::stdout();
    writeln!(out, "{}; {repeats} runs, the median of each", machine())?;
    let mut table = Table::default();
    clip::measure(&mut table, repeats)?;
    write!(out, "{}{}", table.to_text(), clip::NOTES)?;
    Ok(())
}

const NOTES: &str = "
Where they do more or better: they merge text and lists inside a record, run without a schema, and
keep a history one can go back in; here a record is one value and a clash is shown, not resolved.
Ours signs, salts and hashes every entry and asks whose it may be; they take anybody's word.
Merge alone: our entries are unpacked and checked before; a peer's merge is its import, unpacking
included. Sent: a whole conversation has hello, heads and receipt too; a peer's is its update alone.
Of ours 16 bytes an entry are its salt. Stored: ours lies ready in tables with indexes, theirs is
one file that is read whole. Durable: theirs is written and synced once at the end, ours in steps.
";
