//! What the program prints, on rooms in files and on rooms that it keeps.

use crate::book::Book;
use crate::{bench, rooms};
use serde_json::Value;
use std::fs;
use std::path::Path;

/// What is asked of a room file; `--json` is asked besides.
const VERBS: [&str; 5] = ["findings", "cut-list", "build-up", "fall", "tests"];

/// Runs the program in a folder, with the folder's own rooms, the clock of all books and no zone.
fn run(folder: &Path, book: &mut Book, words: &[&str]) -> Result<String, String> {
    let mut command = site_tests::truefall();
    command.args(words).current_dir(folder).env("TRUEFALL_HOME", folder.join("rooms"));
    command.env("TRUEFALL_NOW", bench::NOW).env("TRUEFALL_SEED", "golden");
    let output = command.output().expect("the program runs");
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("text");
    let question = format!("truefall {} exits with {:?}", words.join(" "), output.status.code());
    let said = match output.stderr.is_empty() {
        true => Ok(text(&output.stdout)),
        false => Err(text(&output.stdout) + &text(&output.stderr)),
    };
    book.put(&question, said.as_deref().map_err(String::as_str));
    said
}

fn laid(folder: &Path, room: &str, file: &Value) -> String {
    let name = format!("{room}.room.json");
    fs::write(folder.join(&name), bench::written(file)).expect("the room file");
    name
}

#[test]
fn the_program_prints_as_before() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = Book::new("terminal", 9_000);
    for name in ["kestrel", "rowan", "banksia", "no-such-demo"] {
        let _ = run(folder.path(), &mut book, &["demo", name]);
        let _ = run(folder.path(), &mut book, &["demo", name, "--json"]);
    }
    let other = |name: &str| rooms::in_other_units(rooms::file(name));
    let files = [
        ("kestrel", rooms::file("kestrel")),
        ("rowan", rooms::file("rowan")),
        ("banksia", rooms::file("banksia")),
        ("kestrel-mm", other("kestrel")),
        ("rowan-mm", other("rowan")),
        ("banksia-in", other("banksia")),
        ("deck", rooms::deck()),
        ("bed", rooms::bed()),
        ("crooked", rooms::crooked()),
        ("bare", rooms::bare()),
        ("sunk", rooms::sunk()),
    ];
    for (room, file) in files {
        let name = laid(folder.path(), room, &file);
        printed(folder.path(), &mut book, &name);
    }
    for room in ["kestrel", "rowan", "banksia"] {
        let name = laid(folder.path(), &format!("{room}-worked"), &worked(room));
        printed(folder.path(), &mut book, &name);
    }
    book.close();
}

/// The room file of a room that was worked in.
fn worked(room: &str) -> Value {
    let mut bench = bench::Bench::new("nothing", 0);
    bench.take_in(&rooms::file(room), room);
    crate::works::done(&mut bench, room);
    let file = bench.look("room-export", &serde_json::json!({ "room": room }));
    serde_json::from_str(file["text"].as_str().expect("a text")).expect("JSON")
}

fn printed(folder: &Path, book: &mut Book, file: &str) {
    for verb in VERBS {
        let _ = run(folder, book, &[verb, file]);
        let _ = run(folder, book, &[verb, file, "--json"]);
    }
    let _ = run(folder, book, &["findings", file, "--gate"]);
    let _ = run(folder, book, &["tests", file, "--gate"]);
    for survey in ["after", "joists", "bed"] {
        let _ = run(folder, book, &["findings", file, "--survey", survey]);
    }
    let _ = run(folder, book, &["verify", file]);
    let _ = run(folder, book, &["verify", file, "--json"]);
    let Ok(room) = run(folder, book, &["room", "import", file, "--as-second"]) else { return };
    let _ = run(folder, book, &["room", "show", room.trim()]);
    let _ = run(folder, book, &["room", "export", room.trim(), "--black-out"]);
    let _ = run(folder, book, &["room", "export", room.trim(), "-o", "out.json"]);
    let _ = run(folder, book, &["verify", "out.json"]);
    let _ = run(folder, book, &["room", "list"]);
}
