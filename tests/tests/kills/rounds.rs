//! The kinds of work that are killed, one function each. A round says whether the program was still running.

use crate::bench::{Bench, ROWS, files, open};
use crate::client::Host;
use crate::moment::{below, end, growth, idle, killed};
use crate::whole::{every_file_is_whole, looked_at, reopened};
use app::forms::{RoomFile, Write};
use rand_chacha::ChaCha8Rng;
use rusqlite::Connection;
use serde_json::json;
use std::collections::HashSet;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::sync::OnceLock;
use tempfile::TempDir;

pub(crate) type Round = fn(&Bench, &mut ChaCha8Rng) -> bool;

pub(crate) const ROUNDS: &[(&str, Round)] = &[
    ("entry over the host", entry),
    ("a queue that comes home", merge),
    ("readings import", readings_import),
    ("room import", room_import),
    ("an older file brought up to date", migration),
    ("backup", backup),
    ("restore", restore),
    ("record", record),
];

/// So many readings wait on the other device.
const QUEUE: u64 = 12;

fn truefall(home: &Path, words: &[&str]) -> Command {
    let mut command = site_tests::truefall();
    command.args(words).env("TRUEFALL_HOME", home);
    command
}

fn text(path: &Path) -> &str {
    path.to_str().expect("a path in plain text")
}

/// By how much such work lets a fresh folder grow; measured once.
fn measured(known: &OnceLock<u64>, home: &TempDir, words: &[&str]) -> u64 {
    *known.get_or_init(|| growth(&mut truefall(home.path(), words), home.path()))
}

fn reading(room: &RoomFile, id: &str) -> Write {
    let (setup, point) = (&room.setups[0].id, &room.plan.points[0].id);
    let payload = json!({"reading": id, "setup": setup, "point": point, "sense": "down", "entered": "44 3/16",
        "value": 1122.3625, "sd_mm": 0.8, "source": "typed"});
    Write {
        id: id.to_owned(),
        room: room.room.id.clone(),
        command: "reading-add".to_owned(),
        payload: payload.to_string(),
        at: None,
        person: None,
        private: Vec::new(),
    }
}

/// Readings sent one after the other; the last is on its way when the host is killed.
fn entry(bench: &Bench, seeded: &mut ChaCha8Rng) -> bool {
    let home = bench.home();
    let room = bench.before.iter().find(|file| file.room.id == bench.room).expect("the room");
    let mut host = Host::start(home.path());
    let acknowledged: Vec<String> = (0..below(seeded, 24)).map(|n| format!("r-{n}")).collect();
    for id in &acknowledged {
        host.send_write(&reading(room, id)).expect("sent");
        assert_eq!(host.answer().expect("answered").0, 200);
    }
    host.send_write(&reading(room, "on its way")).expect("sent");
    idle(seeded);
    let was_killed = end(&mut host.child);
    let kept = reopened(home.path()).room_file(&bench.room).expect("the room");
    let entries: HashSet<_> = kept.journal.iter().flatten().map(|entry| entry.id.as_str()).collect();
    let readings: HashSet<_> = kept.readings.iter().map(|reading| reading.id.as_str()).collect();
    for id in &acknowledged {
        assert!(readings.contains(id.as_str()) && entries.contains(id.as_str()), "{id} was acknowledged and is lost");
    }
    assert_eq!(readings.contains("on its way"), entries.contains("on its way"));
    assert_eq!(kept.readings.len() - room.readings.len(), entries.len() - journal(room), "an entry for each reading");
    was_killed
}

/// What waited on another device is sent in order, the host is killed on the way, and all of it is sent once more,
/// since nobody there knows how far it came: each reading is kept, once.
fn merge(bench: &Bench, seeded: &mut ChaCha8Rng) -> bool {
    let home = bench.home();
    let room = bench.before.iter().find(|file| file.room.id == bench.room).expect("the room");
    let queue: Vec<Write> = (0..QUEUE).map(|n| reading(room, &format!("waited-{n}"))).collect();
    let mut host = Host::start(home.path());
    let came = below(seeded, QUEUE) as usize;
    for write in &queue[..came] {
        host.send_write(write).expect("sent");
        assert_eq!(host.answer().expect("answered").0, 200);
    }
    host.send_write(&queue[came]).expect("sent");
    idle(seeded);
    let was_killed = end(&mut host.child);
    let mut again = Host::start(home.path());
    for write in &queue {
        again.send_write(write).expect("sent again");
        assert_eq!(again.answer().expect("answered").0, 200, "{}", write.id);
    }
    end(&mut again.child);
    let kept = reopened(home.path()).room_file(&bench.room).expect("the room");
    let ids: Vec<&str> = kept.journal.iter().flatten().map(|entry| entry.id.as_str()).collect();
    for write in &queue {
        assert_eq!(ids.iter().filter(|id| **id == write.id).count(), 1, "{} is kept once", write.id);
    }
    assert_eq!(kept.readings.len() - room.readings.len(), queue.len());
    was_killed
}

fn journal(file: &RoomFile) -> usize {
    file.journal.as_ref().map_or(0, Vec::len)
}

/// A list of readings is taken in whole or not at all.
fn readings_import(bench: &Bench, seeded: &mut ChaCha8Rng) -> bool {
    static GROWTH: OnceLock<u64> = OnceLock::new();
    let words = ["readings", "import", text(&bench.list), "--room", &bench.room];
    let growth = measured(&GROWTH, &bench.home(), &words);
    let home = bench.home();
    let was_killed = killed(&mut truefall(home.path(), &words), home.path(), growth, seeded);
    let now = reopened(home.path()).room_file(&bench.room).expect("the room");
    let before = bench.before.iter().find(|file| file.room.id == bench.room).expect("the room");
    let more = (now.readings.len() - before.readings.len(), journal(&now) - journal(before));
    assert!([(0, 0), (ROWS, 1)].contains(&more), "{more:?}");
    was_killed
}

/// A room is there whole or not at all.
fn room_import(bench: &Bench, seeded: &mut ChaCha8Rng) -> bool {
    static GROWTH: OnceLock<u64> = OnceLock::new();
    let words = ["room", "import", text(&bench.room_file)];
    let new = || TempDir::new().expect("a folder");
    let growth = measured(&GROWTH, &new(), &words);
    let home = new();
    let was_killed = killed(&mut truefall(home.path(), &words), home.path(), growth, seeded);
    let found = files(&reopened(home.path()));
    assert!(found.iter().all(|file| bench.before.contains(file)) && found.len() < 2);
    was_killed
}

/// A folder as a Truefall of the first form left it.
fn older() -> TempDir {
    let home = TempDir::new().expect("a folder");
    let file = Connection::open(home.path().join("rooms.sqlite")).expect("a file");
    let dump = fs::read_to_string(site_tests::top().join("fixtures/databases/0001.sql")).expect("the oldest dump");
    file.execute_batch(&dump).expect("the rooms of that time");
    home
}

fn migration(_: &Bench, seeded: &mut ChaCha8Rng) -> bool {
    static WHOLE: OnceLock<(u64, Vec<RoomFile>)> = OnceLock::new();
    let words = ["room", "list"];
    let (growth, whole) = WHOLE.get_or_init(|| {
        let home = older();
        (growth(&mut truefall(home.path(), &words), home.path()), files(&open(home.path())))
    });
    let home = older();
    let was_killed = killed(&mut truefall(home.path(), &words), home.path(), *growth, seeded);
    assert!(files(&reopened(home.path())) == *whole, "brought up to date in the end");
    was_killed
}

fn backup(bench: &Bench, seeded: &mut ChaCha8Rng) -> bool {
    static GROWTH: OnceLock<u64> = OnceLock::new();
    let words = |home: &TempDir| home.path().join("away.truefall");
    let first = bench.home();
    let growth = measured(&GROWTH, &first, &["backup", text(&words(&first))]);
    let home = bench.home();
    let file = words(&home);
    let was_killed = killed(&mut truefall(home.path(), &["backup", text(&file)]), home.path(), growth, seeded);
    assert!(!file.exists() || looked_at(&file) == 2);
    assert!(files(&reopened(home.path())) == bench.before);
    was_killed
}

/// Every room is whole or absent, and the same again brings the rest.
fn restore(bench: &Bench, seeded: &mut ChaCha8Rng) -> bool {
    static GROWTH: OnceLock<u64> = OnceLock::new();
    let words = ["restore", text(&bench.backup)];
    let new = || TempDir::new().expect("a folder");
    let growth = measured(&GROWTH, &new(), &words);
    let home = new();
    let was_killed = killed(&mut truefall(home.path(), &words), home.path(), growth, seeded);
    let app = reopened(home.path());
    assert!(files(&app).iter().all(|file| bench.before.contains(file)));
    app.restore(&bench.backup).expect("it goes on from there");
    assert!(files(&app) == bench.before);
    was_killed
}

fn record(bench: &Bench, seeded: &mut ChaCha8Rng) -> bool {
    static GROWTH: OnceLock<u64> = OnceLock::new();
    let first = bench.home();
    let file = |home: &TempDir| home.path().join("kestrel.pdf");
    let growth = measured(&GROWTH, &first, &["record", &bench.room, "-o", text(&file(&first))]);
    let home = bench.home();
    let output = file(&home);
    let words = ["record", &bench.room, "-o", text(&output)];
    let was_killed = killed(&mut truefall(home.path(), &words), home.path(), growth, seeded);
    every_file_is_whole(home.path());
    assert!(files(&reopened(home.path())) == bench.before);
    was_killed
}
