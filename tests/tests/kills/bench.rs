//! What every round begins from: a folder of rooms as it lies closed on disk, and files to take in.

use app::forms::{BackupMade, RoomFile};
use app::{App, Clock};
use serde_json::json;
pub(crate) use site_tests::files;
use site_tests::{demo, write};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// FIPS 180-4, the digest of "abc" (recalled).
pub(crate) const PHOTOGRAPH: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

/// The rows of the list of readings.
pub(crate) const ROWS: usize = 400;

pub(crate) struct Bench {
    folder: TempDir,
    /// The rooms as they were at the start of every round.
    pub(crate) before: Vec<RoomFile>,
    /// The room that is worked in.
    pub(crate) room: String,
    pub(crate) backup: PathBuf,
    pub(crate) room_file: PathBuf,
    pub(crate) list: PathBuf,
}

impl Bench {
    pub(crate) fn new() -> Self {
        let folder = TempDir::new().expect("a folder");
        let home = folder.path().join("home");
        let app = open(&home);
        let room = demo(&app, "kestrel");
        let other = demo(&app, "banksia");
        write(&app, &other, "tick-set", json!({"item": "J2 strip", "done": true})).expect("ticked");
        fs::create_dir_all(home.join("photographs")).expect("a folder");
        fs::write(home.join("photographs").join(PHOTOGRAPH), "abc").expect("a photograph");
        let BackupMade { path, .. } = app.backup(folder.path()).expect("a backup");
        let room_file = folder.path().join("kestrel.room.json");
        fs::write(&room_file, app.export_room(&room).expect("a room file").text).expect("written");
        let list = folder.path().join("readings.csv");
        let before = files(&app);
        let setup = before.iter().find(|file| file.room.id == room).map(|file| file.setups[0].id.clone());
        fs::write(&list, rows(&setup.expect("the room"))).expect("written");
        Self { folder, before, room, backup: path.into(), room_file, list }
    }

    /// A fresh copy of the rooms.
    pub(crate) fn home(&self) -> TempDir {
        let home = TempDir::new().expect("a folder");
        copy(&self.folder.path().join("home"), home.path());
        home
    }
}

/// Readings of places that no other survey has, as a list.
fn rows(setup: &str) -> String {
    let row = |n: usize| {
        let (x, y, reading) = (20 * (n % 20), 25 * (n / 20), 44.0 + (n % 7) as f64 / 16.0);
        format!("P{n},{x},{y},down,{reading},{setup},,,,\n")
    };
    let head = "point,x_mm,y_mm,sense,reading_in,setup,time,by,sd_mm,note\n".to_owned();
    head + &(0..ROWS).map(row).collect::<String>()
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder").flatten() {
        let to = to.join(entry.file_name());
        match entry.path().is_dir() {
            true => copy(&entry.path(), &to),
            false => drop(fs::copy(entry.path(), to).expect("copied")),
        }
    }
}

pub(crate) fn open(home: &Path) -> App {
    App::open(home, Clock::fixed("2031-04-02T07:31:05-05:00", &home.display().to_string())).expect("the rooms open")
}
