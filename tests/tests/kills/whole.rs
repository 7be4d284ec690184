//! What must hold after a kill, whatever was going on.

use crate::bench::open;
use app::App;
use rusqlite::Connection;
use std::fs;
use std::path::{Path, PathBuf};
use store::Store;

/// The rooms after a kill: they open, everything in them fits, and what the journal makes of them is what they are.
pub(crate) fn reopened(home: &Path) -> App {
    let app = open(home);
    assert_eq!(app.store().check(), Ok(()));
    let state = |app: &App| crate::bench::files(app);
    let found = state(&app);
    app.rebuild().expect("the journal makes the rooms anew");
    assert!(state(&app) == found, "the tables are what the journal makes of them");
    every_file_is_whole(home);
    app
}

/// Whatever bears a final name is whole; parts and the database's own logs do not bear one.
pub(crate) fn every_file_is_whole(folder: &Path) {
    for path in files_in(folder) {
        let name = path.to_string_lossy().into_owned();
        let bytes = || fs::read(&path).expect("a file");
        match path.extension().and_then(|ending| ending.to_str()) {
            _ if name.contains(".part/") => {}
            Some("sqlite") if name.ends_with("rooms.sqlite") => {}
            Some("sqlite") if name.contains(".before-") => sound(&path),
            Some("sqlite") => assert_eq!(Store::open(&path).and_then(|store| store.check()), Ok(()), "{name}"),
            Some("pdf") => assert!(app::verify(&bytes()).is_ok(), "{name}"),
            Some("truefall") => drop(looked_at(&path)),
            _ if name.contains("/photographs/") && !name.ends_with(".part") => assert_eq!(bytes(), b"abc", "{name}"),
            _ => {}
        }
    }
}

/// A copy of an older form, which this program would bring up to date if it opened it.
fn sound(path: &Path) {
    let file = Connection::open(path).expect("a database");
    let found: String = file.query_row("PRAGMA integrity_check", [], |row| row.get(0)).expect("checked");
    let version: u32 = file.pragma_query_value(None, "user_version", |row| row.get(0)).expect("a version");
    assert_eq!((found.as_str(), version), ("ok", 1), "{}", path.display());
}

/// How many rooms a backup holds.
pub(crate) fn looked_at(path: &Path) -> usize {
    let elsewhere = tempfile::TempDir::new().expect("a folder");
    let look = open(elsewhere.path()).look_at_backup(path);
    look.unwrap_or_else(|refusal| panic!("{}: {refusal}", path.display())).rooms.len()
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("a folder").flatten().map(|entry| entry.path());
    entries.flat_map(|path| if path.is_dir() { files_in(&path) } else { vec![path] }).collect()
}
