//! `cargo verify`: everything that must hold, from the format of the code to a tap in the real window.

use crate::checkout::Checkout;
use crate::child::{cargo, run as run_child};
use crate::node::Node;
use crate::outcome::Outcome;
use crate::packages::{self, PEERS, WATCHING, WINDOW};
use crate::page;
use crate::phone;
use crate::steps::{self, Step};
use crate::supply;
use crate::ui;
use crate::wasm;
use std::path::PathBuf;
use std::process::Command;

/// Runs the steps named, or all of them.
pub(crate) fn run(checkout: &Checkout, words: &[String]) -> Outcome {
    let (flags, names): (Vec<&String>, Vec<&String>) = words.iter().partition(|word| word.starts_with("--"));
    let long = match flags.as_slice() {
        [] => false,
        [one] if *one == "--long" => true,
        other => return Err(format!("Not understood: {other:?}. The only option is --long.")),
    };
    let all = all_steps(checkout, long);
    let known = all.iter().map(|step| step.name).collect::<Vec<_>>().join(", ");
    if let Some(unknown) = names.iter().find(|name| all.iter().all(|step| step.name != name.as_str())) {
        return Err(format!("There is no step {unknown:?}. The steps are {known}."));
    }
    let chosen: Vec<Step> = all.into_iter().filter(|step| wanted(&names, step.name)).collect();
    steps::run(&chosen)
}

/// A step that was asked for; else all of them.
fn wanted(names: &[&String], step: &str) -> bool {
    names.is_empty() || names.iter().any(|name| *name == step)
}

/// Brings whatever is missing on this machine.
pub(crate) fn set_up(checkout: &Checkout) -> Outcome {
    packages::bring(&packages::on_this_system(&[WINDOW, WATCHING, PEERS]))?;
    ui::packages(checkout, &Node::find(checkout)?)
}

/// The screens are built before anything that embeds them; whatever is quick to fail comes early.
fn all_steps(checkout: &Checkout, long: bool) -> Vec<Step<'_>> {
    let cargo = |words: &'static [&'static str]| move || run_cargo(checkout, words);
    let npm = |words: &'static [&'static str]| move || run_npm(checkout, words);
    let mut steps = vec![
        Step::new("setup", "System packages, Node, the screens' packages", || set_up(checkout)),
        Step::new("format", "The code is formatted", cargo(&["fmt", "--all", "--check"])),
        Step::new("types", "The screens' types agree", npm(&["run", "check"])),
        Step::new("units", "The screens' unit tests", npm(&["run", "test"])),
        Step::new("screens", "The screens are built", || ui::build(checkout, &Node::find(checkout)?)),
        Step::new("supply", "What it is made of", move || supply::check(checkout, long)),
        Step::new("lints", "No lint is broken", cargo(LINTS)),
        Step::new("docs", "The documentation holds together", move || document(checkout)),
        Step::new("build", "Everything is built, the window too", cargo(BUILD)),
        Step::new("tests", "The tests", move || test(checkout, long)),
        Step::new("browser", "The screens in a browser, on the real core", npm(&["run", "test:browser"])),
        Step::new("window", "The real window", cargo(WINDOW_TESTS)),
        Step::new("page", "The judging, for a browser page", move || page::check(checkout)),
        Step::new("phone", "The whole program, for a phone's processor", move || phone::check(checkout)),
        Step::new("peers", "Beside other libraries", move || compare(checkout, long)),
    ];
    if long {
        steps.push(Step::new("slow", "The screens, the core late and the browser slow", npm(SLOW)));
        steps.push(Step::new("wasm", "The core's tests in WebAssembly", move || wasm::test(checkout)));
    }
    steps
}

/// Always the whole workspace: another choice of packages would build the dependencies again with other features.
/// The benchmarks are only linted: nothing here runs them.
const LINTS: &[&str] = &["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"];
const BUILD: &[&str] = &["build", "--workspace", "--bins", "--examples", "--tests"];
const TESTS: &[&str] = &["test", "--workspace"];
/// The number is the seed of how late each answer is.
const SLOW: &[&str] = &["run", "test:browser", "--", "--slow", "1"];
const WINDOW_TESTS: &[&str] = &["test", "--workspace", "--features", "site-tests/window", "--test", "window"];

pub(crate) fn run_cargo(checkout: &Checkout, words: &[&str]) -> Outcome {
    run_child(cargo(checkout.root(), words).env("TRUEFALL", checkout.program("truefall")))
}

/// The tests; `TRUEFALL_LONG` lets those that draw their cases draw many more.
fn test(checkout: &Checkout, long: bool) -> Outcome {
    let mut tests = cargo(checkout.root(), TESTS);
    tests.env("TRUEFALL", checkout.program("truefall"));
    run_child(if long { tests.env("TRUEFALL_LONG", "1") } else { &mut tests })
}

fn run_npm(checkout: &Checkout, words: &[&str]) -> Outcome {
    let node = Node::find(checkout)?;
    ui::packages(checkout, &node)?;
    run_child(node.npm(checkout, words).env("TRUEFALL", checkout.program("truefall")))
}

fn document(checkout: &Checkout) -> Outcome {
    let mut doc = cargo(checkout.root(), &["doc", "--workspace", "--no-deps", "--document-private-items"]);
    run_child(doc.env("RUSTDOCFLAGS", "-D warnings"))
}

/// Other libraries, in the versions the requirements name, judge the same inputs.
fn compare(checkout: &Checkout, long: bool) -> Outcome {
    let mut compare = Command::new(peers(checkout)?);
    compare.arg(checkout.peers().join("compare.py")).env("TRUEFALL", checkout.program("truefall"));
    run_child(if long { compare.arg("--long") } else { &mut compare })
}

/// A picture of every screen, in both themes.
pub(crate) fn pictures(checkout: &Checkout) -> Outcome {
    ui::build(checkout, &Node::find(checkout)?)?;
    run_cargo(checkout, &["build", "-p", "cli"])?;
    run_npm(checkout, &["run", "pictures"])
}

/// The Python that has the other libraries, in a folder of its own.
pub(crate) fn peers(checkout: &Checkout) -> Outcome<PathBuf> {
    let home = checkout.made("peers");
    let python = home.join("bin/python");
    if !python.exists() {
        run_child(Command::new("python3").args(["-m", "venv"]).arg(&home))?;
    }
    let quiet = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r"];
    run_child(Command::new(&python).args(quiet).arg(checkout.peers().join("requirements.txt")))?;
    Ok(python)
}
