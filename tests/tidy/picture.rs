//! The picture of the crates in `DEVELOPERS.md`, drawn from what cargo says of them.
//!
//! `UPDATE=1 cargo test -p tidy picture` draws it again.

use crate::source::top;
use cargo_metadata::{Metadata, MetadataCommand};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;

const PICTURE: &str = "fixtures/pictures/crates.svg";
const WIDE: usize = 840;
const BOX: (usize, usize) = (200, 84);
const ROW: usize = 128;
/// Letters of a description in one line of a box.
const LINE: usize = 32;

/// Each crate with what it says of itself and what it uses of the others.
type Crates = BTreeMap<String, (String, BTreeSet<String>)>;

#[test]
fn the_picture_of_the_crates_is_current() {
    let drawn = draw(&crates(&MetadataCommand::new().current_dir(top()).no_deps().exec().expect("cargo metadata")));
    let path = top().join(PICTURE);
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, &drawn).expect("the picture");
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == drawn, "run UPDATE=1 cargo test -p tidy picture");
    let developers = fs::read_to_string(top().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    assert!(developers.contains(PICTURE), "DEVELOPERS.md shows it");
}

#[test]
fn an_arrow_that_follows_from_others_is_left_out() {
    let uses = |names: &[&str]| (String::new(), names.iter().map(|name| name.to_string()).collect());
    let chain: Crates =
        [("a", uses(&["b", "c"])), ("b", uses(&["c"])), ("c", uses(&[]))].map(|(name, it)| (name.into(), it)).into();
    assert_eq!(arrows(&chain), [("a", "b"), ("b", "c")]);
    assert_eq!((rank(&chain, "a"), rank(&chain, "c")), (2, 0));
}

fn crates(metadata: &Metadata) -> Crates {
    let own: BTreeSet<&str> = metadata.workspace_packages().iter().map(|package| package.name.as_str()).collect();
    let of = |package: &cargo_metadata::Package| {
        let used = package.dependencies.iter().map(|dependency| dependency.name.clone());
        let says = package.description.clone().expect("every crate says what it is");
        (package.name.to_string(), (says, used.filter(|name| own.contains(name.as_str())).collect()))
    };
    metadata.workspace_packages().into_iter().map(of).collect()
}

/// How many crates stand below one, at the most.
fn rank(crates: &Crates, name: &str) -> usize {
    crates[name].1.iter().map(|below| 1 + rank(crates, below)).max().unwrap_or(0)
}

fn reaches(crates: &Crates, from: &str, to: &str) -> bool {
    crates[from].1.iter().any(|next| next == to || reaches(crates, next, to))
}

/// Who uses whom, without what follows from the rest.
fn arrows(crates: &Crates) -> Vec<(&str, &str)> {
    let direct = crates.iter().flat_map(|(from, (_, used))| used.iter().map(move |to| (from.as_str(), to.as_str())));
    direct.filter(|(from, to)| !crates[*from].1.iter().any(|way| way != to && reaches(crates, way, to))).collect()
}

/// Rows from the window down to the core; what neither uses nor is used stands in the top row.
fn rows(crates: &Crates) -> Vec<Vec<&str>> {
    let alone = |name: &str| crates[name].1.is_empty() && !crates.values().any(|(_, used)| used.contains(name));
    let highest = crates.keys().map(|name| rank(crates, name)).max().unwrap_or(0);
    let row = |name: &str| if alone(name) { highest } else { rank(crates, name) };
    let names = |at| crates.keys().map(String::as_str).filter(|name| row(name) == at).collect();
    (0..=highest).rev().map(names).collect()
}

fn draw(crates: &Crates) -> String {
    let rows = rows(crates);
    let mut places: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for (at, row) in rows.iter().enumerate() {
        let step = WIDE / row.len();
        places.extend(row.iter().enumerate().map(|(n, name)| (*name, (step / 2 + n * step, 20 + at * ROW))));
    }
    let high = 20 + (rows.len() - 1) * ROW + BOX.1 + 20;
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDE} {high}\" font-family=\"sans-serif\">\n\
         <title>Each crate may use those its arrows lead to, and what they may use</title>\n\
         <rect width=\"{WIDE}\" height=\"{high}\" fill=\"#ffffff\"/>\n\
         <defs><marker id=\"tip\" viewBox=\"0 0 8 8\" refX=\"8\" refY=\"4\" markerWidth=\"9\" markerHeight=\"9\" \
         orient=\"auto\"><path d=\"M0 0 8 4 0 8z\"/></marker></defs>\n"
    );
    for (from, to) in arrows(crates) {
        let ((x1, y1), (x2, y2)) = (places[from], places[to]);
        let line = format!("<path d=\"M{x1} {} L{x2} {y2}\" stroke=\"#000000\"", y1 + BOX.1);
        // Writing to a text cannot fail.
        let _ = writeln!(svg, "{line} stroke-width=\"1.5\" marker-end=\"url(#tip)\"/>");
    }
    places.iter().for_each(|(name, place)| svg.push_str(&boxed(name, &crates[*name].0, *place)));
    svg + "</svg>\n"
}

fn boxed(name: &str, says: &str, (x, y): (usize, usize)) -> String {
    let (left, (wide, high)) = (x - BOX.0 / 2, BOX);
    let mut text = format!(
        "<rect x=\"{left}\" y=\"{y}\" width=\"{wide}\" height=\"{high}\" rx=\"4\" fill=\"#ffffff\" stroke=\"#000000\"/>\n\
         <text x=\"{x}\" y=\"{}\" text-anchor=\"middle\" font-size=\"17\" font-weight=\"700\">{name}</text>\n",
        y + 23
    );
    for (at, line) in wrapped(says).iter().enumerate() {
        let under = y + 41 + 15 * at;
        let _ = writeln!(text, "<text x=\"{x}\" y=\"{under}\" text-anchor=\"middle\" font-size=\"11\">{line}</text>");
    }
    text
}

fn wrapped(says: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in says.split_whitespace() {
        let last = lines.last().map_or(0, String::len);
        if last > 0 && last + 1 + word.len() > LINE {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            *line = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        }
    }
    lines
}
