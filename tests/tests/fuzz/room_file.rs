//! A room that comes as a file, and whatever may be asked of it then.

use crate::said::{Heard, refused};
use crate::trial;
use app::App;
use app::forms::RoomFile;
use serde_json::json;
use site_tests::app;

/// What is asked of every room that is taken in; its drawing and its record apart.
pub(crate) const QUESTIONS: [&str; 22] = [
    "room",
    "findings",
    "noise-alone",
    "height",
    "build-up",
    "pour",
    "fall",
    "drain",
    "cutting",
    "templates",
    "stiffness",
    "ledges",
    "tiling",
    "rules",
    "history",
    "straightedge-walk",
    "surface",
    "next-readings",
    "tilt-walks",
    "tests",
    "entries",
    "room-export",
];

#[test]
fn room_json() {
    let seeds = ["kestrel", "rowan", "banksia"].map(stated).into_iter().chain([journaled()]);
    let check = |bytes: &[u8]| {
        let app = app();
        match app.import_bytes("i", bytes, None) {
            Ok(imported) => {
                asked(&app, &imported.room, bytes);
                same_again(&app, &imported.room);
                Heard::Read(String::new())
            }
            Err(refusal) => {
                assert!(app.rooms().expect("rooms").rooms.is_empty(), "what is refused is not half kept");
                refused(&refusal, bytes)
            }
        }
    };
    trial::run("room-json", 128, seeds.collect(), Box::new(check));
}

fn stated(name: &str) -> Vec<u8> {
    serde_json::to_vec(&app::demo(name).expect("a room")).expect("JSON")
}

/// A small room with the journal it came about by.
pub(crate) fn journaled() -> Vec<u8> {
    let app = app();
    let write = |command: &str, payload| site_tests::write(&app, "r", command, payload).map(drop).expect(command);
    write("room-new", json!({ "name": "Bath", "units": "mm", "created": "2031-04-02T07:31:05-05:00" }));
    let plan = json!({ "outline": [[0, 0], [1200, 0], [1200, 900], [0, 900]], "base_wall": "door", "side_wall": "left",
        "joists_along": "y", "joists": [], "surveys": [{ "id": "floor", "name": "floor", "surface": "floor" }],
        "points": [{ "id": "A", "survey": "floor", "x": 10.0, "y": 20.0 }] });
    write("plan-set", json!({ "plan": plan }));
    let opening = json!({ "text": "1000", "mm": 1000.0, "at": "2031-04-02T07:31:05-05:00" });
    write(
        "setup-open",
        json!({ "setup": "S1", "survey": "floor", "instrument": "line", "sd_mm": 0.8,
        "benchmark": { "name": "BM", "height": 0.0 }, "opening": opening }),
    );
    write(
        "reading-add",
        json!({ "reading": "a", "setup": "S1", "point": "A", "sense": "down", "entered": "1001.5",
        "value": 1001.5, "sd_mm": 0.8, "source": "typed" }),
    );
    app.export_room("r").expect("a file").text.into_bytes()
}

/// Everything that the screens ask of a room is answered, or refused in a sentence.
pub(crate) fn asked(app: &App, room: &str, input: &[u8]) {
    let drawings = ["csv", "dxf", "svg", "ics"].map(|kind| ("drawing", json!({ "room": room, "kind": kind })));
    let plain = QUESTIONS.into_iter().map(|name| (name, json!({ "room": room })));
    for (name, ask) in plain.chain(drawings) {
        if let Err(refusal) = app.dispatch(name, &ask.to_string()) {
            refused(&refusal, input);
        }
    }
}

/// A room that goes out with its journal and comes in elsewhere is the same room.
pub(crate) fn same_again(app: &App, room: &str) {
    let other = site_tests::app();
    let text = app.export_room(room).expect("a file").text;
    other.import_bytes("i", text.as_bytes(), None).unwrap_or_else(|why| panic!("what was written: {why}"));
    let state = |app: &App| -> RoomFile { app.room_state(room).expect("the room") };
    assert_eq!(state(&other), state(app), "written and read again");
    app.rebuild().expect("the journal is sound");
    assert_eq!(state(app), state(&other), "made anew");
}
