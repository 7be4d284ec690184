//! Whether the whole program compiles for a phone: the core, the host, the radio and the window with what a phone has
//! of its own. No phone tools are needed for that, only a compiler for its processor. Nothing is linked, packed or run.

use crate::checkout::Checkout;
use crate::child::run;
use crate::elsewhere;
use crate::outcome::Outcome;
use crate::packages::{self, ELSEWHERE, PHONE};

const TARGET: &str = "aarch64-linux-android";

/// The C compiler for the phone's processor: what it makes is checked for form and thrown away.
const C_COMPILER: &str = "aarch64-linux-gnu-gcc";

/// Checks the whole program for a phone, apart from everything built for this machine. What did not change since the
/// last time is not looked at again. The Java side of the library is built by the phone's own tools; a check needs
/// none of it.
pub(crate) fn check(checkout: &Checkout) -> Outcome {
    packages::bring(&packages::on_this_system(&[ELSEWHERE, PHONE]))?;
    let words = ["check", "-p", "shell", "--lib", "-Zbuild-std=std,panic_unwind"];
    let mut check = elsewhere::cargo(checkout, &words, TARGET, "phone");
    run(check.env("CC_aarch64_linux_android", C_COMPILER).env("AR_aarch64_linux_android", "aarch64-linux-gnu-ar"))
}
