//! Whether the screens come out the same however often they are built.

use crate::checkout::Checkout;
use crate::child::run;
use crate::node::Node;
use crate::outcome::Outcome;
use crate::ui;
use std::collections::BTreeMap;
use std::path::Path;

/// Builds the screens once more, into a folder of their own, and compares every byte.
pub(super) fn built_twice(checkout: &Checkout) -> Outcome {
    let node = Node::find(checkout)?;
    ui::packages(checkout, &node)?;
    ui::build(checkout, &node)?;
    let again = checkout.made("supply/screens");
    let mut build = node.npm(checkout, &["run", "--silent", "build", "--", "--logLevel", "error", "--emptyOutDir"]);
    run(build.arg("--outDir").arg(&again))?;
    let (first, second) = (files(&checkout.ui().join("dist"))?, files(&again)?);
    println!("{} files of the screens, built twice, are the same to the byte", first.len());
    match differing(&first, &second) {
        None => Ok(()),
        Some(name) => Err(format!(
            "{name} comes out otherwise when the screens are built again. If ui/dist was built by hand, remove it and try again."
        )),
    }
}

/// What lies in a folder, by its path inside.
type Files = BTreeMap<String, Vec<u8>>;

fn differing(first: &Files, second: &Files) -> Option<String> {
    first.keys().chain(second.keys()).find(|name| first.get(*name) != second.get(*name)).cloned()
}

fn files(folder: &Path) -> Outcome<Files> {
    let failed = |why: std::io::Error| format!("{}: {why}.", folder.display());
    let mut found = Files::new();
    for entry in std::fs::read_dir(folder).map_err(failed)? {
        let path = entry.map_err(failed)?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if path.is_dir() {
            found.extend(files(&path)?.into_iter().map(|(inside, bytes)| (format!("{name}/{inside}"), bytes)));
        } else {
            found.insert(name, std::fs::read(&path).map_err(failed)?);
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_more_or_a_byte_other_is_seen() {
        let files = |all: &[(&str, &[u8])]| -> Files {
            all.iter().map(|(name, one)| (name.to_string(), one.to_vec())).collect()
        };
        let first = files(&[("a.js", b"1"), ("b.js", b"2")]);
        assert_eq!(differing(&first, &first), None);
        assert_eq!(differing(&first, &files(&[("a.js", b"1"), ("b.js", b"3")])).as_deref(), Some("b.js"));
        assert_eq!(differing(&first, &files(&[("a.js", b"1")])).as_deref(), Some("b.js"));
        assert_eq!(differing(&files(&[]), &first).as_deref(), Some("a.js"));
    }
}
