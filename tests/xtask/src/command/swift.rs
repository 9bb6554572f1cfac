//! `cargo xtask swift`: the core through Swift, on Linux.
//!
//! Debian 12 has no Swift; Debian 13 has. So its packages are put into a folder of their
//! own, and what needs Swift runs in there, in namespaces that end with it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use clap::Args;

use crate::command::bindings;
use crate::shell::{self, Failure};

/// The release that has Swift.
const SUITE: &str = "trixie";
/// What is installed of it.
const PACKAGES: [&str; 6] = ["swiftlang", "libc6-dev", "libstdc++-14-dev", "g++", "git", "ca-certificates"];
/// Its Swift runtime.
const RUNTIME: &str = "/usr/libexec/swift/lib/swift/linux";

/// Runs a command inside a folder, with folders of this machine laid into it (`here:there` a
/// line), in namespaces: all mounts and processes end with it.
const INSIDE: &str = r#"
root=$1; binds=$2; shift 2
mount -t proc proc "$root/proc"
mount --rbind /dev "$root/dev"
while IFS=: read -r here there; do
    [ -n "$here" ] || continue
    mkdir -p "$root$there"
    mount --bind "$here" "$root$there"
done <<<"$binds"
chroot "$root" /usr/bin/env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LANG=C.UTF-8 TZ=UTC \
    DEBIAN_FRONTEND=noninteractive LD_LIBRARY_PATH="$SWIFT_LIBRARIES" "$@"
"#;

/// Makes the folder: Debian's packages by the sources and options of this machine's apt.
const MAKE: &str = r#"
part=$1; suite=$2
rm -rf --one-file-system "$part"
apt-get update -qq
command -v debootstrap >/dev/null || apt-get install -y -qq --no-install-recommends debootstrap
mirror=$(apt-get indextargets --format '$(REPO_URI)' 'Origin: Debian' 'Label: Debian' | sort -u | head -n1)
debootstrap --variant=minbase "$suite" "$part" "$mirror"
. /etc/os-release
rm -f "$part/etc/apt/sources.list"
for list in /etc/apt/sources.list /etc/apt/sources.list.d/debian.sources; do
    [ -s "$list" ] && sed "s/\b$VERSION_CODENAME\b/$suite/g" "$list" >"$part$list"
done
apt-config dump | grep -E '^Acquire::(http|https|Retries|Check-|Max-|ForceIPv)' >"$part/etc/apt/apt.conf.d/00here" || true
cp -L /etc/resolv.conf /etc/hosts "$part/etc/"
[ ! -s /etc/ssl/certs/ca-certificates.crt ] ||
    install -D -m 644 /etc/ssl/certs/ca-certificates.crt "$part/etc/ssl/certs/ca-certificates.crt"
"#;

/// Build the library, write the Swift that calls it, and run the tests of ios-shell.
///
/// Needs root on a Debian machine: Swift comes from Debian 13, whose packages
/// (570 MB to fetch, 2.7 GB) are put into a folder of their own the first time.
#[derive(Debug, Args)]
pub(crate) struct Swift {}

impl Swift {
    /// Builds, writes, hands over to Swift.
    pub(crate) fn run(&self) -> Result<(), Failure> {
        let out = bindings::target().join("ios-shell");
        let package = out.join("package");
        let library = out.join("library");
        for folder in [&package, &library] {
            fs::create_dir_all(folder).map_err(|e| Failure::file(folder, e))?;
        }
        shell::run(shell::cargo().args(["build", "--locked", "--package", "pitside-bindings"]))?;
        let built = bindings::built().join(bindings::library());
        copy(&built, &library.join(bindings::library()))?;
        let own = shell::root().join("ios-shell");
        shell::run(Command::new("cp").arg("-R").arg(own.join(".")).arg(&package))?;
        let made = out.join("made");
        bindings::write(&built, "swift", &made)?;
        let (calls, header) = (package.join("Sources/Pitside"), package.join("Sources/pitside_screenFFI"));
        for folder in [&calls, &header] {
            fs::create_dir_all(folder).map_err(|e| Failure::file(folder, e))?;
        }
        copy(&made.join("pitside_screen.swift"), &calls.join("pitside_screen.swift"))?;
        copy(&made.join("pitside_screenFFI.h"), &header.join("pitside_screenFFI.h"))?;
        copy(&made.join("pitside_screenFFI.modulemap"), &header.join("module.modulemap"))?;

        let root = root_folder()?;
        let scratch = out.join("scratch");
        fs::create_dir_all(&scratch).map_err(|e| Failure::file(&scratch, e))?;
        let laid = [(package.as_path(), "/package"), (&scratch, "/scratch"), (&library, "/library")];
        let mut test = inside(&root, &laid);
        test.args(["swift", "test", "--package-path", "/package", "--scratch-path", "/scratch"]);
        // The library of Debian's Swift 6.0 lacks a symbol that only its own failures call.
        test.args(["-Xlinker", "--allow-shlib-undefined", "-Xlinker", "-L/library"]);
        shell::run(&mut test)
    }
}

fn copy(from: &Path, to: &Path) -> Result<(), Failure> {
    fs::copy(from, to).map(drop).map_err(|e| Failure::file(from, e))
}

/// The folder with Debian 13 and Swift; made where it is not there.
fn root_folder() -> Result<PathBuf, Failure> {
    let home = std::env::var_os("HOME").map_or_else(bindings::target, PathBuf::from);
    let root = home.join(".cache/pitside").join(format!("swift-{SUITE}"));
    if root.is_dir() {
        return Ok(root);
    }
    let part = root.with_extension("part");
    if let Some(folder) = root.parent() {
        fs::create_dir_all(folder).map_err(|e| Failure::file(folder, e))?;
    }
    shell::run(Command::new("bash").args(["-euc", MAKE, "make"]).arg(&part).arg(SUITE))?;
    shell::run(inside(&part, &[]).args(["apt-get", "update"]))?;
    shell::run(
        inside(&part, &[]).args(["apt-get", "install", "-y", "--no-install-recommends"]).args(PACKAGES),
    )?;
    shell::run(inside(&part, &[]).args(["apt-get", "clean"]))?;
    // Whole or not at all.
    fs::rename(&part, &root).map_err(|e| Failure::file(&part, e))?;
    Ok(root)
}

/// A command inside a folder; its words are still to be added.
fn inside(root: &Path, laid: &[(&Path, &str)]) -> Command {
    let binds: Vec<String> = laid.iter().map(|(here, there)| format!("{}:{there}", here.display())).collect();
    let mut command = Command::new("unshare");
    command.args(["--mount", "--pid", "--fork", "--kill-child", "--propagation", "private"]);
    command.args(["bash", "-euc", INSIDE, "inside"]).arg(root).arg(binds.join("\n"));
    command.env("SWIFT_LIBRARIES", format!("{RUNTIME}:/library"));
    command
}
