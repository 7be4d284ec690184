//! Rooms in a folder: photographs, copies, backups, and the released forms of the database.

use crate::bench::{Bench, base64, bytes_of, written};
use crate::{rooms, views};
use image::{ImageFormat, Rgb, RgbImage};
use rusqlite::Connection;
use serde_json::{Value, json};
use std::fs;
use std::io::Cursor;

fn picture(wide: u32, high: u32) -> Vec<u8> {
    let picture = RgbImage::from_fn(wide, high, |x, y| Rgb([(x % 256) as u8, (y % 256) as u8, 90]));
    let mut bytes = Vec::new();
    picture.write_to(&mut Cursor::new(&mut bytes), ImageFormat::Png).expect("memory");
    bytes
}

#[test]
fn photographs_and_backups_are_as_before() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut bench = Bench::at("keeping", 6_000, folder.path());
    bench.take_in(&rooms::file("kestrel"), "kestrel");
    let _ = bench.ask("backups", &json!({}));
    for (k, bytes) in [picture(40, 30), picture(700, 500), b"no picture".to_vec()].iter().enumerate() {
        let body = json!({ "room": "kestrel", "id": format!("photograph-{k}"), "base64": base64(bytes), "name": "IMG 1.png",
            "wall": "left wall", "viewpoint": "the door", "tape": k == 0 });
        let _ = bench.ask("photograph-add", &body);
    }
    let entries = bench.ask("entries", &json!({ "room": "kestrel" })).expect("entries");
    for entry in entries["entries"].as_array().expect("entries") {
        let _ = bench.ask("photograph", &json!({ "sha256": entry["what"]["sha256"] }));
    }
    let _ = bench.ask("photograph", &json!({ "sha256": "00" }));
    let _ = bench.ask("record", &json!({ "room": "kestrel" }));
    let _ = bench.ask("everything", &json!({ "room": "kestrel" }));
    let _ = bench.ask("room-export", &json!({ "room": "kestrel" }));
    backed_up(&mut bench);
    bench.book.close();
}

fn backed_up(bench: &mut Bench) {
    let backup = bench.look("backup-make", &json!({}));
    let bytes = bytes_of(backup["base64"].as_str().expect("bytes"));
    bench.book.put("backup-make {}", Ok(&format!("{} {}", backup["mime"], backup["name"])));
    let whole = json!({ "base64": base64(&bytes) });
    let wrong = [json!({}), json!({ "name": "no-such-copy" }), json!({ "base64": base64(&bytes[..bytes.len() / 2]) })];
    for (body, named) in [
        (whole, "whole"),
        (wrong[0].clone(), "of nothing"),
        (wrong[1].clone(), "of no copy"),
        (wrong[2].clone(), "cut off"),
    ] {
        for request in ["backup-look", "backup-restore"] {
            answered(bench, request, &body, named);
        }
    }
    let there = tempfile::tempdir().expect("a folder");
    let mut other = Bench::at("nothing", 0, there.path());
    for request in ["backup-look", "backup-restore"] {
        let answer = other.ask(request, &json!({ "base64": base64(&bytes) })).expect("a backup");
        bench.book.put(&format!("{request} elsewhere"), Ok(&written(&answer)));
    }
}

/// The bytes of a backup are not the same twice, so the question does not show their digest.
fn answered(bench: &mut Bench, request: &str, body: &Value, named: &str) {
    let mut aside = std::mem::replace(&mut bench.book, crate::book::Book::new("nothing", 0));
    let answer = bench.ask(request, body);
    std::mem::swap(&mut aside, &mut bench.book);
    let text = answer.as_ref().map(written).map_err(written);
    bench.book.put(&format!("{request} {named}"), text.as_deref().map_err(String::as_str));
}

#[test]
fn released_rooms_answer_as_before() {
    let dumps = site_tests::top().join("fixtures/databases");
    for (name, dump) in [("released-1", "0001.sql"), ("released-2", "0002.sql")] {
        let folder = tempfile::tempdir().expect("a folder");
        let file = Connection::open(folder.path().join("rooms.sqlite")).expect("a database");
        file.execute_batch(&fs::read_to_string(dumps.join(dump)).expect("the dump")).expect("the dump is taken");
        drop(file);
        let mut bench = Bench::at(name, if name == "released-1" { 300 } else { 8_000 }, folder.path());
        let found = bench.ask("rooms", &json!({})).expect("rooms");
        for room in found["rooms"].as_array().expect("rooms") {
            views::opened(&mut bench, room["id"].as_str().expect("an id"));
        }
        bench.book.close();
    }
}
