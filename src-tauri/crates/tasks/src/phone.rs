//! Whether the whole program compiles for a phone: the core, the host, the radio and the window with what a phone has
//! of its own. No phone tools are needed for that, only the compiler that Debian keeps for building browsers, which
//! brings the sources of the standard library, and a C compiler for the same processor. Nothing is linked, packed or
//! run.

use crate::Outcome;
use crate::checkout::Checkout;
use crate::child::run;
use crate::packages::{self, PHONE};
use std::process::Command;

const TARGET: &str = "aarch64-linux-android";

/// The C compiler for the phone's processor: what it makes is checked for form and thrown away.
const C_COMPILER: &str = "aarch64-linux-gnu-gcc";

/// Checks the whole program for a phone, apart from everything built for this machine. What did not change since the
/// last time is not looked at again.
pub(crate) fn check(checkout: &Checkout) -> Outcome {
    packages::bring(&packages::on_this_system(&[PHONE]))?;
    let mut check = Command::new("/usr/bin/cargo");
    // The Java side of the library is built by the phone's own tools; a check needs none of it.
    check.args(["check", "--locked", "-p", "shell", "--lib", "-Zbuild-std=std,panic_unwind", "--target", TARGET]);
    check.arg("--target-dir").arg(checkout.made("phone")).current_dir(checkout.root());
    for (name, _) in std::env::vars_os().filter(|(name, _)| name.to_string_lossy().starts_with("CARGO")) {
        check.env_remove(name);
    }
    // Nothing here is run or stepped through: what would help with that only fills the disk.
    check.env("CARGO_INCREMENTAL", "0").env("CARGO_PROFILE_DEV_DEBUG", "0");
    check.env("CC_aarch64_linux_android", C_COMPILER).env("AR_aarch64_linux_android", "aarch64-linux-gnu-ar");
    run(check.env("RUSTC", "/usr/bin/rustc").env("RUSTC_BOOTSTRAP", "1").env_remove("RUSTUP_TOOLCHAIN"))
}
