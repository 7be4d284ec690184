//! Packages that are asked for and that nothing of ours uses.

use super::cargo::own;
use super::npm::{name, packages as all_packages, read};
use crate::checkout::Checkout;
use crate::outcome::Outcome;
use serde_json::Value;
use std::path::Path;

/// Crates that are asked for only so that another one is built as we want it.
const FOR_A_FEATURE: [(&str, &str); 1] = [("tidy", "proc_macro2")];

/// Crates that a package of the workspace names and that no source of it does.
pub(super) fn crates(metadata: &Value, checkout: &Checkout) -> Outcome<Vec<String>> {
    let mut wrong = Vec::new();
    for (package, folder, libraries) in own(metadata) {
        let sources = texts(Path::new(folder), &["rs"])?;
        let unused = libraries.iter().filter(|library| !FOR_A_FEATURE.contains(&(package, library)));
        let unused = unused.filter(|library| !sources.iter().any(|source| names_crate(source, library)));
        wrong.extend(unused.map(|library| format!("{package} asks for {library} and uses it nowhere.")));
    }
    wrong.extend(unshared(checkout)?);
    Ok(wrong)
}

/// Whether a source speaks of a crate: by a path that begins with it.
fn names_crate(source: &str, library: &str) -> bool {
    source.match_indices(library).any(|(at, _)| {
        let before = source.get(..at).and_then(|text| text.chars().next_back());
        let after = source.get(at + library.len()..).unwrap_or_default();
        let begins = !before.is_some_and(|c| c.is_alphanumeric() || c == '_');
        let leads_on = after.starts_with("::") || after.starts_with(';') || after.starts_with(" as ");
        begins && leads_on
    })
}

/// Crates of the workspace's own list that no package of it takes from there.
fn unshared(checkout: &Checkout) -> Outcome<Vec<String>> {
    let root = manifest(&checkout.root().join("Cargo.toml"))?;
    let members = texts(checkout.root(), &["Cargo.toml"])?.concat();
    let shared = root.get("workspace").and_then(|one| one.get("dependencies")).and_then(|one| one.as_table());
    let names = shared.into_iter().flatten().map(|(name, _)| name);
    let taken = |name: &str| {
        let ways = [format!("\n{name}.workspace = true"), format!("\n{name} = {{ workspace = true")];
        ways.iter().any(|way| members.contains(way))
    };
    Ok(names.filter(|name| !taken(name)).map(|name| format!("Nothing takes {name} from the workspace.")).collect())
}

fn manifest(path: &Path) -> Outcome<toml::Table> {
    let text = std::fs::read_to_string(path).map_err(|why| format!("{}: {why}.", path.display()))?;
    text.parse().map_err(|why| format!("{}: {why}", path.display()))
}

/// Packages that `ui/package.json` names and that nothing of the screens or their tests does.
pub(super) fn packages(lock: &Value, checkout: &Checkout) -> Outcome<Vec<String>> {
    let asked = read(&checkout.ui().join("package.json"))?;
    let ends = ["ts", "svelte", "js", "mjs", "json", "html", "css"];
    let mut sources = texts(&checkout.ui(), &ends)?;
    sources.extend(texts(&checkout.root().join("tests/browser"), &ends)?);
    let scripts: Vec<&str> =
        asked["scripts"].as_object().into_iter().flatten().filter_map(|(_, one)| one.as_str()).collect();
    let wanted = |package: &str| {
        let quoted = ['\'', '"'].iter().any(|quote| {
            sources.iter().any(|text| {
                [format!("{quote}{package}{quote}"), format!("{quote}{package}/")]
                    .iter()
                    .any(|word| text.contains(word))
            })
        });
        quoted || scripts.iter().any(|script| script.split(' ').any(|word| word == package))
    };
    // What another package needs beside it, or what describes one that is used.
    let peer = |package: &str| {
        all_packages(lock).any(|(path, one)| one["peerDependencies"].get(package).is_some() && wanted(name(path)))
    };
    let kinds = ["dependencies", "devDependencies"].map(|kind| asked[kind].as_object().into_iter().flatten());
    let names = kinds.into_iter().flatten().map(|(name, _)| name.as_str());
    let used = |package: &str| wanted(package.strip_prefix("@types/").unwrap_or(package)) || peer(package);
    Ok(names.filter(|name| !used(name)).map(|name| format!("The screens ask for {name} and use it nowhere.")).collect())
}

/// The texts under a folder whose names end so; of packages inside it, of what is made, and of lists of packages none.
fn texts(folder: &Path, ends: &[&str]) -> Outcome<Vec<String>> {
    const ASIDE: [&str; 6] = ["node_modules", "dist", "target", "gen", "package.json", "package-lock.json"];
    let mut found = Vec::new();
    let failed = |why: std::io::Error| format!("{}: {why}.", folder.display());
    for entry in std::fs::read_dir(folder).map_err(failed)? {
        let path = entry.map_err(failed)?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let of_another = path.join("Cargo.toml").is_file() && ends == ["rs"];
        if ASIDE.contains(&name.as_str()) || of_another || (name.starts_with('.') && path.is_dir()) {
            continue;
        }
        if path.is_dir() {
            found.extend(texts(&path, ends)?);
        } else if ends.iter().any(|end| name.ends_with(end)) {
            found.push(std::fs::read_to_string(&path).unwrap_or_default());
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_crate_is_named_by_a_path() {
        let check = |source: &str, named: bool| assert_eq!(names_crate(source, "csv"), named, "{source}");
        check("use csv::Reader;", true);
        check("let r = csv::Reader::new();", true);
        check("pub use csv;", true);
        check("// of a csv file", false);
        check("mod csv_readings;", false);
        check("my_csv::read()", false);
    }
}
