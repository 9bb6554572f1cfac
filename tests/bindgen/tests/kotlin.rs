//! The library builds, and Kotlin for it can be written. That it compiles and
//! runs is the phone shell's to show.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use std::path::{Path, PathBuf};
use std::process::Command;

fn library() -> PathBuf {
    let built = Command::new(env!("CARGO"))
        .args(["build", "--locked", "--package", "pitside-bindings"])
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("../.."))
        .status()
        .unwrap();
    assert!(built.success());
    // The program under test stands in the profile's folder, as the library does.
    let folder = Path::new(env!("CARGO_BIN_EXE_bindgen")).parent().unwrap().to_owned();
    let name = format!("{}pitside_bindings{}", std::env::consts::DLL_PREFIX, std::env::consts::DLL_SUFFIX);
    folder.join(name)
}

#[test]
fn kotlin_has_the_object_the_records_and_the_errors() {
    let out = tempfile::TempDir::new().unwrap();
    let status = Command::new(env!("CARGO_BIN_EXE_bindgen"))
        .arg("--library")
        .arg(library())
        .args(["--language", "kotlin", "--out"])
        .arg(out.path())
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("../.."))
        .status()
        .unwrap();
    assert!(status.success());
    let package = out.path().join("uniffi/pitside_screen/pitside_screen.kt");
    let kotlin = std::fs::read_to_string(&package).unwrap();
    for part in [
        "open class Pitside:",
        "data class Squad",
        "data class Athlete",
        "data class Session",
        "data class Today",
        "data class LogSet",
        "data class Lane",
        "data class CheckIn",
        "open class Job:",
        "open class OpenClip:",
        "data class Labels",
        "sealed class ScreenException",
        "sealed class JobException",
        "fun `squad`(",
        "fun `logSet`(",
        "fun `saveSets`(",
        "fun `settle`(",
        "fun `sync`(",
        "fun `logToday`(",
    ] {
        assert!(kotlin.contains(part), "{part}");
    }
    // Every generated object has a `close` of its own, and within a class
    // `Companion` means its companion object: neither name can be given again.
    assert!(!kotlin.contains("fun `close`(") && kotlin.contains("fun `letGo`("));
    assert!(!kotlin.contains("class Companion"));
}
