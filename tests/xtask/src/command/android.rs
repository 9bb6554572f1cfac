//! `cargo xtask android`: the phone shell on this machine's JVM.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::{fs, io};

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
    /// Accept what is drawn now as what the screens look like: look at the pictures first
    #[arg(long)]
    accept: bool,
    /// Only the tests of this class
    #[arg(long)]
    only: Option<String>,
}

impl Android {
    /// Everything that `cargo xtask test` runs of it.
    pub(crate) fn all() -> Self {
        Self { pictures: None, accept: false, only: None }
    }

    /// Builds the library, writes its Kotlin, and hands over to Maven.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        let out = prepare()?;
        let mut maven = maven(&out);
        if let Some(class) = &self.only {
            maven.arg(format!("-Dtest={class}"));
        }
        if self.accept {
            maven.env("PITSIDE_ACCEPT", "1");
        }
        if let Some(folder) = &self.pictures {
            let folder = std::path::absolute(folder).map_err(|e| Failure::file(folder, e))?;
            maven.env("PITSIDE_PICTURES", folder);
        }
        let whole = self.only.is_none();
        shell::run(maven.arg(if whole { "prepare-package" } else { "test" }))?;
        if whole { assemble(&out) } else { Ok(()) }
    }

    /// Compiles the shell and its tests; gives the file that says their class path.
    pub(crate) fn classes() -> Result<PathBuf, Failure> {
        let out = prepare()?;
        let libraries = out.join("class-path");
        let mut maven = maven(&out);
        maven
            .args(["test-compile", "org.apache.maven.plugins:maven-dependency-plugin:3.8.1:build-classpath"]);
        shell::run(maven.arg(format!("-Dmdep.outputFile={}", libraries.display())))?;
        let others = fs::read_to_string(&libraries).map_err(|e| Failure::file(&libraries, e))?;
        let own =
            ["test-classes", "classes"].map(|folder| out.join("maven").join(folder).display().to_string());
        let all = format!("{}:{}:{}", own[0], own[1], others.trim());
        fs::write(&libraries, all).map_err(|e| Failure::file(&libraries, e))?;
        Ok(libraries)
    }
}

/// Builds the library and makes what Maven compiles; gives the folder of it.
fn prepare() -> Result<PathBuf, Failure> {
    let out = bindings::target().join("android-shell");
    // In one go, so that cargo compiles the core once: the library, the same with a function
    // that panics on purpose, and the coach's program, which writes the books of the invented
    // squad that screens are tried with.
    let built = ["--package", "pitside-bindings", "--package", "pitside"];
    let targets = ["--lib", "--bins", "--example", "pitside_bindings"];
    shell::run(shell::cargo().args(["build", "--locked"]).args(built).args(targets))?;
    bindings::write(&bindings::built().join(bindings::library()), "kotlin", &out.join("bindings"))?;
    let examples = bindings::built().join("examples");
    bindings::write(&examples.join(bindings::library()), "kotlin", &out.join("panics"))?;
    let manifest = folder().join("src/main/AndroidManifest.xml");
    let written = fs::read_to_string(&manifest).map_err(|e| Failure::file(&manifest, e))?;
    let made = out.join("AndroidManifest.xml");
    fs::write(&made, merged(&written)).map_err(|e| Failure::file(&made, e))?;
    // R.java is compiled from there before aapt2 would make the folder.
    let sources = out.join("gen");
    fs::create_dir_all(&sources).map_err(|e| Failure::file(&sources, e))?;
    // A class whose source is gone would be tried still.
    remove(&out.join("maven"))?;
    remove(&out.join("libraries"))?;
    Ok(out)
}

fn folder() -> PathBuf {
    shell::root().join("android-shell")
}

fn maven(out: &Path) -> Command {
    let mut maven = Command::new("mvn");
    maven.current_dir(folder()).args(["--batch-mode", "--quiet", "--no-transfer-progress"]);
    maven.arg(format!("-Dout={}", out.display()));
    maven.arg(format!("-Drust.lib={}", bindings::built().display()));
    maven
}

/// Removes a folder, if it is there.
fn remove(folder: &Path) -> Result<(), Failure> {
    match fs::remove_dir_all(folder) {
        Err(e) if e.kind() != io::ErrorKind::NotFound => Err(Failure::file(folder, e)),
        _ => Ok(()),
    }
}

/// Puts what a phone runs and its resources into one package and signs it with a key made
/// for that. The library is not in it, so no phone runs it: it tells that the code becomes
/// what a phone reads, and no more.
fn assemble(out: &Path) -> Result<(), Failure> {
    let (unaligned, package) = (out.join("unaligned.apk"), out.join("without-library.apk"));
    let key = out.join("key.p12");
    let resources = out.join("resources.ap_");
    fs::copy(&resources, &unaligned).map_err(|e| Failure::file(&resources, e))?;
    // keytool adds to a file that is there.
    match fs::remove_file(&key) {
        Err(e) if e.kind() != io::ErrorKind::NotFound => return Err(Failure::file(&key, e)),
        _ => {}
    }
    // Anybody may know it: the key signs this check alone.
    let password = "pass:of-this-check";
    let word = &password["pass:".len()..];
    let mut jar = Command::new("jar");
    shell::run(jar.arg("ufM").arg(&unaligned).arg("-C").arg(out).arg("classes.dex"))?;
    shell::run(Command::new("zipalign").args(["-f", "4"]).args([&unaligned, &package]))?;
    let mut keytool = Command::new("keytool");
    keytool.args(["-genkeypair", "-alias", "check", "-keyalg", "EC", "-dname", "CN=check", "-validity", "1"]);
    shell::run(keytool.args(["-storetype", "PKCS12", "-storepass", word, "-keystore"]).arg(&key))?;
    let signer = || Command::new("apksigner");
    let mut sign = signer();
    sign.args(["sign", "--min-sdk-version", "26", "--ks-pass", password, "--ks"]).arg(&key).arg(&package);
    shell::run(&mut sign)?;
    shell::run(signer().args(["verify", "--min-sdk-version", "26"]).arg(&package))
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
