//! A clock that is set back, and a time zone that changes between two entries.

use crate::{NOW, open, open_at, truefall};
use serde_json::json;
use site_tests::{demo, write};
use store::{Chain, RoomId};
use tempfile::TempDir;

#[test]
fn the_order_of_the_journal_is_not_the_clocks() {
    let home = TempDir::new().expect("a folder");
    let room = demo(&open(home.path()), "kestrel");
    let clocks = ["2031-04-02T07:40:00-05:00", "2029-01-01T00:00:00-05:00", "2031-04-02T22:41:00+10:00", NOW];
    for (n, now) in clocks.iter().enumerate() {
        let app = open_at(home.path(), now);
        write(&app, &room, "tick-set", json!({"item": format!("tick {n}"), "done": true})).expect("ticked");
        app.look_over();
    }
    let app = open(home.path());
    assert_eq!(app.store().check(), Ok(()));
    let journal = app.room_file(&room).expect("the room").journal.expect("a journal");
    let last: Vec<_> = journal.iter().rev().take(4).rev().map(|entry| entry.at.as_str()).collect();
    assert_eq!(last, clocks, "each with the time and the offset it was entered under");
    let chain = app.store().read(|read| read.verify(Some(&RoomId::from(room.as_str()))));
    assert!(matches!(chain, Ok(Chain::Fits(head)) if head.seq as usize == journal.len()));
    app.undo(&app.new_id(), &room).expect("undone");
    let done = app.room_state(&room).expect("the room").done;
    assert!(done.iter().any(|item| item == "tick 2") && !done.iter().any(|item| item == "tick 3"), "{done:?}");
}

#[test]
fn the_programs_own_clock_writes_the_offset_of_its_zone() {
    let home = TempDir::new().expect("a folder");
    for (zone, name) in [("UTC", "one"), ("Etc/GMT-10", "two"), ("Etc/GMT+5", "three")] {
        let made = truefall(home.path(), &["room", "new", name]).env("TZ", zone).output().expect("it runs");
        assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    }
    let app = open(home.path());
    let offset = |name: &str| {
        let card = app.rooms().expect("rooms").rooms.into_iter().find(|card| card.name == name).expect("the room");
        let file = app.room_file(&card.id).expect("the room");
        file.journal.expect("a journal")[0].at.get(19..).map(str::to_owned)
    };
    let offsets = ["one", "two", "three"].map(offset);
    assert_eq!(offsets, ["+00:00", "+10:00", "-05:00"].map(|text| Some(text.to_owned())));
}
