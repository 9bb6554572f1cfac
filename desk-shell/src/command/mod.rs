//! The commands, one file each: `Args` is what the command line says, `run`
//! does it.

mod book;
mod clip;
mod contact;
mod demo;
mod device;
mod file;
mod import;
mod jump;
mod limit;
mod load;
mod log;
mod member;
mod pair;
mod plan;
mod plate;
mod recover;
mod rule;
mod serve;
mod squad;
mod sync;
mod target;
mod test;

use std::fs::File;
use std::io::Write;
use std::path::Path;

use clap::Subcommand;
use pitside_model::clip::{Clip, ClipError, Rate};

use crate::failure::Failure;

/// What `pitside` can be asked to do.
#[derive(Subcommand)]
pub(crate) enum Command {
    /// Show the frame times of a clip and whether its clock can be trusted
    Clip(clip::Args),
    /// Time one contact on a clip, with its uncertainty
    Contact(contact::Args),
    /// Read contacts and flights from a force plate's record
    Plate(plate::Args),
    /// Sums, averages, monotony and ratios of daily loads from a spreadsheet
    Load(load::Args),
    /// Open the coach's book: the page, and the listener that phones sync with
    Serve(serve::Args),
    /// Invite a device to the squad, or answer an invitation
    Pair(pair::Args),
    /// Bring this book and a paired device's together
    Sync(sync::Args),
    /// A sync in a file, for a device that is out of reach
    File(file::Args),
    /// Show devices and members, and what is held and does not count
    Squad(squad::Args),
    /// Remove a device, take that back, give it more
    Device(device::Args),
    /// Members who leave, are one person, want their data or have them erased
    Member(member::Args),
    /// Backup, putting it back, a look over the book, rescue
    Book(book::Args),
    /// Carry the squad on with its recovery key, when the coach's device is lost
    Recover(recover::Args),
    /// Write down sets, rest days and ratings; needs no connection
    Log(log::Args),
    /// The sessions that are planned: plan one for a day, list them, withdraw one
    Plan(plan::Args),
    /// Take in a training log from a spreadsheet, after a look at what would be taken
    Import(import::Args),
    /// Write jumps down, and show bests, the board and the shift of the start mark
    Jump(jump::Args),
    /// Results of tests and growth: write them down, list them
    Test(test::Args),
    /// What a member may not do until when: write it down, list it, lift it
    Limit(limit::Args),
    /// The lines by which training is looked at: list them, draw others, go back
    Rule(rule::Args),
    /// How short contacts should be: set, list and remove targets
    Target(target::Args),
    /// The whole job on an invented squad
    Demo(demo::Args),
}

impl Command {
    pub(crate) fn run(self, out: &mut dyn Write) -> Result<(), Failure> {
        match self {
            Self::Clip(args) => clip::run(&args, out),
            Self::Contact(args) => contact::run(&args, out),
            Self::Plate(args) => plate::run(&args, out),
            Self::Load(args) => load::run(&args, out),
            Self::Serve(args) => serve::run(args, out),
            Self::Pair(args) => pair::run(&args, out),
            Self::Sync(args) => sync::run(&args, out),
            Self::File(args) => file::run(&args, out),
            Self::Squad(args) => squad::run(&args, out),
            Self::Device(args) => device::run(&args, out),
            Self::Member(args) => member::run(&args, out),
            Self::Book(args) => book::run(&args, out),
            Self::Recover(args) => recover::run(&args, out),
            Self::Log(args) => log::run(&args, out),
            Self::Plan(args) => plan::run(&args, out),
            Self::Import(args) => import::run(&args, out),
            Self::Jump(args) => jump::run(&args, out),
            Self::Test(args) => test::run(&args, out),
            Self::Limit(args) => limit::run(&args, out),
            Self::Rule(args) => rule::run(&args, out),
            Self::Target(args) => target::run(&args, out),
            Self::Demo(args) => demo::run(&args, out),
        }
    }
}

/// What keeps a file from being read as a clip.
enum Unreadable {
    /// The file itself: missing, not a file, not permitted, a failing disk.
    File(String),
    /// What is in it.
    Content(ClipError),
}

/// Opens and reads a clip.
fn read_clip(path: &Path, track: Option<u32>) -> Result<Clip, Unreadable> {
    let shown = path.display();
    let cannot = |what: &dyn std::fmt::Display| Unreadable::File(format!("{shown} cannot be opened: {what}"));
    // Asked before opening: opening a pipe would wait for its other end.
    let metadata = path.metadata().map_err(|error| cannot(&error))?;
    if !metadata.is_file() {
        return Err(cannot(&"it is not a file"));
    }
    let file = File::open(path).map_err(|error| cannot(&error))?;
    Clip::read_track(file, track).map_err(|error| match error {
        ClipError::Io { .. } => Unreadable::File(format!("{shown}: {error}")),
        other => Unreadable::Content(other),
    })
}

/// What a person can do about a clip that is not read.
fn clip_hint(error: &ClipError) -> &'static str {
    match error {
        ClipError::Empty | ClipError::CutOff { .. } | ClipError::Stray { .. } | ClipError::Missing { .. } => {
            "the copy may have been cut off: bring the file over from the phone once more"
        }
        ClipError::NoSuchTrack { .. } | ClipError::NotAVideo { .. } => {
            "`pitside clip FILE` lists the tracks; leave --track out for the one a player shows"
        }
        ClipError::NotAClip | ClipError::NoVideo | ClipError::NoFrames { .. } => {
            "give the MP4 or MOV file that the phone recorded"
        }
        _ => "the file is damaged or of an unusual form: bring the phone's own file over once more",
    }
}

/// What a person can do about a file that cannot be opened.
const FILE_HINT: &str = "check the name of the file, and that you may read it";

/// A capture rate from the command line: hertz above 0 and up to 1 000 000.
fn parse_rate(text: &str) -> Result<Rate, String> {
    text.parse::<f64>()
        .ok()
        .and_then(Rate::from_hz)
        .ok_or_else(|| "expected frames a second, such as 240 or 239.97".to_owned())
}

/// What a capture rate on the command line is, for both commands.
const RATE_HELP: &str = "Frames a second that the camera captured, where the clip does not say it";
