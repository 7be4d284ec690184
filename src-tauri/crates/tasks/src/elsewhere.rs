//! Compiling for another processor than this machine's: by the compiler that Debian keeps for building browsers, which
//! brings the sources of the standard library, so that library is compiled along.

use crate::checkout::Checkout;
use std::process::Command;

/// Debian's cargo with these words, for this target, in a folder of its own under the target folder.
pub(crate) fn cargo(checkout: &Checkout, words: &[&str], target: &str, folder: &str) -> Command {
    let mut cargo = Command::new("/usr/bin/cargo");
    cargo.args(words).args(["--locked", "--target", target]);
    cargo.arg("--target-dir").arg(checkout.made(folder)).current_dir(checkout.root());
    for (name, _) in std::env::vars_os().filter(|(name, _)| is_of_the_usual_cargo(&name.to_string_lossy())) {
        cargo.env_remove(name);
    }
    // Nothing here is stepped through: what would help with that only fills the disk.
    cargo.env("CARGO_INCREMENTAL", "0").env("CARGO_PROFILE_DEV_DEBUG", "0");
    // Building the standard library along is not offered by a stable compiler without this word.
    cargo.env("RUSTC", "/usr/bin/rustc").env("RUSTC_BOOTSTRAP", "1").env_remove("RUSTUP_TOOLCHAIN");
    cargo
}

/// What the usual cargo set or was told, but for where it keeps what it fetched and how it reaches the registry.
fn is_of_the_usual_cargo(name: &str) -> bool {
    name.starts_with("CARGO") && !["CARGO_HOME", "CARGO_HTTP_", "CARGO_NET_"].iter().any(|kept| name.starts_with(kept))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_way_to_the_registry_is_kept() {
        let check = |name: &str, removed: bool| assert_eq!(is_of_the_usual_cargo(name), removed, "{name}");
        check("CARGO", true);
        check("CARGO_MANIFEST_DIR", true);
        check("CARGO_TARGET_DIR", true);
        check("CARGO_HOME", false);
        check("CARGO_HTTP_PROXY", false);
        check("PATH", false);
    }
}
