//! Running another program: its output is shown as it comes, it is asked nothing.

use crate::outcome::Outcome;
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// Runs a program to its end; anything but success is a sentence that names the program and its words.
pub(crate) fn run(command: &mut Command) -> Outcome {
    let status = command.stdin(Stdio::null()).status().map_err(|why| not_started(command, &why))?;
    if status.success() { Ok(()) } else { Err(format!("{} did not succeed ({status}).", line(command))) }
}

/// What a program prints, or nothing when it is missing or fails.
pub(crate) fn answer(command: &mut Command) -> Option<String> {
    let output = command.stdin(Stdio::null()).stderr(Stdio::null()).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

/// The first program of this name on the search path.
pub(crate) fn which(name: &str) -> Option<PathBuf> {
    let name = format!("{name}{}", std::env::consts::EXE_SUFFIX);
    std::env::split_paths(&std::env::var_os("PATH")?).map(|folder| folder.join(&name)).find(|path| path.is_file())
}

/// The search path with one more folder in front.
pub(crate) fn path_with(folder: &Path) -> OsString {
    let old = std::env::var_os("PATH").unwrap_or_default();
    let folders = std::iter::once(folder.to_path_buf()).chain(std::env::split_paths(&old));
    std::env::join_paths(folders).unwrap_or(old)
}

/// Cargo, as it runs this program.
pub(crate) fn cargo(root: &Path, words: &[&str]) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(words).current_dir(root);
    // Set for this program by cargo, not by the person: they would make cargo see a different environment.
    for (name, _) in std::env::vars_os().filter(|(name, _)| is_of_this_package(&name.to_string_lossy())) {
        command.env_remove(name);
    }
    command
}

fn is_of_this_package(name: &str) -> bool {
    ["CARGO_PKG_", "CARGO_MANIFEST_", "CARGO_BIN_"].iter().any(|start| name.starts_with(start))
}

fn line(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    words.map(|word| word.to_string_lossy()).collect::<Vec<_>>().join(" ")
}

fn not_started(command: &Command, why: &std::io::Error) -> String {
    format!("{} could not be started: {why}.", command.get_program().to_string_lossy())
}
