//! Which package may use which, read from cargo.

use crate::no_complaints;
use crate::source::top;
use cargo_metadata::{Metadata, MetadataCommand};
use std::collections::BTreeSet;
use std::process::Command;

/// What each package of the workspace may use of the others.
const ARROWS: &[(&str, &[&str])] = &[
    ("shell", &["app", "cli"]),
    ("cli", &["app"]),
    ("app", &["judge", "store", "bluetooth", "report", "survey"]),
    ("judge", &["survey"]),
    ("store", &["survey"]),
    ("bluetooth", &["survey"]),
    ("report", &["survey"]),
    ("survey", &[]),
    ("tasks", &[]),
    ("site-tests", &["app", "bluetooth", "cli", "judge", "report", "store", "survey"]),
    ("tidy", &[]),
];

/// Libraries that stand for one concern, and the one package that may use each.
const HOMES: &[(&str, &str)] =
    &[("rusqlite", "store"), ("typst", "report"), ("axum", "cli"), ("clap", "cli"), ("btleplug", "bluetooth")];

/// What the pure core may use from outside.
const OF_SURVEY: &[&str] =
    &["nalgebra", "statrs", "spade", "microlp", "rand", "rand_chacha", "rand_distr", "libm", "proptest"];

/// What must not come into the pure core by any way.
const NEVER_IN_SURVEY: &[&str] = &["serde", "tokio", "rusqlite", "time", "chrono", "jiff", "getrandom", "async-trait"];

#[test]
fn the_arrows_point_one_way() {
    assert!(arrow("survey", "app").is_some() && arrow("cli", "app").is_none() && arrow("judge", "survey").is_none());
    let apart = ["judge", "store", "report", "bluetooth"];
    for (from, to) in apart.iter().flat_map(|from| apart.map(|to| (*from, to))).filter(|(from, to)| from != to) {
        assert!(arrow(from, to).is_some() && arrow("app", to).is_none(), "{from} and {to} do not know one another");
    }
    let metadata = metadata();
    let own: BTreeSet<&str> = metadata.workspace_packages().iter().map(|package| package.name.as_str()).collect();
    let named: BTreeSet<&str> = ARROWS.iter().map(|(name, _)| *name).collect();
    assert!(own.is_subset(&named), "every package of the workspace has its arrows: {own:?}");
    no_complaints(
        uses(&metadata).filter(|(_, to)| own.contains(to)).filter_map(|(from, to)| arrow(from, to)).collect(),
    );
}

#[test]
fn only_the_shell_names_the_window_library() {
    assert!(window_library("app", "tauri-plugin-dialog").is_some() && window_library("shell", "tauri").is_none());
    no_complaints(uses(&metadata()).filter_map(|(from, to)| window_library(from, to)).collect());
}

#[test]
fn a_concern_has_one_home() {
    assert!(astray("app", "rusqlite").is_some() && astray("survey", "typst-pdf").is_some());
    assert!(astray("report", "typst").is_none() && astray("app", "serde").is_none());
    no_complaints(uses(&metadata()).filter_map(|(from, to)| astray(from, to)).collect());
}

#[test]
fn the_core_uses_arithmetic_and_nothing_else() {
    assert!(outside("survey", "serde").is_some() && outside("survey", "nalgebra").is_none());
    no_complaints(uses(&metadata()).filter_map(|(from, to)| outside(from, to)).collect());
    let reached = reach("survey");
    assert!(reached.contains("nalgebra"), "the way into the core is followed");
    let bad: Vec<_> = NEVER_IN_SURVEY.iter().filter(|name| reached.contains(**name)).collect();
    assert!(bad.is_empty(), "survey is reached by {bad:?}");
}

/// What must not come by any way into the crate that turns what is known of a room into what to do.
const NEVER_IN_JUDGE: &[&str] = &["tokio", "rusqlite", "btleplug", "typst", "axum", "getrandom", "tempfile"];

#[test]
fn the_judging_is_reached_by_no_store_radio_or_socket() {
    if metadata().workspace_packages().iter().all(|package| package.name.as_str() != "judge") {
        return;
    }
    let reached = reach("judge");
    assert!(reached.contains("survey"), "the way into the judging is followed");
    let bad: Vec<_> = NEVER_IN_JUDGE.iter().filter(|name| reached.contains(**name)).collect();
    assert!(bad.is_empty(), "judge is reached by {bad:?}");
}

#[test]
fn every_package_is_under_the_same_lints_and_is_not_published() {
    let metadata = metadata();
    for package in metadata.workspace_packages() {
        let manifest = std::fs::read_to_string(&package.manifest_path).expect("a manifest is text");
        assert!(manifest.contains("[lints]\nworkspace = true"), "{} is under the lints of the workspace", package.name);
        assert_eq!(package.publish.as_deref(), Some(&[][..]), "{} is not published", package.name);
        assert_eq!(package.license.as_deref(), Some("MIT OR Apache-2.0"), "{}", package.name);
    }
}

fn arrow(from: &str, to: &str) -> Option<String> {
    let (_, may) = ARROWS.iter().find(|(name, _)| *name == from)?;
    (!may.contains(&to)).then(|| format!("{from} uses {to}; it may use {may:?}"))
}

fn window_library(from: &str, to: &str) -> Option<String> {
    let of_the_window =
        ["tauri", "wry", "tao", "webkit2gtk"].iter().any(|start| to == *start || to.starts_with("tauri-"));
    (of_the_window && from != "shell").then(|| format!("{from} uses {to}; only the shell may"))
}

fn astray(from: &str, to: &str) -> Option<String> {
    let is = |library: &str| to == library || to.starts_with(&format!("{library}-"));
    let (_, home) = HOMES.iter().find(|(library, _)| is(library))?;
    (from != *home && from != "site-tests").then(|| format!("{from} uses {to}; only {home} may"))
}

fn outside(from: &str, to: &str) -> Option<String> {
    (from == "survey" && !OF_SURVEY.contains(&to)).then(|| format!("survey uses {to}; it may use {OF_SURVEY:?}"))
}

/// Every dependency a package of the workspace declares, of any kind.
fn uses(metadata: &Metadata) -> impl Iterator<Item = (&str, &str)> {
    let packages = metadata.packages.iter().filter(|package| metadata.workspace_members.contains(&package.id));
    packages.flat_map(|package| package.dependencies.iter().map(|to| (package.name.as_str(), to.name.as_str())))
}

/// The names of all packages that are compiled into this one.
fn reach(name: &str) -> BTreeSet<String> {
    let words = ["tree", "--locked", "--offline", "-p", name, "-e", "normal", "--prefix", "none", "--no-dedupe"];
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let output = Command::new(cargo).args(words).current_dir(top()).output().expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let tree = String::from_utf8(output.stdout).expect("names are text");
    tree.lines().filter_map(|line| line.split(' ').next()).map(str::to_owned).collect()
}

/// What cargo knows of this platform's packages, asking no registry.
fn metadata() -> Metadata {
    let rustc = Command::new("rustc").arg("-vV").output().expect("rustc runs");
    let about = String::from_utf8(rustc.stdout).expect("rustc speaks text");
    let host = about.lines().find_map(|line| line.strip_prefix("host: ")).expect("rustc names its host").to_owned();
    let words = ["--locked".into(), "--offline".into(), "--filter-platform".into(), host];
    let mut command = MetadataCommand::new();
    command.manifest_path(top().join("Cargo.toml")).other_options(words).exec().expect("cargo describes the workspace")
}
