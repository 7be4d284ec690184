//! The files of the checkout, as the rules see them.

use std::path::PathBuf;
use std::process::Command;

/// One tracked text file.
pub(crate) struct Source {
    /// From the top of the checkout, with `/` between the folders.
    pub(crate) path: String,
    pub(crate) text: String,
}

impl Source {
    pub(crate) fn new(path: &str, text: &str) -> Self {
        Self { path: path.into(), text: text.into() }
    }

    pub(crate) fn is(&self, extension: &str) -> bool {
        self.path.rsplit_once('.').is_some_and(|(_, end)| end == extension)
    }

    pub(crate) fn within(&self, folder: &str) -> bool {
        self.path.starts_with(folder)
    }

    pub(crate) fn file_name(&self) -> &str {
        self.path.rsplit('/').next().unwrap_or(&self.path)
    }

    /// Rust that ships: not of the member crate of tests, nor of a crate's own test or bench targets.
    pub(crate) fn is_shipped_rust(&self) -> bool {
        let aside = ["/tests/", "/benches/", "/examples/"].iter().any(|folder| self.path.contains(folder));
        self.is("rs") && self.within("src-tauri/") && !aside && self.file_name() != "tests.rs"
    }

    /// What stands before the tests at the foot of the file.
    pub(crate) fn before_tests(&self) -> &str {
        self.text.split("\n#[cfg(test)]").next().unwrap_or(&self.text)
    }

    /// Numbered lines before the tests, without comments.
    pub(crate) fn code(&self) -> impl Iterator<Item = (usize, &str)> {
        let lines = self.before_tests().lines().enumerate();
        lines.map(|(at, line)| (at + 1, line.split("//").next().unwrap_or(line)))
    }

    /// A complaint about each line of code that contains one of the `words`.
    pub(crate) fn lines_with(&self, words: &[&str], why: &str) -> Vec<String> {
        let hits = self.code().filter_map(|(at, line)| Some((at, words.iter().find(|word| line.contains(**word))?)));
        hits.map(|(at, word)| format!("{}:{at}: {word}: {why}", self.path)).collect()
    }
}

/// The top of the checkout.
pub(crate) fn top() -> PathBuf {
    let here = std::env::var("CARGO_MANIFEST_DIR").unwrap_or_else(|_| env!("CARGO_MANIFEST_DIR").into());
    PathBuf::from(here).join("../..")
}

/// The paths of every tracked file that is still there.
pub(crate) fn paths() -> Vec<String> {
    let output = Command::new("git").args(["ls-files", "-z"]).current_dir(top()).output().expect("git runs");
    assert!(output.status.success(), "git lists the files of the checkout");
    let listed = String::from_utf8(output.stdout).expect("paths are text");
    let paths = listed.split_terminator('\0').map(str::to_owned);
    paths.filter(|path| top().join(path).is_file()).collect()
}

/// Every tracked file that is text.
pub(crate) fn tracked() -> Vec<Source> {
    let text = |path: String| Some(Source { text: std::fs::read_to_string(top().join(&path)).ok()?, path });
    let sources: Vec<Source> = paths().into_iter().filter_map(text).collect();
    assert!(sources.len() > 10, "the checkout has files");
    sources
}
