//! What goes wrong around the program: each fault is answered by a sentence, and nothing that was kept is lost.

mod clock;
mod damaged;
mod disk;
mod together;

use app::{App, Clock};
use site_tests::{demo, files};
use std::path::Path;
use std::process::{Command, Output};
use tempfile::TempDir;

const NOW: &str = "2031-04-02T07:31:05-05:00";

fn open_at(home: &Path, now: &str) -> App {
    App::open(home, Clock::fixed(now, &format!("{} {now}", home.display()))).expect("the rooms open")
}

fn open(home: &Path) -> App {
    open_at(home, NOW)
}

/// A folder with two demo rooms, the rooms open, and the name of the first.
fn furnished() -> (TempDir, App, String) {
    let home = TempDir::new().expect("a folder");
    let app = open(home.path());
    let kestrel = demo(&app, "kestrel");
    demo(&app, "banksia");
    (home, app, kestrel)
}

fn truefall(home: &Path, words: &[&str]) -> Command {
    let mut command = site_tests::truefall();
    command.args(words).env("TRUEFALL_HOME", home);
    command
}

/// What a refused program says: its kind and its sentence.
fn refusal(output: &Output) -> (String, String) {
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    let said: serde_json::Value = serde_json::from_str(&said).expect("a refusal is JSON");
    let text = |name: &str| said["error"][name].as_str().unwrap_or_default().to_owned();
    assert!(text("message").ends_with('.'), "{said}");
    (text("kind"), text("message"))
}
