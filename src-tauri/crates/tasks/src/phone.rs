//! Whether the code for instruments compiles for a phone. No phone tools are needed for that, only the compiler that
//! Debian keeps for building browsers, which brings the sources of the standard library.

use crate::Outcome;
use crate::checkout::Checkout;
use crate::child::run;
use crate::packages::{self, PHONE};
use std::process::Command;

const TARGET: &str = "aarch64-linux-android";

/// Checks the package that holds the radio for a phone, apart from everything built for this machine.
pub(crate) fn check(checkout: &Checkout) -> Outcome {
    packages::bring(&packages::on_this_system(&[PHONE]))?;
    let mut check = Command::new("/usr/bin/cargo");
    // The Java side of the library is built by the phone's own tools; a check needs none of it.
    check.args(["check", "--locked", "-p", "bluetooth", "-Zbuild-std=std,panic_unwind", "--target", TARGET]);
    check.arg("--target-dir").arg(checkout.made("phone")).current_dir(checkout.root());
    for (name, _) in std::env::vars_os().filter(|(name, _)| name.to_string_lossy().starts_with("CARGO")) {
        check.env_remove(name);
    }
    run(check.env("RUSTC", "/usr/bin/rustc").env("RUSTC_BOOTSTRAP", "1").env_remove("RUSTUP_TOOLCHAIN"))
}
