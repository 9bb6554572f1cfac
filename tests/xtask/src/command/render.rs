//! `cargo xtask render`: draws the rendered clips again.

use clap::Args;

use crate::shell::{self, Failure};

/// Draw the rendered clips of tests/render/clips again, with their known times.
///
/// Needs ffmpeg with libx264. The frame marks beside a clip were read by a
/// person and are left alone: read them again when the picture changes.
#[derive(Debug, Args)]
pub(crate) struct Render {}

impl Render {
    /// Runs the generator, the binary of the `render` crate.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        shell::run(shell::cargo().args(["run", "--locked", "--package", "render"]))
    }
}
