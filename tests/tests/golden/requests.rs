//! The rooms of the fixtures, as they are, worked in, and changed; and that nothing is left unasked.

use crate::bench::Bench;
use crate::book::{is_update, shelf};
use crate::{rooms, views, works};
use app::compute::OPERATIONS;
use app::{COMMANDS, REQUESTS};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::fs;

/// What no book asks, and why.
const LEFT_OUT: [(&str, &str); 10] = [
    ("seal", "it draws a salt"),
    ("devices", "it looks at the radio of this machine"),
    ("devices-look", "it looks at the radio of this machine"),
    ("devices-switch-on", "it switches a radio on"),
    ("device-use", "it waits for an instrument"),
    ("device-measure", "it waits for an instrument"),
    ("device-place", "it waits for an instrument"),
    ("device-practice", "practice instruments draw their readings"),
    ("device-teach", "practice instruments draw their readings"),
    ("device-taught", "practice instruments draw their readings"),
];

fn plain(name: &'static str, file: &Value) {
    let mut bench = Bench::new(name, 20_000);
    bench.take_in(file, name);
    views::opened(&mut bench, name);
    views::tried(&mut bench, name);
    views::typed(&mut bench, name);
    views::advised(&mut bench, name);
    bench.book.close();
}

fn worked(name: &'static str, room: &str) {
    let mut bench = Bench::new(name, 9_000);
    bench.take_in(&rooms::file(room), room);
    works::done(&mut bench, room);
    views::opened(&mut bench, room);
    views::advised(&mut bench, room);
    bench.book.close();
}

#[test]
fn kestrel_lane_answers_as_before() {
    plain("kestrel", &rooms::file("kestrel"));
}

#[test]
fn rowan_street_answers_as_before() {
    plain("rowan", &rooms::file("rowan"));
}

#[test]
fn banksia_court_answers_as_before() {
    plain("banksia", &rooms::file("banksia"));
}

#[test]
fn kestrel_lane_worked_in_answers_as_before() {
    worked("kestrel-worked", "kestrel");
}

#[test]
fn rowan_street_worked_in_answers_as_before() {
    worked("rowan-worked", "rowan");
}

#[test]
fn banksia_court_worked_in_answers_as_before() {
    worked("banksia-worked", "banksia");
}

#[test]
fn rooms_that_are_otherwise_answer_as_before() {
    let mut bench = Bench::new("otherwise", 2_000);
    let other = |name: &str| rooms::in_other_units(rooms::file(name));
    let all = [
        ("kestrel-mm", other("kestrel")),
        ("rowan-mm", other("rowan")),
        ("banksia-in", other("banksia")),
        ("deck", rooms::deck()),
        ("bed", rooms::bed()),
        ("crooked", rooms::crooked()),
        ("bare", rooms::bare()),
        ("sunk", rooms::sunk()),
        ("row", rooms::row()),
    ];
    for (room, file) in &all {
        bench.take_in(file, room);
        views::opened(&mut bench, room);
        views::tried(&mut bench, room);
    }
    for text in ["12 mm", "12,5 mm", "120 mm", "1/2 in", "99 mm"] {
        for point in ["600/0", "900/300"] {
            let _ = bench.ask("entry", &json!({ "room": "row", "setup": "S1", "point": point, "text": text }));
        }
    }
    let _ = bench.ask("room", &json!({ "room": "no-such-room" }));
    searched(&mut bench);
    bench.book.close();
}

/// Rooms as they are found, by every way of looking for them.
fn searched(bench: &mut Bench) {
    let mut ways = vec![json!({}), json!({ "most": 2 }), json!({ "text": "kestrel" }), json!({ "text": "xyz" })];
    ways.extend(["within", "out", "too-close-to-call", "not-tested"].map(|verdict| json!({ "verdict": verdict })));
    ways.extend(["2026-04-01", "2031-04-02", "no day"].map(|day| json!({ "since": day })));
    ways.extend(["2026-04-01", "2031-04-02", "no day"].map(|day| json!({ "until": day })));
    ways.iter().for_each(|way| drop(bench.ask("rooms", way)));
}

/// Lines of all books that begin with this.
fn asked(beginning: &str) -> BTreeSet<String> {
    let books = fs::read_dir(shelf()).expect("the books").map(|book| book.expect("a book").path());
    let texts: Vec<String> = books.map(|path| fs::read_to_string(path).expect("a book")).collect();
    let lines = texts.iter().flat_map(|text| text.lines()).filter_map(|line| line.strip_prefix(beginning));
    lines.map(|rest| rest.split([' ', '"']).next().unwrap_or_default().to_string()).collect()
}

#[test]
fn nothing_is_left_unasked() {
    if is_update() {
        return;
    }
    let check = |what: &str, all: &[&str], asked: BTreeSet<String>, left: &[&str]| {
        let missing: Vec<_> = all.iter().filter(|name| !asked.contains(**name) && !left.contains(name)).collect();
        assert!(missing.is_empty(), "no book has the {what} {missing:?}");
        let both: Vec<_> = left.iter().filter(|name| asked.contains(**name) || !all.contains(name)).collect();
        assert!(both.is_empty(), "these are asked, or are no {what}: {both:?}");
    };
    check("request", REQUESTS, asked("? "), &LEFT_OUT.map(|(name, _)| name));
    check("command", COMMANDS, asked(r#"? write {"command":""#), &[]);
    check("operation", OPERATIONS, asked("? compute "), &[]);
}
