//! Compiling for another processor than this machine's: by the compiler that Debian keeps for building browsers, which
//! brings the sources of the standard library, so that library is compiled along.

use crate::checkout::Checkout;
use std::process::Command;

/// Debian's cargo with these words, for this target, in a folder of its own under the target folder.
pub(crate) fn cargo(checkout: &Checkout, words: &[&str], target: &str, folder: &str) -> Command {
    let mut cargo = Command::new("/usr/bin/cargo");
    cargo.args(words).args(["--locked", "--target", target]);
    cargo.arg("--target-dir").arg(checkout.made(folder)).current_dir(checkout.root());
    for (name, _) in std::env::vars_os().filter(|(name, _)| name.to_string_lossy().starts_with("CARGO")) {
        cargo.env_remove(name);
    }
    // Nothing here is stepped through: what would help with that only fills the disk.
    cargo.env("CARGO_INCREMENTAL", "0").env("CARGO_PROFILE_DEV_DEBUG", "0");
    // Building the standard library along is not offered by a stable compiler without this word.
    cargo.env("RUSTC", "/usr/bin/rustc").env("RUSTC_BOOTSTRAP", "1").env_remove("RUSTUP_TOOLCHAIN");
    cargo
}
