//! The verbs behind the cargo aliases: `cargo app` opens Truefall, `cargo verify` proves it.
//!
//! Each verb is a file. A verb stops at the first thing that fails and says in a sentence what to do about it.

mod app;
mod bench;
mod checkout;
mod child;
mod elsewhere;
mod node;
mod outcome;
mod packages;
mod page;
mod phone;
mod sbom;
mod steps;
mod supply;
mod ui;
mod verify;
mod wasm;

use checkout::Checkout;
use outcome::Outcome;
use std::process::ExitCode;

const HELP: &str = "\
cargo app                      open the window on the demo room; without a display, serve it and print the address
cargo verify [--long] [STEP…]  check everything, or the steps named; --long adds what takes hours
cargo run -p tasks -- setup    only bring what is missing: system packages, Node, the screens' packages
cargo run -p tasks -- bench [NAME…]  what everything costs, in a release build, as a table in target/bench/table.md
cargo run -p tasks -- supply   what the program is made of, and whether it may be; also `cargo verify supply`
cargo run -p tasks -- sbom     the list of all that (CycloneDX), in target/sbom
cargo run -p tasks -- phone    whether the whole program compiles for an Android phone; also `cargo verify phone`
cargo run -p tasks -- wasm     the tests of the core, run in WebAssembly; part of `cargo verify --long`
cargo run -p tasks -- pictures a picture of every screen, in tests/browser/out";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match Checkout::find().and_then(|checkout| run(&checkout, &words)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("\n{why}");
            ExitCode::FAILURE
        }
    }
}

fn run(checkout: &Checkout, words: &[String]) -> Outcome {
    let (verb, rest) = words.split_first().map_or(("", words), |(verb, rest)| (verb.as_str(), rest));
    match verb {
        "app" => app::open(checkout),
        "verify" => verify::run(checkout, rest),
        "setup" => verify::set_up(checkout),
        "pictures" => verify::pictures(checkout),
        "phone" => phone::check(checkout),
        "wasm" => wasm::test(checkout),
        "bench" => bench::run(checkout, rest),
        "supply" => supply::check(checkout, rest.iter().any(|word| word == "--long")),
        "sbom" => sbom::write(checkout),
        "" | "help" | "--help" => {
            println!("{HELP}");
            Ok(())
        }
        other => Err(format!("There is no verb {other:?}.\n{HELP}")),
    }
}
