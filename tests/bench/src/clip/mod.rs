//! The clip reader beside two libraries in process and ffprobe as a process.

mod files;
mod reader;

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

use crate::Failure;
use crate::measure::{Figures, child, median, memory_bytes};
use crate::table::{Table, Unit};

use files::Files;
use reader::Reader;

/// Runs within one process, of which the median counts: one takes less than a
/// millisecond.
const RUNS: usize = 21;

/// Frames of a clip of three minutes at 240 a second.
const THREE_MINUTES: u32 = 43_200;

/// Growth: two million frames are near the most that is read of one track.
const GROWN: [u32; 3] = [20_000, 200_000, 2_000_000];

/// One piece of work in this process: `index` measures, `print` writes the
/// times out as ffprobe does, `peak` gives the memory of ffprobe.
pub fn work(what: &str, whose: &str, path: &Path) -> Result<Figures, Failure> {
    match what {
        "index" => index(whose.parse()?, path),
        "print" => {
            let times = whose.parse::<Reader>()?.times(path)?;
            let mut out = std::io::BufWriter::new(std::io::stdout().lock());
            for time in times {
                writeln!(out, "{time}")?;
            }
            out.flush()?;
            Ok(Figures::default())
        }
        "peak" => {
            probe(path).status()?;
            let usage = nix::sys::resource::getrusage(nix::sys::resource::UsageWho::RUSAGE_CHILDREN)?;
            let mut figures = Figures::default();
            // In KiB on Linux.
            figures.put("memory", usage.max_rss() as f64 * 1024.0);
            Ok(figures)
        }
        _ => Err(format!("no work clip {what}").into()),
    }
}

fn index(reader: Reader, path: &Path) -> Result<Figures, Failure> {
    // What the program itself holds, this and that of the libraries it has.
    let before = memory_bytes()?;
    let mut runs = Vec::new();
    for _ in 0..RUNS {
        let begun = Instant::now();
        let frames = reader.index(path)?;
        let mut run = Figures::default();
        run.put("index", begun.elapsed().as_secs_f64());
        run.put("frames", frames as f64);
        runs.push(run);
    }
    let mut figures = median(&runs);
    let memory = memory_bytes()?;
    figures.put("memory", memory);
    figures.put("memory-more", memory - before);
    Ok(figures)
}

fn probe(path: &Path) -> Command {
    let mut command = Command::new("ffprobe");
    command.args(["-v", "error", "-select_streams", "v:0", "-show_entries", "packet=pts", "-of", "csv=p=0"]);
    command.arg(path).stdout(Stdio::null());
    command
}

/// Seconds from starting a process to its end.
fn lasting(mut command: Command) -> Result<f64, Failure> {
    let begun = Instant::now();
    let status = command.stdout(Stdio::null()).status()?;
    let seconds = begun.elapsed().as_secs_f64();
    if status.success() { Ok(seconds) } else { Err(format!("{command:?}: {status}").into()) }
}

/// The medians over `repeats` processes that index `path`.
fn measured(whose: &str, path: &Path, repeats: u32) -> Result<Figures, Failure> {
    let path = path.to_str().ok_or("a path that is no text")?;
    let runs = (0..repeats).map(|_| child(&["clip", "index", whose, path]));
    Ok(median(&runs.collect::<Result<Vec<_>, _>>()?))
}

/// The medians of whole processes: ours, ffprobe.
fn processes(path: &Path, repeats: u32) -> Result<(f64, f64), Failure> {
    let mut runs = Vec::new();
    for _ in 0..repeats {
        let mut ours = Command::new(std::env::current_exe()?);
        ours.args(["clip", "print", "ours"]).arg(path);
        let mut run = Figures::default();
        run.put("ours", lasting(ours)?);
        run.put("ffprobe", lasting(probe(path))?);
        runs.push(run);
    }
    let run = median(&runs);
    Ok((run.get("ours")?, run.get("ffprobe")?))
}

/// Measures all and adds the lines to the table.
pub fn measure(table: &mut Table, repeats: u32) -> Result<(), Failure> {
    let files = Files::new()?;
    for path in files::shared()? {
        let name = path.file_stem().and_then(|name| name.to_str()).ok_or("a clip without a name")?;
        one(table, name, &path, repeats)?;
    }
    let forms = ["tables last", "tables first", "fragments"];
    for (form, path) in forms.into_iter().zip(files.forms(THREE_MINUTES)?) {
        let name = format!("{THREE_MINUTES} frames, {form}");
        let ours = one(table, &name, &path, repeats)?;
        let text = path.to_str().ok_or("a path that is no text")?;
        let probed = child(&["clip", "peak", "ffprobe", text])?;
        let memory = ours.get("memory")?;
        table.beside("… peak memory of the process", Unit::Bytes, memory, "ffprobe", probed.get("memory")?);
    }
    let mut before: Option<Figures> = None;
    for frames in GROWN {
        let ours = measured("ours", &files.plain(frames)?, repeats)?;
        if let Some(before) = &before {
            let work = format!("{frames} frames, beside ours of 10 times fewer: index");
            table.beside(&work, Unit::Seconds, ours.get("index")?, "ours", before.get("index")?);
            let (own, beside) = (ours.get("memory-more")?, before.get("memory-more")?);
            table.beside("… memory beyond the program's own", Unit::Bytes, own, "ours", beside);
        }
        before = Some(ours);
    }
    Ok(())
}

/// One clip beside all; gives ours.
fn one(table: &mut Table, name: &str, path: &Path, repeats: u32) -> Result<Figures, Failure> {
    let ours = measured("ours", path, repeats)?;
    for peer in ["mp4parse", "mp4-atom"] {
        // mp4parse reads no fragments: it finds fewer frames, and is left out.
        let Ok(theirs) = measured(peer, path, repeats) else { continue };
        if theirs.get("frames")? == ours.get("frames")? {
            let work = format!("index {name}, in process");
            table.beside(&work, Unit::Seconds, ours.get("index")?, peer, theirs.get("index")?);
            if ours.get("frames")? >= f64::from(THREE_MINUTES) {
                let (own, beside) = (ours.get("memory-more")?, theirs.get("memory-more")?);
                table.beside("… memory beyond the program's own", Unit::Bytes, own, peer, beside);
            }
        }
    }
    let (own, probed) = processes(path, repeats)?;
    table.beside(&format!("index {name}, as a process"), Unit::Seconds, own, "ffprobe", probed);
    Ok(ours)
}

pub const NOTES: &str = "
Clips: mp4parse and mp4-atom read tables, which for mp4-atom are expanded here into frame times in
display order; mp4parse also gives each frame's place in the file, and reads through the media,
since it asks for a reader that cannot skip. mp4parse reads no fragments and is left out there.
Ours also decides what the metadata and the sizes of the frames say of the capture rate. ffprobe
opens a decoder and goes through every packet; ours as a process prints the same times. The peak
memory of the process is that of this benchmark, with all libraries it compares.
";
