//! System packages: what is needed, whether it is there, and how to bring it.

use crate::child::{answer, run, which};
use crate::outcome::Outcome;
use std::io::IsTerminal;
use std::process::Command;

/// One thing the system must provide.
pub(crate) struct Need {
    /// How to see that it is there.
    probe: Probe,
    /// What Debian and Ubuntu call it.
    package: &'static str,
    /// What it is for, completing "it is needed to …".
    why: &'static str,
}

enum Probe {
    /// A program on the search path.
    Program(&'static str),
    /// A library known to pkg-config.
    Library(&'static str),
    /// A module of Python.
    Module(&'static str),
    /// A file at its place.
    File(&'static str),
}

const fn need(probe: Probe, package: &'static str, why: &'static str) -> Need {
    Need { probe, package, why }
}

/// What the window is compiled against.
pub(crate) const WINDOW: &[Need] = &[
    need(Probe::Program("pkg-config"), "pkg-config", "find the libraries of the window"),
    need(Probe::Library("webkit2gtk-4.1"), "libwebkit2gtk-4.1-dev", "build the window"),
    need(Probe::Library("librsvg-2.0"), "librsvg2-dev", "build the window"),
];

/// What looks at the screens as a person would.
pub(crate) const WATCHING: &[Need] = &[
    need(Probe::Program("git"), "git", "list the files of the checkout"),
    need(Probe::Program("chromium"), "chromium", "test the screens in a browser"),
    need(Probe::Program("WebKitWebDriver"), "webkit2gtk-driver", "test the real window"),
    need(Probe::Program("Xvfb"), "xvfb", "give the real window a display"),
    need(Probe::Program("xvfb-run"), "xvfb", "give the real window a display"),
    need(Probe::Program("xauth"), "xauth", "give the real window a display"),
    need(Probe::Program("dbus-run-session"), "dbus-daemon", "give the real window a message bus of its own"),
];

/// What compiles for another processor: a compiler apart from the usual one, with the sources of its library.
pub(crate) const ELSEWHERE: &[Need] = &[
    need(Probe::File("/usr/bin/rustc"), "rustc-web", "compile for another processor"),
    need(Probe::File("/usr/bin/cargo"), "cargo-web", "compile for another processor"),
    need(
        Probe::File("/usr/lib/rustlib/src/rust/library/std/Cargo.toml"),
        "rust-web-src",
        "compile for another processor",
    ),
];

/// What the whole program takes beyond that for a phone.
pub(crate) const PHONE: &[Need] = &[
    need(Probe::Program("aarch64-linux-gnu-gcc"), "gcc-aarch64-linux-gnu", "compile what is written in C for a phone"),
    need(
        Probe::File("/usr/aarch64-linux-gnu/include/stdint.h"),
        "libc6-dev-arm64-cross",
        "compile what is written in C",
    ),
];

/// What the core takes beyond that in WebAssembly.
pub(crate) const WASM: &[Need] = &[
    need(Probe::Program("wasm-ld-19"), "lld-19", "link WebAssembly"),
    need(Probe::File("/usr/lib/wasm32-wasi/crt1-command.o"), "wasi-libc", "give WebAssembly a system to run on"),
];

/// What the comparisons with other libraries run on.
pub(crate) const PEERS: &[Need] = &[
    need(Probe::Program("python3"), "python3", "compare the figures with other libraries"),
    need(Probe::Module("venv"), "python3-venv", "keep those libraries in a folder of their own"),
    need(Probe::Module("ensurepip"), "python3-venv", "keep those libraries in a folder of their own"),
];

/// What brings a private Node where there is none.
pub(crate) const NODE_BRINGER: &[Need] = &[
    need(Probe::Program("python3"), "python3", "bring Node"),
    need(Probe::Module("pip"), "python3-pip", "bring Node"),
];

/// Makes sure that everything in `needs` is there, installing it where that can be done.
pub(crate) fn bring(needs: &[&Need]) -> Outcome {
    let missing: Vec<&Need> = needs.iter().copied().filter(|need| !is_there(&need.probe)).collect();
    if missing.is_empty() {
        return Ok(());
    }
    let list = explain(&missing);
    println!("Missing:\n{list}");
    install(&missing).map_err(|why| format!("{why}\nPlease install, or whatever your system calls them:\n{list}"))?;
    match missing.iter().find(|need| !is_there(&need.probe)) {
        None => Ok(()),
        Some(need) => Err(format!("{} was installed, and is still not found.", need.package)),
    }
}

/// The needs of several lists that matter on this system: elsewhere the window comes with the system.
pub(crate) fn on_this_system<'a>(lists: &[&'a [Need]]) -> Vec<&'a Need> {
    if cfg!(target_os = "linux") { lists.iter().flat_map(|list| list.iter()).collect() } else { Vec::new() }
}

fn is_there(probe: &Probe) -> bool {
    match probe {
        Probe::Program(name) => which(name).is_some(),
        Probe::Library(name) => answer(Command::new("pkg-config").args(["--exists", name])).is_some(),
        Probe::File(path) => std::path::Path::new(path).exists(),
        Probe::Module(name) => answer(Command::new("python3").args(["-c", &format!("import {name}")])).is_some(),
    }
}

fn explain(missing: &[&Need]) -> String {
    let mut lines: Vec<String> = missing.iter().map(|n| format!("  {:24} to {}", n.package, n.why)).collect();
    lines.dedup();
    lines.join("\n")
}

fn install(missing: &[&Need]) -> Outcome {
    which("apt-get").ok_or("This system has no apt-get.")?;
    let mut packages: Vec<&str> = missing.iter().map(|need| need.package).collect();
    packages.dedup();
    println!("Installing them with apt-get.");
    run(&mut as_root(&["apt-get", "-qq", "update"])?)?;
    run(as_root(&["apt-get", "-qq", "install", "-y", "--no-install-recommends"])?.args(packages))
}

/// A command with the rights to install, or a sentence about how to get them.
fn as_root(words: &[&str]) -> Outcome<Command> {
    let mut command = if answer(Command::new("id").arg("-u")).as_deref() == Some("0") {
        Command::new("env")
    } else {
        which("sudo").ok_or("Installing needs the rights of root, and there is no sudo.")?;
        let mut sudo = Command::new("sudo");
        if !std::io::stdin().is_terminal() {
            sudo.arg("-n");
        }
        sudo.arg("env");
        sudo
    };
    command.arg("DEBIAN_FRONTEND=noninteractive").args(words);
    Ok(command)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_missing_is_explained_once() {
        let twice = [&WATCHING[3], &WATCHING[4]];
        assert_eq!(explain(&twice), "  xvfb                     to give the real window a display");
    }

    #[test]
    fn a_program_that_is_nowhere_is_missing() {
        assert!(!is_there(&Probe::Program("no-such-program-anywhere")));
        assert!(!is_there(&Probe::Module("no_such_module_anywhere")));
    }

    #[test]
    fn nothing_is_brought_when_nothing_is_missing() {
        assert_eq!(bring(&[]), Ok(()));
    }
}
