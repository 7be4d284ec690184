//! Whether the judging compiles for a browser page: `survey` and `judge`, type-checked for WebAssembly with no system
//! under it. Nothing is linked or run.

use crate::checkout::Checkout;
use crate::child::run;
use crate::elsewhere;
use crate::outcome::Outcome;
use crate::packages::{self, ELSEWHERE};

const TARGET: &str = "wasm32-unknown-unknown";

/// Checks both crates apart from everything built for this machine. What did not change since the last time is not
/// checked again.
pub(crate) fn check(checkout: &Checkout) -> Outcome {
    packages::bring(&packages::on_this_system(&[ELSEWHERE]))?;
    let words = ["check", "-p", "survey", "-p", "judge", "-Zbuild-std=std,panic_abort"];
    run(&mut elsewhere::cargo(checkout, &words, TARGET, "page"))
}
