//! How large the programs and the screens are, and what their largest parts are, in a release build.
//!
//! A part of a program is a crate, by the names of its symbols as `nm` lists them; what has no such name is told as one.

use site_tests::table::{self, Row};
use site_tests::top;
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::{Command, ExitCode};

/// So many of the largest parts are told.
const PARTS: usize = 6;

fn main() -> ExitCode {
    let programs = ["truefall", "truefall-window"].map(site_tests::beside);
    let rows: Vec<Row> =
        programs.iter().flat_map(|path| program(path)).chain(screens(&top().join("ui/dist"))).collect();
    table::close("sizes", &rows)
}

fn program(path: &Path) -> Vec<Row> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let whole = fs::metadata(path).map_or(0, |about| about.len());
    let sizes =
        Command::new("nm").args(["--size-sort", "--radix=d", "-C"]).arg(path).output().expect("nm, of binutils");
    let mut parts: BTreeMap<String, u64> = BTreeMap::new();
    for line in String::from_utf8_lossy(&sizes.stdout).lines() {
        let mut words = line.splitn(3, ' ');
        if let (Some(size), Some(_kind), Some(symbol)) = (words.next(), words.next(), words.next()) {
            *parts.entry(crate_of(symbol)).or_default() += size.parse::<u64>().unwrap_or(0);
        }
    }
    rows(&format!("the program {name}"), whole, parts)
}

/// The crate of a symbol: `survey` of `<survey::plane::Fit as core::fmt::Debug>::fmt`.
fn crate_of(symbol: &str) -> String {
    let path = symbol.trim_start_matches(['<', '&', '(', '[']);
    let path = path.strip_prefix("dyn ").unwrap_or(path);
    match path.split_once("::") {
        Some((name, _)) if name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_') => name.to_owned(),
        _ => "without a crate's name".to_owned(),
    }
}

fn screens(dist: &Path) -> Vec<Row> {
    let mut parts = BTreeMap::new();
    gather(dist, dist, &mut parts);
    rows("the screens", parts.values().sum(), parts)
}

fn gather(dist: &Path, folder: &Path, parts: &mut BTreeMap<String, u64>) {
    for entry in fs::read_dir(folder).expect("the screens, built by `npm run build`").flatten() {
        let path = entry.path();
        if path.is_dir() {
            gather(dist, &path, parts);
        } else {
            let name = path.strip_prefix(dist).unwrap_or(&path).display().to_string();
            parts.insert(name, entry.metadata().map_or(0, |about| about.len()));
        }
    }
}

fn rows(what: &str, whole: u64, parts: BTreeMap<String, u64>) -> Vec<Row> {
    let mut parts: Vec<(String, u64)> = parts.into_iter().collect();
    parts.sort_by_key(|(_, size)| std::cmp::Reverse(*size));
    let told = |name: &str, size: u64| Row::told(name, format!("{:.0} kB", size as f64 / 1e3));
    let largest = parts.iter().take(PARTS).map(|(name, size)| told(&format!("{what}: {name}"), *size));
    std::iter::once(told(what, whole)).chain(largest).collect()
}
