//! The rules of the house, as tests over the checkout itself.
//!
//! A rule is a function from one file to what is wrong in it. Each is first tried on a sample that breaks it, so that
//! a rule which no longer sees anything fails.

mod arrows;
mod circles;
mod edges;
mod functions;
mod modules;
mod numbers;
mod permits;
mod picture;
mod purity;
mod size;
mod source;
mod told;
mod top;
mod words;

use source::{Source, tracked};

/// Tries the rule on each broken sample, then holds every tracked file against it.
fn enforce(rule: impl Fn(&Source) -> Vec<String>, broken: &[(&str, &str)]) {
    for (path, text) in broken {
        assert!(!rule(&Source::new(path, text)).is_empty(), "the rule no longer sees what is wrong in {path}: {text}");
    }
    no_complaints(tracked().iter().flat_map(rule).collect());
}

/// Fails with one line per complaint.
fn no_complaints(complaints: Vec<String>) {
    assert!(complaints.is_empty(), "\n{}\n", complaints.join("\n"));
}
