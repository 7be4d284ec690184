//! Files that come in: looked at, taken in, proved, refused.

use crate::bench::{Bench, base64, bytes_of};
use crate::rooms;
use serde_json::{Value, json};

/// Which of the files are drawings.
const DRAWN: [usize; 2] = [3, 4];

fn body(bytes: &[u8], as_room: Option<&str>) -> Value {
    json!({ "id": "file", "base64": base64(bytes), "as_room": as_room })
}

fn text_of(bench: &Bench, name: &str, body: &Value) -> Vec<u8> {
    bench.look(name, body)["text"].as_str().expect("a text").as_bytes().to_vec()
}

#[test]
fn files_come_in_as_before() {
    let mut bench = Bench::new("files", 6_000);
    for (room, _) in rooms::ROOMS {
        bench.take_in(&rooms::file(room), room);
        let of_room = json!({ "room": room });
        let export = text_of(&bench, "room-export", &of_room);
        let drawings =
            ["csv", "dxf", "svg"].map(|kind| text_of(&bench, "drawing", &json!({ "room": room, "kind": kind })));
        let zip = bytes_of(bench.look("everything", &of_room)["base64"].as_str().expect("bytes"));
        let wrong = [
            &b"a letter"[..],
            b"{\"schema\": 99}",
            b"",
            b"{\"schema\": 1",
            &export[..export.len() / 2],
            &zip[..zip.len() / 2],
        ];
        let bytes: Vec<&[u8]> =
            [&export[..], &zip].into_iter().chain(drawings.iter().map(Vec::as_slice)).chain(wrong).collect();
        for (k, bytes) in bytes.iter().enumerate() {
            let _ = bench.ask("file-look", &body(bytes, None));
            let copy = format!("{room}-copy-{k}");
            let taken = json!({ "id": format!("take-{room}-{k}"), "base64": base64(bytes), "as_room": copy });
            if bench.ask("file-import", &taken).is_ok() {
                let _ = bench.ask("findings", &json!({ "room": copy }));
                // A drawing has no time of its own: its room begins by the machine's clock.
                let request = if DRAWN.contains(&k) { "surface" } else { "room-export" };
                let _ = bench.ask(request, &json!({ "room": copy }));
                let _ = bench.ask("drawing", &json!({ "room": copy, "kind": "dxf" }));
            }
        }
        altered(&mut bench, &export);
        demo(&mut bench, room);
    }
    bench.book.close();
}

/// A room file with one thing changed by hand is named as what it is.
fn altered(bench: &mut Bench, export: &[u8]) {
    let text = String::from_utf8(export.to_vec()).expect("text");
    for (from, to) in [
        ("44-1/8", "44-1/4"),
        ("\"device\": \"memory\"", "\"device\": \"other\""),
        ("\"schema\": 1", "\"schema\":  1"),
        ("\"value\"", "\"valu\""),
        ("laser", "lazer"),
        ("\"up\"", "\"down\""),
    ] {
        let _ = bench.ask("file-look", &body(text.replacen(from, to, 1).as_bytes(), None));
    }
}

fn demo(bench: &mut Bench, name: &str) {
    let id = bench.id();
    let Ok(copy) = bench.ask("demo", &json!({ "name": name, "id": id })) else { return };
    let _ = bench.ask("room", &json!({ "room": copy["room"] }));
    let _ = bench.ask("history", &json!({ "room": copy["room"] }));
}
