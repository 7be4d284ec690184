//! Two programs over one folder: they take turns, and neither undoes what the other kept.

use crate::{files, open, refusal, truefall};
use rusqlite::Connection;
use site_tests::demo;
use std::process::{Child, Stdio};
use tempfile::TempDir;

#[test]
fn programs_side_by_side_keep_all_they_acknowledge() {
    let home = TempDir::new().expect("a folder");
    drop(open(home.path()));
    let names: Vec<String> = (0..12).map(|n| format!("room {n}")).collect();
    let start = |name: &String| {
        let mut command = truefall(home.path(), &["room", "new", name]);
        command.stdout(Stdio::null()).stderr(Stdio::piped()).spawn().expect("it starts")
    };
    let children: Vec<Child> = names.iter().map(start).collect();
    let mut acknowledged = Vec::new();
    for (name, child) in names.into_iter().zip(children) {
        let output = child.wait_with_output().expect("it ends");
        // On a busy machine one may be kept out for longer than it waits, and says so.
        match output.status.success() {
            true => acknowledged.push(name),
            false => assert_eq!(refusal(&output).0, "locked", "{name}"),
        }
    }
    assert!(!acknowledged.is_empty(), "whoever keeps the others out is done");
    let app = open(home.path());
    assert_eq!(app.store().check(), Ok(()));
    let mut found: Vec<String> = files(&app).into_iter().map(|file| file.room.name).collect();
    found.sort();
    acknowledged.sort();
    assert_eq!(found, acknowledged);
}

#[test]
fn what_two_open_programs_write_both_see() {
    let home = TempDir::new().expect("a folder");
    let (one, other) = (open(home.path()), crate::open_at(home.path(), "2031-04-02T08:00:00-05:00"));
    let room = demo(&one, "kestrel");
    for n in 0..10 {
        let (app, item) = (if n % 2 == 0 { &one } else { &other }, format!("tick {n}"));
        site_tests::write(app, &room, "tick-set", serde_json::json!({"item": item, "done": true})).expect("ticked");
    }
    assert!(files(&one) == files(&other));
    assert_eq!(files(&one)[0].done.iter().filter(|item| item.starts_with("tick")).count(), 10);
    assert_eq!(one.store().check(), Ok(()));
}

#[test]
fn a_program_that_is_kept_out_says_so() {
    let home = TempDir::new().expect("a folder");
    let before = {
        let app = open(home.path());
        demo(&app, "kestrel");
        files(&app)
    };
    let other = Connection::open(home.path().join("rooms.sqlite")).expect("the rooms");
    other.execute_batch("PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE").expect("held");
    let (kind, sentence) = refusal(&truefall(home.path(), &["room", "new", "second"]).output().expect("it runs"));
    assert!(kind == "locked" && sentence.contains("Another program"), "{kind}: {sentence}");
    drop(other);
    assert!(files(&open(home.path())) == before);
}
