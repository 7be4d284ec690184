//! Whether what the trade knows comes to the same on another machine than this one: the tests of `survey`, compiled to
//! WebAssembly with WASI and run by Node.

use crate::checkout::Checkout;
use crate::child::run;
use crate::elsewhere;
use crate::node::Node;
use crate::outcome::Outcome;
use crate::packages::{self, ELSEWHERE, WASM};

const TARGET: &str = "wasm32-wasip1";

/// The system's interface as Debian keeps it. It is older than the standard library and has no threads, which nothing
/// here starts: what is missing of them becomes a trap, so a test that started one would fail.
const FLAGS: &str = "-Clink-self-contained=no -Lnative=/usr/lib/wasm32-wasi \
    -Clink-arg=/usr/lib/wasm32-wasi/crt1-command.o -Clink-arg=--unresolved-symbols=ignore-all";

/// Builds and runs the tests; anything but success of all is a failure.
pub(crate) fn test(checkout: &Checkout) -> Outcome {
    packages::bring(&packages::on_this_system(&[ELSEWHERE, WASM]))?;
    let runner = [Node::find(checkout)?.program(), "--no-warnings".into(), checkout.wasi()];
    let runner = format!("target.{TARGET}.runner={runner:?}");
    let words = ["test", "-p", "survey", "--lib", "-Zbuild-std=std,panic_abort", "--config", &runner];
    let mut test = elsewhere::cargo(checkout, &words, TARGET, "wasm");
    test.env("CARGO_TARGET_WASM32_WASIP1_LINKER", "wasm-ld-19");
    run(test.env("CARGO_TARGET_WASM32_WASIP1_RUSTFLAGS", FLAGS))
}
