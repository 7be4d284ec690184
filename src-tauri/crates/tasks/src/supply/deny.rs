//! cargo-deny, which reads the licence texts themselves and knows what is advised against. It is built once, into the
//! target folder.

use crate::checkout::Checkout;
use crate::child::{answer, cargo, run};
use crate::outcome::Outcome;
use std::process::Command;

const VERSION: &str = "0.20.2";

/// Where the list of advisories lies.
const ADVISORIES: &str = "https://github.com/RustSec/advisory-db";

/// Asks about licences, doubles and origins, and about advisories where their list can be reached.
pub(super) fn check(checkout: &Checkout) -> Outcome {
    let tools = checkout.made("tools");
    let install = ["install", "cargo-deny", "--version", VERSION, "--locked", "--quiet", "--root"];
    run(cargo(checkout.root(), &install).arg(&tools).arg("--target-dir").arg(checkout.made("tools/build")))?;
    let deny = |words: &[&str]| {
        let program = tools.join("bin").join(format!("cargo-deny{}", std::env::consts::EXE_SUFFIX));
        let mut deny = Command::new(program);
        deny.args(words).current_dir(checkout.root());
        run(&mut deny)
    };
    let config = ["--config", ".cargo/deny.toml"];
    deny(&[&["--offline"], &config[..], &["check", "licenses", "bans", "sources"]].concat())?;
    if answer(Command::new("git").args(["ls-remote", ADVISORIES, "HEAD"]).env("GIT_TERMINAL_PROMPT", "0")).is_none() {
        println!("NOT LOOKED AT: the list of advisories cannot be reached from here.");
        return Ok(());
    }
    deny(&[&config[..], &["check", "advisories"]].concat())
}
