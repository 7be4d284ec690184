//! What lies at the top of the checkout, where its files come from, and what no file speaks of.

use crate::source::{Source, paths, top, tracked};
use crate::{enforce, no_complaints};

const TOP: &[&str] = &["Cargo.toml", "README.md", "DEVELOPERS.md", "src-tauri", "ui", "tests", "fixtures"];
const ASIDE: &[&str] = &["Cargo.lock", "LICENSE-APACHE", "LICENSE-MIT"];

#[test]
fn the_top_is_as_laid_out() {
    assert!(out_of_place("docs/plan.md") && out_of_place("package.json"));
    assert!(!out_of_place(".cargo/config.toml") && !out_of_place("ui/package.json"));
    no_complaints(paths().into_iter().filter(|path| out_of_place(path)).collect());
}

fn out_of_place(path: &str) -> bool {
    let first = path.split('/').next().unwrap_or(path);
    !first.starts_with('.') && !TOP.contains(&first) && !ASIDE.contains(&first)
}

#[test]
fn no_file_speaks_of_one_machine_or_one_registry() {
    let folders = ["work", "root", "home", "tmp", "Users"].map(|name| format!("/{name}/"));
    let hosts = [("crates", "io"), ("registry.npmjs", "org"), ("pypi", "org"), ("pythonhosted", "org")]
        .into_iter()
        .chain([("deb.debian", "org"), ("rust-lang", "org/dist"), ("nodejs", "org/dist")])
        .map(|(name, end)| format!("{name}.{end}"))
        .collect::<Vec<_>>();
    let rule = |file: &Source| {
        let locked = file.path == "Cargo.lock";
        let bad = |line: &str| folders.iter().any(|f| is_path(line, f)) || hosts.iter().any(|host| line.contains(host));
        let lines = file.text.lines().enumerate().filter(|(_, line)| !locked && bad(line));
        lines.map(|(at, line)| format!("{}:{}: {}", file.path, at + 1, line.trim())).collect()
    };
    let root = format!("cd {}truefall", folders[1]);
    let host = format!("pip install -i https://{}/simple numpy", hosts[2]);
    enforce(rule, &[("README.md", &root), ("tests/peers/run.sh", &host), (".npmrc", &hosts[1])]);
}

/// Whether the folder is named from the root of a disk, not in the middle of a path.
fn is_path(line: &str, folder: &str) -> bool {
    let inside = |before: &str| before.ends_with(|c: char| c.is_alphanumeric() || "._-{}$".contains(c));
    line.match_indices(folder).any(|(at, _)| !inside(&line[..at]))
}

#[test]
fn every_fixture_has_an_origin() {
    assert!(unnamed("fixtures/rooms/a.json", "| `rooms/b.json` | ours |").is_some());
    assert!(unnamed("fixtures/rooms/a.json", "| `rooms/a.json` | ours |").is_none());
    assert!(unnamed("fixtures/set/a.csv", "| `set/*` | published |").is_none());
    let origins = std::fs::read_to_string(top().join("fixtures/README.md")).expect("the origins are written down");
    no_complaints(paths().iter().filter_map(|path| unnamed(path, &origins)).collect());
}

/// A file under `fixtures` that no line of the origins names, by itself or by its folder.
fn unnamed(path: &str, origins: &str) -> Option<String> {
    let inside = path.strip_prefix("fixtures/").filter(|inside| *inside != "README.md")?;
    let folder = inside.rsplit_once('/').map_or("", |(folder, _)| folder);
    let named = [format!("`{inside}`"), format!("`{folder}/*`")].iter().any(|name| origins.contains(name));
    (!named).then(|| format!("fixtures/README.md does not say where {inside} comes from"))
}

#[test]
fn every_origin_has_its_fixture() {
    let missing = |line: &str, all: &[String]| {
        let name = line.strip_prefix("| `")?.split('`').next()?.trim_end_matches('*').to_owned();
        (!all.iter().any(|path| path.starts_with(&format!("fixtures/{name}")))).then_some(name)
    };
    assert!(missing("| `rooms/gone.json` | ours |", &["fixtures/rooms/here.json".into()]).is_some());
    let all = paths();
    let origins = tracked().into_iter().find(|file| file.path == "fixtures/README.md").expect("it is tracked");
    no_complaints(origins.text.lines().filter_map(|line| missing(line, &all)).collect());
}
