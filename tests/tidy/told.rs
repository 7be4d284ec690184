//! What README, DEVELOPERS.md and the origins of the fixtures name is there: paths, names of the code, steps.

use crate::no_complaints;
use crate::source::{paths, top, tracked};
use std::collections::BTreeSet;

const DOCUMENTS: &[&str] = &["README.md", "DEVELOPERS.md", "fixtures/README.md"];

/// What is made only elsewhere: by the vendor's kit, or by a build.
const ELSEWHERE: &[&str] = &[
    "folder/*",
    "AndroidManifest.xml",
    "target",
    "target/sbom",
    "target/bench/table.md",
    "image/*",
    "aarch64-apple-ios",
    "org.bluez",
];

/// Endings that make a word a path.
const ENDINGS: &[&str] = &["rs", "ts", "svelte", "mjs", "toml", "typ", "json", "xml", "plist", "kt", "py", "sql", "md"];

#[test]
fn what_the_documents_name_is_there() {
    let checkout = Checkout::read();
    for (said, fine) in [
        ("app/src/app.rs", true),
        ("app/src/NAME.rs", true),
        ("app/src/apps.rs", false),
        ("ui/src/screens/", true),
        ("profiles/*.toml", true),
        ("crew/nowhere/", false),
        ("npm run check", true),
        ("npm run chick", false),
        ("cargo verify phone", true),
        ("cargo verify phoney", false),
        ("UPDATE=1", true),
        ("App::write_for", true),
        ("App::write_never_so", false),
        ("two words", true),
    ] {
        assert_eq!(checkout.missing(said).is_none(), fine, "{said}");
    }
    let complaints = DOCUMENTS.iter().flat_map(|document| {
        let text = std::fs::read_to_string(top().join(document)).expect("it is there");
        let missing: Vec<String> = quoted(&text).iter().filter_map(|said| checkout.missing(said)).collect();
        missing.into_iter().map(move |what| format!("{document} speaks of {what}"))
    });
    no_complaints(complaints.collect());
}

/// What stands between single backquotes, outside fenced blocks.
fn quoted(text: &str) -> Vec<String> {
    let open = text.split("```").step_by(2).collect::<String>();
    open.split('`').skip(1).step_by(2).map(str::to_owned).collect()
}

/// All that may be named.
struct Checkout {
    /// Every file and folder, from each of its folders on: `app/src/app.rs`, `src/app.rs`, `app.rs`.
    places: BTreeSet<String>,
    /// The words of all code.
    words: BTreeSet<String>,
    /// The scripts of the screens, and the steps and verbs of the tasks.
    scripts: String,
    tasks: String,
}

impl Checkout {
    fn read() -> Self {
        let files = tracked();
        let of = |folder: &str| {
            let own = files.iter().filter(|file| file.path.starts_with(folder));
            own.map(|file| file.text.as_str()).collect::<String>()
        };
        // This file's own samples are no code that a document may speak of.
        let is_code = |path: &str| !path.ends_with(".md") && !path.contains("lock") && !path.ends_with("/told.rs");
        let code = files.iter().filter(|file| is_code(&file.path));
        Self {
            places: paths().iter().flat_map(|path| stretches(path)).collect(),
            words: code.flat_map(|file| words(&file.text)).map(str::to_owned).collect(),
            scripts: of("ui/package.json"),
            tasks: of("src-tauri/crates/tasks/src/"),
        }
    }

    /// What is named here and is not there.
    fn missing(&self, said: &str) -> Option<String> {
        let bare = said.trim_end_matches('/');
        let fine = if ELSEWHERE.contains(&bare) {
            true
        } else if let Some(script) = bare.strip_prefix("npm run ") {
            self.scripts.contains(&format!("\"{script}\":"))
        } else if let Some(step) = bare.strip_prefix("cargo verify ").or(bare.strip_prefix("cargo run -p tasks -- ")) {
            let is_named = |word: &str| word.starts_with("--") || self.tasks.contains(&format!("\"{word}\""));
            step.split(' ').filter(|word| !word.starts_with("STEP")).all(is_named)
        } else if is_path(bare) {
            self.holds(bare)
        } else {
            bare.contains([' ', '{', '[', '<', '(', '.']) || words(bare).all(|word| self.words.contains(word))
        };
        (!fine).then(|| format!("`{said}`, which is not there"))
    }

    /// Whether a file, a module or a folder has such a path; `NAME` and `*` stand for any name.
    fn holds(&self, path: &str) -> bool {
        let folder = ["NAME", "*"].iter().find_map(|any| path.split(any).next().filter(|before| *before != path));
        let place = folder.unwrap_or(path).trim_end_matches('/');
        self.places.contains(place) || self.places.contains(&format!("{place}.rs"))
    }
}

fn is_path(said: &str) -> bool {
    let ends = said.rsplit_once('.').is_some_and(|(name, end)| !name.is_empty() && ENDINGS.contains(&end));
    !said.contains([' ', '<', '{']) && (ends || said.contains('/'))
}

/// A path from each of its folders on, to each of them.
fn stretches(path: &str) -> Vec<String> {
    let parts: Vec<&str> = path.split('/').collect();
    let from = |first: usize| (first + 1..=parts.len()).map(move |last| (first, last));
    (0..parts.len()).flat_map(from).map(|(first, last)| parts[first..last].join("/")).collect()
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric() && !"_-".contains(c)).filter(|word| !word.is_empty())
}
