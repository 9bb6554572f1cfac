//! `pitside demo`: the whole job on an invented squad.

use std::io::Write;
use std::path::PathBuf;
use std::sync::Arc;

use super::serve::{Ports, serve};
use crate::demo;
use crate::failure::{Exit, Failure};

/// The arguments of `pitside demo`.
#[derive(clap::Args)]
pub(crate) struct Args {
    /// Print only, serve no page
    #[arg(long)]
    no_serve: bool,
    /// Keep the demo's books in this empty folder [default: a folder that is removed at the end]
    #[arg(long, value_name = "FOLDER")]
    folder: Option<PathBuf>,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let temporary = tempfile::tempdir()
        .map_err(|e| Failure::new(Exit::Unexpected, format!("no folder for the demo could be made: {e}")))?;
    let folder = match &args.folder {
        None => temporary.path().to_owned(),
        Some(folder) => {
            let taken = std::fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_some());
            if taken {
                return Err(Failure::new(Exit::Book, format!("{}: not an empty folder", folder.display()))
                    .hint("a demo never mixes with a person's own book: name a new folder"));
            }
            folder.clone()
        }
    };
    let book = demo::run(&folder, out)?;
    if args.no_serve {
        return Ok(());
    }
    writeln!(out)?;
    let clips = demo::clips(&folder)?;
    writeln!(out, "Time the drawn clip yourself: the page offers it under \"Time a clip\".")?;
    serve(Arc::new(book), Arc::new(demo::DemoClock), Ports::free(clips), out)
}
