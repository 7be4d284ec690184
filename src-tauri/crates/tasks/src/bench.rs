//! `cargo run -p tasks -- bench`: what everything costs, in a release build, gathered into one table.

use crate::checkout::Checkout;
use crate::child::{cargo, run as run_child};
use crate::node::Node;
use crate::outcome::Outcome;
use crate::packages::{self, PEERS, WINDOW};
use crate::ui;
use crate::verify::{peers, run_cargo};
use std::fs;

/// The benchmarks in the order of the table; `long` ones take minutes.
const BENCHES: &[(&str, &[&str])] = &[
    ("ratios", &[]),
    ("costs", &[]),
    ("keeping", &[]),
    ("opening", &[]),
    ("sizes", &[]),
    ("radio", &["--", "--long"]),
    ("crew", &["--", "--long"]),
];

const HEAD: &str = "# What Truefall costs

Made by `cargo run -p tasks -- bench`: a release build, each ratio from one run beside the other library.

| what | size | ours | allowed | beside | ratio | grows: time, memory |
|---|--:|--:|--:|---|--:|---|
";

/// Runs the benchmarks named, or all, to the end of each, and gathers the table of all that have been run.
pub(crate) fn run(checkout: &Checkout, names: &[String]) -> Outcome {
    if let Some(unknown) = names.iter().find(|name| BENCHES.iter().all(|(known, _)| known != name)) {
        let known: Vec<&str> = BENCHES.iter().map(|(name, _)| *name).collect();
        return Err(format!("There is no benchmark {unknown:?}. There are: {}.", known.join(", ")));
    }
    packages::bring(&packages::on_this_system(&[WINDOW, PEERS]))?;
    ui::build(checkout, &Node::find(checkout)?)?;
    run_cargo(checkout, &["build", "--release", "-p", "shell", "-p", "cli", "--bins", "--example", "empty"])?;
    let python = peers(checkout)?;
    let chosen = BENCHES.iter().filter(|(name, _)| names.is_empty() || names.iter().any(|wanted| wanted == name));
    let mut failed = Vec::new();
    for (name, words) in chosen {
        let mut bench = cargo(checkout.root(), &["bench", "-p", "site-tests", "--bench", name]);
        if run_child(bench.args(*words).env("PYTHON", &python)).is_err() {
            failed.push(*name);
        }
    }
    gather(checkout)?;
    if failed.is_empty() { Ok(()) } else { Err(format!("Over what is allowed: {}.", failed.join(", "))) }
}

/// Sets the parts under one head.
fn gather(checkout: &Checkout) -> Outcome {
    let folder = checkout.made("bench");
    let parts = BENCHES.iter().filter_map(|(name, _)| fs::read_to_string(folder.join(format!("{name}.md"))).ok());
    let table = folder.join("table.md");
    let text: String = std::iter::once(HEAD.to_owned()).chain(parts).collect();
    fs::write(&table, text).map_err(|error| format!("{} could not be written: {error}.", table.display()))?;
    println!("The table is in {}.", table.display());
    Ok(())
}
