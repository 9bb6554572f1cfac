//! Writes the Kotlin or Swift that calls the library phones load, from the
//! built library itself. A program of its own, so that the everyday commands
//! do not wait for the generator to be compiled.

use std::process::ExitCode;

use camino::Utf8PathBuf;
use clap::{Parser, ValueEnum};
use uniffi_bindgen::bindings::{GenerateOptions, TargetLanguage, generate};

/// Writes the sources that call the library phones load.
#[derive(Parser)]
struct Arguments {
    /// The built library
    #[arg(long)]
    library: Utf8PathBuf,
    /// The language to write
    #[arg(long)]
    language: Language,
    /// The folder to write into
    #[arg(long)]
    out: Utf8PathBuf,
}

#[derive(Clone, Copy, ValueEnum)]
enum Language {
    Kotlin,
    Swift,
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let options = GenerateOptions {
        languages: vec![match arguments.language {
            Language::Kotlin => TargetLanguage::Kotlin,
            Language::Swift => TargetLanguage::Swift,
        }],
        source: arguments.library,
        out_dir: arguments.out,
        config_override: None,
        format: false,
        crate_filter: None,
        metadata_no_deps: false,
    };
    match generate(options) {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            // Where standard error is closed there is nobody left to tell.
            let _ = std::io::Write::write_fmt(&mut std::io::stderr(), format_args!("bindgen: {e:#}\n"));
            ExitCode::FAILURE
        }
    }
}
