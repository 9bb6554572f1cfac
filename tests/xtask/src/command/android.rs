//! `cargo xtask android`: the phone shell on this machine's JVM.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

use clap::Args;

use crate::command::bindings;
use crate::shell::{self, Failure};

/// What a merged manifest says beside the written one, as the Gradle build adds it.
const MERGED: &str = "<manifest package=\"pitside.phone\" android:versionCode=\"1\" ";
const SDKS: &str =
    "<uses-sdk android:minSdkVersion=\"26\" android:targetSdkVersion=\"34\" />\n    <application";

/// Build the Android shell against the library and run its tests on the JVM.
///
/// The screens run on the real framework of Android 14 (Robolectric), with the
/// library built for this machine. Needs a JDK 17, Maven and aapt2; Maven
/// fetches some 560 MB the first time.
#[derive(Debug, Args)]
pub(crate) struct Android {
    /// The folder to write pictures of the screens into
    #[arg(long)]
    pictures: Option<PathBuf>,
    /// Only the tests of this class
    #[arg(long)]
    only: Option<String>,
}

impl Android {
    /// Everything that `cargo xtask test` runs of it.
    pub(crate) fn all() -> Self {
        Self { pictures: None, only: None }
    }

    /// Builds the library, writes its Kotlin, and hands over to Maven.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        let out = bindings::target().join("android-shell");
        // With the coach's program, which the phone syncs with in a test. Both at once, and so each
        // time: by themselves they would have the shared crates compiled in different ways.
        let both = ["build", "--locked", "--package", "pitside-bindings", "--package", "pitside"];
        shell::run(shell::cargo().args(both))?;
        bindings::write(&bindings::built().join(bindings::library()), "kotlin", &out.join("bindings"))?;
        // The same with a function that panics on purpose.
        shell::run(shell::cargo().args(both).args(["--example", "pitside_bindings"]))?;
        let examples = bindings::built().join("examples");
        bindings::write(&examples.join(bindings::library()), "kotlin", &out.join("panics"))?;
        let shell_folder = shell::root().join("android-shell");
        let manifest = shell_folder.join("src/main/AndroidManifest.xml");
        let written = fs::read_to_string(&manifest).map_err(|e| Failure::file(&manifest, e))?;
        let made = out.join("AndroidManifest.xml");
        fs::write(&made, merged(&written)).map_err(|e| Failure::file(&made, e))?;
        // R.java is compiled from there before aapt2 would make the folder.
        let sources = out.join("gen");
        fs::create_dir_all(&sources).map_err(|e| Failure::file(&sources, e))?;
        let mut maven = Command::new("mvn");
        maven.current_dir(&shell_folder).args(["--batch-mode", "--quiet", "--no-transfer-progress"]);
        maven.arg(format!("-Dout={}", out.display()));
        maven.arg(format!("-Drust.lib={}", bindings::built().display()));
        let desk = bindings::built().join(format!("pitside{}", std::env::consts::EXE_SUFFIX));
        maven.arg(format!("-Ddesk={}", desk.display()));
        if let Some(class) = &self.only {
            maven.arg(format!("-Dtest={class}"));
        }
        if let Some(folder) = &self.pictures {
            let folder = std::path::absolute(folder).map_err(|e| Failure::file(folder, e))?;
            maven.env("PITSIDE_PICTURES", folder);
        }
        shell::run(maven.arg("test"))
    }
}

/// The manifest with the package and the SDKs that the Gradle build takes from its own file.
fn merged(written: &str) -> String {
    written.replacen("<manifest ", MERGED, 1).replacen("<application", SDKS, 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_manifest_gets_its_package_and_sdks() {
        let made = merged("<manifest xmlns:android=\"x\">\n    <application\n></application></manifest>");
        assert!(made.starts_with("<manifest package=\"pitside.phone\""), "{made}");
        assert_eq!(made.matches("<uses-sdk").count(), 1);
        assert_eq!(made.matches("<application").count(), 1);
    }
}
