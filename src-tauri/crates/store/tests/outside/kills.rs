//! A process killed at any moment: all it acknowledged is there, and nothing is half there.

use crate::commands::{entry_ids, furnish, reading_add, reading_ids, room_new, setup_open, write};
use std::collections::HashSet;
use std::env;
use std::fs;
use std::hint;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use store::{RoomId, Store};
use tempfile::TempDir;

const FOLDER: &str = "TRUEFALL_TEST_FOLDER";

fn room() -> RoomId {
    RoomId::from("kestrel")
}

/// Starts one of the children below on a folder.
fn start(child: &str, folder: &Path) -> Child {
    Command::new(env::current_exe().unwrap())
        .args(["--exact", &format!("kills::{child}"), "--ignored", "--nocapture"])
        .env(FOLDER, folder)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap()
}

/// What a child acknowledged before it was killed, some time after its line number `lines`.
fn killed_after(lines: usize, child: &str, folder: &Path) -> Vec<String> {
    let mut process = start(child, folder);
    let mut said = BufReader::new(process.stdout.take().unwrap()).lines().map(Result::unwrap);
    let mut acknowledged: Vec<String> = said.by_ref().filter_map(|line| done(&line)).take(lines).collect();
    assert_eq!(acknowledged.len(), lines, "the child went on until it was killed");
    (0..lines * 40_000).for_each(|_| hint::spin_loop());
    process.kill().unwrap();
    acknowledged.extend(said.filter_map(|line| done(&line)));
    assert!(!process.wait().unwrap().success());
    acknowledged
}

fn done(line: &str) -> Option<String> {
    line.strip_prefix("done ").map(str::to_owned)
}

/// Says that something is done; ends the child where nobody listens any more.
fn say(name: &str) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "done {name}").and_then(|()| out.flush()).unwrap();
}

fn folder_given() -> PathBuf {
    env::var_os(FOLDER).expect("run as a child").into()
}

#[test]
#[ignore = "a child, run by the tests below"]
fn child_that_reads() {
    let store = Store::open(folder_given().join("rooms.sqlite")).unwrap();
    if entry_ids(&store, &room()).is_empty() {
        write(&store, &room_new("room", &room())).unwrap();
        write(&store, &setup_open("setup", &room(), "s1")).unwrap();
    }
    for number in entry_ids(&store, &room()).len().. {
        let id = format!("r{number}");
        write(&store, &reading_add(&id, &room(), "s1", "J1@0", 1120.775, None)).unwrap();
        say(&id);
    }
}

#[test]
#[ignore = "a child, run by the tests below"]
fn child_that_backs_up() {
    let folder = folder_given();
    let store = Store::open(folder.join("rooms.sqlite")).unwrap();
    for number in 0.. {
        let name = format!("{number}.sqlite");
        store.backup(folder.join(&name)).unwrap();
        say(&name);
    }
}

#[test]
#[ignore = "a child, run by the tests below"]
fn child_that_begins() {
    let folder = folder_given();
    for number in 0.. {
        let name = format!("{number}.sqlite");
        drop(Store::open(folder.join(&name)).unwrap());
        say(&name);
    }
}

#[test]
fn every_acknowledged_reading_survives() {
    let folder = TempDir::new().unwrap();
    let mut acknowledged = HashSet::new();
    for lines in [1, 2, 3, 5, 8, 13, 21, 34, 55] {
        acknowledged.extend(killed_after(lines, "child_that_reads", folder.path()));
        let store = Store::open(folder.path().join("rooms.sqlite")).unwrap();
        assert_eq!(store.check(), Ok(()));
        let kept: HashSet<String> = reading_ids(&store, &room()).into_iter().collect();
        let lost: Vec<_> = acknowledged.difference(&kept).collect();
        assert!(lost.is_empty(), "lost {lost:?}");
        assert_eq!(entry_ids(&store, &room()).len(), kept.len() + 2, "no entry without its reading, nor the reverse");
        acknowledged = kept;
    }
}

#[test]
fn what_stands_under_a_backups_name_is_whole() {
    for lines in [1, 3, 7] {
        let folder = TempDir::new().unwrap();
        furnish(&Store::open(folder.path().join("rooms.sqlite")).unwrap(), &room());
        let acknowledged = killed_after(lines, "child_that_backs_up", folder.path());
        assert!(acknowledged.iter().all(|name| folder.path().join(name).exists()));
        assert!(every_file_is_whole(folder.path()) > acknowledged.len());
    }
}

#[test]
fn a_file_killed_at_its_beginning_opens() {
    for lines in [1, 3, 7, 15] {
        let folder = TempDir::new().unwrap();
        let acknowledged = killed_after(lines, "child_that_begins", folder.path());
        assert!(every_file_is_whole(folder.path()) >= acknowledged.len());
    }
}

/// Opens and checks every database of a folder, and counts them.
fn every_file_is_whole(folder: &Path) -> usize {
    let files = fs::read_dir(folder).unwrap().map(|file| file.unwrap().path());
    let databases: Vec<_> = files.filter(|path| path.extension().is_some_and(|end| end == "sqlite")).collect();
    for path in &databases {
        assert_eq!(Store::open(path).and_then(|store| store.check()), Ok(()), "{}", path.display());
    }
    databases.len()
}
