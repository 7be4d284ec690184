//! The sheets of a room as PDF, everything as ZIP, strips to print: by their digests, the sheets by their text besides.

use crate::bench::{Bench, bytes_of};
use crate::{rooms, works};
use lopdf::Document;
use serde_json::json;

const CONTENTS: [&str; 7] = ["full", "client", "installer", "inspector", "not-ready", "change-order", "label"];

fn sheets(name: &'static str, room: &str, is_worked: bool) {
    let mut bench = Bench::new(name, 20_000);
    bench.take_in(&rooms::file(room), room);
    if is_worked {
        works::done(&mut bench, room);
    }
    for (k, contents) in CONTENTS.into_iter().chain(["full"]).enumerate() {
        let body = json!({ "room": room, "contents": contents, "black_out": k == CONTENTS.len() });
        let Ok(pdf) = bench.ask("record", &body) else { continue };
        let text = read(&bytes_of(pdf["base64"].as_str().expect("bytes")));
        bench.book.put(&format!("text {body}"), Ok(&text));
    }
    let _ = bench.ask("everything", &json!({ "room": room }));
    bench.book.close();
}

/// The text of every page.
fn read(pdf: &[u8]) -> String {
    let document = Document::load_mem(pdf).expect("a PDF");
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    pages.iter().map(|page| format!("page {page}\n{}", document.extract_text(&[*page]).expect("text"))).collect()
}

#[test]
fn the_sheets_of_kestrel_lane_are_as_before() {
    sheets("record-kestrel", "kestrel", false);
}

#[test]
fn the_sheets_of_rowan_street_are_as_before() {
    sheets("record-rowan", "rowan", false);
}

#[test]
fn the_sheets_of_banksia_court_are_as_before() {
    sheets("record-banksia", "banksia", false);
}

#[test]
fn the_sheets_of_kestrel_lane_worked_in_are_as_before() {
    sheets("record-kestrel-worked", "kestrel", true);
}

#[test]
fn the_sheets_of_rowan_street_worked_in_are_as_before() {
    sheets("record-rowan-worked", "rowan", true);
}

#[test]
fn the_sheets_of_banksia_court_worked_in_are_as_before() {
    sheets("record-banksia-worked", "banksia", true);
}
